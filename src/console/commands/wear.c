/* `wear TAG`, `wear anilox`: what was measured of a tool, its trend, and when its limit comes. */
#include <string.h>

#include "../drawn_file.h"
#include "../plot_text.h"
#include "../wear_answer.h"
#include "../wear_plot.h"
#include "commands.h"

/* ---------------------------------------------------------------- a file */

static enum outcome nothing_to_draw(struct call *call, const struct worn *worn)
{
	fault_set(call->fault, OUTCOME_NO, "nothing of it is measured that could be drawn: %s",
	          worn->tag);
	fault_hint(call->fault, "Type wear %s to see what is known of it.", worn->tag);
	return OUTCOME_NO;
}

/* ---------------------------------------------------------------- one tool */

static enum outcome one_tool(struct call *call, const char *tag, const char *file)
{
	struct worn worn;
	enum file_form form = FILE_PDF;
	enum outcome outcome =
		file != NULL ? drawn_file_check(call, file, "wear.pdf", &form) : OUTCOME_DONE;
	if (outcome == OUTCOME_DONE) {
		outcome =
			care_wear(call->store, call->arena, tag, call->units, call->now, &worn, call->fault);
	}
	const struct plot_face *plot = outcome != OUTCOME_DONE ? NULL
	                               : file != NULL          ? wear_page(call, &worn)
	                                                       : wear_plot(call, &worn);
	if (outcome == OUTCOME_DONE && file != NULL) {
		outcome = plot != NULL ? print_plot(call->arena, plot, form, file, call->fault)
		                       : nothing_to_draw(call, &worn);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(call->answer, NULL);
	wear_write(call, &worn, true);
	answer_word(call->answer, "file", file);
	answer_object_close(call->answer);
	if (answer_form(call->answer) != FORM_TEXT) {
		return OUTCOME_DONE;
	}
	wear_say(call, &worn);
	if (file != NULL) {
		answer_line(call->answer, MARK_PLAIN, "drawn in %s", file);
	} else if (plot != NULL) {
		answer_blank(call->answer);
		plot_say(call, plot);
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- rolls compared */

static enum outcome refuse_file(struct call *call)
{
	fault_set(call->fault, OUTCOME_BAD, "file= draws one tool, not a comparison: %s",
	          call_value(call, "file"));
	fault_hint(call->fault, "Type wear TAG file=FILE.");
	return OUTCOME_BAD;
}

static enum outcome all_rolls(struct call *call)
{
	struct worn *rolls;
	size_t count;
	enum outcome outcome =
		care_wear_rolls(call->store, call->arena, call->now, &rolls, &count, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		answer_object_open(call->answer, NULL);
		wear_write(call, &rolls[i], false);
		answer_object_close(call->answer);
	}
	answer_array_close(call->answer);
	if (count == 0) {
		answer_line(call->answer, MARK_PLAIN, "no anilox roll in use");
		return OUTCOME_NO;
	}
	wear_rolls_say(call, rolls, count);
	return OUTCOME_DONE;
}

static enum outcome run(struct call *call)
{
	const char *what = call_bare(call, 0), *file = call_value(call, "file");
	if (strcmp(what, "anilox") != 0) {
		return one_tool(call, what, file);
	}
	return file != NULL ? refuse_file(call) : all_rolls(call);
}

static const char *const words[] = {"anilox", NULL};

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG_OR_CHOICE,
     .choices = words,
     .required = true,
     .meaning = "of a tool; or anilox, to compare all rolls"},
	{.name = "file",
     .type = ARGUMENT_FILE,
     .keyed = true,
     .meaning = "draw it: a name ending in .pdf, .svg or .png"},
};

static const char *const examples[] = {"wear AN000040-D", "wear anilox", NULL};

const struct command command_wear = {
	.name = "wear",
	.summary = "what a tool has lost, how fast, and when its limit comes; with a plot",
	.more = "Of a roll only readings after cleaning tell of wear: what a run plugs, cleaning gives "
			"back. A range holds the truth nine times in ten; what the readings do not tell is "
			"said to be not known.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
