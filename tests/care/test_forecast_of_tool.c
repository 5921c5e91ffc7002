/* The forecast of one tool: rolls by their trend, blades and dies by count, and what is lacking. */
#include <math.h>

#include "toothrack/care.h"
#include "../trade/builders.h"

static struct moment moment_given(const char *text)
{
	struct moment moment;
	assert_int_equal(moment_parse(text, &moment, NULL), OUTCOME_DONE);
	return moment;
}

static struct moment now(void)
{
	return moment_given("2026-12-01T08:00:00Z");
}

static int64_t metres(struct length length)
{
	return llround(length_to_m(length));
}

/* A roll of 10 cm3/m2 that has run 1500 km, with readings at whole hundreds of km. */
static struct due_tool roll(struct arena *arena, const double *volumes, size_t count)
{
	struct trend_point points[32];
	struct due_tool tool = {
		.kind = &kinds[KIND_ANILOX],
		.tag = "AN000001-R",
		.life = 1,
		.run = long_known("1500000m"),
		.volume = {.known = true, .value = volume_given("10cm3/m2")},
		.recent = length_given("90000m"),
		.wear = {.known = true, .fits = true, .run_read = length_given("1500000m")},
	};
	for (size_t i = 0; i < count; i++) {
		points[i].run = length_from_mm((double)i * 1e8);
		points[i].volume = volume_from_micro((int64_t)llround(volumes[i] * 1e6));
	}
	trend_of(arena, points, count, NULL, &tool.wear.trend);
	return tool;
}

static struct due_tool blade(const char *life, const char *run)
{
	return (struct due_tool){
		.kind = &kinds[KIND_BLADE],
		.material = "steel",
		.blade_life = life != NULL ? long_known(life) : (struct known_length){.known = false},
		.run = run != NULL ? long_known(run) : (struct known_length){.known = false},
		.recent = length_given("90000m"),
	};
}

static struct forecast told(struct arena *arena, const struct due_tool *tool)
{
	struct limits limits = limits_by_default();
	limits.life_steel = length_given("200000m");
	return care_forecast(arena, tool, &limits, duration_given("90d"), now());
}

static const double falling[] = {10, 9.9, 9.8, 9.7, 9.6, 9.5, 9.4, 9.3};

/* ---------------------------------------------------------------- rolls */

/* One cm3/m2 a million metres, of which 20 % of 10 are gone at two million. */
static void forecast__roll_that_falls__range_about_the_truth(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	double volumes[COUNT_OF(falling)];
	for (size_t i = 0; i < COUNT_OF(falling); i++) {
		volumes[i] = falling[i] + (i % 2 == 0 ? 0.02 : -0.02);
	}
	struct due_tool tool = roll(arena, volumes, COUNT_OF(volumes));
	struct forecast forecast = told(arena, &tool);
	assert_true(forecast.known);
	assert_null(forecast.why);
	assert_false(forecast.passed);
	assert_false(forecast.exact);
	assert_true(forecast.most_known);
	assert_true(metres(forecast.least) > 0 && metres(forecast.least) < 500000);
	assert_true(metres(forecast.most) > 500000);
	/* 1000 m a day */
	assert_true(forecast.days_known);
	assert_true(fabs(forecast.days_least - length_to_m(forecast.least) / 1000) < 1e-6);
	assert_true(fabs(forecast.days_most - length_to_m(forecast.most) / 1000) < 1e-6);
	double days = (double)(forecast.date_least.s - now().s) / 86400;
	assert_true(fabs(days - forecast.days_least) < 0.001);
	arena_free(arena);
}

static void forecast__line_past_the_limit__passed_and_nothing_left(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = roll(arena, falling, COUNT_OF(falling));
	tool.wear.run_read = length_given("2100000m");
	struct forecast forecast = told(arena, &tool);
	assert_true(forecast.known);
	assert_true(forecast.passed);
	assert_int_equal(metres(forecast.least), 0);
	arena_free(arena);
}

static void forecast__roll_not_used_lately__web_but_no_days(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = roll(arena, falling, COUNT_OF(falling));
	tool.recent = length_given("0m");
	struct forecast forecast = told(arena, &tool);
	assert_true(forecast.known);
	assert_false(forecast.days_known);
	assert_string_equal(forecast.why, "recent use not known");
	arena_free(arena);
}

static void forecast__roll_without__says_what_is_lacking(void **state)
{
	(void)state;
	static const double level[] = {10, 9.9, 10, 9.9, 10, 9.9, 10, 9.9};
	static const double rising[] = {9, 9.1, 9.2, 9.3, 9.4, 9.5, 9.6, 9.7};
	struct arena *arena = arena_new();
	struct due_tool tool = roll(arena, falling, 1);
	assert_string_equal(told(arena, &tool).why,
	                    "3 readings after cleaning at a known run needed, 1 on record");
	tool.wear.run_not_known = 2;
	tool.wear.other_method = 4;
	assert_string_equal(
		told(arena, &tool).why,
		"3 readings after cleaning at a known run needed, 1 on record, 2 more at a run not known, "
		"4 more by another method");
	tool.wear = (struct wear_kept){.known = false};
	assert_string_equal(told(arena, &tool).why,
	                    "3 readings after cleaning at a known run needed, 0 on record");
	tool = roll(arena, falling, COUNT_OF(falling));
	tool.volume.known = false;
	assert_string_equal(told(arena, &tool).why, "volume when new not known");
	tool = roll(arena, falling, COUNT_OF(falling));
	tool.wear.fits = false;
	assert_string_equal(told(arena, &tool).why,
	                    "the latest reading has left the trend, read it again");
	tool = roll(arena, level, COUNT_OF(level));
	assert_string_equal(told(arena, &tool).why, "readings show no trend");
	tool = roll(arena, rising, COUNT_OF(rising));
	assert_string_equal(told(arena, &tool).why, "readings rise, none tells of wear");
	assert_false(told(arena, &tool).known);
	arena_free(arena);
}

static void forecast__readings_all_at_one_run__asks_for_different_ones(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = roll(arena, falling, 1);
	struct trend_point points[3] = {{.volume = volume_from_micro(10000000)},
	                                {.volume = volume_from_micro(9000000)},
	                                {.volume = volume_from_micro(8000000)}};
	trend_of(arena, points, COUNT_OF(points), NULL, &tool.wear.trend);
	assert_string_equal(told(arena, &tool).why,
	                    "readings at different runs needed, all are at one");
	arena_free(arena);
}

/* ---------------------------------------------------------------- blades and dies */

static void forecast__blade__what_is_left_exactly(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = blade("300000m", "288000m");
	struct forecast forecast = told(arena, &tool);
	assert_true(forecast.known && forecast.exact && forecast.most_known && !forecast.passed);
	assert_int_equal(length_to_nm(forecast.least), length_to_nm(length_given("12000m")));
	assert_int_equal(length_to_nm(forecast.most), length_to_nm(length_given("12000m")));
	assert_true(fabs(forecast.days_least - 12) < 1e-9);
	assert_string_equal(moment_text_utc(forecast.date_least).bytes, "2026-12-13T08:00:00Z");
	tool = blade("300000m", "300000m");
	assert_true(told(arena, &tool).passed);
	assert_int_equal(metres(told(arena, &tool).least), 0);
	tool = blade("300000m", NULL);
	assert_int_equal(metres(told(arena, &tool).least), 300000);
	arena_free(arena);
}

static void forecast__blade_without_a_life__that_of_its_material(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = blade(NULL, "150000m");
	assert_int_equal(metres(told(arena, &tool).least), 50000);
	tool.material = "polymer";
	assert_false(told(arena, &tool).known);
	assert_string_equal(told(arena, &tool).why, "life not known");
	tool.material = NULL;
	assert_string_equal(told(arena, &tool).why, "life not known");
	arena_free(arena);
}

/* 96 teeth 1/8cp: 304.8 mm a revolution. */
static void forecast__die__revolutions_times_its_length_around(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = {
		.kind = &kinds[KIND_DIE],
		.die_life = {.known = true, .value = 1000000},
		.around = long_known("304.8mm"),
		.run = long_known("300000m"),
	};
	struct forecast forecast = told(arena, &tool);
	assert_true(forecast.known && forecast.exact);
	assert_int_equal(length_to_nm(forecast.least), length_to_nm(length_given("4800m")));
	tool.around.known = false;
	assert_string_equal(told(arena, &tool).why, "length around not known");
	tool.die_life.known = false;
	assert_string_equal(told(arena, &tool).why, "life not known");
	tool.kind = &kinds[KIND_CYLINDER];
	assert_string_equal(told(arena, &tool).why, "nothing of it is forecast");
	arena_free(arena);
}

/* ---------------------------------------------------------------- recent use */

static void per_day__first_run_lately__since_then_not_known_before_a_week(void **state)
{
	(void)state;
	struct due_tool tool = blade("300000m", "0m");
	struct duration recent = duration_given("90d");
	assert_int_equal(metres(care_per_day(&tool, recent, now())), 1000);
	tool.first_run = (struct known_moment){true, moment_given("2026-11-01T08:00:00Z")};
	assert_int_equal(metres(care_per_day(&tool, recent, now())), 3000);
	tool.first_run.value = moment_given("2026-11-30T08:00:00Z");
	assert_int_equal(metres(care_per_day(&tool, recent, now())), 0);
	tool.first_run.value = moment_given("2020-01-01T08:00:00Z");
	assert_int_equal(metres(care_per_day(&tool, recent, now())), 1000);
	tool.recent = length_given("0m");
	assert_int_equal(metres(care_per_day(&tool, recent, now())), 0);
}

static void forecast__use_of_next_to_nothing__no_date_past_a_hundred_years(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct due_tool tool = blade("300000m", "0m");
	tool.recent = length_given("1mm");
	struct forecast forecast = told(arena, &tool);
	assert_true(forecast.days_known);
	assert_true(fabs(forecast.days_least - 36500) < 1e-9);
	assert_string_equal(moment_text_utc(forecast.date_least).bytes, "2126-11-07T08:00:00Z");
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(forecast__roll_that_falls__range_about_the_truth),
		cmocka_unit_test(forecast__line_past_the_limit__passed_and_nothing_left),
		cmocka_unit_test(forecast__roll_not_used_lately__web_but_no_days),
		cmocka_unit_test(forecast__roll_without__says_what_is_lacking),
		cmocka_unit_test(forecast__readings_all_at_one_run__asks_for_different_ones),
		cmocka_unit_test(forecast__blade__what_is_left_exactly),
		cmocka_unit_test(forecast__blade_without_a_life__that_of_its_material),
		cmocka_unit_test(forecast__die__revolutions_times_its_length_around),
		cmocka_unit_test(per_day__first_run_lately__since_then_not_known_before_a_week),
		cmocka_unit_test(forecast__use_of_next_to_nothing__no_date_past_a_hundred_years),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
