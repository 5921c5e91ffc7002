/* Batches: what hangs on a refused line, lines and files that are refused. */
#include "batch_lines.h"

/* ---------------------------------------------------------------- what hangs on a refused line */

/* A place of that code is on record, so that it is no misread blade: the next place stands alone.
 */
static void batch__own_code_in_the_form_of_a_misread_tag__applied(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "place", "code=DB00012;sort=store");
	assert_int_equal(apply(shop, "00:00 DB00012 00:03 K-1"), OUTCOME_DONE);
	assert_string_equal(place_of(shop, "K-1"), "DB00012");
	assert_string_equal(problems(shop), "");
}

/* The place was misread: where K-2 went is not known, and K-3 is not put there either. */
static void batch__place_misread__nothing_behind_it_is_guessed(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 R2 00:03 K-1 00:05 R99 00:08 K-2 00:10 C1 00:12 K-3"
	                             " 00:20 DONE 00:25 C1 00:27 K-4 03:00 R2 03:02 K-5"),
	                 OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "R2");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(place_of(shop, "K-3"), "R1");
	assert_string_equal(place_of(shop, "K-4"), "C1");
	assert_string_equal(place_of(shop, "K-5"), "R2");
	assert_string_equal(
		problems(shop),
		"3 R99: tag not known: R99. Nothing on record has it, and nothing was recorded.\n"
		"4 K-2: line 3 was not applied, and where this belongs hangs on that\n"
		"5 C1: line 3 was not applied, and where this belongs hangs on that\n"
		"6 K-3: line 3 was not applied, and where this belongs hangs on that\n");
	assert_string_equal(sums(shop), "11 3 0 4 4");
	/* Once the place is on record, the same again applies the rest. */
	shop_has(shop, "place", "code=R99;sort=store");
	assert_int_equal(apply(shop, "00:00 R2 00:03 K-1 00:05 R99 00:08 K-2 00:10 C1 00:12 K-3"
	                             " 00:20 DONE 00:25 C1 00:27 K-4 03:00 R2 03:02 K-5"),
	                 OUTCOME_DONE);
	assert_string_equal(sums(shop), "11 2 3 6 0");
	assert_string_equal(place_of(shop, "K-2"), "R99");
}

/* A line whose moment is not known may stand within the pause. */
static void batch__quiet_around_a_line_without_moment__is_none(void **state)
{
	struct shop *shop = *state;
	static const char lines[] = "2026-12-01T09:00:00Z,R2\n"
								"R3\n"
								"2026-12-01T09:01:10Z,K-1\n"
								"2026-12-01T09:01:15Z,C1\n"
								"2026-12-01T09:03:00Z,K-2\n"
								"2026-12-01T09:03:02Z,R2\n";
	furnish(shop);
	assert_int_equal(apply_bytes(shop, lines, strlen(lines)), OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "R1");
	assert_string_equal(place_of(shop, "K-2"), "R2");
	assert_int_equal(report.problem_count, 3);
}

static void batch__quiet_behind_a_refused_place__goes_on(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 R99 00:08 K-2 01:09 C1 01:12 K-3"), OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(place_of(shop, "K-3"), "C1");
	assert_string_equal(sums(shop), "4 1 0 1 2");
}

/* A tool that is refused takes nothing with it. */
static void batch__tool_refused__the_others_are_applied(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-7;condition=scrapped;note=cracked");
	assert_int_equal(apply(shop,
	                       "00:00 P1-1 00:03 K-1 00:05 K-7 00:07 K-5 00:09 PC000900A 00:11 K-2"),
	                 OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "P1-1");
	assert_string_equal(place_of(shop, "K-2"), "P1-1");
	assert_string_equal(place_of(shop, "K-5"), "R1");
	assert_string_equal(sums(shop), "6 2 0 1 3");
	assert_int_equal(report.problems[2].line, 5);
}

/* The clerk meant K-9, which nobody knows: K-1 is neither dirty nor taken back for it. */
static void batch__cards_behind_a_refused_tool__for_no_other(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 R2 00:03 K-1 00:05 PC000900A 00:07 DIRTY 00:09 UNDO"
	                             " 00:11 K-2 00:13 UNDO 00:15 UNDO 00:17 K-3 00:19 DIRTY"),
	                 OUTCOME_NO);
	assert_string_equal(ledger_of(shop, "K-1"), "put R2 09:00:03Z -\nnew R1 08:00:00Z -\n");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(ledger_of(shop, "K-3"),
	                    "dirty - 09:00:19Z -\nput R2 09:00:17Z -\nnew R1 08:00:00Z -\n");
	assert_int_equal(report.problem_count, 4);
	assert_string_equal(report.problems[3].text,
	                    "line 3 was not applied, and this card may be for that");
	assert_int_equal(report.problems[3].line, 8);
}

/* The card was scanned for a tool that was not read: it is about no other. */
static void batch__card_behind_a_tool_refused__about_no_other(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 R2 00:05 K-1 00:10 PC0000029 00:15 HOLD 00:20 nicked "
	                             "00:25 UNDO"),
	                 OUTCOME_NO);
	assert_string_equal(sums(shop), "6 1 0 1 4");
	assert_string_equal(place_of(shop, "K-1"), "R2");
	assert_string_equal(shop_value(shop, "K-1", "condition"), "ready");
	assert_string_equal(report.problems[1].text,
	                    "line 3 was not applied, and this card may be for that");
	/* A tool that is read is what the next card is about. */
	assert_int_equal(apply(shop,
	                       "01:00 R2 01:05 K-3 01:10 PC0000029 01:15 K-4 01:20 HOLD 01:25 nicked"),
	                 OUTCOME_NO);
	assert_string_equal(sums(shop), "6 3 0 2 1");
	assert_string_equal(shop_value(shop, "K-4", "condition"), "hold");
}

/* What came back from a press is told by where it was at the moment of the line. */
static void batch__done_after_a_tool_that_went_to_a_press_since__the_same_again_changes_nothing(
	void **state)
{
	struct shop *shop = *state;
	struct moved moved;
	const char *const tags[] = {"K-1"};
	furnish(shop);
	assert_int_equal(apply(shop, "00:05 K-1 00:10 DONE"), OUTCOME_NO);
	assert_int_equal(room_put(shop->store, shop->arena, tags, 1, "P1-1", NULL, &shop->actor, &moved,
	                          &shop->fault),
	                 OUTCOME_DONE);
	int64_t before = entries_of(shop);
	assert_int_equal(apply(shop, "00:05 K-1 00:10 DONE"), OUTCOME_NO);
	assert_int_equal(entries_of(shop), before);
}

/* UNDO of a put gives back that it was out for a job: it comes back from there all the same. */
static void batch__out_for_a_job_again_by_undo__goes_home(void **state)
{
	struct shop *shop = *state;
	struct taken taken;
	struct undone undone;
	const char *const tags[] = {"K-1"};
	furnish(shop);
	put(shop, "K-1", "R2", "2026-12-01T08:10:00Z");
	shop->actor.now = shop_moment("2026-12-01T08:20:00Z");
	assert_int_equal(room_take(shop->store, shop->arena, tags, 1, "J1", &asks, &shop->actor, &taken,
	                           &shop->fault),
	                 OUTCOME_DONE);
	put(shop, "K-1", "R1", "2026-12-01T08:30:00Z");
	shop->actor.now = shop_moment("2026-12-01T08:40:00Z");
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(place_of(shop, "K-1"), "R2");
	shop->actor.now = shop_moment("2026-12-01T12:00:00Z");
	assert_int_equal(apply(shop, "00:05 K-1 00:10 DONE"), OUTCOME_DONE);
	assert_string_equal(place_of(shop, "K-1"), "R1");
	entries_of(shop);
}

/* It was held, and the job finished, after the handheld had been there. */
static void batch__place_held_since__took_the_tool_then(void **state)
{
	struct shop *shop = *state;
	struct held held;
	furnish(shop);
	assert_int_equal(room_hold(shop->store, shop->arena, "R2", "shelf bent", &shop->actor, &held,
	                           &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:05 R2 00:10 K-1"), OUTCOME_DONE);
	assert_string_equal(place_of(shop, "K-1"), "R2");
}

static void batch__badge_misread__nobody_else_is_named(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 N1 00:02 OP0000019 00:05 R2 00:10 K-1"), OUTCOME_NO);
	assert_string_equal(ledger_of(shop, "K-1"), "put R2 09:00:10Z -\nnew R1 08:00:00Z -\n");
	/* Whoever it was may not have meant the place that stood. */
	assert_int_equal(apply(shop, "02:00 N1 02:05 R2 02:10 OP0000019 02:15 K-2"), OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(sums(shop), "4 0 0 2 2");
}

/* What waited for a place that was refused goes to no other. */
static void batch__waiting_for_a_refused_place__goes_to_no_other(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:03 K-1 00:05 K-5 00:08 P1-1 00:15 K-2 00:20 R2"), OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "R1");
	assert_string_equal(place_of(shop, "K-5"), "R1");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(sums(shop), "5 0 0 2 4");
}

/* Differences are shown to nobody there: no count is taken, and nothing is moved for it. */
static void batch__count__refused_with_what_follows(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 C1 00:02 COUNT 00:03 R2 00:05 K-1 00:08 DONE"), OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "R1");
	assert_string_equal(sums(shop), "5 0 0 3 2");
}

/* ---------------------------------------------------------------- lines that are refused */

static void batch__moments__refused_line_by_line(void **state)
{
	struct shop *shop = *state;
	static const char lines[] = "moment,code\n"
								"2026-12-01T09:00:00Z,R2\n"
								"2026-12-01T09:00:05Z,K-1\n"
								"2026-12-01T09:00:03Z,K-2\n"
								"2026-12-01T12:00:01Z,K-2\n"
								"2026-12-01,K-3\n"
								"noon,K-3\n"
								"2025-12-01T09:00:08Z,K-3\n"
								"2026-12-01T09:00:09Z,K-4\n";
	furnish(shop);
	assert_int_equal(apply_bytes(shop, lines, strlen(lines)), OUTCOME_NO);
	assert_string_equal(
		problems(shop),
		"4 K-2: moment lies before that of a line above: 2026-12-01T09:00:03. The clock of the"
		" handheld was set back, or the lines are not in the order in which they were scanned.\n"
		"5 K-2: moment is ahead of now: 2026-12-01T12:00:01. Set the clock of the handheld.\n"
		"6 K-3: moment without a time of day: 2026-12-01. A line is like"
		" 2026-12-01T14:30:15,PC000025-1.\n"
		"7 K-3: moment is no date or moment: noon. Type a date such as 2026-12-01 or a moment such"
		" as 2026-12-01T14:30.\n"
		"8 K-3: moment lies before all that is on record: 2025-12-01T09:00:08. Set the clock of the"
		" handheld.\n");
	assert_string_equal(sums(shop), "8 2 0 1 5");
	assert_string_equal(place_of(shop, "K-4"), "R2");
}

/* In the order of the file the first place would have been taken for that of the second tools. */
static void batch__clock_set_back__places_do_not_mix(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop,
	                       "30:00 R2 30:05 K-1 29:10 C1 29:12 K-2 30:10 K-3 31:30 C1 31:33 K-4"),
	                 OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "R2");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(place_of(shop, "K-3"), "R1");
	assert_string_equal(place_of(shop, "K-4"), "C1");
}

static void batch__forms_of_lines__understood(void **state)
{
	struct shop *shop = *state;
	static const char lines[] = "\xef\xbb\xbf"
								"Moment,Code\r\n"
								"# handheld 3\r\n"
								"\r\n"
								"\"2026-12-01T09:00:00Z\",\"R2\"\r\n"
								"2026-12-01T10:00:05+01:00;]C0PC000001-H\r"
								"2026-12-01T09:00:07Z\tpc000002f\n"
								"2026-12-01T09:00:09 , K-3 ,,\n"
								"2026-12-01T09:00:11Z,PC000004B";
	furnish(shop);
	assert_int_equal(apply_bytes(shop, lines, strlen(lines)), OUTCOME_DONE);
	assert_string_equal(sums(shop), "5 4 0 1 0");
	assert_string_equal(place_of(shop, "K-4"), "R2");
	assert_string_equal(ledger_of(shop, "K-1"), "put R2 09:00:05Z -\nnew R1 08:00:00Z -\n");
}

static void batch__lines_that_are_none__told_with_what_hangs_on_them(void **state)
{
	struct shop *shop = *state;
	char *lines = arena_format(shop->arena,
	                           "K-1\n2026-12-01T09:00:00Z,K-1,R2\n2026-12-01T09:00:00Z,\n"
	                           "\"2026-12-01T09:00:00Z,K-1\n2026-12-01T09:00:02Z,%01200d\n"
	                           "2026-12-01T09:00:04Z,quit\n2026-12-01T09:09:00Z,K-9",
	                           1);
	furnish(shop);
	assert_int_equal(apply_bytes(shop, lines, strlen(lines)), OUTCOME_NO);
	assert_string_equal(
		problems(shop),
		"1 : line has 1 cell, not a moment and a code. A line is like"
		" 2026-12-01T14:30:15,PC000025-1.\n"
		"2 : line has 3 cells, not a moment and a code. A line is like"
		" 2026-12-01T14:30:15,PC000025-1.\n"
		"3 : no code stands on the line\n"
		"4 : quote is opened and never closed. Close it, or double it where it is part of the"
		" cell.\n"
		"5 : line is longer than 1000 characters\n"
		"6 quit: quit is no scan\n"
		"7 K-9: line has no end, it may be cut off. Where it is whole, end it with a line break.\n");
	assert_string_equal(sums(shop), "7 0 0 0 7");
}

static void batch__NUL_within__that_line_alone(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	struct text text = text_start(shop->arena);
	for (int i = 0; i < 4000; i++) {
		text_add(&text, "# a remark that fills the first piece\n");
	}
	text_add_bytes(&text, "2026-12-01T09:00:00Z,R\0\n", 24);
	text_add(&text, "2026-12-01T09:00:02Z,DONE\n2026-12-01T09:03:00Z,R2\n"
	                "2026-12-01T09:03:01Z,K-1\n");
	assert_int_equal(apply_bytes(shop, text.bytes, text.length), OUTCOME_NO);
	assert_string_equal(problems(shop), "4001 : line holds a NUL byte\n");
	assert_string_equal(place_of(shop, "K-1"), "R2");
}

/* ---------------------------------------------------------------- files that are refused */

static enum outcome apply_path(struct shop *shop, const char *path)
{
	fault_clear(&shop->fault);
	return room_batch(shop->store, shop->arena, path, &asks, &shop->actor, &limits, &report,
	                  &shop->fault);
}

static void batch__no_file_of_lines__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply_path(shop, "/nowhere/lines.csv"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "file not found: /nowhere/lines.csv", "");
	assert_int_equal(apply_path(shop, shop->directory), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            arena_format(shop->arena, "file is a directory: %s", shop->directory), "");
	assert_int_equal(apply_bytes(shop, "", 0), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, arena_format(shop->arena, "file holds no scan: %s", shop->file),
	            "A line is like 2026-12-01T14:30:15,PC000025-1.");
	assert_int_equal(apply_bytes(shop, "moment,code\n", 12), OUTCOME_BAD);
	assert_int_equal(apply_bytes(shop, "\xff\xfe\x32\x00", 4), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            arena_format(shop->arena, "file is in UTF-16, not in UTF-8: %s", shop->file),
	            "Give lines of moment,code as text in UTF-8.");
	assert_int_equal(apply_bytes(shop,
	                             "\x7f"
	                             "ELF\0\0",
	                             6),
	                 OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            arena_format(shop->arena, "file is no text, it holds a NUL byte: %s", shop->file),
	            "Give lines of moment,code as text in UTF-8.");
}

static void batch__many_problems__all_counted_the_first_kept(void **state)
{
	struct shop *shop = *state;
	struct text text = text_start(shop->arena);
	furnish(shop);
	for (int i = 0; i < 50; i++) {
		text_add_format(&text, "2026-12-01T09:00:%02dZ,X-%d\n", i, i);
	}
	assert_int_equal(apply_bytes(shop, text.bytes, text.length), OUTCOME_NO);
	assert_int_equal(report.problem_count, 50);
	assert_int_equal(report.problems_kept, BATCH_PROBLEMS_SHOWN);
	assert_int_equal(report.problems[BATCH_PROBLEMS_SHOWN - 1].line, BATCH_PROBLEMS_SHOWN);
}

/* What a batch takes does not grow with its lines. */
static void batch__long__memory_stays(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 R2 00:01 K-1"), OUTCOME_DONE);
	size_t before = arena_bytes(shop->arena);
	FILE *file = fopen(shop->file, "wb");
	assert_non_null(file);
	for (int i = 0; i < 20000; i++) {
		fprintf(file, "2026-12-01T09:%02d:%02dZ,N1\n", 1 + i / 60 % 2, i % 60);
		if (i == 119) {
			break;
		}
	}
	for (int i = 0; i < 20000; i++) {
		fprintf(file, "2026-12-01T09:02:59Z,%s\n", i % 2 == 0 ? "N1" : "R2");
	}
	assert_int_equal(fclose(file), 0);
	assert_int_equal(apply_path(shop, shop->file), OUTCOME_DONE);
	assert_int_equal(report.lines, 20120);
	assert_true(arena_bytes(shop->arena) - before < (size_t)1024 * 1024);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(batch__own_code_in_the_form_of_a_misread_tag__applied),
		SHOP_TEST(batch__place_misread__nothing_behind_it_is_guessed),
		SHOP_TEST(batch__quiet_around_a_line_without_moment__is_none),
		SHOP_TEST(batch__quiet_behind_a_refused_place__goes_on),
		SHOP_TEST(batch__tool_refused__the_others_are_applied),
		SHOP_TEST(batch__cards_behind_a_refused_tool__for_no_other),
		SHOP_TEST(
			batch__done_after_a_tool_that_went_to_a_press_since__the_same_again_changes_nothing),
		SHOP_TEST(batch__out_for_a_job_again_by_undo__goes_home),
		SHOP_TEST(batch__place_held_since__took_the_tool_then),
		SHOP_TEST(batch__badge_misread__nobody_else_is_named),
		SHOP_TEST(batch__card_behind_a_tool_refused__about_no_other),
		SHOP_TEST(batch__waiting_for_a_refused_place__goes_to_no_other),
		SHOP_TEST(batch__count__refused_with_what_follows),
		SHOP_TEST(batch__moments__refused_line_by_line),
		SHOP_TEST(batch__clock_set_back__places_do_not_mix),
		SHOP_TEST(batch__forms_of_lines__understood),
		SHOP_TEST(batch__lines_that_are_none__told_with_what_hangs_on_them),
		SHOP_TEST(batch__NUL_within__that_line_alone),
		SHOP_TEST(batch__no_file_of_lines__refused),
		SHOP_TEST(batch__many_problems__all_counted_the_first_kept),
		SHOP_TEST(batch__long__memory_stays),
	};
	return cmocka_run_group_tests_name("batch, refused", tests, NULL, NULL);
}
