/* What the files about promises and runs of jobs share. All of these are within a transaction. */
#ifndef TOOTHRACK_STORE_PROMISE_H
#define TOOTHRACK_STORE_PROMISE_H

#include "record.h"

/*
 * By the last entry written the promise that holds for a job ends, its tools free again; what put
 * it at risk is forgotten. `*id` becomes its number, 0 where none held.
 */
enum outcome promise_end_now(struct store *store, int64_t job, int64_t *id, struct fault *fault);
/*
 * The promise that `entry` ended holds again, and has its tools; none was: nothing happens. Another
 * has one of them by now: OUTCOME_NO in one sentence.
 */
enum outcome promise_hold_again(struct store *store, struct arena *arena, int64_t entry,
                                struct fault *fault);
/*
 * Promises a promise's tools as long as it says. Another job has one of them by now: OUTCOME_NO,
 * with a hint that names what to type.
 */
enum outcome promise_book(struct store *store, struct arena *arena, int64_t id,
                          struct fault *fault);

/* By the last entry written a job does not run any more, where it ran. */
enum outcome run_end_now(struct store *store, int64_t job, struct moment finished,
                         struct fault *fault);
/* The run that `entry` ended goes on; none was: nothing happens. */
enum outcome run_go_on(struct store *store, struct arena *arena, int64_t entry,
                       struct fault *fault);

/*
 * The web that `entry` gave to tools is taken from their runs, as they stood before it. Told anew
 * since, by a correction or a new life: OUTCOME_NO in one sentence.
 */
enum outcome web_take_back(struct store *store, struct arena *arena, int64_t entry,
                           struct fault *fault);
/*
 * Of an entry that told a tool's run, a correction or a new life: the last `finish` after it that
 * the run grew by. Else `*out` is left as it is.
 */
enum outcome web_since(struct store *store, struct arena *arena, const struct undo_entry *entry,
                       struct ledger_entry *out, struct fault *fault);

#endif
