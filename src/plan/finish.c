/* `finish`: a job has run, and the web that it took reaches the tools that ran. */
#include <string.h>

#include "turn.h"

#define TAGS_SAID 3

static void caution(struct turning *turning, const char *text)
{
	struct job_turned *out = turning->out;
	out->cautions = arena_grow(turning->arena, out->cautions, out->caution_count,
	                           out->caution_count + 1, sizeof *out->cautions);
	out->cautions[out->caution_count++] = text;
}

static const char *web_words(const struct turning *turning, struct length length)
{
	return arena_copy(turning->arena, web_text(length, turning->asked->limits->units).bytes);
}

/* ---------------------------------------------------------------- how long it ran */

/* Laid out at the repeat promised, where there is one, else at its own. */
static struct layout layout_of(const struct turning *turning)
{
	struct layout layout = turning->job.layout;
	const struct kept_promise *promise = &turning->promise;
	if (promise->id != 0 && promise->repeat.known) {
		layout.repeat = promise->repeat;
	}
	if (promise->id != 0 && promise->number_around.known) {
		layout.number_around = promise->number_around;
	}
	layout_complete(&layout, turning->job.quantity, turning->asked->limits->overs);
	return layout;
}

static void ask_for_length(struct turning *turning, const struct layout *layout)
{
	struct text lacking = text_start(turning->arena);
	const struct {
		bool known;
		const char *name;
	} parts[] = {
		{turning->job.quantity.known, "quantity"},
		{layout->number_across.known, "number_across"},
		{layout->number_around.known, "number_around"},
		{layout->repeat.known, "repeat"},
	};
	for (size_t i = 0; i < COUNT_OF(parts); i++) {
		if (!parts[i].known) {
			text_join(&lacking, ", ", parts[i].name);
		}
	}
	caution(turning,
	        arena_format(turning->arena,
	                     "length of its run is not known, without %s: no tool's run has grown; "
	                     "type undo, then finish %s length=... with the web that ran",
	                     lacking.bytes, turning->job.number));
}

/* More than twice, or less than half of what its quantity takes: a slip of the unit, say. */
static void question_length(struct turning *turning, struct length given, struct length by_quantity)
{
	if (length_compare(given, length_times(by_quantity, 2)) <= 0 &&
	    length_compare(length_times(given, 2), by_quantity) >= 0) {
		return;
	}
	caution(turning,
	        arena_format(turning->arena,
	                     "length is %s, its quantity takes %s; if that is a slip, type undo, then "
	                     "finish %s length=...",
	                     web_words(turning, given), web_words(turning, by_quantity),
	                     turning->job.number));
}

static void tell_length(struct turning *turning)
{
	const struct known_length *given = &turning->asked->length;
	struct layout layout = layout_of(turning);
	struct job_turned *out = turning->out;
	if (given->known) {
		out->length = *given;
		out->length_by = "given";
		if (layout.run.known) {
			question_length(turning, given->value, layout.run.value);
		}
	} else if (layout.run.known) {
		out->length = layout.run;
		out->length_by = "quantity";
	} else {
		ask_for_length(turning, &layout);
	}
}

/* ---------------------------------------------------------------- what ran with it */

static bool is_some_length(struct known_length length)
{
	return length.known && length_compare(length.value, length_from_nm(0)) > 0;
}

static void say_no_tools(struct turning *turning)
{
	caution(turning, "no tool is known to have run: none was scanned out for it, none was booked; "
	                 "type edit TAG run=... for each that did");
}

/* Their runs count from here on, which is less than they ran; nothing rests on that of a gear. */
static void say_counted_from_here(struct turning *turning)
{
	const struct job_turned *out = turning->out;
	struct text tags = text_start(turning->arena);
	size_t count = 0;
	for (size_t i = 0; i < out->ran_count; i++) {
		bool asked = out->ran[i].kind->id != KIND_GEAR;
		if (asked && !out->ran[i].tool.tool.run.known && ++count <= TAGS_SAID) {
			text_join(&tags, ", ", tag_shown(out->ran[i].tool.tool.tag).bytes);
		}
	}
	if (count > TAGS_SAID) {
		text_add_format(&tags, " and %zu more", count - TAGS_SAID);
	}
	if (count > 0) {
		caution(turning, arena_format(turning->arena,
		                              "run was not known before, and counts from this job on: %s; "
		                              "type edit TAG run=... with what it has run, this job too",
		                              tags.bytes));
	}
}

static void say_lives(struct turning *turning)
{
	const struct job_turned *out = turning->out;
	for (size_t i = 0; i < out->ran_count; i++) {
		const struct tool_ran *ran = &out->ran[i];
		if (ran->life_over != NULL) {
			caution(turning, arena_format(turning->arena, "%s life over, by %s",
			                              tag_shown(ran->tool.tool.tag).bytes, ran->life_over));
		}
	}
}

static enum outcome reach(struct turning *turning)
{
	struct job_turned *out = turning->out;
	int64_t *ids = arena_take(turning->arena, out->ran_count, sizeof *ids);
	for (size_t i = 0; i < out->ran_count; i++) {
		ids[i] = out->ran[i].tool.tool.id;
	}
	enum outcome outcome =
		store_run_reaches(turning->store, turning->job.id, out->length.value, out->length_by, ids,
	                      out->ran_count, turning->actor, turning->fault);
	for (size_t i = 0; i < out->ran_count && outcome == OUTCOME_DONE; i++) {
		tool_ran_grow(turning->arena, &out->ran[i], out->length.value,
		              turning->asked->limits->units);
	}
	if (outcome == OUTCOME_DONE && is_some_length(out->length)) {
		if (out->ran_count == 0) {
			say_no_tools(turning);
		}
		say_counted_from_here(turning);
		say_lives(turning);
	}
	return outcome;
}

/* ---------------------------------------------------------------- the job */

static enum outcome refuse_state(const struct turning *turning)
{
	const char *number = turning->job.number;
	if (job_turning_is(turning, "running")) {
		return OUTCOME_DONE;
	}
	if (job_turning_is(turning, "finished")) {
		fault_set(turning->fault, OUTCOME_NO, "job is finished already: %s", number);
		fault_hint(turning->fault, "Type show %s for when, and how long it ran.", number);
		return OUTCOME_NO;
	}
	fault_set(turning->fault, OUTCOME_NO, "job is not running: %s, %s", number, turning->job.state);
	if (job_turning_is(turning, "planned")) {
		fault_hint(turning->fault, "Type start %s when it starts.", number);
	}
	return OUTCOME_NO;
}

/* Where it ran; of one that runs by its state alone what its promise says, or the one it names. */
static int64_t press_of(const struct turning *turning)
{
	if (turning->run.job != 0 && turning->run.press != 0) {
		return turning->run.press;
	}
	if (turning->promise.id != 0) {
		return turning->promise.press;
	}
	return turning->job.press_count == 1 ? turning->job.presses[0] : 0;
}

static enum outcome tell_press(struct turning *turning, int64_t press)
{
	struct press_state state;
	if (press == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_press_read(turning->store, turning->arena, press, &state, turning->fault);
	if (outcome == OUTCOME_DONE) {
		turning->out->press = state.press.code;
	}
	return outcome;
}

static enum outcome finish(struct turning *turning)
{
	struct job_turned *out = turning->out;
	int64_t press = press_of(turning);
	enum outcome outcome = refuse_state(turning);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	job_turned_tell(turning);
	out->since = turning->run.started;
	out->since.known = turning->run.job != 0 && turning->run.started.known;
	tell_length(turning);
	outcome = tell_press(turning, press);
	if (outcome == OUTCOME_DONE && is_some_length(out->length)) {
		outcome = tools_ran(turning, press, &out->ran, &out->ran_count);
	}
	if (outcome == OUTCOME_DONE) {
		const struct run_end end = {press, out->length, out->length_by};
		outcome = store_job_finish(turning->store, turning->arena, turning->job.id, &end,
		                           turning->actor, turning->fault);
	}
	return outcome == OUTCOME_DONE && out->length.known ? reach(turning) : outcome;
}

enum outcome plan_finish(struct store *store, struct arena *arena,
                         const struct finish_request *request, struct job_turned *out,
                         struct fault *fault)
{
	struct turning turning = {.store = store,
	                          .arena = arena,
	                          .fault = fault,
	                          .actor = request->actor,
	                          .asked = request,
	                          .out = out};
	*out = (struct job_turned){.job = NULL};
	return job_turn(&turning, "plan_finish", request->job, finish);
}
