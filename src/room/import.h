/* An import under way, and its parts: the heading, the rows that wait for others, the problems. */
#ifndef TOOTHRACK_ROOM_IMPORT_H
#define TOOTHRACK_ROOM_IMPORT_H

#include "csv.h"
#include "entry.h"
#include "seen.h"

/* What a column of the file holds. */
struct column {
	size_t attribute; /* SIZE_MAX: it has no heading, and may hold nothing */
	const char *unit; /* of its heading, or NULL */
	const char *heading;
};

/* The first row. */
struct heading {
	struct column *columns; /* NULL while it was not read */
	size_t count;
	bool *given; /* by attribute: does the file have it? */
};

/*
 * The separator under which the first row names most columns of the kind; where none does, most
 * columns.
 */
char heading_separator(const struct kind *kind, const char *text, size_t length);
/*
 * Reads the first row; what is wrong with it become complaints whose attribute is the heading as it
 * stands.
 */
struct heading heading_read(struct arena *arena, const struct kind *kind, const struct csv_row *row,
                            struct complaints *complaints);

#define PLACES_DEEPEST 64 /* places within places: no shop has so many */

/*
 * A place that lies within one not on record yet: it may stand further down, so its row is tried
 * again.
 */
struct waiting {
	struct csv_row row;
	uint64_t name;   /* key of its code; 0: none */
	uint64_t within; /* key of the code of the place around */
	bool settled;
};
struct waiting_list {
	struct arena *arena; /* of its own, or NULL */
	struct waiting *items;
	size_t count, room;
};
void waiting_add(struct waiting_list *list, const struct csv_row *row, const char *name,
                 const char *within);
/* Do the places around this one lead back to it? */
bool waiting_in_circle(const struct waiting_list *list, const struct waiting *item);
void waiting_free(struct waiting_list *list);

struct import {
	struct store *store;
	struct arena *arena; /* lives as long as the import */
	struct arena *row_arena;
	const struct kind *kind;
	const struct actor *actor;
	struct limits limits;
	bool update;
	import_progress progress;
	void *progress_context;
	int64_t bytes, rows;
	char separator; /* between its cells */
	struct heading heading;
	struct seen names;   /* keys of names, whatever became of their rows */
	struct seen records; /* ids of records written */
	struct waiting_list waiting;
	const struct waiting *retried; /* the waiting row being tried again, or NULL */
	bool last_try;                 /* of those that wait: an unknown place is a problem now */
	struct import_report *report;
	struct fault *fault;
};

/* A cell of a reading, its decimal comma a point; what may be either becomes a complaint. */
const char *reading_decimals(struct import *import, struct entry_form *form, size_t attribute,
                             const char *cell);
/*
 * Which reading on record the row is, into `form->known`: one that stands just so (`form->stands`),
 * else with `update` the first at that moment, which is then merged; without, that is a complaint.
 */
enum outcome reading_identify(struct import *import, struct entry_form *form);

/* The whole of a text, in the caller's transaction or one of its own. */
enum outcome import_run(struct import *import, const char *name, const char *bytes, size_t length);

/* Counts a problem and keeps it if it is among the first by line. `column` and `hint` may be NULL.
 */
void problem_add(struct import *import, int64_t line, const char *column, const char *sentence,
                 const char *hint);
/* All that is complained of in a row. */
void problems_add(struct import *import, int64_t line, const struct complaints *complaints);

/* OUTCOME_BAD: the file cannot be read, by the error of the system. */
enum outcome file_refuse(const char *path, int error, struct fault *fault);

#endif
