/* What is promised, as `show` tells it: to a job, or of a tool to which jobs. */
#include <string.h>

#include "show.h"

/* Every risk of the job as a caution: `at risk: anilox at station 3: AN000045-3 on hold since ...`.
 */
static void tell_risk(struct telling *telling, const struct risk *risk)
{
	struct text text = text_start(telling->arena);
	int64_t number = risk->cut != 0 ? risk->cut : risk->station;
	text_add_format(&text, "at risk: %s", risk->need);
	if (number != 0) {
		text_add_format(&text, " at %s %lld", risk->cut != 0 ? "cut" : "station",
		                (long long)number);
	}
	text_add(&text, ": ");
	if (risk->tool != 0) {
		text_add_format(&text, "%s ", tag_shown(risk->tag).bytes);
	}
	text_add(&text, risk->text);
	tell_caution(telling, text.bytes);
}

static enum outcome tell_risks(struct telling *telling, int64_t job, struct fault *fault)
{
	struct risk *risks;
	size_t count;
	struct shown *out = telling->out;
	enum outcome outcome =
		store_risks(telling->store, telling->arena, telling->now, &risks, &count, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	for (size_t i = 0; i < count; i++) {
		if (risks[i].job == job) {
			tell_risk(telling, &risks[i]);
			out->at_risk = true;
		}
	}
	return OUTCOME_DONE;
}

enum outcome tell_promise(struct telling *telling, int64_t job, struct fault *fault)
{
	struct shown *out = telling->out;
	out->promises = arena_take(telling->arena, 1, sizeof *out->promises);
	enum outcome outcome =
		store_promise_of_job(telling->store, telling->arena, job, &out->promises[0], fault);
	out->promise_count = outcome == OUTCOME_DONE && out->promises[0].id != 0 ? 1 : 0;
	return out->promise_count > 0 ? tell_risks(telling, job, fault) : outcome;
}

static bool has_tool(const struct kept_promise *promise, int64_t tool)
{
	for (size_t i = 0; i < promise->tool_count; i++) {
		if (promise->tools[i].tool == tool) {
			return true;
		}
	}
	return false;
}

static bool is_told(const struct shown *shown, int64_t promise)
{
	for (size_t i = 0; i < shown->promise_count; i++) {
		if (shown->promises[i].id == promise) {
			return true;
		}
	}
	return false;
}

/* In the order of their start. */
static void add_promise(struct shown *out, const struct kept_promise *promise)
{
	size_t at = out->promise_count++;
	while (at > 0 && moment_compare(promise->from, out->promises[at - 1].from) < 0) {
		out->promises[at] = out->promises[at - 1];
		at--;
	}
	out->promises[at] = *promise;
}

enum outcome tell_bookings(struct telling *telling, const struct tool *tool, struct fault *fault)
{
	struct shown *out = telling->out;
	enum outcome outcome = OUTCOME_DONE;
	out->promises = arena_take(telling->arena, tool->promise_count, sizeof *out->promises);
	for (size_t i = 0; i < tool->promise_count && outcome == OUTCOME_DONE; i++) {
		struct found found;
		struct kept_promise promise;
		outcome = store_find_plain(telling->store, tool->promises[i].job, REFER_JOB, &found, fault);
		if (outcome == OUTCOME_DONE) {
			outcome =
				store_promise_of_job(telling->store, telling->arena, found.id, &promise, fault);
		}
		/* Else it is only out for that job, which its whereabouts say. */
		if (outcome == OUTCOME_DONE && promise.id != 0 && has_tool(&promise, tool->id) &&
		    !is_told(out, promise.id)) {
			add_promise(out, &promise);
		}
	}
	return outcome;
}
