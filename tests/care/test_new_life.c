/* A new blade, a die ground anew, a roll engraved anew. All figures are invented. */
#include "shop.h"

#define KEYS_MOST 8

typedef enum outcome (*new_life)(struct store *store, struct arena *arena, const char *tag,
                                 const char *const *keys, const char *const *values, size_t count,
                                 enum units units, const struct actor *actor, struct cared *out,
                                 struct fault *fault);

/* `pairs`: key, value, key, value, NULL. */
static enum outcome begin_life(struct shop *shop, new_life begin, const char *tag,
                               const char *const *pairs)
{
	const char *keys[KEYS_MOST], *values[KEYS_MOST];
	size_t count = 0;
	for (; pairs[0] != NULL; pairs += 2) {
		keys[count] = pairs[0];
		values[count++] = pairs[1];
	}
	fault_clear(&shop->fault);
	return begin(shop->store, shop->arena, tag, keys, values, count, UNITS_METRIC, &shop->actor,
	             &shop->cared, &shop->fault);
}

static void later(struct shop *shop, int64_t seconds)
{
	shop->actor.now = moment_add(shop->actor.now, (struct duration){.s = seconds});
}

static const char *ended(struct shop *shop)
{
	assert_true(shop->cared.ended.known);
	return arena_copy(shop->arena,
	                  length_text(shop->cared.ended.value, LENGTH_WEB, UNITS_METRIC).bytes);
}

static void add_blade(struct shop *shop)
{
	shop_has(shop, KIND_BLADE,
	         WORDS("other_tag", "B1", "material", "steel", "thickness", "0.15mm", "life", "2000m",
	               "run", "1900m", "fitted", "2026-10-01", "face", "330mm", "face_from", "20mm",
	               "face_to", "330mm"));
}

static void care_reblade__nothing_given__today_run_nothing_the_rest_as_it_was(void **state)
{
	struct shop *shop = *state;
	add_blade(shop);
	assert_int_equal(begin_life(shop, care_reblade, "B1", WORDS(NULL)), OUTCOME_DONE);
	assert_true(shop->cared.new_life);
	assert_int_equal(shop->cared.life, 2);
	assert_string_equal(ended(shop), "1900m");
	assert_string_equal(shop_value(shop, "B1", "run"), "0m");
	assert_string_equal(shop_value(shop, "B1", "fitted"), "2026-12-01");
	assert_string_equal(shop_value(shop, "B1", "material"), "steel");
	assert_string_equal(shop_value(shop, "B1", "life"), "2000m");
	assert_string_equal(shop_value(shop, "B1", "face_from"), "");
	assert_string_equal(shop->cared.note, "the whole face is usable again");
	assert_int_equal(shop->cared.question_count, 0);
}

static void care_reblade__given__those_of_the_new_blade(void **state)
{
	struct shop *shop = *state;
	struct care_row *rows;
	size_t count;
	add_blade(shop);
	assert_int_equal(begin_life(shop, care_reblade, "B1",
	                            WORDS("material", "coated", "thickness", "0.008in", "life", "",
	                                  "fitted", "2026-11-28", "note", "edge worn")),
	                 OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "B1", "material"), "coated");
	assert_string_equal(shop_value(shop, "B1", "thickness"), "0.2032mm");
	assert_string_equal(shop_value(shop, "B1", "life"), "");
	assert_string_equal(shop_value(shop, "B1", "fitted"), "2026-11-28");
	/* Its life begins when it was fitted; the note is of the care, not of the tool. */
	assert_int_equal(store_care_of(shop->store, shop->arena, shop->cared.record->id, "reblade", 1,
	                               &rows, &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(moment_compare(rows[0].moment, shop_moment("2026-11-28T00:00:00Z")), 0);
	assert_string_equal(rows[0].note, "edge worn");
	assert_string_equal(shop_value(shop, "B1", "note"), "");
}

static void care_reblade__fitted_before_the_last__questioned(void **state)
{
	struct shop *shop = *state;
	add_blade(shop);
	assert_int_equal(begin_life(shop, care_reblade, "B1", WORDS("fitted", "2026-09-30")),
	                 OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(shop->cared.questions[0],
	                    "fitted lies before the one on record: 2026-09-30, 2026-10-01; if it is a "
	                    "slip, type undo");
}

static void care_reblade__what_cannot_be__refused_and_nothing_written(void **state)
{
	struct shop *shop = *state;
	add_blade(shop);
	int64_t entries = store_last_entry(shop->store);
	assert_int_equal(begin_life(shop, care_reblade, "B1", WORDS("fitted", "2026-12-01T08:01:00Z")),
	                 OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            "fitted lies ahead: 2026-12-01T08:01, and it is 2026-12-01T08:00",
	            "Type it when it was done; before that nothing of it is on record.");
	assert_int_equal(begin_life(shop, care_reblade, "B1", WORDS("life", "0m")), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "life must be more than nothing: 0m",
	            "Leave it out where it is not known.");
	assert_int_equal(begin_life(shop, care_reblade, "B1", WORDS("run", "5m")), OUTCOME_BAD);
	assert_int_equal(begin_life(shop, care_regrind, "B1", WORDS(NULL)), OUTCOME_BAD);
	assert_int_equal(store_last_entry(shop->store), entries);
	assert_string_equal(shop_value(shop, "B1", "fitted"), "2026-10-01");
}

/* ---------------------------------------------------------------- dies */

static void add_die(struct shop *shop, const char *build)
{
	shop_has(shop, KIND_DIE,
	         WORDS("other_tag", "D1", "build", build, "life", "500000", "run", "1000m", "face",
	               "330mm", "face_to", "320mm"));
}

/* The setting regrinds is 4: Packaging Impressions, for solid dies. */
static void care_regrind__solid_die__questioned_past_four(void **state)
{
	struct shop *shop = *state;
	add_die(shop, "solid");
	for (int64_t regrind = 1; regrind <= 5; regrind++) {
		assert_int_equal(begin_life(shop, care_regrind, "D1", WORDS("life", "400000")),
		                 OUTCOME_DONE);
		assert_int_equal(shop->cared.life, regrind + 1);
		assert_int_equal(shop->cared.question_count, regrind > 4 ? 1 : 0);
	}
	assert_string_equal(shop->cared.questions[0],
	                    "regrind 5 of it, a solid die usually takes 4; if it is a slip, type undo");
	assert_string_equal(shop_value(shop, "D1", "life"), "400000");
	/* Who ground it must say whether that mended the damage. */
	assert_string_equal(shop_value(shop, "D1", "face_to"), "320mm");
	assert_string_equal(shop->cared.note,
	                    "the usable face stays as it was: where grinding mended the rest type edit "
	                    "DI000001-A face_from= face_to=");
}

static void care_regrind__flexible_die__questioned(void **state)
{
	struct shop *shop = *state;
	add_die(shop, "flexible");
	assert_int_equal(begin_life(shop, care_regrind, "D1", WORDS(NULL)), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
	assert_int_equal(begin_life(shop, care_regrind, "D1", WORDS("volume", "2bcm")), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "attribute of a regrind not known: volume",
	            "Give life= or note=, with a value.");
}

/* ---------------------------------------------------------------- rolls */

static void add_roll(struct shop *shop)
{
	shop_has(shop, KIND_ANILOX,
	         WORDS("other_tag", "V1", "line_screen", "360lpi", "volume", "4.3bcm", "run", "9000m",
	               "engraved", "2025-03-01", "face", "330mm", "face_from", "20mm", "face_to",
	               "330mm"));
}

static void add_reading(struct shop *shop, const char *moment, const char *volume)
{
	shop_has(shop, KIND_READING,
	         WORDS("tool", "V1", "moment", moment, "volume", volume, "after", "clean"));
}

#define READINGS_MOST 16
static size_t readings_of(struct shop *shop, int64_t life)
{
	int64_t ids[READINGS_MOST], of;
	bool runs;
	size_t all, count = 0;
	assert_int_equal(store_readings_latest(shop->store, shop_id(shop, "V1"), ids, READINGS_MOST,
	                                       &all, &shop->fault),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < all; i++) {
		assert_int_equal(store_reading_life(shop->store, ids[i], &of, &runs, &shop->fault),
		                 OUTCOME_DONE);
		count += of == life ? 1 : 0;
	}
	return count;
}

static void care_regrind__roll_without_a_volume__not_known_and_said(void **state)
{
	struct shop *shop = *state;
	add_roll(shop);
	assert_int_equal(begin_life(shop, care_regrind, "V1", WORDS(NULL)), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "V1", "volume"), "");
	assert_string_equal(shop_value(shop, "V1", "engraved"), "2026-12-01");
	assert_string_equal(shop_value(shop, "V1", "face_from"), "");
	assert_string_equal(shop_value(shop, "V1", "run"), "0m");
	assert_string_equal(shop->cared.note,
	                    "volume when new is not known: type edit AN000001-R volume=... once it is "
	                    "read; the whole face is usable again");
}

/* Harper Corporation of America, anilox tables: 3.6 to 5.0 BCM at 360 lpi. */
static void care_regrind__volume_no_roll_of_that_screen_has__questioned(void **state)
{
	struct shop *shop = *state;
	add_roll(shop);
	assert_int_equal(begin_life(shop, care_regrind, "V1", WORDS("volume", "5bcm")), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(begin_life(shop, care_regrind, "V1", WORDS("volume", "5.1bcm")), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
}

static void care_regrind__damage_of_the_life_before__counts_no_more(void **state)
{
	struct shop *shop = *state;
	add_roll(shop);
	const struct gauge_asked asked = {.damage_to = shop_typed(shop, VALUE_TOOLING, "200mm")};
	const struct gauge_asked again = {.damage_from = shop_typed(shop, VALUE_TOOLING, "300mm")};
	assert_int_equal(care_gauge(shop->store, shop->arena, "V1", &asked, UNITS_METRIC, &shop->actor,
	                            &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(begin_life(shop, care_regrind, "V1", WORDS("volume", "4bcm")), OUTCOME_DONE);
	assert_int_equal(care_gauge(shop->store, shop->arena, "V1", &again, UNITS_METRIC, &shop->actor,
	                            &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "V1", "face_from"), "0mm");
	assert_string_equal(shop_value(shop, "V1", "face_to"), "300mm");
}

/* A job that the roll ran in; it is finished at the shop's now. */
static void run_web(struct shop *shop, const char *number, double metres)
{
	const int64_t roll = shop_id(shop, "V1");
	int64_t job = shop_has(shop, KIND_JOB, WORDS("number", number))->id;
	const struct length web = length_from_mm(metres * 1000);
	const struct run_end end = {.length = {true, web}, .by = "given"};
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_job_finish(shop->store, shop->arena, job, &end, &shop->actor,
	                                  &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_run_reaches(shop->store, job, web, "given", &roll, 1, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

#define DAY_S 86400
/* Engraved on the 4th, on record on the 8th; it ran on the 2nd, the 5th and the 7th. */
static void care_regrind__put_on_record_late__what_ran_since_is_of_it(void **state)
{
	struct shop *shop = *state;
	add_roll(shop);
	later(shop, DAY_S);
	run_web(shop, "J1", 500);
	later(shop, 3 * DAY_S);
	run_web(shop, "J2", 700);
	later(shop, 2 * DAY_S);
	run_web(shop, "J3", 900);
	assert_string_equal(shop_value(shop, "V1", "run"), "11100m");
	later(shop, DAY_S);
	assert_int_equal(begin_life(shop, care_regrind, "V1",
	                            WORDS("volume", "4.4bcm", "engraved", "2026-12-04")),
	                 OUTCOME_DONE);
	assert_string_equal(ended(shop), "9500m");
	assert_string_equal(shop_value(shop, "V1", "run"), "1600m");
	assert_string_equal(shop->cared.note,
	                    "it has run 1600m since 2026-12-04; the whole face is usable again");
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(begin_life(shop, care_regrind, "V1", WORDS("volume", "4.4bcm")), OUTCOME_DONE);
	assert_string_equal(ended(shop), "1600m");
	assert_string_equal(shop_value(shop, "V1", "run"), "0m");
}

static void care_regrind__put_on_record_late__what_was_read_since_is_of_it(void **state)
{
	struct shop *shop = *state;
	struct undo_entry entry;
	add_roll(shop);
	add_reading(shop, "2026-11-01T08:00:00Z", "3.5bcm");
	add_reading(shop, "2026-11-25T08:00:00Z", "4.4bcm");
	later(shop, 60);
	assert_int_equal(begin_life(shop, care_regrind, "V1",
	                            WORDS("volume", "4.4bcm", "engraved", "2026-11-20")),
	                 OUTCOME_DONE);
	assert_int_equal(readings_of(shop, 1), 1);
	assert_int_equal(readings_of(shop, 2), 1);
	add_reading(shop, "2026-11-26T08:00:00Z", "4.3bcm");
	assert_int_equal(readings_of(shop, 2), 2);
	/* One typed now that was taken before is of the surface that was. */
	add_reading(shop, "2026-11-19T08:00:00Z", "3.4bcm");
	assert_int_equal(readings_of(shop, 1), 2);
	assert_int_equal(begin_life(shop, care_regrind, "V1", WORDS("volume", "4.4bcm")), OUTCOME_DONE);
	assert_int_equal(readings_of(shop, 3), 0);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_care_change(shop->store, shop->arena, &entry, &shop->actor,
	                                        &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(readings_of(shop, 2), 2);
	assert_int_equal(readings_of(shop, 1), 2);
}

static void find_damage(struct shop *shop, const char *from, const char *to)
{
	const struct gauge_asked asked = {.damage_from = shop_typed(shop, VALUE_TOOLING, from),
	                                  .damage_to = shop_typed(shop, VALUE_TOOLING, to)};
	assert_int_equal(care_gauge(shop->store, shop->arena, "V1", &asked, UNITS_METRIC, &shop->actor,
	                            &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
}

/* Damage of the 2nd is gone by the engraving of the 4th, that of the 5th and the 7th is not. */
static void care_regrind__put_on_record_late__damage_found_since_counts_on(void **state)
{
	struct shop *shop = *state;
	add_roll(shop);
	later(shop, DAY_S);
	find_damage(shop, "200mm", "210mm");
	later(shop, 3 * DAY_S);
	find_damage(shop, "300mm", "310mm");
	later(shop, 2 * DAY_S);
	find_damage(shop, "40mm", "50mm");
	assert_string_equal(shop_value(shop, "V1", "face_from"), "50mm");
	assert_string_equal(shop_value(shop, "V1", "face_to"), "200mm");
	later(shop, DAY_S);
	assert_int_equal(begin_life(shop, care_regrind, "V1",
	                            WORDS("volume", "4.4bcm", "engraved", "2026-12-04")),
	                 OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "V1", "face_from"), "50mm");
	assert_string_equal(shop_value(shop, "V1", "face_to"), "300mm");
	assert_string_equal(shop->cared.usable, "usable face 50mm to 300mm, 250mm of 330mm");
	assert_string_equal(shop->cared.note, "of this life since 2026-12-04: found damaged 2 times");
	assert_int_equal(shop->cared.question_count, 1);
	/* What comes is worked out with that, and without what was before. */
	find_damage(shop, "150mm", "160mm");
	assert_string_equal(shop_value(shop, "V1", "face_from"), "160mm");
	assert_string_equal(shop_value(shop, "V1", "face_to"), "300mm");
}

/* It came on record after the engraving, so that somebody has seen its usable face since. */
static void care_regrind__usable_face_told_since__stays(void **state)
{
	struct shop *shop = *state;
	add_roll(shop);
	assert_int_equal(begin_life(shop, care_regrind, "V1",
	                            WORDS("volume", "4.4bcm", "engraved", "2026-11-20")),
	                 OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "V1", "face_from"), "20mm");
	assert_string_equal(shop_value(shop, "V1", "face_to"), "330mm");
	assert_null(shop->cared.usable);
	assert_string_equal(shop->cared.note,
	                    "the usable face stays as it was: where it is another type edit AN000001-R "
	                    "face_from= face_to=");
}

static void care_regrind__taken_back__readings_of_before_too(void **state)
{
	struct shop *shop = *state;
	struct undo_entry entry;
	add_roll(shop);
	add_reading(shop, "2026-11-25T08:00:00Z", "4.4bcm");
	assert_int_equal(begin_life(shop, care_regrind, "V1",
	                            WORDS("volume", "4.4bcm", "engraved", "2026-11-20")),
	                 OUTCOME_DONE);
	assert_int_equal(readings_of(shop, 1), 0);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_care_change(shop->store, shop->arena, &entry, &shop->actor,
	                                        &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(readings_of(shop, 1), 1);
	assert_int_equal(readings_of(shop, 2), 0);
	assert_string_equal(shop_value(shop, "V1", "run"), "9000m");
}

/* ---------------------------------------------------------------- cleaning */

static void care_cleaning__several__all_or_none(void **state)
{
	struct shop *shop = *state;
	struct cared cared[3];
	const char *const tags[] = {"V1", "D1", "B1"}, *const twice[] = {"V1", "D1", "V1"};
	add_roll(shop);
	add_die(shop, "solid");
	add_blade(shop);
	int64_t entries = store_last_entry(shop->store);
	assert_int_equal(care_cleaning(shop->store, shop->arena, twice, 3, "cleaned", UNITS_METRIC,
	                               &shop->actor, cared, &shop->fault),
	                 OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "tag given twice: AN000001-R", "Name each tool once.");
	assert_int_equal(store_last_entry(shop->store), entries);
	assert_int_equal(care_cleaning(shop->store, shop->arena, tags, 3, "dirty", UNITS_METRIC,
	                               &shop->actor, cared, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_last_entry(shop->store), entries + 3);
	assert_string_equal(cared[2].tag, "DB000001-I");
	assert_int_equal(cared[1].change_count, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(care_reblade__nothing_given__today_run_nothing_the_rest_as_it_was),
		SHOP_TEST(care_reblade__given__those_of_the_new_blade),
		SHOP_TEST(care_reblade__fitted_before_the_last__questioned),
		SHOP_TEST(care_reblade__what_cannot_be__refused_and_nothing_written),
		SHOP_TEST(care_regrind__solid_die__questioned_past_four),
		SHOP_TEST(care_regrind__flexible_die__questioned),
		SHOP_TEST(care_regrind__roll_without_a_volume__not_known_and_said),
		SHOP_TEST(care_regrind__volume_no_roll_of_that_screen_has__questioned),
		SHOP_TEST(care_regrind__damage_of_the_life_before__counts_no_more),
		SHOP_TEST(care_regrind__put_on_record_late__what_ran_since_is_of_it),
		SHOP_TEST(care_regrind__put_on_record_late__what_was_read_since_is_of_it),
		SHOP_TEST(care_regrind__put_on_record_late__damage_found_since_counts_on),
		SHOP_TEST(care_regrind__usable_face_told_since__stays),
		SHOP_TEST(care_regrind__taken_back__readings_of_before_too),
		SHOP_TEST(care_cleaning__several__all_or_none),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
