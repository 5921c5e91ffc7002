/* Does a die suit a cut? */
#include "builders.h"

#define COLUMBINE "Columbine Label, die tolerances (B)"

struct given {
	struct die die;
	struct cut cut;
	bool named;
	struct layout layout;
	struct press press;
	struct limits limits;
};

static struct given all_suits(void)
{
	return (struct given){
		.die = die_of_shelf(),
		.cut = cut_of_job(),
		.layout = layout_of_job(),
		.press = geared_press(),
		.limits = limits_by_default(),
	};
}

static struct judged judge(const struct given *given)
{
	struct judged judged;
	JUDGE(judged, die_suits, &given->die, &given->cut, given->named, &given->layout, &given->press,
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

static void die_suits__all_as_asked__yes(void **state)
{
	(void)state;
	struct given given = all_suits();
	assert_given_suits(&given);
}

static void die_suits__named__the_same_rules(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.named = true;
	assert_given_suits(&given);
	given.die.number_across = count_known(2);
	assert_given_only(&given, SUITS_NOT, "2 across, 3 needed");
}

/* ---- what it cuts */

static void cut__kind__must_be_the_dies(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.cut.kind = "perforation";
	assert_given_only(&given, SUITS_NOT, "cut kiss, perforation needed");
	given.die.cut = NULL;
	assert_given_only(&given, SUITS_NOT, "cut not known, perforation needed");
}

static void shape__must_be_the_dies_where_it_is_asked(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.shape = "oval";
	assert_given_only(&given, SUITS_NOT, "shape rectangle, oval needed");
	given.die.shape = NULL;
	assert_given_only(&given, SUITS_NOT, "shape not known, oval needed");
	given.layout.shape = NULL;
	assert_given_suits(&given);
}

static void shape__special__only_the_named_die(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.shape = "special";
	given.die.shape = "special"; /* a twin of the same box, which may cut another outline */
	assert_given_only(&given, SUITS_NOT, "shape special, cut only by a die that the job names");
	given.named = true;
	assert_given_suits(&given);
	given.die.shape = "rectangle";
	assert_given_only(&given, SUITS_NOT, "shape rectangle, special needed");
}

static void number_across__equal(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.number_across = count_known(4);
	assert_given_only(&given, SUITS_NOT, "4 across, 3 needed");
	given.die.number_across.known = false;
	assert_given_only(&given, SUITS_NOT, "number across not known");
	given.layout.number_across.known = false;
	assert_given_suits(&given);
}

/* One size of die and job each, and what is remarked of it. */
struct size_row {
	const char *what;
	size_t of_die, of_layout;
	const char *most, *least; /* within 0.05 mm: common practice, no source */
	enum suits not_known;
};

static const struct size_row size_rows[] = {
	{"label across", offsetof(struct die, label_across), offsetof(struct layout, label_across),
     "100.05mm", "99.95mm", SUITS_NOT},
	{"label around", offsetof(struct die, label_around), offsetof(struct layout, label_around),
     "98.65mm", "98.55mm", SUITS_NOT},
	{"gap across", offsetof(struct die, gap_across), offsetof(struct layout, gap_across), "3.05mm",
     "2.95mm", SUITS_NOT},
	{"corner", offsetof(struct die, corner), offsetof(struct layout, corner), "2.05mm", "1.95mm",
     SUITS_NOTED},
};

static struct known_length *size_of_die(struct given *given, const struct size_row *row)
{
	return (struct known_length *)(void *)((char *)&given->die + row->of_die);
}

static struct known_length *size_of_layout(struct given *given, const struct size_row *row)
{
	return (struct known_length *)(void *)((char *)&given->layout + row->of_layout);
}

static void sizes__die_match__inclusive(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(size_rows); i++) {
		const struct size_row *row = &size_rows[i];
		struct given given = all_suits();
		struct known_length *size = size_of_die(&given, row);
		*size = long_known(row->most);
		assert_given_suits(&given);
		*size = long_known(row->least);
		assert_given_suits(&given);
		*size = longer_by(row->least, -1);
		struct judged judged = judge(&given);
		assert_int_equal(judged.level, SUITS_NOT);
		assert_int_equal(judged.remarks.count, 1);
		*size = longer_by(row->most, 1);
		judged = judge(&given);
		assert_int_equal(judged.level, SUITS_NOT);
		assert_int_equal(judged.remarks.count, 1);
		assert_memory_equal(judged.remarks.items[0].text, row->what, strlen(row->what));
	}
	struct given given = all_suits();
	given.die.label_across = long_known("101mm");
	assert_given_only(&given, SUITS_NOT, "label across 101mm, 100mm needed");
}

static void sizes__not_on_record__does_not_suit_but_for_the_corner(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(size_rows); i++) {
		struct given given = all_suits();
		size_of_die(&given, &size_rows[i])->known = false;
		char text[64];
		strcat(strcpy(text, size_rows[i].what), " not known");
		assert_given_only(&given, size_rows[i].not_known, text);
	}
}

static void sizes__not_asked__not_checked(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(size_rows); i++) {
		struct given given = all_suits();
		size_of_layout(&given, &size_rows[i])->known = false;
		*size_of_die(&given, &size_rows[i]) = long_known("50mm");
		assert_given_suits(&given);
		size_of_die(&given, &size_rows[i])->known = false;
		assert_given_suits(&given);
	}
}

static void sizes__one_label_across__gap_is_not_compared(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.number_across = count_known(1);
	given.die.number_across = count_known(1);
	given.die.gap_across = long_known("7mm");
	assert_given_suits(&given);
	given.die.gap_across.known = false;
	assert_given_suits(&given);
}

static void sizes__circle__corner_is_not_compared(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.shape = "circle";
	given.die.shape = "circle";
	given.die.corner = long_known("50mm");
	assert_given_suits(&given);
	given.die.corner.known = false;
	assert_given_suits(&given);
}

/* ---- its length */

static void length_per_label__print_128_teeth_4_around__die_96_teeth_3_around(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.layout.repeat = toothed(128, "1/8cp");
	given.layout.number_around = count_known(4);
	assert_given_suits(&given);
	given.layout.repeat = toothed(127, "1/8cp");
	assert_given_only(&given, SUITS_NOT, "101.6mm of web a label, 100.806mm needed");
}

static void length_per_label__published_label__multiples_of_label_and_gap(void **state)
{
	(void)state;
	/*
	 * label 8 in, gap 0.125 in: die circumference a multiple of 8.125 in, 65 teeth: Columbine Label
	 * (B)
	 */
	for (int64_t around = 1; around <= 2; around++) {
		struct given given = all_suits();
		given.layout.label_around = long_known("8in");
		given.layout.repeat = toothed(65 * (3 - around), "1/8cp");
		given.layout.number_around = count_known(3 - around);
		given.die.label_around = long_known("8in");
		given.die.own = toothed(65 * around, "1/8cp");
		given.die.number_around = count_known(around);
		assert_given_suits(&given);
		given.die.own = toothed(65 * around + 1, "1/8cp");
		struct judged judged = judge(&given);
		if (judged.level != SUITS_NOT)
			fail_msg("a tooth more suits: %s", COLUMBINE);
	}
}

static void length_per_label__one_class__exact_however_near(void **state)
{
	(void)state;
	/* 3.175 mm and a hundredth of a micrometre a tooth: within repeat_match, and yet not equal */
	struct given given = all_suits();
	given.press = servo_press();
	given.die.own = toothed(96, "3.17501mmcp");
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	given.die.own = toothed(48, "1/4cp");
	assert_given_suits(&given);
}

static void length_per_label__plain_repeat__within_repeat_match(void **state)
{
	(void)state;
	/* 0.010 mm a label are 0.030 mm on 3 labels */
	static const struct {
		const char *repeat;
		int64_t beyond;
		enum suits level;
	} rows[] = {
		{"304.83mm", 0, SUITS_YES},
		{"304.83mm", 1, SUITS_NOT},
		{"304.77mm", 0, SUITS_YES},
		{"304.77mm", -1, SUITS_NOT},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct given given = all_suits();
		given.press = servo_press();
		given.layout.repeat = repeat_of_length(longer_by(rows[i].repeat, rows[i].beyond).value);
		struct judged judged = judge(&given);
		assert_int_equal(judged.level, rows[i].level);
	}
}

static void length_per_label__not_known__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.number_around.known = false;
	assert_given_only(&given, SUITS_NOT, "number around not known");
	given = all_suits();
	given.layout.number_around.known = false;
	assert_given_only(&given, SUITS_NOT, "number around of the job not known");
	given.layout.repeat.known = false;
	assert_given_only(&given, SUITS_NOT, "repeat of the job not known");
	given = all_suits();
	given.die.own.known = false;
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_among(&judged, SUITS_NOT, "teeth and pitch not known");
}

static void fit_and_face__as_of_any_tool(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.tool.fit = "wide";
	assert_given_only(&given, SUITS_NOT, "fit wide, narrow needed");
	given.die.tool.fit = NULL;
	assert_given_only(&given, SUITS_NOT, "fit not known, narrow needed");
	given = all_suits();
	given.die.tool.face = long_known("306mm");
	assert_given_suits(&given);
	given.die.tool.face = longer_by("306mm", -1);
	assert_given_only(&given, SUITS_NOT, "face 305.999999mm, 306mm needed");
	given.die.tool.face.known = false;
	assert_given_only(&given, SUITS_NOT, "face not known");
}

static void press__its_shortest_and_longest__inclusive(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.press.repeat_min = long_known("304.8mm");
	given.press.repeat_max = long_known("304.8mm");
	assert_given_suits(&given);
	given.press.repeat_min = longer_by("304.8mm", 1);
	given.press.repeat_max = long_known("600mm");
	assert_given_only(&given, SUITS_NOT, "length 304.8mm, press P1 takes 304.800001mm at least");
	given.press.repeat_min = long_known("200mm");
	given.press.repeat_max = longer_by("304.8mm", -1);
	assert_given_only(&given, SUITS_NOT, "length 304.8mm, press P1 takes 304.799999mm at most");
	given.press.repeat_max.known = false;
	assert_given_only(&given, SUITS_NOT, "repeat_max of press P1 not known");
}

static void press__geared__pitch_of_the_die_in_the_train(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.own = toothed(48, "1/4cp");
	assert_given_only(&given, SUITS_NOT, "pitch 1/4cp, press P1 takes 1/8cp");
	given.press = servo_press();
	assert_given_suits(&given);
	given.press = press_of_unknown_drive();
	assert_given_only(&given, SUITS_NOT, "drive of press P1 not known");
}

/* ---- liner and life */

static void liner__two_micrometres__inclusive(void **state)
{
	(void)state;
	/* common practice, no source */
	static const struct {
		const char *liner;
		int64_t beyond;
		const char *text;
	} rows[] = {
		{"58um", 0, NULL},
		{"58um", 1, "made for a liner of 0.058001mm, 0.056mm needed"},
		{"54um", 0, NULL},
		{"54um", -1, "made for a liner of 0.053999mm, 0.056mm needed"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct given given = all_suits();
		given.die.liner_caliper = longer_by(rows[i].liner, rows[i].beyond);
		if (rows[i].text)
			assert_given_only(&given, SUITS_NOT, rows[i].text);
		else
			assert_given_suits(&given);
	}
}

static void liner__not_known__last_choice_where_it_is_asked(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.liner_caliper.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL, "liner caliper not known");
	given.layout.liner_caliper.known = false;
	assert_given_suits(&given);
}

static void life__revolutions_of_the_run__inclusive(void **state)
{
	(void)state;
	/* the run of 3048 m is 10000 turns of 304.8 mm */
	struct given given = all_suits();
	given.die.life = count_known(10000);
	assert_given_suits(&given);
	given.die.life = count_known(9999);
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 9999 revolutions, the run takes 10000");
	given.die.life = count_known(12500);
	given.die.tool.run = long_known("762m"); /* 2500 turns */
	assert_given_suits(&given);
	given.die.tool.run = longer_by("762m", 1);
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 9999 revolutions, the run takes 10000");
	given.die.tool.run = long_known("3048m");
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 2500 revolutions, the run takes 10000");
	given.die.tool.run = long_known("3810m"); /* all 12500 */
	assert_given_only(&given, SUITS_DOUBTFUL, "life left 0 revolutions, the run takes 10000");
	given.die.tool.run = long_known("4572m"); /* 15000 */
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "2500 revolutions past its life of 12500, the run takes 10000");
}

static void life__of_a_length_with_pi__run_rounded_to_the_nanometre_counts_as_it_was(void **state)
{
	(void)state;
	/* a run of so many turns of 40 teeth 10 DP, which the store keeps in whole nanometres */
	for (int64_t turns = 1; turns < 2000; turns += 37) {
		struct given given = all_suits();
		given.press = servo_press();
		given.layout.repeat = toothed(40, "10dp");
		given.die.own = toothed(40, "10dp");
		given.die.life = count_known(turns);
		struct real_length run = real_times(repeat_length(given.layout.repeat), (long double)turns);
		given.layout.run.value = real_round(run);
		assert_given_suits(&given);
		given.layout.run.value = length_add(real_round(run), length_from_nm(1));
		struct judged judged = judge(&given);
		assert_int_equal(judged.level, SUITS_DOUBTFUL);
	}
}

static void life__run_of_the_die_not_known__counts_nothing(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.tool.run.known = false;
	given.die.life = count_known(10000);
	assert_given_suits(&given);
}

static void life__over_is_short__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.limits.life_over = LIFE_OVER_SHORT;
	given.die.life = count_known(10000);
	assert_given_suits(&given);
	given.die.life = count_known(9999);
	assert_given_only(&given, SUITS_NOT, "life left 9999 revolutions, the run takes 10000");
}

static void life__not_known_or_not_asked__a_note_or_nothing(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.die.life.known = false;
	assert_given_only(&given, SUITS_NOTED, "life not known");
	given.die.life = count_known(1);
	given.layout.run.known = false;
	assert_given_suits(&given);
}

static void die_suits__everything_broken__the_mildest_remarks_give_way(void **state)
{
	(void)state;
	struct given given = all_suits();
	struct die *die = &given.die;
	die->life.known = false;
	die->corner.known = false;
	die->liner_caliper.known = false;
	die->cut = "back";
	die->shape = "circle";
	die->number_across = count_known(9);
	die->label_across = long_known("9mm");
	die->label_around = long_known("9mm");
	die->gap_across = long_known("9mm");
	die->own = toothed(9, "10dp");
	die->tool.fit = "wide";
	die->tool.face = long_known("9mm");
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_int_equal(judged.remarks.count, REMARKS_MOST);
	assert_among(&judged, SUITS_NOT, "cut back, kiss needed");
	assert_among(&judged, SUITS_NOT, "shape circle, rectangle needed");
	assert_among(&judged, SUITS_NOT, "9 across, 3 needed");
	assert_among(&judged, SUITS_NOT, "label across 9mm, 100mm needed");
	assert_among(&judged, SUITS_NOT, "label around 9mm, 98.6mm needed");
	assert_among(&judged, SUITS_NOT, "gap across 9mm, 3mm needed");
	assert_among(&judged, SUITS_NOT, "fit wide, narrow needed");
	assert_among(&judged, SUITS_NOT, "face 9mm, 306mm needed");
	assert_among(&judged, SUITS_NOT, "pitch 10dp, press P1 takes 1/8cp");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(die_suits__all_as_asked__yes),
		cmocka_unit_test(die_suits__named__the_same_rules),
		cmocka_unit_test(cut__kind__must_be_the_dies),
		cmocka_unit_test(shape__must_be_the_dies_where_it_is_asked),
		cmocka_unit_test(shape__special__only_the_named_die),
		cmocka_unit_test(number_across__equal),
		cmocka_unit_test(sizes__die_match__inclusive),
		cmocka_unit_test(sizes__not_on_record__does_not_suit_but_for_the_corner),
		cmocka_unit_test(sizes__not_asked__not_checked),
		cmocka_unit_test(sizes__one_label_across__gap_is_not_compared),
		cmocka_unit_test(sizes__circle__corner_is_not_compared),
		cmocka_unit_test(length_per_label__print_128_teeth_4_around__die_96_teeth_3_around),
		cmocka_unit_test(length_per_label__published_label__multiples_of_label_and_gap),
		cmocka_unit_test(length_per_label__one_class__exact_however_near),
		cmocka_unit_test(length_per_label__plain_repeat__within_repeat_match),
		cmocka_unit_test(length_per_label__not_known__does_not_suit),
		cmocka_unit_test(fit_and_face__as_of_any_tool),
		cmocka_unit_test(press__its_shortest_and_longest__inclusive),
		cmocka_unit_test(press__geared__pitch_of_the_die_in_the_train),
		cmocka_unit_test(liner__two_micrometres__inclusive),
		cmocka_unit_test(liner__not_known__last_choice_where_it_is_asked),
		cmocka_unit_test(life__revolutions_of_the_run__inclusive),
		cmocka_unit_test(life__of_a_length_with_pi__run_rounded_to_the_nanometre_counts_as_it_was),
		cmocka_unit_test(life__run_of_the_die_not_known__counts_nothing),
		cmocka_unit_test(life__over_is_short__does_not_suit),
		cmocka_unit_test(life__not_known_or_not_asked__a_note_or_nothing),
		cmocka_unit_test(die_suits__everything_broken__the_mildest_remarks_give_way),
	};
	return cmocka_run_group_tests_name("trade/suits_die", tests, NULL, NULL);
}
