/*
 * What tools in hand cover of a group's needs, against trying everything: random small tables of
 * what suits what, from fixed seeds.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "plan/serves.h"

#define TABLES 4000

static uint64_t random_state;

/* Numbers below `below`, by a linear congruence: the same on every machine. */
static size_t drawn(size_t below)
{
	random_state = random_state * 6364136223846793005u + 1442695040888963407u;
	return (size_t)(random_state >> 33) % below;
}

static void draw_cover(struct arena *arena, struct cover *cover)
{
	cover->rows = 1 + drawn(3);
	cover->items = drawn(4);
	cover->companions = drawn(4);
	cover->all_items = cover->items + drawn(3);
	cover->item_ok = arena_take(arena, cover->all_items * cover->rows, 1);
	cover->companion_ok = arena_take(arena, cover->all_items * cover->companions, 1);
	cover->needs = arena_take(arena, cover->all_items, 1);
	for (size_t item = 0; item < cover->all_items; item++) {
		cover->needs[item] = drawn(4) > 0;
		for (size_t row = 0; row < cover->rows; row++) {
			cover->item_ok[item * cover->rows + row] = drawn(4) > 0;
		}
		for (size_t i = 0; i < cover->companions; i++) {
			cover->companion_ok[item * cover->companions + i] = cover->needs[item] && drawn(4) > 0;
		}
	}
}

/* A choice half made: what is taken, and how much of it is in use. */
struct choice_so_far {
	const struct cover *cover;
	size_t items, companions; /* of those in hand, the first so many may be used */
	uint32_t items_taken, companions_taken;
	size_t in_hand, in_use;
	size_t best_in_hand, best_in_use;
};

static void try_row(struct choice_so_far *so_far, size_t row);

static void try_companions(struct choice_so_far *so_far, size_t row, size_t item)
{
	const struct cover *cover = so_far->cover;
	try_row(so_far, row + 1); /* without */
	for (size_t i = 0; cover->needs[item] && i < so_far->companions; i++) {
		if (cover->companion_ok[item * cover->companions + i] &&
		    !(so_far->companions_taken & (1u << i))) {
			so_far->companions_taken |= 1u << i;
			so_far->in_use++;
			try_row(so_far, row + 1);
			so_far->in_use--;
			so_far->companions_taken &= ~(1u << i);
		}
	}
}

static void try_row(struct choice_so_far *so_far, size_t row)
{
	const struct cover *cover = so_far->cover;
	if (row == cover->rows) {
		if (so_far->in_hand > so_far->best_in_hand ||
		    (so_far->in_hand == so_far->best_in_hand && so_far->in_use > so_far->best_in_use)) {
			so_far->best_in_hand = so_far->in_hand;
			so_far->best_in_use = so_far->in_use;
		}
		return;
	}
	try_row(so_far, row + 1); /* the row without an item */
	for (size_t item = 0; item < cover->all_items; item++) {
		bool in_hand = item < cover->items;
		if ((in_hand && item >= so_far->items) || !cover->item_ok[item * cover->rows + row] ||
		    (so_far->items_taken & (1u << item))) {
			continue;
		}
		so_far->items_taken |= 1u << item;
		so_far->in_hand += in_hand;
		try_companions(so_far, row, item);
		so_far->in_hand -= in_hand;
		so_far->items_taken &= ~(1u << item);
	}
}

static void cover__random_tables__as_trying_everything(void **state)
{
	(void)state;
	size_t grew = 0;
	random_state = 4;
	for (size_t table = 0; table < TABLES; table++) {
		struct arena *arena = arena_new();
		struct cover cover = {.rows = 0};
		draw_cover(arena, &cover);
		for (size_t items = 0; items <= cover.items; items++) {
			for (size_t companions = 0; companions <= cover.companions; companions++) {
				struct choice_so_far all = {.cover = &cover,
				                            .items = items,
				                            .companions = companions};
				try_row(&all, 0);
				assert_int_equal(cover_items(arena, &cover, items, NULL), all.best_in_hand);
				assert_int_equal(cover_companions(arena, &cover, items, companions, NULL),
				                 all.best_in_use);
				grew += all.best_in_use > 1;
			}
		}
		arena_free(arena);
	}
	assert_true(grew > 1000); /* the tables are not all empty */
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cover__random_tables__as_trying_everything),
	};
	return cmocka_run_group_tests_name("cover", tests, NULL, NULL);
}
