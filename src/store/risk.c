/* What has broken promises that hold, and which promises a change may have touched. */
#include "internal.h"

STATEMENT(forget_risks) = {"risks of a job forgotten", "DELETE FROM risk WHERE job = :job", false};
STATEMENT(
	add_risk) = {"risk",
                 "INSERT INTO risk (job, number, tool, need, station, cut, text, since, entry)"
                 " VALUES (:job, :number, :tool, :need, :station, :cut, :text, :since, :entry)",
                 false};
STATEMENT(at_risk) =
	{"promises at risk",
     "SELECT r.job, j.number, r.tool, w.tag, r.need, r.station, r.cut, r.text, r.since, r.entry,"
     " p.starts, c.code FROM risk r JOIN promise p ON p.job = r.job AND p.ended IS NULL"
     " JOIN job j ON j.id = r.job JOIN press c ON c.id = p.press LEFT JOIN tool w ON w.id = r.tool"
     " WHERE r.since <= :now ORDER BY p.starts, j.number, r.number",
     false};
STATEMENT(count_at_risk) = {"jobs at risk",
                            "SELECT count(DISTINCT r.job) FROM risk r WHERE r.since <= :now"
                            " AND EXISTS (SELECT 1 FROM promise p WHERE p.job = r.job"
                            " AND p.ended IS NULL)",
                            false};

/* ---------------------------------------------------------------- writing */

static enum outcome write_risk(struct store *store, int64_t job, int64_t number,
                               const struct risk *risk, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &add_risk, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	bind_number(stmt, ":number", number);
	bind_id(stmt, ":tool", risk->tool);
	bind_words(stmt, ":need", risk->need);
	bind_id(stmt, ":station", risk->station);
	bind_id(stmt, ":cut", risk->cut);
	bind_words(stmt, ":text", risk->text);
	bind_moment(stmt, ":since", risk->since);
	bind_id(stmt, ":entry", risk->entry);
	return statement_run(store, stmt, "writing a risk", fault);
}

enum outcome store_risks_write(struct store *store, int64_t job, const struct risk *risks,
                               size_t count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &forget_risks, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	enum outcome outcome = statement_run(store, stmt, "forgetting risks", fault);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = write_risk(store, job, (int64_t)i + 1, &risks[i], fault);
	}
	return outcome;
}

/* ---------------------------------------------------------------- reading */

static struct risk read_risk(struct arena *arena, sqlite3_stmt *stmt)
{
	struct risk risk = {
		.job = sqlite3_column_int64(stmt, 0),
		.job_number = column_words(arena, stmt, 1),
		.tool = sqlite3_column_int64(stmt, 2),
		.need = column_words(arena, stmt, 4),
		.station = sqlite3_column_int64(stmt, 5),
		.cut = sqlite3_column_int64(stmt, 6),
		.text = column_words(arena, stmt, 7),
		.since = column_seconds(stmt, 8).value,
		.entry = sqlite3_column_int64(stmt, 9),
		.from = column_seconds(stmt, 10).value,
		.press_code = column_words(arena, stmt, 11),
	};
	if (risk.tool != 0) {
		risk.tag = column_tag(stmt, 3);
	}
	return risk;
}

enum outcome store_risks(struct store *store, struct arena *arena, struct moment now,
                         struct risk **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &at_risk, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_moment(stmt, ":now", now);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 8, sizeof **out);
			room = room * 2 + 8;
		}
		(*out)[(*count)++] = read_risk(arena, stmt);
	}
	return outcome;
}

enum outcome store_risk_count(struct store *store, struct moment now, int64_t *count,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &count_at_risk, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_moment(stmt, ":now", now);
	if (statement_row(store, stmt, &outcome, fault)) {
		*count = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}
