/* `tag`: what goes on which stock, said first and printed then. */
#ifndef TOOTHRACK_CONSOLE_TAG_PRINT_H
#define TOOTHRACK_CONSOLE_TAG_PRINT_H

#include "toothrack/console.h"
#include "toothrack/print.h"
#include "toothrack/room.h"

/* How it is to be printed: the keys of the command. */
struct tag_keys {
	int64_t first_cell; /* 1 where none is named */
	bool cell_given;
	const char *symbol;    /* one that draws, by name; NULL: none is named */
	struct length carrier; /* 0: none is named */
};

/*
 * Says what the tags asked for are and where they go; with `file=` or `printer=` prints them, and
 * keeps that they were. OUTCOME_NO: there are none, or one does not fit its stock.
 */
enum outcome tags_print(struct call *call, const struct tags_asked *asked,
                        const struct tag_keys *keys);

#endif
