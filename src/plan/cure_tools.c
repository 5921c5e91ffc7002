/*
 * Cures that need no new plate: a tool that comes back or is cleared, a station that is cleared, a
 * later time.
 */
#include <stdlib.h>

#include "internal.h"
#include "words.h"

#define TRIED_MOST 48 /* tools or moments tried for one press */

/* A tool that suits some need that is lacking, but is not there. */
struct absent {
	struct tool *tool;
	struct known_moment until; /* when it will be there of itself, where that is known */
};

struct absent_list {
	struct absent items[TRIED_MOST];
	size_t count;
};

static bool absent_is_known(const struct absent_list *list, const struct tool *tool)
{
	for (size_t i = 0; i < list->count; i++) {
		if (list->items[i].tool == tool) {
			return true;
		}
	}
	return false;
}

static void absent_note(const struct question *question, struct tool *tool,
                        struct absent_list *list)
{
	struct remarks remarks = {.count = 0};
	if (list->count == TRIED_MOST || absent_is_known(list, tool) ||
	    tool_there(tool, question->job->number, question->press->press.id, question->span,
	               question->limits, false, &remarks) != SUITS_NOT) {
		return;
	}
	struct absent *absent = &list->items[list->count++];
	*absent = (struct absent){.tool = tool};
	for (size_t i = 0; i < remarks.count; i++) {
		if (remarks.items[i].level == SUITS_NOT) {
			absent->until = remarks.items[i].until;
		}
	}
}

/* Is some need of the group unmet or in doubt? A tool for one row may then free one for another. */
static bool group_lacks(const struct group *group)
{
	for (size_t row = 0; row < group->rows; row++) {
		size_t item = group->chosen.item[row], companion = group->chosen.companion[row];
		if (item == ASSIGNED_NONE ||
		    group->item_level[row * group->items + item] == SUITS_DOUBTFUL) {
			return true;
		}
		if (group->companion_needed[item] &&
		    (companion == ASSIGNED_NONE ||
		     group->companion_level[item * group->companions + companion] == SUITS_DOUBTFUL)) {
			return true;
		}
	}
	return false;
}

static bool suits_some_row(const struct question *question, const struct group *group, size_t item)
{
	for (size_t row = 0; row < group->rows; row++) {
		if (group->rules->item_suits(question, row, item, NULL) != SUITS_NOT) {
			return true;
		}
	}
	return false;
}

static void absent_items(const struct question *question, const struct group *group,
                         struct absent_list *list)
{
	for (size_t item = 0; item < group->items; item++) {
		if (suits_some_row(question, group, item)) {
			absent_note(question, group->rules->item_tool(question, item), list);
		}
	}
}

/* Companions of the items chosen. */
static void absent_companions(const struct question *question, const struct group *group,
                              struct absent_list *list)
{
	for (size_t row = 0; row < group->rows; row++) {
		size_t item = group->chosen.item[row];
		for (size_t i = 0; i < group->companions && item != ASSIGNED_NONE; i++) {
			if (group->companion_needed[item] &&
			    group->rules->companion_suits(question, item, i, NULL) != SUITS_NOT) {
				absent_note(question, group->rules->companion_tool(question, i), list);
			}
		}
	}
}

static void absent_find(const struct attempt *attempt, struct absent_list *list)
{
	const struct solution *solution = &attempt->solution;
	const struct group *groups[] = {&solution->cylinders, &solution->rolls, &solution->dies};
	for (size_t i = 0; i < COUNT_OF(groups); i++) {
		/* Cylinders and dies are not judged without a repeat. */
		if ((attempt->repeat_judged || groups[i] == &solution->rolls) && group_lacks(groups[i])) {
			absent_items(&attempt->question, groups[i], list);
			absent_companions(&attempt->question, groups[i], list);
		}
	}
}

/* ---------------------------------------------------------------- return and clear */

/* Tries the question with one tool changed for a while. */
static bool improves_with(const struct attempt *attempt, struct tool *tool, struct tool changed,
                          struct standing *after)
{
	struct tool kept = *tool;
	*tool = changed;
	*after = standing_of(&attempt->question, attempt->repeat_judged, &attempt->solution.standing);
	*tool = kept;
	return standing_improves(after, &attempt->solution.standing);
}

static void one_tool(struct cure *cure, struct arena *arena, struct tag tag)
{
	cure->tools = arena_take(arena, 1, sizeof *cure->tools);
	cure->tools[0] = tag;
	cure->tool_count = 1;
}

static const char *due_words(struct arena *arena, const struct tool *tool)
{
	if (!tool->back.known) {
		return "no date back is on record";
	}
	return arena_format(arena, "due %s", moment_text(tool->back.value).bytes);
}

static void cure_of_return(const struct attempt *attempt, const struct absent *absent,
                           struct cure_list *list)
{
	struct tool changed = *absent->tool;
	struct standing after;
	if (changed.condition != CONDITION_READY || changed.sort != SORT_SUPPLIER) {
		return;
	}
	changed.sort = SORT_STORE;
	if (!improves_with(attempt, absent->tool, changed, &after)) {
		return;
	}
	struct cure *cure = cure_add(list, "return");
	one_tool(cure, list->arena, changed.tag);
	cure->from = absent->until;
	cure->text =
		arena_format(list->arena, "have %s back from %s (%s): %s", tag_shown(changed.tag).bytes,
	                 changed.place, due_words(list->arena, &changed),
	                 words_of_outcome(list->arena, &after, &attempt->solution.standing));
}

static void cure_of_clearing(const struct attempt *attempt, const struct absent *absent,
                             struct cure_list *list)
{
	struct tool changed = *absent->tool;
	struct standing after;
	if (changed.condition != CONDITION_HOLD) {
		return;
	}
	changed.condition = CONDITION_READY;
	if (!improves_with(attempt, absent->tool, changed, &after)) {
		return;
	}
	struct cure *cure = cure_add(list, "clear");
	one_tool(cure, list->arena, changed.tag);
	cure->text =
		arena_format(list->arena, "put right and clear %s%s%s: %s", tag_shown(changed.tag).bytes,
	                 changed.condition_text != NULL ? ", on hold for " : "",
	                 changed.condition_text != NULL ? changed.condition_text : "",
	                 words_of_outcome(list->arena, &after, &attempt->solution.standing));
}

static void cures_of_stations(const struct attempt *attempt, struct cure_list *list)
{
	struct press_state *press = attempt->question.press;
	for (size_t i = 0; i < press->station_count; i++) {
		struct press_station *station = &press->stations[i];
		if (!station->held) {
			continue;
		}
		station->held = false;
		struct standing after =
			standing_of(&attempt->question, attempt->repeat_judged, &attempt->solution.standing);
		station->held = true;
		if (standing_improves(&after, &attempt->solution.standing)) {
			struct cure *cure = cure_add(list, "clear");
			cure->press = press->press.code;
			cure->text =
				arena_format(list->arena, "put right and clear %s%s%s: %s", station->code,
			                 station->reason != NULL ? ", on hold for " : "",
			                 station->reason != NULL ? station->reason : "",
			                 words_of_outcome(list->arena, &after, &attempt->solution.standing));
		}
	}
}

/* ---------------------------------------------------------------- a later time */

static int moments_compare(const void *a, const void *b)
{
	return moment_compare(*(const struct moment *)a, *(const struct moment *)b);
}

/* When it may begin at the earliest, by a tool or the press; nothing where that is no later. */
static size_t moment_note(const struct question *question, struct known_moment moment,
                          struct moment *out, size_t count)
{
	struct moment open = calendar_open_from(&question->limits->calendar, moment.value);
	if (!moment.known || moment_compare(open, question->span.from) <= 0) {
		return count;
	}
	out[count] = open;
	return count + 1;
}

/* The moments at which something that is not there, or the press, is free; in order, each once. */
static size_t moments_of(const struct question *question, const struct absent_list *list,
                         struct moment **out)
{
	const struct press_state *press = question->press;
	size_t count = 0, once = 0;
	struct moment *moments =
		arena_take(question->arena, list->count + press->promise_count, sizeof *moments);
	for (size_t i = 0; i < list->count; i++) {
		count = moment_note(question, list->items[i].until, moments, count);
	}
	for (size_t i = 0; i < press->promise_count; i++) {
		count = moment_note(question, press->promises[i].until, moments, count);
	}
	if (count > 1) {
		qsort(moments, count, sizeof *moments, moments_compare);
	}
	for (size_t i = 0; i < count; i++) {
		if (once == 0 || moment_compare(moments[i], moments[once - 1]) != 0) {
			moments[once++] = moments[i];
		}
	}
	*out = moments;
	return once < TRIED_MOST ? once : TRIED_MOST;
}

/* The same length of time, from a later beginning; what of it lies in open hours does so then. */
static struct span span_from(const struct question *question, struct moment from)
{
	const struct calendar *calendar = &question->limits->calendar;
	const struct span *span = &question->span;
	struct span later = {.from = from, .now = span->now};
	later.until = calendar_add(calendar, from, calendar_between(calendar, span->from, span->until));
	if (moment_compare(later.until, from) == 0) {
		later.until = moment_add(from, moment_between(span->from, span->until));
	}
	return later;
}

static void cure_of_time(const struct attempt *attempt, struct moment from,
                         const struct standing *after, struct cure_list *list)
{
	struct cure *cure = cure_add(list, "time");
	cure->from = (struct known_moment){.known = true, .value = from};
	cure->text = arena_format(list->arena, "start it at %s: %s", moment_text(from).bytes,
	                          words_of_outcome(list->arena, after, &attempt->solution.standing));
}

/* The first time at which it comes out better, and the first at which it is short no more. */
static void cures_of_times(const struct attempt *attempt, const struct absent_list *absent,
                           struct cure_list *list)
{
	struct moment *moments;
	size_t count = moments_of(&attempt->question, absent, &moments);
	struct standing best = attempt->solution.standing;
	for (size_t i = 0; i < count && best.verdict != VERDICT_READY; i++) {
		struct question tried = attempt->question;
		tried.span = span_from(&attempt->question, moments[i]);
		struct standing after =
			standing_of(&tried, attempt->repeat_judged, &attempt->solution.standing);
		bool first = best.verdict == attempt->solution.standing.verdict &&
		             best.unmet == attempt->solution.standing.unmet;
		if (standing_improves(&after, &best) && (first || after.verdict < best.verdict)) {
			cure_of_time(attempt, moments[i], &after, list);
			best = after;
		}
	}
}

void cures_of_tools(const struct attempt *attempt, struct cure_list *list)
{
	struct absent_list absent = {.count = 0};
	absent_find(attempt, &absent);
	for (size_t i = 0; i < absent.count; i++) {
		cure_of_return(attempt, &absent.items[i], list);
	}
	for (size_t i = 0; i < absent.count; i++) {
		cure_of_clearing(attempt, &absent.items[i], list);
	}
	cures_of_stations(attempt, list);
	cures_of_times(attempt, &absent, list);
}
