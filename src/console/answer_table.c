/*
 * Tables for people. Rows are held, laid out some hundreds at a time, and let go: the columns are
 * as wide as what they hold; where the terminal is narrower, columns that nothing stands in are
 * left out, and texts wrap within the widest.
 */
#include <assert.h>
#include <string.h>

#include "answer.h"
#include "columns.h"

#define BETWEEN_COLUMNS 2
/* A word longer than this is broken rather than make the column so wide. Tags and figures are not.
 */
#define WORD_MOST 24
/* How far the cells of a row stand in below its first, where they stand one below the other. */
#define BELOW_FIRST 2

void answer_table_open(struct answer *answer, const char *const *columns, size_t count)
{
	if (answer->form != FORM_TEXT) {
		return;
	}
	assert(!answer->table.open && count > 0);
	struct arena *arena = answer->lasting;
	answer->table = (struct table){
		.open = true,
		.count = count,
		.names = arena_take(arena, count, sizeof(const char *)),
		.right = arena_take(arena, count, sizeof(bool)),
		.widths = arena_take(arena, count, sizeof(size_t)),
		.least = arena_take(arena, count, sizeof(size_t)),
		.left_out = arena_take(arena, count, sizeof(bool)),
	};
	for (size_t i = 0; i < count; i++) {
		bool right = columns[i][0] == '>';
		answer->table.right[i] = right;
		answer->table.names[i] = arena_copy(arena, answer_shown(answer, columns[i] + right));
	}
}

void answer_table_row(struct answer *answer, enum answer_mark mark, const char *const *cells)
{
	if (answer->form != FORM_TEXT) {
		return;
	}
	struct table *table = &answer->table;
	assert(table->open);
	struct table_row *row = arena_take(answer->arena, 1, sizeof *row);
	row->mark = mark;
	row->cells = arena_take(answer->arena, table->count, sizeof *row->cells);
	for (size_t i = 0; i < table->count; i++) {
		row->cells[i] = cells[i] == NULL ? "" : answer_shown(answer, cells[i]);
	}
	if (table->last == NULL) {
		table->first = row;
	} else {
		table->last->next = row;
	}
	table->last = row;
	table->held++;
	if (answer->sink != NULL && table->held == TABLE_ROWS_HELD) {
		table_lay_out(answer);
	}
	answer_flow(answer);
}

void answer_table_close(struct answer *answer)
{
	if (answer->form != FORM_TEXT) {
		return;
	}
	assert(answer->table.open);
	answer->table.open = false;
	table_lay_out(answer);
	answer_flow(answer);
}

/* ---------------------------------------------------------------- how wide */

/* Columns of the longest word, with the blanks in front of the first. */
static size_t longest_word(const char *cell)
{
	size_t lead = strspn(cell, " ");
	size_t longest = 0;
	for (const char *at = cell + lead; *at != '\0'; at += strspn(at, " ")) {
		size_t length = strcspn(at, " ");
		size_t columns = text_columns_of(at, length);
		longest = columns > longest ? columns : longest;
		at += length;
	}
	return lead + (longest > WORD_MOST ? WORD_MOST : longest);
}

static void measure(struct table *table, const char *const *cells)
{
	for (size_t i = 0; i < table->count; i++) {
		size_t columns = text_columns(cells[i]);
		size_t least = table->right[i] ? columns : longest_word(cells[i]);
		table->widths[i] = columns > table->widths[i] ? columns : table->widths[i];
		table->least[i] = least > table->least[i] ? least : table->least[i];
	}
}

/* The widest column that can be narrower; COUNT where there is none. */
static size_t widest(const struct table *table, const size_t *widths)
{
	size_t found = table->count;
	for (size_t i = 0; i < table->count; i++) {
		bool yields = !table->left_out[i] && !table->right[i] && widths[i] > table->least[i];
		if (yields && (found == table->count || widths[i] > widths[found])) {
			found = i;
		}
	}
	return found;
}

/* Columns of the terminal that the table takes. */
static size_t width_of(const struct table *table)
{
	size_t all = 0;
	for (size_t i = 0; i < table->count; i++) {
		if (!table->left_out[i]) {
			all += table->widths[i] + (all > 0 ? BETWEEN_COLUMNS : 0);
		}
	}
	return all;
}

/* The columns but the first that nothing stands in. Only where all rows are held. */
static void leave_out_empty(struct table *table)
{
	for (size_t i = 1; i < table->count; i++) {
		bool empty = table->first != NULL;
		for (const struct table_row *row = table->first; row != NULL && empty; row = row->next) {
			empty = row->cells[i][0] == '\0';
		}
		table->left_out[i] = empty;
	}
}

/* Makes the columns fit the terminal. False where no column can be narrower and they do not. */
static bool fit(const struct answer *answer, size_t *widths)
{
	const struct table *table = &answer->table;
	size_t all = width_of(table);
	memcpy(widths, table->widths, table->count * sizeof *widths);
	while (answer->width > 0 && all > answer->width) {
		size_t column = widest(table, widths);
		if (column == table->count) {
			return false;
		}
		widths[column]--;
		all--;
	}
	return true;
}

/* ---------------------------------------------------------------- rows */

/*
 * As much of a cell as one line takes; `*rest` moves behind it. Lines after the first begin below
 * its first word.
 */
static void piece_add(struct text *line, const char *cell, const char **rest, size_t width,
                      bool right)
{
	size_t lead = *rest == cell ? 0 : strspn(cell, " ");
	const char *piece = *rest;
	size_t length = text_fit_parts(piece, width > lead ? width - lead : 1, rest);
	while (length > 0 && piece[length - 1] == ' ') {
		length--;
	}
	size_t columns = text_columns_of(piece, length) + (length > 0 ? lead : 0);
	size_t fill = width > columns ? width - columns : 0;
	text_add_blanks(line, (right ? fill : 0) + (length > 0 ? lead : 0));
	text_add_bytes(line, piece, length);
	text_add_blanks(line, right ? 0 : fill);
}

/* One row side by side, over as many lines as its longest cell takes. */
static void row_add(struct answer *answer, enum answer_mark mark, const char *const *cells,
                    const size_t *widths)
{
	const struct table *table = &answer->table;
	const char **rest = arena_take(answer->arena, table->count, sizeof *rest);
	bool more = true;
	memcpy(rest, cells, table->count * sizeof *rest);
	while (more) {
		struct text line = text_start(answer->arena);
		more = false;
		for (size_t i = 0; i < table->count; i++) {
			if (table->left_out[i]) {
				continue;
			}
			text_add_blanks(&line, i == 0 ? 0 : BETWEEN_COLUMNS);
			piece_add(&line, cells[i], &rest[i], widths[i], table->right[i]);
			more = more || *rest[i] != '\0';
		}
		answer_add_line(answer, mark, line.bytes, line.length);
	}
}

/* One row whose cells stand one below the other, each behind the name of its column. */
static void row_stack(struct answer *answer, const struct table_row *row)
{
	const struct table *table = &answer->table;
	size_t lead = strspn(row->cells[0], " ");
	for (size_t i = 0; i < table->count; i++) {
		const char *cell = row->cells[i] + strspn(row->cells[i], " ");
		bool named = table->names[i][0] != '\0';
		if (*cell == '\0') {
			continue;
		}
		struct text line = text_start(answer->arena);
		text_add_blanks(&line, i == 0 ? lead : lead + BELOW_FIRST);
		answer_add_wrapped(answer, row->mark, &line, lead + BELOW_FIRST + BELOW_FIRST,
		                   arena_format(answer->arena, "%s%s%s", table->names[i], named ? "  " : "",
		                                cell));
	}
}

void table_lay_out(struct answer *answer)
{
	struct table *table = &answer->table;
	size_t *widths = arena_take(answer->arena, table->count, sizeof *widths);
	bool named = false;
	for (size_t i = 0; i < table->count; i++) {
		named = named || table->names[i][0] != '\0';
	}
	if (table->first != NULL) {
		measure(table, table->names);
	}
	for (const struct table_row *row = table->first; row != NULL; row = row->next) {
		measure(table, row->cells);
	}
	if (answer->width > 0 && !table->open && !table->begun && width_of(table) > answer->width) {
		leave_out_empty(table);
	}
	table->begun = true;
	bool side_by_side = fit(answer, widths);
	if (side_by_side && named && !table->headed && table->first != NULL) {
		row_add(answer, MARK_STRONG, table->names, widths);
		table->headed = true;
	}
	for (const struct table_row *row = table->first; row != NULL; row = row->next) {
		if (side_by_side) {
			row_add(answer, row->mark, row->cells, widths);
		} else {
			row_stack(answer, row);
		}
	}
	table->first = NULL;
	table->last = NULL;
	table->held = 0;
}
