/* Reading: a record's attributes from its row. */
#include <stdio.h>
#include <string.h>

#include "record.h"

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

/* What a column holds beside an attribute's value, told by a number below 0. */
#define COLUMN_OTHER (-1)
#define COLUMN_ACROSS (-2)
#define COLUMN_ID_FIRST (-3) /* less the attribute's index: the id of what it names */

/* A column carries the name of an attribute, or `X_id` for the id of a reference X. */
static int16_t column_holds(const struct kind *kind, const char *column)
{
	char name[64];
	size_t index = kind_attribute_find(kind, column);
	if (index != SIZE_MAX) {
		return (int16_t)index;
	}
	if (strcmp(column, "left_volume") == 0) {
		return COLUMN_ACROSS;
	}
	snprintf(name, sizeof name, "%s", column);
	size_t length = strlen(name);
	if (length > 3 && strcmp(name + length - 3, "_id") == 0) {
		name[length - 3] = '\0';
		index = kind_attribute_find(kind, name);
	}
	return index != SIZE_MAX ? (int16_t)(COLUMN_ID_FIRST - (int)index) : COLUMN_OTHER;
}

/*
 * What each column of a statement holds, worked out once: a statement is of one kind, or of all
 * tools, whose common attributes stand first in every kind of them.
 */
static void map_columns(struct store *store, struct prepared *entry, const struct kind *kind)
{
	int count = sqlite3_column_count(entry->stmt);
	if (entry->attributes != NULL) {
		return;
	}
	entry->attributes = arena_take(store->arena, (size_t)count, sizeof *entry->attributes);
	for (int i = 0; i < count; i++) {
		entry->attributes[i] = column_holds(kind, sqlite3_column_name(entry->stmt, i));
	}
}

static void read_column(struct arena *arena, sqlite3_stmt *stmt, int column, int holds,
                        struct record *record)
{
	if (holds >= 0) {
		size_t index = (size_t)holds;
		read_value(arena, stmt, column, kind_attribute(record->kind, index),
		           &record->values[index]);
	} else if (holds == COLUMN_ACROSS) {
		read_across(stmt, column, record);
	} else if (holds <= COLUMN_ID_FIRST) {
		record->references[COLUMN_ID_FIRST - holds] = sqlite3_column_int64(stmt, column);
	}
}

static enum outcome read_row(struct store *store, struct arena *arena,
                             const struct statement *statement, struct record *record,
                             struct fault *fault)
{
	enum outcome outcome = OUTCOME_STORE;
	if (statement_ready(store, statement, fault) == NULL) {
		return outcome;
	}
	struct prepared *entry = statement_entry(store, statement, fault);
	map_columns(store, entry, record->kind);
	bind_number(entry->stmt, ":id", record->id);
	if (statement_row(store, entry->stmt, &outcome, fault)) {
		int count = sqlite3_column_count(entry->stmt);
		for (int i = 0; i < count; i++) {
			read_column(arena, entry->stmt, i, entry->attributes[i], record);
		}
	}
	statement_done(entry->stmt);
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
		outcome = read_row(store, arena, &record_sql_of(kind)->read, record, fault);
	}
	return outcome;
}

/* ---------------------------------------------------------------- what tells a tool in few words
 */

#define BRIEF_OF(table, columns) \
	{ \
		"brief " table, \
			"SELECT " columns " FROM tool t JOIN " table " k ON k.tool = t.id WHERE t.id = :id", \
			false \
	}
STATEMENT(brief_cylinder) = BRIEF_OF("cylinder", "k.teeth, k.pitch, k.repeat, t.face, k.drive");
STATEMENT(brief_gear) = BRIEF_OF("gear", "k.teeth, k.pitch");
STATEMENT(brief_anilox) = BRIEF_OF("anilox", "k.line_screen, k.volume, t.face");
STATEMENT(brief_blade) = BRIEF_OF("blade", "k.length, k.material");
STATEMENT(brief_die) = BRIEF_OF("die", "k.cut, k.label_across, k.label_around, k.teeth, k.pitch");
STATEMENT(brief_magnetic_cylinder) = BRIEF_OF("magnetic_cylinder",
                                              "k.teeth, k.pitch, k.die_gap, t.face");

enum outcome store_record_brief(struct store *store, struct arena *arena, const struct kind *kind,
                                int64_t id, struct record **out, struct fault *fault)
{
	static const struct statement *const briefs[KIND_COUNT] = {
		[KIND_CYLINDER] = &brief_cylinder, [KIND_GEAR] = &brief_gear,
		[KIND_ANILOX] = &brief_anilox,     [KIND_BLADE] = &brief_blade,
		[KIND_DIE] = &brief_die,           [KIND_MAGNETIC_CYLINDER] = &brief_magnetic_cylinder,
	};
	if (briefs[kind->id] == NULL) {
		return store_record_read(store, arena, kind, id, out, fault);
	}
	*out = record_new(arena, kind);
	(*out)->id = id;
	return read_row(store, arena, briefs[kind->id], *out, fault);
}
