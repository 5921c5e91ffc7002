/* The whole numbers that the store keeps, out of values and back. */
#include <assert.h>

#include "toothrack/quantity.h"

int64_t value_to_stored(const struct value *value)
{
	switch (value->type) {
	case VALUE_COUNT:
		return value->count;
	case VALUE_YES_NO:
		return value->yes ? 1 : 0;
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
		return value->length.nm;
	case VALUE_VOLUME:
		return value->volume.micro;
	case VALUE_WEIGHT:
		return value->weight.ug;
	case VALUE_AREA:
		return value->area.um2;
	case VALUE_LIQUID:
		return value->liquid.pl;
	case VALUE_ANGLE:
		return value->angle.udeg;
	case VALUE_SPEED:
		return value->speed.nm_min;
	case VALUE_DURATION:
		return value->duration.s;
	case VALUE_PERCENT:
		return value->percent.ppm;
	case VALUE_MONEY:
		return value->money.cents;
	case VALUE_MOMENT:
		return value->moment.s;
	case VALUE_TEXT:
	case VALUE_ACROSS:
	case VALUE_SCREEN:
	case VALUE_PITCH:
	case VALUE_PITCHES:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_NUMBER:
		break;
	}
	assert(false && "a value that is kept as a whole number");
	return 0;
}

struct value value_from_stored(enum value_type type, int64_t number)
{
	struct value value = {.type = type, .known = true};
	switch (type) {
	case VALUE_COUNT:
		value.count = number;
		return value;
	case VALUE_YES_NO:
		value.yes = number != 0;
		return value;
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
		value.length.nm = number;
		return value;
	case VALUE_VOLUME:
		value.volume.micro = number;
		return value;
	case VALUE_WEIGHT:
		value.weight.ug = number;
		return value;
	case VALUE_AREA:
		value.area.um2 = number;
		return value;
	case VALUE_LIQUID:
		value.liquid.pl = number;
		return value;
	case VALUE_ANGLE:
		value.angle.udeg = number;
		return value;
	case VALUE_SPEED:
		value.speed.nm_min = number;
		return value;
	case VALUE_DURATION:
		value.duration.s = number;
		return value;
	case VALUE_PERCENT:
		value.percent.ppm = number;
		return value;
	case VALUE_MONEY:
		value.money.cents = number;
		return value;
	case VALUE_MOMENT:
		value.moment.s = number;
		return value;
	case VALUE_TEXT:
	case VALUE_ACROSS:
	case VALUE_SCREEN:
	case VALUE_PITCH:
	case VALUE_PITCHES:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_NUMBER:
		break;
	}
	assert(false && "a value that is kept as a whole number");
	return value;
}
