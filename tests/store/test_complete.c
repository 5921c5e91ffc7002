#include "shop.h"

/* What is offered, with blanks between. */
static void add(const char *code, void *context)
{
	text_join(context, " ", code);
}

static const char *offered(struct shop *shop, enum reference wanted, const char *start)
{
	struct text text = text_start(shop->arena);
	assert_int_equal(store_complete(shop->store, wanted, start, 100, add, &text, &shop->fault),
	                 OUTCOME_DONE);
	return text.bytes;
}

static void fill(struct shop *shop)
{
	shop_add(shop, KIND_PLACE,
	         WORDS("code", "R1", "sort", "store", "condition", "ready", "retired", "no"));
	shop_add(shop, KIND_PLACE,
	         WORDS("code", "R2", "sort", "store", "condition", "ready", "retired", "yes"));
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P1", "drive", "geared", "stations", "4", "retired", "no"));
	shop_add(shop, KIND_PRESS,
	         WORDS("code", "P2", "drive", "geared", "stations", "4", "retired", "yes"));
	shop_add(shop, KIND_JOB, WORDS("number", "J1", "state", "planned"));
	shop_add(shop, KIND_JOB, WORDS("number", "J2", "state", "finished"));
	shop_add(shop, KIND_ANILOX, WORDS("place", "R1", "condition", "ready", "other_tag", "V-1"));
	shop_add(shop, KIND_DIE, WORDS("place", "R1", "condition", "ready", "other_tag", "V-2"));
}

static void store_complete__one_sort__nothing_that_is_over(void **state)
{
	struct shop *shop = *state;
	fill(shop);
	assert_string_equal(offered(shop, REFER_PLACE, "R"), "R1");
	assert_string_equal(offered(shop, REFER_PRESSES, ""), "P1");
	assert_string_equal(offered(shop, REFER_JOB, "J"), "J1");
	assert_string_equal(offered(shop, REFER_PLACE, "X"), "");
}

static void store_complete__any__all(void **state)
{
	struct shop *shop = *state;
	fill(shop);
	assert_string_equal(offered(shop, REFER_NONE, "R"), "R1 R2");
	assert_string_equal(offered(shop, REFER_NONE, "J"), "J1 J2");
	assert_non_null(strstr(offered(shop, REFER_NONE, "P"), "P2"));
}

static void store_complete__one_class_of_tool__others_left_out(void **state)
{
	struct shop *shop = *state;
	fill(shop);
	assert_string_equal(offered(shop, REFER_TOOL, "V"), "V-1 V-2");
	assert_non_null(strstr(offered(shop, REFER_TOOL, ""), "DI000001-"));
	const char *rolls[] = {"", "A", "an", "AN000001"};
	for (size_t i = 0; i < COUNT_OF(rolls); i++) {
		const char *words = offered(shop, REFER_ANILOX, rolls[i]);
		assert_memory_equal(words, "AN000001-", 9);
		assert_null(strstr(words, "DI"));
	}
	assert_string_equal(offered(shop, REFER_ANILOX, "DI"), "");
	assert_memory_equal(offered(shop, REFER_DIE, "d"), "DI000001-", 9);
}

static const char *places(struct shop *shop, bool supplier, const char *start)
{
	struct text text = text_start(shop->arena);
	assert_int_equal(store_complete_place(shop->store, supplier, start, 100, add, &text,
	                                      &shop->fault),
	                 OUTCOME_DONE);
	return text.bytes;
}

static void store_complete_place__suppliers__they_or_the_others(void **state)
{
	struct shop *shop = *state;
	fill(shop);
	shop_add(shop, KIND_PLACE,
	         WORDS("code", "RS", "sort", "supplier", "condition", "ready", "retired", "no"));
	shop_add(shop, KIND_PLACE,
	         WORDS("code", "RT", "sort", "supplier", "condition", "ready", "retired", "yes"));
	assert_string_equal(places(shop, true, ""), "RS");
	assert_string_equal(places(shop, true, "r"), "RS");
	assert_string_equal(places(shop, true, "R1"), "");
	assert_string_equal(places(shop, false, "R"), "R1");
}

static void store_complete_job_row__numbers__of_that_job(void **state)
{
	struct shop *shop = *state;
	struct text stations = text_start(shop->arena);
	struct text cuts = text_start(shop->arena);
	struct found job;
	fill(shop);
	for (int i = 3; i > 0; i--) {
		const char *number = arena_format(shop->arena, "%d", i);
		shop_add(shop, KIND_STATION,
		         WORDS("job", i == 2 ? "J2" : "J1", "station", number, "process", "flexo",
		               "register", "yes"));
	}
	shop_add(shop, KIND_CUT, WORDS("job", "J1", "cut", "2", "kind", "kiss"));
	assert_int_equal(store_find(shop->store, "J1", REFER_JOB, &job, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_complete_job_row(shop->store, &kinds[KIND_STATION], job.id, add,
	                                        &stations, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_complete_job_row(shop->store, &kinds[KIND_CUT], job.id, add, &cuts,
	                                        &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(stations.bytes, "1 3");
	assert_string_equal(cuts.bytes, "2");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(store_complete__one_sort__nothing_that_is_over, shop_set_up,
	                                    shop_tear_down),
		cmocka_unit_test_setup_teardown(store_complete__any__all, shop_set_up, shop_tear_down),
		cmocka_unit_test_setup_teardown(store_complete__one_class_of_tool__others_left_out,
	                                    shop_set_up, shop_tear_down),
		cmocka_unit_test_setup_teardown(store_complete_place__suppliers__they_or_the_others,
	                                    shop_set_up, shop_tear_down),
		cmocka_unit_test_setup_teardown(store_complete_job_row__numbers__of_that_job, shop_set_up,
	                                    shop_tear_down),
	};
	return cmocka_run_group_tests_name("complete", tests, NULL, NULL);
}
