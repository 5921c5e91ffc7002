/* The best of those tried: order, the bar that each must improve on, and how many are kept. */
#include "bench.h"

static struct tried tried_of(const struct attempt *attempt, enum verdict verdict, size_t unmet,
                             int64_t waste, int64_t run)
{
	return (struct tried){
		.attempt = attempt,
		.candidate = {teeth_of(96), 4},
		.standing = {.verdict = verdict,
	                 .unmet = unmet,
	                 .die_suits = true,
	                 .waste_known = true,
	                 .waste_whole = waste,
	                 .run_mm = run},
	};
}

static void ranking_take__more_than_it_keeps__the_best_in_order(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt = {.press = bench->press};
	struct ranking ranking = {.most = 3};
	struct tried tried[] = {
		tried_of(&attempt, VERDICT_CAUTION, 0, 10, 5), tried_of(&attempt, VERDICT_SHORT, 1, 1, 5),
		tried_of(&attempt, VERDICT_READY, 0, 30, 5),   tried_of(&attempt, VERDICT_READY, 0, 20, 9),
		tried_of(&attempt, VERDICT_READY, 0, 20, 8),
	};
	for (size_t i = 0; i < COUNT_OF(tried); i++) {
		ranking_take(&ranking, &tried[i]);
	}
	assert_int_equal(ranking.count, 3);
	assert_int_equal(ranking.items[0].standing.run_mm, 8);
	assert_int_equal(ranking.items[1].standing.run_mm, 9);
	assert_int_equal(ranking.items[2].standing.waste_whole, 30);
}

static void ranking_take__no_better_than_the_bar__left_out(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt = {.press = bench->press};
	const struct standing bar = {.verdict = VERDICT_SHORT, .unmet = 2};
	struct ranking ranking = {.most = 3, .bar = &bar};
	struct tried same = tried_of(&attempt, VERDICT_SHORT, 2, 1, 1);
	struct tried fewer = tried_of(&attempt, VERDICT_SHORT, 1, 9, 1);
	ranking_take(&ranking, &same);
	assert_int_equal(ranking.count, 0);
	ranking_take(&ranking, &fewer);
	assert_int_equal(ranking.count, 1);
}

/* An attempt at no repeat on the bench's shelf, with the candidates that it has. */
static void open_bench(struct bench *bench, struct attempt *out)
{
	*out = (struct attempt){.press = bench->press, .repeats_known = true};
	out->open = bench->question;
	out->open.press = &out->press;
	out->open.layout.repeat.known = out->open.layout.number_around.known = false;
	out->candidate_count = candidates_find(&out->open, &out->candidates);
}

/* Whatever is left out unworked, the best is that which working out all of them gives. */
static void ranking_try__all_candidates__as_if_each_were_worked_out(void **state)
{
	struct bench *bench = *state;
	struct attempt attempt;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_roll(bench, "4cm3/m2");
	bench_blade(bench);
	bench_cutting(bench);
	bench_cylinder(bench, 96, "92.855mm");
	bench_cylinder(bench, 72, "68.600mm");
	bench_cylinder(bench, 120, "117.111mm")->tool.condition = CONDITION_HOLD;
	open_bench(bench, &attempt);
	assert_true(attempt.candidate_count >= 3);
	struct ranking lazy = {.most = 2}, whole = {.most = 2};
	ranking_try(&lazy, attempt_tried(bench->arena, &attempt), attempt.candidate_count);
	for (size_t i = 0; i < attempt.candidate_count; i++) {
		struct tried tried = {.attempt = &attempt, .candidate = attempt.candidates[i]};
		tried.standing = candidate_standing(&attempt.open, tried.candidate, NULL, NULL);
		ranking_take(&whole, &tried);
	}
	assert_int_equal(lazy.count, whole.count);
	for (size_t i = 0; i < whole.count; i++) {
		assert_int_equal(standing_compare_repeats(&lazy.items[i].standing,
		                                          &whole.items[i].standing),
		                 0);
		assert_int_equal(lazy.items[i].candidate.repeat.teeth,
		                 whole.items[i].candidate.repeat.teeth);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BENCH_TEST(ranking_take__more_than_it_keeps__the_best_in_order),
		BENCH_TEST(ranking_take__no_better_than_the_bar__left_out),
		BENCH_TEST(ranking_try__all_candidates__as_if_each_were_worked_out),
	};
	return cmocka_run_group_tests_name("plan/others", tests, NULL, NULL);
}
