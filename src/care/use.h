/* What forecasts and the list of what is due share: use of a tool by days, lives. */
#ifndef TOOTHRACK_CARE_USE_H
#define TOOTHRACK_CARE_USE_H

#include "toothrack/care.h"

/* A duration in days; and back, in whole seconds, rounded down. */
double days_in(struct duration duration);
struct duration duration_of_days(double days);
/* What is left of the life of a blade or die, in web; below 0 where it is over. */
struct known_length life_left(const struct due_tool *tool, const struct limits *limits);

#endif
