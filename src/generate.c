/* Makes while building what comes from the tables of commands: the manual page, bash's words. */
#include <stdio.h>
#include <string.h>

#include "toothrack/console.h"

int main(int argument_count, char **arguments)
{
	struct arena *arena = arena_new();
	const char *asked = argument_count == 2 ? arguments[1] : "";
	const char *made = NULL;
	if (strcmp(asked, "manual") == 0) {
		made = manual_page(arena);
	} else if (strcmp(asked, "bash") == 0) {
		made = shell_words(arena);
	} else {
		fputs("usage: generate manual|bash\n", stderr);
	}
	bool done = made != NULL && fputs(made, stdout) != EOF && fflush(stdout) != EOF;
	arena_free(arena);
	return done ? OUTCOME_DONE : OUTCOME_BAD;
}
