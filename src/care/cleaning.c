/* `cleaned TAG...`, `dirty TAG...`: all or none. */
#include <string.h>

#include "tool.h"

static enum outcome refuse_twice(const struct cared *done, size_t count,
                                 const struct care_tool *tool, struct fault *fault)
{
	for (size_t i = 0; i < count; i++) {
		if (done[i].record->id == tool->found.id) {
			fault_set(fault, OUTCOME_BAD, "tag given twice: %s", tool->state.tag);
			fault_hint(fault, "Name each tool once.");
			return OUTCOME_BAD;
		}
	}
	return OUTCOME_DONE;
}

static enum outcome clean_one(struct store *store, struct arena *arena, const char *tag,
                              const char *what, enum units units, const struct actor *actor,
                              struct cared *done, size_t count, struct fault *fault)
{
	struct care_tool tool;
	enum outcome outcome = care_tool_find(store, arena, tag, &tool, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_twice(done, count, &tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_care_add(store, tool.found.kind, tool.found.id, what, actor, fault);
	}
	return outcome == OUTCOME_DONE ? care_tool_tell(store, arena, &tool, units, &done[count], fault)
	                               : outcome;
}

enum outcome care_cleaning(struct store *store, struct arena *arena, const char *const *tags,
                           size_t count, const char *what, enum units units,
                           const struct actor *actor, struct cared *out, struct fault *fault)
{
	enum outcome outcome = store_begin(store, "care_cleaning", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		out[i] = (struct cared){.kind = NULL};
		outcome = clean_one(store, arena, tags[i], what, units, actor, out, i, fault);
	}
	return care_tool_end(store, outcome, fault);
}
