/*
 * Choosing tools for all stations, or all cuts, together: the order of choice of the check as one
 * cost of several parts, solved as a least-cost assignment of items to rows and companions to
 * items.
 */
#include <stdlib.h>
#include <string.h>

#include "internal.h"

static enum suits worse(enum suits a, enum suits b)
{
	return a > b ? a : b;
}

bool tool_is_listed(const struct tool_list *list, int64_t tool)
{
	for (size_t i = 0; list != NULL && i < list->count; i++) {
		if (list->ids[i] == tool) {
			return true;
		}
	}
	return false;
}

static enum suits there(const struct question *question, const struct tool *tool,
                        bool carries_counts, struct remarks *remarks)
{
	enum suits level = tool_there(tool, question->job->number, question->press->press.id,
	                              question->span, question->limits, carries_counts, remarks);
	return tool_is_listed(question->last_choice, tool->id) ? worse(level, SUITS_DOUBTFUL) : level;
}

enum suits group_item_remarks(const struct question *question, const struct group_rules *rules,
                              size_t row, size_t item, struct remarks *remarks)
{
	enum suits level = rules->item_suits(question, row, item, remarks);
	if (level == SUITS_NOT && remarks == NULL) {
		return level;
	}
	return worse(level, there(question, rules->item_tool(question, item), rules == &cylinder_rules,
	                          remarks));
}

enum suits group_companion_remarks(const struct question *question, const struct group_rules *rules,
                                   size_t item, size_t companion, struct remarks *remarks)
{
	enum suits level = rules->companion_suits(question, item, companion, remarks);
	if (level == SUITS_NOT && remarks == NULL) {
		return level;
	}
	return worse(level,
	             there(question, rules->companion_tool(question, companion), false, remarks));
}

/* ---------------------------------------------------------------- ranks of tags */

struct ranked {
	struct tag tag;
	size_t index;
};

static int ranked_compare(const void *a, const void *b)
{
	return tag_compare(((const struct ranked *)a)->tag, ((const struct ranked *)b)->tag);
}

/* By item: its place in the order of tags, from 1: no station is dear for going without. */
static int64_t *tag_ranks(const struct question *question,
                          struct tool *(*tool_of)(const struct question *, size_t), size_t count)
{
	struct ranked *order = arena_take(question->arena, count, sizeof *order);
	int64_t *ranks = arena_take(question->arena, count, sizeof *ranks);
	for (size_t i = 0; i < count; i++) {
		order[i] = (struct ranked){.tag = tool_of(question, i)->tag, .index = i};
	}
	if (count > 1) {
		qsort(order, count, sizeof *order, ranked_compare);
	}
	for (size_t i = 0; i < count; i++) {
		ranks[order[i].index] = (int64_t)i + 1;
	}
	return ranks;
}

/* ---------------------------------------------------------------- costs */

static int64_t run_mm(const struct tool *tool)
{
	return tool->run.known ? length_to_nm(tool->run.value) / 1000000 : 0;
}

static struct cost tool_cost(const struct tool *tool, enum suits level, int64_t rank)
{
	struct cost cost = {{0}};
	cost.part[COST_CAUTIONS] = level == SUITS_DOUBTFUL ? 1 : 0;
	cost.part[COST_RUN] = run_mm(tool);
	cost.part[COST_TAGS] = rank;
	return cost;
}

static void judge_items(const struct question *question, struct group *group)
{
	const struct group_rules *rules = group->rules;
	int64_t *ranks = tag_ranks(question, rules->item_tool, group->items);
	for (size_t row = 0; row < group->rows; row++) {
		for (size_t item = 0; item < group->items; item++) {
			size_t edge = row * group->items + item;
			enum suits level = group_item_remarks(question, rules, row, item, NULL);
			group->item_level[edge] = (uint8_t)level;
			if (level == SUITS_NOT) {
				continue;
			}
			struct cost *cost = &group->item_cost[edge];
			*cost = tool_cost(rules->item_tool(question, item), level, ranks[item]);
			cost->part[COST_DEVIATION] =
				rules->deviation != NULL ? rules->deviation(question, row, item) : 0;
			cost->part[COST_TAG_ORDER] = ranks[item] * (int64_t)(group->rows - row);
		}
	}
}

/* Of items that no row could take nothing is asked. */
static bool item_is_wanted(const struct group *group, size_t item)
{
	for (size_t row = 0; row < group->rows; row++) {
		if (group->item_level[row * group->items + item] != SUITS_NOT) {
			return true;
		}
	}
	return false;
}

/* An item judged before that asks the same of its companions; ASSIGNED_NONE where there is none. */
static size_t judged_alike(const struct question *question, const struct group *group, size_t item)
{
	const struct group_rules *rules = group->rules;
	for (size_t before = 0; rules->asks_the_same != NULL && before < item; before++) {
		if (group->companion_needed[before] && rules->asks_the_same(question, item, before)) {
			return before;
		}
	}
	return ASSIGNED_NONE;
}

static void judge_companions_of(const struct question *question, struct group *group, size_t item)
{
	uint8_t *levels = &group->companion_level[item * group->companions];
	for (size_t i = 0; i < group->companions; i++) {
		levels[i] = (uint8_t)group_companion_remarks(question, group->rules, item, i, NULL);
		/*
		 * A companion's doubts are its own (when it is there, what is left of its life),
		 * whatever it goes with.
		 */
		if (levels[i] == SUITS_DOUBTFUL) {
			group->companion_cost[i].part[COST_CAUTIONS] = 1;
		}
	}
}

static void judge_companions(const struct question *question, struct group *group)
{
	const struct group_rules *rules = group->rules;
	int64_t *ranks = tag_ranks(question, rules->companion_tool, group->companions);
	for (size_t i = 0; i < group->companions; i++) {
		group->companion_cost[i] =
			tool_cost(rules->companion_tool(question, i), SUITS_YES, ranks[i]);
	}
	for (size_t item = 0; item < group->items; item++) {
		bool wanted = item_is_wanted(group, item) && rules->needs_companion(question, item);
		size_t alike = wanted ? judged_alike(question, group, item) : ASSIGNED_NONE;
		uint8_t *levels = &group->companion_level[item * group->companions];
		group->companion_needed[item] = wanted;
		if (alike != ASSIGNED_NONE) {
			memcpy(levels, &group->companion_level[alike * group->companions], group->companions);
		} else if (wanted) {
			judge_companions_of(question, group, item);
		} else {
			memset(levels, SUITS_NOT, group->companions);
		}
	}
}

static uint8_t *allowed_of(struct arena *arena, const uint8_t *levels, size_t count,
                           const uint8_t *among)
{
	uint8_t *allowed = arena_take(arena, count, 1);
	for (size_t i = 0; i < count; i++) {
		allowed[i] = levels[i] != SUITS_NOT && (among == NULL || among[i]);
	}
	return allowed;
}

void group_judge(const struct question *question, const struct group_rules *rules,
                 struct group *out)
{
	struct arena *arena = question->arena;
	*out = (struct group){
		.rules = rules,
		.rows = rules->row_count(question),
		.items = rules->item_count(question),
		.companions = rules->companion_count(question),
	};
	out->item_level = arena_take(arena, out->rows * out->items, 1);
	out->item_cost = arena_take(arena, out->rows * out->items, sizeof *out->item_cost);
	out->companion_level = arena_take(arena, out->items * out->companions, 1);
	out->companion_needed = arena_take(arena, out->items, 1);
	out->companion_cost = arena_take(arena, out->companions, sizeof *out->companion_cost);
	judge_items(question, out);
	judge_companions(question, out);
	out->companion_allowed =
		allowed_of(arena, out->companion_level, out->items * out->companions, NULL);
	group_thin(arena, out);
}

void group_choose(const struct question *question, struct group *group, const uint8_t *allowed,
                  struct assigned *out)
{
	struct arena *arena = question->arena;
	struct assignment problem = {
		.rows = group->rows,
		.items = group->items,
		.companions = group->companions,
		.item_allowed = group->order != NULL ? group_allowed(arena, group, allowed)
	                                         : allowed_of(arena, group->item_level,
	                                                      group->rows * group->items, allowed),
		.item_cost = group->item_cost,
		.companion_needed = group->companion_needed,
		.companion_allowed = group->companion_allowed,
		.companion_cost = group->companion_cost,
	};
	problem.without_item.part[COST_UNMET] = 1;
	problem.without_item.part[COST_MISSING] = 1;
	problem.without_companion.part[COST_UNMET] = 1;
	assignment_solve(arena, &problem, out);
}
