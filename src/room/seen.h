/*
 * What an import has come by, and on which line: a set of numbers (ids of records, keys of names)
 * that grows with the file.
 */
#ifndef TOOTHRACK_ROOM_SEEN_H
#define TOOTHRACK_ROOM_SEEN_H

#include "toothrack/base.h"

struct seen_slot {
	uint64_t key; /* 0: free */
	int64_t line;
};
struct seen {
	struct arena *arena; /* of its own: replaced when the table grows */
	struct seen_slot *slots;
	size_t room, count;
};
/* The line on which it stood; 0: not seen yet. The key 0 is never seen. */
int64_t seen_line(const struct seen *seen, uint64_t key);
void seen_add(struct seen *seen, uint64_t key, int64_t line);
void seen_free(struct seen *seen);

/*
 * A key for a name, in either case alike, that is not 0. FNV-1a of 64 bits (G. Fowler, L. C. Noll,
 * K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash Algorithm", IETF draft): two names that
 * share one do not come by chance.
 */
uint64_t seen_key(const char *name);

#endif
