/* What an import has come by. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "room/seen.h"

static void seen__many_keys__each_on_its_line(void **state)
{
	(void)state;
	struct seen seen = {.arena = NULL};
	char name[32];
	assert_int_equal(seen_line(&seen, 1), 0);
	for (int64_t i = 1; i <= 5000; i++) {
		snprintf(name, sizeof name, "K-%lld", (long long)i);
		assert_int_equal(seen_line(&seen, seen_key(name)), 0);
		seen_add(&seen, seen_key(name), i);
	}
	for (int64_t i = 1; i <= 5000; i++) {
		snprintf(name, sizeof name, "k-%lld", (long long)i);
		assert_int_equal(seen_line(&seen, seen_key(name)), i);
	}
	assert_int_equal(seen.count, 5000);
	seen_add(&seen, seen_key("K-1"), 9000);
	assert_int_equal(seen_line(&seen, seen_key("K-1")), 9000);
	assert_int_equal(seen.count, 5000);
	seen_free(&seen);
	assert_int_equal(seen_line(&seen, seen_key("K-1")), 0);
}

static void seen__key_of_nothing__never_seen(void **state)
{
	(void)state;
	struct seen seen = {.arena = NULL};
	seen_add(&seen, 0, 7);
	assert_int_equal(seen_line(&seen, 0), 0);
	seen_free(&seen);
}

/*
 * Values of FNV-1a, 64 bits: the offset basis for no bytes, and `a` (IETF draft-eastlake-fnv, "Test
 * vectors"; from memory).
 */
static void seen_key__known_words__their_values(void **state)
{
	(void)state;
	assert_true(seen_key("") == UINT64_C(0xcbf29ce484222325));
	assert_true(seen_key("a") == UINT64_C(0xaf63dc4c8601ec8c));
	assert_true(seen_key("A") == seen_key("a"));
	assert_true(seen_key("ab") != seen_key("ba"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(seen__many_keys__each_on_its_line),
		cmocka_unit_test(seen__key_of_nothing__never_seen),
		cmocka_unit_test(seen_key__known_words__their_values),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
