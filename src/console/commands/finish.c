/* `finish JOB`: it has run, its web reaches its tools, and what was promised to it is free again.
 */
#include <string.h>

#include "commands.h"
#include "toothrack/plan.h"

/* ---------------------------------------------------------------- data */

static void web_write(struct answer *answer, const char *name, struct known_length length)
{
	const struct value value = {.type = VALUE_WEB, .known = length.known, .length = length.value};
	answer_value(answer, name, &value);
}

static const char *by_word(enum ran_by by)
{
	return by == RAN_SCANNED ? "scanned" : by == RAN_AT_PRESS ? "at_press" : "booked";
}

static void tools_write(struct answer *answer, const struct job_turned *turned)
{
	answer_array_open(answer, "tools");
	for (size_t i = 0; i < turned->ran_count; i++) {
		const struct tool_ran *ran = &turned->ran[i];
		answer_object_open(answer, NULL);
		answer_word(answer, "tag", tag_shown(ran->tool.tool.tag).bytes);
		answer_word(answer, "kind", ran->kind->name);
		web_write(answer, "run", (struct known_length){true, ran->run});
		if (ran->revolutions_known) {
			answer_count(answer, "revolutions", ran->revolutions);
		} else {
			answer_null(answer, "revolutions");
		}
		answer_word(answer, "by", by_word(ran->by));
		answer_yes_no(answer, "life_over", ran->life_over != NULL);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	answer_array_open(answer, "cautions");
	for (size_t i = 0; i < turned->caution_count; i++) {
		answer_word(answer, NULL, turned->cautions[i]);
	}
	answer_array_close(answer);
}

static void finished_write(struct answer *answer, const struct job_turned *turned)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "job", turned->job);
	answer_word(answer, "press", turned->press);
	if (turned->since.known) {
		answer_moment(answer, "since", turned->since.value);
	} else {
		answer_null(answer, "since");
	}
	web_write(answer, "length", turned->length);
	answer_word(answer, "length_by", turned->length_by);
	answer_count(answer, "freed", (int64_t)turned->tool_count);
	if (answer_form(answer) == FORM_JSON) {
		tools_write(answer, turned);
	}
	answer_object_close(answer);
}

/* ---------------------------------------------------------------- text */

static void finished_say(struct call *call, const struct job_turned *turned)
{
	struct text line = text_start(call->arena);
	text_add_format(&line, "%s finished", turned->job);
	if (turned->press != NULL) {
		text_add_format(&line, " on %s", turned->press);
	}
	if (turned->since.known) {
		text_add_format(&line, ", running since %s", moment_text(turned->since.value).bytes);
	}
	if (turned->tool_count > 0) {
		text_add_format(&line, ", %zu tool%s no longer booked", turned->tool_count,
		                turned->tool_count == 1 ? "" : "s");
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
}

/* To whole metres or feet, as every run: in the other units what was given has no end. */
static void length_say(struct call *call, const struct job_turned *turned)
{
	const struct length *length = &turned->length.value;
	if (!turned->length.known) {
		return;
	}
	if (strcmp(turned->length_by, "quantity") == 0) {
		answer_line(call->answer, MARK_PLAIN,
		            "%s by its quantity; if it was another, type undo, then finish %s length=...",
		            web_text(*length, call->units).bytes, turned->job);
	} else {
		answer_line(call->answer, MARK_PLAIN, "%s as given", web_text(*length, call->units).bytes);
	}
}

static void tools_say(struct call *call, const struct job_turned *turned)
{
	static const char *const columns[] = {"tool", "tag", "run", "known by"};
	static const char *const by[] = {
		[RAN_SCANNED] = "scanned out",
		[RAN_AT_PRESS] = "booked, at the press",
		[RAN_BOOKED] = "booked, not scanned out",
	};
	if (turned->ran_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < turned->ran_count; i++) {
		const struct tool_ran *ran = &turned->ran[i];
		struct text run = text_start(call->arena);
		text_add(&run, web_text(ran->run, call->units).bytes);
		if (ran->revolutions_known) {
			text_add_format(&run, ", %lld revolutions", (long long)ran->revolutions);
		}
		const char *tag = arena_copy(call->arena, tag_shown(ran->tool.tool.tag).bytes);
		const char *cells[] = {ran->kind->title, tag, run.bytes, by[ran->by]};
		answer_table_row(call->answer, ran->life_over != NULL ? MARK_CAUTION : MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
}

/* ---------------------------------------------------------------- the command */

static enum outcome length_asked(struct call *call, struct known_length *out)
{
	const char *text = call_value(call, "length");
	struct value value = {.known = false};
	*out = (struct known_length){.known = false};
	if (text == NULL) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		value_parse(call->arena, "length", VALUE_WEB, NULL, NULL, text, &value, call->fault);
	if (outcome == OUTCOME_DONE && !value.known) {
		fault_set(call->fault, OUTCOME_BAD, "length is blank");
		fault_hint(call->fault, "Type length=12345m, or leave it out: then it is what the job's "
		                        "quantity takes.");
		return OUTCOME_BAD;
	}
	*out = (struct known_length){value.known, value.length};
	return outcome;
}

static enum outcome run(struct call *call)
{
	struct job_turned turned;
	struct finish_request request = {
		.job = call_bare(call, 0),
		.actor = &call->actor,
		.limits = &call->limits,
	};
	enum outcome outcome = length_asked(call, &request.length);
	if (outcome == OUTCOME_DONE) {
		outcome = plan_finish(call->store, call->arena, &request, &turned, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	finished_write(call->answer, &turned);
	finished_say(call, &turned);
	length_say(call, &turned);
	tools_say(call, &turned);
	for (size_t i = 0; i < turned.caution_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", turned.cautions[i]);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
	{.name = "length",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "web that ran; else what its quantity takes at its repeat",
     .usage = "LENGTH"},
};

static const char *const examples[] = {
	"finish J2601 length=1650m",
	NULL,
};

const struct command command_finish = {
	.name = "finish",
	.summary = "say that a job has run, and how much web that took",
	.more =
		"The web is added to the run of every tool that ran: those scanned out for the job, and "
		"where fewer were scanned out than were booked, of the others booked.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
