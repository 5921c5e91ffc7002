/* Taking back: the entry, what has happened since, and things as they stood before it. */
#include <string.h>

#include "promise.h"

STATEMENT(last_by_whom) =
	{"last entry of somebody at a terminal",
     "SELECT l.number, l.word, l.subject_kind, l.subject, l.from_place, l.to_place, l.happened,"
     " l.detail, EXISTS (SELECT 1 FROM entry_before WHERE entry = l.number) FROM ledger l"
     " WHERE l.terminal = :terminal AND l.login = :login AND l.operator IS :operator"
     " AND l.word <> 'undo' AND NOT EXISTS (SELECT 1 FROM taken_back WHERE entry = l.number)"
     " ORDER BY l.number DESC LIMIT 1",
     false};

/* What was taken back since, and what took it back, leaves things as they were. */
STATEMENT(since_entry) =
	{"latest entry of a record since another",
     "SELECT " ENTRY_COLUMNS ENTRY_SOURCES
     " WHERE l.subject_kind = :kind AND l.subject = :subject AND l.number <> :entry"
     " AND (l.number > :entry OR (l.happened > :happened AND l.to_place IS NOT NULL))"
     " AND l.word <> 'undo' AND NOT EXISTS (SELECT 1 FROM taken_back WHERE entry = l.number)"
     " AND (:setting IS NULL OR EXISTS (SELECT 1 FROM entry_before WHERE entry = l.number"
     " AND attribute = :setting))"
     " ORDER BY l.happened DESC, l.number DESC LIMIT 1",
     false};

STATEMENT(take_back) = {"entry taken back",
                        "INSERT INTO taken_back (entry, by_entry) VALUES (:entry, :by)", false};

STATEMENT(restore_movement) =
	{"movement taken back",
     "UPDATE tool SET place = :place,"
     " back = (SELECT value FROM entry_before WHERE entry = :entry AND attribute = 'back'),"
     " taken_for = (SELECT CAST(value AS INTEGER) FROM entry_before WHERE entry = :entry"
     " AND attribute = 'taken_for') WHERE id = :id",
     false};

#define RESTORE_CONDITION(table) \
	"UPDATE " table " SET condition = (SELECT value FROM entry_before WHERE entry = :entry" \
	" AND attribute = 'condition'), condition_reason = (SELECT value FROM entry_before" \
	" WHERE entry = :entry AND attribute = 'condition_reason')," \
	" condition_since = (SELECT CAST(value AS INTEGER) FROM entry_before WHERE entry = :entry" \
	" AND attribute = 'condition_since') WHERE id = :id"
STATEMENT(restore_tool_condition) = {"condition of a tool taken back", RESTORE_CONDITION("tool"),
                                     false};
STATEMENT(restore_place_condition) = {"condition of a place taken back", RESTORE_CONDITION("place"),
                                      false};

STATEMENT(no_life) = {"reading taken back", "UPDATE reading SET life = 0 WHERE id = :id", false};

/* ---------------------------------------------------------------- which entry */

enum outcome store_undo_find(struct store *store, struct arena *arena, const struct actor *actor,
                             struct undo_entry *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &last_by_whom, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct undo_entry){.number = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":terminal", actor->terminal);
	bind_words(stmt, ":login", actor->login);
	bind_id(stmt, ":operator", actor->operator_id);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->number = sqlite3_column_int64(stmt, 0);
		out->word = column_words(arena, stmt, 1);
		out->kind = kind_find((const char *)sqlite3_column_text(stmt, 2));
		out->subject = sqlite3_column_int64(stmt, 3);
		out->from_place = sqlite3_column_int64(stmt, 4);
		out->to_place = sqlite3_column_int64(stmt, 5);
		out->happened = column_seconds(stmt, 6).value;
		out->detail = column_words(arena, stmt, 7);
		out->kept = sqlite3_column_int64(stmt, 8) != 0;
		if (out->kind == NULL) {
			/* Its entry tells `overs 5% -> 7%`. */
			const char *told = out->detail != NULL ? out->detail : "";
			out->setting = arena_copy_bytes(arena, told, strcspn(told, " "));
		}
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_undo_since(struct store *store, struct arena *arena,
                              const struct undo_entry *entry, struct ledger_entry *out,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &since_entry, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct ledger_entry){.number = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":kind", entry->kind != NULL ? entry->kind->name : "setting");
	bind_number(stmt, ":subject", entry->subject);
	bind_number(stmt, ":entry", entry->number);
	bind_moment(stmt, ":happened", entry->happened);
	bind_words(stmt, ":setting", entry->setting);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = ledger_entry_read(arena, stmt);
	}
	statement_done(stmt);
	bool tool = entry->kind != NULL && entry->kind->tool;
	return outcome == OUTCOME_DONE && out->number == 0 && tool
	           ? web_since(store, arena, entry, out, fault)
	           : outcome;
}

/* ---------------------------------------------------------------- the entry that does it */

enum outcome undo_write(struct store *store, struct arena *arena, const struct undo_entry *undone,
                        struct entry *entry, const char *detail, const struct actor *actor,
                        struct fault *fault)
{
	const char *told = detail != NULL ? detail : undone->detail;
	entry->word = "undo";
	entry->happened = actor_moment(actor);
	entry->detail = told != NULL ? arena_format(arena, "%s: %s", undone->word, told) : undone->word;
	enum outcome outcome = ledger_write(store, entry, actor, fault);
	sqlite3_stmt *stmt = outcome == OUTCOME_DONE ? statement_ready(store, &take_back, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", undone->number);
	bind_number(stmt, ":by", store->ledger_end.number);
	return statement_run(store, stmt, "taking an entry back", fault);
}

/* ---------------------------------------------------------------- things as they stood */

enum outcome store_undo_movement(struct store *store, struct arena *arena,
                                 const struct undo_entry *entry, const struct actor *actor,
                                 struct fault *fault)
{
	struct tool_state tool;
	enum outcome outcome = store_tool_state(store, arena, entry->subject, &tool, fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			whereabouts_refuse_early(store, entry->subject, tool.tag, actor_moment(actor), fault);
	}
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE ? statement_ready(store, &restore_movement, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_id(stmt, ":place", entry->from_place);
	bind_number(stmt, ":entry", entry->number);
	bind_number(stmt, ":id", entry->subject);
	outcome = statement_run(store, stmt, "taking a movement back", fault);
	struct entry taking = {
		.subject_kind = entry->kind->name,
		.subject = entry->subject,
		.from_place = entry->to_place,
		.to_place = entry->from_place,
	};
	return outcome == OUTCOME_DONE ? undo_write(store, arena, entry, &taking, NULL, actor, fault)
	                               : outcome;
}

enum outcome store_undo_condition(struct store *store, struct arena *arena,
                                  const struct undo_entry *entry, const struct actor *actor,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt =
		statement_ready(store,
	                    entry->kind->tool ? &restore_tool_condition : &restore_place_condition,
	                    fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", entry->number);
	bind_number(stmt, ":id", entry->subject);
	enum outcome outcome = statement_run(store, stmt, "taking a condition back", fault);
	struct entry taking = {.subject_kind = entry->kind->name, .subject = entry->subject};
	return outcome == OUTCOME_DONE ? undo_write(store, arena, entry, &taking, NULL, actor, fault)
	                               : outcome;
}

enum outcome store_undo_reading(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, const struct actor *actor,
                                struct fault *fault)
{
	struct record *record;
	enum outcome outcome =
		store_record_read(store, arena, entry->kind, entry->subject, &record, fault);
	sqlite3_stmt *stmt = outcome == OUTCOME_DONE ? statement_ready(store, &no_life, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_number(stmt, ":id", entry->subject);
	outcome = statement_run(store, stmt, "taking a reading back", fault);
	/* Nobody finds it any more: its history tells what it was. */
	const char *volume = value_text(arena, record_value(record, "volume"), UNITS_METRIC);
	const char *moment = value_text(arena, record_value(record, "moment"), UNITS_METRIC);
	struct entry taking = {.subject_kind = entry->kind->name, .subject = entry->subject};
	return outcome == OUTCOME_DONE
	           ? undo_write(store, arena, entry, &taking,
	                        arena_format(arena, "volume %s read %s", volume, moment), actor, fault)
	           : outcome;
}

enum outcome store_undo_read(struct store *store, struct arena *arena,
                             const struct undo_entry *entry, struct record **out,
                             struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	if (strcmp(entry->word, "remove") == 0) {
		*out = record_new(arena, entry->kind);
		(*out)->id = entry->subject;
	} else {
		outcome = store_record_read(store, arena, entry->kind, entry->subject, out, fault);
	}
	return outcome == OUTCOME_DONE ? before_restore(store, arena, entry->number, *out, fault)
	                               : outcome;
}
