/* What tools have run and what is left of their lives. All figures are invented. */
#include "builders.h"

static void revolutions_of__whole_turns__none_lost_to_arithmetic(void **state)
{
	(void)state;
	struct pitch eighth;
	int64_t turns = 0;
	assert_int_equal(pitch_parse("1/8cp", &eighth, NULL), OUTCOME_DONE);
	struct repeat own = repeat_of_teeth(96, eighth);
	/* 304.8 mm a turn */
	assert_true(revolutions_of(length_from_mm(304800), own, &turns));
	assert_int_equal(turns, 1000);
	assert_true(revolutions_of(length_from_mm(304799.9), own, &turns));
	assert_int_equal(turns, 999);
	assert_false(revolutions_of(length_from_mm(1000), (struct repeat){.known = false}, &turns));
}

static void blade_life_left__run_not_known__counts_as_none(void **state)
{
	(void)state;
	struct blade blade = {.life = {true, length_from_mm(1000)}};
	assert_int_equal(length_to_nm(blade_life_left(&blade).value), 1000000000);
	blade.tool.run = (struct known_length){true, length_from_mm(1500)};
	assert_int_equal(length_to_nm(blade_life_left(&blade).value), -500000000);
	blade.life.known = false;
	assert_false(blade_life_left(&blade).known);
}

static void die_life_left__a_turn_begun__counts_as_used(void **state)
{
	(void)state;
	int64_t left = 0;
	struct die die = {.life = {true, 10}, .own = repeat_of_length(length_from_mm(300))};
	assert_true(die_life_left(&die, &left));
	assert_int_equal(left, 10);
	die.tool.run = (struct known_length){true, length_from_mm(301)};
	assert_true(die_life_left(&die, &left));
	assert_int_equal(left, 8);
	die.tool.run = (struct known_length){true, length_from_mm(3001)};
	assert_true(die_life_left(&die, &left));
	assert_int_equal(left, -1);
	die.own.known = false;
	assert_false(die_life_left(&die, &left));
}

static void volume_lost__to_a_tenth_of_a_percent__only_where_both_are_known(void **state)
{
	(void)state;
	struct anilox roll = {.volume = {true, volume_from_micro(3000000)}};
	assert_false(volume_lost(&roll).known);
	roll.reading.now = (struct known_volume){true, volume_from_micro(2000000)};
	assert_string_equal(percent_text(volume_lost(&roll).value).bytes, "33.3%");
	roll.reading.now.value = volume_from_micro(3300000); /* read higher than when new */
	assert_string_equal(percent_text(volume_lost(&roll).value).bytes, "-10%");
	roll.volume.known = false;
	assert_false(volume_lost(&roll).known);
}

static void buildup_taken__diameter_before_undercut__else_not_known(void **state)
{
	(void)state;
	struct real_length buildup;
	struct cylinder cylinder = {.undercut = {true, length_from_mm(1.5)}};
	assert_true(buildup_taken(&cylinder, &buildup));
	assert_int_equal(length_to_nm(real_round(buildup)), 1500000);
	/* a diameter alone tells nothing where the repeat is not known */
	cylinder.diameter = (struct known_length){true, length_from_mm(90)};
	assert_true(buildup_taken(&cylinder, &buildup));
	assert_int_equal(length_to_nm(real_round(buildup)), 1500000);
	/* 300 / pi = 95.492966 mm; (95.492966 - 90) / 2 = 2.746483 mm */
	cylinder.own = repeat_of_length(length_from_mm(300));
	assert_true(buildup_taken(&cylinder, &buildup));
	assert_int_equal(length_to_nm(real_round(buildup)), 2746483);
	cylinder.diameter.known = false;
	cylinder.undercut.known = false;
	assert_false(buildup_taken(&cylinder, &buildup));
}

static void volume_loss_suits__at_and_past_the_limit__doubt_only_past_it(void **state)
{
	(void)state;
	struct limits limits = {.volume_loss = {.ppm = 200000}};
	struct anilox roll = {.volume = {true, volume_from_micro(5000000)},
	                      .reading = {.now = {true, volume_from_micro(4000000)}}};
	assert_int_equal(volume_loss_suits(&roll, &limits, NULL), SUITS_YES);
	roll.reading.now.value = volume_from_micro(3990000);
	assert_int_equal(volume_loss_suits(&roll, &limits, NULL), SUITS_DOUBTFUL);
}

static void volume_gain_suits__at_and_past_the_limit__doubt_only_past_it(void **state)
{
	(void)state;
	struct limits limits = {.volume_loss = {.ppm = 200000}};
	struct anilox roll = {.volume = {true, volume_from_micro(5000000)}};
	assert_int_equal(volume_gain_suits(&roll, &limits, NULL), SUITS_YES);
	roll.reading.now = (struct known_volume){true, volume_from_micro(6000000)};
	assert_int_equal(volume_gain_suits(&roll, &limits, NULL), SUITS_YES);
	roll.reading.now.value = volume_from_micro(6010000);
	assert_int_equal(volume_gain_suits(&roll, &limits, NULL), SUITS_DOUBTFUL);
}

static void runout_suits__known_or_not__against_the_limit(void **state)
{
	(void)state;
	struct limits limits = {.runout = length_from_mm(0.01)};
	struct cylinder cylinder = {.runout = {true, length_from_mm(0.01)}};
	assert_int_equal(runout_suits(&cylinder, &limits, NULL), SUITS_YES);
	cylinder.runout.value = length_from_mm(0.011);
	assert_int_equal(runout_suits(&cylinder, &limits, NULL), SUITS_NOT);
	cylinder.runout.known = false;
	assert_int_equal(runout_suits(&cylinder, &limits, NULL), SUITS_NOTED);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(revolutions_of__whole_turns__none_lost_to_arithmetic),
		cmocka_unit_test(blade_life_left__run_not_known__counts_as_none),
		cmocka_unit_test(die_life_left__a_turn_begun__counts_as_used),
		cmocka_unit_test(volume_lost__to_a_tenth_of_a_percent__only_where_both_are_known),
		cmocka_unit_test(buildup_taken__diameter_before_undercut__else_not_known),
		cmocka_unit_test(volume_loss_suits__at_and_past_the_limit__doubt_only_past_it),
		cmocka_unit_test(volume_gain_suits__at_and_past_the_limit__doubt_only_past_it),
		cmocka_unit_test(runout_suits__known_or_not__against_the_limit),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
