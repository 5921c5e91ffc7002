/* Lines as scanners send them: identifiers, suffixes, several scans in one, odd bytes. */
#include "scans.h"

static void scan_read__identifiers_and_suffixes__the_tag(void **state)
{
	(void)state;
	static const char *const lines[] = {
		"PC000123Y",
		"PC000123-Y",
		"pc000123y",
		" P C.000_123 - y ",
		/* Suffixes and prefixes. */
		"PC000123Y\r",
		"PC000123Y\n",
		"PC000123Y\r\n",
		"PC000123Y\t",
		"PC000123Y ",
		"\r\nPC000123Y",
		"\tPC000123Y\t",
		"\x02PC000123Y\x03",
		GS "PC000123Y" GS "\r",
		/* Identifiers as maker manuals list them: NCR 7895, "AIM Code Identifiers" (Code 39, Code
	       128, Data Matrix, QR, Code 93, PDF417, Aztec, Han Xin); Opticon; Zebra DS457. */
		"]C0PC000123Y",
		"]c0pc000123y",
		"]d1PC000123Y\r",
		"]Q1PC000123Y",
		"]A0PC000123Y",
		"]A7PC000123Y",
		"]G0PC000123Y",
		"]L0PC000123Y",
		"]z3PC000123Y",
		"]h0PC000123Y",
		"]X0PC000123Y",
		GS "]C0" GS "PC000123-Y",
		"]C0 PC000123Y",
		/* GS1 carriers by their identifiers. */
		"]C191PC000123Y",
		"]d299PC000123Y\x1d",
		"]Q38004952999912PC000123Y",
		"]e091PC000123-Y",
		/* A scanner that says GS1 of a plain symbol: the check character is proof enough. */
		"]C1PC000123Y",
		"]d2PC000123Y",
		/* GS1 without identifier. */
		"95PC000123Y",
		"8004952999912PC000123Y",
	};
	for (size_t i = 0; i < COUNT_OF(lines); i++) {
		struct scan scan = must_be(lines[i], SCAN_TAG, "PC000123Y");
		assert_int_equal(scan.tag.class, TAG_PLATE_CYLINDER);
		assert_int_equal(scan.tag.serial, 123);
	}
}

static void scan_read__nothing_but_what_surrounds__none(void **state)
{
	(void)state;
	static const char *const lines[] = {"",    "\r",    "\r\n", "\t\t", GS,        GS "\r",
	                                    "]C0", "]C0\r", " ",    "\x7f", "]C1]C0 ", "\x02\x03"};
	for (size_t i = 0; i < COUNT_OF(lines); i++) {
		struct scan scan = {.reading = SCAN_OTHER};
		assert_int_equal(scan_read(lines[i], strlen(lines[i]), &scan, 1), 0);
		assert_int_equal(scan.reading, SCAN_NOTHING);
	}
	assert_int_equal(scan_read("PC000123Y", 9, NULL, 0), 0);
}

static void scan_read__run_together__each_where_all_are_sure(void **state)
{
	(void)state;
	static const struct {
		const char *line, *codes;
	} rows[] = {
		{"PC000123YPC000124W", "t:PC000123Y t:PC000124W"},
		{"PC000123-Ypc000124-w", "t:PC000123Y t:PC000124W"},
		{"PC000123Y PC000124W", "t:PC000123Y t:PC000124W"},
		{"PC000123Y" GS "PC000124W", "t:PC000123Y t:PC000124W"},
		{"PC000123Y\rPC000124W\r", "t:PC000123Y t:PC000124W"},
		{"PC000123Y\nPC000124W\n", "t:PC000123Y t:PC000124W"},
		{"PC000123Y\tPC000124W\t", "t:PC000123Y t:PC000124W"},
		{"]C0PC000123Y]C0PC000124W", "t:PC000123Y t:PC000124W"},
		{"]d1PC000123Y]Q1PC000124W\r", "t:PC000123Y t:PC000124W"},
		{"]C191PC000123Y]C191PC000124W", "t:PC000123Y t:PC000124W"},
		{"]C191PC000123Y" GS "91PC000124W", "t:PC000123Y t:PC000124W"},
		{"]C191PC000123Y91PC000124W", "t:PC000123Y t:PC000124W"},
		{"PC000123YPC000123Y", "t:PC000123Y t:PC000123Y"},
		{"91PC000123Y8004952999912PC000124W", "t:PC000123Y t:PC000124W"},
		{"OP999999999999999999HMC0000018AC000009U",
	     "t:OP999999999999999999H t:MC0000018 t:AC000009U"},
		/* An identifier and the end of a line are where one ends; so the second may be anything. */
		{"]C0PC000123Y]C0R1-3", "t:PC000123Y o:R1-3"},
		{"]C0R1-3]C0PC000123X\r", "o:R1-3 m:PC000123X"},
		{"R1-3\rPC000123Y\rdone", "o:R1-3 t:PC000123Y o:done"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		must_be_all(rows[i].line, rows[i].codes);
	}
}

static void scan_read__run_together_not_sure__refused(void **state)
{
	(void)state;
	static const char *const lines[] = {
		"PC000123YR1-3", /* a place's code has no check character */
		"R1-3PC000123Y", /* so it may as well be cut elsewhere */
		"PC000123Y R1-3",       "PC000123Y" GS "R1-3",
		"PC000123YPC000124X", /* the second is misread */
		"PC000124XPC000123Y", /* or the first */
		"PC000123YPC00012",   /* the second is cut short */
		"PC000123YE011",        "PC000123YPC000124WX",
		"PC000012791PC000124W", /* PC000012-7 and AI 91? or a misread serial of eight digits? */
	};
	for (size_t i = 0; i < COUNT_OF(lines); i++) {
		must_be_wrong(lines[i], SCAN_MISREAD, "two scans run together that cannot be told apart");
		assert_non_null(strstr(scan_one(lines[i]).cure, "CR"));
	}
}

/*
 * Two ways to cut a line, both right by their check characters: a tag that ends in a digit and a
 * GIAI, or a tag of more digits and a tag alone. They are found by trying company prefixes.
 */
static void scan_read__two_ways_to_cut__refused(void **state)
{
	(void)state;
	struct tag tag = {TAG_PLATE_CYLINDER, 123};
	size_t found = 0;
	do {
		tag.serial = tag.serial < 100000 ? 100000 : tag.serial + 1;
	} while (tag_stored(tag).bytes[8] > '9');
	for (int prefix = 1000; prefix < 10000; prefix++) {
		char line[64], check = '\0';
		struct scan scans[2];
		snprintf(line, sizeof line, "%s8004%d", tag_stored(tag).bytes, prefix / 10);
		assert_true(tag_check_character(line, &check));
		if (check != '0' + prefix % 10) {
			continue;
		}
		found++;
		snprintf(line, sizeof line, "%s8004%dAN000001R", tag_stored(tag).bytes, prefix);
		must_be_wrong(line, SCAN_MISREAD, "two scans run together that cannot be told apart");
		/* FNC1 between says which it is. */
		snprintf(line, sizeof line, "%s" GS "8004%dAN000001R", tag_stored(tag).bytes, prefix);
		assert_int_equal(scan_read(line, strlen(line), scans, 2), 2);
		assert_int_equal(scans[0].tag.serial, tag.serial);
		assert_int_equal(scans[1].tag.class, TAG_ANILOX);
	}
	assert_int_not_equal(found, 0);
}

static void scan_read__any_tags_run_together__never_others(void **state)
{
	(void)state;
	uint64_t seed = 20261126;
	size_t refused = 0, lines = 5000;
	for (size_t round = 0; round < lines; round++) {
		struct tag tags[4];
		struct scan scans[SCANS_MOST];
		char line[200] = "";
		size_t count = 2 + draw(&seed, 3), used = 0;
		for (size_t i = 0; i < count; i++) {
			static const char *const between[] = {"", "", "", "91", "8004495299", " ", GS, "]C0"};
			tags[i] = draw_tag(&seed);
			used += (size_t)snprintf(line + used, sizeof line - used, "%s%s",
			                         between[draw(&seed, COUNT_OF(between))],
			                         draw(&seed, 2) == 0 ? tag_stored(tags[i]).bytes
			                                             : tag_shown(tags[i]).bytes);
		}
		size_t got = scan_read(line, used, scans, COUNT_OF(scans));
		for (size_t i = 0; i < got; i++) {
			/* One that is refused takes its neighbours with it, but never becomes another. */
			bool known = scans[i].reading == SCAN_MISREAD;
			for (size_t k = 0; k < count; k++) {
				known |= scans[i].reading == SCAN_TAG && tag_compare(scans[i].tag, tags[k]) == 0;
			}
			if (!known) {
				fail_msg("%s: %s [%s]", line, reading_name(scans[i].reading), scans[i].code);
			}
			refused += scans[i].reading == SCAN_MISREAD;
		}
	}
	print_message("%zu of %zu lines of two to four tags are refused\n", refused, lines);
	assert_in_range(refused, 0, lines / 50);
}

static void scan_read__more_than_there_is_room_for__refused_whole(void **state)
{
	(void)state;
	struct scan scans[SCANS_MOST];
	char line[20 * 10 + 1] = "";
	for (size_t i = 0; i < 17; i++) {
		memcpy(line + i * 10, "PC000123Y\r", 11);
	}
	assert_int_equal(scan_read(line, 160, scans, SCANS_MOST), 16);
	assert_int_equal(scan_read(line, 170, scans, SCANS_MOST), 1);
	assert_int_equal(scans[0].reading, SCAN_MISREAD);
	assert_string_equal(scans[0].wrong, "too many scans in one line: more than 16");
	assert_int_equal(scan_read(line, 30, scans, 2), 1);
	assert_string_equal(scans[0].wrong, "too many scans in one line: more than 2");
	/* And run together, without anything between. */
	for (size_t i = 0; i < 17; i++) {
		memcpy(line + i * 9, "PC000123Y", 10);
	}
	assert_int_equal(scan_read(line, 16 * 9, scans, SCANS_MOST), 16);
	assert_int_equal(scan_read(line, 17 * 9, scans, SCANS_MOST), 1);
	assert_int_equal(scans[0].reading, SCAN_MISREAD);
}

static void scan_read__other_codes__their_own_spelling(void **state)
{
	(void)state;
	static const struct {
		const char *line, *code;
	} rows[] = {
		{"R1-3", "R1-3"},
		{" R1-3\r\n", "R1-3"},
		{"]C0P1-D1\r", "P1-D1"},
		{"]Q1Rack 2 / 4", "Rack 2 / 4"},
		{"\x1d"
	     "E011\x1d",
	     "E011"},
		{"done", "done"},
		{"Regal \xc3\xbc", "Regal \xc3\xbc"},
		/* Harmless to show: controls, what turns the direction of writing, what is no UTF-8. */
		{"R1\x1b[31m", "R1\\x1b[31m"},
		{"R1\xff", "R1\\xff"},
		{"R1\xe2\x80\xae"
	     "2",
	     "R1\\xe2\\x80\\xae2"},
		{"R1\x1d"
	     "3",
	     "R1\\x1d3"},
		{"R1\xc2\x9b", "R1\\xc2\\x9b"},
		{"R1\xed\xa0\x80", "R1\\xed\\xa0\\x80"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		must_be(rows[i].line, SCAN_OTHER, rows[i].code);
	}
}

static void scan_read__nul_within__not_the_end(void **state)
{
	(void)state;
	struct scan scans[2];
	assert_int_equal(scan_read("R1\0003", 4, scans, 2), 1);
	assert_int_equal(scans[0].reading, SCAN_OTHER);
	assert_string_equal(scans[0].code, "R1\\x003");
	/* A tag with a NUL in it, or behind it and more, is none. */
	assert_int_equal(scan_read("PC000\000123Y", 10, scans, 2), 1);
	assert_int_equal(scans[0].reading, SCAN_MISREAD);
	assert_int_equal(scan_read("PC000123Y\000PC", 12, scans, 2), 1);
	assert_int_equal(scans[0].reading, SCAN_MISREAD);
	assert_int_equal(scan_read("\000PC000123Y\000", 11, scans, 2), 1);
	assert_int_equal(scans[0].reading, SCAN_TAG);
	assert_int_equal(scan_read("91PC000\000123Y", 12, scans, 2), 1);
	assert_int_not_equal(scans[0].reading, SCAN_TAG);
}

static void scan_read__too_long__misread_and_cut(void **state)
{
	(void)state;
	static char line[65536];
	struct scan scans[SCANS_MOST];
	memset(line, 'X', sizeof line);
	assert_int_equal(scan_read(line, 99, scans, 1), 1);
	assert_int_equal(scans[0].reading, SCAN_OTHER);
	assert_int_equal(strlen(scans[0].code), 99);
	for (size_t length = 100; length <= sizeof line; length *= 8) {
		assert_int_equal(scan_read(line, length, scans, 1), 1);
		assert_int_equal(scans[0].reading, SCAN_MISREAD);
		assert_int_equal(strlen(scans[0].code), 99);
		assert_string_equal(scans[0].code + 96, "...");
		assert_non_null(strstr(scans[0].wrong, "too long"));
	}
	/* Cut between characters, not within one. */
	for (size_t i = 0; i + 1 < 200; i += 2) {
		memcpy(line + i, "\xc3\xbc", 2);
	}
	assert_int_equal(scan_read(line, 200, scans, 1), 1);
	assert_int_equal(strlen(scans[0].code), 99);
	assert_int_equal(scan_read(line, 198, scans, 1), 1);
	assert_int_equal(scans[0].reading, SCAN_MISREAD);
	assert_string_equal(scans[0].code + 94, "\xc3\xbc...");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(scan_read__identifiers_and_suffixes__the_tag),
		cmocka_unit_test(scan_read__nothing_but_what_surrounds__none),
		cmocka_unit_test(scan_read__run_together__each_where_all_are_sure),
		cmocka_unit_test(scan_read__run_together_not_sure__refused),
		cmocka_unit_test(scan_read__two_ways_to_cut__refused),
		cmocka_unit_test(scan_read__any_tags_run_together__never_others),
		cmocka_unit_test(scan_read__more_than_there_is_room_for__refused_whole),
		cmocka_unit_test(scan_read__other_codes__their_own_spelling),
		cmocka_unit_test(scan_read__nul_within__not_the_end),
		cmocka_unit_test(scan_read__too_long__misread_and_cut),
	};
	return cmocka_run_group_tests_name("tag/scan", tests, NULL, NULL);
}
