/* The model of all jobs together, made of a small shop: who is in it, when, and what would do. */
#include "planning.h"

/* ---------------------------------------------------------------- times */

static void model__a_job__press_to_its_end_and_tools_to_the_turnaround(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 2);
	job_at(shop, "J1", "P1", 10, 12, 2);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_job *job = model_job(horizon, "J1");
	assert_int_equal(job->time.from, hour(10).s);
	assert_int_equal(job->time.until, hour(12).s);
	assert_int_equal(job->free, hour(13).s);
	assert_int_equal(job->need_count, 5);
	assert_int_equal(job->option_count, 1);
	arena_free(horizon->scratch);
}

static void model__turnaround_over_night__ends_in_open_hours(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	/* 2026-12-01 is a Tuesday. */
	assert_int_equal(calendar_shifts_parse("mon-fri 06:00-22:00", &planning->limits.calendar, NULL),
	                 OUTCOME_DONE);
	job_at(shop, "J1", "P1", 20, 22, 1);
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(model_job(horizon, "J1")->free, hour(24 + 7).s);
	arena_free(horizon->scratch);
}

static void model__no_length__a_second_at_least(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	planning->limits.turnaround.s = 0;
	job_at(shop, "J1", "P1", 10, 10, 1);
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(model_job(horizon, "J1")->time.until, hour(10).s + 1);
	assert_int_equal(model_job(horizon, "J1")->free, hour(10).s + 1);
	arena_free(horizon->scratch);
}

static void model__no_end__reckoned_where_the_press_has_a_speed(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	job_new(shop, "J1", "P1",
	        WORDS("teeth", "96", "pitch", "1/8cp", "number_around", "4", "from",
	              hour_text(shop, 10)));
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(model_job(horizon, "J1")->time.until, hour(10).s + 1);
	arena_free(horizon->scratch);

	/* 1000 labels, 3 across and 4 around: 84 repeats, 89 with 5 %; 27.1 m at 10 m/min: 3 min. */
	run_sql(shop, "UPDATE press SET speed = 10000000000 WHERE id = %lld", id_of(shop, "P1"), 0);
	planning->limits.make_ready.s = HOUR;
	horizon = modelled(shop, planning);
	assert_int_equal(model_job(horizon, "J1")->time.until, hour(11).s + 180);
	assert_true(job_named(horizon, "J1")->until_reckoned);
	arena_free(horizon->scratch);
}

static void model__no_time_or_passed__not_in_it(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	job_new(shop, "J1", "P1", REPEAT_ORDER);
	job_at(shop, "J2", "P1", 5, 7, 1);
	/* It should have begun, but is not over. */
	job_at(shop, "J3", "P1", 7, 9, 1);
	planning->request.from = hour(0);
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(job_named(horizon, "J1")->standing, JOB_WITHOUT_TIME);
	assert_int_equal(job_named(horizon, "J2")->standing, JOB_PASSED);
	assert_int_equal(job_named(horizon, "J3")->standing, JOB_TO_PLAN);
	assert_int_equal(horizon->model.job_count, 1);
	/* Those without a time stand last. */
	assert_string_equal(horizon->jobs[2].job.number, "J1");
	arena_free(horizon->scratch);
}

/* ---------------------------------------------------------------- presses and repeats */

static void model__presses_asked__those_that_can_do_it(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 3);
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P3", "drive", "geared", "web", "200mm", "repeat_min", "150mm",
	               "repeat_max", "600mm", "pitches", "1/8cp", "stations", "6", "die_stations",
	               "2"));
	job_at(shop, "J1", "P1,P2,P3", 10, 12, 2);
	job_at(shop, "J2", "P3", 10, 12, 2);
	job_at(shop, "J3", "P1", 10, 12, 7);
	struct horizon *horizon = modelled(shop, planning);
	const struct horizon_job *job = job_named(horizon, "J1");
	assert_int_equal(job->option_count, 2);
	assert_string_equal(horizon->presses[job->options[0].press].state.press.code, "P1");
	assert_string_equal(horizon->presses[job->options[1].press].state.press.code, "P2");
	job = job_named(horizon, "J2");
	assert_int_equal(job->option_count, 0);
	assert_int_equal(job->finding_count, 1);
	assert_string_equal(job->findings[0].need, "web");
	/* P1 has six stations. */
	job = job_named(horizon, "J3");
	assert_int_equal(job->option_count, 0);
	assert_string_equal(job->findings[0].need, "press");
	assert_int_equal(job->findings[0].station, 7);
	arena_free(horizon->scratch);
}

static void model__no_press_named__all_in_use(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	job_at(shop, "J1", "P1", 10, 12, 1);
	run_sql(shop, "DELETE FROM job_press WHERE job = %lld", id_of(shop, "J1"), 0);
	run_sql(shop, "UPDATE press SET retired = 1 WHERE id = %lld", id_of(shop, "P2"), 0);
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(model_job(horizon, "J1")->option_count, 1);
	arena_free(horizon->scratch);
}

static void model__retired_press_named__no_option(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	job_at(shop, "J1", "P2", 10, 12, 1);
	run_sql(shop, "UPDATE press SET retired = 1 WHERE id = %lld", id_of(shop, "P2"), 0);
	struct horizon *horizon = modelled(shop, planning);
	const struct horizon_job *job = job_named(horizon, "J1");
	assert_int_equal(job->option_count, 0);
	assert_string_equal(job->findings[0].text, "press P2 is retired");
	arena_free(horizon->scratch);
}

static void model__new_job__repeats_that_the_shelf_gives(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	/* 73 mm and a gap of 2 to 4 mm: 76.2 mm a label; of 24 teeth one, of 48 two, up to 144 six. */
	tool_new(shop, KIND_CYLINDER, WORDS("teeth", "48", "diameter", "44.345mm"));
	tool_new(shop, KIND_CYLINDER, WORDS("teeth", "72", "diameter", "68.595mm"));
	tool_new(shop, KIND_CYLINDER, WORDS("teeth", "120", "diameter", "117.104mm"));
	tool_new(shop, KIND_CYLINDER, WORDS("teeth", "144", "diameter", "141.36mm"));
	job_new(shop, "J1", "P1", WORDS("from", hour_text(shop, 10), "until", hour_text(shop, 12)));
	station_new(shop, "J1", "1", "black", "4cm3/m2");
	struct horizon *horizon = modelled(shop, planning);
	const struct horizon_job *job = job_named(horizon, "J1");
	/* The one die suits all: three are kept, those of the least plate first. */
	assert_int_equal(job->option_count, 5);
	assert_int_equal(job->options[0].candidate.repeat.teeth, 48);
	assert_int_equal(job->options[0].candidate.number_around, 2);
	assert_int_equal(job->options[1].candidate.repeat.teeth, 72);
	assert_int_equal(job->options[2].candidate.repeat.teeth, 96);
	arena_free(horizon->scratch);
}

static void model__new_job_and_nothing_to_print_with__short_of_a_repeat(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	job_new(shop, "J1", "P1", WORDS("from", hour_text(shop, 10)));
	struct horizon *horizon = modelled(shop, planning);
	const struct horizon_job *job = job_named(horizon, "J1");
	assert_int_equal(job->option_count, 0);
	assert_string_equal(job->findings[0].need, "repeat");
	arena_free(horizon->scratch);
}

/* ---------------------------------------------------------------- what would do */

static void model__stations_that_ask_the_same__one_list(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 3);
	job_at(shop, "J1", "P1", 10, 12, 2);
	job_at(shop, "J2", "P1", 14, 16, 2);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *need = need_at(horizon, "J1", JOINT_ROLLS, 1);
	assert_int_equal(need->way_count, 3);
	assert_ptr_equal(need->ways, need_at(horizon, "J1", JOINT_ROLLS, 2)->ways);
	assert_ptr_equal(need->ways, need_at(horizon, "J2", JOINT_ROLLS, 1)->ways);
	assert_ptr_equal(need_at(horizon, "J1", JOINT_CYLINDERS, 1)->ways,
	                 need_at(horizon, "J2", JOINT_CYLINDERS, 2)->ways);
	arena_free(horizon->scratch);
}

static void model__order__doubt_last_then_deviation_run_and_tag(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	int64_t far = tool_new(shop, KIND_ANILOX, WORDS("volume", "4.2cm3/m2"));
	int64_t not_known = tool_new(shop, KIND_ANILOX, NULL);
	run_sql(shop, "UPDATE anilox SET volume = NULL WHERE tool = %lld", not_known, 0);
	int64_t run = tool_new(shop, KIND_ANILOX, WORDS("run", "500m"));
	int64_t first = tool_new(shop, KIND_ANILOX, NULL);
	int64_t second = tool_new(shop, KIND_ANILOX, NULL);
	tool_new(shop, KIND_ANILOX, WORDS("volume", "5cm3/m2"));
	tool_new(shop, KIND_ANILOX, WORDS("face", "300mm"));
	job_at(shop, "J1", "P1", 10, 12, 1);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *need = need_at(horizon, "J1", JOINT_ROLLS, 1);
	assert_int_equal(need->way_count, 5);
	assert_int_equal(tool_of_way(horizon, need, 0), first);
	assert_int_equal(tool_of_way(horizon, need, 1), second);
	assert_int_equal(tool_of_way(horizon, need, 2), run);
	assert_int_equal(tool_of_way(horizon, need, 3), far);
	assert_int_equal(tool_of_way(horizon, need, 4), not_known);
	assert_true(need->ways[4].doubtful && !need->ways[3].doubtful);
	/* No blade is there: it leads nowhere, but is told. */
	assert_true(need->ways[0].needs_companion);
	assert_int_equal(need->ways[0].companion_count, 0);
	arena_free(horizon->scratch);
}

static void model__demountable_cylinder__gears_where_the_press_is_geared(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 2);
	tool_new(shop, KIND_GEAR, WORDS("teeth", "97"));
	job_at(shop, "J1", "P1", 10, 12, 2);
	job_at(shop, "J2", "P2", 10, 12, 2);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *geared = need_at(horizon, "J1", JOINT_CYLINDERS, 1);
	assert_true(geared->ways[0].needs_companion);
	assert_int_equal(geared->ways[0].companion_count, 2);
	assert_false(need_at(horizon, "J2", JOINT_CYLINDERS, 1)->ways[0].needs_companion);
	arena_free(horizon->scratch);
}

/* A job of one station can be met by no need but its own; a job moved there, by one more. */
static void model__more_than_can_be_taken__no_part_of_it(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	for (int i = 0; i < 5; i++) {
		tool_new(shop, KIND_ANILOX, NULL);
	}
	tool_new(shop, KIND_BLADE, NULL);
	job_at(shop, "J1", "P1", 10, 12, 1);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *need = need_at(horizon, "J1", JOINT_ROLLS, 1);
	assert_int_equal(need->way_count, 5);
	assert_true(need->ways[0].needs_companion);
	arena_free(horizon->scratch);
	tool_new(shop, KIND_BLADE, NULL);
	horizon = modelled(shop, planning);
	need = need_at(horizon, "J1", JOINT_ROLLS, 1);
	assert_false(need->ways[0].needs_companion);
	assert_int_equal(need->way_count, 2);
	arena_free(horizon->scratch);
}

static void model__hold_lost_and_no_place__not_there(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	shop_add(shop, KIND_PLACE, WORDS("code", "X1", "sort", "lost"));
	hold(shop, KIND_ANILOX, tool_new(shop, KIND_ANILOX, NULL), "hold", "scored");
	tool_new(shop, KIND_ANILOX, WORDS("place", "X1"));
	tool_new(shop, KIND_ANILOX, WORDS("place", "S1"));
	int64_t there = tool_new(shop, KIND_ANILOX, WORDS("place", "C1"));
	job_at(shop, "J1", "P1", 10, 12, 1);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *need = need_at(horizon, "J1", JOINT_ROLLS, 1);
	assert_int_equal(need->way_count, 1);
	assert_int_equal(tool_of_way(horizon, need, 0), there);
	arena_free(horizon->scratch);
}

static void model__at_the_supplier__busy_until_it_is_back(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	int64_t due = tool_new(shop, KIND_ANILOX, WORDS("place", "S1", "back", "2026-12-02T10:00:00Z"));
	int64_t overdue =
		tool_new(shop, KIND_ANILOX, WORDS("place", "S1", "back", "2026-11-30T10:00:00Z"));
	job_at(shop, "J1", "P1", 10, 12, 1);
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *need = need_at(horizon, "J1", JOINT_ROLLS, 1);
	assert_int_equal(need->way_count, 2);
	assert_int_equal(tool_of_way(horizon, need, 0), due);
	assert_false(need->ways[0].doubtful);
	assert_busy(resource_for(horizon, due), 0, TIME_EVER, hour(34).s);
	assert_int_equal(tool_of_way(horizon, need, 1), overdue);
	assert_true(need->ways[1].doubtful);
	assert_int_equal(resource_for(horizon, overdue)->busy_count, 0);
	arena_free(horizon->scratch);
}

static void model__plates_of_a_job__no_doubt_for_that_job(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	job_at(shop, "J1", "P1", 10, 12, 1);
	job_at(shop, "J2", "P1", 14, 16, 1);
	int64_t plain = tool_new(shop, KIND_CYLINDER, WORDS("run", "10m"));
	int64_t carries = tool_new(shop, KIND_CYLINDER, WORDS("carries", "J2"));
	struct horizon *horizon = modelled(shop, planning);
	const struct joint_need *other = need_at(horizon, "J1", JOINT_CYLINDERS, 1);
	assert_int_equal(tool_of_way(horizon, other, 0), plain);
	assert_true(other->ways[1].doubtful);
	const struct joint_need *own = need_at(horizon, "J2", JOINT_CYLINDERS, 1);
	assert_int_equal(tool_of_way(horizon, own, 0), carries);
	assert_false(own->ways[0].doubtful);
	arena_free(horizon->scratch);
}

/* ---------------------------------------------------------------- jobs that run */

static void start(struct shop *shop, const char *job, const char *press)
{
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_job_start(shop->store, shop->arena, id_of(shop, job), id_of(shop, press),
	                                 &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static void model__running_job__has_its_press_and_what_was_taken(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	job_at(shop, "J1", "P1", 7, 12, 1);
	job_at(shop, "J2", "P1", 10, 14, 1);
	int64_t taken = tool_new(shop, KIND_ANILOX, NULL);
	start(shop, "J1", "P1");
	take_out(shop, id_of(shop, "J1"), taken);
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(job_named(horizon, "J1")->standing, JOB_RUNNING);
	assert_int_equal(horizon->model.job_count, 1);
	assert_int_equal(press_resource(horizon, "P1")->busy_count, 1);
	assert_int_equal(press_resource(horizon, "P1")->busy[0].until, hour(12).s);
	assert_int_equal(resource_for(horizon, taken)->busy[0].until, hour(13).s);
	arena_free(horizon->scratch);
}

static void model__running_without_an_end__without_end(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	stock(shop, 1);
	job_new(shop, "J1", "P1",
	        WORDS("teeth", "96", "pitch", "1/8cp", "number_around", "4", "from",
	              hour_text(shop, 7)));
	job_at(shop, "J2", "P1", 40, 44, 1);
	start(shop, "J1", "P1");
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(press_resource(horizon, "P1")->busy[0].until, TIME_NEVER);
	arena_free(horizon->scratch);
}

/* A roll stands at P2 where a job runs until 12. */
static void model__tool_at_another_press_by_then__only_there(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	shop_add(shop, KIND_PLACE, WORDS("code", "P2-S", "sort", "press", "within", "P2"));
	job_at(shop, "J0", "P2", 7, 12, 1);
	job_at(shop, "J1", "P1", 10, 11, 1);
	job_at(shop, "J2", "P1", 12, 13, 1);
	job_at(shop, "J3", "P2", 10, 11, 1);
	int64_t roll = tool_new(shop, KIND_ANILOX, NULL);
	put_at(shop, roll, "P2-1");
	start(shop, "J0", "P2");
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(need_at(horizon, "J1", JOINT_ROLLS, 1)->way_count, 0);
	assert_int_equal(need_at(horizon, "J2", JOINT_ROLLS, 1)->way_count, 1);
	assert_int_equal(need_at(horizon, "J3", JOINT_ROLLS, 1)->way_count, 1);
	arena_free(horizon->scratch);
}

/* ---------------------------------------------------------------- promises */

/* All that J1 needs, promised from 10 to 12 on P1. */
static void promised_job(struct shop *shop, int64_t ids[KIND_COUNT])
{
	static const char *const needs[KIND_COUNT] =
		{[KIND_CYLINDER] = "cylinder", [KIND_GEAR] = "gear",
	     [KIND_ANILOX] = "anilox",     [KIND_BLADE] = "blade",
	     [KIND_DIE] = "die",           [KIND_MAGNETIC_CYLINDER] = "magnetic_cylinder"};
	struct promised_tool tools[6];
	size_t count = 0;
	int64_t job = job_at(shop, "J1", "P1", 10, 12, 1);
	stock(shop, 1);
	for (enum kind_id kind = KIND_CYLINDER; kind <= KIND_MAGNETIC_CYLINDER; kind++) {
		bool cut = kind == KIND_DIE || kind == KIND_MAGNETIC_CYLINDER;
		ids[kind] = tool_new(shop, kind, WORDS("run", "900m"));
		tools[count++] = (struct promised_tool){.tool = ids[kind],
		                                        .need = needs[kind],
		                                        .station = cut ? 0 : 1,
		                                        .cut = cut ? 1 : 0};
	}
	promise_tools(shop, job, "P1", 10, 12, tools, count);
}

static void model__promise_that_holds__served_outside_of_it(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	int64_t ids[KIND_COUNT];
	promised_job(shop, ids);
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(job_named(horizon, "J1")->standing, JOB_KEPT);
	assert_int_equal(horizon->model.job_count, 0);
	assert_busy(press_resource(horizon, "P1"), 0, hour(10).s, hour(12).s);
	assert_busy(resource_for(horizon, ids[KIND_ANILOX]), 0, hour(10).s, hour(13).s);
	arena_free(horizon->scratch);
}

static void model__promise_broken_by_a_hold__planned_with_the_rest_first(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	int64_t ids[KIND_COUNT];
	promised_job(shop, ids);
	hold(shop, KIND_ANILOX, ids[KIND_ANILOX], "hold", "scored");
	struct horizon *horizon = modelled(shop, planning);
	const struct horizon_job *job = job_named(horizon, "J1");
	assert_int_equal(job->standing, JOB_TO_PLAN);
	assert_non_null(strstr(job->broken, "on hold"));
	assert_int_equal(press_resource(horizon, "P1")->busy_count, 0);
	assert_int_equal(resource_for(horizon, ids[KIND_BLADE])->busy_count, 0);
	/* Tools of less run are there, but this one was promised. */
	const struct joint_need *need = need_at(horizon, "J1", JOINT_CYLINDERS, 1);
	assert_int_equal(need->way_count, 2);
	assert_int_equal(tool_of_way(horizon, need, 0), ids[KIND_CYLINDER]);
	/* Two gears are enough for the one job: they are no part of the model, and chosen after it. */
	assert_false(need->ways[0].needs_companion);
	arena_free(horizon->scratch);
}

static void model__rebook__all_in_it(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	int64_t ids[KIND_COUNT];
	promised_job(shop, ids);
	planning->request.rebook = true;
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(job_named(horizon, "J1")->standing, JOB_TO_PLAN);
	assert_null(job_named(horizon, "J1")->broken);
	assert_int_equal(resource_for(horizon, ids[KIND_DIE])->busy_count, 0);
	const struct joint_need *need = need_at(horizon, "J1", JOINT_DIES, 1);
	assert_int_equal(tool_of_way(horizon, need, 0), ids[KIND_DIE]);
	arena_free(horizon->scratch);
}

static void model__station_added_since__promise_is_not_whole(void **state)
{
	struct shop *shop = *state;
	struct planning *planning = planning_of(shop);
	int64_t ids[KIND_COUNT];
	promised_job(shop, ids);
	station_new(shop, "J1", "2", "red", "4cm3/m2");
	struct horizon *horizon = modelled(shop, planning);
	assert_int_equal(job_named(horizon, "J1")->standing, JOB_TO_PLAN);
	assert_string_equal(job_named(horizon, "J1")->broken,
	                    "no plate cylinder is promised for station 2");
	arena_free(horizon->scratch);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(model__a_job__press_to_its_end_and_tools_to_the_turnaround),
		GATHERING_TEST(model__turnaround_over_night__ends_in_open_hours),
		GATHERING_TEST(model__no_length__a_second_at_least),
		GATHERING_TEST(model__no_end__reckoned_where_the_press_has_a_speed),
		GATHERING_TEST(model__no_time_or_passed__not_in_it),
		GATHERING_TEST(model__presses_asked__those_that_can_do_it),
		GATHERING_TEST(model__no_press_named__all_in_use),
		GATHERING_TEST(model__retired_press_named__no_option),
		GATHERING_TEST(model__new_job__repeats_that_the_shelf_gives),
		GATHERING_TEST(model__new_job_and_nothing_to_print_with__short_of_a_repeat),
		GATHERING_TEST(model__stations_that_ask_the_same__one_list),
		GATHERING_TEST(model__order__doubt_last_then_deviation_run_and_tag),
		GATHERING_TEST(model__demountable_cylinder__gears_where_the_press_is_geared),
		GATHERING_TEST(model__more_than_can_be_taken__no_part_of_it),
		GATHERING_TEST(model__hold_lost_and_no_place__not_there),
		GATHERING_TEST(model__at_the_supplier__busy_until_it_is_back),
		GATHERING_TEST(model__plates_of_a_job__no_doubt_for_that_job),
		GATHERING_TEST(model__running_job__has_its_press_and_what_was_taken),
		GATHERING_TEST(model__running_without_an_end__without_end),
		GATHERING_TEST(model__tool_at_another_press_by_then__only_there),
		GATHERING_TEST(model__promise_that_holds__served_outside_of_it),
		GATHERING_TEST(model__promise_broken_by_a_hold__planned_with_the_rest_first),
		GATHERING_TEST(model__rebook__all_in_it),
		GATHERING_TEST(model__station_added_since__promise_is_not_whole),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
