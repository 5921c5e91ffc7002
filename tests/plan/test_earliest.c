/* When a question could start: moments tried one after another, upward and back from the end. */
#include "plan/earliest.h"

#include "bench.h"

/* A job that is ready but for what a test takes away; it takes two hours. */
struct sought {
	struct timing timing;
	struct earliest_start start;
	struct known_moment before;
};

static void bench_ready(struct bench *bench)
{
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, "92.855mm");
	bench_roll(bench, "4cm3/m2");
	bench_blade(bench);
	bench_cutting(bench);
}

static struct duration hours_of(int64_t hours)
{
	return value_from_stored(VALUE_DURATION, hours * 3600).duration;
}

static void open_from(struct bench *bench, const char *from, struct sought *out)
{
	*out = (struct sought){.before.known = false};
	timing_open(&bench->question, hours_of(2), moment_of(from), &out->timing);
}

static bool first_is(struct sought *sought, const char *expected)
{
	bool found = timing_first(&sought->timing, &sought->start, &sought->before);
	return found && moment_compare(sought->start.from, moment_of(expected)) == 0;
}

static bool latest_is(struct sought *sought, const char *due, const char *expected)
{
	return timing_latest(&sought->timing, moment_of(due), &sought->start) &&
	       moment_compare(sought->start.from, moment_of(expected)) == 0;
}

static struct promise promise_of(const char *from, const char *until)
{
	struct promise promise = {.job = "J7"};
	promise.from = (struct known_moment){.known = from != NULL};
	promise.until = (struct known_moment){.known = until != NULL};
	if (from != NULL) {
		promise.from.value = moment_of(from);
	}
	if (until != NULL) {
		promise.until.value = moment_of(until);
	}
	return promise;
}

static void promise_roll(struct bench *bench, const struct promise *promises, size_t count)
{
	bench->rolls[0].tool.promises = promises;
	bench->rolls[0].tool.promise_count = count;
}

static void timing_first__all_there__at_once(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(first_is(&sought, "2026-12-01T08:00Z"));
	assert_int_equal(sought.start.verdict, VERDICT_READY);
	assert_int_equal(moment_compare(sought.start.until, moment_of("2026-12-01T10:00Z")), 0);
	assert_false(sought.before.known);
}

/* Two hours and the turnaround of one fit between two promises, to the minute; less does not. */
static void timing_first__gap_between_promises__only_where_it_is_long_enough(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	struct promise promises[] = {promise_of("2026-12-01T06:00Z", "2026-12-01T10:00Z"),
	                             promise_of("2026-12-01T14:00Z", "2026-12-01T16:00Z")};
	promise_roll(bench, promises, 2);
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(first_is(&sought, "2026-12-01T11:00Z"));
	promises[1] = promise_of("2026-12-01T13:59Z", "2026-12-01T16:00Z");
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(first_is(&sought, "2026-12-01T17:00Z"));
	assert_true(sought.before.known);
}

static void timing_first__back_on_a_bare_date__at_the_end_of_that_day(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	struct tool *tool = &bench->cylinders[0].tool;
	tool->sort = SORT_SUPPLIER;
	tool->place = "S1";
	tool->back = (struct known_moment){.known = true, .value = moment_of("2026-12-03")};
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(timing_first(&sought.timing, &sought.start, &sought.before));
	assert_int_equal(moment_compare(sought.start.from, moment_of_day_end(tool->back.value)), 0);
}

/* The press waits, then a blade that is booked elsewhere; it starts with the later of the two. */
static void timing_first__press_and_blade_taken__the_later_counts(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	struct promise press = promise_of(NULL, "2026-12-02T06:30Z");
	struct promise blade = promise_of("2026-12-01T00:00Z", "2026-12-02T07:15Z");
	bench->press.promises = &press;
	bench->press.promise_count = 1;
	bench->blades[0].tool.promises = &blade;
	bench->blades[0].tool.promise_count = 1;
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(first_is(&sought, "2026-12-02T08:15Z"));
	struct earliest_press out = {.press = "P1"};
	timing_waits(&sought.timing, sought.before.value, sought.start.from, &out);
	assert_true(out.wait_count >= 1);
	assert_string_equal(out.waits[out.wait_count - 1].need, "blade");
	assert_true(out.waits[out.wait_count - 1].tool_known);
	assert_int_equal(out.waits[out.wait_count - 1].tool.class, TAG_BLADE);
}

static void timing_first__closed_hours__with_the_shift(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	assert_int_equal(calendar_shifts_parse("mon-sun 06:00-09:00", &bench->limits.calendar, NULL),
	                 OUTCOME_DONE);
	struct promise promise = promise_of("2026-12-01T06:00Z", "2026-12-01T08:30Z");
	promise_roll(bench, &promise, 1);
	open_from(bench, "2026-12-01T07:00Z", &sought);
	/* Half an hour of the turnaround today, half an hour tomorrow; then one shift is enough. */
	assert_true(first_is(&sought, "2026-12-02T06:30Z"));
	assert_int_equal(moment_compare(sought.start.until, moment_of("2026-12-02T08:30Z")), 0);
}

static void timing_first__for_good__says_why_not(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	bench->rolls[0].tool.sort = SORT_LOST;
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_false(timing_first(&sought.timing, &sought.start, &sought.before));
	assert_string_equal(timing_never(&sought.timing),
	                    "anilox at station 1: no anilox roll suits and is there");
	struct promise endless = promise_of(NULL, NULL);
	bench->rolls[0].tool.sort = SORT_STORE;
	promise_roll(bench, &endless, 1);
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_false(timing_first(&sought.timing, &sought.start, &sought.before));
}

static void timing_latest__due__ends_then_or_before_the_next_promise(void **state)
{
	struct bench *bench = *state;
	struct sought sought;
	bench_ready(bench);
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(latest_is(&sought, "2026-12-02T12:00Z", "2026-12-02T10:00Z"));
	/* Until eight on the next day it is another's: it has to be over an hour before that. */
	struct promise promise = promise_of("2026-12-01T20:00Z", "2026-12-02T11:00Z");
	promise_roll(bench, &promise, 1);
	open_from(bench, "2026-12-01T08:00Z", &sought);
	assert_true(latest_is(&sought, "2026-12-02T12:00Z", "2026-12-01T17:00Z"));
	assert_false(timing_latest(&sought.timing, moment_of("2026-12-01T09:59Z"), &sought.start));
	assert_true(latest_is(&sought, "2026-12-01T10:00Z", "2026-12-01T08:00Z"));
}

static void words_of_unknown_duration__what_is_lacking__named(void **state)
{
	struct bench *bench = *state;
	assert_string_equal(words_of_unknown_duration(bench->arena, &bench->question),
	                    "speed of press P1 not on record");
	bench->job.quantity.known = false;
	bench->question.layout.run.known = false;
	assert_string_equal(words_of_unknown_duration(bench->arena, &bench->question),
	                    "speed of press P1 and quantity of the job not on record");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BENCH_TEST(timing_first__all_there__at_once),
		BENCH_TEST(timing_first__gap_between_promises__only_where_it_is_long_enough),
		BENCH_TEST(timing_first__back_on_a_bare_date__at_the_end_of_that_day),
		BENCH_TEST(timing_first__press_and_blade_taken__the_later_counts),
		BENCH_TEST(timing_first__closed_hours__with_the_shift),
		BENCH_TEST(timing_first__for_good__says_why_not),
		BENCH_TEST(timing_latest__due__ends_then_or_before_the_next_promise),
		BENCH_TEST(words_of_unknown_duration__what_is_lacking__named),
	};
	return cmocka_run_group_tests_name("plan/earliest", tests, NULL, NULL);
}
