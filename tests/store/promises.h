/* A shop with presses, jobs and tools to promise; moments are hours of 2026-12-02 UTC. */
#ifndef TOOTHRACK_TESTS_STORE_PROMISES_H
#define TOOTHRACK_TESTS_STORE_PROMISES_H

#include "shop.h"

/* A moment so many hours into the day. */
static inline struct moment hour(int64_t hours)
{
	struct moment day;
	assert_int_equal(moment_parse("2026-12-02T00:00:00Z", &day, NULL), OUTCOME_DONE);
	return moment_add(day, (struct duration){.s = hours * 3600});
}

static inline int64_t add_press(struct shop *shop, const char *code)
{
	return shop_add(shop, KIND_PRESS, WORDS("code", code, "stations", "2", "die_stations", "1"))
	    ->id;
}

static inline int64_t add_job(struct shop *shop, const char *number, const char *presses)
{
	return shop_add(shop, KIND_JOB, WORDS("number", number, "press", presses))->id;
}

static inline int64_t add_gear(struct shop *shop)
{
	return shop_add(shop, KIND_GEAR, WORDS("teeth", "96", "pitch", "1/8cp"))->id;
}

static inline void begin(struct shop *shop)
{
	fault_clear(&shop->fault);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
}

static inline void commit(struct shop *shop)
{
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

/* A gear at station 1, promised for those hours; ends by what came of it, within a transaction. */
static inline enum outcome keep(struct shop *shop, int64_t job, int64_t press, int64_t gear,
                                int64_t from, int64_t until)
{
	struct promised_tool tool = {.tool = gear, .need = "gear", .station = 1};
	const struct kept_promise promise = {
		.job = job,
		.press = press,
		.from = hour(from),
		.until = hour(until),
		.verdict = "ready",
		.answer = "{\"verdict\": \"ready\"}",
		.tools = &tool,
		.tool_count = 1,
	};
	return store_promise_keep(shop->store, shop->arena, &promise, "book", NULL, &shop->actor,
	                          &shop->fault);
}

/* The same as a change of its own; what is refused leaves nothing. */
static inline enum outcome book(struct shop *shop, int64_t job, int64_t press, int64_t gear,
                                int64_t from, int64_t until)
{
	begin(shop);
	enum outcome outcome = keep(shop, job, press, gear, from, until);
	if (outcome == OUTCOME_DONE) {
		commit(shop);
	} else {
		store_rollback(shop->store);
	}
	return outcome;
}

static inline void unbook(struct shop *shop, int64_t job)
{
	begin(shop);
	assert_int_equal(store_promise_end(shop->store, shop->arena, job, NULL, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static inline void start(struct shop *shop, int64_t job, int64_t press)
{
	begin(shop);
	assert_int_equal(store_job_start(shop->store, shop->arena, job, press, &shop->actor,
	                                 &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static inline void finish(struct shop *shop, int64_t job)
{
	begin(shop);
	assert_int_equal(store_job_finish(shop->store, shop->arena, job, &(struct run_end){.press = 0},
	                                  &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

/* One attribute of a record corrected, as `edit` does. */
static inline void correct(struct shop *shop, enum kind_id kind, int64_t id, const char *attribute,
                           const char *text)
{
	struct record *record;
	bool changed;
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[kind], id, &record,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	const struct attribute *of =
		kind_attribute(&kinds[kind], kind_attribute_find(&kinds[kind], attribute));
	assert_int_equal(value_parse(shop->arena, attribute, of->type, of->choices, NULL, text,
	                             record_value(record, attribute), &shop->fault),
	                 OUTCOME_DONE);
	begin(shop);
	assert_int_equal(store_record_update(shop->store, shop->arena, record, &shop->actor, &changed,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
	assert_true(changed);
}

static inline struct kept_promise promise_of(struct shop *shop, int64_t job)
{
	struct kept_promise promise;
	assert_int_equal(store_promise_of_job(shop->store, shop->arena, job, &promise, &shop->fault),
	                 OUTCOME_DONE);
	return promise;
}

static inline int64_t bookings(struct shop *shop)
{
	return shop_number(shop, "SELECT count(*) FROM booking");
}

/* The last word of the ledger. */
static inline const char *last_word(struct shop *shop)
{
	sqlite3_stmt *stmt = NULL;
	assert_int_equal(sqlite3_prepare_v2(shop->store->db,
	                                    "SELECT word || ' ' || COALESCE(detail, '') FROM ledger"
	                                    " ORDER BY number DESC LIMIT 1",
	                                    -1, &stmt, NULL),
	                 SQLITE_OK);
	assert_int_equal(sqlite3_step(stmt), SQLITE_ROW);
	const char *word = arena_copy(shop->arena, (const char *)sqlite3_column_text(stmt, 0));
	sqlite3_finalize(stmt);
	return word;
}

/* Takes the last entry back, as far as the store does. */
static inline enum outcome take_back(struct shop *shop, bool run)
{
	struct undo_entry entry;
	begin(shop);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_true(entry.kept);
	enum outcome outcome =
		run ? store_undo_run(shop->store, shop->arena, &entry, &shop->actor, &shop->fault)
			: store_undo_promise(shop->store, shop->arena, &entry, &shop->actor, &shop->fault);
	if (outcome == OUTCOME_DONE) {
		commit(shop);
	} else {
		store_rollback(shop->store);
	}
	return outcome;
}

#endif
