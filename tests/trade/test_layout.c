#include "published.h"

#define TEAM_DLS "teamdls.com/calculations.html"
#define WALKER "Walker Etiketten (B)"
#define COLUMBINE "Columbine Label, die tolerances (B)"
#define ZEBRA "Zebra ZT200 guide"
#define SMALL_GAP "\"Small gap - big effect\", NarrowWebTech (B)"
#define ADCRAFT "Adcraft Labels (B)"
#define LABELS_PER_ROLL "calculator.academy/labels-per-roll-calculator (B)"

static struct length web(const char *label, int64_t lanes, const char *gap, const char *trim)
{
	return web_needed(length_given(label), lanes, length_given(gap), length_given(trim));
}

static void web_needed__published_label__published_web(void **state)
{
	(void)state;
	assert_published(length_to_mm(web("100mm", 1, "3mm", "1.5mm")), 103, 0, WALKER);
}

static void web_needed__lanes__gaps_between_and_trim_outside(void **state)
{
	(void)state;
	assert_published(length_to_mm(web("50mm", 3, "3mm", "5mm")), 166, 0, ARITHMETIC);
	assert_published(length_to_mm(web("50mm", 1, "3mm", "0mm")), 50, 0, ARITHMETIC);
	assert_published(length_to_in(web("4in", 2, "1/8in", "1/4in")), 8.625, 0, ARITHMETIC);
	/* no lanes, no labels: nothing but the trim */
	assert_published(length_to_mm(web("50mm", 0, "3mm", "5mm")), 10, 0, ARITHMETIC);
}

static bool within(struct repeat repeat, int64_t around, const char *label, const char *least,
                   const char *most)
{
	struct length given_least = length_given(least ? least : "0mm");
	struct length given_most = length_given(most ? most : "0mm");
	return gap_around_within(repeat, around, length_given(label), least ? &given_least : NULL,
	                         most ? &given_most : NULL);
}

static void gap_around__published_pitch_of_labels__published_gap(void **state)
{
	(void)state;
	/* 49 teeth 1/8 CP are 6.125 in: one label of 6 in */
	struct real_length gap = gap_around(toothed(49, "1/8cp"), 1, length_given("6in"));
	assert_published(real_to_in(gap), 0.125, 0, TEAM_DLS);
	/* label 8 in, gap 0.125 in: die circumference a multiple of 8.125 in, 65 teeth */
	for (int64_t around = 1; around <= 4; around++) {
		struct repeat die = toothed(65 * around, "1/8cp");
		assert_published(real_to_in(gap_around(die, around, length_given("8in"))), 0.125, 0,
		                 COLUMBINE);
		assert_true(within(die, around, "8in", "0.125in", "0.125in"));
		assert_false(
			within(toothed(65 * around + 1, "1/8cp"), around, "8in", "0.125in", "0.125in"));
	}
}

static void gap_around__none_around__no_web_for_the_label(void **state)
{
	(void)state;
	assert_published(real_to_mm(gap_around(toothed(96, "1/8cp"), 0, length_given("50mm"))), -50, 0,
	                 ARITHMETIC);
}

static void gap_around_within__label_printer_stock__2_to_4_mm(void **state)
{
	(void)state;
	/* 2 mm least, 3 mm preferred, 4 mm most: ZEBRA */
	static const struct {
		const char *repeat;
		bool within;
	} rows[] = {
		{"312mm", true},         {"309mm", true},         {"306mm", true},
		{"312.000001mm", false}, {"305.999999mm", false},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		if (within(plain(rows[i].repeat), 3, "100mm", "2mm", "4mm") != rows[i].within)
			fail_msg("%s: %s", rows[i].repeat, ZEBRA);
	}
}

static void gap_around_within__circular_pitch_at_a_limit__to_the_nanometre(void **state)
{
	(void)state;
	/* 304.8 mm = 3 x (100 + 1.6) mm */
	struct repeat repeat = toothed(96, "1/8cp");
	assert_true(within(repeat, 3, "100mm", "1.6mm", "1.6mm"));
	assert_false(within(repeat, 3, "100mm", "1.600001mm", NULL));
	assert_false(within(repeat, 3, "100mm", NULL, "1.599999mm"));
	/* 304.8 mm / 7 is no whole number of nanometres */
	assert_true(within(repeat, 7, "40mm", "3.542857mm", "3.542858mm"));
	assert_false(within(repeat, 7, "40mm", "3.542858mm", NULL));
	assert_false(within(repeat, 7, "40mm", NULL, "3.542857mm"));
	/* seven teeth of 1/7 in are an inch, though a tooth is no whole number of nanometres */
	assert_true(within(toothed(7 * 12, "1/7cp"), 3, "100mm", "1.6mm", "1.6mm"));
}

static void gap_around_within__diametral_pitch__both_sides_of_the_limit(void **state)
{
	(void)state;
	/* 100 teeth 10 DP: pi x 254 mm = 797.964534 mm, 4 around: 199.491133... mm */
	struct repeat repeat = toothed(100, "10dp");
	assert_true(within(repeat, 4, "197mm", "2.491133mm", "2.491134mm"));
	assert_false(within(repeat, 4, "197mm", "2.491134mm", NULL));
	assert_false(within(repeat, 4, "197mm", NULL, "2.491133mm"));
}

static void gap_around_within__nothing_asked__labels_may_touch_not_overlap(void **state)
{
	(void)state;
	struct repeat repeat = toothed(96, "1/8cp");
	assert_true(within(repeat, 3, "101.6mm", NULL, NULL));
	assert_false(within(repeat, 3, "101.600001mm", NULL, NULL));
	assert_true(within(repeat, 1, "1mm", NULL, NULL));
	assert_false(within(repeat, 0, "1mm", NULL, NULL));
	struct repeat none = {.known = false};
	assert_false(within(none, 1, "1mm", NULL, NULL));
}

static void repeats_to_run__quantities__rounded_up_without_error(void **state)
{
	(void)state;
	static const struct {
		int64_t quantity, across, around;
		const char *overs;
		int64_t repeats;
	} rows[] = {
		{1000, 2, 3, "5%", 176}, /* 167 repeats, 175.35 */
		{600, 2, 3, "5%", 105},
		{601, 2, 3, "5%", 107}, /* 101 repeats, 106.05 */
		{60, 2, 3, "10%", 11},  /* in floating point 1.1 x 10 is more than 11 */
		{6000, 2, 3, "0.1%", 1001},
		{1, 4, 5, "0%", 1},
		{20, 4, 5, "0%", 1},
		{21, 4, 5, "0%", 2},
		{0, 4, 5, "5%", 0},
		{-5, 4, 5, "5%", 0},
		{1, 1, 1, "0.0001%", 2},
		{123456789, 1, 1, "0.0001%", 123456913}, /* 123456912.456789 */
		{1000000, 1, 1, "0.0001%", 1000001},
		{100, 1, 1, "-10%", 90},
		{100, 1, 1, "-200%", 0},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_int_equal(repeats_to_run(rows[i].quantity, rows[i].across, rows[i].around,
		                                percent_given(rows[i].overs)),
		                 rows[i].repeats);
}

static void repeats_to_run__past_what_fits__the_largest(void **state)
{
	(void)state;
	struct percent overs = percent_given("5%");
	assert_true(repeats_to_run(INT64_MAX, 1, 1, overs) == INT64_MAX);
	assert_true(repeats_to_run(INT64_MAX, 2, 1, overs) == INT64_C(4842270319348757300));
	assert_true(repeats_to_run(INT64_MAX, 1, 1, percent_given("0%")) == INT64_MAX);
	assert_int_equal(repeats_to_run(10, INT64_MAX, INT64_MAX, overs), 2);
	assert_true(repeats_to_run(10, 0, 1, overs) == INT64_MAX);
	assert_true(repeats_to_run(10, 1, -1, overs) == INT64_MAX);
	assert_int_equal(repeats_to_run(0, 0, 0, overs), 0);
}

static void repeats_to_run__published_order__published_length(void **state)
{
	(void)state;
	/* 200,000 labels of 6.125 in: 102,083 ft */
	int64_t repeats = repeats_to_run(200000, 1, 1, percent_given("0%"));
	struct real_length run = real_times(repeat_length(toothed(49, "1/8cp")), (long double)repeats);
	assert_published(real_to_in(run) / 12, 102083, 0.5, TEAM_DLS);
	/* 1,000 of them: 6,125 in */
	assert_published(real_to_in(real_times(repeat_length(toothed(49, "1/8cp")), 1000)), 6125, 0,
	                 TEAM_DLS);
}

static void waste_of__layouts__what_is_no_label(void **state)
{
	(void)state;
	struct length label = length_given("50mm");
	assert_published(waste_of(label, label, 2, 4, length_given("100mm"), plain("200mm")), 0, 0,
	                 ARITHMETIC);
	assert_published(waste_of(label, label, 1, 2, length_given("100mm"), plain("200mm")), 0.75, 0,
	                 ARITHMETIC);
	/* 3 x 48 of 160 mm, 6 x 48 of 304.8 mm */
	label = length_given("48mm");
	assert_published(waste_of(label, label, 3, 6, length_given("160mm"), toothed(96, "1/8cp")),
	                 1 - 144.0 * 288 / (160 * 304.8), 0, ARITHMETIC);
	struct repeat none = {.known = false};
	assert_true(waste_of(label, label, 3, 6, length_given("160mm"), none) == 1);
	assert_true(waste_of(label, label, 3, 6, length_given("0mm"), plain("200mm")) == 1);
}

static size_t choices(struct repeat repeat, const char *label, const char *least, const char *most,
                      struct around *out, size_t room)
{
	struct length given_least = length_given(least ? least : "0mm");
	struct length given_most = length_given(most ? most : "0mm");
	return around_choices(repeat, length_given(label), least ? &given_least : NULL,
	                      most ? &given_most : NULL, out, room);
}

static void around_choices__label_on_a_repeat__most_labels_first(void **state)
{
	(void)state;
	struct around out[8];
	/* 304.8 mm: 6 around leave 2.8 mm, 5 around 12.96 mm, 4 around 28.2 mm */
	assert_int_equal(choices(toothed(96, "1/8cp"), "48mm", "2mm", "30mm", out, COUNT_OF(out)), 3);
	assert_int_equal(out[0].number_around, 6);
	assert_published(real_to_mm(out[0].gap), 2.8, 0, ARITHMETIC);
	assert_int_equal(out[1].number_around, 5);
	assert_published(real_to_mm(out[1].gap), 12.96, 0, ARITHMETIC);
	assert_int_equal(out[2].number_around, 4);
	assert_published(real_to_mm(out[2].gap), 28.2, 0, ARITHMETIC);
}

static void around_choices__limits__inclusive(void **state)
{
	(void)state;
	struct around out[8];
	assert_int_equal(choices(toothed(96, "1/8cp"), "48mm", "2.8mm", "2.8mm", out, 8), 1);
	assert_int_equal(out[0].number_around, 6);
	assert_int_equal(choices(toothed(96, "1/8cp"), "48mm", "2.800001mm", "12.96mm", out, 8), 1);
	assert_int_equal(out[0].number_around, 5);
	assert_int_equal(choices(toothed(96, "1/8cp"), "48mm", "3mm", "12mm", out, 8), 0);
	assert_int_equal(choices(toothed(96, "1/8cp"), "48mm", "3mm", "2mm", out, 8), 0);
	/* labels that touch: 3 x 101.6 mm */
	assert_int_equal(choices(toothed(96, "1/8cp"), "101.6mm", NULL, NULL, out, 8), 3);
	assert_int_equal(out[0].number_around, 3);
	assert_int_equal(choices(toothed(96, "1/8cp"), "305mm", NULL, NULL, out, 8), 0);
	/* 29 x 1.000015 mm, a quotient that floating point makes a little less than 29 */
	assert_int_equal(choices(plain("29.000435mm"), "1.000015mm", NULL, NULL, out, 8), 29);
	assert_int_equal(choices(plain("29.000434mm"), "1.000015mm", NULL, NULL, out, 8), 28);
	assert_int_equal(choices(plain("29.000435mm"), "1mm", "0.000015mm", "0.000015mm", out, 8), 1);
	assert_int_equal(out[0].number_around, 29);
}

static void around_choices__little_room__counts_them_all(void **state)
{
	(void)state;
	struct around out[2] = {{.number_around = 0}};
	assert_int_equal(choices(toothed(96, "1/8cp"), "10mm", NULL, NULL, out, 1), 30);
	assert_int_equal(out[0].number_around, 30);
	assert_int_equal(out[1].number_around, 0);
	assert_int_equal(choices(toothed(96, "1/8cp"), "10mm", NULL, NULL, NULL, 0), 30);
	assert_int_equal(choices(toothed(96, "1/8cp"), "0mm", NULL, NULL, out, 2), 0);
	struct repeat none = {.known = false};
	assert_int_equal(choices(none, "10mm", NULL, NULL, out, 2), 0);
}

static void around_choices__published_count__rounded_down(void **state)
{
	(void)state;
	/* 5000 in of labels of 4 in with a gap of 0.25 in: 1176.47, so 1176 */
	struct around out[1];
	assert_true(choices(plain("5000in"), "4in", "0.25in", NULL, out, 1) > 0);
	assert_published((double)out[0].number_around, 1176, 0, LABELS_PER_ROLL);
}

static void around_choices__all_repeats_of_a_shelf__as_one_by_one(void **state)
{
	(void)state;
	static const char *const pitches[] = {"1/8cp", "5mmcp", "10dp", "m1"};
	struct length label = length_given("25.4mm");
	struct length least = length_given("3.175mm");
	struct length most = length_given("12.7mm");
	for (size_t i = 0; i < COUNT_OF(pitches); i++) {
		for (int64_t teeth = 1; teeth <= 250; teeth++) {
			struct repeat repeat = toothed(teeth, pitches[i]);
			struct around out[128];
			size_t count = around_choices(repeat, label, &least, &most, out, 128);
			size_t next = 0;
			for (int64_t number = 128; number >= 1; number--) {
				if (!gap_around_within(repeat, number, label, &least, &most))
					continue;
				assert_true(next < count);
				assert_int_equal(out[next++].number_around, number);
			}
			assert_int_equal(next, count);
		}
	}
}

static void length__die_gap_and_tool_width__compared_to_the_micrometre(void **state)
{
	(void)state;
	/*
	 * (bearer - magnet) / 2: 0.480 mm in Europe, 0.483 mm in the US; 3 um spoil the cut:
	 * SMALL_GAP
	 */
	struct length bearer = length_given("97.02mm");
	struct length magnet_us = length_given("96.054mm");
	struct length magnet_europe = length_given("96.06mm");
	assert_published(length_to_mm(length_subtract(bearer, magnet_us)) / 2, 0.483, 0, SMALL_GAP);
	assert_published(length_to_mm(length_subtract(bearer, magnet_europe)) / 2, 0.480, 0, SMALL_GAP);
	assert_false(
		length_near(length_given("0.480mm"), length_given("0.483mm"), length_given("2um")));
	/* a 13 in tool does not fit a 10 in press: ADCRAFT */
	if (length_compare(length_given("13in"), length_given("10in")) <= 0)
		fail_msg("%s", ADCRAFT);
}

/* Label 98.5 mm with gaps of 2 to 4 mm, 2 across. */
static struct layout layout_of_labels(void)
{
	return (struct layout){
		.number_across = {true, 2},
		.label_around = {true, length_given("98.5mm")},
		.gap_around_min = {true, length_given("2mm")},
		.gap_around_max = {true, length_given("4mm")},
	};
}

static void layout_run_most__every_repeat_and_number_around__no_run_is_longer(void **state)
{
	(void)state;
	static const int64_t quantities[] = {1, 7, 6000, 6001, 1234567};
	struct layout layout = layout_of_labels();
	const struct percent overs = percent_given("5%");
	for (size_t i = 0; i < COUNT_OF(quantities); i++) {
		const struct known_count quantity = {true, quantities[i]};
		struct known_length most = layout_run_most(&layout, quantity, overs);
		assert_true(most.known);
		/* as 1.05 x 102.5 mm a label and lane come to, and no more than 1 km and a label above */
		double least = (double)quantities[i] / 2 * 1.05 * 102.5;
		assert_true(length_to_mm(most.value) < least + 1e6 + 300);
		for (int64_t teeth = 33; teeth < 400; teeth++) {
			struct layout at = layout;
			at.repeat = toothed(teeth, "1/8cp");
			for (int64_t around = 1; around < 12; around++) {
				at.number_around = (struct known_count){true, around};
				if (!gap_around_within(at.repeat, around, at.label_around.value,
				                       &at.gap_around_min.value, &at.gap_around_max.value)) {
					continue;
				}
				layout_complete(&at, quantity, overs);
				assert_true(at.run.known);
				assert_true(length_compare(at.run.value, most.value) <= 0);
			}
		}
	}
}

static void layout_run_most__own_repeat_past_its_limits__its_own_run(void **state)
{
	(void)state;
	struct layout layout = layout_of_labels();
	const struct known_count quantity = {true, 10000000};
	const struct percent overs = percent_given("5%");
	layout.repeat = toothed(96, "1/8cp");
	layout.number_around = (struct known_count){true, 1};
	layout_complete(&layout, quantity, overs);
	assert_int_equal(length_to_nm(layout_run_most(&layout, quantity, overs).value),
	                 length_to_nm(layout.run.value));
}

static void layout_run_most__nothing_bounds_it__not_known__no_run__none(void **state)
{
	(void)state;
	struct layout layout = layout_of_labels();
	const struct known_count quantity = {true, 6000}, none = {.known = false};
	const struct percent overs = percent_given("5%");
	assert_int_equal(length_to_nm(layout_run_most(&layout, none, overs).value), 0);
	layout.gap_around_max.known = false;
	assert_false(layout_run_most(&layout, quantity, overs).known);
	assert_true(layout_run_most(&layout, none, overs).known);
	layout.number_across.known = false;
	assert_int_equal(length_to_nm(layout_run_most(&layout, quantity, overs).value), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(web_needed__published_label__published_web),
		cmocka_unit_test(web_needed__lanes__gaps_between_and_trim_outside),
		cmocka_unit_test(gap_around__published_pitch_of_labels__published_gap),
		cmocka_unit_test(gap_around__none_around__no_web_for_the_label),
		cmocka_unit_test(gap_around_within__label_printer_stock__2_to_4_mm),
		cmocka_unit_test(gap_around_within__circular_pitch_at_a_limit__to_the_nanometre),
		cmocka_unit_test(gap_around_within__diametral_pitch__both_sides_of_the_limit),
		cmocka_unit_test(gap_around_within__nothing_asked__labels_may_touch_not_overlap),
		cmocka_unit_test(repeats_to_run__quantities__rounded_up_without_error),
		cmocka_unit_test(repeats_to_run__past_what_fits__the_largest),
		cmocka_unit_test(repeats_to_run__published_order__published_length),
		cmocka_unit_test(layout_run_most__every_repeat_and_number_around__no_run_is_longer),
		cmocka_unit_test(layout_run_most__own_repeat_past_its_limits__its_own_run),
		cmocka_unit_test(layout_run_most__nothing_bounds_it__not_known__no_run__none),
		cmocka_unit_test(waste_of__layouts__what_is_no_label),
		cmocka_unit_test(around_choices__label_on_a_repeat__most_labels_first),
		cmocka_unit_test(around_choices__limits__inclusive),
		cmocka_unit_test(around_choices__little_room__counts_them_all),
		cmocka_unit_test(around_choices__published_count__rounded_down),
		cmocka_unit_test(around_choices__all_repeats_of_a_shelf__as_one_by_one),
		cmocka_unit_test(length__die_gap_and_tool_width__compared_to_the_micrometre),
	};
	return cmocka_run_group_tests_name("trade/layout", tests, NULL, NULL);
}
