/*
 * Exact numbers for the parsers and writers of this room: what was typed as a ratio of whole
 * numbers, so that nothing is rounded before the number that is stored.
 */
#ifndef TOOTHRACK_QUANTITY_NUMBER_H
#define TOOTHRACK_QUANTITY_NUMBER_H

#include "toothrack/base.h"

__extension__ typedef __int128 wide;

/* The denominator is more than nothing. */
struct ratio {
	wide numerator;
	wide denominator;
};

/* To the nearest whole number, half away from zero. */
wide ratio_round(struct ratio ratio);
/* Brought to lowest terms. */
struct ratio ratio_reduce(struct ratio ratio);
double ratio_to_double(struct ratio ratio);
/* -1, 0, 1. Exact; by value in long double only where 128 bits do not hold the products. */
int ratio_compare(struct ratio a, struct ratio b);
/* False where 128 bits do not hold it. */
bool ratio_times(struct ratio a, wide numerator, wide denominator, struct ratio *out);

/* A text as it was typed, without the blanks around it; it does not end in NUL. */
struct typed {
	const char *start;
	int length;
};

/* The two arguments of a `%.*s`. */
#define TYPED(typed) (typed).length, (typed).start

static inline bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static inline bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

struct typed typed_trim(const char *text); /* takes NULL, as an empty text */
struct typed typed_trim_bytes(const char *bytes, size_t count);
bool typed_equal_fold(struct typed typed, const char *word); /* ASCII letters in either case */

/* What is wrong with the spelling of a number. */
enum number_reading {
	NUMBER_READ,
	NUMBER_NONE,        /* no digit where it should begin */
	NUMBER_SEPARATOR,   /* `1,5` `1,500` `1'500` `1.500.000` */
	NUMBER_BLANK,       /* `1 500` */
	NUMBER_EXPONENT,    /* `1e3` */
	NUMBER_HEXADECIMAL, /* `0x10` */
	NUMBER_DIVIDED,     /* `1/0` */
	NUMBER_FRACTION,    /* `1.5/8` */
	NUMBER_HYPHEN,      /* `12-1/2` */
	NUMBER_DECIMALS,    /* more than NUMBER_DECIMALS_MOST */
};

/* Digits that are read behind the point, and in a denominator. */
#define NUMBER_DECIMALS_MOST 18

struct number {
	struct ratio value; /* with its sign */
	bool too_large;     /* more digits than any quantity has; `value` is then nothing */
	bool negative;      /* less than nothing, whether it is too large or not */
	bool fraction;      /* written with a stroke */
	int decimals;       /* digits behind the point, without zeros at the end */
	const char *end;    /* the first byte behind the number */
};

/* A signed decimal: `330` `-0.067` `.5`. Fills `out` only where it is read. */
enum number_reading decimal_scan(const char *text, struct number *out);
/* A decimal, a fraction or a mixed number: `330` `1/8` `12 1/2`. */
enum number_reading number_scan(const char *text, struct number *out);

/*
 * Refuses what number_scan did not read. `what` names the value, `spelling` says how it is spelled:
 * "a length such as 330mm, 13in or 1/8in".
 */
enum outcome number_refuse(enum number_reading reading, const char *what, struct typed typed,
                           const char *spelling, struct fault *fault);
enum outcome number_blank_refuse(const char *what, const char *spelling, struct fault *fault);

/* `shown` / 10^decimals as a plain decimal; at least `decimals` + 42 bytes in `out`. */
void decimal_write(char *out, size_t room, wide shown, int decimals);

#endif
