/* What tools ran stands in rows of its own and in sum with each tool. Do they agree? */
#include "proof.h"

STATEMENT(web_unfinished) =
	{"web of runs that were not finished",
     "SELECT t.tag, w.entry FROM web_run w JOIN tool t ON t.id = w.tool"
     " LEFT JOIN ledger l ON l.number = w.entry LEFT JOIN job_run r ON r.id = w.job_run"
     " WHERE l.word IS NOT 'finish' OR l.subject_kind <> 'job'"
     " OR EXISTS (SELECT 1 FROM taken_back k WHERE k.entry = w.entry)"
     " OR (w.job_run IS NOT NULL AND (r.finish_entry IS NOT w.entry OR r.job IS NOT l.subject))"
     " ORDER BY w.id",
     true};
STATEMENT(web_differs) =
	{"web of another length than the run",
     "SELECT t.tag, w.length, r.length FROM web_run w JOIN job_run r ON r.id = w.job_run"
     " JOIN tool t ON t.id = w.tool WHERE w.length IS NOT r.length ORDER BY w.id",
     true};
STATEMENT(web_of_no_life) = {"web of a life to come",
                             "SELECT t.tag, w.life, t.life FROM web_run w"
                             " JOIN tool t ON t.id = w.tool WHERE w.life > t.life ORDER BY w.id",
                             true};
/* Since it was last put right by hand, which may have been to less: rows before that tell nothing.
 */
STATEMENT(run_less) =
	{"runs less than their parts",
     "WITH told AS MATERIALIZED (SELECT u.id, u.tag, u.life, COALESCE(u.run, 0) AS run,"
     " COALESCE((SELECT max(l.number) FROM ledger l CROSS JOIN entry_before b"
     " ON b.entry = l.number AND b.attribute = 'run' WHERE l.subject_kind = u.kind"
     " AND l.subject = u.id AND NOT EXISTS (SELECT 1 FROM taken_back k WHERE k.entry = l.number)),"
     " 0) AS since FROM tool u WHERE EXISTS (SELECT 1 FROM web_run w WHERE w.tool = u.id)),"
     " summed AS MATERIALIZED (SELECT t.id, t.tag, t.run, (SELECT sum(w.length) FROM web_run w"
     " WHERE w.tool = t.id AND w.life = t.life AND w.entry > t.since) AS ran FROM told t)"
     " SELECT tag, run, ran FROM summed WHERE run < ran ORDER BY id",
     true};

/* On what was told last rests what the roll had run by each reading; the record goes on from it. */
STATEMENT(run_not_as_told) =
	{"runs that are not as told",
     "WITH last AS MATERIALIZED (SELECT t.id, t.tag, t.run, r.run AS told, (SELECT"
     " COALESCE(sum(w.length), 0) FROM web_run w WHERE w.tool = t.id AND w.life = t.life"
     " AND (w.moment > r.moment OR (w.moment = r.moment AND w.entry > r.entry))) AS ran"
     " FROM tool t JOIN run_told r ON r.id = (SELECT n.id FROM run_told n WHERE n.tool = t.id"
     " AND n.life = t.life ORDER BY n.moment DESC, n.id DESC LIMIT 1) WHERE t.kind = 'anilox')"
     " SELECT tag, run, CASE WHEN told IS NULL THEN NULLIF(ran, 0) ELSE told + ran END AS due"
     " FROM last WHERE run IS NOT due ORDER BY id",
     true};

static void add_unfinished(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag_text tag = tag_shown(column_tag(stmt, 0));
	int64_t entry = sqlite3_column_int64(stmt, 1);
	damage_add(proving, entry, tag.bytes, "%s: ran by entry %lld, which finished no run of a job",
	           tag.bytes, (long long)entry);
}

/* A length in the row, in metres as all that is proven. */
static struct quantity_text web_at(sqlite3_stmt *stmt, int column)
{
	return length_text(length_from_nm(sqlite3_column_int64(stmt, column)), LENGTH_WEB,
	                   UNITS_METRIC);
}

static void add_differs(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag_text tag = tag_shown(column_tag(stmt, 0));
	damage_add(proving, 0, tag.bytes, "%s: ran %s in a run of %s", tag.bytes, web_at(stmt, 1).bytes,
	           web_at(stmt, 2).bytes);
}

static void add_of_no_life(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag_text tag = tag_shown(column_tag(stmt, 0));
	damage_add(proving, 0, tag.bytes, "%s: ran in life %lld, it is in life %lld", tag.bytes,
	           (long long)sqlite3_column_int64(stmt, 1), (long long)sqlite3_column_int64(stmt, 2));
}

static void add_less(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag_text tag = tag_shown(column_tag(stmt, 0));
	damage_add(proving, 0, tag.bytes, "%s: run is %s, its jobs ran %s", tag.bytes,
	           web_at(stmt, 1).bytes, web_at(stmt, 2).bytes);
}

static void add_not_as_told(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag_text tag = tag_shown(column_tag(stmt, 0));
	bool known = sqlite3_column_type(stmt, 1) != SQLITE_NULL;
	bool due = sqlite3_column_type(stmt, 2) != SQLITE_NULL;
	damage_add(proving, 0, tag.bytes, "%s: run is %s, as told last and ran since it is %s",
	           tag.bytes, known ? web_at(stmt, 1).bytes : "not known",
	           due ? web_at(stmt, 2).bytes : "not known");
}

enum outcome prove_runs(struct proving *proving)
{
	static const struct {
		const struct statement *statement;
		void (*add)(struct proving *proving, sqlite3_stmt *stmt);
	} looks[] = {
		{&web_unfinished, add_unfinished},   {&web_differs, add_differs},
		{&web_of_no_life, add_of_no_life},   {&run_less, add_less},
		{&run_not_as_told, add_not_as_told},
	};
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < COUNT_OF(looks) && outcome == OUTCOME_DONE && !proving->torn; i++) {
		outcome = prove_look(proving, looks[i].statement, looks[i].statement->name, looks[i].add);
	}
	return outcome;
}
