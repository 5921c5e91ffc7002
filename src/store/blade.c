/* Doctor blade assemblies. */
#include "internal.h"

const struct record_sql blade_sql = {
	.insert = {"new blade",
               "INSERT INTO blade (tool, "
               "length, material, thickness, edge, fitted, life"
               ") VALUES (:id, "
               ":length, :material, :thickness, :edge, :fitted, :life"
               ")",
               false},
	.update = {"changed blade",
               "UPDATE blade SET "
               "length = :length, material = :material, thickness = :thickness, edge = :edge, "
               "fitted = :fitted, life = :life"
               " WHERE tool = :id",
               false},
	.read = {"blade",
             "SELECT "
             "k.length, k.material, k.thickness, k.edge, k.fitted, k.life"
             " FROM blade k"
             " WHERE k.tool = :id",
             false},
};

#define BLADE_SELECTED \
	"SELECT " TOOL_COLUMNS ", k.length, k.life" \
	" FROM blade k" TOOL_SOURCES
STATEMENT(between) = {"blades of lengths",
                      BLADE_SELECTED
                      " WHERE k.length BETWEEN :least AND :most AND t.condition <> 'scrapped'",
                      false};
STATEMENT(one) = {"one blade", BLADE_SELECTED " WHERE k.tool = :id", false};

static enum outcome fill(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
                         struct fault *fault)
{
	struct blade *blade = tool;
	(void)store;
	(void)arena;
	(void)fault;
	blade->length = column_length(stmt, OWN_COLUMN);
	blade->life = column_length(stmt, OWN_COLUMN + 1);
	return OUTCOME_DONE;
}

const struct tool_query blade_one = {&one, sizeof(struct blade), fill};

enum outcome store_blades(struct store *store, struct arena *arena, int64_t job,
                          struct length least, struct length most, struct blade **out,
                          size_t *count, struct fault *fault)
{
	static const struct tool_query query = {&between, sizeof(struct blade), fill};
	void *tools = NULL;
	enum outcome outcome =
		tools_load_between(store, arena, job, &query, least, most, &tools, count, fault);
	*out = tools;
	return outcome;
}
