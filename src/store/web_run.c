/* Web that tools have run: what the runs of jobs gave them. */
#include <string.h>

#include "promise.h"

/* ---------------------------------------------------------------- reading */

/* Its job is that of the run; on a press not known, the one that the entry `finish` is on. */
STATEMENT(runs_of_tool) =
	{"runs of a tool",
     "SELECT w.moment, w.length, j.number, p.code FROM tool t JOIN web_run w ON w.tool = t.id"
     " AND w.life = t.life LEFT JOIN job_run r ON r.id = w.job_run"
     " LEFT JOIN press p ON p.id = r.press JOIN ledger l ON l.number = w.entry"
     " LEFT JOIN job j ON j.id = COALESCE(r.job, l.subject)"
     " WHERE t.id = :tool ORDER BY w.moment, w.id",
     false};

enum outcome store_web_runs(struct store *store, struct arena *arena, int64_t tool,
                            struct web_run **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &runs_of_tool, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 16, sizeof **out);
			room = room * 2 + 16;
		}
		(*out)[(*count)++] = (struct web_run){
			.moment = column_seconds(stmt, 0).value,
			.length = column_length(stmt, 1).value,
			.job = column_words(arena, stmt, 2),
			.press = column_words(arena, stmt, 3),
		};
	}
	return outcome;
}

STATEMENT(length_of_last_run) =
	{"length of the last run of a job",
     "SELECT length, length_by FROM job_run WHERE job = :job AND length IS NOT NULL"
     " ORDER BY started DESC, id DESC LIMIT 1",
     false};

enum outcome store_ran_of_job(struct store *store, struct arena *arena, int64_t job,
                              struct known_length *out, const char **by, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &length_of_last_run, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct known_length){.known = false};
	*by = NULL;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":job", job);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = column_length(stmt, 0);
		*by = column_words(arena, stmt, 1);
	}
	statement_done(stmt);
	return outcome;
}

STATEMENT(tools_reached) = {"tools that a run reached",
                            "SELECT count(*) FROM web_run WHERE entry = :entry", false};

enum outcome store_web_reached(struct store *store, int64_t entry, int64_t *tools,
                               struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &tools_reached, fault);
	enum outcome outcome = OUTCOME_STORE;
	*tools = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	if (statement_row(store, stmt, &outcome, fault)) {
		*tools = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- a run reaches its tools */

STATEMENT(length_of_run) = {"length of a run",
                            "UPDATE job_run SET length = :length, length_by = :by"
                            " WHERE finish_entry = :entry",
                            false};
/* Where the clock has gone back it ran after what was told of its run before, all the same. */
STATEMENT(add_web) =
	{"web of a tool",
     "INSERT INTO web_run (tool, life, job_run, length, moment, entry, run_known)"
     " SELECT t.id, t.life, r.id, :length, max(COALESCE(r.finished, :moment),"
     " COALESCE((SELECT max(n.moment) FROM run_told n WHERE n.tool = t.id AND n.life = t.life),"
     " r.finished, :moment)), :entry, t.run IS NOT NULL FROM tool t"
     " LEFT JOIN job_run r ON r.finish_entry = :entry WHERE t.id = :tool",
     false};
/* As much as fits a run: what is past that is no length of web on earth. */
STATEMENT(grow_run) = {"run of a tool grown",
                       "UPDATE tool SET run = COALESCE(run, 0) + :length WHERE id = :tool"
                       " AND COALESCE(run, 0) <= 9223372036854775807 - :length",
                       false};
STATEMENT(tag_of_tool) = {"tag of a tool that ran", "SELECT tag FROM tool WHERE id = :tool", false};

static enum outcome write_length(struct store *store, struct length length, const char *by,
                                 struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &length_of_run, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":length", length_to_nm(length));
	bind_words(stmt, ":by", by);
	bind_number(stmt, ":entry", store->ledger_end.number);
	return statement_run(store, stmt, "keeping the length of a run", fault);
}

static enum outcome refuse_too_long(struct store *store, int64_t tool, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &tag_of_tool, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	if (statement_row(store, stmt, &outcome, fault)) {
		fault_set(fault, OUTCOME_BAD, "length is more than a tool's run holds: %s",
		          tag_shown(column_tag(stmt, 0)).bytes);
		fault_hint(fault, "Type length= with the web that ran, and look at the run of that tool.");
		outcome = OUTCOME_BAD;
	}
	statement_done(stmt);
	return outcome;
}

static enum outcome reach(struct store *store, int64_t tool, struct length length,
                          struct moment moment, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &add_web, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", tool);
	bind_number(stmt, ":length", length_to_nm(length));
	bind_moment(stmt, ":moment", moment);
	bind_number(stmt, ":entry", store->ledger_end.number);
	enum outcome outcome = statement_run(store, stmt, "keeping the web of a tool", fault);
	stmt = outcome == OUTCOME_DONE ? statement_ready(store, &grow_run, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", tool);
	bind_number(stmt, ":length", length_to_nm(length));
	outcome = statement_run(store, stmt, "adding to the run of a tool", fault);
	return outcome == OUTCOME_DONE && sqlite3_changes(store->db) == 0
	           ? refuse_too_long(store, tool, fault)
	           : outcome;
}

enum outcome store_run_reaches(struct store *store, int64_t job, struct length length,
                               const char *by, const int64_t *tools, size_t tool_count,
                               const struct actor *actor, struct fault *fault)
{
	(void)job; /* the entry written last is on it, and ended its run */
	enum outcome outcome = write_length(store, length, by, fault);
	bool ran = length_to_nm(length) > 0;
	for (size_t i = 0; ran && i < tool_count && outcome == OUTCOME_DONE; i++) {
		outcome = reach(store, tools[i], length, actor_moment(actor), fault);
	}
	return outcome;
}

/* ---------------------------------------------------------------- taken back */

STATEMENT(run_after) = {"run of a tool after an entry",
                        "SELECT " ENTRY_COLUMNS WEB_ENTRY_SOURCES
                        " WHERE w.tool = :tool AND w.entry > :entry ORDER BY w.entry DESC LIMIT 1",
                        false};

enum outcome web_since(struct store *store, struct arena *arena, const struct undo_entry *entry,
                       struct ledger_entry *out, struct fault *fault)
{
	bool told = strcmp(entry->word, "reblade") == 0 || strcmp(entry->word, "regrind") == 0;
	const char *before;
	enum outcome outcome = OUTCOME_DONE;
	if (!told) {
		outcome = before_read(store, arena, entry->number, "run", &told, &before, fault);
	}
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE && told ? statement_ready(store, &run_after, fault) : NULL;
	if (stmt == NULL) {
		return outcome == OUTCOME_DONE && told ? OUTCOME_STORE : outcome;
	}
	bind_number(stmt, ":tool", entry->subject);
	bind_number(stmt, ":entry", entry->number);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = ledger_entry_read(arena, stmt);
	}
	statement_done(stmt);
	return outcome;
}

/*
 * What has told the run of one of these tools since: a correction, or a new life. Taking the web
 * away from that would make a run that nobody has told.
 */
STATEMENT(told_since) =
	{"run of a tool told since",
     "SELECT t.tag, l.word, l.detail, COALESCE(o.name, l.login), l.happened FROM web_run w"
     " CROSS JOIN tool t ON t.id = w.tool CROSS JOIN ledger l ON l.subject_kind = t.kind"
     " AND l.subject = t.id AND l.number > :entry LEFT JOIN operator o ON o.id = l.operator"
     " WHERE w.entry = :entry AND l.word <> 'undo'"
     " AND NOT EXISTS (SELECT 1 FROM taken_back k WHERE k.entry = l.number)"
     " AND (l.word IN ('reblade', 'regrind') OR EXISTS (SELECT 1 FROM entry_before b"
     " WHERE b.entry = l.number AND b.attribute = 'run')) ORDER BY t.tag, l.number LIMIT 1",
     false};
/*
 * Where its run was not known before, it is not known again; where it ran on since, what came then
 * is all that is known, and not knowing passes on to the first of that.
 */
STATEMENT(shrink_run) =
	{"run of a tool taken back",
     "UPDATE tool SET run = (SELECT CASE WHEN w.run_known = 1 OR EXISTS (SELECT 1 FROM web_run n"
     " WHERE n.tool = w.tool AND n.life = w.life AND n.id > w.id)"
     " THEN max(0, tool.run - w.length) END FROM web_run w"
     " WHERE w.tool = tool.id AND w.entry = :entry)"
     " WHERE id IN (SELECT tool FROM web_run WHERE entry = :entry)",
     false};
STATEMENT(pass_on) =
	{"run that was not known before",
     "UPDATE web_run SET run_known = 0 WHERE id IN (SELECT (SELECT min(n.id) FROM web_run n"
     " WHERE n.tool = w.tool AND n.life = w.life AND n.id > w.id) FROM web_run w"
     " WHERE w.entry = :entry AND w.run_known = 0)",
     false};
STATEMENT(forget_web) = {"web of tools taken back", "DELETE FROM web_run WHERE entry = :entry",
                         false};

static enum outcome refuse_told(struct store *store, struct arena *arena, int64_t entry,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &told_since, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	if (statement_row(store, stmt, &outcome, fault)) {
		const char *tag = arena_copy(arena, tag_shown(column_tag(stmt, 0)).bytes);
		const char *detail = column_words(arena, stmt, 2);
		outcome = fault_set(fault, OUTCOME_NO,
		                    "finish is not taken back, the run of %s has changed since: %s%s%s, "
		                    "by %s, %s",
		                    tag, column_words(arena, stmt, 1), detail != NULL ? ", " : "",
		                    detail != NULL ? detail : "", column_words(arena, stmt, 3),
		                    moment_text(column_seconds(stmt, 4).value).bytes);
		fault_hint(fault, "Look with history %s, then put its run right: edit %s run=...", tag,
		           tag);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome web_take_back(struct store *store, struct arena *arena, int64_t entry,
                           struct fault *fault)
{
	static const struct statement *const steps[] = {&shrink_run, &pass_on, &forget_web};
	enum outcome outcome = refuse_told(store, arena, entry, fault);
	for (size_t i = 0; i < COUNT_OF(steps) && outcome == OUTCOME_DONE; i++) {
		sqlite3_stmt *stmt = statement_ready(store, steps[i], fault);
		if (stmt == NULL) {
			return OUTCOME_STORE;
		}
		bind_number(stmt, ":entry", entry);
		outcome = statement_run(store, stmt, steps[i]->name, fault);
	}
	return outcome;
}
