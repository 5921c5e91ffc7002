/* `send TAG at=PLACE back=DATE reason=...`: a tool goes to a supplier. */
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct known_moment back;
	struct moved moved = {0};
	enum outcome outcome = call_moment(call, "back", &back);
	if (outcome == OUTCOME_DONE) {
		outcome = room_send(call->store, call->arena, call_bare(call, 0), call_value(call, "at"),
		                    back.known ? &back.value : NULL, call_value(call, "reason"),
		                    &call->actor, &moved, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		moved_write(call, &moved);
		moved_say(call, &moved);
		handling_say(call, &moved, 1);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the tool"},
	{.name = "at",
     .type = ARGUMENT_SUPPLIER,
     .keyed = true,
     .required = true,
     .meaning = "the supplier it goes to"},
	{.name = "back",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "when it is due back; a bare date is the end of that day"},
	{.name = "reason",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .required = true,
     .meaning = "what is to be done to it"},
};

static const char *const examples[] =
	{"send AN000009-B at=S1 back=2035-01-15 reason=\"to be engraved anew\"", NULL};

const struct command command_send = {
	.name = "send",
	.summary = "send a tool to a supplier",
	.more = "Without back= the check takes it that the tool will not be there.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
