/*
 * What can never run short. A tool is taken by at most so many jobs at a time: where more of a sort
 * go with a roll than all needs that could meet that job, one is always left, whatever the others
 * take. Such blades, gears and magnetic cylinders are left out of the model and chosen when it is
 * solved; of such rolls and cylinders no more are looked at than could be taken.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

static size_t rows_of(const struct horizon_job *job, enum joint_group group)
{
	return group == JOINT_DIES ? job->cut_count : job->printing_count;
}

/* ---------------------------------------------------------------- how many are enough */

struct held {
	int64_t from, free;
	size_t job;
};

static int held_compare(const void *a, const void *b)
{
	const struct held *x = a, *y = b;
	return (x->from > y->from) - (x->from < y->from);
}

/*
 * Needs of a group that one job can meet at most, itself among them, wherever it is moved to. Of
 * those that a job meets let one begin last: the others began before it, and are not over by as
 * much sooner as the longest takes.
 */
static size_t needs_at_once(const struct horizon *horizon, const struct held *held, size_t count,
                            int64_t longest, enum joint_group group)
{
	size_t most = 0, own = 0;
	for (size_t i = 0; i < count; i++) {
		size_t rows = rows_of(&horizon->jobs[held[i].job], group), met = 0;
		own = rows > own ? rows : own;
		for (size_t j = i + 1; j-- > 0 && held[j].from >= held[i].from - 2 * longest;) {
			met += held[j].free > held[i].from - longest
			           ? rows_of(&horizon->jobs[held[j].job], group)
			           : 0;
		}
		for (size_t j = i + 1; j < count && held[j].from == held[i].from; j++) {
			met += rows_of(&horizon->jobs[held[j].job], group);
		}
		most = met > most ? met : most;
	}
	return most + own;
}

static void enough_find(struct horizon *horizon)
{
	struct held *held = arena_take(horizon->scratch, horizon->job_count, sizeof *held);
	size_t count = 0;
	int64_t longest = 1;
	for (size_t i = 0; i < horizon->job_count; i++) {
		const struct horizon_job *job = &horizon->jobs[i];
		if (job->standing != JOB_TO_PLAN) {
			continue;
		}
		int64_t from = job->span.from.s;
		int64_t free = promise_free(job->span.until, horizon->request->limits).s;
		free = free > from ? free : from + 1;
		held[count++] = (struct held){from, free, i};
		/* Moved over a night or a closed day it may take longer. */
		longest = 2 * (free - from) > longest ? 2 * (free - from) : longest;
	}
	if (count > 1) {
		qsort(held, count, sizeof *held, held_compare);
	}
	for (int group = JOINT_CYLINDERS; group <= JOINT_DIES; group++) {
		horizon->enough[group] =
			needs_at_once(horizon, held, count, longest, (enum joint_group)group);
	}
	arena_reset(horizon->scratch);
}

/* Nobody else ever has it, and whether it is there hangs on nothing. */
static bool is_plain(const struct horizon *horizon, uint32_t resource, bool carries)
{
	return horizon->model.resources[resource].busy_count == 0 &&
	       !there_by_job(resource_tool(horizon, resource), carries);
}

bool companions_are_enough(const struct horizon *horizon, enum joint_group group,
                           const uint32_t *list, uint32_t count)
{
	size_t plain = 0;
	for (uint32_t i = 0; i < count && plain < horizon->enough[group]; i++) {
		plain += is_plain(horizon, list[i], false) ? 1 : 0;
	}
	return plain >= horizon->enough[group];
}

/* ---------------------------------------------------------------- left out of the model */

/* A set of companions that was looked at: the ways of many tools share one. */
struct seen_set {
	const uint32_t *list;
	bool enough;
};

static void ways_thin(const struct horizon *horizon, struct ways *ways, struct seen_set *seen)
{
	bool cylinders = ways->group == JOINT_CYLINDERS;
	size_t plain = 0;
	for (uint32_t i = 0; i < ways->count; i++) {
		struct joint_way *way = &ways->list[i];
		if (way->needs_companion && way->companions != seen->list) {
			seen->list = way->companions;
			seen->enough =
				companions_are_enough(horizon, ways->group, way->companions, way->companion_count);
		}
		if (way->needs_companion && seen->enough) {
			way->needs_companion = false;
			way->companions = NULL;
			way->companion_count = 0;
		}
		plain += !way->needs_companion && is_plain(horizon, way->item, cylinders) ? 1 : 0;
		if (plain >= horizon->enough[ways->group]) {
			ways->count = i + 1;
		}
	}
}

void horizon_thin(struct horizon *horizon)
{
	struct seen_set seen = {.list = NULL};
	enough_find(horizon);
	for (size_t i = 0; i < WAYS_BUCKETS; i++) {
		for (struct ways *ways = horizon->ways->buckets[i]; ways != NULL; ways = ways->next) {
			ways_thin(horizon, ways, &seen);
		}
	}
}

/* ---------------------------------------------------------------- chosen when it is solved */

/* Times when a resource is taken: by the plan, and lately by what was chosen here. */
struct taken {
	struct taken_time {
		struct taken_time *next;
		int64_t from, free;
	} * plan;
	int64_t free; /* of the last chosen here; those before it began before it */
};

struct choosing {
	struct horizon *horizon;
	struct taken *taken; /* by resource */
};

static void note_plan(struct choosing *choosing, const struct joint_job *job, uint32_t resource)
{
	struct taken_time *time = arena_take(choosing->horizon->scratch, 1, sizeof *time);
	*time = (struct taken_time){choosing->taken[resource].plan, job->time.from, job->free};
	choosing->taken[resource].plan = time;
}

static void note_all(struct choosing *choosing)
{
	const struct horizon *horizon = choosing->horizon;
	const struct joint_plan *plan = &horizon->answer.plan;
	for (uint32_t i = 0; i < horizon->model.job_count; i++) {
		for (uint32_t need = 0;
		     plan->option[i] != JOINT_NONE && need < horizon->model.jobs[i].need_count; need++) {
			if (plan->given[i][need].companion != JOINT_NONE) {
				note_plan(choosing, &horizon->model.jobs[i], plan->given[i][need].companion);
			}
		}
	}
}

static bool is_left(const struct choosing *choosing, const struct joint_job *job, uint32_t resource)
{
	const struct taken *taken = &choosing->taken[resource];
	bool left = taken->free <= job->time.from && is_plain(choosing->horizon, resource, false);
	for (const struct taken_time *time = taken->plan; time != NULL && left; time = time->next) {
		left = time->free <= job->time.from || time->from >= job->free;
	}
	return left;
}

static uint32_t companion_choose(struct choosing *choosing, const struct horizon_job *job,
                                 const struct joint_job *modelled,
                                 const struct companions *companions)
{
	const struct horizon *horizon = choosing->horizon;
	uint32_t chosen = JOINT_NONE;
	for (int promised = job->promise != NULL ? 1 : 0; promised >= 0; promised--) {
		for (uint32_t i = 0; i < companions->count && chosen == JOINT_NONE; i++) {
			uint32_t resource = companions->list[i];
			if (is_left(choosing, modelled, resource) &&
			    (promised == 0 || is_promised(job, resource_tool(horizon, resource)->id))) {
				chosen = resource;
			}
		}
	}
	if (chosen != JOINT_NONE) {
		choosing->taken[chosen].free = modelled->free;
	}
	return chosen;
}

static void choose_for(struct choosing *choosing, uint32_t number, struct arena *arena)
{
	struct horizon *horizon = choosing->horizon;
	const struct joint_plan *plan = &horizon->answer.plan;
	const struct joint_job *modelled = &horizon->model.jobs[number];
	const struct horizon_job *job = &horizon->jobs[horizon->job_of[number]];
	const struct run_option *run = &job->options[plan->option[number]];
	struct question question = horizon_question(horizon, job, run->press, run->candidate, arena);
	uint32_t *spare = arena_take(horizon->arena, modelled->need_count, sizeof *spare);
	horizon->spare[number] = spare;
	for (uint32_t need = 0; need < modelled->need_count; need++) {
		const struct joint_need *here = &modelled->options[plan->option[number]].needs[need];
		const struct joint_way *way = &here->ways[plan->given[number][need].way];
		size_t item;
		resource_kind(horizon, way->item, &item);
		spare[need] = JOINT_NONE;
		if (!way->needs_companion &&
		    rules_of_group(here->group)->needs_companion(&question, item)) {
			spare[need] = companion_choose(choosing, job, modelled,
			                               companions_find(horizon, &question, run->press,
			                                               here->group, item));
		}
	}
}

static int by_start(const void *a, const void *b, void *jobs)
{
	const struct joint_job *x = (struct joint_job *)jobs + *(const uint32_t *)a;
	const struct joint_job *y = (struct joint_job *)jobs + *(const uint32_t *)b;
	return (x->time.from > y->time.from) - (x->time.from < y->time.from);
}

void horizon_choose_spare(struct horizon *horizon)
{
	const struct joint_model *model = &horizon->model;
	struct arena *arena = arena_new();
	struct choosing choosing = {.horizon = horizon};
	uint32_t *order = arena_take(arena, model->job_count, sizeof *order);
	horizon->spare = arena_take(horizon->arena, model->job_count, sizeof *horizon->spare);
	choosing.taken = arena_take(arena, model->resource_count, sizeof *choosing.taken);
	for (uint32_t i = 0; i < model->resource_count; i++) {
		choosing.taken[i].free = TIME_EVER;
	}
	for (uint32_t i = 0; i < model->job_count; i++) {
		order[i] = i;
	}
	if (model->job_count > 1) {
		qsort_r(order, model->job_count, sizeof *order, by_start, model->jobs);
	}
	note_all(&choosing);
	for (uint32_t i = 0; i < model->job_count; i++) {
		if (horizon->answer.plan.option[order[i]] != JOINT_NONE) {
			choose_for(&choosing, order[i], arena);
		}
	}
	arena_free(arena);
	arena_reset(horizon->scratch);
}
