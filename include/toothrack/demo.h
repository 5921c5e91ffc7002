/* The demo shop: the CSV files of src/demo, built in. */
#ifndef TOOTHRACK_DEMO_H
#define TOOTHRACK_DEMO_H

#include <stddef.h>

struct demo_file {
	const char *name; /* the kind it holds, as in `import KIND FILE`: "cylinder" for cylinder.csv */
	const char *text; /* ends in NUL */
	size_t length;    /* bytes before the NUL */
};
/*
 * In the order of their names; import them in the order of `kinds`. After the last stands one whose
 * name is NULL.
 */
extern const struct demo_file demo_files[];
extern const size_t demo_file_count;

#endif
