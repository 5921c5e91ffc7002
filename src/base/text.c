/* Texts that grow, and the comparing of words whatever their case. */
#include <stdio.h>
#include <string.h>

#include "toothrack/base.h"

struct text text_start(struct arena *arena)
{
	struct text text = {.arena = arena, .room = 64};
	text.bytes = arena_take(arena, text.room, 1);
	return text;
}

static void make_room(struct text *text, size_t more)
{
	if (text->room - text->length > more) {
		return;
	}
	size_t room = text->room * 2;
	while (room - text->length <= more) {
		room *= 2;
	}
	text->bytes = arena_grow(text->arena, text->bytes, text->length + 1, room, 1);
	text->room = room;
}

void text_add_bytes(struct text *text, const char *bytes, size_t count)
{
	if (count == 0) {
		return;
	}
	make_room(text, count);
	memcpy(text->bytes + text->length, bytes, count);
	text->length += count;
	text->bytes[text->length] = '\0';
}

void text_add(struct text *text, const char *more)
{
	text_add_bytes(text, more, strlen(more));
}

void text_add_blanks(struct text *text, size_t count)
{
	make_room(text, count);
	memset(text->bytes + text->length, ' ', count);
	text->length += count;
	text->bytes[text->length] = '\0';
}

void text_add_format(struct text *text, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	va_list again;
	va_copy(again, arguments);
	size_t room = text->room - text->length;
	int length = vsnprintf(text->bytes + text->length, room, format, arguments);
	va_end(arguments);
	if (length > 0 && (size_t)length >= room) {
		text->bytes[text->length] = '\0';
		make_room(text, (size_t)length);
		vsnprintf(text->bytes + text->length, (size_t)length + 1, format, again);
	}
	text->length += length > 0 ? (size_t)length : 0;
	va_end(again);
}

void text_join(struct text *text, const char *separator, const char *more)
{
	if (text->length > 0) {
		text_add(text, separator);
	}
	text_add(text, more);
}

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool text_equal_fold(const char *a, const char *b)
{
	while (*a != '\0' && lower(*a) == lower(*b)) {
		a++;
		b++;
	}
	return lower(*a) == lower(*b);
}
