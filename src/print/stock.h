/* A stock while it is read (stock.c) and looked at as a whole (stock_whole.c). */
#ifndef TOOTHRACK_PRINT_STOCK_H
#define TOOTHRACK_PRINT_STOCK_H

#include "internal.h"

enum key {
	KEY_TITLE,
	KEY_USE,
	KEY_PAGE_WIDTH,
	KEY_PAGE_HEIGHT,
	KEY_MARGIN_LEFT,
	KEY_MARGIN_TOP,
	KEY_TAG_WIDTH,
	KEY_TAG_HEIGHT,
	KEY_PITCH_ACROSS,
	KEY_PITCH_DOWN,
	KEY_ACROSS,
	KEY_DOWN,
	KEY_DOTS_PER_INCH,
	KEY_SYMBOL,
	KEY_LINE,
	KEY_COUNT
};

enum key_kind { KIND_TITLE, KIND_USE, KIND_LENGTH, KIND_COUNT, KIND_SYMBOL, KIND_LINE };
enum key_need { NEED_ALWAYS, NEED_OF_SHEET, NEED_NOT };

struct stock_key {
	const char *name;
	enum key_kind kind;
	enum key_need need;
	size_t offset; /* in struct stock, of a length or a count */
	const char *example;
};
extern const struct stock_key stock_keys[KEY_COUNT];

struct stock_reader {
	struct arena *arena;
	const char *file;
	int64_t line;            /* being read; 0: the file as a whole */
	int64_t seen[KEY_COUNT]; /* line of each key, 0: not there */
	struct stock *stock;
	struct fault *fault;
};

/* The sentence behind file and line; the hint is for the caller. */
/* The sentence behind file and line; the hint is for the caller. */
enum outcome stock_refuse(const struct stock_reader *reader, int64_t line, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* What is missing, what does not go together, what does not fit on the page. */
enum outcome stock_look_at_whole(const struct stock_reader *reader);

#endif
