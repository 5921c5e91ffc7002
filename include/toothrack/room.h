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
	const char *caution;    /* something to know: still on hold, at its home already, or NULL */
};
/*
 * `put TAG... at=PLACE`: all or none. Refused: scrapped tools, retired places, a supplier (that is
 * `send`).
 */
enum outcome room_put(struct store *store, struct arena *arena, const char *const *tags,
                      size_t count, const char *place, const struct actor *actor, struct moved *out,
                      struct fault *fault);
/* `send TAG at=PLACE back=DATE reason=...`: to a supplier. `back` NULL: no date known. */
enum outcome room_send(struct store *store, struct arena *arena, const char *tag, const char *place,
                       const struct moment *back, const char *reason, const struct actor *actor,
                       struct moved *out, struct fault *fault);
/* `receive TAG [at=PLACE]`: back from a supplier, a job or nowhere; `place` NULL: its home. */
enum outcome room_receive(struct store *store, struct arena *arena, const char *tag,
                          const char *place, const struct actor *actor, struct moved *out,
                          struct fault *fault);

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

/* A figure that `show` tells first: worked out, or an attribute said with what belongs to it. */
struct figure {
	const char *name;   /* as an attribute is named; its key among the figures in JSON */
	const char *covers; /* attributes that it tells, blanks between; or NULL */
	const char *said;   /* for people, in the units asked; NULL: not for people */
	bool is_data;       /* stands among the figures in JSON, null where `value` is not known */
	struct value value;
};
#define FIGURES_MOST 24
/* A tool that lies in the place, or on the press, that is shown. */
struct shown_tool {
	const char *tag, *summary, *place;
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
	const char **cautions; /* what is to be known of it, though it may be used */
	size_t caution_count;
	struct figure figures[FIGURES_MOST];
	size_t figure_count;
	struct ledger_entry *entries;
	size_t entry_count;
	struct record **rows; /* stations and cuts of a job, stations of a press, readings of a roll */
	size_t row_count;
	const char *
		*row_held; /* of a press: by row, why that station is on hold; NULL where it is not */
	struct shown_tool *tools; /* the first that lie in a place, those on a press */
	size_t tool_count;
	int64_t tools_more; /* those that lie in the place beside them, as far as they are counted */
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
 * `set KEY VALUE`: parses, writes, one transaction. The value `default` goes back to the default.
 * What it is already is not set again: `out->same`.
 */
enum outcome room_set(struct store *store, struct arena *arena, const char *key, const char *value,
                      const struct actor *actor, struct setting_state *out, struct fault *fault);

#endif
