/*
 * Signals that come only while input is waited for, never into a command: a terminal's own, and
 * those by which the system asks a program to end.
 */
#ifndef TOOTHRACK_CONSOLE_SIGNALS_H
#define TOOTHRACK_CONSOLE_SIGNALS_H

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>

#define SIGNALS_MOST 8

struct signals {
	sigset_t waiting; /* the mask while input is waited for (ppoll) */
	sigset_t before;
	const int *numbers;
	size_t count; /* at most SIGNALS_MOST */
	struct sigaction actions[SIGNALS_MOST];
};

/*
 * Holds these back from now on, but where `waiting` is the mask; then they only leave word that
 * they came. May be nested. `numbers` outlasts it.
 */
void signals_hold(struct signals *signals, const int *numbers, size_t count);
/* As it was before. What came meanwhile is still known. */
void signals_release(const struct signals *signals);

/* Did it come since this was asked last? */
bool signals_took(int number);
/* Has the program been asked to end, by SIGTERM or SIGHUP? That holds from then on. */
bool signals_end(void);

#endif
