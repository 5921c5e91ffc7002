/* `remove JOB station=N`, `remove JOB cut=N`: a row of a job. Nothing else is ever removed. */
#include <string.h>

#include "entry.h"
#include "job_row.h"

static enum outcome refuse_kind(struct store *store, struct arena *arena, const struct found *found,
                                struct fault *fault)
{
	struct record *record;
	enum outcome outcome = store_record_read(store, arena, found->kind, found->id, &record, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char *name = record_named(arena, record);
	fault_set(fault, OUTCOME_BAD, "%s %s is never removed: %s", entry_article(found->kind),
	          found->kind->title, name);
	if (found->kind->tool) {
		fault_hint(fault, "Type scrap %s reason=...", name);
	} else {
		fault_hint(fault, "Type edit %s retired=yes.", name);
	}
	return OUTCOME_BAD;
}

/* Which of the two is asked; a job itself stays. */
static enum outcome choose_row(const char *job, const char *station, const char *cut,
                               const struct kind **kind, struct fault *fault)
{
	if (station != NULL && cut != NULL) {
		fault_set(fault, OUTCOME_BAD, "two rows of a job are named: station=%s, cut=%s", station,
		          cut);
		fault_hint(fault, "Type station=... or cut=..., one at a time.");
		return OUTCOME_BAD;
	}
	if (station == NULL && cut == NULL) {
		fault_set(fault, OUTCOME_BAD, "a job is never removed: %s", job);
		fault_hint(fault, "Type edit %s state=cancelled, or remove %s station=3 for a row of it.",
		           job, job);
		return OUTCOME_BAD;
	}
	*kind = &kinds[station != NULL ? KIND_STATION : KIND_CUT];
	return OUTCOME_DONE;
}

static enum outcome refuse_state(const struct job *job, struct fault *fault)
{
	if (strcmp(job->state, "running") != 0 && strcmp(job->state, "finished") != 0) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_NO, "job is %s, its rows stay: %s", job->state, job->number);
	fault_hint(fault, "Type edit %s with the row's station= or cut= to correct it.", job->number);
	return OUTCOME_NO;
}

static enum outcome remove_row(struct store *store, struct arena *arena, const char *tag,
                               const char *station, const char *cut, const struct actor *actor,
                               struct removed *out, struct fault *fault)
{
	struct found found;
	struct job job;
	const struct kind *kind = NULL;
	enum outcome outcome = store_find(store, tag, REFER_NONE, &found, fault);
	if (outcome == OUTCOME_DONE && found.kind->id != KIND_JOB) {
		return refuse_kind(store, arena, &found, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_job_read(store, arena, found.id, &job, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = choose_row(job.number, station, cut, &kind, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = job_row_find(store, arena, kind, found.id, station != NULL ? station : cut,
		                       &out->record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_state(&job, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->called = record_named(arena, out->record);
		out->job = job.number;
		out->caution = kind->id == KIND_CUT && job.cut_count == 1
		                   ? "the job has no cuts any more: one kiss cut is meant"
		                   : NULL;
		outcome = store_job_row_remove(store, arena, out->record, actor, fault);
	}
	return outcome;
}

enum outcome room_remove(struct store *store, struct arena *arena, const char *tag,
                         const char *station, const char *cut, const struct actor *actor,
                         struct removed *out, struct fault *fault)
{
	*out = (struct removed){.record = NULL};
	enum outcome outcome = store_begin(store, "room_remove", fault);
	return outcome == OUTCOME_DONE
	           ? transaction_end(store,
	                             remove_row(store, arena, tag, station, cut, actor, out, fault),
	                             fault)
	           : outcome;
}
