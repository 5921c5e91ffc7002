/* Names beside level lines of a plot, where they hide nothing. */
#include <math.h>

#include "plot.h"

#define LABEL_GAP 2.5 /* between a line and its name */
#define LABEL_PAD 2.  /* left free around it */
#define PLACES 9      /* tried along a line */

struct plot_taken {
	double left, top;
	int64_t across, down;
	unsigned char *points; /* row by row; 1: something is drawn there */
};

struct plot_taken *plot_taken_start(const struct plotting *plot)
{
	struct plot_taken *taken = arena_take(plot->pen->arena, 1, sizeof *taken);
	taken->left = plot->left;
	taken->top = plot->top;
	taken->across = (int64_t)fmax(plot->right - plot->left, 1) + 1;
	taken->down = (int64_t)fmax(plot->bottom - plot->top, 1) + 1;
	taken->points = arena_take(plot->pen->arena, (size_t)(taken->across * taken->down), 1);
	return taken;
}

static int64_t within(double at, int64_t most)
{
	return at < 0 ? 0 : at > (double)most ? most : (int64_t)at;
}

/* The points of a box that lie within the frame. */
struct span {
	int64_t left, right, top, bottom; /* right and bottom are the first behind it */
};
static struct span span_of(const struct plot_taken *taken, double x, double y, double width,
                           double height)
{
	return (struct span){
		.left = within(floor(x - taken->left), taken->across),
		.right = within(ceil(x + width - taken->left), taken->across),
		.top = within(floor(y - taken->top), taken->down),
		.bottom = within(ceil(y + height - taken->top), taken->down),
	};
}

void plot_take_box(struct plot_taken *taken, double x, double y, double width, double height)
{
	struct span span = span_of(taken, x, y, width, height);
	for (int64_t row = span.top; row < span.bottom; row++) {
		for (int64_t column = span.left; column < span.right; column++) {
			taken->points[row * taken->across + column] = 1;
		}
	}
}

void plot_take_line(struct plot_taken *taken, double x, double y, double to_x, double to_y)
{
	int64_t steps = (int64_t)ceil(fmax(fabs(to_x - x), fabs(to_y - y))) + 1;
	for (int64_t i = 0; i <= steps; i++) {
		double part = (double)i / (double)steps;
		plot_take_box(taken, x + (to_x - x) * part - 0.5, y + (to_y - y) * part - 0.5, 1, 1);
	}
}

static bool is_free(const struct plot_taken *taken, double x, double y, double width, double height)
{
	struct span span = span_of(taken, x, y, width, height);
	for (int64_t row = span.top; row < span.bottom; row++) {
		for (int64_t column = span.left; column < span.right; column++) {
			if (taken->points[row * taken->across + column] != 0) {
				return false;
			}
		}
	}
	return true;
}

static void label_put(const struct plotting *plot, struct plot_taken *taken, const char *name,
                      double x, double top, double width)
{
	cairo_t *cairo = plot->pen->cairo;
	lib.cairo_new_path(cairo);
	lib.cairo_set_source_rgb(cairo, 1, 1, 1);
	lib.cairo_rectangle(cairo, x - 1, top, width + 2, plot->line);
	lib.cairo_fill(cairo);
	lib.cairo_set_source_rgb(cairo, 0, 0, 0);
	page_put(plot->pen, plot->step, name, x, top + plot->em * 0.92, width + 0.01);
	plot_take_box(taken, x, top, width, plot->line);
}

void plot_label_draw(const struct plotting *plot, struct plot_taken *taken,
                     const struct plot_line *line)
{
	if (line->name == NULL || !plot_is_level(line) || !plot_shows(line->points[0].y)) {
		return;
	}
	double y = plot_y(plot, line->points[0].y);
	double width = page_text_width(plot->pen, plot->step, line->name);
	bool across = plot_is_limit(line);
	double begin = across ? plot->left : plot_x(plot, line->points[0].x);
	double end = across ? plot->right : plot_x(plot, line->points[line->count - 1].x);
	double from = fmax(begin, plot->left) + 2 * LABEL_PAD;
	double to = fmin(end, plot->right) - 2 * LABEL_PAD - width;
	const double tops[] = {y - LABEL_GAP - plot->line, y + LABEL_GAP};
	for (size_t side = 0; side < COUNT_OF(tops); side++) {
		double top = tops[side];
		for (int i = 0; i < PLACES && from <= to; i++) {
			double x = from + (to - from) * i / (PLACES - 1);
			if (top > plot->top + 1 && top + plot->line < plot->bottom - 1 &&
			    is_free(taken, x - LABEL_PAD, top, width + 2 * LABEL_PAD, plot->line)) {
				label_put(plot, taken, line->name, x, top, width);
				return;
			}
		}
	}
}
