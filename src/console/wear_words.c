/* Figures of wear in words. */
#include "wear_words.h"

#include <math.h>
#include <stdlib.h>

#define FEET 0.3048
#define MILLION 1e6

const char *web_unit(const struct call *call)
{
	return call->units == UNITS_INCH ? "ft" : "m";
}

static double in_units(const struct call *call, struct length web)
{
	double metres = length_to_m(web);
	return call->units == UNITS_INCH ? metres / FEET : metres;
}

/* To three figures: a forecast is good for no more. */
static double rounded(double number)
{
	double step = 1;
	while (fabs(number) / step >= 1000) {
		step *= 10;
	}
	return round(number / step) * step;
}

const char *web_said(struct call *call, struct length web)
{
	double number = in_units(call, web);
	return fabs(number) < MILLION
	           ? arena_format(call->arena, "%.0f%s", number, web_unit(call))
	           : arena_format(call->arena, "%.2f million %s", number / MILLION, web_unit(call));
}

const char *volume_said(struct call *call, double cm3_m2)
{
	struct volume volume = volume_from_micro(llround(cm3_m2 * MILLION));
	return call->units == UNITS_INCH
	           ? arena_format(call->arena, "%.2fbcm", volume_to_bcm(volume))
	           : arena_format(call->arena, "%.2fcm3/m2", volume_to_cm3_m2(volume));
}

/* cm3/m2 a million metres; BCM a million feet. */
static double slope_in_units(const struct call *call, double slope)
{
	struct volume whole = volume_from_micro((int64_t)MILLION);
	return call->units == UNITS_INCH ? slope * volume_to_bcm(whole) * FEET : slope;
}

/* Two figures that count, whatever their size. */
static int digits_of(double number)
{
	int digits = 2;
	double size = fabs(number);
	while (size > 0 && size < 0.1 && digits < 6) {
		size *= 10;
		digits++;
	}
	return digits;
}

const char *slope_said(struct call *call, double slope)
{
	double number = slope_in_units(call, slope);
	return arena_format(call->arena, "%.*f%s", digits_of(number), number,
	                    call->units == UNITS_INCH ? "bcm" : "cm3/m2");
}

const char *slopes_said(struct call *call, const struct trend *trend)
{
	double least = slope_in_units(call, trend->slope_least);
	double most = slope_in_units(call, trend->slope_most);
	int digits = digits_of(least) > digits_of(most) ? digits_of(least) : digits_of(most);
	return arena_format(call->arena, "%.*f to %.*f %s", digits, least, digits, most,
	                    trend->count < READINGS_TELL ? "from pair to pair" : "with 90 %");
}

const char *chance_said(struct call *call, const struct trend *trend)
{
	return trend->p < 0.001
	           ? arena_format(call->arena, "Mann-Kendall: tau %.2f, p below 0.001", trend->tau)
	           : arena_format(call->arena, "Mann-Kendall: tau %.2f, p %.3f", trend->tau, trend->p);
}

static int64_t ppm_of(struct percent percent)
{
	struct value value = {.type = VALUE_PERCENT, .known = true, .percent = percent};
	return value_to_stored(&value);
}

const char *tenths_said(struct call *call, struct percent percent)
{
	return arena_format(call->arena, "%.1f%%", (double)ppm_of(percent) / 1e4);
}

bool percent_over(struct percent percent, struct percent limit)
{
	return ppm_of(percent) > ppm_of(limit);
}

const char *trend_word(enum trend_says says)
{
	switch (says) {
	case TREND_TOO_FEW:
		return "too_few";
	case TREND_NONE:
		return "none";
	case TREND_FALLS:
		return "falls";
	case TREND_RISES:
		return "rises";
	}
	return NULL;
}

const char *ordinal_said(struct call *call, int64_t number)
{
	static const char *const words[] = {"first", "second",  "third",  "fourth", "fifth",
	                                    "sixth", "seventh", "eighth", "ninth",  "tenth"};
	static const char *const ends[] = {"th", "st", "nd", "rd"};
	if (number >= 1 && number <= (int64_t)COUNT_OF(words)) {
		return words[number - 1];
	}
	/* 21st, but 11th. */
	int64_t last = number / 10 % 10 == 1 ? 0 : number % 10;
	return arena_format(call->arena, "%lld%s", (long long)number,
	                    ends[last < (int64_t)COUNT_OF(ends) ? last : 0]);
}

const char *tooling_said(struct call *call, struct known_length length)
{
	return length.known ? arena_copy(call->arena,
	                                 length_text(length.value, LENGTH_TOOLING, call->units).bytes)
	                    : NULL;
}

const char *readings_lacking(struct arena *arena, const struct trend *trend)
{
	return arena_format(arena, "%zu after cleaning at a known run%s, %d at different runs needed",
	                    trend->count, trend->count >= TREND_POINTS_LEAST ? ", all at one" : "",
	                    TREND_POINTS_LEAST);
}

/* ---------------------------------------------------------------- forecasts */

/* What is reached: a roll's limit, the end of a life. */
static const char *what_said(struct call *call, const struct worn *worn)
{
	if (worn->kind->id != KIND_ANILOX) {
		return "end of its life";
	}
	return worn->limit.known ? arena_format(call->arena, "limit %s",
	                                        volume_said(call, volume_to_cm3_m2(worn->limit.value)))
	                         : "limit";
}

/* To three figures: `1.20`, `11.2`, `157`. */
static const char *millions_said(struct call *call, double number)
{
	double millions = number / MILLION;
	int decimals = millions < 10 ? 2 : millions < 100 ? 1 : 0;
	return arena_format(call->arena, "%.*f", decimals, millions);
}

/* `1.20 to 3.40 million m`, `350000 to 410000m` */
static const char *range_said(struct call *call, struct length least, struct length most)
{
	double from = rounded(in_units(call, least)), until = rounded(in_units(call, most));
	return fabs(until) < MILLION
	           ? arena_format(call->arena, "%.0f to %.0f%s", from, until, web_unit(call))
	           : arena_format(call->arena, "%s to %s million %s", millions_said(call, from),
	                          millions_said(call, until), web_unit(call));
}

static const char *about_said(struct call *call, struct length web)
{
	double number = rounded(in_units(call, web));
	return fabs(number) < MILLION ? arena_format(call->arena, "%.0f%s", number, web_unit(call))
	                              : arena_format(call->arena, "%s million %s",
	                                             millions_said(call, number), web_unit(call));
}

/* The local day, as a date. */
static const char *day_said(struct call *call, struct moment moment)
{
	struct moment day = moment_day_start(moment);
	day.date = true;
	return arena_copy(call->arena, moment_text(day).bytes);
}

/* What follows the web left: `, that is 2027-02-27 to 2027-04-20 at its recent use`. */
static const char *days_said(struct call *call, const struct forecast *forecast)
{
	if (!forecast->days_known) {
		return "; in days not known, no week of recent use is on record";
	}
	const char *least = day_said(call, forecast->date_least);
	return forecast->exact
	           ? arena_format(call->arena, ", about %s at its recent use", least)
	           : arena_format(call->arena,
	                          forecast->most_known ? ", %s to %s at its recent use"
	                                               : ", not before %s at its recent use",
	                          least, day_said(call, forecast->date_most));
}

const char *forecast_said(struct call *call, const struct worn *worn)
{
	const struct forecast *forecast = &worn->forecast;
	const char *what = what_said(call, worn);
	if (worn->passed && !(forecast->known && forecast->passed)) {
		return arena_format(call->arena, "%s is passed by its latest reading", what);
	}
	if (worn->passed) {
		return arena_format(call->arena, "%s is passed", what);
	}
	if (!forecast->known) {
		return arena_format(call->arena, "%s: when it is reached is not known: %s", what,
		                    forecast->why);
	}
	if (forecast->exact) {
		return arena_format(call->arena, "%s after %s more%s", what,
		                    web_said(call, forecast->least), days_said(call, forecast));
	}
	if (!forecast->most_known) {
		return arena_format(call->arena,
		                    "%s not within %s more%s; the readings do not tell until when at the "
		                    "latest",
		                    what, about_said(call, forecast->least), days_said(call, forecast));
	}
	return arena_format(call->arena, "%s reached after %s more, nine times in ten%s", what,
	                    range_said(call, forecast->least, forecast->most),
	                    days_said(call, forecast));
}

const char *forecast_short(struct call *call, const struct worn *worn)
{
	const struct forecast *forecast = &worn->forecast;
	if (worn->passed) {
		return "passed";
	}
	if (!forecast->known) {
		bool few = worn->kind->id == KIND_ANILOX && worn->wear.trend.says == TREND_TOO_FEW;
		return few ? "too few readings" : forecast->why;
	}
	if (forecast->exact) {
		return web_said(call, forecast->least);
	}
	return forecast->most_known
	           ? range_said(call, forecast->least, forecast->most)
	           : arena_format(call->arena, "%s or more", about_said(call, forecast->least));
}
