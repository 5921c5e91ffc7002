#include "published.h"
#include "random.h"

#define ROWS_MOST 7
#define COLUMNS_MOST 8

/*
 * By trying everything: the most rows from `row` on that can have columns of their own out of those
 * not used.
 */
static size_t size_tried(size_t rows, size_t columns, const uint8_t *allowed, size_t row,
                         unsigned used)
{
	if (row == rows)
		return 0;
	size_t best = size_tried(rows, columns, allowed, row + 1, used);
	for (size_t column = 0; column < columns; column++) {
		if (!allowed[row * columns + column] || (used & (1u << column)))
			continue;
		size_t size = 1 + size_tried(rows, columns, allowed, row + 1, used | (1u << column));
		if (size > best)
			best = size;
	}
	return best;
}

static void assert_matching(size_t rows, size_t columns, const uint8_t *allowed,
                            const size_t *row_match, size_t size)
{
	size_t matched = 0;
	unsigned used = 0;
	for (size_t row = 0; row < rows; row++) {
		size_t column = row_match[row];
		if (column == ASSIGNED_NONE)
			continue;
		assert_true(column < columns);
		assert_true(allowed[row * columns + column]);
		assert_false(used & (1u << column));
		used |= 1u << column;
		matched++;
	}
	assert_int_equal(matched, size);
}

/* More rows than columns, and every column that one of these rows could have is among them. */
static void assert_violator(size_t rows, size_t columns, const uint8_t *allowed,
                            const size_t *row_match, size_t left_out, const uint8_t *in_rows,
                            const uint8_t *in_columns)
{
	size_t row_count = 0;
	size_t column_count = 0;
	size_t left_out_count = 0;
	for (size_t row = 0; row < rows; row++) {
		if (!in_rows[row])
			continue;
		row_count++;
		left_out_count += row_match[row] == ASSIGNED_NONE ? 1 : 0;
		for (size_t column = 0; column < columns; column++)
			assert_true(!allowed[row * columns + column] || in_columns[column]);
	}
	for (size_t column = 0; column < columns; column++) {
		if (!in_columns[column])
			continue;
		column_count++;
		bool shared = false;
		for (size_t row = 0; row < rows; row++)
			shared = shared || (in_rows[row] && allowed[row * columns + column]);
		assert_true(shared);
	}
	assert_true(in_rows[left_out]);
	assert_int_equal(row_count, column_count + left_out_count);
}

static void matching_solve__random_graphs__as_large_as_any_and_proven(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct random random = {.state = 20260101};
	for (int round = 0; round < 4000; round++) {
		size_t rows = random_below(&random, ROWS_MOST + 1);
		size_t columns = random_below(&random, COLUMNS_MOST + 1);
		uint32_t density = 1 + random_below(&random, 5);
		uint8_t allowed[ROWS_MOST * COLUMNS_MOST + 1] = {0};
		for (size_t i = 0; i < rows * columns; i++)
			allowed[i] = random_below(&random, 6) < density;
		size_t row_match[ROWS_MOST + 1];
		size_t size = matching_solve(arena, rows, columns, allowed, row_match);
		assert_matching(rows, columns, allowed, row_match, size);
		assert_int_equal(size, size_tried(rows, columns, allowed, 0, 0));
		for (size_t row = 0; row < rows; row++) {
			if (row_match[row] != ASSIGNED_NONE)
				continue;
			uint8_t in_rows[ROWS_MOST + 1];
			uint8_t in_columns[COLUMNS_MOST + 1];
			matching_hall_set(arena, rows, columns, allowed, row_match, row, in_rows, in_columns);
			assert_violator(rows, columns, allowed, row_match, row, in_rows, in_columns);
		}
		arena_reset(arena);
	}
	arena_free(arena);
}

static void matching_solve__roll_a_greedy_choice_would_waste__all_served(void **state)
{
	(void)state;
	/* station 1 takes either roll, station 2 only the first */
	static const uint8_t allowed[] = {1, 1, 1, 0};
	struct arena *arena = arena_new();
	size_t row_match[2];
	assert_int_equal(matching_solve(arena, 2, 2, allowed, row_match), 2);
	assert_int_equal(row_match[0], 1);
	assert_int_equal(row_match[1], 0);
	arena_free(arena);
}

static void matching_hall_set__three_stations_share_two_rolls__names_them(void **state)
{
	(void)state;
	/* stations 0, 2 and 3 share rolls 1 and 2; station 1 has roll 0 and is no party to it */
	static const uint8_t allowed[] = {
		0, 1, 0, 1, 0, 0, 0, 1, 1, 0, 0, 1,
	};
	struct arena *arena = arena_new();
	size_t row_match[4];
	assert_int_equal(matching_solve(arena, 4, 3, allowed, row_match), 3);
	size_t left_out = 0;
	while (row_match[left_out] != ASSIGNED_NONE)
		left_out++;
	uint8_t in_rows[4];
	uint8_t in_columns[3];
	matching_hall_set(arena, 4, 3, allowed, row_match, left_out, in_rows, in_columns);
	static const uint8_t rows_expected[] = {1, 0, 1, 1};
	static const uint8_t columns_expected[] = {0, 1, 1};
	assert_memory_equal(in_rows, rows_expected, sizeof(rows_expected));
	assert_memory_equal(in_columns, columns_expected, sizeof(columns_expected));
	arena_free(arena);
}

/* Of four stations that could use the same two rolls, two are left out: either names all four. */
static void matching_hall_set__two_left_out__both_in_either_set(void **state)
{
	(void)state;
	static const uint8_t allowed[] = {
		1, 1, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 0,
	};
	struct arena *arena = arena_new();
	size_t row_match[5], left_out = 0;
	assert_int_equal(matching_solve(arena, 5, 3, allowed, row_match), 3);
	for (size_t row = 0; row < 5; row++) {
		uint8_t in_rows[5];
		uint8_t in_columns[3];
		if (row_match[row] != ASSIGNED_NONE)
			continue;
		left_out++;
		matching_hall_set(arena, 5, 3, allowed, row_match, row, in_rows, in_columns);
		static const uint8_t rows_expected[] = {1, 1, 1, 0, 1};
		static const uint8_t columns_expected[] = {1, 1, 0};
		assert_memory_equal(in_rows, rows_expected, sizeof(rows_expected));
		assert_memory_equal(in_columns, columns_expected, sizeof(columns_expected));
	}
	assert_int_equal(left_out, 2);
	arena_free(arena);
}

static void matching_hall_set__row_that_no_column_serves__stands_alone(void **state)
{
	(void)state;
	static const uint8_t allowed[] = {1, 1, 0, 0};
	struct arena *arena = arena_new();
	size_t row_match[2];
	assert_int_equal(matching_solve(arena, 2, 2, allowed, row_match), 1);
	assert_int_equal(row_match[0], 0);
	assert_true(row_match[1] == ASSIGNED_NONE);
	uint8_t in_rows[2];
	uint8_t in_columns[2];
	matching_hall_set(arena, 2, 2, allowed, row_match, 1, in_rows, in_columns);
	static const uint8_t rows_expected[] = {0, 1};
	static const uint8_t columns_expected[] = {0, 0};
	assert_memory_equal(in_rows, rows_expected, sizeof(rows_expected));
	assert_memory_equal(in_columns, columns_expected, sizeof(columns_expected));
	arena_free(arena);
}

/* A long chain: each row takes i or i + 1, and the last row pushes all the others along. */
static void matching_solve__long_chain__every_row_moves(void **state)
{
	(void)state;
	enum { LONG = 400 };
	struct arena *arena = arena_new();
	uint8_t *allowed = arena_take(arena, (size_t)LONG * LONG, 1);
	size_t *row_match = arena_take(arena, LONG, sizeof(*row_match));
	for (size_t row = 0; row + 1 < LONG; row++) {
		allowed[row * LONG + row] = 1;
		allowed[row * LONG + row + 1] = 1;
	}
	allowed[(size_t)(LONG - 1) * LONG] = 1;
	assert_int_equal(matching_solve(arena, LONG, LONG, allowed, row_match), LONG);
	for (size_t row = 0; row + 1 < LONG; row++)
		assert_int_equal(row_match[row], row + 1);
	assert_int_equal(row_match[LONG - 1], 0);
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(matching_solve__random_graphs__as_large_as_any_and_proven),
		cmocka_unit_test(matching_solve__roll_a_greedy_choice_would_waste__all_served),
		cmocka_unit_test(matching_hall_set__three_stations_share_two_rolls__names_them),
		cmocka_unit_test(matching_hall_set__two_left_out__both_in_either_set),
		cmocka_unit_test(matching_hall_set__row_that_no_column_serves__stands_alone),
		cmocka_unit_test(matching_solve__long_chain__every_row_moves),
	};
	return cmocka_run_group_tests_name("trade/matching", tests, NULL, NULL);
}
