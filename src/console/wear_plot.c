/* What there is to be drawn of a tool's wear. */
#include "wear_plot.h"

#include <math.h>
#include <string.h>

#include "wear_words.h"

#define LINES_MOST 4
#define NOTES_MOST 3
#define BAND_POINTS 41
#define MILLION 1e6
#define FOOT 0.3048
#define UP_ROOM 0.06      /* above the highest point, of its height */
#define BAND_ROOM 0.5     /* that a band takes below and above all else, of its height */
#define MILLIONS_FROM 1e5 /* metres or feet: an axis of less counts thousands */
#define FAR_PART 3        /* of the readings' own web, the most that is drawn */
#define FIRST_PART 1.5    /* readings of a last third alone would stand in a corner */

/* A plot as it is made. */
struct drawing {
	struct call *call;
	const struct worn *worn;
	struct plot_face *face;
	struct plot_line *lines;
	const char **notes;
	double x_least, x_most;
	double web_unit; /* metres that are 1 on the axis of a roll */
};

static struct quantity_text day_said(struct moment moment)
{
	struct moment day = moment_day_start(moment);
	day.date = true;
	return moment_text(day);
}

static struct drawing drawing_begin(struct call *call, const struct worn *worn)
{
	struct drawing drawing = {.call = call, .worn = worn};
	drawing.face = arena_take(call->arena, 1, sizeof *drawing.face);
	drawing.lines = arena_take(call->arena, LINES_MOST, sizeof *drawing.lines);
	drawing.face->lines = drawing.lines;
	drawing.notes = arena_take(call->arena, NOTES_MOST, sizeof *drawing.notes);
	drawing.face->notes = drawing.notes;
	drawing.face->title = arena_format(call->arena, "%s, %s", worn->tag, worn->what);
	drawing.face->printed = arena_format(call->arena, "printed %s", moment_text(call->now).bytes);
	return drawing;
}

static void add_line(struct drawing *drawing, const char *name, enum plot_stroke stroke,
                     struct plot_point from, struct plot_point to)
{
	struct plot_point *points = arena_take(drawing->call->arena, 2, sizeof *points);
	points[0] = from;
	points[1] = to;
	drawing->lines[drawing->face->line_count++] =
		(struct plot_line){.name = name, .stroke = stroke, .points = points, .count = 2};
}

static void add_note(struct drawing *drawing, const char *note)
{
	drawing->notes[drawing->face->note_count++] = note;
}

/* From nothing: what is used up, or how much of what is allowed, is seen by its height. */
static void up_from_nothing(struct drawing *drawing)
{
	struct plot_face *face = drawing->face;
	double most = 0;
	for (size_t i = 0; i < face->series_count; i++) {
		for (size_t j = 0; j < face->series[i].count; j++) {
			most = face->series[i].points[j].y > most ? face->series[i].points[j].y : most;
		}
	}
	for (size_t i = 0; i < face->line_count; i++) {
		most = face->lines[i].points[0].y > most ? face->lines[i].points[0].y : most;
	}
	face->up.most = most * (1 + UP_ROOM);
}

/* A limit, all across. */
static void add_limit(struct drawing *drawing, const char *name, double y)
{
	add_line(drawing, name, PLOT_DASHED, (struct plot_point){drawing->x_least, y},
	         (struct plot_point){drawing->x_most, y});
}

/* ---------------------------------------------------------------- units */

static bool in_inches(const struct drawing *drawing)
{
	return drawing->call->units == UNITS_INCH;
}

static double volume_drawn(const struct drawing *drawing, struct volume volume)
{
	return in_inches(drawing) ? volume_to_bcm(volume) : volume_to_cm3_m2(volume);
}

static double cm3_m2_drawn(const struct drawing *drawing, double cm3_m2)
{
	return volume_drawn(drawing, volume_from_micro((int64_t)(cm3_m2 * 1e6 + 0.5)));
}

/* Millions of metres or of feet; thousands where all that is drawn lies below a tenth of that. */
static void web_axis(struct drawing *drawing, double until)
{
	double foot = in_inches(drawing) ? FOOT : 1;
	bool millions = until / foot >= MILLIONS_FROM;
	drawing->web_unit = foot * (millions ? MILLION : 1000);
	drawing->face->across.name =
		arena_format(drawing->call->arena, "web run since the engraving, %s %s",
	                 millions ? "million" : "thousand", web_unit(drawing->call));
}

static double web_drawn(const struct drawing *drawing, double metres)
{
	return metres / drawing->web_unit;
}

static double days_between(struct moment from, struct moment until)
{
	struct value between = {.type = VALUE_DURATION,
	                        .known = true,
	                        .duration = moment_between(from, until)};
	return (double)value_to_stored(&between) / 86400;
}

/* ---------------------------------------------------------------- a roll */

/* Readings of one sort, where their run is known. */
static void add_readings(struct drawing *drawing, struct plot_series *series, const char *name,
                         enum plot_mark mark, bool clean, bool counted)
{
	const struct worn *worn = drawing->worn;
	struct plot_point *points =
		arena_take(drawing->call->arena, worn->reading_count + 1, sizeof *points);
	size_t count = 0;
	for (size_t i = 0; i < worn->reading_count; i++) {
		const struct wear_reading *reading = &worn->readings[i];
		if (reading->clean == clean && reading->counted == counted && reading->run.known) {
			points[count++] =
				(struct plot_point){web_drawn(drawing, length_to_m(reading->run.value)),
			                        volume_drawn(drawing, reading->volume)};
		}
	}
	if (count > 0) {
		series[drawing->face->series_count++] =
			(struct plot_series){.name = name, .mark = mark, .points = points, .count = count};
	}
}

/*
 * The web that a life had run at a moment, by the reading nearest to it on whose side the web is
 * followed; by the record where no reading tells. False before what is on record.
 */
static bool run_at(const struct worn *worn, struct moment moment, double *metres)
{
	const struct wear_reading *near = NULL;
	double run = worn->run.known ? length_to_m(worn->run.value) : 0;
	for (size_t i = 0; i < worn->reading_count; i++) {
		const struct wear_reading *reading = &worn->readings[i];
		if (reading->run.known && (near == NULL || moment_compare(reading->moment, moment) <= 0)) {
			near = reading;
		}
	}
	struct moment from = near != NULL ? near->moment : (struct moment){.s = INT64_MAX};
	run = near != NULL ? length_to_m(near->run.value) : run;
	for (size_t i = 0; i < worn->run_count; i++) {
		const struct web_run *of = &worn->runs[i];
		bool after = moment_compare(of->moment, from) > 0;
		bool until = moment_compare(of->moment, moment) <= 0;
		run += after && until ? length_to_m(of->length) : 0;
		run -= !after && !until ? length_to_m(of->length) : 0;
	}
	*metres = run;
	return run >= 0;
}

static void add_cleanings(struct drawing *drawing)
{
	const struct worn *worn = drawing->worn;
	struct plot_event *events =
		arena_take(drawing->call->arena, worn->care_count + 1, sizeof *events);
	double metres;
	for (size_t i = 0; i < worn->care_count; i++) {
		if (strcmp(worn->care[i].what, "cleaned") == 0 &&
		    run_at(worn, worn->care[i].moment, &metres) &&
		    web_drawn(drawing, metres) >= drawing->x_least &&
		    web_drawn(drawing, metres) <= drawing->x_most) {
			events[drawing->face->event_count++].x = web_drawn(drawing, metres);
		}
	}
	drawing->face->events = events;
	drawing->face->events_name = drawing->face->event_count > 0 ? "cleaned" : NULL;
}

static struct plot_point on_line(const struct drawing *drawing, double metres)
{
	double volume = trend_at(&drawing->worn->wear.trend, length_from_mm(metres * 1000));
	return (struct plot_point){web_drawn(drawing, metres), cm3_m2_drawn(drawing, volume)};
}

static void add_band(struct drawing *drawing, double from, double until)
{
	struct arena *arena = drawing->call->arena;
	double *x = arena_take(arena, BAND_POINTS, sizeof *x);
	double *least = arena_take(arena, BAND_POINTS, sizeof *least);
	double *most = arena_take(arena, BAND_POINTS, sizeof *most);
	struct plot_band *band = arena_take(arena, 1, sizeof *band);
	for (size_t i = 0; i < BAND_POINTS; i++) {
		double metres = from + (until - from) * (double)i / (BAND_POINTS - 1);
		double low, high;
		trend_band_at(&drawing->worn->wear.trend, length_from_mm(metres * 1000), &low, &high);
		x[i] = web_drawn(drawing, metres);
		least[i] = cm3_m2_drawn(drawing, low > 0 ? low : 0);
		most[i] = cm3_m2_drawn(drawing, high > 0 ? high : 0);
	}
	*band = (struct plot_band){"where the line lies, 90 %", x, least, most, BAND_POINTS};
	drawing->face->bands = band;
	drawing->face->band_count = 1;
}

/* First and last web run at which it was read, of the readings that count for the trend or of all.
 */
struct stretch {
	double first, last;
};
static struct stretch stretch_read(const struct worn *worn, bool counted)
{
	struct stretch read = {0};
	bool any = false;
	for (size_t i = 0; i < worn->reading_count; i++) {
		const struct wear_reading *reading = &worn->readings[i];
		if (reading->run.known && (reading->counted || !counted)) {
			double metres = length_to_m(reading->run.value);
			read.first = !any || metres < read.first ? metres : read.first;
			read.last = !any || metres > read.last ? metres : read.last;
			any = true;
		}
	}
	return read;
}

/*
 * As far as there is something to see: the readings, the present, and where the limit is met; but
 * what lies very far behind the readings would press them into a corner.
 */
static double last_metres(const struct worn *worn, const struct trend_reach *reach)
{
	double read = stretch_read(worn, false).last;
	double run = worn->run.known ? length_to_m(worn->run.value) : 0;
	double line = reach->line_known ? length_to_m(reach->line) : 0;
	double most = reach->most_known ? length_to_m(reach->most) : 0;
	double met = fmax(line, most);
	double present = read > 0 ? fmax(read, fmin(run, fmax(read, met) * FAR_PART)) : run;
	double last = met > present ? met * 1.02 : present;
	return present > 0 && last > present * FAR_PART ? present * FAR_PART : last;
}

static void add_when_new(struct drawing *drawing, struct plot_series *series)
{
	const struct worn *worn = drawing->worn;
	struct plot_point *point = arena_take(drawing->call->arena, 1, sizeof *point);
	if (worn->when_new.known && drawing->x_least > 0) {
		add_note(drawing,
		         arena_format(drawing->call->arena, "when new, left of this plot: %s",
		                      volume_said(drawing->call, volume_to_cm3_m2(worn->when_new.value))));
	} else if (worn->when_new.known) {
		*point = (struct plot_point){0, volume_drawn(drawing, worn->when_new.value)};
		series[drawing->face->series_count++] =
			(struct plot_series){"when new", PLOT_CROSS, point, 1};
	}
}

/*
 * Solid where it was read: nobody knows how it wore before. Behind the last reading it is a
 * forecast, if there is one, which ends where nothing would be left.
 */
static void add_trend(struct drawing *drawing, double until)
{
	const struct trend *trend = &drawing->worn->wear.trend;
	if (trend->says == TREND_TOO_FEW) {
		return;
	}
	struct stretch read = stretch_read(drawing->worn, true);
	add_band(drawing, read.first, trend_forecasts(trend) ? until : read.last);
	add_line(drawing, trend->says == TREND_NONE ? "line, no trend shown" : "trend", PLOT_SOLID,
	         on_line(drawing, read.first), on_line(drawing, read.last));
	if (!trend_forecasts(trend)) {
		return;
	}
	double left = trend_at(trend, length_from_mm(read.last * 1000));
	double nothing = read.last - left / trend->slope * MILLION;
	double end = nothing < until ? nothing : until;
	if (end > read.last) {
		add_line(drawing, "forecast", PLOT_DOTTED, on_line(drawing, read.last),
		         on_line(drawing, end));
	}
}

/* A band that gapes runs out of the plot: all else would lie on one line. */
static void bound_band(struct plot_face *face)
{
	struct plot_face bare = *face;
	double x_least, x_most, least, most, band_least, band_most;
	bare.band_count = 0;
	plot_extent(&bare, &x_least, &x_most, &least, &most);
	plot_extent(face, &x_least, &x_most, &band_least, &band_most);
	double room = (most - least) * BAND_ROOM;
	face->up.least = fmax(band_least, fmax(least - room, 0));
	face->up.most = fmin(band_most, most + room);
}

/* From nothing run; but a trend far from there from its first reading, or nobody could read it. */
static double begin_metres(const struct worn *worn, double until)
{
	double first = stretch_read(worn, false).first;
	return worn->wear.trend.says != TREND_TOO_FEW && first * FIRST_PART > until ? first : 0;
}

static void add_not_drawn(struct drawing *drawing, double until)
{
	const struct worn *worn = drawing->worn;
	size_t count = 0;
	if (worn->run.known && length_to_m(worn->run.value) > until) {
		add_note(drawing, arena_format(drawing->call->arena, "run by now, right of this plot: %s",
		                               web_said(drawing->call, worn->run.value)));
	}
	for (size_t i = 0; i < worn->reading_count; i++) {
		count += worn->readings[i].run.known ? 0 : 1;
	}
	if (count > 0) {
		add_note(drawing, arena_format(drawing->call->arena,
		                               "not drawn: %zu reading%s whose run is not known", count,
		                               count == 1 ? "" : "s"));
	}
}

static const struct plot_face *roll_plot(struct call *call, const struct worn *worn)
{
	struct drawing drawing = drawing_begin(call, worn);
	struct plot_face *face = drawing.face;
	struct plot_series *series = arena_take(call->arena, 4, sizeof *series);
	struct trend_reach reach = {.most_known = false};
	if (worn->limit.known && trend_forecasts(&worn->wear.trend)) {
		trend_reaches(&worn->wear.trend, worn->limit.value, &reach);
	}
	double until = last_metres(worn, &reach);
	web_axis(&drawing, until);
	drawing.x_least = web_drawn(&drawing, begin_metres(worn, until));
	drawing.x_most = web_drawn(&drawing, until);
	face->series = series;
	add_readings(&drawing, series, "after cleaning", PLOT_DISC, true, true);
	add_readings(&drawing, series, "after cleaning, not in the trend", PLOT_TRIANGLE, true, false);
	add_readings(&drawing, series, "after a run", PLOT_RING, false, false);
	if (face->series_count == 0) {
		return NULL;
	}
	add_when_new(&drawing, series);
	add_trend(&drawing, until);
	if (worn->limit.known) {
		add_limit(&drawing, "limit of the shop", volume_drawn(&drawing, worn->limit.value));
	}
	bound_band(face);
	add_cleanings(&drawing);
	add_not_drawn(&drawing, until);
	face->up.name = in_inches(&drawing) ? "volume, BCM" : "volume, cm3/m2";
	return face;
}

/* ---------------------------------------------------------------- what lives by its run */

/* Web run by day, from the first run on record; the end of its life as the limit. */
static const struct plot_face *life_plot(struct call *call, const struct worn *worn)
{
	struct drawing drawing = drawing_begin(call, worn);
	if (worn->run_count == 0) {
		return NULL;
	}
	struct plot_point *points = arena_take(call->arena, worn->run_count, sizeof *points);
	struct plot_series *series = arena_take(call->arena, 1, sizeof *series);
	struct moment first = worn->runs[0].moment;
	double run = worn->run.known ? length_to_m(worn->run.value) : 0;
	for (size_t i = worn->run_count; i > 0; i--) {
		const struct web_run *of = &worn->runs[i - 1];
		double days = days_between(first, of->moment);
		points[i - 1] =
			(struct plot_point){days, in_inches(&drawing) ? run / FOOT / 1000 : run / 1000};
		run -= length_to_m(of->length);
	}
	drawing.x_most = points[worn->run_count - 1].x;
	series[0] = (struct plot_series){"web run", PLOT_DISC, points, worn->run_count};
	drawing.face->series = series;
	drawing.face->series_count = 1;
	if (worn->life_web.known) {
		double life = length_to_m(worn->life_web.value);
		add_limit(&drawing, "end of its life",
		          in_inches(&drawing) ? life / FOOT / 1000 : life / 1000);
	}
	up_from_nothing(&drawing);
	drawing.face->across.name = arena_format(call->arena, "days since %s", day_said(first).bytes);
	drawing.face->up.name = in_inches(&drawing) ? "web run, thousand ft" : "web run, thousand m";
	return drawing.face;
}

/* ---------------------------------------------------------------- a plate cylinder */

static const struct plot_face *runout_plot(struct call *call, const struct worn *worn)
{
	struct drawing drawing = drawing_begin(call, worn);
	struct plot_point *points = arena_take(call->arena, worn->gauge_count + 1, sizeof *points);
	struct plot_series *series = arena_take(call->arena, 1, sizeof *series);
	size_t count = 0;
	double scale = in_inches(&drawing) ? 1 / 25.4 * 1000 : 1000;
	for (size_t i = 0; i < worn->gauge_count; i++) {
		const struct gauge_row *gauge = &worn->gauges[i];
		if (gauge->runout.known) {
			points[count++] =
				(struct plot_point){days_between(worn->gauges[0].moment, gauge->moment),
			                        length_to_mm(gauge->runout.value) * scale};
		}
	}
	if (count == 0) {
		return NULL;
	}
	drawing.x_most = points[count - 1].x;
	series[0] = (struct plot_series){"runout gauged", PLOT_DISC, points, count};
	drawing.face->series = series;
	drawing.face->series_count = 1;
	add_limit(&drawing, "limit of the shop", length_to_mm(call->limits.runout) * scale);
	up_from_nothing(&drawing);
	drawing.face->across.name =
		arena_format(call->arena, "days since %s", day_said(worn->gauges[0].moment).bytes);
	drawing.face->up.name = in_inches(&drawing) ? "runout, thousandths of an inch" : "runout, um";
	return drawing.face;
}

const struct plot_face *wear_plot(struct call *call, const struct worn *worn)
{
	switch (worn->kind->id) {
	case KIND_ANILOX:
		return roll_plot(call, worn);
	case KIND_BLADE:
	case KIND_DIE:
		return life_plot(call, worn);
	case KIND_CYLINDER:
		return runout_plot(call, worn);
	case KIND_GEAR:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_OPERATOR:
	case KIND_PLACE:
	case KIND_PRESS:
	case KIND_JOB:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return NULL;
}

/* A cylinder has no forecast. */
const struct plot_face *wear_page(struct call *call, const struct worn *worn)
{
	const struct plot_face *plot = wear_plot(call, worn);
	if (plot == NULL) {
		return NULL;
	}
	struct plot_face *page = arena_take(call->arena, 1, sizeof *page);
	*page = *plot;
	page->subtitle = worn->kind->id == KIND_CYLINDER ? NULL : forecast_said(call, worn);
	return page;
}
