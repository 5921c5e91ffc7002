/*
 * The whole shelf, loaded once for all jobs together: in order of the figures by which it is asked,
 * each tool a resource of the model, with the times when others have it.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

/* ---------------------------------------------------------------- tools by kind */

struct tool *shelf_tool(const struct whole_shelf *shelf, enum tool_kind kind, size_t item)
{
	const struct shelf *tools = &shelf->tools;
	switch (kind) {
	case TOOL_CYLINDER:
		return &tools->cylinders[item].tool;
	case TOOL_GEAR:
		return &tools->gears[item].tool;
	case TOOL_ROLL:
		return &tools->rolls[item].tool;
	case TOOL_BLADE:
		return &tools->blades[item].tool;
	case TOOL_DIE:
		return &tools->dies[item].tool;
	case TOOL_MAGNETIC_CYLINDER:
		return &tools->magnetic_cylinders[item].tool;
	}
	return NULL;
}

size_t kind_count(const struct shelf *tools, enum tool_kind kind)
{
	switch (kind) {
	case TOOL_CYLINDER:
		return tools->cylinder_count;
	case TOOL_GEAR:
		return tools->gear_count;
	case TOOL_ROLL:
		return tools->roll_count;
	case TOOL_BLADE:
		return tools->blade_count;
	case TOOL_DIE:
		return tools->die_count;
	case TOOL_MAGNETIC_CYLINDER:
		return tools->magnetic_cylinder_count;
	}
	return 0;
}

enum tool_kind resource_kind(const struct horizon *horizon, uint32_t resource, size_t *item)
{
	enum tool_kind kind = TOOL_CYLINDER;
	while (kind < TOOL_MAGNETIC_CYLINDER && resource >= horizon->shelf.first[kind + 1]) {
		kind++;
	}
	*item = resource - horizon->shelf.first[kind];
	return kind;
}

struct tool *resource_tool(const struct horizon *horizon, uint32_t resource)
{
	size_t item;
	enum tool_kind kind = resource_kind(horizon, resource, &item);
	return shelf_tool(&horizon->shelf, kind, item);
}

static int numbers_compare(const void *a, const void *b)
{
	const struct tool_number *x = a, *y = b;
	return (x->id > y->id) - (x->id < y->id);
}

uint32_t resource_of_tool(const struct horizon *horizon, int64_t id)
{
	const struct whole_shelf *shelf = &horizon->shelf;
	size_t count = shelf->first[TOOL_KINDS] - shelf->first[0];
	const struct tool_number wanted = {.id = id};
	const struct tool_number *found =
		count > 0 ? bsearch(&wanted, shelf->numbers, count, sizeof wanted, numbers_compare) : NULL;
	return found != NULL ? found->resource : JOINT_NONE;
}

/* ---------------------------------------------------------------- in order of a figure */

struct keyed {
	int64_t key;
	uint32_t item;
};

static int keyed_compare(const void *a, const void *b)
{
	const struct keyed *x = a, *y = b;
	if (x->key != y->key) {
		return x->key < y->key ? -1 : 1;
	}
	return (x->item > y->item) - (x->item < y->item);
}

bool index_key(const struct shelf *tools, enum tool_kind kind, size_t item, int64_t *key)
{
	const struct repeat *own = NULL;
	struct known_length length = {.known = false};
	switch (kind) {
	case TOOL_CYLINDER:
		own = &tools->cylinders[item].own;
		break;
	case TOOL_GEAR:
		own = &tools->gears[item].own;
		break;
	case TOOL_MAGNETIC_CYLINDER:
		own = &tools->magnetic_cylinders[item].own;
		break;
	case TOOL_ROLL:
		/* Screens are compared after rounding to 0.001. */
		if (tools->rolls[item].line_screen.known) {
			*key = llround(screen_to_per_cm(tools->rolls[item].line_screen.value) * 1000);
		}
		return tools->rolls[item].line_screen.known;
	case TOOL_BLADE:
		length = tools->blades[item].length;
		break;
	case TOOL_DIE:
		length = tools->dies[item].label_across;
		break;
	}
	if (own != NULL) {
		*key = own->known ? length_to_nm(real_round(repeat_length(*own))) : 0;
		return own->known;
	}
	*key = length.known ? length_to_nm(length.value) : 0;
	return length.known;
}

static void index_make(struct horizon *horizon, enum tool_kind kind)
{
	const struct shelf *tools = &horizon->shelf.tools;
	struct shelf_index *index = &horizon->shelf.index[kind];
	size_t count = kind_count(tools, kind);
	struct arena *arena = horizon->arena;
	struct keyed *keyed = arena_take(horizon->scratch, count, sizeof *keyed);
	index->unknown = arena_take(arena, count, sizeof *index->unknown);
	for (size_t item = 0; item < count; item++) {
		int64_t key;
		if (index_key(tools, kind, item, &key)) {
			keyed[index->count++] = (struct keyed){.key = key, .item = (uint32_t)item};
		} else {
			index->unknown[index->unknown_count++] = (uint32_t)item;
		}
	}
	if (index->count > 1) {
		qsort(keyed, index->count, sizeof *keyed, keyed_compare);
	}
	index->keys = arena_take(arena, index->count, sizeof *index->keys);
	index->items = arena_take(arena, index->count, sizeof *index->items);
	for (size_t i = 0; i < index->count; i++) {
		index->keys[i] = keyed[i].key;
		index->items[i] = keyed[i].item;
	}
}

/* The first whose key is not below. */
static size_t index_at(const struct shelf_index *index, int64_t key)
{
	size_t low = 0, high = index->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (index->keys[middle] < key) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	return low;
}

void index_range(const struct shelf_index *index, int64_t least, int64_t most, size_t *begin,
                 size_t *end)
{
	*begin = index_at(index, least);
	*end = most == INT64_MAX ? index->count : index_at(index, most + 1);
	*end = *end < *begin ? *begin : *end;
}

/* ---------------------------------------------------------------- rolls that wear */

#define SCREEN_STEPS 1000.0

void roll_keys_of(const struct station *station, int64_t *least, int64_t *most)
{
	*least = station->screen_min.known
	             ? (int64_t)(screen_to_per_cm(station->screen_min.value) * SCREEN_STEPS) - 1
	             : 0;
	*most = station->screen_max.known
	            ? (int64_t)(screen_to_per_cm(station->screen_max.value) * SCREEN_STEPS) + 2
	            : INT64_MAX;
}

bool some_roll_forecasts(const struct whole_shelf *shelf, const struct station *station)
{
	int64_t least, most;
	size_t begin, end;
	roll_keys_of(station, &least, &most);
	index_range(&shelf->index[TOOL_ROLL], least, most, &begin, &end);
	return shelf->unknown_forecasts || shelf->forecasts[end] > shelf->forecasts[begin];
}

static void forecasts_take(struct horizon *horizon)
{
	struct whole_shelf *shelf = &horizon->shelf;
	const struct shelf_index *index = &shelf->index[TOOL_ROLL];
	const struct anilox *rolls = shelf->tools.rolls;
	shelf->forecasts = arena_take(horizon->arena, index->count + 1, sizeof *shelf->forecasts);
	for (size_t i = 0; i < index->count; i++) {
		shelf->forecasts[i + 1] =
			shelf->forecasts[i] + (rolls[index->items[i]].forecast.known ? 1 : 0);
	}
	for (size_t i = 0; i < index->unknown_count; i++) {
		shelf->unknown_forecasts =
			shelf->unknown_forecasts || rolls[index->unknown[i]].forecast.known;
	}
}

/* ---------------------------------------------------------------- loading */

static enum outcome load_by_length(struct horizon *horizon)
{
	struct store *store = horizon->store;
	struct arena *arena = horizon->arena;
	struct shelf *tools = &horizon->shelf.tools;
	const struct length least = length_from_nm(0), most = length_from_nm(INT64_MAX);
	enum outcome outcome = store_cylinders(store, arena, 0, least, most, &tools->cylinders,
	                                       &tools->cylinder_count, horizon->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_gears(store, arena, 0, least, most, &tools->gears, &tools->gear_count,
		                      horizon->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_blades(store, arena, 0, least, most, &tools->blades, &tools->blade_count,
		                       horizon->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_dies(store, arena, 0, least, most, &tools->dies, &tools->die_count,
		                     horizon->fault);
	}
	return outcome == OUTCOME_DONE
	           ? store_magnetic_cylinders(store, arena, 0, least, most, &tools->magnetic_cylinders,
	                                      &tools->magnetic_cylinder_count, horizon->fault)
	           : outcome;
}

static enum outcome load_rolls(struct horizon *horizon)
{
	const struct roll_bounds all = {
		.screen_least = screen_from_per_cm(0),
		.screen_most = screen_from_per_cm(1e9),
		.volume_least = volume_from_micro(0),
		.volume_most = volume_from_micro(INT64_MAX),
	};
	struct shelf *tools = &horizon->shelf.tools;
	return store_rolls(horizon->store, horizon->arena, 0, &all, 1, length_from_nm(0), &tools->rolls,
	                   &tools->roll_count, horizon->fault);
}

static bool die_is_among(const struct shelf *tools, int64_t id)
{
	for (size_t i = 0; i < tools->die_count; i++) {
		if (tools->dies[i].tool.id == id) {
			return true;
		}
	}
	return false;
}

/* A die that a cut names is looked at whatever its size, and though it be scrapped. */
static enum outcome load_named_dies(struct horizon *horizon)
{
	struct shelf *tools = &horizon->shelf.tools;
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < horizon->job_count && outcome == OUTCOME_DONE; i++) {
		const struct horizon_job *job = &horizon->jobs[i];
		for (size_t j = 0; j < job->cut_count && outcome == OUTCOME_DONE; j++) {
			int64_t id = job->cuts[j].die_id;
			if (id == 0 || die_is_among(tools, id)) {
				continue;
			}
			tools->dies = arena_grow(horizon->arena, tools->dies, tools->die_count,
			                         tools->die_count + 1, sizeof *tools->dies);
			outcome = store_die(horizon->store, horizon->arena, 0, id,
			                    &tools->dies[tools->die_count++], horizon->fault);
		}
	}
	return outcome;
}

/* Room for one more of each kind, that is imagined. */
static void leave_room(struct horizon *horizon)
{
	struct shelf *tools = &horizon->shelf.tools;
	struct arena *arena = horizon->arena;
	tools->cylinders = arena_grow(arena, tools->cylinders, tools->cylinder_count,
	                              tools->cylinder_count + 1, sizeof *tools->cylinders);
	tools->gears = arena_grow(arena, tools->gears, tools->gear_count, tools->gear_count + 1,
	                          sizeof *tools->gears);
	tools->rolls = arena_grow(arena, tools->rolls, tools->roll_count, tools->roll_count + 1,
	                          sizeof *tools->rolls);
	tools->blades = arena_grow(arena, tools->blades, tools->blade_count, tools->blade_count + 1,
	                           sizeof *tools->blades);
	tools->dies =
		arena_grow(arena, tools->dies, tools->die_count, tools->die_count + 1, sizeof *tools->dies);
	tools->magnetic_cylinders =
		arena_grow(arena, tools->magnetic_cylinders, tools->magnetic_cylinder_count,
	               tools->magnetic_cylinder_count + 1, sizeof *tools->magnetic_cylinders);
}

static int counts_compare(const void *a, const void *b)
{
	int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
	return (x > y) - (x < y);
}

/* The lengths of web that blades have left, each once: runs between two of them ask alike. */
static void lives_take(struct horizon *horizon)
{
	struct whole_shelf *shelf = &horizon->shelf;
	size_t count = 0;
	shelf->lives = arena_take(horizon->arena, shelf->tools.blade_count, sizeof *shelf->lives);
	for (size_t i = 0; i < shelf->tools.blade_count; i++) {
		struct known_length left = blade_life_left(&shelf->tools.blades[i]);
		if (left.known) {
			shelf->lives[count++] = length_to_nm(left.value);
		}
	}
	if (count > 1) {
		qsort(shelf->lives, count, sizeof *shelf->lives, counts_compare);
	}
	for (size_t i = 0; i < count; i++) {
		if (shelf->life_count == 0 || shelf->lives[i] != shelf->lives[shelf->life_count - 1]) {
			shelf->lives[shelf->life_count++] = shelf->lives[i];
		}
	}
}

/* Presses that tools stand at are asked what runs on them, retired or not. */
static enum outcome presses_of_tools(struct horizon *horizon)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t kind = 0; kind < TOOL_KINDS; kind++) {
		size_t count = kind_count(&horizon->shelf.tools, (enum tool_kind)kind);
		for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
			const struct tool *tool = shelf_tool(&horizon->shelf, (enum tool_kind)kind, i);
			size_t press;
			if (tool->press != 0) {
				outcome = horizon_press_of(horizon, tool->press, &press);
			}
		}
	}
	return outcome;
}

static void number_resources(struct horizon *horizon)
{
	struct whole_shelf *shelf = &horizon->shelf;
	uint32_t next = (uint32_t)horizon->press_count;
	for (size_t kind = 0; kind < TOOL_KINDS; kind++) {
		shelf->first[kind] = next;
		next += (uint32_t)kind_count(&shelf->tools, (enum tool_kind)kind);
	}
	shelf->first[TOOL_KINDS] = next;
	size_t count = next - shelf->first[0];
	shelf->numbers = arena_take(horizon->arena, count, sizeof *shelf->numbers);
	for (uint32_t i = 0; i < count; i++) {
		uint32_t resource = shelf->first[0] + i;
		shelf->numbers[i] =
			(struct tool_number){.id = resource_tool(horizon, resource)->id, .resource = resource};
	}
	if (count > 1) {
		qsort(shelf->numbers, count, sizeof *shelf->numbers, numbers_compare);
	}
	shelf->away =
		arena_take(horizon->arena, (size_t)next + 1, sizeof(const struct joint_resource *));
}

enum outcome whole_shelf_load(struct horizon *horizon)
{
	enum outcome outcome = load_by_length(horizon);
	if (outcome == OUTCOME_DONE) {
		outcome = load_rolls(horizon);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = load_named_dies(horizon);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = presses_of_tools(horizon);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	leave_room(horizon);
	for (size_t kind = 0; kind < TOOL_KINDS; kind++) {
		index_make(horizon, (enum tool_kind)kind);
		arena_reset(horizon->scratch);
	}
	forecasts_take(horizon);
	lives_take(horizon);
	number_resources(horizon);
	return OUTCOME_DONE;
}
