/*
 * Answers for people: lines and aligned tables, wrapped at the terminal's width. Colour only ever
 * says again what words say.
 */
#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "answer.h"
#include "columns.h"

#define BETWEEN_COLUMNS 2
/* A last column narrower than this is left to the terminal: a word a line is no easier to read. */
#define COLUMN_LEAST 16

/* Select Graphic Rendition, ECMA-48 section 8.3.117. */
static const char *mark_start(enum answer_mark mark)
{
	switch (mark) {
	case MARK_GOOD:
		return "\033[32m";
	case MARK_CAUTION:
		return "\033[33m";
	case MARK_BAD:
		return "\033[31m";
	case MARK_STRONG:
		return "\033[1m";
	case MARK_DIM:
		return "\033[2m";
	case MARK_PLAIN:
		break;
	}
	return "";
}

/* One line of `length` bytes, without blanks at its end, marked. */
static void line_add(struct answer *answer, enum answer_mark mark, const char *bytes, size_t length)
{
	while (length > 0 && bytes[length - 1] == ' ') {
		length--;
	}
	bool marked = answer->colour && mark != MARK_PLAIN && length > 0;
	text_add(&answer->out, marked ? mark_start(mark) : "");
	text_add_bytes(&answer->out, bytes, length);
	text_add(&answer->out, marked ? "\033[0m\n" : "\n");
}

/*
 * A text that begins at column `indent`, over as many lines as it takes. `line` holds what stands
 * before it.
 */
static void wrapped_add(struct answer *answer, enum answer_mark mark, struct text *line,
                        size_t indent, const char *text)
{
	size_t columns = SIZE_MAX;
	if (answer->width > indent && answer->width - indent >= COLUMN_LEAST) {
		columns = answer->width - indent;
	}
	do {
		const char *rest = NULL;
		size_t length = text_fit(text, columns, &rest);
		text_add_bytes(line, text, length);
		line_add(answer, mark, line->bytes, line->length);
		*line = text_start(answer->arena);
		text_add_format(line, "%*s", (int)indent, "");
		text = rest;
	} while (*text != '\0');
}

void answer_line(struct answer *answer, enum answer_mark mark, const char *format, ...)
{
	if (answer->form != FORM_TEXT) {
		return;
	}
	assert(!answer->table.open);
	va_list arguments;
	va_start(arguments, format);
	va_list again;
	va_copy(again, arguments);
	int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	char *text = arena_take(answer->arena, length < 0 ? 1 : (size_t)length + 1, 1);
	if (length > 0) {
		vsnprintf(text, (size_t)length + 1, format, again);
	}
	va_end(again);
	const char *shown = text_harmless(answer->arena, text);
	size_t indent = strspn(shown, " ");
	struct text line = text_start(answer->arena);
	text_add_bytes(&line, shown, indent);
	wrapped_add(answer, mark, &line, indent, shown + indent);
}

void answer_blank(struct answer *answer)
{
	if (answer->form == FORM_TEXT) {
		text_add(&answer->out, "\n");
	}
}

void answer_table_open(struct answer *answer, const char *const *columns, size_t count)
{
	if (answer->form != FORM_TEXT) {
		return;
	}
	assert(!answer->table.open && count > 0);
	answer->table = (struct table){
		.open = true,
		.count = count,
		.names = arena_take(answer->arena, count, sizeof(const char *)),
		.right = arena_take(answer->arena, count, sizeof(bool)),
	};
	for (size_t i = 0; i < count; i++) {
		answer->table.right[i] = columns[i][0] == '>';
		answer->table.names[i] =
			text_harmless(answer->arena, columns[i] + (answer->table.right[i] ? 1 : 0));
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
		row->cells[i] = cells[i] == NULL ? "" : text_harmless(answer->arena, cells[i]);
	}
	if (table->last == NULL) {
		table->first = row;
	} else {
		table->last->next = row;
	}
	table->last = row;
}

/* One row laid out: every cell but the last is as wide as its column, the last wraps. */
static void row_add(struct answer *answer, enum answer_mark mark, const char *const *cells,
                    const size_t *widths)
{
	const struct table *table = &answer->table;
	struct text line = text_start(answer->arena);
	size_t column = 0;
	for (size_t i = 0; i < table->count; i++) {
		size_t fill = widths[i] - text_columns(cells[i]);
		if (table->right[i]) {
			text_add_format(&line, "%*s", (int)fill, "");
			column += fill;
			fill = 0;
		}
		if (i + 1 == table->count) {
			wrapped_add(answer, mark, &line, column, cells[i]);
			return;
		}
		text_add(&line, cells[i]);
		text_add_format(&line, "%*s", (int)(fill + BETWEEN_COLUMNS), "");
		column += text_columns(cells[i]) + fill + BETWEEN_COLUMNS;
	}
}

void answer_table_close(struct answer *answer)
{
	if (answer->form != FORM_TEXT) {
		return;
	}
	struct table *table = &answer->table;
	assert(table->open);
	size_t *widths = arena_take(answer->arena, table->count, sizeof *widths);
	bool named = false;
	for (size_t i = 0; i < table->count; i++) {
		widths[i] = text_columns(table->names[i]);
		named = named || widths[i] > 0;
		for (const struct table_row *row = table->first; row != NULL; row = row->next) {
			size_t columns = text_columns(row->cells[i]);
			widths[i] = columns > widths[i] ? columns : widths[i];
		}
	}
	if (named && table->first != NULL) {
		row_add(answer, MARK_STRONG, table->names, widths);
	}
	for (const struct table_row *row = table->first; row != NULL; row = row->next) {
		row_add(answer, row->mark, row->cells, widths);
	}
	table->open = false;
}
