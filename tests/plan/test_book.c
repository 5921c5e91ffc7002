/* Booking a job: what is promised, what is refused, and which other jobs give way. */
#include "booking.h"

/* ---------------------------------------------------------------- what is promised */

static void plan_book__all_there__promises_each_tool_chosen(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_by_screen(shop, "J1", "95/cm", "105/cm");
	int64_t roll = roll_of_screen(shop, "100/cm");
	struct booked booked = booked_for(shop, "J1", 8, 10);
	struct kept_promise promise = promise_of(shop, job);
	/* Cylinder and gear, roll and blade, die and magnetic cylinder. */
	assert_int_equal(booked.tool_count, 6);
	assert_int_equal(promise.tool_count, 6);
	assert_int_equal(tool_booked(shop, job, "anilox"), roll);
	assert_string_equal(promise.press_code, "P1");
	assert_int_equal(moment_compare(promise.from, hour(8)), 0);
	assert_int_equal(moment_compare(promise.until, hour(10)), 0);
	assert_string_equal(promise.verdict, "ready");
	assert_string_equal(promise.answer, "{\"job\": \"J1\"}");
	assert_string_equal(promise.by, "clerk");
	assert_int_equal(promise.repeat.teeth, 96);
	assert_int_equal(promise.number_around.value, 4);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE word = 'book'"), 1);
}

static void plan_book__short__writes_nothing(void **state)
{
	struct shop *shop = *state;
	struct booked booked;
	job_by_screen(shop, "J1", "95/cm", "105/cm");
	int64_t before = shop_number(shop, "SELECT count(*) FROM ledger");
	assert_int_equal(ask_booking(shop, "J1", 8, 10, &booked), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "");
	assert_false(booked.kept);
	assert_int_equal(booked.check.finding_count, 1);
	assert_string_equal(booked.check.findings[0].need, "anilox");
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), before);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise"), 0);
}

/* 1000 labels, 3 across and 4 around: 84 repeats, 89 with the overs, 27.1272 m at 10 m/min. */
static void plan_book__no_until__by_quantity_and_speed(void **state)
{
	struct shop *shop = *state;
	struct booked booked;
	struct limits limits = default_limits();
	int64_t job = job_by_screen(shop, "J1", "95/cm", "105/cm");
	roll_of_screen(shop, "100/cm");
	assert_int_equal(ask_booking(shop, "J1", 8, 0, &booked), OUTCOME_BAD);
	assert_string_equal(shop->fault.sentence, "until is not known: J1");
	run_sql(shop, "UPDATE press SET speed = %lld WHERE %lld", 10LL * 1000000000, 1);
	booked_for(shop, "J1", 8, 0);
	struct duration took = moment_between(hour(8), promise_of(shop, job).until);
	assert_int_equal(took.s, limits.make_ready.s + 3 * 60);
}

static void plan_book__time_given__becomes_the_jobs_own(void **state)
{
	struct shop *shop = *state;
	struct job job;
	int64_t id = job_by_screen(shop, "J1", "95/cm", "105/cm");
	roll_of_screen(shop, "100/cm");
	assert_int_equal(shop_run(shop, "UPDATE job SET starts = '2026-12-02T03:00:00Z',"
	                                " ends = '2026-12-02T05:00:00Z'"),
	                 SQLITE_OK);
	struct booked booked = booked_for(shop, "J1", 8, 10);
	assert_string_equal(booked.settled, "from 2026-12-02T03:00 until 2026-12-02T05:00");
	assert_int_equal(store_job_read(shop->store, shop->arena, id, &job, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(moment_compare(job.from.value, hour(8)), 0);
	assert_int_equal(moment_compare(job.until.value, hour(10)), 0);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM risk"), 0);
}

/* ---------------------------------------------------------------- what is refused */

static void assert_refused(struct shop *shop, const char *job, int64_t from, int64_t until,
                           enum outcome outcome, const char *sentence)
{
	struct booked booked;
	int64_t before = shop_number(shop, "SELECT count(*) FROM ledger");
	assert_int_equal(ask_booking(shop, job, from, until, &booked), outcome);
	assert_string_equal(shop->fault.sentence, sentence);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), before);
}

static void plan_book__what_cannot_be_promised__one_sentence(void **state)
{
	struct shop *shop = *state;
	job_by_screen(shop, "J1", "95/cm", "105/cm");
	roll_of_screen(shop, "100/cm");
	assert_refused(shop, "J9", 8, 10, OUTCOME_BAD, "job not known: J9");
	assert_refused(shop, "J1", 10, 8, OUTCOME_BAD,
	               "until lies before from: 2026-12-02T08:00, 2026-12-02T10:00");
	assert_refused(shop, "J1", 8, 8, OUTCOME_BAD,
	               "until is from: 2026-12-02T08:00, 2026-12-02T08:00");
	booked_for(shop, "J1", 8, 10);
	assert_refused(shop, "J1", 12, 14, OUTCOME_NO,
	               "job is booked already: J1, on P1 from 2026-12-02T08:00 until 2026-12-02T10:00");
	assert_int_equal(shop_run(shop, "UPDATE job SET state = 'cancelled'"), SQLITE_OK);
	assert_refused(shop, "J1", 8, 10, OUTCOME_NO, "job is cancelled: J1");
	assert_int_equal(shop_run(shop, "UPDATE press SET retired = 1"), SQLITE_OK);
	job_by_screen(shop, "J2", "95/cm", "105/cm");
	assert_refused(shop, "J2", 8, 10, OUTCOME_NO, "press is retired: P1");
}

/* ---------------------------------------------------------------- who gives way */

/* Two rolls would do for J1, only the one that it has for J2. Their times touch. */
static void plan_book__the_other_has_one_as_good__it_moves(void **state)
{
	struct shop *shop = *state;
	int64_t first = job_by_screen(shop, "J1", "95/cm", "115/cm");
	int64_t second = job_by_screen(shop, "J2", "95/cm", "105/cm");
	int64_t a = roll_of_screen(shop, "100/cm"), b = roll_of_screen(shop, "110/cm");
	booked_for(shop, "J1", 8, 10);
	assert_int_equal(tool_booked(shop, first, "anilox"), a);
	struct booked booked = booked_for(shop, "J2", 10, 12);
	assert_int_equal(tool_booked(shop, first, "anilox"), b);
	assert_int_equal(tool_booked(shop, second, "anilox"), a);
	assert_int_equal(booked.move_count, 1);
	assert_string_equal(booked.moves[0].job, "J1");
	assert_string_equal(booked.moves[0].text,
	                    "AN000001-R gives way to AN000002-P at station 1, equally good");
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE word = 'move'"), 1);
	/* What it had holds no more, and is kept. */
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise WHERE ended IS NULL"), 2);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM promise"), 3);
}

/* The other roll is worse for J1: 4.2 against 4 cm3/m2 is 5 % off, 3.7 is 7.5 %. */
static void plan_book__the_other_would_be_worse_off__nothing_moves(void **state)
{
	struct shop *shop = *state;
	struct booked booked;
	int64_t first = job_by_screen(shop, "J1", "95/cm", "115/cm");
	job_by_screen(shop, "J2", "95/cm", "105/cm");
	assert_int_equal(shop_run(shop, "UPDATE station SET volume = 4000000 WHERE id = 1"), SQLITE_OK);
	int64_t a = tool_new(shop, KIND_ANILOX, WORDS("line_screen", "100/cm", "volume", "4.2cm3/m2"));
	tool_new(shop, KIND_ANILOX, WORDS("line_screen", "110/cm", "volume", "3.7cm3/m2"));
	booked_for(shop, "J1", 8, 10);
	int64_t before = shop_number(shop, "SELECT count(*) FROM ledger");
	assert_int_equal(ask_booking(shop, "J2", 10, 12, &booked), OUTCOME_NO);
	assert_int_equal(booked.move_count, 0);
	assert_int_equal(tool_booked(shop, first, "anilox"), a);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), before);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM booking"), 6);
}

static void plan_book__somebody_has_fetched_it__nothing_moves(void **state)
{
	struct shop *shop = *state;
	struct booked booked;
	int64_t first = job_by_screen(shop, "J1", "95/cm", "115/cm");
	job_by_screen(shop, "J2", "95/cm", "105/cm");
	roll_of_screen(shop, "100/cm");
	roll_of_screen(shop, "110/cm");
	booked_for(shop, "J1", 8, 10);
	take_out(shop, first, tool_booked(shop, first, "gear"));
	assert_int_equal(ask_booking(shop, "J2", 10, 12, &booked), OUTCOME_NO);
}

/* Jobs in a row, hour by hour: each could use its roll or the next one. The last needs the first.
 */
static void chain(struct shop *shop, size_t length, int64_t *jobs, int64_t *rolls)
{
	for (size_t i = 0; i <= length; i++) {
		rolls[i] = roll_of_screen(shop, arena_format(shop->arena, "%zu/cm", 100 + 10 * i));
	}
	for (size_t i = 0; i < length; i++) {
		const char *number = arena_format(shop->arena, "J%zu", i + 1);
		jobs[i] = job_by_screen(shop, number, arena_format(shop->arena, "%zu/cm", 95 + 10 * i),
		                        arena_format(shop->arena, "%zu/cm", 115 + 10 * i));
		booked_for(shop, number, (int64_t)(8 + i), (int64_t)(9 + i));
		assert_int_equal(tool_booked(shop, jobs[i], "anilox"), rolls[i]);
	}
	job_by_screen(shop, "J9", "95/cm", "105/cm");
}

static void plan_book__three_in_a_row__all_move(void **state)
{
	struct shop *shop = *state;
	int64_t jobs[3], rolls[4];
	chain(shop, 3, jobs, rolls);
	struct booked booked = booked_for(shop, "J9", 7, 8);
	assert_int_equal(booked.move_count, 3);
	for (size_t i = 0; i < 3; i++) {
		assert_int_equal(tool_booked(shop, jobs[i], "anilox"), rolls[i + 1]);
	}
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM booking"), 24);
}

static void plan_book__four_in_a_row__all_stay(void **state)
{
	struct shop *shop = *state;
	struct booked booked;
	int64_t jobs[4], rolls[5];
	chain(shop, 4, jobs, rolls);
	int64_t before = shop_number(shop, "SELECT count(*) FROM ledger");
	assert_int_equal(ask_booking(shop, "J9", 7, 8, &booked), OUTCOME_NO);
	assert_int_equal(booked.move_count, 0);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), before);
	for (size_t i = 0; i < 4; i++) {
		assert_int_equal(tool_booked(shop, jobs[i], "anilox"), rolls[i]);
	}
}

/* Two stations, each of whose rolls another job has: one alone does not free both. */
static void plan_book__two_others_at_once__both_move(void **state)
{
	struct shop *shop = *state;
	int64_t first = job_by_screen(shop, "J1", "95/cm", "105/cm");
	int64_t second = job_by_screen(shop, "J2", "195/cm", "205/cm");
	job_by_screen(shop, "J3", "99/cm", "101/cm");
	shop_add(shop, KIND_STATION,
	         WORDS("job", "J3", "station", "2", "ink", "Black", "process", "flexo", "register",
	               "yes", "plate", "1.702mm", "base", "0.127mm", "tape", "0.381mm", "plates",
	               "ready", "screen_min", "199/cm", "screen_max", "201/cm"));
	int64_t a = roll_of_screen(shop, "100/cm"), b = roll_of_screen(shop, "103/cm");
	int64_t c = roll_of_screen(shop, "200/cm"), d = roll_of_screen(shop, "203/cm");
	booked_for(shop, "J1", 6, 8);
	booked_for(shop, "J2", 10, 12);
	assert_int_equal(tool_booked(shop, first, "anilox"), a);
	assert_int_equal(tool_booked(shop, second, "anilox"), c);
	struct booked booked = booked_for(shop, "J3", 8, 10);
	assert_int_equal(booked.move_count, 2);
	assert_int_equal(tool_booked(shop, first, "anilox"), b);
	assert_int_equal(tool_booked(shop, second, "anilox"), d);
}

/* ---------------------------------------------------------------- unbook, start, finish */

static void plan_unbook__booked__tools_are_free_again(void **state)
{
	struct shop *shop = *state;
	struct kept_promise promise;
	job_by_screen(shop, "J1", "95/cm", "105/cm");
	job_by_screen(shop, "J2", "95/cm", "105/cm");
	roll_of_screen(shop, "100/cm");
	booked_for(shop, "J1", 8, 10);
	assert_int_equal(plan_unbook(shop->store, shop->arena, "J1", &shop->actor, &promise,
	                             &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(promise.tool_count, 6);
	assert_int_equal(plan_unbook(shop->store, shop->arena, "J1", &shop->actor, &promise,
	                             &shop->fault),
	                 OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job is not booked: J1");
	booked_for(shop, "J2", 10, 12);
}

static enum outcome turn(struct shop *shop, bool start, const char *job, const char *press)
{
	struct job_turned turned;
	const struct limits limits = default_limits();
	fault_clear(&shop->fault);
	return start ? plan_start(shop->store, shop->arena, job, press, &shop->actor, &turned,
	                          &shop->fault)
	             : plan_finish(shop->store, shop->arena,
	                           &(struct finish_request){.job = job,
	                                                    .actor = &shop->actor,
	                                                    .limits = &limits},
	                           &turned, &shop->fault);
}

static void plan_start__what_may_not__one_sentence(void **state)
{
	struct shop *shop = *state;
	job_by_screen(shop, "J1", "95/cm", "105/cm");
	job_by_screen(shop, "J2", "95/cm", "105/cm");
	job_new(shop, "J3", "P1,P2", REPEAT_ORDER);
	assert_int_equal(turn(shop, false, "J1", NULL), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job is not running: J1, planned");
	assert_int_equal(turn(shop, true, "J3", NULL), OUTCOME_BAD);
	assert_string_equal(shop->fault.sentence,
	                    "press is not given, and the job names several: J3, P1,P2");
	assert_int_equal(turn(shop, true, "J1", "P2"), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job is to run on P1: J1, press=P2");
	assert_int_equal(turn(shop, true, "J1", NULL), OUTCOME_DONE);
	assert_int_equal(turn(shop, true, "J1", NULL), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence,
	                    "job is running already: J1, on P1 since 2026-12-01T08:00");
	assert_int_equal(turn(shop, true, "J2", NULL), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "press P1 runs job J1");
	assert_int_equal(turn(shop, false, "J1", NULL), OUTCOME_DONE);
	assert_int_equal(turn(shop, false, "J1", NULL), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job is finished already: J1");
	assert_int_equal(turn(shop, true, "J1", NULL), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job is finished: J1");
	assert_int_equal(shop_run(shop, "UPDATE press SET retired = 1"), SQLITE_OK);
	assert_int_equal(turn(shop, true, "J2", NULL), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "press is retired: P1");
}

static void plan_start__booked__on_the_press_of_the_booking_alone(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_new(shop, "J3", "P1,P2", REPEAT_ORDER);
	booked_for(shop, "J3", 8, 10);
	const char *booked = promise_of(shop, job).press_code;
	const char *other = strcmp(booked, "P1") == 0 ? "P2" : "P1";
	assert_int_equal(turn(shop, true, "J3", other), OUTCOME_NO);
	assert_int_equal(turn(shop, true, "J3", NULL), OUTCOME_DONE);
	struct job_running run;
	assert_int_equal(store_run_of_job(shop->store, shop->arena, job, &run, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(run.press_code, booked);
	/* Its tools are in use: they are not given free while it runs. */
	struct kept_promise promise;
	fault_clear(&shop->fault);
	assert_int_equal(plan_unbook(shop->store, shop->arena, "J3", &shop->actor, &promise,
	                             &shop->fault),
	                 OUTCOME_NO);
	assert_int_equal(turn(shop, false, "J3", NULL), OUTCOME_DONE);
	assert_int_equal(promise_of(shop, job).id, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BOOKING_TEST(plan_book__all_there__promises_each_tool_chosen),
		BOOKING_TEST(plan_book__short__writes_nothing),
		BOOKING_TEST(plan_book__no_until__by_quantity_and_speed),
		BOOKING_TEST(plan_book__time_given__becomes_the_jobs_own),
		BOOKING_TEST(plan_book__what_cannot_be_promised__one_sentence),
		BOOKING_TEST(plan_book__the_other_has_one_as_good__it_moves),
		BOOKING_TEST(plan_book__the_other_would_be_worse_off__nothing_moves),
		BOOKING_TEST(plan_book__somebody_has_fetched_it__nothing_moves),
		BOOKING_TEST(plan_book__three_in_a_row__all_move),
		BOOKING_TEST(plan_book__four_in_a_row__all_stay),
		BOOKING_TEST(plan_book__two_others_at_once__both_move),
		BOOKING_TEST(plan_unbook__booked__tools_are_free_again),
		BOOKING_TEST(plan_start__what_may_not__one_sentence),
		BOOKING_TEST(plan_start__booked__on_the_press_of_the_booking_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
