/* Which tools serve a job: by themselves, and beside what is out for it. */
#include "serving.h"

/* ---------------------------------------------------------------- yes */

static void plan_serves__each_kind__told_where(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	static const struct {
		enum kind_id kind;
		const char *text, *need;
	} cases[] = {
		{KIND_CYLINDER, "cylinder, stations 1, 2", "cylinder"},
		{KIND_GEAR, "gear, stations 1, 2", "gear"},
		{KIND_ANILOX, "anilox roll, stations 1, 2", "anilox"},
		{KIND_BLADE, "blade, stations 1, 2", "blade"},
		{KIND_DIE, "die for cut 1, kiss", "die"},
		{KIND_MAGNETIC_CYLINDER, "magnetic cylinder for cut 1, kiss", "magnetic_cylinder"},
	};
	int64_t tools[COUNT_OF(cases)];
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		tools[i] = tool_new(shop, cases[i].kind, NULL);
	}
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		struct served served = asked(shop, job, tools[i]);
		assert_same_words(served.text, cases[i].text);
		assert_same_words(served.need, cases[i].need);
		assert_true(served.serves);
		assert_null(served.caution);
		assert_int_equal(served.station, 0);
		assert_int_equal(served.cut, i >= 4 ? 1 : 0);
	}
}

static void plan_serves__one_station_left__its_ink(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	int64_t first = tool_new(shop, KIND_ANILOX, NULL);
	int64_t wide = tool_new(shop, KIND_ANILOX, NULL);
	station_new(shop, "J1", "3", "Spot green", "7cm3/m2");
	int64_t green = tool_new(shop, KIND_ANILOX, WORDS("volume", "7cm3/m2"));
	take_out(shop, job, first);
	assert_yes(shop, job, wide, "anilox roll, stations 1, 2");
	struct served served = asked(shop, job, green);
	assert_string_equal(served.text, "anilox roll at station 3, Spot green");
	assert_int_equal(served.station, 3);
}

/*
 * Roll 1 would do at both stations, roll 2 only at station 1: whichever goes out first, the other
 * serves still.
 */
static void plan_serves__one_for_both_stations_out_first__makes_room(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Black", "3.7cm3/m2");
	int64_t both = tool_new(shop, KIND_ANILOX, NULL);
	int64_t only_first = tool_new(shop, KIND_ANILOX, WORDS("volume", "4.3cm3/m2"));
	assert_yes(shop, job, both, "anilox roll, stations 1, 2");
	take_out(shop, job, both);
	assert_yes(shop, job, only_first, "anilox roll at station 1, Cyan");
	take_out(shop, job, only_first);
	int64_t third = tool_new(shop, KIND_ANILOX, WORDS("volume", "3.7cm3/m2"));
	assert_no(shop, job, third, "no need of J1 is open for an anilox roll: both are out", NULL);
}

/* All that J1 takes: two of everything but the die and its magnetic cylinder. */
static void gather(struct shop *shop, int64_t *tools)
{
	static const enum kind_id needed[] = {KIND_CYLINDER, KIND_CYLINDER,
	                                      KIND_GEAR,     KIND_GEAR,
	                                      KIND_ANILOX,   KIND_ANILOX,
	                                      KIND_BLADE,    KIND_BLADE,
	                                      KIND_DIE,      KIND_MAGNETIC_CYLINDER};
	for (size_t i = 0; i < COUNT_OF(needed); i++) {
		tools[i] = tool_new(shop, needed[i], NULL);
	}
}
#define GATHERED 10

/* In whatever order they come, each serves; then nothing is open. */
static void gather_in_random_orders(struct shop *shop, int64_t job, unsigned orders)
{
	int64_t tools[GATHERED], spare = tool_new(shop, KIND_BLADE, NULL);
	unsigned drawn = 7;
	gather(shop, tools);
	for (unsigned order = 0; order < orders; order++) {
		for (size_t i = GATHERED; i > 1; i--) {
			drawn = drawn * 1103515245u + 12345u;
			size_t j = (drawn >> 16) % i;
			int64_t other = tools[i - 1];
			tools[i - 1] = tools[j];
			tools[j] = other;
		}
		for (size_t i = 0; i < GATHERED; i++) {
			assert_true(asked(shop, job, tools[i]).serves);
			take_out(shop, job, tools[i]);
		}
		assert_no(shop, job, spare, "no need of J1 is open for a blade: both are out", NULL);
		assert_int_equal(shop_run(shop, "UPDATE tool SET taken_for = NULL"), SQLITE_OK);
	}
}

static void plan_serves__gathered_in_any_order__each_serves(void **state)
{
	gather_in_random_orders(*state, plain_job(*state), 25);
}

static void plan_serves__new_job_gathered_in_any_order__each_serves(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", NEW_JOB);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Black", "4cm3/m2");
	gather_in_random_orders(shop, job, 15);
}

/* ---------------------------------------------------------------- what is out counts */

static void plan_serves__out_already__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), tool = tool_new(shop, KIND_ANILOX, NULL);
	take_out(shop, job, tool);
	assert_no(shop, job, tool, "is out for J1 already", NULL);
}

static void plan_serves__put_at_the_press_from_out__covers(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL), other = tool_new(shop, KIND_ANILOX, NULL);
	/* there, but not from being out: of some job before */
	put_at(shop, roll, "P1-1");
	assert_yes(shop, job, other, "anilox roll at station 1, Cyan");
	put_at(shop, roll, "R1");
	take_out(shop, job, roll);
	put_at(shop, roll, "P1-1");
	assert_no(shop, job, roll, "stands at P1-1 for J1 already", NULL);
	assert_no(shop, job, other,
	          "no need of J1 is open for it: AN000001-R is at the press for station 1 already",
	          NULL);
	/* from one station to the next it is still there for the job */
	put_at(shop, roll, "P1-2");
	assert_no(shop, job, roll, "stands at P1-2 for J1 already", NULL);
	put_at(shop, roll, "R1");
	assert_yes(shop, job, other, "anilox roll at station 1, Cyan");
}

static void plan_serves__at_the_press_but_out_for_another__open(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	int64_t next = job_new(shop, "J2", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL), other = tool_new(shop, KIND_ANILOX, NULL);
	take_out(shop, job, roll);
	put_at(shop, roll, "P1-1");
	take_out(shop, next, roll);
	assert_yes(shop, job, other, "anilox roll at station 1, Cyan");
}

static void plan_serves__out_but_held_since__open_again(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL), other = tool_new(shop, KIND_ANILOX, NULL);
	take_out(shop, job, roll);
	hold(shop, KIND_ANILOX, roll, "hold", "scored");
	assert_yes(shop, job, other, "anilox roll at station 1, Cyan");
}

/* ---------------------------------------------------------------- gears, blades and what they go
 * with */

static void plan_serves__gear_where_cylinders_out_have_their_own__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), gear = tool_new(shop, KIND_GEAR, NULL);
	tool_new(shop, KIND_CYLINDER, NULL); /* a demountable one, that is not wanted any more */
	take_out(shop, job, tool_new(shop, KIND_CYLINDER, WORDS("drive", "geared")));
	assert_yes(shop, job, gear, "gear at station 2, Black");
	take_out(shop, job, tool_new(shop, KIND_CYLINDER, WORDS("drive", "geared")));
	assert_no(shop, job, gear, "none of the plate cylinders out for J1 takes a loose gear", NULL);
}

static void plan_serves__blade_of_another_length__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	int64_t blade = tool_new(shop, KIND_BLADE, WORDS("length", "410mm"));
	int64_t good = tool_new(shop, KIND_BLADE, NULL);
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL);
	(void)good;
	assert_no(shop, job, blade, "length 410mm, 330mm +/-10mm needed",
	          "DB000002-G, length 330mm, in R1");
	/* a roll of that length that would do: some station could take it */
	int64_t wide = tool_new(shop, KIND_ANILOX, WORDS("face", "410mm"));
	assert_yes(shop, job, blade, "blade, stations 1, 2");
	take_out(shop, job, roll);
	assert_yes(shop, job, blade, "blade at station 2, Black");
	hold(shop, KIND_ANILOX, wide, "hold", "scored");
	assert_no(shop, job, blade, "length 410mm, 330mm +/-10mm needed",
	          "DB000002-G, length 330mm, in R1");
}

/* The roll that the blade goes with would do at station 1 alone, and that has its roll. */
static void plan_serves__blade_of_a_roll_not_wanted_any_more__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Spot green", "7cm3/m2");
	int64_t blade = tool_new(shop, KIND_BLADE, WORDS("length", "410mm"));
	tool_new(shop, KIND_ANILOX, WORDS("face", "410mm"));
	assert_yes(shop, job, blade, "blade at station 1, Cyan");
	take_out(shop, job, tool_new(shop, KIND_ANILOX, NULL));
	assert_no(shop, job, blade, "length 410mm, 330mm +/-10mm needed", NULL);
}

/* More is out than the job takes: two rolls for station 1, of which one has its blade. */
static void plan_serves__blade_of_a_roll_too_many__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Spot green", "7cm3/m2");
	take_out(shop, job, tool_new(shop, KIND_ANILOX, WORDS("face", "410mm")));
	take_out(shop, job, tool_new(shop, KIND_ANILOX, NULL));
	take_out(shop, job, tool_new(shop, KIND_BLADE, NULL));
	int64_t blade = tool_new(shop, KIND_BLADE, WORDS("length", "410mm"));
	assert_no(shop, job, blade,
	          "no need of J1 is open for it: what it goes with has no station left", NULL);
}

static void plan_serves__magnetic_cylinder_for_a_solid_die__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), cylinder = tool_new(shop, KIND_MAGNETIC_CYLINDER, NULL);
	int64_t near = tool_new(shop, KIND_MAGNETIC_CYLINDER, WORDS("die_gap", "0.483mm"));
	int64_t flexible = tool_new(shop, KIND_DIE, NULL);
	assert_yes(shop, job, cylinder, "magnetic cylinder for cut 1, kiss");
	assert_no(shop, job, near, "gap 483um, the die is made for 480um",
	          "MC000001-8, 96 teeth 1/8cp, gap 0.48mm, face 330mm, in R1");
	take_out(shop, job, tool_new(shop, KIND_DIE, WORDS("build", "solid")));
	assert_no(shop, job, cylinder, "none of the dies out for J1 is flexible", NULL);
	assert_no(shop, job, flexible,
	          "no need of J1 is open for it: DI000002-8 is out for cut 1 already", NULL);
}

/* Two blades for one roll left: of the other station no roll is on record. */
static void plan_serves__more_blades_than_rolls__the_second_no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), blade = tool_new(shop, KIND_BLADE, NULL);
	int64_t other = tool_new(shop, KIND_BLADE, NULL);
	tool_new(shop, KIND_ANILOX, NULL);
	take_out(shop, job, blade);
	assert_no(shop, job, other, "no need of J1 is open for it: DB000001-I is out",
	          "AN000001-R, 200/cm, 4.00cm3/m2, face 330mm, in R1");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(plan_serves__each_kind__told_where),
		GATHERING_TEST(plan_serves__one_station_left__its_ink),
		GATHERING_TEST(plan_serves__one_for_both_stations_out_first__makes_room),
		GATHERING_TEST(plan_serves__gathered_in_any_order__each_serves),
		GATHERING_TEST(plan_serves__new_job_gathered_in_any_order__each_serves),
		GATHERING_TEST(plan_serves__out_already__no),
		GATHERING_TEST(plan_serves__put_at_the_press_from_out__covers),
		GATHERING_TEST(plan_serves__at_the_press_but_out_for_another__open),
		GATHERING_TEST(plan_serves__out_but_held_since__open_again),
		GATHERING_TEST(plan_serves__gear_where_cylinders_out_have_their_own__no),
		GATHERING_TEST(plan_serves__blade_of_another_length__no),
		GATHERING_TEST(plan_serves__blade_of_a_roll_not_wanted_any_more__no),
		GATHERING_TEST(plan_serves__blade_of_a_roll_too_many__no),
		GATHERING_TEST(plan_serves__magnetic_cylinder_for_a_solid_die__no),
		GATHERING_TEST(plan_serves__more_blades_than_rolls__the_second_no),
	};
	return cmocka_run_group_tests_name("serves", tests, NULL, NULL);
}
