/* A plot into a file: title, legend, frame and notes, each as high as it takes, the frame the rest.
 */
#include "plot.h"

/* Sizes: common practice, no source. Points. */
#define MARGIN 28.    /* about 10 mm, which office printers reach */
#define WORDS_EM 11.2 /* read at half the size too */
#define TITLE_TO_EM 1.55
#define NOTES_TO_EM 0.92

/* Parts of the height that the legend and the notes may take at the most. */
#define KEYS_PART 0.2
#define NOTES_PART 0.3

static double head_draw(const struct plotting *plot)
{
	const struct plot_face *face = plot->face;
	const struct plot_place *place = &plot->place;
	struct pen *pen = plot->pen;
	double y = place->y, right = place->x + place->width;
	double printed =
		face->printed == NULL ? 0 : page_text_width(pen, plot->step, face->printed) + 2 * plot->em;
	printed = printed > place->width / 3 ? place->width / 3 : printed;
	if (face->title != NULL) {
		size_t step = text_step(plot->em * TITLE_TO_EM);
		y += text_em(step);
		page_put(pen, step, face->title, place->x, y, place->width - printed);
		y += plot->em * 0.45;
	}
	if (face->printed != NULL) {
		double baseline = face->title != NULL ? y - plot->em * 0.45 : y + plot->em;
		/* A hair more than its width, which was rounded on the way here. */
		page_put_right(pen, plot->step, face->printed, right, baseline,
		               (printed > 2 * plot->em ? printed - 2 * plot->em : printed) + 0.01);
		y = face->title != NULL ? y : y + plot->line;
	}
	if (face->subtitle != NULL) {
		struct page_lines lines = page_wrap(pen, plot->step, face->subtitle, place->width, 2);
		for (size_t i = 0; i < lines.count; i++) {
			page_put(pen, plot->step, lines.lines[i], place->x, y + plot->em, place->width);
			y += plot->line;
		}
	}
	return y + plot->em * 0.3;
}

/* ---------------------------------------------------------------- notes */

/* Their lines; those that have no room are counted in the last. */
struct notes {
	const char **lines;
	size_t count;
	size_t step;
	double line;
};

static struct notes notes_make(const struct plotting *plot)
{
	const struct plot_face *face = plot->face;
	struct notes notes = {.step = text_step(plot->em * NOTES_TO_EM)};
	notes.line = text_em(notes.step) * LINE_TO_LINE;
	size_t most = (size_t)(plot->place.height * NOTES_PART / notes.line);
	notes.lines = arena_take(plot->pen->arena, most + 1, sizeof *notes.lines);
	for (size_t i = 0; i < face->note_count; i++) {
		bool last = i + 1 == face->note_count;
		struct page_lines lines =
			page_wrap(plot->pen, notes.step, face->notes[i], plot->place.width, SIZE_MAX);
		if (notes.count + lines.count + (last ? 0 : 1) > most) {
			notes.lines[notes.count++] =
				arena_format(plot->pen->arena, "and %zu more", face->note_count - i);
			break;
		}
		for (size_t j = 0; j < lines.count; j++) {
			notes.lines[notes.count++] = lines.lines[j];
		}
	}
	return notes;
}

static void notes_draw(const struct plotting *plot, const struct notes *notes, double y)
{
	for (size_t i = 0; i < notes->count; i++) {
		page_put(plot->pen, notes->step, notes->lines[i], plot->place.x,
		         y + (double)i * notes->line + text_em(notes->step), plot->place.width);
	}
}

/* ---------------------------------------------------------------- all of it */

double plot_x(const struct plotting *plot, double value)
{
	double part = (value - plot->x_least) / (plot->x_most - plot->x_least);
	double x = plot->left + part * (plot->right - plot->left);
	return x < -1e4 ? -1e4 : x > 1e4 ? 1e4 : x;
}

double plot_y(const struct plotting *plot, double value)
{
	double part = (value - plot->y_least) / (plot->y_most - plot->y_least);
	double y = plot->bottom - part * (plot->bottom - plot->top);
	return y < -1e4 ? -1e4 : y > 1e4 ? 1e4 : y;
}

void plot_draw(struct pen *pen, const struct plot_face *face, const struct plot_place *place)
{
	struct plotting plot = {.pen = pen,
	                        .face = face,
	                        .place = *place,
	                        .step = text_step(place->em)};
	plot.em = text_em(plot.step);
	plot.line = plot.em * LINE_TO_LINE;
	plot_extent(face, &plot.x_least, &plot.x_most, &plot.y_least, &plot.y_most);
	double y = head_draw(&plot);
	struct plot_keys keys =
		plot_keys_make(&plot, (size_t)(place->height * KEYS_PART / (plot.line * 1.1)));
	plot_keys_draw(&plot, &keys, y);
	y += (double)keys.rows * plot.line * 1.1;
	struct notes notes = notes_make(&plot);
	double bottom = place->y + place->height - (double)notes.count * notes.line;
	notes_draw(&plot, &notes, bottom);
	plot.top = y + (face->up.name != NULL ? plot.line * 1.4 : 0) + plot.em * 0.6;
	plot_axes_fit(&plot, bottom - (notes.count > 0 ? plot.em * 0.4 : 0));
	plot_axes_draw(&plot);
	plot_data_draw(&plot);
	plot_frame_draw(&plot);
}

static void page_draw(struct pen *pen, int64_t page, void *context)
{
	struct plot_place place = {
		.x = MARGIN,
		.y = MARGIN,
		.width = sheet_across.width_mm * POINTS_PER_MM - 2 * MARGIN,
		.height = sheet_across.height_mm * POINTS_PER_MM - 2 * MARGIN,
		.em = WORDS_EM,
	};
	(void)page;
	plot_draw(pen, *(const struct plot_face **)context, &place);
}

enum outcome print_plot(struct arena *arena, const struct plot_face *face, enum file_form form,
                        const char *path, struct fault *fault)
{
	return page_print(arena, &sheet_across, form, path, page_draw, &face, "plot", fault);
}
