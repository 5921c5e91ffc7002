#include "common.h"
#include "console/answer.h"

#define ROWS 100000
#define MEMORY_MOST_KIB (32 * 1024)

static struct arena *held;

static int held_open(void **state)
{
	held = arena_new();
	return arena_open(state);
}

static int held_close(void **state)
{
	arena_free(held);
	return arena_close(state);
}

/* What came to the sink: kept where `text` is given, counted anyway. */
struct taken {
	struct text *text;
	size_t bytes, lines, times;
	size_t times_most; /* then it takes no more; 0: never */
	size_t held_most;
};

static bool take(void *context, const char *bytes)
{
	struct taken *taken = context;
	taken->bytes += strlen(bytes);
	for (const char *c = bytes; *c != '\0'; c++) {
		taken->lines += *c == '\n' ? 1 : 0;
	}
	if (taken->text != NULL) {
		text_add(taken->text, bytes);
	}
	if (arena_bytes(held) > taken->held_most) {
		taken->held_most = arena_bytes(held);
	}
	return ++taken->times != taken->times_most;
}

static const char *tag_of(size_t row, char *room, size_t size)
{
	snprintf(room, size, "PC%06zu-M", row);
	return room;
}

static void fill(struct answer *answer, size_t rows)
{
	static const char *const columns[] = {"tag", ">teeth", "what"};
	char tag[32];
	answer_array_open(answer, NULL);
	answer_table_open(answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < rows; i++) {
		const char *cells[] = {tag_of(i, tag, sizeof tag), "96", "plate cylinder, face 330mm"};
		answer_object_open(answer, NULL);
		answer_word(answer, "tag", cells[0]);
		answer_count(answer, "teeth", 96);
		answer_number(answer, "face_mm", 330.2, 3);
		answer_array_open(answer, "fit");
		answer_word(answer, NULL, "journal35");
		answer_array_close(answer);
		answer_object_close(answer);
		answer_table_row(answer, MARK_PLAIN, cells);
	}
	answer_table_close(answer);
	answer_array_close(answer);
}

static const char *whole(enum answer_form form, bool indented, size_t rows)
{
	struct answer *answer = answer_new(arena, form, UNITS_METRIC);
	answer->indented = indented;
	fill(answer, rows);
	return answer_finish(answer);
}

static const char *streamed(enum answer_form form, bool indented, size_t rows, struct taken *taken)
{
	struct text text = text_start(arena);
	const struct answer_sink sink = {.take = take, .context = taken};
	struct answer *answer = answer_new(arena, form, UNITS_METRIC);
	answer->indented = indented;
	taken->text = &text;
	answer_stream(answer, held, &sink);
	fill(answer, rows);
	text_add(&text, answer_finish(answer));
	return text.bytes;
}

static void answer_stream__long__the_same_bytes(void **state)
{
	(void)state;
	static const enum answer_form forms[] = {FORM_TEXT, FORM_JSON, FORM_CSV};
	for (size_t i = 0; i < COUNT_OF(forms) * 2; i++) {
		struct taken taken = {0};
		enum answer_form form = forms[i / 2];
		bool indented = i % 2 == 1;
		/* No assert of whole texts: they are too long to read where they differ. */
		assert_int_equal(strcmp(streamed(form, indented, 9000, &taken),
		                        whole(form, indented, 9000)),
		                 0);
		assert_true(taken.times > 1);
	}
}

static void answer_stream__short__stays_whole(void **state)
{
	(void)state;
	static const enum answer_form forms[] = {FORM_TEXT, FORM_JSON, FORM_CSV};
	for (size_t i = 0; i < COUNT_OF(forms); i++) {
		struct taken taken = {0};
		assert_string_equal(streamed(forms[i], false, 300, &taken), whole(forms[i], false, 300));
		assert_int_equal(taken.times, 0);
	}
}

/* Peak of the memory that the program ever had resident, in KiB. */
static size_t memory_peak(void)
{
	char line[256];
	size_t peak = 0;
	FILE *status = fopen("/proc/self/status", "r");
	assert_non_null(status);
	while (fgets(line, sizeof line, status) != NULL) {
		if (strncmp(line, "VmHWM:", 6) == 0) {
			peak = strtoul(line + 6, NULL, 10);
		}
	}
	fclose(status);
	return peak;
}

static void answer_stream__100000_rows__little_memory(void **state)
{
	(void)state;
	static const enum answer_form forms[] = {FORM_TEXT, FORM_JSON, FORM_CSV};
	for (size_t i = 0; i < COUNT_OF(forms); i++) {
		struct taken taken = {0};
		const struct answer_sink sink = {.take = take, .context = &taken};
		struct answer *answer = answer_new(arena, forms[i], UNITS_METRIC);
		answer_stream(answer, held, &sink);
		fill(answer, ROWS);
		take(&taken, answer_finish(answer));
		assert_int_equal(taken.lines, forms[i] == FORM_JSON ? 1 : ROWS + 1);
		assert_true(taken.bytes > ROWS * 20);
		assert_true(taken.held_most < 4 * ANSWER_BYTES_HELD);
	}
	assert_true(arena_bytes(arena) < ANSWER_BYTES_HELD);
#ifndef __SANITIZE_ADDRESS__
	assert_true(memory_peak() < MEMORY_MOST_KIB);
#endif
	(void)memory_peak;
}

static void answer_stream__reader_gone__no_more(void **state)
{
	(void)state;
	struct taken taken = {.times_most = 1};
	const struct answer_sink sink = {.take = take, .context = &taken};
	struct answer *answer = answer_new(arena, FORM_JSON, UNITS_METRIC);
	answer_stream(answer, held, &sink);
	assert_true(answer_is_wanted(answer));
	fill(answer, 20000);
	assert_false(answer_is_wanted(answer));
	assert_string_equal(answer_finish(answer), "");
	assert_int_equal(taken.times, 1);
}

static void answer_stream__later_cells_wider__columns_widen(void **state)
{
	(void)state;
	static const char *const columns[] = {"tag", "what"};
	static const char *const narrow[] = {"A", "first"};
	static const char *const wide[] = {"ABCDEFGH", "later"};
	struct taken taken = {0};
	const struct answer_sink sink = {.take = take, .context = &taken};
	struct answer *answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	answer_stream(answer, held, &sink);
	answer_table_open(answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < TABLE_ROWS_HELD; i++) {
		answer_table_row(answer, MARK_PLAIN, narrow);
	}
	answer_table_row(answer, MARK_PLAIN, wide);
	answer_table_row(answer, MARK_PLAIN, narrow);
	answer_table_close(answer);
	const char *text = answer_finish(answer);
	assert_memory_equal(text, "tag  what\nA    first\n", 20);
	assert_non_null(strstr(text, "\nA    first\nABCDEFGH  later\nA         first\n"));
}

static void answer_stream__csv__first_piece_makes_the_columns(void **state)
{
	(void)state;
	struct text text = text_start(arena);
	struct taken taken = {.text = &text};
	const struct answer_sink sink = {.take = take, .context = &taken};
	struct answer *answer = answer_new(arena, FORM_CSV, UNITS_METRIC);
	answer_stream(answer, held, &sink);
	answer_array_open(answer, NULL);
	for (size_t i = 0; i < 20000; i++) {
		answer_object_open(answer, NULL);
		answer_word(answer, i < 15000 ? "first" : "later", "x");
		answer_word(answer, "all", "y");
		answer_object_close(answer);
	}
	answer_array_close(answer);
	text_add(&text, answer_finish(answer));
	assert_memory_equal(text.bytes, "first,all\r\nx,y\r\n", 16);
	assert_string_equal(text.bytes + text.length - 8, ",y\r\n,y\r\n");
	assert_true(taken.times > 1);
}

#define WITH_HELD(test) cmocka_unit_test_setup_teardown(test, held_open, held_close)

/* Two elements, each given out at once. */
static const char *flushed(enum answer_form form)
{
	struct text text = text_start(arena);
	struct taken taken = {.text = &text};
	const struct answer_sink sink = {.take = take, .context = &taken};
	struct answer *answer = answer_new(arena, form, UNITS_METRIC);
	answer_stream(answer, held, &sink);
	answer_array_open(answer, NULL);
	answer_flush(answer);
	for (int64_t i = 1; i <= 2; i++) {
		answer_object_open(answer, NULL);
		answer_count(answer, "scan", i);
		answer_object_close(answer);
		answer_line(answer, MARK_PLAIN, "scan %d", (int)i);
		answer_flush(answer);
		answer_flush(answer);
		assert_int_equal(taken.times, i);
		assert_int_equal(text.bytes[text.length - 1], '\n');
	}
	answer_array_close(answer);
	text_add(&text, answer_finish(answer));
	return text.bytes;
}

static void answer_flush__each_form__goes_out_at_once_in_lines_and_is_whole(void **state)
{
	(void)state;
	assert_string_equal(flushed(FORM_TEXT), "scan 1\nscan 2\n");
	assert_string_equal(flushed(FORM_CSV), "scan\r\n1\r\n2\r\n");
	assert_string_equal(flushed(FORM_JSON), "[{\"scan\": 1}\n, {\"scan\": 2}\n]\n");
}

int main(void)
{
	/* The one that measures comes first: the peak is of the whole program. */
	const struct CMUnitTest tests[] = {
		WITH_HELD(answer_stream__100000_rows__little_memory),
		WITH_HELD(answer_stream__long__the_same_bytes),
		WITH_HELD(answer_stream__short__stays_whole),
		WITH_HELD(answer_stream__reader_gone__no_more),
		WITH_HELD(answer_stream__later_cells_wider__columns_widen),
		WITH_HELD(answer_stream__csv__first_piece_makes_the_columns),
		WITH_HELD(answer_flush__each_form__goes_out_at_once_in_lines_and_is_whole),
	};
	return cmocka_run_group_tests_name("answer_stream", tests, NULL, NULL);
}
