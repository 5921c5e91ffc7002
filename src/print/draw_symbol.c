/*
 * Symbols by cairo. In a PDF a symbol is written with a font of its own (Type 3: each glyph a run
 * of modules drawn as rectangles), which takes a tenth of the time and of the bytes of a path with
 * the same rectangles: what costs is to write each number. In SVG and PNG it is one path.
 */
#include "libraries.h"

static const cairo_user_data_key_t strips_key;
#define STRIP_LINEAR 11 /* a character of Code 128 */
#define STRIP_MATRIX 8

/* ---------------------------------------------------------------- batches */

void batch_add_glyph(struct pen *pen, struct batch *batch, unsigned long index, double x, double y)
{
	if (batch->count == batch->room) {
		size_t room = batch->room == 0 ? 256 : 2 * batch->room;
		batch->glyphs =
			arena_grow(pen->arena, batch->glyphs, batch->count, room, sizeof *batch->glyphs);
		batch->room = room;
	}
	batch->glyphs[batch->count++] = (cairo_glyph_t){index, x, y};
}

void batch_add_cluster(struct pen *pen, struct batch *batch, int bytes, int glyphs)
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
void batch_show(struct pen *pen, struct batch *batch)
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
	extents->ascent = 2 * (strips->down ? length : across);
	extents->descent = extents->ascent;
	extents->height = extents->ascent;
	extents->max_x_advance = strips->down ? across : length;
	extents->max_y_advance = 0;
	return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t draw_strip(cairo_scaled_font_t *font, unsigned long glyph, cairo_t *cairo,
                                 cairo_text_extents_t *extents)
{
	cairo_font_face_t *face = lib.cairo_scaled_font_get_font_face(font);
	const struct strips *strips = lib.cairo_font_face_get_user_data(face, &strips_key);
	double x_dots = (double)strips->x_dots;
	double begin = strips->back / 2;
	/* A joint lies half on this column and half on the next. */
	int64_t half = (strips->x_dots + 1) / 2;
	double side = begin + (strips->joints ? (double)(strips->x_dots - half) : 0);
	double across = (double)(strips->joints ? 2 * half : strips->across) - 2 * strips->back;
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
		lib.cairo_rectangle(cairo, strips->down ? side : from, strips->down ? from : side,
		                    strips->down ? across : along, strips->down ? along : across);
		i += run - 1;
	}
	lib.cairo_fill(cairo);
	double length = x_dots * (double)strips->modules;
	extents->x_bearing = 0;
	extents->y_bearing = 0;
	extents->width =
		strips->down ? (double)(strips->joints ? 2 : 1) * (double)strips->across : length;
	extents->height = strips->down ? length : (double)strips->across;
	extents->x_advance = strips->down ? (double)strips->across : length;
	return CAIRO_STATUS_SUCCESS;
}

static struct strips *find_strips(struct pen *pen, const struct placed *placed, bool joints)
{
	const struct layout *layout = &placed->layout;
	bool linear = placed->symbol.linear;
	int64_t bars = layout->turned ? layout->symbol.width : layout->symbol.height;
	int64_t across = linear ? bars : layout->x_dots;
	int64_t modules = linear ? STRIP_LINEAR : STRIP_MATRIX;
	/* Strips of a matrix stand side by side like letters: few beginnings of a line to write. */
	bool down = !linear || layout->turned;
	for (struct strips *one = pen->strips; one != NULL; one = one->next) {
		if (one->x_dots == layout->x_dots && one->across == across && one->modules == modules &&
		    one->down == down && one->joints == joints) {
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
		.down = down,
		.joints = joints,
		.back = pen->stock->dots_per_inch > 400 ? 1. / 16 : 1. / 32,
		.batch.text = text_start(pen->arena),
	};
	lib.cairo_font_face_set_user_data(made->face, &strips_key, made, NULL);
	lib.cairo_user_font_face_set_init_func(made->face, tell_extents);
	lib.cairo_user_font_face_set_render_glyph_func(made->face, draw_strip);
	pen->strips = made;
	return made;
}

/* Is the module dark that stands there on the page? */
static unsigned long module_at(const struct placed *placed, int64_t x, int64_t y)
{
	const struct symbol *symbol = &placed->symbol;
	bool turned = placed->layout.turned;
	int64_t row = turned ? symbol->high - 1 - x : y;
	int64_t column = turned ? y : x;
	bool there = row >= 0 && row < symbol->high && column >= 0 && column < symbol->wide;
	return there && symbol->modules[row * symbol->wide + column] != 0 ? 1 : 0;
}

static void write_strips(struct pen *pen, const struct placed *placed, bool joints)
{
	bool linear = placed->symbol.linear;
	struct strips *strips = find_strips(pen, placed, joints);
	const struct layout *layout = &placed->layout;
	int64_t wide = layout->turned ? placed->symbol.high : placed->symbol.wide;
	int64_t high = layout->turned ? placed->symbol.wide : placed->symbol.high;
	double x_dots = (double)layout->x_dots;
	double left = (double)(placed->x + layout->symbol.x) + strips->back / 2;
	double top = (double)(placed->y + layout->symbol.y) + strips->back / 2;
	/* The strips of a matrix overlap by a module. */
	int64_t step = linear ? strips->modules : strips->modules - 1;
	for (int64_t y = 0; y == 0 || y < (linear ? high : high - 1); y += strips->down ? step : 1) {
		for (int64_t x = 0; x < wide; x += strips->down ? 1 : step) {
			unsigned long strip = 0;
			for (int64_t i = 0; i < strips->modules; i++) {
				int64_t column = strips->down ? x : x + i;
				int64_t row = strips->down ? y + i : y;
				unsigned long dark = module_at(placed, column, row);
				strip |= (joints ? dark & module_at(placed, column + 1, row) : dark) << i;
			}
			if (strip != 0) {
				batch_add_glyph(pen, &strips->batch, strip, left + (double)x * x_dots,
				                top + (double)y * x_dots);
			}
		}
	}
}

/*
 * For a PDF. Who draws it at another resolution than the stock's may set each glyph a dot aside,
 * which would leave white lines between columns of a matrix: joints cover them where both are dark.
 */
void symbol_write(struct pen *pen, const struct placed *placed)
{
	write_strips(pen, placed, false);
	if (!placed->symbol.linear) {
		write_strips(pen, placed, true);
	}
}

/* For SVG and PNG: a rectangle each run of a row, one path. */
void symbol_draw(struct pen *pen, const struct placed *placed)
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

void strips_show(struct pen *pen)
{
	static const cairo_matrix_t as_it_is = {1, 0, 0, 1, 0, 0};
	for (struct strips *one = pen->strips; one != NULL; one = one->next) {
		/* To a reader of the text the glyphs stand for no text at all. */
		if (one->batch.count > 0) {
			batch_add_cluster(pen, &one->batch, 0, (int)one->batch.count);
			lib.cairo_set_font_face(pen->cairo, one->face);
			lib.cairo_set_font_matrix(pen->cairo, &as_it_is);
			lib.cairo_set_font_options(pen->cairo, pen->options);
			batch_show(pen, &one->batch);
		}
	}
}

void strips_free(struct pen *pen)
{
	for (struct strips *one = pen->strips; one != NULL; one = one->next) {
		lib.cairo_font_face_destroy(one->face);
	}
}
