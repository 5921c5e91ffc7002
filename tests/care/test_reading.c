/* Readings of rolls: what is put on record, what is questioned, what is refused. */
#include "shop.h"

/* A reading as it is typed; NULL: not given. */
struct typed {
	const char *volume, *across, *liquid, *area, *run, *moment, *method, *after;
};

static enum outcome reading(struct shop *shop, const char *tag, struct typed typed)
{
	const struct reading_asked asked = {
		.volume = shop_typed(shop, VALUE_VOLUME, typed.volume),
		.across = shop_typed(shop, VALUE_ACROSS, typed.across),
		.liquid = shop_typed(shop, VALUE_LIQUID, typed.liquid),
		.area = shop_typed(shop, VALUE_AREA, typed.area),
		.run = shop_typed(shop, VALUE_WEB, typed.run),
		.moment = shop_typed(shop, VALUE_MOMENT, typed.moment),
		.method = typed.method,
		.after = typed.after,
	};
	fault_clear(&shop->fault);
	return care_reading(shop->store, shop->arena, tag, &asked, UNITS_METRIC, &shop->actor,
	                    &shop->cared, &shop->fault);
}

static void read_it(struct shop *shop, const char *tag, struct typed typed)
{
	if (reading(shop, tag, typed) != OUTCOME_DONE) {
		fail_msg("%s", shop->fault.sentence);
	}
}

/* Is there a question that begins so? */
static bool questioned(const struct shop *shop, const char *start)
{
	for (size_t i = 0; i < shop->cared.question_count; i++) {
		if (strncmp(shop->cared.questions[i], start, strlen(start)) == 0) {
			return true;
		}
	}
	return false;
}

static const char *told(struct shop *shop, const char *attribute)
{
	return value_text(shop->arena, record_value(shop->cared.reading, attribute), UNITS_METRIC);
}

/* A roll of 360 lpi, for which 5.58 to 7.75 cm3/m2 are published. */
static void roll(struct shop *shop)
{
	shop_has(shop, KIND_ANILOX,
	         WORDS("other_tag", "A-1", "line_screen", "360lpi", "volume", "6.6cm3/m2", "engraved",
	               "2026-01-01", "run", "6000000m"));
}

static void engrave(struct shop *shop, const char *moment)
{
	struct moment now = shop->actor.now;
	static const char *const keys[] = {"volume"}, *const values[] = {"6.6cm3/m2"};
	shop->actor.now = shop_moment(moment);
	assert_int_equal(care_regrind(shop->store, shop->arena, "A-1", keys, values, 1, UNITS_METRIC,
	                              &shop->actor, &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = now;
}

static void clean(struct shop *shop, const char *moment)
{
	struct moment now = shop->actor.now;
	static const char *const tags[] = {"A-1"};
	shop->actor.now = shop_moment(moment);
	assert_int_equal(care_cleaning(shop->store, shop->arena, tags, 1, "cleaned", &shop->actor,
	                               &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = now;
}

static void take_back(struct shop *shop)
{
	struct undo_entry entry;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(entry.word, "new");
	assert_int_equal(entry.kind->id, KIND_READING);
	assert_int_equal(store_undo_reading(shop->store, shop->arena, &entry, &shop->actor,
	                                    &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

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
		assert_true(questioned(shop, "read 2026-") == (rows[i].life != 3));
		assert_true(shop->cared.wear.known == (rows[i].life == 3));
	}
}

/* ---------------------------------------------------------------- questions */

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
	/* Another method reads otherwise. */
	{{.volume = "7.5cm3/m2", .after = "run", .method = "surface", .moment = "2026-02-16"},
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
	assert_true(
		questioned(shop, "read 2025-12-01T00:00, before the roll was engraved 2026-01-01, "));
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
	                       .method = "surface",
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
	     "volume must be more than nothing: 0",
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
		{"K-1", {.volume = "6cm3/m2"}, "code is a plate cylinder, not an anilox roll: K-1", ""},
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
		SHOP_TEST(care_reading__one_value__now_and_unquestioned),
		SHOP_TEST(care_reading__across__its_mean),
		SHOP_TEST(care_reading__drawdown__liquid_by_area),
		SHOP_TEST(care_reading__past_the_limit_of_loss__told),
		SHOP_TEST(care_reading__that_comes_late__of_the_life_it_was_read_in),
		SHOP_TEST(care_reading__outside_the_band_of_its_screen__questioned),
		SHOP_TEST(care_reading__rose_with_no_cleaning_between__questioned),
		SHOP_TEST(care_reading__rose__says_from_what_and_what_is_usual),
		SHOP_TEST(care_reading__engraved_between__no_rise),
		SHOP_TEST(care_reading__far_above_new__questioned),
		SHOP_TEST(care_reading__run_beyond_that_on_record__questioned),
		SHOP_TEST(care_reading__typed_twice__recorded_and_questioned),
		SHOP_TEST(care_reading__far_from_its_trend__questioned),
		SHOP_TEST(care_reading__wrong__refused_and_nothing_recorded),
		SHOP_TEST(store_undo_reading__taken_back__counts_nowhere),
		SHOP_TEST(store_undo_reading__taken_back__history_tells_both),
		SHOP_TEST(care_question_since__entries__those_behind_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
