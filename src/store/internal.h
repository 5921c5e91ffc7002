/* What the files of the store share: the open store, its statements, and binding by name. */
#ifndef TOOTHRACK_STORE_INTERNAL_H
#define TOOTHRACK_STORE_INTERNAL_H

#include <sqlite3.h>

#include "toothrack/store.h"

/*
 * One SQL statement of the house: a constant with a name, prepared once a store. `scans` says that
 * it means to read a whole table.
 */
struct statement {
	const char *name;
	const char *sql;
	bool scans;
};

/*
 * Every statement stands in one table of the program, the section `toothrack_statements`, however
 * many files hold them: a test walks it. Those of struct record_sql are reached by their kind.
 */
#define STATEMENT(name) \
	static const struct statement name \
		__attribute__((section("toothrack_statements"), used, aligned(sizeof(void *))))

/* A prepared statement and, for those of records, which attribute each parameter or column has. */
struct prepared {
	const struct statement *statement;
	sqlite3_stmt *stmt;
	const struct kind *kind;
	int16_t *attributes; /* by parameter, or column, from 0: index of the attribute, or below 0 */
};

/* The ledger's last entry, known while a transaction holds the writer's lock. */
struct ledger_end {
	bool known;
	int64_t number; /* 0: the ledger is empty */
	int64_t recorded;
	unsigned char hash[32];
};

#define PREPARED_MOST 512 /* a power of two, well above the number of statements */

struct store {
	sqlite3 *db;
	char *path;
	const char *began; /* who began the open transaction, or NULL */
	bool fixed_clock;  /* the caller's clock is stopped */
	bool made;         /* the file was not there before */
	int queue;         /* the file locked while it is its turn to write; else 0 */
	struct prepared prepared[PREPARED_MOST];
	struct arena *arena; /* lives as long as the store */
	struct ledger_end ledger_end;
	bool ledger_seen;         /* the open transaction has looked at the ledger's end */
	int64_t ledger_before;    /* its last entry before those of the open transaction */
	struct moment ledger_now; /* of who wrote the last one */
	int savepoints;           /* open within the transaction */
	bool keeps_wear;          /* the file is of this schema, so that trends are kept in it */
	store_commit_watch watch; /* NULL: nobody is called */
	void *watch_context;
};

/* The file or its folder may not be written, or not even read. */
enum outcome store_refuse_permission(const char *path, struct fault *fault);
/*
 * Waits for the turn to write, no longer than so many seconds; false where it waited in vain. Where
 * there is no queue to be had the store's own lock must do.
 */
bool turn_take(struct store *store, int seconds);
#define TURN_MOST_S 10
void turn_give(struct store *store); /* as often as one likes */

/* Fills the fault from SQLite's last error: locked, full, damaged, read-only, or a bug of ours. */
enum outcome store_fault(struct store *store, const char *doing, struct fault *fault);

/* The statement, prepared, reset and unbound. NULL with the fault filled where it cannot be. */
sqlite3_stmt *statement_ready(struct store *store, const struct statement *statement,
                              struct fault *fault);
struct prepared *statement_entry(struct store *store, const struct statement *statement,
                                 struct fault *fault);
/* Done with: reset, so that it holds no lock. Takes NULL. */
void statement_done(sqlite3_stmt *stmt);
/* Steps a statement that writes and gives no row, and resets it. */
enum outcome statement_run(struct store *store, sqlite3_stmt *stmt, const char *doing,
                           struct fault *fault);
/* Steps a query: true and a row, or false with `*outcome` DONE at the end, or a fault. */
bool statement_row(struct store *store, sqlite3_stmt *stmt, enum outcome *outcome,
                   struct fault *fault);

void bind_number(sqlite3_stmt *stmt, const char *name, int64_t number);
void bind_id(sqlite3_stmt *stmt, const char *name, int64_t id); /* 0 is NULL */
void bind_real(sqlite3_stmt *stmt, const char *name, double number);
void bind_moment(sqlite3_stmt *stmt, const char *name, struct moment moment); /* whole seconds */
void bind_words(sqlite3_stmt *stmt, const char *name,
                const char *text); /* NULL is NULL; the text must outlive the step */

const char *column_words(struct arena *arena, sqlite3_stmt *stmt, int column); /* NULL where NULL */
/* A date or moment kept as text. */
struct known_moment column_when(sqlite3_stmt *stmt, int column);
struct known_moment column_seconds(sqlite3_stmt *stmt, int column);
struct known_length column_length(sqlite3_stmt *stmt, int column);
struct known_count column_count(sqlite3_stmt *stmt, int column);
struct known_angle column_angle(sqlite3_stmt *stmt, int column);
struct known_volume column_volume(sqlite3_stmt *stmt, int column);
struct known_screen column_screen(sqlite3_stmt *stmt, int column);
/* A tag as stored, parsed. */
struct tag column_tag(sqlite3_stmt *stmt, int column);
/* Teeth and pitch, else a plain repeat, else not known. `repeat_column` -1: there is none. */
struct repeat column_repeat(sqlite3_stmt *stmt, int teeth_column, int pitch_column,
                            int repeat_column);

/* The text a moment is kept as: a bare date as such, else in UTC. */
struct quantity_text when_stored(struct moment moment);

/* The statements that write and read one kind of record; parameters carry the attributes' names. */
struct record_sql {
	struct statement insert;
	struct statement update; /* by :id */
	struct statement
		read; /* by :id; columns carry the attributes' names, `X_id` the id of a reference X */
};
extern const struct record_sql operator_sql, place_sql, press_sql, job_sql, tool_sql, cylinder_sql,
	gear_sql, anilox_sql, blade_sql, die_sql, magnetic_cylinder_sql, station_sql, cut_sql,
	reading_sql;

/*
 * What a kind does besides its row: a press makes its stations, a job lists its presses, and so on.
 * NULL: nothing.
 */
enum outcome place_settle(struct store *store, struct arena *arena, struct record *record,
                          const struct actor *actor, struct fault *fault);
enum outcome press_settle(struct store *store, struct arena *arena, struct record *record,
                          const struct actor *actor, struct fault *fault);
enum outcome job_settle(struct store *store, struct arena *arena, struct record *record,
                        const struct actor *actor, struct fault *fault);

/* A press station's own row may leave `within` blank: that is its press, as a blank else is none.
 */
enum outcome place_fill_within(struct store *store, struct arena *arena, struct record *record,
                               struct fault *fault);

/* Gives the next tag of a class, or books the serial of one that was brought along. */
enum outcome tag_give(struct store *store, enum tag_class class, struct tag *out,
                      struct fault *fault);
enum outcome tag_keep(struct store *store, struct tag tag, struct fault *fault);

/*
 * What a check reads of every tool: the columns, in front of the kind's own, and where they come
 * from. The kind's table is `k`.
 */
#define TOOL_COLUMNS \
	"t.id, t.tag, t.fit, t.condition, t.condition_reason, t.condition_since, p.code, p.sort, p.press," \
	" pr.code, t.back, t.face, t.face_from, t.face_to, t.run," \
	" t.taken_for IS NOT NULL OR EXISTS (SELECT 1 FROM booking b WHERE b.tool = t.id)"
#define TOOL_SOURCES \
	" JOIN tool t ON t.id = k.tool LEFT JOIN place p ON p.id = t.place" \
	" LEFT JOIN press pr ON pr.id = p.press"
#define PROMISED_COLUMN 15 /* whether anybody has it promised */
#define OWN_COLUMN 16      /* the first of the kind's own */

/* What one query of tools needs beside its statement. */
struct tool_query {
	const struct statement *statement;
	size_t size; /* of one struct of the kind, whose first member is its struct tool */
	/* Fills the kind's own members. */
	enum outcome (*fill)(struct store *store, struct arena *arena, sqlite3_stmt *stmt, void *tool,
	                     struct fault *fault);
};
/*
 * Runs a query of tools, its bounds bound already; `job` asks, so that its own promises are left
 * out.
 */
enum outcome tools_load(struct store *store, struct arena *arena, int64_t job,
                        const struct tool_query *query, sqlite3_stmt *stmt, void **out,
                        size_t *count, struct fault *fault);
/*
 * The same for each of the ids, of which the query leaves out those whose face is less than `face`;
 * binds `:id` and `:face`.
 */
enum outcome tools_load_listed(struct store *store, struct arena *arena, int64_t job,
                               const struct tool_query *query, const int64_t *ids, size_t id_count,
                               struct length face, void **out, size_t *count, struct fault *fault);
/* The same for lengths within bounds: binds `:least` and `:most`. */
enum outcome tools_load_between(struct store *store, struct arena *arena, int64_t job,
                                const struct tool_query *query, struct length least,
                                struct length most, void **out, size_t *count, struct fault *fault);
/* One tool by id, scrapped or not, into `out`: binds `:id`. */
enum outcome tools_load_one(struct store *store, struct arena *arena, int64_t job,
                            const struct tool_query *query, int64_t id, void *out,
                            struct fault *fault);
extern const struct tool_query cylinder_one, gear_one, anilox_one, blade_one, die_one,
	magnetic_cylinder_one;

/* For SQLite's busy handler; `context` not NULL: waits only a little. */
int store_wait_for_writer(void *context, int tries);

/* Has the file lost its name since it was opened, or another taken it? */
bool store_is_moved(struct store *store);
/* A store with no file open yet; `path` is copied. The caller closes. */
struct store *store_new(const char *path);
/* Opens `path` alone: nothing is looked at, changed or made beside. Messages name the store's own.
 */
enum outcome store_open_file(struct store *store, const char *path, int flags, struct fault *fault);

/* SQLite takes the end of a file that was cut off for blank: refused here. */
enum outcome store_look_at_length(struct store *store, const char *path, struct fault *fault);

#define APPLICATION_ID 0x7472636b /* "trck": says that a SQLite file is a shop of ours */

/* The number that a pragma or query answers; -1 where it cannot. */
int64_t store_pragma(struct store *store, const char *sql);
/* Runs SQL that answers nothing. */
enum outcome store_script(struct store *store, const char *sql, struct fault *fault);

struct migration;
/* The schema version of the last step. */
int migration_newest(void);
/*
 * The steps that the file lacks, in one transaction, without keeping a copy: the file is one.
 */
enum outcome store_bring_up(struct store *store, struct fault *fault);
/* Is the file of an older schema than this program's? */
bool migration_is_due(struct store *store);
/*
 * Brings a file from its schema version to that of the last step, in one transaction; a file that
 * holds something is copied beside first
 * (`shop.db.before-0002`).
 */
enum outcome store_migrate(struct store *store, const struct migration *steps, size_t count,
                           bool fixed_clock, struct fault *fault);

/* One entry, before its number, its recorded moment and its hash are known. */
struct entry {
	const char *word;
	const char *subject_kind;
	int64_t subject;
	int64_t from_place, to_place, job; /* 0: none */
	struct moment happened;
	const char *detail; /* or NULL */
};
/* Has the open transaction written entries that still stand? */
enum outcome ledger_wrote(struct store *store, bool *out, struct fault *fault);
/* The last entry's number; 0 where there is none, or where it cannot be read. */
int64_t ledger_last(struct store *store);
/* One entry as it stands in a row whose columns begin with those of LEDGER_COLUMNS. */
#define LEDGER_COLUMNS \
	"number, word, subject_kind, subject, operator, login, terminal, from_place, to_place, job," \
	" happened, recorded, detail, hash"
enum ledger_column {
	LEDGER_NUMBER,
	LEDGER_WORD,
	LEDGER_SUBJECT_KIND,
	LEDGER_SUBJECT,
	LEDGER_OPERATOR,
	LEDGER_LOGIN,
	LEDGER_TERMINAL,
	LEDGER_FROM_PLACE,
	LEDGER_TO_PLACE,
	LEDGER_JOB,
	LEDGER_HAPPENED,
	LEDGER_RECORDED,
	LEDGER_DETAIL,
	LEDGER_HASH
};
#define LEDGER_HASH_BYTES 32
/*
 * Is the row's hash what its fields and the hash `before` it give? `before` becomes the hash that
 * the row carries.
 */
bool ledger_row_agrees(sqlite3_stmt *stmt, unsigned char before[LEDGER_HASH_BYTES]);
/* Afterwards its number stands in `store->ledger_end`. */
enum outcome ledger_write(struct store *store, const struct entry *entry, const struct actor *actor,
                          struct fault *fault);

/* What is shown of an entry, and where it comes from: the ledger is `l`. */
#define ENTRY_COLUMNS \
	"l.number, l.happened, l.recorded, l.word, o.name, l.login, l.terminal, f.code, t.code, j.number," \
	" l.detail"
#define ENTRY_SOURCES \
	" FROM ledger l LEFT JOIN operator o ON o.id = l.operator" \
	" LEFT JOIN place f ON f.id = l.from_place LEFT JOIN place t ON t.id = l.to_place" \
	" LEFT JOIN job j ON j.id = l.job"
#define ENTRY_COLUMN_COUNT 11
/* The same of the entries by which jobs gave web to tools (`w`): each is on its job. */
#define WEB_ENTRY_SOURCES \
	" FROM web_run w CROSS JOIN ledger l ON l.number = w.entry" \
	" LEFT JOIN operator o ON o.id = l.operator LEFT JOIN place f ON f.id = l.from_place" \
	" LEFT JOIN place t ON t.id = l.to_place LEFT JOIN job j ON j.id = l.subject"
struct ledger_entry ledger_entry_read(struct arena *arena, sqlite3_stmt *stmt);

/*
 * Refuses a change of whereabouts where the ledger has a later one than the moment: the clock must
 * have gone back. `tag` is for the message.
 */
enum outcome whereabouts_refuse_early(struct store *store, int64_t tool, const char *tag,
                                      struct moment happened, struct fault *fault);

#endif
