/* Places: shelves, carts, suppliers, and the stations of a press. */
#include "internal.h"

const struct record_sql place_sql = {
	.insert =
		{"new place",
         "INSERT INTO place (tag, code, name, within, sort, walk, capacity, processes, condition,"
         " condition_reason, condition_since, note, retired)"
         " VALUES (:tag, :code, :name, :within, :sort, :walk, :capacity, :processes, :condition,"
         " :condition_reason, :condition_since, :note, :retired)",
         false},
	.update =
		{"changed place",
         "UPDATE place SET code = :code, name = :name, within = :within, sort = :sort, walk = :walk,"
         " capacity = :capacity, processes = :processes, condition = :condition,"
         " condition_reason = :condition_reason, condition_since = :condition_since, note = :note,"
         " retired = :retired WHERE id = :id",
         false},
	.read =
		{"place",
         "SELECT p.tag, p.code, p.name, w.code AS within, p.within AS within_id, p.sort, p.walk,"
         " p.capacity, p.processes, p.condition, p.note, p.retired"
         " FROM place p LEFT JOIN place w ON w.id = p.within WHERE p.id = :id",
         false},
};

/* A place within a press's place is part of that press, and so is what lies within it. */
STATEMENT(take_press_from_outer) =
	{"press of a place",
     "UPDATE place SET press = (SELECT o.press FROM place o WHERE o.id = place.within)"
     " WHERE id IN (WITH RECURSIVE inner_place (id) AS (SELECT :id UNION"
     " SELECT p.id FROM place p JOIN inner_place i ON p.within = i.id) SELECT id FROM inner_place)"
     " AND within IS NOT NULL AND station IS NULL AND die_station IS NULL"
     " AND (SELECT o.press FROM place o WHERE o.id = place.within) IS NOT press",
     false};

STATEMENT(
	outer_places) = {"is a place within another",
                     "WITH RECURSIVE outer_place (id, depth) AS (SELECT :place, 0 UNION"
                     " SELECT p.within, o.depth + 1 FROM place p JOIN outer_place o ON p.id = o.id"
                     " WHERE p.within IS NOT NULL AND o.depth < 64)"
                     " SELECT 1 FROM outer_place WHERE id = :outer LIMIT 1",
                     false};

STATEMENT(state_of) =
	{"place as movements see it",
     "SELECT id, code, name, sort, condition, condition_reason, processes, press, retired,"
     " condition_since, capacity FROM place WHERE id = :id",
     false};

STATEMENT(place_of_press) = {
	"place of a station's press",
	"SELECT b.id, b.code FROM place s JOIN press r ON r.id = s.press JOIN place b ON b.code = r.code"
	" WHERE s.id = :id AND (s.station IS NOT NULL OR s.die_station IS NOT NULL)",
	false};

enum outcome place_fill_within(struct store *store, struct arena *arena, struct record *record,
                               struct fault *fault)
{
	size_t index = kind_attribute_find(record->kind, "within");
	enum outcome outcome = OUTCOME_STORE;
	if (record->values[index].known) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &place_of_press, fault);
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", record->id);
	if (statement_row(store, stmt, &outcome, fault)) {
		record->references[index] = sqlite3_column_int64(stmt, 0);
		record->values[index].text = column_words(arena, stmt, 1);
		record->values[index].known = true;
	}
	statement_done(stmt);
	return outcome;
}

enum outcome place_settle(struct store *store, struct arena *arena, struct record *record,
                          const struct actor *actor, struct fault *fault)
{
	(void)arena;
	(void)actor;
	sqlite3_stmt *stmt = statement_ready(store, &take_press_from_outer, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", record->id);
	return statement_run(store, stmt, "placing a place", fault);
}

enum outcome store_place_within(struct store *store, int64_t place, int64_t outer, bool *out,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &outer_places, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":place", place);
	bind_number(stmt, ":outer", outer);
	*out = statement_row(store, stmt, &outcome, fault);
	statement_done(stmt);
	return outcome;
}

enum outcome store_place_state(struct store *store, struct arena *arena, int64_t place,
                               struct place_state *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &state_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct place_state){.id = place};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", place);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->code = column_words(arena, stmt, 1);
		out->name = column_words(arena, stmt, 2);
		out->sort = column_words(arena, stmt, 3);
		out->condition = column_words(arena, stmt, 4);
		out->condition_reason = column_words(arena, stmt, 5);
		out->processes = column_words(arena, stmt, 6);
		out->press = sqlite3_column_int64(stmt, 7);
		out->retired = sqlite3_column_int64(stmt, 8) != 0;
		out->condition_since = column_seconds(stmt, 9);
		out->capacity = column_count(stmt, 10);
	}
	statement_done(stmt);
	return outcome;
}
