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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(store_complete__one_sort__nothing_that_is_over, shop_set_up,
	                                    shop_tear_down),
		cmocka_unit_test_setup_teardown(store_complete__any__all, shop_set_up, shop_tear_down),
		cmocka_unit_test_setup_teardown(store_complete__one_class_of_tool__others_left_out,
	                                    shop_set_up, shop_tear_down),
	};
	return cmocka_run_group_tests_name("complete", tests, NULL, NULL);
}
