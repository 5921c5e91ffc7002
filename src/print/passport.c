/*
 * A tool's passport: one page upright. From above: symbol, code and what it is; its data in two
 * columns; what happened; below, where there is one, its plot. What has no room is counted.
 */
#include <string.h>

#include "plot.h"

/* Sizes: common practice, no source. Points. */
#define MARGIN 34. /* 12 mm: it is punched and filed */
#define CODE_EM 26.
#define TITLE_EM 15.
#define WORDS_EM 10.5
#define HEADING_EM 12.5
#define SMALL_EM 9.4
#define PLOT_EM 9.4
#define PLOT_PART 0.4 /* of the page's height */
#define SYMBOL 78.    /* side of the symbol at the most, quiet zone included */
#define GAP 12.       /* between parts */
#define COLUMN_GAP 18.
#define NAME_PART 0.45 /* of a column that its names may take */
#define TITLE_LINES 2
#define WHERE_LINES 9
#define VALUE_LINES 6
#define ENTRY_LINES 2
#define ENTRIES_LEAST 6 /* of the history have room, however many data there are */

struct passport {
	const struct passport_face *face;
	struct passport_drawn *drawn;
	struct symbol symbol;
	struct pen *pen;
	double left, right, bottom;
	size_t step, heading, small;
	double line; /* from line to line of the words */
};

/* ---------------------------------------------------------------- head */

static double symbol_place(const struct passport *pass)
{
	const struct symbol *symbol = &pass->symbol;
	int64_t wide = symbol->wide + 2 * symbol->quiet;
	int64_t module = (int64_t)SYMBOL / wide;
	module = module > 0 ? module : 1;
	int64_t quiet = symbol->quiet * module;
	struct placed placed = {
		.symbol = *symbol,
		.layout =
			{
				.has_symbol = true,
				.x_dots = module,
				.symbol = {.width = symbol->wide * module, .height = symbol->high * module},
			},
		.x = (int64_t)pass->left + quiet,
		.y = (int64_t)MARGIN + quiet,
	};
	lib.cairo_new_path(pass->pen->cairo);
	symbol_draw(pass->pen, &placed);
	return (double)(wide * module);
}

/* Each line of a text below the last; returns where the next begins. */
static double words_put(const struct passport *pass, size_t step, const char *text, double x,
                        double y, size_t most)
{
	double em = text_em(step);
	struct page_lines lines = page_wrap(pass->pen, step, text, pass->right - x, most);
	for (size_t i = 0; i < lines.count; i++) {
		page_put(pass->pen, step, lines.lines[i], x, y + em * 0.95, pass->right - x);
		y += em * LINE_TO_LINE;
	}
	return y;
}

/* A fact a line, or more where it is long; so many in all that the data below keep their room. */
static double facts_put(const struct passport *pass, const char *facts, double x, double y)
{
	double end = y + text_em(pass->step) * LINE_TO_LINE * WHERE_LINES;
	while (*facts != '\0' && y < end - 1) {
		size_t length = strcspn(facts, "\n");
		const char *fact = arena_copy_bytes(pass->pen->arena, facts, length);
		size_t room = (size_t)((end - y) / (text_em(pass->step) * LINE_TO_LINE) + 0.5);
		y = words_put(pass, pass->step, fact, x, y, room);
		facts += length + (facts[length] == '\n' ? 1 : 0);
	}
	return y;
}

static double head_draw(const struct passport *pass)
{
	const struct passport_face *face = pass->face;
	double side = symbol_place(pass), x = pass->left + side + GAP, y = MARGIN;
	y = words_put(pass, text_step(CODE_EM), face->code, x, y, 1);
	y = words_put(pass, text_step(TITLE_EM), face->title, x, y, TITLE_LINES);
	if (face->whereabouts != NULL) {
		y = facts_put(pass, face->whereabouts, x, y + 2);
	}
	return y > MARGIN + side ? y : MARGIN + side;
}

static double rule_draw(const struct passport *pass, double y)
{
	page_rule(pass->pen, pass->left, y, pass->right, y, 0.8);
	return y + GAP / 2;
}

/* ---------------------------------------------------------------- data */

struct columns {
	double width, name_width, value_width;
	struct page_lines *values; /* by row */
	size_t left;               /* rows in the left one */
	size_t count;              /* rows in both */
	double height;
};

static double row_height(const struct passport *pass, const struct columns *columns, size_t row)
{
	return pass->line * (double)columns->values[row].count;
}

static double rows_height(const struct passport *pass, const struct columns *columns, size_t from,
                          size_t to)
{
	double height = 0;
	for (size_t i = from; i < to; i++) {
		height += row_height(pass, columns, i);
	}
	return height;
}

/* How many rows from one on stand within a height. */
static size_t rows_within(const struct passport *pass, const struct columns *columns, size_t from,
                          double height)
{
	size_t count = 0;
	double used = 0;
	while (from + count < pass->face->row_count) {
		used += row_height(pass, columns, from + count);
		if (used > height) {
			break;
		}
		count++;
	}
	return count;
}

/* Names take as much as the widest needs; values the rest, over some lines. */
static struct columns columns_make(const struct passport *pass)
{
	const struct passport_face *face = pass->face;
	struct columns columns = {.width = (pass->right - pass->left - COLUMN_GAP) / 2};
	double most = columns.width * NAME_PART, gap = text_em(pass->step);
	for (size_t i = 0; i < face->row_count; i++) {
		double width = page_text_width(pass->pen, pass->step, face->rows[i].name);
		width = width > most ? most : width;
		columns.name_width = width > columns.name_width ? width : columns.name_width;
	}
	columns.value_width = columns.width - columns.name_width - gap;
	columns.values = arena_take(pass->pen->arena, face->row_count, sizeof *columns.values);
	for (size_t i = 0; i < face->row_count; i++) {
		columns.values[i] =
			page_wrap(pass->pen, pass->step, face->rows[i].value, columns.value_width, VALUE_LINES);
	}
	return columns;
}

/* Both alike high where all fits; else the left one full, and a line left free in the right. */
static void columns_share(const struct passport *pass, struct columns *columns, double height)
{
	size_t rows = pass->face->row_count;
	double all = rows_height(pass, columns, 0, rows), left = 0;
	while (columns->left < rows && left < all / 2) {
		left += row_height(pass, columns, columns->left++);
	}
	columns->count = rows;
	columns->height = left > all - left ? left : all - left;
	if (columns->height > height) {
		columns->left = rows_within(pass, columns, 0, height);
		columns->count =
			columns->left + rows_within(pass, columns, columns->left, height - pass->line);
		columns->height = height;
	}
}

static double data_draw(const struct passport *pass, double y, double height)
{
	const struct passport_face *face = pass->face;
	struct columns columns = columns_make(pass);
	double em = text_em(pass->step), at = y;
	columns_share(pass, &columns, height);
	for (size_t i = 0; i < columns.count; i++) {
		double x = pass->left + (i < columns.left ? 0 : columns.width + COLUMN_GAP);
		at = i == columns.left ? y : at;
		page_put(pass->pen, pass->step, face->rows[i].name, x, at + em, columns.name_width + 0.01);
		for (size_t j = 0; j < columns.values[i].count; j++) {
			page_put(pass->pen, pass->step, columns.values[i].lines[j], x + columns.name_width + em,
			         at + em + pass->line * (double)j, columns.value_width);
		}
		at += row_height(pass, &columns, i);
	}
	pass->drawn->rows_left = face->row_count - columns.count;
	if (pass->drawn->rows_left > 0) {
		const char *more = arena_format(pass->pen->arena, "and %zu more", pass->drawn->rows_left);
		at = columns.count == columns.left ? y : at;
		page_put(pass->pen, pass->step, more, pass->left + columns.width + COLUMN_GAP, at + em,
		         columns.width);
	}
	return y + columns.height;
}

/* ---------------------------------------------------------------- history */

static double heading_height(const struct passport *pass)
{
	return text_em(pass->heading) * 1.5;
}

/* As many entries as stand above `bottom`; where some are left, so many less that this is told. */
static void history_draw(const struct passport *pass, double y, double bottom)
{
	const struct passport_face *face = pass->face;
	double em = text_em(pass->step), indent = 2 * em, width = pass->right - pass->left;
	size_t told = 0;
	page_put(pass->pen, pass->heading, face->history_title, pass->left, y + text_em(pass->heading),
	         width);
	y += heading_height(pass);
	for (; told < face->history_count; told++) {
		struct page_lines lines =
			page_wrap(pass->pen, pass->step, face->history[told], width - indent, ENTRY_LINES);
		bool last = told + 1 == face->history_count && face->history_more == 0;
		if (y + pass->line * (double)(lines.count + (last ? 0 : 1)) > bottom) {
			break;
		}
		for (size_t i = 0; i < lines.count; i++) {
			page_put(pass->pen, pass->step, lines.lines[i], pass->left + (i == 0 ? 0 : indent),
			         y + em, width - indent);
			y += pass->line;
		}
	}
	pass->drawn->history_left = face->history_count - told + face->history_more;
	if (pass->drawn->history_left > 0) {
		page_put(pass->pen, pass->step,
		         arena_format(pass->pen->arena, "and %zu earlier", pass->drawn->history_left),
		         pass->left, y + em, width);
	}
}

/* ---------------------------------------------------------------- the page */

/* The plot names the tool no second time, nor when it was printed. */
static double plot_place(const struct passport *pass, double bottom)
{
	struct plot_face plot = *pass->face->plot;
	double height = sheet_upright.height_mm * POINTS_PER_MM * PLOT_PART;
	struct plot_place place = {
		.x = pass->left,
		.y = bottom - height,
		.width = pass->right - pass->left,
		.height = height,
		.em = PLOT_EM,
	};
	plot.title = NULL;
	plot.printed = NULL;
	plot_draw(pass->pen, &plot, &place);
	rule_draw(pass, place.y - GAP / 2);
	return place.y - GAP;
}

static void page_draw(struct pen *pen, int64_t page, void *context)
{
	struct passport *pass = context;
	const struct passport_face *face = pass->face;
	(void)page;
	pass->pen = pen;
	pass->left = MARGIN;
	pass->right = sheet_upright.width_mm * POINTS_PER_MM - MARGIN;
	pass->bottom = sheet_upright.height_mm * POINTS_PER_MM - MARGIN;
	pass->step = text_step(WORDS_EM);
	pass->heading = text_step(HEADING_EM);
	pass->small = text_step(SMALL_EM);
	pass->line = text_em(pass->step) * 1.28;
	double bottom = pass->bottom;
	if (face->printed != NULL) {
		page_put_right(pen, pass->small, face->printed, pass->right, bottom,
		               pass->right - pass->left);
		bottom -= text_em(pass->small) * 1.6;
	}
	bottom = face->plot != NULL ? plot_place(pass, bottom) : bottom;
	double y = rule_draw(pass, head_draw(pass) + GAP / 2);
	size_t least = face->history_count < ENTRIES_LEAST ? face->history_count : ENTRIES_LEAST;
	double history =
		face->history_count > 0 ? GAP + heading_height(pass) + pass->line * (double)(least + 1) : 0;
	y = data_draw(pass, y, bottom - history - y);
	if (face->history_count > 0) {
		history_draw(pass, rule_draw(pass, y + GAP / 2), bottom);
	}
}

enum outcome print_passport(struct arena *arena, const struct passport_face *face,
                            enum file_form form, const char *path, struct passport_drawn *out,
                            struct fault *fault)
{
	struct passport pass = {.face = face, .drawn = out};
	const struct tag_face tag = {.code = face->code, .content = face->content, .gs1 = face->gs1};
	*out = (struct passport_drawn){0};
	enum outcome outcome =
		symbol_make(arena, SYMBOLOGY_DATA_MATRIX, SHAPE_SQUARE, &tag, &pass.symbol, fault);
	return outcome == OUTCOME_DONE
	           ? page_print(arena, &sheet_upright, form, path, page_draw, &pass, "passport", fault)
	           : outcome;
}
