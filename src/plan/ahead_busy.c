/* When tools and presses are others': jobs that run, promises kept, time at a supplier. */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

static int job_numbers_compare(const struct horizon *horizon, size_t job, const char *number)
{
	return strcmp(horizon->jobs[job].job.number, number);
}

struct horizon_job *horizon_job_find(const struct horizon *horizon, const char *number)
{
	size_t low = 0, high = horizon->job_count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (job_numbers_compare(horizon, horizon->by_number[middle], number) < 0) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	bool found = low < horizon->job_count &&
	             job_numbers_compare(horizon, horizon->by_number[low], number) == 0;
	return found ? &horizon->jobs[horizon->by_number[low]] : NULL;
}

/* Does the model leave that job where it is? */
static bool is_outside(const struct horizon *horizon, const struct promise *promise)
{
	const struct horizon_job *job = horizon_job_find(horizon, promise->job);
	return job == NULL || job->standing != JOB_TO_PLAN;
}

static int times_compare(const void *a, const void *b)
{
	const struct joint_time *x = a, *y = b;
	if (x->from != y->from) {
		return x->from < y->from ? -1 : 1;
	}
	return (x->until > y->until) - (x->until < y->until);
}

/* In order, those that overlap or touch as one. */
static void times_join(struct joint_resource *resource)
{
	uint32_t kept = 0;
	struct joint_time *busy = resource->busy;
	if (resource->busy_count > 1) {
		qsort(busy, resource->busy_count, sizeof *busy, times_compare);
	}
	for (uint32_t i = 0; i < resource->busy_count; i++) {
		if (kept > 0 && busy[i].from <= busy[kept - 1].until) {
			busy[kept - 1].until =
				busy[i].until > busy[kept - 1].until ? busy[i].until : busy[kept - 1].until;
		} else {
			busy[kept++] = busy[i];
		}
	}
	resource->busy_count = kept;
}

/* A promise as a time of the model: of a tool with its turnaround, of a press without. */
static struct joint_time time_of_promise(const struct promise *promise, const struct limits *limits,
                                         bool turnaround)
{
	struct joint_time time = {TIME_EVER, TIME_NEVER};
	if (promise->from.known) {
		time.from = promise->from.value.s;
	}
	if (promise->until.known) {
		time.until = promise->until.value.s;
		if (turnaround) {
			time.until = promise_free(promise->until.value, limits).s;
		}
		/* What has no length still keeps others from starting together with it. */
		time.until = time.until > time.from ? time.until : time.from + 1;
	}
	return time;
}

/* Until it is back nobody has it; what it would be without that is kept. */
static void resource_away(struct horizon *horizon, struct tool *tool, uint32_t number)
{
	struct joint_resource *resource = &horizon->model.resources[number];
	struct joint_resource *back = arena_take(horizon->arena, 1, sizeof *back);
	back->busy = arena_take(horizon->arena, resource->busy_count, sizeof *back->busy);
	back->busy_count = resource->busy_count;
	memcpy(back->busy, resource->busy, resource->busy_count * sizeof *back->busy);
	times_join(back);
	horizon->shelf.away[number] = back;
	resource->busy[resource->busy_count++] =
		(struct joint_time){TIME_EVER, moment_of_day_end(tool->back.value).s};
	tool->sort = SORT_STORE;
}

/* Is it that tool of the job's booking? The model may give another for it. */
static bool is_booking(const struct horizon_job *job, const struct tool *tool,
                       const struct promise *promise)
{
	return job != NULL && job->promise != NULL && is_promised(job, tool->id) &&
	       promise->from.known && promise->until.known &&
	       moment_compare(promise->from.value, job->promise->from) == 0 &&
	       moment_compare(promise->until.value, job->promise->until) == 0;
}

/*
 * What it is taken out for already stays so, though the model moves the job: while that is to run
 * no other has the tool.
 */
static void take_taken(struct horizon *horizon, struct tool *tool)
{
	struct promise *taken = NULL;
	size_t count = 0;
	for (size_t i = 0; i < tool->promise_count; i++) {
		const struct promise *promise = &tool->promises[i];
		if (!is_outside(horizon, promise) &&
		    !is_booking(horizon_job_find(horizon, promise->job), tool, promise)) {
			taken = taken != NULL ? taken
			                      : arena_take(horizon->arena, tool->promise_count, sizeof *taken);
			taken[count++] = *promise;
		}
	}
	tool->promises = taken;
	tool->promise_count = count;
}

static void busy_of_tool(struct horizon *horizon, struct tool *tool, uint32_t number)
{
	const struct ahead_request *request = horizon->request;
	struct joint_resource *resource = &horizon->model.resources[number];
	bool due = tool->place_known && tool->sort == SORT_SUPPLIER && tool->back.known &&
	           moment_compare(moment_of_day_end(tool->back.value), request->now) >= 0;
	if (tool->promise_count > 0 || due) {
		resource->busy =
			arena_take(horizon->arena, tool->promise_count + 1, sizeof *resource->busy);
	}
	for (size_t i = 0; i < tool->promise_count; i++) {
		if (is_outside(horizon, &tool->promises[i])) {
			resource->busy[resource->busy_count++] =
				time_of_promise(&tool->promises[i], request->limits, true);
		}
	}
	if (due) {
		resource_away(horizon, tool, number);
	}
	times_join(resource);
	take_taken(horizon, tool);
}

static void press_settle(struct horizon *horizon, struct horizon_press *press, uint32_t number)
{
	struct joint_resource *resource = &horizon->model.resources[number];
	struct promise *outside = arena_take(horizon->arena, press->outside_count, sizeof *outside);
	size_t count = 0;
	resource->is_press = true;
	resource->busy = arena_take(horizon->arena, press->outside_count, sizeof *resource->busy);
	for (size_t i = 0; i < press->outside_count; i++) {
		if (is_outside(horizon, &press->outside[i])) {
			outside[count++] = press->outside[i];
			resource->busy[resource->busy_count++] =
				time_of_promise(&press->outside[i], horizon->request->limits, false);
		}
	}
	press->outside = outside;
	press->outside_count = count;
	times_join(resource);
}

void whole_shelf_settle(struct horizon *horizon)
{
	const struct whole_shelf *shelf = &horizon->shelf;
	struct joint_model *model = &horizon->model;
	model->resource_count = shelf->first[TOOL_KINDS];
	model->resources = arena_take(horizon->arena, model->resource_count, sizeof *model->resources);
	for (size_t i = 0; i < horizon->press_count; i++) {
		press_settle(horizon, &horizon->presses[i], (uint32_t)i);
	}
	for (uint32_t number = shelf->first[0]; number < model->resource_count; number++) {
		struct tool *tool = resource_tool(horizon, number);
		size_t press;
		busy_of_tool(horizon, tool, number);
		tool->press_promise_count = 0;
		if (tool->press != 0 && horizon_press_of(horizon, tool->press, &press) == OUTCOME_DONE) {
			tool->press_promises = horizon->presses[press].outside;
			tool->press_promise_count = horizon->presses[press].outside_count;
		}
	}
}
