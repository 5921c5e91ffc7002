/*
 * Of the tools that would do for a need, those that are there for one job on one press at its time,
 * tools promised to it first.
 */
#include <stdlib.h>
#include <string.h>

#include "ahead.h"

#define TAKEN_MOST 4

bool is_promised(const struct horizon_job *job, int64_t tool)
{
	for (size_t i = 0; job->promise != NULL && i < job->promise->tool_count; i++) {
		if (job->promise->tools[i].tool == tool) {
			return true;
		}
	}
	return false;
}

enum suits there_now(const struct question *question, const struct tool *tool, bool carries,
                     struct remarks *remarks)
{
	struct tool asked = *tool;
	struct promise others[TAKEN_MOST];
	const char *job = question->job->number;
	/* Taken out it is for one job at a time. */
	asked.promise_count = 0;
	asked.promises = others;
	for (size_t i = 0; i < tool->promise_count && asked.promise_count < TAKEN_MOST; i++) {
		if (strcmp(tool->promises[i].job, job) != 0) {
			others[asked.promise_count++] = tool->promises[i];
		}
	}
	return tool_there(&asked, job, question->press->press.id, question->span, question->limits,
	                  carries, remarks);
}

/* The companions that are there, those promised to the job first; the same where that is all. */
void companions_of_job(const struct horizon *horizon, const struct question *question,
                       const struct horizon_job *job, struct arena *arena, struct joint_way *way)
{
	uint32_t *list = arena_take(arena, way->companion_count, sizeof *list);
	uint32_t count = 0;
	for (int promised = 1; promised >= 0; promised--) {
		for (uint32_t i = 0; i < way->companion_count; i++) {
			const struct tool *tool = resource_tool(horizon, way->companions[i]);
			if (is_promised(job, tool->id) == (promised == 1) &&
			    there_now(question, tool, false, NULL) != SUITS_NOT) {
				list[count++] = way->companions[i];
			}
		}
	}
	way->companions = list;
	way->companion_count = count;
}

bool way_of_job(const struct horizon *horizon, const struct question *question,
                const struct horizon_job *job, bool carries, struct arena *arena,
                struct joint_way *way)
{
	if (there_now(question, resource_tool(horizon, way->item), carries, NULL) == SUITS_NOT) {
		return false;
	}
	companions_of_job(horizon, question, job, arena, way);
	return true;
}

struct placed {
	struct judged judged;
	struct joint_way way;
};

static int placed_compare(const void *a, const void *b)
{
	const struct placed *x = a, *y = b;
	return judged_compare(&x->judged, &y->judged);
}

const struct joint_way *ways_of_job(struct horizon *horizon, const struct ways *ways,
                                    const struct question *question, const struct horizon_job *job,
                                    struct arena *arena, uint32_t *count)
{
	const struct group_rules *rules = rules_of_group(ways->group);
	bool carries = ways->group == JOINT_CYLINDERS;
	*count = ways->count;
	if (!ways->by_job && job->promise == NULL) {
		return ways->list;
	}
	struct placed *placed = arena_take(horizon->scratch, ways->count, sizeof *placed);
	*count = 0;
	for (uint32_t i = 0; i < ways->count; i++) {
		struct placed *here = &placed[*count];
		*here = (struct placed){.judged = ways->judged[i], .way = ways->list[i]};
		const struct tool *tool = rules->item_tool(question, here->judged.item);
		enum suits there = there_now(question, tool, carries, NULL);
		if (there == SUITS_NOT) {
			continue;
		}
		here->judged.level =
			(uint8_t)(there > here->judged.suits ? there : (enum suits)here->judged.suits);
		here->judged.preferred = is_promised(job, tool->id);
		here->way.doubtful = here->judged.level == SUITS_DOUBTFUL;
		companions_of_job(horizon, question, job, arena, &here->way);
		++*count;
	}
	if (*count > 1) {
		qsort(placed, *count, sizeof *placed, placed_compare);
	}
	struct joint_way *list = arena_take(arena, *count, sizeof *list);
	for (uint32_t i = 0; i < *count; i++) {
		list[i] = placed[i].way;
	}
	return list;
}
