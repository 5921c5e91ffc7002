#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/base.h"

static struct arena *arena;

static int arena_open(void **state)
{
	(void)state;
	arena = arena_new();
	return 0;
}

static int arena_close(void **state)
{
	(void)state;
	arena_free(arena);
	return 0;
}

static void text_start__nothing_added__empty_text(void **state)
{
	(void)state;
	struct text text = text_start(arena);
	assert_non_null(text.bytes);
	assert_string_equal(text.bytes, "");
	assert_int_equal(text.length, 0);
	text_add(&text, "");
	text_add_bytes(&text, NULL, 0);
	assert_string_equal(text.bytes, "");
}

static void text_add__every_length__ends_in_nul(void **state)
{
	(void)state;
	struct text text = text_start(arena);
	for (size_t i = 0; i < 2000; i++) {
		text_add(&text, "x");
		assert_int_equal(text.length, i + 1);
		assert_int_equal(strlen(text.bytes), i + 1);
	}
}

/* Pieces that just fit, and that just do not. */
static void text_add_bytes__about_the_room__whole(void **state)
{
	(void)state;
	char piece[300];
	memset(piece, 'p', sizeof piece);
	for (size_t count = 1; count < sizeof piece; count++) {
		struct text text = text_start(arena);
		text_add_bytes(&text, piece, count);
		assert_int_equal(strlen(text.bytes), count);
		text_add_bytes(&text, piece, count);
		assert_int_equal(strlen(text.bytes), 2 * count);
	}
}

static void text_add_format__short_and_long__whole(void **state)
{
	(void)state;
	struct text text = text_start(arena);
	text_add_format(&text, "%d %s", 2, "rolls");
	text_add_format(&text, "%s", "");
	text_add_format(&text, "%500s", ".");
	assert_int_equal(text.length, 507);
	assert_memory_equal(text.bytes, "2 rolls ", 8);
	assert_int_equal(text.bytes[506], '.');
	assert_int_equal(text.bytes[507], '\0');
}

static void text_join__words__separated(void **state)
{
	(void)state;
	struct text text = text_start(arena);
	text_join(&text, ", ", "kiss");
	text_join(&text, ", ", "back");
	text_join(&text, ", ", "through");
	assert_string_equal(text.bytes, "kiss, back, through");
}

static void text_equal_fold__words__by_letters_only(void **state)
{
	(void)state;
	assert_true(text_equal_fold("", ""));
	assert_true(text_equal_fold("Anilox", "aNILOX"));
	assert_false(text_equal_fold("anilox", "anilo"));
	assert_false(text_equal_fold("anilo", "anilox"));
	assert_false(text_equal_fold("a", "b"));
	assert_false(text_equal_fold("[", "{")); /* 0x20 apart, but no letters */
	assert_false(text_equal_fold("\xc3\x84", "\xc3\xa4"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(text_start__nothing_added__empty_text, arena_open,
	                                    arena_close),
		cmocka_unit_test_setup_teardown(text_add__every_length__ends_in_nul, arena_open,
	                                    arena_close),
		cmocka_unit_test_setup_teardown(text_add_bytes__about_the_room__whole, arena_open,
	                                    arena_close),
		cmocka_unit_test_setup_teardown(text_add_format__short_and_long__whole, arena_open,
	                                    arena_close),
		cmocka_unit_test_setup_teardown(text_join__words__separated, arena_open, arena_close),
		cmocka_unit_test(text_equal_fold__words__by_letters_only),
	};
	return cmocka_run_group_tests_name("text", tests, NULL, NULL);
}
