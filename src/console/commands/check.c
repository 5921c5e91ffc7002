/* `check JOB`: can this job run, and if not, what is missing and what would cure it. */
#include "../check_answer.h"
#include "commands.h"

static enum outcome run(struct call *call)
{
	struct check_request request;
	struct check check = {0};
	enum outcome outcome = check_asked(call, &request);
	if (outcome == OUTCOME_DONE) {
		outcome = plan_check(call->store, call->arena, &request, &check, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	check_write(call, &check);
	check_say(call, &check);
	return check.verdict == VERDICT_SHORT ? OUTCOME_NO : OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
	{.name = "press",
     .type = ARGUMENT_PRESS,
     .keyed = true,
     .repeated = true,
     .meaning = "one or several; else those of the job, else every press"},
	{.name = "from",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "when the tools are needed; else as the job says, else now"},
	{.name = "until",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "until when; else as the job says, else from"},
};

static const char *const examples[] = {
	"check J2601",
	"check J2603 press=P1,P2",
	"check J2608 from=2026-12-02T06:00 until=2026-12-02T14:00",
	NULL,
};

const struct command command_check = {
	.name = "check",
	.summary = "whether the tools for a job are there, what is missing, what would cure it",
	.more =
		"Exit 0: ready, with caution or without. Exit 1: short. The best press comes first, the "
		"others below. Wear and life are judged from the run on record today; what jobs booked before "
		"it will run is not added.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
