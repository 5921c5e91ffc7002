/* Files that something is drawn into. */
#ifndef TOOTHRACK_CONSOLE_DRAWN_FILE_H
#define TOOTHRACK_CONSOLE_DRAWN_FILE_H

#include "toothrack/console.h"
#include "toothrack/print.h"

/*
 * What the value of `file=` is drawn as, by its ending. OUTCOME_BAD, before anything is read or
 * said: it is empty, has no ending that is drawn, or is the shop's own; `example` is then a name
 * that would do: `tags.pdf`.
 */
enum outcome drawn_file_check(struct call *call, const char *file, const char *example,
                              enum file_form *out);

#endif
