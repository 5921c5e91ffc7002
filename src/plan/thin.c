/*
 * What a choice of least cost cannot use is left out of it. Of items that ask the same of their
 * companions a row needs only as many of its cheapest as there are rows: one of these is always
 * free, and could take over the companion of a dearer one. Of companions that the same items take,
 * likewise. No two costs of a row are the same, since no two tags are.
 */
#include <stdlib.h>
#include <string.h>

#include "internal.h"

static bool asks_alike(const struct group *group, size_t item, size_t other)
{
	size_t companions = group->companions;
	return group->companion_needed[item] == group->companion_needed[other] &&
	       memcmp(&group->companion_allowed[item * companions],
	              &group->companion_allowed[other * companions], companions) == 0;
}

/* Sorts the items by what they ask of companions; false where they are of too many sorts. */
static bool take_sorts(struct arena *arena, struct group *group)
{
	size_t first[SORTS_MOST];
	group->sort_of_item = arena_take(arena, group->items, sizeof *group->sort_of_item);
	group->sort_count = 0;
	for (size_t item = 0; item < group->items; item++) {
		size_t sort = 0;
		while (sort < group->sort_count && !asks_alike(group, item, first[sort])) {
			sort++;
		}
		if (sort == SORTS_MOST) {
			return false;
		}
		first[sort] = sort == group->sort_count ? item : first[sort];
		group->sort_count += sort == group->sort_count;
		group->sort_of_item[item] = (uint8_t)sort;
	}
	return true;
}

static int compare_costs(const void *a, const void *b)
{
	return cost_compare(**(const struct cost *const *)a, **(const struct cost *const *)b);
}

/* Of every row the costs of the items that it could take, the cheapest first. */
static void take_order(struct arena *arena, struct group *group)
{
	group->order = arena_take(arena, group->rows * group->items, sizeof(struct cost *));
	group->order_count = arena_take(arena, group->rows, sizeof *group->order_count);
	for (size_t row = 0; row < group->rows; row++) {
		const struct cost **order = &group->order[row * group->items];
		size_t count = 0;
		for (size_t item = 0; item < group->items; item++) {
			size_t edge = row * group->items + item;
			if (group->item_level[edge] != SUITS_NOT) {
				order[count++] = &group->item_cost[edge];
			}
		}
		qsort(order, count, sizeof(struct cost *), compare_costs);
		group->order_count[row] = count;
	}
}

/* The sorts of items that take a companion, a bit each. */
static uint64_t takers_of(const struct group *group, size_t companion)
{
	uint64_t takers = 0;
	for (size_t item = 0; item < group->items; item++) {
		if (group->companion_allowed[item * group->companions + companion]) {
			takers |= UINT64_C(1) << group->sort_of_item[item];
		}
	}
	return takers;
}

static void disallow(struct group *group, size_t companion)
{
	for (size_t item = 0; item < group->items; item++) {
		group->companion_allowed[item * group->companions + companion] = 0;
	}
}

/* The cheapest first, as many of those that the same sorts take as there are rows. */
static void thin_companions(struct arena *arena, struct group *group)
{
	struct {
		uint64_t takers;
		size_t count;
	} seen[SORTS_MOST];
	size_t seen_count = 0;
	const struct cost **order = arena_take(arena, group->companions, sizeof(struct cost *));
	for (size_t i = 0; i < group->companions; i++) {
		order[i] = &group->companion_cost[i];
	}
	if (group->companions > 1) {
		qsort(order, group->companions, sizeof(struct cost *), compare_costs);
	}
	for (size_t i = 0; i < group->companions; i++) {
		size_t companion = (size_t)(order[i] - group->companion_cost), at = 0;
		uint64_t takers = takers_of(group, companion);
		while (at < seen_count && seen[at].takers != takers) {
			at++;
		}
		if (at == SORTS_MOST) {
			continue;
		}
		if (at == seen_count) {
			seen[seen_count].takers = takers;
			seen[seen_count++].count = 0;
		}
		if (++seen[at].count > group->rows) {
			disallow(group, companion);
		}
	}
}

void group_thin(struct arena *arena, struct group *group)
{
	if (group->items > 0 && take_sorts(arena, group)) {
		thin_companions(arena, group);
		take_order(arena, group);
	}
}

uint8_t *group_allowed(struct arena *arena, const struct group *group, const uint8_t *among)
{
	uint8_t *allowed = arena_take(arena, group->rows * group->items, 1);
	for (size_t row = 0; row < group->rows; row++) {
		size_t taken[SORTS_MOST] = {0}, full = 0;
		for (size_t i = 0; i < group->order_count[row] && full < group->sort_count; i++) {
			size_t edge = (size_t)(group->order[row * group->items + i] - group->item_cost);
			size_t sort = group->sort_of_item[edge % group->items];
			if ((among == NULL || among[edge]) && taken[sort] < group->rows) {
				allowed[edge] = 1;
				full += ++taken[sort] == group->rows;
			}
		}
	}
	return allowed;
}
