/* `calc TOPIC key=value...`: the arithmetic alone. */
#include "../calc.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	const struct calc_topic *topic = calc_topic_find(call_bare(call, 0));
	struct value *given = arena_take(call->arena, topic->key_count, sizeof *given);
	enum outcome outcome = calc_read(call, topic, given);
	return outcome == OUTCOME_DONE ? topic->run(call, given) : outcome;
}

static const struct argument arguments[] = {
	{.name = "topic", .type = ARGUMENT_TOPIC, .required = true, .meaning = "what is asked"},
	{.name = "keys",
     .type = ARGUMENT_ATTRIBUTES,
     .repeated = true,
     .meaning = "what is known, as the topic takes it"},
};

static const char *const examples[] = {
	"calc repeat teeth=96 pitch=1/8cp",
	"calc distortion repeat=15in plate=0.112in base=0.005in",
	"calc volume volume=4bcm",
	NULL,
};

const struct command command_calc = {
	.name = "calc",
	.summary = "the arithmetic alone: repeats, plates, layout, cells; needs no shop file",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_NO_STORE,
	.examples = examples,
	.run = run,
};
