/*
 * Lifting by hand. Source: T. R. Waters, V. Putz-Anderson, A. Garg, Applications Manual for the
 * Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, revised 2021: constants and multipliers p.
 * 7, restrictions pp. 8 to 12, frequency (table 5) p. 15, coupling (table 7) p. 18.
 *
 * The manual gives its constants twice, in centimetres and in inches, a little apart: 25 cm stands
 * for 10 in, 23 kg for 51 lb. Counted is in centimetres, so that the same lift has one limit
 * whatever it is typed in; it is the lower of the two by up to 4 %.
 */
#include <math.h>

#include "toothrack/trade.h"

#define LOAD_CONSTANT_KG 23
#define NEAREST_CM 25 /* horizontal and travel count as this at least */
#define HORIZONTAL_MOST_CM 63
#define VERTICAL_MOST_CM 175
#define TRAVEL_MOST_CM 175
#define ASYMMETRY_MOST_DEG 135
#define KNUCKLES_CM 75 /* the height that is best */

static double centimetres(struct length length)
{
	return length_to_mm(length) / 10;
}

static double degrees(struct angle angle)
{
	struct value value = {.type = VALUE_ANGLE, .known = true, .angle = angle};
	return (double)value_to_stored(&value) / 1e6;
}

static double micrograms(struct weight weight)
{
	struct value value = {.type = VALUE_WEIGHT, .known = true, .weight = weight};
	return (double)value_to_stored(&value);
}

/* Table 7; a vertical of just 75 cm stands in its better column. */
static double coupling_multiplier(enum coupling coupling, double vertical)
{
	switch (coupling) {
	case COUPLING_GOOD:
		return 1;
	case COUPLING_FAIR:
		return vertical < KNUCKLES_CM ? 0.95 : 1;
	case COUPLING_POOR:
		return 0.90;
	}
	return 0;
}

void lift_multipliers_of(const struct lift *lift, struct lift_multipliers *out)
{
	double horizontal = centimetres(lift->horizontal);
	double vertical = centimetres(lift->vertical);
	double travel = centimetres(lift->travel);
	double asymmetry = fabs(degrees(lift->asymmetry));
	*out = (struct lift_multipliers){.coupling = coupling_multiplier(lift->coupling, vertical)};
	if (horizontal <= HORIZONTAL_MOST_CM)
		out->horizontal = NEAREST_CM / fmax(horizontal, NEAREST_CM);
	if (vertical <= VERTICAL_MOST_CM)
		out->vertical = 1 - 0.003 * fabs(vertical - KNUCKLES_CM);
	if (travel <= TRAVEL_MOST_CM)
		out->travel = 0.82 + 4.5 / fmax(travel, NEAREST_CM);
	if (asymmetry <= ASYMMETRY_MOST_DEG)
		out->asymmetry = 1 - 0.0032 * asymmetry;
}

bool lift_of(const struct lift *lift, struct weight *limit, double *index)
{
	struct lift_multipliers by;
	lift_multipliers_of(lift, &by);
	double kg =
		LOAD_CONSTANT_KG * by.horizontal * by.vertical * by.travel * by.asymmetry * by.coupling;
	*limit = value_from_stored(VALUE_WEIGHT, llround(kg * 1e9)).weight;
	if (!(kg > 0))
		return false;
	*index = micrograms(lift->weight) / 1e9 / kg;
	return true;
}
