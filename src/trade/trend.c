/* The trend of a roll's volume over the web that it has run. */
#include <math.h>

#include "distributions.h"
#include "slopes.h"
#include "trend.h"

#define CONFIDENCE 0.9
/* It is a trend where Kendall's test finds none less likely than this, either way ... */
#define NO_TREND_MOST 0.1
/* ... or the slope by what is known of the scatter, one way. */
#define NO_SLOPE_MOST 0.025
#define FREEDOM_LEAST 1.0

/* From 1e-6 cm3/m2 a nanometre to cm3/m2 a million metres. */
#define SLOPE_UNIT 1e9

static double run_in_millions(struct length run)
{
	return length_to_m(run) / 1e6;
}

/* What the points are in the trend's units. */
struct plain {
	double *run, *volume;
	size_t count;
};

static struct plain plain_of(struct arena *arena, const struct trend_point *points, size_t count)
{
	struct plain plain = {
		.run = arena_take(arena, count + 1, sizeof(double)),
		.volume = arena_take(arena, count + 1, sizeof(double)),
		.count = count,
	};
	for (size_t i = 0; i < count; i++) {
		plain.run[i] = run_in_millions(points[i].run);
		plain.volume[i] = volume_to_cm3_m2(points[i].volume);
	}
	return plain;
}

static double median_left(struct arena *arena, const struct plain *plain, double slope)
{
	double *left = arena_take(arena, plain->count, sizeof(*left));
	for (size_t i = 0; i < plain->count; i++) {
		left[i] = plain->volume[i] - slope * plain->run[i];
	}
	double upper = number_at(left, plain->count, plain->count / 2);
	if (plain->count % 2 == 1) {
		return upper;
	}
	return (number_at(left, plain->count, plain->count / 2 - 1) + upper) / 2;
}

/* Sums about the means, and what is left of the volumes' about the line of least squares. */
struct squares {
	double mean_run, mean_volume;
	double run, both, left;
};

static struct squares squares_of(const struct plain *plain)
{
	struct squares sum = {0};
	for (size_t i = 0; i < plain->count; i++) {
		sum.mean_run += plain->run[i] / (double)plain->count;
		sum.mean_volume += plain->volume[i] / (double)plain->count;
	}
	for (size_t i = 0; i < plain->count; i++) {
		double run = plain->run[i] - sum.mean_run;
		sum.run += run * run;
		sum.both += run * (plain->volume[i] - sum.mean_volume);
	}
	for (size_t i = 0; i < plain->count; i++) {
		double run = plain->run[i] - sum.mean_run;
		double left = plain->volume[i] - sum.mean_volume - sum.both / sum.run * run;
		sum.left += left * left;
	}
	return sum;
}

/* Are all whole multiples of a step, but for what the store rounds? */
static bool in_steps(const double *volumes, size_t count, double step)
{
	static const double stored = 1e-6;
	for (size_t i = 0; i < count; i++) {
		if (fabs(volumes[i] - step * round(volumes[i] / step)) > stored) {
			return false;
		}
	}
	return true;
}

/* The step that volumes were read in, 0.1 at most; 0 where none shows. */
static double step_of(const double *volumes, size_t count)
{
	static const double steps[] = {0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001};
	for (size_t i = 0; i < COUNT_OF(steps); i++) {
		if (in_steps(volumes, count, steps[i])) {
			return steps[i];
		}
	}
	return 0;
}

/*
 * What rounding alone scatters readings by, in cm3/m2: steps as read in cm3/m2 or BCM, each spread
 * evenly. Without it, readings to a tenth that happen to lie on a line would be certain. Where
 * little but rounding scatters them, those of one step are off alike and more of them help little:
 * by so much more it counts, as measured by tests/trade/test_forecast.c.
 */
#define STEPS_ALIKE 10.0
#define STEPS_COUNT_MOST 40.0

static double scatter_of_steps(struct arena *arena, const struct trend_point *points,
                               const struct plain *plain)
{
	double step = step_of(plain->volume, plain->count);
	double *inch = arena_take(arena, plain->count, sizeof(*inch));
	for (size_t i = 0; i < plain->count; i++) {
		inch[i] = volume_to_bcm(points[i].volume);
	}
	double step_inch = step_of(inch, plain->count);
	double one_inch = volume_to_cm3_m2(points[0].volume) / inch[0];
	if (step_inch > 0 && isfinite(one_inch)) {
		step = fmax(step, step_inch * one_inch);
	}
	double alike = fmin((double)plain->count, STEPS_COUNT_MOST) / STEPS_ALIKE;
	return step * sqrt((1 + alike) / 12);
}

/* About the line of least squares, whose scatter has a known distribution. */
static struct scatter own_scatter(const struct squares *squares, size_t count, double least)
{
	struct scatter own = {.freedom = (double)count - 2};
	if (squares->mean_volume > 0) {
		own.share = fmax(sqrt(squares->left / own.freedom), least) / squares->mean_volume;
	}
	return own;
}

/*
 * Moderated by what is known of the shop's other rolls, each by the freedom behind it: G. K. Smyth,
 * Statistical Applications in Genetics and Molecular Biology 3 (2004) article 3.
 */
static struct scatter moderated(struct scatter own, const struct scatter *shop)
{
	if (shop == NULL || !(shop->freedom > 0) || !(shop->share >= 0)) {
		return own;
	}
	double freedom = own.freedom + shop->freedom;
	double square =
		(own.freedom * own.share * own.share + shop->freedom * shop->share * shop->share) / freedom;
	return (struct scatter){.share = sqrt(square), .freedom = freedom};
}

/* Student's t of the slope. */
static bool slope_clear(const struct trend *trend, double slope, double tail)
{
	double level = fabs(trend->at_zero + trend->slope * trend->mean_run);
	double deviation =
		trend->used.share * level * sqrt(trend_slope_variance(trend->count) / trend->squares);
	return slope > 0 && trend->used.freedom >= FREEDOM_LEAST &&
	       slope > student_quantile(1 - tail, trend->used.freedom) * deviation;
}

/* Ranks say it of enough readings; of few, where the scatter is known, the line does. */
static enum trend_says what_it_says(const struct trend *trend)
{
	bool by_ranks = trend->p <= NO_TREND_MOST;
	if ((by_ranks && trend->kendall_s < 0) || slope_clear(trend, -trend->slope, NO_SLOPE_MOST)) {
		return TREND_FALLS;
	}
	if ((by_ranks && trend->kendall_s > 0) || slope_clear(trend, trend->slope, NO_SLOPE_MOST)) {
		return TREND_RISES;
	}
	return TREND_NONE;
}

static struct series series_of_points(struct arena *arena, const struct trend_point *points,
                                      size_t count)
{
	int64_t *x = arena_take(arena, count + 1, sizeof(*x));
	int64_t *y = arena_take(arena, count + 1, sizeof(*y));
	for (size_t i = 0; i < count; i++) {
		x[i] = length_to_nm(points[i].run);
		y[i] = volume_to_micro(points[i].volume);
	}
	return series_of(arena, x, y, count);
}

void trend_of(struct arena *arena, const struct trend_point *points, size_t count,
              const struct scatter *shop, struct trend *out)
{
	*out = (struct trend){.says = TREND_TOO_FEW, .count = count, .p = 1};
	if (count < TREND_POINTS_LEAST) {
		return;
	}
	struct series series = series_of_points(arena, points, count);
	struct sen sen = sen_of_series(&series, CONFIDENCE);
	if (!sen.known) {
		return;
	}
	struct plain plain = plain_of(arena, points, count);
	struct squares squares = squares_of(&plain);
	struct kendall kendall = kendall_of_series(&series);
	out->slope = sen.slope * SLOPE_UNIT;
	out->slope_least = sen.least * SLOPE_UNIT;
	out->slope_most = sen.most * SLOPE_UNIT;
	out->at_zero = median_left(arena, &plain, out->slope);
	out->mean_run = squares.mean_run;
	out->squares = squares.run;
	out->own = own_scatter(&squares, count, scatter_of_steps(arena, points, &plain));
	out->used = moderated(out->own, shop);
	out->kendall_s = kendall.s;
	out->tau = kendall.tau;
	out->p = kendall.p;
	out->says = what_it_says(out);
}

bool trend_forecasts(const struct trend *trend)
{
	return trend->says == TREND_FALLS && trend->slope < 0;
}
