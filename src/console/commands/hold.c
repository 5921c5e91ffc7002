/* `hold TAG reason=...`: a tool or a press station may not run. */
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct answer *answer = call->answer;
	struct held held = {0};
	enum outcome outcome = room_hold(call->store, call->arena, call_bare(call, 0),
	                                 call_value(call, "reason"), &call->actor, &held, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", held.subject);
	answer_word(answer, "condition", "hold");
	answer_word(answer, "reason", held.reason);
	answer_object_close(answer);
	answer_line(answer, MARK_PLAIN, "%s  on hold: %s  (%s)", held.subject, held.reason, held.what);
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG,
     .required = true,
     .meaning = "the tool, or the code of a press station"},
	{.name = "reason",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .required = true,
     .meaning = "why it may not run"},
};

static const char *const examples[] = {
	"hold AN000025-B reason=\"scored band 40mm from the gear side\"",
	"hold P1-3 reason=\"dryer lamp out\"",
	NULL,
};

const struct command command_hold = {
	.name = "hold",
	.summary = "keep a tool or a press station from running, with the reason",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
