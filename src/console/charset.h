/* Texts are UTF-8 everywhere but on a terminal whose locale says otherwise. */
#ifndef TOOTHRACK_CONSOLE_CHARSET_H
#define TOOTHRACK_CONSOLE_CHARSET_H

#include "toothrack/base.h"

/* The character set of this locale's terminals; NULL where that is UTF-8. */
const char *charset_local(void);

/*
 * UTF-8 in that character set. What it lacks is written with what it has (`EUR`, `e` for an
 * accented one), else `?`. `charset` NULL: the text itself.
 */
const char *charset_write(struct arena *arena, const char *charset, const char *text);

/*
 * The same, read back: UTF-8 that holds nothing but what the character set has, to measure and
 * wrap.
 */
const char *charset_shown(struct arena *arena, const char *charset, const char *text);

/*
 * What was typed, in UTF-8. Where the bytes are none of that character set they stay as they are:
 * the terminal then speaks UTF-8, whatever the locale says.
 */
const char *charset_read(struct arena *arena, const char *charset, const char *bytes);

#endif
