/* How pitches are read and written: `1/8cp` `5mmcp` `10dp` `m1.5`. */
#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "parsers.h"

/* Numerator and denominator at most: a billion teeth of it still compare exactly in 128 bits. */
#define PITCH_PART_MOST 1000000000000

/* Decimals that are shown; what needs more is shown as a fraction. */
#define DECIMALS_SHOWN 6

/* The system that a word behind the number names. */
static bool system_named(struct typed name, enum pitch_system *out)
{
	static const struct {
		const char *name;
		enum pitch_system system;
	} systems[] = {
		{"cp", PITCH_CP_INCH},
		{"mmcp", PITCH_CP_MM},
		{"dp", PITCH_DIAMETRAL},
	};
	for (size_t i = 0; i < COUNT_OF(systems); i++) {
		if (typed_equal_fold(name, systems[i].name)) {
			*out = systems[i].system;
			return true;
		}
	}
	return false;
}

/* The number is well; what stands behind it names no system. */
static enum outcome refuse_behind(const char *what, struct typed typed, struct typed number,
                                  struct typed behind, struct fault *fault)
{
	if (behind.length == 0) {
		fault_set(fault, OUTCOME_BAD, "%s without a unit: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %.*scp, %.*smmcp, %.*sdp or m%.*s.", TYPED(number), TYPED(number),
		           TYPED(number), TYPED(number));
	} else if (typed_equal_fold(behind, "mm")) {
		fault_set(fault, OUTCOME_BAD, "%s is ambiguous: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %.*smmcp for a circular pitch or m%.*s for a module.",
		           TYPED(number), TYPED(number));
	} else if (typed_equal_fold(behind, "in") || typed_equal_fold(behind, "\"")) {
		fault_set(fault, OUTCOME_BAD, "%s is ambiguous: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %.*scp for a circular pitch in inches.", TYPED(number));
	} else if (typed_equal_fold(behind, "m")) {
		fault_set(fault, OUTCOME_BAD, "unit of %s not known: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type m%.*s for a module.", TYPED(number));
	} else {
		bool several = memchr(behind.start, ' ', (size_t)behind.length) != NULL;
		fault_set(fault, OUTCOME_BAD, "unit of %s not known: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %s%s.", PITCH_SPELLING,
		           several ? ", with a comma between several" : "");
	}
	return OUTCOME_BAD;
}

static enum outcome pitch_settle(const char *what, struct typed typed, const struct number *number,
                                 enum pitch_system system, struct pitch *out, struct fault *fault)
{
	if (number->negative || (!number->too_large && number->value.numerator == 0)) {
		fault_set(fault, OUTCOME_BAD, "%s is not more than nothing: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %s.", PITCH_SPELLING);
		return OUTCOME_BAD;
	}
	struct ratio ratio = ratio_reduce(number->value);
	if (number->too_large || ratio.numerator > PITCH_PART_MOST ||
	    ratio.denominator > PITCH_PART_MOST) {
		fault_set(fault, OUTCOME_BAD, "%s with too many digits: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %s, as a fraction of numbers up to 1000000000000.", PITCH_SPELLING);
		return OUTCOME_BAD;
	}
	*out = (struct pitch){
		.system = system,
		.numerator = (int64_t)ratio.numerator,
		.denominator = (int64_t)ratio.denominator,
	};
	return OUTCOME_DONE;
}

enum outcome pitch_read(const char *what, const char *unit, struct typed typed, struct pitch *out,
                        struct fault *fault)
{
	struct number number = {.value.denominator = 1};
	const char *start = typed.start;
	if (typed.length == 0) {
		return number_blank_refuse(what, PITCH_SPELLING, fault);
	}
	bool module = *start == 'm' || *start == 'M';
	if (module) {
		do {
			start++;
		} while (start < typed.start + typed.length && is_blank(*start));
	}
	enum number_reading reading = number_scan(start, &number);
	if (reading != NUMBER_READ) {
		return number_refuse(reading, what, typed, PITCH_SPELLING, fault);
	}
	enum pitch_system system = PITCH_MODULE;
	struct typed digits = {.start = start, .length = (int)(number.end - start)};
	size_t rest = (size_t)(typed.start + typed.length - number.end);
	struct typed behind = typed_trim_bytes(number.end, rest);
	if (module && behind.length > 0) {
		fault_set(fault, OUTCOME_BAD, "%s with two units: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type m%.*s for a module.", TYPED(digits));
		return OUTCOME_BAD;
	}
	struct typed name = behind.length > 0 ? behind : typed_trim(unit);
	if (!module && !system_named(name, &system)) {
		return refuse_behind(what, typed, digits, behind, fault);
	}
	return pitch_settle(what, typed, &number, system, out, fault);
}

enum outcome pitch_parse(const char *text, struct pitch *out, struct fault *fault)
{
	return pitch_read("pitch", NULL, typed_trim(text), out, fault);
}

/* As a decimal where that is exact and short. */
static bool decimal_number(struct pitch pitch, struct quantity_text *out)
{
	wide scale = 1;
	for (int decimals = 0; decimals <= DECIMALS_SHOWN; decimals++, scale *= 10) {
		if (scale % pitch.denominator == 0) {
			wide shown = pitch.numerator * (scale / pitch.denominator);
			decimal_write(out->bytes, sizeof out->bytes, shown, decimals);
			return true;
		}
	}
	return false;
}

struct quantity_text pitch_text(struct pitch pitch)
{
	struct quantity_text number;
	struct quantity_text text;
	assert(pitch.numerator > 0 && pitch.denominator > 0);
	bool inches = pitch.system == PITCH_CP_INCH && pitch.denominator != 1;
	if (inches || !decimal_number(pitch, &number)) {
		snprintf(number.bytes, sizeof number.bytes, "%lld/%lld", (long long)pitch.numerator,
		         (long long)pitch.denominator);
	}
	const char *before = "";
	const char *behind = "";
	switch (pitch.system) {
	case PITCH_CP_INCH:
		behind = "cp";
		break;
	case PITCH_CP_MM:
		behind = "mmcp";
		break;
	case PITCH_DIAMETRAL:
		behind = "dp";
		break;
	case PITCH_MODULE:
		before = "m";
		break;
	}
	snprintf(text.bytes, sizeof text.bytes, "%s%.50s%s", before, number.bytes, behind);
	return text;
}
