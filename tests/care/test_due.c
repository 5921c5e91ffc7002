/* What is due: each rule, that no two rows say the same, and the order of the list. */
#include <math.h>

#include "../store/promises.h"
#include "toothrack/care.h"

static struct due due_within(struct shop *shop, int64_t days)
{
	struct due listed;
	fault_clear(&shop->fault);
	assert_int_equal(care_due(shop->store, shop->arena, days, UNITS_METRIC, shop->actor.now,
	                          &listed, &shop->fault),
	                 OUTCOME_DONE);
	return listed;
}

static struct due due_now(struct shop *shop)
{
	return due_within(shop, 30);
}

static struct moment days_ago(struct shop *shop, int64_t days)
{
	return moment_add(shop->actor.now, (struct duration){.s = -days * 86400});
}

static const char *day_text(struct known_moment moment)
{
	static char text[16];
	assert_true(moment.known);
	snprintf(text, sizeof text, "%.10s", moment_text_utc(moment.value).bytes);
	return text;
}

static int64_t metres(struct known_length length)
{
	assert_true(length.known);
	return llround(length_to_m(length.value));
}

static const char *tag_of(struct shop *shop, int64_t tool)
{
	sqlite3_stmt *stmt = NULL;
	char sql[64];
	snprintf(sql, sizeof sql, "SELECT tag FROM tool WHERE id = %lld", /* NOLINT: the tests' own */
	         (long long)tool);
	assert_int_equal(sqlite3_prepare_v2(shop->store->db, sql, -1, &stmt, NULL), SQLITE_OK);
	assert_int_equal(sqlite3_step(stmt), SQLITE_ROW);
	const char *tag = arena_copy(shop->arena, (const char *)sqlite3_column_text(stmt, 0));
	sqlite3_finalize(stmt);
	return tag;
}

static void run_sql(struct shop *shop, const char *sql)
{
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
}

static int64_t add_roll(struct shop *shop, const char *run)
{
	return shop_add(shop, KIND_ANILOX,
	                WORDS("line_screen", "140/cm", "volume", "6cm3/m2", "run", run))
	    ->id;
}

/* A run of a job, as `finish` keeps it; the tool's run on record is the test's to give. */
static void ran(struct shop *shop, int64_t tool, int64_t days, int64_t web)
{
	run_sql(shop, arena_format(shop->arena,
	                           "PRAGMA foreign_keys = OFF;"
	                           "INSERT INTO web_run (tool, life, job_run, length, moment, entry)"
	                           " SELECT id, life, NULL, %lld, %lld,"
	                           " (SELECT count(*) + 1 FROM web_run) FROM tool WHERE id = %lld",
	                           (long long)web * 1000000000, (long long)days_ago(shop, days).s,
	                           (long long)tool));
}

static void care(struct shop *shop, int64_t tool, const char *what, int64_t days)
{
	run_sql(shop, arena_format(shop->arena,
	                           "INSERT INTO care (tool, life, moment, what)"
	                           " SELECT id, life, %lld, '%s' FROM tool WHERE id = %lld",
	                           (long long)days_ago(shop, days).s, what, (long long)tool));
}

static void read_clean(struct shop *shop, int64_t tool, int64_t days, const char *across,
                       const char *run)
{
	const char *moment = arena_copy(shop->arena, moment_text_utc(days_ago(shop, days)).bytes);
	struct across read;
	assert_int_equal(across_parse(across, &read, NULL), OUTCOME_DONE);
	const char *mean = arena_copy(shop->arena, volume_text(across_mean(read), UNITS_METRIC).bytes);
	shop_add(shop, KIND_READING,
	         WORDS("volume", mean, "tool", tag_of(shop, tool), "moment", moment, "across", across,
	               "method", "surface", "after", "clean", "run", run));
}

static void put(struct shop *shop, const char *name, const char *value)
{
	begin(shop);
	assert_int_equal(store_setting_write(shop->store, setting_find(name), value, &shop->actor,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

/* The one row there is. */
static const struct due_row *only(struct due listed, enum due_what what, const char *by)
{
	assert_int_equal(listed.count, 1);
	assert_int_equal(listed.rows[0].what, what);
	assert_string_equal(listed.rows[0].by, by);
	return &listed.rows[0];
}

/* ---------------------------------------------------------------- clean */

static void due__marked_dirty__overdue_since_then(void **state)
{
	struct shop *shop = *state;
	int64_t gear = add_gear(shop);
	assert_int_equal(due_now(shop).count, 0);
	care(shop, gear, "dirty", 3);
	const struct due_row *row = only(due_now(shop), DUE_CLEAN, "date");
	assert_true(row->overdue);
	assert_string_equal(day_text(row->least), "2026-11-28");
	assert_false(row->left.known);
	assert_string_equal(row->what_word, "clean");
	assert_non_null(strstr(row->text, "marked dirty since 2026-11-28"));
}

/* 1000 m a day, 20,000 m to go: in twenty days. */
static void due__web_since_the_cleaning__by_metres_at_the_recent_use(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	put(shop, "read_every", "0d");
	care(shop, roll, "cleaned", 200);
	ran(shop, roll, 150, 40000);
	ran(shop, roll, 80, 90000);
	const struct due_row *row = only(due_now(shop), DUE_CLEAN, "metres");
	assert_false(row->overdue);
	assert_int_equal(metres(row->left), 20000);
	assert_string_equal(day_text(row->least), "2026-12-21");
	assert_string_equal(row->text, "ran 130000m since the cleaning on 2026-05-15, 150000m is "
	                               "reached about 2026-12-21 at its recent use");
	assert_int_equal(due_within(shop, 19).count, 0);
	ran(shop, roll, 2, 20000);
	row = only(due_within(shop, 1), DUE_CLEAN, "metres");
	assert_true(row->overdue);
	assert_string_equal(row->text, "ran 150000m since the cleaning on 2026-05-15, 150000m at most");
	assert_int_equal(metres(row->left), 0);
	put(shop, "clean_every", "0m");
	assert_int_equal(due_now(shop).count, 0);
}

/* Whoever uses it no more need not clean it. */
static void due__web_since_the_cleaning__not_asked_without_recent_use(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	care(shop, roll, "cleaned", 200);
	ran(shop, roll, 150, 149000);
	assert_int_equal(due_now(shop).count, 0);
}

static void due__no_cleaning_on_record__says_so(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "900000m");
	put(shop, "read_every", "0d");
	assert_int_equal(due_now(shop).count, 0);
	ran(shop, roll, 50, 160000);
	const struct due_row *row = only(due_now(shop), DUE_CLEAN, "metres");
	assert_string_equal(row->text, "ran 160000m and no cleaning is on record, 150000m at most");
	care(shop, roll, "dirty", 1);
	row = only(due_now(shop), DUE_CLEAN, "metres");
	assert_true(row->overdue);
	assert_non_null(strstr(row->text, "marked dirty since"));
	assert_non_null(strstr(row->text, "; ran 160000m"));
}

/* ---------------------------------------------------------------- read */

static void due__never_read__asked_of_rolls_in_use(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	assert_int_equal(due_now(shop).count, 0);
	ran(shop, roll, 200, 1000);
	assert_int_equal(due_now(shop).count, 0);
	ran(shop, roll, 20, 1000);
	const struct due_row *row = only(due_now(shop), DUE_READ, "date");
	assert_true(row->overdue);
	assert_string_equal(day_text(row->least), "2026-05-15");
	assert_string_equal(row->text, "never read after cleaning, ran 500000m");
}

static void due__read_long_ago__asked_where_it_ran_since(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	read_clean(shop, roll, 100, "6/6/6cm3/m2", "400000m");
	assert_int_equal(due_now(shop).count, 0);
	ran(shop, roll, 20, 1000);
	const struct due_row *row = only(due_now(shop), DUE_READ, "date");
	assert_true(row->overdue);
	assert_string_equal(day_text(row->least), "2026-11-21");
	assert_string_equal(row->text, "last read on 2026-08-23, ran 1000m since, read every 90d");
	put(shop, "read_every", "110d");
	row = only(due_now(shop), DUE_READ, "date");
	assert_false(row->overdue);
	assert_string_equal(day_text(row->least), "2026-12-11");
	assert_int_equal(due_within(shop, 9).count, 0);
}

/* ---------------------------------------------------------------- decide on a roll */

static void due__past_the_loss_and_uneven__one_row_that_says_both(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	read_clean(shop, roll, 10, "4.2/4.5/4.9cm3/m2", "500000m");
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "date");
	assert_true(row->overdue);
	assert_string_equal(day_text(row->least), "2026-11-21");
	/* (4.9 - 4.2) / (13.6 / 3) */
	assert_non_null(strstr(row->text, "24.4% lost, 20% at most; left, centre and right differ by "
	                                  "15.4% of their mean, 10% at most"));
	care(shop, roll, "dirty", 1);
	assert_int_equal(due_now(shop).count, 2);
	put(shop, "uneven", "16%");
	assert_null(strstr(due_now(shop).rows[0].text, "differ"));
}

/* When it was read across is not kept: the latest reading tells no date of it. */
static void due__uneven__no_date_of_another_reading(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	read_clean(shop, roll, 10, "5.5/6/6.5cm3/m2", "400000m");
	shop_add(shop, KIND_READING,
	         WORDS("volume", "6cm3/m2", "tool", tag_of(shop, roll), "moment",
	               "2026-11-30T08:00:00Z", "method", "surface", "after", "clean", "run",
	               "500000m"));
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "date");
	assert_true(row->overdue);
	assert_false(row->least.known || row->most.known);
	assert_non_null(strstr(row->text, "left, centre and right differ by 16.7% of their mean"));
}

/* Read again past the limit it is no less urgent: it is due since the first of those readings. */
static void due__past_the_limit_read_again__since_the_first(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	read_clean(shop, roll, 60, "4.5/4.5/4.5cm3/m2", "100000m");
	read_clean(shop, roll, 50, "5.5/5.5/5.5cm3/m2", "200000m");
	read_clean(shop, roll, 40, "4.7/4.7/4.7cm3/m2", "300000m");
	read_clean(shop, roll, 1, "4.6/4.6/4.6cm3/m2", "500000m");
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "date");
	assert_true(row->overdue);
	assert_int_equal(moment_compare(row->least.value, days_ago(shop, 40)), 0);
}

/* Of 6 cm3/m2 one is gone after 500 km; 20 % are 1.2, at 600 km. Scatter makes it a range. */
static void worn(struct shop *shop, int64_t roll)
{
	read_clean(shop, roll, 50, "6/6/6cm3/m2", "0m");
	read_clean(shop, roll, 40, "5.79/5.79/5.79cm3/m2", "100000m");
	read_clean(shop, roll, 30, "5.61/5.61/5.61cm3/m2", "200000m");
	read_clean(shop, roll, 20, "5.39/5.39/5.39cm3/m2", "300000m");
	read_clean(shop, roll, 10, "5.21/5.21/5.21cm3/m2", "400000m");
	read_clean(shop, roll, 1, "5/5/5cm3/m2", "500000m");
}

static void due__trend_to_the_limit__by_forecast_within_the_days(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	put(shop, "clean_every", "0m");
	put(shop, "due_left", "0%");
	worn(shop, roll);
	assert_int_equal(due_now(shop).count, 0);
	ran(shop, roll, 60, 450000);
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "forecast");
	assert_false(row->overdue);
	assert_true(metres(row->left) > 50000 && metres(row->left) <= 100000);
	assert_true(metres(row->left_most) >= 100000 && metres(row->left_most) < 200000);
	double days = (double)(row->least.value.s - shop->actor.now.s) / 86400;
	/* 450 km in the 60 days since it first ran. */
	assert_true(fabs(days - length_to_m(row->left.value) / 7500) < 0.01);
	assert_non_null(strstr(row->text, "20% loss since new by its trend between 2026-12-"));
	assert_int_equal(due_within(shop, 5).count, 0);
	begin(shop);
	run_sql(shop,
	        arena_format(shop->arena,
	                     "UPDATE tool SET run = 650000000000000;"
	                     "INSERT INTO run_told (tool, life, moment, entry, run) SELECT id, life,"
	                     " %lld, (SELECT max(number) FROM ledger), run FROM tool",
	                     (long long)shop->actor.now.s));
	commit(shop);
	row = only(due_within(shop, 5), DUE_DECIDE, "forecast");
	assert_true(row->overdue);
	assert_string_equal(row->text, "20% loss since new by its trend is reached");
}

/* So little of the whole way to its limit is left that it is told without a date. */
static void due__trend_near_the_limit__by_web_without_recent_use(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "540000m");
	worn(shop, roll);
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "forecast");
	assert_false(row->overdue);
	assert_false(row->least.known || row->most.known);
	double left = length_to_m(row->left.value);
	double share = left / (540000 + left);
	assert_true(share > 0.02 && share < 0.1);
	assert_non_null(strstr(row->text, "20% loss since new by its trend after "));
	assert_non_null(strstr(row->text, "m of web"));
	put(shop, "due_left", arena_format(shop->arena, "%.3f%%", floor(share * 100000) / 1000));
	assert_int_equal(due_now(shop).count, 0);
	put(shop, "due_left", arena_format(shop->arena, "%.3f%%", ceil(share * 100000) / 1000));
	assert_int_equal(due_now(shop).count, 1);
}

/* Read at more than is on record: what the roll has run is what it was read at. */
static void due__read_past_the_run_on_record__whole_way_from_the_reading(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "1000m");
	worn(shop, roll);
	read_clean(shop, roll, 0, "4.93/4.93/4.93cm3/m2", "540000m");
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "forecast");
	assert_true(length_to_m(row->left.value) < 60000);
}

static void due__trend_may_be_at_the_limit__no_least(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "590000m");
	worn(shop, roll);
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "forecast");
	assert_int_equal(metres(row->left), 0);
	assert_true(strncmp(row->text, "20% loss since new by its trend within ",
	                    strlen("20% loss since new by its trend within ")) == 0);
	assert_null(strstr(row->text, "now"));
	put(shop, "clean_every", "0m");
	ran(shop, roll, 60, 90000);
	row = only(due_now(shop), DUE_DECIDE, "forecast");
	assert_non_null(strstr(row->text, "between now and 2026-12-"));
	assert_non_null(strstr(row->text, ", within "));
	assert_null(strstr(row->text, "now to"));
}

/* ---------------------------------------------------------------- blades */

static int64_t add_blade(struct shop *shop, const char *life, const char *run)
{
	return shop_add(shop, KIND_BLADE, WORDS("material", "steel", "life", life, "run", run))->id;
}

static void due__blade__by_metres_beside_what_blades_have_run(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop, "300000m", "288000m");
	put(shop, "due_left", "3.9%");
	assert_int_equal(due_now(shop).count, 0);
	ran(shop, blade, 85, 90000);
	const struct due_row *row = only(due_now(shop), DUE_BLADE, "metres");
	assert_string_equal(row->text, "12000m left of 300000m");
	assert_string_equal(row->what_word, "new blade");
	/* 90 km in the 85 days since it first ran */
	assert_string_equal(day_text(row->least), "2026-12-12");
	for (int64_t km = 200; km <= 600; km += 100) {
		run_sql(shop, arena_format(shop->arena,
		                           "INSERT INTO care (tool, life, moment, what, run, material)"
		                           " VALUES (%lld, 2, 0, 'reblade', %lld, 'steel')",
		                           (long long)blade, (long long)km * 1000000000000));
		row = only(due_now(shop), DUE_BLADE, "metres");
		assert_true((strstr(row->text, "in the middle") != NULL) == (km == 600));
	}
	assert_string_equal(row->text, "12000m left of 300000m; steel blades here ran 400000m in the "
	                               "middle of 5");
	run_sql(shop, "UPDATE tool SET run = 310000000000000");
	row = only(due_now(shop), DUE_BLADE, "metres");
	assert_true(row->overdue);
	assert_int_equal(metres(row->left), -10000);
	assert_non_null(strstr(row->text, "ran 310000m of 300000m"));
}

/* Behind what has a date, those nearest to their end first. */
static void due__blade_at_its_end__by_metres_without_recent_use(void **state)
{
	struct shop *shop = *state;
	int64_t near = add_blade(shop, "100000m", "99990m"),
			tenth = add_blade(shop, "100000m", "90000m");
	add_blade(shop, "100000m", "89999m");
	struct due listed = due_now(shop);
	assert_int_equal(listed.count, 2);
	assert_int_equal(listed.rows[0].tool.id, near);
	assert_string_equal(listed.rows[0].by, "metres");
	assert_string_equal(listed.rows[0].text, "10m left of 100000m");
	assert_false(listed.rows[0].overdue || listed.rows[0].least.known);
	assert_int_equal(listed.rows[1].tool.id, tenth);
	put(shop, "due_left", "0%");
	assert_int_equal(due_now(shop).count, 0);
	put(shop, "due_left", "10%");
	int64_t dated = add_blade(shop, "300000m", "280000m");
	ran(shop, dated, 90, 90000);
	listed = due_now(shop);
	assert_int_equal(listed.count, 3);
	assert_int_equal(listed.rows[0].tool.id, dated);
	/* Whose use is known comes by its date alone. */
	ran(shop, near, 60, 1);
	ran(shop, tenth, 60, 1000);
	assert_int_equal(due_now(shop).count, 1);
}

static void due__blade_without_a_life__by_that_of_its_material(void **state)
{
	struct shop *shop = *state;
	add_blade(shop, "", "310000m");
	assert_int_equal(due_now(shop).count, 0);
	put(shop, "life_steel", "300000m");
	assert_string_equal(only(due_now(shop), DUE_BLADE, "metres")->text,
	                    "ran 310000m of 300000m (set life_steel)");
}

/* J1: 40,000 labels and 5 %, three across, four around 304.8 mm: 3500 repeats, 1066.8 m. */
static void book_next(struct shop *shop, int64_t needed, const char *need)
{
	int64_t press = add_press(shop, "P1");
	int64_t job =
		shop_add(shop, KIND_JOB,
	             WORDS("number", "J1", "press", "P1", "quantity", "40000", "number_across", "3"))
			->id;
	struct promised_tool tool = {.tool = needed, .need = need, .station = 1};
	struct kept_promise promise = {
		.job = job,
		.press = press,
		.from = hour(6),
		.until = hour(8),
		.repeat = repeat_of_length(length_from_nm(304800000)),
		.number_around = {.known = true, .value = 4},
		.verdict = "ready",
		.answer = "{\"verdict\": \"ready\"}",
		.tools = &tool,
		.tool_count = 1,
	};
	begin(shop);
	assert_int_equal(store_promise_keep(shop->store, shop->arena, &promise, "book", NULL,
	                                    &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static void due__next_job_would_pass_the_cleaning__says_in_which(void **state)
{
	struct shop *shop = *state;
	int64_t roll = add_roll(shop, "500000m");
	put(shop, "read_every", "0d");
	care(shop, roll, "cleaned", 200);
	ran(shop, roll, 150, 149000);
	book_next(shop, roll, "anilox");
	const struct due_row *row = only(due_now(shop), DUE_CLEAN, "metres");
	assert_true(row->before_next_job);
	assert_string_equal(row->text,
	                    "ran 149000m since the cleaning on 2026-05-15, 150000m is reached in J1");
}

static void due__next_job_would_end_its_life__due_at_that_job(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop, "300000m", "299000m");
	book_next(shop, blade, "blade");
	const struct due_row *row = only(due_now(shop), DUE_BLADE, "metres");
	assert_false(row->overdue);
	assert_true(row->before_next_job);
	assert_int_equal(moment_compare(row->least.value, hour(6)), 0);
	assert_int_equal(moment_compare(row->most.value, hour(8)), 0);
	assert_string_equal(row->tool.next_job, "J1");
	assert_string_equal(row->tool.next_press, "P1");
	run_sql(shop, "UPDATE tool SET run = 298900000000000");
	assert_false(only(due_now(shop), DUE_BLADE, "metres")->least.known);
	put(shop, "due_left", "0%");
	assert_int_equal(due_now(shop).count, 0);
}

/* ---------------------------------------------------------------- one moment */

/* Another console, which writes as soon as the blades are looked at. */
struct meanwhile {
	sqlite3 *other;
	bool wrote;
};

static int write_meanwhile(unsigned what, void *context, void *stmt, void *text)
{
	struct meanwhile *meanwhile = context;
	(void)what;
	(void)stmt;
	if (!meanwhile->wrote && strstr(text, "FROM anilox k") != NULL) {
		meanwhile->wrote = true;
		assert_int_equal(sqlite3_exec(meanwhile->other,
		                              "UPDATE blade SET life = NULL;"
		                              "UPDATE tool SET run = 999000000000000 WHERE kind = 'anilox'",
		                              NULL, NULL, NULL),
		                 SQLITE_OK);
	}
	return 0;
}

static void meanwhile_begin(struct shop *shop, struct meanwhile *meanwhile)
{
	*meanwhile = (struct meanwhile){.wrote = false};
	assert_int_equal(sqlite3_open(sqlite3_db_filename(shop->store->db, "main"), &meanwhile->other),
	                 SQLITE_OK);
	sqlite3_trace_v2(shop->store->db, SQLITE_TRACE_STMT, write_meanwhile, meanwhile);
}

static void meanwhile_end(struct shop *shop, struct meanwhile *meanwhile)
{
	sqlite3_trace_v2(shop->store->db, 0, NULL, NULL);
	sqlite3_close(meanwhile->other);
	assert_true(meanwhile->wrote);
	assert_false(store_in_transaction(shop->store));
}

static void due__written_meanwhile__as_it_was(void **state)
{
	struct shop *shop = *state;
	struct meanwhile meanwhile;
	add_blade(shop, "100000m", "99990m");
	add_roll(shop, "1000m");
	meanwhile_begin(shop, &meanwhile);
	struct due listed = due_now(shop);
	meanwhile_end(shop, &meanwhile);
	assert_int_equal(listed.count, 1);
	assert_int_equal(due_now(shop).count, 0);
}

static void wear_rolls__written_meanwhile__as_it_was(void **state)
{
	struct shop *shop = *state;
	struct meanwhile meanwhile;
	struct worn *rolls;
	size_t count;
	add_roll(shop, "1000m");
	meanwhile_begin(shop, &meanwhile);
	assert_int_equal(care_wear_rolls(shop->store, shop->arena, shop->actor.now, &rolls, &count,
	                                 &shop->fault),
	                 OUTCOME_DONE);
	meanwhile_end(shop, &meanwhile);
	assert_int_equal(count, 1);
	assert_int_equal(metres(rolls[0].run), 1000);
}

/* ---------------------------------------------------------------- dies, cylinders */

static const struct due_row *die_due(struct shop *shop, const char *build, int64_t life,
                                     enum due_what what)
{
	run_sql(shop, "UPDATE tool SET condition = 'scrapped', condition_since = 0");
	int64_t die = shop_add(shop, KIND_DIE,
	                       WORDS("build", build, "teeth", "96", "pitch", "1/8cp", "life", "1000000",
	                             "run", "310000m"))
	                  ->id;
	run_sql(shop, arena_format(shop->arena, "UPDATE tool SET life = %lld WHERE id = %lld",
	                           (long long)life, (long long)die));
	return only(due_now(shop), what, "metres");
}

static void due__die_at_its_end__ground_replaced_or_given_up(void **state)
{
	struct shop *shop = *state;
	assert_string_equal(die_due(shop, "solid", 1, DUE_REGRIND)->text,
	                    "ran 1017060 of 1000000 revolutions, 310000m; not ground yet");
	assert_non_null(
		strstr(die_due(shop, "solid", 4, DUE_REGRIND)->text, "; ground 3 times so far"));
	assert_non_null(strstr(die_due(shop, "solid", 5, DUE_DECIDE)->text,
	                       "; ground 4 times, 4 at most: order a new one"));
	assert_non_null(strstr(die_due(shop, "flexible", 1, DUE_DECIDE)->text,
	                       "; a flexible die is replaced, not ground: order a new one"));
	assert_non_null(strstr(die_due(shop, "", 1, DUE_DECIDE)->text, "; build not known"));
}

static void due__runout_past_the_limit__decide(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_CYLINDER,
	         WORDS("teeth", "96", "pitch", "1/8cp", "drive", "geared", "runout", "0.0127mm"));
	assert_int_equal(due_now(shop).count, 0);
	shop_add(shop, KIND_CYLINDER,
	         WORDS("teeth", "96", "pitch", "1/8cp", "drive", "geared", "runout", "0.02mm"));
	const struct due_row *row = only(due_now(shop), DUE_DECIDE, "date");
	assert_string_equal(row->text, "runout 0.02mm, 0.0127mm at most");
	assert_false(row->least.known);
}

/* ---------------------------------------------------------------- what cannot be told */

static void due__no_life_and_no_forecast__says_what_would_help(void **state)
{
	struct shop *shop = *state;
	int64_t steel = add_blade(shop, "", "1000m");
	int64_t bare = shop_add(shop, KIND_BLADE, WORDS("length", "330mm"))->id;
	int64_t die = shop_add(shop, KIND_DIE, WORDS("build", "solid"))->id;
	int64_t roll = add_roll(shop, "500000m");
	read_clean(shop, roll, 10, "6/6/6cm3/m2", "500000m");
	assert_int_equal(due_now(shop).say_count, 0);
	ran(shop, steel, 1, 1000);
	ran(shop, bare, 1, 1000);
	ran(shop, die, 1, 1000);
	ran(shop, roll, 1, 1000);
	struct due due = due_now(shop);
	assert_int_equal(due.count, 0);
	assert_int_equal(due.say_count, 4);
	assert_string_equal(due.says[0], "life not known of 1 steel blade in use: set life_steel");
	assert_string_equal(due.says[1], "life not known of 1 blade in use, nor of what: edit each "
	                                 "with material= or life=");
	assert_string_equal(due.says[2],
	                    "life not known of 1 die in use: edit each with life=, in revolutions");
	assert_string_equal(due.says[3], "no forecast of 1 roll in use: wear TAG says what it needs");
	put(shop, "life_steel", "300000m");
	assert_int_equal(due_now(shop).say_count, 3);
}

/* ---------------------------------------------------------------- order */

static void due__order__overdue_then_by_date_then_by_what_is_left(void **state)
{
	struct shop *shop = *state;
	int64_t soon = add_blade(shop, "300000m", "288000m");
	int64_t later = add_blade(shop, "300000m", "280000m");
	int64_t no_day = add_blade(shop, "300000m", "299000m");
	int64_t over_little = add_blade(shop, "300000m", "310000m");
	int64_t over_much = add_blade(shop, "300000m", "450000m");
	int64_t dirty = add_gear(shop), dirtier = add_gear(shop);
	ran(shop, soon, 90, 90000);
	ran(shop, later, 90, 90000);
	care(shop, dirty, "dirty", 3);
	care(shop, dirtier, "dirty", 5);
	const int64_t expected[] = {dirtier, dirty, over_much, over_little, soon, later, no_day};
	struct due listed = due_now(shop);
	assert_int_equal(listed.count, COUNT_OF(expected));
	for (size_t i = 0; i < COUNT_OF(expected); i++) {
		assert_int_equal(listed.rows[i].tool.id, expected[i]);
	}
}

/* Nothing else sets them apart but the job ahead, then the tag. */
static void due__alike__by_the_start_of_the_next_job(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t first = add_gear(shop), second = add_gear(shop), booked = add_gear(shop);
	assert_int_equal(book(shop, job, press, booked, 6, 8), OUTCOME_DONE);
	care(shop, first, "dirty", 3);
	care(shop, second, "dirty", 3);
	care(shop, booked, "dirty", 3);
	struct due listed = due_now(shop);
	assert_int_equal(listed.count, 3);
	assert_int_equal(listed.rows[0].tool.id, booked);
	assert_true(listed.rows[0].before_next_job);
	assert_true(strcmp(listed.rows[1].tool.tag, listed.rows[2].tool.tag) < 0);
	assert_false(listed.rows[1].before_next_job);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(due__marked_dirty__overdue_since_then),
		SHOP_TEST(due__web_since_the_cleaning__by_metres_at_the_recent_use),
		SHOP_TEST(due__web_since_the_cleaning__not_asked_without_recent_use),
		SHOP_TEST(due__no_cleaning_on_record__says_so),
		SHOP_TEST(due__never_read__asked_of_rolls_in_use),
		SHOP_TEST(due__read_long_ago__asked_where_it_ran_since),
		SHOP_TEST(due__past_the_loss_and_uneven__one_row_that_says_both),
		SHOP_TEST(due__uneven__no_date_of_another_reading),
		SHOP_TEST(due__trend_near_the_limit__by_web_without_recent_use),
		SHOP_TEST(due__read_past_the_run_on_record__whole_way_from_the_reading),
		SHOP_TEST(due__trend_may_be_at_the_limit__no_least),
		SHOP_TEST(due__trend_to_the_limit__by_forecast_within_the_days),
		SHOP_TEST(due__past_the_limit_read_again__since_the_first),
		SHOP_TEST(due__blade__by_metres_beside_what_blades_have_run),
		SHOP_TEST(due__blade_at_its_end__by_metres_without_recent_use),
		SHOP_TEST(due__blade_without_a_life__by_that_of_its_material),
		SHOP_TEST(due__next_job_would_pass_the_cleaning__says_in_which),
		SHOP_TEST(due__next_job_would_end_its_life__due_at_that_job),
		SHOP_TEST(due__written_meanwhile__as_it_was),
		SHOP_TEST(wear_rolls__written_meanwhile__as_it_was),
		SHOP_TEST(due__die_at_its_end__ground_replaced_or_given_up),
		SHOP_TEST(due__runout_past_the_limit__decide),
		SHOP_TEST(due__no_life_and_no_forecast__says_what_would_help),
		SHOP_TEST(due__order__overdue_then_by_date_then_by_what_is_left),
		SHOP_TEST(due__alike__by_the_start_of_the_next_job),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
