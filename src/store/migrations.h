/* The steps of the schema, made from migrations/ when the program is built. */
#ifndef TOOTHRACK_STORE_MIGRATIONS_H
#define TOOTHRACK_STORE_MIGRATIONS_H

#include <stddef.h>

struct migration {
	int number;
	const char *name;
	const char *sql;
};
extern const struct migration migrations[];
extern const size_t migration_count;

#endif
