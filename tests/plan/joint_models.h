/* Small models of jobs together, drawn at random, and what serves most of them by trying it all. */
#ifndef TESTS_PLAN_JOINT_MODELS_H
#define TESTS_PLAN_JOINT_MODELS_H

#include "../../src/plan/joint.h"
#include "../trade/random.h"

/* ---------------------------------------------------------------- drawing */

struct drawn {
	uint32_t jobs, items, companions, presses, needs, options, horizon, longest;
};

static inline void draw_need(struct arena *arena, struct random *random, const struct drawn *how,
                             uint32_t first, struct joint_need *out)
{
	uint32_t group = random_below(random, 2), room = how->items / 2;
	uint32_t base = first + group * room;
	struct joint_way *ways = arena_take(arena, room + 1, sizeof *ways);
	*out = (struct joint_need){.group = (enum joint_group)group, .ways = ways};
	for (uint32_t item = 0; item < room; item++) {
		if (random_below(random, 5) >= 3) {
			continue;
		}
		struct joint_way *way = &ways[out->way_count++];
		*way = (struct joint_way){.item = base + item};
		/* An item asks the same of its companions, whoever takes it. */
		if (how->companions == 0 || (item + group) % 2 == 0) {
			continue;
		}
		uint32_t *companions = arena_take(arena, how->companions, sizeof *companions);
		way->needs_companion = true;
		for (uint32_t i = 0; i < how->companions / 2; i++) {
			if ((item + i) % 3 != 2) {
				companions[way->companion_count++] =
					first + how->items + group * (how->companions / 2) + i;
			}
		}
		way->companions = companions;
	}
}

static inline void draw_job(struct arena *arena, struct random *random, const struct drawn *how,
                            struct joint_job *out)
{
	uint32_t options = 1 + random_below(random, how->options);
	out->time.from = random_below(random, how->horizon);
	out->time.until = out->time.from + 1 + random_below(random, how->longest);
	out->free = out->time.until + random_below(random, 2);
	out->need_count = random_below(random, how->needs + 1);
	out->options = arena_take(arena, options, sizeof *out->options);
	out->option_count = random_below(random, 25) == 0 ? 0 : options;
	for (uint32_t i = 0; i < options; i++) {
		struct joint_option *option = &out->options[i];
		option->press = how->presses == 0 ? JOINT_NONE : random_below(random, how->presses);
		option->needs = arena_take(arena, out->need_count + 1, sizeof *option->needs);
		for (uint32_t need = 0; need < out->need_count; need++) {
			draw_need(arena, random, how, how->presses, &option->needs[need]);
			option->needs[need].group = option->needs[need].group;
			option->needs[need].number = need + 1;
		}
	}
	/* Every option has the same needs, of the same groups: the first says which. */
	for (uint32_t i = 1; i < options; i++) {
		for (uint32_t need = 0; need < out->need_count; need++) {
			while (out->options[i].needs[need].group != out->options[0].needs[need].group) {
				draw_need(arena, random, how, how->presses, &out->options[i].needs[need]);
				out->options[i].needs[need].number = need + 1;
			}
		}
	}
}

static inline struct joint_model draw_model(struct arena *arena, struct random *random,
                                            const struct drawn *how)
{
	struct joint_model model = {.job_count = how->jobs};
	model.resource_count = how->presses + how->items + how->companions;
	model.resources = arena_take(arena, model.resource_count + 1, sizeof *model.resources);
	for (uint32_t i = 0; i < model.resource_count; i++) {
		model.resources[i].is_press = i < how->presses;
		if (random_below(random, 6) == 0) {
			struct joint_time *busy = arena_take(arena, 1, sizeof *busy);
			busy->from = random_below(random, how->horizon);
			busy->until = busy->from + 1 + random_below(random, how->longest);
			model.resources[i].busy = busy;
			model.resources[i].busy_count = 1;
		}
	}
	model.jobs = arena_take(arena, how->jobs + 1, sizeof *model.jobs);
	for (uint32_t i = 0; i < how->jobs; i++) {
		draw_job(arena, random, how, &model.jobs[i]);
	}
	return model;
}

/* ---------------------------------------------------------------- trying it all */

struct trying {
	const struct joint_model *model;
	struct joint_plan plan;
	uint32_t best;
};

static inline bool tried_meet(int64_t a, int64_t b, int64_t c, int64_t d)
{
	return a < d && c < b;
}

/* Is the resource free for a job, beside the needs placed so far? */
static inline bool tried_free(const struct trying *trying, uint32_t job, uint32_t need,
                              uint32_t resource, bool press)
{
	const struct joint_job *of = &trying->model->jobs[job];
	int64_t from = of->time.from, until = press ? of->time.until : of->free;
	const struct joint_resource *asked = &trying->model->resources[resource];
	for (uint32_t i = 0; i < asked->busy_count; i++) {
		if (tried_meet(from, until, asked->busy[i].from, asked->busy[i].until)) {
			return false;
		}
	}
	for (uint32_t other = 0; other <= job; other++) {
		const struct joint_job *before = &trying->model->jobs[other];
		uint32_t option = trying->plan.option[other];
		if (option == JOINT_NONE || !tried_meet(from, until, before->time.from,
		                                        press ? before->time.until : before->free)) {
			continue;
		}
		if (press && other != job && before->options[option].press == resource) {
			return false;
		}
		uint32_t placed = other == job ? need : before->need_count;
		for (uint32_t i = 0; i < placed && !press; i++) {
			struct joint_given given = trying->plan.given[other][i];
			if (before->options[option].needs[i].ways[given.way].item == resource ||
			    given.companion == resource) {
				return false;
			}
		}
	}
	return true;
}

static inline void try_job(struct trying *trying, uint32_t job);

static inline void try_need(struct trying *trying, uint32_t job, uint32_t need)
{
	const struct joint_job *of = &trying->model->jobs[job];
	if (need == of->need_count) {
		try_job(trying, job + 1);
		return;
	}
	const struct joint_need *asked = &of->options[trying->plan.option[job]].needs[need];
	for (uint32_t i = 0; i < asked->way_count; i++) {
		const struct joint_way *way = &asked->ways[i];
		if (!tried_free(trying, job, need, way->item, false)) {
			continue;
		}
		trying->plan.given[job][need] = (struct joint_given){i, JOINT_NONE};
		if (!way->needs_companion) {
			try_need(trying, job, need + 1);
		}
		for (uint32_t j = 0; way->needs_companion && j < way->companion_count; j++) {
			if (tried_free(trying, job, need, way->companions[j], false)) {
				trying->plan.given[job][need].companion = way->companions[j];
				try_need(trying, job, need + 1);
			}
		}
	}
}

static inline void try_job(struct trying *trying, uint32_t job)
{
	const struct joint_model *model = trying->model;
	if (job == model->job_count) {
		trying->best = trying->plan.served > trying->best ? trying->plan.served : trying->best;
		return;
	}
	if (trying->plan.served + (model->job_count - job) <= trying->best) {
		return; /* not even all that are left would make it better */
	}
	trying->plan.served++;
	for (uint32_t option = 0; option < model->jobs[job].option_count; option++) {
		uint32_t press = model->jobs[job].options[option].press;
		trying->plan.option[job] = option;
		if (press == JOINT_NONE || tried_free(trying, job, 0, press, true)) {
			try_need(trying, job, 0);
		}
	}
	trying->plan.served--;
	trying->plan.option[job] = JOINT_NONE;
	try_job(trying, job + 1);
}

/* The most jobs that any plan serves. */
static inline uint32_t most_served(struct arena *arena, const struct joint_model *model)
{
	struct trying trying = {.model = model};
	trying.plan.option = arena_take(arena, model->job_count + 1, sizeof *trying.plan.option);
	trying.plan.given = arena_take(arena, model->job_count + 1, sizeof(struct joint_given *));
	for (uint32_t i = 0; i < model->job_count; i++) {
		trying.plan.option[i] = JOINT_NONE;
		trying.plan.given[i] =
			arena_take(arena, model->jobs[i].need_count + 1, sizeof **trying.plan.given);
	}
	try_job(&trying, 0);
	return trying.best;
}

/* ---------------------------------------------------------------- a moment, by trying it all */

struct open_row {
	const struct joint_job *job;
	uint32_t need; /* JOINT_NONE: the press */
};
struct moment_trying {
	const struct joint_model *model;
	struct open_row rows[64];
	uint32_t row_count;
	uint8_t used[256];
	uint32_t best;
};

static inline bool open_for(const struct joint_model *model, uint32_t resource, int64_t from,
                            int64_t until)
{
	const struct joint_resource *asked = &model->resources[resource];
	for (uint32_t i = 0; i < asked->busy_count; i++) {
		if (tried_meet(from, until, asked->busy[i].from, asked->busy[i].until)) {
			return false;
		}
	}
	return true;
}

static inline void try_row(struct moment_trying *trying, uint32_t row, uint32_t met)
{
	if (met + (trying->row_count - row) <= trying->best) {
		return;
	}
	if (row == trying->row_count) {
		trying->best = met;
		return;
	}
	const struct joint_job *job = trying->rows[row].job;
	uint32_t need = trying->rows[row].need;
	for (uint32_t option = 0; option < job->option_count; option++) {
		uint32_t press = job->options[option].press;
		if (need == JOINT_NONE) {
			if (press != JOINT_NONE && !trying->used[press] &&
			    open_for(trying->model, press, job->time.from, job->time.until)) {
				trying->used[press] = 1;
				try_row(trying, row + 1, met + 1);
				trying->used[press] = 0;
			}
			continue;
		}
		const struct joint_need *asked = &job->options[option].needs[need];
		for (uint32_t i = 0; i < asked->way_count; i++) {
			const struct joint_way *way = &asked->ways[i];
			if (trying->used[way->item] ||
			    !open_for(trying->model, way->item, job->time.from, job->free)) {
				continue;
			}
			trying->used[way->item] = 1;
			if (!way->needs_companion) {
				try_row(trying, row + 1, met + 1);
			}
			for (uint32_t j = 0; way->needs_companion && j < way->companion_count; j++) {
				uint32_t companion = way->companions[j];
				if (!trying->used[companion] &&
				    open_for(trying->model, companion, job->time.from, job->free)) {
					trying->used[companion] = 1;
					try_row(trying, row + 1, met + 1);
					trying->used[companion] = 0;
				}
			}
			trying->used[way->item] = 0;
		}
	}
	try_row(trying, row + 1, met);
}

/* The needs of a group open at a moment that nothing can meet, however tools are given out then. */
static inline uint32_t left_out_at(const struct joint_model *model, enum joint_group group,
                                   int64_t moment)
{
	struct moment_trying trying = {.model = model};
	for (uint32_t i = 0; i < model->job_count; i++) {
		const struct joint_job *job = &model->jobs[i];
		int64_t until = group == JOINT_PRESS ? job->time.until : job->free;
		if (job->option_count == 0 || job->time.from > moment || until <= moment) {
			continue;
		}
		if (group == JOINT_PRESS && job->options[0].press != JOINT_NONE) {
			trying.rows[trying.row_count++] = (struct open_row){job, JOINT_NONE};
		}
		for (uint32_t need = 0; group != JOINT_PRESS && need < job->need_count; need++) {
			if (job->options[0].needs[need].group == group) {
				trying.rows[trying.row_count++] = (struct open_row){job, need};
			}
		}
	}
	try_row(&trying, 0, 0);
	return trying.row_count - trying.best;
}

#endif
