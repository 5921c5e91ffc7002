/* Reading, refusing and writing a number with its unit. */
#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "measure.h"

const struct unit *unit_of_heading(const struct measure *measure, const char *heading)
{
	for (const struct unit *unit = measure->units; heading != NULL && unit->name != NULL; unit++) {
		if (unit->heading != NULL && strcmp(unit->heading, heading) == 0) {
			return unit;
		}
	}
	return NULL;
}

static const struct unit *unit_typed(const struct measure *measure, struct typed name)
{
	for (const struct unit *unit = measure->units; unit->name != NULL; unit++) {
		if (typed_equal_fold(name, unit->name)) {
			return unit;
		}
	}
	return NULL;
}

const struct unit *unit_named(const struct measure *measure, const char *name)
{
	const struct unit *unit = unit_typed(measure, typed_trim(name));
	assert(unit != NULL);
	return unit;
}

static enum outcome refuse_bare(const struct measure *measure, const char *what, struct typed typed,
                                struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s without a unit: %.*s", what, TYPED(typed));
	if (measure->suggested[1] == NULL) {
		fault_hint(fault, "Type %.*s%s.", TYPED(typed), measure->suggested[0]);
	} else {
		fault_hint(fault, "Type %.*s%s or %.*s%s.", TYPED(typed), measure->suggested[0],
		           TYPED(typed), measure->suggested[1]);
	}
	return OUTCOME_BAD;
}

/* Is the text behind a number a unit, and then another number: `5ft 3in`? */
static bool two_values(const struct measure *measure, struct typed behind)
{
	for (int i = 1; i < behind.length; i++) {
		struct typed rest = typed_trim_bytes(behind.start + i, (size_t)(behind.length - i));
		bool value = rest.length > 0 && (is_digit(*rest.start) || *rest.start == '-') &&
		             !is_digit(rest.start[rest.length - 1]);
		if (value && unit_typed(measure, typed_trim_bytes(behind.start, (size_t)i)) != NULL) {
			return true;
		}
	}
	return false;
}

static enum outcome refuse_unit(const struct measure *measure, const char *what, struct typed typed,
                                struct typed behind, struct fault *fault)
{
	int before = (int)(behind.start - typed.start);
	bool inches = unit_typed(measure, typed_trim("in")) != NULL;
	if (two_values(measure, behind)) {
		fault_set(fault, OUTCOME_BAD, "%s with two units: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type it in one unit, %s.", measure->spelling);
		return OUTCOME_BAD;
	}
	fault_set(fault, OUTCOME_BAD, "unit of %s not known: %.*s", what, TYPED(typed));
	if (inches && typed_equal_fold(behind, "\"")) {
		fault_hint(fault, "Type %.*sin.", before, typed.start);
	} else if (inches && typed_equal_fold(behind, "'")) {
		fault_hint(fault, "Type %.*sft.", before, typed.start);
	} else {
		fault_hint(fault, "Type the number and then %s.", measure->unit_names);
	}
	return OUTCOME_BAD;
}

enum outcome measure_refuse_large(const struct measure *measure, const char *what,
                                  struct typed typed, const struct unit *unit, struct fault *fault)
{
	char most[64];
	snprintf(most, sizeof most, "%s%s", measure_decimal(unit, measure->most).bytes, unit->name);
	fault_set(fault, OUTCOME_BAD, "%s too large: %.*s", what, TYPED(typed));
	if (measure->negative) {
		fault_hint(fault, "Type a value between -%s and %s.", most, most);
	} else {
		fault_hint(fault, "Type at most %s.", most);
	}
	return OUTCOME_BAD;
}

enum outcome measure_scale(const struct measure *measure, const char *what, struct typed typed,
                           const struct number *number, const struct unit *unit, struct ratio *out,
                           struct fault *fault)
{
	if (number->negative && !measure->negative) {
		fault_set(fault, OUTCOME_BAD, "%s is less than nothing: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %s.", measure->spelling);
		return OUTCOME_BAD;
	}
	/*
	 * With at most 18 digits in the denominator, what 128 bits do not hold no int64 holds either.
	 */
	if (number->too_large || !ratio_times(number->value, unit->stored, unit->per, out)) {
		return measure_refuse_large(measure, what, typed, unit, fault);
	}
	return OUTCOME_DONE;
}

enum outcome measure_whole(const struct measure *measure, const char *what, struct typed typed,
                           struct ratio ratio, const struct unit *unit, int64_t *out,
                           struct fault *fault)
{
	wide number = ratio_round(ratio);
	if (number > measure->most || number < -(wide)measure->most) {
		return measure_refuse_large(measure, what, typed, unit, fault);
	}
	*out = (int64_t)number;
	return OUTCOME_DONE;
}

enum outcome measure_read(const struct measure *measure, const char *what,
                          const struct unit *assumed, const char *text, struct ratio *out,
                          const struct unit **unit, struct fault *fault)
{
	struct number number = {.value.denominator = 1};
	struct typed typed = typed_trim(text);
	if (typed.length == 0) {
		return number_blank_refuse(what, measure->spelling, fault);
	}
	enum number_reading reading = number_scan(typed.start, &number);
	if (reading != NUMBER_READ) {
		return number_refuse(reading, what, typed, measure->spelling, fault);
	}
	size_t rest = (size_t)(typed.start + typed.length - number.end);
	struct typed behind = typed_trim_bytes(number.end, rest);
	*unit = behind.length == 0 ? assumed : unit_typed(measure, behind);
	if (*unit == NULL) {
		return behind.length == 0 ? refuse_bare(measure, what, typed, fault)
		                          : refuse_unit(measure, what, typed, behind, fault);
	}
	return measure_scale(measure, what, typed, &number, *unit, out, fault);
}

enum outcome measure_parse(const struct measure *measure, const char *what,
                           const struct unit *assumed, const char *text, int64_t *out,
                           struct fault *fault)
{
	struct ratio ratio = {0, 1};
	const struct unit *unit = measure->units;
	enum outcome outcome = measure_read(measure, what, assumed, text, &ratio, &unit, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return measure_whole(measure, what, typed_trim(text), ratio, unit, out, fault);
}

struct quantity_text measure_decimal(const struct unit *unit, int64_t number)
{
	struct quantity_text text;
	wide scale = 1;
	/* Where a step of the decimal is no longer than a step of the store, it has been found. */
	for (int decimals = 0;; decimals++, scale *= 10) {
		wide shown = ratio_round((struct ratio){(wide)number * unit->per * scale, unit->stored});
		wide again = ratio_round((struct ratio){shown * unit->stored, unit->per * scale});
		if (again == number) {
			decimal_write(text.bytes, sizeof text.bytes, shown, decimals);
			return text;
		}
	}
}

struct quantity_text measure_text(const struct measure *measure, const char *unit_name,
                                  int64_t number)
{
	struct quantity_text text = measure_decimal(unit_named(measure, unit_name), number);
	size_t used = strlen(text.bytes);
	snprintf(text.bytes + used, sizeof text.bytes - used, "%s", unit_name);
	return text;
}
