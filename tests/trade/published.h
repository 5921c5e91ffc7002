/*
 * What the tests of the trade share: quantities as they are printed, and comparison with a
 * published value to the rounding of its source, which is named when it fails.
 */
#ifndef TESTS_TRADE_PUBLISHED_H
#define TESTS_TRADE_PUBLISHED_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "toothrack/trade.h"

/* Values that no source gives, but that the trade goes by. */
#define COMMON_PRACTICE "common practice, no source"
/* Values that follow from the definitions alone. */
#define ARITHMETIC "arithmetic"

static inline struct length length_given(const char *text)
{
	struct fault fault;
	struct length length;
	fault_clear(&fault);
	if (length_parse(text, &length, &fault) != OUTCOME_DONE)
		fail_msg("%s", fault.sentence);
	return length;
}

static inline struct pitch pitch_given(const char *text)
{
	struct fault fault;
	struct pitch pitch;
	fault_clear(&fault);
	if (pitch_parse(text, &pitch, &fault) != OUTCOME_DONE)
		fail_msg("%s", fault.sentence);
	return pitch;
}

static inline struct screen screen_given(const char *text)
{
	struct fault fault;
	struct screen screen;
	fault_clear(&fault);
	if (screen_parse(text, &screen, &fault) != OUTCOME_DONE)
		fail_msg("%s", fault.sentence);
	return screen;
}

static inline struct volume volume_given(const char *text)
{
	struct fault fault;
	struct volume volume;
	fault_clear(&fault);
	if (volume_parse(text, &volume, &fault) != OUTCOME_DONE)
		fail_msg("%s", fault.sentence);
	return volume;
}

static inline struct percent percent_given(const char *text)
{
	struct fault fault;
	struct percent percent;
	fault_clear(&fault);
	if (percent_parse(text, &percent, &fault) != OUTCOME_DONE)
		fail_msg("%s", fault.sentence);
	return percent;
}

static inline struct repeat toothed(int64_t teeth, const char *pitch)
{
	return repeat_of_teeth(teeth, pitch_given(pitch));
}

static inline struct repeat plain(const char *length)
{
	return repeat_of_length(length_given(length));
}

static inline double real_to_in(struct real_length real)
{
	return real_to_mm(real) / 25.4;
}

/*
 * `computed` as `published` to within `within` (half of the last digit printed), and a little for
 * the arithmetic.
 */
static inline void assert_published(double computed, double published, double within,
                                    const char *source)
{
	if (!(fabs(computed - published) <= within + 1e-9))
		fail_msg("%.9g computed, %.9g published: %s", computed, published, source);
}

#endif
