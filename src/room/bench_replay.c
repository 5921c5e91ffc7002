/*
 * Lines of a batch that were applied before: nothing is recorded again, but what stands and waits
 * behind them is as it was.
 */
#include <stdio.h>
#include <string.h>

#include "bench.h"

static void sign_on_again(struct bench *bench, int64_t operator_id)
{
	struct record *record;
	if (bench->actor.operator_id == bench->base.operator_id && operator_id != 0 &&
	    store_record_read(bench->store, bench->scratch, &kinds[KIND_OPERATOR], operator_id, &record,
	                      NULL) == OUTCOME_DONE) {
		const char *role = record_words(record, "role");
		bench->actor.operator_id = operator_id;
		bench->actor.limited = role == NULL || strcmp(role, "supervisor") != 0;
		snprintf(bench->who, sizeof bench->who, "%s", record_words(record, "name"));
	}
}

void bench_replay_stands(struct bench *bench)
{
	struct batch_entry told;
	struct place_state place;
	struct record *job;
	const char *code = NULL;
	if (store_batch_entry(bench->store, bench->scratch, bench->batch->known_entry, &told, NULL) !=
	    OUTCOME_DONE) {
		return;
	}
	sign_on_again(bench, told.operator_id);
	if (bench->standing != STANDS_NOTHING) {
		return;
	}
	if (strcmp(told.word, "take") == 0) {
		bench->standing = STANDS_JOB;
		bench->stands = told.job;
		if (store_record_read(bench->store, bench->scratch, &kinds[KIND_JOB], told.job, &job,
		                      NULL) == OUTCOME_DONE) {
			code = record_words(job, "number");
		}
	} else {
		bench->standing = STANDS_PLACE;
		bench->stands = told.to_place;
		if (store_place_state(bench->store, bench->scratch, told.to_place, &place, NULL) ==
		    OUTCOME_DONE) {
			code = place.code;
		}
	}
	snprintf(bench->stands_code, sizeof bench->stands_code, "%s", code != NULL ? code : "?");
}

enum outcome bench_replay_taking(struct bench *bench, const char *what)
{
	enum outcome outcome = bench_replayed(bench, bench->waiting, bench->waiting_count, what);
	memcpy(bench->last, bench->waiting, bench->waiting_count * sizeof *bench->last);
	bench->last_count = bench->waiting_count;
	bench->waiting_count = 0;
	bench->standing = STANDS_NOTHING;
	return outcome;
}
