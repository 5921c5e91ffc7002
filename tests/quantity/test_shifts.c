/* Shifts and closed days, as they are typed. */
#include "calendars.h"

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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(calendar_shifts_parse__always__limits_nothing),
		cmocka_unit_test(calendar_shifts_parse__other_spellings__the_same_week),
		cmocka_unit_test(calendar__contradictory__refused_and_left_alone),
		cmocka_unit_test(calendar_closed_parse__spans_that_touch__are_one),
		cmocka_unit_test(calendar_closed_parse__too_many_spans__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
