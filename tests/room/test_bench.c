/* The bench by vocabulary.md: places, jobs, what comes back from a press, who scans. */
#include "bench_session.h"

/* ---------------------------------------------------------------- places */

static void bench__place_scanned_first__stands_and_takes_tools(void **state)
{
	struct session session = session_open(*state);
	assert_string_equal(scan(&session, NEXT, "R2"), "- R2: tools scanned now go there");
	assert_string_equal(prompt(&session), "no badge, to R2");
	assert_string_equal(scan(&session, NEXT, "PC000001H"),
	                    "+ PC000001-H  from R1 to R2  plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(scan(&session, NEXT, "K-2"),
	                    "+ PC000002-F  at R2  plate cylinder, 96 teeth 1/8cp, face 330mm | "
	                    "caution: was at R2 already");
	assert_string_equal(tool_at(&session, "K-1"), "R2");
	assert_string_equal(prompt(&session), "no badge, to R2");
	bench_close(session.bench);
}

static void bench__tools_scanned_first__wait_and_next_place_takes_them_and_does_not_stand(
	void **state)
{
	struct session session = session_open(*state);
	assert_string_equal(
		scan(&session, NEXT, "K-1"),
		"- PC000001-H  waits for its place  plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(scan(&session, NEXT, "K-2"),
	                    "- PC000002-F  waits for its place  plate cylinder, 96 teeth 1/8cp, face "
	                    "330mm");
	assert_string_equal(prompt(&session), "no badge, 2 wait: PC000001-H, PC000002-F");
	assert_string_equal(tool_at(&session, "K-1"), "R1");
	assert_string_equal(
		scan(&session, NEXT, "W1"),
		"+ 2 tools to W1: PC000001-H  from R1  plate cylinder, 96 teeth 1/8cp, face 330mm; "
		"PC000002-F  from R2  plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(prompt(&session), "no badge");
	assert_string_equal(tool_at(&session, "K-1"), "W1");
	assert_string_equal(tool_at(&session, "K-2"), "W1");
	scan(&session, NEXT, "K-1");
	assert_string_equal(prompt(&session), "no badge, 1 waits: PC000001-H");
	bench_close(session.bench);
}

static void bench__sixty_seconds_of_quiet__place_no_longer_stands(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "R2");
	assert_true(bench_wakes(session.bench) == session.clock_ms + 60000);
	scan(&session, 60000, "K-1");
	assert_string_equal(tool_at(&session, "K-1"), "R2");
	assert_string_equal(scan(&session, 60001, "K-1"),
	                    "- 60 s of quiet: R2 no longer stands\n- PC000001-H  waits for its place  "
	                    "plate cylinder, 96 teeth 1/8cp, face 330mm");
	scan(&session, NEXT, "done");
	scan(&session, NEXT, "R2");
	assert_string_equal(quiet(&session, 60000), "- 60 s of quiet: R2 no longer stands");
	assert_string_equal(prompt(&session), "no badge");
	bench_close(session.bench);
}

static void bench__next_place_and_done__end_what_stands(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "W1");
	scan(&session, NEXT, "K-1");
	assert_string_equal(tool_at(&session, "K-1"), "W1");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_DONE)), "- W1 no longer stands");
	scan(&session, NEXT, "K-2");
	assert_string_equal(tool_at(&session, "K-2"), "R2");
	assert_string_equal(scan(&session, NEXT, "DONE"),
	                    "! not moved, no place was scanned: PC000002-F | Scan them again, then the "
	                    "place where they are.");
	assert_string_equal(scan(&session, NEXT, "DONE"), "- nothing stands and nothing waits");
	bench_close(session.bench);
}

static void bench__place_that_takes_nothing__refused_at_once(void **state)
{
	struct session session = session_open(*state);
	struct held held;
	assert_string_equal(
		scan(&session, NEXT, "S1"),
		"! place is a supplier: S1 | What goes to a supplier is sent, with a reason "
		"and a date: type send.");
	shop_has(session.shop, "place", "code=R9;sort=store;retired=yes");
	assert_string_equal(scan(&session, NEXT, "R9"),
	                    "! place is retired: R9 | Scan a place that is in use.");
	assert_int_equal(room_hold(session.shop->store, session.shop->arena, "P1-3", "motor",
	                           &session.shop->actor, &held, NULL),
	                 OUTCOME_DONE);
	assert_string_equal(scan(&session, NEXT, "P1-3"),
	                    "! P1-3 is on hold: motor | Scan another place.");
	assert_string_equal(prompt(&session), "no badge");
	bench_close(session.bench);
}

static void bench__place_held_while_it_stands__takes_no_more(void **state)
{
	struct session session = session_open(*state);
	struct held held;
	scan(&session, NEXT, "R2");
	assert_int_equal(room_hold(session.shop->store, session.shop->arena, "R2", "sagging",
	                           &session.shop->actor, &held, &session.shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(scan(&session, NEXT, "K-1"),
	                    "! R2 is on hold: sagging | Scan another place.");
	assert_string_equal(tool_at(&session, "K-1"), "R1");
	bench_close(session.bench);
}

static void bench__station_that_does_not_take_it__refused_and_all_go_on_waiting(void **state)
{
	struct session session = session_open(*state);
	station_verdict = (struct bench_verdict){.text = "P1-1 takes no such thing"};
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "K-2");
	assert_string_equal(scan(&session, NEXT, "P1-1"),
	                    "! PC000001-H  not to P1-1: P1-1 takes no such thing  (plate cylinder, 96 "
	                    "teeth 1/8cp, face 330mm) | caution: nothing was recorded of all 2 that "
	                    "wait");
	assert_string_equal(prompt(&session), "no badge, 2 wait: PC000001-H, PC000002-F");
	assert_string_equal(tool_at(&session, "K-1"), "R1");
	station_verdict = (struct bench_verdict){.yes = true, .caution = "fit of P1 not known"};
	assert_string_equal(scan(&session, NEXT, "P1-1"),
	                    "+ 2 tools to P1-1: PC000001-H  from R1  plate cylinder, 96 teeth 1/8cp, "
	                    "face 330mm; PC000002-F  from R2  plate cylinder, 96 teeth 1/8cp, face "
	                    "330mm | caution: PC000001-H fit of P1 not known; PC000002-F fit of P1 not "
	                    "known");
	bench_close(session.bench);
}

/* ---------------------------------------------------------------- jobs */

static void bench__job_stands__tools_go_out_for_it_and_stay_where_they_are(void **state)
{
	struct session session = session_open(*state);
	struct tool_state tool;
	struct found found;
	assert_string_equal(scan(&session, NEXT, "J1"),
	                    "- job J1 (front label): tools scanned now go out for it");
	assert_string_equal(prompt(&session), "no badge, for job J1");
	assert_string_equal(scan(&session, NEXT, "K-1"),
	                    "+ PC000001-H  out for job J1: cylinder at station 3  plate cylinder, 96 "
	                    "teeth 1/8cp, face 330mm");
	assert_int_equal(store_find(session.shop->store, "K-1", REFER_TOOL, &found, NULL),
	                 OUTCOME_DONE);
	store_tool_state(session.shop->store, session.shop->arena, found.id, &tool, NULL);
	assert_string_equal(tool.taken_for, "J1");
	assert_string_equal(tool.place_code, "R1");
	scan(&session, NEXT, "R1");
	scan(&session, NEXT, "K-1");
	store_tool_state(session.shop->store, session.shop->arena, found.id, &tool, NULL);
	assert_null(tool.taken_for);
	bench_close(session.bench);
}

static void bench__job_with_no_need_of_it__refused_with_what_was_expected(void **state)
{
	struct session session = session_open(*state);
	int64_t before = entries(&session);
	job_verdict = (struct bench_verdict){.text = "the job runs 406.4mm",
	                                     .expected = "expected PC000007-5, in R2"};
	scan(&session, NEXT, "J1");
	assert_string_equal(scan(&session, NEXT, "K-1"),
	                    "! PC000001-H  not for job J1: the job runs 406.4mm  (plate cylinder, 96 "
	                    "teeth 1/8cp, face 330mm) | expected PC000007-5, in R2");
	assert_int_equal(session.answer.lines[0].outcome, OUTCOME_NO);
	assert_int_equal(entries(&session), before);
	bench_close(session.bench);
}

static void bench__job_after_tools__takes_what_waits_and_does_not_stand(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "K-1");
	assert_string_equal(scan(&session, NEXT, "J1"),
	                    "+ PC000001-H  out for job J1: cylinder at station 3  plate cylinder, 96 "
	                    "teeth 1/8cp, face 330mm");
	assert_string_equal(prompt(&session), "no badge");
	shop_has(session.shop, "job", "number=J9;state=finished");
	assert_string_equal(scan(&session, NEXT, "J9"),
	                    "! job is finished: J9 | Scan a job that is planned or running.");
	bench_close(session.bench);
}

/* ---------------------------------------------------------------- back from a press */

static void bench__back_from_a_press__home_unless_a_place_or_card_says_otherwise(void **state)
{
	struct session session = session_open(*state);
	assert_string_equal(
		scan(&session, NEXT, "V-1"),
		"- AN000001-R  waits for its place  anilox roll, face 330mm | Scan a place, "
		"or DONE to put it at its home, R2.");
	assert_string_equal(scan(&session, NEXT, "DONE"),
	                    "+ AN000001-R  from P1-2 to R2  anilox roll, face 330mm");
	scan(&session, NEXT, "P1-2");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "DONE");
	scan(&session, NEXT, "V-1");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_HOME)),
	                    "+ AN000001-R  from P1-2 to R2  anilox roll, face 330mm");
	scan(&session, NEXT, "P1-2");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "DONE");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "W1");
	assert_string_equal(tool_at(&session, "V-1"), "W1");
	bench_close(session.bench);
}

static void bench__idle__what_came_back_goes_home_and_who_scanned_is_signed_off(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "E1");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "K-1");
	assert_string_equal(prompt(&session), "Nora Tindle, 2 wait: AN000001-R, PC000001-H");
	assert_true(bench_wakes(session.bench) == session.clock_ms + 600000);
	assert_string_equal(quiet(&session, 600000),
	                    "+ AN000001-R  from P1-2 to R2  anilox roll, face 330mm\n"
	                    "! not moved, no place was scanned: PC000001-H | Scan them again, then the "
	                    "place where they are.\n- quiet for 10 min: Nora Tindle is signed off");
	assert_string_equal(prompt(&session), "no badge");
	assert_true(bench_wakes(session.bench) == INT64_MAX || bench_wakes(session.bench) > 0);
	bench_close(session.bench);
}

/* ---------------------------------------------------------------- badges */

static void bench__badge__signs_on_and_the_ledger_names_who(void **state)
{
	struct session session = session_open(*state);
	struct found found;
	struct ledger_entry *last;
	size_t count;
	assert_string_equal(scan(&session, NEXT, "E1"), "- Nora Tindle, clerk, signed on");
	assert_string_equal(scan(&session, NEXT, "E1"), "- Nora Tindle is signed on already");
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "K-1");
	assert_int_equal(store_find(session.shop->store, "K-1", REFER_TOOL, &found, NULL),
	                 OUTCOME_DONE);
	store_ledger_of(session.shop->store, session.shop->arena, found.kind, found.id, 1, &last,
	                &count, NULL);
	assert_string_equal(last[0].operator_name, "Nora Tindle");
	assert_string_equal(scan(&session, NEXT, "E2"), "- Ivo Brandt, supervisor, signed on");
	assert_string_equal(prompt(&session), "Ivo Brandt");
	assert_string_equal(scan(&session, NEXT, "DONE"), "- Ivo Brandt is signed off");
	shop_has(session.shop, "operator", "badge=E3;name=Old Hand;role=clerk;retired=yes");
	assert_string_equal(scan(&session, NEXT, "E3"),
	                    "! badge is retired: Old Hand | Scan the badge of an operator who works "
	                    "here.");
	bench_close(session.bench);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(bench__place_scanned_first__stands_and_takes_tools),
		SHOP_TEST(bench__tools_scanned_first__wait_and_next_place_takes_them_and_does_not_stand),
		SHOP_TEST(bench__sixty_seconds_of_quiet__place_no_longer_stands),
		SHOP_TEST(bench__next_place_and_done__end_what_stands),
		SHOP_TEST(bench__place_that_takes_nothing__refused_at_once),
		SHOP_TEST(bench__station_that_does_not_take_it__refused_and_all_go_on_waiting),
		SHOP_TEST(bench__place_held_while_it_stands__takes_no_more),
		SHOP_TEST(bench__job_stands__tools_go_out_for_it_and_stay_where_they_are),
		SHOP_TEST(bench__job_with_no_need_of_it__refused_with_what_was_expected),
		SHOP_TEST(bench__job_after_tools__takes_what_waits_and_does_not_stand),
		SHOP_TEST(bench__back_from_a_press__home_unless_a_place_or_card_says_otherwise),
		SHOP_TEST(bench__idle__what_came_back_goes_home_and_who_scanned_is_signed_off),
		SHOP_TEST(bench__badge__signs_on_and_the_ledger_names_who),
	};
	return cmocka_run_group_tests_name("bench", tests, NULL, NULL);
}
