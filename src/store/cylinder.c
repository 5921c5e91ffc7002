/* Plate cylinders. */
#include <string.h>

#include "internal.h"

const struct record_sql cylinder_sql = {
	.insert = {"new cylinder",
               "INSERT INTO cylinder (tool, "
               "teeth, pitch, drive, repeat, undercut, diameter, runout, bore, pressure_angle, "
               "helix, hand, carries, around"
               ") VALUES (:id, "
               ":teeth, :pitch, :drive, :repeat, :undercut, :diameter, :runout, :bore, "
               ":pressure_angle, :helix, :hand, :carries, :around"
               ")",
               false},
	.update =
		{"changed cylinder",
         "UPDATE cylinder SET "
         "teeth = :teeth, pitch = :pitch, drive = :drive, repeat = :repeat, "
         "undercut = :undercut, diameter = :diameter, runout = :runout, bore = :bore, "
         "pressure_angle = :pressure_angle, helix = :helix, hand = :hand, carries = :carries, "
         "around = :around"
         " WHERE tool = :id",
         false},
	.read = {"cylinder",
             "SELECT "
             "k.teeth, k.pitch, k.drive, k.repeat, k.undercut, k.diameter, k.runout, k.bore, "
             "k.pressure_angle, k.helix, k.hand, j.number AS carries, k.carries AS carries_id"
             " FROM cylinder k LEFT JOIN job j ON j.id = k.carries"
             " WHERE k.tool = :id",
             false},
};

#define CYLINDER_SELECTED \
	"SELECT " TOOL_COLUMNS \
	", k.teeth, k.pitch, k.repeat, k.drive, k.undercut, k.diameter, k.runout," \
	" k.bore, k.pressure_angle, k.helix, c.number" \
	" FROM cylinder k" TOOL_SOURCES " LEFT JOIN job c ON c.id = k.carries"
STATEMENT(between) = {"cylinders of lengths",
                      CYLINDER_SELECTED
                      " WHERE k.around BETWEEN :least AND :most AND t.condition <> 'scrapped'",
                      false};
STATEMENT(one) = {"one cylinder", CYLINDER_SELECTED " WHERE k.tool = :id", false};

static enum cylinder_drive drive_of(const char *word)
{
	if (word == NULL) {
		return DRIVE_UNKNOWN;
	}
	return strcmp(word, "geared") == 0        ? DRIVE_GEARED
	       : strcmp(word, "demountable") == 0 ? DRIVE_DEMOUNTABLE
	                                          : DRIVE_GEARLESS;
}

static enum outcome fill(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
                         struct fault *fault)
{
	struct cylinder *cylinder = tool;
	(void)store;
	(void)fault;
	cylinder->own = column_repeat(stmt, OWN_COLUMN, OWN_COLUMN + 1, OWN_COLUMN + 2);
	cylinder->drive = drive_of(column_words(arena, stmt, OWN_COLUMN + 3));
	cylinder->undercut = column_length(stmt, OWN_COLUMN + 4);
	cylinder->diameter = column_length(stmt, OWN_COLUMN + 5);
	cylinder->runout = column_length(stmt, OWN_COLUMN + 6);
	cylinder->bore = column_length(stmt, OWN_COLUMN + 7);
	cylinder->pressure_angle = column_angle(stmt, OWN_COLUMN + 8);
	cylinder->helix = column_angle(stmt, OWN_COLUMN + 9);
	cylinder->tool.carries = column_words(arena, stmt, OWN_COLUMN + 10);
	return OUTCOME_DONE;
}

const struct tool_query cylinder_one = {&one, sizeof(struct cylinder), fill};

enum outcome store_cylinders(struct store *store, struct arena *arena, int64_t job,
                             struct length least, struct length most, struct cylinder **out,
                             size_t *count, struct fault *fault)
{
	static const struct tool_query query = {&between, sizeof(struct cylinder), fill};
	void *tools = NULL;
	enum outcome outcome =
		tools_load_between(store, arena, job, &query, least, most, &tools, count, fault);
	*out = tools;
	return outcome;
}

/* From each length to the next over the index: as many steps as lengths, however many cylinders. */
STATEMENT(lengths) =
	{"lengths of cylinders",
     "WITH RECURSIVE step (around) AS (SELECT min(around) FROM cylinder WHERE around >= :least"
     " UNION ALL SELECT (SELECT min(c.around) FROM cylinder c WHERE c.around > step.around)"
     " FROM step WHERE step.around < :most)"
     " SELECT around FROM step WHERE around BETWEEN :least AND :most",
     false};

enum outcome store_cylinder_lengths(struct store *store, struct arena *arena, struct length least,
                                    struct length most, struct length **out, size_t *count,
                                    struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &lengths, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":least", length_to_nm(least));
	bind_number(stmt, ":most", length_to_nm(most));
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 64, sizeof **out);
			room = room * 2 + 64;
		}
		(*out)[(*count)++] = length_from_nm(sqlite3_column_int64(stmt, 0));
	}
	return outcome;
}
