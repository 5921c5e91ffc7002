/* `remove JOB station=N`: a row of a job. */
#include "../records.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct answer *answer = call->answer;
	struct removed removed;
	enum outcome outcome =
		room_remove(call->store, call->arena, call_bare(call, 0), call_value(call, "station"),
	                call_value(call, "cut"), &call->actor, &removed, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(answer, NULL);
	answer_word(answer, "removed", removed.called);
	answer_word(answer, "caution", removed.caution);
	record_write(answer, removed.record);
	answer_object_close(answer);
	answer_line(answer, MARK_PLAIN, "%s  removed: %s", removed.job,
	            room_summary(call->arena, removed.record, call->units));
	if (removed.caution != NULL) {
		answer_line(answer, MARK_CAUTION, "  caution: %s", removed.caution);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
	{.name = "station", .type = ARGUMENT_TEXT, .keyed = true, .meaning = "which station of it"},
	{.name = "cut", .type = ARGUMENT_TEXT, .keyed = true, .meaning = "or which cut"},
};

static const char *const examples[] = {"remove J2601 station=3", NULL};

const struct command command_remove = {
	.name = "remove",
	.summary = "take a station or a cut off a job",
	.more =
		"What it held stays in the ledger, and undo brings it back. Nothing else is ever removed: "
		"a tool is scrapped, a place, press or operator retired, a job cancelled.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
