/* `put TAG... at=PLACE`: tools are now at a place. */
#include <string.h>

#include "../bench.h"
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	size_t count = call_bare_count(call);
	const char **tags = arena_take(call->arena, count, sizeof *tags);
	struct moved *moved = arena_take(call->arena, count, sizeof *moved);
	for (size_t i = 0; i < count; i++) {
		tags[i] = call_bare(call, i);
	}
	enum outcome outcome = room_put(call->store, call->arena, tags, count, call_value(call, "at"),
	                                &bench_asks, &call->actor, moved, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		moved_write(call, &moved[i]);
		moved_say(call, &moved[i]);
	}
	answer_array_close(call->answer);
	/* From shelf to shelf is everybody's daily work. */
	if (strcmp(moved[0].tool.place_sort, "press") == 0 ||
	    strcmp(moved[0].tool.place_sort, "wash") == 0) {
		handling_say(call, moved, count);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TOOL,
     .required = true,
     .repeated = true,
     .meaning = "the tools, by tag or other_tag"},
	{.name = "at",
     .type = ARGUMENT_OWN_PLACE,
     .keyed = true,
     .required = true,
     .meaning = "where they are now"},
};

static const char *const examples[] = {"put PC000025-1 PC000026-0 at=C1", NULL};

const struct command command_put = {
	.name = "put",
	.summary = "say where tools are now",
	.more = "All tools named are put, or none. What goes to a supplier is sent: see send. "
			"At a press a caution tells of what it does not take.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
