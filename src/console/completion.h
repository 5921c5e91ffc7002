/* What Tab offers: read from the table of commands, the kinds, the settings and the store. */
#ifndef TOOTHRACK_CONSOLE_COMPLETION_H
#define TOOTHRACK_CONSOLE_COMPLETION_H

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

#endif
