/* Promises of tools to jobs: kept, moved, ended, refused where they overlap; and savepoints. */
#include "promises.h"

static void store_promise_keep__tools_and_check__as_they_were_given(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	struct record *roll = shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm"));
	struct record *die = shop_add(shop, KIND_DIE, WORDS("note", "x"));
	struct record *clerk =
		shop_add(shop, KIND_OPERATOR, WORDS("badge", "7", "name", "Ada", "role", "planner"));
	struct pitch pitch;
	assert_int_equal(pitch_parse("1/8cp", &pitch, NULL), OUTCOME_DONE);
	struct promised_tool tools[] = {
		{.tool = die->id, .need = "die", .cut = 1},
		{.tool = roll->id, .need = "anilox", .station = 2},
		{.tool = add_gear(shop), .need = "gear", .station = 2},
	};
	const struct kept_promise kept = {
		.job = job,
		.press = press,
		.from = hour(8),
		.until = hour(12),
		.repeat = repeat_of_teeth(96, pitch),
		.number_around = {.known = true, .value = 3},
		.verdict = "caution",
		.answer = "{\"verdict\": \"caution\"}",
		.tools = tools,
		.tool_count = COUNT_OF(tools),
	};
	shop->actor.operator_id = clerk->id;
	begin(shop);
	assert_int_equal(store_promise_keep(shop->store, shop->arena, &kept, "book", "on P1",
	                                    &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_string_equal(last_word(shop), "book on P1");
	struct kept_promise read = promise_of(shop, job);
	assert_true(read.id > 0 && read.job == job && read.press == press);
	assert_string_equal(read.job_number, "J1");
	assert_string_equal(read.press_code, "P1");
	assert_int_equal(moment_compare(read.from, hour(8)), 0);
	assert_int_equal(moment_compare(read.until, hour(12)), 0);
	assert_true(read.repeat.toothed && read.repeat.teeth == 96 &&
	            pitch_equal(read.repeat.pitch, pitch));
	assert_int_equal(read.number_around.value, 3);
	assert_string_equal(read.verdict, "caution");
	assert_string_equal(read.answer, "{\"verdict\": \"caution\"}");
	assert_int_equal(moment_compare(read.asked, shop->actor.now), 0);
	assert_string_equal(read.by, "Ada");
	assert_int_equal(read.tool_count, 3);
	assert_string_equal(read.tools[0].need, "gear");
	assert_string_equal(read.tools[1].need, "anilox");
	assert_string_equal(tag_shown(read.tools[1].tag).bytes, record_words(roll, "tag"));
	assert_ptr_equal(read.tools[2].kind, &kinds[KIND_DIE]);
	assert_true(read.tools[2].cut == 1 && read.tools[2].station == 0);
	assert_int_equal(bookings(shop), 3);
}

static void store_promise_keep__plain_repeat__kept(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	struct promised_tool tool = {.tool = add_gear(shop), .need = "gear", .station = 1};
	const struct kept_promise kept = {
		.job = job,
		.press = press,
		.from = hour(8),
		.until = hour(8),
		.repeat = repeat_of_length(length_from_mm(300)),
		.verdict = "ready",
		.answer = "{}",
		.tools = &tool,
		.tool_count = 1,
	};
	begin(shop);
	assert_int_equal(store_promise_keep(shop->store, shop->arena, &kept, "book", NULL, &shop->actor,
	                                    &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	struct kept_promise read = promise_of(shop, job);
	assert_true(read.repeat.known && !read.repeat.toothed);
	assert_int_equal(length_to_nm(read.repeat.plain), 300000000);
	assert_false(read.number_around.known);
	assert_string_equal(read.by, "clerk");
}

static void store_promise_keep__tool_of_another_job__refused_by_name_and_time(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t one = add_job(shop, "J1", "P1"), two = add_job(shop, "J2", "P1");
	assert_int_equal(book(shop, one, press, gear, 8, 12), OUTCOME_DONE);
	int64_t entries = store_last_entry(shop->store);
	assert_int_equal(book(shop, two, press, gear, 11, 13), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence,
	                    arena_format(shop->arena,
	                                 "GR000001-E is booked for job J1 from %s until %s",
	                                 moment_text(hour(8)).bytes, moment_text(hour(12)).bytes));
	assert_string_equal(shop->fault.hint,
	                    "Type check J2, which counts what is booked by now, or unbook J1.");
	assert_int_equal(store_last_entry(shop->store), entries);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise"), 1);
	assert_int_equal(book(shop, two, press, gear, 8, 8), OUTCOME_NO);
	assert_int_equal(book(shop, two, press, gear, 12, 13), OUTCOME_DONE);
}

static void store_promise_keep__again__the_first_ends_by_the_same_entry(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t first = add_gear(shop), second = add_gear(shop);
	assert_int_equal(book(shop, job, press, first, 8, 12), OUTCOME_DONE);
	assert_int_equal(book(shop, job, press, second, 9, 13), OUTCOME_DONE);
	struct kept_promise promise = promise_of(shop, job);
	assert_int_equal(promise.tools[0].tool, second);
	assert_int_equal(bookings(shop), 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise a JOIN promise b"
	                                   " ON a.ended = b.made AND b.ended IS NULL"),
	                 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise_tool"), 2);
}

static void store_promise_end__held__tools_free_and_promise_on_record(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t one = add_job(shop, "J1", "P1"), two = add_job(shop, "J2", "P1");
	assert_int_equal(book(shop, one, press, gear, 8, 12), OUTCOME_DONE);
	unbook(shop, one);
	assert_string_equal(last_word(shop), "unbook ");
	assert_int_equal(promise_of(shop, one).id, 0);
	assert_int_equal(bookings(shop), 0);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise WHERE ended ="
	                                   " (SELECT max(number) FROM ledger)"),
	                 1);
	int64_t entries = store_last_entry(shop->store);
	unbook(shop, one);
	assert_int_equal(store_last_entry(shop->store), entries);
	assert_int_equal(book(shop, two, press, gear, 8, 12), OUTCOME_DONE);
}

static void store_promises_between__bounds__those_that_hold_and_meet(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	static const int64_t hours[][2] = {{14, 16}, {6, 8}, {8, 10}, {10, 12}, {12, 14}};
	int64_t jobs[COUNT_OF(hours)];
	struct kept_promise *out;
	size_t count;
	for (size_t i = 0; i < COUNT_OF(hours); i++) {
		jobs[i] = add_job(shop, arena_format(shop->arena, "J%zu", i), "P1");
		assert_int_equal(book(shop, jobs[i], press, gear, hours[i][0], hours[i][1]), OUTCOME_DONE);
	}
	assert_int_equal(store_promises_between(shop->store, shop->arena, hour(8), hour(14), &out,
	                                        &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 4); /* what ends then is among them, what starts at the end is not */
	for (size_t i = 0; i < count; i++) {
		assert_int_equal(out[i].job, jobs[i + 1]);
		assert_int_equal(out[i].tool_count, 1);
		assert_null(out[i].answer);
	}
	finish(shop, jobs[2]);
	unbook(shop, jobs[3]);
	assert_int_equal(store_promises_between(shop->store, shop->arena, hour(0), hour(24), &out,
	                                        &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 3);
}

/* ---------------------------------------------------------------- set aside, and back */

static void store_savepoint__nested__each_comes_back_to_its_own_point(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop), other = add_gear(shop);
	int64_t one = add_job(shop, "J1", "P1"), two = add_job(shop, "J2", "P1");
	assert_int_equal(book(shop, one, press, gear, 8, 12), OUTCOME_DONE);
	int64_t entries = store_last_entry(shop->store);
	begin(shop);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_bookings_set_aside(shop->store, one, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, two, press, gear, 9, 11), OUTCOME_DONE);
	assert_int_equal(store_entry_last(shop->store), entries + 1);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, one, press, gear, 8, 12), OUTCOME_NO);
	assert_int_equal(store_savepoint_back(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_entry_last(shop->store), entries + 1);
	assert_int_equal(keep(shop, one, press, other, 8, 12), OUTCOME_DONE);
	assert_int_equal(bookings(shop), 2);
	assert_int_equal(store_savepoint_back(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_entry_last(shop->store), 0);
	assert_true(store_in_transaction(shop->store));
	assert_int_equal(bookings(shop), 1);
	assert_int_equal(promise_of(shop, one).tools[0].tool, gear);
	commit(shop);
	assert_int_equal(store_last_entry(shop->store), entries);
}

static void store_savepoint__kept__stays_and_the_chain_holds(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop), other = add_gear(shop);
	int64_t one = add_job(shop, "J1", "P1"), two = add_job(shop, "J2", "P1");
	struct proof proof;
	assert_int_equal(book(shop, one, press, gear, 8, 12), OUTCOME_DONE);
	begin(shop);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, two, press, gear, 8, 12), OUTCOME_NO);
	assert_int_equal(store_savepoint_back(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, one, press, other, 8, 12), OUTCOME_DONE);
	assert_int_equal(keep(shop, two, press, gear, 8, 12), OUTCOME_DONE);
	assert_int_equal(store_savepoint_keep(shop->store, &shop->fault), OUTCOME_DONE);
	commit(shop);
	assert_int_equal(bookings(shop), 2);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
}

static size_t on_press(struct shop *shop, int64_t press, int64_t job, struct promise **out)
{
	size_t count;
	assert_int_equal(store_press_promises(shop->store, shop->arena, press, job, out, &count,
	                                      &shop->fault),
	                 OUTCOME_DONE);
	return count;
}

static void store_bookings_set_aside__press_and_tool__free_until_back(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop), job = add_job(shop, "J1", "P1");
	struct promise *promises;
	union any_tool tool;
	assert_int_equal(book(shop, job, press, gear, 8, 12), OUTCOME_DONE);
	assert_int_equal(on_press(shop, press, 0, &promises), 1);
	begin(shop);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_bookings_set_aside(shop->store, job, &shop->fault), OUTCOME_DONE);
	assert_int_equal(on_press(shop, press, 0, &promises), 0);
	assert_int_equal(store_tool(shop->store, shop->arena, KIND_GEAR, gear, &tool, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(tool.tool.promise_count, 0);
	assert_int_equal(store_savepoint_back(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(on_press(shop, press, 0, &promises), 1);
	store_rollback(shop->store);
}

static void store_press_promises__booked_on_one_of_two__only_there(void **state)
{
	struct shop *shop = *state;
	int64_t one = add_press(shop, "P1"), two = add_press(shop, "P2");
	int64_t job = add_job(shop, "J1", "P1,P2");
	struct promise *promises;
	assert_int_equal(book(shop, job, two, add_gear(shop), 8, 12), OUTCOME_DONE);
	assert_int_equal(on_press(shop, one, 0, &promises), 0);
	assert_int_equal(on_press(shop, two, 0, &promises), 1);
	assert_string_equal(promises[0].job, "J1");
	assert_int_equal(moment_compare(promises[0].from.value, hour(8)), 0);
	assert_int_equal(moment_compare(promises[0].until.value, hour(12)), 0);
	assert_int_equal(on_press(shop, two, job, &promises), 0);
}

static void store_press_promises__running__there_or_wherever_it_may(void **state)
{
	struct shop *shop = *state;
	int64_t one = add_press(shop, "P1"), two = add_press(shop, "P2");
	int64_t job = add_job(shop, "J1", "P1,P2"), other = add_job(shop, "J2", "P1,P2");
	struct promise *promises;
	start(shop, job, two);
	assert_int_equal(on_press(shop, one, 0, &promises), 0);
	assert_int_equal(on_press(shop, two, 0, &promises), 1);
	assert_int_equal(moment_compare(promises[0].from.value, shop->actor.now), 0);
	assert_false(promises[0].until.known);
	correct(shop, KIND_JOB, other, "state", "running");
	assert_int_equal(on_press(shop, one, 0, &promises), 1);
	assert_string_equal(promises[0].job, "J2");
	assert_int_equal(on_press(shop, two, 0, &promises), 2);
}

/* ---------------------------------------------------------------- a job over by correction */

static void store_record_update__job_over__promise_ends_by_that_entry(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	static const char *const over[] = {"cancelled", "finished"};
	for (size_t i = 0; i < COUNT_OF(over); i++) {
		int64_t job = add_job(shop, over[i], "P1");
		assert_int_equal(book(shop, job, press, add_gear(shop), 8, 12), OUTCOME_DONE);
		correct(shop, KIND_JOB, job, "title", "labels");
		assert_int_not_equal(promise_of(shop, job).id, 0);
		correct(shop, KIND_JOB, job, "state", over[i]);
		assert_int_equal(promise_of(shop, job).id, 0);
		assert_int_equal(bookings(shop), 0);
		assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise WHERE ended ="
		                                   " (SELECT max(number) FROM ledger)"),
		                 1);
	}
}

/* The correction taken back: the promise holds again, or is refused where another has the tool. */
static void store_undo_change__job_over__promise_holds_again_if_it_can(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t job = add_job(shop, "J1", "P1"), other = add_job(shop, "J2", "P1");
	struct undo_entry entry;
	struct record *record;
	assert_int_equal(book(shop, job, press, gear, 8, 12), OUTCOME_DONE);
	correct(shop, KIND_JOB, job, "state", "cancelled");
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(book(shop, other, press, gear, 8, 12), OUTCOME_DONE);
	begin(shop);
	assert_int_equal(store_undo_read(shop->store, shop->arena, &entry, &record, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_change(shop->store, shop->arena, &entry, record, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_NO);
	assert_non_null(strstr(shop->fault.sentence, "GR000001-E is booked for job J2 from "));
	store_rollback(shop->store);
	unbook(shop, other);
	begin(shop);
	assert_int_equal(store_undo_change(shop->store, shop->arena, &entry, record, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_int_equal(promise_of(shop, job).tools[0].tool, gear);
	assert_int_equal(bookings(shop), 1);
}

/* ---------------------------------------------------------------- taken back */

static void store_undo_promise__book__ends_and_the_one_before_holds_again(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t first = add_gear(shop), second = add_gear(shop);
	assert_int_equal(book(shop, job, press, first, 8, 12), OUTCOME_DONE);
	assert_int_equal(book(shop, job, press, second, 8, 12), OUTCOME_DONE);
	assert_int_equal(take_back(shop, false), OUTCOME_DONE);
	assert_string_equal(last_word(shop), "undo book");
	assert_int_equal(promise_of(shop, job).tools[0].tool, first);
	assert_int_equal(bookings(shop), 1);
	assert_int_equal(take_back(shop, false), OUTCOME_DONE);
	assert_int_equal(promise_of(shop, job).id, 0);
	assert_int_equal(bookings(shop), 0);
}

static void store_undo_promise__unbook__holds_again_or_refused(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t job = add_job(shop, "J1", "P1"), other = add_job(shop, "J2", "P1");
	struct actor clerk = shop->actor;
	assert_int_equal(book(shop, job, press, gear, 8, 12), OUTCOME_DONE);
	unbook(shop, job);
	shop->actor.terminal = "pts/4";
	assert_int_equal(book(shop, other, press, gear, 11, 13), OUTCOME_DONE);
	shop->actor = clerk;
	assert_int_equal(take_back(shop, false), OUTCOME_NO);
	assert_non_null(strstr(shop->fault.sentence, "GR000001-E is booked for job J2 from "));
	assert_int_equal(promise_of(shop, job).id, 0);
	shop->actor.terminal = "pts/4";
	unbook(shop, other);
	shop->actor = clerk;
	assert_int_equal(take_back(shop, false), OUTCOME_DONE);
	assert_int_equal(promise_of(shop, job).tools[0].tool, gear);
}

/* ---------------------------------------------------------------- never twice */

/* What is promised now, kept by the test itself. */
struct held {
	int64_t gear, from, until; /* gear 0: nothing */
};

/* As the trigger is meant: spans that touch do not meet, two that start together do. */
static bool meet(const struct held *a, const struct held *b)
{
	return a->gear != 0 && a->gear == b->gear &&
	       ((a->from < b->until && b->from < a->until) || a->from == b->from);
}

static void store_promise_keep__random_sequences__never_two_at_a_time(void **state)
{
	struct shop *shop = *state;
	enum { JOBS = 6, GEARS = 3, STEPS = 600 };
	int64_t press = add_press(shop, "P1"), jobs[JOBS], gears[GEARS];
	struct held held[JOBS] = {{0, 0, 0}};
	unsigned int seed = 20261202;
	int refused = 0, kept = 0;
	for (int i = 0; i < JOBS; i++) {
		jobs[i] = add_job(shop, arena_format(shop->arena, "J%d", i), "P1");
	}
	for (int i = 0; i < GEARS; i++) {
		gears[i] = add_gear(shop);
	}
	for (int step = 0; step < STEPS; step++) {
		int job = rand_r(&seed) % JOBS;
		struct held asked = {.gear = gears[rand_r(&seed) % GEARS], .from = rand_r(&seed) % 10};
		bool clash = false;
		asked.until = asked.from + rand_r(&seed) % 4;
		if (rand_r(&seed) % 4 == 0) {
			unbook(shop, jobs[job]);
			held[job].gear = 0;
			continue;
		}
		for (int i = 0; i < JOBS; i++) {
			clash = clash || (i != job && meet(&held[i], &asked));
		}
		enum outcome outcome = book(shop, jobs[job], press, asked.gear, asked.from, asked.until);
		assert_int_equal(outcome, clash ? OUTCOME_NO : OUTCOME_DONE);
		refused += clash ? 1 : 0;
		kept += clash ? 0 : 1;
		if (!clash) {
			held[job] = asked;
		}
	}
	assert_true(refused > 50 && kept > 50);
	for (int i = 0; i < JOBS; i++) {
		struct kept_promise promise = promise_of(shop, jobs[i]);
		assert_int_equal(promise.id != 0 ? promise.tools[0].tool : 0, held[i].gear);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_promise_keep__tools_and_check__as_they_were_given),
		SHOP_TEST(store_promise_keep__plain_repeat__kept),
		SHOP_TEST(store_promise_keep__tool_of_another_job__refused_by_name_and_time),
		SHOP_TEST(store_promise_keep__again__the_first_ends_by_the_same_entry),
		SHOP_TEST(store_promise_end__held__tools_free_and_promise_on_record),
		SHOP_TEST(store_promises_between__bounds__those_that_hold_and_meet),
		SHOP_TEST(store_savepoint__nested__each_comes_back_to_its_own_point),
		SHOP_TEST(store_savepoint__kept__stays_and_the_chain_holds),
		SHOP_TEST(store_bookings_set_aside__press_and_tool__free_until_back),
		SHOP_TEST(store_press_promises__booked_on_one_of_two__only_there),
		SHOP_TEST(store_press_promises__running__there_or_wherever_it_may),
		SHOP_TEST(store_record_update__job_over__promise_ends_by_that_entry),
		SHOP_TEST(store_undo_change__job_over__promise_holds_again_if_it_can),
		SHOP_TEST(store_undo_promise__book__ends_and_the_one_before_holds_again),
		SHOP_TEST(store_undo_promise__unbook__holds_again_or_refused),
		SHOP_TEST(store_promise_keep__random_sequences__never_two_at_a_time),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
