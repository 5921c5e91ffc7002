/* How long tools have run, and what is left of their lives. */
#include <math.h>

#include "rules.h"
#include "stored.h"
#include "toothrack/trade.h"

/* Whole revolutions: what a division leaves behind the point of a whole number is dust. */
#define DUST 1e-9

static struct length run_or_none(const struct tool *tool)
{
	return tool->run.known ? tool->run.value : length_from_nm(0);
}

bool revolutions_of(struct length web, struct repeat own, int64_t *out)
{
	double around = own.known ? real_to_mm(repeat_length(own)) : 0;
	if (!(around > 0)) {
		return false;
	}
	*out = (int64_t)floor(length_to_mm(web) / around + DUST);
	return true;
}

struct known_length blade_life_left(const struct blade *blade)
{
	struct known_length left = {.known = blade->life.known};
	if (left.known) {
		left.value = length_subtract(blade->life.value, run_or_none(&blade->tool));
	}
	return left;
}

bool die_life_left(const struct die *die, int64_t *revolutions)
{
	double around = die->own.known ? real_to_mm(repeat_length(die->own)) : 0;
	if (!die->life.known || !(around > 0)) {
		return false;
	}
	double used = length_to_mm(run_or_none(&die->tool)) / around;
	*revolutions = (int64_t)floor((double)die->life.value - used + DUST);
	return true;
}

struct percent share_lost(struct volume when_new, struct volume left)
{
	/* To a tenth of a percent: no reading is good for more. */
	double new = (double)volume_to_micro(when_new);
	int64_t tenths = (int64_t)llround((new - (double)volume_to_micro(left)) * 1000 / new);
	return value_from_stored(VALUE_PERCENT, tenths * (PPM_WHOLE / 1000)).percent;
}

struct known_percent volume_lost(const struct anilox *anilox)
{
	struct known_percent lost = {
		.known = anilox->volume.known && anilox->reading.now.known &&
	             volume_to_micro(anilox->volume.value) > 0,
	};
	if (lost.known) {
		lost.value = share_lost(anilox->volume.value, anilox->reading.now.value);
	}
	return lost;
}
