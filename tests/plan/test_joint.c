/*
 * Jobs together: against trying it all, on models drawn at random. TOOTHRACK_JOINT_MODELS says how
 * many of each sort, TOOTHRACK_JOINT_SEED from where.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "joint_models.h"

static uint32_t number_of(const char *name, uint32_t otherwise)
{
	const char *text = getenv(name);
	return text != NULL ? (uint32_t)strtoul(text, NULL, 10) : otherwise;
}

static const struct drawn sorts[] = {
	/* jobs, items, companions, presses, needs, options, horizon, longest */
	{4, 6, 0, 0, 3, 1, 6, 4},  {5, 6, 0, 2, 2, 2, 8, 4},  {5, 8, 4, 2, 2, 1, 6, 5},
	{6, 6, 2, 3, 2, 2, 10, 6}, {7, 4, 0, 0, 1, 1, 12, 6}, {4, 6, 4, 1, 3, 2, 5, 3},
	{8, 6, 0, 0, 1, 1, 10, 8},
};

/* The first model that differs is told by its sort and state, so that it can be drawn alone. */
static void each_model(void (*judge)(struct arena *arena, const struct joint_model *model))
{
	uint32_t models = number_of("TOOTHRACK_JOINT_MODELS", 400);
	struct random random = {.state = number_of("TOOTHRACK_JOINT_SEED", 20261126)};
	for (size_t sort = 0; sort < COUNT_OF(sorts); sort++) {
		for (uint32_t i = 0; i < models; i++) {
			struct arena *arena = arena_new();
			struct joint_model model = draw_model(arena, &random, &sorts[sort]);
			judge(arena, &model);
			arena_free(arena);
		}
	}
}

static void judge_solved(struct arena *arena, const struct joint_model *model)
{
	const struct joint_settings how = {.seconds = 20};
	struct joint_answer answer;
	joint_solve(arena, model, &how, &answer);
	assert_true(joint_plan_holds(model, &answer.plan));
	assert_true(joint_plan_holds(model, &answer.greedy));
	uint32_t most = most_served(arena, model);
	assert_int_equal(answer.plan.served, most);
	assert_true(answer.proven);
	assert_int_equal(answer.bound, most);
}

static void joint_solve__random_models__serves_as_many_as_trying_it_all(void **state)
{
	(void)state;
	each_model(judge_solved);
}

/* Two jobs at one time, and one tool for both: without a round each alone could be served. */
static void joint_solve__no_time__the_bound_is_still_that_of_one_round(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct joint_resource resource = {.is_press = false};
	const struct joint_way way = {.item = 0};
	struct joint_need need = {.group = JOINT_ROLLS, .number = 1, .ways = &way, .way_count = 1};
	struct joint_option option = {.press = JOINT_NONE, .needs = &need};
	struct joint_job jobs[2] = {
		{.time = {0, 10}, .free = 12, .options = &option, .option_count = 1, .need_count = 1},
		{.time = {5, 20}, .free = 22, .options = &option, .option_count = 1, .need_count = 1},
	};
	const struct joint_model model = {&resource, 1, jobs, 2};
	const struct joint_settings how = {.seconds = 0};
	struct joint_answer answer;
	joint_solve(arena, &model, &how, &answer);
	assert_int_equal(answer.plan.served, 1);
	assert_int_equal(answer.bound, 1);
	assert_true(answer.proven);
	arena_free(arena);
}

/* ---------------------------------------------------------------- shortages */

static bool is_among(uint32_t resource, const struct joint_shortage *shortage)
{
	for (uint32_t i = 0; i < shortage->resource_count; i++) {
		if (shortage->resources[i] == resource) {
			return true;
		}
	}
	return false;
}

/* Does a way lead past the resources of the shortage? */
static bool leads_past(const struct joint_model *model, const struct joint_way *way, int64_t from,
                       int64_t until, const struct joint_shortage *shortage)
{
	if (is_among(way->item, shortage) || !open_for(model, way->item, from, until)) {
		return false;
	}
	bool past = !way->needs_companion;
	for (uint32_t i = 0; way->needs_companion && i < way->companion_count; i++) {
		past = past || (!is_among(way->companions[i], shortage) &&
		                open_for(model, way->companions[i], from, until));
	}
	return past;
}

static void judge_row(const struct joint_model *model, const struct joint_shortage *shortage,
                      struct joint_row row)
{
	const struct joint_job *job = &model->jobs[row.job];
	int64_t until = row.need == JOINT_NONE ? job->time.until : job->free;
	assert_true(job->time.from <= shortage->time.from && shortage->time.until <= until);
	for (uint32_t option = 0; option < job->option_count; option++) {
		if (row.need == JOINT_NONE) {
			const struct joint_way way = {.item = job->options[option].press};
			assert_false(leads_past(model, &way, job->time.from, until, shortage));
			continue;
		}
		const struct joint_need *need = &job->options[option].needs[row.need];
		assert_int_equal(need->group, shortage->group);
		for (uint32_t i = 0; i < need->way_count; i++) {
			assert_false(leads_past(model, &need->ways[i], job->time.from, until, shortage));
		}
	}
}

/*
 * Then two rows may find other companions open beside one item, which the flow does not tell apart:
 * it then says no more than what is certain.
 */
static bool companions_are_busy(const struct joint_model *model)
{
	bool busy = false;
	for (uint32_t job = 0; job < model->job_count; job++) {
		for (uint32_t i = 0; i < model->jobs[job].option_count * model->jobs[job].need_count; i++) {
			uint32_t option = i / model->jobs[job].need_count, at = i % model->jobs[job].need_count;
			const struct joint_need *need = &model->jobs[job].options[option].needs[at];
			for (uint32_t way = 0; way < need->way_count; way++) {
				for (uint32_t j = 0; j < need->ways[way].companion_count; j++) {
					busy = busy || model->resources[need->ways[way].companions[j]].busy_count > 0;
				}
			}
		}
	}
	return busy;
}

static void judge_shortages(struct arena *arena, const struct joint_model *model)
{
	struct joint_shortage *shortages;
	size_t count;
	joint_shortages(arena, model, &shortages, &count);
	for (size_t i = 0; i < count; i++) {
		assert_true(shortages[i].row_count > shortages[i].resource_count);
		for (uint32_t j = 0; j < shortages[i].row_count; j++) {
			judge_row(model, &shortages[i], shortages[i].rows[j]);
		}
	}
	for (int64_t moment = 0; moment < 20; moment++) {
		for (int group = 0; group < JOINT_GROUPS; group++) {
			uint32_t lack = 0;
			for (size_t i = 0; i < count; i++) {
				if ((int)shortages[i].group == group && shortages[i].time.from <= moment &&
				    moment < shortages[i].time.until) {
					lack += shortages[i].row_count - shortages[i].resource_count;
				}
			}
			uint32_t left_out = left_out_at(model, (enum joint_group)group, moment);
			assert_true(companions_are_busy(model) ? lack <= left_out : lack == left_out);
		}
	}
}

static void joint_shortages__random_models__as_many_as_trying_it_all_and_each_a_violator(
	void **state)
{
	(void)state;
	each_model(judge_shortages);
}

/* ---------------------------------------------------------------- trials */

/* A tool more never serves fewer, and what is served is a plan. */
static void judge_improved(struct arena *arena, const struct joint_model *model)
{
	const struct joint_settings how = {.seconds = 20};
	struct joint_answer answer;
	struct joint_plan improved;
	struct joint_model more = *model;
	joint_solve(arena, model, &how, &answer);
	more.resources = arena_grow(arena, model->resources, model->resource_count,
	                            model->resource_count + 1, sizeof *more.resources);
	more.resource_count++;
	for (uint32_t job = 0; job < model->job_count; job++) {
		for (uint32_t option = 0; option < model->jobs[job].option_count; option++) {
			for (uint32_t i = 0; i < model->jobs[job].need_count; i++) {
				struct joint_need *need = &model->jobs[job].options[option].needs[i];
				struct joint_way *ways = arena_grow(arena, need->ways, need->way_count,
				                                    need->way_count + 1, sizeof *ways);
				if (need->group == JOINT_ROLLS) {
					ways[need->way_count++] = (struct joint_way){.item = more.resource_count - 1};
					need->ways = ways;
				}
			}
		}
	}
	joint_improve(arena, &more, &answer.plan, NULL, 0, &improved);
	assert_true(joint_plan_holds(&more, &improved));
	assert_true(improved.served >= answer.plan.served);
	assert_true(improved.served <= most_served(arena, &more));
}

static void joint_improve__a_tool_more__serves_no_fewer_and_holds(void **state)
{
	(void)state;
	each_model(judge_improved);
}

/* ---------------------------------------------------------------- plans that are none */

static void joint_plan_holds__a_tool_twice__is_no_plan(void **state)
{
	(void)state;
	struct joint_resource resources[2] = {{.is_press = false}, {.is_press = false}};
	const struct joint_way ways[] = {{.item = 0}, {.item = 1}};
	struct joint_need need = {.group = JOINT_ROLLS, .number = 1, .ways = ways, .way_count = 2};
	struct joint_option option = {.press = JOINT_NONE, .needs = &need};
	struct joint_job jobs[2] = {
		{.time = {0, 10}, .free = 12, .options = &option, .option_count = 1, .need_count = 1},
		{.time = {11, 20}, .free = 22, .options = &option, .option_count = 1, .need_count = 1},
	};
	const struct joint_model model = {resources, 2, jobs, 2};
	uint32_t options[2] = {0, 0};
	struct joint_given first = {0, JOINT_NONE}, second = {0, JOINT_NONE};
	struct joint_given *given[2] = {&first, &second};
	struct joint_plan plan = {options, given, 2};
	assert_false(joint_plan_holds(&model, &plan));
	second.way = 1;
	assert_true(joint_plan_holds(&model, &plan));
	second.way = 0;
	jobs[1].time.from = 12; /* just when it is free again */
	assert_true(joint_plan_holds(&model, &plan));
	plan.served = 1;
	assert_false(joint_plan_holds(&model, &plan));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(joint_solve__random_models__serves_as_many_as_trying_it_all),
		cmocka_unit_test(joint_solve__no_time__the_bound_is_still_that_of_one_round),
		cmocka_unit_test(
			joint_shortages__random_models__as_many_as_trying_it_all_and_each_a_violator),
		cmocka_unit_test(joint_improve__a_tool_more__serves_no_fewer_and_holds),
		cmocka_unit_test(joint_plan_holds__a_tool_twice__is_no_plan),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
