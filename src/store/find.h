/* What finding and guessing share: where names are kept, and which records may be meant. */
#ifndef TOOTHRACK_STORE_FIND_H
#define TOOTHRACK_STORE_FIND_H

#include "internal.h"

/* May a record of this kind be meant where that is wanted? */
bool find_is_wanted(const struct kind *kind, enum reference wanted);
/* By a tag of ours, read already; `out->id` 0 where nothing bears it. */
enum outcome find_by_tag(struct store *store, struct tag tag, struct found *out,
                         struct fault *fault);
/* By a code, number, badge or other tag; `out->id` 0 where there is none. */
enum outcome find_by_code(struct store *store, const char *code, enum reference wanted,
                          struct found *out, struct fault *fault);

/*
 * What on record is one slip away from a name that nothing has, at most three, each with what it
 * is: `R1-3 (rack 1, bottom shelf) or K-19 (plate cylinder, 96 teeth)`. Empty where there is none.
 * It only helps whoever typed it: where the store fails, nothing is said. By index alone, some
 * hundred names at most.
 */
struct nearest_text {
	char bytes[440]; /* a hint holds it, and some words before it */
};
struct nearest_text find_nearest(struct store *store, const char *code, enum reference wanted);

#endif
