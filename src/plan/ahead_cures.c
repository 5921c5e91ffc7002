/*
 * What would cure a shortage: a tool more, a job at another time, a tool back sooner or cleared.
 * Each is tried on the model, and told only where more jobs are served with it.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead_cures.h"
#include "words.h"

#define ROWS_IMAGINED 3

/* A tool more that was tried already: shortages often ask for the same. */
struct tried_tool {
	struct tried_tool *next;
	struct imagined tool;
	size_t cured;
	const char *then;
	uint8_t *gained; /* by job of the model: is it served then? */
};

bool time_is_over(const struct cure_work *work)
{
	return joint_clock() > work->deadline;
}

const struct horizon_job *planned_job(const struct horizon *horizon, uint32_t job)
{
	return &horizon->jobs[horizon->job_of[job]];
}

bool is_served(const struct joint_plan *plan, uint32_t job)
{
	return plan->option[job] != JOINT_NONE;
}

struct ahead_cure *cure_of(struct cure_work *work, struct lacking *lacking, const char *kind,
                           size_t cured)
{
	if (lacking->count == lacking->room) {
		size_t room = lacking->room * 2 + 8;
		lacking->cures = arena_grow(work->horizon->arena, lacking->cures, lacking->count, room,
		                            sizeof *lacking->cures);
		lacking->room = room;
	}
	struct ahead_cure *cure = &lacking->cures[lacking->count++];
	*cure = (struct ahead_cure){.kind = kind, .cured = cured};
	return cure;
}

/* ---------------------------------------------------------------- what a trial came to */

/* `then J3 and J5 too`; `then J3 and J5 instead of J7` */
static const char *words_of_gain(const struct cure_work *work, const struct trial *trial)
{
	const struct horizon *horizon = work->horizon;
	const struct joint_plan *before = &horizon->answer.plan;
	const char **more = arena_take(trial->arena, trial->model.job_count, sizeof(const char *));
	const char **less = arena_take(trial->arena, trial->model.job_count, sizeof(const char *));
	size_t more_count = 0, less_count = 0;
	for (uint32_t i = 0; i < trial->model.job_count; i++) {
		const char *number = planned_job(horizon, i)->job.number;
		if (is_served(&trial->plan, i) && !is_served(before, i)) {
			more[more_count++] = number;
		} else if (!is_served(&trial->plan, i) && is_served(before, i)) {
			less[less_count++] = number;
		}
	}
	const char *gained = words_of_jobs(horizon->arena, more, more_count);
	return less_count == 0 ? arena_format(horizon->arena, "then %s too", gained)
	                       : arena_format(horizon->arena, "then %s, and not %s", gained,
	                                      words_of_jobs(horizon->arena, less, less_count));
}

/* Is one of the shortage's own jobs served that was not? Else it is a cure of something else. */
static bool gains_own(const struct cure_work *work, const struct told_shortage *shortage,
                      const struct trial *trial)
{
	bool gains = false;
	for (uint32_t i = 0; i < shortage->row_count && !gains; i++) {
		uint32_t job = shortage->rows[i].job;
		gains = is_served(&trial->plan, job) && !is_served(&work->horizon->answer.plan, job);
	}
	return gains;
}

/* No job more, but the shortage's only one lacks less. */
static bool leaves_less(const struct cure_work *work, const struct lacking *lacking,
                        const struct trial *trial, const char **then)
{
	if (lacking->shortage->told.job_count != 1 ||
	    trial->plan.served < work->horizon->answer.plan.served ||
	    is_served(&trial->plan, lacking->job)) {
		return false;
	}
	struct open_needs open = open_needs_of(&trial->model, &trial->plan, lacking->job, trial->arena);
	if (open.count >= lacking->open) {
		return false;
	}
	*then = arena_format(work->horizon->arena, "then %s short of %zu need%s, not %zu",
	                     planned_job(work->horizon, lacking->job)->job.number, open.count,
	                     open.count == 1 ? "" : "s", lacking->open);
	return true;
}

bool trial_cures(const struct cure_work *work, const struct lacking *lacking, struct trial *trial,
                 size_t *cured, const char **then)
{
	for (uint32_t i = 0; i < lacking->shortage->row_count; i++) {
		trial->touched[lacking->shortage->rows[i].job] = 1;
	}
	trial->touched[lacking->job] = 1;
	*cured = trial_solve(trial);
	if (*cured == 0) {
		return leaves_less(work, lacking, trial, then);
	}
	*then = words_of_gain(work, trial);
	return gains_own(work, lacking->shortage, trial);
}

/* ---------------------------------------------------------------- a tool more */

/* The same to its last figure: of gears of like words one may have another bore. */
static bool is_alike(const struct imagined *a, const struct imagined *b)
{
	bool alike = strcmp(a->need, b->need) == 0 && a->figure_count == b->figure_count;
	for (size_t i = 0; i < a->figure_count && alike; i++) {
		alike = strcmp(a->figures[i].name, b->figures[i].name) == 0 &&
		        strcmp(a->figures[i].value, b->figures[i].value) == 0;
	}
	return alike;
}

static struct tried_tool *tried_before(const struct cure_work *work, const struct imagined *tool)
{
	for (struct tried_tool *tried = work->tried; tried != NULL; tried = tried->next) {
		if (is_alike(&tried->tool, tool)) {
			return tried;
		}
	}
	return NULL;
}

static const char *tool_words(const struct told_shortage *shortage)
{
	const struct group_rules *rules = rules_of_group(shortage->group);
	return shortage->companions ? rules->companion_words : rules->item_words;
}

static void purchase_note(struct cure_work *work, const struct ahead_cure *cure)
{
	if (cure->cured > 0 && (work->purchase == NULL || cure->cured > work->purchase->cured)) {
		work->purchase = arena_take(work->horizon->arena, 1, sizeof *work->purchase);
		*work->purchase = *cure;
	}
}

static struct ahead_cure cure_with_tool(struct arena *arena, const struct told_shortage *shortage,
                                        const struct imagined *tool, size_t cured, const char *then)
{
	return (struct ahead_cure){
		.kind = "tool",
		.need = tool->need,
		.cured = cured,
		.figures = tool->figures,
		.figure_count = tool->figure_count,
		.text = arena_format(arena, "one more %s, %s%s: %s", tool_words(shortage), tool->words,
	                         tool->kind == TOOL_ROLL ? " or wider" : "", then),
	};
}

/* The jobs that are served more often are remembered: the next shortage may ask for the same. */
static void tried_keep(struct cure_work *work, const struct imagined *tool,
                       const struct trial *trial, size_t cured, const char *then)
{
	struct arena *arena = work->horizon->arena;
	struct tried_tool *tried = arena_take(arena, 1, sizeof *tried);
	*tried = (struct tried_tool){.next = work->tried,
	                             .tool = *tool,
	                             .cured = cured,
	                             .then = then,
	                             .gained = arena_take(arena, trial->model.job_count, 1)};
	for (uint32_t i = 0; i < trial->model.job_count; i++) {
		tried->gained[i] = is_served(&trial->plan, i);
	}
	work->tried = tried;
}

static bool gains_own_then(const struct tried_tool *tried, const struct lacking *lacking)
{
	bool gains = false;
	for (uint32_t i = 0; i < lacking->shortage->row_count && !gains; i++) {
		uint32_t job = lacking->shortage->rows[i].job;
		gains = job == lacking->job && tried->gained[job] != 0;
	}
	return gains;
}

/* True where it cures, now or as it did when it was tried. */
static bool cure_by_tool(struct cure_work *work, struct lacking *lacking,
                         const struct imagined *tool)
{
	struct horizon *horizon = work->horizon;
	struct tried_tool *tried = tried_before(work, tool);
	struct trial trial;
	size_t cured = 0;
	const char *then = NULL;
	bool cures;
	if (tried != NULL && tried->cured > 0) {
		cured = tried->cured;
		then = tried->then;
		cures = gains_own_then(tried, lacking);
	} else {
		trial_begin(horizon, work->arena, &trial);
		cures = trial_add_tool(&trial, tool->kind, kind_count(&horizon->shelf.tools, tool->kind)) &&
		        trial_cures(work, lacking, &trial, &cured, &then);
	}
	if (cured > 0 && (tried == NULL || tried->cured == 0)) {
		tried_keep(work, tool, &trial, cured, then);
	}
	if (!cures && cured == 0) {
		return false;
	}
	struct ahead_cure cure = cure_with_tool(horizon->arena, lacking->shortage, tool, cured, then);
	purchase_note(work, &cure);
	if (cures) {
		*cure_of(work, lacking, cure.kind, cured) = cure;
	}
	return cures;
}

/* Made for one of its needs. A die is first tried for a magnetic cylinder that is there. */
static bool cure_by_tool_for(struct cure_work *work, struct lacking *lacking, struct joint_row row)
{
	bool cured = false;
	int sorts = lacking->shortage->group == JOINT_DIES ? 2 : 1;
	for (int solid = 0; solid < sorts && !cured; solid++) {
		struct imagined tool;
		if (imagine_tool(work->horizon, lacking->shortage, row, solid == 1, &tool)) {
			cured = cure_by_tool(work, lacking, &tool);
		}
		arena_reset(work->horizon->scratch);
	}
	return cured;
}

/* Made for the needs of the job one after the other, until one cures. */
static void cures_by_tool(struct cure_work *work, struct lacking *lacking)
{
	const struct told_shortage *shortage = lacking->shortage;
	size_t tried = 0;
	for (uint32_t i = 0; i < shortage->row_count && tried < ROWS_IMAGINED; i++) {
		if (shortage->rows[i].job != lacking->job || time_is_over(work)) {
			continue;
		}
		tried++;
		if (cure_by_tool_for(work, lacking, shortage->rows[i])) {
			return;
		}
	}
}

/* ---------------------------------------------------------------- in order, smallest first */

static int rank_of(const struct ahead_cure *cure)
{
	static const char *const kinds_in_order[] = {"clear", "return", "shift", "tool"};
	int rank = 0;
	while (rank < (int)COUNT_OF(kinds_in_order) - 1 &&
	       strcmp(kinds_in_order[rank], cure->kind) != 0) {
		rank++;
	}
	return rank;
}

static int cures_compare(const void *a, const void *b)
{
	const struct ahead_cure *x = a, *y = b;
	/* What serves no job more comes last. */
	if ((x->cured > 0) != (y->cured > 0)) {
		return x->cured > 0 ? -1 : 1;
	}
	if (rank_of(x) != rank_of(y)) {
		return rank_of(x) - rank_of(y);
	}
	if (x->by.known && y->by.known && x->by.value.s != y->by.value.s) {
		return x->by.value.s < y->by.value.s ? -1 : 1;
	}
	return strcmp(x->text, y->text);
}

/* ---------------------------------------------------------------- all of them */

/* The first job of the shortage that is not served; false where there is none. */
static bool lacking_take(const struct horizon *horizon, struct told_shortage *shortage,
                         struct lacking *out)
{
	const struct joint_plan *plan = &horizon->answer.plan;
	for (uint32_t i = 0; shortage->modelled && i < shortage->row_count; i++) {
		uint32_t job = shortage->rows[i].job;
		if (!is_served(plan, job)) {
			struct open_needs open = open_needs_of(&horizon->model, plan, job, horizon->scratch);
			*out = (struct lacking){.shortage = shortage,
			                        .job = job,
			                        .row = shortage->rows[i],
			                        .open = open.count};
			arena_reset(horizon->scratch);
			return true;
		}
	}
	return false;
}

static void cures_of(struct cure_work *work, struct lacking *lacking, int pass)
{
	bool tools = lacking->shortage->group != JOINT_PRESS;
	if (pass == 0 && tools) {
		cures_by_tool(work, lacking);
	} else if (pass == 1) {
		cures_by_shift(work, lacking);
	} else if (pass == 2 && tools) {
		cures_by_absent(work, lacking);
	}
}

void shortages_cure(struct horizon *horizon, struct shortage_list *list, double deadline,
                    const struct ahead_cure **purchase)
{
	struct cure_work work = {.horizon = horizon, .arena = arena_new(), .deadline = deadline};
	struct lacking *all = arena_take(horizon->arena, list->count, sizeof *all);
	size_t count = 0;
	for (size_t i = 0; i < list->count; i++) {
		count += lacking_take(horizon, &list->items[i], &all[count]) ? 1 : 0;
	}
	/* Every shortage gets one sort of cure before any gets the next: time may run out. */
	for (int pass = 0; pass < 3; pass++) {
		for (size_t i = 0; i < count && !time_is_over(&work); i++) {
			cures_of(&work, &all[i], pass);
		}
	}
	for (size_t i = 0; i < count; i++) {
		struct ahead_shortage *told = &all[i].shortage->told;
		if (all[i].count > 1) {
			qsort(all[i].cures, all[i].count, sizeof *all[i].cures, cures_compare);
		}
		told->cures = all[i].cures;
		told->cure_count = all[i].count;
	}
	*purchase = work.purchase;
	arena_free(work.arena);
}
