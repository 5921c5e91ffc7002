/* Care of tools: written with its entry, told in the life that runs, taken back whole. */
#include "promises.h"

static struct record *read_record(struct shop *shop, enum kind_id kind, int64_t id)
{
	struct record *record;
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[kind], id, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	return record;
}

static const char *text_of(struct shop *shop, enum kind_id kind, int64_t id, const char *attribute)
{
	return value_text(shop->arena, record_value(read_record(shop, kind, id), attribute),
	                  UNITS_METRIC);
}

static int64_t life_of(struct shop *shop, int64_t tool)
{
	int64_t life;
	assert_int_equal(store_tool_life(shop->store, tool, &life, &shop->fault), OUTCOME_DONE);
	return life;
}

static void change(struct shop *shop, enum kind_id kind, int64_t tool,
                   const struct care_change *change)
{
	begin(shop);
	assert_int_equal(store_care_change(shop->store, shop->arena, &kinds[kind], tool, change,
	                                   &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static void undo_last(struct shop *shop)
{
	struct undo_entry entry;
	begin(shop);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_true(entry.kept);
	assert_int_equal(store_undo_care_change(shop->store, shop->arena, &entry, &shop->actor,
	                                        &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

/* What happened in the life that the last entry began. */
static int64_t lived_since(struct shop *shop)
{
	struct undo_entry entry;
	struct ledger_entry since;
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_care_since(shop->store, shop->arena, &entry, &since, &shop->fault),
	                 OUTCOME_DONE);
	return since.number;
}

static void verifies(struct shop *shop)
{
	struct proof proof;
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

static struct care_row *care_of(struct shop *shop, int64_t tool, const char *what, size_t *count)
{
	struct care_row *rows;
	assert_int_equal(store_care_of(shop->store, shop->arena, tool, what, SIZE_MAX, &rows, count,
	                               &shop->fault),
	                 OUTCOME_DONE);
	return rows;
}

static struct length mm(double length)
{
	return length_from_mm(length);
}

static int64_t add_blade(struct shop *shop)
{
	return shop_add(shop, KIND_BLADE,
	                WORDS("material", "steel", "run", "1200m", "fitted", "2026-11-02", "life",
	                      "2000m", "condition", "ready"))
	    ->id;
}

/* A coated blade in place of the steel one. */
static void reblade(struct shop *shop, int64_t blade)
{
	struct record *record = read_record(shop, KIND_BLADE, blade);
	record_value(record, "material")->text = "coated";
	change(shop, KIND_BLADE, blade,
	       &(struct care_change){.word = "reblade",
	                             .what = "reblade",
	                             .detail = "life 2",
	                             .note = "edge worn",
	                             .new_life = true,
	                             .record = record});
}

static void store_care_change__new_blade__life_run_and_what_was_before(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop);
	size_t count;
	reblade(shop, blade);
	assert_string_equal(last_word(shop), "reblade life 2");
	assert_int_equal(life_of(shop, blade), 2);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "0m");
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "material"), "coated");
	/* The row is of the new life, and tells what the one before ran and was of. */
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM care WHERE what = 'reblade'"
	                                   " AND life = 2 AND run = 1200000000000"
	                                   " AND material = 'steel' AND note = 'edge worn'"),
	                 1);
	struct care_row *rows = care_of(shop, blade, NULL, &count);
	assert_int_equal(count, 1);
	assert_string_equal(rows[0].what, "reblade");
	assert_false(rows[0].damaged);
	verifies(shop);
}

static void store_undo_care_change__new_blade__all_as_it_stood(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop);
	reblade(shop, blade);
	reblade(shop, blade);
	assert_int_equal(life_of(shop, blade), 3);
	undo_last(shop);
	assert_int_equal(life_of(shop, blade), 2);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "material"), "coated");
	undo_last(shop);
	assert_string_equal(last_word(shop), "undo reblade: run 0m -> 1200m; material coated -> steel");
	assert_int_equal(life_of(shop, blade), 1);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "1200m");
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "material"), "steel");
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "fitted"), "2026-11-02");
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM care"), 0);
	verifies(shop);
}

static void store_undo_care_change__run_not_known__not_known_again(void **state)
{
	struct shop *shop = *state;
	int64_t blade = shop_add(shop, KIND_BLADE, WORDS("material", "steel"))->id;
	reblade(shop, blade);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "0m");
	assert_int_equal(shop_number(shop, "SELECT run IS NULL FROM care"), 1);
	undo_last(shop);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "");
}

static void store_care_change__on_hold__stays_so(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop);
	begin(shop);
	assert_int_equal(store_condition_set(shop->store, &kinds[KIND_BLADE], blade, "hold", "bent",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	reblade(shop, blade);
	undo_last(shop);
	assert_int_equal(shop_number(shop, "SELECT condition = 'hold' AND condition_reason = 'bent'"
	                                   " AND condition_since IS NOT NULL FROM tool"),
	                 1);
	verifies(shop);
}

static int64_t add_cylinder(struct shop *shop)
{
	return shop_add(shop, KIND_CYLINDER,
	                WORDS("teeth", "96", "pitch", "1/8cp", "face", "330mm", "run", "500m"))
	    ->id;
}

/* Gauged and found damaged at once, the usable band by hand before that explained by two more. */
static void gauge(struct shop *shop, int64_t cylinder)
{
	struct record *record = read_record(shop, KIND_CYLINDER, cylinder);
	*record_value(record, "diameter") =
		(struct value){.type = VALUE_TOOLING, .known = true, .length = mm(92.5)};
	change(shop, KIND_CYLINDER, cylinder,
	       &(struct care_change){.word = "gauge",
	                             .what = "damaged",
	                             .damaged = true,
	                             .band = {mm(100), mm(120)},
	                             .outside = {{mm(0), mm(10)}, {mm(320), mm(330)}},
	                             .outside_count = 2,
	                             .diameter = {true, mm(92.5)},
	                             .record = record});
}

static void store_care_change__gauged_and_damaged__rows_of_both(void **state)
{
	struct shop *shop = *state;
	int64_t cylinder = add_cylinder(shop);
	struct gauge_row *gauges;
	size_t count;
	gauge(shop, cylinder);
	struct care_row *rows = care_of(shop, cylinder, "damaged", &count);
	assert_int_equal(count, 3);
	assert_true(rows[2].damaged);
	assert_int_equal(length_compare(rows[2].band.from, mm(100)), 0);
	assert_int_equal(length_compare(rows[2].band.to, mm(120)), 0);
	assert_string_equal(rows[0].note, "outside of the usable face on record");
	assert_int_equal(store_gauges(shop->store, shop->arena, cylinder, &gauges, &count,
	                              &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	assert_true(gauges[0].diameter.known && !gauges[0].runout.known);
	assert_int_equal(length_compare(gauges[0].diameter.value, mm(92.5)), 0);
	assert_int_equal(length_compare(gauges[0].run.value, mm(500000)), 0);
	assert_int_equal(life_of(shop, cylinder), 1);
	undo_last(shop);
	assert_int_equal(shop_number(shop, "SELECT (SELECT count(*) FROM care)"
	                                   " + (SELECT count(*) FROM gauge)"),
	                 0);
	assert_string_equal(text_of(shop, KIND_CYLINDER, cylinder, "diameter"), "");
	verifies(shop);
}

static void store_care_of__next_life__of_the_one_before_nothing(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop);
	size_t count;
	const struct damage_band band = {mm(10), mm(20)};
	change(shop, KIND_BLADE, blade,
	       &(struct care_change){.word = "gauge",
	                             .what = "damaged",
	                             .damaged = true,
	                             .band = band});
	(void)care_of(shop, blade, "damaged", &count);
	assert_int_equal(count, 1);
	reblade(shop, blade);
	(void)care_of(shop, blade, "damaged", &count);
	assert_int_equal(count, 0);
	undo_last(shop);
	(void)care_of(shop, blade, "damaged", &count);
	assert_int_equal(count, 1);
}

static void store_care_add__late__of_the_life_that_ran_by_then(void **state)
{
	struct shop *shop = *state;
	int64_t blade = add_blade(shop);
	const struct moment now = shop->actor.now;
	reblade(shop, blade);
	shop->actor.now = moment_add(now, (struct duration){.s = 7200});
	shop->actor.happened =
		(struct known_moment){true, moment_add(now, (struct duration){.s = -60})};
	begin(shop);
	assert_int_equal(store_care_add(shop->store, &kinds[KIND_BLADE], blade, "cleaned", &shop->actor,
	                                &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_int_equal(shop_number(shop, "SELECT life = 1 AND run IS NULL FROM care"
	                                   " WHERE what = 'cleaned'"),
	                 1);
	shop->actor.happened.known = false;
	begin(shop);
	assert_int_equal(store_care_add(shop->store, &kinds[KIND_BLADE], blade, "cleaned", &shop->actor,
	                                &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_int_equal(shop_number(shop, "SELECT life = 2 AND run = 0 FROM care"
	                                   " WHERE what = 'cleaned' ORDER BY id DESC LIMIT 1"),
	                 1);
	undo_last(shop);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM care WHERE what = 'cleaned'"), 1);
}

static void store_undo_care_since__life_read__told_until_taken_back(void **state)
{
	struct shop *shop = *state;
	struct record *roll =
		shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm", "volume", "4cm3/m2"));
	const char *tag = record_words(roll, "tag");
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-11-01", "volume", "3cm3/m2", "after", "clean"));
	struct record *record = read_record(shop, KIND_ANILOX, roll->id);
	change(shop, KIND_ANILOX, roll->id,
	       &(struct care_change){.word = "regrind",
	                             .what = "engraved",
	                             .new_life = true,
	                             .record = record});
	/* Those of the life before are none. */
	assert_int_equal(lived_since(shop), 0);
	shop->actor.terminal = "elsewhere";
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-12-01T08:00:00Z", "volume", "4cm3/m2", "after",
	               "clean"));
	shop->actor.terminal = "pts/3";
	assert_int_not_equal(lived_since(shop), 0);
	assert_int_equal(shop_run(shop, "UPDATE reading SET life = 0 WHERE life = 2"), 0);
	assert_int_equal(lived_since(shop), 0);
}

static void store_undo_care_since__life_has_run__told(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t blade = add_blade(shop);
	reblade(shop, blade);
	assert_int_equal(lived_since(shop), 0);
	shop->actor.terminal = "elsewhere";
	start(shop, job, press);
	finish(shop, job);
	shop->actor.terminal = "pts/3";
	assert_int_equal(shop_run(shop,
	                          "INSERT INTO web_run (tool, life, job_run, length, moment, entry)"
	                          " SELECT t.id, t.life, r.id, 1000, 0, r.finish_entry"
	                          " FROM tool t, job_run r WHERE t.kind = 'blade'"),
	                 0);
	assert_int_not_equal(lived_since(shop), 0);
}

/* A job's run of so much web, finished at that moment, that the tool ran in. */
static void run_web(struct shop *shop, const char *number, int64_t press, int64_t tool,
                    const char *moment, double metres)
{
	int64_t job = add_job(shop, number, "P1");
	const struct length web = mm(metres * 1000);
	const struct run_end end = {.press = press, .length = {true, web}, .by = "given"};
	assert_int_equal(moment_parse(moment, &shop->actor.now, NULL), OUTCOME_DONE);
	start(shop, job, press);
	begin(shop);
	assert_int_equal(store_job_finish(shop->store, shop->arena, job, &end, &shop->actor,
	                                  &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_run_reaches(shop->store, job, web, "given", &tool, 1, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

/* On record on the 12th: fitted or engraved at that moment, before. */
static void renew_since(struct shop *shop, enum kind_id kind, int64_t tool, const char *since)
{
	struct care_change renewal = {
		.word = kind == KIND_BLADE ? "reblade" : "regrind",
		.what = kind == KIND_BLADE ? "reblade" : "engraved",
		.new_life = true,
		.since.known = true,
		.record = read_record(shop, kind, tool),
	};
	assert_int_equal(moment_parse(since, &renewal.since.value, NULL), OUTCOME_DONE);
	assert_int_equal(moment_parse("2026-12-12T08:00:00Z", &shop->actor.now, NULL), OUTCOME_DONE);
	change(shop, kind, tool, &renewal);
}

static int64_t metres_of_life(struct shop *shop, int64_t life)
{
	return shop_number(shop, life == 1 ? "SELECT total(length) / 1000000000 FROM web_run"
	                                     " WHERE life = 1"
	                                   : "SELECT total(length) / 1000000000 FROM web_run"
	                                     " WHERE life = 2");
}

/* 1200 m before all that is followed, then 100, 200 and 400 m; fitted between the first two. */
static void store_care_change__fitted_before_it_ran__web_since_is_of_the_new_life(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), blade = add_blade(shop);
	run_web(shop, "J1", press, blade, "2026-12-03T08:00:00Z", 100);
	run_web(shop, "J2", press, blade, "2026-12-05T08:00:00Z", 200);
	run_web(shop, "J3", press, blade, "2026-12-07T08:00:00Z", 400);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "1900m");
	renew_since(shop, KIND_BLADE, blade, "2026-12-04T08:00:00Z");
	assert_int_equal(metres_of_life(shop, 1), 100);
	assert_int_equal(metres_of_life(shop, 2), 600);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "600m");
	assert_int_equal(shop_number(shop, "SELECT run / 1000000000 FROM care"), 1300);
	verifies(shop);
	undo_last(shop);
	assert_string_equal(last_word(shop), "undo reblade: run 600m -> 1900m");
	assert_int_equal(metres_of_life(shop, 1), 700);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM web_run WHERE life <> 1"), 0);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "1900m");
	verifies(shop);
}

/* Whoever runs to the very moment has run by then; a life begins no sooner than the one before. */
static void store_care_change__fitted_before_the_life_began__web_of_that_life_alone(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), blade = add_blade(shop);
	run_web(shop, "J1", press, blade, "2026-12-03T08:00:00Z", 100);
	renew_since(shop, KIND_BLADE, blade, "2026-12-03T08:00:00Z");
	assert_int_equal(metres_of_life(shop, 1), 100);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "0m");
	run_web(shop, "J2", press, blade, "2026-12-12T09:00:00Z", 200);
	renew_since(shop, KIND_BLADE, blade, "2026-12-02T08:00:00Z");
	assert_int_equal(metres_of_life(shop, 1), 100);
	assert_int_equal(shop_number(shop, "SELECT life FROM web_run ORDER BY id DESC LIMIT 1"), 3);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "200m");
	assert_int_equal(shop_number(shop, "SELECT run FROM care WHERE life = 3"), 0);
	verifies(shop);
	undo_last(shop);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "200m");
	assert_int_equal(shop_number(shop, "SELECT life FROM web_run ORDER BY id DESC LIMIT 1"), 2);
	assert_int_equal(metres_of_life(shop, 1), 100);
}

/* Nobody knows what the blade before had run; of the new one all is known. */
static void store_care_change__run_not_known_before__only_of_the_life_before(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	int64_t blade = shop_add(shop, KIND_BLADE, WORDS("material", "steel"))->id;
	run_web(shop, "J1", press, blade, "2026-12-05T08:00:00Z", 200);
	renew_since(shop, KIND_BLADE, blade, "2026-12-04T08:00:00Z");
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "200m");
	assert_int_equal(shop_number(shop, "SELECT run IS NULL FROM care"), 1);
	verifies(shop);
	undo_last(shop);
	assert_string_equal(text_of(shop, KIND_BLADE, blade, "run"), "200m");
	assert_int_equal(shop_number(shop, "SELECT life = 1 AND run_known = 0 FROM web_run"), 1);
}

/* Read at a run told of the engraving before: 1450 m of it are 150 m since the new one. */
static void store_care_change__read_at_a_run_told__counted_since_the_engraving(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	struct record *roll =
		shop_add(shop, KIND_ANILOX,
	             WORDS("line_screen", "200/cm", "volume", "4cm3/m2", "run", "1200m"));
	const char *tag = record_words(roll, "tag");
	run_web(shop, "J1", press, roll->id, "2026-12-03T08:00:00Z", 100);
	run_web(shop, "J2", press, roll->id, "2026-12-05T08:00:00Z", 200);
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-12-05T08:30:00Z", "volume", "3.9cm3/m2", "after",
	               "clean", "run", "1450m"));
	shop_add(shop, KIND_READING,
	         WORDS("tool", tag, "moment", "2026-12-05T09:30:00Z", "volume", "3.9cm3/m2", "after",
	               "clean", "run", "160m"));
	renew_since(shop, KIND_ANILOX, roll->id, "2026-12-04T08:00:00Z");
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM reading WHERE life = 2"), 2);
	assert_int_equal(shop_number(shop, "SELECT run / 1000000000 FROM reading ORDER BY id"), 150);
	/* Told as of the new engraving already. */
	assert_int_equal(shop_number(shop, "SELECT run / 1000000000 FROM reading ORDER BY id DESC"),
	                 160);
	undo_last(shop);
	assert_int_equal(shop_number(shop, "SELECT run / 1000000000 FROM reading ORDER BY id"), 1450);
	assert_int_equal(shop_number(shop, "SELECT run / 1000000000 FROM reading ORDER BY id DESC"),
	                 160);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM reading WHERE life <> 1"), 0);
	verifies(shop);
}

static void care_for(struct shop *shop, enum kind_id kind, int64_t tool, const char *moment,
                     struct care_change care)
{
	assert_int_equal(moment_parse(moment, &shop->actor.now, NULL), OUTCOME_DONE);
	change(shop, kind, tool, &care);
}

/* Of all care but what began a life, and of all that was gauged: life and run in metres. */
static int64_t cares_with(struct shop *shop, const char *rows)
{
	return shop_number(shop, arena_format(shop->arena,
	                                      "SELECT count(*) FROM (SELECT moment, life, run FROM care"
	                                      " WHERE what <> 'engraved' UNION ALL"
	                                      " SELECT moment, life, run FROM gauge) WHERE %s",
	                                      rows));
}

/*
 * 1200 m before all that is followed, then 100 m and 200 m; engraved between the two, and for the
 * second time before the second. What is of that very moment is of the new life.
 */
static void store_care_change__engraved_before_it_was_cared_for__care_is_of_the_new_life(
	void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	int64_t roll = shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm", "run", "1200m"))->id;
	const struct care_change cleaned = {.word = "cleaned", .what = "cleaned"};
	const struct care_change gauged = {.word = "gauge",
	                                   .what = "damaged",
	                                   .damaged = true,
	                                   .band = {mm(100), mm(120)},
	                                   .diameter = {true, mm(110)}};
	run_web(shop, "J1", press, roll, "2026-12-03T08:00:00Z", 100);
	care_for(shop, KIND_ANILOX, roll, "2026-12-04T07:59:59Z", cleaned);
	care_for(shop, KIND_ANILOX, roll, "2026-12-04T08:00:00Z", gauged);
	run_web(shop, "J2", press, roll, "2026-12-05T08:00:00Z", 200);
	care_for(shop, KIND_ANILOX, roll, "2026-12-06T08:00:00Z", cleaned);
	assert_int_equal(cares_with(shop, "life = 1"), 4);
	renew_since(shop, KIND_ANILOX, roll, "2026-12-04T08:00:00Z");
	assert_int_equal(cares_with(shop, "life = 1 AND run = 1300000000000"), 1);
	assert_int_equal(cares_with(shop, "life = 2 AND run = 0"), 2);
	assert_int_equal(cares_with(shop, "life = 2 AND run = 200000000000"), 1);
	verifies(shop);
	renew_since(shop, KIND_ANILOX, roll, "2026-12-02T08:00:00Z");
	/* It begins where the one before did, which keeps what began it. */
	assert_int_equal(cares_with(shop, "life = 3"), 3);
	assert_int_equal(shop_number(shop, "SELECT count(DISTINCT life) FROM care"
	                                   " WHERE what = 'engraved'"),
	                 2);
	verifies(shop);
	undo_last(shop);
	assert_int_equal(cares_with(shop, "life = 2 AND run = 0"), 2);
	assert_int_equal(cares_with(shop, "life = 2 AND run = 200000000000"), 1);
	undo_last(shop);
	assert_int_equal(cares_with(shop, "life = 1 AND run = 1300000000000"), 3);
	assert_int_equal(cares_with(shop, "life = 1 AND run = 1500000000000"), 1);
	verifies(shop);
}

/* Begun now: whatever was done at the same second was done to the life before. */
static void store_care_change__engraved_now__care_stays_in_the_life_before(void **state)
{
	struct shop *shop = *state;
	int64_t roll = shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm"))->id;
	change(shop, KIND_ANILOX, roll, &(struct care_change){.word = "dirty", .what = "dirty"});
	change(shop, KIND_ANILOX, roll,
	       &(struct care_change){.word = "regrind",
	                             .what = "engraved",
	                             .new_life = true,
	                             .record = read_record(shop, KIND_ANILOX, roll)});
	assert_int_equal(cares_with(shop, "life = 1"), 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM entry_before"
	                                   " WHERE attribute IN ('care_run', 'gauge_run')"),
	                 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_care_change__new_blade__life_run_and_what_was_before),
		SHOP_TEST(store_undo_care_change__new_blade__all_as_it_stood),
		SHOP_TEST(store_undo_care_change__run_not_known__not_known_again),
		SHOP_TEST(store_care_change__on_hold__stays_so),
		SHOP_TEST(store_care_change__gauged_and_damaged__rows_of_both),
		SHOP_TEST(store_care_of__next_life__of_the_one_before_nothing),
		SHOP_TEST(store_care_add__late__of_the_life_that_ran_by_then),
		SHOP_TEST(store_undo_care_since__life_read__told_until_taken_back),
		SHOP_TEST(store_undo_care_since__life_has_run__told),
		SHOP_TEST(store_care_change__fitted_before_it_ran__web_since_is_of_the_new_life),
		SHOP_TEST(store_care_change__fitted_before_the_life_began__web_of_that_life_alone),
		SHOP_TEST(store_care_change__run_not_known_before__only_of_the_life_before),
		SHOP_TEST(store_care_change__read_at_a_run_told__counted_since_the_engraving),
		SHOP_TEST(store_care_change__engraved_before_it_was_cared_for__care_is_of_the_new_life),
		SHOP_TEST(store_care_change__engraved_now__care_stays_in_the_life_before),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
