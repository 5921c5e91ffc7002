/* Trends kept: which readings are in them, at which run, and when they are worked out anew. */
#include "shop.h"

/* A roll put on record with 1,000,000 m run. */
static int64_t roll_of(struct shop *shop)
{
	return shop_add(shop, KIND_ANILOX,
	                WORDS("volume", "7cm3/m2", "run", "1000000m", "line_screen", "140/cm"))
	    ->id;
}

static struct wear_kept wear_of(struct shop *shop, int64_t tool)
{
	struct wear_kept wear;
	assert_int_equal(store_wear(shop->store, shop->arena, tool, &wear, &shop->fault), OUTCOME_DONE);
	return wear;
}

/* A reading at a moment of December 2026, by words as CSV gives them. */
static void read_roll(struct shop *shop, const char *moment, const char *volume, const char *after,
                      const char *run, const char *method)
{
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", moment, "volume", volume, "after", after, "run",
	               run, "method", method));
}

static void store_wear__never_read__not_known(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	assert_false(wear_of(shop, roll).known);
	assert_int_equal(shop_number(shop, "SELECT forecast IS NULL FROM anilox"), 1);
}

static void store_wear__two_readings__too_few_and_the_latest_known(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	read_roll(shop, "2026-12-02T08:00Z", "7cm3/m2", "clean", "1000000m", "surface");
	read_roll(shop, "2026-12-03T08:00Z", "6.8cm3/m2", "clean", "2000000m", "surface");
	struct wear_kept wear = wear_of(shop, roll);
	assert_true(wear.known);
	assert_int_equal(wear.trend.says, TREND_TOO_FEW);
	assert_int_equal(wear.trend.count, 2);
	assert_int_equal(volume_to_micro(wear.clean_volume.value), 6800000);
	assert_int_equal(shop_number(shop, "SELECT forecast IS NULL FROM anilox"), 1);
}

/* 0.1 cm3/m2 lost a million metres, to the last digit: the line is told without scatter. */
static void read_falling(struct shop *shop)
{
	static const char *const volumes[] = {"6.9cm3/m2", "6.8cm3/m2", "6.7cm3/m2",
	                                      "6.6cm3/m2", "6.5cm3/m2", "6.4cm3/m2"};
	for (size_t i = 0; i < COUNT_OF(volumes); i++) {
		read_roll(shop, arena_format(shop->arena, "2026-12-%02zuT08:00Z", i + 2), volumes[i],
		          "clean", arena_format(shop->arena, "%zu000000m", i + 1), "surface");
	}
}

static void store_wear__readings_fall__slope_and_what_the_check_reads(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	union any_tool tool;
	read_falling(shop);
	struct wear_kept wear = wear_of(shop, roll);
	assert_int_equal(wear.trend.says, TREND_FALLS);
	assert_int_equal(wear.trend.count, 6);
	assert_true(wear.trend.slope > -0.1000001 && wear.trend.slope < -0.0999999);
	assert_true(wear.trend.at_zero > 6.9999 && wear.trend.at_zero < 7.0001);
	/* 1,000,000 m are on record, but it had run 6,000,000 when it was read: the line lies at 6.4.
	 */
	assert_int_equal(store_tool(shop->store, shop->arena, KIND_ANILOX, roll, &tool, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "SELECT CAST(round(forecast) AS INTEGER) FROM anilox"),
	                 6400000);
	assert_int_equal(shop_number(shop,
	                             "SELECT CAST(round(forecast_slope * 1e6) AS INTEGER) FROM anilox"),
	                 -100000);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM wear_stale"), 0);
}

/* What the roll had run is corrected: what is given with the readings stays, the present moves. */
static void store_wear__run_corrected__what_it_tells_by_now_follows(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	struct record *record;
	bool changed;
	read_falling(shop);
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[KIND_ANILOX], roll, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	record_value(record, "run")->length = length_from_mm(7e9);
	assert_int_equal(moment_parse("2026-12-20T08:00Z", &shop->actor.now, NULL), OUTCOME_DONE);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_update(shop->store, shop->arena, record, &shop->actor, &changed,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "SELECT CAST(round(forecast) AS INTEGER) FROM anilox"),
	                 6300000);
}

static void store_wear__readings_after_a_run__not_in_it_but_tell_what_cleaning_gave(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	read_falling(shop);
	read_roll(shop, "2026-12-09T08:00Z", "5.1cm3/m2", "run", "6100000m", "surface");
	read_roll(shop, "2026-12-09T10:00Z", "6.4cm3/m2", "clean", "6100000m", "surface");
	struct wear_kept wear = wear_of(shop, roll);
	assert_int_equal(wear.trend.count, 7);
	assert_int_equal(volume_to_micro(wear.gave_back.value), 1300000);
	assert_true(wear.trend.slope < -0.09 && wear.trend.slope > -0.11);
}

/* Another method reads otherwise: a step from one to the other is no wear. */
static void store_wear__two_methods__those_by_the_commoner_one(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	read_falling(shop);
	read_roll(shop, "2026-12-09T08:00Z", "3cm3/m2", "clean", "6100000m", "drawdown");
	struct wear_kept wear = wear_of(shop, roll);
	assert_int_equal(wear.trend.count, 6);
	assert_int_equal(wear.other_method, 1);
	assert_string_equal(wear.method, "surface");
	assert_int_equal(volume_to_micro(wear.clean_volume.value), 3000000);
}

/* Before the roll was put on record nobody followed what it ran. */
static void store_wear__read_before_it_was_on_record__run_not_known(void **state)
{
	struct shop *shop = *state;
	struct wear_reading *readings;
	size_t count;
	int64_t roll = roll_of(shop);
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", "2026-11-01T08:00Z", "volume", "6.9cm3/m2",
	               "after", "clean"));
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", "2026-12-01T08:00Z", "volume", "6.8cm3/m2",
	               "after", "clean"));
	assert_int_equal(wear_of(shop, roll).run_not_known, 1);
	assert_int_equal(wear_of(shop, roll).trend.count, 1);
	assert_int_equal(store_wear_readings(shop->store, shop->arena, roll, &readings, &count,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 2);
	assert_false(readings[0].run.known);
	assert_false(readings[0].counted);
	assert_true(readings[1].counted);
	assert_int_equal(length_compare(readings[1].run.value, length_from_mm(1e9)), 0);
}

/* A roll that had run nothing when it was put on record had run nothing before; else who knows. */
static void store_wear__new_roll_read_before_it_was_on_record__at_0(void **state)
{
	struct shop *shop = *state;
	int64_t roll = shop_add(shop, KIND_ANILOX, WORDS("volume", "7cm3/m2", "run", "0m"))->id;
	int64_t other = shop_add(shop, KIND_ANILOX, WORDS("volume", "7cm3/m2"))->id;
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000002-P", "moment", "2026-11-01T08:00Z", "volume", "6.9cm3/m2",
	               "after", "clean"));
	assert_int_equal(wear_of(shop, other).run_not_known, 1);
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", "2026-11-01T08:00Z", "volume", "6.9cm3/m2",
	               "after", "clean"));
	assert_int_equal(wear_of(shop, roll).run_not_known, 0);
	assert_int_equal(wear_of(shop, roll).trend.count, 1);
}

static void store_wear__engraved_since__only_what_was_read_from_then_on(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	struct record *record;
	bool changed;
	read_falling(shop);
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[KIND_ANILOX], roll, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	struct value *engraved = record_value(record, "engraved");
	engraved->known = true;
	assert_int_equal(moment_parse("2026-12-05", &engraved->moment, NULL), OUTCOME_DONE);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_update(shop->store, shop->arena, record, &shop->actor, &changed,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(wear_of(shop, roll).trend.count, 3);
}

/* A reading far below the line: the trend before it is not what the roll does now. */
static void store_wear__latest_far_from_the_line__no_forecast_until_the_limit_allows(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	read_falling(shop);
	read_roll(shop, "2026-12-09T08:00Z", "5.9cm3/m2", "clean", "7000000m", "surface");
	struct wear_kept wear = wear_of(shop, roll);
	assert_int_equal(wear.trend.says, TREND_FALLS);
	assert_false(wear.fits);
	assert_int_equal(shop_number(shop, "SELECT forecast IS NULL FROM anilox"), 1);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_setting_write(shop->store, setting_find("trend_match"), "20%",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_true(wear_of(shop, roll).fits);
	assert_int_equal(shop_number(shop, "SELECT forecast IS NULL FROM anilox"), 0);
}

/* Web between the two wears it; and what a run left comes before what cleaning made of it. */
static void store_wear__gave_back__only_where_no_web_lies_between(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	read_roll(shop, "2026-12-02T08:00Z", "6cm3/m2", "run", "1000000m", "surface");
	read_roll(shop, "2026-12-03T08:00Z", "6.5cm3/m2", "clean", "1400000m", "surface");
	assert_false(wear_of(shop, roll).gave_back.known);
	read_roll(shop, "2026-12-04", "6.4cm3/m2", "clean", "1500000m", "surface");
	read_roll(shop, "2026-12-04", "5.9cm3/m2", "run", "1500000m", "surface");
	assert_int_equal(volume_to_micro(wear_of(shop, roll).gave_back.value), 500000);
}

static void store_wear__uneven__of_the_latest_read_across(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop);
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", "2026-12-02T08:00Z", "across", "6.3/6/5.7cm3/m2",
	               "volume", "6cm3/m2", "after", "clean"));
	read_roll(shop, "2026-12-03T08:00Z", "5.9cm3/m2", "clean", "1100000m", NULL);
	struct wear_kept wear = wear_of(shop, roll);
	assert_true(wear.uneven.known);
	struct value uneven = {.type = VALUE_PERCENT, .known = true, .percent = wear.uneven.value};
	assert_int_equal(value_to_stored(&uneven), 100000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_wear__never_read__not_known),
		SHOP_TEST(store_wear__two_readings__too_few_and_the_latest_known),
		SHOP_TEST(store_wear__readings_fall__slope_and_what_the_check_reads),
		SHOP_TEST(store_wear__run_corrected__what_it_tells_by_now_follows),
		SHOP_TEST(store_wear__readings_after_a_run__not_in_it_but_tell_what_cleaning_gave),
		SHOP_TEST(store_wear__two_methods__those_by_the_commoner_one),
		SHOP_TEST(store_wear__read_before_it_was_on_record__run_not_known),
		SHOP_TEST(store_wear__new_roll_read_before_it_was_on_record__at_0),
		SHOP_TEST(store_wear__engraved_since__only_what_was_read_from_then_on),
		SHOP_TEST(store_wear__latest_far_from_the_line__no_forecast_until_the_limit_allows),
		SHOP_TEST(store_wear__gave_back__only_where_no_web_lies_between),
		SHOP_TEST(store_wear__uneven__of_the_latest_read_across),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
