/*
 * Is a press free for another job? Asked of P1 from 8:00 until 10:00 on the first of December.
 */
#include "builders.h"

static struct span asked_span(const char *from, const char *until)
{
	return (struct span){
		.from = moment_known(from).value,
		.until = moment_known(until).value,
		.now = moment_known("2026-12-01T06:00Z").value,
	};
}

static struct promise promise_of(const char *job, const char *from, const char *until)
{
	struct promise promise = {.job = job};
	if (from)
		promise.from = moment_known(from);
	if (until)
		promise.until = moment_known(until);
	return promise;
}

static struct judged judge_in(const struct promise *promises, size_t count, struct span span)
{
	struct judged judged;
	JUDGE(judged, press_free, promises, count, "P1", span);
	return judged;
}

static struct judged judge(const struct promise *promises, size_t count)
{
	return judge_in(promises, count, asked_span("2026-12-01T08:00Z", "2026-12-01T10:00Z"));
}

static void press_free__nothing_runs__free(void **state)
{
	(void)state;
	struct judged judged = judge(NULL, 0);
	assert_suits(&judged);
}

/* No turnaround lies between two jobs on a press: make-ready is part of a job's own time. */
static void press_free__spans_that_touch__free(void **state)
{
	(void)state;
	static const struct {
		const char *from, *until;
		bool free;
	} rows[] = {
		{"2026-12-01T05:00Z", "2026-12-01T08:00Z", true},
		{"2026-12-01T05:00Z", "2026-12-01T08:00:01Z", false},
		{NULL, "2026-12-01T08:00Z", true},
		{NULL, "2026-12-01T08:00:01Z", false},
		{"2026-12-01T10:00Z", "2026-12-01T12:00Z", true},
		{"2026-12-01T09:59:59Z", "2026-12-01T12:00Z", false},
		{"2026-12-01T08:30Z", "2026-12-01T09:00Z", false},
		{"2026-12-01T07:00Z", "2026-12-01T12:00Z", false},
		{"2026-12-01T10:00Z", NULL, true},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct promise promise = promise_of("J7", rows[i].from, rows[i].until);
		struct judged judged = judge(&promise, 1);
		assert_int_equal(judged.level, rows[i].free ? SUITS_YES : SUITS_NOT);
		assert_int_equal(judged.remarks.count, rows[i].free ? 0 : 1);
	}
}

static void press_free__asked_for_a_moment__taken_from_its_start_to_before_its_end(void **state)
{
	(void)state;
	static const struct {
		const char *moment;
		bool free;
	} rows[] = {
		{"2026-12-01T07:59:59Z", true},
		{"2026-12-01T08:00Z", false},
		{"2026-12-01T09:59:59Z", false},
		{"2026-12-01T10:00Z", true},
	};
	struct promise promise = promise_of("J7", "2026-12-01T08:00Z", "2026-12-01T10:00Z");
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct span span = asked_span(rows[i].moment, rows[i].moment);
		struct judged judged = judge_in(&promise, 1, span);
		assert_int_equal(judged.level, rows[i].free ? SUITS_YES : SUITS_NOT);
	}
}

static void press_free__taken__says_by_which_job_until_when(void **state)
{
	(void)state;
	struct promise promise = promise_of("J7", "2026-12-01T07:00Z", "2026-12-01T14:00Z");
	struct judged judged = judge(&promise, 1);
	assert_only(&judged, SUITS_NOT, "press P1 taken for job J7 until 2026-12-01T14:00");
	assert_true(judged.remarks.items[0].until.known);
	assert_int_equal(moment_compare(judged.remarks.items[0].until.value, promise.until.value), 0);
	promise.from = moment_known("2026-12-01T09:00Z");
	judged = judge(&promise, 1);
	assert_only(&judged, SUITS_NOT,
	            "press P1 taken for job J7 from 2026-12-01T09:00 until 2026-12-01T14:00");
}

static void press_free__several__the_longest_is_named(void **state)
{
	(void)state;
	struct promise promises[] = {
		promise_of("J7", "2026-12-01T07:00Z", "2026-12-01T09:00Z"),
		promise_of("J8", "2026-12-01T09:00Z", "2026-12-01T14:00Z"),
		promise_of("J9", "2026-12-01T14:00Z", "2026-12-01T20:00Z"),
	};
	struct judged judged = judge(promises, 3);
	assert_only(&judged, SUITS_NOT,
	            "press P1 taken for job J8 from 2026-12-01T09:00 until 2026-12-01T14:00");
}

static void press_free__end_not_known__in_doubt(void **state)
{
	(void)state;
	struct promise promise = promise_of("J7", NULL, NULL);
	struct judged judged = judge(&promise, 1);
	assert_only(&judged, SUITS_DOUBTFUL, "press P1 runs job J7, end not known");
	assert_false(judged.remarks.items[0].until.known);
}

static void press_free__runs_past_its_end__in_doubt(void **state)
{
	(void)state;
	struct promise promise = promise_of("J7", NULL, "2026-12-01T04:00Z");
	struct judged judged = judge(&promise, 1);
	assert_int_equal(judged.level, SUITS_YES); /* it does not run */
	promise.running = true;
	judged = judge(&promise, 1);
	assert_only(&judged, SUITS_DOUBTFUL,
	            "press P1 still runs job J7, which was to end 2026-12-01T04:00");
}

static void press_free__one_ends_and_one_end_not_known__both_are_said(void **state)
{
	(void)state;
	struct promise promises[] = {
		promise_of("J7", "2026-12-01T06:00Z", NULL),
		promise_of("J8", NULL, "2026-12-01T14:00Z"),
	};
	struct judged judged = judge(promises, 2);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_int_equal(judged.remarks.count, 2);
	assert_among(&judged, SUITS_NOT, "press P1 taken for job J8 until 2026-12-01T14:00");
	assert_among(&judged, SUITS_DOUBTFUL, "press P1 runs job J7, end not known");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(press_free__nothing_runs__free),
		cmocka_unit_test(press_free__spans_that_touch__free),
		cmocka_unit_test(press_free__asked_for_a_moment__taken_from_its_start_to_before_its_end),
		cmocka_unit_test(press_free__taken__says_by_which_job_until_when),
		cmocka_unit_test(press_free__several__the_longest_is_named),
		cmocka_unit_test(press_free__end_not_known__in_doubt),
		cmocka_unit_test(press_free__runs_past_its_end__in_doubt),
		cmocka_unit_test(press_free__one_ends_and_one_end_not_known__both_are_said),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
