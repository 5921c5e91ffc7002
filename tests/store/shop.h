/* A shop file of its own for each test, and records put on it by attribute and text. */
#ifndef TOOTHRACK_TESTS_STORE_SHOP_H
#define TOOTHRACK_TESTS_STORE_SHOP_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "store/internal.h"

struct shop {
	char folder[64];
	char path[96];
	struct arena *arena;
	struct store *store;
	struct actor actor;
	struct fault fault;
};

static inline int shop_set_up(void **state)
{
	struct arena *arena = arena_new();
	struct shop *shop = arena_take(arena, 1, sizeof *shop);
	shop->arena = arena;
	snprintf(shop->folder, sizeof shop->folder, "/tmp/toothrack-XXXXXX");
	assert_non_null(mkdtemp(shop->folder));
	snprintf(shop->path, sizeof shop->path, "%s/shop/shop.db", shop->folder);
	shop->actor = (struct actor){.login = "clerk", .terminal = "pts/3"};
	assert_int_equal(moment_parse("2026-12-01T08:00:00Z", &shop->actor.now, NULL), OUTCOME_DONE);
	assert_int_equal(store_open(shop->path, STORE_MAKE, false, &shop->store, &shop->fault),
	                 OUTCOME_DONE);
	*state = shop;
	return 0;
}

static inline int shop_tear_down(void **state)
{
	struct shop *shop = *state;
	char command[128];
	store_close(shop->store);
	snprintf(command, sizeof command, "rm -rf %s", shop->folder);
	assert_int_equal(system(command), 0); /* NOLINT: a folder of our own making */
	arena_free(shop->arena);
	return 0;
}

/* A record of a kind from `attribute, text, attribute, text, NULL`; references are resolved. */
static inline struct record *shop_record(struct shop *shop, enum kind_id id,
                                         const char *const *words)
{
	struct record *record = record_new(shop->arena, &kinds[id]);
	for (; words[0] != NULL; words += 2) {
		size_t index = kind_attribute_find(record->kind, words[0]);
		assert_int_not_equal(index, SIZE_MAX);
		const struct attribute *attribute = kind_attribute(record->kind, index);
		assert_int_equal(value_parse(shop->arena, words[0], attribute->type, attribute->choices,
		                             NULL, words[1], &record->values[index], &shop->fault),
		                 OUTCOME_DONE);
		if (attribute->reference != REFER_NONE && attribute->reference != REFER_PRESSES) {
			struct found found;
			assert_int_equal(store_find(shop->store, words[1], attribute->reference, &found,
			                            &shop->fault),
			                 OUTCOME_DONE);
			record->references[index] = found.id;
		}
	}
	return record;
}
#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

static inline struct record *shop_add(struct shop *shop, enum kind_id id, const char *const *words)
{
	struct record *record = shop_record(shop, id, words);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_insert(shop->store, shop->arena, record, &shop->actor,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	return record;
}

/* One number that SQL answers. */
static inline int64_t shop_number(struct shop *shop, const char *sql)
{
	sqlite3_stmt *stmt = NULL;
	assert_int_equal(sqlite3_prepare_v2(shop->store->db, sql, -1, &stmt, NULL), SQLITE_OK);
	assert_int_equal(sqlite3_step(stmt), SQLITE_ROW);
	int64_t number = sqlite3_column_int64(stmt, 0);
	sqlite3_finalize(stmt);
	return number;
}

/* What SQLite says of a statement run by hand: the plain result code. */
static inline int shop_run(struct shop *shop, const char *sql)
{
	return sqlite3_exec(shop->store->db, sql, NULL, NULL, NULL) & 0xff;
}

#define SHOP_TEST(test) cmocka_unit_test_setup_teardown(test, shop_set_up, shop_tear_down)

#endif
