/*
 * Lives of tools: one begins with a new blade, a regrind or an engraving, and with it what was read
 * and has run since, where it is put on record late, and the care since (life_care.c); taken back
 * it gives all that back.
 */
#include <stdio.h>

#include "life.h"
#include "record.h"
#include "wear.h"

/*
 * What a tool ran of its life up to a moment and since. Not known up to then: what the tool ran
 * before all that is followed, or what it had run by the first of that. A life begins no sooner
 * than the one before it.
 */
STATEMENT(split_life) =
	{"web of a life before and since a moment",
     "SELECT t.run, COALESCE(sum(w.length), 0), min(w.run_known), t.kind = 'anilox', " LIFE_SINCE
     " FROM tool t LEFT JOIN web_run w ON w.tool = t.id AND w.life = t.life"
     " AND w.moment > " LIFE_SINCE " WHERE t.id = :id",
     false};
STATEMENT(begin_life) = {"next life of a tool begun",
                         "UPDATE tool SET life = life + 1 WHERE id = :id", false};
/*
 * Of a life that began before it was put on record: what was read and has run since is of it. A run
 * that was told with a reading was counted from the life before, unless it is less than that ran.
 */
#define OF_LIFE_BEFORE " WHERE tool = :id AND life = (SELECT life - 1 FROM tool WHERE id = :id)"
STATEMENT(take_readings) = {"readings of a life begun",
                            "UPDATE reading SET life = life + 1" OF_LIFE_BEFORE
                            " AND moment >= " LIFE_BEGAN,
                            false};
STATEMENT(take_web) = {"web of a life begun",
                       "UPDATE web_run SET life = life + 1" OF_LIFE_BEFORE
                       " AND moment > " LIFE_BEGAN,
                       false};
STATEMENT(keep_readings_run) = {"runs told with readings before a life began",
                                KEEP_RUNS("readings_run", "reading",
                                          " WHERE tool = :id AND life = " LIFE_NOW
                                          " AND run >= :ended"),
                                false};
/* What the record told since, counted from there too; less than that was told of the life before.
 */
#define TOLD_SINCE \
	" WHERE tool = :id AND life = " LIFE_NOW " - 1 AND moment > " LIFE_BEGAN \
	" AND COALESCE(run, :ended) >= :ended"
STATEMENT(keep_runs_told) = {"runs told of a life begun",
                             KEEP_RUNS("runs_told", "run_told", TOLD_SINCE), false};
STATEMENT(take_runs_told) = {"runs told counted from where a life began",
                             "UPDATE run_told SET life = life + 1, run = run - :ended" TOLD_SINCE,
                             false};
STATEMENT(give_runs_told) = {"runs told of the life before",
                             GIVE_RUNS("runs_told", "run_told", "life = life - 1, "), false};
STATEMENT(count_readings_run) = {"runs told with readings of a life begun",
                                 "UPDATE reading SET run = run - :ended WHERE tool = :id"
                                 " AND life = " LIFE_NOW " AND run >= :ended",
                                 false};
/* Before the life is taken back; all that is read and has run in it by then came before it. */
STATEMENT(give_readings) = {"readings of a life taken back",
                            "UPDATE reading SET life = life - 1 WHERE tool = :id"
                            " AND life = " LIFE_NOW,
                            false};
STATEMENT(give_web) = {"web of a life taken back",
                       "UPDATE web_run SET life = life - 1 WHERE tool = :id AND life = " LIFE_NOW,
                       false};
STATEMENT(restore_readings_run) = {"runs told with readings taken back",
                                   GIVE_RUNS("readings_run", "reading", ""), false};
/* A roll engraved anew has run nothing by then. */
STATEMENT(tell_none) = {"run of a roll engraved anew told",
                        "INSERT INTO run_told (tool, life, moment, entry, run) SELECT id, life,"
                        " (SELECT max(c.moment) FROM care c WHERE c.tool = tool.id"
                        " AND c.life = tool.life AND c.what IN " RENEWALS "), :entry, 0"
                        " FROM tool WHERE id = :id AND kind = 'anilox'",
                        false};
STATEMENT(life_of) = {"life of a tool", "SELECT life FROM tool WHERE id = :id", false};

#define KEPT_LIFE \
	"(SELECT CAST(value AS INTEGER) FROM entry_before WHERE entry = :entry AND attribute = 'tool_life')"
STATEMENT(restore_life) = {"life of a tool taken back",
                           "UPDATE tool SET life = " KEPT_LIFE " WHERE id = :id", false};

/* ---------------------------------------------------------------- told */

enum outcome store_tool_life(struct store *store, int64_t tool, int64_t *life, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &life_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	*life = 1;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	if (statement_row(store, stmt, &outcome, fault)) {
		*life = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

/* Of a roll as its readings are told, which may be more than stands on record, as far as known. */
static enum outcome split_roll(struct store *store, int64_t tool, struct moment since,
                               struct life_split *out, struct fault *fault)
{
	const struct moment ever_after = {.s = INT64_MAX};
	struct arena *scratch = arena_new();
	struct known_length ended, now;
	enum outcome outcome = store_run_at(store, scratch, tool, since, &ended, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_run_at(store, scratch, tool, ever_after, &now, fault);
	}
	if (outcome == OUTCOME_DONE && ended.known && now.known) {
		*out = (struct life_split){ended, length_subtract(now.value, ended.value)};
	}
	arena_free(scratch);
	return outcome;
}

enum outcome store_life_split(struct store *store, int64_t tool, struct moment since,
                              struct life_split *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &split_life, fault);
	enum outcome outcome = OUTCOME_STORE;
	bool roll = false;
	*out = (struct life_split){.ended.known = false};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", tool);
	bind_moment(stmt, ":since", since);
	if (statement_row(store, stmt, &outcome, fault)) {
		struct length left;
		bool none_before_known =
			sqlite3_column_type(stmt, 2) != SQLITE_NULL && sqlite3_column_int64(stmt, 2) == 0;
		out->ended = column_length(stmt, 0);
		out->ran = length_from_nm(sqlite3_column_int64(stmt, 1));
		left = length_subtract(out->ended.value, out->ran);
		/* Put right by hand to less than it ran since: nothing is left for before. */
		out->ended.value = length_compare(left, length_from_nm(0)) < 0 ? length_from_nm(0) : left;
		out->ended.known = out->ended.known && !none_before_known;
		roll = sqlite3_column_int64(stmt, 3) != 0;
		since = column_seconds(stmt, 4).value;
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE && roll ? split_roll(store, tool, since, out, fault) : outcome;
}

/* ---------------------------------------------------------------- begun */

/* What a step does not ask for is 0 or NULL. */
static enum outcome step(struct store *store, const struct statement *statement, int64_t tool,
                         int64_t entry, const struct length *ended, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	if (tool != 0) {
		bind_number(stmt, ":id", tool);
	}
	if (entry != 0) {
		bind_number(stmt, ":entry", entry);
	}
	if (ended != NULL) {
		bind_number(stmt, ":ended", length_to_nm(*ended));
	}
	return statement_run(store, stmt, statement->name, fault);
}

static enum outcome take_since(struct store *store, int64_t tool, const struct life_split *split,
                               struct fault *fault)
{
	const struct length *ended = &split->ended.value;
	enum outcome outcome = step(store, &take_readings, tool, 0, NULL, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &take_web, tool, 0, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = life_take_care(store, tool, fault);
	}
	if (outcome == OUTCOME_DONE && split->ended.known) {
		outcome = step(store, &keep_readings_run, tool, store->ledger_end.number, ended, fault);
	}
	if (outcome == OUTCOME_DONE && split->ended.known) {
		outcome = step(store, &count_readings_run, tool, 0, ended, fault);
	}
	if (outcome == OUTCOME_DONE && split->ended.known) {
		outcome = step(store, &keep_runs_told, tool, store->ledger_end.number, ended, fault);
	}
	return outcome == OUTCOME_DONE && split->ended.known
	           ? step(store, &take_runs_told, tool, 0, ended, fault)
	           : outcome;
}

enum outcome life_begin(struct store *store, int64_t tool, const struct life_split *split,
                        struct fault *fault)
{
	char number[24];
	int64_t life;
	enum outcome outcome = store_tool_life(store, tool, &life, fault);
	if (outcome == OUTCOME_DONE) {
		snprintf(number, sizeof number, "%lld", (long long)life);
		outcome = before_keep(store, "tool_life", number, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &begin_life, tool, 0, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &tell_none, tool, store->ledger_end.number, NULL, fault);
	}
	return outcome == OUTCOME_DONE && split != NULL ? take_since(store, tool, split, fault)
	                                                : outcome;
}

/* ---------------------------------------------------------------- taken back */

enum outcome life_give_back(struct store *store, const struct undo_entry *entry,
                            struct fault *fault)
{
	const int64_t tool = entry->subject;
	enum outcome outcome = run_told_forget(store, entry->number, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &give_runs_told, 0, entry->number, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &give_readings, tool, 0, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &restore_readings_run, 0, entry->number, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = step(store, &give_web, tool, 0, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = life_give_care(store, entry, fault);
	}
	return outcome == OUTCOME_DONE ? step(store, &restore_life, tool, entry->number, NULL, fault)
	                               : outcome;
}
