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

static bool is_control(uint32_t code)
{
	return code < 0x20 || (code >= 0x7f && code < 0xa0);
}

const char *text_harmless(struct arena *arena, const char *text)
{
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
	size_t used = 0;

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
