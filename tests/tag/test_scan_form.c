/* Misread is not unknown, and a shop's own codes are neither. */
#include "scans.h"

static void scan_read__nearly_a_tag__misread_and_why(void **state)
{
	(void)state;
	static const struct {
		const char *line, *wrong;
	} rows[] = {
		{"PC000123X", "check character disagrees"},
		{"pc 000 124 x", "check character disagrees"},
		{"]C0PC000123A\r", "check character disagrees"},
		{"91PC000123Q", "check character disagrees"},
		{"PC0001234", "check character disagrees"},
		{"GR1234567E", "check character disagrees"},
		{"PC000123", "check character missing"},
		{"PC123456", "check character missing"},
		{"]C0PC000123", "check character missing"},
		{"PC00012", "cut short"},
		{"PC00012-", "cut short"},
		{"PC00123Y", "a digit is missing"},
		{"PC000000R", "serial is 0, which no tag has"},
		{"PC0001234Y", "too many digits for a tag"},
		{"PC1234567890123456789Y", "too many digits for a tag"},
		{"PC00O123Y", "a letter stands among the digits"},
		{"PC00A123Y", "a letter stands among the digits"},
		{"PCOOO123Y", "a letter stands among the digits"},
		{"PC12345B789Y", "a letter stands among the digits"},
		{"PC000123YX", "signs stand behind a whole tag"},
		{"PC000123XX", "signs stand behind the check character"},
		{"XPC000123Y", "signs stand in front of a whole tag"},
		{"90PC000123Y", "signs stand in front of a whole tag"},
		{"(91)PC000123Y", "a sign that no tag has: ("},
		{"http://shop.example/t/PC000123Y", "a sign that no tag has: :"},
		{"PC00012#Y", "a sign that no tag has: #"},
		{"PC000#123Y", "a sign that no tag has: #"},
		{"#PC000124W", "a sign that no tag has: #"},
		{"PC000123#Y", "a sign that no tag has: #"},
		{"PC000\x1b"
	     "123Y",
	     "a sign that no tag has: \\x1b"},
		{"PC000\xe2\x82\xac"
	     "124W",
	     "a sign that no tag has: €"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		must_be_wrong(rows[i].line, SCAN_MISREAD, rows[i].wrong);
	}
}

static void scan_read__signs_around_a_whole_tag__what_to_set(void **state)
{
	(void)state;
	assert_non_null(strstr(must_be("XPC000123Y", SCAN_MISREAD, NULL).cure, "nothing in front"));
	assert_non_null(strstr(must_be("(91)PC000123Y", SCAN_MISREAD, NULL).cure, "nothing in front"));
	assert_non_null(strstr(must_be("PC000123YX", SCAN_MISREAD, NULL).cure, "only CR behind"));
	assert_non_null(strstr(must_be("PC000123X", SCAN_MISREAD, NULL).cure, "Wipe the tag"));
}

/* Codes as shops have them of their own: invented ones, and the words of cards and screens. */
static void scan_read__codes_of_shops__other(void **state)
{
	(void)state;
	static const char *const codes[] = {
		/* Places, presses, stations. */
		"R1-3",
		"R2-4",
		"R12",
		"A-01-03",
		"P1",
		"P1-3",
		"P1-D1",
		"P2-D2",
		"PR1",
		"PR-2",
		"PL-A12",
		"PL3",
		"WASH",
		"CART1",
		"LOST",
		"SL-RACK-2",
		"GR-WALL",
		"DI-CAB-04",
		"MC-1",
		"AN-7",
		/* Badges, jobs. */
		"E011",
		"E0123",
		"K-20",
		"OP12",
		"OP1234",
		"OP-0042",
		"J2601",
		"J2601-2",
		"JB2601",
		"JB-26-101",
		"26-1044",
		"JB26/114",
		/* Tools by the numbers that a shop had before: class letters in front too. */
		"PC12",
		"PC-96-330",
		"PC096",
		"PC1001",
		"PC96T",
		"PC0096",
		"GR96",
		"GR-96-18",
		"AN360",
		"AN-360-43",
		"AN1042",
		"AN12345",
		"AN-12345",
		"DB-100",
		"DB100A",
		"DB1001B",
		"DI1044",
		"DI-1044-2",

		"DI12345A",
		"DI12345A6",
		"MC88",
		"MC-0.480",
		"SL1200-A",
		"MD7",
		"SU-3-1",
		"DI-00456",
		"OP-00012",
		"DB-00123-A",
		"DI20260114X17",
		"AC2",
		/* Numbers of makers, and of trade. */
		"4006381333931",
		"10203040",
		"S/N 2231-77",
		"A12425GABC1234002",
		"KX-7781/B",
		"PROOF1234",
		"SUPPLIER",
		"ACTION",
		"DONE",
		"done",
		"PRESS 3",
		"yes",
		"AN",
		"PC",
		"]",
		"-",
		"#",
		"??",
		"http://shop.example/t/12",
		"PCX123456",
		"XX000123Y",
		"P1000123Y",
		"CP000123Y",
	};
	for (size_t i = 0; i < COUNT_OF(codes); i++) {
		must_be(codes[i], SCAN_OTHER, codes[i]);
	}
}

/* Codes drawn at random, of the forms that shops use: how many are taken for what they are not. */
static void scan_read__random_codes_of_shops__seldom_misread(void **state)
{
	(void)state;
	uint64_t seed = 20261129;
	size_t other = 0, tried = 0;
	for (int round = 0; round < 20000; round++) {
		static const char *const forms[] = {"A9",      "AA9",      "AA-99",     "AA99",
		                                    "A999",    "AA999",    "AA-999",    "9999",
		                                    "AA9999",  "AA99A",    "A9-A9",     "AA9999A",
		                                    "AA-9-99", "AA99-999", "AA-9999-9", "99999999",
		                                    "A99999A"};
		char code[16];
		snprintf(code, sizeof code, "%s", forms[draw(&seed, COUNT_OF(forms))]);
		for (char *c = code; *c != '\0'; c++) {
			*c = *c == 'A'   ? (char)('A' + draw(&seed, 26))
			     : *c == '9' ? (char)('0' + draw(&seed, 10))
			                 : *c;
		}
		/* Class letters in front of half of those with two. */
		if (code[1] > '9' && draw(&seed, 2) == 0) {
			memcpy(code, tag_class_letters((enum tag_class)draw(&seed, TAG_CLASS_COUNT)), 2);
		}
		struct scan scan = scan_one(code);
		tried++;
		other += scan.reading == SCAN_OTHER;
		assert_int_not_equal(scan.reading, SCAN_TAG);
		assert_int_not_equal(scan.reading, SCAN_DAMAGED);
	}
	print_message("%zu of %zu codes of shops are read as such\n", other, tried);
	assert_true(other * 200 >= tried * 199);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(scan_read__nearly_a_tag__misread_and_why),
		cmocka_unit_test(scan_read__signs_around_a_whole_tag__what_to_set),
		cmocka_unit_test(scan_read__codes_of_shops__other),
		cmocka_unit_test(scan_read__random_codes_of_shops__seldom_misread),
	};
	return cmocka_run_group_tests_name("tag/scan_form", tests, NULL, NULL);
}
