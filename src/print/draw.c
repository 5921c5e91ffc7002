/*
 * Pages of tags, as bytes of a PDF, SVG or PNG. All coordinates are dots of the printer. In PDF a
 * page is one form in dots, which a single matrix brings to its size, so that its numbers are whole
 * and small.
 */
#include <math.h>
#include <string.h>

#include "libraries.h"

cairo_status_t pen_take_bytes(void *context, const unsigned char *bytes, unsigned length)
{
	text_add_bytes(context, (const char *)bytes, length);
	return CAIRO_STATUS_SUCCESS;
}

static double page_dots(struct length length, int64_t dots_per_inch)
{
	return length_to_in(length) * (double)dots_per_inch;
}

/* ---------------------------------------------------------------- pages */

static void draw_tag(struct pen *pen, const struct placed *placed)
{
	if (placed->layout.has_symbol && pen->form == FILE_PDF) {
		symbol_write(pen, placed);
	} else if (placed->layout.has_symbol) {
		symbol_draw(pen, placed);
	}
	for (size_t i = 0; i < pen->stock->line_count; i++) {
		if (placed->layout.lines[i].height > 0) {
			text_draw_line(pen, placed, i);
		}
	}
}

/* The tags of one page; returns how many. */
static size_t draw_page(struct pen *pen, const struct placed *placed, size_t count)
{
	size_t drawn = 0;
	lib.cairo_set_source_rgb(pen->cairo, 1, 1, 1);
	if (pen->form != FILE_PDF) {
		lib.cairo_paint(pen->cairo);
	}
	lib.cairo_set_source_rgb(pen->cairo, 0, 0, 0);
	while (drawn < count && placed[drawn].page == placed[0].page) {
		draw_tag(pen, &placed[drawn]);
		drawn++;
	}
	strips_show(pen);
	text_show(pen);
	return drawn;
}

static cairo_status_t draw_pdf(struct pen *pen, const struct placed *placed, size_t count,
                               struct text *out)
{
	const struct stock *stock = pen->stock;
	double scale = 72. / (double)stock->dots_per_inch;
	cairo_rectangle_t page = {0, 0, page_dots(stock->page_width, stock->dots_per_inch),
	                          page_dots(stock->page_height, stock->dots_per_inch)};
	cairo_surface_t *file =
		lib.cairo_pdf_surface_create_for_stream(pen_take_bytes, out,
	                                            length_to_in(stock->page_width) * 72,
	                                            length_to_in(stock->page_height) * 72);
	cairo_t *pages = lib.cairo_create(file);
	cairo_status_t status = CAIRO_STATUS_SUCCESS;
	for (size_t done = 0; done < count && status == CAIRO_STATUS_SUCCESS;) {
		cairo_surface_t *form =
			lib.cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page);
		pen->cairo = lib.cairo_create(form);
		done += draw_page(pen, placed + done, count - done);
		status = lib.cairo_status(pen->cairo); /* nobody else asks what the form went through */
		lib.cairo_destroy(pen->cairo);
		lib.cairo_save(pages);
		lib.cairo_scale(pages, scale, scale);
		lib.cairo_set_source_surface(pages, form, 0, 0);
		lib.cairo_paint(pages);
		lib.cairo_restore(pages);
		lib.cairo_show_page(pages);
		lib.cairo_surface_destroy(form);
	}
	status = status == CAIRO_STATUS_SUCCESS ? lib.cairo_status(pages) : status;
	lib.cairo_destroy(pages);
	lib.cairo_surface_finish(file);
	status = status == CAIRO_STATUS_SUCCESS ? lib.cairo_surface_status(file) : status;
	lib.cairo_surface_destroy(file);
	return status;
}

/* One page, in dots; its millimetres are put into the file afterwards. */
static cairo_status_t draw_picture(struct pen *pen, const struct placed *placed, size_t count,
                                   struct text *out)
{
	const struct stock *stock = pen->stock;
	double width = page_dots(stock->page_width, stock->dots_per_inch);
	double height = page_dots(stock->page_height, stock->dots_per_inch);
	cairo_surface_t *file =
		pen->form == FILE_SVG
			? lib.cairo_svg_surface_create_for_stream(pen_take_bytes, out, width, height)
			: lib.cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)lround(width),
	                                         (int)lround(height));
	pen->cairo = lib.cairo_create(file);
	draw_page(pen, placed, count);
	cairo_status_t status = lib.cairo_status(pen->cairo);
	lib.cairo_destroy(pen->cairo);
	if (pen->form == FILE_PNG && status == CAIRO_STATUS_SUCCESS) {
		status = lib.cairo_surface_write_to_png_stream(file, pen_take_bytes, out);
	}
	lib.cairo_surface_finish(file);
	status = status == CAIRO_STATUS_SUCCESS ? lib.cairo_surface_status(file) : status;
	lib.cairo_surface_destroy(file);
	return status;
}

struct pen *pen_take_up(struct arena *arena, const struct stock *stock, enum file_form form)
{
	struct pen *pen = arena_take(arena, 1, sizeof *pen);
	pen->arena = arena;
	pen->stock = stock;
	pen->form = form;
	pen->svg = text_start(pen->arena);
	pen->options = lib.cairo_font_options_create();
	lib.cairo_font_options_set_hint_metrics(pen->options, CAIRO_HINT_METRICS_OFF);
	lib.cairo_font_options_set_hint_style(pen->options, CAIRO_HINT_STYLE_NONE);
	pen->map = lib.pango_cairo_font_map_new();
	pen->context = lib.pango_font_map_create_context(pen->map);
	lib.pango_cairo_context_set_font_options(pen->context, pen->options);
	lib.pango_cairo_context_set_resolution(pen->context, 72);
	lib.pango_context_set_round_glyph_positions(pen->context, 0);
	pen->layout = lib.pango_layout_new(pen->context);
	lib.pango_layout_set_single_paragraph_mode(pen->layout, 1);
	pen->glyphs = lib.pango_glyph_string_new();
	return pen;
}

void pen_lay_down(struct pen *pen)
{
	text_free(pen);
	strips_free(pen);
	lib.pango_glyph_string_free(pen->glyphs);
	lib.g_object_unref(pen->layout);
	lib.g_object_unref(pen->context);
	lib.g_object_unref(pen->map);
	lib.cairo_font_options_destroy(pen->options);
}

enum outcome draw_tags(struct arena *arena, const struct stock *stock, const struct placed *placed,
                       size_t count, enum file_form form, struct text *out, struct fault *fault)
{
	enum outcome outcome = draw_load(NULL, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct pen *pen = pen_take_up(arena, stock, form);
	outcome = text_begin(pen, fault);
	if (outcome == OUTCOME_DONE) {
		struct text bytes = text_start(arena);
		cairo_status_t status = form == FILE_PDF ? draw_pdf(pen, placed, count, &bytes)
		                                         : draw_picture(pen, placed, count, &bytes);
		if (status != CAIRO_STATUS_SUCCESS) {
			outcome = fault_set(fault, OUTCOME_STORE, "memory is full, the tags were not drawn");
		}
		*out = form == FILE_PDF ? bytes
		       : form == FILE_SVG
		           ? svg_with_text(arena, stock->page_width, stock->page_height, &bytes, &pen->svg)
		           : png_with_resolution(arena, stock->dots_per_inch, &bytes);
	}
	pen_lay_down(pen);
	return outcome;
}

/* ---------------------------------------------------------------- what will be cut */

static bool any_may_be_cut(const struct stock *stock, const struct placed *placed, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < stock->line_count; j++) {
			if (text_may_be_cut(stock, &placed[i], j)) {
				return true;
			}
		}
	}
	return false;
}

static const char *find_cut(struct pen *pen, const struct placed *placed)
{
	struct text said = text_start(pen->arena);
	for (size_t i = 0; i < pen->stock->line_count; i++) {
		const char *cut =
			text_may_be_cut(pen->stock, placed, i) ? text_cut_line(pen, placed, i) : NULL;
		if (cut != NULL) {
			text_join(&said, " / ", cut);
		}
	}
	return said.length > 0 ? said.bytes : NULL;
}

enum outcome print_find_cut(struct arena *arena, const struct print_request *request,
                            struct print_plan *plan, struct fault *fault)
{
	if (!any_may_be_cut(request->stock, plan->placed, request->count)) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = draw_load(NULL, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct pen *pen = pen_take_up(arena, request->stock, FILE_PDF);
	outcome = text_begin(pen, fault);
	for (size_t i = 0; i < request->count && outcome == OUTCOME_DONE; i++) {
		plan->tags[i].cut = find_cut(pen, &plan->placed[i]);
	}
	pen_lay_down(pen);
	return outcome;
}
