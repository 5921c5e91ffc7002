/*
 * A small shop in a file, for tests of what the bench asks: two presses, a job, and tools that suit
 * it, which a test bends. All figures are invented for the tests but where a test says otherwise.
 *
 * The job: 96 teeth 1/8cp = 304.8 mm, 4 around (a gap of 3.2 mm), 3 across: web needed 316 mm,
 * printed width 306 mm, as tests/data/shops/plain_ready/worked.txt works out. Plate 1.702 and tape
 * 0.381 mm leave a bare diameter of 304.8/pi - 2 x 2.083 = 92.855 mm.
 */
#ifndef TOOTHRACK_TESTS_PLAN_GATHERING_H
#define TOOTHRACK_TESTS_PLAN_GATHERING_H

#include "../store/shop.h"
#include "toothrack/plan.h"

#define WORDS_MOST 80

/* What every tool of a kind says; what a test gives stands behind and so counts. */
static const char *const of_kind[KIND_COUNT][24] = {
	[KIND_CYLINDER] = {"place", "R1", "face", "330mm", "teeth", "96", "pitch", "1/8cp", "drive",
                       "demountable", "diameter", "92.855mm", "runout", "0.005mm"},
	[KIND_GEAR] = {"place", "R1", "teeth", "96", "pitch", "1/8cp"},
	[KIND_ANILOX] = {"place", "R1", "face", "330mm", "line_screen", "200/cm", "volume", "4cm3/m2"},
	[KIND_BLADE] = {"place", "R1", "length", "330mm", "life", "100000m"},
	[KIND_DIE] = {"place", "R1", "face", "330mm", "build", "flexible", "cut", "kiss", "teeth", "96",
                  "pitch", "1/8cp", "number_across", "3", "number_around", "4", "die_gap",
                  "0.48mm"},
	[KIND_MAGNETIC_CYLINDER] = {"place", "R1", "face", "330mm", "teeth", "96", "pitch", "1/8cp",
                                "die_gap", "0.48mm"},
};
static const char *const of_die[] = {"label_across", "100mm",         "label_around",
                                     "73mm",         "gap_across",    "3mm",
                                     "corner",       "2mm",           "shape",
                                     "rectangle",    "liner_caliper", "0.06mm",
                                     "life",         "1000000",       NULL};

static inline int64_t tool_new(struct shop *shop, enum kind_id kind, const char *const *more)
{
	const char *words[WORDS_MOST];
	size_t count = 0;
	for (size_t i = 0; i < 24 && of_kind[kind][i] != NULL; i++) {
		words[count++] = of_kind[kind][i];
	}
	for (size_t i = 0; kind == KIND_DIE && of_die[i] != NULL; i++) {
		words[count++] = of_die[i];
	}
	for (size_t i = 0; more != NULL && more[i] != NULL; i++) {
		words[count++] = more[i];
	}
	assert_true(count < WORDS_MOST);
	words[count] = NULL;
	return shop_add(shop, kind, words)->id;
}

static inline void station_new(struct shop *shop, const char *job, const char *number,
                               const char *ink, const char *volume)
{
	shop_add(shop, KIND_STATION,
	         WORDS("job", job, "station", number, "ink", ink, "process", "flexo", "register", "yes",
	               "plate", "1.702mm", "base", "0.127mm", "tape", "0.381mm", "plates", "ready",
	               "volume", volume));
}

static inline int64_t job_new(struct shop *shop, const char *number, const char *press,
                              const char *const *more)
{
	const char *words[WORDS_MOST] = {"number",
	                                 number,
	                                 "state",
	                                 "planned",
	                                 "quantity",
	                                 "1000",
	                                 "label_across",
	                                 "100mm",
	                                 "label_around",
	                                 "73mm",
	                                 "corner",
	                                 "2mm",
	                                 "shape",
	                                 "rectangle",
	                                 "number_across",
	                                 "3",
	                                 "gap_across",
	                                 "3mm",
	                                 "gap_around_min",
	                                 "2mm",
	                                 "gap_around_max",
	                                 "4mm",
	                                 "trim",
	                                 "5mm",
	                                 "web",
	                                 "330mm",
	                                 "liner_caliper",
	                                 "0.06mm",
	                                 "press",
	                                 press};
	size_t count = 30;
	for (size_t i = 0; more[i] != NULL; i++) {
		words[count++] = more[i];
	}
	words[count] = NULL;
	return shop_add(shop, KIND_JOB, words)->id;
}
#define NEW_JOB ((const char *const[]){NULL})
#define REPEAT_ORDER WORDS("teeth", "96", "pitch", "1/8cp", "number_around", "4")

/* Racks, a supplier, and presses: P1 geared, P2 with a motor for each cylinder. */
static inline int gathering_set_up(void **state)
{
	assert_int_equal(shop_set_up(state), 0);
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	shop_add(shop, KIND_PLACE, WORDS("code", "S1", "sort", "supplier"));
	shop_add(shop, KIND_PLACE, WORDS("code", "C1", "sort", "cart"));
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P1", "drive", "geared", "web", "340mm", "repeat_min", "150mm",
	               "repeat_max", "600mm", "pitches", "1/8cp", "stations", "6", "die_stations",
	               "2"));
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P2", "drive", "servo", "web", "340mm", "repeat_min", "150mm",
	               "repeat_max", "600mm", "stations", "6", "die_stations", "2"));
	return 0;
}

static inline int64_t id_of(struct shop *shop, const char *name)
{
	struct found found;
	assert_int_equal(store_find(shop->store, name, REFER_NONE, &found, &shop->fault), OUTCOME_DONE);
	return found.id;
}

static inline void run_sql(struct shop *shop, const char *format, int64_t a, int64_t b)
{
	char sql[256];
	snprintf(sql, sizeof sql, format, (long long)a, (long long)b); /* NOLINT: the tests' own */
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
}

/* Out for the job: the place stays. */
static inline void take_out(struct shop *shop, int64_t job, int64_t tool)
{
	run_sql(shop, "UPDATE tool SET taken_for = %lld WHERE id = %lld", job, tool);
}

static inline void put_at(struct shop *shop, int64_t tool, const char *place)
{
	struct movement movement = {.tool = tool,
	                            .to = id_of(shop, place),
	                            .word = "put",
	                            .happened = shop->actor.now};
	struct found found;
	assert_int_equal(store_find(shop->store, place, REFER_PLACE, &found, &shop->fault),
	                 OUTCOME_DONE);
	movement.to = found.id;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_tool_move(shop->store, &movement, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static inline void hold(struct shop *shop, enum kind_id kind, int64_t id, const char *condition,
                        const char *reason)
{
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_condition_set(shop->store, &kinds[kind], id, condition, reason,
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static inline struct limits default_limits(void)
{
	struct limits limits;
	assert_int_equal(store_limits(NULL, &limits, NULL), OUTCOME_DONE);
	return limits;
}

/* Both NULL, or the same. */
static inline void assert_same_words(const char *had, const char *wanted)
{
	if (had == NULL || wanted == NULL) {
		assert_string_equal(had == NULL ? "(none)" : had, wanted == NULL ? "(none)" : wanted);
		return;
	}
	assert_string_equal(had, wanted);
}

#define GATHERING_TEST(test) cmocka_unit_test_setup_teardown(test, gathering_set_up, shop_tear_down)

#endif
