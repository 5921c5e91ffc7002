/* `start` and `unbook`: what becomes of a job, and of what was promised to it. */
#include <string.h>

#include "turn.h"

static enum outcome read_job(struct turning *turning, const char *name)
{
	struct found found;
	enum outcome outcome = store_find(turning->store, name, REFER_JOB, &found, turning->fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_job_read(turning->store, turning->arena, found.id, &turning->job, turning->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_promise_of_job(turning->store, turning->arena, turning->job.id,
		                               &turning->promise, turning->fault);
	}
	return outcome == OUTCOME_DONE
	           ? store_run_of_job(turning->store, turning->arena, turning->job.id, &turning->run,
	                              turning->fault)
	           : outcome;
}

enum outcome job_turn(struct turning *turning, const char *where, const char *job,
                      enum outcome (*work)(struct turning *turning))
{
	enum outcome outcome = store_begin(turning->store, where, turning->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = read_job(turning, job);
	if (outcome == OUTCOME_DONE) {
		outcome = work(turning);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(turning->store, turning->fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(turning->store);
	}
	return outcome;
}

bool job_turning_is(const struct turning *turning, const char *state)
{
	return strcmp(turning->job.state, state) == 0;
}

/* `, on P1 since 2026-12-01T08:00`, as far as it is known. */
static const char *where_and_since(const struct turning *turning)
{
	const struct job_running *run = &turning->run;
	struct text text = text_start(turning->arena);
	if (run->job != 0 && run->press_code != NULL) {
		text_add_format(&text, ", on %s", run->press_code);
	}
	if (run->job != 0 && run->started.known) {
		text_add_format(&text, " since %s", moment_text(run->started.value).bytes);
	}
	return text.bytes;
}

static enum outcome refuse_running(const struct turning *turning, const char *already)
{
	fault_set(turning->fault, OUTCOME_NO, "job is running%s: %s%s", already, turning->job.number,
	          where_and_since(turning));
	fault_hint(turning->fault, "Type finish %s when it is done.", turning->job.number);
	return OUTCOME_NO;
}

/* ---------------------------------------------------------------- unbook */

static enum outcome unbook(struct turning *turning)
{
	const struct kept_promise *promise = &turning->promise;
	if (promise->id == 0) {
		fault_set(turning->fault, OUTCOME_NO, "job is not booked: %s", turning->job.number);
		if (job_turning_is(turning, "planned")) {
			fault_hint(turning->fault, "Type book %s to book it.", turning->job.number);
		}
		return OUTCOME_NO;
	}
	if (job_turning_is(turning, "running")) {
		return refuse_running(turning, "");
	}
	return store_promise_end(turning->store, turning->arena, turning->job.id,
	                         arena_format(turning->arena, "%s from %s until %s, %zu tool%s",
	                                      promise->press_code, moment_text(promise->from).bytes,
	                                      moment_text(promise->until).bytes, promise->tool_count,
	                                      promise->tool_count == 1 ? "" : "s"),
	                         turning->actor, turning->fault);
}

enum outcome plan_unbook(struct store *store, struct arena *arena, const char *job,
                         const struct actor *actor, struct kept_promise *out, struct fault *fault)
{
	struct turning turning = {.store = store, .arena = arena, .fault = fault, .actor = actor};
	enum outcome outcome = job_turn(&turning, "plan_unbook", job, unbook);
	*out = turning.promise;
	return outcome;
}

/* ---------------------------------------------------------------- start */

static enum outcome refuse_state(const struct turning *turning)
{
	const struct job *job = &turning->job;
	if (job_turning_is(turning, "running")) {
		return refuse_running(turning, " already");
	}
	if (job_turning_is(turning, "planned")) {
		return OUTCOME_DONE;
	}
	fault_set(turning->fault, OUTCOME_NO, "job is %s: %s", job->state, job->number);
	fault_hint(turning->fault, "Type edit %s state=planned first, if it is to run after all.",
	           job->number);
	return OUTCOME_NO;
}

static bool job_names(const struct job *job, int64_t press)
{
	for (size_t i = 0; i < job->press_count; i++) {
		if (job->presses[i] == press) {
			return true;
		}
	}
	return job->press_count == 0;
}

static const char *presses_said(struct turning *turning)
{
	struct text text = text_start(turning->arena);
	for (size_t i = 0; i < turning->job.press_count; i++) {
		struct press_state state;
		if (store_press_read(turning->store, turning->arena, turning->job.presses[i], &state,
		                     NULL) == OUTCOME_DONE) {
			text_join(&text, ",", state.press.code);
		}
	}
	return text.bytes;
}

/* The press that is given; it may not be another than the promised one. */
static enum outcome press_given(struct turning *turning, int64_t *press)
{
	struct found found;
	struct fault *fault = turning->fault;
	const struct kept_promise *promise = &turning->promise;
	const char *code = turning->press_asked;
	const char *number = turning->job.number;
	enum outcome outcome = store_find(turning->store, code, REFER_PRESSES, &found, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	*press = found.id;
	if (promise->id != 0 && promise->press != found.id) {
		fault_set(fault, OUTCOME_NO, "job is booked on press %s: %s, press=%s", promise->press_code,
		          number, code);
		fault_hint(fault, "Type start %s, or unbook %s and then book %s press=%s.", number, number,
		           number, code);
		return OUTCOME_NO;
	}
	if (promise->id == 0 && !job_names(&turning->job, found.id)) {
		fault_set(fault, OUTCOME_NO, "job is to run on %s: %s, press=%s", presses_said(turning),
		          number, code);
		fault_hint(fault, "Type edit %s press=%s first, if it is to run there.", number, code);
		return OUTCOME_NO;
	}
	return OUTCOME_DONE;
}

static enum outcome press_meant(struct turning *turning, int64_t *press)
{
	const struct job *job = &turning->job;
	if (turning->press_asked != NULL) {
		return press_given(turning, press);
	}
	if (turning->promise.id != 0) {
		*press = turning->promise.press;
		return OUTCOME_DONE;
	}
	if (job->press_count == 1) {
		*press = job->presses[0];
		return OUTCOME_DONE;
	}
	if (job->press_count == 0) {
		fault_set(turning->fault, OUTCOME_BAD, "press is not given, and the job names none: %s",
		          job->number);
	} else {
		fault_set(turning->fault, OUTCOME_BAD,
		          "press is not given, and the job names several: %s, %s", job->number,
		          presses_said(turning));
	}
	fault_hint(turning->fault, "Type start %s press=P1 with the press that it runs on.",
	           job->number);
	return OUTCOME_BAD;
}

/* It is in use, and nothing else runs there. */
static enum outcome refuse_press(struct turning *turning, int64_t press)
{
	struct press_state state;
	struct job_running run;
	enum outcome outcome =
		store_press_read(turning->store, turning->arena, press, &state, turning->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_run_on_press(turning->store, turning->arena, press, &run, turning->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	turning->out->press = state.press.code;
	if (state.retired) {
		fault_set(turning->fault, OUTCOME_NO, "press is retired: %s", state.press.code);
		fault_hint(turning->fault, "Type press= with one that is in use.");
		return OUTCOME_NO;
	}
	if (run.job != 0) {
		fault_set(turning->fault, OUTCOME_NO, "press %s runs job %s", state.press.code, run.number);
		fault_hint(turning->fault, "Type finish %s first.", run.number);
		return OUTCOME_NO;
	}
	return OUTCOME_DONE;
}

/* What has broken its promise by now: to be known, though it starts. */
static enum outcome tell_risks(struct turning *turning)
{
	struct risk *risks;
	size_t count;
	struct job_turned *out = turning->out;
	enum outcome outcome = store_risks(turning->store, turning->arena, turning->actor->now, &risks,
	                                   &count, turning->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->cautions = arena_take(turning->arena, count, sizeof *out->cautions);
	for (size_t i = 0; i < count; i++) {
		if (risks[i].job == turning->job.id) {
			out->cautions[out->caution_count++] =
				arena_format(turning->arena, "%s%s%s",
			                 risks[i].tool != 0 ? tag_shown(risks[i].tag).bytes : "",
			                 risks[i].tool != 0 ? " " : "", risks[i].text);
		}
	}
	return OUTCOME_DONE;
}

void job_turned_tell(struct turning *turning)
{
	struct job_turned *out = turning->out;
	out->job = turning->job.number;
	out->title = turning->job.title;
	out->until = turning->job.until;
	out->tool_count = turning->promise.tool_count;
}

static enum outcome start(struct turning *turning)
{
	int64_t press = 0;
	enum outcome outcome = refuse_state(turning);
	if (outcome == OUTCOME_DONE) {
		outcome = press_meant(turning, &press);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_press(turning, press);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = tell_risks(turning);
	}
	if (outcome == OUTCOME_DONE) {
		job_turned_tell(turning);
		outcome = store_job_start(turning->store, turning->arena, turning->job.id, press,
		                          turning->actor, turning->fault);
	}
	return outcome;
}

enum outcome plan_start(struct store *store, struct arena *arena, const char *job,
                        const char *press, const struct actor *actor, struct job_turned *out,
                        struct fault *fault)
{
	struct turning turning = {.store = store,
	                          .arena = arena,
	                          .fault = fault,
	                          .actor = actor,
	                          .press_asked = press,
	                          .out = out};
	*out = (struct job_turned){.job = NULL};
	return job_turn(&turning, "plan_start", job, start);
}
