/* Numbers as they are typed, read exactly; and decimals, written exactly. */
#include <limits.h>
#include <string.h>

#include "number.h"

/* Digits before the point: an int64 has 19. */
#define WHOLE_DIGITS_MOST 19

struct typed typed_trim_bytes(const char *bytes, size_t count)
{
	while (count > 0 && is_blank(*bytes)) {
		bytes++;
		count--;
	}
	while (count > 0 && is_blank(bytes[count - 1])) {
		count--;
	}
	return (struct typed){.start = bytes, .length = count > INT_MAX ? INT_MAX : (int)count};
}

struct typed typed_trim(const char *text)
{
	return text == NULL ? (struct typed){.start = ""} : typed_trim_bytes(text, strlen(text));
}

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool typed_equal_fold(struct typed typed, const char *word)
{
	int i = 0;
	while (i < typed.length && word[i] != '\0' && lower(typed.start[i]) == lower(word[i])) {
		i++;
	}
	return i == typed.length && word[i] == '\0';
}

/*
 * Steps over the digits at `*c`; false where they are more than `most`, zeros in front not
 * counted.
 */
static bool digits_scan(const char **c, int most, wide *value)
{
	int count = 0;
	*value = 0;
	for (; is_digit(**c); ++*c) {
		count += count > 0 || **c != '0' ? 1 : 0;
		if (count <= most) {
			*value = *value * 10 + (**c - '0');
		}
	}
	return count <= most;
}

/*
 * Steps over the digits behind a point and adds them to the number; false where they are too
 * many.
 */
static bool decimals_scan(const char **c, struct number *number)
{
	const char *end = *c;
	while (is_digit(*end)) {
		end++;
	}
	const char *last = end;
	while (last > *c && last[-1] == '0') {
		last--;
	}
	if (last - *c > NUMBER_DECIMALS_MOST) {
		return false;
	}
	number->decimals = (int)(last - *c);
	for (; *c < last; ++*c) {
		number->value.numerator = number->value.numerator * 10 + (**c - '0');
		number->value.denominator *= 10;
	}
	*c = end;
	return true;
}

static bool three_digits_follow(const char *c)
{
	return is_digit(c[0]) && is_digit(c[1]) && is_digit(c[2]) && !is_digit(c[3]);
}

/* What stands behind a decimal and would change it, were it read. */
static enum number_reading behind_decimal(const char *c, bool is_zero)
{
	if ((*c == ',' || *c == '.') && is_digit(c[1])) {
		return NUMBER_SEPARATOR;
	}
	if (*c == '\'' && three_digits_follow(c + 1)) {
		return NUMBER_SEPARATOR;
	}
	if (lower(*c) == 'e') {
		const char *power = c[1] == '+' || c[1] == '-' ? c + 2 : c + 1;
		return is_digit(*power) ? NUMBER_EXPONENT : NUMBER_READ;
	}
	return lower(*c) == 'x' && is_zero ? NUMBER_HEXADECIMAL : NUMBER_READ;
}

/* The sign is stepped over, and not yet in the value. */
static enum number_reading unsigned_scan(const char *c, struct number *out)
{
	struct number number = {.value.denominator = 1};
	if (!is_digit(*c) && !(*c == '.' && is_digit(c[1]))) {
		return NUMBER_NONE;
	}
	number.too_large = !digits_scan(&c, WHOLE_DIGITS_MOST, &number.value.numerator);
	if (number.too_large) {
		number.value.numerator = 0;
	}
	if (*c == '.' && is_digit(c[1])) {
		c++;
		if (!decimals_scan(&c, &number)) {
			return NUMBER_DECIMALS;
		}
	}
	enum number_reading behind = behind_decimal(c, number.value.numerator == 0);
	if (behind != NUMBER_READ) {
		return behind;
	}
	number.end = c;
	*out = number;
	return NUMBER_READ;
}

static bool sign_scan(const char **c)
{
	bool minus = **c == '-';
	*c += **c == '-' || **c == '+' ? 1 : 0;
	return minus;
}

static void sign_apply(bool minus, struct number *number)
{
	number->negative = minus && (number->too_large || number->value.numerator != 0);
	if (minus) {
		number->value.numerator = -number->value.numerator;
	}
}

enum number_reading decimal_scan(const char *text, struct number *out)
{
	bool minus = sign_scan(&text);
	enum number_reading reading = unsigned_scan(text, out);
	if (reading == NUMBER_READ) {
		sign_apply(minus, out);
	}
	return reading;
}

/* Is it digits, a stroke and a digit: `1/2`? */
static bool fraction_follows(const char *c)
{
	if (!is_digit(*c)) {
		return false;
	}
	while (is_digit(*c)) {
		c++;
	}
	return *c == '/' && is_digit(c[1]);
}

/* Adds the fraction at `c`, numerator, stroke, denominator, to the whole number read. */
static enum number_reading fraction_scan(const char *c, struct number *number)
{
	wide numerator = 0;
	wide denominator = 0;
	bool small = digits_scan(&c, NUMBER_DECIMALS_MOST, &numerator);
	c++;
	if (!digits_scan(&c, NUMBER_DECIMALS_MOST, &denominator)) {
		return NUMBER_DECIMALS;
	}
	if (denominator == 0) {
		return NUMBER_DIVIDED;
	}
	if (*c == '.' || *c == ',') {
		return NUMBER_FRACTION;
	}
	/* 19 digits of a whole number, 18 of a denominator: 37, and 128 bits hold 38. */
	number->value.numerator = number->value.numerator * denominator + numerator;
	number->value.denominator = denominator;
	number->too_large = number->too_large || !small;
	number->fraction = true;
	number->end = c;
	return NUMBER_READ;
}

/* A decimal is read up to number->end: does a fraction belong to it? */
static enum number_reading fraction_join(const char *start, struct number *number)
{
	const char *c = number->end;
	bool whole = memchr(start, '.', (size_t)(c - start)) == NULL;
	if (*c == '/' && is_digit(c[1])) {
		if (!whole) {
			return NUMBER_FRACTION;
		}
		*number = (struct number){.value.denominator = 1};
		return fraction_scan(start, number);
	}
	if (*c == '-' && fraction_follows(c + 1)) {
		return NUMBER_HYPHEN;
	}
	while (is_blank(*c)) {
		c++;
	}
	if (c == number->end || !is_digit(*c)) {
		return NUMBER_READ;
	}
	return whole && fraction_follows(c) ? fraction_scan(c, number) : NUMBER_BLANK;
}

enum number_reading number_scan(const char *text, struct number *out)
{
	struct number number = {.value.denominator = 1};
	bool minus = sign_scan(&text);
	enum number_reading reading = unsigned_scan(text, &number);
	if (reading == NUMBER_READ) {
		reading = fraction_join(text, &number);
	}
	if (reading == NUMBER_READ) {
		sign_apply(minus, &number);
		*out = number;
	}
	return reading;
}

void decimal_write(char *out, size_t room, wide shown, int decimals)
{
	char digits[64];
	size_t count = 0;
	bool negative = shown < 0;
	for (wide rest = shown; rest != 0 || count <= (size_t)decimals; rest /= 10) {
		int digit = (int)(rest % 10);
		digits[count++] = (char)('0' + (digit < 0 ? -digit : digit));
	}
	size_t used = 0;
	if (negative && used + 1 < room) {
		out[used++] = '-';
	}
	while (count > 0 && used + 2 < room) {
		out[used++] = digits[--count];
		if (count == (size_t)decimals && decimals > 0) {
			out[used++] = '.';
		}
	}
	out[used] = '\0';
}
