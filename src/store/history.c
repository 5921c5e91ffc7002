/* The past: the whole ledger of a record, and where every tool was at a moment. */
#include <stdlib.h>
#include <string.h>

#include "internal.h"

/* ---------------------------------------------------------------- of one record */

/* Behind what is shown of every entry: what it is about, and whether it stands. */
#define HISTORY_COLUMNS \
	ENTRY_COLUMNS \
	", l.subject_kind, CASE l.subject_kind" \
	" WHEN 'station' THEN COALESCE((SELECT station FROM station WHERE id = l.subject)," \
	" (SELECT value FROM entry_before WHERE entry = l.number AND attribute = 'station'))" \
	" WHEN 'cut' THEN COALESCE((SELECT cut FROM cut WHERE id = l.subject)," \
	" (SELECT value FROM entry_before WHERE entry = l.number AND attribute = 'cut')) END," \
	" EXISTS (SELECT 1 FROM taken_back WHERE entry = l.number)," \
	" (SELECT entry FROM taken_back WHERE by_entry = l.number)"
#define HISTORY_OF_ITSELF \
	"SELECT " HISTORY_COLUMNS ENTRY_SOURCES " WHERE l.subject_kind = :kind AND l.subject = :id"
#define HISTORY_OF_ROWS \
	" UNION ALL SELECT " HISTORY_COLUMNS ENTRY_SOURCES \
	" WHERE l.job = :id AND l.subject_kind <> :kind"
#define HISTORY_ORDER " ORDER BY 2, 1"

/* Jobs that a tool ran for: their entries `finish`, each on its job. */
#define HISTORY_OF_RUNS " UNION ALL SELECT " HISTORY_COLUMNS WEB_ENTRY_SOURCES " WHERE w.tool = :id"

STATEMENT(history_of_record) = {"history of a record", HISTORY_OF_ITSELF HISTORY_ORDER, false};
STATEMENT(history_of_tool) = {"history of a tool", HISTORY_OF_ITSELF HISTORY_OF_RUNS HISTORY_ORDER,
                              false};
STATEMENT(history_of_job) = {"history of a job", HISTORY_OF_ITSELF HISTORY_OF_ROWS HISTORY_ORDER,
                             false};
STATEMENT(last_of_job) = {"latest entries of a job",
                          HISTORY_OF_ITSELF HISTORY_OF_ROWS
                          " AND l.word <> 'new' ORDER BY 2 DESC, 1 DESC LIMIT :most",
                          false};
STATEMENT(history_of_roll) =
	{"history of a roll",
     HISTORY_OF_ITSELF " UNION ALL SELECT " HISTORY_COLUMNS ENTRY_SOURCES
                       " WHERE l.subject_kind = 'reading' AND l.subject IN"
                       " (SELECT id FROM reading WHERE tool = :id)" HISTORY_OF_RUNS HISTORY_ORDER,
     false};

static const struct statement *history_of(const struct kind *kind)
{
	if (kind->id == KIND_JOB) {
		return &history_of_job;
	}
	if (kind->id == KIND_ANILOX) {
		return &history_of_roll;
	}
	return kind->tool ? &history_of_tool : &history_of_record;
}

/* `station 3`, `reading`; a row that was removed has no number any more. */
static const char *row_named(struct arena *arena, sqlite3_stmt *stmt, const struct kind *kind)
{
	const char *of = (const char *)sqlite3_column_text(stmt, ENTRY_COLUMN_COUNT);
	/* That a tool ran is told of its job, which the entry names anyhow. */
	if (strcmp(of, kind->name) == 0 || (kind->tool && strcmp(of, kinds[KIND_JOB].name) == 0)) {
		return NULL;
	}
	bool numbered = sqlite3_column_type(stmt, ENTRY_COLUMN_COUNT + 1) != SQLITE_NULL;
	long long number = sqlite3_column_int64(stmt, ENTRY_COLUMN_COUNT + 1);
	return numbered ? arena_format(arena, "%s %lld", of, number) : arena_copy(arena, of);
}

enum outcome store_history(struct store *store, const struct kind *kind, int64_t id,
                           void (*each)(const struct history_row *row, void *context),
                           void *context, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, history_of(kind), fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	struct arena *arena = arena_new();
	bind_words(stmt, ":kind", kind->name);
	bind_number(stmt, ":id", id);
	while (statement_row(store, stmt, &outcome, fault)) {
		struct history_row row = {
			.entry = ledger_entry_read(arena, stmt),
			.of = row_named(arena, stmt, kind),
			.taken_back = sqlite3_column_int64(stmt, ENTRY_COLUMN_COUNT + 2) != 0,
			.takes_back = sqlite3_column_int64(stmt, ENTRY_COLUMN_COUNT + 3),
		};
		each(&row, context);
		arena_reset(arena);
	}
	arena_free(arena);
	return outcome;
}

enum outcome store_ledger_of_job(struct store *store, struct arena *arena, int64_t job, size_t most,
                                 struct ledger_entry **out, const char ***of, size_t *count,
                                 struct fault *fault)
{
	const struct kind *kind = &kinds[KIND_JOB];
	sqlite3_stmt *stmt = statement_ready(store, &last_of_job, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	*out = arena_take(arena, most, sizeof **out);
	*of = arena_take(arena, most, sizeof **of);
	bind_words(stmt, ":kind", kind->name);
	bind_number(stmt, ":id", job);
	bind_number(stmt, ":most", (int64_t)most);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		(*out)[*count] = ledger_entry_read(arena, stmt);
		(*out)[*count].job = NULL;
		(*of)[(*count)++] = row_named(arena, stmt, kind);
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- where all was */

/* Read from the index of tags alone, which tells the kind too. */
STATEMENT(tools_by_tag) = {"tools by tag", "SELECT id, tag FROM tool ORDER BY tag", true};

/* Whereabouts follow the latest happening, then the number: one seek in ledger_whereabouts. */
STATEMENT(whereabouts_at) =
	{"whereabouts of a tool at a moment",
     "SELECT happened, to_place FROM ledger WHERE subject = :tool AND happened <= :moment"
     " AND (to_place IS NOT NULL OR from_place IS NOT NULL)"
     " ORDER BY happened DESC, number DESC LIMIT 1",
     false};

STATEMENT(places_all) = {"codes of all places", "SELECT id, code FROM place ORDER BY id", true};
STATEMENT(places_within) =
	{"places within a place",
     "WITH RECURSIVE inner_place (id) AS (SELECT :place UNION SELECT p.id FROM place p"
     " JOIN inner_place i ON p.within = i.id) SELECT p.id, p.code FROM place p"
     " JOIN inner_place i ON i.id = p.id ORDER BY p.id",
     false};

/* The places asked for, by id: all, or one and those within it. */
struct place_list {
	struct place_code {
		int64_t id;
		const char *code;
	} * items;
	size_t count, room;
};

static enum outcome places_read(struct store *store, struct arena *arena, int64_t place,
                                struct place_list *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, place != 0 ? &places_within : &places_all, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct place_list){.items = NULL};
	if (stmt == NULL) {
		return outcome;
	}
	if (place != 0) {
		bind_number(stmt, ":place", place);
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (out->count == out->room) {
			size_t room = out->room * 2 + 64;
			out->items = arena_grow(arena, out->items, out->count, room, sizeof *out->items);
			out->room = room;
		}
		out->items[out->count++] =
			(struct place_code){sqlite3_column_int64(stmt, 0), column_words(arena, stmt, 1)};
	}
	return outcome;
}

static int by_id(const void *key, const void *item)
{
	int64_t id = *(const int64_t *)key, other = ((const struct place_code *)item)->id;
	return id < other ? -1 : id > other;
}

/* The statement of whereabouts asked of one tool; false where nothing had happened or a fault. */
static bool whereabouts_of(struct store *store, sqlite3_stmt *at, int64_t tool,
                           const struct place_list *places, bool every, struct whereabouts *out,
                           enum outcome *outcome, struct fault *fault)
{
	sqlite3_reset(at);
	bind_number(at, ":tool", tool);
	if (!statement_row(store, at, outcome, fault)) {
		return false;
	}
	int64_t place = sqlite3_column_int64(at, 1);
	const struct place_code *found =
		places->count > 0
			? bsearch(&place, places->items, places->count, sizeof *places->items, by_id)
			: NULL;
	out->since = column_seconds(at, 0).value;
	out->place = found != NULL ? found->code : NULL;
	return every || found != NULL;
}

enum outcome store_whereabouts(struct store *store, struct moment moment, int64_t place,
                               void (*each)(const struct whereabouts *where, void *context),
                               void *context, struct fault *fault)
{
	struct arena *arena = arena_new();
	struct place_list places;
	enum outcome outcome = places_read(store, arena, place, &places, fault);
	sqlite3_stmt *tools =
		outcome == OUTCOME_DONE ? statement_ready(store, &tools_by_tag, fault) : NULL;
	sqlite3_stmt *at = tools != NULL ? statement_ready(store, &whereabouts_at, fault) : NULL;
	if (at == NULL) {
		arena_free(arena);
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_moment(at, ":moment", moment);
	while (outcome == OUTCOME_DONE && statement_row(store, tools, &outcome, fault)) {
		struct whereabouts where = {.tag = column_tag(tools, 1)};
		where.kind = kind_of_class(where.tag.class);
		if (whereabouts_of(store, at, sqlite3_column_int64(tools, 0), &places, place == 0, &where,
		                   &outcome, fault)) {
			each(&where, context);
		}
	}
	statement_done(tools);
	statement_done(at);
	arena_free(arena);
	return outcome;
}
