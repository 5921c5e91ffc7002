/*
 * Weights, areas, liquids, angles, speeds, durations and percents: each a whole number of its
 * own.
 */
#include "measure.h"

enum outcome weight_parse(const char *text, struct weight *out, struct fault *fault)
{
	return measure_parse(&weight_measure, weight_measure.what, NULL, text, &out->ug, fault);
}

struct quantity_text weight_text(struct weight weight, enum units units)
{
	return measure_text(&weight_measure, units == UNITS_INCH ? "lb" : "kg", weight.ug);
}

enum outcome area_parse(const char *text, struct area *out, struct fault *fault)
{
	return measure_parse(&area_measure, area_measure.what, NULL, text, &out->um2, fault);
}

struct quantity_text area_text(struct area area, enum units units)
{
	return measure_text(&area_measure, units == UNITS_INCH ? "in2" : "cm2", area.um2);
}

enum outcome liquid_parse(const char *text, struct liquid *out, struct fault *fault)
{
	return measure_parse(&liquid_measure, liquid_measure.what, NULL, text, &out->pl, fault);
}

struct quantity_text liquid_text(struct liquid liquid)
{
	return measure_text(&liquid_measure, "ul", liquid.pl);
}

enum outcome angle_parse(const char *text, struct angle *out, struct fault *fault)
{
	return measure_parse(&angle_measure, angle_measure.what, NULL, text, &out->udeg, fault);
}

struct quantity_text angle_text(struct angle angle)
{
	return measure_text(&angle_measure, "deg", angle.udeg);
}

enum outcome speed_parse(const char *text, struct speed *out, struct fault *fault)
{
	return measure_parse(&speed_measure, speed_measure.what, NULL, text, &out->nm_min, fault);
}

struct quantity_text speed_text(struct speed speed, enum units units)
{
	return measure_text(&speed_measure, units == UNITS_INCH ? "ft/min" : "m/min", speed.nm_min);
}

enum outcome duration_parse(const char *text, struct duration *out, struct fault *fault)
{
	return measure_parse(&duration_measure, duration_measure.what, NULL, text, &out->s, fault);
}

struct quantity_text duration_text(struct duration duration)
{
	const char *largest = "s";
	const struct unit *unit = duration_measure.units; /* from the smallest upward */
	for (; duration.s != 0 && unit->name != NULL; unit++) {
		largest = duration.s % unit->stored == 0 ? unit->name : largest;
	}
	return measure_text(&duration_measure, largest, duration.s);
}

enum outcome percent_parse(const char *text, struct percent *out, struct fault *fault)
{
	return measure_parse(&percent_measure, percent_measure.what, NULL, text, &out->ppm, fault);
}

struct quantity_text percent_text(struct percent percent)
{
	return measure_text(&percent_measure, "%", percent.ppm);
}
