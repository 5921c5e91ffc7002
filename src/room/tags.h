/* What the files about tags to be printed share. */
#ifndef TOOTHRACK_ROOM_TAGS_H
#define TOOTHRACK_ROOM_TAGS_H

#include "toothrack/room.h"

/*
 * One line of a record's tag, short enough for arm's length: `96 teeth 1/8cp · face 330mm`; NULL
 * where the record has none of it.
 */
const char *tag_line_say(struct arena *arena, const struct record *record,
                         const struct tag_line *line, enum units units);
/* The same of a card. */
const char *tag_line_say_card(struct arena *arena, const struct action_card *card,
                              const struct tag_line *line);

/* `PC000123-Y`, then the lines, one a line. */
const char *tag_face_say(struct arena *arena, const char *tag, const char *const *lines,
                         size_t count);

/*
 * What the symbol carries. OUTCOME_BAD: a GIAI without a company prefix, one that grows too long.
 */
enum outcome tag_content_say(struct arena *arena, const struct tag_habits *habits, struct tag tag,
                             const char **content, bool *gs1, struct fault *fault);

#endif
