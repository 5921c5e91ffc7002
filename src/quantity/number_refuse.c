/* What is said of a number that is not spelled as one. */
#include "number.h"

/* Is there a separator at `i`, between two digits? */
static bool separator_at(struct typed typed, int i)
{
	char c = typed.start[i];
	return (c == ',' || c == '.' || c == '\'') && i > 0 && is_digit(typed.start[i - 1]) &&
	       i + 1 < typed.length && is_digit(typed.start[i + 1]);
}

/*
 * Copies what was typed with a point at `decimal` and no other separator; what does not fit is
 * left off.
 */
static void with_point_at(char *out, size_t room, struct typed typed, int decimal)
{
	size_t used = 0;
	for (int i = 0; i < typed.length && used + 1 < room; i++) {
		if (!separator_at(typed, i)) {
			out[used++] = typed.start[i];
		} else if (i == decimal) {
			out[used++] = '.';
		}
	}
	out[used] = '\0';
}

/* Where the decimals begin, if the last separator is the only one of its sort; -1: nowhere. */
static int decimal_separator(struct typed typed, bool *alone)
{
	int last = -1;
	int same = 0;
	int others = 0;
	for (int i = typed.length - 1; i >= 0; i--) {
		if (separator_at(typed, i)) {
			last = last < 0 ? i : last;
			same += typed.start[i] == typed.start[last] ? 1 : 0;
			others += typed.start[i] == typed.start[last] ? 0 : 1;
		}
	}
	*alone = same == 1 && others == 0;
	return same == 1 && typed.start[last] != '\'' ? last : -1;
}

static enum outcome separator_refuse(const char *what, struct typed typed, struct fault *fault)
{
	char number[80];
	char whole[80];
	bool alone = false;
	int decimal = decimal_separator(typed, &alone);
	int end = decimal + 1;
	while (end < typed.length && is_digit(typed.start[end])) {
		end++;
	}
	fault_set(fault, OUTCOME_BAD, "%s with a separator inside its number: %.*s", what,
	          TYPED(typed));
	with_point_at(number, sizeof number, typed, decimal);
	with_point_at(whole, sizeof whole, typed, -1);
	if (decimal >= 0 && alone && end - decimal - 1 == 3) {
		fault_hint(fault, "Type %s or %s: decimals take a point, thousands take nothing.", number,
		           whole);
	} else {
		fault_hint(fault, "Type %s: decimals take a point, thousands take nothing.", number);
	}
	return OUTCOME_BAD;
}

static enum outcome hyphen_refuse(const char *what, struct typed typed, struct fault *fault)
{
	int hyphen = 1; /* a first one is the sign */
	while (hyphen < typed.length && typed.start[hyphen] != '-') {
		hyphen++;
	}
	fault_set(fault, OUTCOME_BAD, "%s with a hyphen before its fraction: %.*s", what, TYPED(typed));
	fault_hint(fault, "Type %.*s %.*s, with a blank before the fraction.", hyphen, typed.start,
	           typed.length - hyphen - 1, typed.start + hyphen + 1);
	return OUTCOME_BAD;
}

enum outcome number_blank_refuse(const char *what, const char *spelling, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s is blank", what);
	fault_hint(fault, "Type %s.", spelling);
	return OUTCOME_BAD;
}

enum outcome number_refuse(enum number_reading reading, const char *what, struct typed typed,
                           const char *spelling, struct fault *fault)
{
	const char *wrong = "";
	const char *right = "";
	switch (reading) {
	case NUMBER_READ:
		return OUTCOME_DONE;
	case NUMBER_SEPARATOR:
		return separator_refuse(what, typed, fault);
	case NUMBER_HYPHEN:
		return hyphen_refuse(what, typed, fault);
	case NUMBER_NONE:
		wrong = "without a number";
		break;
	case NUMBER_BLANK:
		wrong = "with a blank inside its number";
		right = ", the number without blanks";
		break;
	case NUMBER_EXPONENT:
		wrong = "with an exponent";
		right = ", the digits in full";
		break;
	case NUMBER_HEXADECIMAL:
		wrong = "in hexadecimal";
		right = ", in decimal digits";
		break;
	case NUMBER_DIVIDED:
		wrong = "divided by nothing";
		break;
	case NUMBER_FRACTION:
		wrong = "with a fraction of other than whole numbers";
		break;
	case NUMBER_DECIMALS:
		wrong = "with too many digits behind its point or stroke";
		right = ", with at most 18 of them";
		break;
	}
	fault_set(fault, OUTCOME_BAD, "%s %s: %.*s", what, wrong, TYPED(typed));
	fault_hint(fault, "Type %s%s.", spelling, right);
	return OUTCOME_BAD;
}
