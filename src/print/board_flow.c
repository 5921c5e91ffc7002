/* Where all stands on a board: bands from the top down, cut into pages. */
#include <string.h>

#include "board.h"

static double page_width(void)
{
	return sheet_across.width_mm * POINTS_PER_MM;
}

static double body_bottom(void)
{
	return sheet_across.height_mm * POINTS_PER_MM - MARGIN - FOOT_HEIGHT;
}

double flow_column_x(const struct flow *flow, size_t column)
{
	return MARGIN + LABEL_WIDTH + flow->column * (double)column;
}

static struct band *band_add(struct flow *flow, enum band_sort sort, size_t line, double height)
{
	if (flow->count == flow->room) {
		size_t room = flow->room == 0 ? 64 : 2 * flow->room;
		flow->bands =
			arena_grow(flow->pen->arena, flow->bands, flow->count, room, sizeof *flow->bands);
		flow->room = room;
	}
	struct band *band = &flow->bands[flow->count++];
	*band = (struct band){.sort = sort, .line = line, .height = height};
	return band;
}

/* ---------------------------------------------------------------- boxes */

struct room flow_box_room(const struct flow *flow, const struct board_box *box, size_t column)
{
	double x = flow_column_x(flow, column);
	return (struct room){
		.left = x + BOX_PAD + (box->before ? BOX_POINT : BOX_GAP),
		.right = x + flow->column - BOX_PAD - (box->after ? BOX_POINT : BOX_GAP),
	};
}

/* The mark takes an em, and half of one stands before the number and before the time. */
bool flow_box_is_tall(const struct flow *flow, const struct board_box *box)
{
	struct room room = flow_box_room(flow, box, 0);
	double number = text_set(flow->pen, flow->number_step, box->number, page_width()).width;
	double time = text_set(flow->pen, flow->step, box->time, page_width()).width;
	return flow->roomy || 2 * flow->em + number + time > room.right - room.left;
}

/* All of it where there is one line; what is too long is cut there. */
size_t flow_title_length(const struct flow *flow, const struct board_box *box)
{
	struct room room = flow_box_room(flow, box, 0);
	return flow->roomy ? flow_line_length(flow, box->title, room.right - room.left)
	                   : strlen(box->title);
}

static size_t title_lines(const struct flow *flow, const struct board_box *box)
{
	if (box->title == NULL) {
		return 0;
	}
	return box->title[flow_title_length(flow, box)] != '\0' ? 2 : 1;
}

double flow_box_height(const struct flow *flow, const struct board_box *box)
{
	size_t lines = 2 + title_lines(flow, box) + flow_box_is_tall(flow, box);
	return (double)lines * flow->line + 2 * BOX_PAD;
}

const struct board_box *flow_box(const struct flow *flow, const struct band *band, size_t column)
{
	const struct board_line *line = &flow->face->lines[band->line];
	size_t index = line->across ? band->level * BOARD_COLUMNS + column : band->level;
	const struct board_stack *stack = &line->columns[line->across ? 0 : column];
	return index < stack->count ? &stack->boxes[index] : NULL;
}

/* Boxes one below the other where they are most. */
static size_t levels_of(const struct board_line *line)
{
	size_t levels = 0;
	if (line->across) {
		return (line->columns[0].count + BOARD_COLUMNS - 1) / BOARD_COLUMNS;
	}
	for (size_t i = 0; i < BOARD_COLUMNS; i++) {
		levels = line->columns[i].count > levels ? line->columns[i].count : levels;
	}
	return levels;
}

static void more_add(struct flow *flow, size_t index, size_t shown)
{
	const struct board_line *line = &flow->face->lines[index];
	struct band *band = band_add(flow, BAND_MORE, index, flow->line + BOX_GAP);
	for (size_t i = 0; i < BOARD_COLUMNS; i++) {
		size_t room = line->across && i == 0 ? shown * BOARD_COLUMNS : shown;
		size_t count = line->columns[i].count;
		band->more[i] = count > room ? count - room : 0;
		flow->boxes_left += band->more[i];
	}
	band->first = shown == 0;
}

static void line_fill(struct flow *flow, size_t index)
{
	const struct board_line *line = &flow->face->lines[index];
	size_t levels = levels_of(line);
	size_t shown = levels < flow->columns_shown ? levels : flow->columns_shown;
	double label = (line->note != NULL ? 2 : 1) * flow->line * 1.2 + 2 * BOX_GAP;
	for (size_t i = 0; i < shown || (i == 0 && levels == 0); i++) {
		struct band *band = band_add(flow, BAND_BOXES, index, i == 0 ? label : 0);
		band->level = i;
		band->first = i == 0;
		for (size_t j = 0; j < BOARD_COLUMNS; j++) {
			const struct board_box *box = flow_box(flow, band, j);
			double height = box != NULL ? flow_box_height(flow, box) + 2 * BOX_GAP : 0;
			band->height = height > band->height ? height : band->height;
		}
	}
	if (shown < levels) {
		more_add(flow, index, shown);
	}
}

/* ---------------------------------------------------------------- notes */

size_t flow_line_length(const struct flow *flow, const char *text, double width)
{
	return page_line_length(flow->pen, flow->step, text, width);
}

static void note_fill(struct flow *flow, const char *note)
{
	double width = page_width() - 2 * MARGIN;
	const char *rest = note;
	do {
		size_t length = flow_line_length(flow, rest, width - 2 * flow->em);
		struct band *band = band_add(flow, BAND_NOTE, 0, flow->line);
		band->text =
			arena_format(flow->pen->arena, "%s%.*s", rest == note ? "" : "    ", (int)length, rest);
		rest += length;
		rest += strspn(rest, " ");
	} while (*rest != '\0');
}

static void notes_fill(struct flow *flow)
{
	if (flow->face->note_count > 0) {
		band_add(flow, BAND_NOTES_TITLE, 0, 2 * flow->line);
	}
	for (size_t i = 0; i < flow->face->note_count; i++) {
		note_fill(flow, flow->face->notes[i]);
	}
}

/* ---------------------------------------------------------------- pages */

static void start(struct flow *flow, struct pen *pen, const struct board_face *face, size_t step)
{
	*flow = (struct flow){.pen = pen, .face = face, .step = step, .columns_shown = SIZE_MAX};
	flow->number_step = step + 2;
	flow->em = text_em(step);
	flow->line = flow->em * LINE_TO_LINE;
	flow->column = (page_width() - 2 * MARGIN - LABEL_WIDTH) / BOARD_COLUMNS;
}

/* A line that goes on on a new page tells its name again. */
static void paginate(struct flow *flow)
{
	double y = MARGIN + HEAD_HEIGHT;
	flow->pages = 1;
	for (size_t i = 0; i < flow->count; i++) {
		struct band *band = &flow->bands[i];
		bool title = band->sort == BAND_NOTES_TITLE && i + 1 < flow->count;
		double needs = band->height + (title ? flow->bands[i + 1].height : 0);
		if (y + needs > body_bottom() && y > MARGIN + HEAD_HEIGHT) {
			flow->pages++;
			y = MARGIN + HEAD_HEIGHT;
			bool of_line = band->sort == BAND_BOXES || band->sort == BAND_MORE;
			band->continued = of_line && !band->first;
			band->first = band->first || of_line;
		}
		band->page = flow->pages - 1;
		band->y = y;
		y += band->height;
	}
}

void flow_fill(struct flow *flow, struct pen *pen, const struct board_face *face, size_t step,
               bool roomy)
{
	start(flow, pen, face, step);
	flow->roomy = roomy;
	for (size_t i = 0; i < face->line_count; i++) {
		line_fill(flow, i);
	}
	notes_fill(flow);
	paginate(flow);
}

/* ---------------------------------------------------------------- one page alone */

static double height_of(const struct flow *flow)
{
	double height = 0;
	for (size_t i = 0; i < flow->count; i++) {
		height += flow->bands[i].height;
	}
	return height;
}

/* What stands of it below the lines: all notes, or so many lines of them and how many are left. */
static void notes_fill_within(struct flow *flow, double height)
{
	size_t before = flow->count;
	double used = height_of(flow);
	size_t told = 0;
	if (flow->face->note_count == 0) {
		return;
	}
	band_add(flow, BAND_NOTES_TITLE, 0, 2 * flow->line);
	while (told < flow->face->note_count) {
		size_t here = flow->count;
		bool last = told + 1 == flow->face->note_count;
		note_fill(flow, flow->face->notes[told]);
		if (height_of(flow) + (last ? 0 : flow->line) > height) {
			flow->count = here;
			break;
		}
		told++;
	}
	flow->notes_left = flow->face->note_count - told;
	if (flow->notes_left > 0) {
		struct band *band = band_add(flow, BAND_NOTES_MORE, 0, flow->line);
		band->text = arena_format(flow->pen->arena, "and %zu more", flow->notes_left);
	}
	if (used + 3 * flow->line > height) { /* not even that: they are counted alone */
		flow->count = before;
	}
}

/* The last lines, of which not even the name finds room. */
static void lines_leave(struct flow *flow, double height)
{
	while (flow->count > 0 && height_of(flow) > height) {
		const struct band *band = &flow->bands[--flow->count];
		for (size_t i = 0; band->sort == BAND_BOXES && i < BOARD_COLUMNS; i++) {
			flow->boxes_left += flow_box(flow, band, i) != NULL;
		}
	}
}

void flow_fill_one(struct flow *flow, struct pen *pen, const struct board_face *face, size_t step)
{
	/* A hair less: sums of heights are rounded. */
	double height = body_bottom() - MARGIN - HEAD_HEIGHT - 0.01;
	size_t shown = 0;
	for (size_t i = 0; i < face->line_count; i++) {
		size_t levels = levels_of(&face->lines[i]);
		shown = levels > shown ? levels : shown;
	}
	for (;; shown--) {
		start(flow, pen, face, step);
		flow->columns_shown = shown;
		for (size_t i = 0; i < face->line_count; i++) {
			line_fill(flow, i);
		}
		double notes = face->note_count > 0 ? 3 * flow->line : 0;
		if (shown == 0 || height_of(flow) + notes <= height) {
			break;
		}
	}
	lines_leave(flow, height);
	notes_fill_within(flow, height);
	paginate(flow);
}
