/* Statements: prepared once a store, bound by name, never outliving the function that steps them.
 */
#include <assert.h>
#include <errno.h>
#include <string.h>

#include "internal.h"

/* SQLite tells of a limit on the size of files, and of a quota, as of a disk that failed. */
static bool is_full(struct store *store)
{
	int reason = sqlite3_system_errno(store->db);
	return reason == ENOSPC || reason == EFBIG || reason == EDQUOT;
}

enum outcome store_refuse_permission(const char *path, struct fault *fault)
{
	fault_set(fault, OUTCOME_STORE, "shop file may not be opened or written: %s", path);
	fault_hint(fault, "Ask its owner for permission on it and its folder, or name another with "
	                  "--db FILE.");
	return OUTCOME_STORE;
}

enum outcome store_fault(struct store *store, const char *doing, struct fault *fault)
{
	int code = sqlite3_extended_errcode(store->db);
	const char *path = store->path != NULL ? store->path : "shop file";
	code &= 0xff;
	if (code == SQLITE_IOERR && is_full(store)) {
		code = SQLITE_FULL;
	}
	switch (code) {
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
		fault_set(fault, OUTCOME_STORE, "shop file is being written by another console: %s", path);
		fault_hint(fault, "Try again in a moment.");
		return OUTCOME_STORE;
	case SQLITE_FULL:
		fault_set(fault, OUTCOME_STORE, "disk is full, nothing was changed: %s", path);
		fault_hint(fault, "Free some room on the disk, then type it again.");
		return OUTCOME_STORE;
	case SQLITE_READONLY:
	case SQLITE_PERM:
	case SQLITE_CANTOPEN:
	case SQLITE_AUTH:
		return store_refuse_permission(path, fault);
	case SQLITE_CORRUPT:
		fault_set(fault, OUTCOME_STORE, "shop file is damaged: %s", path);
		fault_hint(fault,
		           "Move it away with what lies beside it, then type restore FILE with a copy.");
		return OUTCOME_STORE;
	case SQLITE_NOTADB:
		fault_set(fault, OUTCOME_STORE, "file is not a shop of toothrack: %s", path);
		fault_hint(fault, "Name a shop file with --db FILE.");
		return OUTCOME_STORE;
	case SQLITE_IOERR:
		fault_set(fault, OUTCOME_STORE, "disk failed or is full while %s: %s", doing, path);
		fault_hint(fault, "See that it has room, then type it again.");
		return OUTCOME_STORE;
	default:
		return fault_set(fault, OUTCOME_STORE, "store failed while %s: %s", doing,
		                 sqlite3_errmsg(store->db));
	}
}

static size_t slot_of(const struct statement *statement)
{
	uintptr_t address = (uintptr_t)statement;
	return (size_t)((address >> 3) ^ (address >> 11)) & (PREPARED_MOST - 1);
}

struct prepared *statement_entry(struct store *store, const struct statement *statement,
                                 struct fault *fault)
{
	size_t slot = slot_of(statement);
	while (store->prepared[slot].statement != NULL &&
	       store->prepared[slot].statement != statement) {
		slot = (slot + 1) & (PREPARED_MOST - 1);
	}
	struct prepared *entry = &store->prepared[slot];
	if (entry->statement == NULL) {
		if (sqlite3_prepare_v3(store->db, statement->sql, -1, SQLITE_PREPARE_PERSISTENT,
		                       &entry->stmt, NULL) != SQLITE_OK) {
			store_fault(store, statement->name, fault);
			return NULL;
		}
		entry->statement = statement;
	}
	return entry;
}

sqlite3_stmt *statement_ready(struct store *store, const struct statement *statement,
                              struct fault *fault)
{
	struct prepared *entry = statement_entry(store, statement, fault);
	if (entry == NULL) {
		return NULL;
	}
	sqlite3_reset(entry->stmt);
	sqlite3_clear_bindings(entry->stmt);
	return entry->stmt;
}

void statement_done(sqlite3_stmt *stmt)
{
	if (stmt != NULL) {
		sqlite3_reset(stmt);
	}
}

enum outcome statement_run(struct store *store, sqlite3_stmt *stmt, const char *doing,
                           struct fault *fault)
{
	int code = sqlite3_step(stmt);
	if (code != SQLITE_DONE && code != SQLITE_ROW) {
		enum outcome outcome = store_fault(store, doing, fault);
		sqlite3_reset(stmt);
		return outcome;
	}
	sqlite3_reset(stmt);
	return OUTCOME_DONE;
}

bool statement_row(struct store *store, sqlite3_stmt *stmt, enum outcome *outcome,
                   struct fault *fault)
{
	int code = sqlite3_step(stmt);
	*outcome = OUTCOME_DONE;
	if (code == SQLITE_ROW) {
		return true;
	}
	if (code != SQLITE_DONE) {
		*outcome = store_fault(store, "reading", fault);
	}
	sqlite3_reset(stmt);
	return false;
}

static int parameter(sqlite3_stmt *stmt, const char *name)
{
	int index = sqlite3_bind_parameter_index(stmt, name);
	assert(index > 0);
	return index;
}

void bind_number(sqlite3_stmt *stmt, const char *name, int64_t number)
{
	sqlite3_bind_int64(stmt, parameter(stmt, name), number);
}

void bind_id(sqlite3_stmt *stmt, const char *name, int64_t id)
{
	if (id != 0) {
		sqlite3_bind_int64(stmt, parameter(stmt, name), id);
	} else {
		sqlite3_bind_null(stmt, parameter(stmt, name));
	}
}

void bind_real(sqlite3_stmt *stmt, const char *name, double number)
{
	sqlite3_bind_double(stmt, parameter(stmt, name), number);
}

void bind_moment(sqlite3_stmt *stmt, const char *name, struct moment moment)
{
	struct value value = {.type = VALUE_MOMENT, .known = true, .moment = moment};
	bind_number(stmt, name, value_to_stored(&value));
}

void bind_words(sqlite3_stmt *stmt, const char *name, const char *text)
{
	sqlite3_bind_text(stmt, parameter(stmt, name), text, -1, SQLITE_STATIC);
}
