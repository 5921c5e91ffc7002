/* Dies. */
#include <string.h>

#include "internal.h"

const struct record_sql die_sql = {
	.insert =
		{"new die",
         "INSERT INTO die (tool, "
         "build, cut, teeth, pitch, number_across, number_around, label_across, label_around, "
         "gap_across, gap_around, corner, shape, liner_caliper, die_gap, life, around"
         ") VALUES (:id, "
         ":build, :cut, :teeth, :pitch, :number_across, :number_around, :label_across, "
         ":label_around, :gap_across, :gap_around, :corner, :shape, :liner_caliper, :die_gap, "
         ":life, :around"
         ")",
         false},
	.update = {"changed die",
               "UPDATE die SET "
               "build = :build, cut = :cut, teeth = :teeth, pitch = :pitch, "
               "number_across = :number_across, number_around = :number_around, "
               "label_across = :label_across, label_around = :label_around, "
               "gap_across = :gap_across, gap_around = :gap_around, corner = :corner, "
               "shape = :shape, liner_caliper = :liner_caliper, die_gap = :die_gap, life = :life, "
               "around = :around"
               " WHERE tool = :id",
               false},
	.read = {"die",
             "SELECT "
             "k.build, k.cut, k.teeth, k.pitch, k.number_across, k.number_around, k.label_across, "
             "k.label_around, k.gap_across, k.gap_around, k.corner, k.shape, k.liner_caliper, "
             "k.die_gap, k.life"
             " FROM die k"
             " WHERE k.tool = :id",
             false},
};

#define DIE_COLUMNS \
	TOOL_COLUMNS \
	", k.build, k.cut, k.shape, k.teeth, k.pitch, k.number_across, k.number_around," \
	" k.label_across, k.label_around, k.gap_across, k.corner, k.liner_caliper, k.die_gap, k.life"

/* A bound that is not asked takes in the dies whose label is not known, too. */
STATEMENT(between) =
	{"dies of label sizes",
     "SELECT " DIE_COLUMNS " FROM die k" TOOL_SOURCES
     " WHERE (k.label_across BETWEEN :least AND :most OR (k.label_across IS NULL AND :least = 0))"
     " AND t.condition <> 'scrapped'",
     false};

STATEMENT(one) = {"die", "SELECT " DIE_COLUMNS " FROM die k" TOOL_SOURCES " WHERE k.tool = :id",
                  false};

static enum die_build build_of(const char *word)
{
	if (word == NULL) {
		return BUILD_UNKNOWN;
	}
	return strcmp(word, "flexible") == 0 ? BUILD_FLEXIBLE : BUILD_SOLID;
}

static enum outcome fill(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
                         struct fault *fault)
{
	struct die *die = tool;
	(void)store;
	(void)fault;
	die->build = build_of(column_words(arena, stmt, OWN_COLUMN));
	die->cut = column_words(arena, stmt, OWN_COLUMN + 1);
	die->shape = column_words(arena, stmt, OWN_COLUMN + 2);
	die->own = column_repeat(stmt, OWN_COLUMN + 3, OWN_COLUMN + 4, -1);
	die->number_across = column_count(stmt, OWN_COLUMN + 5);
	die->number_around = column_count(stmt, OWN_COLUMN + 6);
	die->label_across = column_length(stmt, OWN_COLUMN + 7);
	die->label_around = column_length(stmt, OWN_COLUMN + 8);
	die->gap_across = column_length(stmt, OWN_COLUMN + 9);
	die->corner = column_length(stmt, OWN_COLUMN + 10);
	die->liner_caliper = column_length(stmt, OWN_COLUMN + 11);
	die->die_gap = column_length(stmt, OWN_COLUMN + 12);
	die->life = column_count(stmt, OWN_COLUMN + 13);
	return OUTCOME_DONE;
}

const struct tool_query die_one = {&one, sizeof(struct die), fill};

enum outcome store_dies(struct store *store, struct arena *arena, int64_t job, struct length least,
                        struct length most, struct die **out, size_t *count, struct fault *fault)
{
	static const struct tool_query query = {&between, sizeof(struct die), fill};
	void *tools = NULL;
	enum outcome outcome =
		tools_load_between(store, arena, job, &query, least, most, &tools, count, fault);
	*out = tools;
	return outcome;
}

enum outcome store_die(struct store *store, struct arena *arena, int64_t job, int64_t id,
                       struct die *out, struct fault *fault)
{
	return tools_load_one(store, arena, job, &die_one, id, out, fault);
}
