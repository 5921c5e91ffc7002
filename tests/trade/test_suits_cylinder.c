/* Does a plate cylinder suit a station? Build-up and runout: see test_suits_buildup.c. */
#include "builders.h"

/* What a test bends one respect of. */
struct given {
	struct cylinder cylinder;
	struct station station;
	struct layout layout;
	struct press press;
	struct limits limits;
};

static struct given all_suits(void)
{
	return (struct given){
		.cylinder = cylinder_of_shelf(),
		.station = station_of_job(),
		.layout = layout_of_job(),
		.press = geared_press(),
		.limits = limits_by_default(),
	};
}

static struct judged judge(const struct given *given)
{
	struct judged judged;
	JUDGE(judged, cylinder_suits, &given->cylinder, &given->station, &given->layout, &given->press,
	      &given->limits);
	return judged;
}

static void assert_given_suits(const struct given *given)
{
	struct judged judged = judge(given);
	assert_suits(&judged);
}

static void assert_given_only(const struct given *given, enum suits level, const char *text)
{
	struct judged judged = judge(given);
	assert_only(&judged, level, text);
}

static void cylinder_suits__all_as_asked__yes(void **state)
{
	(void)state;
	struct given given = all_suits();
	assert_given_suits(&given);
}

/* ---- fit and face */

static void fit__one_word_in_common__suits(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press.fit = "long-journal,wide";
	assert_given_suits(&given);
	given.press.fit = "long-journal";
	assert_given_only(&given, SUITS_NOT, "fit narrow,wide, long-journal needed");
	/* a word is more than its beginning */
	given.press.fit = "nar,wider";
	assert_given_only(&given, SUITS_NOT, "fit narrow,wide, one of nar, wider needed");
	given.cylinder.tool.fit = NULL;
	assert_given_only(&given, SUITS_NOT, "fit not known, one of nar, wider needed");
}

static void fit__press_without_fit__takes_everything(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press.fit = NULL;
	assert_given_suits(&given);
	given.cylinder.tool.fit = NULL;
	assert_given_suits(&given);
}

static void face__printed_width__inclusive(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.tool.face = long_known("306mm");
	assert_given_suits(&given);
	given.cylinder.tool.face = longer_by("306mm", -1);
	assert_given_only(&given, SUITS_NOT, "face 305.999999mm, 306mm needed");
	given.cylinder.tool.face.known = false;
	assert_given_only(&given, SUITS_NOT, "face not known");
}

static void face__shop_in_inches__told_in_inches(void **state)
{
	(void)state;
	/* a 13 in tool does not fit a 10 in press: Adcraft Labels (B); here the other way about */
	struct given given = all_suits();
	given.limits.units = UNITS_INCH;
	given.layout.printed_width = long_known("13in");
	given.cylinder.tool.face = long_known("10in");
	assert_given_only(&given, SUITS_NOT, "face 10in, 13in needed");
}

static void face__damaged_in_part__the_usable_band_counts(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.tool.face_from = long_known("10mm");
	given.cylinder.tool.face_to = long_known("316mm");
	assert_given_suits(&given);
	given.cylinder.tool.face_from = longer_by("10mm", 1);
	assert_given_only(&given, SUITS_NOT, "usable face 305.999999mm, 306mm needed");
	/* of a band with one end on record nobody knows how wide it is */
	given.cylinder.tool.face_to.known = false;
	assert_given_only(&given, SUITS_NOT, "usable face not known");
}

static void face__printed_width_not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.printed_width.known = false;
	assert_given_only(&given, SUITS_NOT, "printed width of the job not known");
}

/* ---- length and pitch */

static void length__registered__one_tooth_more_does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	/*
	 * One step of 1/8 CP, from one cylinder to the next: F. Burgos, "CP Versus DP: Understanding
	 * the Differences", FlexoExchange, flexoexchange.com/articles/cpdp_article.html
	 */
	given.cylinder.own = toothed(97, "1/8cp");
	assert_given_only(&given, SUITS_NOT,
	                  "length 307.975mm (97 teeth 1/8cp), 304.8mm (96 teeth 1/8cp) needed");
}

static void length__registered__same_pitch_spelled_in_mm_suits(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.own = toothed(96, "3.175mmcp");
	assert_given_suits(&given);
}

static void length__registered_in_another_pitch__suits_a_servo_press_only(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.own = toothed(48, "1/4cp");
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_among(&judged, SUITS_NOT, "pitch 1/4cp, 1/8cp needed");
	assert_among(&judged, SUITS_NOT, "pitch 1/4cp, press P1 takes 1/8cp");
	given.press = servo_press();
	assert_given_suits(&given);
}

static void length__module_near_1_8_cp__never_in_one_train(void **state)
{
	(void)state;
	/*
	 * 1/8 CP as a module is 1.01063 (arithmetic, 3.175/pi). CP against DP and module: not
	 * interchangeable (Flexography: Principles & Practices, 5th ed., FTA/FFTA 1999). As a
	 * mere length the two are within repeat_match.
	 */
	struct given given = all_suits();
	given.cylinder.own = toothed(96, "m1.01063");
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_among(&judged, SUITS_NOT, "pitch m1.01063, 1/8cp needed");
	given.press = servo_press();
	assert_given_suits(&given);
}

static void length__plain_repeat__within_repeat_match(void **state)
{
	(void)state;
	/* 0.010 mm: common practice, no source */
	struct given given = all_suits();
	given.press = servo_press();
	given.cylinder.drive = DRIVE_GEARLESS;
	given.cylinder.own = plain("304.81mm");
	assert_given_suits(&given);
	given.cylinder.own = repeat_of_length(longer_by("304.81mm", 1).value);
	assert_given_only(&given, SUITS_NOT, "length 304.81mm, 304.8mm (96 teeth 1/8cp) needed");
	given.cylinder.own = plain("304.79mm");
	assert_given_suits(&given);
	given.cylinder.own = repeat_of_length(longer_by("304.79mm", -1).value);
	assert_given_only(&given, SUITS_NOT, "length 304.79mm, 304.8mm (96 teeth 1/8cp) needed");
}

static void length__not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press = servo_press();
	given.cylinder.own.known = false;
	assert_given_only(&given, SUITS_NOT, "length around not known");
	given = all_suits();
	given.layout.repeat.known = false;
	assert_given_only(&given, SUITS_NOT, "repeat of the job not known");
}

static void length__not_registered__any_that_the_press_takes(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press = servo_press();
	given.station.registered = false;
	given.cylinder.undercut = long_known("2.083mm");
	static const struct {
		const char *limit;
		int64_t beyond;
		const char *text;
	} rows[] = {
		{"200mm", 0, NULL},
		{"600mm", 0, NULL},
		{"200mm", -1, "length 199.999999mm, press P1 takes 200mm at least"},
		{"600mm", 1, "length 600.000001mm, press P1 takes 600mm at most"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		given.cylinder.own = repeat_of_length(longer_by(rows[i].limit, rows[i].beyond).value);
		if (rows[i].text)
			assert_given_only(&given, SUITS_NOT, rows[i].text);
		else
			assert_given_suits(&given);
	}
}

static void length__not_registered__in_a_pitch_of_the_train(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.station.registered = false;
	given.cylinder.own = toothed(100, "1/8cp"); /* another length than the repeat */
	assert_given_suits(&given);
	given.cylinder.own = toothed(40, "10dp");
	assert_given_only(&given, SUITS_NOT, "pitch 10dp, press P1 takes 1/8cp");
	given.cylinder.drive = DRIVE_DEMOUNTABLE;
	assert_given_only(&given, SUITS_NOT, "pitch 10dp, press P1 takes 1/8cp");
	given.press.pitch_count = 0;
	assert_given_only(&given, SUITS_NOT, "pitches of press P1 not known");
}

static void length__not_registered_and_not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press = servo_press();
	given.station.registered = false;
	given.cylinder.own.known = false;
	assert_given_only(&given, SUITS_NOT, "length around not known");
	given = all_suits();
	given.station.registered = false;
	given.press.repeat_min.known = false;
	assert_given_only(&given, SUITS_NOT, "repeat_min of press P1 not known");
	given = all_suits();
	given.station.registered = false;
	given.press.repeat_max.known = false;
	assert_given_only(&given, SUITS_NOT, "repeat_max of press P1 not known");
}

static void length__pitch_of_job_or_cylinder_not_known__not_on_a_geared_press(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.repeat = plain("304.8mm");
	assert_given_only(&given, SUITS_NOT, "pitch of the job not known");
	given = all_suits();
	given.cylinder.own = plain("304.8mm");
	given.cylinder.drive = DRIVE_DEMOUNTABLE;
	assert_given_only(&given, SUITS_NOT, "pitch of the cylinder not known");
}

/* ---- drive and train */

static void drive__geared_press__takes_geared_and_demountable(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.drive = DRIVE_DEMOUNTABLE;
	assert_given_suits(&given);
	given.cylinder.drive = DRIVE_GEARLESS;
	assert_given_only(&given, SUITS_NOT, "gearless, press P1 is geared");
	given.cylinder.drive = DRIVE_UNKNOWN;
	assert_given_only(&given, SUITS_NOT, "drive not known, press P1 is geared");
}

static void drive__servo_press__takes_any(void **state)
{
	(void)state;
	static const enum cylinder_drive drives[] = {DRIVE_UNKNOWN, DRIVE_GEARED, DRIVE_DEMOUNTABLE,
	                                             DRIVE_GEARLESS};
	for (size_t i = 0; i < COUNT_OF(drives); i++) {
		struct given given = all_suits();
		given.press = servo_press();
		given.cylinder.drive = drives[i];
		assert_given_suits(&given);
	}
}

static void drive__of_the_press_not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press = press_of_unknown_drive();
	assert_given_only(&given, SUITS_NOT, "drive of press P1 not known");
}

static void train__geared_cylinder__angles_equal_where_both_are_known(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.pressure_angle = angle_known("14.5deg");
	assert_given_only(&given, SUITS_NOT, "pressure angle 14.5deg, 20deg of the gear train");
	given.press.pressure_angle.known = false;
	assert_given_suits(&given);
	given = all_suits();
	given.cylinder.helix = angle_known("0.000001deg");
	assert_given_only(&given, SUITS_NOT, "helix 0.000001deg, 0deg of the gear train");
	given.cylinder.helix.known = false;
	given.cylinder.pressure_angle.known = false;
	assert_given_suits(&given);
}

static void train__demountable_cylinder__its_loose_gear_is_asked_instead(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder = demountable_cylinder();
	given.cylinder.pressure_angle = angle_known("14.5deg");
	given.cylinder.helix = angle_known("5deg");
	assert_given_suits(&given);
}

static void train__servo_press__angles_do_not_matter(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press = servo_press();
	given.press.pressure_angle = angle_known("20deg");
	given.cylinder.pressure_angle = angle_known("14.5deg");
	assert_given_suits(&given);
}

/* ---- all rules together */

static void cylinder_suits__several_rules_broken__every_reason_is_told(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press.fit = "long-journal";
	given.cylinder.tool.face = long_known("300mm");
	given.cylinder.own = toothed(97, "1/8cp");
	given.cylinder.drive = DRIVE_GEARLESS;
	given.cylinder.undercut.known = false;
	given.cylinder.runout.known = false;
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_int_equal(judged.remarks.count, 6);
	assert_among(&judged, SUITS_NOT, "fit narrow,wide, long-journal needed");
	assert_among(&judged, SUITS_NOT, "face 300mm, 306mm needed");
	assert_among(&judged, SUITS_NOT,
	             "length 307.975mm (97 teeth 1/8cp), 304.8mm (96 teeth 1/8cp) needed");
	assert_among(&judged, SUITS_NOT, "gearless, press P1 is geared");
	assert_among(&judged, SUITS_DOUBTFUL, "neither diameter nor undercut known");
	assert_among(&judged, SUITS_NOTED, "runout not known");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cylinder_suits__all_as_asked__yes),
		cmocka_unit_test(fit__one_word_in_common__suits),
		cmocka_unit_test(fit__press_without_fit__takes_everything),
		cmocka_unit_test(face__printed_width__inclusive),
		cmocka_unit_test(face__shop_in_inches__told_in_inches),
		cmocka_unit_test(face__damaged_in_part__the_usable_band_counts),
		cmocka_unit_test(face__printed_width_not_known__does_not_suit),
		cmocka_unit_test(length__registered__one_tooth_more_does_not_suit),
		cmocka_unit_test(length__registered__same_pitch_spelled_in_mm_suits),
		cmocka_unit_test(length__registered_in_another_pitch__suits_a_servo_press_only),
		cmocka_unit_test(length__module_near_1_8_cp__never_in_one_train),
		cmocka_unit_test(length__plain_repeat__within_repeat_match),
		cmocka_unit_test(length__not_known__does_not_suit),
		cmocka_unit_test(length__not_registered__any_that_the_press_takes),
		cmocka_unit_test(length__not_registered__in_a_pitch_of_the_train),
		cmocka_unit_test(length__not_registered_and_not_known__does_not_suit),
		cmocka_unit_test(length__pitch_of_job_or_cylinder_not_known__not_on_a_geared_press),
		cmocka_unit_test(drive__geared_press__takes_geared_and_demountable),
		cmocka_unit_test(drive__servo_press__takes_any),
		cmocka_unit_test(drive__of_the_press_not_known__does_not_suit),
		cmocka_unit_test(train__geared_cylinder__angles_equal_where_both_are_known),
		cmocka_unit_test(train__demountable_cylinder__its_loose_gear_is_asked_instead),
		cmocka_unit_test(train__servo_press__angles_do_not_matter),
		cmocka_unit_test(cylinder_suits__several_rules_broken__every_reason_is_told),
	};
	return cmocka_run_group_tests_name("trade/suits_cylinder", tests, NULL, NULL);
}
