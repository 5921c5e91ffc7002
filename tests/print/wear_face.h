/*
 * A plot as the wear of an anilox roll makes it: volume over web run, readings after cleaning and
 * after a run, trend with its band, limit, forecast, cleanings. All figures are invented.
 */
#ifndef TOOTHRACK_TESTS_PRINT_WEAR_FACE_H
#define TOOTHRACK_TESTS_PRINT_WEAR_FACE_H

#include <math.h>

#include "toothrack/print.h"

#define WEAR_READINGS 12
#define WEAR_BAND 24

/* 7.2 cm3/m2 when new, 6.1 after 9 million metres. */
static inline double wear_volume(double run)
{
	return 7.2 - (7.2 - 6.1) / 9 * run;
}

static inline struct plot_face wear_face(struct arena *memory)
{
	static const double noise[WEAR_READINGS] = {0.00,  0.06, -0.05, 0.02,  -0.08, 0.05,
	                                            -0.02, 0.07, -0.06, -0.01, 0.04,  -0.03};
	static const char *const notes[] = {
		"It wears by 0.122 cm3/m2 a million metres, 0.110 to 0.135 (90 %). The limit of 5.76 "
		"cm3/m2 is reached after 10.9 to 13.1 million metres: 1.9 to 4.1 million metres left, 120 "
		"to 260 days at its recent use of 15.8 km a day.",
		"Plugging is not wear: the last cleaning gave back 0.41 cm3/m2.",
		"Left, centre and right differ by 4.1 %, 10 % at most.",
	};
	struct plot_point *clean = arena_take(memory, WEAR_READINGS, sizeof *clean);
	struct plot_point *run = arena_take(memory, WEAR_READINGS, sizeof *run);
	struct plot_point *trend = arena_take(memory, 2, sizeof *trend);
	struct plot_point *forecast = arena_take(memory, 2, sizeof *forecast);
	struct plot_point *limit = arena_take(memory, 2, sizeof *limit);
	struct plot_event *cleaned = arena_take(memory, WEAR_READINGS, sizeof *cleaned);
	double *x = arena_take(memory, WEAR_BAND, sizeof *x);
	double *least = arena_take(memory, WEAR_BAND, sizeof *least);
	double *most = arena_take(memory, WEAR_BAND, sizeof *most);
	for (size_t i = 0; i < WEAR_READINGS; i++) {
		double at = 9. * (double)i / (WEAR_READINGS - 1);
		clean[i] = (struct plot_point){at, wear_volume(at) + noise[i]};
		run[i] = (struct plot_point){fmax(at - 0.03, 0),
		                             wear_volume(at) - 0.35 - 2 * fabs(noise[(i + 5) % 12])};
		cleaned[i].x = fmax(at - 0.01, 0);
	}
	for (size_t i = 0; i < WEAR_BAND; i++) {
		x[i] = 13. * (double)i / (WEAR_BAND - 1);
		double half = 0.05 + 0.015 * fabs(x[i] - 4.5);
		least[i] = wear_volume(x[i]) - half;
		most[i] = wear_volume(x[i]) + half;
	}
	trend[0] = (struct plot_point){0, wear_volume(0)};
	trend[1] = (struct plot_point){9, wear_volume(9)};
	forecast[0] = trend[1];
	forecast[1] = (struct plot_point){(7.2 - 5.76) * 9 / 1.1, 5.76};
	limit[0] = (struct plot_point){0, 5.76};
	limit[1] = (struct plot_point){13, 5.76};
	struct plot_series *series = arena_take(memory, 2, sizeof *series);
	series[0] = (struct plot_series){"read after cleaning", PLOT_DISC, clean, WEAR_READINGS};
	series[1] = (struct plot_series){"read after a run", PLOT_RING, run + 1, WEAR_READINGS - 1};
	struct plot_line *lines = arena_take(memory, 3, sizeof *lines);
	lines[0] = (struct plot_line){"trend", PLOT_SOLID, trend, 2};
	lines[1] = (struct plot_line){"forecast", PLOT_DOTTED, forecast, 2};
	lines[2] = (struct plot_line){"limit 5.76", PLOT_DASHED, limit, 2};
	struct plot_band *band = arena_take(memory, 1, sizeof *band);
	*band = (struct plot_band){"90 % band", x, least, most, WEAR_BAND};
	return (struct plot_face){
		.title = "AN000045-3, anilox roll 360lpi",
		.subtitle = "life 2, engraved 2024-03-12, as on record at 2026-12-01T08:00",
		.across = {.name = "web run, million m"},
		.up = {.name = "volume, cm3/m2"},
		.series = series,
		.series_count = 2,
		.lines = lines,
		.line_count = 3,
		.bands = band,
		.band_count = 1,
		.events_name = "cleaned",
		.events = cleaned + 1,
		.event_count = WEAR_READINGS - 1,
		.notes = notes,
		.note_count = COUNT_OF(notes),
		.printed = "printed 2026-12-01",
	};
}

#endif
