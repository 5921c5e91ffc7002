/* Which record on file a record taken in is, and what it is called. */
#include <string.h>

#include "entry.h"

const char *entry_code_attribute(const struct kind *kind)
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
	enum outcome outcome =
		store_find_plain(form->store, word, reference_of(kind), &found, &unknown);
	if (outcome == OUTCOME_STORE) {
		return fault_set(fault, outcome, "%s", unknown.sentence);
	}
	if (outcome == OUTCOME_DONE && found.kind == kind) {
		*id = found.id;
	}
	return OUTCOME_DONE;
}

/* Which record it is that has the code: it may be the one that was meant. */
static enum outcome complain_other(struct entry_form *form, const char *attribute, const char *code,
                                   int64_t id, struct fault *fault)
{
	struct record *other;
	enum outcome outcome =
		store_record_read(form->store, form->arena, form->record->kind, id, &other, fault);
	if (outcome == OUTCOME_DONE) {
		const char *hint = arena_format(form->arena, "It is that of %s, %s; give another.",
		                                record_words(other, "tag"),
		                                room_summary(form->arena, other, form->limits->units));
		complain(&form->complaints, attribute, hint, "%s belongs to another record: %s", attribute,
		         code);
	}
	return outcome;
}

static enum outcome identify_by_words(struct entry_form *form, struct fault *fault)
{
	const char *code_name = entry_code_attribute(form->record->kind);
	const char *tag = record_words(form->record, "tag");
	const char *code = record_words(form->record, code_name);
	int64_t by_tag = 0, by_code = 0;
	enum outcome outcome = OUTCOME_DONE;
	if (tag != NULL) {
		outcome = named_record(form, tag, &by_tag, fault);
	}
	if (code != NULL && outcome == OUTCOME_DONE) {
		outcome = named_record(form, code, &by_code, fault);
	}
	if (outcome == OUTCOME_DONE && by_code != 0 && tag != NULL && by_tag != by_code) {
		outcome = complain_other(form, code_name, code, by_code, fault);
	}
	form->known = by_tag != 0 ? by_tag : by_code;
	return outcome;
}

static int64_t reference_to(const struct record *record, const char *attribute)
{
	return record->references[kind_attribute_find(record->kind, attribute)];
}

enum outcome entry_identify(struct entry_form *form, struct fault *fault)
{
	const struct record *record = form->record;
	form->known = 0;
	if (record->kind->tagged) {
		return identify_by_words(form, fault);
	}
	if (record->kind->id == KIND_READING) {
		struct value *moment = record_value(form->record, "moment");
		int64_t tool = reference_to(record, "tool");
		moment->moment.date = false; /* kept to the second: as that day begins */
		return moment->known && tool != 0
		           ? store_reading_find(form->store, tool, moment->moment,
		                                record_words(record, "method"),
		                                record_words(record, "after"), &form->known, fault)
		           : OUTCOME_DONE;
	}
	const struct value *number = record_known(record, record->kind->name);
	int64_t job = reference_to(record, "job");
	if (number == NULL || job == 0) {
		return OUTCOME_DONE;
	}
	return store_job_row_find(form->store, record->kind, job, number->count, &form->known, fault);
}

const char *entry_name(const struct entry_form *form)
{
	const struct record *record = form->record;
	const char *code_name = entry_code_attribute(record->kind);
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

/* ---------------------------------------------------------------- names within a file */

static const char *tag_name(const struct entry_form *form, const char *text)
{
	struct tag tag;
	if (tag_read(text, &tag) != TAG_READ) {
		return text;
	}
	return arena_copy(form->arena, tag_stored(tag).bytes);
}

static size_t words_names(const struct entry_form *form, const char *names[ENTRY_NAMES_MOST])
{
	const char *tag = record_words(form->record, "tag");
	const char *code = record_words(form->record, entry_code_attribute(form->record->kind));
	size_t count = 0;
	if (tag != NULL) {
		names[count++] = tag_name(form, tag);
	}
	if (code != NULL) {
		names[count++] = code;
	}
	return count;
}

size_t entry_names(const struct entry_form *form, const char *names[ENTRY_NAMES_MOST])
{
	const struct record *record = form->record;
	if (record->kind->tagged) {
		return words_names(form, names);
	}
	if (record->kind->id == KIND_READING) {
		return 0; /* read twice, it is two readings */
	}
	const struct value *number = record_known(record, record->kind->name);
	int64_t job = reference_to(record, "job");
	if (number == NULL || job == 0) {
		return 0;
	}
	names[0] = arena_format(form->arena, "%lld %lld", (long long)job, (long long)number->count);
	return 1;
}
