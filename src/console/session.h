/* What lasts from one command to the next: options, the open shop file, who sits here. */
#ifndef TOOTHRACK_CONSOLE_SESSION_H
#define TOOTHRACK_CONSOLE_SESSION_H

#include "toothrack/console.h"

struct console {
	struct options options;
	struct arena *lasting;     /* until the program ends */
	struct arena *arena;       /* of one command */
	struct arena *held;        /* what its answer holds before that goes out */
	const char *path;          /* of the shop's file */
	struct store *store;       /* NULL while no command has needed it */
	enum store_mode mode;      /* how it was opened */
	struct known_moment clock; /* where it is stopped */
	const char *login, *terminal;
	long line;        /* of standard input that is at work, from 1; 0: none */
	bool at_prompt;   /* a person types lines here */
	bool leaving;     /* quit was typed */
	bool reader_gone; /* nobody reads the answers any more */
};

/* Finds out all that but the store. The caller closes, whatever the outcome. */
enum outcome console_open(struct console *console, const struct options *options,
                          struct fault *fault);
void console_close(struct console *console);

/*
 * The shop's file, opened once and kept; anew where this command needs more than the one before.
 * The console's own; the caller closes nothing.
 */
enum outcome console_store(struct console *console, enum command_store needs, struct store **out,
                           struct fault *fault);
/* Gives the file up; the next command opens it afresh. */
void console_store_close(struct console *console);

struct moment console_now(const struct console *console);

/*
 * Runs the command that the words give, and prints its answer or its refusal. `options` are those
 * of this one command. The words and what they hold last as long as the console's arena, which
 * the caller resets.
 */
enum outcome console_run(struct console *console, const struct options *options, struct word *words,
                         size_t count);
/* The same for a line as typed, which may carry options of its own; a blank one is done. */
enum outcome console_run_line(struct console *console, const char *line);
/*
 * Prints to standard output at once. OUTCOME_STORE where that is full; a reader that is gone is
 * no fault.
 */
enum outcome console_print(struct console *console, const char *bytes, struct fault *fault);
/* Prints a refusal to standard error. */
void console_refuse(const struct console *console, const struct fault *fault);

#endif
