/* What `show` answers of one record: data for programs, and text for people. */
#ifndef TOOTHRACK_CONSOLE_SHOWN_H
#define TOOTHRACK_CONSOLE_SHOWN_H

#include "toothrack/console.h"
#include "toothrack/room.h"

/* For JSON, and one row for CSV. */
void shown_write(struct answer *answer, const struct shown *shown);
/* For people: what it is, where, what stops it, its figures, what belongs to it, what happened. */
void shown_say(struct call *call, const struct shown *shown);
/* Of that, what belongs to it: stations, cuts, readings, tools that lie there. */
void shown_rows_say(struct call *call, const struct shown *shown);

#endif
