/* Counting at the bench: COUNT, the place, what lies there, DONE, and YES to put it right. */
#include <stdio.h>
#include <string.h>

#include "bench.h"

static void keep_at(struct bench_counting *counting, const struct place_state *place)
{
	counting->at = place->id;
	snprintf(counting->at_code, sizeof counting->at_code, "%s", place->code);
}

static void begin_say(struct bench *bench, const struct count_state *state)
{
	struct bench_line *line =
		bench_say(bench, BENCH_SHOWN, "counting %s%s%s%s, %lld tools on record there", state->place,
	              state->name != NULL ? " (" : "", state->name != NULL ? state->name : "",
	              state->name != NULL ? ")" : "", (long long)state->expected);
	line->hint = "Scan each tool there; a place inside it when you come to that; DONE at the end.";
	if (state->taken_up) {
		line->caution =
			arena_format(bench->scratch, "taken up: begun by %s on %s, %lld seen so far", state->by,
		                 moment_text(state->started).bytes, (long long)state->seen);
	}
}

enum outcome bench_count_begin(struct bench *bench, int64_t place)
{
	struct count_state state;
	struct place_state at;
	struct fault fault;
	fault_clear(&fault);
	if (bench->batch != NULL) {
		return bench_refuse(bench, "Count at the bench itself.",
		                    "a count is not taken from a batch");
	}
	enum outcome outcome = store_place_state(bench->store, bench->scratch, place, &at, &fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			room_count_begin(bench->store, bench->scratch, place, &bench->actor, &state, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	bench->standing = STANDS_NOTHING;
	bench->counting = (struct bench_counting){.id = state.id,
	                                          .place = place,
	                                          .seen = state.seen,
	                                          .expected = state.expected};
	snprintf(bench->counting.place_code, sizeof bench->counting.place_code, "%s", at.code);
	keep_at(&bench->counting, &at);
	begin_say(bench, &state);
	return OUTCOME_DONE;
}

enum outcome bench_count_place(struct bench *bench, int64_t place)
{
	struct place_state at;
	struct fault fault;
	bool within = false;
	fault_clear(&fault);
	enum outcome outcome = store_place_state(bench->store, bench->scratch, place, &at, &fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_place_within(bench->store, place, bench->counting.place, &within, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (!within) {
		return bench_refuse(bench, "Scan DONE to end that count first.",
		                    "%s is not inside %s, which is being counted", at.code,
		                    bench->counting.place_code);
	}
	bench->counting.asked = false;
	keep_at(&bench->counting, &at);
	bench_say(bench, BENCH_SHOWN, "%s%s%s%s: tools scanned now are seen there", at.code,
	          at.name != NULL ? " (" : "", at.name != NULL ? at.name : "",
	          at.name != NULL ? ")" : "");
	return OUTCOME_DONE;
}

/* Somebody else may have ended it: then nothing is counted here any more. */
static enum outcome refuse_counting(struct bench *bench, const struct fault *fault)
{
	struct count_head head;
	if (store_count_read(bench->store, bench->scratch, bench->counting.id, &head, NULL) ==
	        OUTCOME_DONE &&
	    head.ended) {
		bench->counting = (struct bench_counting){.id = 0};
	}
	return bench_refuse_fault(bench, fault);
}

/* Seen; the counts of the prompt follow. A tool never answers the question that was asked. */
static enum outcome see(struct bench *bench, int64_t tool, const char *code)
{
	struct fault fault;
	fault_clear(&fault);
	bench->counting.asked = false;
	enum outcome outcome = room_count_see(bench->store, bench->scratch, bench->counting.id, tool,
	                                      code, bench->counting.at, &bench->actor, &fault);
	if (outcome == OUTCOME_DONE) {
		outcome = room_count_figures(bench->store, bench->counting.id, &bench->counting.expected,
		                             &bench->counting.seen, &fault);
	}
	return outcome == OUTCOME_DONE ? outcome : refuse_counting(bench, &fault);
}

/* Where else it is on record; within the place it was seen in is no elsewhere. */
static const char *caution_of(struct bench *bench, const struct tool_state *tool)
{
	bool within = false;
	struct fault unread;
	fault_clear(&unread);
	if (tool->place == 0) {
		return "on record without a place";
	}
	if (tool->taken_for != NULL) {
		return arena_format(bench->scratch, "on record as out for job %s", tool->taken_for);
	}
	return store_place_within(bench->store, tool->place, bench->counting.at, &within, &unread) ==
	                   OUTCOME_DONE &&
	               !within
	           ? arena_format(bench->scratch, "on record at %s", tool->place_code)
	           : NULL;
}

enum outcome bench_count_tool(struct bench *bench, const struct bench_tool *tool)
{
	struct tool_state state;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = store_tool_state(bench->store, bench->scratch, tool->id, &state, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	outcome = see(bench, tool->id, tool->tag);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct bench_line *line =
		bench_say(bench, BENCH_DONE, "%s  seen at %s  %s", tool->tag, bench->counting.at_code,
	              bench_words(bench, tool->kind, tool->id));
	line->tools = 1;
	line->caution = caution_of(bench, &state);
	return OUTCOME_DONE;
}

enum outcome bench_count_unknown(struct bench *bench, const char *code)
{
	enum outcome outcome = see(bench, 0, code);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return bench_refuse(bench, "Lay it aside; the count lists it.", "%s  not on record, seen at %s",
	                    code, bench->counting.at_code);
}

/* ---------------------------------------------------------------- its end */

/* A line each, for a clerk to walk along. */
static void rows_say(struct bench *bench, const char *sort, const struct count_row *rows,
                     size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct count_row *row = &rows[i];
		struct text text = text_start(bench->scratch);
		text_add_format(&text, "%s: %s", sort, row->tag);
		if (row->what != NULL) {
			text_add_format(&text, "  %s", row->what);
		}
		if (row->seen != NULL) {
			text_add_format(&text, ", seen at %s", row->seen);
		}
		if (row->on_record != NULL) {
			text_add_format(&text, ", on record at %s", row->on_record);
		}
		if (row->out_for != NULL) {
			text_add_format(&text, ", out for job %s", row->out_for);
		}
		bench_say(bench, BENCH_SHOWN, "%s", text.bytes);
	}
}

static void differences_say(struct bench *bench, const struct count_state *state)
{
	rows_say(bench, "missing here", state->missing, state->missing_count);
	rows_say(bench, "here, on record elsewhere", state->elsewhere, state->elsewhere_count);
	rows_say(bench, "not known", state->unknown, state->unknown_count);
}

static enum outcome end_count(struct bench *bench, bool correct)
{
	struct count_ended ended;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = room_count_end(bench->store, bench->scratch, bench->counting.id, correct,
	                                      &bench->actor, &ended, &fault);
	if (outcome != OUTCOME_DONE) {
		return refuse_counting(bench, &fault);
	}
	struct bench_line *line =
		correct
			? bench_say(
				  bench, BENCH_DONE,
				  "count of %s ended: %lld put where they were seen, %lld missing put to %s%s",
				  bench->counting.place_code, (long long)ended.moved, (long long)ended.lost,
				  ended.lost_to != NULL ? ended.lost_to : "the lost",
				  ended.left > 0 ? arena_format(bench->scratch, ", %lld missing left as they are",
	                                            (long long)ended.left)
								 : "")
			: bench_say(bench, BENCH_DONE, "count of %s ended: all as on record",
	                    bench->counting.place_code);
	line->tools = (size_t)(ended.moved + ended.lost);
	bench->counting = (struct bench_counting){.id = 0};
	return OUTCOME_DONE;
}

static enum outcome read_state(struct bench *bench, struct count_state *state)
{
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		room_count_state(bench->store, bench->scratch, bench->counting.id, state, &fault);
	if (outcome == OUTCOME_DONE && state->ended) {
		fault_set(&fault, OUTCOME_NO, "count has ended: %s", bench->counting.place_code);
		fault_hint(&fault, "Scan COUNT and %s to begin another.", bench->counting.place_code);
		return refuse_counting(bench, &fault);
	}
	return outcome == OUTCOME_DONE ? outcome : bench_refuse_fault(bench, &fault);
}

/* The differences are told, and YES asked for. */
static enum outcome ask(struct bench *bench, const struct count_state *state)
{
	struct bench_counting *counting = &bench->counting;
	differences_say(bench, state);
	counting->asked = true;
	counting->told[0] = state->missing_count;
	counting->told[1] = state->elsewhere_count;
	counting->told[2] = state->unknown_count;
	struct bench_line *line =
		bench_say(bench, BENCH_SHOWN,
	              "%s: %lld seen, %lld on record; %zu missing, %zu on record elsewhere, %zu not "
	              "known",
	              counting->place_code, (long long)state->seen, (long long)state->expected,
	              state->missing_count, state->elsewhere_count, state->unknown_count);
	line->hint = "Scan YES to put the records right, DONE to leave the count open, or what was "
				 "found meanwhile.";
	line->outcome = OUTCOME_NO;
	return OUTCOME_NO;
}

/* A second DONE leaves the count open. */
enum outcome bench_count_done(struct bench *bench)
{
	struct count_state state;
	if (bench->counting.asked) {
		bench_say(bench, BENCH_SHOWN, "the count of %s is left open, nothing is put right",
		          bench->counting.place_code);
		bench->counting = (struct bench_counting){.id = 0};
		return OUTCOME_DONE;
	}
	enum outcome outcome = read_state(bench, &state);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return state.missing_count + state.elsewhere_count + state.unknown_count > 0
	           ? ask(bench, &state)
	           : end_count(bench, false);
}

/* YES is to what was told: where somebody has scanned or moved since, it is told anew. */
enum outcome bench_count_yes(struct bench *bench)
{
	struct count_state state;
	const size_t *told = bench->counting.told;
	enum outcome outcome = read_state(bench, &state);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	bool same = state.missing_count == told[0] && state.elsewhere_count == told[1] &&
	            state.unknown_count == told[2];
	if (!same) {
		outcome = ask(bench, &state);
		bench->lines[bench->line_count - 1].caution = "it has changed since it was told";
		return outcome;
	}
	return end_count(bench, true);
}
