/* Cells of a plot in the terminal, with dots in them. */
#ifndef TOOTHRACK_CONSOLE_PLOT_CANVAS_H
#define TOOTHRACK_CONSOLE_PLOT_CANVAS_H

#include "toothrack/print.h"

struct spot {
	unsigned char dots; /* of a braille pattern: Unicode, block 2800, dot n is bit n - 1 */
	const char *sign;   /* a character in place of the dots, or NULL */
	size_t line;        /* number of the line that came last, from 1 */
	bool shared;        /* by several lines */
	bool point;
};
/* Dots lie from 0 at the left and at the top. In ASCII a cell is one dot. */
struct canvas {
	bool braille;
	size_t columns, rows;
	int64_t across, down; /* dots */
	double x_least, x_most, y_least, y_most;
	struct spot *spots;   /* row by row */
	unsigned char *clear; /* dot by dot; 1: a line runs there or beside it, no band is drawn */
};

struct canvas canvas_start(struct arena *arena, bool braille, size_t columns, size_t rows);
/* Where a value lies, in dots; outside of the canvas too. */
double canvas_x(const struct canvas *canvas, double value);
double canvas_y(const struct canvas *canvas, double value);
/* The spot of a point within the extents; NULL: it lies outside, or is no number. */
struct spot *canvas_spot(const struct canvas *canvas, double x, double y);

/* Draws; `number` from 1 tells lines apart. Bands come after the lines, around which they are left
 * out: a line within a band must be seen. */
void canvas_line(struct canvas *canvas, const struct plot_line *line, size_t number);
void canvas_band(struct arena *arena, struct canvas *canvas, const struct plot_band *band);
/* Puts a mark where its spot is free of points, and of lines unless `over` them. */
void canvas_point(struct canvas *canvas, enum plot_mark mark, const struct plot_point *point,
                  bool over);
/* Writes a name of one column a byte into the cells of a level line, where it hides nothing. */
void canvas_label(struct arena *arena, struct canvas *canvas, const struct plot_line *line,
                  size_t number, const char *name);

/* The cells of one row as text. */
void canvas_row(const struct canvas *canvas, size_t row, struct text *out);
/* A mark as a character. */
const char *canvas_mark(bool braille, enum plot_mark mark);

#endif
