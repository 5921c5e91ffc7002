/* What all jobs together rest on: the jobs of the horizon, their presses, promises and runs. */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

/* ---------------------------------------------------------------- presses */

/* Numbers in which presses that are told apart by nothing of it are alike. */
static bool texts_equal(const char *a, const char *b)
{
	return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static bool lengths_equal(struct known_length a, struct known_length b)
{
	return a.known == b.known && (!a.known || length_compare(a.value, b.value) == 0);
}

static bool angles_equal(struct known_angle a, struct known_angle b)
{
	struct value x = {.type = VALUE_ANGLE, .known = true, .angle = a.value};
	struct value y = {.type = VALUE_ANGLE, .known = true, .angle = b.value};
	return a.known == b.known && (!a.known || value_equal(&x, &y));
}

/* Do two presses ask the same of every tool? */
static bool traits_equal(const struct press *a, const struct press *b)
{
	bool same = a->drive_known == b->drive_known && a->geared == b->geared &&
	            a->pitch_count == b->pitch_count && texts_equal(a->fit, b->fit) &&
	            lengths_equal(a->repeat_min, b->repeat_min) &&
	            lengths_equal(a->repeat_max, b->repeat_max) &&
	            angles_equal(a->pressure_angle, b->pressure_angle) &&
	            angles_equal(a->helix, b->helix);
	for (size_t i = 0; same && i < a->pitch_count; i++) {
		same = pitch_equal(a->pitches[i], b->pitches[i]);
	}
	return same;
}

enum outcome horizon_press_of(struct horizon *horizon, int64_t id, size_t *out)
{
	for (size_t i = 0; i < horizon->press_count; i++) {
		if (horizon->presses[i].state.press.id == id) {
			*out = i;
			return OUTCOME_DONE;
		}
	}
	struct arena *arena = horizon->arena;
	size_t count = horizon->press_count;
	horizon->presses =
		arena_grow(arena, horizon->presses, count, count + 1, sizeof *horizon->presses);
	struct horizon_press *press = &horizon->presses[count];
	struct promise *promises;
	enum outcome outcome =
		store_press_read(horizon->store, arena, id, &press->state, horizon->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_press_promises(horizon->store, arena, id, 0, &promises,
		                               &press->outside_count, horizon->fault);
		press->outside = promises;
	}
	press->traits = press->fit = (uint32_t)count;
	for (size_t i = count; i-- > 0;) {
		const struct horizon_press *other = &horizon->presses[i];
		if (traits_equal(&press->state.press, &other->state.press)) {
			press->traits = other->traits;
		}
		if (texts_equal(press->state.press.fit, other->state.press.fit)) {
			press->fit = other->fit;
		}
	}
	horizon->press_count++;
	*out = count;
	return outcome;
}

static enum outcome read_presses(struct horizon *horizon)
{
	enum outcome outcome = store_presses(horizon->store, horizon->arena, &horizon->presses_in_use,
	                                     &horizon->in_use_count, horizon->fault);
	for (size_t i = 0; i < horizon->in_use_count && outcome == OUTCOME_DONE; i++) {
		size_t press;
		outcome = horizon_press_of(horizon, horizon->presses_in_use[i], &press);
	}
	for (size_t i = 0; i < horizon->job_count && outcome == OUTCOME_DONE; i++) {
		const struct job *job = &horizon->jobs[i].job;
		for (size_t j = 0; j < job->press_count && outcome == OUTCOME_DONE; j++) {
			size_t press;
			outcome = horizon_press_of(horizon, job->presses[j], &press);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- jobs */

/* The stations that take a cylinder and a roll; the cuts, or the one kiss cut that is meant. */
static void take_rows(struct horizon *horizon, struct horizon_job *job)
{
	const struct job *record = &job->job;
	job->printing = arena_take(horizon->arena, record->station_count, sizeof *job->printing);
	for (size_t i = 0; i < record->station_count; i++) {
		const char *process = record->stations[i].process;
		if (strcmp(process, "flexo") == 0 || strcmp(process, "cold_foil") == 0) {
			job->printing[job->printing_count++] = record->stations[i];
		}
	}
	job->cuts = record->cuts;
	job->cut_count = record->cut_count;
	if (job->cut_count == 0) {
		job->cuts = arena_take(horizon->arena, 1, sizeof *job->cuts);
		job->cuts[0] = (struct cut){.number = 1, .kind = "kiss"};
		job->cut_count = 1;
	}
}

static enum outcome read_job(struct horizon *horizon, int64_t id)
{
	struct horizon_job *job = &horizon->jobs[horizon->job_count++];
	*job = (struct horizon_job){.modelled = JOINT_NONE};
	enum outcome outcome =
		store_job_read(horizon->store, horizon->arena, id, &job->job, horizon->fault);
	if (outcome == OUTCOME_DONE) {
		take_rows(horizon, job);
	}
	return outcome;
}

static int jobs_compare(const void *a, const void *b)
{
	const struct horizon_job *x = a, *y = b;
	bool timed = x->standing != JOB_WITHOUT_TIME;
	if (timed != (y->standing != JOB_WITHOUT_TIME)) {
		return timed ? -1 : 1;
	}
	int order = timed ? moment_compare(x->span.from, y->span.from) : 0;
	return order != 0 ? order : strcmp(x->job.number, y->job.number);
}

static int by_number_compare(const void *a, const void *b, void *jobs)
{
	const struct horizon_job *all = jobs;
	return strcmp(all[*(const size_t *)a].job.number, all[*(const size_t *)b].job.number);
}

static void jobs_sort(struct horizon *horizon)
{
	size_t count = horizon->job_count;
	if (count > 1) {
		qsort(horizon->jobs, count, sizeof *horizon->jobs, jobs_compare);
	}
	horizon->by_number = arena_take(horizon->arena, count, sizeof *horizon->by_number);
	for (size_t i = 0; i < count; i++) {
		horizon->by_number[i] = i;
	}
	if (count > 1) {
		qsort_r(horizon->by_number, count, sizeof *horizon->by_number, by_number_compare,
		        horizon->jobs);
	}
}

static enum outcome read_jobs(struct horizon *horizon)
{
	const struct ahead_request *request = horizon->request;
	struct job_ahead *planned;
	struct job_running *runs;
	size_t planned_count, run_count;
	enum outcome outcome =
		store_jobs_ahead(horizon->store, horizon->arena, request->from, request->until, &planned,
	                     &planned_count, horizon->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_runs(horizon->store, horizon->arena, &runs, &run_count, horizon->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	horizon->jobs = arena_take(horizon->arena, planned_count + run_count, sizeof *horizon->jobs);
	for (size_t i = 0; i < planned_count && outcome == OUTCOME_DONE; i++) {
		outcome = read_job(horizon, planned[i].id);
	}
	for (size_t i = 0; i < run_count && outcome == OUTCOME_DONE; i++) {
		outcome = read_job(horizon, runs[i].job);
		horizon->jobs[horizon->job_count - 1].run = &runs[i];
	}
	return outcome;
}

/* ---------------------------------------------------------------- their time */

struct question horizon_question(const struct horizon *horizon, const struct horizon_job *job,
                                 size_t press, struct candidate candidate, struct arena *arena)
{
	struct question question = {
		.arena = arena,
		.job = &job->job,
		.press = &horizon->presses[press].state,
		.limits = horizon->request->limits,
		.span = job->span,
		.layout = job->job.layout,
		.printing = job->printing,
		.printing_count = job->printing_count,
		.cuts = job->cuts,
		.cut_count = job->cut_count,
	};
	/* Nothing of the shelf is changed by what is asked of it. */
	union {
		const struct shelf *kept;
		struct shelf *asked;
	} shelf = {.kept = &horizon->shelf.tools};
	question.shelf = question.whole = shelf.asked;
	question.layout.repeat = candidate.repeat;
	question.layout.number_around = (struct known_count){.known = candidate.number_around > 0,
	                                                     .value = candidate.number_around};
	layout_complete(&question.layout, job->job.quantity, horizon->request->limits->overs);
	return question;
}

/* The longest that it takes on a press that it may run on, where that can be told by now. */
static struct known_duration duration_of(const struct horizon *horizon,
                                         const struct horizon_job *job)
{
	struct known_duration longest = {.known = false};
	struct layout layout = job->job.layout;
	layout_complete(&layout, job->job.quantity, horizon->request->limits->overs);
	bool own = job->job.press_count > 0;
	const int64_t *presses = own ? job->job.presses : horizon->presses_in_use;
	size_t count = own ? job->job.press_count : horizon->in_use_count;
	for (size_t i = 0; i < horizon->press_count; i++) {
		const struct press *press = &horizon->presses[i].state.press;
		for (size_t j = 0; j < count; j++) {
			struct known_duration here =
				presses[j] == press->id ? job_duration(&layout, press, horizon->request->limits)
										: (struct known_duration){.known = false};
			if (here.known && (!longest.known || here.value.s > longest.value.s)) {
				longest = here;
			}
		}
	}
	return longest;
}

static void take_until(const struct horizon *horizon, struct horizon_job *job)
{
	struct known_moment until = job->job.until;
	job->span.until = job->span.from;
	if (until.known && moment_compare(until.value, job->span.from) >= 0) {
		job->span.until = until.value;
		return;
	}
	struct known_duration duration = duration_of(horizon, job);
	if (duration.known) {
		job->span.until =
			calendar_add(&horizon->request->limits->calendar, job->span.from, duration.value);
		job->until_reckoned = true;
	}
}

/* When it is to run: its own time, else that of its promise. */
static void take_span(const struct horizon *horizon, struct horizon_job *job)
{
	struct moment now = horizon->request->now;
	job->span.now = now;
	job->standing = JOB_TO_PLAN;
	if (job->job.from.known) {
		job->span.from = job->job.from.value;
		take_until(horizon, job);
	} else if (job->run != NULL && job->run->started.known) {
		job->span.from = job->run->started.value;
		take_until(horizon, job);
	} else if (job->promise != NULL) {
		job->span.from = job->promise->from;
		job->span.until = job->promise->until;
	} else {
		job->standing = JOB_WITHOUT_TIME;
	}
	if (job->run != NULL) {
		job->standing = JOB_RUNNING;
	} else if (job->standing == JOB_TO_PLAN && moment_compare(job->span.until, now) < 0) {
		/* Of a new job nobody knows yet how long it takes. */
		job->standing = job->job.until.known || !job_is_new(&job->job) ? JOB_PASSED : JOB_TO_PLAN;
	}
}

static enum outcome read_promises(struct horizon *horizon)
{
	struct kept_promise *promises;
	size_t count;
	const struct moment ever = {.s = TIME_EVER}, never = {.s = TIME_NEVER};
	enum outcome outcome = store_promises_between(horizon->store, horizon->arena, ever, never,
	                                              &promises, &count, horizon->fault);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		struct horizon_job *job = horizon_job_find(horizon, promises[i].job_number);
		size_t press;
		if (job != NULL) {
			job->promise = &promises[i];
			outcome = horizon_press_of(horizon, promises[i].press, &press);
		}
	}
	return outcome;
}

enum outcome horizon_read(struct horizon *horizon)
{
	enum outcome outcome = read_jobs(horizon);
	jobs_sort(horizon);
	if (outcome == OUTCOME_DONE) {
		outcome = read_presses(horizon);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_promises(horizon);
	}
	for (size_t i = 0; i < horizon->job_count && outcome == OUTCOME_DONE; i++) {
		take_span(horizon, &horizon->jobs[i]);
	}
	if (outcome == OUTCOME_DONE) {
		jobs_sort(horizon);
		outcome = whole_shelf_load(horizon);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = horizon_keep(horizon);
	}
	if (outcome == OUTCOME_DONE) {
		whole_shelf_settle(horizon);
	}
	return outcome;
}
