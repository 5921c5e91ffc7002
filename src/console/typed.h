/* A line as a scanner that types sends it, or a hand: byte by byte, with what is to be shown. */
#ifndef TOOTHRACK_CONSOLE_TYPED_H
#define TOOTHRACK_CONSOLE_TYPED_H

#include "toothrack/base.h"

/* No code is so long; what is longer is no scan. */
#define TYPED_MOST 4096

enum typed_step {
	TYPED_MORE,  /* the line goes on */
	TYPED_LINE,  /* it is whole: `bytes`, `length`, until the next byte is taken */
	TYPED_LEAVE, /* Ctrl-D on an empty line */
	TYPED_AGAIN, /* prompt and line are to be shown anew, on a line of their own */
};
struct typed {
	char bytes[TYPED_MOST];
	size_t length;
	bool too_long; /* there was more: it is none of what was sent */
	size_t room;   /* columns that are left behind the prompt; what is longer wraps */
	bool whole;    /* it was given as a line: the next byte begins anew */
	bool after_cr; /* an LF now belongs to it */
	int escape;    /* signs seen of a key that sends several: ESC, then [ */
};

/*
 * Takes the next byte. CR, LF, CR LF and TAB end a line; Backspace and Ctrl-U edit it; keys that
 * send a sequence (ESC [) are passed over; other control bytes are data, as GS in a code. `echo`
 * gets what is to be shown.
 */
enum typed_step typed_take(struct typed *typed, char byte, struct text *echo);
/* Gives the line up. */
void typed_clear(struct typed *typed);
/* What is shown of it so far, in the terminal's own bytes. */
void typed_show(const struct typed *typed, struct text *out);

#endif
