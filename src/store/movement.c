/* Where a tool is, and whether it may run: both change with an entry in the ledger. */
#include <string.h>

#include "record.h"

STATEMENT(tool_state) = {
	"tool as movements see it",
	"SELECT t.kind, t.tag, t.name, t.condition, t.condition_reason, t.place, p.code, p.sort, t.home,"
	" h.code, t.back, j.number, t.condition_since"
	" FROM tool t LEFT JOIN place p ON p.id = t.place LEFT JOIN place h ON h.id = t.home"
	" LEFT JOIN job j ON j.id = t.taken_for WHERE t.id = :id",
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

STATEMENT(tool_condition) =
	{"condition of a tool changed",
     "UPDATE tool SET condition = :condition, condition_reason = :reason, condition_since = :since"
     " WHERE id = :id",
     false};

STATEMENT(place_condition) =
	{"condition of a place changed",
     "UPDATE place SET condition = :condition, condition_reason = :reason, condition_since = :since"
     " WHERE id = :id",
     false};

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
	return statement_run(store, stmt, "moving a tool", fault);
}

enum outcome store_tool_move(struct store *store, const struct movement *movement,
                             const struct actor *actor, struct fault *fault)
{
	struct arena *arena = arena_new();
	struct tool_state before;
	enum outcome outcome = store_tool_state(store, arena, movement->tool, &before, fault);
	if (before.kind == NULL) {
		arena_free(arena);
		return fault_set(fault, OUTCOME_STORE, "tool is not on record: number %lld",
		                 (long long)movement->tool);
	}
	if (outcome == OUTCOME_DONE) {
		struct entry entry = {
			.word = movement->word,
			.subject_kind = before.kind->name,
			.subject = movement->tool,
			.from_place = before.place,
			.to_place = movement->to,
			.happened = movement->happened,
			.detail = movement_detail(arena, movement),
		};
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
		.happened = actor->now,
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
	bind_moment(stmt, ":since", actor->now);
	bind_number(stmt, ":id", id);
	return statement_run(store, stmt, "changing a condition", fault);
}
