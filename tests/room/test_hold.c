/* Condition: what is held and cleared, since when and why, and what cannot be. */
#include "shop.h"

static struct held held;

static enum outcome hold(struct shop *shop, const char *tag, const char *reason)
{
	fault_clear(&shop->fault);
	return room_hold(shop->store, shop->arena, tag, reason, &shop->actor, &held, &shop->fault);
}

static enum outcome clear(struct shop *shop, const char *tag)
{
	fault_clear(&shop->fault);
	return room_clear(shop->store, shop->arena, tag, &shop->actor, &held, &shop->fault);
}

static void room_hold__tool__held_until_cleared(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;teeth=96;pitch=1/8cp;face=330mm");
	assert_int_equal(hold(shop, "K-1", " scored band "), OUTCOME_DONE);
	assert_string_equal(held.subject, "PC000001-H");
	assert_string_equal(held.what, "plate cylinder, 96 teeth 1/8cp, face 330mm");
	assert_string_equal(held.reason, "scored band");
	assert_string_equal(shop_value(shop, "K-1", "condition"), "hold");
	assert_int_equal(clear(shop, "k-1"), OUTCOME_DONE);
	assert_string_equal(held.reason, "scored band");
	assert_string_equal(shop_value(shop, "K-1", "condition"), "ready");
}

static void room_hold__station_of_a_press__held(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	assert_int_equal(hold(shop, "p1-d1", "anvil marked"), OUTCOME_DONE);
	assert_string_equal(held.subject, "P1-D1");
	assert_string_equal(shop_value(shop, "P1-D1", "condition"), "hold");
	assert_string_equal(shop_value(shop, "P1-1", "condition"), "ready");
	assert_int_equal(clear(shop, "P1-D1"), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "P1-D1", "condition"), "ready");
}

static void room_hold__held_already__refused_with_since_and_why(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1");
	assert_int_equal(hold(shop, "K-1", "scored band"), OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-03T08:00:00Z");
	assert_int_equal(hold(shop, "K-1", "dented"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO,
	            "plate cylinder is on hold already: PC000001-H since 2026-12-01T08:00: scored band",
	            "Type clear PC000001-H first to give another reason.");
	assert_int_equal(hold(shop, "P1-2", "worn"), OUTCOME_DONE);
	assert_int_equal(hold(shop, "P1-2", "worn"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is on hold already: P1-2 since 2026-12-03T08:00: worn",
	            "Type clear P1-2 first to give another reason.");
}

static void room_hold__note_changed_since__since_when_it_was_held(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1;note=new");
	assert_int_equal(hold(shop, "K-1", "scored band"), OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-03T08:00:00Z");
	assert_int_equal(shop_import(shop, "cylinder", "other_tag,note\nK-1,in fair condition now\n",
	                             true),
	                 OUTCOME_DONE);
	assert_int_equal(shop->report.changed, 1);
	assert_int_equal(hold(shop, "K-1", "dented"), OUTCOME_NO);
	assert_non_null(strstr(shop->fault.sentence, "since 2026-12-01T08:00: scored band"));
}

static void room_hold__without_a_reason__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1");
	assert_int_equal(hold(shop, "K-1", NULL), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "reason is not given", "Type hold K-1 reason=\"scored band\".");
	assert_int_equal(hold(shop, "K-1", "  "), OUTCOME_BAD);
	assert_string_equal(shop_value(shop, "K-1", "condition"), "ready");
}

static void room_hold__what_has_no_condition__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	assert_int_equal(hold(shop, "J1", "late"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "a job cannot be held: J1",
	            "Name a tool by its tag, or a station of a press such as P1-3.");
	assert_int_equal(hold(shop, "K-9", "late"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "tag not known: K-9", shop->fault.hint);
}

static void room_clear__not_held_or_scrapped__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-1");
	shop_has(shop, "cylinder", "other_tag=K-2;condition=scrapped;note=cracked");
	assert_int_equal(clear(shop, "K-1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "plate cylinder is not on hold: PC000001-H", "");
	assert_int_equal(clear(shop, "P1-1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is not on hold: P1-1", "");
	assert_int_equal(clear(shop, "K-2"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "tool is scrapped: PC000002-F: cracked",
	            "Type edit PC000002-F condition=ready where it was not.");
	assert_int_equal(hold(shop, "K-2", "cracked"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "tool is scrapped: PC000002-F: cracked",
	            "Type edit PC000002-F condition=ready where it was not.");
	assert_string_equal(shop_value(shop, "K-2", "condition"), "scrapped");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_hold__tool__held_until_cleared),
		SHOP_TEST(room_hold__station_of_a_press__held),
		SHOP_TEST(room_hold__held_already__refused_with_since_and_why),
		SHOP_TEST(room_hold__note_changed_since__since_when_it_was_held),
		SHOP_TEST(room_hold__without_a_reason__refused),
		SHOP_TEST(room_hold__what_has_no_condition__refused),
		SHOP_TEST(room_clear__not_held_or_scrapped__refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
