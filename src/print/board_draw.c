/* A page of a board, in black on white: what a mark or a border says does not hang on colour. */
#include <string.h>

#include "board.h"

#define GREY_CLOSED 0.88
#define RULE 0.5
#define RULE_STRONG 1.0
#define BORDER 0.6
#define BORDER_SHORT 1.8

#define TITLE_EM 17.
#define SUM_EM 10.
#define COLUMN_EM 9.
#define SMALL_EM 8.

static double page_width(void)
{
	return sheet_across.width_mm * POINTS_PER_MM;
}

static double page_height(void)
{
	return sheet_across.height_mm * POINTS_PER_MM;
}

static double column_end(const struct flow *flow)
{
	return flow_column_x(flow, BOARD_COLUMNS);
}

/* ---------------------------------------------------------------- boxes */

/* What goes on has a point to the right, and a notch for that of the day before. */
static void draw_border(const struct flow *flow, const struct board_box *box, size_t column,
                        double y, double height)
{
	cairo_t *cairo = flow->pen->cairo;
	static const double dashes[] = {2.5, 2};
	bool lacks = box->mark == BOARD_CROSS;
	bool unknown = box->mark == BOARD_RING;
	double x = flow_column_x(flow, column);
	double left = x + (box->before ? 0 : BOX_GAP);
	double right = x + flow->column - (box->after ? BOX_POINT - BOX_GAP : BOX_GAP);
	lib.cairo_new_path(cairo);
	lib.cairo_move_to(cairo, left, y);
	lib.cairo_line_to(cairo, right, y);
	if (box->after) {
		lib.cairo_line_to(cairo, right + BOX_POINT - BOX_GAP, y + height / 2);
	}
	lib.cairo_line_to(cairo, right, y + height);
	lib.cairo_line_to(cairo, left, y + height);
	if (box->before) {
		lib.cairo_line_to(cairo, left + BOX_POINT - BOX_GAP, y + height / 2);
	}
	lib.cairo_close_path(cairo);
	lib.cairo_set_source_rgb(cairo, 1, 1, 1);
	lib.cairo_fill_preserve(cairo);
	lib.cairo_set_source_rgb(cairo, 0, 0, 0);
	lib.cairo_set_line_width(cairo, lacks ? BORDER_SHORT : BORDER);
	lib.cairo_set_dash(cairo, dashes, unknown ? 2 : 0, 0);
	lib.cairo_stroke(cairo);
	lib.cairo_set_dash(cairo, dashes, 0, 0);
}

/* What of a title has a line of its own; the next begins behind its blanks. */
static double draw_title(const struct flow *flow, const struct board_box *box, double x,
                         double baseline, double width)
{
	size_t length = flow_title_length(flow, box);
	const char *rest = box->title + length + strspn(box->title + length, " ");
	page_put(flow->pen, flow->step, arena_copy_bytes(flow->pen->arena, box->title, length), x,
	         baseline, width);
	if (*rest != '\0') {
		baseline += flow->line;
		page_put(flow->pen, flow->step, rest, x, baseline, width);
	}
	return baseline + flow->line;
}

static void draw_box(const struct flow *flow, const struct board_box *box, size_t column, double y)
{
	struct room room = flow_box_room(flow, box, column);
	double width = room.right - room.left, number_x = room.left + 1.5 * flow->em;
	double baseline = y + BOX_PAD + flow->em * 0.95;
	draw_border(flow, box, column, y, flow_box_height(flow, box));
	page_mark(flow->pen, box->mark, room.left + flow->em / 2, baseline - flow->em * 0.36, flow->em);
	page_put(flow->pen, flow->number_step, box->number, number_x, baseline, room.right - number_x);
	if (flow_box_is_tall(flow, box)) {
		baseline += flow->line;
		page_put(flow->pen, flow->step, box->time, room.left, baseline, width);
	} else {
		page_put_right(flow->pen, flow->step, box->time, room.right, baseline, width);
	}
	baseline += flow->line;
	if (box->title != NULL) {
		baseline = draw_title(flow, box, room.left, baseline, width);
	}
	page_put(flow->pen, flow->step, box->verdict, room.left, baseline, width);
}

/* ---------------------------------------------------------------- bands */

static void draw_closed(const struct flow *flow, const struct band *band)
{
	cairo_t *cairo = flow->pen->cairo;
	lib.cairo_set_source_rgb(cairo, GREY_CLOSED, GREY_CLOSED, GREY_CLOSED);
	for (size_t i = 0; i < BOARD_COLUMNS; i++) {
		if (flow->face->columns[i].closed) {
			lib.cairo_rectangle(cairo, flow_column_x(flow, i), band->y, flow->column, band->height);
			lib.cairo_fill(cairo);
		}
	}
	lib.cairo_set_source_rgb(cairo, 0, 0, 0);
}

/* A note takes as many lines as find room beside the boxes. */
static void draw_label(const struct flow *flow, const struct band *band)
{
	const struct board_line *line = &flow->face->lines[band->line];
	double baseline = band->y + BOX_GAP + flow->em * 1.2;
	double width = LABEL_WIDTH - BOX_GAP;
	const char *rest = band->continued ? "continued" : line->note != NULL ? line->note : "";
	page_put(flow->pen, flow->step + 4, line->name, MARGIN, baseline, width);
	while (*rest != '\0') {
		size_t length = flow_line_length(flow, rest, width);
		const char *next = rest + length + strspn(rest + length, " ");
		baseline += flow->line;
		bool last = baseline + flow->line > band->y + band->height;
		page_put(flow->pen, flow->step,
		         last ? rest : arena_copy_bytes(flow->pen->arena, rest, length), MARGIN, baseline,
		         width);
		rest = last ? "" : next;
	}
}

static void draw_columns(const struct flow *flow, const struct band *band)
{
	bool across = flow->face->lines[band->line].across;
	if (!across) {
		draw_closed(flow, band);
	}
	if (band->first) {
		page_rule(flow->pen, MARGIN, band->y, column_end(flow), band->y, RULE_STRONG);
		draw_label(flow, band);
	}
	for (size_t i = 0; i <= BOARD_COLUMNS; i++) {
		double x = flow_column_x(flow, i);
		if (!across || i == 0 || i == BOARD_COLUMNS) {
			page_rule(flow->pen, x, band->y, x, band->y + band->height, RULE);
		}
	}
}

static void draw_band(const struct flow *flow, const struct band *band)
{
	double baseline = band->y + flow->em;
	double width = page_width() - 2 * MARGIN;
	switch (band->sort) {
	case BAND_BOXES:
		draw_columns(flow, band);
		for (size_t i = 0; i < BOARD_COLUMNS; i++) {
			const struct board_box *box = flow_box(flow, band, i);
			if (box != NULL) {
				draw_box(flow, box, i, band->y + BOX_GAP);
			}
		}
		return;
	case BAND_MORE:
		draw_columns(flow, band);
		for (size_t i = 0; i < BOARD_COLUMNS; i++) {
			if (band->more[i] > 0) {
				const char *text = arena_format(flow->pen->arena, "and %zu more", band->more[i]);
				page_put(flow->pen, flow->step, text, flow_column_x(flow, i) + BOX_PAD, baseline,
				         flow->column - BOX_PAD);
			}
		}
		return;
	case BAND_NOTES_TITLE:
		page_put(flow->pen, flow->step + 2, flow->face->notes_title, MARGIN,
		         baseline + flow->line * 0.8, width);
		return;
	case BAND_NOTE:
	case BAND_NOTES_MORE:
		page_put(flow->pen, flow->step, band->text, MARGIN, baseline, width);
	}
}

/* ---------------------------------------------------------------- around them */

static void draw_head(const struct flow *flow)
{
	const struct board_face *face = flow->face;
	double baseline = MARGIN + TITLE_EM * 0.9;
	double right = column_end(flow);
	size_t column_step = text_step(COLUMN_EM), small = text_step(SMALL_EM);
	struct set_line printed = text_set(flow->pen, small, face->printed, right / 3);
	double x = MARGIN + 2 * SUM_EM;
	double names = MARGIN + HEAD_HEIGHT - 1.2 * SMALL_EM - 4;
	x += page_put(flow->pen, text_step(TITLE_EM), face->title, MARGIN, baseline, right / 2);
	text_put(flow->pen, &printed, right - printed.width, baseline);
	page_put(flow->pen, text_step(SUM_EM), face->sum, x, baseline,
	         right - printed.width - SUM_EM - x);
	for (size_t i = 0; i < BOARD_COLUMNS; i++) {
		double left = flow_column_x(flow, i) + BOX_PAD;
		page_put(flow->pen, column_step, face->columns[i].name, left, names,
		         flow->column - BOX_PAD);
		if (face->columns[i].closed) {
			page_put(flow->pen, small, "closed", left, names + SMALL_EM * 1.2,
			         flow->column - BOX_PAD);
		}
	}
}

static void draw_foot(const struct flow *flow, int64_t page)
{
	double baseline = page_height() - MARGIN, x = MARGIN;
	size_t step = text_step(SMALL_EM);
	const char *number = arena_format(flow->pen->arena, "page %lld of %lld", (long long)page + 1,
	                                  (long long)flow->pages);
	double each = (column_end(flow) - MARGIN - 8 * SMALL_EM) / BOARD_MARK_COUNT - 3.5 * SMALL_EM;
	for (int i = 0; i < BOARD_MARK_COUNT; i++) {
		page_mark(flow->pen, (enum board_mark)i, x + SMALL_EM / 2, baseline - SMALL_EM * 0.36,
		          SMALL_EM);
		x += 1.5 * SMALL_EM;
		x += page_put(flow->pen, step, flow->face->legend[i], x, baseline, each) + 2 * SMALL_EM;
	}
	page_put_right(flow->pen, step, number, column_end(flow), baseline, 8 * SMALL_EM);
}

/* A line below what stands last of the columns. */
static void draw_end(const struct flow *flow, int64_t page)
{
	double y = MARGIN + HEAD_HEIGHT;
	for (size_t i = 0; i < flow->count; i++) {
		const struct band *band = &flow->bands[i];
		bool of_line = band->sort == BAND_BOXES || band->sort == BAND_MORE;
		if (band->page == page && of_line) {
			y = band->y + band->height;
		}
	}
	page_rule(flow->pen, MARGIN, y, column_end(flow), y, RULE_STRONG);
}

void board_draw_page(const struct flow *flow, int64_t page)
{
	draw_head(flow);
	for (size_t i = 0; i < flow->count; i++) {
		if (flow->bands[i].page == page) {
			draw_band(flow, &flow->bands[i]);
		}
	}
	draw_end(flow, page);
	draw_foot(flow, page);
}
