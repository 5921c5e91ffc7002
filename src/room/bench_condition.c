/* Holds, care, and taking back, as the bench records them. */
#include <stdio.h>
#include <string.h>

#include "bench.h"

/* A change of several tools that is alike for all. */
struct changing {
	struct bench *bench;
	const char *word; /* hold, cleaned, dirty */
	const char *reason;
	const char *caution; /* of the tool just changed; or NULL */
};
typedef enum outcome (*change_one)(struct changing *changing, const struct tool_state *state,
                                   struct fault *fault);

static enum outcome hold_one(struct changing *changing, const struct tool_state *state,
                             struct fault *fault)
{
	struct bench *bench = changing->bench;
	struct tool_state after;
	if (strcmp(state->condition, "hold") == 0) {
		fault_set(fault, OUTCOME_NO, "tool is on hold already: %s%s%s", state->tag,
		          state->condition_reason != NULL ? ": " : "",
		          state->condition_reason != NULL ? state->condition_reason : "");
		fault_hint(fault, "It stays so; to give another reason clear it first.");
		return OUTCOME_NO;
	}
	enum outcome outcome = store_condition_set(bench->store, state->kind, state->id, "hold",
	                                           changing->reason, &bench->actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(bench->store, bench->scratch, state->id, &after, fault);
	}
	if (outcome == OUTCOME_DONE && strcmp(after.condition, "hold") != 0) {
		changing->caution =
			arena_format(bench->scratch, "its condition changed since: it is %s", after.condition);
	}
	return outcome;
}

static enum outcome care_one(struct changing *changing, const struct tool_state *state,
                             struct fault *fault)
{
	return store_care_add(changing->bench->store, state->kind, state->id, changing->word,
	                      &changing->bench->actor, fault);
}

static enum outcome change_all(struct changing *changing, const struct bench_tool *tools,
                               size_t count, change_one change, struct text *cautions,
                               struct fault *fault)
{
	struct bench *bench = changing->bench;
	struct tool_state state;
	enum outcome outcome = store_begin(bench->store, "bench_change", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		changing->caution = NULL;
		outcome = store_tool_state(bench->store, bench->scratch, tools[i].id, &state, fault);
		outcome = outcome == OUTCOME_DONE ? move_refuse_scrapped(&state, fault) : outcome;
		outcome = outcome == OUTCOME_DONE ? change(changing, &state, fault) : outcome;
		if (changing->caution != NULL) {
			text_join(cautions, "; ", changing->caution);
		}
	}
	return outcome;
}

static enum outcome change(struct changing *changing, const struct bench_tool *tools, size_t count,
                           change_one one, const char *said)
{
	struct bench *bench = changing->bench;
	struct text cautions = text_start(bench->scratch);
	struct text text = text_start(bench->scratch);
	struct fault fault;
	fault_clear(&fault);
	if (bench_replays(bench)) {
		return bench_replayed(bench, tools, count, said);
	}
	enum outcome outcome = change_all(changing, tools, count, one, &cautions, &fault);
	int64_t entry = store_entry_last(bench->store);
	if (store_in_transaction(bench->store)) {
		outcome = bench_commit(bench, outcome, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	for (size_t i = 0; i < count; i++) {
		text_join(&text, "; ", tools[i].tag);
		text_add_format(&text, "  %s  %s", said, bench_words(bench, tools[i].kind, tools[i].id));
	}
	struct bench_line *line = bench_say(bench, BENCH_DONE, "%s", text.bytes);
	line->caution = cautions.length > 0 ? cautions.bytes : NULL;
	bench_recorded(bench, line, entry, count);
	return OUTCOME_DONE;
}

enum outcome bench_hold(struct bench *bench, const struct bench_tool *tools, size_t count,
                        const char *reason)
{
	struct changing changing = {.bench = bench, .word = "hold", .reason = reason};
	return change(&changing, tools, count, hold_one,
	              arena_format(bench->scratch, "on hold: %s", reason));
}

enum outcome bench_care(struct bench *bench, const struct bench_tool *tools, size_t count,
                        const char *what)
{
	struct changing changing = {.bench = bench, .word = what};
	return change(&changing, tools, count, care_one,
	              strcmp(what, "dirty") == 0 ? "dirty: cleaning is due" : "cleaned");
}

/* ---------------------------------------------------------------- taking back */

/* Was that entry made here? In a batch nothing else is taken back. */
static bool made_here(const struct bench *bench, int64_t entry)
{
	for (size_t i = 0; i < bench->range_count; i++) {
		if (bench->ranges[i].first <= entry && entry <= bench->ranges[i].last) {
			return true;
		}
	}
	return false;
}

static enum outcome undo_here(struct bench *bench, struct undone *out, struct fault *fault)
{
	struct undo_entry entry;
	if (bench->batch != NULL) {
		enum outcome outcome =
			store_undo_find(bench->store, bench->scratch, &bench->actor, &entry, fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		if (!made_here(bench, entry.number)) {
			return fault_set(fault, OUTCOME_NO, "nothing of this batch to take back");
		}
	}
	return undo_in_transaction(bench->store, bench->scratch, &bench->actor, out, fault);
}

/* How many entries of the same scan stand still: UNDO takes back one after another. */
static int64_t same_scan(const struct bench *bench, int64_t entry)
{
	for (size_t i = bench->range_count; i > 0; i--) {
		if (bench->ranges[i - 1].first <= entry && entry <= bench->ranges[i - 1].last) {
			return entry - bench->ranges[i - 1].first;
		}
	}
	return 0;
}

static void undone_say(struct bench *bench, const struct undone *undone, int64_t entry)
{
	struct bench_line *line =
		bench_say(bench, BENCH_DONE, "%s  %s taken back: %s%s%s", undone->called, undone->said,
	              undone->result, undone->what != NULL ? "  " : "",
	              undone->what != NULL ? undone->what : "");
	int64_t more = same_scan(bench, undone->number);
	line->entry = entry;
	line->tools = 1;
	if (more > 0) {
		line->caution =
			arena_format(bench->scratch, "%lld more of the same scan %s: UNDO again for each",
		                 (long long)more, more == 1 ? "stands" : "stand");
	}
}

enum outcome bench_undo(struct bench *bench)
{
	struct undone undone = {.number = 0};
	struct fault fault;
	fault_clear(&fault);
	if (bench_replays(bench)) {
		bench_say(bench, BENCH_SHOWN, "taken back before");
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_begin(bench->store, "bench_undo", &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	outcome = undo_here(bench, &undone, &fault);
	int64_t entry = store_entry_last(bench->store);
	outcome = bench_commit(bench, outcome, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	undone_say(bench, &undone, entry);
	return OUTCOME_DONE;
}
