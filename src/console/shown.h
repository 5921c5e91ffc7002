/* What `show` answers of one record: data for programs, and text for people. */
#ifndef TOOTHRACK_CONSOLE_SHOWN_H
#define TOOTHRACK_CONSOLE_SHOWN_H

#include "toothrack/console.h"
#include "toothrack/room.h"

/* For JSON, and one row for CSV; with `file`, where it was drawn into one. */
void shown_write(struct answer *answer, const struct shown *shown, const char *file);
/* For people: what it is, where, what stops it, its figures, what belongs to it, what happened. */
void shown_say(struct call *call, const struct shown *shown);
/* Of that, what belongs to it: stations, cuts, readings, tools that lie there. */
void shown_rows_say(struct call *call, const struct shown *shown);

/* A figure or an attribute as people are told it. */
struct shown_pair {
	const char *name, *value;
};
/* The figures that matter, then what else is on record; how many. In the call's arena. */
size_t shown_pairs(struct call *call, const struct shown *shown, struct shown_pair **out);

#endif
