/* Lines of a handheld's batches that were applied: so that the same batch twice changes nothing. */
#include "internal.h"

STATEMENT(applied_line) = {"line of a batch that was applied",
                           "SELECT entry FROM batch_line WHERE happened = :happened"
                           " AND code = :code AND nth = :nth",
                           false};

STATEMENT(keep_line) =
	{"line of a batch applied",
     "INSERT INTO batch_line (happened, code, nth, entry) VALUES (:happened, :code, :nth, :entry)"
     " ON CONFLICT (happened, code, nth) DO UPDATE SET entry = excluded.entry",
     false};

STATEMENT(entry_of_line) = {"entry that a line of a batch made",
                            "SELECT word, subject_kind, subject, to_place, job, operator"
                            " FROM ledger WHERE number = :entry",
                            false};

STATEMENT(first_entry) = {"first entry of the ledger",
                          "SELECT recorded FROM ledger WHERE number = 1", false};

static void bind_key(sqlite3_stmt *stmt, const struct batch_key *key)
{
	bind_moment(stmt, ":happened", key->happened);
	bind_words(stmt, ":code", key->code);
	bind_number(stmt, ":nth", key->nth);
}

enum outcome store_batch_find(struct store *store, const struct batch_key *key, int64_t *entry,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &applied_line, fault);
	enum outcome outcome = OUTCOME_STORE;
	*entry = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_key(stmt, key);
	if (statement_row(store, stmt, &outcome, fault)) {
		*entry = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_batch_keep(struct store *store, const struct batch_key *key, int64_t entry,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &keep_line, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_key(stmt, key);
	bind_number(stmt, ":entry", entry);
	return statement_run(store, stmt, "keeping a line of a batch", fault);
}

enum outcome store_batch_entry(struct store *store, struct arena *arena, int64_t entry,
                               struct batch_entry *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &entry_of_line, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct batch_entry){.word = ""};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->word = column_words(arena, stmt, 0);
		out->kind = kind_find((const char *)sqlite3_column_text(stmt, 1));
		out->subject = sqlite3_column_int64(stmt, 2);
		out->to_place = sqlite3_column_int64(stmt, 3);
		out->job = sqlite3_column_int64(stmt, 4);
		out->operator_id = sqlite3_column_int64(stmt, 5);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_began(struct store *store, struct known_moment *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &first_entry, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct known_moment){.known = false};
	if (stmt != NULL && statement_row(store, stmt, &outcome, fault)) {
		*out = column_seconds(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}
