/* Local days and weeks. */
#include "calendars.h"

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
		cmocka_unit_test(moment_day__around_changes_of_clocks__local_midnights),
		cmocka_unit_test(week__published_and_pythons__that_week),
		cmocka_unit_test(week_text__every_day_of_400_years__by_its_thursday),
		cmocka_unit_test(week_parse__in_other_spellings__the_same),
		cmocka_unit_test(week_parse__what_is_none__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
