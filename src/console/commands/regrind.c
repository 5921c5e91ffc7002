/* `regrind TAG`: a die ground anew, or a roll engraved anew. */
#include "../cared_run.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	return new_life_run(call, care_regrind);
}

static const char *const attributes[] = {"life",     "volume",   "line_screen", "angle", "surface",
                                         "engraved", "diameter", "note",        NULL};

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the die or anilox roll"},
	{.name = "attributes",
     .type = ARGUMENT_ATTRIBUTES,
     .repeated = true,
     .choices = attributes,
     .meaning = "where it is another: life= of a die; volume=, line_screen=, angle=, surface=, "
                "diameter= and engraved= (today where it is not given) of a roll; note="},
};

static const char *const examples[] = {
	"regrind DI000037-J",
	"regrind AN000007-F volume=4.3bcm line_screen=360lpi",
	NULL,
};

const struct command command_regrind = {
	.name = "regrind",
	.summary = "record a die ground anew, or a roll engraved anew: its life begins anew",
	.more =
		"The run goes back to nothing; what ran before stays in the history. Of a roll the "
		"whole face is usable again, its readings begin anew, and its volume when new is not "
		"known unless it is given. Where engraved= is before today what was read, ran, was done "
		"and found since is of the new life, damage too. Die edges cut: cut-resistant gloves, a trained person.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
