/*
 * The clerk's work: putting on record, import, movements, condition. One use case, one function,
 * one transaction.
 */
#ifndef TOOTHRACK_ROOM_H
#define TOOTHRACK_ROOM_H

#include "toothrack/store.h"

/* A `key=value` as typed. */
struct pair {
	const char *key;
	const char *value;
};

/* Puts one record of a kind on record. Fills `out` with it (its tag given). */
enum outcome room_new(struct store *store, struct arena *arena, const struct kind *kind,
                      const struct pair *pairs, size_t count, const struct actor *actor,
                      struct record **out, struct fault *fault);

/* One thing wrong with a file. */
struct import_problem {
	int64_t line;
	const char *column; /* or NULL where the row itself is wrong */
	const char *text;   /* what is wrong, with the value and what would be right */
};
#define IMPORT_PROBLEMS_SHOWN 20
struct import_report {
	int64_t added, changed, same; /* records */
	int64_t problem_count;        /* all, of which the first IMPORT_PROBLEMS_SHOWN are kept */
	struct import_problem problems[IMPORT_PROBLEMS_SHOWN];
	size_t problems_kept;
};
/* Told now and then how far a long import is: bytes read of all. */
typedef void (*import_progress)(int64_t bytes_read, int64_t bytes, int64_t rows, void *context);

/*
 * Imports a CSV file of one kind, all or nothing. `update`: a known tag or code is corrected
 * instead of refused; columns in the file are set as they stand, blank ones too, other columns
 * stay. OUTCOME_BAD with problems in the report and a fault that counts them, and nothing is
 * changed. `name` is for messages.
 */
enum outcome room_import_file(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *path, bool update, const struct actor *actor,
                              import_progress progress, void *context, struct import_report *report,
                              struct fault *fault);
/* The same from memory (the demo shop). In the caller's transaction where one is open. */
enum outcome room_import_text(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *name, const char *bytes, size_t length, bool update,
                              const struct actor *actor, struct import_report *report,
                              struct fault *fault);

/*
 * The built-in demo shop, into a shop file that holds nothing yet (else OUTCOME_BAD); `added`:
 * records by kind.
 */
enum outcome room_demo(struct store *store, struct arena *arena, const struct actor *actor,
                       int64_t added[KIND_COUNT], struct fault *fault);

/* What a movement did, for the answer. */
struct moved {
	struct tool_state tool; /* as it is now */
	const char *from;       /* code of the place it was at, or NULL */
	const char *caution;    /* something to know: still on hold, at its home already, a place of a
	                           press that does not take it, or NULL */
};
struct bench_asks;
/*
 * `put TAG... at=PLACE`: all or none. Refused: scrapped tools, retired places, a supplier (that is
 * `send`). It records where the tools are: what `asks` says against one at a place of a press is
 * its caution. `asks` NULL: nothing is asked.
 */
enum outcome room_put(struct store *store, struct arena *arena, const char *const *tags,
                      size_t count, const char *place, const struct bench_asks *asks,
                      const struct actor *actor, struct moved *out, struct fault *fault);
/* `send TAG at=PLACE back=DATE reason=...`: to a supplier. `back` NULL: no date known. */
enum outcome room_send(struct store *store, struct arena *arena, const char *tag, const char *place,
                       const struct moment *back, const char *reason, const struct actor *actor,
                       struct moved *out, struct fault *fault);
/*
 * `receive TAG [at=PLACE]`: back from a supplier, a job or nowhere; `place` NULL: its home. `asks`
 * as of room_put.
 */
enum outcome room_receive(struct store *store, struct arena *arena, const char *tag,
                          const char *place, const struct bench_asks *asks,
                          const struct actor *actor, struct moved *out, struct fault *fault);

/*
 * The usual cautions for those who handle tools of these kinds (`1U << KIND_X` each) at a place of
 * that sort (or NULL), ending with whom to follow; NULL where none applies. In the arena.
 */
const char *room_handling(struct arena *arena, const char *sort, unsigned kinds_handled);

/* What a hold or a clearing did; `subject` is the tag or the code of the station. */
struct held {
	const char *subject;
	const char *what; /* "plate cylinder, 96 teeth", or the place's name */
	const char *reason;
};
/*
 * `hold TAG reason=...`, of a tool or a place (a press station). Refused where it is held already,
 * or scrapped.
 */
enum outcome room_hold(struct store *store, struct arena *arena, const char *tag,
                       const char *reason, const struct actor *actor, struct held *out,
                       struct fault *fault);
enum outcome room_clear(struct store *store, struct arena *arena, const char *tag,
                        const struct actor *actor, struct held *out, struct fault *fault);

/* ------------------------------------------------------------------ correcting, taking back */

/* What `edit` changed, for the answer. */
struct edited_value {
	const char *attribute;
	const char *before, *after; /* NULL: not known */
};
struct edited {
	struct record *record; /* as it is now */
	const char *called;    /* its code, number, badge or tag; `station 3 of job J1` */
	struct edited_value *changes;
	size_t change_count; /* 0: nothing changed, and nothing was written */
	const char *caution; /* a place that is retired while tools lie in it; or NULL */
};
/*
 * `edit TAG key=value...`: corrects a record by the rules of import update=yes; a blank value makes
 * it not known. Of a job `station=3` or `cut=1` names the row that the others correct. Refused: an
 * unknown attribute, a tag (never changed), whatever import refuses.
 */
enum outcome room_edit(struct store *store, struct arena *arena, const char *tag,
                       const struct pair *pairs, size_t count, enum units units,
                       const struct actor *actor, struct edited *out, struct fault *fault);

struct removed {
	struct record *record; /* as it was */
	const char *called;    /* `station 3 of job J1` */
	const char *job;       /* its number */
	const char *caution;   /* or NULL */
};
/*
 * `remove JOB station=N` or `cut=N` (the other NULL): a row of a job; what it held is in the
 * ledger. Refused: a job running or finished (OUTCOME_NO), an unknown row, any other record.
 */
enum outcome room_remove(struct store *store, struct arena *arena, const char *tag,
                         const char *station, const char *cut, const struct actor *actor,
                         struct removed *out, struct fault *fault);

struct scrapped {
	struct tool_state tool; /* as it was before */
	const char *what, *reason;
	const char *caution; /* still at a press, out for a job; or NULL */
};
/* `scrap TAG reason=...`: tools only. Refused: one that is scrapped already, no reason. */
enum outcome room_scrap(struct store *store, struct arena *arena, const char *tag,
                        const char *reason, const struct actor *actor, struct scrapped *out,
                        struct fault *fault);

/* What `undo` took back, for the answer. */
struct undone {
	int64_t number;   /* of the entry taken back */
	const char *word; /* as it stands in the ledger */
	const char *said; /* the same as a thing: put, correction */
	struct moment happened;
	const char *called; /* the record, or the setting */
	const char *what;   /* a tool in a few words, or NULL */
	const char *result; /* how things stand now: "from C1 to R1", "face 320mm -> 330mm" */
	bool moved;
	struct moved movement; /* where `moved` */
};
/*
 * `undo`: takes back this actor's last entry at this terminal that stands, as a new entry. Refused
 * (OUTCOME_NO): nothing to take back; something has happened to the record since; what was put on
 * record new, readings excepted.
 */
enum outcome room_undo(struct store *store, struct arena *arena, const struct actor *actor,
                       struct undone *out, struct fault *fault);

/* ------------------------------------------------------------------ the past */

/* Who hears a history: `begin` once where there is one to tell, then `each` for every entry. */
struct history_reader {
	void (*begin)(const struct record *record, void *context);
	void (*each)(const struct history_row *row, void *context);
	void *context;
};
/* `history TAG`: oldest first; memory does not grow with the entries. */
enum outcome room_history(struct store *store, struct arena *arena, const char *tag,
                          const struct history_reader *reader, struct fault *fault);

struct whereabouts_reader {
	void (*begin)(struct moment moment, void *context); /* the moment that it came to */
	void (*each)(const struct whereabouts *where, void *context);
	void *context;
};
/*
 * `history when=MOMENT [at=PLACE]`: where every tool was, by tag; a bare date is the end of that
 * day. `place` NULL: everywhere. Refused: a moment ahead of now.
 */
enum outcome room_whereabouts(struct store *store, struct moment when, const char *place,
                              struct moment now, const struct whereabouts_reader *reader,
                              struct fault *fault);

/* A figure that `show` tells first: worked out, or an attribute said with what belongs to it. */
struct figure {
	const char *name;   /* as an attribute is named; its key among the figures in JSON */
	const char *covers; /* attributes that it tells, blanks between; or NULL */
	const char *said;   /* for people, in the units asked; NULL: not for people */
	bool is_data;       /* stands among the figures in JSON, null where `value` is not known */
	struct value value;
};
#define FIGURES_MOST 32
/* A tool that lies in the place, or on the press, that is shown. */
struct shown_tool {
	const char *tag, *summary, *place;
	const char *remark; /* as room_remark tells it, or NULL */
};
/* Everything `show` tells of one record. */
struct shown {
	struct record *record;
	const char *summary;     /* "plate cylinder, 96 teeth 1/8cp, face 330mm" */
	const char *whereabouts; /* "in rack 2 (R2), its home"; NULL: it has no place */
	const char *within;      /* "within tool room (ROOM)", the places around that; or NULL */
	const char *home;        /* "its home is rack 1 (R1)", where it is elsewhere; or NULL */
	const char **places;     /* codes of the place it is in and of those around, innermost first */
	size_t place_count;
	const char **obstacles; /* what stops it from being used */
	size_t obstacle_count;
	const char *place_obstacle; /* the one of them that says no more than whereabouts, or NULL */
	const char **cautions;      /* what is to be known of it, though it may be used */
	size_t caution_count;
	struct figure figures[FIGURES_MOST];
	size_t figure_count;
	struct ledger_entry *entries;
	const char **entries_of; /* of a job: to which of its rows each; else NULL */
	size_t entry_count;
	struct record **rows; /* stations and cuts of a job, stations of a press, readings of a roll */
	size_t row_count;
	const char *
		*row_held; /* of a press: by row, why that station is on hold; NULL where it is not */
	struct shown_tool *tools; /* the first that lie in a place, those on a press */
	size_t tool_count;
	int64_t tools_more; /* those that lie in the place beside them, as far as they are counted */
	struct kept_promise *promises; /* to a job; or those by which a tool is booked, by start */
	size_t promise_count;
	bool at_risk;              /* of a job: something has broken it, as the cautions tell */
	struct ledger_entry *done; /* what an operator did last */
	const char **done_to;      /* to which record each */
	size_t done_count;
};
/* `now` decides what is overdue, and what runs. */
enum outcome room_show(struct store *store, struct arena *arena, const char *tag, enum units units,
                       struct moment now, struct shown *out, struct fault *fault);

/* A record in a few words: "plate cylinder, 96 teeth 1/8cp, face 330mm". */
const char *room_summary(struct arena *arena, const struct record *record, enum units units);
/*
 * What must be seen of a tool or a place wherever it is listed: "on hold since 2026-12-01T08:00:
 * nicked", "due back 2026-12-09"; NULL where there is nothing, and for other records.
 */
enum outcome room_remark(struct store *store, struct arena *arena, const struct record *record,
                         const char **out, struct fault *fault);
/*
 * Revolutions that the run on record of a plate cylinder, die or magnetic cylinder made; false for
 * other records, and where run or length around is not known.
 */
bool room_revolutions(const struct record *record, int64_t *out);
/* Whether these words tell an attribute of the kind. */
bool room_summary_tells(const struct kind *kind, const char *attribute);

/* What `find` is asked. */
struct question {
	const struct kind *kind;  /* NULL: all that have what is asked; rows of a job must be named */
	const struct pair *pairs; /* each key once */
	size_t pair_count;
	const char *const *words; /* of names, notes and numbers, each as a beginning */
	size_t word_count;
};
/* Told before the first record which kinds can come, in which order; the array outlasts the call.
 */
typedef void (*find_begin)(const struct kind *const *kinds, size_t count, void *context);
/*
 * `find`: gives every record that has all that is asked to `take`, kind by kind as store_select
 * does; `count` becomes how many. OUTCOME_BAD, before `begin` is called: an attribute, value, name
 * or word that nothing can have. What `take` returns other than OUTCOME_DONE is given back.
 */
enum outcome room_find(struct store *store, struct arena *arena, const struct question *question,
                       find_begin begin, record_take take, void *context, int64_t *count,
                       struct fault *fault);

/* Gets the CSV of an export piece by piece. Anything but OUTCOME_DONE stops it. */
typedef enum outcome (*bytes_take)(const char *bytes, size_t length, void *context);
/*
 * `export KIND`: all records of a kind as `import` takes them, in the order of store_select: a
 * heading of the attributes' names, then a line a record; cells in metric units, moments in UTC;
 * lines end in CRLF (RFC 4180). `count` becomes the records given.
 */
enum outcome room_export(struct store *store, const struct kind *kind, bytes_take take,
                         void *context, int64_t *count, struct fault *fault);
/*
 * The same into a file, whole or not at all. OUTCOME_BAD where it cannot be written, OUTCOME_STORE
 * where the disk is full; nothing is then left behind, and what was there stays.
 */
enum outcome room_export_file(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *path, int64_t *count, struct fault *fault);

/*
 * `set KEY VALUE`: parses, writes, one transaction. The value `default` goes back to the default.
 * What it is already is not set again: `out->same`.
 */
enum outcome room_set(struct store *store, struct arena *arena, const char *key, const char *value,
                      const struct actor *actor, struct setting_state *out, struct fault *fault);

/* `backup FILE`, `restore FILE`, `verify`: as the store does them. */
enum outcome room_backup(struct store *store, struct arena *arena, const char *file,
                         const struct watch *watch, struct copied *out, struct fault *fault);
enum outcome room_restore(struct store *store, struct arena *arena, const char *file,
                          const struct actor *actor, const struct watch *watch,
                          struct restored *out, struct fault *fault);
/* OUTCOME_NO, and no fault, where damage was found. */
enum outcome room_verify(struct store *store, struct arena *arena, const struct watch *watch,
                         struct proof *out, struct fault *fault);

/* ------------------------------------------------------------------ tags to be printed */

/* What a tag is for: each may go on a stock of its own. */
enum tag_use {
	TAG_USE_TOOL,
	TAG_USE_PLACE,
	TAG_USE_PRESS,
	TAG_USE_JOB,
	TAG_USE_BADGE,
	TAG_USE_ACTION, /* action and reason cards */
	TAG_USE_COUNT
};
enum tag_use room_tag_use(const struct kind *kind); /* NULL: a card */
/* The setting that names the stock for it: `stock_tool`. */
const char *room_tag_setting(enum tag_use use);
/*
 * Can a line of a tag for this tell that? An attribute of a kind of that use, `tag`, `title` (what
 * the record is; of a job its title, of a card its word), `repeat` (worked out where there are
 * teeth), of cards `meaning`.
 */
bool room_tag_tells(enum tag_use use, const char *attribute);
/* The nearest word that a line for any of the uses can tell, by a bit each; NULL: none is near. */
const char *room_tag_nearest(struct arena *arena, unsigned uses, const char *attribute);

/* One line of a tag: what it tells, in that order; what is not known is left out. */
struct tag_line {
	const char *const *attributes;
	size_t count;
};
/* A stock, as far as the room has to know it. */
struct tag_stock {
	const char *name; /* as it is kept with what was printed on it */
	const struct tag_line *lines;
	size_t line_count;
};
/*
 * Asked for the stock of every tag: by use, and by the name of that it was printed on last (NULL:
 * not asked for). Lives as long as the answer.
 */
struct tag_stocks {
	enum outcome (*find)(enum tag_use use, const char *printed_on, const struct tag_stock **out,
	                     void *context, struct fault *fault);
	void *context;
};

/* What the shop's tags carry: the settings. */
struct tag_habits {
	struct length x_least;
	const char *content;        /* `plain`, `giai`, `91` to `99` */
	const char *company_prefix; /* digits; NULL: none */
	const char *stocks[TAG_USE_COUNT];
};
enum outcome room_tag_habits(struct store *store, struct arena *arena, struct tag_habits *out,
                             struct fault *fault);

/*
 * What the symbol of one tag carries by the settings; `gs1`: AI in brackets. In the arena.
 * OUTCOME_BAD: a GIAI without a company prefix, or one that grows too long.
 */
enum outcome room_tag_content(struct store *store, struct arena *arena, struct tag tag,
                              const char **content, bool *gs1, struct fault *fault);

enum tags_which { TAGS_NAMED, TAGS_FOUND, TAGS_CHANGED, TAGS_UNPRINTED, TAGS_CARDS };
struct tags_asked {
	enum tags_which which;
	const char *const *names; /* TAGS_NAMED: tags, codes, numbers; cards by their tag */
	size_t name_count;
	const struct question *question; /* TAGS_FOUND */
	const struct kind *kind;         /* TAGS_CHANGED, TAGS_UNPRINTED; NULL: all that have a tag */
	enum units units;
};
struct tag_to_print {
	const struct kind *kind; /* NULL: a card, whose serial `id` is */
	int64_t id;
	const char *tag;     /* as shown */
	const char *what;    /* in a few words */
	const char *content; /* of the symbol; AI in brackets where `gs1` */
	bool gs1;
	const char *const *lines; /* as many as its stock has; NULL: nothing to tell there */
	const char *caution;      /* scrapped, retired; or NULL */
	bool at_press;            /* a press or a station of one: it is put on there */
	const struct tag_stock *stock;
	const char *symbol;    /* asked for, by name; NULL: the stock's own */
	struct length carrier; /* diameter of what it goes around; 0: a flat place */
	const char *face;      /* all that it says, as it is kept */
};
struct tags_to_print {
	struct tag_to_print *tags;
	size_t count;
	int64_t entry; /* the ledger's last when they were read */
};
/*
 * `tag`: the tags asked for, with all that they say. Of what has changed, or was never printed,
 * those in use alone; what has changed in the form in which it was printed. OUTCOME_BAD: what is
 * not known, a GIAI without a company prefix; what `stocks` refuses. None at all is no fault.
 */
enum outcome room_tags(struct store *store, struct arena *arena, const struct tags_asked *asked,
                       const struct tag_habits *habits, const struct tag_stocks *stocks,
                       struct tags_to_print *out, struct fault *fault);
/* Keeps what was printed, in one transaction. Cards are not kept: they never change. */
enum outcome room_tags_printed(struct store *store, const struct tags_to_print *printed,
                               struct moment now, struct fault *fault);

/* `take TAG... job=JOB`: out for a job, the place left as it was; all or none. */
struct taken {
	struct tool_state tool; /* as it is now */
	const char *serves;     /* "cylinder at station 3, Cyan" */
	const char *caution;    /* or NULL */
};

/* ------------------------------------------------------------------ the scanning bench */

/* What the planner's room knows of a tool, asked by the bench and by `take`, `put`, `receive`;
 * whoever calls them wires it. */
struct bench_verdict {
	bool yes;
	const char *text;     /* yes: what it serves, or NULL; no: why not */
	const char *expected; /* no, of a job: what is expected and where that is; or NULL */
	const char *caution;  /* yes, but this is to be known; or NULL */
};
struct bench_asks {
	enum outcome (*serves)(struct store *store, struct arena *arena, int64_t job, int64_t tool,
	                       struct moment now, struct bench_verdict *out, struct fault *fault);
	enum outcome (*takes)(struct store *store, struct arena *arena, int64_t place, int64_t tool,
	                      struct bench_verdict *out, struct fault *fault);
};
enum outcome room_take(struct store *store, struct arena *arena, const char *const *tags,
                       size_t count, const char *job, const struct bench_asks *asks,
                       const struct actor *actor, struct taken *out, struct fault *fault);

/*
 * The bench: what is scanned, one after another, by the rules of the vocabulary. It knows no
 * terminal and no clock: whoever drives it gives each line with the moment and a running clock in
 * milliseconds (of which only differences count), and asks what there is to show. Every change is
 * committed before its answer is given back.
 */
struct bench;

enum bench_tone {
	BENCH_DONE,    /* something was recorded */
	BENCH_SHOWN,   /* understood, nothing recorded: a place stands, a tool waits, a question */
	BENCH_REFUSED, /* refused: ring the bell */
};
/* One line of answer. Texts live until the next call. */
struct bench_line {
	enum bench_tone tone;
	enum outcome outcome; /* DONE; else as the fault's */
	const char *text; /* what happened, in one line: `PC000025-1  from R1-3 to C1  96 teeth 1/8cp,
	                     face 330mm` */
	const char *hint; /* what to do now; or NULL */
	const char *caution; /* to be known; or NULL */
	const char
		*handling; /* the usual cautions of a press or a wash, once for who signed on; or NULL */
	int64_t entry; /* last ledger entry written for it; 0: none */
	size_t tools;  /* tools moved or changed by it */
};
struct bench_answer {
	struct bench_line *lines;
	size_t count;
	bool leave; /* whoever scans is done with the bench */
};

/* `lasting` texts outlive every call; `actor` as it is before a badge is scanned. */
struct bench *bench_open(struct store *store, const struct bench_asks *asks,
                         const struct actor *actor, const struct limits *limits);
void bench_close(struct bench *bench); /* takes NULL */
/*
 * Lines that come late, of a handheld: `now` of bench_scan is then the moment that stands on the
 * line. Nothing is recorded but by a line: quiet and the end send nothing home.
 */
struct bench_batch {
	struct moment recorded; /* when it is recorded */
	bool replay; /* the next line was applied before: it changes what stands and waits alone */
	int64_t known_entry; /* of such a line: the last ledger entry that it made */
	/* Called in the transaction of a line that records something, before it is committed. */
	enum outcome (*applied)(struct store *store, int64_t entry, void *context, struct fault *fault);
	void *context;
};
/* `batch` outlives the bench; its members may be changed between lines. */
void bench_set_batch(struct bench *bench, const struct bench_batch *batch);
/*
 * One line as it came, without its line end: a scan, several run together, or a word typed by hand
 * (`done`, `undo`, `quit`, ... in either case). OUTCOME_STORE where the store cannot serve: the
 * line was not applied; the highest outcome of its lines otherwise.
 */
enum outcome bench_scan(struct bench *bench, const char *bytes, size_t length, int64_t clock_ms,
                        struct moment now, struct bench_answer *out);
/*
 * When, on the same clock, something happens of itself (the place no longer stands, who scanned is
 * signed off); INT64_MAX: never. At that time call bench_quiet.
 */
int64_t bench_wakes(const struct bench *bench);
enum outcome bench_quiet(struct bench *bench, int64_t clock_ms, struct moment now,
                         struct bench_answer *out);
/* Who, where or for what, and what waits: `Nora Tindle, to R1-3`. Lives until the next call. */
const char *bench_prompt(const struct bench *bench);
/* At the end of a batch, or on leaving: what still waits goes home or is said not to have moved. */
enum outcome bench_finish(struct bench *bench, struct moment now, struct bench_answer *out);
/* Begins with counting a place, as its COUNT card and its tag would. */
enum outcome bench_count(struct bench *bench, const char *place, int64_t clock_ms,
                         struct moment now, struct bench_answer *out);

/* ------------------------------------------------------------------ batches of a handheld */

#define BATCH_PROBLEMS_SHOWN 20
/* What is to be said of a line: why it was not applied; or what to know of one that was. */
struct batch_problem {
	int64_t line;
	const char *code; /* as it stands on the line, harmless to show; "" where there is none */
	const char *text;
};
struct batch_report {
	int64_t lines;   /* with a scan on them */
	int64_t applied; /* lines that recorded something now */
	int64_t known;   /* lines that were applied before */
	int64_t quiet;   /* lines that record nothing of themselves: places, badges, shown, doubled */
	int64_t problem_count;
	struct batch_problem *problems; /* the first BATCH_PROBLEMS_SHOWN */
	size_t problems_kept;
	int64_t caution_count; /* of lines applied: "has moved since: it stays at C1", "on hold" */
	struct batch_problem *cautions; /* the first BATCH_PROBLEMS_SHOWN */
	size_t cautions_kept;
};
/*
 * `scan FILE`: lines `moment,code` of a handheld that was out of reach, by the rules of the bench;
 * what cannot be applied is listed, the rest is applied. The same lines again change nothing.
 *
 * CSV (RFC 4180), `,`, `;` or TAB between; a heading `moment,code`, blank lines and lines that
 * begin with `#` are passed over. Refused, line by line: a moment that is none, is a bare date, is
 * ahead of now, lies before all that is on record or before that of a line above; a last line
 * without a line end, unless its check character tells that it is whole. Nobody hears a bell: after
 * a line that was not applied and may have said where tools go, nothing is guessed, and the lines
 * behind it are not applied either, up to 60 s of quiet or DONE.
 *
 * Each line that records something is a transaction of its own: what was interrupted is completed
 * by doing it again. OUTCOME_NO, and no fault, where a line was not applied; OUTCOME_BAD where the
 * file cannot be read, is no text or holds no scan; OUTCOME_STORE ends it, what was applied by then
 * stays.
 */
enum outcome room_batch(struct store *store, struct arena *arena, const char *path,
                        const struct bench_asks *asks, const struct actor *actor,
                        const struct limits *limits, struct batch_report *out, struct fault *fault);

/* ------------------------------------------------------------------ counts */

/* One thing that a count found to differ. */
struct count_row {
	const char *tag;       /* as shown; of what is not known, what was read */
	const char *what;      /* "plate cylinder, 96 teeth"; NULL: not known */
	const char *on_record; /* code of the place on record, or NULL */
	const char *out_for;   /* number of the job that it is out for, or NULL */
	const char *seen;      /* code of the place it was seen in; NULL: not seen. Of a missing tool:
	                          where another count saw it that is still open */
};
struct count_state {
	int64_t id;
	const char *place; /* code */
	const char *name;  /* of the place, or NULL */
	struct moment started;
	const char *by;            /* who began it */
	bool taken_up;             /* it was open already */
	bool ended;                /* by somebody else, since */
	int64_t expected, seen;    /* tools on record there and not out for a job; tools seen there */
	struct count_row *missing; /* on record here, not seen, and not moved since the count began */
	size_t missing_count;
	/*
	 * Seen here, on record elsewhere, out for a job, or in another place inside it, and not moved
	 * since. What is on record in a place within the one where it was seen is in its place.
	 */
	struct count_row *elsewhere;
	size_t elsewhere_count;
	struct count_row *unknown;
	size_t unknown_count;
};
/*
 * Begins a count of a place and all inside it, or takes up the one that is open. Refused
 * (OUTCOME_NO): a retired place, a supplier, the place for what is lost; a place inside or around
 * which another count is open.
 */
enum outcome room_count_begin(struct store *store, struct arena *arena, int64_t place,
                              const struct actor *actor, struct count_state *out,
                              struct fault *fault);
/* The count of a place that is open; OUTCOME_BAD where there is none. `place` as typed. */
enum outcome room_count_open(struct store *store, struct arena *arena, const char *place,
                             int64_t *count, struct fault *fault);
/*
 * A tool was seen in `at`, which is the place counted or one inside it; `tool` 0: what was read is
 * not known, `code` says what. In a transaction of its own. Refused: a scrapped tool, a place that
 * is not counted, a misread code, a count that has ended.
 */
enum outcome room_count_see(struct store *store, struct arena *arena, int64_t count, int64_t tool,
                            const char *code, int64_t at, const struct actor *actor,
                            struct fault *fault);
/* Tools on record there and tools seen, without what differs: cheap, also of a large room. */
enum outcome room_count_figures(struct store *store, int64_t count, int64_t *expected,
                                int64_t *seen, struct fault *fault);
/* How it stands. */
enum outcome room_count_state(struct store *store, struct arena *arena, int64_t count,
                              struct count_state *out, struct fault *fault);
/*
 * Ends it. `correct`: what was seen goes where it was seen, what is missing to the shop's place for
 * what is lost (where there is exactly one), each as a movement of its own, all in one transaction.
 * What happened since it was seen, or since the count began, wins.
 */
struct count_ended {
	int64_t moved, lost, left; /* put right; to the lost; missing ones left as they were */
	const char *place;         /* code of the place counted */
	const char *lost_to;       /* code of the place for what is lost; NULL: none, or several */
};
enum outcome room_count_end(struct store *store, struct arena *arena, int64_t count, bool correct,
                            const struct actor *actor, struct count_ended *out,
                            struct fault *fault);

#endif
