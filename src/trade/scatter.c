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

/* ln of a roll's variance, less what chance adds to it by the freedom behind it. */
static double log_variance(const struct scatter *one)
{
	double half = one->freedom / 2;
	return 2 * log(one->share) - digamma(half) + log(half);
}

/* What the rolls' variances differ by, over chance: as freedom. */
static double freedom_of(double more)
{
	double least = trigamma(FREEDOM_MOST / 2);
	return more > least ? 2 * trigamma_inverse(more) : FREEDOM_MOST;
}

/*
 * Smyth 2004, section 6.2, by the mean and the variance of ln s2. How much rolls differ is itself
 * known the worse the fewer they are: the freedom is taken from a standard error above, so that few
 * rolls tell little; a variance's own by a kurtosis of 7, that of ln s2 with one degree of freedom.
 */
struct scatter scatter_of_shop(const struct scatter *each, size_t count)
{
	double rolls = 0;
	double mean = 0;
	double chance = 0;
	for (size_t i = 0; i < count; i++) {
		if (counts(&each[i])) {
			rolls++;
			mean += log_variance(&each[i]);
			chance += trigamma(each[i].freedom / 2);
		}
	}
	if (rolls < ROLLS_LEAST) {
		return (struct scatter){0};
	}
	mean /= rolls;
	chance /= rolls;
	double square = 0;
	for (size_t i = 0; i < count; i++) {
		if (counts(&each[i])) {
			double off = log_variance(&each[i]) - mean;
			square += off * off / (rolls - 1);
		}
	}
	double half = freedom_of(square - chance) / 2;
	return (struct scatter){
		.share = exp((mean + digamma(half) - log(half)) / 2),
		.freedom = freedom_of(square + square * sqrt(6 / rolls) - chance),
	};
}
