/* Anilox rolls. */
#include <stdlib.h>
#include <string.h>

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
#define OF_VOLUME \
	" AND (k.volume IS NULL OR k.volume BETWEEN :volume_least AND :volume_most" \
	" OR k.read_volume BETWEEN :volume_least AND :volume_most)" \
	" AND t.condition <> 'scrapped' AND (:face = 0 OR t.face >= :face)"
STATEMENT(of_screens) = {"rolls of screens",
                         ANILOX_SELECTED
                         " WHERE k.line_screen BETWEEN :screen_least AND :screen_most" OF_VOLUME,
                         false};
STATEMENT(of_no_screen) = {"rolls of no known screen",
                           ANILOX_SELECTED " WHERE k.line_screen IS NULL" OF_VOLUME, false};
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

static enum outcome load_within(struct store *store, struct arena *arena, int64_t job,
                                const struct statement *statement, const struct roll_bounds *bounds,
                                struct length face, struct anilox **out, size_t *count,
                                struct fault *fault)
{
	const struct tool_query query = {statement, sizeof(struct anilox), fill};
	void *tools = NULL;
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	*count = 0;
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	if (statement == &of_screens) {
		bind_real(stmt, ":screen_least", screen_to_per_cm(bounds->screen_least));
		bind_real(stmt, ":screen_most", screen_to_per_cm(bounds->screen_most));
	}
	bind_number(stmt, ":volume_least", volume_to_micro(bounds->volume_least));
	bind_number(stmt, ":volume_most", volume_to_micro(bounds->volume_most));
	bind_number(stmt, ":face", length_to_nm(face));
	enum outcome outcome = tools_load(store, arena, job, &query, stmt, &tools, count, fault);
	*out = tools;
	return outcome;
}

static int compare_ids(const void *a, const void *b)
{
	int64_t x = ((const struct anilox *)a)->tool.id, y = ((const struct anilox *)b)->tool.id;
	return (x > y) - (x < y);
}

/* In the order of their ids, none twice: a roll may do for several stations. */
static size_t rolls_once(struct anilox *rolls, size_t count)
{
	size_t kept = 0;
	if (count > 1) {
		qsort(rolls, count, sizeof *rolls, compare_ids);
	}
	for (size_t i = 0; i < count; i++) {
		if (kept == 0 || rolls[i].tool.id != rolls[kept - 1].tool.id) {
			rolls[kept++] = rolls[i];
		}
	}
	return kept;
}

enum outcome store_rolls(struct store *store, struct arena *arena, int64_t job,
                         const struct roll_bounds *bounds, size_t bounds_count, struct length face,
                         struct anilox **out, size_t *count, struct fault *fault)
{
	static const struct statement *const statements[] = {&of_screens, &of_no_screen};
	enum outcome outcome = OUTCOME_DONE;
	*out = NULL;
	*count = 0;
	for (size_t i = 0; i < bounds_count * 2 && outcome == OUTCOME_DONE; i++) {
		struct anilox *rolls;
		size_t more;
		outcome = load_within(store, arena, job, statements[i % 2], &bounds[i / 2], face, &rolls,
		                      &more, fault);
		if (outcome == OUTCOME_DONE && more > 0) {
			*out = arena_grow(arena, *out, *count, *count + more, sizeof **out);
			memcpy(*out + *count, rolls, more * sizeof *rolls);
			*count += more;
		}
	}
	*count = rolls_once(*out, *count);
	return outcome;
}
