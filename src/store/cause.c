/* The entry by which something came about: found among those of a change, and told. */
#include "internal.h"

/* The record itself, the readings of a roll, the runs of a tool, the rows of a job. */
STATEMENT(entry_about) = {
	"last entry about a record",
	"SELECT max(number) FROM (SELECT number FROM ledger WHERE subject_kind = :kind AND subject = :id"
	" AND number > :entry UNION ALL SELECT l.number FROM reading r JOIN ledger l"
	" ON l.subject_kind = 'reading' AND l.subject = r.id WHERE r.tool = :id AND :kind = 'anilox'"
	" AND l.number > :entry UNION ALL SELECT w.entry FROM tool t JOIN web_run w ON w.tool = t.id"
	" AND w.entry > :entry WHERE t.id = :id AND t.kind = :kind"
	" UNION ALL SELECT number FROM ledger WHERE job = :id AND :kind = 'job'"
	" AND number > :entry)",
	false};

STATEMENT(entry_by_number) = {
	"one entry",
	"SELECT " ENTRY_COLUMNS ", COALESCE(subject_tool.tag, subject_place.code, subject_press.code,"
	" subject_job.number, subject_roll.tag, l.subject_kind)" ENTRY_SOURCES
	" LEFT JOIN tool subject_tool ON subject_tool.id = l.subject AND subject_tool.kind = l.subject_kind"
	" LEFT JOIN place subject_place ON subject_place.id = l.subject AND l.subject_kind = 'place'"
	" LEFT JOIN press subject_press ON subject_press.id = l.subject AND l.subject_kind = 'press'"
	" LEFT JOIN job subject_job ON subject_job.id = l.subject AND l.subject_kind = 'job'"
	" LEFT JOIN reading subject_reading ON subject_reading.id = l.subject"
	" AND l.subject_kind = 'reading' LEFT JOIN tool subject_roll ON subject_roll.id = subject_reading.tool"
	" WHERE l.number = :number",
	false};

enum outcome store_entry_about(struct store *store, int64_t entry, const struct kind *kind,
                               int64_t id, int64_t *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &entry_about, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":kind", kind->name);
	bind_number(stmt, ":id", id);
	bind_number(stmt, ":entry", entry);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_entry_read(struct store *store, struct arena *arena, int64_t number,
                              struct ledger_entry *out, const char **of, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &entry_by_number, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct ledger_entry){.number = 0};
	*of = NULL;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":number", number);
	if (statement_row(store, stmt, &outcome, fault)) {
		struct tag tag;
		*out = ledger_entry_read(arena, stmt);
		*of = column_words(arena, stmt, ENTRY_COLUMN_COUNT);
		if (*of != NULL && tag_read(*of, &tag) == TAG_READ) {
			*of = arena_copy(arena, tag_shown(tag).bytes);
		}
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}
