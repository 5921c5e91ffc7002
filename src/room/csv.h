/*
 * Rows of a CSV text: RFC 4180, and what spreadsheets make of it (a byte order mark, CRLF, LF or
 * CR, `;` or TAB between cells, line breaks within quotes, which are newlines in the cell).
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

/* What may stand between cells; ends with NUL. */
extern const char csv_separators[];

/*
 * Where a text is torn: the line, and which cell of its row (from 0), or SIZE_MAX where that is not
 * known.
 */
struct csv_tear {
	int64_t line;
	size_t cell;
};

/*
 * Reads all rows, the heading first; lines that are empty, or hold nothing but separators and
 * blanks, are passed over. `each_arena` holds one row and is reset before the next. A torn text (a
 * quote that is never closed, a quote in the middle of a cell, a NUL, UTF-16) is OUTCOME_BAD with
 * the fault filled; `tear` then tells where. The rows before it were given already.
 */
enum outcome csv_read(struct arena *each_arena, const char *text, size_t length, char separator,
                      csv_take take, void *context, struct csv_tear *tear, struct fault *fault);

#endif
