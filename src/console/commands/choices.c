/* `choices JOB`: the repeats that the shelf could run a label on, ranked. */
#include <inttypes.h>
#include <string.h>

#include "../check_answer.h"
#include "commands.h"

static void choice_write(struct answer *answer, const struct choice *choice)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "press", choice->press);
	repeat_write(answer, choice->repeat);
	answer_count(answer, "number_around", choice->number_around);
	answer_number(answer, "gap_around_mm", real_to_mm(choice->gap), 3);
	answer_word(answer, "verdict", verdict_word(choice->verdict));
	answer_yes_no(answer, "die", choice->die_suits);
	if (choice->waste_known) {
		answer_number(answer, "waste_percent", 100.0 * choice->waste, 1);
	} else {
		answer_null(answer, "waste_percent");
	}
	answer_number(answer, "plate_area_cm2", choice->plate_area_cm2, 1);
	if (choice->tool_run.known) {
		answer_number(answer, "run_m", length_to_m(choice->tool_run.value), 1);
	} else {
		answer_null(answer, "run_m");
	}
	answer_count(answer, "unmet", (int64_t)choice->unmet);
	answer_word(answer, "lacks", choice->lacks);
	answer_object_close(answer);
}

static void choice_say(struct call *call, const struct choice *choice)
{
	struct arena *arena = call->arena;
	bool toothed = choice->repeat.toothed;
	const char *cells[] = {
		choice->press,
		length_said(call, repeat_length(choice->repeat)),
		toothed ? arena_format(arena, "%" PRId64 " %s", choice->repeat.teeth,
	                           pitch_text(choice->repeat.pitch).bytes)
				: NULL,
		arena_format(arena, "%" PRId64, choice->number_around),
		length_said(call, choice->gap),
		verdict_word(choice->verdict),
		choice->die_suits ? "yes" : "no",
		choice->waste_known ? arena_format(arena, "%.0f%%", 100.0 * choice->waste) : NULL,
		choice->lacks,
	};
	answer_table_row(call->answer, verdict_mark(choice->verdict), cells);
}

/* Repeats for a job that nobody will run, or that has run, are of no use: it is said. */
static enum outcome state_of(struct call *call, const char *name, const char **out)
{
	struct found found;
	struct job job;
	*out = NULL;
	if (store_find(call->store, name, REFER_JOB, &found, call->fault) != OUTCOME_DONE ||
	    store_job_read(call->store, call->arena, found.id, &job, call->fault) != OUTCOME_DONE) {
		return call->fault->outcome;
	}
	if (strcmp(job.state, "finished") == 0 || strcmp(job.state, "cancelled") == 0) {
		*out = job.state;
	}
	return OUTCOME_DONE;
}

static void choices_say(struct call *call, const char *job, const char *state,
                        const struct choice *choices, size_t count)
{
	static const char *const columns[] = {"press",   ">repeat", ">teeth", ">around", ">gap",
	                                      "verdict", "die",     ">waste", "lacks"};
	answer_line(call->answer, MARK_STRONG, "%s: %zu repeat%s to choose from, best first", job,
	            count, count == 1 ? "" : "s");
	if (state != NULL) {
		answer_line(call->answer, MARK_CAUTION, "the job is %s", state);
	}
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		choice_say(call, &choices[i]);
	}
	answer_table_close(call->answer);
}

static const char *limit_said(const struct call *call, struct known_length length)
{
	return length.known ? length_said(call, real_from_length(length.value)) : NULL;
}

/* Nothing was found: says what was looked for. */
static enum outcome none_say(struct call *call, const char *name)
{
	struct found found;
	struct job job;
	if (store_find(call->store, name, REFER_JOB, &found, call->fault) != OUTCOME_DONE ||
	    store_job_read(call->store, call->arena, found.id, &job, call->fault) != OUTCOME_DONE) {
		return call->fault->outcome;
	}
	const struct layout *layout = &job.layout;
	if (!layout->label_around.known) {
		fault_set(call->fault, OUTCOME_NO, "label_around of the job not known: %s", job.number);
		fault_hint(call->fault, "Put it on record: import job FILE update=yes.");
		return OUTCOME_NO;
	}
	const char *least = limit_said(call, layout->gap_around_min);
	const char *most = limit_said(call, layout->gap_around_max);
	struct text line = text_start(call->arena);
	text_add_format(&line, "label %s around", limit_said(call, layout->label_around));
	if (layout->number_around.known) {
		text_add_format(&line, ", %" PRId64 " around", layout->number_around.value);
	}
	if (least != NULL && most != NULL) {
		text_add_format(&line, ", gap %s to %s", least, most);
	} else if (least != NULL || most != NULL) {
		text_add_format(&line, ", gap %s or %s", least != NULL ? least : most,
		                least != NULL ? "more" : "less");
	}
	return fault_set(call->fault, OUTCOME_NO, "no repeat on the shelf for %s: %s", job.number,
	                 line.bytes);
}

static enum outcome run(struct call *call)
{
	struct check_request request;
	struct choice *choices = NULL;
	size_t count = 0;
	const char *state;
	enum outcome outcome = check_asked(call, &request);
	if (outcome == OUTCOME_DONE) {
		outcome = plan_choices(call->store, call->arena, &request, &choices, &count, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = state_of(call, request.job, &state);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		choice_write(call->answer, &choices[i]);
	}
	answer_array_close(call->answer);
	if (count == 0) {
		return none_say(call, request.job);
	}
	choices_say(call, request.job, state, choices, count);
	return OUTCOME_DONE;
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

static const char *const examples[] = {"choices J2603", "choices J2612 press=P1", NULL};

const struct command command_choices = {
	.name = "choices",
	.summary = "the repeats that the shelf could run this label on, ranked",
	.more = "Ready ones first; then those with a die that suits, the least waste, the least plate "
			"area, the least worn tools.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
