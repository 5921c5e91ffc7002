/* Presses. A press is a place too, and each of its stations is one within it. */
#include <stdio.h>

#include "find.h"

const struct record_sql press_sql = {
	.insert =
		{"new press",
         "INSERT INTO press (tag, code, name, drive, web, repeat_min, repeat_max, pitches,"
         " pressure_angle, helix, stations, die_stations, spacing, fit, speed, retired)"
         " VALUES (:tag, :code, :name, :drive, :web, :repeat_min, :repeat_max, :pitches,"
         " :pressure_angle, :helix, :stations, :die_stations, :spacing, :fit, :speed, :retired)",
         false},
	.update = {"changed press",
               "UPDATE press SET code = :code, name = :name, drive = :drive, web = :web,"
               " repeat_min = :repeat_min, repeat_max = :repeat_max, pitches = :pitches,"
               " pressure_angle = :pressure_angle, helix = :helix, stations = :stations,"
               " die_stations = :die_stations, spacing = :spacing, fit = :fit, speed = :speed,"
               " retired = :retired WHERE id = :id",
               false},
	.read =
		{"press",
         "SELECT tag, code, name, drive, web, repeat_min, repeat_max, pitches, pressure_angle, helix,"
         " stations, die_stations, spacing, fit, speed, retired FROM press WHERE id = :id",
         false},
};

STATEMENT(find_place) = {"place of a station", "SELECT id, sort FROM place WHERE code = :code",
                         false};

STATEMENT(claim_place) =
	{"station becomes part of its press",
     "UPDATE place SET press = :press, station = :station, die_station = :die_station,"
     " within = COALESCE(within, :within) WHERE id = :id",
     false};

STATEMENT(claim_inner_places) = {
	"places within a press become part of it",
	"UPDATE place SET press = :press WHERE press IS NULL AND id IN (WITH RECURSIVE inner_place (id) AS"
	" (SELECT :place UNION SELECT p.id FROM place p JOIN inner_place i ON p.within = i.id)"
	" SELECT id FROM inner_place)",
	false};

/* Where a place of that code is on record, it must be one of a press; 0 where there is none. */
static enum outcome place_of_code(struct store *store, const char *code, int64_t *id,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &find_place, fault);
	enum outcome outcome = OUTCOME_STORE;
	*id = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":code", code);
	if (statement_row(store, stmt, &outcome, fault)) {
		*id = sqlite3_column_int64(stmt, 0);
		const char *sort = (const char *)sqlite3_column_text(stmt, 1);
		if (!text_equal_fold(sort, "press")) {
			outcome = fault_set(fault, OUTCOME_BAD,
			                    "place of the press is on record as sort %s: %s", sort, code);
			fault_hint(fault, "Give that place the sort press, or the press another code.");
		}
	}
	statement_done(stmt);
	return outcome;
}

/* A station that is made may not be called what a job, a tool or a badge is called already. */
static enum outcome refuse_taken(struct store *store, const char *code, struct fault *fault)
{
	struct found other;
	enum outcome outcome = find_by_code(store, code, REFER_NONE, &other, fault);
	if (outcome == OUTCOME_DONE && other.id != 0 && other.kind->id != KIND_PRESS) {
		outcome = fault_set(fault, OUTCOME_BAD, "station of the press would be called as %s is: %s",
		                    other.kind->title, code);
		fault_hint(fault, "Give that another name, or the press another code.");
	}
	return outcome;
}

static enum outcome make_place(struct store *store, struct arena *arena, const char *code,
                               const char *name, const struct actor *actor, int64_t *id,
                               struct fault *fault)
{
	struct record *place = record_new(arena, &kinds[KIND_PLACE]);
	*record_value(place, "code") =
		(struct value){.type = VALUE_TEXT, .known = true, .text = arena_copy(arena, code)};
	*record_value(place, "name") =
		(struct value){.type = VALUE_TEXT, .known = true, .text = arena_copy(arena, name)};
	*record_value(place, "sort") =
		(struct value){.type = VALUE_CHOICE, .known = true, .text = "press"};
	enum outcome outcome = store_record_insert(store, arena, place, actor, fault);
	*id = place->id;
	return outcome;
}

/* The place of a press (station and die_station 0), a print station or a die station. */
static enum outcome settle_place(struct store *store, struct arena *arena, int64_t press,
                                 const char *code, const char *name, int64_t within,
                                 int64_t station, int64_t die_station, const struct actor *actor,
                                 int64_t *id, struct fault *fault)
{
	enum outcome outcome = place_of_code(store, code, id, fault);
	if (outcome == OUTCOME_DONE && *id == 0) {
		outcome = refuse_taken(store, code, fault);
	}
	if (outcome == OUTCOME_DONE && *id == 0) {
		outcome = make_place(store, arena, code, name, actor, id, fault);
	}
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE ? statement_ready(store, &claim_place, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_number(stmt, ":press", press);
	bind_id(stmt, ":station", station);
	bind_id(stmt, ":die_station", die_station);
	bind_id(stmt, ":within", within);
	bind_number(stmt, ":id", *id);
	return statement_run(store, stmt, "making the stations of a press", fault);
}

static enum outcome settle_stations(struct store *store, struct arena *arena, int64_t press,
                                    const char *code, int64_t within, int64_t count, bool die,
                                    const struct actor *actor, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	for (int64_t i = 1; i <= count && outcome == OUTCOME_DONE; i++) {
		char station[300], name[340];
		int64_t id;
		snprintf(station, sizeof station, "%.250s-%s%d", code, die ? "D" : "", (int)i);
		snprintf(name, sizeof name, "%s %d of %.250s", die ? "die station" : "station", (int)i,
		         code);
		outcome = settle_place(store, arena, press, station, name, within, die ? 0 : i, die ? i : 0,
		                       actor, &id, fault);
	}
	return outcome;
}

enum outcome press_settle(struct store *store, struct arena *arena, struct record *record,
                          const struct actor *actor, struct fault *fault)
{
	const char *code = record_words(record, "code");
	const char *name = record_words(record, "name");
	const struct value *stations = record_known(record, "stations");
	const struct value *die_stations = record_known(record, "die_stations");
	int64_t body;
	enum outcome outcome = settle_place(store, arena, record->id, code, name != NULL ? name : code,
	                                    0, 0, 0, actor, &body, fault);
	if (outcome == OUTCOME_DONE && stations != NULL) {
		outcome = settle_stations(store, arena, record->id, code, body, value_to_stored(stations),
		                          false, actor, fault);
	}
	if (outcome == OUTCOME_DONE && die_stations != NULL) {
		outcome = settle_stations(store, arena, record->id, code, body,
		                          value_to_stored(die_stations), true, actor, fault);
	}
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE ? statement_ready(store, &claim_inner_places, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_number(stmt, ":press", record->id);
	bind_number(stmt, ":place", body);
	return statement_run(store, stmt, "placing what is within a press", fault);
}

STATEMENT(read_press) =
	{"press for the check",
     "SELECT id, code, name, drive, web, repeat_min, repeat_max, pitches, pressure_angle, helix,"
     " stations, die_stations, fit, retired, speed FROM press WHERE id = :id",
     false};

STATEMENT(read_stations) = {
	"stations of a press",
	"SELECT station, die_station, code, processes, condition, condition_reason, condition_since"
	" FROM place WHERE press = :press AND retired = 0 AND (station IS NOT NULL OR die_station IS NOT NULL)"
	" ORDER BY die_station IS NOT NULL, station, die_station",
	false};

STATEMENT(in_use) = {"presses in use", "SELECT id FROM press WHERE retired = 0 ORDER BY code",
                     true};

/* The pitches of a gear train, out of their comma-separated text. */
static void read_pitches(struct arena *arena, const char *text, struct press *press)
{
	size_t room = 1;
	for (const char *c = text; c != NULL && *c != '\0'; c++) {
		room += *c == ',' ? 1 : 0;
	}
	struct pitch *pitches = arena_take(arena, room, sizeof *pitches);
	while (text != NULL && *text != '\0') {
		size_t length = 0;
		while (text[length] != '\0' && text[length] != ',') {
			length++;
		}
		const char *one = arena_copy_bytes(arena, text, length);
		if (pitch_parse(one, &pitches[press->pitch_count], NULL) == OUTCOME_DONE) {
			press->pitch_count++;
		}
		text += length + (text[length] == ',' ? 1 : 0);
	}
	press->pitches = pitches;
}

static enum outcome read_press_stations(struct store *store, struct arena *arena,
                                        struct press_state *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &read_stations, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":press", out->press.id);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (out->station_count == room) {
			out->stations =
				arena_grow(arena, out->stations, room, room * 2 + 16, sizeof *out->stations);
			room = room * 2 + 16;
		}
		struct press_station *station = &out->stations[out->station_count++];
		station->die = sqlite3_column_type(stmt, 1) != SQLITE_NULL;
		station->number = sqlite3_column_int64(stmt, station->die ? 1 : 0);
		station->code = column_words(arena, stmt, 2);
		station->processes = column_words(arena, stmt, 3);
		station->held = text_equal_fold((const char *)sqlite3_column_text(stmt, 4), "hold");
		station->reason = column_words(arena, stmt, 5);
		station->since = column_seconds(stmt, 6);
	}
	return outcome;
}

enum outcome store_press_read(struct store *store, struct arena *arena, int64_t id,
                              struct press_state *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &read_press, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct press_state){.press.id = id};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		const char *drive = column_words(arena, stmt, 3);
		out->press.code = column_words(arena, stmt, 1);
		out->name = column_words(arena, stmt, 2);
		out->press.drive_known = drive != NULL;
		out->press.geared = drive != NULL && text_equal_fold(drive, "geared");
		out->press.web = column_length(stmt, 4);
		out->press.repeat_min = column_length(stmt, 5);
		out->press.repeat_max = column_length(stmt, 6);
		read_pitches(arena, column_words(arena, stmt, 7), &out->press);
		out->press.pressure_angle = column_angle(stmt, 8);
		out->press.helix = column_angle(stmt, 9);
		out->stations_counted = sqlite3_column_int64(stmt, 10);
		out->die_stations_counted = sqlite3_column_int64(stmt, 11);
		out->press.fit = column_words(arena, stmt, 12);
		out->retired = sqlite3_column_int64(stmt, 13) != 0;
		out->press.speed.known = sqlite3_column_type(stmt, 14) != SQLITE_NULL;
		out->press.speed.value =
			value_from_stored(VALUE_SPEED, sqlite3_column_int64(stmt, 14)).speed;
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE ? read_press_stations(store, arena, out, fault) : outcome;
}

enum outcome store_presses(struct store *store, struct arena *arena, int64_t **out, size_t *count,
                           struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &in_use, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 8, sizeof **out);
			room = room * 2 + 8;
		}
		(*out)[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	return outcome;
}
