#include "expected.h"

#include <math.h>

static const struct kept tooling[] = {
	{"330mm", 330000000, "330mm", "12.992126in"},
	{"13in", 330200000, "330.2mm", "13in"},
	{"1/8in", 3175000, "3.175mm", "0.125in"},
	{"0.067in", 1701800, "1.7018mm", "0.067in"},
	{".5in", 12700000, "12.7mm", "0.5in"},
	{"12 1/2in", 317500000, "317.5mm", "12.5in"},
	{"12  1/2 in", 317500000, "317.5mm", "12.5in"},
	{"-1 1/2in", -38100000, "-38.1mm", "-1.5in"},
	{"+3mm", 3000000, "3mm", "0.11811024in"},
	{"-3mm", -3000000, "-3mm", "-0.11811024in"},
	{"-0mm", 0, "0mm", "0in"},
	{"480um", 480000, "0.48mm", "0.01889764in"},
	{"480\u00b5m", 480000, "0.48mm", "0.01889764in"},
	{"480\u03bcm", 480000, "0.48mm", "0.01889764in"},
	{"33cm", 330000000, "330mm", "12.992126in"},
	{"12.5m", 12500000000, "12500mm", "492.12598425in"},
	{"40ft", 12192000000, "12192mm", "480in"},
	{"7nm", 7, "0.000007mm", "0.00000028in"},
	{" \t330 MM\r\n", 330000000, "330mm", "12.992126in"},
	{"13IN", 330200000, "330.2mm", "13in"},
	{"000330.000mm", 330000000, "330mm", "12.992126in"},
	{"0.00000000000000000000mm", 0, "0mm", "0in"},
	{"9223372036854.775807mm", INT64_MAX, "9223372036854.775807mm", "363124883340.739205in"},
	{"-9223372036854.775807mm", -INT64_MAX, "-9223372036854.775807mm", "-363124883340.739205in"},
};

static void length_parse__as_typed__kept_exactly_and_shown(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(tooling); i++) {
		struct fault fault;
		struct length length;
		fault_clear(&fault);
		assert_done(length_parse(tooling[i].typed, &length, &fault), tooling[i].typed, &fault);
		assert_int_equal(length_to_nm(length), tooling[i].number);
		assert_shown(length_text(length, LENGTH_TOOLING, UNITS_METRIC), tooling[i].metric);
		assert_shown(length_text(length, LENGTH_TOOLING, UNITS_INCH), tooling[i].inch);
	}
}

/* Half a nanometre goes away from nothing; exactly, whatever the unit. */
static void length_parse__not_whole__rounded_half_away(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		int64_t nm;
	} rows[] = {
		{"0.4nm", 0},        {"0.5nm", 1},        {"1.5nm", 2},
		{"2.5nm", 3},        {"-0.5nm", -1},      {"-2.5nm", -3},
		{"1/3nm", 0},        {"2/3nm", 1},        {"1/2nm", 1},
		{"-1/2nm", -1},      {"0.0000005mm", 1},  {"0.00000049999999mm", 0},
		{"1/50800000in", 1}, {"1/50800001in", 0}, {"0.499999999999999999nm", 0},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		struct length length;
		fault_clear(&fault);
		assert_done(length_parse(rows[i].typed, &length, &fault), rows[i].typed, &fault);
		assert_int_equal(length_to_nm(length), rows[i].nm);
	}
}

#define LIKE "Type a length such as 330mm, 13in or 1/8in"
#define UNITS "Type the number and then mm, cm, m, um, nm, in or ft."
#define MOST "9223372036854.775807mm"

static const struct refusal refusals[] = {
	{"", "length is blank", LIKE "."},
	{" \t", "length is blank", LIKE "."},
	{NULL, "length is blank", LIKE "."},
	{"330", "length without a unit: 330", "Type 330mm or 330in."},
	{" 1/8 ", "length without a unit: 1/8", "Type 1/8mm or 1/8in."},
	{"mm", "length without a number: mm", LIKE "."},
	{"nan", "length without a number: nan", LIKE "."},
	{"nanmm", "length without a number: nanmm", LIKE "."},
	{"infmm", "length without a number: infmm", LIKE "."},
	{"-inf", "length without a number: -inf", LIKE "."},
	{"--3mm", "length without a number: --3mm", LIKE "."},
	{"- 3mm", "length without a number: - 3mm", LIKE "."},
	{".mm", "length without a number: .mm", LIKE "."},
	{"/8in", "length without a number: /8in", LIKE "."},
	{"0x10mm", "length in hexadecimal: 0x10mm", LIKE ", in decimal digits."},
	{"1e3mm", "length with an exponent: 1e3mm", LIKE ", the digits in full."},
	{"1.5E+3mm", "length with an exponent: 1.5E+3mm", LIKE ", the digits in full."},
	{"1,5mm", "length with a separator inside its number: 1,5mm",
     "Type 1.5mm: decimals take a point, thousands take nothing."},
	{"1,500mm", "length with a separator inside its number: 1,500mm",
     "Type 1.500mm or 1500mm: decimals take a point, thousands take nothing."},
	{"1,500,000mm", "length with a separator inside its number: 1,500,000mm",
     "Type 1500000mm: decimals take a point, thousands take nothing."},
	{"1,500.25mm", "length with a separator inside its number: 1,500.25mm",
     "Type 1500.25mm: decimals take a point, thousands take nothing."},
	{"1.500,25mm", "length with a separator inside its number: 1.500,25mm",
     "Type 1500.25mm: decimals take a point, thousands take nothing."},
	{"1.500.000mm", "length with a separator inside its number: 1.500.000mm",
     "Type 1500000mm: decimals take a point, thousands take nothing."},
	{"1'500mm", "length with a separator inside its number: 1'500mm",
     "Type 1500mm: decimals take a point, thousands take nothing."},
	{"1'500.25mm", "length with a separator inside its number: 1'500.25mm",
     "Type 1500.25mm: decimals take a point, thousands take nothing."},
	{"1 500mm", "length with a blank inside its number: 1 500mm",
     LIKE ", the number without blanks."},
	{"1.5 1/2in", "length with a blank inside its number: 1.5 1/2in",
     LIKE ", the number without blanks."},
	{"1/0in", "length divided by nothing: 1/0in", LIKE "."},
	{"2 1/0in", "length divided by nothing: 2 1/0in", LIKE "."},
	{"1.5/8in", "length with a fraction of other than whole numbers: 1.5/8in", LIKE "."},
	{"1/8.5in", "length with a fraction of other than whole numbers: 1/8.5in", LIKE "."},
	{"12-1/2in", "length with a hyphen before its fraction: 12-1/2in",
     "Type 12 1/2in, with a blank before the fraction."},
	{"-12-1/2in", "length with a hyphen before its fraction: -12-1/2in",
     "Type -12 1/2in, with a blank before the fraction."},
	{"0.1234567890123456789mm",
     "length with too many digits behind its point or stroke: 0.1234567890123456789mm",
     LIKE ", with at most 18 of them."},
	{"1/1234567890123456789in",
     "length with too many digits behind its point or stroke: 1/1234567890123456789in",
     LIKE ", with at most 18 of them."},
	{"5furlong", "unit of length not known: 5furlong", UNITS},
	{"5.mm", "unit of length not known: 5.mm", UNITS},
	{"5mm.", "unit of length not known: 5mm.", UNITS},
	{"1/8/3in", "unit of length not known: 1/8/3in", UNITS},
	{"5mm\x1b[2J", "unit of length not known: 5mm\\x1b[2J", UNITS},
	{"13\"", "unit of length not known: 13\"", "Type 13in."},
	{"1 1/2 \"", "unit of length not known: 1 1/2 \"", "Type 1 1/2 in."},
	{"6'", "unit of length not known: 6'", "Type 6ft."},
	{"5ft 3in", "length with two units: 5ft 3in",
     "Type it in one unit, a length such as 330mm, 13in or 1/8in."},
	{"5ft3in", "length with two units: 5ft3in",
     "Type it in one unit, a length such as 330mm, 13in or 1/8in."},
	{"9223372036854.7758075mm", "length too large: 9223372036854.7758075mm",
     "Type a value between -" MOST " and " MOST "."},
	{"99999999999999999999999999999999999999999999999999mm",
     "length too large: 99999999999999999999999999999999999999999999999999mm",
     "Type a value between -" MOST " and " MOST "."},
	{"-9223372036855m", "length too large: -9223372036855m",
     "Type a value between -9223372036.854775807m and 9223372036.854775807m."},
	{"9999999999999999999.999999999999999999m",
     "length too large: 9999999999999999999.999999999999999999m",
     "Type a value between -9223372036.854775807m and 9223372036.854775807m."},
};

static void length_parse__not_a_length__refused_in_words(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(refusals); i++) {
		struct fault fault;
		struct length length = {42};
		fault_clear(&fault);
		assert_refused(length_parse(refusals[i].typed, &length, &fault), &refusals[i], &fault);
		assert_int_equal(length.nm, 42);
	}
}

static void length_parse__no_fault_wanted__refused(void **state)
{
	(void)state;
	struct length length;
	assert_int_equal(length_parse("330", &length, NULL), OUTCOME_BAD);
}

static void length_parse_positive__less_than_nothing__refused_by_name(void **state)
{
	(void)state;
	static const struct refusal rows[] = {
		{"-3mm", "face is less than nothing: -3mm", LIKE "."},
		{"-0.0000001mm", "face is less than nothing: -0.0000001mm", LIKE "."},
		{"330", "face without a unit: 330", "Type 330mm or 330in."},
		{"5furlong", "unit of face not known: 5furlong", UNITS},
		{"9223372036855m", "face too large: 9223372036855m", "Type at most 9223372036.854775807m."},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		struct length length;
		fault_clear(&fault);
		assert_refused(length_parse_positive("face", rows[i].typed, &length, &fault), &rows[i],
		               &fault);
	}
}

static void length_parse_positive__nothing_and_more__read(void **state)
{
	(void)state;
	struct fault fault;
	struct length length;
	fault_clear(&fault);
	assert_done(length_parse_positive("face", "-0mm", &length, &fault), "-0mm", &fault);
	assert_int_equal(length.nm, 0);
	assert_done(length_parse_positive("face", "330mm", &length, &fault), "330mm", &fault);
	assert_int_equal(length.nm, 330000000);
}

static void length_text__web_and_cells__in_their_units(void **state)
{
	(void)state;
	struct length length = length_from_nm(12192000000);
	assert_shown(length_text(length, LENGTH_WEB, UNITS_METRIC), "12.192m");
	assert_shown(length_text(length, LENGTH_WEB, UNITS_INCH), "40ft");
	length = length_from_nm(480250);
	assert_shown(length_text(length, LENGTH_CELL, UNITS_METRIC), "480.25um");
	assert_shown(length_text(length, LENGTH_CELL, UNITS_INCH), "480.25um");
}

/* Whatever number is stored: what is shown re-enters as it, in each way of showing. */
static void length_text__any_number__re_enters(void **state)
{
	(void)state;
	uint64_t random = 88172645463325252; /* xorshift, G. Marsaglia, J. Stat. Soft. 8 (2003) 14 */
	for (int i = 0; i < 4000; i++) {
		random ^= random << 13;
		random ^= random >> 7;
		random ^= random << 17;
		int64_t nm = (int64_t)(random >> (1 + random % 63));
		for (int use = LENGTH_TOOLING; use <= LENGTH_CELL; use++) {
			for (int units = UNITS_METRIC; units <= UNITS_INCH; units++) {
				struct fault fault;
				struct length again;
				struct quantity_text text =
					length_text(length_from_nm(nm), (enum length_use)use, (enum units)units);
				fault_clear(&fault);
				assert_done(length_parse(text.bytes, &again, &fault), text.bytes, &fault);
				assert_int_equal(again.nm, nm);
			}
		}
	}
}

static void length_from_mm__doubles__whole_nanometres(void **state)
{
	(void)state;
	assert_int_equal(length_from_mm(0.1).nm, 100000);
	assert_int_equal(length_from_mm(-25.4).nm, -25400000);
	assert_int_equal(length_from_mm(1e300).nm, INT64_MAX);
	assert_int_equal(length_from_mm(-1e300).nm, INT64_MIN);
	assert_int_equal(length_from_mm((double)NAN).nm, 0);
	assert_true(length_to_mm(length_from_nm(3175000)) == 3.175);
	assert_true(length_to_in(length_from_nm(3175000)) == 0.125);
	assert_true(length_to_m(length_from_nm(12500000000)) == 12.5);
}

static void length_arithmetic__beyond_int64__stays_at_the_end(void **state)
{
	(void)state;
	struct length most = length_from_nm(INT64_MAX);
	struct length least = length_from_nm(INT64_MIN);
	struct length one = length_from_nm(1);
	assert_int_equal(length_add(one, one).nm, 2);
	assert_int_equal(length_add(most, one).nm, INT64_MAX);
	assert_int_equal(length_subtract(least, one).nm, INT64_MIN);
	assert_int_equal(length_subtract(one, least).nm, INT64_MAX);
	assert_int_equal(length_times(one, 7).nm, 7);
	assert_int_equal(length_times(most, -2).nm, INT64_MIN);
	assert_int_equal(length_times(least, -2).nm, INT64_MAX);
	assert_int_equal(length_times(length_from_nm(-5), 3).nm, -15);
}

static void web_text__whole_metres_or_feet__half_away_from_zero(void **state)
{
	(void)state;
	assert_string_equal(web_text(length_from_nm(INT64_C(2667203200000)), UNITS_METRIC).bytes,
	                    "2667m");
	assert_string_equal(web_text(length_from_nm(499999999), UNITS_METRIC).bytes, "0m");
	assert_string_equal(web_text(length_from_nm(500000000), UNITS_METRIC).bytes, "1m");
	assert_string_equal(web_text(length_from_nm(-500000000), UNITS_METRIC).bytes, "-1m");
	assert_string_equal(web_text(length_from_nm(INT64_C(9100) * 304800000 + 152400000), UNITS_INCH)
	                        .bytes,
	                    "9101ft");
	/* The end of int64 lies between two metres, and has none above it. */
	assert_string_equal(web_text(length_from_nm(INT64_MAX), UNITS_METRIC).bytes, "9223372036m");
	assert_string_equal(web_text(length_from_nm(INT64_MIN), UNITS_METRIC).bytes, "-9223372036m");
}

static void length_compare__orders_and_limits__inclusive(void **state)
{
	(void)state;
	struct length a = length_from_nm(1000);
	struct length b = length_from_nm(1010);
	assert_int_equal(length_compare(a, b), -1);
	assert_int_equal(length_compare(b, a), 1);
	assert_int_equal(length_compare(a, a), 0);
	assert_true(length_near(a, b, length_from_nm(10)));
	assert_true(length_near(b, a, length_from_nm(10)));
	assert_false(length_near(a, b, length_from_nm(9)));
	assert_false(length_near(length_from_nm(INT64_MIN), length_from_nm(INT64_MAX),
	                         length_from_nm(INT64_MAX)));
}

static void real__at_an_inclusive_limit__within(void **state)
{
	(void)state;
	struct length limit = length_from_nm(10);
	assert_true(real_within((struct real_length){10.0009L}, limit));
	assert_true(real_within((struct real_length){-10.0009L}, limit));
	assert_false(real_within((struct real_length){10.002L}, limit));
	assert_true(real_at_most((struct real_length){10.0009L}, real_from_length(limit)));
	assert_false(real_at_most((struct real_length){10.002L}, real_from_length(limit)));
}

static void real__arithmetic__not_rounded_before_it_is_asked(void **state)
{
	(void)state;
	struct real_length third = real_times(real_from_length(length_from_nm(1)), 1.0L / 3);
	assert_int_equal(real_round(third).nm, 0);
	assert_int_equal(real_round(real_add(third, third)).nm, 1);
	assert_int_equal(real_round(real_subtract(third, real_times(third, 3))).nm, -1);
	assert_int_equal(real_round((struct real_length){2.5L}).nm, 3);
	assert_true(real_to_mm(real_from_length(length_from_nm(3175000))) == 3.175);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(length_parse__as_typed__kept_exactly_and_shown),
		cmocka_unit_test(length_parse__not_whole__rounded_half_away),
		cmocka_unit_test(length_parse__not_a_length__refused_in_words),
		cmocka_unit_test(length_parse__no_fault_wanted__refused),
		cmocka_unit_test(length_parse_positive__less_than_nothing__refused_by_name),
		cmocka_unit_test(length_parse_positive__nothing_and_more__read),
		cmocka_unit_test(length_text__web_and_cells__in_their_units),
		cmocka_unit_test(length_text__any_number__re_enters),
		cmocka_unit_test(length_from_mm__doubles__whole_nanometres),
		cmocka_unit_test(length_arithmetic__beyond_int64__stays_at_the_end),
		cmocka_unit_test(web_text__whole_metres_or_feet__half_away_from_zero),
		cmocka_unit_test(length_compare__orders_and_limits__inclusive),
		cmocka_unit_test(real__at_an_inclusive_limit__within),
		cmocka_unit_test(real__arithmetic__not_rounded_before_it_is_asked),
	};
	return cmocka_run_group_tests_name("quantity/length", tests, NULL, NULL);
}
