/* Taking back what planning entered: booking and its end, starting and finishing. */
#include "shop.h"

static struct undone undone;

static enum outcome undo(struct shop *shop)
{
	fault_clear(&shop->fault);
	return room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault);
}

static int64_t id_of(struct shop *shop, const char *name)
{
	struct found found;
	assert_int_equal(store_find(shop->store, name, REFER_NONE, &found, &shop->fault), OUTCOME_DONE);
	return found.id;
}

static void ended(struct shop *shop, enum outcome outcome)
{
	assert_int_equal(outcome, OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static void begin(struct shop *shop)
{
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
}

/* The gear K-1 for a job, on P1. */
static void book(struct shop *shop, const char *job, const char *from, const char *until)
{
	struct promised_tool tool = {.tool = id_of(shop, "K-1"), .need = "gear", .station = 1};
	const struct kept_promise promise = {
		.job = id_of(shop, job),
		.press = id_of(shop, "P1"),
		.from = shop_moment(from),
		.until = shop_moment(until),
		.verdict = "ready",
		.answer = "{}",
		.tools = &tool,
		.tool_count = 1,
	};
	begin(shop);
	ended(shop, store_promise_keep(shop->store, shop->arena, &promise, "book", NULL, &shop->actor,
	                               &shop->fault));
}

static void unbook(struct shop *shop, const char *job)
{
	begin(shop);
	ended(shop, store_promise_end(shop->store, shop->arena, id_of(shop, job), NULL, &shop->actor,
	                              &shop->fault));
}

static void start(struct shop *shop, const char *job)
{
	begin(shop);
	ended(shop, store_job_start(shop->store, shop->arena, id_of(shop, job), id_of(shop, "P1"),
	                            &shop->actor, &shop->fault));
}

static void finish(struct shop *shop, const char *job)
{
	begin(shop);
	ended(shop, store_job_finish(shop->store, shop->arena, id_of(shop, job),
	                             &(struct run_end){.press = 0}, &shop->actor, &shop->fault));
}

static void furnish(struct shop *shop)
{
	shop_furnish(shop);
	shop_has(shop, "job", "number=J2");
	shop_has(shop, "gear", "other_tag=K-1;teeth=96;pitch=1/8cp");
}

static void undone_is(struct shop *shop, const char *said, const char *result)
{
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.called, "J1");
	assert_string_equal(undone.said, said);
	assert_string_equal(undone.result, result);
}

static void room_undo__book__not_booked_or_as_before(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	book(shop, "J1", "2026-12-02T08:00:00Z", "2026-12-02T10:00:00Z");
	book(shop, "J1", "2026-12-03T08:00:00Z", "2026-12-03T10:00:00Z");
	undone_is(shop, "book", "booked again on P1, from 2026-12-02T08:00 until 2026-12-02T10:00");
	undone_is(shop, "book", "not booked any more");
}

static void room_undo__unbook__booked_again_or_refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	book(shop, "J1", "2026-12-02T08:00:00Z", "2026-12-02T10:00:00Z");
	unbook(shop, "J1");
	shop->actor.terminal = "office";
	book(shop, "J2", "2026-12-02T09:00:00Z", "2026-12-02T11:00:00Z");
	shop->actor.terminal = "bench";
	assert_int_equal(undo(shop), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO,
	            "GR000001-E is booked for job J2 from 2026-12-02T09:00 until 2026-12-02T11:00",
	            "Type check J1, which counts what is booked by now, or unbook J2.");
	assert_false(store_in_transaction(shop->store));
	shop->actor.terminal = "office";
	unbook(shop, "J2");
	shop->actor.terminal = "bench";
	undone_is(shop, "unbook", "booked again on P1, from 2026-12-02T08:00 until 2026-12-02T10:00");
}

static void room_undo__start_and_finish__as_it_stood(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	book(shop, "J1", "2026-12-02T08:00:00Z", "2026-12-02T10:00:00Z");
	start(shop, "J1");
	finish(shop, "J1");
	undone_is(shop, "finish",
	          "running again on P1, booked again on P1, from 2026-12-02T08:00 until"
	          " 2026-12-02T10:00");
	assert_string_equal(shop_value(shop, "J1", "state"), "running");
	undone_is(shop, "start", "planned again");
	assert_string_equal(shop_value(shop, "J1", "state"), "planned");
	undone_is(shop, "book", "not booked any more");
}

static void room_undo__finish_with_another_on_the_press__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	start(shop, "J1");
	finish(shop, "J1");
	shop->actor.terminal = "office";
	start(shop, "J2");
	shop->actor.terminal = "bench";
	assert_int_equal(undo(shop), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "job J2 runs on press P1", "Type finish J2 first.");
	assert_string_equal(shop_value(shop, "J1", "state"), "finished");
}

static void room_undo__started_since__book_stays(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	book(shop, "J1", "2026-12-02T08:00:00Z", "2026-12-02T10:00:00Z");
	shop->actor.terminal = "office";
	start(shop, "J1");
	shop->actor.terminal = "bench";
	assert_int_equal(undo(shop), OUTCOME_NO);
	assert_non_null(strstr(shop->fault.sentence,
	                       "book of J1 is not taken back, it has changed since: start, on P1"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_undo__book__not_booked_or_as_before),
		SHOP_TEST(room_undo__unbook__booked_again_or_refused),
		SHOP_TEST(room_undo__start_and_finish__as_it_stood),
		SHOP_TEST(room_undo__finish_with_another_on_the_press__refused),
		SHOP_TEST(room_undo__started_since__book_stays),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
