/*
 * A plot in the terminal, of the same face that is drawn into a file: lines of text, by braille
 * dots (2 x 4 a cell) or by ASCII alone. Knows no store.
 */
#ifndef TOOTHRACK_CONSOLE_PLOT_TEXT_H
#define TOOTHRACK_CONSOLE_PLOT_TEXT_H

#include "toothrack/console.h"
#include "toothrack/print.h"

struct plot_shape {
	size_t width;        /* columns that a line may take; below 24 it is drawn as for 24 */
	bool braille;        /* else ASCII alone */
	const char *charset; /* that the names are shown in, as the answer's; NULL: UTF-8 */
};
struct plot_lines {
	const char **lines; /* in the arena; none ends in a blank */
	size_t count;
};
/*
 * Title, legend, frame with its axes, notes: some 20 lines, none wider than the shape. Points are
 * characters of their own, one a cell; lines and bands are dots, the name of a level line stands
 * in it where it hides nothing. `printed` is not told.
 */
struct plot_lines plot_text(struct arena *arena, const struct plot_face *face,
                            const struct plot_shape *shape);

/* Says it, as wide as the terminal (80 where there is none), by braille where the locale has it. */
void plot_say(struct call *call, const struct plot_face *face);

#endif
