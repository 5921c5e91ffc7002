/*
 * What would do for a need: the tools near what is asked, judged by the predicates of the check
 * once for all needs that ask the same. What hangs on the job itself (plates that are its own, a
 * tool that stands at a press where another job runs by then) is judged job by job.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

const struct group_rules *rules_of_group(enum joint_group group)
{
	static const struct group_rules *const rules[] = {
		[JOINT_CYLINDERS] = &cylinder_rules,
		[JOINT_ROLLS] = &roll_rules,
		[JOINT_DIES] = &die_rules,
		[JOINT_PRESS] = NULL,
	};
	return rules[group];
}

enum tool_kind kind_of_group(enum joint_group group, bool companion)
{
	switch (group) {
	case JOINT_CYLINDERS:
		return companion ? TOOL_GEAR : TOOL_CYLINDER;
	case JOINT_ROLLS:
		return companion ? TOOL_BLADE : TOOL_ROLL;
	case JOINT_DIES:
	case JOINT_PRESS:
		break;
	}
	return companion ? TOOL_MAGNETIC_CYLINDER : TOOL_DIE;
}

const char *need_of_group(enum joint_group group, bool companion)
{
	const struct group_rules *rules = rules_of_group(group);
	return rules == NULL ? "press" : companion ? rules->companion_need : rules->item_need;
}

/* ---------------------------------------------------------------- what is asked, as a key */

struct key_maker {
	struct ways_key key;
	size_t count;
};

static void key_add(struct key_maker *maker, int64_t part)
{
	maker->key.part[maker->count++] = part;
}

static void key_add_length(struct key_maker *maker, struct known_length length)
{
	key_add(maker, length.known ? length_to_nm(length.value) : INT64_MIN);
}

/* As finely as screens are compared; what is derived from one is no coarser. */
static void key_add_screen(struct key_maker *maker, struct known_screen screen)
{
	int64_t bits = INT64_MIN;
	double per_cm = screen_to_per_cm(screen.value);
	if (screen.known) {
		memcpy(&bits, &per_cm, sizeof bits);
	}
	key_add(maker, bits);
}

static void key_add_repeat(struct key_maker *maker, struct repeat repeat)
{
	key_add(maker, repeat.known);
	key_add(maker, repeat.known && repeat.toothed);
	if (!repeat.known || !repeat.toothed) {
		key_add(maker, repeat.known ? length_to_nm(repeat.plain) : 0);
		return;
	}
	key_add(maker, repeat.teeth);
	key_add(maker, (int64_t)repeat.pitch.system);
	key_add(maker, repeat.pitch.numerator);
	key_add(maker, repeat.pitch.denominator);
}

static void key_of_cylinders(struct key_maker *maker, const struct question *question,
                             const struct horizon_press *press, size_t row)
{
	const struct station *station = &question->printing[row];
	key_add(maker, press->traits);
	key_add(maker, station->registered);
	key_add_length(maker, station->plate);
	key_add_length(maker, station->tape);
	key_add_length(maker, question->layout.printed_width);
	if (station->registered) {
		key_add_repeat(maker, question->layout.repeat);
	}
}

/* Runs between the same lives that blades have left ask the same of them. */
static int64_t class_of_run(const struct horizon *horizon, struct known_length run)
{
	const struct whole_shelf *shelf = &horizon->shelf;
	size_t low = 0, high = shelf->life_count;
	if (!run.known) {
		return -1;
	}
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (shelf->lives[middle] < length_to_nm(run.value)) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	return (int64_t)low;
}

static void key_of_rolls(const struct horizon *horizon, struct key_maker *maker,
                         const struct question *question, const struct horizon_press *press,
                         size_t row)
{
	const struct station *station = &question->printing[row];
	key_add(maker, press->fit);
	key_add(maker, class_of_run(horizon, question->layout.run));
	key_add_screen(maker, station->screen_min);
	key_add_screen(maker, station->screen_max);
	key_add_screen(maker, station->plate_screen);
	key_add(maker, station->volume.known ? volume_to_micro(station->volume.value) : INT64_MIN);
	struct value tolerance = {.type = VALUE_PERCENT,
	                          .known = true,
	                          .percent = station->volume_tolerance.value};
	key_add(maker, station->volume_tolerance.known ? value_to_stored(&tolerance) : INT64_MIN);
	key_add_length(maker, question->layout.printed_width);
}

/* Of dies little is shared between jobs, but much between the presses of one. */
static void key_of_dies(const struct horizon *horizon, struct key_maker *maker,
                        const struct question *question, const struct horizon_job *job,
                        const struct horizon_press *press, size_t row)
{
	const struct known_count around = question->layout.number_around;
	key_add(maker, press->traits);
	key_add(maker, job - horizon->jobs);
	key_add(maker, (int64_t)row);
	key_add(maker, around.known ? around.value : -1);
	key_add_repeat(maker, question->layout.repeat);
}

static uint64_t key_hash(const struct ways_key *key)
{
	/* FNV-1a, G. Fowler, L. C. Noll, K.-P. Vo; by words. */
	uint64_t hash = 14695981039346656037U;
	for (size_t i = 0; i < KEY_PARTS; i++) {
		hash = (hash ^ (uint64_t)key->part[i]) * 1099511628211U;
		hash ^= hash >> 29;
	}
	return hash % WAYS_BUCKETS;
}

/* ---------------------------------------------------------------- judging */

/* Is a tool there, as far as that hangs on nothing but itself? */
static enum suits there_of_itself(const struct question *question, const struct tool *tool,
                                  bool carries)
{
	struct span span = {.from = question->span.now,
	                    .until = question->span.now,
	                    .now = question->span.now};
	return tool_there(tool, NULL, tool->press, span, question->limits, carries, NULL);
}

/* Does it hang on the job, its press or its time whether the tool is there? */
static bool there_by_job(const struct tool *tool, bool carries)
{
	return tool->press_promise_count > 0 || (carries && tool->carries != NULL);
}

static int64_t run_of(const struct tool *tool)
{
	return tool->run.known ? length_to_nm(tool->run.value) : 0;
}

int judged_compare(const void *a, const void *b)
{
	const struct judged *x = a, *y = b;
	if (x->preferred != y->preferred) {
		return x->preferred ? -1 : 1;
	}
	if ((x->level == SUITS_DOUBTFUL) != (y->level == SUITS_DOUBTFUL)) {
		return x->level == SUITS_DOUBTFUL ? 1 : -1;
	}
	if (x->deviation != y->deviation) {
		return x->deviation < y->deviation ? -1 : 1;
	}
	if (x->run != y->run) {
		return x->run < y->run ? -1 : 1;
	}
	return tag_compare(x->tag, y->tag);
}

static uint8_t worse(enum suits a, enum suits b)
{
	return (uint8_t)(a > b ? a : b);
}

bool ways_judge(const struct question *question, enum joint_group group, size_t row, size_t item,
                struct judged *out)
{
	const struct group_rules *rules = rules_of_group(group);
	enum suits suits = rules->item_suits(question, row, item, NULL);
	if (suits == SUITS_NOT) {
		return false;
	}
	const struct tool *tool = rules->item_tool(question, item);
	enum suits there = there_of_itself(question, tool, group == JOINT_CYLINDERS);
	if (there == SUITS_NOT) {
		return false;
	}
	*out = (struct judged){
		.item = (uint32_t)item,
		.suits = (uint8_t)suits,
		.level = worse(suits, there),
		.deviation = rules->deviation != NULL ? rules->deviation(question, row, item) : 0,
		.run = run_of(tool),
		.tag = tool->tag,
	};
	return true;
}

/* ---------------------------------------------------------------- what goes with a tool */

struct companion_list {
	struct judged *items;
	size_t count;
	bool by_job;
};

static void companions_judge(const struct horizon *horizon, const struct question *question,
                             enum joint_group group, size_t item, int64_t least, int64_t most,
                             struct companion_list *list)
{
	const struct group_rules *rules = rules_of_group(group);
	const struct shelf_index *index = &horizon->shelf.index[kind_of_group(group, true)];
	size_t begin, end;
	index_range(index, least, most, &begin, &end);
	list->items = arena_take(horizon->scratch, end - begin, sizeof *list->items);
	for (size_t i = begin; i < end; i++) {
		uint32_t companion = index->items[i];
		enum suits level = rules->companion_suits(question, item, companion, NULL);
		const struct tool *tool = rules->companion_tool(question, companion);
		enum suits there = level != SUITS_NOT ? there_of_itself(question, tool, false) : SUITS_NOT;
		if (there == SUITS_NOT) {
			continue;
		}
		list->by_job = list->by_job || there_by_job(tool, false);
		list->items[list->count++] = (struct judged){.item = companion,
		                                             .level = worse(level, there),
		                                             .run = run_of(tool),
		                                             .tag = tool->tag};
	}
	if (list->count > 1) {
		qsort(list->items, list->count, sizeof *list->items, judged_compare);
	}
}

/* Where the lengths that a companion must have lie; false where the tool tells none. */
static bool companion_bounds(const struct question *question, enum joint_group group, size_t item,
                             int64_t *least, int64_t *most)
{
	const struct shelf *shelf = question->shelf;
	const struct repeat *own =
		group == JOINT_CYLINDERS ? &shelf->cylinders[item].own : &shelf->dies[item].own;
	if (group == JOINT_ROLLS) {
		const struct known_length face = shelf->rolls[item].tool.face;
		int64_t match = length_to_nm(question->limits->blade_length_match);
		*least = face.known ? length_to_nm(face.value) - match : 0;
		*most = face.known ? length_to_nm(face.value) + match : 0;
		return face.known;
	}
	/* Teeth and pitch are the same: so is the length, to the nanometre that it is kept in. */
	int64_t length = own->known ? length_to_nm(real_round(repeat_length(*own))) : 0;
	*least = length - 1;
	*most = length + 1;
	return own->known;
}

/* What is asked of a companion: of a blade by the roll's face, of others by the tool itself. */
static struct ways_key companion_key(const struct horizon *horizon, const struct question *question,
                                     const struct horizon_press *press, enum joint_group group,
                                     size_t item)
{
	struct key_maker maker = {.count = 0};
	key_add(&maker, (int64_t)group + 1);
	if (group == JOINT_ROLLS) {
		key_add(&maker, press->fit);
		key_add(&maker, class_of_run(horizon, question->layout.run));
		key_add_length(&maker, question->shelf->rolls[item].tool.face);
	} else {
		key_add(&maker, press->traits);
		key_add(&maker, (int64_t)item);
	}
	return maker.key;
}

const struct companions *companions_find(struct horizon *horizon, const struct question *question,
                                         size_t press, enum joint_group group, size_t item)
{
	struct ways_key key = companion_key(horizon, question, &horizon->presses[press], group, item);
	struct companion_set **bucket = &horizon->ways->sets[key_hash(&key)];
	for (struct companion_set *set = *bucket; set != NULL; set = set->next) {
		if (memcmp(&set->key, &key, sizeof key) == 0) {
			return &set->set;
		}
	}
	struct companion_set *set = arena_take(horizon->arena, 1, sizeof *set);
	struct companion_list list = {.count = 0};
	int64_t least, most;
	set->key = key;
	set->next = *bucket;
	*bucket = set;
	if (companion_bounds(question, group, item, &least, &most)) {
		companions_judge(horizon, question, group, item, least, most, &list);
	}
	set->set.by_job = list.by_job;
	set->set.count = (uint32_t)list.count;
	set->set.list = arena_take(horizon->arena, list.count, sizeof *set->set.list);
	uint32_t first = horizon->shelf.first[kind_of_group(group, true)];
	for (size_t i = 0; i < list.count; i++) {
		set->set.list[i] = first + list.items[i].item;
	}
	return &set->set;
}

/* ---------------------------------------------------------------- what would do for a row */

struct candidates_for {
	struct judged *items;
	size_t count;
};

static void consider(const struct question *question, enum joint_group group, size_t row,
                     const uint32_t *items, size_t count, struct candidates_for *out)
{
	for (size_t i = 0; i < count; i++) {
		if (ways_judge(question, group, row, items[i], &out->items[out->count])) {
			out->count++;
		}
	}
}

/* A length kept in whole nanometres may be half of one beside what teeth and pitch come to. */
#define HAIR_NM 1000
#define SCREEN_STEPS 1000.0

static void cylinder_bounds(const struct question *question, size_t row, int64_t *least,
                            int64_t *most)
{
	const struct press *press = &question->press->press;
	*least = 0;
	*most = -1;
	if (!question->printing[row].registered) {
		*least = press->repeat_min.known ? length_to_nm(press->repeat_min.value) - HAIR_NM : 0;
		*most = press->repeat_max.known ? length_to_nm(press->repeat_max.value) + HAIR_NM : 0;
	} else if (question->layout.repeat.known) {
		int64_t repeat = length_to_nm(real_round(repeat_length(question->layout.repeat)));
		int64_t match = length_to_nm(question->limits->repeat_match) + HAIR_NM;
		*least = repeat - match;
		*most = repeat + match;
	}
}

static void roll_bounds(const struct station *station, int64_t *least, int64_t *most)
{
	*least = station->screen_min.known
	             ? (int64_t)(screen_to_per_cm(station->screen_min.value) * SCREEN_STEPS) - 1
	             : 0;
	*most = station->screen_max.known
	            ? (int64_t)(screen_to_per_cm(station->screen_max.value) * SCREEN_STEPS) + 2
	            : INT64_MAX;
}

static void die_bounds(const struct question *question, int64_t *least, int64_t *most)
{
	struct known_length asked = question->layout.label_across;
	int64_t match = length_to_nm(question->limits->die_match);
	*least = asked.known ? length_to_nm(asked.value) - match : 0;
	*most = asked.known ? length_to_nm(asked.value) + match : INT64_MAX;
}

/* A die that the cut names, whatever its size. */
static void consider_named(const struct horizon *horizon, const struct question *question,
                           size_t row, struct candidates_for *out)
{
	uint32_t resource = resource_of_tool(horizon, question->cuts[row].die_id);
	size_t item;
	if (resource != JOINT_NONE && resource_kind(horizon, resource, &item) == TOOL_DIE) {
		const uint32_t named = (uint32_t)item;
		out->items = arena_take(horizon->scratch, 1, sizeof *out->items);
		consider(question, JOINT_DIES, row, &named, 1, out);
	}
}

static void consider_all(const struct horizon *horizon, const struct question *question,
                         enum joint_group group, size_t row, struct candidates_for *out)
{
	const struct shelf_index *index = &horizon->shelf.index[kind_of_group(group, false)];
	int64_t least, most;
	size_t begin, end;
	if (group == JOINT_DIES && question->cuts[row].die_id != 0) {
		consider_named(horizon, question, row, out);
		return;
	}
	if (group == JOINT_CYLINDERS) {
		cylinder_bounds(question, row, &least, &most);
	} else if (group == JOINT_ROLLS) {
		roll_bounds(&question->printing[row], &least, &most);
	} else {
		die_bounds(question, &least, &most);
	}
	index_range(index, least, most, &begin, &end);
	out->items =
		arena_take(horizon->scratch, end - begin + index->unknown_count, sizeof *out->items);
	consider(question, group, row, index->items + begin, end - begin, out);
	consider(question, group, row, index->unknown, index->unknown_count, out);
}

static void way_fill(struct horizon *horizon, const struct question *question, size_t press,
                     enum joint_group group, const struct judged *judged, struct joint_way *way,
                     bool *by_job)
{
	const struct group_rules *rules = rules_of_group(group);
	const struct tool *tool = rules->item_tool(question, judged->item);
	way->item = horizon->shelf.first[kind_of_group(group, false)] + judged->item;
	way->doubtful = judged->level == SUITS_DOUBTFUL;
	way->needs_companion = rules->needs_companion(question, judged->item);
	*by_job = *by_job || there_by_job(tool, group == JOINT_CYLINDERS);
	if (way->needs_companion) {
		const struct companions *set =
			companions_find(horizon, question, press, group, judged->item);
		way->companions = set->list;
		way->companion_count = set->count;
		*by_job = *by_job || set->by_job;
	}
}

static void ways_fill(struct horizon *horizon, const struct question *question, size_t press,
                      size_t row, struct ways *ways)
{
	struct candidates_for found = {.count = 0};
	consider_all(horizon, question, ways->group, row, &found);
	if (found.count > 1) {
		qsort(found.items, found.count, sizeof *found.items, judged_compare);
	}
	ways->count = (uint32_t)found.count;
	ways->list = arena_take(horizon->arena, found.count, sizeof *ways->list);
	for (size_t i = 0; i < found.count; i++) {
		way_fill(horizon, question, press, ways->group, &found.items[i], &ways->list[i],
		         &ways->by_job);
	}
	ways->judged = arena_take(horizon->arena, found.count, sizeof *ways->judged);
	if (found.count > 0) {
		memcpy(ways->judged, found.items, found.count * sizeof *ways->judged);
	}
}

struct ways *ways_find(struct horizon *horizon, const struct question *question,
                       const struct horizon_job *job, size_t press, enum joint_group group,
                       size_t row)
{
	struct key_maker maker = {.count = 0};
	const struct horizon_press *at = &horizon->presses[press];
	key_add(&maker, (int64_t)group + 1);
	if (group == JOINT_CYLINDERS) {
		key_of_cylinders(&maker, question, at, row);
	} else if (group == JOINT_ROLLS) {
		key_of_rolls(horizon, &maker, question, at, row);
	} else {
		key_of_dies(horizon, &maker, question, job, at, row);
	}
	struct ways **bucket = &horizon->ways->buckets[key_hash(&maker.key)];
	for (struct ways *ways = *bucket; ways != NULL; ways = ways->next) {
		if (memcmp(&ways->key, &maker.key, sizeof maker.key) == 0) {
			return ways;
		}
	}
	struct ways *ways = arena_take(horizon->arena, 1, sizeof *ways);
	*ways = (struct ways){
		.key = maker.key,
		.next = *bucket,
		.group = group,
		.job = (size_t)(job - horizon->jobs),
		.row = row,
		.press = press,
		.candidate = {.repeat = question->layout.repeat,
	                  .number_around = question->layout.number_around.known
	                                       ? question->layout.number_around.value
	                                       : 0},
	};
	*bucket = ways;
	ways_fill(horizon, question, press, row, ways);
	return ways;
}
