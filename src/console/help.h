/* What help says: made from the tables, so that it cannot drift from what is done. */
#ifndef TOOTHRACK_CONSOLE_HELP_H
#define TOOTHRACK_CONSOLE_HELP_H

#include "calc.h"

void help_all(struct call *call);
void help_command(struct call *call, const struct command *command);
void help_kind(struct call *call, const struct kind *kind);
/* The attributes of a kind, into an object that is open. */
void help_attributes(struct call *call, const struct kind *kind);
void help_topic(struct call *call, const struct calc_topic *topic);

/* How a value is written: by its list, by what it names, else by its type. */
const char *value_written(struct arena *arena, enum value_type type, const char *const *choices,
                          enum reference reference);

#endif
