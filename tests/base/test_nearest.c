#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/base.h"

static const char *const commands[] =
	{"show", "scan", "scrap", "send", "check", "choices", "magnetic_cylinder", NULL};

/* A word typed, and the one meant; NULL: none is near enough. */
static const struct {
	const char *typed;
	const char *meant;
} guesses[] = {
	{"show", "show"},
	{"SHOW", "show"},
	{"shwo", "show"},  /* neighbours swapped: one edit */
	{"sho", "show"},   /* one left out */
	{"shoow", "show"}, /* one too many */
	{"shaw", "show"},  /* one changed */
	{"sned", "send"},
	{"choises", "choices"},
	{"chioses", "choices"}, /* two edits of seven letters */
	{"xhoisse", NULL},
	{"magnetic-cylinder", "magnetic_cylinder"},
	{"magnetcylinders", "magnetic_cylinder"},
	{"xyzzy", NULL},
	{"", NULL},
	{"s", NULL},
	{"shxx", NULL},
};

static void text_nearest__table__the_word_meant(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(guesses); i++) {
		const char *found = text_nearest(guesses[i].typed, commands);
		if (guesses[i].meant == NULL) {
			assert_null(found);
		} else {
			assert_non_null(found);
			assert_string_equal(found, guesses[i].meant);
		}
	}
}

static void text_nearest__two_as_near__the_first(void **state)
{
	(void)state;
	const char *const words[] = {"hold", "cold", NULL};
	assert_string_equal(text_nearest("bold", words), "hold");
	assert_string_equal(text_nearest("cold", words), "cold");
}

static void text_nearest__very_long__no_guess(void **state)
{
	(void)state;
	char word[500];
	memset(word, 'w', sizeof word - 1);
	word[sizeof word - 1] = '\0';
	const char *const words[] = {word, "wax", NULL};
	assert_null(text_nearest(word, words));
	assert_string_equal(text_nearest("wux", words), "wax");
	const char *const none[] = {NULL};
	assert_null(text_nearest("wax", none));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(text_nearest__table__the_word_meant),
		cmocka_unit_test(text_nearest__two_as_near__the_first),
		cmocka_unit_test(text_nearest__very_long__no_guess),
	};
	return cmocka_run_group_tests_name("nearest", tests, NULL, NULL);
}
