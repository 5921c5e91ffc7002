/* Reading lines: with editing, history and Tab at a terminal, plainly from anything else. */
#ifndef TOOTHRACK_CONSOLE_LINE_READER_H
#define TOOTHRACK_CONSOLE_LINE_READER_H

#include "session.h"

/* Lines typed at a terminal, until `quit`, Ctrl-D or the terminal's end. */
enum outcome lines_from_terminal(struct console *console);

/*
 * What a command had read of the terminal beyond its own lines: the next lines begin with it. A
 * copy is kept.
 */
void lines_give_back(const char *bytes, size_t length);
/* Takes of what was given back, before the terminal is read: at most `room` bytes, how many. */
size_t lines_take_back(char *bytes, size_t room);

/* Lines of standard input; stops at the first that ends with 2 or 3. Returns the highest seen. */
enum outcome lines_from_input(struct console *console);

#endif
