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

#endif
