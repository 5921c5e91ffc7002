/*
 * A week on a page, read back by pdftotext and xmllint: every job is there with its verdict, and no
 * letter stands where it could be cut off.
 */
#include <ctype.h>

#include "drawn.h"

/* ---------------------------------------------------------------- weeks */

static const char *const verdicts[] = {"ready", "ready with caution", "short", "not known", "runs"};
static const char *const titles[] = {"Quillmere pear cider 500 ml, front and neck", "Brambleholt",
                                     NULL, "Süßmost \u0394 & <\u00c4>"};

static struct board_box box_of(size_t number)
{
	static const char *const times[] = {"06:00-11:40", "from 14:00", "until 09:30", "all day"};
	return (struct board_box){
		.mark = (enum board_mark)(number % BOARD_MARK_COUNT),
		.number = arena_format(arena, "J%zu", 2600 + number),
		.time = times[number % COUNT_OF(times)],
		.title = titles[number % COUNT_OF(titles)],
		.verdict = verdicts[number % COUNT_OF(verdicts)],
		.before = number % 4 >= 2,
		.after = number % 4 == 1 || number % 4 == 3,
	};
}

static struct board_stack stack_of(size_t *number, size_t count)
{
	struct board_box *boxes = arena_take(arena, count, sizeof *boxes);
	for (size_t i = 0; i < count; i++) {
		boxes[i] = box_of((*number)++);
	}
	return (struct board_stack){.boxes = boxes, .count = count};
}

/* So many presses with so many jobs a day, closed on Sunday, and so many that have no time. */
static struct board_face week_of(size_t presses, size_t a_day, size_t undated, size_t notes)
{
	static const char *const days[] = {"Mon 30 Nov", "Tue 1 Dec", "Wed 2 Dec", "Thu 3 Dec",
	                                   "Fri 4 Dec",  "Sat 5 Dec", "Sun 6 Dec"};
	struct board_line *lines = arena_take(arena, presses + 1, sizeof *lines);
	const char **texts = arena_take(arena, notes, sizeof *texts);
	size_t number = 0;
	struct board_face face = {.title = "Week 2026-W49",
	                          .sum = "14 jobs: 11 can run, 2 short, 1 not known",
	                          .printed = "as on record at 2026-11-27T14:05",
	                          .lines = lines,
	                          .line_count = presses + (undated > 0),
	                          .notes_title = "What is short",
	                          .notes = texts,
	                          .note_count = notes,
	                          .legend = {"ready or booked", "with caution", "short", "not known",
	                                     "runs"}};
	for (size_t i = 0; i < BOARD_COLUMNS; i++) {
		face.columns[i].name = days[i];
		face.columns[i].closed = i == 6;
	}
	for (size_t i = 0; i < presses; i++) {
		lines[i].name = arena_format(arena, "P%zu", i + 1);
		lines[i].note = i == 0 ? "press 1, geared, 13 in" : NULL;
		for (size_t j = 0; j < BOARD_COLUMNS - 1; j++) {
			lines[i].columns[j] = stack_of(&number, a_day);
		}
	}
	lines[presses] = (struct board_line){.name = "not placed", .note = "no time", .across = true};
	lines[presses].columns[0] = stack_of(&number, undated);
	for (size_t i = 0; i < notes; i++) {
		texts[i] =
			arena_format(arena,
		                 "%zu stations on 2026-12-01T10:00 share 6 anilox rolls: J1001 at "
		                 "station 3, J1002 at station 4, J1003 at station 5, J1004 at station "
		                 "2; AN000001-1, AN000002-2, AN000003-3, AN000004-4, end%zu",
		                 i + 7, i);
	}
	return face;
}

static struct board_drawn draw(const struct board_face *face, const char *path)
{
	struct board_drawn drawn = {0};
	struct fault fault = {0};
	enum file_form form;
	assert_int_equal(file_form_of(path, &form, &fault), OUTCOME_DONE);
	if (print_board(arena, face, form, path, &drawn, &fault) != OUTCOME_DONE) {
		fail_msg("%s", fault.sentence);
	}
	return drawn;
}

/* How often it stands there as a word of its own. */
static size_t count_of(const char *text, const char *word)
{
	size_t count = 0, length = strlen(word);
	for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word)) {
		bool begins = at == text || !isalnum((unsigned char)at[-1]);
		count += begins && !isalnum((unsigned char)at[length]);
	}
	return count;
}

static void assert_all_jobs(const char *text, const struct board_face *face)
{
	size_t count = 0, wanted[BOARD_MARK_COUNT] = {0};
	for (size_t i = 0; i < face->line_count; i++) {
		for (size_t j = 0; j < BOARD_COLUMNS; j++) {
			const struct board_stack *stack = &face->lines[i].columns[j];
			for (size_t k = 0; k < stack->count; k++) {
				assert_int_equal(count_of(text, stack->boxes[k].number), 1);
				wanted[stack->boxes[k].mark]++;
				count++;
			}
		}
	}
	assert_true(count > 0);
	assert_true(count_of(text, "with caution") >= wanted[BOARD_TRIANGLE]);
	assert_true(count_of(text, "not known") >= wanted[BOARD_RING]);
	assert_true(count_of(text, "runs") >= wanted[BOARD_ARROW]);
	assert_true(count_of(text, "short") >= wanted[BOARD_CROSS]);
	assert_true(count_of(text, "ready") >= wanted[BOARD_DISC] + wanted[BOARD_TRIANGLE]);
}

/* A4 across, and 5 mm of it left free all around: a printer's own margin. Returns the pages. */
static size_t assert_within_page(const char *path)
{
	const double edge = 5 * 72 / 25.4;
	const char *said = said_by(arena_format(arena, "pdftotext -bbox %s -", path));
	size_t pages = 0, words = 0;
	for (const char *at = strstr(said, "<page "); at != NULL; at = strstr(at + 1, "<page ")) {
		assert_true(figure(at, " width") > 841.8 && figure(at, " width") < 842);
		assert_true(figure(at, " height") > 595.2 && figure(at, " height") < 595.4);
		pages++;
	}
	for (const char *at = strstr(said, "<word "); at != NULL; at = strstr(at + 1, "<word ")) {
		assert_true(figure(at, " xMin") >= edge && figure(at, " xMax") <= 841.9 - edge);
		assert_true(figure(at, " yMin") >= edge && figure(at, " yMax") <= 595.3 - edge);
		words++;
	}
	assert_true(words > 20);
	return pages;
}

static const char *pdf_text(const char *path)
{
	return said_by(arena_format(arena, "pdftotext -layout %s -", path));
}

/* ---------------------------------------------------------------- PDF */

static void print_board__pdf__every_job_with_its_verdict(void **state)
{
	(void)state;
	struct board_face face = week_of(3, 2, 9, 2);
	const char *path = path_of("week.pdf");
	struct board_drawn drawn = draw(&face, path);
	assert_int_equal(drawn.pages, 1);
	assert_int_equal(drawn.boxes_left + drawn.notes_left, 0);
	const char *text = pdf_text(path);
	assert_all_jobs(text, &face);
	assert_int_equal(count_of(text, "2026-W49"), 1);
	assert_int_equal(count_of(text, "Thu 3 Dec"), 1);
	assert_int_equal(count_of(text, "closed"), 1);
	assert_int_equal(count_of(text, "end1"), 1);
	assert_non_null(strstr(text, "as on record at 2026-11-27T14:05"));
	assert_non_null(strstr(text, "page 1 of 1"));
	assert_int_equal(assert_within_page(path), 1);
	assert_int_equal(remove(path), 0);
}

static void print_board__pdf_too_full_for_a_page__further_pages(void **state)
{
	(void)state;
	struct board_face face = week_of(6, 9, 3, 40);
	const char *path = path_of("full.pdf");
	struct board_drawn drawn = draw(&face, path);
	assert_true(drawn.pages > 1);
	assert_int_equal(drawn.boxes_left + drawn.notes_left, 0);
	const char *text = pdf_text(path);
	assert_all_jobs(text, &face);
	assert_int_equal(count_of(text, "end39"), 1);
	assert_true(count_of(text, "continued") > 0);
	assert_int_equal(count_of(text, "2026-W49"), drawn.pages);
	assert_int_equal(assert_within_page(path), drawn.pages);
	assert_int_equal(remove(path), 0);
}

static void print_board__words_far_too_long__end_in_an_ellipsis(void **state)
{
	(void)state;
	struct board_face face = week_of(1, 0, 0, 1);
	struct text endless = text_start(arena);
	for (int i = 0; i < 900; i++) {
		text_add(&endless, "Wwide");
	}
	struct board_box box = {.number = endless.bytes,
	                        .time = endless.bytes,
	                        .title = endless.bytes,
	                        .verdict = endless.bytes};
	struct board_line line = {.name = endless.bytes, .note = endless.bytes};
	line.columns[6] = (struct board_stack){.boxes = &box, .count = 1};
	face.lines = &line;
	face.title = endless.bytes;
	face.sum = endless.bytes;
	face.printed = endless.bytes;
	face.notes_title = endless.bytes;
	face.notes = (const char *const *)&endless.bytes;
	face.columns[0].name = endless.bytes;
	face.legend[0] = endless.bytes;
	const char *path = path_of("long.pdf");
	draw(&face, path);
	const char *text = pdf_text(path);
	size_t cut = 0;
	for (const char *at = strstr(text, "\u2026"); at != NULL; at = strstr(at + 1, "\u2026")) {
		cut++;
	}
	assert_int_equal(cut, 13); /* each of those */
	assert_int_equal(count_of(text, endless.bytes), 0);
	assert_int_equal(assert_within_page(path), 1);
	assert_int_equal(remove(path), 0);
}

/* Each word of a box stands between the lines of its day: those are 103.3 points apart. */
static void print_board__any_job__its_words_within_its_day(void **state)
{
	(void)state;
	struct board_face face = week_of(2, 2, 0, 0);
	const char *path = path_of("days.pdf");
	draw(&face, path);
	const char *said = said_by(arena_format(arena, "pdftotext -bbox %s -", path));
	for (size_t i = 0; i < 24; i++) {
		double left = 26 + 60 + (841.89 - 52 - 60) / 7 * (double)(i / 2 % 6);
		const char *at = strstr(said, arena_format(arena, ">J%zu<", 2600 + i));
		assert_non_null(at);
		while (strncmp(at, "<word", 5) != 0) {
			at--;
		}
		assert_true(figure(at, " xMin") >= left);
		assert_true(figure(at, " xMax") <= left + (841.89 - 52 - 60) / 7);
	}
	assert_int_equal(remove(path), 0);
}

static void print_board__nothing_planned__still_a_page(void **state)
{
	(void)state;
	struct board_face face = week_of(2, 0, 0, 0);
	const char *path = path_of("empty.pdf");
	assert_int_equal(draw(&face, path).pages, 1);
	assert_int_equal(count_of(pdf_text(path), "P2"), 1);
	assert_int_equal(remove(path), 0);
	face.line_count = 0;
	assert_int_equal(draw(&face, path).pages, 1);
	assert_int_equal(remove(path), 0);
}

/* ---------------------------------------------------------------- SVG */

static const char *svg_read(const char *path)
{
	said_by(arena_format(arena, "xmllint --noout %s", path)); /* it says no where it is not whole */
	return said_by(arena_format(arena, "cat %s", path));
}

static void print_board__svg__well_formed_with_text(void **state)
{
	(void)state;
	struct board_face face = week_of(3, 2, 2, 1);
	const char *path = path_of("week.svg");
	assert_int_equal(draw(&face, path).pages, 1);
	const char *svg = svg_read(path);
	assert_non_null(strstr(svg, " width=\"297.0000mm\" height=\"210.0000mm\""));
	for (size_t i = 0; i < 38; i++) {
		assert_non_null(strstr(svg, arena_format(arena, ">J%zu</text>", 2600 + i)));
	}
	assert_non_null(strstr(svg, ">Brambleholt</text>"));
	assert_non_null(strstr(svg, "&amp; &lt;\u00c4&gt;</text>"));
	assert_int_equal(remove(path), 0);
}

/* The numbers of all `and 3 more`. */
static size_t left_told(const char *svg)
{
	size_t left = 0;
	for (const char *at = strstr(svg, ">and "); at != NULL; at = strstr(at + 1, ">and ")) {
		left += strtoul(at + 5, NULL, 10);
	}
	return left;
}

static void print_board__svg_too_full__says_how_many_more(void **state)
{
	(void)state;
	struct board_face face = week_of(4, 20, 30, 40);
	const char *path = path_of("full.svg");
	struct board_drawn drawn = draw(&face, path);
	const char *svg = svg_read(path);
	size_t drawn_boxes = 0;
	for (size_t i = 0; i < 510; i++) {
		drawn_boxes += strstr(svg, arena_format(arena, ">J%zu</text>", 2600 + i)) != NULL;
	}
	assert_int_equal(drawn.pages, 1);
	assert_true(drawn_boxes > 40);
	assert_int_equal(drawn.boxes_left, 510 - drawn_boxes);
	assert_true(drawn.notes_left > 0);
	assert_int_equal(left_told(svg), drawn.boxes_left + drawn.notes_left);
	for (const char *at = strstr(svg, " y=\""); at != NULL; at = strstr(at + 1, " y=\"")) {
		assert_true(strtod(at + 4, NULL) <= 595.28 - 14);
	}
	for (const char *at = strstr(svg, "<text "); at != NULL; at = strstr(at + 1, "<text ")) {
		double right = figure(at, " x") + figure(at, " textLength");
		assert_true(figure(at, " x") >= 14 && right <= 841.89 - 14);
	}
	for (const char *at = strstr(svg, "font-size=\""); at != NULL;
	     at = strstr(at + 1, "font-size=\"")) {
		assert_true(strtod(at + 11, NULL) >= 6);
	}
	assert_int_equal(remove(path), 0);
}

/* What a record or a file of another hand may hold. */
static void print_board__any_bytes__still_well_formed(void **state)
{
	(void)state;
	static const char *const awkward[] = {"a\xff\xfe b",
	                                      "tab\tand\nline\x01\x7f",
	                                      "\xef\xbf\xbf\xef\xbf\xbe",
	                                      "]]><!-- & </text>",
	                                      "   ",
	                                      "",
	                                      "\u05d0\u05d1 \u202eabc",
	                                      "\u0301\u0301\u0301\u0301"};
	struct board_face face = week_of(1, 0, 0, 0);
	struct board_box boxes[COUNT_OF(awkward)];
	struct board_line line = {.name = awkward[0], .note = awkward[3]};
	for (size_t i = 0; i < COUNT_OF(awkward); i++) {
		boxes[i] = (struct board_box){.number = awkward[i],
		                              .time = awkward[(i + 1) % COUNT_OF(awkward)],
		                              .title = awkward[i],
		                              .verdict = "short"};
	}
	line.columns[2] = (struct board_stack){.boxes = boxes, .count = COUNT_OF(awkward)};
	face.lines = &line;
	face.notes = awkward;
	face.note_count = COUNT_OF(awkward);
	const char *path = path_of("awkward.svg");
	draw(&face, path);
	assert_int_equal(count_of(svg_read(path), "short"),
	                 COUNT_OF(awkward) + 3); /* sum, title of the notes, legend */
	assert_int_equal(remove(path), 0);
	path = path_of("awkward.pdf");
	draw(&face, path);
	assert_int_equal(assert_within_page(path), 1);
	assert_int_equal(remove(path), 0);
}

/* More presses than lines find room on one page. */
static void print_board__svg_more_presses_than_fit__counted(void **state)
{
	(void)state;
	struct board_face face = week_of(90, 1, 0, 3);
	const char *path = path_of("presses.svg");
	struct board_drawn drawn = draw(&face, path);
	svg_read(path);
	assert_int_equal(drawn.pages, 1);
	assert_true(drawn.boxes_left > 0 && drawn.boxes_left <= 540);
	assert_int_equal(drawn.notes_left, 3);
	assert_int_equal(remove(path), 0);
}

/* ---------------------------------------------------------------- files */

static void print_board__no_such_folder__refused(void **state)
{
	(void)state;
	struct board_face face = week_of(1, 1, 0, 0);
	struct board_drawn drawn;
	struct fault fault = {0};
	const char *path = path_of("none/week.pdf");
	assert_int_equal(print_board(arena, &face, FILE_PDF, path, &drawn, &fault), OUTCOME_BAD);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "folder of the file not found: %s", path));
}

static void print_board__disk_full__old_file_stays(void **state)
{
	(void)state;
	struct board_face face = week_of(1, 1, 0, 0);
	struct board_drawn drawn;
	struct fault fault = {0};
	const char *path = path_of("week.pdf");
	disk_fill(path);
	enum outcome outcome = print_board(arena, &face, FILE_PDF, path, &drawn, &fault);
	disk_clear(path, outcome, &fault);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(print_board__pdf__every_job_with_its_verdict),
		cmocka_unit_test(print_board__pdf_too_full_for_a_page__further_pages),
		cmocka_unit_test(print_board__words_far_too_long__end_in_an_ellipsis),
		cmocka_unit_test(print_board__any_job__its_words_within_its_day),
		cmocka_unit_test(print_board__nothing_planned__still_a_page),
		cmocka_unit_test(print_board__svg__well_formed_with_text),
		cmocka_unit_test(print_board__svg_too_full__says_how_many_more),
		cmocka_unit_test(print_board__any_bytes__still_well_formed),
		cmocka_unit_test(print_board__svg_more_presses_than_fit__counted),
		cmocka_unit_test(print_board__no_such_folder__refused),
		cmocka_unit_test(print_board__disk_full__old_file_stays),
	};
	return cmocka_run_group_tests(tests, set_up, take_down);
}
