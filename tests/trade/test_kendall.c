/* Kendall's S, tau and p: published, and by looking at every order of a few. */
#include <math.h>
#include <stdlib.h>

#include "builders.h"
#include "random.h"

static struct arena *arena;

static struct kendall kendall(const int64_t *y, size_t count)
{
	int64_t x[16];
	for (size_t i = 0; i < count; i++) {
		x[i] = (int64_t)i;
	}
	return kendall_of(arena, x, y, count);
}

static int sign(int64_t value)
{
	return (value > 0) - (value < 0);
}

static int64_t s_of(const int64_t *x, const int64_t *y, size_t count)
{
	int64_t s = 0;
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < i; j++) {
			s += sign(x[i] - x[j]) * sign(y[i] - y[j]);
		}
	}
	return s;
}

/*
 * S 22: the example of EPA QA/G-9S, Data Quality Assessment: Statistical Methods for Practitioners,
 * U.S. Environmental Protection Agency 2006, page 109. p is not the guidance's, which corrects for
 * continuity; that one by scipy.stats.kendalltau.
 */
static void kendall_of__ties__published_example(void **state)
{
	(void)state;
	const int64_t y[] = {10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15};
	struct kendall found = kendall(y, COUNT_OF(y));
	assert_true(found.known);
	assert_int_equal(found.s, 22);
	assert_true(fabs(found.tau - 0.42817441928883765) < 1e-12);
	assert_true(fabs(found.p - 0.0775325957430296) < 1e-12);
}

/* The next order of 0..count-1, lexically; false after the last. */
static bool next_order(int64_t *order, size_t count)
{
	size_t fall = count - 1;
	while (fall > 0 && order[fall - 1] > order[fall]) {
		fall--;
	}
	if (fall == 0) {
		return false;
	}
	size_t other = count - 1;
	while (order[other] < order[fall - 1]) {
		other--;
	}
	int64_t kept = order[other];
	order[other] = order[fall - 1];
	order[fall - 1] = kept;
	for (size_t i = fall, j = count - 1; i < j; i++, j--) {
		kept = order[i];
		order[i] = order[j];
		order[j] = kept;
	}
	return true;
}

static void kendall_of__every_order_of_a_few__exact(void **state)
{
	(void)state;
	for (size_t count = 2; count <= 7; count++) {
		int64_t x[7];
		int64_t order[7];
		double orders = 0;
		double with[2 * 21 + 1] = {0}; /* by S + 21 */
		for (size_t i = 0; i < count; i++) {
			x[i] = (int64_t)i;
			order[i] = (int64_t)i;
		}
		do {
			with[s_of(x, order, count) + 21]++;
			orders++;
		} while (next_order(order, count));
		for (size_t i = 0; i < count; i++) {
			order[i] = (int64_t)i;
		}
		do {
			struct kendall found = kendall(order, count);
			assert_int_equal(found.s, s_of(x, order, count));
			double as_far = 0;
			for (int s = -21; s <= 21; s++) {
				as_far += (s < 0 ? -s : s) >= llabs(found.s) ? with[s + 21] : 0;
			}
			assert_true(fabs(found.p - as_far / orders) < 1e-12);
			arena_reset(arena);
		} while (next_order(order, count));
	}
}

static void kendall_of__all_equal__not_known(void **state)
{
	(void)state;
	const int64_t same[] = {5, 5, 5, 5};
	const int64_t some[] = {1, 2, 3, 4};
	struct kendall found = kendall_of(arena, same, some, 4);
	assert_false(found.known);
	assert_true(found.p >= 1);
	assert_false(kendall_of(arena, some, same, 4).known);
	assert_false(kendall_of(arena, some, some, 1).known);
	assert_false(kendall_of(arena, some, some, 0).known);
}

static void kendall_of__random_with_ties__counts_each_pair(void **state)
{
	(void)state;
	struct random random = {.state = 7};
	for (int round = 0; round < 400; round++) {
		int64_t x[120];
		int64_t y[120];
		size_t count = 2 + random_below(&random, 118);
		uint32_t values = 1 + random_below(&random, 200);
		for (size_t i = 0; i < count; i++) {
			x[i] = random_below(&random, values) * INT64_C(30000000000000000);
			y[i] = (int64_t)random_below(&random, values) - 60;
		}
		struct kendall found = kendall_of(arena, x, y, count);
		assert_true(!found.known || found.s == s_of(x, y, count));
		arena_reset(arena);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kendall_of__ties__published_example),
		cmocka_unit_test(kendall_of__every_order_of_a_few__exact),
		cmocka_unit_test(kendall_of__all_equal__not_known),
		cmocka_unit_test(kendall_of__random_with_ties__counts_each_pair),
	};
	arena = arena_new();
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	arena_free(arena);
	return failed;
}
