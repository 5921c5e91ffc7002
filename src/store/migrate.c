/* Bringing a shop's file from an older schema to the one that this program knows. */
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "internal.h"
#include "migrations.h"
#include "wear.h"

int64_t store_pragma(struct store *store, const char *sql)
{
	sqlite3_stmt *stmt = NULL;
	int64_t number = -1;
	if (sqlite3_prepare_v2(store->db, sql, -1, &stmt, NULL) == SQLITE_OK &&
	    sqlite3_step(stmt) == SQLITE_ROW) {
		number = sqlite3_column_int64(stmt, 0);
	}
	sqlite3_finalize(stmt);
	return number;
}

enum outcome store_script(struct store *store, const char *sql, struct fault *fault)
{
	if (sqlite3_exec(store->db, sql, NULL, NULL, NULL) != SQLITE_OK) {
		return store_fault(store, "opening", fault);
	}
	return OUTCOME_DONE;
}

/*
 * Keeps a copy of an older file beside it, before it is changed: by another name until it is whole.
 * The writer's lock is held, so that of several consoles only one does.
 */
static enum outcome keep_copy(struct store *store, int version, struct fault *fault)
{
	char copy[PATH_MAX], part[PATH_MAX + 8];
	sqlite3 *source = NULL, *target = NULL;
	snprintf(copy, sizeof copy, "%s.before-%04d", store->path, version);
	snprintf(part, sizeof part, "%s.part", copy);
	unlink(part);
	sqlite3_backup *backup = NULL;
	/* A connection that is about to write may not be copied from: another one reads. */
	if (sqlite3_open_v2(store->path, &source, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK &&
	    sqlite3_open(part, &target) == SQLITE_OK) {
		backup = sqlite3_backup_init(target, "main", source, "main");
	}
	bool whole = backup != NULL && sqlite3_backup_step(backup, -1) == SQLITE_DONE;
	sqlite3_backup_finish(backup);
	sqlite3_close(target);
	sqlite3_close(source);
	if (whole && rename(part, copy) == 0) {
		return OUTCOME_DONE;
	}
	unlink(part);
	fault_set(fault, OUTCOME_STORE, "copy of the older shop file cannot be kept: %s", copy);
	fault_hint(fault, "Make room and give permission in that folder, then type it again.");
	return OUTCOME_STORE;
}

static enum outcome apply_steps(struct store *store, const struct migration *steps, size_t count,
                                int64_t version, bool fixed_clock, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	char pragma[64];
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		if (steps[i].number > version) {
			outcome = store_script(store, steps[i].sql, fault);
		}
	}
	if (outcome == OUTCOME_DONE && version == 0 && fixed_clock) {
		outcome =
			store_script(store, "INSERT INTO shop (key, value) VALUES ('fixed_clock', '1')", fault);
	}
	if (outcome == OUTCOME_DONE) {
		snprintf(pragma, sizeof pragma, "PRAGMA user_version = %d", steps[count - 1].number);
		outcome = store_script(store, pragma, fault);
	}
	if (outcome == OUTCOME_DONE) {
		snprintf(pragma, sizeof pragma, "PRAGMA application_id = %d", APPLICATION_ID);
		outcome = store_script(store, pragma, fault);
	}
	return outcome;
}

static enum outcome bring_up(struct store *store, const struct migration *steps, size_t count,
                             bool fixed_clock, bool keep, struct fault *fault)
{
	int newest = steps[count - 1].number;
	enum outcome outcome = store_begin(store, "store_migrate", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	/* Another console may have done it while this one waited. */
	int64_t version = store_pragma(store, "PRAGMA user_version");
	if (keep && version > 0 && version < newest) {
		outcome = keep_copy(store, newest, fault);
	}
	if (outcome == OUTCOME_DONE && version < newest) {
		outcome = apply_steps(store, steps, count, version, fixed_clock, fault);
	}
	/* What an older program read tells of wear too. */
	if (outcome == OUTCOME_DONE && steps == migrations) {
		outcome = wear_settle(store, fault);
	}
	if (outcome == OUTCOME_DONE) {
		return store_commit(store, fault);
	}
	store_rollback(store);
	return outcome;
}

#define WRITE_AHEAD_TRIES 2000
#define WRITE_AHEAD_WAIT_US 2000

/*
 * Consoles that begin a shop at once all turn this on, and SQLite refuses one at once, without
 * waiting, where it could wait for ever: then it looks again, until another has done it.
 */
static enum outcome begin_write_ahead(struct store *store, struct fault *fault)
{
	static const char sql[] = "PRAGMA journal_mode = WAL";
	unsigned int jitter = (unsigned int)getpid();
	for (int tries = 0; tries < WRITE_AHEAD_TRIES; tries++) {
		int code = sqlite3_exec(store->db, sql, NULL, NULL, NULL) & 0xff;
		if (code != SQLITE_BUSY && code != SQLITE_LOCKED) {
			break;
		}
		usleep(WRITE_AHEAD_WAIT_US + (unsigned int)rand_r(&jitter) % WRITE_AHEAD_WAIT_US);
	}
	return store_script(store, sql, fault);
}

enum outcome store_migrate(struct store *store, const struct migration *steps, size_t count,
                           bool fixed_clock, struct fault *fault)
{
	int64_t version = store_pragma(store, "PRAGMA user_version");
	int newest = steps[count - 1].number;
	if (version > newest) {
		fault_set(fault, OUTCOME_STORE,
		          "shop file is of a newer toothrack (schema %d, this one knows %d): %s",
		          (int)version, newest, store->path);
		fault_hint(fault, "Use the newer toothrack.");
		return OUTCOME_STORE;
	}
	if (version == newest) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = version > 0 ? OUTCOME_DONE : begin_write_ahead(store, fault);
	return outcome == OUTCOME_DONE ? bring_up(store, steps, count, fixed_clock, true, fault)
	                               : outcome;
}

int migration_newest(void)
{
	return migrations[migration_count - 1].number;
}

enum outcome store_bring_up(struct store *store, struct fault *fault)
{
	return bring_up(store, migrations, migration_count, false, false, fault);
}

bool migration_is_due(struct store *store)
{
	int64_t version = store_pragma(store, "PRAGMA user_version");
	return version > 0 && version < migrations[migration_count - 1].number;
}
