/* The stocks of one call: found by name, in the shop's folder `labels` first, and held against the
   kinds. */
#ifndef TOOTHRACK_CONSOLE_STOCKS_H
#define TOOTHRACK_CONSOLE_STOCKS_H

#include "toothrack/console.h"
#include "toothrack/print.h"
#include "toothrack/room.h"

/* One of them: as print knows it, and as the room does. */
struct shop_stock {
	struct stock stock;
	struct tag_stock room; /* what was asked for it is found again by this member */
	const char *asked;     /* the name it was looked for by */
	struct shop_stock *next;
};
struct stocks {
	struct call *call;
	const struct tag_habits *habits;
	const char *forced; /* `stock=`, or NULL: each tag's own */
	struct shop_stock *first;
};

/*
 * For struct tag_stocks, whose context is the struct stocks: `stock=`, else that which the tag was
 * printed on last, else that of the settings. OUTCOME_BAD: no such stock, a fault in its file, an
 * attribute on it that nothing has, a stock that is not for this use.
 */
enum outcome stocks_find(enum tag_use use, const char *printed_on, const struct tag_stock **out,
                         void *context, struct fault *fault);
/* What a stock says that it is for, of what the room calls a use. */
enum stock_use stocks_use(enum tag_use use);
/* The stock that the room was given. */
const struct stock *stocks_of(const struct stocks *stocks, const struct tag_stock *stock);

#endif
