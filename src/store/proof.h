/* What proving a store whole is made of: its file, the ledger's chain, the records by the ledger.
 */
#ifndef TOOTHRACK_STORE_PROOF_H
#define TOOTHRACK_STORE_PROOF_H

#include "internal.h"

/* The tables whose records are followed through the ledger; the first five have words. */
enum followed_table {
	FOLLOW_TOOL,
	FOLLOW_PLACE,
	FOLLOW_PRESS,
	FOLLOW_JOB,
	FOLLOW_OPERATOR,
	FOLLOW_STATION,
	FOLLOW_CUT,
	FOLLOW_READING,
	FOLLOW_COUNT
};
#define FOLLOW_WITH_WORDS FOLLOW_STATION

/* What the ledger has said of one record so far: its condition, or of a job its state. */
enum told_condition {
	TOLD_NOTHING,
	TOLD_READY,
	TOLD_HOLD,
	TOLD_SCRAPPED,
	TOLD_PLANNED,
	TOLD_RUNNING,
	TOLD_FINISHED,
	TOLD_CANCELLED
};
struct told {
	uint8_t kind; /* enum kind_id of its first entry, plus one; 0: none yet */
	/* Enum told_condition: by the greatest `happened` (of a job never), and as written last. */
	uint8_t condition, written;
	bool began;       /* its first entry is `new` */
	bool may_be_gone; /* its last entry took something away */
	bool on_record;
	int64_t condition_at; /* `happened` of what told its condition */
};
/*
 * Where a tool is by the ledger: by the greatest `happened`, and as the program left it, which
 * writes the place that a correction names though the clock was set back. 0: nowhere.
 */
struct stay {
	int64_t happened;
	int32_t latest, written;
};

struct followed {
	struct told *told; /* by id, up to `most` */
	int64_t most;
};

/* A proof under way. */
struct proving {
	struct store *store;
	struct arena *arena;   /* of the answer */
	struct arena *scratch; /* until the end of it */
	const struct watch *watch;
	struct proof *proof;
	struct fault *fault;
	struct followed tables[FOLLOW_COUNT];
	struct stay *stays; /* of tools, by id; NULL: records are not followed */
	bool torn;          /* the file itself is damaged */
};

/* Adds one damage; `tag` may be NULL. In the arena. */
void damage_add(struct proving *proving, int64_t entry, const char *tag, const char *format, ...)
	__attribute__((format(printf, 4, 5)));
/*
 * After a statement failed: a page that cannot be read is damage, and the rest is looked at all the
 * same; anything else is a fault.
 */
enum outcome damage_unless_fault(struct proving *proving, const char *where,
                                 const struct fault *failed);

/* The indexes of the ledger, each with the statement that sums it up. */
struct ledger_index {
	const char *name;
	const struct statement *sum;
};
#define LEDGER_INDEXES 7
extern const struct ledger_index ledger_indexes[LEDGER_INDEXES];

/* Every row of a statement is damage: `add` adds it. `where` is for what cannot be read. */
enum outcome prove_look(struct proving *proving, const struct statement *statement,
                        const char *where, void (*add)(struct proving *, sqlite3_stmt *));
/* Bookings and promises against each other, runs against jobs, risks against promises. */
enum outcome prove_promises(struct proving *proving);
/* What tools ran against what runs were finished, and the sum of each. */
enum outcome prove_runs(struct proving *proving);
/* The trends kept, and what checks count by, against what the readings tell. */
enum outcome prove_wear(struct proving *proving);
/* Every page, every index, and every reference from one record to another. */
enum outcome prove_file(struct proving *proving);
/* The chain; and, where `tables` are there, what it tells of every record. */
enum outcome prove_ledger(struct proving *proving);
/* Makes room for what the ledger tells of the records. */
enum outcome follow_begin(struct proving *proving);
/* What one entry tells; the row begins with LEDGER_COLUMNS. */
void follow_entry(struct proving *proving, sqlite3_stmt *stmt);
/* The records as they stand, against what the ledger told. */
enum outcome prove_records(struct proving *proving);

#endif
