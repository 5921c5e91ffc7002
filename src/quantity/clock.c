/* Local days and times of day: the C library's zone rules, asked from both sides of a change. */
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

/* Is the place's calendar at `s` on that day, or past it? */
static bool day_reached(int64_t s, const struct tm *day)
{
	struct tm local;
	if (!clock_local(s, &local)) {
		return true;
	}
	if (local.tm_year != day->tm_year) {
		return local.tm_year > day->tm_year;
	}
	if (local.tm_mon != day->tm_mon) {
		return local.tm_mon > day->tm_mon;
	}
	return local.tm_mday >= day->tm_mday;
}

bool clock_day_start(const struct tm *day, int64_t *s)
{
	struct tm midnight = {
		.tm_year = day->tm_year,
		.tm_mon = day->tm_mon,
		.tm_mday = day->tm_mday,
	};
	if (clock_moment(&midnight, s)) {
		return true;
	}
	/* Midnight is skipped. No place is two days from UTC: between these two the day begins. */
	int64_t utc = clock_utc(&midnight);
	int64_t earlier = utc - 2 * DAY;
	int64_t reached = utc + 2 * DAY;
	while (reached - earlier > 1) {
		int64_t middle = earlier + (reached - earlier) / 2;
		if (day_reached(middle, &midnight)) {
			reached = middle;
		} else {
			earlier = middle;
		}
	}
	struct tm local;
	*s = reached;
	return clock_local(reached, &local) && local.tm_mday == midnight.tm_mday;
}
