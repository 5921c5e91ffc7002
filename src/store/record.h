/* What the three files about records of any kind share: writing, binding, reading. */
#ifndef TOOTHRACK_STORE_RECORD_H
#define TOOTHRACK_STORE_RECORD_H

#include "internal.h"

/* What stands on record beside the attributes, and must outlive a rewriting of them. */
struct kept {
	char condition[16];
	const char *reason;
	struct known_moment since;
	int64_t place;
};

/* The statements of a kind's own table; a tool's common ones are tool_sql. */
const struct record_sql *record_sql_of(const struct kind *kind);

/*
 * Binds every parameter of a prepared statement that writes a record: attributes, references, id,
 * tag, kind, condition, and what is worked out from them. `stored` receives the tag as it is bound,
 * and must outlive the step, as must the record.
 */
void record_bind(struct store *store, struct prepared *entry, const struct record *record,
                 const struct kept *kept, const struct actor *actor, struct tag_text *stored);

#endif
