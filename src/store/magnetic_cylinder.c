/* Magnetic cylinders. */
#include "internal.h"

const struct record_sql magnetic_cylinder_sql = {
	.insert = {"new magnetic_cylinder",
               "INSERT INTO magnetic_cylinder (tool, "
               "teeth, pitch, die_gap, around"
               ") VALUES (:id, "
               ":teeth, :pitch, :die_gap, :around"
               ")",
               false},
	.update = {"changed magnetic_cylinder",
               "UPDATE magnetic_cylinder SET "
               "teeth = :teeth, pitch = :pitch, die_gap = :die_gap, around = :around"
               " WHERE tool = :id",
               false},
	.read = {"magnetic_cylinder",
             "SELECT "
             "k.teeth, k.pitch, k.die_gap"
             " FROM magnetic_cylinder k"
             " WHERE k.tool = :id",
             false},
};

#define MAGNETIC_CYLINDER_SELECTED \
	"SELECT " TOOL_COLUMNS ", k.teeth, k.pitch, k.die_gap" \
	" FROM magnetic_cylinder k" TOOL_SOURCES
STATEMENT(between) = {"magnetic cylinders of lengths",
                      MAGNETIC_CYLINDER_SELECTED
                      " WHERE k.around BETWEEN :least AND :most AND t.condition <> 'scrapped'",
                      false};
STATEMENT(one) = {"one magnetic cylinder", MAGNETIC_CYLINDER_SELECTED " WHERE k.tool = :id", false};

static enum outcome fill(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
                         struct fault *fault)
{
	struct magnetic_cylinder *magnetic_cylinder = tool;
	(void)store;
	(void)arena;
	(void)fault;
	magnetic_cylinder->own = column_repeat(stmt, OWN_COLUMN, OWN_COLUMN + 1, -1);
	magnetic_cylinder->die_gap = column_length(stmt, OWN_COLUMN + 2);
	return OUTCOME_DONE;
}

const struct tool_query magnetic_cylinder_one = {&one, sizeof(struct magnetic_cylinder), fill};

enum outcome store_magnetic_cylinders(struct store *store, struct arena *arena, int64_t job,
                                      struct length least, struct length most,
                                      struct magnetic_cylinder **out, size_t *count,
                                      struct fault *fault)
{
	static const struct tool_query query = {&between, sizeof(struct magnetic_cylinder), fill};
	void *tools = NULL;
	enum outcome outcome =
		tools_load_between(store, arena, job, &query, least, most, &tools, count, fault);
	*out = tools;
	return outcome;
}
