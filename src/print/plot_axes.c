/* Axes of a plot: round numbers along them, lines across the frame, names with units. */
#include <math.h>

#include "plot.h"

#define TICKS_MOST 11
#define TICK 5.      /* length, outside of the frame */
#define TICK_GAP 2.5 /* to the label */
#define FRAME_RULE 1.
#define ACROSS_RULE 0.5
#define ACROSS_GREY 0.8
#define LABEL_GAP_EM 1.2 /* between two labels at the least */

struct labels {
	double values[TICKS_MOST];
	const char *texts[TICKS_MOST];
	double widths[TICKS_MOST];
	double widest;
	size_t count;
};

static struct labels labels_make(const struct plotting *plot, double least, double most,
                                 size_t room)
{
	struct labels labels = {0};
	int digits = 0;
	double largest = fmax(fabs(least), fabs(most));
	room = room > TICKS_MOST ? TICKS_MOST : room < 2 ? 2 : room;
	labels.count = plot_ticks(least, most, labels.values, room, &digits);
	for (size_t i = 0; i < labels.count; i++) {
		labels.texts[i] = plot_tick_text(plot->pen->arena, labels.values[i], largest, digits);
		labels.widths[i] = page_text_width(plot->pen, plot->step, labels.texts[i]);
		labels.widest = fmax(labels.widest, labels.widths[i]);
	}
	return labels;
}

static struct labels labels_up(const struct plotting *plot)
{
	double height = plot->bottom - plot->top;
	return labels_make(plot, plot->y_least, plot->y_most, (size_t)(height / (plot->line * 2)));
}

/* Where a label across begins: below its tick, but within the place. */
static double label_left(const struct plotting *plot, const struct labels *labels, size_t i)
{
	double end = plot->place.x + plot->place.width;
	double left = plot_x(plot, labels->values[i]) - labels->widths[i] / 2;
	left = left + labels->widths[i] > end ? end - labels->widths[i] : left;
	return left < plot->place.x ? plot->place.x : left;
}

static bool labels_are_apart(const struct plotting *plot, const struct labels *labels)
{
	for (size_t i = 1; i < labels->count; i++) {
		double before = label_left(plot, labels, i - 1) + labels->widths[i - 1];
		if (label_left(plot, labels, i) < before + plot->em * LABEL_GAP_EM) {
			return false;
		}
	}
	return true;
}

/* As many as stand apart. */
static struct labels labels_across(const struct plotting *plot)
{
	struct labels labels;
	for (size_t room = TICKS_MOST; room >= 2; room--) {
		labels = labels_make(plot, plot->x_least, plot->x_most, room);
		if (labels_are_apart(plot, &labels)) {
			break;
		}
	}
	return labels;
}

void plot_axes_fit(struct plotting *plot, double bottom)
{
	const struct plot_place *place = &plot->place;
	double below = TICK + TICK_GAP + plot->line;
	below += plot->face->across.name != NULL ? plot->line : 0;
	plot->bottom = bottom - below;
	plot->left = place->x + TICK + TICK_GAP + labels_up(plot).widest;
	plot->right = place->x + place->width - plot->em;
}

void plot_axes_draw(const struct plotting *plot)
{
	struct pen *pen = plot->pen;
	struct labels up = labels_up(plot), across = labels_across(plot);
	double baseline = plot->bottom + TICK + TICK_GAP + plot->em * 0.9;
	for (size_t i = 0; i < up.count; i++) {
		double y = plot_y(plot, up.values[i]);
		lib.cairo_set_source_rgb(pen->cairo, ACROSS_GREY, ACROSS_GREY, ACROSS_GREY);
		page_rule(pen, plot->left, y, plot->right, y, ACROSS_RULE);
		lib.cairo_set_source_rgb(pen->cairo, 0, 0, 0);
		page_rule(pen, plot->left - TICK, y, plot->left, y, FRAME_RULE);
		page_put_right(pen, plot->step, up.texts[i], plot->left - TICK - TICK_GAP,
		               y + plot->em * 0.36, up.widths[i] + 0.01);
	}
	for (size_t i = 0; i < across.count; i++) {
		double x = plot_x(plot, across.values[i]);
		page_rule(pen, x, plot->bottom, x, plot->bottom + TICK, FRAME_RULE);
		page_put(pen, plot->step, across.texts[i], label_left(plot, &across, i), baseline,
		         across.widths[i] + 0.01);
	}
	if (plot->face->up.name != NULL) {
		page_put(pen, plot->step, plot->face->up.name, plot->place.x, plot->top - plot->em * 0.9,
		         plot->place.width);
	}
	if (plot->face->across.name != NULL) {
		double room = plot->right - plot->left;
		double width = page_text_width(pen, plot->step, plot->face->across.name);
		page_put(pen, plot->step, plot->face->across.name,
		         plot->left + (width < room ? (room - width) / 2 : 0), baseline + plot->line, room);
	}
}

/* Left and below, where the ticks are; above and to the right a thin line ends the frame. */
void plot_frame_draw(const struct plotting *plot)
{
	struct pen *pen = plot->pen;
	page_rule(pen, plot->left, plot->top, plot->right, plot->top, ACROSS_RULE);
	page_rule(pen, plot->right, plot->top, plot->right, plot->bottom, ACROSS_RULE);
	page_rule(pen, plot->left, plot->top, plot->left, plot->bottom + FRAME_RULE / 2, FRAME_RULE);
	page_rule(pen, plot->left, plot->bottom, plot->right, plot->bottom, FRAME_RULE);
}
