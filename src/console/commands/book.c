/* `book JOB`: the tools that its check chose are promised to it. */
#include "../check_answer.h"
#include "commands.h"

static void moves_write(struct answer *answer, const struct booked *booked)
{
	answer_array_open(answer, "moves");
	for (size_t i = 0; i < booked->move_count; i++) {
		const struct booking_move *move = &booked->moves[i];
		answer_object_open(answer, NULL);
		answer_word(answer, "job", move->job);
		answer_word(answer, "need", move->need);
		if (move->cut == 0) {
			answer_count(answer, "station", move->station);
			answer_null(answer, "cut");
		} else {
			answer_null(answer, "station");
			answer_count(answer, "cut", move->cut);
		}
		answer_word(answer, "from", move->from);
		answer_word(answer, "to", move->to);
		answer_word(answer, "text", move->text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

/* In CSV only the one row of what became of it. */
static void booked_write(struct answer *answer, const struct booked *booked)
{
	const struct check *check = &booked->check;
	answer_object_open(answer, NULL);
	answer_word(answer, "job", check->job);
	answer_yes_no(answer, "booked", booked->kept);
	answer_word(answer, "press", check->press);
	answer_moment(answer, "from", check->from);
	answer_moment(answer, "until", check->until);
	answer_word(answer, "verdict", verdict_word(check->verdict));
	answer_count(answer, "tools", (int64_t)booked->tool_count);
	if (answer_form(answer) == FORM_JSON) {
		moves_write(answer, booked);
		check_findings_write(answer, check);
	}
	answer_object_close(answer);
}

static void booked_say(struct call *call, const struct booked *booked)
{
	const struct check *check = &booked->check;
	answer_line(call->answer, verdict_mark(check->verdict),
	            "%s booked on %s from %s until %s, %zu tool%s: %s", check->job, check->press,
	            moment_text(check->from).bytes, moment_text(check->until).bytes, booked->tool_count,
	            booked->tool_count == 1 ? "" : "s", verdict_said(call, check));
	if (booked->settled != NULL) {
		answer_line(call->answer, MARK_CAUTION, "the job was to run %s, now as booked",
		            booked->settled);
	}
	for (size_t i = 0; i < booked->move_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "%s: %s", booked->moves[i].job,
		            booked->moves[i].text);
	}
	answer_blank(call->answer);
	tools_say(call, check);
	if (check->verdict == VERDICT_CAUTION) {
		answer_blank(call->answer);
		findings_say(call, check, FINDING_CAUTION, MARK_CAUTION);
	}
}

static void short_say(struct call *call, const struct check *check)
{
	answer_line(call->answer, MARK_BAD, "%s not booked%s%s: %s", check->job,
	            check->press != NULL ? ", on " : "", check->press != NULL ? check->press : "",
	            verdict_said(call, check));
	findings_say(call, check, FINDING_SHORT, MARK_BAD);
	answer_line(call->answer, MARK_PLAIN, "Type check %s from=%s until=%s for all of it.",
	            check->job, moment_text(check->from).bytes, moment_text(check->until).bytes);
}

static enum outcome run(struct call *call)
{
	struct check_request asked;
	struct booked booked = {.kept = false};
	enum outcome outcome = check_asked(call, &asked);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const struct book_request request = {.job = asked.job,
	                                     .presses = asked.presses,
	                                     .press_count = asked.press_count,
	                                     .from = asked.from,
	                                     .until = asked.until,
	                                     .actor = &call->actor,
	                                     .limits = &call->limits,
	                                     .as_json = check_as_json};
	outcome = plan_book(call->store, call->arena, &request, &booked, call->fault);
	/* Refused without a fault: it is short of something. */
	bool lacks = outcome == OUTCOME_NO && call->fault->sentence[0] == '\0';
	if (outcome != OUTCOME_DONE && !lacks) {
		return outcome;
	}
	booked_write(call->answer, &booked);
	if (answer_form(call->answer) == FORM_TEXT && lacks) {
		short_say(call, &booked.check);
	} else if (answer_form(call->answer) == FORM_TEXT) {
		booked_say(call, &booked);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "job", .type = ARGUMENT_JOB, .required = true, .meaning = "its number or tag"},
	{.name = "press",
     .type = ARGUMENT_PRESS,
     .keyed = true,
     .repeated = true,
     .meaning = "one or several, of which the best is taken; else those of the job"},
	{.name = "from",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "when it starts; else as the job says"},
	{.name = "until",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "when the press is free of it; else as the job says, else by its quantity and the "
                "press's speed"},
};

static const char *const examples[] = {
	"book J2608 from=2026-12-02T06:00 until=2026-12-02T14:00",
	"book J2605 press=P2 from=2026-12-03T06:00",
	NULL,
};

const struct command command_book = {
	.name = "book",
	.summary = "promise a job the tools that its check chooses",
	.more =
		"Exit 1: short, and nothing is booked. A tool that another planned job has booked gives "
		"way where that job has another that is as good. A time or press given becomes the job's own.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
