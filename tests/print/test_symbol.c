#include "shop.h"

/*
 * Widths of bars and spaces, by value: ISO/IEC 15417, table 1; also Wikipedia, "Code 128", "Bar
 * code widths". From memory, and held here against the check characters published below.
 */
static const char *const code_128[] =
	{"212222", "222122", "222221", "121223", "121322", "131222", "122213", "122312", "132212",
     "221213", "221312", "231212", "112232", "122132", "122231", "113222", "123122", "123221",
     "223211", "221132", "221231", "213212", "223112", "312131", "311222", "321122", "321221",
     "312212", "322112", "322211", "212123", "212321", "232121", "111323", "131123", "131321",
     "112313", "132113", "132311", "211313", "231113", "231311", "112133", "112331", "132131",
     "113123", "113321", "133121", "313121", "211331", "231131", "213113", "213311", "213131",
     "311123", "311321", "331121", "312113", "312311", "332111", "314111", "221411", "431111",
     "111224", "111422", "121124", "121421", "141122", "141221", "112214", "112412", "122114",
     "122411", "142112", "142211", "241211", "221114", "413111", "241112", "134111", "111242",
     "121142", "121241", "114212", "124112", "124211", "411212", "421112", "421211", "212141",
     "214121", "412121", "111143", "111341", "131141", "114113", "114311", "411113", "411311",
     "113141", "114131", "311141", "411131", "211412", "211214", "211232"};
#define STOP "2331112"

static struct arena *arena;

static int set_up(void **state)
{
	(void)state;
	arena = arena_new();
	return 0;
}

static int take_down(void **state)
{
	(void)state;
	arena_free(arena);
	return 0;
}

static struct symbol made(enum symbology symbology, enum symbol_shape shape, bool gs1,
                          const char *content)
{
	struct tag_face face = {.code = "PC000123-Y", .content = content, .gs1 = gs1};
	struct symbol symbol = {0};
	struct fault fault = {0};
	if (symbol_make(arena, symbology, shape, &face, &symbol, &fault) != OUTCOME_DONE) {
		fail_msg("%s", fault.sentence);
	}
	return symbol;
}

/* Widths of all elements, as digits. */
static const char *widths_of(const struct symbol *symbol)
{
	struct text widths = text_start(arena);
	for (int64_t x = 0; x < symbol->wide;) {
		int64_t run = x;
		while (run < symbol->wide && symbol->modules[run] == symbol->modules[x]) {
			run++;
		}
		text_add_format(&widths, "%lld", (long long)(run - x));
		x = run;
	}
	return widths.bytes;
}

/* Values of the characters, start to check character; returns how many. */
static size_t values_of(const struct symbol *symbol, int *values, size_t most)
{
	const char *widths = widths_of(symbol);
	size_t count = 0;
	for (; strlen(widths) > strlen(STOP); widths += 6) {
		assert_true(count < most);
		values[count] = -1;
		for (size_t i = 0; i < COUNT_OF(code_128); i++) {
			if (strncmp(widths, code_128[i], 6) == 0) {
				values[count] = (int)i;
			}
		}
		assert_true(values[count] >= 0);
		count++;
	}
	assert_string_equal(widths, STOP);
	return count;
}

/* Start value plus each value times its position, modulo 103: ISO/IEC 15417, annex A. */
static int check_of(const int *values, size_t count)
{
	int sum = values[0];
	for (size_t i = 1; i < count; i++) {
		sum += values[i] * (int)i;
	}
	return sum % 103;
}

static void check_of__published__as_published(void **state)
{
	(void)state;
	/* Wikipedia, "Code 128": PJJ123C from start A, 878 mod 103 = 54. */
	static const int first[] = {103, 48, 42, 42, 17, 18, 19, 35};
	/* barcodeisland.com/code128.phtml: HI345678, start A, code C, 1406 mod 103 = 67. */
	static const int second[] = {103, 40, 41, 99, 34, 56, 78};
	assert_int_equal(check_of(first, COUNT_OF(first)), 54);
	assert_int_equal(check_of(second, COUNT_OF(second)), 67);
}

static void symbol_make__code_128__bars_are_the_published_ones(void **state)
{
	(void)state;
	static const char *const contents[] = {"PJJ123C", "HI345678", "PC000123Y", "AN999999Z"};
	for (size_t i = 0; i < COUNT_OF(contents); i++) {
		int values[40];
		struct symbol symbol = made(SYMBOLOGY_CODE_128, SHAPE_SQUARE, false, contents[i]);
		size_t count = values_of(&symbol, values, COUNT_OF(values));
		assert_true(symbol.linear);
		assert_int_equal(symbol.high, 1);
		assert_in_range(values[0], 103, 105);
		assert_int_equal(values[count - 1], check_of(values, count - 1));
	}
}

static void symbol_make__hi345678__its_characters(void **state)
{
	(void)state;
	/* As published, but from start B (104), which zint takes for letters: one more than 67. */
	static const int expected[] = {104, 40, 41, 99, 34, 56, 78, 68};
	int values[40];
	struct symbol symbol = made(SYMBOLOGY_CODE_128, SHAPE_SQUARE, false, "HI345678");
	assert_int_equal(values_of(&symbol, values, COUNT_OF(values)), COUNT_OF(expected));
	assert_memory_equal(values, expected, sizeof expected);
}

static void symbol_make__tag_in_code_128__143_x_with_quiet_zones(void **state)
{
	(void)state;
	struct symbol symbol = made(SYMBOLOGY_CODE_128, SHAPE_SQUARE, false, "PC000123Y");
	assert_int_equal(symbol.quiet, 10);
	assert_int_equal(symbol.wide, 123);
	assert_int_equal(symbol.wide + 2 * symbol.quiet, 143);
}

static void symbol_make__gs1_128__begins_with_fnc1(void **state)
{
	(void)state;
	int values[60];
	struct symbol symbol = made(SYMBOLOGY_CODE_128, SHAPE_SQUARE, true, "[8004]4012345PC000123Y");
	size_t count = values_of(&symbol, values, COUNT_OF(values));
	/* FNC1 is value 102 in every code set; GS1 General Specifications 5.4.3. */
	assert_int_equal(values[1], 102);
	assert_int_equal(values[count - 1], check_of(values, count - 1));
}

static void symbol_make__gs1_128_of_49_characters__refused(void **state)
{
	(void)state;
	struct tag_face face = {.code = "PC000123-Y", .gs1 = true};
	struct symbol symbol;
	struct fault fault = {0};
	/* 2 of the identifier and 46: the most. */
	face.content = "[91]1234567890123456789012345678901234567890123456";
	assert_int_equal(symbol_make(arena, SYMBOLOGY_CODE_128, SHAPE_SQUARE, &face, &symbol, &fault),
	                 OUTCOME_DONE);
	face.content = "[91]12345678901234567890123456789012345678901234567";
	assert_int_equal(symbol_make(arena, SYMBOLOGY_CODE_128, SHAPE_SQUARE, &face, &symbol, &fault),
	                 OUTCOME_BAD);
	assert_string_equal(fault.sentence,
	                    "content of PC000123-Y is longer than a GS1-128 symbol may be: "
	                    "[91]12345678901234567890123456789012345678901234567");
	assert_string_equal(fault.hint, "It takes 48 characters; datamatrix and qr take more.");
}

/* Light and dark in turn along the top and right, dark along the left and bottom: ISO/IEC 16022. */
static void assert_finder(const struct symbol *symbol)
{
	for (int64_t y = 0; y < symbol->high; y++) {
		assert_int_equal(symbol->modules[y * symbol->wide], 1);
		assert_int_equal(symbol->modules[y * symbol->wide + symbol->wide - 1], y % 2);
	}
	for (int64_t x = 0; x < symbol->wide; x++) {
		assert_int_equal(symbol->modules[(symbol->high - 1) * symbol->wide + x], 1);
		assert_int_equal(symbol->modules[x], (x + 1) % 2);
	}
}

static void symbol_make__data_matrix__smallest_that_holds_it(void **state)
{
	(void)state;
	/* Data codewords: 10x10 3, 12x12 5, 14x14 8, 16x16 12: ISO/IEC 16022, table 7. A pair of digits
	   is one codeword. */
	static const struct {
		const char *content;
		int64_t side;
	} rows[] = {{"ABC", 10}, {"ABCD1", 12}, {"PC000123Y", 14}, {"ABC-DEF-GHJK", 16}};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct symbol symbol = made(SYMBOLOGY_DATA_MATRIX, SHAPE_SQUARE, false, rows[i].content);
		assert_int_equal(symbol.wide, rows[i].side);
		assert_int_equal(symbol.high, rows[i].side);
		assert_int_equal(symbol.quiet, 1);
		assert_finder(&symbol);
	}
}

static void symbol_make__data_matrix_rectangle__smallest_that_holds_it(void **state)
{
	(void)state;
	/* 8x18 holds 5 codewords, 8x32 holds 10: ISO/IEC 16022, table 7. */
	struct symbol symbol = made(SYMBOLOGY_DATA_MATRIX, SHAPE_RECTANGLE, false, "AB123");
	assert_int_equal(symbol.wide, 18);
	assert_int_equal(symbol.high, 8);
	symbol = made(SYMBOLOGY_DATA_MATRIX, SHAPE_RECTANGLE, false, "PC000123Y");
	assert_int_equal(symbol.wide, 32);
	assert_int_equal(symbol.high, 8);
}

static void symbol_make__qr__smallest_version_at_level_m(void **state)
{
	(void)state;
	/* Version 1 is 21 modules and holds 20 alphanumeric characters at level M, version 2 is 25:
	   ISO/IEC 18004, table 7. */
	struct symbol symbol = made(SYMBOLOGY_QR, SHAPE_SQUARE, false, "PC000123Y");
	assert_int_equal(symbol.wide, 21);
	assert_int_equal(symbol.high, 21);
	assert_int_equal(symbol.quiet, 4);
	symbol = made(SYMBOLOGY_QR, SHAPE_SQUARE, false, "ABCDEFGHIJKLMNOPQRST");
	assert_int_equal(symbol.wide, 21);
	symbol = made(SYMBOLOGY_QR, SHAPE_SQUARE, false, "ABCDEFGHIJKLMNOPQRSTU");
	assert_int_equal(symbol.wide, 25);
}

static void symbol_make__content_that_makes_none__refused(void **state)
{
	(void)state;
	struct tag_face face = {.code = "PC000123-Y", .gs1 = true, .content = "[8004]4012345PC^"};
	struct symbol symbol;
	struct fault fault = {0};
	assert_int_equal(symbol_make(arena, SYMBOLOGY_QR, SHAPE_SQUARE, &face, &symbol, &fault),
	                 OUTCOME_BAD);
	assert_non_null(strstr(fault.sentence, "content of PC000123-Y makes no qr symbol, "));
}

static void symbology_name__each__as_in_a_stock(void **state)
{
	(void)state;
	assert_string_equal(symbology_name(SYMBOLOGY_CODE_128), "code128");
	assert_string_equal(symbology_name(SYMBOLOGY_DATA_MATRIX), "datamatrix");
	assert_string_equal(symbology_name(SYMBOLOGY_QR), "qr");
	assert_string_equal(symbology_name(SYMBOLOGY_NONE), "none");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(check_of__published__as_published),
		cmocka_unit_test(symbol_make__code_128__bars_are_the_published_ones),
		cmocka_unit_test(symbol_make__hi345678__its_characters),
		cmocka_unit_test(symbol_make__tag_in_code_128__143_x_with_quiet_zones),
		cmocka_unit_test(symbol_make__gs1_128__begins_with_fnc1),
		cmocka_unit_test(symbol_make__gs1_128_of_49_characters__refused),
		cmocka_unit_test(symbol_make__data_matrix__smallest_that_holds_it),
		cmocka_unit_test(symbol_make__data_matrix_rectangle__smallest_that_holds_it),
		cmocka_unit_test(symbol_make__qr__smallest_version_at_level_m),
		cmocka_unit_test(symbol_make__content_that_makes_none__refused),
		cmocka_unit_test(symbology_name__each__as_in_a_stock),
	};
	return cmocka_run_group_tests_name("symbol", tests, set_up, take_down);
}
