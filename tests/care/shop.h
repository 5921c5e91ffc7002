/*
 * A small shop in a file of its own, for tests of care: made under a stopped clock, removed at the
 * end. All figures are invented for the tests but where a test says otherwise.
 */
#ifndef TOOTHRACK_TESTS_CARE_SHOP_H
#define TOOTHRACK_TESTS_CARE_SHOP_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>

#include "toothrack/care.h"

struct shop {
	char directory[256];
	char path[300];
	struct arena *arena;
	struct store *store;
	struct actor actor;
	struct fault fault;
	struct cared cared; /* the last answer */
};

static inline struct moment shop_moment(const char *text)
{
	struct moment moment;
	assert_int_equal(moment_parse(text, &moment, NULL), OUTCOME_DONE);
	return moment;
}

static inline int shop_open(void **state)
{
	struct shop *shop = calloc(1, sizeof *shop);
	const char *scratch = getenv("TMPDIR");
	assert_non_null(shop);
	setenv("TZ", "UTC", 1);
	tzset();
	snprintf(shop->directory, sizeof shop->directory, "%s/care-XXXXXX",
	         scratch != NULL ? scratch : "/tmp");
	assert_non_null(mkdtemp(shop->directory));
	snprintf(shop->path, sizeof shop->path, "%s/shop.db", shop->directory);
	shop->arena = arena_new();
	shop->actor = (struct actor){.login = "toolroom",
	                             .terminal = "bench",
	                             .now = shop_moment("2026-12-01T08:00:00Z")};
	fault_clear(&shop->fault);
	assert_int_equal(store_open(shop->path, STORE_MAKE, true, &shop->store, &shop->fault),
	                 OUTCOME_DONE);
	*state = shop;
	return 0;
}

static inline int shop_close(void **state)
{
	static const char *const endings[] = {"", "-wal", "-shm"};
	struct shop *shop = *state;
	char path[320];
	store_close(shop->store);
	for (size_t i = 0; i < COUNT_OF(endings); i++) {
		snprintf(path, sizeof path, "%s%s", shop->path, endings[i]);
		unlink(path);
	}
	assert_int_equal(rmdir(shop->directory), 0);
	arena_free(shop->arena);
	free(shop);
	return 0;
}

static inline struct value shop_parsed(struct shop *shop, enum value_type type,
                                       const char *const *choices, const char *text)
{
	struct value value = {.type = type};
	if (text != NULL && value_parse(shop->arena, "value", type, choices, NULL, text, &value,
	                                &shop->fault) != OUTCOME_DONE) {
		fail_msg("%s: %s", text, shop->fault.sentence);
	}
	return value;
}

/* What a text such as `6.7cm3/m2` is; NULL: not known. */
static inline struct value shop_typed(struct shop *shop, enum value_type type, const char *text)
{
	return shop_parsed(shop, type, NULL, text);
}

static inline int64_t shop_id(struct shop *shop, const char *name)
{
	struct found found;
	if (store_find(shop->store, name, REFER_NONE, &found, &shop->fault) != OUTCOME_DONE) {
		fail_msg("%s: %s", name, shop->fault.sentence);
	}
	return found.id;
}

/* A record from `attribute, text, attribute, text, NULL`; what it names is on record. */
static inline struct record *shop_has(struct shop *shop, enum kind_id id, const char *const *words)
{
	struct record *record = record_new(shop->arena, &kinds[id]);
	for (; words[0] != NULL; words += 2) {
		size_t index = kind_attribute_find(record->kind, words[0]);
		assert_int_not_equal(index, SIZE_MAX);
		const struct attribute *attribute = kind_attribute(record->kind, index);
		record->values[index] = shop_parsed(shop, attribute->type, attribute->choices, words[1]);
		if (attribute->reference != REFER_NONE && attribute->reference != REFER_PRESSES) {
			record->references[index] = shop_id(shop, words[1]);
		}
	}
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_insert(shop->store, shop->arena, record, &shop->actor,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	return record;
}
#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

/* An attribute of the record that a name names, as text. */
static inline const char *shop_value(struct shop *shop, const char *name, const char *attribute)
{
	struct found found;
	struct record *record;
	assert_int_equal(store_find(shop->store, name, REFER_NONE, &found, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_read(shop->store, shop->arena, found.kind, found.id, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	return value_text(shop->arena, record_value(record, attribute), UNITS_METRIC);
}

/* The fault is this, its hint too; nothing stays open. */
static inline void shop_faults(const struct shop *shop, enum outcome outcome, const char *sentence,
                               const char *hint)
{
	assert_string_equal(shop->fault.sentence, sentence);
	assert_string_equal(shop->fault.hint, hint);
	assert_int_equal(shop->fault.outcome, outcome);
	assert_false(store_in_transaction(shop->store));
}

#define SHOP_TEST(function) cmocka_unit_test_setup_teardown(function, shop_open, shop_close)

#endif
