/*
 * A plot within a rectangle of a page: the page of its own, and the lower part of a passport. All
 * is in points, from the upper left corner of the page.
 */
#ifndef TOOTHRACK_PRINT_PLOT_H
#define TOOTHRACK_PRINT_PLOT_H

#include "page.h"

/* Where it stands on the page, and the em of its words; title and notes follow from that. */
struct plot_place {
	double x, y, width, height;
	double em;
};

/* What a plot is drawn with. */
struct plotting {
	struct pen *pen;
	const struct plot_face *face;
	struct plot_place place;
	size_t step;                     /* of its words */
	double em, line;                 /* of that step, and from line to line */
	double left, right, top, bottom; /* of the frame, within which the data stand */
	double x_least, x_most, y_least, y_most;
};

/* Draws it all within its place. */
void plot_draw(struct pen *pen, const struct plot_face *face, const struct plot_place *place);

/* Where a value stands; far outside of the page at the most. */
double plot_x(const struct plotting *plot, double value);
double plot_y(const struct plotting *plot, double value);

/* ------------------------------------------------------------------ legend (plot_key.c) */

/* One entry is a sample and its name; they stand in rows. */
struct plot_key {
	const char *name;
	const struct plot_series *series; /* one of these, or an event */
	const struct plot_line *line;
	const struct plot_band *band;
	size_t number; /* of the band */
};
struct plot_keys {
	struct plot_key *keys;
	size_t count;
	size_t left; /* for which there is no room: told behind the last */
	size_t rows;
};
/* All that has a name, over at most so many rows. */
struct plot_keys plot_keys_make(const struct plotting *plot, size_t rows_most);
void plot_keys_draw(const struct plotting *plot, const struct plot_keys *keys, double y);

/* ------------------------------------------------------------------ axes (plot_axes.c) */

/* Sets left, right and bottom of the frame so that all labels find room; top is set already. */
void plot_axes_fit(struct plotting *plot, double bottom);
/* Ticks, their labels, names of the axes, lines across. */
void plot_axes_draw(const struct plotting *plot);
void plot_frame_draw(const struct plotting *plot);

/* ------------------------------------------------------------------ data (plot_data.c) */

void plot_data_draw(const struct plotting *plot);
/* How a line of that sort is stroked; its path must stand. */
void plot_stroke_path(cairo_t *cairo, enum plot_stroke stroke);
/* Hatches the path that stands: the bands by turns this way and that. */
void plot_hatch_path(const struct plotting *plot, size_t number, double x, double y, double to_x,
                     double to_y);
void plot_mark_draw(struct pen *pen, enum plot_mark mark, double x, double y, double em);
/* A small mark upon the axis. */
void plot_event_draw(struct pen *pen, double x, double bottom);
#define PLOT_EVENT_HEIGHT 9.

/* ------------------------------------------------------------------ free places (plot_label.c) */

/* What is drawn where, point by point of the frame, so that a word finds a place that is free. */
struct plot_taken;
struct plot_taken *plot_taken_start(const struct plotting *plot);
void plot_take_box(struct plot_taken *taken, double x, double y, double width, double height);
void plot_take_line(struct plot_taken *taken, double x, double y, double to_x, double to_y);
/* Writes the name of a line that runs level beside it, where that hides nothing; else not. */
void plot_label_draw(const struct plotting *plot, struct plot_taken *taken,
                     const struct plot_line *line);

#endif
