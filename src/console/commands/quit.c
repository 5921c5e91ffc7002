/* `quit`: leaves the console. */
#include "../session.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	call->console->leaving = true;
	return OUTCOME_DONE;
}

static const char *const examples[] = {"quit", NULL};

const struct command command_quit = {
	.name = "quit",
	.summary = "leave; Ctrl-D does the same",
	.needs = NEEDS_NO_STORE,
	.examples = examples,
	.run = run,
};
