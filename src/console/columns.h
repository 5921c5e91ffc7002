/* Texts as a terminal shows them: harmless, measured in columns, wrapped. */
#ifndef TOOTHRACK_CONSOLE_COLUMNS_H
#define TOOTHRACK_CONSOLE_COLUMNS_H

#include <locale.h>

#include "toothrack/base.h"

/*
 * Bytes of the character at `text` that is valid UTF-8 (RFC 3629), and its code; 0 where there is
 * none.
 */
size_t character_read(const char *text, uint32_t *code);

/* A copy whose control characters and broken bytes show as `\xNN`, a line end or TAB as a blank. */
const char *text_harmless(struct arena *arena, const char *text);

/* A copy whose broken bytes show as `\xNN`; everything that is UTF-8 stays. */
const char *text_valid(struct arena *arena, const char *text);

/*
 * A locale whose characters are those of UTF-8, whatever the user's is; kept until the program
 * ends. For `uselocale`; where the system has none, one that changes nothing.
 */
locale_t locale_utf8(void);

/* Columns that a harmless text takes: none for what stands upon another sign, two for wide ones. */
size_t text_columns(const char *text);
/* The same of its first `length` bytes. */
size_t text_columns_of(const char *text, size_t length);

/* No wider than that; three full stops stand for what is left out. */
const char *text_cut(struct arena *arena, const char *text, size_t columns);

/*
 * Bytes of `text` that fit into `columns`, broken at a blank where there is one, and the start of
 * what comes after the blanks there in `rest` ("" where all fits). At least one character,
 * however narrow.
 */
size_t text_fit(const char *text, size_t columns, const char **rest);
/* The same, but broken behind a comma where one stands that far on that little room is lost. */
size_t text_fit_parts(const char *text, size_t columns, const char **rest);

#endif
