/* Taking a record in: values out of words, references resolved, and which record on file it is. */
#include <string.h>

#include "entry.h"

struct entry_form entry_form_new(struct store *store, struct arena *arena,
                                 const struct actor *actor, const struct limits *limits,
                                 const struct kind *kind)
{
	return (struct entry_form){
		.store = store,
		.arena = arena,
		.actor = actor,
		.limits = limits,
		.record = record_new(arena, kind),
		.complaints = {.arena = arena},
	};
}

void entry_take(struct entry_form *form, size_t attribute, const char *unit, const char *text)
{
	const struct attribute *taken = kind_attribute(form->record->kind, attribute);
	struct value *value = &form->record->values[attribute];
	struct fault fault;
	fault_clear(&fault);
	form->record->references[attribute] = 0;
	*value = (struct value){.type = taken->type};
	if (value_parse(form->arena, taken->name, taken->type, taken->choices, unit, text, value,
	                &fault) != OUTCOME_DONE) {
		complain_fault(&form->complaints, taken->name, &fault);
	}
}

/* ---------------------------------------------------------------- references */

/* One name; what it names, or a complaint. */
static enum outcome resolve_name(struct entry_form *form, const struct attribute *attribute,
                                 const char *name, int64_t *id, struct fault *fault)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	enum outcome outcome = store_find(form->store, name, attribute->reference, &found, &unknown);
	if (outcome == OUTCOME_DONE) {
		*id = found.id;
		return OUTCOME_DONE;
	}
	if (outcome == OUTCOME_STORE) {
		return fault_set(fault, outcome, "%s", unknown.sentence);
	}
	complain_fault(&form->complaints, attribute->name, &unknown);
	return OUTCOME_DONE;
}

/* The presses of a job, `P1,P2`: each must be there; the store lists them by their codes. */
static enum outcome resolve_list(struct entry_form *form, const struct attribute *attribute,
                                 const char *list, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	while (*list != '\0' && outcome == OUTCOME_DONE) {
		size_t length = strcspn(list, ",");
		int64_t id;
		outcome =
			resolve_name(form, attribute, arena_copy_bytes(form->arena, list, length), &id, fault);
		list += length + (list[length] == ',' ? 1 : 0);
	}
	return outcome;
}

enum outcome entry_resolve(struct entry_form *form, struct fault *fault)
{
	struct record *record = form->record;
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < kind_attribute_count(record->kind) && outcome == OUTCOME_DONE; i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		const struct value *value = &record->values[i];
		if (attribute->reference == REFER_NONE || !value->known || record->references[i] != 0) {
			continue;
		}
		if (attribute->reference == REFER_PRESSES) {
			outcome = resolve_list(form, attribute, value->text, fault);
		} else {
			outcome = resolve_name(form, attribute, value->text, &record->references[i], fault);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- identity */

/* The attribute that names a record of this kind beside its tag; NULL: none does. */
static const char *code_attribute(const struct kind *kind)
{
	switch (kind->id) {
	case KIND_OPERATOR:
		return "badge";
	case KIND_PLACE:
	case KIND_PRESS:
		return "code";
	case KIND_JOB:
		return "number";
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
		return "other_tag";
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return NULL;
}

static enum reference reference_of(const struct kind *kind)
{
	switch (kind->id) {
	case KIND_PLACE:
		return REFER_PLACE;
	case KIND_PRESS:
		return REFER_PRESSES;
	case KIND_JOB:
		return REFER_JOB;
	case KIND_OPERATOR:
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return kind->tool ? REFER_TOOL : REFER_NONE;
}

/* The record of this very kind that a word names; 0 where none of this kind does. */
static enum outcome named_record(struct entry_form *form, const char *word, int64_t *id,
                                 struct fault *fault)
{
	const struct kind *kind = form->record->kind;
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	*id = 0;
	enum outcome outcome = store_find(form->store, word, reference_of(kind), &found, &unknown);
	if (outcome == OUTCOME_STORE) {
		return fault_set(fault, outcome, "%s", unknown.sentence);
	}
	if (outcome == OUTCOME_DONE && found.kind == kind) {
		*id = found.id;
	}
	return OUTCOME_DONE;
}

static enum outcome identify_by_words(struct entry_form *form, int64_t *id, struct fault *fault)
{
	const char *code_name = code_attribute(form->record->kind);
	const char *tag = record_words(form->record, "tag");
	const char *code = code_name != NULL ? record_words(form->record, code_name) : NULL;
	int64_t by_tag = 0, by_code = 0;
	enum outcome outcome = OUTCOME_DONE;
	if (tag != NULL) {
		outcome = named_record(form, tag, &by_tag, fault);
	}
	if (code != NULL && outcome == OUTCOME_DONE) {
		outcome = named_record(form, code, &by_code, fault);
	}
	if (by_code != 0 && tag != NULL && by_tag != by_code) {
		complain(&form->complaints, code_name, "", "%s belongs to another record: %s", code_name,
		         code);
	}
	*id = by_tag != 0 ? by_tag : by_code;
	return outcome;
}

enum outcome entry_identify(struct entry_form *form, int64_t *id, struct fault *fault)
{
	struct record *record = form->record;
	*id = 0;
	if (record->kind->tagged) {
		return identify_by_words(form, id, fault);
	}
	if (record->kind->id == KIND_READING) {
		const struct value *moment = record_known(record, "moment");
		int64_t tool = record->references[kind_attribute_find(record->kind, "tool")];
		return moment != NULL && tool != 0
		           ? store_reading_find(form->store, tool, moment->moment,
		                                record_words(record, "method"),
		                                record_words(record, "after"), id, fault)
		           : OUTCOME_DONE;
	}
	const struct value *number = record_known(record, record->kind->name);
	int64_t job = record->references[kind_attribute_find(record->kind, "job")];
	if (number == NULL || job == 0) {
		return OUTCOME_DONE;
	}
	return store_job_row_find(form->store, record->kind, job, number->count, id, fault);
}

const char *entry_name(const struct entry_form *form)
{
	const struct record *record = form->record;
	const char *code_name = code_attribute(record->kind);
	if (record_words(record, "tag") != NULL) {
		return arena_format(form->arena, "tag %s", record_words(record, "tag"));
	}
	if (code_name != NULL && record_words(record, code_name) != NULL) {
		return arena_format(form->arena, "%s %s", code_name, record_words(record, code_name));
	}
	if (record->kind->id == KIND_READING) {
		const struct value *moment = record_known(record, "moment");
		return arena_format(form->arena, "reading of %s at %s", record_words(record, "tool"),
		                    moment != NULL ? moment_text(moment->moment).bytes : "no moment");
	}
	const struct value *number = record_known(record, record->kind->name);
	return arena_format(form->arena, "%s %lld of job %s", record->kind->name,
	                    number != NULL ? (long long)number->count : 0, record_words(record, "job"));
}
