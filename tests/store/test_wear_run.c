/* What a roll had run by its readings: as told with its record or with readings, and by jobs
 * between. */
#include "shop.h"

/* It is this hour of a day of December from now on. */
static void on(struct shop *shop, int day, int hour)
{
	assert_int_equal(moment_parse(arena_format(shop->arena, "2026-12-%02dT%02d:00Z", day, hour),
	                              &shop->actor.now, NULL),
	                 OUTCOME_DONE);
}

/* A roll put on record on the first, with what it had run; -1: not known. */
static int64_t roll_of(struct shop *shop, int64_t metres)
{
	on(shop, 1, 8);
	if (shop_number(shop, "SELECT count(*) FROM job") == 0) {
		shop_add(shop, KIND_JOB, WORDS("number", "J1"));
	}
	const char *run = metres >= 0 ? arena_format(shop->arena, "%lldm", (long long)metres) : NULL;
	return shop_add(shop, KIND_ANILOX,
	                run != NULL ? WORDS("volume", "7cm3/m2", "run", run)
	                            : WORDS("volume", "7cm3/m2"))
	    ->id;
}

/* A job finished at eight of a day, as `finish` keeps it. */
static void ran(struct shop *shop, int64_t tool, int day, int64_t metres)
{
	struct entry entry = {.word = "finish", .subject_kind = "job", .subject = 1};
	long long nm = (long long)metres * 1000000000;
	on(shop, day, 8);
	entry.happened = shop->actor.now;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(ledger_write(shop->store, &entry, &shop->actor, &shop->fault), OUTCOME_DONE);
	const char *sql =
		"INSERT INTO web_run (tool, life, length, moment, entry, run_known)"
		" SELECT id, life, %lld, %lld, %lld, run IS NOT NULL FROM tool WHERE id = %lld;"
		" UPDATE tool SET run = coalesce(run, 0) + %lld WHERE id = %lld;"
		" UPDATE job SET state = 'finished'";
	assert_int_equal(shop_run(shop, arena_format(shop->arena, sql, nm, (long long)entry.happened.s,
	                                             (long long)shop->store->ledger_end.number,
	                                             (long long)tool, nm, (long long)tool)),
	                 SQLITE_OK);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

/* Read after cleaning, at nine of a day; `run` NULL: not told with it. */
static void read_on(struct shop *shop, int day, const char *run)
{
	on(shop, day, 9);
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment",
	               arena_format(shop->arena, "2026-12-%02dT09:00Z", day), "volume", "6.5cm3/m2",
	               "after", "clean", run != NULL ? "run" : NULL, run));
}

/* The record told right, at ten of a day; -1: not known. */
static void told(struct shop *shop, int64_t roll, int day, int64_t metres)
{
	struct record *record;
	bool changed;
	on(shop, day, 10);
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[KIND_ANILOX], roll, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	struct value *run = record_value(record, "run");
	run->known = metres >= 0;
	run->length = length_from_mm((double)metres * 1000);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_update(shop->store, shop->arena, record, &shop->actor, &changed,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

#define NOBODY_KNOWS (-1)

/* Metres by each reading, and that another way of asking tells the same; what is kept is whole. */
static void assert_runs(struct shop *shop, int64_t tool, const int64_t *runs, size_t count)
{
	struct wear_reading *readings;
	size_t found;
	struct proof proof;
	assert_int_equal(store_wear_readings(shop->store, shop->arena, tool, &readings, &found,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(found, count);
	for (size_t i = 0; i < count; i++) {
		struct known_length run = readings[i].run, again;
		assert_int_equal(run.known ? (int64_t)length_to_m(run.value) : NOBODY_KNOWS, runs[i]);
		assert_int_equal(store_run_at(shop->store, shop->arena, tool, readings[i].moment, &again,
		                              &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(again.known, run.known);
		assert_true(!run.known || length_compare(again.value, run.value) == 0);
	}
	enum outcome outcome = store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault);
	if (outcome != OUTCOME_DONE) {
		fail_msg("%s", proof.damages_kept > 0 ? proof.damages[0].text : shop->fault.sentence);
	}
}
#define ASSERT_RUNS(shop, tool, ...) \
	assert_runs(shop, tool, (const int64_t[]){__VA_ARGS__}, \
	            COUNT_OF(((const int64_t[]){__VA_ARGS__})))

static struct wear_kept wear_of(struct shop *shop, int64_t tool)
{
	struct wear_kept wear;
	assert_int_equal(store_wear(shop->store, shop->arena, tool, &wear, &shop->fault), OUTCOME_DONE);
	return wear;
}

/* Told by a device on a roll whose run nobody keeps: what jobs ran since comes on top. */
static void wear_run__told_with_a_reading_then_jobs__counted_on(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, -1);
	read_on(shop, 2, "1100000m");
	ran(shop, roll, 3, 300000);
	read_on(shop, 4, NULL);
	ASSERT_RUNS(shop, roll, 1100000, 1400000);
	assert_true(length_to_m(wear_of(shop, roll).run_read) > 1399999);
}

/* Where nobody has ever told it, it is counted from when the roll was put on record. */
static void wear_run__never_told__by_jobs_alone(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, -1);
	read_on(shop, 2, NULL);
	ran(shop, roll, 3, 300000);
	read_on(shop, 4, NULL);
	ASSERT_RUNS(shop, roll, 0, 300000);
}

/* Told at last, it is known of all that was read before too; from a run that could not be, not. */
static void wear_run__told_after_jobs__readings_before_by_it(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, -1);
	read_on(shop, 2, NULL);
	ran(shop, roll, 3, 300000);
	read_on(shop, 4, NULL);
	told(shop, roll, 5, 2300000);
	read_on(shop, 6, NULL);
	ran(shop, roll, 7, 100000);
	read_on(shop, 8, NULL);
	ASSERT_RUNS(shop, roll, 2000000, 2300000, 2300000, 2400000);
	assert_true(length_to_m(wear_of(shop, roll).run_read) > 2399999);
	told(shop, roll, 9, 200000);
	ASSERT_RUNS(shop, roll, NOBODY_KNOWS, 100000, 100000, 200000);
}

/* To more, it ran meanwhile; to less, what was on record was never so. */
static void wear_run__corrected__to_more_from_then_on_to_less_before_too(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 1000000);
	read_on(shop, 2, NULL);
	told(shop, roll, 3, 1400000);
	read_on(shop, 4, NULL);
	ASSERT_RUNS(shop, roll, 1000000, 1400000);
	told(shop, roll, 5, 1300000);
	ASSERT_RUNS(shop, roll, 1000000, 1300000);
	told(shop, roll, 6, 100000);
	ASSERT_RUNS(shop, roll, 100000, 100000);
}

/* Put on record late, a reading lies where one of that hour lies that was put there at once. */
static void wear_run__reading_late__as_one_in_time(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 260000);
	read_on(shop, 2, NULL);
	told(shop, roll, 3, 2260000);
	on(shop, 4, 12);
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", "2026-12-02T10:00Z", "volume", "6.5cm3/m2",
	               "after", "clean"));
	ASSERT_RUNS(shop, roll, 260000, 260000);
}

/* A run of a job typed ten times too long, put right with the record: what was read before stays.
 */
static void wear_run__job_too_long_then_put_right__readings_before_it_stay(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 5000000);
	read_on(shop, 2, NULL);
	ran(shop, roll, 3, 100000);
	read_on(shop, 4, NULL);
	ran(shop, roll, 5, 100000);
	read_on(shop, 6, NULL);
	ran(shop, roll, 7, 1000000);
	read_on(shop, 8, NULL);
	ASSERT_RUNS(shop, roll, 5000000, 5100000, 5200000, 6200000);
	told(shop, roll, 9, 5300000);
	read_on(shop, 10, NULL);
	ASSERT_RUNS(shop, roll, 5000000, 5100000, 5200000, 5300000, 5300000);
}

/* The same of a roll new on record, whose jobs ran less than the slip. */
static void wear_run__job_too_long_on_a_new_roll__readings_before_it_stay(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 0);
	ran(shop, roll, 2, 100000);
	read_on(shop, 3, NULL);
	ran(shop, roll, 4, 1000000);
	read_on(shop, 5, NULL);
	told(shop, roll, 6, 200000);
	ASSERT_RUNS(shop, roll, 100000, 200000);
}

/* Typed too great or too small, and right the next day: only what was read between is moved. */
static void wear_run__slip_told_then_put_right__only_between_them(void **state)
{
	struct shop *shop = *state;
	static const int64_t slips[] = {54100000, 541000};
	for (size_t i = 0; i < COUNT_OF(slips); i++) {
		int64_t roll = roll_of(shop, 5300000);
		const char *tag = i == 0 ? "AN000001-R" : "AN000002-P";
		for (int day = 2; day <= 8; day += 2) {
			on(shop, day, 9);
			shop_add(shop, KIND_READING,
			         WORDS("tool", tag, "moment",
			               arena_format(shop->arena, "2026-12-%02dT09:00Z", day), "volume",
			               "6.5cm3/m2", "after", "clean"));
			if (day == 4) {
				told(shop, roll, 5, slips[i]);
			} else if (day == 6) {
				told(shop, roll, 7, 5410000);
			}
		}
		ASSERT_RUNS(shop, roll, 5300000, 5300000, i == 0 ? 5410000 : 5300000, 5410000);
	}
}

/* A device's slip, more or less than it was: not believed where the others are. */
static void wear_run__slips_told_with_readings__not_believed(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, -1);
	read_on(shop, 2, "900000m");
	ran(shop, roll, 3, 50000);
	read_on(shop, 4, "95000m");
	ran(shop, roll, 5, 50000);
	read_on(shop, 6, "1000000m");
	ran(shop, roll, 7, 50000);
	read_on(shop, 8, "10500000m");
	ASSERT_RUNS(shop, roll, 900000, 950000, 1000000, 10500000);
	ran(shop, roll, 9, 50000);
	read_on(shop, 10, "1100000m");
	ASSERT_RUNS(shop, roll, 900000, 950000, 1000000, 1050000, 1100000);
}

/* What was told next agrees with neither slip, wherever they lie: a correction is no slip. */
static void wear_run__slip_within_what_it_ran__still_not_believed(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 5300000);
	told(shop, roll, 2, 5390000);
	told(shop, roll, 3, 5309000);
	read_on(shop, 4, NULL);
	ASSERT_RUNS(shop, roll, 5309000);
	ran(shop, roll, 5, 100000);
	read_on(shop, 6, "5409000m");
	ASSERT_RUNS(shop, roll, 5309000, 5409000);
}

static void wear_run__slip_told_to_less_on_a_new_roll__not_believed(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 0);
	ran(shop, roll, 2, 163000);
	read_on(shop, 3, NULL);
	told(shop, roll, 4, 16300);
	read_on(shop, 5, NULL);
	told(shop, roll, 6, 163000);
	ASSERT_RUNS(shop, roll, 163000, 163000);
}

/* One of several runs was typed too long: no reading falls behind an earlier one. */
static void wear_run__one_job_too_long__never_goes_back(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 1000000);
	static const int64_t jobs[] = {100000, 100000, 100000, 300000, 100000};
	for (size_t i = 0; i < COUNT_OF(jobs); i++) {
		ran(shop, roll, (int)i + 2, jobs[i]);
		read_on(shop, (int)i + 2, NULL);
	}
	told(shop, roll, 8, 1430000);
	ASSERT_RUNS(shop, roll, 1100000, 1200000, 1300000, 1330000, 1430000);
}

/* Whoever tells less with a reading than stands on record has slipped, until the record says so. */
static void wear_run__reading_tells_less_than_the_record__record_counts(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 5000000);
	ran(shop, roll, 2, 400000);
	read_on(shop, 3, "540000m");
	read_on(shop, 4, "0m");
	ASSERT_RUNS(shop, roll, 5400000, 5400000);
	told(shop, roll, 5, 540000);
	read_on(shop, 6, NULL);
	ASSERT_RUNS(shop, roll, 540000, 540000, 540000);
}

/* Told not to be known: nobody knows from then on, until it is told again. */
static void wear_run__told_not_known__unknown_from_then_on(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 5000000);
	read_on(shop, 2, NULL);
	told(shop, roll, 3, -1);
	ran(shop, roll, 4, 100000);
	read_on(shop, 5, NULL);
	ASSERT_RUNS(shop, roll, 5000000, NOBODY_KNOWS);
	/* No less than when it was read, whatever the record counts from. */
	assert_true(length_to_m(wear_of(shop, roll).run_read) > 5099999);
	told(shop, roll, 6, 5600000);
	ASSERT_RUNS(shop, roll, 5000000, 5600000);
}

/* A roll that had run nothing when it was put on record had run nothing before; else who knows. */
static void wear_run__read_before_it_was_followed__at_0_or_not_known(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, -1);
	shop_add(shop, KIND_READING,
	         WORDS("tool", "AN000001-R", "moment", "2026-11-01T08:00Z", "volume", "6.9cm3/m2",
	               "after", "clean"));
	ran(shop, roll, 2, 100000);
	ASSERT_RUNS(shop, roll, NOBODY_KNOWS);
	told(shop, roll, 3, 700000);
	ASSERT_RUNS(shop, roll, NOBODY_KNOWS);
	told(shop, roll, 4, 100000);
	ASSERT_RUNS(shop, roll, 0);
}

/* What was told by an entry that is taken back was never told. */
static void wear_run__correction_taken_back__as_before(void **state)
{
	struct shop *shop = *state;
	int64_t roll = roll_of(shop, 5400000);
	read_on(shop, 2, NULL);
	told(shop, roll, 3, 54000000);
	read_on(shop, 4, NULL);
	ASSERT_RUNS(shop, roll, 5400000, 54000000);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM run_told"), 2);
	struct undo_entry entry = {
		.number = shop_number(shop, "SELECT max(entry) FROM run_told"),
		.word = "changed",
		.kind = &kinds[KIND_ANILOX],
		.subject = roll,
		.happened = shop->actor.now,
		.kept = true,
	};
	struct record *record;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_undo_read(shop->store, shop->arena, &entry, &record, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_change(shop->store, shop->arena, &entry, record, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	ASSERT_RUNS(shop, roll, 5400000, 5400000);
}

/* A run that is not what was told last with the web since is damage, and named. */
static void store_verify__run_not_as_told__said(void **state)
{
	struct shop *shop = *state;
	struct proof proof;
	roll_of(shop, 5400000);
	assert_int_equal(shop_run(shop, "UPDATE tool SET run = run + 7000000000"), SQLITE_OK);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_NO);
	bool said = false;
	for (size_t i = 0; i < proof.damages_kept; i++) {
		said =
			said ||
			strcmp(proof.damages[i].text,
		           "AN000001-R: run is 5400007m, as told last and ran since it is 5400000m") == 0;
	}
	assert_true(said);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(wear_run__told_with_a_reading_then_jobs__counted_on),
		SHOP_TEST(wear_run__never_told__by_jobs_alone),
		SHOP_TEST(wear_run__told_after_jobs__readings_before_by_it),
		SHOP_TEST(wear_run__corrected__to_more_from_then_on_to_less_before_too),
		SHOP_TEST(wear_run__reading_late__as_one_in_time),
		SHOP_TEST(wear_run__job_too_long_then_put_right__readings_before_it_stay),
		SHOP_TEST(wear_run__job_too_long_on_a_new_roll__readings_before_it_stay),
		SHOP_TEST(wear_run__slip_told_then_put_right__only_between_them),
		SHOP_TEST(wear_run__slips_told_with_readings__not_believed),
		SHOP_TEST(wear_run__slip_within_what_it_ran__still_not_believed),
		SHOP_TEST(wear_run__slip_told_to_less_on_a_new_roll__not_believed),
		SHOP_TEST(wear_run__one_job_too_long__never_goes_back),
		SHOP_TEST(wear_run__reading_tells_less_than_the_record__record_counts),
		SHOP_TEST(wear_run__told_not_known__unknown_from_then_on),
		SHOP_TEST(wear_run__read_before_it_was_followed__at_0_or_not_known),
		SHOP_TEST(wear_run__correction_taken_back__as_before),
		SHOP_TEST(store_verify__run_not_as_told__said),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
