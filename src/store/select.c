/* Selecting records by what is asked of their attributes, and by words. */
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "select.h"

/* ---------------------------------------------------------------- binding */

/* The parameter of an attribute, `:face` or `:face_most`. */
static int parameter(sqlite3_stmt *stmt, const char *attribute, const char *behind)
{
	char name[64];
	snprintf(name, sizeof name, ":%s%s", attribute, behind);
	return sqlite3_bind_parameter_index(stmt, name);
}

static void bind_text(sqlite3_stmt *stmt, const char *attribute, const char *behind,
                      const char *text)
{
	sqlite3_bind_text(stmt, parameter(stmt, attribute, behind), text, -1, SQLITE_TRANSIENT);
}

/* Nothing known: '' is what NULL in a column is taken for. */
static void bind_blank(sqlite3_stmt *stmt, const char *attribute)
{
	static const char *const behinds[] = {"",       "_most",      "_centre", "_centre_most",
	                                      "_right", "_right_most"};
	for (size_t i = 0; i < COUNT_OF(behinds); i++) {
		if (parameter(stmt, attribute, behinds[i]) > 0) {
			bind_text(stmt, attribute, behinds[i], "");
		}
	}
}

static void bind_whole(sqlite3_stmt *stmt, const char *attribute, const char *behind,
                       int64_t number)
{
	sqlite3_bind_int64(stmt, parameter(stmt, attribute, behind), number);
}

/* Screens compare after rounding to 0.001 lines/cm: half of that on either side. */
static void bind_screens(sqlite3_stmt *stmt, const char *attribute, const struct asked *asked)
{
	double least = asked->least.known ? screen_to_per_cm(asked->least.screen) - 0.0005 : 0;
	double most = asked->most.known ? screen_to_per_cm(asked->most.screen) + 0.0005 : 1e300;
	sqlite3_bind_double(stmt, parameter(stmt, attribute, ""), least);
	sqlite3_bind_double(stmt, parameter(stmt, attribute, "_most"), most);
}

static void bind_across(sqlite3_stmt *stmt, const char *attribute, const struct asked *asked)
{
	const struct across *least = &asked->least.across, *most = &asked->most.across;
	bool from = asked->least.known, to = asked->most.known;
	bind_whole(stmt, attribute, "", from ? volume_to_micro(least->left) : INT64_MIN);
	bind_whole(stmt, attribute, "_most", to ? volume_to_micro(most->left) : INT64_MAX);
	bind_whole(stmt, attribute, "_centre", from ? volume_to_micro(least->centre) : INT64_MIN);
	bind_whole(stmt, attribute, "_centre_most", to ? volume_to_micro(most->centre) : INT64_MAX);
	bind_whole(stmt, attribute, "_right", from ? volume_to_micro(least->right) : INT64_MIN);
	bind_whole(stmt, attribute, "_right_most", to ? volume_to_micro(most->right) : INT64_MAX);
}

static void bind_bounds(sqlite3_stmt *stmt, const char *attribute, const struct asked *asked)
{
	int64_t most = asked->most.known ? value_to_stored(&asked->most) : INT64_MAX;
	if (asked->most.known && asked->most.type == VALUE_MOMENT && asked->most.moment.date) {
		most = moment_of_day_end(asked->most.moment).s - 1;
	}
	bind_whole(stmt, attribute, "",
	           asked->least.known ? value_to_stored(&asked->least) : INT64_MIN);
	bind_whole(stmt, attribute, "_most", most);
}

static void bind_asked(sqlite3_stmt *stmt, const struct attribute *attribute,
                       const struct asked *asked)
{
	if (asked->blank) {
		bind_blank(stmt, attribute->name);
	} else if (asked->reference != 0) {
		bind_whole(stmt, attribute->name, "", asked->reference);
	} else if (asked->words != NULL) {
		bind_text(stmt, attribute->name, "", asked->words);
	} else if (attribute->type == VALUE_SCREEN) {
		bind_screens(stmt, attribute->name, asked);
	} else if (attribute->type == VALUE_ACROSS) {
		bind_across(stmt, attribute->name, asked);
	} else {
		bind_bounds(stmt, attribute->name, asked);
	}
}

void select_bind(sqlite3_stmt *stmt, const struct selection *selection)
{
	for (size_t i = 0; i < selection->asked_count; i++) {
		const struct asked *asked = &selection->asked[i];
		bind_asked(stmt, kind_attribute(selection->kind, asked->attribute), asked);
	}
}

/* ---------------------------------------------------------------- reading */

static enum outcome take_rows(struct store *store, sqlite3_stmt *stmt, const struct kind *kind,
                              record_take take, void *context, int64_t *count, struct fault *fault)
{
	struct arena *arena = arena_new();
	enum outcome outcome = OUTCOME_DONE;
	while (outcome == OUTCOME_DONE && statement_row(store, stmt, &outcome, fault)) {
		struct record *record;
		outcome =
			store_record_read(store, arena, kind, sqlite3_column_int64(stmt, 0), &record, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = take(arena, record, context);
			++*count;
		}
		arena_reset(arena);
	}
	arena_free(arena);
	return outcome;
}

enum outcome store_select(struct store *store, const struct selection *selection, record_take take,
                          void *context, int64_t *count, struct fault *fault)
{
	const struct select_sql *sql = select_sql_of(selection->kind);
	bool narrowed = false;
	*count = 0;
	enum outcome outcome = found_fill(store, selection, &narrowed, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, narrowed ? sql->among : sql->all, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	select_bind(stmt, selection);
	outcome = take_rows(store, stmt, selection->kind, take, context, count, fault);
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- the shop's own files */

bool store_keeps_in(const struct store *store, const char *path)
{
	static const char *const endings[] = {"", "-wal", "-shm", "-journal"};
	struct stat asked, own;
	char file[4096];
	if (stat(path, &asked) != 0) {
		return false;
	}
	for (size_t i = 0; i < COUNT_OF(endings); i++) {
		snprintf(file, sizeof file, "%s%s", store->path, endings[i]);
		if (stat(file, &own) == 0 && own.st_dev == asked.st_dev && own.st_ino == asked.st_ino) {
			return true;
		}
	}
	return false;
}
