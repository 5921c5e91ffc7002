#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/tag.h"

/* Cards hang in shops: what a serial means may never change, so it stands here a second time. */
static const struct {
	int64_t serial;
	const char *says;
} printed[] = {
	{1, "HOME"},
	{2, "HOLD"},
	{3, "DIRTY"},
	{4, "CLEANED"},
	{5, "COUNT"},
	{6, "UNDO"},
	{7, "SHOW"},
	{8, "YES"},
	{9, "DONE"},
	{101, "nicked"},
	{102, "scored"},
	{103, "worn"},
	{104, "bent journal"},
	{105, "bearing rough"},
	{106, "plugged cells"},
	{107, "gear tooth damaged"},
	{108, "runout too large"},
	{109, "cutting edge dull"},
	{110, "edge damaged"},
	{111, "leaking"},
	{112, "to be measured"},
	{113, "dropped"},
	{114, "corroded"},
};

static void action_cards__serials_printed__keep_their_meaning(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(printed); i++) {
		const struct action_card *card = action_card_find(printed[i].serial);
		assert_non_null(card);
		assert_string_equal(card->word != NULL ? card->word : card->reason, printed[i].says);
	}
}

static void action_cards__each__a_word_or_a_reason_once_in_order(void **state)
{
	(void)state;
	size_t count = 0;
	const struct action_card *cards = action_cards(&count);
	assert_true(count >= COUNT_OF(printed));
	for (size_t i = 0; i < count; i++) {
		assert_true((cards[i].word == NULL) != (cards[i].reason == NULL));
		assert_true((cards[i].reason != NULL) == (cards[i].serial >= REASON_CARD_FIRST));
		assert_true(i == 0 || cards[i].serial > cards[i - 1].serial);
		assert_true(cards[i].meaning[0] != '\0');
		assert_ptr_equal(action_card_find(cards[i].serial), &cards[i]);
	}
}

static void action_card_find__no_such_serial__null(void **state)
{
	(void)state;
	assert_null(action_card_find(0));
	assert_null(action_card_find(10));
	assert_null(action_card_find(100));
	assert_null(action_card_find(100000));
}

static void action_card_named__either_case__found_and_reasons_are_not(void **state)
{
	(void)state;
	assert_int_equal(action_card_named("undo")->serial, ACTION_UNDO);
	assert_int_equal(action_card_named("Done")->serial, ACTION_DONE);
	assert_null(action_card_named("nicked"));
	assert_null(action_card_named(""));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(action_cards__serials_printed__keep_their_meaning),
		cmocka_unit_test(action_cards__each__a_word_or_a_reason_once_in_order),
		cmocka_unit_test(action_card_find__no_such_serial__null),
		cmocka_unit_test(action_card_named__either_case__found_and_reasons_are_not),
	};
	return cmocka_run_group_tests_name("action", tests, NULL, NULL);
}
