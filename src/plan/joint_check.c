/* Is a plan one? Looked at without anything of what made it. */
#include <stdlib.h>

#include "joint_inside.h"

/* A resource used over a time. */
struct use {
	uint32_t resource;
	struct joint_time time;
};
struct uses {
	struct use *items;
	size_t count;
};

static int use_order(const void *a, const void *b)
{
	const struct use *x = a, *y = b;
	if (x->resource != y->resource) {
		return x->resource < y->resource ? -1 : 1;
	}
	return x->time.from < y->time.from ? -1 : x->time.from > y->time.from;
}

static void use_add(struct uses *uses, uint32_t resource, struct joint_time time)
{
	uses->items[uses->count++] = (struct use){resource, time};
}

static bool goes_with(const struct joint_way *way, uint32_t companion)
{
	bool among = !way->needs_companion && companion == JOINT_NONE;
	for (uint32_t i = 0; way->needs_companion && i < way->companion_count; i++) {
		among = among || way->companions[i] == companion;
	}
	return among;
}

static bool job_holds(const struct joint_job *job, uint32_t option, const struct joint_given *given,
                      struct uses *uses)
{
	if (option >= job->option_count) {
		return false;
	}
	const struct joint_option *taken = &job->options[option];
	if (taken->press != JOINT_NONE) {
		use_add(uses, taken->press, job->time);
	}
	for (uint32_t i = 0; i < job->need_count; i++) {
		const struct joint_need *need = &taken->needs[i];
		if (given[i].way >= need->way_count ||
		    !goes_with(&need->ways[given[i].way], given[i].companion)) {
			return false;
		}
		use_add(uses, need->ways[given[i].way].item, joint_tool_time(job));
		if (given[i].companion != JOINT_NONE) {
			use_add(uses, given[i].companion, joint_tool_time(job));
		}
	}
	return true;
}

static bool uses_hold(const struct joint_model *model, struct uses *uses)
{
	if (uses->count > 1) {
		qsort(uses->items, uses->count, sizeof *uses->items, use_order);
	}
	for (size_t i = 0; i < uses->count; i++) {
		const struct use *use = &uses->items[i];
		if (joint_busy(&model->resources[use->resource], use->time) ||
		    (i > 0 && use[-1].resource == use->resource && joint_meet(use[-1].time, use->time))) {
			return false;
		}
	}
	return true;
}

bool joint_plan_holds(const struct joint_model *model, const struct joint_plan *plan)
{
	struct arena *arena = arena_new();
	struct uses uses = {.items = NULL};
	size_t room = 1;
	uint32_t served = 0;
	bool holds = true;
	for (uint32_t job = 0; job < model->job_count; job++) {
		room += 1 + 2 * (size_t)model->jobs[job].need_count;
	}
	uses.items = arena_take(arena, room, sizeof *uses.items);
	for (uint32_t job = 0; job < model->job_count && holds; job++) {
		if (plan->option[job] != JOINT_NONE) {
			served++;
			holds = job_holds(&model->jobs[job], plan->option[job], plan->given[job], &uses);
		}
	}
	holds = holds && served == plan->served && uses_hold(model, &uses);
	arena_free(arena);
	return holds;
}
