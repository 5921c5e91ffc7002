/*
 * The scanning bench by the rules of vocabulary.md: sessions as scanned, each scan with the moment
 * of a clock that the test keeps, what is answered, and where things are in the end.
 */
#include "shop.h"

/* ---------------------------------------------------------------- a bench that is asked */

static struct bench_verdict job_verdict, station_verdict;

static enum outcome serves(struct store *store, struct arena *arena, int64_t job, int64_t tool,
                           struct moment now, struct bench_verdict *out, struct fault *fault)
{
	(void)store, (void)arena, (void)job, (void)tool, (void)now, (void)fault;
	*out = job_verdict;
	return OUTCOME_DONE;
}

static enum outcome takes(struct store *store, struct arena *arena, int64_t place, int64_t tool,
                          struct bench_verdict *out, struct fault *fault)
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
static struct session session_open(struct shop *shop)
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

static struct moment session_now(const struct session *session)
{
	struct duration later;
	char text[32];
	snprintf(text, sizeof text, "%llds", (long long)((session->clock_ms - 1000000) / 1000));
	assert_int_equal(duration_parse(text, &later, NULL), OUTCOME_DONE);
	return moment_add(shop_moment("2026-12-01T08:00:00Z"), later);
}

/* Everything answered, a line each: `tone text | hint | caution`. */
static const char *answered(struct session *session)
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
static const char *scan(struct session *session, int64_t after_ms, const char *code)
{
	session->clock_ms += after_ms;
	bench_scan(session->bench, code, strlen(code), session->clock_ms, session_now(session),
	           &session->answer);
	assert_false(store_in_transaction(session->shop->store));
	return answered(session);
}

static const char *quiet(struct session *session, int64_t after_ms)
{
	session->clock_ms += after_ms;
	bench_quiet(session->bench, session->clock_ms, session_now(session), &session->answer);
	return answered(session);
}

static const char *prompt(const struct session *session)
{
	return bench_prompt(session->bench);
}

static const char *tool_at(struct session *session, const char *tool)
{
	return shop_value(session->shop, tool, "place");
}

static int64_t entries(struct session *session)
{
	struct proof proof;
	assert_int_equal(store_verify(session->shop->store, session->shop->arena, NULL, &proof, NULL),
	                 OUTCOME_DONE);
	return proof.entries;
}

#define NEXT 5000 /* more than two seconds, less than sixty */

/* A card's tag. */
static const char *card(struct session *session, enum action action)
{
	struct tag tag = {TAG_ACTION, (int64_t)action};
	return arena_copy(session->shop->arena, tag_stored(tag).bytes);
}

static const char *reason(struct session *session, const char *words)
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
	return cmocka_run_group_tests_name("bench", tests, NULL, NULL);
}
