/* The lives of tools, within the store. */
#ifndef TOOTHRACK_STORE_LIFE_H
#define TOOTHRACK_STORE_LIFE_H

#include "internal.h"

/* Care that begins a life. */
#define RENEWALS "('reblade', 'regrind', 'engraved')"
/* The life that a tool is in, and when the care that began it says that it did. */
#define LIFE_NOW "(SELECT life FROM tool WHERE id = :id)"
#define LIFE_BEGAN \
	"(SELECT moment FROM care WHERE tool = :id AND life = " LIFE_NOW " AND what IN " RENEWALS \
	" ORDER BY moment, id LIMIT 1)"

/* When the next life of the tool :id begins that is to begin at :since: no sooner than this one. */
#define LIFE_SINCE \
	"max(:since, COALESCE((SELECT max(c.moment) FROM care c WHERE c.tool = :id AND c.what IN " RENEWALS \
	"), :since))"

/* Runs as they stood, kept with an entry by the ids of their rows; and given back to these. */
#define KEEP_RUNS(attribute, table, which) \
	"INSERT INTO entry_before (entry, attribute, value) SELECT :entry, '" attribute "'," \
	" json_group_array(json_array(id, run)) FROM " table which " HAVING count(*) > 0"
#define KEPT_RUNS(attribute) \
	"FROM entry_before b, json_each(b.value) j WHERE b.entry = :entry AND b.attribute = '" attribute \
	"'"
#define GIVE_RUNS(attribute, table, set) \
	"UPDATE " table " SET " set "run = (SELECT json_extract(j.value, '$[1]') " KEPT_RUNS( \
		attribute) " AND json_extract(j.value, '$[0]') = " table ".id)" \
				   " WHERE id IN (SELECT json_extract(j.value, '$[0]') " KEPT_RUNS(attribute) ")"

/*
 * By the last entry, whose care, written already, says when: the next life of a tool begins. What
 * was read and ran, done and found in it before it was put on record goes with it; `split` tells
 * how much that is, NULL: it begins now. The run on record is the caller's.
 */
enum outcome life_begin(struct store *store, int64_t tool, const struct life_split *split,
                        struct fault *fault);
/* The life that an entry began is the one before again, with all that was of it. */
enum outcome life_give_back(struct store *store, const struct undo_entry *entry,
                            struct fault *fault);

/*
 * Of the life that the last entry began, whose web is in it already: the care and the gaugings
 * since, each with the web that this life had run by then.
 */
enum outcome life_take_care(struct store *store, int64_t tool, struct fault *fault);
/* Those that an entry took, in the life before and with the run that they had. */
enum outcome life_give_care(struct store *store, const struct undo_entry *entry,
                            struct fault *fault);

#endif
