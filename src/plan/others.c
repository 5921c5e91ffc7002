/*
 * What else a job could be run on where it is short as asked: other presses, repeats and numbers
 * around, each tried, the three best, and what they mean for its plates.
 */
#include "internal.h"
#include "words.h"

#define COMBINATIONS_MOST RANKED_MOST

struct combinations {
	struct asking *asking;
	struct ranking ranking;
	struct tried *tried; /* candidates of all presses that are not hopeless */
	size_t count;
};

/* ---------------------------------------------------------------- which are tried */

/* The job as it is on record, on a press: answered already. */
static struct tried as_on_record(const struct attempt *attempt)
{
	const struct layout *layout = &attempt->question.job->layout;
	return (struct tried){
		.attempt = attempt,
		.candidate = {layout->repeat, layout->number_around.value},
		.standing = attempt->solution.standing,
	};
}

/* On a geared press a length without teeth is not the same as one that has them. */
static bool is_on_record(const struct tried *tried)
{
	const struct layout *layout = &tried->attempt->question.job->layout;
	const struct press *press = &tried->attempt->press.press;
	if (press->drive_known && press->geared &&
	    layout->repeat.toothed != tried->candidate.repeat.toothed) {
		return false;
	}
	return layout->repeat.known && layout->number_around.known &&
	       layout->number_around.value == tried->candidate.number_around &&
	       candidate_repeats_same(&tried->attempt->open, tried->candidate.repeat, layout->repeat);
}

/* Whatever the repeat, its stations, its web or its rolls leave as much short: nothing is loaded.
 */
static bool press_is_hopeless(const struct combinations *all, const struct attempt *attempt)
{
	struct question question = attempt->question;
	struct arena *arena = arena_new();
	question.arena = arena;
	question.bar = all->ranking.bar;
	bool hopeless = question_is_hopeless(&question, true);
	arena_free(arena);
	return hopeless;
}

static enum outcome add_candidates(struct combinations *all, struct attempt *attempt)
{
	struct arena *arena = all->asking->arena;
	enum outcome outcome = attempt_repeats(all->asking, attempt);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct tried *tried = attempt_tried(arena, attempt);
	all->tried = arena_grow(arena, all->tried, all->count, all->count + attempt->candidate_count,
	                        sizeof *all->tried);
	for (size_t i = 0; i < attempt->candidate_count; i++) {
		if (!is_on_record(&tried[i])) {
			all->tried[all->count++] = tried[i];
		}
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- what they mean for plates */

/* A plate is made for a length around, and for so many labels in it. */
static enum combination_plates plates_meant(const struct tried *tried)
{
	const struct question *question = &tried->attempt->question;
	const struct layout *layout = &question->job->layout;
	if (!layout->repeat.known) {
		return PLATES_FIRST;
	}
	bool same_around = !layout->number_around.known ||
	                   layout->number_around.value == tried->candidate.number_around;
	return same_around && repeat_equal(layout->repeat, tried->candidate.repeat,
	                                   question->limits->repeat_match)
	           ? PLATES_KEPT
	           : PLATES_NEW;
}

/* Stations whose plates are made, or on order. */
static size_t plates_there(const struct question *question)
{
	size_t count = 0;
	for (size_t i = 0; i < question->printing_count; i++) {
		const char *plates = question->printing[i].plates;
		count += plates != NULL && !text_equal_fold(plates, "none") ? 1 : 0;
	}
	return count;
}

static const char *words_of_plates(struct arena *arena, const struct combination *combination,
                                   const struct question *question)
{
	size_t count = question->printing_count, there = plates_there(question);
	const char *plural = count == 1 ? "" : "s";
	if (count == 0) {
		return "prints with no plates";
	}
	switch (combination->plates) {
	case PLATES_FIRST:
		return arena_format(arena, "plates for %zu station%s, which a new job needs anyway", count,
		                    plural);
	case PLATES_NEW:
		return arena_format(arena, "new plates for %zu station%s", count, plural);
	case PLATES_KEPT:
		break;
	}
	if (!question->job->layout.number_around.known) {
		return arena_format(arena, "keeps its plates, if they are made for %lld around",
		                    (long long)combination->number_around);
	}
	if (there == count) {
		return "keeps its plates";
	}
	if (there == 0) {
		return arena_format(arena, "the same plates for %zu station%s, none on record as made",
		                    count, plural);
	}
	return arena_format(arena, "keeps its plates, on record for %zu of %zu stations", there, count);
}

/* ---------------------------------------------------------------- the answer */

static void combination_fill(struct arena *arena, const struct tried *tried,
                             struct combination *out)
{
	const struct question *question = &tried->attempt->question;
	struct layout layout = question->job->layout;
	*out = (struct combination){
		.press = tried->attempt->press.press.code,
		.repeat = tried->candidate.repeat,
		.number_around = tried->candidate.number_around,
		.verdict = tried->standing.verdict,
		.unmet = tried->standing.unmet,
		.waste_known = tried->standing.waste_known,
		.plate_area_cm2 = tried->standing.plate_area / 100,
		.plates = plates_meant(tried),
		.plate_count = question->printing_count,
	};
	if (out->waste_known) {
		layout_complete(&layout, question->job->quantity, question->limits->overs);
		struct known_length web = layout.web.known ? layout.web : layout.web_needed;
		out->waste =
			waste_of(layout.label_across.value, layout.label_around.value,
		             layout.number_across.value, out->number_around, web.value, out->repeat);
	}
	out->text = words_of_plates(arena, out, question);
}

static void combinations_fill(const struct combinations *all, struct check *check)
{
	struct arena *arena = all->asking->arena;
	check->combination_count = all->ranking.count;
	check->combinations = arena_take(arena, all->ranking.count, sizeof *check->combinations);
	for (size_t i = 0; i < all->ranking.count; i++) {
		combination_fill(arena, &all->ranking.items[i], &check->combinations[i]);
	}
}

enum outcome combinations_find(struct asking *asking, struct attempt *const *all, size_t count)
{
	struct combinations found = {
		.asking = asking,
		.ranking = {.most = COMBINATIONS_MOST, .bar = &all[0]->solution.standing},
	};
	enum outcome outcome = OUTCOME_DONE;
	if (all[0]->solution.standing.verdict != VERDICT_SHORT) {
		return OUTCOME_DONE;
	}
	/* A repeat order that does not say how many are around is no combination. */
	bool on_record = !job_is_new(&asking->job) && asking->job.layout.number_around.known;
	for (size_t i = 1; i < count && on_record; i++) {
		struct tried tried = as_on_record(all[i]);
		if (!all[i]->press.retired) {
			ranking_take(&found.ranking, &tried);
		}
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		if (!all[i]->press.retired && !press_is_hopeless(&found, all[i])) {
			outcome = add_candidates(&found, all[i]);
		}
	}
	if (outcome == OUTCOME_DONE) {
		ranking_try(&found.ranking, found.tried, found.count);
		combinations_fill(&found, &all[0]->solution.check);
	}
	return outcome;
}
