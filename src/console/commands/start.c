/* `start JOB`: it runs, on the press that it was promised. */
#include "commands.h"
#include "toothrack/plan.h"

static void started_write(struct answer *answer, const struct job_turned *turned)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "job", turned->job);
	answer_word(answer, "press", turned->press);
	answer_count(answer, "tools", (int64_t)turned->tool_count);
	if (answer_form(answer) == FORM_JSON) {
		answer_array_open(answer, "cautions");
		for (size_t i = 0; i < turned->caution_count; i++) {
			answer_word(answer, NULL, turned->cautions[i]);
		}
		answer_array_close(answer);
	}
	answer_object_close(answer);
}

static enum outcome run(struct call *call)
{
	struct job_turned turned;
	struct text line = text_start(call->arena);
	enum outcome outcome =
		plan_start(call->store, call->arena, call_bare(call, 0), call_value(call, "press"),
	               &call->actor, &turned, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	started_write(call->answer, &turned);
	text_add_format(&line, "%s runs on %s", turned.job, turned.press);
	if (turned.until.known) {
		text_add_format(&line, ", until %s by its plan", moment_text(turned.until.value).bytes);
	}
	if (turned.tool_count == 0) {
		text_add(&line, ", no tools booked for it");
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	for (size_t i = 0; i < turned.caution_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", turned.cautions[i]);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
	{.name = "press",
     .type = ARGUMENT_PRESS,
     .keyed = true,
     .meaning = "which it runs on; else that of its booking, else the only one it names"},
};

static const char *const examples[] = {
	"start J2601",
	"start J2603 press=P2",
	NULL,
};

const struct command command_start = {
	.name = "start",
	.summary = "say that a job runs now, and on which press",
	.more = "What has broken its booking is said as a caution, and does not keep it from starting.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
