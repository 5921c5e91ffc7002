/* Movements: where tools are after them, what is told, what is refused and leaves nothing behind.
 */
#include "shop.h"

static struct moved moved[4];

/* What the planner's room would say of a tool at a press; NULL: nobody asks. */
static const struct bench_asks *asks;
static struct bench_verdict station_verdict;
static size_t times_asked;

static enum outcome takes(struct store *store, struct arena *arena, int64_t place, int64_t tool,
                          struct bench_verdict *out, struct fault *fault)
{
	(void)store, (void)arena, (void)place, (void)tool;
	times_asked++;
	*out = station_verdict;
	return station_verdict.expected == NULL
	           ? OUTCOME_DONE
	           : fault_set(fault, OUTCOME_STORE, "%s", station_verdict.expected);
}

static const struct bench_asks asking = {.takes = takes};

static void ask_with(struct bench_verdict verdict)
{
	asks = &asking;
	station_verdict = verdict;
	times_asked = 0;
}

static int tear_down(void **state)
{
	asks = NULL;
	return shop_close(state);
}

static enum outcome put(struct shop *shop, const char *tags, const char *place)
{
	const char *list[4];
	size_t count = 0;
	char *rest = arena_copy(shop->arena, tags);
	for (char *tag = strtok(rest, " "); tag != NULL; tag = strtok(NULL, " ")) {
		assert_true(count < COUNT_OF(list));
		list[count++] = tag;
	}
	fault_clear(&shop->fault);
	return room_put(shop->store, shop->arena, list, count, place, asks, &shop->actor, moved,
	                &shop->fault);
}

static enum outcome send(struct shop *shop, const char *tag, const char *place, const char *back,
                         const char *reason)
{
	struct moment due;
	fault_clear(&shop->fault);
	if (back != NULL) {
		due = shop_moment(back);
	}
	return room_send(shop->store, shop->arena, tag, place, back != NULL ? &due : NULL, reason,
	                 &shop->actor, moved, &shop->fault);
}

static enum outcome receive(struct shop *shop, const char *tag, const char *place)
{
	fault_clear(&shop->fault);
	return room_receive(shop->store, shop->arena, tag, place, asks, &shop->actor, moved,
	                    &shop->fault);
}

static const char *last_entry(struct shop *shop, const char *tag)
{
	struct found found;
	struct ledger_entry *entries;
	size_t count;
	assert_int_equal(store_find(shop->store, tag, REFER_TOOL, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_ledger_of(shop->store, shop->arena, found.kind, found.id, 1, &entries,
	                                 &count, NULL),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	return arena_format(shop->arena, "%s %s -> %s%s%s", entries[0].word,
	                    entries[0].from_code != NULL ? entries[0].from_code : "?",
	                    entries[0].to_code != NULL ? entries[0].to_code : "?",
	                    entries[0].detail != NULL ? ": " : "",
	                    entries[0].detail != NULL ? entries[0].detail : "");
}

/* ---------------------------------------------------------------- put */

static void room_put__several__all_there_and_in_the_ledger(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1;home=R1");
	shop_has(shop, "cylinder", "other_tag=K-2");
	assert_int_equal(put(shop, "K-1 pc000002f", "r2"), OUTCOME_DONE);
	assert_string_equal(moved[0].from, "R1");
	assert_string_equal(moved[0].tool.place_code, "R2");
	assert_null(moved[0].caution);
	assert_null(moved[1].from);
	assert_string_equal(shop_value(shop, "K-1", "place"), "R2");
	assert_string_equal(shop_value(shop, "K-1", "home"), "R1");
	assert_string_equal(shop_value(shop, "K-2", "place"), "R2");
	assert_string_equal(last_entry(shop, "K-1"), "put R1 -> R2");
	assert_int_equal(put(shop, "K-1", "P1-2"), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-1", "place"), "P1-2");
}

static void room_put__what_one_should_know__told(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1;condition=hold;note=scored band");
	assert_int_equal(put(shop, "K-1", "R1"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution, "was at R1 already; still on hold: scored band");
	assert_int_equal(put(shop, "K-1", "LOST"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution, "counts as lost from now on; still on hold: scored band");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution,
	                    "was lost: look it over before it runs; still on hold: scored band");
}

static void room_put__one_of_several_refused__none_moved(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1");
	shop_has(shop, "cylinder", "other_tag=K-2;place=R1;condition=scrapped;note=cracked");
	assert_int_equal(put(shop, "K-1 K-2", "R2"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "tool is scrapped: PC000002-F: cracked",
	            "Type edit PC000002-F condition=ready where it was not.");
	assert_int_equal(put(shop, "K-1 K-3", "R2"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "tool not known: K-3", shop->fault.hint);
	assert_int_equal(put(shop, "K-1 PC000001-H", "R2"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "tag given twice: PC000001-H", "Name each tool once.");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
	assert_string_equal(last_entry(shop, "K-1"), "new ? -> R1");
}

static void room_put__place_that_does_not_serve__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "place", "code=R9;sort=store;retired=yes");
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1");
	assert_int_equal(put(shop, "K-1", "R9"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is retired: R9", "Name a place that is in use.");
	assert_int_equal(put(shop, "K-1", "S1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is a supplier: S1",
	            "Type send K-1 at=S1 back=DATE reason=...");
	assert_int_equal(put(shop, "K-1", "R44"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "place not known: R44", shop->fault.hint);
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
}

static void room_put__clock_behind_the_last_movement__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1");
	shop->actor.now = shop_moment("2026-11-30T08:00:00Z");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_NO);
	shop_faults(
		shop, OUTCOME_NO, "clock stands before the tool's last movement: PC000001-H",
		"Set this computer's clock, then type it again; history PC000001-H tells when it moved.");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
}

/* ---------------------------------------------------------------- at a press */

static void room_put__press_does_not_take_it__there_all_the_same_with_a_caution(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1;condition=hold;note=scored band");
	shop_has(shop, "cylinder", "other_tag=K-2;place=R1");
	/* as the planner's room says it: the tool's own hold first */
	ask_with((struct bench_verdict){.text = "on hold: scored band; P1-D1 takes none"});
	assert_int_equal(put(shop, "K-1", "P1-D1"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution, "on hold: scored band; P1-D1 takes none");
	assert_string_equal(shop_value(shop, "K-1", "place"), "P1-D1");
	assert_int_equal(put(shop, "K-1", "P1-D1"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution,
	                    "was at P1-D1 already; on hold: scored band; P1-D1 takes none");
	ask_with((struct bench_verdict){.yes = true, .caution = "K-1 stands there already"});
	assert_int_equal(put(shop, "K-2", "P1"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution, "K-1 stands there already");
	ask_with((struct bench_verdict){.yes = true, .text = "cylinder"});
	assert_int_equal(put(shop, "K-2", "P1-2"), OUTCOME_DONE);
	assert_null(moved[0].caution);
	assert_int_equal(times_asked, 1);
	/* of any other place nobody asks */
	assert_int_equal(put(shop, "K-1 K-2", "R2"), OUTCOME_DONE);
	assert_int_equal(times_asked, 1);
	assert_string_equal(moved[0].caution, "still on hold: scored band");
}

static void room_receive__press_does_not_take_it__there_all_the_same_with_a_caution(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=S1");
	ask_with((struct bench_verdict){.text = "P1-D1 takes none"});
	assert_int_equal(receive(shop, "K-1", "P1-D1"), OUTCOME_DONE);
	assert_string_equal(moved[0].caution, "P1-D1 takes none");
	assert_string_equal(shop_value(shop, "K-1", "place"), "P1-D1");
}

static void room_put__store_cannot_tell__nothing_moved(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1");
	ask_with((struct bench_verdict){.expected = "disk is gone"});
	assert_int_equal(put(shop, "K-1", "P1-2"), OUTCOME_STORE);
	assert_string_equal(shop->fault.sentence, "disk is gone");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
}

/* ---------------------------------------------------------------- send */

static void room_send__to_a_supplier__due_back_and_reason_kept(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "anilox", "other_tag=A-1;place=R1;home=R1");
	assert_int_equal(send(shop, "A-1", "S1", "2026-12-14", " to be engraved "), OUTCOME_DONE);
	assert_string_equal(moved[0].tool.place_code, "S1");
	assert_string_equal(shop_value(shop, "A-1", "back"), "2026-12-14");
	assert_string_equal(last_entry(shop, "A-1"), "send R1 -> S1: back 2026-12-14: to be engraved");
	/* Sent on without a date: the old one does not stand. */
	assert_int_equal(send(shop, "A-1", "S1", NULL, "no date yet"), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "A-1", "back"), "");
}

static void room_send__what_does_not_agree__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "anilox", "other_tag=A-1;place=R1;home=R1");
	assert_int_equal(send(shop, "A-1", "R2", "2026-12-14", "to be engraved"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is not a supplier: R2", "Type put AN000001-R at=R2.");
	assert_int_equal(send(shop, "A-1", "S1", "2026-11-30", "to be engraved"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "back lies in the past: 2026-11-30",
	            "Type when it is due, or leave back out where no date is promised.");
	assert_int_equal(send(shop, "A-1", "S1", "2026-12-14", "  "), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "reason is not given",
	            "Type send A-1 at=S1 reason=\"to be ground\".");
	assert_int_equal(send(shop, "A-1", "S1", "2026-12-14", NULL), OUTCOME_BAD);
	assert_int_equal(send(shop, "A-1", "S1", "2026-12-14", "to \x1b[2J"), OUTCOME_BAD);
	assert_string_equal(shop_value(shop, "A-1", "place"), "R1");
	/* due today: a date alone is the end of that day */
	assert_int_equal(send(shop, "A-1", "S1", "2026-12-01", "to be engraved"), OUTCOME_DONE);
}

/* ---------------------------------------------------------------- receive */

static void room_receive__home_or_the_place_named__there_and_no_longer_due(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "anilox", "other_tag=A-1;place=R1;home=R1");
	assert_int_equal(send(shop, "A-1", "S1", "2026-12-14", "to be engraved"), OUTCOME_DONE);
	assert_int_equal(receive(shop, "A-1", NULL), OUTCOME_DONE);
	assert_string_equal(moved[0].from, "S1");
	assert_string_equal(moved[0].tool.place_code, "R1");
	assert_string_equal(shop_value(shop, "A-1", "back"), "");
	assert_int_equal(receive(shop, "A-1", "R2"), OUTCOME_DONE);
	assert_string_equal(last_entry(shop, "A-1"), "receive R1 -> R2");
}

static void room_receive__nowhere_to_go__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "anilox", "other_tag=A-1");
	shop_has(shop, "anilox", "other_tag=A-2;condition=scrapped");
	assert_int_equal(receive(shop, "A-1", NULL), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "home of the tool not known: AN000001-R",
	            "Type receive AN000001-R at=PLACE.");
	assert_int_equal(receive(shop, "A-1", "S1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is a supplier, nothing is received there: S1",
	            "Type receive AN000001-R at=PLACE with a place of the shop.");
	assert_int_equal(receive(shop, "A-1", "LOST"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is for what is lost, nothing is received there: LOST",
	            "Type receive AN000001-R at=PLACE with the place where it is now.");
	assert_int_equal(receive(shop, "A-2", "R1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "tool is scrapped: AN000002-P",
	            "Type edit AN000002-P condition=ready where it was not.");
	assert_string_equal(shop_value(shop, "A-1", "place"), "");
}

#define MOVE_TEST(test) cmocka_unit_test_setup_teardown(test, shop_open, tear_down)

int main(void)
{
	const struct CMUnitTest tests[] = {
		MOVE_TEST(room_put__several__all_there_and_in_the_ledger),
		MOVE_TEST(room_put__what_one_should_know__told),
		MOVE_TEST(room_put__one_of_several_refused__none_moved),
		MOVE_TEST(room_put__place_that_does_not_serve__refused),
		MOVE_TEST(room_put__clock_behind_the_last_movement__refused),
		MOVE_TEST(room_put__press_does_not_take_it__there_all_the_same_with_a_caution),
		MOVE_TEST(room_receive__press_does_not_take_it__there_all_the_same_with_a_caution),
		MOVE_TEST(room_put__store_cannot_tell__nothing_moved),
		MOVE_TEST(room_send__to_a_supplier__due_back_and_reason_kept),
		MOVE_TEST(room_send__what_does_not_agree__refused),
		MOVE_TEST(room_receive__home_or_the_place_named__there_and_no_longer_due),
		MOVE_TEST(room_receive__nowhere_to_go__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
