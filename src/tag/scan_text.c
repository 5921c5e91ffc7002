/* The text of a scan: its characters, and shown harmlessly. */
#include <stdio.h>
#include <string.h>

#include "scan.h"

/* Bytes that the first one announces; 0 for one that begins no character. */
static size_t bytes_announced(unsigned char first)
{
	if (first < 0x80) {
		return 1;
	}
	if (first >= 0xc2 && first < 0xe0) {
		return 2;
	}
	if (first >= 0xe0 && first < 0xf0) {
		return 3;
	}
	return first >= 0xf0 && first < 0xf5 ? 4 : 0;
}

uint32_t scan_point(const char *text, size_t length, size_t *count, bool *whole)
{
	static const uint32_t masks[] = {0, 0x7f, 0x1f, 0x0f, 0x07};
	static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
	const unsigned char *bytes = (const unsigned char *)text;
	size_t announced = bytes_announced(bytes[0]);
	*count = 1;
	*whole = false;
	if (announced == 0 || announced > length) {
		return bytes[0];
	}
	uint32_t point = bytes[0] & masks[announced];
	for (size_t i = 1; i < announced; i++) {
		if ((bytes[i] & 0xc0) != 0x80) {
			return bytes[0];
		}
		point = point << 6 | (bytes[i] & 0x3f);
	}
	if (point < least[announced] || point > 0x10ffff || (point >= 0xd800 && point < 0xe000)) {
		return bytes[0];
	}
	*count = announced;
	*whole = true;
	return point;
}

/* Controls of C0 and C1, those that turn the direction of writing, ends of lines, marks unseen. */
static bool is_harmful(uint32_t point)
{
	return point < 0x20 || (point >= 0x7f && point < 0xa0) || point == 0xad || point == 0x61c ||
	       (point >= 0x200b && point <= 0x200f) || (point >= 0x2028 && point <= 0x202e) ||
	       (point >= 0x2060 && point <= 0x206f) || point == 0xfeff ||
	       (point >= 0xfff0 && point <= 0xfffb) || point >= 0xe0000;
}

bool scan_text_shown(const char *text, size_t length, char *out, size_t room)
{
	size_t used = 0, safe = 0; /* `safe`: so far "..." still fits behind */
	size_t count = 1;
	bool whole = true;
	for (size_t i = 0; i < length; i += count) {
		char piece[4 * 4 + 1];
		uint32_t point = scan_point(text + i, length - i, &count, &whole);
		size_t size = count;
		memcpy(piece, text + i, count);
		if (!whole || is_harmful(point)) {
			size = 0;
			for (size_t k = 0; k < count; k++) {
				snprintf(piece + size, 5, "\\x%02x", (unsigned)(unsigned char)text[i + k]);
				size += 4;
			}
		}
		if (used + size + 1 > room) {
			memcpy(out + safe, "...", 4);
			return false;
		}
		memcpy(out + used, piece, size);
		used += size;
		safe = used + 4 <= room ? used : safe;
	}
	out[used] = '\0';
	return true;
}
