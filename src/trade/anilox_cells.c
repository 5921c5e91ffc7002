/*
 * Cells of an anilox roll, dots of a plate, and what a drawdown tells. Sources: Harper Corporation
 * of America, anilox tables (opening, depth to opening, dot diameter); drawdown by dimensions
 * alone.
 */
#include <math.h>

#include "pi.h"
#include "toothrack/trade.h"

/* From the middle of one line of a screen to the next; the screen is more than nothing. */
static struct real_length screen_pitch(struct screen screen)
{
	struct real_length centimetre = real_from_length(length_from_mm(10));
	return real_times(centimetre, 1.0L / (long double)screen_to_per_cm(screen));
}

bool cell_of(struct screen screen, struct length wall, const struct length *depth, struct cell *out)
{
	if (!(screen_to_per_cm(screen) > 0))
		return false;
	struct real_length opening = real_subtract(screen_pitch(screen), real_from_length(wall));
	double opening_mm = real_to_mm(opening);
	if (!(opening_mm > 0))
		return false;
	*out = (struct cell){
		.opening = opening,
		.depth_to_opening_percent = depth ? 100 * length_to_mm(*depth) / opening_mm : 0,
	};
	return true;
}

struct real_length dot_diameter(struct screen plate_screen, double tone)
{
	if (!(screen_to_per_cm(plate_screen) > 0) || !(tone > 0))
		return real_from_length(length_from_nm(0));
	return real_times(screen_pitch(plate_screen), 2 * sqrtl((long double)tone / PI));
}

double screen_ratio_of(struct screen anilox, struct screen plate)
{
	if (!(screen_to_per_cm(plate) > 0))
		return 0;
	return screen_to_per_cm(anilox) / screen_to_per_cm(plate);
}

static int64_t liquid_pl(struct liquid liquid)
{
	struct value value = {.type = VALUE_LIQUID, .known = true, .liquid = liquid};
	return value_to_stored(&value);
}

static int64_t area_um2(struct area area)
{
	struct value value = {.type = VALUE_AREA, .known = true, .area = area};
	return value_to_stored(&value);
}

bool drawdown_of(struct liquid liquid, struct area area, struct volume *out)
{
	int64_t um2 = area_um2(area);
	if (um2 <= 0)
		return false;
	/*
	 * 1 pl is 1000 um3, and a film of 1 um is 1 cm3/m2: a million of the millionths that a
	 * volume is kept in.
	 */
	long double micro = (long double)liquid_pl(liquid) * 1e9L / (long double)um2;
	if (!(micro >= 0) || micro >= 9e18L)
		return false;
	*out = volume_from_micro((int64_t)(micro + 0.5L));
	return true;
}
