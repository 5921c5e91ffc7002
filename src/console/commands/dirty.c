/* `dirty TAG...`: cleaning of tools is due. */
#include "../cared_run.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	return cleaning_run(call, "dirty", "dirty, cleaning is due");
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TOOL,
     .required = true,
     .repeated = true,
     .meaning = "the tools, by tag or other_tag"},
};

static const char *const examples[] = {"dirty AN000025-B AN000026-9", NULL};

const struct command command_dirty = {
	.name = "dirty",
	.summary = "say that tools are due for cleaning",
	.more =
		"All tools named, or none. The check is not changed by it: due lists them until they are cleaned.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
