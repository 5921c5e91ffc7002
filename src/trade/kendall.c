/* Kendall's rank correlation, and whether it is more than chance. */
#include <math.h>

#include "distributions.h"
#include "slopes.h"
#include "toothrack/trade.h"

/* Up to so many, untied, the distribution of S is worked out exactly; past them only its ends. */
#define EXACT_MOST 33

/* Sums over the groups of equal ones, each of t: t(t-1)/2, t(t-1)(t-2), t(t-1)(2t+5). */
struct ties {
	int64_t pairs;
	double triples;
	double spread;
};

static void ties_add(struct ties *ties, int64_t group)
{
	double size = (double)group;
	ties->pairs += group * (group - 1) / 2;
	ties->triples += size * (size - 1) * (size - 2);
	ties->spread += size * (size - 1) * (2 * size + 5);
}

static struct ties ties_of(const struct keyed *sorted, uint32_t count)
{
	struct ties ties = {0};
	for (uint32_t start = 0; start < count;) {
		uint32_t end = start + 1;
		while (end < count && sorted[end].key == sorted[start].key) {
			end++;
		}
		ties_add(&ties, end - start);
		start = end;
	}
	return ties;
}

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
	struct arena *arena = series->arena;
	uint32_t count = series->count;
	struct keyed *items = arena_take(arena, 2 * (size_t)count + 1, sizeof(*items));
	for (uint32_t i = 0; i < count; i++) {
		items[i] = (struct keyed){.key = series->x[i], .index = i};
	}
	struct ties x = ties_of(items, count);
	for (uint32_t i = 0; i < count; i++) {
		items[i].key = (wide)series->x[i] * ((wide)1 << 64) + series->y[i];
	}
	struct ties both = ties_of(items, count);
	for (uint32_t i = 0; i < count; i++) {
		items[i].key = series->y[i];
	}
	int64_t inverted = keyed_sort(items, items + count, count);
	struct ties y = ties_of(items, count);
	int64_t all = (int64_t)count * ((int64_t)count - 1) / 2;
	struct kendall found = {.known = x.pairs < all && y.pairs < all, .p = 1};
	if (!found.known) {
		return found;
	}
	found.s = all - x.pairs - y.pairs + both.pairs - 2 * inverted;
	double tau = (double)found.s / sqrt((double)(all - x.pairs)) / sqrt((double)(all - y.pairs));
	found.tau = fmin(1, fmax(-1, tau));
	int64_t fewer = inverted < all - inverted ? inverted : all - inverted;
	bool exact = x.pairs == 0 && y.pairs == 0 && (count <= EXACT_MOST || fewer <= 1);
	found.p = exact ? exact_p(arena, count, fewer) : normal_p(found.s, count, &x, &y);
	return found;
}

struct kendall kendall_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count)
{
	struct series series = series_of(arena, x, y, count);
	return kendall_of_series(&series);
}
