/* What `wear` says, in text and as data. */
#ifndef TOOTHRACK_CONSOLE_WEAR_ANSWER_H
#define TOOTHRACK_CONSOLE_WEAR_ANSWER_H

#include "toothrack/care.h"
#include "toothrack/console.h"

/* The figures of one tool, for people; without plot. */
void wear_say(struct call *call, const struct worn *worn);
/* The members of one tool, into an object that is open. `whole`: with readings, runs, gauges. */
void wear_write(struct call *call, const struct worn *worn, bool whole);
/* Rolls compared, a row each. */
void wear_rolls_say(struct call *call, const struct worn *rolls, size_t count);

/* Web in words: `350000m`, from a million on `3.9 million m`. In the arena. */
const char *web_said(struct call *call, struct length web);
/* A volume of the trend, in the units asked, to two places. In the arena. */
const char *volume_said(struct call *call, double cm3_m2);

#endif
