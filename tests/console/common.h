/* What the tests of the console share. */
#ifndef TESTS_CONSOLE_COMMON_H
#define TESTS_CONSOLE_COMMON_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/console.h"

static struct arena *arena;
static struct fault fault;

static inline int arena_open(void **state)
{
	(void)state;
	arena = arena_new();
	fault_clear(&fault);
	return 0;
}

static inline int arena_close(void **state)
{
	(void)state;
	arena_free(arena);
	return 0;
}

#define WITH_ARENA(test) cmocka_unit_test_setup_teardown(test, arena_open, arena_close)

#endif
