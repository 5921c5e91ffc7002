/* A program of the user's choice that shows a long answer page by page. */
#ifndef TOOTHRACK_CONSOLE_PAGER_H
#define TOOTHRACK_CONSOLE_PAGER_H

#include <signal.h>
#include <sys/types.h>

#include "toothrack/base.h"

struct pager {
	pid_t child; /* 0: none runs */
	int pipe;
	struct sigaction interrupt, quit; /* what they did before */
	struct text first;                /* the first bytes, while it may yet turn out not to run */
	bool runs;                        /* it has read some of them */
	bool plain;                       /* marks for colour would spoil what it shows */
	bool left;                        /* it reads no more */
};

/*
 * The user's PAGER, where a terminal shows the answer and that has more lines than the screen;
 * else NULL.
 */
const char *pager_wanted(const char *answer);

/*
 * Starts it through `sh -c`. While it runs, Ctrl-C is for it alone. False where that cannot be
 * done; then nothing is to be ended.
 */
bool pager_start(struct pager *pager, struct arena *arena, const char *command);

/* Gives it bytes, without colour where it cannot show that. False where it reads no more: the user
 * has seen enough, or it never ran. */
bool pager_give(struct pager *pager, struct arena *arena, const char *bytes);

/*
 * Waits until the user leaves it. Returns NULL, or where it could not be run at all the bytes that
 * it was given (those of the last, refused, call too), to be printed otherwise.
 */
const char *pager_end(struct pager *pager);

#endif
