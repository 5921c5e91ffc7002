/*
 * Shifts, closed days and weeks, each a line: whatever is typed, the parser answers; what it makes
 * is in order, and open time added to a moment lies behind it. The first byte says the place whose
 * clocks count.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "toothrack/quantity.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Clocks that never change, that change in spring and autumn, and at midnight. */
static const char *const zones[] = {
	"UTC0",
	"CET-1CEST,M3.5.0,M10.5.0/3",
	"<-03>3<-02>,M10.3.0/0,M2.3.0/0",
};

static void must(bool holds, const char *what, const char *text)
{
	if (!holds) {
		fprintf(stderr, "%s: %s\n", what, text);
		abort();
	}
}

/* Steps over a line; what lies behind the last is blank. */
static const char *next_line(struct arena *arena, const char **rest)
{
	size_t length = strcspn(*rest, "\n");
	const char *line = arena_copy_bytes(arena, *rest, length);
	*rest += length + ((*rest)[length] == '\n' ? 1 : 0);
	return line;
}

static bool answered(enum outcome outcome, const struct fault *fault, const char *text)
{
	must(outcome == OUTCOME_DONE || outcome == OUTCOME_BAD, "neither done nor bad", text);
	must((outcome == OUTCOME_BAD) == (fault->sentence[0] != '\0'), "a sentence too many or few",
	     text);
	must((outcome == OUTCOME_BAD) == (fault->hint[0] != '\0'), "a hint too many or few", text);
	return outcome == OUTCOME_DONE;
}

static void must_be_in_order(const struct calendar *calendar, const char *text)
{
	size_t shifts = 0;
	for (size_t day = 0; day < 7; day++) {
		const struct calendar_shift *shift = calendar->shifts[day];
		shifts += calendar->shift_count[day];
		must(calendar->shift_count[day] <= CALENDAR_SHIFTS_MOST, "too many shifts", text);
		for (size_t i = 0; i < calendar->shift_count[day]; i++) {
			must(shift[i].from >= 0 && shift[i].from < shift[i].until &&
			         shift[i].until <= shift[i].from + 1440,
			     "no shift", text);
			must(i == 0 || shift[i - 1].until < shift[i].from, "shifts touch", text);
		}
	}
	must(shifts > 0, "no open hour", text);
	for (size_t i = 1; i < calendar->closed_count; i++) {
		must(calendar->closed[i - 1].last + 1 < calendar->closed[i].first, "closed days touch",
		     text);
	}
}

/* A week's hours from a moment on, added and taken off again. */
static void must_come_back(const struct calendar *calendar, const char *text)
{
	struct moment moment = {.s = 1796112000}; /* 2026-12-01T08:00:00Z */
	struct duration open =
		calendar_between(calendar, moment, (struct moment){.s = 1796112000 + 604800});
	struct moment later = calendar_add(calendar, moment, open);
	struct moment back = calendar_subtract(calendar, later, open);
	must(later.s <= moment.s + 604800, "not within the week", text);
	must(calendar_between(calendar, moment, later).s == open.s, "not so much", text);
	must(open.s == 0 || back.s == calendar_open_from(calendar, moment).s, "not back", text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct fault fault;
	struct moment moment;
	struct calendar calendar = {.limited = false};
	if (size < 1) {
		return 0;
	}
	struct arena *arena = arena_new();
	const char *rest = arena_copy_bytes(arena, (const char *)data + 1, size - 1);
	const char *shifts = next_line(arena, &rest);
	const char *closed = next_line(arena, &rest);
	const char *week = next_line(arena, &rest);
	setenv("TZ", zones[data[0] % COUNT_OF(zones)], 1);
	tzset();
	fault_clear(&fault);
	bool any = answered(calendar_shifts_parse(shifts, &calendar, &fault), &fault, shifts);
	fault_clear(&fault);
	any = answered(calendar_closed_parse(closed, &calendar, &fault), &fault, closed) || any;
	if (any) {
		must_be_in_order(&calendar, shifts);
		must_come_back(&calendar, shifts);
	}
	fault_clear(&fault);
	if (answered(week_parse(week, &moment, &fault), &fault, week)) {
		must(moment_week_start(moment).s == moment.s, "no Monday", week);
	}
	arena_free(arena);
	return 0;
}
