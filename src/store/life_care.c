/*
 * Care and gaugings of a life that began before it was put on record: what was done and found since
 * goes into it, with the web that it had run by then; taken back it is all as it stood.
 */
#include "life.h"
#include "record.h"

/* How often it was read and cared for since the life began. */
#define OF_LIFE(table) \
	" FROM " table " x WHERE x.tool = t.id AND x.life = t.life AND x.moment >= s.moment"
#define CARE_COUNT(what) "(SELECT count(*)" OF_LIFE("care") " AND x.what = '" what "')"
#define LAST_DIAMETER \
	"(SELECT x.diameter" OF_LIFE("gauge") " AND x.diameter IS NOT NULL" \
										  " ORDER BY x.moment DESC, x.id DESC LIMIT 1)"
/* When the usable band was told last, by whatever entry that counts. */
#define USABLE_TOLD \
	"COALESCE((SELECT max(l.happened) FROM ledger l CROSS JOIN entry_before b" \
	" ON b.entry = l.number AND b.attribute IN ('face_from', 'face_to')" \
	" WHERE l.subject_kind = t.kind AND l.subject = t.id" \
	" AND NOT EXISTS (SELECT 1 FROM taken_back k WHERE k.entry = l.number))," \
	" (SELECT min(l.happened) FROM ledger l WHERE l.subject_kind = t.kind" \
	" AND l.subject = t.id AND l.word = 'new'))"
STATEMENT(life_since) = {
	"what is of a life since a moment",
	"WITH s (moment) AS MATERIALIZED (SELECT " LIFE_SINCE ")"
	" SELECT s.moment, (SELECT count(*)" OF_LIFE("reading") "), " CARE_COUNT("cleaned") ", " CARE_COUNT(
		"dirty") ", (SELECT count(*)" OF_LIFE("gauge") "), " LAST_DIAMETER ", " USABLE_TOLD
													   " FROM tool t CROSS JOIN s WHERE t.id = :id",
	false};

/* What began the life before stays in it, though this one may have begun at its very moment. */
#define LATE_KNOWN \
	" WHERE tool = :id AND life = " LIFE_NOW " - 1 AND what NOT IN " RENEWALS \
	" AND moment >= " LIFE_BEGAN
#define LATE_GAUGED " WHERE tool = :id AND life = " LIFE_NOW " - 1 AND moment >= " LIFE_BEGAN
#define TAKE(table, which) \
	"UPDATE " table " SET life = life + 1, run = COALESCE((SELECT sum(w.length) FROM web_run w" \
	" WHERE w.tool = :id AND w.life = " LIFE_NOW " AND w.moment <= " table ".moment), 0)" which
STATEMENT(keep_care) = {"care before a life began", KEEP_RUNS("care_run", "care", LATE_KNOWN),
                        false};
STATEMENT(keep_gauges) = {"gaugings before a life began",
                          KEEP_RUNS("gauge_run", "gauge", LATE_GAUGED), false};
STATEMENT(take_care) = {"care of a life begun", TAKE("care", LATE_KNOWN), false};
STATEMENT(take_gauges) = {"gaugings of a life begun", TAKE("gauge", LATE_GAUGED), false};
STATEMENT(give_care) = {"care of a life taken back",
                        GIVE_RUNS("care_run", "care", "life = life - 1, "), false};
STATEMENT(give_gauges) = {"gaugings of a life taken back",
                          GIVE_RUNS("gauge_run", "gauge", "life = life - 1, "), false};

/* ---------------------------------------------------------------- told */

enum outcome store_life_since(struct store *store, int64_t tool, struct moment since,
                              struct life_since *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &life_since, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct life_since){.began = since};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	bind_moment(stmt, ":since", since);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->began = column_seconds(stmt, 0).value;
		out->readings = sqlite3_column_int64(stmt, 1);
		out->cleaned = sqlite3_column_int64(stmt, 2);
		out->dirty = sqlite3_column_int64(stmt, 3);
		out->gauged = sqlite3_column_int64(stmt, 4);
		out->diameter = column_length(stmt, 5);
		out->usable_told = column_seconds(stmt, 6);
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- taken and given back */

static enum outcome run_each(struct store *store, const struct statement *const *statements,
                             size_t count, int64_t tool, int64_t entry, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		sqlite3_stmt *stmt = statement_ready(store, statements[i], fault);
		if (stmt == NULL) {
			return OUTCOME_STORE;
		}
		if (sqlite3_bind_parameter_index(stmt, ":id") != 0) {
			bind_number(stmt, ":id", tool);
		}
		if (sqlite3_bind_parameter_index(stmt, ":entry") != 0) {
			bind_number(stmt, ":entry", entry);
		}
		outcome = statement_run(store, stmt, statements[i]->name, fault);
	}
	return outcome;
}

enum outcome life_take_care(struct store *store, int64_t tool, struct fault *fault)
{
	static const struct statement *const steps[] = {&keep_care, &keep_gauges, &take_care,
	                                                &take_gauges};
	return run_each(store, steps, COUNT_OF(steps), tool, store->ledger_end.number, fault);
}

enum outcome life_give_care(struct store *store, const struct undo_entry *entry,
                            struct fault *fault)
{
	static const struct statement *const steps[] = {&give_care, &give_gauges};
	return run_each(store, steps, COUNT_OF(steps), entry->subject, entry->number, fault);
}
