/* The lives of tools, within the store. */
#ifndef TOOTHRACK_STORE_LIFE_H
#define TOOTHRACK_STORE_LIFE_H

#include "internal.h"

/*
 * By the last entry, whose care, written already, says when: the next life of a tool begins. What
 * was read and ran in it before it was put on record goes with it; `split` tells how much that is,
 * NULL: it begins now. The run on record is the caller's.
 */
enum outcome life_begin(struct store *store, int64_t tool, const struct life_split *split,
                        struct fault *fault);
/* The life that an entry began is the one before again, with all that was read and ran in it. */
enum outcome life_give_back(struct store *store, const struct undo_entry *entry,
                            struct fault *fault);

#endif
