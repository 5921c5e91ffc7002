/*
 * Cylinders and gears: one a printing station, so chosen that the printed diameters lie closest
 * together.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "internal.h"

static size_t row_count(const struct question *question)
{
	return question->printing_count;
}

static size_t item_count(const struct question *question)
{
	return question->shelf->cylinder_count;
}

static size_t companion_count(const struct question *question)
{
	return question->shelf->gear_count;
}

static int64_t row_number(const struct question *question, size_t row)
{
	return question->printing[row].number;
}

static struct tool *item_tool(const struct question *question, size_t item)
{
	return &question->shelf->cylinders[item].tool;
}

static struct tool *companion_tool(const struct question *question, size_t companion)
{
	return &question->shelf->gears[companion].tool;
}

static enum suits item_suits(const struct question *question, size_t row, size_t item,
                             struct remarks *remarks)
{
	return cylinder_suits(&question->shelf->cylinders[item], &question->printing[row],
	                      &question->layout, &question->press->press, question->limits, remarks);
}

static enum suits companion_suits(const struct question *question, size_t item, size_t companion,
                                  struct remarks *remarks)
{
	return gear_suits(&question->shelf->gears[companion], &question->shelf->cylinders[item],
	                  &question->press->press, question->limits, remarks);
}

static bool needs_companion(const struct question *question, size_t item)
{
	return cylinder_needs_gear(&question->shelf->cylinders[item], &question->press->press);
}

const struct group_rules cylinder_rules = {
	.item_need = "cylinder",
	.item_words = "plate cylinder",
	.items_words = "plate cylinders",
	.companion_need = "gear",
	.companion_words = "gear",
	.companions_words = "gears",
	.row_count = row_count,
	.item_count = item_count,
	.companion_count = companion_count,
	.row_number = row_number,
	.item_tool = item_tool,
	.companion_tool = companion_tool,
	.item_suits = item_suits,
	.companion_suits = companion_suits,
	.needs_companion = needs_companion,
};

/* ---------------------------------------------------------------- spread */

/*
 * Printed diameter of an item at a row that must be in register with the others; false where it
 * does not count.
 */
static bool counted_diameter(const struct question *question, size_t row, size_t item,
                             struct real_length *out)
{
	return question->printing[row].registered &&
	       printed_diameter_of(&question->shelf->cylinders[item], &question->printing[row], out);
}

bool cylinders_spread(const struct question *question, const struct assigned *chosen,
                      struct real_length *out)
{
	bool any = false;
	struct real_length least = {0}, most = {0}, diameter;
	for (size_t row = 0; row < question->printing_count; row++) {
		if (chosen->item[row] == ASSIGNED_NONE ||
		    !counted_diameter(question, row, chosen->item[row], &diameter)) {
			continue;
		}
		if (!any || !real_at_most(least, diameter)) {
			least = diameter;
		}
		if (!any || !real_at_most(diameter, most)) {
			most = diameter;
		}
		any = true;
	}
	*out = real_subtract(most, least);
	return any;
}

/* A counted diameter that an item has at some row. */
struct step {
	double um;
	size_t item;
	double narrowest; /* from it, the least diameter up to which there could be enough items */
};

/*
 * The search works in micrometres: `um` holds the counted diameter of every edge, or NAN; `steps`
 * the diameters that a choice could begin with, in order.
 */
struct search {
	const struct question *question;
	struct group *group;
	double *um;
	struct step *steps;
	size_t step_count;
	struct cost least;     /* of the choice that looks at no spread */
	struct arena *scratch; /* of one choice tried */
};

static int step_compare(const void *a, const void *b)
{
	double x = ((const struct step *)a)->um, y = ((const struct step *)b)->um;
	return (x > y) - (x < y);
}

/* The counted diameters of an item, each once; does it do at some row without being counted? */
static bool take_steps(struct search *search, size_t item)
{
	const struct group *group = search->group;
	size_t first = search->step_count;
	bool uncounted = false;
	for (size_t row = 0; row < group->rows; row++) {
		size_t edge = row * group->items + item;
		struct real_length diameter;
		search->um[edge] = (double)NAN;
		if (group->item_level[edge] == SUITS_NOT) {
			continue;
		}
		if (!counted_diameter(search->question, row, item, &diameter)) {
			uncounted = true;
			continue;
		}
		double um = real_to_mm(diameter) * 1000;
		search->um[edge] = um;
		size_t at = first;
		while (at < search->step_count &&
		       (search->steps[at].um < um || search->steps[at].um > um)) {
			at++;
		}
		if (at == search->step_count) {
			search->steps[search->step_count++] = (struct step){.um = um, .item = item};
		}
	}
	return uncounted;
}

/*
 * How far the diameters must reach from each step to hold as many items as were chosen: what is
 * narrower need not be tried. `free`: items that do somewhere whatever their diameter.
 */
static void find_narrowest(struct search *search, const bool *free)
{
	const struct group *group = search->group;
	size_t *within = arena_take(search->question->arena, group->items, sizeof *within);
	size_t wanted = 0, have = 0, end = 0;
	for (size_t row = 0; row < group->rows; row++) {
		wanted += group->chosen.item[row] != ASSIGNED_NONE;
	}
	for (size_t item = 0; item < group->items; item++) {
		have += free[item];
	}
	for (size_t i = 0; i < search->step_count; i++) {
		struct step *step = &search->steps[i];
		while (end < search->step_count && (have < wanted || end <= i)) {
			size_t item = search->steps[end++].item;
			have += within[item]++ == 0 && !free[item];
		}
		step->narrowest = have >= wanted ? search->steps[end - 1].um : HUGE_VAL;
		have -= --within[step->item] == 0 && !free[step->item];
	}
}

static void search_open(const struct question *question, struct group *group, struct search *search)
{
	size_t edges = group->rows * group->items;
	bool *free = arena_take(question->arena, group->items, sizeof *free);
	*search = (struct search){.question = question, .group = group, .least = group->chosen.total};
	search->um = arena_take(question->arena, edges, sizeof *search->um);
	search->steps = arena_take(question->arena, edges, sizeof *search->steps);
	for (size_t item = 0; item < group->items; item++) {
		free[item] = take_steps(search, item);
	}
	qsort(search->steps, search->step_count, sizeof *search->steps, step_compare);
	find_narrowest(search, free);
}

/* A choice that outlives the next one tried. */
static struct assigned kept(const struct search *search, const struct assigned *chosen)
{
	size_t rows = search->group->rows;
	struct assigned copy = *chosen;
	copy.item = arena_take(search->question->arena, rows, sizeof *copy.item);
	copy.companion = arena_take(search->question->arena, rows, sizeof *copy.companion);
	for (size_t row = 0; row < rows; row++) {
		copy.item[row] = chosen->item[row];
		copy.companion[row] = chosen->companion[row];
	}
	return copy;
}

/*
 * Chooses among the cylinders whose counted diameter lies within the bounds; false where needs or
 * cautions come out worse. What is chosen lasts until the next try.
 */
static bool choose_within(const struct search *search, double from, double to, struct assigned *out)
{
	size_t edges = search->group->rows * search->group->items;
	struct question trying = *search->question;
	arena_reset(search->scratch);
	trying.arena = search->scratch;
	uint8_t *allowed = arena_take(trying.arena, edges, 1);
	for (size_t edge = 0; edge < edges; edge++) {
		double um = search->um[edge];
		allowed[edge] = isnan(um) || (um >= from && um <= to);
	}
	group_choose(&trying, search->group, allowed, out);
	for (int part = COST_UNMET; part <= COST_CAUTIONS; part++) {
		if (out->total.part[part] != search->least.part[part]) {
			return false;
		}
	}
	return true;
}

static double spread_um(const struct search *search, const struct assigned *chosen)
{
	struct real_length spread;
	return cylinders_spread(search->question, chosen, &spread) ? real_to_mm(spread) * 1000 : 0;
}

static double whole_um(double um)
{
	return floor(um + 0.5);
}

/* What a double of some hundred thousand micrometres may be off by, and more. */
#define HAIR_UM 1e-6

static int narrow_compare(const void *a, const void *b)
{
	const struct step *x = a, *y = b;
	double width_x = x->narrowest - x->um, width_y = y->narrowest - y->um;
	return width_x < width_y || width_x > width_y ? (width_x > width_y) - (width_x < width_y)
	                                              : step_compare(a, b);
}

/*
 * The least spread that a choice as good in needs and cautions can have, the most hopeful diameters
 * tried first.
 */
static double least_spread(const struct search *search, double best)
{
	size_t bytes = search->step_count * sizeof *search->steps;
	struct step *order = arena_take(search->question->arena, search->step_count, sizeof *order);
	memcpy(order, search->steps, bytes);
	qsort(order, search->step_count, sizeof *order, narrow_compare);
	for (size_t i = 0; i < search->step_count && whole_um(best) > 0; i++) {
		struct assigned chosen;
		double from = order[i].um;
		/* From each smallest diameter, ever narrower while it can be done. */
		while (best > HAIR_UM && order[i].narrowest <= from + best - HAIR_UM &&
		       choose_within(search, from, from + best - HAIR_UM, &chosen)) {
			best = spread_um(search, &chosen);
		}
	}
	return best;
}

/*
 * Of all choices whose spread is the same in whole micrometres, the one that the rest of the order
 * prefers.
 */
static void choose_best_within(const struct search *search, double best)
{
	double width = whole_um(best) + 0.5 - HAIR_UM; /* half a micrometre more would be the next */
	bool found = false;
	for (size_t i = 0; i < search->step_count; i++) {
		const struct step *step = &search->steps[i];
		struct assigned chosen;
		bool tried = i > 0 && step_compare(step - 1, step) == 0;
		if (!tried && step->narrowest <= step->um + width &&
		    choose_within(search, step->um, step->um + width, &chosen) &&
		    (!found || cost_compare(chosen.total, search->group->chosen.total) < 0)) {
			search->group->chosen = kept(search, &chosen);
			found = true;
		}
	}
}

void cylinders_choose(const struct question *question, struct group *group)
{
	struct search search;
	group_choose(question, group, NULL, &group->chosen);
	search_open(question, group, &search);
	double first = spread_um(&search, &group->chosen);
	if (whole_um(first) > 0) {
		search.scratch = arena_new();
		choose_best_within(&search, least_spread(&search, first));
		arena_free(search.scratch);
	}
}
