/* `show TAG [file=FILE]`: everything known of one record; of a tool on a page too. */
#include "../passport.h"
#include "../shown.h"
#include "../wear_plot.h"
#include "commands.h"

static void say(struct call *call, const struct shown *shown, const char *file,
                const struct passport_drawn *drawn)
{
	if (answer_form(call->answer) != FORM_TEXT) {
		shown_write(call->answer, shown, file);
		return;
	}
	shown_say(call, shown);
	if (file != NULL) {
		answer_blank(call->answer);
		passport_say(call, shown, file, drawn);
	}
}

/* With the plot of its wear, where there is one. */
static enum outcome draw(struct call *call, const char *tag, const struct shown *shown,
                         const char *file, struct passport_drawn *drawn)
{
	struct worn worn;
	enum outcome outcome =
		care_wear(call->store, call->arena, tag, call->units, call->now, &worn, call->fault);
	return outcome == OUTCOME_DONE ? passport_draw(call, shown, wear_page(call, &worn), file, drawn)
	                               : outcome;
}

static enum outcome run(struct call *call)
{
	const char *tag = call_bare(call, 0), *file = call_value(call, "file");
	struct shown shown = {0};
	struct passport_drawn drawn = {0};
	enum outcome outcome = file != NULL ? passport_check(call, tag, file) : OUTCOME_DONE;
	if (outcome == OUTCOME_DONE) {
		outcome =
			room_show(call->store, call->arena, tag, call->units, call->now, &shown, call->fault);
	}
	if (outcome == OUTCOME_DONE && file != NULL) {
		outcome = draw(call, tag, &shown, file, &drawn);
	}
	if (outcome == OUTCOME_DONE) {
		say(call, &shown, file, &drawn);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG,
     .required = true,
     .meaning = "a tag, place or press code, job number, badge or other_tag"},
	{.name = "file",
     .type = ARGUMENT_FILE,
     .keyed = true,
     .meaning = "a tool's passport on one page: a .pdf, .svg or .png"},
};

static const char *const examples[] = {"show J2601", "show P1", "show AN000009-B file=roll.pdf",
                                       NULL};

const struct command command_show = {
	.name = "show",
	.summary = "what it is, where, in what condition, and what happened last",
	.more =
		"In the console a line that is a tag alone means the same. A passport holds the tag and "
		"its symbol, place, data and history; a file is written whole or not at all, in place "
		"of one that is there.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
