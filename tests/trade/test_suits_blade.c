/* Does a doctor blade assembly suit the roll it would doctor? */
#include "builders.h"

struct given {
	struct blade blade;
	struct anilox roll;
	struct layout layout;
	struct press press;
	struct limits limits;
};

static struct given all_suits(void)
{
	return (struct given){
		.blade = blade_of_shelf(),
		.roll = roll_of_shelf(),
		.layout = layout_of_job(),
		.press = geared_press(),
		.limits = limits_by_default(),
	};
}

static struct judged judge(const struct given *given)
{
	struct judged judged;
	JUDGE(judged, blade_suits, &given->blade, &given->roll, &given->layout, &given->press,
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

static void blade_suits__all_as_asked__yes(void **state)
{
	(void)state;
	struct given given = all_suits();
	assert_given_suits(&given);
}

static void fit__no_word_in_common__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.blade.tool.fit = "wide";
	assert_given_only(&given, SUITS_NOT, "fit wide, narrow needed");
	given.blade.tool.fit = NULL;
	assert_given_only(&given, SUITS_NOT, "fit not known, narrow needed");
	given.press.fit = NULL;
	assert_given_suits(&given);
}

static void length__ten_millimetres_from_the_rolls_face__inclusive(void **state)
{
	(void)state;
	/* common practice, no source */
	static const struct {
		const char *length;
		int64_t beyond;
		const char *text;
	} rows[] = {
		{"340mm", 0, NULL},
		{"340mm", 1, "length 340.000001mm, 330mm +/-10mm needed"},
		{"320mm", 0, NULL},
		{"320mm", -1, "length 319.999999mm, 330mm +/-10mm needed"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct given given = all_suits();
		given.blade.length = longer_by(rows[i].length, rows[i].beyond);
		if (rows[i].text)
			assert_given_only(&given, SUITS_NOT, rows[i].text);
		else
			assert_given_suits(&given);
	}
}

static void length__roll_damaged_in_part__its_whole_face_counts(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.tool.face_from = long_known("20mm");
	given.roll.tool.face_to = long_known("326mm");
	assert_given_suits(&given);
	given.blade.length = long_known("306mm");
	assert_given_only(&given, SUITS_NOT, "length 306mm, 330mm +/-10mm needed");
}

static void length__not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.blade.length.known = false;
	assert_given_only(&given, SUITS_NOT, "length not known");
	given = all_suits();
	given.roll.tool.face.known = false;
	assert_given_only(&given, SUITS_NOT, "face of the roll not known");
}

static void life__the_run__inclusive(void **state)
{
	(void)state;
	/* the run is 3048 m */
	struct given given = all_suits();
	given.blade.life = long_known("10000m");
	given.blade.tool.run = long_known("6952m");
	assert_given_suits(&given);
	given.blade.tool.run = longer_by("6952m", 1);
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_DOUBTFUL);
	given.blade.tool.run = long_known("7000m");
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 3000m, the run is 3048m");
	given.blade.tool.run = long_known("10000m");
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 0m, the run is 3048m");
	given.blade.tool.run = long_known("20000m");
	assert_given_only(&given, SUITS_DOUBTFUL, "10000m past its life of 10000m, the run is 3048m");
}

static void life__run_not_known__counts_nothing(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.blade.tool.run.known = false;
	given.blade.life = long_known("3048m");
	assert_given_suits(&given);
	given.blade.life = long_known("3047m");
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 3047m, the run is 3048m");
}

static void life__over_is_short__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.limits.life_over = LIFE_OVER_SHORT;
	given.blade.life = long_known("3048m");
	assert_given_suits(&given);
	given.blade.life = long_known("3000m");
	assert_given_only(&given, SUITS_NOT, "life left 3000m, the run is 3048m");
}

static void life__not_known__a_note(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.blade.life.known = false;
	assert_given_only(&given, SUITS_NOTED, "life not known");
	given.limits.life_over = LIFE_OVER_SHORT;
	assert_given_only(&given, SUITS_NOTED, "life not known");
}

static void life__quantity_not_known__not_asked(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.blade.life = long_known("1m");
	given.layout.run.known = false;
	assert_given_suits(&given);
}

static void blade_suits__several_rules_broken__every_reason_is_told(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.blade.tool.fit = "wide";
	given.blade.length = long_known("300mm");
	given.blade.life = long_known("3000m");
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_int_equal(judged.remarks.count, 3);
	assert_among(&judged, SUITS_NOT, "fit wide, narrow needed");
	assert_among(&judged, SUITS_NOT, "length 300mm, 330mm +/-10mm needed");
	assert_among(&judged, SUITS_DOUBTFUL, "life left 3000m, the run is 3048m");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(blade_suits__all_as_asked__yes),
		cmocka_unit_test(fit__no_word_in_common__does_not_suit),
		cmocka_unit_test(length__ten_millimetres_from_the_rolls_face__inclusive),
		cmocka_unit_test(length__roll_damaged_in_part__its_whole_face_counts),
		cmocka_unit_test(length__not_known__does_not_suit),
		cmocka_unit_test(life__the_run__inclusive),
		cmocka_unit_test(life__run_not_known__counts_nothing),
		cmocka_unit_test(life__over_is_short__does_not_suit),
		cmocka_unit_test(life__not_known__a_note),
		cmocka_unit_test(life__quantity_not_known__not_asked),
		cmocka_unit_test(blade_suits__several_rules_broken__every_reason_is_told),
	};
	return cmocka_run_group_tests_name("trade/suits_blade", tests, NULL, NULL);
}
