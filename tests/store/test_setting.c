/* The shop's own limits in the store: who set them, and what the ledger keeps of it. */
#include "shop.h"

static void put(struct shop *shop, const char *name, const char *value)
{
	fault_clear(&shop->fault);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_setting_write(shop->store, setting_find(name), value, &shop->actor,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static void setting_write__old_and_new_value__in_the_ledger(void **state)
{
	struct shop *shop = *state;
	struct setting_state now;
	put(shop, "buildup", "0.03mm");
	put(shop, "buildup", "0.04mm");
	put(shop, "buildup", NULL);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE word = 'set'"
	                                   " AND subject_kind = 'setting' AND subject = 0"),
	                 3);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE number = 1"
	                                   " AND detail = 'buildup 0.025mm -> 0.03mm'"),
	                 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE number = 2"
	                                   " AND detail = 'buildup 0.03mm -> 0.04mm'"),
	                 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE number = 3"
	                                   " AND detail = 'buildup 0.04mm -> 0.025mm (default)'"),
	                 1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM setting"), 0);
	assert_int_equal(store_setting_read(shop->store, shop->arena, setting_find("buildup"), &now,
	                                    &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(now.value, "0.025mm");
	assert_null(now.set_by);
}

static void setting_write__by_an_operator__told_by_name(void **state)
{
	struct shop *shop = *state;
	struct setting_state now;
	struct record *ada = shop_add(shop, KIND_OPERATOR,
	                              WORDS("badge", "E7", "name", "Ada Pike", "role", "supervisor"));
	shop->actor.operator_id = ada->id;
	put(shop, "life_over", "short");
	assert_int_equal(store_setting_read(shop->store, shop->arena, setting_find("life_over"), &now,
	                                    &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(now.set_by, "Ada Pike");
	assert_int_equal(moment_compare(now.set_at, shop->actor.now), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(setting_write__old_and_new_value__in_the_ledger),
		SHOP_TEST(setting_write__by_an_operator__told_by_name),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
