/* Loose gears. */
#include "internal.h"

const struct record_sql gear_sql = {
	.insert = {"new gear",
               "INSERT INTO gear (tool, "
               "teeth, pitch, pressure_angle, helix, hand, bore, around"
               ") VALUES (:id, "
               ":teeth, :pitch, :pressure_angle, :helix, :hand, :bore, :around"
               ")",
               false},
	.update = {"changed gear",
               "UPDATE gear SET "
               "teeth = :teeth, pitch = :pitch, pressure_angle = :pressure_angle, helix = :helix, "
               "hand = :hand, bore = :bore, around = :around"
               " WHERE tool = :id",
               false},
	.read = {"gear",
             "SELECT "
             "k.teeth, k.pitch, k.pressure_angle, k.helix, k.hand, k.bore"
             " FROM gear k"
             " WHERE k.tool = :id",
             false},
};

#define GEAR_SELECTED \
	"SELECT " TOOL_COLUMNS ", k.teeth, k.pitch, k.bore, k.pressure_angle, k.helix" \
	" FROM gear k" TOOL_SOURCES
STATEMENT(between) = {"gears of lengths",
                      GEAR_SELECTED
                      " WHERE k.around BETWEEN :least AND :most AND t.condition <> 'scrapped'",
                      false};
STATEMENT(one) = {"one gear", GEAR_SELECTED " WHERE k.tool = :id", false};

static enum outcome fill(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
                         struct fault *fault)
{
	struct gear *gear = tool;
	(void)store;
	(void)arena;
	(void)fault;
	gear->own = column_repeat(stmt, OWN_COLUMN, OWN_COLUMN + 1, -1);
	gear->bore = column_length(stmt, OWN_COLUMN + 2);
	gear->pressure_angle = column_angle(stmt, OWN_COLUMN + 3);
	gear->helix = column_angle(stmt, OWN_COLUMN + 4);
	return OUTCOME_DONE;
}

const struct tool_query gear_one = {&one, sizeof(struct gear), fill};

enum outcome store_gears(struct store *store, struct arena *arena, int64_t job, struct length least,
                         struct length most, struct gear **out, size_t *count, struct fault *fault)
{
	static const struct tool_query query = {&between, sizeof(struct gear), fill};
	void *tools = NULL;
	enum outcome outcome =
		tools_load_between(store, arena, job, &query, least, most, &tools, count, fault);
	*out = tools;
	return outcome;
}
