/* The scanning bench at the console: who scans sits at a terminal, or lines come from elsewhere. */
#ifndef TOOTHRACK_CONSOLE_BENCH_H
#define TOOTHRACK_CONSOLE_BENCH_H

#include "toothrack/console.h"
#include "toothrack/room.h"

/* What the bench asks of the planner's room; the limits are those of the shop. */
extern const struct bench_asks bench_asks;

/*
 * Runs the bench until whoever scans leaves: `quit`, the end of the input, a signal to end.
 * `count_place` not NULL: it begins with counting that place; where that is refused the fault says
 * so and nothing is scanned. Each line is answered on standard output before the next is looked at,
 * a refusal off a terminal on standard error. Returns the highest outcome of the lines, on a
 * terminal only what the store could not serve; OUTCOME_STORE ends it, but not on a terminal.
 */
enum outcome bench_run(struct call *call, const char *count_place);

#endif
