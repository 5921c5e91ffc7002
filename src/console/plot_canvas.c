/* Cells of a plot in the terminal, with dots in them. */
#include <math.h>
#include <string.h>

#include "plot_canvas.h"
#include "columns.h"

#define FAR 1e7 /* dots; beyond that nothing is told apart */

struct canvas canvas_start(struct arena *arena, bool braille, size_t columns, size_t rows)
{
	struct canvas canvas = {
		.braille = braille,
		.columns = columns,
		.rows = rows,
		.across = (int64_t)columns * (braille ? 2 : 1),
		.down = (int64_t)rows * (braille ? 4 : 1),
		.spots = arena_take(arena, columns * rows, sizeof(struct spot)),
	};
	canvas.clear = arena_take(arena, (size_t)(canvas.across * canvas.down), 1);
	return canvas;
}

static double bounded(double dots)
{
	return dots < -FAR ? -FAR : dots > FAR ? FAR : dots;
}

double canvas_x(const struct canvas *canvas, double value)
{
	double part = (value - canvas->x_least) / (canvas->x_most - canvas->x_least);
	return bounded(part * (double)(canvas->across - 1));
}

double canvas_y(const struct canvas *canvas, double value)
{
	double part = (value - canvas->y_least) / (canvas->y_most - canvas->y_least);
	return bounded((1 - part) * (double)(canvas->down - 1));
}

static struct spot *spot_at(const struct canvas *canvas, int64_t x, int64_t y)
{
	if (x < 0 || y < 0 || x >= canvas->across || y >= canvas->down) {
		return NULL;
	}
	size_t column = (size_t)x / (canvas->braille ? 2 : 1),
		   row = (size_t)y / (canvas->braille ? 4 : 1);
	return &canvas->spots[row * canvas->columns + column];
}

struct spot *canvas_spot(const struct canvas *canvas, double x, double y)
{
	return plot_shows(x) && plot_shows(y)
	           ? spot_at(canvas, llround(canvas_x(canvas, x)), llround(canvas_y(canvas, y)))
	           : NULL;
}

/* One dot; in ASCII its sign, over what stands there. */
static struct spot *dot(const struct canvas *canvas, int64_t x, int64_t y, const char *sign)
{
	/* Dots 1 to 3 and 7 run down the left of a cell, 4 to 6 and 8 down the right. */
	static const unsigned char bits[4][2] = {{0x01, 0x08},
	                                         {0x02, 0x10},
	                                         {0x04, 0x20},
	                                         {0x40, 0x80}};
	struct spot *spot = spot_at(canvas, x, y);
	if (spot != NULL && canvas->braille) {
		spot->dots |= bits[y % 4][x % 2];
	} else if (spot != NULL) {
		spot->sign = sign;
	}
	return spot;
}

/* ---------------------------------------------------------------- lines */

/* Is the dot of that number along a line drawn? Of two dots a cell, or of one. */
static bool is_stroked(const struct canvas *canvas, enum plot_stroke stroke, int64_t number)
{
	switch (stroke) {
	case PLOT_SOLID:
		return true;
	case PLOT_DASHED:
		return canvas->braille ? number % 6 < 4 : number % 3 < 2;
	case PLOT_DOTTED:
		break;
	}
	return number % 2 == 0;
}

static const char *stroke_sign(enum plot_stroke stroke)
{
	static const char *const signs[] =
		{[PLOT_SOLID] = "-", [PLOT_DASHED] = "-", [PLOT_DOTTED] = "."};
	return signs[stroke];
}

/* The part of a stretch from `from` to `to` that lies from 0 to `most`, as parts of it. */
static void narrow(double from, double to, double most, double *begin, double *end)
{
	double extent = to - from;
	if (fabs(extent) < 1e-9) {
		*end = from < -0.5 || from > most + 0.5 ? -1 : *end;
		return;
	}
	double first = (-0.5 - from) / extent, last = (most + 0.5 - from) / extent;
	*begin = fmax(*begin, fmin(first, last));
	*end = fmin(*end, fmax(first, last));
}

/* That a line runs there: in braille the dots above and below are left clear too. */
static void run_through(const struct canvas *canvas, int64_t x, int64_t y, size_t line)
{
	struct spot *spot = spot_at(canvas, x, y);
	int64_t beside = canvas->braille ? 1 : 0;
	for (int64_t i = y - beside; i <= y + beside; i++) {
		if (spot_at(canvas, x, i) != NULL) {
			canvas->clear[i * canvas->across + x] = 1;
		}
	}
	if (spot != NULL) {
		spot->shared = spot->shared || (spot->line != 0 && spot->line != line);
		spot->line = line;
	}
}

/* `number` counts the dots along the whole line, so that dashes run on. */
static void segment(const struct canvas *canvas, const struct plot_line *line, size_t line_number,
                    const double from[2], const double to[2], int64_t *number)
{
	double begin = 0, end = 1;
	narrow(from[0], to[0], (double)(canvas->across - 1), &begin, &end);
	narrow(from[1], to[1], (double)(canvas->down - 1), &begin, &end);
	int64_t steps =
		(int64_t)ceil(fmax(fabs(to[0] - from[0]), fabs(to[1] - from[1])) * (end - begin));
	for (int64_t i = 0; begin <= end && i <= steps; i++) {
		double part = begin + (steps > 0 ? (end - begin) * (double)i / (double)steps : 0);
		int64_t x = llround(from[0] + (to[0] - from[0]) * part);
		int64_t y = llround(from[1] + (to[1] - from[1]) * part);
		run_through(canvas, x, y, line_number);
		if (is_stroked(canvas, line->stroke, (*number)++)) {
			dot(canvas, x, y, stroke_sign(line->stroke));
		}
	}
	*number -= *number > 0; /* the next begins where this one ends */
}

void canvas_line(struct canvas *canvas, const struct plot_line *line, size_t number)
{
	double before[2] = {0, 0};
	bool begun = false;
	int64_t dots = 0;
	if (plot_is_limit(line)) {
		double y = canvas_y(canvas, line->points[0].y);
		const double from[2] = {0, y}, to[2] = {(double)(canvas->across - 1), y};
		segment(canvas, line, number, from, to, &dots);
		return;
	}
	for (size_t i = 0; i < line->count; i++) {
		const struct plot_point *point = &line->points[i];
		if (!plot_shows(point->x) || !plot_shows(point->y)) {
			continue;
		}
		const double here[2] = {canvas_x(canvas, point->x), canvas_y(canvas, point->y)};
		if (begun) {
			segment(canvas, line, number, before, here, &dots);
		}
		begun = true;
		before[0] = here[0];
		before[1] = here[1];
	}
}

/* ---------------------------------------------------------------- bands */

/* From the highest dot to the lowest of a band, by column of dots. */
struct reach {
	double top, bottom;
};

static void reach_add(const struct canvas *canvas, struct reach *reaches, double x, double least,
                      double most)
{
	int64_t column = llround(x);
	if (column >= 0 && column < canvas->across) {
		double top = canvas_y(canvas, most), bottom = canvas_y(canvas, least);
		struct reach *reach = &reaches[column];
		reach->top = fmin(reach->top, fmin(top, bottom));
		reach->bottom = fmax(reach->bottom, fmax(top, bottom));
	}
}

static void reaches_find(const struct canvas *canvas, const struct plot_band *band,
                         struct reach *reaches)
{
	size_t last = SIZE_MAX;
	for (size_t i = 0; i < band->count; i++) {
		if (!plot_shows(band->x[i]) || !plot_shows(band->least[i]) || !plot_shows(band->most[i])) {
			continue;
		}
		double to = canvas_x(canvas, band->x[i]);
		double from = last == SIZE_MAX ? to : canvas_x(canvas, band->x[last]);
		int64_t begin = (int64_t)fmax(ceil(fmin(from, to)), 0);
		double end = fmin(fmax(from, to), (double)canvas->across);
		for (int64_t x = begin; (double)x < end && last != SIZE_MAX; x++) {
			double part = ((double)x - from) / (to - from);
			reach_add(canvas, reaches, (double)x,
			          band->least[last] + (band->least[i] - band->least[last]) * part,
			          band->most[last] + (band->most[i] - band->most[last]) * part);
		}
		reach_add(canvas, reaches, to, band->least[i], band->most[i]);
		last = i;
	}
}

/* Hatched: in braille by lines that run up to the right, in ASCII by a sign of its own. */
void canvas_band(struct arena *arena, struct canvas *canvas, const struct plot_band *band)
{
	struct reach *reaches = arena_take(arena, (size_t)canvas->across, sizeof *reaches);
	for (int64_t x = 0; x < canvas->across; x++) {
		reaches[x] = (struct reach){HUGE_VAL, -HUGE_VAL};
	}
	reaches_find(canvas, band, reaches);
	for (int64_t x = 0; x < canvas->across; x++) {
		if (reaches[x].top > reaches[x].bottom) {
			continue;
		}
		int64_t top = llround(reaches[x].top), bottom = llround(reaches[x].bottom);
		for (int64_t y = top < 0 ? 0 : top; y <= bottom && y < canvas->down; y++) {
			bool hatched = !canvas->braille || (x + y) % 4 == 0;
			if (hatched && canvas->clear[y * canvas->across + x] == 0) {
				dot(canvas, x, y, ":");
			}
		}
	}
}

/* ---------------------------------------------------------------- points and names */

const char *canvas_mark(bool braille, enum plot_mark mark)
{
	static const char *const signs[] = {[PLOT_DISC] = "\u25cf",
	                                    [PLOT_RING] = "\u25cb",
	                                    [PLOT_TRIANGLE] = "\u25b3",
	                                    [PLOT_CROSS] = "\u00d7"};
	static const char *const ascii[] =
		{[PLOT_DISC] = "*", [PLOT_RING] = "o", [PLOT_TRIANGLE] = "^", [PLOT_CROSS] = "x"};
	return braille ? signs[mark] : ascii[mark];
}

void canvas_point(struct canvas *canvas, enum plot_mark mark, const struct plot_point *point,
                  bool over)
{
	struct spot *spot = canvas_spot(canvas, point->x, point->y);
	if (spot != NULL && !spot->point && (over || spot->line == 0)) {
		spot->sign = canvas_mark(canvas->braille, mark);
		spot->point = true;
	}
}

/* Name with a blank before and behind it, in the first cells of the line that nothing else takes.
 */
void canvas_label(struct arena *arena, struct canvas *canvas, const struct plot_line *line,
                  size_t number, const char *name)
{
	size_t length = strlen(name), run = 0;
	double y = plot_is_level(line) ? canvas_y(canvas, line->points[0].y) : -1;
	if (!(y >= -0.5 && y < (double)canvas->down - 0.5)) {
		return;
	}
	size_t row = (size_t)llround(y) / (canvas->braille ? 4 : 1);
	struct spot *spots = &canvas->spots[row * canvas->columns];
	for (size_t i = 2; i < canvas->columns && run < length + 2; i++) {
		bool is_free = spots[i].line == number && !spots[i].shared && !spots[i].point;
		run = is_free ? run + 1 : 0;
		for (size_t j = 0; run == length + 2 && j < run; j++) {
			bool edge = j == 0 || j + 1 == run;
			spots[i + 1 - run + j].sign = edge ? " " : arena_copy_bytes(arena, name + j - 1, 1);
			spots[i + 1 - run + j].point = true;
		}
	}
}

void canvas_row(const struct canvas *canvas, size_t row, struct text *out)
{
	for (size_t i = 0; i < canvas->columns; i++) {
		const struct spot *spot = &canvas->spots[row * canvas->columns + i];
		if (spot->sign != NULL) {
			text_add(out, spot->sign);
		} else if (spot->dots == 0) {
			text_add(out, " ");
		} else { /* U+2800 and the dots, in UTF-8 */
			const char bytes[] = {(char)0xe2, (char)(0xa0 | spot->dots >> 6),
			                      (char)(0x80 | (spot->dots & 0x3f))};
			text_add_bytes(out, bytes, sizeof bytes);
		}
	}
}
