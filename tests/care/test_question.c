/* What is questioned of a reading, and recorded all the same. */
#include "readings.h"

static void care_reading__outside_the_band_of_its_screen__questioned(void **state)
{
	/* Harper Corporation of America, anilox tables: 3.6 to 5.0 BCM at 360 lpi. */
	static const struct {
		const char *volume;
		bool questioned;
	} rows[] = {{"3.59bcm", true}, {"3.6bcm", false}, {"5bcm", false}, {"5.01bcm", true}};
	struct shop *shop = *state;
	shop_has(shop, KIND_ANILOX, WORDS("other_tag", "A-1", "line_screen", "360lpi"));
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		read_it(shop, "A-1",
		        (struct typed){.volume = rows[i].volume,
		                       .after = i < 2 ? "clean" : "run",
		                       .method = i % 2 == 0 ? "surface" : NULL});
		assert_int_equal(questioned(shop, "volume ") &&
		                     strstr(shop->cared.questions[0], "usual at 141.732/cm") != NULL,
		                 rows[i].questioned);
	}
	assert_string_equal(
		shop->cared.questions[0],
		"volume 7.77cm3/m2, usual at 141.732/cm is 5.58cm3/m2 to 7.75cm3/m2 (Harper "
		"Corporation of America, anilox tables); if it is a slip, type undo");
	/* A screen that is in no table, or not known, is not questioned. */
	shop_has(shop, KIND_ANILOX, WORDS("other_tag", "A-2", "line_screen", "100lpi"));
	shop_has(shop, KIND_ANILOX, WORDS("other_tag", "A-3"));
	read_it(shop, "A-2", (struct typed){.volume = "1bcm", .after = "clean"});
	assert_int_equal(shop->cared.question_count, 0);
	read_it(shop, "A-3", (struct typed){.volume = "90bcm", .after = "clean"});
	assert_int_equal(shop->cared.question_count, 0);
}

/* What a row reads, after those before it; 5 % is what readings scatter by: common practice. */
static const struct {
	struct typed typed;
	const char *cleaned; /* before it, when; or NULL */
	bool rose;
} rises[] = {
	{{.volume = "6cm3/m2", .after = "clean", .moment = "2026-02-01"}, NULL, false},
	{{.volume = "5.8cm3/m2", .after = "run", .moment = "2026-02-02"}, NULL, false},
	{{.volume = "6.09cm3/m2", .after = "run", .moment = "2026-02-03"}, NULL, false}, /* just 5 % */
	{{.volume = "5.6cm3/m2", .after = "run", .moment = "2026-02-04"}, NULL, false},
	{{.volume = "5.9cm3/m2", .after = "run", .moment = "2026-02-05"}, NULL, true},
	{{.volume = "5.6cm3/m2", .moment = "2026-02-06"}, NULL, false},
	{{.volume = "5.9cm3/m2", .moment = "2026-02-07"}, "2026-02-06T12:00:00Z", false},
	/* After cleaning it is held against the last after cleaning, not against what was plugged. */
	{{.volume = "6.2cm3/m2", .after = "clean", .moment = "2026-02-08"}, NULL, false},
	{{.volume = "6.6cm3/m2", .after = "clean", .moment = "2026-02-09"}, NULL, true},
	{{.volume = "6.2cm3/m2", .after = "clean", .moment = "2026-02-10"}, NULL, false},
	{{.volume = "6.6cm3/m2", .after = "clean", .moment = "2026-02-11"},
     "2026-02-10T23:00:00Z",
     false},
	/* Step by step it may not rise either. */
	{{.volume = "6.3cm3/m2", .after = "run", .moment = "2026-02-12"}, NULL, false},
	{{.volume = "6.6cm3/m2", .after = "run", .moment = "2026-02-13"}, NULL, false},
	{{.volume = "6.93cm3/m2", .after = "run", .moment = "2026-02-14"}, NULL, false},
	{{.volume = "6.94cm3/m2", .after = "run", .moment = "2026-02-15"}, NULL, true},
	/* What has no method on record may be by this one; another method reads otherwise. */
	{{.volume = "7.5cm3/m2", .after = "run", .method = "surface", .moment = "2026-02-16"},
     NULL,
     true},
	{{.volume = "5cm3/m2", .after = "run", .method = "drawdown", .moment = "2026-02-17"},
     NULL,
     false},
	/* One that comes late is held against those before it alone. */
	{{.volume = "6.1cm3/m2", .after = "clean", .moment = "2026-02-01T12:00"}, NULL, false},
};

static void care_reading__rose_with_no_cleaning_between__questioned(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, KIND_ANILOX, WORDS("other_tag", "A-1"));
	for (size_t i = 0; i < COUNT_OF(rises); i++) {
		if (rises[i].cleaned != NULL) {
			clean(shop, rises[i].cleaned);
		}
		read_it(shop, "A-1", rises[i].typed);
		bool rose = questioned(shop, "volume ");
		if (rose != rises[i].rose) {
			fail_msg("row %zu: %s", i, rose ? shop->cared.questions[0] : "not questioned");
		}
	}
}

static void care_reading__rose__says_from_what_and_what_is_usual(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, KIND_ANILOX, WORDS("other_tag", "A-1"));
	read_it(shop, "A-1",
	        (struct typed){.volume = "6cm3/m2", .after = "clean", .moment = "2026-11-01"});
	read_it(shop, "A-1", (struct typed){.volume = "6.5cm3/m2", .after = "clean"});
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(
		shop->cared.questions[0],
		"volume 6.50cm3/m2 rose, 6.00cm3/m2 was read 2026-11-01T00:00 after cleaning, and no cleaning "
		"or engraving since is on record; usual is 6.30cm3/m2 at most, 5% by volume_rise (common "
		"practice, no source); if it is a slip, type undo");
}

/* An engraving lies between: what was read of the surface before tells nothing. */
static void care_reading__engraved_between__no_rise(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	read_it(shop, "A-1",
	        (struct typed){.volume = "5.6cm3/m2", .after = "clean", .moment = "2025-12-01"});
	assert_true(questioned(shop, "read before the roll was engraved 2026-01-01, "));
	assert_int_equal(shop->cared.question_count, 1);
	read_it(shop, "A-1",
	        (struct typed){.volume = "6.4cm3/m2", .after = "clean", .moment = "2026-02-01"});
	assert_int_equal(shop->cared.question_count, 0);
	read_it(shop, "A-1",
	        (struct typed){.volume = "5.6cm3/m2", .after = "clean", .moment = "2026-02-02"});
	engrave(shop, "2026-06-01T08:00:00Z");
	read_it(shop, "A-1", (struct typed){.volume = "6.5cm3/m2", .after = "clean"});
	assert_int_equal(shop->cared.question_count, 0);
}

static void care_reading__far_above_new__questioned(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, KIND_ANILOX, WORDS("other_tag", "A-1", "volume", "5cm3/m2"));
	read_it(shop, "A-1", (struct typed){.volume = "6cm3/m2", .after = "clean"}); /* just 20 % */
	assert_int_equal(shop->cared.question_count, 0);
	read_it(shop, "A-1", (struct typed){.volume = "6.01cm3/m2", .after = "clean"});
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(
		shop->cared.questions[0],
		"volume 6.01cm3/m2 is 20.2% above the 5.00cm3/m2 when new, usual is at most "
		"20% by volume_loss (common practice, no source); perhaps its unit is wrong; "
		"if it is a slip, type undo");
}

static void care_reading__run_beyond_that_on_record__questioned(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	read_it(shop, "A-1",
	        (struct typed){.volume = "6.4cm3/m2", .after = "clean", .run = "6000000m"});
	assert_int_equal(shop->cared.question_count, 0);
	read_it(shop, "A-1",
	        (struct typed){.volume = "6.41cm3/m2", .after = "clean", .run = "6000001m"});
	assert_true(questioned(shop, "run 6000001m by then, on record it has run 6000000m since it was "
	                             "engraved; "));
}

static void care_reading__typed_twice__recorded_and_questioned(void **state)
{
	struct shop *shop = *state;
	int64_t ids[4];
	size_t count;
	roll(shop);
	read_it(shop, "A-1", (struct typed){.volume = "6.4cm3/m2", .after = "clean"});
	read_it(shop, "A-1", (struct typed){.volume = "6.4cm3/m2", .after = "clean"});
	assert_true(
		questioned(shop, "the same volume is on record already as read 2026-12-01T08:00; "));
	assert_int_equal(store_readings_latest(shop->store, shop_id(shop, "A-1"), ids, COUNT_OF(ids),
	                                       &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 2);
}

/* A roll that loses 0.1 cm3/m2 a million metres, read every million metres: invented. */
static void care_reading__far_from_its_trend__questioned(void **state)
{
	struct shop *shop = *state;
	roll(shop);
	for (int i = 0; i < 6; i++) {
		read_it(shop, "A-1",
		        (struct typed){
					.volume = arena_format(shop->arena, "%d.%02dcm3/m2", 6, 60 - 10 * i + (i % 2)),
					.after = "clean",
					.method = "surface",
					.run = arena_format(shop->arena, "%d000000m", i),
					.moment = arena_format(shop->arena, "2026-%02d-02", i + 1),
				});
		assert_int_equal(shop->cared.question_count, 0);
	}
	assert_int_equal(shop->cared.wear.trend.says, TREND_FALLS);
	/* After a run, or by another method, it is not of the trend. */
	read_it(shop, "A-1", (struct typed){.volume = "5.6cm3/m2", .after = "run", .run = "6000000m"});
	assert_false(questioned(shop, "volume 5.60cm3/m2 is far from"));
	read_it(shop, "A-1",
	        (struct typed){.volume = "5.6cm3/m2",
	                       .after = "clean",
	                       .method = "drawdown",
	                       .run = "6000000m"});
	assert_false(questioned(shop, "volume 5.60cm3/m2 is far from"));
	read_it(shop, "A-1", (struct typed){.volume = "5cm3/m2", .after = "clean", .run = "6000000m"});
	assert_true(
		questioned(shop, "volume 5.00cm3/m2 is far from the roll's trend, at 6000000m run "));
	take_back(shop);
	/* What it had run now is on record; so the runs of jobs tell. */
	read_it(shop, "A-1", (struct typed){.volume = "5cm3/m2", .after = "clean"});
	assert_true(
		questioned(shop, "volume 5.00cm3/m2 is far from the roll's trend, at 6000000m run "));
	read_it(shop, "A-1", (struct typed){.volume = "6cm3/m2", .after = "clean"});
	assert_false(questioned(shop, "volume 6.00cm3/m2 is far from"));
}

/* ---------------------------------------------------------------- of an import */

static void care_question_since__entries__those_behind_alone(void **state)
{
	struct shop *shop = *state;
	const char *texts[2];
	size_t count;
	roll(shop);
	shop_has(shop, KIND_READING,
	         WORDS("tool", "A-1", "moment", "2026-11-01", "volume", "9bcm", "after", "clean"));
	int64_t before = store_last_entry(shop->store);
	assert_int_equal(care_question_since(shop->store, shop->arena, before, UNITS_METRIC, texts, 2,
	                                     &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 0);
	shop_has(shop, KIND_READING,
	         WORDS("tool", "A-1", "moment", "2026-11-02", "volume", "6.4cm3/m2", "after", "clean"));
	shop_has(shop, KIND_READING,
	         WORDS("tool", "A-1", "moment", "2026-11-03", "volume", "3bcm", "after", "clean"));
	assert_int_equal(care_question_since(shop->store, shop->arena, before, UNITS_METRIC, texts, 2,
	                                     &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	assert_string_equal(
		texts[0], "AN000001-R 2026-11-03T00:00, volume 4.65cm3/m2, usual at 141.732/cm is "
				  "5.58cm3/m2 to 7.75cm3/m2 (Harper Corporation of America, anilox tables); if "
				  "it is a slip, mend its row and import it with update=yes");
	/* More than there is room for are counted. */
	assert_int_equal(care_question_since(shop->store, shop->arena, 0, UNITS_METRIC, texts, 1,
	                                     &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 3);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(care_reading__outside_the_band_of_its_screen__questioned),
		SHOP_TEST(care_reading__rose_with_no_cleaning_between__questioned),
		SHOP_TEST(care_reading__rose__says_from_what_and_what_is_usual),
		SHOP_TEST(care_reading__engraved_between__no_rise),
		SHOP_TEST(care_reading__far_above_new__questioned),
		SHOP_TEST(care_reading__run_beyond_that_on_record__questioned),
		SHOP_TEST(care_reading__typed_twice__recorded_and_questioned),
		SHOP_TEST(care_reading__far_from_its_trend__questioned),
		SHOP_TEST(care_question_since__entries__those_behind_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
