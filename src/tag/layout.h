/* What the room of tags shares of keyboards: which key gives which character. */
#ifndef TOOTHRACK_TAG_LAYOUT_H
#define TOOTHRACK_TAG_LAYOUT_H

#include <stddef.h>
#include <stdint.h>
#include <wchar.h>

/* Keys that type a character, row by row, each from the left. */
#define KEY_COUNT 48

_Static_assert(sizeof(wchar_t) == 4, "a wide character holds any code point");

/* A layout: of each key its character without and with Shift. */
struct layout {
	wchar_t keys[2][KEY_COUNT + 1];
};

extern const struct layout tag_layouts[];
extern const size_t tag_layout_count;

#endif
