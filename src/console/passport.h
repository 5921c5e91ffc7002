/* A tool's passport: what `show` tells of it, drawn on one page. */
#ifndef TOOTHRACK_CONSOLE_PASSPORT_H
#define TOOTHRACK_CONSOLE_PASSPORT_H

#include "shown.h"
#include "toothrack/print.h"

/*
 * Before anything is read: OUTCOME_BAD where the tag is none of a tool's, the file has no ending
 * that is drawn, or is the shop's own.
 */
enum outcome passport_check(struct call *call, const char *tag, const char *file);
/*
 * Draws it into a file whose ending passport_check took, with all that its ledger tells, latest
 * first; `plot` in its lower part, or NULL. Says nothing. OUTCOME_BAD where the file cannot be
 * written or the symbol not be made by the settings; OUTCOME_STORE where the disk is full or what
 * draws is missing.
 */
enum outcome passport_draw(struct call *call, const struct shown *shown,
                           const struct plot_face *plot, const char *file,
                           struct passport_drawn *out);
/* `passport of AN000045-3 in roll.pdf`, and what of its data had no room. */
void passport_say(struct call *call, const struct shown *shown, const char *file,
                  const struct passport_drawn *drawn);

#endif
