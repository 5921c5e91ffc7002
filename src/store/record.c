/* Records of any kind: written and read by their attributes' names. */
#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "internal.h"

static const struct record_sql *const sql_of_kind[KIND_COUNT] = {
	[KIND_OPERATOR] = &operator_sql, [KIND_PLACE] = &place_sql,
	[KIND_PRESS] = &press_sql,       [KIND_JOB] = &job_sql,
	[KIND_CYLINDER] = &cylinder_sql, [KIND_GEAR] = &gear_sql,
	[KIND_ANILOX] = &anilox_sql,     [KIND_BLADE] = &blade_sql,
	[KIND_DIE] = &die_sql,           [KIND_MAGNETIC_CYLINDER] = &magnetic_cylinder_sql,
	[KIND_STATION] = &station_sql,   [KIND_CUT] = &cut_sql,
	[KIND_READING] = &reading_sql,
};

static const struct statement set_other_tag =
	{"other tag", "INSERT INTO other_tag (code, tool) VALUES (:code, :tool)", false};
static const struct statement forget_other_tag = {"other tag taken away",
                                                  "DELETE FROM other_tag WHERE tool = :tool",
                                                  false};
static const struct statement condition_of_tool =
	{"condition of a tool",
     "SELECT condition, condition_reason, condition_since, place FROM tool WHERE id = :id", false};
static const struct statement condition_of_place =
	{"condition of a place",
     "SELECT condition, condition_reason, condition_since, NULL FROM place WHERE id = :id", false};

/* What stands on record beside the attributes, and must outlive a rewriting of them. */
struct kept {
	char condition[16];
	const char *reason;
	struct known_moment since;
	int64_t place;
};

/* ------------------------------------------------------------------ binding */

/* Which attribute each parameter of a statement takes, worked out once. */
static void map_parameters(struct store *store, struct prepared *entry, const struct kind *kind)
{
	if (entry->kind == kind) {
		return;
	}
	int count = sqlite3_bind_parameter_count(entry->stmt);
	entry->kind = kind;
	entry->attributes = arena_take(store->arena, (size_t)count + 1, sizeof *entry->attributes);
	for (int i = 0; i < count; i++) {
		size_t index =
			kind_attribute_find(kind, sqlite3_bind_parameter_name(entry->stmt, i + 1) + 1);
		entry->attributes[i] = index == SIZE_MAX ? -1 : (int16_t)index;
	}
}

static void bind_value(sqlite3_stmt *stmt, int parameter, const struct attribute *attribute,
                       const struct value *value)
{
	switch (value->type) {
	case VALUE_TEXT:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_PITCHES:
		sqlite3_bind_text(stmt, parameter, value->text, -1, SQLITE_STATIC);
		return;
	case VALUE_PITCH:
		sqlite3_bind_text(stmt, parameter, pitch_text(value->pitch).bytes, -1, SQLITE_TRANSIENT);
		return;
	case VALUE_SCREEN:
		sqlite3_bind_double(stmt, parameter, screen_to_per_cm(value->screen));
		return;
	case VALUE_NUMBER:
		sqlite3_bind_double(stmt, parameter, value->number);
		return;
	case VALUE_MOMENT:
		if (!attribute->seconds) {
			sqlite3_bind_text(stmt, parameter, when_stored(value->moment).bytes, -1,
			                  SQLITE_TRANSIENT);
			return;
		}
		break;
	case VALUE_COUNT:
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
	case VALUE_VOLUME:
	case VALUE_WEIGHT:
	case VALUE_AREA:
	case VALUE_LIQUID:
	case VALUE_ANGLE:
	case VALUE_SPEED:
	case VALUE_DURATION:
	case VALUE_PERCENT:
	case VALUE_MONEY:
	case VALUE_YES_NO:
		break;
	case VALUE_ACROSS:
		assert(!"left, centre and right are columns of their own");
		return;
	}
	sqlite3_bind_int64(stmt, parameter, value_to_stored(value));
}

/* Binds every parameter that is an attribute; what is not known stays NULL, or what a blank means. */
static void bind_record(struct store *store, struct prepared *entry, const struct record *record)
{
	int count = sqlite3_bind_parameter_count(entry->stmt);
	map_parameters(store, entry, record->kind);
	for (int i = 0; i < count; i++) {
		int index = entry->attributes[i];
		if (index < 0) {
			continue;
		}
		const struct attribute *attribute = kind_attribute(record->kind, (size_t)index);
		if (attribute->reference != REFER_NONE) {
			if (record->references[index] != 0) {
				sqlite3_bind_int64(entry->stmt, i + 1, record->references[index]);
			}
		} else if (record->values[index].known) {
			bind_value(entry->stmt, i + 1, attribute, &record->values[index]);
		} else if (attribute->fallback != NULL && attribute->type == VALUE_YES_NO) {
			sqlite3_bind_int(entry->stmt, i + 1, strcmp(attribute->fallback, "yes") == 0);
		} else if (attribute->fallback != NULL) {
			sqlite3_bind_text(entry->stmt, i + 1, attribute->fallback, -1, SQLITE_STATIC);
		}
	}
}

static bool has_parameter(sqlite3_stmt *stmt, const char *name)
{
	return sqlite3_bind_parameter_index(stmt, name) > 0;
}

/* Condition's reason and since: what stood there while the condition stays, else the note and now. */
static void bind_condition(sqlite3_stmt *stmt, const struct record *record, const struct kept *kept,
                           const struct actor *actor)
{
	if (!has_parameter(stmt, ":condition_reason")) {
		return;
	}
	const char *condition = record_words(record, "condition");
	condition = condition != NULL ? condition : "ready";
	if (strcmp(condition, kept->condition) == 0) {
		bind_words(stmt, ":condition_reason", kept->reason);
		if (kept->since.known) {
			bind_moment(stmt, ":condition_since", kept->since.value);
		}
		return;
	}
	bind_words(stmt, ":condition_reason",
	           strcmp(condition, "ready") == 0 ? NULL : record_words(record, "note"));
	bind_moment(stmt, ":condition_since", actor->now);
}

/* A tool's own length around, so that the check finds it by an index. */
static void bind_around(sqlite3_stmt *stmt, const struct record *record)
{
	if (!has_parameter(stmt, ":around")) {
		return;
	}
	const struct value *teeth = record_known(record, "teeth");
	const struct value *pitch = record_known(record, "pitch");
	const struct value *repeat =
		record->kind->id == KIND_CYLINDER ? record_known(record, "repeat") : NULL;
	struct repeat own = {.known = false};
	if (teeth != NULL && pitch != NULL) {
		own = repeat_of_teeth(teeth->count, pitch->pitch);
	} else if (repeat != NULL) {
		own = repeat_of_length(repeat->length);
	}
	if (own.known) {
		bind_number(stmt, ":around", length_to_nm(real_round(repeat_length(own))));
	}
}

static void bind_across(sqlite3_stmt *stmt, const struct record *record)
{
	if (!has_parameter(stmt, ":left_volume")) {
		return;
	}
	const struct value *across = record_known(record, "across");
	if (across != NULL) {
		bind_number(stmt, ":left_volume", volume_to_micro(across->across.left));
		bind_number(stmt, ":centre_volume", volume_to_micro(across->across.centre));
		bind_number(stmt, ":right_volume", volume_to_micro(across->across.right));
	}
}

/* ------------------------------------------------------------------ writing */

static enum outcome write_row(struct store *store, const struct statement *statement,
                              const struct record *record, const struct kept *kept,
                              const struct actor *actor, struct fault *fault)
{
	struct tag tag;
	struct tag_text stored;
	if (statement_ready(store, statement, fault) == NULL) {
		return OUTCOME_STORE;
	}
	struct prepared *entry = statement_entry(store, statement, fault);
	bind_record(store, entry, record);
	if (has_parameter(entry->stmt, ":id") && record->id != 0) {
		bind_number(entry->stmt, ":id", record->id);
	}
	if (has_parameter(entry->stmt, ":tag") &&
	    tag_read(record_words(record, "tag"), &tag) == TAG_READ) {
		stored = tag_stored(tag);
		bind_words(entry->stmt, ":tag", stored.bytes);
	}
	if (has_parameter(entry->stmt, ":kind") && record->kind->tool) {
		bind_words(entry->stmt, ":kind", record->kind->name);
	}
	bind_condition(entry->stmt, record, kept, actor);
	bind_around(entry->stmt, record);
	bind_across(entry->stmt, record);
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
	const struct record_sql *sql = sql_of_kind[record->kind->id];
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
	const struct record_sql *sql = sql_of_kind[record->kind->id];
	struct record *before;
	struct kept kept;
	enum outcome outcome =
		store_record_read(store, arena, record->kind, record->id, &before, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	fill_fallbacks(record);
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

/* ------------------------------------------------------------------ reading */

static void read_value(struct arena *arena, sqlite3_stmt *stmt, int column,
                       const struct attribute *attribute, struct value *value)
{
	const char *text;
	if (sqlite3_column_type(stmt, column) == SQLITE_NULL) {
		return;
	}
	value->known = true;
	switch (value->type) {
	case VALUE_TEXT:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_PITCHES:
		text = column_words(arena, stmt, column);
		if (strcmp(attribute->name, "tag") == 0 || attribute->reference == REFER_TOOL ||
		    attribute->reference == REFER_ANILOX || attribute->reference == REFER_DIE) {
			text = arena_copy(arena, tag_shown(column_tag(stmt, column)).bytes);
		}
		value->text = text;
		return;
	case VALUE_PITCH:
		value->known = pitch_parse((const char *)sqlite3_column_text(stmt, column), &value->pitch,
		                           NULL) == OUTCOME_DONE;
		return;
	case VALUE_SCREEN:
		value->screen = screen_from_per_cm(sqlite3_column_double(stmt, column));
		return;
	case VALUE_NUMBER:
		value->number = sqlite3_column_double(stmt, column);
		return;
	case VALUE_MOMENT:
		if (!attribute->seconds) {
			struct known_moment when = column_when(stmt, column);
			value->known = when.known;
			value->moment = when.value;
			return;
		}
		break;
	case VALUE_COUNT:
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
	case VALUE_VOLUME:
	case VALUE_WEIGHT:
	case VALUE_AREA:
	case VALUE_LIQUID:
	case VALUE_ANGLE:
	case VALUE_SPEED:
	case VALUE_DURATION:
	case VALUE_PERCENT:
	case VALUE_MONEY:
	case VALUE_YES_NO:
		break;
	case VALUE_ACROSS:
		value->known = false;
		return;
	}
	*value = value_from_stored(value->type, sqlite3_column_int64(stmt, column));
}

static void read_across(sqlite3_stmt *stmt, int column, struct record *record)
{
	struct value *across = record_value(record, "across");
	across->known = sqlite3_column_type(stmt, column) != SQLITE_NULL;
	across->across.left = volume_from_micro(sqlite3_column_int64(stmt, column));
	across->across.centre = volume_from_micro(sqlite3_column_int64(stmt, column + 1));
	across->across.right = volume_from_micro(sqlite3_column_int64(stmt, column + 2));
}

/* A column carries the name of an attribute, or `X_id` for the id of a reference X. */
static void read_column(struct arena *arena, sqlite3_stmt *stmt, int column, struct record *record)
{
	char name[64];
	snprintf(name, sizeof name, "%s", sqlite3_column_name(stmt, column));
	size_t index = kind_attribute_find(record->kind, name);
	if (index != SIZE_MAX) {
		read_value(arena, stmt, column, kind_attribute(record->kind, index),
		           &record->values[index]);
		return;
	}
	if (strcmp(name, "left_volume") == 0) {
		read_across(stmt, column, record);
		return;
	}
	size_t length = strlen(name);
	if (length > 3 && strcmp(name + length - 3, "_id") == 0) {
		name[length - 3] = '\0';
		index = kind_attribute_find(record->kind, name);
		if (index != SIZE_MAX) {
			record->references[index] = sqlite3_column_int64(stmt, column);
		}
	}
}

static enum outcome read_row(struct store *store, struct arena *arena,
                             const struct statement *statement, struct record *record,
                             struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", record->id);
	if (statement_row(store, stmt, &outcome, fault)) {
		int count = sqlite3_column_count(stmt);
		for (int i = 0; i < count; i++) {
			read_column(arena, stmt, i, record);
		}
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_record_read(struct store *store, struct arena *arena, const struct kind *kind,
                               int64_t id, struct record **out, struct fault *fault)
{
	struct record *record = record_new(arena, kind);
	enum outcome outcome = OUTCOME_DONE;
	record->id = id;
	*out = record;
	if (kind->tool) {
		outcome = read_row(store, arena, &tool_sql.read, record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_row(store, arena, &sql_of_kind[kind->id]->read, record, fault);
	}
	return outcome;
}

static const struct statement anything = {"is anything on record",
                                          "SELECT EXISTS (SELECT 1 FROM ledger)", true};

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
