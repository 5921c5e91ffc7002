/* What the room of tags shares: which characters are passed over. */
#ifndef TOOTHRACK_TAG_CHECK_CHARACTER_H
#define TOOTHRACK_TAG_CHECK_CHARACTER_H

#include <stdbool.h>

/* Blank, hyphen, point and underscore: set between for the eye, and no part of the code. */
bool tag_is_separator(char c);

#endif
