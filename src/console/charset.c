/* Texts are UTF-8 everywhere but on a terminal whose locale says otherwise. */
#include <iconv.h>
#include <langinfo.h>
#include <locale.h>
#include <string.h>

#include "charset.h"
#include "columns.h"

const char *charset_local(void)
{
	const char *charset = nl_langinfo(CODESET);
	bool known = charset[0] != '\0' && strcmp(charset, "UTF-8") != 0;
	return known ? charset : NULL;
}

static bool is_ascii(const char *text)
{
	while (*text != '\0' && (unsigned char)*text < 0x80) {
		text++;
	}
	return *text == '\0';
}

/* The text in another character set; NULL where some of it is not of the one it is said to be. */
static const char *convert(struct arena *arena, const char *to, const char *from, const char *text)
{
	iconv_t conversion = iconv_open(to, from);
	if ((intptr_t)conversion == -1) {
		return NULL;
	}
	/* A character may take more bytes there, and a sign become a word. */
	size_t left = strlen(text);
	size_t room = 8 * left + 16;
	char *out = arena_take(arena, room + 1, 1);
	char *in = arena_copy(arena, text);
	char *at = out;
	/* The signs that stand for others are those of the locale. */
	locale_t before = uselocale(locale_utf8());
	size_t failed = iconv(conversion, &in, &left, &at, &room);
	failed = failed == (size_t)-1 ? failed : iconv(conversion, NULL, NULL, &at, &room);
	uselocale(before);
	iconv_close(conversion);
	return failed == (size_t)-1 ? NULL : out;
}

const char *charset_write(struct arena *arena, const char *charset, const char *text)
{
	if (charset == NULL || is_ascii(text)) {
		return text;
	}
	const char *to = arena_format(arena, "%s//TRANSLIT", charset);
	const char *written = convert(arena, to, "UTF-8", text_valid(arena, text));
	return written == NULL ? text : written;
}

const char *charset_read(struct arena *arena, const char *charset, const char *bytes)
{
	if (charset == NULL || is_ascii(bytes)) {
		return bytes;
	}
	const char *read = convert(arena, "UTF-8", charset, bytes);
	return read == NULL ? bytes : read;
}

const char *charset_shown(struct arena *arena, const char *charset, const char *text)
{
	return charset_read(arena, charset, charset_write(arena, charset, text));
}
