/*
 * A small shop in a file of its own, for tests of the room: made under a stopped clock, removed at
 * the end. All figures are invented for the tests but where a test says otherwise.
 */
#ifndef TOOTHRACK_TESTS_ROOM_SHOP_H
#define TOOTHRACK_TESTS_ROOM_SHOP_H

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

#include "toothrack/room.h"

struct shop {
	char directory[256];
	char path[300];
	char file[300]; /* a CSV file, where a test writes one */
	struct arena *arena;
	struct store *store;
	struct actor actor;
	struct fault fault;
	struct import_report report;
	struct record *record; /* the last one made */
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
	snprintf(shop->directory, sizeof shop->directory, "%s/room-XXXXXX",
	         scratch != NULL ? scratch : "/tmp");
	assert_non_null(mkdtemp(shop->directory));
	snprintf(shop->path, sizeof shop->path, "%s/shop.db", shop->directory);
	snprintf(shop->file, sizeof shop->file, "%s/rows.csv", shop->directory);
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
	unlink(shop->file);
	assert_int_equal(rmdir(shop->directory), 0);
	arena_free(shop->arena);
	free(shop);
	return 0;
}

#define SHOP_PAIRS_MOST 40

/* `teeth=96;pitch=1/8cp` as pairs, into the arena. */
static inline size_t shop_pairs(struct shop *shop, const char *text, struct pair *pairs)
{
	size_t count = 0;
	while (*text != '\0') {
		size_t length = strcspn(text, ";");
		char *pair = arena_copy_bytes(shop->arena, text, length);
		char *equals = strchr(pair, '=');
		assert_non_null(equals);
		assert_true(count < SHOP_PAIRS_MOST);
		*equals = '\0';
		pairs[count++] = (struct pair){pair, equals + 1};
		text += length + (text[length] == ';' ? 1 : 0);
	}
	return count;
}

/* Puts a record on record: `shop_new(shop, "cylinder", "teeth=96;pitch=1/8cp")`. */
static inline enum outcome shop_new(struct shop *shop, const char *kind, const char *pairs)
{
	struct pair list[SHOP_PAIRS_MOST];
	size_t count = shop_pairs(shop, pairs, list);
	fault_clear(&shop->fault);
	shop->record = NULL;
	return room_new(shop->store, shop->arena, kind_find(kind), list, count, &shop->actor,
	                &shop->record, &shop->fault);
}

/* The same, and it must work; gives the tag, NULL for what has none. */
static inline const char *shop_has(struct shop *shop, const char *kind, const char *pairs)
{
	if (shop_new(shop, kind, pairs) != OUTCOME_DONE || shop->record == NULL) {
		fail_msg("%s %s: %s", kind, pairs, shop->fault.sentence);
		return NULL;
	}
	return shop->record->kind->tagged ? record_words(shop->record, "tag") : NULL;
}

static inline enum outcome shop_import(struct shop *shop, const char *kind, const char *text,
                                       bool update)
{
	fault_clear(&shop->fault);
	return room_import_text(shop->store, shop->arena, kind_find(kind), "rows.csv", text,
	                        strlen(text), update, &shop->actor, &shop->report, &shop->fault);
}

/* An attribute of the record that a tag or code names, as text. */
static inline const char *shop_value(struct shop *shop, const char *name, const char *attribute)
{
	struct found found;
	struct record *record;
	fault_clear(&shop->fault);
	if (store_find(shop->store, name, REFER_NONE, &found, &shop->fault) != OUTCOME_DONE) {
		return NULL;
	}
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

/*
 * All problems of the last import, a line each: `3, face: face without a unit: 330. Type 330mm or
 * 330in.`
 */
static inline const char *shop_problems(struct shop *shop)
{
	struct text text = text_start(shop->arena);
	for (size_t i = 0; i < shop->report.problems_kept; i++) {
		const struct import_problem *problem = &shop->report.problems[i];
		text_add_format(&text, "%lld%s%s: %s\n", (long long)problem->line,
		                problem->column != NULL ? ", " : "",
		                problem->column != NULL ? problem->column : "", problem->text);
	}
	return text.bytes;
}

/* Places R1 and R2, supplier S1, LOST, press P1 with three stations and a die station, job J1. */
static inline void shop_furnish(struct shop *shop)
{
	shop_has(shop, "place", "code=R1;sort=store;name=rack 1");
	shop_has(shop, "place", "code=R2;sort=store");
	shop_has(shop, "place", "code=S1;sort=supplier");
	shop_has(shop, "place", "code=LOST;sort=lost");
	shop_has(shop, "press", "code=P1;drive=geared;stations=3;die_stations=1;pitches=1/8cp");
	shop_has(shop, "job", "number=J1;title=front label");
}

#define SHOP_TEST(function) cmocka_unit_test_setup_teardown(function, shop_open, shop_close)

#endif
