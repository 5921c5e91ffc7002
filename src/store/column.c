/* Columns of a row as quantities. */
#include "internal.h"

static bool is_null(sqlite3_stmt *stmt, int column)
{
	return sqlite3_column_type(stmt, column) == SQLITE_NULL;
}

static const char *text_of(sqlite3_stmt *stmt, int column)
{
	return (const char *)sqlite3_column_text(stmt, column);
}

const char *column_words(struct arena *arena, sqlite3_stmt *stmt, int column)
{
	return is_null(stmt, column) ? NULL : arena_copy(arena, text_of(stmt, column));
}

struct known_moment column_when(sqlite3_stmt *stmt, int column)
{
	struct known_moment when = {.known = false};
	if (!is_null(stmt, column)) {
		when.known = moment_parse(text_of(stmt, column), &when.value, NULL) == OUTCOME_DONE;
	}
	return when;
}

struct known_moment column_seconds(sqlite3_stmt *stmt, int column)
{
	struct known_moment when = {.known = !is_null(stmt, column)};
	when.value.s = sqlite3_column_int64(stmt, column);
	return when;
}

struct known_length column_length(sqlite3_stmt *stmt, int column)
{
	return (struct known_length){
		.known = !is_null(stmt, column),
		.value = length_from_nm(sqlite3_column_int64(stmt, column)),
	};
}

struct known_count column_count(sqlite3_stmt *stmt, int column)
{
	return (struct known_count){
		.known = !is_null(stmt, column),
		.value = sqlite3_column_int64(stmt, column),
	};
}

struct known_angle column_angle(sqlite3_stmt *stmt, int column)
{
	struct value value = value_from_stored(VALUE_ANGLE, sqlite3_column_int64(stmt, column));
	return (struct known_angle){.known = !is_null(stmt, column), .value = value.angle};
}

struct known_volume column_volume(sqlite3_stmt *stmt, int column)
{
	return (struct known_volume){
		.known = !is_null(stmt, column),
		.value = volume_from_micro(sqlite3_column_int64(stmt, column)),
	};
}

struct known_screen column_screen(sqlite3_stmt *stmt, int column)
{
	return (struct known_screen){
		.known = !is_null(stmt, column),
		.value = screen_from_per_cm(sqlite3_column_double(stmt, column)),
	};
}

struct tag column_tag(sqlite3_stmt *stmt, int column)
{
	struct tag tag = {0};
	if (!is_null(stmt, column)) {
		(void)tag_read(text_of(stmt, column), &tag);
	}
	return tag;
}

struct repeat column_repeat(sqlite3_stmt *stmt, int teeth_column, int pitch_column,
                            int repeat_column)
{
	struct pitch pitch;
	if (!is_null(stmt, teeth_column) && !is_null(stmt, pitch_column) &&
	    pitch_parse(text_of(stmt, pitch_column), &pitch, NULL) == OUTCOME_DONE) {
		return repeat_of_teeth(sqlite3_column_int64(stmt, teeth_column), pitch);
	}
	if (repeat_column >= 0 && !is_null(stmt, repeat_column)) {
		return repeat_of_length(length_from_nm(sqlite3_column_int64(stmt, repeat_column)));
	}
	return (struct repeat){.known = false};
}

struct quantity_text when_stored(struct moment moment)
{
	return moment.date ? moment_text(moment) : moment_text_utc(moment);
}
