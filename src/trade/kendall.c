/* Kendall's rank correlation, and whether it is more than chance. */
#include <math.h>

#include "distributions.h"
#include "slopes.h"
#include "toothrack/trade.h"

/* Up to so many, untied, the distribution of S is worked out exactly; past them only its ends. */
#define EXACT_MOST 33

/*
 * Probability of at most `inverted` of the pairs of `count` untied points standing inverted, or at
 * least as many standing so the other way: how many orders have so many inversions is counted point
 * by point. M. G. Kendall, Rank Correlation Methods, 4th ed., Griffin 1970, chapter 5.
 */
static double exact_p(struct arena *arena, uint32_t count, int64_t inverted)
{
	size_t most = (size_t)inverted + 1;
	double *share = arena_take(arena, most, sizeof(*share));
	double *before = arena_take(arena, most, sizeof(*before));
	share[0] = 1;
	for (uint32_t point = 2; point <= count; point++) {
		double sum = 0;
		for (size_t i = 0; i < most; i++) {
			before[i] = share[i];
			sum += share[i] - (i >= point ? before[i - point] : 0);
			share[i] = sum / point;
		}
	}
	double p = 0;
	for (size_t i = 0; i < most; i++) {
		p += 2 * share[i];
	}
	return p < 1 ? p : 1;
}

/* The variance of S under no trend: the same book, chapter 4. */
static double normal_p(int64_t s, uint32_t count, const struct ties *x, const struct ties *y)
{
	double n = (double)count;
	double m = n * (n - 1);
	double variance = (m * (2 * n + 5) - x->spread - y->spread) / 18 +
	                  2 * (double)x->pairs * (double)y->pairs / m +
	                  x->triples * y->triples / (9 * m * (n - 2));
	return normal_two_sided((double)s / sqrt(variance));
}

struct kendall kendall_of_series(const struct series *series)
{
	const struct ties *x = &series->x_ties;
	const struct ties *y = &series->y_ties;
	int64_t all = (int64_t)series->count * ((int64_t)series->count - 1) / 2;
	struct kendall found = {.known = x->pairs < all && y->pairs < all, .p = 1};
	if (!found.known) {
		return found;
	}
	found.s = all - x->pairs - y->pairs + series->both_pairs - 2 * series->inverted;
	double tau = (double)found.s / sqrt((double)(all - x->pairs)) / sqrt((double)(all - y->pairs));
	found.tau = fmin(1, fmax(-1, tau));
	int64_t rising = all - series->inverted;
	int64_t fewer = series->inverted < rising ? series->inverted : rising;
	bool exact = x->pairs == 0 && y->pairs == 0 && (series->count <= EXACT_MOST || fewer <= 1);
	found.p = exact ? exact_p(series->arena, series->count, fewer)
	                : normal_p(found.s, series->count, x, y);
	return found;
}

struct kendall kendall_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count)
{
	struct series series = series_of(arena, x, y, count);
	return kendall_of_series(&series);
}
