/*
 * A session at the scanning bench, as the tests of its rules hold it: each scan with the moment of
 * a clock that the test keeps, and what is answered.
 */
#ifndef TOOTHRACK_TESTS_ROOM_BENCH_SESSION_H
#define TOOTHRACK_TESTS_ROOM_BENCH_SESSION_H

#include "shop.h"

/* ---------------------------------------------------------------- a bench that is asked */

static struct bench_verdict job_verdict, station_verdict;

static inline enum outcome serves(struct store *store, struct arena *arena, int64_t job,
                                  int64_t tool, struct moment now, struct bench_verdict *out,
                                  struct fault *fault)
{
	(void)store, (void)arena, (void)job, (void)tool, (void)now, (void)fault;
	*out = job_verdict;
	return OUTCOME_DONE;
}

static inline enum outcome takes(struct store *store, struct arena *arena, int64_t place,
                                 int64_t tool, struct bench_verdict *out, struct fault *fault)
{
	(void)store, (void)arena, (void)place, (void)tool, (void)fault;
	*out = station_verdict;
	return OUTCOME_DONE;
}

static const struct bench_asks asks = {serves, takes};

struct session {
	struct shop *shop;
	struct bench *bench;
	struct limits limits;
	struct bench_answer answer;
	int64_t clock_ms;
};

/* Cylinders K-1 and K-2 of rack 1, roll V-1 of rack 2 at press station P1-2, operators E1 and E2.
 */
static inline struct session session_open(struct shop *shop)
{
	struct session session = {.shop = shop, .clock_ms = 1000000};
	shop_furnish(shop);
	shop_has(shop, "place", "code=W1;sort=wash");
	shop_has(shop, "cylinder", "other_tag=K-1;teeth=96;pitch=1/8cp;face=330mm;place=R1;home=R1");
	shop_has(shop, "cylinder", "other_tag=K-2;teeth=96;pitch=1/8cp;face=330mm;place=R2");
	shop_has(shop, "anilox", "other_tag=V-1;face=330mm;place=P1-2;home=R2");
	shop_has(shop, "operator", "badge=E1;name=Nora Tindle;role=clerk");
	shop_has(shop, "operator", "badge=E2;name=Ivo Brandt;role=supervisor");
	assert_int_equal(store_limits(shop->store, &session.limits, NULL), OUTCOME_DONE);
	job_verdict = (struct bench_verdict){.yes = true, .text = "cylinder at station 3"};
	station_verdict = (struct bench_verdict){.yes = true};
	session.bench = bench_open(shop->store, &asks, &shop->actor, &session.limits);
	return session;
}

static inline struct moment session_now(const struct session *session)
{
	struct duration later;
	char text[32];
	snprintf(text, sizeof text, "%llds", (long long)((session->clock_ms - 1000000) / 1000));
	assert_int_equal(duration_parse(text, &later, NULL), OUTCOME_DONE);
	return moment_add(shop_moment("2026-12-01T08:00:00Z"), later);
}

/* Everything answered, a line each: `tone text | hint | caution`. */
static inline const char *answered(struct session *session)
{
	static const char *const tones[] = {"+", "-", "!"};
	struct text text = text_start(session->shop->arena);
	for (size_t i = 0; i < session->answer.count; i++) {
		const struct bench_line *line = &session->answer.lines[i];
		text_join(&text, "\n", tones[line->tone]);
		text_add_format(&text, " %s", line->text);
		text_add(&text, line->hint != NULL ? " | " : "");
		text_add(&text, line->hint != NULL ? line->hint : "");
		text_add(&text, line->caution != NULL ? " | caution: " : "");
		text_add(&text, line->caution != NULL ? line->caution : "");
	}
	return text.bytes;
}

/* Scans, `after_ms` later than the scan before. */
static inline const char *scan(struct session *session, int64_t after_ms, const char *code)
{
	session->clock_ms += after_ms;
	bench_scan(session->bench, code, strlen(code), session->clock_ms, session_now(session),
	           &session->answer);
	assert_false(store_in_transaction(session->shop->store));
	return answered(session);
}

static inline const char *quiet(struct session *session, int64_t after_ms)
{
	session->clock_ms += after_ms;
	bench_quiet(session->bench, session->clock_ms, session_now(session), &session->answer);
	return answered(session);
}

static inline const char *prompt(const struct session *session)
{
	return bench_prompt(session->bench);
}

static inline const char *tool_at(struct session *session, const char *tool)
{
	return shop_value(session->shop, tool, "place");
}

static inline int64_t entries(struct session *session)
{
	struct proof proof;
	assert_int_equal(store_verify(session->shop->store, session->shop->arena, NULL, &proof, NULL),
	                 OUTCOME_DONE);
	return proof.entries;
}

#define NEXT 5000 /* more than two seconds, less than sixty */

/* A card's tag. */
static inline const char *card(struct session *session, enum action action)
{
	struct tag tag = {TAG_ACTION, (int64_t)action};
	return arena_copy(session->shop->arena, tag_stored(tag).bytes);
}

static inline const char *reason(struct session *session, const char *words)
{
	size_t count;
	const struct action_card *cards = action_cards(&count);
	for (size_t i = 0; i < count; i++) {
		if (cards[i].reason != NULL && strcmp(cards[i].reason, words) == 0) {
			struct tag tag = {TAG_ACTION, cards[i].serial};
			return arena_copy(session->shop->arena, tag_stored(tag).bytes);
		}
	}
	fail_msg("no reason card: %s", words);
	return "";
}

#endif
