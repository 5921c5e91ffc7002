#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/tag.h"

/* Where a tag stands among those near a text; SIZE_MAX where it does not. */
static size_t place_of(const char *text, enum tag_class class, int64_t serial)
{
	static struct tag near[TAG_NEAR_MOST];
	size_t count = tag_near(text, near, COUNT_OF(near));
	for (size_t i = 0; i < count; i++) {
		if (tag_compare(near[i], (struct tag){class, serial}) == 0) {
			return i;
		}
	}
	return SIZE_MAX;
}

static void tag_near__one_slip__the_tag_meant_is_among_them(void **state)
{
	(void)state;
	static const char *const texts[] = {
		"PC000123X",  /* another check character */
		"PC000123",   /* none */
		"PC000124Y",  /* one digit changed */
		"PC000132Y",  /* two swapped */
		"PC00123Y",   /* one left out */
		"PC0000123Y", /* one doubled */
		"PCO00123Y",  /* the letter O */
		"PX000123Y",  /* one letter changed */
		"PC00012Y3",  /* the last two swapped */
		"PC123",      /* as said in the shop */
		"PC123-Y",    "pc-000 124-y", "]C0PC000123X",
	};
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		if (place_of(texts[i], TAG_PLATE_CYLINDER, 123) == SIZE_MAX) {
			fail_msg("not near: %s", texts[i]);
		}
	}
}

static void tag_near__check_character_wrong_or_missing__its_own_serial_first(void **state)
{
	(void)state;
	assert_int_equal(place_of("PC000123X", TAG_PLATE_CYLINDER, 123), 0);
	assert_int_equal(place_of("PC000123", TAG_PLATE_CYLINDER, 123), 0);
}

static void tag_near__read_rightly__serials_one_slip_away(void **state)
{
	(void)state;
	assert_int_not_equal(place_of("PC000123Y", TAG_PLATE_CYLINDER, 132), SIZE_MAX);
	assert_int_not_equal(place_of("PC000123Y", TAG_PLATE_CYLINDER, 923), SIZE_MAX);
	assert_int_equal(place_of("PC000123Y", TAG_PLATE_CYLINDER, 945), SIZE_MAX);
}

static void tag_near__nothing_like_a_tag__none(void **state)
{
	(void)state;
	static const char *const texts[] =
		{"",
	     "K",
	     "K-",
	     "nothing/like",
	     "0123456789012345678901234567890123456789012345678901234567890123456789",
	     "R1-3"};
	struct tag near[TAG_NEAR_MOST];
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		assert_int_equal(tag_near(texts[i], near, COUNT_OF(near)), 0);
	}
}

static void tag_near__little_room__no_more_than_that(void **state)
{
	(void)state;
	struct tag near[3];
	assert_int_equal(tag_near("PC000123Y", near, COUNT_OF(near)), 3);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tag_near__one_slip__the_tag_meant_is_among_them),
		cmocka_unit_test(tag_near__check_character_wrong_or_missing__its_own_serial_first),
		cmocka_unit_test(tag_near__read_rightly__serials_one_slip_away),
		cmocka_unit_test(tag_near__nothing_like_a_tag__none),
		cmocka_unit_test(tag_near__little_room__no_more_than_that),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
