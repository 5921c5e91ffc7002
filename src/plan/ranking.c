/*
 * The best of many repeats and presses. Waste, plate area and whether there is a die are known
 * before any tool is chosen, so that most are never worked out: those that could not come among the
 * best even if they were ready.
 */
#include <stdlib.h>

#include "internal.h"

struct tried *attempt_tried(struct arena *arena, const struct attempt *attempt)
{
	struct tried *tried = arena_take(arena, attempt->candidate_count, sizeof *tried);
	for (size_t i = 0; i < attempt->candidate_count; i++) {
		tried[i] = (struct tried){.attempt = attempt, .candidate = attempt->candidates[i]};
	}
	return tried;
}

void ranking_take(struct ranking *ranking, const struct tried *tried)
{
	size_t at = ranking->count;
	if (ranking->bar != NULL && !standing_improves(&tried->standing, ranking->bar)) {
		return;
	}
	while (at > 0 &&
	       standing_compare_repeats(&tried->standing, &ranking->items[at - 1].standing) < 0) {
		at--;
	}
	if (at == ranking->most) {
		return;
	}
	ranking->count += ranking->count < ranking->most ? 1 : 0;
	for (size_t i = ranking->count - 1; i > at; i--) {
		ranking->items[i] = ranking->items[i - 1];
	}
	ranking->items[at] = *tried;
}

/*
 * What one more must improve on to come among the best: false where it cannot. `outlook`: the best
 * that it could come to.
 */
static bool bar_for(const struct ranking *ranking, const struct standing *outlook,
                    struct standing *bar)
{
	*bar = (struct standing){.verdict = VERDICT_SHORT, .unmet = SIZE_MAX};
	if (ranking->count == ranking->most) {
		const struct standing *last = &ranking->items[ranking->count - 1].standing;
		struct standing hoped = *outlook;
		hoped.verdict = bar->verdict = last->verdict;
		if (standing_compare_repeats(&hoped, last) >= 0) {
			bar->unmet = 0;
		}
	}
	if (ranking->bar != NULL && standing_improves(ranking->bar, bar)) {
		*bar = *ranking->bar;
	}
	return bar->verdict != VERDICT_READY || bar->unmet > 0;
}

static struct standing outlook_at(const struct tried *tried)
{
	struct question question = tried->attempt->open;
	question.layout = layout_at(&question, tried->candidate);
	question.shelf = question.whole;
	return question_outlook(&question);
}

/* By what is known of them beforehand, else as they stood. */
struct hopeful {
	struct tried *tried;
	size_t order;
};

static int hopeful_compare(const void *a, const void *b)
{
	const struct hopeful *x = a, *y = b;
	int order = standing_compare_repeats(&x->tried->standing, &y->tried->standing);
	return order != 0 ? order : (x->order > y->order) - (x->order < y->order);
}

void ranking_try(struct ranking *ranking, struct tried *tried, size_t count)
{
	struct arena *arena = arena_new();
	struct hopeful *hopeful = arena_take(arena, count, sizeof *hopeful);
	for (size_t i = 0; i < count; i++) {
		hopeful[i] = (struct hopeful){&tried[i], i};
		tried[i].standing = outlook_at(&tried[i]);
	}
	if (count > 1) {
		qsort(hopeful, count, sizeof *hopeful, hopeful_compare);
	}
	for (size_t i = 0; i < count; i++) {
		struct tried one = *hopeful[i].tried;
		struct standing bar;
		if (bar_for(ranking, &one.standing, &bar)) {
			one.standing = candidate_standing(&one.attempt->open, one.candidate, &bar, NULL);
			if (standing_improves(&one.standing, &bar)) {
				ranking_take(ranking, &one);
			}
		}
	}
	arena_free(arena);
}
