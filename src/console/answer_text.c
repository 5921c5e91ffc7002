/*
 * Answers for people, wrapped at the terminal's width. Colour only ever says again what words say.
 * Tables are in answer_table.c.
 */
#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "answer.h"
#include "charset.h"
#include "columns.h"

/* Where fewer columns are left it is left to the terminal: a word a line is no easier to read. */
#define COLUMN_LEAST 16
/* Behind more than this a further line does not hang: it would have too little room. */
#define HANGING_MOST 16

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

const char *answer_shown(struct answer *answer, const char *text)
{
	return charset_shown(answer->arena, answer->charset, text_harmless(answer->arena, text));
}

void answer_add_line(struct answer *answer, enum answer_mark mark, const char *bytes, size_t length)
{
	while (length > 0 && bytes[length - 1] == ' ') {
		length--;
	}
	bool marked = answer->colour && mark != MARK_PLAIN && length > 0;
	text_add(&answer->out, marked ? mark_start(mark) : "");
	text_add_bytes(&answer->out, bytes, length);
	text_add(&answer->out, marked ? "\033[0m\n" : "\n");
}

void answer_add_wrapped(struct answer *answer, enum answer_mark mark, struct text *line,
                        size_t indent, const char *text)
{
	size_t used = text_columns(line->bytes);
	do {
		const char *rest = NULL;
		size_t columns = SIZE_MAX;
		if (answer->width > used && answer->width - used >= COLUMN_LEAST) {
			columns = answer->width - used;
		}
		size_t length = text_fit(text, columns, &rest);
		text_add_bytes(line, text, length);
		answer_add_line(answer, mark, line->bytes, line->length);
		*line = text_start(answer->arena);
		text_add_blanks(line, indent);
		used = indent;
		text = rest;
	} while (*text != '\0');
}

/*
 * Where the further lines of one begin, so that none reads as a line of its own: below what stands
 * behind a tag (set apart by two blanks) or behind a word such as `caution: `; a little further in
 * than a line that stands in; else, as running text, where that began.
 */
static size_t hanging(const char *text, size_t indent)
{
	const char *start = text + indent;
	const char *apart = strstr(start, "  ");
	size_t word = strspn(start, "abcdefghijklmnopqrstuvwxyz_");
	if (apart != NULL && text_columns_of(start, (size_t)(apart - start)) <= HANGING_MOST) {
		size_t length = (size_t)(apart - start);
		return indent + text_columns_of(start, length) + strspn(apart, " ");
	}
	if (word > 0 && word <= HANGING_MOST && strncmp(start + word, ": ", 2) == 0) {
		return indent + word + 2;
	}
	return indent > 0 ? indent + 2 : 0;
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
	const char *shown = answer_shown(answer, text);
	size_t indent = strspn(shown, " ");
	struct text line = text_start(answer->arena);
	text_add_bytes(&line, shown, indent);
	answer_add_wrapped(answer, mark, &line, hanging(shown, indent), shown + indent);
	answer_flow(answer);
}

void answer_blank(struct answer *answer)
{
	if (answer->form == FORM_TEXT) {
		text_add(&answer->out, "\n");
		answer_flow(answer);
	}
}
