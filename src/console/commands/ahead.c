/* `ahead`: all planned jobs together; what will be missing, when, why, and what would cure it. */
#include <errno.h>
#include <string.h>
#include <strings.h>

#include "../ahead_answer.h"
#include "../board.h"
#include "commands.h"

#define DAYS_MOST 366
#define DAYS_LEFT_OUT 14
#define DAY_SECONDS 86400
#define SECONDS_MOST 20.0 /* for the joint choice and the cures, however many jobs */

/* What is written beside the answer. */
enum ahead_file { FILE_NONE, FILE_MODEL, FILE_BOARD };

static bool ends_in(const char *file, const char *ending)
{
	size_t length = strlen(file), tail = strlen(ending);
	return length > tail && strcasecmp(file + length - tail, ending) == 0;
}

static enum outcome file_asked(struct call *call, const char *file, enum ahead_file *out)
{
	*out = FILE_NONE;
	if (file == NULL) {
		return OUTCOME_DONE;
	}
	*out = ends_in(file, ".lp") ? FILE_MODEL : FILE_BOARD;
	if (*out == FILE_BOARD && !ends_in(file, ".pdf") && !ends_in(file, ".svg")) {
		fault_set(call->fault, OUTCOME_BAD, "file has no ending that ahead writes: %s", file);
		fault_hint(call->fault, "Name a file ending in .pdf or .svg for the week on a page, or in "
		                        ".lp for the whole model.");
		return OUTCOME_BAD;
	}
	if (*out == FILE_MODEL && store_keeps_in(call->store, file)) {
		fault_set(call->fault, OUTCOME_BAD, "file is the shop's own: %s", file);
		fault_hint(call->fault, "Name another, such as week.lp.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* From now on for so many days, or a whole week. */
static enum outcome horizon_asked(struct call *call, struct ahead_request *out)
{
	const char *days = call_value(call, "days"), *week = call_value(call, "week");
	int64_t count = DAYS_LEFT_OUT;
	if (days != NULL && week != NULL) {
		fault_set(call->fault, OUTCOME_BAD, "days and week do not go together: days=%s week=%s",
		          days, week);
		fault_hint(call->fault, "Type days= to look from now on, or week= for that week.");
		return OUTCOME_BAD;
	}
	if (week != NULL) {
		enum outcome outcome = week_parse(week, &out->from, call->fault);
		out->until = out->from;
		for (int day = 0; day < 7 && outcome == OUTCOME_DONE; day++) {
			out->until = moment_day_after(out->until);
		}
		return outcome;
	}
	if (days != NULL &&
	    count_parse("days", days, 1, DAYS_MOST, &count, call->fault) != OUTCOME_DONE) {
		return OUTCOME_BAD;
	}
	struct value length = value_from_stored(VALUE_DURATION, count * DAY_SECONDS);
	out->from = call->now;
	out->until = moment_add(call->now, length.duration);
	return OUTCOME_DONE;
}

/* Plans, the model written beside it: whole, or not at all. */
static enum outcome plan_with_model(struct call *call, struct ahead_request *request,
                                    const char *file, struct ahead *out)
{
	struct whole_file whole;
	enum outcome outcome = whole_file_open(call->arena, file, &whole, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	request->lp = whole.file;
	outcome = plan_ahead(call->store, call->arena, request, out, call->fault);
	if (outcome != OUTCOME_DONE) {
		whole_file_drop(&whole);
		return outcome;
	}
	errno = 0;
	int error = fflush(whole.file) != 0 ? errno : 0;
	return whole_file_close(call->arena, &whole, error, call->fault);
}

static enum outcome say(struct call *call, const struct ahead *ahead, enum ahead_file sort,
                        const char *file)
{
	enum outcome outcome = OUTCOME_DONE;
	bool week = call_value(call, "week") != NULL;
	if (sort == FILE_BOARD) {
		outcome = board_file(call, ahead, file);
	} else if (week && answer_form(call->answer) == FORM_TEXT) {
		outcome = board_say(call, ahead);
		ahead_say_help(call, ahead);
	} else {
		ahead_say(call, ahead);
	}
	if (outcome == OUTCOME_DONE && sort == FILE_MODEL) {
		answer_line(call->answer, MARK_PLAIN, "the model of all jobs together written to %s", file);
	}
	if (outcome == OUTCOME_DONE) {
		ahead_write(call, ahead);
	}
	return outcome;
}

static enum outcome run(struct call *call)
{
	const char *file = call_value(call, "file"), *rebook = call_value(call, "rebook");
	struct ahead_request request = {
		.now = call->now,
		.rebook = rebook != NULL && strcmp(rebook, "yes") == 0,
		.cures = true,
		.seconds = SECONDS_MOST,
		.limits = &call->limits,
	};
	struct ahead ahead;
	enum ahead_file sort;
	enum outcome outcome = file_asked(call, file, &sort);
	if (outcome == OUTCOME_DONE) {
		outcome = horizon_asked(call, &request);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = sort == FILE_MODEL
		              ? plan_with_model(call, &request, file, &ahead)
		              : plan_ahead(call->store, call->arena, &request, &ahead, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = say(call, &ahead, sort, file);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return ahead.shortage_count > 0 || ahead.served < ahead.planned ? OUTCOME_NO : OUTCOME_DONE;
}

static const char *const rebook_words[] = {"yes", "no", NULL};

static const struct argument arguments[] = {
	{.name = "days",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .usage = "DAYS",
     .meaning = "how many days from now on, 1 to 366; 14 where neither it nor week is given"},
	{.name = "week",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .usage = "WEEK",
     .meaning = "a week, such as 2026-W49, or a day in it: press by press, day by day"},
	{.name = "rebook",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = rebook_words,
     .meaning = "as if nothing were booked yet; what is booked stays so on record"},
	{.name = "file",
     .type = ARGUMENT_FILE,
     .keyed = true,
     .meaning = "the week on a page, .pdf or .svg; or the whole model, .lp"},
};

static const char *const examples[] = {
	"ahead",
	"ahead days=28",
	"ahead week=2026-W49",
	NULL,
};

const struct command command_ahead = {
	.name = "ahead",
	.summary = "all planned jobs together: what will be missing, when, why, what would cure it",
	.more =
		"Each tool and each press serves one job at a time, with the turnaround between. What is "
		"booked stays as it is unless rebook=yes. Wear and life of each job are judged from the run on "
		"record today; what jobs booked before it will run is not added. Exit 0: all can run. Exit "
		"1: something is short.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
