/* Letters of any language in a text that is UTF-8 (RFC 3629): found whatever their case. */
#include <wctype.h>

#include "toothrack/base.h"

/* The character at `text`, which is moved past it; a broken byte counts as one of its own. */
static wint_t next(const char **text)
{
	const unsigned char *bytes = (const unsigned char *)*text;
	wint_t code = bytes[0];
	int more = code >= 0xf0 ? 3 : code >= 0xe0 ? 2 : code >= 0xc0 ? 1 : 0;
	if (more > 0) {
		code &= 0x3fU >> more;
	}
	for (int i = 1; i <= more; i++) {
		if ((bytes[i] & 0xc0) != 0x80) {
			*text += 1;
			return bytes[0];
		}
		code = code << 6 | (bytes[i] & 0x3fU);
	}
	*text += more + 1;
	return code;
}

static bool begins(const char *text, const char *start)
{
	while (*start != '\0') {
		if (*text == '\0' || towlower(next(&text)) != towlower(next(&start))) {
			return false;
		}
	}
	return true;
}

bool text_holds_fold(const char *text, const char *part)
{
	while (!begins(text, part)) {
		if (*text == '\0') {
			return false;
		}
		next(&text);
	}
	return true;
}

bool text_turns(const char *text)
{
	const unsigned char *bytes = (const unsigned char *)text;
	return bytes[0] == 0xe2 && ((bytes[1] == 0x80 && bytes[2] >= 0xa8 && bytes[2] <= 0xae) ||
	                            (bytes[1] == 0x81 && bytes[2] >= 0xa6 && bytes[2] <= 0xa9));
}

bool text_has_letter(const char *text)
{
	while (*text != '\0') {
		if (iswalnum(next(&text)) != 0) {
			return true;
		}
	}
	return false;
}
