/* The Theil-Sen slope and Sen's interval: published, degenerate, and against listing all slopes. */
#include <math.h>
#include <stdlib.h>

#include "builders.h"
#include "random.h"
#include "trade/slopes.h"

static struct arena *arena;

#define COUNT_MOST 500
/* The sanitizers are slow. */
#ifdef __SANITIZE_ADDRESS__
#define MANY 2000
#define ROUNDS 1000
#else
#define MANY 10000
#define ROUNDS 3000
#endif

/* P. K. Sen, JASA 63 (1968) 1379: slope 4, interval at alpha 0.07: 3.71 to 4.38. */
static void sen_of__published_example__to_two_places(void **state)
{
	(void)state;
	const int64_t x[] = {1, 2, 3, 4, 10, 12, 18};
	const int64_t y[] = {9, 15, 19, 20, 45, 55, 78};
	struct sen found = sen_of(arena, x, y, COUNT_OF(x), 0.93);
	assert_true(found.known && found.interval_known);
	assert_true(fabs(found.slope - 4) < 1e-12);
	assert_int_equal(lround(found.least * 100), 371);
	assert_int_equal(lround(found.most * 100), 438);
}

/* Slopes 1, 2, 3 and of the ends: of six the two in the middle are 5/3 and 2. */
static void sen_of__even_count__mean_of_the_middle_two(void **state)
{
	(void)state;
	const int64_t x[] = {0, 1, 2, 3};
	const int64_t y[] = {0, 1, 3, 6};
	/* 1, 2, 3, 3/2, 5/2, 2 */
	struct sen found = sen_of(arena, x, y, 4, 0.9);
	assert_true(fabs(found.slope - 2) < 1e-12);
	const int64_t more[] = {0, 1, 3, 5};
	/* 1, 2, 2, 3/2, 2, 5/3: the middle two are 5/3 and 2 */
	found = sen_of(arena, x, more, 4, 0.9);
	assert_true(fabs(found.slope - (5.0 / 3 + 2) / 2) < 1e-12);
}

static void sen_of__same_x__left_out(void **state)
{
	(void)state;
	const int64_t x[] = {1, 1, 3};
	const int64_t y[] = {0, 100, 10};
	struct sen found = sen_of(arena, x, y, 3, 0.9);
	assert_true(found.known && fabs(found.slope - (5 - 45) / 2.0) < 1e-12);
}

static void sen_of__nothing_to_tell__not_known(void **state)
{
	(void)state;
	const int64_t x[] = {7, 7, 7};
	const int64_t y[] = {1, 2, 3};
	assert_false(sen_of(arena, x, y, 3, 0.9).known);
	assert_false(sen_of(arena, x, y, 1, 0.9).known);
	assert_false(sen_of(arena, x, y, 0, 0.9).known);
	/* A flat line is one; its interval is as narrow. */
	struct sen flat = sen_of(arena, y, x, 3, 0.9);
	assert_true(flat.known && flat.interval_known);
	assert_true(fabs(flat.slope) + fabs(flat.least) + fabs(flat.most) <= 0);
	/* So much is tied that the variance is used up: all that can be told is the extremes. */
	const int64_t tied_x[] = {1, 1, 1, 1, 2};
	const int64_t tied_y[] = {5, 5, 5, 5, 3};
	struct sen tied = sen_of(arena, tied_x, tied_y, 5, 0.9);
	assert_true(tied.known && !tied.interval_known);
	assert_true(fabs(tied.slope + 2) + fabs(tied.least + 2) + fabs(tied.most + 2) <= 0);
}

/* ------------------------------------------------ against all of them */

struct drawn {
	int64_t x[COUNT_MOST], y[COUNT_MOST];
	size_t count;
};

/* Few values make many ties, and many slopes that are one. */
static void draw(struct random *random, struct drawn *drawn, size_t most)
{
	static const int64_t scales[] = {1, 1, 1000, INT64_C(1000000007), INT64_C(300000000000)};
	drawn->count = 2 + random_below(random, (uint32_t)most - 1);
	uint32_t x_values = 2 + random_below(random, random_below(random, 2) ? 2000000 : 12);
	uint32_t y_values = 1 + random_below(random, random_below(random, 2) ? 2000000 : 12);
	int64_t x_scale = scales[random_below(random, COUNT_OF(scales))];
	int64_t y_scale = scales[random_below(random, 3)];
	int64_t fall = random_below(random, 3);
	for (size_t i = 0; i < drawn->count; i++) {
		uint32_t x = random_below(random, x_values);
		drawn->x[i] = x * x_scale;
		drawn->y[i] = (random_below(random, y_values) - fall * x) * y_scale;
	}
}

static int number_compare(const void *a, const void *b)
{
	double left = *(const double *)a;
	double right = *(const double *)b;
	return (left > right) - (left < right);
}

static size_t slopes_listed(const struct series *series, double *slopes)
{
	size_t count = 0;
	for (uint32_t i = 0; i < series->count; i++) {
		for (uint32_t j = i + 1; j < series->count; j++) {
			if (series->x[i] != series->x[j]) {
				slopes[count++] = slope_between(series, i, j);
			}
		}
	}
	qsort(slopes, count, sizeof(*slopes), number_compare);
	return count;
}

static void compare(struct random *random, const struct drawn *drawn, int64_t listed_most)
{
	double *slopes = malloc(sizeof(*slopes) * drawn->count * drawn->count);
	struct series series = series_of(arena, drawn->x, drawn->y, drawn->count);
	size_t count = slopes_listed(&series, slopes);
	assert_int_equal(series.pairs, count);
	series.listed_most = listed_most;
	for (int round = 0; count > 0 && round < 3; round++) {
		int64_t ranks[SLOPE_RANKS];
		double found[SLOPE_RANKS];
		int64_t at = 0;
		for (size_t i = 0; i < SLOPE_RANKS; i++) {
			at += random_below(random, (uint32_t)((int64_t)count - at));
			ranks[i] = at;
		}
		slopes_at(&series, ranks, SLOPE_RANKS, found);
		for (size_t i = 0; i < SLOPE_RANKS; i++) {
			assert_int_equal(number_compare(&found[i], &slopes[ranks[i]]), 0);
		}
	}
	free(slopes);
	arena_reset(arena);
}

/* However few are listed: down to one, so that the narrowing does all. */
static void slopes_at__thousands_of_series__as_listing_all(void **state)
{
	(void)state;
	static const int64_t listed[] = {1, 7, 60, 1000};
	struct random random = {.state = 11};
	struct drawn drawn;
	for (size_t round = 0; round < ROUNDS; round++) {
		draw(&random, &drawn, round % 100 == 0 ? COUNT_MOST : 40);
		compare(&random, &drawn, listed[round % COUNT_OF(listed)]);
	}
}

/* No product may overflow, and slopes too near for a double are still in order. */
static void slopes_at__greatest_numbers__as_listing_all(void **state)
{
	(void)state;
	struct random random = {.state = 13};
	struct drawn drawn = {.count = 200};
	for (int round = 0; round < 20; round++) {
		for (size_t i = 0; i < drawn.count; i++) {
			int64_t far = (int64_t)random_below(&random, 1u << 31) << 31;
			drawn.x[i] = far + random_below(&random, 1u << 31);
			int64_t high =
				((int64_t)random_below(&random, 1u << 31) << 29) + random_below(&random, 1u << 29);
			drawn.y[i] = round % 2 == 0 ? high : drawn.x[i] / 4 + (int64_t)random_below(&random, 3);
		}
		compare(&random, &drawn, 50);
	}
}

/* 10,000 readings: how many slopes lie below and up to each that is told, counted one by one. */
static void sen_of__ten_thousand__each_end_at_its_rank(void **state)
{
	(void)state;
	struct random random = {.state = 17};
	size_t count = MANY;
	int64_t *x = malloc(sizeof(*x) * count);
	int64_t *y = malloc(sizeof(*y) * count);
	for (size_t i = 0; i < count; i++) {
		x[i] = (int64_t)random_below(&random, 1000000000) * 4000000;
		y[i] = 4000000 - x[i] / 4000000000 + random_below(&random, 300000);
	}
	struct series series = series_of(arena, x, y, count);
	int64_t ranks[SLOPE_RANKS] = {100, series.pairs / 3, series.pairs / 2, series.pairs - 1};
	double found[SLOPE_RANKS];
	slopes_at(&series, ranks, SLOPE_RANKS, found);
	int64_t below[SLOPE_RANKS] = {0};
	int64_t up_to[SLOPE_RANKS] = {0};
	for (uint32_t i = 0; i < series.count; i++) {
		for (uint32_t j = i + 1; j < series.count; j++) {
			if (series.x[j] != series.x[i]) {
				double slope = slope_between(&series, i, j);
				for (size_t k = 0; k < SLOPE_RANKS; k++) {
					below[k] += slope < found[k];
					up_to[k] += slope <= found[k];
				}
			}
		}
	}
	for (size_t k = 0; k < SLOPE_RANKS; k++) {
		assert_true(below[k] <= ranks[k] && ranks[k] < up_to[k]);
	}
	free(x);
	free(y);
	arena_reset(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(sen_of__published_example__to_two_places),
		cmocka_unit_test(sen_of__even_count__mean_of_the_middle_two),
		cmocka_unit_test(sen_of__same_x__left_out),
		cmocka_unit_test(sen_of__nothing_to_tell__not_known),
		cmocka_unit_test(slopes_at__thousands_of_series__as_listing_all),
		cmocka_unit_test(slopes_at__greatest_numbers__as_listing_all),
		cmocka_unit_test(sen_of__ten_thousand__each_end_at_its_rank),
	};
	arena = arena_new();
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	arena_free(arena);
	return failed;
}
