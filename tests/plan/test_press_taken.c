/*
 * The press asked runs another job, or is promised to one: what is found of it, and when it could
 * be instead. The job is ready but for that.
 */
#include "bench.h"

static struct attempt solved(struct bench *bench, const struct promise *promises, size_t count,
                             const char *from, const char *until)
{
	struct attempt attempt = {.press = bench->press, .repeat_judged = true};
	bench->question.press->promises = promises;
	bench->question.press->promise_count = count;
	bench->question.span.from = moment_of(from);
	bench->question.span.until = moment_of(until);
	attempt.question = bench->question;
	question_solve(&attempt.question, true, &attempt.solution);
	return attempt;
}

static struct cure_list cured(struct bench *bench, const struct attempt *attempt)
{
	struct cure_list list = {.arena = bench->arena};
	cures_of_tools(attempt, &list);
	return list;
}

static struct promise promise_of(const char *job, const char *from, const char *until)
{
	struct promise promise = {.job = job};
	if (from != NULL) {
		promise.from = (struct known_moment){.known = true, .value = moment_of(from)};
	}
	if (until != NULL) {
		promise.until = (struct known_moment){.known = true, .value = moment_of(until)};
	}
	return promise;
}

static void bench_ready(struct bench *bench)
{
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, "92.855mm");
	bench_roll(bench, "4cm3/m2");
	bench_blade(bench);
	bench_cutting(bench);
}

static void assert_time(const struct cure *cure, const char *from, const char *text)
{
	assert_string_equal(cure->kind, "time");
	assert_true(cure->from.known);
	assert_int_equal(moment_compare(cure->from.value, moment_of(from)), 0);
	assert_string_equal(cure->text, text);
}

static void question_solve__press_taken__short_of_it_until_then(void **state)
{
	struct bench *bench = *state;
	bench_ready(bench);
	struct promise runs = promise_of("J7", "2026-12-02T06:00Z", "2026-12-02T14:00Z");
	struct attempt attempt = solved(bench, &runs, 1, "2026-12-02T08:00Z", "2026-12-02T12:00Z");
	const struct check *check = &attempt.solution.check;
	assert_int_equal(check->verdict, VERDICT_SHORT);
	assert_int_equal(check->finding_count, 1);
	assert_string_equal(check->findings[0].need, "press");
	assert_int_equal(check->findings[0].station, 0);
	assert_int_equal(check->findings[0].cut, 0);
	assert_true(check->findings[0].until.known);
	assert_int_equal(moment_compare(check->findings[0].until.value, runs.until.value), 0);
	assert_string_equal(check->findings[0].text,
	                    "press P1 taken for job J7 until 2026-12-02T14:00");
	struct cure_list list = cured(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_time(&list.items[0], "2026-12-02T14:00Z", "start it at 2026-12-02T14:00: then ready");
}

static void question_solve__press_end_not_known__caution_and_no_time(void **state)
{
	struct bench *bench = *state;
	bench_ready(bench);
	struct promise runs = promise_of("J7", "2026-12-02T06:00Z", NULL);
	struct attempt attempt = solved(bench, &runs, 1, "2026-12-02T08:00Z", "2026-12-02T12:00Z");
	const struct check *check = &attempt.solution.check;
	assert_int_equal(check->verdict, VERDICT_CAUTION);
	assert_int_equal(check->finding_count, 1);
	assert_int_equal(check->findings[0].level, FINDING_CAUTION);
	assert_false(check->findings[0].until.known);
	assert_int_equal(cured(bench, &attempt).count, 0);
}

/* After the first comes another, which begins before this job would be through. */
static void cures__press_taken_twice__after_the_second(void **state)
{
	struct bench *bench = *state;
	bench_ready(bench);
	const struct promise promises[] = {
		promise_of("J8", "2026-12-02T16:00Z", "2026-12-02T20:00Z"),
		promise_of("J7", "2026-12-02T06:00Z", "2026-12-02T14:00Z"),
		promise_of("J9", "2026-12-02T23:00Z", "2026-12-03T06:00Z"),
	};
	struct attempt attempt = solved(bench, promises, 3, "2026-12-02T08:00Z", "2026-12-02T11:00Z");
	struct cure_list list = cured(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_time(&list.items[0], "2026-12-02T20:00Z", "start it at 2026-12-02T20:00: then ready");
	attempt = solved(bench, promises, 3, "2026-12-02T08:00Z", "2026-12-02T11:01Z");
	list = cured(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_time(&list.items[0], "2026-12-03T06:00Z", "start it at 2026-12-03T06:00: then ready");
}

/* 2026-12-02 is a Wednesday. Four open hours are asked: from 21:00 on they last until 09:00. */
static void cures__shop_closes_at_night__starts_and_lasts_in_open_hours(void **state)
{
	struct bench *bench = *state;
	bench_ready(bench);
	assert_int_equal(calendar_shifts_parse("mon-fri 06:00-22:00", &bench->limits.calendar, NULL),
	                 OUTCOME_DONE);
	struct promise promises[] = {
		promise_of("J7", "2026-12-02T06:00Z", "2026-12-02T22:00Z"),
		promise_of("J8", "2026-12-03T10:00Z", "2026-12-03T12:00Z"),
	};
	struct attempt attempt = solved(bench, promises, 2, "2026-12-02T08:00Z", "2026-12-02T12:00Z");
	struct cure_list list = cured(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_time(&list.items[0], "2026-12-03T06:00Z", "start it at 2026-12-03T06:00: then ready");
	promises[0].until.value = moment_of("2026-12-02T21:00Z");
	promises[1].from.value = moment_of("2026-12-03T08:59Z");
	attempt = solved(bench, promises, 2, "2026-12-02T08:00Z", "2026-12-02T12:00Z");
	list = cured(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_time(&list.items[0], "2026-12-03T12:00Z", "start it at 2026-12-03T12:00: then ready");
}

/* A tool is back later than the press is free: first one need less, then ready. */
static void cures__press_and_tool_lack__each_step_is_named(void **state)
{
	struct bench *bench = *state;
	bench_ready(bench);
	struct tool *tool = &bench->cylinders[0].tool;
	tool->sort = SORT_SUPPLIER;
	tool->place = "S1";
	tool->back = (struct known_moment){.known = true, .value = moment_of("2026-12-04T10:00:00Z")};
	struct promise runs = promise_of("J7", "2026-12-02T06:00Z", "2026-12-02T14:00Z");
	struct attempt attempt = solved(bench, &runs, 1, "2026-12-02T08:00Z", "2026-12-02T12:00Z");
	assert_int_equal(attempt.solution.standing.unmet, 2);
	struct cure_list list = cured(bench, &attempt);
	assert_int_equal(list.count, 3);
	assert_string_equal(list.items[0].kind, "return");
	assert_time(&list.items[1], "2026-12-02T14:00Z",
	            "start it at 2026-12-02T14:00: then short of 1 need, not 2");
	assert_time(&list.items[2], "2026-12-04T10:00Z", "start it at 2026-12-04T10:00: then ready");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BENCH_TEST(question_solve__press_taken__short_of_it_until_then),
		BENCH_TEST(question_solve__press_end_not_known__caution_and_no_time),
		BENCH_TEST(cures__press_taken_twice__after_the_second),
		BENCH_TEST(cures__shop_closes_at_night__starts_and_lasts_in_open_hours),
		BENCH_TEST(cures__press_and_tool_lack__each_step_is_named),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
