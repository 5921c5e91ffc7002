/*
 * What is expected in the stead of a tool that serves no need: the tools that the check chooses for
 * the needs which those out for the job leave open.
 */
#include <assert.h>

#include "serves.h"
#include "words.h"

#define EXPECTED_MOST 3 /* one line at a bench */

/* What decides, in this order: the check's own, and that tools out stay and its choice stands. */
enum expected_part {
	PART_UNMET,
	PART_MISSING,
	PART_NOT_OUT,
	PART_NOT_CHOSEN,
	PART_CAUTIONS,
	PART_RUN,
	PART_TAGS,
	PART_TAG_ORDER
};

struct expected {
	const struct hand *hand;
	const struct question *question;
	struct text text;
	size_t told, left;
};

static bool is_among(const size_t *indexes, size_t count, size_t index)
{
	for (size_t i = 0; i < count; i++) {
		if (indexes[i] == index) {
			return true;
		}
	}
	return false;
}

static struct cost cost_here(const struct hand *hand, const struct tool *tool, bool chosen,
                             const struct cost *cost)
{
	return (struct cost){{
		[PART_NOT_OUT] = hand_holds(hand, tool->id) ? 0 : 1,
		[PART_NOT_CHOSEN] = chosen ? 0 : 1,
		[PART_CAUTIONS] = cost->part[COST_CAUTIONS],
		[PART_RUN] = cost->part[COST_RUN],
		[PART_TAGS] = cost->part[COST_TAGS],
		[PART_TAG_ORDER] = cost->part[COST_TAG_ORDER],
	}};
}

/* The tool asked about serves none: it is not expected. */
static void price_items(const struct expected *expected, const struct group *group,
                        uint8_t *allowed, struct cost *costs)
{
	const struct hand *hand = expected->hand;
	for (size_t item = 0; item < group->items; item++) {
		const struct tool *tool = group->rules->item_tool(expected->question, item);
		bool chosen = is_among(group->chosen.item, group->rows, item);
		for (size_t row = 0; row < group->rows; row++) {
			size_t edge = row * group->items + item;
			allowed[edge] = group->item_level[edge] != SUITS_NOT && tool->id != hand->tool->id;
			costs[edge] = cost_here(hand, tool, chosen, &group->item_cost[edge]);
		}
	}
}

static void price_companions(const struct expected *expected, const struct group *group,
                             uint8_t *allowed, struct cost *costs)
{
	const struct hand *hand = expected->hand;
	for (size_t i = 0; i < group->companions; i++) {
		const struct tool *tool = group->rules->companion_tool(expected->question, i);
		bool chosen = is_among(group->chosen.companion, group->rows, i);
		costs[i] = cost_here(hand, tool, chosen, &group->companion_cost[i]);
		for (size_t item = 0; item < group->items; item++) {
			size_t edge = item * group->companions + i;
			allowed[edge] = group->companion_level[edge] != SUITS_NOT && tool->id != hand->tool->id;
		}
	}
}

static void choose_beside_out(const struct expected *expected, const struct group *group,
                              struct assigned *out)
{
	struct arena *arena = expected->question->arena;
	size_t edges = group->rows * group->items, pairs = group->items * group->companions;
	uint8_t *item_allowed = arena_take(arena, edges, 1);
	uint8_t *companion_allowed = arena_take(arena, pairs, 1);
	struct cost *item_cost = arena_take(arena, edges, sizeof *item_cost);
	struct cost *companion_cost = arena_take(arena, group->companions, sizeof *companion_cost);
	price_items(expected, group, item_allowed, item_cost);
	price_companions(expected, group, companion_allowed, companion_cost);
	struct assignment problem = {
		.rows = group->rows,
		.items = group->items,
		.companions = group->companions,
		.item_allowed = item_allowed,
		.item_cost = item_cost,
		.companion_needed = group->companion_needed,
		.companion_allowed = companion_allowed,
		.companion_cost = companion_cost,
		.without_item = {{[PART_UNMET] = 1, [PART_MISSING] = 1}},
		.without_companion = {{[PART_UNMET] = 1}},
	};
	assignment_solve(arena, &problem, out);
}

/* ---------------------------------------------------------------- telling them */

static const char *words_of(const struct question *question, const struct group_rules *rules,
                            bool companion, size_t index)
{
	struct arena *arena = question->arena;
	const struct shelf *shelf = question->shelf;
	enum units units = question->limits->units;
	if (rules == &cylinder_rules) {
		return companion ? words_of_gear(arena, &shelf->gears[index])
		                 : words_of_cylinder(arena, &shelf->cylinders[index], units);
	}
	if (rules == &roll_rules) {
		return companion ? words_of_blade(arena, &shelf->blades[index], units)
		                 : words_of_roll(arena, &shelf->rolls[index], question->layout.run, units);
	}
	return companion ? words_of_magnetic_cylinder(arena, &shelf->magnetic_cylinders[index], units)
	                 : words_of_die(arena, &shelf->dies[index], units);
}

static void tell(struct expected *expected, const struct group_rules *rules, bool companion,
                 size_t index)
{
	const struct question *question = expected->question;
	if (index == ASSIGNED_NONE) {
		return;
	}
	const struct tool *tool =
		companion ? rules->companion_tool(question, index) : rules->item_tool(question, index);
	if (hand_holds(expected->hand, tool->id)) {
		return;
	}
	if (expected->told == EXPECTED_MOST) {
		expected->left++;
		return;
	}
	text_join(&expected->text, "; ", tag_shown(tool->tag).bytes);
	const char *words = words_of(question, rules, companion, index);
	if (words[0] != '\0') {
		text_add_format(&expected->text, ", %s", words);
	}
	if (tool->place != NULL) {
		bool at = tool->sort == SORT_PRESS || tool->sort == SORT_SUPPLIER;
		text_add_format(&expected->text, ", %s %s", at ? "at" : "in", tool->place);
	}
	expected->told++;
}

static void tell_group(struct expected *expected, const struct group *group,
                       const struct assigned *assigned, bool items, bool companions)
{
	for (size_t row = 0; items && row < group->rows; row++) {
		tell(expected, group->rules, false, assigned->item[row]);
	}
	for (size_t row = 0; companions && row < group->rows; row++) {
		tell(expected, group->rules, true, assigned->companion[row]);
	}
}

/* Of the row that the reason names, where nothing is chosen for it: that there is none, or none
 * left. */
static void tell_none(struct expected *expected, const struct group *group, size_t row)
{
	bool suits = false;
	for (size_t item = 0; item < group->items; item++) {
		const struct tool *tool = group->rules->item_tool(expected->question, item);
		suits = suits || (tool->id != expected->hand->tool->id &&
		                  group->item_level[row * group->items + item] != SUITS_NOT);
	}
	text_add_format(&expected->text,
	                suits ? "no other %s is left for %s %lld"
	                      : "no other %s suits %s %lld and is there",
	                words_of_kind(expected->hand->kind),
	                group->rules->rows_are_cuts ? "cut" : "station",
	                (long long)group->rules->row_number(expected->question, row));
}

/* That of the row which the reason names, before the others. */
static void tell_nearest(struct expected *expected, const struct group *group,
                         struct assigned *assigned, size_t nearest)
{
	if (assigned->item[nearest] == ASSIGNED_NONE) {
		tell_none(expected, group, nearest);
	}
	tell(expected, group->rules, false, assigned->item[nearest]);
	assigned->item[nearest] = ASSIGNED_NONE;
}

/*
 * What is expected in its stead, that of the row `nearest` first, or that there is none for it;
 * NULL where nothing is known.
 */
static const char *expected_instead(const struct hand *hand, const struct attempt *judged,
                                    size_t nearest)
{
	const struct group *groups[GROUPS] = {&judged->solution.cylinders, &judged->solution.rolls,
	                                      &judged->solution.dies};
	struct assigned assigned[GROUPS];
	bool wanting = false;
	struct expected expected = {
		.hand = hand,
		.question = &judged->question,
		.text = text_start(judged->question.arena),
	};
	for (size_t i = 0; i < GROUPS; i++) {
		choose_beside_out(&expected, groups[i], &assigned[i]);
		if (groups[i]->rules == hand->rules) {
			wanting =
				!hand->companion && is_among(assigned[i].item, groups[i]->rows, ASSIGNED_NONE);
			if (!hand->companion && nearest < groups[i]->rows) {
				tell_nearest(&expected, groups[i], &assigned[i], nearest);
			}
			tell_group(&expected, groups[i], &assigned[i], !hand->companion, hand->companion);
		}
	}
	/* None of its kind: whatever is; but first, where one is still wanted, that there is none. */
	bool any_kind = expected.told == 0;
	if (any_kind && wanting && expected.text.length == 0) {
		text_add_format(&expected.text, "no other %s suits and is there",
		                words_of_kind(hand->kind));
	}
	for (size_t i = 0; i < GROUPS && any_kind; i++) {
		tell_group(&expected, groups[i], &assigned[i], true, true);
	}
	if (expected.left > 0) {
		text_add_format(&expected.text, "; and %zu more", expected.left);
	}
	return expected.text.length > 0 ? expected.text.bytes : NULL;
}

/* ---------------------------------------------------------------- the refusal */

/* The check on that way: of a new job at the repeat that the tools in hand ask for. */
static enum outcome way_solve(struct asking *asking, const struct way *way, struct attempt *out)
{
	struct asking *at = asking;
	if (way->repeat_found) {
		at = arena_take(asking->arena, 1, sizeof *at);
		*at = *asking;
		at->job.layout.repeat = way->candidate.repeat;
		at->job.layout.number_around = (struct known_count){
			.known = way->candidate.number_around > 0,
			.value = way->candidate.number_around,
		};
	}
	return attempt_solve(at, way->question.press->press.id, NULL, out);
}

/* Is it the first of its press among those that are meant? */
static bool is_first_of_press(const struct way *ways, size_t index)
{
	for (size_t i = 0; i < index; i++) {
		if (ways[i].meant &&
		    ways[i].question.press->press.id == ways[index].question.press->press.id) {
			return false;
		}
	}
	return ways[index].meant;
}

enum outcome serves_refuse(struct asking *asking, const struct hand *hand, const struct way *ways,
                           size_t count, struct served *out)
{
	const struct attempt *best = NULL;
	const struct way *best_way = NULL;
	for (size_t i = 0; i < count; i++) {
		if (!is_first_of_press(ways, i)) {
			continue;
		}
		struct attempt *attempt = arena_take(asking->arena, 1, sizeof *attempt);
		enum outcome outcome = way_solve(asking, &ways[i], attempt);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		if (best == NULL ||
		    standing_compare_presses(&attempt->solution.standing, &best->solution.standing) < 0) {
			best = attempt;
			best_way = &ways[i];
		}
	}
	size_t nearest;
	assert(best != NULL); /* those on which the tools out cover most are one at least */
	out->text = why_not(best_way, hand, best, &nearest);
	out->expected = expected_instead(hand, best, nearest);
	return OUTCOME_DONE;
}
