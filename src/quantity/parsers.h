/*
 * The parsers of this room with the name of what is read, and the unit of a bare number: what
 * value_parse needs beyond the public ones. `unit` is a heading's (value_parse) or NULL.
 */
#ifndef TOOTHRACK_QUANTITY_PARSERS_H
#define TOOTHRACK_QUANTITY_PARSERS_H

#include "number.h"
#include "toothrack/quantity.h"

/* How they are spelled, for hints. */
#define PITCH_SPELLING "a pitch such as 1/8cp, 5mmcp, 10dp or m1.5"
#define ACROSS_SPELLING "three volumes such as 6.2/6.4/6.1cm3/m2"
#define NUMBER_SPELLING "a number such as 5 or 0.28"
#define MONEY_SPELLING "an amount such as 1250.00"
#define MOMENT_SPELLING "a date such as 2026-12-01 or a moment such as 2026-12-01T14:30"

enum outcome pitch_read(const char *what, const char *unit, struct typed typed, struct pitch *out,
                        struct fault *fault);
enum outcome screen_read(const char *what, const char *unit, const char *text, struct screen *out,
                         struct fault *fault);
enum outcome across_read(const char *what, const char *unit, const char *text, struct across *out,
                         struct fault *fault);
enum outcome money_read(const char *what, const char *text, struct money *out, struct fault *fault);
enum outcome moment_read(const char *what, const char *text, struct moment *out,
                         struct fault *fault);

/* A plain number: `5` `0.28` `1/3`. */
enum outcome plain_number_read(const char *what, const char *text, double *out,
                               struct fault *fault);
/* The shortest decimal that plain_number_read reads as the same number. */
struct quantity_text plain_number_text(double number);

/*
 * Refuses what is not UTF-8, control characters other than newline and TAB, those that turn the
 * direction of writing, and what is longer than any note.
 */
enum outcome value_words_check(const char *what, struct typed typed, struct fault *fault);

/*
 * Lists: parts stand between commas or semicolons, the blanks around them are no part of them.
 * Steps `rest` over the next part that is not blank; false where there is none.
 */
bool value_list_next(struct typed *rest, struct typed *part);

/* Kept in lower case, sorted, each once: `a,b`. */
enum outcome value_words_read(struct arena *arena, const char *what, struct typed typed,
                              const char **out, struct fault *fault);
/* One of the choices, as the list spells it. */
enum outcome value_choice_read(const char *what, struct typed typed, const char *const *choices,
                               const char **out, struct fault *fault);
/* Several of them, in the order of the list, each once. */
enum outcome value_choices_read(struct arena *arena, const char *what, struct typed typed,
                                const char *const *choices, const char **out, struct fault *fault);
/* Several pitches in their canonical spelling, by system and then by size, each once. */
enum outcome value_pitches_read(struct arena *arena, const char *what, const char *unit,
                                struct typed typed, const char **out, struct fault *fault);

#endif
