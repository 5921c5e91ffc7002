/* Days and times of day of the place set by TZ, and the moments they are. */
#ifndef TOOTHRACK_QUANTITY_CLOCK_H
#define TOOTHRACK_QUANTITY_CLOCK_H

#include <stdbool.h>
#include <stdint.h>
#include <time.h>

/*
 * How far the clocks of the place are ahead of UTC at `s`; true where they are so from the day
 * before to the day after, so that what they show then is shown once. What was found of a day is
 * kept, for as long as TZ is the same (by then tzset must have been called).
 */
bool clock_even_offset(int64_t s, long *offset);

/*
 * The calendar's own fields of a moment in the place set by TZ; false where the C library has
 * none.
 */
bool clock_local(int64_t s, struct tm *out);

/* `day` and time of day as if the place kept UTC; proleptic Gregorian. */
int64_t clock_utc(const struct tm *fields);

/*
 * The moment that the place's clocks show `fields`; the first, where a change of clocks shows them
 * twice. False where the clocks skip it.
 */
bool clock_moment(const struct tm *fields, int64_t *s);

/*
 * The first moment of a day: midnight, or where the clocks skip midnight the moment they skip to.
 * False where they skip the whole day; `s` is then the first moment after it.
 */
bool clock_day_start(const struct tm *day, int64_t *s);

/* The local day of a moment, as its number since 1970-01-01. */
int64_t clock_day(int64_t s);
/*
 * The first moment at which the clocks of the place show that minute of that day, or where they
 * skip it the moment they skip to; minutes past 1440 are those of the day after. Never goes back
 * for a later minute, for of what the clocks show twice it is the first.
 */
int64_t clock_minute(int64_t day, int64_t minute);

#endif
