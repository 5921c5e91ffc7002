/* Many random assignment problems, solved in other ways too. */
#include <string.h>

#include "assignment_tables.h"
#include "random.h"

static struct cost random_cost(struct random *random, size_t parts, uint32_t limit)
{
	struct cost cost = {{0}};
	for (size_t part = 0; part < parts; part++)
		cost.part[part] = random_below(random, limit);
	return cost;
}

/* Few different costs make many ties, which is where a wrong solver shows. */
static struct tables random_problem(struct arena *arena, struct random *random, size_t rows,
                                    size_t items, size_t companions)
{
	struct tables tables = tables_new(arena, rows, items, companions);
	size_t parts = 1 + random_below(random, 3);
	uint32_t limit = 2 + random_below(random, 9);
	uint32_t density = 1 + random_below(random, 4);
	uint32_t needing = random_below(random, 5);
	for (size_t i = 0; i < rows * items; i++) {
		tables.item_allowed[i] = random_below(random, 4) < density;
		tables.item_cost[i] = random_cost(random, parts, limit);
	}
	for (size_t item = 0; item < items; item++)
		tables.companion_needed[item] = random_below(random, 4) < needing;
	for (size_t i = 0; i < items * companions; i++)
		tables.companion_allowed[i] = random_below(random, 4) < density;
	for (size_t companion = 0; companion < companions; companion++)
		tables.companion_cost[companion] = random_cost(random, parts, limit);
	tables.problem.without_item = random_cost(random, parts, 3 * limit);
	tables.problem.without_companion = random_cost(random, parts, 2 * limit);
	tables.problem.item_required = random_below(random, 4) == 0;
	if (needing == 0)
		tables.problem.companion_needed = NULL;
	return tables;
}

/* ---- by trying everything ---- */

struct trial {
	const struct assignment *problem;
	unsigned items_used, companions_used;
	struct cost cost; /* of the rows before */
	bool found;
	struct cost best;
};

static void try_from(struct trial *trial, size_t row);

static void try_at_cost(struct trial *trial, size_t row, struct cost cost)
{
	struct cost before = trial->cost;
	trial->cost = cost_add(before, cost);
	try_from(trial, row + 1);
	trial->cost = before;
}

static void try_item(struct trial *trial, size_t row, size_t item)
{
	const struct assignment *problem = trial->problem;
	struct cost cost = problem->item_cost[row * problem->items + item];
	trial->items_used |= 1u << item;
	if (!needs_companion(problem, item)) {
		try_at_cost(trial, row, cost);
		trial->items_used &= ~(1u << item);
		return;
	}
	try_at_cost(trial, row, cost_add(cost, problem->without_companion));
	for (size_t companion = 0; companion < problem->companions; companion++) {
		unsigned bit = 1u << companion;
		if (!problem->companion_allowed[item * problem->companions + companion] ||
		    (trial->companions_used & bit))
			continue;
		trial->companions_used |= bit;
		try_at_cost(trial, row, cost_add(cost, problem->companion_cost[companion]));
		trial->companions_used &= ~bit;
	}
	trial->items_used &= ~(1u << item);
}

static void try_from(struct trial *trial, size_t row)
{
	const struct assignment *problem = trial->problem;
	if (row == problem->rows) {
		if (!trial->found || cost_compare(trial->cost, trial->best) < 0)
			trial->best = trial->cost;
		trial->found = true;
		return;
	}
	if (!problem->item_required)
		try_at_cost(trial, row, problem->without_item);
	for (size_t item = 0; item < problem->items; item++) {
		if (problem->item_allowed[row * problem->items + item] &&
		    !(trial->items_used & (1u << item)))
			try_item(trial, row, item);
	}
}

static void assignment_solve__random_small_problems__as_cheap_as_any(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct random random = {.state = 20260102};
	for (int round = 0; round < 8000; round++) {
		size_t rows = random_below(&random, 5);
		size_t items = random_below(&random, rows == 4 ? 5 : 6);
		size_t companions = random_below(&random, 4);
		struct tables tables = random_problem(arena, &random, rows, items, companions);
		struct trial trial = {.problem = &tables.problem};
		try_from(&trial, 0);
		struct assigned out;
		assignment_solve(arena, &tables.problem, &out);
		assert_assigned(&tables.problem, &out);
		assert_int_equal(out.complete, trial.found);
		if (trial.found)
			assert_int_equal(cost_compare(out.total, trial.best), 0);
		arena_reset(arena);
	}
	arena_free(arena);
}

/* ---- by another algorithm: the same flow, with Bellman and Ford's paths and no potentials ---- */

struct edge {
	size_t from, to;
	struct cost cost;
	bool used; /* the unit of this edge is taken: it can be gone backwards at the opposite cost */
};

struct flow {
	struct edge *edges;
	size_t edge_count, nodes;
	struct cost *distance;
	bool *reached;
	size_t *by; /* edge */
};

#define SOURCE 0
#define SINK 1

static void edge_add(struct flow *flow, size_t from, size_t to, struct cost cost)
{
	flow->edges[flow->edge_count++] = (struct edge){from, to, cost, false};
}

static struct flow flow_of(struct arena *arena, const struct assignment *problem)
{
	size_t rows = problem->rows, items = problem->items, companions = problem->companions;
	size_t first_row = 2, first_in = first_row + rows, first_out = first_in + items;
	size_t first_companion = first_out + items;
	size_t edges = (rows + 1) * (items + 2) + (items + 1) * (companions + 3) + companions;
	struct flow flow = {.nodes = first_companion + companions};
	flow.edges = arena_take(arena, edges, sizeof(*flow.edges));
	flow.distance = arena_take(arena, flow.nodes, sizeof(*flow.distance));
	flow.reached = arena_take(arena, flow.nodes, sizeof(*flow.reached));
	flow.by = arena_take(arena, flow.nodes, sizeof(*flow.by));
	for (size_t row = 0; row < rows; row++) {
		edge_add(&flow, SOURCE, first_row + row, cost_of_one(0));
		edge_add(&flow, first_row + row, SINK, problem->without_item);
		for (size_t item = 0; item < items; item++) {
			if (problem->item_allowed[row * items + item])
				edge_add(&flow, first_row + row, first_in + item,
				         problem->item_cost[row * items + item]);
		}
	}
	for (size_t item = 0; item < items; item++) {
		edge_add(&flow, first_in + item, first_out + item, cost_of_one(0));
		bool needs = needs_companion(problem, item);
		edge_add(&flow, first_out + item, SINK,
		         needs ? problem->without_companion : cost_of_one(0));
		for (size_t companion = 0; needs && companion < companions; companion++) {
			if (problem->companion_allowed[item * companions + companion])
				edge_add(&flow, first_out + item, first_companion + companion, cost_of_one(0));
		}
	}
	for (size_t companion = 0; companion < companions; companion++)
		edge_add(&flow, first_companion + companion, SINK, problem->companion_cost[companion]);
	return flow;
}

static struct cost cost_opposite(struct cost cost)
{
	for (size_t part = 0; part < COST_PARTS; part++)
		cost.part[part] = -cost.part[part];
	return cost;
}

static bool edge_relax(struct flow *flow, size_t number)
{
	const struct edge *edge = &flow->edges[number];
	size_t from = edge->used ? edge->to : edge->from;
	size_t to = edge->used ? edge->from : edge->to;
	if (!flow->reached[from])
		return false;
	struct cost distance =
		cost_add(flow->distance[from], edge->used ? cost_opposite(edge->cost) : edge->cost);
	if (flow->reached[to] && cost_compare(distance, flow->distance[to]) >= 0)
		return false;
	flow->reached[to] = true;
	flow->distance[to] = distance;
	flow->by[to] = number;
	return true;
}

/* One more unit along the cheapest path, whose cost is added to the total. */
static void flow_augment(struct flow *flow, struct cost *total)
{
	memset(flow->reached, 0, flow->nodes * sizeof(*flow->reached));
	flow->reached[SOURCE] = true;
	flow->distance[SOURCE] = cost_of_one(0);
	for (bool changed = true; changed;) {
		changed = false;
		for (size_t number = 0; number < flow->edge_count; number++)
			changed = edge_relax(flow, number) || changed;
	}
	assert_true(flow->reached[SINK]);
	*total = cost_add(*total, flow->distance[SINK]);
	for (size_t node = SINK; node != SOURCE;) {
		struct edge *edge = &flow->edges[flow->by[node]];
		node = edge->used ? edge->to : edge->from;
		edge->used = !edge->used;
	}
}

static void assignment_solve__random_large_problems__as_cheap_as_another_way(void **state)
{
	(void)state;
	static const struct {
		size_t rows, items, companions;
		int rounds;
	} sizes[] = {{8, 60, 20, 30},
	             {8, 12, 4, 300},
	             {16, 20, 8, 60},
	             {16, 100, 60, 4},
	             {12, 6, 3, 150}};
	struct arena *arena = arena_new();
	struct random random = {.state = 20260103};
	for (size_t i = 0; i < COUNT_OF(sizes); i++) {
		for (int round = 0; round < sizes[i].rounds; round++) {
			struct tables tables =
				random_problem(arena, &random, sizes[i].rows, sizes[i].items, sizes[i].companions);
			tables.problem.item_required = false;
			struct flow flow = flow_of(arena, &tables.problem);
			struct cost total = {{0}};
			for (size_t row = 0; row < sizes[i].rows; row++)
				flow_augment(&flow, &total);
			struct assigned out;
			assignment_solve(arena, &tables.problem, &out);
			assert_true(out.complete);
			assert_assigned(&tables.problem, &out);
			assert_int_equal(cost_compare(out.total, total), 0);
			arena_reset(arena);
		}
	}
	arena_free(arena);
}

/* ---- properties ---- */

static void assignment_solve__being_without_costs_most__as_many_as_can_be_served(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct random random = {.state = 20260104};
	for (int round = 0; round < 500; round++) {
		size_t rows = 1 + random_below(&random, 12);
		size_t items = 1 + random_below(&random, 12);
		struct tables tables = random_problem(arena, &random, rows, items, 5);
		tables.problem.item_required = false;
		/* one unmet need outweighs everything else: a part before all others */
		for (size_t i = 0; i < rows * items; i++)
			tables.item_cost[i].part[0] = 0;
		for (size_t i = 0; i < 5; i++)
			tables.companion_cost[i].part[0] = 0;
		tables.problem.without_companion.part[0] = 0;
		tables.problem.without_item = cost_of_one(1);
		struct assigned out;
		assignment_solve(arena, &tables.problem, &out);
		assert_assigned(&tables.problem, &out);
		size_t *row_match = arena_take(arena, rows, sizeof(*row_match));
		size_t most = matching_solve(arena, rows, items, tables.item_allowed, row_match);
		size_t served = 0;
		for (size_t row = 0; row < rows; row++)
			served += out.item[row] != ASSIGNED_NONE;
		assert_int_equal(served, most);
		arena_reset(arena);
	}
	arena_free(arena);
}

static void assignment_solve__same_problem_twice__same_answer(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct random random = {.state = 20260105};
	for (int round = 0; round < 200; round++) {
		struct tables tables = random_problem(arena, &random, 8, 20, 6);
		struct assigned once;
		struct assigned again;
		assignment_solve(arena, &tables.problem, &once);
		assignment_solve(arena, &tables.problem, &again);
		assert_memory_equal(once.item, again.item, 8 * sizeof(*once.item));
		assert_memory_equal(once.companion, again.companion, 8 * sizeof(*once.companion));
		arena_reset(arena);
	}
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(assignment_solve__random_small_problems__as_cheap_as_any),
		cmocka_unit_test(assignment_solve__random_large_problems__as_cheap_as_another_way),
		cmocka_unit_test(assignment_solve__being_without_costs_most__as_many_as_can_be_served),
		cmocka_unit_test(assignment_solve__same_problem_twice__same_answer),
	};
	return cmocka_run_group_tests_name("trade/assignment_random", tests, NULL, NULL);
}
