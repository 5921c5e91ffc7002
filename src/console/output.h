/* Where the bytes of an answer go: standard output, or the user's pager before it. */
#ifndef TOOTHRACK_CONSOLE_OUTPUT_H
#define TOOTHRACK_CONSOLE_OUTPUT_H

#include "pager.h"
#include "session.h"

struct output {
	struct console *console;
	struct fault *fault; /* why the answer cannot be written */
	enum outcome outcome;
	bool begun; /* some of it is out: whether a pager shows it is settled */
	struct pager pager;
};

/* Takes bytes of the answer at once. False where nobody wants more: see `outcome`. */
bool output_take(struct output *output, const char *bytes);

/* The answer is over: waits for the pager. */
void output_end(struct output *output);

#endif
