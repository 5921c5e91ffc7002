/* Lengths: whole nanometres. */
#include <math.h>

#include "measure.h"

#define NM_PER_MM 1000000
#define NM_PER_M 1000000000
#define NM_PER_INCH 25400000

/* What long double arithmetic may be off by: lengths at the same limit must not differ by it. */
#define ARITHMETIC_NM 0.001L

enum outcome length_parse(const char *text, struct length *out, struct fault *fault)
{
	return measure_parse(&length_measure, length_measure.what, NULL, text, &out->nm, fault);
}

enum outcome length_parse_positive(const char *what, const char *text, struct length *out,
                                   struct fault *fault)
{
	return measure_parse(&tooling_measure, what, NULL, text, &out->nm, fault);
}

struct quantity_text length_text(struct length length, enum length_use use, enum units units)
{
	const char *unit = "um";
	switch (use) {
	case LENGTH_TOOLING:
		unit = units == UNITS_INCH ? "in" : "mm";
		break;
	case LENGTH_WEB:
		unit = units == UNITS_INCH ? "ft" : "m";
		break;
	case LENGTH_CELL:
		break;
	}
	return measure_text(&length_measure, unit, length.nm);
}

struct quantity_text web_text(struct length length, enum units units)
{
	const int64_t step = units == UNITS_INCH ? INT64_C(304800000) : INT64_C(1000000000);
	int64_t over = length.nm % step, whole = length.nm - over;
	int64_t more = over >= step / 2 ? step : over <= -(step / 2) ? -step : 0;
	bool room = more > 0 ? whole <= INT64_MAX - more : whole >= INT64_MIN - more;
	return length_text((struct length){room ? whole + more : whole}, LENGTH_WEB, units);
}

/* What an int64 does not hold stays at its end; what is no number is nothing. */
static struct length length_rounded(long double nm)
{
	long double rounded = roundl(nm);
	if (isnan(rounded)) {
		return (struct length){0};
	}
	if (rounded >= (long double)INT64_MAX) {
		return (struct length){INT64_MAX};
	}
	if (rounded <= (long double)INT64_MIN) {
		return (struct length){INT64_MIN};
	}
	return (struct length){(int64_t)rounded};
}

struct length length_from_mm(double mm)
{
	return length_rounded((long double)mm * NM_PER_MM);
}

struct length length_from_nm(int64_t nm)
{
	return (struct length){nm};
}

int64_t length_to_nm(struct length length)
{
	return length.nm;
}

double length_to_mm(struct length length)
{
	return (double)((long double)length.nm / NM_PER_MM);
}

double length_to_in(struct length length)
{
	return (double)((long double)length.nm / NM_PER_INCH);
}

double length_to_m(struct length length)
{
	return (double)((long double)length.nm / NM_PER_M);
}

struct length length_add(struct length a, struct length b)
{
	int64_t nm = 0;
	if (__builtin_add_overflow(a.nm, b.nm, &nm)) {
		nm = a.nm < 0 ? INT64_MIN : INT64_MAX;
	}
	return (struct length){nm};
}

struct length length_subtract(struct length a, struct length b)
{
	int64_t nm = 0;
	if (__builtin_sub_overflow(a.nm, b.nm, &nm)) {
		nm = a.nm < 0 ? INT64_MIN : INT64_MAX;
	}
	return (struct length){nm};
}

struct length length_times(struct length a, int64_t count)
{
	int64_t nm = 0;
	if (__builtin_mul_overflow(a.nm, count, &nm)) {
		nm = (a.nm < 0) != (count < 0) ? INT64_MIN : INT64_MAX;
	}
	return (struct length){nm};
}

int length_compare(struct length a, struct length b)
{
	return (a.nm > b.nm) - (a.nm < b.nm);
}

bool length_near(struct length a, struct length b, struct length limit)
{
	wide difference = (wide)a.nm - b.nm;
	return (difference < 0 ? -difference : difference) <= limit.nm;
}

struct real_length real_from_length(struct length length)
{
	return (struct real_length){(long double)length.nm};
}

struct length real_round(struct real_length real)
{
	return length_rounded(real.nm);
}

double real_to_mm(struct real_length real)
{
	return (double)(real.nm / NM_PER_MM);
}

struct real_length real_add(struct real_length a, struct real_length b)
{
	return (struct real_length){a.nm + b.nm};
}

struct real_length real_subtract(struct real_length a, struct real_length b)
{
	return (struct real_length){a.nm - b.nm};
}

struct real_length real_times(struct real_length a, long double factor)
{
	return (struct real_length){a.nm * factor};
}

bool real_within(struct real_length difference, struct length limit)
{
	return fabsl(difference.nm) <= (long double)limit.nm + ARITHMETIC_NM;
}

bool real_at_most(struct real_length a, struct real_length b)
{
	return a.nm <= b.nm + ARITHMETIC_NM;
}
