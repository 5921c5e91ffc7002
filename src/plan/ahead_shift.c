/*
 * A job at another time: the smallest move, later or earlier, by which more jobs are served. Where
 * something ends or begins that stands in its way, there a move may help; its length in open hours
 * is kept.
 */
#include <stdlib.h>

#include "ahead_cures.h"

#define SHIFTS_TRIED 12 /* moments of one job, the nearest first */
#define JOBS_SHIFTED 4  /* of one shortage */

/* Starts that may help, for one job. */
struct starts {
	const struct horizon *horizon;
	const struct horizon_job *job;
	struct duration open; /* how long it holds its press */
	int64_t *items;       /* seconds */
	size_t count, room;
	struct arena *arena;
};

static void start_add(struct starts *starts, struct moment start)
{
	const struct ahead_request *request = starts->horizon->request;
	int64_t from = starts->job->span.from.s;
	if (start.s == from || start.s < request->now.s || start.s >= request->until.s) {
		return;
	}
	if (starts->count == starts->room) {
		size_t room = starts->room * 2 + 32;
		starts->items =
			arena_grow(starts->arena, starts->items, starts->count, room, sizeof *starts->items);
		starts->room = room;
	}
	starts->items[starts->count++] = start.s;
}

/* It may start when that ends. */
static void start_behind(struct starts *starts, int64_t end)
{
	const struct calendar *calendar = &starts->horizon->request->limits->calendar;
	if (end > starts->job->span.from.s && end < TIME_NEVER) {
		start_add(starts, calendar_open_from(calendar, (struct moment){.s = end}));
	}
}

/* Or so much earlier that it is over, its tools free again, when that begins. */
static void start_before(struct starts *starts, int64_t begin, bool tools)
{
	const struct limits *limits = starts->horizon->request->limits;
	struct moment until = {.s = begin};
	if (begin <= TIME_EVER) {
		return;
	}
	if (tools) {
		until = calendar_subtract(&limits->calendar, until, limits->turnaround);
	}
	struct moment start = calendar_subtract(&limits->calendar, until, starts->open);
	if (start.s < starts->job->span.from.s) {
		start_add(starts, start);
	}
}

/* What the job could take on any option, presses too. */
static void mark_takes(const struct joint_job *job, uint8_t *takes)
{
	for (uint32_t i = 0; i < job->option_count; i++) {
		const struct joint_option *option = &job->options[i];
		if (option->press != JOINT_NONE) {
			takes[option->press] = 1;
		}
		for (uint32_t need = 0; need < job->need_count; need++) {
			for (uint32_t way = 0; way < option->needs[need].way_count; way++) {
				const struct joint_way *here = &option->needs[need].ways[way];
				takes[here->item] = 1;
				for (uint32_t j = 0; j < here->companion_count; j++) {
					takes[here->companions[j]] = 1;
				}
			}
		}
	}
}

/* Does the plan give that job something that this one could take: its press, a tool? */
static void shares(const struct horizon *horizon, uint32_t other, const uint8_t *takes, bool *press,
                   bool *tools)
{
	const struct joint_plan *plan = &horizon->answer.plan;
	const struct joint_job *job = &horizon->model.jobs[other];
	const struct joint_option *option = &job->options[plan->option[other]];
	*press = option->press != JOINT_NONE && takes[option->press];
	*tools = false;
	for (uint32_t need = 0; need < job->need_count && !*tools; need++) {
		struct joint_given given = plan->given[other][need];
		*tools = takes[option->needs[need].ways[given.way].item] ||
		         (given.companion != JOINT_NONE && takes[given.companion]);
	}
}

static void starts_of_jobs(struct starts *starts, uint32_t job, const uint8_t *takes)
{
	const struct horizon *horizon = starts->horizon;
	for (uint32_t i = 0; i < horizon->model.job_count; i++) {
		const struct joint_job *other = &horizon->model.jobs[i];
		bool press = false, tools = false;
		if (i == job || !is_served(&horizon->answer.plan, i)) {
			continue;
		}
		shares(horizon, i, takes, &press, &tools);
		if (press) {
			start_behind(starts, other->time.until);
			start_before(starts, other->time.from, false);
		}
		if (tools) {
			start_behind(starts, other->free);
			start_before(starts, other->time.from, true);
		}
	}
}

static void starts_of_busy(struct starts *starts, const uint8_t *takes)
{
	const struct joint_model *model = &starts->horizon->model;
	for (uint32_t i = 0; i < model->resource_count; i++) {
		const struct joint_resource *resource = &model->resources[i];
		for (uint32_t j = 0; takes[i] && j < resource->busy_count; j++) {
			start_behind(starts, resource->busy[j].until);
			start_before(starts, resource->busy[j].from, !resource->is_press);
		}
	}
}

static int by_distance(const void *a, const void *b, void *from)
{
	int64_t x = *(const int64_t *)a - *(const int64_t *)from;
	int64_t y = *(const int64_t *)b - *(const int64_t *)from;
	int64_t far_x = x < 0 ? -x : x, far_y = y < 0 ? -y : y;
	if (far_x != far_y) {
		return far_x < far_y ? -1 : 1;
	}
	/* Of two as near the later: nobody is ready sooner than he said. */
	return x > y ? -1 : x < y ? 1 : 0;
}

static size_t starts_find(struct cure_work *work, uint32_t job, struct arena *arena, int64_t **out)
{
	const struct horizon *horizon = work->horizon;
	const struct horizon_job *planned = planned_job(horizon, job);
	struct starts starts = {.horizon = horizon,
	                        .job = planned,
	                        .open = horizon_job_open(horizon, planned),
	                        .arena = arena};
	uint8_t *takes = arena_take(arena, (size_t)horizon->model.resource_count + 1, 1);
	mark_takes(&horizon->model.jobs[job], takes);
	starts_of_jobs(&starts, job, takes);
	starts_of_busy(&starts, takes);
	int64_t from = planned->span.from.s;
	if (starts.count > 1) {
		qsort_r(starts.items, starts.count, sizeof *starts.items, by_distance, &from);
	}
	size_t kept = 0;
	for (size_t i = 0; i < starts.count; i++) {
		if (kept == 0 || starts.items[i] != starts.items[kept - 1]) {
			starts.items[kept++] = starts.items[i];
		}
	}
	*out = starts.items;
	return kept;
}

static struct span span_at(const struct horizon *horizon, const struct horizon_job *job,
                           int64_t start)
{
	struct span span = job->span;
	span.from = (struct moment){.s = start};
	span.until = calendar_add(&horizon->request->limits->calendar, span.from,
	                          horizon_job_open(horizon, job));
	return span;
}

static void shift_add(struct cure_work *work, struct lacking *lacking, uint32_t job, int64_t start,
                      const struct trial *trial, size_t cured, const char *then)
{
	struct horizon *horizon = work->horizon;
	struct arena *arena = horizon->arena;
	const struct horizon_job *planned = planned_job(horizon, job);
	uint32_t option = trial->plan.option[job];
	struct ahead_cure *cure = cure_of(work, lacking, "shift", cured);
	int64_t by = start - planned->span.from.s;
	cure->job = planned->job.number;
	cure->from = (struct known_moment){.known = true, .value = {.s = start}};
	cure->earlier = by < 0;
	cure->by = (struct known_duration){.known = true, .value = {.s = cure->earlier ? -by : by}};
	/* Told where there is a choice of presses. */
	for (size_t i = 1; option != JOINT_NONE && i < planned->option_count; i++) {
		if (planned->options[i].press != planned->options[0].press) {
			cure->press = horizon->presses[planned->options[option].press].state.press.code;
		}
	}
	cure->text =
		arena_format(arena, "start %s %s %s, at %s%s%s: %s", cure->job,
	                 duration_text(cure->by.value).bytes, cure->earlier ? "earlier" : "later",
	                 moment_text(cure->from.value).bytes, cure->press != NULL ? ", on " : "",
	                 cure->press != NULL ? cure->press : "", then);
}

/* The nearest start, later or earlier, that cures. */
static void shift_job(struct cure_work *work, struct lacking *lacking, uint32_t job)
{
	struct horizon *horizon = work->horizon;
	const struct horizon_job *planned = planned_job(horizon, job);
	struct arena *arena = arena_new();
	int64_t *starts;
	size_t count = starts_find(work, job, arena, &starts);
	for (size_t i = 0; i < count && i < SHIFTS_TRIED && !time_is_over(work); i++) {
		struct trial trial;
		size_t cured;
		const char *then;
		trial_begin(horizon, work->arena, &trial);
		trial_move(&trial, job, span_at(horizon, planned, starts[i]));
		/* A shift that leaves it short of less is none: the other jobs would be in its way. */
		if (trial_cures(work, lacking, &trial, &cured, &then) && cured > 0) {
			shift_add(work, lacking, job, starts[i], &trial, cured, then);
			break;
		}
	}
	arena_free(arena);
}

void cures_by_shift(struct cure_work *work, struct lacking *lacking)
{
	const struct told_shortage *shortage = lacking->shortage;
	uint32_t shifted[JOBS_SHIFTED];
	size_t count = 0;
	/* Those not served first, then the others that compete. */
	for (int served = 0; served <= 1; served++) {
		for (uint32_t i = 0; i < shortage->row_count && count < JOBS_SHIFTED; i++) {
			uint32_t job = shortage->rows[i].job;
			bool known = is_served(&work->horizon->answer.plan, job) != (served == 1);
			for (size_t j = 0; j < count && !known; j++) {
				known = shifted[j] == job;
			}
			if (!known && !time_is_over(work)) {
				shifted[count++] = job;
				shift_job(work, lacking, job);
			}
		}
	}
}
