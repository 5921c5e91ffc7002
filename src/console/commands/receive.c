/* `receive TAG [at=PLACE]`: a tool comes back. */
#include "../bench.h"
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct moved moved = {0};
	enum outcome outcome =
		room_receive(call->store, call->arena, call_bare(call, 0), call_value(call, "at"),
	                 &bench_asks, &call->actor, &moved, call->fault);
	if (outcome == OUTCOME_DONE) {
		moved_write(call, &moved);
		moved_say(call, &moved);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the tool"},
	{.name = "at",
     .type = ARGUMENT_OWN_PLACE,
     .keyed = true,
     .meaning = "where it is put; its home where not given"},
};

static const char *const examples[] = {"receive DI000022-Z at=D1", NULL};

const struct command command_receive = {
	.name = "receive",
	.summary = "take a tool back from a supplier or a job",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
