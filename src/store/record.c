/* Records of any kind: put on record and corrected, each with its ledger entry. */
#include <stdio.h>
#include <string.h>

#include "record.h"

static const struct record_sql *const sql_of_kind[KIND_COUNT] = {
	[KIND_OPERATOR] = &operator_sql, [KIND_PLACE] = &place_sql,
	[KIND_PRESS] = &press_sql,       [KIND_JOB] = &job_sql,
	[KIND_CYLINDER] = &cylinder_sql, [KIND_GEAR] = &gear_sql,
	[KIND_ANILOX] = &anilox_sql,     [KIND_BLADE] = &blade_sql,
	[KIND_DIE] = &die_sql,           [KIND_MAGNETIC_CYLINDER] = &magnetic_cylinder_sql,
	[KIND_STATION] = &station_sql,   [KIND_CUT] = &cut_sql,
	[KIND_READING] = &reading_sql,
};

const struct record_sql *record_sql_of(const struct kind *kind)
{
	return sql_of_kind[kind->id];
}

STATEMENT(set_other_tag) = {"other tag", "INSERT INTO other_tag (code, tool) VALUES (:code, :tool)",
                            false};
STATEMENT(forget_other_tag) = {"other tag taken away", "DELETE FROM other_tag WHERE tool = :tool",
                               false};
STATEMENT(condition_of_tool) =
	{"condition of a tool",
     "SELECT condition, condition_reason, condition_since, place FROM tool WHERE id = :id", false};
STATEMENT(condition_of_place) =
	{"condition of a place",
     "SELECT condition, condition_reason, condition_since, NULL FROM place WHERE id = :id", false};

static enum outcome write_row(struct store *store, const struct statement *statement,
                              const struct record *record, const struct kept *kept,
                              const struct actor *actor, struct fault *fault)
{
	struct tag_text stored; /* bound: outlives the step */
	if (statement_ready(store, statement, fault) == NULL) {
		return OUTCOME_STORE;
	}
	struct prepared *entry = statement_entry(store, statement, fault);
	record_bind(store, entry, record, kept, actor, &stored);
	return statement_run(store, entry->stmt, "writing a record", fault);
}

static enum outcome write_other_tag(struct store *store, const struct record *record,
                                    struct fault *fault)
{
	const char *code = record_words(record, "other_tag");
	if (code == NULL) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &set_other_tag, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_words(stmt, ":code", code);
	bind_number(stmt, ":tool", record->id);
	return statement_run(store, stmt, "writing an other tag", fault);
}

static enum outcome settle(struct store *store, struct arena *arena, struct record *record,
                           const struct actor *actor, struct fault *fault)
{
	switch (record->kind->id) {
	case KIND_PLACE:
		return place_settle(store, arena, record, actor, fault);
	case KIND_PRESS:
		return press_settle(store, arena, record, actor, fault);
	case KIND_JOB:
		return job_settle(store, arena, record, actor, fault);
	case KIND_OPERATOR:
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return OUTCOME_DONE;
}

/* The record that an entry is about: a station, a cut or a reading belongs to its job or tool. */
static void name_subject(const struct record *record, struct entry *entry)
{
	entry->subject_kind = record->kind->name;
	entry->subject = record->id;
	size_t job = kind_attribute_find(record->kind, "job");
	if (job != SIZE_MAX) {
		entry->job = record->references[job];
	}
}

static int64_t place_of(const struct record *record)
{
	return record->kind->tool ? record->references[kind_attribute_find(record->kind, "place")] : 0;
}

static enum outcome settle_tag(struct store *store, struct arena *arena, struct record *record,
                               struct fault *fault)
{
	struct tag tag;
	struct value *value;
	if (!record->kind->tagged) {
		return OUTCOME_DONE;
	}
	value = record_value(record, "tag");
	if (value->known && tag_read(value->text, &tag) == TAG_READ) {
		return tag_keep(store, tag, fault);
	}
	enum outcome outcome = tag_give(store, record->kind->class, &tag, fault);
	value->known = true;
	value->text = arena_copy(arena, tag_shown(tag).bytes);
	return outcome;
}

enum outcome store_record_insert(struct store *store, struct arena *arena, struct record *record,
                                 const struct actor *actor, struct fault *fault)
{
	static const struct kept nothing = {.condition = "new"};
	const struct record_sql *sql = record_sql_of(record->kind);
	enum outcome outcome = settle_tag(store, arena, record, fault);
	if (outcome == OUTCOME_DONE && record->kind->tool) {
		outcome = write_row(store, &tool_sql.insert, record, &nothing, actor, fault);
		record->id = sqlite3_last_insert_rowid(store->db);
		if (outcome == OUTCOME_DONE) {
			outcome = write_other_tag(store, record, fault);
		}
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_row(store, &sql->insert, record, &nothing, actor, fault);
	}
	if (!record->kind->tool) {
		record->id = sqlite3_last_insert_rowid(store->db);
	}
	struct entry entry = {.word = "new", .happened = actor->now, .to_place = place_of(record)};
	name_subject(record, &entry);
	if (outcome == OUTCOME_DONE) {
		outcome = ledger_write(store, &entry, actor, fault);
	}
	return outcome == OUTCOME_DONE ? settle(store, arena, record, actor, fault) : outcome;
}

static enum outcome read_kept(struct store *store, struct arena *arena, const struct record *record,
                              struct kept *kept, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	*kept = (struct kept){.condition = "new"};
	if (!record->kind->tool && record->kind->id != KIND_PLACE) {
		return outcome;
	}
	sqlite3_stmt *stmt =
		statement_ready(store, record->kind->tool ? &condition_of_tool : &condition_of_place,
	                    fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", record->id);
	if (statement_row(store, stmt, &outcome, fault)) {
		snprintf(kept->condition, sizeof kept->condition, "%s", sqlite3_column_text(stmt, 0));
		kept->reason = column_words(arena, stmt, 1);
		kept->since = column_seconds(stmt, 2);
		kept->since.known = kept->since.known && sqlite3_column_type(stmt, 2) != SQLITE_NULL;
		kept->place = sqlite3_column_int64(stmt, 3);
	}
	statement_done(stmt);
	return outcome;
}

/* "face 330mm -> 320mm; note -> chipped": what an update changes, in metric units. */
static const char *changes_between(struct arena *arena, const struct record *before,
                                   const struct record *after)
{
	struct text changes = text_start(arena);
	size_t count = kind_attribute_count(after->kind);
	for (size_t i = 0; i < count; i++) {
		if (value_equal(&before->values[i], &after->values[i])) {
			continue;
		}
		const char *old = value_text(arena, &before->values[i], UNITS_METRIC);
		const char *new = value_text(arena, &after->values[i], UNITS_METRIC);
		if (strcmp(old, new) != 0) {
			text_join(&changes, "; ",
			          arena_format(arena, "%s %s -> %s", kind_attribute(after->kind, i)->name,
			                       *old != '\0' ? old : "not known",
			                       *new != '\0' ? new : "not known"));
		}
	}
	return changes.length > 0 ? changes.bytes : NULL;
}

static enum outcome rewrite_other_tag(struct store *store, const struct record *record,
                                      struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &forget_other_tag, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", record->id);
	enum outcome outcome = statement_run(store, stmt, "writing an other tag", fault);
	return outcome == OUTCOME_DONE ? write_other_tag(store, record, fault) : outcome;
}

/* A blank is written as what it means: so that an unchanged row is seen to be unchanged. */
static void fill_fallbacks(struct record *record)
{
	size_t count = kind_attribute_count(record->kind);
	for (size_t i = 0; i < count; i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		struct value *value = &record->values[i];
		if (value->known || attribute->fallback == NULL) {
			continue;
		}
		value->known = true;
		if (value->type == VALUE_YES_NO) {
			value->yes = strcmp(attribute->fallback, "yes") == 0;
		} else {
			value->text = attribute->fallback;
		}
	}
}

enum outcome store_record_update(struct store *store, struct arena *arena, struct record *record,
                                 const struct actor *actor, bool *changed, struct fault *fault)
{
	const struct record_sql *sql = record_sql_of(record->kind);
	struct record *before;
	struct kept kept;
	enum outcome outcome =
		store_record_read(store, arena, record->kind, record->id, &before, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	fill_fallbacks(record);
	if (record->kind->id == KIND_PLACE) {
		outcome = place_fill_within(store, arena, record, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char *changes = changes_between(arena, before, record);
	if (changed != NULL) {
		*changed = changes != NULL;
	}
	if (changes == NULL) {
		return OUTCOME_DONE;
	}
	outcome = read_kept(store, arena, record, &kept, fault);
	if (outcome == OUTCOME_DONE && record->kind->tool) {
		outcome = write_row(store, &tool_sql.update, record, &kept, actor, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = rewrite_other_tag(store, record, fault);
		}
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_row(store, &sql->update, record, &kept, actor, fault);
	}
	struct entry entry = {.word = "changed", .happened = actor->now, .detail = changes};
	name_subject(record, &entry);
	if (place_of(record) != kept.place) {
		entry.from_place = kept.place;
		entry.to_place = place_of(record);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = ledger_write(store, &entry, actor, fault);
	}
	return outcome == OUTCOME_DONE ? settle(store, arena, record, actor, fault) : outcome;
}

STATEMENT(anything) = {"is anything on record", "SELECT EXISTS (SELECT 1 FROM ledger)", true};

enum outcome store_is_empty(struct store *store, bool *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &anything, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	*out = statement_row(store, stmt, &outcome, fault) && sqlite3_column_int64(stmt, 0) == 0;
	statement_done(stmt);
	return outcome;
}
