/* Tools that are out for a job: taken for it, or put at a press from being so. */
#include "internal.h"

#define OUT_COLUMNS "t.id, t.kind, t.tag, p.code"

STATEMENT(taken) = {"tools taken for a job",
                    "SELECT " OUT_COLUMNS " FROM tool t LEFT JOIN place p ON p.id = t.place"
                    " WHERE t.taken_for = :job",
                    false};

/*
 * Putting a tool ends its being out, and the entry keeps for which job it was. What was moved from
 * one station of the press to the next came there by the entry before, and what was taken back
 * never was.
 */
STATEMENT(standing) =
	{"tools at a press for a job",
     "SELECT " OUT_COLUMNS " FROM place p CROSS JOIN tool t"
     " WHERE p.press = :press AND t.place = p.id AND t.taken_for IS NULL AND :job ="
     " (SELECT CAST(b.value AS INTEGER) FROM ledger l LEFT JOIN place f ON f.id = l.from_place"
     " LEFT JOIN entry_before b ON b.entry = l.number AND b.attribute = 'taken_for'"
     " WHERE l.subject = t.id AND (l.to_place IS NOT NULL OR l.from_place IS NOT NULL)"
     " AND (b.value IS NOT NULL OR f.press IS NOT p.press)"
     " AND NOT EXISTS (SELECT 1 FROM taken_back k WHERE k.entry = l.number)"
     " AND NOT EXISTS (SELECT 1 FROM taken_back k WHERE k.by_entry = l.number)"
     " ORDER BY l.happened DESC, l.number DESC LIMIT 1)",
     false};

struct out_list {
	struct tool_out *items;
	size_t count, room;
};

static enum outcome take_rows(struct store *store, struct arena *arena, sqlite3_stmt *stmt,
                              bool at_press, struct out_list *list, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	while (statement_row(store, stmt, &outcome, fault)) {
		if (list->count == list->room) {
			size_t room = list->room * 2 + 16;
			list->items = arena_grow(arena, list->items, list->count, room, sizeof *list->items);
			list->room = room;
		}
		list->items[list->count++] = (struct tool_out){
			.id = sqlite3_column_int64(stmt, 0),
			.kind = kind_find((const char *)sqlite3_column_text(stmt, 1)),
			.tag = column_tag(stmt, 2),
			.place = column_words(arena, stmt, 3),
			.at_press = at_press,
		};
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_tools_out(struct store *store, struct arena *arena, int64_t job,
                             const int64_t *presses, size_t press_count, struct tool_out **out,
                             size_t *count, struct fault *fault)
{
	struct out_list list = {.items = NULL};
	sqlite3_stmt *stmt = statement_ready(store, &taken, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	enum outcome outcome = take_rows(store, arena, stmt, false, &list, fault);
	for (size_t i = 0; i < press_count && outcome == OUTCOME_DONE; i++) {
		stmt = statement_ready(store, &standing, fault);
		if (stmt == NULL) {
			return OUTCOME_STORE;
		}
		bind_number(stmt, ":press", presses[i]);
		bind_number(stmt, ":job", job);
		outcome = take_rows(store, arena, stmt, true, &list, fault);
	}
	*out = list.items;
	*count = list.count;
	return outcome;
}
