/* Does a station of a press take a tool? Kind, process, hold, fit, length, drive and pitch. */
#include "gathering.h"

static struct station_takes asked(struct shop *shop, int64_t tool, const char *place)
{
	struct station_takes takes;
	struct found found;
	struct limits limits = default_limits();
	assert_int_equal(store_find(shop->store, place, REFER_PLACE, &found, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(plan_station_takes(shop->store, shop->arena, found.id, tool, &limits, &takes,
	                                    &shop->fault),
	                 OUTCOME_DONE);
	return takes;
}

static void assert_takes(struct shop *shop, int64_t tool, const char *place, const char *caution)
{
	struct station_takes takes = asked(shop, tool, place);
	assert_same_words(takes.text, NULL);
	assert_true(takes.takes);
	assert_same_words(takes.caution, caution);
}

static void assert_refuses(struct shop *shop, int64_t tool, const char *place, const char *text)
{
	struct station_takes takes = asked(shop, tool, place);
	assert_same_words(takes.text, text);
	assert_false(takes.takes);
	assert_null(takes.caution);
}

/* ---------------------------------------------------------------- kinds and processes */

static void plan_station_takes__each_kind__its_sort_of_station(void **state)
{
	struct shop *shop = *state;
	static const struct {
		enum kind_id kind;
		bool cuts;
		const char *title;
	} cases[] = {
		{KIND_CYLINDER, false, "plate cylinder"},
		{KIND_GEAR, false, "gear"},
		{KIND_ANILOX, false, "anilox roll"},
		{KIND_BLADE, false, "doctor blade assembly"},
		{KIND_DIE, true, "die"},
		{KIND_MAGNETIC_CYLINDER, true, "magnetic cylinder"},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		int64_t tool = tool_new(shop, cases[i].kind, NULL);
		assert_takes(shop, tool, cases[i].cuts ? "P1-D1" : "P1-3", NULL);
		assert_takes(shop, tool, "P1", NULL);
		assert_refuses(shop, tool, cases[i].cuts ? "P1-3" : "P1-D1",
		               arena_format(shop->arena, "%s station, it takes no %s",
		                            cases[i].cuts ? "P1-3 is a print" : "P1-D1 is a die",
		                            cases[i].title));
	}
}

static void plan_station_takes__station_that_prints_otherwise__no(void **state)
{
	struct shop *shop = *state;
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL);
	run_sql(shop, "UPDATE place SET processes = 'hot_foil,rotary_screen' WHERE code = 'P1-6'", 0,
	        0);
	assert_refuses(shop, roll, "P1-6", "P1-6 does hot_foil,rotary_screen, it takes no anilox roll");
	run_sql(shop, "UPDATE place SET processes = 'hot_foil,cold_foil' WHERE code = 'P1-6'", 0, 0);
	assert_takes(shop, roll, "P1-6", NULL);
	run_sql(shop, "UPDATE place SET processes = 'flexo' WHERE code = 'P1-6'", 0, 0);
	assert_takes(shop, roll, "P1-6", NULL);
}

static void plan_station_takes__station_that_the_press_lost__no(void **state)
{
	struct shop *shop = *state;
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL), die = tool_new(shop, KIND_DIE, NULL);
	run_sql(shop, "UPDATE press SET stations = 4, die_stations = 1 WHERE code = 'P1'", 0, 0);
	assert_refuses(shop, roll, "P1-5", "press P1 has no station 5");
	assert_refuses(shop, die, "P1-D2", "press P1 has no die station 2");
}

/* ---------------------------------------------------------------- hold, retired */

static void plan_station_takes__on_hold__why(void **state)
{
	struct shop *shop = *state;
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL), held = tool_new(shop, KIND_ANILOX, NULL);
	int64_t scrapped = tool_new(shop, KIND_ANILOX, NULL);
	struct found found;
	hold(shop, KIND_ANILOX, held, "hold", "scored band");
	hold(shop, KIND_ANILOX, scrapped, "scrapped", "worn");
	assert_refuses(shop, held, "P1-3", "on hold since 2026-12-01T08:00: scored band");
	assert_refuses(shop, scrapped, "P1", "scrapped since 2026-12-01T08:00: worn");
	assert_refuses(
		shop, held, "P1-D1",
		"on hold since 2026-12-01T08:00: scored band; P1-D1 is a die station, it takes no"
		" anilox roll");
	store_find(shop->store, "P1-3", REFER_PLACE, &found, &shop->fault);
	hold(shop, KIND_PLACE, found.id, "hold", "bearing loose");
	assert_refuses(shop, roll, "P1-3", "P1-3 on hold since 2026-12-01T08:00: bearing loose");
	assert_takes(shop, roll, "P1-4", NULL);
	/* what is around a station holds it too */
	store_find(shop->store, "P1", REFER_PLACE, &found, &shop->fault);
	hold(shop, KIND_PLACE, found.id, "hold", "guard open");
	assert_refuses(shop, roll, "P1-4", "P1 on hold since 2026-12-01T08:00: guard open");
	assert_refuses(shop, roll, "P1", "P1 on hold since 2026-12-01T08:00: guard open");
}

static void plan_station_takes__retired__no(void **state)
{
	struct shop *shop = *state;
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL);
	run_sql(shop, "UPDATE place SET retired = 1 WHERE code = 'P1-3'", 0, 0);
	assert_refuses(shop, roll, "P1-3", "P1-3 is retired");
	run_sql(shop, "UPDATE press SET retired = 1 WHERE code = 'P1'", 0, 0);
	assert_refuses(shop, roll, "P1-4", "press P1 is retired");
}

/* ---------------------------------------------------------------- fit, length, drive, pitch */

struct bent {
	enum kind_id kind;
	const char *attribute, *value; /* of the tool; NULL: none */
	const char *press;             /* what is set of the press; NULL: nothing */
	const char *text, *caution;
};

/* At a station of its sort on P1. */
static void assert_bent(struct shop *shop, const struct bent *bent)
{
	int64_t tool = tool_new(shop, bent->kind,
	                        bent->attribute == NULL ? NULL : WORDS(bent->attribute, bent->value));
	const char *place =
		bent->kind == KIND_DIE || bent->kind == KIND_MAGNETIC_CYLINDER ? "P1-D1" : "P1-3";
	const char *back = "UPDATE press SET drive = 'geared', pitches = '1/8cp', fit = NULL,"
					   " repeat_min = 150000000, repeat_max = 600000000, pressure_angle = NULL,"
					   " helix = NULL WHERE code = 'P1'";
	if (bent->press != NULL) {
		run_sql(shop,
		        arena_format(shop->arena, "UPDATE press SET %s WHERE code = 'P1'", bent->press), 0,
		        0);
	}
	if (bent->text != NULL) {
		assert_refuses(shop, tool, place, bent->text);
	} else {
		assert_takes(shop, tool, place, bent->caution);
	}
	run_sql(shop, back, 0, 0);
}

static void plan_station_takes__does_not_go_on__figures_against_the_press(void **state)
{
	static const struct bent cases[] = {
		{KIND_CYLINDER, "fit", "journal40", "fit = 'journal35'",
	     "fit journal40, P1 takes journal35", NULL},
		{KIND_ANILOX, "fit", "journal40", "fit = 'bearer13,journal35'",
	     "fit journal40, P1 takes bearer13,journal35", NULL},
		{KIND_BLADE, "fit", "holder14", "fit = 'holder13'", "fit holder14, P1 takes holder13",
	     NULL},
		{KIND_DIE, "fit", "bearer14", "fit = 'bearer13'", "fit bearer14, P1 takes bearer13", NULL},
		{KIND_MAGNETIC_CYLINDER, "fit", "bearer14", "fit = 'bearer13'",
	     "fit bearer14, P1 takes bearer13", NULL},
		{KIND_CYLINDER, "drive", "gearless", NULL, "gearless, press P1 is geared", NULL},
		{KIND_CYLINDER, "pitch", "1/4cp", NULL,
	     "length 609.6mm, press P1 takes 600mm at most; pitch 1/4cp, press P1 takes 1/8cp", NULL},
		{KIND_CYLINDER, "teeth", "40", NULL, "length 127mm, press P1 takes 150mm at least", NULL},
		{KIND_GEAR, "pitch", "10dp", NULL, "pitch 10dp, press P1 takes 1/8cp", NULL},
		{KIND_GEAR, "pressure_angle", "14.5deg", "pressure_angle = 20000000",
	     "pressure angle 14.5deg, 20deg of the gear train", NULL},
		{KIND_GEAR, NULL, NULL, "drive = 'servo'",
	     "press P1 has a motor for each cylinder, it takes no gear", NULL},
		{KIND_DIE, "teeth", "40", NULL, "length 127mm, press P1 takes 150mm at least", NULL},
		{KIND_DIE, "pitch", "m1", NULL, "pitch m1, press P1 takes 1/8cp", NULL},
		{KIND_MAGNETIC_CYLINDER, "pitch", "m1", NULL, "pitch m1, press P1 takes 1/8cp", NULL},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_bent(*state, &cases[i]);
	}
}

static void plan_station_takes__a_cylinder_with_its_own_gear__meshes(void **state)
{
	struct shop *shop = *state;
	int64_t own = tool_new(shop, KIND_CYLINDER,
	                       WORDS("drive", "geared", "helix", "10deg", "pressure_angle", "20deg"));
	int64_t loose =
		tool_new(shop, KIND_CYLINDER, WORDS("helix", "10deg", "pressure_angle", "20deg"));
	run_sql(shop, "UPDATE press SET helix = 0, pressure_angle = 20000000 WHERE code = 'P1'", 0, 0);
	assert_refuses(shop, own, "P1-3", "helix 10deg, 0deg of the gear train");
	/* of a demountable one the loose gear is asked */
	assert_takes(shop, loose, "P1-3", NULL);
}

static void plan_station_takes__not_known__caution(void **state)
{
	static const struct bent cases[] = {
		{KIND_CYLINDER, NULL, NULL, "fit = 'journal35'", NULL, "fit not known, P1 takes journal35"},
		{KIND_ANILOX, NULL, NULL, "fit = 'journal35'", NULL, "fit not known, P1 takes journal35"},
		{KIND_CYLINDER, NULL, NULL, "drive = NULL", NULL, "drive of press P1 not known"},
		{KIND_CYLINDER, NULL, NULL, "pitches = NULL", NULL, "pitches of press P1 not known"},
		{KIND_CYLINDER, NULL, NULL, "repeat_min = NULL", NULL, "repeat_min of press P1 not known"},
		{KIND_DIE, NULL, NULL, "repeat_max = NULL", NULL, "repeat_max of press P1 not known"},
		{KIND_GEAR, NULL, NULL, "drive = NULL", NULL, "drive of press P1 not known"},
		/* what is known too long is too long though the other end is not known */
		{KIND_CYLINDER, "teeth", "200", "repeat_min = NULL",
	     "length 635mm, press P1 takes 600mm at most", NULL},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_bent(*state, &cases[i]);
	}
	struct shop *shop = *state;
	int64_t blank = tool_new(shop, KIND_CYLINDER, NULL), gear = tool_new(shop, KIND_GEAR, NULL);
	run_sql(shop, "UPDATE cylinder SET teeth = NULL, pitch = NULL, drive = NULL WHERE tool = %lld",
	        blank, 0);
	run_sql(shop, "UPDATE gear SET teeth = NULL, pitch = NULL WHERE tool = %lld", gear, 0);
	assert_takes(shop, blank, "P1-3",
	             "length around not known; drive not known, press P1 is geared");
	assert_takes(shop, gear, "P1-3", "teeth and pitch not known");
	assert_takes(shop, blank, "P2-3", "length around not known");
}

/* Lengths and pitches matter at a station; onto the press as a place only what fits. */
static void plan_station_takes__press_as_a_place__fit_alone(void **state)
{
	struct shop *shop = *state;
	int64_t long_one = tool_new(shop, KIND_CYLINDER, WORDS("teeth", "200"));
	int64_t thick = tool_new(shop, KIND_CYLINDER, WORDS("fit", "journal40"));
	assert_takes(shop, long_one, "P1", NULL);
	run_sql(shop, "UPDATE press SET fit = 'journal35' WHERE code = 'P1'", 0, 0);
	assert_refuses(shop, thick, "P1", "fit journal40, P1 takes journal35");
	assert_takes(shop, long_one, "P1", "fit not known, P1 takes journal35");
	assert_takes(shop, tool_new(shop, KIND_GEAR, NULL), "P1", NULL);
}

/* ---------------------------------------------------------------- who stands there */

static void plan_station_takes__one_of_its_kind_stands_there__caution(void **state)
{
	struct shop *shop = *state;
	int64_t first = tool_new(shop, KIND_ANILOX, WORDS("place", "P1-3"));
	int64_t second = tool_new(shop, KIND_ANILOX, NULL), third = tool_new(shop, KIND_ANILOX, NULL);
	tool_new(shop, KIND_BLADE, WORDS("place", "P1-3"));
	assert_takes(shop, second, "P1-3", "AN000001-R stands there already");
	assert_takes(shop, first, "P1-3", NULL);
	put_at(shop, second, "P1-3");
	assert_takes(shop, third, "P1-3", "AN000001-R, AN000002-P stand there already");
	run_sql(shop, "UPDATE press SET fit = 'journal35' WHERE code = 'P1'", 0, 0);
	assert_takes(shop, third, "P1-3",
	             "fit not known, P1 takes journal35; AN000001-R, AN000002-P stand there already");
}

/* A flexible die and its magnetic cylinder share a station; any other die takes it for itself. */
static void plan_station_takes__die_beside_a_magnetic_cylinder__do_they_go_together(void **state)
{
	struct shop *shop = *state;
	int64_t cylinder = tool_new(shop, KIND_MAGNETIC_CYLINDER, WORDS("place", "P1-D1"));
	int64_t die = tool_new(shop, KIND_DIE, NULL);
	assert_takes(shop, die, "P1-D1", NULL);
	assert_takes(shop, tool_new(shop, KIND_DIE, WORDS("teeth", "80", "die_gap", "0.483mm")),
	             "P1-D1",
	             "with MC000001-8 there: 96 teeth 1/8cp, 80 teeth 1/8cp needed; gap 480um, the die"
	             " is made for 483um");
	assert_takes(shop, tool_new(shop, KIND_DIE, WORDS("face", "340mm")), "P1-D1",
	             "with MC000001-8 there: face 330mm, the die has 340mm");
	assert_takes(shop, tool_new(shop, KIND_DIE, WORDS("build", "solid")), "P1-D1",
	             "MC000001-8 stands there already");
	/* the other way round */
	put_at(shop, die, "P1-D2");
	assert_takes(shop, cylinder, "P1-D2", NULL);
	assert_takes(shop, tool_new(shop, KIND_MAGNETIC_CYLINDER, WORDS("die_gap", "0.483mm")), "P1-D2",
	             "for DI000001-A there: gap 483um, the die is made for 480um");
	run_sql(shop, "UPDATE die SET die_gap = NULL WHERE tool = %lld OR %lld = 0", die, 1);
	assert_takes(shop, cylinder, "P1-D2", "for DI000001-A there: gap of the die not known");
	run_sql(shop, "UPDATE die SET build = 'solid' WHERE tool = %lld OR %lld = 0", die, 1);
	assert_takes(shop, cylinder, "P1-D2", "DI000001-A stands there already");
	/* another of the kind is told before it */
	put_at(shop, tool_new(shop, KIND_DIE, WORDS("teeth", "80")), "P1-D1");
	assert_takes(shop, tool_new(shop, KIND_DIE, WORDS("teeth", "80")), "P1-D1",
	             "DI000005-2 stands there already; with MC000001-8 there: 96 teeth 1/8cp, 80 teeth"
	             " 1/8cp needed");
	/* on the press as a place nothing stands in another's way */
	put_at(shop, cylinder, "P1");
	assert_takes(shop, tool_new(shop, KIND_DIE, WORDS("teeth", "80")), "P1", NULL);
}

/* A shelf that the shop has put into a station is of that station. */
static void plan_station_takes__place_within_a_station__as_the_station(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "TRAY", "sort", "press", "within", "P1-3"));
	assert_refuses(shop, tool_new(shop, KIND_DIE, NULL), "TRAY",
	               "P1-3 is a print station, it takes no die");
}

static void plan_station_takes__no_place_of_a_press__refused(void **state)
{
	struct shop *shop = *state;
	struct station_takes takes;
	struct found found;
	struct limits limits = default_limits();
	int64_t tool = tool_new(shop, KIND_DIE, NULL);
	store_find(shop->store, "R1", REFER_PLACE, &found, &shop->fault);
	assert_int_equal(plan_station_takes(shop->store, shop->arena, found.id, tool, &limits, &takes,
	                                    &shop->fault),
	                 OUTCOME_STORE);
	assert_string_equal(shop->fault.sentence,
	                    arena_format(shop->arena, "place is not of a press: number %lld",
	                                 (long long)found.id));
	fault_clear(&shop->fault);
	store_find(shop->store, "P1-3", REFER_PLACE, &found, &shop->fault);
	assert_int_equal(plan_station_takes(shop->store, shop->arena, found.id, 999, &limits, &takes,
	                                    &shop->fault),
	                 OUTCOME_STORE);
	assert_string_equal(shop->fault.sentence, "tool is not on record: number 999");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(plan_station_takes__each_kind__its_sort_of_station),
		GATHERING_TEST(plan_station_takes__station_that_prints_otherwise__no),
		GATHERING_TEST(plan_station_takes__station_that_the_press_lost__no),
		GATHERING_TEST(plan_station_takes__on_hold__why),
		GATHERING_TEST(plan_station_takes__retired__no),
		GATHERING_TEST(plan_station_takes__does_not_go_on__figures_against_the_press),
		GATHERING_TEST(plan_station_takes__a_cylinder_with_its_own_gear__meshes),
		GATHERING_TEST(plan_station_takes__not_known__caution),
		GATHERING_TEST(plan_station_takes__press_as_a_place__fit_alone),
		GATHERING_TEST(plan_station_takes__one_of_its_kind_stands_there__caution),
		GATHERING_TEST(plan_station_takes__die_beside_a_magnetic_cylinder__do_they_go_together),
		GATHERING_TEST(plan_station_takes__place_within_a_station__as_the_station),
		GATHERING_TEST(plan_station_takes__no_place_of_a_press__refused),
	};
	return cmocka_run_group_tests_name("station_takes", tests, NULL, NULL);
}
