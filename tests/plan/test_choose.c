/*
 * The order of choice: needs, cautions, spread, volumes, run, tags; for all stations together,
 * never greedily.
 */
#include "bench.h"

#define BARE_FOR_1702 "92.855mm"
#define BARE_FOR_1143 "93.973mm"

static void assert_cylinder(const struct solution *solution, size_t station, int64_t serial)
{
	const struct chosen *chosen = &solution->check.stations[station - 1].cylinder;
	assert_true(chosen->known);
	assert_int_equal(chosen->tag.serial, serial);
}

static void assert_roll(const struct solution *solution, size_t station, int64_t serial)
{
	const struct chosen *chosen = &solution->check.stations[station - 1].anilox;
	assert_true(chosen->known);
	assert_int_equal(chosen->tag.serial, serial);
}

/*
 * Two plates of 1.702 and 1.143 mm on 0.381 mm tape at 96 teeth need bare diameters of 92.855
 * and 93.973 mm. Arithmetic: 96 x 3.175/pi - 2 (plate + tape).
 */
static void question_solve__two_plate_thicknesses__unequal_bare_diameters(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.143mm", "4cm3/m2");
	bench_cylinder(bench, 96, BARE_FOR_1143);
	bench_cylinder(bench, 96, BARE_FOR_1702);
	bench_cutting(bench);
	for (int i = 0; i < 2; i++) {
		bench_roll(bench, "4cm3/m2");
		bench_blade(bench);
	}
	question_solve(&bench->question, true, &solution);
	assert_int_equal(solution.check.verdict, VERDICT_READY);
	assert_cylinder(&solution, 1, 2);
	assert_cylinder(&solution, 2, 1);
}

static void question_solve__several_diameters__least_spread(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	/* within build-up all of them; only 2 and 4 print alike, though 1 and 3 have the lower tags */
	bench_cylinder(bench, 96, "92.815mm");
	bench_cylinder(bench, 96, "92.855mm");
	bench_cylinder(bench, 96, "92.895mm");
	bench_cylinder(bench, 96, "92.856mm");
	question_solve(&bench->question, true, &solution);
	assert_cylinder(&solution, 1, 2);
	assert_cylinder(&solution, 2, 4);
}

static void question_solve__spread_alike_in_whole_micrometres__least_run(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	/* 1 and 2: spread 10.0 um; 3 and 4: 10.4 um, which is 10 in whole micrometres too */
	bench_cylinder(bench, 96, "92.84mm")->tool.run = length_of("5000m");
	bench_cylinder(bench, 96, "92.85mm")->tool.run = length_of("5000m");
	bench_cylinder(bench, 96, "92.87mm")->tool.run = length_of("10m");
	bench_cylinder(bench, 96, "92.8804mm")->tool.run = length_of("10m");
	question_solve(&bench->question, true, &solution);
	assert_cylinder(&solution, 1, 3);
	assert_cylinder(&solution, 2, 4);
}

static void question_solve__spread_over_the_limit__caution_of_no_station(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, "92.82mm");
	bench_cylinder(bench, 96, "92.871mm");
	question_solve(&bench->question, true, &solution);
	const struct finding *finding = finding_at(&solution.check, "cylinder", 0);
	assert_non_null(finding);
	assert_int_equal(finding->level, FINDING_CAUTION);
	assert_string_equal(finding->text, "printed diameters lie 0.051mm apart, 0.05mm at most");
	bench->cylinders[1].diameter = length_of("92.87mm");
	question_solve(&bench->question, true, &solution);
	assert_null(finding_at(&solution.check, "cylinder", 0));
}

/* A choice without a caution is better than one with less spread. */
static void question_solve__caution_against_spread__caution_decides(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, "92.83mm");
	bench_cylinder(bench, 96, "92.83mm")->tool.carries = "J9";
	bench_cylinder(bench, 96, "92.86mm");
	question_solve(&bench->question, true, &solution);
	assert_cylinder(&solution, 1, 1);
	assert_cylinder(&solution, 2, 3);
}

static void question_solve__fewer_gears_than_cylinders__geared_one_taken(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, BARE_FOR_1702)->drive = DRIVE_DEMOUNTABLE;
	bench_cylinder(bench, 96, BARE_FOR_1702)->drive = DRIVE_DEMOUNTABLE;
	bench_cylinder(bench, 96, BARE_FOR_1702);
	bench_gear(bench, 96);
	question_solve(&bench->question, true, &solution);
	assert_cylinder(&solution, 1, 1);
	assert_cylinder(&solution, 2, 3);
	assert_true(solution.check.stations[0].gear.known);
	assert_null(finding_at(&solution.check, "gear", 1));
	assert_null(finding_at(&solution.check, "gear", 2));
}

static void question_solve__one_gear_for_two__station_keeps_its_cylinder(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_cylinder(bench, 96, BARE_FOR_1702)->drive = DRIVE_DEMOUNTABLE;
	bench_cylinder(bench, 96, BARE_FOR_1702)->drive = DRIVE_DEMOUNTABLE;
	bench_gear(bench, 96);
	question_solve(&bench->question, true, &solution);
	assert_cylinder(&solution, 1, 1);
	assert_cylinder(&solution, 2, 2);
	bool first = solution.check.stations[0].gear.known;
	const struct finding *finding = finding_at(&solution.check, "gear", first ? 2 : 1);
	assert_non_null(finding);
	assert_int_equal(finding->level, FINDING_SHORT);
	assert_int_equal(finding->wanted, 2);
	assert_int_equal(finding->have, 1);
	assert_string_equal(finding->text, "stations 1 and 2 compete for 1 gear: GR000001-E");
	assert_null(finding_at(&solution.check, "gear", first ? 1 : 2));
}

/*
 * Station 1 could take roll 1 or 2, station 2 only roll 1: who serves station 1 first with the best
 * roll leaves 2 without.
 */
static void question_solve__greedy_choice_would_waste_a_roll__all_served(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "3.7cm3/m2");
	bench_roll(bench, "4cm3/m2");
	bench_roll(bench, "4.3cm3/m2");
	bench_blade(bench);
	bench_blade(bench);
	question_solve(&bench->question, true, &solution);
	assert_roll(&solution, 1, 2);
	assert_roll(&solution, 2, 1);
}

static void question_solve__two_rolls_for_three__hall_set_named(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "9cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_roll(bench, "4cm3/m2");
	bench_roll(bench, "4cm3/m2");
	bench_roll(bench, "9cm3/m2");
	for (int i = 0; i < 4; i++) {
		bench_blade(bench);
	}
	question_solve(&bench->question, true, &solution);
	size_t left_out = 0;
	const struct finding *finding = NULL;
	for (int64_t station = 1; station <= 4; station++) {
		if (finding_at(&solution.check, "anilox", station) != NULL) {
			finding = finding_at(&solution.check, "anilox", station);
			left_out++;
		}
	}
	assert_int_equal(left_out, 1);
	assert_int_equal(finding->wanted, 3);
	assert_int_equal(finding->have, 2);
	assert_int_equal(finding->station_count, 3);
	assert_int_equal(finding->stations[1], 3);
	assert_memory_equal(finding->text, "stations 1, 3 and 4 compete for 2 anilox rolls: AN000001-",
	                    57);
	assert_null(finding_at(&solution.check, "blade", finding->station));
}

static void question_solve__roll_without_a_blade__blade_short_only(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_roll(bench, "4cm3/m2");
	bench_blade(bench)->length = length_of("350mm");
	question_solve(&bench->question, true, &solution);
	assert_roll(&solution, 1, 1);
	assert_null(finding_at(&solution.check, "anilox", 1));
	const struct finding *finding = finding_at(&solution.check, "blade", 1);
	assert_non_null(finding);
	assert_int_equal(finding->level, FINDING_SHORT);
	assert_int_equal(finding->have, 0);
	assert_int_equal(finding->tool_count, 1);
}

static void question_solve__volumes__least_sum_of_deviations(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4.2cm3/m2");
	bench_roll(bench, "4.2cm3/m2");
	bench_roll(bench, "4.02cm3/m2");
	bench_roll(bench, "4.3cm3/m2");
	bench_blade(bench);
	bench_blade(bench);
	question_solve(&bench->question, true, &solution);
	assert_roll(&solution, 1, 2);
	assert_roll(&solution, 2, 1);
}

static void question_solve__nothing_on_the_shelf__every_need_told(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	question_solve(&bench->question, true, &solution);
	assert_int_equal(solution.check.verdict, VERDICT_SHORT);
	assert_int_equal(solution.standing.unmet, 5);
	assert_non_null(finding_at(&solution.check, "cylinder", 1));
	assert_non_null(finding_at(&solution.check, "cylinder", 2));
	assert_non_null(finding_at(&solution.check, "anilox", 1));
	assert_non_null(finding_at(&solution.check, "anilox", 2));
	assert_non_null(finding_at(&solution.check, "die", 0));
	assert_string_equal(finding_at(&solution.check, "die", 0)->text, "no die suits and is there");
}

static void question_solve__alike_in_all__lowest_tags_at_the_first_stations(void **state)
{
	struct bench *bench = *state;
	struct solution solution;
	bench_station(bench, "1.702mm", "4cm3/m2");
	bench_station(bench, "1.702mm", "4cm3/m2");
	for (int i = 0; i < 3; i++) {
		bench_cylinder(bench, 96, BARE_FOR_1702);
		bench_roll(bench, "4cm3/m2");
		bench_blade(bench);
	}
	question_solve(&bench->question, true, &solution);
	for (size_t station = 1; station <= 2; station++) {
		assert_cylinder(&solution, station, (int64_t)station);
		assert_roll(&solution, station, (int64_t)station);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BENCH_TEST(question_solve__two_plate_thicknesses__unequal_bare_diameters),
		BENCH_TEST(question_solve__several_diameters__least_spread),
		BENCH_TEST(question_solve__spread_alike_in_whole_micrometres__least_run),
		BENCH_TEST(question_solve__spread_over_the_limit__caution_of_no_station),
		BENCH_TEST(question_solve__caution_against_spread__caution_decides),
		BENCH_TEST(question_solve__fewer_gears_than_cylinders__geared_one_taken),
		BENCH_TEST(question_solve__one_gear_for_two__station_keeps_its_cylinder),
		BENCH_TEST(question_solve__greedy_choice_would_waste_a_roll__all_served),
		BENCH_TEST(question_solve__two_rolls_for_three__hall_set_named),
		BENCH_TEST(question_solve__roll_without_a_blade__blade_short_only),
		BENCH_TEST(question_solve__volumes__least_sum_of_deviations),
		BENCH_TEST(question_solve__nothing_on_the_shelf__every_need_told),
		BENCH_TEST(question_solve__alike_in_all__lowest_tags_at_the_first_stations),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
