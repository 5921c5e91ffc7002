/* What is summed up of the ledger's indexes must be all of them, and must see what does not agree.
 */
#include "shop.h"
#include "store/proof.h"

static void prove_file__indexes_of_the_ledger__are_all_known(void **state)
{
	struct shop *shop = *state;
	for (size_t i = 0; i < LEDGER_INDEXES; i++) {
		const char *sql = arena_format(shop->arena,
		                               "SELECT count(*) FROM sqlite_schema WHERE type = 'index'"
		                               " AND tbl_name = 'ledger' AND name = '%s'",
		                               ledger_indexes[i].name);
		assert_int_equal(shop_number(shop, sql), 1);
	}
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM sqlite_schema WHERE type = 'index'"
	                                   " AND tbl_name = 'ledger'"),
	                 LEDGER_INDEXES);
}

/* The index holds an entry too many: it was filled under another condition than it has. */
static void prove_file__index_that_does_not_agree__told(void **state)
{
	struct shop *shop = *state;
	struct proof proof;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	shop_add(shop, KIND_GEAR, WORDS("place", "R1"));
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
	sqlite3_db_config(shop->store->db, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
	assert_int_equal(shop_run(shop,
	                          "PRAGMA writable_schema = ON;"
	                          "UPDATE sqlite_schema SET sql = replace(sql,"
	                          " 'to_place IS NOT NULL OR from_place IS NOT NULL', 'job IS NULL')"
	                          " WHERE name = 'ledger_whereabouts';"
	                          "PRAGMA writable_schema = RESET; REINDEX ledger_whereabouts;"
	                          "PRAGMA writable_schema = ON;"
	                          "UPDATE sqlite_schema SET sql = replace(sql, 'job IS NULL',"
	                          " 'to_place IS NOT NULL OR from_place IS NOT NULL')"
	                          " WHERE name = 'ledger_whereabouts';"
	                          "PRAGMA writable_schema = RESET"),
	                 SQLITE_OK);
	assert_int_equal(store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_NO);
	assert_string_equal(proof.damages[0].text,
	                    "file: index ledger_whereabouts does not agree with the ledger");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(prove_file__indexes_of_the_ledger__are_all_known),
		SHOP_TEST(prove_file__index_that_does_not_agree__told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
