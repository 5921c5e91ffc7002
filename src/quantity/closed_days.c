/* A shop's closed days, as they are typed: `2026-12-24..2027-01-01, 2027-05-01`. */
#include <string.h>

#include "calendar_parts.h"
#include "clock.h"
#include "parsers.h"

/*
 * A year mistyped would close the shop for as long as a calendar goes. Common practice, no source.
 */
#define CLOSED_DAYS_MOST 366
#define CLOSED_SPELLING "closed days such as 2026-12-24..2027-01-01,2027-05-01, or none"

/* One day, without a time; `whole` is the part it stands in. */
static enum outcome day_read(struct typed typed, struct typed whole, int32_t *out,
                             struct fault *fault)
{
	char text[sizeof "2026-12-01T14:30:15+01:00"];
	struct moment moment = {.date = false};
	if (typed.length == 0 || (size_t)typed.length >= sizeof text || !is_digit(typed.start[0])) {
		fault_set(fault, OUTCOME_BAD, "closed day is no date: %.*s", TYPED(whole));
		fault_hint(fault, "Type %s.", CLOSED_SPELLING);
		return OUTCOME_BAD;
	}
	memcpy(text, typed.start, (size_t)typed.length);
	text[typed.length] = '\0';
	enum outcome outcome = moment_read("closed day", text, &moment, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (!moment.date) {
		fault_set(fault, OUTCOME_BAD, "closed day has a time of day: %s", text);
		fault_hint(fault, "Type the day alone, such as 2026-12-24.");
		return OUTCOME_BAD;
	}
	*out = (int32_t)clock_day(moment.s);
	return OUTCOME_DONE;
}

/* `2027-05-01`, or `2026-12-24..2027-01-01`. */
static enum outcome span_read(struct typed part, struct calendar_closed *out, struct fault *fault)
{
	int length = 0;
	while (length < part.length && strncmp(part.start + length, "..", 2) != 0) {
		length++;
	}
	struct typed first = typed_trim_bytes(part.start, (size_t)length);
	struct typed last = first;
	if (length + 2 <= part.length) {
		last = typed_trim_bytes(part.start + length + 2, (size_t)(part.length - length - 2));
	}
	enum outcome outcome = day_read(first, part, &out->first, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = day_read(last, part, &out->last, fault);
	}
	if (outcome == OUTCOME_DONE && out->last < out->first) {
		fault_set(fault, OUTCOME_BAD, "closed days end before they begin: %.*s", TYPED(part));
		fault_hint(fault, "Type the earlier day first, then two points, then the later.");
		return OUTCOME_BAD;
	}
	return outcome;
}

/* Puts a span among the others, in order; what overlaps or touches it becomes part of it. */
static enum outcome span_add(struct calendar *calendar, struct calendar_closed span,
                             struct typed part, struct fault *fault)
{
	struct calendar_closed *closed = calendar->closed;
	size_t from = 0;
	while (from < calendar->closed_count && closed[from].last < span.first - 1) {
		from++;
	}
	size_t behind = from;
	for (; behind < calendar->closed_count && closed[behind].first <= span.last + 1; behind++) {
		span.first = closed[behind].first < span.first ? closed[behind].first : span.first;
		span.last = closed[behind].last > span.last ? closed[behind].last : span.last;
	}
	if (span.last - span.first >= CLOSED_DAYS_MOST) {
		fault_set(fault, OUTCOME_BAD, "closed days leave no open hour for more than a year: %.*s",
		          TYPED(part));
		fault_hint(fault, "Type at most %d closed days in a row.", CLOSED_DAYS_MOST);
		return OUTCOME_BAD;
	}
	if (from == behind && calendar->closed_count == CALENDAR_CLOSED_MOST) {
		fault_set(fault, OUTCOME_BAD, "closed days are more than %d spans: %.*s",
		          CALENDAR_CLOSED_MOST, TYPED(part));
		fault_hint(fault, "Type them without those that are past.");
		return OUTCOME_BAD;
	}
	memmove(&closed[from + 1], &closed[behind], (calendar->closed_count - behind) * sizeof *closed);
	closed[from] = span;
	calendar->closed_count = calendar->closed_count + 1 - (behind - from);
	return OUTCOME_DONE;
}

enum outcome calendar_closed_parse(const char *text, struct calendar *out, struct fault *fault)
{
	struct typed typed = typed_trim(text);
	struct typed rest = typed;
	struct typed part;
	struct calendar made = *out;
	bool shifts = false;
	if (typed.length == 0) {
		return number_blank_refuse("closed", CLOSED_SPELLING, fault);
	}
	if (typed_equal_fold(typed, "none")) {
		rest.length = 0;
	}
	made.closed_count = 0;
	while (value_list_next(&rest, &part)) {
		struct calendar_closed span;
		enum outcome outcome = span_read(part, &span, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = span_add(&made, span, part, fault);
		}
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
	}
	for (size_t day = 0; day < 7; day++) {
		shifts = shifts || made.shift_count[day] > 0;
	}
	if (!shifts) {
		calendar_whole_week(&made);
	}
	calendar_settle(&made);
	*out = made;
	return OUTCOME_DONE;
}
