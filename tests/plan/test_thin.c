/* What is left out of a choice changes nothing in it: random groups, chosen with it and without. */
#include "bench.h"

#define GROUPS 3000
#define ROWS_MOST 5
#define ITEMS_MOST 24
#define COMPANIONS_MOST 20

/* A plain generator of numbers, so that every run draws the same. */
static unsigned int drawn = 20261125;

static size_t draw(size_t below)
{
	drawn = drawn * 1103515245u + 12345u;
	return (drawn >> 16) % below;
}

static void draw_costs(struct group *group)
{
	for (size_t edge = 0; edge < group->rows * group->items; edge++) {
		size_t rank = edge % group->items + 1;
		struct cost *cost = &group->item_cost[edge];
		group->item_level[edge] = draw(3) == 0 ? SUITS_NOT : SUITS_YES;
		cost->part[COST_CAUTIONS] = draw(6) == 0;
		cost->part[COST_DEVIATION] = (int64_t)draw(3);
		cost->part[COST_RUN] = (int64_t)draw(3);
		cost->part[COST_TAGS] = (int64_t)rank;
		cost->part[COST_TAG_ORDER] = (int64_t)(rank * (group->rows - edge / group->items));
	}
	for (size_t i = 0; i < group->companions; i++) {
		group->companion_cost[i].part[COST_CAUTIONS] = draw(6) == 0;
		group->companion_cost[i].part[COST_RUN] = (int64_t)draw(3);
		group->companion_cost[i].part[COST_TAGS] = (int64_t)i + 1;
	}
}

/* Items of few sorts, as rolls of a few faces are. */
static void draw_companions(struct group *group)
{
	uint8_t pattern[3][COMPANIONS_MOST];
	for (size_t sort = 0; sort < COUNT_OF(pattern); sort++) {
		for (size_t i = 0; i < COMPANIONS_MOST; i++) {
			pattern[sort][i] = draw(2) == 0;
		}
	}
	for (size_t item = 0; item < group->items; item++) {
		size_t sort = draw(COUNT_OF(pattern) + 1);
		group->companion_needed[item] = sort < COUNT_OF(pattern);
		for (size_t i = 0; i < group->companions; i++) {
			group->companion_allowed[item * group->companions + i] =
				group->companion_needed[item] && pattern[sort][i];
		}
	}
}

static struct group drawn_group(struct arena *arena)
{
	struct group group = {
		.rows = draw(ROWS_MOST) + 1,
		.items = draw(ITEMS_MOST) + 1,
		.companions = draw(COMPANIONS_MOST + 1),
	};
	size_t edges = group.rows * group.items, pairs = group.items * group.companions;
	group.item_level = arena_take(arena, edges, 1);
	group.item_cost = arena_take(arena, edges, sizeof *group.item_cost);
	group.companion_allowed = arena_take(arena, pairs, 1);
	group.companion_needed = arena_take(arena, group.items, 1);
	group.companion_cost = arena_take(arena, group.companions, sizeof *group.companion_cost);
	draw_costs(&group);
	draw_companions(&group);
	return group;
}

static void group_choose__thinned__the_same_tools(void **state)
{
	struct bench *bench = *state;
	struct question question = bench->question;
	question.arena = arena_new();
	size_t left_out = 0;
	for (int i = 0; i < GROUPS; i++) {
		struct assigned whole, thinned;
		arena_reset(question.arena);
		struct group group = drawn_group(question.arena);
		size_t edges = group.rows * group.items;
		uint8_t *among = arena_take(question.arena, edges, 1);
		for (size_t edge = 0; edge < edges; edge++) {
			among[edge] = i % 2 == 0 || draw(4) > 0;
		}
		group_choose(&question, &group, among, &whole);
		group_thin(question.arena, &group);
		const uint8_t *allowed = group_allowed(question.arena, &group, among);
		group_choose(&question, &group, among, &thinned);
		assert_int_equal(cost_compare(whole.total, thinned.total), 0);
		assert_memory_equal(whole.item, thinned.item, group.rows * sizeof *whole.item);
		assert_memory_equal(whole.companion, thinned.companion,
		                    group.rows * sizeof *whole.companion);
		for (size_t edge = 0; edge < edges; edge++) {
			left_out += among[edge] && group.item_level[edge] != SUITS_NOT && !allowed[edge];
		}
	}
	assert_true(left_out > GROUPS);
	arena_free(question.arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BENCH_TEST(group_choose__thinned__the_same_tools),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
