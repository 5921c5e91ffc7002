/* The past: where tools were at a moment, and the whole ledger of a record. */
#include "shop.h"

static struct moved moved;

static void put_at(struct shop *shop, const char *tag, const char *place, const char *when)
{
	shop->actor.now = shop_moment(when);
	fault_clear(&shop->fault);
	if (room_put(shop->store, shop->arena, &tag, 1, place, NULL, &shop->actor, &moved,
	             &shop->fault) != OUTCOME_DONE) {
		fail_msg("put %s: %s", tag, shop->fault.sentence);
	}
}

struct heard {
	struct text text;
	int begun;
};

static void began(struct moment moment, void *context)
{
	struct heard *heard = context;
	(void)moment;
	heard->begun++;
}

static void heard_where(const struct whereabouts *where, void *context)
{
	struct heard *heard = context;
	text_add_format(&heard->text, "%s %s %s %s\n", tag_shown(where->tag).bytes, where->kind->name,
	                where->place != NULL ? where->place : "?", moment_text(where->since).bytes);
}

static const char *where(struct shop *shop, const char *when, const char *place)
{
	struct heard heard = {.text = text_start(shop->arena)};
	const struct whereabouts_reader reader = {began, heard_where, &heard};
	fault_clear(&shop->fault);
	enum outcome outcome = room_whereabouts(shop->store, shop_moment(when), place, shop->actor.now,
	                                        &reader, &shop->fault);
	assert_false(store_in_transaction(shop->store));
	return outcome == OUTCOME_DONE ? heard.text.bytes : NULL;
}

static void furnish(struct shop *shop)
{
	shop_furnish(shop);
	shop_has(shop, "place", "code=R1-1;sort=store;within=R1");
	shop->actor.now = shop_moment("2026-11-01T08:00:00Z");
	shop_has(shop, "gear", "other_tag=G-1;place=R1-1");
	shop_has(shop, "cylinder", "other_tag=K-1");
	shop_has(shop, "cylinder", "other_tag=K-2;place=R2");
}

static void room_whereabouts__as_things_went__each_moment_its_own(void **state)
{
	struct shop *shop = *state;
	struct undone undone;
	furnish(shop);
	put_at(shop, "K-1", "P1-1", "2026-11-02T08:00:00Z");
	put_at(shop, "K-1", "R1", "2026-11-02T23:59:59Z");
	put_at(shop, "K-2", "R1", "2026-11-03T08:00:00Z");
	put_at(shop, "K-2", "R2", "2026-11-03T08:00:00Z"); /* the same second: the later number */
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-01T08:00:00Z");
	assert_string_equal(where(shop, "2026-11-01T07:59:59Z", NULL), "");
	assert_string_equal(where(shop, "2026-11-01T08:00:00Z", NULL),
	                    "GR000001-E gear R1-1 2026-11-01T08:00\n"
	                    "PC000002-F cylinder R2 2026-11-01T08:00\n");
	assert_string_equal(where(shop, "2026-11-02T12:00:00Z", NULL),
	                    "GR000001-E gear R1-1 2026-11-01T08:00\n"
	                    "PC000001-H cylinder P1-1 2026-11-02T08:00\n"
	                    "PC000002-F cylinder R2 2026-11-01T08:00\n");
	/* A bare date is the end of that day. */
	assert_string_equal(where(shop, "2026-11-02", "R1"),
	                    "GR000001-E gear R1-1 2026-11-01T08:00\n"
	                    "PC000001-H cylinder R1 2026-11-02T23:59:59\n");
	assert_string_equal(where(shop, "2026-11-03T08:00:00Z", "R1"),
	                    "GR000001-E gear R1-1 2026-11-01T08:00\n"
	                    "PC000001-H cylinder R1 2026-11-02T23:59:59\n"
	                    "PC000002-F cylinder R1 2026-11-03T08:00\n");
	assert_string_equal(where(shop, "2026-12-01", "R2"), "");
}

static void room_whereabouts__place_taken_away__not_known_from_then_on(void **state)
{
	struct shop *shop = *state;
	struct edited edited;
	const struct pair pair = {"place", ""};
	furnish(shop);
	shop->actor.now = shop_moment("2026-11-05T08:00:00Z");
	assert_int_equal(room_edit(shop->store, shop->arena, "K-2", &pair, 1, UNITS_METRIC,
	                           &shop->actor, &edited, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(where(shop, "2026-11-04", "R2"),
	                    "PC000002-F cylinder R2 2026-11-01T08:00\n");
	assert_string_equal(where(shop, "2026-11-05", NULL),
	                    "GR000001-E gear R1-1 2026-11-01T08:00\n"
	                    "PC000002-F cylinder ? 2026-11-05T08:00\n");
	assert_string_equal(where(shop, "2026-11-05", "R2"), "");
}

static void room_whereabouts__ahead_or_place_unknown__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop->actor.now = shop_moment("2026-12-01T08:00:00Z");
	assert_null(where(shop, "2026-12-02", NULL));
	shop_faults(shop, OUTCOME_BAD, "when lies ahead: 2026-12-02, and it is 2026-12-01T08:00",
	            "Type a moment that has been; a date alone is the end of that day.");
	assert_null(where(shop, "2026-12-01T08:00:01Z", NULL));
	assert_null(where(shop, "2026-12-01", "R9"));
	shop_faults(shop, OUTCOME_BAD, "place not known: R9", "Type R1 (place, rack 1) or R2 (place).");
}

/* ---------------------------------------------------------------- the ledger of one record */

static void history_began(const struct record *record, void *context)
{
	struct heard *heard = context;
	(void)record;
	heard->begun++;
}

static void heard_row(const struct history_row *row, void *context)
{
	struct heard *heard = context;
	text_add_format(&heard->text, "%s%s%s%s\n", row->entry.word, row->of != NULL ? " " : "",
	                row->of != NULL ? row->of : "", row->taken_back ? ", taken back" : "");
}

static const char *history(struct shop *shop, const char *tag)
{
	struct heard heard = {.text = text_start(shop->arena)};
	const struct history_reader reader = {history_began, heard_row, &heard};
	fault_clear(&shop->fault);
	assert_int_equal(room_history(shop->store, shop->arena, tag, &reader, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(heard.begun, 1);
	return heard.text.bytes;
}

static void room_history__job_and_roll__with_their_rows_in_order(void **state)
{
	struct shop *shop = *state;
	struct removed removed;
	struct undone undone;
	furnish(shop);
	shop->actor.now = shop_moment("2026-12-01T08:30:00Z");
	shop_has(shop, "station", "job=J1;station=2;process=flexo");
	shop_has(shop, "cut", "job=J1;cut=1;kind=kiss");
	shop_has(shop, "job", "number=J2");
	shop_has(shop, "station", "job=J2;station=9;process=flexo");
	assert_int_equal(room_remove(shop->store, shop->arena, "J1", "2", NULL, &shop->actor, &removed,
	                             &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(history(shop, "J1"), "new\nnew station\nnew cut 1\nremove station 2\n");
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(history(shop, "J1"), "new\nnew station 2\nnew cut 1\n"
	                                         "remove station 2, taken back\nundo station 2\n");
	shop_has(shop, "anilox", "other_tag=A-1;volume=4bcm");
	shop_has(shop, "anilox", "other_tag=A-2;volume=4bcm");
	shop_has(shop, "reading", "tool=A-1;moment=2026-10-01;volume=3.9bcm");
	shop_has(shop, "reading", "tool=A-2;moment=2026-10-01;volume=3.9bcm");
	put_at(shop, "A-1", "R1", "2026-12-01T09:00:00Z");
	assert_string_equal(history(shop, "A-1"), "new\nnew reading\nput\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_whereabouts__as_things_went__each_moment_its_own),
		SHOP_TEST(room_whereabouts__place_taken_away__not_known_from_then_on),
		SHOP_TEST(room_whereabouts__ahead_or_place_unknown__refused),
		SHOP_TEST(room_history__job_and_roll__with_their_rows_in_order),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
