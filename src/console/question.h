/* What `find` is asked, out of the words of a command. */
#ifndef TOOTHRACK_CONSOLE_QUESTION_H
#define TOOTHRACK_CONSOLE_QUESTION_H

#include "toothrack/console.h"
#include "toothrack/room.h"

/*
 * From the bare word `first` (0: the first) on, and from all keys but those of the command itself.
 * In the call's arena.
 */
void question_read(struct call *call, size_t first, struct question *out);

#endif
