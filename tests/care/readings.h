/* What tests of readings share: a roll, readings typed, cleanings and engravings. */
#ifndef TOOTHRACK_TESTS_CARE_READINGS_H
#define TOOTHRACK_TESTS_CARE_READINGS_H

#include "shop.h"

/* A reading as it is typed; NULL: not given. */
struct typed {
	const char *volume, *across, *liquid, *area, *run, *moment, *method, *after;
};

static inline enum outcome reading(struct shop *shop, const char *tag, struct typed typed)
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

static inline void read_it(struct shop *shop, const char *tag, struct typed typed)
{
	if (reading(shop, tag, typed) != OUTCOME_DONE) {
		fail_msg("%s", shop->fault.sentence);
	}
}

/* Is there a question that begins so? */
static inline bool questioned(const struct shop *shop, const char *start)
{
	for (size_t i = 0; i < shop->cared.question_count; i++) {
		if (strncmp(shop->cared.questions[i], start, strlen(start)) == 0) {
			return true;
		}
	}
	return false;
}

static inline const char *told(struct shop *shop, const char *attribute)
{
	return value_text(shop->arena, record_value(shop->cared.reading, attribute), UNITS_METRIC);
}

/* A roll of 360 lpi, for which 5.58 to 7.75 cm3/m2 are published. */
static inline void roll(struct shop *shop)
{
	shop_has(shop, KIND_ANILOX,
	         WORDS("other_tag", "A-1", "line_screen", "360lpi", "volume", "6.6cm3/m2", "engraved",
	               "2026-01-01", "run", "6000000m"));
}

static inline void engrave(struct shop *shop, const char *moment)
{
	struct moment now = shop->actor.now;
	static const char *const keys[] = {"volume"}, *const values[] = {"6.6cm3/m2"};
	shop->actor.now = shop_moment(moment);
	assert_int_equal(care_regrind(shop->store, shop->arena, "A-1", keys, values, 1, UNITS_METRIC,
	                              &shop->actor, &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = now;
}

static inline void clean(struct shop *shop, const char *moment)
{
	struct moment now = shop->actor.now;
	static const char *const tags[] = {"A-1"};
	shop->actor.now = shop_moment(moment);
	assert_int_equal(care_cleaning(shop->store, shop->arena, tags, 1, "cleaned", UNITS_METRIC,
	                               &shop->actor, &shop->cared, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = now;
}

static inline void take_back(struct shop *shop)
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

#endif
