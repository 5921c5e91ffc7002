/* Selecting records: what its files share. */
#ifndef TOOTHRACK_STORE_SELECT_H
#define TOOTHRACK_STORE_SELECT_H

#include "internal.h"

/*
 * The two queries for the records of a kind, as ids in the order in which they are listed: among
 * all of them, or among those that stand in the table `found`. Every attribute has a parameter of
 * its name, NULL where nothing is asked of it, and `X_most` where it is asked within bounds.
 */
struct select_sql {
	const struct statement *all, *among;
};
const struct select_sql *select_sql_of(const struct kind *kind);

/*
 * The table `found`, of this connection alone, holds what a search begins with: numbers of records
 * times eight plus the code of what they are, as in `search` (0 a tool ... 4 an operator).
 */
int64_t found_code(const struct kind *kind);
/* Makes it, and the functions that the queries call; once, when the store is opened. */
enum outcome select_open(struct store *store, struct fault *fault);

/*
 * Fills `found` with the few records that can be meant, where words, or what is asked of an
 * attribute with an index, say which; `*narrowed` is false where all of the kind can.
 */
enum outcome found_fill(struct store *store, const struct selection *selection, bool *narrowed,
                        struct fault *fault);

/* Binds what is asked; what it binds is copied. */
void select_bind(sqlite3_stmt *stmt, const struct selection *selection);

#endif
