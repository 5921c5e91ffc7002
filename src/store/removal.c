/* A station or a cut taken off its job, and put back. */
#include <string.h>

#include "record.h"

STATEMENT(remove_station) = {"station removed", "DELETE FROM station WHERE id = :id", false};
STATEMENT(remove_cut) = {"cut removed", "DELETE FROM cut WHERE id = :id", false};

/* "station 3: ink cyan, process flexo": what the row held, but its job, which the entry names. */
static const char *held_by(struct arena *arena, const struct record *record)
{
	size_t number = kind_attribute_find(record->kind, record->kind->name);
	struct text held = text_start(arena);
	for (size_t i = 0; i < kind_attribute_count(record->kind); i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		if (record->values[i].known && attribute->reference != REFER_JOB && i != number) {
			text_join(&held, ", ", attribute->name);
			text_add_format(&held, " %s", value_text(arena, &record->values[i], UNITS_METRIC));
		}
	}
	return arena_format(arena, "%s %s%s%s", record->kind->name,
	                    value_text(arena, &record->values[number], UNITS_METRIC),
	                    held.length > 0 ? ": " : "", held.bytes);
}

static enum outcome keep_all(struct store *store, struct arena *arena, const struct record *record,
                             struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < kind_attribute_count(record->kind) && outcome == OUTCOME_DONE; i++) {
		if (record->values[i].known) {
			outcome = before_keep_value(store, arena, record, i, fault);
		}
	}
	return outcome;
}

enum outcome store_job_row_remove(struct store *store, struct arena *arena,
                                  const struct record *record, const struct actor *actor,
                                  struct fault *fault)
{
	struct entry entry = {.word = "remove",
	                      .happened = actor_moment(actor),
	                      .detail = held_by(arena, record)};
	record_subject(record, &entry);
	enum outcome outcome = ledger_write(store, &entry, actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = keep_all(store, arena, record, fault);
	}
	sqlite3_stmt *stmt = NULL;
	if (outcome == OUTCOME_DONE) {
		bool cut = record->kind->id == KIND_CUT;
		stmt = statement_ready(store, cut ? &remove_cut : &remove_station, fault);
	}
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_number(stmt, ":id", record->id);
	return statement_run(store, stmt, "removing a row", fault);
}

enum outcome store_undo_removal(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, struct record *record,
                                const struct actor *actor, struct fault *fault)
{
	static const struct kept nothing = {.condition = "new"};
	struct entry taking = {.word = "undo"};
	enum outcome outcome = record_row_write(store, &record_sql_of(record->kind)->insert, record,
	                                        &nothing, actor, fault);
	record_subject(record, &taking);
	return outcome == OUTCOME_DONE ? undo_write(store, arena, entry, &taking, NULL, actor, fault)
	                               : outcome;
}
