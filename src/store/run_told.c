/* What rolls had run as it was told with their records: on which the runs of their readings rest.
 */
#include "record.h"
#include "wear.h"

/* Where the clock has gone back it was told after what it was told after, all the same. */
STATEMENT(keep_told) =
	{"run of a roll told",
     "INSERT INTO run_told (tool, life, moment, entry, run) SELECT t.id, t.life, max(:moment,"
     " COALESCE((SELECT max(r.moment) FROM run_told r WHERE r.tool = t.id AND r.life = t.life),"
     " :moment), COALESCE((SELECT max(w.moment) FROM web_run w WHERE w.tool = t.id"
     " AND w.life = t.life), :moment)), :entry, t.run FROM tool t WHERE t.id = :tool",
     false};
STATEMENT(forget_told) = {"run of a roll told no more", "DELETE FROM run_told WHERE entry = :entry",
                          false};

/* Nobody tells a run by putting a roll on record without one. */
static bool tells(const struct record *before, const struct record *after)
{
	const struct value *old = before != NULL ? record_known(before, "run") : NULL;
	const struct value *new = record_known(after, "run");
	if (old == NULL || new == NULL) {
		return old != new;
	}
	return length_compare(old->length, new->length) != 0;
}

enum outcome run_told_keep(struct store *store, const struct record *before,
                           const struct record *after, const struct actor *actor,
                           struct fault *fault)
{
	if (after->kind->id != KIND_ANILOX || !tells(before, after)) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &keep_told, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", after->id);
	bind_moment(stmt, ":moment", actor_moment(actor));
	bind_number(stmt, ":entry", store->ledger_end.number);
	return statement_run(store, stmt, "keeping a run told", fault);
}

enum outcome run_told_forget(struct store *store, int64_t entry, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &forget_told, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", entry);
	return statement_run(store, stmt, "forgetting a run told", fault);
}
