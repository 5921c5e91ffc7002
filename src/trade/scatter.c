/* How readings scatter on the rolls of a shop. */
#include <math.h>

#include "distributions.h"
#include "toothrack/trade.h"

/* So many rolls tell how much they differ. */
#define ROLLS_LEAST 3
#define FREEDOM_MOST 1000.0

static bool counts(const struct scatter *one)
{
	return one->freedom >= 1 && one->share > 0 && isfinite(one->share) && isfinite(one->freedom);
}

/*
 * The variance of the rolls' own variances over chance says how much the rolls differ: Smyth 2004,
 * section 6.2, by the mean and the variance of ln s2.
 */
struct scatter scatter_of_shop(const struct scatter *each, size_t count)
{
	struct scatter shop = {0};
	double rolls = 0;
	double mean = 0;
	double chance = 0;
	for (size_t i = 0; i < count; i++) {
		if (counts(&each[i])) {
			double half = each[i].freedom / 2;
			rolls++;
			mean += 2 * log(each[i].share) - digamma(half) + log(half);
			chance += trigamma(half);
		}
	}
	if (rolls < ROLLS_LEAST) {
		return shop;
	}
	mean /= rolls;
	double square = 0;
	for (size_t i = 0; i < count; i++) {
		if (counts(&each[i])) {
			double half = each[i].freedom / 2;
			double off = 2 * log(each[i].share) - digamma(half) + log(half) - mean;
			square += off * off / (rolls - 1);
		}
	}
	double more = square - chance / rolls;
	shop.freedom = more > 0 ? fmin(2 * trigamma_inverse(more), FREEDOM_MOST) : FREEDOM_MOST;
	shop.share = exp((mean + digamma(shop.freedom / 2) - log(shop.freedom / 2)) / 2);
	return shop;
}
