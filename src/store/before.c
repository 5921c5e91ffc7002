/* What stood before an entry and cannot be told from it: kept by the change that made the entry. */
#include <stdlib.h>
#include <string.h>

#include "record.h"

STATEMENT(keep_value) =
	{"value before an entry",
     "INSERT INTO entry_before (entry, attribute, value) VALUES (:entry, :attribute, :value)",
     false};

STATEMENT(keep_movement) =
	{"whereabouts before an entry",
     "INSERT INTO entry_before (entry, attribute, value)"
     " SELECT :entry, 'back', back FROM tool WHERE id = :id AND back IS NOT NULL UNION ALL"
     " SELECT :entry, 'taken_for', taken_for FROM tool WHERE id = :id AND taken_for IS NOT NULL",
     false};

#define CONDITION_OF(table) \
	"INSERT INTO entry_before (entry, attribute, value)" \
	" SELECT :entry, 'condition', condition FROM " table " WHERE id = :id UNION ALL" \
	" SELECT :entry, 'condition_reason', condition_reason FROM " table \
	" WHERE id = :id AND condition_reason IS NOT NULL UNION ALL" \
	" SELECT :entry, 'condition_since', condition_since FROM " table \
	" WHERE id = :id AND condition_since IS NOT NULL"
STATEMENT(keep_tool_condition) = {"condition of a tool before an entry", CONDITION_OF("tool"),
                                  false};
STATEMENT(keep_place_condition) = {"condition of a place before an entry", CONDITION_OF("place"),
                                   false};

STATEMENT(value_before) =
	{"value kept before an entry",
     "SELECT value FROM entry_before WHERE entry = :entry AND attribute = :attribute", false};
STATEMENT(values_before) = {"values kept before an entry",
                            "SELECT attribute, value FROM entry_before WHERE entry = :entry",
                            false};

STATEMENT(code_of_place) = {"code of a place", "SELECT code FROM place WHERE id = :id", false};
STATEMENT(number_of_job) = {"number of a job", "SELECT number FROM job WHERE id = :id", false};
STATEMENT(tag_of_tool) = {"tag of a tool", "SELECT tag FROM tool WHERE id = :id", false};

/* ---------------------------------------------------------------- keeping */

enum outcome before_keep(struct store *store, const char *attribute, const char *value,
                         struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &keep_value, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", store->ledger_end.number);
	bind_words(stmt, ":attribute", attribute);
	bind_words(stmt, ":value", value);
	return statement_run(store, stmt, "keeping what stood before", fault);
}

static enum outcome keep_by(struct store *store, const struct statement *statement, int64_t id,
                            struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", store->ledger_end.number);
	bind_number(stmt, ":id", id);
	return statement_run(store, stmt, "keeping what stood before", fault);
}

enum outcome before_keep_movement(struct store *store, int64_t tool, struct fault *fault)
{
	return keep_by(store, &keep_movement, tool, fault);
}

enum outcome before_keep_condition(struct store *store, const struct kind *kind, int64_t id,
                                   struct fault *fault)
{
	return keep_by(store, kind->tool ? &keep_tool_condition : &keep_place_condition, id, fault);
}

/* Is it kept as the id of what it names? A list of presses is kept as their codes. */
static bool kept_as_id(const struct attribute *attribute)
{
	return attribute->reference != REFER_NONE && attribute->reference != REFER_PRESSES;
}

enum outcome before_keep_value(struct store *store, struct arena *arena,
                               const struct record *record, size_t attribute, struct fault *fault)
{
	const struct attribute *of = kind_attribute(record->kind, attribute);
	const struct value *value = &record->values[attribute];
	const char *text = NULL;
	if (value->known && kept_as_id(of)) {
		text = arena_format(arena, "%lld", (long long)record->references[attribute]);
	} else if (value->known && value->type == VALUE_MOMENT) {
		text = arena_copy(arena, when_stored(value->moment).bytes);
	} else if (value->known) {
		text = value_text(arena, value, UNITS_METRIC);
	}
	return before_keep(store, of->name, text, fault);
}

/* ---------------------------------------------------------------- what was kept */

enum outcome before_read(struct store *store, struct arena *arena, int64_t entry,
                         const char *attribute, bool *known, const char **out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &value_before, fault);
	enum outcome outcome = OUTCOME_STORE;
	*known = false;
	*out = NULL;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	bind_words(stmt, ":attribute", attribute);
	*known = statement_row(store, stmt, &outcome, fault);
	if (*known) {
		*out = column_words(arena, stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

static const struct statement *name_of(enum reference reference)
{
	switch (reference) {
	case REFER_PLACE:
		return &code_of_place;
	case REFER_JOB:
		return &number_of_job;
	case REFER_TOOL:
	case REFER_ANILOX:
	case REFER_DIE:
	case REFER_NONE:
	case REFER_PRESSES:
		break;
	}
	return &tag_of_tool;
}

/* What an id names, by the words it is known by now. */
static enum outcome restore_reference(struct store *store, struct arena *arena, int64_t id,
                                      struct record *record, size_t index, struct fault *fault)
{
	const struct attribute *attribute = kind_attribute(record->kind, index);
	sqlite3_stmt *stmt = statement_ready(store, name_of(attribute->reference), fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		struct tag tag = column_tag(stmt, 0);
		bool tool = name_of(attribute->reference) == &tag_of_tool;
		record->references[index] = id;
		record->values[index].known = true;
		record->values[index].text =
			tool ? arena_copy(arena, tag_shown(tag).bytes) : column_words(arena, stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

static enum outcome restore_value(struct store *store, struct arena *arena, const char *text,
                                  struct record *record, size_t index, struct fault *fault)
{
	const struct attribute *attribute = kind_attribute(record->kind, index);
	record->values[index] = (struct value){.type = attribute->type};
	record->references[index] = 0;
	if (text == NULL) {
		return OUTCOME_DONE;
	}
	return kept_as_id(attribute)
	           ? restore_reference(store, arena, strtoll(text, NULL, 10), record, index, fault)
	           : value_parse(arena, attribute->name, attribute->type, attribute->choices, NULL,
	                         text, &record->values[index], fault);
}

enum outcome before_restore(struct store *store, struct arena *arena, int64_t entry,
                            struct record *record, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &values_before, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	while (statement_row(store, stmt, &outcome, fault)) {
		size_t index =
			kind_attribute_find(record->kind, (const char *)sqlite3_column_text(stmt, 0));
		const char *text = column_words(arena, stmt, 1);
		if (index != SIZE_MAX) { /* else of the condition: its reason, its since */
			outcome = restore_value(store, arena, text, record, index, fault);
		}
		if (outcome != OUTCOME_DONE) {
			break;
		}
	}
	statement_done(stmt);
	return outcome;
}
