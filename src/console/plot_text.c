/* A plot in the terminal: title, legend, frame, axes, notes. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "charset.h"
#include "columns.h"
#include "plot_canvas.h"
#include "plot_text.h"

#define WIDTH_USUAL 80
#define WIDTH_LEAST 24
#define ROWS 12 /* of the frame */
#define COLUMNS_LEAST 8
#define TICKS_MOST 11
#define TICK_ROWS 2  /* rows a tick at the least */
#define APART 2      /* columns between two labels, two entries of the legend */
#define SAMPLE 5     /* columns of a sample of a line or a band in the legend */
#define WORDS_PART 3 /* of the frame's columns, the third is the most that a label takes */

/* Signs of the frame. */
struct frame_signs {
	const char *left, *left_tick, *corner, *bottom, *bottom_tick, *event;
};

struct plot_page {
	struct arena *arena;
	const struct plot_face *face;
	struct plot_shape shape;
	struct frame_signs signs;
	struct canvas canvas;
	size_t label_width; /* of the labels at the left */
	struct plot_lines out;
	size_t room;
};

static const char *shown(const struct plot_page *page, const char *name)
{
	return charset_shown(page->arena, page->shape.charset, text_harmless(page->arena, name));
}

/* A line, without the blanks at its end. */
static void line_add(struct plot_page *page, const struct text *line)
{
	struct plot_lines *out = &page->out;
	size_t length = line->length;
	while (length > 0 && line->bytes[length - 1] == ' ') {
		length--;
	}
	if (out->count == page->room) {
		size_t room = page->room == 0 ? 32 : 2 * page->room;
		out->lines = arena_grow(page->arena, out->lines, out->count, room, sizeof *out->lines);
		page->room = room;
	}
	out->lines[out->count++] = arena_copy_bytes(page->arena, line->bytes, length);
}

static void words_add(struct plot_page *page, const char *words)
{
	struct text line = text_start(page->arena);
	text_add(&line, words);
	line_add(page, &line);
}

/* ---------------------------------------------------------------- legend */

/* A sample in front of a name; on a new line where this one is full. */
static void key_add(struct plot_page *page, struct text *line, const char *sample, const char *name)
{
	size_t width = text_columns(sample) + 1;
	const char *words = text_cut(page->arena, shown(page, name), page->shape.width - width);
	width += text_columns(words);
	if (line->length > 0 && text_columns(line->bytes) + APART + width > page->shape.width) {
		line_add(page, line);
		*line = text_start(page->arena);
	}
	if (line->length > 0) {
		text_add_blanks(line, APART);
	}
	text_add(line, sample);
	text_add(line, " ");
	text_add(line, words);
}

static struct canvas sample_start(const struct plot_page *page)
{
	struct canvas canvas = canvas_start(page->arena, page->shape.braille, SAMPLE, 1);
	canvas.x_most = 1;
	canvas.y_most = 1;
	return canvas;
}

static const char *sample_text(const struct plot_page *page, const struct canvas *canvas)
{
	struct text text = text_start(page->arena);
	canvas_row(canvas, 0, &text);
	while (text.length > 0 && text.bytes[text.length - 1] == ' ') {
		text.bytes[--text.length] = '\0';
	}
	return text.bytes;
}

static const char *line_sample(const struct plot_page *page, const struct plot_line *line)
{
	const struct plot_point points[] = {{0, 0.5}, {1, 0.5}};
	const struct plot_line level = {.stroke = line->stroke, .points = points, .count = 2};
	struct canvas canvas = sample_start(page);
	canvas_line(&canvas, &level, 1);
	return sample_text(page, &canvas);
}

static const char *band_sample(const struct plot_page *page)
{
	const double x[] = {0, 1}, least[] = {0, 0}, most[] = {1, 1};
	const struct plot_band all = {.x = x, .least = least, .most = most, .count = 2};
	struct canvas canvas = sample_start(page);
	canvas_band(page->arena, &canvas, &all);
	return sample_text(page, &canvas);
}

static void legend_add(struct plot_page *page)
{
	const struct plot_face *face = page->face;
	struct text line = text_start(page->arena);
	for (size_t i = 0; i < face->series_count; i++) {
		if (face->series[i].name != NULL) {
			key_add(page, &line, canvas_mark(page->shape.braille, face->series[i].mark),
			        face->series[i].name);
		}
	}
	for (size_t i = 0; i < face->line_count; i++) {
		if (face->lines[i].name != NULL) {
			key_add(page, &line, line_sample(page, &face->lines[i]), face->lines[i].name);
		}
	}
	for (size_t i = 0; i < face->band_count; i++) {
		if (face->bands[i].name != NULL) {
			key_add(page, &line, band_sample(page), face->bands[i].name);
		}
	}
	if (face->events_name != NULL) {
		key_add(page, &line, page->signs.event, face->events_name);
	}
	if (line.length > 0) {
		line_add(page, &line);
	}
}

/* ---------------------------------------------------------------- data */

static size_t point_count(const struct plot_face *face)
{
	size_t count = 0;
	for (size_t i = 0; i < face->series_count; i++) {
		count += face->series[i].count;
	}
	return count;
}

/* Few points stand over the lines; more than one a column would hide them and stand below. */
static void data_draw(struct plot_page *page)
{
	const struct plot_face *face = page->face;
	struct canvas *canvas = &page->canvas;
	bool over = point_count(face) <= canvas->columns;
	for (size_t i = 0; i < face->line_count; i++) {
		canvas_line(canvas, &face->lines[i], i + 1);
	}
	for (size_t i = 0; i < face->band_count; i++) {
		canvas_band(page->arena, canvas, &face->bands[i]);
	}
	for (size_t i = 0; i < face->series_count; i++) {
		for (size_t j = 0; j < face->series[i].count; j++) {
			canvas_point(canvas, face->series[i].mark, &face->series[i].points[j], over);
		}
	}
	for (size_t i = 0; i < face->line_count; i++) {
		const char *name = face->lines[i].name != NULL ? shown(page, face->lines[i].name) : "";
		size_t length = strlen(name);
		if (length > 0 && text_columns(name) == length && length <= canvas->columns / WORDS_PART) {
			canvas_label(page->arena, canvas, &face->lines[i], i + 1, name);
		}
	}
}

/* ---------------------------------------------------------------- axes */

struct ticks {
	double values[TICKS_MOST];
	const char *texts[TICKS_MOST];
	size_t count;
};

static struct ticks ticks_of(const struct plot_page *page, double least, double most, size_t room)
{
	struct ticks ticks = {0};
	int digits = 0;
	double largest = fmax(fabs(least), fabs(most));
	ticks.count =
		plot_ticks(least, most, ticks.values, room > TICKS_MOST ? TICKS_MOST : room, &digits);
	for (size_t i = 0; i < ticks.count; i++) {
		ticks.texts[i] = plot_tick_text(page->arena, ticks.values[i], largest, digits);
	}
	return ticks;
}

static struct ticks ticks_up(const struct plot_page *page)
{
	return ticks_of(page, page->canvas.y_least, page->canvas.y_most, ROWS / TICK_ROWS);
}

static size_t row_of(const struct plot_page *page, double value)
{
	return (size_t)llround(canvas_y(&page->canvas, value)) / (page->shape.braille ? 4 : 1);
}

static size_t column_of(const struct plot_page *page, double value)
{
	return (size_t)llround(canvas_x(&page->canvas, value)) / (page->shape.braille ? 2 : 1);
}

static void rows_add(struct plot_page *page)
{
	struct ticks ticks = ticks_up(page);
	for (size_t row = 0; row < ROWS; row++) {
		struct text line = text_start(page->arena);
		const char *label = NULL;
		for (size_t i = 0; i < ticks.count; i++) {
			label = row_of(page, ticks.values[i]) == row ? ticks.texts[i] : label;
		}
		text_add_blanks(&line, page->label_width - (label != NULL ? strlen(label) : 0));
		text_add(&line, label != NULL ? label : "");
		text_add(&line, label != NULL ? page->signs.left_tick : page->signs.left);
		canvas_row(&page->canvas, row, &line);
		line_add(page, &line);
	}
}

/* Where a label across begins: its middle below its tick, but on the line. */
static size_t label_column(const struct plot_page *page, const struct ticks *ticks, size_t i)
{
	size_t length = strlen(ticks->texts[i]);
	size_t middle = page->label_width + 1 + column_of(page, ticks->values[i]);
	size_t begin = middle > length / 2 ? middle - length / 2 : 0;
	return begin + length > page->shape.width ? page->shape.width - length : begin;
}

static bool labels_are_apart(const struct plot_page *page, const struct ticks *ticks)
{
	for (size_t i = 1; i < ticks->count; i++) {
		size_t before = label_column(page, ticks, i - 1) + strlen(ticks->texts[i - 1]);
		if (label_column(page, ticks, i) < before + APART) {
			return false;
		}
	}
	return true;
}

static struct ticks ticks_across(const struct plot_page *page)
{
	struct ticks ticks = {0};
	for (size_t room = TICKS_MOST; room >= 2; room--) {
		ticks = ticks_of(page, page->canvas.x_least, page->canvas.x_most, room);
		if (labels_are_apart(page, &ticks)) {
			return ticks;
		}
	}
	ticks.count = 1; /* two of them would run into each other */
	return ticks;
}

/* The line below: a tick where a label is, and upon it what happened. */
static void bottom_add(struct plot_page *page, const struct ticks *ticks)
{
	const struct plot_face *face = page->face;
	size_t columns = page->canvas.columns;
	const char **signs = arena_take(page->arena, columns, sizeof *signs);
	struct text line = text_start(page->arena);
	for (size_t i = 0; i < columns; i++) {
		signs[i] = page->signs.bottom;
	}
	for (size_t i = 0; i < ticks->count; i++) {
		signs[column_of(page, ticks->values[i])] = page->signs.bottom_tick;
	}
	for (size_t i = 0; face->events_name != NULL && i < face->event_count; i++) {
		double x = face->events[i].x;
		if (canvas_spot(&page->canvas, x, page->canvas.y_least) != NULL) {
			signs[column_of(page, x)] = page->signs.event;
		}
	}
	text_add_blanks(&line, page->label_width);
	text_add(&line, page->signs.corner);
	for (size_t i = 0; i < columns; i++) {
		text_add(&line, signs[i]);
	}
	line_add(page, &line);
}

/* In the middle below the frame; over some lines where it is wider, for its unit stands last. */
static void name_add(struct plot_page *page, const char *name)
{
	size_t columns = page->canvas.columns;
	for (const char *rest = name; *rest != '\0';) {
		const char *begin = rest;
		size_t length = text_fit(begin, columns, &rest);
		const char *part = arena_copy_bytes(page->arena, begin, length);
		struct text line = text_start(page->arena);
		text_add_blanks(&line, page->label_width + 1 + (columns - text_columns(part)) / 2);
		text_add(&line, part);
		line_add(page, &line);
	}
}

static void across_add(struct plot_page *page)
{
	struct ticks ticks = ticks_across(page);
	struct text line = text_start(page->arena);
	bottom_add(page, &ticks);
	for (size_t i = 0; i < ticks.count; i++) {
		text_add_blanks(&line, label_column(page, &ticks, i) - line.length);
		text_add(&line, ticks.texts[i]);
	}
	line_add(page, &line);
	if (page->face->across.name != NULL) {
		name_add(page, shown(page, page->face->across.name));
	}
}

/* ---------------------------------------------------------------- all of it */

static void canvas_make(struct plot_page *page)
{
	struct canvas extents = {0};
	plot_extent(page->face, &extents.x_least, &extents.x_most, &extents.y_least, &extents.y_most);
	page->canvas = extents;
	struct ticks ticks = ticks_up(page);
	for (size_t i = 0; i < ticks.count; i++) {
		size_t length = strlen(ticks.texts[i]);
		page->label_width = length > page->label_width ? length : page->label_width;
	}
	size_t most = page->shape.width - 1 - COLUMNS_LEAST;
	page->label_width = page->label_width > most ? most : page->label_width;
	page->canvas = canvas_start(page->arena, page->shape.braille,
	                            page->shape.width - 1 - page->label_width, ROWS);
	page->canvas.x_least = extents.x_least;
	page->canvas.x_most = extents.x_most;
	page->canvas.y_least = extents.y_least;
	page->canvas.y_most = extents.y_most;
}

static void wrapped_add(struct plot_page *page, const char *text)
{
	const char *rest = shown(page, text);
	while (*rest != '\0') {
		const char *line = rest;
		size_t length = text_fit(line, page->shape.width, &rest);
		words_add(page, arena_copy_bytes(page->arena, line, length));
	}
}

struct plot_lines plot_text(struct arena *arena, const struct plot_face *face,
                            const struct plot_shape *shape)
{
	static const struct frame_signs drawn = {.left = "\u2502",
	                                         .left_tick = "\u2524",
	                                         .corner = "\u2514",
	                                         .bottom = "\u2500",
	                                         .bottom_tick = "\u252c",
	                                         .event = "\u25b2"};
	static const struct frame_signs ascii = {.left = "|",
	                                         .left_tick = "+",
	                                         .corner = "+",
	                                         .bottom = "-",
	                                         .bottom_tick = "+",
	                                         .event = "A"};
	struct plot_page page = {.arena = arena,
	                         .face = face,
	                         .shape = *shape,
	                         .signs = shape->braille ? drawn : ascii};
	page.shape.width = shape->width < WIDTH_LEAST ? WIDTH_LEAST : shape->width;
	canvas_make(&page);
	data_draw(&page);
	if (face->title != NULL) {
		words_add(&page, text_cut(arena, shown(&page, face->title), page.shape.width));
	}
	if (face->subtitle != NULL) {
		wrapped_add(&page, face->subtitle);
	}
	legend_add(&page);
	if (face->up.name != NULL) {
		wrapped_add(&page, face->up.name);
	}
	rows_add(&page);
	across_add(&page);
	for (size_t i = 0; i < face->note_count; i++) {
		wrapped_add(&page, face->notes[i]);
	}
	return page.out;
}

void plot_say(struct call *call, const struct plot_face *face)
{
	size_t width = call->answer->width;
	const struct plot_shape shape = {
		.width = width > 0 ? width : WIDTH_USUAL,
		.braille = charset_local() == NULL,
		.charset = call->answer->charset,
	};
	struct plot_lines lines = plot_text(call->arena, face, &shape);
	for (size_t i = 0; i < lines.count; i++) {
		answer_line(call->answer, MARK_PLAIN, "%s", lines.lines[i]);
	}
}
