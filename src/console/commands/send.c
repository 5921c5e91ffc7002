/* `send TAG at=PLACE back=DATE reason=...`: a tool goes to a supplier. */
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	const char *back_text = call_value(call, "back");
	struct moment back = {0};
	struct moved moved = {0};
	if (back_text != NULL && moment_parse(back_text, &back, call->fault) != OUTCOME_DONE) {
		return OUTCOME_BAD;
	}
	enum outcome outcome = room_send(call->store, call->arena, call_bare(call, 0),
	                                 call_value(call, "at"), back_text != NULL ? &back : NULL,
	                                 call_value(call, "reason"), &call->actor, &moved, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	moved_write(call, &moved);
	moved_say(call, &moved);
	if (back_text != NULL && moment_compare(moment_of_day_end(back), call->now) < 0) {
		answer_line(call->answer, MARK_CAUTION, "  caution: due back before now: %s",
		            moment_text(back).bytes);
	}
	handling_say(call, &moved, 1, false);
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the tool"},
	{.name = "at",
     .type = ARGUMENT_PLACE,
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
	{"send AN000009-B at=S1 back=2026-12-15 reason=\"to be engraved anew\"", NULL};

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
