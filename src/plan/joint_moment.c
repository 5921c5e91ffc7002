/*
 * One moment: needs open at once against the tools that would do, as a flow in which every tool can
 * pass one unit. What it leaves out has its set of Hall: the rows that the residual network
 * reaches from those left out, and the resources that stand between them and the end. Source: L. R.
 * Ford, D. R. Fulkerson, "Maximal flow through a network", Canadian J. Math. 8 (1956) 399-404; P.
 * Hall, "On Representatives of Subsets", J. London Math. Soc. 10 (1935) 26-30; the parts of it are
 * those of A. L. Dulmage, N. S. Mendelsohn, "Coverings of bipartite graphs", Canadian J. Math. 10
 * (1958) 517-534.
 */
#include <string.h>

#include "joint_inside.h"

/* An arc of the network, with its reverse beside it (number ^ 1). */
struct arc {
	uint32_t to, next;
	uint8_t open; /* can still pass a unit */
};

/* A resource in the network: two nodes, so that one unit passes it. */
struct node_of {
	uint32_t stamp; /* of the moment it was made for */
	uint32_t in;    /* the way out is in + 1 */
	bool item, ends, companion;
	const uint32_t *companions_seen; /* the list whose arcs are there already, */
	struct joint_time seen_over;     /* as far as they are free over that time */
};

struct joint_look {
	const struct joint_model *model;
	struct node_of *nodes; /* by resource */
	uint32_t stamp;
	/* What follows is of one moment. */
	struct arena *arena;
	struct arc *arcs;
	uint32_t arc_count, arc_room;
	uint32_t *first;    /* by node */
	uint32_t *resource; /* by node: whose it is, JOINT_NONE of a row or the end */
	uint32_t node_count, node_room;
	struct joint_row *rows;
	uint32_t row_count, row_room;
	uint32_t *reached; /* by node: REACHED for good, or by which row now */
	uint32_t *from;    /* by node: the arc by which it was reached */
	uint32_t *queue;
	uint32_t queue_count;
};
#define SINK 0
#define REACHED 1

struct joint_look *look_open(struct arena *arena, const struct joint_model *model)
{
	struct joint_look *look = arena_take(arena, 1, sizeof *look);
	look->model = model;
	look->nodes = arena_take(arena, model->resource_count + 1, sizeof *look->nodes);
	look->arena = arena_new();
	return look;
}

void look_close(struct joint_look *look)
{
	arena_free(look->arena);
}

/* ---------------------------------------------------------------- the network */

static uint32_t node_add(struct joint_look *look, uint32_t resource)
{
	if (look->node_count == look->node_room) {
		uint32_t old = look->node_room, room = old * 2 + 256;
		look->first = arena_grow(look->arena, look->first, old, room, sizeof *look->first);
		look->resource = arena_grow(look->arena, look->resource, old, room, sizeof *look->resource);
		look->node_room = room;
	}
	look->first[look->node_count] = JOINT_NONE;
	look->resource[look->node_count] = resource;
	return look->node_count++;
}

static void arc_add(struct joint_look *look, uint32_t from, uint32_t to)
{
	if (look->arc_count + 2 > look->arc_room) {
		uint32_t room = look->arc_room * 2 + 1024;
		look->arcs = arena_grow(look->arena, look->arcs, look->arc_count, room, sizeof *look->arcs);
		look->arc_room = room;
	}
	look->arcs[look->arc_count] = (struct arc){to, look->first[from], 1};
	look->first[from] = look->arc_count++;
	look->arcs[look->arc_count] = (struct arc){from, look->first[to], 0};
	look->first[to] = look->arc_count++;
}

static struct node_of *resource_node(struct joint_look *look, uint32_t resource)
{
	struct node_of *node = &look->nodes[resource];
	if (node->stamp != look->stamp) {
		*node = (struct node_of){.stamp = look->stamp};
		node->in = node_add(look, resource);
		node_add(look, resource);
		arc_add(look, node->in, node->in + 1);
	}
	return node;
}

static void companions_join(struct joint_look *look, uint32_t item, const struct joint_way *way,
                            struct joint_time time)
{
	struct node_of *of = &look->nodes[item];
	if (of->companions_seen == way->companions && of->seen_over.from == time.from &&
	    of->seen_over.until == time.until) {
		return;
	}
	of->companions_seen = way->companions;
	of->seen_over = time;
	for (uint32_t i = 0; i < way->companion_count; i++) {
		uint32_t companion = way->companions[i];
		if (joint_busy(&look->model->resources[companion], time)) {
			continue;
		}
		struct node_of *node = resource_node(look, companion);
		if (!node->companion) {
			node->companion = true;
			arc_add(look, node->in + 1, SINK);
		}
		arc_add(look, of->in + 1, node->in);
	}
}

static void way_join(struct joint_look *look, uint32_t row_node, const struct joint_way *way,
                     struct joint_time time)
{
	/* What goes with an item is asked of the item, whoever's row it is: but of one at least here.
	 */
	if (!joint_way_may(look->model, way, time)) {
		return;
	}
	struct node_of *node = resource_node(look, way->item);
	arc_add(look, row_node, node->in);
	if (way->needs_companion) {
		companions_join(look, way->item, way, time);
	} else if (!node->ends) {
		node->ends = true;
		arc_add(look, node->in + 1, SINK);
	}
}

static void press_join(struct joint_look *look, uint32_t row_node, const struct joint_job *job,
                       uint32_t press)
{
	const struct joint_way way = {.item = press};
	if (press != JOINT_NONE) {
		way_join(look, row_node, &way, job->time);
	}
}

static uint32_t row_add(struct joint_look *look, uint32_t job, uint32_t need)
{
	if (look->row_count == look->row_room) {
		uint32_t room = look->row_room * 2 + 64;
		look->rows = arena_grow(look->arena, look->rows, look->row_count, room, sizeof *look->rows);
		look->row_room = room;
	}
	look->rows[look->row_count++] = (struct joint_row){job, need};
	return node_add(look, JOINT_NONE);
}

/* Rows are the nodes behind the sink, in order, before any resource. */
static void rows_make(struct joint_look *look, enum joint_group group, int64_t moment,
                      const uint32_t *jobs, uint32_t job_count, struct joint_chosen chosen)
{
	for (uint32_t i = 0; i < job_count; i++) {
		const struct joint_job *job = &look->model->jobs[jobs[i]];
		struct joint_time time = group == JOINT_PRESS ? job->time : joint_tool_time(job);
		bool counts = chosen.all || chosen.option[jobs[i]] != JOINT_NONE;
		if (!counts || job->option_count == 0 || time.from > moment || time.until <= moment) {
			continue;
		}
		if (group == JOINT_PRESS && job->options[0].press != JOINT_NONE) {
			row_add(look, jobs[i], JOINT_NONE);
		}
		for (uint32_t need = 0; group != JOINT_PRESS && need < job->need_count; need++) {
			if (job->options[0].needs[need].group == group) {
				row_add(look, jobs[i], need);
			}
		}
	}
}

static void row_join(struct joint_look *look, uint32_t at, struct joint_chosen chosen)
{
	struct joint_row row = look->rows[at];
	const struct joint_job *job = &look->model->jobs[row.job];
	for (uint32_t option = 0; option < job->option_count; option++) {
		if (!chosen.all && chosen.option[row.job] != option) {
			continue;
		}
		if (row.need == JOINT_NONE) {
			press_join(look, at + 1, job, job->options[option].press);
			continue;
		}
		const struct joint_need *need = &job->options[option].needs[row.need];
		for (uint32_t way = 0; way < need->way_count; way++) {
			way_join(look, at + 1, &need->ways[way], joint_tool_time(job));
		}
	}
}

/* ---------------------------------------------------------------- flow */

/*
 * All that the open arcs reach from a row, but what is reached for good; true where the sink is
 * among it.
 */
static bool reach(struct joint_look *look, uint32_t start, uint32_t mark)
{
	uint32_t head = 0;
	look->queue_count = 0;
	look->reached[start] = mark;
	look->from[start] = JOINT_NONE;
	look->queue[look->queue_count++] = start;
	while (head < look->queue_count) {
		uint32_t node = look->queue[head++];
		for (uint32_t at = look->first[node]; at != JOINT_NONE; at = look->arcs[at].next) {
			uint32_t to = look->arcs[at].to;
			if (!look->arcs[at].open || look->reached[to] == REACHED || look->reached[to] == mark) {
				continue;
			}
			look->from[to] = at;
			if (to == SINK) {
				return true;
			}
			look->reached[to] = mark;
			look->queue[look->queue_count++] = to;
		}
	}
	return false;
}

static void turn_path(struct joint_look *look)
{
	uint32_t node = SINK;
	do {
		uint32_t at = look->from[node];
		look->arcs[at].open = 0;
		look->arcs[at ^ 1U].open = 1;
		node = look->arcs[at ^ 1U].to;
	} while (look->from[node] != JOINT_NONE);
}

/*
 * Each row sends its unit where it can; what a row that cannot has reached is reached for good, for
 * no unit ever leaves it. True where some row is left out.
 */
static bool flow(struct joint_look *look)
{
	bool left_out = false;
	look->reached = arena_take(look->arena, look->node_count, sizeof *look->reached);
	look->from = arena_take(look->arena, look->node_count, sizeof *look->from);
	look->queue = arena_take(look->arena, look->node_count, sizeof *look->queue);
	for (uint32_t row = 0; row < look->row_count; row++) {
		if (reach(look, row + 1, row + REACHED + 1)) {
			turn_path(look);
			continue;
		}
		left_out = true;
		for (uint32_t i = 0; i < look->queue_count; i++) {
			look->reached[look->queue[i]] = REACHED;
		}
	}
	return left_out;
}

static bool is_reached(const struct joint_look *look, uint32_t node)
{
	return look->reached[node] == REACHED;
}

/* ---------------------------------------------------------------- its parts */

/* Reached nodes, and the way in of a resource whose way out is not, belong together by their arcs.
 */
static uint32_t *parts_make(struct joint_look *look, struct arena *arena)
{
	uint32_t *parts = arena_take(arena, look->node_count, sizeof *parts);
	for (uint32_t node = 0; node < look->node_count; node++) {
		parts[node] = node;
	}
	for (uint32_t node = 1; node < look->node_count; node++) {
		for (uint32_t at = look->first[node]; at != JOINT_NONE && is_reached(look, node);
		     at = look->arcs[at].next) {
			uint32_t to = look->arcs[at].to;
			if (to != SINK && is_reached(look, to)) {
				parts[joint_part(parts, node)] = joint_part(parts, to);
			}
		}
	}
	return parts;
}

static bool is_cut(const struct joint_look *look, uint32_t node)
{
	uint32_t resource = look->resource[node];
	return resource != JOINT_NONE && look->nodes[resource].in == node && is_reached(look, node) &&
	       !is_reached(look, node + 1);
}

/* Has a row a tool that is open, whether or not anything goes with it? */
static bool row_has_item(const struct joint_look *look, struct joint_row row)
{
	const struct joint_job *job = &look->model->jobs[row.job];
	for (uint32_t option = 0; option < job->option_count && row.need != JOINT_NONE; option++) {
		const struct joint_need *need = &job->options[option].needs[row.need];
		for (uint32_t way = 0; way < need->way_count; way++) {
			if (!joint_busy(&look->model->resources[need->ways[way].item], joint_tool_time(job))) {
				return true;
			}
		}
	}
	return false;
}

static void violator_fill(struct joint_look *look, struct arena *arena, const uint32_t *parts,
                          uint32_t part, struct joint_violator *out)
{
	bool items = false, with_item = false;
	struct joint_row *rows = arena_take(look->arena, look->row_count, sizeof *rows);
	uint32_t *resources = arena_take(look->arena, look->node_count, sizeof *resources);
	for (uint32_t row = 0; row < look->row_count; row++) {
		if (is_reached(look, row + 1) && parts[row + 1] == part) {
			with_item = with_item || row_has_item(look, look->rows[row]);
			rows[out->row_count++] = look->rows[row];
		}
	}
	for (uint32_t node = look->row_count + 1; node < look->node_count; node++) {
		if (is_cut(look, node) && parts[node] == part) {
			resources[out->resource_count++] = look->resource[node];
			items = items || !look->nodes[look->resource[node]].companion;
		}
	}
	out->companions_only = with_item && !items;
	out->rows = arena_grow(arena, rows, out->row_count, out->row_count, sizeof *rows);
	out->resources = arena_grow(arena, resources, out->resource_count, out->resource_count + 1,
	                            sizeof *resources);
}

static void violator_add(struct arena *arena, struct joint_violators *list,
                         const struct joint_violator *violator)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items = arena_grow(arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	list->items[list->count++] = *violator;
}

static void violators_take(struct joint_look *look, struct arena *arena, enum joint_group group,
                           int64_t moment, struct joint_violators *list)
{
	uint32_t *parts = parts_make(look, look->arena);
	uint8_t *done = arena_take(look->arena, look->node_count, 1);
	for (uint32_t node = 0; node < look->node_count; node++) {
		parts[node] = joint_part(parts, node);
	}
	for (uint32_t row = 0; row < look->row_count; row++) {
		uint32_t part = parts[row + 1];
		if (!is_reached(look, row + 1) || done[part]) {
			continue;
		}
		done[part] = 1;
		struct joint_violator violator = {.group = group, .moment = moment};
		violator_fill(look, arena, parts, part, &violator);
		violator_add(arena, list, &violator);
	}
}

void look_at(struct joint_look *look, struct arena *arena, enum joint_group group, int64_t moment,
             const uint32_t *jobs, uint32_t job_count, struct joint_chosen chosen,
             struct joint_violators *list)
{
	arena_reset(look->arena);
	look->stamp++;
	look->arcs = NULL;
	look->rows = NULL;
	look->first = look->resource = NULL;
	look->arc_count = look->arc_room = look->node_count = look->node_room = 0;
	look->row_count = look->row_room = 0;
	node_add(look, JOINT_NONE);
	rows_make(look, group, moment, jobs, job_count, chosen);
	for (uint32_t row = 0; row < look->row_count; row++) {
		row_join(look, row, chosen);
	}
	if (flow(look)) {
		violators_take(look, arena, group, moment, list);
	}
}
