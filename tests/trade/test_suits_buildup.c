/* Build-up, runout and printed diameter of a plate cylinder at a station. */
#include "builders.h"

#define TWO_PLATES ARITHMETIC ", two plate thicknesses at 96 teeth 1/8 CP"

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

/* ---- build-up and runout */

static void buildup__two_plates_in_one_job__two_bare_diameters(void **state)
{
	(void)state;
	/* 1.702 and 1.143 mm plates on 0.381 mm tape at 96 teeth need bare 92.855 and 93.973 mm */
	static const struct {
		const char *plate, *bare, *text;
	} rows[] = {
		{"1.702mm", "92.855mm", NULL},
		{"1.143mm", "93.973mm", NULL},
		{"1.702mm", "93.973mm",
	     "diameter 93.973mm, 92.855mm needed for plate 1.702mm and tape 0.381mm"},
		{"1.143mm", "92.855mm",
	     "diameter 92.855mm, 93.973mm needed for plate 1.143mm and tape 0.381mm"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct given given = all_suits();
		given.station.plate = long_known(rows[i].plate);
		given.cylinder.diameter = long_known(rows[i].bare);
		if (rows[i].text)
			assert_given_only(&given, SUITS_NOT, rows[i].text);
		else
			assert_given_suits(&given);
	}
}

static void buildup__measured_on_a_module_cylinder__exactly_at_the_limit_suits(void **state)
{
	(void)state;
	/*
	 * 100 teeth of module 1 have a pitch diameter of 100 mm exactly; 0.025 mm on the radius
	 * (common practice, no source) is 0.05 mm on the diameter
	 */
	struct given given = all_suits();
	given.press.pitches = train_of_module_1;
	given.layout.repeat = toothed(100, "m1");
	given.cylinder.own = toothed(100, "m1");
	given.station.plate = long_known("1.14mm");
	given.station.tape = long_known("0.5mm");
	static const struct {
		const char *bare;
		int64_t beyond;
		enum suits level;
	} rows[] = {
		{"96.72mm", 0, SUITS_YES}, {"96.77mm", 0, SUITS_YES},  {"96.77mm", 1, SUITS_NOT},
		{"96.67mm", 0, SUITS_YES}, {"96.67mm", -1, SUITS_NOT},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		given.cylinder.diameter = longer_by(rows[i].bare, rows[i].beyond);
		struct judged judged = judge(&given);
		assert_int_equal(judged.level, rows[i].level);
	}
}

static void buildup__measured_on_a_circular_cylinder__last_nanometre_within_the_limit(void **state)
{
	(void)state;
	struct given given = all_suits();
	struct length build = length_given("2.083mm");
	struct real_length bare =
		bare_diameter(given.cylinder.own, given.station.plate.value, given.station.tape.value);
	long double most_nm = bare.nm + 50000;
	int64_t last = (int64_t)floorl(most_nm);
	assert_true(length_compare(build, given.cylinder.undercut.value) == 0);
	given.cylinder.diameter = (struct known_length){true, length_from_nm(last)};
	assert_given_suits(&given);
	given.cylinder.diameter.value = length_from_nm(last + 1);
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
}

static void buildup__undercut__inclusive(void **state)
{
	(void)state;
	/*
	 * undercut = plate + tape = 2.083 mm, radial: PrintWiki, "Undercut"; US Army TM 5-3610-286-10.
	 * Within 0.025 mm: common practice, no source
	 */
	static const struct {
		const char *undercut;
		int64_t beyond;
		const char *text;
	} rows[] = {
		{"2.108mm", 0, NULL},
		{"2.108mm", 1, "undercut 2.108001mm, plate and tape make 2.083mm"},
		{"2.058mm", 0, NULL},
		{"2.058mm", -1, "undercut 2.057999mm, plate and tape make 2.083mm"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct given given = all_suits();
		given.cylinder.undercut = longer_by(rows[i].undercut, rows[i].beyond);
		if (rows[i].text)
			assert_given_only(&given, SUITS_NOT, rows[i].text);
		else
			assert_given_suits(&given);
	}
}

static void buildup__measured_and_undercut__the_measured_diameter_counts(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.undercut = long_known("1mm");
	given.cylinder.diameter = long_known("92.855mm");
	assert_given_suits(&given);
}

static void buildup__neither_known__last_choice(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cylinder.undercut.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL, "neither diameter nor undercut known");
}

static void buildup__plate_or_tape_not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.station.plate.known = false;
	assert_given_only(&given, SUITS_NOT, "plate of station 3 not known");
	given = all_suits();
	given.station.tape.known = false;
	given.cylinder.diameter = long_known("92.855mm");
	assert_given_only(&given, SUITS_NOT, "tape of station 3 not known");
}

static void runout__new_rollers_figure__inclusive(void **state)
{
	(void)state;
	/* PrintWiki, "Total Indicated Runout": +-0.0005 in for a new roller */
	struct given given = all_suits();
	given.cylinder.runout = long_known("0.0005in");
	assert_given_suits(&given);
	given.cylinder.runout = longer_by("0.0005in", 1);
	assert_given_only(&given, SUITS_NOT, "runout 0.012701mm, 0.0127mm at most");
	given.cylinder.runout.known = false;
	assert_given_only(&given, SUITS_NOTED, "runout not known");
}

/* ---- printed diameter */

static void printed_diameter_of__diameter_else_undercut_else_left_out(void **state)
{
	(void)state;
	struct cylinder cylinder = cylinder_of_shelf();
	struct station station = station_of_job();
	struct real_length printed;
	cylinder.diameter = long_known("92.855mm");
	assert_true(printed_diameter_of(&cylinder, &station, &printed));
	assert_published(real_to_mm(printed), 92.855 + 2 * (1.702 + 0.381), 0, TWO_PLATES);
	/* own length/pi - 2 undercut + 2 (plate + tape), here with 0.01 mm too little undercut */
	cylinder.diameter.known = false;
	cylinder.undercut = long_known("2.073mm");
	assert_true(printed_diameter_of(&cylinder, &station, &printed));
	assert_published(real_to_mm(printed), 304.8 / acos(-1) + 0.02, 0, ARITHMETIC);
	cylinder.undercut.known = false;
	assert_false(printed_diameter_of(&cylinder, &station, &printed));
}

static void printed_diameter_of__something_not_known__left_out(void **state)
{
	(void)state;
	struct cylinder cylinder = cylinder_of_shelf();
	struct station station = station_of_job();
	struct real_length printed;
	station.plate.known = false;
	assert_false(printed_diameter_of(&cylinder, &station, &printed));
	station = station_of_job();
	station.tape.known = false;
	assert_false(printed_diameter_of(&cylinder, &station, &printed));
	station = station_of_job();
	cylinder.own.known = false;
	assert_false(printed_diameter_of(&cylinder, &station, &printed));
	/* a measured one needs no length of its own */
	cylinder.diameter = long_known("92.855mm");
	assert_true(printed_diameter_of(&cylinder, &station, &printed));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(buildup__two_plates_in_one_job__two_bare_diameters),
		cmocka_unit_test(buildup__measured_on_a_module_cylinder__exactly_at_the_limit_suits),
		cmocka_unit_test(buildup__measured_on_a_circular_cylinder__last_nanometre_within_the_limit),
		cmocka_unit_test(buildup__undercut__inclusive),
		cmocka_unit_test(buildup__measured_and_undercut__the_measured_diameter_counts),
		cmocka_unit_test(buildup__neither_known__last_choice),
		cmocka_unit_test(buildup__plate_or_tape_not_known__does_not_suit),
		cmocka_unit_test(runout__new_rollers_figure__inclusive),
		cmocka_unit_test(printed_diameter_of__diameter_else_undercut_else_left_out),
		cmocka_unit_test(printed_diameter_of__something_not_known__left_out),
	};
	return cmocka_run_group_tests_name("trade/suits_buildup", tests, NULL, NULL);
}
