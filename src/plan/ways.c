/*
 * The ways in which a job could be run, given the tools in hand: one a press for a repeat order, of
 * a new job one for every press and repeat that those tools ask for.
 */
#include <math.h>

#include "serves.h"

/* How far a length that is kept in whole nanometres may lie beside what teeth and pitch make. */
#define HAIR_MM 0.001

struct way_list {
	struct asking *asking;
	struct hand *hand;
	struct way *items;
	size_t count, room;
	struct length *lengths; /* of all plate cylinders; NULL: not asked yet */
	size_t length_count;
};

static void way_add(struct way_list *list, const struct way *way)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 8;
		list->items =
			arena_grow(list->asking->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	list->items[list->count++] = *way;
}

/* One for each repeat that these cylinders give the job. */
static void add_candidates(struct way_list *list, const struct question *question,
                           struct shelf *shelf)
{
	struct question of_shelf = *question;
	struct candidate *candidates;
	of_shelf.whole = shelf;
	size_t count = candidates_find(&of_shelf, &candidates);
	for (size_t i = 0; i < count; i++) {
		struct way way = {.question = *question, .repeat_found = true, .candidate = candidates[i]};
		way.question.layout = layout_at(question, candidates[i]);
		way_add(list, &way);
	}
}

/* ---------------------------------------------------------------- without a cylinder in hand */

/* Would the die in hand do for a cut at a print of that length, some number of labels around? */
static bool die_cuts_at(const struct question *question, size_t index, struct length length)
{
	const struct die *die = &question->shelf->dies[index];
	struct question at = *question;
	if (!die->own.known || !die->number_around.known || die->number_around.value < 1) {
		return false;
	}
	double step = real_to_mm(repeat_length(die->own)) / (double)die->number_around.value;
	struct candidate candidate = {.repeat = repeat_of_length(length),
	                              .number_around = llround(length_to_mm(length) / step)};
	at.layout = layout_at(question, candidate);
	for (size_t cut = 0; cut < question->cut_count; cut++) {
		if (die_rules.item_suits(&at, cut, index, NULL) != SUITS_NOT) {
			return true;
		}
	}
	return false;
}

/* Does a die in hand, or one that a magnetic cylinder in hand could carry, ask for that length? */
static bool dies_ask(const struct question *question, const struct hand *hand, struct length length)
{
	const struct shelf *all = &hand->all;
	for (size_t i = 0; i < all->die_count; i++) {
		bool asks = i < hand->own.die_count;
		for (size_t j = 0; j < hand->own.magnetic_cylinder_count && !asks; j++) {
			asks = magnetic_cylinder_suits(&hand->own.magnetic_cylinders[j], &all->dies[i],
			                               &question->press->press, question->limits,
			                               NULL) != SUITS_NOT;
		}
		if (asks && die_cuts_at(question, i, length)) {
			return true;
		}
	}
	return false;
}

static bool gears_ask(const struct hand *hand, struct length length)
{
	for (size_t i = 0; i < hand->own.gear_count; i++) {
		struct repeat own = hand->own.gears[i].own;
		if (own.known && fabs(real_to_mm(repeat_length(own)) - length_to_mm(length)) <= HAIR_MM) {
			return true;
		}
	}
	return false;
}

/* Of the lengths of the shelf those that a gear, die or magnetic cylinder in hand asks for. */
static enum outcome add_from_shelf(struct way_list *list, const struct question *question)
{
	struct asking *asking = list->asking;
	enum outcome outcome = OUTCOME_DONE;
	if (list->lengths == NULL) {
		outcome = store_cylinder_lengths(asking->store, asking->arena, length_from_nm(0),
		                                 length_from_nm(INT64_MAX), &list->lengths,
		                                 &list->length_count, asking->fault);
	}
	for (size_t i = 0; i < list->length_count && outcome == OUTCOME_DONE; i++) {
		struct length length = list->lengths[i];
		struct shelf shelf = {.cylinders = NULL};
		if (!question->layout.label_around.known || !shelf_gives_gap(question, length) ||
		    (!gears_ask(list->hand, length) && !dies_ask(question, list->hand, length))) {
			continue;
		}
		outcome = store_cylinders(asking->store, asking->arena, asking->job.id, length, length,
		                          &shelf.cylinders, &shelf.cylinder_count, asking->fault);
		add_candidates(list, question, &shelf);
	}
	return outcome;
}

/*
 * Of a new job: the repeats of the cylinders out, and of the one asked about. Where none is out,
 * what else is out may ask for others: those too, so that the one asked about has to go with it.
 */
static enum outcome add_repeats(struct way_list *list, const struct question *question)
{
	const struct hand *hand = list->hand;
	struct shelf cylinders = hand->own;
	size_t before = list->count;
	if (hand->kind == KIND_CYLINDER) {
		cylinders.cylinder_count--;
	}
	add_candidates(list, question, &cylinders);
	bool none_out = list->count == before;
	if (hand->kind == KIND_CYLINDER) {
		cylinders.cylinders += cylinders.cylinder_count;
		cylinders.cylinder_count = 1;
		add_candidates(list, question, &cylinders);
	}
	return none_out &&
	               hand->own.gear_count + hand->own.die_count + hand->own.magnetic_cylinder_count >
	                   0
	           ? add_from_shelf(list, question)
	           : OUTCOME_DONE;
}

static enum outcome add_ways_of_press(struct way_list *list, int64_t press)
{
	struct asking *asking = list->asking;
	struct attempt *attempt = arena_take(asking->arena, 1, sizeof *attempt);
	size_t before = list->count;
	enum outcome outcome = attempt_open(asking, press, job_is_new(&asking->job), attempt);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	attempt->question.shelf = &list->hand->all;
	if (job_is_new(&asking->job)) {
		outcome = add_repeats(list, &attempt->question);
	}
	if (list->count == before) {
		/* What needs no repeat is judged without. */
		way_add(list, &(struct way){.question = attempt->question});
	}
	return outcome;
}

enum outcome ways_find(struct asking *asking, struct hand *hand, const int64_t *presses,
                       size_t press_count, struct way **out, size_t *count)
{
	struct way_list list = {.asking = asking, .hand = hand};
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < press_count && outcome == OUTCOME_DONE; i++) {
		outcome = add_ways_of_press(&list, presses[i]);
	}
	*out = list.items;
	*count = list.count;
	return outcome;
}
