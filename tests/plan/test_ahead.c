/* All jobs together, from the shop to what is told: who is served, what is short, what cures it. */
#include "planning.h"

static const struct ahead_shortage *only_shortage(const struct ahead *ahead, const char *need,
                                                  int64_t wanted, int64_t have)
{
	assert_int_equal(ahead->shortage_count, 1);
	const struct ahead_shortage *shortage = &ahead->shortages[0];
	assert_string_equal(shortage->need, need);
	assert_true(shortage->certain);
	assert_int_equal(shortage->wanted, wanted);
	assert_int_equal(shortage->have, have);
	return shortage;
}

static void assert_served(const struct ahead *ahead, size_t served, size_t planned)
{
	assert_int_equal(ahead->served, served);
	assert_int_equal(ahead->planned, planned);
	assert_true(ahead->bound >= ahead->served);
}

/* ---------------------------------------------------------------- who is served */

static void ahead__nothing_planned__nothing_short(void **state)
{
	struct shop *shop = *state;
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 0);
	assert_int_equal(ahead->job_count, 0);
	assert_int_equal(ahead->shortage_count, 0);
	assert_null(ahead->purchase);
}

static void ahead__one_job__with_all_its_tools(void **state)
{
	struct shop *shop = *state;
	stock(shop, 2);
	job_at(shop, "J1", "P1", 10, 12, 2);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 1);
	const struct ahead_job *job = told(ahead, "J1");
	assert_true(job->verdict_known && job->verdict == VERDICT_READY);
	assert_string_equal(job->press, "P1");
	assert_string_equal(job->text, "ready on P1");
	/* two cylinders, gears, rolls, blades; a die and its magnetic cylinder */
	assert_int_equal(job->tool_count, 10);
	assert_string_equal(job->tools[0].need, "cylinder");
	assert_int_equal(job->tools[0].station, 1);
	assert_string_equal(job->tools[9].need, "magnetic_cylinder");
	assert_int_equal(job->tools[9].cut, 1);
	assert_true(ahead->proven);
}

static void ahead__plates_ordered__caution(void **state)
{
	struct shop *shop = *state;
	stock(shop, 1);
	int64_t job = job_at(shop, "J1", "P1", 10, 12, 1);
	run_sql(shop, "UPDATE station SET plates = 'ordered' WHERE job = %lld", job, 0);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 1);
	assert_int_equal(told(ahead, "J1")->verdict, VERDICT_CAUTION);
	assert_non_null(strstr(told(ahead, "J1")->text, "ready with caution on P1: station 1:"));
}

static void ahead__no_time_or_passed__not_judged(void **state)
{
	struct shop *shop = *state;
	stock(shop, 1);
	job_new(shop, "J1", "P1", REPEAT_ORDER);
	job_at(shop, "J2", "P1", 5, 7, 1);
	struct planning *planning = planning_of(shop);
	planning->request.from = hour(0);
	struct ahead *ahead = together(shop, planning);
	assert_served(ahead, 0, 0);
	assert_false(told(ahead, "J1")->verdict_known);
	assert_string_equal(told(ahead, "J1")->text, "no time given");
	assert_false(told(ahead, "J2")->verdict_known);
	assert_string_equal(told(ahead, "J2")->text, "its time has passed, not started");
}

/* One of everything: the second job may begin when the turnaround is over, and no second sooner. */
static void ahead__gap_of_exactly_the_turnaround__both(void **state)
{
	struct shop *shop = *state;
	stock(shop, 1);
	job_at(shop, "J1", "P1", 10, 12, 1);
	int64_t second = job_at(shop, "J2", "P1", 13, 15, 1);
	assert_served(together(shop, planning_of(shop)), 2, 2);
	struct moment sooner = hour(13);
	sooner.s--;
	set_moment(shop, SET_START, sooner, second);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 2);
	assert_true(ahead->shortage_count > 0);
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		assert_string_not_equal(ahead->shortages[i].need, "press");
	}
}

/* The press needs none: make-ready is part of a job's own time. */
static void ahead__spans_that_touch_on_a_press__both(void **state)
{
	struct shop *shop = *state;
	stock(shop, 2);
	job_at(shop, "J1", "P1", 10, 12, 1);
	job_at(shop, "J2", "P1", 12, 14, 1);
	assert_served(together(shop, planning_of(shop)), 2, 2);
}

static void ahead__two_that_start_together__one(void **state)
{
	struct shop *shop = *state;
	stock(shop, 2);
	job_at(shop, "J1", "P1", 10, 10, 1);
	job_at(shop, "J2", "P1", 10, 10, 1);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 2);
	only_shortage(ahead, "press", 2, 1);
}

/* ---------------------------------------------------------------- presses */

static void ahead__two_jobs_on_one_press__a_shift_that_cures(void **state)
{
	struct shop *shop = *state;
	stock(shop, 2);
	job_at(shop, "J1", "P1", 10, 12, 1);
	job_at(shop, "J2", "P1", 11, 13, 1);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 2);
	const struct ahead_shortage *shortage = only_shortage(ahead, "press", 2, 1);
	assert_string_equal(shortage->text, "2 jobs at 2026-12-01T11:00 share press P1: J1 and J2");
	assert_int_equal(shortage->job_count, 2);
	assert_int_equal(moment_compare(shortage->from, hour(11)), 0);
	assert_int_equal(moment_compare(shortage->until, hour(12)), 0);
	const struct ahead_cure *cure = cure_told(shortage, "shift");
	assert_non_null(cure);
	assert_int_equal(cure->cured, 1);
	assert_int_equal(cure->by.value.s, HOUR);
	/* So moved, both run. */
	int64_t job = id_of(shop, cure->job);
	struct moment until = cure->from.value;
	until.s += 2 * HOUR;
	set_moment(shop, SET_START, cure->from.value, job);
	set_moment(shop, SET_END, until, job);
	assert_served(together(shop, planning_of(shop)), 2, 2);
}

static void ahead__another_press_named__both(void **state)
{
	struct shop *shop = *state;
	stock(shop, 2);
	job_at(shop, "J1", "P1,P2", 10, 12, 1);
	job_at(shop, "J2", "P1", 11, 13, 1);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 2, 2);
	assert_string_equal(told(ahead, "J1")->press, "P2");
}

static void ahead__web_too_wide_for_the_press__short_by_itself(void **state)
{
	struct shop *shop = *state;
	stock(shop, 1);
	int64_t job = job_at(shop, "J1", "P1", 10, 12, 1);
	run_sql(shop, "UPDATE job SET web = 400000000 WHERE id = %lld", job, 0);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 1);
	const struct ahead_shortage *shortage = only_shortage(ahead, "web", 1, 0);
	assert_string_equal(shortage->jobs[0], "J1");
	assert_int_equal(shortage->cure_count, 0);
	assert_int_equal(told(ahead, "J1")->verdict, VERDICT_SHORT);
}

/* ---------------------------------------------------------------- tools */

/* So many of each kind for one job of two stations: two do of all but dies, of which one does. */
static void lacking(struct shop *shop, enum kind_id lacks)
{
	for (enum kind_id kind = KIND_CYLINDER; kind <= KIND_MAGNETIC_CYLINDER; kind++) {
		int wanted = kind == KIND_DIE || kind == KIND_MAGNETIC_CYLINDER ? 1 : 2;
		for (int i = kind == lacks ? 1 : 0; i < wanted; i++) {
			tool_new(shop, kind, NULL);
		}
	}
	job_at(shop, "J1", "P1", 10, 12, 2);
}

static void assert_tool_cures(struct shop *shop, enum kind_id lacks, int64_t wanted, int64_t have,
                              const char *words)
{
	lacking(shop, lacks);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 1);
	const struct ahead_shortage *shortage = only_shortage(ahead, kinds[lacks].name, wanted, have);
	assert_int_equal(shortage->tool_count, have);
	const struct ahead_cure *cure = cure_told(shortage, "tool");
	assert_non_null(cure);
	assert_int_equal(cure->cured, 1);
	assert_string_equal(cure->need, kinds[lacks].name);
	assert_string_equal(cure->text, words);
	/* Its figures are what `new` takes for that kind. */
	assert_true(cure->figure_count > 0);
	for (size_t i = 0; i < cure->figure_count; i++) {
		assert_true(kind_attribute_find(&kinds[lacks], cure->figures[i].name) != SIZE_MAX);
	}
	assert_non_null(ahead->purchase);
	assert_string_equal(ahead->purchase->text, words);
	/* With such a one it can run. */
	tool_new(shop, lacks, NULL);
	assert_served(together(shop, planning_of(shop)), 1, 1);
}

static void ahead__a_cylinder_short__one_more(void **state)
{
	assert_tool_cures(*state, KIND_CYLINDER, 2, 1,
	                  "one more plate cylinder, 96 teeth 1/8cp, face 330mm, undercut 2.083mm: "
	                  "then J1 too");
}

static void ahead__a_gear_short__one_more(void **state)
{
	assert_tool_cures(*state, KIND_GEAR, 2, 1, "one more gear, 96 teeth 1/8cp: then J1 too");
}

/*
 * Each of two jobs has a cylinder of its own build, J3 either; one takes a gear of 30 mm bore, the
 * other of 35 mm: gears of like words are two tools, and each is told with what it serves.
 */
static void ahead__gears_of_two_bores_short__each_with_what_it_serves(void **state)
{
	struct shop *shop = *state;
	tool_new(shop, KIND_CYLINDER, WORDS("bore", "30mm"));
	tool_new(shop, KIND_CYLINDER, WORDS("bore", "35mm", "diameter", "93.979mm"));
	for (enum kind_id kind = KIND_ANILOX; kind <= KIND_MAGNETIC_CYLINDER; kind++) {
		tool_new(shop, kind, NULL);
	}
	job_at(shop, "J1", "P1", 10, 12, 1);
	int64_t other = job_at(shop, "J2", "P1", 14, 16, 1);
	int64_t third = job_at(shop, "J3", "P1", 18, 20, 1);
	run_sql(shop, "UPDATE station SET plate = 1140000 WHERE job IN (%lld, %lld)", other, third);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 3);
	size_t seen[2] = {0, 0};
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		const struct ahead_cure *cure = cure_told(&ahead->shortages[i], "tool");
		assert_non_null(cure);
		const struct ahead_figure *bore = &cure->figures[cure->figure_count - 1];
		assert_string_equal(bore->name, "bore");
		bool small = strcmp(bore->value, "30mm") == 0;
		seen[small ? 0 : 1]++;
		assert_string_equal(cure->text, small ? "one more gear, 96 teeth 1/8cp: then J1 too"
		                                      : "one more gear, 96 teeth 1/8cp: then J2 and J3 "
		                                        "too");
	}
	assert_true(seen[0] > 0 && seen[1] > 0);
}

static void ahead__a_roll_short__one_more(void **state)
{
	assert_tool_cures(*state, KIND_ANILOX, 2, 1,
	                  "one more anilox roll, 4.00cm3/m2, face 330mm or wider: then J1 too");
}

static void ahead__a_blade_short__one_more(void **state)
{
	assert_tool_cures(*state, KIND_BLADE, 2, 1,
	                  "one more doctor blade assembly, length 330mm: then J1 too");
}

static void ahead__no_die__one_more(void **state)
{
	assert_tool_cures(*state, KIND_DIE, 1, 0,
	                  "one more die, flexible, kiss, 100mm x 73mm, 96 teeth 1/8cp, 4 around: then "
	                  "J1 too");
}

static void ahead__no_magnetic_cylinder__one_more(void **state)
{
	assert_tool_cures(*state, KIND_MAGNETIC_CYLINDER, 1, 0,
	                  "one more magnetic cylinder, 96 teeth 1/8cp, gap 0.48mm, face 330mm: then J1 "
	                  "too");
}

static void ahead__two_jobs_share_rolls__told_with_both(void **state)
{
	struct shop *shop = *state;
	stock(shop, 3);
	int64_t third = id_of(shop, "AN000003N");
	hold(shop, KIND_ANILOX, third, "hold", "scored band");
	job_at(shop, "J1", "P1", 10, 12, 2);
	job_at(shop, "J2", "P2", 11, 13, 1);
	/* Dies enough. */
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 2);
	const struct ahead_shortage *shortage = only_shortage(ahead, "anilox", 3, 2);
	assert_string_equal(shortage->text,
	                    "3 stations at 2026-12-01T11:00 share 2 anilox rolls: J1 at stations 1 "
	                    "and 2; J2 at station 1: AN000001-R, AN000002-P");
	const struct ahead_cure *cure = cure_told(shortage, "clear");
	assert_non_null(cure);
	assert_int_equal(cure->tool_count, 1);
	assert_non_null(
		strstr(cure->text, "put right and clear AN000003-N, on hold for scored band: then J"));
	hold(shop, KIND_ANILOX, third, "ready", NULL);
	assert_served(together(shop, planning_of(shop)), 2, 2);
}

static void ahead__roll_back_too_late__an_earlier_return(void **state)
{
	struct shop *shop = *state;
	lacking(shop, KIND_ANILOX);
	int64_t away =
		tool_new(shop, KIND_ANILOX, WORDS("place", "S1", "back", "2026-12-01T16:00:00Z"));
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 1);
	const struct ahead_shortage *shortage = only_shortage(ahead, "anilox", 2, 1);
	const struct ahead_cure *cure = cure_told(shortage, "return");
	assert_non_null(cure);
	assert_int_equal(moment_compare(cure->from.value, hour(10)), 0);
	cure = cure_told(shortage, "shift");
	assert_non_null(cure);
	assert_int_equal(moment_compare(cure->from.value, hour(16)), 0);
	set_moment(shop, SET_BACK, hour(10), away);
	assert_served(together(shop, planning_of(shop)), 1, 1);
}

static void ahead__two_things_short__each_leaves_less(void **state)
{
	struct shop *shop = *state;
	lacking(shop, KIND_DIE);
	run_sql(shop, "UPDATE tool SET condition = 'hold' WHERE id = %lld", id_of(shop, "AN000001R"),
	        0);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 1);
	assert_int_equal(ahead->shortage_count, 2);
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		const struct ahead_cure *cure = cure_told(&ahead->shortages[i], "tool");
		assert_non_null(cure);
		assert_int_equal(cure->cured, 0);
		assert_non_null(strstr(cure->text, "then J1 short of 1 need, not 2"));
	}
	assert_null(ahead->purchase);
}

static void ahead__none_of_a_kind__told_once_for_all_stations(void **state)
{
	struct shop *shop = *state;
	job_at(shop, "J1", "P1", 10, 12, 3);
	stock(shop, 3);
	run_sql(shop, "UPDATE anilox SET volume = 9000000 WHERE tool > %lld", 0, 0);
	struct ahead *ahead = together(shop, planning_of(shop));
	const struct ahead_shortage *shortage = only_shortage(ahead, "anilox", 3, 0);
	assert_string_equal(shortage->text,
	                    "no anilox roll suits and is there at 2026-12-01T10:00 for J1 at stations "
	                    "1, 2 and 3");
	assert_int_equal(shortage->need_count, 3);
}

/* ---------------------------------------------------------------- promises and runs */

/* All that J1 needs, promised. */
static void promised(struct shop *shop, int64_t ids[KIND_COUNT])
{
	static const char *const needs[KIND_COUNT] =
		{[KIND_CYLINDER] = "cylinder", [KIND_GEAR] = "gear",
	     [KIND_ANILOX] = "anilox",     [KIND_BLADE] = "blade",
	     [KIND_DIE] = "die",           [KIND_MAGNETIC_CYLINDER] = "magnetic_cylinder"};
	struct promised_tool tools[6];
	size_t count = 0;
	int64_t job = job_at(shop, "J1", "P1", 10, 12, 1);
	for (enum kind_id kind = KIND_CYLINDER; kind <= KIND_MAGNETIC_CYLINDER; kind++) {
		bool cut = kind == KIND_DIE || kind == KIND_MAGNETIC_CYLINDER;
		ids[kind] = tool_new(shop, kind, NULL);
		tools[count++] = (struct promised_tool){.tool = ids[kind],
		                                        .need = needs[kind],
		                                        .station = cut ? 0 : 1,
		                                        .cut = cut ? 1 : 0};
	}
	promise_tools(shop, job, "P1", 10, 12, tools, count);
}

static void ahead__booked__stays_as_it_is(void **state)
{
	struct shop *shop = *state;
	int64_t ids[KIND_COUNT];
	promised(shop, ids);
	/* J2 could run if J1 gave way: it does not. */
	job_at(shop, "J2", "P1", 9, 11, 1);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 2);
	assert_true(told(ahead, "J1")->booked);
	assert_string_equal(told(ahead, "J1")->text, "ready on P1");
	assert_int_equal(told(ahead, "J1")->tool_count, 6);
	assert_int_equal(told(ahead, "J2")->verdict, VERDICT_SHORT);
}

static void ahead__booked_and_broken__planned_anew_and_said(void **state)
{
	struct shop *shop = *state;
	int64_t ids[KIND_COUNT];
	promised(shop, ids);
	tool_new(shop, KIND_ANILOX, NULL);
	hold(shop, KIND_ANILOX, ids[KIND_ANILOX], "hold", "scored band");
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 1, 1);
	const char *text = told(ahead, "J1")->text;
	assert_true(told(ahead, "J1")->broken);
	assert_non_null(strstr(
		text,
		"ready on P1; unbook it and book it again, its booking does not hold: AN000001-R on hold"));
}

static void ahead__running__told_and_in_the_way(void **state)
{
	struct shop *shop = *state;
	stock(shop, 2);
	job_at(shop, "J1", "P1", 7, 12, 1);
	job_at(shop, "J2", "P1", 11, 13, 1);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_job_start(shop->store, shop->arena, id_of(shop, "J1"), id_of(shop, "P1"),
	                                 &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	struct ahead *ahead = together(shop, planning_of(shop));
	assert_served(ahead, 0, 1);
	assert_true(told(ahead, "J1")->running);
	assert_string_equal(told(ahead, "J1")->text, "runs on P1");
	const struct ahead_shortage *shortage = only_shortage(ahead, "press", 1, 0);
	const struct ahead_cure *cure = cure_told(shortage, "shift");
	assert_non_null(cure);
	assert_int_equal(moment_compare(cure->from.value, hour(12)), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		GATHERING_TEST(ahead__nothing_planned__nothing_short),
		GATHERING_TEST(ahead__one_job__with_all_its_tools),
		GATHERING_TEST(ahead__plates_ordered__caution),
		GATHERING_TEST(ahead__no_time_or_passed__not_judged),
		GATHERING_TEST(ahead__gap_of_exactly_the_turnaround__both),
		GATHERING_TEST(ahead__spans_that_touch_on_a_press__both),
		GATHERING_TEST(ahead__two_that_start_together__one),
		GATHERING_TEST(ahead__two_jobs_on_one_press__a_shift_that_cures),
		GATHERING_TEST(ahead__another_press_named__both),
		GATHERING_TEST(ahead__web_too_wide_for_the_press__short_by_itself),
		GATHERING_TEST(ahead__a_cylinder_short__one_more),
		GATHERING_TEST(ahead__a_gear_short__one_more),
		GATHERING_TEST(ahead__gears_of_two_bores_short__each_with_what_it_serves),
		GATHERING_TEST(ahead__a_roll_short__one_more),
		GATHERING_TEST(ahead__a_blade_short__one_more),
		GATHERING_TEST(ahead__no_die__one_more),
		GATHERING_TEST(ahead__no_magnetic_cylinder__one_more),
		GATHERING_TEST(ahead__two_jobs_share_rolls__told_with_both),
		GATHERING_TEST(ahead__roll_back_too_late__an_earlier_return),
		GATHERING_TEST(ahead__two_things_short__each_leaves_less),
		GATHERING_TEST(ahead__none_of_a_kind__told_once_for_all_stations),
		GATHERING_TEST(ahead__booked__stays_as_it_is),
		GATHERING_TEST(ahead__booked_and_broken__planned_anew_and_said),
		GATHERING_TEST(ahead__running__told_and_in_the_way),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
