/*
 * Which promises the entries since one may have touched: rather too many than one too few. One
 * query, which goes through those entries once, each subject once, and from each by an index to the
 * bookings and promises.
 */
#include "internal.h"

/* What the entries are about; `turned`: the change may be of a job's state. */
#define SUBJECTS \
	"WITH entry AS MATERIALIZED (SELECT DISTINCT subject_kind AS kind, subject AS id, job," \
	" subject_kind = 'job' AND (word IN ('start', 'finish', 'undo')" \
	" OR (word = 'changed' AND instr(detail, 'state ') > 0)) AS turned" \
	" FROM ledger NOT INDEXED WHERE number > :entry),"
/* Presses of which it may have changed what runs, or is promised, there. */
#define PRESSES \
	"at_press AS MATERIALIZED (" \
	"SELECT id AS press FROM entry WHERE kind = 'press'" \
	" UNION SELECT p.press FROM entry e CROSS JOIN place p ON p.id = e.id WHERE e.kind = 'place'" \
	" AND p.press IS NOT NULL" \
	" UNION SELECT r.press FROM entry e CROSS JOIN job_run r ON r.job = e.id" \
	" AND (r.finished IS NULL OR r.finish_entry > :entry) WHERE e.kind = 'job'" \
	" UNION SELECT l.press FROM entry e CROSS JOIN job j ON j.id = e.id CROSS JOIN job_press l" \
	" ON l.job = j.id WHERE e.kind = 'job' AND (e.turned OR j.state = 'running')" \
	" UNION SELECT press FROM promise WHERE made > :entry" \
	" UNION SELECT press FROM promise WHERE ended > :entry),"
/*
 * Tools that changed themselves, or by what they ran or are in; those that stand at such a press;
 * those that another job has, or had until then.
 */
#define TOOLS \
	"of_tool AS MATERIALIZED (" \
	"SELECT t.id AS tool FROM entry e CROSS JOIN tool t ON t.id = e.id AND t.kind = e.kind" \
	" UNION SELECT r.tool FROM entry e CROSS JOIN reading r ON r.id = e.id WHERE e.kind = 'reading'" \
	" UNION SELECT tool FROM web_run WHERE entry > :entry" \
	" UNION SELECT t.id FROM entry e CROSS JOIN tool t ON t.place = e.id WHERE e.kind = 'place'" \
	" UNION SELECT t.id FROM at_press a CROSS JOIN place p ON p.press = a.press" \
	" CROSS JOIN tool t ON t.place = p.id" \
	" UNION SELECT t.id FROM entry e CROSS JOIN tool t ON t.taken_for = e.id WHERE e.kind = 'job'" \
	" UNION SELECT b.tool FROM entry e CROSS JOIN booking b ON b.job = e.id WHERE e.kind = 'job'" \
	" UNION SELECT t.tool FROM promise p CROSS JOIN promise_tool t ON t.promise = p.id" \
	" WHERE p.ended > :entry),"
#define JOBS \
	"of_job AS (" \
	"SELECT b.job AS job FROM of_tool w CROSS JOIN booking b ON b.tool = w.tool" \
	" UNION SELECT p.job FROM at_press a CROSS JOIN promise p ON p.press = a.press" \
	" AND p.ended IS NULL" \
	" UNION SELECT id FROM entry WHERE kind = 'job'" \
	" UNION SELECT job FROM entry WHERE job IS NOT NULL)"
STATEMENT(touched) = {"promises touched by entries",
                      SUBJECTS PRESSES TOOLS JOBS
                      " SELECT o.job FROM of_job o CROSS JOIN promise p ON p.job = o.job"
                      " AND p.ended IS NULL ORDER BY o.job",
                      false};

/*
 * A limit, or a shop that was restored, is about all of them. So may be a correction of where a job
 * ran by its state alone, which no run tells and whose presses may be others by now; and a `finish`
 * taken back, after which nothing tells any more which tools had run.
 */
STATEMENT(touches_all) =
	{"entry about every promise",
     "SELECT EXISTS (SELECT 1 FROM ledger WHERE number > :entry"
     " AND subject_kind IN ('setting', 'shop')) OR EXISTS (SELECT 1 FROM ledger l NOT INDEXED"
     " CROSS JOIN ledger o ON o.number ="
     " COALESCE((SELECT entry FROM taken_back WHERE by_entry = l.number), l.number)"
     " CROSS JOIN entry_before b ON b.entry = o.number AND b.attribute IN ('press', 'state')"
     " CROSS JOIN job j ON j.id = l.subject WHERE l.number > :entry AND l.subject_kind = 'job'"
     " AND o.word = 'changed'"
     " AND (l.word = 'undo' OR b.value = 'running' OR j.state = 'running'))"
     " OR EXISTS (SELECT 1 FROM ledger l NOT INDEXED CROSS JOIN taken_back k"
     " ON k.by_entry = l.number CROSS JOIN ledger o ON o.number = k.entry AND o.word = 'finish'"
     " WHERE l.number > :entry AND l.word = 'undo')",
     false};
STATEMENT(all_held) = {"jobs of all promises that hold",
                       "SELECT job FROM promise WHERE ended IS NULL ORDER BY job", true};

static enum outcome read_touches_all(struct store *store, int64_t entry, bool *out,
                                     struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &touches_all, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = false;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	*out = statement_row(store, stmt, &outcome, fault) && sqlite3_column_int64(stmt, 0) != 0;
	statement_done(stmt);
	return outcome;
}

enum outcome store_promises_touched(struct store *store, struct arena *arena, int64_t entry,
                                    int64_t **jobs, size_t *count, struct fault *fault)
{
	bool all;
	size_t room = 0;
	*jobs = NULL;
	*count = 0;
	enum outcome outcome = read_touches_all(store, entry, &all, fault);
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE ? statement_ready(store, all ? &all_held : &touched, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	if (!all) {
		bind_number(stmt, ":entry", entry);
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*jobs = arena_grow(arena, *jobs, room, room * 2 + 16, sizeof **jobs);
			room = room * 2 + 16;
		}
		(*jobs)[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	return outcome;
}
