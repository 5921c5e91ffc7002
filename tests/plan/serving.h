/* Whether a tool serves a job, as the tests ask it. */
#ifndef TOOTHRACK_TESTS_PLAN_SERVING_H
#define TOOTHRACK_TESTS_PLAN_SERVING_H

#include "gathering.h"

static inline struct served asked(struct shop *shop, int64_t job, int64_t tool)
{
	struct served served;
	struct limits limits = default_limits();
	assert_int_equal(plan_serves(shop->store, shop->arena, job, tool, shop->actor.now, &limits,
	                             &served, &shop->fault),
	                 OUTCOME_DONE);
	return served;
}

static inline void assert_yes(struct shop *shop, int64_t job, int64_t tool, const char *text)
{
	struct served served = asked(shop, job, tool);
	assert_same_words(served.text, text);
	assert_true(served.serves);
	assert_null(served.expected);
}

static inline void assert_no(struct shop *shop, int64_t job, int64_t tool, const char *text,
                             const char *expected)
{
	struct served served = asked(shop, job, tool);
	assert_same_words(served.text, text);
	assert_false(served.serves);
	assert_null(served.need);
	assert_same_words(served.expected, expected);
}

/* J1 on P1, 96 teeth, Cyan at station 1 and Black at station 2, 4 cm3/m2 each. */
static inline int64_t plain_job(struct shop *shop)
{
	int64_t job = job_new(shop, "J1", "P1", REPEAT_ORDER);
	station_new(shop, "J1", "1", "Cyan", "4cm3/m2");
	station_new(shop, "J1", "2", "Black", "4cm3/m2");
	return job;
}

#endif
