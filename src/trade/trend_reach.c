/* The band of a trend's line, and when it brings a roll down to a volume. */
#include <math.h>

#include "distributions.h"
#include "toothrack/trade.h"

#define TAIL 0.05

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

/* Half of the band where the line is known best, were there one reading. */
static double half_of(const struct trend *trend)
{
	return student_quantile(1 - TAIL, trend->used.freedom) * trend->used.share *
	       fabs(line_at(trend, trend->mean_run));
}

void trend_band_at(const struct trend *trend, struct length run, double *least, double *most)
{
	*least = 0;
	*most = 0;
	if (trend->says == TREND_TOO_FEW) {
		return;
	}
	double at = millions_of(run);
	double from_mean = at - trend->mean_run;
	double half =
		half_of(trend) * sqrt(1 / (double)trend->count + from_mean * from_mean / trend->squares);
	*least = fmax(line_at(trend, at) - half, 0);
	*most = fmax(line_at(trend, at) + half, 0);
}

/* A run in millions of metres, none before 0, as far as a length goes. */
static struct length length_of_millions(double run)
{
	static const double most = 9e18;
	double nm = fmax(run, 0) * 1e15;
	return length_from_nm(nm < most ? (int64_t)nm : (int64_t)most);
}

/*
 * Where the band meets the limit: the runs m, from the mean run, at which
 * (high + slope m)^2 = half^2 (1/n + m^2/squares), high being the line over the limit at the mean.
 * E. C. Fieller, J. Roy. Statist. Soc. B 16 (1954) 175-185.
 */
void trend_reaches(const struct trend *trend, struct volume limit, struct trend_reach *out)
{
	*out = (struct trend_reach){0};
	if (trend->says == TREND_TOO_FEW || !(trend->slope < 0)) {
		return;
	}
	double high = line_at(trend, trend->mean_run) - volume_to_cm3_m2(limit);
	double half = half_of(trend);
	double n = (double)trend->count;
	double a = trend->slope * trend->slope - half * half / trend->squares;
	double b = high * trend->slope;
	double c = high * high - half * half / n;
	double root = b * b - a * c;
	out->line_known = true;
	out->line = length_of_millions(trend->mean_run - high / trend->slope);
	if (a > 0) {
		out->least_known = true;
		out->least = length_of_millions(trend->mean_run + (-b - sqrt(root)) / a);
		out->most_known = trend_forecasts(trend);
		out->most = length_of_millions(trend->mean_run + (-b + sqrt(root)) / a);
	} else if (root >= 0 && high > 0 && c > 0) {
		/* Only the lower edge of the band comes down to it. */
		out->least_known = true;
		out->least = length_of_millions(trend->mean_run + c / (-b + sqrt(root)));
	}
}
