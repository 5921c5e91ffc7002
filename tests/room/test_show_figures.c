/* The figures that `show` tells of each kind. All figures are invented, and were worked out by
 * hand. */
#include "shop.h"

static struct shown shown;

static void show(struct shop *shop, const char *tag, enum units units)
{
	fault_clear(&shop->fault);
	if (room_show(shop->store, shop->arena, tag, units, shop->actor.now, &shown, &shop->fault) !=
	    OUTCOME_DONE) {
		fail_msg("%s: %s", tag, shop->fault.sentence);
	}
}

/* What is said under a name; NULL where nothing is. */
static const char *said(const char *name)
{
	for (size_t i = 0; i < shown.figure_count; i++) {
		if (strcmp(shown.figures[i].name, name) == 0 && shown.figures[i].said != NULL) {
			return shown.figures[i].said;
		}
	}
	return NULL;
}

/* `name: text` pairs of what must be said; a NULL text: nothing is. */
static void says(const char *const (*rows)[2], size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const char *text = said(rows[i][0]);
		if (rows[i][1] == NULL ? text != NULL : text == NULL || strcmp(text, rows[i][1]) != 0) {
			fail_msg("%s: %s", rows[i][0], text != NULL ? text : "not said");
		}
	}
}
#define SAYS(...) \
	do { \
		static const char *const rows[][2] = {__VA_ARGS__}; \
		says(rows, COUNT_OF(rows)); \
	} while (0)

static void show__cylinder__repeat_buildup_runout_and_revolutions(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "cylinder",
	         "other_tag=K-1;teeth=96;pitch=1/8cp;drive=geared;diameter=93.979mm;undercut=1.5mm;"
	         "face=330mm;face_from=6mm;face_to=318mm;runout=0.006mm;run=3048m");
	show(shop, "K-1", UNITS_METRIC);
	/* (12 in / pi - 93.979 mm) / 2 = 1.5209 mm, whatever undercut was written down */
	SAYS({"repeat", "304.8mm (12in), 96 teeth 1/8cp"}, {"drive", "geared"},
	     {"face", "312mm usable, from 6mm to 318mm, of 330mm"},
	     {"buildup", "1.521mm of plate and tape"}, {"runout", "0.006mm, 0.0127mm at most"},
	     {"run", "3048m, 10000 revolutions"}, {"carries", NULL});
	show(shop, "K-1", UNITS_INCH);
	SAYS({"repeat", "12in (304.8mm), 96 teeth 1/8cp"}, {"buildup", "0.05988in of plate and tape"},
	     {"runout", "0.00023622in, 0.0005in at most"});
}

static void show__cylinder_of_which_little_is_known__nothing_is_guessed(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "cylinder", "other_tag=K-1;face_from=6mm;run=3048m");
	show(shop, "K-1", UNITS_METRIC);
	SAYS({"repeat", NULL}, {"buildup", "not known: neither diameter nor undercut on record"},
	     {"runout", "not known, 0.0127mm at most"}, {"run", "3048m"},
	     {"face", "not known how much usable, from 6mm to not known"});
	shop_has(shop, "cylinder", "other_tag=K-2;undercut=1.5mm;drive=gearless;repeat=300mm");
	show(shop, "K-2", UNITS_METRIC);
	SAYS({"repeat", "300mm (11.811in)"}, {"buildup", "1.5mm of plate and tape"});
}

static void show__roll__volume_now_and_what_is_lost(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "anilox", "other_tag=A-1;line_screen=140/cm;volume=6cm3/m2");
	show(shop, "A-1", UNITS_METRIC);
	SAYS({"volume_now", "not known: never read since it was engraved"},
	     {"volume", "6cm3/m2 when new"}, {"loss", NULL});
	shop_has(shop, "reading", "tool=A-1;moment=2026-11-01T10:00:00Z;volume=5cm3/m2;after=run");
	show(shop, "A-1", UNITS_METRIC);
	SAYS({"volume_now", "not known: read only after a run, not after cleaning"});
	shop_has(shop, "reading", "tool=A-1;moment=2026-11-02T10:00:00Z;volume=5.1cm3/m2;after=clean");
	show(shop, "A-1", UNITS_METRIC);
	SAYS({"volume_now", "5.1cm3/m2, read after cleaning 2026-11-02T10:00"},
	     {"loss", "15%, 20% at most"});
	assert_int_equal(shown.caution_count, 0);
	shop_has(shop, "reading", "tool=A-1;moment=2026-11-03T10:00:00Z;volume=4.5cm3/m2;after=clean");
	show(shop, "A-1", UNITS_METRIC);
	assert_int_equal(shown.caution_count, 1);
	assert_string_equal(shown.cautions[0],
	                    "volume 4.50cm3/m2, 6.00cm3/m2 when new: 25% lost, 20% at most");
	shop_has(shop, "reading", "tool=A-1;moment=2026-11-04T10:00:00Z;volume=9.3cm3/m2;after=clean");
	show(shop, "A-1", UNITS_METRIC);
	SAYS({"loss", "55% more than when new"});
}

static void show__blade__what_is_left_and_when_it_is_over(void **state)
{
	struct shop *shop = *state;
	struct setting_state set;
	shop_has(shop, "place", "code=R2;sort=store");
	shop_has(shop, "blade", "other_tag=B-1;place=R2;length=330mm;life=100000m;run=40000m");
	show(shop, "B-1", UNITS_METRIC);
	SAYS({"length", "330mm"}, {"life_left", "60000m"});
	shop_has(shop, "blade", "other_tag=B-2;place=R2;life=100000m;run=100500m");
	show(shop, "B-2", UNITS_METRIC);
	SAYS({"life_left", "none"});
	assert_int_equal(shown.obstacle_count, 0);
	assert_string_equal(shown.cautions[0], "life over, by 500m");
	assert_int_equal(room_set(shop->store, shop->arena, "life_over", "short", &shop->actor, &set,
	                          &shop->fault),
	                 OUTCOME_DONE);
	show(shop, "B-2", UNITS_METRIC);
	assert_string_equal(shown.obstacles[0], "life over, by 500m");
	shop_has(shop, "blade", "other_tag=B-3;place=R2;run=100500m");
	show(shop, "B-3", UNITS_METRIC);
	SAYS({"life", "not known"}, {"life_left", NULL});
}

static void show__die__label_share_and_life(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "die",
	         "other_tag=D-1;cut=kiss;teeth=96;pitch=1/8cp;number_across=3;number_around=4;"
	         "label_across=100mm;label_around=73mm;corner=2mm;shape=rectangle;gap_across=3mm;"
	         "gap_around=3.2mm;die_gap=0.48mm;liner_caliper=0.06mm;life=1000000;run=304800m");
	show(shop, "D-1", UNITS_METRIC);
	/* 304.8 m take 1000 turns of 304.8 mm */
	SAYS({"label", "100mm across, 73mm around, corner 2mm, rectangle"},
	     {"number", "3 across, 4 around"}, {"gap", "3mm across, 3.2mm around"},
	     {"web_per_label", "76.2mm, 24 teeth"}, {"die_gap", "0.48mm"},
	     {"life", "1000000 revolutions"}, {"run", "304800m, 1000000 revolutions"},
	     {"life_left", "0 revolutions, 0m"});
	shop_has(shop, "die", "other_tag=D-2;teeth=96;pitch=1/8cp;life=10;run=3.05m");
	show(shop, "D-2", UNITS_METRIC);
	SAYS({"life_left", "none"}, {"web_per_label", NULL}, {"label", NULL});
	assert_string_equal(shown.cautions[0], "life over, by 1 revolution");
}

static void show__gear_and_magnetic_cylinder__teeth_bore_gap(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "gear", "other_tag=G-1;teeth=80;pitch=m1;bore=30mm;pressure_angle=20deg");
	show(shop, "G-1", UNITS_METRIC);
	SAYS({"bore", "30mm"}, {"pressure_angle", "20deg"}, {"hand", NULL});
	assert_non_null(strstr(said("repeat"), ", 80 teeth m1"));
	shop_has(shop, "magnetic_cylinder", "other_tag=M-1;teeth=64;pitch=1/8cp;die_gap=0.48mm");
	show(shop, "M-1", UNITS_METRIC);
	SAYS({"repeat", "203.2mm (8in), 64 teeth 1/8cp"}, {"die_gap", "0.48mm"});
}

static void show__station_on_hold__stops_what_sits_there(void **state)
{
	struct shop *shop = *state;
	struct held held;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=P1-2");
	assert_int_equal(room_hold(shop->store, shop->arena, "P1-2", "bearing worn", &shop->actor,
	                           &held, &shop->fault),
	                 OUTCOME_DONE);
	show(shop, "K-1", UNITS_METRIC);
	assert_int_equal(shown.obstacle_count, 1);
	assert_string_equal(shown.obstacles[0],
	                    "P1-2, where it is, is on hold since 2026-12-01T08:00: bearing worn");
	show(shop, "PR000001-4", UNITS_METRIC);
	assert_null(shown.row_held[0]);
	assert_string_equal(shown.row_held[1], "on hold since 2026-12-01T08:00: bearing worn");
	assert_int_equal(shown.tool_count, 1);
	assert_string_equal(shown.tools[0].place, "P1-2");
}

static void show__on_a_press_where_a_job_runs__stops_it(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "job",
	         "number=J7;state=running;press=P1;from=2026-12-01T06:00;until=2026-12-01T12:00");
	shop_has(shop, "cylinder", "other_tag=K-1;place=P1-2;carries=J7");
	show(shop, "K-1", UNITS_METRIC);
	assert_int_equal(shown.obstacle_count, 1);
	assert_string_equal(shown.obstacles[0],
	                    "on press P1, where job J7 runs until 2026-12-01T12:00");
	SAYS({"carries", "J7"});
}

static void show__overdue_at_a_supplier__caution(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=S1;back=2026-11-20");
	show(shop, "K-1", UNITS_METRIC);
	assert_int_equal(shown.obstacle_count, 0);
	assert_string_equal(shown.cautions[0], "at supplier S1, overdue since 2026-11-20");
}

static void show__place__what_is_in_it_with_all_within(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "place", "code=R1-1;within=R1;sort=store;name=top shelf;capacity=2");
	shop_has(shop, "place", "code=R1-2;within=R1;sort=store");
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1-1;home=R1-2");
	shop_has(shop, "cylinder", "other_tag=K-2;place=R1-1");
	shop_has(shop, "blade", "other_tag=B-1;place=R1");
	show(shop, "R1", UNITS_METRIC);
	SAYS({"tools", "2 plate cylinders, 1 doctor blade assembly"}, {"capacity", NULL});
	assert_int_equal(shown.tool_count, 3);
	assert_string_equal(shown.tools[0].place, "R1");
	assert_int_equal(shown.tools_more, 0);
	for (int i = 0; i < 12; i++) {
		shop_has(shop, "gear", "place=R2");
	}
	show(shop, "R2", UNITS_METRIC);
	assert_int_equal(shown.tool_count, 10);
	assert_int_equal(shown.tools_more, 2);
	show(shop, "R1-1", UNITS_METRIC);
	SAYS({"tools", "2 plate cylinders"}, {"capacity", "2, 0 free"});
	assert_string_equal(shown.whereabouts, "within rack 1 (R1)");
	shop_has(shop, "blade", "other_tag=B-2;place=R1-1");
	show(shop, "R1-1", UNITS_METRIC);
	assert_string_equal(shown.cautions[0], "1 tool more than it takes");
	show(shop, "R1-2", UNITS_METRIC);
	SAYS({"tools", "none"});
	show(shop, "K-1", UNITS_METRIC);
	assert_string_equal(shown.whereabouts, "in top shelf (R1-1)");
	assert_string_equal(shown.within, "within rack 1 (R1)");
	assert_string_equal(shown.home, "its home is R1-2");
	assert_int_equal(shown.place_count, 2);
}

static void show__job__what_its_layout_comes_to(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "job",
	         "number=J2;quantity=40000;label_across=100mm;label_around=73mm;number_across=3;"
	         "gap_across=3mm;trim=5mm;web=330mm;teeth=96;pitch=1/8cp;number_around=4;"
	         "gap_around_min=2mm;gap_around_max=4mm");
	show(shop, "J2", UNITS_METRIC);
	/* 3 x 100 + 2 x 3 + 2 x 5 = 316; 304.8 / 4 - 73 = 3.2; 40000 / 12 up, 5 % over: 3501 repeats */
	SAYS({"web", "330mm, 316mm needed"}, {"printed_width", "306mm"},
	     {"gap_around", "3.2mm, 2mm to 4mm asked"}, {"repeat", "304.8mm (12in), 96 teeth 1/8cp"},
	     {"run", "1067m"});
	assert_int_equal(shown.caution_count, 0);
	shop_has(shop, "job",
	         "number=J3;label_across=100mm;label_around=73mm;number_across=3;gap_across=3mm;"
	         "trim=5mm;web=300mm;teeth=96;pitch=1/8cp;number_around=4;gap_around_max=3mm");
	show(shop, "J3", UNITS_METRIC);
	assert_int_equal(shown.caution_count, 2);
	assert_string_equal(shown.cautions[0], "gap around 3.2mm, 3mm at most asked");
	assert_string_equal(shown.cautions[1], "web 300mm, 316mm needed");
	shop_has(shop, "job", "number=J4");
	show(shop, "J4", UNITS_METRIC);
	SAYS({"web", NULL}, {"run", NULL}, {"gap_around", NULL}, {"repeat", NULL});
}

static void show__operator__what_was_done_last(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "operator", "badge=E1;name=Nora Tindle;role=clerk");
	shop->actor.operator_id = shop->record->id;
	shop_has(shop, "place", "code=R1;sort=store");
	shop_has(shop, "cylinder", "other_tag=K-1");
	show(shop, "E1", UNITS_METRIC);
	assert_int_equal(shown.done_count, 2);
	assert_string_equal(shown.done[0].word, "new");
	assert_string_equal(shown.done_to[0], "PC000001-H");
	assert_string_equal(shown.done_to[1], "R1");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(show__cylinder__repeat_buildup_runout_and_revolutions),
		SHOP_TEST(show__cylinder_of_which_little_is_known__nothing_is_guessed),
		SHOP_TEST(show__roll__volume_now_and_what_is_lost),
		SHOP_TEST(show__blade__what_is_left_and_when_it_is_over),
		SHOP_TEST(show__die__label_share_and_life),
		SHOP_TEST(show__gear_and_magnetic_cylinder__teeth_bore_gap),
		SHOP_TEST(show__station_on_hold__stops_what_sits_there),
		SHOP_TEST(show__on_a_press_where_a_job_runs__stops_it),
		SHOP_TEST(show__overdue_at_a_supplier__caution),
		SHOP_TEST(show__place__what_is_in_it_with_all_within),
		SHOP_TEST(show__job__what_its_layout_comes_to),
		SHOP_TEST(show__operator__what_was_done_last),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
