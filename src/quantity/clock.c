/* Local days and times of day: the C library's zone rules, asked from both sides of a change. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "clock.h"

#define DAY 86400

bool clock_local(int64_t s, struct tm *out)
{
	time_t moment = (time_t)s;
	return localtime_r(&moment, out) != NULL;
}

int64_t clock_utc(const struct tm *fields)
{
	struct tm copy = *fields;
	return (int64_t)timegm(&copy);
}

static bool shows(int64_t s, const struct tm *fields)
{
	struct tm local;
	return clock_local(s, &local) && local.tm_year == fields->tm_year &&
	       local.tm_mon == fields->tm_mon && local.tm_mday == fields->tm_mday &&
	       local.tm_hour == fields->tm_hour && local.tm_min == fields->tm_min &&
	       local.tm_sec == fields->tm_sec;
}

bool clock_moment(const struct tm *fields, int64_t *s)
{
	/* A day before and a day after, the place is on either side of any change of its clocks. */
	struct tm before;
	struct tm after;
	int64_t utc = clock_utc(fields);
	if (!clock_local(utc - DAY, &before) || !clock_local(utc + DAY, &after)) {
		return false;
	}
	int64_t first = utc - before.tm_gmtoff;
	int64_t second = utc - after.tm_gmtoff;
	if (second < first) {
		int64_t swap = first;
		first = second;
		second = swap;
	}
	*s = shows(first, fields) ? first : second;
	return shows(*s, fields);
}

/* What the clocks of a place keep around a day of UTC. */
struct kept_day {
	bool known, even; /* even: one offset, from the day before to the day after */
	int64_t day;
	long offset;
};
#define KEPT_DAYS 64
#define BEYOND (INT64_C(1) << 46) /* two million years: no calendar has them */

static int64_t day_of(int64_t s)
{
	return s >= 0 ? s / DAY : -((-s + DAY - 1) / DAY);
}

static struct kept_day kept_day(int64_t day)
{
	struct kept_day kept = {.known = true, .even = true, .day = day};
	struct tm local;
	for (int64_t at = -1; at <= 2; at++) {
		bool read = clock_local((day + at) * DAY, &local);
		kept.even = kept.even && read && (at == -1 || local.tm_gmtoff == kept.offset);
		kept.offset = read ? local.tm_gmtoff : 0;
	}
	return kept;
}

bool clock_even_offset(int64_t s, long *offset)
{
	static struct kept_day days[KEPT_DAYS];
	static char zone[64];
	*offset = 0;
	if (s < -BEYOND || s > BEYOND) {
		return false;
	}
	const char *now = getenv("TZ");
	now = now != NULL ? now : "";
	if (strncmp(zone, now, sizeof zone - 1) != 0) {
		memset(days, 0, sizeof days);
		snprintf(zone, sizeof zone, "%s", now);
	}
	int64_t day = day_of(s);
	struct kept_day *kept = &days[(uint64_t)day % KEPT_DAYS];
	if (!kept->known || kept->day != day) {
		*kept = kept_day(day);
	}
	*offset = kept->offset;
	return kept->even;
}

/* Do the clocks show at `s` what they would in UTC at `utc`, or later? */
static bool reached(int64_t s, int64_t utc)
{
	struct tm local;
	return !clock_local(s, &local) || clock_utc(&local) >= utc;
}

/* The moment that the clocks skip to, over what they would show in UTC at `utc`. */
static int64_t skipped_to(int64_t utc)
{
	/* No place is two days from UTC: between these two it is reached. */
	int64_t earlier = utc - 2 * DAY;
	int64_t later = utc + 2 * DAY;
	while (later - earlier > 1) {
		int64_t middle = earlier + (later - earlier) / 2;
		if (reached(middle, utc)) {
			later = middle;
		} else {
			earlier = middle;
		}
	}
	return later;
}

bool clock_day_start(const struct tm *day, int64_t *s)
{
	struct tm midnight = {
		.tm_year = day->tm_year,
		.tm_mon = day->tm_mon,
		.tm_mday = day->tm_mday,
	};
	struct tm local;
	if (clock_moment(&midnight, s)) {
		return true;
	}
	*s = skipped_to(clock_utc(&midnight));
	return clock_local(*s, &local) && local.tm_mday == midnight.tm_mday;
}

int64_t clock_day(int64_t s)
{
	long offset;
	struct tm local;
	if (clock_even_offset(s, &offset) || !clock_local(s, &local)) {
		return day_of(s + offset);
	}
	return day_of(clock_utc(&local));
}

int64_t clock_minute(int64_t day, int64_t minute)
{
	long offset;
	struct tm fields;
	int64_t s;
	int64_t utc = day * DAY + minute * 60;
	time_t shown = (time_t)utc;
	if (clock_even_offset(utc, &offset) || gmtime_r(&shown, &fields) == NULL) {
		return utc - offset;
	}
	return clock_moment(&fields, &s) ? s : skipped_to(utc);
}
