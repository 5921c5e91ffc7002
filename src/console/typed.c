/* A line as it is typed or scanned. */
#include <string.h>

#include "columns.h"
#include "typed.h"

#define CTRL_D 0x04
#define BACKSPACE 0x08
#define CTRL_U 0x15
#define ESCAPE 0x1b
#define DELETE 0x7f

static bool is_shown(char byte)
{
	unsigned char sign = (unsigned char)byte;
	return sign >= 0x20 && sign != DELETE;
}

void typed_clear(struct typed *typed)
{
	typed->length = 0;
	typed->too_long = false;
	typed->whole = false;
	typed->escape = 0;
}

void typed_show(const struct typed *typed, struct text *out)
{
	for (size_t i = 0; i < typed->length; i++) {
		if (is_shown(typed->bytes[i])) {
			text_add_bytes(out, &typed->bytes[i], 1);
		}
	}
}

/* ---------------------------------------------------------------- editing */

/* Columns from `start` on, where they can be wiped out by going back; else SIZE_MAX. */
static size_t columns_behind(const struct typed *typed, size_t start)
{
	size_t shown = 0;
	size_t behind = 0;
	for (size_t i = 0; i < typed->length; i++) {
		if ((unsigned char)typed->bytes[i] >= 0x80) {
			return SIZE_MAX;
		}
		shown += is_shown(typed->bytes[i]) ? 1 : 0;
		behind += is_shown(typed->bytes[i]) && i >= start ? 1 : 0;
	}
	return shown <= typed->room ? behind : SIZE_MAX;
}

static enum typed_step cut(struct typed *typed, size_t length, struct text *echo)
{
	size_t columns = columns_behind(typed, length);
	typed->length = length;
	typed->too_long = typed->too_long && length > 0;
	if (columns == SIZE_MAX) {
		return TYPED_AGAIN;
	}
	for (size_t i = 0; i < columns; i++) {
		text_add(echo, "\b \b");
	}
	return TYPED_MORE;
}

/* Where the last sign begins: one of UTF-8 has several bytes. */
static size_t last_sign(const struct typed *typed)
{
	size_t most = typed->length < 4 ? typed->length : 4;
	for (size_t bytes = most; bytes > 1; bytes--) {
		char sign[5] = {0};
		uint32_t code = 0;
		memcpy(sign, typed->bytes + typed->length - bytes, bytes);
		if (character_read(sign, &code) == bytes) {
			return typed->length - bytes;
		}
	}
	return typed->length - 1;
}

/* ---------------------------------------------------------------- byte by byte */

/* Whether the byte is one of a key that sends several. */
static bool is_of_key(struct typed *typed, char byte)
{
	int seen = typed->escape;
	typed->escape = 0;
	if (byte == ESCAPE) {
		typed->escape = 1;
		return true;
	}
	if (seen == 1 && byte == '[') {
		typed->escape = 2;
		return true;
	}
	/* Parameters, then one byte that ends it (ECMA-48 section 5.4). */
	if (seen == 2 && byte >= 0x20 && byte < 0x40) {
		typed->escape = 2;
		return true;
	}
	return seen == 2 && byte >= 0x40 && byte < DELETE;
}

static enum typed_step add(struct typed *typed, char byte, struct text *echo)
{
	if (typed->length == TYPED_MOST) {
		typed->too_long = true;
		return TYPED_MORE;
	}
	typed->bytes[typed->length++] = byte;
	if (is_shown(byte)) {
		text_add_bytes(echo, &byte, 1);
	}
	return TYPED_MORE;
}

enum typed_step typed_take(struct typed *typed, char byte, struct text *echo)
{
	bool after_cr = typed->after_cr;
	typed->after_cr = byte == '\r';
	if (typed->whole) {
		typed_clear(typed);
	}
	if (byte == '\n' && after_cr) {
		return TYPED_MORE;
	}
	if (is_of_key(typed, byte)) {
		return TYPED_MORE;
	}
	switch (byte) {
	case '\r':
	case '\n':
	case '\t':
		typed->whole = true;
		return TYPED_LINE;
	case BACKSPACE:
	case DELETE:
		return typed->length > 0 ? cut(typed, last_sign(typed), echo) : TYPED_MORE;
	case CTRL_U:
		return cut(typed, 0, echo);
	case CTRL_D:
		return typed->length == 0 ? TYPED_LEAVE : add(typed, byte, echo);
	default:
		return add(typed, byte, echo);
	}
}
