/*
 * `finish`: how long a job ran, and which tools ran for it. The jobs take 1000 labels with 5 %
 * over, 12 a repeat: 84 repeats and 5 %, so 89, of 304.8 mm: 27.1272 m.
 */
#include "booking.h"

#define QUANTITY_NM INT64_C(27127200000)

static struct job_turned finished(struct shop *shop, const char *job, const char *length)
{
	struct job_turned turned;
	const struct limits limits = default_limits();
	struct finish_request request = {.job = job, .actor = &shop->actor, .limits = &limits};
	if (length != NULL) {
		struct value value;
		assert_int_equal(value_parse(shop->arena, "length", VALUE_WEB, NULL, NULL, length, &value,
		                             &shop->fault),
		                 OUTCOME_DONE);
		request.length = (struct known_length){true, value.length};
	}
	fault_clear(&shop->fault);
	enum outcome outcome = plan_finish(shop->store, shop->arena, &request, &turned, &shop->fault);
	assert_string_equal(shop->fault.sentence, "");
	assert_int_equal(outcome, OUTCOME_DONE);
	return turned;
}

static void started(struct shop *shop, const char *job)
{
	struct job_turned turned;
	assert_int_equal(plan_start(shop->store, shop->arena, job, NULL, &shop->actor, &turned,
	                            &shop->fault),
	                 OUTCOME_DONE);
}

/* A job of one station, booked from 8 to 10 and running, with a roll more that suits it. */
struct stage {
	int64_t job, roll, other;
};
static struct stage set_stage(struct shop *shop)
{
	struct stage stage = {.job = job_by_screen(shop, "J1", "190/cm", "210/cm")};
	stage.roll = roll_of_screen(shop, "200/cm");
	stage.other = roll_of_screen(shop, "300/cm");
	booked_for(shop, "J1", 8, 10);
	assert_int_equal(tool_booked(shop, stage.job, "anilox"), stage.roll);
	started(shop, "J1");
	return stage;
}

/* "AN000001-R scanned, AN000002-P booked": those of a kind that ran. */
static const char *ran(struct shop *shop, const struct job_turned *turned, enum kind_id kind)
{
	static const char *const by[] = {"scanned", "at press", "booked"};
	struct text text = text_start(shop->arena);
	for (size_t i = 0; i < turned->ran_count; i++) {
		const struct tool_ran *tool = &turned->ran[i];
		if (tool->kind->id == kind) {
			text_join(&text, ", ", tag_shown(tool->tool.tool.tag).bytes);
			text_add_format(&text, " %s", by[tool->by]);
		}
	}
	return text.bytes;
}

static const char *cautions(struct shop *shop, const struct job_turned *turned)
{
	struct text text = text_start(shop->arena);
	for (size_t i = 0; i < turned->caution_count; i++) {
		text_join(&text, "; ", turned->cautions[i]);
	}
	return text.bytes;
}

static int64_t run_of(struct shop *shop, int64_t tool)
{
	return shop_number(shop, arena_format(shop->arena,
	                                      "SELECT COALESCE(run, -1) FROM tool"
	                                      " WHERE id = %lld",
	                                      (long long)tool));
}

/* ---------------------------------------------------------------- which tools */

static void plan_finish__none_scanned__those_booked_ran_by_the_quantity(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_true(turned.length.known);
	assert_string_equal(turned.length_by, "quantity");
	assert_int_equal(length_to_nm(turned.length.value), QUANTITY_NM);
	assert_int_equal(turned.ran_count, 6);
	assert_int_equal(turned.tool_count, 6);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R booked");
	assert_int_equal(run_of(shop, stage.roll), QUANTITY_NM);
	assert_int_equal(run_of(shop, stage.other), -1);
	for (size_t i = 0; i < turned.ran_count; i++) {
		const struct tool_ran *tool = &turned.ran[i];
		bool round = tool->kind->id == KIND_CYLINDER || tool->kind->id == KIND_DIE ||
		             tool->kind->id == KIND_MAGNETIC_CYLINDER;
		assert_true(tool->revolutions_known == round);
		assert_true(!round || tool->revolutions == 89);
	}
}

static void plan_finish__another_scanned_out__that_ran_and_not_the_booked_one(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	take_out(shop, stage.job, stage.other);
	struct job_turned turned = finished(shop, "J1", "500m");
	assert_string_equal(turned.length_by, "given");
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000002-P scanned");
	assert_int_equal(run_of(shop, stage.roll), -1);
	assert_int_equal(run_of(shop, stage.other), INT64_C(500000000000));
	assert_int_equal(turned.ran_count, 6); /* of the other kinds what was booked */
}

static void plan_finish__more_scanned_than_booked__all_of_them_ran(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	take_out(shop, stage.job, stage.roll);
	take_out(shop, stage.job, stage.other);
	put_at(shop, stage.other, "P1-1");
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R scanned, AN000002-P scanned");
}

/* Two stations, of which one is scanned out: of the two booked rolls one, that at the press first.
 */
static void plan_finish__fewer_scanned_than_booked__filled_up_with_those_booked(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_by_screen(shop, "J1", "190/cm", "210/cm");
	shop_add(shop, KIND_STATION,
	         WORDS("job", "J1", "station", "2", "ink", "Black", "process", "flexo", "register",
	               "yes", "plate", "1.702mm", "base", "0.127mm", "tape", "0.381mm", "plates",
	               "ready", "screen_min", "190/cm", "screen_max", "210/cm"));
	roll_of_screen(shop, "200/cm");
	int64_t second = roll_of_screen(shop, "200/cm"), other = roll_of_screen(shop, "300/cm");
	booked_for(shop, "J1", 8, 10);
	started(shop, "J1");
	take_out(shop, job, other);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R booked, AN000003-N scanned");
	assert_string_equal(ran(shop, &turned, KIND_CYLINDER), "PC000001-H booked, PC000002-F booked");
	struct undo_entry entry;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_run(shop->store, shop->arena, &entry, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	put_at(shop, second, "P1-2");
	turned = finished(shop, "J1", NULL);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000002-P at press, AN000003-N scanned");
}

/* It stands there from an earlier job, and is booked: nobody need scan it out. */
static void plan_finish__booked_one_stands_at_the_press__ran_beside_what_was_scanned(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	put_at(shop, stage.roll, "P1-1");
	take_out(shop, stage.job, stage.other);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R at press, AN000002-P scanned");
}

static void plan_finish__booked_one_is_elsewhere__did_not_run(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t blade = tool_booked(shop, stage.job, "blade");
	put_at(shop, stage.roll, "P2-1");
	take_out(shop, job_by_screen(shop, "J2", "100/cm", "110/cm"), blade);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "");
	assert_string_equal(ran(shop, &turned, KIND_BLADE), "");
	assert_int_equal(turned.ran_count, 4);
}

static void plan_finish__not_booked__what_was_scanned_alone(void **state)
{
	struct shop *shop = *state;
	int64_t job = job_by_screen(shop, "J1", "190/cm", "210/cm");
	int64_t roll = roll_of_screen(shop, "200/cm");
	started(shop, "J1");
	take_out(shop, job, roll);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_int_equal(turned.ran_count, 1);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R scanned");
	assert_int_equal(length_to_nm(turned.length.value), QUANTITY_NM); /* at its own repeat */
}

static void plan_finish__no_tool_known__said(void **state)
{
	struct shop *shop = *state;
	job_by_screen(shop, "J1", "190/cm", "210/cm");
	started(shop, "J1");
	struct job_turned turned = finished(shop, "J1", "30m");
	assert_int_equal(turned.ran_count, 0);
	assert_string_equal(
		cautions(shop, &turned),
		"no tool is known to have run: none was scanned out for it, none was booked;"
		" type edit TAG run=... for each that did");
}

/* ---------------------------------------------------------------- where it ran */

static void plan_finish__runs_by_its_state_alone__press_of_its_booking_or_the_one_named(
	void **state)
{
	struct shop *shop = *state;
	int64_t job = job_by_screen(shop, "J1", "190/cm", "210/cm");
	int64_t roll = roll_of_screen(shop, "200/cm");
	assert_int_equal(shop_run(shop, "UPDATE job SET state = 'running'"), SQLITE_OK);
	take_out(shop, job, roll);
	put_at(shop, roll, "P1-1");
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(turned.press, "P1");
	assert_false(turned.since.known);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R scanned");
	/* Of several presses none is known; what was scanned out to any of them ran. */
	job_new(shop, "J2", "P1,P2", REPEAT_ORDER);
	assert_int_equal(shop_run(shop, "UPDATE job SET state = 'running' WHERE number = 'J2'"),
	                 SQLITE_OK);
	take_out(shop, id_of(shop, "J2"), roll);
	put_at(shop, roll, "P2-1");
	turned = finished(shop, "J2", NULL);
	assert_null(turned.press);
	assert_string_equal(ran(shop, &turned, KIND_ANILOX), "AN000001-R scanned");
	assert_int_equal(run_of(shop, roll), 2 * QUANTITY_NM);
}

/* ---------------------------------------------------------------- how long */

static void plan_finish__length_not_known__nothing_counted_and_what_to_type(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	assert_int_equal(shop_run(shop, "UPDATE job SET quantity = NULL, number_across = NULL"),
	                 SQLITE_OK);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_false(turned.length.known);
	assert_null(turned.length_by);
	assert_int_equal(turned.ran_count, 0);
	assert_int_equal(run_of(shop, stage.roll), -1);
	assert_string_equal(cautions(shop, &turned),
	                    "length of its run is not known, without quantity, number_across: no tool's"
	                    " run has grown; type undo, then finish J1 length=... with the web that"
	                    " ran");
}

/* A new job has no repeat of its own: it is that of its booking. */
static void plan_finish__new_job_booked__at_the_repeat_promised(void **state)
{
	struct shop *shop = *state;
	job_new(shop, "J1", "P1", NEW_JOB);
	shop_add(shop, KIND_STATION,
	         WORDS("job", "J1", "station", "1", "ink", "Cyan", "process", "flexo", "register",
	               "yes", "plate", "1.702mm", "base", "0.127mm", "tape", "0.381mm", "plates",
	               "ready", "screen_min", "190/cm", "screen_max", "210/cm"));
	roll_of_screen(shop, "200/cm");
	booked_for(shop, "J1", 8, 10);
	started(shop, "J1");
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(turned.length_by, "quantity");
	assert_int_equal(length_to_nm(turned.length.value), QUANTITY_NM);
}

/* Up to twice and down to half of what the quantity takes nothing is asked. */
static void plan_finish__length_far_from_the_quantity__asked_back(void **state)
{
	static const struct {
		const char *length;
		bool asked;
	} cases[] = {
		{"54.2544m", false}, {"54.2545m", true}, {"13.5636m", false},
		{"13.5635m", true},  {"0m", true},       {"26m", false},
	};
	struct shop *shop = *state;
	job_by_screen(shop, "J1", "190/cm", "210/cm");
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_int_equal(shop_run(shop, "UPDATE job SET state = 'running'"), SQLITE_OK);
		struct job_turned turned = finished(shop, "J1", cases[i].length);
		bool asked = strstr(cautions(shop, &turned), "if that is a slip, type undo, then finish J1"
		                                             " length=...") != NULL;
		assert_true(asked == cases[i].asked);
	}
}

/* ---------------------------------------------------------------- what is told */

static void plan_finish__past_its_life__said_of_blade_and_die(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	int64_t blade = tool_booked(shop, stage.job, "blade");
	int64_t die = tool_booked(shop, stage.job, "die");
	assert_int_equal(shop_run(shop, "UPDATE tool SET run = 0"), SQLITE_OK);
	/* As much as is left, and then a metre, or a revolution, more. */
	run_sql(shop, "UPDATE blade SET life = %lld WHERE tool = %lld", QUANTITY_NM, blade);
	run_sql(shop, "UPDATE die SET life = %lld WHERE tool = %lld", 89, die);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(cautions(shop, &turned), "");
	run_sql(shop, "UPDATE tool SET run = 0 WHERE id <> %lld OR %lld = 0", 0, 0);
	run_sql(shop, "UPDATE blade SET life = %lld WHERE tool = %lld", QUANTITY_NM - 1000000000,
	        blade);
	run_sql(shop, "UPDATE die SET life = %lld WHERE tool = %lld", 88, die);
	assert_int_equal(shop_run(shop, "UPDATE job SET state = 'running'"), SQLITE_OK);
	take_out(shop, stage.job, blade);
	take_out(shop, stage.job, die);
	turned = finished(shop, "J1", NULL);
	assert_string_equal(cautions(shop, &turned),
	                    "DB000001-I life over, by 1m; DI000001-A life over, by 1 revolution");
}

static void plan_finish__run_not_known_before__said_of_all_but_gears(void **state)
{
	struct shop *shop = *state;
	set_stage(shop);
	struct job_turned turned = finished(shop, "J1", NULL);
	assert_string_equal(cautions(shop, &turned),
	                    "run was not known before, and counts from this job on: PC000001-H,"
	                    " AN000001-R, DB000001-I and 2 more; type edit TAG run=... with what it has"
	                    " run, this job too");
}

/* A job that ends may use up what another has booked: where that is what the shop calls short. */
static void plan_finish__blade_of_another_is_used_up__its_promise_is_at_risk(void **state)
{
	struct shop *shop = *state;
	struct stage stage = set_stage(shop);
	struct promise_risk *risks;
	size_t count;
	int64_t blade = tool_booked(shop, stage.job, "blade");
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_setting_write(shop->store, setting_find("life_over"), "short",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	/* The only blade, and the only roll, for the next job too. */
	run_sql(shop,
	        "UPDATE tool SET condition = 'scrapped', condition_since = 0"
	        " WHERE kind = 'blade' AND id <> %lld OR id = %lld",
	        blade, 0);
	job_by_screen(shop, "J2", "190/cm", "210/cm");
	booked_for(shop, "J2", 20, 22);
	assert_int_equal(tool_booked(shop, id_of(shop, "J2"), "blade"), blade);
	for (int turn = 0; turn < 2; turn++) {
		finished(shop, "J1", "99990m");
		assert_int_equal(plan_at_risk(shop->store, shop->arena, shop->actor.now, &risks, &count,
		                              &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(count, 1);
		assert_string_equal(risks[0].risk.job_number, "J2");
		assert_string_equal(risks[0].risk.need, "blade");
		assert_string_equal(risks[0].entry.word, "finish");
		assert_string_equal(risks[0].of, "J1");
		/* Taken back, there is as much left as before. */
		struct undo_entry entry;
		assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
		assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry,
		                                 &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(store_undo_run(shop->store, shop->arena, &entry, &shop->actor,
		                                &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
		assert_int_equal(plan_at_risk(shop->store, shop->arena, shop->actor.now, &risks, &count,
		                              &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(count, 0);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		BOOKING_TEST(plan_finish__none_scanned__those_booked_ran_by_the_quantity),
		BOOKING_TEST(plan_finish__another_scanned_out__that_ran_and_not_the_booked_one),
		BOOKING_TEST(plan_finish__more_scanned_than_booked__all_of_them_ran),
		BOOKING_TEST(plan_finish__fewer_scanned_than_booked__filled_up_with_those_booked),
		BOOKING_TEST(plan_finish__booked_one_stands_at_the_press__ran_beside_what_was_scanned),
		BOOKING_TEST(plan_finish__booked_one_is_elsewhere__did_not_run),
		BOOKING_TEST(plan_finish__not_booked__what_was_scanned_alone),
		BOOKING_TEST(plan_finish__no_tool_known__said),
		BOOKING_TEST(plan_finish__runs_by_its_state_alone__press_of_its_booking_or_the_one_named),
		BOOKING_TEST(plan_finish__length_not_known__nothing_counted_and_what_to_type),
		BOOKING_TEST(plan_finish__new_job_booked__at_the_repeat_promised),
		BOOKING_TEST(plan_finish__length_far_from_the_quantity__asked_back),
		BOOKING_TEST(plan_finish__past_its_life__said_of_blade_and_die),
		BOOKING_TEST(plan_finish__run_not_known_before__said_of_all_but_gears),
		BOOKING_TEST(plan_finish__blade_of_another_is_used_up__its_promise_is_at_risk),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
