/* What is asked of an attribute, out of the words typed. */
#ifndef TOOTHRACK_ROOM_ASKING_H
#define TOOTHRACK_ROOM_ASKING_H

#include "toothrack/room.h"

/*
 * Reads `key=value` as it is asked in `find`: a value, a range `330mm..`, or nothing for what is
 * not known; finds what it names. OUTCOME_BAD where no record can have such a value.
 */
enum outcome asking_read(struct store *store, struct arena *arena, const struct kind *kind,
                         size_t attribute, const char *text, struct asked *out,
                         struct fault *fault);

#endif
