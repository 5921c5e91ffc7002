/* Counts of shelves: what was seen where, and what the records say otherwise. */
#include "internal.h"

STATEMENT(open_count) = {"open count of a place",
                         "SELECT id FROM stock_count WHERE place = :place AND ended IS NULL",
                         false};

STATEMENT(open_count_inside) =
	{"open count inside a place",
     "WITH RECURSIVE inner_place (id) AS (SELECT id FROM place WHERE within = :place UNION"
     " SELECT p.id FROM inner_place i CROSS JOIN place p WHERE p.within = i.id)"
     " SELECT c.id FROM inner_place i CROSS JOIN stock_count c"
     " WHERE c.place = i.id AND c.ended IS NULL LIMIT 1",
     false};

STATEMENT(open_count_around) =
	{"open count around a place",
     "WITH RECURSIVE outer_place (id) AS (SELECT within FROM place WHERE id = :place UNION"
     " SELECT p.within FROM outer_place o CROSS JOIN place p WHERE p.id = o.id)"
     " SELECT c.id FROM outer_place o CROSS JOIN stock_count c"
     " WHERE c.place = o.id AND c.ended IS NULL LIMIT 1",
     false};

/* The tools that a count of :count expects, as `t`; the place that each lies in is `w`. */
#define COUNTED_PLACES \
	"WITH RECURSIVE inner_place (id) AS (SELECT place FROM stock_count WHERE id = :count UNION" \
	" SELECT p.id FROM inner_place i CROSS JOIN place p WHERE p.within = i.id)"
#define EXPECTED_TOOLS \
	" FROM inner_place i CROSS JOIN place w CROSS JOIN tool t" \
	" WHERE w.id = i.id AND w.sort NOT IN ('lost', 'supplier') AND t.place = i.id" \
	" AND t.condition <> 'scrapped' AND t.taken_for IS NULL"
/* Has the tool `t` moved, or gone out for a job, since the moment? */
#define MOVED_SINCE(moment) \
	"EXISTS (SELECT 1 FROM ledger l WHERE l.subject_kind = t.kind AND l.subject = t.id" \
	" AND l.happened > " moment \
	" AND (l.to_place IS NOT NULL OR l.from_place IS NOT NULL OR l.word = 'take'))"

STATEMENT(read_count) =
	{"count",
     "SELECT c.place, p.code, p.name, c.started, COALESCE(o.name, c.login), c.ended IS NOT NULL"
     " FROM stock_count c JOIN place p ON p.id = c.place LEFT JOIN operator o ON o.id = c.operator"
     " WHERE c.id = :count",
     false};

STATEMENT(count_expected) = {"tools that a count expects",
                             COUNTED_PLACES " SELECT count(*)" EXPECTED_TOOLS, false};

STATEMENT(count_seen) = {"tools that a count has seen",
                         "SELECT count(*) FROM stock_counted WHERE stock_count = :count"
                         " AND tool IS NOT NULL",
                         false};

/*
 * All three have the columns: tool, kind, tag or code, code on record, job, place seen, its code.
 * A missing tool was perhaps seen by another count that is open: few are at a time.
 */
#define SEEN_BY_ANOTHER(column) \
	"(SELECT " column " FROM stock_count oc CROSS JOIN stock_counted sc CROSS JOIN place sp" \
	" WHERE oc.ended IS NULL AND oc.id <> :count AND sc.stock_count = oc.id AND sc.code = t.tag" \
	" AND sp.id = sc.place AND sc.seen >= :started LIMIT 1)"
STATEMENT(tools_missing) =
	{"tools that a count misses",
     COUNTED_PLACES " SELECT t.id, t.kind, t.tag, w.code, NULL, " SEEN_BY_ANOTHER(
		 "sp.id") ", " SEEN_BY_ANOTHER("sp.code") EXPECTED_TOOLS
     " AND NOT EXISTS (SELECT 1 FROM stock_counted s WHERE s.stock_count = :count"
     " AND s.code = t.tag) AND NOT " MOVED_SINCE(
		 ":started") " ORDER BY w.walk IS NULL, w.walk, w.code, length(t.tag), t.tag",
     true /* the open counts, by the index of those alone */};

/* On record in a place within the one where it was seen: nothing says otherwise. */
STATEMENT(tools_elsewhere) =
	{"tools that a count found elsewhere than on record",
     "SELECT t.id, t.kind, t.tag, p.code, j.number, w.id, w.code"
     " FROM stock_counted s CROSS JOIN tool t CROSS JOIN place w"
     " LEFT JOIN place p ON p.id = t.place LEFT JOIN job j ON j.id = t.taken_for"
     " WHERE s.stock_count = :count AND t.id = s.tool AND w.id = s.place"
     " AND t.condition <> 'scrapped' AND (t.taken_for IS NOT NULL OR (t.place IS NOT s.place"
     " AND NOT EXISTS (WITH RECURSIVE outer_place (id) AS (SELECT t.place UNION"
     " SELECT r.within FROM outer_place o CROSS JOIN place r WHERE r.id = o.id)"
     " SELECT 1 FROM outer_place o WHERE o.id = s.place)))"
     " AND NOT " MOVED_SINCE(
		 "s.seen") " ORDER BY w.walk IS NULL, w.walk, w.code, length(t.tag), t.tag",
     false};

STATEMENT(codes_unknown) = {"codes that a count did not know",
                            "SELECT 0, NULL, s.code, NULL, NULL, w.id, w.code"
                            " FROM stock_counted s CROSS JOIN place w"
                            " WHERE s.stock_count = :count AND s.tool IS NULL AND w.id = s.place"
                            " ORDER BY w.walk IS NULL, w.walk, w.code, s.code",
                            false};

STATEMENT(new_count) = {"new count",
                        "INSERT INTO stock_count (place, started, operator, login)"
                        " VALUES (:place, :started, :operator, :login)",
                        false};

STATEMENT(new_counted) =
	{"what a count has seen",
     "INSERT INTO stock_counted (stock_count, code, tool, place, seen, operator, login)"
     " VALUES (:count, :code, :tool, :place, :seen, :operator, :login)"
     " ON CONFLICT (stock_count, code) DO UPDATE SET tool = excluded.tool, place = excluded.place,"
     " seen = excluded.seen, operator = excluded.operator, login = excluded.login",
     false};

/* What was not known when it was read first, and is by now. */
STATEMENT(known_by_now) = {"what a count now knows",
                           "DELETE FROM stock_counted WHERE stock_count = :count AND code = :code"
                           " AND tool IS NULL",
                           false};

STATEMENT(end_count) = {"count ended",
                        "UPDATE stock_count SET ended = :ended, corrected = :corrected"
                        " WHERE id = :count AND ended IS NULL",
                        false};

STATEMENT(places_lost) =
	{"places for what is lost",
     "SELECT id FROM place WHERE sort = 'lost' AND retired = 0 ORDER BY id LIMIT 2", true};

/* ---------------------------------------------------------------- reading */

/* The first number of a row; 0 where there is no row. */
static enum outcome read_number(struct store *store, const struct statement *statement,
                                const char *parameter, int64_t value, int64_t *out,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, parameter, value);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_count_find(struct store *store, int64_t place, int64_t *id, struct fault *fault)
{
	return read_number(store, &open_count, ":place", place, id, fault);
}

enum outcome store_count_overlapping(struct store *store, int64_t place, int64_t *id,
                                     struct fault *fault)
{
	enum outcome outcome = read_number(store, &open_count_around, ":place", place, id, fault);
	return outcome != OUTCOME_DONE || *id != 0
	           ? outcome
	           : read_number(store, &open_count_inside, ":place", place, id, fault);
}

enum outcome store_count_read(struct store *store, struct arena *arena, int64_t id,
                              struct count_head *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &read_count, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct count_head){.id = id, .ended = true};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":count", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->place = sqlite3_column_int64(stmt, 0);
		out->code = column_words(arena, stmt, 1);
		out->name = column_words(arena, stmt, 2);
		out->started = column_seconds(stmt, 3).value;
		out->by = column_words(arena, stmt, 4);
		out->ended = sqlite3_column_int64(stmt, 5) != 0;
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_count_figures(struct store *store, int64_t id, int64_t *expected, int64_t *seen,
                                 struct fault *fault)
{
	enum outcome outcome = read_number(store, &count_expected, ":count", id, expected, fault);
	return outcome == OUTCOME_DONE ? read_number(store, &count_seen, ":count", id, seen, fault)
	                               : outcome;
}

static struct counted read_counted(struct arena *arena, sqlite3_stmt *stmt)
{
	struct counted counted = {
		.tool = sqlite3_column_int64(stmt, 0),
		.on_record = column_words(arena, stmt, 3),
		.out_for = column_words(arena, stmt, 4),
		.seen_place = sqlite3_column_int64(stmt, 5),
		.seen = column_words(arena, stmt, 6),
	};
	if (counted.tool != 0) {
		counted.kind = kind_find((const char *)sqlite3_column_text(stmt, 1));
		counted.code = arena_copy(arena, tag_shown(column_tag(stmt, 2)).bytes);
	} else {
		counted.code = column_words(arena, stmt, 2);
	}
	return counted;
}

static const struct statement *statement_of(enum count_difference which)
{
	switch (which) {
	case COUNT_MISSING:
		return &tools_missing;
	case COUNT_ELSEWHERE:
		return &tools_elsewhere;
	case COUNT_UNKNOWN:
		break;
	}
	return &codes_unknown;
}

enum outcome store_count_differences(struct store *store, struct arena *arena, int64_t id,
                                     enum count_difference which, struct counted **out,
                                     size_t *count, struct fault *fault)
{
	struct count_head head;
	size_t room = 0;
	enum outcome outcome = store_count_read(store, arena, id, &head, fault);
	*out = NULL;
	*count = 0;
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, statement_of(which), fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":count", id);
	if (which == COUNT_MISSING) {
		bind_moment(stmt, ":started", head.started);
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 16, sizeof **out);
			room = room * 2 + 16;
		}
		(*out)[(*count)++] = read_counted(arena, stmt);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_places_lost(struct store *store, int64_t places[2], size_t *count,
                               struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &places_lost, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	while (stmt != NULL && *count < 2 && statement_row(store, stmt, &outcome, fault)) {
		places[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- writing */

static void bind_actor(sqlite3_stmt *stmt, const struct actor *actor)
{
	bind_id(stmt, ":operator", actor->operator_id);
	bind_words(stmt, ":login", actor->login);
}

enum outcome store_count_begin(struct store *store, int64_t place, const struct actor *actor,
                               int64_t *id, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &new_count, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":place", place);
	bind_moment(stmt, ":started", actor_moment(actor));
	bind_actor(stmt, actor);
	enum outcome outcome = statement_run(store, stmt, "beginning a count", fault);
	*id = sqlite3_last_insert_rowid(store->db);
	return outcome;
}

static enum outcome forget_unknown(struct store *store, int64_t id, const char *code,
                                   struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &known_by_now, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":count", id);
	bind_words(stmt, ":code", code);
	return statement_run(store, stmt, "counting", fault);
}

enum outcome store_count_see(struct store *store, int64_t id, const struct tool_state *tool,
                             const char *code, int64_t at, const struct actor *actor,
                             struct fault *fault)
{
	struct tag tag;
	struct tag_text stored;
	enum outcome outcome =
		tool != NULL && code != NULL ? forget_unknown(store, id, code, fault) : OUTCOME_DONE;
	sqlite3_stmt *stmt = statement_ready(store, &new_counted, fault);
	if (outcome != OUTCOME_DONE || stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	if (tag_read(tool != NULL ? tool->tag : code, &tag) == TAG_READ) {
		stored = tag_stored(tag);
		code = stored.bytes;
	}
	bind_number(stmt, ":count", id);
	bind_words(stmt, ":code", code);
	bind_id(stmt, ":tool", tool != NULL ? tool->id : 0);
	bind_number(stmt, ":place", at);
	bind_moment(stmt, ":seen", actor_moment(actor));
	bind_actor(stmt, actor);
	return statement_run(store, stmt, "counting", fault);
}

enum outcome store_count_end(struct store *store, int64_t id, bool corrected,
                             const struct actor *actor, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &end_count, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":count", id);
	bind_moment(stmt, ":ended", actor_moment(actor));
	bind_number(stmt, ":corrected", corrected ? 1 : 0);
	return statement_run(store, stmt, "ending a count", fault);
}
