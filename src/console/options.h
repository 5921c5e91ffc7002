/* The options that stand before or behind a command. */
#ifndef TOOTHRACK_CONSOLE_OPTIONS_H
#define TOOTHRACK_CONSOLE_OPTIONS_H

#include "toothrack/console.h"

/* One option as help shows it. */
struct option_row {
	const char *name;
	const char *value; /* what it takes, or NULL */
	const char *meaning;
	bool of_program; /* settled when the program starts: no option of a line */
};
extern const struct option_row option_rows[];
extern const size_t option_row_count;

/*
 * Takes the options out of the words (`count` becomes that of the rest) and sets them in
 * `options`, over what is set there. A word `--` ends them. `in_line`: a line of the console,
 * where the file and the version are settled already. OUTCOME_BAD: an unknown option, a bad
 * value, a value missing, two forms together.
 */
enum outcome options_take(struct word *words, size_t *count, bool in_line, struct options *options,
                          struct fault *fault);

/* The shop's file: as told, else by TOOTHRACK_DB, else shop.db in the data folder. */
enum outcome options_shop_file(struct arena *arena, const struct options *options, const char **out,
                               struct fault *fault);

/* The moment that TOOTHRACK_NOW stops the clock at; not known where it is not set. */
enum outcome options_clock(struct known_moment *out, struct fault *fault);

#endif
