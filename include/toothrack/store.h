/*
 * The store: a shop in one SQLite file. The only SQL in the house. Every change is one transaction
 * that writes the record and its ledger entry together.
 */
#ifndef TOOTHRACK_STORE_H
#define TOOTHRACK_STORE_H

#include "toothrack/quantity.h"
#include "toothrack/tag.h"
#include "toothrack/trade.h"

/* ------------------------------------------------------------------ kinds of record */

enum kind_id {
	KIND_OPERATOR,
	KIND_PLACE,
	KIND_PRESS,
	KIND_JOB,
	KIND_CYLINDER,
	KIND_GEAR,
	KIND_ANILOX,
	KIND_BLADE,
	KIND_DIE,
	KIND_MAGNETIC_CYLINDER,
	KIND_STATION,
	KIND_CUT,
	KIND_READING,
	KIND_COUNT
};

/* What the words of an attribute name, where they name another record. */
enum reference {
	REFER_NONE,
	REFER_PLACE,
	REFER_PRESSES,
	REFER_JOB,
	REFER_TOOL,
	REFER_ANILOX,
	REFER_DIE
};

/* One attribute of a kind, as the vocabulary names it. */
struct attribute {
	const char *name;
	enum value_type type;
	const char *const *choices; /* for VALUE_CHOICE(S), ends with NULL */
	enum reference reference;
	bool required;
	const char *fallback; /* what a blank means where that is stored, or NULL */
	bool seconds;         /* a moment kept to the second; others keep a bare date as one */
	const char *meaning;
};

struct kind {
	enum kind_id id;
	const char *name;  /* the word typed: `magnetic_cylinder` */
	const char *title; /* as a person says it: `magnetic cylinder` */
	bool tagged;       /* has a tag of its own */
	enum tag_class class;
	bool tool;                   /* has the attributes of every tool */
	const struct attribute *own; /* after those of every tool, where `tool` */
	size_t own_count;
};

extern const struct kind kinds[KIND_COUNT];     /* in the order in which CSV files come */
const struct kind *kind_find(const char *name); /* NULL where there is none */
const struct kind *kind_of_class(enum tag_class class);
size_t kind_attribute_count(const struct kind *kind);
const struct attribute *kind_attribute(const struct kind *kind, size_t index);
/* Index of the attribute, or SIZE_MAX. */
size_t kind_attribute_find(const struct kind *kind, const char *name);

/* A record of any kind: one value an attribute, in the kind's order. */
struct record {
	const struct kind *kind;
	int64_t id; /* 0 while not on record */
	struct value *values;
	int64_t *references; /* by attribute: id of what the words name, 0 for none */
};
struct record *record_new(struct arena *arena, const struct kind *kind);
struct value *record_value(struct record *record, const char *attribute);
const struct value *record_known(const struct record *record,
                                 const char *attribute); /* NULL where not known */
const char *record_words(const struct record *record,
                         const char *attribute); /* text of a known word-like value, or NULL */

/* ------------------------------------------------------------------ opening */

struct store;

enum store_mode {
	STORE_READ,  /* the file must be there; nothing is written */
	STORE_WRITE, /* the file must be there */
	STORE_MAKE,  /* makes the file and its directory where there is none */
};

/*
 * Opens a shop's file, migrating an older one after a copy was kept. `fixed_clock`: the caller's
 * clock is stopped (TOOTHRACK_NOW); writing is then refused (OUTCOME_BAD) unless the file was made
 * so. Faults: OUTCOME_BAD where there is no file (STORE_READ, STORE_WRITE); OUTCOME_STORE where it
 * is not ours, newer, damaged, locked, or without permission. The caller closes.
 */
enum outcome store_open(const char *path, enum store_mode mode, bool fixed_clock,
                        struct store **out, struct fault *fault);
void store_close(struct store *store); /* takes NULL */
/*
 * The same; a file that was made by this opening and in which nobody has put anything on record is
 * taken away again, so that a refused first command leaves nothing behind. Takes NULL.
 */
void store_give_up(struct store *store);

/*
 * One transaction. `where` names the caller, for the message of a second begin. Waiting for another
 * console's writing is short and jittered; after ten seconds it is refused, naming who holds it
 * where that is known.
 */
enum outcome store_begin(struct store *store, const char *where, struct fault *fault);
enum outcome store_commit(struct store *store, struct fault *fault);
void store_rollback(struct store *store); /* nothing open: nothing happens */
bool store_in_transaction(const struct store *store);
/*
 * Between these all reading sees one state, whatever another console writes meanwhile. Within a
 * transaction nothing happens.
 */
enum outcome store_snapshot_begin(struct store *store, struct fault *fault);
void store_snapshot_end(struct store *store);
/* Is anything on record at all? */
enum outcome store_is_empty(struct store *store, bool *out, struct fault *fault);

/* Who acts, from where, and when: goes into every ledger entry. */
struct actor {
	int64_t operator_id; /* 0: no badge */
	bool limited;        /* one with a badge, and no supervisor */
	const char *login;
	const char *terminal;
	struct moment now; /* when it is recorded */
	struct known_moment
		happened; /* known: when it happened, of what comes late; else it is `now` */
};
/* When what he does happened. */
struct moment actor_moment(const struct actor *actor);

/* ------------------------------------------------------------------ finding */

/* What a tag, code, number, badge or other tag names. */
struct found {
	const struct kind *kind;
	int64_t id;
	bool misread; /* only in a fault: form of a tag of ours, check character wrong */
	bool near;    /* only in a fault: something is meant, which the hint names */
};
/*
 * Finds by tag (in any form a scanner or hand gives it), place code, press code, job number, badge
 * or other tag. `wanted` narrows it: REFER_NONE takes any record, REFER_TOOL any tool. OUTCOME_BAD:
 * `tag not known: PC000321-M`, or a misread, or a record of another kind; the hint then names what
 * on record is nearest, or how to look for it.
 */
enum outcome store_find(struct store *store, const char *text, enum reference wanted,
                        struct found *out, struct fault *fault);
/* The same without looking for what is nearest: for names that mostly are not on record yet. */
enum outcome store_find_plain(struct store *store, const char *text, enum reference wanted,
                              struct found *out, struct fault *fault);
/*
 * Completion: calls `each` with codes or tags that begin with `start`, at most `most` of a sort.
 * Where one sort is `wanted`, none that is retired, scrapped, or (a job) finished or cancelled.
 */
enum outcome store_complete(struct store *store, enum reference wanted, const char *start,
                            size_t most, void (*each)(const char *code, void *context),
                            void *context, struct fault *fault);
/* The same of places, of suppliers alone or of all others; none that is retired. */
enum outcome store_complete_place(struct store *store, bool supplier, const char *start,
                                  size_t most, void (*each)(const char *code, void *context),
                                  void *context, struct fault *fault);
/* Calls `each` with the numbers of a job's stations or, by `kind`, cuts. */
enum outcome store_complete_job_row(struct store *store, const struct kind *kind, int64_t job,
                                    void (*each)(const char *number, void *context), void *context,
                                    struct fault *fault);

/* ------------------------------------------------------------------ records */

/*
 * Writes a new record (its values parsed, its references resolved, its rules checked by the caller)
 * and its ledger entry; gives it a tag where the kind has one and none is given, and fills
 * `record->id` and the tag's value. Within the caller's transaction.
 */
enum outcome store_record_insert(struct store *store, struct arena *arena, struct record *record,
                                 const struct actor *actor, struct fault *fault);
/*
 * Writes all values of a record that is on record; the ledger entry names what changed. Nothing
 * changed: none is written, and `*changed` is false (it may be NULL).
 */
enum outcome store_record_update(struct store *store, struct arena *arena, struct record *record,
                                 const struct actor *actor, bool *changed, struct fault *fault);
/* Reads a record by id; words of references are their codes, or tags as shown. */
enum outcome store_record_read(struct store *store, struct arena *arena, const struct kind *kind,
                               int64_t id, struct record **out, struct fault *fault);
/*
 * The same of a tool, but only what tells it in a few words, as room_summary does: a bench says
 * that of every scan. The other attributes are not known in it.
 */
enum outcome store_record_brief(struct store *store, struct arena *arena, const struct kind *kind,
                                int64_t id, struct record **out, struct fault *fault);
/* The row of a job's station or cut; `*id` 0 where there is none. */
enum outcome store_job_row_find(struct store *store, const struct kind *kind, int64_t job,
                                int64_t number, int64_t *id, struct fault *fault);
/*
 * The reading of a tool at a moment, by that method (NULL: not on record) and after that (NULL
 * counts as a run); `*id` 0 where there is none. One that was taken back counts for none here.
 */
enum outcome store_reading_find(struct store *store, int64_t tool, struct moment moment,
                                const char *method, const char *after, int64_t *id,
                                struct fault *fault);
/* All of them, oldest first by when they were put on record: at most `most` into `ids`. */
enum outcome store_readings_at(struct store *store, int64_t tool, struct moment moment,
                               const char *method, const char *after, int64_t *ids, size_t most,
                               size_t *count, struct fault *fault);
/* The latest readings of a tool, latest first: at most `most` into `ids`. */
enum outcome store_readings_latest(struct store *store, int64_t tool, int64_t *ids, size_t most,
                                   size_t *count, struct fault *fault);
/* What is asked of one attribute of a kind. */
struct asked {
	size_t attribute;
	bool blank; /* asked for those where it is not known; the rest is then left */
	/*
	 * Of types that are numbers, yes/no and moments: inclusive bounds, one that is not known being
	 * open. A bare date as `most` is that whole day.
	 */
	struct value least, most;
	/*
	 * Of the others: a word of its list, a pitch, or words as value_parse gives them; a tag as
	 * stored. Free text contains it, lists contain all of it, in either case.
	 */
	const char *words;
	int64_t reference; /* id of the record that it names; of a place: or any place within that */
};
/* Records of one kind that have all that is asked, and all the words. */
struct selection {
	const struct kind *kind;
	const struct asked *asked;
	size_t asked_count;
	const char *const *words; /* each as a prefix; each has a letter or digit */
	size_t word_count;        /* 0 for a kind that has no tag: its words are not kept for finding */
	bool
		words_found; /* they are those of the selection before, in one snapshot: not sought again */
};
/* Gets each record; `arena` holds it and is reset before the next. Anything but DONE stops. */
typedef enum outcome (*record_take)(struct arena *arena, struct record *record, void *context);
/*
 * Gives every record of a selection to `take`, by tag (tools, and what it is called, of others by
 * code, number or badge, rows of a job by its number and theirs, readings by roll and moment);
 * `count` becomes how many. Memory does not grow with them. The caller opens a snapshot where it
 * asks more than once.
 */
enum outcome store_select(struct store *store, const struct selection *selection, record_take take,
                          void *context, int64_t *count, struct fault *fault);
/* Is that file the shop's own, or one that SQLite keeps beside it? */
bool store_keeps_in(const struct store *store, const char *path);
/* Does `place` lie within `outer`, at any depth, or is it `outer` itself? */
enum outcome store_place_within(struct store *store, int64_t place, int64_t outer, bool *out,
                                struct fault *fault);

/* ------------------------------------------------------------------ movements and condition */

/* A tool as movements see it. */
struct tool_state {
	int64_t id;
	const struct kind *kind;
	const char *tag;
	const char *name;
	const char *condition;
	const char *condition_reason;
	int64_t place, home;
	const char *place_code, *home_code; /* NULL where not known */
	const char *place_sort;
	const char *back;      /* as shown, or NULL */
	const char *taken_for; /* job number, or NULL */
	struct known_moment condition_since;
};
enum outcome store_tool_state(struct store *store, struct arena *arena, int64_t tool,
                              struct tool_state *out, struct fault *fault);

/* A place as movements see it. */
struct place_state {
	int64_t id;
	const char *code, *name, *sort, *condition, *condition_reason, *processes;
	int64_t press;
	bool retired;
	struct known_moment condition_since;
	struct known_count capacity; /* tools that it takes, with all within it */
};
enum outcome store_place_state(struct store *store, struct arena *arena, int64_t place,
                               struct place_state *out, struct fault *fault);

/*
 * A change of whereabouts: the tool's place and `back`, and the ledger entry. Words are put, send,
 * receive.
 */
struct movement {
	int64_t tool;
	int64_t to;
	const struct moment *back; /* NULL: none */
	const char *word;
	const char *reason; /* or NULL */
	struct moment happened;
	bool *stays; /* set where a later happening keeps the tool where it is; or NULL */
};
enum outcome store_tool_move(struct store *store, const struct movement *movement,
                             const struct actor *actor, struct fault *fault);
/* Was it at a press or out for a job, after all that had happened up to that moment? */
enum outcome store_tool_was_away(struct store *store, int64_t tool, struct moment then, bool *out,
                                 struct fault *fault);
/*
 * `take`: out for a job, the place left as it was, until it is put or received.
 */
enum outcome store_tool_take(struct store *store, int64_t tool, int64_t job,
                             const struct actor *actor, struct fault *fault);
/*
 * Care of a tool that was done or is due, `cleaned` or `dirty`: store_care_change without a record.
 * What comes late (`actor->happened`) is of the life that ran by then.
 */
enum outcome store_care_add(struct store *store, const struct kind *kind, int64_t tool,
                            const char *what, const struct actor *actor, struct fault *fault);
/*
 * Condition of a tool, or of a place (`kind` says which): ready, hold or (a tool) scrapped, with
 * the reason; words are clear, hold, scrap. What comes late does not change one that was given
 * later.
 */
enum outcome store_condition_set(struct store *store, const struct kind *kind, int64_t id,
                                 const char *condition, const char *reason,
                                 const struct actor *actor, struct fault *fault);

/* Number of the ledger's last entry, within a transaction that has written one; else 0. */
int64_t store_entry_last(const struct store *store);

/* The ledger of one record, latest first; of a tool with the jobs that it ran for. */
struct ledger_entry {
	int64_t number;
	struct moment happened, recorded;
	const char *word, *operator_name, *login, *terminal, *from_code, *to_code, *job, *detail;
};
enum outcome store_ledger_of(struct store *store, struct arena *arena, const struct kind *kind,
                             int64_t id, size_t most, struct ledger_entry **out, size_t *count,
                             struct fault *fault);

/* ------------------------------------------------------------------ the past */

/* An entry as the history of a record tells it. The texts last until the next one. */
struct history_row {
	struct ledger_entry entry;
	const char *of;     /* `station 3`, `reading`, where it is about a row of the record; or NULL */
	bool taken_back;    /* by a later entry */
	int64_t takes_back; /* the entry that this one took back, or 0 */
};
/*
 * The whole ledger of a record, oldest first, one entry at a time: with that of a job's stations
 * and cuts, of a roll's readings, and of the jobs that a tool ran for.
 */
enum outcome store_history(struct store *store, const struct kind *kind, int64_t id,
                           void (*each)(const struct history_row *row, void *context),
                           void *context, struct fault *fault);

/*
 * The latest entries of a job, with what was changed of its stations and cuts, latest first; none
 * names the job again. `of` becomes as many texts, as in history_row.
 */
enum outcome store_ledger_of_job(struct store *store, struct arena *arena, int64_t job, size_t most,
                                 struct ledger_entry **out, const char ***of, size_t *count,
                                 struct fault *fault);

/* Where a tool was. The texts last until the next one. */
struct whereabouts {
	struct tag tag;
	const struct kind *kind;
	const char *place; /* its code; NULL: not known */
	struct moment since;
};
/*
 * Where every tool was after all that had happened up to a moment, that second included, by tag;
 * tools of which nothing had happened are left out. `place` not 0: those alone that were there or
 * at a place within. Within a snapshot of the caller's.
 */
enum outcome store_whereabouts(struct store *store, struct moment moment, int64_t place,
                               void (*each)(const struct whereabouts *where, void *context),
                               void *context, struct fault *fault);

/* ------------------------------------------------------------------ batches of a handheld */

/* A line of a batch that recorded something. */
struct batch_key {
	struct moment happened;
	const char *code; /* a tag as stored; else as it was read */
	int64_t nth;      /* from 1: which of the like lines of one batch */
};
/* The last ledger entry that it made; `*entry` 0 where it was not applied yet. */
enum outcome store_batch_find(struct store *store, const struct batch_key *key, int64_t *entry,
                              struct fault *fault);
/* Keeps that it was applied, within the transaction that applies it; again: the later entry. */
enum outcome store_batch_keep(struct store *store, const struct batch_key *key, int64_t entry,
                              struct fault *fault);
/* What such an entry tells. */
struct batch_entry {
	const char *word;
	const struct kind *kind; /* of the subject */
	int64_t subject;
	int64_t to_place, job, operator_id; /* 0: none */
};
enum outcome store_batch_entry(struct store *store, struct arena *arena, int64_t entry,
                               struct batch_entry *out, struct fault *fault);
/* When the first entry of the ledger was recorded; not known while there is none. */
enum outcome store_began(struct store *store, struct known_moment *out, struct fault *fault);

/* ------------------------------------------------------------------ counts of shelves */

/* A count of what lies in a place and in all places within it. */
struct count_head {
	int64_t id;
	int64_t place;
	const char *code, *name; /* of the place; name NULL where there is none */
	struct moment started;
	const char *by; /* who began it: name of the operator, or the login */
	bool ended;     /* or not on record at all */
};
/* What a count and the records differ in. */
enum count_difference {
	COUNT_MISSING,   /* on record there, not seen, and not moved since the count began */
	COUNT_ELSEWHERE, /* seen there, and neither on record there nor moved since it was seen */
	COUNT_UNKNOWN    /* seen, and not on record at all */
};
struct counted {
	int64_t tool; /* 0: not known */
	const struct kind *kind;
	const char *code;      /* the tag as shown; of what is not known, what was read */
	const char *on_record; /* code of the place on record, or NULL */
	const char *out_for;   /* number of the job that it is out for, or NULL */
	int64_t seen_place;    /* 0: not seen */
	const char *seen; /* its code, or NULL; of a missing tool: where another open count saw it */
};
/* The open count of a place; `*id` 0 where there is none. */
enum outcome store_count_find(struct store *store, int64_t place, int64_t *id, struct fault *fault);
/* An open count of a place inside this one or around it; `*id` 0 where there is none. */
enum outcome store_count_overlapping(struct store *store, int64_t place, int64_t *id,
                                     struct fault *fault);
enum outcome store_count_read(struct store *store, struct arena *arena, int64_t id,
                              struct count_head *out, struct fault *fault);
/* Tools on record there and not out for a job; tools seen. */
enum outcome store_count_figures(struct store *store, int64_t id, int64_t *expected, int64_t *seen,
                                 struct fault *fault);
/* What it differs in, in the order of the round, then by tag. */
enum outcome store_count_differences(struct store *store, struct arena *arena, int64_t id,
                                     enum count_difference which, struct counted **out,
                                     size_t *count, struct fault *fault);
/* Within the caller's transaction, as all of these that write. */
enum outcome store_count_begin(struct store *store, int64_t place, const struct actor *actor,
                               int64_t *id, struct fault *fault);
/*
 * Seen at a place; what was seen before is now seen there. `tool` NULL: not known, `code` says what
 * was read.
 */
enum outcome store_count_see(struct store *store, int64_t id, const struct tool_state *tool,
                             const char *code, int64_t at, const struct actor *actor,
                             struct fault *fault);
enum outcome store_count_end(struct store *store, int64_t id, bool corrected,
                             const struct actor *actor, struct fault *fault);
/* The first two places in use for what is lost, as many as there are. */
enum outcome store_places_lost(struct store *store, int64_t places[2], size_t *count,
                               struct fault *fault);

/* ------------------------------------------------------------------ removing, taking back */

/*
 * Takes a station or a cut off its job; the ledger entry `remove` tells what it held. Within the
 * caller's transaction, as all of these that write.
 */
enum outcome store_job_row_remove(struct store *store, struct arena *arena,
                                  const struct record *record, const struct actor *actor,
                                  struct fault *fault);

/* An entry that may be taken back. */
struct undo_entry {
	int64_t number; /* 0: there is none */
	const char *word, *detail;
	const struct kind *kind; /* NULL: a setting */
	int64_t subject;
	int64_t from_place, to_place; /* 0: none */
	struct moment happened;
	bool kept;           /* what stood before is on record */
	const char *setting; /* its name, of an entry `set` */
};
/*
 * The last entry of this operator (without one: of this login without a badge) at this terminal
 * that is neither taken back nor takes one back.
 */
enum outcome store_undo_find(struct store *store, struct arena *arena, const struct actor *actor,
                             struct undo_entry *out, struct fault *fault);
/* What has happened to the same record since, latest; `number` 0: nothing that still counts. */
enum outcome store_undo_since(struct store *store, struct arena *arena,
                              const struct undo_entry *entry, struct ledger_entry *out,
                              struct fault *fault);
/* A movement: the tool back where it was, `back` and `taken_for` as they stood. */
enum outcome store_undo_movement(struct store *store, struct arena *arena,
                                 const struct undo_entry *entry, const struct actor *actor,
                                 struct fault *fault);
/* hold, clear, scrap: condition, reason and since as they stood. */
enum outcome store_undo_condition(struct store *store, struct arena *arena,
                                  const struct undo_entry *entry, const struct actor *actor,
                                  struct fault *fault);
/* A limit or habit: its old value, or the default. */
enum outcome store_undo_setting(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, const struct actor *actor,
                                struct fault *fault);
/*
 * book, move, unbook: the promise that it made ends, the one that it ended holds again. Another job
 * has one of its tools by now: OUTCOME_NO in one sentence.
 */
enum outcome store_undo_promise(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, const struct actor *actor,
                                struct fault *fault);
/*
 * start: the job's state as it stood, its run never was; finish: it runs again, the promise that
 * ended with it holds again, and its web is taken from the runs of its tools. Another job runs on
 * its press, or has one of its tools, by now, or a tool's run has been told anew: OUTCOME_NO.
 */
enum outcome store_undo_run(struct store *store, struct arena *arena,
                            const struct undo_entry *entry, const struct actor *actor,
                            struct fault *fault);
/*
 * A correction or a removal, in two steps, so that the caller can hold the rules against it: the
 * record as it stood before, then that written.
 */
enum outcome store_undo_read(struct store *store, struct arena *arena,
                             const struct undo_entry *entry, struct record **out,
                             struct fault *fault);
enum outcome store_undo_change(struct store *store, struct arena *arena,
                               const struct undo_entry *entry, struct record *record,
                               const struct actor *actor, struct fault *fault);
enum outcome store_undo_removal(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, struct record *record,
                                const struct actor *actor, struct fault *fault);

/* ------------------------------------------------------------------ tags printed */

/* What a record's tag said when it was printed last. */
struct tag_printed {
	const char *stock;     /* name of the stock that it was printed on */
	const char *symbol;    /* asked for, by name; NULL: the stock's own */
	struct length carrier; /* diameter of what it goes around; 0: a flat place */
	const char *face;      /* its code and its lines, one a line */
	struct moment printed;
	int64_t entry; /* the last of the ledger by the time that the face was read */
};
/* Number of the ledger's last entry; 0: there is none. */
int64_t store_last_entry(struct store *store);
/* Keeps it, in place of what the record's tag said before. In the caller's transaction. */
enum outcome store_tag_printed_write(struct store *store, const struct kind *kind, int64_t id,
                                     const struct tag_printed *printed, struct fault *fault);
/* Gets a record; `printed` NULL: its tag never was. Anything but OUTCOME_DONE stops. */
typedef enum outcome (*tag_take)(const struct kind *kind, int64_t id,
                                 const struct tag_printed *printed, void *context);
/*
 * Records of a kind of which the ledger tells something since their tag was printed, or of the
 * place they are at home in. Others are not looked at. In a snapshot of the caller's.
 */
enum outcome store_tags_touched(struct store *store, const struct kind *kind, tag_take take,
                                void *context, struct fault *fault);
/* Records of a kind in use whose tag was never printed, by tag. */
enum outcome store_tags_unprinted(struct store *store, const struct kind *kind, tag_take take,
                                  void *context, struct fault *fault);

/* ------------------------------------------------------------------ settings */

/* One of the shop's own limits and habits. */
struct setting {
	const char *name;
	enum value_type type;
	const char *const *choices;
	const char *fallback;     /* the default, as typed */
	const char *least, *most; /* what a shop can mean lies between, both included; NULL: any */
	const char *meaning;
	const char *source; /* "common practice, no source", or NULL for a habit */
};
extern const struct setting settings[];
extern const size_t setting_count;
const struct setting *setting_find(const char *name);
/*
 * Is it what this setting can be, beside what its type says? `takes` (may be NULL) becomes what can
 * be typed, or NULL where the type says it all. `fault` (may be NULL) then holds what is wrong,
 * where more can be said than that it does not fit.
 */
bool setting_fits(const struct setting *setting, const char *value, const char **takes,
                  struct fault *fault);

/* The value now in force, as typed; who set it and when where it is not the default. */
struct setting_state {
	const struct setting *setting;
	const char *value;
	const char *set_by; /* name of the operator, or the login name; NULL: the default */
	struct moment set_at;
	bool same; /* after room_set: it was that already, and nothing was written */
};
enum outcome store_setting_read(struct store *store, struct arena *arena,
                                const struct setting *setting, struct setting_state *out,
                                struct fault *fault);
/*
 * `value` as typed, already parsed by the caller, NULL for the default; with its ledger entry,
 * which tells the old value and the new, in the caller's transaction.
 */
enum outcome store_setting_write(struct store *store, const struct setting *setting,
                                 const char *value, const struct actor *actor, struct fault *fault);
/* A change of a setting, as the ledger tells it. */
struct setting_change {
	struct moment happened;
	const char *detail; /* `spread 0.05mm -> 0.04mm` */
	const char *who;    /* name of the operator, or else the login */
};
/* The latest changes of a setting, at most so many; the latest first. `store` NULL: none. */
enum outcome store_setting_changes(struct store *store, struct arena *arena,
                                   const struct setting *setting, struct setting_change *out,
                                   size_t most, size_t *count, struct fault *fault);
/* All limits in force. `store` NULL gives the defaults. */
enum outcome store_limits(struct store *store, struct limits *out, struct fault *fault);

/* ------------------------------------------------------------------ what the check reads */

/* A job as the check reads it. Everything is in the arena. */
struct job {
	int64_t id;
	const char *number, *title, *state;
	struct known_moment from, until;
	struct known_count quantity;
	struct layout
		layout; /* as on record; web_needed, printed_width and run are worked out by the plan */
	struct station *stations;
	size_t station_count;
	struct cut *cuts; /* as on record: none where the job has no rows */
	size_t cut_count;
	int64_t *presses;
	size_t press_count;
};
enum outcome store_job_read(struct store *store, struct arena *arena, int64_t id, struct job *out,
                            struct fault *fault);

/* A station or die station of a press. */
struct press_station {
	int64_t number;
	bool die;
	const char *code;
	const char *processes; /* `a,b`, or NULL for all */
	bool held;
	const char *reason; /* or NULL */
	struct known_moment since;
};
/* A press with its stations and the jobs running on it. */
struct press_state {
	struct press press;
	const char *name;
	bool retired;
	struct press_station *stations;
	size_t station_count;
	int64_t stations_counted, die_stations_counted;
	const struct promise *promises; /* what runs or is booked on it, the asking job left out */
	size_t promise_count;
};
/* Without the promises: those are asked for by store_press_promises. */
enum outcome store_press_read(struct store *store, struct arena *arena, int64_t id,
                              struct press_state *out, struct fault *fault);
/* Ids of all presses not retired, by code. */
enum outcome store_presses(struct store *store, struct arena *arena, int64_t **out, size_t *count,
                           struct fault *fault);

/*
 * Tools for a check, scrapped ones left out, by tag. `job` is the asking job: its own promises are
 * left out. Lengths are inclusive bounds of a tool's own length around.
 */
enum outcome store_cylinders(struct store *store, struct arena *arena, int64_t job,
                             struct length least, struct length most, struct cylinder **out,
                             size_t *count, struct fault *fault);
/* The lengths, each once and in order, that plate cylinders within the bounds have. */
enum outcome store_cylinder_lengths(struct store *store, struct arena *arena, struct length least,
                                    struct length most, struct length **out, size_t *count,
                                    struct fault *fault);
enum outcome store_gears(struct store *store, struct arena *arena, int64_t job, struct length least,
                         struct length most, struct gear **out, size_t *count, struct fault *fault);
/*
 * What a station asks of a roll, inclusive; the volumes of the end of a run that is at most so
 * long (not known: of whatever length).
 */
struct roll_bounds {
	struct screen screen_least, screen_most;
	struct volume volume_least, volume_most;
	struct known_length run_most;
};
/*
 * Rolls within any of the bounds, by id; a screen or volume that is not known is within. With a
 * face of at least so much, where that is not 0. A roll whose trend forecasts is within where it
 * passes through the volumes on the run. For what it was when new, or was last read at, a roll may
 * be among them too.
 */
enum outcome store_rolls(struct store *store, struct arena *arena, int64_t job,
                         const struct roll_bounds *bounds, size_t bounds_count, struct length face,
                         struct anilox **out, size_t *count, struct fault *fault);
enum outcome store_blades(struct store *store, struct arena *arena, int64_t job,
                          struct length least, struct length most, struct blade **out,
                          size_t *count, struct fault *fault);
/* Dies whose label_across lies within the bounds. */
enum outcome store_dies(struct store *store, struct arena *arena, int64_t job, struct length least,
                        struct length most, struct die **out, size_t *count, struct fault *fault);
/* One die by id, scrapped too. */
enum outcome store_die(struct store *store, struct arena *arena, int64_t job, int64_t id,
                       struct die *out, struct fault *fault);
enum outcome store_magnetic_cylinders(struct store *store, struct arena *arena, int64_t job,
                                      struct length least, struct length most,
                                      struct magnetic_cylinder **out, size_t *count,
                                      struct fault *fault);

/* ------------------------------------------------------------------ promises and runs */

/* A tool that a promise names, and what for. */
struct promised_tool {
	int64_t tool;
	const struct kind *kind; /* filled where it is read */
	struct tag tag;          /* the same */
	const char *need;        /* cylinder, gear, anilox, blade, die, magnetic_cylinder */
	int64_t station, cut;    /* one of the two; the other 0 */
};
/* Tools promised to a job by a check. Texts are the arena's. */
struct kept_promise {
	int64_t id; /* 0: there is none */
	int64_t job;
	const char *job_number; /* filled where it is read, as press_code */
	int64_t press;
	const char *press_code;
	struct moment from, until;
	struct repeat repeat; /* that it was checked at */
	struct known_count number_around;
	const char *verdict; /* ready, caution */
	const char *answer;  /* the check that it rests on, whole, as JSON; NULL where a list is read */
	struct moment asked; /* when, filled where it is read, as `by` */
	const char *by;      /* who asked: name of the operator, or the login */
	struct promised_tool *tools;
	size_t tool_count;
};
/*
 * Keeps a promise and books its tools; one that holds for the job ends by the same entry. The
 * ledger entry, on the job, is `word` (`book`, or `move` where another job's booking made it give
 * way) with `detail`. Tools of other jobs over that time are refused by the store itself:
 * OUTCOME_NO, `AN000045-3 is booked for job J7 from ... until ...`. Within the caller's
 * transaction, as all of these that write.
 */
enum outcome store_promise_keep(struct store *store, struct arena *arena,
                                const struct kept_promise *promise, const char *word,
                                const char *detail, const struct actor *actor, struct fault *fault);
/*
 * Ends the promise of a job by an entry `unbook`, its tools free again. None holds: OUTCOME_DONE
 * and nothing is written.
 */
enum outcome store_promise_end(struct store *store, struct arena *arena, int64_t job,
                               const char *detail, const struct actor *actor, struct fault *fault);
/*
 * Takes the bookings of a job out of the way within a transaction, without an entry, so that
 * another check may be tried: the caller rolls back, or keeps a new promise for it. See
 * store_savepoint.
 */
enum outcome store_bookings_set_aside(struct store *store, int64_t job, struct fault *fault);
/* A point within a transaction to come back to. They nest. */
enum outcome store_savepoint(struct store *store, struct fault *fault);
enum outcome store_savepoint_back(struct store *store,
                                  struct fault *fault); /* undone, and closed */
enum outcome store_savepoint_keep(struct store *store, struct fault *fault); /* closed */
/* The promise that holds for a job, with its tools; `out->id` 0 where there is none. */
enum outcome store_promise_of_job(struct store *store, struct arena *arena, int64_t job,
                                  struct kept_promise *out, struct fault *fault);
/*
 * Promises that hold and end at or after `from` and start before `until`, of jobs that are planned
 * or running, by start and then job; with their tools, without `answer`.
 */
enum outcome store_promises_between(struct store *store, struct arena *arena, struct moment from,
                                    struct moment until, struct kept_promise **out, size_t *count,
                                    struct fault *fault);

/* A job that runs. */
struct job_running {
	int64_t job;
	const char *number;
	int64_t press; /* 0: not known, its state came by CSV or edit */
	const char *press_code;
	struct known_moment started, until; /* `until` as on record of the job */
};
/* The run of a job; `out->job` 0 where it does not run. */
enum outcome store_run_of_job(struct store *store, struct arena *arena, int64_t job,
                              struct job_running *out, struct fault *fault);
/* What runs on a press by `start`; `out->job` 0 where nothing does. */
enum outcome store_run_on_press(struct store *store, struct arena *arena, int64_t press,
                                struct job_running *out, struct fault *fault);
/* All that runs, by job number. */
enum outcome store_runs(struct store *store, struct arena *arena, struct job_running **out,
                        size_t *count, struct fault *fault);
/* How a job ended. */
struct run_end {
	int64_t press; /* of a job that runs by its state alone, where it did; 0: not known */
	struct known_length length; /* web that it took */
	const char *by;             /* how that is known: given, quantity */
};
/*
 * `start`: the job's state becomes running, on that press; `finish`: finished, and its promise ends
 * by the same entry, which tells press and length. The caller has looked whether it may, and lets
 * the web reach the tools: store_run_reaches.
 */
enum outcome store_job_start(struct store *store, struct arena *arena, int64_t job, int64_t press,
                             const struct actor *actor, struct fault *fault);
enum outcome store_job_finish(struct store *store, struct arena *arena, int64_t job,
                              const struct run_end *end, const struct actor *actor,
                              struct fault *fault);

/* A job that planning looks at. */
struct job_ahead {
	int64_t id;
	const char *number, *title, *state;
	struct known_moment from, until;
};
/*
 * Jobs planned that overlap from..until by their own time or by their promise, and those planned
 * without a time; by `from` (those without last), then number.
 */
enum outcome store_jobs_ahead(struct store *store, struct arena *arena, struct moment from,
                              struct moment until, struct job_ahead **out, size_t *count,
                              struct fault *fault);
/* Jobs running on a press, or with a promise on it that holds; `job` is left out. */
enum outcome store_press_promises(struct store *store, struct arena *arena, int64_t press,
                                  int64_t job, struct promise **out, size_t *count,
                                  struct fault *fault);

/* ------------------------------------------------------------------ promises broken */

struct risk {
	int64_t job;
	const char *job_number; /* filled where it is read, as tag, asked_by and from */
	int64_t tool;           /* 0: none */
	struct tag tag;
	const char *need;     /* cylinder, ..., or press, web, repeat, job */
	int64_t station, cut; /* 0: none */
	const char *text;
	struct moment since; /* may lie ahead */
	int64_t entry;       /* the change by which it came about; 0: time alone */
	struct moment from;  /* when the job is to start, by its promise */
	const char *press_code;
};
/* Puts these in place of those on record of the job. Within the caller's transaction. */
enum outcome store_risks_write(struct store *store, int64_t job, const struct risk *risks,
                               size_t count, struct fault *fault);
/* Of all promises that hold, those at risk by `now`, by start of the job, its number, then theirs.
 */
enum outcome store_risks(struct store *store, struct arena *arena, struct moment now,
                         struct risk **out, size_t *count, struct fault *fault);
/* Jobs at risk by `now`: as many as store_risks names. Reads nothing but that. */
enum outcome store_risk_count(struct store *store, struct moment now, int64_t *count,
                              struct fault *fault);
/*
 * The last entry after `entry` about a record, a reading of a roll, a job that a tool ran for, a
 * row of a job; `*out` 0: none.
 */
enum outcome store_entry_about(struct store *store, int64_t entry, const struct kind *kind,
                               int64_t id, int64_t *out, struct fault *fault);
/* One entry, and what it is about (a tag, code or number); `out->number` 0: there is none. */
enum outcome store_entry_read(struct store *store, struct arena *arena, int64_t number,
                              struct ledger_entry *out, const char **of, struct fault *fault);
/*
 * Jobs whose promise the entries after `entry` may have touched: of a tool, a reading, care or a
 * run of a tool, a place, a press, the job or its rows, or a limit. Each once, by id.
 */
enum outcome store_promises_touched(struct store *store, struct arena *arena, int64_t entry,
                                    int64_t **jobs, size_t *count, struct fault *fault);
/*
 * Called before every commit of a transaction that has written entries, while anything is promised:
 * `entry` is the last entry before them. What it writes is of the same transaction; a refusal of it
 * is that of the commit, which then leaves the transaction open. NULL: nobody is called.
 */
typedef enum outcome (*store_commit_watch)(struct store *store, int64_t entry, struct moment now,
                                           void *context, struct fault *fault);
void store_watch_commits(struct store *store, store_commit_watch watch, void *context);

/* ------------------------------------------------------------------ wear and care */

/*
 * One change by care: what was done or found, with the record as it will stand (NULL: nothing of it
 * changes). Its ledger entry is on the tool; what stood before is kept, so that undo takes all of
 * it back. Within the caller's transaction.
 */
struct care_change {
	const char *word; /* of the entry: gauge, reblade, regrind, cleaned, dirty */
	const char *what; /* of the care: gauged, reblade, regrind, engraved, damaged, cleaned, dirty */
	const char *detail; /* of the entry, or NULL */
	const char *note;   /* kept with the care, or NULL */
	bool new_life; /* the tool's next life begins: its run, the record's too, is what is of it */
	struct known_moment
		since; /* when that was, where not now: what was read, ran, done and found since is of it */
	bool damaged;
	struct damage_band band;
	/* Put down as damage too: what lay outside of a usable band that nothing explained. */
	struct damage_band outside[2];
	size_t outside_count;
	struct known_length diameter, runout; /* gauged: a row among those gauged too */
	struct record *record;                /* with its values as they will stand, or NULL */
};
/*
 * What a tool had run, of the life that runs, up to a moment, and since, that moment left out;
 * where that is before the life began, since then. Up to then not known: by the record.
 */
struct life_split {
	struct known_length ended;
	struct length ran;
};
enum outcome store_life_split(struct store *store, int64_t tool, struct moment since,
                              struct life_split *out, struct fault *fault);
/*
 * What is on record of a tool, of the life that runs, since a moment, which is of it; where that is
 * before the life began, since then. It goes into a life that begins with that moment.
 */
struct life_since {
	struct moment began;                      /* since when, after all */
	int64_t readings, cleaned, dirty, gauged; /* how often */
	struct known_length diameter;             /* gauged last */
	struct known_moment usable_told; /* when the usable band was put on record last, at any time */
};
enum outcome store_life_since(struct store *store, int64_t tool, struct moment since,
                              struct life_since *out, struct fault *fault);
enum outcome store_care_change(struct store *store, struct arena *arena, const struct kind *kind,
                               int64_t tool, const struct care_change *change,
                               const struct actor *actor, struct fault *fault);
/* cleaned, dirty, gauge, reblade, regrind: record, run, life as they stood; the rows go. */
enum outcome store_undo_care_change(struct store *store, struct arena *arena,
                                    const struct undo_entry *entry, const struct actor *actor,
                                    struct fault *fault);
/*
 * What has happened in the life that such an entry began, latest: a reading of the roll, web that
 * ran; `number` 0: nothing, or it began none. Taking it back would lose that.
 */
enum outcome store_undo_care_since(struct store *store, struct arena *arena,
                                   const struct undo_entry *entry, struct ledger_entry *out,
                                   struct fault *fault);
/* A reading just put on record: it is of no life from now on, and counts nowhere. */
enum outcome store_undo_reading(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, const struct actor *actor,
                                struct fault *fault);

/* Care of a tool in the life that runs, latest first. */
struct care_row {
	const char *what; /* cleaned, dirty, reblade, ... */
	struct moment moment;
	bool damaged;
	struct damage_band band;
	const char *note; /* or NULL */
};
/* `what` NULL: all of it. */
enum outcome store_care_of(struct store *store, struct arena *arena, int64_t tool, const char *what,
                           size_t most, struct care_row **out, size_t *count, struct fault *fault);
/* How often a tool has begun a new life: 1 is its first. */
enum outcome store_tool_life(struct store *store, int64_t tool, int64_t *life, struct fault *fault);

/* A reading of the life that runs, with the web run by then. */
struct wear_reading {
	int64_t id;
	struct moment moment;
	struct volume volume;
	bool across_known;
	struct across across;
	const char *method; /* NULL: not on record */
	bool clean;         /* after cleaning */
	struct known_length
		run;      /* web of this life by then; not known: it lies before what is on record */
	bool told;    /* its run came with it */
	bool counted; /* in the trend */
};
/* The life that a reading is of (0: it was taken back), and whether that is the one that runs. */
enum outcome store_reading_life(struct store *store, int64_t id, int64_t *life, bool *runs,
                                struct fault *fault);
/*
 * What a roll had run by a moment, of the life that runs: by what was told with its record or its
 * readings, and by the web of jobs between. Not known before the roll, or its life, was put on
 * record.
 */
enum outcome store_run_at(struct store *store, struct arena *arena, int64_t tool,
                          struct moment moment, struct known_length *out, struct fault *fault);
/* Was a tool cleaned, by what is on record, from one moment to another, both included? */
enum outcome store_cleaned_between(struct store *store, int64_t tool, struct moment from,
                                   struct moment until, bool *out, struct fault *fault);
/* Readings put on record or corrected by the entries after `entry`, by roll and life. */
struct reading_named {
	int64_t id, tool, life;
	bool life_runs;
};
enum outcome store_readings_since(struct store *store, struct arena *arena, int64_t entry,
                                  struct reading_named **out, size_t *count, struct fault *fault);
/* One reading; `run` is what was given with it alone, `across` and `counted` are left out. */
enum outcome store_reading_one(struct store *store, int64_t id, struct wear_reading *out,
                               struct fault *fault);
/*
 * The last reading of a roll in the life of `named` before `reading`, by its method, after that
 * (NULL: where it is blank), not before `since` (NULL: whenever); `out->id` 0: there is none.
 */
enum outcome store_reading_before(struct store *store, const struct reading_named *named,
                                  const struct wear_reading *reading, const char *after,
                                  const struct moment *since, struct wear_reading *out,
                                  struct fault *fault);
/* A run that was told, with a reading or the record, and by when. */
struct run_said {
	struct known_moment moment; /* not known: none was */
	struct length run;
};
/*
 * The runs told last before and first after a reading of the life that `named` is of, whichever way
 * they were told.
 */
enum outcome store_runs_said(struct store *store, const struct reading_named *named,
                             const struct wear_reading *reading, struct run_said *before,
                             struct run_said *after, struct fault *fault);
/* Rolls by the number that their maker gave them, of which there may be several; by tag. */
enum outcome store_rolls_of_serial(struct store *store, const char *serial, int64_t *ids,
                                   size_t most, size_t *count, struct fault *fault);
/* Oldest first. */
enum outcome store_wear_readings(struct store *store, struct arena *arena, int64_t tool,
                                 struct wear_reading **out, size_t *count, struct fault *fault);
/* What was gauged in the life that runs, oldest first. */
struct gauge_row {
	struct moment moment;
	struct known_length diameter, runout, run;
};
enum outcome store_gauges(struct store *store, struct arena *arena, int64_t tool,
                          struct gauge_row **out, size_t *count, struct fault *fault);

/* The trend that is kept of a roll. */
struct wear_kept {
	bool known; /* false: never read in this life */
	struct trend trend;
	bool fits; /* false: the latest reading in it is far from the line: it counts by that */
	struct length run_read; /* run: as on record, but no less than it had run when it was read */
	const char *method;     /* of the readings in it; NULL: not on record */
	int64_t run_not_known, other_method;
	struct known_moment clean_moment;
	struct known_volume clean_volume;
	struct known_percent uneven; /* of the latest reading after cleaning that was read across */
	struct known_volume
		gave_back; /* by the last cleaning; `micro` below 0 where it was less after */
	struct known_moment gave_back_moment;
};
enum outcome store_wear(struct store *store, struct arena *arena, int64_t tool,
                        struct wear_kept *out, struct fault *fault);

/* Web that tools have run. */
struct web_run {
	struct moment moment;
	struct length length;
	const char *job, *press; /* `press` NULL: not known */
};
/* The runs of a tool in the life that runs, oldest first. */
enum outcome store_web_runs(struct store *store, struct arena *arena, int64_t tool,
                            struct web_run **out, size_t *count, struct fault *fault);
/* How many tools an entry `finish` gave web to. */
enum outcome store_web_reached(struct store *store, int64_t entry, int64_t *tools,
                               struct fault *fault);
/* The web of the last finished run of a job that it is known of; `*by`: given, quantity. */
enum outcome store_ran_of_job(struct store *store, struct arena *arena, int64_t job,
                              struct known_length *out, const char **by, struct fault *fault);
/*
 * The web of a job's run is kept with it and reaches these tools, each named once: each one's run
 * grows, its revolutions with it; one that was not known counts from 0. By the entry `finish` just
 * written; `by` is given or quantity. Within the caller's transaction. OUTCOME_BAD where it is more
 * than a run holds.
 */
enum outcome store_run_reaches(struct store *store, int64_t job, struct length length,
                               const char *by, const int64_t *tools, size_t tool_count,
                               const struct actor *actor, struct fault *fault);

/* What `due` looks at: every tool in use, with what is known of it. */
struct due_tool {
	int64_t id;
	const struct kind *kind;
	const char *tag, *name, *maker_serial, *place; /* tag as shown; the others may be NULL */
	const char *taken_for;                         /* the job that it is out for, or NULL */
	int64_t life;                                  /* 1: its first */
	struct known_length run, face;
	struct known_length around;     /* of a die or cylinder */
	struct known_length blade_life; /* web */
	const char *material;           /* of a blade, or NULL */
	struct known_count die_life;    /* revolutions */
	const char *die_build;          /* or NULL */
	/* What a new one is ordered by. */
	struct known_length length, thickness;     /* of a blade */
	const char *edge;                          /* of a blade, or NULL */
	struct known_count die_teeth;              /* at `die_pitch`, as typed, or NULL */
	struct known_count die_across, die_around; /* labels */
	const char *die_pitch;
	struct known_length runout; /* of a cylinder */
	struct known_moment gauged; /* last, in this life */
	struct known_volume volume; /* of a roll, when new */
	struct known_screen line_screen;
	struct known_moment dirty;          /* marked since the last cleaning */
	struct known_moment cleaned;        /* last; a reading after cleaning tells of one, too */
	struct length since_cleaned;        /* web since then; all on record of the life where never */
	struct known_moment read, engraved; /* last reading after cleaning of this life */
	struct length since_read;           /* web since then; all of the life where never */
	struct length recent;               /* web since the moment asked */
	struct known_moment first_run;      /* of this life on record */
	struct wear_kept wear;              /* of a roll */
	/* The first booking that has not ended by now; NULL and not known: there is none. */
	const char *next_job, *next_press;
	struct known_moment next_from, next_until;
	/* What that job takes, as far as it is known: labels, side by side, around, its repeat. */
	struct known_count next_quantity, next_across, next_around;
	struct repeat next_repeat;
};
typedef enum outcome (*due_take)(const struct due_tool *tool, void *context);
/*
 * Gives each to `take`, kind by kind; texts last until the next. `kind` not NULL: those of that
 * kind; with `id` not 0 that one alone, scrapped too. `recent_since`: from when the recent use is
 * counted.
 */
enum outcome store_due(struct store *store, const struct kind *kind, int64_t id, struct moment now,
                       struct moment recent_since, due_take take, void *context,
                       struct fault *fault);

/*
 * Since when the readings of a roll after cleaning, of the life and the engraving on record, have
 * all been below a volume; not known: the latest is not.
 */
enum outcome store_below_since(struct store *store, const struct due_tool *tool,
                               struct volume volume, struct known_moment *out, struct fault *fault);

/* How long blades of a material have run in this shop, by those that were taken off. */
struct lives_run {
	int64_t count;
	struct length middle; /* the median; the mean of the two middle ones where they are even */
};
enum outcome store_blades_run(struct store *store, const char *material, struct lives_run *out,
                              struct fault *fault);

/* ------------------------------------------------------------------ copies and proof */

/* Told now and then how far a long work is; `all` 0 where that is not known. `tell` may be NULL. */
struct watch {
	void (*tell)(const char *doing, int64_t done, int64_t all, void *context);
	void *context;
};

/* What a copy holds. */
struct copied {
	int64_t records, entries;
	int64_t bytes; /* of its file */
};
/*
 * Copies the shop, as it stands at one moment, into a new file of its own: whole and looked over,
 * or not at all. Other consoles go on writing meanwhile. OUTCOME_BAD where the file is there
 * already or cannot be; OUTCOME_STORE where the disk is full or the shop is damaged.
 */
enum outcome store_backup(struct store *store, struct arena *arena, const char *file,
                          const struct watch *watch, struct copied *out, struct fault *fault);

struct restored {
	struct copied copy;
	int64_t entries_before; /* of the shop that stood here before */
	const char *kept;       /* the file it was kept in; NULL: it held nothing */
};
/*
 * Puts a copy in the shop's place, for all who have it open, whole or not at all, with a ledger
 * entry behind those of the copy. What the shop holds is first kept in a file beside it. An older
 * copy is brought up on the way; serials of tags that were given stay given. Faults: OUTCOME_BAD
 * where there is no such file, or the clock that it was made under does not agree with the shop's;
 * OUTCOME_STORE where it is not ours, newer, damaged, or where keeping or writing fails.
 */
enum outcome store_restore(struct store *store, struct arena *arena, const char *file,
                           const struct actor *actor, const struct watch *watch,
                           struct restored *out, struct fault *fault);

/* One thing wrong with the store. */
struct damage {
	int64_t entry;   /* number of the ledger entry, 0 for none */
	const char *tag; /* as shown, of the record, or NULL */
	const char *text;
};
#define DAMAGES_SHOWN 20
struct proof {
	int64_t pages, entries, records, tools; /* looked at */
	int64_t damage_count;                   /* all, of which the first DAMAGES_SHOWN are kept */
	struct damage damages[DAMAGES_SHOWN];
	size_t damages_kept;
};
/*
 * Looks at all of the store, as it stands at one moment, and writes nothing. OUTCOME_NO where
 * damage was found.
 */
enum outcome store_verify(struct store *store, struct arena *arena, const struct watch *watch,
                          struct proof *out, struct fault *fault);

/* One tool of any kind, scrapped too, with all its promises: what the predicates of trade judge. */
union any_tool {
	struct tool tool; /* every kind begins with it */
	struct cylinder cylinder;
	struct gear gear;
	struct anilox anilox;
	struct blade blade;
	struct die die;
	struct magnetic_cylinder magnetic_cylinder;
};
enum outcome store_tool(struct store *store, struct arena *arena, enum kind_id kind, int64_t id,
                        union any_tool *out, struct fault *fault);
/* The same for a job that asks: its own promises are left out. */
enum outcome store_tool_asked(struct store *store, struct arena *arena, int64_t job,
                              enum kind_id kind, int64_t id, union any_tool *out,
                              struct fault *fault);

/* A tool that is out for a job. */
struct tool_out {
	int64_t id;
	const struct kind *kind;
	struct tag tag;
	const char *place; /* code of where it is by the records, or NULL */
	bool at_press;     /* no longer on the way: it was put at a press from being out */
};
/*
 * The tools taken for a job and not yet put anywhere; then, press by press, those that stand there
 * since they were put there from being out for it, and are not out for another by now.
 */
enum outcome store_tools_out(struct store *store, struct arena *arena, int64_t job,
                             const int64_t *presses, size_t press_count, struct tool_out **out,
                             size_t *count, struct fault *fault);

/* ------------------------------------------------------------------ what is around a record */

/* A place and, one after another, the places it is in; `*out` in the arena, the innermost first. */
struct place_around {
	int64_t id;
	const char *code, *name; /* name NULL where there is none */
	bool held;
	const char *reason;        /* of the hold, or NULL */
	struct known_moment since; /* of its condition */
	bool station;              /* of a press */
};
enum outcome store_places_around(struct store *store, struct arena *arena, int64_t place,
                                 struct place_around **out, size_t *count, struct fault *fault);

/* Tools by kind in a place and all places within it; what is past `most` is not counted. */
enum outcome store_place_counts(struct store *store, int64_t place, int64_t most,
                                int64_t counts[KIND_COUNT], struct fault *fault);
/* A tool that lies somewhere. */
struct tool_there {
	int64_t id;
	const struct kind *kind;
	const char *tag;   /* as shown */
	const char *place; /* code */
};
/* The first tools in a place and all within it, place by place, at most `most`. */
enum outcome store_place_tools(struct store *store, struct arena *arena, int64_t place, size_t most,
                               struct tool_there **out, size_t *count, struct fault *fault);

/* What an operator did last, latest first; `subjects` tell to what: a tag, code, number or badge.
 */
enum outcome store_ledger_by(struct store *store, struct arena *arena, int64_t operator_id,
                             size_t most, struct ledger_entry **out, const char ***subjects,
                             size_t *count, struct fault *fault);

#endif
