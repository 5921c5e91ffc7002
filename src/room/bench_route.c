/* What a badge, a place, a job and a tool are for when they are scanned. */
#include <stdio.h>
#include <string.h>

#include "bench.h"

/* ---------------------------------------------------------------- who scans */

/* Of a batch who brought it acts where no badge was scanned; at the bench nobody does any more. */
void bench_sign_off(struct bench *bench)
{
	bool batch = bench->batch != NULL;
	bench->actor.operator_id = batch ? bench->base.operator_id : 0;
	bench->actor.limited = batch && bench->base.limited;
	snprintf(bench->who, sizeof bench->who, "%s", batch ? bench->base_who : "");
	bench->unread = false;
	bench->told_press = false;
	bench->told_wash = false;
}

enum outcome bench_badge_scanned(struct bench *bench, const struct found *found)
{
	struct record *record;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		store_record_read(bench->store, bench->scratch, found->kind, found->id, &record, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	const struct value *retired = record_known(record, "retired");
	const char *role = record_words(record, "role");
	if (retired != NULL && retired->yes) {
		return bench_refuse(bench, "Scan the badge of an operator who works here.",
		                    "badge is retired: %s", record_words(record, "name"));
	}
	if (bench->actor.operator_id == found->id) {
		bench_say(bench, BENCH_SHOWN, "%s is signed on already", bench->who);
		return OUTCOME_DONE;
	}
	/* What another scanned is not this one's to put somewhere. */
	outcome = bench->who[0] != '\0' ? bench_end_waiting(bench, true, false) : OUTCOME_DONE;
	bench->standing = bench->who[0] != '\0' ? STANDS_NOTHING : bench->standing;
	bench->card = (enum action)0;
	bench->last_count = 0;
	bench_sign_off(bench);
	bench->actor.operator_id = found->id;
	bench->actor.limited = role == NULL || strcmp(role, "supervisor") != 0;
	snprintf(bench->who, sizeof bench->who, "%s", record_words(record, "name"));
	bench_say(bench, BENCH_SHOWN, "%s, %s, signed on", bench->who, role != NULL ? role : "no role");
	return outcome;
}

/* ---------------------------------------------------------------- places, jobs */

static enum outcome stand(struct bench *bench, enum bench_standing what, int64_t id,
                          const char *code)
{
	bench->standing = what;
	bench->stands = id;
	snprintf(bench->stands_code, sizeof bench->stands_code, "%s", code);
	bench->set = SET_STANDING;
	bench->last_count = 0;
	return OUTCOME_DONE;
}

/* Of what comes late it counts whether the place was held then. */
bool bench_is_held(const struct bench *bench, const struct place_state *place)
{
	bool since = bench->actor.happened.known && place->condition_since.known &&
	             moment_compare(place->condition_since.value, bench->actor.happened.value) > 0;
	return strcmp(place->condition, "hold") == 0 && !since;
}

/* A place that nothing may be put at never stands: said at once, not with the first tool. */
static enum outcome refuse_place(struct bench *bench, const struct place_state *place)
{
	if (place->retired) {
		return bench_refuse(bench, "Scan a place that is in use.", "place is retired: %s",
		                    place->code);
	}
	if (strcmp(place->sort, "supplier") == 0) {
		return bench_refuse(bench,
		                    "What goes to a supplier is sent, with a reason and a date: type send.",
		                    "place is a supplier: %s", place->code);
	}
	if (bench_is_held(bench, place)) {
		return bench_refuse(bench, "Scan another place.", "%s is on hold%s%s", place->code,
		                    place->condition_reason != NULL ? ": " : "",
		                    place->condition_reason != NULL ? place->condition_reason : "");
	}
	return OUTCOME_DONE;
}

/* The cautions of a press or a wash, once for each who signs on: no line of every scan. */
static void handling_say(struct bench *bench, const struct place_state *place)
{
	bool press = strcmp(place->sort, "press") == 0, wash = strcmp(place->sort, "wash") == 0;
	if ((press && !bench->told_press) || (wash && !bench->told_wash)) {
		bench->lines[bench->line_count - 1].handling =
			room_handling(bench->scratch, place->sort, 1U << KIND_CYLINDER | 1U << KIND_BLADE);
		bench->told_press = bench->told_press || press;
		bench->told_wash = bench->told_wash || wash;
	}
}

static enum outcome place_stands(struct bench *bench, const struct place_state *place)
{
	if (bench->waiting_count > 0) {
		enum outcome outcome = bench_put(bench, bench->waiting, bench->waiting_count, place->id);
		bench->waiting_count = outcome == OUTCOME_DONE ? 0 : bench->waiting_count;
		bench->standing = outcome == OUTCOME_DONE ? STANDS_NOTHING : bench->standing;
		return outcome;
	}
	bench_say(bench, BENCH_SHOWN, "%s%s%s%s: tools scanned now go there", place->code,
	          place->name != NULL ? " (" : "", place->name != NULL ? place->name : "",
	          place->name != NULL ? ")" : "");
	return stand(bench, STANDS_PLACE, place->id, place->code);
}

enum outcome bench_place_scanned(struct bench *bench, int64_t id)
{
	struct place_state place;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = store_place_state(bench->store, bench->scratch, id, &place, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (bench->card == ACTION_COUNT) {
		bench->card = (enum action)0;
		return bench_count_begin(bench, id);
	}
	if (bench->counting.id != 0) {
		return bench_count_place(bench, id);
	}
	if (bench_replays(bench)) {
		return bench_replay_taking(bench, "moved");
	}
	outcome = refuse_place(bench, &place);
	bench->where_refused = outcome != OUTCOME_DONE;
	outcome = outcome == OUTCOME_DONE ? place_stands(bench, &place) : outcome;
	if (outcome == OUTCOME_DONE) {
		handling_say(bench, &place);
	}
	return outcome;
}

static enum outcome refuse_job(struct bench *bench, const char *number, const char *state)
{
	bool over =
		state != NULL && (strcmp(state, "finished") == 0 || strcmp(state, "cancelled") == 0);
	/* Of what comes late each tool is judged: those of the same lines before are out already. */
	if (over && bench->batch == NULL) {
		return bench_refuse(bench, "Scan a job that is planned or running.", "job is %s: %s", state,
		                    number);
	}
	if (bench->counting.id != 0) {
		return bench_refuse(bench, "Scan DONE to end the count first.",
		                    "%s is being counted, nothing goes out for a job meanwhile",
		                    bench->counting.place_code);
	}
	return OUTCOME_DONE;
}

enum outcome bench_job_scanned(struct bench *bench, const struct found *found)
{
	struct record *record;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		store_record_read(bench->store, bench->scratch, found->kind, found->id, &record, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (bench_replays(bench)) {
		return bench_replay_taking(bench, "taken");
	}
	const char *number = record_words(record, "number"), *title = record_words(record, "title");
	outcome = refuse_job(bench, number, record_words(record, "state"));
	bench->where_refused = outcome != OUTCOME_DONE;
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (bench->waiting_count > 0) {
		outcome = bench_take(bench, bench->waiting, bench->waiting_count, found->id);
		bench->waiting_count = outcome == OUTCOME_DONE ? 0 : bench->waiting_count;
		bench->standing = outcome == OUTCOME_DONE ? STANDS_NOTHING : bench->standing;
		return outcome;
	}
	bench_say(bench, BENCH_SHOWN, "job %s%s%s%s: tools scanned now go out for it", number,
	          title != NULL ? " (" : "", title != NULL ? title : "", title != NULL ? ")" : "");
	return stand(bench, STANDS_JOB, found->id, number);
}

/* ---------------------------------------------------------------- tools */

static enum outcome wait_for_place(struct bench *bench, const struct bench_tool *tool,
                                   const struct tool_state *state)
{
	const char *words = bench_words(bench, tool->kind, tool->id);
	for (size_t i = 0; i < bench->waiting_count; i++) {
		if (bench->waiting[i].id == tool->id) {
			/* A hold is about the tool scanned last, which this is now. */
			struct bench_tool again = bench->waiting[i];
			memmove(&bench->waiting[i], &bench->waiting[i + 1],
			        (bench->waiting_count - 1 - i) * sizeof *bench->waiting);
			bench->waiting[bench->waiting_count - 1] = again;
			bench_say(bench, BENCH_SHOWN, "%s  waits already  %s", tool->tag, words);
			return OUTCOME_DONE;
		}
	}
	if (bench->waiting_count == BENCH_TOOLS_MOST) {
		return bench_refuse(bench, "Scan the place where they go, or DONE.",
		                    "%d tools wait already, this one does not: %s", BENCH_TOOLS_MOST,
		                    tool->tag);
	}
	bench->waiting[bench->waiting_count++] = *tool;
	bench->set = SET_WAITING;
	struct bench_line *line =
		bench_say(bench, BENCH_SHOWN, "%s  waits for its place  %s", tool->tag, words);
	if (tool->away && state->home_code != NULL) {
		line->hint =
			arena_format(bench->scratch, "Scan a place, or DONE to put it at its home, %s.",
		                 state->home_code);
	}
	if (strcmp(state->condition, "hold") == 0) {
		line->caution =
			arena_format(bench->scratch, "on hold%s%s", state->condition_reason != NULL ? ": " : "",
		                 state->condition_reason != NULL ? state->condition_reason : "");
	}
	return OUTCOME_DONE;
}

bool bench_is_away(const struct tool_state *state)
{
	return state->taken_for != NULL ||
	       (state->place_sort != NULL && strcmp(state->place_sort, "press") == 0);
}

static enum outcome tool_goes(struct bench *bench, const struct bench_tool *tool)
{
	return bench->standing == STANDS_PLACE ? bench_put(bench, tool, 1, bench->stands)
	                                       : bench_take(bench, tool, 1, bench->stands);
}

static enum outcome route_tool(struct bench *bench, const struct bench_tool *tool,
                               const struct tool_state *state)
{
	struct fault fault;
	fault_clear(&fault);
	if (bench_replays(bench)) {
		bench_replay_stands(bench);
	} else if (move_refuse_scrapped(state, &fault) != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	return bench->standing != STANDS_NOTHING ? tool_goes(bench, tool)
	                                         : wait_for_place(bench, tool, state);
}

/*
 * By its tag a tool is known well enough to be put or taken: what records it reads it anyway, and
 * the clerk waits for each look at the store.
 */
static bool goes_at_once(const struct bench *bench, const struct found *found, const char *code,
                         struct bench_tool *tool)
{
	struct tag tag;
	if (bench_replays(bench) || bench->counting.id != 0 || bench->standing == STANDS_NOTHING ||
	    tag_read(code, &tag) != TAG_READ || tag.class != found->kind->class) {
		return false;
	}
	*tool = (struct bench_tool){.id = found->id, .kind = found->kind};
	snprintf(tool->tag, sizeof tool->tag, "%s", tag_shown(tag).bytes);
	return true;
}

enum outcome bench_tool_scanned(struct bench *bench, const struct found *found, const char *code)
{
	struct tool_state state;
	struct bench_tool at_once;
	struct fault fault;
	fault_clear(&fault);
	if (goes_at_once(bench, found, code, &at_once)) {
		return tool_goes(bench, &at_once);
	}
	enum outcome outcome =
		store_tool_state(bench->store, bench->scratch, found->id, &state, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	struct bench_tool tool = {
		.id = found->id,
		.kind = found->kind,
		.from = state.place,
		.away = bench_is_away(&state),
	};
	if (bench->batch != NULL) {
		outcome = store_tool_was_away(bench->store, found->id, bench->actor.happened.value,
		                              &tool.away, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	snprintf(tool.tag, sizeof tool.tag, "%s", state.tag);
	return bench->counting.id != 0 ? bench_count_tool(bench, &tool)
	                               : route_tool(bench, &tool, &state);
}
