/* The bench by vocabulary.md: what its cards do, and what follows a refused scan. */
#include "bench_session.h"

/* ---------------------------------------------------------------- cards */

static void bench__hold__waits_for_a_reason_card_that_no_tool_answers(void **state)
{
	struct session session = session_open(*state);
	assert_string_equal(
		scan(&session, NEXT, card(&session, ACTION_HOLD)),
		"! no tool was scanned that HOLD could be about | Scan the tool first, then "
		"the card.");
	scan(&session, NEXT, "K-1");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_HOLD)),
	                    "- HOLD PC000001-H: scan a reason card");
	assert_string_equal(prompt(&session), "no badge, 1 waits: PC000001-H, HOLD");
	assert_string_equal(
		scan(&session, NEXT, "K-2"),
		"! a reason card is expected, not K-2 | Scan a reason card, or DONE to hold "
		"nothing.");
	assert_string_equal(
		scan(&session, NEXT, reason(&session, "nicked")),
		"+ PC000001-H  on hold: nicked  plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(shop_value(session.shop, "K-1", "condition"), "hold");
	assert_string_equal(shop_value(session.shop, "K-2", "condition"), "ready");
	assert_string_equal(prompt(&session), "no badge, 1 waits: PC000001-H");
	scan(&session, NEXT, card(&session, ACTION_HOLD));
	assert_string_equal(scan(&session, NEXT, "worn"),
	                    "! tool is on hold already: PC000001-H: nicked | It stays so; to give "
	                    "another reason clear it first.");
	assert_string_equal(scan(&session, NEXT, reason(&session, "worn")),
	                    "! no HOLD card was scanned before the reason: worn | Scan the tool, HOLD, "
	                    "then the reason.");
	bench_close(session.bench);
}

static void bench__hold_is_about_the_tool_scanned_last__home_about_all_that_wait(void **state)
{
	struct session session = session_open(*state);
	shop_has(session.shop, "cylinder", "other_tag=K-3;place=W1;home=R2");
	scan(&session, NEXT, "K-3");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "HOLD");
	assert_string_equal(scan(&session, NEXT, "scored"),
	                    "+ AN000001-R  on hold: scored  anilox roll, face 330mm");
	assert_string_equal(shop_value(session.shop, "K-3", "condition"), "ready");
	assert_string_equal(scan(&session, NEXT, "HOME"),
	                    "+ 2 tools home: PC000003-D  from W1 to R2  plate cylinder; AN000001-R  "
	                    "from P1-2 to R2  anilox roll, face 330mm | caution: AN000001-R still on "
	                    "hold: scored");
	bench_close(session.bench);
}

static void bench__card_behind_a_refused_tool__about_no_other(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "PC0000029");
	assert_string_equal(scan(&session, NEXT, "HOLD"),
	                    "! the tool scanned before it was refused: HOLD is about no other | Scan "
	                    "the tool again, then the card.");
	assert_string_equal(scan(&session, NEXT, "DIRTY"),
	                    "! the tool scanned before it was refused: DIRTY is about no other | Scan "
	                    "the tool again, then the card.");
	scan(&session, NEXT, "K-1");
	assert_string_equal(scan(&session, NEXT, "HOLD"), "- HOLD PC000001-H: scan a reason card");
	bench_close(session.bench);
}

static void bench__tool_that_waits_scanned_again__is_the_one_scanned_last(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "K-1");
	assert_string_equal(scan(&session, NEXT, "HOLD"), "- HOLD PC000001-H: scan a reason card");
	assert_string_equal(prompt(&session), "no badge, 2 wait: AN000001-R, PC000001-H, HOLD");
	bench_close(session.bench);
}

static void bench__place_refused__the_one_before_no_longer_stands(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "R2");
	assert_string_equal(
		scan(&session, NEXT, "S1"),
		"! place is a supplier: S1 | What goes to a supplier is sent, with a reason "
		"and a date: type send. | caution: R2 no longer stands");
	assert_string_equal(prompt(&session), "no badge");
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "PL0000019");
	assert_non_null(strstr(session.answer.lines[0].text, "misread"));
	assert_string_equal(session.answer.lines[0].caution, "R2 no longer stands");
	/* A tool that was misread is no place. */
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "PC0000029");
	assert_string_equal(prompt(&session), "no badge, to R2");
	scan(&session, NEXT, "]C191PC0000019");
	assert_string_equal(prompt(&session), "no badge, to R2");
	bench_close(session.bench);
}

static void bench__place_code_changed_by_a_layout__explained_and_not_acted_on(void **state)
{
	struct session session = session_open(*state);
	static const char *const typed[] = {"P1/2", "P1\u00df2", "P1'2"};
	for (size_t i = 0; i < COUNT_OF(typed); i++) {
		scan(&session, NEXT, typed[i]);
		assert_int_equal(session.answer.lines[0].outcome, OUTCOME_BAD);
		assert_non_null(strstr(session.answer.lines[0].text,
		                       "misread, keyboard layouts of scanner and computer differ: "));
		assert_non_null(strstr(session.answer.lines[0].text, " may be P1-2"));
		assert_non_null(strstr(session.answer.lines[0].hint, "keyboard country"));
		assert_string_equal(prompt(&session), "no badge");
	}
	bench_close(session.bench);
}

static void bench__dirty_and_cleaned__recorded_as_such_and_taken_back(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "V-1");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_DIRTY)),
	                    "+ AN000001-R  dirty: cleaning is due  anilox roll, face 330mm");
	scan(&session, NEXT, "W1");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_CLEANED)),
	                    "+ AN000001-R  cleaned  anilox roll, face 330mm");
	assert_string_equal(
		scan(&session, NEXT, card(&session, ACTION_UNDO)),
		"+ AN000001-R  cleaned taken back: not recorded any more  anilox roll, face "
		"330mm");
	assert_string_equal(scan(&session, 100, card(&session, ACTION_UNDO)),
	                    "+ AN000001-R  put taken back: from W1 to P1-2  anilox roll, face 330mm");
	assert_string_equal(tool_at(&session, "V-1"), "P1-2");
	entries(&session);
	bench_close(session.bench);
}

static void bench__undo__takes_back_the_last_scan_and_then_the_entries_before(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "K-2");
	scan(&session, NEXT, "W1");
	scan(&session, NEXT, "V-1");
	assert_string_equal(scan(&session, NEXT, "UNDO"),
	                    "- AN000001-R  waits no longer  anilox roll, face 330mm");
	assert_string_equal(scan(&session, 10, "UNDO"),
	                    "+ PC000002-F  put taken back: from W1 to R2  plate cylinder, 96 teeth "
	                    "1/8cp, face 330mm | caution: 1 more of the same scan stands: UNDO again "
	                    "for each");
	assert_string_equal(scan(&session, 10, "UNDO"),
	                    "+ PC000001-H  put taken back: from W1 to R1  plate cylinder, 96 teeth "
	                    "1/8cp, face 330mm");
	scan(&session, NEXT, "R2");
	assert_string_equal(scan(&session, NEXT, "UNDO"), "- R2 no longer stands");
	bench_close(session.bench);
}

static void bench__undo_while_tools_wait__takes_no_entry_back(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "W1");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, "DONE");
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "K-2");
	/* Misread, it set nothing. */
	scan(&session, NEXT, "PL0000019");
	assert_int_equal(session.answer.lines[0].tone, BENCH_REFUSED);
	assert_string_equal(
		scan(&session, NEXT, "UNDO"),
		"- PC000002-F  waits no longer  plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(
		scan(&session, 10, "UNDO"),
		"- PC000001-H  waits no longer  plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(tool_at(&session, "V-1"), "W1");
	bench_close(session.bench);
}

static void bench__undo_while_a_card_waits__gives_the_card_up_and_no_entry(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "W1");
	scan(&session, NEXT, "V-1");
	scan(&session, NEXT, card(&session, ACTION_HOLD));
	scan(&session, NEXT, "K-1");
	assert_int_equal(session.answer.lines[0].tone, BENCH_REFUSED);
	assert_string_equal(scan(&session, NEXT, "UNDO"), "- HOLD is given up");
	assert_string_equal(tool_at(&session, "V-1"), "W1");
	assert_string_equal(
		scan(&session, NEXT, reason(&session, "nicked")),
		"! no HOLD card was scanned before the reason: nicked | Scan the tool, HOLD, "
		"then the reason.");
	bench_close(session.bench);
}

static void bench__take_before_its_last_movement__refused(void **state)
{
	struct session session = session_open(*state);
	scan(&session, 3600000, "R2");
	scan(&session, NEXT, "K-1");
	/* The clock was set back. */
	session.clock_ms -= 3600000;
	scan(&session, NEXT, "J1");
	assert_string_equal(scan(&session, NEXT, "K-1"),
	                    "! clock stands before the tool's last movement: PC000001-H | Set this "
	                    "computer's clock, then type it again; history PC000001-H tells when it "
	                    "moved.");
	bench_close(session.bench);
}

static void bench__take__taken_back(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "J1");
	scan(&session, NEXT, "K-1");
	assert_string_equal(scan(&session, NEXT, "UNDO"),
	                    "+ PC000001-H  take taken back: not out for job J1 any more  plate "
	                    "cylinder, 96 teeth 1/8cp, face 330mm");
	bench_close(session.bench);
}

static void bench__show__tells_and_moves_nothing(void **state)
{
	struct session session = session_open(*state);
	int64_t before = entries(&session);
	scan(&session, NEXT, "R2");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_SHOW)),
	                    "- SHOW: scan what is to be shown");
	assert_string_equal(scan(&session, NEXT, "K-1"),
	                    "- PC000001-H  plate cylinder, 96 teeth 1/8cp, face 330mm; in rack 1 (R1), "
	                    "its home");
	assert_int_equal(entries(&session), before);
	assert_string_equal(prompt(&session), "no badge, to R2");
	bench_close(session.bench);
}

static void bench__home_without_a_home__refused(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "K-2");
	assert_string_equal(scan(&session, NEXT, "HOME"),
	                    "! home of the tool not known: PC000002-F | Scan the place where it goes.");
	assert_string_equal(prompt(&session), "no badge, 1 waits: PC000002-F");
	bench_close(session.bench);
}

static void bench__done_without_a_home__waits_on_for_its_place(void **state)
{
	struct session session = session_open(*state);
	shop_has(session.shop, "anilox", "other_tag=V-2;face=330mm;place=P1-1");
	scan(&session, NEXT, "V-2");
	assert_string_equal(scan(&session, NEXT, "DONE"),
	                    "! home of the tool not known: AN000002-P | Scan the place where it goes.");
	assert_string_equal(prompt(&session), "no badge, 1 waits: AN000002-P");
	scan(&session, NEXT, "R2");
	assert_string_equal(tool_at(&session, "V-2"), "R2");
	/* Nobody is there to scan a place: it is said that it did not move. */
	scan(&session, NEXT, "V-1");
	shop_has(session.shop, "anilox", "other_tag=V-3;face=330mm;place=P1-1");
	scan(&session, NEXT, "V-3");
	assert_string_equal(quiet(&session, 600000),
	                    "+ AN000001-R  from P1-2 to R2  anilox roll, face 330mm\n"
	                    "! home of the tool not known: AN000003-N | Scan the place where it goes.\n"
	                    "! not moved, no place was scanned: AN000003-N | Scan them again, then the "
	                    "place where they are.");
	assert_string_equal(prompt(&session), "no badge");
	bench_close(session.bench);
}

/* At another console: it is at a press again, and somebody went home without DONE. */
static void bench__moved_meanwhile__not_sent_home(void **state)
{
	struct session session = session_open(*state);
	struct moved moved;
	const char *tag = "V-1";
	scan(&session, NEXT, "V-1");
	session.shop->actor.now = session_now(&session);
	assert_int_equal(room_put(session.shop->store, session.shop->arena, &tag, 1, "P1-1", NULL,
	                          &session.shop->actor, &moved, &session.shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(quiet(&session, 600000),
	                    "! not moved, no place was scanned: AN000001-R | Scan them again, then the "
	                    "place where they are.");
	assert_string_equal(tool_at(&session, "V-1"), "P1-1");
	bench_close(session.bench);
}

static void bench__press_and_wash__cautions_told_once_for_who_signed_on(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "W1");
	assert_string_equal(
		session.answer.lines[0].handling,
		"know the weight, two people or a hoist for heavy ones; cut-resistant "
		"gloves for edges; gloves and goggles for solvents and caustic wash; follow "
		"the press maker's manual, the safety data sheet, local rules and the "
		"trained person in charge");
	scan(&session, NEXT, "P1-1");
	assert_non_null(strstr(session.answer.lines[0].handling, "lock out the press"));
	scan(&session, NEXT, "W1");
	assert_null(session.answer.lines[0].handling);
	scan(&session, NEXT, "E1");
	scan(&session, NEXT, "P1-1");
	assert_non_null(session.answer.lines[0].handling);
	scan(&session, NEXT, "R2");
	assert_null(session.answer.lines[0].handling);
	bench_close(session.bench);
}

static void bench__yes__answers_only_what_was_asked(void **state)
{
	struct session session = session_open(*state);
	assert_string_equal(scan(&session, NEXT, "YES"), "! nothing was asked that YES could answer");
	bench_close(session.bench);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(bench__hold__waits_for_a_reason_card_that_no_tool_answers),
		SHOP_TEST(bench__hold_is_about_the_tool_scanned_last__home_about_all_that_wait),
		SHOP_TEST(bench__card_behind_a_refused_tool__about_no_other),
		SHOP_TEST(bench__tool_that_waits_scanned_again__is_the_one_scanned_last),
		SHOP_TEST(bench__place_refused__the_one_before_no_longer_stands),
		SHOP_TEST(bench__place_code_changed_by_a_layout__explained_and_not_acted_on),
		SHOP_TEST(bench__dirty_and_cleaned__recorded_as_such_and_taken_back),
		SHOP_TEST(bench__undo__takes_back_the_last_scan_and_then_the_entries_before),
		SHOP_TEST(bench__undo_while_tools_wait__takes_no_entry_back),
		SHOP_TEST(bench__undo_while_a_card_waits__gives_the_card_up_and_no_entry),
		SHOP_TEST(bench__take__taken_back),
		SHOP_TEST(bench__take_before_its_last_movement__refused),
		SHOP_TEST(bench__show__tells_and_moves_nothing),
		SHOP_TEST(bench__home_without_a_home__refused),
		SHOP_TEST(bench__done_without_a_home__waits_on_for_its_place),
		SHOP_TEST(bench__moved_meanwhile__not_sent_home),
		SHOP_TEST(bench__press_and_wash__cautions_told_once_for_who_signed_on),
		SHOP_TEST(bench__yes__answers_only_what_was_asked),
	};
	return cmocka_run_group_tests_name("bench, cards", tests, NULL, NULL);
}
