/*
 * Every statement that the store prepares, by the table of them all: none reads a whole table
 * unless it says that it means to.
 */
#include "shop.h"
#include "store/record.h"

/* The bounds that the linker gives the section. */
extern const struct statement __start_toothrack_statements[], __stop_toothrack_statements[];

/* Does `sql` call the table `table` by the name `name`, its own or another: `FROM tool t`? */
static bool calls_table(const char *sql, const char *table, const char *name)
{
	size_t length = strlen(table), called = strlen(name);
	for (const char *at = strstr(sql, table); at != NULL; at = strstr(at + 1, table)) {
		bool whole = at > sql && strchr(" (,", at[-1]) != NULL;
		const char *behind = at + length;
		if (!whole || (*behind != ' ' && *behind != '\0' && *behind != ')')) {
			continue;
		}
		if (strcmp(table, name) == 0) {
			return true;
		}
		behind += strspn(behind, " ");
		if (strncmp(behind, name, called) == 0 && strchr(" ,)", behind[called]) != NULL) {
			return true;
		}
	}
	return false;
}

/* Is what a step of the plan scans, `SCAN t USING ...`, a table of the file? */
static bool scans_table(struct shop *shop, const char *sql, const char *step)
{
	static const char scan[] = "SCAN ";
	bool found = false;
	sqlite3_stmt *tables = NULL;
	/* A full-text table is asked by its own index: `VIRTUAL TABLE INDEX 0:M1`, with the row
	 * `0:=M1`. */
	if (strncmp(step, scan, strlen(scan)) != 0 || strstr(step, "VIRTUAL TABLE INDEX 0:M") != NULL ||
	    strstr(step, "VIRTUAL TABLE INDEX 0:=M") != NULL) {
		return false;
	}
	step += strlen(scan);
	const char *name = arena_copy_bytes(shop->arena, step, strcspn(step, " "));
	assert_int_equal(sqlite3_prepare_v2(shop->store->db,
	                                    "SELECT name FROM sqlite_schema WHERE type IN ('table',"
	                                    " 'view')",
	                                    -1, &tables, NULL),
	                 SQLITE_OK);
	while (!found && sqlite3_step(tables) == SQLITE_ROW) {
		found = calls_table(sql, (const char *)sqlite3_column_text(tables, 0), name);
	}
	sqlite3_finalize(tables);
	return found;
}

/* The first step by which a statement reads a whole table; NULL where there is none. */
static const char *scan_of(struct shop *shop, const struct statement *statement)
{
	const char *found = NULL;
	sqlite3_stmt *plan = NULL;
	const char *sql = arena_format(shop->arena, "EXPLAIN QUERY PLAN %s", statement->sql);
	if (sqlite3_prepare_v2(shop->store->db, sql, -1, &plan, NULL) != SQLITE_OK) {
		fail_msg("%s: %s", statement->name, sqlite3_errmsg(shop->store->db));
	}
	while (found == NULL && sqlite3_step(plan) == SQLITE_ROW) {
		const char *step = (const char *)sqlite3_column_text(plan, 3);
		found = scans_table(shop, statement->sql, step) ? arena_copy(shop->arena, step) : NULL;
	}
	sqlite3_finalize(plan);
	return found;
}

static void look_at(struct shop *shop, const struct statement *statement, int *scans)
{
	const char *step = scan_of(shop, statement);
	if (step != NULL && !statement->scans) {
		print_error("%s: %s\n", statement->name, step);
		++*scans;
	}
}

static void statements__query_plans__no_table_is_read_through_unasked(void **state)
{
	struct shop *shop = *state;
	int scans = 0, count = 0;
	for (const struct statement *at = __start_toothrack_statements;
	     at < __stop_toothrack_statements; at++, count++) {
		look_at(shop, at, &scans);
	}
	for (size_t i = 0; i <= KIND_COUNT; i++) {
		const struct record_sql *sql = i == KIND_COUNT ? &tool_sql : record_sql_of(&kinds[i]);
		look_at(shop, &sql->insert, &scans);
		look_at(shop, &sql->update, &scans);
		look_at(shop, &sql->read, &scans);
	}
	assert_int_equal(scans, 0);
	assert_true(count > 60);
}

/* Those of the store's files must stand in the table: one of each sort of work is looked for. */
static void statements__table__holds_those_of_every_file(void **state)
{
	static const char *const some[] = {"tool by tag",  "cylinders of lengths",
	                                   "ledger entry", "tool moved",
	                                   "begin",        "next tag",
	                                   "settings"};
	(void)state;
	size_t found = 0;
	for (const struct statement *at = __start_toothrack_statements;
	     at < __stop_toothrack_statements; at++) {
		for (size_t i = 0; i < COUNT_OF(some); i++) {
			found += strcmp(at->name, some[i]) == 0 ? 1 : 0;
		}
	}
	assert_int_equal(found, COUNT_OF(some));
}

static void statements__planted_full_scan__seen(void **state)
{
	struct shop *shop = *state;
	static const struct statement planted[] = {
		{"by note", "SELECT id FROM tool WHERE note = :note", false},
		{"by note, aliased", "SELECT t.id FROM place p JOIN tool t ON t.note = p.note", false},
		{"within a query", "SELECT 1 FROM shop WHERE key IN (SELECT detail FROM ledger)", false},
		{"whole index", "SELECT count(*) FROM ledger", false},
	};
	static const struct statement searches[] = {
		{"by tag", "SELECT id FROM tool WHERE tag = :tag", false},
		{"last", "SELECT max(number) FROM ledger", false},
		{"words", "SELECT rowid FROM search WHERE search MATCH :words", false},
	};
	for (size_t i = 0; i < COUNT_OF(planted); i++) {
		assert_non_null(scan_of(shop, &planted[i]));
	}
	for (size_t i = 0; i < COUNT_OF(searches); i++) {
		assert_null(scan_of(shop, &searches[i]));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(statements__query_plans__no_table_is_read_through_unasked),
		SHOP_TEST(statements__table__holds_those_of_every_file),
		SHOP_TEST(statements__planted_full_scan__seen),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
