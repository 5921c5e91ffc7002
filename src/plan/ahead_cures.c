/*
 * What would cure a shortage: a tool more, a job at another time, a tool back sooner or cleared.
 * Each is tried on the model, and told only where more jobs are served with it.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead_cures.h"
#include "words.h"

#define TOOLS_TRIED 5 /* tools on hold or away, of one shortage */
#define ROWS_IMAGINED 3

/* A tool more that was tried already: shortages often ask for the same. */
struct tried_tool {
	struct tried_tool *next;
	const char *need, *words;
	size_t cured;
	const char *then;
	uint8_t *gained; /* by job of the model: is it served then? */
};

bool time_is_over(const struct cure_work *work)
{
	return running_seconds() > work->deadline;
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
	*cured = trial_solve(trial);
	if (*cured == 0) {
		return leaves_less(work, lacking, trial, then);
	}
	*then = words_of_gain(work, trial);
	return gains_own(work, lacking->shortage, trial);
}

/* ---------------------------------------------------------------- a tool more */

static struct tried_tool *tried_before(const struct cure_work *work, const struct imagined *tool)
{
	for (struct tried_tool *tried = work->tried; tried != NULL; tried = tried->next) {
		if (strcmp(tried->need, tool->need) == 0 && strcmp(tried->words, tool->words) == 0) {
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
	                             .need = tool->need,
	                             .words = tool->words,
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

/* ---------------------------------------------------------------- a tool back, or cleared */

static struct known_moment by_start(const struct cure_work *work, const struct lacking *lacking)
{
	return (struct known_moment){.known = true,
	                             .value = planned_job(work->horizon, lacking->job)->span.from};
}

static void one_tool(struct arena *arena, struct ahead_cure *cure, struct tag tag)
{
	cure->tools = arena_take(arena, 1, sizeof *cure->tools);
	cure->tools[0] = tag;
	cure->tool_count = 1;
}

/* Back by the start of the job, and no sooner. */
static void back_by_start(const struct horizon *horizon, struct trial *trial, uint32_t job,
                          uint32_t resource)
{
	const struct joint_resource *known = horizon->shelf.away[resource];
	const struct joint_resource *back = known != NULL ? known : &horizon->model.resources[resource];
	struct joint_resource *own = &trial->model.resources[resource];
	own->busy = arena_take(trial->arena, (size_t)back->busy_count + 1, sizeof *own->busy);
	own->busy[0] = (struct joint_time){TIME_EVER, horizon->model.jobs[job].time.from};
	own->busy_count = 1;
	for (uint32_t i = 0; i < back->busy_count; i++) {
		struct joint_time *last = &own->busy[own->busy_count - 1];
		if (back->busy[i].from <= last->until) {
			last->until = back->busy[i].until > last->until ? back->busy[i].until : last->until;
		} else {
			own->busy[own->busy_count++] = back->busy[i];
		}
	}
}

/* It is due, but too late: have it back by the start. */
static bool cure_by_return(struct cure_work *work, struct lacking *lacking, enum tool_kind kind,
                           size_t item)
{
	struct horizon *horizon = work->horizon;
	struct tool *tool = shelf_tool(&horizon->shelf, kind, item);
	uint32_t resource = horizon->shelf.first[kind] + (uint32_t)item;
	const struct joint_resource *back = horizon->shelf.away[resource];
	struct trial trial;
	size_t cured;
	const char *then;
	bool cures = false;
	trial_begin(horizon, work->arena, &trial);
	back_by_start(horizon, &trial, lacking->job, resource);
	if (back != NULL) {
		cures = trial_cures(work, lacking, &trial, &cured, &then);
	} else {
		tool->sort = SORT_STORE;
		cures =
			trial_add_tool(&trial, kind, item) && trial_cures(work, lacking, &trial, &cured, &then);
		tool->sort = SORT_SUPPLIER;
	}
	if (!cures) {
		return false;
	}
	struct arena *arena = horizon->arena;
	struct ahead_cure *cure = cure_of(work, lacking, "return", cured);
	cure->need = lacking->shortage->told.need;
	cure->from = by_start(work, lacking);
	one_tool(arena, cure, tool->tag);
	cure->text =
		arena_format(arena, "have %s back from %s by %s (%s%s): %s", tag_shown(tool->tag).bytes,
	                 tool->place, moment_text(cure->from.value).bytes,
	                 tool->back.known ? "due " : "no date back is on record",
	                 tool->back.known ? moment_text(tool->back.value).bytes : "", then);
	return true;
}

static bool cure_by_clearing(struct cure_work *work, struct lacking *lacking, enum tool_kind kind,
                             size_t item)
{
	struct horizon *horizon = work->horizon;
	struct tool *tool = shelf_tool(&horizon->shelf, kind, item);
	struct trial trial;
	size_t cured;
	const char *then;
	trial_begin(horizon, work->arena, &trial);
	tool->condition = CONDITION_READY;
	bool cures =
		trial_add_tool(&trial, kind, item) && trial_cures(work, lacking, &trial, &cured, &then);
	tool->condition = CONDITION_HOLD;
	if (!cures) {
		return false;
	}
	struct ahead_cure *cure = cure_of(work, lacking, "clear", cured);
	cure->need = lacking->shortage->told.need;
	one_tool(horizon->arena, cure, tool->tag);
	cure->text =
		arena_format(horizon->arena, "put right and clear %s%s%s: %s", tag_shown(tool->tag).bytes,
	                 tool->condition_text != NULL ? ", on hold for " : "",
	                 tool->condition_text != NULL ? tool->condition_text : "", then);
	return true;
}

/* Would it do for the need of the job on some option, if it were there? */
static bool would_do(const struct horizon *horizon, const struct lacking *lacking, size_t item)
{
	const struct horizon_job *job = planned_job(horizon, lacking->job);
	const struct told_shortage *shortage = lacking->shortage;
	const struct group_rules *rules = rules_of_group(shortage->group);
	size_t before = shortage->group == JOINT_CYLINDERS ? 0
	                : shortage->group == JOINT_ROLLS   ? job->printing_count
	                                                   : job->printing_count * 2;
	for (size_t i = 0; i < job->option_count; i++) {
		const struct run_option *option = &job->options[i];
		struct question question =
			horizon_question(horizon, job, option->press, option->candidate, horizon->scratch);
		size_t row = lacking->row.need - before;
		const struct ways *ways = option->ways[lacking->row.need];
		if (!shortage->companions) {
			const struct cut *cut = shortage->group == JOINT_DIES ? &question.cuts[row] : NULL;
			bool asked = cut == NULL || cut->die_id == 0 ||
			             cut->die_id == question.shelf->dies[item].tool.id;
			if (asked && rules->item_suits(&question, row, item, NULL) != SUITS_NOT) {
				return true;
			}
			continue;
		}
		for (uint32_t way = 0; way < ways->count; way++) {
			size_t beside;
			resource_kind(horizon, ways->list[way].item, &beside);
			if (ways->list[way].needs_companion &&
			    rules->companion_suits(&question, beside, item, NULL) != SUITS_NOT) {
				return true;
			}
		}
	}
	return false;
}

/* Is it at a supplier, and not back by the start of the job? */
static bool comes_too_late(const struct horizon *horizon, const struct lacking *lacking,
                           const struct tool *tool, uint32_t resource)
{
	if (horizon->shelf.away[resource] != NULL) {
		return moment_of_day_end(tool->back.value).s > horizon->model.jobs[lacking->job].time.from;
	}
	return tool->place_known && tool->sort == SORT_SUPPLIER && !tool->back.known;
}

static void cures_by_absent(struct cure_work *work, struct lacking *lacking)
{
	struct horizon *horizon = work->horizon;
	enum tool_kind kind = kind_of_group(lacking->shortage->group, lacking->shortage->companions);
	size_t count = kind_count(&horizon->shelf.tools, kind), tried = 0;
	for (size_t item = 0; item < count && tried < TOOLS_TRIED && !time_is_over(work); item++) {
		const struct tool *tool = shelf_tool(&horizon->shelf, kind, item);
		uint32_t resource = horizon->shelf.first[kind] + (uint32_t)item;
		bool late =
			tool->condition == CONDITION_READY && comes_too_late(horizon, lacking, tool, resource);
		bool held = tool->condition == CONDITION_HOLD;
		if ((late || held) && would_do(horizon, lacking, item)) {
			tried++;
			if (late) {
				cure_by_return(work, lacking, kind, item);
			} else {
				cure_by_clearing(work, lacking, kind, item);
			}
		}
		arena_reset(horizon->scratch);
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
