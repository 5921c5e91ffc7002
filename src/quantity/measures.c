/*
 * The measures and their units. The factors are exact: 1 in = 25.4 mm and 1 lb = 0.45359237 kg
 * (both by definition, international yard and pound agreement, 1959); 1 BCM/in2 = 1e9 um3 /
 * 645.16 mm2 = 1.5500031 cm3/m2, as the trade rounds it.
 */
#include "measure.h"

#define MICRO_M "\u00b5m"  /* with the micro sign */
#define MICRO_MU "\u03bcm" /* with the Greek letter */
#define CM3_M2 "cm\u00b3/m\u00b2"

#define MM 1000000
#define UM 1000
#define METRE 1000000000
#define INCH 25400000
#define FOOT 304800000
#define POUND 453592370 /* ug */
#define BCM 15500031    /* 1e-7 cm3/m2 */

#define MEASURE_END \
	{ \
		NULL, NULL, 0, 0 \
	}

static const struct unit length_units[] = {
	{"mm", "mm", MM, 1},  {"in", "in", INCH, 1},  {"um", "um", UM, 1},
	{"m", "m", METRE, 1}, {"ft", "ft", FOOT, 1},  {"cm", NULL, 10 * MM, 1},
	{"nm", NULL, 1, 1},   {MICRO_M, NULL, UM, 1}, {MICRO_MU, NULL, UM, 1},
	MEASURE_END,
};

#define LENGTH_SPELLING "a length such as 330mm, 13in or 1/8in"
#define LENGTH_UNITS "mm, cm, m, um, nm, in or ft"

const struct measure length_measure = {
	.what = "length",
	.spelling = LENGTH_SPELLING,
	.unit_names = LENGTH_UNITS,
	.suggested = {"mm", "in"},
	.units = length_units,
	.most = INT64_MAX,
	.negative = true,
};

const struct measure tooling_measure = {
	.what = "length",
	.spelling = LENGTH_SPELLING,
	.unit_names = LENGTH_UNITS,
	.suggested = {"mm", "in"},
	.units = length_units,
	.most = INT64_MAX,
};

const struct measure web_measure = {
	.what = "length",
	.spelling = "a length of web such as 12.5m or 40ft",
	.unit_names = LENGTH_UNITS,
	.suggested = {"m", "ft"},
	.units = length_units,
	.most = INT64_MAX,
};

const struct measure cell_measure = {
	.what = "length",
	.spelling = "a small length such as 480um or 0.48mm",
	.unit_names = LENGTH_UNITS,
	.suggested = {"um", "mm"},
	.units = length_units,
	.most = INT64_MAX,
};

static const struct unit volume_units[] = {
	{"cm3/m2", "cm3_m2", 1000000, 1},
	{"bcm", "bcm", BCM, 10},
	{CM3_M2, NULL, 1000000, 1},
	{"bcm/in2", NULL, BCM, 10},
	MEASURE_END,
};

const struct measure volume_measure = {
	.what = "volume",
	.spelling = "a volume such as 6.7cm3/m2 or 4.3bcm",
	.unit_names = "cm3/m2 or bcm",
	.suggested = {"cm3/m2", "bcm"},
	.units = volume_units,
	.most = 1000000000000, /* a film a metre thick; three of them fit a quantity_text */
};

static const struct unit screen_units[] = {
	{"/cm", "per_cm", 1, 1},
	{"lpi", "lpi", 50, 127}, /* 1/2.54 */
	{"l/cm", NULL, 1, 1},
	MEASURE_END,
};

const struct measure screen_measure = {
	.what = "screen",
	.spelling = "a screen such as 140/cm or 360lpi",
	.unit_names = "/cm or lpi",
	.suggested = {"/cm", "lpi"},
	.units = screen_units,
	.most = 100000,
};

static const struct unit weight_units[] = {
	{"kg", "kg", 1000000000, 1},
	{"lb", "lb", POUND, 1},
	{"g", NULL, 1000000, 1},
	MEASURE_END,
};

const struct measure weight_measure = {
	.what = "weight",
	.spelling = "a weight such as 18kg or 40lb",
	.unit_names = "kg, g or lb",
	.suggested = {"kg", "lb"},
	.units = weight_units,
	.most = INT64_MAX,
};

static const struct unit area_units[] = {
	{"cm2", "cm2", 100000000, 1},
	{"in2", "in2", 645160000, 1},
	{"mm2", NULL, 1000000, 1},
	{"m2", NULL, 1000000000000, 1},
	{"cm\u00b2", NULL, 100000000, 1},
	{"in\u00b2", NULL, 645160000, 1},
	MEASURE_END,
};

const struct measure area_measure = {
	.what = "area",
	.spelling = "an area such as 25cm2 or 4in2",
	.unit_names = "cm2, mm2, m2 or in2",
	.suggested = {"cm2", "in2"},
	.units = area_units,
	.most = INT64_MAX,
};

static const struct unit liquid_units[] = {
	{"ul", "ul", 1000000, 1},
	{"ml", NULL, 1000000000, 1},
	{"\u00b5l", NULL, 1000000, 1},
	{"\u03bcl", NULL, 1000000, 1},
	MEASURE_END,
};

const struct measure liquid_measure = {
	.what = "liquid",
	.spelling = "an amount of liquid such as 12ul",
	.unit_names = "ul or ml",
	.suggested = {"ul", "ml"},
	.units = liquid_units,
	.most = INT64_MAX,
};

static const struct unit angle_units[] = {
	{"deg", "deg", 1000000, 1},
	{"\u00b0", NULL, 1000000, 1},
	MEASURE_END,
};

const struct measure angle_measure = {
	.what = "angle",
	.spelling = "an angle such as 60deg",
	.unit_names = "deg",
	.suggested = {"deg", NULL},
	.units = angle_units,
	.most = INT64_MAX,
	.negative = true,
};

static const struct unit speed_units[] = {
	{"m/min", "m_min", METRE, 1},
	{"ft/min", "ft_min", FOOT, 1},
	MEASURE_END,
};

const struct measure speed_measure = {
	.what = "speed",
	.spelling = "a speed such as 100m/min or 330ft/min",
	.unit_names = "m/min or ft/min",
	.suggested = {"m/min", "ft/min"},
	.units = speed_units,
	.most = INT64_MAX,
};

static const struct unit duration_units[] = {
	{"s", "s", 1, 1},     {"min", "min", 60, 1}, {"h", "h", 3600, 1},
	{"d", "d", 86400, 1}, {"w", "w", 604800, 1}, MEASURE_END,
};

const struct measure duration_measure = {
	.what = "duration",
	.spelling = "a duration such as 90min, 4h, 3d or 2w",
	.unit_names = "s, min, h, d or w",
	.suggested = {"h", "d"},
	.units = duration_units,
	.most = 52000LL * 604800, /* some thousand years: added to any moment it fits */
};

static const struct unit percent_units[] = {
	{"%", "percent", 10000, 1},
	MEASURE_END,
};

const struct measure percent_measure = {
	.what = "percent",
	.spelling = "a percentage such as 10%",
	.unit_names = "%",
	.suggested = {"%", NULL},
	.units = percent_units,
	.most = INT64_MAX,
	.negative = true,
};
