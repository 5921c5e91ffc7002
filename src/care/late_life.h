/* A life that began before it was put on record: what was done and found since is of it. */
#ifndef TOOTHRACK_CARE_LATE_LIFE_H
#define TOOTHRACK_CARE_LATE_LIFE_H

#include "tool.h"

/* A life that begins, with a face that is new. */
struct late_life {
	struct store *store;
	struct arena *arena;
	enum units units;
	const struct care_tool *tool;
	const char *date;    /* attribute that says when it began: `fitted`, `engraved` */
	struct moment since; /* that */
	struct life_since found;
	struct care_row *damage; /* found since, latest first */
	size_t damage_count;
};
/*
 * Looks at what was done and found since. Damage counts on: the usable face is what it leaves, in
 * the record as it will stand, told in `out`, and a question there too. A usable band that a person
 * has put on record since, which no damage makes, stays as it was; so does one where what is left
 * cannot be worked out.
 */
enum outcome late_life_read(struct late_life *late, struct cared *out, struct fault *fault);
/* `of this life since 2026-01-04: read 2 times, cleaned, gauged`; NULL: nothing of it is. */
const char *late_life_text(const struct late_life *late);

#endif
