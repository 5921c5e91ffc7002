/* The ledger: append-only, each entry carrying the hash of the one before. */
#include <inttypes.h>
#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "internal.h"

STATEMENT(last_entry) =
	{"last ledger entry",
     "SELECT number, recorded, hash FROM ledger WHERE number = (SELECT max(number) FROM ledger)",
     false};

STATEMENT(insert_entry) = {
	"ledger entry",
	"INSERT INTO ledger (number, word, subject_kind, subject, operator, login, terminal, from_place,"
	" to_place, job, happened, recorded, detail, hash)"
	" VALUES (:number, :word, :subject_kind, :subject, :operator, :login, :terminal, :from_place,"
	" :to_place, :job, :happened, :recorded, :detail, :hash)",
	false};

STATEMENT(entries_of) = {"ledger of a record",
                         "SELECT " ENTRY_COLUMNS ENTRY_SOURCES
                         " WHERE l.subject_kind = :kind AND l.subject = :subject"
                         " ORDER BY l.happened DESC, l.number DESC LIMIT :most",
                         false};
/* With the jobs that it ran for. */
STATEMENT(entries_of_tool) = {"ledger of a tool",
                              "SELECT " ENTRY_COLUMNS ENTRY_SOURCES
                              " WHERE l.subject_kind = :kind AND l.subject = :subject"
                              " UNION ALL SELECT " ENTRY_COLUMNS WEB_ENTRY_SOURCES
                              " WHERE w.tool = :subject ORDER BY 2 DESC, 1 DESC LIMIT :most",
                              false};

static enum outcome read_end(struct store *store, struct fault *fault)
{
	struct ledger_end *end = &store->ledger_end;
	if (end->known) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &last_entry, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	memset(end, 0, sizeof *end);
	if (statement_row(store, stmt, &outcome, fault)) {
		end->number = sqlite3_column_int64(stmt, 0);
		end->recorded = sqlite3_column_int64(stmt, 1);
		if (sqlite3_column_bytes(stmt, 2) == (int)sizeof end->hash) {
			memcpy(end->hash, sqlite3_column_blob(stmt, 2), sizeof end->hash);
		}
	}
	statement_done(stmt);
	end->known = outcome == OUTCOME_DONE;
	if (end->known && !store->ledger_seen) {
		store->ledger_seen = true;
		store->ledger_before = end->number;
	}
	return outcome;
}

enum outcome ledger_wrote(struct store *store, bool *out, struct fault *fault)
{
	/* Going back to a savepoint may have taken back what was written. */
	enum outcome outcome = store->ledger_seen ? read_end(store, fault) : OUTCOME_DONE;
	*out = store->ledger_seen && store->ledger_end.number > store->ledger_before;
	return outcome;
}

static int64_t seconds_of(struct moment moment)
{
	struct value value = {.type = VALUE_MOMENT, .known = true, .moment = moment};
	return value_to_stored(&value);
}

/* A number in decimal, in the room before `end`; returns where it begins. */
static char *digits_before(char *end, uint64_t number)
{
	do {
		*--end = (char)('0' + number % 10);
		number /= 10;
	} while (number > 0);
	return end;
}

/*
 * A field of the byte form: `length:bytes,`, and `-` for what is not there, so that no two entries
 * look alike.
 */
static void hash_bytes(crypto_hash_sha256_state *state, const char *text, size_t length)
{
	char head[24];
	char *end = head + sizeof head;
	if (text == NULL) {
		crypto_hash_sha256_update(state, (const unsigned char *)"-", 1);
		return;
	}
	*--end = ':';
	const char *begin = digits_before(end, length);
	crypto_hash_sha256_update(state, (const unsigned char *)begin,
	                          (unsigned long long)(head + sizeof head - begin));
	crypto_hash_sha256_update(state, (const unsigned char *)text, length);
	crypto_hash_sha256_update(state, (const unsigned char *)",", 1);
}

static void hash_words(crypto_hash_sha256_state *state, const char *text)
{
	hash_bytes(state, text, text != NULL ? strlen(text) : 0);
}

static void hash_number(crypto_hash_sha256_state *state, int64_t number)
{
	char digits[24];
	char *end = digits + sizeof digits;
	uint64_t size = number < 0 ? 0 - (uint64_t)number : (uint64_t)number;
	char *begin = digits_before(end, size);
	if (number < 0) {
		*--begin = '-';
	}
	hash_bytes(state, begin, (size_t)(end - begin));
}

/*
 * The byte form is documented in DEVELOPERS.md, "The ledger's hash": a change there, here or in
 * ledger_row_agrees() breaks every chain.
 */
static void hash_entry(struct ledger_end *end, const struct entry *entry, const struct actor *actor)
{
	crypto_hash_sha256_state state;
	crypto_hash_sha256_init(&state);
	crypto_hash_sha256_update(&state, end->hash, sizeof end->hash);
	hash_number(&state, end->number);
	hash_words(&state, entry->word);
	hash_words(&state, entry->subject_kind);
	hash_number(&state, entry->subject);
	hash_number(&state, actor->operator_id);
	hash_words(&state, actor->login);
	hash_words(&state, actor->terminal);
	hash_number(&state, entry->from_place);
	hash_number(&state, entry->to_place);
	hash_number(&state, entry->job);
	hash_number(&state, seconds_of(entry->happened));
	hash_number(&state, end->recorded);
	hash_words(&state, entry->detail);
	crypto_hash_sha256_final(&state, end->hash);
}

bool ledger_row_agrees(sqlite3_stmt *stmt, unsigned char before[LEDGER_HASH_BYTES])
{
	unsigned char hash[LEDGER_HASH_BYTES];
	crypto_hash_sha256_state state;
	crypto_hash_sha256_init(&state);
	crypto_hash_sha256_update(&state, before, LEDGER_HASH_BYTES);
	for (int column = LEDGER_NUMBER; column < LEDGER_HASH; column++) {
		bool words = column == LEDGER_WORD || column == LEDGER_SUBJECT_KIND ||
		             column == LEDGER_LOGIN || column == LEDGER_TERMINAL || column == LEDGER_DETAIL;
		if (words) {
			const char *text = (const char *)sqlite3_column_text(stmt, column);
			hash_bytes(&state, text, (size_t)sqlite3_column_bytes(stmt, column));
		} else {
			/* An id that is not there is 0. */
			hash_number(&state, sqlite3_column_int64(stmt, column));
		}
	}
	crypto_hash_sha256_final(&state, hash);
	const void *carried = sqlite3_column_blob(stmt, LEDGER_HASH);
	if (carried == NULL || sqlite3_column_bytes(stmt, LEDGER_HASH) != LEDGER_HASH_BYTES) {
		return false;
	}
	memcpy(before, carried, LEDGER_HASH_BYTES);
	return memcmp(hash, carried, LEDGER_HASH_BYTES) == 0;
}

int64_t ledger_last(struct store *store)
{
	sqlite3_stmt *stmt = statement_ready(store, &last_entry, NULL);
	enum outcome outcome = OUTCOME_STORE;
	int64_t number = 0;
	if (stmt != NULL && statement_row(store, stmt, &outcome, NULL)) {
		number = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return number;
}

int64_t store_entry_last(const struct store *store)
{
	bool wrote = store->ledger_end.known && store->ledger_end.number > store->ledger_before;
	return wrote ? store->ledger_end.number : 0;
}

enum outcome ledger_write(struct store *store, const struct entry *entry, const struct actor *actor,
                          struct fault *fault)
{
	enum outcome outcome = read_end(store, fault);
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE ? statement_ready(store, &insert_entry, fault) : NULL;
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	struct ledger_end *end = &store->ledger_end;
	int64_t now = seconds_of(actor->now);
	end->number++;
	end->recorded = now > end->recorded ? now : end->recorded;
	store->ledger_now = actor->now;
	hash_entry(end, entry, actor);
	bind_number(stmt, ":number", end->number);
	bind_words(stmt, ":word", entry->word);
	bind_words(stmt, ":subject_kind", entry->subject_kind);
	bind_number(stmt, ":subject", entry->subject);
	bind_id(stmt, ":operator", actor->operator_id);
	bind_words(stmt, ":login", actor->login);
	bind_words(stmt, ":terminal", actor->terminal);
	bind_id(stmt, ":from_place", entry->from_place);
	bind_id(stmt, ":to_place", entry->to_place);
	bind_id(stmt, ":job", entry->job);
	bind_moment(stmt, ":happened", entry->happened);
	bind_number(stmt, ":recorded", end->recorded);
	bind_words(stmt, ":detail", entry->detail);
	sqlite3_bind_blob(stmt, sqlite3_bind_parameter_index(stmt, ":hash"), end->hash,
	                  (int)sizeof end->hash, SQLITE_TRANSIENT);
	outcome = statement_run(store, stmt, "writing the ledger", fault);
	if (outcome != OUTCOME_DONE) {
		end->known = false;
	}
	return outcome;
}

struct ledger_entry ledger_entry_read(struct arena *arena, sqlite3_stmt *stmt)
{
	return (struct ledger_entry){
		.number = sqlite3_column_int64(stmt, 0),
		.happened = column_seconds(stmt, 1).value,
		.recorded = column_seconds(stmt, 2).value,
		.word = column_words(arena, stmt, 3),
		.operator_name = column_words(arena, stmt, 4),
		.login = column_words(arena, stmt, 5),
		.terminal = column_words(arena, stmt, 6),
		.from_code = column_words(arena, stmt, 7),
		.to_code = column_words(arena, stmt, 8),
		.job = column_words(arena, stmt, 9),
		.detail = column_words(arena, stmt, 10),
	};
}

enum outcome store_ledger_of(struct store *store, struct arena *arena, const struct kind *kind,
                             int64_t id, size_t most, struct ledger_entry **out, size_t *count,
                             struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, kind->tool ? &entries_of_tool : &entries_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	*out = arena_take(arena, most, sizeof **out);
	bind_words(stmt, ":kind", kind->name);
	bind_number(stmt, ":subject", id);
	bind_number(stmt, ":most", (int64_t)most);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		(*out)[(*count)++] = ledger_entry_read(arena, stmt);
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}
