/* Could a press take a tool, whatever the job? What is not known is a doubt. */
#include "builders.h"

static struct judged judge_cylinder(struct cylinder cylinder, struct press press)
{
	struct judged judged;
	struct limits limits = limits_by_default();
	JUDGE(judged, press_takes_cylinder, &cylinder, &press, &limits);
	return judged;
}

static struct judged judge_gear(struct gear gear, struct press press)
{
	struct judged judged;
	JUDGE(judged, press_takes_gear, &gear, &press);
	return judged;
}

static struct judged judge_die(struct die die, struct press press)
{
	struct judged judged;
	struct limits limits = limits_by_default();
	JUDGE(judged, press_takes_die, &die.tool, die.own, &press, &limits);
	return judged;
}

static void press_takes__tools_of_the_shelf__yes(void **state)
{
	(void)state;
	struct judged judged = judge_cylinder(cylinder_of_shelf(), geared_press());
	assert_suits(&judged);
	judged = judge_cylinder(demountable_cylinder(), geared_press());
	assert_suits(&judged);
	judged = judge_gear(gear_of_shelf(), geared_press());
	assert_suits(&judged);
	judged = judge_die(die_of_shelf(), geared_press());
	assert_suits(&judged);
	judged = judge_cylinder(cylinder_of_shelf(), servo_press());
	assert_suits(&judged);
}

/* 96 teeth of 1/8 CP are 304.8 mm: both ends are included. */
static void press_takes_cylinder__length_at_the_ends__to_the_nanometre(void **state)
{
	(void)state;
	struct press press = geared_press();
	press.repeat_min = press.repeat_max = long_known("304.8mm");
	struct judged judged = judge_cylinder(cylinder_of_shelf(), press);
	assert_suits(&judged);
	press.repeat_max = longer_by("304.8mm", -1);
	press.repeat_min = long_known("200mm");
	judged = judge_cylinder(cylinder_of_shelf(), press);
	assert_only(&judged, SUITS_NOT, "length 304.8mm, press P1 takes 304.799999mm at most");
	press.repeat_max = long_known("600mm");
	press.repeat_min = longer_by("304.8mm", 1);
	judged = judge_cylinder(cylinder_of_shelf(), press);
	assert_only(&judged, SUITS_NOT, "length 304.8mm, press P1 takes 304.800001mm at least");
}

static void press_takes__fit__shared_other_unknown(void **state)
{
	(void)state;
	struct cylinder cylinder = cylinder_of_shelf();
	struct press press = geared_press();
	cylinder.tool.fit = "wide,broad";
	struct judged judged = judge_cylinder(cylinder, press);
	assert_only(&judged, SUITS_NOT, "fit wide,broad, P1 takes narrow");
	cylinder.tool.fit = NULL;
	judged = judge_cylinder(cylinder, press);
	assert_only(&judged, SUITS_DOUBTFUL, "fit not known, P1 takes narrow");
	JUDGE(judged, press_takes_fit, &cylinder.tool, &press);
	assert_only(&judged, SUITS_DOUBTFUL, "fit not known, P1 takes narrow");
	press.fit = NULL;
	judged = judge_cylinder(cylinder, press);
	assert_suits(&judged);
}

static void press_takes_cylinder__how_it_is_driven(void **state)
{
	(void)state;
	struct cylinder cylinder = cylinder_of_shelf();
	cylinder.drive = DRIVE_GEARLESS;
	struct judged judged = judge_cylinder(cylinder, geared_press());
	assert_only(&judged, SUITS_NOT, "gearless, press P1 is geared");
	judged = judge_cylinder(cylinder, servo_press());
	assert_suits(&judged);
	cylinder.drive = DRIVE_UNKNOWN;
	judged = judge_cylinder(cylinder, geared_press());
	assert_only(&judged, SUITS_DOUBTFUL, "drive not known, press P1 is geared");
	judged = judge_cylinder(cylinder_of_shelf(), press_of_unknown_drive());
	assert_only(&judged, SUITS_DOUBTFUL, "drive of press P1 not known");
}

static void press_takes__pitch_and_angles__of_the_train(void **state)
{
	(void)state;
	struct gear gear = gear_of_shelf();
	gear.pressure_angle = angle_known("14.5deg");
	struct judged judged = judge_gear(gear, geared_press());
	assert_only(&judged, SUITS_NOT, "pressure angle 14.5deg, 20deg of the gear train");
	gear = gear_of_shelf();
	gear.own = toothed(48, "1/4cp");
	judged = judge_gear(gear, geared_press());
	assert_only(&judged, SUITS_NOT, "pitch 1/4cp, press P1 takes 1/8cp");
	gear.own.known = false;
	judged = judge_gear(gear, geared_press());
	assert_only(&judged, SUITS_DOUBTFUL, "teeth and pitch not known");
	judged = judge_gear(gear_of_shelf(), servo_press());
	assert_only(&judged, SUITS_NOT, "press P1 has a motor for each cylinder, it takes no gear");
	struct die die = die_of_shelf();
	die.own = toothed(48, "1/4cp");
	judged = judge_die(die, geared_press());
	assert_only(&judged, SUITS_NOT, "pitch 1/4cp, press P1 takes 1/8cp");
	judged = judge_die(die, servo_press());
	assert_suits(&judged);
	struct press press = geared_press();
	press.pitch_count = 0;
	judged = judge_die(die, press);
	assert_only(&judged, SUITS_DOUBTFUL, "pitches of press P1 not known");
}

static void press_takes__ends_of_the_range_not_known__doubt(void **state)
{
	(void)state;
	struct press press = geared_press();
	press.repeat_min.known = false;
	struct judged judged = judge_die(die_of_shelf(), press);
	assert_only(&judged, SUITS_DOUBTFUL, "repeat_min of press P1 not known");
	press.repeat_min.known = true;
	press.repeat_max.known = false;
	judged = judge_die(die_of_shelf(), press);
	assert_only(&judged, SUITS_DOUBTFUL, "repeat_max of press P1 not known");
	struct die die = die_of_shelf();
	die.own.known = false;
	judged = judge_die(die, geared_press());
	assert_only(&judged, SUITS_DOUBTFUL, "length around not known");
}

static void tool_condition_suits__only_ready(void **state)
{
	(void)state;
	struct tool tool = tool_on_shelf(TAG_ANILOX);
	struct judged judged;
	JUDGE(judged, tool_condition_suits, &tool);
	assert_suits(&judged);
	tool.condition = CONDITION_HOLD;
	tool.condition_text = "scored band";
	JUDGE(judged, tool_condition_suits, &tool);
	assert_only(&judged, SUITS_NOT, "on hold: scored band");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(press_takes__tools_of_the_shelf__yes),
		cmocka_unit_test(press_takes_cylinder__length_at_the_ends__to_the_nanometre),
		cmocka_unit_test(press_takes__fit__shared_other_unknown),
		cmocka_unit_test(press_takes_cylinder__how_it_is_driven),
		cmocka_unit_test(press_takes__pitch_and_angles__of_the_train),
		cmocka_unit_test(press_takes__ends_of_the_range_not_known__doubt),
		cmocka_unit_test(tool_condition_suits__only_ready),
	};
	return cmocka_run_group_tests_name("suits_press", tests, NULL, NULL);
}
