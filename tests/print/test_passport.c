/*
 * Passports, read back: the words by pdftotext, the symbol by decoders that we did not write. All
 * stands on one page, whole and apart; what has no room is counted.
 */
#include "drawn.h"
#include "passport_face.h"

#define WIDTH (210 * 72 / 25.4)
#define HEIGHT (297 * 72 / 25.4)

static struct passport_drawn draw(const struct passport_face *face, const char *path)
{
	struct passport_drawn drawn;
	struct fault fault = {0};
	enum file_form form;
	assert_int_equal(file_form_of(path, &form, &fault), OUTCOME_DONE);
	if (print_passport(arena, face, form, path, &drawn, &fault) != OUTCOME_DONE) {
		fail_msg("%s", fault.sentence);
	}
	return drawn;
}

static struct words words_drawn(const struct passport_face *face, struct passport_drawn *drawn)
{
	const char *path = path_of("passport.pdf");
	*drawn = draw(face, path);
	struct words words = words_of(path, WIDTH, HEIGHT);
	assert_words_apart(&words, WIDTH, HEIGHT);
	assert_words_free(path, &words);
	assert_int_equal(remove(path), 0);
	return words;
}

static struct passport_face face_with(size_t entries, bool plot)
{
	struct passport_face face = passport_face_of(arena, entries);
	if (plot) {
		struct plot_face *drawn = arena_take(arena, 1, sizeof *drawn);
		*drawn = wear_face(arena);
		face.plot = drawn;
	}
	return face;
}

/* Entries of the history that are told to their end. */
static size_t entries_told(const struct words *words)
{
	size_t told = 0;
	for (size_t i = 0; i < words->count; i++) {
		told += strncmp(words->words[i].text, "entry", 5) == 0;
	}
	return told;
}

/* The number before a word such as `earlier`; 0 where it does not stand there. */
static size_t number_before(const struct words *words, const char *word)
{
	const struct word *found = word_find(words, word);
	return found == NULL ? 0 : strtoul(found[-1].text, NULL, 10);
}

/* ---------------------------------------------------------------- words */

static void print_passport__without_plot__all_of_it(void **state)
{
	(void)state;
	struct passport_face face = face_with(20, false);
	struct passport_drawn drawn;
	struct words words = words_drawn(&face, &drawn);
	assert_int_equal(drawn.rows_left + drawn.history_left, 0);
	assert_has_words(&words, face.code);
	assert_has_words(&words, face.title);
	assert_has_words(&words, "its home within anilox rack 1 (A1), tool room (ROOM) ready caution:");
	assert_has_words(&words, face.printed);
	assert_has_words(&words, face.history_title);
	for (size_t i = 0; i < face.row_count; i++) {
		assert_has_words(&words, face.rows[i].name);
		assert_has_words(&words, face.rows[i].value);
	}
	for (size_t i = 0; i < face.history_count; i++) {
		assert_has_words(&words, face.history[i]);
	}
	assert_null(word_find(&words, "earlier"));
	face.history_more = 12;
	words = words_drawn(&face, &drawn);
	assert_int_equal(drawn.history_left, 12);
	assert_int_equal(number_before(&words, "earlier"), 12);
}

static void print_passport__with_plot__both_and_what_is_earlier_counted(void **state)
{
	(void)state;
	struct passport_face face = face_with(60, true);
	struct passport_drawn drawn;
	struct words words = words_drawn(&face, &drawn);
	assert_int_equal(drawn.rows_left, 0);
	assert_has_words(&words, "read after cleaning trend forecast limit 5.76 90 % band cleaned");
	assert_has_words(&words, "web run, million m volume, cm3/m2 life 2,");
	assert_has_words(&words, face.plot->notes[0]);
	assert_true(entries_told(&words) >= 6);
	assert_int_equal(drawn.history_left, 60 - entries_told(&words));
	assert_int_equal(number_before(&words, "earlier"), drawn.history_left);
	face.history_more = 1000;
	words = words_drawn(&face, &drawn);
	assert_int_equal(drawn.history_left, 1060 - entries_told(&words));
	assert_int_equal(number_before(&words, "earlier"), drawn.history_left);
	/* The latest stand there, and the plot below them. */
	assert_non_null(word_find(&words, "entry0"));
	assert_true(word_find(&words, "entry0")->bottom < word_find(&words, "volume,")->top);
}

/* However many data there are, the latest of the history have room. */
static void print_passport__more_data_than_room__counted(void **state)
{
	(void)state;
	struct passport_face face = face_with(60, true);
	struct passport_row *rows = arena_take(arena, 120, sizeof *rows);
	for (size_t i = 0; i < 120; i++) {
		rows[i].name = arena_format(arena, "name%zu", i);
		rows[i].value = arena_format(arena, "value%zu over as many words as take %s", i,
		                             i % 2 == 0 ? "a second line of it" : "one");
	}
	face.rows = rows;
	face.row_count = 120;
	for (int plot = 0; plot < 2; plot++) {
		struct passport_drawn drawn;
		size_t told = 0;
		struct words words = words_drawn(&face, &drawn);
		for (size_t i = 0; i < words.count; i++) {
			told += strncmp(words.words[i].text, "value", 5) == 0;
		}
		assert_true(told > 10 && drawn.rows_left > 0);
		assert_int_equal(drawn.rows_left, 120 - told);
		assert_int_equal(number_before(&words, "more"), drawn.rows_left);
		assert_true(entries_told(&words) >= 4);
		assert_int_equal(drawn.history_left, 60 - entries_told(&words));
		face.plot = NULL;
	}
}

static void print_passport__words_far_too_long__within_the_page(void **state)
{
	(void)state;
	struct passport_face face = face_with(3, true);
	struct text endless = text_start(arena), sentence = text_start(arena);
	for (int i = 0; i < 200; i++) {
		text_add(&endless, "Wwide");
		text_add(&sentence, "many words ");
	}
	const struct passport_row rows[] = {{endless.bytes, sentence.bytes},
	                                    {sentence.bytes, endless.bytes},
	                                    {"face", "330mm"}};
	const char *history[] = {sentence.bytes, endless.bytes, "the end"};
	face.code = endless.bytes;
	face.title = sentence.bytes;
	face.whereabouts = endless.bytes;
	face.printed = sentence.bytes;
	face.history_title = endless.bytes;
	face.rows = rows;
	face.row_count = COUNT_OF(rows);
	face.history = history;
	struct passport_drawn drawn;
	struct words words = words_drawn(&face, &drawn);
	assert_int_equal(drawn.rows_left + drawn.history_left, 0);
	assert_has_words(&words, "face 330mm the end forecast");
	assert_null(word_find(&words, endless.bytes));
}

static void print_passport__nothing_known__code_and_symbol(void **state)
{
	(void)state;
	const struct passport_face face = {.title = "die",
	                                   .code = "DI000001-A",
	                                   .content = "DI000001A",
	                                   .history_title = "none"};
	struct passport_drawn drawn;
	struct words words = words_drawn(&face, &drawn);
	assert_int_equal(words.count, 2);
	assert_has_words(&words, "DI000001-A die");
}

/* ---------------------------------------------------------------- the symbol */

/* The upper left of the page by ZXingReader, which looks for one symbol; all of it by dmtxread. */
static void assert_symbol(const struct passport_face *face, const char *content,
                          const char *identifier)
{
	const char *pdf = path_of("passport.pdf");
	struct passport_drawn drawn = draw(face, pdf);
	(void)drawn;
	said_by(arena_format(arena, "pdftoppm -singlefile -gray -r 200 %s %s/all", pdf, folder));
	said_by(arena_format(arena, "pdftoppm -singlefile -gray -r 200 -W 320 -H 320 %s %s/corner", pdf,
	                     folder));
	assert_string_equal(
		said_by(arena_format(arena, "ZXingReader %s/corner.pgm | grep -E '^(Text|Identifier):'",
	                         folder)),
		arena_format(arena, "Text:       \"%s\"\nIdentifier: %s\n", content, identifier));
	assert_string_equal(said_by(arena_format(arena, "dmtxread -n -N1 %s/all.pgm", folder)),
	                    arena_format(arena, "%s\n", content));
	said_by(arena_format(arena, "rm %s/all.pgm %s/corner.pgm %s", folder, folder, pdf));
}

static void print_passport__symbol__read_back(void **state)
{
	(void)state;
	struct passport_face face = face_with(20, true);
	assert_symbol(&face, "AN0000453", "]d1");
	face.content = "[8004]4012345AN0000453";
	face.gs1 = true;
	assert_symbol(&face, "80044012345AN0000453", "]d2");
}

static void print_passport__png__read_back(void **state)
{
	(void)state;
	struct passport_face face = face_with(20, true);
	const char *path = path_of("passport.png");
	draw(&face, path);
	assert_string_equal(said_by(arena_format(arena, "dmtxread -n -N1 %s", path)), "AN0000453\n");
	assert_int_equal(remove(path), 0);
}

static void print_passport__svg__well_formed_with_text(void **state)
{
	(void)state;
	struct passport_face face = face_with(20, true);
	const char *path = path_of("passport.svg");
	face.title = "a\xff <b> & \u00c4\u0394 \xef\xbf\xbe";
	draw(&face, path);
	const char *svg = said_by(arena_format(arena, "xmllint --noout %s && cat %s", path, path));
	assert_non_null(strstr(svg, " width=\"210.0000mm\" height=\"297.0000mm\""));
	assert_non_null(strstr(svg, ">AN000045-3</text>"));
	assert_non_null(strstr(svg, ">what happened last</text>"));
	assert_int_equal(remove(path), 0);
}

static void print_passport__content_that_makes_no_symbol__refused(void **state)
{
	(void)state;
	struct passport_face face = face_with(1, false);
	struct passport_drawn drawn;
	struct fault fault = {0};
	face.content = "[8004]";
	face.gs1 = true;
	const char *path = path_of("passport.pdf");
	assert_int_equal(print_passport(arena, &face, FILE_PDF, path, &drawn, &fault), OUTCOME_BAD);
	assert_non_null(strstr(fault.sentence, "content of AN000045-3 makes no datamatrix symbol"));
	assert_int_not_equal(access(path, F_OK), 0);
}

/* ---------------------------------------------------------------- files */

static void print_passport__no_such_folder__refused(void **state)
{
	(void)state;
	struct passport_face face = face_with(1, false);
	struct passport_drawn drawn;
	struct fault fault = {0};
	const char *path = path_of("none/passport.pdf");
	assert_int_equal(print_passport(arena, &face, FILE_PDF, path, &drawn, &fault), OUTCOME_BAD);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "folder of the file not found: %s", path));
}

static void print_passport__disk_full__old_file_stays(void **state)
{
	(void)state;
	struct passport_face face = face_with(1, false);
	struct passport_drawn drawn;
	struct fault fault = {0};
	const char *path = path_of("passport.png");
	disk_fill(path);
	disk_clear(path, print_passport(arena, &face, FILE_PNG, path, &drawn, &fault), &fault);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(print_passport__without_plot__all_of_it),
		cmocka_unit_test(print_passport__with_plot__both_and_what_is_earlier_counted),
		cmocka_unit_test(print_passport__more_data_than_room__counted),
		cmocka_unit_test(print_passport__words_far_too_long__within_the_page),
		cmocka_unit_test(print_passport__nothing_known__code_and_symbol),
		cmocka_unit_test(print_passport__symbol__read_back),
		cmocka_unit_test(print_passport__png__read_back),
		cmocka_unit_test(print_passport__svg__well_formed_with_text),
		cmocka_unit_test(print_passport__content_that_makes_no_symbol__refused),
		cmocka_unit_test(print_passport__no_such_folder__refused),
		cmocka_unit_test(print_passport__disk_full__old_file_stays),
	};
	return cmocka_run_group_tests_name("passport", tests, set_up, take_down);
}
