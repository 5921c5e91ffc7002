/* From values to places: how far an axis reaches and which round numbers stand along it. Pure. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "toothrack/print.h"

/* Beyond this nothing is drawn: differences must stay numbers. */
#define VALUE_MOST 1e300
/* Less than this part of what it stands at is no extent: a double tells no more ticks apart. */
#define EXTENT_LEAST 1e-9
#define ROOM_AROUND 0.04 /* of the extent, on each side */

/* ---------------------------------------------------------------- extents */

struct reach {
	double least, most;
	bool any;
};

static void reach_to(struct reach *reach, double value)
{
	if (!plot_shows(value)) {
		return;
	}
	reach->least = !reach->any || value < reach->least ? value : reach->least;
	reach->most = !reach->any || value > reach->most ? value : reach->most;
	reach->any = true;
}

static void reach_points(struct reach *x, struct reach *y, const struct plot_point *points,
                         size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (plot_shows(points[i].x) && plot_shows(points[i].y)) {
			reach_to(x, points[i].x);
			reach_to(y, points[i].y);
		}
	}
}

/* Something around a single value; else a little on each side, but not below nothing for it. */
static void reach_settle(const struct reach *reach, const struct plot_axis *axis, double *least,
                         double *most)
{
	if (plot_shows(axis->least) && plot_shows(axis->most) && axis->least < axis->most) {
		*least = axis->least;
		*most = axis->most;
		return;
	}
	if (!reach->any) {
		*least = 0;
		*most = 1;
		return;
	}
	double low = reach->least, high = reach->most;
	double size = fmax(fabs(low), fabs(high));
	double room = (high - low) * ROOM_AROUND;
	if (high - low <= size * EXTENT_LEAST) {
		room = size > 0 ? size / 10 : 1;
	}
	*least = low >= 0 && low < room ? 0 : low - room;
	*most = high <= 0 && -high < room && low < 0 ? 0 : high + room;
}

bool plot_shows(double value)
{
	return isfinite(value) && fabs(value) <= VALUE_MOST;
}

void plot_extent(const struct plot_face *face, double *x_least, double *x_most, double *y_least,
                 double *y_most)
{
	struct reach x = {0}, y = {0};
	for (size_t i = 0; i < face->series_count; i++) {
		reach_points(&x, &y, face->series[i].points, face->series[i].count);
	}
	for (size_t i = 0; i < face->line_count; i++) {
		reach_points(&x, &y, face->lines[i].points, face->lines[i].count);
	}
	for (size_t i = 0; i < face->band_count; i++) {
		const struct plot_band *band = &face->bands[i];
		for (size_t j = 0; j < band->count; j++) {
			reach_to(&x, band->x[j]);
			reach_to(&y, band->least[j]);
			reach_to(&y, band->most[j]);
		}
	}
	for (size_t i = 0; face->events_name != NULL && i < face->event_count; i++) {
		reach_to(&x, face->events[i].x);
	}
	reach_settle(&x, &face->across, x_least, x_most);
	reach_settle(&y, &face->up, y_least, y_most);
}

bool plot_is_level(const struct plot_line *line)
{
	for (size_t i = 1; i < line->count; i++) {
		if (line->points[i].y != line->points[0].y) {
			return false;
		}
	}
	return line->count >= 2;
}

bool plot_is_limit(const struct plot_line *line)
{
	return line->stroke == PLOT_DASHED && plot_is_level(line) && plot_shows(line->points[0].y);
}

/* ---------------------------------------------------------------- ticks */

/* 1, 2, 5, 10, 20, 50, ...: the one of that number, 0 being `10 ^ base`. */
static double step_of(int base, int number)
{
	static const double parts[] = {1, 2, 5};
	int exponent = base + number / 3;
	return parts[number % 3] * pow(10, exponent);
}

/* How many multiples of a step lie within; a hair is left for what rounding took. */
static double count_within(double least, double most, double step, double *first)
{
	*first = ceil(least / step - 1e-9);
	return floor(most / step + 1e-9) - *first + 1;
}

size_t plot_ticks(double least, double most, double *out, size_t room, int *digits)
{
	*digits = 0;
	double extent = most - least;
	if (room == 0 || !isfinite(extent) || extent <= fmax(fabs(least), fabs(most)) * EXTENT_LEAST) {
		return 0;
	}
	int base = (int)floor(log10(extent / (double)(room > 1 ? room - 1 : 1))) - 1, number = 0;
	double first = 0, count = count_within(least, most, step_of(base, 0), &first);
	while (count > (double)room) {
		double next_first = 0;
		double next = count_within(least, most, step_of(base, number + 1), &next_first);
		if (next < 2) {
			break;
		}
		count = next;
		first = next_first;
		number++;
	}
	/* So little room that the next round step would leave one alone: some are left out evenly. */
	double every = count > (double)room && room > 1 ? ceil((count - 1) / (double)(room - 1)) : 1;
	size_t given = 0;
	while (given < room && (double)given * every < count) {
		double value = (first + (double)given * every) * step_of(base, number);
		out[given++] = value == 0 ? 0 : value; /* no minus before nothing */
	}
	int exponent = base + number / 3;
	*digits = exponent < 0 ? -exponent : 0;
	return given;
}

/* ---------------------------------------------------------------- how they read */

/* Longer numbers are told by their power of ten. */
#define DIGITS_BEFORE_MOST 1e7
#define DIGITS_BEHIND_MOST 5

const char *plot_tick_text(struct arena *arena, double value, double largest, int digits)
{
	if (value == 0) {
		return "0";
	}
	if (largest < DIGITS_BEFORE_MOST && digits <= DIGITS_BEHIND_MOST) {
		return arena_format(arena, "%.*f", digits, value);
	}
	char *text = NULL;
	for (int places = 0; places <= 12; places++) { /* as many as it takes to tell it */
		text = arena_format(arena, "%.*e", places, value);
		if (fabs(strtod(text, NULL) - value) <= fabs(value) * 1e-11) {
			break;
		}
	}
	size_t mantissa = strcspn(text, "e");
	return arena_format(arena, "%.*se%ld", (int)mantissa, text,
	                    strtol(text + mantissa + 1, NULL, 10));
}
