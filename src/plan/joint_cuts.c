/* Cuts: what the set of Hall of a moment says of the jobs that may run together. */
#include <stdlib.h>
#include <string.h>

#include "joint_inside.h"

static bool cut_equal(const struct joint_cut *a, const struct joint_cut *b)
{
	return a->most == b->most && a->term_count == b->term_count &&
	       memcmp(a->terms, b->terms, a->term_count * sizeof *a->terms) == 0;
}

/* Even with every job by the option that counts most. */
static bool breaks_nothing(const struct joint_cut *cut)
{
	uint64_t sum = 0;
	uint32_t of_job = 0;
	for (uint32_t i = 0; i < cut->term_count; i++) {
		bool again = i > 0 && cut->terms[i].job == cut->terms[i - 1].job;
		sum -= again ? of_job : 0;
		of_job = again && of_job > cut->terms[i].times ? of_job : cut->terms[i].times;
		sum += of_job;
	}
	return sum <= cut->most;
}

bool cuts_add(struct joint_cuts *cuts, const struct joint_cut *cut)
{
	if (breaks_nothing(cut)) {
		return false;
	}
	for (size_t i = 0; i < cuts->count; i++) {
		if (cut_equal(&cuts->items[i], cut)) {
			return false;
		}
	}
	if (cuts->count == cuts->room) {
		size_t room = cuts->room * 2 + 64;
		cuts->items = arena_grow(cuts->arena, cuts->items, cuts->count, room, sizeof *cuts->items);
		cuts->room = room;
	}
	struct joint_cut *kept = &cuts->items[cuts->count++];
	*kept = *cut;
	kept->terms =
		arena_grow(cuts->arena, cut->terms, cut->term_count, cut->term_count, sizeof *cut->terms);
	return true;
}

/* ---------------------------------------------------------------- of a violator */

struct catching {
	const struct joint_model *model;
	const struct joint_violator *violator;
	uint8_t *caught; /* by resource: it is among the violator's */
};

/* Does the way lead through the resources, or nowhere? */
static bool way_is_caught(const struct catching *catching, const struct joint_way *way,
                          struct joint_time time)
{
	if (catching->caught[way->item] || joint_busy(&catching->model->resources[way->item], time)) {
		return true;
	}
	for (uint32_t i = 0; way->needs_companion && i < way->companion_count; i++) {
		uint32_t companion = way->companions[i];
		if (!catching->caught[companion] &&
		    !joint_busy(&catching->model->resources[companion], time)) {
			return false;
		}
	}
	return way->needs_companion;
}

static uint32_t needs_caught(const struct catching *catching, const struct joint_job *job,
                             const struct joint_option *option)
{
	uint32_t count = 0;
	if (catching->violator->group == JOINT_PRESS) {
		const struct joint_way way = {.item = option->press};
		return option->press != JOINT_NONE && way_is_caught(catching, &way, job->time);
	}
	for (uint32_t i = 0; i < job->need_count; i++) {
		const struct joint_need *need = &option->needs[i];
		bool caught = need->group == catching->violator->group;
		for (uint32_t way = 0; way < need->way_count && caught; way++) {
			caught = way_is_caught(catching, &need->ways[way], joint_tool_time(job));
		}
		count += caught;
	}
	return count;
}

static int term_order(const void *a, const void *b)
{
	const struct joint_term *x = a, *y = b;
	if (x->job != y->job) {
		return x->job < y->job ? -1 : 1;
	}
	return x->option < y->option ? -1 : x->option > y->option;
}

struct joint_cut cut_of_violator(struct arena *arena, const struct joint_model *model,
                                 const struct joint_violator *violator, const uint32_t *jobs,
                                 uint32_t job_count)
{
	struct joint_cut cut = {.most = violator->resource_count};
	struct catching catching = {model, violator, NULL};
	uint32_t room = 0;
	catching.caught = arena_take(arena, model->resource_count + 1, 1);
	for (uint32_t i = 0; i < violator->resource_count; i++) {
		catching.caught[violator->resources[i]] = 1;
	}
	for (uint32_t i = 0; i < job_count; i++) {
		room += model->jobs[jobs[i]].option_count;
	}
	cut.terms = arena_take(arena, room + 1, sizeof *cut.terms);
	for (uint32_t i = 0; i < job_count; i++) {
		const struct joint_job *job = &model->jobs[jobs[i]];
		struct joint_time time = violator->group == JOINT_PRESS ? job->time : joint_tool_time(job);
		bool open = time.from <= violator->moment && violator->moment < time.until;
		for (uint32_t option = 0; option < job->option_count && open; option++) {
			uint32_t times = needs_caught(&catching, job, &job->options[option]);
			if (times > 0) {
				cut.terms[cut.term_count++] = (struct joint_term){jobs[i], option, times};
			}
		}
	}
	if (cut.term_count > 1) {
		qsort(cut.terms, cut.term_count, sizeof *cut.terms, term_order);
	}
	return cut;
}
