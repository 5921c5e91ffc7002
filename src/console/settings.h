/* How the shop's limits and habits are shown. */
#ifndef TOOTHRACK_CONSOLE_SETTINGS_H
#define TOOTHRACK_CONSOLE_SETTINGS_H

#include "toothrack/console.h"

/* One of them in full. */
void setting_say(struct call *call, const struct setting_state *state);

/* All of them, in the order of `settings`: a table, then where the defaults come from. */
void settings_say(struct call *call, const struct setting_state *states);

#endif
