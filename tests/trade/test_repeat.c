#include "published.h"

/* The module pitches and circular pitches of gear makers' tables. */
#define BURGOS \
	"F. Burgos, \"CP Versus DP: Understanding the Differences\", FlexoExchange, " \
	"flexoexchange.com/articles/cpdp_article.html"
#define FLEXOGRAPHY "Flexography: Principles & Practices, 5th ed., FTA/FFTA 1999 (B)"
#define RACK_AND_PINION \
	"Gear tooth size chart, Rack & Pinion Inc., rack-and-pinion.com/gearchart.htm"
#define PIC_DESIGN \
	"Spur Gear Data, table 7.2 (inch) and 7.3 (mm), PIC Design 1998, " \
	"pic-design.com/tech/equivalent/equivalent.htm (B)"
#define TANDWIEL \
	"Pitch - metric module - diametral pitch - circular pitch, tandwiel.info/en/gears (B)"
#define MODULE_SYSTEM "\"The Module System\", liquisearch.com/gears/the_module_system (B)"
#define ROSSINI "\"Security Through Variability\", FFTA Rossini report 2017, flexography.org"

static void repeat_length__published_teeth__published_length(void **state)
{
	(void)state;
	static const struct {
		int64_t teeth;
		const char *pitch;
		double mm;
		double within;
		const char *source;
	} rows[] = {
		{1, "1/8cp", 3.175, 0, BURGOS},
		{1, "1/4cp", 6.35, 0, BURGOS},
		{44, "1/8cp", 139.7, 0, COMMON_PRACTICE},
		{44, "1/8cp", 140, 0.5, COMMON_PRACTICE},
		{96, "1/8cp", 12 * 25.4, 0, COMMON_PRACTICE},
		{128, "1/8cp", 16 * 25.4, 0, COMMON_PRACTICE},
		{192, "1/8cp", 24 * 25.4, 0, COMMON_PRACTICE},
		{754, "1/4cp", 188.5 * 25.4, 0, FLEXOGRAPHY},
		{1, "m1", 3.1416, 0.00005, RACK_AND_PINION},
		{1, "m2", 6.2832, 0.00005, RACK_AND_PINION},
		{1, "m4", 12.5664, 0.00005, RACK_AND_PINION},
		{1, "20dp", 0.1571 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "24dp", 0.1309 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "32dp", 0.0982 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "48dp", 0.0654 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "64dp", 0.0491 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "72dp", 0.0436 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "80dp", 0.0393 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "96dp", 0.0327 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "120dp", 0.0262 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "200dp", 0.0157 * 25.4, 0.00005 * 25.4, PIC_DESIGN},
		{1, "m0.5", 1.571, 0.0005, PIC_DESIGN},
		{1, "m0.6", 1.885, 0.0005, PIC_DESIGN},
		{1, "m0.7", 2.199, 0.0005, PIC_DESIGN},
		{1, "m0.8", 2.513, 0.0005, PIC_DESIGN},
		{1, "m0.25", 0.78540, 0.000005, TANDWIEL},
		{1, "m0.4", 1.25664, 0.000005, TANDWIEL},
		{1, "80dp", 0.99746, 0.000005, TANDWIEL},
		{1, "72dp", 1.10828, 0.000005, TANDWIEL},
		{1, "64dp", 1.24682, 0.000005, TANDWIEL},
		{1, "60dp", 1.32994, 0.000005, TANDWIEL},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_published(real_to_mm(repeat_length(toothed(rows[i].teeth, rows[i].pitch))),
		                 rows[i].mm, rows[i].within, rows[i].source);
}

static void repeat_length__one_tooth_more__one_pitch_longer(void **state)
{
	(void)state;
	/* "the step from one cylinder to the next": BURGOS */
	struct real_length step =
		real_subtract(repeat_length(toothed(97, "1/8cp")), repeat_length(toothed(96, "1/8cp")));
	assert_published(real_to_in(step), 0.125, 0, BURGOS);
}

static void repeat_length__one_label_around_instead_of_two__half_the_plate(void **state)
{
	(void)state;
	struct real_length two = repeat_length(toothed(88, "1/8cp"));
	struct real_length one = repeat_length(toothed(44, "1/8cp"));
	assert_published(real_to_mm(one), real_to_mm(two) / 2, 0, COMMON_PRACTICE);
}

static void repeat_length__not_known__nothing(void **state)
{
	(void)state;
	struct repeat none = {.known = false};
	assert_true(real_to_mm(repeat_length(none)) == 0);
	assert_false(toothed(0, "1/8cp").known);
	assert_false(plain("0mm").known);
	assert_true(real_to_mm(repeat_length(plain("330.2mm"))) == 330.2);
}

static void pitch_diameter__published_gears__published_diameters(void **state)
{
	(void)state;
	static const struct {
		int64_t teeth;
		const char *pitch;
		double mm;
		double within;
		const char *source;
	} rows[] = {
		{754, "1/4cp", 60.001 * 25.4, 0.0005 * 25.4, FLEXOGRAPHY},
		{20, "m2", 40, 0, MODULE_SYSTEM},
		/* the diameter a tooth is the module */
		{1, "1/8cp", 1.01063, 0.000005, ARITHMETIC ", 3.175/pi"},
		{1, "1/8cp", 8.0850711 / 8, 0.0000005, TANDWIEL},
		{1, "1/4cp", 8.0850711 / 4, 0.0000005, TANDWIEL},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_published(real_to_mm(pitch_diameter(pitch_given(rows[i].pitch), rows[i].teeth)),
		                 rows[i].mm, rows[i].within, rows[i].source);
}

static void repeat_equal__module_and_its_diametral_pitch__same_length(void **state)
{
	(void)state;
	static const struct {
		const char *module;
		const char *diametral;
		const char *source;
	} rows[] = {
		{"m1", "25.4dp", RACK_AND_PINION},
		{"m2", "12.7dp", RACK_AND_PINION},
		{"m4", "6.35dp", RACK_AND_PINION},
		{"m0.3175", "80dp", TANDWIEL},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		bool same = repeat_equal(toothed(100, rows[i].module), toothed(100, rows[i].diametral),
		                         length_given("0mm"));
		if (!same)
			fail_msg("%s and %s: %s", rows[i].module, rows[i].diametral, rows[i].source);
	}
}

static void pitch_equal__circular_and_diametral_close_in_number__never_mesh(void **state)
{
	(void)state;
	/*
	 * 1/8 in against pi/25.1327 in: one part in a million apart. Not interchangeable:
	 * FLEXOGRAPHY
	 */
	assert_false(pitch_equal(pitch_given("1/8cp"), pitch_given("25.1327dp")));
	assert_false(pitch_equal(pitch_given("1/8cp"), pitch_given("m1.01063")));
	assert_false(pitch_equal(pitch_given("m2.54"), pitch_given("10dp")));
	assert_true(pitch_equal(pitch_given("1/8cp"), pitch_given("3.175mmcp")));
}

static void repeat_equal__one_class__whole_teeth_decide(void **state)
{
	(void)state;
	struct length match = length_given("10mm");
	assert_true(repeat_equal(toothed(96, "1/8cp"), toothed(48, "1/4cp"), match));
	assert_true(repeat_equal(toothed(96, "1/8cp"), toothed(96, "3.175mmcp"), match));
	/* 3.175 mm apart: near, and yet another cylinder */
	assert_false(repeat_equal(toothed(96, "1/8cp"), toothed(97, "1/8cp"), match));
	assert_false(repeat_equal(toothed(96, "10dp"), toothed(97, "10dp"), match));
}

static void repeat_equal__across_classes_or_plain__within_the_match(void **state)
{
	(void)state;
	struct length match = length_given("0.010mm");
	assert_true(repeat_equal(toothed(96, "1/8cp"), plain("304.81mm"), match));
	assert_true(repeat_equal(plain("304.79mm"), toothed(96, "1/8cp"), match));
	assert_false(repeat_equal(toothed(96, "1/8cp"), plain("304.810001mm"), match));
	/* 97 x pi mm = 304.734 mm against 304.8 mm: 0.066 mm */
	assert_false(repeat_equal(toothed(96, "1/8cp"), toothed(97, "m1"), match));
	assert_true(repeat_equal(toothed(96, "1/8cp"), toothed(97, "m1"), length_given("0.067mm")));
}

static void repeat_equal__one_not_known__not_equal(void **state)
{
	(void)state;
	struct repeat none = {.known = false};
	assert_false(repeat_equal(none, none, length_given("1m")));
	assert_false(repeat_equal(none, toothed(96, "1/8cp"), length_given("1m")));
	assert_false(repeat_equal(plain("1mm"), none, length_given("1m")));
}

static void repeat_shares_equal__print_and_die__same_web_a_label(void **state)
{
	(void)state;
	struct length match = length_given("0.010mm");
	/* teeth_print x around_die = teeth_die x around_print: 128 x 3 = 96 x 4 */
	assert_true(repeat_shares_equal(toothed(128, "1/8cp"), 4, toothed(96, "1/8cp"), 3, match));
	assert_false(repeat_shares_equal(toothed(128, "1/8cp"), 4, toothed(97, "1/8cp"), 3, match));
	assert_true(repeat_shares_equal(toothed(64, "1/4cp"), 4, toothed(96, "1/8cp"), 3, match));
	assert_false(repeat_shares_equal(toothed(128, "1/8cp"), 4, toothed(96, "1/8cp"), 4, match));
	/* numbers around with a common divisor */
	assert_true(repeat_shares_equal(toothed(128, "1/8cp"), 4, toothed(64, "1/8cp"), 2, match));
	assert_false(repeat_shares_equal(toothed(128, "1/8cp"), 4, toothed(65, "1/8cp"), 2, match));
	assert_true(repeat_shares_equal(toothed(96, "1/8cp"), 6, toothed(144, "1/8cp"), 9, match));
}

static void repeat_shares_equal__plain_repeats__within_the_match_a_label(void **state)
{
	(void)state;
	struct length match = length_given("0.010mm");
	assert_true(repeat_shares_equal(plain("406.44mm"), 4, toothed(96, "1/8cp"), 3, match));
	assert_false(repeat_shares_equal(plain("406.45mm"), 4, toothed(96, "1/8cp"), 3, match));
	assert_false(repeat_shares_equal(plain("406.4mm"), 0, plain("406.4mm"), 0, match));
}

static void repeat_shares_equal__counts_past_any_tool__still_right(void **state)
{
	(void)state;
	struct repeat print = toothed(4 * INT64_C(300000007), "1/8cp");
	struct repeat die = toothed(3 * INT64_C(300000007), "1/8cp");
	assert_true(repeat_shares_equal(print, 4, die, 3, length_given("0mm")));
	assert_false(repeat_shares_equal(print, INT64_MAX, die, 3, length_given("10mm")));
	/* one tooth in a thousand million is still a tooth */
	struct repeat other = toothed(3 * INT64_C(300000007) + 1, "1/8cp");
	assert_false(repeat_shares_equal(print, 4, other, 3, length_given("10mm")));
}

static void teeth_nearest__between_two_cylinders__the_nearer(void **state)
{
	(void)state;
	static const struct {
		const char *repeat;
		const char *pitch;
		int64_t teeth;
	} rows[] = {
		{"12in", "1/8cp", 96},
		{"140mm", "1/8cp", 44},
		{"303.3mm", "1/8cp", 96},
		{"303.2mm", "1/8cp", 95},
		/* half way: the lower */
		{"306.3875mm", "1/8cp", 96},
		{"306.387501mm", "1/8cp", 97},
		{"1mm", "1/8cp", 1},
		{"0mm", "1/8cp", 1},
		{"4.7625mm", "1/8cp", 1},
		{"31.4159265mm", "m1", 10},
		{"33mm", "m1", 11},
		{"797.964534mm", "10dp", 100},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct real_length repeat = real_from_length(length_given(rows[i].repeat));
		assert_int_equal(teeth_nearest(repeat, pitch_given(rows[i].pitch)), rows[i].teeth);
	}
}

static void teeth_nearest__every_cylinder__its_own_teeth(void **state)
{
	(void)state;
	static const char *const pitches[] = {"1/8cp", "1/4cp", "5mmcp", "10dp", "m1", "m1.5"};
	for (size_t i = 0; i < COUNT_OF(pitches); i++) {
		struct pitch pitch = pitch_given(pitches[i]);
		for (int64_t teeth = 1; teeth <= 1000; teeth++)
			assert_int_equal(teeth_nearest(pitch_times(pitch, teeth), pitch), teeth);
	}
}

static void repeats_together__published_pattern__every_72_inches(void **state)
{
	(void)state;
	struct real_length together;
	struct repeat teeth[] = {toothed(96, "1/8cp"), toothed(144, "1/8cp"), toothed(192, "1/8cp")};
	assert_true(repeats_together(teeth, COUNT_OF(teeth), &together));
	assert_published(real_to_in(together), 72, 0, ROSSINI);
	struct repeat lengths[] = {plain("12in"), plain("18in"), plain("24in")};
	assert_true(repeats_together(lengths, COUNT_OF(lengths), &together));
	assert_published(real_to_in(together), 72, 0, ROSSINI);
	struct repeat mixed[] = {toothed(96, "1/8cp"), toothed(72, "1/4cp"), toothed(48, "1/2cp")};
	assert_true(repeats_together(mixed, COUNT_OF(mixed), &together));
	assert_published(real_to_in(together), 72, 0, ROSSINI);
}

static void repeats_together__pitches_of_one_class__exact(void **state)
{
	(void)state;
	struct real_length together;
	/* 304.8 and 305 mm: 1525 x 304.8 = 1524 x 305 = 464820 mm */
	struct repeat circular[] = {toothed(96, "1/8cp"), toothed(61, "5mmcp")};
	assert_true(repeats_together(circular, 2, &together));
	assert_published(real_to_mm(together), 464820, 0, ARITHMETIC);
	/* pi x 254 and pi x 381 mm: pi x 762 mm */
	struct repeat of_circle[] = {toothed(100, "10dp"), toothed(254, "m1.5")};
	assert_true(repeats_together(of_circle, 2, &together));
	assert_published(real_to_mm(together), 762 * 3.14159265358979, 1e-6, ARITHMETIC);
	assert_true(repeats_together(circular, 1, &together));
	assert_published(real_to_mm(together), 304.8, 0, ARITHMETIC);
}

static void repeats_together__never_or_not_in_range__no_answer(void **state)
{
	(void)state;
	struct real_length together;
	struct repeat classes[] = {toothed(96, "1/8cp"), toothed(96, "10dp")};
	assert_false(repeats_together(classes, 2, &together));
	struct repeat measured[] = {toothed(96, "1/8cp"), plain("304.8mm")};
	assert_false(repeats_together(measured, 2, &together));
	struct repeat measured_first[] = {plain("304.8mm"), toothed(96, "1/8cp")};
	assert_false(repeats_together(measured_first, 2, &together));
	struct repeat unknown[] = {toothed(96, "1/8cp"), {.known = false}};
	assert_false(repeats_together(unknown, 2, &together));
	assert_false(repeats_together(unknown, 0, &together));
	/* primes: the product is past what the exact arithmetic takes */
	struct repeat primes[] = {toothed(9973, "1/8cp"), toothed(9967, "1/8cp"),
	                          toothed(9949, "1/8cp")};
	assert_false(repeats_together(primes, 3, &together));
	struct repeat odd_lengths[] = {plain("999.999937mm"), plain("999.999929mm"),
	                               plain("999.999893mm")};
	assert_false(repeats_together(odd_lengths, 3, &together));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(repeat_length__published_teeth__published_length),
		cmocka_unit_test(repeat_length__one_tooth_more__one_pitch_longer),
		cmocka_unit_test(repeat_length__one_label_around_instead_of_two__half_the_plate),
		cmocka_unit_test(repeat_length__not_known__nothing),
		cmocka_unit_test(pitch_diameter__published_gears__published_diameters),
		cmocka_unit_test(repeat_equal__module_and_its_diametral_pitch__same_length),
		cmocka_unit_test(pitch_equal__circular_and_diametral_close_in_number__never_mesh),
		cmocka_unit_test(repeat_equal__one_class__whole_teeth_decide),
		cmocka_unit_test(repeat_equal__across_classes_or_plain__within_the_match),
		cmocka_unit_test(repeat_equal__one_not_known__not_equal),
		cmocka_unit_test(repeat_shares_equal__print_and_die__same_web_a_label),
		cmocka_unit_test(repeat_shares_equal__plain_repeats__within_the_match_a_label),
		cmocka_unit_test(repeat_shares_equal__counts_past_any_tool__still_right),
		cmocka_unit_test(teeth_nearest__between_two_cylinders__the_nearer),
		cmocka_unit_test(teeth_nearest__every_cylinder__its_own_teeth),
		cmocka_unit_test(repeats_together__published_pattern__every_72_inches),
		cmocka_unit_test(repeats_together__pitches_of_one_class__exact),
		cmocka_unit_test(repeats_together__never_or_not_in_range__no_answer),
	};
	return cmocka_run_group_tests_name("trade/repeat", tests, NULL, NULL);
}
