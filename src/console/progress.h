/* A line on the terminal that tells how far a long work is, and is gone when it is done. */
#ifndef TOOTHRACK_CONSOLE_PROGRESS_H
#define TOOTHRACK_CONSOLE_PROGRESS_H

#include <time.h>

#include "toothrack/console.h"

struct progress {
	const char *what; /* the command's name */
	const char *doing;
	int64_t percent;
	int columns; /* of the line as it stands; 0: none does */
	struct timespec began;
};

/*
 * A watch that writes to standard error where that is a terminal and the answer is for people, and
 * nothing otherwise. Short work says nothing.
 */
struct watch progress_watch(struct progress *progress, const struct call *call);
void progress_clear(const struct progress *progress);

/* `352 kB`, `1.2 MB`: a thousand a step, as disks are sold. In the arena. */
const char *size_said(struct arena *arena, int64_t bytes);

#endif
