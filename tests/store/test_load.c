/*
 * What the check reads: tools within bounds, who else has them, what a roll was read at; and how
 * the store looks it up.
 */
#include "shop.h"

static struct length length_of(const char *text)
{
	struct length length;
	assert_int_equal(length_parse(text, &length, NULL), OUTCOME_DONE);
	return length;
}

static size_t cylinders_between(struct shop *shop, int64_t job, const char *least, const char *most,
                                struct cylinder **out)
{
	size_t count;
	assert_int_equal(store_cylinders(shop->store, shop->arena, job, length_of(least),
	                                 length_of(most), out, &count, &shop->fault),
	                 OUTCOME_DONE);
	return count;
}

static void store_cylinders__bounds__inclusive_and_scrapped_left_out(void **state)
{
	struct shop *shop = *state;
	struct cylinder *cylinders;
	shop_add(shop, KIND_CYLINDER, WORDS("teeth", "96", "pitch", "1/8cp"));
	shop_add(shop, KIND_CYLINDER, WORDS("repeat", "304.8mm", "drive", "gearless"));
	shop_add(shop, KIND_CYLINDER, WORDS("teeth", "96", "pitch", "1/8cp", "condition", "scrapped"));
	shop_add(shop, KIND_CYLINDER, WORDS("teeth", "97", "pitch", "1/8cp"));
	assert_int_equal(cylinders_between(shop, 0, "304.8mm", "304.8mm", &cylinders), 2);
	assert_int_equal(cylinders_between(shop, 0, "304.800001mm", "307mm", &cylinders), 0);
	assert_int_equal(cylinders_between(shop, 0, "0mm", "307.975mm", &cylinders), 3);
}

static void store_cylinders__attributes__as_put_on_record(void **state)
{
	struct shop *shop = *state;
	struct cylinder *cylinders;
	shop_add(shop, KIND_PLACE, WORDS("code", "S1", "sort", "supplier"));
	shop_add(shop, KIND_JOB, WORDS("number", "J9"));
	shop_add(shop, KIND_CYLINDER,
	         WORDS("teeth", "96", "pitch", "1/8cp", "drive", "demountable", "place", "S1", "back",
	               "2026-12-03", "face", "330mm", "face_from", "10mm", "face_to", "300mm", "fit",
	               "b,a", "carries", "J9", "condition", "hold", "note", "bent", "run", "12m"));
	assert_int_equal(cylinders_between(shop, 0, "0mm", "1m", &cylinders), 1);
	const struct cylinder *cylinder = &cylinders[0];
	assert_int_equal(cylinder->drive, DRIVE_DEMOUNTABLE);
	assert_int_equal(cylinder->tool.sort, SORT_SUPPLIER);
	assert_true(cylinder->tool.back.known && cylinder->tool.back.value.date);
	assert_string_equal(cylinder->tool.fit, "a,b");
	assert_string_equal(cylinder->tool.carries, "J9");
	assert_int_equal(cylinder->tool.condition, CONDITION_HOLD);
	assert_string_equal(cylinder->tool.condition_text, "bent");
	assert_true(cylinder->tool.face_from.known && cylinder->tool.run.known);
	assert_false(cylinder->undercut.known);
}

static void store_cylinders__promises__other_jobs_only(void **state)
{
	struct shop *shop = *state;
	struct cylinder *cylinders;
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P1", "drive", "servo", "stations", "2", "die_stations", "1"));
	struct record *running =
		shop_add(shop, KIND_JOB,
	             WORDS("number", "J1", "state", "running", "press", "P1", "from",
	                   "2026-12-01T06:00", "until", "2026-12-01T09:00"));
	shop_add(shop, KIND_JOB, WORDS("number", "J2", "press", "P1"));
	struct record *cylinder =
		shop_add(shop, KIND_CYLINDER, WORDS("teeth", "96", "pitch", "1/8cp", "place", "P1-2"));
	assert_int_equal(
		shop_run(shop, arena_format(shop->arena,
	                                "INSERT INTO booking (tool, job, need, station, starts, ends)"
	                                " VALUES (%lld, %lld, 'cylinder', 1, 100, 200)",
	                                (long long)cylinder->id, (long long)running->id)),
		SQLITE_OK);
	assert_int_equal(
		shop_run(shop, "UPDATE tool SET taken_for = (SELECT id FROM job WHERE number = 'J2')"),
		SQLITE_OK);
	cylinders_between(shop, 0, "0mm", "1m", &cylinders);
	assert_int_equal(cylinders[0].tool.press_promise_count, 1);
	assert_string_equal(cylinders[0].tool.press_promises[0].job, "J1");
	assert_true(cylinders[0].tool.press_promises[0].until.known);
	assert_int_equal(cylinders[0].tool.promise_count, 2);
	assert_string_equal(cylinders[0].tool.press_code, "P1");
	cylinders_between(shop, running->id, "0mm", "1m", &cylinders);
	assert_int_equal(cylinders[0].tool.press_promise_count, 0);
	assert_int_equal(cylinders[0].tool.promise_count, 1);
	assert_string_equal(cylinders[0].tool.promises[0].job, "J2");
}

static void booking__overlap__refused_touching_not(void **state)
{
	struct shop *shop = *state;
	struct record *gear = shop_add(shop, KIND_GEAR, WORDS("note", "x"));
	struct record *one = shop_add(shop, KIND_JOB, WORDS("number", "J1"));
	struct record *two = shop_add(shop, KIND_JOB, WORDS("number", "J2"));
	const char *insert = "INSERT INTO booking (tool, job, need, station, starts, ends)"
						 " VALUES (%lld, %lld, 'gear', 1, %d, %d)";
	long long tool = gear->id, first = one->id, second = two->id;
	assert_int_equal(shop_run(shop, arena_format(shop->arena, insert, tool, first, 100, 200)),
	                 SQLITE_OK);
	assert_int_equal(shop_run(shop, arena_format(shop->arena, insert, tool, second, 199, 300)),
	                 SQLITE_CONSTRAINT);
	assert_int_equal(shop_run(shop, arena_format(shop->arena, insert, tool, second, 100, 100)),
	                 SQLITE_CONSTRAINT);
	assert_int_equal(shop_run(shop, arena_format(shop->arena, insert, tool, second, 200, 300)),
	                 SQLITE_OK);
}

static struct anilox only_roll(struct shop *shop)
{
	struct anilox *rolls;
	size_t count;
	const struct roll_bounds all = {
		.screen_least = screen_from_per_cm(0),
		.screen_most = screen_from_per_cm(1e6),
		.volume_least = volume_from_micro(0),
		.volume_most = volume_from_micro(INT64_MAX),
	};
	assert_int_equal(store_rolls(shop->store, shop->arena, 0, &all, 1, length_from_nm(0), &rolls,
	                             &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	return rolls[0];
}

static void store_rolls__readings__latest_clean_since_engraved(void **state)
{
	struct shop *shop = *state;
	struct record *roll =
		shop_add(shop, KIND_ANILOX,
	             WORDS("line_screen", "200/cm", "volume", "6cm3/m2", "engraved", "2026-03-01"));
	const char *tag = record_words(roll, "tag");
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-02-28T23:59:59", "volume", "1cm3/m2", "after",
	               "clean"));
	assert_false(only_roll(shop).reading.now.known);
	assert_false(only_roll(shop).reading.read_after_run_only);
	shop_add(shop, KIND_READING, WORDS("tool", tag, "moment", "2026-11-01", "volume", "2cm3/m2"));
	assert_false(only_roll(shop).reading.now.known);
	assert_true(only_roll(shop).reading.read_after_run_only);
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-03-01", "volume", "5cm3/m2", "after", "clean"));
	assert_int_equal(volume_to_micro(only_roll(shop).reading.now.value), 5000000);
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-03-01", "volume", "4cm3/m2", "after", "clean"));
	assert_int_equal(volume_to_micro(only_roll(shop).reading.now.value), 4000000);
}

static size_t rolls_at_end(struct shop *shop, int64_t least, int64_t most, struct known_length run)
{
	struct anilox *rolls;
	size_t count;
	const struct roll_bounds bounds = {
		.screen_least = screen_from_per_cm(100),
		.screen_most = screen_from_per_cm(300),
		.volume_least = volume_from_micro(least),
		.volume_most = volume_from_micro(most),
		.run_most = run,
	};
	const struct roll_bounds twice[] = {bounds, bounds};
	assert_int_equal(store_rolls(shop->store, shop->arena, 0, twice, 2, length_from_nm(0), &rolls,
	                             &count, &shop->fault),
	                 OUTCOME_DONE);
	return count;
}

static size_t rolls_of_volume(struct shop *shop, int64_t least, int64_t most)
{
	return rolls_at_end(shop, least, most, (struct known_length){.known = false});
}

/* The column that the triggers keep follows every change of a reading, and a life begun anew. */
static void store_rolls__volume__as_new_or_as_read_last(void **state)
{
	struct shop *shop = *state;
	struct record *roll =
		shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm", "volume", "6cm3/m2"));
	const char *tag = record_words(roll, "tag");
	assert_int_equal(rolls_of_volume(shop, 6000000, 6000000), 1);
	assert_int_equal(rolls_of_volume(shop, 0, 5999999), 0);
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-03-01", "volume", "5cm3/m2", "after", "clean"));
	assert_int_equal(rolls_of_volume(shop, 5000000, 5000000), 1);
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-04-01", "volume", "4cm3/m2", "after", "run"));
	assert_int_equal(rolls_of_volume(shop, 4000000, 4000000), 0);
	assert_int_equal(shop_run(shop, "UPDATE reading SET after = 'clean'"), SQLITE_OK);
	assert_int_equal(rolls_of_volume(shop, 4000000, 4000000), 1);
	assert_int_equal(rolls_of_volume(shop, 5000000, 5000000), 0);
	assert_int_equal(shop_run(shop, "DELETE FROM reading WHERE volume = 4000000"), SQLITE_OK);
	assert_int_equal(rolls_of_volume(shop, 5000000, 5000000), 1);
	assert_int_equal(shop_run(shop, "UPDATE tool SET life = life + 1"), SQLITE_OK);
	assert_int_equal(rolls_of_volume(shop, 5000000, 5000000), 0);
	assert_int_equal(rolls_of_volume(shop, 6000000, 6000000), 1);
	assert_int_equal(shop_run(shop, "UPDATE anilox SET volume = NULL"), SQLITE_OK);
	assert_int_equal(rolls_of_volume(shop, 1, 1), 1);
}

/* 5.2 cm3/m2 by its trend, 5 less a metre: of the volumes that it passes on a run it is one. */
static void store_rolls__trend__where_it_passes_through_the_volumes_on_the_run(void **state)
{
	struct shop *shop = *state;
	const struct known_length run = {true, length_of("100m")}, none = {true, length_of("0m")};
	const struct known_length any = {.known = false};
	struct record *roll =
		shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm", "volume", "6cm3/m2"));
	shop_add(shop, KIND_READING,
	         WORDS("tool", record_words(roll, "tag"), "moment", "2026-03-01", "volume", "5cm3/m2",
	               "after", "clean"));
	assert_false(only_roll(shop).forecast.known);
	assert_int_equal(rolls_at_end(shop, 5100000, 5300000, any), 0);
	assert_int_equal(shop_run(shop,
	                          "UPDATE anilox SET forecast = 5200000.0, forecast_slope = -5.0"),
	                 SQLITE_OK);
	assert_true(only_roll(shop).forecast.known);
	assert_true(only_roll(shop).forecast.now == 5200000.0);
	assert_true(only_roll(shop).forecast.slope == -5.0);
	assert_int_equal(rolls_at_end(shop, 5200000, 5200000, none), 1);
	assert_int_equal(rolls_at_end(shop, 5200001, 5300000, any), 0);
	assert_int_equal(rolls_at_end(shop, 5100000, 5199999, none), 0);
	assert_int_equal(rolls_at_end(shop, 5100000, 5199500, run), 1);
	assert_int_equal(rolls_at_end(shop, 5100000, 5199499, run), 0);
	assert_int_equal(rolls_at_end(shop, 0, 0, any), 1);
	/* below nothing it holds nothing */
	assert_int_equal(shop_run(shop, "UPDATE anilox SET forecast = -1.0"), SQLITE_OK);
	assert_int_equal(rolls_at_end(shop, 0, 0, none), 1);
	assert_int_equal(rolls_at_end(shop, 1, 4999999, any), 0);
}

/* Of a surface engraved since the readings no trend of them tells. */
static void store_rolls__trend_of_readings_before_the_engraving__none(void **state)
{
	struct shop *shop = *state;
	struct record *roll =
		shop_add(shop, KIND_ANILOX,
	             WORDS("line_screen", "200/cm", "volume", "6cm3/m2", "engraved", "2026-03-01"));
	shop_add(shop, KIND_READING,
	         WORDS("tool", record_words(roll, "tag"), "moment", "2026-02-01", "volume", "5cm3/m2",
	               "after", "clean"));
	assert_int_equal(shop_run(shop,
	                          "UPDATE anilox SET forecast = 5200000.0, forecast_slope = -5.0"),
	                 SQLITE_OK);
	assert_false(only_roll(shop).forecast.known);
}

static void store_rolls__screen_not_known__among_them_and_others_not(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_ANILOX, WORDS("volume", "6cm3/m2"));
	shop_add(shop, KIND_ANILOX, WORDS("line_screen", "301/cm", "volume", "6cm3/m2"));
	assert_int_equal(rolls_of_volume(shop, 6000000, 6000000), 1);
	assert_int_equal(rolls_of_volume(shop, 5000000, 5000000), 0);
}

static void store_press_read__stations__with_hold_and_processes(void **state)
{
	struct shop *shop = *state;
	struct press_state press;
	struct found found;
	shop_add(shop, KIND_PLACE,
	         WORDS("code", "P1-2", "sort", "press", "processes", "flexo", "condition", "hold",
	               "note", "bent"));
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P1", "drive", "geared", "stations", "2", "die_stations", "1", "pitches",
	               "1/8cp,m1", "speed", "120m/min"));
	assert_int_equal(store_find(shop->store, "P1", REFER_PRESSES, &found, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_press_read(shop->store, shop->arena, found.id, &press, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(press.station_count, 3);
	assert_int_equal(press.press.pitch_count, 2);
	assert_true(press.press.speed.known);
	assert_string_equal(speed_text(press.press.speed.value, UNITS_METRIC).bytes, "120m/min");
	assert_false(press.stations[0].held);
	assert_true(press.stations[1].held);
	assert_string_equal(press.stations[1].reason, "bent");
	assert_string_equal(press.stations[1].processes, "flexo");
	assert_true(press.stations[2].die);
}

/*
 * Every limit of check.md, "common practice, no source" but for the runout (PrintWiki, "Total
 * Indicated Runout").
 */
static void store_limits__defaults__those_of_the_check(void **state)
{
	struct shop *shop = *state;
	struct limits limits;
	assert_int_equal(store_limits(shop->store, &limits, &shop->fault), OUTCOME_DONE);
	assert_int_equal(length_to_nm(limits.buildup), 25000);
	assert_int_equal(length_to_nm(limits.spread), 50000);
	assert_int_equal(length_to_nm(limits.runout), 12700);
	assert_int_equal(length_to_nm(limits.repeat_match), 10000);
	assert_int_equal(length_to_nm(limits.blade_length_match), 10000000);
	assert_int_equal(length_to_nm(limits.die_match), 50000);
	assert_int_equal(length_to_nm(limits.liner_match), 2000);
	assert_string_equal(percent_text(limits.volume_tolerance).bytes, "10%");
	assert_string_equal(percent_text(limits.volume_loss).bytes, "20%");
	assert_string_equal(percent_text(limits.overs).bytes, "5%");
	assert_string_equal(duration_text(limits.turnaround).bytes, "1h");
	assert_true(limits.screen_ratio > 3.999 && limits.screen_ratio < 4.001);
	assert_int_equal(limits.life_over, LIFE_OVER_CAUTION);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_setting_write(shop->store, setting_find("life_over"), "short",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_limits(shop->store, &limits, &shop->fault), OUTCOME_DONE);
	assert_int_equal(limits.life_over, LIFE_OVER_SHORT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_cylinders__bounds__inclusive_and_scrapped_left_out),
		SHOP_TEST(store_cylinders__attributes__as_put_on_record),
		SHOP_TEST(store_cylinders__promises__other_jobs_only),
		SHOP_TEST(booking__overlap__refused_touching_not),
		SHOP_TEST(store_rolls__readings__latest_clean_since_engraved),
		SHOP_TEST(store_rolls__volume__as_new_or_as_read_last),
		SHOP_TEST(store_rolls__trend__where_it_passes_through_the_volumes_on_the_run),
		SHOP_TEST(store_rolls__trend_of_readings_before_the_engraving__none),
		SHOP_TEST(store_rolls__screen_not_known__among_them_and_others_not),
		SHOP_TEST(store_press_read__stations__with_hold_and_processes),
		SHOP_TEST(store_limits__defaults__those_of_the_check),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
