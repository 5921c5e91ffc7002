/* What has no unit: counts, plain numbers and money. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "parsers.h"

/* Greater ones are no ratio of anything, and a double would not hold their last digit. */
#define NUMBER_MOST 1000000000000000

/* Twelve decimals are kept: more than anything here is measured to. */
#define NUMBER_DECIMALS_KEPT 12
#define NUMBER_SCALE 1000000000000

static enum outcome refuse_beside(const char *what, struct typed typed, struct typed digits,
                                  const char *why, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s with something beside the number: %.*s", what, TYPED(typed));
	fault_hint(fault, "Type the number alone, %.*s%s.", TYPED(digits), why);
	return OUTCOME_BAD;
}

static void hint_count(int64_t least, int64_t most, struct fault *fault)
{
	if (most == INT64_MAX) {
		fault_hint(fault, "Type a whole number, %lld or more.", (long long)least);
	} else {
		fault_hint(fault, "Type a whole number from %lld to %lld.", (long long)least,
		           (long long)most);
	}
}

static enum outcome refuse_count(const char *what, struct typed typed, int64_t least, int64_t most,
                                 struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s is not a whole number: %.*s", what, TYPED(typed));
	hint_count(least, most, fault);
	return OUTCOME_BAD;
}

/*
 * `10.000` may be ten thousand, written with its separator, or ten: a count with three digits
 * behind its last point is not guessed at.
 */
static bool has_thousands_point(struct typed typed)
{
	int last = typed.length - 4;
	return last >= 0 && typed.start[last] == '.';
}

/* Of a count whatever separates is of thousands; the digits are put together for the hint. */
static enum outcome refuse_thousands(const char *what, struct typed typed, struct fault *fault)
{
	char digits[24];
	size_t used = 0;
	for (int i = 0; i < typed.length && used + 1 < sizeof digits; i++) {
		if (typed.start[i] >= '0' && typed.start[i] <= '9') {
			digits[used++] = typed.start[i];
		}
	}
	digits[used] = '\0';
	fault_set(fault, OUTCOME_BAD, "%s with a separator inside its number: %.*s", what,
	          TYPED(typed));
	fault_hint(fault, "Type %s: a whole number takes neither point nor comma.", digits);
	return OUTCOME_BAD;
}

enum outcome count_parse(const char *what, const char *text, int64_t least, int64_t most,
                         int64_t *out, struct fault *fault)
{
	struct number number = {.value.denominator = 1};
	struct typed typed = typed_trim(text);
	if (typed.length == 0) {
		fault_set(fault, OUTCOME_BAD, "%s is blank", what);
		hint_count(least, most, fault);
		return OUTCOME_BAD;
	}
	enum number_reading reading = number_scan(typed.start, &number);
	if (reading == NUMBER_SEPARATOR ||
	    (reading == NUMBER_READ && number.decimals == 0 && has_thousands_point(typed))) {
		return refuse_thousands(what, typed, fault);
	}
	if (reading != NUMBER_READ || number.end != typed.start + typed.length || number.fraction ||
	    number.decimals > 0) {
		return refuse_count(what, typed, least, most, fault);
	}
	bool small = number.too_large ? number.negative : number.value.numerator < least;
	bool large = number.too_large ? !number.negative : number.value.numerator > most;
	if (small || large) {
		fault_set(fault, OUTCOME_BAD, "%s is %s %lld: %.*s", what,
		          small ? "less than" : "more than", (long long)(small ? least : most),
		          TYPED(typed));
		hint_count(least, most, fault);
		return OUTCOME_BAD;
	}
	*out = (int64_t)number.value.numerator;
	return OUTCOME_DONE;
}

/* A number with nothing behind it. */
static enum outcome number_alone(const char *what, struct typed typed, const char *spelling,
                                 const char *why, struct number *out, struct fault *fault)
{
	if (typed.length == 0) {
		return number_blank_refuse(what, spelling, fault);
	}
	enum number_reading reading = number_scan(typed.start, out);
	if (reading != NUMBER_READ) {
		return number_refuse(reading, what, typed, spelling, fault);
	}
	struct typed digits = {.start = typed.start, .length = (int)(out->end - typed.start)};
	return digits.length == typed.length ? OUTCOME_DONE
	                                     : refuse_beside(what, typed, digits, why, fault);
}

/* Rounded to the decimals that are kept, so that what is shown can be read back. */
static double number_rounded(struct ratio ratio)
{
	struct ratio scaled;
	/* What 128 bits do not hold is so large that a double has fewer decimals than are kept. */
	if (!ratio_times(ratio, NUMBER_SCALE, 1, &scaled)) {
		return ratio_to_double(ratio);
	}
	return ratio_to_double((struct ratio){ratio_round(scaled), NUMBER_SCALE});
}

enum outcome plain_number_read(const char *what, const char *text, double *out, struct fault *fault)
{
	struct number number = {.value.denominator = 1};
	struct typed typed = typed_trim(text);
	enum outcome outcome = number_alone(what, typed, NUMBER_SPELLING, "", &number, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	double value = number_rounded(number.value);
	if (number.too_large || fabs(value) > NUMBER_MOST) {
		fault_set(fault, OUTCOME_BAD, "%s too large: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type a number between -%lld and %lld.", (long long)NUMBER_MOST,
		           (long long)NUMBER_MOST);
		return OUTCOME_BAD;
	}
	*out = value == 0 ? 0 : value;
	return OUTCOME_DONE;
}

struct quantity_text plain_number_text(double number)
{
	struct quantity_text text = {""};
	if (isnan(number)) {
		return text;
	}
	double held = fmin(fmax(number, -(double)NUMBER_MOST), (double)NUMBER_MOST);
	wide scale = 1;
	for (int decimals = 0;; decimals++, scale *= 10) {
		wide shown = (wide)roundl((long double)held * (long double)scale);
		if (decimals == NUMBER_DECIMALS_KEPT ||
		    number_rounded((struct ratio){shown, scale}) == held) {
			decimal_write(text.bytes, sizeof text.bytes, shown, decimals);
			return text;
		}
	}
}

enum outcome money_read(const char *what, const char *text, struct money *out, struct fault *fault)
{
	struct number number = {.value.denominator = 1};
	struct typed typed = typed_trim(text);
	enum outcome outcome =
		number_alone(what, typed, MONEY_SPELLING, ": the currency is the shop's", &number, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (number.negative) {
		fault_set(fault, OUTCOME_BAD, "%s is less than nothing: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %s.", MONEY_SPELLING);
		return OUTCOME_BAD;
	}
	/* 1.250 is a thousand and more to some, one and a quarter to others. */
	const char *point = memchr(typed.start, '.', (size_t)typed.length);
	if (number.fraction || (point != NULL && typed.start + typed.length - point > 3)) {
		fault_set(fault, OUTCOME_BAD, "%s with other than whole cents: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type %s, with two digits behind the point.", MONEY_SPELLING);
		return OUTCOME_BAD;
	}
	wide cents =
		ratio_round((struct ratio){number.value.numerator * 100, number.value.denominator});
	if (number.too_large || cents > INT64_MAX) {
		fault_set(fault, OUTCOME_BAD, "%s too large: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type at most 92233720368547758.07.");
		return OUTCOME_BAD;
	}
	out->cents = (int64_t)cents;
	return OUTCOME_DONE;
}

enum outcome money_parse(const char *text, struct money *out, struct fault *fault)
{
	return money_read("money", text, out, fault);
}

struct quantity_text money_text(struct money money)
{
	struct quantity_text text;
	decimal_write(text.bytes, sizeof text.bytes, money.cents, 2);
	return text;
}
