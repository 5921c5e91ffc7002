/* `verify`: is the file whole, and does the ledger's chain hold? */
#include <stdio.h>
#include <string.h>

#include "copy.h"
#include "proof.h"

#define ENTRIES_A_TELLING 8192
#define TEXT_MOST 300

void damage_add(struct proving *proving, int64_t entry, const char *tag, const char *format, ...)
{
	struct proof *proof = proving->proof;
	char text[TEXT_MOST];
	va_list values;
	proof->damage_count++;
	if (proof->damages_kept == DAMAGES_SHOWN) {
		return;
	}
	va_start(values, format);
	vsnprintf(text, sizeof text, format, values);
	va_end(values);
	for (char *at = text; *at != '\0'; at++) {
		*at = *at == '\n' ? ' ' : *at;
	}
	proof->damages[proof->damages_kept++] = (struct damage){
		.entry = entry,
		.tag = tag != NULL ? arena_copy(proving->arena, tag) : NULL,
		.text = arena_copy(proving->arena, text),
	};
}

enum outcome damage_unless_fault(struct proving *proving, const char *where,
                                 const struct fault *failed)
{
	int code = sqlite3_errcode(proving->store->db) & 0xff;
	if (code == SQLITE_CORRUPT || code == SQLITE_NOTADB) {
		damage_add(proving, 0, NULL, "%s cannot be read to the end", where);
		proving->torn = true;
		return OUTCOME_DONE;
	}
	fault_set(proving->fault, failed->outcome, "%s", failed->sentence);
	fault_hint(proving->fault, "%s", failed->hint);
	return failed->outcome;
}

/* ---------------------------------------------------------------- the chain */

STATEMENT(whole_ledger) = {"the whole ledger",
                           "SELECT " LEDGER_COLUMNS " FROM ledger ORDER BY number", true};

/* The link that the next entry must join. */
struct link {
	int64_t number, recorded;
	unsigned char hash[LEDGER_HASH_BYTES];
};

static void look_at_entry(struct proving *proving, sqlite3_stmt *stmt, struct link *link)
{
	int64_t number = sqlite3_column_int64(stmt, LEDGER_NUMBER);
	int64_t recorded = sqlite3_column_int64(stmt, LEDGER_RECORDED);
	int64_t wanted = link->number + 1;
	if (number > wanted + 1) {
		damage_add(proving, wanted, NULL, "entries %lld to %lld are missing", (long long)wanted,
		           (long long)number - 1);
	} else if (number > wanted) {
		damage_add(proving, wanted, NULL, "entry %lld is missing", (long long)wanted);
	} else if (number < wanted) {
		damage_add(proving, number, NULL, "entry %lld stands before the first", (long long)number);
	}
	/* Behind a gap there is nothing to hold its hash against. */
	if (!ledger_row_agrees(stmt, link->hash) && number == wanted) {
		damage_add(proving, number, NULL,
		           "entry %lld is not as it was written, its hash does not agree",
		           (long long)number);
	}
	if (recorded < link->recorded) {
		damage_add(proving, number, NULL,
		           "entry %lld is recorded before the one that stands before it",
		           (long long)number);
	}
	link->number = number;
	link->recorded = recorded;
}

enum outcome prove_ledger(struct proving *proving)
{
	struct fault failed;
	fault_clear(&failed);
	int64_t all = ledger_last(proving->store);
	sqlite3_stmt *stmt = statement_ready(proving->store, &whole_ledger, &failed);
	enum outcome outcome = OUTCOME_STORE;
	struct link link = {.number = 0, .recorded = INT64_MIN};
	while (stmt != NULL && statement_row(proving->store, stmt, &outcome, &failed)) {
		look_at_entry(proving, stmt, &link);
		if (proving->stays != NULL) {
			follow_entry(proving, stmt);
		}
		if (++proving->proof->entries % ENTRIES_A_TELLING == 0) {
			watch_tell(proving->watch, "ledger", proving->proof->entries, all);
		}
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE ? outcome : damage_unless_fault(proving, "ledger", &failed);
}

/* ---------------------------------------------------------------- all of it */

static enum outcome prove_all(struct proving *proving)
{
	enum outcome outcome = prove_file(proving);
	if (outcome == OUTCOME_DONE) {
		outcome = follow_begin(proving);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = prove_ledger(proving);
	}
	/* What is wrong with a torn file would be told a second time by each of its records. */
	if (outcome == OUTCOME_DONE && !proving->torn) {
		outcome = prove_records(proving);
	}
	/* An older copy has no promises, or no runs. */
	bool new = !migration_is_due(proving->store);
	if (outcome == OUTCOME_DONE && !proving->torn && new) {
		outcome = prove_promises(proving);
	}
	if (outcome == OUTCOME_DONE && !proving->torn && new) {
		outcome = prove_runs(proving);
	}
	return outcome == OUTCOME_DONE && !proving->torn && new ? prove_wear(proving) : outcome;
}

enum outcome store_verify(struct store *store, struct arena *arena, const struct watch *watch,
                          struct proof *out, struct fault *fault)
{
	struct proving proving = {
		.store = store,
		.arena = arena,
		.scratch = arena_new(),
		.watch = watch,
		.proof = out,
		.fault = fault,
	};
	*out = (struct proof){.pages = 0};
	/* Each index is held against its table, all over the file: more pages at hand, less to read. */
	store_script(store, "PRAGMA cache_size = -16000", NULL);
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = prove_all(&proving);
		store_snapshot_end(store);
	}
	store_script(store, "PRAGMA cache_size = -2000", NULL);
	arena_free(proving.scratch);
	return outcome == OUTCOME_DONE && out->damage_count > 0 ? OUTCOME_NO : outcome;
}
