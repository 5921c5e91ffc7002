/*
 * Values of every type: whatever is typed, the parser answers; and what a value is shown as, typed
 * again, is the same value. The first byte says the type, the second the heading's unit and
 * the place whose clocks count.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "toothrack/quantity.h"

#define TYPE_COUNT ((size_t)VALUE_NUMBER + 1)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char *const choices[] = {"flexo", "cold_foil", "hot_foil", "rotary_screen", NULL};

/* Clocks that change in spring and autumn, at midnight, and not at all. */
static const char *const zones[] = {
	"UTC0",
	"CET-1CEST,M3.5.0,M10.5.0/3",
	"<-03>3<-02>,M10.3.0/0,M2.3.0/0",
	"<+0545>-5:45",
};

static void must(bool holds, const char *what, const char *text)
{
	if (!holds) {
		fprintf(stderr, "%s: %s\n", what, text);
		abort();
	}
}

static void must_re_enter(struct arena *arena, const struct value *value, enum units units)
{
	struct value again;
	struct fault fault;
	fault_clear(&fault);
	const char *text = value_text(arena, value, units);
	enum outcome outcome =
		value_parse(arena, "value", value->type, choices, NULL, text, &again, &fault);
	must(outcome == OUTCOME_DONE, fault.sentence, text);
	must(value_equal(value, &again), "not the same value", text);
	must(strcmp(text, value_text(arena, &again, units)) == 0, "not the same text", text);
}

/* The heading's unit, or none. */
static const char *unit_chosen(enum value_type type, size_t choice)
{
	const char *const *units = value_heading_units(type);
	size_t count = 0;
	while (units[count] != NULL) {
		count++;
	}
	size_t index = choice % (count + 1);
	return index < count ? units[index] : NULL;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	if (size < 2) {
		return 0;
	}
	struct value value;
	struct fault fault;
	struct arena *arena = arena_new();
	enum value_type type = (enum value_type)(data[0] % TYPE_COUNT);
	const char *text = arena_copy_bytes(arena, (const char *)data + 2, size - 2);
	const char *unit = unit_chosen(type, data[1] / COUNT_OF(zones));
	setenv("TZ", zones[data[1] % COUNT_OF(zones)], 1);
	tzset();
	fault_clear(&fault);
	if (value_parse(arena, "value", type, choices, unit, text, &value, &fault) == OUTCOME_DONE) {
		must(fault.outcome == OUTCOME_DONE, "a fault where there is none", text);
		must_re_enter(arena, &value, UNITS_METRIC);
		must_re_enter(arena, &value, UNITS_INCH);
	} else {
		must(fault.sentence[0] != '\0', "no sentence", text);
		must(fault.hint[0] != '\0', "no hint", text);
	}
	arena_free(arena);
	return 0;
}
