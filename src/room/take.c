/* `take`: tools out for a job, the place left as it was. */
#include <string.h>

#include "job_row.h"
#include "move.h"
#include "take.h"

static enum outcome name_job(struct taking *taking, struct fault *fault)
{
	struct record *record;
	if (taking->number != NULL) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_record_read(taking->store, taking->arena, &kinds[KIND_JOB],
	                                         taking->job, &record, fault);
	taking->number = outcome == OUTCOME_DONE ? record_words(record, "number") : NULL;
	return outcome;
}

static enum outcome refuse_taking(struct taking *taking, const struct tool_state *tool,
                                  struct fault *fault)
{
	taking->refused = true;
	fault_set(fault, OUTCOME_NO, "%s is not for job %s: %s", tool->tag, taking->number,
	          taking->verdict.text);
	if (taking->verdict.expected != NULL) {
		fault_hint(fault, "%s", taking->verdict.expected);
	}
	return OUTCOME_NO;
}

static bool is_out(const struct taking *taking, const struct taken *taken)
{
	return taken->tool.taken_for != NULL && strcmp(taken->tool.taken_for, taking->number) == 0;
}

/* What comes late is not out any more where it has moved since. */
static const char *caution_of_taking(struct taking *taking, const struct taken *taken,
                                     const char *caution)
{
	if (is_out(taking, taken)) {
		return caution;
	}
	return arena_format(taking->arena, "has moved since: it is not out any more");
}

enum outcome take_tool(struct taking *taking, int64_t tool, struct fault *fault)
{
	struct taken *taken = &taking->taken[taking->count];
	enum outcome outcome = name_job(taking, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(taking->store, taking->arena, tool, &taken->tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = move_refuse_scrapped(&taken->tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = taking->asks->serves(taking->store, taking->arena, taking->job, tool,
		                               actor_moment(taking->actor), &taking->verdict, fault);
	}
	if (outcome == OUTCOME_DONE && !taking->verdict.yes) {
		return refuse_taking(taking, &taken->tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_take(taking->store, tool, taking->job, taking->actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(taking->store, taking->arena, tool, &taken->tool, fault);
	}
	if (outcome == OUTCOME_DONE && !is_out(taking, taken) && !taking->actor->happened.known) {
		return move_refuse_clock(taken->tool.tag, fault);
	}
	if (outcome == OUTCOME_DONE) {
		taken->serves = taking->verdict.text;
		taken->caution = caution_of_taking(taking, taken, taking->verdict.caution);
		taking->count++;
	}
	return outcome;
}

static enum outcome take_all(struct taking *taking, const char *const *tags, size_t count,
                             const char *job, struct fault *fault)
{
	struct found found;
	enum outcome outcome = store_find(taking->store, job, REFER_JOB, &found, fault);
	taking->job = found.id;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = store_find(taking->store, tags[i], REFER_TOOL, &found, fault);
		for (size_t j = 0; j < taking->count && outcome == OUTCOME_DONE; j++) {
			if (taking->taken[j].tool.id == found.id) {
				fault_set(fault, OUTCOME_BAD, "tag given twice: %s", taking->taken[j].tool.tag);
				fault_hint(fault, "Name each tool once.");
				outcome = OUTCOME_BAD;
			}
		}
		outcome = outcome == OUTCOME_DONE ? take_tool(taking, found.id, fault) : outcome;
	}
	return outcome;
}

enum outcome room_take(struct store *store, struct arena *arena, const char *const *tags,
                       size_t count, const char *job, const struct bench_asks *asks,
                       const struct actor *actor, struct taken *out, struct fault *fault)
{
	struct taking taking = {.store = store,
	                        .arena = arena,
	                        .asks = asks,
	                        .actor = actor,
	                        .taken = out};
	enum outcome outcome = store_begin(store, "room_take", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return transaction_end(store, take_all(&taking, tags, count, job, fault), fault);
}
