/*
 * The band of a trend's line, and when it brings a roll down to a volume.
 *
 * The lower edge may lie too high once in twenty; the upper edge less often, because only rolls are
 * given an end of the range whose readings fall clearly, and of those the line falls too fast more
 * often than not. How wide each must be, by how many readings, was measured over rolls of known
 * wear: tests/trade/test_forecast.c.
 */
#include <math.h>

#include "distributions.h"
#include "toothrack/trade.h"
#include "trend.h"

#define TAIL_BELOW 0.05
#define TAIL_ABOVE 0.03
/* What fewer know of their scatter leaves no range that could be relied on: three readings alone.
 */
#define FREEDOM_LEAST 1.5

static double millions_of(struct length run)
{
	return length_to_m(run) / 1e6;
}

static double line_at(const struct trend *trend, double run)
{
	return trend->at_zero + trend->slope * run;
}

double trend_at(const struct trend *trend, struct length run)
{
	return fmax(line_at(trend, millions_of(run)), 0);
}

/* Half the band squared at a run: level + slope m^2, m from the mean run. */
struct half {
	double level, slope;
};

static struct half half_of(const struct trend *trend, double tail)
{
	double half = student_quantile(1 - tail, trend->used.freedom) * trend->used.share *
	              fabs(line_at(trend, trend->mean_run));
	return (struct half){
		.level = half * half * LEVEL_VARIANCE / (double)trend->count,
		.slope = half * half * trend_slope_variance(trend->count) / trend->squares,
	};
}

bool trend_fits(const struct trend *trend, struct length run, struct volume volume,
                struct percent match)
{
	struct value share = {.type = VALUE_PERCENT, .known = true, .percent = match};
	double line = trend_at(trend, run);
	double most = line * (double)value_to_stored(&share) / 1e6;
	return fabs(volume_to_cm3_m2(volume) - line) <= most;
}

void trend_band_at(const struct trend *trend, struct length run, double *least, double *most)
{
	*least = 0;
	*most = 0;
	if (trend->says == TREND_TOO_FEW) {
		return;
	}
	double at = millions_of(run);
	double square = (at - trend->mean_run) * (at - trend->mean_run);
	struct half below = half_of(trend, TAIL_BELOW);
	struct half above = half_of(trend, TAIL_ABOVE);
	*least = fmax(line_at(trend, at) - sqrt(below.level + below.slope * square), 0);
	*most = fmax(line_at(trend, at) + sqrt(above.level + above.slope * square), 0);
}

/* A run in millions of metres, none before 0, as far as a length goes. */
static struct length length_of_millions(double run)
{
	static const double most = 9e18;
	double nm = fmax(run, 0) * 1e15;
	return length_from_nm(nm < most ? (int64_t)nm : (int64_t)most);
}

/*
 * Where the band meets the limit: the runs m, from the mean run, at which (high + slope m)^2 is
 * half the band squared, high being the line over the limit at the mean run: a m^2 + 2 b m + c = 0.
 * E. C. Fieller, J. Roy. Statist. Soc. B 16 (1954) 175-185.
 */
struct meeting {
	double a, b, c;
};

static struct meeting meeting_of(const struct trend *trend, double high, double tail)
{
	struct half half = half_of(trend, tail);
	return (struct meeting){
		.a = trend->slope * trend->slope - half.slope,
		.b = high * trend->slope,
		.c = high * high - half.level,
	};
}

static double root_of(const struct meeting *meeting)
{
	return sqrt(fmax(meeting->b * meeting->b - meeting->a * meeting->c, 0));
}

static void reach_least(const struct trend *trend, double high, struct trend_reach *out)
{
	struct meeting lower = meeting_of(trend, high, TAIL_BELOW);
	double root = root_of(&lower);
	/* Where the band opens faster than the line falls, only the lower edge comes down to it. */
	bool falls = lower.a > 0;
	out->least_known = falls || (high > 0 && lower.c > 0);
	if (out->least_known) {
		double from_mean = falls ? (-lower.b - root) / lower.a : lower.c / (-lower.b + root);
		out->least = length_of_millions(trend->mean_run + from_mean);
	}
}

/* No fall at all must be less likely than the upper edge being too low: else it never comes down.
 */
static void reach_most(const struct trend *trend, double high, struct trend_reach *out)
{
	struct meeting upper = meeting_of(trend, high, TAIL_ABOVE);
	out->most_known = trend_forecasts(trend) && trend->used.freedom >= FREEDOM_LEAST && upper.a > 0;
	if (out->most_known) {
		out->most = length_of_millions(trend->mean_run + (-upper.b + root_of(&upper)) / upper.a);
	}
}

void trend_reaches(const struct trend *trend, struct volume limit, struct trend_reach *out)
{
	*out = (struct trend_reach){0};
	if (trend->says == TREND_TOO_FEW || !(trend->slope < 0)) {
		return;
	}
	double high = line_at(trend, trend->mean_run) - volume_to_cm3_m2(limit);
	out->line_known = true;
	out->line = length_of_millions(trend->mean_run - high / trend->slope);
	reach_least(trend, high, out);
	reach_most(trend, high, out);
}
