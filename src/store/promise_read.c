/* Promises that hold, as they were made. */
#include "promise.h"

#define PROMISE_COLUMNS \
	"SELECT p.id, p.job, j.number, p.press, r.code, p.starts, p.ends, p.teeth, p.pitch, p.repeat," \
	" p.number_around, p.verdict, p.asked, COALESCE(o.name, p.login)"
#define PROMISE_SOURCES \
	" FROM promise p JOIN job j ON j.id = p.job JOIN press r ON r.id = p.press" \
	" LEFT JOIN operator o ON o.id = p.operator"
#define ANSWER_COLUMN 14

STATEMENT(of_job) = {"promise of a job",
                     PROMISE_COLUMNS ", p.answer" PROMISE_SOURCES
                                     " WHERE p.job = :job AND p.ended IS NULL",
                     false};
STATEMENT(between) = {"promises over a time",
                      PROMISE_COLUMNS ", NULL" PROMISE_SOURCES
                                      " WHERE p.ended IS NULL AND p.starts < :until"
                                      " AND p.ends >= :from AND j.state IN ('planned', 'running')"
                                      " ORDER BY p.starts, j.number",
                      false};
/* Station by station, then cut by cut, each with its tools in the order of their needs. */
STATEMENT(tools_of) =
	{"tools of a promise",
     "SELECT t.tool, w.kind, w.tag, t.need, t.station, t.cut FROM promise_tool t"
     " JOIN tool w ON w.id = t.tool WHERE t.promise = :promise ORDER BY t.cut, t.station,"
     " instr('cylinder gear anilox blade die magnetic_cylinder', t.need), t.tool",
     false};

static void fill_promise(struct arena *arena, sqlite3_stmt *stmt, struct kept_promise *out)
{
	*out = (struct kept_promise){
		.id = sqlite3_column_int64(stmt, 0),
		.job = sqlite3_column_int64(stmt, 1),
		.job_number = column_words(arena, stmt, 2),
		.press = sqlite3_column_int64(stmt, 3),
		.press_code = column_words(arena, stmt, 4),
		.from = column_seconds(stmt, 5).value,
		.until = column_seconds(stmt, 6).value,
		.repeat = column_repeat(stmt, 7, 8, 9),
		.number_around = column_count(stmt, 10),
		.verdict = column_words(arena, stmt, 11),
		.asked = column_seconds(stmt, 12).value,
		.by = column_words(arena, stmt, 13),
		.answer = column_words(arena, stmt, ANSWER_COLUMN),
	};
}

static enum outcome read_tools(struct store *store, struct arena *arena, struct kept_promise *out,
                               struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &tools_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":promise", out->id);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (out->tool_count == room) {
			out->tools = arena_grow(arena, out->tools, room, room * 2 + 8, sizeof *out->tools);
			room = room * 2 + 8;
		}
		out->tools[out->tool_count++] = (struct promised_tool){
			.tool = sqlite3_column_int64(stmt, 0),
			.kind = kind_find((const char *)sqlite3_column_text(stmt, 1)),
			.tag = column_tag(stmt, 2),
			.need = column_words(arena, stmt, 3),
			.station = sqlite3_column_int64(stmt, 4),
			.cut = sqlite3_column_int64(stmt, 5),
		};
	}
	return outcome;
}

enum outcome store_promise_of_job(struct store *store, struct arena *arena, int64_t job,
                                  struct kept_promise *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &of_job, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct kept_promise){.id = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":job", job);
	if (statement_row(store, stmt, &outcome, fault)) {
		fill_promise(arena, stmt, out);
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE && out->id != 0 ? read_tools(store, arena, out, fault) : outcome;
}

enum outcome store_promises_between(struct store *store, struct arena *arena, struct moment from,
                                    struct moment until, struct kept_promise **out, size_t *count,
                                    struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &between, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_moment(stmt, ":from", from);
	bind_moment(stmt, ":until", until);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 16, sizeof **out);
			room = room * 2 + 16;
		}
		fill_promise(arena, stmt, &(*out)[(*count)++]);
	}
	for (size_t i = 0; i < *count && outcome == OUTCOME_DONE; i++) {
		outcome = read_tools(store, arena, &(*out)[i], fault);
	}
	return outcome;
}
