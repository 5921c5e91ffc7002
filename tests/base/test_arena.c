#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/base.h"

static void arena_take__many_sizes__zeroed_aligned_and_apart(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	unsigned char *taken[200];
	for (size_t i = 0; i < COUNT_OF(taken); i++) {
		taken[i] = arena_take(arena, i + 1, 37);
		assert_true((uintptr_t)taken[i] % _Alignof(max_align_t) == 0);
		for (size_t j = 0; j < (i + 1) * 37; j++) {
			assert_int_equal(taken[i][j], 0);
		}
		memset(taken[i], (int)(i + 1), (i + 1) * 37);
	}
	for (size_t i = 0; i < COUNT_OF(taken); i++) {
		assert_int_equal(taken[i][0], i + 1);
		assert_int_equal(taken[i][(i + 1) * 37 - 1], i + 1);
	}
	arena_free(arena);
}

static void arena_take__after_reset__zeroed_again(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	for (int round = 0; round < 3; round++) {
		unsigned char *small = arena_take(arena, 1, 100);
		unsigned char *large = arena_take(arena, 1, 1000000);
		for (size_t i = 0; i < 100; i++) {
			assert_int_equal(small[i], 0);
		}
		assert_int_equal(large[999999], 0);
		memset(small, 0xff, 100);
		memset(large, 0xff, 1000000);
		arena_reset(arena);
	}
	arena_free(arena);
}

static void arena_take__nothing__no_harm(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	assert_non_null(arena_take(arena, 0, 8));
	assert_non_null(arena_take(arena, 8, 0));
	arena_free(arena);
	arena_free(NULL);
}

static void arena_grow__array__keeps_the_old_and_zeroes_the_rest(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	int64_t *numbers = arena_grow(arena, NULL, 0, 2, sizeof *numbers);
	numbers[0] = 7;
	numbers[1] = -9;
	int64_t *grown = arena_grow(arena, numbers, 2, 4, sizeof *numbers);
	assert_int_equal(grown[0], 7);
	assert_int_equal(grown[1], -9);
	assert_int_equal(grown[2], 0);
	assert_int_equal(grown[3], 0);
	assert_int_equal(numbers[1], -9);
	arena_free(arena);
}

static void arena_copy__texts__equal_and_apart(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	char text[] = "plate cylinder";
	char *copy = arena_copy(arena, text);
	text[0] = 'x';
	assert_string_equal(copy, "plate cylinder");
	assert_string_equal(arena_copy(arena, ""), "");
	assert_null(arena_copy(arena, NULL));
	assert_string_equal(arena_copy_bytes(arena, "anilox roll", 6), "anilox");
	assert_string_equal(arena_copy_bytes(arena, NULL, 0), "");
	arena_free(arena);
}

static void arena_format__short_and_long__whole(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	char longer[3000];
	memset(longer, 'a', sizeof longer - 1);
	longer[sizeof longer - 1] = '\0';
	assert_string_equal(arena_format(arena, "%d teeth %s", 96, "1/8cp"), "96 teeth 1/8cp");
	assert_string_equal(arena_format(arena, "%s", ""), "");
	assert_string_equal(arena_format(arena, "%s", longer), longer);
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(arena_take__many_sizes__zeroed_aligned_and_apart),
		cmocka_unit_test(arena_take__after_reset__zeroed_again),
		cmocka_unit_test(arena_take__nothing__no_harm),
		cmocka_unit_test(arena_grow__array__keeps_the_old_and_zeroes_the_rest),
		cmocka_unit_test(arena_copy__texts__equal_and_apart),
		cmocka_unit_test(arena_format__short_and_long__whole),
	};
	return cmocka_run_group_tests_name("arena", tests, NULL, NULL);
}
