/* `show TAG`: everything known of one record. */
#include "../shown.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct shown shown = {0};
	enum outcome outcome = room_show(call->store, call->arena, call_bare(call, 0), call->units,
	                                 call->now, &shown, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (answer_form(call->answer) == FORM_TEXT) {
		shown_say(call, &shown);
	} else {
		shown_write(call->answer, &shown);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG,
     .required = true,
     .meaning = "a tag, place or press code, job number, badge or other_tag"},
};

static const char *const examples[] = {"show J2601", "show P1", NULL};

const struct command command_show = {
	.name = "show",
	.summary = "what it is, where, in what condition, and what happened last",
	.more = "In the console a line that is a tag alone means the same.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
