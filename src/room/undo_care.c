/* Care taken back: cleaned, dirty, gauge, reblade, regrind. */
#include "undo_care.h"

#include <string.h>

/* What came since is of the life that would be gone. */
static enum outcome refuse_lived(const struct undo_entry *entry, const char *called,
                                 const struct ledger_entry *since, struct fault *fault)
{
	bool run = strcmp(since->word, "finish") == 0;
	fault_set(
		fault, OUTCOME_NO,
		"%s of %s is not taken back, the life it began has %s since: by %s at terminal %s, %s",
		entry->word, called, run ? "run" : "been read",
		since->operator_name != NULL ? since->operator_name : since->login, since->terminal,
		moment_text(since->happened).bytes);
	fault_hint(fault, "Look with history %s; what is wrong on record is put right with edit %s.",
	           called, called);
	return OUTCOME_NO;
}

/* As people read it: a run in whole metres. */
static const char *value_said(struct arena *arena, const struct value *value)
{
	if (!value->known) {
		return "not known";
	}
	return value->type == VALUE_WEB ? arena_copy(arena, web_text(value->length, UNITS_METRIC).bytes)
	                                : value_text(arena, value, UNITS_METRIC);
}

/* "run 0m -> 1200000m; fitted 2026-12-01 -> 2026-11-02"; NULL: nothing of the record changed. */
static const char *changes_said(struct arena *arena, const struct record *before,
                                const struct record *after)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < kind_attribute_count(after->kind); i++) {
		const struct value *old = &before->values[i], *new = &after->values[i];
		if (!value_equal(old, new)) {
			text_join(&text, "; ", kind_attribute(after->kind, i)->name);
			text_add_format(&text, " %s -> %s", value_said(arena, old), value_said(arena, new));
		}
	}
	return text.length > 0 ? text.bytes : NULL;
}

/* What was gauged, of `damage 300mm..330mm, usable face 0mm..300mm: nicked`. */
static const char *gauged_said(struct arena *arena, const char *detail)
{
	const char *face = strstr(detail, ", usable face "), *note = strstr(detail, ": ");
	const char *end = face != NULL && (note == NULL || face < note) ? face : note;
	return end != NULL ? arena_copy_bytes(arena, detail, (size_t)(end - detail)) : detail;
}

/* What a gauge took back changes, and of damage, or where nothing changed, what it had told. */
static const char *gauge_said(struct arena *arena, const char *detail, const char *changes)
{
	const char *gauged = gauged_said(arena, detail);
	if (changes == NULL) {
		return arena_format(arena, "%s not recorded any more", gauged);
	}
	const char *damage = strstr(gauged, "damage ");
	return damage != NULL ? arena_format(arena, "%s; %s", damage, changes) : changes;
}

/* `life 1 again; run 0m -> ...` where a life ended by it. */
static enum outcome take_back(struct store *store, struct arena *arena,
                              const struct undo_entry *entry, const struct actor *actor,
                              const char **result, struct fault *fault)
{
	struct record *before, *after = NULL;
	int64_t life = 1, now = 1;
	enum outcome outcome =
		store_record_read(store, arena, entry->kind, entry->subject, &before, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_life(store, entry->subject, &life, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_undo_care_change(store, arena, entry, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_life(store, entry->subject, &now, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, entry->kind, entry->subject, &after, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char *changes = changes_said(arena, before, after);
	*result = changes != NULL ? changes : "not recorded any more";
	if (strcmp(entry->word, "gauge") == 0 && entry->detail != NULL) {
		*result = gauge_said(arena, entry->detail, changes);
	}
	if (now != life) {
		*result = arena_format(arena, "life %lld again%s%s", (long long)now,
		                       changes != NULL ? "; " : "", changes != NULL ? changes : "");
	}
	return OUTCOME_DONE;
}

enum outcome undo_care_entry(struct store *store, struct arena *arena,
                             const struct undo_entry *entry, const char *called,
                             const struct actor *actor, const char **result, struct fault *fault)
{
	struct ledger_entry since;
	enum outcome outcome = store_undo_care_since(store, arena, entry, &since, fault);
	if (outcome == OUTCOME_DONE && since.number != 0) {
		return refuse_lived(entry, called, &since, fault);
	}
	return outcome == OUTCOME_DONE ? take_back(store, arena, entry, actor, result, fault) : outcome;
}
