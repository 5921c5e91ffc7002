/*
 * Rows of a CSV text: RFC 4180, and what spreadsheets make of it (a byte order mark, CRLF, LF or CR, `;` or TAB between
 * cells, line breaks within quotes).
 */
#ifndef TOOTHRACK_ROOM_CSV_H
#define TOOTHRACK_ROOM_CSV_H

#include "toothrack/base.h"

/* One row; its cells live in the arena it was read into. */
struct csv_row {
	int64_t line; /* on which it begins, from 1 */
	const char **cells;
	size_t count;
	int64_t bytes_read; /* of the text, up to its end */
};
/* Gets each row; anything but OUTCOME_DONE stops the reading and is given back. */
typedef enum outcome (*csv_take)(const struct csv_row *row, void *context);

/*
 * Reads all rows, the heading first. `each_arena` holds one row and is reset before the next. A torn text (a quote that is never closed, a quote in the
 * middle of a cell, a NUL) is OUTCOME_BAD; `*line` then tells where.
 */
enum outcome csv_read(struct arena *each_arena, const char *text, size_t length, csv_take take,
                      void *context, int64_t *line, struct fault *fault);

#endif
