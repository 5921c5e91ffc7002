/* `cleaned TAG...`: tools were cleaned. */
#include "../cared_run.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	return cleaning_run(call, "cleaned", "cleaned");
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TOOL,
     .required = true,
     .repeated = true,
     .meaning = "the tools, by tag or other_tag"},
};

static const char *const examples[] = {"cleaned AN000025-B AN000026-9", NULL};

const struct command command_cleaned = {
	.name = "cleaned",
	.summary = "say that tools have been cleaned",
	.more =
		"All tools named, or none. A reading of a roll after cleaning tells its wear: see reading.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
