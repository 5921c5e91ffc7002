#include <sys/stat.h>
#include <unistd.h>

#include "shop.h"

#define ROLL \
	"title = own roll\nuse = tool place\ntag_width = 50mm\ntag_height = 25mm\n" \
	"dots_per_inch = 203\nsymbol = code128\n"
#define SHEET \
	"title = own sheet\nuse = tool\npage_width = 210mm\npage_height = 297mm\nmargin_left = 5mm\n" \
	"margin_top = 10mm\ntag_width = 60mm\ntag_height = 30mm\nacross = 3\ndown = 9\n" \
	"dots_per_inch = 300\nsymbol = qr\nline = tag\n"

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

static double mm(struct length length)
{
	return length_to_mm(length);
}

static void stock_read__roll__page_is_the_tag(void **state)
{
	(void)state;
	struct stock stock =
		stock_of(arena,
	             "# ours\r\n" ROLL "line = 4mm tag\n\n  line = teeth, pitch repeat # three\n");
	assert_string_equal(stock.name, "own");
	assert_string_equal(stock.title, "own roll");
	assert_int_equal(stock.uses, STOCK_TOOL | STOCK_PLACE);
	assert_true(mm(stock.page_width) == 50 && mm(stock.page_height) == 25);
	assert_true(mm(stock.pitch_across) == 50 && mm(stock.pitch_down) == 25);
	assert_true(stock.across == 1 && stock.down == 1 && stock.dots_per_inch == 203);
	assert_int_equal(stock.symbology, SYMBOLOGY_CODE_128);
	assert_int_equal(stock.line_count, 2);
	assert_true(mm(stock.lines[0].height) == 4 && mm(stock.lines[1].height) == 0);
	assert_int_equal(stock.lines[1].attribute_count, 3);
	assert_string_equal(stock.lines[1].attributes[1], "pitch");
}

static void stock_read__sheet__grid_as_said(void **state)
{
	(void)state;
	struct stock stock = stock_of(arena, SHEET "pitch_across = 65mm\npitch_down = 1.25in");
	assert_true(mm(stock.page_width) == 210 && mm(stock.margin_left) == 5);
	assert_true(mm(stock.pitch_across) == 65 && mm(stock.pitch_down) == 31.75);
	assert_true(stock.across == 3 && stock.down == 9);
}

struct bad {
	const char *text, *sentence, *hint;
};

static void assert_refused(const struct bad *bad)
{
	struct stock stock;
	struct fault fault = {0};
	assert_int_equal(stock_read(arena, "labels/own.stock", bad->text, strlen(bad->text), &stock,
	                            &fault),
	                 OUTCOME_BAD);
	assert_string_equal(fault.sentence, bad->sentence);
	assert_string_equal(fault.hint, bad->hint);
}

static void stock_read__bad_line__refused_by_its_number(void **state)
{
	(void)state;
	static const struct bad rows[] = {
		{ROLL "tagwidth = 3mm\n", "labels/own.stock, line 7: key not known: tagwidth",
	     "Did you mean tag_width?"},
		{"colour = red\n", "labels/own.stock, line 1: key not known: colour",
	     "A key is one of title, use, page_width, page_height, margin_left, margin_top, tag_width, "
	     "tag_height, pitch_across, pitch_down, across, down, dots_per_inch, symbol, line."},
		{ROLL "\nsymbol = qr\n",
	     "labels/own.stock, line 8: key is there already, in line 6: symbol",
	     "Take one of the two lines out."},
		{"tag_width 50mm\n", "labels/own.stock, line 1: line has no =: tag_width 50mm",
	     "Write key = value, such as tag_width = 50mm; # begins a comment."},
		{"tag_width =\n", "labels/own.stock, line 1: value is missing: tag_width",
	     "Write tag_width = 50mm."},
		{"tag_width = wide\n", "labels/own.stock, line 1: tag_width is no length: wide",
	     "Type a length such as 330mm, 13in or 1/8in."},
		{"tag_width = 0mm\n", "labels/own.stock, line 1: tag_width is not more than nothing: 0mm",
	     "Write a length such as 50mm."},
		{"margin_left = -1mm\n", "labels/own.stock, line 1: margin_left is less than nothing: -1mm",
	     "Write a length such as 7mm."},
		{"tag_height = 25um\n", "labels/own.stock, line 1: tag_height is less than 3mm: 25um",
	     "Write a length such as 25mm."},
		{"use = ,\n", "labels/own.stock, line 1: use names nothing", "Write use = tool place."},
		{"tag_width = 3m\n", "labels/own.stock, line 1: tag_width is more than 2000mm: 3m",
	     "Write a length such as 50mm."},
		{"dots_per_inch = 50\n",
	     "labels/own.stock, line 1: dots_per_inch is no whole number from 100 to 1200: 50",
	     "Write dots_per_inch = 300, or what the printer has, such as 203 or 600."},
		{"across = none\n",
	     "labels/own.stock, line 1: across is no whole number from 1 to 100: none",
	     "Write across = 3."},
		{"symbol = qrcode\n", "labels/own.stock, line 1: symbol not known: qrcode",
	     "It is one of code128, datamatrix, qr, none."},
		{"symbol = code28\n", "labels/own.stock, line 1: symbol not known: code28",
	     "Did you mean code128? It is one of code128, datamatrix, qr, none."},
		{"use = tool, plase\n", "labels/own.stock, line 1: use not known: plase",
	     "Did you mean place? It is of tool, place, press, job, badge, action."},
		{"line = 4 tag\n", "labels/own.stock, line 1: height of the line is no length: 4",
	     "Write line = 4mm tag, or leave the height out."},
		{"line = 4mm\n", "labels/own.stock, line 1: line names no attribute",
	     "Write line = 4mm tag, or line = teeth pitch."},
		{"line = Tag!\n", "labels/own.stock, line 1: name of an attribute has another form: Tag!",
	     "Write attributes as in line = 4mm tag, or line = teeth pitch."},
		{"line = a\nline = a\nline = a\nline = a\nline = a\nline = a\nline = a\nline = a\nline = a\n",
	     "labels/own.stock, line 9: more lines of text than 8",
	     "Put attributes together in one line."},
		{"line = a a a a a a a a a a a a a a a a a a a a a a a a a\n",
	     "labels/own.stock, line 1: more attributes in a line than 24",
	     "Begin another line with line =."},
		{"title = a\x01\n", "labels/own.stock, line 1: control character in the line: \\x01",
	     "A stock is plain text."},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		assert_refused(&rows[i]);
	}
}

static void stock_read__bare_number__says_what_it_could_be(void **state)
{
	(void)state;
	struct stock stock;
	struct fault fault = {0};
	assert_int_equal(stock_read(arena, "own.stock", "tag_width = 50\n", 15, &stock, &fault),
	                 OUTCOME_BAD);
	assert_string_equal(fault.sentence, "own.stock, line 1: tag_width is no length: 50");
	assert_non_null(strstr(fault.hint, "50mm"));
}

static void stock_read__what_belongs_together__refused(void **state)
{
	(void)state;
	static const struct bad rows[] = {
		{"", "labels/own.stock: title is missing",
	     "Write a line such as title = roll, 50 x 25 mm, 203 dots per inch."},
		{ROLL, "labels/own.stock: line is missing", "Write a line such as line = 4mm tag."},
		{ROLL "line = 4mm teeth\nline = title\n",
	     "labels/own.stock, line 8: no line tells the tag beside its symbol",
	     "Write a line such as line = 4mm tag: without a scanner it is read."},
		{ROLL "line = tag\nacross = 2\n",
	     "labels/own.stock: page_width is missing, though the stock is a sheet",
	     "Write a line such as page_width = 210mm."},
		{SHEET "pitch_across = 59mm\n",
	     "labels/own.stock, line 14: tags would overlap, pitch_across is less than tag_width: 59mm",
	     "It goes from tag to tag, at least 60mm here."},
		{SHEET "pitch_across = 75mm\n",
	     "labels/own.stock, line 9: 3 tags across reach to 215mm, the page is 210mm wide",
	     "Look at across, the margin and the pitch."},
		{SHEET "pitch_down = 32.5mm\n",
	     "labels/own.stock, line 10: 9 tags down reach to 300mm, the page is 297mm high",
	     "Look at down, the margin and the pitch."},
		{"title = t\nuse = tool\npage_width = 50mm\npage_height = 50mm\nmargin_left = 0mm\n"
	     "margin_top = 0mm\ntag_width = 60mm\ntag_height = 30mm\nacross = 1\ndown = 1\n"
	     "dots_per_inch = 300\nsymbol = qr\nline = tag\n",
	     "labels/own.stock, line 7: tag is wider than the page: 60mm, the page is 50mm",
	     "Write the size of one tag as tag_width."},
		{"title = t\nuse = tool\npage_width = 50mm\npage_height = 20mm\nmargin_left = 0mm\n"
	     "margin_top = 0mm\ntag_width = 40mm\ntag_height = 30mm\nacross = 1\ndown = 1\n"
	     "dots_per_inch = 300\nsymbol = qr\nline = tag\n",
	     "labels/own.stock, line 8: tag is higher than the page: 30mm, the page is 20mm",
	     "Write the size of one tag as tag_height."},
		{"title = t\nuse = tool\ntag_width = 1000mm\ntag_height = 30mm\ndots_per_inch = 1200\n"
	     "symbol = qr\nline = tag\n",
	     "labels/own.stock, line 5: page is 47245 dots wide, more than 30000",
	     "Write fewer dots_per_inch, or a smaller page."},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		assert_refused(&rows[i]);
	}
}

static void stock_read__no_symbol__needs_no_tag(void **state)
{
	(void)state;
	struct stock stock = stock_of(arena, "title = t\nuse = tool\ntag_width = 50mm\n"
	                                     "tag_height = 25mm\ndots_per_inch = 203\n"
	                                     "symbol = none\nline = teeth\n");
	assert_int_equal(stock.line_count, 1);
}

static void stock_read__long_line__refused(void **state)
{
	(void)state;
	char text[500];
	memset(text, 'a', sizeof text);
	text[sizeof text - 1] = '\0';
	const struct bad bad = {text, "labels/own.stock, line 1: line is longer than 400 bytes",
	                        "A stock has lines such as tag_width = 50mm."};
	assert_refused(&bad);
}

static void stock_files__each__reads_and_is_of_use(void **state)
{
	(void)state;
	unsigned uses = 0;
	size_t count = 0;
	for (const struct stock_file *file = stock_files; file->name != NULL; file++, count++) {
		struct stock stock = stock_named(arena, file->name);
		assert_string_equal(stock.name, file->name);
		uses |= stock.uses;
		if (strncmp(file->name, "roll-25x10", 10) == 0) {
			assert_int_equal(stock.symbology, SYMBOLOGY_DATA_MATRIX);
		}
	}
	assert_true(count > 10);
	assert_int_equal(uses, STOCK_TOOL | STOCK_PLACE | STOCK_PRESS | STOCK_JOB | STOCK_BADGE |
	                           STOCK_ACTION);
}

/* As much is free behind the last tag as before the first, in millimetres. */
static void assert_middle(const char *name, double page, double margin, double tag, double pitch,
                          int64_t count)
{
	double behind = page - margin - tag - pitch * (double)(count - 1);
	if (behind - margin > 0.1 || margin - behind > 0.1) {
		fail_msg("%s: %.3f mm free before, %.3f mm behind", name, margin, behind);
	}
}

/* Sheets are cut alike on opposite sides: common practice, no source. */
static void stock_files__each__in_the_middle_of_its_page(void **state)
{
	(void)state;
	for (const struct stock_file *file = stock_files; file->name != NULL; file++) {
		struct stock stock = stock_named(arena, file->name);
		assert_middle(file->name, mm(stock.page_width), mm(stock.margin_left), mm(stock.width),
		              mm(stock.pitch_across), stock.across);
		assert_middle(file->name, mm(stock.page_height), mm(stock.margin_top), mm(stock.height),
		              mm(stock.pitch_down), stock.down);
	}
}

/* What a tool goes on matters more than its name, and a line is cut at its end. */
static void stock_files__fit__before_the_name(void **state)
{
	(void)state;
	size_t together = 0;
	for (const struct stock_file *file = stock_files; file->name != NULL; file++) {
		struct stock stock = stock_named(arena, file->name);
		for (size_t i = 0; i < stock.line_count; i++) {
			bool named = false;
			for (size_t j = 0; j < stock.lines[i].attribute_count; j++) {
				const char *attribute = stock.lines[i].attributes[j];
				bool fit = strcmp(attribute, "fit") == 0;
				named = named || strcmp(attribute, "name") == 0;
				if (fit && named) {
					fail_msg("%s: fit behind name", file->name);
				}
				together += fit ? 1 : 0;
			}
		}
	}
	assert_true(together > 5);
}

/* ---------------------------------------------------------------- finding one */

static char folder[] = "/tmp/toothrack_stock_XXXXXX";

static void write_file(const char *name, const char *text)
{
	char path[200];
	snprintf(path, sizeof path, "%s/%s", folder, name);
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	fputs(text, file);
	fclose(file);
}

static int make_folder(void **state)
{
	(void)state;
	if (mkdtemp(folder) == NULL) {
		return 1;
	}
	write_file("own.stock", SHEET);
	write_file("a4-24.stock", ROLL "line = tag\n");
	write_file("bad.stock", "use = shelf\n");
	char *long_text = calloc(70000, 1);
	memset(long_text, '#', 69999);
	write_file("long.stock", long_text);
	free(long_text);
	return 0;
}

static int remove_folder(void **state)
{
	(void)state;
	static const char *const names[] = {"own.stock", "a4-24.stock", "bad.stock", "long.stock", ""};
	char path[200];
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		snprintf(path, sizeof path, "%s/%s", folder, names[i]);
		remove(path);
	}
	return 0;
}

static void stock_find__of_the_shop__before_our_own(void **state)
{
	(void)state;
	struct stock stock;
	struct fault fault = {0};
	assert_int_equal(stock_find(arena, folder, "own", &stock, &fault), OUTCOME_DONE);
	assert_string_equal(stock.title, "own sheet");
	assert_int_equal(stock_find(arena, folder, "a4-24", &stock, &fault), OUTCOME_DONE);
	assert_string_equal(stock.title, "own roll");
	assert_int_equal(stock_find(arena, folder, "a4-65", &stock, &fault), OUTCOME_DONE);
	assert_string_equal(stock.name, "a4-65");
	assert_int_equal(stock_find(arena, NULL, "a4-24", &stock, &fault), OUTCOME_DONE);
	assert_int_equal(stock.across, 3);
}

static void stock_find__file__read_from_there(void **state)
{
	(void)state;
	struct stock stock;
	struct fault fault = {0};
	char path[200];
	snprintf(path, sizeof path, "%s/own.stock", folder);
	assert_int_equal(stock_find(arena, NULL, path, &stock, &fault), OUTCOME_DONE);
	assert_string_equal(stock.name, "own");
}

static void assert_not_found(const char *name, const char *sentence, const char *hint)
{
	struct stock stock;
	struct fault fault = {0};
	assert_int_equal(stock_find(arena, folder, name, &stock, &fault), OUTCOME_BAD);
	assert_string_equal(fault.sentence, sentence);
	assert_memory_equal(fault.hint, hint, strlen(hint));
}

static void stock_find__none__refused(void **state)
{
	(void)state;
	assert_not_found("a4-25", "stock not known: a4-25", "Did you mean a4-24? There are a4-10, ");
	assert_not_found("whatever", "stock not known: whatever", "There are a4-10, ");
	assert_not_found("there/is.stock", "stock file not found: there/is.stock", "Name a file");
	assert_not_found("", "stock not known: ", "There are a4-10, ");
	const char *path = arena_format(arena, "%s/", folder);
	assert_not_found(path, arena_format(arena, "stock file is a directory: %s", path),
	                 "Name a file in it.");
	assert_not_found("long",
	                 arena_format(arena, "stock file is longer than 65536 bytes: %s/long.stock",
	                              folder),
	                 "A stock has lines");
	assert_not_found("bad",
	                 arena_format(arena, "%s/bad.stock, line 1: use not known: shelf", folder),
	                 "It is of");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(stock_read__roll__page_is_the_tag),
		cmocka_unit_test(stock_read__sheet__grid_as_said),
		cmocka_unit_test(stock_read__bad_line__refused_by_its_number),
		cmocka_unit_test(stock_read__bare_number__says_what_it_could_be),
		cmocka_unit_test(stock_read__what_belongs_together__refused),
		cmocka_unit_test(stock_read__no_symbol__needs_no_tag),
		cmocka_unit_test(stock_read__long_line__refused),
		cmocka_unit_test(stock_files__each__reads_and_is_of_use),
		cmocka_unit_test(stock_files__each__in_the_middle_of_its_page),
		cmocka_unit_test(stock_files__fit__before_the_name),
		cmocka_unit_test_setup(stock_find__of_the_shop__before_our_own, make_folder),
		cmocka_unit_test(stock_find__file__read_from_there),
		cmocka_unit_test_teardown(stock_find__none__refused, remove_folder),
	};
	return cmocka_run_group_tests_name("stock", tests, set_up, take_down);
}
