/* Readings of rolls: what is put on record, what is refused, what is taken back. */
#include "readings.h"

/* ---------------------------------------------------------------- what is put on record */

static void care_reading__one_value__now_and_unquestioned(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	read_it(shop, "A-1",
	        (struct typed){.volume = "6.4cm3/m2", .method = "surface", .after = "clean"});
	assert_string_equal(shop->cared.tag, "AN000001-R");
	assert_string_equal(told(shop, "volume"), "6.4cm3/m2");
	assert_string_equal(told(shop, "moment"), "2026-12-01T08:00");
	assert_string_equal(told(shop, "method"), "surface");
	assert_string_equal(told(shop, "after"), "clean");
	assert_string_equal(told(shop, "run"), "");
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(shop->cared.life, 1);
	assert_null(shop->cared.note);
	assert_null(shop->cared.lost);
	assert_true(shop->cared.wear.known);
	assert_int_equal(shop->cared.wear.trend.says, TREND_TOO_FEW);
}

static void care_reading__across__its_mean(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	read_it(shop, "A-1",
	        (struct typed){.across = "6.2/6.4/6.0cm3/m2", .run = "12.5m", .moment = "2026-11-30"});
	assert_string_equal(told(shop, "volume"), "6.2cm3/m2");
	assert_string_equal(told(shop, "across"), "6.2/6.4/6cm3/m2");
	assert_string_equal(told(shop, "run"), "12.5m");
	assert_string_equal(told(shop, "moment"), "2026-11-30T00:00");
	assert_string_equal(told(shop, "method"), "");
	/* What it came after was not told: it counts as a run. */
	assert_string_equal(told(shop, "after"), "");
	assert_non_null(shop->cared.note);
}

/* 1 ul/cm2 is 10 cm3/m2: dimensions. */
static void care_reading__drawdown__liquid_by_area(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	read_it(shop, "A-1", (struct typed){.liquid = "16ul", .area = "25cm2", .after = "clean"});
	assert_string_equal(told(shop, "volume"), "6.4cm3/m2");
	assert_string_equal(told(shop, "method"), "drawdown");
	/* Beside what it agrees with, rounded as people round. */
	read_it(shop, "A-1",
	        (struct typed){.volume = "4.1bcm",
	                       .liquid = "16ul",
	                       .area = "25cm2",
	                       .method = "drawdown",
	                       .after = "clean"});
	assert_string_equal(told(shop, "volume"), "6.355013cm3/m2");
}

static void care_reading__past_the_limit_of_loss__told(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	read_it(shop, "A-1", (struct typed){.volume = "5.28cm3/m2", .after = "clean"});
	assert_null(shop->cared.lost); /* 20 % is the limit, common practice, no source */
	read_it(shop, "A-1", (struct typed){.volume = "5.27cm3/m2", .after = "clean"});
	assert_string_equal(shop->cared.lost,
	                    "volume 5.27cm3/m2, 6.60cm3/m2 when new: 20.2% lost, 20% at most");
	read_it(shop, "A-1", (struct typed){.volume = "5.27cm3/m2", .after = "run"});
	assert_null(shop->cared.lost);
}

/* ---------------------------------------------------------------- of which life it is */

static void care_reading__that_comes_late__of_the_life_it_was_read_in(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	engrave(shop, "2026-06-01T08:00:00Z");
	engrave(shop, "2026-09-01T08:00:00Z");
	static const struct {
		const char *moment;
		int64_t life;
	} rows[] = {
		{"2026-05-31", 1}, {"2026-06-01T07:59:59Z", 1}, {"2026-06-01T08:00:00Z", 2},
		{"2026-08-31", 2}, {"2026-09-01T08:00:00Z", 3}, {NULL, 3},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		read_it(shop, "A-1",
		        (struct typed){.volume = "6.4cm3/m2", .after = "clean", .moment = rows[i].moment});
		assert_int_equal(shop->cared.life, rows[i].life);
		assert_true(questioned(shop, "read before the roll was engraved anew, ") ==
		            (rows[i].life != 3));
		assert_true(shop->cared.wear.known == (rows[i].life == 3));
	}
}

/* ---------------------------------------------------------------- refused */

static void care_reading__wrong__refused_and_nothing_recorded(void **state)
{
	static const struct {
		const char *tag;
		struct typed typed;
		const char *sentence, *hint;
	} rows[] = {
		{"A-1",
	     {.after = "clean"},
	     "volume is not given, nor across, nor liquid and area",
	     "Type volume=4.3bcm, across=left/centre/right, or liquid=12ul area=25cm2."},
		{"A-1",
	     {.volume = "0bcm"},
	     "volume must be more than nothing: 0cm3/m2",
	     "Type what was read: volume=4.3bcm."},
		{"A-1",
	     {.across = "6/0/6cm3/m2"},
	     "across must be more than nothing: 6/0/6cm3/m2",
	     "Leave it out where one was not read."},
		{"A-1",
	     {.liquid = "12ul"},
	     "area is not given, a drawdown has one",
	     "Type both: liquid=12ul area=25cm2."},
		{"A-1",
	     {.area = "25cm2"},
	     "liquid is not given, a drawdown has some",
	     "Type both: liquid=12ul area=25cm2."},
		{"A-1",
	     {.liquid = "12ul", .area = "0cm2"},
	     "liquid and area give no volume: 12ul, 0cm2",
	     "Type the liquid taken up and the area it filled: liquid=12ul area=25cm2."},
		{"A-1",
	     {.liquid = "0ul", .area = "25cm2"},
	     "liquid and area give no volume: 0ul, 25cm2",
	     "Type the liquid taken up and the area it filled: liquid=12ul area=25cm2."},
		{"A-1",
	     {.liquid = "12ul", .area = "25cm2", .method = "surface"},
	     "method of liquid and area is drawdown, not: surface",
	     "Leave method= out, or type volume= as the surface was read."},
		{"A-1",
	     {.volume = "4.9cm3/m2", .liquid = "12ul", .area = "25cm2"},
	     "volume and liquid and area tell two volumes: 4.9cm3/m2, 4.8cm3/m2",
	     "Leave one of them out."},
		{"A-1",
	     {.volume = "6cm3/m2", .across = "6/6.1/6.2cm3/m2"},
	     "volume and across tell two volumes: 6cm3/m2, 6.1cm3/m2",
	     "Leave one of them out."},
		{"A-1",
	     {.volume = "6cm3/m2", .moment = "2026-12-01T08:00:01Z"},
	     "moment lies ahead: 2026-12-01T08:00:01, and it is 2026-12-01T08:00",
	     "Type when it was taken; it cannot be put on record before."},
		{"K-1",
	     {.volume = "6cm3/m2"},
	     "code is a plate cylinder, not an anilox roll: K-1",
	     "Type the tag of an anilox roll, or find anilox for all on record."},
		{"A-9",
	     {.volume = "6cm3/m2"},
	     "anilox roll not known: A-9",
	     "Type A-1 (anilox roll, 360lpi)."},
	};
	struct shop *shop = *state;
	roll(shop);
	shop_has(shop, KIND_CYLINDER, WORDS("other_tag", "K-1"));
	int64_t last = store_last_entry(shop->store);
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		assert_int_equal(reading(shop, rows[i].tag, rows[i].typed), OUTCOME_BAD);
		assert_string_equal(shop->fault.sentence, rows[i].sentence);
		if (strcmp(rows[i].tag, "A-9") != 0) {
			shop_faults(shop, OUTCOME_BAD, rows[i].sentence, rows[i].hint);
		}
	}
	assert_int_equal(store_last_entry(shop->store), last);
}

static void care_reading__roll_that_is_scrapped__refused(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, KIND_ANILOX,
	         WORDS("other_tag", "A-1", "condition", "scrapped", "note", "scored"));
	assert_int_equal(reading(shop, "A-1", (struct typed){.volume = "6cm3/m2"}), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "tool is scrapped: AN000001-R: scored",
	            "Type edit AN000001-R condition=ready where it was not.");
}

/* ---------------------------------------------------------------- taken back */

static enum outcome count_one(struct arena *arena, struct record *record, void *context)
{
	(void)arena;
	(void)record;
	++*(int *)context;
	return OUTCOME_DONE;
}

static void store_undo_reading__taken_back__counts_nowhere(void **state)
{
	struct shop *shop = *state;
	struct selection all = {.kind = &kinds[KIND_READING]};
	union any_tool tool;
	struct wear_kept wear;
	int64_t ids[4], found, selected;
	size_t count;
	int given = 0;
	roll(shop);
	int64_t id = shop_id(shop, "A-1");
	read_it(shop, "A-1",
	        (struct typed){.volume = "6.4cm3/m2", .after = "clean", .moment = "2026-11-01"});
	read_it(shop, "A-1",
	        (struct typed){.volume = "9cm3/m2", .after = "clean", .moment = "2026-11-02"});
	take_back(shop);
	assert_int_equal(store_readings_latest(shop->store, id, ids, COUNT_OF(ids), &count,
	                                       &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	assert_int_equal(store_reading_find(shop->store, id, shop_moment("2026-11-02"), NULL, "clean",
	                                    &found, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(found, 0);
	assert_int_equal(store_select(shop->store, &all, count_one, &given, &selected, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(given, 1);
	assert_int_equal(selected, 1);
	assert_int_equal(store_tool(shop->store, shop->arena, KIND_ANILOX, id, &tool, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(volume_to_micro(tool.anilox.reading.now.value), 6400000);
	assert_int_equal(store_wear(shop->store, shop->arena, id, &wear, &shop->fault), OUTCOME_DONE);
	assert_int_equal(volume_to_micro(wear.clean_volume.value), 6400000);
	/* The slip is held against no other. */
	read_it(shop, "A-1", (struct typed){.volume = "6.4cm3/m2", .after = "clean"});
	assert_int_equal(shop->cared.question_count, 0);
}

static void count_history(const struct history_row *row, void *context)
{
	int *counts = context;
	counts[0] += row->of != NULL ? 1 : 0;
	counts[1] += row->taken_back ? 1 : 0;
	if (row->takes_back != 0) {
		assert_string_equal(row->entry.detail, "new: volume 9cm3/m2 read 2026-12-01T08:00");
		counts[2]++;
	}
}

static void store_undo_reading__taken_back__history_tells_both(void **state)
{
	struct shop *shop = *state;
	struct proof proof;
	int counts[3] = {0};
	roll(shop);
	read_it(shop, "A-1", (struct typed){.volume = "9cm3/m2"});
	take_back(shop);
	assert_int_equal(store_history(shop->store, &kinds[KIND_ANILOX], shop_id(shop, "A-1"),
	                               count_history, counts, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(counts[0], 2);
	assert_int_equal(counts[1], 1);
	assert_int_equal(counts[2], 1);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(care_reading__one_value__now_and_unquestioned),
		SHOP_TEST(care_reading__across__its_mean),
		SHOP_TEST(care_reading__drawdown__liquid_by_area),
		SHOP_TEST(care_reading__past_the_limit_of_loss__told),
		SHOP_TEST(care_reading__that_comes_late__of_the_life_it_was_read_in),
		SHOP_TEST(care_reading__wrong__refused_and_nothing_recorded),
		SHOP_TEST(care_reading__roll_that_is_scrapped__refused),
		SHOP_TEST(store_undo_reading__taken_back__counts_nowhere),
		SHOP_TEST(store_undo_reading__taken_back__history_tells_both),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
