/* The Theil-Sen slope and Sen's interval. */
#include <math.h>

#include "distributions.h"
#include "slopes.h"
#include "toothrack/trade.h"

/*
 * The ranks of the interval's ends among the sorted slopes: Sen 1968, (2.6), the variance of
 * Kendall's S counted down by the ties of both. False where so much is tied that nothing is left.
 */
static bool interval_ranks(const struct series *series, double confidence, int64_t *least,
                           int64_t *most)
{
	double n = (double)series->count;
	double spread = n * (n - 1) * (2 * n + 5) - series->x_ties.spread - series->y_ties.spread;
	if (spread < 0) {
		return false;
	}
	double reach = -normal_quantile((1 - confidence) / 2) * sqrt(spread / 18);
	double low = rint(((double)series->pairs - reach) / 2) - 1;
	double high = rint(((double)series->pairs + reach) / 2);
	*least = low > 0 ? (int64_t)low : 0;
	*most = high < (double)(series->pairs - 1) ? (int64_t)high : series->pairs - 1;
	return true;
}

struct sen sen_of_series(const struct series *series, double confidence)
{
	struct sen found = {.known = series->pairs > 0};
	if (!found.known) {
		return found;
	}
	/* Least, the two in the middle, most: rising. */
	int64_t ranks[SLOPE_RANKS] = {0, (series->pairs - 1) / 2, series->pairs / 2, 0};
	double slopes[SLOPE_RANKS];
	found.interval_known = interval_ranks(series, confidence, &ranks[0], &ranks[3]);
	if (!found.interval_known) {
		ranks[3] = series->pairs - 1;
	}
	/* Of few, a narrow interval may end short of the middle two. */
	int64_t asked[SLOPE_RANKS];
	size_t place[SLOPE_RANKS];
	for (size_t i = 0; i < SLOPE_RANKS; i++) {
		size_t at = i;
		for (; at > 0 && ranks[i] < asked[at - 1]; at--) {
			asked[at] = asked[at - 1];
			place[at] = place[at - 1];
		}
		asked[at] = ranks[i];
		place[at] = i;
	}
	double sorted[SLOPE_RANKS];
	slopes_at(series, asked, SLOPE_RANKS, sorted);
	for (size_t i = 0; i < SLOPE_RANKS; i++) {
		slopes[place[i]] = sorted[i];
	}
	found.least = slopes[0];
	found.slope = ranks[1] == ranks[2] ? slopes[1] : (slopes[1] + slopes[2]) / 2;
	found.most = slopes[3];
	return found;
}

struct sen sen_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count,
                  double confidence)
{
	struct series series = series_of(arena, x, y, count);
	return sen_of_series(&series, confidence);
}
