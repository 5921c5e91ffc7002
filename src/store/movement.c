/* Where a tool is, and whether it may run: both change with an entry in the ledger. */
#include <stdio.h>
#include <string.h>

#include "record.h"

STATEMENT(tool_state) = {
	"tool as movements see it",
	"SELECT t.kind, t.tag, t.name, t.condition, t.condition_reason, t.place, p.code, p.sort, t.home,"
	" h.code, t.back, j.number, t.condition_since"
	" FROM tool t LEFT JOIN place p ON p.id = t.place LEFT JOIN place h ON h.id = t.home"
	" LEFT JOIN job j ON j.id = t.taken_for WHERE t.id = :id",
	false};

/* What the entry of a movement tells of the tool: a scan has no time for more. */
STATEMENT(tool_before) = {"kind and place of a tool", "SELECT kind, place FROM tool WHERE id = :id",
                          false};

/* Whereabouts follow the latest happening: an entry that comes late changes nothing of them. */
STATEMENT(move_tool) =
	{"tool moved",
     "UPDATE tool SET place = :place, back = :back, taken_for = NULL WHERE id = :id"
     " AND NOT EXISTS (SELECT 1 FROM ledger WHERE subject = :id AND happened > :happened"
     " AND (to_place IS NOT NULL OR from_place IS NOT NULL))",
     false};

STATEMENT(moved_later) = {"later movement of a tool",
                          "SELECT 1 FROM ledger WHERE subject = :id AND happened > :happened"
                          " AND (to_place IS NOT NULL OR from_place IS NOT NULL) LIMIT 1",
                          false};

/* One seek in ledger_whereabouts. */
STATEMENT(place_then) = {"place of a tool at a moment",
                         "SELECT to_place FROM ledger WHERE subject = :id AND happened <= :happened"
                         " AND (to_place IS NOT NULL OR from_place IS NOT NULL)"
                         " ORDER BY happened DESC, number DESC LIMIT 1",
                         false};

/* What was taken back stands as it stood before that: out for a job too. */
STATEMENT(away_then) =
	{"was a tool at a press or out for a job",
     "SELECT l.word = 'take' OR p.sort IS 'press' OR EXISTS (SELECT 1 FROM taken_back b"
     " JOIN entry_before e ON e.entry = b.entry AND e.attribute = 'taken_for'"
     " WHERE b.by_entry = l.number) FROM ledger l LEFT JOIN place p"
     " ON p.id = l.to_place WHERE l.subject = :id AND l.happened <= :happened"
     " AND (l.to_place IS NOT NULL OR l.from_place IS NOT NULL)"
     " ORDER BY l.happened DESC, l.number DESC LIMIT 1",
     false};

STATEMENT(take_tool) = {"tool taken",
                        "UPDATE tool SET taken_for = :job WHERE id = :id"
                        " AND NOT EXISTS (SELECT 1 FROM ledger WHERE subject = :id"
                        " AND happened > :happened"
                        " AND (to_place IS NOT NULL OR from_place IS NOT NULL))",
                        false};

/* What comes late changes nothing of a condition that was given later. */
#define UPDATE_CONDITION(table) \
	"UPDATE " table " SET condition = :condition, condition_reason = :reason," \
	" condition_since = :since WHERE id = :id AND (NOT :late OR condition_since IS NULL" \
	" OR condition_since <= :since)"
STATEMENT(tool_condition) = {"condition of a tool changed", UPDATE_CONDITION("tool"), false};
STATEMENT(place_condition) = {"condition of a place changed", UPDATE_CONDITION("place"), false};

struct moment actor_moment(const struct actor *actor)
{
	return actor->happened.known ? actor->happened.value : actor->now;
}

enum outcome store_tool_state(struct store *store, struct arena *arena, int64_t tool,
                              struct tool_state *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &tool_state, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct tool_state){.id = tool};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	if (statement_row(store, stmt, &outcome, fault)) {
		struct known_moment back = column_when(stmt, 10);
		out->kind = kind_find((const char *)sqlite3_column_text(stmt, 0));
		out->tag = arena_copy(arena, tag_shown(column_tag(stmt, 1)).bytes);
		out->name = column_words(arena, stmt, 2);
		out->condition = column_words(arena, stmt, 3);
		out->condition_reason = column_words(arena, stmt, 4);
		out->place = sqlite3_column_int64(stmt, 5);
		out->place_code = column_words(arena, stmt, 6);
		out->place_sort = column_words(arena, stmt, 7);
		out->home = sqlite3_column_int64(stmt, 8);
		out->home_code = column_words(arena, stmt, 9);
		out->back = back.known ? arena_copy(arena, moment_text(back.value).bytes) : NULL;
		out->taken_for = column_words(arena, stmt, 11);
		out->condition_since = column_seconds(stmt, 12);
	}
	statement_done(stmt);
	return outcome;
}

/* What the entry of a movement tells beside the places: when it is due back, and why it went. */
static const char *movement_detail(struct arena *arena, const struct movement *movement)
{
	struct text detail = text_start(arena);
	if (movement->back != NULL) {
		text_add_format(&detail, "back %s", moment_text(*movement->back).bytes);
	}
	if (movement->reason != NULL) {
		text_join(&detail, ": ", movement->reason);
	}
	return detail.length > 0 ? detail.bytes : NULL;
}

enum outcome whereabouts_refuse_early(struct store *store, int64_t tool, const char *tag,
                                      struct moment happened, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &moved_later, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	bind_moment(stmt, ":happened", happened);
	bool later = statement_row(store, stmt, &outcome, fault);
	statement_done(stmt);
	if (later) {
		fault_set(fault, OUTCOME_NO, "clock stands before the tool's last movement: %s", tag);
		fault_hint(fault,
		           "Set this computer's clock, then type it again; history %s tells when it moved.",
		           tag);
		return OUTCOME_NO;
	}
	return outcome;
}

/*
 * Where the tool was when it happened, of what comes late: not where it is now. Nowhere before all
 * that the ledger tells of it.
 */
static enum outcome read_place_then(struct store *store, int64_t tool, struct entry *entry,
                                    struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &place_then, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	bind_moment(stmt, ":happened", entry->happened);
	bool known = statement_row(store, stmt, &outcome, fault);
	entry->from_place = known ? sqlite3_column_int64(stmt, 0) : 0;
	statement_done(stmt);
	return outcome;
}

static enum outcome write_movement(struct store *store, const struct movement *movement,
                                   struct fault *fault)
{
	struct quantity_text back;
	sqlite3_stmt *stmt = statement_ready(store, &move_tool, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":place", movement->to);
	if (movement->back != NULL) {
		back = when_stored(*movement->back);
		bind_words(stmt, ":back", back.bytes);
	}
	bind_number(stmt, ":id", movement->tool);
	bind_moment(stmt, ":happened", movement->happened);
	enum outcome outcome = statement_run(store, stmt, "moving a tool", fault);
	if (movement->stays != NULL) {
		*movement->stays = sqlite3_changes(store->db) == 0;
	}
	return outcome;
}

/* Kind and place of the tool before it moves, into its entry. */
static enum outcome read_before(struct store *store, int64_t tool, const struct actor *actor,
                                struct entry *entry, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &tool_before, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	if (statement_row(store, stmt, &outcome, fault)) {
		const struct kind *kind = kind_find((const char *)sqlite3_column_text(stmt, 0));
		entry->subject_kind = kind != NULL ? kind->name : NULL;
		entry->from_place = sqlite3_column_int64(stmt, 1);
	}
	statement_done(stmt);
	if (outcome == OUTCOME_DONE && entry->subject_kind == NULL) {
		return fault_set(fault, OUTCOME_STORE, "tool is not on record: number %lld",
		                 (long long)tool);
	}
	return outcome == OUTCOME_DONE && actor->happened.known
	           ? read_place_then(store, tool, entry, fault)
	           : outcome;
}

enum outcome store_tool_move(struct store *store, const struct movement *movement,
                             const struct actor *actor, struct fault *fault)
{
	bool told = movement->back != NULL || movement->reason != NULL;
	struct arena *arena = told ? arena_new() : NULL;
	struct entry entry = {
		.word = movement->word,
		.subject = movement->tool,
		.to_place = movement->to,
		.happened = movement->happened,
		.detail = told ? movement_detail(arena, movement) : NULL,
	};
	enum outcome outcome = read_before(store, movement->tool, actor, &entry, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = ledger_write(store, &entry, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = before_keep_movement(store, movement->tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_movement(store, movement, fault);
	}
	arena_free(arena);
	return outcome;
}

enum outcome store_tool_was_away(struct store *store, int64_t tool, struct moment then, bool *out,
                                 struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &away_then, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = false;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	bind_moment(stmt, ":happened", then);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = sqlite3_column_int64(stmt, 0) != 0;
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- out for a job */

static enum outcome write_taking(struct store *store, int64_t tool, int64_t job,
                                 struct moment happened, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &take_tool, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", tool);
	bind_number(stmt, ":job", job);
	bind_moment(stmt, ":happened", happened);
	return statement_run(store, stmt, "taking a tool", fault);
}

/* Its entry tells the place twice, so that it counts among those of the tool's whereabouts. */
enum outcome store_tool_take(struct store *store, int64_t tool, int64_t job,
                             const struct actor *actor, struct fault *fault)
{
	struct entry entry = {
		.word = "take",
		.subject = tool,
		.job = job,
		.happened = actor_moment(actor),
	};
	enum outcome outcome = read_before(store, tool, actor, &entry, fault);
	entry.to_place = entry.from_place;
	if (outcome == OUTCOME_DONE) {
		outcome = ledger_write(store, &entry, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = before_keep_movement(store, tool, fault);
	}
	return outcome == OUTCOME_DONE ? write_taking(store, tool, job, actor_moment(actor), fault)
	                               : outcome;
}

/* ---------------------------------------------------------------- condition */

enum outcome store_condition_set(struct store *store, const struct kind *kind, int64_t id,
                                 const char *condition, const char *reason,
                                 const struct actor *actor, struct fault *fault)
{
	bool ready = strcmp(condition, "ready") == 0;
	struct entry entry = {
		.word = ready                                ? "clear"
	            : strcmp(condition, "scrapped") == 0 ? "scrap"
	                                                 : condition,
		.subject_kind = kind->name,
		.subject = id,
		.happened = actor_moment(actor),
		.detail = reason,
	};
	enum outcome outcome = ledger_write(store, &entry, actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = before_keep_condition(store, kind, id, fault);
	}
	sqlite3_stmt *stmt =
		statement_ready(store, kind->tool ? &tool_condition : &place_condition, fault);
	if (outcome != OUTCOME_DONE || stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_words(stmt, ":condition", condition);
	bind_words(stmt, ":reason", ready ? NULL : reason);
	bind_moment(stmt, ":since", actor_moment(actor));
	bind_number(stmt, ":late", actor->happened.known);
	bind_number(stmt, ":id", id);
	return statement_run(store, stmt, "changing a condition", fault);
}
