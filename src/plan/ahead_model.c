/*
 * The model of all jobs together: each job with the presses and repeats on which it could run, each
 * of these with what would do for its needs.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

#define CANDIDATES_MOST \
	64 /* repeats of a new job looked at on one press: more than any shelf gives */

static const enum joint_group groups[] = {JOINT_CYLINDERS, JOINT_ROLLS, JOINT_DIES};

static size_t need_count(const struct horizon_job *job)
{
	return job->printing_count * 2 + job->cut_count;
}

/* ---------------------------------------------------------------- where an option stands */

/* Needs that ask the same share what would do: how many of them go without at least. */
static void option_count_unmet(const struct horizon_job *job, struct run_option *option)
{
	size_t count = need_count(job);
	for (size_t i = 0; i < count; i++) {
		const struct ways *ways = option->ways[i];
		size_t alike = 0;
		bool first = true;
		for (size_t j = 0; j < count; j++) {
			alike += option->ways[j] == ways ? 1 : 0;
			first = first && (option->ways[j] != ways || j >= i);
		}
		if (first && alike > ways->count) {
			option->unmet += alike - ways->count;
		}
		option->doubts += ways->count > 0 && ways->list[0].doubtful ? 1 : 0;
	}
}

static void option_figures(const struct question *question, struct run_option *option)
{
	const struct layout *layout = &question->layout;
	const struct known_length web = layout->web.known ? layout->web : layout->web_needed;
	option->waste_known = layout->repeat.known && web.known && layout->label_across.known &&
	                      layout->label_around.known && layout->number_across.known &&
	                      layout->number_around.known;
	if (option->waste_known) {
		option->waste_whole =
			llround(100.0 * waste_of(layout->label_across.value, layout->label_around.value,
		                             layout->number_across.value, layout->number_around.value,
		                             web.value, layout->repeat));
	}
	if (layout->repeat.known && layout->printed_width.known) {
		option->plate_area = (double)question->printing_count *
		                     real_to_mm(repeat_length(layout->repeat)) *
		                     length_to_mm(layout->printed_width.value);
	}
}

static int verdict_of(const struct run_option *option)
{
	return option->unmet > 0 ? 2 : option->doubts > 0 ? 1 : 0;
}

/* < 0 where `a` is better: as the check ranks presses and repeats, by what can be told by now. */
static int options_compare(const struct run_option *a, const struct run_option *b)
{
	if (verdict_of(a) != verdict_of(b)) {
		return verdict_of(a) - verdict_of(b);
	}
	if (a->unmet != b->unmet) {
		return a->unmet < b->unmet ? -1 : 1;
	}
	if (a->waste_known != b->waste_known) {
		return a->waste_known ? -1 : 1;
	}
	if (a->waste_whole != b->waste_whole) {
		return a->waste_whole < b->waste_whole ? -1 : 1;
	}
	return (a->plate_area > b->plate_area) - (a->plate_area < b->plate_area);
}

/* ---------------------------------------------------------------- options of a job */

struct option_list {
	struct run_option *items;
	size_t count, room;
};

/* In its place; those equally good stay in the order in which they came. */
static void option_add(struct arena *arena, struct option_list *list, struct run_option option)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 4;
		list->items = arena_grow(arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	size_t at = list->count++;
	while (at > 0 && options_compare(&option, &list->items[at - 1]) < 0) {
		list->items[at] = list->items[at - 1];
		at--;
	}
	list->items[at] = option;
}

static struct run_option option_at(struct horizon *horizon, const struct horizon_job *job,
                                   size_t press, struct candidate candidate, struct arena *arena)
{
	struct run_option option = {.press = press, .candidate = candidate};
	struct question question = horizon_question(horizon, job, press, candidate, horizon->scratch);
	size_t need = 0;
	option.ways = arena_take(arena, need_count(job), sizeof(struct ways *));
	for (size_t i = 0; i < COUNT_OF(groups); i++) {
		size_t rows = groups[i] == JOINT_DIES ? job->cut_count : job->printing_count;
		for (size_t row = 0; row < rows; row++) {
			option.ways[need++] = shared_ways_find(horizon, &question, job, press, groups[i], row);
		}
	}
	option_count_unmet(job, &option);
	option_figures(&question, &option);
	return option;
}

/*
 * What keeps the job itself from running there, whatever the tools. Only the worst is kept: a job
 * with no option tells that of the press where least does.
 */
static bool job_fits(struct horizon *horizon, struct horizon_job *job,
                     const struct question *question, bool repeat_judged)
{
	struct finding_list all = {.arena = horizon->scratch}, kept = {.arena = horizon->arena};
	if (!question->press->retired) {
		findings_of_job(question, repeat_judged, &all);
	} else {
		/* Of what is retired the check takes note only: it may be asked for by name. */
		finding_add(&all, "press", 0, 0, FINDING_SHORT,
		            arena_format(all.arena, "press %s is retired", question->press->press.code));
	}
	for (size_t i = 0; i < all.count; i++) {
		if (all.items[i].level == FINDING_SHORT) {
			finding_add(&kept, all.items[i].need, all.items[i].station, all.items[i].cut,
			            FINDING_SHORT, arena_copy(horizon->arena, all.items[i].text));
		}
	}
	if (kept.count > 0 && (job->findings == NULL || kept.count < job->finding_count)) {
		job->findings = kept.items;
		job->finding_count = kept.count;
		job->finding_press = question->press->press.code;
	}
	return kept.count == 0;
}

/* The cylinders of every length that the job's labels could stand around. */
static void shelf_of_lengths(const struct horizon *horizon, const struct question *question,
                             struct shelf *out)
{
	const struct shelf_index *index = &horizon->shelf.index[TOOL_CYLINDER];
	bool gives = false;
	*out = horizon->shelf.tools;
	out->cylinders = arena_take(horizon->scratch, index->count, sizeof *out->cylinders);
	out->cylinder_count = 0;
	for (size_t i = 0; i < index->count; i++) {
		if (i == 0 || index->keys[i] != index->keys[i - 1]) {
			gives = question->layout.label_around.known &&
			        shelf_gives_gap(question, length_from_nm(index->keys[i]));
		}
		if (gives) {
			out->cylinders[out->cylinder_count++] = horizon->shelf.tools.cylinders[index->items[i]];
		}
	}
}

static struct known_count around_of(const struct horizon_job *job)
{
	/* The number around of a repeat order belongs to its repeat. */
	return job->job.layout.number_around;
}

/* The best of the repeats that a new job could run on there. */
static void options_of_candidates(struct horizon *horizon, struct horizon_job *job, size_t press,
                                  struct option_list *list)
{
	struct candidate nothing = {.number_around = around_of(job).known ? around_of(job).value : 0};
	struct question question = horizon_question(horizon, job, press, nothing, horizon->scratch);
	struct shelf shelf;
	struct candidate *candidates;
	struct option_list here = {.items = NULL};
	shelf_of_lengths(horizon, &question, &shelf);
	question.whole = question.shelf = &shelf;
	size_t count = candidates_find(&question, &candidates);
	if (count == 0) {
		job_fits(horizon, job, &question, false);
		return;
	}
	for (size_t i = 0; i < count; i++) {
		struct question at = horizon_question(horizon, job, press, candidates[i], horizon->scratch);
		if (job_fits(horizon, job, &at, true)) {
			option_add(horizon->arena, &here,
			           option_at(horizon, job, press, candidates[i], horizon->arena));
		}
	}
	/* The repeat that it was promised at stays one of them. */
	for (size_t i = 0; i < here.count; i++) {
		const struct kept_promise *promise = job->promise;
		bool promised =
			promise != NULL && promise->press == question.press->press.id &&
			repeat_equal(promise->repeat, here.items[i].candidate.repeat, length_from_nm(0));
		if (i < CANDIDATES_MOST || promised) {
			option_add(horizon->arena, list, here.items[i]);
		}
	}
}

static void options_on(struct horizon *horizon, struct horizon_job *job, size_t press,
                       struct option_list *list)
{
	if (job_is_new(&job->job)) {
		options_of_candidates(horizon, job, press, list);
		return;
	}
	struct candidate own = {.repeat = job->job.layout.repeat,
	                        .number_around = around_of(job).known ? around_of(job).value : 0};
	struct question question = horizon_question(horizon, job, press, own, horizon->scratch);
	if (job_fits(horizon, job, &question, true)) {
		option_add(horizon->arena, list, option_at(horizon, job, press, own, horizon->arena));
	}
}

/* The option that the job's promise names comes first. */
static void promised_first(const struct horizon *horizon, const struct horizon_job *job,
                           struct option_list *list)
{
	for (size_t i = 1; job->promise != NULL && i < list->count; i++) {
		struct run_option option = list->items[i];
		if (horizon->presses[option.press].state.press.id == job->promise->press &&
		    repeat_equal(option.candidate.repeat, job->promise->repeat,
		                 horizon->request->limits->repeat_match)) {
			memmove(list->items + 1, list->items, i * sizeof *list->items);
			list->items[0] = option;
			return;
		}
	}
}

static void options_find(struct horizon *horizon, struct horizon_job *job)
{
	struct option_list list = {.items = NULL};
	bool own = job->job.press_count > 0;
	const int64_t *presses = own ? job->job.presses : horizon->presses_in_use;
	size_t count = own ? job->job.press_count : horizon->in_use_count;
	for (size_t i = 0; i < count; i++) {
		size_t press;
		if (horizon_press_of(horizon, presses[i], &press) == OUTCOME_DONE) {
			options_on(horizon, job, press, &list);
		}
		arena_reset(horizon->scratch);
	}
	if (count == 0) {
		struct finding_list none = {.arena = horizon->arena};
		finding_add(&none, "press", 0, 0, FINDING_SHORT, "no press in use is on record");
		job->findings = none.items;
		job->finding_count = none.count;
	}
	promised_first(horizon, job, &list);
	job->options = list.items;
	job->option_count = list.count;
}

/* ---------------------------------------------------------------- the job in the model */

struct duration horizon_job_open(const struct horizon *horizon, const struct horizon_job *job)
{
	return calendar_between(&horizon->request->limits->calendar, job->span.from, job->span.until);
}

/* Of a new job the run is known with its repeat: the longest of its options counts. */
static void reckon_until(const struct horizon *horizon, struct horizon_job *job)
{
	struct known_duration longest = {.known = false};
	if (job->job.until.known || job->until_reckoned || job->job.from.known == false) {
		return;
	}
	for (size_t i = 0; i < job->option_count; i++) {
		const struct run_option *option = &job->options[i];
		struct question question =
			horizon_question(horizon, job, option->press, option->candidate, horizon->scratch);
		struct known_duration here =
			job_duration(&question.layout, &question.press->press, horizon->request->limits);
		if (here.known && (!longest.known || here.value.s > longest.value.s)) {
			longest = here;
		}
	}
	if (longest.known) {
		job->span.until =
			calendar_add(&horizon->request->limits->calendar, job->span.from, longest.value);
		job->until_reckoned = true;
	}
}

static void option_fill(struct horizon *horizon, const struct horizon_job *job,
                        const struct run_option *option, struct span span, struct arena *arena,
                        struct joint_option *out)
{
	struct question question =
		horizon_question(horizon, job, option->press, option->candidate, horizon->scratch);
	size_t need = 0;
	question.span = span;
	out->press = (uint32_t)option->press;
	out->needs = arena_take(arena, need_count(job), sizeof *out->needs);
	for (size_t i = 0; i < COUNT_OF(groups); i++) {
		const struct group_rules *rules = rules_of_group(groups[i]);
		size_t rows = rules->row_count(&question);
		for (size_t row = 0; row < rows; row++, need++) {
			struct joint_need *here = &out->needs[need];
			here->group = groups[i];
			here->number = rules->row_number(&question, row);
			here->ways =
				ways_of_job(horizon, option->ways[need], &question, job, arena, &here->way_count);
		}
	}
}

void horizon_model_job(struct horizon *horizon, const struct horizon_job *job, struct span span,
                       struct arena *arena, struct joint_job *out)
{
	*out = (struct joint_job){
		.time = {.from = span.from.s, .until = span.until.s},
		.free = promise_free(span.until, horizon->request->limits).s,
		.option_count = (uint32_t)job->option_count,
		.need_count = (uint32_t)need_count(job),
	};
	/* What has no length still keeps others from starting together with it. */
	out->time.until = out->time.until > out->time.from ? out->time.until : out->time.from + 1;
	out->free = out->free > out->time.from ? out->free : out->time.from + 1;
	out->options = arena_take(arena, job->option_count, sizeof *out->options);
	for (size_t i = 0; i < job->option_count; i++) {
		option_fill(horizon, job, &job->options[i], span, arena, &out->options[i]);
		arena_reset(horizon->scratch);
	}
}

enum outcome horizon_model(struct horizon *horizon)
{
	struct joint_model *model = &horizon->model;
	model->jobs = arena_take(horizon->arena, horizon->job_count, sizeof *model->jobs);
	horizon->job_of = arena_take(horizon->arena, horizon->job_count, sizeof *horizon->job_of);
	for (size_t i = 0; i < horizon->job_count; i++) {
		if (horizon->jobs[i].standing == JOB_TO_PLAN) {
			options_find(horizon, &horizon->jobs[i]);
			reckon_until(horizon, &horizon->jobs[i]);
		}
	}
	horizon_thin(horizon);
	for (size_t i = 0; i < horizon->job_count; i++) {
		struct horizon_job *job = &horizon->jobs[i];
		if (job->standing != JOB_TO_PLAN) {
			continue;
		}
		job->modelled = model->job_count;
		horizon->job_of[model->job_count] = i;
		horizon_model_job(horizon, job, job->span, horizon->arena,
		                  &model->jobs[model->job_count++]);
	}
	return OUTCOME_DONE;
}
