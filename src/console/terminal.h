/* What the terminal, if there is one, can show. */
#ifndef TOOTHRACK_CONSOLE_TERMINAL_H
#define TOOTHRACK_CONSOLE_TERMINAL_H

#include "toothrack/base.h"

/* Is standard output a terminal? */
bool terminal_shows(void);

/*
 * Columns of the terminal on standard output: COLUMNS, else as it says itself, else 80. 0 where
 * there is none.
 */
size_t terminal_width(void);
/* The same of another stream, by its descriptor. */
size_t terminal_width_of(int stream);

/* Its lines: LINES, else as it says itself, else 24. */
size_t terminal_height(void);

/*
 * May colour be used? Only on a terminal that is not `dumb`, and where NO_COLOR is not set
 * (no-color.org).
 */
bool terminal_colour(void);

#endif
