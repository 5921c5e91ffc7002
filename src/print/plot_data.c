/*
 * The data of a plot, from below up: bands, lines, points, what happened. Of points and corners
 * that fall on the same place one is drawn, so that ten thousand take no longer than they must.
 */
#include <math.h>

#include "plot.h"

#define SOLID_WIDTH 1.7
#define DASHED_WIDTH 1.4
#define DOTTED_WIDTH 2.
#define HALO_WIDTH 5. /* white, around a line over many points */
#define BAND_EDGE 0.5
#define HATCH_WIDTH 0.5
#define HATCH_STEP 5.
#define HATCH_GREY 0.35
#define SAME 0.4 /* points of the page that nobody tells apart along a line */

/* Marks: as large as lets each be told, smaller where they are many. Em, points. */
#define MARK_FEW 100
#define MARK_MANY 1000
#define MARK_EM_FEW 9.5
#define MARK_EM_MANY 7.
#define MARK_EM_MOST 5.
#define MARK_APART 0.6 /* of the em */
#define MARK_BATCH 200 /* marks in one path */

/* ---------------------------------------------------------------- how things look */

void plot_stroke_path(cairo_t *cairo, enum plot_stroke stroke)
{
	static const double dashes[] = {8, 4}, dots[] = {2, 3.2};
	switch (stroke) {
	case PLOT_SOLID:
		lib.cairo_set_line_width(cairo, SOLID_WIDTH);
		break;
	case PLOT_DASHED:
		lib.cairo_set_line_width(cairo, DASHED_WIDTH);
		lib.cairo_set_dash(cairo, dashes, 2, 0);
		break;
	case PLOT_DOTTED:
		lib.cairo_set_line_width(cairo, DOTTED_WIDTH);
		lib.cairo_set_dash(cairo, dots, 2, 0);
		break;
	}
	lib.cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
	lib.cairo_stroke(cairo);
	lib.cairo_set_dash(cairo, dots, 0, 0);
}

void plot_hatch_path(const struct plotting *plot, size_t number, double x, double y, double to_x,
                     double to_y)
{
	cairo_t *cairo = plot->pen->cairo;
	double height = to_y - y;
	bool other = number % 2 == 1;
	lib.cairo_save(cairo);
	lib.cairo_clip(cairo);
	lib.cairo_set_source_rgb(cairo, HATCH_GREY, HATCH_GREY, HATCH_GREY);
	lib.cairo_set_line_width(cairo, HATCH_WIDTH);
	int64_t count = (int64_t)ceil((to_x - x + height) / HATCH_STEP);
	for (int64_t i = 0; i < count; i++) {
		double at = x - height + (double)i * HATCH_STEP;
		lib.cairo_move_to(cairo, other ? at + height : at, to_y);
		lib.cairo_line_to(cairo, other ? at : at + height, y);
	}
	lib.cairo_stroke(cairo);
	lib.cairo_restore(cairo);
}

void plot_mark_draw(struct pen *pen, enum plot_mark mark, double x, double y, double em)
{
	static const enum board_mark marks[] = {
		[PLOT_DISC] = BOARD_DISC,
		[PLOT_RING] = BOARD_RING,
		[PLOT_TRIANGLE] = BOARD_TRIANGLE,
		[PLOT_CROSS] = BOARD_CROSS,
	};
	page_mark(pen, marks[mark], x, y, em);
}

void plot_event_draw(struct pen *pen, double x, double bottom)
{
	page_rule(pen, x, bottom, x, bottom - PLOT_EVENT_HEIGHT, 2);
}

static bool is_within(const struct plotting *plot, double x, double y)
{
	return x >= plot->left - 0.01 && x <= plot->right + 0.01 && y >= plot->top - 0.01 &&
	       y <= plot->bottom + 0.01;
}

/* ---------------------------------------------------------------- bands */

/* Its points that are drawn, as they are told apart. */
static size_t band_points(const struct plotting *plot, const struct plot_band *band, size_t *out)
{
	size_t count = 0;
	for (size_t i = 0; i < band->count; i++) {
		if (!plot_shows(band->x[i]) || !plot_shows(band->least[i]) || !plot_shows(band->most[i])) {
			continue;
		}
		size_t last = count > 0 ? out[count - 1] : 0;
		bool same = count > 0 && i + 1 < band->count &&
		            fabs(plot_x(plot, band->x[i]) - plot_x(plot, band->x[last])) < SAME &&
		            fabs(plot_y(plot, band->least[i]) - plot_y(plot, band->least[last])) < SAME &&
		            fabs(plot_y(plot, band->most[i]) - plot_y(plot, band->most[last])) < SAME;
		if (!same) {
			out[count++] = i;
		}
	}
	return count;
}

static void edge_draw(const struct plotting *plot, const struct plot_band *band, const double *edge,
                      const size_t *points, size_t count)
{
	cairo_t *cairo = plot->pen->cairo;
	lib.cairo_new_path(cairo);
	lib.cairo_set_line_width(cairo, BAND_EDGE);
	for (size_t i = 0; i < count; i++) {
		lib.cairo_line_to(cairo, plot_x(plot, band->x[points[i]]), plot_y(plot, edge[points[i]]));
	}
	lib.cairo_stroke(cairo);
}

static void band_draw(const struct plotting *plot, size_t number)
{
	const struct plot_band *band = &plot->face->bands[number];
	cairo_t *cairo = plot->pen->cairo;
	size_t *points = arena_take(plot->pen->arena, band->count, sizeof *points);
	size_t count = band_points(plot, band, points);
	lib.cairo_new_path(cairo);
	for (size_t i = 0; i < count; i++) {
		lib.cairo_line_to(cairo, plot_x(plot, band->x[points[i]]),
		                  plot_y(plot, band->least[points[i]]));
	}
	for (size_t i = count; i-- > 0;) {
		lib.cairo_line_to(cairo, plot_x(plot, band->x[points[i]]),
		                  plot_y(plot, band->most[points[i]]));
	}
	if (count > 0) {
		lib.cairo_close_path(cairo);
	}
	plot_hatch_path(plot, number, plot->left, plot->top, plot->right, plot->bottom);
	edge_draw(plot, band, band->least, points, count);
	edge_draw(plot, band, band->most, points, count);
}

/* ---------------------------------------------------------------- lines */

/* Adds a line to the path, and takes its place. */
static void line_path(const struct plotting *plot, struct plot_taken *taken,
                      const struct plot_line *line)
{
	cairo_t *cairo = plot->pen->cairo;
	double x = 0, y = 0;
	bool begun = false;
	for (size_t i = 0; i < line->count; i++) {
		const struct plot_point *point = &line->points[i];
		if (!plot_shows(point->x) || !plot_shows(point->y)) {
			continue;
		}
		double to_x = plot_x(plot, point->x), to_y = plot_y(plot, point->y);
		bool same = begun && i + 1 < line->count && fabs(to_x - x) < SAME && fabs(to_y - y) < SAME;
		if (same) {
			continue;
		}
		if (begun) {
			lib.cairo_line_to(cairo, to_x, to_y);
			plot_take_line(taken, x, y, to_x, to_y);
		} else {
			lib.cairo_move_to(cairo, to_x, to_y);
		}
		begun = true;
		x = to_x;
		y = to_y;
	}
}

static void line_draw(const struct plotting *plot, struct plot_taken *taken,
                      const struct plot_line *line, bool halo)
{
	cairo_t *cairo = plot->pen->cairo;
	lib.cairo_new_path(cairo);
	if (plot_is_limit(line)) {
		double y = plot_y(plot, line->points[0].y);
		lib.cairo_move_to(cairo, plot->left, y);
		lib.cairo_line_to(cairo, plot->right, y);
		plot_take_line(taken, plot->left, y, plot->right, y);
	} else {
		line_path(plot, taken, line);
	}
	if (halo) {
		lib.cairo_set_source_rgb(cairo, 1, 1, 1);
		lib.cairo_set_line_width(cairo, HALO_WIDTH);
		lib.cairo_stroke_preserve(cairo);
		lib.cairo_set_source_rgb(cairo, 0, 0, 0);
	}
	plot_stroke_path(cairo, line->stroke);
}

/* ---------------------------------------------------------------- points */

static size_t point_count(const struct plotting *plot)
{
	size_t count = 0;
	for (size_t i = 0; i < plot->face->series_count; i++) {
		count += plot->face->series[i].count;
	}
	return count;
}

static double mark_em(const struct plotting *plot, size_t count)
{
	double em = count <= MARK_FEW ? MARK_EM_FEW : count <= MARK_MANY ? MARK_EM_MANY : MARK_EM_MOST;
	return em < plot->em ? em : plot->em;
}

/*
 * Thousands of marks are one path a thousand: to write each by itself takes ten times as long. A
 * disc is then a line of no length with round ends.
 */
static void path_add(cairo_t *cairo, enum plot_mark mark, double x, double y, double half)
{
	switch (mark) {
	case PLOT_DISC:
		lib.cairo_move_to(cairo, x, y);
		lib.cairo_line_to(cairo, x, y);
		return;
	case PLOT_RING:
		lib.cairo_move_to(cairo, x + half, y);
		lib.cairo_arc(cairo, x, y, half, 0, 2 * PI);
		lib.cairo_close_path(cairo);
		return;
	case PLOT_TRIANGLE:
		lib.cairo_move_to(cairo, x, y - half);
		lib.cairo_line_to(cairo, x + half, y + half);
		lib.cairo_line_to(cairo, x - half, y + half);
		lib.cairo_close_path(cairo);
		return;
	case PLOT_CROSS:
		lib.cairo_move_to(cairo, x - half, y - half);
		lib.cairo_line_to(cairo, x + half, y + half);
		lib.cairo_move_to(cairo, x - half, y + half);
		lib.cairo_line_to(cairo, x + half, y - half);
	}
}

static void path_stroke(cairo_t *cairo, enum plot_mark mark, double em)
{
	bool disc = mark == PLOT_DISC;
	lib.cairo_set_line_cap(cairo, disc ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
	lib.cairo_set_line_width(cairo, em * (disc ? 0.72 : 0.16));
	lib.cairo_stroke(cairo);
	lib.cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
}

/*
 * Its points that lie within the frame, one for each place: a point of the page, or more than half
 * of a mark where they are so many that they would hide each other.
 */
static struct plot_point *places_of(const struct plotting *plot, const struct plot_series *series,
                                    double em, size_t *count)
{
	struct plot_point *places = arena_take(plot->pen->arena, series->count, sizeof *places);
	double cell = series->count > MARK_MANY ? em * MARK_APART : 1;
	size_t across = (size_t)((plot->right - plot->left) / cell) + 2;
	size_t down = (size_t)((plot->bottom - plot->top) / cell) + 2;
	unsigned char *drawn = arena_take(plot->pen->arena, across * down, 1);
	*count = 0;
	for (size_t i = 0; i < series->count; i++) {
		const struct plot_point *point = &series->points[i];
		double x = plot_x(plot, point->x), y = plot_y(plot, point->y);
		if (!plot_shows(point->x) || !plot_shows(point->y) || !is_within(plot, x, y)) {
			continue;
		}
		size_t column = (size_t)((x - plot->left) / cell + 0.5);
		size_t row = (size_t)((y - plot->top) / cell + 0.5);
		if (drawn[row * across + column] == 0) {
			drawn[row * across + column] = 1;
			places[(*count)++] = (struct plot_point){x, y};
		}
	}
	return places;
}

static void series_draw(const struct plotting *plot, struct plot_taken *taken,
                        const struct plot_series *series, double em)
{
	cairo_t *cairo = plot->pen->cairo;
	size_t count = 0;
	const struct plot_point *places = places_of(plot, series, em, &count);
	for (size_t i = 0; i < count; i++) {
		plot_take_box(taken, places[i].x - em / 2, places[i].y - em / 2, em, em);
		if (count <= MARK_MANY) {
			plot_mark_draw(plot->pen, series->mark, places[i].x, places[i].y, em);
			continue;
		}
		path_add(cairo, series->mark, places[i].x, places[i].y, em * 0.33);
		if (i % MARK_BATCH == MARK_BATCH - 1 || i + 1 == count) {
			path_stroke(cairo, series->mark, em);
		}
	}
}

static void events_draw(const struct plotting *plot, struct plot_taken *taken)
{
	double before = -HUGE_VAL;
	for (size_t i = 0; plot->face->events_name != NULL && i < plot->face->event_count; i++) {
		double x = plot_x(plot, plot->face->events[i].x);
		if (plot_shows(plot->face->events[i].x) && is_within(plot, x, plot->bottom) &&
		    fabs(x - before) >= SAME) {
			plot_event_draw(plot->pen, x, plot->bottom);
			plot_take_box(taken, x - 2, plot->bottom - PLOT_EVENT_HEIGHT - 1, 4,
			              PLOT_EVENT_HEIGHT + 1);
			before = x;
		}
	}
}

static void clip(const struct plotting *plot)
{
	cairo_t *cairo = plot->pen->cairo;
	lib.cairo_save(cairo);
	lib.cairo_new_path(cairo);
	lib.cairo_rectangle(cairo, plot->left, plot->top, plot->right - plot->left,
	                    plot->bottom - plot->top);
	lib.cairo_clip(cairo);
}

static void bands_draw(const struct plotting *plot)
{
	clip(plot);
	for (size_t i = 0; i < plot->face->band_count; i++) {
		band_draw(plot, i);
	}
	lib.cairo_restore(plot->pen->cairo);
}

static void lines_draw(const struct plotting *plot, struct plot_taken *taken, bool halo)
{
	clip(plot);
	for (size_t i = 0; i < plot->face->line_count; i++) {
		line_draw(plot, taken, &plot->face->lines[i], halo);
	}
	lib.cairo_restore(plot->pen->cairo);
}

/* Few points stand on the lines; so many that they would hide them stand below. */
void plot_data_draw(const struct plotting *plot)
{
	const struct plot_face *face = plot->face;
	struct plot_taken *taken = plot_taken_start(plot);
	size_t count = point_count(plot);
	double em = mark_em(plot, count);
	bands_draw(plot);
	if (count <= MARK_MANY) {
		lines_draw(plot, taken, false);
	}
	for (size_t i = 0; i < face->series_count; i++) {
		series_draw(plot, taken, &face->series[i], em);
	}
	if (count > MARK_MANY) {
		lines_draw(plot, taken, true);
	}
	events_draw(plot, taken);
	for (size_t i = 0; i < face->line_count; i++) {
		plot_label_draw(plot, taken, &face->lines[i]);
	}
}
