/* One transaction at a time, points within it to come back to, and reading of one moment. */
#include <assert.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "wear.h"

/*
 * One line of /proc/locks: `1: POSIX  ADVISORY  WRITE 1234 08:02:131 120 120`. The process, where
 * it holds the byte that SQLite's writer locks in the -shm file (120: unixShmBase in its
 * os_unix.c); else 0.
 */
static long holder_in_line(char *line, unsigned long inode)
{
	enum { LOCK_SORT = 1, LOCK_KIND = 3, LOCK_PROCESS, LOCK_FILE, LOCK_START, LOCK_FIELDS };
	char *fields[LOCK_FIELDS] = {NULL};
	char *state = NULL;
	char *field = strtok_r(line, " \t\n", &state);
	for (size_t i = 0; i < LOCK_FIELDS && field != NULL; i++) {
		fields[i] = field;
		field = strtok_r(NULL, " \t\n", &state);
	}
	const char *colon = fields[LOCK_FILE] != NULL ? strrchr(fields[LOCK_FILE], ':') : NULL;
	if (fields[LOCK_START] == NULL || colon == NULL || strcmp(fields[LOCK_SORT], "POSIX") != 0 ||
	    strcmp(fields[LOCK_KIND], "WRITE") != 0 || strcmp(fields[LOCK_START], "120") != 0 ||
	    strtoul(colon + 1, NULL, 10) != inode) {
		return 0;
	}
	return strtol(fields[LOCK_PROCESS], NULL, 10);
}

/*
 * The process that holds the writer's lock of a shop, by the system's table of locks; 0 where it is
 * not seen.
 */
static long writer_of(const char *path)
{
	char shm[PATH_MAX];
	struct stat status;
	snprintf(shm, sizeof shm, "%s-shm", path);
	FILE *locks = stat(shm, &status) == 0 ? fopen("/proc/locks", "re") : NULL;
	if (locks == NULL) {
		return 0;
	}
	char line[256];
	long holder = 0;
	while (holder == 0 && fgets(line, sizeof line, locks) != NULL) {
		holder = holder_in_line(line, (unsigned long)status.st_ino);
	}
	fclose(locks);
	return holder;
}

STATEMENT(begin) = {"begin", "BEGIN IMMEDIATE", false};
STATEMENT(begin_reading) = {"begin reading", "BEGIN DEFERRED", false};
STATEMENT(commit) = {"commit", "COMMIT", false};
STATEMENT(rollback) = {"rollback", "ROLLBACK", false};

/* What is written into a file that has lost its name is lost. */
static enum outcome refuse_moved(struct store *store, struct fault *fault)
{
	if (!store_is_moved(store)) {
		return OUTCOME_DONE;
	}
	store_rollback(store);
	fault_set(fault, OUTCOME_STORE, "shop file was moved or removed meanwhile: %s", store->path);
	fault_hint(fault, "See where it is, then type it again.");
	return OUTCOME_STORE;
}

enum outcome store_begin(struct store *store, const char *where, struct fault *fault)
{
	if (store->began != NULL) {
		return fault_set(fault, OUTCOME_STORE, "change is under way already, begun by: %s",
		                 store->began);
	}
	sqlite3_stmt *stmt = statement_ready(store, &begin, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	/* Who has waited for the turn in vain waits for the lock only a little. */
	bool patient = turn_take(store, TURN_MOST_S);
	sqlite3_busy_handler(store->db, store_wait_for_writer, patient ? NULL : store);
	int code = sqlite3_step(stmt);
	sqlite3_reset(stmt);
	sqlite3_busy_handler(store->db, store_wait_for_writer, NULL);
	if (code == SQLITE_DONE) {
		store->began = where;
		store->savepoints = 0;
		store->ledger_end.known = false;
		store->ledger_seen = false;
		return refuse_moved(store, fault);
	}
	long holder = (code & 0xff) == SQLITE_BUSY ? writer_of(store->path) : 0;
	turn_give(store);
	if (holder == 0) {
		return store_fault(store, "beginning a change", fault);
	}
	fault_set(fault, OUTCOME_STORE, "shop file is being written by process %ld: %s", holder,
	          store->path);
	fault_hint(fault, "Try again when that console is done.");
	return OUTCOME_STORE;
}

/* Partial index: the first promise that holds ends the look. */
STATEMENT(anything_promised) = {"is anything promised",
                                "SELECT EXISTS (SELECT 1 FROM promise WHERE ended IS NULL)", true};

/* Has this transaction written entries while promises hold, which somebody wants to hear of? */
static enum outcome is_watched(struct store *store, bool *out, struct fault *fault)
{
	bool wrote = false;
	*out = false;
	enum outcome outcome = store->watch != NULL ? ledger_wrote(store, &wrote, fault) : OUTCOME_DONE;
	if (outcome != OUTCOME_DONE || !wrote) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, &anything_promised, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	*out = statement_row(store, stmt, &outcome, fault) && sqlite3_column_int64(stmt, 0) != 0;
	statement_done(stmt);
	return outcome;
}

static enum outcome call_watch(struct store *store, struct fault *fault)
{
	bool watched;
	enum outcome outcome = is_watched(store, &watched, fault);
	return outcome == OUTCOME_DONE && watched
	           ? store->watch(store, store->ledger_before, store->ledger_now, store->watch_context,
	                          fault)
	           : outcome;
}

void store_watch_commits(struct store *store, store_commit_watch watch, void *context)
{
	store->watch = watch;
	store->watch_context = context;
}

enum outcome store_commit(struct store *store, struct fault *fault)
{
	/* Trends first: who judges promises asks them. While a file is brought up, it does it itself.
	 */
	enum outcome outcome = store->keeps_wear ? wear_settle(store, fault) : OUTCOME_DONE;
	if (outcome == OUTCOME_DONE) {
		outcome = call_watch(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, &commit, fault);
	outcome = stmt != NULL ? statement_run(store, stmt, "committing", fault) : OUTCOME_STORE;
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
		return outcome;
	}
	store->began = NULL;
	turn_give(store);
	return OUTCOME_DONE;
}

void store_rollback(struct store *store)
{
	if (store->began == NULL) {
		return;
	}
	store->began = NULL;
	store->ledger_end.known = false;
	store->ledger_seen = false;
	/* A failed statement may have rolled back already: then there is nothing left to do. */
	if (!sqlite3_get_autocommit(store->db)) {
		sqlite3_stmt *stmt = statement_ready(store, &rollback, NULL);
		if (stmt != NULL) {
			statement_run(store, stmt, "rolling back", NULL);
		}
	}
	turn_give(store);
}

bool store_in_transaction(const struct store *store)
{
	return store->began != NULL;
}

enum outcome store_snapshot_begin(struct store *store, struct fault *fault)
{
	if (!sqlite3_get_autocommit(store->db)) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &begin_reading, fault);
	return stmt != NULL ? statement_run(store, stmt, "beginning to read", fault) : OUTCOME_STORE;
}

void store_snapshot_end(struct store *store)
{
	if (store->began == NULL && !sqlite3_get_autocommit(store->db)) {
		sqlite3_stmt *stmt = statement_ready(store, &commit, NULL);
		if (stmt != NULL) {
			statement_run(store, stmt, "ending to read", NULL);
		}
	}
}

/* ---------------------------------------------------------------- points to come back to */

/* One name is enough: SQLite means the innermost of it. */
STATEMENT(savepoint) = {"savepoint", "SAVEPOINT point", false};
STATEMENT(savepoint_back) = {"back to a savepoint", "ROLLBACK TO point", false};
STATEMENT(savepoint_release) = {"savepoint closed", "RELEASE point", false};

static enum outcome run_by_name(struct store *store, const struct statement *statement,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	return stmt != NULL ? statement_run(store, stmt, statement->name, fault) : OUTCOME_STORE;
}

enum outcome store_savepoint(struct store *store, struct fault *fault)
{
	assert(store->began != NULL);
	enum outcome outcome = run_by_name(store, &savepoint, fault);
	store->savepoints += outcome == OUTCOME_DONE ? 1 : 0;
	return outcome;
}

enum outcome store_savepoint_keep(struct store *store, struct fault *fault)
{
	assert(store->savepoints > 0);
	store->savepoints--;
	return run_by_name(store, &savepoint_release, fault);
}

enum outcome store_savepoint_back(struct store *store, struct fault *fault)
{
	assert(store->savepoints > 0);
	/* Where a failed statement has rolled all of it back, that point is gone: the caller ends. */
	enum outcome outcome = run_by_name(store, &savepoint_back, fault);
	store->ledger_end.known = false; /* entries written since are gone: it is read anew */
	if (outcome != OUTCOME_DONE) {
		store->savepoints--;
		return outcome;
	}
	bool wrote;
	outcome = ledger_wrote(store, &wrote, fault);
	enum outcome closed = store_savepoint_keep(store, fault);
	return outcome != OUTCOME_DONE ? outcome : closed;
}
