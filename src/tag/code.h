/* What the room of tags shares: the bare code of what was typed or scanned. */
#ifndef TOOTHRACK_TAG_CODE_H
#define TOOTHRACK_TAG_CODE_H

#include "toothrack/tag.h"

/* The longest code that may be ours: an AI, the longest company prefix, the longest tag. */
#define CODE_ROOM 64

/*
 * The bare code: digits and capital letters alone, without what a scanner or GS1 sets in front.
 * NULL where anything else stands in the text; else a part of `code`.
 */
char *tag_code(const char *text, char code[CODE_ROOM]);

/* Class and serial of a code without its check character. False where it has not that form. */
bool tag_serial_read(const char *code, struct tag *out);

#endif
