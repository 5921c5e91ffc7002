/* How far the tools in hand cover the needs of a job: matchings by the rules of the check. */
#include <string.h>

#include "serves.h"

const struct group_rules *const serving_rules[GROUPS] = {&cylinder_rules, &roll_rules, &die_rules};

struct cover cover_of(const struct question *question, const struct hand *hand,
                      const struct group_rules *rules)
{
	struct arena *arena = question->arena;
	struct shelf in_hand = hand->own;
	struct question own = *question;
	own.shelf = &in_hand;
	struct cover cover = {
		.rules = rules,
		.rows = rules->row_count(question),
		.items = rules->item_count(&own),
		.companions = rules->companion_count(&own),
		.all_items = rules->item_count(question),
	};
	cover.item_ok = arena_take(arena, cover.all_items * cover.rows, 1);
	cover.companion_ok = arena_take(arena, cover.all_items * cover.companions, 1);
	cover.needs = arena_take(arena, cover.all_items, 1);
	for (size_t item = 0; item < cover.all_items; item++) {
		bool any = false;
		for (size_t row = 0; row < cover.rows; row++) {
			bool ok = group_item_remarks(question, rules, row, item, NULL) != SUITS_NOT;
			cover.item_ok[item * cover.rows + row] = ok;
			any = any || ok;
		}
		cover.needs[item] = any && rules->needs_companion(question, item);
		for (size_t i = 0; i < cover.companions && cover.needs[item]; i++) {
			cover.companion_ok[item * cover.companions + i] =
				group_companion_remarks(question, rules, item, i, NULL) != SUITS_NOT;
		}
	}
	return cover;
}

size_t cover_items(struct arena *arena, const struct cover *cover, size_t items, size_t *row_of)
{
	if (row_of == NULL) {
		row_of = arena_take(arena, items, sizeof *row_of);
	}
	return matching_solve(arena, items, cover->rows, cover->item_ok, row_of);
}

/* A row without an item in hand, and a row without a companion in hand. */
enum { ROW_WITHOUT_ITEM, ROW_WITHOUT_COMPANION };

/*
 * Rows take items in hand wherever one more of them comes into use by it; beyond that as many
 * companions as can be are in use.
 */
size_t cover_companions(struct arena *arena, const struct cover *cover, size_t items,
                        size_t companions, struct assigned *out)
{
	size_t rows = cover->rows, all = cover->all_items;
	struct assigned assigned;
	uint8_t *item_allowed = arena_take(arena, rows * all, 1);
	struct cost *item_cost = arena_take(arena, rows * all, sizeof *item_cost);
	uint8_t *allowed = arena_take(arena, all * companions, 1);
	for (size_t item = 0; item < all; item++) {
		bool in_hand = item < cover->items;
		for (size_t row = 0; row < rows; row++) {
			struct cost *cost = &item_cost[row * all + item];
			item_allowed[row * all + item] =
				cover->item_ok[item * rows + row] && (!in_hand || item < items);
			cost->part[ROW_WITHOUT_ITEM] = in_hand ? 0 : 1;
			cost->part[ROW_WITHOUT_COMPANION] = cover->needs[item] ? 0 : 1;
		}
		if (companions > 0) {
			memcpy(&allowed[item * companions], &cover->companion_ok[item * cover->companions],
			       companions);
		}
	}
	struct assignment problem = {
		.rows = rows,
		.items = all,
		.companions = companions,
		.item_allowed = item_allowed,
		.item_cost = item_cost,
		.companion_needed = cover->needs,
		.companion_allowed = allowed,
		.companion_cost = arena_take(arena, companions, sizeof(struct cost)),
		.without_item = {{[ROW_WITHOUT_ITEM] = 1, [ROW_WITHOUT_COMPANION] = 1}},
		.without_companion = {{[ROW_WITHOUT_COMPANION] = 1}},
	};
	assignment_solve(arena, &problem, &assigned);
	if (out != NULL) {
		*out = assigned;
	}
	return rows - (size_t)assigned.total.part[ROW_WITHOUT_COMPANION];
}
