/* What `wear` draws, in the terminal and on paper. */
#ifndef TOOTHRACK_CONSOLE_WEAR_PLOT_H
#define TOOTHRACK_CONSOLE_WEAR_PLOT_H

#include "toothrack/care.h"
#include "toothrack/console.h"
#include "toothrack/print.h"

/*
 * The plot of a tool: readings of a roll over the web run, with trend, band, limit and forecast;
 * runout of a plate cylinder; web run by a blade or die with the end of its life. NULL where there
 * is nothing to draw. In the arena of the call.
 */
const struct plot_face *wear_plot(struct call *call, const struct worn *worn);

/* The same for a page that is read without the figures: below its title stands the forecast. */
const struct plot_face *wear_page(struct call *call, const struct worn *worn);

#endif
