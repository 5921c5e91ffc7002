#include "published.h"

#define HARPER "Harper Corporation of America, anilox tables"
#define HARPER_B HARPER " (B)"
#define IFLEXO "iFlexo, \"Anilox BCM and ink transfer volume\", 2024-01-25"
#define LINES_PER_INCH "\"Lines per inch\", doc.surf/wiki/lines-per-inch (B)"

static struct cell cell(const char *screen, const char *wall, const char *depth)
{
	struct cell result;
	struct length given = length_given(depth ? depth : "0um");
	assert_true(cell_of(screen_given(screen), length_given(wall), depth ? &given : NULL, &result));
	return result;
}

static void cell_of__published_screens__published_opening(void **state)
{
	(void)state;
	static const struct {
		const char *screen;
		double opening_um;
	} rows[] = {
		{"250lpi", 97}, {"360lpi", 66},  {"500lpi", 46},
		{"800lpi", 27}, {"1000lpi", 20}, {"1200lpi", 16},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct cell result = cell(rows[i].screen, "5um", NULL);
		assert_published(1000 * real_to_mm(result.opening), rows[i].opening_um, 0.5, HARPER_B);
		assert_true(result.depth_to_opening_percent == 0);
	}
}

static void cell_of__depth_given__percent_of_the_opening(void **state)
{
	(void)state;
	/*
	 * 100 lines/cm: 100 um from line to line, 95 um open; 28 % is called best, 23 to 33 % good:
	 * HARPER_B
	 */
	assert_published(cell("100/cm", "5um", "26.6um").depth_to_opening_percent, 28, 0, HARPER_B);
	assert_published(cell("100/cm", "5um", "21.85um").depth_to_opening_percent, 23, 0, HARPER_B);
	assert_published(cell("100/cm", "5um", "31.35um").depth_to_opening_percent, 33, 0, HARPER_B);
}

static void cell_of__wall_leaves_no_opening__refused(void **state)
{
	(void)state;
	struct cell result;
	struct screen screen = screen_given("100/cm");
	assert_false(cell_of(screen, length_given("100um"), NULL, &result));
	assert_false(cell_of(screen, length_given("101um"), NULL, &result));
	assert_true(cell_of(screen, length_given("99.99um"), NULL, &result));
	assert_false(cell_of(screen_from_per_cm(0), length_given("5um"), NULL, &result));
}

static void dot_diameter__published_tones__published_dots(void **state)
{
	(void)state;
	static const struct {
		double tone;
		double um;
	} rows[] = {{0.01, 29}, {0.02, 41}, {0.03, 50}};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_published(1000 * real_to_mm(dot_diameter(screen_given("100lpi"), rows[i].tone)),
		                 rows[i].um, 0.5, HARPER_B);
}

static void dot_diameter__no_tone_or_no_screen__no_dot(void **state)
{
	(void)state;
	assert_true(real_to_mm(dot_diameter(screen_given("100lpi"), 0)) == 0);
	assert_true(real_to_mm(dot_diameter(screen_given("100lpi"), -1)) == 0);
	assert_true(real_to_mm(dot_diameter(screen_from_per_cm(0), 0.5)) == 0);
}

static void screen_ratio_of__anilox_to_plate__quotient_in_any_unit(void **state)
{
	(void)state;
	/* 4 to 6, best 5, 2 to 3 dips dots: HARPER_B; at least 6: IFLEXO */
	assert_published(screen_ratio_of(screen_given("600lpi"), screen_given("120lpi")), 5, 0,
	                 HARPER_B);
	assert_published(screen_ratio_of(screen_given("800lpi"), screen_given("133lpi")), 800.0 / 133,
	                 0, ARITHMETIC);
	/* 100 lines/cm are 254 lines/in */
	assert_published(screen_ratio_of(screen_given("254lpi"), screen_given("100/cm")), 1, 0,
	                 LINES_PER_INCH);
	assert_true(screen_ratio_of(screen_given("600lpi"), screen_from_per_cm(0)) == 0);
}

static void volume__published_pairs__bcm_and_cm3_m2_agree(void **state)
{
	(void)state;
	static const struct {
		const char *bcm;
		double cm3_m2;
		double within;
		const char *source;
	} rows[] = {
		{"1bcm", 1.5500031, 0.0000005, ARITHMETIC ", 1e9 um3/in2"},
		{"2.4bcm", 3.72, 0.005, IFLEXO},
		{"4.0bcm", 6.2, 0.05, HARPER},
		{"6.0bcm", 9.3, 0.05, HARPER},
		{"8.0bcm", 12.4, 0.05, HARPER},
		{"11.5bcm", 17.8, 0.05, HARPER},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_published(volume_to_cm3_m2(volume_given(rows[i].bcm)), rows[i].cm3_m2,
		                 rows[i].within, rows[i].source);
}

/*
 * Which volumes are plausible for a screen, and which roll suits which work, is guidance: read as
 * it is printed.
 */
static void volume__harper_guidance__read_as_printed(void **state)
{
	(void)state;
	static const struct {
		const char *screen_from, *screen_to;
		double lpi_from, lpi_to;
		const char *volume_from, *volume_to;
		double bcm_from, bcm_to;
	} rows[] = {
		/* plausible volumes: HARPER_B */
		{"360lpi", "360lpi", 360, 360, "3.6bcm", "5.0bcm", 3.6, 5.0},
		{"360lpi", "360lpi", 360, 360, "4.3bcm", "4.3bcm", 4.3, 4.3},
		{"500lpi", "500lpi", 500, 500, "2.8bcm", "3.7bcm", 2.8, 3.7},
		{"500lpi", "500lpi", 500, 500, "3.2bcm", "3.2bcm", 3.2, 3.2},
		{"1000lpi", "1000lpi", 1000, 1000, "1.10bcm", "1.40bcm", 1.10, 1.40},
		{"1000lpi", "1000lpi", 1000, 1000, "1.25bcm", "1.25bcm", 1.25, 1.25},
		/* line and solid; text and line; vignette; process; opaque white: HARPER */
		{"180lpi", "330lpi", 180, 330, "4bcm", "8bcm", 4, 8},
		{"200lpi", "400lpi", 200, 400, "3.5bcm", "7.5bcm", 3.5, 7.5},
		{"360lpi", "500lpi", 360, 500, "2.8bcm", "4.7bcm", 2.8, 4.7},
		{"500lpi", "1200lpi", 500, 1200, "1.0bcm", "3.2bcm", 1.0, 3.2},
		{"180lpi", "250lpi", 180, 250, "8.0bcm", "11.5bcm", 8.0, 11.5},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		assert_published(screen_to_lpi(screen_given(rows[i].screen_from)), rows[i].lpi_from, 0,
		                 HARPER);
		assert_published(screen_to_lpi(screen_given(rows[i].screen_to)), rows[i].lpi_to, 0, HARPER);
		assert_published(volume_to_bcm(volume_given(rows[i].volume_from)), rows[i].bcm_from,
		                 0.000001, HARPER);
		assert_published(volume_to_bcm(volume_given(rows[i].volume_to)), rows[i].bcm_to, 0.000001,
		                 HARPER);
	}
}

static bool drawdown(const char *liquid, const char *area, struct volume *out)
{
	struct liquid given_liquid;
	struct area given_area;
	assert_int_equal(liquid_parse(liquid, &given_liquid, NULL), OUTCOME_DONE);
	assert_int_equal(area_parse(area, &given_area, NULL), OUTCOME_DONE);
	return drawdown_of(given_liquid, given_area, out);
}

static void drawdown_of__liquid_on_an_area__its_film(void **state)
{
	(void)state;
	struct volume volume;
	assert_true(drawdown("1ul", "1cm2", &volume));
	assert_int_equal(volume_to_micro(volume), 10000000); /* 10 cm3/m2, by dimensions */
	assert_true(drawdown("12ul", "25cm2", &volume));
	assert_published(volume_to_cm3_m2(volume), 4.8, 0, ARITHMETIC);
	assert_true(drawdown("10ul", "4in2", &volume));
	assert_published(volume_to_bcm(volume), 2.5, 0.000001, ARITHMETIC ", 1 ul is 1e9 um3");
	assert_true(drawdown("1ul", "3cm2", &volume));
	assert_int_equal(volume_to_micro(volume), 3333333);
	assert_true(drawdown("2ul", "3cm2", &volume));
	assert_int_equal(volume_to_micro(volume), 6666667);
}

static void drawdown_of__no_area__refused(void **state)
{
	(void)state;
	struct volume volume;
	assert_false(drawdown("1ul", "0cm2", &volume));
	assert_true(drawdown("0ul", "1cm2", &volume));
	assert_int_equal(volume_to_micro(volume), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cell_of__published_screens__published_opening),
		cmocka_unit_test(cell_of__depth_given__percent_of_the_opening),
		cmocka_unit_test(cell_of__wall_leaves_no_opening__refused),
		cmocka_unit_test(dot_diameter__published_tones__published_dots),
		cmocka_unit_test(dot_diameter__no_tone_or_no_screen__no_dot),
		cmocka_unit_test(screen_ratio_of__anilox_to_plate__quotient_in_any_unit),
		cmocka_unit_test(volume__published_pairs__bcm_and_cm3_m2_agree),
		cmocka_unit_test(volume__harper_guidance__read_as_printed),
		cmocka_unit_test(drawdown_of__liquid_on_an_area__its_film),
		cmocka_unit_test(drawdown_of__no_area__refused),
	};
	return cmocka_run_group_tests_name("trade/anilox_cells", tests, NULL, NULL);
}
