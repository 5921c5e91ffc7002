/* Anilox rolls. */
#include <stdlib.h>

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
	"SELECT " TOOL_COLUMNS ", k.line_screen, k.volume, k.engraved, t.life, k.forecast," \
	" k.forecast_slope" \
	" FROM anilox k" TOOL_SOURCES
#define OF_VOLUME \
	" AND (volume IS NULL OR volume BETWEEN :volume_least AND :volume_most" \
	" OR read_volume BETWEEN :volume_least AND :volume_most" \
	" OR (max(forecast, 0.0) >= :volume_least" \
	" AND max(forecast + forecast_slope * :run_most, 0.0) <= :volume_most))"
STATEMENT(of_screens) = {"rolls of screens",
                         "SELECT tool FROM anilox"
                         " WHERE line_screen BETWEEN :screen_least AND :screen_most" OF_VOLUME,
                         false};
STATEMENT(of_no_screen) = {"rolls of no known screen",
                           "SELECT tool FROM anilox WHERE line_screen IS NULL" OF_VOLUME, false};
STATEMENT(in_use) = {"one roll in use",
                     ANILOX_SELECTED " WHERE k.tool = :id AND t.condition <> 'scrapped'"
                                     " AND (:face = 0 OR t.face >= :face)",
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
	enum outcome outcome =
		read_readings(store, anilox->tool.id, sqlite3_column_int64(stmt, OWN_COLUMN + 3),
	                  column_when(stmt, OWN_COLUMN + 2), &anilox->reading, fault);
	/* Readings of the surface that was tell nothing of the one that an engraving made since. */
	anilox->forecast.known = anilox->reading.now.known &&
	                         sqlite3_column_type(stmt, OWN_COLUMN + 4) != SQLITE_NULL &&
	                         sqlite3_column_type(stmt, OWN_COLUMN + 5) != SQLITE_NULL;
	if (anilox->forecast.known) {
		anilox->forecast.now = sqlite3_column_double(stmt, OWN_COLUMN + 4);
		anilox->forecast.slope = sqlite3_column_double(stmt, OWN_COLUMN + 5);
	}
	return outcome;
}

const struct tool_query anilox_one = {&one, sizeof(struct anilox), fill};

struct ids {
	int64_t *items;
	size_t count, room;
};

static enum outcome ids_within(struct store *store, struct arena *arena,
                               const struct statement *statement, const struct roll_bounds *bounds,
                               struct ids *ids, struct fault *fault)
{
	enum outcome outcome = OUTCOME_STORE;
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt == NULL) {
		return outcome;
	}
	if (statement == &of_screens) {
		bind_real(stmt, ":screen_least", screen_to_per_cm(bounds->screen_least));
		bind_real(stmt, ":screen_most", screen_to_per_cm(bounds->screen_most));
	}
	bind_number(stmt, ":volume_least", volume_to_micro(bounds->volume_least));
	bind_number(stmt, ":volume_most", volume_to_micro(bounds->volume_most));
	const double endless = 1e15; /* m: no trend leaves anything of a roll */
	bind_real(stmt, ":run_most",
	          bounds->run_most.known ? length_to_m(bounds->run_most.value) : endless);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (ids->count == ids->room) {
			size_t room = ids->room * 2 + 64;
			ids->items = arena_grow(arena, ids->items, ids->count, room, sizeof *ids->items);
			ids->room = room;
		}
		ids->items[ids->count++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

static int compare_ids(const void *a, const void *b)
{
	int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
	return (x > y) - (x < y);
}

/* In order, none twice: a roll may do for several stations. */
static void ids_once(struct ids *ids)
{
	size_t kept = 0;
	if (ids->count > 1) {
		qsort(ids->items, ids->count, sizeof *ids->items, compare_ids);
	}
	for (size_t i = 0; i < ids->count; i++) {
		if (kept == 0 || ids->items[i] != ids->items[kept - 1]) {
			ids->items[kept++] = ids->items[i];
		}
	}
	ids->count = kept;
}

enum outcome store_rolls(struct store *store, struct arena *arena, int64_t job,
                         const struct roll_bounds *bounds, size_t bounds_count, struct length face,
                         struct anilox **out, size_t *count, struct fault *fault)
{
	static const struct tool_query query = {&in_use, sizeof(struct anilox), fill};
	struct arena *scratch = arena_new();
	enum outcome outcome = OUTCOME_DONE;
	struct ids ids = {.items = NULL};
	void *tools = NULL;
	*count = 0;
	for (size_t i = 0; i < bounds_count && outcome == OUTCOME_DONE; i++) {
		outcome = ids_within(store, scratch, &of_screens, &bounds[i], &ids, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = ids_within(store, scratch, &of_no_screen, &bounds[i], &ids, fault);
		}
		ids_once(&ids);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = tools_load_listed(store, arena, job, &query, ids.items, ids.count, face, &tools,
		                            count, fault);
	}
	*out = tools;
	arena_free(scratch);
	return outcome;
}
