/* Would it fit? Every tag of a request on its cell, its symbol made and its layout chosen. */
#include <stdio.h>
#include <string.h>

#include "internal.h"

/*
 * How far a symbol may reach around a curve: the surface at its edge is at most 30 degrees off the
 * surface at its middle, so at most 60 of 360 degrees of the way around (GS1 General
 * Specifications, GS1 AISBL, Brussels, symbol placement on curved surfaces; from memory). The quiet
 * zones of a matrix symbol count.
 */
#define ARC_DEGREES 60
#define NANO_PI INT64_C(3141592654) /* pi, in 1e-9 */

/* GS1 General Specifications 5.4.4.3: a GS1-128 symbol is at most this long, quiet zones included.
 */
#define GS1_128_LONGEST_NM INT64_C(165100000)

/* More of a module helps no scanner: common practice, no source. */
#define X_MOST_NM 1000000

/* Of the height of a tag, where a stock does not say how high a line is: common practice, no
   source. */
#define SHARE_OF_TAG_LINE 7
#define SHARE_OF_LINE 12

static struct length arc_of(struct length diameter)
{
	long double nm = (long double)length_to_nm(diameter) * ARC_DEGREES / 360;
	return length_from_nm((int64_t)(nm * NANO_PI / 1000000000));
}

/* How finely sizes are said: to a tenth of a millimetre, or a hundredth of an inch. */
static int64_t step_of(enum units units)
{
	return units == UNITS_INCH ? 254000 : 100000;
}

/* The smallest diameter whose arc is as long, up to the next step. */
static struct length diameter_of(struct length arc, enum units units)
{
	long double nm = (long double)length_to_nm(arc) * 360 / ARC_DEGREES * 1000000000 / NANO_PI;
	int64_t step = step_of(units);
	return length_from_nm(((int64_t)nm / step + 1) * step);
}

/* Upward: what must be there at the least. */
static struct quantity_text rounded_up(struct length length, enum units units)
{
	int64_t step = step_of(units);
	struct length up = length_from_nm((length_to_nm(length) + step - 1) / step * step);
	return length_text(up, LENGTH_TOOLING, units);
}

static struct quantity_text rounded_down(struct length length, enum units units)
{
	int64_t step = step_of(units);
	struct length down = length_from_nm(length_to_nm(length) / step * step);
	return length_text(down, LENGTH_TOOLING, units);
}

/* ---------------------------------------------------------------- the text of a tag */

/*
 * Room that a line wants, in hundredths of its height of capitals: DejaVu Sans has 88 for a figure,
 * about 100 for a capital, about 80 for small letters. All but the tag may shrink a little, and
 * count for so many characters at most: common practice, no source.
 */
#define WIDTH_OF_TAG 95
#define WIDTH_OF_TEXT 56 /* 0.7 of 80 */
#define CHARACTERS_COUNTED 24

static int64_t width_wanted(const char *text, bool tag)
{
	int64_t count = 0;
	for (; *text != '\0'; text++) {
		count += ((unsigned char)*text & 0xc0) != 0x80 ? 1 : 0;
	}
	int64_t counted = count < CHARACTERS_COUNTED ? count : CHARACTERS_COUNTED;
	return tag ? count * WIDTH_OF_TAG : counted * WIDTH_OF_TEXT;
}

bool line_holds_tag(const struct stock_line *line)
{
	for (size_t i = 0; i < line->attribute_count; i++) {
		if (strcmp(line->attributes[i], "tag") == 0) {
			return true;
		}
	}
	return false;
}

static bool line_is_there(const struct tag_face *face, size_t line)
{
	return face->lines != NULL && face->lines[line] != NULL && face->lines[line][0] != '\0';
}

static int64_t capitals_wanted(const struct stock *stock, size_t line, int64_t tag_height)
{
	int64_t said = dots_nearest(stock->lines[line].height, stock->dots_per_inch);
	if (length_to_nm(stock->lines[line].height) > 0) {
		return said > 0 ? said : 1;
	}
	int64_t share = line_holds_tag(&stock->lines[line]) ? SHARE_OF_TAG_LINE : SHARE_OF_LINE;
	return tag_height / share > 0 ? tag_height / share : 1;
}

/* The widest of each line in all faces, so that the symbols of a run are alike. */
static void find_widths(const struct print_request *request, int64_t *widths)
{
	const struct stock *stock = request->stock;
	memset(widths, 0, STOCK_LINES_MOST * sizeof *widths);
	for (size_t i = 0; i < request->count; i++) {
		for (size_t j = 0; j < stock->line_count; j++) {
			if (line_is_there(&request->faces[i], j)) {
				bool tag = line_holds_tag(&stock->lines[j]);
				int64_t width = width_wanted(request->faces[i].lines[j], tag);
				widths[j] = width > widths[j] ? width : widths[j];
			}
		}
	}
}

static void find_space(const struct print_request *request, const struct tag_face *face,
                       const int64_t *widths, struct space *out)
{
	const struct stock *stock = request->stock;
	int64_t dots = stock->dots_per_inch;
	*out = (struct space){
		.width = dots_within(stock->width, dots),
		.height = dots_within(stock->height, dots),
		.x_least = dots_covering(request->x_least, dots),
		.x_most = dots_within(length_from_nm(X_MOST_NM), dots),
		.dots_per_inch = dots,
		.line_count = stock->line_count,
	};
	out->x_least = out->x_least > 0 ? out->x_least : 1;
	out->x_most = out->x_most > out->x_least ? out->x_most : out->x_least;
	if (length_to_nm(face->carrier) > 0) {
		int64_t arc = dots_within(arc_of(face->carrier), dots);
		out->around_most = arc > 0 ? arc : 1;
	}
	for (size_t i = 0; i < stock->line_count; i++) {
		if (!line_is_there(face, i)) {
			continue;
		}
		out->line_heights[i] = capitals_wanted(stock, i, out->height);
		out->line_widths[i] = widths[i];
	}
}

/* ---------------------------------------------------------------- one tag */

/* A GS1-128 symbol may not be too long; false where it is with the least X already. */
static bool limit_gs1_128(const struct symbol *symbol, struct space *space)
{
	int64_t longest = dots_within(length_from_nm(GS1_128_LONGEST_NM), space->dots_per_inch);
	int64_t most = longest / (symbol->wide + 2 * symbol->quiet);
	space->x_most = most < space->x_most ? most : space->x_most;
	return most >= space->x_least;
}

/* Its symbol and layout by a symbology; false where it does not fit. */
static enum outcome fit(struct arena *arena, const struct print_request *request,
                        enum symbology symbology, const int64_t *widths, struct placed *placed,
                        struct unfit *unfit, bool *fits, struct fault *fault)
{
	struct space space;
	find_space(request, placed->face, widths, &space);
	if (symbology == SYMBOLOGY_NONE) {
		*fits = layout_tag(&space, NULL, &placed->layout, unfit);
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		symbol_make(arena, symbology, SHAPE_SQUARE, placed->face, &placed->symbol, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (symbology == SYMBOLOGY_CODE_128 && placed->face->gs1 &&
	    !limit_gs1_128(&placed->symbol, &space)) {
		fault_set(fault, OUTCOME_NO,
		          "code128 symbol of %s would be longer than %s, which no GS1-128 symbol may be",
		          placed->face->code,
		          length_text(length_from_nm(GS1_128_LONGEST_NM), LENGTH_TOOLING, request->units)
		              .bytes);
		fault_hint(fault, "Type symbol=datamatrix or symbol=qr, which take less room.");
		return OUTCOME_NO;
	}
	*fits = layout_tag(&space, &placed->symbol, &placed->layout, unfit);
	if (*fits || symbology != SYMBOLOGY_DATA_MATRIX) {
		return OUTCOME_DONE;
	}
	struct symbol square = placed->symbol;
	struct unfit other;
	if (symbol_make(arena, symbology, SHAPE_RECTANGLE, placed->face, &placed->symbol, NULL) ==
	    OUTCOME_DONE) {
		*fits = layout_tag(&space, &placed->symbol, &placed->layout, &other);
	}
	if (!*fits) {
		placed->symbol = square;
	}
	return OUTCOME_DONE;
}

/* What else would do on this stock, as it is typed: `symbol=datamatrix or symbol=qr`; "" where
   nothing would. */
static const char *find_others(struct arena *arena, const struct print_request *request,
                               enum symbology but, const int64_t *widths,
                               const struct tag_face *face)
{
	struct text others = text_start(arena);
	for (enum symbology one = 0; one < SYMBOLOGY_COUNT; one++) {
		struct placed placed = {.face = face};
		struct unfit unfit;
		bool fits = false;
		if (one != but &&
		    fit(arena, request, one, widths, &placed, &unfit, &fits, NULL) == OUTCOME_DONE &&
		    fits) {
			text_join(&others, " or ", arena_format(arena, "symbol=%s", symbology_name(one)));
		}
	}
	return others.bytes;
}

/* Sizes of a tag, said alike: `35.8mm x 10.2mm`. */
struct size_text {
	char bytes[2 * sizeof(struct quantity_text) + 4];
};

static struct size_text size_needed(const struct unfit *unfit, const struct print_request *request)
{
	int64_t dots = request->stock->dots_per_inch;
	struct size_text out;
	snprintf(out.bytes, sizeof out.bytes, "%s x %s",
	         rounded_up(dots_length(unfit->width, dots), request->units).bytes,
	         rounded_up(dots_length(unfit->height, dots), request->units).bytes);
	return out;
}

static struct size_text size_there(const struct print_request *request)
{
	struct size_text out;
	snprintf(out.bytes, sizeof out.bytes, "%s x %s",
	         rounded_down(request->stock->width, request->units).bytes,
	         rounded_down(request->stock->height, request->units).bytes);
	return out;
}

/* Of a module: to a thousandth of a millimetre, or a ten-thousandth of an inch. */
static struct quantity_text module_text(struct length x, enum units units)
{
	int64_t step = units == UNITS_INCH ? 2540 : 1000;
	struct length near = length_from_nm((length_to_nm(x) + step / 2) / step * step);
	return length_text(near, LENGTH_TOOLING, units);
}

static enum outcome refuse(struct arena *arena, const struct print_request *request,
                           enum symbology symbology, const int64_t *widths,
                           const struct tag_face *face, const struct unfit *unfit,
                           struct fault *fault)
{
	const struct stock *stock = request->stock;
	int64_t dots = stock->dots_per_inch;
	enum units units = request->units;
	struct size_text need = size_needed(unfit, request);
	struct size_text have = size_there(request);
	const char *others = find_others(arena, request, symbology, widths, face);
	if (symbology == SYMBOLOGY_NONE) {
		fault_set(fault, OUTCOME_NO, "text of %s does not fit %s: it needs %s, the tag is %s",
		          face->code, stock->name, need.bytes, have.bytes);
		fault_hint(fault, "Use a tag of at least %s, or fewer lines.", need.bytes);
		return OUTCOME_NO;
	}
	if (unfit->misfit == MISFIT_CURVE) {
		struct length around = dots_length(unfit->around, dots);
		fault_set(
			fault, OUTCOME_NO,
			"%s symbol of %s is too high for what it goes on: it reaches %s around the curve, "
			"the diameter %s allows %s",
			symbology_name(symbology), face->code, rounded_up(around, units).bytes,
			length_text(face->carrier, LENGTH_TOOLING, units).bytes,
			rounded_down(dots_length(dots_within(arc_of(face->carrier), dots), dots), units).bytes);
		fault_hint(fault, "It needs a diameter of at least %s%s%s.",
		           length_text(diameter_of(around, units), LENGTH_TOOLING, units).bytes,
		           others[0] != '\0' ? "; or type " : ", or a flat place", others);
		return OUTCOME_NO;
	}
	struct length x = dots_length(unfit->x_dots, dots);
	fault_set(
		fault, OUTCOME_NO,
		"%s symbol of %s does not fit %s: %lld X of %s (%lld dot%s) and the text need %s, the "
		"tag is %s",
		symbology_name(symbology), face->code, stock->name, (long long)unfit->modules,
		module_text(x, units).bytes, (long long)unfit->x_dots, unfit->x_dots == 1 ? "" : "s",
		need.bytes, have.bytes);
	fault_hint(fault, "Use a stock with tags of at least %s%s%s.", need.bytes,
	           others[0] != '\0' ? "; or type " : "", others);
	return OUTCOME_NO;
}

/* ---------------------------------------------------------------- all of them */

static enum outcome look_at_request(const struct print_request *request, struct fault *fault)
{
	const struct stock *stock = request->stock;
	int64_t cells = stock->across * stock->down;
	if (request->count == 0) {
		fault_set(fault, OUTCOME_BAD, "no tag to print");
		fault_hint(fault, "Name at least one.");
		return OUTCOME_BAD;
	}
	if (request->first_cell < 1 || request->first_cell > cells) {
		fault_set(fault, OUTCOME_BAD, "cell is not on the sheet %s: %lld", stock->name,
		          (long long)request->first_cell);
		fault_hint(fault, "Name one from 1 to %lld; they count along the rows.", (long long)cells);
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static void find_cell(const struct stock *stock, int64_t number, struct placed *placed)
{
	int64_t cells = stock->across * stock->down;
	int64_t cell = number % cells;
	struct length x =
		length_add(stock->margin_left, length_times(stock->pitch_across, cell % stock->across));
	struct length y =
		length_add(stock->margin_top, length_times(stock->pitch_down, cell / stock->across));
	placed->page = number / cells;
	placed->x = dots_nearest(x, stock->dots_per_inch);
	placed->y = dots_nearest(y, stock->dots_per_inch);
}

enum outcome print_plan(struct arena *arena, const struct print_request *request,
                        struct print_plan *out, struct fault *fault)
{
	const struct stock *stock = request->stock;
	enum symbology symbology = request->symbology != NULL ? *request->symbology : stock->symbology;
	enum outcome outcome = look_at_request(request, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	int64_t widths[STOCK_LINES_MOST];
	find_widths(request, widths);
	struct placed *placed = arena_take(arena, request->count, sizeof *placed);
	*out = (struct print_plan){.tags = arena_take(arena, request->count, sizeof *out->tags)};
	for (size_t i = 0; i < request->count; i++) {
		struct placed *one = &placed[i];
		struct unfit unfit = {0};
		bool fits = false;
		one->face = &request->faces[i];
		outcome = fit(arena, request, symbology, widths, one, &unfit, &fits, fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		if (!fits) {
			return refuse(arena, request, symbology, widths, one->face, &unfit, fault);
		}
		find_cell(stock, request->first_cell - 1 + (int64_t)i, one);
		if (out->x_dots == 0 || one->layout.x_dots < out->x_dots) {
			out->x_dots = one->layout.x_dots;
		}
		out->tags[i] = (struct planned_tag){
			.x_dots = one->layout.x_dots,
			.x = dots_length(one->layout.x_dots, stock->dots_per_inch),
		};
		out->turned = out->turned || one->layout.turned;
	}
	int64_t cells = stock->across * stock->down;
	out->pages = placed[request->count - 1].page + 1;
	out->cells = out->pages * cells - (request->first_cell - 1) - (int64_t)request->count;
	out->x = dots_length(out->x_dots, stock->dots_per_inch);
	out->placed = placed;
	return OUTCOME_DONE;
}
