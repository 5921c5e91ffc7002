/* `finish JOB`: it has run, and what was promised to it is free again. */
#include "commands.h"
#include "toothrack/plan.h"

static enum outcome run(struct call *call)
{
	struct job_turned turned;
	struct text line = text_start(call->arena);
	enum outcome outcome = plan_finish(call->store, call->arena, call_bare(call, 0), &call->actor,
	                                   &turned, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "job", turned.job);
	answer_word(call->answer, "press", turned.press);
	if (turned.since.known) {
		answer_moment(call->answer, "since", turned.since.value);
	} else {
		answer_null(call->answer, "since");
	}
	answer_count(call->answer, "tools", (int64_t)turned.tool_count);
	answer_object_close(call->answer);
	text_add_format(&line, "%s finished", turned.job);
	if (turned.press != NULL) {
		text_add_format(&line, " on %s", turned.press);
	}
	if (turned.since.known) {
		text_add_format(&line, ", running since %s", moment_text(turned.since.value).bytes);
	}
	if (turned.tool_count > 0) {
		text_add_format(&line, ", %zu tool%s no longer booked", turned.tool_count,
		                turned.tool_count == 1 ? "" : "s");
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
};

static const char *const examples[] = {
	"finish J2601",
	NULL,
};

const struct command command_finish = {
	.name = "finish",
	.summary = "say that a job has run",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
