/* The answer of `ahead` in its forms. */
#ifndef TOOTHRACK_CONSOLE_AHEAD_ANSWER_H
#define TOOTHRACK_CONSOLE_AHEAD_ANSWER_H

#include "toothrack/console.h"
#include "toothrack/plan.h"

/* The JSON of the specification; in CSV one row a job. */
void ahead_write(struct call *call, const struct ahead *ahead);
/* For people: how many can run and how that is known, the jobs, what is short, what would help. */
void ahead_say(struct call *call, const struct ahead *ahead);
/* What stands below a board: how it is known, what would help. */
void ahead_say_help(struct call *call, const struct ahead *ahead);

#endif
