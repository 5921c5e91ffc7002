/*
 * What goes with a tool: gears with a cylinder, blades with a roll, magnetic cylinders with a die;
 * judged once for all that ask the same.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

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
		                                             .level = worse_of(level, there),
		                                             .run = run_of_tool(tool),
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

void companions_of(struct horizon *horizon, const struct question *question, enum joint_group group,
                   size_t item, struct arena *arena, struct companions *out)
{
	struct companion_list list = {.count = 0};
	int64_t least, most;
	if (companion_bounds(question, group, item, &least, &most)) {
		companions_judge(horizon, question, group, item, least, most, &list);
	}
	out->by_job = list.by_job;
	out->count = (uint32_t)list.count;
	/* Room for one more, so that no two lists are at one place: lists are told apart by it. */
	out->list = arena_take(arena, list.count + 1, sizeof *out->list);
	uint32_t first = horizon->shelf.first[kind_of_group(group, true)];
	for (size_t i = 0; i < list.count; i++) {
		out->list[i] = first + list.items[i].item;
	}
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
	*set = (struct companion_set){
		.key = key,
		.next = *bucket,
		.group = group,
		.item = item,
		.press = press,
		.run = question->layout.run,
	};
	*bucket = set;
	companions_of(horizon, question, group, item, horizon->arena, &set->set);
	return &set->set;
}
