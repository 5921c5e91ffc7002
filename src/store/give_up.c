/*
 * A shop's file that was made for nothing is taken away again; nobody writes into one that has lost
 * its name.
 */
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "internal.h"

bool store_is_moved(struct store *store)
{
	int moved = 0;
	return sqlite3_file_control(store->db, "main", SQLITE_FCNTL_HAS_MOVED, &moved) == SQLITE_OK &&
	       moved != 0;
}

/* The file and what lies beside it, taken away. */
static void take_away(const char *path)
{
	static const char *const ends[] = {"", "-wal", "-shm", "-journal"};
	char file[PATH_MAX];
	for (size_t i = 0; i < COUNT_OF(ends); i++) {
		snprintf(file, sizeof file, "%s%s", path, ends[i]);
		unlink(file);
	}
}

/*
 * Has no other console the file open? Each holds a lock on a byte of the -shm file (128:
 * UNIX_SHM_DMS in SQLite's os_unix.c). `*beside` is to be closed when all is done: closing it gives
 * up this process's own locks there.
 */
static bool is_alone(const char *path, int *beside)
{
	char shm[PATH_MAX];
	struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET, .l_start = 128, .l_len = 1};
	snprintf(shm, sizeof shm, "%s-shm", path);
	*beside = open(shm, O_RDWR | O_CLOEXEC);
	return *beside < 0 || (fcntl(*beside, F_GETLK, &lock) == 0 && lock.l_type == F_UNLCK);
}

/* Has nothing been committed yet, by anybody? For a disk that has no room even for locks. */
static bool holds_no_page(const char *path)
{
	char beside[PATH_MAX];
	struct stat status;
	snprintf(beside, sizeof beside, "%s-wal", path);
	return (stat(beside, &status) != 0 || status.st_size == 0) && stat(path, &status) == 0 &&
	       status.st_size <= 4096;
}

/*
 * Taken away under the writer's lock: whoever waits for that sees in store_begin that the file is
 * gone.
 */
static void take_away_unused(struct store *store)
{
	store_rollback(store);
	if (sqlite3_exec(store->db, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK) {
		if (holds_no_page(store->path)) {
			take_away(store->path);
		}
		return;
	}
	int beside = -1;
	bool made = store_pragma(store, "PRAGMA user_version") > 0;
	bool unused =
		!made || store_pragma(store, "SELECT count(*) FROM (SELECT 1 FROM ledger LIMIT 1)") == 0;
	if (unused && is_alone(store->path, &beside)) {
		take_away(store->path);
	}
	sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
	if (beside >= 0) {
		close(beside);
	}
}

void store_give_up(struct store *store)
{
	if (store != NULL && store->made && !store_is_moved(store)) {
		take_away_unused(store);
	}
	store_close(store);
}
