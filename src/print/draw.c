/*
 * Draws tags by cairo, and sets their text by pango; no other file knows either. Both are loaded
 * when first asked for: linked, they would cost every command of the program 2.7 ms at its start.
 *
 * All coordinates are dots of the printer. In PDF a page is one form in dots, which a single matrix
 * brings to its size, so that its numbers are whole and small. There a symbol is written with a
 * font of its own (Type 3: each glyph a run of modules drawn as rectangles), which takes a tenth of
 * the time and of the bytes of a path with the same rectangles: what costs is to write each number.
 * In SVG and PNG it is one path.
 */
#include <dlfcn.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include "draw.h"

/* ---------------------------------------------------------------- the libraries */

#define LIBRARY "libpangocairo-1.0.so.0" /* it brings pango, cairo, gobject and glib with it */

/* clang-format off */
#define CALLS(CALL) \
	CALL(cairo_create) CALL(cairo_destroy) CALL(cairo_fill) CALL(cairo_font_face_destroy) \
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
	CALL(pango_attr_list_new) CALL(pango_attr_list_unref) CALL(pango_cairo_context_set_font_options) \
	CALL(pango_cairo_context_set_resolution) CALL(pango_cairo_font_map_get_default) \
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
#define MEMBER(name) __typeof__(&(name)) name;
static struct {
	CALLS(MEMBER)
} lib;
static bool loaded;

enum outcome draw_load(const char *library, struct fault *fault)
{
#define ROW(name) {#name, &lib.name, sizeof lib.name},
	static const struct {
		const char *name;
		void *call;
		size_t size;
	} rows[] = {CALLS(ROW)};
	if (loaded && library == NULL) {
		return OUTCOME_DONE;
	}
	void *handle = dlopen(library != NULL ? library : LIBRARY, RTLD_LAZY | RTLD_LOCAL);
	const char *missing = handle == NULL ? (library != NULL ? library : LIBRARY) : NULL;
	for (size_t i = 0; i < COUNT_OF(rows) && missing == NULL; i++) {
		void *call = dlsym(handle, rows[i].name);
		missing = call == NULL ? rows[i].name : NULL;
		memcpy(rows[i].call, &call, rows[i].size);
	}
	if (missing != NULL) {
		fault_set(fault, OUTCOME_STORE, "library that draws is missing: %s", missing);
		fault_hint(fault, "Have libpangocairo-1.0-0 and libcairo2 installed, such as by apt-get "
		                  "install libpangocairo-1.0-0.");
		return OUTCOME_STORE;
	}
	loaded = true;
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- what draws */

/* Sizes of text go up by a twentieth, so that a run needs few fonts. */
#define FONT_FAMILY "DejaVu Sans"
#define FONT_STEPS 140
#define FONT_LEAST 2.0 /* em, dots */
#define FONT_STEP 1.05
#define LINE_TO_EM 1.164 /* of DejaVu Sans: ascent 0.928, descent 0.236 */
#define ASCENT_TO_EM 0.928
#define CAPITALS_TO_EM 0.729
/* Capitals lower than this help nobody: rather cut the line than go below. Common practice, no
   source. */
#define CAPITALS_LEAST_MM 0.5

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
	bool turned;
	double back;
	struct batch batch;
};
static const cairo_user_data_key_t strips_key;
#define STRIP_LINEAR 11 /* a character of Code 128 */
#define STRIP_MATRIX 8

struct pen {
	struct arena *arena;
	const struct stock *stock;
	enum file_form form;
	cairo_t *cairo;
	PangoContext *context;
	PangoLayout *layout;
	PangoGlyphString *glyphs;
	struct font fonts[FONT_STEPS];
	struct strips *strips;
	cairo_font_options_t *options;
	struct text svg; /* the text of an SVG: cairo would draw it as outlines */
};

static cairo_status_t take_bytes(void *context, const unsigned char *bytes, unsigned length)
{
	text_add_bytes(context, (const char *)bytes, length);
	return CAIRO_STATUS_SUCCESS;
}

static double page_dots(struct length length, int64_t dots_per_inch)
{
	return length_to_in(length) * (double)dots_per_inch;
}

/* ---------------------------------------------------------------- batches */

static void add_glyph(struct pen *pen, struct batch *batch, unsigned long index, double x, double y)
{
	if (batch->count == batch->room) {
		size_t room = batch->room == 0 ? 256 : 2 * batch->room;
		batch->glyphs =
			arena_grow(pen->arena, batch->glyphs, batch->count, room, sizeof *batch->glyphs);
		batch->room = room;
	}
	batch->glyphs[batch->count++] = (cairo_glyph_t){index, x, y};
}

static void add_cluster(struct pen *pen, struct batch *batch, int bytes, int glyphs)
{
	if (batch->cluster_count == batch->cluster_room) {
		size_t room = batch->cluster_room == 0 ? 256 : 2 * batch->cluster_room;
		batch->clusters = arena_grow(pen->arena, batch->clusters, batch->cluster_count, room,
		                             sizeof *batch->clusters);
		batch->cluster_room = room;
	}
	batch->clusters[batch->cluster_count++] = (cairo_text_cluster_t){bytes, glyphs};
}

/* With the font that is set. */
static void show_batch(struct pen *pen, struct batch *batch)
{
	static const cairo_text_cluster_flags_t forward; /* none set */
	if (batch->count > 0) {
		lib.cairo_show_text_glyphs(pen->cairo, batch->text.bytes, (int)batch->text.length,
		                           batch->glyphs, (int)batch->count, batch->clusters,
		                           (int)batch->cluster_count, forward);
	}
	batch->count = 0;
	batch->cluster_count = 0;
	batch->text.length = 0;
}

static void show_batches(struct pen *pen)
{
	static const cairo_matrix_t as_it_is = {1, 0, 0, 1, 0, 0};
	for (struct strips *one = pen->strips; one != NULL; one = one->next) {
		/* To a reader of the text the glyphs stand for no text at all. */
		if (one->batch.count > 0) {
			add_cluster(pen, &one->batch, 0, (int)one->batch.count);
			lib.cairo_set_font_face(pen->cairo, one->face);
			lib.cairo_set_font_matrix(pen->cairo, &as_it_is);
			lib.cairo_set_font_options(pen->cairo, pen->options);
			show_batch(pen, &one->batch);
		}
	}
	for (size_t i = 0; i < FONT_STEPS; i++) {
		if (pen->fonts[i].batch.count > 0) {
			PangoFont *font = pen->fonts[i].item->analysis.font;
			lib.cairo_set_scaled_font(pen->cairo,
			                          lib.pango_cairo_font_get_scaled_font((PangoCairoFont *)font));
			show_batch(pen, &pen->fonts[i].batch);
		}
	}
}

/* ---------------------------------------------------------------- symbols */

/* What the glyphs of a font may reach: cairo draws nothing outside of that. */
static cairo_status_t tell_extents(cairo_scaled_font_t *font, cairo_t *cairo,
                                   cairo_font_extents_t *extents)
{
	(void)cairo;
	cairo_font_face_t *face = lib.cairo_scaled_font_get_font_face(font);
	const struct strips *strips = lib.cairo_font_face_get_user_data(face, &strips_key);
	double length = (double)(strips->x_dots * strips->modules);
	double across = (double)strips->across;
	extents->ascent = strips->turned ? length : across;
	extents->descent = extents->ascent;
	extents->height = extents->ascent;
	extents->max_x_advance = strips->turned ? across : length;
	extents->max_y_advance = 0;
	return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t draw_strip(cairo_scaled_font_t *font, unsigned long glyph, cairo_t *cairo,
                                 cairo_text_extents_t *extents)
{
	cairo_font_face_t *face = lib.cairo_scaled_font_get_font_face(font);
	const struct strips *strips = lib.cairo_font_face_get_user_data(face, &strips_key);
	double x_dots = (double)strips->x_dots;
	double across = (double)strips->across - 2 * strips->back;
	double begin = strips->back / 2;
	for (int64_t i = 0; i < strips->modules; i++) {
		int64_t run = 0;
		while (i + run < strips->modules && ((glyph >> (i + run)) & 1) != 0) {
			run++;
		}
		if (run == 0) {
			continue;
		}
		double along = x_dots * (double)run - 2 * strips->back;
		double from = x_dots * (double)i + begin;
		lib.cairo_rectangle(cairo, strips->turned ? begin : from, strips->turned ? from : begin,
		                    strips->turned ? across : along, strips->turned ? along : across);
		i += run - 1;
	}
	lib.cairo_fill(cairo);
	double length = x_dots * (double)strips->modules;
	extents->x_bearing = 0;
	extents->y_bearing = 0;
	extents->width = strips->turned ? (double)strips->across : length;
	extents->height = strips->turned ? length : (double)strips->across;
	extents->x_advance = extents->width;
	return CAIRO_STATUS_SUCCESS;
}

static struct strips *find_strips(struct pen *pen, const struct placed *placed)
{
	bool linear = placed->symbol.linear;
	const struct layout *layout = &placed->layout;
	int64_t bars = layout->turned ? layout->symbol.width : layout->symbol.height;
	int64_t across = linear ? bars : layout->x_dots;
	int64_t modules = linear ? STRIP_LINEAR : STRIP_MATRIX;
	for (struct strips *one = pen->strips; one != NULL; one = one->next) {
		if (one->x_dots == layout->x_dots && one->across == across && one->modules == modules &&
		    one->turned == layout->turned) {
			return one;
		}
	}
	struct strips *made = arena_take(pen->arena, 1, sizeof *made);
	*made = (struct strips){
		.next = pen->strips,
		.face = lib.cairo_user_font_face_create(),
		.x_dots = layout->x_dots,
		.across = across,
		.modules = modules,
		.turned = layout->turned,
		.back = pen->stock->dots_per_inch > 400 ? 1. / 16 : 1. / 32,
		.batch.text = text_start(pen->arena),
	};
	lib.cairo_font_face_set_user_data(made->face, &strips_key, made, NULL);
	lib.cairo_user_font_face_set_init_func(made->face, tell_extents);
	lib.cairo_user_font_face_set_render_glyph_func(made->face, draw_strip);
	pen->strips = made;
	return made;
}

static unsigned long strip_of(const struct symbol *symbol, int64_t x, int64_t y, int64_t modules)
{
	unsigned long strip = 0;
	for (int64_t i = 0; i < modules && x + i < symbol->wide; i++) {
		strip |= (unsigned long)symbol->modules[y * symbol->wide + x + i] << i;
	}
	return strip;
}

/* For a PDF. */
static void write_symbol(struct pen *pen, const struct placed *placed)
{
	const struct symbol *symbol = &placed->symbol;
	struct strips *strips = find_strips(pen, placed);
	double x_dots = (double)placed->layout.x_dots;
	double left = (double)(placed->x + placed->layout.symbol.x) + strips->back / 2;
	double top = (double)(placed->y + placed->layout.symbol.y) + strips->back / 2;
	for (int64_t y = 0; y < symbol->high; y++) {
		for (int64_t x = 0; x < symbol->wide; x += strips->modules) {
			unsigned long strip = strip_of(symbol, x, y, strips->modules);
			double along = (double)x * x_dots;
			double down = (double)(strips->turned ? symbol->high - 1 - y : y) * x_dots;
			if (strip != 0) {
				add_glyph(pen, &strips->batch, strip, left + (strips->turned ? down : along),
				          top + (strips->turned ? along : down));
			}
		}
	}
}

/* For SVG and PNG: a rectangle each run of a row, one path. */
static void draw_symbol(struct pen *pen, const struct placed *placed)
{
	const struct symbol *symbol = &placed->symbol;
	const struct layout *layout = &placed->layout;
	int64_t bars = layout->turned ? layout->symbol.width : layout->symbol.height;
	double x_dots = (double)layout->x_dots;
	double across = symbol->linear ? (double)bars : x_dots;
	double left = (double)(placed->x + layout->symbol.x);
	double top = (double)(placed->y + layout->symbol.y);
	for (int64_t y = 0; y < symbol->high; y++) {
		const unsigned char *row = symbol->modules + y * symbol->wide;
		for (int64_t x = 0; x < symbol->wide; x++) {
			int64_t run = 0;
			while (x + run < symbol->wide && row[x + run] != 0) {
				run++;
			}
			if (run == 0) {
				continue;
			}
			double from = (double)x * x_dots;
			double along = (double)run * x_dots;
			double down = (double)(layout->turned ? symbol->high - 1 - y : y) * across;
			lib.cairo_rectangle(pen->cairo, left + (layout->turned ? down : from),
			                    top + (layout->turned ? from : down),
			                    layout->turned ? across : along, layout->turned ? along : across);
			x += run - 1;
		}
	}
	lib.cairo_fill(pen->cairo);
}

/* ---------------------------------------------------------------- text */

static double font_em(size_t step)
{
	return FONT_LEAST * pow(FONT_STEP, (double)step);
}

/* The largest that is no larger. */
static size_t font_step(double em)
{
	double step = floor(log(em / FONT_LEAST) / log(FONT_STEP) + 1e-9);
	return step < 0 ? 0 : step >= FONT_STEPS ? FONT_STEPS - 1 : (size_t)step;
}

static struct font *find_font(struct pen *pen, size_t step)
{
	struct font *font = &pen->fonts[step];
	if (font->description == NULL) {
		font->description = lib.pango_font_description_new();
		lib.pango_font_description_set_family(font->description, FONT_FAMILY);
		lib.pango_font_description_set_absolute_size(font->description,
		                                             font_em(step) * PANGO_SCALE);
		lib.pango_context_set_font_description(pen->context, font->description);
		PangoAttrList *attributes = lib.pango_attr_list_new();
		GList *items = lib.pango_itemize(pen->context, "A", 0, 1, attributes, NULL);
		font->item = items->data;
		lib.g_list_free(items);
		lib.pango_attr_list_unref(attributes);
		font->batch.text = text_start(pen->arena);
	}
	return font;
}

static bool is_plain(const char *text)
{
	while (*text >= ' ' && *text <= '~') {
		text++;
	}
	return *text == '\0';
}

/* Sets it, and tells how wide it is in dots; show_text then shows it. */
static double set_text(struct pen *pen, const struct font *font, const char *text)
{
	int width = 0;
	if (is_plain(text)) {
		int length = (int)strlen(text);
		lib.pango_shape(text, length, &font->item->analysis, pen->glyphs);
		width = lib.pango_glyph_string_get_width(pen->glyphs);
	} else {
		lib.pango_layout_set_font_description(pen->layout, font->description);
		lib.pango_layout_set_text(pen->layout, text, -1);
		lib.pango_layout_get_size(pen->layout, &width, NULL);
	}
	return (double)width / PANGO_SCALE;
}

static void add_escaped(struct text *out, const char *text)
{
	for (; *text != '\0'; text++) {
		switch (*text) {
		case '&':
			text_add(out, "&amp;");
			break;
		case '<':
			text_add(out, "&lt;");
			break;
		default:
			text_add_bytes(out, text, 1);
		}
	}
}

/* What set_text shaped of plain text, into the font's batch. */
static void add_text(struct pen *pen, struct font *font, const char *text, double x,
                     double baseline)
{
	const PangoGlyphString *glyphs = pen->glyphs;
	int length = (int)strlen(text);
	for (int i = 0; i < glyphs->num_glyphs; i++) {
		const PangoGlyphInfo *glyph = &glyphs->glyphs[i];
		int end = i + 1 < glyphs->num_glyphs ? glyphs->log_clusters[i + 1] : length;
		add_glyph(pen, &font->batch, glyph->glyph,
		          x + (double)glyph->geometry.x_offset / PANGO_SCALE,
		          baseline + (double)glyph->geometry.y_offset / PANGO_SCALE);
		add_cluster(pen, &font->batch, end - glyphs->log_clusters[i], 1);
		x += (double)glyph->geometry.width / PANGO_SCALE;
	}
	text_add_bytes(&font->batch.text, text, (size_t)length);
}

static void show_text(struct pen *pen, struct font *font, double em, const char *text, double x,
                      double baseline, double width)
{
	if (pen->form == FILE_SVG) {
		text_add_format(
			&pen->svg,
			"<text x=\"%.2f\" y=\"%.2f\" font-family=\"" FONT_FAMILY
			"\" font-size=\"%.2f\" textLength=\"%.2f\" lengthAdjust=\"spacingAndGlyphs\">",
			x, baseline, em, width);
		add_escaped(&pen->svg, text);
		text_add(&pen->svg, "</text>\n");
		return;
	}
	if (is_plain(text)) {
		add_text(pen, font, text, x, baseline);
	} else {
		lib.cairo_move_to(pen->cairo, x, baseline);
		lib.pango_cairo_show_layout_line(pen->cairo,
		                                 lib.pango_layout_get_line_readonly(pen->layout, 0));
	}
}

/* One line of text from what a record holds: no line ends, no broken characters. */
static char *clean_text(struct pen *pen, const char *text)
{
	char *clean = arena_copy(pen->arena, text);
	bool whole = lib.g_utf8_validate(text, -1, NULL) != 0;
	for (char *c = clean; *c != '\0'; c++) {
		unsigned char byte = (unsigned char)*c;
		*c = byte < ' ' || byte == 0x7f ? ' ' : byte >= 0x80 && !whole ? '?' : *c;
	}
	return clean;
}

/* Takes the last character off and sets an ellipsis in its place. */
static char *cut_text(struct pen *pen, const char *text)
{
	static const char ellipsis[] = "\u2026";
	size_t length = strlen(text);
	if (length >= sizeof ellipsis - 1 &&
	    strcmp(text + length - (sizeof ellipsis - 1), ellipsis) == 0) {
		length -= sizeof ellipsis - 1;
	}
	while (length > 0 && ((unsigned char)text[--length] & 0xc0) == 0x80) {
	}
	while (length > 0 && text[length - 1] == ' ') {
		length--;
	}
	return arena_format(pen->arena, "%.*s%s", (int)length, text, ellipsis);
}

/* As large as its box; smaller where it would be too wide; cut only where it must be, if at all. */
static void draw_line(struct pen *pen, const struct placed *placed, size_t line, bool may_cut)
{
	const struct box *box = &placed->layout.lines[line];
	char *text = clean_text(pen, placed->face->lines[line]);
	double least = CAPITALS_LEAST_MM / 25.4 * (double)pen->stock->dots_per_inch / CAPITALS_TO_EM;
	size_t floor_step = may_cut ? font_step(least) : 0;
	size_t step = font_step((double)box->height / LINE_TO_EM);
	struct font *font = find_font(pen, step);
	double width = set_text(pen, font, text);
	while (width > (double)box->width && step > floor_step) {
		size_t smaller = font_step(font_em(step) * (double)box->width / width);
		step = smaller >= step ? step - 1 : smaller < floor_step ? floor_step : smaller;
		font = find_font(pen, step);
		width = set_text(pen, font, text);
	}
	while (width > (double)box->width && strlen(text) > 3) {
		text = cut_text(pen, text);
		width = set_text(pen, font, text);
	}
	double em = font_em(step);
	double free_across = placed->layout.centred ? ((double)box->width - width) / 2 : 0;
	double baseline = ((double)box->height - em * LINE_TO_EM) / 2 + em * ASCENT_TO_EM;
	show_text(pen, font, em, text, (double)(placed->x + box->x) + free_across,
	          (double)(placed->y + box->y) + baseline, width);
}

static bool holds_tag(const struct stock_line *line)
{
	for (size_t i = 0; i < line->attribute_count; i++) {
		if (strcmp(line->attributes[i], "tag") == 0) {
			return true;
		}
	}
	return false;
}

/* ---------------------------------------------------------------- pages */

static void draw_tag(struct pen *pen, const struct placed *placed)
{
	if (placed->layout.has_symbol && pen->form == FILE_PDF) {
		write_symbol(pen, placed);
	} else if (placed->layout.has_symbol) {
		draw_symbol(pen, placed);
	}
	for (size_t i = 0; i < pen->stock->line_count; i++) {
		if (placed->layout.lines[i].height > 0) {
			draw_line(pen, placed, i, !holds_tag(&pen->stock->lines[i]));
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
	show_batches(pen);
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
		lib.cairo_pdf_surface_create_for_stream(take_bytes, out,
	                                            length_to_in(stock->page_width) * 72,
	                                            length_to_in(stock->page_height) * 72);
	cairo_t *pages = lib.cairo_create(file);
	for (size_t done = 0; done < count;) {
		cairo_surface_t *form =
			lib.cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page);
		pen->cairo = lib.cairo_create(form);
		done += draw_page(pen, placed + done, count - done);
		lib.cairo_destroy(pen->cairo);
		lib.cairo_save(pages);
		lib.cairo_scale(pages, scale, scale);
		lib.cairo_set_source_surface(pages, form, 0, 0);
		lib.cairo_paint(pages);
		lib.cairo_restore(pages);
		lib.cairo_show_page(pages);
		lib.cairo_surface_destroy(form);
	}
	cairo_status_t status = lib.cairo_status(pages);
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
			? lib.cairo_svg_surface_create_for_stream(take_bytes, out, width, height)
			: lib.cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)lround(width),
	                                         (int)lround(height));
	pen->cairo = lib.cairo_create(file);
	draw_page(pen, placed, count);
	cairo_status_t status = lib.cairo_status(pen->cairo);
	lib.cairo_destroy(pen->cairo);
	if (pen->form == FILE_PNG && status == CAIRO_STATUS_SUCCESS) {
		status = lib.cairo_surface_write_to_png_stream(file, take_bytes, out);
	}
	lib.cairo_surface_finish(file);
	status = status == CAIRO_STATUS_SUCCESS ? lib.cairo_surface_status(file) : status;
	lib.cairo_surface_destroy(file);
	return status;
}

/* ---------------------------------------------------------------- from the first to the last */

/* That the font is the one meant: another's letters may be wider than the layout allows for. */
static enum outcome look_at_font(struct pen *pen, struct fault *fault)
{
	const struct font *font = find_font(pen, font_step(20));
	PangoFont *found = font->item->analysis.font;
	PangoFontDescription *description = found != NULL ? lib.pango_font_describe(found) : NULL;
	bool right = description != NULL &&
	             strcmp(lib.pango_font_description_get_family(description), FONT_FAMILY) == 0;
	if (description != NULL) {
		lib.pango_font_description_free(description);
	}
	if (!right) {
		fault_set(fault, OUTCOME_STORE, "font is missing: " FONT_FAMILY);
		fault_hint(fault, "Have fonts-dejavu-core installed, such as by apt-get install "
		                  "fonts-dejavu-core.");
		return OUTCOME_STORE;
	}
	return OUTCOME_DONE;
}

static void take_up(struct pen *pen)
{
	pen->svg = text_start(pen->arena);
	pen->options = lib.cairo_font_options_create();
	lib.cairo_font_options_set_hint_metrics(pen->options, CAIRO_HINT_METRICS_OFF);
	lib.cairo_font_options_set_hint_style(pen->options, CAIRO_HINT_STYLE_NONE);
	pen->context = lib.pango_font_map_create_context(lib.pango_cairo_font_map_get_default());
	lib.pango_cairo_context_set_font_options(pen->context, pen->options);
	lib.pango_cairo_context_set_resolution(pen->context, 72);
	lib.pango_context_set_round_glyph_positions(pen->context, 0);
	pen->layout = lib.pango_layout_new(pen->context);
	lib.pango_layout_set_single_paragraph_mode(pen->layout, 1);
	pen->glyphs = lib.pango_glyph_string_new();
}

static void lay_down(struct pen *pen)
{
	for (size_t i = 0; i < FONT_STEPS; i++) {
		if (pen->fonts[i].description != NULL) {
			lib.pango_item_free(pen->fonts[i].item);
			lib.pango_font_description_free(pen->fonts[i].description);
		}
	}
	for (struct strips *one = pen->strips; one != NULL; one = one->next) {
		lib.cairo_font_face_destroy(one->face);
	}
	lib.pango_glyph_string_free(pen->glyphs);
	lib.g_object_unref(pen->layout);
	lib.g_object_unref(pen->context);
	lib.cairo_font_options_destroy(pen->options);
}

enum outcome draw_tags(struct arena *arena, const struct stock *stock, const struct placed *placed,
                       size_t count, enum file_form form, struct text *out, struct fault *fault)
{
	enum outcome outcome = draw_load(NULL, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct pen *pen = arena_take(arena, 1, sizeof *pen);
	pen->arena = arena;
	pen->stock = stock;
	pen->form = form;
	take_up(pen);
	outcome = look_at_font(pen, fault);
	if (outcome == OUTCOME_DONE) {
		struct text bytes = text_start(arena);
		cairo_status_t status = form == FILE_PDF ? draw_pdf(pen, placed, count, &bytes)
		                                         : draw_picture(pen, placed, count, &bytes);
		if (status != CAIRO_STATUS_SUCCESS) {
			outcome = fault_set(fault, OUTCOME_STORE, "memory is full, the tags were not drawn");
		}
		*out = form == FILE_PDF   ? bytes
		       : form == FILE_SVG ? svg_with_text(arena, stock, &bytes, &pen->svg)
		                          : png_with_resolution(arena, stock, &bytes);
	}
	lay_down(pen);
	return outcome;
}
