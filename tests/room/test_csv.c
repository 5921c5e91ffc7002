/* Rows out of CSV texts: RFC 4180, and what spreadsheets make of it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "room/csv.h"

struct gathered {
	struct text text;
	int64_t bytes_read;
	size_t rows, stop_after;
};

/* `1:a|b`, a row a line. */
static enum outcome gather(const struct csv_row *row, void *context)
{
	struct gathered *gathered = context;
	text_add_format(&gathered->text, "%lld:", (long long)row->line);
	for (size_t i = 0; i < row->count; i++) {
		text_add_format(&gathered->text, "%s%s", i > 0 ? "|" : "", row->cells[i]);
	}
	text_add(&gathered->text, "\n");
	assert_true(row->bytes_read > gathered->bytes_read);
	gathered->bytes_read = row->bytes_read;
	gathered->rows++;
	return gathered->rows == gathered->stop_after ? OUTCOME_NO : OUTCOME_DONE;
}

static const struct {
	const char *text;
	char separator;
	const char *rows;
} whole[] = {
	{"a,b\n1,2\n", ',', "1:a|b\n2:1|2\n"},
	{"a,b\n1,2", ',', "1:a|b\n2:1|2\n"},
	{"a,b\r\n1,2\r\n", ',', "1:a|b\n2:1|2\n"},
	{"a,b\r1,2\r", ',', "1:a|b\n2:1|2\n"},
	{"\xef\xbb\xbf"
     "a,b\n1,2\n",
     ',', "1:a|b\n2:1|2\n"},
	{"a;b\n1,5;2\n", ';', "1:a|b\n2:1,5|2\n"},
	{"a\tb\n1 x\t\n", '\t', "1:a|b\n2:1 x|\n"},
	{"\n\na\n\n1\n", ',', "3:a\n5:1\n"},           /* empty lines are passed over, and counted */
	{"a,b\n,\n , \n1,2\n", ',', "1:a|b\n4:1|2\n"}, /* and so are lines of separators alone */
	{"a,b\n1\n1,2,3\n", ',', "1:a|b\n2:1\n3:1|2|3\n"}, /* short and long ones are for the reader */
	{" a , b \n", ',', "1:a|b\n"},
	{"\" a \",b\n", ',', "1: a |b\n"},
	{"\"a,b\",\"c\"\"d\"\n", ',', "1:a,b|c\"d\n"},
	{"\"a\nb\",c\nd\n", ',', "1:a\nb|c\n3:d\n"}, /* a line break within quotes */
	/* whatever ends the lines of the file, within a cell it is a newline */
	{"\"a\r\nb\",c\r\nd\r\n", ',', "1:a\nb|c\n3:d\n"},
	{"\"a\r\n\r\nb\rc\n\r\",d\r\n", ',', "1:a\n\nb\nc\n\n|d\n"},
	{"\"a\"\"\n\"\"\",c\nd\n", ',', "1:a\"\n\"|c\n3:d\n"},
	{"\"\"\n\"\",x\n", ',', "2:|x\n"},
	{"", ',', ""},
	{"\xef\xbb\xbf", ',', ""},
};

static void csv_read__whole_texts__rows_and_their_lines(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(whole); i++) {
		struct arena *arena = arena_new();
		struct arena *each = arena_new();
		struct gathered gathered = {.text = text_start(arena)};
		struct csv_tear tear;
		struct fault fault;
		fault_clear(&fault);
		assert_int_equal(csv_read(each, whole[i].text, strlen(whole[i].text), whole[i].separator,
		                          gather, &gathered, &tear, &fault),
		                 OUTCOME_DONE);
		assert_string_equal(gathered.text.bytes, whole[i].rows);
		assert_string_equal(fault.sentence, "");
		arena_free(each);
		arena_free(arena);
	}
}

#define TEXT(text) (text), sizeof(text) - 1

static const struct {
	const char *text;
	size_t length;
	int64_t line;
	size_t cell;
	const char *sentence;
	const char *rows; /* given before it */
} torn[] = {
	{TEXT("a,b\n1,\"2\n3,4\n"), 2, 1, "quote is opened and never closed", "1:a|b\n"},
	{TEXT("a,b\n1,\"2\"\"\n3,4\n"), 2, 1, "quote is opened and never closed", "1:a|b\n"},
	{TEXT("a,b\n\"1\n\n\",\"2\n3,4\n"), 4, 1, "quote is opened and never closed", "1:a|b\n"},
	{TEXT("a\n1\n\""), 3, 0, "quote is opened and never closed", "1:a\n2:1\n"},
	{TEXT("a,b\n1,13\" wide\n3,4\n"), 2, 1, "quote within a cell that does not begin with one",
     "1:a|b\n"},
	{TEXT("a,b\n\"1\" x,2\n"), 2, 0, "cell goes on behind its closing quote", "1:a|b\n"},
	{TEXT("a,b\n\"1,2\n\"3\",4\n"), 2, 0,
     "quote is opened here, and the cell goes on behind the next one, in line 3", "1:a|b\n"},
	{TEXT("a\n1\0\n"), 2, SIZE_MAX, "text holds a NUL byte, it is no CSV", ""},
	{TEXT("a\r\n\"1\r\n\0\n"), 3, SIZE_MAX, "text holds a NUL byte, it is no CSV", ""},
	{TEXT("\xff\xfe"
          "a\0"),
     1, SIZE_MAX, "text is in UTF-16, not in UTF-8", ""},
	{TEXT("\xfe\xff\0a"), 1, SIZE_MAX, "text is in UTF-16, not in UTF-8", ""},
};

static void csv_read__torn_texts__refused_where_they_are_torn(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(torn); i++) {
		struct arena *arena = arena_new();
		struct arena *each = arena_new();
		struct gathered gathered = {.text = text_start(arena)};
		struct csv_tear tear = {0, 0};
		struct fault fault;
		fault_clear(&fault);
		assert_int_equal(csv_read(each, torn[i].text, torn[i].length, ',', gather, &gathered, &tear,
		                          &fault),
		                 OUTCOME_BAD);
		assert_string_equal(fault.sentence, torn[i].sentence);
		assert_string_not_equal(fault.hint, "");
		assert_int_equal(tear.line, torn[i].line);
		assert_true(tear.cell == torn[i].cell);
		assert_string_equal(gathered.text.bytes, torn[i].rows);
		arena_free(each);
		arena_free(arena);
	}
}

static void csv_read__reader_has_enough__stops(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct arena *each = arena_new();
	struct gathered gathered = {.text = text_start(arena), .stop_after = 2};
	struct csv_tear tear;
	/* The quote behind it is not come by. */
	static const char text[] = "a\nb\nc\n\"";
	assert_int_equal(csv_read(each, text, strlen(text), ',', gather, &gathered, &tear, NULL),
	                 OUTCOME_NO);
	assert_string_equal(gathered.text.bytes, "1:a\n2:b\n");
	arena_free(each);
	arena_free(arena);
}

static void csv_read__row_of_many_cells__all_of_them(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct arena *each = arena_new();
	struct text text = text_start(arena);
	struct gathered gathered = {.text = text_start(arena)};
	struct csv_tear tear;
	for (int i = 0; i < 1000; i++) {
		text_add_format(&text, "%s%d", i > 0 ? "," : "", i);
	}
	assert_int_equal(csv_read(each, text.bytes, text.length, ',', gather, &gathered, &tear, NULL),
	                 OUTCOME_DONE);
	assert_non_null(strstr(gathered.text.bytes, "|999\n"));
	arena_free(each);
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(csv_read__whole_texts__rows_and_their_lines),
		cmocka_unit_test(csv_read__torn_texts__refused_where_they_are_torn),
		cmocka_unit_test(csv_read__reader_has_enough__stops),
		cmocka_unit_test(csv_read__row_of_many_cells__all_of_them),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
