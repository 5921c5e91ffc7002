/* What `show` tells of a record: where it is, what stops it, its rows, what happened last. */
#include "shop.h"

static struct shown shown;

static void show(struct shop *shop, const char *tag)
{
	fault_clear(&shop->fault);
	if (room_show(shop->store, shop->arena, tag, UNITS_METRIC, shop->actor.now, &shown,
	              &shop->fault) != OUTCOME_DONE) {
		fail_msg("%s: %s", tag, shop->fault.sentence);
	}
}

static void room_show__tool__where_it_is_and_what_stops_it(void **state)
{
	struct shop *shop = *state;
	static const struct {
		const char *pairs, *whereabouts, *obstacle;
	} tools[] = {
		{"other_tag=K-1;place=R1;home=R1", "in rack 1 (R1), its home", NULL},
		{"other_tag=K-2;place=R2;home=R1", "in R2", NULL},
		{"other_tag=K-3", "place not known", "place not known"},
		{"other_tag=K-4;place=S1;back=2026-12-09", "at supplier S1, due back 2026-12-09",
	     "at supplier S1, back 2026-12-09"},
		{"other_tag=K-5;place=LOST", "lost: LOST", "lost"},
		{"other_tag=K-6;place=R2;condition=hold;note=scored band", "in R2",
	     "on hold since 2026-12-01T08:00: scored band"},
		{"other_tag=K-8;place=R2;condition=scrapped;note=cracked", "in R2",
	     "scrapped since 2026-12-01T08:00: cracked"},
		{"other_tag=K-9;place=S1", "at supplier S1, no date back", "at supplier S1, no date back"},
		{"other_tag=K-10;place=P1-2", "at station 2 of P1 (P1-2)", NULL},
		{"other_tag=K-11;place=R2;runout=0.02mm", "in R2", "runout 0.02mm, 0.0127mm at most"},
	};
	shop_furnish(shop);
	for (size_t i = 0; i < COUNT_OF(tools); i++) {
		const char *tag = shop_has(shop, "cylinder", tools[i].pairs);
		const char *from = tools[i].pairs + strlen("other_tag=");
		const char *code = arena_copy_bytes(shop->arena, from, strcspn(from, ";"));
		show(shop, tag);
		assert_string_equal(shown.whereabouts, tools[i].whereabouts);
		if (tools[i].obstacle != NULL) {
			assert_int_equal(shown.obstacle_count, 1);
			assert_string_equal(shown.obstacles[0], tools[i].obstacle);
			/* The whereabouts tell it too where the obstacle is the place. */
			bool by_place = strstr("K-3 K-4 K-5 K-9", code) != NULL;
			assert_true((shown.place_obstacle != NULL) == by_place);
		} else {
			assert_int_equal(shown.obstacle_count, 0);
		}
	}
}

static void room_show__every_kind__in_a_few_words(void **state)
{
	struct shop *shop = *state;
	static const struct {
		const char *kind, *pairs, *name, *summary;
	} records[] = {
		{"cylinder", "teeth=96;pitch=1/8cp;face=330mm;drive=geared", "PC000001H",
	     "plate cylinder, 96 teeth 1/8cp, face 330mm, geared"},
		{"cylinder", "drive=gearless;repeat=300mm", "PC000002F",
	     "plate cylinder, repeat 300mm, gearless"},
		{"gear", "teeth=96;pitch=m1", "GR000001E", "gear, 96 teeth m1"},
		{"anilox", "line_screen=140/cm;volume=6.7cm3/m2;face=330mm", "AN000001R",
	     "anilox roll, 140/cm, 6.7cm3/m2 when new, face 330mm"},
		{"blade", "length=330mm", "DB000001I", "doctor blade assembly, length 330mm"},
		{"magnetic_cylinder", "teeth=96;pitch=1/8cp;die_gap=0.48mm", "MC0000018",
	     "magnetic cylinder, 96 teeth 1/8cp, gap 0.48mm"},
		{"operator", "badge=E1;name=Nora Tindle;role=clerk", "E1", "operator, Nora Tindle, clerk"},
	};
	for (size_t i = 0; i < COUNT_OF(records); i++) {
		shop_has(shop, records[i].kind, records[i].pairs);
		show(shop, records[i].name);
		assert_string_equal(shown.summary, records[i].summary);
	}
}

static void room_show__job_and_press__with_their_rows(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "station", "job=J1;station=2;process=flexo;ink=black");
	shop_has(shop, "station", "job=J1;station=1;process=flexo;ink=white");
	shop_has(shop, "cut", "job=J1;cut=1;kind=kiss");
	show(shop, "J1");
	assert_int_equal(shown.row_count, 3);
	assert_string_equal(record_words(shown.rows[0], "ink"), "white");
	assert_string_equal(record_words(shown.rows[1], "ink"), "black");
	assert_string_equal(record_words(shown.rows[2], "kind"), "kiss");
	show(shop, "PR000001-4");
	assert_int_equal(shown.row_count, 4);
	assert_string_equal(record_words(shown.rows[0], "code"), "P1-1");
	show(shop, "P1-2");
	assert_string_equal(shown.whereabouts, "within P1");
	assert_int_equal(shown.place_count, 1);
}

static void room_show__roll__its_latest_readings_first(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "anilox", "other_tag=A-1;volume=6cm3/m2");
	show(shop, "A-1");
	assert_int_equal(shown.row_count, 0);
	for (int day = 1; day <= 7; day++) {
		shop_has(
			shop, "reading",
			arena_format(shop->arena,
		                 "tool=A-1;moment=2026-11-%02dT10:00:00Z;volume=5.%dcm3/m2;after=clean",
		                 (day * 3) % 7 + 1, (day * 3) % 7 + 1));
	}
	show(shop, "A-1");
	assert_int_equal(shown.row_count, 5);
	for (size_t i = 0; i < shown.row_count; i++) {
		const char *volume =
			value_text(shop->arena, record_value(shown.rows[i], "volume"), UNITS_METRIC);
		assert_string_equal(volume, arena_format(shop->arena, "5.%dcm3/m2", 7 - (int)i));
	}
}

static void room_show__what_happened__latest_first_and_not_all(void **state)
{
	struct shop *shop = *state;
	struct held held;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1");
	for (int i = 0; i < 4; i++) {
		assert_int_equal(room_hold(shop->store, shop->arena, "K-1", "scored band", &shop->actor,
		                           &held, NULL),
		                 OUTCOME_DONE);
		assert_int_equal(room_clear(shop->store, shop->arena, "K-1", &shop->actor, &held, NULL),
		                 OUTCOME_DONE);
	}
	show(shop, "K-1");
	assert_int_equal(shown.entry_count, 5);
	assert_string_equal(shown.entries[1].word, "hold");
	assert_string_equal(shown.entries[1].detail, "scored band");
}

static void room_show__nothing_of_that_name__refused(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(room_show(shop->store, shop->arena, "K-1", UNITS_METRIC, shop->actor.now,
	                           &shown, &shop->fault),
	                 OUTCOME_BAD);
	assert_string_equal(shop->fault.sentence, "tag not known: K-1");
	fault_clear(&shop->fault);
	assert_int_equal(room_show(shop->store, shop->arena, "PC000001-X", UNITS_METRIC,
	                           shop->actor.now, &shown, &shop->fault),
	                 OUTCOME_BAD);
	assert_non_null(strstr(shop->fault.sentence, "misread"));
}

/* ---------------------------------------------------------------- the demo shop */

static void room_demo__new_file__counts_what_the_shop_has(void **state)
{
	struct shop *shop = *state;
	int64_t added[KIND_COUNT];
	assert_int_equal(room_demo(shop->store, shop->arena, &shop->actor, added, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(added[KIND_PRESS], 2);
	assert_int_equal(added[KIND_JOB], 12);
	assert_true(added[KIND_CYLINDER] >= 60 && added[KIND_GEAR] >= 20 && added[KIND_ANILOX] >= 40);
	assert_true(added[KIND_BLADE] >= 30 && added[KIND_DIE] >= 40 && added[KIND_PLACE] >= 30);
	assert_true(added[KIND_MAGNETIC_CYLINDER] >= 10);
}

static void room_demo__file_with_something_in_it__refused(void **state)
{
	struct shop *shop = *state;
	int64_t added[KIND_COUNT];
	shop_has(shop, "place", "code=R1;sort=store");
	assert_int_equal(room_demo(shop->store, shop->arena, &shop->actor, added, &shop->fault),
	                 OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            "shop file is not new, the demo shop would mix with what it holds",
	            "Type toothrack --db demo.db demo.");
	assert_null(shop_value(shop, "P1", "code"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_show__tool__where_it_is_and_what_stops_it),
		SHOP_TEST(room_show__every_kind__in_a_few_words),
		SHOP_TEST(room_show__job_and_press__with_their_rows),
		SHOP_TEST(room_show__roll__its_latest_readings_first),
		SHOP_TEST(room_show__what_happened__latest_first_and_not_all),
		SHOP_TEST(room_show__nothing_of_that_name__refused),
		SHOP_TEST(room_demo__new_file__counts_what_the_shop_has),
		SHOP_TEST(room_demo__file_with_something_in_it__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
