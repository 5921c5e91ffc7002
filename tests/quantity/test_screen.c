#include "expected.h"

#include <math.h>

static struct screen screen_given(const char *typed)
{
	struct fault fault;
	struct screen screen;
	fault_clear(&fault);
	assert_done(screen_parse(typed, &screen, &fault), typed, &fault);
	return screen;
}

static void screen_parse__as_typed__shown_shortest(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		const char *metric;
		const char *inch;
	} rows[] = {
		{"360lpi", "141.732/cm", "360lpi"},      {"140/cm", "140/cm", "355.6lpi"},
		{"140 l/cm", "140/cm", "355.6lpi"},      {"141.732/cm", "141.732/cm", "360lpi"},
		{"141.7321/cm", "141.732/cm", "360lpi"}, {"1000 LPI", "393.701/cm", "1000lpi"},
		{"0.001/cm", "0.001/cm", "0.003lpi"},    {"100000/cm", "100000/cm", "254000lpi"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct screen screen = screen_given(rows[i].typed);
		assert_shown(screen_text(screen, UNITS_METRIC), rows[i].metric);
		assert_shown(screen_text(screen, UNITS_INCH), rows[i].inch);
		assert_int_equal(screen_compare(screen, screen_given(rows[i].metric)), 0);
		assert_int_equal(screen_compare(screen, screen_given(rows[i].inch)), 0);
	}
}

static void screen_text__every_thousandth__re_enters(void **state)
{
	(void)state;
	for (int thousandths = 1; thousandths < 600000; thousandths += 37) {
		struct screen screen = screen_from_per_cm(thousandths / 1000.0);
		for (int units = UNITS_METRIC; units <= UNITS_INCH; units++) {
			struct quantity_text text = screen_text(screen, (enum units)units);
			assert_int_equal(screen_compare(screen, screen_given(text.bytes)), 0);
		}
	}
}

static void screen_text__no_real_screen__harmless(void **state)
{
	(void)state;
	assert_shown(screen_text(screen_from_per_cm((double)NAN), UNITS_METRIC), "0/cm");
	assert_shown(screen_text(screen_from_per_cm((double)INFINITY), UNITS_METRIC),
	             "1000000000000/cm");
	assert_shown(screen_text(screen_from_per_cm(-1), UNITS_INCH), "-2.54lpi");
}

static void screen_parse__not_a_screen__refused_in_words(void **state)
{
	(void)state;
#define LIKE "Type a screen such as 140/cm or 360lpi"
	static const struct refusal rows[] = {
		{"", "screen is blank", LIKE "."},
		{"360", "screen without a unit: 360", "Type 360/cm or 360lpi."},
		{"360dpi", "unit of screen not known: 360dpi", "Type the number and then /cm or lpi."},
		{"360lpi 2", "unit of screen not known: 360lpi 2", "Type the number and then /cm or lpi."},
		{"360\"", "unit of screen not known: 360\"", "Type the number and then /cm or lpi."},
		{"-5lpi", "screen is less than nothing: -5lpi", LIKE "."},
		{"0lpi", "screen is not more than nothing: 0lpi", LIKE "."},
		{"0.0004/cm", "screen is not more than nothing: 0.0004/cm", LIKE "."},
		{"100000.001/cm", "screen too large: 100000.001/cm", "Type at most 100000/cm."},
		{"254001lpi", "screen too large: 254001lpi", "Type at most 254000lpi."},
		{"99999999999999999999lpi", "screen too large: 99999999999999999999lpi",
	     "Type at most 254000lpi."},
		{"1/0lpi", "screen divided by nothing: 1/0lpi", LIKE "."},
		{"inflpi", "screen without a number: inflpi", LIKE "."},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		struct screen screen;
		fault_clear(&fault);
		assert_refused(screen_parse(rows[i].typed, &screen, &fault), &rows[i], &fault);
	}
}

static void screen_compare__thousandths__decide(void **state)
{
	(void)state;
	struct screen a = screen_from_per_cm(141.7322);
	assert_int_equal(screen_compare(a, screen_from_per_cm(141.7318)), 0);
	assert_int_equal(screen_compare(a, screen_from_per_cm(141.733)), -1);
	assert_int_equal(screen_compare(a, screen_from_per_cm(141.731)), 1);
}

static void screen_to__units__exact(void **state)
{
	(void)state;
	assert_true(fabs(screen_to_per_cm(screen_given("360lpi")) - 360 / 2.54) < 1e-12);
	assert_true(fabs(screen_to_lpi(screen_given("360lpi")) - 360) < 1e-12);
	assert_true(screen_to_per_cm(screen_given("140/cm")) == 140);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(screen_parse__as_typed__shown_shortest),
		cmocka_unit_test(screen_text__every_thousandth__re_enters),
		cmocka_unit_test(screen_text__no_real_screen__harmless),
		cmocka_unit_test(screen_parse__not_a_screen__refused_in_words),
		cmocka_unit_test(screen_compare__thousandths__decide),
		cmocka_unit_test(screen_to__units__exact),
	};
	return cmocka_run_group_tests_name("quantity/screen", tests, NULL, NULL);
}
