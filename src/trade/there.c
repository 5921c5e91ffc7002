/*
 * Is a tool there? Rules 1 to 4 of the check: condition, place, promises to other jobs, plates
 * still mounted.
 */
#include "promise.h"
#include "remark.h"
#include "stored.h"

/* ---- rule 1: condition */

static const char *reason_or_blank(const struct tool *tool)
{
	return tool->condition_text ? tool->condition_text : "";
}

static enum suits condition_said(const struct tool *tool, const char *condition,
                                 struct remarks *remarks)
{
	const char *colon = tool->condition_text ? ": " : "";
	if (!tool->condition_since.known) {
		return REMARK(remarks, SUITS_NOT, "%s%s%s", condition, colon, reason_or_blank(tool));
	}
	return REMARK(remarks, SUITS_NOT, "%s since %s%s%s", condition,
	              moment_text(tool->condition_since.value).bytes, colon, reason_or_blank(tool));
}

enum suits tool_condition_suits(const struct tool *tool, struct remarks *remarks)
{
	switch (tool->condition) {
	case CONDITION_READY:
		return SUITS_YES;
	case CONDITION_HOLD:
		return condition_said(tool, "on hold", remarks);
	case CONDITION_SCRAPPED:
		return condition_said(tool, "scrapped", remarks);
	}
	return SUITS_NOT;
}

/* ---- rule 2: place */

static const char *press_name(const struct tool *tool)
{
	return tool->press_code ? tool->press_code : tool->place;
}

/* On another press it stays while a job there overlaps; the one that lasts longest is named. */
static enum suits rule_press(const struct tool *tool, int64_t press, struct span span,
                             struct remarks *remarks)
{
	const struct promise *last = NULL;
	if (tool->press != 0 && tool->press == press) {
		return SUITS_YES;
	}
	for (size_t i = 0; i < tool->press_promise_count; i++) {
		const struct promise *promise = &tool->press_promises[i];
		if (promise_overlaps(promise, span)) {
			last = promise_longer(last, promise);
		}
	}
	if (!last) {
		return SUITS_YES;
	}
	if (!last->until.known) {
		return REMARK(remarks, SUITS_NOT, "on press %s, where job %s runs, end not known",
		              press_name(tool), last->job);
	}
	return REMARK_UNTIL(remarks, SUITS_NOT, last->until, "on press %s, where job %s runs until %s",
	                    press_name(tool), last->job, moment_text(last->until.value).bytes);
}

/* Due back before now, and not there yet. */
static bool tool_is_overdue(const struct tool *tool, struct span span)
{
	return tool->place_known && tool->sort == SORT_SUPPLIER && tool->back.known &&
	       moment_compare(moment_of_day_end(tool->back.value), span.now) < 0;
}

static enum suits rule_supplier(const struct tool *tool, struct span span, struct remarks *remarks)
{
	if (!tool->back.known) {
		return REMARK(remarks, SUITS_NOT, "at supplier %s, no date back", tool->place);
	}
	/* What is overdue counts as there; the doubt is said by doubt_overdue. */
	struct known_moment back = {.known = true, .value = moment_of_day_end(tool->back.value)};
	if (tool_is_overdue(tool, span) || moment_compare(span.from, back.value) >= 0) {
		return SUITS_YES;
	}
	return REMARK_UNTIL(remarks, SUITS_NOT, back, "at supplier %s, back %s", tool->place,
	                    moment_text(tool->back.value).bytes);
}

static enum suits rule_place(const struct tool *tool, int64_t press, struct span span,
                             struct remarks *remarks)
{
	if (!tool->place_known) {
		return REMARK(remarks, SUITS_NOT, "place not known");
	}
	switch (tool->sort) {
	case SORT_STORE:
	case SORT_CART:
	case SORT_WASH:
		return SUITS_YES;
	case SORT_PRESS:
		return rule_press(tool, press, span, remarks);
	case SORT_SUPPLIER:
		return rule_supplier(tool, span, remarks);
	case SORT_LOST:
		return REMARK(remarks, SUITS_NOT, "lost");
	}
	return SUITS_NOT;
}

/* ---- rule 3: promises to other jobs */

static enum suits promise_said(const struct promise *promise, struct span span,
                               const struct limits *limits, struct remarks *remarks)
{
	if (!promise->until.known && promise->over != NULL) {
		return REMARK(remarks, SUITS_NOT, "still out for job %s, %s: put it where it is",
		              promise->job, promise->over);
	}
	if (!promise->until.known) {
		return REMARK(remarks, SUITS_NOT, "taken for job %s, end not known", promise->job);
	}
	struct known_moment free = {
		.known = true,
		.value = promise_free(promise->until.value, limits),
	};
	struct quantity_text until = moment_text(promise->until.value);
	struct quantity_text from = promise_from_words(promise, span);
	if (promise_overlaps(promise, span)) {
		return REMARK_UNTIL(remarks, SUITS_NOT, free, "taken for job %s%s until %s", promise->job,
		                    from.bytes, until.bytes);
	}
	return REMARK_UNTIL(remarks, SUITS_NOT, free, "taken for job %s%s until %s, turnaround %s",
	                    promise->job, from.bytes, until.bytes,
	                    duration_text(limits->turnaround).bytes);
}

/* Of several promises the one that lasts longest is named. */
static enum suits rule_promises(const struct tool *tool, struct span span,
                                const struct limits *limits, struct remarks *remarks)
{
	const struct promise *last = NULL;
	for (size_t i = 0; i < tool->promise_count; i++) {
		const struct promise *promise = &tool->promises[i];
		if (promise_too_near(promise, span, limits)) {
			last = promise_longer(last, promise);
		}
	}
	if (!last) {
		return SUITS_YES;
	}
	return remarks ? promise_said(last, span, limits, remarks) : SUITS_NOT;
}

/* ---- there, at caution */

static enum suits doubt_overdue(const struct tool *tool, struct span span, struct remarks *remarks)
{
	if (!tool_is_overdue(tool, span)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_DOUBTFUL, "at supplier %s, overdue since %s", tool->place,
	              moment_text(tool->back.value).bytes);
}

/* Rule 4: the plates of another job must come off first. */
static enum suits doubt_plates(const struct tool *tool, const char *job, struct remarks *remarks)
{
	if (!tool->carries || (job && text_equal_fold(tool->carries, job))) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_DOUBTFUL, "plates of job %s still mounted", tool->carries);
}

enum suits tool_there(const struct tool *tool, const char *job, int64_t press, struct span span,
                      const struct limits *limits, bool carries_counts, struct remarks *remarks)
{
	if (tool_condition_suits(tool, remarks) == SUITS_NOT ||
	    rule_place(tool, press, span, remarks) == SUITS_NOT ||
	    rule_promises(tool, span, limits, remarks) == SUITS_NOT) {
		return SUITS_NOT;
	}
	enum suits level = doubt_overdue(tool, span, remarks);
	if (carries_counts) {
		level = suits_worse(level, doubt_plates(tool, job, remarks));
	}
	return level;
}
