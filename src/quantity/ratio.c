/* Ratios of whole numbers. */
#include "number.h"

wide ratio_round(struct ratio ratio)
{
	wide whole = ratio.numerator / ratio.denominator;
	wide rest = ratio.numerator % ratio.denominator;
	if (rest < 0) {
		return -rest >= ratio.denominator + rest ? whole - 1 : whole;
	}
	return rest >= ratio.denominator - rest ? whole + 1 : whole;
}

struct ratio ratio_reduce(struct ratio ratio)
{
	wide a = ratio.numerator < 0 ? -ratio.numerator : ratio.numerator;
	wide b = ratio.denominator;
	while (b != 0) { /* Euclid */
		wide rest = a % b;
		a = b;
		b = rest;
	}
	return (struct ratio){ratio.numerator / a, ratio.denominator / a};
}

double ratio_to_double(struct ratio ratio)
{
	return (double)((long double)ratio.numerator / (long double)ratio.denominator);
}

bool ratio_times(struct ratio a, wide numerator, wide denominator, struct ratio *out)
{
	return !__builtin_mul_overflow(a.numerator, numerator, &out->numerator) &&
	       !__builtin_mul_overflow(a.denominator, denominator, &out->denominator);
}

int ratio_compare(struct ratio a, struct ratio b)
{
	wide left = 0;
	wide right = 0;
	if (!__builtin_mul_overflow(a.numerator, b.denominator, &left) &&
	    !__builtin_mul_overflow(b.numerator, a.denominator, &right)) {
		return (left > right) - (left < right);
	}
	long double x = (long double)a.numerator / (long double)a.denominator;
	long double y = (long double)b.numerator / (long double)b.denominator;
	return (x > y) - (x < y);
}
