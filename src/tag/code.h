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

/* Upper case of an ASCII letter, whatever the locale. */
char tag_upper(char c);

/*
 * Does an AIM symbology identifier (ISO/IEC 15424) stand here: `]`, a letter for the symbology, a
 * character for its options?
 */
bool tag_has_identifier(const char *text);

/*
 * Characters that GS1 sets in front of a tag: AI 91 to 99, a company's own; or AI 8004, GIAI, with
 * the company prefix of at most 12 digits, the whole at most 30. A tag begins with a letter, so
 * nothing is mistaken. 0 where none stand there.
 */
size_t tag_application_identifier(const char *code);

/* The most characters a GIAI has (GS1 barcode syntax dictionary: 8004 X..30). */
#define GIAI_MOST 30

/* Reads a bare code, with its check character. Fills `out` for TAG_READ only. */
enum tag_reading tag_code_read(const char *code, struct tag *out);

/* Class and serial of a code without its check character. False where it has not that form. */
bool tag_serial_read(const char *code, struct tag *out);

#endif
