/*
 * The hours in which a shop works: open time counted, added, taken off. Shift by shift, day by day
 * from the moment asked; a shift over a change of clocks has the length that it really has.
 */
#include "clock.h"
#include "toothrack/quantity.h"

/* Days that years 1900 to 9999 have: no calendar is walked further. */
#define DAY_LEAST (-25567)
#define DAY_MOST 2932896
#define DAY_MINUTES 1440

/* A shift of one day, as moments; its end is no part of it. */
struct open {
	int64_t from, until;
};

/* Stands at one shift of one day: behind those that were given, or before them. */
struct walk {
	const struct calendar *calendar;
	int64_t day;
	int shift;
};

/* 1970-01-01 was a Thursday. */
static size_t weekday(int64_t day)
{
	return (size_t)(((day + 3) % 7 + 7) % 7);
}

/* The span of closed days that a day lies in, or NULL. */
static const struct calendar_closed *closed_on(const struct calendar *calendar, int64_t day)
{
	size_t low = 0;
	size_t high = calendar->closed_count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (calendar->closed[middle].last < day) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	bool closed = low < calendar->closed_count && calendar->closed[low].first <= day;
	return closed ? &calendar->closed[low] : NULL;
}

static struct open open_of(const struct walk *walk)
{
	const struct calendar_shift *shift = &walk->calendar->shifts[weekday(walk->day)][walk->shift];
	return (struct open){
		.from = clock_minute(walk->day, shift->from),
		.until = clock_minute(walk->day, shift->until),
	};
}

/* The next shift; false past the last day that a calendar has. */
static bool open_next(struct walk *walk, struct open *out)
{
	walk->shift++;
	while (walk->day <= DAY_MOST) {
		const struct calendar_closed *closed = closed_on(walk->calendar, walk->day);
		if (closed == NULL && walk->shift < walk->calendar->shift_count[weekday(walk->day)]) {
			*out = open_of(walk);
			return true;
		}
		walk->day = closed != NULL ? closed->last + 1 : walk->day + 1;
		walk->shift = 0;
	}
	return false;
}

/* The shift before; false before the first day that a calendar has. */
static bool open_before(struct walk *walk, struct open *out)
{
	walk->shift--;
	while (walk->day >= DAY_LEAST) {
		const struct calendar_closed *closed = closed_on(walk->calendar, walk->day);
		if (closed == NULL && walk->shift >= 0) {
			*out = open_of(walk);
			return true;
		}
		walk->day = closed != NULL ? closed->first - 1 : walk->day - 1;
		walk->shift = walk->calendar->shift_count[weekday(walk->day)] - 1;
	}
	return false;
}

/* Before every shift that may reach beyond `s`: those of the day before may. */
static struct walk walk_from(const struct calendar *calendar, int64_t s)
{
	int64_t day = clock_day(s) - 1;
	return (struct walk){
		.calendar = calendar,
		.day = day < DAY_LEAST ? DAY_LEAST : day,
		.shift = -1,
	};
}

/* Behind every shift that may begin before `s`. */
static struct walk walk_back_from(const struct calendar *calendar, int64_t s)
{
	int64_t day = clock_day(s) + 1;
	day = day > DAY_MOST ? DAY_MOST : day;
	return (struct walk){
		.calendar = calendar,
		.day = day,
		.shift = calendar->shift_count[weekday(day)],
	};
}

/* Where the years of the calendar end; never before the moment that was asked. */
static struct moment beyond(struct moment moment)
{
	int64_t end = clock_minute(DAY_MOST, DAY_MINUTES);
	return (struct moment){.s = moment.s > end ? moment.s : end};
}

static struct moment before_all(struct moment moment)
{
	int64_t start = clock_minute(DAY_LEAST, 0);
	return (struct moment){.s = moment.s < start ? moment.s : start};
}

struct moment calendar_open_from(const struct calendar *calendar, struct moment moment)
{
	struct open open;
	if (!calendar->limited) {
		return moment;
	}
	struct walk walk = walk_from(calendar, moment.s);
	while (open_next(&walk, &open)) {
		if (open.from <= moment.s && moment.s < open.until) {
			return moment;
		}
		if (open.from > moment.s && open.from < open.until) {
			return (struct moment){.s = open.from};
		}
	}
	return beyond(moment);
}

struct moment calendar_add(const struct calendar *calendar, struct moment moment,
                           struct duration open_time)
{
	struct open open;
	int64_t left = open_time.s;
	if (!calendar->limited || left <= 0) {
		return moment_add(moment, open_time);
	}
	struct walk walk = walk_from(calendar, moment.s);
	while (open_next(&walk, &open)) {
		int64_t from = open.from > moment.s ? open.from : moment.s;
		if (from >= open.until) {
			continue;
		}
		if (open.until - from >= left) {
			return (struct moment){.s = from + left};
		}
		left -= open.until - from;
	}
	return beyond(moment);
}

struct moment calendar_subtract(const struct calendar *calendar, struct moment moment,
                                struct duration open_time)
{
	struct open open;
	int64_t left = open_time.s;
	if (!calendar->limited || left <= 0) {
		return (struct moment){.s = moment.s - left};
	}
	struct walk walk = walk_back_from(calendar, moment.s);
	while (open_before(&walk, &open)) {
		int64_t until = open.until < moment.s ? open.until : moment.s;
		if (until <= open.from) {
			continue;
		}
		if (until - open.from >= left) {
			return (struct moment){.s = until - left};
		}
		left -= until - open.from;
	}
	return before_all(moment);
}

struct duration calendar_between(const struct calendar *calendar, struct moment from,
                                 struct moment until)
{
	struct open open;
	struct duration sum = {.s = 0};
	if (!calendar->limited) {
		sum.s = until.s > from.s ? until.s - from.s : 0;
		return sum;
	}
	struct walk walk = walk_from(calendar, from.s);
	while (open_next(&walk, &open) && open.from < until.s) {
		int64_t first = open.from > from.s ? open.from : from.s;
		int64_t last = open.until < until.s ? open.until : until.s;
		sum.s += last > first ? last - first : 0;
	}
	return sum;
}
