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

#define HOURS(hours) ((hours)*INT64_C(3600))

static void clocks_of(const char *zone)
{
	setenv("TZ", zone, 1);
	tzset();
}

static struct moment moment_given(const char *typed)
{
	struct fault fault;
	struct moment moment;
	fault_clear(&fault);
	assert_done(moment_parse(typed, &moment, &fault), typed, &fault);
	return moment;
}

static struct calendar calendar_given(const char *shifts, const char *closed)
{
	struct fault fault;
	struct calendar calendar;
	memset(&calendar, 0, sizeof calendar);
	fault_clear(&fault);
	assert_done(calendar_shifts_parse(shifts, &calendar, &fault), shifts, &fault);
	assert_done(calendar_closed_parse(closed, &calendar, &fault), closed, &fault);
	return calendar;
}

/* ---------------------------------------------------------------- worked by hand */

#define TWO_SHIFTS "mon-fri 06:00-22:00, sat 06:00-14:00"
#define NIGHTS "sun-thu 22:00-06:00"
#define ROUND_THE_CLOCK "mon-fri 06:00-14:00, mon-fri 14:00-22:00, mon-fri 22:00-06:00"
#define HOLIDAYS "2026-12-24..2027-01-01, 2027-05-01"

/* 2026-12-01 is a Tuesday. */
static const struct {
	const char *shifts, *closed;
	const char *from, *until;
	int64_t hours;
} spans[] = {
	{"always", "none", "2026-12-01T08:00", "2026-12-02T08:00", 24},
	{"always", "2026-12-01", "2026-11-30T12:00", "2026-12-02T12:00", 24},
	{TWO_SHIFTS, "none", "2026-12-01T08:00", "2026-12-01T10:00", 2},
	{TWO_SHIFTS, "none", "2026-12-01T20:00", "2026-12-02T08:00", 4},
	{TWO_SHIFTS, "none", "2026-12-01T22:00", "2026-12-02T06:00", 0},
	{TWO_SHIFTS, "none", "2026-12-04T21:00", "2026-12-07T07:00", 10},
	{TWO_SHIFTS, "none", "2026-11-30T00:00", "2026-12-07T00:00", 88},
	{TWO_SHIFTS, HOLIDAYS, "2026-12-23T20:00", "2027-01-02T07:00", 3},
	{NIGHTS, "none", "2026-11-30T12:00", "2026-12-01T12:00", 8},
	/* The night of the 23rd ends on the closed 24th; no night begins on a closed day. */
	{NIGHTS, "2026-12-24..2026-12-27", "2026-12-23T12:00", "2026-12-28T12:00", 8},
	{NIGHTS, "2026-12-23", "2026-12-22T12:00", "2026-12-24T12:00", 8},
	{ROUND_THE_CLOCK, "none", "2026-11-30T00:00", "2026-12-07T00:00", 120},
	{ROUND_THE_CLOCK, "none", "2026-11-30T00:00", "2026-11-30T12:00", 6},
	/* Over the change of clocks a night has seven hours, or nine. */
	{"sat 22:00-06:00", "none", "2026-03-28T12:00", "2026-03-29T12:00", 7},
	{"sat 22:00-06:00", "none", "2026-10-24T12:00", "2026-10-25T12:00", 9},
	{"sun 00:00-24:00", "none", "2026-03-29", "2026-03-30", 23},
	{"sun 00:00-24:00", "none", "2026-10-25", "2026-10-26", 25},
	{"sun 02:00-03:00", "none", "2026-03-29", "2026-03-30", 0},
	{"sun 02:00-03:00", "none", "2026-10-25", "2026-10-26", 2},
	/* Of an hour shown twice a boundary is in the first. */
	{"sun 01:00-02:00", "none", "2026-10-25", "2026-10-26", 1},
	{"sun 02:00-06:00", "none", "2026-10-25", "2026-10-26", 5},
	{TWO_SHIFTS, "none", "2026-12-02T08:00", "2026-12-01T08:00", 0},
};

static void calendar_between__worked_by_hand__those_hours(void **state)
{
	(void)state;
	clocks_of(BERLIN);
	for (size_t i = 0; i < COUNT_OF(spans); i++) {
		struct calendar calendar = calendar_given(spans[i].shifts, spans[i].closed);
		struct duration open =
			calendar_between(&calendar, moment_given(spans[i].from), moment_given(spans[i].until));
		if (open.s != HOURS(spans[i].hours)) {
			fail_msg("%s from %s until %s: %s", spans[i].shifts, spans[i].from, spans[i].until,
			         duration_text(open).bytes);
		}
	}
}

static const struct {
	const char *shifts, *closed;
	const char *at;
	int64_t hours;
	const char *later;
} sums[] = {
	{"always", "none", "2026-12-01T08:00", 5, "2026-12-01T13:00"},
	{TWO_SHIFTS, "none", "2026-12-01T08:00", 0, "2026-12-01T08:00"},
	{TWO_SHIFTS, "none", "2026-12-01T03:00", 0, "2026-12-01T03:00"},
	{TWO_SHIFTS, "none", "2026-12-01T20:00", 2, "2026-12-01T22:00"},
	{TWO_SHIFTS, "none", "2026-12-01T20:00", 3, "2026-12-02T07:00"},
	{TWO_SHIFTS, "none", "2026-12-01T23:00", 1, "2026-12-02T07:00"},
	{TWO_SHIFTS, "none", "2026-12-05T13:00", 2, "2026-12-07T07:00"},
	{TWO_SHIFTS, HOLIDAYS, "2026-12-23T21:00", 2, "2027-01-02T07:00"},
	{NIGHTS, "none", "2026-12-01T12:00", 8, "2026-12-02T06:00"},
	{NIGHTS, "none", "2026-12-01T23:00", 8, "2026-12-02T23:00"},
	{"sat 22:00-06:00", "none", "2026-03-28T12:00", 5, "2026-03-29T04:00"},
	{"sat 22:00-06:00", "none", "2026-10-24T12:00", 5, "2026-10-25T02:00+01:00"},
};

static void calendar_add__worked_by_hand__that_moment(void **state)
{
	(void)state;
	clocks_of(BERLIN);
	for (size_t i = 0; i < COUNT_OF(sums); i++) {
		struct calendar calendar = calendar_given(sums[i].shifts, sums[i].closed);
		struct duration open = {.s = HOURS(sums[i].hours)};
		assert_shown(moment_text(calendar_add(&calendar, moment_given(sums[i].at), open)),
		             sums[i].later);
	}
}

static const struct {
	const char *at;
	int64_t hours;
	const char *earlier;
} differences[] = {
	{"2026-12-02T08:00", 0, "2026-12-02T08:00"}, {"2026-12-02T08:00", 2, "2026-12-02T06:00"},
	{"2026-12-02T08:00", 3, "2026-12-01T21:00"}, {"2026-12-02T05:00", 1, "2026-12-01T21:00"},
	{"2026-12-07T07:00", 2, "2026-12-05T13:00"}, {"2027-01-02T07:00", 2, "2026-12-23T21:00"},
};

static void calendar_subtract__worked_by_hand__that_moment(void **state)
{
	(void)state;
	clocks_of(BERLIN);
	struct calendar calendar = calendar_given(TWO_SHIFTS, HOLIDAYS);
	for (size_t i = 0; i < COUNT_OF(differences); i++) {
		struct duration open = {.s = HOURS(differences[i].hours)};
		assert_shown(moment_text(
						 calendar_subtract(&calendar, moment_given(differences[i].at), open)),
		             differences[i].earlier);
	}
}

static void calendar_open_from__worked_by_hand__that_moment(void **state)
{
	static const char *const rows[][2] = {
		{"2026-12-01T08:00", "2026-12-01T08:00"}, {"2026-12-01T06:00", "2026-12-01T06:00"},
		{"2026-12-01T05:59", "2026-12-01T06:00"}, {"2026-12-01T22:00", "2026-12-02T06:00"},
		{"2026-12-05T14:00", "2026-12-07T06:00"}, {"2026-12-23T22:00", "2027-01-02T06:00"},
		{"2026-12-28T12:00", "2027-01-02T06:00"},
	};
	(void)state;
	clocks_of(BERLIN);
	struct calendar calendar = calendar_given(TWO_SHIFTS, HOLIDAYS);
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		assert_shown(moment_text(calendar_open_from(&calendar, moment_given(rows[i][0]))),
		             rows[i][1]);
	}
}

static void calendar__past_the_last_year__ends_there(void **state)
{
	(void)state;
	clocks_of(UTC);
	struct calendar calendar = calendar_given("mon 00:00-00:01", "none");
	struct duration long_time = {.s = INT64_C(52000) * 7 * 86400};
	assert_shown(moment_text(calendar_add(&calendar, moment_given("2026-12-01T08:00"), long_time)),
	             "10000-01-01T00:00");
	assert_shown(moment_text(
					 calendar_subtract(&calendar, moment_given("2026-12-01T08:00"), long_time)),
	             "1900-01-01T00:00");
	assert_shown(moment_text(calendar_open_from(&calendar, moment_given("9999-12-31T08:00"))),
	             "10000-01-01T00:00");
}

/* ---------------------------------------------------------------- what is typed */

static void calendar_shifts_parse__always__limits_nothing(void **state)
{
	static const char *const whole[] = {"always", " Always ", "mon-sun 00:00-24:00",
	                                    "mon-fri 00:00-24:00; sat-sun 0:00-24:00",
	                                    "mon-sun 00:00-08:00, mon-sun 08:00-24:00"};
	(void)state;
	for (size_t i = 0; i < COUNT_OF(whole); i++) {
		assert_false(calendar_given(whole[i], "none").limited);
		assert_true(calendar_given(whole[i], "2026-12-24").limited);
	}
	assert_true(calendar_given("mon-sat 00:00-24:00", "none").limited);
	struct calendar blank;
	memset(&blank, 0, sizeof blank);
	assert_int_equal(calendar_closed_parse("2026-12-24", &blank, NULL), OUTCOME_DONE);
	assert_true(blank.limited);
	assert_int_equal(blank.shift_count[6], 1);
}

static void calendar_shifts_parse__other_spellings__the_same_week(void **state)
{
	static const char *const pairs[][2] = {
		{"mon-fri 06:00-14:00", "Monday - FRI 6:00 - 14:00"},
		{"fri-mon 06:00-14:00",
	     "fri 06:00-14:00, sat 06:00-14:00; sun 06:00-14:00,mon 06:00-14:00"},
		{"tue 06:00-14:00, tue 14:00-22:00", "tue 06:00-22:00"},
		{"tue 14:00-22:00, tue 06:00-14:00", "tue 06:00-22:00"},
		{"tue 06:00-10:00, tue 14:00-22:00, tue 10:00-14:00", "tue 06:00-22:00"},
		{"tue 22:00-00:00", "tue 22:00-24:00"},
		{"tue 18:00-20:00, tue 06:00-08:00, tue 12:00-14:00, tue 00:00-01:00",
	     "tue 00:00-01:00, tue 06:00-08:00, tue 12:00-14:00, tue 18:00-20:00"},
	};
	(void)state;
	for (size_t i = 0; i < COUNT_OF(pairs); i++) {
		struct calendar a = calendar_given(pairs[i][0], "none");
		struct calendar b = calendar_given(pairs[i][1], "none");
		for (size_t day = 0; day < 7; day++) {
			assert_int_equal(a.shift_count[day], b.shift_count[day]);
			assert_memory_equal(a.shifts[day], b.shifts[day],
			                    a.shift_count[day] * sizeof a.shifts[day][0]);
		}
	}
}

#define SHIFTS_HINT \
	"Type shifts such as \"mon-fri 06:00-22:00, sat 06:00-14:00\", or always for a shop that never " \
	"closes."

static const struct refusal shift_refusals[] = {
	{"", "shifts is blank", SHIFTS_HINT},
	{"none", "shifts leave no open hour: none", SHIFTS_HINT},
	{"Never", "shifts leave no open hour: Never", SHIFTS_HINT},
	{" , ", "shifts leave no open hour: ,", SHIFTS_HINT},
	{"workdays 06:00-22:00", "shift names no day of the week: workdays 06:00-22:00", SHIFTS_HINT},
	{"mo 06:00-22:00", "shift names no day of the week: mo 06:00-22:00", SHIFTS_HINT},
	{"mon-xyz 06:00-22:00", "shift names no day of the week: mon-xyz 06:00-22:00", SHIFTS_HINT},
	{"06:00-22:00", "shift names no day of the week: 06:00-22:00", SHIFTS_HINT},
	{"mon-fri", "shift has no hours: mon-fri", SHIFTS_HINT},
	{"mon,tue 06:00-14:00", "shift has no hours: mon", SHIFTS_HINT},
	{"mon 6-14", "shift has hours that are on no clock: mon 6-14", SHIFTS_HINT},
	{"mon 06:00", "shift has hours that are on no clock: mon 06:00", SHIFTS_HINT},
	{"mon 06:60-14:00", "shift has hours that are on no clock: mon 06:60-14:00", SHIFTS_HINT},
	{"mon 06:00-24:01", "shift has hours that are on no clock: mon 06:00-24:01", SHIFTS_HINT},
	{"mon 24:00-06:00", "shift has hours that are on no clock: mon 24:00-06:00", SHIFTS_HINT},
	{"mon 006:00-14:00", "shift has hours that are on no clock: mon 006:00-14:00", SHIFTS_HINT},
	{"mon 06:00-14:00 x", "shift has hours that are on no clock: mon 06:00-14:00 x", SHIFTS_HINT},
	{"mon 06:00-06:00", "shift is empty: mon 06:00-06:00",
     "Type an end other than its beginning; a whole day is 00:00-24:00."},
	{"mon 06:00-14:00, mon 13:59-22:00", "shift overlaps another on mon: mon 13:59-22:00",
     "Type each hour of a day in one shift only."},
	{"mon-fri 22:00-06:00, sat 05:00-14:00", "shift overlaps another on sat: sat 05:00-14:00",
     "Type each hour of a day in one shift only."},
	{"mon 00:00-08:00, sun 22:00-06:00", "shift overlaps another on mon: sun 22:00-06:00",
     "Type each hour of a day in one shift only."},
	{"mon 00:00-01:00, mon 02:00-03:00, mon 04:00-05:00, mon 06:00-07:00, mon 08:00-09:00",
     "shift is one more than 4 on mon: mon 08:00-09:00", "Type at most 4 shifts a day."},
};

static const struct refusal closed_refusals[] = {
	{"", "closed is blank", "Type closed days such as 2026-12-24..2027-01-01,2027-05-01, or none."},
	{"2026-13-01", "closed day is on no calendar: 2026-13-01",
     "Type the month behind the year, 01 to 12."},
	{"2026-12-24..", "closed day is no date: 2026-12-24..",
     "Type closed days such as 2026-12-24..2027-01-01,2027-05-01, or none."},
	{"christmas", "closed day is no date: christmas",
     "Type closed days such as 2026-12-24..2027-01-01,2027-05-01, or none."},
	{"2026-12-24 and every sunday in spring",
     "closed day is no date: 2026-12-24 and every sunday in spring",
     "Type closed days such as 2026-12-24..2027-01-01,2027-05-01, or none."},
	{"2026-12-24T14:00", "closed day has a time of day: 2026-12-24T14:00",
     "Type the day alone, such as 2026-12-24."},
	{"2027-01-01..2026-12-24", "closed days end before they begin: 2027-01-01..2026-12-24",
     "Type the earlier day first, then two points, then the later."},
	{"2026-01-01..2027-01-02",
     "closed days leave no open hour for more than a year: 2026-01-01..2027-01-02",
     "Type at most 366 closed days in a row."},
	{"2026-01-01..2026-12-31, 2027-01-01..2027-01-02",
     "closed days leave no open hour for more than a year: 2027-01-01..2027-01-02",
     "Type at most 366 closed days in a row."},
};

static void calendar__contradictory__refused_and_left_alone(void **state)
{
	(void)state;
	clocks_of(BERLIN);
	struct calendar before = calendar_given(TWO_SHIFTS, HOLIDAYS);
	struct calendar calendar = before;
	struct fault fault;
	for (size_t i = 0; i < COUNT_OF(shift_refusals); i++) {
		fault_clear(&fault);
		assert_refused(calendar_shifts_parse(shift_refusals[i].typed, &calendar, &fault),
		               &shift_refusals[i], &fault);
		assert_memory_equal(&calendar, &before, sizeof before);
	}
	for (size_t i = 0; i < COUNT_OF(closed_refusals); i++) {
		fault_clear(&fault);
		assert_refused(calendar_closed_parse(closed_refusals[i].typed, &calendar, &fault),
		               &closed_refusals[i], &fault);
		assert_memory_equal(&calendar, &before, sizeof before);
	}
}

static void calendar_closed_parse__spans_that_touch__are_one(void **state)
{
	(void)state;
	clocks_of(BERLIN);
	struct calendar calendar =
		calendar_given(TWO_SHIFTS, "2026-12-28, 2026-12-24..2026-12-26; 2026-05-01 ,2026-12-27,"
	                               "2026-12-25..2026-12-26");
	assert_int_equal(calendar.closed_count, 2);
	/* Days since 1970-01-01: Python's (date(2026, 12, 24) - date(1970, 1, 1)).days. */
	assert_int_equal(calendar.closed[0].first, 20574);
	assert_int_equal(calendar.closed[0].last, 20574);
	assert_int_equal(calendar.closed[1].first, 20811);
	assert_int_equal(calendar.closed[1].last, 20815);
}

static void calendar_closed_parse__too_many_spans__refused(void **state)
{
	char typed[CALENDAR_CLOSED_MOST * 16 + 32] = "";
	size_t used = 0;
	struct fault fault;
	struct calendar calendar;
	(void)state;
	clocks_of(BERLIN);
	for (int i = 0; i < CALENDAR_CLOSED_MOST; i++) {
		used += (size_t)snprintf(typed + used, sizeof typed - used, "%04d-05-01,", 2000 + i);
	}
	memset(&calendar, 0, sizeof calendar);
	assert_int_equal(calendar_closed_parse(typed, &calendar, NULL), OUTCOME_DONE);
	assert_int_equal(calendar.closed_count, CALENDAR_CLOSED_MOST);
	snprintf(typed + used, sizeof typed - used, "1999-05-01");
	fault_clear(&fault);
	struct refusal refusal = {typed, "closed days are more than 64 spans: 1999-05-01",
	                          "Type them without those that are past."};
	assert_refused(calendar_closed_parse(typed, &calendar, &fault), &refusal, &fault);
}

/* ---------------------------------------------------------------- against minutes counted */

#define DAYS 40
#define MINUTES (DAYS * 1440)

static uint64_t random_state = 20261201;

/* 0 to below - 1; xorshift64 of G. Marsaglia, "Xorshift RNGs", 2003. */
static int random_below(int below)
{
	random_state ^= random_state << 13;
	random_state ^= random_state >> 7;
	random_state ^= random_state << 17;
	return (int)(random_state % (uint64_t)below);
}

/* A calendar drawn, and which minutes of a span it leaves open, counted one by one. */
struct drawn {
	struct calendar calendar;
	char shifts[512], closed[160];
	int from[7][2], until[7][2], count[7];
	int64_t closed_first, closed_last;
	int64_t start;             /* of the first minute */
	int64_t open[MINUTES + 1]; /* open minutes before each */
};

static void draw_shifts(struct drawn *drawn)
{
	static const char *const days[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	static const int steps[] = {1, 15, 30, 60};
	int step = steps[random_below(4)];
	size_t used = 0;
	int reached = 0; /* into this day, by a shift of the day before */
	drawn->shifts[0] = '\0';
	for (int day = 0; day < 7; day++) {
		int at = reached;
		int wanted = random_below(3);
		reached = 0;
		drawn->count[day] = 0;
		for (int i = 0; i < wanted; i++) {
			int from = at + random_below(600) / step * step;
			int until = from + step + random_below(720) / step * step;
			if (from >= 1440 || (day == 6 && until > 1440)) {
				break;
			}
			drawn->from[day][i] = from;
			drawn->until[day][i] = until;
			drawn->count[day]++;
			used += (size_t)snprintf(drawn->shifts + used, sizeof drawn->shifts - used,
			                         "%s%s %02d:%02d-%02d:%02d", used > 0 ? ", " : "", days[day],
			                         from / 60, from % 60, until % 1440 / 60, until % 60);
			at = until + step;
			reached = until > 1440 ? until - 1440 + step : 0;
		}
	}
}

static bool drawn_opens(const struct drawn *drawn, int64_t day, int minute)
{
	int weekday = (int)((day + 3) % 7);
	if (day >= drawn->closed_first && day <= drawn->closed_last) {
		return false;
	}
	for (int i = 0; i < drawn->count[weekday]; i++) {
		if (minute >= drawn->from[weekday][i] && minute < drawn->until[weekday][i]) {
			return true;
		}
	}
	return false;
}

/* The clocks asked at every minute; what they show a second time is past already. */
static void count_minutes(struct drawn *drawn)
{
	int64_t shown = 0;
	drawn->open[0] = 0;
	for (int i = -2 * 1440; i < MINUTES; i++) {
		struct tm local;
		time_t s = (time_t)(drawn->start + (int64_t)i * 60);
		assert_non_null(localtime_r(&s, &local));
		int64_t now = (int64_t)timegm(&local) / 60;
		shown = now > shown ? now : shown;
		if (i >= 0) {
			int64_t day = shown / 1440;
			int minute = (int)(shown % 1440);
			bool open =
				drawn_opens(drawn, day, minute) || drawn_opens(drawn, day - 1, minute + 1440);
			drawn->open[i + 1] = drawn->open[i] + (open ? 1 : 0);
		}
	}
}

static bool draw(struct drawn *drawn, const char *zone, const char *around)
{
	clocks_of(zone);
	struct moment start = moment_given(around);
	draw_shifts(drawn);
	if (drawn->shifts[0] == '\0') {
		return false;
	}
	struct moment closed = {.s = start.s + INT64_C(86400) * (5 + random_below(20)), .date = true};
	struct moment closed_last = {.s = closed.s + INT64_C(86400) * random_below(5), .date = true};
	snprintf(drawn->closed, sizeof drawn->closed, "%s..%s", moment_text(closed).bytes,
	         moment_text(closed_last).bytes);
	struct tm local;
	time_t s = (time_t)closed.s;
	assert_non_null(localtime_r(&s, &local));
	drawn->closed_first = (int64_t)timegm(&local) / 86400;
	s = (time_t)closed_last.s;
	assert_non_null(localtime_r(&s, &local));
	drawn->closed_last = (int64_t)timegm(&local) / 86400;
	drawn->calendar = calendar_given(drawn->shifts, drawn->closed);
	drawn->start = start.s;
	count_minutes(drawn);
	return drawn->open[MINUTES] > 0;
}

/* Open seconds of the span up to `at` seconds from its start. */
static int64_t opened(const struct drawn *drawn, int64_t at)
{
	int64_t minute = at / 60;
	int64_t part = minute < MINUTES && drawn->open[minute + 1] > drawn->open[minute] ? at % 60 : 0;
	return drawn->open[minute] * 60 + part;
}

/* Of the moments at which so many seconds are open: the first, or the last. */
static int64_t first_opened(const struct drawn *drawn, int64_t seconds)
{
	int64_t minute = 0;
	while (drawn->open[minute + 1] * 60 < seconds) {
		minute++;
	}
	return minute * 60 + seconds - drawn->open[minute] * 60;
}

static int64_t last_opened(const struct drawn *drawn, int64_t seconds)
{
	int64_t minute = MINUTES - 1;
	while (drawn->open[minute] * 60 > seconds) {
		minute--;
	}
	return minute * 60 + seconds - drawn->open[minute] * 60;
}

static void compare_counted(const struct drawn *drawn)
{
	const struct calendar *calendar = &drawn->calendar;
	int64_t a = random_below(MINUTES * 60);
	int64_t b = random_below(MINUTES * 60);
	struct moment from = {.s = drawn->start + (a < b ? a : b)};
	struct moment until = {.s = drawn->start + (a < b ? b : a)};
	int64_t counted = opened(drawn, until.s - drawn->start) - opened(drawn, from.s - drawn->start);
	struct duration open = calendar_between(calendar, from, until);
	assert_int_equal(open.s, counted);
	if (counted == 0) {
		return;
	}
	/* Added, it comes to the first moment by which it has passed; taken off, to the last. */
	struct moment later = calendar_add(calendar, from, open);
	assert_int_equal(later.s - drawn->start,
	                 first_opened(drawn, opened(drawn, from.s - drawn->start) + counted));
	struct moment earlier = calendar_subtract(calendar, until, open);
	assert_int_equal(earlier.s - drawn->start,
	                 last_opened(drawn, opened(drawn, until.s - drawn->start) - counted));
	/* There and back: no open time lies between. */
	assert_int_equal(calendar_between(calendar, from, later).s, open.s);
	struct moment back = calendar_subtract(calendar, later, open);
	assert_int_equal(back.s, calendar_open_from(calendar, from).s);
	assert_int_equal(calendar_between(calendar, from, back).s, 0);
	struct moment opens = calendar_open_from(calendar, from);
	assert_int_equal(opens.s - drawn->start,
	                 last_opened(drawn, opened(drawn, from.s - drawn->start)));
}

static void calendar__drawn_at_random__as_minutes_counted(void **state)
{
	static const char *const places[][2] = {
		{BERLIN, "2026-03-10"},      {BERLIN, "2026-10-05"},      {BERLIN, "2026-12-01"},
		{AT_MIDNIGHT, "2026-02-01"}, {AT_MIDNIGHT, "2026-10-01"}, {HALF_HOUR, "2026-03-20"},
		{HALF_HOUR, "2026-09-20"},   {UTC, "2026-12-10"},
	};
	static struct drawn drawn;
	int compared = 0;
	(void)state;
	for (int round = 0; round < 96; round++) {
		const char *const *place = places[round % (int)COUNT_OF(places)];
		if (!draw(&drawn, place[0], place[1])) {
			continue;
		}
		for (int i = 0; i < 60; i++) {
			compare_counted(&drawn);
			compared++;
		}
	}
	assert_true(compared > 4000);
}

/* ---------------------------------------------------------------- days and weeks */

static void moment_day__around_changes_of_clocks__local_midnights(void **state)
{
	static const char *const rows[][5] = {
		{BERLIN, "2026-12-01T14:30", "2026-12-01T00:00", "2026-12-02T00:00", "2026-11-30T00:00"},
		{BERLIN, "2026-12-01", "2026-12-01T00:00", "2026-12-02T00:00", "2026-11-30T00:00"},
		{BERLIN, "2026-03-29T23:30", "2026-03-29T00:00", "2026-03-30T00:00", "2026-03-23T00:00"},
		{BERLIN, "2026-10-25T00:30", "2026-10-25T00:00", "2026-10-26T00:00", "2026-10-19T00:00"},
		{AT_MIDNIGHT, "2026-10-18T12:00", "2026-10-18T01:00", "2026-10-19T00:00",
	     "2026-10-12T00:00"},
		{AT_MIDNIGHT, "2026-10-17T12:00", "2026-10-17T00:00", "2026-10-18T01:00",
	     "2026-10-12T00:00"},
		{AT_MIDNIGHT, "2026-02-14T23:30-03:00", "2026-02-14T00:00", "2026-02-15T00:00",
	     "2026-02-09T00:00"},
		{UTC, "1969-12-31T23:00", "1969-12-31T00:00", "1970-01-01T00:00", "1969-12-29T00:00"},
	};
	(void)state;
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		clocks_of(rows[i][0]);
		struct moment moment = moment_given(rows[i][1]);
		assert_shown(moment_text(moment_day_start(moment)), rows[i][2]);
		assert_shown(moment_text(moment_day_after(moment)), rows[i][3]);
		assert_shown(moment_text(moment_week_start(moment)), rows[i][4]);
	}
}

/*
 * The first ten are published: Wikipedia, "ISO week date", its examples (from memory), each also
 * asked of Python's datetime.date.isocalendar, as the others were.
 */
static const char *const weeks[][3] = {
	{"2005-01-01", "2004-W53", "2004-12-27"}, {"2005-01-02", "2004-W53", "2004-12-27"},
	{"2005-12-31", "2005-W52", "2005-12-26"}, {"2006-01-01", "2005-W52", "2005-12-26"},
	{"2007-01-01", "2007-W01", "2007-01-01"}, {"2007-12-31", "2008-W01", "2007-12-31"},
	{"2008-12-28", "2008-W52", "2008-12-22"}, {"2008-12-29", "2009-W01", "2008-12-29"},
	{"2010-01-03", "2009-W53", "2009-12-28"}, {"2010-01-04", "2010-W01", "2010-01-04"},
	{"1900-01-01", "1900-W01", "1900-01-01"}, {"1969-12-31", "1970-W01", "1969-12-29"},
	{"2026-12-01", "2026-W49", "2026-11-30"}, {"2027-01-03", "2026-W53", "2026-12-28"},
	{"2000-02-29", "2000-W09", "2000-02-28"}, {"9999-12-31", "9999-W52", "9999-12-27"},
};

static void week__published_and_pythons__that_week(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(weeks); i++) {
		struct moment moment;
		clocks_of(i % 2 == 0 ? BERLIN : UTC);
		assert_shown(week_text(moment_given(weeks[i][0])), weeks[i][1]);
		assert_int_equal(week_parse(weeks[i][0], &moment, NULL), OUTCOME_DONE);
		assert_int_equal(moment.s, moment_given(weeks[i][2]).s);
		assert_int_equal(week_parse(weeks[i][1], &moment, NULL), OUTCOME_DONE);
		assert_int_equal(moment.s, moment_given(weeks[i][2]).s);
		assert_false(moment.date);
	}
}

/* Every day of four centuries, after which all weeks come again, by the rule itself. */
static void week_text__every_day_of_400_years__by_its_thursday(void **state)
{
	(void)state;
	clocks_of(UTC);
	for (int64_t day = -25567; day < -25567 + 146097; day++) {
		struct tm thursday;
		int64_t since_monday = ((day + 3) % 7 + 7) % 7;
		time_t s = (time_t)((day - since_monday + 3) * 86400);
		char expected[32];
		assert_non_null(gmtime_r(&s, &thursday));
		assert_int_equal(thursday.tm_wday, 4);
		/* The how-manieth Thursday of its year it is. */
		snprintf(expected, sizeof expected, "%04d-W%02d", thursday.tm_year + 1900,
		         (thursday.tm_yday + 7) / 7);
		assert_shown(week_text((struct moment){.s = day * 86400 + 43200}), expected);
	}
}

static void week_parse__in_other_spellings__the_same(void **state)
{
	struct moment moment;
	(void)state;
	clocks_of(BERLIN);
	assert_int_equal(week_parse(" 2026-w49 ", &moment, NULL), OUTCOME_DONE);
	assert_shown(moment_text(moment), "2026-11-30T00:00");
	assert_int_equal(week_parse("2026-12-06T23:59", &moment, NULL), OUTCOME_DONE);
	assert_shown(moment_text(moment), "2026-11-30T00:00");
}

#define WEEK_HINT "Type a week such as 2026-W49, or a day in it such as 2026-12-01."

static void week_parse__what_is_none__refused(void **state)
{
	static const struct refusal rows[] = {
		{"", "week is blank", WEEK_HINT},
		{"2026-W54", "week is on no calendar: 2026-W54", "Type a week from 2026-W01 to 2026-W53."},
		{"2027-W53", "week is on no calendar: 2027-W53", "Type a week from 2027-W01 to 2027-W52."},
		{"2027-W00", "week is on no calendar: 2027-W00", "Type a week from 2027-W01 to 2027-W52."},
		{"1899-W10", "week is out of range: 1899-W10", "Type a year from 1900 to 9999."},
		{"2026-W49-2", "week is none that is known: 2026-W49-2", WEEK_HINT},
		{"W49", "week is none that is known: W49", WEEK_HINT},
		{"next", "week is none that is known: next", WEEK_HINT},
		{"2026-02-30", "week is on no calendar: 2026-02-30",
	     "Type a day from 2026-02-01 to 2026-02-28."},
		{"49", "week is no date or moment: 49",
	     "Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."},
	};
	struct fault fault;
	struct moment moment;
	(void)state;
	clocks_of(BERLIN);
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		fault_clear(&fault);
		assert_refused(week_parse(rows[i].typed, &moment, &fault), &rows[i], &fault);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(calendar_between__worked_by_hand__those_hours),
		cmocka_unit_test(calendar_add__worked_by_hand__that_moment),
		cmocka_unit_test(calendar_subtract__worked_by_hand__that_moment),
		cmocka_unit_test(calendar_open_from__worked_by_hand__that_moment),
		cmocka_unit_test(calendar__past_the_last_year__ends_there),
		cmocka_unit_test(calendar_shifts_parse__always__limits_nothing),
		cmocka_unit_test(calendar_shifts_parse__other_spellings__the_same_week),
		cmocka_unit_test(calendar__contradictory__refused_and_left_alone),
		cmocka_unit_test(calendar_closed_parse__spans_that_touch__are_one),
		cmocka_unit_test(calendar_closed_parse__too_many_spans__refused),
		cmocka_unit_test(calendar__drawn_at_random__as_minutes_counted),
		cmocka_unit_test(moment_day__around_changes_of_clocks__local_midnights),
		cmocka_unit_test(week__published_and_pythons__that_week),
		cmocka_unit_test(week_text__every_day_of_400_years__by_its_thursday),
		cmocka_unit_test(week_parse__in_other_spellings__the_same),
		cmocka_unit_test(week_parse__what_is_none__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
