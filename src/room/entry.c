/* Taking a record in: values out of words, references resolved. */
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

const char *entry_article(const struct kind *kind)
{
	return strchr("aeiou", kind->title[0]) != NULL ? "an" : "a";
}

const char *entry_nearest_attribute(struct arena *arena, const struct kind *kind, const char *word)
{
	size_t count = kind_attribute_count(kind);
	const char **names = arena_take(arena, count + 1, sizeof *names);
	for (size_t i = 0; i < count; i++) {
		names[i] = kind_attribute(kind, i)->name;
	}
	return text_nearest(word, names);
}

/*
 * A list of readings may name a roll by the number that its maker gave it: where nothing else on
 * record has that name, and one roll has that number. `*id` 0: none.
 */
static enum outcome resolve_serial(struct entry_form *form, const struct attribute *attribute,
                                   const char *name, int64_t *id, struct fault *fault)
{
	struct found found;
	struct tag tag;
	int64_t rolls[2];
	size_t count = 0;
	*id = 0;
	if (!form->file || form->record->kind->id != KIND_READING ||
	    tag_read(name, &tag) != TAG_NOT_OURS) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_find_plain(form->store, name, REFER_NONE, &found, NULL);
	if (outcome == OUTCOME_DONE || outcome == OUTCOME_STORE) {
		return outcome == OUTCOME_STORE
		           ? fault_set(fault, outcome, "roll cannot be looked for: %s", name)
		           : OUTCOME_DONE;
	}
	outcome = store_rolls_of_serial(form->store, name, rolls, COUNT_OF(rolls), &count, fault);
	if (outcome == OUTCOME_DONE && count > 1) {
		complain(&form->complaints, attribute->name, "Name it by its tag.",
		         "%s is the maker's serial of more than one roll: %s", attribute->name, name);
	}
	*id = count > 0 ? rolls[0] : 0;
	return outcome;
}

/* One name; what it names, or a complaint. */
static enum outcome resolve_name(struct entry_form *form, const struct attribute *attribute,
                                 const char *name, int64_t *id, struct fault *fault)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	enum outcome by_serial = resolve_serial(form, attribute, name, id, fault);
	if (by_serial != OUTCOME_DONE || *id != 0) {
		return by_serial;
	}
	enum outcome (*find)(struct store *, const char *, enum reference, struct found *,
	                     struct fault *) = form->plain ? store_find_plain : store_find;
	enum outcome outcome = find(form->store, name, attribute->reference, &found, &unknown);
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
