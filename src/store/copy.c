/* A copy of a shop: all its pages as they stand at one moment, in one file, whole or not at all. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "copy.h"

#define PAGES_A_STEP 256 /* a megabyte: the watch is told after each */
#define MODE_OF_COPY 0660

void watch_tell(const struct watch *watch, const char *doing, int64_t done, int64_t all)
{
	if (watch != NULL && watch->tell != NULL) {
		watch->tell(doing, done, all, watch->context);
	}
}

/* ---------------------------------------------------------------- the file while it is made */

static enum outcome refuse_there(const char *name, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "file is there already: %s", name);
	fault_hint(fault, "Name another; a copy is never written over.");
	return OUTCOME_BAD;
}

static enum outcome refuse_making(const struct copy *copy, int reason, struct fault *fault)
{
	bool full = reason == ENOSPC || reason == EDQUOT || reason == EFBIG;
	bool request = reason == ENOENT || reason == ENOTDIR || reason == ENAMETOOLONG;
	enum outcome outcome = request ? OUTCOME_BAD : OUTCOME_STORE;
	if (full) {
		fault_set(fault, outcome, "disk is full, %s: %s", copy->undone, copy->name);
		fault_hint(fault, "Free some room on the disk, or use another.");
		return outcome;
	}
	fault_set(fault, outcome, "file cannot be made: %s: %s", copy->name, strerror(reason));
	fault_hint(fault, request ? "Name a file in a folder that is there."
	                          : "Name a file where you may write.");
	return outcome;
}

/* What SQLite may keep beside a file that it writes. */
static void remove_beside(const char *part)
{
	static const char *const tails[] = {"-journal", "-wal", "-shm"};
	char path[PATH_MAX];
	for (size_t i = 0; i < COUNT_OF(tails); i++) {
		snprintf(path, sizeof path, "%s%s", part, tails[i]);
		unlink(path);
	}
}

/*
 * The part, locked, so that two who make the same copy do not write into one file; a lock ends with
 * its process, so that what a killed one left is taken over. -1 with errno, EWOULDBLOCK where
 * another is at it: also where that one gave the file its name between opening and locking.
 */
static int open_part(const char *part)
{
	struct stat mine, there;
	mode_t mask = umask(0007);
	int file = open(part, O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, MODE_OF_COPY);
	umask(mask);
	if (file < 0) {
		return -1;
	}
	int reason = 0;
	bool others = flock(file, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
	if (others || fstat(file, &mine) != 0 || stat(part, &there) != 0 ||
	    mine.st_ino != there.st_ino) {
		reason = EWOULDBLOCK;
	} else if (!S_ISREG(mine.st_mode)) {
		reason = EEXIST;
	} else if (ftruncate(file, 0) != 0 || fchmod(file, MODE_OF_COPY) != 0) {
		reason = errno;
	}
	if (reason != 0) {
		close(file);
		errno = reason;
		return -1;
	}
	return file;
}

enum outcome copy_name_free(const char *name, struct fault *fault)
{
	struct stat status;
	if (strlen(name) >= PATH_MAX - 16) {
		return fault_set(fault, OUTCOME_BAD, "path of the copy is too long");
	}
	return lstat(name, &status) == 0 ? refuse_there(name, fault) : OUTCOME_DONE;
}

enum outcome copy_begin(struct copy *copy, struct arena *arena, const char *name,
                        const char *undone, struct fault *fault)
{
	*copy = COPY_NONE;
	copy->name = arena_copy(arena, name);
	copy->part = arena_format(arena, "%s.part", name);
	copy->undone = undone;
	copy->file = open_part(copy->part);
	if (copy->file < 0 && errno == EWOULDBLOCK) {
		fault_set(fault, OUTCOME_STORE, "file is being made by another console: %s", name);
		fault_hint(fault, "Wait for that one, or name another file.");
		return OUTCOME_STORE;
	}
	if (copy->file < 0) {
		return refuse_making(copy, errno, fault);
	}
	remove_beside(copy->part);
	copy->store = store_new(name);
	return store_open_file(copy->store, copy->part, SQLITE_OPEN_READWRITE, fault);
}

void copy_discard(struct copy *copy)
{
	store_close(copy->store);
	copy->store = NULL;
	if (copy->file >= 0) {
		unlink(copy->part);
		remove_beside(copy->part);
		close(copy->file);
		copy->file = -1;
	}
}

/* ---------------------------------------------------------------- its pages */

/* Why SQLite did not copy: what failed may be the copy's side or the shop's. */
static enum outcome refuse_pages(const struct copy *copy, struct store *source, int code,
                                 struct fault *fault)
{
	switch (code & 0xff) {
	case SQLITE_FULL:
		return refuse_making(copy, ENOSPC, fault);
	case SQLITE_IOERR:
		if (code == SQLITE_IOERR_WRITE || code == SQLITE_IOERR_TRUNCATE ||
		    code == SQLITE_IOERR_FSYNC) {
			/* Such as a limit on the size of a file. */
			return refuse_making(copy, EFBIG, fault);
		}
		return fault_set(fault, OUTCOME_STORE, "disk failed while copying, %s: %s", copy->undone,
		                 source->path);
	case SQLITE_CORRUPT:
	case SQLITE_NOTADB:
		fault_set(fault, OUTCOME_STORE, "file is damaged, %s: %s", copy->undone, source->path);
		fault_hint(fault, "Type toothrack --db %s verify for what is wrong.", source->path);
		return OUTCOME_STORE;
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
		fault_set(fault, OUTCOME_STORE, "shop file is being written by another console: %s",
		          source->path);
		fault_hint(fault, "Try again in a moment.");
		return OUTCOME_STORE;
	default:
		return fault_set(fault, OUTCOME_STORE, "copying failed, %s: %s: %s", copy->undone,
		                 source->path, sqlite3_errstr(code));
	}
}

/*
 * In one reading, so that nothing that is written meanwhile has it begin again; a writer of a shop
 * does not wait for readers.
 */
static int copy_steps(sqlite3 *target, sqlite3 *source, const char *doing,
                      const struct watch *watch)
{
	sqlite3_backup *backup = sqlite3_backup_init(target, "main", source, "main");
	if (backup == NULL) {
		return sqlite3_extended_errcode(target);
	}
	int code = SQLITE_OK;
	while (code == SQLITE_OK) {
		code = sqlite3_backup_step(backup, PAGES_A_STEP);
		int64_t all = sqlite3_backup_pagecount(backup);
		watch_tell(watch, doing, all - sqlite3_backup_remaining(backup), all);
	}
	int finished = sqlite3_backup_finish(backup);
	return code == SQLITE_DONE ? finished : code;
}

static int run_plain(sqlite3 *db, const char *sql)
{
	return sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK ? SQLITE_OK
	                                                            : sqlite3_extended_errcode(db);
}

enum outcome copy_pages(struct copy *copy, struct store *source, const char *doing,
                        const struct watch *watch, struct fault *fault)
{
	/* Nobody else has it, and what a failure leaves is removed: no journal is needed. */
	int code =
		run_plain(copy->store->db, "PRAGMA locking_mode = EXCLUSIVE; PRAGMA cache_size = -8000;"
	                               "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF");
	if (code != SQLITE_OK) {
		return refuse_pages(copy, source, code, fault);
	}
	bool own = sqlite3_get_autocommit(source->db) != 0;
	enum outcome outcome = store_snapshot_begin(source, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	/* The snapshot begins with the first reading. */
	code = run_plain(source->db, "SELECT count(*) FROM sqlite_schema");
	if (code == SQLITE_OK) {
		code = copy_steps(copy->store->db, source->db, doing, watch);
	}
	if (own) {
		store_snapshot_end(source);
	}
	if (code == SQLITE_OK) {
		/* The pages say that they are a shop's, with a file of changes beside. */
		code = run_plain(copy->store->db, "PRAGMA journal_mode = DELETE");
	}
	return code == SQLITE_OK ? OUTCOME_DONE : refuse_pages(copy, source, code, fault);
}

/* ---------------------------------------------------------------- its name */

/* A name is on the disk only when its folder is. */
static int sync_folder(const char *name)
{
	char folder[PATH_MAX];
	snprintf(folder, sizeof folder, "%s", name);
	char *slash = strrchr(folder, '/');
	if (slash == NULL) {
		snprintf(folder, sizeof folder, ".");
	} else {
		slash[slash == folder ? 1 : 0] = '\0';
	}
	int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	int reason = file < 0 || fsync(file) != 0 ? errno : 0;
	if (file >= 0) {
		close(file);
	}
	/* A file system that keeps no folders this way says that it cannot. */
	return reason == EINVAL ? 0 : reason;
}

/* Never over a file that came there meanwhile. */
static int give_name(const struct copy *copy)
{
	struct stat status;
	if (renameat2(AT_FDCWD, copy->part, AT_FDCWD, copy->name, RENAME_NOREPLACE) == 0) {
		return 0;
	}
	if (errno != EINVAL && errno != ENOSYS) {
		return errno;
	}
	if (lstat(copy->name, &status) == 0) {
		return EEXIST;
	}
	return rename(copy->part, copy->name) == 0 ? 0 : errno;
}

enum outcome copy_settle(struct copy *copy, int64_t *bytes, struct fault *fault)
{
	struct stat status = {.st_size = 0};
	/* Closed first: to close any file of its own would end SQLite's locks. */
	store_close(copy->store);
	copy->store = NULL;
	int reason = fsync(copy->file) != 0 || fstat(copy->file, &status) != 0 ? errno : 0;
	if (reason == 0) {
		reason = give_name(copy);
	}
	if (reason == EEXIST) {
		return refuse_there(copy->name, fault);
	}
	if (reason != 0) {
		return refuse_making(copy, reason, fault);
	}
	close(copy->file);
	copy->file = -1;
	remove_beside(copy->part);
	*bytes = status.st_size;
	reason = sync_folder(copy->name);
	if (reason != 0) {
		unlink(copy->name);
		return refuse_making(copy, reason, fault);
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- what it holds */

STATEMENT(all_records) =
	{"records of all kinds",
     "SELECT (SELECT count(*) FROM operator) + (SELECT count(*) FROM place)"
     " + (SELECT count(*) FROM press) + (SELECT count(*) FROM job) + (SELECT count(*) FROM tool)"
     " + (SELECT count(*) FROM station) + (SELECT count(*) FROM cut)"
     " + (SELECT count(*) FROM reading)",
     true};

enum outcome count_records(struct store *store, int64_t *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &all_records, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = 0;
	if (stmt != NULL && statement_row(store, stmt, &outcome, fault)) {
		*out = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}
