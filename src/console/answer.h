/* What an answer is made of while a command fills it: a tree of data, and the text for people. */
#ifndef TOOTHRACK_CONSOLE_ANSWER_H
#define TOOTHRACK_CONSOLE_ANSWER_H

#include "toothrack/console.h"

enum node_sort {
	NODE_OBJECT,
	NODE_ARRAY,
	NODE_WORD,
	NODE_COUNT,
	NODE_NUMBER,
	NODE_YES_NO,
	NODE_NULL,
};

struct node {
	enum node_sort sort;
	const char *key; /* NULL within an array and at the top */
	const char *text;
	int64_t count;
	double number; /* rounded already */
	bool yes;
	struct node *parent, *next, *first, *last;
};

/* Rows of a table that are held before they are laid out: their cells make the columns. */
#define TABLE_ROWS_HELD 500
/* Bytes that an answer with a sink holds before it gives them there. */
#define ANSWER_BYTES_HELD ((size_t)512 * 1024)

/* A table while its rows come in. */
struct table_row {
	enum answer_mark mark;
	const char **cells; /* as many as columns, never NULL */
	struct table_row *next;
};
struct table {
	bool open;
	size_t count;
	const char **names;
	bool *right;
	size_t *widths; /* of the rows laid out so far; later ones may widen them */
	size_t *least;  /* how narrow each may become: its longest word */
	bool headed;    /* the names stand above rows laid out already */
	bool begun;     /* some rows are laid out already */
	bool *left_out; /* columns that nothing stands in, where room is short */
	size_t held;    /* rows from `first` on */
	struct table_row *first, *last;
};

/* The columns of a CSV, in the order met. */
struct headings {
	struct arena *arena;
	const char **names;
	size_t count, room;
	bool written; /* the heading is out: the columns stay as they are */
};

/* Where a long answer goes piece by piece. */
struct answer_sink {
	/* Takes bytes at once. False: nobody wants more of them. */
	bool (*take)(void *context, const char *bytes);
	void *context;
};

struct answer {
	struct arena *lasting; /* as long as the answer */
	struct arena *arena;   /* what is held; emptied as that goes to the sink */
	const struct answer_sink *sink;
	bool begun;    /* some of it went to the sink */
	bool unwanted; /* the sink takes no more */
	enum answer_form form;
	enum units units;
	size_t width; /* of the terminal, 0: lines are not wrapped */
	bool colour;
	const char *charset; /* of the terminal; NULL: UTF-8 */
	bool indented;       /* JSON for people's eyes rather than one line */
	struct node *root, *open;
	struct table table;
	struct headings headings;
	struct text out;
};

/* An empty answer of one command. It and all that is given to it live in the arena. */
struct answer *answer_new(struct arena *arena, enum answer_form form, enum units units);

/*
 * Gives the answer a sink, before anything is said. What is held from now on lives in `held`, an
 * arena of the answer's own, and goes to the sink when there is enough of it: lines and rows of
 * tables in text, elements of an array at the top in JSON and CSV. A short answer stays whole
 * until it is finished.
 */
void answer_stream(struct answer *answer, struct arena *held, const struct answer_sink *sink);
/* Gives the sink what is laid out, where that is enough. For the answer writer's own use. */
void answer_flow(struct answer *answer);
/*
 * Gives the sink all that is held, however little: lines, and elements of the array at the top,
 * which are whole. In JSON what goes out so ends in a line end, for who reads by the line.
 */
void answer_flush(struct answer *answer);

/* Is everything closed that was opened? */
bool answer_is_whole(const struct answer *answer);

/*
 * The answer as bytes to print, or what the sink has not had of it; "" where the command said
 * nothing.
 */
const char *answer_finish(struct answer *answer);

/* Lays out the rows of a table that are held. */
void table_lay_out(struct answer *answer);
/* A text as it can be shown: no control characters, nothing that the terminal lacks. */
const char *answer_shown(struct answer *answer, const char *text);
/* One line of `length` bytes, without the blanks at its end, marked. */
void answer_add_line(struct answer *answer, enum answer_mark mark, const char *bytes,
                     size_t length);
/*
 * A text over as many lines as it takes, all but the first from column `indent` on. `line` holds
 * what stands before it on the first.
 */
void answer_add_wrapped(struct answer *answer, enum answer_mark mark, struct text *line,
                        size_t indent, const char *text);

/* The data in one form. In the arena. */
const char *answer_json(struct arena *arena, const struct node *root, bool indented);
/* The elements of an array without what stands around them; `more`: after others. */
const char *answer_json_elements(struct arena *arena, const struct node *root, bool indented,
                                 bool more);
/*
 * The rows, under their heading where `headings` has not written it yet. Then the columns are
 * those of that heading.
 */
const char *answer_csv(struct arena *arena, const struct node *root, struct headings *headings);

/* Rounded to so many decimals, half away from zero. */
double answer_rounded(double number, int decimals);

/* A number as JSON and CSV show it: as few digits as it has, `12.0` for a whole one. */
const char *answer_digits(struct arena *arena, double number);

#endif
