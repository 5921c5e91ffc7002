/*
 * A page of lines, marks and words: what the board, the plot and the passport share. All is in
 * points, from the upper left corner of the page.
 */
#ifndef TOOTHRACK_PRINT_PAGE_H
#define TOOTHRACK_PRINT_PAGE_H

#include "libraries.h"

#define POINTS_PER_MM (72 / 25.4)
#define PI 3.14159265358979323846
#define LINE_TO_LINE 1.2 /* of the em */

/* A sheet, in millimetres. */
struct sheet {
	double width_mm, height_mm;
};
/* A4 across and upright: ISO 216. */
extern const struct sheet sheet_across, sheet_upright;

/* Draws one page, number from 0, by pen->cairo. */
typedef void (*page_drawing)(struct pen *pen, int64_t page, void *context);

/*
 * So many pages as bytes of a PDF; of an SVG or a PNG there is one. OUTCOME_STORE: `memory is full,
 * the plot was not drawn`, where `what` is `plot`.
 */
enum outcome page_bytes(struct pen *pen, const struct sheet *sheet, int64_t pages,
                        page_drawing draw, void *context, const char *what, struct text *out,
                        struct fault *fault);
/* One page into a file, whole or not at all; faults as print_tags. */
enum outcome page_print(struct arena *arena, const struct sheet *sheet, enum file_form form,
                        const char *path, page_drawing draw, void *context, const char *what,
                        struct fault *fault);

/* White paper, where the file has none of its own, and black ink. */
void page_begin(struct pen *pen);

/* Puts a text in so much room, ending in an ellipsis where it is wider; the width that it takes. */
double page_put(struct pen *pen, size_t step, const char *text, double x, double baseline,
                double width);
/* The same, ending at `right`. */
void page_put_right(struct pen *pen, size_t step, const char *text, double right, double baseline,
                    double width);
/* How wide it is, however long. */
double page_text_width(struct pen *pen, size_t step, const char *text);
/* As many bytes of a text as stand on one line, cut at a blank where there is one. */
size_t page_line_length(struct pen *pen, size_t step, const char *text, double width);
/* A text over as many lines as it takes; at most `most` of them, the last then cut. */
struct page_lines {
	const char **lines; /* in the pen's arena */
	size_t count;
};
struct page_lines page_wrap(struct pen *pen, size_t step, const char *text, double width,
                            size_t most);

void page_rule(struct pen *pen, double x, double y, double to_x, double to_y, double width);
/* A mark as large as letters of that em, around a middle; what is hollow is white within. */
void page_mark(struct pen *pen, enum board_mark mark, double x, double y, double em);

#endif
