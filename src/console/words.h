/* The words of a line, as typed. */
#ifndef TOOTHRACK_CONSOLE_WORDS_H
#define TOOTHRACK_CONSOLE_WORDS_H

#include "toothrack/console.h"

/*
 * Splits a line into words: blanks and TABs separate; single or double quotes keep them, also
 * within a word (`note="a b"`); inside double quotes a backslash keeps the character behind it;
 * `#` where a word would begin starts a comment. Words live in the arena. OUTCOME_BAD: a quote is
 * not closed.
 */
enum outcome words_split(struct arena *arena, const char *line, struct word **out, size_t *count,
                         struct fault *fault);

/*
 * One word that is whole already (an argument of the program): `key=value` where a name stands
 * before the `=`, else bare. Keys are lower case whatever was typed.
 */
struct word word_of(struct arena *arena, const char *text);

#endif
