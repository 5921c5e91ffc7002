/* Tools that would do and are not there: one that is back sooner, one that is cleared. */
#include "ahead_cures.h"
#include "words.h"

#define TOOLS_TRIED 5 /* of one shortage */

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

void cures_by_absent(struct cure_work *work, struct lacking *lacking)
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
