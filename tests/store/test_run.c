/* Jobs that run: started on a press, finished, told, taken back; and the jobs ahead. */
#include "promises.h"

static struct job_running run_of(struct shop *shop, int64_t job)
{
	struct job_running run;
	assert_int_equal(store_run_of_job(shop->store, shop->arena, job, &run, &shop->fault),
	                 OUTCOME_DONE);
	return run;
}

static struct job_running run_on(struct shop *shop, int64_t press)
{
	struct job_running run;
	assert_int_equal(store_run_on_press(shop->store, shop->arena, press, &run, &shop->fault),
	                 OUTCOME_DONE);
	return run;
}

static const char *state_of(struct shop *shop, int64_t job)
{
	struct job read;
	assert_int_equal(store_job_read(shop->store, shop->arena, job, &read, &shop->fault),
	                 OUTCOME_DONE);
	return read.state;
}

static void store_job_start__planned__runs_there_by_an_entry(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	int64_t job =
		shop_add(shop, KIND_JOB, WORDS("number", "J1", "press", "P1", "until", "2026-12-05"))->id;
	assert_int_equal(run_of(shop, job).job, 0);
	assert_int_equal(run_on(shop, press).job, 0);
	start(shop, job, press);
	assert_string_equal(last_word(shop), "start on P1");
	assert_string_equal(state_of(shop, job), "running");
	struct job_running run = run_of(shop, job);
	assert_true(run.job == job && run.press == press);
	assert_string_equal(run.number, "J1");
	assert_string_equal(run.press_code, "P1");
	assert_int_equal(moment_compare(run.started.value, shop->actor.now), 0);
	assert_true(run.until.known && run.until.value.date);
	assert_int_equal(run_on(shop, press).job, job);
}

static void store_job_start__press_runs_another__refused_by_name(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	int64_t one = add_job(shop, "J1", "P1"), two = add_job(shop, "J2", "P1");
	start(shop, one, press);
	int64_t entries = store_last_entry(shop->store);
	begin(shop);
	assert_int_equal(store_job_start(shop->store, shop->arena, two, press, &shop->actor,
	                                 &shop->fault),
	                 OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job J1 runs on press P1");
	assert_string_equal(shop->fault.hint, "Type finish J1 first.");
	store_rollback(shop->store);
	assert_int_equal(store_last_entry(shop->store), entries);
	assert_string_equal(state_of(shop, two), "planned");
}

static void store_job_finish__booked__press_and_tools_free(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	assert_int_equal(book(shop, job, press, add_gear(shop), 8, 12), OUTCOME_DONE);
	start(shop, job, press);
	assert_int_not_equal(promise_of(shop, job).id, 0);
	finish(shop, job);
	assert_string_equal(last_word(shop), "finish on P1");
	assert_string_equal(state_of(shop, job), "finished");
	assert_int_equal(run_on(shop, press).job, 0);
	assert_int_equal(promise_of(shop, job).id, 0);
	assert_int_equal(bookings(shop), 0);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM job_run r JOIN promise p"
	                                   " ON p.ended = r.finish_entry WHERE r.finish_entry ="
	                                   " (SELECT max(number) FROM ledger)"),
	                 1);
}

static void store_job_finish__running_by_edit__press_not_told(void **state)
{
	struct shop *shop = *state;
	add_press(shop, "P1");
	int64_t job = add_job(shop, "J1", "P1");
	correct(shop, KIND_JOB, job, "state", "running");
	struct job_running run = run_of(shop, job);
	assert_true(run.job == job && run.press == 0 && !run.started.known);
	assert_null(run.press_code);
	finish(shop, job);
	assert_string_equal(last_word(shop), "finish ");
	assert_int_equal(run_of(shop, job).job, 0);
}

static void store_runs__several__by_number(void **state)
{
	struct shop *shop = *state;
	int64_t one = add_press(shop, "P1"), two = add_press(shop, "P2");
	struct job_running *runs;
	size_t count;
	start(shop, add_job(shop, "J3", "P1"), one);
	start(shop, add_job(shop, "J1", "P2"), two);
	correct(shop, KIND_JOB, add_job(shop, "J2", "P2"), "state", "running");
	add_job(shop, "J4", "P1");
	assert_int_equal(store_runs(shop->store, shop->arena, &runs, &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 3);
	assert_string_equal(runs[0].number, "J1");
	assert_string_equal(runs[0].press_code, "P2");
	assert_string_equal(runs[1].number, "J2");
	assert_int_equal(runs[1].press, 0);
	assert_string_equal(runs[2].number, "J3");
}

static void store_record_update__running_no_more__run_ends_and_comes_back(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	struct undo_entry entry;
	struct record *record;
	start(shop, job, press);
	correct(shop, KIND_JOB, job, "state", "planned");
	assert_int_equal(run_on(shop, press).job, 0);
	begin(shop);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_read(shop->store, shop->arena, &entry, &record, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_change(shop->store, shop->arena, &entry, record, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_int_equal(run_on(shop, press).job, job);
}

static void store_undo_run__start_and_finish__as_it_stood(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	assert_int_equal(book(shop, job, press, add_gear(shop), 8, 12), OUTCOME_DONE);
	start(shop, job, press);
	finish(shop, job);
	assert_int_equal(take_back(shop, true), OUTCOME_DONE);
	assert_string_equal(last_word(shop), "undo finish: on P1");
	assert_string_equal(state_of(shop, job), "running");
	assert_int_equal(run_on(shop, press).job, job);
	assert_int_equal(bookings(shop), 1);
	assert_int_equal(take_back(shop, true), OUTCOME_DONE);
	assert_string_equal(state_of(shop, job), "planned");
	assert_int_equal(run_on(shop, press).job, 0);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM job_run"), 0);
	assert_int_equal(bookings(shop), 1);
}

static void store_undo_run__finish_and_another_runs_there__refused(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1");
	int64_t job = add_job(shop, "J1", "P1"), other = add_job(shop, "J2", "P1");
	struct actor clerk = shop->actor;
	start(shop, job, press);
	finish(shop, job);
	shop->actor.terminal = "pts/4";
	start(shop, other, press);
	shop->actor = clerk;
	assert_int_equal(take_back(shop, true), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "job J2 runs on press P1");
	assert_string_equal(state_of(shop, job), "finished");
}

/* ---------------------------------------------------------------- ahead */

static const char *numbers_ahead(struct shop *shop, int64_t from, int64_t until)
{
	struct job_ahead *jobs;
	size_t count;
	struct text numbers = text_start(shop->arena);
	assert_int_equal(store_jobs_ahead(shop->store, shop->arena, hour(from), hour(until), &jobs,
	                                  &count, &shop->fault),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < count; i++) {
		assert_string_equal(jobs[i].state, "planned");
		text_join(&numbers, " ", jobs[i].number);
	}
	return numbers.bytes;
}

static void store_jobs_ahead__times__those_that_meet_and_those_without(void **state)
{
	struct shop *shop = *state;
	static const char *const jobs[][3] = {
		{"J9", "", ""},
		{"J1", "2026-12-02T12:00:00Z", "2026-12-02T14:00:00Z"},
		{"J2", "2026-12-02T06:00:00Z", "2026-12-02T08:00:00Z"},
		{"J3", "2026-12-02T06:00:00Z", "2026-12-02T07:59:00Z"},
		{"J4", "2026-12-02T16:00:00Z", "2026-12-02T18:00:00Z"},
		{"J5", "2026-12-02T10:00:00Z", ""},
		{"J6", "", "2026-12-02T09:00:00Z"},
		{"J7", "2026-12-02T10:00:00Z", "2026-12-02T10:00:00Z"},
	};
	int64_t press = add_press(shop, "P1"), ids[COUNT_OF(jobs)];
	for (size_t i = 0; i < COUNT_OF(jobs); i++) {
		ids[i] = shop_add(shop, KIND_JOB,
		                  WORDS("number", jobs[i][0], "press", "P1", "from", jobs[i][1], "until",
		                        jobs[i][2]))
		             ->id;
	}
	assert_string_equal(numbers_ahead(shop, 8, 16), "J2 J5 J7 J1 J6 J9");
	/* By its promise too; what runs, or is over, is not ahead. */
	assert_int_equal(book(shop, ids[4], press, add_gear(shop), 15, 17), OUTCOME_DONE);
	correct(shop, KIND_JOB, ids[5], "state", "running");
	correct(shop, KIND_JOB, ids[6], "state", "cancelled");
	assert_string_equal(numbers_ahead(shop, 8, 16), "J2 J7 J1 J4 J9");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_job_start__planned__runs_there_by_an_entry),
		SHOP_TEST(store_job_start__press_runs_another__refused_by_name),
		SHOP_TEST(store_job_finish__booked__press_and_tools_free),
		SHOP_TEST(store_job_finish__running_by_edit__press_not_told),
		SHOP_TEST(store_runs__several__by_number),
		SHOP_TEST(store_record_update__running_no_more__run_ends_and_comes_back),
		SHOP_TEST(store_undo_run__start_and_finish__as_it_stood),
		SHOP_TEST(store_undo_run__finish_and_another_runs_there__refused),
		SHOP_TEST(store_jobs_ahead__times__those_that_meet_and_those_without),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
