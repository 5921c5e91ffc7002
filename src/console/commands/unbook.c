/* `unbook JOB`: what was promised to it is free again. */
#include "commands.h"
#include "toothrack/plan.h"

static enum outcome run(struct call *call)
{
	struct kept_promise promise;
	enum outcome outcome = plan_unbook(call->store, call->arena, call_bare(call, 0), &call->actor,
	                                   &promise, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "job", promise.job_number);
	answer_word(call->answer, "press", promise.press_code);
	answer_moment(call->answer, "from", promise.from);
	answer_moment(call->answer, "until", promise.until);
	answer_count(call->answer, "tools", (int64_t)promise.tool_count);
	answer_object_close(call->answer);
	answer_line(call->answer, MARK_PLAIN,
	            "%s no longer booked on %s from %s until %s, %zu tool%s free again",
	            promise.job_number, promise.press_code, moment_text(promise.from).bytes,
	            moment_text(promise.until).bytes, promise.tool_count,
	            promise.tool_count == 1 ? "" : "s");
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
};

static const char *const examples[] = {
	"unbook J2601",
	NULL,
};

const struct command command_unbook = {
	.name = "unbook",
	.summary = "give the tools promised to a job free again",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
