/*
 * Placing the needs of a job where others must move: each finds another way of its own, which may
 * move others again, as in an alternating path of a matching, but over time.
 */
#include "joint_inside.h"

static bool need_place(struct joint_board *board, uint32_t need, unsigned depth);
static bool companion_place(struct joint_board *board, uint32_t need, unsigned depth);

/* Another need that holds the resource at a time of this one, or JOINT_NONE. */
static uint32_t other_holder(const struct joint_board *board, uint32_t need, uint32_t resource)
{
	struct joint_time time = joint_tool_time(&board->model->jobs[board->job_of[need]]);
	return board_holder(board, resource, time, need);
}

static bool gives_way(const struct joint_board *board, uint32_t need)
{
	return !board->locked[need] &&
	       (board->only_job == JOINT_NONE || board->job_of[need] == board->only_job);
}

/* The need leaves the resource: by another companion beside its item, or by another way. */
static bool need_leave(struct joint_board *board, uint32_t need, uint32_t resource, unsigned depth)
{
	struct joint_given given = board->given[need];
	if (given.companion == resource) {
		size_t mark = board->change_count;
		board_give(board, need, (struct joint_given){given.way, JOINT_NONE});
		board->locked[need] = true;
		bool placed = companion_place(board, need, depth);
		board->locked[need] = false;
		if (placed) {
			return true;
		}
		board_back(board, mark);
	}
	board_give(board, need, (struct joint_given){JOINT_NONE, JOINT_NONE});
	return need_place(board, need, depth);
}

/* The need has the resource by now; all others leave it. */
static bool others_leave(struct joint_board *board, uint32_t need, uint32_t resource,
                         unsigned depth)
{
	uint32_t other = other_holder(board, need, resource);
	while (other != JOINT_NONE) {
		if (depth == 0 || !gives_way(board, other) ||
		    !need_leave(board, other, resource, depth - 1)) {
			return false;
		}
		other = other_holder(board, need, resource);
	}
	return true;
}

static bool take_companion(struct joint_board *board, uint32_t need, uint32_t companion,
                           unsigned depth)
{
	size_t mark = board->change_count;
	struct joint_given given = board->given[need];
	struct joint_time time = joint_tool_time(&board->model->jobs[board->job_of[need]]);
	if (joint_busy(&board->model->resources[companion], time)) {
		return false;
	}
	given.companion = companion;
	board_give(board, need, given);
	if (others_leave(board, need, companion, depth)) {
		return true;
	}
	board_back(board, mark);
	return false;
}

/* A companion for the way that the need has: one that is free, else one that others leave. */
static bool companion_place(struct joint_board *board, uint32_t need, unsigned depth)
{
	const struct joint_way *way = &board_need(board, need)->ways[board->given[need].way];
	if (!way->needs_companion) {
		return true;
	}
	for (unsigned deep = 0; deep <= depth; deep += depth > 0 ? depth : 1) {
		for (uint32_t i = 0; i < way->companion_count; i++) {
			if (board->steps < board->steps_most &&
			    take_companion(board, need, way->companions[i], deep)) {
				return true;
			}
		}
	}
	return false;
}

static bool take_way(struct joint_board *board, uint32_t need, uint32_t way, unsigned depth)
{
	size_t mark = board->change_count;
	const struct joint_way *taken = &board_need(board, need)->ways[way];
	struct joint_time time = joint_tool_time(&board->model->jobs[board->job_of[need]]);
	if (joint_busy(&board->model->resources[taken->item], time)) {
		return false;
	}
	board->steps++;
	board_give(board, need, (struct joint_given){way, JOINT_NONE});
	if (others_leave(board, need, taken->item, depth) && companion_place(board, need, depth)) {
		return true;
	}
	board_back(board, mark);
	return false;
}

/* First a way that is free as things stand, then one that others leave. */
static bool need_place(struct joint_board *board, uint32_t need, unsigned depth)
{
	uint32_t count = board_need(board, need)->way_count;
	bool placed = false;
	board->locked[need] = true;
	for (unsigned deep = 0; deep <= depth && !placed; deep += depth > 0 ? depth : 1) {
		for (uint32_t way = 0; way < count && !placed && board->steps < board->steps_most; way++) {
			placed = take_way(board, need, way, deep);
		}
	}
	board->locked[need] = false;
	return placed;
}

/* ---------------------------------------------------------------- a whole job */

uint32_t board_on_press(const struct joint_board *board, uint32_t job, uint32_t option)
{
	const struct joint_job *of = &board->model->jobs[job];
	uint32_t press = of->options[option].press;
	return press == JOINT_NONE ? JOINT_NONE : board_holder(board, press, of->time, job);
}

bool board_serve_by(struct joint_board *board, uint32_t job, uint32_t option, unsigned depth)
{
	size_t mark = board->change_count;
	if (!joint_option_may(board->model, job, option) ||
	    board_on_press(board, job, option) != JOINT_NONE) {
		return false;
	}
	board->steps = 0;
	board_put(board, job, option);
	for (uint32_t need = board->first_need[job]; need < board->first_need[job + 1]; need++) {
		if (!need_place(board, need, depth)) {
			board_back(board, mark);
			return false;
		}
	}
	return true;
}

bool board_serve(struct joint_board *board, uint32_t job, unsigned depth)
{
	for (uint32_t option = 0; option < board->model->jobs[job].option_count; option++) {
		if (board_serve_by(board, job, option, depth)) {
			return true;
		}
	}
	return false;
}
