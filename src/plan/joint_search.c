/*
 * Tools for some needs over time, to the end: an integer program whose rows say that each need
 * takes one way, and that no moment sees a resource twice. A proof that there are none, or the
 * choice.
 */
#include <stdlib.h>
#include <string.h>

#include "joint_inside.h"

/* ---------------------------------------------------------------- who asks for what */

static void asker_count(struct joint_askers *askers, uint32_t resource, struct joint_asker asker,
                        bool fill)
{
	uint32_t at = askers->first[resource + 1]++;
	if (fill) {
		askers->items[at] = asker;
	}
}

static void askers_pass(const struct joint_board *board, struct joint_askers *askers, bool fill)
{
	for (uint32_t need = 0; need < board->first_need[board->model->job_count]; need++) {
		uint32_t job = board->job_of[need];
		const struct joint_job *of = &board->model->jobs[job];
		for (uint32_t option = 0; option < of->option_count; option++) {
			const struct joint_need *asked =
				&of->options[option].needs[need - board->first_need[job]];
			const struct joint_asker asker = {need, option};
			for (uint32_t way = 0; way < asked->way_count; way++) {
				asker_count(askers, asked->ways[way].item, asker, fill);
				for (uint32_t i = 0; i < asked->ways[way].companion_count; i++) {
					asker_count(askers, asked->ways[way].companions[i], asker, fill);
				}
			}
		}
	}
}

void askers_list(struct arena *arena, const struct joint_board *board, struct joint_askers *out)
{
	uint32_t count = board->model->resource_count, sum = 0;
	/* Counted at the place behind; then where each begins stands there, and moves on as it is
	 * filled. */
	out->first = arena_take(arena, count + 2, sizeof *out->first);
	askers_pass(board, out, false);
	for (uint32_t i = 0; i < count; i++) {
		uint32_t here = out->first[i + 1];
		out->first[i + 1] = sum;
		sum += here;
	}
	out->items = arena_take(arena, sum + 1, sizeof *out->items);
	askers_pass(board, out, true);
}

/* ---------------------------------------------------------------- columns */

/* A variable: a way of a need, or a companion of it. */
struct choice_column {
	uint32_t need, way; /* way JOINT_NONE: a companion */
	uint32_t resource;
	struct joint_time time;
};

struct searching {
	struct arena *arena;
	struct joint_board *board;
	bool beside;
	uint8_t *ours; /* by need: among those searched */
	struct choice_column *columns;
	struct program_row *rows;
	size_t column_room, row_room;
	struct program program;
};

static uint32_t column_add(struct searching *searching, struct choice_column column)
{
	if (searching->program.column_count == searching->column_room) {
		size_t room = searching->column_room * 2 + 256;
		searching->columns = arena_grow(searching->arena, searching->columns,
		                                searching->column_room, room, sizeof *searching->columns);
		searching->column_room = room;
	}
	searching->columns[searching->program.column_count] = column;
	return searching->program.column_count++;
}

static struct program_row *row_add(struct searching *searching, uint32_t room, double most)
{
	if (searching->program.row_count == searching->row_room) {
		size_t more = searching->row_room * 2 + 256;
		searching->rows = arena_grow(searching->arena, searching->rows, searching->row_room, more,
		                             sizeof *searching->rows);
		searching->row_room = more;
	}
	struct program_row *row = &searching->rows[searching->program.row_count++];
	*row = (struct program_row){.most = most};
	row->columns = arena_take(searching->arena, room + 1, sizeof *row->columns);
	row->factors = arena_take(searching->arena, room + 1, sizeof *row->factors);
	return row;
}

static void row_term(struct program_row *row, uint32_t column, double factor)
{
	row->columns[row->count] = column;
	row->factors[row->count++] = factor;
}

/* Does another than these hold the resource then, or somebody outside? */
static bool is_closed(const struct searching *searching, uint32_t resource, struct joint_time time)
{
	const struct joint_board *board = searching->board;
	const struct joint_holds *holds = &board->holds[resource];
	bool closed = joint_busy(&board->model->resources[resource], time);
	for (uint32_t i = 0; i < holds->count && searching->beside && !closed; i++) {
		closed = !searching->ours[holds->items[i].who] && joint_meet(holds->items[i].time, time);
	}
	return closed;
}

/* Columns of the companions that any way of the need takes, each once. */
static void companions_add(struct searching *searching, uint32_t need, struct joint_time time)
{
	const struct joint_need *asked = board_need(searching->board, need);
	uint32_t first = searching->program.column_count;
	for (uint32_t way = 0; way < asked->way_count; way++) {
		const struct joint_way *of = &asked->ways[way];
		for (uint32_t i = 0; i < of->companion_count && of->needs_companion; i++) {
			uint32_t companion = of->companions[i], at = first;
			while (at < searching->program.column_count &&
			       searching->columns[at].resource != companion) {
				at++;
			}
			if (at == searching->program.column_count && !is_closed(searching, companion, time)) {
				column_add(searching, (struct choice_column){need, JOINT_NONE, companion, time});
			}
		}
	}
	uint32_t count = searching->program.column_count - first;
	if (count > 0) {
		struct program_row *row = row_add(searching, count, 1);
		for (uint32_t i = 0; i < count; i++) {
			row_term(row, first + i, 1);
		}
	}
}

/* One of its companions goes with a way that needs one. */
static void way_row(struct searching *searching, uint32_t column, uint32_t first, uint32_t end,
                    const struct joint_way *way)
{
	struct program_row *row = row_add(searching, way->companion_count + 1, 0);
	row_term(row, column, 1);
	for (uint32_t at = first; at < end; at++) {
		for (uint32_t i = 0; i < way->companion_count; i++) {
			if (searching->columns[at].resource == way->companions[i]) {
				row_term(row, at, -1);
				break;
			}
		}
	}
}

static void need_add(struct searching *searching, uint32_t need)
{
	const struct joint_need *asked = board_need(searching->board, need);
	uint32_t job = searching->board->job_of[need];
	struct joint_time time = joint_tool_time(&searching->board->model->jobs[job]);
	uint32_t first = searching->program.column_count;
	companions_add(searching, need, time);
	uint32_t end = searching->program.column_count;
	for (uint32_t way = 0; way < asked->way_count; way++) {
		if (is_closed(searching, asked->ways[way].item, time)) {
			continue;
		}
		uint32_t column =
			column_add(searching, (struct choice_column){need, way, asked->ways[way].item, time});
		if (asked->ways[way].needs_companion) {
			way_row(searching, column, first, end, &asked->ways[way]);
		}
	}
	struct program_row *row = row_add(searching, asked->way_count, 1);
	row->exactly = true;
	for (uint32_t at = end; at < searching->program.column_count; at++) {
		row_term(row, at, 1);
	}
}

/* ---------------------------------------------------------------- moments */

/* A column by its resource, then by when it begins. */
struct held_by {
	uint32_t resource, column;
	struct joint_time time;
};

static int held_order(const void *a, const void *b)
{
	const struct held_by *x = a, *y = b;
	if (x->resource != y->resource) {
		return x->resource < y->resource ? -1 : 1;
	}
	if (x->time.from != y->time.from) {
		return x->time.from < y->time.from ? -1 : 1;
	}
	return x->column < y->column ? -1 : x->column > y->column;
}

static void resource_rows(struct searching *searching, const struct held_by *held, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++) {
		if (i + 1 < count && held[i + 1].time.from == held[i].time.from) {
			continue;
		}
		struct program_row *row = row_add(searching, i + 1, 1);
		for (uint32_t j = 0; j <= i; j++) {
			if (held[j].time.until > held[i].time.from) {
				row_term(row, held[j].column, 1);
			}
		}
		searching->program.row_count -= row->count < 2;
	}
}

static void moments_add(struct searching *searching)
{
	uint32_t count = searching->program.column_count;
	struct held_by *held = arena_take(searching->arena, count + 1, sizeof *held);
	for (uint32_t i = 0; i < count; i++) {
		const struct choice_column *column = &searching->columns[i];
		held[i] = (struct held_by){column->resource, i, column->time};
	}
	if (count > 1) {
		qsort(held, count, sizeof *held, held_order);
	}
	for (uint32_t first = 0, next; first < count; first = next) {
		next = first + 1;
		while (next < count && held[next].resource == held[first].resource) {
			next++;
		}
		resource_rows(searching, &held[first], next - first);
	}
}

/* ---------------------------------------------------------------- the answer */

static void answer_put(struct searching *searching, const uint32_t *needs, uint32_t count,
                       const uint8_t *taken)
{
	struct joint_board *board = searching->board;
	struct joint_given *given = arena_take(searching->arena, count + 1, sizeof *given);
	for (uint32_t i = 0, at = 0; i < count; i++) {
		given[i] = (struct joint_given){JOINT_NONE, JOINT_NONE};
		for (; at < searching->program.column_count && searching->columns[at].need == needs[i];
		     at++) {
			const struct choice_column *column = &searching->columns[at];
			if (taken[at] && column->way != JOINT_NONE) {
				given[i].way = column->way;
			} else if (taken[at]) {
				given[i].companion = column->resource;
			}
		}
		if (!board_need(board, needs[i])->ways[given[i].way].needs_companion) {
			given[i].companion = JOINT_NONE;
		}
		board_give(board, needs[i], (struct joint_given){JOINT_NONE, JOINT_NONE});
	}
	for (uint32_t i = 0; i < count; i++) {
		board_give(board, needs[i], given[i]);
	}
}

enum search_end search_needs(struct joint_board *board, const uint32_t *needs, uint32_t count,
                             bool beside, double seconds)
{
	struct searching searching = {.arena = arena_new(), .board = board, .beside = beside};
	uint32_t all = board->first_need[board->model->job_count];
	double bound;
	searching.ours = arena_take(searching.arena, all + 1, 1);
	for (uint32_t i = 0; i < count; i++) {
		searching.ours[needs[i]] = 1;
	}
	for (uint32_t i = 0; i < count; i++) {
		need_add(&searching, needs[i]);
	}
	moments_add(&searching);
	uint32_t columns = searching.program.column_count;
	uint8_t *taken = arena_take(searching.arena, columns + 1, 1);
	searching.program.gain = arena_take(searching.arena, columns + 1, sizeof(double));
	searching.program.rows = searching.rows;
	searching.program.seconds = seconds;
	enum program_end end = columns == 0 ? (count == 0 ? PROGRAM_FOUND : PROGRAM_NONE)
	                                    : program_solve(&searching.program, taken, &bound);
	if (end == PROGRAM_FOUND && beside) {
		answer_put(&searching, needs, count, taken);
	}
	arena_free(searching.arena);
	return end == PROGRAM_FOUND ? SEARCH_FOUND : end == PROGRAM_NONE ? SEARCH_NONE : SEARCH_LEFT;
}
