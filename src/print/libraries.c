/* Loads what draws, when it is first asked for. */
#include <dlfcn.h>
#include <string.h>

#include "libraries.h"

#define LIBRARY "libpangocairo-1.0.so.0" /* it brings pango, cairo, gobject and glib with it */

struct library_calls lib;
static bool loaded;

enum outcome draw_load(const char *library, struct fault *fault)
{
#define ROW(name) {#name, &lib.name, sizeof lib.name},
	static const struct {
		const char *name;
		void *call;
		size_t size;
	} rows[] = {CALLS(ROW)};
	if (loaded && library == NULL) {
		return OUTCOME_DONE;
	}
	void *handle = dlopen(library != NULL ? library : LIBRARY, RTLD_LAZY | RTLD_LOCAL);
	const char *missing = handle == NULL ? (library != NULL ? library : LIBRARY) : NULL;
	for (size_t i = 0; i < COUNT_OF(rows) && missing == NULL; i++) {
		void *call = dlsym(handle, rows[i].name);
		missing = call == NULL ? rows[i].name : NULL;
		memcpy(rows[i].call, &call, rows[i].size);
	}
	if (missing != NULL) {
		fault_set(fault, OUTCOME_STORE, "library that draws is missing: %s", missing);
		fault_hint(fault, "Have libpangocairo-1.0-0 and libcairo2 installed, such as by apt-get "
		                  "install libpangocairo-1.0-0.");
		return OUTCOME_STORE;
	}
	loaded = true;
	return OUTCOME_DONE;
}
