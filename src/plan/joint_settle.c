/*
 * Tools for one job where moving others did not help: sought in a window of needs that grows,
 * beside what lies outside it; or the proof that the window cannot be served whole.
 */
#include <string.h>

#include "joint_solving.h"

#define SEARCH_SECONDS 0.5 /* of one search to the end */

/* Needs searched together. */
struct window {
	struct arena *arena;
	uint32_t *needs;
	uint32_t count, room;
	uint32_t grown; /* so many have brought in what they meet */
	uint8_t *in;    /* by need */
};

static void window_add(struct window *window, uint32_t need)
{
	if (window->in[need]) {
		return;
	}
	if (window->count == window->room) {
		uint32_t room = window->room * 2 + 64;
		window->needs =
			arena_grow(window->arena, window->needs, window->count, room, sizeof *window->needs);
		window->room = room;
	}
	window->in[need] = 1;
	window->needs[window->count++] = need;
}

static void window_start(struct solving *solving, struct arena *arena, enum joint_group group,
                         uint32_t job, struct window *out)
{
	const struct joint_board *board = &solving->board;
	*out = (struct window){.arena = arena};
	out->in = arena_take(arena, board->first_need[solving->model->job_count] + 1, 1);
	for (uint32_t need = board->first_need[job]; need < board->first_need[job + 1]; need++) {
		if (board_need(board, need)->group == group) {
			window_add(out, need);
		}
	}
}

static void window_take_askers(struct solving *solving, struct window *window, uint32_t resource,
                               struct joint_time time)
{
	const struct joint_board *board = &solving->board;
	for (uint32_t i = solving->askers.first[resource]; i < solving->askers.first[resource + 1];
	     i++) {
		struct joint_asker asker = solving->askers.items[i];
		uint32_t job = board->job_of[asker.need];
		if (board->option[job] == asker.option &&
		    joint_meet(joint_tool_time(&solving->model->jobs[job]), time)) {
			window_add(window, asker.need);
		}
	}
}

/* Takes in the needs on the board that meet one of the window in time and could take a tool of it.
 */
static bool window_grow(struct solving *solving, struct window *window)
{
	const struct joint_board *board = &solving->board;
	uint32_t before = window->count;
	for (; window->grown < before; window->grown++) {
		uint32_t need = window->needs[window->grown];
		const struct joint_need *asked = board_need(board, need);
		struct joint_time time = joint_tool_time(&solving->model->jobs[board->job_of[need]]);
		for (uint32_t way = 0; way < asked->way_count; way++) {
			window_take_askers(solving, window, asked->ways[way].item, time);
			for (uint32_t i = 0; i < asked->ways[way].companion_count; i++) {
				window_take_askers(solving, window, asked->ways[way].companions[i], time);
			}
		}
	}
	return window->count > before;
}

static double search_seconds(const struct solving *solving)
{
	double left = solving->deadline - joint_clock();
	return left < SEARCH_SECONDS ? left : SEARCH_SECONDS;
}

/* The needs but those of one job. */
static uint32_t needs_without(const struct joint_board *board, const uint32_t *needs,
                              uint32_t count, uint32_t job, uint32_t *out)
{
	uint32_t kept = 0;
	for (uint32_t i = 0; i < count; i++) {
		if (board->job_of[needs[i]] != job) {
			out[kept++] = needs[i];
		}
	}
	return kept;
}

/* The window cannot be served whole, by that proof: which of its jobs does the proof need? */
static bool cut_window(struct solving *solving, const struct window *window)
{
	struct joint_board *board = &solving->board;
	uint32_t *fewer = arena_take(window->arena, window->count, sizeof *fewer);
	uint8_t *kept = arena_take(window->arena, solving->model->job_count + 1, 1);
	uint32_t count = window->count;
	struct joint_cut cut = {.terms = NULL};
	uint32_t *needs = arena_grow(window->arena, window->needs, count, count, sizeof *needs);
	/* Those that came in last first: they are the farthest. */
	for (uint32_t i = window->count; i > 0; i--) {
		uint32_t job = board->job_of[window->needs[i - 1]];
		uint32_t without = needs_without(board, needs, count, job, fewer);
		if (kept[job] || without == count) {
			continue;
		}
		kept[job] = 1;
		if (joint_clock() < solving->deadline &&
		    search_needs(board, fewer, without, false, search_seconds(solving)) == SEARCH_NONE) {
			kept[job] = 0;
			count = without;
			memcpy(needs, fewer, count * sizeof *needs);
		}
	}
	cut.terms = arena_take(window->arena, window->count, sizeof *cut.terms);
	for (uint32_t job = 0; job < solving->model->job_count; job++) {
		if (kept[job]) {
			cut.terms[cut.term_count++] = (struct joint_term){job, board->option[job], 1};
		}
	}
	cut.most = cut.term_count - 1;
	return cuts_add(&solving->cuts, &cut);
}

enum search_end settle_group(struct solving *solving, enum joint_group group, uint32_t job)
{
	struct arena *arena = arena_new();
	struct window window;
	enum search_end end = SEARCH_LEFT;
	bool grown = true;
	window_start(solving, arena, group, job, &window);
	while (end == SEARCH_LEFT && grown && joint_clock() < solving->deadline) {
		struct joint_board *board = &solving->board;
		double seconds = search_seconds(solving);
		if (search_needs(board, window.needs, window.count, true, seconds) == SEARCH_FOUND) {
			end = SEARCH_FOUND;
		} else if (search_needs(board, window.needs, window.count, false, seconds) == SEARCH_NONE) {
			end = SEARCH_NONE;
		} else {
			grown = window_grow(solving, &window);
		}
	}
	if (end == SEARCH_NONE && !cut_window(solving, &window)) {
		end = SEARCH_LEFT;
	}
	arena_free(arena);
	return end;
}
