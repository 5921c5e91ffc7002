/* Readings of anilox volume: events, never changed by a later one. */
#include <string.h>

#include "internal.h"

/*
 * The life that a roll was in at a moment: begun by the last engraving before it, which carries the
 * new number; before the first of them the one before that. Where none is on record it is in its
 * first, or in whichever an older program left it.
 */
#define LIFE_AT \
	"COALESCE((SELECT c.life FROM care c WHERE c.tool = :tool AND c.what IN ('engraved', 'regrind')" \
	" AND c.moment <= :moment ORDER BY c.moment DESC, c.id DESC LIMIT 1)," \
	" (SELECT max(min(c.life) - 1, 1) FROM care c WHERE c.tool = :tool" \
	" AND c.what IN ('engraved', 'regrind') HAVING count(*) > 0)," \
	" (SELECT life FROM tool WHERE id = :tool))"

const struct record_sql reading_sql = {
	.insert =
		{"new reading",
         "INSERT INTO reading (tool, life, moment, volume, left_volume, centre_volume, right_volume,"
         " method, after, run) VALUES (:tool, " LIFE_AT ", :moment, :volume, :left_volume,"
         " :centre_volume, :right_volume, :method, :after, :run)",
         false},
	.update = {"changed reading",
               "UPDATE reading SET moment = :moment, volume = :volume, left_volume = :left_volume,"
               " centre_volume = :centre_volume, right_volume = :right_volume, method = :method,"
               " after = :after, run = :run WHERE id = :id AND tool = :tool",
               false},
	.read =
		{"reading",
         "SELECT t.tag AS tool, r.tool AS tool_id, r.moment, r.volume, r.left_volume, r.centre_volume,"
         " r.right_volume, r.method, r.after, r.run FROM reading r JOIN tool t ON t.id = r.tool"
         " WHERE r.id = :id",
         false},
};

/*
 * A blank counts as after a run. Whoever reads at the very second at which a life begins may have
 * read the surface that was.
 */
#define AT_MOMENT(after) \
	"SELECT id FROM reading WHERE tool = :tool AND life IN (" LIFE_AT ", max(" LIFE_AT " - 1, 1))" \
	" AND after IS " after " AND moment = :moment AND method IS :method"
STATEMENT(at_moment) = {"readings at a moment",
                        AT_MOMENT(":after") " UNION " AT_MOMENT(
							"CASE :after WHEN 'clean' THEN 'clean' WHEN 'run' THEN NULL ELSE 'run'"
							" END") " ORDER BY 1",
                        false};

STATEMENT(one) = {"one reading",
                  "SELECT id, moment, volume, method, after = 'clean', run FROM reading"
                  " WHERE id = :id",
                  false};
/* From the end of its part of the index: however many there are, few are looked at. */
STATEMENT(
	last_before) = {"last reading before another",
                    "SELECT id, moment, volume, method, after = 'clean', run FROM reading"
                    " WHERE tool = :tool AND life = :life AND after IS :after AND moment <= :moment"
                    " AND (moment < :moment OR id < :id) AND moment >= :since"
                    " AND (method IS NULL OR :method IS NULL OR method = :method)"
                    " ORDER BY moment DESC, id DESC LIMIT 1",
                    false};
/* With other readings, and with the record but for what was put right to less since. */
#define NOT_LESS_SINCE \
	"NOT EXISTS (SELECT 1 FROM run_told n WHERE n.tool = :tool AND n.life = :life" \
	" AND n.moment >= r.moment AND n.id > r.id AND n.run < r.run)"
#define SAID(table, index, other, before, order) \
	"SELECT * FROM (SELECT moment, run FROM " table " r INDEXED BY " index " WHERE tool = :tool" \
	" AND life = :life AND run IS NOT NULL AND " other " AND moment " before " :moment" \
	" ORDER BY moment " order ", id " order " LIMIT 1)"
#define SAID_EACH(before, order) \
	SAID("reading", "reading_told", "id <> :id", before, order) \
	" UNION ALL " SAID("run_told", "run_told_of_tool", NOT_LESS_SINCE, before, \
	                   order) " ORDER BY 1 " order " LIMIT 1"
STATEMENT(said_before) = {"run told before a reading", SAID_EACH("<=", "DESC"), false};
STATEMENT(said_after) = {"run told after a reading", SAID_EACH(">", "ASC"), false};
STATEMENT(life_of_reading) = {"life of a reading",
                              "SELECT r.life, r.life = t.life FROM reading r"
                              " JOIN tool t ON t.id = r.tool WHERE r.id = :id",
                              false};
STATEMENT(cleaned) = {"cleaning of a tool between",
                      "SELECT 1 FROM care WHERE tool = :tool AND what = 'cleaned'"
                      " AND moment BETWEEN :from AND :until LIMIT 1",
                      false};
/* Whatever became of them since; one that was taken back is of no roll any more. */
STATEMENT(since_entry) = {
	"readings put on record since an entry",
	"SELECT DISTINCT r.id, r.tool, r.life, r.life = t.life FROM ledger l"
	" CROSS JOIN reading r ON r.id = l.subject CROSS JOIN tool t ON t.id = r.tool WHERE l.number > :entry AND l.subject_kind = 'reading' AND r.life > 0"
	" ORDER BY r.tool, r.life, r.id",
	false};
STATEMENT(rolls_of_serial) = {"rolls by their maker's serial",
                              "SELECT id FROM tool WHERE maker_serial = :serial"
                              " AND kind = 'anilox' ORDER BY tag LIMIT :most",
                              false};

STATEMENT(latest_of_tool) = {
	"latest readings of a tool",
	"SELECT id FROM reading WHERE tool = :tool AND life > 0 ORDER BY life DESC, moment DESC, id DESC"
	" LIMIT :most",
	false};

enum outcome store_readings_latest(struct store *store, int64_t tool, int64_t *ids, size_t most,
                                   size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &latest_of_tool, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	bind_number(stmt, ":most", (int64_t)most);
	while (statement_row(store, stmt, &outcome, fault)) {
		ids[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_readings_at(struct store *store, int64_t tool, struct moment moment,
                               const char *method, const char *after, int64_t *ids, size_t most,
                               size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &at_moment, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	bind_moment(stmt, ":moment", moment);
	bind_words(stmt, ":method", method);
	bind_words(stmt, ":after", after);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		ids[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_reading_find(struct store *store, int64_t tool, struct moment moment,
                                const char *method, const char *after, int64_t *id,
                                struct fault *fault)
{
	size_t count;
	*id = 0;
	return store_readings_at(store, tool, moment, method, after, id, 1, &count, fault);
}

enum outcome store_reading_life(struct store *store, int64_t id, int64_t *life, bool *runs,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &life_of_reading, fault);
	enum outcome outcome = OUTCOME_STORE;
	*life = 0;
	*runs = false;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		*life = sqlite3_column_int64(stmt, 0);
		*runs = sqlite3_column_int64(stmt, 1) != 0;
	}
	statement_done(stmt);
	return outcome;
}

static const char *method_named(const char *text)
{
	return text == NULL ? NULL : strcmp(text, "surface") == 0 ? "surface" : "drawdown";
}

static struct wear_reading read_row(sqlite3_stmt *stmt)
{
	return (struct wear_reading){
		.id = sqlite3_column_int64(stmt, 0),
		.moment = column_seconds(stmt, 1).value,
		.volume = column_volume(stmt, 2).value,
		.method = method_named((const char *)sqlite3_column_text(stmt, 3)),
		.clean = sqlite3_column_int64(stmt, 4) != 0,
		.run = column_length(stmt, 5),
	};
}

enum outcome store_reading_one(struct store *store, int64_t id, struct wear_reading *out,
                               struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &one, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct wear_reading){.id = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = read_row(stmt);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_reading_before(struct store *store, const struct reading_named *named,
                                  const struct wear_reading *reading, const char *after,
                                  const struct moment *since, struct wear_reading *out,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &last_before, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct wear_reading){.id = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", named->tool);
	bind_number(stmt, ":life", named->life);
	bind_words(stmt, ":after", after);
	bind_moment(stmt, ":moment", reading->moment);
	bind_number(stmt, ":id", reading->id);
	bind_words(stmt, ":method", reading->method);
	if (since != NULL) {
		bind_moment(stmt, ":since", *since);
	} else {
		bind_number(stmt, ":since", INT64_MIN);
	}
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = read_row(stmt);
	}
	statement_done(stmt);
	return outcome;
}

static enum outcome read_said(struct store *store, const struct statement *statement,
                              const struct reading_named *named, const struct wear_reading *reading,
                              struct run_said *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct run_said){.moment.known = false};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", named->tool);
	bind_number(stmt, ":life", named->life);
	bind_number(stmt, ":id", reading->id);
	bind_moment(stmt, ":moment", reading->moment);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = (struct run_said){column_seconds(stmt, 0), column_length(stmt, 1).value};
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_runs_said(struct store *store, const struct reading_named *named,
                             const struct wear_reading *reading, struct run_said *before,
                             struct run_said *after, struct fault *fault)
{
	enum outcome outcome = read_said(store, &said_before, named, reading, before, fault);
	return outcome == OUTCOME_DONE ? read_said(store, &said_after, named, reading, after, fault)
	                               : outcome;
}

enum outcome store_cleaned_between(struct store *store, int64_t tool, struct moment from,
                                   struct moment until, bool *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &cleaned, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = false;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	bind_moment(stmt, ":from", from);
	bind_moment(stmt, ":until", until);
	*out = statement_row(store, stmt, &outcome, fault);
	statement_done(stmt);
	return outcome;
}

enum outcome store_readings_since(struct store *store, struct arena *arena, int64_t entry,
                                  struct reading_named **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &since_entry, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 32, sizeof **out);
			room = room * 2 + 32;
		}
		(*out)[(*count)++] = (struct reading_named){
			.id = sqlite3_column_int64(stmt, 0),
			.tool = sqlite3_column_int64(stmt, 1),
			.life = sqlite3_column_int64(stmt, 2),
			.life_runs = sqlite3_column_int64(stmt, 3) != 0,
		};
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_rolls_of_serial(struct store *store, const char *serial, int64_t *ids,
                                   size_t most, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &rolls_of_serial, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":serial", serial);
	bind_number(stmt, ":most", (int64_t)most);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		ids[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}
