/* `scrap TAG reason=...`: a tool that never runs again. It stays on record, with its history. */
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
	fault_set(fault, OUTCOME_BAD, "%s %s cannot be scrapped: %s", entry_article(found->kind),
	          found->kind->title, name);
	fault_hint(fault,
	           found->kind->id == KIND_JOB ? "Type edit %s state=cancelled."
	                                       : "Type edit %s retired=yes.",
	           name);
	return OUTCOME_BAD;
}

static enum outcome refuse_scrapped(const struct tool_state *tool, struct fault *fault)
{
	if (strcmp(tool->condition, "scrapped") != 0) {
		return OUTCOME_DONE;
	}
	const char *reason = tool->condition_reason;
	fault_set(fault, OUTCOME_NO, "tool is scrapped already: %s since %s%s%s", tool->tag,
	          moment_text(tool->condition_since.value).bytes, reason != NULL ? ": " : "",
	          reason != NULL ? reason : "");
	fault_hint(fault, "Type edit %s condition=ready where it was not.", tool->tag);
	return OUTCOME_NO;
}

/* It is still where it may run, or out for a job: somebody has to know. */
static const char *caution_of(struct arena *arena, const struct tool_state *tool)
{
	struct text text = text_start(arena);
	if (tool->place_sort != NULL && strcmp(tool->place_sort, "press") == 0) {
		text_add_format(&text,
		                "still at %s: take it off, then type edit %s place=PLACE for where it is",
		                tool->place_code, tool->tag);
	}
	if (tool->taken_for != NULL) {
		text_join(&text, "; ", "out for job ");
		text_add(&text, tool->taken_for);
	}
	return text.length > 0 ? text.bytes : NULL;
}

static enum outcome scrap(struct store *store, struct arena *arena, const char *tag,
                          const char *reason, const struct actor *actor, struct scrapped *out,
                          struct fault *fault)
{
	struct found found;
	struct record *record;
	enum outcome outcome = store_find(store, tag, REFER_NONE, &found, fault);
	if (outcome == OUTCOME_DONE && !found.kind->tool) {
		return refuse_kind(store, arena, &found, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(store, arena, found.id, &out->tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_scrapped(&out->tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, found.kind, found.id, &record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->what = room_summary(arena, record, UNITS_METRIC);
		out->reason = reason;
		out->caution = caution_of(arena, &out->tool);
		outcome =
			store_condition_set(store, found.kind, found.id, "scrapped", reason, actor, fault);
	}
	return outcome;
}

enum outcome room_scrap(struct store *store, struct arena *arena, const char *tag,
                        const char *reason, const struct actor *actor, struct scrapped *out,
                        struct fault *fault)
{
	struct value value;
	*out = (struct scrapped){.what = NULL};
	enum outcome outcome = value_parse(arena, "reason", VALUE_TEXT, NULL, NULL,
	                                   reason != NULL ? reason : "", &value, fault);
	if (outcome == OUTCOME_DONE && !value.known) {
		fault_set(fault, OUTCOME_BAD, "reason is not given");
		fault_hint(fault, "Type scrap %s reason=\"worn out\".", tag);
		return OUTCOME_BAD;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_begin(store, "room_scrap", fault);
	}
	return outcome == OUTCOME_DONE
	           ? transaction_end(store, scrap(store, arena, tag, value.text, actor, out, fault),
	                             fault)
	           : outcome;
}
