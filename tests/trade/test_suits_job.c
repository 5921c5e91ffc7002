/* The needs of the job itself: its web, its repeat, its plates. */
#include "builders.h"

struct given {
	struct layout layout;
	struct press press;
	struct limits limits;
};

static struct given all_suits(void)
{
	return (struct given){
		.layout = layout_of_job(),
		.press = geared_press(),
		.limits = limits_by_default(),
	};
}

static struct judged judge_web(const struct given *given)
{
	struct judged judged;
	JUDGE(judged, web_suits, &given->layout, &given->press, &given->limits);
	return judged;
}

static struct judged judge_repeat(const struct given *given)
{
	struct judged judged;
	JUDGE(judged, repeat_suits, &given->layout, &given->press, &given->limits);
	return judged;
}

static void assert_web_suits(const struct given *given)
{
	struct judged judged = judge_web(given);
	assert_suits(&judged);
}

static void assert_web_only(const struct given *given, const char *text)
{
	struct judged judged = judge_web(given);
	assert_only(&judged, SUITS_NOT, text);
}

static void assert_repeat_suits(const struct given *given)
{
	struct judged judged = judge_repeat(given);
	assert_suits(&judged);
}

static void assert_repeat_only(const struct given *given, const char *text)
{
	struct judged judged = judge_repeat(given);
	assert_only(&judged, SUITS_NOT, text);
}

/* ---- web */

static void web__stock__at_least_what_is_needed(void **state)
{
	(void)state;
	struct given given = all_suits();
	assert_web_suits(&given);
	given.layout.web = long_known("316mm");
	assert_web_suits(&given);
	given.layout.web = longer_by("316mm", -1);
	assert_web_only(&given, "stock 315.999999mm, 316mm needed");
}

static void web__stock__at_most_what_the_press_takes(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.web = long_known("330mm");
	assert_web_suits(&given);
	given.layout.web = longer_by("330mm", 1);
	assert_web_only(&given, "web 330.000001mm, press P1 takes 330mm at most");
}

static void web__no_stock_named__the_web_needed_counts(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.web.known = false;
	given.press.web = long_known("316mm");
	assert_web_suits(&given);
	given.press.web = longer_by("316mm", -1);
	assert_web_only(&given, "web 316mm, press P1 takes 315.999999mm at most");
}

static void web__tool_of_13_inches_on_a_press_of_10__does_not_suit(void **state)
{
	(void)state;
	/* Adcraft Labels (B) */
	struct given given = all_suits();
	given.limits.units = UNITS_INCH;
	given.layout.web = long_known("13in");
	given.press.web = long_known("10in");
	assert_web_only(&given, "web 13in, press P1 takes 10in at most");
}

static void web__stock_too_narrow_and_press_too__both_reasons(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.web = long_known("300mm");
	given.press.web = long_known("250mm");
	struct judged judged = judge_web(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_int_equal(judged.remarks.count, 2);
	assert_among(&judged, SUITS_NOT, "stock 300mm, 316mm needed");
	assert_among(&judged, SUITS_NOT, "web 300mm, press P1 takes 250mm at most");
}

static void web__something_not_known__does_not_suit_and_says_what(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press.web.known = false;
	assert_web_only(&given, "web of press P1 not known");
	given = all_suits();
	given.layout.web_needed.known = false;
	given.layout.gap_across.known = false;
	assert_web_only(&given, "web needed not known: gap_across is not on record");
	given.layout.trim.known = false;
	assert_web_only(&given, "web needed not known: trim is not on record");
	given.layout.number_across.known = false;
	assert_web_only(&given, "web needed not known: number_across is not on record");
	given.layout.label_across.known = false;
	assert_web_only(&given, "web needed not known: label_across is not on record");
}

/* ---- repeat */

static void repeat__gap_around__published_limits_inclusive(void **state)
{
	(void)state;
	/* 2 mm least, 3 mm preferred, 4 mm most: Zebra ZT200 guide; the repeat gives 101.6 mm a label
	 */
	static const struct {
		const char *label;
		int64_t beyond;
		const char *text;
	} rows[] = {
		{"98.6mm", 0, NULL},
		{"99.6mm", 0, NULL},
		{"99.6mm", 1, "gap around 1.999999mm, 2mm at least"},
		{"97.6mm", 0, NULL},
		{"97.6mm", -1, "gap around 4.000001mm, 4mm at most"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct given given = all_suits();
		given.layout.label_around = longer_by(rows[i].label, rows[i].beyond);
		if (rows[i].text)
			assert_repeat_only(&given, rows[i].text);
		else
			assert_repeat_suits(&given);
	}
}

static void repeat__gap_limits_not_asked__labels_may_touch_but_not_overlap(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.gap_around_min.known = false;
	given.layout.label_around = long_known("101.6mm");
	assert_repeat_suits(&given);
	given.layout.label_around = long_known("102.6mm");
	assert_repeat_only(&given, "gap around -1mm, the labels overlap");
	given.layout.gap_around_max.known = false;
	assert_repeat_only(&given, "gap around -1mm, the labels overlap");
	given.layout.label_around = long_known("1mm");
	assert_repeat_suits(&given);
}

static void repeat__gap_not_known__does_not_suit_where_it_is_asked(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.number_around.known = false;
	assert_repeat_only(&given, "gap around not known: number_around is not on record");
	given = all_suits();
	given.layout.label_around.known = false;
	assert_repeat_only(&given, "gap around not known: label_around is not on record");
	given.layout.gap_around_min.known = false;
	assert_repeat_only(&given, "gap around not known: label_around is not on record");
	given.layout.gap_around_max.known = false;
	assert_repeat_suits(&given);
}

static void repeat__none_around__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.number_around = count_known(0);
	struct judged judged = judge_repeat(&given);
	assert_int_equal(judged.level, SUITS_NOT);
}

static void repeat__shortest_and_longest_of_the_press__inclusive(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press.repeat_min = long_known("304.8mm");
	given.press.repeat_max = long_known("304.8mm");
	assert_repeat_suits(&given);
	given.press.repeat_min = longer_by("304.8mm", 1);
	given.press.repeat_max = long_known("600mm");
	assert_repeat_only(&given, "repeat 304.8mm, press P1 takes 304.800001mm at least");
	given.press.repeat_min = long_known("200mm");
	given.press.repeat_max = longer_by("304.8mm", -1);
	assert_repeat_only(&given, "repeat 304.8mm, press P1 takes 304.799999mm at most");
	given.press.repeat_max.known = false;
	assert_repeat_only(&given, "repeat_max of press P1 not known");
	given.press.repeat_max = long_known("600mm");
	given.press.repeat_min.known = false;
	assert_repeat_only(&given, "repeat_min of press P1 not known");
}

static void repeat__with_pi__told_so_that_it_differs_from_the_limit(void **state)
{
	(void)state;
	/* 100 teeth of module 1: 314.159265... mm */
	struct given given = all_suits();
	given.press.pitches = train_of_module_1;
	given.layout.repeat = toothed(100, "m1");
	given.layout.label_around = long_known("101mm");
	given.press.repeat_max = long_known("314.159266mm");
	assert_repeat_suits(&given);
	given.press.repeat_max = long_known("314.159265mm");
	struct judged judged = judge_repeat(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	given.press.repeat_max = long_known("314.159mm");
	assert_repeat_only(&given, "repeat 314.159265mm, press P1 takes 314.159mm at most");
	given.press.repeat_max = long_known("314mm");
	assert_repeat_only(&given, "repeat 314.159mm, press P1 takes 314mm at most");
}

static void repeat__geared_press__pitch_of_the_job_in_the_train(void **state)
{
	(void)state;
	/* CP, DP and module gears never mesh: Flexography: Principles & Practices, FTA/FFTA 1999 */
	struct given given = all_suits();
	given.layout.repeat = toothed(96, "m1.01063");
	assert_repeat_only(&given, "pitch m1.01063, press P1 takes 1/8cp");
	given.layout.repeat = toothed(48, "1/4cp");
	assert_repeat_only(&given, "pitch 1/4cp, press P1 takes 1/8cp");
	given.layout.repeat = toothed(96, "3.175mmcp");
	assert_repeat_suits(&given);
	given.press.pitch_count = 0;
	assert_repeat_only(&given, "pitches of press P1 not known");
}

static void repeat__geared_press_with_several_pitches__any_of_them(void **state)
{
	(void)state;
	static const struct pitch pitches[] = {{PITCH_CP_INCH, 1, 8}, {PITCH_CP_INCH, 1, 4}};
	struct given given = all_suits();
	given.press.pitches = pitches;
	given.press.pitch_count = 2;
	given.layout.repeat = toothed(48, "1/4cp");
	assert_repeat_suits(&given);
	given.layout.repeat = toothed(40, "10dp");
	given.layout.label_around = long_known("103.4mm");
	assert_repeat_only(&given, "pitch 10dp, press P1 takes 1/8cp, 1/4cp");
}

static void repeat__plain__suits_a_servo_press_only(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.repeat = plain("304.8mm");
	assert_repeat_only(&given, "pitch not known, press P1 is geared");
	given.press = servo_press();
	assert_repeat_suits(&given);
	given.press = press_of_unknown_drive();
	assert_repeat_only(&given, "drive of press P1 not known");
}

static void repeat__not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.repeat.known = false;
	assert_repeat_only(&given, "repeat not known");
}

/* ---- plates */

static void plates__ready_ordered_none_or_not_on_record(void **state)
{
	(void)state;
	static const struct {
		const char *plates;
		enum suits level;
		const char *text;
	} rows[] = {
		{"ready", SUITS_YES, NULL},
		{"ordered", SUITS_DOUBTFUL, "plates ordered"},
		{"none", SUITS_DOUBTFUL, "plates none"},
		{NULL, SUITS_NOTED, "plates not on record"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct station station = station_of_job();
		station.plates = rows[i].plates;
		struct judged judged;
		JUDGE(judged, plates_suit, &station);
		if (rows[i].text)
			assert_only(&judged, rows[i].level, rows[i].text);
		else
			assert_suits(&judged);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(web__stock__at_least_what_is_needed),
		cmocka_unit_test(web__stock__at_most_what_the_press_takes),
		cmocka_unit_test(web__no_stock_named__the_web_needed_counts),
		cmocka_unit_test(web__tool_of_13_inches_on_a_press_of_10__does_not_suit),
		cmocka_unit_test(web__stock_too_narrow_and_press_too__both_reasons),
		cmocka_unit_test(web__something_not_known__does_not_suit_and_says_what),
		cmocka_unit_test(repeat__gap_around__published_limits_inclusive),
		cmocka_unit_test(repeat__gap_limits_not_asked__labels_may_touch_but_not_overlap),
		cmocka_unit_test(repeat__gap_not_known__does_not_suit_where_it_is_asked),
		cmocka_unit_test(repeat__none_around__does_not_suit),
		cmocka_unit_test(repeat__shortest_and_longest_of_the_press__inclusive),
		cmocka_unit_test(repeat__with_pi__told_so_that_it_differs_from_the_limit),
		cmocka_unit_test(repeat__geared_press__pitch_of_the_job_in_the_train),
		cmocka_unit_test(repeat__geared_press_with_several_pitches__any_of_them),
		cmocka_unit_test(repeat__plain__suits_a_servo_press_only),
		cmocka_unit_test(repeat__not_known__does_not_suit),
		cmocka_unit_test(plates__ready_ordered_none_or_not_on_record),
	};
	return cmocka_run_group_tests_name("trade/suits_job", tests, NULL, NULL);
}
