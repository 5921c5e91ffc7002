/*
 * cairo, which draws, and pango, which sets text. No other file names their headers, and what is
 * called of them stands in one list: both are loaded when first asked for, because linked they
 * would cost every command of the program 2.7 ms at its start.
 */
#ifndef TOOTHRACK_PRINT_LIBRARIES_H
#define TOOTHRACK_PRINT_LIBRARIES_H

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include "draw.h"

/* clang-format off */
#define CALLS(CALL) \
	CALL(cairo_arc) CALL(cairo_clip) CALL(cairo_close_path) CALL(cairo_create) CALL(cairo_destroy) CALL(cairo_fill) \
	CALL(cairo_fill_preserve) CALL(cairo_font_face_destroy) CALL(cairo_line_to) CALL(cairo_new_path) \
	CALL(cairo_set_dash) CALL(cairo_set_line_cap) CALL(cairo_set_line_join) CALL(cairo_set_line_width) CALL(cairo_stroke) CALL(cairo_stroke_preserve) \
	CALL(cairo_font_face_get_user_data) CALL(cairo_font_face_set_user_data) \
	CALL(cairo_font_options_create) CALL(cairo_font_options_destroy) \
	CALL(cairo_font_options_set_hint_metrics) CALL(cairo_font_options_set_hint_style) \
	CALL(cairo_image_surface_create) CALL(cairo_move_to) CALL(cairo_paint) \
	CALL(cairo_pdf_surface_create_for_stream) CALL(cairo_recording_surface_create) \
	CALL(cairo_rectangle) CALL(cairo_restore) CALL(cairo_save) CALL(cairo_scale) \
	CALL(cairo_scaled_font_get_font_face) CALL(cairo_set_font_face) CALL(cairo_set_font_matrix) \
	CALL(cairo_set_font_options) CALL(cairo_set_source_rgb) CALL(cairo_set_source_surface) \
	CALL(cairo_show_page) CALL(cairo_show_text_glyphs) CALL(cairo_status) \
	CALL(cairo_surface_destroy) CALL(cairo_surface_finish) CALL(cairo_surface_status) \
	CALL(cairo_surface_write_to_png_stream) CALL(cairo_svg_surface_create_for_stream) \
	CALL(cairo_user_font_face_create) CALL(cairo_user_font_face_set_init_func) CALL(cairo_user_font_face_set_render_glyph_func) \
	CALL(g_list_free) CALL(g_object_unref) CALL(g_utf8_validate) \
	CALL(g_unichar_type) CALL(g_utf8_find_next_char) CALL(g_utf8_get_char) \
	CALL(pango_attr_list_new) CALL(pango_attr_list_unref) CALL(pango_cairo_context_set_font_options) \
	CALL(pango_cairo_context_set_resolution) CALL(pango_cairo_font_map_new) \
	CALL(cairo_set_scaled_font) CALL(pango_cairo_font_get_scaled_font) CALL(pango_cairo_show_layout_line) \
	CALL(pango_context_set_font_description) CALL(pango_context_set_round_glyph_positions) \
	CALL(pango_font_describe) CALL(pango_font_description_free) \
	CALL(pango_font_description_get_family) CALL(pango_font_description_new) \
	CALL(pango_font_description_set_absolute_size) CALL(pango_font_description_set_family) \
	CALL(pango_font_map_create_context) CALL(pango_glyph_string_free) \
	CALL(pango_glyph_string_get_width) CALL(pango_glyph_string_new) CALL(pango_item_free) \
	CALL(pango_itemize) CALL(pango_layout_get_line_readonly) CALL(pango_layout_get_size) \
	CALL(pango_layout_new) CALL(pango_layout_set_font_description) \
	CALL(pango_layout_set_single_paragraph_mode) CALL(pango_layout_set_text) CALL(pango_shape)
/* clang-format on */

/* The calls, typed by the headers. */
#define MEMBER(name) __typeof__(name) *name; /* NOLINT(bugprone-macro-parentheses): a member */
struct library_calls {
	CALLS(MEMBER)
};
#undef MEMBER
extern struct library_calls lib; /* filled by draw_load */

/* ---------------------------------------------------------------- what draws */

/* Glyphs of one font on one page: cairo is called once for them all, for a call costs as much as
   ten of them. */
struct batch {
	cairo_glyph_t *glyphs;
	size_t count, room;
	cairo_text_cluster_t *clusters; /* which bytes of the text each stands for */
	size_t cluster_count, cluster_room;
	struct text text;
};

struct font {
	PangoFontDescription *description; /* NULL: not made yet */
	PangoItem *item;                   /* how plain Latin text is set in it */
	struct batch batch;
};

/* A sign of ASCII or Latin-1 in the font, of any size: how it is numbered, how wide it is. */
struct letter {
	bool known;
	unsigned long glyph;
	double advance; /* em */
};
#define LETTER_COUNT 256 /* by its number in Unicode */

/*
 * Modules in a row as glyphs of a font. Each edge stands back by a little, so that the rounding of
 * the numbers in a PDF never makes a printer paint one dot more; the origin is moved on by half of
 * that, so that who rounds it down to a dot finds the right one.
 */
struct strips {
	struct strips *next;
	cairo_font_face_t *face;
	int64_t x_dots, across; /* of a module; of the row */
	int64_t modules;        /* in a glyph */
	bool joints;            /* what covers the joint between two columns, not the columns */
	bool down;              /* they run down the page; else along the line */
	double back;
	struct batch batch;
};
#define FONT_STEPS 140 /* sizes of text */

struct pen {
	struct arena *arena;
	const struct stock *stock; /* of tags; else NULL */
	enum file_form form;
	cairo_t *cairo;
	PangoFontMap *map; /* of our own: what it keeps goes with it */
	PangoContext *context;
	PangoLayout *layout;
	PangoGlyphString *glyphs;
	struct font fonts[FONT_STEPS];
	struct letter letters[LETTER_COUNT];
	struct strips *strips;
	cairo_font_options_t *options;
	struct text svg; /* the text of an SVG: cairo would draw it as outlines */
};

/* Into the batch; glyphs are in dots. */
void batch_add_glyph(struct pen *pen, struct batch *batch, unsigned long index, double x, double y);
/* That the next glyphs stand for the next bytes of the batch's text. */
void batch_add_cluster(struct pen *pen, struct batch *batch, int bytes, int glyphs);
/* Shows it with the font that is set, and empties it. */
void batch_show(struct pen *pen, struct batch *batch);

/* A symbol as glyphs, for a PDF; they are shown by strips_show. */
void symbol_write(struct pen *pen, const struct placed *placed);
void strips_show(struct pen *pen);
void strips_free(struct pen *pen);
/* A symbol as one path, for SVG and PNG. */
void symbol_draw(struct pen *pen, const struct placed *placed);

/* What draws, made ready for a file; draw_load must have been called. `stock` NULL: no tags. */
struct pen *pen_take_up(struct arena *arena, const struct stock *stock, enum file_form form);
/* Its cairo objects are freed; the pen itself lies in the arena. */
void pen_lay_down(struct pen *pen);
/* Takes the bytes of a file into the struct text that `context` is. */
cairo_status_t pen_take_bytes(void *context, const unsigned char *bytes, unsigned length);

/* OUTCOME_STORE where the font that the layout counts on is not there. */
enum outcome text_begin(struct pen *pen, struct fault *fault);
/*
 * A line of text of a tag: as large as its box, smaller where it would be too wide; cut only where
 * it must be, and that of the tag itself never.
 */
void text_draw_line(struct pen *pen, const struct placed *placed, size_t line);
/* Might it be cut? False is sure, and needs no library. */
bool text_may_be_cut(const struct stock *stock, const struct placed *placed, size_t line);
/* What of it will stand, where it is cut; else NULL. In the pen's arena. */
const char *text_cut_line(struct pen *pen, const struct placed *placed, size_t line);
/* Sizes of text by their number: the largest that is no larger, and how large that is. */
size_t text_step(double em);
double text_em(size_t step);
/* A text as it will stand. */
struct set_line {
	char *text;
	size_t step;
	double width;
	bool cut;
};
/* One line of any text: cleaned, and cut where it is wider than that. In the pen's arena. */
struct set_line text_set(struct pen *pen, size_t step, const char *text, double width);
void text_put(struct pen *pen, const struct set_line *set, double x, double baseline);
void text_show(struct pen *pen);
void text_free(struct pen *pen);

#endif
