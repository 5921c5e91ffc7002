/* What is asked: which job, over what time, on which presses. */
#include "internal.h"

static enum outcome read_job(struct asking *asking, const char *name)
{
	struct found found;
	enum outcome outcome = store_find(asking->store, name, REFER_JOB, &found, asking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_job_read(asking->store, asking->arena, found.id, &asking->job, asking->fault);
	}
	return outcome;
}

/* The time given, else the job's own, else now; without an end, the beginning. */
static enum outcome take_span(struct asking *asking, const struct check_request *request)
{
	const struct job *job = &asking->job;
	struct span *span = &asking->span;
	span->now = request->now;
	span->from = request->from.known ? request->from.value
	             : job->from.known   ? job->from.value
	                                 : request->now;
	span->until = span->from;
	if (request->until.known) {
		span->until = request->until.value;
	} else if (job->until.known && moment_compare(job->until.value, span->from) >= 0) {
		span->until = job->until.value;
	}
	if (moment_compare(span->until, span->from) < 0) {
		fault_set(asking->fault, OUTCOME_BAD, "until lies before from: %s, %s",
		          moment_text(span->until).bytes, moment_text(span->from).bytes);
		if (!request->from.known) {
			fault_hint(asking->fault, "Type from= too: without it the job's own counts, else now.");
		}
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome presses_named(struct asking *asking, const struct check_request *request,
                                  int64_t **presses, size_t *count)
{
	enum outcome outcome = OUTCOME_DONE;
	*presses = arena_take(asking->arena, request->press_count, sizeof **presses);
	for (size_t i = 0; i < request->press_count && outcome == OUTCOME_DONE; i++) {
		struct found found;
		bool known = false;
		outcome =
			store_find(asking->store, request->presses[i], REFER_PRESSES, &found, asking->fault);
		for (size_t j = 0; j < *count; j++) {
			known = known || (*presses)[j] == found.id;
		}
		if (outcome == OUTCOME_DONE && !known) {
			(*presses)[(*count)++] = found.id;
		}
	}
	return outcome;
}

/* The job's own, else every one in use. */
static enum outcome presses_of_job(struct asking *asking, int64_t **presses, size_t *count)
{
	if (asking->job.press_count == 0) {
		return store_presses(asking->store, asking->arena, presses, count, asking->fault);
	}
	*presses = asking->job.presses;
	*count = asking->job.press_count;
	return OUTCOME_DONE;
}

enum outcome asking_open(struct store *store, struct arena *arena,
                         const struct check_request *request, struct asking *out, int64_t **presses,
                         size_t *press_count, struct fault *fault)
{
	*out =
		(struct asking){.store = store, .arena = arena, .fault = fault, .limits = request->limits};
	*presses = NULL;
	*press_count = 0;
	enum outcome outcome = read_job(out, request->job);
	if (outcome == OUTCOME_DONE) {
		outcome = take_span(out, request);
	}
	if (outcome == OUTCOME_DONE && request->press_count > 0) {
		return presses_named(out, request, presses, press_count);
	}
	return outcome == OUTCOME_DONE ? presses_of_job(out, presses, press_count) : outcome;
}

enum outcome asking_of_job(struct asking *asking, int64_t job, struct moment now, int64_t **presses,
                           size_t *press_count)
{
	const struct check_request request = {.now = now};
	*presses = NULL;
	*press_count = 0;
	enum outcome outcome =
		store_job_read(asking->store, asking->arena, job, &asking->job, asking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = take_span(asking, &request);
	}
	return outcome == OUTCOME_DONE ? presses_of_job(asking, presses, press_count) : outcome;
}
