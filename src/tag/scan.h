/* What the room of tags shares of scans: one line of a scanner, cut into what each scan may be. */
#ifndef TOOTHRACK_TAG_SCAN_H
#define TOOTHRACK_TAG_SCAN_H

#include "toothrack/tag.h"

/* FNC1 as scanners send it: GS. */
#define FNC1 '\x1d'

/* Longest text of one scan or of several run together that is looked into. */
#define SCAN_TEXT_MOST 1024

/* Stands in struct signs for what no tag holds. */
#define SIGN_STRANGE '?'

/* The signs of a text that count in a tag: digits and capital letters, without separators. */
struct signs {
	char code[SCAN_TEXT_MOST + 1]; /* ends in NUL */
	bool apart[SCAN_TEXT_MOST];    /* a separator stands before it */
	bool cut[SCAN_TEXT_MOST];      /* FNC1 stands before it: no tag goes across */
	size_t length;
	const char *strange; /* the first in the text that no tag holds, else NULL */
	size_t strange_bytes;
};

/* Fills `signs` from at most SCAN_TEXT_MOST bytes; `text` must outlive it. */
void signs_read(const char *text, size_t length, struct signs *signs);

/*
 * The tags that the signs are when cut, all of them and nothing else, into `tags`, at most `most`.
 * Returns how many: 0 where they cannot be cut so, or in more ways than one.
 */
size_t signs_tags(const struct signs *signs, struct tag *tags, size_t most);

/* Is more in it than one scan: two that look like tags, or a whole tag and more of something? */
bool signs_are_several(const struct signs *signs);

/* Where the first whole tag begins, its check character right, behind `from`; SIZE_MAX if none. */
size_t signs_find_tag(const struct signs *signs, size_t from);

/*
 * Has it the form of a tag, or nearly, though it is none? Then `wrong` says what is wrong. Codes
 * that a shop may have given itself (`DB-100`, `PC12`, `OP1234`) have not.
 */
bool signs_misread(const struct signs *signs, char *wrong, size_t room);

/* What the GS1 element strings of one symbol say. */
struct elements {
	/* Of AI 8004 and 91 to 99, in their order, each once; one more than a line may have. */
	struct tag tags[SCANS_MOST + 1];
	size_t tag_count;
	size_t count;      /* element strings in all */
	const char *value; /* of the last AI 8004 or 91 to 99, a part of the text; NULL if none */
	size_t value_length;
	bool misread; /* a value has the form of a tag, but is none */
	char wrong[200];
};

/*
 * Takes a text apart into element strings. False where it is not made of them: `wrong` says why,
 * and nothing else is filled. True with `misread` fills `wrong` too.
 */
bool elements_read(const char *text, size_t length, struct elements *out);

/* What a keyboard set to another layout did. */
struct damage {
	struct tag tag; /* serial 0 where it is not sure */
	char wrong[200];
	const char *cure; /* a constant */
};

/*
 * Does undoing a layout give a tag, its check character right? Or, where that disagrees, were there
 * signs that only a layout gives? False where neither is so; then nothing is said.
 */
bool damage_find(const char *text, size_t length, struct damage *out);

/*
 * Copies a text so that it can be shown: control characters, those that turn the direction of
 * writing and what is no UTF-8 as `\xNN`. What does not fit ends in "..."; then false.
 */
bool scan_text_shown(const char *text, size_t length, char *out, size_t room);

/*
 * The character that stands there, and its bytes into `count`; a byte that begins none in UTF-8 is
 * taken for Latin-1, and `whole` is false.
 */
uint32_t scan_point(const char *text, size_t length, size_t *count, bool *whole);

#endif
