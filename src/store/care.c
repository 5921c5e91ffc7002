/*
 * Care of tools: what was cleaned, gauged, found damaged, fitted or ground. Each is an entry on the
 * tool, and a row of its own; a new blade, a regrind and an engraving begin the tool's next life.
 */
#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "life.h"
#include "record.h"

/*
 * Read before anything of the tool is written: what the life before ran, what its blade was of.
 * What comes late is of the life that ran by then, and nobody knows how much web that had run. A
 * life begins no sooner than the one before it.
 */
STATEMENT(add_care) = {
	"care of a tool",
	"INSERT INTO care (tool, life, moment, what, face_from, face_to, note, run, material)"
	" SELECT t.id, CASE WHEN :new_life THEN t.life + 1 ELSE t.life - (SELECT count(*) FROM care c"
	" WHERE c.tool = t.id AND c.what IN ('reblade', 'regrind', 'engraved')"
	" AND c.moment > :moment) END, CASE WHEN :new_life THEN max(:moment, COALESCE("
	"(SELECT max(c.moment) FROM care c WHERE c.tool = t.id"
	" AND c.what IN ('reblade', 'regrind', 'engraved')), :moment)) ELSE :moment END,"
	" :what, :from, :to, :note,"
	" CASE WHEN NOT :late THEN CASE WHEN :split THEN :ended ELSE t.run END END, CASE WHEN :what = 'reblade'"
	" THEN (SELECT b.material FROM blade b WHERE b.tool = t.id) END FROM tool t WHERE t.id = :id",
	false};
STATEMENT(add_gauge) = {"what was gauged of a tool",
                        "INSERT INTO gauge (tool, life, moment, diameter, runout, run)"
                        " SELECT id, life, :moment, :diameter, :runout, run FROM tool"
                        " WHERE id = :id",
                        false};
STATEMENT(care_of) =
	{"care of a tool in the life that runs",
     "SELECT what, moment, face_from, face_to, note FROM care WHERE tool = :tool"
     " AND life = (SELECT life FROM tool WHERE id = :tool) AND (:what IS NULL OR what = :what)"
     " ORDER BY moment DESC, id DESC LIMIT :most",
     false};
STATEMENT(gauges_of) = {"what was gauged of a tool in the life that runs",
                        "SELECT moment, diameter, runout, run FROM gauge WHERE tool = :tool"
                        " AND life = (SELECT life FROM tool WHERE id = :tool) ORDER BY moment, id",
                        false};

#define KEPT_NUMBER(attribute) \
	"(SELECT CAST(value AS INTEGER) FROM entry_before WHERE entry = :entry AND attribute = " attribute \
	")"
STATEMENT(remove_care) = {"care taken back",
                          "DELETE FROM care WHERE id IN (SELECT CAST(value AS INTEGER)"
                          " FROM entry_before WHERE entry = :entry"
                          " AND attribute IN ('care', 'care_below', 'care_above'))",
                          false};
STATEMENT(remove_gauge) = {"what was gauged taken back",
                           "DELETE FROM gauge WHERE id = " KEPT_NUMBER("'gauge'"), false};
/* Of the life that an entry began: readings put on record in it, and web that has run in it. */
STATEMENT(life_since) =
	{"latest entry of a life",
     "SELECT " ENTRY_COLUMNS ENTRY_SOURCES " WHERE l.number = (SELECT max(number) FROM ("
     "SELECT w.entry AS number FROM web_run w JOIN tool t ON t.id = w.tool AND t.life = w.life"
     " WHERE w.tool = :tool AND w.entry > :entry"
     " UNION ALL SELECT n.number FROM reading r JOIN tool t ON t.id = r.tool AND t.life = r.life"
     " CROSS JOIN ledger n ON n.subject_kind = 'reading' AND n.subject = r.id"
     " WHERE r.tool = :tool AND n.number > :entry))",
     false};

/* ---------------------------------------------------------------- rows */

static void bind_length(sqlite3_stmt *stmt, const char *name, bool known, struct length length)
{
	if (known) {
		bind_number(stmt, name, length_to_nm(length));
	}
}

/* The row just written is kept with the last entry, by that name. */
static enum outcome keep_row(struct store *store, const char *attribute, struct fault *fault)
{
	char number[24];
	snprintf(number, sizeof number, "%lld", (long long)sqlite3_last_insert_rowid(store->db));
	return before_keep(store, attribute, number, fault);
}

/* `band` NULL: none is told. */
static enum outcome write_care(struct store *store, int64_t tool, const struct care_change *change,
                               const struct life_split *split, const struct damage_band *band,
                               const char *kept, const struct actor *actor, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &add_care, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", tool);
	bind_number(stmt, ":new_life", change->new_life);
	bind_number(stmt, ":late", actor->happened.known);
	bind_number(stmt, ":split", split != NULL);
	bind_length(stmt, ":ended", split != NULL && split->ended.known,
	            split != NULL ? split->ended.value : length_from_nm(0));
	bind_moment(stmt, ":moment", change->since.known ? change->since.value : actor_moment(actor));
	bind_words(stmt, ":what", change->what);
	bind_words(stmt, ":note", change->note);
	if (band != NULL) {
		bind_length(stmt, ":from", true, band->from);
		bind_length(stmt, ":to", true, band->to);
	}
	enum outcome outcome = statement_run(store, stmt, "recording care", fault);
	return outcome == OUTCOME_DONE ? keep_row(store, kept, fault) : outcome;
}

/* The care itself, and what lay outside of a usable band that no damage on record explained. */
static enum outcome write_cares(struct store *store, int64_t tool, const struct care_change *change,
                                const struct life_split *split, const struct actor *actor,
                                struct fault *fault)
{
	static const char *const kept[] = {"care_below", "care_above"};
	struct care_change outside = {.what = "damaged",
	                              .note = "outside of the usable face on record"};
	enum outcome outcome = write_care(store, tool, change, split,
	                                  change->damaged ? &change->band : NULL, "care", actor, fault);
	assert(change->outside_count <= COUNT_OF(kept));
	for (size_t i = 0; i < change->outside_count && outcome == OUTCOME_DONE; i++) {
		outcome =
			write_care(store, tool, &outside, NULL, &change->outside[i], kept[i], actor, fault);
	}
	return outcome;
}

static enum outcome write_gauge(struct store *store, int64_t tool, const struct care_change *change,
                                const struct actor *actor, struct fault *fault)
{
	if (!change->diameter.known && !change->runout.known) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &add_gauge, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", tool);
	bind_moment(stmt, ":moment", actor_moment(actor));
	bind_length(stmt, ":diameter", change->diameter.known, change->diameter.value);
	bind_length(stmt, ":runout", change->runout.known, change->runout.value);
	enum outcome outcome = statement_run(store, stmt, "recording what was gauged", fault);
	return outcome == OUTCOME_DONE ? keep_row(store, "gauge", fault) : outcome;
}

static enum outcome write_record(struct store *store, struct arena *arena,
                                 const struct care_change *change, const struct life_split *split,
                                 const struct actor *actor, struct fault *fault)
{
	struct record *before, *record = change->record;
	if (record == NULL) {
		return OUTCOME_DONE;
	}
	if (change->new_life) {
		struct value *run = record_value(record, "run");
		*run = (struct value){.type = run->type, .known = true};
		run->length = split != NULL ? split->ran : length_from_nm(0);
	}
	enum outcome outcome =
		store_record_read(store, arena, record->kind, record->id, &before, fault);
	return outcome == OUTCOME_DONE
	           ? record_rewrite(store, arena, before, record, true, actor, fault)
	           : outcome;
}

/* ---------------------------------------------------------------- a change by care */

enum outcome store_care_change(struct store *store, struct arena *arena, const struct kind *kind,
                               int64_t tool, const struct care_change *change,
                               const struct actor *actor, struct fault *fault)
{
	struct entry entry = {
		.word = change->word,
		.subject_kind = kind->name,
		.subject = tool,
		.happened = actor_moment(actor),
		.detail = change->detail,
	};
	struct life_split since, *split = change->new_life && change->since.known ? &since : NULL;
	assert(!change->new_life || change->record != NULL);
	enum outcome outcome = ledger_write(store, &entry, actor, fault);
	if (outcome == OUTCOME_DONE && split != NULL) {
		outcome = store_life_split(store, tool, change->since.value, split, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_cares(store, tool, change, split, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_gauge(store, tool, change, actor, fault);
	}
	if (outcome == OUTCOME_DONE && change->new_life) {
		outcome = life_begin(store, tool, split, fault);
	}
	return outcome == OUTCOME_DONE ? write_record(store, arena, change, split, actor, fault)
	                               : outcome;
}

enum outcome store_care_add(struct store *store, const struct kind *kind, int64_t tool,
                            const char *what, const struct actor *actor, struct fault *fault)
{
	const struct care_change change = {.word = what, .what = what};
	return store_care_change(store, NULL, kind, tool, &change, actor, fault);
}

/* ---------------------------------------------------------------- taken back */

enum outcome store_undo_care_since(struct store *store, struct arena *arena,
                                   const struct undo_entry *entry, struct ledger_entry *out,
                                   struct fault *fault)
{
	const char *life;
	bool began;
	*out = (struct ledger_entry){.number = 0};
	enum outcome outcome =
		before_read(store, arena, entry->number, "tool_life", &began, &life, fault);
	if (outcome != OUTCOME_DONE || !began) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, &life_since, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", entry->subject);
	bind_number(stmt, ":entry", entry->number);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = ledger_entry_read(arena, stmt);
	}
	statement_done(stmt);
	return outcome;
}

static enum outcome run_by_entry(struct store *store, const struct statement *statement,
                                 const struct undo_entry *entry, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", entry->number);
	return statement_run(store, stmt, "taking care back", fault);
}

/* The rows, and the life where the entry began one. */
static enum outcome restore_rows(struct store *store, struct arena *arena,
                                 const struct undo_entry *entry, struct fault *fault)
{
	const char *life;
	bool began;
	enum outcome outcome = run_by_entry(store, &remove_care, entry, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = run_by_entry(store, &remove_gauge, entry, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = before_read(store, arena, entry->number, "tool_life", &began, &life, fault);
	}
	return outcome == OUTCOME_DONE && began ? life_give_back(store, entry, fault) : outcome;
}

enum outcome store_undo_care_change(struct store *store, struct arena *arena,
                                    const struct undo_entry *entry, const struct actor *actor,
                                    struct fault *fault)
{
	struct record *now, *before;
	struct entry taking = {.subject_kind = entry->kind->name, .subject = entry->subject};
	const char *changes = NULL;
	enum outcome outcome = restore_rows(store, arena, entry, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, entry->kind, entry->subject, &now, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, entry->kind, entry->subject, &before, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = before_restore(store, arena, entry->number, before, fault);
	}
	if (outcome == OUTCOME_DONE) {
		changes = record_changes(arena, now, before);
	}
	if (outcome == OUTCOME_DONE && changes != NULL) {
		outcome = record_rewrite(store, arena, now, before, false, actor, fault);
	}
	return outcome == OUTCOME_DONE ? undo_write(store, arena, entry, &taking, changes, actor, fault)
	                               : outcome;
}

/* ---------------------------------------------------------------- told */

static struct care_row care_row_read(struct arena *arena, sqlite3_stmt *stmt)
{
	struct known_length from = column_length(stmt, 2), to = column_length(stmt, 3);
	return (struct care_row){
		.what = column_words(arena, stmt, 0),
		.moment = column_seconds(stmt, 1).value,
		.damaged = from.known && to.known,
		.band = {from.value, to.value},
		.note = column_words(arena, stmt, 4),
	};
}

enum outcome store_care_of(struct store *store, struct arena *arena, int64_t tool, const char *what,
                           size_t most, struct care_row **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &care_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	bind_words(stmt, ":what", what);
	bind_number(stmt, ":most", most < INT64_MAX ? (int64_t)most : INT64_MAX);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 8, sizeof **out);
			room = room * 2 + 8;
		}
		(*out)[(*count)++] = care_row_read(arena, stmt);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_gauges(struct store *store, struct arena *arena, int64_t tool,
                          struct gauge_row **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &gauges_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 8, sizeof **out);
			room = room * 2 + 8;
		}
		(*out)[(*count)++] = (struct gauge_row){
			.moment = column_seconds(stmt, 0).value,
			.diameter = column_length(stmt, 1),
			.runout = column_length(stmt, 2),
			.run = column_length(stmt, 3),
		};
	}
	statement_done(stmt);
	return outcome;
}
