#include "common.h"
#include "console/words.h"

/* The words of a line with `|` between them. */
static const char *split(const char *line)
{
	struct word *words = NULL;
	size_t count = 0;
	struct text text = text_start(arena);
	assert_int_equal(words_split(arena, line, &words, &count, &fault), OUTCOME_DONE);
	for (size_t i = 0; i < count; i++) {
		text_add_format(&text, "%s%s", i == 0 ? "" : "|", words[i].text);
	}
	return text.bytes;
}

static void words_split__lines__words(void **state)
{
	(void)state;
	static const struct {
		const char *line;
		const char *words;
	} cases[] = {
		{"", ""},
		{"  \t ", ""},
		{"# whole line", ""},
		{"show PC000123-Y", "show|PC000123-Y"},
		{"  show\tPC000123-Y \r\n", "show|PC000123-Y"},
		{"show A # rest", "show|A"},
		{"show A#1", "show|A#1"},
		{"show '#1'", "show|#1"},
		{"hold A reason=\"scored band\"", "hold|A|reason=scored band"},
		{"hold A reason='scored band'", "hold|A|reason=scored band"},
		{"hold A \"reason=scored band\"", "hold|A|reason=scored band"},
		{"note=\"say \\\"no\\\"\"", "note=say \"no\""},
		{"note=\"back\\\\slash\"", "note=back\\slash"},
		{"note='back\\slash'", "note=back\\slash"},
		{"back\\slash", "back\\slash"},
		{"a\"b c\"d'e f'", "ab cde f"},
		{"note=\"\"", "note="},
		{"'' x", "|x"},
		{"note=\"it's\"", "note=it's"},
		{"width=12\\ 1", "width=12\\|1"},
		{"name=Zoë", "name=Zoë"},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_string_equal(split(cases[i].line), cases[i].words);
	}
}

static void words_split__quote_open__refused(void **state)
{
	(void)state;
	static const char *const lines[] = {"hold A reason=\"scored", "hold A reason='scored",
	                                    "note=\"ends in a backslash\\\"", "\"", "'"};
	for (size_t i = 0; i < COUNT_OF(lines); i++) {
		struct word *words = NULL;
		size_t count = 0;
		fault_clear(&fault);
		assert_int_equal(words_split(arena, lines[i], &words, &count, &fault), OUTCOME_BAD);
		assert_memory_equal(fault.sentence, "quote not closed: ", 18);
		assert_string_equal(fault.hint, "Close it, or put the word into quotes of the other sort.");
	}
}

static void words_split__many_words__all_kept(void **state)
{
	(void)state;
	struct text line = text_start(arena);
	struct word *words = NULL;
	size_t count = 0;
	for (int i = 0; i < 1000; i++) {
		text_add_format(&line, "w%d ", i);
	}
	assert_int_equal(words_split(arena, line.bytes, &words, &count, &fault), OUTCOME_DONE);
	assert_int_equal(count, 1000);
	assert_string_equal(words[0].text, "w0");
	assert_string_equal(words[999].text, "w999");
}

static void word_of__forms__key_and_value(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		const char *key;
		const char *value;
	} cases[] = {
		{"at=R2-4", "at", "R2-4"},
		{"AT=R2-4", "at", "R2-4"},
		{"label_across=70mm", "label_across", "70mm"},
		{"note=a=b", "note", "a=b"},
		{"note=", "note", ""},
		{"R2-4", NULL, NULL},
		{"=x", NULL, NULL},
		{"a-b=c", NULL, NULL},
		{"--db=shop.db", NULL, NULL},
		{"2x=3", NULL, NULL},
		{"]C0PC000123Y", NULL, NULL},
		{"", NULL, NULL},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		struct word word = word_of(arena, cases[i].text);
		assert_string_equal(word.text, cases[i].text);
		if (cases[i].key == NULL) {
			assert_null(word.key);
			assert_null(word.value);
		} else {
			assert_string_equal(word.key, cases[i].key);
			assert_string_equal(word.value, cases[i].value);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(words_split__lines__words),
		WITH_ARENA(words_split__quote_open__refused),
		WITH_ARENA(words_split__many_words__all_kept),
		WITH_ARENA(word_of__forms__key_and_value),
	};
	return cmocka_run_group_tests_name("words", tests, NULL, NULL);
}
