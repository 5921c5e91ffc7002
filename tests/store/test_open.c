/* Opening: whose file it is, what is refused in words, one transaction at a time. */
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include "shop.h"
#include "store/migrations.h"

static struct store *opened(struct shop *shop, const char *path, enum store_mode mode,
                            bool fixed_clock, enum outcome expected)
{
	struct store *store = NULL;
	fault_clear(&shop->fault);
	assert_int_equal(store_open(path, mode, fixed_clock, &store, &shop->fault), expected);
	return store;
}

static const char *beside(struct shop *shop, const char *name)
{
	return arena_format(shop->arena, "%s/%s", shop->folder, name);
}

static void write_file(const char *path, const char *text)
{
	FILE *file = fopen(path, "we");
	assert_non_null(file);
	fputs(text, file);
	fclose(file);
}

static void store_open__new_file__owner_and_group_only(void **state)
{
	struct shop *shop = *state;
	struct stat status;
	assert_int_equal(stat(shop->path, &status), 0);
	assert_int_equal(status.st_mode & 07, 0);
	assert_int_equal(stat(beside(shop, "shop"), &status), 0);
	assert_int_equal(status.st_mode & 07, 0);
}

static void store_open__not_there__said_with_what_to_type(void **state)
{
	struct shop *shop = *state;
	opened(shop, beside(shop, "none.db"), STORE_READ, false, OUTCOME_BAD);
	assert_non_null(strstr(shop->fault.sentence, "shop file not found: "));
	assert_int_not_equal(shop->fault.hint[0], '\0');
}

static void store_open__directory__refused(void **state)
{
	struct shop *shop = *state;
	opened(shop, shop->folder, STORE_MAKE, false, OUTCOME_BAD);
	assert_non_null(strstr(shop->fault.sentence, "shop file is a directory: "));
}

static void store_open__no_shop_of_ours__refused(void **state)
{
	struct shop *shop = *state;
	const char *text = beside(shop, "text.db"), *other = beside(shop, "other.db");
	write_file(
		text,
		"this is a letter to the printer, and longer than any header of a database file is\n");
	opened(shop, text, STORE_MAKE, false, OUTCOME_STORE);
	assert_non_null(strstr(shop->fault.sentence, "file is not a shop of toothrack: "));
	sqlite3 *db;
	assert_int_equal(sqlite3_open(other, &db), SQLITE_OK);
	assert_int_equal(sqlite3_exec(db, "CREATE TABLE t (a)", NULL, NULL, NULL), SQLITE_OK);
	sqlite3_close(db);
	opened(shop, other, STORE_MAKE, false, OUTCOME_STORE);
	assert_non_null(strstr(shop->fault.sentence, "file is not a shop of toothrack: "));
}

static void store_open__newer_schema__refused(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(shop_run(shop, "PRAGMA user_version = 99"), SQLITE_OK);
	opened(shop, shop->path, STORE_READ, false, OUTCOME_STORE);
	assert_non_null(strstr(shop->fault.sentence, "shop file is of a newer toothrack"));
}

static void store_migrate__older_file__copied_then_brought_up(void **state)
{
	struct shop *shop = *state;
	const struct migration steps[] = {
		{1, "shop", ""},
		{2, "words", ""},
		{3, "tags", ""},
		{4, "promises", ""},
		{5, "wear", ""},
		{6, "runs", ""},
		{7, "shelf", "CREATE TABLE shelf (a INTEGER) STRICT; INSERT INTO shelf VALUES (7)"},
	};
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	assert_int_equal(store_migrate(shop->store, steps, COUNT_OF(steps), false, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "SELECT a FROM shelf"), 7);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), 7);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM place"), 1);
	assert_int_equal(access(arena_format(shop->arena, "%s.before-0007", shop->path), R_OK), 0);
}

/* `tests/fixtures/0001.sql` is a shop as the program of that schema left it. */
static const char *fixture_shop(struct shop *shop, const char *fixture)
{
	const char *path = arena_format(shop->arena, "%s/old.db", shop->folder);
	const char *command = arena_format(shop->arena, "sqlite3 %s <tests/fixtures/%s", path, fixture);
	assert_int_equal(system(command), 0); /* NOLINT: words of our own */
	return path;
}

static void store_open__shop_of_schema_1__content_kept_and_words_found(void **state)
{
	struct shop *shop = *state;
	const char *path = fixture_shop(shop, "0001.sql");
	struct found found;
	struct record *record;
	store_close(shop->store);
	/* To be asked only: it is brought up all the same. */
	shop->store = opened(shop, path, STORE_READ, false, OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), (int64_t)migration_count);
	assert_int_equal(access(arena_format(shop->arena, "%s.before-%04d", path, (int)migration_count),
	                        R_OK),
	                 0);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 23);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM tool"), 6);
	assert_int_equal(store_find(shop->store, "K-17", REFER_TOOL, &found, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_record_read(shop->store, shop->arena, found.kind, found.id, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(record_words(record, "name"), "left of the pair");
	assert_string_equal(record_words(record, "place"), "P1-1");
	assert_int_equal(shop_number(shop, "SELECT rowid FROM search WHERE search MATCH 'pair'"),
	                 found.id * 8);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM search WHERE search MATCH 'biscuits'"),
	                 1);
}

static void store_open__shop_of_schema_2__what_can_be_taken_back_kept(void **state)
{
	struct shop *shop = *state;
	const char *path = fixture_shop(shop, "0002.sql");
	struct proof proof;
	store_close(shop->store);
	shop->store = opened(shop, path, STORE_READ, false, OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), (int64_t)migration_count);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 27);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM taken_back"), 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM entry_before WHERE entry = 27"), 2);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM search WHERE search MATCH 'pair'"), 1);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

/* A job that ran then runs where it may; what was counted, scanned and printed is there. */
static void store_open__shop_of_schema_3__counts_batches_and_printed_tags_kept(void **state)
{
	struct shop *shop = *state;
	const char *path = fixture_shop(shop, "0003.sql");
	struct proof proof;
	struct job_running *runs;
	struct promise *promises;
	size_t count;
	store_close(shop->store);
	shop->store = opened(shop, path, STORE_READ, false, OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), (int64_t)migration_count);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 35);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM tag_printed"), 3);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM batch_line"), 2);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM stock_count WHERE ended IS NULL"), 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM stock_counted"), 2);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise"), 0);
	assert_int_equal(store_runs(shop->store, shop->arena, &runs, &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	assert_string_equal(runs[0].number, "J3");
	assert_int_equal(runs[0].press, 0);
	assert_int_equal(store_press_promises(shop->store, shop->arena, 1, 0, &promises, &count,
	                                      &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	assert_string_equal(promises[0].job, "J3");
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

/* What was promised, run and cleaned is there; what was read has become a trend. */
static void store_open__shop_of_schema_4__promises_kept_trends_worked_out(void **state)
{
	struct shop *shop = *state;
	const char *path = fixture_shop(shop, "0004.sql");
	struct proof proof;
	struct found found;
	struct wear_kept wear;
	store_close(shop->store);
	shop->store = opened(shop, path, STORE_READ, false, OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), (int64_t)migration_count);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 52);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise_tool"), 5);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM job_run"), 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM care WHERE what = 'dirty'"), 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM wear_stale"), 0);
	assert_int_equal(store_find(shop->store, "AN000001-R", REFER_TOOL, &found, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_wear(shop->store, shop->arena, found.id, &wear, &shop->fault),
	                 OUTCOME_DONE);
	assert_true(wear.known);
	assert_int_equal(wear.trend.says, TREND_TOO_FEW);
	assert_int_equal(volume_to_micro(wear.clean_volume.value), 6050000);
	assert_int_equal(volume_to_micro(wear.gave_back.value), 100000);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

/* Of a roll by its tag: metres by its reading of that number; -1: not known. */
static int64_t run_read(struct shop *shop, const char *tag, size_t index)
{
	struct found found;
	struct wear_reading *readings;
	size_t count;
	assert_int_equal(store_find(shop->store, tag, REFER_TOOL, &found, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_wear_readings(shop->store, shop->arena, found.id, &readings, &count,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_true(index < count);
	return readings[index].run.known ? (int64_t)length_to_m(readings[index].run.value) : -1;
}

/*
 * What was told of runs is found in the ledger: of R1, corrected and engraved anew since, of R2,
 * never told until late, of R3, told with a slip that was put right, of R4, told not to be known.
 */
static void store_open__shop_of_schema_5__runs_of_readings_by_what_was_told(void **state)
{
	struct shop *shop = *state;
	const char *path = fixture_shop(shop, "0005.sql");
	static const struct {
		const char *tag;
		int64_t runs[3];
		size_t count;
	} rolls[] = {
		{"R1", {200000, 500000}, 2},
		{"R2", {2100000, 2300000, 2600000}, 3},
		{"R3", {1100000, 1300000, 1600000}, 3},
	};
	struct proof proof;
	store_close(shop->store);
	shop->store = opened(shop, path, STORE_READ, false, OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), (int64_t)migration_count);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 79);
	for (size_t i = 0; i < COUNT_OF(rolls); i++) {
		for (size_t j = 0; j < rolls[i].count; j++) {
			assert_int_equal(run_read(shop, rolls[i].tag, j), rolls[i].runs[j]);
		}
	}
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM run_told"), 9);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM run_told WHERE run IS NULL"), 1);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

static void store_migrate__step_that_fails__nothing_half_done(void **state)
{
	struct shop *shop = *state;
	const struct migration steps[] = {
		{1, "shop", ""},
		{2, "words", ""},
		{3, "tags", ""},
		{4, "promises", ""},
		{5, "wear", ""},
		{6, "runs", ""},
		{7, "shelf", "CREATE TABLE shelf (a INTEGER) STRICT; INSERT INTO nowhere VALUES (1)"},
	};
	assert_int_equal(store_migrate(shop->store, steps, COUNT_OF(steps), false, &shop->fault),
	                 OUTCOME_STORE);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), 6);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM sqlite_schema WHERE name = 'shelf'"),
	                 0);
}

static void store_open__clock_stopped__writing_refused_reading_not(void **state)
{
	struct shop *shop = *state;
	opened(shop, shop->path, STORE_WRITE, true, OUTCOME_BAD);
	assert_non_null(strstr(shop->fault.sentence, "clock is stopped by TOOTHRACK_NOW"));
	store_close(opened(shop, shop->path, STORE_READ, true, OUTCOME_DONE));
	const char *fixed = beside(shop, "fixed.db");
	store_close(opened(shop, fixed, STORE_MAKE, true, OUTCOME_DONE));
	store_close(opened(shop, fixed, STORE_WRITE, true, OUTCOME_DONE));
}

static void store_open__damaged_file__said(void **state)
{
	struct shop *shop = *state;
	for (int i = 0; i < 200; i++) {
		shop_add(shop, KIND_PLACE,
		         WORDS("code", arena_format(shop->arena, "R%d", i), "sort", "store"));
	}
	store_close(shop->store);
	FILE *file = fopen(shop->path, "r+e");
	assert_non_null(file);
	fseek(file, 4096, SEEK_SET);
	for (int i = 0; i < 60000; i++) {
		fputc(0x5a, file);
	}
	fclose(file);
	fault_clear(&shop->fault);
	enum outcome outcome = store_open(shop->path, STORE_WRITE, false, &shop->store, &shop->fault);
	struct found found;
	if (outcome == OUTCOME_DONE) {
		outcome = store_find(shop->store, "R7", REFER_PLACE, &found, &shop->fault);
	}
	assert_int_equal(outcome, OUTCOME_STORE);
	assert_non_null(strstr(shop->fault.sentence, "shop file is damaged: "));
}

static void store_record_insert__disk_full__nothing_half_done(void **state)
{
	struct shop *shop = *state;
	int64_t pages = shop_number(shop, "PRAGMA page_count");
	shop_number(shop,
	            arena_format(shop->arena, "PRAGMA max_page_count = %lld", (long long)pages + 2));
	enum outcome outcome = OUTCOME_DONE;
	int64_t before = 0;
	fault_clear(&shop->fault);
	for (int i = 0; i < 2000 && outcome == OUTCOME_DONE; i++) {
		struct record *place =
			shop_record(shop, KIND_PLACE,
		                WORDS("code", arena_format(shop->arena, "R%d", i), "sort", "store"));
		before = shop_number(shop, "SELECT count(*) FROM place");
		assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
		outcome = store_record_insert(shop->store, shop->arena, place, &shop->actor, &shop->fault);
		if (outcome == OUTCOME_DONE) {
			outcome = store_commit(shop->store, &shop->fault);
		} else {
			store_rollback(shop->store);
		}
	}
	assert_int_equal(outcome, OUTCOME_STORE);
	assert_non_null(strstr(shop->fault.sentence, "disk is full, nothing was changed: "));
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM place"), before);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), before);
}

static void store_begin__second__names_the_first(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(store_begin(shop->store, "room_new", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_begin(shop->store, "room_put", &shop->fault), OUTCOME_STORE);
	assert_non_null(strstr(shop->fault.sentence, "begun by: room_new"));
	store_rollback(shop->store);
	assert_false(store_in_transaction(shop->store));
}

static void store__killed_in_a_transaction__file_as_before(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	pid_t child = fork();
	if (child == 0) {
		struct store *store;
		struct shop inner = *shop;
		if (store_open(shop->path, STORE_WRITE, false, &store, NULL) == OUTCOME_DONE) {
			inner.store = store;
			struct record *place =
				shop_record(&inner, KIND_PLACE, WORDS("code", "R2", "sort", "store"));
			store_begin(store, "test", NULL);
			store_record_insert(store, inner.arena, place, &inner.actor, NULL);
		}
		kill(getpid(), SIGKILL);
	}
	assert_int_equal(waitpid(child, NULL, 0), child);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM place"), 1);
	shop_add(shop, KIND_PLACE, WORDS("code", "R3", "sort", "store"));
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 2);
}

static void store_snapshot__another_writes_between__not_seen(void **state)
{
	struct shop *shop = *state;
	struct shop other = *shop;
	struct found found;
	other.store = opened(shop, shop->path, STORE_WRITE, false, OUTCOME_DONE);
	assert_int_equal(store_snapshot_begin(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_find(shop->store, "R1", REFER_PLACE, &found, &shop->fault), OUTCOME_BAD);
	shop_add(&other, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	assert_int_equal(store_find(shop->store, "R1", REFER_PLACE, &found, NULL), OUTCOME_BAD);
	store_snapshot_end(shop->store);
	assert_int_equal(store_find(shop->store, "R1", REFER_PLACE, &found, NULL), OUTCOME_DONE);
	store_close(other.store);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_open__new_file__owner_and_group_only),
		SHOP_TEST(store_open__not_there__said_with_what_to_type),
		SHOP_TEST(store_open__directory__refused),
		SHOP_TEST(store_open__no_shop_of_ours__refused),
		SHOP_TEST(store_open__newer_schema__refused),
		SHOP_TEST(store_migrate__older_file__copied_then_brought_up),
		SHOP_TEST(store_open__shop_of_schema_1__content_kept_and_words_found),
		SHOP_TEST(store_open__shop_of_schema_2__what_can_be_taken_back_kept),
		SHOP_TEST(store_open__shop_of_schema_3__counts_batches_and_printed_tags_kept),
		SHOP_TEST(store_open__shop_of_schema_4__promises_kept_trends_worked_out),
		SHOP_TEST(store_open__shop_of_schema_5__runs_of_readings_by_what_was_told),
		SHOP_TEST(store_migrate__step_that_fails__nothing_half_done),
		SHOP_TEST(store_open__clock_stopped__writing_refused_reading_not),
		SHOP_TEST(store_open__damaged_file__said),
		SHOP_TEST(store_record_insert__disk_full__nothing_half_done),
		SHOP_TEST(store_begin__second__names_the_first),
		SHOP_TEST(store__killed_in_a_transaction__file_as_before),
		SHOP_TEST(store_snapshot__another_writes_between__not_seen),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
