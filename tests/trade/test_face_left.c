/* What is left of a damaged face. All figures are invented; nothing is published on it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "random.h"
#include "toothrack/trade.h"

static struct damage_band band(int64_t from, int64_t to)
{
	return (struct damage_band){length_from_nm(from), length_from_nm(to)};
}

static void assert_left(int64_t face, const struct damage_band *bands, size_t count, int64_t from,
                        int64_t to)
{
	struct length left_from, left_to;
	assert_true(face_left(length_from_nm(face), bands, count, &left_from, &left_to));
	assert_int_equal(length_to_nm(left_from), from);
	assert_int_equal(length_to_nm(left_to), to);
}

static void face_left__no_damage__all_of_it(void **state)
{
	(void)state;
	assert_left(330, NULL, 0, 0, 330);
}

static void face_left__one_band__wider_side(void **state)
{
	(void)state;
	const struct damage_band near = band(100, 120), far = band(250, 260);
	assert_left(330, &near, 1, 120, 330);
	assert_left(330, &far, 1, 0, 250);
}

static void face_left__edges__whole_part_between(void **state)
{
	(void)state;
	const struct damage_band edges[] = {band(310, 400), band(-5, 20)};
	assert_left(330, edges, 2, 20, 310);
}

static void face_left__overlapping_and_touching__counted_once(void **state)
{
	(void)state;
	const struct damage_band bands[] = {band(150, 200), band(100, 160), band(200, 210)};
	assert_left(330, bands, 3, 210, 330);
}

static void face_left__two_as_wide__nearer_to_the_edge_counted_from(void **state)
{
	(void)state;
	const struct damage_band middle = band(150, 180);
	assert_left(330, &middle, 1, 0, 150);
}

static void face_left__band_without_width__no_damage(void **state)
{
	(void)state;
	const struct damage_band bands[] = {band(100, 100), band(300, 200)};
	assert_left(330, bands, 2, 0, 330);
}

static void face_left__damaged_all_over__nothing(void **state)
{
	(void)state;
	const struct damage_band bands[] = {band(0, 200), band(150, 330)};
	struct length from, to;
	assert_false(face_left(length_from_nm(330), bands, 2, &from, &to));
	assert_false(face_left(length_from_nm(0), NULL, 0, &from, &to));
}

/* ---------------------------------------------------------------- against brute force */

#define FACE_MOST 24
#define BANDS_MOST 5

/* Cell by cell: the first of the longest runs that no band covers; its length, 0: none. */
static int64_t count_cells(int64_t face, const struct damage_band *bands, size_t count,
                           int64_t *start)
{
	int64_t longest = 0, run = 0;
	for (int64_t cell = 0; cell < face; cell++) {
		int free = 1;
		for (size_t i = 0; i < count; i++) {
			free =
				free && !(length_to_nm(bands[i].from) <= cell && cell < length_to_nm(bands[i].to));
		}
		run = free ? run + 1 : 0;
		if (run > longest) {
			longest = run;
			*start = cell + 1 - run;
		}
	}
	return longest;
}

static void face_left__random_bands__as_counted_cell_by_cell(void **state)
{
	(void)state;
	struct random random = {.state = 20261126};
	int nothing = 0;
	for (int i = 0; i < 200000; i++) {
		struct damage_band bands[BANDS_MOST];
		int64_t face = 1 + random_below(&random, FACE_MOST), start = 0;
		size_t count = random_below(&random, BANDS_MOST + 1);
		for (size_t j = 0; j < count; j++) {
			int64_t from = (int64_t)random_below(&random, FACE_MOST + 6) - 3;
			bands[j] = band(from, from + (int64_t)random_below(&random, 9));
		}
		int64_t longest = count_cells(face, bands, count, &start);
		if (longest > 0) {
			assert_left(face, bands, count, start, start + longest);
		} else {
			struct length from, to;
			assert_false(face_left(length_from_nm(face), bands, count, &from, &to));
			nothing++;
		}
	}
	assert_true(nothing > 1000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(face_left__no_damage__all_of_it),
		cmocka_unit_test(face_left__one_band__wider_side),
		cmocka_unit_test(face_left__edges__whole_part_between),
		cmocka_unit_test(face_left__overlapping_and_touching__counted_once),
		cmocka_unit_test(face_left__two_as_wide__nearer_to_the_edge_counted_from),
		cmocka_unit_test(face_left__band_without_width__no_damage),
		cmocka_unit_test(face_left__damaged_all_over__nothing),
		cmocka_unit_test(face_left__random_bands__as_counted_cell_by_cell),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
