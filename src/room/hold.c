/* `hold` and `clear`: whether a tool, or a station of a press, may run. */
#include <string.h>

#include "entry.h"

/* A tool or a place, as its condition goes. */
struct subject {
	struct found found;
	const char *name; /* tag or code */
	const char *condition, *reason;
	struct known_moment since;
	const char *what;
};

static enum outcome read_tool(struct store *store, struct arena *arena, struct subject *out,
                              struct fault *fault)
{
	struct tool_state state;
	struct record *record;
	enum outcome outcome = store_tool_state(store, arena, out->found.id, &state, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, out->found.kind, out->found.id, &record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->name = state.tag;
		out->condition = state.condition;
		out->reason = state.condition_reason;
		out->since = state.condition_since;
		out->what = room_summary(arena, record, UNITS_METRIC);
	}
	return outcome;
}

static enum outcome read_place(struct store *store, struct arena *arena, struct subject *out,
                               struct fault *fault)
{
	struct place_state state;
	enum outcome outcome = store_place_state(store, arena, out->found.id, &state, fault);
	if (outcome == OUTCOME_DONE) {
		out->name = state.code;
		out->condition = state.condition;
		out->reason = state.condition_reason;
		out->since = state.condition_since;
		out->what = state.name != NULL ? state.name : "place";
	}
	return outcome;
}

static enum outcome subject_find(struct store *store, struct arena *arena, const char *text,
                                 const char *condition, struct subject *out, struct fault *fault)
{
	*out = (struct subject){.name = NULL};
	enum outcome outcome = store_find(store, text, REFER_NONE, &out->found, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (out->found.kind->tool) {
		return read_tool(store, arena, out, fault);
	}
	if (out->found.kind->id == KIND_PLACE) {
		return read_place(store, arena, out, fault);
	}
	fault_set(fault, OUTCOME_BAD, "%s %s %s: %s", entry_article(out->found.kind),
	          out->found.kind->title,
	          strcmp(condition, "hold") == 0 ? "cannot be held" : "is never on hold", text);
	fault_hint(fault, "Name a tool by its tag, or a station of a press such as P1-3.");
	return OUTCOME_BAD;
}

static enum outcome refuse_held(const struct subject *subject, struct fault *fault)
{
	struct known_moment since = subject->since;
	struct quantity_text date = moment_text(since.value);
	fault_set(fault, OUTCOME_NO, "%s is on hold already: %s%s%s%s%s", subject->found.kind->title,
	          subject->name, since.known ? " since " : "", since.known ? date.bytes : "",
	          subject->reason != NULL ? ": " : "", subject->reason != NULL ? subject->reason : "");
	fault_hint(fault, "Type clear %s first to give another reason.", subject->name);
	return OUTCOME_NO;
}

static enum outcome refuse(const struct subject *subject, const char *wanted, struct fault *fault)
{
	if (strcmp(subject->condition, "scrapped") == 0) {
		fault_set(fault, OUTCOME_NO, "tool is scrapped: %s%s%s", subject->name,
		          subject->reason != NULL ? ": " : "",
		          subject->reason != NULL ? subject->reason : "");
		fault_hint(fault, "Type edit %s condition=ready where it was not.", subject->name);
		return OUTCOME_NO;
	}
	if (strcmp(subject->condition, wanted) != 0) {
		return OUTCOME_DONE;
	}
	if (strcmp(wanted, "ready") == 0) {
		return fault_set(fault, OUTCOME_NO, "%s is not on hold: %s", subject->found.kind->title,
		                 subject->name);
	}
	return refuse_held(subject, fault);
}

static enum outcome change(struct store *store, struct arena *arena, const char *text,
                           const char *condition, const char *reason, const struct actor *actor,
                           struct held *out, struct fault *fault)
{
	struct subject subject;
	enum outcome outcome = subject_find(store, arena, text, condition, &subject, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse(&subject, condition, fault);
	}
	if (outcome == OUTCOME_DONE) {
		/* What is cleared tells what it was held for. */
		*out = (struct held){subject.name, subject.what, reason != NULL ? reason : subject.reason};
		outcome = store_condition_set(store, subject.found.kind, subject.found.id, condition,
		                              reason, actor, fault);
	}
	return outcome;
}

static enum outcome change_in_transaction(struct store *store, struct arena *arena,
                                          const char *text, const char *condition,
                                          const char *reason, const struct actor *actor,
                                          struct held *out, struct fault *fault)
{
	enum outcome outcome = store_begin(store, "room_hold", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = change(store, arena, text, condition, reason, actor, out, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}

enum outcome room_hold(struct store *store, struct arena *arena, const char *tag,
                       const char *reason, const struct actor *actor, struct held *out,
                       struct fault *fault)
{
	struct value value;
	enum outcome outcome = value_parse(arena, "reason", VALUE_TEXT, NULL, NULL,
	                                   reason != NULL ? reason : "", &value, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (!value.known) {
		fault_set(fault, OUTCOME_BAD, "reason is not given");
		fault_hint(fault, "Type hold %s reason=\"scored band\".", tag);
		return OUTCOME_BAD;
	}
	return change_in_transaction(store, arena, tag, "hold", value.text, actor, out, fault);
}

enum outcome room_clear(struct store *store, struct arena *arena, const char *tag,
                        const struct actor *actor, struct held *out, struct fault *fault)
{
	return change_in_transaction(store, arena, tag, "ready", NULL, actor, out, fault);
}
