/* Why a tool does not serve a job, what is expected in its stead, and cautions. */
#include "serving.h"

/* ---------------------------------------------------------------- refusals */

/* What speaks against a tool: the predicates say it. */
static void plan_serves__does_not_suit__figures_against_what_is_asked(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	tool_new(shop, KIND_CYLINDER, NULL);
	tool_new(shop, KIND_ANILOX, NULL);
	tool_new(shop, KIND_DIE, NULL);
	static const char *const cylinder =
		"PC000001-H, 96 teeth 1/8cp, face 330mm, diameter 92.855mm, in R1";
	static const char *const roll = "AN000001-R, 200/cm, 4.00cm3/m2, face 330mm, in R1";
	static const char *const die =
		"DI000001-A, kiss, 100mm x 73mm, 96 teeth 1/8cp, 4 around, in R1";
	const struct {
		enum kind_id kind;
		const char *attribute, *value, *text, *expected;
	} cases[] = {
		{KIND_CYLINDER, "face", "250mm", "face 250mm, 306mm needed", cylinder},
		{KIND_CYLINDER, "diameter", "93mm",
	     "diameter 93mm, 92.855mm needed for plate 1.702mm and tape 0.381mm", cylinder},
		{KIND_CYLINDER, "runout", "0.02mm", "runout 0.02mm, 0.0127mm at most", cylinder},
		{KIND_CYLINDER, "teeth", "128",
	     "length 406.4mm (128 teeth 1/8cp), 304.8mm (96 teeth 1/8cp) needed; diameter 92.855mm,"
	     " 125.195mm needed for plate 1.702mm and tape 0.381mm",
	     cylinder},
		{KIND_ANILOX, "volume", "6cm3/m2", "volume 6.00cm3/m2, 4.00cm3/m2 +/-10% wanted", roll},
		{KIND_ANILOX, "face", "250mm", "face 250mm, 306mm needed", roll},
		{KIND_DIE, "label_across", "90mm", "label across 90mm, 100mm needed", die},
		{KIND_DIE, "cut", "through", "cut through, kiss needed", die},
		{KIND_GEAR, "teeth", "97", "97 teeth 1/8cp, 96 teeth 1/8cp needed", cylinder},
		{KIND_MAGNETIC_CYLINDER, "teeth", "97", "97 teeth 1/8cp, 96 teeth 1/8cp needed", NULL},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		int64_t tool = tool_new(shop, cases[i].kind, WORDS(cases[i].attribute, cases[i].value));
		struct served served = asked(shop, job, tool);
		assert_false(served.serves);
		assert_same_words(served.text, cases[i].text);
		if (cases[i].expected != NULL) {
			assert_int_equal(strncmp(served.expected, cases[i].expected, strlen(cases[i].expected)),
			                 0);
		}
	}
}

/* Of the cut that is named nothing is left: that is said before what the other cut takes. */
static void plan_serves__none_for_the_one_named__said_first(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	shop_add(shop, KIND_CUT, WORDS("job", "J1", "cut", "1", "kind", "perforation"));
	shop_add(shop, KIND_CUT, WORDS("job", "J1", "cut", "2", "kind", "kiss"));
	tool_new(shop, KIND_DIE, WORDS("cut", "perforation", "build", "solid"));
	int64_t die = tool_new(shop, KIND_DIE, WORDS("corner", "3mm"));
	assert_no(shop, job, die, "cut 2: corner 3mm, 2mm needed",
	          "no other die suits cut 2 and is there; DI000001-A, perforation, 100mm x 73mm,"
	          " 96 teeth 1/8cp, 4 around, in R1");
	int64_t kiss = tool_new(shop, KIND_DIE, NULL);
	assert_no(shop, job, die, "cut 2: corner 3mm, 2mm needed",
	          "DI000003-6, kiss, 100mm x 73mm, 96 teeth 1/8cp, 4 around, in R1; DI000001-A,"
	          " perforation, 100mm x 73mm, 96 teeth 1/8cp, 4 around, in R1");
	/* what is out for it is not expected once more */
	take_out(shop, job, kiss);
	assert_no(shop, job, die, "cut 2: corner 3mm, 2mm needed",
	          "DI000001-A, perforation, 100mm x 73mm, 96 teeth 1/8cp, 4 around, in R1");
}

/* Rolls of both stations' volumes: the only one would do for the station named, and for another. */
static void plan_serves__the_only_one_goes_to_another__none_is_left(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4.2cm3/m2");
	station_new(shop, "J1", "2", "Black", "4cm3/m2");
	tool_new(shop, KIND_ANILOX, NULL);
	int64_t roll = tool_new(shop, KIND_ANILOX, WORDS("volume", "8cm3/m2"));
	assert_no(shop, job, roll, "station 1: volume 8.00cm3/m2, 4.20cm3/m2 +/-10% wanted",
	          "no other anilox roll is left for station 1; AN000001-R, 200/cm, 4.00cm3/m2, face"
	          " 330mm, in R1");
}

/* Where the stations ask different things the one that it comes nearest to is named. */
static void plan_serves__stations_that_differ__the_nearest_is_named(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	station_new(shop, "J1", "3", "Spot green", "7cm3/m2");
	tool_new(shop, KIND_ANILOX, NULL);
	tool_new(shop, KIND_ANILOX, WORDS("volume", "7cm3/m2"));
	int64_t high = tool_new(shop, KIND_ANILOX, WORDS("volume", "8cm3/m2"));
	assert_no(shop, job, high, "station 3: volume 8.00cm3/m2, 7.00cm3/m2 +/-10% wanted",
	          "AN000002-P, 200/cm, 7.00cm3/m2, face 330mm, in R1; AN000001-R, 200/cm, 4.00cm3/m2,"
	          " face 330mm, in R1");
	int64_t narrow =
		tool_new(shop, KIND_DIE,
	             WORDS("label_across", "90mm", "label_around", "70mm", "number_across", "4"));
	assert_no(
		shop, job, narrow, "4 across, 3 needed; label across 90mm, 100mm needed; and 1 more",
		"no other die suits and is there; AN000001-R, 200/cm, 4.00cm3/m2, face 330mm, in R1; AN000002-P, 200/cm, 7.00cm3/m2,"
		" face 330mm, in R1");
}

static void plan_serves__new_job_die_out_of_step_with_the_shelf__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", NEW_JOB);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	tool_new(shop, KIND_CYLINDER, NULL);
	/* 101 teeth: 320.675 mm, 4 around: 80.2 mm a label, and no cylinder prints that */
	int64_t off = tool_new(shop, KIND_DIE, WORDS("teeth", "101"));
	int64_t wrong = tool_new(shop, KIND_DIE, WORDS("teeth", "101", "corner", "3mm"));
	struct served served = asked(shop, job, off);
	assert_same_words(served.text, "no plate cylinder that suits J1 prints in step with it");
	served = asked(shop, job, wrong);
	assert_same_words(served.text, "corner 3mm, 2mm needed");
}

/* A die that does not do for the job tells nothing of its repeat: what the check chooses is told.
 */
static void plan_serves__new_job_wrong_die__expected_is_what_the_check_chooses(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", NEW_JOB);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	tool_new(shop, KIND_CYLINDER, NULL);
	/* 95 teeth: 301.625 mm, less waste than 304.8 mm, with which the die is in step */
	tool_new(shop, KIND_CYLINDER, WORDS("teeth", "95", "diameter", "91.844mm"));
	int64_t wrong = tool_new(shop, KIND_DIE, WORDS("corner", "3mm"));
	assert_no(shop, job, wrong, "corner 3mm, 2mm needed",
	          "no other die suits and is there; PC000002-F, 95 teeth 1/8cp, face 330mm,"
	          " diameter 91.844mm, in R1");
	int64_t magnetic = tool_new(shop, KIND_MAGNETIC_CYLINDER, NULL);
	assert_no(shop, job, magnetic, "none of the dies suits J1 and is there",
	          "PC000002-F, 95 teeth 1/8cp, face 330mm, diameter 91.844mm, in R1");
}

static void plan_serves__not_there__why(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), other = job_new(shop, "J2", "P2", REPEAT_ORDER);
	int64_t held = tool_new(shop, KIND_ANILOX, NULL), scrapped = tool_new(shop, KIND_ANILOX, NULL);
	int64_t away = tool_new(shop, KIND_ANILOX, WORDS("place", "S1"));
	int64_t taken = tool_new(shop, KIND_ANILOX, NULL), booked = tool_new(shop, KIND_ANILOX, NULL);
	static const char *const expected = "AN000006-H, 200/cm, 4.00cm3/m2, face 330mm, in R1";
	tool_new(shop, KIND_ANILOX, NULL);
	shop_add(shop, KIND_PLACE, WORDS("code", "L1", "sort", "lost"));
	hold(shop, KIND_ANILOX, held, "hold", "scored band");
	hold(shop, KIND_ANILOX, scrapped, "scrapped", "worn");
	take_out(shop, other, taken);
	run_sql(shop,
	        "INSERT INTO booking (tool, job, need, station, starts, ends)"
	        " VALUES (%lld, %lld, 'anilox', 1, 1796112000, 1796119200)",
	        booked, other);
	assert_no(shop, job, held, "on hold since 2026-12-01T08:00: scored band", expected);
	assert_no(shop, job, scrapped, "scrapped since 2026-12-01T08:00: worn", expected);
	assert_no(shop, job, away, "at supplier S1, no date back: receive it first, if it is here",
	          expected);
	int64_t lost = tool_new(shop, KIND_ANILOX, WORDS("place", "L1"));
	assert_no(shop, job, lost, "lost: receive it first, if it is here", expected);
	run_sql(shop, "UPDATE tool SET place = NULL WHERE id = %lld OR %lld = 0", lost, 1);
	assert_no(shop, job, lost, "place not known: receive it first, if it is here", expected);
	/* that it is received is not all that it lacks */
	take_out(shop, other, away);
	assert_no(shop, job, away, "at supplier S1, no date back", expected);
	assert_no(shop, job, taken, "taken for job J2, end not known", expected);
	assert_no(shop, job, booked, "taken for job J2 until 2026-12-01T10:00", expected);
}

static void plan_serves__job_over__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), tool = tool_new(shop, KIND_ANILOX, NULL);
	run_sql(shop, "UPDATE job SET state = 'finished' WHERE id = %lld OR %lld = 0", job, 1);
	assert_no(shop, job, tool, "job J1 is finished", NULL);
	run_sql(shop, "UPDATE job SET state = 'cancelled' WHERE id = %lld OR %lld = 0", job, 1);
	assert_no(shop, job, tool, "job J1 is cancelled", NULL);
}

static void plan_serves__no_station_prints__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	assert_no(shop, job, tool_new(shop, KIND_CYLINDER, NULL), "no station of J1 takes a cylinder",
	          NULL);
	assert_no(shop, job, tool_new(shop, KIND_ANILOX, NULL), "no station of J1 takes an anilox roll",
	          NULL);
}

static void plan_serves__another_die_is_named__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	tool_new(shop, KIND_DIE, NULL);
	int64_t other = tool_new(shop, KIND_DIE, NULL);
	shop_add(shop, KIND_CUT, WORDS("job", "J1", "cut", "1", "kind", "kiss", "die", "DI000001-A"));
	assert_no(shop, job, other, "cut 1 of J1 names another die: DI000001-A",
	          "DI000001-A, kiss, 100mm x 73mm, 96 teeth 1/8cp, 4 around, in R1");
}

static void plan_serves__no_press__no(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	int64_t tool = tool_new(shop, KIND_DIE, NULL);
	assert_int_equal(shop_run(shop, "DELETE FROM job_press"), SQLITE_OK);
	assert_int_equal(shop_run(shop, "UPDATE press SET retired = 1"), SQLITE_OK);
	assert_no(shop, job, tool, "no press in use is on record", NULL);
}

static void plan_serves__nobody_knows_them__refused(void **state)
{
	struct shop *shop = *state;
	struct served served;
	struct limits limits = default_limits();
	int64_t job = plain_job(shop);
	assert_int_equal(plan_serves(shop->store, shop->arena, job, 999, shop->actor.now, &limits,
	                             &served, &shop->fault),
	                 OUTCOME_STORE);
	assert_string_equal(shop->fault.sentence, "tool is not on record: number 999");
	fault_clear(&shop->fault);
	assert_int_equal(plan_serves(shop->store, shop->arena, 999, tool_new(shop, KIND_DIE, NULL),
	                             shop->actor.now, &limits, &served, &shop->fault),
	                 OUTCOME_STORE);
	assert_string_equal(shop->fault.sentence, "job is not on record: number 999");
}

/* ---------------------------------------------------------------- expected */

static void plan_serves__several_open__three_and_how_many_more(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	station_new(shop, "J1", "3", "Magenta", "4cm3/m2");
	station_new(shop, "J1", "4", "Yellow", "4cm3/m2");
	int64_t first = tool_new(shop, KIND_BLADE, NULL);
	for (int i = 0; i < 4; i++) {
		tool_new(shop, KIND_ANILOX, NULL);
		tool_new(shop, KIND_BLADE, NULL);
	}
	int64_t wrong = tool_new(shop, KIND_BLADE, WORDS("length", "250mm"));
	assert_no(shop, job, wrong, "length 250mm, 330mm +/-10mm needed",
	          "DB000001-I, length 330mm, in R1; DB000002-G, length 330mm, in R1; DB000003-E,"
	          " length 330mm, in R1; and 1 more");
	assert_no(shop, job, tool_new(shop, KIND_ANILOX, WORDS("volume", "7cm3/m2")),
	          "volume 7.00cm3/m2, 4.00cm3/m2 +/-10% wanted",
	          "AN000001-R, 200/cm, 4.00cm3/m2, face 330mm, in R1; AN000002-P, 200/cm, 4.00cm3/m2,"
	          " face 330mm, in R1; AN000003-N, 200/cm, 4.00cm3/m2, face 330mm, in R1; and 1 more");
	/* what is out is not expected again, and what was chosen beside it is */
	take_out(shop, job, first);
	assert_no(shop, job, wrong, "length 250mm, 330mm +/-10mm needed",
	          "DB000002-G, length 330mm, in R1; DB000003-E, length 330mm, in R1; DB000004-C,"
	          " length 330mm, in R1");
	for (int64_t tool = first; tool <= first + 8; tool += 2) {
		take_out(shop, job, tool); /* the other blades, which were made in turn with the rolls */
	}
	assert_no(shop, job, tool_new(shop, KIND_BLADE, NULL),
	          "no need of J1 is open for a blade: all 4 are out",
	          "AN000001-R, 200/cm, 4.00cm3/m2, face 330mm, in R1; AN000002-P, 200/cm, 4.00cm3/m2,"
	          " face 330mm, in R1; AN000003-N, 200/cm, 4.00cm3/m2, face 330mm, in R1; and 1 more");
}

/* Two stations of one need are taken, the third asks another roll: told which, whether out or
 * there. */
static void plan_serves__some_stations_taken__by_which_and_where_those_are(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	station_new(shop, "J1", "3", "Spot green", "7cm3/m2");
	int64_t first = tool_new(shop, KIND_ANILOX, NULL), second = tool_new(shop, KIND_ANILOX, NULL);
	int64_t third = tool_new(shop, KIND_ANILOX, NULL);
	take_out(shop, job, first);
	take_out(shop, job, second);
	assert_same_words(
		asked(shop, job, third).text,
		"no need of J1 is open for it: AN000001-R, AN000002-P are out for stations 1 and 2 already");
	put_at(shop, first, "P1-4"); /* at whichever station it stands */
	assert_same_words(asked(shop, job, third).text,
	                  "no need of J1 is open for it: AN000002-P, AN000001-R are out or at the press"
	                  " for stations 1 and 2 already");
	put_at(shop, second, "P1-5");
	assert_same_words(asked(shop, job, third).text,
	                  "no need of J1 is open for it: AN000001-R, AN000002-P are at the press for"
	                  " stations 1 and 2 already");
}

/* Of the kind scanned nothing is open: then what is. */
static void plan_serves__none_of_the_kind_open__the_others(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL), other = tool_new(shop, KIND_ANILOX, NULL);
	int64_t blade = tool_new(shop, KIND_BLADE, WORDS("place", "C1"));
	take_out(shop, job, roll);
	assert_no(shop, job, other,
	          "no need of J1 is open for it: AN000001-R is out for station 1 already",
	          "DB000001-I, length 330mm, in C1");
	take_out(shop, job, blade);
	int64_t second = tool_new(shop, KIND_BLADE, NULL);
	assert_no(shop, job, second, "no need of J1 is open for a blade: the one it takes is out",
	          NULL);
	put_at(shop, blade, "P1-1");
	assert_no(shop, job, second,
	          "no need of J1 is open for a blade: the one it takes is out or at the press", NULL);
}

/* ---------------------------------------------------------------- several presses, repeats */

/* What is out tells on which press: a gear is of no use where a cylinder without one is out. */
static void plan_serves__two_presses__as_what_is_out_asks(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1,P2", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Black", "4cm3/m2");
	int64_t gear = tool_new(shop, KIND_GEAR, NULL);
	tool_new(shop, KIND_CYLINDER, NULL);
	int64_t gearless = tool_new(shop, KIND_CYLINDER, WORDS("drive", "gearless"));
	assert_yes(shop, job, gear, "gear, stations 1, 2, on press P1");
	assert_yes(shop, job, gearless, "cylinder, stations 1, 2, on press P2");
	take_out(shop, job, gearless);
	assert_no(shop, job, gear, "none of the plate cylinders that suit J1 takes a loose gear",
	          "PC000001-H, 96 teeth 1/8cp, face 330mm, diameter 92.855mm, in R1");
}

static void plan_serves__new_job__the_repeat_of_what_is_out(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", NEW_JOB);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Black", "4cm3/m2");
	/* 72 teeth: 228.6 mm, 3 around, bare 228.6/pi - 4.166 = 68.599 mm; 96 teeth: 4 around */
	int64_t short_one = tool_new(shop, KIND_CYLINDER, WORDS("teeth", "72", "diameter", "68.599mm"));
	int64_t long_one = tool_new(shop, KIND_CYLINDER, NULL);
	int64_t none = tool_new(shop, KIND_CYLINDER, WORDS("teeth", "84", "diameter", "80mm"));
	int64_t next = tool_new(shop, KIND_CYLINDER, NULL);
	int64_t gear = tool_new(shop, KIND_GEAR, WORDS("teeth", "84"));
	assert_yes(shop, job, short_one, "cylinder, stations 1, 2");
	assert_yes(shop, job, long_one, "cylinder, stations 1, 2");
	/* 266.7 mm: 3 around leaves 15.9 mm */
	struct served served = asked(shop, job, none);
	assert_string_equal(served.text,
	                    "length 266.7mm (84 teeth 1/8cp) gives J1 no gap around in its limits");
	served = asked(shop, job, gear);
	assert_string_equal(served.text,
	                    "length 266.7mm (84 teeth 1/8cp) gives J1 no gap around in its limits");
	/* 301.625 mm: 4 around leave 2.406 mm, but no cylinder is as long */
	gear = tool_new(shop, KIND_GEAR, WORDS("teeth", "95"));
	assert_same_words(asked(shop, job, gear).text,
	                  "no plate cylinder that suits J1 has 95 teeth 1/8cp");
	assert_int_equal(shop_run(shop, "UPDATE gear SET teeth = NULL, pitch = NULL, around = NULL"),
	                 SQLITE_OK);
	assert_same_words(asked(shop, job, gear).text, "teeth and pitch not known");
	take_out(shop, job, long_one);
	assert_no(shop, job, short_one,
	          "length 228.6mm (72 teeth 1/8cp), 304.8mm (96 teeth 1/8cp) needed",
	          "PC000004-B, 96 teeth 1/8cp, face 330mm, diameter 92.855mm, in R1");
	assert_yes(shop, job, next, "cylinder, stations 1, 2");
}

/* The die that is out cuts 76.2 mm a label: a cylinder of other steps does not go with it. */
static void plan_serves__new_job_with_a_die_out__cylinders_in_step(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", NEW_JOB);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	int64_t die = tool_new(shop, KIND_DIE, NULL);
	int64_t in_step = tool_new(shop, KIND_CYLINDER, NULL);
	/* 95 teeth: 301.625 mm, 4 around leaves 2.406 mm; bare 301.625/pi - 4.166 = 91.844 mm */
	int64_t off = tool_new(shop, KIND_CYLINDER, WORDS("teeth", "95", "diameter", "91.844mm"));
	assert_yes(shop, job, off, "cylinder at station 1, Cyan");
	take_out(shop, job, die);
	assert_yes(shop, job, in_step, "cylinder at station 1, Cyan");
	assert_false(asked(shop, job, off).serves);
	take_out(shop, job, off);
	/* now both are out, and one of them is wrong: the cylinder is what the clerk has in hand */
	assert_int_equal(shop_run(shop, "UPDATE tool SET taken_for = NULL"), SQLITE_OK);
	take_out(shop, job, off);
	assert_no(shop, job, die, "76.2mm of web a label, 75.406mm needed",
	          "no other die suits and is there");
}

/* ---------------------------------------------------------------- cautions */

static void plan_serves__serves_with_a_doubt__caution(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop);
	int64_t other = job_new(shop, "J2", "P2",
	                        WORDS("teeth", "96", "pitch", "1/8cp", "number_around", "4", "from",
	                              "2026-12-02T08:00Z", "until", "2026-12-02T10:00Z"));
	int64_t cylinder = tool_new(shop, KIND_CYLINDER, WORDS("carries", "J2"));
	int64_t unknown = tool_new(shop, KIND_ANILOX, WORDS("line_screen", "200/cm"));
	int64_t blade = tool_new(shop, KIND_BLADE, WORDS("life", "10m"));
	struct served served = asked(shop, job, cylinder);
	assert_true(served.serves);
	assert_same_words(served.caution, "plates of job J2 still mounted");
	served = asked(shop, job, blade);
	assert_true(served.serves);
	assert_same_words(served.caution, "life left 10m, the run is 27.1272m");
	take_out(shop, other, unknown);
	served = asked(shop, job, unknown);
	assert_true(served.serves);
	assert_same_words(served.caution, "is out for job J2 by now");
}

static void assert_caution(struct shop *shop, int64_t job, int64_t tool, const char *caution)
{
	struct served served = asked(shop, job, tool);
	assert_true(served.serves);
	assert_same_words(served.caution, caution);
}

static void hold_place(struct shop *shop, const char *place, const char *condition,
                       const char *reason)
{
	struct found found;
	assert_int_equal(store_find(shop->store, place, REFER_PLACE, &found, &shop->fault),
	                 OUTCOME_DONE);
	hold(shop, KIND_PLACE, found.id, condition, reason);
}

/* It suits, but the check is short of the station: gathered for nothing, if nobody says so. */
static void plan_serves__every_station_of_it_held__caution(void **state)
{
	struct shop *shop = *state;
	int64_t job = plain_job(shop), both = job_new(shop, "J2", "P1,P2", REPEAT_ORDER);
	station_new(shop, "J2", "1", "Cyan", "4cm3/m2");
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL);
	int64_t blade = tool_new(shop, KIND_BLADE, WORDS("life", "10m"));
	int64_t die = tool_new(shop, KIND_DIE, NULL);
	hold_place(shop, "P1-1", "hold", "lamp out");
	assert_caution(shop, job, roll, NULL); /* station 2 takes it */
	hold_place(shop, "P1-2", "hold", NULL);
	assert_caution(shop, job, roll,
	               "P1-1 on hold since 2026-12-01T08:00: lamp out; P1-2 on hold since"
	               " 2026-12-01T08:00");
	assert_caution(shop, job, blade,
	               "P1-1 on hold since 2026-12-01T08:00: lamp out; P1-2 on hold since"
	               " 2026-12-01T08:00; life left 10m, the run is 27.1272m");
	assert_caution(shop, job, die, NULL);
	station_new(shop, "J1", "7", "Black", "4cm3/m2");
	assert_caution(shop, job, roll,
	               "P1-1 on hold since 2026-12-01T08:00: lamp out; P1-2 on hold since"
	               " 2026-12-01T08:00; and 1 more");
	hold_place(shop, "P1-D1", "hold", "bearing loose");
	assert_caution(shop, job, die, "P1-D1 on hold since 2026-12-01T08:00: bearing loose");
	/* on the other press of the job nothing is held */
	assert_caution(shop, both, roll, NULL);
	hold_place(shop, "P2-1", "hold", "guard open");
	assert_caution(shop, both, roll, "P1-1 on hold since 2026-12-01T08:00: lamp out");
	hold_place(shop, "P1-2", "ready", NULL);
	assert_caution(shop, job, roll, NULL);
}

static void plan_serves__station_not_there_or_press_retired__caution(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	int64_t both = job_new(shop, "J2", "P1,P2", REPEAT_ORDER);
	station_new(shop, "J1", "6", "Cyan", "4cm3/m2");
	station_new(shop, "J2", "1", "Cyan", "4cm3/m2");
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL);
	run_sql(shop, "UPDATE place SET processes = 'hot_foil' WHERE code = 'P1-6'", 0, 0);
	assert_caution(shop, job, roll, "P1-6 does hot_foil, flexo asked");
	run_sql(shop, "UPDATE press SET stations = 5 WHERE code = 'P1'", 0, 0);
	assert_caution(shop, job, roll, "press P1 has no station 6");
	run_sql(shop, "UPDATE press SET retired = 1 WHERE code = 'P1'", 0, 0);
	assert_caution(shop, job, roll, "press P1 is retired");
	assert_caution(shop, both, roll, NULL);
	run_sql(shop, "UPDATE press SET retired = 1 WHERE code = 'P2'", 0, 0);
	assert_caution(shop, both, roll, "press P1 is retired");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(plan_serves__does_not_suit__figures_against_what_is_asked),
		GATHERING_TEST(plan_serves__stations_that_differ__the_nearest_is_named),
		GATHERING_TEST(plan_serves__none_for_the_one_named__said_first),
		GATHERING_TEST(plan_serves__the_only_one_goes_to_another__none_is_left),
		GATHERING_TEST(plan_serves__new_job_die_out_of_step_with_the_shelf__no),
		GATHERING_TEST(plan_serves__new_job_wrong_die__expected_is_what_the_check_chooses),
		GATHERING_TEST(plan_serves__not_there__why),
		GATHERING_TEST(plan_serves__job_over__no),
		GATHERING_TEST(plan_serves__no_station_prints__no),
		GATHERING_TEST(plan_serves__another_die_is_named__no),
		GATHERING_TEST(plan_serves__no_press__no),
		GATHERING_TEST(plan_serves__nobody_knows_them__refused),
		GATHERING_TEST(plan_serves__several_open__three_and_how_many_more),
		GATHERING_TEST(plan_serves__some_stations_taken__by_which_and_where_those_are),
		GATHERING_TEST(plan_serves__none_of_the_kind_open__the_others),
		GATHERING_TEST(plan_serves__two_presses__as_what_is_out_asks),
		GATHERING_TEST(plan_serves__new_job__the_repeat_of_what_is_out),
		GATHERING_TEST(plan_serves__new_job_with_a_die_out__cylinders_in_step),
		GATHERING_TEST(plan_serves__serves_with_a_doubt__caution),
		GATHERING_TEST(plan_serves__every_station_of_it_held__caution),
		GATHERING_TEST(plan_serves__station_not_there_or_press_retired__caution),
	};
	return cmocka_run_group_tests_name("serves not", tests, NULL, NULL);
}
