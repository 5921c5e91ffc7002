/* Records of every kind: what is put on record, with everything known or nothing, comes back. */
#include "shop.h"

/* Every attribute of every kind, in the order in which a shop comes in. */
static const struct {
	enum kind_id kind;
	const char *words[60];
} full[] = {
	{KIND_OPERATOR, {"badge", "B7", "name", "Orla Fenn", "role", "planner", "retired", "yes"}},
	{KIND_PLACE, {"code", "R1", "name", "rack 1", "sort", "store"}},
	{KIND_PLACE, {"code",    "R1-2", "name",      "shelf 2",         "within",    "R1",   "sort",
                  "store",   "walk", "4",         "capacity",        "12",        "note", "low",
                  "retired", "no",   "processes", "flexo,cold_foil", "condition", "hold"}},
	{KIND_PRESS, {"code",     "P1",        "name",           "old geared", "drive",      "geared",
                  "web",      "340mm",     "repeat_min",     "200mm",      "repeat_max", "24in",
                  "pitches",  "1/8cp,m1",  "pressure_angle", "20deg",      "helix",      "14.5deg",
                  "stations", "2",         "die_stations",   "1",          "spacing",    "1.2m",
                  "fit",      "journal35", "speed",          "120m/min",   "retired",    "no"}},
	{KIND_JOB,
     {"number",
      "J1",
      "title",
      "plum jam",
      "state",
      "planned",
      "press",
      "P1",
      "from",
      "2026-12-02",
      "until",
      "2026-12-03T14:00:00Z",
      "quantity",
      "25000",
      "label_across",
      "100mm",
      "label_around",
      "73mm",
      "corner",
      "2mm",
      "shape",
      "oval",
      "number_across",
      "3",
      "gap_across",
      "1/8in",
      "gap_around_min",
      "2mm",
      "gap_around_max",
      "4mm",
      "trim",
      "5mm",
      "web",
      "330mm",
      "liner_caliper",
      "60um",
      "teeth",
      "96",
      "pitch",
      "1/8cp",
      "number_around",
      "4"}},
	{KIND_CYLINDER, {"maker_serial", "S1",        "other_tag", "K-1",      "name",
                     "long one",     "fit",       "journal35", "place",    "R1-2",
                     "home",         "R1",        "condition", "hold",     "face",
                     "13in",         "face_from", "10mm",      "face_to",  "300mm",
                     "weight",       "18.5kg",    "cost",      "1250.00",  "acquired",
                     "2021-03-04",   "run",       "12.5m",     "note",     "blue end",
                     "teeth",        "96",        "pitch",     "10dp",     "drive",
                     "demountable",  "undercut",  "0.067in",   "diameter", "92.855mm",
                     "runout",       "5um",       "bore",      "40mm",     "pressure_angle",
                     "20deg",        "helix",     "8deg",      "hand",     "left",
                     "carries",      "J1"}},
	{KIND_JOB, {"number", "J2", "repeat", "300mm"}},
	{KIND_CYLINDER, {"drive", "gearless", "repeat", "300.001mm"}},
	{KIND_GEAR,
     {"teeth", "96", "pitch", "m1.5", "pressure_angle", "14.5deg", "helix", "0deg", "hand", "right",
      "bore", "1.5in"}},
	{KIND_ANILOX,
     {"other_tag", "A-1", "line_screen", "360lpi", "volume", "4.3bcm", "angle", "60deg", "diameter",
      "110mm", "surface", "chrome", "engraved", "2026-01-02"}},
	{KIND_BLADE,
     {"length", "330mm", "material", "polymer", "thickness", "0.2mm", "edge", "lamella", "fitted",
      "2026-11-02", "life", "60000m"}},
	{KIND_DIE,
     {"other_tag",     "D-1",     "build",         "flexible", "cut",           "perforation",
      "teeth",         "96",      "pitch",         "1/8cp",    "number_across", "3",
      "number_around", "4",       "label_across",  "100mm",    "label_around",  "73mm",
      "gap_across",    "3mm",     "gap_around",    "3.2mm",    "corner",        "2mm",
      "shape",         "special", "liner_caliper", "0.056mm",  "die_gap",       "0.48mm",
      "life",          "1000000"}},
	{KIND_MAGNETIC_CYLINDER, {"teeth", "96", "pitch", "5mmcp", "die_gap", "0.483mm"}},
	{KIND_STATION, {"job",        "J1",           "station", "1",          "ink",
                    "black",      "process",      "flexo",   "register",   "no",
                    "plate",      "1.702mm",      "base",    "0.127mm",    "tape",
                    "0.381mm",    "plates",       "ordered", "screen_min", "300lpi",
                    "screen_max", "160/cm",       "volume",  "6.7cm3/m2",  "volume_tolerance",
                    "7.5%",       "plate_screen", "133lpi"}},
	{KIND_CUT, {"job", "J1", "cut", "2", "kind", "back", "die", "D-1"}},
	{KIND_READING,
     {"tool", "A-1", "moment", "2026-11-03T10:15:00Z", "volume", "6.2cm3/m2", "across",
      "6.1/6.2/6.3cm3/m2", "method", "surface", "after", "clean", "run", "12.5m"}},
};

/* Known values are equal; a reference is told as the record's own tag or code. */
static void assert_same(struct shop *shop, const struct record *record, const struct record *again)
{
	for (size_t i = 0; i < kind_attribute_count(record->kind); i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		const struct value *is = &again->values[i], *was = &record->values[i];
		if (attribute->reference != REFER_NONE) {
			assert_int_equal(again->references[i], record->references[i]);
		} else if (was->known && !value_equal(was, is)) {
			fail_msg("%s %s: %s went in, %s came out", record->kind->name, attribute->name,
			         value_text(shop->arena, was, UNITS_METRIC),
			         value_text(shop->arena, is, UNITS_METRIC));
		} else if (!was->known && is->known && attribute->fallback == NULL &&
		           strcmp(attribute->name, "tag") != 0) {
			fail_msg("%s %s: nothing went in, %s came out", record->kind->name, attribute->name,
			         value_text(shop->arena, is, UNITS_METRIC));
		}
	}
}

static struct record *read_again(struct shop *shop, const struct record *record)
{
	struct record *again;
	assert_int_equal(store_record_read(shop->store, shop->arena, record->kind, record->id, &again,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	return again;
}

static void store_record__everything_known__comes_back(void **state)
{
	struct shop *shop = *state;
	bool seen[KIND_COUNT] = {false};
	for (size_t i = 0; i < COUNT_OF(full); i++) {
		struct record *record = shop_add(shop, full[i].kind, full[i].words);
		assert_same(shop, record, read_again(shop, record));
		seen[full[i].kind] = true;
	}
	for (size_t i = 0; i < KIND_COUNT; i++) {
		assert_true(seen[i]);
	}
}

/* Each attribute of each kind stands in one of the records above: a new one is not forgotten. */
static void store_record__every_attribute__is_tried(void **state)
{
	(void)state;
	for (size_t k = 0; k < KIND_COUNT; k++) {
		for (size_t i = 0; i < kind_attribute_count(&kinds[k]); i++) {
			const char *name = kind_attribute(&kinds[k], i)->name;
			bool tried = strcmp(name, "tag") == 0 || strcmp(name, "back") == 0;
			for (size_t r = 0; r < COUNT_OF(full) && !tried; r++) {
				bool of_kind =
					full[r].kind == (enum kind_id)k || (kinds[k].tool && kinds[full[r].kind].tool);
				for (size_t w = 0; of_kind && full[r].words[w] != NULL; w += 2) {
					tried = tried || strcmp(full[r].words[w], name) == 0;
				}
			}
			if (!tried) {
				fail_msg("not tried: %s of %s", name, kinds[k].name);
			}
		}
	}
}

static void store_record__nothing_known_but_what_must_be__comes_back(void **state)
{
	struct shop *shop = *state;
	static const enum kind_id tools[] = {KIND_CYLINDER, KIND_GEAR, KIND_ANILOX,
	                                     KIND_BLADE,    KIND_DIE,  KIND_MAGNETIC_CYLINDER};
	for (size_t i = 0; i < COUNT_OF(tools); i++) {
		struct record *record = shop_add(shop, tools[i], WORDS("note", "bare"));
		struct record *again = read_again(shop, record);
		assert_same(shop, record, again);
		assert_string_equal(record_words(again, "condition"), "ready");
	}
	struct record *job = shop_add(shop, KIND_JOB, WORDS("number", "J1"));
	assert_same(shop, job, read_again(shop, job));
	assert_string_equal(record_words(read_again(shop, job), "state"), "planned");
	struct record *station =
		shop_add(shop, KIND_STATION, WORDS("job", "J1", "station", "3", "process", "flexo"));
	assert_same(shop, station, read_again(shop, station));
	assert_true(record_value(read_again(shop, station), "register")->yes);
}

static void store_record_update__one_attribute__the_others_stay(void **state)
{
	struct shop *shop = *state;
	for (size_t i = 0; i < COUNT_OF(full); i++) {
		struct record *record = shop_add(shop, full[i].kind, full[i].words);
		if (!record->kind->tool) {
			continue;
		}
		struct record *known = read_again(shop, record);
		bool changed = false;
		*record_value(known, "name") =
			(struct value){.type = VALUE_TEXT, .known = true, .text = "renamed"};
		assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
		assert_int_equal(store_record_update(shop->store, shop->arena, known, &shop->actor,
		                                     &changed, &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
		assert_true(changed);
		assert_string_equal(record_words(read_again(shop, record), "name"), "renamed");
		*record_value(record, "name") = *record_value(known, "name");
		assert_same(shop, record, read_again(shop, record));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_record__everything_known__comes_back),
		SHOP_TEST(store_record__every_attribute__is_tried),
		SHOP_TEST(store_record__nothing_known_but_what_must_be__comes_back),
		SHOP_TEST(store_record_update__one_attribute__the_others_stay),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
