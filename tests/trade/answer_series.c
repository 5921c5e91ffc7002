/*
 * Answers series with what the trend of wear makes of them, for tests/trade/test_trend_scipy.py.
 * Each on standard input: how many points, the confidence, how many slopes may be listed (0: as
 * usual), then x and y of each. Each answer one line: slope, its interval, S, tau, p; nan for what
 * is not known.
 */
#include <inttypes.h>
#include <math.h>

#include "trade/slopes.h"

static void answer(struct arena *arena, const int64_t *x, const int64_t *y, size_t count,
                   double confidence, int64_t listed_most)
{
	struct series series = series_of(arena, x, y, count);
	series.listed_most = listed_most > 0 ? listed_most : series.listed_most;
	struct sen sen = sen_of_series(&series, confidence);
	struct kendall kendall = kendall_of_series(&series);
	bool ends = sen.known && sen.interval_known;
	printf("%.17g %.17g %.17g ", sen.known ? sen.slope : (double)NAN,
	       ends ? sen.least : (double)NAN, ends ? sen.most : (double)NAN);
	printf("%" PRId64 " %.17g %.17g\n", kendall.s, kendall.known ? kendall.tau : (double)NAN,
	       kendall.known ? kendall.p : (double)NAN);
}

int main(void)
{
	struct arena *arena = arena_new();
	size_t count;
	double confidence;
	int64_t listed_most;
	while (scanf("%zu %lf %" SCNd64, &count, &confidence, &listed_most) == 3) {
		int64_t *x = arena_take(arena, count + 1, sizeof(*x));
		int64_t *y = arena_take(arena, count + 1, sizeof(*y));
		for (size_t i = 0; i < count; i++) {
			if (scanf("%" SCNd64 " %" SCNd64, &x[i], &y[i]) != 2) {
				return 2;
			}
		}
		answer(arena, x, y, count, confidence, listed_most);
		arena_reset(arena);
	}
	arena_free(arena);
	return 0;
}
