#include "expected.h"

/*
 * Rules of clocks as POSIX writes them, so that no zone files are needed. Central Europe goes
 * forward on 2026-03-29 at 02:00 and back on 2026-10-25 at 03:00; the second changes at midnight;
 * the third changes half an hour; the last three never change.
 */
#define EUROPE "CET-1CEST,M3.5.0,M10.5.0/3"
#define AT_MIDNIGHT "<-03>3<-02>,M10.3.0/0,M2.3.0/0"
#define HALF_HOUR "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0"
#define UTC "UTC0"
#define NEPAL "<+0545>-5:45"
#define KIRITIMATI "<+14>-14"

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

static const struct {
	const char *zone;
	const char *typed;
	const char *utc;
	const char *shown;
} rows[] = {
	{UTC, "2026-12-01T14:30", "2026-12-01T14:30:00Z", "2026-12-01T14:30"},
	{UTC, "2026-12-01T14:30:15", "2026-12-01T14:30:15Z", "2026-12-01T14:30:15"},
	{UTC, "2026-12-01T14:30:00", "2026-12-01T14:30:00Z", "2026-12-01T14:30"},
	{UTC, " 2026-12-01 14:30 ", "2026-12-01T14:30:00Z", "2026-12-01T14:30"},
	{UTC, "2026-12-01t14:30z", "2026-12-01T14:30:00Z", "2026-12-01T14:30"},
	{UTC, "1970-01-01T00:00Z", "1970-01-01T00:00:00Z", "1970-01-01T00:00"},
	{UTC, "1900-01-01T00:00Z", "1900-01-01T00:00:00Z", "1900-01-01T00:00"},
	{UTC, "9999-12-31T23:59:59Z", "9999-12-31T23:59:59Z", "9999-12-31T23:59:59"},
	{UTC, "2000-02-29T00:00", "2000-02-29T00:00:00Z", "2000-02-29T00:00"},
	{EUROPE, "2026-12-01T14:30", "2026-12-01T13:30:00Z", "2026-12-01T14:30"},
	{EUROPE, "2026-07-01T14:30", "2026-07-01T12:30:00Z", "2026-07-01T14:30"},
	{EUROPE, "2026-12-01T14:30Z", "2026-12-01T14:30:00Z", "2026-12-01T15:30"},
	{EUROPE, "2026-12-01T14:30+01:00", "2026-12-01T13:30:00Z", "2026-12-01T14:30"},
	{EUROPE, "2026-12-01T14:30:15-0530", "2026-12-01T20:00:15Z", "2026-12-01T21:00:15"},
	{EUROPE, "2026-03-29T01:59:59", "2026-03-29T00:59:59Z", "2026-03-29T01:59:59"},
	{EUROPE, "2026-03-29T03:00", "2026-03-29T01:00:00Z", "2026-03-29T03:00"},
	/* Shown twice: the first is meant, and the second has its offset. */
	{EUROPE, "2026-10-25T01:59", "2026-10-24T23:59:00Z", "2026-10-25T01:59"},
	{EUROPE, "2026-10-25T02:30", "2026-10-25T00:30:00Z", "2026-10-25T02:30"},
	{EUROPE, "2026-10-25T02:30+02:00", "2026-10-25T00:30:00Z", "2026-10-25T02:30"},
	{EUROPE, "2026-10-25T02:30+01:00", "2026-10-25T01:30:00Z", "2026-10-25T02:30+01:00"},
	{EUROPE, "2026-10-25T01:30:07Z", "2026-10-25T01:30:07Z", "2026-10-25T02:30:07+01:00"},
	{EUROPE, "2026-10-25T03:00", "2026-10-25T02:00:00Z", "2026-10-25T03:00"},
	{AT_MIDNIGHT, "2026-02-14T23:30", "2026-02-15T01:30:00Z", "2026-02-14T23:30"},
	{AT_MIDNIGHT, "2026-02-15T02:30Z", "2026-02-15T02:30:00Z", "2026-02-14T23:30-03:00"},
	{HALF_HOUR, "2026-04-05T01:40", "2026-04-04T14:40:00Z", "2026-04-05T01:40"},
	{HALF_HOUR, "2026-04-04T15:10Z", "2026-04-04T15:10:00Z", "2026-04-05T01:40+10:30"},
	{NEPAL, "2026-12-01T14:30", "2026-12-01T08:45:00Z", "2026-12-01T14:30"},
	{KIRITIMATI, "2026-12-01T00:00", "2026-11-30T10:00:00Z", "2026-12-01T00:00"},
};

static void moment_parse__as_typed__that_moment_and_shown(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		clocks_of(rows[i].zone);
		struct moment moment = moment_given(rows[i].typed);
		assert_false(moment.date);
		assert_shown(moment_text_utc(moment), rows[i].utc);
		assert_shown(moment_text(moment), rows[i].shown);
		assert_int_equal(moment_given(rows[i].shown).s, moment.s);
		assert_int_equal(moment_given(rows[i].utc).s, moment.s);
	}
}

static void moment_parse__bare_date__where_the_day_begins_and_ends(void **state)
{
	(void)state;
	static const struct {
		const char *zone;
		const char *typed;
		const char *begins;
		const char *ends;
	} days[] = {
		{UTC, "2026-12-01", "2026-12-01T00:00:00Z", "2026-12-02T00:00:00Z"},
		{UTC, "2026-12-31", "2026-12-31T00:00:00Z", "2027-01-01T00:00:00Z"},
		{UTC, "2028-02-28", "2028-02-28T00:00:00Z", "2028-02-29T00:00:00Z"},
		{UTC, "2027-02-28", "2027-02-28T00:00:00Z", "2027-03-01T00:00:00Z"},
		{EUROPE, "2026-12-01", "2026-11-30T23:00:00Z", "2026-12-01T23:00:00Z"},
		/* A day of 23 hours, and one of 25. */
		{EUROPE, "2026-03-29", "2026-03-28T23:00:00Z", "2026-03-29T22:00:00Z"},
		{EUROPE, "2026-10-25", "2026-10-24T22:00:00Z", "2026-10-25T23:00:00Z"},
		/*
	     * Midnight is skipped: the day begins at 01:00. The evening before the other change is
	     * shown twice.
	     */
		{AT_MIDNIGHT, "2026-10-18", "2026-10-18T03:00:00Z", "2026-10-19T02:00:00Z"},
		{AT_MIDNIGHT, "2026-10-17", "2026-10-17T03:00:00Z", "2026-10-18T03:00:00Z"},
		{AT_MIDNIGHT, "2026-02-14", "2026-02-14T02:00:00Z", "2026-02-15T03:00:00Z"},
		{KIRITIMATI, "1900-01-01", "1899-12-31T10:00:00Z", "1900-01-01T10:00:00Z"},
	};
	for (size_t i = 0; i < COUNT_OF(days); i++) {
		clocks_of(days[i].zone);
		struct moment day = moment_given(days[i].typed);
		struct moment end = moment_of_day_end(day);
		assert_true(day.date);
		assert_false(end.date);
		assert_shown(moment_text(day), days[i].typed);
		assert_shown(moment_text_utc(day), days[i].begins);
		assert_shown(moment_text_utc(end), days[i].ends);
	}
}

static void moment_of_day_end__time_given__the_moment_itself(void **state)
{
	(void)state;
	clocks_of(EUROPE);
	struct moment moment = moment_given("2026-12-01T14:30");
	assert_int_equal(moment_of_day_end(moment).s, moment.s);
}

#define LIKE "Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."
#define YEARS "Type a year from 1900 to 9999."
#define OFFSET "Type a time before or after the change, or add an offset such as +01:00."

static const struct {
	const char *zone;
	struct refusal refusal;
} refusals[] = {
	{UTC, {"", "moment is blank", LIKE}},
	{UTC, {"tomorrow", "moment is no date or moment: tomorrow", LIKE}},
	{UTC, {"12/1/2026", "moment is no date or moment: 12/1/2026", LIKE}},
	{UTC, {"01.12.2026", "moment is no date or moment: 01.12.2026", "Type 2026-12-01."}},
	{UTC,
     {"30.11.2026 14:00", "moment is no date or moment: 30.11.2026 14:00",
      "Type 2026-11-30T14:00."}},
	{UTC,
     {"1.2.2026, 09:05:07", "moment is no date or moment: 1.2.2026, 09:05:07",
      "Type 2026-02-01T09:05:07."}},
	{UTC, {"30.2.2026", "moment is no date or moment: 30.2.2026", LIKE}},
	{UTC, {"12.31.2026", "moment is no date or moment: 12.31.2026", LIKE}},
	{UTC, {"1.2.26", "moment is no date or moment: 1.2.26", LIKE}},
	{UTC, {"1.2.2026 25:00", "moment is no date or moment: 1.2.2026 25:00", LIKE}},
	{UTC, {"1.2.2026 9:00", "moment is no date or moment: 1.2.2026 9:00", LIKE}},
	{UTC, {"1.2.2026 09:00 Uhr", "moment is no date or moment: 1.2.2026 09:00 Uhr", LIKE}},
	{UTC, {"20261201", "moment is no date or moment: 20261201", LIKE}},
	{UTC, {"2026-12-1", "moment is no date or moment: 2026-12-1", LIKE}},
	{UTC, {"2026-12-011", "moment is no date or moment: 2026-12-011", LIKE}},
	{UTC, {"12026-12-01", "moment is no date or moment: 12026-12-01", LIKE}},
	{UTC, {"2026-12-01T", "moment is no date or moment: 2026-12-01T", LIKE}},
	{UTC, {"2026-12-01T14", "moment is no date or moment: 2026-12-01T14", LIKE}},
	{UTC, {"2026-12-01T14:3", "moment is no date or moment: 2026-12-01T14:3", LIKE}},
	{UTC, {"2026-12-01T14:30:15.5", "moment is no date or moment: 2026-12-01T14:30:15.5", LIKE}},
	{UTC, {"2026-12-01T14:30+1", "moment is no date or moment: 2026-12-01T14:30+1", LIKE}},
	{UTC, {"2026-12-01T14:30+01", "moment is no date or moment: 2026-12-01T14:30+01", LIKE}},
	{UTC, {"2026-12-01T14:30+01:60", "moment is no date or moment: 2026-12-01T14:30+01:60", LIKE}},
	{UTC, {"2026-12-01T14:30+17:00", "moment is no date or moment: 2026-12-01T14:30+17:00", LIKE}},
	{UTC, {"2026-12-01T14:30Zulu", "moment is no date or moment: 2026-12-01T14:30Zulu", LIKE}},
	{UTC, {"2026-12-01Z", "moment is no date or moment: 2026-12-01Z", LIKE}},
	{UTC, {"2026-12-01T14:30 PM", "moment is no date or moment: 2026-12-01T14:30 PM", LIKE}},
	{UTC,
     {"2026-02-30", "moment is on no calendar: 2026-02-30",
      "Type a day from 2026-02-01 to 2026-02-28."}},
	{UTC,
     {"2026-02-29", "moment is on no calendar: 2026-02-29",
      "Type a day from 2026-02-01 to 2026-02-28."}},
	{UTC,
     {"2028-02-30", "moment is on no calendar: 2028-02-30",
      "Type a day from 2028-02-01 to 2028-02-29."}},
	{UTC,
     {"2100-02-29", "moment is on no calendar: 2100-02-29",
      "Type a day from 2100-02-01 to 2100-02-28."}},
	{UTC,
     {"2026-04-31T10:00", "moment is on no calendar: 2026-04-31T10:00",
      "Type a day from 2026-04-01 to 2026-04-30."}},
	{UTC,
     {"2026-12-00", "moment is on no calendar: 2026-12-00",
      "Type a day from 2026-12-01 to 2026-12-31."}},
	{UTC,
     {"2026-13-01", "moment is on no calendar: 2026-13-01",
      "Type the month behind the year, 01 to 12."}},
	{UTC,
     {"2026-00-01", "moment is on no calendar: 2026-00-01",
      "Type the month behind the year, 01 to 12."}},
	{UTC,
     {"2026-12-01T24:00", "moment is on no clock: 2026-12-01T24:00",
      "Type a time of day from 00:00 to 23:59."}},
	{UTC,
     {"2026-12-01T14:60", "moment is on no clock: 2026-12-01T14:60",
      "Type a time of day from 00:00 to 23:59."}},
	{UTC,
     {"2026-12-01T14:30:60", "moment is on no clock: 2026-12-01T14:30:60",
      "Type a time of day from 00:00 to 23:59."}},
	{UTC, {"1899-12-31", "moment is out of range: 1899-12-31", YEARS}},
	{UTC, {"1900-01-01T00:00+00:01", "moment is out of range: 1900-01-01T00:00+00:01", YEARS}},
	{UTC, {"9999-12-31T23:59-00:01", "moment is out of range: 9999-12-31T23:59-00:01", YEARS}},
	{KIRITIMATI, {"1900-01-01T00:00", "moment is out of range: 1900-01-01T00:00", YEARS}},
	{KIRITIMATI, {"9999-12-31T12:00Z", "moment is out of range: 9999-12-31T12:00Z", YEARS}},
	{EUROPE,
     {"2026-03-29T02:00", "moment is skipped by the change of clocks: 2026-03-29T02:00", OFFSET}},
	{EUROPE,
     {"2026-03-29T02:59:59", "moment is skipped by the change of clocks: 2026-03-29T02:59:59",
      OFFSET}},
	{AT_MIDNIGHT,
     {"2026-10-18T00:00", "moment is skipped by the change of clocks: 2026-10-18T00:00", OFFSET}},
};

static void moment_parse__no_moment__refused_in_words(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(refusals); i++) {
		struct fault fault;
		struct moment moment;
		clocks_of(refusals[i].zone);
		fault_clear(&fault);
		assert_refused(moment_parse(refusals[i].refusal.typed, &moment, &fault),
		               &refusals[i].refusal, &fault);
	}
}

/* Samoa went over the date line and had no 2011-12-30; needs the zone files of the system. */
static void moment_parse__day_skipped_whole__refused(void **state)
{
	(void)state;
	static const struct refusal row = {"2011-12-30",
	                                   "moment is skipped by the change of clocks: 2011-12-30",
	                                   "Type the day before or after it."};
	struct fault fault;
	struct moment moment;
	struct tm local;
	time_t known = 1325239200; /* 2011-12-30T10:00:00Z */
	clocks_of("Pacific/Apia");
	if (localtime_r(&known, &local) == NULL || local.tm_mday != 31) {
		skip();
	}
	fault_clear(&fault);
	assert_refused(moment_parse(row.typed, &moment, &fault), &row, &fault);
	struct moment end = moment_of_day_end(moment_given("2011-12-29"));
	assert_shown(moment_text(end), "2011-12-31T00:00");
}

static void moment_text__every_quarter_of_an_hour__re_enters(void **state)
{
	(void)state;
	static const char *const zones[] = {UTC, EUROPE, AT_MIDNIGHT, HALF_HOUR, NEPAL, KIRITIMATI};
	for (size_t i = 0; i < COUNT_OF(zones); i++) {
		clocks_of(zones[i]);
		for (int64_t s = 1767225600; s < 1767225600 + 366 * 86400LL; s += 900) { /* 2026 */
			struct moment moment = {.s = s};
			assert_int_equal(moment_given(moment_text(moment).bytes).s, s);
		}
	}
}

static void moment_text__beyond_the_calendar__harmless(void **state)
{
	(void)state;
	clocks_of(UTC);
	struct moment moment = {.s = INT64_MAX};
	assert_shown(moment_text(moment), "beyond the calendar");
	assert_shown(moment_text_utc(moment), "beyond the calendar");
	moment.date = true;
	assert_int_equal(moment_of_day_end(moment).s, INT64_MAX);
}

static void moment_compare__by_time__orders(void **state)
{
	(void)state;
	struct moment a = {.s = 1};
	struct moment b = {.s = 2};
	assert_int_equal(moment_compare(a, b), -1);
	assert_int_equal(moment_compare(b, a), 1);
	assert_int_equal(moment_compare(a, a), 0);
}

static void moment_minute__seconds_over__up_and_down(void **state)
{
	(void)state;
	static const int64_t cases[][3] = {{0, 0, 0},    {1, 60, 0},      {59, 60, 0},     {60, 60, 60},
	                                   {-1, 0, -60}, {-60, -60, -60}, {-61, -60, -120}};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		struct moment moment = {.s = cases[i][0]};
		assert_int_equal(moment_minute_up(moment).s, cases[i][1]);
		assert_int_equal(moment_minute_down(moment).s, cases[i][2]);
		assert_int_equal(moment_minute_past(moment).s, cases[i][2] + 60);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(moment_parse__as_typed__that_moment_and_shown),
		cmocka_unit_test(moment_parse__bare_date__where_the_day_begins_and_ends),
		cmocka_unit_test(moment_of_day_end__time_given__the_moment_itself),
		cmocka_unit_test(moment_parse__no_moment__refused_in_words),
		cmocka_unit_test(moment_parse__day_skipped_whole__refused),
		cmocka_unit_test(moment_text__every_quarter_of_an_hour__re_enters),
		cmocka_unit_test(moment_text__beyond_the_calendar__harmless),
		cmocka_unit_test(moment_compare__by_time__orders),
		cmocka_unit_test(moment_minute__seconds_over__up_and_down),
	};
	return cmocka_run_group_tests_name("quantity/moment", tests, NULL, NULL);
}
