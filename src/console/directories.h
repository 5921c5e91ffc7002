/*
 * What the environment says: where a person's files lie (the XDG Base Directory Specification,
 * 0.8), and who it is.
 */
#ifndef TOOTHRACK_CONSOLE_DIRECTORIES_H
#define TOOTHRACK_CONSOLE_DIRECTORIES_H

#include "toothrack/base.h"

/* A variable of the environment; NULL where it is not set or empty. */
const char *environment_of(const char *variable);

/*
 * The folder that `variable` (XDG_DATA_HOME, XDG_STATE_HOME) names, else `fallback` under the
 * home folder. A path that is not absolute is passed over, as the specification says. NULL where
 * there is no home folder either.
 */
const char *directory_of(struct arena *arena, const char *variable, const char *fallback);

/* Makes the folder and those above it, for the person alone. True where it is there in the end. */
bool directory_make(const char *path);

/* The system's login name; never NULL. */
const char *login_name(struct arena *arena);

#endif
