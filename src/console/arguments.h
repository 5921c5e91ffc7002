/* The words of a command held against its table. */
#ifndef TOOTHRACK_CONSOLE_ARGUMENTS_H
#define TOOTHRACK_CONSOLE_ARGUMENTS_H

#include "toothrack/console.h"

/*
 * Checks the call's words against its command's arguments: nothing unknown, nothing twice,
 * nothing missing, every word of a list a word of that list. Such words are put right in their
 * case. OUTCOME_BAD names what is wrong and what would be right.
 */
enum outcome arguments_check(struct arena *arena, const struct command *command, struct word *words,
                             size_t count, struct fault *fault);

/* The argument that the bare word at `index` answers, or NULL where so many are not taken. */
const struct argument *argument_of_bare(const struct command *command, size_t index);
/* The argument of that key, or NULL. */
const struct argument *argument_of_key(const struct command *command, const char *key);
/* Does it take keys of a kind or topic? */
bool takes_attributes(const struct command *command);

/*
 * Do the words, those behind the command's name, begin with the one behind which stands what
 * `find` takes?
 */
bool asks_as_find(const struct command *command, const struct word *words, size_t count);

/* The words that an argument's value can be, ends with NULL; NULL where it is no word of a list. */
const char *const *argument_words(struct arena *arena, const struct argument *argument);

/* As it is typed: `TAG...`, `at=PLACE`, `key=value...`. */
const char *argument_usage(struct arena *arena, const struct argument *argument);

/*
 * Refuses a word that is none of a list: `kind not known: cylnder`, with the nearest or all as
 * hint. Returns OUTCOME_BAD.
 */
enum outcome refuse_word(struct arena *arena, const char *what, const char *word,
                         const char *const *words, struct fault *fault);

#endif
