/* A station or a cut of a job, reached by its number: `edit JOB station=3`, `remove JOB cut=1`. */
#ifndef TOOTHRACK_ROOM_JOB_ROW_H
#define TOOTHRACK_ROOM_JOB_ROW_H

#include "toothrack/room.h"

/*
 * The row of that number, as typed. OUTCOME_BAD where the number is none, or the job has no such
 * row.
 */
enum outcome job_row_find(struct store *store, struct arena *arena, const struct kind *kind,
                          int64_t job, const char *number, struct record **out,
                          struct fault *fault);

/*
 * What a record is called in a sentence: its tag, its code, number or badge where it has no better,
 * `station 3 of job J1`.
 */
const char *record_named(struct arena *arena, const struct record *record);

/* Commits what is done, rolls back what is not; returns the outcome. */
enum outcome transaction_end(struct store *store, enum outcome outcome, struct fault *fault);

#endif
