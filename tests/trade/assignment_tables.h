/* Assignment problems as tests build them, and what every answer must hold. */
#ifndef TESTS_TRADE_ASSIGNMENT_TABLES_H
#define TESTS_TRADE_ASSIGNMENT_TABLES_H

#include "published.h"

/* A problem, and its tables open to be filled. */
struct tables {
	struct assignment problem;
	uint8_t *item_allowed;
	struct cost *item_cost;
	uint8_t *companion_needed;
	uint8_t *companion_allowed;
	struct cost *companion_cost;
};

static inline struct tables tables_new(struct arena *arena, size_t rows, size_t items,
                                       size_t companions)
{
	struct tables tables = {
		.item_allowed = arena_take(arena, rows * items + 1, 1),
		.item_cost = arena_take(arena, rows * items + 1, sizeof(struct cost)),
		.companion_needed = arena_take(arena, items + 1, 1),
		.companion_allowed = arena_take(arena, items * companions + 1, 1),
		.companion_cost = arena_take(arena, companions + 1, sizeof(struct cost)),
	};
	tables.problem = (struct assignment){
		.rows = rows,
		.items = items,
		.companions = companions,
		.item_allowed = tables.item_allowed,
		.item_cost = tables.item_cost,
		.companion_needed = tables.companion_needed,
		.companion_allowed = tables.companion_allowed,
		.companion_cost = tables.companion_cost,
	};
	return tables;
}

static inline struct cost cost_of_one(int64_t part)
{
	return (struct cost){{part}};
}

static inline bool needs_companion(const struct assignment *problem, size_t item)
{
	return problem->companion_needed && problem->companion_needed[item];
}

/* That an answer is one at all (allowed, nothing twice), and costs what it says. */
static inline void assert_assigned(const struct assignment *problem, const struct assigned *out)
{
	struct cost total = {{0}};
	for (size_t row = 0; row < problem->rows; row++) {
		size_t item = out->item[row];
		size_t companion = out->companion[row];
		if (item == ASSIGNED_NONE) {
			assert_true(companion == ASSIGNED_NONE);
			if (!problem->item_required)
				total = cost_add(total, problem->without_item);
			continue;
		}
		assert_true(item < problem->items);
		assert_true(problem->item_allowed[row * problem->items + item]);
		total = cost_add(total, problem->item_cost[row * problem->items + item]);
		if (companion != ASSIGNED_NONE) {
			assert_true(companion < problem->companions);
			assert_true(needs_companion(problem, item));
			assert_true(problem->companion_allowed[item * problem->companions + companion]);
			total = cost_add(total, problem->companion_cost[companion]);
		} else if (needs_companion(problem, item)) {
			total = cost_add(total, problem->without_companion);
		}
		for (size_t other = 0; other < row; other++) {
			assert_true(out->item[other] != item);
			assert_true(companion == ASSIGNED_NONE || out->companion[other] != companion);
		}
	}
	assert_int_equal(cost_compare(total, out->total), 0);
}

#endif
