/* Words that the room's answers share. */
#ifndef TOOTHRACK_CARE_WORDS_H
#define TOOTHRACK_CARE_WORDS_H

#include "toothrack/care.h"

/* A tool in a few words: `anilox roll, 141.732/cm`. In the arena. */
const char *care_what(struct arena *arena, const struct record *record, enum units units);
/* A volume to 0.01, what a reading is good for: `6.67cm3/m2`. In the arena. */
const char *care_volume(struct arena *arena, struct volume volume, enum units units);

#endif
