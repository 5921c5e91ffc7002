/* Batches: each line at its own moment and once, merged with what happened since. */
#include "batch_lines.h"

/* ---------------------------------------------------------------- what is applied */

static void batch__place_then_tools__each_at_its_moment(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 N1 00:05 R2 00:07 K-1 00:09 K-2 00:30 C1 00:35 K-3"),
	                 OUTCOME_DONE);
	assert_string_equal(sums(shop), "6 3 0 3 0");
	assert_string_equal(ledger_of(shop, "K-1"),
	                    "put R2 09:00:07Z Nora Tindle\nnew R1 08:00:00Z -\n");
	assert_string_equal(place_of(shop, "K-2"), "R2");
	assert_string_equal(ledger_of(shop, "K-3"),
	                    "put C1 09:00:35Z Nora Tindle\nnew R1 08:00:00Z -\n");
	entries_of(shop);
}

static void batch__tools_then_place__go_together_when_it_was_scanned(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:05 K-1 00:07 K-2 00:20 C1"), OUTCOME_DONE);
	assert_string_equal(sums(shop), "3 1 0 2 0");
	assert_string_equal(ledger_of(shop, "K-2"), "put C1 09:00:20Z -\nnew R1 08:00:00Z -\n");
}

/* vocabulary.md: 60 s of quiet; the same code within two seconds is one scan. */
static void batch__quiet_and_doubled__by_the_moments_of_the_lines(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 R2 01:00 K-1 02:01 K-2 02:03 K-2"), OUTCOME_NO);
	assert_string_equal(place_of(shop, "K-1"), "R2");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(sums(shop), "4 1 0 3 1");
	assert_string_equal(problems(shop),
	                    "4 K-2: not moved, no place was scanned: PC000002-F. Scan them again, then"
	                    " the place where they are.\n");
}

static void batch__cards__as_at_the_bench(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	put(shop, "K-1", "P1-1", "2026-12-01T08:30:00Z");
	assert_int_equal(apply(shop, "00:00 K-1 00:03 DONE 00:10 R2 00:12 K-2 00:15 UNDO 00:20 K-3"
	                             " 00:22 HOLD 00:24 nicked"),
	                 OUTCOME_DONE);
	assert_string_equal(place_of(shop, "K-1"), "R1");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	assert_string_equal(place_of(shop, "K-3"), "R2");
	assert_string_equal(shop_value(shop, "K-3", "condition"), "hold");
	assert_string_equal(ledger_of(shop, "K-2"),
	                    "undo R1 09:00:15Z -\nput R2 09:00:12Z -\nnew R1 08:00:00Z -\n");
	int64_t entries = entries_of(shop);
	assert_int_equal(apply(shop, "00:00 K-1 00:03 DONE 00:10 R2 00:12 K-2 00:15 UNDO 00:20 K-3"
	                             " 00:22 HOLD 00:24 nicked"),
	                 OUTCOME_DONE);
	assert_int_equal(entries_of(shop), entries);
	assert_string_equal(sums(shop), "8 0 5 3 0");
}

/* Who brought it acts where no badge was scanned, after ten minutes of quiet too. */
static void batch__brought_by_an_operator__acts_where_no_badge_was_scanned(void **state)
{
	struct shop *shop = *state;
	struct found found;
	furnish(shop);
	shop_has(shop, "operator", "badge=N2;name=Ivo Brandt;role=clerk");
	assert_int_equal(store_find(shop->store, "N2", REFER_NONE, &found, NULL), OUTCOME_DONE);
	shop->actor.operator_id = found.id;
	assert_int_equal(apply(shop,
	                       "00:00 R2 00:03 K-1 01:30 N1 01:32 R2 01:33 K-2 15:00 R2 15:03 K-3"),
	                 OUTCOME_DONE);
	assert_string_equal(ledger_of(shop, "K-1"),
	                    "put R2 09:00:03Z Ivo Brandt\nnew R1 08:00:00Z -\n");
	assert_string_equal(ledger_of(shop, "K-2"),
	                    "put R2 09:01:33Z Nora Tindle\nnew R1 08:00:00Z -\n");
	assert_string_equal(ledger_of(shop, "K-3"),
	                    "put R2 09:15:03Z Ivo Brandt\nnew R1 08:00:00Z -\n");
}

static void batch__job__tools_go_out_for_it(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 J1 00:05 K-1 00:06 K-2"), OUTCOME_DONE);
	assert_string_equal(sums(shop), "3 2 0 1 0");
	assert_string_equal(place_of(shop, "K-1"), "R1");
	assert_string_equal(ledger_of(shop, "K-1"), "take R1 09:00:05Z -\nnew R1 08:00:00Z -\n");
	entries_of(shop);
}

/* ---------------------------------------------------------------- again, in part, overlapping */

static void batch__the_same_again__changes_nothing(void **state)
{
	struct shop *shop = *state;
	static const char scans[] = "00:00 N1 00:05 R2 00:07 K-1 00:09 K-2 00:30 DONE 00:31 K-3"
								" 00:33 K-4 00:35 C1 00:50 K-1 00:55 J1";
	furnish(shop);
	assert_int_equal(apply(shop, scans), OUTCOME_DONE);
	assert_string_equal(sums(shop), "10 4 0 6 0");
	int64_t entries = entries_of(shop);
	assert_int_equal(apply(shop, scans), OUTCOME_DONE);
	assert_string_equal(sums(shop), "10 0 4 6 0");
	assert_int_equal(entries_of(shop), entries);
	/* Also when the tools have gone on since. */
	put(shop, "K-3", "R1", "2026-12-01T13:00:00Z");
	shop->actor.now = shop_moment("2026-12-01T14:00:00Z");
	assert_int_equal(apply(shop, scans), OUTCOME_DONE);
	assert_int_equal(entries_of(shop), entries + 1);
	assert_string_equal(place_of(shop, "K-3"), "R1");
}

static void batch__more_of_the_same_handheld__only_what_is_new(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:05 R2 00:07 K-1 00:09 K-2"), OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:05 R2 00:07 K-1 00:09 K-2 00:12 K-3"), OUTCOME_DONE);
	assert_string_equal(sums(shop), "4 1 2 1 0");
	assert_string_equal(place_of(shop, "K-3"), "R2");
}

/* The second file begins in the middle: where its first tools went stands in the first alone. */
static void batch__begins_within_one_that_was_applied__place_and_person_go_on(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:00 N1 00:05 R2 00:07 K-1 00:09 K-2"), OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:09 K-2 00:12 K-3 00:20 C1 00:25 K-4"), OUTCOME_DONE);
	assert_string_equal(sums(shop), "4 2 1 1 0");
	assert_string_equal(ledger_of(shop, "K-3"),
	                    "put R2 09:00:12Z Nora Tindle\nnew R1 08:00:00Z -\n");
	assert_string_equal(place_of(shop, "K-4"), "C1");
	/* And of a job. */
	assert_int_equal(apply(shop, "10:00 J1 10:05 K-5"), OUTCOME_DONE);
	assert_int_equal(apply(shop, "10:05 K-5 10:08 K-6"), OUTCOME_DONE);
	assert_string_equal(ledger_of(shop, "K-6"), "take R1 09:10:08Z -\nnew R1 08:00:00Z -\n");
}

/* A place that took what waited does not stand, though what waited is not in this file. */
static void batch__begins_with_a_place_that_took_tools__it_does_not_stand(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:05 K-1 00:07 K-2 00:20 R2"), OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:20 R2 00:25 K-3 00:30 C1"), OUTCOME_DONE);
	assert_string_equal(place_of(shop, "K-3"), "C1");
	assert_string_equal(place_of(shop, "K-1"), "R2");
}

/* Lines that were cut off by a kill: the rest follows when it is done again. */
static void batch__interrupted__completed_by_doing_it_again(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(apply(shop, "00:05 R2 00:07 K-1 00:09 K-2"), OUTCOME_DONE);
	store_close(shop->store);
	assert_int_equal(store_open(shop->path, STORE_WRITE, true, &shop->store, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:05 R2 00:07 K-1 00:09 K-2 00:11 K-3 00:13 UNDO 00:15 K-4"),
	                 OUTCOME_DONE);
	assert_string_equal(sums(shop), "6 3 2 1 0");
	assert_string_equal(place_of(shop, "K-3"), "R1");
	assert_string_equal(place_of(shop, "K-4"), "R2");
}

/* Two handhelds, the same card within the same second. */
static void batch__like_lines_of_two_handhelds__both_applied(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	put(shop, "K-1", "P1-1", "2026-12-01T08:30:00Z");
	put(shop, "K-2", "P1-2", "2026-12-01T08:30:00Z");
	assert_int_equal(apply(shop, "00:05 K-1 00:10 DONE"), OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:07 K-2 00:10 DONE"), OUTCOME_DONE);
	assert_string_equal(sums(shop), "2 1 0 1 0");
	assert_string_equal(place_of(shop, "K-2"), "R1");
	int64_t entries = entries_of(shop);
	assert_int_equal(apply(shop, "00:07 K-2 00:10 DONE"), OUTCOME_DONE);
	assert_int_equal(apply(shop, "00:05 K-1 00:10 DONE"), OUTCOME_DONE);
	assert_int_equal(entries_of(shop), entries);
}

/* A hold or a cleaning that is lost lets a damaged tool run. */
static void batch__like_cards_of_two_handhelds__both_applied(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	static const char first[] = "00:02 K-1 00:10 CLEANED 00:15 HOLD 00:20 nicked";
	static const char second[] = "00:01 R2 00:03 K-2 00:10 CLEANED 00:15 HOLD 00:20 nicked";
	assert_int_equal(apply(shop, first), OUTCOME_NO); /* K-1 waits in the end */
	assert_string_equal(sums(shop), "4 2 0 2 1");
	assert_int_equal(apply(shop, second), OUTCOME_DONE);
	assert_string_equal(sums(shop), "5 3 0 2 0");
	assert_string_equal(shop_value(shop, "K-1", "condition"), "hold");
	assert_string_equal(shop_value(shop, "K-2", "condition"), "hold");
	int64_t entries = entries_of(shop);
	assert_int_equal(apply(shop, first), OUTCOME_NO);
	assert_int_equal(apply(shop, second), OUTCOME_DONE);
	assert_int_equal(entries_of(shop), entries);
}

/* ---------------------------------------------------------------- merged with what happened since
 */

static void batch__tool_has_moved_since__recorded_and_stays(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	put(shop, "K-1", "C1", "2026-12-01T10:00:00Z");
	assert_int_equal(apply(shop, "00:05 R2 00:07 K-1 00:09 K-2"), OUTCOME_DONE);
	assert_string_equal(sums(shop), "3 2 0 1 0");
	assert_int_equal(report.caution_count, 1);
	assert_int_equal(report.cautions[0].line, 2);
	assert_string_equal(report.cautions[0].code, "K-1");
	assert_string_equal(report.cautions[0].text, "has moved since: it stays at C1");
	assert_string_equal(place_of(shop, "K-1"), "C1");
	assert_string_equal(ledger_of(shop, "K-1"),
	                    "put C1 10:00:00Z -\nput R2 09:00:07Z -\nnew R1 08:00:00Z -\n");
	entries_of(shop);
}

static void batch__condition_given_since__stays(void **state)
{
	struct shop *shop = *state;
	struct held held;
	furnish(shop);
	shop->actor.now = shop_moment("2026-12-01T10:00:00Z");
	assert_int_equal(room_hold(shop->store, shop->arena, "K-1", "scored", &shop->actor, &held,
	                           &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(room_clear(shop->store, shop->arena, "K-1", &shop->actor, &held, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-01T12:00:00Z");
	assert_int_equal(apply(shop, "00:00 R2 00:03 K-1 00:05 HOLD 00:08 nicked"), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-1", "condition"), "ready");
	assert_int_equal(report.caution_count, 1);
	assert_string_equal(report.cautions[0].text, "its condition changed since: it is ready");
	entries_of(shop);
}

/* Where it was then, not where it is now. */
static void batch__taken_late__the_ledger_tells_the_place_of_then(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	put(shop, "K-1", "C1", "2026-12-01T10:00:00Z");
	assert_int_equal(apply(shop, "00:05 J1 00:07 K-1"), OUTCOME_DONE);
	assert_string_equal(ledger_of(shop, "K-1"),
	                    "put C1 10:00:00Z -\ntake R1 09:00:07Z -\nnew R1 08:00:00Z -\n");
	assert_string_equal(place_of(shop, "K-1"), "C1");
	entries_of(shop);
}

static void batch__taken_since__stays_out(void **state)
{
	struct shop *shop = *state;
	struct found tool, job;
	struct tool_state now;
	furnish(shop);
	assert_int_equal(store_find(shop->store, "K-1", REFER_TOOL, &tool, NULL), OUTCOME_DONE);
	assert_int_equal(store_find(shop->store, "J1", REFER_JOB, &job, NULL), OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-01T10:00:00Z");
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_tool_take(shop->store, tool.id, job.id, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-01T12:00:00Z");
	assert_int_equal(apply(shop, "00:05 R2 00:07 K-1"), OUTCOME_DONE);
	assert_int_equal(store_tool_state(shop->store, shop->arena, tool.id, &now, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(now.taken_for, "J1");
	assert_string_equal(now.place_code, "R1");
	entries_of(shop);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(batch__place_then_tools__each_at_its_moment),
		SHOP_TEST(batch__tools_then_place__go_together_when_it_was_scanned),
		SHOP_TEST(batch__quiet_and_doubled__by_the_moments_of_the_lines),
		SHOP_TEST(batch__cards__as_at_the_bench),
		SHOP_TEST(batch__brought_by_an_operator__acts_where_no_badge_was_scanned),
		SHOP_TEST(batch__job__tools_go_out_for_it),
		SHOP_TEST(batch__the_same_again__changes_nothing),
		SHOP_TEST(batch__more_of_the_same_handheld__only_what_is_new),
		SHOP_TEST(batch__begins_within_one_that_was_applied__place_and_person_go_on),
		SHOP_TEST(batch__begins_with_a_place_that_took_tools__it_does_not_stand),
		SHOP_TEST(batch__interrupted__completed_by_doing_it_again),
		SHOP_TEST(batch__like_lines_of_two_handhelds__both_applied),
		SHOP_TEST(batch__like_cards_of_two_handhelds__both_applied),
		SHOP_TEST(batch__tool_has_moved_since__recorded_and_stays),
		SHOP_TEST(batch__condition_given_since__stays),
		SHOP_TEST(batch__taken_since__stays_out),
		SHOP_TEST(batch__taken_late__the_ledger_tells_the_place_of_then),
	};
	return cmocka_run_group_tests_name("batch", tests, NULL, NULL);
}
