/* Does a magnetic cylinder suit a die? */
#include "builders.h"

#define SMALL_GAP "\"Small gap - big effect\", NarrowWebTech (B)"

static struct judged judge_magnetic(struct magnetic_cylinder cylinder, struct die die)
{
	struct press press = geared_press();
	struct judged judged;
	struct limits limits = limits_by_default();
	JUDGE(judged, magnetic_cylinder_suits, &cylinder, &die, &press, &limits);
	return judged;
}

static void magnetic_cylinder__teeth_and_pitch__the_dies(void **state)
{
	(void)state;
	struct magnetic_cylinder cylinder = magnetic_cylinder_of_shelf();
	struct judged judged = judge_magnetic(cylinder, die_of_shelf());
	assert_suits(&judged);
	cylinder.own = toothed(95, "1/8cp");
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "95 teeth 1/8cp, 96 teeth 1/8cp needed");
	cylinder.own = toothed(48, "1/4cp");
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "48 teeth 1/4cp, 96 teeth 1/8cp needed");
	cylinder.own = toothed(96, "3.175mmcp");
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_suits(&judged);
	cylinder.own.known = false;
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "teeth and pitch not known");
}

static void magnetic_cylinder__european_die_on_american_cylinder__does_not_suit(void **state)
{
	(void)state;
	/* 0.480 mm in Europe, 0.483 mm in the US; 3 um is enough to spoil the cut: NarrowWebTech (B) */
	struct magnetic_cylinder cylinder = magnetic_cylinder_of_shelf();
	cylinder.die_gap = long_known("0.483mm");
	struct judged judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "gap 483um, the die is made for 480um");
	/* and the other way about */
	struct die die = die_of_shelf();
	die.die_gap = long_known("0.483mm");
	judged = judge_magnetic(magnetic_cylinder_of_shelf(), die);
	assert_only(&judged, SUITS_NOT, "gap 480um, the die is made for 483um");
	judged = judge_magnetic(cylinder, die);
	if (judged.level != SUITS_YES)
		fail_msg("0.483 on 0.483: %s", SMALL_GAP);
}

static void magnetic_cylinder__gap__equal_to_the_micrometre(void **state)
{
	(void)state;
	struct magnetic_cylinder cylinder = magnetic_cylinder_of_shelf();
	cylinder.die_gap = longer_by("0.4805mm", -1);
	struct judged judged = judge_magnetic(cylinder, die_of_shelf());
	assert_suits(&judged);
	cylinder.die_gap = long_known("0.4805mm");
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "gap 481um, the die is made for 480um");
	/* 0.0189 in are 480.06 um */
	cylinder.die_gap = long_known("0.0189in");
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_suits(&judged);
}

static void magnetic_cylinder__gap_not_known__does_not_suit(void **state)
{
	(void)state;
	struct magnetic_cylinder cylinder = magnetic_cylinder_of_shelf();
	struct die die = die_of_shelf();
	die.die_gap.known = false;
	struct judged judged = judge_magnetic(cylinder, die);
	assert_only(&judged, SUITS_NOT, "gap of the die not known");
	cylinder.die_gap.known = false;
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "gap of the magnetic cylinder not known");
}

static void magnetic_cylinder__face__at_least_the_dies(void **state)
{
	(void)state;
	struct magnetic_cylinder cylinder = magnetic_cylinder_of_shelf();
	struct die die = die_of_shelf();
	cylinder.tool.face = longer_by("330mm", -1);
	struct judged judged = judge_magnetic(cylinder, die);
	assert_only(&judged, SUITS_NOT, "face 329.999999mm, the die has 330mm");
	/* the usable band of either counts */
	cylinder.tool.face = long_known("400mm");
	cylinder.tool.face_from = long_known("0mm");
	cylinder.tool.face_to = long_known("306mm");
	die.tool.face_from = long_known("24mm");
	die.tool.face_to = long_known("330mm");
	judged = judge_magnetic(cylinder, die);
	assert_suits(&judged);
	cylinder.tool.face_from = longer_by("0mm", 1);
	judged = judge_magnetic(cylinder, die);
	assert_only(&judged, SUITS_NOT, "face 305.999999mm, the die has 306mm");
	cylinder = magnetic_cylinder_of_shelf();
	cylinder.tool.face.known = false;
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "face of the magnetic cylinder not known");
	die = die_of_shelf();
	die.tool.face.known = false;
	judged = judge_magnetic(magnetic_cylinder_of_shelf(), die);
	assert_only(&judged, SUITS_NOT, "face of the die not known");
}

static void magnetic_cylinder__fit__as_of_any_tool(void **state)
{
	(void)state;
	struct magnetic_cylinder cylinder = magnetic_cylinder_of_shelf();
	cylinder.tool.fit = "wide";
	struct judged judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "fit wide, narrow needed");
	cylinder.tool.fit = NULL;
	judged = judge_magnetic(cylinder, die_of_shelf());
	assert_only(&judged, SUITS_NOT, "fit not known, narrow needed");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(magnetic_cylinder__teeth_and_pitch__the_dies),
		cmocka_unit_test(magnetic_cylinder__european_die_on_american_cylinder__does_not_suit),
		cmocka_unit_test(magnetic_cylinder__gap__equal_to_the_micrometre),
		cmocka_unit_test(magnetic_cylinder__gap_not_known__does_not_suit),
		cmocka_unit_test(magnetic_cylinder__face__at_least_the_dies),
		cmocka_unit_test(magnetic_cylinder__fit__as_of_any_tool),
	};
	return cmocka_run_group_tests_name("trade/suits_magnetic_cylinder", tests, NULL, NULL);
}
