/* `backup`: a copy of the running shop, whole and looked over, or none. */
#include "copy.h"
#include "proof.h"

STATEMENT(last_links) = {"last two entries of the ledger",
                         "SELECT " LEDGER_COLUMNS " FROM ledger"
                         " WHERE number >= (SELECT max(number) FROM ledger) - 1 ORDER BY number",
                         false};

/* Does the ledger's last entry carry the hash of the one before it? */
static enum outcome look_at_end(struct proving *proving)
{
	unsigned char hash[LEDGER_HASH_BYTES] = {0};
	enum outcome outcome = OUTCOME_STORE;
	int64_t number = 0;
	bool agrees = true;
	sqlite3_stmt *stmt = statement_ready(proving->store, &last_links, proving->fault);
	while (stmt != NULL && statement_row(proving->store, stmt, &outcome, proving->fault)) {
		number = sqlite3_column_int64(stmt, LEDGER_NUMBER);
		agrees = ledger_row_agrees(stmt, hash);
	}
	statement_done(stmt);
	if (outcome == OUTCOME_DONE && !agrees) {
		damage_add(proving, number, NULL,
		           "entry %lld is not as it was written, its hash does not agree",
		           (long long)number);
	}
	return outcome;
}

/* A copy of a damaged shop would be taken for a good one. */
static enum outcome look_over(struct copy *copy, struct arena *arena, struct store *shop,
                              const struct watch *watch, struct fault *fault)
{
	struct proof *proof = arena_take(arena, 1, sizeof *proof);
	struct proving proving = {
		.store = copy->store,
		.arena = arena,
		.watch = watch,
		.proof = proof,
		.fault = fault,
	};
	enum outcome outcome = prove_file(&proving);
	if (outcome == OUTCOME_DONE && !proving.torn) {
		outcome = look_at_end(&proving);
	}
	if (outcome == OUTCOME_DONE &&
	    store_pragma(copy->store, "PRAGMA application_id") != APPLICATION_ID) {
		damage_add(&proving, 0, NULL, "file is not a shop of toothrack");
	}
	if (outcome == OUTCOME_DONE && proof->damage_count > 0) {
		fault_set(fault, OUTCOME_STORE, "file is damaged, %s: %s: %s", copy->undone, shop->path,
		          proof->damages[0].text);
		fault_hint(fault, "Type toothrack --db %s verify for all that is wrong.", shop->path);
		outcome = OUTCOME_STORE;
	}
	return outcome;
}

enum outcome store_backup(struct store *store, struct arena *arena, const char *file,
                          const struct watch *watch, struct copied *out, struct fault *fault)
{
	struct copy copy = COPY_NONE;
	*out = (struct copied){.entries = 0};
	enum outcome outcome = copy_name_free(file, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = copy_begin(&copy, arena, file, "no copy was made", fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = copy_pages(&copy, store, "copied", watch, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = look_over(&copy, arena, store, watch, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->entries = ledger_last(copy.store);
		outcome = count_records(copy.store, &out->records, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = copy_settle(&copy, &out->bytes, fault);
	}
	copy_discard(&copy);
	return outcome;
}
