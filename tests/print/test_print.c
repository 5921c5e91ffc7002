#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "shop.h"

static struct arena *arena;
static char folder[] = "/tmp/toothrack_print_XXXXXX";

static int set_up(void **state)
{
	(void)state;
	arena = arena_new();
	return mkdtemp(folder) == NULL;
}

static int take_down(void **state)
{
	(void)state;
	arena_free(arena);
	return rmdir(folder); /* fails where a test or a print left something behind */
}

static const char *path_of(const char *name)
{
	return arena_format(arena, "%s/%s", folder, name);
}

static struct tag_face *faces_of(const struct stock *stock, size_t count, enum carried carried)
{
	struct tag_face *faces = arena_take(arena, count, sizeof *faces);
	for (size_t i = 0; i < count; i++) {
		struct tag tag = {TAG_PLATE_CYLINDER, 123 + (int64_t)i};
		faces[i] = face_of(arena, stock, tag, carried);
	}
	return faces;
}

static void assert_refused(const struct print_request *request, enum outcome outcome,
                           const char *sentence, const char *hint)
{
	struct print_plan plan;
	struct fault fault = {0};
	assert_int_equal(print_plan(arena, request, &plan, &fault), outcome);
	assert_string_equal(fault.sentence, sentence);
	assert_string_equal(fault.hint, hint);
}

/* ---------------------------------------------------------------- plans */

static void print_plan__half_used_sheet__pages_and_cells_left(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "a4-24");
	struct print_request request = request_of(&stock, faces_of(&stock, 30, CARRIED_PLAIN), 30);
	request.first_cell = 20;
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	/* 19 used, 30 more: 49 cells, two pages and one cell of a third. */
	assert_int_equal(plan.pages, 3);
	assert_int_equal(plan.cells, 23);
	/* 63.5 mm are 750 dots: 143 x 5 fits, 143 x 6 does not. */
	assert_int_equal(plan.x_dots, 5);
	assert_int_equal(length_to_nm(plan.x), 423334);
	assert_false(plan.turned);
	request.first_cell = 19;
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_int_equal(plan.pages, 2);
	assert_int_equal(plan.cells, 0);
}

static void print_plan__code_128_on_25_by_10__refused_with_what_would_do(void **state)
{
	(void)state;
	static const enum symbology code_128 = SYMBOLOGY_CODE_128;
	struct stock stock = stock_named(arena, "roll-25x10");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_PLAIN), 1);
	request.faces = faces_of(&stock, 1, CARRIED_PLAIN);
	request.symbology = &code_128;
	assert_refused(&request, OUTCOME_NO,
	               "code128 symbol of PC000123-Y does not fit roll-25x10: 143 X of 0.25mm (2 dots) "
	               "and the text need 35.8mm x 11.1mm, the tag is 25mm x 10mm",
	               "Use a stock with tags of at least 35.8mm x 11.1mm; or type symbol=datamatrix "
	               "or symbol=qr.");
}

static void print_plan__size_that_it_named__fits(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock =
		stock_of(arena,
	             "title = t\nuse = tool\ntag_width = 35.8mm\ntag_height = 11.1mm\n"
	             "dots_per_inch = 203\nsymbol = code128\nline = 1.7mm tag\nline = 1.2mm teeth\n"
	             "line = 1.1mm fit\n");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_PLAIN), 1);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_int_equal(plan.x_dots, 2);
}

static void print_plan__least_x_of_the_shop__held(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-50x25");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_PLAIN), 1);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_int_equal(plan.x_dots, 2);
	request.x_least = length_from_mm(0.26);
	assert_refused(
		&request, OUTCOME_NO,
		"code128 symbol of PC000123-Y does not fit roll-50x25: 143 X of 0.375mm (3 dots) "
		"and the text need 53.7mm x 14.6mm, the tag is 50mm x 25mm",
		"Use a stock with tags of at least 53.7mm x 14.6mm; or type symbol=datamatrix or "
		"symbol=qr.");
}

static void print_plan__round_carrier__height_by_its_curve(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-50x25");
	struct tag_face *faces = faces_of(&stock, 1, CARRIED_PLAIN);
	struct print_request request = request_of(&stock, faces, 1);
	/* 60 of 360 degrees of 9.6 mm are 5.03 mm: 40 dots, just the 5 mm that bars need. */
	faces[0].carrier = length_from_mm(9.6);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_false(plan.turned);
	faces[0].carrier = length_from_mm(9.5);
	assert_refused(&request, OUTCOME_NO,
	               "code128 symbol of PC000123-Y is too high for what it goes on: it reaches 5.1mm "
	               "around the curve, the diameter 9.5mm allows 4.8mm",
	               "It needs a diameter of at least 9.6mm; or type symbol=datamatrix.");
	faces[0].carrier = length_from_mm(2);
	assert_refused(&request, OUTCOME_NO,
	               "code128 symbol of PC000123-Y is too high for what it goes on: it reaches 5.1mm "
	               "around the curve, the diameter 2mm allows 1mm",
	               "It needs a diameter of at least 9.6mm, or a flat place.");
}

/* 35.75 mm are 1.4075 in, 11.01 mm are 0.4335 in: up to the next hundredth. */
static void print_plan__in_inches__sizes_and_diameters_in_inches(void **state)
{
	(void)state;
	static const enum symbology code_128 = SYMBOLOGY_CODE_128;
	struct stock stock = stock_named(arena, "roll-25x10");
	struct tag_face *faces = faces_of(&stock, 1, CARRIED_PLAIN);
	struct print_request request = request_of(&stock, faces, 1);
	request.symbology = &code_128;
	request.units = UNITS_INCH;
	assert_refused(&request, OUTCOME_NO,
	               "code128 symbol of PC000123-Y does not fit roll-25x10: 143 X of 0.0099in (2 "
	               "dots) and the text need 1.41in x 0.44in, the tag is 0.98in x 0.39in",
	               "Use a stock with tags of at least 1.41in x 0.44in; or type symbol=datamatrix "
	               "or symbol=qr.");
	request.x_least = length_from_mm(0.1);
	struct stock wide = stock_named(arena, "roll-50x25");
	request.stock = &wide;
	faces[0].carrier = length_from_mm(8.89);
	assert_refused(&request, OUTCOME_NO,
	               "code128 symbol of PC000123-Y is too high for what it goes on: it reaches "
	               "0.2in around the curve, the diameter 0.35in allows 0.18in",
	               "It needs a diameter of at least 0.38in; or type symbol=datamatrix "
	               "or symbol=qr.");
}

static void print_plan__one_dot__said_so(void **state)
{
	(void)state;
	struct stock stock = stock_of(arena, "title = t\nuse = tool\ntag_width = 10mm\n"
	                                     "tag_height = 10mm\ndots_per_inch = 203\n"
	                                     "symbol = code128\nline = 1mm tag\n");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_PLAIN), 1);
	struct print_plan plan;
	struct fault fault = {0};
	request.x_least = length_from_mm(0.1);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_NO);
	assert_non_null(strstr(fault.sentence, ": 143 X of 0.125mm (1 dot) and the text need "));
}

static void print_plan__tall_tag_on_a_round_carrier__turned(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_of(arena, "title = t\nuse = tool\ntag_width = 30mm\n"
	                                     "tag_height = 60mm\ndots_per_inch = 300\n"
	                                     "symbol = code128\nline = 1.2mm tag\n");
	struct tag_face *faces = faces_of(&stock, 1, CARRIED_PLAIN);
	struct print_request request = request_of(&stock, faces, 1);
	faces[0].carrier = length_from_mm(40);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_true(plan.turned);
}

static void print_plan__gs1_128__no_longer_than_the_standard_allows(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_of(arena, "title = t\nuse = tool\ntag_width = 400mm\n"
	                                     "tag_height = 60mm\ndots_per_inch = 300\n"
	                                     "symbol = code128\nline = 4mm tag\n");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_GIAI), 1);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	int64_t modules = plan.placed->symbol.wide + 20;
	/* GS1 General Specifications 5.4.4.3: 165.10 mm, 1950 dots of 300 an inch. */
	assert_true(modules * plan.x_dots <= 1950 && modules * (plan.x_dots + 1) > 1950);
	request.x_least = length_from_mm(0.8);
	assert_refused(&request, OUTCOME_NO,
	               "code128 symbol of PC000123-Y would be longer than 165.1mm, which no GS1-128 "
	               "symbol may be",
	               "Type symbol=datamatrix or symbol=qr, which take less room.");
}

static void print_plan__cell_or_tags_that_are_not__refused(void **state)
{
	(void)state;
	struct stock stock = stock_named(arena, "a4-24");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_PLAIN), 1);
	request.first_cell = 25;
	assert_refused(&request, OUTCOME_BAD, "cell is not on the sheet a4-24: 25",
	               "Name one from 1 to 24; they count along the rows.");
	request.first_cell = 0;
	assert_refused(&request, OUTCOME_BAD, "cell is not on the sheet a4-24: 0",
	               "Name one from 1 to 24; they count along the rows.");
	request.first_cell = 1;
	request.count = 0;
	assert_refused(&request, OUTCOME_BAD, "no tag to print", "Name at least one.");
}

static void print_plan__text_alone_too_large__refused(void **state)
{
	(void)state;
	struct stock stock = stock_of(arena, "title = t\nuse = tool\ntag_width = 6mm\n"
	                                     "tag_height = 5mm\ndots_per_inch = 300\n"
	                                     "symbol = none\nline = 4mm tag\n");
	struct print_request request = request_of(&stock, faces_of(&stock, 1, CARRIED_PLAIN), 1);
	assert_refused(
		&request, OUTCOME_NO,
		"text of PC000123-Y does not fit own: it needs 9.1mm x 2.4mm, the tag is 6mm x 5mm",
		"Use a tag of at least 9.1mm x 2.4mm, or fewer lines.");
}

/* ---------------------------------------------------------------- files */

static enum outcome print_to(const char *stock_name, size_t count, const char *path,
                             struct fault *fault)
{
	struct print_plan plan;
	enum file_form form;
	struct stock stock = stock_named(arena, stock_name);
	struct print_request request =
		request_of(&stock, faces_of(&stock, count, CARRIED_PLAIN), count);
	fault_clear(fault);
	enum outcome outcome = file_form_of(path, &form, fault);
	return outcome == OUTCOME_DONE ? print_tags(arena, &request, form, path, &plan, fault)
	                               : outcome;
}

static void assert_unwritten(const char *stock, size_t count, const char *path,
                             enum outcome outcome, const char *sentence, const char *hint)
{
	struct fault fault = {0};
	assert_int_equal(print_to(stock, count, path, &fault), outcome);
	assert_string_equal(fault.sentence, sentence);
	assert_string_equal(fault.hint, hint);
}

/* The whole file, which is then removed. */
static const char *take_file(const char *path)
{
	FILE *file = fopen(path, "rb");
	assert_non_null(file);
	char *bytes = arena_take(arena, 1000000, 1);
	size_t length = fread(bytes, 1, 999999, file);
	fclose(file);
	assert_int_equal(remove(path), 0);
	bytes[length] = '\0';
	return bytes;
}

static void file_form_of__ending__in_either_case(void **state)
{
	(void)state;
	enum file_form form;
	struct fault fault = {0};
	assert_int_equal(file_form_of("a.pdf", &form, &fault), OUTCOME_DONE);
	assert_int_equal(form, FILE_PDF);
	assert_int_equal(file_form_of("a.SVG", &form, &fault), OUTCOME_DONE);
	assert_int_equal(form, FILE_SVG);
	assert_int_equal(file_form_of("x/a.Png", &form, &fault), OUTCOME_DONE);
	assert_int_equal(form, FILE_PNG);
	assert_int_equal(file_form_of("tags.ps", &form, &fault), OUTCOME_BAD);
	assert_string_equal(fault.sentence, "file has no ending that tells its form: tags.ps");
	assert_string_equal(fault.hint, "Name a file ending in .pdf, .svg or .png.");
	assert_int_equal(file_form_of(".pdf", &form, NULL), OUTCOME_BAD);
}

static void print_tags__pdf__page_of_its_size(void **state)
{
	(void)state;
	struct fault fault = {0};
	const char *path = path_of("a.pdf");
	assert_int_equal(print_to("roll-50x25", 2, path, &fault), OUTCOME_DONE);
	static const char box[] = "/MediaBox [ 0 0 141.732283 70.866142 ]"; /* points of 1/72 inch */
	static const char font[] = "+DejaVuSans"; /* a part of it is in the file */
	const char *bytes = take_file(path);
	assert_non_null(memmem(bytes, 900000, box, strlen(box)));
	assert_non_null(memmem(bytes, 900000, font, strlen(font)));
}

static void print_tags__svg__millimetres_and_text(void **state)
{
	(void)state;
	struct fault fault = {0};
	const char *path = path_of("a.svg");
	assert_int_equal(print_to("roll-50x25", 1, path, &fault), OUTCOME_DONE);
	const char *bytes = take_file(path);
	assert_non_null(strstr(bytes, " width=\"50.0000mm\" height=\"25.0000mm\" viewBox=\"0 0 399.6"));
	assert_non_null(strstr(bytes, ">PC000123-Y</text>"));
	assert_non_null(strstr(bytes, "</svg>\n"));
}

static void print_tags__svg__text_escaped(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-50x25");
	struct tag_face face = {.code = "PC000123-Y", .content = "PC000123Y"};
	const char *const lines[STOCK_LINES_MOST] = {"PC000123-Y", "<&]]>\t\"x\"", "a\xff\n",
	                                             "b\xef\xbf\xbf\xef\xbf\xbe\xef\xbf\xbd"};
	const char *path = path_of("a.svg");
	face.lines = lines;
	struct print_request request = request_of(&stock, &face, 1);
	assert_int_equal(print_tags(arena, &request, FILE_SVG, path, &plan, &fault), OUTCOME_DONE);
	const char *bytes = take_file(path);
	assert_non_null(strstr(bytes, ">&lt;&amp;]]&gt; \"x\"</text>"));
	assert_non_null(strstr(bytes, ">a? </text>"));
	assert_non_null(strstr(bytes, ">b??\xef\xbf\xbd</text>"));
}

/* cairo gives up all text behind one of them. */
static void print_tags__pdf_noncharacter__drawn_as_another(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-50x25");
	struct tag_face face = {.code = "PC000123-Y", .content = "PC000123Y"};
	const char *const lines[STOCK_LINES_MOST] = {"PC000123-Y", "b\xef\xbf\xbf\xef\xb7\x90 c"};
	const char *path = path_of("a.pdf");
	face.lines = lines;
	struct print_request request = request_of(&stock, &face, 1);
	assert_int_equal(print_tags(arena, &request, FILE_PDF, path, &plan, &fault), OUTCOME_DONE);
	char said[200] = "";
	FILE *pipe = popen(arena_format(arena, "pdftotext %s -", path), "r");
	assert_non_null(pipe);
	assert_true(fread(said, 1, sizeof said - 1, pipe) > 0);
	assert_int_equal(pclose(pipe), 0);
	assert_non_null(strstr(said, "PC000123-Y"));
	assert_non_null(strstr(said, "b?? c"));
	assert_int_equal(remove(path), 0);
}

static void print_tags__long_text__shrunk_then_cut_but_never_the_tag(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-25x10");
	struct tag_face face = {.code = "PC000000123456-Y", .content = "PC000000123456Y"};
	const char *const lines[STOCK_LINES_MOST] = {
		"PC000000123456-Y", "96 teeth 1/8cp",
		"a very long fit that goes on and on and on and on and on and on and on and on and on, \u00e4\u00f6\u00fc"};
	const char *path = path_of("a.svg");
	face.lines = lines;
	struct print_request request = request_of(&stock, &face, 1);
	assert_int_equal(print_tags(arena, &request, FILE_SVG, path, &plan, &fault), OUTCOME_DONE);
	const char *bytes = take_file(path);
	assert_non_null(strstr(bytes, ">PC000000123456-Y</text>"));
	assert_non_null(strstr(bytes, ">96 teeth 1/8cp</text>"));
	assert_non_null(strstr(bytes, "\u2026</text>"));
	assert_non_null(strstr(bytes, ">a very long fit"));
}

/* How high capitals are in what was drawn as SVG, in millimetres: 0.729 of the em. */
static double capitals_mm(const char *svg, const char *text, int64_t dots_per_inch)
{
	const char *at = strstr(svg, text);
	assert_non_null(at);
	const char *size = NULL;
	for (const char *c = strstr(svg, "font-size=\""); c != NULL && c < at;
	     c = strstr(c + 1, "font-size=\"")) {
		size = c;
	}
	assert_non_null(size);
	return strtod(size + strlen("font-size=\""), NULL) * 0.729 * 25.4 / (double)dots_per_inch;
}

static void print_find_cut__text_too_long_to_be_read__told_as_it_will_stand(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-50x25");
	const char *const long_lines[STOCK_LINES_MOST] =
		{"PC000123-Y", "96 teeth 1/8cp", NULL,
	     "plate cylinder \u00b7 fit journal40 \u00b7 the name of a cylinder that somebody wrote a "
	     "whole story into, and then another one behind it"};
	const char *const short_lines[STOCK_LINES_MOST] = {"PC000124-W", "a \u0394 b"};
	struct tag_face faces[] = {{.code = "PC000123-Y", .content = "PC000123Y", .lines = long_lines},
	                           {.code = "PC000124-W",
	                            .content = "PC000124W",
	                            .lines = short_lines}};
	struct print_request request = request_of(&stock, faces, 2);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_null(plan.tags[0].cut);
	assert_int_equal(print_find_cut(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_null(plan.tags[1].cut);
	assert_non_null(plan.tags[0].cut);
	assert_memory_equal(plan.tags[0].cut, long_lines[3], 50);
	assert_string_equal(plan.tags[0].cut + strlen(plan.tags[0].cut) - 3, "\u2026");
	request.count = 1;
	request.plan = &plan;
	plan.pages = 1;
	const char *path = path_of("a.svg");
	assert_int_equal(print_tags(arena, &request, FILE_SVG, path, &plan, &fault), OUTCOME_DONE);
	const char *bytes = take_file(path);
	assert_non_null(strstr(bytes, arena_format(arena, ">%s</text>", plan.tags[0].cut)));
	double capitals = capitals_mm(bytes, plan.tags[0].cut, 203);
	assert_true(capitals >= 0.8 && capitals < 0.8 * 1.05);
}

static void print_tags__marks_upon_marks__three_are_left(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_named(arena, "roll-50x25");
	struct tag_face face = {.code = "PC000123-Y", .content = "PC000123Y"};
	const char *const lines[STOCK_LINES_MOST] =
		{"PC000123-Y",
	     "a\u0301\u0302\u0303\u0304\u200d\u0305\u0306b\u0301c\u20dd\u0301\u0301\u0301"};
	const char *path = path_of("a.svg");
	face.lines = lines;
	struct print_request request = request_of(&stock, &face, 1);
	assert_int_equal(print_tags(arena, &request, FILE_SVG, path, &plan, &fault), OUTCOME_DONE);
	assert_non_null(
		strstr(take_file(path), ">a\u0301\u0302\u0303\u200db\u0301c\u20dd\u0301\u0301</text>"));
}

static void print_plan__each_tag__its_own_x(void **state)
{
	(void)state;
	struct print_plan plan;
	struct fault fault = {0};
	struct stock stock = stock_of(arena, "title = t\nuse = tool\ntag_width = 50mm\n"
	                                     "tag_height = 25mm\ndots_per_inch = 300\n"
	                                     "symbol = code128\nline = 4mm tag\n");
	struct tag_face faces[] = {{.code = "PC000123-Y", .content = "PC000123Y"},
	                           {.code = "PC000000123456-Y", .content = "PC000000123456Y"}};
	struct print_request request = request_of(&stock, faces, 2);
	assert_int_equal(print_plan(arena, &request, &plan, &fault), OUTCOME_DONE);
	assert_int_equal(plan.tags[0].x_dots, plan.placed[0].layout.x_dots);
	assert_int_equal(plan.tags[1].x_dots, plan.placed[1].layout.x_dots);
	assert_true(plan.tags[0].x_dots > plan.tags[1].x_dots);
	assert_int_equal(plan.x_dots, plan.tags[1].x_dots);
	/* 4 dots of 300 an inch: 25.4 mm x 4 / 300. */
	assert_int_equal(plan.tags[0].x_dots, 4);
	assert_int_equal(length_to_nm(plan.tags[0].x), 338667);
}

static void print_tags__png__resolution_told(void **state)
{
	(void)state;
	struct fault fault = {0};
	const char *path = path_of("a.png");
	assert_int_equal(print_to("roll-50x25", 1, path, &fault), OUTCOME_DONE);
	const unsigned char *bytes = (const unsigned char *)take_file(path);
	/* 400 x 200 dots; 203 an inch are 7992 a metre. The CRC is python's zlib.crc32. */
	static const unsigned char size[] = {0, 0, 1, 0x90, 0, 0, 0, 200};
	static const unsigned char dots[] = {0, 0,    0,    9, 'p', 'H',  'Y',  's', 0,
	                                     0, 0x1f, 0x38, 0, 0,   0x1f, 0x38, 1};
	assert_memory_equal(bytes + 16, size, sizeof size);
	assert_memory_equal(bytes + 33, dots, sizeof dots);
}

static void print_tags__picture_of_two_pages__refused(void **state)
{
	(void)state;
	const char *path = path_of("a.svg");
	assert_unwritten("roll-50x25", 2, path, OUTCOME_BAD,
	                 arena_format(arena, "file holds one page, these tags take 2: %s", path),
	                 "Name a file ending in .pdf, which holds them all.");
	assert_int_equal(access(path, F_OK), -1);
}

static void print_tags__where_no_file_can_be__refused(void **state)
{
	(void)state;
	const char *path = path_of("none/a.pdf");
	assert_unwritten("roll-50x25", 1, path, OUTCOME_BAD,
	                 arena_format(arena, "folder of the file not found: %s", path),
	                 "Make the folder first, or name the file elsewhere.");
	path = path_of("a.pdf");
	assert_int_equal(mkdir(path, 0700), 0);
	assert_unwritten("roll-50x25", 1, path, OUTCOME_BAD,
	                 arena_format(arena, "file is a directory: %s", path), "Name a file in it.");
	assert_int_equal(rmdir(path), 0);
	assert_int_equal(symlink("/dev/null", path), 0);
	assert_unwritten("roll-50x25", 1, path, OUTCOME_BAD,
	                 arena_format(arena, "file is no plain file: %s", path), "Name another.");
	assert_int_equal(unlink(path), 0);
}

static void print_tags__no_permission__refused(void **state)
{
	(void)state;
	const char *path = path_of("a.pdf");
	if (geteuid() == 0) {
		/* Who may do all is refused nothing: as nobody, then. */
		assert_int_equal(chown(folder, 0, 0), 0);
		assert_int_equal(chmod(folder, 0755), 0);
		assert_int_equal(seteuid(65534), 0);
	} else {
		assert_int_equal(chmod(folder, 0555), 0);
	}
	struct fault fault = {0};
	enum outcome outcome = print_to("roll-50x25", 1, path, &fault);
	if (getuid() == 0) {
		assert_int_equal(seteuid(0), 0);
	}
	assert_int_equal(chmod(folder, 0700), 0);
	assert_int_equal(outcome, OUTCOME_BAD);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "file may not be written by you: %s", path));
	assert_string_equal(fault.hint, "Ask the owner of its folder, or name the file elsewhere.");
}

static void print_tags__disk_full__old_file_stays(void **state)
{
	(void)state;
	struct rlimit before, little = {1000, RLIM_INFINITY};
	const char *path = path_of("a.pdf");
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	fputs("as it was", file);
	fclose(file);
	/* A limit on the size of files stands for the disk. */
	signal(SIGXFSZ, SIG_IGN);
	assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
	little.rlim_max = before.rlim_max;
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &little), 0);
	struct fault fault = {0};
	enum outcome outcome = print_to("roll-50x25", 1, path, &fault);
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
	assert_int_equal(outcome, OUTCOME_STORE);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "disk is full, the file was not written: %s", path));
	assert_string_equal(fault.hint, "Make room there, or name the file elsewhere.");
	assert_string_equal(take_file(path), "as it was");
}

static void draw_load__no_such_library__says_what_to_install(void **state)
{
	(void)state;
	struct fault fault = {0};
	assert_int_equal(draw_load("libnothing.so.0", &fault), OUTCOME_STORE);
	assert_string_equal(fault.sentence, "library that draws is missing: libnothing.so.0");
	assert_string_equal(fault.hint, "Have libpangocairo-1.0-0 and libcairo2 installed, such as by "
	                                "apt-get install libpangocairo-1.0-0.");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(draw_load__no_such_library__says_what_to_install),
		cmocka_unit_test(print_plan__half_used_sheet__pages_and_cells_left),
		cmocka_unit_test(print_plan__code_128_on_25_by_10__refused_with_what_would_do),
		cmocka_unit_test(print_plan__size_that_it_named__fits),
		cmocka_unit_test(print_plan__least_x_of_the_shop__held),
		cmocka_unit_test(print_plan__round_carrier__height_by_its_curve),
		cmocka_unit_test(print_plan__in_inches__sizes_and_diameters_in_inches),
		cmocka_unit_test(print_plan__one_dot__said_so),
		cmocka_unit_test(print_plan__tall_tag_on_a_round_carrier__turned),
		cmocka_unit_test(print_plan__gs1_128__no_longer_than_the_standard_allows),
		cmocka_unit_test(print_plan__cell_or_tags_that_are_not__refused),
		cmocka_unit_test(print_plan__text_alone_too_large__refused),
		cmocka_unit_test(file_form_of__ending__in_either_case),
		cmocka_unit_test(print_tags__pdf__page_of_its_size),
		cmocka_unit_test(print_tags__svg__millimetres_and_text),
		cmocka_unit_test(print_tags__svg__text_escaped),
		cmocka_unit_test(print_tags__pdf_noncharacter__drawn_as_another),
		cmocka_unit_test(print_tags__long_text__shrunk_then_cut_but_never_the_tag),
		cmocka_unit_test(print_find_cut__text_too_long_to_be_read__told_as_it_will_stand),
		cmocka_unit_test(print_tags__marks_upon_marks__three_are_left),
		cmocka_unit_test(print_plan__each_tag__its_own_x),
		cmocka_unit_test(print_tags__png__resolution_told),
		cmocka_unit_test(print_tags__picture_of_two_pages__refused),
		cmocka_unit_test(print_tags__where_no_file_can_be__refused),
		cmocka_unit_test(print_tags__no_permission__refused),
		cmocka_unit_test(print_tags__disk_full__old_file_stays),
	};
	return cmocka_run_group_tests_name("print", tests, set_up, take_down);
}
