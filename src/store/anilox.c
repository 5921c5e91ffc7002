/* Anilox rolls. */
#include "internal.h"

const struct record_sql anilox_sql = {
	.insert = {"new anilox",
               "INSERT INTO anilox (tool, "
               "line_screen, volume, angle, diameter, surface, engraved"
               ") VALUES (:id, "
               ":line_screen, :volume, :angle, :diameter, :surface, :engraved"
               ")",
               false},
	.update =
		{"changed anilox",
         "UPDATE anilox SET "
         "line_screen = :line_screen, volume = :volume, angle = :angle, diameter = :diameter, "
         "surface = :surface, engraved = :engraved"
         " WHERE tool = :id",
         false},
	.read = {"anilox",
             "SELECT "
             "k.line_screen, k.volume, k.angle, k.diameter, k.surface, k.engraved"
             " FROM anilox k"
             " WHERE k.tool = :id",
             false},
};

#define ANILOX_SELECTED \
	"SELECT " TOOL_COLUMNS ", k.line_screen, k.volume, k.engraved, t.life" \
	" FROM anilox k" TOOL_SOURCES
STATEMENT(between) = {"rolls of screens",
                      ANILOX_SELECTED
                      " WHERE (k.line_screen BETWEEN :least AND :most OR k.line_screen IS NULL)"
                      " AND t.condition <> 'scrapped' AND (:face = 0 OR t.face >= :face)",
                      false};
STATEMENT(one) = {"one anilox", ANILOX_SELECTED " WHERE k.tool = :id", false};

/* Of the life now running; one that was taken before the engraving tells of the surface that was.
 */
STATEMENT(latest_reading) =
	{"latest reading after cleaning",
     "SELECT volume, moment FROM reading WHERE tool = :tool AND life = :life AND after = 'clean'"
     " AND moment >= :since ORDER BY moment DESC, id DESC LIMIT 1",
     false};

STATEMENT(any_reading) =
	{"any reading",
     "SELECT 1 FROM reading WHERE tool = :tool AND life = :life AND moment >= :since LIMIT 1",
     false};

static sqlite3_stmt *ready_for(struct store *store, const struct statement *statement, int64_t tool,
                               int64_t life, struct known_moment engraved, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt == NULL) {
		return NULL;
	}
	bind_number(stmt, ":tool", tool);
	bind_number(stmt, ":life", life);
	if (engraved.known) {
		bind_moment(stmt, ":since", engraved.value);
	} else {
		bind_number(stmt, ":since", INT64_MIN);
	}
	return stmt;
}

static enum outcome read_readings(struct store *store, int64_t tool, int64_t life,
                                  struct known_moment engraved, struct roll_reading *out,
                                  struct fault *fault)
{
	enum outcome outcome = OUTCOME_STORE;
	sqlite3_stmt *stmt = ready_for(store, &latest_reading, tool, life, engraved, fault);
	if (stmt == NULL) {
		return outcome;
	}
	if (statement_row(store, stmt, &outcome, fault)) {
		out->now = column_volume(stmt, 0);
		out->moment = column_seconds(stmt, 1);
	}
	statement_done(stmt);
	if (outcome != OUTCOME_DONE || out->now.known) {
		return outcome;
	}
	stmt = ready_for(store, &any_reading, tool, life, engraved, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	out->read_after_run_only = statement_row(store, stmt, &outcome, fault);
	statement_done(stmt);
	return outcome;
}

static enum outcome fill(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
                         struct fault *fault)
{
	struct anilox *anilox = tool;
	(void)arena;
	anilox->line_screen = column_screen(stmt, OWN_COLUMN);
	anilox->volume = column_volume(stmt, OWN_COLUMN + 1);
	return read_readings(store, anilox->tool.id, sqlite3_column_int64(stmt, OWN_COLUMN + 3),
	                     column_when(stmt, OWN_COLUMN + 2), &anilox->reading, fault);
}

const struct tool_query anilox_one = {&one, sizeof(struct anilox), fill};

enum outcome store_rolls(struct store *store, struct arena *arena, int64_t job, struct screen least,
                         struct screen most, struct length face, struct anilox **out, size_t *count,
                         struct fault *fault)
{
	static const struct tool_query query = {&between, sizeof(struct anilox), fill};
	void *tools = NULL;
	sqlite3_stmt *stmt = statement_ready(store, &between, fault);
	*count = 0;
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_real(stmt, ":least", screen_to_per_cm(least));
	bind_real(stmt, ":most", screen_to_per_cm(most));
	bind_number(stmt, ":face", length_to_nm(face));
	enum outcome outcome = tools_load(store, arena, job, &query, stmt, &tools, count, fault);
	*out = tools;
	return outcome;
}
