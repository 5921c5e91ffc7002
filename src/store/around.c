/* What is around a record: the places it is in, the tools in a place, what an operator did. */
#include "internal.h"

#define PLACES_DEEPEST 64 /* places within places: no shop has so many */

STATEMENT(places_around) = {"places around a place",
                            "WITH RECURSIVE outer_place (id, depth) AS (SELECT :place, 0 UNION ALL"
                            " SELECT p.within, o.depth + 1 FROM outer_place o CROSS JOIN place p"
                            " WHERE p.id = o.id AND p.within IS NOT NULL AND o.depth < 63)"
                            " SELECT p.id, p.code, p.name, p.condition, p.condition_reason,"
                            " p.condition_since, p.station IS NOT NULL OR p.die_station IS NOT NULL"
                            " FROM outer_place o CROSS JOIN place p WHERE p.id = o.id",
                            false};

#define INNER_PLACES \
	"WITH RECURSIVE inner_place (id) AS (SELECT :place UNION" \
	" SELECT p.id FROM inner_place i CROSS JOIN place p WHERE p.within = i.id)"

STATEMENT(count_within) = {"tools within a place, counted",
                           INNER_PLACES " SELECT kind, count(*) FROM (SELECT t.kind AS kind"
                                        " FROM inner_place i CROSS JOIN tool t"
                                        " WHERE t.place = i.id LIMIT :most) GROUP BY kind",
                           false};

STATEMENT(tools_within) = {"tools within a place",
                           INNER_PLACES " SELECT t.id, t.kind, t.tag, w.code"
                                        " FROM inner_place i CROSS JOIN tool t CROSS JOIN place w"
                                        " WHERE t.place = i.id AND w.id = i.id LIMIT :most",
                           false};

STATEMENT(entries_by) = {
	"entries by an operator",
	"SELECT l.number, l.happened, l.recorded, l.word, o.name, l.login, l.terminal, f.code, t.code,"
	" j.number, l.detail, COALESCE(subject_tool.tag, subject_place.code, subject_press.code,"
	" subject_job.number, subject_operator.badge)"
	" FROM ledger l LEFT JOIN operator o ON o.id = l.operator"
	" LEFT JOIN place f ON f.id = l.from_place LEFT JOIN place t ON t.id = l.to_place"
	" LEFT JOIN job j ON j.id = l.job"
	" LEFT JOIN tool subject_tool ON subject_tool.id = l.subject AND subject_tool.kind = l.subject_kind"
	" LEFT JOIN place subject_place ON subject_place.id = l.subject AND l.subject_kind = 'place'"
	" LEFT JOIN press subject_press ON subject_press.id = l.subject AND l.subject_kind = 'press'"
	" LEFT JOIN job subject_job ON subject_job.id = l.subject AND l.subject_kind = 'job'"
	" LEFT JOIN operator subject_operator ON subject_operator.id = l.subject"
	" AND l.subject_kind = 'operator'"
	" WHERE l.operator = :operator ORDER BY l.number DESC LIMIT :most",
	false};

enum outcome store_places_around(struct store *store, struct arena *arena, int64_t place,
                                 struct place_around **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &places_around, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	*out = arena_take(arena, PLACES_DEEPEST, sizeof **out);
	bind_number(stmt, ":place", place);
	while (*count < PLACES_DEEPEST && statement_row(store, stmt, &outcome, fault)) {
		(*out)[(*count)++] = (struct place_around){
			.id = sqlite3_column_int64(stmt, 0),
			.code = column_words(arena, stmt, 1),
			.name = column_words(arena, stmt, 2),
			.held = text_equal_fold((const char *)sqlite3_column_text(stmt, 3), "hold"),
			.reason = column_words(arena, stmt, 4),
			.since = column_seconds(stmt, 5),
			.station = sqlite3_column_int64(stmt, 6) != 0,
		};
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_place_counts(struct store *store, int64_t place, int64_t most,
                                int64_t counts[KIND_COUNT], struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &count_within, fault);
	enum outcome outcome = OUTCOME_STORE;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		counts[i] = 0;
	}
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":place", place);
	bind_number(stmt, ":most", most);
	while (statement_row(store, stmt, &outcome, fault)) {
		const struct kind *kind = kind_find((const char *)sqlite3_column_text(stmt, 0));
		if (kind != NULL) {
			counts[kind->id] = sqlite3_column_int64(stmt, 1);
		}
	}
	return outcome;
}

enum outcome store_place_tools(struct store *store, struct arena *arena, int64_t place, size_t most,
                               struct tool_there **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &tools_within, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	*out = arena_take(arena, most, sizeof **out);
	bind_number(stmt, ":place", place);
	bind_number(stmt, ":most", (int64_t)most);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		(*out)[(*count)++] = (struct tool_there){
			.id = sqlite3_column_int64(stmt, 0),
			.kind = kind_find((const char *)sqlite3_column_text(stmt, 1)),
			.tag = arena_copy(arena, tag_shown(column_tag(stmt, 2)).bytes),
			.place = column_words(arena, stmt, 3),
		};
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}

/* A tag of ours as it is shown; a code as it stands. */
static const char *subject_words(struct arena *arena, sqlite3_stmt *stmt, int column)
{
	const char *words = column_words(arena, stmt, column);
	struct tag tag;
	return words != NULL && tag_read(words, &tag) == TAG_READ
	           ? arena_copy(arena, tag_shown(tag).bytes)
	           : words;
}

enum outcome store_ledger_by(struct store *store, struct arena *arena, int64_t operator_id,
                             size_t most, struct ledger_entry **out, const char ***subjects,
                             size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &entries_by, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	*out = arena_take(arena, most, sizeof **out);
	*subjects = arena_take(arena, most, sizeof **subjects);
	bind_number(stmt, ":operator", operator_id);
	bind_number(stmt, ":most", (int64_t)most);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		(*subjects)[*count] = subject_words(arena, stmt, 11);
		(*out)[(*count)++] = ledger_entry_read(arena, stmt);
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}
