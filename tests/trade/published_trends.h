/*
 * Trends that were published with their data and their outcome. What was not at hand to be read
 * again says "from memory".
 */
#ifndef TESTS_TRADE_PUBLISHED_TRENDS_H
#define TESTS_TRADE_PUBLISHED_TRENDS_H

#include <math.h>
#include <stddef.h>

#define PUBLISHED_TREND_MOST 17

/* NAN: the source does not tell. `..._within`: half of the last digit that it prints. */
struct published_trend {
	const char *source;
	size_t count;
	double x[PUBLISHED_TREND_MOST], y[PUBLISHED_TREND_MOST]; /* two decimals at most */
	double slope, slope_within;
	double confidence, least, most, ends_within; /* of the interval of the slope */
	double s, tau, tau_within;
	double p, p_within;               /* two-sided */
	double variance, variance_within; /* of S, counted down by ties */
};

static const struct published_trend published_trends[] = {
	{
		/*
         * Sodium in a well. Its other end of the interval, 0.399, is between two slopes, as Gilbert
         * has it; Sen takes the nearer one.
         */
		.source = "US EPA, Statistical Analysis of Groundwater Monitoring Data at RCRA Facilities, "
				  "Unified Guidance, EPA 530/R-09-007, 2009, example 17-7, p. 17-36; interval: "
				  "S. P. Millard, EnvStats, Springer 2013, script of that example",
		.count = 10,
		.x = {89.6, 90.1, 90.8, 91.1, 92.1, 93.1, 94.1, 95.6, 96.1, 96.3},
		.y = {56, 53, 51, 55, 52, 60, 62, 59, 61, 63},
		.slope = 1.3333333,
		.slope_within = 0.00000005,
		.confidence = 0.95,
		.least = NAN,
		.most = 2.3333333,
		.ends_within = 0.00000005,
		.s = 25,
		.tau = 0.5555556,
		.tau_within = 0.00000005,
		.p = NAN,
		.variance = NAN,
	},
	{
		.source =
			"US EPA, Data Quality Assessment: Statistical Methods for Practitioners, EPA "
			"QA/G-9S, 2006, p. 109, as in help.earthsoft.com/mann-kendall-trend-evaluation.htm",
		.count = 11,
		.x = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11},
		.y = {10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15},
		.slope = NAN,
		.confidence = NAN,
		.s = 22,
		.tau = NAN,
		.p = NAN,
		.variance = 155.33,
		.variance_within = 0.005,
	},
	{
		/* Lightness of canned tuna against what a panel said of it. */
		.source =
			"M. Hollander, D. A. Wolfe, Nonparametric Statistical Methods, Wiley 1973, p. 185, as "
			"in the R manual, cor.test (T = 26 of 36 pairs)",
		.count = 9,
		.x = {44.4, 45.9, 41.9, 53.3, 44.7, 44.1, 50.7, 45.2, 60.1},
		.y = {2.6, 3.1, 2.5, 5.0, 3.6, 4.0, 5.2, 2.8, 3.8},
		.slope = NAN,
		.confidence = NAN,
		.s = 16,
		.tau = 0.4444444,
		.tau_within = 0.00000005,
		.p = 0.1194,
		.p_within = 0.00005,
		.variance = NAN,
	},
	{
		.source = "D. G. Bonett, R package statpsych, ci.theil, after Hollander and Wolfe, "
				  "rdrr.io/cran/statpsych/man/ci.theil.html",
		.count = 15,
		.x = {67, 28, 30, 28, 52, 40, 25, 37, 44, 10, 14, 20, 28, 40, 51},
		.y = {21, 4, 9, 12, 35, 18, 10, 22, 24, 1, 6, 8, 13, 16, 19},
		.slope = 0.5,
		.slope_within = 0,
		.confidence = 0.95,
		.least = 0.3243243,
		.most = 0.75,
		.ends_within = 0.00000005,
		.s = NAN,
		.tau = NAN,
		.p = NAN,
		.variance = NAN,
	},
	{
		/* Its tau, 0.147, is not counted down by ties. */
		.source = "\"How to Perform a Mann-Kendall Trend Test in Python\", "
				  "statology.org/mann-kendall-test-python",
		.count = 17,
		.x = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16},
		.y = {31, 29, 28, 28, 27, 26, 26, 27, 27, 27, 28, 29, 30, 29, 30, 29, 28},
		.slope = 0.0384615384615,
		.slope_within = 0.00000000000005,
		.confidence = NAN,
		.s = 20,
		.tau = NAN,
		.p = NAN,
		.variance = 561.33333333,
		.variance_within = 0.000000005,
	},
	{
		.source = "SciPy manual, scipy.stats.kendalltau",
		.count = 5,
		.x = {12, 2, 1, 12, 2},
		.y = {1, 4, 7, 1, 0},
		.slope = NAN,
		.confidence = NAN,
		.s = NAN,
		.tau = -0.47140452079103173,
		.tau_within = 1e-12,
		.p = 0.2827454599327748,
		.p_within = 1e-12,
		.variance = NAN,
	},
	{
		/* Rain after clouds were seeded; p is twice the one-sided 0.117 of its table. */
		.source =
			"M. Hollander, D. A. Wolfe, E. Chicken, Nonparametric Statistical Methods, 3rd ed., "
			"Wiley 2014, example 9.1, data as in R package NSM3, theil; outcome from memory",
		.count = 5,
		.x = {1, 2, 3, 4, 5},
		.y = {1.26, 1.27, 1.12, 1.16, 1.03},
		.slope = -0.056,
		.slope_within = 0.0005,
		.confidence = NAN,
		.s = -6,
		.tau = NAN,
		.p = 0.234,
		.p_within = 0.001,
		.variance = NAN,
	},
	{
		.source =
			"US EPA, Guidance for Data Quality Assessment, EPA QA/G-9, 2000, box 4-16, from memory",
		.count = 5,
		.x = {1, 2, 3, 4, 5},
		.y = {5, 6, 11, 8, 10},
		.slope = NAN,
		.confidence = NAN,
		.s = 6,
		.tau = NAN,
		.p = 0.234, /* twice 0.117 */
		.p_within = 0.001,
		.variance = NAN,
	},
	{
		.source =
			"D. R. Helsel, R. M. Hirsch, Statistical Methods in Water Resources, USGS TWRI 4-A3, "
			"10.1, from memory",
		.count = 7,
		.x = {1, 2, 3, 4, 5, 6, 7},
		.y = {1, 2, 3, 4, 5, 16, 7},
		.slope = 1,
		.slope_within = 0,
		.confidence = NAN,
		.s = NAN,
		.tau = NAN,
		.p = NAN,
		.variance = NAN,
	},
};

#endif
