/*
 * Where tools that other planned jobs have booked are lacking: those jobs get others that are
 * equally good, and may in turn have other jobs give way. All of it is tried within the transaction
 * and undone where it does not come out, so that nothing is ever booked twice.
 */
#include <string.h>

#include "promised.h"

#define DEPTH_MOST 3   /* jobs that give way one for another */
#define TRIALS_MOST 30 /* ways tried: a planner waits for the answer */

/* ---------------------------------------------------------------- who might give way */

static bool holds_what_is_wanted(const struct placed *placed, const struct kept_promise *promise)
{
	for (size_t i = 0; i < promise->tool_count; i++) {
		if (tool_is_wanted(placed, &promise->tools[i])) {
			return true;
		}
	}
	return false;
}

static bool is_being_placed(const struct booking *booking, int64_t job)
{
	for (size_t i = 0; i < booking->placing_count; i++) {
		if (booking->placing[i] == job) {
			return true;
		}
	}
	return false;
}

/* A job that runs, or that somebody has fetched a tool for, keeps what it has. */
static enum outcome may_move(struct booking *booking, const struct kept_promise *promise, bool *out)
{
	struct job job;
	struct tool_out *tools;
	size_t count = 0;
	enum outcome outcome =
		store_job_read(booking->store, booking->arena, promise->job, &job, booking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tools_out(booking->store, booking->arena, promise->job, &promise->press, 1,
		                          &tools, &count, booking->fault);
	}
	*out = outcome == OUTCOME_DONE && count == 0 && strcmp(job.state, "planned") == 0;
	return outcome;
}

static enum outcome take_candidate(struct booking *booking, const struct kept_promise *promise,
                                   struct candidate_jobs *out)
{
	struct asking asking = {.store = booking->store,
	                        .arena = booking->arena,
	                        .fault = booking->fault,
	                        .limits = booking->request->limits};
	struct promised promised;
	bool moves;
	enum outcome outcome = may_move(booking, promise, &moves);
	if (outcome != OUTCOME_DONE || !moves) {
		return outcome;
	}
	outcome = promised_open(&asking, promise, booking->request->actor->now, &promised);
	if (outcome == OUTCOME_DONE) {
		const struct assigned *const chosen[GROUPS] = {&promised.chosen[0], &promised.chosen[1],
		                                               &promised.chosen[2]};
		out->items[out->count++] =
			(struct candidate_job){.promise = *promise,
		                           .merit = merit_of(&promised.attempt.question, chosen)};
	}
	return outcome;
}

/* Those whose promise lies so near that a tool of it is not there for the claim. */
static enum outcome find_candidates(struct booking *booking, const struct placed *placed,
                                    struct candidate_jobs *out)
{
	const struct limits *limits = booking->request->limits;
	struct span span = placed->attempts.items[0]->question.span;
	struct kept_promise *promises;
	size_t count;
	for (size_t i = 1; i < placed->attempts.count; i++) {
		struct moment until = placed->attempts.items[i]->question.span.until;
		span.until = moment_compare(until, span.until) > 0 ? until : span.until;
	}
	enum outcome outcome =
		store_promises_between(booking->store, booking->arena,
	                           calendar_subtract(&limits->calendar, span.from, limits->turnaround),
	                           promise_free(span.until, limits), &promises, &count, booking->fault);
	*out = (struct candidate_jobs){
		.items =
			arena_take(booking->arena, outcome == OUTCOME_DONE ? count : 0, sizeof *out->items)};
	for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
		if (!is_being_placed(booking, promises[i].job) &&
		    holds_what_is_wanted(placed, &promises[i])) {
			outcome = take_candidate(booking, &promises[i], out);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- what is told of a move */

static const struct promised_tool *tool_for(const struct promised_tool *tools, size_t count,
                                            const struct promised_tool *like)
{
	for (size_t i = 0; i < count; i++) {
		if (tools[i].station == like->station && tools[i].cut == like->cut &&
		    strcmp(tools[i].need, like->need) == 0) {
			return &tools[i];
		}
	}
	return NULL;
}

static void add_move(struct booking *booking, const struct claim *claim,
                     const struct promised_tool *from, const struct promised_tool *to, bool better)
{
	struct booked *out = booking->out;
	struct arena *arena = booking->arena;
	const struct promised_tool *any = from != NULL ? from : to;
	struct booking_move move = {.job = claim->before->job_number,
	                            .need = any->need,
	                            .station = any->station,
	                            .cut = any->cut,
	                            .better = better};
	const char *where = arena_format(arena, any->cut != 0 ? "for cut %lld" : "at station %lld",
	                                 (long long)(any->cut != 0 ? any->cut : any->station));
	const char *how = better ? "better" : "equally good";
	move.from = from != NULL ? arena_copy(arena, tag_shown(from->tag).bytes) : NULL;
	move.to = to != NULL ? arena_copy(arena, tag_shown(to->tag).bytes) : NULL;
	move.text = from == NULL ? arena_format(arena, "%s is needed too %s", move.to, where)
	            : to == NULL ? arena_format(arena, "%s is not needed any more %s", move.from, where)
	                         : arena_format(arena, "%s gives way to %s %s, %s", move.from, move.to,
	                                        where, how);
	out->moves =
		arena_grow(arena, out->moves, out->move_count, out->move_count + 1, sizeof *out->moves);
	out->moves[out->move_count++] = move;
}

/* What differs between the tools before and now. */
static void tell_moves(struct booking *booking, const struct claim *claim,
                       const struct attempt *attempt)
{
	const struct kept_promise *before = claim->before;
	struct merit merit = merit_of_attempt(attempt);
	bool better = merit_compare(&merit, claim->bar) < 0;
	size_t count;
	const struct promised_tool *tools = tools_chosen(booking->arena, attempt, &count);
	for (size_t i = 0; i < before->tool_count; i++) {
		const struct promised_tool *now = tool_for(tools, count, &before->tools[i]);
		if (now == NULL || now->tool != before->tools[i].tool) {
			add_move(booking, claim, &before->tools[i], now, better);
		}
	}
	for (size_t i = 0; i < count; i++) {
		if (tool_for(before->tools, before->tool_count, &tools[i]) == NULL) {
			add_move(booking, claim, NULL, &tools[i], better);
		}
	}
}

/* ---------------------------------------------------------------- trying */

static enum outcome try_others(struct booking *booking, const struct claim *claim,
                               const struct placed *placed, bool *met);

/* Books a claim that is met while others are placed; how it is told comes at the end. */
static enum outcome keep(struct booking *booking, const struct claim *claim,
                         const struct placed *placed)
{
	size_t count = booking->step_count;
	booking->steps =
		arena_grow(booking->arena, booking->steps, count, count + 1, sizeof *booking->steps);
	booking->steps[booking->step_count++] =
		(struct booking_step){.claim = *claim, .placed = *placed};
	return claim_keep_for_now(booking, claim, placed);
}

/* Needs of which none of its tools was taken: these stay as they are. */
static const char *const *needs_settled(struct booking *booking, const struct kept_promise *promise,
                                        const struct promised_tool *taken, size_t count)
{
	const char **settled = arena_take(booking->arena, promise->tool_count + 1, sizeof *settled);
	size_t settled_count = 0;
	for (size_t i = 0; i < promise->tool_count; i++) {
		const char *need = promise->tools[i].need;
		bool lost = false;
		for (size_t j = 0; j < promise->tool_count && !lost; j++) {
			for (size_t k = 0; k < count && !lost; k++) {
				lost = taken[k].tool == promise->tools[j].tool &&
				       strcmp(promise->tools[j].need, need) == 0;
			}
		}
		if (!lost) {
			settled[settled_count++] = need;
		}
	}
	return settled;
}

/*
 * Gives a job whose bookings are set aside tools anew: first with all that it need not give up as
 * it was, then with whatever there is; then others may have to give way for it.
 */
static enum outcome place_again(struct booking *booking, const struct candidate_job *candidate,
                                const struct promised_tool *taken, size_t count, bool *met)
{
	struct placed placed;
	const struct kept_promise *promise = &candidate->promise;
	const struct freeing staying = {.settled = needs_settled(booking, promise, taken, count),
	                                .stay = promise};
	struct claim claim = {
		.job = promise->job,
		.presses = &promise->press,
		.press_count = 1,
		.from = promise->from,
		.until = {.known = true, .value = promise->until},
		.repeat = promise->repeat,
		.number_around = promise->number_around,
		.bar = &candidate->merit,
		.before = promise,
		.freeing = &staying,
	};
	enum outcome outcome = claim_solve(booking, &claim, &placed);
	*met = outcome == OUTCOME_DONE && claim_is_met(&claim, &placed);
	claim.freeing = NULL;
	if (outcome == OUTCOME_DONE && !*met) {
		outcome = claim_solve(booking, &claim, &placed);
		*met = outcome == OUTCOME_DONE && claim_is_met(&claim, &placed);
	}
	if (*met) {
		return keep(booking, &claim, &placed);
	}
	booking->depth++;
	if (outcome == OUTCOME_DONE) {
		outcome = try_others(booking, &claim, &placed, met);
	}
	booking->depth--;
	return outcome;
}

static enum outcome set_aside(struct booking *booking, const struct candidate_jobs *among,
                              const bool *which)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < among->count && outcome == OUTCOME_DONE; i++) {
		if (which[i]) {
			outcome = store_bookings_set_aside(booking->store, among->items[i].promise.job,
			                                   booking->fault);
		}
	}
	return outcome;
}

/* From now on none of these gives way for another. */
static void add_placing(struct booking *booking, const struct candidate_jobs *among,
                        const bool *which)
{
	size_t count = booking->placing_count;
	booking->placing = arena_grow(booking->arena, booking->placing, count, count + among->count,
	                              sizeof *booking->placing);
	for (size_t i = 0; i < among->count; i++) {
		if (which[i]) {
			booking->placing[booking->placing_count++] = among->items[i].promise.job;
		}
	}
}

/* Keeps the claim, then gives those that gave way other tools, one after the other. */
static enum outcome keep_and_place(struct booking *booking, const struct claim *claim,
                                   const struct placed *placed, const struct candidate_jobs *among,
                                   const bool *which, bool *met)
{
	size_t count;
	const struct promised_tool *taken =
		tools_chosen(booking->arena, placed->attempts.items[0], &count);
	add_placing(booking, among, which);
	enum outcome outcome = set_aside(booking, among, which);
	if (outcome == OUTCOME_DONE) {
		outcome = keep(booking, claim, placed);
	}
	*met = outcome == OUTCOME_DONE;
	for (size_t i = 0; i < among->count && outcome == OUTCOME_DONE && *met; i++) {
		if (which[i]) {
			outcome = place_again(booking, &among->items[i], taken, count, met);
		}
	}
	return outcome;
}

/* All of that within a savepoint: nothing of it stays where it does not come out. */
static enum outcome try_to_keep(struct booking *booking, const struct claim *claim,
                                const struct placed *placed, const struct candidate_jobs *among,
                                const bool *which, bool *met)
{
	size_t steps = booking->step_count, placing = booking->placing_count;
	enum outcome outcome = store_savepoint(booking->store, booking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = keep_and_place(booking, claim, placed, among, which, met);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome; /* the whole transaction is given up */
	}
	if (*met) {
		return store_savepoint_keep(booking->store, booking->fault);
	}
	booking->step_count = steps;
	booking->placing_count = placing;
	return store_savepoint_back(booking->store, booking->fault);
}

/* ---------------------------------------------------------------- what others would give */

static enum outcome solve_with(struct booking *booking, const struct claim *claim,
                               const struct freeing *freeing, struct placed *out)
{
	struct claim trial = *claim;
	trial.freeing = freeing;
	return claim_solve(booking, &trial, out);
}

/*
 * Tries with what some jobs would give. Where something is short that is the last choice, so that
 * as little as can be is taken of them.
 */
static enum outcome try_with(struct booking *booking, const struct claim *claim,
                             const struct placed *wanting, const struct candidate_jobs *among,
                             bool *which, bool all_tools, bool *met)
{
	struct placed placed;
	struct freeing given = freeing_of(booking, among, which, all_tools ? NULL : wanting);
	bool lacks = wanting->attempts.items[0]->solution.standing.verdict == VERDICT_SHORT;
	booking->trials++;
	if (lacks) {
		freeing_make_last(booking, &given);
	}
	enum outcome outcome = solve_with(booking, claim, &given, &placed);
	if (outcome != OUTCOME_DONE || placed.attempts.count == 0 ||
	    placed.attempts.items[0]->solution.standing.verdict == VERDICT_SHORT) {
		return outcome;
	}
	struct freeing taken = freeing_taken(booking, &given, &placed, among, which);
	outcome = solve_with(booking, claim, &taken, &placed);
	if (outcome != OUTCOME_DONE || !claim_is_met(claim, &placed)) {
		return outcome;
	}
	freeing_taken(booking, &taken, &placed, among, which);
	return try_to_keep(booking, claim, &placed, among, which, met);
}

static void mark(bool *which, const struct candidate_jobs *among, size_t from, size_t to)
{
	for (size_t i = 0; i < among->count; i++) {
		which[i] = i >= from && i < to;
	}
}

static enum outcome try_others(struct booking *booking, const struct claim *claim,
                               const struct placed *placed, bool *met)
{
	struct candidate_jobs among;
	*met = false;
	if (booking->depth >= DEPTH_MOST || placed->attempts.count == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = find_candidates(booking, placed, &among);
	if (outcome != OUTCOME_DONE || among.count == 0) {
		return outcome;
	}
	bool *which = arena_take(booking->arena, among.count, sizeof *which);
	/* As few as can be: one alone; then any of them; then whatever these have. */
	for (size_t i = 0; outcome == OUTCOME_DONE && !*met && i < among.count + 2; i++) {
		bool one = i < among.count;
		if (booking->trials >= TRIALS_MOST) {
			return outcome;
		}
		mark(which, &among, one ? i : 0, one ? i + 1 : among.count);
		outcome = try_with(booking, claim, placed, &among, which, i == among.count + 1, met);
	}
	return outcome;
}

/* ---------------------------------------------------------------- keeping what came out */

static enum outcome keep_move(struct booking *booking, const struct booking_step *step)
{
	struct check check;
	size_t first = booking->out->move_count;
	struct text detail = text_start(booking->arena);
	tell_moves(booking, &step->claim, step->placed.attempts.items[0]);
	for (size_t i = first; i < booking->out->move_count; i++) {
		text_join(&detail, "; ", booking->out->moves[i].text);
	}
	text_join(&detail, "; ", "for job ");
	text_add(&detail, booking->job.number);
	return claim_keep(booking, &step->claim, &step->placed, "move", detail.bytes, &check);
}

/*
 * What was tried is done, in the order in which it can be taken back: those that move first, the
 * job that was asked last.
 */
static enum outcome keep_steps(struct booking *booking)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 1; i < booking->step_count && outcome == OUTCOME_DONE; i++) {
		outcome =
			store_bookings_set_aside(booking->store, booking->steps[i].claim.job, booking->fault);
	}
	for (size_t i = 1; i < booking->step_count && outcome == OUTCOME_DONE; i++) {
		outcome = keep_move(booking, &booking->steps[i]);
	}
	const struct booking_step *asked = &booking->steps[0];
	return outcome == OUTCOME_DONE
	           ? claim_keep(booking, &asked->claim, &asked->placed, "book",
	                        booking_detail(booking, &asked->placed), &booking->out->check)
	           : outcome;
}

enum outcome book_by_moving(struct booking *booking, const struct placed *placed, bool *kept)
{
	bool met = false;
	enum outcome outcome = store_savepoint(booking->store, booking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = try_others(booking, &booking->claim, placed, &met);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_savepoint_back(booking->store, booking->fault);
	}
	if (outcome == OUTCOME_DONE && met) {
		outcome = keep_steps(booking);
		*kept = outcome == OUTCOME_DONE;
	}
	return outcome;
}
