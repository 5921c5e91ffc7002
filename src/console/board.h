/* A week on a page: for people in the terminal, and drawn into a file. */
#ifndef TOOTHRACK_CONSOLE_BOARD_H
#define TOOTHRACK_CONSOLE_BOARD_H

#include "toothrack/console.h"
#include "toothrack/plan.h"

/*
 * Says the week in which `ahead->from` lies: what it comes to in a line, press by press and day by
 * day each job with its verdict, then what is short. Faults: those of plan_board; nothing is said
 * then.
 */
enum outcome board_say(struct call *call, const struct ahead *ahead);
/*
 * Draws the same into a file, .pdf or .svg by its ending, whole or not at all, and says so.
 * OUTCOME_BAD for another ending, the shop's own file, or one that cannot be written;
 * OUTCOME_STORE where the disk is full or what draws is missing.
 */
enum outcome board_file(struct call *call, const struct ahead *ahead, const char *file);

/* `14 jobs: 11 can run, 2 short, 1 not known`; in the arena. */
const char *board_sum(struct arena *arena, const struct board *board);

#endif
