/*
 * The joint choice: greedy, improved by moving tools, then in rounds. In each round an integer
 * program says which jobs can run together as far as is known, and the tools are sought for them;
 * where they cannot be had, what stands against it becomes a cut of the next round. What the
 * program says at most is a bound whatever is found, so that the gap is always known.
 */
#include <string.h>

#include "joint_solving.h"

#define DEPTH 4    /* needs that move one after another for one that is placed */
#define STEPS 4000 /* ways looked at for one job */

/* ---------------------------------------------------------------- jobs around a time */

/* Jobs that hold something at any time of these; as many into `out`. */
static uint32_t jobs_around(const struct solving *solving, struct joint_time time, uint32_t *out)
{
	const struct joint_model *model = solving->model;
	uint32_t low = 0, high = model->job_count, count = 0;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (model->jobs[solving->by_start[middle]].time.from < time.from - solving->longest) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	for (; low < model->job_count; low++) {
		const struct joint_job *job = &model->jobs[solving->by_start[low]];
		struct joint_time held = joint_tool_time(job);
		held.until = job->time.until > held.until ? job->time.until : held.until;
		if (job->time.from >= time.until) {
			break;
		}
		if (joint_meet(held, time)) {
			out[count++] = solving->by_start[low];
		}
	}
	return count;
}

static void longest_find(struct solving *solving)
{
	for (uint32_t i = 0; i < solving->model->job_count; i++) {
		const struct joint_job *job = &solving->model->jobs[i];
		int64_t until = job->free > job->time.until ? job->free : job->time.until;
		int64_t held = until - job->time.from;
		solving->longest = held > solving->longest ? held : solving->longest;
	}
	solving->longest++;
}

/* ---------------------------------------------------------------- first plans */

static void plan_keep(struct solving *solving)
{
	uint32_t served = 0;
	for (uint32_t i = 0; i < solving->model->job_count; i++) {
		served += solving->board.option[i] != JOINT_NONE;
	}
	if (solving->out->plan.option == NULL || served > solving->out->plan.served) {
		board_plan(solving->arena, &solving->board, &solving->out->plan);
	}
	board_settle(&solving->board);
}

/* Job by job, each with what is free, its own needs giving way to one another. */
static void serve_greedily(struct solving *solving)
{
	struct joint_board *board = &solving->board;
	board->steps_most = STEPS;
	for (uint32_t i = 0; i < solving->model->job_count; i++) {
		board->only_job = solving->by_start[i];
		board_serve(board, solving->by_start[i], DEPTH);
	}
	board->only_job = JOINT_NONE;
	board_plan(solving->arena, board, &solving->out->greedy);
	plan_keep(solving);
}

/* Jobs not served yet, with others' tools moving. */
static void serve_the_rest(struct solving *solving)
{
	struct joint_board *board = &solving->board;
	for (uint32_t i = 0; i < solving->model->job_count && joint_clock() < solving->deadline; i++) {
		if (board->option[solving->by_start[i]] == JOINT_NONE) {
			board_serve(board, solving->by_start[i], DEPTH);
			board_settle(board);
		}
	}
	plan_keep(solving);
}

/* ---------------------------------------------------------------- cuts */

static bool cut_violator(struct solving *solving, const struct joint_violator *violator)
{
	struct arena *arena = arena_new();
	struct joint_time moment = {violator->moment, violator->moment + 1};
	uint32_t count = jobs_around(solving, moment, solving->near);
	struct joint_cut cut = cut_of_violator(arena, solving->model, violator, solving->near, count);
	bool added = cuts_add(&solving->cuts, &cut);
	arena_free(arena);
	return added;
}

/* What is short at each moment if all jobs are to run. */
static void cut_all_moments(struct solving *solving)
{
	struct joint_shortage *shortages;
	size_t count;
	struct arena *arena = arena_new();
	joint_shortages(arena, solving->model, &shortages, &count);
	for (size_t i = 0; i < count; i++) {
		const struct joint_violator violator = {
			.group = shortages[i].group,
			.moment = shortages[i].time.from,
			.rows = shortages[i].rows,
			.row_count = shortages[i].row_count,
			.resources = shortages[i].resources,
			.resource_count = shortages[i].resource_count,
		};
		cut_violator(solving, &violator);
	}
	arena_free(arena);
}

/* What is short at a moment if those run that the program chose. */
static bool cut_moment(struct solving *solving, int64_t moment)
{
	const struct joint_chosen chosen = {.option = solving->target};
	struct joint_time time = {moment, moment + 1};
	struct joint_violators list = {.items = NULL};
	struct arena *arena = arena_new();
	uint32_t *jobs = arena_take(arena, solving->model->job_count + 1, sizeof *jobs);
	uint32_t count = jobs_around(solving, time, jobs);
	bool any = false;
	for (int group = 0; group < JOINT_GROUPS; group++) {
		look_at(solving->look, arena, (enum joint_group)group, moment, jobs, count, chosen, &list);
	}
	for (size_t i = 0; i < list.count; i++) {
		any = cut_violator(solving, &list.items[i]) || any;
	}
	arena_free(arena);
	return any;
}

/* What is short while a job holds anything: only where one begins can more be short than before. */
static bool cut_while(struct solving *solving, uint32_t job)
{
	const struct joint_model *model = solving->model;
	struct joint_time time = joint_tool_time(&model->jobs[job]);
	time.until =
		model->jobs[job].time.until > time.until ? model->jobs[job].time.until : time.until;
	struct arena *arena = arena_new();
	uint32_t *jobs = arena_take(arena, model->job_count + 1, sizeof *jobs);
	uint32_t count = jobs_around(solving, time, jobs);
	int64_t last = time.from - 1;
	bool any = false;
	for (uint32_t i = 0; i < count; i++) {
		int64_t from = model->jobs[jobs[i]].time.from;
		if (solving->target[jobs[i]] != JOINT_NONE && from > last) {
			any = cut_moment(solving, from) || any;
			last = from;
		}
	}
	arena_free(arena);
	return any;
}

/* ---------------------------------------------------------------- to the end */

/* A job that could not be placed by moving others: true where it is on the board now. */
static bool settle(struct solving *solving, uint32_t job, bool *cut)
{
	struct joint_board *board = &solving->board;
	size_t mark = board->change_count;
	uint32_t option = solving->target[job];
	bool found = board_on_press(board, job, option) == JOINT_NONE;
	if (cut_while(solving, job)) {
		*cut = true;
		return false;
	}
	if (!found) {
		return false;
	}
	board_put(board, job, option);
	for (int group = 0; group < JOINT_PRESS && found; group++) {
		enum search_end end = settle_group(solving, (enum joint_group)group, job);
		*cut = *cut || end == SEARCH_NONE;
		found = end == SEARCH_FOUND;
	}
	if (!found) {
		board_back(board, mark);
	}
	return found;
}

/* ---------------------------------------------------------------- rounds */

/* Puts those on the board that the program chose; true where that gave a cut. */
static bool serve_the_target(struct solving *solving)
{
	struct joint_board *board = &solving->board;
	bool cut = false;
	for (uint32_t job = 0; job < solving->model->job_count; job++) {
		if (board->option[job] != solving->target[job]) {
			board_put(board, job, JOINT_NONE);
		}
	}
	board_settle(board);
	for (uint32_t i = 0; i < solving->model->job_count && joint_clock() < solving->deadline; i++) {
		uint32_t job = solving->by_start[i];
		if (solving->target[job] == JOINT_NONE || board->option[job] != JOINT_NONE) {
			continue;
		}
		if (!board_serve_by(board, job, solving->target[job], DEPTH)) {
			settle(solving, job, &cut);
		}
		board_settle(board);
	}
	return cut;
}

static void options_prepare(struct solving *solving)
{
	const struct joint_model *model = solving->model;
	struct joint_master *master = &solving->master;
	uint32_t count = 0;
	uint32_t *first = arena_take(solving->arena, model->job_count + 1, sizeof *first);
	for (uint32_t job = 0; job < model->job_count; job++) {
		first[job] = count;
		count += model->jobs[job].option_count;
	}
	first[model->job_count] = count;
	uint8_t *may = arena_take(solving->arena, count + 1, 1);
	for (uint32_t job = 0; job < model->job_count; job++) {
		for (uint32_t option = 0; option < model->jobs[job].option_count; option++) {
			may[first[job] + option] = joint_option_may(model, job, option);
		}
	}
	*master = (struct joint_master){
		.model = model,
		.cuts = &solving->cuts,
		.first_option = first,
		.may = may,
		.seen = arena_take(solving->arena, model->job_count + 1, sizeof *master->seen),
		.deadline = solving->deadline,
	};
}

/* Jobs that could be served if each were alone, whatever it does to itself. */
static uint32_t may_be_served(const struct solving *solving)
{
	const struct joint_master *master = &solving->master;
	uint32_t count = 0;
	for (uint32_t job = 0; job < solving->model->job_count; job++) {
		bool may = false;
		for (uint32_t at = master->first_option[job]; at < master->first_option[job + 1]; at++) {
			may = may || master->may[at];
		}
		count += may;
	}
	return count;
}

static void bound_take(struct solving *solving, uint32_t bound)
{
	struct joint_answer *out = solving->out;
	out->bound = bound < out->bound ? bound : out->bound;
	out->proven = out->plan.served >= out->bound;
}

static void rounds(struct solving *solving)
{
	struct joint_answer *out = solving->out;
	bool cut = true, begun = false;
	out->proof = "matching";
	/* Once whatever the time is: without a program there is no bound that says anything. */
	while (!out->proven && cut && (!begun || joint_clock() < solving->deadline)) {
		begun = true;
		struct arena *arena = arena_new();
		uint32_t bound;
		solving->master.wished = solving->board.option;
		master_solve(arena, &solving->master, solving->target, &bound, &out->parts);
		arena_free(arena);
		bound_take(solving, bound);
		if (out->proven) {
			break;
		}
		out->proof = "integer program";
		cut = serve_the_target(solving);
		serve_the_rest(solving);
		bound_take(solving, bound);
	}
	if (!out->proven) {
		out->proof = "gap";
	}
}

/* ---------------------------------------------------------------- better tools */

static bool is_free(const struct joint_board *board, uint32_t need, uint32_t resource)
{
	struct joint_time time = joint_tool_time(&board->model->jobs[board->job_of[need]]);
	return board_is_free(board, resource, time, need);
}

static uint32_t free_companion(const struct joint_board *board, uint32_t need,
                               const struct joint_way *way)
{
	for (uint32_t i = 0; i < way->companion_count; i++) {
		if (is_free(board, need, way->companions[i])) {
			return way->companions[i];
		}
	}
	return JOINT_NONE;
}

/* A need takes a way before its own in the list, where that lies free by now. */
static void need_better(struct joint_board *board, uint32_t need)
{
	const struct joint_need *of = board_need(board, need);
	for (uint32_t way = 0; way < board->given[need].way; way++) {
		const struct joint_way *better = &of->ways[way];
		uint32_t companion = JOINT_NONE;
		if (!is_free(board, need, better->item)) {
			continue;
		}
		if (better->needs_companion) {
			companion = free_companion(board, need, better);
			if (companion == JOINT_NONE) {
				continue;
			}
		}
		board_give(board, need, (struct joint_given){way, companion});
	}
}

static void plan_better(struct solving *solving)
{
	struct joint_board board;
	board_open(solving->arena, solving->model, &board);
	board_take(&board, &solving->out->plan);
	for (uint32_t i = 0; i < solving->model->job_count; i++) {
		uint32_t job = solving->by_start[i];
		for (uint32_t need = board.first_need[job];
		     need < board.first_need[job + 1] && board.option[job] != JOINT_NONE; need++) {
			need_better(&board, need);
		}
	}
	board_plan(solving->arena, &board, &solving->out->plan);
}

static bool differs(const struct joint_model *model, const struct joint_plan *a,
                    const struct joint_plan *b, uint32_t job)
{
	if (a->option[job] != b->option[job]) {
		return true;
	}
	return a->option[job] != JOINT_NONE && model->jobs[job].need_count > 0 &&
	       memcmp(a->given[job], b->given[job], model->jobs[job].need_count * sizeof **a->given) !=
	           0;
}

static void count_moved(struct solving *solving)
{
	struct joint_answer *out = solving->out;
	out->moved = 0;
	for (uint32_t job = 0; job < solving->model->job_count; job++) {
		out->moved += out->plan.option[job] == JOINT_NONE ||
		              differs(solving->model, &out->plan, &out->greedy, job);
	}
}

/* ---------------------------------------------------------------- all of it */

static void solving_open(struct arena *arena, const struct joint_model *model, double seconds,
                         struct joint_answer *answer, struct solving *out)
{
	*out = (struct solving){
		.arena = arena,
		.model = model,
		.deadline = joint_clock() + seconds,
		.by_start = joint_by_start(arena, model),
		.cuts = {.arena = arena},
		.look = look_open(arena, model),
		.target = arena_take(arena, model->job_count + 1, sizeof *out->target),
		.near = arena_take(arena, model->job_count + 1, sizeof *out->near),
		.out = answer,
	};
	longest_find(out);
	board_open(arena, model, &out->board);
	out->board.steps_most = STEPS;
}

void joint_solve(struct arena *arena, const struct joint_model *model,
                 const struct joint_settings *how, struct joint_answer *out)
{
	struct solving solving;
	*out = (struct joint_answer){.proof = "matching"};
	solving_open(arena, model, how->seconds, out, &solving);
	options_prepare(&solving);
	out->bound = may_be_served(&solving);
	out->parts = model->job_count;
	serve_greedily(&solving);
	serve_the_rest(&solving);
	bound_take(&solving, out->bound);
	if (!out->proven && !how->no_program) {
		askers_list(arena, &solving.board, &solving.askers);
		cut_all_moments(&solving);
		rounds(&solving);
	}
	if (!out->proven) {
		out->proof = "gap";
	}
	plan_better(&solving);
	count_moved(&solving);
	look_close(solving.look);
}

void joint_improve(struct arena *arena, const struct joint_model *model,
                   const struct joint_plan *warm, const uint32_t *tries, uint32_t try_count,
                   struct joint_plan *out)
{
	struct joint_board board;
	uint32_t *by_start = joint_by_start(arena, model);
	board_open(arena, model, &board);
	board.steps_most = STEPS;
	board_take(&board, warm);
	uint32_t count = tries == NULL ? model->job_count : try_count;
	for (uint32_t i = 0; i < count; i++) {
		uint32_t job = tries == NULL ? by_start[i] : tries[i];
		if (board.option[job] == JOINT_NONE) {
			board_serve(&board, job, DEPTH);
			board_settle(&board);
		}
	}
	board_plan(arena, &board, out);
}
