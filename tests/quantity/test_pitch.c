#include "expected.h"

#include <math.h>

#define BURGOS \
	"F. Burgos, \"CP Versus DP: Understanding the Differences\", FlexoExchange, " \
	"flexoexchange.com/articles/cpdp_article.html"
#define FLEXOGRAPHY "Flexography: Principles & Practices, 5th ed., FTA/FFTA 1999"
#define RACK_AND_PINION \
	"Gear tooth size chart, Rack & Pinion Inc., rack-and-pinion.com/gearchart.htm"
#define ARITHMETIC "arithmetic"

static struct pitch pitch_given(const char *typed)
{
	struct fault fault;
	struct pitch pitch;
	fault_clear(&fault);
	assert_done(pitch_parse(typed, &pitch, &fault), typed, &fault);
	return pitch;
}

static void pitch_parse__as_typed__reduced_and_canonical(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		enum pitch_system system;
		int64_t numerator;
		int64_t denominator;
		const char *shown;
	} rows[] = {
		{"1/8cp", PITCH_CP_INCH, 1, 8, "1/8cp"},
		{"0.125cp", PITCH_CP_INCH, 1, 8, "1/8cp"},
		{" 2/16 CP ", PITCH_CP_INCH, 1, 8, "1/8cp"},
		{"1/4cp", PITCH_CP_INCH, 1, 4, "1/4cp"},
		{"1cp", PITCH_CP_INCH, 1, 1, "1cp"},
		{"1 1/8cp", PITCH_CP_INCH, 9, 8, "9/8cp"},
		{"0.062cp", PITCH_CP_INCH, 31, 500, "31/500cp"},
		{"5mmcp", PITCH_CP_MM, 5, 1, "5mmcp"},
		{"5 mmcp", PITCH_CP_MM, 5, 1, "5mmcp"},
		{"3.175mmcp", PITCH_CP_MM, 127, 40, "3.175mmcp"},
		{"10/3mmcp", PITCH_CP_MM, 10, 3, "10/3mmcp"},
		{"10dp", PITCH_DIAMETRAL, 10, 1, "10dp"},
		{"12.7DP", PITCH_DIAMETRAL, 127, 10, "12.7dp"},
		{"m1", PITCH_MODULE, 1, 1, "m1"},
		{"M1.5", PITCH_MODULE, 3, 2, "m1.5"},
		{"m 1.50", PITCH_MODULE, 3, 2, "m1.5"},
		{"m1/3", PITCH_MODULE, 1, 3, "m1/3"},
		{"m0.000001", PITCH_MODULE, 1, 1000000, "m0.000001"},
		{"m0.0000001", PITCH_MODULE, 1, 10000000, "m1/10000000"},
		{"m1000000000000", PITCH_MODULE, 1000000000000, 1, "m1000000000000"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct pitch pitch = pitch_given(rows[i].typed);
		assert_int_equal(pitch.system, rows[i].system);
		assert_int_equal(pitch.numerator, rows[i].numerator);
		assert_int_equal(pitch.denominator, rows[i].denominator);
		assert_shown(pitch_text(pitch), rows[i].shown);
		struct pitch again = pitch_given(pitch_text(pitch).bytes);
		assert_int_equal(again.system, pitch.system);
		assert_int_equal(again.numerator, pitch.numerator);
		assert_int_equal(again.denominator, pitch.denominator);
	}
}

#define LIKE "Type a pitch such as 1/8cp, 5mmcp, 10dp or m1.5"

static const struct refusal refusals[] = {
	{"", "pitch is blank", LIKE "."},
	{"5mm", "pitch is ambiguous: 5mm", "Type 5mmcp for a circular pitch or m5 for a module."},
	{"5 MM", "pitch is ambiguous: 5 MM", "Type 5mmcp for a circular pitch or m5 for a module."},
	{"0.125in", "pitch is ambiguous: 0.125in", "Type 0.125cp for a circular pitch in inches."},
	{"1/8\"", "pitch is ambiguous: 1/8\"", "Type 1/8cp for a circular pitch in inches."},
	{"1/8", "pitch without a unit: 1/8", "Type 1/8cp, 1/8mmcp, 1/8dp or m1/8."},
	{"5m", "unit of pitch not known: 5m", "Type m5 for a module."},
	{"5mod", "unit of pitch not known: 5mod", LIKE "."},
	{"1/8cp 1/4cp", "unit of pitch not known: 1/8cp 1/4cp", LIKE ", with a comma between several."},
	{"m5mm", "pitch with two units: m5mm", "Type m5 for a module."},
	{"m", "pitch without a number: m", LIKE "."},
	{"mm5", "pitch without a number: mm5", LIKE "."},
	{"dp10", "pitch without a number: dp10", LIKE "."},
	{"nancp", "pitch without a number: nancp", LIKE "."},
	{"1/0cp", "pitch divided by nothing: 1/0cp", LIKE "."},
	{"0cp", "pitch is not more than nothing: 0cp", LIKE "."},
	{"0/8cp", "pitch is not more than nothing: 0/8cp", LIKE "."},
	{"m0", "pitch is not more than nothing: m0", LIKE "."},
	{"m-1", "pitch is not more than nothing: m-1", LIKE "."},
	{"-1/8cp", "pitch is not more than nothing: -1/8cp", LIKE "."},
	{"-99999999999999999999cp", "pitch is not more than nothing: -99999999999999999999cp",
     LIKE "."},
	{"0,125cp", "pitch with a separator inside its number: 0,125cp",
     "Type 0.125cp or 0125cp: decimals take a point, thousands take nothing."},
	{"1e1dp", "pitch with an exponent: 1e1dp", LIKE ", the digits in full."},
	{"0.1234567890123cp", "pitch with too many digits: 0.1234567890123cp",
     LIKE ", as a fraction of numbers up to 1000000000000."},
	{"1000000000001dp", "pitch with too many digits: 1000000000001dp",
     LIKE ", as a fraction of numbers up to 1000000000000."},
	{"99999999999999999999dp", "pitch with too many digits: 99999999999999999999dp",
     LIKE ", as a fraction of numbers up to 1000000000000."},
};

static void pitch_parse__not_a_pitch__refused_in_words(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(refusals); i++) {
		struct fault fault;
		struct pitch pitch;
		fault_clear(&fault);
		assert_refused(pitch_parse(refusals[i].typed, &pitch, &fault), &refusals[i], &fault);
	}
}

static void pitch_equal__across_systems__only_circular_ones_by_value(void **state)
{
	(void)state;
	static const struct {
		const char *a;
		const char *b;
		bool equal;
		const char *source;
	} rows[] = {
		{"1/8cp", "0.125cp", true, ARITHMETIC},
		{"1/8cp", "3.175mmcp", true, BURGOS},
		{"1/8cp", "3.17499999999mmcp", false, ARITHMETIC},
		{"1/8cp", "1/4cp", false, ARITHMETIC},
		{"10dp", "10.0dp", true, ARITHMETIC},
		{"10dp", "12dp", false, ARITHMETIC},
		/* The very same number, and yet not interchangeable. */
		{"m1", "25.4dp", false, FLEXOGRAPHY},
		{"m1", "1mmcp", false, FLEXOGRAPHY},
		{"10dp", "10cp", false, FLEXOGRAPHY},
		{"m1.01063", "1/8cp", false, FLEXOGRAPHY},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct pitch a = pitch_given(rows[i].a);
		struct pitch b = pitch_given(rows[i].b);
		if (pitch_equal(a, b) != rows[i].equal || pitch_equal(b, a) != rows[i].equal) {
			fail_msg("%s and %s: %s", rows[i].a, rows[i].b, rows[i].source);
		}
	}
}

static void pitch_same_class__systems__with_and_without_pi(void **state)
{
	(void)state;
	assert_true(pitch_same_class(pitch_given("1/8cp"), pitch_given("5mmcp")));
	assert_true(pitch_same_class(pitch_given("10dp"), pitch_given("m2")));
	assert_false(pitch_same_class(pitch_given("1/8cp"), pitch_given("10dp")));
	assert_false(pitch_same_class(pitch_given("m5"), pitch_given("5mmcp")));
}

static void pitch_multiples__counts__compared_exactly_in_a_class(void **state)
{
	(void)state;
	static const struct {
		int64_t count_a;
		const char *a;
		int64_t count_b;
		const char *b;
		bool equal;
		int order;
	} rows[] = {
		{96, "1/8cp", 48, "1/4cp", true, 0},
		{97, "1/8cp", 48, "1/4cp", false, 1},
		{40, "1/8cp", 127, "1mmcp", true, 0},
		{8, "5mmcp", 1, "40mmcp", true, 0},
		/* DP 12.7 is module 2 in length, though not in mesh. */
		{30, "m2", 30, "12.7dp", true, 0},
		{127, "10dp", 5, "m64.516", true, 0},
		{1000000000, "m1", 1000000000, "m1.00000000001", false, -1},
		{1000000000, "1/1000000000000cp", 999999999, "1/1000000000000cp", false, 1},
		{1000000000, "1000000000000cp", 1000000000, "1000000000000cp", true, 0},
		/* Across the classes nothing is equal, but one is longer: pi is 3.14159265358979. */
		{1, "m1", 1, "3.14159265358mmcp", false, 1},
		{1, "m1", 1, "3.14159265359mmcp", false, -1},
		{0, "m1", 0, "1mmcp", false, 0},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct pitch a = pitch_given(rows[i].a);
		struct pitch b = pitch_given(rows[i].b);
		int64_t m = rows[i].count_a;
		int64_t n = rows[i].count_b;
		assert_int_equal(pitch_multiples_equal(m, a, n, b), rows[i].equal);
		assert_int_equal(pitch_multiples_equal(n, b, m, a), rows[i].equal);
		assert_int_equal(pitch_multiples_compare(m, a, n, b), rows[i].order);
		assert_int_equal(pitch_multiples_compare(n, b, m, a), -rows[i].order);
	}
}

/* Counts beyond what is promised are still answered, if not to the last digit. */
static void pitch_multiples__beyond_128_bits__answered_by_value(void **state)
{
	(void)state;
	struct pitch longest = pitch_given("1000000000000cp");
	struct pitch shortest = pitch_given("1/1000000000000cp");
	assert_int_equal(pitch_multiples_compare(INT64_MAX, longest, INT64_MAX, shortest), 1);
	assert_int_equal(pitch_multiples_compare(INT64_MAX, shortest, INT64_MAX, longest), -1);
}

static void pitch_lengths__published__as_published(void **state)
{
	(void)state;
	static const struct {
		const char *pitch;
		int64_t teeth;
		double repeat_mm;
		double within;
		double diameter_mm; /* 0: the source gives none */
		double diameter_within;
		const char *source;
	} rows[] = {
		{"1/8cp", 1, 3.175, 0, 0, 0, BURGOS},
		{"1/4cp", 754, 188.5 * 25.4, 1e-9, 60.001 * 25.4, 0.0005 * 25.4, FLEXOGRAPHY},
		{"m1", 1, 3.1416, 0.00005, 1, 0, RACK_AND_PINION},
		{"m2", 1, 6.2832, 0.00005, 2, 0, RACK_AND_PINION},
		{"m4", 1, 12.5664, 0.00005, 4, 0, RACK_AND_PINION},
		{"25.4dp", 1, 3.1416, 0.00005, 1, 0, RACK_AND_PINION},
		{"12.7dp", 1, 6.2832, 0.00005, 2, 0, RACK_AND_PINION},
		{"6.35dp", 1, 12.5664, 0.00005, 4, 0, RACK_AND_PINION},
		{"m1.01063", 1, 3.175, 0.00002, 0, 0, ARITHMETIC},
		{"10dp", 127, 1013.41496, 0.00001, 127 * 2.54, 1e-9, ARITHMETIC},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct pitch pitch = pitch_given(rows[i].pitch);
		double repeat = real_to_mm(pitch_times(pitch, rows[i].teeth));
		double diameter = real_to_mm(pitch_diameter(pitch, rows[i].teeth));
		if (fabs(repeat - rows[i].repeat_mm) > rows[i].within) {
			fail_msg("%s: %.9f mm: %s", rows[i].pitch, repeat, rows[i].source);
		}
		if (rows[i].diameter_mm > 0 &&
		    fabs(diameter - rows[i].diameter_mm) > rows[i].diameter_within) {
			fail_msg("%s: %.9f mm of diameter: %s", rows[i].pitch, diameter, rows[i].source);
		}
	}
	assert_true(real_to_mm(pitch_length(pitch_given("1/8cp"))) == 3.175);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(pitch_parse__as_typed__reduced_and_canonical),
		cmocka_unit_test(pitch_parse__not_a_pitch__refused_in_words),
		cmocka_unit_test(pitch_equal__across_systems__only_circular_ones_by_value),
		cmocka_unit_test(pitch_same_class__systems__with_and_without_pi),
		cmocka_unit_test(pitch_multiples__counts__compared_exactly_in_a_class),
		cmocka_unit_test(pitch_multiples__beyond_128_bits__answered_by_value),
		cmocka_unit_test(pitch_lengths__published__as_published),
	};
	return cmocka_run_group_tests_name("quantity/pitch", tests, NULL, NULL);
}
