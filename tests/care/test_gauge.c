/* What was gauged, and what is left of a damaged face. All figures are invented. */
#include "shop.h"

/* A length of tooling; NULL: not given. */
static struct value length(struct shop *shop, const char *text)
{
	return shop_typed(shop, VALUE_TOOLING, text);
}

static enum outcome gauge(struct shop *shop, const char *tag, const char *diameter,
                          const char *runout, const char *from, const char *to)
{
	const struct gauge_asked asked = {
		.diameter = length(shop, diameter),
		.runout = length(shop, runout),
		.damage_from = length(shop, from),
		.damage_to = length(shop, to),
		.note = "seen",
	};
	fault_clear(&shop->fault);
	return care_gauge(shop->store, shop->arena, tag, &asked, UNITS_METRIC, &shop->actor,
	                  &shop->cared, &shop->fault);
}

static enum outcome damage(struct shop *shop, const char *from, const char *to)
{
	return gauge(shop, "V1", NULL, NULL, from, to);
}

static void usable(struct shop *shop, const char *from, const char *to)
{
	assert_string_equal(shop_value(shop, "V1", "face_from"), from);
	assert_string_equal(shop_value(shop, "V1", "face_to"), to);
}

static void add_roll(struct shop *shop, const char *from, const char *to)
{
	shop_has(shop, KIND_ANILOX,
	         WORDS("other_tag", "V1", "line_screen", "200/cm", "face", "330mm", "face_from", from,
	               "face_to", to, "diameter", "120mm"));
}

static void care_gauge__damage__widest_band_of_all_that_is_left(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	assert_int_equal(damage(shop, "100mm", "120mm"), OUTCOME_DONE);
	usable(shop, "120mm", "330mm");
	assert_string_equal(shop->cared.usable, "usable face 120mm to 330mm, 210mm of 330mm");
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(damage(shop, "250mm", "270mm"), OUTCOME_DONE);
	usable(shop, "120mm", "250mm");
	/* What was left out before is the wider one by now. */
	assert_int_equal(damage(shop, "150mm", "200mm"), OUTCOME_DONE);
	usable(shop, "0mm", "100mm");
	assert_null(shop->cared.note);
}

static void care_gauge__one_edge_open__to_the_edge_of_the_face(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	assert_int_equal(damage(shop, NULL, "20mm"), OUTCOME_DONE);
	usable(shop, "20mm", "330mm");
	assert_int_equal(damage(shop, "300mm", NULL), OUTCOME_DONE);
	usable(shop, "20mm", "300mm");
}

static void care_gauge__band_put_there_by_hand__damaged_outside_of_it(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "50mm", "300mm");
	assert_int_equal(damage(shop, "200mm", "210mm"), OUTCOME_DONE);
	usable(shop, "50mm", "200mm");
	assert_non_null(shop->cared.note);
	/* From now on it is explained: 210mm to 300mm is as good as any. */
	assert_int_equal(damage(shop, "100mm", "200mm"), OUTCOME_DONE);
	usable(shop, "210mm", "300mm");
	assert_null(shop->cared.note);
}

static void care_gauge__one_end_by_hand__damaged_past_that_one(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "200mm");
	assert_int_equal(damage(shop, "0mm", "10mm"), OUTCOME_DONE);
	usable(shop, "10mm", "200mm");
}

static void care_gauge__band_widened_by_hand__damage_on_record_counts(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	assert_int_equal(damage(shop, "100mm", "120mm"), OUTCOME_DONE);
	struct found found;
	struct record *record;
	assert_int_equal(store_find(shop->store, "V1", REFER_TOOL, &found, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_read(shop->store, shop->arena, found.kind, found.id, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	record_value(record, "face_from")->known = record_value(record, "face_to")->known = false;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_update(shop->store, shop->arena, record, &shop->actor, NULL,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	usable(shop, "", "");
	assert_int_equal(damage(shop, "320mm", NULL), OUTCOME_DONE);
	usable(shop, "120mm", "320mm");
}

static void care_gauge__nothing_left__nothing_recorded(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	assert_int_equal(damage(shop, NULL, "200mm"), OUTCOME_DONE);
	int64_t entries = store_last_entry(shop->store);
	const char *tag = shop->cared.tag;
	assert_int_equal(damage(shop, "150mm", "400mm"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO,
	            arena_format(shop->arena,
	                         "nothing of the face is left, nothing was recorded: %s, face 330mm",
	                         tag),
	            arena_format(shop->arena,
	                         "Type scrap %s reason=..., or hold %s reason=... until it is decided.",
	                         tag, tag));
	usable(shop, "200mm", "330mm");
	assert_int_equal(store_last_entry(shop->store), entries);
}

static void care_gauge__past_the_face__questioned_or_refused(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	assert_int_equal(damage(shop, "320mm", "400mm"), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(shop->cared.questions[0],
	                    "damage reaches past the face: to 400mm, face 330mm; if it is a slip, type "
	                    "undo");
	usable(shop, "0mm", "320mm");
	assert_int_equal(damage(shop, "330mm", NULL), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "damage lies past the face: from 330mm, face 330mm",
	            "It is measured from the edge that face_from counts from.");
	assert_int_equal(damage(shop, "20mm", "20mm"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "damage must begin before it ends: 20mm..20mm",
	            "Type the lesser edge first, such as damage=100mm..120mm.");
}

/* ---------------------------------------------------------------- diameter and runout */

static void add_cylinder(struct shop *shop, const char *undercut)
{
	/* 96 teeth 1/8cp: pitch diameter 97.0208 mm (arithmetic); less twice 2.083 mm: 92.8548 mm */
	shop_has(shop, KIND_CYLINDER,
	         WORDS("other_tag", "V2", "teeth", "96", "pitch", "1/8cp", "drive", "geared",
	               "undercut", undercut));
}

/* The setting buildup is 0.025 mm on the radius by default, common practice, no source. */
static void care_gauge__diameter__questioned_past_twice_the_buildup(void **state)
{
	struct shop *shop = *state;
	add_cylinder(shop, "2.083mm");
	assert_int_equal(gauge(shop, "V2", "92.904mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_string_equal(shop_value(shop, "V2", "diameter"), "92.904mm");
	assert_int_equal(gauge(shop, "V2", "92.805mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(gauge(shop, "V2", "92.804mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(shop->cared.questions[0],
	                    "diameter is not what its repeat and undercut make: 92.804mm, they make "
	                    "92.855mm; if it is a slip, type undo");
}

static void care_gauge__diameter_grown__questioned(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	assert_int_equal(gauge(shop, "V1", "120.05mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(gauge(shop, "V1", "119mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(gauge(shop, "V1", "119.051mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(shop->cared.questions[0],
	                    "diameter has grown: 119.051mm, before 119mm; if it is a slip, type undo");
}

static void care_gauge__undercut_not_known__pitch_diameter_is_the_most(void **state)
{
	struct shop *shop = *state;
	add_cylinder(shop, "");
	assert_int_equal(gauge(shop, "V2", "97.02mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(gauge(shop, "V2", "97.03mm", NULL, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
}

/* PrintWiki, "Total Indicated Runout": 0.0005 in for a new roller, the default of the setting. */
static void care_gauge__runout__questioned_above_the_limit(void **state)
{
	struct shop *shop = *state;
	struct gauge_row *rows;
	size_t count;
	add_cylinder(shop, "2.083mm");
	assert_int_equal(gauge(shop, "V2", NULL, "0.0127mm", NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 0);
	assert_int_equal(gauge(shop, "V2", NULL, "0.0128mm", NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->cared.question_count, 1);
	assert_string_equal(shop_value(shop, "V2", "runout"), "0.0128mm");
	assert_int_equal(store_gauges(shop->store, shop->arena, shop_id(shop, "V2"), &rows, &count,
	                              &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 2);
	assert_false(rows[0].diameter.known);
	assert_true(rows[1].runout.known);
}

static void care_gauge__not_of_that_kind__refused(void **state)
{
	struct shop *shop = *state;
	add_roll(shop, "", "");
	shop_has(shop, KIND_GEAR, WORDS("other_tag", "V3", "teeth", "96", "pitch", "1/8cp"));
	assert_int_equal(gauge(shop, "V1", NULL, "0.01mm", NULL, NULL), OUTCOME_BAD);
	assert_int_equal(gauge(shop, "V3", "100mm", NULL, NULL, NULL), OUTCOME_BAD);
	assert_int_equal(gauge(shop, "V3", NULL, NULL, NULL, NULL), OUTCOME_BAD);
	assert_int_equal(gauge(shop, "V3", NULL, NULL, NULL, "2mm"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "face is not known, nor what is left of it: GR000001-E",
	            "Type edit GR000001-E face=... with its whole width first.");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(care_gauge__damage__widest_band_of_all_that_is_left),
		SHOP_TEST(care_gauge__one_edge_open__to_the_edge_of_the_face),
		SHOP_TEST(care_gauge__band_put_there_by_hand__damaged_outside_of_it),
		SHOP_TEST(care_gauge__one_end_by_hand__damaged_past_that_one),
		SHOP_TEST(care_gauge__band_widened_by_hand__damage_on_record_counts),
		SHOP_TEST(care_gauge__nothing_left__nothing_recorded),
		SHOP_TEST(care_gauge__past_the_face__questioned_or_refused),
		SHOP_TEST(care_gauge__diameter__questioned_past_twice_the_buildup),
		SHOP_TEST(care_gauge__diameter_grown__questioned),
		SHOP_TEST(care_gauge__undercut_not_known__pitch_diameter_is_the_most),
		SHOP_TEST(care_gauge__runout__questioned_above_the_limit),
		SHOP_TEST(care_gauge__not_of_that_kind__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
