/* Volumes of cells: whole 1e-6 cm3/m2; and three of them across a face. */
#include <stdio.h>
#include <string.h>

#include "measure.h"
#include "parsers.h"

enum outcome volume_parse(const char *text, struct volume *out, struct fault *fault)
{
	return measure_parse(&volume_measure, volume_measure.what, NULL, text, &out->micro, fault);
}

static const char *volume_unit(enum units units)
{
	return units == UNITS_INCH ? "bcm" : "cm3/m2";
}

struct quantity_text volume_text(struct volume volume, enum units units)
{
	return measure_text(&volume_measure, volume_unit(units), volume.micro);
}

struct volume volume_from_micro(int64_t micro)
{
	return (struct volume){micro};
}

int64_t volume_to_micro(struct volume volume)
{
	return volume.micro;
}

double volume_to_cm3_m2(struct volume volume)
{
	return (double)((long double)volume.micro / 1e6L);
}

double volume_to_bcm(struct volume volume)
{
	return (double)((long double)volume.micro / 1550003.1L);
}

/*
 * The longest unit that the text begins with; units have a stroke too, as the three volumes have
 * between them.
 */
static const struct unit *unit_at(const char *text, size_t room, size_t *length)
{
	const struct unit *found = NULL;
	*length = 0;
	for (const struct unit *unit = volume_measure.units; unit->name != NULL; unit++) {
		size_t count = strlen(unit->name);
		struct typed start = {.start = text, .length = (int)count};
		if (count <= room && count > *length && typed_equal_fold(start, unit->name)) {
			found = unit;
			*length = count;
		}
	}
	return found;
}

/* One of the three as it was typed. */
struct part {
	struct number number;
	const struct unit *unit; /* NULL: without one */
};

static const char *over_blanks(const char *c, const char *end)
{
	while (c < end && is_blank(*c)) {
		c++;
	}
	return c;
}

/* Takes the three apart. False where they are not three, or something else stands there. */
static bool parts_scan(struct typed typed, struct part parts[3], enum number_reading *reading)
{
	const char *c = typed.start;
	const char *end = typed.start + typed.length;
	*reading = NUMBER_READ;
	for (int i = 0; i < 3; i++) {
		size_t unit_length = 0;
		if (i > 0 && (c == end || *c++ != '/')) {
			return false;
		}
		c = over_blanks(c, end);
		*reading = decimal_scan(c, &parts[i].number);
		if (*reading != NUMBER_READ) {
			return false;
		}
		c = over_blanks(parts[i].number.end, end);
		parts[i].unit = unit_at(c, (size_t)(end - c), &unit_length);
		c = over_blanks(c + unit_length, end);
	}
	return c == end;
}

/*
 * A unit each, or one behind the last for all, or none where one is assumed. False: some have
 * one.
 */
static bool units_settle(struct part parts[3], const struct unit *assumed)
{
	int with = 0;
	for (int i = 0; i < 3; i++) {
		with += parts[i].unit != NULL ? 1 : 0;
	}
	if (with == 3) {
		return true;
	}
	bool last_only = with == 1 && parts[2].unit != NULL;
	const struct unit *unit = with == 0 ? assumed : parts[2].unit;
	if (unit == NULL || !(last_only || with == 0)) {
		return false;
	}
	for (int i = 0; i < 3; i++) {
		parts[i].unit = unit;
	}
	return true;
}

static enum outcome refuse_parts(enum number_reading reading, const char *what, struct typed typed,
                                 struct fault *fault)
{
	if (reading == NUMBER_SEPARATOR) {
		fault_set(fault, OUTCOME_BAD, "%s with a separator inside its number: %.*s", what,
		          TYPED(typed));
		fault_hint(fault, "Type %s: decimals take a point, thousands take nothing.",
		           ACROSS_SPELLING);
		return OUTCOME_BAD;
	}
	if (reading != NUMBER_READ && reading != NUMBER_NONE) {
		return number_refuse(reading, what, typed, ACROSS_SPELLING, fault);
	}
	fault_set(fault, OUTCOME_BAD, "%s is not three volumes: %.*s", what, TYPED(typed));
	fault_hint(fault, "Type left, centre and right: %s.", ACROSS_SPELLING);
	return OUTCOME_BAD;
}

static enum outcome refuse_units(const struct part parts[3], const char *what, struct typed typed,
                                 struct fault *fault)
{
	bool none = parts[0].unit == NULL && parts[1].unit == NULL && parts[2].unit == NULL;
	fault_set(fault, OUTCOME_BAD, "%s %s: %.*s", what,
	          none ? "without a unit" : "with a unit on some of the three", TYPED(typed));
	fault_hint(fault, "Type one unit behind all three, or one behind each: %s.", ACROSS_SPELLING);
	return OUTCOME_BAD;
}

enum outcome across_read(const char *what, const char *unit, const char *text, struct across *out,
                         struct fault *fault)
{
	struct part parts[3];
	int64_t micro[3];
	enum number_reading reading = NUMBER_READ;
	struct typed typed = typed_trim(text);
	if (typed.length == 0) {
		return number_blank_refuse(what, ACROSS_SPELLING, fault);
	}
	if (!parts_scan(typed, parts, &reading)) {
		return refuse_parts(reading, what, typed, fault);
	}
	if (!units_settle(parts, unit_of_heading(&volume_measure, unit))) {
		return refuse_units(parts, what, typed, fault);
	}
	for (int i = 0; i < 3; i++) {
		struct ratio ratio = {0, 1};
		if (measure_scale(&volume_measure, what, typed, &parts[i].number, parts[i].unit, &ratio,
		                  fault) != OUTCOME_DONE ||
		    measure_whole(&volume_measure, what, typed, ratio, parts[i].unit, &micro[i], fault) !=
		        OUTCOME_DONE) {
			return OUTCOME_BAD;
		}
	}
	*out = (struct across){{micro[0]}, {micro[1]}, {micro[2]}};
	return OUTCOME_DONE;
}

enum outcome across_parse(const char *text, struct across *out, struct fault *fault)
{
	return across_read("across", NULL, text, out, fault);
}

struct quantity_text across_text(struct across across, enum units units)
{
	struct quantity_text text;
	const char *name = volume_unit(units);
	const struct unit *unit = unit_named(&volume_measure, name);
	struct quantity_text left = measure_decimal(unit, across.left.micro);
	struct quantity_text centre = measure_decimal(unit, across.centre.micro);
	struct quantity_text right = measure_decimal(unit, across.right.micro);
	/* 17 characters hold the most that is read, with six or seven decimals. */
	snprintf(text.bytes, sizeof text.bytes, "%.17s/%.17s/%.17s%s", left.bytes, centre.bytes,
	         right.bytes, name);
	return text;
}

struct volume across_mean(struct across across)
{
	int64_t sum = across.left.micro + across.centre.micro + across.right.micro;
	return (struct volume){.micro = (2 * sum + 3) / 6};
}
