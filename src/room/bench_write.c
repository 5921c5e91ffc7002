/*
 * What the bench records: each scan that records something is one transaction, committed before it
 * is answered.
 */
#include <stdio.h>
#include <string.h>

#include "bench.h"
#include "job_row.h"
#include "take.h"

/* ---------------------------------------------------------------- transactions */

bool bench_replays(const struct bench *bench)
{
	return bench->batch != NULL && bench->batch->replay;
}

/* Entries made here, so that UNDO in a batch takes nothing back that was done elsewhere. */
static void range_keep(struct bench *bench, int64_t first, int64_t last)
{
	if (bench->range_count == BENCH_RANGES_MOST) {
		memmove(bench->ranges, bench->ranges + 1, (BENCH_RANGES_MOST - 1) * sizeof *bench->ranges);
		bench->range_count--;
	}
	bench->ranges[bench->range_count].first = first;
	bench->ranges[bench->range_count++].last = last;
}

enum outcome bench_commit(struct bench *bench, enum outcome outcome, struct fault *fault)
{
	int64_t last = store_entry_last(bench->store);
	if (outcome == OUTCOME_DONE && bench->batch != NULL) {
		outcome = bench->batch->applied(bench->store, last, bench->batch->context, fault);
	}
	return transaction_end(bench->store, outcome, fault);
}

enum outcome bench_replayed(struct bench *bench, const struct bench_tool *tools, size_t count,
                            const char *what)
{
	int64_t last = bench->batch->known_entry;
	range_keep(bench, count > 0 ? last - (int64_t)count + 1 : last, last);
	bench->set = SET_NOTHING;
	bench_say(bench, BENCH_SHOWN, "%s  %s before", bench_tags(bench->scratch, tools, count), what);
	return OUTCOME_DONE;
}

void bench_recorded(struct bench *bench, struct bench_line *line, int64_t entry, size_t tools)
{
	line->entry = entry;
	line->tools = tools;
	bench->set = SET_NOTHING;
	if (entry != 0) {
		range_keep(bench, entry - (int64_t)tools + 1, entry);
	}
}

/* From now on cards are about these. */
static void keep_last(struct bench *bench, const struct bench_tool *tools, size_t count)
{
	if (tools != bench->last) {
		memmove(bench->last, tools, count * sizeof *tools);
	}
	bench->last_count = count;
}

/* The cautions of several tools, each with its tag where there are several. */
static const char *cautions_of(struct bench *bench, const struct bench_tool *tools, size_t count,
                               const char *const *cautions)
{
	struct text text = text_start(bench->scratch);
	for (size_t i = 0; i < count; i++) {
		if (cautions[i] == NULL) {
			continue;
		}
		text_join(&text, "; ", count > 1 ? tools[i].tag : "");
		text_add(&text, count > 1 ? " " : "");
		text_add(&text, cautions[i]);
	}
	return text.length > 0 ? text.bytes : NULL;
}

/* A refusal tells of which tool it is, in words. */
static enum outcome refuse_tool(struct bench *bench, const struct bench_tool *tool, size_t count,
                                const struct bench_verdict *verdict, const char *doing)
{
	const char *hint = verdict->expected;
	bench_refuse(bench, hint, "%s  not %s: %s  (%s)", tool->tag, doing, verdict->text,
	             bench_words(bench, tool->kind, tool->id));
	if (count > 1) {
		bench->lines[bench->line_count - 1].caution =
			arena_format(bench->scratch, "nothing was recorded of all %zu that wait", count);
	}
	return OUTCOME_NO;
}

/* ---------------------------------------------------------------- to a place */

/* Does the station take it? Yes of any other place. */
static enum outcome ask_station(struct bench *bench, const struct place_state *place, int64_t tool,
                                struct bench_verdict *out, struct fault *fault)
{
	*out = (struct bench_verdict){.yes = true};
	return place->press != 0 || strcmp(place->sort, "press") == 0
	           ? bench->asks->takes(bench->store, bench->scratch, place->id, tool, out, fault)
	           : OUTCOME_DONE;
}

static const char *joined(struct arena *arena, const char *a, const char *b)
{
	return a != NULL && b != NULL ? arena_format(arena, "%s; %s", a, b) : a != NULL ? a : b;
}

struct putting {
	struct bench *bench;
	const struct bench_tool *tools;
	size_t count;
	int64_t place; /* 0: each to its home */
	struct moved *moved;
	const char **cautions;
	const char **words; /* of each tool, read within the transaction */
	bool refused;       /* said already */
};

static enum outcome place_for(struct putting *putting, const struct tool_state *state,
                              struct errand *errand, struct fault *fault)
{
	struct bench *bench = putting->bench;
	int64_t id = putting->place != 0 ? putting->place : state->home;
	if (id == 0) {
		fault_set(fault, OUTCOME_NO, "home of the tool not known: %s", state->tag);
		fault_hint(fault, "Scan the place where it goes.");
		return OUTCOME_NO;
	}
	enum outcome outcome = errand->place.id == id ? OUTCOME_DONE
	                                              : store_place_state(bench->store, bench->scratch,
	                                                                  id, &errand->place, fault);
	if (outcome == OUTCOME_DONE && errand->place.retired) {
		fault_set(fault, OUTCOME_NO, "place is retired: %s", errand->place.code);
		fault_hint(fault, "Scan a place that is in use.");
		return OUTCOME_NO;
	}
	if (outcome == OUTCOME_DONE && putting->place != 0 && bench_is_held(bench, &errand->place)) {
		/* Since it was scanned: it stood already. */
		fault_set(fault, OUTCOME_NO, "%s is on hold%s%s", errand->place.code,
		          errand->place.condition_reason != NULL ? ": " : "",
		          errand->place.condition_reason != NULL ? errand->place.condition_reason : "");
		fault_hint(fault, "Scan another place.");
		return OUTCOME_NO;
	}
	return outcome == OUTCOME_DONE ? move_refuse_supplier(&errand->place, state->tag, fault)
	                               : outcome;
}

static enum outcome put_one(struct putting *putting, struct errand *errand, size_t index,
                            struct fault *fault)
{
	struct bench *bench = putting->bench;
	const struct bench_tool *tool = &putting->tools[index];
	struct tool_state state;
	struct bench_verdict verdict = {.yes = true};
	enum outcome outcome = store_tool_state(bench->store, bench->scratch, tool->id, &state, fault);
	outcome = outcome == OUTCOME_DONE ? move_refuse_scrapped(&state, fault) : outcome;
	outcome = outcome == OUTCOME_DONE ? place_for(putting, &state, errand, fault) : outcome;
	outcome = outcome == OUTCOME_DONE
	              ? ask_station(bench, &errand->place, tool->id, &verdict, fault)
	              : outcome;
	if (outcome == OUTCOME_DONE && !verdict.yes) {
		putting->refused = true;
		return refuse_tool(bench, tool, putting->count, &verdict,
		                   arena_format(bench->scratch, "to %s", errand->place.code));
	}
	bool supplier = state.place_sort != NULL && strcmp(state.place_sort, "supplier") == 0;
	errand->word = supplier ? "receive" : "put";
	outcome = outcome == OUTCOME_DONE ? move_tool(errand, &state, &putting->moved[index], fault)
	                                  : outcome;
	if (outcome == OUTCOME_DONE) {
		outcome = move_caution_of_capacity(errand, &putting->moved[index], fault);
	}
	const char *held = outcome == OUTCOME_DONE && bench_is_held(bench, &errand->place)
	                       ? arena_format(bench->scratch, "%s is on hold", errand->place.code)
	                       : NULL;
	putting->cautions[index] =
		joined(bench->scratch,
	           joined(bench->scratch, putting->moved[index].caution, verdict.caution), held);
	putting->words[index] =
		outcome == OUTCOME_DONE ? bench_words(bench, tool->kind, tool->id) : NULL;
	return outcome;
}

/* `PC000025-1  from R1-3 to C1  plate cylinder, 96 teeth 1/8cp, face 330mm` */
static void move_say(struct text *text, const struct bench_tool *tool, const struct moved *moved,
                     const char *words, bool with_place)
{
	bool stays = moved->from != NULL && strcmp(moved->from, moved->tool.place_code) == 0;
	text_join(text, "; ", tool->tag);
	if (stays) {
		text_add_format(text, "  at %s", moved->from);
	} else if (moved->from != NULL) {
		text_add_format(text, "  from %s", moved->from);
	}
	if (with_place && !stays) {
		text_add_format(text, "%sto %s", moved->from != NULL ? " " : "  ", moved->tool.place_code);
	}
	text_add_format(text, "  %s", words);
}

static void put_say(struct putting *putting, int64_t entry)
{
	struct bench *bench = putting->bench;
	struct text text = text_start(bench->scratch);
	bool together = putting->count > 1 && putting->place != 0;
	for (size_t i = 0; i < putting->count; i++) {
		move_say(&text, &putting->tools[i], &putting->moved[i], putting->words[i], !together);
	}
	const char *where =
		together ? arena_format(bench->scratch, "to %s", putting->moved[0].tool.place_code)
				 : "home";
	struct bench_line *line = putting->count > 1 ? bench_say(bench, BENCH_DONE, "%zu tools %s: %s",
	                                                         putting->count, where, text.bytes)
	                                             : bench_say(bench, BENCH_DONE, "%s", text.bytes);
	line->caution = cautions_of(bench, putting->tools, putting->count, putting->cautions);
	bench_recorded(bench, line, entry, putting->count);
}

enum outcome bench_put(struct bench *bench, const struct bench_tool *tools, size_t count,
                       int64_t place)
{
	struct fault fault;
	fault_clear(&fault);
	struct putting putting = {
		.bench = bench,
		.tools = tools,
		.count = count,
		.place = place,
		.moved = arena_take(bench->scratch, count, sizeof *putting.moved),
		.cautions = arena_take(bench->scratch, count, sizeof *putting.cautions),
		.words = arena_take(bench->scratch, count, sizeof *putting.words),
	};
	struct errand errand = {.store = bench->store,
	                        .arena = bench->scratch,
	                        .actor = &bench->actor,
	                        .word = "put"};
	if (bench_replays(bench)) {
		keep_last(bench, tools, count);
		return bench_replayed(bench, tools, count, "moved");
	}
	enum outcome outcome = store_begin(bench->store, "bench_put", &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = put_one(&putting, &errand, i, &fault);
	}
	int64_t entry = store_entry_last(bench->store);
	outcome = bench_commit(bench, outcome, &fault);
	if (outcome != OUTCOME_DONE) {
		return putting.refused ? outcome : bench_refuse_fault(bench, &fault);
	}
	put_say(&putting, entry);
	keep_last(bench, tools, count);
	return outcome;
}

/* ---------------------------------------------------------------- out for a job */

enum outcome bench_take(struct bench *bench, const struct bench_tool *tools, size_t count,
                        int64_t job)
{
	const char **tags = arena_take(bench->scratch, count, sizeof *tags);
	struct fault fault;
	fault_clear(&fault);
	if (bench_replays(bench)) {
		keep_last(bench, tools, count);
		return bench_replayed(bench, tools, count, "taken");
	}
	struct taking taking = {
		.store = bench->store,
		.arena = bench->scratch,
		.asks = bench->asks,
		.actor = &bench->actor,
		.job = job,
		.taken = arena_take(bench->scratch, count, sizeof *taking.taken),
	};
	enum outcome outcome = store_begin(bench->store, "bench_take", &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = take_tool(&taking, tools[i].id, &fault);
		tags[i] = taking.count > i ? taking.taken[i].caution : NULL;
	}
	int64_t entry = store_entry_last(bench->store);
	outcome = bench_commit(bench, outcome, &fault);
	if (outcome != OUTCOME_DONE) {
		const struct bench_tool *refused = &tools[taking.count < count ? taking.count : 0];
		return taking.refused
		           ? refuse_tool(bench, refused, count, &taking.verdict,
		                         arena_format(bench->scratch, "for job %s", taking.number))
		           : bench_refuse_fault(bench, &fault);
	}
	struct text text = text_start(bench->scratch);
	for (size_t i = 0; i < count; i++) {
		text_join(&text, "; ", tools[i].tag);
		text_add_format(&text, "  out for job %s", taking.number);
		text_add_format(&text, taking.taken[i].serves != NULL ? ": %s" : "%s",
		                taking.taken[i].serves != NULL ? taking.taken[i].serves : "");
		text_add_format(&text, "  %s", bench_words(bench, tools[i].kind, tools[i].id));
	}
	struct bench_line *line = bench_say(bench, BENCH_DONE, "%s", text.bytes);
	line->caution = cautions_of(bench, tools, count, tags);
	bench_recorded(bench, line, entry, count);
	keep_last(bench, tools, count);
	return outcome;
}
