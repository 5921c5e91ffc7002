/*
 * Jobs to be booked on P1 of the shop of gathering.h, one station each, whose anilox roll is told
 * by its screen alone; moments are hours of 2026-12-02 UTC. All figures are invented for the tests.
 */
#ifndef TOOTHRACK_TESTS_PLAN_BOOKING_H
#define TOOTHRACK_TESTS_PLAN_BOOKING_H

#include "gathering.h"

static inline struct moment hour(int64_t hours)
{
	struct moment day;
	assert_int_equal(moment_parse("2026-12-02T00:00:00Z", &day, NULL), OUTCOME_DONE);
	return moment_add(day, (struct duration){.s = hours * 3600});
}

/* Enough of every tool but rolls, and a watch on what breaks a promise. */
static inline int booking_set_up(void **state)
{
	static const enum kind_id plenty[] = {KIND_CYLINDER, KIND_GEAR, KIND_BLADE, KIND_DIE,
	                                      KIND_MAGNETIC_CYLINDER};
	assert_int_equal(gathering_set_up(state), 0);
	struct shop *shop = *state;
	store_watch_commits(shop->store, plan_promises_watch, NULL);
	for (size_t i = 0; i < COUNT_OF(plenty); i++) {
		for (int j = 0; j < 6; j++) {
			tool_new(shop, plenty[i], NULL);
		}
	}
	return 0;
}
#define BOOKING_TEST(test) cmocka_unit_test_setup_teardown(test, booking_set_up, shop_tear_down)

/* A job of one station that takes rolls of these screens. */
static inline int64_t job_by_screen(struct shop *shop, const char *number, const char *least,
                                    const char *most)
{
	int64_t job = job_new(shop, number, "P1", REPEAT_ORDER);
	shop_add(shop, KIND_STATION,
	         WORDS("job", number, "station", "1", "ink", "Cyan", "process", "flexo", "register",
	               "yes", "plate", "1.702mm", "base", "0.127mm", "tape", "0.381mm", "plates",
	               "ready", "screen_min", least, "screen_max", most));
	return job;
}

static inline int64_t roll_of_screen(struct shop *shop, const char *screen)
{
	return tool_new(shop, KIND_ANILOX, WORDS("line_screen", screen));
}

static inline const char *no_json(struct arena *arena, const struct check *check, void *context)
{
	(void)context;
	return arena_format(arena, "{\"job\": \"%s\"}", check->job);
}

/* Asks for the job over those hours; `until` 0: not given. */
static inline enum outcome ask_booking(struct shop *shop, const char *job, int64_t from,
                                       int64_t until, struct booked *out)
{
	struct limits limits = default_limits();
	const struct book_request request = {
		.job = job,
		.from = {.known = true, .value = hour(from)},
		.until = {.known = until != 0, .value = hour(until)},
		.actor = &shop->actor,
		.limits = &limits,
		.as_json = no_json,
	};
	fault_clear(&shop->fault);
	return plan_book(shop->store, shop->arena, &request, out, &shop->fault);
}

static inline struct booked booked_for(struct shop *shop, const char *job, int64_t from,
                                       int64_t until)
{
	struct booked booked;
	enum outcome outcome = ask_booking(shop, job, from, until, &booked);
	assert_string_equal(shop->fault.sentence, "");
	assert_int_equal(outcome, OUTCOME_DONE);
	assert_true(booked.kept);
	return booked;
}

static inline struct kept_promise promise_of(struct shop *shop, int64_t job)
{
	struct kept_promise promise;
	assert_int_equal(store_promise_of_job(shop->store, shop->arena, job, &promise, &shop->fault),
	                 OUTCOME_DONE);
	return promise;
}

/* The tool that a job has booked for a need at a station or cut 1. */
static inline int64_t tool_booked(struct shop *shop, int64_t job, const char *need)
{
	struct kept_promise promise = promise_of(shop, job);
	for (size_t i = 0; i < promise.tool_count; i++) {
		if (strcmp(promise.tools[i].need, need) == 0) {
			return promise.tools[i].tool;
		}
	}
	return 0;
}

#endif
