/* Small texts that the plan's answers share. All are in the arena. */
#ifndef TOOTHRACK_PLAN_WORDS_H
#define TOOTHRACK_PLAN_WORDS_H

#include "internal.h"

/* `station 3`, `stations 2, 5 and 6` */
const char *words_of_numbers(struct arena *arena, const char *what, const int64_t *numbers,
                             size_t count);
/* `AN000012-K, AN000013-J` */
const char *words_of_tags(struct arena *arena, const struct tag *tags, size_t count);
/* `304.8mm (96 teeth 1/8cp)` */
const char *words_of_repeat(struct arena *arena, struct repeat repeat, enum units units);
/* A length that is the outcome of arithmetic, to 0.001 mm or 0.0001 in. */
const char *words_of_length(struct arena *arena, struct real_length length, enum units units);

/* `P1-3 on hold since 2026-12-01: bearing loose`; `reason` may be NULL. */
const char *words_of_hold(struct arena *arena, const char *code, struct known_moment since,
                          const char *reason);
/* Is the word in a list `a,b`? NULL is the empty list. */
bool list_has(const char *list, const char *word);

/* The few figures that tell a tool apart. */
const char *words_of_cylinder(struct arena *arena, const struct cylinder *cylinder,
                              enum units units);
const char *words_of_gear(struct arena *arena, const struct gear *gear);
/* `run`: of the job it is looked at for */
const char *words_of_roll(struct arena *arena, const struct anilox *roll, struct known_length run,
                          enum units units);
const char *words_of_blade(struct arena *arena, const struct blade *blade, enum units units);
const char *words_of_die(struct arena *arena, const struct die *die, enum units units);
const char *words_of_magnetic_cylinder(struct arena *arena,
                                       const struct magnetic_cylinder *cylinder, enum units units);

#endif
