/* Which tools are out for a job: taken for it, or put at a press from being so. */
#include "shop.h"

/* A rack, two presses of two stations, two jobs and one roll; ids by name. */
struct out_shop {
	struct shop *shop;
	int64_t job, other, roll, rack, station, next_station, elsewhere;
	int64_t presses[2];
};

static struct out_shop opened(void **state)
{
	struct shop *shop = *state;
	struct out_shop out = {.shop = shop};
	out.rack = shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"))->id;
	out.presses[0] = shop_add(shop, KIND_PRESS, WORDS("code", "P1", "stations", "2"))->id;
	out.presses[1] = shop_add(shop, KIND_PRESS, WORDS("code", "P2", "stations", "2"))->id;
	out.job = shop_add(shop, KIND_JOB, WORDS("number", "J1", "state", "planned"))->id;
	out.other = shop_add(shop, KIND_JOB, WORDS("number", "J2", "state", "planned"))->id;
	out.roll = shop_add(shop, KIND_ANILOX, WORDS("place", "R1"))->id;
	out.station = shop_number(shop, "SELECT id FROM place WHERE code = 'P1-1'");
	out.next_station = shop_number(shop, "SELECT id FROM place WHERE code = 'P1-2'");
	out.elsewhere = shop_number(shop, "SELECT id FROM place WHERE code = 'P2-1'");
	return out;
}

static void take(const struct out_shop *out, int64_t job)
{
	assert_int_equal(shop_run(out->shop,
	                          arena_format(out->shop->arena, "UPDATE tool SET taken_for = %lld",
	                                       (long long)job)),
	                 SQLITE_OK);
}

static void put(const struct out_shop *out, int64_t place)
{
	struct shop *shop = out->shop;
	struct movement movement = {.tool = out->roll,
	                            .to = place,
	                            .word = "put",
	                            .happened = shop->actor.now};
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_tool_move(shop->store, &movement, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static void undo(const struct out_shop *out)
{
	struct shop *shop = out->shop;
	struct undo_entry entry;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_movement(shop->store, shop->arena, &entry, &shop->actor,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

/* `place` NULL: it is not out for the job. */
static void assert_out(const struct out_shop *out, int64_t job, const char *place, bool at_press)
{
	struct tool_out *tools;
	size_t count;
	struct shop *shop = out->shop;
	assert_int_equal(store_tools_out(shop->store, shop->arena, job, out->presses, 2, &tools, &count,
	                                 &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, place != NULL ? 1 : 0);
	if (place != NULL) {
		assert_int_equal(tools[0].id, out->roll);
		assert_ptr_equal(tools[0].kind, &kinds[KIND_ANILOX]);
		assert_int_equal(tools[0].tag.serial, 1);
		assert_string_equal(tools[0].place, place);
		assert_int_equal(tools[0].at_press, at_press);
	}
}

static void store_tools_out__taken__where_it_was(void **state)
{
	struct out_shop out = opened(state);
	assert_out(&out, out.job, NULL, false);
	take(&out, out.job);
	assert_out(&out, out.job, "R1", false);
	assert_out(&out, out.other, NULL, false);
}

static void store_tools_out__put_at_a_press__as_long_as_it_stays(void **state)
{
	struct out_shop out = opened(state);
	take(&out, out.job);
	put(&out, out.station);
	assert_out(&out, out.job, "P1-1", true);
	assert_out(&out, out.other, NULL, false);
	put(&out, out.next_station);
	assert_out(&out, out.job, "P1-2", true);
	/* another press: nobody took it there for the job */
	put(&out, out.elsewhere);
	assert_out(&out, out.job, NULL, false);
}

static void store_tools_out__put_back_in_the_rack__no_longer(void **state)
{
	struct out_shop out = opened(state);
	take(&out, out.job);
	put(&out, out.rack);
	assert_out(&out, out.job, NULL, false);
	/* at the press, but not from being out */
	put(&out, out.station);
	assert_out(&out, out.job, NULL, false);
}

static void store_tools_out__taken_at_the_press__for_the_next(void **state)
{
	struct out_shop out = opened(state);
	take(&out, out.job);
	put(&out, out.station);
	take(&out, out.other);
	assert_out(&out, out.job, NULL, false);
	assert_out(&out, out.other, "P1-1", false);
	put(&out, out.next_station);
	assert_out(&out, out.job, NULL, false);
	assert_out(&out, out.other, "P1-2", true);
}

static void store_tools_out__put_taken_back__out_as_before(void **state)
{
	struct out_shop out = opened(state);
	take(&out, out.job);
	put(&out, out.station);
	put(&out, out.rack);
	undo(&out);
	assert_out(&out, out.job, "P1-1", true);
	undo(&out);
	assert_out(&out, out.job, "R1", false);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_tools_out__taken__where_it_was),
		SHOP_TEST(store_tools_out__put_at_a_press__as_long_as_it_stays),
		SHOP_TEST(store_tools_out__put_back_in_the_rack__no_longer),
		SHOP_TEST(store_tools_out__taken_at_the_press__for_the_next),
		SHOP_TEST(store_tools_out__put_taken_back__out_as_before),
	};
	return cmocka_run_group_tests_name("out", tests, NULL, NULL);
}
