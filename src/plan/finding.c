/* Findings: one a need and station, with what was wanted, what was had, and the near misses. */
#include <stdlib.h>
#include <string.h>

#include "internal.h"
#include "words.h"

#define NEAR_MOST 5 /* near misses named in one finding */

/* ---------------------------------------------------------------- the list */

static struct finding *finding_of(const struct finding_list *list, const char *need,
                                  int64_t station, int64_t cut)
{
	for (size_t i = 0; i < list->count; i++) {
		struct finding *finding = &list->items[i];
		if (strcmp(finding->need, need) == 0 && finding->station == station &&
		    finding->cut == cut) {
			return finding;
		}
	}
	return NULL;
}

struct finding *finding_add(struct finding_list *list, const char *need, int64_t station,
                            int64_t cut, enum finding_level level, const char *text)
{
	struct finding *finding = finding_of(list, need, station, cut);
	if (finding != NULL) {
		finding->level = level > finding->level ? level : finding->level;
		finding->text = arena_format(list->arena, "%s; %s", finding->text, text);
		return finding;
	}
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items = arena_grow(list->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	finding = &list->items[list->count++];
	*finding = (struct finding){.need = need,
	                            .station = station,
	                            .cut = cut,
	                            .level = level,
	                            .wanted = 1,
	                            .text = text};
	return finding;
}

static struct finding *row_finding(const struct question *question, const struct group_rules *rules,
                                   size_t row, const char *need, enum finding_level level,
                                   const char *text, struct finding_list *list)
{
	int64_t number = rules->row_number(question, row);
	return finding_add(list, need, rules->rows_are_cuts ? 0 : number,
	                   rules->rows_are_cuts ? number : 0, level, text);
}

/* ---------------------------------------------------------------- near misses */

/* A tool that would not do, how many rules it breaks, and when that ends of itself. */
struct miss {
	struct tag tag;
	bool suits; /* it would do, but is not there */
	size_t broken;
	struct known_moment until;
	const char *text;
};

static int miss_compare(const void *a, const void *b)
{
	const struct miss *x = a, *y = b;
	if (x->suits != y->suits) {
		return x->suits ? -1 : 1;
	}
	if (x->broken != y->broken) {
		return x->broken < y->broken ? -1 : 1;
	}
	return tag_compare(x->tag, y->tag);
}

static struct miss miss_of(struct arena *arena, const struct tool *tool, bool suits,
                           const struct remarks *remarks)
{
	struct miss miss = {.tag = tool->tag, .suits = suits};
	struct text reasons = text_start(arena);
	bool ends = true;
	for (size_t i = 0; i < remarks->count; i++) {
		const struct remark *remark = &remarks->items[i];
		if (remark->level != SUITS_NOT) {
			continue;
		}
		miss.broken++;
		text_join(&reasons, " and ", remark->text);
		ends = ends && remark->until.known;
		if (remark->until.known &&
		    (!miss.until.known || moment_compare(remark->until.value, miss.until.value) > 0)) {
			miss.until = remark->until;
		}
	}
	miss.until.known = miss.until.known && ends;
	miss.text = arena_format(arena, "%s %s", tag_shown(tool->tag).bytes, reasons.bytes);
	return miss;
}

static const char nearest_joint[] = "; nearest: ";

/*
 * Adds the nearest of the misses to a finding's text, behind a joint, and to its tools where it has
 * none.
 */
static void finding_add_misses(struct arena *arena, struct finding *finding, const char *joint,
                               struct miss *misses, size_t count)
{
	struct text nearest = text_start(arena);
	bool tools_too = finding->tool_count == 0;
	if (count == 0) {
		return;
	}
	qsort(misses, count, sizeof *misses, miss_compare);
	size_t shown = count < NEAR_MOST ? count : NEAR_MOST;
	struct tag *tags = arena_take(arena, shown, sizeof *tags);
	for (size_t i = 0; i < shown; i++) {
		tags[i] = misses[i].tag;
		text_join(&nearest, "; ", misses[i].text);
		if (misses[i].until.known &&
		    (!finding->until.known ||
		     moment_compare(misses[i].until.value, finding->until.value) < 0)) {
			finding->until = misses[i].until;
		}
	}
	if (tools_too) {
		finding->tools = tags;
		finding->tool_count = shown;
	}
	finding->text = arena_format(arena, "%s%s%s", finding->text, joint, nearest.bytes);
}

/*
 * The nearest of many, gathered one by one: what a tool breaks is told only of those that may still
 * be among them.
 */
struct misses {
	struct miss items[NEAR_MOST];
	size_t count;
};

/* Could a tool of that sort, that breaks one rule at least, still be among the nearest? */
static bool miss_is_near(const struct misses *misses, struct tag tag, bool suits)
{
	struct miss least = {.tag = tag, .suits = suits, .broken = 1};
	return misses->count < NEAR_MOST || miss_compare(&least, &misses->items[NEAR_MOST - 1]) < 0;
}

static void miss_add(struct misses *misses, struct miss miss)
{
	size_t at = misses->count < NEAR_MOST ? misses->count++ : NEAR_MOST;
	while (at > 0 && miss_compare(&miss, &misses->items[at - 1]) < 0) {
		if (at < NEAR_MOST) {
			misses->items[at] = misses->items[at - 1];
		}
		at--;
	}
	if (at < NEAR_MOST) {
		misses->items[at] = miss;
	}
}

/* All that was loaded is looked through, not only what suits. */
static void add_item_misses(const struct question *narrow, const struct group *group, size_t row,
                            struct finding *finding)
{
	const struct group_rules *rules = group->rules;
	struct question whole = *narrow;
	const struct question *question = &whole;
	struct misses misses = {.count = 0};
	whole.shelf = narrow->whole;
	size_t named = rules->named_item != NULL ? rules->named_item(question, row) : ASSIGNED_NONE;
	size_t count = rules->item_count(question);
	for (size_t item = 0; item < count; item++) {
		struct remarks remarks = {.count = 0};
		const struct tool *tool = rules->item_tool(question, item);
		/* Where the job names one, the others are nobody's near misses. */
		if (named != ASSIGNED_NONE && item != named) {
			continue;
		}
		bool suits = rules->item_suits(question, row, item, NULL) != SUITS_NOT;
		if (miss_is_near(&misses, tool->tag, suits) &&
		    group_item_remarks(question, rules, row, item, &remarks) == SUITS_NOT) {
			miss_add(&misses, miss_of(question->arena, tool, suits, &remarks));
		}
	}
	if (named != ASSIGNED_NONE && misses.count > 0) {
		finding->text = arena_format(question->arena, "the %s that the job names does not do",
		                             rules->item_words);
	}
	finding_add_misses(question->arena, finding, named != ASSIGNED_NONE ? ": " : nearest_joint,
	                   misses.items, misses.count);
}

static void add_companion_misses(const struct question *narrow, const struct group *group,
                                 size_t item, struct finding *finding)
{
	const struct group_rules *rules = group->rules;
	struct question whole = *narrow;
	struct misses misses = {.count = 0};
	struct shelf shelf = *narrow->whole;
	/* The item is that of the narrow shelf: only the companions are those of the whole. */
	shelf.cylinders = narrow->shelf->cylinders;
	shelf.rolls = narrow->shelf->rolls;
	shelf.dies = narrow->shelf->dies;
	whole.shelf = &shelf;
	size_t count = rules->companion_count(&whole);
	for (size_t i = 0; i < count; i++) {
		struct remarks remarks = {.count = 0};
		const struct tool *tool = rules->companion_tool(&whole, i);
		bool suits = rules->companion_suits(&whole, item, i, NULL) != SUITS_NOT;
		if (miss_is_near(&misses, tool->tag, suits) &&
		    group_companion_remarks(&whole, rules, item, i, &remarks) == SUITS_NOT) {
			miss_add(&misses, miss_of(whole.arena, tool, suits, &remarks));
		}
	}
	finding_add_misses(whole.arena, finding, nearest_joint, misses.items, misses.count);
}

/* ---------------------------------------------------------------- those that compete */

/* A bipartite graph of rows and the tools that would do, with the row that the choice left out. */
struct competition {
	const struct group_rules *rules;
	const char *tools_words, *tool_words;
	struct tool *(*tool_of)(const struct question *question, size_t index);
	size_t rows, tools;
	const size_t *row_of; /* by row here: the row of the group */
	uint8_t *allowed;     /* rows x tools */
	size_t *match;        /* by row */
};

static void take_members(const struct question *question, const struct competition *competition,
                         const uint8_t *in_rows, const uint8_t *in_tools, struct finding *finding)
{
	finding->stations = arena_take(question->arena, competition->rows, sizeof *finding->stations);
	finding->tools = arena_take(question->arena, competition->tools, sizeof *finding->tools);
	for (size_t i = 0; i < competition->rows; i++) {
		if (in_rows[i]) {
			finding->stations[finding->station_count++] =
				competition->rules->row_number(question, competition->row_of[i]);
		}
	}
	for (size_t i = 0; i < competition->tools; i++) {
		if (in_tools[i]) {
			finding->tools[finding->tool_count++] = competition->tool_of(question, i)->tag;
		}
	}
	finding->wanted = (int64_t)finding->station_count;
	finding->have = (int64_t)finding->tool_count;
}

/* The finding of a row left out: who competes for what, or that nothing would do. */
static struct finding *finding_left_out(const struct question *question,
                                        const struct competition *competition, size_t left_out,
                                        const char *need, struct finding_list *list)
{
	struct arena *arena = question->arena;
	uint8_t *in_rows = arena_take(arena, competition->rows, 1);
	uint8_t *in_tools = arena_take(arena, competition->tools, 1);
	struct finding competing = {0};
	matching_hall_set(arena, competition->rows, competition->tools, competition->allowed,
	                  competition->match, left_out, in_rows, in_tools);
	take_members(question, competition, in_rows, in_tools, &competing);

	const char *text;
	bool cuts = competition->rules->rows_are_cuts;
	if (competing.tool_count == 0) {
		text = arena_format(arena, "no %s suits and is there", competition->tool_words);
	} else {
		text =
			arena_format(arena, "%s compete for %lld %s: %s",
		                 words_of_numbers(arena, cuts ? "cut" : "station", competing.stations,
		                                  competing.station_count),
		                 (long long)competing.have,
		                 competing.have == 1 ? competition->tool_words : competition->tools_words,
		                 words_of_tags(arena, competing.tools, competing.tool_count));
	}
	struct finding *finding =
		row_finding(question, competition->rules, competition->row_of[left_out], need,
	                FINDING_SHORT, text, list);
	finding->wanted = competing.wanted;
	finding->have = competing.have;
	finding->tools = competing.tools;
	finding->tool_count = competing.tool_count;
	if (!cuts) {
		finding->stations = competing.stations;
		finding->station_count = competing.station_count;
	}
	return finding;
}

static void item_left_out(const struct question *question, const struct group *group, size_t row,
                          struct finding_list *list)
{
	size_t edges = group->rows * group->items;
	struct competition competition = {
		.rules = group->rules,
		.tool_words = group->rules->item_words,
		.tools_words = group->rules->items_words,
		.tool_of = group->rules->item_tool,
		.rows = group->rows,
		.tools = group->items,
		.allowed = arena_take(question->arena, edges, 1),
		.match = group->chosen.item,
	};
	size_t *row_of = arena_take(question->arena, group->rows, sizeof *row_of);
	for (size_t i = 0; i < group->rows; i++) {
		row_of[i] = i;
	}
	for (size_t edge = 0; edge < edges; edge++) {
		competition.allowed[edge] = group->item_level[edge] != SUITS_NOT;
	}
	competition.row_of = row_of;
	struct finding *finding =
		finding_left_out(question, &competition, row, group->rules->item_need, list);
	add_item_misses(question, group, row, finding);
}

/* Rows here are those whose chosen item needs a companion. */
static void companion_left_out(const struct question *question, const struct group *group,
                               size_t row, struct finding_list *list)
{
	struct arena *arena = question->arena;
	size_t *row_of = arena_take(arena, group->rows, sizeof *row_of);
	struct competition competition = {
		.rules = group->rules,
		.tool_words = group->rules->companion_words,
		.tools_words = group->rules->companions_words,
		.tool_of = group->rules->companion_tool,
		.tools = group->companions,
		.row_of = row_of,
		.allowed = arena_take(arena, group->rows * group->companions, 1),
		.match = arena_take(arena, group->rows, sizeof *competition.match),
	};
	size_t left_out = 0;
	for (size_t i = 0; i < group->rows; i++) {
		size_t item = group->chosen.item[i];
		if (item == ASSIGNED_NONE || !group->companion_needed[item]) {
			continue;
		}
		size_t here = competition.rows++;
		left_out = i == row ? here : left_out;
		row_of[here] = i;
		competition.match[here] = group->chosen.companion[i];
		for (size_t j = 0; j < group->companions; j++) {
			competition.allowed[here * group->companions + j] =
				group->companion_level[item * group->companions + j] != SUITS_NOT;
		}
	}
	struct finding *finding =
		finding_left_out(question, &competition, left_out, group->rules->companion_need, list);
	add_companion_misses(question, group, group->chosen.item[row], finding);
}

/* ---------------------------------------------------------------- doubts about what was chosen */

static void finding_doubts(const struct question *question, const struct group_rules *rules,
                           size_t row, const char *need, const struct tool *tool,
                           const struct remarks *remarks, struct finding_list *list)
{
	struct arena *arena = question->arena;
	struct text doubts = text_start(arena);
	enum finding_level level = FINDING_NOTE;
	for (size_t i = 0; i < remarks->count; i++) {
		text_join(&doubts, "; ", remarks->items[i].text);
		level = remarks->items[i].level == SUITS_DOUBTFUL ? FINDING_CAUTION : level;
	}
	if (remarks->count == 0) {
		return;
	}
	struct finding *finding =
		row_finding(question, rules, row, need, level,
	                arena_format(arena, "%s %s", tag_shown(tool->tag).bytes, doubts.bytes), list);
	finding->have = 1;
	finding->tools = arena_take(arena, 1, sizeof *finding->tools);
	finding->tools[0] = tool->tag;
	finding->tool_count = 1;
}

static void findings_of_row(const struct question *question, const struct group *group, size_t row,
                            struct finding_list *list)
{
	const struct group_rules *rules = group->rules;
	size_t item = group->chosen.item[row], companion = group->chosen.companion[row];
	struct remarks remarks = {.count = 0};
	if (item == ASSIGNED_NONE) {
		if (question->trial) {
			row_finding(question, rules, row, rules->item_need, FINDING_SHORT, "", list);
		} else {
			item_left_out(question, group, row, list);
		}
		return;
	}
	group_item_remarks(question, rules, row, item, &remarks);
	finding_doubts(question, rules, row, rules->item_need, rules->item_tool(question, item),
	               &remarks, list);
	if (!group->companion_needed[item]) {
		return;
	}
	if (companion == ASSIGNED_NONE) {
		if (question->trial) {
			row_finding(question, rules, row, rules->companion_need, FINDING_SHORT, "", list);
		} else {
			companion_left_out(question, group, row, list);
		}
		return;
	}
	remarks.count = 0;
	group_companion_remarks(question, rules, item, companion, &remarks);
	finding_doubts(question, rules, row, rules->companion_need,
	               rules->companion_tool(question, companion), &remarks, list);
}

void findings_of_group(const struct question *question, const struct group *group,
                       struct finding_list *list)
{
	for (size_t row = 0; row < group->rows; row++) {
		findings_of_row(question, group, row, list);
	}
}
