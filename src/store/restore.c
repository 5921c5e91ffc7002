/*
 * `restore`: a copy in the shop's place. It is made ready beside the shop, brought up and looked
 * over and with its ledger entry written, and only then goes in, in one commit: so whoever has the
 * shop open sees the old or the new, and a kill leaves the old.
 */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "copy.h"
#include "proof.h"

#define PAGES_A_STEP 256
#define KEPT_MOST 99 /* copies kept in one second */

/* A restore under way. */
struct restoring {
	struct store *shop;
	struct arena *arena;
	const char *file;
	const struct actor *actor;
	const struct watch *watch;
	struct restored *out;
	struct fault *fault;
	struct copy ready;    /* made ready beside the shop */
	struct store *before; /* the shop as it is, read while nobody can write it; NULL: not yet */
	bool empty;           /* the shop holds nothing that is worth keeping */
};

static const char nothing[] = "nothing was restored";

/* ---------------------------------------------------------------- what is brought */

static enum outcome refuse_file(const struct restoring *restoring, const char *what)
{
	fault_set(restoring->fault, OUTCOME_STORE, "%s, %s: %s", what, nothing, restoring->file);
	fault_hint(restoring->fault, "Name a copy that backup made.");
	return OUTCOME_STORE;
}

static enum outcome look_at_name(const struct restoring *restoring)
{
	struct stat file, shop;
	struct fault *fault = restoring->fault;
	if (stat(restoring->file, &file) != 0) {
		enum outcome outcome = errno == EACCES ? OUTCOME_STORE : OUTCOME_BAD;
		fault_set(fault, outcome, "copy not found: %s: %s", restoring->file, strerror(errno));
		fault_hint(fault, "Name a copy that backup made.");
		return outcome;
	}
	if (!S_ISREG(file.st_mode)) {
		fault_set(fault, OUTCOME_BAD, "copy is no file: %s", restoring->file);
		fault_hint(fault, "Name a copy that backup made.");
		return OUTCOME_BAD;
	}
	if (stat(restoring->shop->path, &shop) == 0 && shop.st_dev == file.st_dev &&
	    shop.st_ino == file.st_ino) {
		fault_set(fault, OUTCOME_BAD, "copy is the shop file itself: %s", restoring->file);
		fault_hint(fault, "Name a copy that backup made.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* Before anything is copied: is it a shop, and one that this program can read? */
static enum outcome look_at_copy(const struct restoring *restoring, struct store *copy)
{
	int64_t application = store_pragma(copy, "PRAGMA application_id");
	int code = sqlite3_errcode(copy->db) & 0xff;
	if (application < 0 && code != SQLITE_NOTADB) {
		return code == SQLITE_CORRUPT ? refuse_file(restoring, "copy is damaged")
		                              : store_fault(copy, "reading", restoring->fault);
	}
	if (application != APPLICATION_ID) {
		return refuse_file(restoring, "file is not a shop of toothrack");
	}
	int64_t version = store_pragma(copy, "PRAGMA user_version");
	if (version < 1) {
		return refuse_file(restoring, "copy is damaged");
	}
	if (version > migration_newest()) {
		fault_set(restoring->fault, OUTCOME_STORE,
		          "copy is of a newer toothrack (schema %d, this one knows %d): %s", (int)version,
		          migration_newest(), restoring->file);
		fault_hint(restoring->fault, "Use the newer toothrack.");
		return OUTCOME_STORE;
	}
	return store_look_at_length(copy, restoring->file, NULL) == OUTCOME_DONE
	           ? OUTCOME_DONE
	           : refuse_file(restoring, "copy is damaged, its end is cut off");
}

/* Into a file beside the shop: the copy itself stays as it is. */
static enum outcome bring(struct restoring *restoring)
{
	struct fault *fault = restoring->fault;
	struct store *copy = store_new(restoring->file);
	const char *name = arena_format(restoring->arena, "%s.restore", restoring->shop->path);
	enum outcome outcome = store_open_file(copy, copy->path, SQLITE_OPEN_READONLY, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = look_at_copy(restoring, copy);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = copy_begin(&restoring->ready, restoring->arena, name, nothing, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = copy_pages(&restoring->ready, copy, "read", restoring->watch, fault);
	}
	store_close(copy);
	return outcome;
}

/* ---------------------------------------------------------------- made ready */

static enum outcome refuse_damage(const struct restoring *restoring, const struct proof *proof)
{
	fault_set(restoring->fault, OUTCOME_STORE, "copy is damaged, %s: %s: %s", nothing,
	          restoring->file, proof->damages[0].text);
	fault_hint(restoring->fault, "Name another copy; toothrack --db %s verify says what is wrong.",
	           restoring->file);
	return OUTCOME_STORE;
}

static enum outcome prove(struct restoring *restoring)
{
	struct store *ready = restoring->ready.store;
	struct proof *proof = arena_take(restoring->arena, 1, sizeof *proof);
	struct proving proving = {
		.store = ready,
		.arena = restoring->arena,
		.watch = restoring->watch,
		.proof = proof,
		.fault = restoring->fault,
	};
	enum outcome outcome = prove_file(&proving);
	if (outcome == OUTCOME_DONE && proof->damage_count == 0) {
		outcome = prove_ledger(&proving);
	}
	if (outcome == OUTCOME_DONE && proof->damage_count > 0) {
		return refuse_damage(restoring, proof);
	}
	if (outcome == OUTCOME_DONE && migration_is_due(ready)) {
		outcome = store_bring_up(ready, restoring->fault);
	}
	restoring->out->copy.entries = ledger_last(ready);
	return outcome == OUTCOME_DONE
	           ? count_records(ready, &restoring->out->copy.records, restoring->fault)
	           : outcome;
}

static bool made_under_stopped_clock(struct store *store)
{
	return store_pragma(store, "SELECT count(*) FROM shop WHERE key = 'fixed_clock'") == 1;
}

/*
 * A shop may be written under a stopped clock only where it was made under it, and that must still
 * be true of what stands here afterwards: neither may a stopped clock write into a shop of every
 * day, nor a shop of every day become one into which it may.
 */
static enum outcome look_at_clocks(struct restoring *restoring)
{
	bool stopped = made_under_stopped_clock(restoring->ready.store);
	if (restoring->shop->fixed_clock && !stopped) {
		fault_set(restoring->fault, OUTCOME_BAD,
		          "clock is stopped by TOOTHRACK_NOW, and this copy was not made under it: %s",
		          restoring->file);
		fault_hint(restoring->fault, "Unset TOOTHRACK_NOW to restore it.");
		return OUTCOME_BAD;
	}
	if (stopped && !restoring->empty && !made_under_stopped_clock(restoring->shop)) {
		fault_set(restoring->fault, OUTCOME_BAD,
		          "copy was made under a stopped clock, and this shop file was not: %s",
		          restoring->file);
		fault_hint(restoring->fault, "Name a file of its own for it with --db FILE.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* A shop that is open cannot change the size of its pages. */
static enum outcome fit_pages(struct restoring *restoring)
{
	struct store *ready = restoring->ready.store;
	int64_t size = store_pragma(restoring->shop, "PRAGMA page_size");
	if (size == store_pragma(ready, "PRAGMA page_size")) {
		return OUTCOME_DONE;
	}
	char pragma[64];
	snprintf(pragma, sizeof pragma, "PRAGMA page_size = %lld", (long long)size);
	enum outcome outcome = store_script(ready, pragma, restoring->fault);
	return outcome == OUTCOME_DONE ? store_script(ready, "VACUUM", restoring->fault) : outcome;
}

/* ---------------------------------------------------------------- what stood here before */

/* `shop.db.before-restore-20261201T080000`, local time, and `-2` where that is taken. */
static const char *name_of_kept(const struct restoring *restoring)
{
	char when[] = "00000000T000000";
	struct moment now = {.s = restoring->actor->now.s};
	struct quantity_text text = moment_text(now);
	size_t used = 0;
	for (const char *at = text.bytes; *at != '\0' && used < sizeof when - 1; at++) {
		if (*at == 'T' || (*at >= '0' && *at <= '9')) {
			when[used++] = *at;
		} else if (*at != '-' && *at != ':') {
			break;
		}
	}
	const char *name =
		arena_format(restoring->arena, "%s.before-restore-%s", restoring->shop->path, when);
	const char *free_name = name;
	for (int i = 2; i <= KEPT_MOST && copy_name_free(free_name, NULL) != OUTCOME_DONE; i++) {
		free_name = arena_format(restoring->arena, "%s-%d", name, i);
	}
	return free_name;
}

/* As it is, damaged pages and all: what is restored is often to cure just that. */
static enum outcome keep(struct restoring *restoring)
{
	struct copy kept = COPY_NONE;
	int64_t bytes;
	const char *name = name_of_kept(restoring);
	enum outcome outcome = copy_name_free(name, restoring->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = copy_begin(&kept, restoring->arena, name, nothing, restoring->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = copy_pages(&kept, restoring->before, "kept", restoring->watch, restoring->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = copy_settle(&kept, &bytes, restoring->fault);
	}
	copy_discard(&kept);
	restoring->out->kept = outcome == OUTCOME_DONE ? name : NULL;
	return outcome;
}

STATEMENT(all_serials) = {"serials of tags given", "SELECT class, last FROM tag_serial", true};

static const struct kind *kind_of_letters(const char *letters)
{
	for (size_t i = 0; i < KIND_COUNT && letters != NULL; i++) {
		if (kinds[i].tagged && strcmp(tag_class_letters(kinds[i].class), letters) == 0) {
			return &kinds[i];
		}
	}
	return NULL;
}

/*
 * A tag is never given twice: also not one that was given after the copy was made. Where the shop
 * is too damaged to tell them, the copy's own stand.
 */
static enum outcome keep_serials(const struct restoring *restoring)
{
	struct store *before = restoring->before;
	enum outcome outcome = OUTCOME_DONE, read;
	sqlite3_stmt *stmt = statement_ready(before, &all_serials, NULL);
	while (outcome == OUTCOME_DONE && stmt != NULL && statement_row(before, stmt, &read, NULL)) {
		const struct kind *kind = kind_of_letters((const char *)sqlite3_column_text(stmt, 0));
		if (kind != NULL) {
			struct tag tag = {.class = kind->class, .serial = sqlite3_column_int64(stmt, 1)};
			outcome = tag_keep(restoring->ready.store, tag, restoring->fault);
		}
	}
	statement_done(stmt);
	return outcome;
}

STATEMENT(operator_by_id) = {"tag and badge of an operator",
                             "SELECT tag, badge FROM operator WHERE id = :id", false};
STATEMENT(operator_by_tag) = {"operator by tag and badge",
                              "SELECT id FROM operator WHERE tag = :tag AND badge = :badge", false};

/* Who restores is known by the shop that stood here; the copy may know the same one, or not. */
static void name_operator(const struct restoring *restoring, struct actor *actor,
                          const char **badge)
{
	enum outcome outcome;
	*badge = NULL;
	if (actor->operator_id == 0) {
		return;
	}
	sqlite3_stmt *stmt = statement_ready(restoring->before, &operator_by_id, NULL);
	const char *tag = NULL;
	if (stmt != NULL) {
		bind_number(stmt, ":id", actor->operator_id);
		if (statement_row(restoring->before, stmt, &outcome, NULL)) {
			tag = column_words(restoring->arena, stmt, 0);
			*badge = column_words(restoring->arena, stmt, 1);
		}
	}
	statement_done(stmt);
	actor->operator_id = 0;
	stmt = statement_ready(restoring->ready.store, &operator_by_tag, NULL);
	if (stmt != NULL) {
		bind_words(stmt, ":tag", tag);
		bind_words(stmt, ":badge", *badge);
		if (statement_row(restoring->ready.store, stmt, &outcome, NULL)) {
			actor->operator_id = sqlite3_column_int64(stmt, 0);
			*badge = NULL;
		}
	}
	statement_done(stmt);
}

/* `shop-monday.db, 468 entries; 512 entries before` */
static enum outcome add_entry(const struct restoring *restoring)
{
	const char *slash = strrchr(restoring->file, '/');
	const char *badge;
	struct actor actor = *restoring->actor;
	struct text detail = text_start(restoring->arena);
	name_operator(restoring, &actor, &badge);
	text_add_format(&detail, "%s, %lld entries; %lld entries before",
	                slash != NULL ? slash + 1 : restoring->file,
	                (long long)restoring->out->copy.entries,
	                (long long)restoring->out->entries_before);
	if (badge != NULL) {
		text_add_format(&detail, "; by badge %s", badge);
	}
	struct entry entry = {
		.word = "restore",
		.subject_kind = "shop",
		.happened = actor.now,
		.detail = detail.bytes,
	};
	return ledger_write(restoring->ready.store, &entry, &actor, restoring->fault);
}

static enum outcome write_entry(const struct restoring *restoring)
{
	struct store *ready = restoring->ready.store;
	enum outcome outcome = store_begin(ready, "store_restore", restoring->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = keep_serials(restoring);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = add_entry(restoring);
	}
	if (outcome == OUTCOME_DONE) {
		return store_commit(ready, restoring->fault);
	}
	store_rollback(ready);
	return outcome;
}

/* While nobody else can write the shop: so that nothing written is lost between. */
static enum outcome keep_and_write_entry(struct restoring *restoring)
{
	struct fault *fault = restoring->fault;
	restoring->before = store_new(restoring->shop->path);
	enum outcome outcome =
		store_open_file(restoring->before, restoring->before->path, SQLITE_OPEN_READONLY, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	restoring->out->entries_before = ledger_last(restoring->before);
	/* Another console may have begun the shop since. */
	if (!restoring->empty || restoring->out->entries_before > 0) {
		outcome = keep(restoring);
	}
	return outcome == OUTCOME_DONE ? write_entry(restoring) : outcome;
}

/* ---------------------------------------------------------------- in its place */

static enum outcome refuse_step(const struct restoring *restoring, int code)
{
	switch (code & 0xff) {
	case SQLITE_FULL:
	case SQLITE_IOERR:
		fault_set(restoring->fault, OUTCOME_STORE, "disk is full or failed, %s: %s", nothing,
		          restoring->shop->path);
		fault_hint(restoring->fault, "Free some room on the disk, then type it again.");
		return OUTCOME_STORE;
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
		fault_set(restoring->fault, OUTCOME_STORE,
		          "shop file is being written by another console: %s", restoring->shop->path);
		fault_hint(restoring->fault, "Try again in a moment.");
		return OUTCOME_STORE;
	default:
		return fault_set(restoring->fault, OUTCOME_STORE, "restoring failed, %s: %s: %s", nothing,
		                 restoring->shop->path, sqlite3_errstr(code));
	}
}

/* All pages but the first are still to go; the commit comes with the end of it. */
static int put_pages(const struct restoring *restoring, sqlite3_backup *backup)
{
	int code = SQLITE_OK;
	while (code == SQLITE_OK) {
		code = sqlite3_backup_step(backup, PAGES_A_STEP);
		int64_t all = sqlite3_backup_pagecount(backup);
		watch_tell(restoring->watch, "restored", all - sqlite3_backup_remaining(backup), all);
	}
	return code;
}

/* The first step takes the writer's lock of the shop, and it is held to the end. */
static enum outcome put_pages_in_turn(struct restoring *restoring)
{
	sqlite3 *shop = restoring->shop->db;
	enum outcome outcome = OUTCOME_DONE;
	sqlite3_backup *backup = sqlite3_backup_init(shop, "main", restoring->ready.store->db, "main");
	if (backup == NULL) {
		return refuse_step(restoring, sqlite3_extended_errcode(shop));
	}
	int code = sqlite3_backup_step(backup, 1);
	if (code == SQLITE_OK) {
		outcome = keep_and_write_entry(restoring);
		code = outcome == OUTCOME_DONE ? put_pages(restoring, backup) : SQLITE_OK;
	}
	int finished = sqlite3_backup_finish(backup);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	code = code == SQLITE_DONE ? finished : code;
	return code == SQLITE_OK ? OUTCOME_DONE : refuse_step(restoring, code);
}

static enum outcome put_in_place(struct restoring *restoring)
{
	/* Waits for another console as all do, and names it where it is refused. */
	enum outcome outcome = store_begin(restoring->shop, "store_restore", restoring->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	store_rollback(restoring->shop);
	/* In its turn, as any change. */
	turn_take(restoring->shop, TURN_MOST_S);
	outcome = put_pages_in_turn(restoring);
	turn_give(restoring->shop);
	return outcome;
}

static enum outcome restore(struct restoring *restoring)
{
	enum outcome outcome = look_at_name(restoring);
	if (outcome == OUTCOME_DONE) {
		outcome = bring(restoring);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = prove(restoring);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = look_at_clocks(restoring);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = fit_pages(restoring);
	}
	return outcome == OUTCOME_DONE ? put_in_place(restoring) : outcome;
}

enum outcome store_restore(struct store *store, struct arena *arena, const char *file,
                           const struct actor *actor, const struct watch *watch,
                           struct restored *out, struct fault *fault)
{
	struct restoring restoring = {
		.shop = store,
		.arena = arena,
		.file = file,
		.actor = actor,
		.watch = watch,
		.out = out,
		.fault = fault,
		.ready = COPY_NONE,
	};
	struct stat status;
	*out = (struct restored){.kept = NULL};
	/* Cannot be told where it is damaged: then it is kept. */
	if (store_is_empty(store, &restoring.empty, NULL) != OUTCOME_DONE) {
		restoring.empty = false;
	}
	enum outcome outcome = restore(&restoring);
	store_close(restoring.before);
	copy_discard(&restoring.ready);
	if (outcome == OUTCOME_DONE) {
		/* The pages lie in the file of changes: into the shop's own as far as readers let them. */
		sqlite3_wal_checkpoint_v2(store->db, NULL, SQLITE_CHECKPOINT_PASSIVE, NULL, NULL);
		out->copy.bytes = stat(store->path, &status) == 0 ? status.st_size : 0;
	} else if (out->kept != NULL) {
		/* The shop stands as it stood. */
		unlink(out->kept);
		out->kept = NULL;
	}
	return outcome;
}
