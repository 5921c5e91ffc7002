/*
 * Is a tool there? The job asked is J-1 on press 1, from 8:00 until 10:00 on the first of December,
 * asked on that morning at 6:00. The turnaround of an hour is common practice, no source.
 */
#include "builders.h"

#define MORNING "2026-12-01T06:00Z"
#define FROM "2026-12-01T08:00Z"
#define UNTIL "2026-12-01T10:00Z"

static struct span span_of(const char *from, const char *until)
{
	return (struct span){
		.from = moment_known(from).value,
		.until = moment_known(until).value,
		.now = moment_known(MORNING).value,
	};
}

static struct judged judge_in(struct tool tool, struct span span)
{
	struct limits limits = limits_by_default();
	struct judged judged;
	JUDGE(judged, tool_there, &tool, "J-1", 1, span, &limits, true);
	return judged;
}

static struct judged judge(struct tool tool)
{
	return judge_in(tool, span_of(FROM, UNTIL));
}

static struct tool cylinder_tool(void)
{
	return tool_on_shelf(TAG_PLATE_CYLINDER);
}

/* ---- condition */

static void condition__hold__not_there_with_date_and_reason(void **state)
{
	(void)state;
	struct tool tool = cylinder_tool();
	tool.condition = CONDITION_HOLD;
	tool.condition_text = "scored band";
	tool.condition_since = moment_known("2026-11-20");
	struct judged judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on hold since 2026-11-20: scored band");
	tool.condition_since.known = false;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on hold: scored band");
	tool.condition_text = NULL;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on hold");
}

static void condition__scrapped__not_there(void **state)
{
	(void)state;
	struct tool tool = cylinder_tool();
	tool.condition = CONDITION_SCRAPPED;
	tool.condition_text = "bent";
	tool.condition_since = moment_known("2026-11-20");
	struct judged judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "scrapped since 2026-11-20: bent");
}

static void condition__reason_over_lines_and_too_long__one_line_cut_between_characters(void **state)
{
	(void)state;
	/* 168 bytes with the NUL; a character of two bytes lies where the text is cut */
	static const char *const two_bytes = "\xc3\xa9";
	char reason[400] = "a\nb\t";
	while (strlen(reason) + 2 < sizeof reason)
		strcat(reason, two_bytes);
	struct tool tool = cylinder_tool();
	tool.condition = CONDITION_HOLD;
	for (const char *start = reason; start < reason + 2; start++) {
		tool.condition_text = start;
		struct judged judged = judge(tool);
		const char *text = judged.remarks.items[0].text;
		assert_null(strpbrk(text, "\n\t"));
		assert_true(strlen(text) <= 167 && strlen(text) >= 165);
		const char *dots = strstr(text, "...");
		assert_non_null(dots);
		assert_memory_equal(dots - 2, two_bytes, 2);
	}
}

static void condition__reason_that_just_fits__is_whole(void **state)
{
	(void)state;
	/* "on hold: " takes 9 of the 167 bytes */
	char reason[160];
	memset(reason, 'x', sizeof reason);
	struct tool tool = cylinder_tool();
	tool.condition = CONDITION_HOLD;
	tool.condition_text = reason;
	reason[158] = '\0';
	struct judged judged = judge(tool);
	assert_int_equal(strlen(judged.remarks.items[0].text), 167);
	assert_null(strstr(judged.remarks.items[0].text, "..."));
	reason[158] = 'x';
	reason[159] = '\0';
	judged = judge(tool);
	assert_int_equal(strlen(judged.remarks.items[0].text), 167);
	assert_non_null(strstr(judged.remarks.items[0].text, "..."));
}

/* ---- place */

static void place__store_cart_and_wash__there(void **state)
{
	(void)state;
	static const enum place_sort sorts[] = {SORT_STORE, SORT_CART, SORT_WASH};
	for (size_t i = 0; i < COUNT_OF(sorts); i++) {
		struct tool tool = cylinder_tool();
		tool.sort = sorts[i];
		struct judged judged = judge(tool);
		assert_suits(&judged);
	}
}

static void place__lost_or_not_known__not_there(void **state)
{
	(void)state;
	struct tool tool = cylinder_tool();
	tool.sort = SORT_LOST;
	struct judged judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "lost");
	tool.place_known = false;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "place not known");
}

/* On station 2 of press 2, where job J-2 runs from..until. */
static struct tool tool_on_press_2(const struct promise *promise)
{
	struct tool tool = cylinder_tool();
	tool.place = "P2-2";
	tool.sort = SORT_PRESS;
	tool.press = 2;
	tool.press_code = "P2";
	tool.press_promises = promise;
	tool.press_promise_count = promise ? 1 : 0;
	return tool;
}

static void press__the_one_asked__there_whatever_runs(void **state)
{
	(void)state;
	struct promise runs = {.job = "J-2"};
	struct tool tool = tool_on_press_2(&runs);
	tool.press = 1;
	struct judged judged = judge(tool);
	assert_suits(&judged);
}

static void press__another_without_a_job__there(void **state)
{
	(void)state;
	struct judged judged = judge(tool_on_press_2(NULL));
	assert_suits(&judged);
}

static void press__another_with_a_job__only_where_it_overlaps(void **state)
{
	(void)state;
	/* no turnaround here: that is between two jobs on one tool */
	static const struct {
		const char *from, *until;
		bool there;
	} rows[] = {
		{"2026-12-01T06:00Z", "2026-12-01T08:00Z", true},     /* ends as ours begins */
		{"2026-12-01T06:00Z", "2026-12-01T08:00:01Z", false}, /* a second later */
		{"2026-12-01T10:00Z", "2026-12-01T12:00Z", true},     /* begins as ours ends */
		{"2026-12-01T09:59:59Z", "2026-12-01T12:00Z", false}, /* a second earlier */
		{"2026-12-01T08:00Z", "2026-12-01T08:00Z", false},    /* of no length, at the start */
		{"2026-12-01T09:00Z", "2026-12-01T09:00Z", false},    /* of no length, within */
		{"2026-12-01T10:00Z", "2026-12-01T10:00Z", true},     /* of no length, at the end */
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct promise runs = {.job = "J-2",
		                       .from = moment_known(rows[i].from),
		                       .until = moment_known(rows[i].until)};
		struct judged judged = judge(tool_on_press_2(&runs));
		assert_int_equal(judged.level, rows[i].there ? SUITS_YES : SUITS_NOT);
	}
}

static void press__another_with_a_job__named_with_its_end(void **state)
{
	(void)state;
	struct promise runs[] = {
		{.job = "J-2", .until = moment_known("2026-12-01T09:00Z")},
		{.job = "J-3", .until = moment_known("2026-12-01T11:00Z")},
	};
	struct tool tool = tool_on_press_2(runs);
	struct judged judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on press P2, where job J-2 runs until 2026-12-01T09:00");
	assert_true(judged.remarks.items[0].until.known);
	assert_int_equal(moment_compare(judged.remarks.items[0].until.value, runs[0].until.value), 0);
	tool.press_promise_count = 2;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on press P2, where job J-3 runs until 2026-12-01T11:00");
	runs[0].until.known = false;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on press P2, where job J-2 runs, end not known");
}

static struct tool tool_at_supplier(const char *back)
{
	struct tool tool = cylinder_tool();
	tool.place = "GRINDER";
	tool.sort = SORT_SUPPLIER;
	if (back)
		tool.back = moment_known(back);
	return tool;
}

static void supplier__back_at_a_moment__there_from_then_on(void **state)
{
	(void)state;
	struct judged judged = judge(tool_at_supplier("2026-12-01T08:00Z"));
	assert_suits(&judged);
	judged = judge(tool_at_supplier("2026-12-01T08:00:01Z"));
	assert_only(&judged, SUITS_NOT, "at supplier GRINDER, back 2026-12-01T08:00:01");
	assert_true(judged.remarks.items[0].until.known);
}

static void supplier__back_on_a_day__there_from_its_end_on(void **state)
{
	(void)state;
	struct tool tool = tool_at_supplier("2026-12-01");
	struct judged judged = judge_in(tool, span_of("2026-12-01T23:59:59Z", "2026-12-02T02:00Z"));
	assert_only(&judged, SUITS_NOT, "at supplier GRINDER, back 2026-12-01");
	judged = judge_in(tool, span_of("2026-12-02T00:00Z", "2026-12-02T02:00Z"));
	assert_suits(&judged);
}

static void supplier__no_date_back__not_there(void **state)
{
	(void)state;
	struct judged judged = judge(tool_at_supplier(NULL));
	assert_only(&judged, SUITS_NOT, "at supplier GRINDER, no date back");
	assert_false(judged.remarks.items[0].until.known);
}

static void supplier__overdue__there_at_caution(void **state)
{
	(void)state;
	/* at the very moment it is due it is not overdue yet */
	struct judged judged = judge(tool_at_supplier(MORNING));
	assert_suits(&judged);
	judged = judge(tool_at_supplier("2026-12-01T05:59:59Z"));
	assert_only(&judged, SUITS_DOUBTFUL, "at supplier GRINDER, overdue since 2026-12-01T05:59:59");
	judged = judge(tool_at_supplier("2026-11-30"));
	assert_only(&judged, SUITS_DOUBTFUL, "at supplier GRINDER, overdue since 2026-11-30");
}

/* ---- promises */

static struct tool tool_promised(const struct promise *promises, size_t count)
{
	struct tool tool = cylinder_tool();
	tool.promises = promises;
	tool.promise_count = count;
	return tool;
}

static void promises__a_turnaround_before_and_after__exactly_that_much_is_free(void **state)
{
	(void)state;
	static const struct {
		const char *from, *until;
		bool there;
	} rows[] = {
		{"2026-12-01T05:00Z", "2026-12-01T07:00Z", true},
		{"2026-12-01T05:00Z", "2026-12-01T07:00:01Z", false},
		{"2026-12-01T11:00Z", "2026-12-01T13:00Z", true},
		{"2026-12-01T10:59:59Z", "2026-12-01T13:00Z", false},
		{"2026-12-01T08:30Z", "2026-12-01T09:00Z", false},
		{"2026-12-01T07:00Z", "2026-12-01T12:00Z", false},
		{"2026-12-01T11:00Z", NULL, true},
		{"2026-12-01T10:59:59Z", NULL, false},
		{NULL, "2026-12-01T07:00Z", true},
		{NULL, "2026-12-01T07:00:01Z", false},
		{NULL, NULL, false},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct promise promise = {.job = "J-2"};
		if (rows[i].from)
			promise.from = moment_known(rows[i].from);
		if (rows[i].until)
			promise.until = moment_known(rows[i].until);
		struct judged judged = judge(tool_promised(&promise, 1));
		assert_int_equal(judged.level, rows[i].there ? SUITS_YES : SUITS_NOT);
	}
}

static void promises__no_turnaround__spans_may_touch(void **state)
{
	(void)state;
	struct limits limits = limits_by_default();
	limits.turnaround = duration_given("0s");
	struct promise promise = {.job = "J-2",
	                          .from = moment_known("2026-12-01T06:00Z"),
	                          .until = moment_known("2026-12-01T08:00Z")};
	struct tool tool = tool_promised(&promise, 1);
	struct judged judged;
	JUDGE(judged, tool_there, &tool, "J-1", 1, span_of(FROM, UNTIL), &limits, true);
	assert_suits(&judged);
	promise.until = moment_known("2026-12-01T08:00:01Z");
	JUDGE(judged, tool_there, &tool, "J-1", 1, span_of(FROM, UNTIL), &limits, true);
	assert_int_equal(judged.level, SUITS_NOT);
}

/* 2026-12-01 is a Tuesday: the hour of turnaround is an open one, before and behind. */
static void promises__open_hours__the_turnaround_counts_in_them(void **state)
{
	(void)state;
	static const struct {
		const char *shifts, *from, *until;
		bool there;
	} rows[] = {
		{"tue 07:30-17:00", "2026-11-30T05:00Z", "2026-11-30T20:00Z", false},
		{"tue 07:30-17:00, mon 06:00-19:30", "2026-11-30T05:00Z", "2026-11-30T19:00Z", true},
		{"tue 07:30-17:00, mon 06:00-19:30", "2026-11-30T05:00Z", "2026-11-30T19:00:01Z", false},
		{"tue 07:00-17:00", "2026-11-30T05:00Z", "2026-12-01T07:00Z", true},
		{"tue 07:00-17:00", "2026-11-30T05:00Z", "2026-12-01T07:00:01Z", false},
		{"tue 07:00-10:30, wed 06:00-14:00", "2026-12-02T06:30Z", "2026-12-02T08:00Z", true},
		{"tue 07:00-10:30, wed 06:00-14:00", "2026-12-02T06:29:59Z", "2026-12-02T08:00Z", false},
		{"tue 07:00-09:00", "2026-12-01T09:30Z", "2026-12-01T12:00Z", false},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct limits limits = limits_by_default();
		struct promise promise = {.job = "J-2",
		                          .from = moment_known(rows[i].from),
		                          .until = moment_known(rows[i].until)};
		struct tool tool = tool_promised(&promise, 1);
		struct judged judged;
		assert_int_equal(calendar_shifts_parse(rows[i].shifts, &limits.calendar, NULL),
		                 OUTCOME_DONE);
		JUDGE(judged, tool_there, &tool, "J-1", 1, span_of(FROM, UNTIL), &limits, true);
		assert_int_equal(judged.level, rows[i].there ? SUITS_YES : SUITS_NOT);
	}
}

static void promises__open_hours__free_when_they_have_passed(void **state)
{
	(void)state;
	struct limits limits = limits_by_default();
	struct promise promise = {.job = "J-2",
	                          .from = moment_known("2026-12-01T07:00Z"),
	                          .until = moment_known("2026-12-01T16:30Z")};
	struct tool tool = tool_promised(&promise, 1);
	struct judged judged;
	assert_int_equal(calendar_shifts_parse("tue-wed 07:00-17:00", &limits.calendar, NULL),
	                 OUTCOME_DONE);
	JUDGE(judged, tool_there, &tool, "J-1", 1, span_of(FROM, UNTIL), &limits, true);
	assert_only(&judged, SUITS_NOT, "taken for job J-2 until 2026-12-01T16:30");
	assert_int_equal(moment_compare(judged.remarks.items[0].until.value,
	                                moment_known("2026-12-02T07:30Z").value),
	                 0);
}

static void promises__asked_for_a_moment__not_there_within_nor_at_the_start(void **state)
{
	(void)state;
	struct limits limits = limits_by_default();
	limits.turnaround = duration_given("0s");
	static const struct {
		const char *moment;
		bool there;
	} rows[] = {
		{"2026-12-01T07:59:59Z", true},
		{"2026-12-01T08:00Z", false},
		{"2026-12-01T09:59:59Z", false},
		{"2026-12-01T10:00Z", true},
	};
	struct promise promise = {.job = "J-2",
	                          .from = moment_known(FROM),
	                          .until = moment_known(UNTIL)};
	struct tool tool = tool_promised(&promise, 1);
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct judged judged;
		JUDGE(judged, tool_there, &tool, "J-1", 1, span_of(rows[i].moment, rows[i].moment), &limits,
		      true);
		assert_int_equal(judged.level, rows[i].there ? SUITS_YES : SUITS_NOT);
	}
}

static void promises__several__the_longest_is_named_with_when_it_is_free(void **state)
{
	(void)state;
	struct promise promises[] = {
		{.job = "J-2", .from = moment_known(FROM), .until = moment_known("2026-12-01T09:00Z")},
		{.job = "J-3",
	     .from = moment_known("2026-12-01T09:00Z"),
	     .until = moment_known("2026-12-01T12:00Z")},
		{.job = "J-4",
	     .from = moment_known("2026-12-02T09:00Z"),
	     .until = moment_known("2026-12-02T12:00Z")},
	};
	struct judged judged = judge(tool_promised(promises, 3));
	assert_only(&judged, SUITS_NOT,
	            "taken for job J-3 from 2026-12-01T09:00 until 2026-12-01T12:00");
	struct moment free = moment_known("2026-12-01T13:00Z").value;
	assert_int_equal(moment_compare(judged.remarks.items[0].until.value, free), 0);
	judged = judge(tool_promised(promises, 1));
	assert_only(&judged, SUITS_NOT, "taken for job J-2 until 2026-12-01T09:00");
	promises[0].until.known = false;
	judged = judge(tool_promised(promises, 3));
	assert_only(&judged, SUITS_NOT, "taken for job J-2, end not known");
	promises[0].over = "finished";
	judged = judge(tool_promised(promises, 3));
	assert_only(&judged, SUITS_NOT, "still out for job J-2, finished: put it where it is");
}

static void promises__too_near_only__the_turnaround_is_named(void **state)
{
	(void)state;
	struct promise promise = {.job = "J-2",
	                          .from = moment_known("2026-12-01T06:00Z"),
	                          .until = moment_known("2026-12-01T07:30Z")};
	struct judged judged = judge(tool_promised(&promise, 1));
	assert_only(&judged, SUITS_NOT, "taken for job J-2 until 2026-12-01T07:30, turnaround 1h");
}

/* ---- plates, and the order of the rules */

static void plates__of_another_job__there_at_caution(void **state)
{
	(void)state;
	struct tool tool = cylinder_tool();
	tool.carries = "J-2";
	struct judged judged = judge(tool);
	assert_only(&judged, SUITS_DOUBTFUL, "plates of job J-2 still mounted");
	tool.carries = "j-1"; /* our own */
	judged = judge(tool);
	assert_suits(&judged);
}

static void plates__not_asked__not_looked_at(void **state)
{
	(void)state;
	struct limits limits = limits_by_default();
	struct tool tool = cylinder_tool();
	tool.carries = "J-2";
	struct judged judged;
	JUDGE(judged, tool_there, &tool, "J-1", 1, span_of(FROM, UNTIL), &limits, false);
	assert_suits(&judged);
}

static void tool_there__several_rules_fail__the_first_is_the_one_reason(void **state)
{
	(void)state;
	struct promise promise = {.job = "J-2"};
	struct tool tool = tool_promised(&promise, 1);
	tool.condition = CONDITION_HOLD;
	tool.sort = SORT_LOST;
	tool.carries = "J-2";
	struct judged judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "on hold");
	tool.condition = CONDITION_READY;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "lost");
	tool.sort = SORT_STORE;
	judged = judge(tool);
	assert_only(&judged, SUITS_NOT, "taken for job J-2, end not known");
}

static void tool_there__overdue_and_plates_mounted__both_doubts(void **state)
{
	(void)state;
	struct tool tool = tool_at_supplier("2026-11-30");
	tool.carries = "J-2";
	struct judged judged = judge(tool);
	assert_int_equal(judged.level, SUITS_DOUBTFUL);
	assert_int_equal(judged.remarks.count, 2);
	assert_among(&judged, SUITS_DOUBTFUL, "at supplier GRINDER, overdue since 2026-11-30");
	assert_among(&judged, SUITS_DOUBTFUL, "plates of job J-2 still mounted");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(condition__hold__not_there_with_date_and_reason),
		cmocka_unit_test(condition__scrapped__not_there),
		cmocka_unit_test(
			condition__reason_over_lines_and_too_long__one_line_cut_between_characters),
		cmocka_unit_test(condition__reason_that_just_fits__is_whole),
		cmocka_unit_test(place__store_cart_and_wash__there),
		cmocka_unit_test(place__lost_or_not_known__not_there),
		cmocka_unit_test(press__the_one_asked__there_whatever_runs),
		cmocka_unit_test(press__another_without_a_job__there),
		cmocka_unit_test(press__another_with_a_job__only_where_it_overlaps),
		cmocka_unit_test(press__another_with_a_job__named_with_its_end),
		cmocka_unit_test(supplier__back_at_a_moment__there_from_then_on),
		cmocka_unit_test(supplier__back_on_a_day__there_from_its_end_on),
		cmocka_unit_test(supplier__no_date_back__not_there),
		cmocka_unit_test(supplier__overdue__there_at_caution),
		cmocka_unit_test(promises__a_turnaround_before_and_after__exactly_that_much_is_free),
		cmocka_unit_test(promises__no_turnaround__spans_may_touch),
		cmocka_unit_test(promises__open_hours__the_turnaround_counts_in_them),
		cmocka_unit_test(promises__open_hours__free_when_they_have_passed),
		cmocka_unit_test(promises__asked_for_a_moment__not_there_within_nor_at_the_start),
		cmocka_unit_test(promises__several__the_longest_is_named_with_when_it_is_free),
		cmocka_unit_test(promises__too_near_only__the_turnaround_is_named),
		cmocka_unit_test(plates__of_another_job__there_at_caution),
		cmocka_unit_test(plates__not_asked__not_looked_at),
		cmocka_unit_test(tool_there__several_rules_fail__the_first_is_the_one_reason),
		cmocka_unit_test(tool_there__overdue_and_plates_mounted__both_doubts),
	};
	return cmocka_run_group_tests_name("trade/there", tests, NULL, NULL);
}
