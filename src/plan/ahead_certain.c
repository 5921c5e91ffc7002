/*
 * What no plan can avoid, of presses and of tools. A job that has no press by then competes for no
 * tool: it cannot run whatever it gets.
 */
#include <string.h>

#include "ahead.h"

static bool press_is_busy(const struct joint_model *model, const struct joint_job *job,
                          uint32_t press)
{
	const struct joint_resource *resource = &model->resources[press];
	bool busy = false;
	for (uint32_t i = 0; i < resource->busy_count && !busy; i++) {
		busy = resource->busy[i].from < job->time.until && job->time.from < resource->busy[i].until;
	}
	return busy;
}

/* The jobs on those presses alone that nobody outside the model has by then. */
static struct joint_job *jobs_on_free_presses(struct arena *arena, const struct joint_model *model)
{
	struct joint_job *jobs = arena_take(arena, model->job_count, sizeof *jobs);
	for (uint32_t i = 0; i < model->job_count; i++) {
		const struct joint_job *job = &model->jobs[i];
		struct joint_option *options = arena_take(arena, job->option_count, sizeof *options);
		jobs[i] = *job;
		jobs[i].options = options;
		jobs[i].option_count = 0;
		for (uint32_t j = 0; j < job->option_count; j++) {
			uint32_t press = job->options[j].press;
			if (press == JOINT_NONE || !press_is_busy(model, job, press)) {
				options[jobs[i].option_count++] = job->options[j];
			}
		}
	}
	return jobs;
}

/* The jobs with no need but their press. */
static struct joint_job *jobs_without_needs(struct arena *arena, const struct joint_model *model)
{
	struct joint_job *jobs = arena_take(arena, model->job_count, sizeof *jobs);
	for (uint32_t i = 0; i < model->job_count; i++) {
		jobs[i] = model->jobs[i];
		jobs[i].need_count = 0;
	}
	return jobs;
}

void certain_shortages(struct horizon *horizon, struct joint_shortage **out, size_t *count)
{
	struct arena *arena = horizon->arena;
	struct joint_model presses = horizon->model, tools = horizon->model;
	struct joint_shortage *of_presses, *of_tools;
	size_t press_count, tool_count;
	presses.jobs = jobs_without_needs(arena, &horizon->model);
	tools.jobs = jobs_on_free_presses(arena, &horizon->model);
	joint_shortages(arena, &presses, &of_presses, &press_count);
	joint_shortages(arena, &tools, &of_tools, &tool_count);
	*out = arena_take(arena, press_count + tool_count, sizeof **out);
	*count = 0;
	for (size_t i = 0; i < press_count; i++) {
		(*out)[(*count)++] = of_presses[i];
	}
	for (size_t i = 0; i < tool_count; i++) {
		if (of_tools[i].group != JOINT_PRESS) {
			(*out)[(*count)++] = of_tools[i];
		}
	}
}
