/* `earliest JOB`: when it could start, press by press, and at the latest for a due moment. */
#include <inttypes.h>

#include "../check_answer.h"
#include "../records.h"
#include "commands.h"

#define WAITS_SAID 3

/* ---------------------------------------------------------------- data */

static void start_write(struct answer *answer, const struct earliest_start *start, const char *from,
                        const char *until)
{
	if (!start->known) {
		answer_null(answer, from);
		answer_null(answer, until);
		return;
	}
	answer_moment(answer, from, start->from);
	answer_moment(answer, until, start->until);
}

static void duration_write(struct answer *answer, struct known_duration duration)
{
	const struct value value = {.type = VALUE_DURATION,
	                            .known = duration.known,
	                            .duration = duration.value};
	answer_value(answer, "duration", &value);
}

static void number_write(struct answer *answer, const char *key, int64_t number)
{
	if (number == 0) {
		answer_null(answer, key);
	} else {
		answer_count(answer, key, number);
	}
}

static void waits_write(struct answer *answer, const struct earliest_press *press)
{
	answer_array_open(answer, "waits_for");
	for (size_t i = 0; i < press->wait_count; i++) {
		const struct earliest_wait *wait = &press->waits[i];
		answer_object_open(answer, NULL);
		answer_word(answer, "need", wait->need);
		number_write(answer, "station", wait->station);
		number_write(answer, "cut", wait->cut);
		answer_word(answer, "tool", wait->tool_known ? tag_shown(wait->tool).bytes : NULL);
		if (wait->until.known) {
			answer_moment(answer, "until", wait->until.value);
		} else {
			answer_null(answer, "until");
		}
		answer_word(answer, "text", wait->text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void planned_write(struct answer *answer, const struct earliest_press *press)
{
	answer_array_open(answer, "planned");
	for (size_t i = 0; i < press->planned_count; i++) {
		answer_word(answer, NULL, press->planned[i]);
	}
	answer_array_close(answer);
}

static const char *verdict_of(const struct earliest_press *press)
{
	return press->first.known     ? verdict_word(press->first.verdict)
	       : press->never != NULL ? verdict_word(VERDICT_SHORT)
	                              : NULL;
}

static void press_write(struct answer *answer, const struct earliest_press *press)
{
	answer_word(answer, "press", press->press);
	start_write(answer, &press->first, "from", "until");
	answer_word(answer, "verdict", verdict_of(press));
	duration_write(answer, press->duration);
	answer_yes_no(answer, "own_time", press->own_time);
	answer_word(answer, "not_known", press->not_known);
	repeat_write(answer, press->first.repeat);
	number_write(answer, "number_around",
	             press->first.number_around.known ? press->first.number_around.value : 0);
	answer_word(answer, "never", press->never);
	start_write(answer, &press->latest, "latest_from", "latest_until");
}

static void json_write(struct answer *answer, const struct earliest *earliest)
{
	static const struct earliest_start none = {.known = false};
	answer_object_open(answer, NULL);
	answer_word(answer, "job", earliest->job);
	duration_write(answer, earliest->presses[0].duration);
	answer_word(answer, "press",
	            earliest->presses[0].first.known ? earliest->presses[0].press : NULL);
	start_write(answer, &earliest->presses[0].first, "from", "until");
	answer_array_open(answer, "presses");
	for (size_t i = 0; i < earliest->press_count; i++) {
		answer_object_open(answer, NULL);
		press_write(answer, &earliest->presses[i]);
		waits_write(answer, &earliest->presses[i]);
		planned_write(answer, &earliest->presses[i]);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	if (earliest->due.known) {
		answer_moment(answer, "due", earliest->due.value);
	} else {
		answer_null(answer, "due");
	}
	start_write(answer, earliest->last != NULL ? &earliest->last->latest : &none, "latest_from",
	            "latest_until");
	answer_word(answer, "latest_press", earliest->last != NULL ? earliest->last->press : NULL);
	answer_object_close(answer);
}

/* A row a press. */
static void rows_write(struct call *call, const struct earliest *earliest)
{
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < earliest->press_count; i++) {
		const struct earliest_press *press = &earliest->presses[i];
		struct text waits = text_start(call->arena);
		struct text planned = text_start(call->arena);
		for (size_t j = 0; j < press->wait_count; j++) {
			text_join(&waits, "; ", press->waits[j].text);
		}
		for (size_t j = 0; j < press->planned_count; j++) {
			text_join(&planned, ",", press->planned[j]);
		}
		answer_object_open(call->answer, NULL);
		answer_word(call->answer, "job", earliest->job);
		press_write(call->answer, press);
		answer_word(call->answer, "waits_for", waits.bytes);
		answer_word(call->answer, "planned", planned.bytes);
		answer_object_close(call->answer);
	}
	answer_array_close(call->answer);
}

/* ---------------------------------------------------------------- for people */

static const char *outcome_said(enum verdict verdict)
{
	switch (verdict) {
	case VERDICT_READY:
		return "ready";
	case VERDICT_CAUTION:
		return "ready with caution";
	case VERDICT_SHORT:
		break;
	}
	return "short";
}

/* `, 96 teeth 1/8cp, 4 around`: of a new job what it would run at. */
static const char *repeat_said(struct call *call, const struct earliest_start *start)
{
	struct text text = text_start(call->arena);
	if (start->repeat.toothed) {
		text_add_format(&text, ", %" PRId64 " teeth %s", start->repeat.teeth,
		                pitch_text(start->repeat.pitch).bytes);
	} else {
		text_add_format(&text, ", repeat %s", length_said(call, repeat_length(start->repeat)));
	}
	if (start->number_around.known) {
		text_add_format(&text, ", %" PRId64 " around", start->number_around.value);
	}
	return text.bytes;
}

static void waits_say(struct call *call, const struct earliest_press *press)
{
	for (size_t i = 0; i < press->wait_count && i < WAITS_SAID; i++) {
		answer_line(call->answer, MARK_PLAIN, "  until then short: %s", press->waits[i].text);
	}
	if (press->wait_count > WAITS_SAID) {
		answer_line(call->answer, MARK_PLAIN, "  until then short of %zu more",
		            press->wait_count - WAITS_SAID);
	}
	if (press->planned_count > 0) {
		struct text planned = text_start(call->arena);
		for (size_t i = 0; i < press->planned_count; i++) {
			text_join(&planned, ", ", press->planned[i]);
		}
		answer_line(call->answer, MARK_CAUTION, "  planned there then too, not booked: %s",
		            planned.bytes);
	}
}

static void press_say(struct call *call, const struct earliest_press *press)
{
	const struct earliest_start *first = &press->first;
	if (!press->duration.known && press->never == NULL) {
		answer_line(call->answer, MARK_CAUTION, "%s: duration not known: %s", press->press,
		            press->not_known);
		return;
	}
	if (!first->known) {
		answer_line(call->answer, MARK_BAD, "%s: never: %s", press->press, press->never);
		return;
	}
	answer_line(call->answer, verdict_mark(first->verdict), "%s: from %s until %s, %s%s%s",
	            press->press, moment_text(first->from).bytes, moment_text(first->until).bytes,
	            duration_text(first->duration).bytes, repeat_said(call, first),
	            arena_format(call->arena, ": %s", outcome_said(first->verdict)));
	if (press->own_time) {
		answer_line(call->answer, MARK_CAUTION, "  by the length of the job's own time: %s",
		            press->not_known);
	}
	waits_say(call, press);
}

static void due_say(struct call *call, const struct earliest *earliest)
{
	const struct earliest_press *last = earliest->last;
	const char *due = moment_text(earliest->due.value).bytes;
	if (last != NULL) {
		answer_line(call->answer, verdict_mark(last->latest.verdict),
		            "by %s: latest start %s on %s, ends %s%s", due,
		            moment_text(last->latest.from).bytes, last->press,
		            moment_text(last->latest.until).bytes, repeat_said(call, &last->latest));
		return;
	}
	const struct earliest_press *soonest = NULL;
	for (size_t i = 0; i < earliest->press_count; i++) {
		const struct earliest_press *press = &earliest->presses[i];
		if (press->first.known &&
		    (soonest == NULL || moment_compare(press->first.until, soonest->first.until) < 0)) {
			soonest = press;
		}
	}
	if (soonest != NULL) {
		answer_line(call->answer, MARK_BAD, "not by %s: first end is %s on %s", due,
		            moment_text(soonest->first.until).bytes, soonest->press);
	}
}

static void earliest_say(struct call *call, const struct earliest *earliest)
{
	const struct earliest_press *best = &earliest->presses[0];
	if (best->first.known) {
		answer_line(call->answer, MARK_STRONG, "%s: first start %s on %s, ends %s", earliest->job,
		            moment_text(best->first.from).bytes, best->press,
		            moment_text(best->first.until).bytes);
	} else {
		answer_line(call->answer, MARK_BAD, "%s: no start is known from %s on", earliest->job,
		            moment_text(earliest->from).bytes);
	}
	if (earliest->due.known) {
		due_say(call, earliest);
	}
	answer_blank(call->answer);
	for (size_t i = 0; i < earliest->press_count; i++) {
		press_say(call, &earliest->presses[i]);
	}
}

/* ---------------------------------------------------------------- the command */

static enum outcome run(struct call *call)
{
	struct check_request asked;
	struct earliest earliest;
	struct earliest_request request = {.now = call->now, .limits = &call->limits};
	enum outcome outcome = check_asked(call, &asked);
	if (outcome == OUTCOME_DONE) {
		outcome = call_moment(call, "due", &request.due);
	}
	request.job = asked.job;
	request.presses = asked.presses;
	request.press_count = asked.press_count;
	request.from = asked.from;
	if (outcome == OUTCOME_DONE) {
		outcome = plan_earliest(call->store, call->arena, &request, &earliest, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (answer_form(call->answer) == FORM_CSV) {
		rows_write(call, &earliest);
	} else {
		json_write(call->answer, &earliest);
	}
	earliest_say(call, &earliest);
	bool kept = !earliest.due.known || earliest.last != NULL;
	return earliest.presses[0].first.known && kept ? OUTCOME_DONE : OUTCOME_NO;
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
     .meaning = "not before that; else now, and never before now"},
	{.name = "due",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "when it is to be done: the latest start for it; a day means its end"},
};

static const char *const examples[] = {
	"earliest J2609",
	"earliest J2609 press=P1 from=2026-12-02",
	NULL,
};

const struct command command_earliest = {
	.name = "earliest",
	.summary = "the first time that all a job needs is free, press by press",
	.more =
		"By the check, over make-ready and run in open hours (set make_ready, set shifts, speed of "
		"the press). With due= also the latest start that keeps it, as due=2026-12-04T18:00. Exit "
		"1: there is no start, or none that keeps the due moment.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
