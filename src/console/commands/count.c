/* `count PLACE`: a count by scanning, how it stands so far, and its end. */
#include <inttypes.h>
#include <string.h>

#include "../bench.h"
#include "commands.h"

/* ---------------------------------------------------------------- how it stands */

static bool differs(const struct count_state *state)
{
	return state->missing_count + state->elsewhere_count + state->unknown_count > 0;
}

static void row_write(struct answer *answer, const char *difference, const struct count_row *row)
{
	answer_object_open(answer, NULL);
	if (difference != NULL) {
		answer_word(answer, "difference", difference);
	}
	answer_word(answer, "tag", row->tag);
	answer_word(answer, "what", row->what);
	answer_word(answer, "on_record", row->on_record);
	answer_word(answer, "out_for", row->out_for);
	answer_word(answer, "seen", row->seen);
	answer_object_close(answer);
}

/* In CSV all are rows of one table, told apart by their first cell. */
static void rows_write(struct answer *answer, const char *key, const struct count_row *rows,
                       size_t count)
{
	bool table = answer_form(answer) == FORM_CSV;
	if (!table) {
		answer_array_open(answer, key);
	}
	for (size_t i = 0; i < count; i++) {
		row_write(answer, table ? key : NULL, &rows[i]);
	}
	if (!table) {
		answer_array_close(answer);
	}
}

static void state_write(struct answer *answer, const struct count_state *state)
{
	bool table = answer_form(answer) == FORM_CSV;
	if (table) {
		answer_array_open(answer, NULL);
	} else {
		answer_object_open(answer, NULL);
		answer_word(answer, "place", state->place);
		answer_moment(answer, "started", state->started);
		answer_word(answer, "by", state->by);
		answer_count(answer, "expected", state->expected);
		answer_count(answer, "seen", state->seen);
	}
	rows_write(answer, "missing", state->missing, state->missing_count);
	rows_write(answer, "elsewhere", state->elsewhere, state->elsewhere_count);
	rows_write(answer, "unknown", state->unknown, state->unknown_count);
	if (table) {
		answer_array_close(answer);
	} else {
		answer_object_close(answer);
	}
}

static void rows_say(struct call *call, const char *difference, const struct count_row *rows,
                     size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct count_row *row = &rows[i];
		const char *on_record =
			row->out_for == NULL ? row->on_record
			: row->on_record != NULL
				? arena_format(call->arena, "%s, out for job %s", row->on_record, row->out_for)
				: arena_format(call->arena, "out for job %s", row->out_for);
		const char *cells[] = {difference, row->tag, row->what, on_record, row->seen};
		answer_table_row(call->answer, MARK_BAD, cells);
	}
}

static void state_say(struct call *call, const struct count_state *state)
{
	static const char *const columns[] = {"difference", "tag", "what", "on record", "seen"};
	struct answer *answer = call->answer;
	answer_line(answer, MARK_STRONG,
	            "count of %s%s%s%s, begun by %s on %s: %" PRId64 " tools seen, %" PRId64
	            " on record there",
	            state->place, state->name != NULL ? " (" : "",
	            state->name != NULL ? state->name : "", state->name != NULL ? ")" : "", state->by,
	            moment_text(state->started).bytes, state->seen, state->expected);
	if (!differs(state)) {
		answer_line(answer, MARK_GOOD, "all as on record");
		return;
	}
	answer_table_open(answer, columns, COUNT_OF(columns));
	rows_say(call, "missing", state->missing, state->missing_count);
	rows_say(call, "elsewhere", state->elsewhere, state->elsewhere_count);
	rows_say(call, "unknown", state->unknown, state->unknown_count);
	answer_table_close(answer);
	answer_line(answer, MARK_BAD,
	            "differs: %zu missing, %zu elsewhere, %zu unknown; nothing is put right before "
	            "count %s end=yes",
	            state->missing_count, state->elsewhere_count, state->unknown_count, state->place);
}

static enum outcome tell_so_far(struct call *call, const char *place)
{
	struct count_state state;
	int64_t count = 0;
	enum outcome outcome = room_count_open(call->store, call->arena, place, &count, call->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = room_count_state(call->store, call->arena, count, &state, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	state_write(call->answer, &state);
	state_say(call, &state);
	return differs(&state) ? OUTCOME_NO : OUTCOME_DONE;
}

/* ---------------------------------------------------------------- its end */

static void ended_write(struct answer *answer, const struct count_ended *ended, bool correct)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "place", ended->place);
	answer_yes_no(answer, "corrected", correct);
	answer_count(answer, "moved", ended->moved);
	answer_count(answer, "lost", ended->lost);
	answer_count(answer, "left", ended->left);
	answer_word(answer, "lost_to", ended->lost_to);
	answer_object_close(answer);
}

static void ended_say(struct answer *answer, const struct count_ended *ended, bool correct)
{
	if (!correct) {
		answer_line(answer, MARK_PLAIN, "count of %s ended, nothing put right", ended->place);
		return;
	}
	answer_line(answer, MARK_PLAIN,
	            "count of %s ended: %" PRId64 " put where they were seen, %" PRId64
	            " missing put to %s",
	            ended->place, ended->moved, ended->lost,
	            ended->lost_to != NULL ? ended->lost_to : "the lost");
	if (ended->left > 0) {
		answer_line(answer, MARK_CAUTION, "  caution: %" PRId64 " missing left as they are, %s",
		            ended->left,
		            ended->lost_to == NULL ? "there is not exactly one place for what is lost"
		                                   : "another open count has seen them");
	}
}

static enum outcome end(struct call *call, const char *place, bool correct)
{
	struct count_ended ended;
	int64_t count = 0;
	enum outcome outcome = room_count_open(call->store, call->arena, place, &count, call->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = room_count_end(call->store, call->arena, count, correct, &call->actor, &ended,
		                         call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		ended_write(call->answer, &ended, correct);
		ended_say(call->answer, &ended, correct);
	}
	return outcome;
}

/* ---------------------------------------------------------------- scanning */

/* The answer of the whole is no where it was left open and differs. */
static enum outcome count_by_scanning(struct call *call, const char *place)
{
	struct count_state state;
	struct fault none;
	int64_t count = 0;
	enum outcome outcome = bench_run(call, place);
	fault_clear(&none);
	if (outcome == OUTCOME_DONE &&
	    room_count_open(call->store, call->arena, place, &count, &none) == OUTCOME_DONE &&
	    room_count_state(call->store, call->arena, count, &state, &none) == OUTCOME_DONE) {
		outcome = differs(&state) ? OUTCOME_NO : OUTCOME_DONE;
	}
	return outcome;
}

static enum outcome run(struct call *call)
{
	const char *place = call_bare(call, 0);
	const char *ending = call_value(call, "end"), *so_far = call_value(call, "so_far");
	bool told = so_far != NULL && strcmp(so_far, "yes") == 0;
	if (ending != NULL && told) {
		fault_set(call->fault, OUTCOME_BAD, "count is told or ended, not both: %s", place);
		fault_hint(call->fault, "Type count %s so_far=yes, then count %s end=%s.", place, place,
		           ending);
		return OUTCOME_BAD;
	}
	if (ending != NULL) {
		return end(call, place, strcmp(ending, "yes") == 0);
	}
	return told ? tell_so_far(call, place) : count_by_scanning(call, place);
}

static const char *const yes_no[] = {"yes", "no", NULL};

static const struct argument arguments[] = {
	{.name = "place",
     .type = ARGUMENT_OWN_PLACE,
     .required = true,
     .meaning = "what is counted, with all places inside it"},
	{.name = "so_far",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = yes_no,
     .meaning = "yes: tell how the open count stands, and scan nothing"},
	{.name = "end",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = yes_no,
     .meaning = "yes: put the records right and end it; no: end it as it is"},
};

static const char *const examples[] = {"count R1-3", NULL};

const struct command command_count_place = {
	.name = "count",
	.summary = "count by scanning what lies in a place: missing, elsewhere on record, unknown",
	.more =
		"It opens the bench: scan each tool, and a place inside when you come to it; DONE tells "
		"what differs, YES puts the records right, DONE again leaves the count open for whoever "
		"counts the place next. What has moved since it was seen stays where it is. What is "
		"missing goes to the place for what is lost, where there is exactly one. The exit is 1 "
		"where the count differs.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
