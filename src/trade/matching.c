/*
 * Maximum matching by augmenting paths, and the set of rows that proves why one was left out. Each
 * search is breadth-first from one row, so that nothing recurses; lower columns are tried first.
 */
#include <string.h>

#include "toothrack/trade.h"

/* One search: rows waiting to be looked at, and from which row each column was reached. */
struct search {
	size_t columns;
	const uint8_t *allowed;
	const size_t *column_match; /* by column: its row, or ASSIGNED_NONE */
	size_t *queue;              /* rows */
	size_t *reached_from;       /* by column: the row, or ASSIGNED_NONE where not reached */
};

static size_t *taken(struct arena *arena, size_t count)
{
	size_t *numbers = arena_take(arena, count + 1, sizeof(*numbers));
	for (size_t i = 0; i < count; i++)
		numbers[i] = ASSIGNED_NONE;
	return numbers;
}

/*
 * Follows all alternating paths from the rows that the queue holds (`count` of them, looked at from
 * `next` on). Returns the first column found that no row has, or ASSIGNED_NONE when every column
 * within reach is taken; reached_from then holds the whole reach. `*count` is how many rows the
 * queue holds in the end.
 */
static size_t search_on(struct search *search, size_t next, size_t *count)
{
	for (; next < *count; next++) {
		size_t row = search->queue[next];
		const uint8_t *allowed = search->allowed + row * search->columns;
		for (size_t column = 0; column < search->columns; column++) {
			if (!allowed[column] || search->reached_from[column] != ASSIGNED_NONE)
				continue;
			search->reached_from[column] = row;
			if (search->column_match[column] == ASSIGNED_NONE)
				return column;
			search->queue[(*count)++] = search->column_match[column];
		}
	}
	return ASSIGNED_NONE;
}

static size_t search_from(struct search *search, size_t start, size_t *visited)
{
	for (size_t column = 0; column < search->columns; column++)
		search->reached_from[column] = ASSIGNED_NONE;
	search->queue[0] = start;
	*visited = 1;
	return search_on(search, 0, visited);
}

size_t matching_solve(struct arena *arena, size_t rows, size_t columns, const uint8_t *allowed,
                      size_t *row_match)
{
	size_t *column_match = taken(arena, columns);
	struct search search = {
		.columns = columns,
		.allowed = allowed,
		.column_match = column_match,
		.queue = taken(arena, rows),
		.reached_from = taken(arena, columns),
	};
	for (size_t row = 0; row < rows; row++)
		row_match[row] = ASSIGNED_NONE;
	size_t size = 0;
	for (size_t start = 0; start < rows; start++) {
		size_t visited;
		size_t column = search_from(&search, start, &visited);
		if (column == ASSIGNED_NONE)
			continue;
		size++;
		/* Each row on the path takes the column it reached and gives up the one it had. */
		while (column != ASSIGNED_NONE) {
			size_t row = search.reached_from[column];
			size_t given_up = row_match[row];
			row_match[row] = column;
			column_match[column] = row;
			column = given_up;
		}
	}
	return size;
}

/* A row left out, not counted in yet, that could use a column within reach; or ASSIGNED_NONE. */
static size_t another_left_out(const struct search *search, size_t rows, const size_t *row_match,
                               const uint8_t *in_rows)
{
	for (size_t row = 0; row < rows; row++) {
		const uint8_t *allowed = search->allowed + row * search->columns;
		for (size_t column = 0;
		     column < search->columns && row_match[row] == ASSIGNED_NONE && !in_rows[row];
		     column++) {
			if (allowed[column] && search->reached_from[column] != ASSIGNED_NONE)
				return row;
		}
	}
	return ASSIGNED_NONE;
}

void matching_hall_set(struct arena *arena, size_t rows, size_t columns, const uint8_t *allowed,
                       const size_t *row_match, size_t left_out, uint8_t *in_rows,
                       uint8_t *in_columns)
{
	size_t *column_match = taken(arena, columns);
	for (size_t row = 0; row < rows; row++) {
		if (row_match[row] != ASSIGNED_NONE)
			column_match[row_match[row]] = row;
	}
	struct search search = {
		.columns = columns,
		.allowed = allowed,
		.column_match = column_match,
		.queue = taken(arena, rows),
		.reached_from = taken(arena, columns),
	};
	memset(in_rows, 0, rows);
	memset(in_columns, 0, columns);
	size_t visited;
	search_from(&search, left_out, &visited);
	for (size_t i = 0; i < visited; i++)
		in_rows[search.queue[i]] = 1;
	size_t row;
	while ((row = another_left_out(&search, rows, row_match, in_rows)) != ASSIGNED_NONE) {
		size_t before = visited;
		search.queue[visited++] = row;
		search_on(&search, before, &visited);
		for (size_t i = before; i < visited; i++)
			in_rows[search.queue[i]] = 1;
	}
	for (size_t column = 0; column < columns; column++)
		in_columns[column] = search.reached_from[column] != ASSIGNED_NONE;
}
