/* What a job waits for until it can start, and why it never can. */
#include <string.h>

#include "earliest.h"
#include "words.h"

#define REASONS_MOST 3 /* needs told of what is short for good */

/* ---------------------------------------------------------------- at best */

/* Is it over one day, or not yet begun? */
static bool promise_ends(const struct promise *promise)
{
	return promise->until.known || promise->from.known;
}

static struct promise *promises_for_good(struct arena *arena, const struct promise *promises,
                                         size_t *count)
{
	struct promise *kept = arena_take(arena, *count, sizeof *kept);
	size_t kept_count = 0;
	for (size_t i = 0; i < *count; i++) {
		if (!promise_ends(&promises[i])) {
			kept[kept_count++] = promises[i];
		}
	}
	*count = kept_count;
	return kept;
}

static void *tools_at_best(struct arena *arena, const void *tools, size_t count, size_t size)
{
	char *copy = arena_take(arena, count, size);
	if (count > 0) {
		memcpy(copy, tools, count * size);
	}
	for (size_t i = 0; i < count; i++) {
		struct tool *tool = (void *)(copy + i * size);
		tool->promises = promises_for_good(arena, tool->promises, &tool->promise_count);
		tool->press_promises =
			promises_for_good(arena, tool->press_promises, &tool->press_promise_count);
		if (tool->sort == SORT_SUPPLIER && tool->back.known) {
			tool->sort = SORT_STORE;
		}
	}
	return copy;
}

struct question timing_at_best(const struct timing *timing)
{
	struct question question = timing->question;
	struct arena *arena = question.arena;
	struct press_state *press = arena_take(arena, 1, sizeof *press);
	struct shelf *shelf = arena_take(arena, 1, sizeof *shelf);
	*press = *question.press;
	press->promises = promises_for_good(arena, press->promises, &press->promise_count);
	*shelf = *question.shelf;
	shelf->cylinders =
		tools_at_best(arena, shelf->cylinders, shelf->cylinder_count, sizeof *shelf->cylinders);
	shelf->gears = tools_at_best(arena, shelf->gears, shelf->gear_count, sizeof *shelf->gears);
	shelf->rolls = tools_at_best(arena, shelf->rolls, shelf->roll_count, sizeof *shelf->rolls);
	shelf->blades = tools_at_best(arena, shelf->blades, shelf->blade_count, sizeof *shelf->blades);
	shelf->dies = tools_at_best(arena, shelf->dies, shelf->die_count, sizeof *shelf->dies);
	shelf->magnetic_cylinders =
		tools_at_best(arena, shelf->magnetic_cylinders, shelf->magnetic_cylinder_count,
	                  sizeof *shelf->magnetic_cylinders);
	question.press = press;
	question.shelf = shelf;
	question.span = timing_span(timing, timing->from);
	return question;
}

/* ---------------------------------------------------------------- why never */

/* `anilox at station 3`, `die at cut 1` */
static const char *words_of_need(struct arena *arena, const struct finding *finding)
{
	char *need = arena_copy(arena, finding->need);
	for (char *c = need; *c != '\0'; c++) {
		*c = *c == '_' ? ' ' : *c;
	}
	if (finding->station == 0 && finding->cut == 0) {
		return need;
	}
	return arena_format(arena, "%s at %s %lld", need, finding->cut != 0 ? "cut" : "station",
	                    (long long)(finding->cut != 0 ? finding->cut : finding->station));
}

/* Without the near misses, which are for the check. */
static const char *without_nearest(struct arena *arena, const char *text)
{
	const char *end = strstr(text, "; nearest: ");
	return end != NULL ? arena_copy_bytes(arena, text, (size_t)(end - text)) : text;
}

/* The near misses may differ: they are not told. */
static bool is_alike(struct arena *arena, const struct finding *a, const struct finding *b)
{
	return a->level == b->level && strcmp(a->need, b->need) == 0 &&
	       strcmp(without_nearest(arena, a->text), without_nearest(arena, b->text)) == 0;
}

/* `cylinder at stations 1 and 2`: of all that are short for the same reason, told by the first. */
static const char *words_of_alike(struct arena *arena, const struct check *check, size_t index)
{
	const struct finding *finding = &check->findings[index];
	int64_t *stations = arena_take(arena, check->finding_count, sizeof *stations);
	size_t count = 0;
	for (size_t i = 0; i < check->finding_count; i++) {
		if (is_alike(arena, &check->findings[i], finding) && check->findings[i].station != 0) {
			stations[count++] = check->findings[i].station;
		}
	}
	if (count < 2) {
		return words_of_need(arena, finding);
	}
	return arena_format(arena, "%s at %s", finding->need,
	                    words_of_numbers(arena, "station", stations, count));
}

static void add_reason(struct arena *arena, const struct check *check, size_t index,
                       struct text *text, size_t *told)
{
	const struct finding *finding = &check->findings[index];
	for (size_t i = 0; i < index; i++) {
		if (is_alike(arena, &check->findings[i], finding)) {
			return;
		}
	}
	if (finding->level == FINDING_SHORT && ++*told <= REASONS_MOST) {
		text_join(text, "; ", words_of_alike(arena, check, index));
		text_add_format(text, ": %s", without_nearest(arena, finding->text));
	}
}

const char *timing_never(const struct timing *timing)
{
	struct question question = timing_at_best(timing);
	struct text text = text_start(question.arena);
	struct solution solution;
	size_t told = 0;
	question_solve(&question, true, &solution);
	for (size_t i = 0; i < solution.check.finding_count; i++) {
		add_reason(question.arena, &solution.check, i, &text, &told);
	}
	if (told > REASONS_MOST) {
		text_add_format(&text, "; and %zu more", told - REASONS_MOST);
	}
	return told > 0 ? text.bytes : "not all that it needs is there at one time within two years";
}

/* ---------------------------------------------------------------- what it waits for */

/* A tool that would do for a need that is short, and is not there. */
struct awaited {
	const struct tool *tool;
	struct remark remark;
};

/* Of those that are not there: one that is over by then, else the first. */
static void await(const struct question *question, const struct tool *tool, struct moment until,
                  struct awaited *awaited)
{
	struct remarks remarks = {.count = 0};
	if (tool_there(tool, question->job->number, question->press->press.id, question->span,
	               question->limits, false, &remarks) != SUITS_NOT ||
	    remarks.count == 0) {
		return;
	}
	const struct remark *remark = &remarks.items[remarks.count - 1];
	bool timely = remark->until.known && moment_compare(remark->until.value, until) <= 0;
	bool before = awaited->tool != NULL && awaited->remark.until.known &&
	              moment_compare(awaited->remark.until.value, until) <= 0;
	/* Of the timely ones that for which it waits the longest. */
	bool better =
		awaited->tool == NULL || (timely && !before) ||
		(timely && before && moment_compare(remark->until.value, awaited->remark.until.value) > 0);
	if (better) {
		*awaited = (struct awaited){.tool = tool, .remark = *remark};
	}
}

static void await_group(const struct question *question, const struct timed_group *group,
                        const struct finding *finding, struct moment until, struct awaited *awaited)
{
	const struct group_rules *rules = group->rules;
	bool companion = strcmp(finding->need, rules->companion_need) == 0;
	int64_t number = rules->rows_are_cuts ? finding->cut : finding->station;
	for (size_t row = 0; row < group->rows; row++) {
		bool here = rules->row_number(question, row) == number;
		for (size_t item = 0; item < group->items && here; item++) {
			bool suits = group->suits[row * group->items + item] != 0;
			if (suits && !companion) {
				await(question, rules->item_tool(question, item), until, awaited);
			}
			for (size_t i = 0; i < group->companions && suits && companion; i++) {
				if (rules->companion_suits(question, item, i, NULL) != SUITS_NOT) {
					await(question, rules->companion_tool(question, i), until, awaited);
				}
			}
		}
	}
}

/* Turnaround, or the end of the day on which it is due back: when it is over is told besides. */
static const char *words_of_free(struct arena *arena, const struct remark *remark)
{
	if (!remark->until.known ||
	    strstr(remark->text, moment_text(remark->until.value).bytes) != NULL) {
		return "";
	}
	return arena_format(arena, ", free from %s", moment_text(remark->until.value).bytes);
}

static void wait_fill(const struct timing *timing, const struct question *question,
                      const struct finding *finding, struct moment until, struct earliest_wait *out)
{
	struct arena *arena = question->arena;
	struct awaited awaited = {.tool = NULL};
	*out = (struct earliest_wait){.need = finding->need,
	                              .station = finding->station,
	                              .cut = finding->cut,
	                              .until = finding->until};
	for (size_t i = 0; i < TIMED_GROUPS; i++) {
		const struct timed_group *group = &timing->groups[i];
		if (strcmp(finding->need, group->rules->item_need) == 0 ||
		    strcmp(finding->need, group->rules->companion_need) == 0) {
			await_group(question, group, finding, until, &awaited);
		}
	}
	if (awaited.tool == NULL && finding->station == 0 && finding->cut == 0) {
		out->text = without_nearest(arena, finding->text);
		return;
	}
	if (awaited.tool == NULL) {
		out->text = arena_format(arena, "%s: %s", words_of_need(arena, finding),
		                         without_nearest(arena, finding->text));
		return;
	}
	out->tool_known = true;
	out->tool = awaited.tool->tag;
	out->until = awaited.remark.until;
	out->text = arena_format(arena, "%s, %s %s%s", words_of_need(arena, finding),
	                         tag_shown(out->tool).bytes, awaited.remark.text,
	                         words_of_free(arena, &awaited.remark));
}

void timing_waits(const struct timing *timing, struct moment start, struct moment until,
                  struct earliest_press *out)
{
	struct question question = timing->question;
	struct solution solution;
	question.span = timing_span(timing, start);
	question_solve(&question, true, &solution);
	const struct check *check = &solution.check;
	out->waits = arena_take(question.arena, check->finding_count, sizeof *out->waits);
	for (size_t i = 0; i < check->finding_count; i++) {
		if (check->findings[i].level == FINDING_SHORT) {
			wait_fill(timing, &question, &check->findings[i], until,
			          &out->waits[out->wait_count++]);
		}
	}
}

/* ---------------------------------------------------------------- the duration */

const char *words_of_unknown_duration(struct arena *arena, const struct question *question)
{
	const struct layout *layout = &question->layout;
	struct text text = text_start(arena);
	if (!question->press->press.speed.known) {
		text_join(&text, " and ", "speed of press ");
		text_add(&text, question->press->press.code);
	}
	const struct {
		bool known;
		const char *name;
	} of_run[] = {
		{question->job->quantity.known, "quantity"},
		{layout->number_across.known, "number_across"},
		{layout->number_around.known, "number_around"},
		{layout->repeat.known, "repeat"},
	};
	for (size_t i = 0; i < COUNT_OF(of_run) && !layout->run.known; i++) {
		if (!of_run[i].known) {
			text_join(&text, " and ", of_run[i].name);
			text_add(&text, " of the job");
		}
	}
	text_add(&text, " not on record");
	return text.bytes;
}
