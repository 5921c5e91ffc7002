/* Cures: tried, and listed only where it came out better. Candidates of a new job. */
#include "bench.h"

/* A job that is ready but for what a test takes away. */
static void bench_ready(struct bench *bench)
{
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, "92.855mm");
	bench_roll(bench, "4cm3/m2");
	bench_blade(bench);
	bench_cutting(bench);
}

/* The bench as an attempt, its cures found with no store to ask for other presses or repeats. */
static struct cure_list bench_cure(struct bench *bench, struct attempt *attempt)
{
	struct cure_list list = {.arena = bench->arena};
	*attempt = (struct attempt){.press = bench->press, .repeat_judged = true};
	attempt->question = bench->question;
	question_solve(&attempt->question, true, &attempt->solution);
	cures_of_tools(attempt, &list);
	return list;
}

static void question_solve__all_there__ready(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_ready(bench);
	question_solve(&bench->question, true, &solution);
	assert_int_equal(solution.check.verdict, VERDICT_READY);
	assert_int_equal(solution.check.finding_count, 0);
}

static void cures__roll_on_hold__clear(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt;
	bench_ready(bench);
	bench->rolls[0].tool.condition = CONDITION_HOLD;
	bench->rolls[0].tool.condition_text = "scored band";
	struct cure_list list = bench_cure(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_string_equal(list.items[0].kind, "clear");
	assert_int_equal(list.items[0].tool_count, 1);
	assert_string_equal(list.items[0].text,
	                    "put right and clear AN000001-R, on hold for scored band: then ready");
	/* what was tried is as it was */
	assert_int_equal(bench->rolls[0].tool.condition, CONDITION_HOLD);
}

static void cures__cylinder_at_the_supplier__return_and_time(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt;
	bench_ready(bench);
	struct tool *tool = &bench->cylinders[0].tool;
	tool->sort = SORT_SUPPLIER;
	tool->place = "S1";
	tool->back = (struct known_moment){.known = true, .value = moment_of("2026-12-03T10:00:00Z")};
	struct cure_list list = bench_cure(bench, &attempt);
	assert_int_equal(list.count, 2);
	assert_string_equal(list.items[0].kind, "return");
	assert_true(list.items[0].from.known);
	assert_string_equal(list.items[1].kind, "time");
	assert_int_equal(moment_compare(list.items[1].from.value, tool->back.value), 0);
	const struct finding *finding = finding_at(&attempt.solution.check, "cylinder", 1);
	assert_non_null(finding);
	assert_true(finding->until.known);
}

static void cures__supplier_names_no_date__return_without_one(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt;
	bench_ready(bench);
	bench->cylinders[0].tool.sort = SORT_SUPPLIER;
	bench->cylinders[0].tool.place = "S1";
	struct cure_list list = bench_cure(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_string_equal(list.items[0].kind, "return");
	assert_false(list.items[0].from.known);
}

/* Of two needs one is cured: better, though still short. One that changes nothing is not listed. */
static void cures__one_of_two_lacks__still_short_is_said(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt;
	bench_ready(bench);
	bench->rolls[0].tool.condition = CONDITION_HOLD;
	bench->shelf.die_count = 0;
	struct cure_list list = bench_cure(bench, &attempt);
	assert_int_equal(list.count, 1);
	assert_string_equal(list.items[0].text,
	                    "put right and clear AN000001-R: then short of 1 need, not 2");
	bench->rolls[0].tool.sort = SORT_LOST;
	list = bench_cure(bench, &attempt);
	assert_int_equal(list.count, 0);
}

static void cures__station_on_hold__clear(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt;
	bench_ready(bench);
	bench->press_stations[0].held = true;
	bench->press_stations[0].reason = "doctor arm bent";
	bench->press_stations[0].code = "P1-1";
	struct cure_list list = bench_cure(bench, &attempt);
	const struct finding *finding = finding_at(&attempt.solution.check, "press", 1);
	assert_non_null(finding);
	assert_string_equal(finding->text, "P1-1 on hold: doctor arm bent");
	assert_int_equal(list.count, 1);
	assert_string_equal(list.items[0].kind, "clear");
	assert_string_equal(list.items[0].press, "P1");
	assert_true(bench->press_stations[0].held);
}

static void candidates__new_job__each_length_with_each_gap_in_limits(void **state)
{
	struct bench *bench = *state;
	struct candidate *candidates;
	bench_ready(bench);
	bench_cylinder(bench, 120, "119.000mm"); /* build-up does not suit */
	bench_cylinder(bench, 48, "44.345mm");   /* 152.4 mm, 2 around: gap 3.2 mm */
	bench_cylinder(bench, 100, "96.898mm");  /* 317.5 mm: 4 around leave 6.375 mm */
	bench->question.layout.repeat.known = false;
	bench->question.layout.number_around.known = false;
	size_t count = candidates_find(&bench->question, &candidates);
	assert_int_equal(count, 2);
	assert_int_equal(candidates[0].repeat.teeth, 96);
	assert_int_equal(candidates[0].number_around, 4);
	assert_int_equal(candidates[1].repeat.teeth, 48);
	assert_int_equal(candidates[1].number_around, 2);
	/* without limits of the gap every number around that fits */
	bench->question.layout.gap_around_max.known = false;
	bench->question.layout.gap_around_min.known = false;
	count = candidates_find(&bench->question, &candidates);
	assert_int_equal(count, 4 + 2 + 4);
}

/* One that cannot come out better than what it must improve on is not worked out to its end. */
static void standing_of__bar__never_better_than_the_whole_answer(void **state)
{
	struct bench *bench = *state;
	bench_ready(bench);
	struct standing whole = standing_of(&bench->question, true, NULL);
	struct standing none = {.verdict = VERDICT_READY};
	struct standing worse = {.verdict = VERDICT_SHORT, .unmet = 9};
	assert_int_equal(whole.verdict, VERDICT_READY);
	struct standing tried = standing_of(&bench->question, true, &worse);
	assert_int_equal(tried.verdict, whole.verdict);
	tried = standing_of(&bench->question, true, &none);
	assert_false(standing_improves(&tried, &none));
}

static void candidate_standing__lacks__told_once_a_need(void **state)
{
	struct bench *bench = *state;
	const char *lacks;
	bench_ready(bench);
	bench_station(bench, "1.702mm", "9cm3/m2");
	struct standing standing =
		candidate_standing(&bench->question, (struct candidate){bench->question.layout.repeat, 4},
	                       NULL, &lacks);
	assert_int_equal(standing.verdict, VERDICT_SHORT);
	assert_string_equal(lacks, "cylinder at station 1; anilox at station 2");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BENCH_TEST(question_solve__all_there__ready),
		BENCH_TEST(cures__roll_on_hold__clear),
		BENCH_TEST(cures__cylinder_at_the_supplier__return_and_time),
		BENCH_TEST(cures__supplier_names_no_date__return_without_one),
		BENCH_TEST(cures__one_of_two_lacks__still_short_is_said),
		BENCH_TEST(cures__station_on_hold__clear),
		BENCH_TEST(candidates__new_job__each_length_with_each_gap_in_limits),
		BENCH_TEST(standing_of__bar__never_better_than_the_whole_answer),
		BENCH_TEST(candidate_standing__lacks__told_once_a_need),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
