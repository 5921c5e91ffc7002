/* Pages of lines, marks and words: into PDF, SVG or PNG, and what stands on them. */
#include <math.h>
#include <string.h>

#include "page.h"

/* Three dots a point: lines and modules stand on whole dots, and letters of 8 points are read. */
#define PNG_DOTS_PER_POINT 3

const struct sheet sheet_across = {297, 210};
const struct sheet sheet_upright = {210, 297};

/* ---------------------------------------------------------------- files */

static cairo_surface_t *surface_make(enum file_form form, double width, double height,
                                     struct text *out)
{
	switch (form) {
	case FILE_PDF:
		return lib.cairo_pdf_surface_create_for_stream(pen_take_bytes, out, width, height);
	case FILE_SVG:
		return lib.cairo_svg_surface_create_for_stream(pen_take_bytes, out, width, height);
	case FILE_PNG:
		break;
	}
	return lib.cairo_image_surface_create(CAIRO_FORMAT_RGB24,
	                                      (int)lround(width * PNG_DOTS_PER_POINT),
	                                      (int)lround(height * PNG_DOTS_PER_POINT));
}

static cairo_status_t draw_pages(struct pen *pen, const struct sheet *sheet, int64_t pages,
                                 page_drawing draw, void *context, struct text *out)
{
	double width = sheet->width_mm * POINTS_PER_MM, height = sheet->height_mm * POINTS_PER_MM;
	bool picture = pen->form == FILE_PNG;
	cairo_surface_t *file = surface_make(pen->form, width, height, out);
	pen->cairo = lib.cairo_create(file);
	if (picture) {
		lib.cairo_scale(pen->cairo, PNG_DOTS_PER_POINT, PNG_DOTS_PER_POINT);
	}
	for (int64_t page = 0; page < pages; page++) {
		page_begin(pen);
		draw(pen, page, context);
		text_show(pen);
		lib.cairo_show_page(pen->cairo);
	}
	cairo_status_t status = lib.cairo_status(pen->cairo);
	lib.cairo_destroy(pen->cairo);
	if (picture && status == CAIRO_STATUS_SUCCESS) {
		status = lib.cairo_surface_write_to_png_stream(file, pen_take_bytes, out);
	}
	lib.cairo_surface_finish(file);
	status = status == CAIRO_STATUS_SUCCESS ? lib.cairo_surface_status(file) : status;
	lib.cairo_surface_destroy(file);
	return status;
}

enum outcome page_bytes(struct pen *pen, const struct sheet *sheet, int64_t pages,
                        page_drawing draw, void *context, const char *what, struct text *out,
                        struct fault *fault)
{
	struct text bytes = text_start(pen->arena);
	if (draw_pages(pen, sheet, pages, draw, context, &bytes) != CAIRO_STATUS_SUCCESS) {
		return fault_set(fault, OUTCOME_STORE, "memory is full, the %s was not drawn", what);
	}
	switch (pen->form) {
	case FILE_SVG:
		*out = svg_with_text(pen->arena, length_from_mm(sheet->width_mm),
		                     length_from_mm(sheet->height_mm), &bytes, &pen->svg);
		break;
	case FILE_PNG:
		*out = png_with_resolution(pen->arena, INT64_C(72) * PNG_DOTS_PER_POINT, &bytes);
		break;
	case FILE_PDF:
		*out = bytes;
	}
	return OUTCOME_DONE;
}

enum outcome page_print(struct arena *arena, const struct sheet *sheet, enum file_form form,
                        const char *path, page_drawing draw, void *context, const char *what,
                        struct fault *fault)
{
	struct text bytes;
	enum outcome outcome = draw_load(NULL, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct pen *pen = pen_take_up(arena, NULL, form);
	outcome = text_begin(pen, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = page_bytes(pen, sheet, 1, draw, context, what, &bytes, fault);
	}
	pen_lay_down(pen);
	return outcome == OUTCOME_DONE ? print_write(arena, path, &bytes, fault) : outcome;
}

void page_begin(struct pen *pen)
{
	lib.cairo_set_source_rgb(pen->cairo, 1, 1, 1);
	if (pen->form != FILE_PDF) {
		lib.cairo_paint(pen->cairo);
	}
	lib.cairo_set_source_rgb(pen->cairo, 0, 0, 0);
}

/* ---------------------------------------------------------------- words */

double page_put(struct pen *pen, size_t step, const char *text, double x, double baseline,
                double width)
{
	struct set_line set = text_set(pen, step, text, width);
	text_put(pen, &set, x, baseline);
	return set.width;
}

void page_put_right(struct pen *pen, size_t step, const char *text, double right, double baseline,
                    double width)
{
	struct set_line set = text_set(pen, step, text, width);
	text_put(pen, &set, right - set.width, baseline);
}

double page_text_width(struct pen *pen, size_t step, const char *text)
{
	return text_set(pen, step, text, HUGE_VAL).width;
}

size_t page_line_length(struct pen *pen, size_t step, const char *text, double width)
{
	size_t fits = 0;
	for (const char *at = text; *at != '\0';) {
		const char *end = at + strspn(at, " ");
		end += strcspn(end, " ");
		char *part = arena_copy_bytes(pen->arena, text, (size_t)(end - text));
		if (text_set(pen, step, part, width).cut) {
			return fits > 0 ? fits : (size_t)(end - text);
		}
		fits = (size_t)(end - text);
		at = end;
	}
	return fits;
}

struct page_lines page_wrap(struct pen *pen, size_t step, const char *text, double width,
                            size_t most)
{
	struct page_lines out = {0};
	size_t room = 4;
	out.lines = arena_take(pen->arena, room, sizeof *out.lines);
	while (out.count < most && (*text != '\0' || out.count == 0)) {
		size_t length = page_line_length(pen, step, text, width);
		bool last = out.count + 1 == most;
		if (out.count == room) {
			out.lines = arena_grow(pen->arena, out.lines, room, 2 * room, sizeof *out.lines);
			room *= 2;
		}
		out.lines[out.count++] = last ? text : arena_copy_bytes(pen->arena, text, length);
		text += length + strspn(text + length, " ");
	}
	return out;
}

/* ---------------------------------------------------------------- lines and marks */

void page_rule(struct pen *pen, double x, double y, double to_x, double to_y, double width)
{
	lib.cairo_new_path(pen->cairo);
	lib.cairo_set_line_width(pen->cairo, width);
	lib.cairo_move_to(pen->cairo, x, y);
	lib.cairo_line_to(pen->cairo, to_x, to_y);
	lib.cairo_stroke(pen->cairo);
}

static void ring(cairo_t *cairo, double x, double y, double radius)
{
	lib.cairo_arc(cairo, x, y, radius, 0, 2 * PI);
	lib.cairo_close_path(cairo);
}

/* Strokes what stands, on white: a line that runs through it does not make it look filled. */
static void hollow(cairo_t *cairo)
{
	lib.cairo_set_source_rgb(cairo, 1, 1, 1);
	lib.cairo_fill_preserve(cairo);
	lib.cairo_set_source_rgb(cairo, 0, 0, 0);
	lib.cairo_stroke(cairo);
}

void page_mark(struct pen *pen, enum board_mark mark, double x, double y, double em)
{
	cairo_t *cairo = pen->cairo;
	double half = em * 0.36;
	lib.cairo_new_path(cairo);
	lib.cairo_set_line_width(cairo, em * 0.16);
	switch (mark) {
	case BOARD_DISC:
		ring(cairo, x, y, half);
		lib.cairo_fill(cairo);
		return;
	case BOARD_TRIANGLE:
		lib.cairo_move_to(cairo, x, y - half);
		lib.cairo_line_to(cairo, x + half * 1.1, y + half);
		lib.cairo_line_to(cairo, x - half * 1.1, y + half);
		lib.cairo_close_path(cairo);
		hollow(cairo);
		return;
	case BOARD_CROSS:
		lib.cairo_set_line_width(cairo, em * 0.22);
		lib.cairo_move_to(cairo, x - half, y - half);
		lib.cairo_line_to(cairo, x + half, y + half);
		lib.cairo_move_to(cairo, x - half, y + half);
		lib.cairo_line_to(cairo, x + half, y - half);
		lib.cairo_stroke(cairo);
		return;
	case BOARD_RING:
		ring(cairo, x, y, half * 0.9);
		hollow(cairo);
		return;
	case BOARD_ARROW:
		lib.cairo_move_to(cairo, x - half * 0.9, y - half * 1.1);
		lib.cairo_line_to(cairo, x + half * 1.1, y);
		lib.cairo_line_to(cairo, x - half * 0.9, y + half * 1.1);
		lib.cairo_close_path(cairo);
		lib.cairo_fill(cairo);
	}
}
