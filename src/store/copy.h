/* A copy of a shop while it is made: it gets its name only when it is whole and on the disk. */
#ifndef TOOTHRACK_STORE_COPY_H
#define TOOTHRACK_STORE_COPY_H

#include "internal.h"

struct copy {
	const char *name;    /* what it will be called */
	const char *part;    /* what it is called until then: `name.part` */
	const char *undone;  /* what did not come about where it fails: "no copy was made" */
	int file;            /* open on the part, locked against another who makes it; -1: not */
	struct store *store; /* open on the part, for messages called `name`; NULL: not */
};
#define COPY_NONE ((struct copy){.file = -1})

/*
 * Begins a copy that will be called `name`; copy_settle refuses where that is taken. What a killed
 * program left of the same copy is written over. The caller ends with copy_discard, whatever the
 * outcome.
 */
enum outcome copy_begin(struct copy *copy, struct arena *arena, const char *name,
                        const char *undone, struct fault *fault);
/* Is nothing called so yet? Else OUTCOME_BAD. */
enum outcome copy_name_free(const char *name, struct fault *fault);
/*
 * Writes all pages of `source` as they stand at one moment, then makes the copy a single file. A
 * reader's lock is held meanwhile, which keeps no writer of a shop waiting. `doing` is for the
 * watch, which may be NULL.
 */
enum outcome copy_pages(struct copy *copy, struct store *source, const char *doing,
                        const struct watch *watch, struct fault *fault);
/* On the disk, and under its name; then nothing is left to discard. */
enum outcome copy_settle(struct copy *copy, int64_t *bytes, struct fault *fault);
/* Gives it up and removes what there is of it. Settled or not begun: nothing happens. */
void copy_discard(struct copy *copy);

/* How many records there are, of all kinds. */
enum outcome count_records(struct store *store, int64_t *out, struct fault *fault);

void watch_tell(const struct watch *watch, const char *doing, int64_t done, int64_t all);

#endif
