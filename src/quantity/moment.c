/* Moments and dates, as they are read and written (ISO 8601 and RFC 3339 forms). */
#include <stdio.h>

#include "clock.h"
#include "parsers.h"

#define MINUTE 60

#define YEAR_LEAST 1900
#define YEAR_MOST 9999
/* No place is further from UTC than this; the calendar of some islands came near it. */
#define OFFSET_MOST (16 * 3600)

/* A moment as it was typed. */
struct spelled {
	struct tm fields;
	bool date;       /* no time of day */
	bool offset;     /* its offset from UTC was typed */
	int64_t seconds; /* that offset, east of Greenwich positive */
};

/* Steps over exactly `count` digits. */
static bool digits_read(const char **c, int count, int *out)
{
	int value = 0;
	for (int i = 0; i < count; i++) {
		if (!is_digit((*c)[i])) {
			return false;
		}
		value = value * 10 + ((*c)[i] - '0');
	}
	*c += count;
	*out = value;
	return !is_digit(**c);
}

static bool step_over(const char **c, char expected)
{
	bool there = **c == expected;
	*c += there ? 1 : 0;
	return there;
}

/* `2026-12-01` */
static bool date_scan(const char **c, struct tm *fields)
{
	int year = 0;
	int month = 0;
	bool read = digits_read(c, 4, &year) && step_over(c, '-') && digits_read(c, 2, &month) &&
	            step_over(c, '-') && digits_read(c, 2, &fields->tm_mday);
	fields->tm_year = year - 1900;
	fields->tm_mon = month - 1;
	return read;
}

/* `14:30` or `14:30:15` */
static bool time_scan(const char **c, struct tm *fields)
{
	if (!digits_read(c, 2, &fields->tm_hour) || !step_over(c, ':') ||
	    !digits_read(c, 2, &fields->tm_min)) {
		return false;
	}
	return !step_over(c, ':') || digits_read(c, 2, &fields->tm_sec);
}

/* Nothing, `Z`, `+01:00` or `-0530`. */
static bool offset_scan(const char **c, struct spelled *out)
{
	const char *start = *c;
	out->offset = true;
	if (step_over(c, 'Z') || step_over(c, 'z')) {
		return true;
	}
	if (!step_over(c, '+') && !step_over(c, '-')) {
		out->offset = false;
		return true;
	}
	int hours = 0;
	int minutes = 0;
	const char *digits = *c;
	if (digits_read(&digits, 4, &hours)) {
		minutes = hours % 100;
		hours = hours / 100;
		*c = digits;
	} else if (!digits_read(c, 2, &hours) || !step_over(c, ':') || !digits_read(c, 2, &minutes)) {
		return false;
	}
	int64_t seconds = (int64_t)hours * 3600 + (int64_t)minutes * 60;
	out->seconds = *start == '-' ? -seconds : seconds;
	return minutes < 60 && seconds <= OFFSET_MOST;
}

static bool moment_scan(struct typed typed, struct spelled *out)
{
	const char *c = typed.start;
	const char *end = typed.start + typed.length;
	*out = (struct spelled){.date = false};
	if (!date_scan(&c, &out->fields)) {
		return false;
	}
	if (c == end) {
		out->date = true;
		return true;
	}
	if (!step_over(&c, 'T') && !step_over(&c, 't') && !step_over(&c, ' ')) {
		return false;
	}
	return time_scan(&c, &out->fields) && offset_scan(&c, out) && c == end;
}

/* One or two digits. */
static bool short_read(const char **c, int *out)
{
	return digits_read(c, is_digit(**c) && is_digit((*c)[1]) ? 2 : 1, out);
}

/*
 * `30.11.2026 14:00`, as devices of some countries write it: the day first, since a point stands
 * between. With strokes it may be either, and is left alone.
 */
static bool day_first_scan(struct typed typed, struct spelled *out)
{
	const char *c = typed.start;
	const char *end = typed.start + typed.length;
	int month = 0;
	int year = 0;
	*out = (struct spelled){.date = false};
	if (!short_read(&c, &out->fields.tm_mday) || !step_over(&c, '.') || !short_read(&c, &month) ||
	    !step_over(&c, '.') || !digits_read(&c, 4, &year)) {
		return false;
	}
	out->fields.tm_year = year - 1900;
	out->fields.tm_mon = month - 1;
	out->date = c == end;
	if (out->date) {
		return true;
	}
	(void)step_over(&c, ',');
	return (step_over(&c, ' ') || step_over(&c, 'T')) && time_scan(&c, &out->fields) && c == end;
}

static int days_of_month(int year, int month)
{
	static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
	return month == 2 && leap ? 29 : days[month - 1];
}

static enum outcome refuse(const char *what, const char *wrong, struct typed typed,
                           struct fault *fault)
{
	return fault_set(fault, OUTCOME_BAD, "%s %s: %.*s", what, wrong, TYPED(typed));
}

static enum outcome refuse_year(const char *what, struct typed typed, struct fault *fault)
{
	refuse(what, "is out of range", typed, fault);
	fault_hint(fault, "Type a year from %d to %d.", YEAR_LEAST, YEAR_MOST);
	return OUTCOME_BAD;
}

/* Refuses what the calendar or the clock lacks. */
static enum outcome fields_check(const char *what, struct typed typed, const struct tm *fields,
                                 struct fault *fault)
{
	int year = fields->tm_year + 1900;
	int month = fields->tm_mon + 1;
	if (year < YEAR_LEAST) {
		return refuse_year(what, typed, fault);
	}
	if (month < 1 || month > 12) {
		refuse(what, "is on no calendar", typed, fault);
		fault_hint(fault, "Type the month behind the year, 01 to 12.");
		return OUTCOME_BAD;
	}
	int days = days_of_month(year, month);
	if (fields->tm_mday < 1 || fields->tm_mday > days) {
		refuse(what, "is on no calendar", typed, fault);
		fault_hint(fault, "Type a day from %04d-%02d-01 to %04d-%02d-%02d.", year, month, year,
		           month, days);
		return OUTCOME_BAD;
	}
	if (fields->tm_hour > 23 || fields->tm_min > 59 || fields->tm_sec > 59) {
		refuse(what, "is on no clock", typed, fault);
		fault_hint(fault, "Type a time of day from 00:00 to 23:59.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* No date or moment; where it is one as others write it, the hint writes it as it is read here. */
static enum outcome refuse_spelling(const char *what, struct typed typed, struct fault *fault)
{
	struct spelled spelled;
	refuse(what, "is no date or moment", typed, fault);
	if (!day_first_scan(typed, &spelled) ||
	    fields_check(what, typed, &spelled.fields, NULL) != OUTCOME_DONE) {
		fault_hint(fault, "Type %s.", MOMENT_SPELLING);
		return OUTCOME_BAD;
	}
	struct quantity_text out;
	const struct tm *fields = &spelled.fields;
	snprintf(out.bytes, sizeof out.bytes,
	         spelled.date         ? "%04d-%02d-%02d"
	         : fields->tm_sec > 0 ? "%04d-%02d-%02dT%02d:%02d:%02d"
	                              : "%04d-%02d-%02dT%02d:%02d",
	         fields->tm_year + 1900, fields->tm_mon + 1, fields->tm_mday, fields->tm_hour,
	         fields->tm_min, fields->tm_sec);
	fault_hint(fault, "Type %s.", out.bytes);
	return OUTCOME_BAD;
}

static enum outcome refuse_skipped(const char *what, struct typed typed, bool date,
                                   struct fault *fault)
{
	refuse(what, "is skipped by the change of clocks", typed, fault);
	fault_hint(fault,
	           date ? "Type the day before or after it."
	                : "Type a time before or after the change, or add an offset such as +01:00.");
	return OUTCOME_BAD;
}

static bool year_holds(const struct tm *fields)
{
	return fields->tm_year >= YEAR_LEAST - 1900 && fields->tm_year <= YEAR_MOST - 1900;
}

enum outcome moment_read(const char *what, const char *text, struct moment *out,
                         struct fault *fault)
{
	struct spelled spelled;
	struct typed typed = typed_trim(text);
	struct moment moment = {.s = 0};
	if (typed.length == 0) {
		return number_blank_refuse(what, MOMENT_SPELLING, fault);
	}
	if (!moment_scan(typed, &spelled)) {
		return refuse_spelling(what, typed, fault);
	}
	enum outcome outcome = fields_check(what, typed, &spelled.fields, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	moment.date = spelled.date;
	if (spelled.offset) {
		moment.s = clock_utc(&spelled.fields) - spelled.seconds;
	} else if (spelled.date ? !clock_day_start(&spelled.fields, &moment.s)
	                        : !clock_moment(&spelled.fields, &moment.s)) {
		return refuse_skipped(what, typed, spelled.date, fault);
	}
	/*
	 * Near the ends, what is well here may be shown as a year beyond them: in UTC, or by the
	 * clocks here.
	 */
	struct tm local;
	struct tm utc;
	time_t s = (time_t)moment.s;
	if (!clock_local(moment.s, &local) || gmtime_r(&s, &utc) == NULL || !year_holds(&local) ||
	    (!moment.date && !year_holds(&utc))) {
		return refuse_year(what, typed, fault);
	}
	*out = moment;
	return OUTCOME_DONE;
}

enum outcome moment_parse(const char *text, struct moment *out, struct fault *fault)
{
	return moment_read("moment", text, out, fault);
}

/* A whole number of so many digits, at `to`. */
static char *digits_write(char *to, int number, int digits)
{
	for (int i = digits; i > 0; i--) {
		to[i - 1] = (char)('0' + number % 10);
		number /= 10;
	}
	return to + digits;
}

/* `2026-12-01`; a year of other than four digits is left to the library. Returns where it ends. */
static char *date_write(struct quantity_text *out, const struct tm *fields)
{
	int year = fields->tm_year + 1900;
	char *to = out->bytes;
	if (year < 0 || year > 9999) {
		to += snprintf(out->bytes, sizeof out->bytes - sizeof "-01-01T00:00:00Z", "%04d", year);
	} else {
		to = digits_write(to, year, 4);
	}
	*to++ = '-';
	to = digits_write(to, fields->tm_mon + 1, 2);
	*to++ = '-';
	to = digits_write(to, fields->tm_mday, 2);
	*to = '\0';
	return to;
}

/* `2026-12-01T14:30`, the seconds only where asked or not 0; returns the bytes written. */
static size_t fields_write(struct quantity_text *out, const struct tm *fields, bool seconds)
{
	char *to = date_write(out, fields);
	*to++ = 'T';
	to = digits_write(to, fields->tm_hour, 2);
	*to++ = ':';
	to = digits_write(to, fields->tm_min, 2);
	if (seconds || fields->tm_sec != 0) {
		*to++ = ':';
		to = digits_write(to, fields->tm_sec, 2);
	}
	*to = '\0';
	return (size_t)(to - out->bytes);
}

static struct quantity_text beyond_calendar(void)
{
	return (struct quantity_text){"beyond the calendar"};
}

struct quantity_text moment_text_utc(struct moment moment)
{
	struct quantity_text text;
	struct tm utc;
	time_t s = (time_t)moment.s;
	if (gmtime_r(&s, &utc) == NULL) {
		return beyond_calendar();
	}
	size_t used = fields_write(&text, &utc, true);
	snprintf(text.bytes + used, sizeof text.bytes - used, "Z");
	return text;
}

/* Where the clocks may show the same again: the second time with what they are ahead of UTC. */
static struct quantity_text moment_text_around_change(struct moment moment)
{
	struct quantity_text text;
	struct tm local;
	int64_t again = 0;
	if (!clock_local(moment.s, &local)) {
		return beyond_calendar();
	}
	size_t used = fields_write(&text, &local, false);
	if (clock_moment(&local, &again) && again == moment.s) {
		return text;
	}
	long offset = local.tm_gmtoff;
	long ahead = offset < 0 ? -offset : offset;
	if (offset % 60 != 0 || ahead > OFFSET_MOST) {
		return moment_text_utc(moment);
	}
	snprintf(text.bytes + used, sizeof text.bytes - used, "%c%02ld:%02ld", offset < 0 ? '-' : '+',
	         ahead / 3600, ahead / 60 % 60);
	return text;
}

struct quantity_text moment_text(struct moment moment)
{
	struct quantity_text text;
	struct tm local;
	long offset;
	bool even = clock_even_offset(moment.s, &offset);
	time_t shown = (time_t)(moment.s + offset);
	if (even ? gmtime_r(&shown, &local) == NULL : !clock_local(moment.s, &local)) {
		return beyond_calendar();
	}
	if (moment.date) {
		date_write(&text, &local);
	} else if (even) {
		fields_write(&text, &local, false);
	} else {
		text = moment_text_around_change(moment);
	}
	return text;
}

struct moment moment_of_day_end(struct moment moment)
{
	struct tm day;
	struct moment end = {.s = moment.s};
	if (!moment.date || !clock_local(moment.s, &day)) {
		return moment;
	}
	struct tm next = {.tm_year = day.tm_year, .tm_mon = day.tm_mon, .tm_mday = day.tm_mday + 1};
	time_t utc = (time_t)clock_utc(&next); /* brings the 32nd to the next month */
	if (gmtime_r(&utc, &next) == NULL) {
		return moment;
	}
	(void)clock_day_start(&next, &end.s); /* where that whole day is skipped, the one after it */
	return end;
}

int moment_compare(struct moment a, struct moment b)
{
	return (a.s > b.s) - (a.s < b.s);
}

struct moment moment_add(struct moment moment, struct duration later)
{
	return (struct moment){.s = moment.s + later.s};
}

struct duration moment_between(struct moment from, struct moment until)
{
	return (struct duration){.s = until.s - from.s};
}

struct moment moment_minute_down(struct moment moment)
{
	int64_t over = (moment.s % MINUTE + MINUTE) % MINUTE;
	return (struct moment){.s = moment.s - over};
}

struct moment moment_minute_past(struct moment moment)
{
	return (struct moment){.s = moment_minute_down(moment).s + MINUTE};
}

struct moment moment_minute_up(struct moment moment)
{
	struct moment minute = moment_minute_down(moment);
	return minute.s == moment.s ? minute : moment_minute_past(moment);
}
