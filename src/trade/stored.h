/* The whole numbers inside quantities that the predicates count with. */
#ifndef TOOTHRACK_TRADE_STORED_H
#define TOOTHRACK_TRADE_STORED_H

#include "toothrack/quantity.h"

/* Products of two stored numbers need more than 64 bits. */
__extension__ typedef __int128 wide;

#define PPM_WHOLE 1000000 /* what a percent of 100 is kept as */

static inline int64_t percent_ppm(struct percent percent)
{
	struct value value = {.type = VALUE_PERCENT, .known = true, .percent = percent};
	return value_to_stored(&value);
}

static inline int64_t moment_seconds(struct moment moment)
{
	struct value value = {.type = VALUE_MOMENT, .known = true, .moment = moment};
	return value_to_stored(&value);
}

static inline int64_t duration_seconds(struct duration duration)
{
	struct value value = {.type = VALUE_DURATION, .known = true, .duration = duration};
	return value_to_stored(&value);
}

/* `later` after the moment; a moment and a duration always add. */
static inline struct moment moment_after(struct moment moment, struct duration later)
{
	int64_t seconds = moment_seconds(moment) + duration_seconds(later);
	return value_from_stored(VALUE_MOMENT, seconds).moment;
}

#endif
