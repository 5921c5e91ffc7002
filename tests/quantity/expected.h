/* What the tests of quantities share: tables of what is typed, and what is then said or shown. */
#ifndef TESTS_QUANTITY_EXPECTED_H
#define TESTS_QUANTITY_EXPECTED_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

#include "toothrack/quantity.h"

/* Typed, and refused with this sentence and this hint. */
struct refusal {
	const char *typed;
	const char *sentence;
	const char *hint;
};

/* Typed, kept as that number, shown like this. */
struct kept {
	const char *typed;
	int64_t number;
	const char *metric;
	const char *inch;
};

static inline void assert_done(enum outcome outcome, const char *typed, const struct fault *fault)
{
	if (outcome != OUTCOME_DONE) {
		fail_msg("%s refused: %s", typed, fault->sentence);
	}
}

static inline void assert_refused(enum outcome outcome, const struct refusal *refusal,
                                  const struct fault *fault)
{
	if (outcome != OUTCOME_BAD) {
		fail_msg("%s not refused", refusal->typed);
	}
	assert_int_equal(fault->outcome, OUTCOME_BAD);
	assert_string_equal(fault->sentence, refusal->sentence);
	assert_string_equal(fault->hint, refusal->hint);
}

static inline void assert_shown(struct quantity_text text, const char *expected)
{
	assert_string_equal(text.bytes, expected);
}

#endif
