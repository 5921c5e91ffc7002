#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/tag.h"

static void tag_read__typed_or_scanned__read(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum tag_class class;
		int64_t serial;
	} rows[] = {
		{"PC000123Y", TAG_PLATE_CYLINDER, 123},
		{"PC000123-Y", TAG_PLATE_CYLINDER, 123},
		{"pc000123y", TAG_PLATE_CYLINDER, 123},
		{" P C.000_123 - y ", TAG_PLATE_CYLINDER, 123},
		{"GR1234567F", TAG_GEAR, 1234567},
		{"AN000001R", TAG_ANILOX, 1},
		{"OP999999999999999999H", TAG_BADGE, 999999999999999999},
		{"AC000009U\r\n", TAG_ACTION, 9},
		{"PC000123Y\t", TAG_PLATE_CYLINDER, 123},
		{"\x1dPC000123Y\x1d\r", TAG_PLATE_CYLINDER, 123},
		/* Symbology identifiers as maker manuals list them (NCR 7895, Opticon, Zebra DS457). */
		{"]C0PC000123Y", TAG_PLATE_CYLINDER, 123},
		{"]c0pc000123y", TAG_PLATE_CYLINDER, 123},
		{"]d1PC000123Y\r", TAG_PLATE_CYLINDER, 123},
		{"]Q1PC000123Y", TAG_PLATE_CYLINDER, 123},
		{"\x1d]C0\x1dPC000123-Y", TAG_PLATE_CYLINDER, 123},
		/* GS1 carriers: AI 91 to 99 internal, 8004 GIAI (GS1 barcode syntax dictionary). */
		{"]C191PC000123Y", TAG_PLATE_CYLINDER, 123},
		{"]d299PC000123Y\x1d", TAG_PLATE_CYLINDER, 123},
		{"]Q38004952999912PC000123Y", TAG_PLATE_CYLINDER, 123},
		{"95PC000123Y", TAG_PLATE_CYLINDER, 123},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct tag tag = {TAG_CLASS_COUNT, 0};
		if (tag_read(rows[i].text, &tag) != TAG_READ) {
			fail_msg("not read: %s", rows[i].text);
		}
		assert_int_equal(tag.class, rows[i].class);
		assert_int_equal(tag.serial, rows[i].serial);
	}
}

static void tag_read__check_character_disagrees__misread(void **state)
{
	(void)state;
	static const char *const texts[] = {
		"PC000123X",     "PC000123-0", "PC000132Y", "PC0001234",    "]C0PC000123A",
		"91PC000123Z\r", "GR1234567E", "PC000123S", "pc 000 124 y",
	};
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		struct tag tag = {TAG_DIE, 7};
		if (tag_read(texts[i], &tag) != TAG_MISREAD) {
			fail_msg("not a misreading: %s", texts[i]);
		}
		assert_int_equal(tag.class, TAG_DIE);
		assert_int_equal(tag.serial, 7);
	}
}

static void tag_read__another_form__not_ours(void **state)
{
	(void)state;
	static const char *const texts[] = {
		"",
		" ",
		"-",
		"]C0",
		"PC",
		"PC123",
		"PC12345Y",               /* five digits */
		"PC000123",               /* its last digit stands where the check character would */
		"PC0001234Y",             /* seven digits begin with none */
		"PC000000Y",              /* no serial is 0 */
		"PC1234567890123456789Y", /* 19 digits */
		"XX000123Y",
		"P1000123Y",
		"PC00A123Y",
		"PC000123Y#",
		"PC000123\xc3\x84",
		"PC000\035123Y", /* GS is at the ends only */
		"PC000\t123Y",
		"90PC000123Y", /* AI 90 is agreed between partners, not a company's own */
		"8004PC000123Y",
		"80041234567890123PC000123Y",
		"8004495299912345PC1234567890123456U", /* a GIAI has 30 at most */
		"show",
		"R2-4",
		"4006381333931",
		"]",
		"]C",
		"]]C0PC000123Y",
	};
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		struct tag tag = {TAG_DIE, 7};
		if (tag_read(texts[i], &tag) != TAG_NOT_OURS) {
			fail_msg("taken for ours: %s", texts[i]);
		}
		assert_int_equal(tag.serial, 7);
	}
}

static void tag_read__very_long__not_ours(void **state)
{
	(void)state;
	char text[5000];
	struct tag tag;
	memset(text, '1', sizeof text - 1);
	text[sizeof text - 1] = '\0';
	memcpy(text, "PC", 2);
	assert_int_equal(tag_read(text, &tag), TAG_NOT_OURS);
	memset(text, '-', sizeof text - 1);
	memcpy(text, "PC000123", 8);
	text[sizeof text - 2] = 'Y';
	assert_int_equal(tag_read(text, &tag), TAG_READ);
}

static void tag_shown__serials__six_digits_and_growing(void **state)
{
	(void)state;
	static const struct {
		struct tag tag;
		const char *shown;
		const char *stored;
	} rows[] = {
		{{TAG_PLATE_CYLINDER, 123}, "PC000123-Y", "PC000123Y"},
		{{TAG_GEAR, 1234567}, "GR1234567-F", "GR1234567F"},
		{{TAG_BADGE, 999999999999999999}, "OP999999999999999999-H", "OP999999999999999999H"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		assert_string_equal(tag_shown(rows[i].tag).bytes, rows[i].shown);
		assert_string_equal(tag_stored(rows[i].tag).bytes, rows[i].stored);
	}
}

static void tag_shown__every_class__read_again(void **state)
{
	(void)state;
	for (int class = 0; class < TAG_CLASS_COUNT; class ++) {
		for (int64_t serial = 1; serial < 1000000000000000000 / 11; serial *= 11) {
			struct tag tag = {(enum tag_class) class, serial};
			struct tag again;
			assert_int_equal(tag_read(tag_shown(tag).bytes, &again), TAG_READ);
			assert_int_equal(tag_compare(tag, again), 0);
			assert_int_equal(tag_read(tag_stored(tag).bytes, &again), TAG_READ);
			assert_int_equal(tag_compare(tag, again), 0);
		}
	}
}

static void tag_class_letters__each__its_own(void **state)
{
	(void)state;
	static const char *const letters[TAG_CLASS_COUNT] = {
		"PC", "GR", "AN", "DB", "DI", "MC", "SL", "MD", "SU", "PL", "PR", "JB", "OP", "AC",
	};
	for (int class = 0; class < TAG_CLASS_COUNT; class ++) {
		assert_string_equal(tag_class_letters((enum tag_class) class), letters[class]);
	}
}

static void tag_compare__class_then_serial__lowest_first(void **state)
{
	(void)state;
	struct tag first = {TAG_PLATE_CYLINDER, 200};
	struct tag second = {TAG_PLATE_CYLINDER, 201};
	struct tag third = {TAG_GEAR, 1};
	assert_int_equal(tag_compare(first, second), -1);
	assert_int_equal(tag_compare(second, first), 1);
	assert_int_equal(tag_compare(second, third), -1);
	assert_int_equal(tag_compare(third, first), 1);
	assert_int_equal(tag_compare(third, third), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tag_read__typed_or_scanned__read),
		cmocka_unit_test(tag_read__check_character_disagrees__misread),
		cmocka_unit_test(tag_read__another_form__not_ours),
		cmocka_unit_test(tag_read__very_long__not_ours),
		cmocka_unit_test(tag_shown__serials__six_digits_and_growing),
		cmocka_unit_test(tag_shown__every_class__read_again),
		cmocka_unit_test(tag_class_letters__each__its_own),
		cmocka_unit_test(tag_compare__class_then_serial__lowest_first),
	};
	return cmocka_run_group_tests_name("tag/tag", tests, NULL, NULL);
}
