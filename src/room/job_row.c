/* A station or a cut of a job, reached by its number; and what a record is called. */
#include "job_row.h"

enum outcome job_row_find(struct store *store, struct arena *arena, const struct kind *kind,
                          int64_t job, const char *number, struct record **out, struct fault *fault)
{
	struct value value;
	struct record *of;
	int64_t id;
	enum outcome outcome =
		value_parse(arena, kind->name, VALUE_COUNT, NULL, NULL, number, &value, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, &kinds[KIND_JOB], job, &of, fault);
	}
	if (outcome == OUTCOME_DONE && !value.known) {
		fault_set(fault, OUTCOME_BAD, "%s is not given", kind->name);
		fault_hint(fault, "Type %s=3 or another number.", kind->name);
		return OUTCOME_BAD;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_job_row_find(store, kind, job, value.count, &id, fault);
	}
	if (outcome == OUTCOME_DONE && id == 0) {
		const char *name = record_words(of, "number");
		fault_set(fault, OUTCOME_BAD, "%s of job %s not known: %lld", kind->name, name,
		          (long long)value.count);
		fault_hint(fault, "Type show %s for those it has.", name);
		return OUTCOME_BAD;
	}
	return outcome == OUTCOME_DONE ? store_record_read(store, arena, kind, id, out, fault)
	                               : outcome;
}

const char *record_named(struct arena *arena, const struct record *record)
{
	static const char *const codes[] = {"code", "number", "badge", "tag"};
	const struct kind *kind = record->kind;
	for (size_t i = 0; i < COUNT_OF(codes) && kind->tagged; i++) {
		if (record_words(record, codes[i]) != NULL) {
			return record_words(record, codes[i]);
		}
	}
	if (kind->id == KIND_READING && record_words(record, "tool") != NULL) {
		return arena_format(arena, "reading of %s", record_words(record, "tool"));
	}
	const struct value *number = record_known(record, kind->name);
	return number != NULL ? arena_format(arena, "%s %lld of job %s", kind->name,
	                                     (long long)number->count, record_words(record, "job"))
	                      : kind->title;
}

enum outcome transaction_end(struct store *store, enum outcome outcome, struct fault *fault)
{
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}
