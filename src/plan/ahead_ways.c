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

/* ---------------------------------------------------------------- judging */

/* Is a tool there, as far as that hangs on nothing but itself? */
enum suits there_of_itself(const struct question *question, const struct tool *tool, bool carries)
{
	struct span span = {.from = question->span.now,
	                    .until = question->span.now,
	                    .now = question->span.now};
	struct tool asked = *tool;
	asked.promise_count = 0;
	return tool_there(&asked, NULL, tool->press, span, question->limits, carries, NULL);
}

/* Does it hang on the job, its press or its time whether the tool is there? */
bool there_by_job(const struct tool *tool, bool carries)
{
	return tool->press_promise_count > 0 || tool->promise_count > 0 ||
	       (carries && tool->carries != NULL);
}

int64_t run_of_tool(const struct tool *tool)
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

uint8_t worse_of(enum suits a, enum suits b)
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
		.level = worse_of(suits, there),
		.deviation = rules->deviation != NULL ? rules->deviation(question, row, item) : 0,
		.run = run_of_tool(tool),
		.tag = tool->tag,
	};
	return true;
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

static void consider_all(const struct horizon *horizon, const struct question *question, size_t row,
                         struct ways *ways, struct candidates_for *out)
{
	enum joint_group group = ways->group;
	const struct shelf_index *index = &horizon->shelf.index[kind_of_group(group, false)];
	size_t begin, end;
	if (group == JOINT_DIES && question->cuts[row].die_id != 0) {
		consider_named(horizon, question, row, out);
		return;
	}
	if (group == JOINT_CYLINDERS) {
		cylinder_bounds(question, row, &ways->least, &ways->most);
	} else if (group == JOINT_ROLLS) {
		roll_keys_of(&question->printing[row], &ways->least, &ways->most);
	} else {
		die_bounds(question, &ways->least, &ways->most);
	}
	index_range(index, ways->least, ways->most, &begin, &end);
	out->items =
		arena_take(horizon->scratch, end - begin + index->unknown_count, sizeof *out->items);
	consider(question, group, row, index->items + begin, end - begin, out);
	consider(question, group, row, index->unknown, index->unknown_count, out);
}

void way_fill(struct horizon *horizon, const struct question *question, size_t press,
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
	consider_all(horizon, question, row, ways, &found);
	if (found.count > 1) {
		qsort(found.items, found.count, sizeof *found.items, judged_compare);
	}
	ways->count = (uint32_t)found.count;
	ways->list = arena_take(horizon->arena, found.count, sizeof *ways->list);
	for (size_t i = 0; i < found.count; i++) {
		way_fill(horizon, question, press, ways->group, &found.items[i], &ways->list[i],
		         &ways->by_job);
	}
	/* Only where some job looks at them anew: see ways_of_job. */
	if (found.count > 0 && (ways->by_job || horizon->promised)) {
		ways->judged = arena_take(horizon->arena, found.count, sizeof *ways->judged);
		memcpy(ways->judged, found.items, found.count * sizeof *ways->judged);
	}
}

struct ways *shared_ways_find(struct horizon *horizon, const struct question *question,
                              const struct horizon_job *job, size_t press, enum joint_group group,
                              size_t row)
{
	struct ways_key key = ways_key_of(horizon, question, job, press, group, row);
	struct ways **bucket = &horizon->ways->buckets[key_hash(&key)];
	for (struct ways *ways = *bucket; ways != NULL; ways = ways->next) {
		if (memcmp(&ways->key, &key, sizeof key) == 0) {
			return ways;
		}
	}
	struct ways *ways = arena_take(horizon->arena, 1, sizeof *ways);
	*ways = (struct ways){
		.key = key,
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
