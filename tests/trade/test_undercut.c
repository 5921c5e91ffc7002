#include "published.h"

#define TWO_PLATES ARITHMETIC ", two plate thicknesses at 96 teeth 1/8 CP"

static void bare_diameter__two_plates_in_one_job__two_bare_cylinders(void **state)
{
	(void)state;
	static const struct {
		const char *plate;
		double bare_mm;
	} rows[] = {{"1.702mm", 92.855}, {"1.143mm", 93.973}};
	struct length tape = length_given("0.381mm");
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct length plate = length_given(rows[i].plate);
		struct real_length bare = bare_diameter(toothed(96, "1/8cp"), plate, tape);
		assert_published(real_to_mm(bare), rows[i].bare_mm, 0.0005, TWO_PLATES);
		/* and both print at the pitch line */
		struct real_length printed = printed_diameter(bare, plate, tape);
		assert_published(real_to_mm(length_around(printed)), 304.8, 0, ARITHMETIC);
	}
}

static void bare_diameter__undercut__is_a_difference_of_radii(void **state)
{
	(void)state;
	/*
	 * undercut = plate + tape; PrintWiki, "Undercut"; US Army TM 5-3610-286-10: difference of
	 * radii
	 */
	struct repeat repeat = toothed(96, "1/8cp");
	struct real_length pitch_line = pitch_diameter(pitch_given("1/8cp"), 96);
	struct real_length bare = bare_diameter(repeat, length_given("1.7mm"), length_given("0.38mm"));
	assert_published(real_to_mm(real_subtract(pitch_line, bare)) / 2, 2.08, 0,
	                 "PrintWiki, \"Undercut\"; US Army TM 5-3610-286-10");
}

static void bare_diameter__plain_repeat__as_on_teeth(void **state)
{
	(void)state;
	struct length plate = length_given("1.14mm");
	struct length tape = length_given("0.5mm");
	assert_published(real_to_mm(bare_diameter(plain("304.8mm"), plate, tape)),
	                 real_to_mm(bare_diameter(toothed(96, "1/8cp"), plate, tape)), 0, ARITHMETIC);
	assert_published(real_to_mm(bare_diameter(toothed(100, "m1"), plate, tape)), 100 - 3.28, 0,
	                 ARITHMETIC);
}

static void length_around__build_up_of_a_thousandth__0_00628_inch_longer(void **state)
{
	(void)state;
	struct real_length bare = real_from_length(length_given("3.656in"));
	struct length tape = length_given("0.015in");
	struct real_length thin = length_around(printed_diameter(bare, length_given("0.067in"), tape));
	struct real_length thick = length_around(printed_diameter(bare, length_given("0.068in"), tape));
	assert_published(real_to_in(real_subtract(thick, thin)), 0.00628, 0.000005, ARITHMETIC);
}

static void length_around__754_teeth__their_circumference(void **state)
{
	(void)state;
	const char *source = "Flexography: Principles & Practices, 5th ed., FTA/FFTA 1999 (B)";
	struct real_length diameter = real_from_length(length_given("60.001in"));
	/*
	 * the diameter is rounded to 0.001 in, the circumference therefore by pi times half of that
	 */
	assert_published(real_to_in(length_around(diameter)), 188.5, 0.0016, source);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(bare_diameter__two_plates_in_one_job__two_bare_cylinders),
		cmocka_unit_test(bare_diameter__undercut__is_a_difference_of_radii),
		cmocka_unit_test(bare_diameter__plain_repeat__as_on_teeth),
		cmocka_unit_test(length_around__build_up_of_a_thousandth__0_00628_inch_longer),
		cmocka_unit_test(length_around__754_teeth__their_circumference),
	};
	return cmocka_run_group_tests_name("trade/undercut", tests, NULL, NULL);
}
