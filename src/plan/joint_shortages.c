/* What no plan can avoid: moment by moment, those alike that follow one another taken together. */
#include <stdlib.h>
#include <string.h>

#include "joint_inside.h"

/* Jobs by start, and which of them are open as time goes on. */
struct sweep {
	const struct joint_model *model;
	enum joint_group group;
	uint32_t *by_start;
	uint32_t next;
	uint32_t *open;
	uint32_t open_count;
	int64_t *moments; /* at which something begins or ends, each once, in order */
	size_t moment_count;
};

static struct joint_time time_of(const struct sweep *sweep, uint32_t job)
{
	const struct joint_job *of = &sweep->model->jobs[job];
	return sweep->group == JOINT_PRESS ? of->time : joint_tool_time(of);
}

static int moment_order(const void *a, const void *b)
{
	int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
	return x < y ? -1 : x > y;
}

static struct sweep sweep_start(struct arena *arena, const struct joint_model *model,
                                enum joint_group group)
{
	struct sweep sweep = {.model = model, .group = group};
	size_t count = 0;
	sweep.by_start = joint_by_start(arena, model);
	sweep.open = arena_take(arena, model->job_count + 1, sizeof *sweep.open);
	sweep.moments = arena_take(arena, 2 * (size_t)model->job_count + 1, sizeof *sweep.moments);
	for (uint32_t job = 0; job < model->job_count; job++) {
		struct joint_time time = time_of(&sweep, job);
		sweep.moments[count++] = time.from;
		sweep.moments[count++] = time.until;
	}
	if (count > 0) {
		qsort(sweep.moments, count, sizeof *sweep.moments, moment_order);
	}
	for (size_t i = 0; i < count; i++) {
		if (i == 0 || sweep.moments[i] != sweep.moments[i - 1]) {
			sweep.moments[sweep.moment_count++] = sweep.moments[i];
		}
	}
	return sweep;
}

/* Which jobs are open at a moment not before the last. */
static void sweep_to(struct sweep *sweep, int64_t moment)
{
	uint32_t kept = 0;
	while (sweep->next < sweep->model->job_count &&
	       time_of(sweep, sweep->by_start[sweep->next]).from <= moment) {
		sweep->open[sweep->open_count++] = sweep->by_start[sweep->next++];
	}
	for (uint32_t i = 0; i < sweep->open_count; i++) {
		if (time_of(sweep, sweep->open[i]).until > moment) {
			sweep->open[kept++] = sweep->open[i];
		}
	}
	sweep->open_count = kept;
}

/* ---------------------------------------------------------------- one after another */

struct shortage_list {
	struct joint_shortage *items;
	size_t count, room;
};

static void shortage_add(struct arena *arena, struct shortage_list *list,
                         struct joint_shortage shortage)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items = arena_grow(arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	list->items[list->count++] = shortage;
}

static int row_order(const void *a, const void *b)
{
	const struct joint_row *x = a, *y = b;
	if (x->job != y->job) {
		return x->job < y->job ? -1 : 1;
	}
	return x->need < y->need ? -1 : x->need > y->need;
}

static int number_order(const void *a, const void *b)
{
	uint32_t x = *(const uint32_t *)a, y = *(const uint32_t *)b;
	return x < y ? -1 : x > y;
}

static void violator_sort(struct joint_violator *violator)
{
	qsort(violator->rows, violator->row_count, sizeof *violator->rows, row_order);
	if (violator->resource_count > 1) {
		qsort(violator->resources, violator->resource_count, sizeof *violator->resources,
		      number_order);
	}
}

static bool is_the_same(const struct joint_shortage *shortage,
                        const struct joint_violator *violator)
{
	return shortage->row_count == violator->row_count &&
	       shortage->resource_count == violator->resource_count &&
	       shortage->companions_only == violator->companions_only &&
	       memcmp(shortage->rows, violator->rows, shortage->row_count * sizeof *shortage->rows) ==
	           0 &&
	       (shortage->resource_count == 0 ||
	        memcmp(shortage->resources, violator->resources,
	               shortage->resource_count * sizeof *shortage->resources) == 0);
}

/* Goes on with one that ends where this moment begins, or begins a new one. */
static void shortage_go_on(struct arena *arena, struct shortage_list *list, size_t first,
                           struct joint_violator *violator, int64_t until)
{
	violator_sort(violator);
	for (size_t i = list->count; i > first; i--) {
		struct joint_shortage *shortage = &list->items[i - 1];
		if (shortage->time.until == violator->moment && is_the_same(shortage, violator)) {
			shortage->time.until = until;
			return;
		}
	}
	shortage_add(arena, list,
	             (struct joint_shortage){
					 .group = violator->group,
					 .companions_only = violator->companions_only,
					 .time = {violator->moment, until},
					 .rows = violator->rows,
					 .row_count = violator->row_count,
					 .resources = violator->resources,
					 .resource_count = violator->resource_count,
				 });
}

static void group_shortages(struct arena *arena, struct joint_look *look,
                            const struct joint_model *model, enum joint_group group,
                            struct shortage_list *list)
{
	struct sweep sweep = sweep_start(arena, model, group);
	size_t first = list->count;
	for (size_t i = 0; i + 1 < sweep.moment_count; i++) {
		struct joint_violators violators = {.items = NULL};
		sweep_to(&sweep, sweep.moments[i]);
		look_at(look, arena, group, sweep.moments[i], sweep.open, sweep.open_count,
		        (struct joint_chosen){.all = true}, &violators);
		for (size_t j = 0; j < violators.count; j++) {
			shortage_go_on(arena, list, first, &violators.items[j], sweep.moments[i + 1]);
		}
	}
}

static int shortage_order(const void *a, const void *b)
{
	const struct joint_shortage *x = a, *y = b;
	if (x->time.from != y->time.from) {
		return x->time.from < y->time.from ? -1 : 1;
	}
	if (x->group != y->group) {
		return x->group < y->group ? -1 : 1;
	}
	return row_order(x->rows, y->rows);
}

void joint_shortages(struct arena *arena, const struct joint_model *model,
                     struct joint_shortage **out, size_t *count)
{
	struct shortage_list list = {.items = NULL};
	struct joint_look *look = look_open(arena, model);
	for (int group = 0; group < JOINT_GROUPS; group++) {
		group_shortages(arena, look, model, (enum joint_group)group, &list);
	}
	look_close(look);
	if (list.count > 1) {
		qsort(list.items, list.count, sizeof *list.items, shortage_order);
	}
	*out = list.items;
	*count = list.count;
}
