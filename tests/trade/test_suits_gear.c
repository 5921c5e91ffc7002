/* Which cylinder needs a loose gear, and does that gear suit it? */
#include "builders.h"

static void cylinder_needs_gear__demountable_on_a_geared_press__only_that(void **state)
{
	(void)state;
	struct press geared = geared_press();
	struct press servo = servo_press();
	struct press unknown = press_of_unknown_drive();
	struct cylinder cylinder = demountable_cylinder();
	assert_true(cylinder_needs_gear(&cylinder, &geared));
	assert_false(cylinder_needs_gear(&cylinder, &servo));
	assert_false(cylinder_needs_gear(&cylinder, &unknown));
	cylinder.drive = DRIVE_GEARED;
	assert_false(cylinder_needs_gear(&cylinder, &geared));
	cylinder.drive = DRIVE_GEARLESS;
	assert_false(cylinder_needs_gear(&cylinder, &geared));
	cylinder.drive = DRIVE_UNKNOWN;
	assert_false(cylinder_needs_gear(&cylinder, &geared));
}

static struct judged judge_gear(struct gear gear, struct cylinder cylinder, struct press press)
{
	struct judged judged;
	struct limits limits = limits_by_default();
	JUDGE(judged, gear_suits, &gear, &cylinder, &press, &limits);
	return judged;
}

static void gear_suits__teeth_and_pitch__the_cylinders(void **state)
{
	(void)state;
	struct gear gear = gear_of_shelf();
	struct judged judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_suits(&judged);
	gear.own = toothed(97, "1/8cp");
	judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_only(&judged, SUITS_NOT, "97 teeth 1/8cp, 96 teeth 1/8cp needed");
	/* as long around, but of other teeth */
	gear.own = toothed(48, "1/4cp");
	judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_among(&judged, SUITS_NOT, "48 teeth 1/4cp, 96 teeth 1/8cp needed");
	assert_among(&judged, SUITS_NOT, "pitch 1/4cp, press P1 takes 1/8cp");
}

static void gear_suits__teeth_or_pitch_not_known__does_not_suit(void **state)
{
	(void)state;
	struct gear gear = gear_of_shelf();
	struct cylinder cylinder = demountable_cylinder();
	cylinder.own.known = false;
	struct judged judged = judge_gear(gear, cylinder, geared_press());
	assert_only(&judged, SUITS_NOT, "teeth and pitch not known");
	cylinder.own = plain("304.8mm");
	judged = judge_gear(gear, cylinder, geared_press());
	assert_only(&judged, SUITS_NOT, "teeth and pitch not known");
	gear.own.known = false;
	judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_int_equal(judged.remarks.count, 2);
	assert_among(&judged, SUITS_NOT, "teeth and pitch not known");
	assert_among(&judged, SUITS_NOT, "pitch not known, press P1 is geared");
}

static void gear_suits__module_near_1_8_cp__does_not_suit(void **state)
{
	(void)state;
	/* Flexography: Principles & Practices, 5th ed., FTA/FFTA 1999: CP and DP not interchangeable */
	struct gear gear = gear_of_shelf();
	gear.own = toothed(96, "m1.01063");
	struct judged judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_among(&judged, SUITS_NOT, "96 teeth m1.01063, 96 teeth 1/8cp needed");
}

static void gear_suits__fit_and_face__not_asked(void **state)
{
	(void)state;
	struct gear gear = gear_of_shelf();
	gear.tool.fit = NULL;
	gear.tool.face.known = false;
	struct judged judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_suits(&judged);
}

static void gear_suits__bore__equal_where_both_are_known(void **state)
{
	(void)state;
	struct gear gear = gear_of_shelf();
	struct cylinder cylinder = demountable_cylinder();
	gear.bore = longer_by("50mm", 1);
	struct judged judged = judge_gear(gear, cylinder, geared_press());
	assert_only(&judged, SUITS_NOT, "bore 50.000001mm, 50mm of the cylinder");
	cylinder.bore.known = false;
	judged = judge_gear(gear, cylinder, geared_press());
	assert_suits(&judged);
	cylinder.bore = long_known("50mm");
	gear.bore.known = false;
	judged = judge_gear(gear, cylinder, geared_press());
	assert_suits(&judged);
}

static void gear_suits__angles__those_of_cylinder_and_train(void **state)
{
	(void)state;
	struct cylinder cylinder = demountable_cylinder();
	struct gear gear = gear_of_shelf();
	struct press press = geared_press();
	gear.pressure_angle = angle_known("14.5deg");
	struct judged judged = judge_gear(gear, cylinder, press);
	assert_int_equal(judged.remarks.count, 2);
	assert_among(&judged, SUITS_NOT, "pressure angle 14.5deg, 20deg of the cylinder");
	assert_among(&judged, SUITS_NOT, "pressure angle 14.5deg, 20deg of the gear train");
	cylinder.pressure_angle.known = false;
	judged = judge_gear(gear, cylinder, press);
	assert_only(&judged, SUITS_NOT, "pressure angle 14.5deg, 20deg of the gear train");
	press.pressure_angle.known = false;
	judged = judge_gear(gear, cylinder, press);
	assert_suits(&judged);
	gear.helix = angle_known("5deg");
	cylinder.helix = angle_known("5deg");
	judged = judge_gear(gear, cylinder, press);
	assert_only(&judged, SUITS_NOT, "helix 5deg, 0deg of the gear train");
	press.helix.known = false;
	judged = judge_gear(gear, cylinder, press);
	assert_suits(&judged);
	cylinder.helix = angle_known("4deg");
	judged = judge_gear(gear, cylinder, press);
	assert_only(&judged, SUITS_NOT, "helix 5deg, 4deg of the cylinder");
	gear.helix.known = false;
	gear.pressure_angle.known = false;
	judged = judge_gear(gear, demountable_cylinder(), geared_press());
	assert_suits(&judged);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cylinder_needs_gear__demountable_on_a_geared_press__only_that),
		cmocka_unit_test(gear_suits__teeth_and_pitch__the_cylinders),
		cmocka_unit_test(gear_suits__teeth_or_pitch_not_known__does_not_suit),
		cmocka_unit_test(gear_suits__module_near_1_8_cp__does_not_suit),
		cmocka_unit_test(gear_suits__fit_and_face__not_asked),
		cmocka_unit_test(gear_suits__bore__equal_where_both_are_known),
		cmocka_unit_test(gear_suits__angles__those_of_cylinder_and_train),
	};
	return cmocka_run_group_tests_name("trade/suits_gear", tests, NULL, NULL);
}
