/*
 * The ledger: one entry a change, a hash chain over them, nothing ever changed; and tags that are
 * given out once.
 */
#include <sodium.h>
#include <sys/wait.h>

#include "shop.h"

/* A field of the documented byte form: `length:bytes,`, or `-`. */
static void add_field(struct text *form, const char *text)
{
	if (text == NULL) {
		text_add(form, "-");
	} else {
		text_add_format(form, "%zu:%s,", strlen(text), text);
	}
}

/* One row's byte form behind the hash before it, as DEVELOPERS.md tells it; hashed anew. */
static void hash_row(struct shop *shop, sqlite3_stmt *row, unsigned char hash[32])
{
	struct text form = text_start(shop->arena);
	static const bool is_id[] = {false, false, false, false, true,  false, false,
	                             true,  true,  true,  false, false, false};
	for (int i = 0; i < 13; i++) {
		const char *text = (const char *)sqlite3_column_text(row, i);
		add_field(&form, is_id[i] && text == NULL ? "0" : text);
	}
	crypto_hash_sha256_state state;
	crypto_hash_sha256_init(&state);
	crypto_hash_sha256_update(&state, hash, 32);
	crypto_hash_sha256_update(&state, (const unsigned char *)form.bytes, form.length);
	crypto_hash_sha256_final(&state, hash);
}

static void ledger__every_change__one_entry_and_an_unbroken_chain(void **state)
{
	struct shop *shop = *state;
	struct record *rack = shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	struct record *cart = shop_add(shop, KIND_PLACE, WORDS("code", "C1", "sort", "cart"));
	struct record *gear =
		shop_add(shop, KIND_GEAR,
	             WORDS("place", "R1", "teeth", "96", "pitch", "1/8cp", "note", "new, 2: \"x\""));
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	struct movement movement = {.tool = gear->id,
	                            .to = cart->id,
	                            .word = "put",
	                            .happened = shop->actor.now};
	assert_int_equal(store_tool_move(shop->store, &movement, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_condition_set(shop->store, gear->kind, gear->id, "hold", "tooth chipped",
	                                     &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_setting_write(shop->store, setting_find("overs"), "7%", &shop->actor,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 6);
	assert_int_equal(shop_number(shop, "SELECT place FROM tool"), cart->id);
	assert_int_not_equal(rack->id, cart->id);

	unsigned char hash[32] = {0};
	sqlite3_stmt *row = NULL;
	assert_int_equal(
		sqlite3_prepare_v2(shop->store->db,
	                       "SELECT number, word, subject_kind, subject, operator, login, terminal,"
	                       " from_place, to_place, job, happened, recorded, detail, hash"
	                       " FROM ledger ORDER BY number",
	                       -1, &row, NULL),
		SQLITE_OK);
	while (sqlite3_step(row) == SQLITE_ROW) {
		hash_row(shop, row, hash);
		assert_memory_equal(hash, sqlite3_column_blob(row, 13), 32);
	}
	sqlite3_finalize(row);
}

static void ledger__changed_or_removed_by_hand__refused(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	assert_int_equal(shop_run(shop, "UPDATE ledger SET word = 'put'"), SQLITE_CONSTRAINT);
	assert_int_equal(shop_run(shop, "DELETE FROM ledger"), SQLITE_CONSTRAINT);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger WHERE word = 'new'"), 1);
}

static void ledger__clock_goes_back__recorded_does_not(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	assert_int_equal(moment_parse("2026-11-30T08:00:00Z", &shop->actor.now, NULL), OUTCOME_DONE);
	shop_add(shop, KIND_PLACE, WORDS("code", "R2", "sort", "store"));
	assert_int_equal(shop_number(shop, "SELECT count(DISTINCT recorded) FROM ledger"), 1);
	assert_int_equal(shop_number(shop, "SELECT count(DISTINCT happened) FROM ledger"), 2);
}

static void ledger__nothing_changed__no_entry(void **state)
{
	struct shop *shop = *state;
	struct record *place = shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	struct record *known;
	bool changed = true;
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_record_read(shop->store, shop->arena, place->kind, place->id, &known,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_record_update(shop->store, shop->arena, known, &shop->actor, &changed,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_false(changed);
	*record_value(known, "name") =
		(struct value){.type = VALUE_TEXT, .known = true, .text = "rack"};
	assert_int_equal(store_record_update(shop->store, shop->arena, known, &shop->actor, &changed,
	                                     &shop->fault),
	                 OUTCOME_DONE);
	assert_true(changed);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM ledger"), 2);
	assert_int_equal(
		shop_number(shop, "SELECT count(*) FROM ledger WHERE detail = 'name not known -> rack'"),
		1);
}

/* Whereabouts follow the greatest `happened`: an entry that comes late changes nothing of them. */
static void store_tool_move__late_entry__place_stays(void **state)
{
	struct shop *shop = *state;
	struct record *rack = shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	struct record *cart = shop_add(shop, KIND_PLACE, WORDS("code", "C1", "sort", "cart"));
	struct record *gear = shop_add(shop, KIND_GEAR, WORDS("place", "R1"));
	struct movement movement = {.tool = gear->id, .to = cart->id, .word = "put"};
	assert_int_equal(moment_parse("2026-12-01T07:00:00Z", &movement.happened, NULL), OUTCOME_DONE);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_tool_move(shop->store, &movement, &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	assert_int_equal(shop_number(shop, "SELECT place FROM tool"), rack->id);
}

static void add_tools(const struct shop *shop, int count)
{
	struct shop mine = *shop;
	if (store_open(shop->path, STORE_WRITE, false, &mine.store, NULL) != OUTCOME_DONE) {
		_exit(1);
	}
	for (int i = 0; i < count; i++) {
		struct record *gear = record_new(mine.arena, &kinds[KIND_GEAR]);
		if (store_begin(mine.store, "test", NULL) != OUTCOME_DONE ||
		    store_record_insert(mine.store, mine.arena, gear, &mine.actor, NULL) != OUTCOME_DONE ||
		    store_commit(mine.store, NULL) != OUTCOME_DONE) {
			_exit(1);
		}
	}
	store_close(mine.store);
	_exit(0);
}

static void tags__two_consoles_at_once__never_twice(void **state)
{
	struct shop *shop = *state;
	pid_t children[2];
	int status;
	for (size_t i = 0; i < COUNT_OF(children); i++) {
		children[i] = fork();
		if (children[i] == 0) {
			add_tools(shop, 60);
		}
	}
	for (size_t i = 0; i < COUNT_OF(children); i++) {
		assert_int_equal(waitpid(children[i], &status, 0), children[i]);
		assert_int_equal(status, 0);
	}
	assert_int_equal(shop_number(shop, "SELECT count(DISTINCT tag) FROM tool"), 120);
	assert_int_equal(shop_number(shop, "SELECT last FROM tag_serial WHERE class = 'GR'"), 120);
}

static void tags__one_brought_along__the_next_lies_beyond(void **state)
{
	struct shop *shop = *state;
	struct tag brought = {.class = TAG_GEAR, .serial = 1234567};
	shop_add(shop, KIND_GEAR, WORDS("tag", tag_shown(brought).bytes));
	struct record *next = shop_add(shop, KIND_GEAR, WORDS("note", "x"));
	struct tag given;
	assert_int_equal(tag_read(record_words(next, "tag"), &given), TAG_READ);
	assert_int_equal(given.serial, 1234568);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(ledger__every_change__one_entry_and_an_unbroken_chain),
		SHOP_TEST(ledger__changed_or_removed_by_hand__refused),
		SHOP_TEST(ledger__clock_goes_back__recorded_does_not),
		SHOP_TEST(ledger__nothing_changed__no_entry),
		SHOP_TEST(store_tool_move__late_entry__place_stays),
		SHOP_TEST(tags__two_consoles_at_once__never_twice),
		SHOP_TEST(tags__one_brought_along__the_next_lies_beyond),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
