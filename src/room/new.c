/* `new KIND key=value...`: one record, one transaction. */
#include "entry.h"

/* What corrects the record that is there already. */
static const char *correcting(const struct entry_form *form)
{
	const struct record *record = form->record;
	const char *tag = record_words(record, "tag");
	if (!record->kind->tagged) {
		return arena_format(form->arena, "Type edit %s %s=%lld and what is right to correct it.",
		                    record_words(record, "job"), record->kind->name,
		                    (long long)record_known(record, record->kind->name)->count);
	}
	const char *name = tag != NULL ? tag : record_words(record, entry_code_attribute(record->kind));
	if (record->kind->id == KIND_PLACE) {
		/* By its code a press may be meant, which stands on a place of that code. */
		return arena_format(form->arena,
		                    "Type find place %s to see it, or edit its tag to "
		                    "correct it.",
		                    name);
	}
	return arena_format(form->arena, "Type show %s to see it, or edit %s to correct it.", name,
	                    name);
}

static enum outcome refuse_known(struct entry_form *form, struct fault *fault)
{
	if (form->record->kind->id == KIND_READING) {
		return OUTCOME_DONE; /* a reading has no name: read twice, it is two */
	}
	enum outcome outcome = entry_identify(form, fault);
	if (outcome == OUTCOME_DONE && form->known != 0) {
		complain(&form->complaints, NULL, correcting(form), "%s is on record already",
		         entry_name(form));
	}
	return outcome;
}

static enum outcome put_on_record(struct entry_form *form, const struct pair *pairs, size_t count,
                                  struct fault *fault)
{
	enum outcome outcome = entry_take_pairs(form, pairs, count, NULL, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = entry_resolve(form, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_known(form, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_check(form, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_first_complaint(&form->complaints, OUTCOME_BAD, fault);
	}
	return outcome == OUTCOME_DONE
	           ? store_record_insert(form->store, form->arena, form->record, form->actor, fault)
	           : outcome;
}

enum outcome room_new(struct store *store, struct arena *arena, const struct kind *kind,
                      const struct pair *pairs, size_t count, const struct actor *actor,
                      struct record **out, struct fault *fault)
{
	struct limits limits;
	enum outcome outcome = store_begin(store, "room_new", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_limits(store, &limits, fault);
	struct entry_form form = entry_form_new(store, arena, actor, &limits, kind);
	if (outcome == OUTCOME_DONE) {
		outcome = put_on_record(&form, pairs, count, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
		return outcome;
	}
	*out = form.record;
	return OUTCOME_DONE;
}
