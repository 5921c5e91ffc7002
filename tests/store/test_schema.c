/* What the schema promises: strict tables, a comment a column, settings of the file. */
#include "shop.h"
#include "store/migrations.h"

static const char *text_of(struct shop *shop, const char *sql)
{
	sqlite3_stmt *stmt = NULL;
	const char *text = NULL;
	assert_int_equal(sqlite3_prepare_v2(shop->store->db, sql, -1, &stmt, NULL), SQLITE_OK);
	if (sqlite3_step(stmt) == SQLITE_ROW) {
		text = arena_copy(shop->arena, (const char *)sqlite3_column_text(stmt, 0));
	}
	sqlite3_finalize(stmt);
	return text;
}

static void schema__every_table__strict(void **state)
{
	struct shop *shop = *state;
	assert_true(shop_number(shop, "SELECT count(*) FROM pragma_table_list WHERE type = 'table' AND"
	                              " schema = 'main' AND strict") >= 20);
	assert_null(text_of(shop, "SELECT name FROM pragma_table_list WHERE type = 'table' AND"
	                          " schema = 'main' AND NOT strict AND name NOT LIKE 'sqlite_%'"));
}

/*
 * The comment of a column: that of the first line of a table's text that begins with its name, or
 * of a column added later what stands behind it; NULL where there is none.
 */
static const char *comment_of(struct shop *shop, const char *sql, const char *column)
{
	const char *at = strstr(sql, arena_format(shop->arena, "\n\t%s ", column));
	if (at != NULL) {
		return strstr(arena_copy_bytes(shop->arena, at + 1, strcspn(at + 1, "\n")), "-- ");
	}
	at = strstr(sql, arena_format(shop->arena, ", %s ", column));
	const char *comment = at != NULL ? strstr(at, "/* ") : NULL;
	return comment;
}

static void schema__every_column__says_what_it_is(void **state)
{
	struct shop *shop = *state;
	sqlite3_stmt *stmt = NULL;
	int columns = 0;
	assert_int_equal(sqlite3_prepare_v2(shop->store->db,
	                                    "SELECT s.name, s.sql, c.name FROM sqlite_schema s,"
	                                    " pragma_table_info(s.name) c WHERE s.type = 'table'"
	                                    " AND s.name NOT LIKE 'search%'",
	                                    -1, &stmt, NULL),
	                 SQLITE_OK);
	while (sqlite3_step(stmt) == SQLITE_ROW) {
		const char *table = (const char *)sqlite3_column_text(stmt, 0);
		const char *column = (const char *)sqlite3_column_text(stmt, 2);
		const char *comment = comment_of(shop, (const char *)sqlite3_column_text(stmt, 1), column);
		if (comment == NULL || strlen(comment) < strlen("-- nm")) {
			fail_msg("column without a comment: %s.%s", table, column);
		}
		columns++;
	}
	sqlite3_finalize(stmt);
	assert_true(columns > 150);
}

static void schema__file__marked_as_ours_and_durable(void **state)
{
	struct shop *shop = *state;
	assert_int_not_equal(shop_number(shop, "PRAGMA application_id"), 0);
	assert_int_equal(shop_number(shop, "PRAGMA user_version"), (int64_t)migration_count);
	assert_string_equal(text_of(shop, "PRAGMA journal_mode"), "wal");
	assert_int_equal(shop_number(shop, "PRAGMA synchronous"), 2); /* FULL */
	assert_int_equal(shop_number(shop, "PRAGMA foreign_keys"), 1);
	assert_string_equal(text_of(shop, "PRAGMA integrity_check"), "ok");
}

/* Of job, start, end and verdict. */
#define PROMISE_OF(values) \
	"INSERT INTO promise (job, starts, ends, verdict, press, answer, asked, login, made)" \
	" VALUES (" values ", 1, '{}', 1, 'a', 1)"

static void schema__what_must_never_be__refused_by_the_file_itself(void **state)
{
	struct shop *shop = *state;
	static const char *const never[] = {
		"INSERT INTO tool (kind, tag, face) VALUES ('gear', 'GR000009X', -1)",
		"INSERT INTO tool (kind, tag, place) VALUES ('gear', 'GR000009X', 77)",
		"INSERT INTO tool (kind, tag, condition) VALUES ('gear', 'GR000009X', 'broken')",
		"INSERT INTO tool (kind, tag, condition) VALUES ('gear', 'GR000009X', 'hold')",
		"INSERT INTO tool (kind, tag, face) VALUES ('gear', 'GR000009X', 'wide')",
		"INSERT INTO tool (kind, tag, face_from, face_to) VALUES ('gear', 'GR000009X', 5, 5)",
		"INSERT INTO tool (kind, tag) VALUES ('gear', 'GR000001E')",
		"INSERT INTO other_tag (code, tool) VALUES ('k-1', 1)",
		"DELETE FROM tool",
		"DELETE FROM ledger",
		"UPDATE ledger SET word = 'put'",
		PROMISE_OF("2, 100, 99, 'ready'"),
		PROMISE_OF("2, 1, 2, 'short'"),
		PROMISE_OF("7, 1, 2, 'ready'"),
		PROMISE_OF("1, 1, 2, 'ready'"), /* a second one that holds */
		"INSERT INTO promise_tool VALUES (1, 1, 'gear', NULL, NULL)",
		"INSERT INTO promise_tool VALUES (1, 1, 'gear', 1, 1)",
		"INSERT INTO promise_tool VALUES (1, 1, 'spanner', 1, NULL)",
		"INSERT INTO job_run (job, press, started, finished, start_entry) VALUES (1, 1, 1, 2, 1)",
		"INSERT INTO job_run (job, press, started, start_entry) VALUES (1, 1, 1, 1), (1, 2, 1, 2)",
		"INSERT INTO job_run (job, press, started, start_entry) VALUES (1, 1, 1, 1), (2, 1, 1, 2)",
		"INSERT INTO risk (job, number, need, text, since) VALUES (1, 0, 'gear', 'x', 1)",
		"INSERT INTO risk (job, number, need, text, since) VALUES (9, 1, 'gear', 'x', 1)",
	};
	shop_add(shop, KIND_GEAR, WORDS("other_tag", "K-1"));
	shop_add(shop, KIND_PRESS, WORDS("code", "P1", "stations", "1"));
	shop_add(shop, KIND_PRESS, WORDS("code", "P2", "stations", "1"));
	shop_add(shop, KIND_JOB, WORDS("number", "J1"));
	shop_add(shop, KIND_JOB, WORDS("number", "J2"));
	assert_int_equal(shop_run(shop, PROMISE_OF("1, 1, 2, 'ready'")), SQLITE_OK);
	for (size_t i = 0; i < COUNT_OF(never); i++) {
		if (shop_run(shop, never[i]) != SQLITE_CONSTRAINT) {
			fail_msg("taken: %s", never[i]);
		}
	}
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM tool"), 1);
}

static void schema__migrations__numbered_without_a_gap(void **state)
{
	(void)state;
	assert_true(migration_count >= 1);
	for (size_t i = 0; i < migration_count; i++) {
		assert_int_equal(migrations[i].number, (int)i + 1);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(schema__every_table__strict),
		SHOP_TEST(schema__every_column__says_what_it_is),
		SHOP_TEST(schema__file__marked_as_ours_and_durable),
		SHOP_TEST(schema__what_must_never_be__refused_by_the_file_itself),
		SHOP_TEST(schema__migrations__numbered_without_a_gap),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
