/*
 * Which promises still hold whole: every tool of them judged by the predicates of the check, none
 * at risk, the press free. Those jobs are served as they are; the others are planned like any.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

static bool texts_alike(const char *a, const char *b)
{
	return strcmp(a, b) == 0;
}

/* What others have of it, the job itself left out. */
static const struct promise *promises_of_others(struct arena *arena, const struct promise *promises,
                                                size_t count, const char *job, size_t *others)
{
	struct promise *kept = arena_take(arena, count, sizeof *kept);
	*others = 0;
	for (size_t i = 0; i < count; i++) {
		if (!texts_alike(promises[i].job, job)) {
			kept[(*others)++] = promises[i];
		}
	}
	return kept;
}

static enum suits there(const struct question *question, const struct tool *tool, bool carries,
                        struct remarks *remarks)
{
	struct tool asked = *tool;
	const char *job = question->job->number;
	asked.promises = promises_of_others(question->arena, tool->promises, tool->promise_count, job,
	                                    &asked.promise_count);
	asked.press_promises =
		promises_of_others(question->arena, tool->press_promises, tool->press_promise_count, job,
	                       &asked.press_promise_count);
	return tool_there(&asked, job, question->press->press.id, question->span, question->limits,
	                  carries, remarks);
}

static const struct promised_tool *promised_for(const struct kept_promise *promise,
                                                const char *need, int64_t number, bool cut)
{
	for (size_t i = 0; i < promise->tool_count; i++) {
		const struct promised_tool *tool = &promise->tools[i];
		if (texts_alike(tool->need, need) && (cut ? tool->cut : tool->station) == number) {
			return tool;
		}
	}
	return NULL;
}

/* The first remark that says no. */
static const char *broken_by(struct arena *arena, const struct tool *tool,
                             const struct remarks *remarks)
{
	for (size_t i = 0; i < remarks->count; i++) {
		if (remarks->items[i].level == SUITS_NOT) {
			return arena_format(arena, "%s %s", tag_shown(tool->tag).bytes, remarks->items[i].text);
		}
	}
	return arena_format(arena, "%s does not do", tag_shown(tool->tag).bytes);
}

static const char *nothing_promised(struct arena *arena, const char *words, int64_t number,
                                    bool cut)
{
	return arena_format(arena, "no %s is promised for %s %lld", words, cut ? "cut" : "station",
	                    (long long)number);
}

/* The resource that is promised for a need, where it is of that kind. */
static uint32_t promised_resource(const struct horizon *horizon, const struct kept_promise *promise,
                                  const char *need, int64_t number, bool cut, enum tool_kind kind)
{
	const struct promised_tool *promised = promised_for(promise, need, number, cut);
	uint32_t resource = promised != NULL ? resource_of_tool(horizon, promised->tool) : JOINT_NONE;
	size_t item;
	bool right = resource != JOINT_NONE && resource_kind(horizon, resource, &item) == kind;
	return right ? resource : JOINT_NONE;
}

struct promised_pair promised_row(const struct horizon *horizon, const struct question *question,
                                  const struct kept_promise *promise, enum joint_group group,
                                  size_t row)
{
	const struct group_rules *rules = rules_of_group(group);
	int64_t number = rules->row_number(question, row);
	bool cut = rules->rows_are_cuts;
	return (struct promised_pair){
		.item = promised_resource(horizon, promise, rules->item_need, number, cut,
	                              kind_of_group(group, false)),
		.companion = promised_resource(horizon, promise, rules->companion_need, number, cut,
	                                   kind_of_group(group, true)),
	};
}

/* Why a row's tool, or what goes with it, breaks the promise; NULL: it does not. */
static const char *row_broken(const struct horizon *horizon, const struct question *question,
                              const struct kept_promise *promise, enum joint_group group,
                              size_t row)
{
	const struct group_rules *rules = rules_of_group(group);
	struct arena *arena = horizon->arena;
	struct remarks remarks = {.count = 0};
	int64_t number = rules->row_number(question, row);
	bool cut = rules->rows_are_cuts;
	struct promised_pair pair = promised_row(horizon, question, promise, group, row);
	size_t item, companion;
	if (pair.item == JOINT_NONE) {
		return nothing_promised(arena, rules->item_words, number, cut);
	}
	resource_kind(horizon, pair.item, &item);
	const struct tool *tool = rules->item_tool(question, item);
	if (rules->item_suits(question, row, item, &remarks) == SUITS_NOT ||
	    there(question, tool, group == JOINT_CYLINDERS, &remarks) == SUITS_NOT) {
		return broken_by(arena, tool, &remarks);
	}
	if (!rules->needs_companion(question, item)) {
		return NULL;
	}
	if (pair.companion == JOINT_NONE) {
		return nothing_promised(arena, rules->companion_words, number, cut);
	}
	resource_kind(horizon, pair.companion, &companion);
	tool = rules->companion_tool(question, companion);
	if (rules->companion_suits(question, item, companion, &remarks) == SUITS_NOT ||
	    there(question, tool, false, &remarks) == SUITS_NOT) {
		return broken_by(arena, tool, &remarks);
	}
	return NULL;
}

static const char *job_broken(const struct question *question, struct arena *arena)
{
	struct finding_list findings = {.arena = question->arena};
	findings_of_job(question, question->layout.repeat.known, &findings);
	for (size_t i = 0; i < findings.count; i++) {
		if (findings.items[i].level == FINDING_SHORT) {
			return arena_copy(arena, findings.items[i].text);
		}
	}
	return NULL;
}

/* Why the promise does not hold whole, or NULL. */
static const char *promise_broken(const struct horizon *horizon, const struct horizon_job *job,
                                  size_t press)
{
	const struct kept_promise *promise = job->promise;
	struct candidate candidate = {.repeat = promise->repeat,
	                              .number_around = promise->number_around.known
	                                                   ? promise->number_around.value
	                                                   : 0};
	struct question question = horizon_question(horizon, job, press, candidate, horizon->scratch);
	question.span.from = promise->from;
	question.span.until = promise->until;
	const char *broken = job_broken(&question, horizon->arena);
	for (int group = JOINT_CYLINDERS; group <= JOINT_DIES && broken == NULL; group++) {
		size_t rows = rules_of_group((enum joint_group)group)->row_count(&question);
		for (size_t row = 0; row < rows && broken == NULL; row++) {
			broken = row_broken(horizon, &question, promise, (enum joint_group)group, row);
		}
	}
	return broken;
}

/* Does another job run on the press by then, or was it promised there before this one? */
static const char *press_broken(const struct horizon *horizon, const struct horizon_job *job,
                                size_t press)
{
	const struct horizon_press *at = &horizon->presses[press];
	struct span span = {.from = job->promise->from,
	                    .until = job->promise->until,
	                    .now = horizon->request->now};
	for (size_t i = 0; i < at->outside_count; i++) {
		const struct promise *promise = &at->outside[i];
		const struct horizon_job *other = horizon_job_find(horizon, promise->job);
		struct remarks remarks = {.count = 0};
		bool before = other == NULL || other->standing == JOB_RUNNING ||
		              (other->promise != NULL && other->promise->id < job->promise->id &&
		               other->broken == NULL);
		if (other != job && before &&
		    press_free(promise, 1, at->state.press.code, span, &remarks) == SUITS_NOT) {
			return arena_copy(horizon->arena, remarks.items[0].text);
		}
	}
	return NULL;
}

static enum outcome read_risks(struct horizon *horizon)
{
	struct risk *risks;
	size_t count;
	enum outcome outcome = store_risks(horizon->store, horizon->arena, horizon->request->now,
	                                   &risks, &count, horizon->fault);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		struct horizon_job *job = horizon_job_find(horizon, risks[i].job_number);
		if (job != NULL && job->broken == NULL) {
			job->broken = risks[i].tool == 0
			                  ? risks[i].text
			                  : arena_format(horizon->arena, "%s %s", tag_shown(risks[i].tag).bytes,
			                                 risks[i].text);
		}
	}
	return outcome;
}

static int promises_compare(const void *a, const void *b)
{
	const struct horizon_job *x = *(struct horizon_job *const *)a;
	const struct horizon_job *y = *(struct horizon_job *const *)b;
	return (x->promise->id > y->promise->id) - (x->promise->id < y->promise->id);
}

/* The jobs that have a promise and are to be planned, by when it was given. */
static struct horizon_job **jobs_promised(struct horizon *horizon, size_t *count)
{
	struct horizon_job **jobs =
		arena_take(horizon->arena, horizon->job_count, sizeof(struct horizon_job *));
	*count = 0;
	for (size_t i = 0; i < horizon->job_count; i++) {
		if (horizon->jobs[i].promise != NULL && horizon->jobs[i].standing == JOB_TO_PLAN) {
			jobs[(*count)++] = &horizon->jobs[i];
		}
	}
	if (*count > 1) {
		qsort(jobs, *count, sizeof(struct horizon_job *), promises_compare);
	}
	return jobs;
}

enum outcome horizon_keep(struct horizon *horizon)
{
	size_t count;
	struct horizon_job **jobs = jobs_promised(horizon, &count);
	enum outcome outcome = read_risks(horizon);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		struct horizon_job *job = jobs[i];
		size_t press;
		outcome = horizon_press_of(horizon, job->promise->press, &press);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		if (job->broken == NULL) {
			job->broken = promise_broken(horizon, job, press);
		}
		if (job->broken == NULL) {
			job->broken = press_broken(horizon, job, press);
		}
		if (job->broken == NULL && !horizon->request->rebook) {
			job->standing = JOB_KEPT;
			job->span.from = job->promise->from;
			job->span.until = job->promise->until;
		}
		horizon->promised = horizon->promised || job->standing == JOB_TO_PLAN;
		arena_reset(horizon->scratch);
	}
	return outcome;
}
