/* The check of a job: every press asked, best first, with what would cure the lacks. */
#include "internal.h"

static bool press_is_among(const struct attempts *attempts, int64_t press)
{
	for (size_t i = 0; i < attempts->count; i++) {
		if (attempts->items[i]->press.press.id == press) {
			return true;
		}
	}
	return false;
}

enum outcome attempts_add(struct asking *asking, struct attempts *attempts, const int64_t *presses,
                          size_t count, const struct standing *bar)
{
	enum outcome outcome = OUTCOME_DONE;
	attempts->items = arena_grow(asking->arena, attempts->items, attempts->count,
	                             attempts->count + count, sizeof(struct attempt *));
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		if (!press_is_among(attempts, presses[i])) {
			struct attempt *attempt = arena_take(asking->arena, 1, sizeof *attempt);
			outcome = attempt_solve(asking, presses[i], bar, attempt);
			attempts->items[attempts->count++] = attempt;
		}
	}
	return outcome;
}

void attempts_sort(struct attempts *attempts)
{
	attempts->asked = attempts->count;
	for (size_t i = 1; i < attempts->asked; i++) {
		struct attempt *attempt = attempts->items[i];
		size_t j = i;
		while (j > 0 && standing_compare_presses(&attempt->solution.standing,
		                                         &attempts->items[j - 1]->solution.standing) < 0) {
			attempts->items[j] = attempts->items[j - 1];
			j--;
		}
		attempts->items[j] = attempt;
	}
}

/* Of those asked: what does not improve on it cures none of them. */
static const struct standing *worst_standing(const struct attempts *attempts)
{
	const struct standing *worst = &attempts->items[0]->solution.standing;
	for (size_t i = 1; i < attempts->asked; i++) {
		const struct standing *standing = &attempts->items[i]->solution.standing;
		worst = standing_improves(worst, standing) ? standing : worst;
	}
	return worst;
}

/* Other presses are looked at only where the best of those asked leaves something to cure. */
static enum outcome add_other_presses(struct asking *asking, struct attempts *attempts)
{
	int64_t *presses;
	size_t count;
	if (attempts->items[0]->solution.standing.verdict == VERDICT_READY) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_presses(asking->store, asking->arena, &presses, &count, asking->fault);
	return outcome == OUTCOME_DONE
	           ? attempts_add(asking, attempts, presses, count, worst_standing(attempts))
	           : outcome;
}

static enum outcome attempts_cure(struct asking *asking, struct attempts *attempts)
{
	enum outcome outcome = add_other_presses(asking, attempts);
	for (size_t i = 0; i < attempts->asked && outcome == OUTCOME_DONE; i++) {
		outcome = cures_find(asking, attempts->items[i], attempts->items, attempts->count);
	}
	return outcome == OUTCOME_DONE ? combinations_find(asking, attempts->items, attempts->count)
	                               : outcome;
}

/* A shop without a press: the job's own figures, and one thing short. */
static void answer_without_press(struct asking *asking, struct check *out)
{
	struct layout layout = asking->job.layout;
	struct finding_list list = {.arena = asking->arena};
	layout_complete(&layout, asking->job.quantity, asking->limits->overs);
	finding_add(&list, "press", 0, 0, FINDING_SHORT, "no press in use is on record");
	*out = (struct check){
		.job = asking->job.number,
		.title = asking->job.title,
		.state = asking->job.state,
		.from = asking->span.from,
		.until = asking->span.until,
		.verdict = VERDICT_SHORT,
		.repeat = layout.repeat,
		.number_around = layout.number_around,
		.number_across = layout.number_across,
		.web_needed = layout.web_needed,
		.printed_width = layout.printed_width,
		.run = layout.run,
		.findings = list.items,
		.finding_count = list.count,
	};
}

static void take_answers(struct asking *asking, const struct attempts *attempts, struct check *out)
{
	*out = attempts->items[0]->solution.check;
	out->other_count = attempts->asked - 1;
	out->others = arena_take(asking->arena, out->other_count, sizeof *out->others);
	for (size_t i = 1; i < attempts->asked; i++) {
		out->others[i - 1] = attempts->items[i]->solution.check;
	}
}

enum outcome attempts_answer(struct asking *asking, struct attempts *attempts, struct check *out)
{
	enum outcome outcome = attempts_cure(asking, attempts);
	take_answers(asking, attempts, out);
	return outcome;
}

static enum outcome check_now(struct store *store, struct arena *arena,
                              const struct check_request *request, struct check *out,
                              struct fault *fault)
{
	struct asking asking;
	struct attempts attempts = {.items = NULL};
	int64_t *presses;
	size_t count;
	enum outcome outcome = asking_open(store, arena, request, &asking, &presses, &count, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = attempts_add(&asking, &attempts, presses, count, NULL);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (attempts.count == 0) {
		answer_without_press(&asking, out);
		return OUTCOME_DONE;
	}
	attempts_sort(&attempts);
	return attempts_answer(&asking, &attempts, out);
}

enum outcome plan_check(struct store *store, struct arena *arena,
                        const struct check_request *request, struct check *out, struct fault *fault)
{
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = check_now(store, arena, request, out, fault);
		store_snapshot_end(store);
	}
	return outcome;
}
