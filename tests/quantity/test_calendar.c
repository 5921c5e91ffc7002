/* Open hours, counted, added and taken off. */
#include "calendars.h"

#define HOURS(hours) ((hours)*INT64_C(3600))

/* ---------------------------------------------------------------- worked by hand */

#define NIGHTS "sun-thu 22:00-06:00"
#define ROUND_THE_CLOCK "mon-fri 06:00-14:00, mon-fri 14:00-22:00, mon-fri 22:00-06:00"

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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(calendar_between__worked_by_hand__those_hours),
		cmocka_unit_test(calendar_add__worked_by_hand__that_moment),
		cmocka_unit_test(calendar_subtract__worked_by_hand__that_moment),
		cmocka_unit_test(calendar_open_from__worked_by_hand__that_moment),
		cmocka_unit_test(calendar__past_the_last_year__ends_there),
		cmocka_unit_test(calendar__drawn_at_random__as_minutes_counted),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
