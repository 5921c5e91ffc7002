/* Why a request failed: one sentence, and a hint. */
#include <stdio.h>
#include <string.h>

#include "toothrack/base.h"

void fault_clear(struct fault *fault)
{
	fault->outcome = OUTCOME_DONE;
	fault->sentence[0] = '\0';
	fault->hint[0] = '\0';
}

/*
 * Bytes of the UTF-8 character at `text`, 0 where there is none. Control characters count as none:
 * those below space, DEL, U+0080 to U+009F, which some terminals obey too, and those that turn the
 * direction. Form: RFC 3629, section 4.
 */
static size_t character_length(const unsigned char *text)
{
	unsigned char first = text[0];
	size_t length = first < 0x80 ? 1 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : 4;

	if (first < 0x20 || first == 0x7f || (first >= 0x80 && first < 0xc2) || first > 0xf4) {
		return 0;
	}
	for (size_t i = 1; i < length; i++) {
		if ((text[i] & 0xc0) != 0x80) {
			return 0;
		}
	}
	if ((first == 0xc2 && text[1] < 0xa0) || (first == 0xe0 && text[1] < 0xa0) ||
	    (first == 0xed && text[1] > 0x9f) || (first == 0xf0 && text[1] < 0x90) ||
	    (first == 0xf4 && text[1] > 0x8f) || text_turns((const char *)text)) {
		return 0;
	}
	return length;
}

/*
 * Copies what fits, in whole characters; "..." ends what does not. What is no printable character
 * is shown byte by byte as \xNN: what anybody typed is quoted and must do nothing to a terminal.
 */
static void copy_harmless(char *out, size_t room, const char *text)
{
	static const char more[] = "...";
	size_t used = 0;

	while (*text != '\0') {
		size_t length = character_length((const unsigned char *)text);
		if (used + (length == 0 ? 4 : length) + sizeof more > room) {
			memcpy(out + used, more, sizeof more);
			return;
		}
		if (length == 0) {
			used += (size_t)snprintf(out + used, room - used, "\\x%02x", (unsigned char)*text);
			text++;
		} else {
			memcpy(out + used, text, length);
			used += length;
			text += length;
		}
	}
	out[used] = '\0';
}

enum outcome fault_set(struct fault *fault, enum outcome outcome, const char *format, ...)
{
	char sentence[2 * sizeof fault->sentence];
	va_list arguments;

	if (fault == NULL || fault->outcome != OUTCOME_DONE) {
		return outcome;
	}
	va_start(arguments, format);
	vsnprintf(sentence, sizeof sentence, format, arguments);
	va_end(arguments);
	fault->outcome = outcome;
	fault->hint[0] = '\0';
	copy_harmless(fault->sentence, sizeof fault->sentence, sentence);
	return outcome;
}

void fault_hint(struct fault *fault, const char *format, ...)
{
	char hint[2 * sizeof fault->hint];
	va_list arguments;

	if (fault == NULL || fault->hint[0] != '\0') {
		return;
	}
	va_start(arguments, format);
	vsnprintf(hint, sizeof hint, format, arguments);
	va_end(arguments);
	copy_harmless(fault->hint, sizeof fault->hint, hint);
}
