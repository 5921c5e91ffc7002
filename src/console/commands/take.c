/* `take TAG... job=JOB`: tools go out for a job; they stay on record where they were. */
#include "../bench.h"
#include "../records.h"
#include "commands.h"

static void taken_write(struct answer *answer, const struct taken *taken)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", taken->tool.tag);
	answer_word(answer, "kind", taken->tool.kind->name);
	answer_word(answer, "place", taken->tool.place_code);
	answer_word(answer, "job", taken->tool.taken_for);
	answer_word(answer, "serves", taken->serves);
	answer_word(answer, "caution", taken->caution);
	answer_object_close(answer);
}

static void taken_say(struct call *call, const struct taken *taken)
{
	const struct tool_state *tool = &taken->tool;
	struct text line = text_start(call->arena);
	text_add_format(&line, "%s  ", tool->tag);
	if (tool->place_code != NULL) {
		text_add_format(&line, "from %s, ", tool->place_code);
	}
	text_add_format(&line, "out for job %s", tool->taken_for);
	if (taken->serves != NULL) {
		text_add_format(&line, ": %s", taken->serves);
	}
	answer_line(call->answer, MARK_PLAIN, "%s  %s", line.bytes, tool_summary(call, tool));
	if (taken->caution != NULL) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", taken->caution);
	}
}

/* Whoever takes them out carries them. */
static void carrying_say(struct call *call, const struct taken *taken, size_t count)
{
	struct moved *moved = arena_take(call->arena, count, sizeof *moved);
	for (size_t i = 0; i < count; i++) {
		moved[i].tool = taken[i].tool;
	}
	handling_say(call, moved, count);
}

static enum outcome run(struct call *call)
{
	size_t count = call_bare_count(call);
	const char **tags = arena_take(call->arena, count, sizeof *tags);
	struct taken *taken = arena_take(call->arena, count, sizeof *taken);
	for (size_t i = 0; i < count; i++) {
		tags[i] = call_bare(call, i);
	}
	enum outcome outcome = room_take(call->store, call->arena, tags, count, call_value(call, "job"),
	                                 &bench_asks, &call->actor, taken, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		taken_write(call->answer, &taken[i]);
		taken_say(call, &taken[i]);
	}
	answer_array_close(call->answer);
	carrying_say(call, taken, count);
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TOOL,
     .required = true,
     .repeated = true,
     .meaning = "the tools, by tag or other_tag"},
	{.name = "job",
     .type = ARGUMENT_JOB,
     .keyed = true,
     .required = true,
     .meaning = "the job that they go out for, by number or tag"},
};

static const char *const examples[] = {"take PC000025-1 job=J2601", NULL};

const struct command command_take = {
	.name = "take",
	.summary = "say that tools go out for a job",
	.more =
		"A tool is out for the job until it is put or received; its place on record stays as it "
		"was. Only what would serve a need of the job that is still open is taken. All tools "
		"named are taken, or none.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
