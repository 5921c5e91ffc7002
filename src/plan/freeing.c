/*
 * What an answer is tried with: tools that other jobs have booked, as if they were given, and, of a
 * job that gives some, the others of its tools, which are to stay.
 */
#include <string.h>

#include "promised.h"

static const char *giver_of(const struct freeing *freeing, int64_t tool)
{
	for (size_t i = 0; i < freeing->count; i++) {
		if (freeing->tools[i].tool == tool) {
			return freeing->tools[i].job;
		}
	}
	return NULL;
}

static bool is_settled(const struct freeing *freeing, const char *need)
{
	const char *const *settled = freeing->settled;
	while (settled != NULL && *settled != NULL && strcmp(*settled, need) != 0) {
		settled++;
	}
	return settled != NULL && *settled != NULL;
}

static bool stays(const struct freeing *freeing, int64_t tool)
{
	for (size_t i = 0; i < freeing->stay->tool_count; i++) {
		if (freeing->stay->tools[i].tool == tool) {
			return true;
		}
	}
	return false;
}

/* Without the promises of one job. */
static void drop_promises(struct arena *arena, struct tool *tool, const char *job)
{
	struct promise *kept = arena_take(arena, tool->promise_count, sizeof *kept);
	size_t count = 0;
	for (size_t i = 0; i < tool->promise_count; i++) {
		if (!text_equal_fold(tool->promises[i].job, job)) {
			kept[count++] = tool->promises[i];
		}
	}
	tool->promises = kept;
	tool->promise_count = count;
}

/* A copy of the tools of one kind, each of which begins with a struct tool. */
static void *adjusted(const struct asking *asking, const char *need, const void *tools,
                      size_t *count, size_t size)
{
	const struct freeing *freeing = asking->adjust_by;
	bool settled = is_settled(freeing, need);
	char *copy = arena_take(asking->arena, *count, size);
	size_t kept = 0;
	for (size_t i = 0; i < *count; i++) {
		void *at = copy + kept * size;
		struct tool *tool = at;
		memcpy(at, (const char *)tools + i * size, size);
		const char *giver = giver_of(freeing, tool->id);
		if (giver != NULL) {
			drop_promises(asking->arena, tool, giver);
		}
		kept += !settled || stays(freeing, tool->id);
	}
	*count = kept;
	return copy;
}

void freeing_adjust(const struct asking *asking, struct shelf *shelf)
{
	shelf->cylinders = adjusted(asking, "cylinder", shelf->cylinders, &shelf->cylinder_count,
	                            sizeof *shelf->cylinders);
	shelf->gears = adjusted(asking, "gear", shelf->gears, &shelf->gear_count, sizeof *shelf->gears);
	shelf->rolls =
		adjusted(asking, "anilox", shelf->rolls, &shelf->roll_count, sizeof *shelf->rolls);
	shelf->blades =
		adjusted(asking, "blade", shelf->blades, &shelf->blade_count, sizeof *shelf->blades);
	shelf->dies = adjusted(asking, "die", shelf->dies, &shelf->die_count, sizeof *shelf->dies);
	shelf->magnetic_cylinders =
		adjusted(asking, "magnetic_cylinder", shelf->magnetic_cylinders,
	             &shelf->magnetic_cylinder_count, sizeof *shelf->magnetic_cylinders);
}

/* ---------------------------------------------------------------- what is wanted */

/* Is a tool on the shelf of the question, which holds what suits some need by itself? */
static bool shelf_holds(const struct question *question, const struct promised_tool *tool)
{
	for (size_t group = 0; group < GROUPS; group++) {
		const struct group_rules *rules = serving_rules[group];
		bool item = strcmp(tool->need, rules->item_need) == 0;
		size_t count = item ? rules->item_count(question) : rules->companion_count(question);
		if (!item && strcmp(tool->need, rules->companion_need) != 0) {
			continue;
		}
		for (size_t i = 0; i < count; i++) {
			const struct tool *there =
				item ? rules->item_tool(question, i) : rules->companion_tool(question, i);
			if (there->id == tool->tool) {
				return true;
			}
		}
	}
	return false;
}

/* Is a need of the same table, with what goes with it, short? Else it is only worse than it must.
 */
static bool is_wanted(const struct check *check, const char *need)
{
	for (size_t i = 0; i < check->finding_count; i++) {
		const struct finding *finding = &check->findings[i];
		for (size_t group = 0; finding->level == FINDING_SHORT && group < GROUPS; group++) {
			const char *item = serving_rules[group]->item_need;
			const char *companion = serving_rules[group]->companion_need;
			if ((strcmp(need, item) == 0 || strcmp(need, companion) == 0) &&
			    (strcmp(finding->need, item) == 0 || strcmp(finding->need, companion) == 0)) {
				return true;
			}
		}
	}
	return check->verdict != VERDICT_SHORT;
}

bool tool_is_wanted(const struct placed *placed, const struct promised_tool *tool)
{
	for (size_t i = 0; i < placed->attempts.count; i++) {
		const struct attempt *attempt = placed->attempts.items[i];
		if (is_wanted(&attempt->solution.check, tool->need) &&
		    shelf_holds(&attempt->question, tool)) {
			return true;
		}
	}
	return false;
}

/* ---------------------------------------------------------------- what is given */

struct freeing freeing_of(struct booking *booking, const struct candidate_jobs *among,
                          const bool *which, const struct placed *wanting)
{
	struct freeing freeing = {.count = 0};
	size_t room = 0;
	for (size_t i = 0; i < among->count; i++) {
		room += which[i] ? among->items[i].promise.tool_count : 0;
	}
	freeing.tools = arena_take(booking->arena, room, sizeof *freeing.tools);
	for (size_t i = 0; i < among->count; i++) {
		const struct kept_promise *promise = &among->items[i].promise;
		for (size_t j = 0; which[i] && j < promise->tool_count; j++) {
			if (wanting == NULL || tool_is_wanted(wanting, &promise->tools[j])) {
				freeing.tools[freeing.count++] =
					(struct freed_tool){.tool = promise->tools[j].tool, .job = promise->job_number};
			}
		}
	}
	return freeing;
}

void freeing_make_last(struct booking *booking, struct freeing *freeing)
{
	int64_t *ids = arena_take(booking->arena, freeing->count, sizeof *ids);
	for (size_t i = 0; i < freeing->count; i++) {
		ids[i] = freeing->tools[i].tool;
	}
	freeing->last_choice = (struct tool_list){.ids = ids, .count = freeing->count};
}

struct freeing freeing_taken(struct booking *booking, const struct freeing *given,
                             const struct placed *placed, const struct candidate_jobs *among,
                             bool *which)
{
	size_t count;
	struct freeing taken = {.count = 0};
	const struct promised_tool *tools =
		tools_chosen(booking->arena, placed->attempts.items[0], &count);
	taken.tools = arena_take(booking->arena, given->count, sizeof *taken.tools);
	memset(which, 0, among->count * sizeof *which);
	for (size_t i = 0; i < given->count; i++) {
		bool used = false;
		for (size_t j = 0; j < count && !used; j++) {
			used = tools[j].tool == given->tools[i].tool;
		}
		for (size_t j = 0; used && j < among->count; j++) {
			which[j] =
				which[j] || strcmp(among->items[j].promise.job_number, given->tools[i].job) == 0;
		}
		if (used) {
			taken.tools[taken.count++] = given->tools[i];
		}
	}
	return taken;
}
