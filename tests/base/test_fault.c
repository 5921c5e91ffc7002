#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/base.h"

static void fault_set__empty_fault__holds_outcome_and_sentence(void **state)
{
	(void)state;
	struct fault fault;
	fault_clear(&fault);
	assert_int_equal(fault_set(&fault, OUTCOME_BAD, "tag not known: %s", "PC000321-M"),
	                 OUTCOME_BAD);
	assert_int_equal(fault.outcome, OUTCOME_BAD);
	assert_string_equal(fault.sentence, "tag not known: PC000321-M");
	assert_string_equal(fault.hint, "");
}

static void fault_set__second_fault__the_first_is_kept(void **state)
{
	(void)state;
	struct fault fault;
	fault_clear(&fault);
	fault_set(&fault, OUTCOME_BAD, "the first");
	assert_int_equal(fault_set(&fault, OUTCOME_STORE, "the second"), OUTCOME_STORE);
	assert_int_equal(fault.outcome, OUTCOME_BAD);
	assert_string_equal(fault.sentence, "the first");
}

static void fault_set__no_fault_wanted__gives_the_outcome(void **state)
{
	(void)state;
	assert_int_equal(fault_set(NULL, OUTCOME_NO, "none"), OUTCOME_NO);
	fault_hint(NULL, "none");
}

static void fault_hint__twice__the_first_is_kept(void **state)
{
	(void)state;
	struct fault fault;
	fault_clear(&fault);
	fault_set(&fault, OUTCOME_BAD, "command not known: shwo");
	fault_hint(&fault, "type: %s", "show");
	fault_hint(&fault, "type: help");
	assert_string_equal(fault.hint, "type: show");
	fault_clear(&fault);
	assert_int_equal(fault.outcome, OUTCOME_DONE);
	assert_string_equal(fault.sentence, "");
	assert_string_equal(fault.hint, "");
}

/* What is typed, and how a sentence quotes it. */
static const struct {
	const char *typed;
	const char *shown;
} quoted[] = {
	{"plain text, 100%", "plain text, 100%"},
	{"\x1b[31mred", "\\x1b[31mred"},
	{"a\tb\nc\rd", "a\\x09b\\x0ac\\x0dd"},
	{"\x7f", "\\x7f"},
	{"gr\xc3\xbc\xc3\x9f", "gr\xc3\xbc\xc3\x9f"},
	{"\xe2\x82\xac 5", "\xe2\x82\xac 5"},
	{"\xf0\x9f\x99\x82", "\xf0\x9f\x99\x82"},
	{"\xc2\x9b"
     "31m",
     "\\xc2\\x9b31m"}, /* U+009B, a terminal's control sequence introducer */
	{"\x9b"
     "31m",
     "\\x9b31m"},
	{"\xc3", "\\xc3"}, /* cut short */
	{"\xc3(", "\\xc3("},
	{"\xc0\xaf", "\\xc0\\xaf"}, /* longer than need be */
	{"\xe0\x80\xaf", "\\xe0\\x80\\xaf"},
	{"\xed\xa0\x80", "\\xed\\xa0\\x80"}, /* half of a pair */
	{"\xf4\x90\x80\x80", "\\xf4\\x90\\x80\\x80"},
	{"\xff\xfe", "\\xff\\xfe"},
	{"a\xe2\x80\xae"
     "b",
     "a\\xe2\\x80\\xaeb"}, /* U+202E turns the direction of writing */
};

static void fault_set__odd_bytes__shown_harmless(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(quoted); i++) {
		struct fault fault;
		fault_clear(&fault);
		fault_set(&fault, OUTCOME_BAD, "%s", quoted[i].typed);
		fault_hint(&fault, "%s", quoted[i].typed);
		assert_string_equal(fault.sentence, quoted[i].shown);
		assert_string_equal(fault.hint, quoted[i].shown);
	}
}

/* Any length of what is quoted: the text ends within its room, at a whole character. */
static void fault_set__very_long__cut_at_a_whole_character(void **state)
{
	(void)state;
	for (size_t lead = 0; lead < 4; lead++) {
		char typed[5001];
		memset(typed, 'a', lead);
		for (size_t i = lead; i + 3 < sizeof typed; i += 3) {
			memcpy(typed + i, "\xe2\x82\xac", 4);
		}
		struct fault fault;
		fault_clear(&fault);
		fault_set(&fault, OUTCOME_BAD, "%s", typed);
		fault_hint(&fault, "%s", typed);
		size_t length = strlen(fault.sentence);
		assert_in_range(length, sizeof fault.sentence - 6, sizeof fault.sentence - 1);
		assert_int_equal((length - lead) % 3, 0);
		assert_int_equal((strlen(fault.hint) - lead) % 3, 0);
		assert_null(strchr(fault.sentence, '\\'));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(fault_set__empty_fault__holds_outcome_and_sentence),
		cmocka_unit_test(fault_set__second_fault__the_first_is_kept),
		cmocka_unit_test(fault_set__no_fault_wanted__gives_the_outcome),
		cmocka_unit_test(fault_hint__twice__the_first_is_kept),
		cmocka_unit_test(fault_set__odd_bytes__shown_harmless),
		cmocka_unit_test(fault_set__very_long__cut_at_a_whole_character),
	};
	return cmocka_run_group_tests_name("fault", tests, NULL, NULL);
}
