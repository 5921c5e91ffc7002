/* Places, moments and calendars for the tests of open hours. */
#ifndef TESTS_QUANTITY_CALENDARS_H
#define TESTS_QUANTITY_CALENDARS_H

#include "expected.h"

/*
 * Rules of clocks as POSIX writes them, so that no zone files are needed. Central Europe (Berlin)
 * goes forward on 2026-03-29 at 02:00 and back on 2026-10-25 at 03:00; the second changes at
 * midnight, on 2026-02-15 and 2026-10-18; the third by half an hour, on 2026-04-05 and 2026-10-04.
 */
#define BERLIN "CET-1CEST,M3.5.0,M10.5.0/3"
#define AT_MIDNIGHT "<-03>3<-02>,M10.3.0/0,M2.3.0/0"
#define HALF_HOUR "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0"
#define UTC "UTC0"

static inline void clocks_of(const char *zone)
{
	setenv("TZ", zone, 1);
	tzset();
}

static inline struct moment moment_given(const char *typed)
{
	struct fault fault;
	struct moment moment;
	fault_clear(&fault);
	assert_done(moment_parse(typed, &moment, &fault), typed, &fault);
	return moment;
}

static inline struct calendar calendar_given(const char *shifts, const char *closed)
{
	struct fault fault;
	struct calendar calendar;
	memset(&calendar, 0, sizeof calendar);
	fault_clear(&fault);
	assert_done(calendar_shifts_parse(shifts, &calendar, &fault), shifts, &fault);
	assert_done(calendar_closed_parse(closed, &calendar, &fault), closed, &fault);
	return calendar;
}

#define TWO_SHIFTS "mon-fri 06:00-22:00, sat 06:00-14:00"
#define HOLIDAYS "2026-12-24..2027-01-01, 2027-05-01"

#endif
