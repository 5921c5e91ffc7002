/* The legend of a plot: a sample and a name each, row by row. */
#include "plot.h"

#define SAMPLE_EM 2.4      /* width of a sample of a line or a band */
#define SAMPLE_MARK_EM 0.9 /* of a mark */
#define SAMPLE_GAP_EM 0.5  /* to the name */
#define KEY_GAP_EM 1.8     /* to the next */
#define MARK_EM 0.9

static double sample_width(const struct plotting *plot, const struct plot_key *key)
{
	bool long_one = key->line != NULL || key->band != NULL;
	return plot->em * (long_one ? SAMPLE_EM : SAMPLE_MARK_EM);
}

/* Width of an entry; a name too long for a row is cut there. */
static double key_width(const struct plotting *plot, const struct plot_key *key)
{
	double width = sample_width(plot, key) + plot->em * SAMPLE_GAP_EM +
	               page_text_width(plot->pen, plot->step, key->name);
	return width > plot->place.width ? plot->place.width : width;
}

static void key_add(struct plot_keys *keys, struct plot_key key)
{
	keys->keys[keys->count++] = key;
}

static struct plot_keys all_keys(const struct plotting *plot)
{
	const struct plot_face *face = plot->face;
	struct plot_keys keys = {0};
	keys.keys =
		arena_take(plot->pen->arena, face->series_count + face->line_count + face->band_count + 1,
	               sizeof *keys.keys);
	for (size_t i = 0; i < face->series_count; i++) {
		if (face->series[i].name != NULL) {
			key_add(&keys,
			        (struct plot_key){.name = face->series[i].name, .series = &face->series[i]});
		}
	}
	for (size_t i = 0; i < face->line_count; i++) {
		if (face->lines[i].name != NULL) {
			key_add(&keys, (struct plot_key){.name = face->lines[i].name, .line = &face->lines[i]});
		}
	}
	for (size_t i = 0; i < face->band_count; i++) {
		if (face->bands[i].name != NULL) {
			key_add(&keys, (struct plot_key){.name = face->bands[i].name,
			                                 .band = &face->bands[i],
			                                 .number = i});
		}
	}
	if (face->events_name != NULL) {
		key_add(&keys, (struct plot_key){.name = face->events_name});
	}
	return keys;
}

/* Where the next entry stands; true where a new row begins. */
static bool key_place(const struct plotting *plot, double width, double *x)
{
	bool new_row = *x > plot->place.x && *x + width > plot->place.x + plot->place.width;
	*x = new_row ? plot->place.x : *x;
	return new_row;
}

/* Behind the last of those that fit must stand how many do not. */
static double left_width(const struct plotting *plot)
{
	return page_text_width(plot->pen, plot->step, "and 9999 more");
}

struct plot_keys plot_keys_make(const struct plotting *plot, size_t rows_most)
{
	struct plot_keys keys = all_keys(plot);
	double x = plot->place.x, end = plot->place.x + plot->place.width;
	size_t told = 0, cut = 0, rows = keys.count > 0 ? 1 : 0;
	rows_most = rows_most > 0 ? rows_most : 1;
	for (; told < keys.count; told++) {
		double width = key_width(plot, &keys.keys[told]);
		rows += key_place(plot, width, &x) ? 1 : 0;
		if (rows > rows_most) {
			break;
		}
		x += width + plot->em * KEY_GAP_EM;
		cut = rows < rows_most || x + left_width(plot) <= end ? told + 1 : cut;
	}
	if (told < keys.count) {
		keys.left = keys.count - cut;
		keys.count = cut;
	}
	keys.rows = rows > rows_most ? rows_most : rows;
	return keys;
}

static void sample_draw(const struct plotting *plot, const struct plot_key *key, double x, double y)
{
	cairo_t *cairo = plot->pen->cairo;
	double width = sample_width(plot, key), half = plot->em * 0.4;
	lib.cairo_new_path(cairo);
	if (key->series != NULL) {
		plot_mark_draw(plot->pen, key->series->mark, x + width / 2, y, plot->em * MARK_EM);
	} else if (key->line != NULL) {
		lib.cairo_move_to(cairo, x, y);
		lib.cairo_line_to(cairo, x + width, y);
		plot_stroke_path(cairo, key->line->stroke);
	} else if (key->band != NULL) {
		lib.cairo_rectangle(cairo, x, y - half, width, 2 * half);
		plot_hatch_path(plot, key->number, x, y - half, x + width, y + half);
	} else {
		plot_event_draw(plot->pen, x + width / 2, y + PLOT_EVENT_HEIGHT / 2);
		page_rule(plot->pen, x, y + PLOT_EVENT_HEIGHT / 2, x + width, y + PLOT_EVENT_HEIGHT / 2,
		          0.8);
	}
}

void plot_keys_draw(const struct plotting *plot, const struct plot_keys *keys, double y)
{
	double x = plot->place.x, baseline = y + plot->em, end = plot->place.x + plot->place.width;
	for (size_t i = 0; i < keys->count; i++) {
		double width = key_width(plot, &keys->keys[i]);
		baseline += key_place(plot, width, &x) ? plot->line * 1.1 : 0;
		sample_draw(plot, &keys->keys[i], x, baseline - plot->em * 0.34);
		double before = sample_width(plot, &keys->keys[i]) + plot->em * SAMPLE_GAP_EM;
		page_put(plot->pen, plot->step, keys->keys[i].name, x + before, baseline,
		         width - before + 0.01);
		x += width + plot->em * KEY_GAP_EM;
	}
	if (keys->left > 0) {
		const char *more = arena_format(plot->pen->arena, "and %zu more", keys->left);
		bool own_row = x + left_width(plot) > end;
		page_put(plot->pen, plot->step, more, own_row ? plot->place.x : x,
		         baseline + (own_row ? plot->line * 1.1 : 0), left_width(plot));
	}
}
