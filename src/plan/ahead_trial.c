/*
 * The model with something changed: one tool more, a job at another time. Solved again from the
 * plan of the answer, so that a cure is told only where it cures.
 */
#include <string.h>

#include "ahead.h"

void trial_begin(struct horizon *horizon, struct arena *arena, struct trial *trial)
{
	const struct joint_model *model = &horizon->model;
	const struct joint_plan *plan = &horizon->answer.plan;
	arena_reset(arena);
	*trial = (struct trial){
		.horizon = horizon,
		.arena = arena,
		.model = *model,
		.warm = *plan,
	};
	trial->model.resources =
		arena_take(arena, (size_t)model->resource_count + 1, sizeof *model->resources);
	trial->model.jobs = arena_take(arena, model->job_count, sizeof *model->jobs);
	trial->warm.option = arena_take(arena, model->job_count, sizeof *plan->option);
	trial->touched = arena_take(arena, (size_t)model->job_count + 1, 1);
	memcpy(trial->model.resources, model->resources,
	       model->resource_count * sizeof *model->resources);
	memcpy(trial->model.jobs, model->jobs, model->job_count * sizeof *model->jobs);
	memcpy(trial->warm.option, plan->option, model->job_count * sizeof *plan->option);
}

/* ---------------------------------------------------------------- needs that are changed */

/* The need of an option, as one of the trial's own that may be changed. */
static struct joint_need *need_own(struct trial *trial, uint32_t job, uint32_t option,
                                   uint32_t need)
{
	const struct joint_job *kept = &trial->horizon->model.jobs[job];
	struct joint_job *here = &trial->model.jobs[job];
	trial->touched[job] = 1;
	if (here->options == kept->options) {
		here->options = arena_take(trial->arena, here->option_count, sizeof *here->options);
		memcpy(here->options, kept->options, here->option_count * sizeof *here->options);
	}
	if (here->options[option].needs == kept->options[option].needs) {
		here->options[option].needs =
			arena_take(trial->arena, here->need_count, sizeof *kept->options[option].needs);
		memcpy(here->options[option].needs, kept->options[option].needs,
		       here->need_count * sizeof *kept->options[option].needs);
	}
	return &here->options[option].needs[need];
}

/* One way more behind the others. */
static void need_append(struct trial *trial, struct joint_need *need, const struct joint_way *way)
{
	struct joint_way *ways = arena_take(trial->arena, (size_t)need->way_count + 1, sizeof *ways);
	if (need->way_count > 0) {
		memcpy(ways, need->ways, need->way_count * sizeof *ways);
	}
	ways[need->way_count] = *way;
	need->ways = ways;
	need->way_count++;
}

/* Calls for every need of every option of every job of the model. */
struct each_need {
	struct trial *trial;
	const void *what;
	void (*take)(struct trial *trial, uint32_t job, uint32_t option, uint32_t need,
	             const struct ways *ways, const void *what);
};

static void needs_walk(const struct each_need *each)
{
	const struct horizon *horizon = each->trial->horizon;
	for (uint32_t job = 0; job < horizon->model.job_count; job++) {
		const struct horizon_job *here = &horizon->jobs[horizon->job_of[job]];
		for (uint32_t option = 0; option < here->option_count; option++) {
			for (uint32_t need = 0; need < horizon->model.jobs[job].need_count; need++) {
				each->take(each->trial, job, option, need, here->options[option].ways[need],
				           each->what);
			}
		}
	}
}

/* ---------------------------------------------------------------- a tool that fills a need */

struct more_tool {
	size_t item;
	uint32_t resource;
	bool imagined;
};

static struct question question_of_ways(const struct trial *trial, const struct ways *ways)
{
	const struct horizon *horizon = trial->horizon;
	return horizon_question(horizon, &horizon->jobs[ways->job], ways->press, ways->candidate,
	                        trial->arena);
}

/* Could the tool be among what would do, by the figure that it is looked up by? */
static bool lies_near(const struct ways *ways, bool keyed, int64_t key)
{
	return !keyed || (ways->least == 0 && ways->most == 0) ||
	       (key >= ways->least && key <= ways->most);
}

/* A tool more that would do for a need, and whether that hangs on the job. */
struct more_way {
	struct joint_way way;
	bool by_job, imagined;
};

static const struct more_way *way_of_tool(struct trial *trial, const struct ways *ways,
                                          const struct more_tool *tool)
{
	struct question question = question_of_ways(trial, ways);
	struct judged judged;
	if (!ways_judge(&question, ways->group, ways->row, tool->item, &judged)) {
		return NULL;
	}
	struct more_way *more = arena_take(trial->arena, 1, sizeof *more);
	struct joint_way *way = &more->way;
	more->imagined = tool->imagined;
	more->by_job = !tool->imagined && there_by_job(resource_tool(trial->horizon, tool->resource),
	                                               ways->group == JOINT_CYLINDERS);
	way->item = tool->resource;
	way->doubtful = judged.level == SUITS_DOUBTFUL;
	way->needs_companion = rules_of_group(ways->group)->needs_companion(&question, tool->item);
	if (way->needs_companion) {
		struct companions companions = {.count = 0};
		companions_of(trial->horizon, &question, ways->group, tool->item, trial->arena,
		              &companions);
		way->needs_companion =
			!companions_are_enough(trial->horizon, ways->group, companions.list, companions.count);
		way->companions = way->needs_companion ? companions.list : NULL;
		way->companion_count = way->needs_companion ? companions.count : 0;
		more->by_job = more->by_job || (way->needs_companion && companions.by_job);
	}
	return more;
}

/* The question of one job of the model on one of its options. */
static struct question question_of_option(const struct trial *trial, uint32_t job, uint32_t option)
{
	const struct horizon *horizon = trial->horizon;
	const struct horizon_job *here = &horizon->jobs[horizon->job_of[job]];
	return horizon_question(horizon, here, here->options[option].press,
	                        here->options[option].candidate, trial->arena);
}

static void need_take_more(struct trial *trial, uint32_t job, uint32_t option, uint32_t need,
                           const struct ways *ways, const void *what)
{
	const struct horizon *horizon = trial->horizon;
	const struct more_way *more = ways->more;
	(void)what;
	if (more == NULL) {
		return;
	}
	struct joint_way way = more->way;
	if (more->by_job) {
		struct question question = question_of_option(trial, job, option);
		const struct horizon_job *here = &horizon->jobs[horizon->job_of[job]];
		if (more->imagined) {
			companions_of_job(horizon, &question, here, trial->arena, &way);
		} else if (!way_of_job(horizon, &question, here, ways->group == JOINT_CYLINDERS,
		                       trial->arena, &way)) {
			return;
		}
	}
	need_append(trial, need_own(trial, job, option, need), &way);
}

static bool add_item(struct trial *trial, enum joint_group group, enum tool_kind kind,
                     const struct more_tool *tool)
{
	struct horizon *horizon = trial->horizon;
	const struct each_need each = {.trial = trial, .take = need_take_more};
	int64_t key;
	bool any = false, keyed = index_key(&horizon->shelf.tools, kind, tool->item, &key);
	for (size_t i = 0; i < WAYS_BUCKETS; i++) {
		for (struct ways *ways = horizon->ways->buckets[i]; ways != NULL; ways = ways->next) {
			bool near = ways->group == group && lies_near(ways, keyed, key);
			ways->more = near ? way_of_tool(trial, ways, tool) : NULL;
			any = any || ways->more != NULL;
		}
	}
	if (any) {
		needs_walk(&each);
	}
	return any;
}

/* ---------------------------------------------------------------- a tool that goes with others */

/* Companion sets that the tool joins: their lists, and these with it. */
struct joined {
	enum joint_group group;
	const struct more_tool *tool;
	const uint32_t **lists;
	size_t count, room;
};

static bool goes_with(const struct trial *trial, const struct companion_set *set, size_t item)
{
	const struct horizon *horizon = trial->horizon;
	const struct press *press = &horizon->presses[set->press].state.press;
	const struct limits *limits = horizon->request->limits;
	const struct shelf *tools = &horizon->shelf.tools;
	const struct layout layout = {.run = set->run};
	switch (set->group) {
	case JOINT_CYLINDERS:
		return gear_suits(&tools->gears[item], &tools->cylinders[set->item], press, limits, NULL) !=
		       SUITS_NOT;
	case JOINT_ROLLS:
		return blade_suits(&tools->blades[item], &tools->rolls[set->item], &layout, press, limits,
		                   NULL) != SUITS_NOT;
	case JOINT_DIES:
		return magnetic_cylinder_suits(&tools->magnetic_cylinders[item], &tools->dies[set->item],
		                               press, limits, NULL) != SUITS_NOT;
	case JOINT_PRESS:
		break;
	}
	return false;
}

static void join(struct trial *trial, struct joined *joined, const struct companions *set)
{
	if (joined->count == joined->room) {
		size_t room = joined->room * 2 + 16;
		joined->lists =
			arena_grow(trial->arena, joined->lists, joined->count, room, sizeof(const uint32_t *));
		joined->room = room;
	}
	joined->lists[joined->count++] = set->list;
}

/* One more of what goes with the tool of a way, of which the job has some or none by now. */
static void way_append(struct trial *trial, struct joint_way *way, uint32_t resource)
{
	uint32_t *longer = arena_take(trial->arena, (size_t)way->companion_count + 1, sizeof *longer);
	if (way->companion_count > 0) {
		memcpy(longer, way->companions, way->companion_count * sizeof *longer);
	}
	longer[way->companion_count++] = resource;
	way->companions = longer;
}

/* The way of the shared list that is about the same tool, whose companions are a set's own. */
static const struct joint_way *way_shared(const struct ways *ways, uint32_t item)
{
	for (uint32_t i = 0; i < ways->count; i++) {
		if (ways->list[i].item == item) {
			return &ways->list[i];
		}
	}
	return NULL;
}

/* Is what joins there for that job? What is imagined always is. */
static bool joins_job(const struct trial *trial, uint32_t job, uint32_t option,
                      const struct joined *joined)
{
	if (joined->tool->imagined ||
	    !there_by_job(resource_tool(trial->horizon, joined->tool->resource), false)) {
		return true;
	}
	struct question question = question_of_option(trial, job, option);
	return there_now(&question, resource_tool(trial->horizon, joined->tool->resource), false,
	                 NULL) != SUITS_NOT;
}

static void need_take_companion(struct trial *trial, uint32_t job, uint32_t option, uint32_t need,
                                const struct ways *ways, const void *what)
{
	const struct joined *joined = what;
	const struct joint_need *kept = &trial->horizon->model.jobs[job].options[option].needs[need];
	struct joint_way *own = NULL;
	if (ways->group != joined->group || !joins_job(trial, job, option, joined)) {
		return;
	}
	for (uint32_t i = 0; i < kept->way_count; i++) {
		const struct joint_way *shared = way_shared(ways, kept->ways[i].item);
		for (size_t j = 0; shared != NULL && j < joined->count; j++) {
			if (shared->companions != joined->lists[j]) {
				continue;
			}
			if (own == NULL) {
				own = arena_take(trial->arena, kept->way_count, sizeof *own);
				memcpy(own, kept->ways, kept->way_count * sizeof *own);
				need_own(trial, job, option, need)->ways = own;
			}
			way_append(trial, &own[i], joined->tool->resource);
		}
	}
}

static bool add_companion(struct trial *trial, enum joint_group group, const struct more_tool *tool)
{
	struct horizon *horizon = trial->horizon;
	struct joined joined = {.group = group, .tool = tool};
	for (size_t i = 0; i < WAYS_BUCKETS; i++) {
		for (const struct companion_set *set = horizon->ways->sets[i]; set != NULL;
		     set = set->next) {
			if (set->group == group && goes_with(trial, set, tool->item)) {
				join(trial, &joined, &set->set);
			}
		}
	}
	const struct each_need each = {.trial = trial, .what = &joined, .take = need_take_companion};
	if (joined.count > 0) {
		needs_walk(&each);
	}
	return joined.count > 0;
}

bool trial_add_tool(struct trial *trial, enum tool_kind kind, size_t item)
{
	static const struct {
		enum joint_group group;
		bool companion;
	} fills[] = {
		[TOOL_CYLINDER] = {JOINT_CYLINDERS, false}, [TOOL_GEAR] = {JOINT_CYLINDERS, true},
		[TOOL_ROLL] = {JOINT_ROLLS, false},         [TOOL_BLADE] = {JOINT_ROLLS, true},
		[TOOL_DIE] = {JOINT_DIES, false},           [TOOL_MAGNETIC_CYLINDER] = {JOINT_DIES, true},
	};
	const struct whole_shelf *shelf = &trial->horizon->shelf;
	struct more_tool tool = {.item = item, .resource = shelf->first[kind] + (uint32_t)item};
	tool.imagined = item == kind_count(&shelf->tools, kind);
	if (tool.imagined) {
		tool.resource = trial->model.resource_count++;
		trial->model.resources[tool.resource] = (struct joint_resource){.busy = NULL};
	}
	return fills[kind].companion ? add_companion(trial, fills[kind].group, &tool)
	                             : add_item(trial, fills[kind].group, kind, &tool);
}

/* ---------------------------------------------------------------- a job at another time */

static void job_anew(struct trial *trial, uint32_t job, struct span span)
{
	struct horizon *horizon = trial->horizon;
	horizon_model_job(horizon, &horizon->jobs[horizon->job_of[job]], span, trial->arena,
	                  &trial->model.jobs[job]);
	trial->warm.option[job] = JOINT_NONE;
	trial->touched[job] = 1;
}

/* Those that meet a job in time have what it leaves when it moves. */
static void touch_around(struct trial *trial, uint32_t job)
{
	const struct joint_job *moved = &trial->model.jobs[job];
	for (uint32_t i = 0; i < trial->model.job_count; i++) {
		const struct joint_job *other = &trial->model.jobs[i];
		if (other->time.from < moved->free && moved->time.from < other->free) {
			trial->touched[i] = 1;
		}
	}
}

/* The same of what is out for the job, at its new time; the old ones go to `kept`. */
static void move_taken(struct trial *trial, const struct horizon_job *job, struct span span,
                       const struct promise **kept)
{
	const struct horizon *horizon = trial->horizon;
	for (uint32_t i = horizon->shelf.first[0]; i < horizon->model.resource_count; i++) {
		struct tool *tool = resource_tool(horizon, i);
		struct promise *moved = arena_take(trial->arena, tool->promise_count, sizeof *moved);
		kept[i] = tool->promises;
		for (size_t j = 0; j < tool->promise_count; j++) {
			moved[j] = tool->promises[j];
			if (strcmp(moved[j].job, job->job.number) == 0) {
				moved[j].from = (struct known_moment){.known = true, .value = span.from};
				moved[j].until = (struct known_moment){.known = true, .value = span.until};
			}
		}
		tool->promises = tool->promise_count > 0 ? moved : NULL;
	}
}

/* Tools that are out for it go with it: what is left to the others changes too. */
static void trial_move_taken(struct trial *trial, uint32_t job, struct span span)
{
	const struct horizon *horizon = trial->horizon;
	const struct promise **kept =
		arena_take(trial->arena, horizon->model.resource_count, sizeof(const struct promise *));
	move_taken(trial, &horizon->jobs[horizon->job_of[job]], span, kept);
	for (uint32_t i = 0; i < trial->model.job_count; i++) {
		if (i != job) {
			job_anew(trial, i, horizon->jobs[horizon->job_of[i]].span);
		}
	}
	for (uint32_t i = horizon->shelf.first[0]; i < horizon->model.resource_count; i++) {
		resource_tool(horizon, i)->promises = kept[i];
	}
}

void trial_move(struct trial *trial, uint32_t job, struct span span)
{
	touch_around(trial, job);
	job_anew(trial, job, span);
	if (trial->horizon->jobs[trial->horizon->job_of[job]].takes) {
		trial_move_taken(trial, job, span);
	}
}

size_t trial_solve(struct trial *trial)
{
	uint32_t before = trial->horizon->answer.plan.served;
	uint32_t *tries = arena_take(trial->arena, (size_t)trial->model.job_count + 1, sizeof *tries);
	uint32_t count = 0;
	trial->warm.served = 0;
	for (uint32_t i = 0; i < trial->model.job_count; i++) {
		trial->warm.served += trial->warm.option[i] != JOINT_NONE ? 1 : 0;
		if (trial->warm.option[i] == JOINT_NONE && trial->touched[i]) {
			tries[count++] = i;
		}
	}
	joint_improve(trial->arena, &trial->model, &trial->warm, tries, count, &trial->plan);
	return trial->plan.served > before ? trial->plan.served - before : 0;
}
