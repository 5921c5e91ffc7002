#include <string.h>

#include "assignment_tables.h"

#define MUNKRES_AND_SCIPY \
	"munkres tests and SciPy tests, scipy/optimize/tests/test_linear_assignment.py " \
	"(B. M. Clapper, G. Varoquaux)"
#define SCIPY_DOCUMENTATION "SciPy documentation, scipy.optimize.linear_sum_assignment"
#define OR_TOOLS \
	"matrix from the OR-Tools guide, " \
	"developers.google.com/optimization/assignment/linear_assignment"

/* ---- published matrices ---- */

#define FORBIDDEN (-1)

static void assignment_solve__published_matrices__published_costs(void **state)
{
	(void)state;
	static const struct {
		size_t rows, items;
		int64_t cost[16];
		int64_t total;
		const char *source;
	} matrices[] = {
		{3, 3, {400, 150, 400, 400, 450, 600, 300, 225, 300}, 850, MUNKRES_AND_SCIPY},
		{3, 4, {400, 150, 400, 1, 400, 450, 600, 2, 300, 225, 300, 3}, 452, MUNKRES_AND_SCIPY},
		{3, 3, {10, 10, 8, 9, 8, 1, 9, 7, 4}, 18, MUNKRES_AND_SCIPY},
		{3, 4, {10, 10, 8, 11, 9, 8, 1, 1, 9, 7, 4, 10}, 15, MUNKRES_AND_SCIPY},
		/* infinite costs there are pairs that are not allowed here */
		{3,
	     3,
	     {10, FORBIDDEN, FORBIDDEN, FORBIDDEN, FORBIDDEN, 1, FORBIDDEN, 7, FORBIDDEN},
	     18,
	     MUNKRES_AND_SCIPY},
		{3, 3, {4, 1, 3, 2, 0, 5, 3, 2, 2}, 5, SCIPY_DOCUMENTATION},
		{4, 4, {90, 76, 75, 70, 35, 85, 55, 65, 125, 95, 90, 105, 45, 110, 95, 115}, 265, OR_TOOLS},
	};
	struct arena *arena = arena_new();
	for (size_t i = 0; i < COUNT_OF(matrices); i++) {
		struct tables tables = tables_new(arena, matrices[i].rows, matrices[i].items, 0);
		for (size_t j = 0; j < matrices[i].rows * matrices[i].items; j++) {
			tables.item_allowed[j] = matrices[i].cost[j] != FORBIDDEN;
			tables.item_cost[j] = cost_of_one(matrices[i].cost[j]);
		}
		tables.problem.item_required = true;
		struct assigned out;
		assignment_solve(arena, &tables.problem, &out);
		assert_true(out.complete);
		assert_assigned(&tables.problem, &out);
		assert_published((double)out.total.part[0], (double)matrices[i].total, 0,
		                 matrices[i].source);
	}
	arena_free(arena);
}

/*
 * Matrices from a generator of known numbers (x = 1103515245 x + 12345 mod 2^31; a cost is two
 * parts, x/65536 mod 50 and mod 1000), solved once by scipy.optimize.linear_sum_assignment of SciPy
 * 1.10.1 at 1000000 x first + second.
 */
static void assignment_solve__generated_matrices__costs_that_scipy_found(void **state)
{
	(void)state;
	static const struct {
		uint32_t seed;
		size_t rows, items;
		int64_t first, second;
	} rows[] = {
		{1, 8, 60, 6, 2752},   {2, 8, 60, 4, 3764},   {3, 12, 12, 43, 6036}, {4, 16, 16, 90, 7724},
		{5, 16, 200, 0, 4413}, {6, 16, 300, 0, 3675}, {7, 10, 11, 57, 4056}, {8, 15, 40, 19, 6691},
	};
	struct arena *arena = arena_new();
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct tables tables = tables_new(arena, rows[i].rows, rows[i].items, 0);
		uint32_t x = rows[i].seed;
		for (size_t j = 0; j < rows[i].rows * rows[i].items; j++) {
			x = (x * 1103515245u + 12345u) & 0x7fffffffu;
			int64_t first = (x >> 16) % 50;
			x = (x * 1103515245u + 12345u) & 0x7fffffffu;
			int64_t second = (x >> 16) % 1000;
			tables.item_allowed[j] = 1;
			tables.item_cost[j] = (struct cost){{first, second}};
		}
		tables.problem.item_required = true;
		struct assigned out;
		assignment_solve(arena, &tables.problem, &out);
		assert_true(out.complete);
		assert_assigned(&tables.problem, &out);
		assert_int_equal(out.total.part[0], rows[i].first);
		assert_int_equal(out.total.part[1], rows[i].second);
		arena_reset(arena);
	}
	arena_free(arena);
}

static void assignment_solve__all_cost_the_same__lower_items_to_lower_rows(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct tables tables = tables_new(arena, 4, 9, 0);
	memset(tables.item_allowed, 1, 36);
	tables.problem.without_item = cost_of_one(1);
	struct assigned out;
	assignment_solve(arena, &tables.problem, &out);
	for (size_t row = 0; row < 4; row++)
		assert_int_equal(out.item[row], row);
	arena_free(arena);
}

/*
 * Two demountable cylinders and one with a gear of its own, for two stations, and one loose gear.
 */
static void assignment_solve__fewer_gears_than_cylinders__takes_the_geared_one(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct tables tables = tables_new(arena, 2, 3, 1);
	memset(tables.item_allowed, 1, 6);
	/* parts: unmet needs, deviation; the geared cylinder, 2, deviates most */
	for (size_t row = 0; row < 2; row++)
		tables.item_cost[row * 3 + 2].part[1] = 40;
	tables.companion_needed[0] = tables.companion_needed[1] = 1;
	tables.companion_allowed[0] = tables.companion_allowed[1] = 1;
	tables.problem.without_item = cost_of_one(1);
	tables.problem.without_companion = cost_of_one(1);
	struct assigned out;
	assignment_solve(arena, &tables.problem, &out);
	assert_assigned(&tables.problem, &out);
	assert_int_equal(out.total.part[0], 0);
	assert_int_equal(out.total.part[1], 40);
	assert_true(out.item[0] == 2 || out.item[1] == 2);
	arena_free(arena);
}

/*
 * A cylinder whose gear is missing keeps its place: the need of a gear is unmet, the cylinder is
 * not.
 */
static void assignment_solve__no_companion_left__item_goes_without(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct tables tables = tables_new(arena, 1, 1, 0);
	tables.item_allowed[0] = 1;
	tables.companion_needed[0] = 1;
	tables.problem.without_item = cost_of_one(2);
	tables.problem.without_companion = cost_of_one(1);
	struct assigned out;
	assignment_solve(arena, &tables.problem, &out);
	assert_int_equal(out.item[0], 0);
	assert_true(out.companion[0] == ASSIGNED_NONE);
	assert_int_equal(out.total.part[0], 1);
	arena_free(arena);
}

static void assignment_solve__item_required_and_too_few__not_complete(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct tables tables = tables_new(arena, 3, 2, 0);
	memset(tables.item_allowed, 1, 6);
	tables.problem.item_required = true;
	struct assigned out;
	assignment_solve(arena, &tables.problem, &out);
	assert_false(out.complete);
	assert_assigned(&tables.problem, &out);
	arena_free(arena);
}

static void assignment_solve__nothing_at_all__costs_nothing(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct assignment none = {.rows = 0};
	struct assigned out;
	assignment_solve(arena, &none, &out);
	assert_true(out.complete);
	assert_int_equal(cost_compare(out.total, cost_of_one(0)), 0);
	struct assignment no_shelf = {.rows = 3, .without_item = {{1, 2, 3, 4, 5, 6, 7, 8}}};
	assignment_solve(arena, &no_shelf, &out);
	assert_true(out.item[2] == ASSIGNED_NONE);
	struct cost expected = {{3, 6, 9, 12, 15, 18, 21, 24}};
	assert_int_equal(cost_compare(out.total, expected), 0);
	arena_free(arena);
}

/* ---- costs ---- */

static void cost_compare__parts__first_difference_decides(void **state)
{
	(void)state;
	struct cost a = {{1, 2, 3, 4, 5, 6, 7, 8}};
	struct cost b = a;
	assert_int_equal(cost_compare(a, b), 0);
	b.part[7] = 9;
	assert_int_equal(cost_compare(a, b), -1);
	assert_int_equal(cost_compare(b, a), 1);
	b.part[0] = 0;
	assert_int_equal(cost_compare(a, b), 1);
}

static void cost_add__parts__one_by_one_and_never_around(void **state)
{
	(void)state;
	struct cost sum =
		cost_add((struct cost){{1, -2, INT64_MAX, INT64_MIN}}, (struct cost){{10, 20, 1, -1}});
	struct cost expected = {{11, 18, INT64_MAX, INT64_MIN}};
	assert_int_equal(cost_compare(sum, expected), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(assignment_solve__published_matrices__published_costs),
		cmocka_unit_test(assignment_solve__generated_matrices__costs_that_scipy_found),
		cmocka_unit_test(assignment_solve__all_cost_the_same__lower_items_to_lower_rows),
		cmocka_unit_test(assignment_solve__fewer_gears_than_cylinders__takes_the_geared_one),
		cmocka_unit_test(assignment_solve__no_companion_left__item_goes_without),
		cmocka_unit_test(assignment_solve__item_required_and_too_few__not_complete),
		cmocka_unit_test(assignment_solve__nothing_at_all__costs_nothing),
		cmocka_unit_test(cost_compare__parts__first_difference_decides),
		cmocka_unit_test(cost_add__parts__one_by_one_and_never_around),
	};
	return cmocka_run_group_tests_name("trade/assignment", tests, NULL, NULL);
}
