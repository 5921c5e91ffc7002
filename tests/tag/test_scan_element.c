/* GS1 element strings, as scanners send them of GS1 symbols. */
#include "scans.h"

static void scan_read__element_strings__ours_among_them(void **state)
{
	(void)state;
	static const char *const lines[] = {
		/* The GS1 Barcode Syntax Engine shows `]C1011231231231233310ABC123{GS}99TESTING` as what a
	       scanner sends (GS1 AISBL, gs1encoders.h, gs1_encoder_setScanData): here 99 is a tag. */
		"]C1011231231231233310ABC123" GS "99PC000123Y",
		/* And of a composite, in its tests (the same, scandata-tests):
	       `]e0011231231231233310ABC123{GS}1199122598COMPOSITE{GS}97XYZ`. */
		"]e0011231231231233310ABC123" GS "1199122598PC000123Y" GS "97XYZ",
		/* GTIN, expiry date, serial; no FNC1 behind what is predefined; one is allowed. */
		"]d20104012345678901"
		"17150129"
		"21ABC1234" GS "8004495299PC000123Y",
		"]d20104012345678901" GS "17150129" GS "10ABC" GS "8004495299PC000123-Y" GS,
		"]Q3"
		"8004495299PC000123Y" GS "10ABC",
		GS "]C1" GS "8004495299pc000123y" GS "\r",
		/* Each predefined length before ours, so that a wrong one would not read. */
		"]C100340123456789012345"
		"91PC000123Y",
		"]C10204012345678901"
		"3712" GS "91PC000123Y",
		"]C1"
		"20"
		"12"
		"91PC000123Y",
		"]C1"
		"3103001750"
		"91PC000123Y",
		"]C1"
		"3652001750"
		"91PC000123Y",
		"]C1"
		"4104012345678901"
		"91PC000123Y",
		"]C1"
		"11150129"
		"15150129"
		"91PC000123Y",
		/* The longest GIAI, 30: a prefix of 12 and 18 of ours. */
		"]C18004"
		"499529999123"
		"PC123456789012345L",
		/* Without an identifier, with and without FNC1 in front. */
		"0104012345678901"
		"21ABC" GS "8004495299PC000123Y",
		GS "0104012345678901"
		   "91PC000123Y",
		"]C0"
		"0104012345678901"
		"91PC000123Y",
		/* The same twice is one. */
		"]C191PC000123Y" GS "8004495299PC000123Y",
		/* AIs that the table does not know end with FNC1 as all that are not predefined. */
		"]C1"
		"8099ABC" GS "91PC000123Y",
		"]d2"
		"7299" GS "8004495299PC000123Y",
		/* A value that is none of ours beside it. */
		"]C191XYZ" GS "92PC000123Y",
	};
	for (size_t i = 0; i < COUNT_OF(lines); i++) {
		struct scan scan = must_be(lines[i], SCAN_TAG, NULL);
		assert_int_equal(scan.tag.class, TAG_PLATE_CYLINDER);
		assert_int_not_equal(scan.tag.serial, 0);
	}
}

static void scan_read__wrong_structure__misread(void **state)
{
	(void)state;
	static const struct {
		const char *line, *wrong;
	} rows[] = {
		{"]C101040123456789" GS "8004495299PC000123Y", "GS1 AI 01: value cut short"},
		{"]C10104012345678", "GS1 AI 01: value cut short"},
		{"]d2171501" GS "91PC000123Y", "GS1 AI 17: value cut short"},
		{"]d217150A29"
	     "91PC000123Y",
	     "GS1 AI 17: a sign among the digits of its value"},
		{"]C18004495299PC 000123Y", "GS1 AI 8004: a sign outside GS1 character set 82"},
		{"]C191PC000123#Y", "GS1 AI 91: a sign outside GS1 character set 82"},
		{"]C191PC00\xc3\xbc", "GS1 AI 91: a sign outside GS1 character set 82"},
		{"]C18004"
	     "495299912345"
	     "PC1234567890123456Y",
	     "GS1 AI 8004: GIAI longer than 30"},
		{"]C18004", "GS1 AI 8004: value cut short"},
		{"]C191", "GS1 AI 91: value cut short"},
		{"]C110"
	     "ABCDEFGHIJKLMNOPQRSTU",
	     "GS1 AI 10: value too long"},
		{"]C1"
	     "0",
	     "GS1 application identifier missing: 0"},
		{"]C1ABC123", "GS1 application identifier missing: ABC1"},
		{"]C191PC000123Y" GS GS "10A", "GS1 application identifier missing: \\x1d10A"},
		{"]C191PC000123Y" GS "0104012345678901"
	     "92PC000124W",
	     "more than one tag in one GS1 symbol"},
		{"]C191PC000123X", "check character disagrees"},
		{"]C18004495299PC000123X", "check character disagrees"},
		{"]C10104012345678901"
	     "8004495299PC000123",
	     "check character missing"},
		{"0104012345678901"
	     "21ABC" GS "8004495299PC000123X",
	     "check character disagrees"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		must_be_wrong(rows[i].line, SCAN_MISREAD, rows[i].wrong);
	}
}

static void scan_read__element_strings_of_others__other(void **state)
{
	(void)state;
	static const struct {
		const char *line, *code;
	} rows[] = {
		/* What stands alone in a company's own AI is the code itself. */
		{"]d291R1-3", "R1-3"},
		{"]C18004495299E011" GS, "495299E011"},
		/* Several, or what others give: the whole. */
		{"]C1011231231231233310ABC123" GS "99TESTING", "011231231231233310ABC123\\x1d99TESTING"},
		{"]C10104012345678901", "0104012345678901"},
		{"]C190PC12", "90PC12"},
		{"]C18099ABC", "8099ABC"},
		/* EAN and UPC hold a number, no element strings. */
		{"]E04006381333931", "4006381333931"},
		/* Without identifier nothing says that it is of GS1. */
		{"4006381333931", "4006381333931"},
		{"010401234567", "010401234567"},
		{"]C0010401234567", "010401234567"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		must_be(rows[i].line, SCAN_OTHER, rows[i].code);
	}
}

/* Every sign of set 82 in a value of 91, and no other (set 82: GS1 barcode syntax dictionary). */
static void scan_read__character_set__82_signs(void **state)
{
	(void)state;
	size_t taken = 0;
	for (int c = 0x21; c < 0x7f; c++) {
		char line[16];
		snprintf(line, sizeof line, "]d291R%c1", c);
		struct scan scan = scan_one(line);
		taken += scan.reading == SCAN_OTHER;
	}
	assert_int_equal(taken, 82);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(scan_read__element_strings__ours_among_them),
		cmocka_unit_test(scan_read__wrong_structure__misread),
		cmocka_unit_test(scan_read__element_strings_of_others__other),
		cmocka_unit_test(scan_read__character_set__82_signs),
	};
	return cmocka_run_group_tests_name("tag/scan_element", tests, NULL, NULL);
}
