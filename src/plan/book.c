/*
 * `book`: a job is checked and promised the tools chosen, in one transaction, so that nobody else
 * takes them between the check and the promise.
 */
#include <string.h>

#include "promised.h"

/* ---------------------------------------------------------------- answering a claim */

/* The tools of one group that an answer chose. */
static size_t take_group(const struct attempt *attempt, const struct group *group,
                         struct promised_tool *out)
{
	const struct question *question = &attempt->question;
	const struct group_rules *rules = group->rules;
	size_t count = 0;
	for (size_t row = 0; row < group->rows; row++) {
		size_t item = group->chosen.item[row], companion = group->chosen.companion[row];
		int64_t number = rules->row_number(question, row);
		struct promised_tool tool = {.station = rules->rows_are_cuts ? 0 : number,
		                             .cut = rules->rows_are_cuts ? number : 0};
		if (item != ASSIGNED_NONE) {
			tool.need = rules->item_need;
			tool.tool = rules->item_tool(question, item)->id;
			tool.tag = rules->item_tool(question, item)->tag;
			out[count++] = tool;
		}
		if (item != ASSIGNED_NONE && companion != ASSIGNED_NONE) {
			tool.need = rules->companion_need;
			tool.tool = rules->companion_tool(question, companion)->id;
			tool.tag = rules->companion_tool(question, companion)->tag;
			out[count++] = tool;
		}
	}
	return count;
}

struct promised_tool *tools_chosen(struct arena *arena, const struct attempt *attempt,
                                   size_t *count)
{
	const struct solution *solution = &attempt->solution;
	const struct group *const groups[] = {&solution->cylinders, &solution->rolls, &solution->dies};
	size_t rows = 0;
	for (size_t i = 0; i < COUNT_OF(groups); i++) {
		rows += groups[i]->rows;
	}
	struct promised_tool *tools = arena_take(arena, rows * 2, sizeof *tools);
	*count = 0;
	for (size_t i = 0; i < COUNT_OF(groups); i++) {
		if (groups[i]->rows > 0) {
			*count += take_group(attempt, groups[i], tools + *count);
		}
	}
	return tools;
}

struct merit merit_of_attempt(const struct attempt *attempt)
{
	const struct solution *solution = &attempt->solution;
	const struct assigned *const chosen[GROUPS] = {&solution->cylinders.chosen,
	                                               &solution->rolls.chosen, &solution->dies.chosen};
	return merit_of(&attempt->question, chosen);
}

bool claim_is_met(const struct claim *claim, const struct placed *placed)
{
	if (placed->attempts.count == 0 ||
	    placed->attempts.items[0]->solution.standing.verdict == VERDICT_SHORT) {
		return false;
	}
	if (claim->bar == NULL) {
		return true;
	}
	struct merit merit = merit_of_attempt(placed->attempts.items[0]);
	return merit_compare(&merit, claim->bar) <= 0;
}

/*
 * Until when the job would hold the press. Of a new job the repeat is chosen first, as if it took
 * no time: whichever it runs on in the end, it prints as many labels on nearly as much web.
 */
static enum outcome press_until(struct asking *asking, int64_t press, struct moment from,
                                struct known_moment *out)
{
	struct attempt *attempt = arena_take(asking->arena, 1, sizeof *attempt);
	bool new = job_is_new(&asking->job);
	enum outcome outcome = new ? attempt_solve(asking, press, NULL, attempt)
	                           : attempt_open(asking, press, false, attempt);
	*out = (struct known_moment){.known = false};
	if (outcome == OUTCOME_DONE) {
		struct known_duration duration =
			job_duration(&attempt->question.layout, &attempt->press.press, asking->limits);
		/* That no repeat is found is for the check to say. */
		out->known = duration.known || !attempt->repeat_judged;
		out->value =
			duration.known ? calendar_add(&asking->limits->calendar, from, duration.value) : from;
	}
	return outcome;
}

static enum outcome solve_press(const struct claim *claim, struct placed *placed, int64_t press)
{
	struct asking *asking = placed->asking;
	struct known_moment until = claim->until;
	enum outcome outcome = OUTCOME_DONE;
	asking->span.from = claim->from;
	asking->span.until = claim->from;
	if (!until.known) {
		outcome = press_until(asking, press, claim->from, &until);
	}
	asking->span.until = until.value;
	if (outcome == OUTCOME_DONE && until.known) {
		outcome = attempts_add(asking, &placed->attempts, &press, 1, NULL);
	}
	return outcome;
}

enum outcome claim_solve(struct booking *booking, const struct claim *claim, struct placed *out)
{
	struct asking *asking = arena_take(booking->arena, 1, sizeof *asking);
	*asking = (struct asking){.store = booking->store,
	                          .arena = booking->arena,
	                          .fault = booking->fault,
	                          .limits = booking->request->limits};
	*out = (struct placed){.asking = asking};
	enum outcome outcome =
		store_job_read(booking->store, booking->arena, claim->job, &asking->job, booking->fault);
	asking->span.now = booking->request->actor->now;
	if (claim->freeing != NULL) {
		asking->adjust = freeing_adjust;
		asking->adjust_by = claim->freeing;
		asking->last_choice = &claim->freeing->last_choice;
	}
	if (claim->repeat.known) {
		asking->job.layout.repeat = claim->repeat;
		asking->job.layout.number_around = claim->number_around;
	}
	for (size_t i = 0; i < claim->press_count && outcome == OUTCOME_DONE; i++) {
		outcome = solve_press(claim, out, claim->presses[i]);
	}
	if (outcome == OUTCOME_DONE) {
		attempts_sort(&out->attempts);
	}
	/* What it was tried with is the caller's; what is asked of the answer later does without. */
	asking->adjust = NULL;
	asking->last_choice = NULL;
	for (size_t i = 0; i < out->attempts.count; i++) {
		out->attempts.items[i]->question.last_choice = NULL;
	}
	return outcome;
}

static void set_moment(struct record *record, const char *attribute, struct moment moment)
{
	*record_value(record, attribute) =
		(struct value){.type = VALUE_MOMENT, .known = true, .moment = moment};
}

static bool differs(struct known_moment own, struct moment booked)
{
	return own.known && moment_compare(own.value, booked) != 0;
}

/* The job names presses, and that one is not among them. */
static bool runs_elsewhere(const struct job *job, int64_t press)
{
	for (size_t i = 0; i < job->press_count; i++) {
		if (job->presses[i] == press) {
			return false;
		}
	}
	return job->press_count > 0;
}

/* What the job says itself of where and when it runs. */
static const char *own_words(struct booking *booking, const struct record *record, bool elsewhere,
                             bool retimed)
{
	const struct job *job = &booking->job;
	struct text words = text_start(booking->arena);
	if (elsewhere) {
		text_add_format(&words, "on %s", record_words(record, "press"));
	}
	if (retimed && job->from.known) {
		text_join(&words, " ", "from");
		text_add_format(&words, " %s", moment_text(job->from.value).bytes);
	}
	if (retimed && job->until.known) {
		text_join(&words, " ", "until");
		text_add_format(&words, " %s", moment_text(job->until.value).bytes);
	}
	return words.bytes;
}

/*
 * The job's own time and press follow what is promised: two that differ would be a broken promise.
 * Its entry comes before that of the promise, so that this is the first that `undo` takes back.
 */
static enum outcome settle_job(struct booking *booking, const struct attempt *best)
{
	const struct job *job = &booking->job;
	const struct span span = best->question.span;
	struct record *record;
	bool changed;
	bool elsewhere = runs_elsewhere(job, best->press.press.id);
	bool retimed = differs(job->from, span.from) || differs(job->until, span.until);
	if (!elsewhere && !retimed) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_record_read(booking->store, booking->arena, &kinds[KIND_JOB],
	                                         job->id, &record, booking->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	booking->out->settled = own_words(booking, record, elsewhere, retimed);
	if (elsewhere) {
		*record_value(record, "press") =
			(struct value){.type = VALUE_WORDS, .known = true, .text = best->press.press.code};
	}
	if (retimed) {
		set_moment(record, "from", span.from);
		set_moment(record, "until", span.until);
	}
	return store_record_update(booking->store, booking->arena, record, booking->request->actor,
	                           &changed, booking->fault);
}

static struct kept_promise promise_of(struct booking *booking, const struct claim *claim,
                                      const struct attempt *best)
{
	struct kept_promise promise = {
		.job = claim->job,
		.press = best->press.press.id,
		.from = best->question.span.from,
		.until = best->question.span.until,
		.repeat = best->question.layout.repeat,
		.number_around = best->question.layout.number_around,
		.verdict = "caution",
		.answer = "{}",
	};
	promise.tools = tools_chosen(booking->arena, best, &promise.tool_count);
	return promise;
}

enum outcome claim_keep_for_now(struct booking *booking, const struct claim *claim,
                                const struct placed *placed)
{
	const struct kept_promise promise = promise_of(booking, claim, placed->attempts.items[0]);
	return store_promise_keep(booking->store, booking->arena, &promise, "book", NULL,
	                          booking->request->actor, booking->fault);
}

enum outcome claim_keep(struct booking *booking, const struct claim *claim,
                        const struct placed *placed, const char *word, const char *detail,
                        struct check *out)
{
	const struct book_request *request = booking->request;
	struct attempts attempts = placed->attempts;
	const struct attempt *best = attempts.items[0];
	placed->asking->span = best->question.span;
	enum outcome outcome = attempts_answer(placed->asking, &attempts, out);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct kept_promise promise = promise_of(booking, claim, best);
	promise.verdict = out->verdict == VERDICT_READY ? "ready" : "caution";
	promise.answer = request->as_json(booking->arena, out, request->context);
	if (claim->before == NULL) {
		booking->out->tool_count = promise.tool_count;
		outcome = settle_job(booking, best);
	}
	return outcome != OUTCOME_DONE
	           ? outcome
	           : store_promise_keep(booking->store, booking->arena, &promise, word, detail,
	                                request->actor, booking->fault);
}

/* ---------------------------------------------------------------- what is refused */

static enum outcome refuse_state(const struct booking *booking)
{
	const struct job *job = &booking->job;
	struct fault *fault = booking->fault;
	if (strcmp(job->state, "planned") == 0) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_NO, "job is %s: %s", job->state, job->number);
	if (strcmp(job->state, "cancelled") == 0) {
		fault_hint(fault, "Type edit %s state=planned first, if it is to run after all.",
		           job->number);
	}
	return OUTCOME_NO;
}

static enum outcome refuse_booked(struct booking *booking)
{
	struct kept_promise promise;
	enum outcome outcome = store_promise_of_job(booking->store, booking->arena, booking->job.id,
	                                            &promise, booking->fault);
	if (outcome != OUTCOME_DONE || promise.id == 0) {
		return outcome;
	}
	fault_set(booking->fault, OUTCOME_NO, "job is booked already: %s, on %s from %s until %s",
	          booking->job.number, promise.press_code, moment_text(promise.from).bytes,
	          moment_text(promise.until).bytes);
	fault_hint(booking->fault, "Type unbook %s first.", booking->job.number);
	return OUTCOME_NO;
}

/* The time given, else the job's own; its end may be left to how long it takes. */
static enum outcome take_time(struct booking *booking)
{
	const struct book_request *request = booking->request;
	const struct job *job = &booking->job;
	struct claim *claim = &booking->claim;
	struct fault *fault = booking->fault;
	if (!request->from.known && !job->from.known) {
		fault_set(fault, OUTCOME_BAD, "from is not known: %s", job->number);
		fault_hint(fault, "Type book %s from=2026-12-01T06:00 with the hour at which it starts.",
		           job->number);
		return OUTCOME_BAD;
	}
	claim->from = request->from.known ? request->from.value : job->from.value;
	claim->until = request->until;
	if (!claim->until.known && job->until.known &&
	    moment_compare(job->until.value, claim->from) > 0) {
		claim->until = job->until;
	}
	if (!claim->until.known || moment_compare(claim->until.value, claim->from) > 0) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_BAD,
	          moment_compare(claim->until.value, claim->from) < 0 ? "until lies before from: %s, %s"
	                                                              : "until is from: %s, %s",
	          moment_text(claim->until.value).bytes, moment_text(claim->from).bytes);
	fault_hint(fault, "Type until= with the hour at which the press is free of it.");
	return OUTCOME_BAD;
}

/* Presses named by hand may not be retired; of a job's own those in use count. */
static enum outcome add_press(struct booking *booking, int64_t *presses, int64_t press,
                              const char **retired)
{
	struct press_state state;
	struct claim *claim = &booking->claim;
	enum outcome outcome =
		store_press_read(booking->store, booking->arena, press, &state, booking->fault);
	if (outcome == OUTCOME_DONE && state.retired) {
		*retired = state.press.code;
	} else if (outcome == OUTCOME_DONE) {
		presses[claim->press_count++] = press;
	}
	return outcome;
}

static enum outcome refuse_retired(struct fault *fault, const char *code)
{
	fault_set(fault, OUTCOME_NO, "press is retired: %s", code);
	fault_hint(fault, "Type press= with one that is in use, as find press retired=no lists them.");
	return OUTCOME_NO;
}

static enum outcome take_presses(struct booking *booking)
{
	const struct book_request *request = booking->request;
	struct claim *claim = &booking->claim;
	struct asking asking;
	int64_t *presses, *kept;
	size_t count;
	const char *retired = NULL;
	const struct check_request named = {.job = request->job,
	                                    .presses = request->presses,
	                                    .press_count = request->press_count,
	                                    .from = {true, claim->from},
	                                    .until = {true, claim->from},
	                                    .now = request->actor->now,
	                                    .limits = request->limits};
	enum outcome outcome = asking_open(booking->store, booking->arena, &named, &asking, &presses,
	                                   &count, booking->fault);
	kept = arena_take(booking->arena, count, sizeof *kept);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = add_press(booking, kept, presses[i], &retired);
		if (outcome == OUTCOME_DONE && retired != NULL && request->press_count > 0) {
			return refuse_retired(booking->fault, retired);
		}
	}
	claim->presses = kept;
	if (outcome == OUTCOME_DONE && claim->press_count == 0) {
		if (retired != NULL) {
			return refuse_retired(booking->fault, retired);
		}
		fault_set(booking->fault, OUTCOME_NO, "no press in use is on record");
		fault_hint(booking->fault, "Type new press code=P1 and what is known of it.");
		return OUTCOME_NO;
	}
	return outcome;
}

/* No press gave an end: neither the job nor the press tells how long it would take. */
static enum outcome refuse_endless(const struct booking *booking)
{
	fault_set(booking->fault, OUTCOME_BAD, "until is not known: %s", booking->job.number);
	fault_hint(booking->fault,
	           "Type until=, or put quantity, layout and repeat of the job and speed of the press "
	           "on record: then it is worked out.");
	return OUTCOME_BAD;
}

/* ---------------------------------------------------------------- booking */

static enum outcome booking_open(struct booking *booking)
{
	struct found found;
	enum outcome outcome =
		store_find(booking->store, booking->request->job, REFER_JOB, &found, booking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_job_read(booking->store, booking->arena, found.id, &booking->job, booking->fault);
	}
	if (outcome == OUTCOME_DONE) {
		booking->claim.job = found.id;
		outcome = refuse_state(booking);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_booked(booking);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = take_time(booking);
	}
	return outcome == OUTCOME_DONE ? take_presses(booking) : outcome;
}

const char *booking_detail(const struct booking *booking, const struct placed *placed)
{
	const struct attempt *best = placed->attempts.items[0];
	size_t count;
	tools_chosen(booking->arena, best, &count);
	return arena_format(booking->arena, "%s from %s until %s, %zu tool%s", best->press.press.code,
	                    moment_text(best->question.span.from).bytes,
	                    moment_text(best->question.span.until).bytes, count, count == 1 ? "" : "s");
}

/* What the best press lacks: the findings alone are told. */
static void tell_short(struct booking *booking, const struct placed *placed)
{
	booking->out->check = placed->attempts.items[0]->solution.check;
}

static enum outcome book(struct booking *booking)
{
	struct placed placed;
	struct booked *out = booking->out;
	enum outcome outcome = booking_open(booking);
	if (outcome == OUTCOME_DONE) {
		outcome = claim_solve(booking, &booking->claim, &placed);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (placed.attempts.count == 0) {
		return refuse_endless(booking);
	}
	if (claim_is_met(&booking->claim, &placed)) {
		outcome = claim_keep(booking, &booking->claim, &placed, "book",
		                     booking_detail(booking, &placed), &out->check);
		out->kept = outcome == OUTCOME_DONE;
	} else {
		outcome = book_by_moving(booking, &placed, &out->kept);
	}
	if (outcome == OUTCOME_DONE && !out->kept) {
		tell_short(booking, &placed);
		return OUTCOME_NO;
	}
	return outcome;
}

enum outcome plan_book(struct store *store, struct arena *arena, const struct book_request *request,
                       struct booked *out, struct fault *fault)
{
	struct booking booking = {.store = store,
	                          .arena = arena,
	                          .fault = fault,
	                          .request = request,
	                          .out = out};
	*out = (struct booked){.kept = false};
	booking.placing = &booking.claim.job;
	booking.placing_count = 1;
	enum outcome outcome = store_begin(store, "plan_book", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = book(&booking);
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}
