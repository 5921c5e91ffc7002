/*
 * Tags, and later sheets and plots: plain structs in, files out. Knows no store. libzint makes the
 * symbols, cairo draws them in exact millimetres, pango sets the text.
 */
#ifndef TOOTHRACK_PRINT_H
#define TOOTHRACK_PRINT_H

#include "toothrack/quantity.h"
#include "toothrack/tag.h"

/* ------------------------------------------------------------------ stocks */

/* Text alone stands on a stock of SYMBOLOGY_NONE; SYMBOLOGY_COUNT counts those that draw. */
enum symbology { SYMBOLOGY_CODE_128, SYMBOLOGY_DATA_MATRIX, SYMBOLOGY_QR, SYMBOLOGY_NONE };
#define SYMBOLOGY_COUNT 3
/* `code128` `datamatrix` `qr` `none`, as in a stock. */
const char *symbology_name(enum symbology symbology);

/* One line of text on a tag. */
#define STOCK_ATTRIBUTES_MOST 24
struct stock_line {
	/* Names of attributes, in the order in which they are told; those that a record has not are
	   left out. `tag` is the tag as shown, `title` what the record is, `repeat` worked out where it
	   has teeth. */
	const char *attributes[STOCK_ATTRIBUTES_MOST];
	size_t attribute_count;
	struct length height; /* of its capitals and figures; 0: chosen to fit */
};
#define STOCK_LINES_MOST 8

/* What a stock is for, as bits. */
enum stock_use {
	STOCK_TOOL = 1,
	STOCK_PLACE = 2,
	STOCK_PRESS = 4,
	STOCK_JOB = 8,
	STOCK_BADGE = 16,
	STOCK_ACTION = 32,
};

/* A roll or a sheet of tags, as its file in labels/ says. */
struct stock {
	const char *name;                       /* of its file: `roll-50x25` */
	const char *title;                      /* in words: `roll, 50 x 25 mm, 203 dots per inch` */
	unsigned uses;                          /* of enum stock_use */
	struct length page_width, page_height;  /* of a roll: the tag's own */
	struct length margin_left, margin_top;  /* to the first tag */
	struct length width, height;            /* of a tag */
	struct length pitch_across, pitch_down; /* from tag to tag */
	int64_t across, down;                   /* tags in a row, rows on a page */
	int64_t dots_per_inch;
	enum symbology symbology;
	struct stock_line lines[STOCK_LINES_MOST];
	size_t line_count;
};

/* The stocks that the program carries, by name; ends with a NULL name. */
struct stock_file {
	const char *name; /* without .stock */
	const char *text;
};
extern const struct stock_file stock_files[];

/*
 * Reads a stock. OUTCOME_BAD: `labels/x.stock, line 7: width is no length: 50`, with what would be
 * right as the hint. `file` is for messages; the name is that of the file without folder and
 * ending. Any bytes may come. Texts in the arena.
 */
enum outcome stock_read(struct arena *arena, const char *file, const char *bytes, size_t length,
                        struct stock *out, struct fault *fault);
/*
 * The stock of a name: from FOLDER/NAME.stock where there is such a file (folder NULL: none), else
 * the program's own; or from the file that the name is, where it has a slash in it or ends in
 * `.stock`. OUTCOME_BAD where there is none, with those there are.
 */
enum outcome stock_find(struct arena *arena, const char *folder, const char *name,
                        struct stock *out, struct fault *fault);

/* ------------------------------------------------------------------ tags */

/* What one tag says. */
struct tag_face {
	const char *code;    /* as it is named in messages: `PC000123-Y` */
	const char *content; /* of the symbol: `PC000123Y`; of a GS1 symbol, AI in brackets:
	                        `[8004]4012345PC000123Y` */
	bool gs1;
	const char *const *lines; /* as many as the stock has; NULL or "": that line is left out */
	/* Diameter of the round thing it goes around, the tag's longer side along its axis; 0: a flat
	   one. The scan line runs along the axis, so that a symbol on a tall tag is turned. */
	struct length carrier;
};

enum file_form { FILE_PDF, FILE_SVG, FILE_PNG };

struct print_plan;
struct print_request {
	const struct stock *stock;
	const struct tag_face *faces;
	size_t count;
	int64_t first_cell;              /* of a half-used sheet: 1 is the first */
	struct length x_least;           /* least X-dimension: the shop's limit */
	const enum symbology *symbology; /* NULL: the stock's own */
	enum units units;                /* of what is said where it does not fit */
	/* For print_tags: what print_plan answered to this very request, which is then not worked out
	   again; or NULL. */
	const struct print_plan *plan;
};
/* How one of the tags will stand. */
struct planned_tag {
	struct length x; /* X-dimension: a whole number of dots; 0: no symbol */
	int64_t x_dots;
	const char *cut; /* what of its text will stand where it is cut short, lines joined by ` / `;
	                    NULL: none is, or print_find_cut was not asked */
};
/* How they will stand on a stock. */
struct print_plan {
	int64_t pages, cells; /* pages it takes, cells left free on the last */
	struct length x;      /* X-dimension of the smallest of the tags */
	int64_t x_dots;
	bool turned;                 /* the symbol stands on its side */
	struct planned_tag *tags;    /* one for each face; in the arena */
	const struct placed *placed; /* for print_tags alone: where each tag stands; in the arena */
};
/*
 * Would it fit? OUTCOME_NO with the first tag that does not, the reason, and in the hint the least
 * size that would, or what else fits this stock.
 */
enum outcome print_plan(struct arena *arena, const struct print_request *request,
                        struct print_plan *out, struct fault *fault);
/*
 * Finds the tags of a plan whose text will be cut short, as letters any smaller could not be read.
 * OUTCOME_STORE: a library or font that draws is missing.
 */
enum outcome print_find_cut(struct arena *arena, const struct print_request *request,
                            struct print_plan *plan, struct fault *fault);
/*
 * Draws into a file that is there whole or not at all. PDF holds all pages; SVG and PNG hold one
 * page, and are refused where it takes more. Text stays text in PDF and SVG. PNG is drawn at the
 * stock's own resolution. Faults: as print_plan; OUTCOME_BAD where the file cannot be written;
 * OUTCOME_STORE where the disk is full, or a library or font that draws is missing.
 */
enum outcome print_tags(struct arena *arena, const struct print_request *request,
                        enum file_form form, const char *path, struct print_plan *out,
                        struct fault *fault);
/* ------------------------------------------------------------------ a week on a page */

/* The mark of a box: told apart by its shape, in black and white and at half the size. */
enum board_mark { BOARD_DISC, BOARD_TRIANGLE, BOARD_CROSS, BOARD_RING, BOARD_ARROW };
#define BOARD_MARK_COUNT 5
#define BOARD_COLUMNS 7
struct board_box {
	enum board_mark mark;
	const char *number, *time, *title, *verdict; /* title may be NULL */
	bool before, after;                          /* it goes on from the left; to the right */
};
struct board_stack { /* of boxes, one below the other */
	const struct board_box *boxes;
	size_t count;
};
struct board_line {
	const char *name, *note; /* note may be NULL */
	bool across;             /* its boxes stand in no column: columns[0] holds them all */
	struct board_stack columns[BOARD_COLUMNS];
};
struct board_face {
	const char *title, *sum, *printed; /* `Week 2026-W49`; what it comes to; when it was printed */
	struct {
		const char *name;
		bool closed;
	} columns[BOARD_COLUMNS];
	const struct board_line *lines;
	size_t line_count;
	const char *notes_title;
	const char *const *notes; /* below the lines, each over as many lines of text as it takes */
	size_t note_count;
	const char *legend[BOARD_MARK_COUNT]; /* what a mark stands for */
};
/* How it came out. */
struct board_drawn {
	int64_t pages;
	size_t boxes_left, notes_left; /* for which there was no room: `and 3 more` stands there */
};
/*
 * Draws it on A4 across: its letters as large as lets all stand on one page, down to 6 points; what
 * is still too much goes on further pages of a PDF, and is counted in an SVG, which has one page.
 * Text that does not fit its place ends in an ellipsis. Whole or not at all; faults as print_tags.
 */
enum outcome print_board(struct arena *arena, const struct board_face *face, enum file_form form,
                         const char *path, struct board_drawn *out, struct fault *fault);

/* ------------------------------------------------------------------ plots */

/* Told apart by shape, in black and white and at half the size. */
enum plot_mark { PLOT_DISC, PLOT_RING, PLOT_TRIANGLE, PLOT_CROSS };
enum plot_stroke { PLOT_SOLID, PLOT_DASHED, PLOT_DOTTED };
struct plot_point {
	double x, y;
};
struct plot_series { /* single points */
	const char *name;
	enum plot_mark mark;
	const struct plot_point *points;
	size_t count;
};
struct plot_line {    /* joined, from left to right */
	const char *name; /* NULL: not in the legend */
	enum plot_stroke stroke;
	const struct plot_point *points;
	size_t count;
};
struct plot_band { /* between two lines over the same x: hatched, not told by colour alone */
	const char *name;
	const double *x, *least, *most;
	size_t count;
};
struct plot_event { /* something that happened at x: a small mark on the axis */
	double x;
};
struct plot_axis {
	const char *name;   /* with its unit: `volume, cm3/m2` */
	double least, most; /* all that is drawn lies between; where equal the plot makes room itself */
};
struct plot_face {
	const char *title;    /* `AN000045-3, anilox roll 360lpi` */
	const char *subtitle; /* or NULL */
	struct plot_axis across, up;
	const struct plot_series *series;
	size_t series_count;
	const struct plot_line *lines; /* trend solid, limit dashed, forecast dotted */
	size_t line_count;
	const struct plot_band *bands;
	size_t band_count;
	const char *events_name; /* `cleaned`; NULL: none */
	const struct plot_event *events;
	size_t event_count;
	const char *const *notes; /* sentences below it */
	size_t note_count;
	const char *printed; /* `printed 2026-12-01`, or NULL */
};
/*
 * Tick values for an axis: round numbers (1, 2 or 5 times a power of ten apart) within it, at most
 * `room`, at least two where it has an extent and there is room. `digits` becomes the places behind
 * the point. 0: no extent.
 */
size_t plot_ticks(double least, double most, double *out, size_t room, int *digits);
/* A tick as it is written, with so many places; `largest` is that of the axis without its sign:
 * what is very large or small is told by its power of ten, `1.2e8`. In the arena. */
const char *plot_tick_text(struct arena *arena, double value, double largest, int digits);
/* Is it a number that is drawn? What is none, or beyond 1e300, is left out. */
bool plot_shows(double value);
/* Does a line run level, such as a limit? Then its name stands at it, where it hides nothing. */
bool plot_is_level(const struct plot_line *line);
/* Is it a limit: level and dashed? Then it goes all across the frame, whatever its points. */
bool plot_is_limit(const struct plot_line *line);
/* Least and most of what is drawn on an axis that gives none, with a little room; for both
 * drawings. */
void plot_extent(const struct plot_face *face, double *x_least, double *x_most, double *y_least,
                 double *y_most);
/* Draws on A4 across, whole or not at all; faults as print_tags. */
enum outcome print_plot(struct arena *arena, const struct plot_face *face, enum file_form form,
                        const char *path, struct fault *fault);

/* ------------------------------------------------------------------ a tool's passport */

struct passport_row {
	const char *name, *value;
};
struct passport_face {
	const char *title;   /* `anilox roll 360lpi` */
	const char *code;    /* `AN000045-3` */
	const char *content; /* of the symbol, as in struct tag_face */
	bool gs1;
	const char *whereabouts;         /* where it is, in what condition: a line a fact, or NULL */
	const struct passport_row *rows; /* its data */
	size_t row_count;
	const char *history_title;
	const char *const *history; /* one line an entry, latest first */
	size_t history_count;
	size_t history_more;          /* earlier ones that are not among them */
	const struct plot_face *plot; /* or NULL */
	const char *printed;
};
struct passport_drawn {
	size_t rows_left, history_left; /* for which the page had no room: told on it too */
};
/* One page A4 upright: symbol, data, place, history, plot. Whole or not at all; faults as
 * print_tags. */
enum outcome print_passport(struct arena *arena, const struct passport_face *face,
                            enum file_form form, const char *path, struct passport_drawn *out,
                            struct fault *fault);

/* ------------------------------------------------------------------ files */

/* By the ending of a name, in either case; OUTCOME_BAD for another. */
enum outcome file_form_of(const char *path, enum file_form *out, struct fault *fault);

#endif
