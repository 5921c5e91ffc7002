/*
 * Rolls that wear, and blades and dies whose lives end, from the shop to check, ahead, choices,
 * what serves, earliest and promises: each by the length of the job's own run. Jobs print 12 labels
 * of 100 mm x 73 mm a repeat of 304.8 mm: 1000 labels, with 5 % over, take 89 repeats, 27.1272 m;
 * 100 000 take 8751, 2667.3048 m. Trends are invented, far steeper than any roll's.
 */
#include "planning.h"

#define LITTLE "1000"
#define MUCH "100000"

/* A roll of 4.6 cm3/m2 when new, as it was read last; its trend tells so much by now and less with
 * every metre. */
static int64_t roll_that_wears(struct shop *shop, const char *read, double now, double slope)
{
	int64_t roll = tool_new(shop, KIND_ANILOX, WORDS("volume", "4.6cm3/m2"));
	struct record *record;
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[KIND_ANILOX], roll, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	shop_add(shop, KIND_READING,
	         WORDS("tool", record_words(record, "tag"), "moment", "2026-11-01", "volume", read,
	               "after", "clean"));
	char sql[256];
	snprintf(sql, sizeof sql, /* NOLINT: the tests' own */
	         "UPDATE anilox SET forecast = %.1f, forecast_slope = %.3f WHERE tool = %lld", now,
	         slope, (long long)roll);
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
	return roll;
}

/* One of everything but rolls. */
static void stock_without_rolls(struct shop *shop, int sets)
{
	for (int i = 0; i < sets; i++) {
		for (enum kind_id kind = KIND_CYLINDER; kind <= KIND_MAGNETIC_CYLINDER; kind++) {
			if (kind != KIND_ANILOX) {
				tool_new(shop, kind, NULL);
			}
		}
	}
}

static int64_t job_of(struct shop *shop, const char *number, const char *quantity,
                      const char *const *more)
{
	const char *words[WORDS_MOST] = {"quantity", quantity};
	size_t count = 2;
	for (size_t i = 0; more[i] != NULL; i++) {
		words[count++] = more[i];
	}
	int64_t job = job_new(shop, number, "P1", words);
	station_new(shop, number, "1", "black", "4cm3/m2");
	return job;
}

static int64_t job_between(struct shop *shop, const char *number, const char *quantity,
                           int64_t from, int64_t until)
{
	return job_of(shop, number, quantity,
	              WORDS("teeth", "96", "pitch", "1/8cp", "number_around", "4", "from",
	                    hour_text(shop, from), "until", hour_text(shop, until)));
}

static struct check checked(struct shop *shop, const char *job)
{
	struct limits limits = default_limits();
	const struct check_request request = {
		.job = job,
		.now = shop->actor.now,
		.limits = &limits,
	};
	struct check check;
	assert_int_equal(plan_check(shop->store, shop->arena, &request, &check, &shop->fault),
	                 OUTCOME_DONE);
	return check;
}

static const struct finding *finding_of(const struct check *check, const char *need)
{
	for (size_t i = 0; i < check->finding_count; i++) {
		if (strcmp(check->findings[i].need, need) == 0) {
			return &check->findings[i];
		}
	}
	return NULL;
}

/* ---------------------------------------------------------------- one job */

/* 3.70 by now, 0.2 less with every 1000 m: 3.69 after the short run, 3.17 after the long one. */
static void check__roll_in_by_now_and_out_at_the_end__short_and_said_why(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4cm3/m2", 3700000, -200);
	job_of(shop, "J1", LITTLE, REPEAT_ORDER);
	job_of(shop, "J2", MUCH, REPEAT_ORDER);
	struct check check = checked(shop, "J1");
	assert_int_equal(check.verdict, VERDICT_READY);
	assert_int_equal(volume_to_micro(check.stations[0].volume.value), 3694575);
	assert_string_equal(check.stations[0].anilox.what,
	                    "200/cm, 3.69cm3/m2 at the end of the run, face 330mm");
	check = checked(shop, "J2");
	const struct finding *finding = finding_of(&check, "anilox");
	assert_int_equal(finding->level, FINDING_SHORT);
	assert_non_null(strstr(finding->text, "volume 3.17cm3/m2 at the end of the run, 4.00cm3/m2 "
	                                      "+/-10% wanted"));
	/* as it was read it would do */
	run_sql(shop, "UPDATE anilox SET forecast = NULL, forecast_slope = NULL", 0, 0);
	assert_int_equal(checked(shop, "J2").verdict, VERDICT_READY);
}

/* 4.45 by now, which is too much: 4.36 when 27 m have been run. */
static void check__roll_too_full_by_now_and_in_at_the_end__found_whatever_the_repeat(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4.5cm3/m2", 4450000, -3500);
	job_of(shop, "J1", LITTLE, REPEAT_ORDER);
	job_of(shop, "J2", LITTLE, NEW_JOB);
	for (const char *job = "J1"; job != NULL; job = job[1] == '1' ? "J2" : NULL) {
		struct check check = checked(shop, job);
		assert_int_equal(check.verdict, VERDICT_READY);
		assert_int_equal(volume_to_micro(check.stations[0].volume.value), 4355055);
	}
}

/* 20 % of 4.6 are lost at 3.68. */
static void check__lost_past_the_limit_at_the_end__caution(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4cm3/m2", 3700000, -1000);
	job_of(shop, "J1", LITTLE, REPEAT_ORDER);
	struct check check = checked(shop, "J1");
	assert_int_equal(check.verdict, VERDICT_CAUTION);
	assert_non_null(strstr(finding_of(&check, "anilox")->text,
	                       "volume 3.67cm3/m2 at the end of the run by its trend, 4.60cm3/m2 when "
	                       "new: 20.2% lost, 20% at most"));
}

/* Of two, the one nearer to what is asked at the end of the run, not by now. */
static void check__two_rolls__the_nearer_at_the_end_of_the_run(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4cm3/m2", 4050000, -100);
	roll_that_wears(shop, "4cm3/m2", 4100000, -1);
	job_of(shop, "J1", LITTLE, REPEAT_ORDER);
	job_of(shop, "J2", MUCH, REPEAT_ORDER);
	assert_string_equal(tag_shown(checked(shop, "J1").stations[0].anilox.tag).bytes, "AN000001-R");
	assert_string_equal(tag_shown(checked(shop, "J2").stations[0].anilox.tag).bytes, "AN000002-P");
}

static const char *lacks_of_only_choice(struct shop *shop, const char *job)
{
	struct limits limits = default_limits();
	const struct check_request request = {.job = job, .now = shop->actor.now, .limits = &limits};
	struct choice *choices;
	size_t count;
	assert_int_equal(plan_choices(shop->store, shop->arena, &request, &choices, &count,
	                              &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	return choices[0].lacks;
}

static void choices__roll_out_at_the_end__lacks_it(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4cm3/m2", 3700000, -200);
	job_of(shop, "J1", LITTLE, NEW_JOB);
	job_of(shop, "J2", MUCH, NEW_JOB);
	assert_string_equal(lacks_of_only_choice(shop, "J1"), "");
	assert_string_equal(lacks_of_only_choice(shop, "J2"), "anilox at station 1");
}

/* Before a repeat is chosen nobody knows how long the run is: the roll may not be passed over. */
static void choices__roll_too_full_by_now_and_in_at_the_end__lacks_nothing(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4.5cm3/m2", 4450000, -3500);
	job_of(shop, "J1", LITTLE, NEW_JOB);
	job_of(shop, "J2", MUCH, NEW_JOB);
	assert_string_equal(lacks_of_only_choice(shop, "J1"), "");
	assert_string_equal(lacks_of_only_choice(shop, "J2"), "anilox at station 1");
}

static void serves__roll_out_at_the_end__only_the_short_run(void **state)
{
	struct shop *shop = *state;
	struct limits limits = default_limits();
	struct served served;
	int64_t roll = roll_that_wears(shop, "4cm3/m2", 3700000, -200);
	int64_t little = job_of(shop, "J1", LITTLE, REPEAT_ORDER);
	int64_t much = job_of(shop, "J2", MUCH, REPEAT_ORDER);
	assert_int_equal(plan_serves(shop->store, shop->arena, little, roll, shop->actor.now, &limits,
	                             &served, &shop->fault),
	                 OUTCOME_DONE);
	assert_true(served.serves);
	assert_int_equal(plan_serves(shop->store, shop->arena, much, roll, shop->actor.now, &limits,
	                             &served, &shop->fault),
	                 OUTCOME_DONE);
	assert_false(served.serves);
	assert_non_null(strstr(served.text, "volume 3.17cm3/m2 at the end of the run"));
}

/* ---------------------------------------------------------------- all jobs together */

static bool is_served(const struct ahead *ahead, const char *number)
{
	return told(ahead, number)->tool_count > 0;
}

/* They ask the same but for their runs: what serves the one does not serve the other. */
static void ahead__runs_of_two_lengths__the_long_one_is_short(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	roll_that_wears(shop, "4cm3/m2", 3700000, -200);
	job_between(shop, "J1", MUCH, 10, 12);
	job_between(shop, "J2", LITTLE, 14, 16);
	job_between(shop, "J3", MUCH, 18, 20);
	job_between(shop, "J4", LITTLE, 22, 24);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_false(is_served(ahead, "J1"));
	assert_true(is_served(ahead, "J2"));
	assert_false(is_served(ahead, "J3"));
	assert_true(is_served(ahead, "J4"));
}

/* The same where its line screen is not known: a last choice, and out all the same. */
static void ahead__screen_not_known__the_long_one_is_short(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	int64_t roll = roll_that_wears(shop, "4cm3/m2", 3700000, -200);
	run_sql(shop, "UPDATE anilox SET line_screen = NULL WHERE tool = %lld", roll, 0);
	job_between(shop, "J1", LITTLE, 10, 12);
	job_between(shop, "J2", MUCH, 14, 16);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_true(is_served(ahead, "J1"));
	assert_false(is_served(ahead, "J2"));
}

/* What would do stands in the order of each run's own end. */
static void ahead__two_rolls__in_the_order_of_the_end_of_each_run(void **state)
{
	struct shop *shop = *state;
	stock_without_rolls(shop, 1);
	int64_t steep = roll_that_wears(shop, "4cm3/m2", 4050000, -100);
	int64_t flat = roll_that_wears(shop, "4cm3/m2", 4100000, -1);
	job_between(shop, "J1", LITTLE, 10, 12);
	job_between(shop, "J2", MUCH, 14, 16);
	struct horizon *horizon = modelled(shop, planning_of(shop));
	assert_int_equal(tool_of_way(horizon, need_at(horizon, "J1", JOINT_ROLLS, 1), 0), steep);
	assert_int_equal(tool_of_way(horizon, need_at(horizon, "J2", JOINT_ROLLS, 1), 0), flat);
	arena_free(horizon->scratch);
}

/* Rolls whose trend tells nothing are looked at once for all runs. */
static void ahead__no_roll_forecasts__one_list_for_all_runs(void **state)
{
	struct shop *shop = *state;
	stock(shop, 1);
	job_between(shop, "J1", LITTLE, 10, 12);
	job_between(shop, "J2", MUCH, 14, 16);
	struct horizon *horizon = modelled(shop, planning_of(shop));
	assert_ptr_equal(need_at(horizon, "J1", JOINT_ROLLS, 1)->ways,
	                 need_at(horizon, "J2", JOINT_ROLLS, 1)->ways);
	arena_free(horizon->scratch);
}

/* Where a life that ends within the run does not suit: a blade of 1000 m, a die of 5000 turns. */
static void ahead__life_that_ends_within_the_run__short_where_the_shop_says_so(void **state)
{
	static const char *const shorten[] = {
		"UPDATE blade SET life = 1000000000000 WHERE %lld = %lld",
		"UPDATE die SET life = 5000 WHERE %lld = %lld",
	};
	struct shop *shop = *state;
	stock(shop, 1);
	job_between(shop, "J1", MUCH, 10, 12);
	job_between(shop, "J2", LITTLE, 14, 16);
	for (size_t i = 0; i < COUNT_OF(shorten); i++) {
		struct planning *planning = planning_of(shop);
		run_sql(shop, "UPDATE blade SET life = 100000000000000 WHERE %lld = %lld", 0, 0);
		run_sql(shop, shorten[i], 0, 0);
		struct ahead *ahead = together(shop, planning);
		assert_int_equal(told(ahead, "J1")->verdict, VERDICT_CAUTION);
		assert_int_equal(told(ahead, "J2")->verdict, VERDICT_READY);
		planning->limits.life_over = LIFE_OVER_SHORT;
		ahead = together(shop, planning);
		assert_false(is_served(ahead, "J1"));
		assert_true(is_served(ahead, "J2"));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(check__roll_in_by_now_and_out_at_the_end__short_and_said_why),
		GATHERING_TEST(check__roll_too_full_by_now_and_in_at_the_end__found_whatever_the_repeat),
		GATHERING_TEST(check__lost_past_the_limit_at_the_end__caution),
		GATHERING_TEST(check__two_rolls__the_nearer_at_the_end_of_the_run),
		GATHERING_TEST(choices__roll_out_at_the_end__lacks_it),
		GATHERING_TEST(choices__roll_too_full_by_now_and_in_at_the_end__lacks_nothing),
		GATHERING_TEST(serves__roll_out_at_the_end__only_the_short_run),
		GATHERING_TEST(ahead__runs_of_two_lengths__the_long_one_is_short),
		GATHERING_TEST(ahead__screen_not_known__the_long_one_is_short),
		GATHERING_TEST(ahead__two_rolls__in_the_order_of_the_end_of_each_run),
		GATHERING_TEST(ahead__no_roll_forecasts__one_list_for_all_runs),
		GATHERING_TEST(ahead__life_that_ends_within_the_run__short_where_the_shop_says_so),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
