/* A job on a press: the question that this makes, and its answer. */
#include <string.h>

#include "internal.h"

bool job_is_new(const struct job *job)
{
	return !job->layout.repeat.known;
}

/* The stations that take a cylinder, a roll and a blade. */
static void take_printing(struct asking *asking, struct question *question)
{
	const struct job *job = &asking->job;
	question->printing = arena_take(asking->arena, job->station_count, sizeof *question->printing);
	for (size_t i = 0; i < job->station_count; i++) {
		const struct station *station = &job->stations[i];
		if (strcmp(station->process, "flexo") == 0 || strcmp(station->process, "cold_foil") == 0) {
			question->printing[question->printing_count++] = *station;
		}
	}
}

static void take_cuts(struct asking *asking, struct question *question)
{
	question->cuts = asking->job.cuts;
	question->cut_count = asking->job.cut_count;
	if (question->cut_count == 0) {
		asking->whole_cut = (struct cut){.number = 1, .kind = "kiss"};
		question->cuts = &asking->whole_cut;
		question->cut_count = 1;
	}
}

enum outcome attempt_prepare(struct asking *asking, int64_t press, bool open, struct attempt *out)
{
	*out = (struct attempt){.repeat_judged = true};
	enum outcome outcome =
		store_press_read(asking->store, asking->arena, press, &out->press, asking->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct question *question = &out->question;
	*question = (struct question){
		.arena = asking->arena,
		.job = &asking->job,
		.press = &out->press,
		.limits = asking->limits,
		.span = asking->span,
		.layout = asking->job.layout,
		.shelf = &out->shelf,
	};
	if (open) {
		question->layout.repeat = (struct repeat){.known = false};
		/* The number around of a repeat order belongs to its repeat. */
		question->layout.number_around.known =
			question->layout.number_around.known && job_is_new(&asking->job);
	}
	take_printing(asking, question);
	take_cuts(asking, question);
	layout_complete(&question->layout, asking->job.quantity, asking->limits->overs);
	return shelf_load(asking, question, open, &out->shelf);
}

/*
 * Takes the best of the repeats that a new job could run on; without one nothing is judged by a
 * repeat.
 */
static void take_best_candidate(struct attempt *attempt)
{
	struct candidate *candidates;
	size_t count = candidates_find(&attempt->question, &candidates);
	struct standing best = {0};
	size_t best_index = 0;
	for (size_t i = 0; i < count; i++) {
		struct standing standing = candidate_standing(&attempt->question, candidates[i], NULL);
		if (i == 0 || standing_compare_repeats(&standing, &best) < 0) {
			best = standing;
			best_index = i;
		}
	}
	attempt->repeat_judged = count > 0;
	if (count > 0) {
		attempt->question = question_at(&attempt->question, candidates[best_index]);
	}
}

enum outcome attempt_solve(struct asking *asking, int64_t press, struct attempt *out)
{
	bool new = job_is_new(&asking->job);
	enum outcome outcome = attempt_prepare(asking, press, new, out);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (new) {
		take_best_candidate(out);
	}
	question_solve(&out->question, out->repeat_judged, &out->solution);
	return OUTCOME_DONE;
}
