/* A week on a page into a file: as large as fits, drawn in memory, then written whole. */
#include <assert.h>

#include "board.h"

/*
 * The largest letters, with room to spare; else sizes from the largest down, the first that fits
 * one page, or as few as the least would take.
 */
static void size_choose(struct flow *flow, struct pen *pen, const struct board_face *face)
{
	size_t least = text_step(LETTERS_LEAST), most = text_step(LETTERS_MOST);
	least += text_em(least) < LETTERS_LEAST;
	flow_fill(flow, pen, face, most, true);
	if (flow->pages == 1) {
		return;
	}
	flow_fill(flow, pen, face, least, false);
	int64_t pages = flow->pages;
	if (pages > 1 && pen->form == FILE_SVG) {
		flow_fill_one(flow, pen, face, least);
		return;
	}
	for (size_t step = most; step >= least; step--) {
		flow_fill(flow, pen, face, step, false);
		if (flow->pages == pages) {
			return;
		}
	}
}

static cairo_status_t draw(const struct flow *flow, struct text *out)
{
	struct pen *pen = flow->pen;
	double width = PAGE_WIDTH_MM * POINTS_PER_MM, height = PAGE_HEIGHT_MM * POINTS_PER_MM;
	cairo_surface_t *file =
		pen->form == FILE_PDF
			? lib.cairo_pdf_surface_create_for_stream(pen_take_bytes, out, width, height)
			: lib.cairo_svg_surface_create_for_stream(pen_take_bytes, out, width, height);
	pen->cairo = lib.cairo_create(file);
	for (int64_t page = 0; page < flow->pages; page++) {
		board_draw_page(flow, page);
		lib.cairo_show_page(pen->cairo);
	}
	cairo_status_t status = lib.cairo_status(pen->cairo);
	lib.cairo_destroy(pen->cairo);
	lib.cairo_surface_finish(file);
	status = status == CAIRO_STATUS_SUCCESS ? lib.cairo_surface_status(file) : status;
	lib.cairo_surface_destroy(file);
	return status;
}

static enum outcome draw_bytes(struct pen *pen, const struct board_face *face, struct text *bytes,
                               struct board_drawn *out, struct fault *fault)
{
	struct flow flow;
	size_choose(&flow, pen, face);
	*out = (struct board_drawn){.pages = flow.pages,
	                            .boxes_left = flow.boxes_left,
	                            .notes_left = flow.notes_left};
	if (draw(&flow, bytes) != CAIRO_STATUS_SUCCESS) {
		return fault_set(fault, OUTCOME_STORE, "memory is full, the board was not drawn");
	}
	if (pen->form == FILE_SVG) {
		*bytes = svg_with_text(pen->arena, length_from_mm(PAGE_WIDTH_MM),
		                       length_from_mm(PAGE_HEIGHT_MM), bytes, &pen->svg);
	}
	return OUTCOME_DONE;
}

enum outcome print_board(struct arena *arena, const struct board_face *face, enum file_form form,
                         const char *path, struct board_drawn *out, struct fault *fault)
{
	assert(form != FILE_PNG);
	struct text bytes = text_start(arena);
	enum outcome outcome = draw_load(NULL, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct pen *pen = pen_take_up(arena, NULL, form);
	outcome = text_begin(pen, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = draw_bytes(pen, face, &bytes, out, fault);
	}
	pen_lay_down(pen);
	return outcome == OUTCOME_DONE ? print_write(arena, path, &bytes, fault) : outcome;
}
