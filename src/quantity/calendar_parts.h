/* What the parsers of a calendar share. */
#ifndef TOOTHRACK_QUANTITY_CALENDAR_PARTS_H
#define TOOTHRACK_QUANTITY_CALENDAR_PARTS_H

#include "toothrack/quantity.h"

/* Open from midnight to midnight, every day. */
void calendar_whole_week(struct calendar *calendar);
/* Says whether any hour is closed. */
void calendar_settle(struct calendar *calendar);

#endif
