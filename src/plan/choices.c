/* The repeats that the shelf could run a label on, ranked. */
#include <stdlib.h>

#include "internal.h"

struct ranked_choice {
	struct choice choice;
	struct standing standing;
};

struct choice_list {
	struct ranked_choice *items;
	size_t count, room;
};

static int ranked_compare(const void *a, const void *b)
{
	const struct ranked_choice *x = a, *y = b;
	int order = standing_compare_repeats(&x->standing, &y->standing);
	if (order == 0 &&
	    !real_at_most(repeat_length(x->choice.repeat), repeat_length(y->choice.repeat))) {
		order = 1;
	}
	return order;
}

static void choice_add(struct attempt *attempt, struct candidate candidate,
                       struct choice_list *list)
{
	struct layout layout = layout_at(&attempt->question, candidate);
	struct arena *arena = attempt->question.arena;
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items = arena_grow(arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	struct ranked_choice *ranked = &list->items[list->count++];
	const char *lacks;
	ranked->standing = candidate_standing(&attempt->question, candidate, NULL, &lacks);
	ranked->choice = (struct choice){
		.press = attempt->press.press.code,
		.repeat = candidate.repeat,
		.number_around = candidate.number_around,
		.gap = gap_around(candidate.repeat, candidate.number_around,
	                      attempt->question.layout.label_around.value),
		.verdict = ranked->standing.verdict,
		.die_suits = ranked->standing.die_suits,
		.plate_area_cm2 = ranked->standing.plate_area / 100,
		.tool_run = {.known = true,
	                 .value = length_times(length_from_mm(1), ranked->standing.run_mm)},
		.unmet = ranked->standing.unmet,
		.lacks = lacks,
	};
	struct known_length web = layout.web.known ? layout.web : layout.web_needed;
	if (ranked->standing.waste_known) {
		ranked->choice.waste = waste_of(layout.label_across.value, layout.label_around.value,
		                                layout.number_across.value, candidate.number_around,
		                                web.value, candidate.repeat);
	}
	ranked->choice.waste_known = ranked->standing.waste_known;
}

static enum outcome choices_now(struct store *store, struct arena *arena,
                                const struct check_request *request, struct choice **out,
                                size_t *count, struct fault *fault)
{
	struct asking asking;
	struct choice_list list = {.items = NULL};
	int64_t *presses;
	size_t press_count;
	enum outcome outcome =
		asking_open(store, arena, request, &asking, &presses, &press_count, fault);
	for (size_t i = 0; i < press_count && outcome == OUTCOME_DONE; i++) {
		struct attempt *attempt = arena_take(arena, 1, sizeof *attempt);
		outcome = attempt_prepare(&asking, presses[i], true, attempt);
		struct candidate *candidates;
		size_t found =
			outcome == OUTCOME_DONE ? candidates_find(&attempt->question, &candidates) : 0;
		for (size_t j = 0; j < found; j++) {
			choice_add(attempt, candidates[j], &list);
		}
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (list.count > 1) {
		qsort(list.items, list.count, sizeof *list.items, ranked_compare);
	}
	*count = list.count;
	*out = arena_take(arena, list.count, sizeof **out);
	for (size_t i = 0; i < list.count; i++) {
		(*out)[i] = list.items[i].choice;
	}
	return OUTCOME_DONE;
}

enum outcome plan_choices(struct store *store, struct arena *arena,
                          const struct check_request *request, struct choice **out, size_t *count,
                          struct fault *fault)
{
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = choices_now(store, arena, request, out, count, fault);
		store_snapshot_end(store);
	}
	return outcome;
}
