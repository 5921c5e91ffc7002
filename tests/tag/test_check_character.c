#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "check_characters.h"
#include "toothrack/tag.h"

static void tag_check_character__published__as_published(void **state)
{
	(void)state;
	static const struct {
		const char *code;
		char check;
		const char *source;
	} rows[] = {
		{"A12425GABC1234002", 'M', "ISO/IEC 7064, as in python-stdnum iso7064.mod_37_36"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		char check = '\0';
		if (!tag_check_character(rows[i].code, &check) || check != rows[i].check) {
			fail_msg("%s: %c: %s", rows[i].code, check, rows[i].source);
		}
	}
}

static void tag_check_character__other_reckoning__agrees(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(check_characters); i++) {
		char check = '\0';
		assert_true(tag_check_character(check_characters[i].code, &check));
		if (check != check_characters[i].check) {
			fail_msg("%s: %c", check_characters[i].code, check);
		}
	}
}

static void tag_check_character__case_and_separators__make_no_difference(void **state)
{
	(void)state;
	char check = '\0';
	assert_true(tag_check_character("a12425-gabc 1234.00_2", &check));
	assert_int_equal(check, 'M');
}

static void tag_check_character__empty_or_foreign__none(void **state)
{
	(void)state;
	static const char *const codes[] = {"", " -._", "PC/1", "PC+1", "\u00c4", "PC\x1d"};
	for (size_t i = 0; i < COUNT_OF(codes); i++) {
		char check = '?';
		assert_false(tag_check_character(codes[i], &check));
		assert_int_equal(check, '?');
	}
}

/* What the system promises: one wrong character is always noticed. */
static void tag_check_character__slip_of_a_finger__another_character(void **state)
{
	(void)state;
	static const char characters[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
	for (size_t i = 0; i < COUNT_OF(check_characters); i += 7) {
		char code[32];
		const char *right = check_characters[i].code;
		for (size_t at = 0; right[at] != '\0'; at++) {
			for (size_t c = 0; c < sizeof characters - 1; c++) {
				char check = '\0';
				snprintf(code, sizeof code, "%s", right);
				code[at] = characters[c];
				assert_true(tag_check_character(code, &check));
				assert_int_equal(check == check_characters[i].check, code[at] == right[at]);
			}
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tag_check_character__published__as_published),
		cmocka_unit_test(tag_check_character__other_reckoning__agrees),
		cmocka_unit_test(tag_check_character__case_and_separators__make_no_difference),
		cmocka_unit_test(tag_check_character__empty_or_foreign__none),
		cmocka_unit_test(tag_check_character__slip_of_a_finger__another_character),
	};
	return cmocka_run_group_tests_name("tag/check_character", tests, NULL, NULL);
}
