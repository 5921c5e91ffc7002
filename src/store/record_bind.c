/* Binding: a record's attributes into the statement that writes it. */
#include <assert.h>
#include <string.h>

#include "record.h"

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

/* Binds every parameter that is an attribute; what is not known stays NULL, or what a blank means.
 */
static void bind_attributes(struct store *store, struct prepared *entry,
                            const struct record *record)
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

/* Condition's reason and since: what stood there while the condition stays, else the note and now.
 */
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

void record_bind(struct store *store, struct prepared *entry, const struct record *record,
                 const struct kept *kept, const struct actor *actor, struct tag_text *stored)
{
	struct tag tag;
	bind_attributes(store, entry, record);
	if (has_parameter(entry->stmt, ":id") && record->id != 0) {
		bind_number(entry->stmt, ":id", record->id);
	}
	if (has_parameter(entry->stmt, ":tag") &&
	    tag_read(record_words(record, "tag"), &tag) == TAG_READ) {
		*stored = tag_stored(tag);
		bind_words(entry->stmt, ":tag", stored->bytes);
	}
	if (has_parameter(entry->stmt, ":kind") && record->kind->tool) {
		bind_words(entry->stmt, ":kind", record->kind->name);
	}
	bind_condition(entry->stmt, record, kept, actor);
	bind_around(entry->stmt, record);
	bind_across(entry->stmt, record);
}
