/* Opening a shop's file: whose it is, and how it is kept. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <time.h>
#include <unistd.h>

#include "internal.h"
#include "migrations.h"
#include "select.h"

#define WAIT_FIRST_US 2000
#define WAIT_LEAST_US 60
#define OPEN_TRIES 8
#define WAIT_LITTLE_S 1

/* Who has waited long looks often, and so comes before who came late. */
static unsigned int wait_us(int64_t waited_us, unsigned int *jitter)
{
	int64_t mean = WAIT_FIRST_US * (int64_t)WAIT_FIRST_US / (WAIT_FIRST_US + waited_us);
	unsigned int least = mean / 2 > WAIT_LEAST_US ? (unsigned int)(mean / 2) : WAIT_LEAST_US;
	return least + (unsigned int)rand_r(jitter) % (least + 1);
}

/*
 * Waits a short, jittered while for the console that writes, where there is no queue to wait in
 * (turn.c). SQLite's own back-off grows to 100 ms, and a writer that came early can then wait
 * behind many that came late: here the waits shrink. `context` not NULL: only a little.
 */
int store_wait_for_writer(void *context, int tries)
{
	static _Thread_local struct timespec since;
	static _Thread_local unsigned int jitter;
	struct timespec now;

	int most_s = context == NULL ? TURN_MOST_S : WAIT_LITTLE_S;
	clock_gettime(CLOCK_MONOTONIC, &now);
	if (tries == 0) {
		since = now;
		if (jitter == 0) {
			jitter = (unsigned int)getpid() ^ (unsigned int)now.tv_nsec;
		}
	}
	int64_t waited_us =
		(int64_t)(now.tv_sec - since.tv_sec) * 1000000 + (now.tv_nsec - since.tv_nsec) / 1000;
	if (waited_us > most_s * (int64_t)1000000) {
		return 0;
	}
	usleep(wait_us(waited_us, &jitter));
	return 1;
}

/* Network file systems do not keep the locks that several consoles need. */
static bool on_network(const char *path)
{
	static const long networks[] = {0x6969,           0x517b,     (long)0xff534d42,
	                                (long)0xfe534d42, 0x5346414f, 0x00c36400};
	struct statfs system;
	if (statfs(path, &system) != 0) {
		return false;
	}
	for (size_t i = 0; i < COUNT_OF(networks); i++) {
		if ((unsigned long)system.f_type == (unsigned long)networks[i]) {
			return true;
		}
	}
	return false;
}

/* Makes the directories above a file, for the owner and group only. */
static enum outcome make_directories(const char *path, struct fault *fault)
{
	char part[PATH_MAX];
	snprintf(part, sizeof part, "%s", path);
	for (char *slash = strchr(part + 1, '/'); slash != NULL; slash = strchr(slash + 1, '/')) {
		*slash = '\0';
		mode_t mask = umask(0007);
		int made = mkdir(part, 0770);
		umask(mask);
		if (made != 0 && errno != EEXIST) {
			fault_set(fault, OUTCOME_STORE, "directory cannot be made: %s: %s", part,
			          strerror(errno));
			fault_hint(fault, "Name a file in a folder that is there with --db FILE.");
			return OUTCOME_STORE;
		}
		*slash = '/';
	}
	return OUTCOME_DONE;
}

/*
 * The file for owner and group, both to write: SQLite would let the group only read, and gives what
 * it lays beside the file the same permissions. Where it cannot be made SQLite says why.
 */
static void make_empty(const char *path)
{
	mode_t mask = umask(0007);
	int file = open(path, O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, 0660);
	umask(mask);
	if (file >= 0) {
		close(file);
	}
}

static enum outcome look_at_file(const char *path, enum store_mode mode, bool *there,
                                 struct fault *fault)
{
	struct stat status;
	*there = strlen(path) < PATH_MAX - 16 && stat(path, &status) == 0;
	int reason = errno;
	if (strlen(path) >= PATH_MAX - 16 || (!*there && reason == ENAMETOOLONG)) {
		fault_set(fault, OUTCOME_BAD, "path of the shop file is too long: %.40s...", path);
		fault_hint(fault, "Name a file by a shorter path with --db FILE.");
		return OUTCOME_BAD;
	}
	if (*there) {
		if (S_ISDIR(status.st_mode)) {
			fault_set(fault, OUTCOME_BAD, "shop file is a directory: %s", path);
			fault_hint(fault, "Name a file in it, such as --db %s/shop.db.", path);
			return OUTCOME_BAD;
		}
		if (!S_ISREG(status.st_mode)) {
			fault_set(fault, OUTCOME_BAD, "shop file is no plain file: %s", path);
			fault_hint(fault, "Name a shop file with --db FILE.");
			return OUTCOME_BAD;
		}
		if (on_network(path)) {
			fault_set(fault, OUTCOME_STORE, "shop file lies on a network file system: %s", path);
			fault_hint(fault, "Keep it on a disk of one host, and work there over SSH.");
			return OUTCOME_STORE;
		}
		return OUTCOME_DONE;
	}
	if (reason == EACCES) {
		fault_set(fault, OUTCOME_STORE, "shop file may not be opened or written: %s", path);
		fault_hint(fault, "Ask for permission on its folder, or name another with --db FILE.");
		return OUTCOME_STORE;
	}
	if (reason == ENOTDIR) {
		fault_set(fault, OUTCOME_BAD, "folder of the shop file is a file: %s", path);
		fault_hint(fault, "Name a file in a folder with --db FILE.");
		return OUTCOME_BAD;
	}
	if (mode != STORE_MAKE) {
		fault_set(fault, OUTCOME_BAD, "shop file not found: %s", path);
		fault_hint(
			fault,
			"Type demo for a shop to try, or put a first record on record with new or import.");
		return OUTCOME_BAD;
	}
	return make_directories(path, fault);
}

/* SQLite takes what is too short to be a file of its own for an empty one, and writes over it. */
static bool is_scrap(const char *path)
{
	struct stat status;
	return stat(path, &status) == 0 && status.st_size > 0 && status.st_size < 512;
}

/* A file that is not empty must say that it is ours. */
static enum outcome look_at_owner(struct store *store, enum store_mode mode, struct fault *fault)
{
	int64_t application = store_pragma(store, "PRAGMA application_id");
	if (application == APPLICATION_ID) {
		return OUTCOME_DONE;
	}
	if (application == 0 && mode == STORE_MAKE && !is_scrap(store->path) &&
	    store_pragma(store, "SELECT count(*) FROM sqlite_schema") == 0) {
		return OUTCOME_DONE;
	}
	if (application == 0 && store_pragma(store, "PRAGMA application_id") == APPLICATION_ID) {
		return OUTCOME_DONE; /* another console has just made it */
	}
	if (application < 0 && (sqlite3_errcode(store->db) & 0xff) != SQLITE_NOTADB) {
		return store_fault(store, "opening", fault);
	}
	fault_set(fault, OUTCOME_STORE, "file is not a shop of toothrack: %s", store->path);
	fault_hint(fault, "Name a shop file with --db FILE.");
	return OUTCOME_STORE;
}

/* Is the file shorter than the pages that it says it has? */
static bool is_cut_short(struct store *store, const char *path)
{
	char beside[PATH_MAX];
	struct stat status;
	int64_t wanted =
		store_pragma(store, "PRAGMA page_count") * store_pragma(store, "PRAGMA page_size");
	snprintf(beside, sizeof beside, "%s-wal", path);
	if (stat(beside, &status) == 0 && status.st_size > 0) {
		return false; /* pages may lie there still */
	}
	return stat(path, &status) == 0 && status.st_size < wanted;
}

enum outcome store_look_at_length(struct store *store, const char *path, struct fault *fault)
{
	bool cut = is_cut_short(store, path);
	if (cut) {
		/* Between its two looks another console may have made the file shorter or longer. */
		cut = is_cut_short(store, path);
	}
	if (!cut) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_STORE, "file is damaged, its end is cut off: %s", path);
	fault_hint(fault, "Move it away with what lies beside it, then type restore FILE with a copy.");
	return OUTCOME_STORE;
}

static enum outcome look_at_clock(struct store *store, enum store_mode mode, bool fixed_clock,
                                  struct fault *fault)
{
	if (mode == STORE_READ || !fixed_clock ||
	    store_pragma(store, "SELECT count(*) FROM shop WHERE key = 'fixed_clock'") == 1) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_BAD,
	          "clock is stopped by TOOTHRACK_NOW, and this shop file was not made under it: %s",
	          store->path);
	fault_hint(fault, "Ask only, or unset TOOTHRACK_NOW to write.");
	return OUTCOME_BAD;
}

static int flags_of(enum store_mode mode)
{
	return mode == STORE_READ    ? SQLITE_OPEN_READONLY
	       : mode == STORE_WRITE ? SQLITE_OPEN_READWRITE
	                             : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE;
}

/*
 * Before SQLite is used at all: it need not count what memory it has, which it does under a lock,
 * some hundred times a scan. Where it is in use already this changes nothing.
 */
static void settle_memory(void)
{
	static bool settled;
	if (!settled) {
		settled = true;
		sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
	}
}

enum outcome store_open_file(struct store *store, const char *path, int flags, struct fault *fault)
{
	settle_memory();
	mode_t mask = umask(0007);
	int code = sqlite3_open_v2(path, &store->db, flags | SQLITE_OPEN_NOMUTEX, NULL);
	umask(mask);
	if (code != SQLITE_OK) {
		return store_fault(store, "opening", fault);
	}
	sqlite3_extended_result_codes(store->db, 1);
	/*
	 * The schema's triggers write the words that are found, and this SQLite holds its full-text
	 * tables for unsafe there unless the schema is trusted. What a file from elsewhere could do
	 * harm with is shut off instead.
	 */
	sqlite3_db_config(store->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 1, NULL);
	sqlite3_db_config(store->db, SQLITE_DBCONFIG_ENABLE_FTS3_TOKENIZER, 0, NULL);
	sqlite3_db_config(store->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
	sqlite3_busy_handler(store->db, store_wait_for_writer, NULL);
	return OUTCOME_DONE;
}

struct store *store_new(const char *path)
{
	struct arena *arena = arena_new();
	struct store *store = arena_take(arena, 1, sizeof *store);
	store->arena = arena;
	store->path = arena_copy(arena, path);
	return store;
}

/*
 * A copy that was put in the shop's place by hand is one file; as a shop, readers and a writer must
 * not wait for one another. Where another console has it open just now, that waits for another day.
 */
static void keep_write_ahead(struct store *store)
{
	sqlite3_exec(store->db, "PRAGMA journal_mode = WAL", NULL, NULL, NULL);
}

static enum outcome open_and_bring_up(struct store *store, enum store_mode mode, bool fixed_clock,
                                      struct fault *fault)
{
	enum outcome outcome = store_open_file(store, store->path, flags_of(mode), fault);
	if (outcome == OUTCOME_DONE) {
		outcome = look_at_owner(store, mode, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_look_at_length(store, store->path, fault);
	}
	if (outcome == OUTCOME_DONE && mode != STORE_READ && sqlite3_db_readonly(store->db, "main")) {
		/* Told before anything is looked up, so that every command says the same. */
		outcome = store_refuse_permission(store->path, fault);
	}
	if (outcome == OUTCOME_DONE && mode == STORE_READ && migration_is_due(store)) {
		/* Only asked, but it must be brought up before it can answer. */
		sqlite3_close(store->db);
		outcome = store_open_file(store, store->path, flags_of(STORE_WRITE), fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_script(store,
		                       "PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL;"
		                       "PRAGMA cell_size_check = ON;",
		                       fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_migrate(store, migrations, migration_count, fixed_clock, fault);
	}
	store->keeps_wear = outcome == OUTCOME_DONE;
	return outcome == OUTCOME_DONE ? select_open(store, fault) : outcome;
}

/* One try; `*again`: the file was taken away while it was opened, by who had made it for nothing.
 */
static enum outcome open_once(const char *path, enum store_mode mode, bool fixed_clock, bool *again,
                              struct store **out, struct fault *fault)
{
	bool there = true;
	enum outcome outcome = look_at_file(path, mode, &there, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct store *store = store_new(path);
	store->fixed_clock = fixed_clock;
	store->made = !there;
	if (!there) {
		make_empty(path);
	}
	outcome = open_and_bring_up(store, mode, fixed_clock, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = look_at_clock(store, mode, fixed_clock, fault);
	}
	if (outcome != OUTCOME_DONE) {
		*again = mode == STORE_MAKE && store_is_moved(store);
		store_give_up(store);
		return outcome;
	}
	*out = store;
	return OUTCOME_DONE;
}

enum outcome store_open(const char *path, enum store_mode mode, bool fixed_clock,
                        struct store **out, struct fault *fault)
{
	enum outcome outcome = OUTCOME_STORE;
	bool again = true;
	*out = NULL;
	for (int tries = 0; again && tries < OPEN_TRIES; tries++) {
		struct fault refused;
		fault_clear(&refused);
		again = false;
		outcome = open_once(path, mode, fixed_clock, &again, out, &refused);
		if (outcome != OUTCOME_DONE && (!again || tries + 1 == OPEN_TRIES)) {
			fault_set(fault, outcome, "%s", refused.sentence);
			fault_hint(fault, "%s", refused.hint);
		}
	}
	if (outcome == OUTCOME_DONE && mode != STORE_READ) {
		keep_write_ahead(*out);
	}
	return outcome;
}

void store_close(struct store *store)
{
	if (store == NULL) {
		return;
	}
	for (size_t i = 0; i < PREPARED_MOST; i++) {
		sqlite3_finalize(store->prepared[i].stmt);
	}
	sqlite3_close(store->db);
	turn_give(store);
	arena_free(store->arena);
}
