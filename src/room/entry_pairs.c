/* A record taken in from words typed as `key=value`: `new` and `edit`. */
#include <string.h>

#include "entry.h"

static enum outcome refuse_attribute(struct entry_form *form, const char *key, struct fault *fault)
{
	const struct kind *kind = form->record->kind;
	const char *nearest = entry_nearest_attribute(form->arena, kind, key);
	fault_set(fault, OUTCOME_BAD, "attribute of %s %s not known: %s", entry_article(kind),
	          kind->title, key);
	bool of_row = kind_attribute_find(&kinds[KIND_STATION], key) != SIZE_MAX ||
	              kind_attribute_find(&kinds[KIND_CUT], key) != SIZE_MAX;
	if (kind->id == KIND_JOB && of_row) {
		fault_hint(fault, "It is of a row of the job: type station=N or cut=N with edit, or new "
		                  "station.");
	} else if (nearest != NULL) {
		fault_hint(fault, "Type %s=..., or help %s for all of them.", nearest, kind->name);
	} else {
		fault_hint(fault, "Type help %s for all of them.", kind->name);
	}
	return OUTCOME_BAD;
}

enum outcome entry_take_pairs(struct entry_form *form, const struct pair *pairs, size_t count,
                              bool *given, struct fault *fault)
{
	for (size_t i = 0; i < count; i++) {
		size_t index = kind_attribute_find(form->record->kind, pairs[i].key);
		if (index == SIZE_MAX) {
			return refuse_attribute(form, pairs[i].key, fault);
		}
		for (size_t j = 0; j < i; j++) {
			if (strcmp(pairs[j].key, pairs[i].key) == 0) {
				fault_set(fault, OUTCOME_BAD, "attribute given twice: %s", pairs[i].key);
				fault_hint(fault, "Type %s=... once.", pairs[i].key);
				return OUTCOME_BAD;
			}
		}
		entry_take(form, index, NULL, pairs[i].value);
		if (given != NULL) {
			given[index] = true;
		}
	}
	return OUTCOME_DONE;
}

enum outcome entry_first_complaint(const struct complaints *complaints, enum outcome outcome,
                                   struct fault *fault)
{
	if (complaints->total == 0) {
		return OUTCOME_DONE;
	}
	const struct complaint *first = &complaints->items[0];
	if (complaints->total == 1) {
		fault_set(fault, outcome, "%s", first->sentence);
	} else {
		fault_set(fault, outcome, "%s (and %zu more)", first->sentence, complaints->total - 1);
	}
	if (first->hint[0] != '\0') {
		fault_hint(fault, "%s", first->hint);
	}
	return outcome;
}

/* The same thing by another spelling of its code is no change: `r2` for R2, `p1` for P1. */
static bool names_the_same(const struct record *known, const struct record *given, size_t index)
{
	const struct attribute *attribute = kind_attribute(known->kind, index);
	const struct value *a = &known->values[index], *b = &given->values[index];
	if (attribute->reference == REFER_NONE || !a->known || !b->known) {
		return false;
	}
	return attribute->reference == REFER_PRESSES
	           ? text_equal_fold(a->text, b->text)
	           : known->references[index] == given->references[index];
}

/* The stations of a press bear its code: another would leave them behind. */
static void refuse_new_press_code(struct entry_form *form, const struct record *known)
{
	const char *code = record_words(form->record, "code"), *stood = record_words(known, "code");
	if (code != NULL && stood != NULL && !text_equal_fold(code, stood)) {
		complain(&form->complaints, "code",
		         arena_format(form->arena,
		                      "Put it on record anew with its new code, then type edit %s "
		                      "retired=yes.",
		                      stood),
		         "code of a press is not changed, its stations are called by it: %s", stood);
	}
}

/* A tool that is elsewhere is not due back any more, as after a movement, unless that is said. */
static void forget_back(struct record *record, int64_t place_before, const bool *given)
{
	if (!record->kind->tool) {
		return;
	}
	size_t place = kind_attribute_find(record->kind, "place");
	size_t back = kind_attribute_find(record->kind, "back");
	if (given[place] && !given[back] && record->references[place] != place_before) {
		record->values[back].known = false;
	}
}

enum outcome entry_merge(struct entry_form *form, const bool *given, struct fault *fault)
{
	struct record *row = form->record, *known;
	enum outcome outcome =
		store_record_read(form->store, form->arena, row->kind, form->known, &known, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char *code = entry_code_attribute(row->kind);
	form->stood_code = code != NULL ? record_words(known, code) : NULL;
	form->stood_condition = record_words(known, "condition");
	size_t note = kind_attribute_find(row->kind, "note");
	form->stood_note = note != SIZE_MAX && !given[note];
	if (row->kind->id == KIND_PRESS) {
		refuse_new_press_code(form, known);
	}
	int64_t place_before =
		row->kind->tool ? known->references[kind_attribute_find(row->kind, "place")] : 0;
	for (size_t i = 0; i < kind_attribute_count(row->kind); i++) {
		bool tag = strcmp(kind_attribute(row->kind, i)->name, "tag") == 0;
		if (given[i] && !tag && !names_the_same(known, row, i)) {
			known->values[i] = row->values[i];
			known->references[i] = row->references[i];
		}
	}
	forget_back(known, place_before, given);
	form->record = known;
	return OUTCOME_DONE;
}
