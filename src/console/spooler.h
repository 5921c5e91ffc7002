/* The system's print spooler, by its command `lp` (POSIX). */
#ifndef TOOTHRACK_CONSOLE_SPOOLER_H
#define TOOTHRACK_CONSOLE_SPOOLER_H

#include "toothrack/base.h"

/* Can a queue be called so, and is there a spooler at all? OUTCOME_BAD tells what is wrong. */
enum outcome spooler_check(const char *queue, struct fault *fault);

/* A folder of our own for what is handed over, and a file in it that is not there yet. */
struct spooled {
	const char *folder, *file;
};
enum outcome spooled_make(struct arena *arena, struct spooled *out, struct fault *fault);
/* Takes both away. */
void spooled_remove(const struct spooled *spooled);

/*
 * `lp -d QUEUE FILE`, without a shell; waits for it. `said` becomes the first line of what it said,
 * "" where it said nothing. OUTCOME_BAD where it fails, with what it said and its exit.
 */
enum outcome spooler_print(struct arena *arena, const char *queue, const char *file,
                           const char **said, struct fault *fault);

#endif
