/* What `tag` says before it prints: what, on which stock, where it goes. */
#ifndef TOOTHRACK_CONSOLE_TAG_ANSWER_H
#define TOOTHRACK_CONSOLE_TAG_ANSWER_H

#include "stocks.h"

/* Tags that go on one stock with one symbol, in the order in which they are printed. */
struct tag_group {
	const struct stock *stock;
	const char *symbol;       /* asked for; NULL: the stock's own */
	enum symbology symbology; /* of that name */
	const struct tag_to_print **tags;
	size_t count;
	struct print_request request;
	struct print_plan plan;
};
/* The rows of data: one a tag. */
void tag_groups_write(struct call *call, const struct tag_group *groups, size_t count);
/* A group in words: how many, on what, how large the symbol is, and the first of the tags. */
void tag_group_say(struct call *call, const struct tag_group *group);
/* Behind the groups: the tags whose text does not stand there whole, and what of it does. */
void tag_cut_say(struct call *call, const struct tag_group *groups, size_t count);
/* Once, behind the groups: where tags go, the usual cautions, and what is to be known. */
void tag_cautions_say(struct call *call, const struct tags_to_print *tags);

#endif
