/* `edit TAG key=value...`: one record corrected, by the rules of import update=yes. */
#include <string.h>

#include "entry.h"
#include "job_row.h"

/* What is to be edited, and by which of the words. */
struct edit {
	struct store *store;
	struct arena *arena;
	struct limits limits;
	const struct actor *actor;
	const struct pair *pairs; /* without that which names a row */
	size_t count;
	struct record *before;
};

/* Of a job, `station=3` or `cut=1` names a row; that pair is taken out of the others. */
static enum outcome find_row(struct edit *edit, struct fault *fault)
{
	struct pair *others = arena_take(edit->arena, edit->count + 1, sizeof *others);
	const struct pair *row = NULL;
	size_t count = 0;
	for (size_t i = 0; i < edit->count; i++) {
		const struct pair *pair = &edit->pairs[i];
		bool names_row = strcmp(pair->key, "station") == 0 || strcmp(pair->key, "cut") == 0;
		if (names_row && row != NULL) {
			fault_set(fault, OUTCOME_BAD, "two rows of a job are named: %s=%s, %s=%s", row->key,
			          row->value, pair->key, pair->value);
			fault_hint(fault, "Type station=... or cut=..., one at a time.");
			return OUTCOME_BAD;
		}
		if (names_row) {
			row = pair;
		} else {
			others[count++] = *pair;
		}
	}
	edit->pairs = others;
	edit->count = count;
	return row == NULL ? OUTCOME_DONE
	                   : job_row_find(edit->store, edit->arena, kind_find(row->key),
	                                  edit->before->id, row->value, &edit->before, fault);
}

/* What names a record of ours is never changed: its tag, and the job that a row belongs to. */
static enum outcome refuse_names(const struct edit *edit, struct fault *fault)
{
	const struct record *before = edit->before;
	for (size_t i = 0; i < edit->count; i++) {
		const char *key = edit->pairs[i].key;
		bool job = !before->kind->tagged && strcmp(key, "job") == 0;
		if (strcmp(key, "tag") == 0 && before->kind->tagged) {
			fault_set(fault, OUTCOME_BAD, "tag is never changed: %s", record_words(before, "tag"));
			fault_hint(fault, "Leave tag out.");
			return OUTCOME_BAD;
		}
		if (job) {
			fault_set(fault, OUTCOME_BAD, "job of a %s is never changed: %s", before->kind->name,
			          record_words(before, "job"));
			fault_hint(fault, "Remove the row and put it on record under the other job.");
			return OUTCOME_BAD;
		}
	}
	if (edit->count == 0) {
		fault_set(fault, OUTCOME_BAD, "what to correct is not given: %s",
		          record_named(edit->arena, before));
		fault_hint(fault, "Type what is right behind it, such as note=\"edge dented\".");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* A name that another record has is a complaint, as it is in a file. */
static enum outcome identify(struct entry_form *form, const struct record *before,
                             struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	if (before->kind->tagged) {
		*record_value(form->record, "tag") =
			before->values[kind_attribute_find(before->kind, "tag")];
		outcome = entry_identify(form, fault);
	}
	form->known = before->id;
	return outcome;
}

static enum outcome correct(struct edit *edit, bool *changed, struct fault *fault)
{
	const struct kind *kind = edit->before->kind;
	bool *given = arena_take(edit->arena, kind_attribute_count(kind), sizeof *given);
	struct entry_form form =
		entry_form_new(edit->store, edit->arena, edit->actor, &edit->limits, kind);
	enum outcome outcome = entry_take_pairs(&form, edit->pairs, edit->count, given, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = entry_resolve(&form, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = identify(&form, edit->before, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_merge(&form, given, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_check(&form, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_first_complaint(&form.complaints, OUTCOME_BAD, fault);
	}
	return outcome == OUTCOME_DONE ? store_record_update(edit->store, edit->arena, form.record,
	                                                     edit->actor, changed, fault)
	                               : outcome;
}

static void tell_changes(struct arena *arena, const struct record *before, enum units units,
                         struct edited *out)
{
	size_t count = kind_attribute_count(before->kind);
	out->changes = arena_take(arena, count, sizeof *out->changes);
	for (size_t i = 0; i < count; i++) {
		const struct value *old = &before->values[i], *new = &out->record->values[i];
		if (!value_equal(old, new)) {
			out->changes[out->change_count++] = (struct edited_value){
				.attribute = kind_attribute(before->kind, i)->name,
				.before = old->known ? value_text(arena, old, units) : NULL,
				.after = new->known ? value_text(arena, new, units) : NULL,
			};
		}
	}
}

/*
 * A job said to be finished so, or to run no more: nobody has told what web it took, nor which
 * tools ran.
 */
static void caution_turned(struct edit *edit, struct edited *out)
{
	if (out->record->kind->id != KIND_JOB) {
		return;
	}
	const char *before = record_words(edit->before, "state");
	const char *after = record_words(out->record, "state");
	const char *number = record_words(out->record, "number");
	bool ran = strcmp(before, "running") == 0, over = strcmp(after, "finished") == 0;
	if (strcmp(before, after) == 0 || (!ran && !over)) {
		return;
	}
	if (ran) {
		out->caution = arena_format(edit->arena,
		                            "no tool's run has grown by it; for the web that it did run, "
		                            "type undo, then finish %s%s",
		                            number, over ? "" : " length=...");
	} else {
		out->caution = arena_format(edit->arena,
		                            "no tool's run has grown by it; where it has run, type undo, "
		                            "start %s, then finish %s",
		                            number, number);
	}
}

/* A place that is retired while tools lie in it: they are still looked for there. */
#define TOOLS_COUNTED 10000
static enum outcome caution_of(struct edit *edit, struct edited *out, struct fault *fault)
{
	const struct record *record = out->record;
	int64_t counts[KIND_COUNT], all = 0;
	caution_turned(edit, out);
	if (record->kind->id != KIND_PLACE || !record_value(out->record, "retired")->yes ||
	    record_value(edit->before, "retired")->yes) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_place_counts(edit->store, record->id, TOOLS_COUNTED, counts, fault);
	for (size_t i = 0; i < KIND_COUNT; i++) {
		all += counts[i];
	}
	if (outcome == OUTCOME_DONE && all > 0) {
		out->caution =
			arena_format(edit->arena, "%lld tool%s%s still in it: put %s elsewhere", (long long)all,
		                 all >= TOOLS_COUNTED ? "s or more"
		                 : all == 1           ? ""
		                                      : "s",
		                 all == 1 ? " is" : " are", all == 1 ? "it" : "them");
	}
	return outcome;
}

static enum outcome edit_found(struct edit *edit, const char *tag, enum units units,
                               struct edited *out, struct fault *fault)
{
	struct found found;
	bool changed = false;
	enum outcome outcome = store_find(edit->store, tag, REFER_NONE, &found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_limits(edit->store, &edit->limits, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_record_read(edit->store, edit->arena, found.kind, found.id, &edit->before, fault);
	}
	if (outcome == OUTCOME_DONE && found.kind->id == KIND_JOB) {
		outcome = find_row(edit, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_names(edit, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = correct(edit, &changed, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(edit->store, edit->arena, edit->before->kind, edit->before->id,
		                            &out->record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->called = record_named(edit->arena, out->record);
		if (changed) {
			tell_changes(edit->arena, edit->before, units, out);
			outcome = caution_of(edit, out, fault);
		}
	}
	return outcome;
}

enum outcome room_edit(struct store *store, struct arena *arena, const char *tag,
                       const struct pair *pairs, size_t count, enum units units,
                       const struct actor *actor, struct edited *out, struct fault *fault)
{
	struct edit edit = {
		.store = store,
		.arena = arena,
		.actor = actor,
		.pairs = pairs,
		.count = count,
	};
	*out = (struct edited){.record = NULL};
	enum outcome outcome = store_begin(store, "room_edit", fault);
	return outcome == OUTCOME_DONE
	           ? transaction_end(store, edit_found(&edit, tag, units, out, fault), fault)
	           : outcome;
}
