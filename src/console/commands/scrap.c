/* `scrap TAG reason=...`: a tool never runs again. */
#include <string.h>

#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct answer *answer = call->answer;
	struct scrapped scrapped;
	enum outcome outcome =
		room_scrap(call->store, call->arena, call_bare(call, 0), call_value(call, "reason"),
	               &call->actor, &scrapped, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", scrapped.tool.tag);
	answer_word(answer, "condition", "scrapped");
	answer_word(answer, "reason", scrapped.reason);
	answer_word(answer, "place", scrapped.tool.place_code);
	answer_word(answer, "caution", scrapped.caution);
	answer_object_close(answer);
	answer_line(answer, MARK_PLAIN, "%s  scrapped: %s  (%s)", scrapped.tool.tag, scrapped.reason,
	            scrapped.what);
	if (scrapped.caution != NULL) {
		answer_line(answer, MARK_CAUTION, "  caution: %s", scrapped.caution);
	}
	if (scrapped.tool.place_sort != NULL && strcmp(scrapped.tool.place_sort, "press") == 0) {
		const struct moved still = {.tool = scrapped.tool};
		handling_say(call, &still, 1);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the tool"},
	{.name = "reason",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .required = true,
     .meaning = "why it never runs again"},
};

static const char *const examples[] = {"scrap DI000018-R reason=\"nicked at lane 3\"", NULL};

const struct command command_scrap = {
	.name = "scrap",
	.summary = "say that a tool never runs again, with the reason",
	.more =
		"It stays on record with its history. Only undo, or edit with condition=ready, puts right "
		"what was scrapped by mistake.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
