/* Which job stands where on the board of a week, and how its time and its verdict are said. */
#include <time.h>

#include "gathering.h"

#define JOBS_MOST 40

/* A week as the joint choice could leave it. */
struct week {
	struct shop *shop;
	struct limits limits;
	struct ahead ahead;
	struct ahead_job jobs[JOBS_MOST];
	struct board board;
};

static struct moment at(const char *text)
{
	struct moment moment;
	assert_int_equal(moment_parse(text, &moment, NULL), OUTCOME_DONE);
	return moment;
}

static void place_is(const char *zone)
{
	setenv("TZ", zone, 1);
	tzset();
}

static struct week *week_of(struct shop *shop, const char *within)
{
	struct week *week = arena_take(shop->arena, 1, sizeof *week);
	week->shop = shop;
	week->limits = default_limits();
	week->ahead.from = at(within);
	week->ahead.jobs = week->jobs;
	return week;
}

/* NULL: not known. */
static struct ahead_job *add(struct week *week, const char *number, const char *press,
                             const char *from, const char *until)
{
	struct ahead_job *job = &week->jobs[week->ahead.job_count++];
	assert_true(week->ahead.job_count <= JOBS_MOST);
	*job = (struct ahead_job){.job = number,
	                          .title = number,
	                          .state = "planned",
	                          .press = press,
	                          .verdict_known = true,
	                          .verdict = press != NULL ? VERDICT_READY : VERDICT_SHORT};
	job->from.known = from != NULL;
	job->until.known = until != NULL;
	if (from != NULL) {
		job->from.value = at(from);
	}
	if (until != NULL) {
		job->until.value = at(until);
	}
	return job;
}

/* `J1 06:00-11:40; J2 from 12:00 >`, one field. `<` goes on from before, `>` on the day after. */
static const char *field_said(struct arena *arena, const struct board_field *field)
{
	struct text said = text_start(arena);
	for (size_t i = 0; i < field->count; i++) {
		const struct board_entry *entry = &field->entries[i];
		text_join(&said, "; ",
		          arena_format(arena, "%s%s %s%s", entry->before ? "< " : "", entry->job->job,
		                       entry->time, entry->after ? " >" : ""));
	}
	return said.bytes;
}

static void make(struct week *week)
{
	assert_int_equal(plan_board(week->shop->store, week->shop->arena, &week->ahead, &week->limits,
	                            &week->board, &week->shop->fault),
	                 OUTCOME_DONE);
}

static const struct board_row *row_of(const struct week *week, const char *press)
{
	for (size_t i = 0; i < week->board.row_count; i++) {
		const char *code = week->board.rows[i].press;
		if ((code == NULL && press == NULL) ||
		    (code != NULL && press != NULL && strcmp(code, press) == 0)) {
			return &week->board.rows[i];
		}
	}
	fail_msg("no row of %s", press != NULL ? press : "what is not placed");
	return NULL;
}

static void assert_row(const struct week *week, const char *press,
                       const char *const wanted[BOARD_DAYS])
{
	const struct board_row *row = row_of(week, press);
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		assert_string_equal(field_said(week->shop->arena, &row->days[i]), wanted[i]);
	}
}

/* ---------------------------------------------------------------- days */

static void plan_board__any_day_of_the_week__monday_to_sunday(void **state)
{
	place_is("Europe/Berlin");
	struct week *week = week_of(*state, "2026-12-03T09:00");
	make(week);
	assert_string_equal(week->board.week, "2026-W49");
	assert_string_equal(week->board.days[0].name, "Mon 30 Nov");
	assert_string_equal(week->board.days[1].name, "Tue 1 Dec");
	assert_string_equal(week->board.days[6].name, "Sun 6 Dec");
	assert_int_equal(moment_compare(week->board.days[6].until, at("2026-12-07T00:00")), 0);
	assert_int_equal(week->board.row_count, 2);
	assert_string_equal(week->board.rows[0].press, "P1");
	assert_string_equal(week->board.rows[1].press, "P2");
	assert_int_equal(week->board.jobs, 0);
}

static void plan_board__midnight__belongs_to_the_day_it_begins(void **state)
{
	place_is("Europe/Berlin");
	struct week *week = week_of(*state, "2026-11-30");
	add(week, "J1", "P1", "2026-11-29T20:00", "2026-11-30T00:00"); /* of the week before */
	add(week, "J2", "P1", "2026-11-30T18:00", "2026-12-01T00:00");
	add(week, "J3", "P1", "2026-12-01T00:00", "2026-12-01T06:00");
	add(week, "J4", "P1", "2026-12-01T22:00", "2026-12-02T02:00");
	add(week, "J5", "P1", "2026-12-03", "2026-12-03"); /* the whole of that day */
	add(week, "J6", "P1", "2026-12-04T00:00", NULL);
	add(week, "J7", "P1", "2026-12-05T07:05", NULL);
	add(week, "J8", "P1", "2026-12-06T20:00", "2026-12-07T00:00");
	add(week, "J9", "P1", "2026-12-07T00:00", "2026-12-07T06:00"); /* of the week after */
	make(week);
	assert_row(week, "P1",
	           (const char *const[BOARD_DAYS]){"J2 from 18:00", "J3 00:00-06:00; J4 from 22:00 >",
	                                           "< J4 until 02:00", "J5 all day", "J6 00:00",
	                                           "J7 07:05", "J8 from 20:00"});
	assert_int_equal(week->board.jobs, 7);
	assert_int_equal(week->board.can_run, 7);
}

static void plan_board__several_days__goes_on(void **state)
{
	place_is("Europe/Berlin");
	struct week *week = week_of(*state, "2026-11-30");
	add(week, "J1", "P1", "2026-11-27T10:00", "2026-12-01T08:30");
	add(week, "J2", "P1", "2026-12-01T09:00:20", "2026-12-03T12:00:59");
	add(week, "J3", "P2", "2026-11-20T09:00", "2026-12-20T09:00");
	add(week, "J4", "P1", "2026-12-06T09:00", "2026-12-08T09:00");
	make(week);
	assert_row(week, "P1",
	           (const char *const[BOARD_DAYS]){"< J1 all day >",
	                                           "< J1 until 08:30; J2 from 09:00 >",
	                                           "< J2 all day >", "< J2 until 12:00", "", "",
	                                           "J4 from 09:00 >"});
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		assert_string_equal(field_said(week->shop->arena, &row_of(week, "P2")->days[i]),
		                    "< J3 all day >");
	}
	assert_int_equal(week->board.jobs, 4);
}

/* Clocks of Berlin: back on 2026-10-25, forward on 2026-03-29 (directive 2000/84/EC). */
static void plan_board__clocks_change__as_they_show(void **state)
{
	place_is("Europe/Berlin");
	struct week *week = week_of(*state, "2026-10-25T12:00");
	add(week, "J1", "P1", "2026-10-25T02:30", "2026-10-25T02:30+01:00");
	add(week, "J2", "P1", "2026-10-25T02:45+01:00", "2026-10-25T23:30");
	add(week, "J3", "P1", "2026-10-25T23:30", "2026-10-26T00:00");
	make(week);
	assert_string_equal(week->board.days[6].name, "Sun 25 Oct");
	assert_string_equal(field_said(week->shop->arena, &row_of(week, "P1")->days[6]),
	                    "J1 02:30-02:30+01:00; J2 02:45+01:00-23:30; J3 from 23:30");
	week = week_of(*state, "2026-03-29");
	add(week, "J1", "P1", "2026-03-29T01:30", "2026-03-29T03:30");
	add(week, "J2", "P1", "2026-03-29T00:00", "2026-03-30T00:00");
	make(week);
	assert_string_equal(field_said(week->shop->arena, &row_of(week, "P1")->days[6]),
	                    "J1 01:30-03:30; J2 all day");
}

static void plan_board__closed_days__marked(void **state)
{
	place_is("Europe/Berlin");
	struct week *week = week_of(*state, "2026-11-30");
	struct calendar *calendar = &week->limits.calendar;
	assert_int_equal(calendar_shifts_parse("mon-thu 22:00-06:00, sat 06:00-14:00", calendar, NULL),
	                 OUTCOME_DONE);
	assert_int_equal(calendar_closed_parse("2026-12-01..2026-12-02", calendar, NULL), OUTCOME_DONE);
	add(week, "J1", "P1", "2026-11-30T23:00", "2026-12-05T09:00");
	add(week, "J2", "P2", "2026-12-02T08:00", "2026-12-02T10:00");
	make(week);
	/* A shift belongs to the day it begins on: that of Monday works into the closed Tuesday, that
	   of Thursday into Friday. */
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		assert_int_equal(week->board.days[i].closed, i == 2 || i == 6);
	}
	assert_string_equal(field_said(week->shop->arena, &row_of(week, "P1")->days[2]),
	                    "< J1 closed >");
	assert_string_equal(field_said(week->shop->arena, &row_of(week, "P1")->days[3]),
	                    "< J1 all day >");
	assert_string_equal(field_said(week->shop->arena, &row_of(week, "P2")->days[2]),
	                    "J2 08:00-10:00");
	week->limits = default_limits();
	make(week);
	assert_false(week->board.days[6].closed);
}

static void plan_board__many_jobs_a_day__all_of_them_in_order(void **state)
{
	place_is("Europe/Berlin");
	struct shop *shop = *state;
	struct week *week = week_of(shop, "2026-11-30");
	struct text wanted = text_start(shop->arena);
	for (int i = 0; i < 23; i++) {
		const char *number = arena_format(shop->arena, "J%d", i);
		const char *from = arena_format(shop->arena, "%02d:00", i);
		const char *until = arena_format(shop->arena, "%02d:30", i);
		add(week, number, "P2", arena_format(shop->arena, "2026-12-01T%s", from),
		    arena_format(shop->arena, "2026-12-01T%s", until));
		text_join(&wanted, "; ", arena_format(shop->arena, "%s %s-%s", number, from, until));
	}
	make(week);
	assert_string_equal(field_said(shop->arena, &row_of(week, "P2")->days[1]), wanted.bytes);
	assert_int_equal(row_of(week, "P2")->count, 23);
	assert_int_equal(row_of(week, "P1")->count, 0);
}

/* ---------------------------------------------------------------- rows */

static void plan_board__no_press__where_it_was_asked_for(void **state)
{
	place_is("Europe/Berlin");
	struct shop *shop = *state;
	struct week *week = week_of(shop, "2026-11-30");
	job_new(shop, "J1", "P2", NEW_JOB);
	job_new(shop, "J2", "P1,P2", NEW_JOB);
	job_new(shop, "J3", "", NEW_JOB);
	job_new(shop, "J4", "P1", NEW_JOB);
	add(week, "J1", NULL, "2026-12-01T06:00", "2026-12-01T07:00");
	add(week, "J2", NULL, "2026-12-01T06:00", "2026-12-01T07:00");
	add(week, "J3", NULL, "2026-12-02T06:00", "2026-12-02T07:00");
	add(week, "J4", NULL, NULL, NULL)->verdict_known = false;
	make(week);
	const struct board_row *last = &week->board.rows[week->board.row_count - 1];
	assert_row(week, "P2",
	           (const char *const[BOARD_DAYS]){"", "J1 06:00-07:00", "", "", "", "", ""});
	assert_row(week, NULL,
	           (const char *const[BOARD_DAYS]){"", "J2 06:00-07:00", "J3 06:00-07:00", "", "", "",
	                                           ""});
	assert_null(last->press);
	assert_string_equal(field_said(shop->arena, &last->undated), "J4 no time");
	assert_int_equal(last->count, 3);
	assert_int_equal(week->board.lacking, 3);
	assert_int_equal(week->board.not_known, 1);
	assert_int_equal(week->board.jobs, 4);
}

/* What is not placed stays last though a press is met after it. */
static void plan_board__press_out_of_use__a_row_of_its_own(void **state)
{
	place_is("Europe/Berlin");
	struct week *week = week_of(*state, "2026-11-30");
	add(week, "J1", "P9", NULL, NULL);
	add(week, "J2", "P9", "2026-12-01T06:00", "2026-12-01T07:00");
	make(week);
	assert_int_equal(week->board.row_count, 4);
	assert_string_equal(week->board.rows[2].press, "P9");
	assert_null(week->board.rows[3].press);
	assert_int_equal(week->board.rows[3].undated.count, 1);
}

static void plan_board__job_not_on_record__refused(void **state)
{
	struct shop *shop = *state;
	struct week *week = week_of(shop, "2026-11-30");
	add(week, "J1", NULL, "2026-12-01T06:00", "2026-12-01T07:00");
	assert_int_equal(plan_board(shop->store, shop->arena, &week->ahead, &week->limits, &week->board,
	                            &shop->fault),
	                 OUTCOME_BAD);
	assert_string_equal(shop->fault.sentence, "job not known: J1");
}

/* ---------------------------------------------------------------- words */

static void plan_board__verdict__in_words_with_its_sign(void **state)
{
	place_is("Europe/Berlin");
	static const struct {
		bool known;
		enum verdict verdict;
		bool booked, running, broken;
		const char *word;
		enum board_sign sign;
	} cases[] = {
		{true, VERDICT_READY, false, false, false, "ready", BOARD_READY},
		{true, VERDICT_READY, true, false, false, "booked", BOARD_READY},
		{true, VERDICT_READY, true, false, true, "ready, to book again", BOARD_CAUTION},
		{true, VERDICT_CAUTION, true, false, true, "with caution, to book again", BOARD_CAUTION},
		{true, VERDICT_SHORT, true, false, true, "short, booking broken", BOARD_SHORT},
		{true, VERDICT_READY, true, true, false, "runs", BOARD_RUNS},
		{true, VERDICT_CAUTION, false, false, false, "ready with caution", BOARD_CAUTION},
		{true, VERDICT_CAUTION, true, false, false, "booked with caution", BOARD_CAUTION},
		{true, VERDICT_CAUTION, false, true, false, "runs with caution", BOARD_CAUTION},
		{true, VERDICT_SHORT, false, false, false, "short", BOARD_SHORT},
		{true, VERDICT_SHORT, true, false, false, "short though booked", BOARD_SHORT},
		{true, VERDICT_SHORT, false, true, false, "runs, short", BOARD_SHORT},
		{false, VERDICT_READY, false, false, false, "not known", BOARD_NOT_KNOWN},
		{false, VERDICT_READY, true, false, false, "booked, not known", BOARD_NOT_KNOWN},
		{false, VERDICT_SHORT, false, true, false, "runs", BOARD_RUNS},
	};
	struct week *week = week_of(*state, "2026-11-30");
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		struct ahead_job *job = add(week, "J1", "P1", "2026-12-01T06:00", "2026-12-01T07:00");
		job->verdict_known = cases[i].known;
		job->verdict = cases[i].verdict;
		job->booked = cases[i].booked;
		job->running = cases[i].running;
		job->broken = cases[i].broken;
	}
	make(week);
	const struct board_field *field = &row_of(week, "P1")->days[1];
	assert_int_equal(field->count, COUNT_OF(cases));
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_string_equal(field->entries[i].verdict, cases[i].word);
		assert_int_equal(field->entries[i].sign, cases[i].sign);
	}
	assert_int_equal(week->board.can_run, 9);
	assert_int_equal(week->board.lacking, 4);
	assert_int_equal(week->board.not_known, 2);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(plan_board__any_day_of_the_week__monday_to_sunday),
		GATHERING_TEST(plan_board__midnight__belongs_to_the_day_it_begins),
		GATHERING_TEST(plan_board__several_days__goes_on),
		GATHERING_TEST(plan_board__clocks_change__as_they_show),
		GATHERING_TEST(plan_board__closed_days__marked),
		GATHERING_TEST(plan_board__many_jobs_a_day__all_of_them_in_order),
		GATHERING_TEST(plan_board__no_press__where_it_was_asked_for),
		GATHERING_TEST(plan_board__press_out_of_use__a_row_of_its_own),
		GATHERING_TEST(plan_board__job_not_on_record__refused),
		GATHERING_TEST(plan_board__verdict__in_words_with_its_sign),
	};
	return cmocka_run_group_tests_name("board", tests, NULL, NULL);
}
