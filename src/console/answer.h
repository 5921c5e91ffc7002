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
	struct table_row *first, *last;
};

struct answer {
	struct arena *arena;
	enum answer_form form;
	enum units units;
	size_t width; /* of the terminal, 0: lines are not wrapped */
	bool colour;
	bool indented; /* JSON for people's eyes rather than one line */
	struct node *root, *open;
	struct table table;
	struct text out;
};

/* An empty answer of one command. It and all that is given to it live in the arena. */
struct answer *answer_new(struct arena *arena, enum answer_form form, enum units units);

/* Is everything closed that was opened? */
bool answer_is_whole(const struct answer *answer);

/* The whole answer as bytes to print; "" where the command said nothing. */
const char *answer_finish(struct answer *answer);

/* The data in one form. In the arena. */
const char *answer_json(struct arena *arena, const struct node *root, bool indented);
const char *answer_csv(struct arena *arena, const struct node *root);

/* Rounded to so many decimals, half away from zero. */
double answer_rounded(double number, int decimals);

/* A number as JSON and CSV show it: as few digits as it has, `12.0` for a whole one. */
const char *answer_digits(struct arena *arena, double number);

#endif
