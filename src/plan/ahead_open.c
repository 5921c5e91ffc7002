/*
 * What one job lacks beside a plan: which of its needs could be met by what the plan leaves, and
 * which stay open.
 */
#include <string.h>

#include "ahead.h"

static bool times_meet(int64_t from, int64_t until, int64_t other_from, int64_t other_until)
{
	return from < other_until && other_from < until;
}

/* Does the plan, or anybody outside it, have the resource during that time? */
static void mark_busy(const struct joint_model *model, const struct joint_job *job, uint8_t *used)
{
	for (uint32_t i = 0; i < model->resource_count; i++) {
		const struct joint_resource *resource = &model->resources[i];
		int64_t until = resource->is_press ? job->time.until : job->free;
		for (uint32_t j = 0; j < resource->busy_count; j++) {
			if (times_meet(job->time.from, until, resource->busy[j].from,
			               resource->busy[j].until)) {
				used[i] = 1;
			}
		}
	}
}

static void mark_plan(const struct joint_model *model, const struct joint_plan *plan, uint32_t job,
                      uint8_t *used)
{
	const struct joint_job *here = &model->jobs[job];
	for (uint32_t i = 0; i < model->job_count; i++) {
		const struct joint_job *other = &model->jobs[i];
		if (i == job || plan->option[i] == JOINT_NONE ||
		    !times_meet(here->time.from, here->free, other->time.from, other->free)) {
			continue;
		}
		const struct joint_option *option = &other->options[plan->option[i]];
		if (option->press != JOINT_NONE &&
		    times_meet(here->time.from, here->time.until, other->time.from, other->time.until)) {
			used[option->press] = 1;
		}
		for (uint32_t need = 0; need < other->need_count; need++) {
			struct joint_given given = plan->given[i][need];
			if (given.way != JOINT_NONE) {
				used[option->needs[need].ways[given.way].item] = 1;
			}
			if (given.companion != JOINT_NONE) {
				used[given.companion] = 1;
			}
		}
	}
}

/* Tools of one group as an assignment: those that are left, each once. */
struct choice_left {
	struct arena *arena;
	const uint8_t *used;
	uint32_t *place; /* by resource: its place here, from 1 */
	size_t count;
};

static void choice_note(struct choice_left *choice, uint32_t resource)
{
	if (!choice->used[resource] && choice->place[resource] == 0) {
		choice->place[resource] = (uint32_t)++choice->count;
	}
}

static void edges_fill(const struct joint_need *need, size_t row, const struct choice_left *items,
                       const struct choice_left *companions, uint8_t *item_allowed,
                       uint8_t *companion_needed, uint8_t *companion_allowed)
{
	for (uint32_t i = 0; i < need->way_count; i++) {
		const struct joint_way *way = &need->ways[i];
		if (items->place[way->item] == 0) {
			continue;
		}
		size_t item = items->place[way->item] - 1;
		item_allowed[row * items->count + item] = 1;
		companion_needed[item] = way->needs_companion;
		for (uint32_t j = 0; j < way->companion_count; j++) {
			if (companions->place[way->companions[j]] != 0) {
				companion_allowed[item * companions->count + companions->place[way->companions[j]] -
				                  1] = 1;
			}
		}
	}
}

/* Fills `without` for the needs from `first` on, which are of one group; returns how many are open.
 */
static size_t group_open(struct arena *arena, const struct joint_model *model,
                         const struct joint_need *needs, size_t rows, const uint8_t *used,
                         uint8_t *without)
{
	struct choice_left items = {arena, used, NULL, 0}, companions = {arena, used, NULL, 0};
	items.place = arena_take(arena, model->resource_count, sizeof *items.place);
	companions.place = arena_take(arena, model->resource_count, sizeof *companions.place);
	for (size_t row = 0; row < rows; row++) {
		for (uint32_t i = 0; i < needs[row].way_count; i++) {
			const struct joint_way *way = &needs[row].ways[i];
			choice_note(&items, way->item);
			for (uint32_t j = 0; j < way->companion_count && !used[way->item]; j++) {
				choice_note(&companions, way->companions[j]);
			}
		}
	}
	uint8_t *item_allowed = arena_take(arena, rows * items.count, 1);
	uint8_t *companion_needed = arena_take(arena, items.count, 1);
	uint8_t *companion_allowed = arena_take(arena, items.count * companions.count, 1);
	for (size_t row = 0; row < rows; row++) {
		edges_fill(&needs[row], row, &items, &companions, item_allowed, companion_needed,
		           companion_allowed);
	}
	struct assignment problem = {
		.rows = rows,
		.items = items.count,
		.companions = companions.count,
		.item_allowed = item_allowed,
		.item_cost = arena_take(arena, rows * items.count, sizeof(struct cost)),
		.companion_needed = companion_needed,
		.companion_allowed = companion_allowed,
		.companion_cost = arena_take(arena, companions.count, sizeof(struct cost)),
	};
	problem.without_item.part[COST_UNMET] = problem.without_companion.part[COST_UNMET] = 1;
	problem.without_item.part[COST_MISSING] = 1;
	struct assigned assigned;
	size_t open = 0;
	assignment_solve(arena, &problem, &assigned);
	for (size_t row = 0; row < rows; row++) {
		size_t item = assigned.item[row];
		without[row] = item == ASSIGNED_NONE ? 1 : 0;
		if (item != ASSIGNED_NONE && companion_needed[item] &&
		    assigned.companion[row] == ASSIGNED_NONE) {
			without[row] = 2;
		}
		open += without[row] != 0 ? 1 : 0;
	}
	return open;
}

static size_t option_open(struct arena *arena, const struct joint_model *model,
                          const struct joint_job *job, const struct joint_option *option,
                          const uint8_t *used, uint8_t *without)
{
	size_t open = 0;
	for (uint32_t begin = 0, end; begin < job->need_count; begin = end) {
		end = begin;
		while (end < job->need_count && option->needs[end].group == option->needs[begin].group) {
			end++;
		}
		open += group_open(arena, model, option->needs + begin, end - begin, used, without + begin);
	}
	return open;
}

struct open_needs open_needs_of(const struct joint_model *model, const struct joint_plan *plan,
                                uint32_t job, struct arena *arena)
{
	const struct joint_job *here = &model->jobs[job];
	struct open_needs best = {.option = JOINT_NONE};
	struct arena *scratch = arena_new();
	uint8_t *used = arena_take(scratch, (size_t)model->resource_count + 1, 1);

	mark_busy(model, here, used);
	mark_plan(model, plan, job, used);
	best.without = arena_take(arena, here->need_count, 1);
	for (uint32_t i = 0; i < here->option_count; i++) {
		const struct joint_option *option = &here->options[i];
		uint8_t *without = arena_take(scratch, here->need_count, 1);
		size_t open = option_open(scratch, model, here, option, used, without);
		bool press = option->press != JOINT_NONE && used[option->press];
		open += press ? 1 : 0;
		if (best.option == JOINT_NONE || open < best.count) {
			memcpy(best.without, without, here->need_count);
			best.option = i;
			best.count = open;
			best.press = press;
		}
	}
	arena_free(scratch);
	return best;
}
