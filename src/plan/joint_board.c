/* A plan in the making: who holds what, changes that can be taken back, and needs that give way. */
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "joint_inside.h"

double joint_clock(void)
{
	struct timespec now;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

/* ---------------------------------------------------------------- times */

bool joint_meet(struct joint_time a, struct joint_time b)
{
	return a.from < b.until && b.from < a.until;
}

struct joint_time joint_tool_time(const struct joint_job *job)
{
	struct joint_time time = {job->time.from, job->free};
	time.until = time.until > time.from ? time.until : time.from + 1;
	return time;
}

bool joint_busy(const struct joint_resource *resource, struct joint_time time)
{
	uint32_t low = 0, high = resource->busy_count;
	while (low < high) {
		uint32_t middle = low + (high - low) / 2;
		if (resource->busy[middle].until <= time.from) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	return low < resource->busy_count && joint_meet(resource->busy[low], time);
}

bool joint_way_may(const struct joint_model *model, const struct joint_way *way,
                   struct joint_time time)
{
	bool may = !joint_busy(&model->resources[way->item], time);
	if (!may || !way->needs_companion) {
		return may;
	}
	for (uint32_t i = 0; i < way->companion_count; i++) {
		if (!joint_busy(&model->resources[way->companions[i]], time)) {
			return true;
		}
	}
	return false;
}

bool joint_option_may(const struct joint_model *model, uint32_t job, uint32_t option)
{
	const struct joint_job *of = &model->jobs[job];
	const struct joint_option *asked = &of->options[option];
	if (asked->press != JOINT_NONE && joint_busy(&model->resources[asked->press], of->time)) {
		return false;
	}
	for (uint32_t i = 0; i < of->need_count; i++) {
		bool any = false;
		for (uint32_t j = 0; j < asked->needs[i].way_count && !any; j++) {
			any = joint_way_may(model, &asked->needs[i].ways[j], joint_tool_time(of));
		}
		if (!any) {
			return false;
		}
	}
	return true;
}

uint32_t joint_part(uint32_t *parts, uint32_t of)
{
	while (parts[of] != of) {
		parts[of] = parts[parts[of]];
		of = parts[of];
	}
	return of;
}

/* A job by when it begins. */
struct start {
	int64_t from;
	uint32_t job;
};

static int start_order(const void *a, const void *b)
{
	const struct start *x = a, *y = b;
	if (x->from != y->from) {
		return x->from < y->from ? -1 : 1;
	}
	return x->job < y->job ? -1 : x->job > y->job;
}

uint32_t *joint_by_start(struct arena *arena, const struct joint_model *model)
{
	uint32_t *order = arena_take(arena, model->job_count + 1, sizeof *order);
	struct start *starts = arena_take(arena, model->job_count + 1, sizeof *starts);
	for (uint32_t i = 0; i < model->job_count; i++) {
		starts[i] = (struct start){model->jobs[i].time.from, i};
	}
	if (model->job_count > 1) {
		qsort(starts, model->job_count, sizeof *starts, start_order);
	}
	for (uint32_t i = 0; i < model->job_count; i++) {
		order[i] = starts[i].job;
	}
	return order;
}

/* ---------------------------------------------------------------- the board */

void board_open(struct arena *arena, const struct joint_model *model, struct joint_board *out)
{
	uint32_t needs = 0;
	*out = (struct joint_board){.arena = arena, .model = model, .only_job = JOINT_NONE};
	out->first_need = arena_take(arena, model->job_count + 1, sizeof *out->first_need);
	out->option = arena_take(arena, model->job_count + 1, sizeof *out->option);
	for (uint32_t i = 0; i < model->job_count; i++) {
		out->first_need[i] = needs;
		out->option[i] = JOINT_NONE;
		needs += model->jobs[i].need_count;
	}
	out->first_need[model->job_count] = needs;
	out->job_of = arena_take(arena, needs + 1, sizeof *out->job_of);
	out->given = arena_take(arena, needs + 1, sizeof *out->given);
	out->locked = arena_take(arena, needs + 1, sizeof *out->locked);
	out->holds = arena_take(arena, model->resource_count + 1, sizeof *out->holds);
	for (uint32_t i = 0; i < model->job_count; i++) {
		for (uint32_t need = out->first_need[i]; need < out->first_need[i + 1]; need++) {
			out->job_of[need] = i;
			out->given[need] = (struct joint_given){JOINT_NONE, JOINT_NONE};
		}
	}
}

const struct joint_need *board_need(const struct joint_board *board, uint32_t need)
{
	uint32_t job = board->job_of[need];
	const struct joint_job *of = &board->model->jobs[job];
	return &of->options[board->option[job]].needs[need - board->first_need[job]];
}

static void hold_add(struct joint_board *board, uint32_t resource, struct joint_time time,
                     uint32_t who)
{
	struct joint_holds *holds = &board->holds[resource];
	if (holds->count == holds->room) {
		uint32_t room = holds->room * 2 + 4;
		holds->items =
			arena_grow(board->arena, holds->items, holds->count, room, sizeof *holds->items);
		holds->room = room;
	}
	uint32_t at = holds->count++;
	while (at > 0 && holds->items[at - 1].time.from > time.from) {
		holds->items[at] = holds->items[at - 1];
		at--;
	}
	holds->items[at] = (struct joint_hold){time, who};
}

static void hold_drop(struct joint_board *board, uint32_t resource, uint32_t who)
{
	struct joint_holds *holds = &board->holds[resource];
	uint32_t at = 0;
	while (holds->items[at].who != who) {
		at++;
	}
	holds->count--;
	memmove(&holds->items[at], &holds->items[at + 1], (holds->count - at) * sizeof *holds->items);
}

static void change_note(struct joint_board *board, struct joint_change change)
{
	if (board->change_count == board->change_room) {
		size_t room = board->change_room * 2 + 64;
		board->changes = arena_grow(board->arena, board->changes, board->change_count, room,
		                            sizeof *board->changes);
		board->change_room = room;
	}
	board->changes[board->change_count++] = change;
}

static void give(struct joint_board *board, uint32_t need, struct joint_given given)
{
	struct joint_given *now = &board->given[need];
	const struct joint_need *of = board_need(board, need);
	struct joint_time time = joint_tool_time(&board->model->jobs[board->job_of[need]]);
	if (now->way != given.way) {
		if (now->way != JOINT_NONE) {
			hold_drop(board, of->ways[now->way].item, need);
		}
		if (given.way != JOINT_NONE) {
			hold_add(board, of->ways[given.way].item, time, need);
		}
	}
	if (now->companion != given.companion) {
		if (now->companion != JOINT_NONE) {
			hold_drop(board, now->companion, need);
		}
		if (given.companion != JOINT_NONE) {
			hold_add(board, given.companion, time, need);
		}
	}
	*now = given;
}

void board_give(struct joint_board *board, uint32_t need, struct joint_given given)
{
	struct joint_given now = board->given[need];
	if (now.way == given.way && now.companion == given.companion) {
		return;
	}
	change_note(board, (struct joint_change){.who = need, .given = now});
	give(board, need, given);
}

static void put(struct joint_board *board, uint32_t job, uint32_t option)
{
	const struct joint_job *of = &board->model->jobs[job];
	uint32_t now = board->option[job];
	if (now != JOINT_NONE && of->options[now].press != JOINT_NONE) {
		hold_drop(board, of->options[now].press, job);
	}
	if (option != JOINT_NONE && of->options[option].press != JOINT_NONE) {
		hold_add(board, of->options[option].press, of->time, job);
	}
	board->option[job] = option;
}

void board_put(struct joint_board *board, uint32_t job, uint32_t option)
{
	if (board->option[job] == option) {
		return;
	}
	if (board->option[job] != JOINT_NONE) {
		for (uint32_t need = board->first_need[job]; need < board->first_need[job + 1]; need++) {
			board_give(board, need, (struct joint_given){JOINT_NONE, JOINT_NONE});
		}
	}
	change_note(board,
	            (struct joint_change){.of_job = true, .who = job, .option = board->option[job]});
	put(board, job, option);
}

void board_back(struct joint_board *board, size_t changes)
{
	while (board->change_count > changes) {
		struct joint_change change = board->changes[--board->change_count];
		if (change.of_job) {
			put(board, change.who, change.option);
		} else {
			give(board, change.who, change.given);
		}
	}
}

void board_settle(struct joint_board *board)
{
	board->change_count = 0;
}

/* ---------------------------------------------------------------- who else has it */

uint32_t board_holder(const struct joint_board *board, uint32_t resource, struct joint_time time,
                      uint32_t who)
{
	const struct joint_holds *holds = &board->holds[resource];
	/* They stand by when they begin. */
	for (uint32_t i = 0; i < holds->count && holds->items[i].time.from < time.until; i++) {
		if (holds->items[i].who != who && joint_meet(holds->items[i].time, time)) {
			return holds->items[i].who;
		}
	}
	return JOINT_NONE;
}

bool board_is_free(const struct joint_board *board, uint32_t resource, struct joint_time time,
                   uint32_t who)
{
	return !joint_busy(&board->model->resources[resource], time) &&
	       board_holder(board, resource, time, who) == JOINT_NONE;
}

/* ---------------------------------------------------------------- plans on and off the board */

void board_plan(struct arena *arena, const struct joint_board *board, struct joint_plan *out)
{
	const struct joint_model *model = board->model;
	*out = (struct joint_plan){.served = 0};
	out->option = arena_take(arena, model->job_count + 1, sizeof *out->option);
	out->given = arena_take(arena, model->job_count + 1, sizeof(struct joint_given *));
	for (uint32_t job = 0; job < model->job_count; job++) {
		uint32_t count = model->jobs[job].need_count;
		out->option[job] = board->option[job];
		if (board->option[job] == JOINT_NONE) {
			continue;
		}
		out->served++;
		out->given[job] = arena_take(arena, count + 1, sizeof **out->given);
		if (count > 0) {
			memcpy(out->given[job], &board->given[board->first_need[job]],
			       count * sizeof **out->given);
		}
	}
}

/* The companion that a plan gave, where the way still takes it. */
static bool companion_stands(const struct joint_board *board, const struct joint_way *way,
                             uint32_t companion, struct joint_time time)
{
	bool among = !way->needs_companion && companion == JOINT_NONE;
	for (uint32_t i = 0; i < way->companion_count && !among && way->needs_companion; i++) {
		among = way->companions[i] == companion;
	}
	return among && (companion == JOINT_NONE || board_is_free(board, companion, time, JOINT_NONE));
}

static bool job_stands(struct joint_board *board, const struct joint_plan *plan, uint32_t job)
{
	const struct joint_job *of = &board->model->jobs[job];
	uint32_t option = plan->option[job];
	struct joint_time time = joint_tool_time(of);
	if (option >= of->option_count ||
	    (of->options[option].press != JOINT_NONE &&
	     !board_is_free(board, of->options[option].press, of->time, JOINT_NONE))) {
		return false;
	}
	board_put(board, job, option);
	for (uint32_t i = 0; i < of->need_count; i++) {
		struct joint_given given = plan->given[job][i];
		const struct joint_need *need = &of->options[option].needs[i];
		if (given.way >= need->way_count ||
		    !board_is_free(board, need->ways[given.way].item, time, JOINT_NONE) ||
		    !companion_stands(board, &need->ways[given.way], given.companion, time)) {
			return false;
		}
		board_give(board, board->first_need[job] + i, given);
	}
	return true;
}

void board_take(struct joint_board *board, const struct joint_plan *plan)
{
	for (uint32_t job = 0; job < board->model->job_count; job++) {
		size_t mark = board->change_count;
		if (plan->option[job] != JOINT_NONE && !job_stands(board, plan, job)) {
			board_back(board, mark);
		}
	}
	board_settle(board);
}
