/*
 * What was printed is read back: from the PDF drawn by pdftoppm at the stock's own resolution, dot
 * by dot against the modules, and by decoders that we did not write (ZXingReader for all, dmtxread
 * for Data Matrix, zbarimg for Code 128 and QR). TOOTHRACK_READBACK_TAGS says how many tags at the
 * least, over every stock, every symbology that fits it and all that a symbol may carry; without
 * it, one of these a stock.
 */
#include <unistd.h>

#include "shop.h"

#define TAGS_MOST 64

static struct arena *arena;
static char folder[] = "/tmp/toothrack_readback_XXXXXX";

/* One stock, symbology and content, and the tags that are printed so. */
struct round {
	struct stock stock;
	enum symbology symbology;
	enum carried carried;
	size_t count;
	const struct tag_face *faces;
	const struct placed *placed;
	struct print_plan plan;
};

static const char *round_text(const struct round *round)
{
	static const char *const carried[] = {"plain", "GIAI", "AI 91"};
	return arena_format(arena, "%s %s %s", round->stock.name, symbology_name(round->symbology),
	                    carried[round->carried]);
}

/* All that a command says. */
static const char *said_by(const char *command)
{
	struct text said = text_start(arena);
	char bytes[4096];
	FILE *pipe = popen(command, "r");
	assert_non_null(pipe);
	for (size_t count = 0; (count = fread(bytes, 1, sizeof bytes, pipe)) > 0;) {
		text_add_bytes(&said, bytes, count);
	}
	pclose(pipe);
	return said.bytes;
}

/* ---------------------------------------------------------------- printing */

static bool plan_round(struct round *round, struct print_request *request)
{
	struct fault fault = {0};
	struct tag_face *faces = arena_take(arena, round->count, sizeof *faces);
	for (size_t i = 0; i < round->count; i++) {
		struct tag tag = {(enum tag_class)((i * 5) % TAG_CLASS_COUNT), 123 + 60817 * (int64_t)i};
		faces[i] = face_of(arena, &round->stock, tag, round->carried);
	}
	round->faces = faces;
	*request = request_of(&round->stock, faces, round->count);
	request->symbology = &round->symbology;
	/* The last cells of a sheet: whatever error adds up over it is largest there. */
	int64_t cells = round->stock.across * round->stock.down;
	request->first_cell = cells > (int64_t)round->count ? cells - (int64_t)round->count + 1 : 1;
	enum outcome outcome = print_plan(arena, request, &round->plan, &fault);
	if (outcome == OUTCOME_BAD || outcome == OUTCOME_STORE) {
		fail_msg("%s: %s", round_text(round), fault.sentence);
	}
	round->placed = round->plan.placed;
	return outcome == OUTCOME_DONE;
}

/* The cell of each tag as a picture of its own: NUMBER.pgm, or NUMBER-mono.pbm. */
static void draw_cells(const struct round *round, const char *pdf)
{
	int64_t dots = round->stock.dots_per_inch;
	for (size_t i = 0; i < round->count; i++) {
		const struct placed *placed = &round->placed[i];
		said_by(arena_format(
			arena,
			"pdftoppm -singlefile -gray -r %lld -f %lld -l %lld -x %lld -y %lld -W %lld -H %lld %s "
			"%s/%zu",
			(long long)dots, (long long)placed->page + 1, (long long)placed->page + 1,
			(long long)placed->x, (long long)placed->y,
			(long long)dots_within(round->stock.width, dots),
			(long long)dots_within(round->stock.height, dots), pdf, folder, i));
	}
}

/* ---------------------------------------------------------------- dot by dot */

struct picture {
	int64_t width, height;
	const unsigned char *dots;
};

static struct picture read_picture(size_t number)
{
	struct picture picture = {0};
	int most = 0;
	long long width = 0;
	long long height = 0;
	FILE *file = fopen(arena_format(arena, "%s/%zu.pgm", folder, number), "rb");
	assert_non_null(file);
	assert_int_equal(fscanf(file, "P5 %lld %lld %d", &width, &height, &most), 3);
	assert_int_equal(most, 255);
	fgetc(file);
	unsigned char *dots = arena_take(arena, (size_t)(width * height), 1);
	assert_int_equal(fread(dots, 1, (size_t)(width * height), file), width * height);
	fclose(file);
	picture = (struct picture){width, height, dots};
	return picture;
}

/* Every dot of the symbol, and those around it, is black or white as the modules say. */
static void compare_dots(const struct round *round, size_t number)
{
	const struct placed *placed = &round->placed[number];
	const struct layout *layout = &placed->layout;
	const struct symbol *symbol = &placed->symbol;
	const struct picture picture = read_picture(number);
	const struct box *box = &layout->symbol;
	for (int64_t y = -1; y <= box->height; y++) {
		for (int64_t x = -1; x <= box->width; x++) {
			bool within = x >= 0 && y >= 0 && x < box->width && y < box->height;
			int64_t along = (layout->turned ? y : x) / layout->x_dots;
			int64_t down = (layout->turned ? box->width - 1 - x : y) / layout->x_dots;
			down = symbol->linear ? 0 : down;
			bool dark = within && symbol->modules[down * symbol->wide + along] != 0;
			assert_true(box->y + y < picture.height && box->x + x < picture.width);
			int dot = picture.dots[(box->y + y) * picture.width + box->x + x];
			if (dot != (dark ? 0 : 255)) {
				fail_msg("%s: %s: dot %lld, %lld of its symbol is %d", round_text(round),
				         placed->face->code, (long long)x, (long long)y, dot);
			}
		}
	}
}

/* ---------------------------------------------------------------- decoders */

/* What should be read: without the brackets of an identifier. */
static const char *content_of(const struct tag_face *face)
{
	struct text content = text_start(arena);
	for (const char *c = face->content; *c != '\0'; c++) {
		if (*c != '[' && *c != ']') {
			text_add_bytes(&content, c, 1);
		}
	}
	return content.bytes;
}

static const char *all_pictures(const struct round *round)
{
	struct text names = text_start(arena);
	for (size_t i = 0; i < round->count; i++) {
		text_join(&names, " ", arena_format(arena, "%s/%zu.pgm", folder, i));
	}
	return names.bytes;
}

static void compare_said(const struct round *round, const char *decoder, const char *said,
                         const char *expected)
{
	if (strcmp(said, expected) != 0) {
		fail_msg("%s: %s read:\n%s\nnot:\n%s", round_text(round), decoder, said, expected);
	}
}

/*
 * Content and symbology identifier (ISO/IEC 15424): GS1 symbols have one of their own. Without
 * -noscale zxing-cpp 1.4.0 aborts where it finds the bars in the shrunk picture too (its issue
 * 740).
 */
static void read_by_zxing(const struct round *round)
{
	static const char *const identifiers[][SYMBOLOGY_COUNT] = {{"]C0", "]d1", "]Q1"},
	                                                           {"]C1", "]d2", "]Q3"}};
	struct text expected = text_start(arena);
	for (size_t i = 0; i < round->count; i++) {
		text_add_format(&expected, "Text:       \"%s\"\nIdentifier: %s\n",
		                content_of(&round->faces[i]),
		                identifiers[round->faces[i].gs1 ? 1 : 0][round->symbology]);
	}
	const char *said =
		said_by(arena_format(arena, "ZXingReader %s %s 2>&1 | grep -E '^(Text|Identifier):'",
	                         round->symbology == SYMBOLOGY_CODE_128 ? "-noscale" : "",
	                         all_pictures(round)));
	compare_said(round, "ZXingReader", said, expected.bytes);
}

static void read_by_another(const struct round *round)
{
	struct text expected = text_start(arena);
	for (size_t i = 0; i < round->count; i++) {
		text_add_format(&expected, "%s\n", content_of(&round->faces[i]));
	}
	bool matrix = round->symbology == SYMBOLOGY_DATA_MATRIX;
	const char *decoder = matrix ? "dmtxread -n -N1" : "zbarimg -q --raw --nodbus";
	const char *said =
		said_by(arena_format(arena, "%s %s 2>/dev/null", decoder, all_pictures(round)));
	compare_said(round, decoder, said, expected.bytes);
}

/* ---------------------------------------------------------------- rounds */

/* True where it fits and was read. */
static bool read_round(struct round *round)
{
	struct print_request request;
	struct print_plan plan;
	struct fault fault = {0};
	const char *pdf = arena_format(arena, "%s/tags.pdf", folder);
	if (!plan_round(round, &request)) {
		return false;
	}
	request.plan = &round->plan;
	if (print_tags(arena, &request, FILE_PDF, pdf, &plan, &fault) != OUTCOME_DONE) {
		fail_msg("%s: %s", round_text(round), fault.sentence);
	}
	draw_cells(round, pdf);
	for (size_t i = 0; i < round->count; i++) {
		compare_dots(round, i);
	}
	read_by_zxing(round);
	read_by_another(round);
	return true;
}

#define WAYS (SYMBOLOGY_COUNT * CARRIED_COUNT)

static struct round round_of(const char *stock, size_t way, size_t count)
{
	return (struct round){
		.stock = stock_named(arena, stock),
		.symbology = (enum symbology)(way / CARRIED_COUNT),
		.carried = (enum carried)(way % CARRIED_COUNT),
		.count = count,
	};
}

static size_t stock_count(void)
{
	size_t count = 0;
	while (stock_files[count].name != NULL) {
		count++;
	}
	return count;
}

static void print_tags__every_stock__read_back(void **state)
{
	(void)state;
	const char *asked = getenv("TOOTHRACK_READBACK_TAGS");
	size_t tags = asked != NULL ? strtoul(asked, NULL, 10) : 0;
	size_t stocks = stock_count();
	size_t each = tags == 0 ? 1 : tags / (stocks * (WAYS - 2)) + 1;
	size_t read = 0;
	each = each < TAGS_MOST ? each : TAGS_MOST;
	for (size_t i = 0; i < stocks; i++) {
		bool done = false;
		/* One way a stock, another each time; where it does not fit, the next. */
		for (size_t j = 0; j < WAYS && (tags != 0 || !done); j++) {
			struct round round = round_of(stock_files[i].name, (2 * i + j) % WAYS, each);
			done = read_round(&round);
			read += done ? each : 0;
			arena_reset(arena);
		}
		assert_true(done || tags != 0);
	}
	print_message("read back: %zu tags\n", read);
	assert_true(read >= tags && read >= stocks);
}

/* Turned by a quarter, and a rectangle of Data Matrix: on stocks of our own. */
static void print_tags__turned_and_rectangular__read_back(void **state)
{
	(void)state;
	static const char *const texts[] = {
		"title = t\nuse = tool\ntag_width = 20mm\ntag_height = 60mm\ndots_per_inch = 300\n"
		"symbol = code128\nline = 1.2mm tag\n",
		"title = t\nuse = tool\ntag_width = 40mm\ntag_height = 4.5mm\ndots_per_inch = 300\n"
		"symbol = datamatrix\nline = 1mm tag\n",
		"title = t\nuse = tool\ntag_width = 3.9mm\ntag_height = 12mm\ndots_per_inch = 600\n"
		"symbol = datamatrix\nline = 0.3mm tag\n",
	};
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		struct round round = {.stock = stock_of(arena, texts[i]), .count = 3};
		round.symbology = round.stock.symbology;
		assert_true(read_round(&round));
		assert_true(round.plan.turned == (i != 1));
		assert_true(round.placed[0].symbol.wide > round.placed[0].symbol.high);
		arena_reset(arena);
	}
}

/* The same dots in black and white alone, as a driver of such a printer would have them drawn. */
static void print_tags__black_and_white_alone__same_dots(void **state)
{
	(void)state;
	for (size_t way = 0; way < WAYS; way += CARRIED_COUNT) {
		struct print_request request;
		struct print_plan plan;
		struct fault fault = {0};
		struct round round = round_of("a4-24", way, 3);
		const char *pdf = arena_format(arena, "%s/tags.pdf", folder);
		assert_true(plan_round(&round, &request));
		assert_int_equal(print_tags(arena, &request, FILE_PDF, pdf, &plan, &fault), OUTCOME_DONE);
		/* PBM to PGM, so that it is read alike. */
		said_by(
			arena_format(arena,
		                 "pdftoppm -singlefile -mono -r 300 -x %lld -y %lld -W 755 -H 400 %s %s/m",
		                 (long long)round.placed[2].x, (long long)round.placed[2].y, pdf, folder));
		FILE *mono = fopen(arena_format(arena, "%s/m.pbm", folder), "rb");
		assert_non_null(mono);
		int width = 0;
		int height = 0;
		assert_int_equal(fscanf(mono, "P4 %d %d", &width, &height), 2);
		fgetc(mono);
		FILE *gray = fopen(arena_format(arena, "%s/2.pgm", folder), "wb");
		fprintf(gray, "P5 %d %d 255\n", width, height);
		for (int y = 0; y < height; y++) {
			int byte = 0;
			for (int x = 0; x < width; x++) {
				byte = x % 8 == 0 ? fgetc(mono) : byte;
				fputc(((byte >> (7 - x % 8)) & 1) != 0 ? 0 : 255, gray);
			}
		}
		fclose(gray);
		fclose(mono);
		compare_dots(&round, 2);
		arena_reset(arena);
	}
}

/* A roll of 203 dots per inch in a printer of 300: no dot is where it was, but it reads. */
static void print_tags__drawn_at_another_resolution__read_back(void **state)
{
	(void)state;
	for (size_t way = 0; way < WAYS; way += CARRIED_COUNT) {
		struct print_request request;
		struct print_plan plan;
		struct fault fault = {0};
		struct round round = round_of("roll-50x25", way, 2);
		const char *pdf = arena_format(arena, "%s/tags.pdf", folder);
		assert_true(plan_round(&round, &request));
		assert_int_equal(print_tags(arena, &request, FILE_PDF, pdf, &plan, &fault), OUTCOME_DONE);
		for (size_t i = 0; i < round.count; i++) {
			said_by(arena_format(arena, "pdftoppm -singlefile -gray -r 300 -f %zu -l %zu %s %s/%zu",
			                     i + 1, i + 1, pdf, folder, i));
		}
		read_by_zxing(&round);
		read_by_another(&round);
		arena_reset(arena);
	}
}

static int set_up(void **state)
{
	(void)state;
	arena = arena_new();
	return mkdtemp(folder) == NULL;
}

static int take_down(void **state)
{
	(void)state;
	said_by(arena_format(arena, "rm -r %s", folder));
	arena_free(arena);
	return 0;
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(print_tags__every_stock__read_back),
		cmocka_unit_test(print_tags__turned_and_rectangular__read_back),
		cmocka_unit_test(print_tags__black_and_white_alone__same_dots),
		cmocka_unit_test(print_tags__drawn_at_another_resolution__read_back),
	};
	return cmocka_run_group_tests_name("readback", tests, set_up, take_down);
}
