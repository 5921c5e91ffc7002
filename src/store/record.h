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

/* Writes a record's row by a statement of its kind. */
enum outcome record_row_write(struct store *store, const struct statement *statement,
                              const struct record *record, const struct kept *kept,
                              const struct actor *actor, struct fault *fault);
/* Writes a tool's other tag, where it has one. */
enum outcome record_other_tag_write(struct store *store, const struct record *record,
                                    struct fault *fault);
/* What its kind does besides its row. */
enum outcome record_settle(struct store *store, struct arena *arena, struct record *record,
                           const struct actor *actor, struct fault *fault);
/* Names the record that an entry is about, and its job where it is a row of one. */
void record_subject(const struct record *record, struct entry *entry);
/* Where a tool is; 0 where that is not known, or it is no tool. */
int64_t record_place(const struct record *record);
/*
 * Do they differ at an attribute, and not only in how it is spelled? Both are of one kind.
 */
bool record_differs(struct arena *arena, const struct record *before, const struct record *after,
                    size_t attribute);

/* "face 330mm -> 320mm; note not known -> chipped": what changes, in metric; NULL: nothing. */
const char *record_changes(struct arena *arena, const struct record *before,
                           const struct record *after);
/*
 * Writes all values of a record on record anew, its condition as it stands, without an entry of its
 * own. `keep`: what changes is kept as it stood before the last entry written.
 */
enum outcome record_rewrite(struct store *store, struct arena *arena, struct record *before,
                            struct record *after, bool keep, const struct actor *actor,
                            struct fault *fault);

/* ---- what stood before an entry: the table entry_before ---- */

/* One value as it stood; `value` NULL: not known. The entry is the last one written. */
enum outcome before_keep(struct store *store, const char *attribute, const char *value,
                         struct fault *fault);
/* A tool's `back` and `taken_for`, of which the entry of a movement does not tell. */
enum outcome before_keep_movement(struct store *store, int64_t tool, struct fault *fault);
/* The condition of a tool or place, with reason and since. */
enum outcome before_keep_condition(struct store *store, const struct kind *kind, int64_t id,
                                   struct fault *fault);
/* One attribute of a record. */
enum outcome before_keep_value(struct store *store, struct arena *arena,
                               const struct record *record, size_t attribute, struct fault *fault);
/* What was kept of an attribute: `*known` tells whether anything was, `*out` may be NULL then. */
enum outcome before_read(struct store *store, struct arena *arena, int64_t entry,
                         const char *attribute, bool *known, const char **out, struct fault *fault);
/* Puts all values kept before an entry into a record of that kind. */
enum outcome before_restore(struct store *store, struct arena *arena, int64_t entry,
                            struct record *record, struct fault *fault);

/*
 * The entry that takes another back, and that it does. `detail` tells what came of it; NULL: as the
 * entry taken back tells.
 */
enum outcome undo_write(struct store *store, struct arena *arena, const struct undo_entry *undone,
                        struct entry *entry, const char *detail, const struct actor *actor,
                        struct fault *fault);

/*
 * Binds every parameter of a prepared statement that writes a record: attributes, references, id,
 * tag, kind, condition, and what is worked out from them. `stored` receives the tag as it is bound,
 * and must outlive the step, as must the record.
 */
void record_bind(struct store *store, struct prepared *entry, const struct record *record,
                 const struct kept *kept, const struct actor *actor, struct tag_text *stored);

#endif
