#include <locale.h>

#include "common.h"
#include "console/answer.h"
#include "console/columns.h"

static struct answer *fresh(size_t width, bool colour)
{
	struct answer *answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	answer->width = width;
	answer->colour = colour;
	return answer;
}

static void fill_table(struct answer *answer)
{
	static const char *const columns[] = {"tag", ">teeth", "what"};
	static const char *const first[] = {"PC000001-1", "96",
	                                    "plate cylinder that is in the far rack"};
	static const char *const second[] = {"Ä", "108", NULL};
	answer_table_open(answer, columns, COUNT_OF(columns));
	answer_table_row(answer, MARK_PLAIN, first);
	answer_table_row(answer, MARK_BAD, second);
	answer_table_close(answer);
}

static void answer_table__columns__aligned(void **state)
{
	(void)state;
	struct answer *answer = fresh(0, false);
	fill_table(answer);
	assert_string_equal(answer_finish(answer),
	                    "tag         teeth  what\n"
	                    "PC000001-1     96  plate cylinder that is in the far rack\n"
	                    "Ä             108\n");
}

static void answer_table__narrow_terminal__last_column_wraps(void **state)
{
	(void)state;
	struct answer *answer = fresh(40, false);
	fill_table(answer);
	assert_string_equal(answer_finish(answer), "tag         teeth  what\n"
	                                           "PC000001-1     96  plate cylinder that\n"
	                                           "                   is in the far rack\n"
	                                           "Ä             108\n");
}

static void answer_table__narrower__still_side_by_side(void **state)
{
	(void)state;
	struct answer *answer = fresh(30, false);
	fill_table(answer);
	assert_string_equal(answer_finish(answer), "tag         teeth  what\n"
	                                           "PC000001-1     96  plate\n"
	                                           "                   cylinder\n"
	                                           "                   that is in\n"
	                                           "                   the far\n"
	                                           "                   rack\n"
	                                           "Ä             108\n");
}

static void answer_table__too_narrow_for_its_words__cells_below_each_other(void **state)
{
	(void)state;
	struct answer *answer = fresh(24, false);
	fill_table(answer);
	assert_string_equal(answer_finish(answer), "tag  PC000001-1\n"
	                                           "  teeth  96\n"
	                                           "  what  plate cylinder\n"
	                                           "    that is in the far\n"
	                                           "    rack\n"
	                                           "tag  Ä\n"
	                                           "  teeth  108\n");
}

static void answer_table__hardly_any_columns__harmless(void **state)
{
	(void)state;
	for (size_t width = 1; width < 20; width++) {
		struct answer *answer = fresh(width, false);
		fill_table(answer);
		assert_non_null(strstr(answer_finish(answer), "tag  PC000001-1\n"));
	}
}

static void answer_table__several_texts__the_widest_wrap(void **state)
{
	(void)state;
	static const char *const columns[] = {"tag", "where", "what"};
	static const char *const row[] = {"  AN000001-R", "anilox rack 1, coarse screens, below",
	                                  "scored band at the drive side"};
	struct answer *answer = fresh(50, false);
	answer_table_open(answer, columns, COUNT_OF(columns));
	answer_table_row(answer, MARK_PLAIN, row);
	answer_table_close(answer);
	assert_string_equal(answer_finish(answer), "tag           where              what\n"
	                                           "  AN000001-R  anilox rack 1,     scored band at\n"
	                                           "              coarse screens,    the drive side\n"
	                                           "              below\n");
}

static void answer_table__wide_characters__aligned_and_wrapped(void **state)
{
	(void)state;
	static const char *const columns[] = {"name", "note", ">teeth"};
	static const char *const cjk[] = {"版胴", "予備の 版胴 です", "96"};
	static const char *const combining[] = {"e\xcc\x81te\xcc\x81", "n\xe2\x80\x8bu", "108"};
	struct answer *answer = fresh(0, false);
	answer_table_open(answer, columns, COUNT_OF(columns));
	answer_table_row(answer, MARK_PLAIN, cjk);
	answer_table_row(answer, MARK_PLAIN, combining);
	answer_table_close(answer);
	assert_string_equal(answer_finish(answer),
	                    "name  note              teeth\n"
	                    "版胴  予備の 版胴 です     96\n"
	                    "e\xcc\x81te\xcc\x81   n\xe2\x80\x8bu                  108\n");
	answer = fresh(24, false);
	answer_table_open(answer, columns, COUNT_OF(columns));
	answer_table_row(answer, MARK_PLAIN, cjk);
	answer_table_close(answer);
	assert_string_equal(answer_finish(answer), "name  note         teeth\n"
	                                           "版胴  予備の 版胴     96\n"
	                                           "      です\n");
}

static void answer_table__colour__words_stay(void **state)
{
	(void)state;
	struct answer *answer = fresh(0, true);
	fill_table(answer);
	assert_string_equal(answer_finish(answer),
	                    "\033[1mtag         teeth  what\033[0m\n"
	                    "PC000001-1     96  plate cylinder that is in the far rack\n"
	                    "\033[31mÄ             108\033[0m\n");
}

static void answer_table__no_rows__says_nothing(void **state)
{
	(void)state;
	static const char *const columns[] = {"tag"};
	struct answer *answer = fresh(0, false);
	answer_table_open(answer, columns, 1);
	answer_table_close(answer);
	assert_string_equal(answer_finish(answer), "");
}

static void answer_table__no_names__no_heading(void **state)
{
	(void)state;
	static const char *const columns[] = {"", ">"};
	static const char *const row[] = {"a", "1"};
	struct answer *answer = fresh(0, false);
	answer_table_open(answer, columns, COUNT_OF(columns));
	answer_table_row(answer, MARK_PLAIN, row);
	answer_table_close(answer);
	assert_string_equal(answer_finish(answer), "a  1\n");
}

static void answer_line__marks__each_its_own(void **state)
{
	(void)state;
	static const char *const expected[] = {
		[MARK_PLAIN] = "x\n",
		[MARK_GOOD] = "\033[32mx\033[0m\n",
		[MARK_CAUTION] = "\033[33mx\033[0m\n",
		[MARK_BAD] = "\033[31mx\033[0m\n",
		[MARK_STRONG] = "\033[1mx\033[0m\n",
		[MARK_DIM] = "\033[2mx\033[0m\n",
	};
	for (size_t i = 0; i < COUNT_OF(expected); i++) {
		struct answer *answer = fresh(0, true);
		answer_line(answer, (enum answer_mark)i, "x");
		assert_string_equal(answer_finish(answer), expected[i]);
	}
}

static void answer_line__long__wrapped_further_in(void **state)
{
	(void)state;
	struct answer *answer = fresh(20, false);
	answer_line(answer, MARK_PLAIN, "  one two three four five %d", 6);
	answer_blank(answer);
	answer_line(answer, MARK_PLAIN, "short");
	assert_string_equal(answer_finish(answer), "  one two three four\n    five 6\n\nshort\n");
}

static void answer_line__word_longer_than_the_line__broken(void **state)
{
	(void)state;
	struct answer *answer = fresh(16, false);
	answer_line(answer, MARK_PLAIN, "0123456789abcdefghij klm");
	assert_string_equal(answer_finish(answer), "0123456789abcdef\nghij klm\n");
}

static void answer_line__control_characters__harmless(void **state)
{
	(void)state;
	struct answer *answer = fresh(0, false);
	answer_line(answer, MARK_PLAIN, "%s", "a\033[31mb\nc\td\x7f\xff\xc2\x85");
	assert_string_equal(answer_finish(answer), "a\\x1b[31mb c d\\x7f\\xff\\xc2\\x85\n");
}

static void answer_text__other_forms__nothing(void **state)
{
	(void)state;
	struct answer *answer = answer_new(arena, FORM_JSON, UNITS_METRIC);
	answer_line(answer, MARK_PLAIN, "x");
	answer_blank(answer);
	fill_table(answer);
	assert_string_equal(answer_finish(answer), "");
	assert_int_equal(answer_form(answer), FORM_JSON);
}

static void text_columns__characters__as_wide_as_shown(void **state)
{
	(void)state;
	assert_int_equal(text_columns(""), 0);
	assert_int_equal(text_columns("abc"), 3);
	assert_int_equal(text_columns("Zoë"), 3);
	assert_int_equal(text_columns("e\xcc\x81"), 1); /* e and a combining acute accent */
	assert_int_equal(text_columns("版"), 2);
	assert_int_equal(text_columns("\xff"), 1);
}

static void character_read__broken_forms__none(void **state)
{
	(void)state;
	static const char *const broken[] = {"",
	                                     "\x80",
	                                     "\xc0\x80",
	                                     "\xc1\xbf",
	                                     "\xc3",
	                                     "\xe0\x80\x80",
	                                     "\xed\xa0\x80",
	                                     "\xf0\x80\x80\x80",
	                                     "\xf4\x90\x80\x80",
	                                     "\xf5\x80\x80\x80",
	                                     "\xe2\x82"};
	uint32_t code = 0;
	for (size_t i = 0; i < COUNT_OF(broken); i++) {
		assert_int_equal(character_read(broken[i], &code), 0);
	}
	assert_int_equal(character_read("\xf4\x8f\xbf\xbf", &code), 4);
	assert_int_equal(code, 0x10ffff);
	assert_int_equal(character_read("€", &code), 3);
	assert_int_equal(code, 0x20ac);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(answer_table__columns__aligned),
		WITH_ARENA(answer_table__narrow_terminal__last_column_wraps),
		WITH_ARENA(answer_table__narrower__still_side_by_side),
		WITH_ARENA(answer_table__too_narrow_for_its_words__cells_below_each_other),
		WITH_ARENA(answer_table__hardly_any_columns__harmless),
		WITH_ARENA(answer_table__several_texts__the_widest_wrap),
		WITH_ARENA(answer_table__wide_characters__aligned_and_wrapped),
		WITH_ARENA(answer_table__colour__words_stay),
		WITH_ARENA(answer_table__no_rows__says_nothing),
		WITH_ARENA(answer_table__no_names__no_heading),
		WITH_ARENA(answer_line__marks__each_its_own),
		WITH_ARENA(answer_line__long__wrapped_further_in),
		WITH_ARENA(answer_line__word_longer_than_the_line__broken),
		WITH_ARENA(answer_line__control_characters__harmless),
		WITH_ARENA(answer_text__other_forms__nothing),
		WITH_ARENA(text_columns__characters__as_wide_as_shown),
		WITH_ARENA(character_read__broken_forms__none),
	};
	setlocale(LC_CTYPE, "C.UTF-8");
	return cmocka_run_group_tests_name("answer_text", tests, NULL, NULL);
}
