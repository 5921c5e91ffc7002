/*
 * Local days and weeks. Weeks as ISO 8601 counts them: from Monday, and week 1 of a year is the one
 * with its first Thursday.
 */
#include <stdio.h>

#include "clock.h"
#include "parsers.h"

#define DAY 86400
#define YEAR_LEAST 1900
#define YEAR_MOST 9999
#define WEEK_SPELLING "a week such as 2026-W49, or a day in it such as 2026-12-01"

struct moment moment_day_start(struct moment moment)
{
	return (struct moment){.s = clock_minute(clock_day(moment.s), 0)};
}

struct moment moment_day_after(struct moment moment)
{
	int64_t day = clock_day(moment.s);
	struct moment after;
	do { /* a day that the place skips is none */
		day++;
		after.s = clock_minute(day, 0);
	} while (after.s <= moment.s);
	after.date = false;
	return after;
}

/* The Monday of the week that a day lies in; 1970-01-01 was a Thursday. */
static int64_t monday_of(int64_t day)
{
	return day - ((day + 3) % 7 + 7) % 7;
}

struct moment moment_week_start(struct moment moment)
{
	return (struct moment){.s = clock_minute(monday_of(clock_day(moment.s)), 0)};
}

/* Monday of week 1: that of the fourth of January, which is never in another week. */
static int64_t first_monday(int year)
{
	struct tm fourth = {.tm_year = year - 1900, .tm_mon = 0, .tm_mday = 4};
	return monday_of(clock_utc(&fourth) / DAY - (clock_utc(&fourth) % DAY < 0 ? 1 : 0));
}

/* `2026-W49`, the letter in either case. */
static bool week_scan(struct typed typed, int *year, int *week)
{
	const char *c = typed.start;
	if (typed.length != 8 || c[4] != '-' || (c[5] != 'W' && c[5] != 'w')) {
		return false;
	}
	for (int i = 0; i < 8; i++) {
		if (i != 4 && i != 5 && !is_digit(c[i])) {
			return false;
		}
	}
	*year = (c[0] - '0') * 1000 + (c[1] - '0') * 100 + (c[2] - '0') * 10 + (c[3] - '0');
	*week = (c[6] - '0') * 10 + (c[7] - '0');
	return true;
}

static bool has_week_letter(struct typed typed)
{
	for (int i = 0; i < typed.length; i++) {
		if (typed.start[i] == 'W' || typed.start[i] == 'w') {
			return true;
		}
	}
	return false;
}

static enum outcome refuse_year(struct typed typed, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "week is out of range: %.*s", TYPED(typed));
	fault_hint(fault, "Type a year from %d to %d.", YEAR_LEAST, YEAR_MOST);
	return OUTCOME_BAD;
}

static enum outcome week_of_number(struct typed typed, int year, int week, struct moment *out,
                                   struct fault *fault)
{
	if (year < YEAR_LEAST || year > YEAR_MOST) {
		return refuse_year(typed, fault);
	}
	int64_t first = first_monday(year);
	int weeks = (int)((first_monday(year + 1) - first) / 7);
	if (week < 1 || week > weeks) {
		fault_set(fault, OUTCOME_BAD, "week is on no calendar: %.*s", TYPED(typed));
		fault_hint(fault, "Type a week from %04d-W01 to %04d-W%02d.", year, year, weeks);
		return OUTCOME_BAD;
	}
	*out = (struct moment){.s = clock_minute(first + (week - 1) * INT64_C(7), 0)};
	return OUTCOME_DONE;
}

enum outcome week_parse(const char *text, struct moment *out, struct fault *fault)
{
	int year;
	int week;
	struct moment moment;
	struct typed typed = typed_trim(text);
	if (typed.length == 0) {
		return number_blank_refuse("week", WEEK_SPELLING, fault);
	}
	if (week_scan(typed, &year, &week)) {
		return week_of_number(typed, year, week, out, fault);
	}
	if (has_week_letter(typed) || !is_digit(typed.start[0])) {
		fault_set(fault, OUTCOME_BAD, "week is none that is known: %.*s", TYPED(typed));
		fault_hint(fault, "Type %s.", WEEK_SPELLING);
		return OUTCOME_BAD;
	}
	enum outcome outcome = moment_read("week", text, &moment, fault);
	if (outcome == OUTCOME_DONE) {
		*out = moment_week_start(moment);
	}
	return outcome;
}

struct quantity_text week_text(struct moment moment)
{
	struct quantity_text text;
	struct tm thursday;
	int64_t monday = monday_of(clock_day(moment.s));
	time_t s = (time_t)((monday + 3) * DAY);
	if (gmtime_r(&s, &thursday) == NULL) {
		return (struct quantity_text){"beyond the calendar"};
	}
	int year = thursday.tm_year + 1900;
	snprintf(text.bytes, sizeof text.bytes, "%04d-W%02d", year, thursday.tm_yday / 7 + 1);
	return text;
}
