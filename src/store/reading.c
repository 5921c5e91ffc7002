/* Readings of anilox volume: events, never changed by a later one. */
#include "internal.h"

const struct record_sql reading_sql = {
	.insert =
		{"new reading",
         "INSERT INTO reading (tool, life, moment, volume, left_volume, centre_volume, right_volume,"
         " method, after) VALUES (:tool, (SELECT life FROM tool WHERE id = :tool), :moment, :volume,"
         " :left_volume, :centre_volume, :right_volume, :method, :after)",
         false},
	.update = {"changed reading",
               "UPDATE reading SET moment = :moment, volume = :volume, left_volume = :left_volume,"
               " centre_volume = :centre_volume, right_volume = :right_volume, method = :method,"
               " after = :after WHERE id = :id AND tool = :tool",
               false},
	.read =
		{"reading",
         "SELECT t.tag AS tool, r.tool AS tool_id, r.moment, r.volume, r.left_volume, r.centre_volume,"
         " r.right_volume, r.method, r.after FROM reading r JOIN tool t ON t.id = r.tool"
         " WHERE r.id = :id",
         false},
};

STATEMENT(at_moment) =
	{"reading at a moment",
     "SELECT id FROM reading WHERE tool = :tool AND moment = :moment AND method IS :method"
     " AND after IS :after LIMIT 1",
     false};

STATEMENT(latest_of_tool) = {
	"latest readings of a tool",
	"SELECT id FROM reading WHERE tool = :tool ORDER BY life DESC, moment DESC, id DESC LIMIT :most",
	false};

enum outcome store_readings_latest(struct store *store, int64_t tool, int64_t *ids, size_t most,
                                   size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &latest_of_tool, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	bind_number(stmt, ":most", (int64_t)most);
	while (statement_row(store, stmt, &outcome, fault)) {
		ids[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_reading_find(struct store *store, int64_t tool, struct moment moment,
                                const char *method, const char *after, int64_t *id,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &at_moment, fault);
	enum outcome outcome = OUTCOME_STORE;
	*id = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	bind_moment(stmt, ":moment", moment);
	bind_words(stmt, ":method", method);
	bind_words(stmt, ":after", after);
	if (statement_row(store, stmt, &outcome, fault)) {
		*id = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}
