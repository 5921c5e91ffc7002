/* Lists of readings as the devices write them that read rolls. */
#include "shop.h"

static void expect(struct shop *shop, const char *text, bool update, int added, int changed,
                   int same)
{
	if (shop_import(shop, "reading", text, update) != OUTCOME_DONE) {
		fail_msg("%s%s", text, shop_problems(shop));
	}
	assert_int_equal(shop->report.added, added);
	assert_int_equal(shop->report.changed, changed);
	assert_int_equal(shop->report.same, same);
}

static void refused(struct shop *shop, const char *text, const char *problems)
{
	assert_int_equal(shop_import(shop, "reading", text, false), OUTCOME_BAD);
	assert_string_equal(shop_problems(shop), problems);
}

/* The latest readings of a roll, latest first: `6.4cm3/m2 after clean at 12.5m; ...`. */
static const char *readings(struct shop *shop, const char *name)
{
	struct text text = text_start(shop->arena);
	struct found found;
	int64_t ids[8];
	size_t count;
	assert_int_equal(store_find(shop->store, name, REFER_ANILOX, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_readings_latest(shop->store, found.id, ids, COUNT_OF(ids), &count, NULL),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < count; i++) {
		struct record *record;
		assert_int_equal(store_record_read(shop->store, shop->arena, kind_find("reading"), ids[i],
		                                   &record, NULL),
		                 OUTCOME_DONE);
		text_join(&text, "; ",
		          value_text(shop->arena, record_value(record, "volume"), UNITS_METRIC));
		if (record_known(record, "after") != NULL) {
			text_add_format(&text, " after %s", record_words(record, "after"));
		}
		if (record_known(record, "run") != NULL) {
			text_add_format(&text, " at %s",
			                value_text(shop->arena, record_value(record, "run"), UNITS_METRIC));
		}
	}
	return text.bytes;
}

static void furnish(struct shop *shop)
{
	shop_has(shop, "anilox", "other_tag=A-1;maker_serial=X77");
	shop_has(shop, "anilox", "other_tag=A-2;maker_serial=Y88");
	shop_has(shop, "anilox", "other_tag=A-3;maker_serial=Y88");
}

/* ---------------------------------------------------------------- as it is spelled */

/* Texts whose one row is the same reading. */
static const char *const alike[] = {
	"tool,moment,volume,method,after,run\nA-1,2026-11-30T14:30,6.45cm3/m2,surface,clean,1500.5m\n",
	"tool;moment;volume_cm3_m2;method;after;run_m\nA-1;2026-11-30 14:30;6,45;surface;clean;1500,5\n",
	"tool\tmoment\tvolume_cm3_m2\tmethod\tafter\trun\nA-1\t2026-11-30 14:30:00\t6.45\tsurface\tclean\t1500.5m\n",
	"\xef\xbb\xbftool;Moment;Volume_cm3_m2;METHOD;after;run_m\r\n\r\n;;;;;\r\nA-1;2026-11-30 14:30;6,450;Surface;CLEAN;1500,500\r\n\r\n",
	"tool;moment;volume;method;after;run\n\"A-1\";2026-11-30T14:30Z;\"6,45 cm3/m2\";surface;clean;01500,5 m\n",
	/* What it leaves blank, or has no column for, it does not deny. */
	"tool;moment;volume_cm3_m2;method;after;run_m\nX77;2026-11-30 14:30;6,45;surface;clean;\n",
	"tool;moment;volume_cm3_m2;method;after\nAN000001R;2026-11-30 14:30;6,45;surface;clean\n",
};

static void import__one_reading_in_any_spelling__added_once(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	for (size_t i = 0; i < COUNT_OF(alike); i++) {
		expect(shop, alike[i], false, i == 0, 0, i != 0);
		assert_string_equal(readings(shop, "A-1"), "6.45cm3/m2 after clean at 1500.5m");
	}
}

static void import__decimal_commas_across__three_volumes(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	expect(shop, "tool;moment;across_cm3_m2\nA-1;2026-11-30;6,2/6,4/6,0\n", false, 1, 0, 0);
	assert_string_equal(readings(shop, "A-1"), "6.2cm3/m2");
	expect(shop, "tool;moment;across_cm3_m2\nA-1;2026-11-30;6.2/6.4/6\n", false, 0, 0, 1);
}

static void import__comma_that_may_be_either__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	refused(
		shop,
		"tool;moment;volume_bcm;run_m\nA-1;2026-11-01;4,1;1,500\nA-1;2026-11-02;4,1;999,000\n"
		"A-1;2026-11-03;4,1;0,500\nA-1;2026-11-04;4,100;1234,500\nA-1;2026-11-05;1.234,5;1\n"
		"A-1;2026-11-06;4,;1\n",
		"2, run: run with a comma that may be of decimals or of thousands: 1,500. Type it with a "
		"point, or with neither.\n"
		"3, run: run with a comma that may be of decimals or of thousands: 999,000. Type it with a "
		"point, or with neither.\n"
		"6, volume: volume with a separator inside its number: 1.234,5. Type 1234.5: decimals take "
		"a point, thousands take nothing.\n"
		"7, volume: unit of volume not known: 4,. Type the number and then cm3/m2 or bcm.\n");
	/* Where commas part the cells, none is of decimals. */
	refused(shop, "tool,moment,volume_bcm\nA-1,2026-11-01,\"4,1\"\n",
	        "2, volume: volume with a separator inside its number: 4,1. Type 4.1: decimals take a "
	        "point, thousands take nothing.\n");
}

static void import__decimal_comma_of_another_kind__refused_as_before(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(shop_import(shop, "cylinder", "other_tag;face\nK-1;330,5mm\n", false),
	                 OUTCOME_BAD);
}

/* ---------------------------------------------------------------- what is there already */

static void import__list_that_has_grown__only_the_new_rows(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	expect(shop,
	       "tool,moment,volume_bcm,after\nA-1,2026-11-01,4,clean\nA-1,2026-11-01,4.1,clean\n"
	       "A-1,2026-11-01,4,\n",
	       false, 3, 0, 0);
	/* Two volumes of one moment are two readings; a blank counts as after a run. */
	expect(shop,
	       "tool,moment,volume_bcm,after\nA-1,2026-11-01,4.1,clean\nA-1,2026-11-01,4,clean\n"
	       "A-1,2026-11-01,4,run\nA-1,2026-11-02,3.9,clean\n",
	       false, 1, 0, 3);
	assert_string_equal(readings(shop, "A-1"),
	                    "6.045012cm3/m2 after clean; 6.200012cm3/m2; 6.355013cm3/m2 after clean; "
	                    "6.200012cm3/m2 after clean");
	/* The very same once more is the same. */
	expect(shop,
	       "tool,moment,volume_bcm,after\nA-1,2026-11-02,3.9,clean\nA-1,2026-11-02,3.9,clean\n",
	       false, 0, 0, 2);
}

static void import__another_volume_at_a_moment__refused_or_corrected(void **state)
{
	static const char list[] = "tool,moment,volume_cm3_m2,after\nA-1,2026-11-01,6.1,clean\n"
							   "A-1,2026-11-02,6.2,clean\nA-1,2026-11-03,6.3,clean\n";
	struct shop *shop = *state;
	furnish(shop);
	expect(shop,
	       "tool,moment,volume_cm3_m2,after\nA-1,2026-11-01,6.1,clean\nA-1,2026-11-02,6,clean\n",
	       false, 2, 0, 0);
	refused(shop, list,
	        "3: reading of A-1 at 2026-11-02T00:00 is on record already, with volume 6cm3/m2. Give "
	        "update=yes to correct what is on record.\n");
	assert_string_equal(readings(shop, "A-1"), "6cm3/m2 after clean; 6.1cm3/m2 after clean");
	expect(shop, list, true, 1, 1, 1);
	assert_string_equal(readings(shop, "A-1"),
	                    "6.3cm3/m2 after clean; 6.2cm3/m2 after clean; 6.1cm3/m2 after clean");
	expect(shop, list, true, 0, 0, 3);
	/* By another method, or after a run, it is another reading. */
	expect(shop,
	       "tool,moment,volume_cm3_m2,method,after\nA-1,2026-11-03,6.0,,run\n"
	       "A-1,2026-11-03,6.0,drawdown,clean\n",
	       false, 2, 0, 0);
}

static void import__row_written_twice__one_reading(void **state)
{
	static const char twice[] =
		"tool,moment,volume_cm3_m2\nA-1,2026-11-01,6.1\nA-1,2026-11-01,6.1\n";
	struct shop *shop = *state;
	furnish(shop);
	expect(shop, twice, false, 1, 0, 1);
	expect(shop, twice, true, 0, 0, 2);
	expect(shop, twice, false, 0, 0, 2);
	assert_string_equal(readings(shop, "A-1"), "6.1cm3/m2");
}

/* Those that stand on record twice, as typed so, are each a row. */
static void import__two_alike_on_record__each_its_own(void **state)
{
	static const char twice[] =
		"tool,moment,volume_cm3_m2\nA-1,2026-11-01,6.1\nA-1,2026-11-01,6.1\n";
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "reading", "tool=A-1;moment=2026-11-01;volume=6.1cm3/m2");
	shop_has(shop, "reading", "tool=A-1;moment=2026-11-01;volume=6.1cm3/m2");
	expect(shop, twice, false, 0, 0, 2);
	expect(shop, twice, true, 0, 0, 2);
	assert_string_equal(readings(shop, "A-1"), "6.1cm3/m2; 6.1cm3/m2");
}

static void import__taken_back__comes_in_anew(void **state)
{
	static const char list[] = "tool,moment,volume_cm3_m2\nA-1,2026-11-01,6.1\nA-1,2026-11-02,6\n";
	struct shop *shop = *state;
	struct undone undone;
	furnish(shop);
	expect(shop, list, false, 2, 0, 0);
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(undone.called, "reading of AN000001-R");
	assert_string_equal(undone.said, "entry");
	assert_string_equal(undone.result, "volume 6cm3/m2, read 2026-11-02T00:00, counts no more");
	assert_string_equal(readings(shop, "A-1"), "6.1cm3/m2");
	expect(shop, list, false, 1, 0, 1);
	/* One entry further back each time. */
	for (int i = 0; i < 2; i++) {
		assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
		                 OUTCOME_DONE);
	}
	assert_string_equal(readings(shop, "A-1"), "");
}

static void undo__reading_corrected_since__the_correction_first(void **state)
{
	struct shop *shop = *state;
	struct undone undone;
	furnish(shop);
	expect(shop, "tool,moment,volume_cm3_m2\nA-1,2026-11-01,6.1\n", false, 1, 0, 0);
	expect(shop, "tool,moment,volume_cm3_m2\nA-1,2026-11-01,6.2\n", true, 0, 1, 0);
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(readings(shop, "A-1"), "6.1cm3/m2");
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(readings(shop, "A-1"), "");
}

/* ---------------------------------------------------------------- by the maker's serial */

static void import__makers_serial__where_it_is_one_rolls_alone(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;maker_serial=Z99");
	shop_has(shop, "anilox", "other_tag=A-4;maker_serial=A-2");
	expect(shop, "tool,moment,volume_cm3_m2\nX77,2026-11-01,6.1\n", false, 1, 0, 0);
	assert_string_equal(readings(shop, "A-1"), "6.1cm3/m2");
	refused(shop,
	        "tool,moment,volume_cm3_m2\nY88,2026-11-01,6.1\nZ99,2026-11-01,6.1\nx77,2026-11-01,6\n",
	        "2, tool: tool is the maker's serial of more than one roll: Y88. Name it by its tag.\n"
	        "3, tool: anilox roll not known: Z99. Type find anilox for all on record.\n"
	        "4, tool: anilox roll not known: x77. Type find anilox for all on record.\n");
	/* What another roll is called comes first. */
	expect(shop, "tool,moment,volume_cm3_m2\nA-2,2026-11-01,6.1\n", false, 1, 0, 0);
	assert_string_equal(readings(shop, "A-2"), "6.1cm3/m2");
	assert_string_equal(readings(shop, "A-4"), "");
	/* One that is typed is to be looked at: the serial stands for nothing there. */
	assert_int_equal(shop_new(shop, "reading", "tool=X77;moment=2026-11-01;volume=6cm3/m2"),
	                 OUTCOME_BAD);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(import__one_reading_in_any_spelling__added_once),
		SHOP_TEST(import__decimal_commas_across__three_volumes),
		SHOP_TEST(import__comma_that_may_be_either__refused),
		SHOP_TEST(import__decimal_comma_of_another_kind__refused_as_before),
		SHOP_TEST(import__list_that_has_grown__only_the_new_rows),
		SHOP_TEST(import__another_volume_at_a_moment__refused_or_corrected),
		SHOP_TEST(import__row_written_twice__one_reading),
		SHOP_TEST(import__two_alike_on_record__each_its_own),
		SHOP_TEST(import__taken_back__comes_in_anew),
		SHOP_TEST(undo__reading_corrected_since__the_correction_first),
		SHOP_TEST(import__makers_serial__where_it_is_one_rolls_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
