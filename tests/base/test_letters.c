/* Letters of any language, in either case. */
#include <locale.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "toothrack/base.h"

static int locale_set(void **state)
{
	(void)state;
	assert_non_null(setlocale(LC_CTYPE, "C.UTF-8"));
	return 0;
}

static void text_holds_fold__parts__held_in_either_case(void **state)
{
	static const struct {
		const char *text, *part;
		bool held;
	} cases[] = {
		{"scored band", "Band", true},
		{"scored band", "d b", true},
		{"scored band", "", true},
		{"", "", true},
		{"", "a", false},
		{"band", "bands", false},
		{"Grünspan", "GRÜN", true},
		{"ÖL", "öl", true},
		{"Öl", "ol", false},
		{"日本語", "本", true},
		{"aab", "ab", true},
		{"\xff\xfe", "\xfe", true},
		{"\xc3", "\xc3", true},
		{"\xe2\x82", "\xe2", true},
		{"ends in \xf0\x9f", "in", true},
	};
	(void)state;
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		if (text_holds_fold(cases[i].text, cases[i].part) != cases[i].held) {
			fail_msg("%s, %s", cases[i].text, cases[i].part);
		}
	}
}

static void text_has_letter__signs_alone__none(void **state)
{
	(void)state;
	assert_true(text_has_letter("...7"));
	assert_true(text_has_letter("(Ö)"));
	assert_true(text_has_letter("語"));
	assert_false(text_has_letter(""));
	assert_false(text_has_letter("\"*^ - ()"));
	assert_false(text_has_letter("…–"));
}

static void text_turns__controls_of_direction_and_lines__and_no_other(void **state)
{
	static const char *const turning[] = {
		"\xe2\x80\xa8",   "\xe2\x80\xa9", "\xe2\x80\xaa",
		"\xe2\x80\xae x", "\xe2\x81\xa6", "\xe2\x81\xa9",
	};
	static const char *const plain[] = {
		"",
		"x\xe2\x80\xae",
		"\xe2",
		"\xe2\x80",
		"\xe2\x80\xa7",
		"\xe2\x80\xaf",
		"\xe2\x81\xa5",
		"\xe2\x81\xaa",
		"\xe2\x82\xac",
	};
	(void)state;
	for (size_t i = 0; i < COUNT_OF(turning); i++) {
		assert_true(text_turns(turning[i]));
	}
	for (size_t i = 0; i < COUNT_OF(plain); i++) {
		assert_false(text_turns(plain[i]));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(text_holds_fold__parts__held_in_either_case),
		cmocka_unit_test(text_turns__controls_of_direction_and_lines__and_no_other),
		cmocka_unit_test(text_has_letter__signs_alone__none),
	};
	return cmocka_run_group_tests(tests, locale_set, NULL);
}
