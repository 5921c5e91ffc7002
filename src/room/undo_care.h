/* Care taken back. */
#ifndef TOOTHRACK_ROOM_UNDO_CARE_H
#define TOOTHRACK_ROOM_UNDO_CARE_H

#include "toothrack/room.h"

/*
 * Takes an entry of care back, within the caller's transaction; `called` names the tool. `result`
 * tells how things stand again. Refused (OUTCOME_NO): the life that it began was read or has run.
 */
enum outcome undo_care_entry(struct store *store, struct arena *arena,
                             const struct undo_entry *entry, const char *called,
                             const struct actor *actor, const char **result, struct fault *fault);

#endif
