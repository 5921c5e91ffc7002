/*
 * Where symbol and text stand on a tag. Pure: numbers in, numbers out, all in whole dots of the
 * printer, so that every edge of a symbol lies between two dots.
 *
 * A convention: the longer side of a tag runs along the axis of what it is wrapped around.
 */
#include <assert.h>
#include <string.h>

#include "internal.h"

/* Common practice, no source, but where one is named. In micrometres. */
#define EDGE_UM 500   /* free at the edge of a tag, and between symbol and text */
#define X_EASY_UM 330 /* X that any scanner reads with ease: text gives way down to here */
#define BARS_MOST_UM 15000

/* Bars are at least 5 mm high or 15 % of their length, if a hand aims: ISO/IEC 15417, 4.7 (from
   memory). */
#define BARS_LEAST_UM 5000
#define BARS_LEAST_PERCENT 15

/* DejaVu Sans: a line takes 1.164 em, its capitals 0.729 em (their head tables), in hundredths. */
#define LINE_TO_CAPITALS 160

/* A letter J reaches that far out of its line to the left, in percent of its height: 7.1 (the glyf
   table of DejaVu Sans). */
#define REACH_PERCENT 8

#define NM_A_INCH 25400000

static int64_t larger(int64_t a, int64_t b)
{
	return a > b ? a : b;
}

static int64_t smaller(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

int64_t dots_within(struct length length, int64_t dots_per_inch)
{
	return length_to_nm(length) * dots_per_inch / NM_A_INCH;
}

int64_t dots_covering(struct length length, int64_t dots_per_inch)
{
	return (length_to_nm(length) * dots_per_inch + NM_A_INCH - 1) / NM_A_INCH;
}

int64_t dots_nearest(struct length length, int64_t dots_per_inch)
{
	return (length_to_nm(length) * dots_per_inch + NM_A_INCH / 2) / NM_A_INCH;
}

struct length dots_length(int64_t dots, int64_t dots_per_inch)
{
	return length_from_nm((dots * NM_A_INCH + dots_per_inch - 1) / dots_per_inch);
}

static int64_t from_um(int64_t um, int64_t dots_per_inch)
{
	return dots_covering(length_from_nm(um * 1000), dots_per_inch);
}

/* ---------------------------------------------------------------- one way to lay it out */

struct way {
	int64_t x;     /* dots of a module */
	int64_t scale; /* of the text as wanted, in percent */
	bool turned;
	bool stacked; /* text above or below the symbol; else beside it */
};

/* What a way takes. */
struct need {
	int64_t edge, gap;     /* free at edges; between quiet zone and text */
	int64_t along, across; /* of the symbol with its quiet zones, before turning */
	int64_t text_width, text_height;
	int64_t width, height; /* of the tag */
};

static int64_t line_capitals(const struct space *space, size_t line, int64_t scale)
{
	int64_t wanted = space->line_heights[line];
	int64_t least = smaller(wanted, from_um(CAPITALS_LEAST_UM, space->dots_per_inch));
	return larger(wanted * scale / 100, least);
}

static int64_t line_height(const struct space *space, size_t line, int64_t scale)
{
	return (line_capitals(space, line, scale) * LINE_TO_CAPITALS + 99) / 100;
}

static void measure_text(const struct space *space, int64_t scale, struct need *need)
{
	need->text_height = 0;
	need->text_width = 0;
	for (size_t i = 0; i < space->line_count; i++) {
		int64_t width = (line_capitals(space, i, scale) * space->line_widths[i] + 99) / 100;
		need->text_height += line_height(space, i, scale);
		need->text_width = larger(need->text_width, width);
	}
}

/* How far letters reach into what is left of them. */
static int64_t text_reach(const struct space *space, int64_t scale)
{
	int64_t tallest = 0;
	for (size_t i = 0; i < space->line_count; i++) {
		tallest = larger(tallest, line_capitals(space, i, scale));
	}
	return (tallest * REACH_PERCENT + 99) / 100;
}

static int64_t bars_least(const struct space *space, const struct symbol *symbol, int64_t x)
{
	int64_t share = (symbol->wide * x * BARS_LEAST_PERCENT + 99) / 100;
	return larger(share, from_um(BARS_LEAST_UM, space->dots_per_inch));
}

static void measure(const struct space *space, const struct symbol *symbol, const struct way *way,
                    struct need *need)
{
	need->edge = from_um(EDGE_UM, space->dots_per_inch);
	measure_text(space, way->scale, need);
	int64_t quiet = larger(symbol->quiet * way->x, need->edge);
	need->along = symbol->wide * way->x + 2 * quiet;
	need->across = symbol->linear ? bars_least(space, symbol, way->x) + 2 * need->edge
	                              : symbol->high * way->x + 2 * quiet;
	int64_t width = way->turned ? need->across : need->along;
	int64_t height = way->turned ? need->along : need->across;
	int64_t after = need->text_height > 0 ? need->edge : 0;
	/* Letters that stand just behind the quiet zone of a matrix lead readers astray. */
	need->gap = symbol->linear || need->text_height == 0 ? 0 : larger(need->edge, way->x);
	need->gap = way->stacked ? need->gap : larger(need->gap, text_reach(space, way->scale));
	after += need->gap;
	if (way->stacked) {
		need->width = larger(width, need->text_width + 2 * need->edge);
		need->height = height + need->text_height + after;
	} else {
		need->width = width + need->text_width + after;
		need->height = larger(height, need->text_height + 2 * need->edge);
	}
}

/* What the symbol takes around its carrier at the least. */
static int64_t around_least(const struct space *space, const struct symbol *symbol, int64_t x)
{
	return symbol->linear ? bars_least(space, symbol, x)
	                      : (smaller(symbol->wide, symbol->high) + 2 * symbol->quiet) * x;
}

/* ---------------------------------------------------------------- the boxes of a way */

static void place_text(const struct space *space, const struct way *way, const struct box *room,
                       struct layout *out)
{
	int64_t height = 0;
	for (size_t i = 0; i < space->line_count; i++) {
		height += line_height(space, i, way->scale);
	}
	int64_t y = room->y + larger(0, room->height - height) / 2;
	for (size_t i = 0; i < space->line_count; i++) {
		int64_t line = line_height(space, i, way->scale);
		out->lines[i] = (struct box){room->x, y, room->width, line};
		y += line;
	}
}

/* How high the bars may be: what is free, but no higher than is of use. */
static int64_t bars_height(const struct space *space, const struct symbol *symbol,
                           const struct way *way, int64_t spare)
{
	int64_t least = bars_least(space, symbol, way->x);
	int64_t most = larger(least, from_um(BARS_MOST_UM, space->dots_per_inch));
	most = space->around_most > 0 ? smaller(most, space->around_most) : most;
	return smaller(least + spare, most);
}

static void place(const struct space *space, const struct symbol *symbol, const struct way *way,
                  struct layout *out)
{
	struct need need;
	measure(space, symbol, way, &need);
	int64_t spare = way->turned ? space->width : space->height;
	spare -= way->stacked == way->turned ? need.across : way->turned ? need.width : need.height;
	int64_t long_side = symbol->wide * way->x;
	int64_t short_side =
		symbol->linear ? bars_height(space, symbol, way, spare) : symbol->high * way->x;
	int64_t along = need.along;
	int64_t across = symbol->linear ? short_side + 2 * need.edge : need.across;
	struct box *box = &out->symbol;
	box->width = way->turned ? short_side : long_side;
	box->height = way->turned ? long_side : short_side;
	int64_t width = way->turned ? across : along; /* with what is kept free around it */
	int64_t height = way->turned ? along : across;
	struct box room = {need.edge, need.edge, space->width - 2 * need.edge,
	                   space->height - 2 * need.edge};
	bool text = need.text_height > 0;
	if (way->stacked) {
		bool below = symbol->linear && text; /* bars stand under the text, as on most labels */
		int64_t top = below ? space->height - height : text ? 0 : (space->height - height) / 2;
		box->x = (space->width - box->width) / 2;
		box->y = top + (height - box->height) / 2;
		room.y = below ? need.edge : height + need.gap;
		room.height = space->height - height - need.gap - need.edge;
	} else {
		box->x = (width - box->width) / 2;
		box->y = (space->height - box->height) / 2;
		room.x = width + need.gap;
		room.width = space->width - width - need.gap - need.edge;
	}
	out->has_symbol = true;
	out->x_dots = way->x;
	out->turned = way->turned;
	out->centred = way->stacked;
	place_text(space, way, &room, out);
}

/* ---------------------------------------------------------------- the best way */

static bool way_fits(const struct space *space, const struct symbol *symbol, const struct way *way)
{
	struct need need;
	measure(space, symbol, way, &need);
	return need.width <= space->width && need.height <= space->height &&
	       (space->around_most == 0 || around_least(space, symbol, way->x) <= space->around_most);
}

/* The largest X down to `least` with text of that scale. */
static bool find_x(const struct space *space, const struct symbol *symbol, int64_t least,
                   struct way *way)
{
	int64_t most = larger(space->width, space->height) / symbol->wide;
	for (way->x = smaller(most, space->x_most); way->x >= least; way->x--) {
		if (way_fits(space, symbol, way)) {
			return true;
		}
	}
	return false;
}

/* Text as large as wanted down to half of that as long as X is easy to read; then X gives way. */
static bool find_scale(const struct space *space, const struct symbol *symbol, struct way *way)
{
	int64_t easy = larger(space->x_least, from_um(X_EASY_UM, space->dots_per_inch));
	for (way->scale = 100; way->scale >= 50; way->scale -= 10) {
		if (find_x(space, symbol, easy, way)) {
			return true;
		}
	}
	for (way->scale = 100; way->scale >= 0; way->scale -= 10) {
		if (find_x(space, symbol, space->x_least, way)) {
			return true;
		}
	}
	return false;
}

/*
 * Bars stand under the text, on their side beside it; a matrix stands beside the text of a wide
 * tag, over that of a tall one; the other way only where that does not fit.
 */
static bool find_way(const struct space *space, const struct symbol *symbol, bool turned,
                     struct way *way)
{
	*way = (struct way){.turned = turned};
	way->stacked = symbol->linear ? !turned : space->height > space->width;
	if (find_scale(space, symbol, way)) {
		return true;
	}
	way->stacked = !way->stacked;
	return find_scale(space, symbol, way);
}

static int64_t excess(const struct space *space, const struct need *need)
{
	return larger(0, need->width - space->width) + larger(0, need->height - space->height);
}

/* What would do: the way that lacks least. */
static void say_unfit(const struct space *space, const struct symbol *symbol, bool turned,
                      struct unfit *unfit)
{
	struct need need, other;
	struct way way = {.x = space->x_least, .turned = turned, .stacked = true};
	measure(space, symbol, &way, &need);
	way.stacked = false;
	measure(space, symbol, &way, &other);
	if (excess(space, &other) < excess(space, &need)) {
		need = other;
	}
	unfit->x_dots = space->x_least;
	unfit->modules = symbol->wide + 2 * symbol->quiet;
	unfit->width = need.width;
	unfit->height = need.height;
	unfit->around = around_least(space, symbol, space->x_least);
	unfit->misfit =
		space->around_most > 0 && unfit->around > space->around_most ? MISFIT_CURVE : MISFIT_SIZE;
}

/* Text alone: as large as wanted, or as its room allows. */
static bool layout_text(const struct space *space, struct layout *out, struct unfit *unfit)
{
	struct way way = {.scale = 100};
	struct need need = {.edge = from_um(EDGE_UM, space->dots_per_inch)};
	struct box room = {need.edge, need.edge, space->width - 2 * need.edge,
	                   space->height - 2 * need.edge};
	for (; way.scale >= 0; way.scale -= 10) {
		measure_text(space, way.scale, &need);
		if (need.text_width <= room.width && need.text_height <= room.height) {
			place_text(space, &way, &room, out);
			return true;
		}
	}
	*unfit = (struct unfit){.width = need.text_width + 2 * need.edge,
	                        .height = need.text_height + 2 * need.edge};
	return false;
}

bool layout_tag(const struct space *space, const struct symbol *symbol, struct layout *out,
                struct unfit *unfit)
{
	assert(space->width > 0 && space->height > 0 && space->dots_per_inch > 0);
	struct way way;
	memset(out, 0, sizeof *out);
	if (symbol == NULL) {
		return layout_text(space, out, unfit);
	}
	bool tall = space->height > space->width;
	bool round = space->around_most > 0;
	bool turned = round && tall; /* the scan line runs along the axis */
	if (find_way(space, symbol, turned, &way) ||
	    (!round && symbol->wide != symbol->high && find_way(space, symbol, true, &way))) {
		place(space, symbol, &way, out);
		return true;
	}
	say_unfit(space, symbol, turned || (!round && tall && symbol->linear), unfit);
	return false;
}
