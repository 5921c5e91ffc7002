/*
 * The assignment of least total cost: rows take items, items that need one take a companion.
 *
 * It is a flow of least cost through the layers row, item, companion, one unit a row; the rows are
 * put in one by one, each along the shortest augmenting path, found by Dijkstra's algorithm over
 * costs made non-negative by potentials. Source: R. Jonker, A. Volgenant, "A shortest augmenting
 * path algorithm for dense and sparse linear assignment problems", Computing 38 (1987) 325-340; the
 * layer of companions is our own.
 *
 * An item is two nodes: "in", where a row takes it, and "out", where it goes on to a companion or
 * does without. Between them passes at most one unit, so that no item serves two rows.
 *
 *     row --item_cost--> in --0--> out --0--> companion --companion_cost--> end
 *     row --without_item--> end,  out --without_companion, or 0 where none is needed--> end
 *
 * What is already assigned can be taken back: a unit on an edge u->v opens the edge v->u at the
 * opposite cost.
 */
#include "toothrack/trade.h"

int cost_compare(struct cost a, struct cost b)
{
	for (size_t i = 0; i < COST_PARTS; i++) {
		if (a.part[i] != b.part[i])
			return a.part[i] < b.part[i] ? -1 : 1;
	}
	return 0;
}

struct cost cost_add(struct cost a, struct cost b)
{
	struct cost sum;
	for (size_t i = 0; i < COST_PARTS; i++) {
		if (__builtin_add_overflow(a.part[i], b.part[i], &sum.part[i]))
			sum.part[i] = a.part[i] < 0 ? INT64_MIN : INT64_MAX;
	}
	return sum;
}

#define NODE_NONE UINT32_MAX
#define NODE_END 0 /* the first node, so that of equal paths the one that is finished wins */

/* Where a node stands in one search. */
#define PLACE_NEW UINT32_MAX /* not reached */
#define PLACE_SETTLED \
	(UINT32_MAX - 1) /* its distance is final; anything less is its place in the heap */

struct solver {
	const struct assignment *problem;
	size_t parts; /* leading parts that any cost uses; the others are never looked at */
	uint32_t first_row, first_in, first_out, first_companion, nodes;

	/* what is assigned so far */
	size_t *row_item, *item_row;
	size_t *item_companion, *companion_item;

	/* by node */
	struct cost *potential; /* never above 0; 0 for the end and for what was never reached */
	struct cost *distance;
	uint32_t *from;
	uint32_t *place;

	/* nodes reached and not settled, the nearest first (a binary heap) */
	uint32_t *heap;
	uint32_t heap_count;
	uint32_t *settled;
	uint32_t settled_count;
};

static const struct cost nothing = {{0}};

/* ---- the heap ---- */

static bool nearer(const struct solver *solver, uint32_t a, uint32_t b)
{
	const int64_t *distance_a = solver->distance[a].part;
	const int64_t *distance_b = solver->distance[b].part;
	for (size_t i = 0; i < solver->parts; i++) {
		if (distance_a[i] != distance_b[i])
			return distance_a[i] < distance_b[i];
	}
	return a < b;
}

static void heap_put(struct solver *solver, uint32_t place, uint32_t node)
{
	solver->heap[place] = node;
	solver->place[node] = place;
}

static void heap_raise(struct solver *solver, uint32_t node)
{
	uint32_t place = solver->place[node];
	while (place > 0) {
		uint32_t parent = (place - 1) / 2;
		if (!nearer(solver, node, solver->heap[parent]))
			break;
		heap_put(solver, place, solver->heap[parent]);
		place = parent;
	}
	heap_put(solver, place, node);
}

static uint32_t heap_take(struct solver *solver)
{
	uint32_t nearest = solver->heap[0];
	uint32_t node = solver->heap[--solver->heap_count];
	uint32_t place = 0;
	while (2 * place + 1 < solver->heap_count) {
		uint32_t child = 2 * place + 1;
		if (child + 1 < solver->heap_count &&
		    nearer(solver, solver->heap[child + 1], solver->heap[child]))
			child++;
		if (!nearer(solver, solver->heap[child], node))
			break;
		heap_put(solver, place, solver->heap[child]);
		place = child;
	}
	if (solver->heap_count > 0)
		heap_put(solver, place, node);
	return nearest;
}

/* ---- one search ---- */

/*
 * A node being left: its distance with its potential, to which only the edge and the far potential
 * are added.
 */
struct leaving {
	struct solver *solver;
	uint32_t node;
	struct cost base;
};

/*
 * An edge from the node being left to `to`, of cost `sign` x `cost`. The parts are compared as they
 * are worked out: most edges are found too long at the first one.
 */
static inline void reach(const struct leaving *leaving, uint32_t to, const struct cost *cost,
                         int64_t sign)
{
	struct solver *solver = leaving->solver;
	if (solver->place[to] == PLACE_SETTLED)
		return;
	const int64_t *potential = solver->potential[to].part;
	int64_t *distance = solver->distance[to].part;
	size_t i = 0;
	if (solver->place[to] != PLACE_NEW) {
		int64_t part = 0;
		for (; i < solver->parts; i++) {
			part = leaving->base.part[i] + sign * cost->part[i] - potential[i];
			if (part != distance[i])
				break;
		}
		if (i == solver->parts || part > distance[i])
			return;
	} else {
		solver->place[to] = solver->heap_count++;
	}
	for (; i < solver->parts; i++)
		distance[i] = leaving->base.part[i] + sign * cost->part[i] - potential[i];
	solver->from[to] = leaving->node;
	heap_raise(solver, to);
}

/*
 * What a row or an item already has is reached from there, and settled: it need not be left out of
 * what it looks at.
 */
static void leave_row(const struct leaving *leaving, size_t row)
{
	const struct solver *solver = leaving->solver;
	const struct assignment *problem = solver->problem;
	if (!problem->item_required)
		reach(leaving, NODE_END, &problem->without_item, 1);
	for (size_t item = 0; item < problem->items; item++) {
		size_t pair = row * problem->items + item;
		if (problem->item_allowed[pair])
			reach(leaving, solver->first_in + (uint32_t)item, &problem->item_cost[pair], 1);
	}
}

/* Where a row takes the item: a free one goes on, a taken one is taken away from its row. */
static void leave_in(const struct leaving *leaving, size_t item)
{
	const struct solver *solver = leaving->solver;
	const struct assignment *problem = solver->problem;
	size_t row = solver->item_row[item];
	if (row == ASSIGNED_NONE)
		reach(leaving, solver->first_out + (uint32_t)item, &nothing, 1);
	else
		reach(leaving, solver->first_row + (uint32_t)row,
		      &problem->item_cost[row * problem->items + item], -1);
}

/* The item seeks a companion, or another one than it had; or it is given up by its row. */
static void leave_out(const struct leaving *leaving, size_t item)
{
	const struct solver *solver = leaving->solver;
	const struct assignment *problem = solver->problem;
	if (solver->item_row[item] != ASSIGNED_NONE)
		reach(leaving, solver->first_in + (uint32_t)item, &nothing, 1);
	if (!problem->companion_needed || !problem->companion_needed[item]) {
		reach(leaving, NODE_END, &nothing, 1);
		return;
	}
	reach(leaving, NODE_END, &problem->without_companion, 1);
	for (size_t companion = 0; companion < problem->companions; companion++) {
		if (problem->companion_allowed[item * problem->companions + companion])
			reach(leaving, solver->first_companion + (uint32_t)companion, &nothing, 1);
	}
}

static void leave_companion(const struct leaving *leaving, size_t companion)
{
	const struct solver *solver = leaving->solver;
	size_t item = solver->companion_item[companion];
	if (item == ASSIGNED_NONE)
		reach(leaving, NODE_END, &solver->problem->companion_cost[companion], 1);
	else
		reach(leaving, solver->first_out + (uint32_t)item, &nothing, 1);
}

static void leave(struct solver *solver, uint32_t node)
{
	struct leaving leaving = {.solver = solver, .node = node};
	for (size_t i = 0; i < solver->parts; i++)
		leaving.base.part[i] = solver->distance[node].part[i] + solver->potential[node].part[i];
	if (node >= solver->first_companion)
		leave_companion(&leaving, node - solver->first_companion);
	else if (node >= solver->first_out)
		leave_out(&leaving, node - solver->first_out);
	else if (node >= solver->first_in)
		leave_in(&leaving, node - solver->first_in);
	else
		leave_row(&leaving, node - solver->first_row);
}

/* Lowers the potentials of what lies nearer than the end, which keeps every edge at 0 or more. */
static void lower_potentials(struct solver *solver)
{
	const int64_t *end = solver->distance[NODE_END].part;
	for (uint32_t i = 0; i < solver->settled_count; i++) {
		uint32_t node = solver->settled[i];
		for (size_t part = 0; part < solver->parts; part++)
			solver->potential[node].part[part] += solver->distance[node].part[part] - end[part];
	}
}

/* Finds the shortest path from a row to the end; false where there is none. */
static bool search_from(struct solver *solver, size_t row)
{
	for (uint32_t node = 0; node < solver->nodes; node++)
		solver->place[node] = PLACE_NEW;
	solver->settled_count = 0;
	uint32_t start = solver->first_row + (uint32_t)row;
	solver->distance[start] = nothing;
	solver->from[start] = NODE_NONE;
	heap_put(solver, 0, start);
	solver->heap_count = 1;
	while (solver->heap_count > 0) {
		uint32_t node = heap_take(solver);
		if (node == NODE_END) {
			lower_potentials(solver);
			return true;
		}
		solver->place[node] = PLACE_SETTLED;
		solver->settled[solver->settled_count++] = node;
		leave(solver, node);
	}
	return false;
}

/* ---- what a path changes ---- */

static bool node_is_in(const struct solver *solver, uint32_t node)
{
	return node >= solver->first_in && node < solver->first_out;
}

/* From a row to the item it takes, or to the end: it does without. */
static void enter_row_edge(struct solver *solver, size_t row, uint32_t to)
{
	if (to == NODE_END) {
		solver->row_item[row] = ASSIGNED_NONE;
		return;
	}
	size_t item = to - solver->first_in;
	solver->row_item[row] = item;
	solver->item_row[item] = row;
}

/* From the item to its companion, to the end without one, or back to where its row gives it up. */
static void enter_out_edge(struct solver *solver, size_t item, uint32_t to)
{
	if (node_is_in(solver, to))
		solver->item_row[item] = ASSIGNED_NONE;
	if (to == NODE_END || node_is_in(solver, to)) {
		solver->item_companion[item] = ASSIGNED_NONE;
		return;
	}
	size_t companion = to - solver->first_companion;
	solver->item_companion[item] = companion;
	solver->companion_item[companion] = item;
}

/*
 * Enters the path just found. Each thing assigned is written by one edge of the path alone, so the
 * order does not matter; the edges that leave an "in" or a companion change nothing that another
 * edge does not.
 */
static void enter_path(struct solver *solver)
{
	uint32_t to = NODE_END;
	for (uint32_t node = solver->from[to]; node != NODE_NONE; node = solver->from[node]) {
		if (node < solver->first_in)
			enter_row_edge(solver, node - solver->first_row, to);
		else if (node >= solver->first_out && node < solver->first_companion)
			enter_out_edge(solver, node - solver->first_out, to);
		to = node;
	}
}

/* ---- the whole ---- */

static size_t parts_of(const struct cost *costs, size_t count, size_t parts)
{
	for (size_t i = 0; i < count; i++) {
		for (size_t part = COST_PARTS; part > parts; part--) {
			if (costs[i].part[part - 1] != 0)
				parts = part;
		}
	}
	return parts;
}

static size_t parts_used(const struct assignment *problem)
{
	size_t parts = 1;
	parts = parts_of(problem->item_cost, problem->rows * problem->items, parts);
	parts = parts_of(problem->companion_cost, problem->companions, parts);
	parts = parts_of(&problem->without_item, 1, parts);
	return parts_of(&problem->without_companion, 1, parts);
}

static size_t *unassigned(struct arena *arena, size_t count)
{
	size_t *numbers = arena_take(arena, count + 1, sizeof(*numbers));
	for (size_t i = 0; i < count; i++)
		numbers[i] = ASSIGNED_NONE;
	return numbers;
}

static void solver_start(struct solver *solver, struct arena *arena,
                         const struct assignment *problem)
{
	*solver = (struct solver){.problem = problem, .parts = parts_used(problem)};
	solver->first_row = NODE_END + 1;
	solver->first_in = solver->first_row + (uint32_t)problem->rows;
	solver->first_out = solver->first_in + (uint32_t)problem->items;
	solver->first_companion = solver->first_out + (uint32_t)problem->items;
	solver->nodes = solver->first_companion + (uint32_t)problem->companions;
	solver->row_item = unassigned(arena, problem->rows);
	solver->item_row = unassigned(arena, problem->items);
	solver->item_companion = unassigned(arena, problem->items);
	solver->companion_item = unassigned(arena, problem->companions);
	solver->potential = arena_take(arena, solver->nodes, sizeof(*solver->potential));
	solver->distance = arena_take(arena, solver->nodes, sizeof(*solver->distance));
	solver->from = arena_take(arena, solver->nodes, sizeof(*solver->from));
	solver->place = arena_take(arena, solver->nodes, sizeof(*solver->place));
	solver->heap = arena_take(arena, solver->nodes, sizeof(*solver->heap));
	solver->settled = arena_take(arena, solver->nodes, sizeof(*solver->settled));
}

/* Companions by row, and the total, from what is assigned. */
static void answer(const struct solver *solver, struct assigned *out)
{
	const struct assignment *problem = solver->problem;
	for (size_t row = 0; row < problem->rows; row++) {
		size_t item = out->item[row];
		if (item == ASSIGNED_NONE) {
			if (!problem->item_required)
				out->total = cost_add(out->total, problem->without_item);
			continue;
		}
		size_t companion = solver->item_companion[item];
		out->companion[row] = companion;
		out->total = cost_add(out->total, problem->item_cost[row * problem->items + item]);
		if (companion != ASSIGNED_NONE)
			out->total = cost_add(out->total, problem->companion_cost[companion]);
		else if (problem->companion_needed && problem->companion_needed[item])
			out->total = cost_add(out->total, problem->without_companion);
	}
}

void assignment_solve(struct arena *arena, const struct assignment *problem, struct assigned *out)
{
	struct solver solver;
	solver_start(&solver, arena, problem);
	*out = (struct assigned){
		.item = solver.row_item,
		.companion = unassigned(arena, problem->rows),
		.complete = true,
	};
	for (size_t row = 0; row < problem->rows; row++) {
		if (search_from(&solver, row))
			enter_path(&solver);
		else
			out->complete = false;
	}
	answer(&solver, out);
}
