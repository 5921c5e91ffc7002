/* The system's print spooler, by its command `lp` (POSIX). */
#ifndef TOOTHRACK_CONSOLE_SPOOLER_H
#define TOOTHRACK_CONSOLE_SPOOLER_H

#include <signal.h>

#include "toothrack/base.h"

/* How long lp may take, in seconds: it hands over, it does not wait for the paper. Common practice,
   no source. */
#define SPOOLER_SECONDS 60

/* Can a queue be called so, and is there a spooler at all? OUTCOME_BAD tells what is wrong. */
enum outcome spooler_check(const char *queue, struct fault *fault);

/*
 * A folder of our own for what is handed over, and a file in it that is not there yet. As long as
 * they are there, a signal to end (SIGTERM, SIGHUP, SIGINT) is held back, so that neither is left
 * behind.
 */
struct spooled {
	const char *folder, *file;
	sigset_t before; /* the mask to come back to */
};
enum outcome spooled_make(struct arena *arena, struct spooled *out, struct fault *fault);
/* Takes both away; a signal that came meanwhile comes now. */
void spooled_remove(const struct spooled *spooled);

/*
 * `lp -d QUEUE FILE`, without a shell; waits for it, so many seconds at most, and ends it where we
 * are asked to end. `said` becomes the first line of what it said, "" where it said nothing.
 * OUTCOME_BAD where it fails, with what it said and its exit, and where it was ended.
 */
enum outcome spooler_print(struct arena *arena, const char *queue, const char *file, int seconds,
                           const char **said, struct fault *fault);

#endif
