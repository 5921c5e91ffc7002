/* Promises that something has broken, which entries touch promises, and who hears of a commit. */
#include "promises.h"

/* ---------------------------------------------------------------- risks on record */

static void write_risks(struct shop *shop, int64_t job, const struct risk *risks, size_t count)
{
	begin(shop);
	assert_int_equal(store_risks_write(shop->store, job, risks, count, &shop->fault), OUTCOME_DONE);
	commit(shop);
}

static int64_t count_at(struct shop *shop, struct moment now)
{
	int64_t count;
	assert_int_equal(store_risk_count(shop->store, now, &count, &shop->fault), OUTCOME_DONE);
	return count;
}

static size_t risks_at(struct shop *shop, struct moment now, struct risk **out)
{
	size_t count;
	assert_int_equal(store_risks(shop->store, shop->arena, now, out, &count, &shop->fault),
	                 OUTCOME_DONE);
	return count;
}

static void store_risks__written__read_by_start_of_the_job(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t late = add_job(shop, "J1", "P1"), early = add_job(shop, "J2", "P1");
	struct risk *risks;
	assert_int_equal(book(shop, late, press, gear, 10, 12), OUTCOME_DONE);
	assert_int_equal(book(shop, early, press, gear, 6, 8), OUTCOME_DONE);
	const struct risk of_late[] = {
		{.tool = gear,
	     .need = "gear",
	     .station = 1,
	     .text = "on hold",
	     .since = hour(1),
	     .entry = 3},
		{.need = "press", .text = "press P1 is retired", .since = hour(2)},
		{.need = "job", .cut = 1, .text = "not back by then", .since = hour(5)},
	};
	const struct risk of_early = {.need = "web", .text = "too wide", .since = hour(3)};
	write_risks(shop, late, of_late, 3);
	write_risks(shop, early, &of_early, 1);
	assert_int_equal(risks_at(shop, hour(0), &risks), 0);
	assert_int_equal(count_at(shop, hour(0)), 0);
	assert_int_equal(count_at(shop, hour(1)), 1);
	assert_int_equal(count_at(shop, hour(5)), 2);
	assert_int_equal(risks_at(shop, hour(4), &risks), 3);
	assert_string_equal(risks[0].job_number, "J2");
	assert_string_equal(risks[0].text, "too wide");
	assert_int_equal(risks[0].tool, 0);
	assert_string_equal(risks[1].job_number, "J1");
	assert_true(risks[1].job == late && risks[1].tool == gear && risks[1].station == 1 &&
	            risks[1].cut == 0 && risks[1].entry == 3);
	assert_string_equal(tag_shown(risks[1].tag).bytes, "GR000001-E");
	assert_string_equal(risks[1].need, "gear");
	assert_string_equal(risks[1].press_code, "P1");
	assert_int_equal(moment_compare(risks[1].since, hour(1)), 0);
	assert_int_equal(moment_compare(risks[1].from, hour(10)), 0);
	assert_string_equal(risks[2].need, "press");
	assert_int_equal(risks[2].entry, 0);
}

static void store_risks_write__again__in_place_of_those_before(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	struct risk *risks;
	assert_int_equal(book(shop, job, press, add_gear(shop), 10, 12), OUTCOME_DONE);
	const struct risk two[] = {
		{.need = "press", .text = "a", .since = hour(1)},
		{.need = "web", .text = "b", .since = hour(1)},
	};
	write_risks(shop, job, two, 2);
	write_risks(shop, job, &two[1], 1);
	assert_int_equal(risks_at(shop, hour(2), &risks), 1);
	assert_string_equal(risks[0].text, "b");
	write_risks(shop, job, NULL, 0);
	assert_int_equal(count_at(shop, hour(2)), 0);
}

static void store_risks__promise_ends__gone(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	const struct risk risk = {.need = "press", .text = "a", .since = hour(1)};
	for (int i = 0; i < 3; i++) {
		assert_int_equal(book(shop, job, press, add_gear(shop), 10, 12), OUTCOME_DONE);
		assert_int_equal(count_at(shop, hour(2)), 0); /* that of the one before is gone */
		write_risks(shop, job, &risk, 1);
		assert_int_equal(count_at(shop, hour(2)), 1);
	}
	unbook(shop, job);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM risk"), 0);
	/* One of a promise that does not hold is not counted, however it came there. */
	assert_int_equal(shop_run(shop, "INSERT INTO risk (job, number, need, text, since)"
	                                " VALUES (1, 1, 'press', 'a', 0)"),
	                 SQLITE_OK);
	assert_int_equal(count_at(shop, hour(2)), 0);
}

/* ---------------------------------------------------------------- which are touched */

/* Two presses; J1 on P1 with the first gear, J2 on P2 with the second, J3 on P1 later with it too.
 */
struct stage {
	int64_t one, two;
	int64_t first, second, spare;
	int64_t j1, j2, j3;
	int64_t since; /* the last entry before what a test does */
};

static struct stage set_stage(struct shop *shop)
{
	struct stage stage = {.one = add_press(shop, "P1"), .two = add_press(shop, "P2")};
	stage.first = add_gear(shop);
	stage.second = add_gear(shop);
	stage.spare = add_gear(shop);
	stage.j1 = add_job(shop, "J1", "P1");
	stage.j2 = add_job(shop, "J2", "P2");
	stage.j3 = add_job(shop, "J3", "P1");
	assert_int_equal(book(shop, stage.j1, stage.one, stage.first, 8, 10), OUTCOME_DONE);
	assert_int_equal(book(shop, stage.j2, stage.two, stage.second, 8, 10), OUTCOME_DONE);
	assert_int_equal(book(shop, stage.j3, stage.one, stage.second, 12, 14), OUTCOME_DONE);
	stage.since = store_last_entry(shop->store);
	return stage;
}

/* "J1 J3": the jobs whose promises the entries since have touched; then counts from here. */
static const char *touched(struct shop *shop, struct stage *stage)
{
	int64_t *jobs;
	size_t count;
	struct text numbers = text_start(shop->arena);
	assert_int_equal(store_promises_touched(shop->store, shop->arena, stage->since, &jobs, &count,
	                                        &shop->fault),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < count; i++) {
		struct job job;
		assert_true(i == 0 || jobs[i] > jobs[i - 1]);
		assert_int_equal(store_job_read(shop->store, shop->arena, jobs[i], &job, &shop->fault),
		                 OUTCOME_DONE);
		text_join(&numbers, " ", job.number);
	}
	stage->since = store_last_entry(shop->store);
	return numbers.bytes;
}

static void hold_record(struct shop *shop, enum kind_id kind, int64_t id)
{
	begin(shop);
	assert_int_equal(store_condition_set(shop->store, &kinds[kind], id, "hold", "worn",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static int64_t place_of(struct shop *shop, const char *code)
{
	struct found found;
	assert_int_equal(store_find(shop->store, code, REFER_PLACE, &found, &shop->fault),
	                 OUTCOME_DONE);
	return found.id;
}

static void put_tool(struct shop *shop, int64_t tool, const char *place)
{
	const struct movement movement = {.tool = tool,
	                                  .to = place_of(shop, place),
	                                  .word = "put",
	                                  .happened = shop->actor.now};
	begin(shop);
	assert_int_equal(store_tool_move(shop->store, &movement, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static void store_promises_touched__tools__those_promised_alone(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	assert_string_equal(touched(shop, &stage), "");
	hold_record(shop, KIND_GEAR, stage.first);
	assert_string_equal(touched(shop, &stage), "J1");
	hold_record(shop, KIND_GEAR, stage.spare);
	assert_string_equal(touched(shop, &stage), "");
	correct(shop, KIND_GEAR, stage.second, "name", "wide");
	assert_string_equal(touched(shop, &stage), "J2 J3");
	put_tool(shop, stage.first, "P2-1");
	put_tool(shop, stage.spare, "P2-2");
	assert_string_equal(touched(shop, &stage), "J1");
	begin(shop);
	assert_int_equal(store_care_add(shop->store, &kinds[KIND_GEAR], stage.first, "dirty",
	                                &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_string_equal(touched(shop, &stage), "J1");
}

static void store_promises_touched__reading__that_of_its_roll(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	struct record *roll = shop_add(shop, KIND_ANILOX, WORDS("line_screen", "200/cm"));
	int64_t job = add_job(shop, "J4", "P2");
	assert_int_equal(book(shop, job, stage.two, roll->id, 20, 21), OUTCOME_DONE);
	stage.since = store_last_entry(shop->store);
	shop_add(shop, KIND_READING,
	         WORDS("tool", record_words(roll, "tag"), "moment", "2026-11-01", "volume", "2cm3/m2"));
	assert_string_equal(touched(shop, &stage), "J4");
}

static void store_promises_touched__places_and_presses__what_is_promised_or_stands_there(
	void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	stage.since = store_last_entry(shop->store);
	hold_record(shop, KIND_PLACE, place_of(shop, "P2-1"));
	assert_string_equal(touched(shop, &stage), "J2");
	hold_record(shop, KIND_PLACE, place_of(shop, "R1"));
	assert_string_equal(touched(shop, &stage), "");
	put_tool(shop, stage.first, "R1");
	touched(shop, &stage);
	correct(shop, KIND_PLACE, place_of(shop, "R1"), "sort", "lost");
	assert_string_equal(touched(shop, &stage), "J1");
	correct(shop, KIND_PRESS, stage.one, "name", "the old one");
	assert_string_equal(touched(shop, &stage), "J1 J3");
	put_tool(shop, stage.first, "P2-1");
	touched(shop, &stage);
	correct(shop, KIND_PRESS, stage.two, "name", "the new one");
	assert_string_equal(touched(shop, &stage), "J1 J2");
}

static void store_promises_touched__job_and_its_rows__its_own(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t free = add_job(shop, "J5", "P1");
	assert_string_equal(touched(shop, &stage), "");
	correct(shop, KIND_JOB, free, "until", "2026-12-04");
	assert_string_equal(touched(shop, &stage), "");
	correct(shop, KIND_JOB, stage.j1, "title", "labels");
	assert_string_equal(touched(shop, &stage), "J1");
	/* It shares the second gear. */
	correct(shop, KIND_JOB, stage.j2, "until", "2026-12-04");
	assert_string_equal(touched(shop, &stage), "J2 J3");
	struct record *row =
		shop_add(shop, KIND_STATION,
	             WORDS("job", "J3", "station", "1", "process", "flexo", "register", "yes"));
	assert_string_equal(touched(shop, &stage), "J3");
	correct(shop, KIND_STATION, row->id, "ink", "cyan");
	assert_string_equal(touched(shop, &stage), "J3");
	struct record *read;
	assert_int_equal(store_record_read(shop->store, shop->arena, row->kind, row->id, &read,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	begin(shop);
	assert_int_equal(store_job_row_remove(shop->store, shop->arena, read, &shop->actor,
	                                      &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_string_equal(touched(shop, &stage), "J3");
	shop_add(shop, KIND_CUT, WORDS("job", "J1", "cut", "1", "kind", "kiss"));
	assert_string_equal(touched(shop, &stage), "J1");
	shop_add(shop, KIND_OPERATOR, WORDS("badge", "7", "name", "Ada", "role", "planner"));
	assert_string_equal(touched(shop, &stage), "");
}

static void store_promises_touched__starts_and_ends__those_that_share_tools_or_press(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t late = add_job(shop, "J5", "P2");
	touched(shop, &stage);
	start(shop, stage.j1, stage.one);
	assert_string_equal(touched(shop, &stage), "J1 J3");
	correct(shop, KIND_JOB, stage.j1, "until", "2026-12-04");
	assert_string_equal(touched(shop, &stage), "J1 J3");
	finish(shop, stage.j1);
	assert_string_equal(touched(shop, &stage), "J3");
	/* Its promise is over; the tool that it had is promised to another too. */
	finish(shop, stage.j2);
	assert_string_equal(touched(shop, &stage), "J3");
	correct(shop, KIND_JOB, stage.j2, "state", "planned");
	assert_string_equal(touched(shop, &stage), "");
	/* Where it runs is not told: on each press that it may run on. */
	assert_int_equal(book(shop, stage.j2, stage.two, stage.first, 8, 10), OUTCOME_DONE);
	touched(shop, &stage);
	correct(shop, KIND_JOB, late, "state", "running");
	assert_string_equal(touched(shop, &stage), "J2 J3");
	correct(shop, KIND_JOB, late, "until", "2026-12-04");
	assert_string_equal(touched(shop, &stage), "J2");
	correct(shop, KIND_JOB, late, "state", "cancelled");
	assert_string_equal(touched(shop, &stage), "J2 J3");
	shop_add(shop, KIND_JOB, WORDS("number", "J6", "press", "P2", "state", "running"));
	assert_string_equal(touched(shop, &stage), "J2");
}

/* A tool that ran though it was not booked for the job; taken back, nothing tells of it. */
static void store_promises_touched__tools_that_ran__those_promised_to_others(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t three = add_press(shop, "P3"), job = add_job(shop, "J5", "P3");
	const struct run_end end = {.length = {true, length_from_nm(1000)}, .by = "given"};
	start(shop, job, three);
	assert_string_equal(touched(shop, &stage), "");
	begin(shop);
	assert_int_equal(store_job_finish(shop->store, shop->arena, job, &end, &shop->actor,
	                                  &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_run_reaches(shop->store, job, end.length.value, end.by, &stage.first, 1,
	                                   &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_string_equal(touched(shop, &stage), "J1");
	assert_int_equal(take_back(shop, true), OUTCOME_DONE);
	assert_string_equal(touched(shop, &stage), "J1 J2 J3");
}

/* Which presses it may have run on is told no more: all that hold. */
static void store_promises_touched__runs_by_its_state_alone__where_it_was_too(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t other = add_job(shop, "J5", "P2");
	correct(shop, KIND_JOB, other, "press", "P1");
	correct(shop, KIND_JOB, other, "press", "P2");
	assert_string_equal(touched(shop, &stage), "");
	correct(shop, KIND_JOB, other, "state", "running");
	touched(shop, &stage);
	correct(shop, KIND_JOB, other, "press", "P1");
	assert_string_equal(touched(shop, &stage), "J1 J2 J3");
	correct(shop, KIND_JOB, other, "title", "labels");
	assert_string_equal(touched(shop, &stage), "J1 J3");
	correct(shop, KIND_JOB, other, "state", "planned");
	correct(shop, KIND_JOB, other, "press", "P2");
	assert_string_equal(touched(shop, &stage), "J1 J2 J3");
}

/* What another job has out, or stands at a press where something else is to run now. */
static void store_promises_touched__out_for_a_job_or_at_its_press__those_too(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t other = add_job(shop, "J5", "P2");
	begin(shop);
	assert_int_equal(store_tool_take(shop->store, stage.first, other, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	touched(shop, &stage);
	correct(shop, KIND_JOB, other, "until", "2026-12-04");
	assert_string_equal(touched(shop, &stage), "J1");
	put_tool(shop, stage.first, "P2-1");
	touched(shop, &stage);
	start(shop, other, stage.two);
	assert_string_equal(touched(shop, &stage), "J1 J2");
	finish(shop, other);
	assert_string_equal(touched(shop, &stage), "J1 J2");
	unbook(shop, stage.j2);
	assert_string_equal(touched(shop, &stage), "J1 J3");
}

static void store_promises_touched__limit__all_that_hold(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	unbook(shop, stage.j2);
	touched(shop, &stage);
	begin(shop);
	assert_int_equal(store_setting_write(shop->store, setting_find("turnaround"), "2h",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_string_equal(touched(shop, &stage), "J1 J3");
}

/* ---------------------------------------------------------------- who hears of a commit */

struct heard {
	int calls;
	int64_t entry;
	struct moment now;
	int64_t job;          /* whose risk it writes */
	enum outcome outcome; /* what it answers */
};

static enum outcome hear(struct store *store, int64_t entry, struct moment now, void *context,
                         struct fault *fault)
{
	struct heard *heard = context;
	const struct risk risk = {.need = "press", .text = "a", .since = now, .entry = entry + 1};
	heard->calls++;
	heard->entry = entry;
	heard->now = now;
	if (heard->outcome != OUTCOME_DONE) {
		return fault_set(fault, heard->outcome, "not now");
	}
	return store_risks_write(store, heard->job, &risk, 1, fault);
}

static void store_watch_commits__entries_while_promised__called_once(void **state)
{
	struct shop *shop = *state;
	struct heard heard = {.calls = 0};
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t gear = add_gear(shop);
	heard.job = job;
	store_watch_commits(shop->store, hear, &heard);
	hold_record(shop, KIND_GEAR, gear);
	assert_int_equal(heard.calls, 0); /* nothing is promised */
	int64_t before = store_last_entry(shop->store);
	assert_int_equal(book(shop, job, press, gear, 8, 10), OUTCOME_DONE);
	assert_int_equal(heard.calls, 1);
	assert_int_equal(heard.entry, before);
	assert_int_equal(moment_compare(heard.now, shop->actor.now), 0);
	assert_int_equal(count_at(shop, shop->actor.now), 1);
	write_risks(shop, job, NULL, 0); /* without an entry */
	assert_int_equal(heard.calls, 1);
	begin(shop);
	commit(shop);
	assert_int_equal(heard.calls, 1);
	unbook(shop, job);
	assert_int_equal(heard.calls, 1);
	assert_int_equal(book(shop, job, press, gear, 8, 10), OUTCOME_DONE);
	store_watch_commits(shop->store, NULL, NULL);
	hold_record(shop, KIND_GEAR, gear);
	assert_int_equal(heard.calls, 2);
}

static void store_watch_commits__entries_taken_back_within__not_called(void **state)
{
	struct shop *shop = *state;
	struct heard heard = {.calls = 0};
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1"), gear = add_gear(shop);
	heard.job = job;
	assert_int_equal(book(shop, job, press, gear, 8, 10), OUTCOME_DONE);
	int64_t before = store_last_entry(shop->store);
	store_watch_commits(shop->store, hear, &heard);
	begin(shop);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, job, press, gear, 9, 11), OUTCOME_DONE);
	assert_int_equal(store_savepoint_back(shop->store, &shop->fault), OUTCOME_DONE);
	commit(shop);
	assert_int_equal(heard.calls, 0);
	begin(shop);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, job, press, gear, 9, 11), OUTCOME_DONE);
	assert_int_equal(store_savepoint(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(keep(shop, job, press, gear, 10, 11), OUTCOME_DONE);
	assert_int_equal(store_savepoint_back(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_savepoint_keep(shop->store, &shop->fault), OUTCOME_DONE);
	commit(shop);
	assert_int_equal(heard.calls, 1);
	assert_int_equal(heard.entry, before);
	assert_int_equal(store_last_entry(shop->store), before + 1);
}

static void store_watch_commits__refused__commit_refused_and_left_open(void **state)
{
	struct shop *shop = *state;
	struct heard heard = {.calls = 0};
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1"), gear = add_gear(shop);
	heard.job = job;
	assert_int_equal(book(shop, job, press, gear, 8, 10), OUTCOME_DONE);
	int64_t before = store_last_entry(shop->store);
	store_watch_commits(shop->store, hear, &heard);
	heard.outcome = OUTCOME_NO;
	begin(shop);
	assert_int_equal(keep(shop, job, press, gear, 9, 11), OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence, "not now");
	assert_true(store_in_transaction(shop->store));
	store_rollback(shop->store);
	assert_false(store_in_transaction(shop->store));
	assert_int_equal(store_last_entry(shop->store), before);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_risks__written__read_by_start_of_the_job),
		SHOP_TEST(store_risks_write__again__in_place_of_those_before),
		SHOP_TEST(store_risks__promise_ends__gone),
		SHOP_TEST(store_promises_touched__tools__those_promised_alone),
		SHOP_TEST(store_promises_touched__reading__that_of_its_roll),
		SHOP_TEST(store_promises_touched__places_and_presses__what_is_promised_or_stands_there),
		SHOP_TEST(store_promises_touched__job_and_its_rows__its_own),
		SHOP_TEST(store_promises_touched__starts_and_ends__those_that_share_tools_or_press),
		SHOP_TEST(store_promises_touched__tools_that_ran__those_promised_to_others),
		SHOP_TEST(store_promises_touched__runs_by_its_state_alone__where_it_was_too),
		SHOP_TEST(store_promises_touched__out_for_a_job_or_at_its_press__those_too),
		SHOP_TEST(store_promises_touched__limit__all_that_hold),
		SHOP_TEST(store_watch_commits__entries_while_promised__called_once),
		SHOP_TEST(store_watch_commits__entries_taken_back_within__not_called),
		SHOP_TEST(store_watch_commits__refused__commit_refused_and_left_open),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
