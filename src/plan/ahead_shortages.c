/*
 * What is short, and why: what no plan can avoid, as its set of Hall; what keeps a job from any
 * press; and the jobs that the best plan found leaves out though nothing certain names them.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"
#include "words.h"

static struct told_shortage *shortage_add(struct horizon *horizon, struct shortage_list *list)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items =
			arena_grow(horizon->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	list->items[list->count] = (struct told_shortage){.modelled = true};
	return &list->items[list->count++];
}

static const struct horizon_job *job_of_row(const struct horizon *horizon, uint32_t job)
{
	return &horizon->jobs[horizon->job_of[job]];
}

/* ---------------------------------------------------------------- rows, told */

/* Of every option of a job the needs are the same: that of the first stands for all. */
static int64_t number_of_row(const struct horizon *horizon, struct joint_row row)
{
	return horizon->model.jobs[row.job].options[0].needs[row.need].number;
}

/* The jobs, each once, and the needs, job by job. */
static void take_rows(const struct horizon *horizon, struct told_shortage *shortage)
{
	struct arena *arena = horizon->arena;
	struct ahead_shortage *told = &shortage->told;
	told->jobs = arena_take(arena, shortage->row_count, sizeof(const char *));
	told->need_jobs = arena_take(arena, shortage->row_count, sizeof(const char *));
	told->needs = arena_take(arena, shortage->row_count, sizeof *told->needs);
	told->job_count = told->need_count = 0;
	for (uint32_t i = 0; i < shortage->row_count; i++) {
		const char *number = job_of_row(horizon, shortage->rows[i].job)->job.number;
		size_t known = 0;
		while (known < told->job_count && told->jobs[known] != number) {
			known++;
		}
		if (known == told->job_count) {
			told->jobs[told->job_count++] = number;
		}
	}
	for (size_t i = 0; i < told->job_count; i++) {
		for (uint32_t j = 0; j < shortage->row_count; j++) {
			struct joint_row row = shortage->rows[j];
			if (job_of_row(horizon, row.job)->job.number != told->jobs[i]) {
				continue;
			}
			int64_t number = row.need != JOINT_NONE ? number_of_row(horizon, row) : 0;
			told->need_jobs[told->need_count] = told->jobs[i];
			told->needs[told->need_count++] = (struct ahead_tool){
				.need = told->need,
				.station = shortage->group == JOINT_DIES ? 0 : number,
				.cut = shortage->group == JOINT_DIES ? number : 0,
			};
		}
	}
}

static int numbers_compare(const void *a, const void *b)
{
	int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
	return (x > y) - (x < y);
}

/* `J3 at stations 1, 2 and 4; J4 at station 2` */
static const char *rows_said(struct arena *arena, const struct told_shortage *shortage)
{
	const struct ahead_shortage *told = &shortage->told;
	struct text text = text_start(arena);
	for (size_t i = 0, j; i < told->need_count; i = j) {
		int64_t *numbers = arena_take(arena, told->need_count, sizeof *numbers);
		size_t count = 0;
		for (j = i; j < told->need_count && told->need_jobs[j] == told->need_jobs[i]; j++) {
			numbers[count++] = told->needs[j].station + told->needs[j].cut;
		}
		text_join(&text, "; ", told->need_jobs[i]);
		if (shortage->group != JOINT_PRESS) {
			qsort(numbers, count, sizeof *numbers, numbers_compare);
			text_add_format(&text, " at %s",
			                words_of_numbers(arena,
			                                 shortage->group == JOINT_DIES ? "cut" : "station",
			                                 numbers, count));
		}
	}
	return text.bytes;
}

const char *words_of_jobs(struct arena *arena, const char *const *jobs, size_t count)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		text_add_format(&text, "%s%s", i == 0 ? "" : i + 1 == count ? " and " : ", ", jobs[i]);
	}
	return text.bytes;
}

static const char *moment_said(struct arena *arena, struct moment moment)
{
	return arena_copy(arena, moment_text(moment).bytes);
}

/* The tools of a shortage in words: `anilox rolls`; one of them, or what goes with them. */
static const char *tools_words(const struct told_shortage *shortage, bool one)
{
	const struct group_rules *rules = rules_of_group(shortage->group);
	if (rules == NULL) {
		return one ? "press" : "presses";
	}
	if (shortage->companions) {
		return one ? rules->companion_words : rules->companions_words;
	}
	return one ? rules->item_words : rules->items_words;
}

/* ---------------------------------------------------------------- what is certain */

static const char *text_of_press(struct horizon *horizon, const struct told_shortage *shortage,
                                 const struct joint_shortage *found)
{
	struct arena *arena = horizon->arena;
	const struct ahead_shortage *told = &shortage->told;
	struct text presses = text_start(arena);
	for (uint32_t i = 0; i < found->resource_count; i++) {
		text_join(&presses, ", ", horizon->presses[found->resources[i]].state.press.code);
	}
	if (told->have == 0) {
		return arena_format(arena,
		                    "every press that %s could run on at %s is another job's by then",
		                    words_of_jobs(arena, told->jobs, told->job_count),
		                    moment_said(arena, told->from));
	}
	return arena_format(arena, "%lld jobs at %s share %s %s: %s", (long long)told->wanted,
	                    moment_said(arena, told->from), tools_words(shortage, told->have == 1),
	                    presses.bytes, words_of_jobs(arena, told->jobs, told->job_count));
}

/* `6 anilox rolls`; `1 anilox roll and 2 doctor blade assemblies` where it lies at both. */
static const char *shared_said(struct horizon *horizon, const struct told_shortage *shortage,
                               const struct joint_shortage *found)
{
	const struct group_rules *rules = rules_of_group(shortage->group);
	size_t items = 0, companions = 0;
	struct text text = text_start(horizon->arena);
	for (uint32_t i = 0; i < found->resource_count; i++) {
		size_t item;
		bool beside = resource_kind(horizon, found->resources[i], &item) ==
		              kind_of_group(shortage->group, true);
		companions += beside ? 1 : 0;
		items += beside ? 0 : 1;
	}
	if (items > 0) {
		text_add_format(&text, "%zu %s", items,
		                items == 1 ? rules->item_words : rules->items_words);
	}
	if (companions > 0) {
		text_join(&text, " and ", "");
		text_add_format(&text, "%zu %s", companions,
		                companions == 1 ? rules->companion_words : rules->companions_words);
	}
	return text.bytes;
}

static const char *text_of_tools(struct horizon *horizon, const struct told_shortage *shortage,
                                 const struct joint_shortage *found)
{
	struct arena *arena = horizon->arena;
	const struct ahead_shortage *told = &shortage->told;
	const char *where = shortage->group == JOINT_DIES ? "cut" : "station";
	if (told->have == 0) {
		return arena_format(arena, "no %s suits and is there at %s for %s",
		                    tools_words(shortage, true), moment_said(arena, told->from),
		                    rows_said(arena, shortage));
	}
	return arena_format(arena, "%lld %ss at %s share %s: %s: %s", (long long)told->wanted, where,
	                    moment_said(arena, told->from), shared_said(horizon, shortage, found),
	                    rows_said(arena, shortage),
	                    words_of_tags(arena, told->tools, told->tool_count));
}

/* One of the same job, group and time that has nothing either: they are told as one. */
static struct told_shortage *lonely_like(const struct horizon *horizon,
                                         const struct shortage_list *list,
                                         const struct joint_shortage *found)
{
	for (size_t i = 0; i < list->count && found->resource_count == 0; i++) {
		struct told_shortage *other = &list->items[i];
		bool same = other->told.have == 0 && other->group == found->group &&
		            other->companions == found->companions_only &&
		            other->told.from.s == found->time.from &&
		            other->told.until.s == found->time.until;
		for (uint32_t j = 0; j < other->row_count && same; j++) {
			same = other->rows[j].job == found->rows[0].job;
		}
		for (uint32_t j = 0; j < found->row_count && same; j++) {
			same = found->rows[j].job == found->rows[0].job;
		}
		if (same) {
			return other;
		}
	}
	(void)horizon;
	return NULL;
}

static void rows_append(struct arena *arena, struct told_shortage *shortage,
                        const struct joint_shortage *found)
{
	uint32_t count = shortage->row_count + found->row_count;
	shortage->rows =
		arena_grow(arena, shortage->rows, shortage->row_count, count, sizeof *shortage->rows);
	memcpy(shortage->rows + shortage->row_count, found->rows,
	       found->row_count * sizeof *found->rows);
	shortage->row_count = count;
}

static void certain_add(struct horizon *horizon, struct shortage_list *list,
                        const struct joint_shortage *found)
{
	struct arena *arena = horizon->arena;
	struct told_shortage *shortage = lonely_like(horizon, list, found);
	if (shortage == NULL) {
		shortage = shortage_add(horizon, list);
		shortage->group = found->group;
		shortage->companions = found->companions_only;
		shortage->told.from.s = found->time.from;
		shortage->told.until.s = found->time.until;
	}
	struct ahead_shortage *told = &shortage->told;
	rows_append(arena, shortage, found);
	told->need = need_of_group(found->group, found->companions_only);
	told->certain = true;
	told->wanted = shortage->row_count;
	told->have = found->resource_count;
	take_rows(horizon, shortage);
	told->tools = arena_take(arena, found->resource_count, sizeof *told->tools);
	told->tool_count = found->group != JOINT_PRESS ? found->resource_count : 0;
	for (size_t i = 0; i < told->tool_count; i++) {
		told->tools[i] = resource_tool(horizon, found->resources[i])->tag;
	}
	told->text = found->group == JOINT_PRESS ? text_of_press(horizon, shortage, found)
	                                         : text_of_tools(horizon, shortage, found);
}

/* ---------------------------------------------------------------- jobs without a press */

static void findings_add(struct horizon *horizon, struct shortage_list *list,
                         const struct horizon_job *job)
{
	struct arena *arena = horizon->arena;
	for (size_t i = 0; i < job->finding_count; i++) {
		const struct finding *finding = &job->findings[i];
		struct told_shortage *shortage = shortage_add(horizon, list);
		struct ahead_shortage *told = &shortage->told;
		shortage->modelled = false;
		told->need = finding->need;
		told->certain = true;
		told->from = job->span.from;
		told->until = job->span.until;
		told->wanted = 1;
		told->jobs = told->need_jobs = arena_take(arena, 1, sizeof(const char *));
		told->jobs[0] = job->job.number;
		told->needs = arena_take(arena, 1, sizeof *told->needs);
		told->needs[0] = (struct ahead_tool){.need = finding->need,
		                                     .station = finding->station,
		                                     .cut = finding->cut};
		told->job_count = told->need_count = 1;
		told->text = arena_format(arena, "%s: %s", job->job.number, finding->text);
	}
}

/* ---------------------------------------------------------------- jobs that no plan found serves
 */

static bool is_named(const struct shortage_list *list, uint32_t job)
{
	for (size_t i = 0; i < list->count; i++) {
		for (uint32_t j = 0; j < list->items[i].row_count; j++) {
			if (list->items[i].rows[j].job == job) {
				return true;
			}
		}
	}
	return false;
}

/* Marks what could meet a need of the group, or the presses, of any option. */
static void mark_wanted(const struct joint_job *job, enum joint_group group, bool companions,
                        uint8_t *wanted)
{
	for (uint32_t i = 0; i < job->option_count; i++) {
		const struct joint_option *option = &job->options[i];
		if (group == JOINT_PRESS && option->press != JOINT_NONE) {
			wanted[option->press] = 1;
		}
		for (uint32_t need = 0; need < job->need_count; need++) {
			const struct joint_need *here = &option->needs[need];
			for (uint32_t way = 0; here->group == group && way < here->way_count; way++) {
				wanted[here->ways[way].item] = 1;
				for (uint32_t j = 0; companions && j < here->ways[way].companion_count; j++) {
					wanted[here->ways[way].companions[j]] = 1;
				}
			}
		}
	}
}

/* Does the plan give a job any of these? */
static bool uses_wanted(const struct horizon *horizon, uint32_t job, const uint8_t *wanted)
{
	const struct joint_plan *plan = &horizon->answer.plan;
	const struct joint_job *here = &horizon->model.jobs[job];
	if (plan->option[job] == JOINT_NONE) {
		return false;
	}
	const struct joint_option *option = &here->options[plan->option[job]];
	bool uses = option->press != JOINT_NONE && wanted[option->press];
	for (uint32_t need = 0; need < here->need_count && !uses; need++) {
		struct joint_given given = plan->given[job][need];
		uses = wanted[option->needs[need].ways[given.way].item] ||
		       (given.companion != JOINT_NONE && wanted[given.companion]);
	}
	return uses;
}

/* The jobs served meanwhile that have what it could take. */
static size_t rivals_find(struct horizon *horizon, uint32_t job, const uint8_t *wanted,
                          const char **out)
{
	const struct joint_job *here = &horizon->model.jobs[job];
	size_t count = 0;
	for (uint32_t i = 0; i < horizon->model.job_count; i++) {
		const struct joint_job *other = &horizon->model.jobs[i];
		if (i != job && here->time.from < other->free && other->time.from < here->free &&
		    uses_wanted(horizon, i, wanted)) {
			out[count++] = job_of_row(horizon, i)->job.number;
		}
	}
	return count;
}

/* The group that lacks most, and whether what lacks is what goes with the tools. */
static void failing_group(const struct joint_job *job, const struct open_needs *open,
                          struct told_shortage *shortage)
{
	size_t most = 0;
	shortage->group = JOINT_PRESS;
	for (int group = JOINT_CYLINDERS; group <= JOINT_DIES; group++) {
		for (uint8_t what = 1; what <= 2; what++) {
			size_t count = 0;
			for (uint32_t i = 0; i < job->need_count; i++) {
				count += (int)job->options[open->option].needs[i].group == group &&
				                 open->without[i] == what
				             ? 1
				             : 0;
			}
			if (count > most && !open->press) {
				most = count;
				shortage->group = (enum joint_group)group;
				shortage->companions = what == 2;
			}
		}
	}
}

/* Its needs of that group; and how many of them the plan leaves something for. */
static void take_job_rows(const struct horizon *horizon, uint32_t job,
                          const struct open_needs *open, struct told_shortage *shortage)
{
	const struct joint_job *here = &horizon->model.jobs[job];
	shortage->rows =
		arena_take(horizon->arena, (size_t)here->need_count + 1, sizeof *shortage->rows);
	if (shortage->group == JOINT_PRESS) {
		shortage->rows[shortage->row_count++] = (struct joint_row){job, JOINT_NONE};
	}
	for (uint32_t i = 0; i < here->need_count; i++) {
		if (here->options[open->option].needs[i].group == shortage->group) {
			shortage->rows[shortage->row_count++] = (struct joint_row){job, i};
			shortage->told.have += open->without[i] == 0 ? 1 : 0;
		}
	}
	shortage->told.wanted = shortage->row_count;
}

static void take_tools(const struct horizon *horizon, const uint8_t *wanted,
                       struct told_shortage *shortage)
{
	const struct whole_shelf *shelf = &horizon->shelf;
	enum tool_kind kind = kind_of_group(shortage->group, shortage->companions);
	struct ahead_shortage *told = &shortage->told;
	if (shortage->group == JOINT_PRESS) {
		return;
	}
	told->tools = arena_take(horizon->arena, shelf->first[kind + 1] - shelf->first[kind],
	                         sizeof *told->tools);
	for (uint32_t i = shelf->first[kind]; i < shelf->first[kind + 1]; i++) {
		if (wanted[i]) {
			told->tools[told->tool_count++] = resource_tool(horizon, i)->tag;
		}
	}
}

static void left_out_add(struct horizon *horizon, struct shortage_list *list, uint32_t job)
{
	struct arena *arena = horizon->arena;
	const struct joint_job *here = &horizon->model.jobs[job];
	const struct horizon_job *planned = job_of_row(horizon, job);
	struct open_needs open = open_needs_of(&horizon->model, &horizon->answer.plan, job, arena);
	struct told_shortage *shortage = shortage_add(horizon, list);
	struct ahead_shortage *told = &shortage->told;
	failing_group(here, &open, shortage);
	take_job_rows(horizon, job, &open, shortage);
	told->need = need_of_group(shortage->group, shortage->companions);
	told->from = planned->span.from;
	told->until = planned->span.until;
	take_rows(horizon, shortage);
	uint8_t *wanted = arena_take(horizon->scratch, (size_t)horizon->model.resource_count + 1, 1);
	mark_wanted(here, shortage->group, shortage->companions, wanted);
	take_tools(horizon, wanted, shortage);
	const char **rivals =
		arena_take(horizon->scratch, horizon->model.job_count, sizeof(const char *));
	size_t count = rivals_find(horizon, job, wanted, rivals);
	told->text =
		count == 0
			? arena_format(arena, "no plan found serves %s: what would do is others' by then",
	                       planned->job.number)
			: arena_format(arena, "no plan found serves %s together with %s, which %s the same %s",
	                       planned->job.number, words_of_jobs(arena, rivals, count),
	                       count == 1 ? "needs" : "need",
	                       tools_words(shortage, shortage->group == JOINT_PRESS));
	arena_reset(horizon->scratch);
}

/* ---------------------------------------------------------------- all of them */

static int shortages_compare(const void *a, const void *b)
{
	const struct ahead_shortage *x = &((const struct told_shortage *)a)->told;
	const struct ahead_shortage *y = &((const struct told_shortage *)b)->told;
	int order = moment_compare(x->from, y->from);
	if (order == 0) {
		order = strcmp(x->need, y->need);
	}
	return order != 0 ? order : strcmp(x->jobs[0], y->jobs[0]);
}

void shortages_find(struct horizon *horizon, struct shortage_list *list)
{
	const struct joint_plan *plan = &horizon->answer.plan;
	struct joint_shortage *found;
	size_t count;
	certain_shortages(horizon, &found, &count);
	for (size_t i = 0; i < count; i++) {
		certain_add(horizon, list, &found[i]);
	}
	for (uint32_t job = 0; job < horizon->model.job_count; job++) {
		const struct horizon_job *planned = job_of_row(horizon, job);
		if (planned->option_count == 0) {
			findings_add(horizon, list, planned);
		} else if (plan->option[job] == JOINT_NONE && !is_named(list, job)) {
			left_out_add(horizon, list, job);
		}
	}
	if (list->count > 1) {
		qsort(list->items, list->count, sizeof *list->items, shortages_compare);
	}
}
