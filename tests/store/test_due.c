/* What `due` reads of every tool: its care, its use, its next job; and how blades have run. */
#include "promises.h"

/* What a test keeps of what was given. */
struct given {
	struct arena *arena;
	struct due_tool tools[16];
	const char *tags[16], *jobs[16], *presses[16], *places[16];
	size_t count, stop_at;
};

static enum outcome keep_tool(const struct due_tool *tool, void *context)
{
	struct given *given = context;
	assert_true(given->count < COUNT_OF(given->tools));
	given->tools[given->count] = *tool;
	given->tags[given->count] = arena_copy(given->arena, tool->tag);
	given->jobs[given->count] = arena_copy(given->arena, tool->next_job);
	given->presses[given->count] = arena_copy(given->arena, tool->next_press);
	given->places[given->count] = arena_copy(given->arena, tool->place);
	given->count++;
	return given->count == given->stop_at ? OUTCOME_NO : OUTCOME_DONE;
}

static struct moment days_ago(struct shop *shop, int64_t days)
{
	return moment_add(shop->actor.now, (struct duration){.s = -days * 86400});
}

static struct given *given_of(struct shop *shop)
{
	struct given *given = arena_take(shop->arena, 1, sizeof *given);
	given->arena = shop->arena;
	assert_int_equal(store_due(shop->store, NULL, 0, shop->actor.now, days_ago(shop, 90), keep_tool,
	                           given, &shop->fault),
	                 OUTCOME_DONE);
	return given;
}

static int64_t add_roll(struct shop *shop, const char *run)
{
	return shop_add(shop, KIND_ANILOX,
	                WORDS("line_screen", "140/cm", "volume", "6cm3/m2", "run", run))
	    ->id;
}

/* A run of a job, in the life that runs, as `finish` keeps it. */
static void ran(struct shop *shop, int64_t tool, int64_t days, int64_t metres)
{
	char sql[512];
	snprintf(sql, sizeof sql, /* NOLINT: the tests' own */
	         "PRAGMA foreign_keys = OFF;"
	         "INSERT INTO web_run (tool, life, job_run, length, moment, entry) VALUES (%lld,"
	         " (SELECT life FROM tool WHERE id = %lld),"
	         " (SELECT count(*) FROM web_run) + 1, %lld, %lld,"
	         " (SELECT count(*) FROM web_run) + 1)",
	         (long long)tool, (long long)tool, (long long)metres * 1000000000,
	         (long long)days_ago(shop, days).s);
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
}

static void care(struct shop *shop, int64_t tool, const char *what, int64_t days, int64_t life)
{
	char sql[256];
	snprintf(sql, sizeof sql, /* NOLINT: the tests' own */
	         "INSERT INTO care (tool, life, moment, what) VALUES (%lld, %lld, %lld, '%s')",
	         (long long)tool, (long long)life, (long long)days_ago(shop, days).s, what);
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
}

static void read_clean(struct shop *shop, int64_t days, const char *volume)
{
	const char *moment = arena_copy(shop->arena, moment_text_utc(days_ago(shop, days)).bytes);
	shop_add(shop, KIND_READING,
	         WORDS("tool", given_of(shop)->tags[0], "moment", moment, "volume", volume, "after",
	               "clean"));
}

static int64_t metres(struct length length)
{
	return length_to_nm(length) / 1000000000;
}

/* ---------------------------------------------------------------- use */

static void store_due__runs__counted_from_each_moment(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "700000m");
	ran(shop, roll, 200, 1000);
	ran(shop, roll, 100, 2000);
	ran(shop, roll, 90, 4000);
	ran(shop, roll, 30, 8000);
	care(shop, roll, "cleaned", 150, 1);
	care(shop, roll, "cleaned", 300, 1);
	struct given *given = given_of(shop);
	assert_int_equal(given->count, 1);
	const struct due_tool *tool = &given->tools[0];
	assert_int_equal(metres(tool->recent), 12000);
	assert_int_equal(metres(tool->since_cleaned), 14000);
	assert_int_equal(metres(tool->since_read), 700000);
	assert_int_equal(moment_compare(tool->first_run.value, days_ago(shop, 200)), 0);
	assert_int_equal(moment_compare(tool->cleaned.value, days_ago(shop, 150)), 0);
	assert_false(tool->read.known);
}

static void store_due__never_cleaned__all_the_runs_of_the_life(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "700000m");
	ran(shop, roll, 500, 1000);
	ran(shop, roll, 10, 2000);
	assert_int_equal(metres(given_of(shop)->tools[0].since_cleaned), 3000);
	assert_int_equal(shop_run(shop, "UPDATE tool SET life = 2, run = NULL"), SQLITE_OK);
	ran(shop, roll, 5, 500);
	const struct due_tool *tool = &given_of(shop)->tools[0];
	assert_int_equal(tool->life, 2);
	assert_int_equal(metres(tool->since_cleaned), 500);
	assert_int_equal(metres(tool->since_read), 500);
	assert_int_equal(metres(tool->recent), 500);
	assert_int_equal(moment_compare(tool->first_run.value, days_ago(shop, 5)), 0);
}

/* What was cleaned when it was read need not be told a second time. */
static void store_due__reading_after_cleaning__tells_of_a_cleaning(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "700000m");
	care(shop, roll, "cleaned", 60, 1);
	care(shop, roll, "dirty", 50, 1);
	ran(shop, roll, 40, 1000);
	ran(shop, roll, 20, 2000);
	assert_true(given_of(shop)->tools[0].dirty.known);
	read_clean(shop, 30, "5.8cm3/m2");
	const struct due_tool *tool = &given_of(shop)->tools[0];
	assert_int_equal(moment_compare(tool->read.value, days_ago(shop, 30)), 0);
	assert_int_equal(moment_compare(tool->cleaned.value, days_ago(shop, 30)), 0);
	assert_int_equal(metres(tool->since_cleaned), 2000);
	assert_int_equal(metres(tool->since_read), 2000);
	assert_false(tool->dirty.known);
	assert_true(tool->wear.known);
	assert_int_equal(volume_to_micro(tool->wear.clean_volume.value), 5800000);
}

/* ---------------------------------------------------------------- dirt */

static void store_due__dirt__stands_until_a_cleaning_or_a_new_life(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "0m");
	care(shop, roll, "dirty", 10, 1);
	assert_true(given_of(shop)->tools[0].dirty.known);
	care(shop, roll, "cleaned", 10, 1);
	assert_false(given_of(shop)->tools[0].dirty.known);
	care(shop, roll, "dirty", 10, 1);
	assert_true(given_of(shop)->tools[0].dirty.known);
	care(shop, roll, "cleaned", 11, 1);
	assert_true(given_of(shop)->tools[0].dirty.known);
	assert_int_equal(shop_run(shop, "UPDATE tool SET life = 2"), SQLITE_OK);
	assert_false(given_of(shop)->tools[0].dirty.known);
}

/* ---------------------------------------------------------------- which tools */

static void store_due__kinds__each_with_its_own_and_none_that_is_scrapped(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	add_roll(shop, "0m");
	shop_add(shop, KIND_BLADE, WORDS("material", "coated", "life", "300000m", "place", "R1"));
	shop_add(shop, KIND_DIE,
	         WORDS("build", "solid", "teeth", "96", "pitch", "1/8cp", "life", "1000000"));
	shop_add(shop, KIND_CYLINDER,
	         WORDS("teeth", "96", "pitch", "1/8cp", "drive", "geared", "runout", "0.02mm"));
	add_gear(shop);
	shop_add(shop, KIND_MAGNETIC_CYLINDER, WORDS("teeth", "96", "pitch", "1/8cp"));
	shop_add(shop, KIND_BLADE, WORDS("condition", "scrapped", "note", "bent"));
	struct given *given = given_of(shop);
	assert_int_equal(given->count, 6);
	assert_int_equal(given->tools[0].kind->id, KIND_ANILOX);
	assert_true(given->tools[0].line_screen.known);
	assert_false(given->tools[0].wear.known);
	assert_string_equal(given->places[1], "R1");
	assert_int_equal(metres(given->tools[1].blade_life.value), 300000);
	assert_int_equal(given->tools[2].die_life.value, 1000000);
	assert_int_equal(length_to_nm(given->tools[2].around.value), 304800000);
	assert_int_equal(length_to_nm(given->tools[3].runout.value), 20000);
	assert_false(given->tools[3].gauged.known);
	assert_int_equal(given->tools[4].kind->id, KIND_GEAR);
	assert_int_equal(given->tools[5].kind->id, KIND_MAGNETIC_CYLINDER);
}

static void store_due__who_takes_stops__nothing_more_given(void **state)
{
	struct shop *shop = *state;
	struct given given = {.arena = shop->arena, .stop_at = 2};
	add_gear(shop);
	add_gear(shop);
	add_gear(shop);
	assert_int_equal(store_due(shop->store, NULL, 0, shop->actor.now, days_ago(shop, 90), keep_tool,
	                           &given, &shop->fault),
	                 OUTCOME_NO);
	assert_int_equal(given.count, 2);
}

/* ---------------------------------------------------------------- the next job */

static void store_due__bookings__the_first_that_has_not_ended(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t early = add_job(shop, "J1", "P1"), late = add_job(shop, "J2", "P1");
	assert_null(given_of(shop)->jobs[0]);
	assert_int_equal(book(shop, late, press, gear, 12, 14), OUTCOME_DONE);
	assert_int_equal(book(shop, early, press, gear, 6, 8), OUTCOME_DONE);
	struct given *given = given_of(shop);
	assert_string_equal(given->jobs[0], "J1");
	assert_string_equal(given->presses[0], "P1");
	assert_int_equal(moment_compare(given->tools[0].next_from.value, hour(6)), 0);
	assert_int_equal(moment_compare(given->tools[0].next_until.value, hour(8)), 0);
	shop->actor.now = hour(7);
	assert_string_equal(given_of(shop)->jobs[0], "J1");
	shop->actor.now = hour(8);
	assert_string_equal(given_of(shop)->jobs[0], "J2");
	shop->actor.now = hour(15);
	assert_null(given_of(shop)->jobs[0]);
}

/* ---------------------------------------------------------------- lives of blades */

static void took_off(struct shop *shop, const char *material, int64_t metres)
{
	char sql[256];
	snprintf(sql, sizeof sql, /* NOLINT: the tests' own */
	         "INSERT INTO care (tool, life, moment, what, run, material)"
	         " VALUES ((SELECT min(id) FROM tool), 2, 0, 'reblade', %lld, '%s')",
	         (long long)metres * 1000000000, material);
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
}

static struct lives_run lives(struct shop *shop, const char *material)
{
	struct lives_run out;
	assert_int_equal(store_blades_run(shop->store, material, &out, &shop->fault), OUTCOME_DONE);
	return out;
}

static void blades_run__of_a_material__median_of_those_taken_off(void **state)
{
	struct shop *shop = *state;
	add_gear(shop);
	assert_int_equal(lives(shop, "steel").count, 0);
	took_off(shop, "steel", 300000);
	took_off(shop, "coated", 900000);
	assert_int_equal(lives(shop, "steel").count, 1);
	assert_int_equal(metres(lives(shop, "steel").middle), 300000);
	took_off(shop, "steel", 200000);
	assert_int_equal(metres(lives(shop, "steel").middle), 250000);
	took_off(shop, "steel", 100000);
	assert_int_equal(lives(shop, "steel").count, 3);
	assert_int_equal(metres(lives(shop, "steel").middle), 200000);
	assert_int_equal(shop_run(shop,
	                          "INSERT INTO care (tool, life, moment, what, material)"
	                          " VALUES ((SELECT min(id) FROM tool), 2, 0, 'reblade', 'steel')"),
	                 SQLITE_OK);
	assert_int_equal(lives(shop, "steel").count, 3);
	assert_int_equal(metres(lives(shop, "coated").middle), 900000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_due__runs__counted_from_each_moment),
		SHOP_TEST(store_due__never_cleaned__all_the_runs_of_the_life),
		SHOP_TEST(store_due__reading_after_cleaning__tells_of_a_cleaning),
		SHOP_TEST(store_due__dirt__stands_until_a_cleaning_or_a_new_life),
		SHOP_TEST(store_due__kinds__each_with_its_own_and_none_that_is_scrapped),
		SHOP_TEST(store_due__who_takes_stops__nothing_more_given),
		SHOP_TEST(store_due__bookings__the_first_that_has_not_ended),
		SHOP_TEST(blades_run__of_a_material__median_of_those_taken_off),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
