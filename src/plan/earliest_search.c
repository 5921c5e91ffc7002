/*
 * When could a question start? It is asked as the check asks it, at the moments at which something
 * changes for the better: on the way up promises that end and tools that come back, on the way down
 * promises that begin.
 */
#include "earliest.h"

#define TRIED_MOST 4000 /* moments at which the whole question is asked */

/* ---------------------------------------------------------------- the moments */

static struct moment later_start(const struct question *question, struct moment free)
{
	return calendar_open_from(&question->limits->calendar, moment_minute_up(free));
}

/* How far ahead a start is sought. */
static struct duration horizon(void)
{
	return value_from_stored(VALUE_DURATION, INT64_C(2) * 365 * 86400).duration;
}

/* A question that takes no time still starts in open hours. */
struct moment timing_last_start(const struct timing *timing, struct moment end)
{
	const struct calendar *calendar = &timing->question.limits->calendar;
	struct moment start = calendar_subtract(calendar, end, timing->duration);
	if (moment_compare(calendar_open_from(calendar, start), start) != 0) {
		struct duration second = value_from_stored(VALUE_DURATION, 1).duration;
		start = calendar_subtract(calendar, start, second);
	}
	return moment_minute_down(start);
}

static void moments_room(struct arena *arena, struct moments *moments, size_t count)
{
	moments->later = arena_take(arena, 2 * count + 1, sizeof *moments->later);
	moments->earlier = arena_take(arena, count, sizeof *moments->earlier);
}

/*
 * A promise is no longer in the way when it is over, and not yet when it begins after the end.
 * One of no length is in the way at its own second, whatever the turnaround.
 */
static void moments_of_promise(const struct timing *timing, const struct promise *promise,
                               bool of_tool, struct moments *out)
{
	const struct question *question = &timing->question;
	const struct limits *limits = question->limits;
	struct duration nothing = moment_between(timing->from, timing->from);
	if (promise->until.known) {
		struct moment until = promise->until.value;
		struct moment free = of_tool ? promise_free(until, limits) : until;
		bool no_length = promise->from.known && moment_compare(promise->from.value, until) == 0;
		out->later[out->later_count++] = later_start(question, free);
		if (no_length) {
			out->later[out->later_count++] =
				calendar_open_from(&limits->calendar, moment_minute_past(until));
		}
	}
	if (promise->from.known) {
		struct duration between = of_tool ? limits->turnaround : nothing;
		struct moment end = calendar_subtract(&limits->calendar, promise->from.value, between);
		out->earlier[out->earlier_count++] = timing_last_start(timing, end);
	}
}

static void moments_of_tool(const struct timing *timing, const struct tool *tool,
                            struct moments *out)
{
	const struct question *question = &timing->question;
	moments_room(question->arena, out, tool->promise_count + tool->press_promise_count + 1);
	for (size_t i = 0; i < tool->promise_count; i++) {
		moments_of_promise(timing, &tool->promises[i], true, out);
	}
	for (size_t i = 0; i < tool->press_promise_count; i++) {
		moments_of_promise(timing, &tool->press_promises[i], false, out);
	}
	if (tool->back.known) {
		out->later[out->later_count++] = later_start(question, moment_of_day_end(tool->back.value));
	}
}

/* ---------------------------------------------------------------- the question over time */

static void group_open(struct timing *timing, const struct group_rules *rules,
                       struct timed_group *out)
{
	const struct question *question = &timing->question;
	struct arena *arena = question->arena;
	*out = (struct timed_group){
		.rules = rules,
		.rows = rules->row_count(question),
		.items = rules->item_count(question),
		.companions = rules->companion_count(question),
	};
	out->suits = arena_take(arena, out->rows * out->items, sizeof *out->suits);
	out->item_moments = arena_take(arena, out->items, sizeof *out->item_moments);
	out->companion_moments = arena_take(arena, out->companions, sizeof *out->companion_moments);
	for (size_t item = 0; item < out->items; item++) {
		for (size_t row = 0; row < out->rows; row++) {
			out->suits[row * out->items + item] =
				rules->item_suits(question, row, item, NULL) != SUITS_NOT;
		}
		moments_of_tool(timing, rules->item_tool(question, item), &out->item_moments[item]);
	}
	for (size_t i = 0; i < out->companions; i++) {
		moments_of_tool(timing, rules->companion_tool(question, i), &out->companion_moments[i]);
	}
}

void timing_open(const struct question *question, struct duration duration, struct moment from,
                 struct timing *out)
{
	static const struct group_rules *const rules[TIMED_GROUPS] = {&roll_rules, &die_rules,
	                                                              &cylinder_rules};
	const struct press_state *press = question->press;
	*out = (struct timing){
		.question = *question,
		.duration = duration,
		.from = calendar_open_from(&question->limits->calendar, from),
		.end = moment_add(from, horizon()),
	};
	for (size_t i = 0; i < TIMED_GROUPS; i++) {
		group_open(out, rules[i], &out->groups[i]);
	}
	moments_room(question->arena, &out->press, press->promise_count);
	for (size_t i = 0; i < press->promise_count; i++) {
		moments_of_promise(out, &press->promises[i], false, &out->press);
	}
}

struct span timing_span(const struct timing *timing, struct moment start)
{
	const struct limits *limits = timing->question.limits;
	return (struct span){
		.from = start,
		.until = calendar_add(&limits->calendar, start, timing->duration),
		.now = timing->question.span.now,
	};
}

/* ---------------------------------------------------------------- from one moment to the next */

/* Which way it goes, and the best moment found so far. */
struct step {
	const struct timing *timing;
	bool back;
	struct moment start; /* from here */
	struct span span;
	struct known_moment next;
};

/* Is `a` met before `b`? */
static bool is_sooner(const struct step *step, struct moment a, struct moment b)
{
	int order = moment_compare(a, b);
	return step->back ? order > 0 : order < 0;
}

static void step_offer(const struct step *step, struct moment moment, struct known_moment *next)
{
	if (is_sooner(step, step->start, moment) &&
	    (!next->known || is_sooner(step, moment, next->value))) {
		*next = (struct known_moment){.known = true, .value = moment};
	}
}

/* The next of these moments on the way. */
static void step_to(const struct step *step, const struct moments *moments,
                    struct known_moment *next)
{
	const struct moment *offered = step->back ? moments->earlier : moments->later;
	size_t count = step->back ? moments->earlier_count : moments->later_count;
	for (size_t i = 0; i < count; i++) {
		step_offer(step, offered[i], next);
	}
}

static bool is_there(const struct step *step, const struct tool *tool)
{
	const struct question *question = &step->timing->question;
	return tool_there(tool, question->job->number, question->press->press.id, step->span,
	                  question->limits, false, NULL) != SUITS_NOT;
}

/* What one need has to wait for, further on than `start`: false where it waits for ever. */
static bool step_past(struct step *step, struct known_moment need)
{
	if (!need.known) {
		return false;
	}
	if (!step->next.known || is_sooner(step, step->next.value, need.value)) {
		step->next = need;
	}
	return true;
}

static bool step_past_press(struct step *step)
{
	const struct press_state *press = step->timing->question.press;
	struct known_moment next = {.known = false};
	if (press_free(press->promises, press->promise_count, press->press.code, step->span, NULL) !=
	    SUITS_NOT) {
		return true;
	}
	step_to(step, &step->timing->press, &next);
	return step_past(step, next);
}

static bool step_past_row(struct step *step, const struct timed_group *group, size_t row)
{
	const struct question *question = &step->timing->question;
	struct known_moment next = {.known = false};
	for (size_t item = 0; item < group->items; item++) {
		if (group->suits[row * group->items + item] == 0) {
			continue;
		}
		if (is_there(step, group->rules->item_tool(question, item))) {
			return true;
		}
		step_to(step, &group->item_moments[item], &next);
	}
	return step_past(step, next);
}

/*
 * Goes on to the first moment at which no single need stands in the way; `start` itself where none
 * does. False: there is none.
 */
static bool step_over_needs(struct step *step)
{
	const struct timing *timing = step->timing;
	step->span = timing_span(timing, step->start);
	step->next.known = false;
	bool any = step_past_press(step);
	for (size_t i = 0; i < TIMED_GROUPS; i++) {
		for (size_t row = 0; row < timing->groups[i].rows && any; row++) {
			any = step_past_row(step, &timing->groups[i], row);
		}
	}
	return any;
}

/* The next moment at which anything at all changes for the better. */
static bool step_on(struct step *step)
{
	const struct timing *timing = step->timing;
	step->next.known = false;
	step_to(step, &timing->press, &step->next);
	for (size_t i = 0; i < TIMED_GROUPS; i++) {
		const struct timed_group *group = &timing->groups[i];
		for (size_t item = 0; item < group->items; item++) {
			step_to(step, &group->item_moments[item], &step->next);
		}
		for (size_t j = 0; j < group->companions; j++) {
			step_to(step, &group->companion_moments[j], &step->next);
		}
	}
	return step->next.known;
}

static const struct standing just_short = {.verdict = VERDICT_SHORT, .unmet = 0};

/* Is it short of nothing that time does not bring? */
static bool can_start(const struct timing *timing)
{
	struct arena *arena = arena_new();
	struct timing tried = *timing;
	tried.question.arena = arena;
	struct question best = timing_at_best(&tried);
	struct standing standing = standing_of(&best, true, &just_short);
	arena_free(arena);
	return standing_improves(&standing, &just_short);
}

/* The whole question, as the check asks it. */
static bool try_start(const struct timing *timing, struct moment start, struct earliest_start *out)
{
	struct question question = timing->question;
	question.span = timing_span(timing, start);
	struct standing standing = standing_of(&question, true, &just_short);
	if (!standing_improves(&standing, &just_short)) {
		return false;
	}
	*out = (struct earliest_start){
		.known = true,
		.from = start,
		.until = question.span.until,
		.verdict = standing.verdict,
		.repeat = question.layout.repeat,
		.number_around = question.layout.number_around,
		.duration = timing->duration,
	};
	return true;
}

/* From the start of the step on, as far as `last`. */
static bool search(struct step *step, struct moment last, struct earliest_start *out,
                   struct known_moment *before)
{
	bool can = false;
	for (size_t tried = 0; tried < TRIED_MOST && !is_sooner(step, last, step->start); tried++) {
		if (!step_over_needs(step)) {
			return false;
		}
		if (!step->next.known) {
			if (try_start(step->timing, step->start, out)) {
				return true;
			}
			can = can || can_start(step->timing);
			if (!can || !step_on(step)) {
				return false;
			}
		}
		*before = (struct known_moment){.known = true, .value = step->start};
		step->start = step->next.value;
	}
	return false;
}

bool timing_first(const struct timing *timing, struct earliest_start *out,
                  struct known_moment *before)
{
	struct step step = {.timing = timing, .start = timing->from};
	*out = (struct earliest_start){.known = false};
	before->known = false;
	return search(&step, timing->end, out, before);
}

bool timing_latest(const struct timing *timing, struct moment due, struct earliest_start *out)
{
	struct step step = {.timing = timing, .back = true, .start = timing_last_start(timing, due)};
	struct known_moment before;
	*out = (struct earliest_start){.known = false};
	return search(&step, timing->from, out, &before);
}
