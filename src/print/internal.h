/* What the files of src/print share. Inside it all is in dots: whole dots of the printer. */
#ifndef TOOTHRACK_PRINT_INTERNAL_H
#define TOOTHRACK_PRINT_INTERNAL_H

#include "toothrack/print.h"

/* ------------------------------------------------------------------ symbols (symbol.c) */

/* A symbol in modules, without its quiet zones. */
struct symbol {
	bool linear;                  /* bars: one row of modules, as high as one likes */
	int64_t wide, high;           /* modules; a linear one is one high */
	int64_t quiet;                /* modules of quiet zone each side; a linear one has none above */
	const unsigned char *modules; /* wide x high of them, row by row; 1: dark. In the arena */
};

/* A Data Matrix symbol may be a square or a rectangle; the others take no notice. */
enum symbol_shape { SHAPE_SQUARE, SHAPE_RECTANGLE };

/*
 * Makes the smallest symbol that holds the content. OUTCOME_BAD with what is wrong where there is
 * none; `code` names the tag in the message.
 */
enum outcome symbol_make(struct arena *arena, enum symbology symbology, enum symbol_shape shape,
                         const struct tag_face *face, struct symbol *out, struct fault *fault);

/* ------------------------------------------------------------------ layout (layout.c) */

struct box {
	int64_t x, y, width, height; /* dots, from the upper left corner of the tag */
};

/* What a layout has to go by. */
struct space {
	int64_t width, height; /* of the tag */
	int64_t x_least;       /* fewest dots of a module */
	int64_t x_most;        /* most dots of a module */
	int64_t around_most;   /* of a symbol around the curve of its carrier; 0: a flat carrier */
	int64_t dots_per_inch;
	size_t line_count;
	int64_t line_heights[STOCK_LINES_MOST]; /* capitals as wanted; 0: that line is left out */
	int64_t line_widths[STOCK_LINES_MOST];  /* room to want, in hundredths of those capitals */
};

/* Lowest capitals that a person reads at all: common practice, no source. In micrometres. */
#define CAPITALS_LEAST_UM 800

/* Where all stands on one tag. */
struct layout {
	bool has_symbol;
	int64_t x_dots;
	bool turned;                        /* the symbol is turned by a quarter to the right */
	struct box symbol;                  /* without its quiet zones, as it stands after turning */
	struct box lines[STOCK_LINES_MOST]; /* height 0: not there */
	bool centred;                       /* the text, in its boxes */
};

/* Why there is no layout, and what there would have to be. */
enum misfit { MISFIT_SIZE, MISFIT_CURVE };
struct unfit {
	enum misfit misfit;
	int64_t modules;       /* of the longer side, quiet zones included */
	int64_t x_dots;        /* fewest that a module may have */
	int64_t width, height; /* dots that the tag would have to have */
	int64_t around;        /* dots that the symbol takes around the curve */
};

/*
 * Lays a tag out: X as large as fits, the symbol where it leaves the text more. `symbol` NULL: text
 * alone. Pure. False, and `unfit` filled, where it does not fit.
 */
bool layout_tag(const struct space *space, const struct symbol *symbol, struct layout *out,
                struct unfit *unfit);

/* Whole dots in a length, rounded down; up; to the nearest. And the length of dots. */
int64_t dots_within(struct length length, int64_t dots_per_inch);
int64_t dots_covering(struct length length, int64_t dots_per_inch);
int64_t dots_nearest(struct length length, int64_t dots_per_inch);
struct length dots_length(int64_t dots, int64_t dots_per_inch);

/* ------------------------------------------------------------------ a run (plan.c, draw.c) */

struct placed {
	const struct tag_face *face;
	struct symbol symbol;
	struct layout layout;
	int64_t page, x, y; /* its cell, dots from the upper left corner of the page */
};

/* Writes a file that is there whole or as it was before; faults as print_tags. */
enum outcome print_write(struct arena *arena, const char *path, const struct text *bytes,
                         struct fault *fault);

/* Does the line hold the tag itself? That one is never cut. */
bool line_holds_tag(const struct stock_line *line);

/* Draws all pages; the bytes of the file into `out`. */
enum outcome draw_tags(struct arena *arena, const struct stock *stock, const struct placed *placed,
                       size_t count, enum file_form form, struct text *out, struct fault *fault);

/*
 * Loads what draws from a shared library, if that is not done yet; for draw_tags and for a test
 * of what is said where the library is not there.
 */
enum outcome draw_load(const char *library, struct fault *fault);

#endif
