/*
 * Tools for the needs of some jobs, sought to the end: each need takes one of its list, needs that
 * meet in time never the same. What has fewest left is decided first; what a choice takes from
 * others is looked at at once.
 */
#include <string.h>

#include "joint_inside.h"

/* A need, or the companion of one, and what it could take. */
struct asker {
	struct joint_time time;
	uint32_t need;
	const uint32_t *resources;
	uint32_t count;
	uint16_t *taken; /* by resource of the list: so often taken by others that meet it */
	uint32_t left;   /* not taken */
	uint32_t chosen; /* place in the list, or JOINT_NONE */
	uint32_t next;
};
/* Who asks for a resource, and where in its list it stands. */
struct asking_of {
	uint32_t asker, place, next;
};

struct colouring {
	struct arena *arena;
	struct asker *askers;
	uint32_t count;
	uint32_t *first; /* by resource: of its list of asking_of */
	struct asking_of *asking;
	uint32_t asking_count;
	uint64_t *steps, steps_most;
	/* Called where all have chosen; false: go on looking. NULL: that is all. */
	bool (*whole)(struct colouring *colouring, void *context);
	void *context;
};

/* ---------------------------------------------------------------- choosing */

static void asking_list(struct colouring *colouring, uint32_t resource_count)
{
	uint32_t room = 1;
	for (uint32_t i = 0; i < colouring->count; i++) {
		room += colouring->askers[i].count;
	}
	colouring->asking = arena_take(colouring->arena, room, sizeof *colouring->asking);
	colouring->first = arena_take(colouring->arena, resource_count + 1, sizeof *colouring->first);
	for (uint32_t i = 0; i < resource_count; i++) {
		colouring->first[i] = JOINT_NONE;
	}
	for (uint32_t i = 0; i < colouring->count; i++) {
		struct asker *asker = &colouring->askers[i];
		asker->taken = arena_take(colouring->arena, asker->count + 1, sizeof *asker->taken);
		asker->left = asker->count;
		asker->chosen = JOINT_NONE;
		for (uint32_t j = 0; j < asker->count; j++) {
			uint32_t resource = asker->resources[j];
			colouring->asking[colouring->asking_count] =
				(struct asking_of){i, j, colouring->first[resource]};
			colouring->first[resource] = colouring->asking_count++;
		}
	}
}

/* Takes a resource from all others that meet the asker, or gives it back; false: one has none left.
 */
static bool others_lose(struct colouring *colouring, uint32_t who, uint32_t resource, bool lose)
{
	const struct asker *asker = &colouring->askers[who];
	bool all_have = true;
	for (uint32_t at = colouring->first[resource]; at != JOINT_NONE;
	     at = colouring->asking[at].next) {
		struct asker *other = &colouring->askers[colouring->asking[at].asker];
		uint16_t *taken = &other->taken[colouring->asking[at].place];
		if (other == asker || !joint_meet(other->time, asker->time)) {
			continue;
		}
		if (lose) {
			other->left -= *taken == 0;
			++*taken;
			all_have = all_have && (other->left > 0 || other->chosen != JOINT_NONE);
		} else {
			--*taken;
			other->left += *taken == 0;
		}
	}
	return all_have;
}

static uint32_t hardest(const struct colouring *colouring)
{
	uint32_t best = JOINT_NONE;
	for (uint32_t i = 0; i < colouring->count; i++) {
		const struct asker *asker = &colouring->askers[i];
		if (asker->chosen == JOINT_NONE &&
		    (best == JOINT_NONE || asker->left < colouring->askers[best].left)) {
			best = i;
		}
	}
	return best;
}

static enum search_end choose(struct colouring *colouring)
{
	uint32_t who = hardest(colouring);
	if (who == JOINT_NONE) {
		bool whole = colouring->whole == NULL || colouring->whole(colouring, colouring->context);
		return whole ? SEARCH_FOUND : SEARCH_NONE;
	}
	struct asker *asker = &colouring->askers[who];
	for (uint32_t i = 0; i < asker->count; i++) {
		enum search_end end = SEARCH_NONE;
		if (asker->taken[i] > 0) {
			continue;
		}
		if (++*colouring->steps > colouring->steps_most) {
			return SEARCH_LEFT;
		}
		asker->chosen = i;
		if (others_lose(colouring, who, asker->resources[i], true)) {
			end = choose(colouring);
		}
		if (end == SEARCH_FOUND) {
			return end;
		}
		others_lose(colouring, who, asker->resources[i], false);
		asker->chosen = JOINT_NONE;
		if (end == SEARCH_LEFT) {
			return end;
		}
	}
	return SEARCH_NONE;
}

static enum search_end colour(struct colouring *colouring, uint32_t resource_count)
{
	asking_list(colouring, resource_count);
	for (uint32_t i = 0; i < colouring->count; i++) {
		if (colouring->askers[i].count == 0) {
			return SEARCH_NONE;
		}
	}
	return choose(colouring);
}

/* ---------------------------------------------------------------- needs and companions */

struct searching {
	struct joint_board *board;
	struct arena *arena;
	bool beside;
	uint8_t *ours;   /* by job: among those searched */
	uint32_t **ways; /* by asker: the way that each of its list is */
	uint64_t steps, steps_most;
	bool left;           /* of companions: not all was looked at */
	uint32_t *companion; /* by asker */
};

/* Does someone outside hold the resource then? */
static bool is_closed(const struct searching *searching, uint32_t resource, struct joint_time time)
{
	const struct joint_board *board = searching->board;
	const struct joint_holds *holds = &board->holds[resource];
	bool closed = joint_busy(&board->model->resources[resource], time);
	for (uint32_t i = 0; i < holds->count && searching->beside && !closed; i++) {
		closed = !searching->ours[board->job_of[holds->items[i].who]] &&
		         joint_meet(holds->items[i].time, time);
	}
	return closed;
}

/* The companions of a way that are open. */
static uint32_t companions_open(const struct searching *searching, const struct joint_way *way,
                                struct joint_time time, uint32_t *out)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < way->companion_count; i++) {
		if (!is_closed(searching, way->companions[i], time)) {
			if (out != NULL) {
				out[count] = way->companions[i];
			}
			count++;
		}
	}
	return count;
}

static struct asker asker_of_need(struct searching *searching, uint32_t need, uint32_t **ways)
{
	const struct joint_board *board = searching->board;
	const struct joint_need *of = board_need(board, need);
	struct asker asker = {.need = need};
	asker.time = joint_tool_time(&board->model->jobs[board->job_of[need]]);
	uint32_t *resources = arena_take(searching->arena, of->way_count + 1, sizeof *resources);
	*ways = arena_take(searching->arena, of->way_count + 1, sizeof **ways);
	for (uint32_t way = 0; way < of->way_count; way++) {
		if (is_closed(searching, of->ways[way].item, asker.time) ||
		    (of->ways[way].needs_companion &&
		     companions_open(searching, &of->ways[way], asker.time, NULL) == 0)) {
			continue;
		}
		resources[asker.count] = of->ways[way].item;
		(*ways)[asker.count++] = way;
	}
	asker.resources = resources;
	return asker;
}

/* All items are chosen: are there companions for them? */
static bool companions_choose(struct colouring *items, void *context)
{
	struct searching *searching = context;
	struct arena *arena = arena_new();
	struct colouring colouring = {.arena = arena,
	                              .steps = &searching->steps,
	                              .steps_most = searching->steps_most};
	uint32_t *of = arena_take(arena, items->count + 1, sizeof *of);
	colouring.askers = arena_take(arena, items->count + 1, sizeof *colouring.askers);
	for (uint32_t i = 0; i < items->count; i++) {
		const struct asker *item = &items->askers[i];
		const struct joint_way *way =
			&board_need(searching->board, item->need)->ways[searching->ways[i][item->chosen]];
		searching->companion[i] = JOINT_NONE;
		if (!way->needs_companion) {
			continue;
		}
		uint32_t *open = arena_take(arena, way->companion_count + 1, sizeof *open);
		struct asker *asker = &colouring.askers[colouring.count];
		*asker = (struct asker){.time = item->time, .need = item->need, .resources = open};
		asker->count = companions_open(searching, way, item->time, open);
		of[colouring.count++] = i;
	}
	enum search_end end = colour(&colouring, searching->board->model->resource_count);
	for (uint32_t i = 0; i < colouring.count && end == SEARCH_FOUND; i++) {
		const struct asker *asker = &colouring.askers[i];
		searching->companion[of[i]] = asker->resources[asker->chosen];
	}
	searching->left = searching->left || end == SEARCH_LEFT;
	arena_free(arena);
	return end == SEARCH_FOUND;
}

static void answer_put(struct searching *searching, const struct colouring *items)
{
	struct joint_board *board = searching->board;
	for (uint32_t i = 0; i < items->count; i++) {
		board_give(board, items->askers[i].need, (struct joint_given){JOINT_NONE, JOINT_NONE});
	}
	for (uint32_t i = 0; i < items->count; i++) {
		const struct asker *asker = &items->askers[i];
		board_give(board, asker->need,
		           (struct joint_given){searching->ways[i][asker->chosen],
		                                searching->companion[i]});
	}
}

enum search_end search_group(struct joint_board *board, enum joint_group group,
                             const uint32_t *jobs, uint32_t job_count, bool beside, uint64_t steps)
{
	struct arena *arena = arena_new();
	struct searching searching = {.board = board,
	                              .arena = arena,
	                              .beside = beside,
	                              .steps_most = steps};
	struct colouring items = {.arena = arena,
	                          .steps = &searching.steps,
	                          .steps_most = steps,
	                          .whole = companions_choose,
	                          .context = &searching};
	uint32_t room = 1;
	searching.ours = arena_take(arena, board->model->job_count + 1, 1);
	for (uint32_t i = 0; i < job_count; i++) {
		searching.ours[jobs[i]] = 1;
		room += board->model->jobs[jobs[i]].need_count;
	}
	items.askers = arena_take(arena, room, sizeof *items.askers);
	searching.ways = arena_take(arena, room, sizeof(uint32_t *));
	searching.companion = arena_take(arena, room, sizeof *searching.companion);
	for (uint32_t i = 0; i < job_count; i++) {
		for (uint32_t need = board->first_need[jobs[i]]; need < board->first_need[jobs[i] + 1];
		     need++) {
			if (board_need(board, need)->group == group) {
				items.askers[items.count] =
					asker_of_need(&searching, need, &searching.ways[items.count]);
				items.count++;
			}
		}
	}
	enum search_end end = colour(&items, board->model->resource_count);
	if (end == SEARCH_FOUND && beside) {
		answer_put(&searching, &items);
	}
	if (end == SEARCH_NONE && searching.left) {
		end = SEARCH_LEFT;
	}
	arena_free(arena);
	return end;
}
