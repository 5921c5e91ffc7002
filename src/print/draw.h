/* What cairo leaves out of the pictures that it writes (picture.c). */
#ifndef TOOTHRACK_PRINT_DRAW_H
#define TOOTHRACK_PRINT_DRAW_H

#include "internal.h"

/*
 * An SVG that cairo wrote in dots or points, as wide and high as the page in millimetres, with the
 * text put in before its end. In the arena.
 */
struct text svg_with_text(struct arena *arena, struct length width, struct length height,
                          const struct text *svg, const struct text *elements);

/* A PNG with its dots a metre (pHYs, PNG specification of the W3C, 11.3.5.3). In the arena. */
struct text png_with_resolution(struct arena *arena, int64_t dots_per_inch, const struct text *png);

#endif
