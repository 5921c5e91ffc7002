/* `reblade TAG`: a new blade is in its assembly. */
#include "../cared_run.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	return new_life_run(call, care_reblade);
}

static const char *const attributes[] = {"material", "thickness", "edge", "length",
                                         "life",     "fitted",    "note", NULL};

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the blade assembly"},
	{.name = "attributes",
     .type = ARGUMENT_ATTRIBUTES,
     .repeated = true,
     .choices = attributes,
     .meaning = "of the new blade, where it is another: material=, thickness=, edge=, length=, "
                "life=; fitted= (today where it is not given), note="},
};

static const char *const examples[] = {
	"reblade DB000025-2",
	"reblade DB000025-2 material=coated life=200000m",
	NULL,
};

const struct command command_reblade = {
	.name = "reblade",
	.summary = "record a new blade in its assembly: its life begins anew",
	.more =
		"The run goes back to nothing, the whole face is usable again; what the blade before "
		"had run stays in the history. Where fitted= is before today what ran, was done and "
		"found since is of the new life, damage too. Blades cut: cut-resistant gloves, the press maker's "
		"manual, a trained person.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
