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

/* The question of a press that was read, with nothing on its shelf yet. */
static void question_begin(struct asking *asking, bool open, struct press_state *press,
                           struct question *out)
{
	*out = (struct question){
		.arena = asking->arena,
		.job = &asking->job,
		.press = press,
		.limits = asking->limits,
		.span = asking->span,
		.layout = asking->job.layout,
		.last_choice = asking->last_choice,
	};
	if (open) {
		out->layout.repeat = (struct repeat){.known = false};
		/* The number around of a repeat order belongs to its repeat. */
		out->layout.number_around.known =
			out->layout.number_around.known && job_is_new(&asking->job);
	}
	take_printing(asking, out);
	take_cuts(asking, out);
	layout_complete(&out->layout, asking->job.quantity, asking->limits->overs);
}

enum outcome attempt_open(struct asking *asking, int64_t press, bool open, struct attempt *out)
{
	*out = (struct attempt){.repeat_judged = true};
	enum outcome outcome =
		store_press_read(asking->store, asking->arena, press, &out->press, asking->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	question_begin(asking, open, &out->press, &out->question);
	out->question.shelf = out->question.whole = &out->shelf;
	return OUTCOME_DONE;
}

/* What else runs or is booked on the press: not for a scan, which asks nothing of that. */
static enum outcome press_promises_load(struct asking *asking, struct press_state *press)
{
	struct promise *promises;
	enum outcome outcome =
		store_press_promises(asking->store, asking->arena, press->press.id, asking->job.id,
	                         &promises, &press->promise_count, asking->fault);
	press->promises = promises;
	return outcome;
}

static bool is_narrowed_for(const struct loaded *loaded, const struct question *question)
{
	const char *fit = question->press->press.fit, *before = loaded->narrowed_fit;
	return loaded->narrowed && loaded->narrowed_of == question->whole->rolls &&
	       (fit != NULL && before != NULL ? strcmp(fit, before) == 0 : fit == before);
}

/* The rolls and blades that suit hang on nothing of a press but its fit. */
static void narrow_open(struct asking *asking, struct question *question)
{
	struct loaded *loaded = &asking->loaded;
	question->shelf = arena_take(asking->arena, 1, sizeof *question->shelf);
	if (!is_narrowed_for(loaded, question)) {
		question_narrow_rolls(question);
		loaded->narrowed = true;
		loaded->narrowed_of = question->whole->rolls;
		loaded->narrowed_fit = question->press->press.fit;
		loaded->narrow = *question->shelf;
	}
	*question->shelf = loaded->narrow;
}

enum outcome attempt_prepare(struct asking *asking, int64_t press, bool open, struct attempt *out)
{
	enum outcome outcome = attempt_open(asking, press, open, out);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = press_promises_load(asking, &out->press);
	if (outcome == OUTCOME_DONE) {
		outcome = shelf_load(asking, &out->question, open, &out->shelf);
	}
	if (outcome == OUTCOME_DONE && open) {
		/* The repeat is yet to come. */
		narrow_open(asking, &out->question);
	}
	return outcome;
}

enum outcome attempt_repeats(struct asking *asking, struct attempt *attempt)
{
	struct question *open = &attempt->open;
	if (attempt->repeats_known) {
		return OUTCOME_DONE;
	}
	question_begin(asking, true, &attempt->press, open);
	enum outcome outcome = shelf_load(asking, open, true, &attempt->wide);
	if (outcome == OUTCOME_DONE) {
		open->whole = &attempt->wide;
		narrow_open(asking, open);
		attempt->candidate_count = candidates_find(open, &attempt->candidates);
		attempt->repeats_known = true;
	}
	return outcome;
}

/*
 * Takes the best of the repeats that a new job could run on; without one nothing is judged by a
 * repeat.
 */
static enum outcome take_best_candidate(struct asking *asking, struct attempt *attempt)
{
	struct ranking ranking = {.most = 1};
	enum outcome outcome = attempt_repeats(asking, attempt);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct arena *arena = arena_new();
	ranking_try(&ranking, attempt_tried(arena, attempt), attempt->candidate_count);
	arena_free(arena);
	attempt->repeat_judged = ranking.count > 0;
	attempt->question = attempt->open;
	if (ranking.count > 0) {
		attempt->question = question_at(&attempt->open, ranking.items[0].candidate);
	}
	return OUTCOME_DONE;
}

static bool need_is_among(const char *need, const char *const *needs)
{
	while (*needs != NULL && strcmp(*needs, need) != 0) {
		needs++;
	}
	return *needs != NULL;
}

/* Is a need of these short? The list ends with NULL. */
static bool lacks(const struct check *check, const char *const *needs)
{
	for (size_t i = 0; i < check->finding_count; i++) {
		if (check->findings[i].level == FINDING_SHORT &&
		    need_is_among(check->findings[i].need, needs)) {
			return true;
		}
	}
	return false;
}

/*
 * What nearly would do is many tools, and only looked at where one is lacking: then all is loaded
 * anew with them.
 */
static enum outcome look_for_near(struct asking *asking, struct attempt *attempt)
{
	struct question *question = &attempt->question;
	struct loaded *loaded = &asking->loaded;
	const struct check *check = &attempt->solution.check;
	static const char *const of_rolls[] = {"anilox", "blade", NULL};
	static const char *const of_repeat[] = {"cylinder", "gear", "magnetic_cylinder", NULL};
	bool rolls = !loaded->near_rolls && lacks(check, of_rolls);
	bool others = !loaded->near_repeat && lacks(check, of_repeat);
	if (!rolls && !others) {
		return OUTCOME_DONE;
	}
	loaded->rolls = loaded->rolls && !rolls;
	loaded->near_rolls = loaded->near_rolls || rolls;
	loaded->near_repeat = loaded->near_repeat || others;
	enum outcome outcome = shelf_load(asking, question, false, &attempt->shelf);
	if (outcome == OUTCOME_DONE) {
		question->whole = &attempt->shelf;
		question_narrow(question, attempt->repeat_judged);
		question_solve(question, attempt->repeat_judged, &attempt->solution);
	}
	return outcome;
}

/* A new job at the best of its candidates, its shelf as that of a repeat order. */
static enum outcome prepare_new(struct asking *asking, int64_t press, struct attempt *out)
{
	enum outcome outcome = attempt_open(asking, press, true, out);
	if (outcome == OUTCOME_DONE) {
		outcome = press_promises_load(asking, &out->press);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = take_best_candidate(asking, out);
	}
	if (outcome == OUTCOME_DONE && out->repeat_judged) {
		outcome = shelf_load(asking, &out->question, false, &out->shelf);
		out->question.whole = &out->shelf;
	}
	if (outcome == OUTCOME_DONE && out->repeat_judged) {
		question_narrow_by_repeat(&out->question);
	}
	return outcome;
}

enum outcome attempt_solve(struct asking *asking, int64_t press, const struct standing *bar,
                           struct attempt *out)
{
	bool new = job_is_new(&asking->job);
	enum outcome outcome =
		new ? prepare_new(asking, press, out) : attempt_prepare(asking, press, false, out);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (!new &&bar == NULL) {
		question_narrow(&out->question, true);
	}
	out->question.trial = bar != NULL;
	out->question.bar = bar;
	question_solve(&out->question, out->repeat_judged, &out->solution);
	return bar == NULL ? look_for_near(asking, out) : OUTCOME_DONE;
}
