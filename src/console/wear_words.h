/* Figures of wear in words. All in the arena of the call. */
#ifndef TOOTHRACK_CONSOLE_WEAR_WORDS_H
#define TOOTHRACK_CONSOLE_WEAR_WORDS_H

#include "wear_answer.h"

const char *web_unit(const struct call *call);           /* `m`, `ft` */
const char *slope_said(struct call *call, double slope); /* `-0.11cm3/m2` */
/* `-0.14 to -0.08 with 90 %` */
const char *slopes_said(struct call *call, const struct trend *trend);
const char *chance_said(struct call *call, const struct trend *trend);   /* `tau -0.85, p 0.001` */
const char *tenths_said(struct call *call, struct percent percent);      /* `4.1%` */
const char *ordinal_said(struct call *call, int64_t number);             /* `second`, `12th` */
const char *tooling_said(struct call *call, struct known_length length); /* NULL where not known */
/* Fewer readings than these can show no trend by their ranks, nor an interval at 90 %. */
#define READINGS_TELL 4
/* `2 after cleaning at a known run, 3 at different runs needed` */
const char *readings_lacking(struct arena *arena, const struct trend *trend);
/* A whole sentence, whatever is known. */
const char *forecast_said(struct call *call, const struct worn *worn);
/* A cell of a table: `3.9 to 6.1 million m`, or what is lacking. */
const char *forecast_short(struct call *call, const struct worn *worn);
/* As data: `too_few`, `none`, `falls`, `rises`. */
const char *trend_word(enum trend_says says);
/* Is a share above a limit of the shop? */
bool percent_over(struct percent percent, struct percent limit);

#endif
