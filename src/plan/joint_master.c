/*
 * Which jobs are served at most, as far as the cuts tell: an integer program over jobs and options
 * alone, part by part. The tools come later, and give new cuts where they cannot be had: J. N.
 * Hooker, G. Ottosson, "Logic-based Benders decomposition", Math. Programming 96 (2003) 33-60.
 */
#include <math.h>

#include "joint_inside.h"

/* The smallest job of a part names it. */
static void parts_join(uint32_t *parts, uint32_t a, uint32_t b)
{
	uint32_t x = joint_part(parts, a), y = joint_part(parts, b);
	parts[x > y ? x : y] = x > y ? y : x;
}

/* Jobs, cuts and columns of the part at hand. */
struct part {
	const struct joint_master *master;
	struct arena *arena;
	const uint32_t *jobs;
	uint32_t job_count;
	const uint32_t *cuts; /* numbers of its cuts */
	uint32_t cut_count;
	uint32_t *column; /* by job and option; JOINT_NONE: it has none */
	struct program program;
	struct program_row *rows;
	double *gain;
};

static uint32_t column_of(const struct part *part, uint32_t job, uint32_t option)
{
	return part->column[part->master->first_option[job] + option];
}

static struct program_row *row_new(struct part *part, uint32_t room, double most)
{
	struct program_row *row = &part->rows[part->program.row_count++];
	row->columns = arena_take(part->arena, room + 1, sizeof *row->columns);
	row->factors = arena_take(part->arena, room + 1, sizeof *row->factors);
	row->count = 0;
	row->most = most;
	return row;
}

static void row_term(struct program_row *row, uint32_t column, double factor)
{
	row->columns[row->count] = column;
	row->factors[row->count] = factor;
	row->count++;
}

/*
 * Serving a job counts 1; keeping what it has, and an early option, a little more, of which all
 * together come to less than one job.
 */
static void columns_make(struct part *part)
{
	const struct joint_master *master = part->master;
	double little = 0.4 / (part->job_count + 1);
	for (uint32_t i = 0; i < part->job_count; i++) {
		uint32_t job = part->jobs[i], options = master->model->jobs[job].option_count;
		for (uint32_t option = 0; option < options; option++) {
			uint32_t at = master->first_option[job] + option;
			part->column[at] = JOINT_NONE;
			if (master->may[at]) {
				bool wished = master->wished[job] == option;
				part->gain[part->program.column_count] =
					1 + little * (wished ? 1 : 0.5 / (option + 2));
				part->column[at] = part->program.column_count++;
			}
		}
	}
}

static void rows_make(struct part *part)
{
	const struct joint_master *master = part->master;
	for (uint32_t i = 0; i < part->job_count; i++) {
		uint32_t job = part->jobs[i], options = master->model->jobs[job].option_count;
		if (options < 2) {
			continue;
		}
		struct program_row *row = row_new(part, options, 1);
		for (uint32_t option = 0; option < options; option++) {
			if (column_of(part, job, option) != JOINT_NONE) {
				row_term(row, column_of(part, job, option), 1);
			}
		}
	}
	for (uint32_t i = 0; i < part->cut_count; i++) {
		const struct joint_cut *cut = &master->cuts->items[part->cuts[i]];
		struct program_row *row = row_new(part, cut->term_count, cut->most);
		for (uint32_t j = 0; j < cut->term_count; j++) {
			uint32_t column = column_of(part, cut->terms[j].job, cut->terms[j].option);
			if (column != JOINT_NONE) {
				row_term(row, column, cut->terms[j].times);
			}
		}
	}
}

/* How many of its jobs are served at most. */
static uint32_t part_solve(struct part *part, uint32_t *option, bool *whole)
{
	const struct joint_master *master = part->master;
	uint32_t room = 0;
	double bound;
	for (uint32_t i = 0; i < part->job_count; i++) {
		room += master->model->jobs[part->jobs[i]].option_count;
	}
	part->gain = arena_take(part->arena, room + 1, sizeof *part->gain);
	part->rows = arena_take(part->arena, part->job_count + part->cut_count + 1, sizeof *part->rows);
	columns_make(part);
	rows_make(part);
	part->program.gain = part->gain;
	part->program.rows = part->rows;
	part->program.seconds = master->deadline - joint_clock();
	uint8_t *taken = arena_take(part->arena, part->program.column_count + 1, 1);
	bool solved = part->program.column_count == 0 ||
	              program_solve(&part->program, taken, &bound) == PROGRAM_FOUND;
	if (part->program.column_count == 0) {
		bound = 0;
	}
	*whole = *whole && solved;
	for (uint32_t i = 0; i < part->job_count && solved; i++) {
		uint32_t job = part->jobs[i], options = master->model->jobs[job].option_count;
		option[job] = JOINT_NONE;
		for (uint32_t at = 0; at < options; at++) {
			uint32_t column = column_of(part, job, at);
			if (column != JOINT_NONE && taken[column]) {
				option[job] = at;
			}
		}
	}
	double most = floor(bound + 1e-6);
	return most > part->job_count ? part->job_count : (uint32_t)most;
}

/* Numbers 0 to count - 1 put together by key: those of key k lie from first[k] to first[k + 1]. */
struct buckets {
	uint32_t *first, *items;
};

static struct buckets buckets_make(struct arena *arena, const uint32_t *key, uint32_t count,
                                   uint32_t keys)
{
	struct buckets buckets;
	uint32_t *next = arena_take(arena, keys + 1, sizeof *next);
	buckets.first = arena_take(arena, keys + 2, sizeof *buckets.first);
	buckets.items = arena_take(arena, count + 1, sizeof *buckets.items);
	for (uint32_t i = 0; i < count; i++) {
		buckets.first[key[i] + 1]++;
	}
	for (uint32_t i = 0; i < keys; i++) {
		buckets.first[i + 1] += buckets.first[i];
		next[i] = buckets.first[i];
	}
	for (uint32_t i = 0; i < count; i++) {
		buckets.items[next[key[i]]++] = i;
	}
	return buckets;
}

static void parts_make(struct arena *arena, const struct joint_master *master, struct buckets *jobs,
                       struct buckets *cuts)
{
	uint32_t count = master->model->job_count;
	uint32_t cut_count = (uint32_t)master->cuts->count;
	uint32_t *parts = arena_take(arena, count + 1, sizeof *parts);
	uint32_t *of_cut = arena_take(arena, cut_count + 1, sizeof *of_cut);
	for (uint32_t job = 0; job < count; job++) {
		parts[job] = job;
	}
	for (uint32_t i = 0; i < cut_count; i++) {
		const struct joint_cut *cut = &master->cuts->items[i];
		for (uint32_t j = 1; j < cut->term_count; j++) {
			parts_join(parts, cut->terms[0].job, cut->terms[j].job);
		}
	}
	for (uint32_t job = 0; job < count; job++) {
		parts[job] = joint_part(parts, job);
	}
	for (uint32_t i = 0; i < cut_count; i++) {
		of_cut[i] = parts[master->cuts->items[i].terms[0].job];
	}
	*jobs = buckets_make(arena, parts, count, count);
	*cuts = buckets_make(arena, of_cut, cut_count, count);
}

/* A job that no cut names keeps what it has, else takes the first option that may be. */
static uint32_t free_option(const struct joint_master *master, uint32_t job)
{
	uint32_t options = master->model->jobs[job].option_count;
	if (master->wished[job] != JOINT_NONE) {
		return master->wished[job];
	}
	for (uint32_t option = 0; option < options; option++) {
		if (master->may[master->first_option[job] + option]) {
			return option;
		}
	}
	return JOINT_NONE;
}

bool master_solve(struct arena *arena, struct joint_master *master, uint32_t *option,
                  uint32_t *bound, uint32_t *parts)
{
	uint32_t count = master->model->job_count;
	uint32_t *column = arena_take(arena, master->first_option[count] + 1, sizeof *column);
	struct buckets jobs, cuts;
	bool whole = true;
	*bound = *parts = 0;
	parts_make(arena, master, &jobs, &cuts);
	for (uint32_t name = 0; name < count; name++) {
		struct part part = {
			.master = master,
			.arena = arena,
			.jobs = &jobs.items[jobs.first[name]],
			.job_count = jobs.first[name + 1] - jobs.first[name],
			.cuts = &cuts.items[cuts.first[name]],
			.cut_count = cuts.first[name + 1] - cuts.first[name],
			.column = column,
		};
		if (part.job_count == 0) {
			continue;
		}
		++*parts;
		if (part.cut_count == 0) {
			option[name] = free_option(master, name);
			*bound += option[name] != JOINT_NONE;
		} else if (master->seen[name].cuts == part.cut_count) {
			/* Nothing new of it: it stands as it was solved. */
			*bound += master->seen[name].bound;
			whole = whole && master->seen[name].whole;
		} else {
			bool part_whole = true;
			uint32_t most = part_solve(&part, option, &part_whole);
			master->seen[name] =
				(struct joint_seen){.cuts = part.cut_count, .bound = most, .whole = part_whole};
			whole = whole && part_whole;
			*bound += most;
		}
	}
	return whole;
}
