/* `new KIND key=value...`: one record, one transaction. */
#include <stdio.h>
#include <string.h>

#include "entry.h"

static enum outcome take_pairs(struct entry_form *form, const struct pair *pairs, size_t count,
                               struct fault *fault)
{
	const struct kind *kind = form->record->kind;
	for (size_t i = 0; i < count; i++) {
		size_t index = kind_attribute_find(kind, pairs[i].key);
		if (index == SIZE_MAX) {
			const char *nearest = entry_nearest_attribute(form->arena, kind, pairs[i].key);
			fault_set(fault, OUTCOME_BAD, "attribute of %s %s not known: %s", entry_article(kind),
			          kind->title, pairs[i].key);
			if (nearest != NULL) {
				fault_hint(fault, "Type %s=..., or help new for all of them.", nearest);
			} else {
				fault_hint(fault, "Type help new for all of them.");
			}
			return OUTCOME_BAD;
		}
		for (size_t j = 0; j < i; j++) {
			if (strcmp(pairs[j].key, pairs[i].key) == 0) {
				fault_set(fault, OUTCOME_BAD, "attribute given twice: %s", pairs[i].key);
				fault_hint(fault, "Type %s=... once.", pairs[i].key);
				return OUTCOME_BAD;
			}
		}
		entry_take(form, index, NULL, pairs[i].value);
	}
	return OUTCOME_DONE;
}

/* The first complaint is told, the others are counted. */
static enum outcome first_complaint(const struct complaints *complaints, struct fault *fault)
{
	if (complaints->total == 0) {
		return OUTCOME_DONE;
	}
	const struct complaint *first = &complaints->items[0];
	if (complaints->total == 1) {
		fault_set(fault, OUTCOME_BAD, "%s", first->sentence);
	} else {
		fault_set(fault, OUTCOME_BAD, "%s (and %zu more)", first->sentence, complaints->total - 1);
	}
	if (first->hint[0] != '\0') {
		fault_hint(fault, "%s", first->hint);
	}
	return OUTCOME_BAD;
}

static enum outcome refuse_known(struct entry_form *form, struct fault *fault)
{
	if (form->record->kind->id == KIND_READING) {
		return OUTCOME_DONE; /* a reading has no name: read twice, it is two */
	}
	enum outcome outcome = entry_identify(form, fault);
	if (outcome == OUTCOME_DONE && form->known != 0) {
		complain(&form->complaints, NULL, "", "%s is on record already", entry_name(form));
	}
	return outcome;
}

static enum outcome put_on_record(struct entry_form *form, const struct pair *pairs, size_t count,
                                  struct fault *fault)
{
	enum outcome outcome = take_pairs(form, pairs, count, fault);
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
		outcome = first_complaint(&form->complaints, fault);
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
