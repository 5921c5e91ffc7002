/* Which records an import has come by, and on which line: a set of ids that grows with the file. */
#ifndef TOOTHRACK_ROOM_SEEN_H
#define TOOTHRACK_ROOM_SEEN_H

#include "toothrack/base.h"

struct seen_slot {
	int64_t id; /* 0: free */
	int64_t line;
};
struct seen {
	struct arena *arena; /* of its own: replaced when the table grows */
	struct seen_slot *slots;
	size_t room, count;
};
/* The line on which the record stood; 0: not seen yet. */
int64_t seen_line(const struct seen *seen, int64_t id);
void seen_add(struct seen *seen, int64_t id, int64_t line);
void seen_free(struct seen *seen);

#endif
