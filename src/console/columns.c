/* Texts as a terminal shows them: harmless, measured in columns, wrapped. */
#include <string.h>
#include <wchar.h>

#include "columns.h"

size_t character_read(const char *text, uint32_t *code)
{
	const unsigned char *bytes = (const unsigned char *)text;
	uint32_t value = bytes[0];
	size_t length = 1;

	if (value >= 0xf0 && value <= 0xf4) {
		length = 4;
		value &= 0x07;
	} else if (value >= 0xe0 && value < 0xf0) {
		length = 3;
		value &= 0x0f;
	} else if (value >= 0xc2 && value < 0xe0) {
		length = 2;
		value &= 0x1f;
	} else if (value >= 0x80 || value == 0) {
		return 0;
	}
	for (size_t i = 1; i < length; i++) {
		if ((bytes[i] & 0xc0) != 0x80) {
			return 0;
		}
		value = value << 6 | (bytes[i] & 0x3f);
	}
	bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
	if (overlong || (value >= 0xd800 && value <= 0xdfff) || value > 0x10ffff) {
		return 0;
	}
	*code = value;
	return length;
}

/* How many bytes in front are printable ASCII, each a character of one column: mostly all. */
static size_t plain_length(const char *text)
{
	size_t length = 0;
	while (text[length] >= 0x20 && text[length] < 0x7f) {
		length++;
	}
	return length;
}

static bool is_control(uint32_t code)
{
	return code < 0x20 || (code >= 0x7f && code < 0xa0);
}

const char *text_harmless(struct arena *arena, const char *text)
{
	size_t plain = plain_length(text);
	if (text[plain] == '\0') {
		return arena_copy_bytes(arena, text, plain);
	}
	struct text out = text_start(arena);
	while (*text != '\0') {
		uint32_t code = 0;
		size_t length = character_read(text, &code);
		if (*text == '\n' || *text == '\t') {
			text_add(&out, " ");
		} else if (length == 0 || is_control(code) || text_turns(text)) {
			text_add_format(&out, "\\x%02x", (unsigned char)*text);
			length = 1;
		} else {
			text_add_bytes(&out, text, length);
		}
		text += length;
	}
	return out.bytes;
}

const char *text_valid(struct arena *arena, const char *text)
{
	struct text out = text_start(arena);
	while (*text != '\0') {
		uint32_t code = 0;
		size_t length = character_read(text, &code);
		if (length == 0) {
			text_add_format(&out, "\\x%02x", (unsigned char)*text);
			length = 1;
		} else {
			text_add_bytes(&out, text, length);
		}
		text += length;
	}
	return out.bytes;
}

locale_t locale_utf8(void)
{
	static locale_t locale = (locale_t)0;
	if (locale == (locale_t)0) {
		locale = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
	}
	return locale;
}

/* Columns of one character. Where it is not known, one: most are. */
static size_t character_columns(uint32_t code)
{
	if (code < 0x80) {
		return 1;
	}
	locale_t before = uselocale(locale_utf8());
	int columns = wcwidth((wchar_t)code);
	uselocale(before);
	return columns < 0 ? 1 : (size_t)columns;
}

size_t text_columns_of(const char *text, size_t length)
{
	const char *end = text + length;
	size_t columns = 0;
	while (text < end) {
		uint32_t code = 0;
		if (*text >= 0x20 && *text < 0x7f) {
			columns++;
			text++;
			continue;
		}
		size_t bytes = character_read(text, &code);
		columns += bytes == 0 ? 1 : character_columns(code);
		text += bytes == 0 ? 1 : bytes;
	}
	return columns;
}

size_t text_columns(const char *text)
{
	return text_columns_of(text, strlen(text));
}

size_t text_fit(const char *text, size_t columns, const char **rest)
{
	const char *at = text;
	const char *blank = NULL;
	size_t used = 0, plain = plain_length(text);

	if (text[plain] == '\0' && plain <= columns) {
		*rest = text + plain;
		return plain;
	}
	while (*at != '\0') {
		uint32_t code = 0;
		size_t length = character_read(at, &code);
		size_t wide = length == 0 ? 1 : character_columns(code);
		if (used + wide > columns && *at != ' ' && at > text) {
			const char *end = blank != NULL ? blank : at;
			*rest = end + strspn(end, " ");
			return (size_t)(end - text);
		}
		if (*at == ' ' && at > text && at[-1] != ' ') {
			blank = at;
		}
		used += wide;
		at += length == 0 ? 1 : length;
	}
	*rest = at;
	return (size_t)(at - text);
}

const char *text_cut(struct arena *arena, const char *text, size_t columns)
{
	if (text_columns(text) <= columns) {
		return text;
	}
	size_t used = 0, length = 0;
	while (text[length] != '\0') {
		uint32_t code = 0;
		size_t bytes = character_read(text + length, &code);
		bytes = bytes == 0 ? 1 : bytes;
		used += text_columns_of(text + length, bytes);
		if (used + 3 > columns) {
			break;
		}
		length += bytes;
	}
	while (length > 0 && text[length - 1] == ' ') {
		length--;
	}
	return arena_format(arena, "%.*s...", (int)length, text);
}

/* A part between two commas that is longer is running text, and broken like that. */
#define PART_MOST 26

size_t text_fit_parts(const char *text, size_t columns, const char **rest)
{
	size_t length = text_fit(text, columns, rest);
	const char *end = **rest != '\0' ? text + length : text;
	while (end > text + 1 && !(end[-1] == ',' && *end == ' ')) {
		end--;
	}
	size_t before = (size_t)(end - text);
	size_t part = strcspn(end + strspn(end, " "), ",");
	if (before <= 1 || part > PART_MOST || 3 * text_columns_of(text, before) < columns) {
		return length;
	}
	*rest = end + strspn(end, " ");
	return before;
}
