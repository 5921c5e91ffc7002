/* `import KIND FILE [update=yes]`: a CSV file, all or nothing. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "../cared_answer.h"
#include "../records.h"
#include "commands.h"

/* A line on the terminal that tells how far it is, a percent at a time. */
struct progress {
	const char *file;
	int64_t percent; /* as last told; 0: nothing was */
};

static void progress_say(int64_t bytes_read, int64_t bytes, int64_t rows, void *context)
{
	struct progress *progress = context;
	int64_t percent = bytes > 0 ? (int64_t)(100.0 * (double)bytes_read / (double)bytes) : 0;
	if (percent > progress->percent) {
		fprintf(stderr, "\r%s: %" PRId64 "%%, %" PRId64 " rows", progress->file, percent, rows);
		progress->percent = percent;
	}
}

static void progress_clear(const struct progress *progress)
{
	if (progress->percent > 0) {
		fprintf(stderr, "\r%*s\r", (int)strlen(progress->file) + 32, "");
	}
}

/* What looks like a slip in the readings of a file. */
#define QUESTIONS_SHOWN 20
struct asked_back {
	const char *texts[QUESTIONS_SHOWN];
	size_t count; /* all */
};

static size_t kept_of(const struct asked_back *asked)
{
	return asked->count < QUESTIONS_SHOWN ? asked->count : QUESTIONS_SHOWN;
}

static void report_write(struct answer *answer, const struct kind *kind, const char *file,
                         const struct import_report *report, const struct asked_back *asked)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "kind", kind->name);
	answer_word(answer, "file", file);
	answer_count(answer, "added", report->added);
	answer_count(answer, "changed", report->changed);
	answer_count(answer, "same", report->same);
	answer_count(answer, "problem_count", report->problem_count);
	answer_array_open(answer, "problems");
	for (size_t i = 0; i < report->problems_kept; i++) {
		const struct import_problem *problem = &report->problems[i];
		answer_object_open(answer, NULL);
		answer_count(answer, "line", problem->line);
		answer_word(answer, "column", problem->column);
		answer_word(answer, "text", problem->text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	if (kind->id == KIND_READING) {
		answer_count(answer, "question_count", (int64_t)asked->count);
		questions_write(answer, asked->texts, kept_of(asked));
	}
	answer_object_close(answer);
}

static void asked_say(struct answer *answer, const struct asked_back *asked)
{
	questions_say(answer, asked->texts, kept_of(asked));
	if (asked->count > QUESTIONS_SHOWN) {
		answer_line(answer, MARK_CAUTION, "  and %zu more", asked->count - QUESTIONS_SHOWN);
	}
}

static void problems_say(struct answer *answer, const struct import_report *report)
{
	for (size_t i = 0; i < report->problems_kept; i++) {
		const struct import_problem *problem = &report->problems[i];
		answer_line(answer, MARK_BAD, "line %" PRId64 "%s%s: %s", problem->line,
		            problem->column != NULL ? ", " : "",
		            problem->column != NULL ? problem->column : "", problem->text);
	}
	if (report->problem_count > (int64_t)report->problems_kept) {
		answer_line(answer, MARK_BAD, "and %" PRId64 " more",
		            report->problem_count - (int64_t)report->problems_kept);
	}
}

static void counts_say(struct call *call, const struct kind *kind, const char *file,
                       const struct import_report *report)
{
	struct text line = text_start(call->arena);
	text_add_format(&line, "%s from %s: %" PRId64 " added", kind->name, file, report->added);
	if (report->changed + report->same > 0) {
		text_add_format(&line, ", %" PRId64 " changed, %" PRId64 " as they were", report->changed,
		                report->same);
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
}

static enum outcome run(struct call *call)
{
	const struct kind *kind = kind_find(call_bare(call, 0));
	const char *file = call_bare(call, 1);
	const char *update = call_value(call, "update");
	struct import_report *report = arena_take(call->arena, 1, sizeof *report);
	struct progress progress = {.file = file};
	struct asked_back asked = {.count = 0};
	int64_t before = store_last_entry(call->store);
	if (kind == NULL) {
		return fault_set(call->fault, OUTCOME_BAD, "kind not known: %s", call_bare(call, 0));
	}
	bool watched = answer_form(call->answer) != FORM_JSON && isatty(STDERR_FILENO) == 1;
	enum outcome outcome =
		room_import_file(call->store, call->arena, kind, file,
	                     update != NULL && strcmp(update, "yes") == 0, &call->actor,
	                     watched ? progress_say : NULL, &progress, report, call->fault);
	progress_clear(&progress);
	if (outcome == OUTCOME_DONE && kind->id == KIND_READING) {
		outcome = care_question_since(call->store, call->arena, before, call->units, asked.texts,
		                              QUESTIONS_SHOWN, &asked.count, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		counts_say(call, kind, file, report);
	}
	if (outcome == OUTCOME_DONE || report->problem_count > 0) {
		report_write(call->answer, kind, file, report, &asked);
		problems_say(call->answer, report);
		asked_say(call->answer, &asked);
	}
	return outcome;
}

static const char *const yes_no[] = {"yes", "no", NULL};

static const struct argument arguments[] = {
	{.name = "kind", .type = ARGUMENT_KIND, .required = true, .meaning = "what the file holds"},
	{.name = "file",
     .type = ARGUMENT_FILE,
     .required = true,
     .meaning = "CSV with the attributes' names as headings"},
	{.name = "update",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = yes_no,
     .meaning = "yes: correct what is on record already instead of refusing it"},
};

static const char *const examples[] = {"import cylinder cylinders.csv",
                                       "import anilox rolls.csv update=yes", NULL};

const struct command command_import = {
	.name = "import",
	.summary = "read records of one kind from a CSV file, all or nothing",
	.more = "Files come in the order operator, place, press, job, tools, station, cut, reading. "
			"With update=yes the columns in the file are set as they stand, blank ones too. Of a "
			"device's list of readings those that are on record already count as they were; it "
			"may name rolls by their maker's serial, and what looks like a slip is questioned.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_MAKE,
	.examples = examples,
	.run = run,
};
