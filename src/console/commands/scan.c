/* `scan [FILE]`: the scanning bench, or what a handheld brought along. */
#include <inttypes.h>

#include "../bench.h"
#include "commands.h"

static void report_write(struct answer *answer, const char *file, const struct batch_report *report)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "file", file);
	answer_count(answer, "lines", report->lines);
	answer_count(answer, "applied", report->applied);
	answer_count(answer, "known", report->known);
	answer_count(answer, "quiet", report->quiet);
	answer_count(answer, "problem_count", report->problem_count);
	answer_array_open(answer, "problems");
	for (size_t i = 0; i < report->problems_kept; i++) {
		const struct batch_problem *problem = &report->problems[i];
		answer_object_open(answer, NULL);
		answer_count(answer, "line", problem->line);
		answer_word(answer, "code", problem->code);
		answer_word(answer, "text", problem->text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	answer_object_close(answer);
}

static void report_say(struct call *call, const char *file, const struct batch_report *report)
{
	struct text line = text_start(call->arena);
	text_add_format(&line, "%s: %" PRId64 " scans, %" PRId64 " applied", file, report->lines,
	                report->applied);
	if (report->known > 0) {
		text_add_format(&line, ", %" PRId64 " applied before", report->known);
	}
	if (report->quiet > 0) {
		text_add_format(&line, ", %" PRId64 " with nothing to record", report->quiet);
	}
	if (report->problem_count > 0) {
		text_add_format(&line, ", %" PRId64 " not applied", report->problem_count);
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	for (size_t i = 0; i < report->problems_kept; i++) {
		const struct batch_problem *problem = &report->problems[i];
		answer_line(call->answer, MARK_BAD, "line %" PRId64 ": %s: %s", problem->line,
		            problem->code, problem->text);
	}
	if (report->problem_count > (int64_t)report->problems_kept) {
		answer_line(call->answer, MARK_BAD, "and %" PRId64 " more",
		            report->problem_count - (int64_t)report->problems_kept);
	}
}

static enum outcome run(struct call *call)
{
	const char *file = call_bare(call, 0);
	if (file == NULL) {
		return bench_run(call, NULL);
	}
	struct batch_report report = {0};
	enum outcome outcome = room_batch(call->store, call->arena, file, &bench_asks, &call->actor,
	                                  &call->limits, &report, call->fault);
	if (outcome <= OUTCOME_NO) {
		report_write(call->answer, file, &report);
		report_say(call, file, &report);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "file",
     .type = ARGUMENT_FILE,
     .meaning = "a handheld's lines of moment,code; else the bench begins"},
};

static const char *const examples[] = {"scan", NULL};

const struct command command_scan = {
	.name = "scan",
	.summary = "the scanning bench: badges, places, jobs, tools and cards, one scan after another",
	.more =
		"A place stands until the next place, DONE or 60 seconds of quiet: tools scanned then go "
		"there. Tools scanned with no place standing wait for the next. A job stands the same "
		"way: tools go out for it. CR, LF or TAB ends a scan; quit or Ctrl-D leaves. Off a "
		"terminal the lines of standard input are scans until quit or the end, and the exit is "
		"the highest of theirs. With FILE, lines that cannot be applied are listed, the others "
		"are applied.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
