/* `clear TAG`: what was on hold may run again. */
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct answer *answer = call->answer;
	struct held held = {0};
	enum outcome outcome =
		room_clear(call->store, call->arena, call_bare(call, 0), &call->actor, &held, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", held.subject);
	answer_word(answer, "condition", "ready");
	answer_word(answer, "reason", held.reason);
	answer_object_close(answer);
	answer_line(answer, MARK_PLAIN, "%s  ready again  (%s)", held.subject, held.what);
	if (held.reason != NULL) {
		answer_line(answer, MARK_PLAIN, "  was on hold: %s", held.reason);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG,
     .required = true,
     .meaning = "the tool, or the code of a press station"},
};

static const char *const examples[] = {"clear AN000026-9", NULL};

const struct command command_clear = {
	.name = "clear",
	.summary = "let what was on hold run again",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
