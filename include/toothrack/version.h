/* Which version of the program this is: VERSION in the Makefile. */
#ifndef TOOTHRACK_VERSION_H
#define TOOTHRACK_VERSION_H

extern const char toothrack_version[]; /* "0.1.0" */

#endif
