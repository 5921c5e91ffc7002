/*
 * Tags are given out by the store, never twice: a class's serial only goes up, under the writer's
 * lock.
 */
#include "internal.h"

STATEMENT(next_serial) = {"next tag",
                          "INSERT INTO tag_serial (class, last) VALUES (:class, 1)"
                          " ON CONFLICT (class) DO UPDATE SET last = last + 1 RETURNING last",
                          false};

STATEMENT(keep_serial) = {"tag brought along",
                          "INSERT INTO tag_serial (class, last) VALUES (:class, :serial)"
                          " ON CONFLICT (class) DO UPDATE SET last = max(last, :serial)",
                          false};

enum outcome tag_give(struct store *store, enum tag_class class, struct tag *out,
                      struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &next_serial, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":class", tag_class_letters(class));
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = (struct tag){.class = class, .serial = sqlite3_column_int64(stmt, 0)};
	}
	statement_done(stmt);
	return outcome;
}

enum outcome tag_keep(struct store *store, struct tag tag, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &keep_serial, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_words(stmt, ":class", tag_class_letters(tag.class));
	bind_number(stmt, ":serial", tag.serial);
	return statement_run(store, stmt, "keeping a tag", fault);
}
