/*
 * A promise as the check sees it, and how good its tools are by the order of choice. What breaks a
 * promise and what may move are both told from this.
 */
#include <math.h>
#include <string.h>

#include "promised.h"

/* ---------------------------------------------------------------- the question of a promise */

/* Which table of rules a need belongs to, and whether it is one that goes with an item. */
static size_t group_of(const char *need, bool *companion)
{
	size_t group = 0;
	*companion = false;
	while (group < GROUPS && strcmp(need, serving_rules[group]->item_need) != 0 && !*companion) {
		*companion = strcmp(need, serving_rules[group]->companion_need) == 0;
		group += *companion ? 0 : 1;
	}
	return group;
}

static size_t row_of(const struct question *question, const struct group_rules *rules,
                     const struct promised_tool *tool)
{
	int64_t number = rules->rows_are_cuts ? tool->cut : tool->station;
	size_t count = rules->row_count(question);
	for (size_t row = 0; row < count; row++) {
		if (rules->row_number(question, row) == number) {
			return row;
		}
	}
	return ROW_NONE;
}

static void chosen_open(const struct question *question, struct assigned *chosen)
{
	for (size_t group = 0; group < GROUPS; group++) {
		size_t rows = serving_rules[group]->row_count(question);
		chosen[group].item = arena_take(question->arena, rows, sizeof(size_t));
		chosen[group].companion = arena_take(question->arena, rows, sizeof(size_t));
		for (size_t row = 0; row < rows; row++) {
			chosen[group].item[row] = ASSIGNED_NONE;
			chosen[group].companion[row] = ASSIGNED_NONE;
		}
	}
}

static enum outcome place_tool(struct asking *asking, struct promised *promised,
                               const struct promised_tool *tool)
{
	struct question *question = &promised->attempt.question;
	union any_tool loaded;
	bool companion;
	size_t group = group_of(tool->need, &companion);
	size_t row = group < GROUPS ? row_of(question, serving_rules[group], tool) : ROW_NONE;
	if (row == ROW_NONE) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_tool_asked(asking->store, asking->arena, asking->job.id,
	                                        tool->kind->id, tool->tool, &loaded, asking->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const struct group_rules *rules = serving_rules[group];
	shelf_add(asking->arena, question->shelf, tool->kind->id, &loaded);
	if (companion) {
		promised->chosen[group].companion[row] = rules->companion_count(question) - 1;
	} else {
		promised->chosen[group].item[row] = rules->item_count(question) - 1;
	}
	return OUTCOME_DONE;
}

enum outcome promised_open(struct asking *asking, const struct kept_promise *promise,
                           struct moment now, struct promised *out)
{
	enum outcome outcome =
		store_job_read(asking->store, asking->arena, promise->job, &asking->job, asking->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	*out = (struct promised){.promise = promise,
	                         .own_repeat = asking->job.layout.repeat,
	                         .own_around = asking->job.layout.number_around};
	asking->span = (struct span){.from = promise->from, .until = promise->until, .now = now};
	if (promise->repeat.known) {
		asking->job.layout.repeat = promise->repeat;
		asking->job.layout.number_around = promise->number_around;
	}
	outcome = attempt_open(asking, promise->press, false, &out->attempt);
	if (outcome == OUTCOME_DONE) {
		struct press_state *press = &out->attempt.press;
		struct promise *promises;
		outcome = store_press_promises(asking->store, asking->arena, promise->press, promise->job,
		                               &promises, &press->promise_count, asking->fault);
		press->promises = promises;
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	chosen_open(&out->attempt.question, out->chosen);
	for (size_t i = 0; i < promise->tool_count && outcome == OUTCOME_DONE; i++) {
		outcome = place_tool(asking, out, &promise->tools[i]);
	}
	return outcome;
}

/* ---------------------------------------------------------------- how good a choice is */

static void count_level(enum suits level, struct merit *merit)
{
	merit->unmet += level == SUITS_NOT;
	merit->cautions += level == SUITS_DOUBTFUL;
}

/* A need without a tool is unmet; a gear or a blade is one only beside the cylinder or the roll. */
static void count_row(const struct question *question, const struct group_rules *rules, size_t row,
                      const struct assigned *chosen, struct merit *merit)
{
	size_t item = chosen->item[row], companion = chosen->companion[row];
	if (item == ASSIGNED_NONE) {
		merit->unmet++;
		return;
	}
	count_level(group_item_remarks(question, rules, row, item, NULL), merit);
	merit->deviation += rules->deviation != NULL ? rules->deviation(question, row, item) : 0;
	if (!rules->needs_companion(question, item)) {
		return;
	}
	if (companion == ASSIGNED_NONE) {
		merit->unmet++;
	} else {
		count_level(group_companion_remarks(question, rules, item, companion, NULL), merit);
	}
}

struct merit merit_of(const struct question *question, const struct assigned *const *chosen)
{
	struct merit merit = {0};
	struct real_length spread;
	for (size_t group = 0; group < GROUPS; group++) {
		size_t rows = serving_rules[group]->row_count(question);
		for (size_t row = 0; row < rows; row++) {
			count_row(question, serving_rules[group], row, chosen[group], &merit);
		}
	}
	if (question->printing_count > 0 && cylinders_spread(question, chosen[0], &spread)) {
		merit.spread_um = (int64_t)floor(real_to_mm(spread) * 1000 + 0.5);
	}
	return merit;
}

int merit_compare(const struct merit *a, const struct merit *b)
{
	const int64_t parts_a[] = {a->unmet, a->cautions, a->spread_um, a->deviation};
	const int64_t parts_b[] = {b->unmet, b->cautions, b->spread_um, b->deviation};
	for (size_t i = 0; i < COUNT_OF(parts_a); i++) {
		if (parts_a[i] != parts_b[i]) {
			return parts_a[i] < parts_b[i] ? -1 : 1;
		}
	}
	return 0;
}
