/*
 * A week on a page: what its flow (board_flow.c), which says where all stands, and its drawing
 * (board_draw.c) share. All is in points, from the upper left corner of the page.
 */
#ifndef TOOTHRACK_PRINT_BOARD_H
#define TOOTHRACK_PRINT_BOARD_H

#include "page.h"

/* Sizes of the page's parts: common practice, no source. */
#define MARGIN 26.      /* about 9 mm, which office printers reach */
#define LABEL_WIDTH 60. /* of the names of the lines */
#define HEAD_HEIGHT 52. /* title and names of the columns */
#define FOOT_HEIGHT 16. /* legend and number of the page */
#define BOX_GAP 1.5
#define BOX_PAD 3.
#define BOX_POINT 5. /* how far the point stands out of a box that goes on */

/* Of what stands in the boxes; smaller than the least nobody reads it. Points. */
#define LETTERS_LEAST 6.0
#define LETTERS_MOST 8.7

/* What a band holds: the page is cut between bands only. */
enum band_sort { BAND_BOXES, BAND_MORE, BAND_NOTES_TITLE, BAND_NOTE, BAND_NOTES_MORE };
struct band {
	enum band_sort sort;
	size_t line;  /* of the face */
	size_t level; /* BAND_BOXES: which box of each column; across: which seven */
	bool first;   /* of its line, or of its line on its page: the name stands there */
	bool continued;
	size_t more[BOARD_COLUMNS]; /* BAND_MORE: boxes left out in each column */
	const char *text;           /* BAND_NOTE, BAND_NOTES_MORE: one line of it */
	double y, height;
	int64_t page; /* from 0 */
};

/* Where all stands, with letters of one size. */
struct flow {
	struct pen *pen;
	const struct board_face *face;
	size_t step, number_step; /* sizes: of all, of the numbers in the boxes */
	double em, line;          /* of `step`, and from line to line */
	double column;            /* width of one */
	bool roomy; /* titles on two lines where they need them, times on a line of their own */
	size_t columns_shown; /* boxes in a column at most; SIZE_MAX: all */
	struct band *bands;
	size_t count, room;
	size_t boxes_left, notes_left;
	int64_t pages;
};

/* Fills a flow of letters of that size, on as many pages as it takes. */
void flow_fill(struct flow *flow, struct pen *pen, const struct board_face *face, size_t step,
               bool roomy);
/* On one page alone: boxes and notes that find no room are left out and counted. */
void flow_fill_one(struct flow *flow, struct pen *pen, const struct board_face *face, size_t step);

/* The box of a band in a column; NULL: none stands there. */
const struct board_box *flow_box(const struct flow *flow, const struct band *band, size_t column);
/* Where text may stand across in a box. */
struct room {
	double left, right;
};
struct room flow_box_room(const struct flow *flow, const struct board_box *box, size_t column);
/* Has the time a line of its own? Where it does not fit beside the number, or there is room. */
bool flow_box_is_tall(const struct flow *flow, const struct board_box *box);
/* What of a title stands on its first line, in bytes; the rest goes on the second. */
size_t flow_title_length(const struct flow *flow, const struct board_box *box);
double flow_box_height(const struct flow *flow, const struct board_box *box);
/* As many bytes of a text as stand on one line, cut at a blank where there is one. */
size_t flow_line_length(const struct flow *flow, const char *text, double width);
double flow_column_x(const struct flow *flow, size_t column);

/* Draws one page of it, number from 0. */
void board_draw_page(const struct flow *flow, int64_t page);

#endif
