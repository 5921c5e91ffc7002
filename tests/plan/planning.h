/*
 * Jobs with a time on the small shop of gathering.h, the model that is made of them, and what all
 * of them together come to. All figures are invented for the tests.
 */
#ifndef TOOTHRACK_TESTS_PLAN_PLANNING_H
#define TOOTHRACK_TESTS_PLAN_PLANNING_H

#include "gathering.h"
#include "plan/ahead.h"

#define HOUR 3600

/* An hour of the first of December, or of a later day by more than 24. */
static inline struct moment hour(int64_t of)
{
	struct moment day;
	assert_int_equal(moment_parse("2026-12-01T00:00:00Z", &day, NULL), OUTCOME_DONE);
	day.s += of * HOUR;
	return day;
}

static inline const char *hour_text(struct shop *shop, int64_t of)
{
	return arena_copy(shop->arena, moment_text_utc(hour(of)).bytes);
}

/* A moment kept as text: `UPDATE job SET starts = '%s' WHERE id = %lld`. */
static inline void set_moment(struct shop *shop, const char *format, struct moment moment,
                              int64_t id)
{
	char sql[256];
	snprintf(sql, sizeof sql, format, moment_text_utc(moment).bytes, /* NOLINT: the tests' own */
	         (long long)id);
	assert_int_equal(shop_run(shop, sql), SQLITE_OK);
}
#define SET_START "UPDATE job SET starts = '%s' WHERE id = %lld"
#define SET_END "UPDATE job SET ends = '%s' WHERE id = %lld"
#define SET_BACK "UPDATE tool SET back = '%s' WHERE id = %lld"

/* A repeat order from one hour until another, with so many stations that ask 4 cm3/m2. */
static inline int64_t job_at(struct shop *shop, const char *number, const char *press, int64_t from,
                             int64_t until, int stations)
{
	int64_t job = job_new(shop, number, press,
	                      WORDS("teeth", "96", "pitch", "1/8cp", "number_around", "4", "from",
	                            hour_text(shop, from), "until", hour_text(shop, until)));
	for (int i = 1; i <= stations; i++) {
		station_new(shop, number, arena_format(shop->arena, "%d", i), "black", "4cm3/m2");
	}
	return job;
}

/* So many of all that a station and a cut ask for. */
static inline void stock(struct shop *shop, int sets)
{
	for (int i = 0; i < sets; i++) {
		for (enum kind_id kind = KIND_CYLINDER; kind <= KIND_MAGNETIC_CYLINDER; kind++) {
			tool_new(shop, kind, NULL);
		}
	}
}

struct planning {
	struct ahead_request request;
	struct limits limits;
	struct horizon horizon;
};

static inline struct planning *planning_of(struct shop *shop)
{
	struct planning *planning = arena_take(shop->arena, 1, sizeof *planning);
	planning->limits = default_limits();
	planning->request = (struct ahead_request){
		.from = shop->actor.now,
		.until = hour(14 * 24),
		.now = shop->actor.now,
		.cures = true,
		.seconds = 2,
		.limits = &planning->limits,
	};
	return planning;
}

/* Reads the shop and makes the model of it. */
static inline struct horizon *modelled(struct shop *shop, struct planning *planning)
{
	struct horizon *horizon = &planning->horizon;
	*horizon = (struct horizon){
		.store = shop->store,
		.arena = shop->arena,
		.scratch = arena_new(),
		.fault = &shop->fault,
		.request = &planning->request,
		.ways = arena_take(shop->arena, 1, sizeof *horizon->ways),
	};
	assert_int_equal(horizon_read(horizon), OUTCOME_DONE);
	assert_int_equal(horizon_model(horizon), OUTCOME_DONE);
	return horizon;
}

static inline const struct horizon_job *job_named(const struct horizon *horizon, const char *number)
{
	const struct horizon_job *job = horizon_job_find(horizon, number);
	assert_non_null(job);
	return job;
}

static inline const struct joint_job *model_job(const struct horizon *horizon, const char *number)
{
	const struct horizon_job *job = job_named(horizon, number);
	assert_int_equal(job->standing, JOB_TO_PLAN);
	return &horizon->model.jobs[job->modelled];
}

/* The need of a group at a station or cut, of a job's first option. */
static inline const struct joint_need *need_at(const struct horizon *horizon, const char *number,
                                               enum joint_group group, int64_t at)
{
	const struct joint_job *job = model_job(horizon, number);
	assert_true(job->option_count > 0);
	for (uint32_t i = 0; i < job->need_count; i++) {
		const struct joint_need *need = &job->options[0].needs[i];
		if (need->group == group && need->number == at) {
			return need;
		}
	}
	fail_msg("no such need");
	return NULL;
}

static inline int64_t tool_of_way(const struct horizon *horizon, const struct joint_need *need,
                                  uint32_t way)
{
	assert_true(way < need->way_count);
	return resource_tool(horizon, need->ways[way].item)->id;
}

static inline const struct joint_resource *resource_for(const struct horizon *horizon, int64_t tool)
{
	uint32_t resource = resource_of_tool(horizon, tool);
	assert_int_not_equal(resource, JOINT_NONE);
	return &horizon->model.resources[resource];
}

static inline const struct joint_resource *press_resource(const struct horizon *horizon,
                                                          const char *code)
{
	for (size_t i = 0; i < horizon->press_count; i++) {
		if (strcmp(horizon->presses[i].state.press.code, code) == 0) {
			return &horizon->model.resources[i];
		}
	}
	fail_msg("press not known: %s", code);
	return NULL;
}

static inline void assert_busy(const struct joint_resource *resource, uint32_t index, int64_t from,
                               int64_t until)
{
	assert_true(index < resource->busy_count);
	assert_int_equal(resource->busy[index].from, from);
	assert_int_equal(resource->busy[index].until, until);
}

static inline struct ahead *together(struct shop *shop, struct planning *planning)
{
	struct ahead *ahead = arena_take(shop->arena, 1, sizeof *ahead);
	assert_int_equal(plan_ahead(shop->store, shop->arena, &planning->request, ahead, &shop->fault),
	                 OUTCOME_DONE);
	return ahead;
}

static inline const struct ahead_job *told(const struct ahead *ahead, const char *number)
{
	for (size_t i = 0; i < ahead->job_count; i++) {
		if (strcmp(ahead->jobs[i].job, number) == 0) {
			return &ahead->jobs[i];
		}
	}
	fail_msg("job not told: %s", number);
	return NULL;
}

static inline const struct ahead_cure *cure_told(const struct ahead_shortage *shortage,
                                                 const char *kind)
{
	for (size_t i = 0; i < shortage->cure_count; i++) {
		if (strcmp(shortage->cures[i].kind, kind) == 0) {
			return &shortage->cures[i];
		}
	}
	return NULL;
}

/* Promises to a job, on a press over its time, the first of each kind that is of these ids. */
static inline void promise_tools(struct shop *shop, int64_t job, const char *press, int64_t from,
                                 int64_t until, struct promised_tool *tools, size_t count)
{
	struct pitch pitch;
	assert_int_equal(pitch_parse("1/8cp", &pitch, NULL), OUTCOME_DONE);
	const struct kept_promise kept = {
		.job = job,
		.press = id_of(shop, press),
		.from = hour(from),
		.until = hour(until),
		.repeat = repeat_of_teeth(96, pitch),
		.number_around = {.known = true, .value = 4},
		.verdict = "ready",
		.answer = "{}",
		.tools = tools,
		.tool_count = count,
	};
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_promise_keep(shop->store, shop->arena, &kept, "book", NULL, &shop->actor,
	                                    &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

#endif
