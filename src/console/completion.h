/* What Tab offers: read from the table of commands, the kinds, the settings and the store. */
#ifndef TOOTHRACK_CONSOLE_COMPLETION_H
#define TOOTHRACK_CONSOLE_COMPLETION_H

#include "calc.h"
#include "session.h"

struct completion {
	struct arena *arena;
	const char **words; /* whole words as they would stand in the line */
	size_t count, room;
	bool files; /* names of files too: each `prefix` and a name that begins with `start` */
	const char *prefix;
	const char *start;
};

/* What the word that begins `partial` may become, where `before` is the line in front of it. */
void completion_find(struct console *console, struct arena *arena, const char *before,
                     const char *partial, struct completion *out);

/*
 * The kind or the topic whose keys the command takes, named by its first word; both NULL where
 * that is not there yet.
 */
void completion_attributes(struct console *console, const struct call *call,
                           const struct kind **kind, const struct calc_topic **topic);

/*
 * Behind the word after which a command takes what `find` does: the call of `find` that stands
 * there; else the call as it is.
 */
struct call completion_inner(struct arena *arena, const struct call *call);

/*
 * What a person may want to know where Tab finds nothing to offer: the argument that comes next,
 * what it means and how its value is written. "" where the line makes no sense so far.
 */
const char *completion_hint(struct console *console, struct arena *arena, const char *before,
                            const char *partial);

#endif
