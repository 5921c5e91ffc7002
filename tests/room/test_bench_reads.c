/* The bench by vocabulary.md: doubles, misreads, unknown codes; counting. */
#include "bench_session.h"

/* ---------------------------------------------------------------- what is read */

static void bench__same_code_within_two_seconds__one_scan_but_undo(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "K-1");
	int64_t before = entries(&session);
	assert_string_equal(scan(&session, 2000, "K-1"), "- K-1  the same scan, counted once");
	assert_int_equal(entries(&session), before);
	scan(&session, 2001, "K-1");
	assert_int_equal(entries(&session), before + 1);
	scan(&session, NEXT, "NOWHERE");
	assert_string_equal(scan(&session, 100, "NOWHERE"), "! NOWHERE  the same scan, refused before");
	scan(&session, NEXT, "K-1");
	before++;
	/* Not the same again: another came between. */
	scan(&session, 100, "K-2");
	scan(&session, 100, "K-1");
	assert_int_equal(entries(&session), before + 3);
	bench_close(session.bench);
}

static void bench__misread_and_unknown__told_apart_and_nothing_guessed(void **state)
{
	struct session session = session_open(*state);
	int64_t before = entries(&session);
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "PC000001K");
	assert_int_equal(session.answer.lines[0].tone, BENCH_REFUSED);
	assert_int_equal(session.answer.lines[0].outcome, OUTCOME_BAD);
	assert_non_null(strstr(session.answer.lines[0].text, "misread"));
	assert_non_null(strstr(session.answer.lines[0].text, "check character"));
	assert_string_equal(scan(&session, NEXT, "PC000321M"),
	                    "! tag not known: PC000321-M | Nothing on record has it, and nothing was "
	                    "recorded.");
	assert_string_equal(scan(&session, NEXT, "X-77"),
	                    "! tag not known: X-77 | Nothing on record has it, and nothing was "
	                    "recorded.");
	assert_int_equal(entries(&session), before);
	assert_string_equal(prompt(&session), "no badge, to R2");
	bench_close(session.bench);
}

/* A shop that numbers its blades DB00012 scans them; what looks so and is not on record is misread.
 */
static void bench__own_code_in_the_form_of_a_misread_tag__is_what_it_is(void **state)
{
	struct session session = session_open(*state);
	shop_has(*state, "blade", "other_tag=DB00012;place=R1;home=R1");
	shop_has(*state, "place", "code=QN000001R;sort=store");
	scan(&session, NEXT, "QN000001R");
	assert_string_equal(prompt(&session), "no badge, to QN000001R");
	scan(&session, NEXT, "DB00012");
	assert_string_equal(tool_at(&session, "DB00012"), "QN000001R");
	assert_string_equal(scan(&session, 500, "DB00012"), "- DB00012  the same scan, counted once");
	int64_t before = entries(&session);
	scan(&session, NEXT, "DB00013");
	assert_int_equal(session.answer.lines[0].outcome, OUTCOME_BAD);
	assert_non_null(strstr(session.answer.lines[0].text, "misread, cut short: DB00013"));
	assert_int_equal(entries(&session), before);
	bench_close(session.bench);
}

static void bench__two_scans_run_together__both_count(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "R2");
	scan(&session, NEXT, "]C0PC000001HAN000001R");
	assert_int_equal(session.answer.count, 2);
	assert_string_equal(tool_at(&session, "K-1"), "R2");
	assert_string_equal(tool_at(&session, "V-1"), "R2");
	bench_close(session.bench);
}

static void bench__quit__leaves_and_what_waits_is_said(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "K-2");
	scan(&session, NEXT, "quit");
	assert_true(session.answer.leave);
	bench_finish(session.bench, session_now(&session), &session.answer);
	assert_string_equal(answered(&session),
	                    "! not moved, no place was scanned: PC000002-F | Scan them again, then the "
	                    "place where they are.");
	bench_close(session.bench);
}

/* ---------------------------------------------------------------- counting */

static void bench__count__differences_told_and_put_right_on_yes_alone(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, card(&session, ACTION_COUNT));
	assert_string_equal(scan(&session, NEXT, "R1"),
	                    "- counting R1 (rack 1), 1 tools on record there | Scan each tool there; a "
	                    "place inside it when you come to that; DONE at the end.");
	assert_string_equal(scan(&session, NEXT, "K-2"),
	                    "+ PC000002-F  seen at R1  plate cylinder, 96 teeth 1/8cp, face 330mm | "
	                    "caution: on record at R2");
	assert_string_equal(prompt(&session), "no badge, counting R1 at R1, 1 seen, 1 on record");
	scan(&session, NEXT, "DONE");
	assert_string_equal(tool_at(&session, "K-2"), "R2");
	/* A tool answers nothing: it is seen, and the question is gone. */
	scan(&session, NEXT, "K-2");
	assert_string_equal(scan(&session, NEXT, "YES"), "! nothing was asked that YES could answer");
	scan(&session, NEXT, "DONE");
	assert_string_equal(scan(&session, NEXT, card(&session, ACTION_YES)),
	                    "+ count of R1 ended: 1 put where they were seen, 1 missing put to "
	                    "LOST");
	assert_string_equal(tool_at(&session, "K-2"), "R1");
	assert_string_equal(tool_at(&session, "K-1"), "LOST");
	assert_string_equal(prompt(&session), "no badge");
	entries(&session);
	bench_close(session.bench);
}

static void bench__count_ended_elsewhere__nothing_is_counted_any_more(void **state)
{
	struct session session = session_open(*state);
	struct count_ended ended;
	int64_t count;
	scan(&session, NEXT, card(&session, ACTION_COUNT));
	scan(&session, NEXT, "R1");
	scan(&session, NEXT, "K-1");
	assert_int_equal(room_count_open(session.shop->store, session.shop->arena, "R1", &count, NULL),
	                 OUTCOME_DONE);
	assert_int_equal(room_count_end(session.shop->store, session.shop->arena, count, false,
	                                &session.shop->actor, &ended, NULL),
	                 OUTCOME_DONE);
	assert_string_equal(scan(&session, NEXT, "DONE"),
	                    "! count has ended: R1 | Scan COUNT and R1 to begin another.");
	assert_string_equal(prompt(&session), "no badge");
	bench_close(session.bench);
}

static void bench__count_out_for_a_job__told_with_the_job(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "J1");
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "DONE");
	scan(&session, NEXT, card(&session, ACTION_COUNT));
	scan(&session, NEXT, "R1");
	scan(&session, NEXT, "K-1");
	scan(&session, NEXT, "DONE");
	assert_string_equal(session.answer.lines[0].text,
	                    "here, on record elsewhere: PC000001-H  plate cylinder, 96 teeth 1/8cp, "
	                    "face 330mm, seen at R1, on record at R1, out for job J1");
	bench_close(session.bench);
}

static void bench__count_changed_since_it_was_told__told_anew_before_yes(void **state)
{
	struct session session = session_open(*state);
	struct moved moved;
	const char *const tags[] = {"K-2"};
	scan(&session, NEXT, "COUNT");
	scan(&session, NEXT, "R1");
	scan(&session, NEXT, "K-2");
	scan(&session, NEXT, "DONE");
	/* Walking along the list takes a while. */
	assert_string_equal(quiet(&session, 120000), "");
	session.shop->actor.now = session_now(&session);
	assert_int_equal(room_put(session.shop->store, session.shop->arena, tags, 1, "W1", NULL,
	                          &session.shop->actor, &moved, NULL),
	                 OUTCOME_DONE);
	session.clock_ms += NEXT;
	scan(&session, NEXT, "YES");
	assert_string_equal(session.answer.lines[session.answer.count - 1].caution,
	                    "it has changed since it was told");
	assert_string_equal(tool_at(&session, "K-2"), "W1");
	scan(&session, NEXT, "YES");
	assert_string_equal(tool_at(&session, "K-1"), "LOST");
	assert_string_equal(tool_at(&session, "K-2"), "W1");
	bench_close(session.bench);
}

static void bench__count_left__taken_up_by_another(void **state)
{
	struct session session = session_open(*state);
	scan(&session, NEXT, "E1");
	scan(&session, NEXT, "COUNT");
	scan(&session, NEXT, "R1");
	scan(&session, NEXT, "K-1");
	quiet(&session, 600000);
	assert_string_equal(prompt(&session), "no badge");
	scan(&session, NEXT, "E2");
	scan(&session, NEXT, "COUNT");
	scan(&session, NEXT, "R1");
	assert_non_null(session.answer.lines[0].caution);
	assert_non_null(strstr(session.answer.lines[0].caution, "begun by Nora Tindle"));
	assert_string_equal(prompt(&session), "Ivo Brandt, counting R1 at R1, 1 seen, 1 on record");
	assert_string_equal(scan(&session, NEXT, "DONE"), "+ count of R1 ended: all as on record");
	bench_close(session.bench);
}

/* A bench reads less of a tool than `show` does, and says the same. */
static void bench__words_of_every_kind_of_tool__those_of_the_whole_record(void **state)
{
	struct shop *shop = *state;
	static const char *const tools[][2] = {
		{"cylinder", "teeth=96;pitch=1/8cp;drive=geared;face=330mm;name=left"},
		{"cylinder", "repeat=300mm;drive=gearless;face=330mm"},
		{"gear", "teeth=96;pitch=1/8cp"},
		{"anilox", "line_screen=140/cm;volume=6.2cm3/m2;face=330mm;surface=ceramic"},
		{"blade", "length=330mm;material=steel"},
		{"die", "cut=kiss;label_across=70mm;label_around=50mm;teeth=96;pitch=1/8cp"},
		{"magnetic_cylinder", "teeth=96;pitch=1/8cp;die_gap=0.48mm;face=340mm"},
	};
	for (size_t i = 0; i < COUNT_OF(tools); i++) {
		struct record *brief;
		shop_has(shop, tools[i][0], tools[i][1]);
		assert_int_equal(store_record_brief(shop->store, shop->arena, shop->record->kind,
		                                    shop->record->id, &brief, NULL),
		                 OUTCOME_DONE);
		assert_string_equal(room_summary(shop->arena, brief, UNITS_METRIC),
		                    room_summary(shop->arena, shop->record, UNITS_METRIC));
	}
	for (size_t i = 0; i < KIND_COUNT; i++) {
		assert_int_equal(kinds[i].tool, i >= KIND_CYLINDER && i <= KIND_MAGNETIC_CYLINDER);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(bench__words_of_every_kind_of_tool__those_of_the_whole_record),
		SHOP_TEST(bench__same_code_within_two_seconds__one_scan_but_undo),
		SHOP_TEST(bench__misread_and_unknown__told_apart_and_nothing_guessed),
		SHOP_TEST(bench__own_code_in_the_form_of_a_misread_tag__is_what_it_is),
		SHOP_TEST(bench__two_scans_run_together__both_count),
		SHOP_TEST(bench__quit__leaves_and_what_waits_is_said),
		SHOP_TEST(bench__count__differences_told_and_put_right_on_yes_alone),
		SHOP_TEST(bench__count_changed_since_it_was_told__told_anew_before_yes),
		SHOP_TEST(bench__count_left__taken_up_by_another),
		SHOP_TEST(bench__count_out_for_a_job__told_with_the_job),
		SHOP_TEST(bench__count_ended_elsewhere__nothing_is_counted_any_more),
	};
	return cmocka_run_group_tests_name("bench, reads", tests, NULL, NULL);
}
