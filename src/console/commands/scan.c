/* `scan [FILE]`: the scanning bench, or what a handheld brought along. */
#include <inttypes.h>

#include "../bench.h"
#include "commands.h"

static void problems_write(struct answer *answer, const char *key,
                           const struct batch_problem *problems, size_t count)
{
	answer_array_open(answer, key);
	for (size_t i = 0; i < count; i++) {
		answer_object_open(answer, NULL);
		answer_count(answer, "line", problems[i].line);
		answer_word(answer, "code", problems[i].code);
		answer_word(answer, "text", problems[i].text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void report_write(struct answer *answer, const char *file, const struct batch_report *report)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "file", file);
	answer_count(answer, "lines", report->lines);
	answer_count(answer, "applied", report->applied);
	answer_count(answer, "known", report->known);
	answer_count(answer, "quiet", report->quiet);
	answer_count(answer, "problem_count", report->problem_count);
	problems_write(answer, "problems", report->problems, report->problems_kept);
	answer_count(answer, "caution_count", report->caution_count);
	problems_write(answer, "cautions", report->cautions, report->cautions_kept);
	answer_object_close(answer);
}

/* A line for each of the first, and how many there are beside them. */
static void problems_say(struct answer *answer, enum answer_mark mark, const char *caution,
                         const struct batch_problem *problems, size_t kept, int64_t count)
{
	for (size_t i = 0; i < kept; i++) {
		const struct batch_problem *problem = &problems[i];
		answer_line(answer, mark, "line %" PRId64 "%s%s: %s%s", problem->line,
		            problem->code[0] != '\0' ? ", " : "", problem->code, caution, problem->text);
	}
	if (count > (int64_t)kept) {
		answer_line(answer, mark, "and %" PRId64 " more", count - (int64_t)kept);
	}
}

static void report_say(struct call *call, const char *file, const struct batch_report *report)
{
	struct text line = text_start(call->arena);
	text_add_format(&line, "%s: %" PRId64 " lines, %" PRId64 " applied", file, report->lines,
	                report->applied);
	if (report->known > 0) {
		text_add_format(&line, ", %" PRId64 " applied before", report->known);
	}
	if (report->quiet > 0) {
		text_add_format(&line, ", %" PRId64 " with nothing to record of themselves", report->quiet);
	}
	if (report->problem_count > 0) {
		text_add_format(&line, ", %" PRId64 " wrong", report->problem_count);
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	problems_say(call->answer, MARK_CAUTION, "caution: ", report->cautions, report->cautions_kept,
	             report->caution_count);
	problems_say(call->answer, MARK_BAD, "", report->problems, report->problems_kept,
	             report->problem_count);
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
		"way: tools go out for it. The cards HOME, HOLD, DIRTY, CLEANED, COUNT, UNDO, SHOW, YES and DONE are printed by tag actions; their words may be typed. CR, LF or TAB ends a scan; quit or Ctrl-D leaves. Off a "
		"terminal the lines of standard input are scans until quit or the end, and the exit is "
		"the highest of theirs. With FILE each line counts at its own moment and once, however "
		"often the file is read; lines that cannot be applied are listed, the others are applied. "
		"Behind a line that may have said where tools go and was refused, none is applied up to "
		"60 seconds of quiet or DONE.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
