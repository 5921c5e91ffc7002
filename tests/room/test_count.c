/* Counts: what is told to differ, what putting right does, and what happened meanwhile. */
#include "shop.h"

static struct count_state stands;
static struct count_ended ended;

static int64_t id_of(struct shop *shop, const char *name)
{
	struct found found;
	assert_int_equal(store_find(shop->store, name, REFER_NONE, &found, NULL), OUTCOME_DONE);
	return found.id;
}

/* The clock stands so many minutes after 08:00. */
static void at_minute(struct shop *shop, int64_t minute)
{
	shop->actor.now = shop_moment("2026-12-01T08:00:00Z");
	shop->actor.now.s += minute * 60;
}

static enum outcome begin(struct shop *shop, const char *place)
{
	fault_clear(&shop->fault);
	return room_count_begin(shop->store, shop->arena, id_of(shop, place), &shop->actor, &stands,
	                        &shop->fault);
}

/* `tool` is a tag, or with `?` in front what is not known. */
static enum outcome see(struct shop *shop, const char *tool, const char *at)
{
	bool unknown = *tool == '?';
	fault_clear(&shop->fault);
	return room_count_see(shop->store, shop->arena, stands.id, unknown ? 0 : id_of(shop, tool),
	                      unknown ? tool + 1 : tool, id_of(shop, at), &shop->actor, &shop->fault);
}

static enum outcome end(struct shop *shop, bool correct)
{
	fault_clear(&shop->fault);
	return room_count_end(shop->store, shop->arena, stands.id, correct, &shop->actor, &ended,
	                      &shop->fault);
}

static enum outcome put(struct shop *shop, const char *tag, const char *place)
{
	struct moved moved;
	fault_clear(&shop->fault);
	return room_put(shop->store, shop->arena, &tag, 1, place, NULL, &shop->actor, &moved,
	                &shop->fault);
}

static void add_rows(struct text *text, const char *name, const struct count_row *rows,
                     size_t count)
{
	for (size_t i = 0; i < count; i++) {
		text_add_format(text, "%s %s %s", name, rows[i].tag,
		                rows[i].on_record != NULL ? rows[i].on_record : "-");
		if (rows[i].out_for != NULL) {
			text_add_format(text, "(%s)", rows[i].out_for);
		}
		text_add_format(text, " %s\n", rows[i].seen != NULL ? rows[i].seen : "-");
	}
}

/* A line a difference: `missing PC000001-H R1 -`: what, on record, seen. */
static const char *differences(struct shop *shop)
{
	struct text text = text_start(shop->arena);
	fault_clear(&shop->fault);
	assert_int_equal(room_count_state(shop->store, shop->arena, stands.id, &stands, &shop->fault),
	                 OUTCOME_DONE);
	add_rows(&text, "missing", stands.missing, stands.missing_count);
	add_rows(&text, "elsewhere", stands.elsewhere, stands.elsewhere_count);
	add_rows(&text, "unknown", stands.unknown, stands.unknown_count);
	return text.bytes;
}

static const char *last_entry(struct shop *shop, const char *tag)
{
	struct found found;
	struct ledger_entry *entries;
	size_t count;
	assert_int_equal(store_find(shop->store, tag, REFER_TOOL, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_ledger_of(shop->store, shop->arena, found.kind, found.id, 1, &entries,
	                                 &count, NULL),
	                 OUTCOME_DONE);
	return arena_format(shop->arena, "%s %s -> %s%s%s", entries[0].word,
	                    entries[0].from_code != NULL ? entries[0].from_code : "?",
	                    entries[0].to_code != NULL ? entries[0].to_code : "?",
	                    entries[0].detail != NULL ? ": " : "",
	                    entries[0].detail != NULL ? entries[0].detail : "");
}

static void whole(struct shop *shop)
{
	static struct proof proof;
	fault_clear(&shop->fault);
	assert_int_equal(room_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(proof.damage_count, 0);
}

/*
 * Rack R1 with shelf R1-1 and that with box R1-1-A; R2. K-1 on R1, K-2 on R1-1, K-3 in R1-1-A, K-4
 * in R2. The clock goes to minute 1.
 */
static void furnish(struct shop *shop)
{
	shop_furnish(shop);
	shop_has(shop, "place", "code=R1-1;within=R1;sort=store");
	shop_has(shop, "place", "code=R1-1-A;within=R1-1;sort=store");
	shop_has(shop, "cylinder", "other_tag=K-1;place=R1;teeth=96;pitch=1/8cp;face=330mm");
	shop_has(shop, "cylinder", "other_tag=K-2;place=R1-1");
	shop_has(shop, "cylinder", "other_tag=K-3;place=R1-1-A");
	shop_has(shop, "cylinder", "other_tag=K-4;place=R2");
	at_minute(shop, 1);
}

/* ---------------------------------------------------------------- what is told */

static void count__just_begun__all_within_is_missing(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_string_equal(stands.place, "R1");
	assert_string_equal(stands.name, "rack 1");
	assert_string_equal(stands.by, "toolroom");
	assert_int_equal(stands.started.s, shop->actor.now.s);
	assert_false(stands.taken_up);
	assert_int_equal(stands.expected, 3);
	assert_int_equal(stands.seen, 0);
	assert_string_equal(differences(shop), "missing PC000001-H R1 -\nmissing PC000002-F R1-1 -\n"
	                                       "missing PC000003-D R1-1-A -\n");
	assert_string_equal(stands.missing[0].what, "plate cylinder, 96 teeth 1/8cp, face 330mm");
}

static void count__all_in_their_place__nothing_differs(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-1", "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-2", "R1-1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-3", "R1-1-A"), OUTCOME_DONE);
	assert_int_equal(see(shop, "PC000003D", "R1-1-A"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "");
	assert_int_equal(stands.expected, 3);
	assert_int_equal(stands.seen, 3);
}

static void count__seen_elsewhere__told_with_both_places(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-5");
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-1", "R1-1"), OUTCOME_DONE); /* on the shelf of the same rack */
	assert_int_equal(see(shop, "K-4", "R1-1-A"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-5", "R1"), OUTCOME_DONE);
	assert_string_equal(differences(shop),
	                    "missing PC000002-F R1-1 -\nmissing PC000003-D R1-1-A -\n"
	                    "elsewhere PC000005-9 - R1\nelsewhere PC000001-H R1 R1-1\n"
	                    "elsewhere PC000004-B R2 R1-1-A\n");
}

/* Who scans only the rack says nothing against the shelf on record. */
static void count__seen_in_the_place_around__is_in_its_place(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-2", "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-3", "R1"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "missing PC000001-H R1 -\n");
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-3", "place"), "R1-1-A");
}

static void count__scanned_twice__seen_where_it_was_last(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-2", "R1-1-A"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-2", "R1-1"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "missing PC000001-H R1 -\n"
	                                       "missing PC000003-D R1-1-A -\n");
}

static void count__not_on_record__unknown_until_it_is(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R2"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-4", "R2"), OUTCOME_DONE);
	assert_int_equal(see(shop, "?B-77", "R2"), OUTCOME_DONE);
	assert_int_equal(see(shop, "?B-77", "R2"), OUTCOME_DONE);
	assert_int_equal(see(shop, "?pc000900d", "R2"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "unknown B-77 - R2\nunknown PC000900D - R2\n");
	assert_null(stands.unknown[0].what);
	at_minute(shop, 2);
	shop_has(shop, "gear", "other_tag=B-77;place=R2");
	assert_int_equal(see(shop, "B-77", "R2"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "unknown PC000900D - R2\n");
}

static void count__scrapped_or_out_for_a_job__not_missing(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-5;place=R2;condition=scrapped;note=cracked");
	assert_int_equal(begin(shop, "R2"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "missing PC000004-B R2 -\n");
	assert_int_equal(see(shop, "K-5", "R2"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "tool is scrapped: PC000005-9: cracked",
	            "Type edit PC000005-9 condition=ready where it was not.");
	assert_int_equal(stands.expected, 1);
}

/* What lies at a supplier or is lost already is not missed in the room around. */
static void count__lost_and_away_within_it__not_expected(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "place", "code=X1;sort=supplier;within=R2");
	shop_has(shop, "place", "code=X2;sort=lost;within=R2");
	shop_has(shop, "cylinder", "other_tag=K-5;place=X1");
	shop_has(shop, "cylinder", "other_tag=K-6;place=X2");
	assert_int_equal(begin(shop, "R2"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "missing PC000004-B R2 -\n");
}

/* ---------------------------------------------------------------- refusals */

static void count_begin__place_that_is_not_counted__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "place", "code=R9;sort=store;retired=yes");
	assert_int_equal(begin(shop, "R9"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is retired: R9", "Name a place that is in use.");
	assert_int_equal(begin(shop, "S1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is a supplier, nothing is counted there: S1",
	            "Name a place of the shop.");
	assert_int_equal(begin(shop, "LOST"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is for what is lost, nothing is counted there: LOST",
	            "Name a place of the shop.");
}

static void count_begin__shares_shelves_with_an_open_one__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	assert_int_equal(begin(shop, "R1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO,
	            "count of R1 shares shelves with one that is open: R1-1, by toolroom since"
	            " 2026-12-01T08:01",
	            "Type count R1-1 to go on with that, or count R1-1 end=no to end it.");
	assert_int_equal(begin(shop, "R1-1-A"), OUTCOME_NO);
	assert_int_equal(begin(shop, "R2"), OUTCOME_DONE);
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	assert_true(stands.taken_up);
	assert_int_equal(end(shop, false), OUTCOME_DONE);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_false(stands.taken_up);
}

static void count_see__what_is_not_counted__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-1", "R2"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is not within R1, which is counted: R2",
	            "Scan R1 or a place within it, or DONE to leave the count open.");
	assert_int_equal(see(shop, "?PC000900A", "R1"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "tag misread, its check character does not agree: PC000900A",
	            "Scan it again.");
	assert_int_equal(stands.seen, 0);
	assert_int_equal(end(shop, false), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-1", "R1"), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "count has ended: R1", "Type count R1 to begin another.");
	assert_int_equal(end(shop, true), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "count has ended: R1", "Type count R1 to begin another.");
}

static void count_open__of_a_place__found_or_refused(void **state)
{
	struct shop *shop = *state;
	int64_t id;
	furnish(shop);
	assert_int_equal(room_count_open(shop->store, shop->arena, "r1", &id, &shop->fault),
	                 OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "count is not open: R1",
	            "Type count R1 at a terminal, and scan what lies there.");
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(room_count_open(shop->store, shop->arena, "r1", &id, NULL), OUTCOME_DONE);
	assert_int_equal(id, stands.id);
}

/* ---------------------------------------------------------------- putting right */

static void count_end__corrected__each_a_movement(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-1", "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-4", "R1-1"), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-4", "place"), "R2"); /* nothing before YES */
	at_minute(shop, 2);
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_int_equal(ended.moved, 1);
	assert_int_equal(ended.lost, 2);
	assert_int_equal(ended.left, 0);
	assert_string_equal(ended.place, "R1");
	assert_string_equal(ended.lost_to, "LOST");
	assert_string_equal(last_entry(shop, "K-4"), "put R2 -> R1-1: count of R1");
	assert_string_equal(last_entry(shop, "K-2"), "put R1-1 -> LOST: missing at the count of R1");
	assert_string_equal(last_entry(shop, "K-1"), "new ? -> R1");
	assert_string_equal(shop_value(shop, "K-3", "place"), "LOST");
	whole(shop);
	/* The next count agrees. */
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(stands.expected, 2);
}

static void count_end__not_corrected__nothing_moves(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-4", "R1-1"), OUTCOME_DONE);
	assert_int_equal(end(shop, false), OUTCOME_DONE);
	assert_int_equal(ended.moved + ended.lost + ended.left, 0);
	assert_string_equal(last_entry(shop, "K-4"), "new ? -> R2");
}

static void count_end__no_place_or_several_for_the_lost__left(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "place", "code=LOST-2;sort=lost");
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_int_equal(ended.left, 3);
	assert_int_equal(ended.lost, 0);
	assert_null(ended.lost_to);
	assert_string_equal(shop_value(shop, "K-2", "place"), "R1-1");
}

static void count_end__moved_since__what_happened_wins(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-4", "R1"), OUTCOME_DONE);
	at_minute(shop, 2);
	assert_int_equal(put(shop, "K-4", "P1-1"), OUTCOME_DONE); /* seen, then taken away */
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);   /* away before it was seen */
	assert_int_equal(put(shop, "K-2", "R1-1"), OUTCOME_DONE); /* in, behind who counts */
	assert_string_equal(differences(shop), "missing PC000003-D R1-1-A -\n");
	at_minute(shop, 3);
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_int_equal(ended.moved, 0);
	assert_int_equal(ended.lost, 1);
	assert_string_equal(shop_value(shop, "K-4", "place"), "P1-1");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R2");
	assert_string_equal(shop_value(shop, "K-2", "place"), "R1-1");
	whole(shop);
}

/* It is on the other shelf, but nobody has said YES there yet. */
static void count_end__missing_but_seen_by_another_count__left(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	int64_t other = stands.id;
	at_minute(shop, 2);
	assert_int_equal(begin(shop, "R2"), OUTCOME_DONE);
	int64_t second = stands.id;
	assert_int_equal(see(shop, "K-2", "R2"), OUTCOME_DONE);
	stands.id = other;
	assert_string_equal(differences(shop), "missing PC000002-F R1-1 R2\n"
	                                       "missing PC000003-D R1-1-A -\n");
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_int_equal(ended.lost, 1);
	assert_int_equal(ended.left, 1);
	assert_string_equal(shop_value(shop, "K-2", "place"), "R1-1");
	stands.id = second;
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-2", "place"), "R2");
}

/* Taken for a job, it stays on record here and is not missed; seen here, it is back. */
static void count_end__out_for_a_job_but_seen_here__back(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	assert_int_equal(store_begin(shop->store, "test", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_tool_take(shop->store, id_of(shop, "K-2"), id_of(shop, "J1"),
	                                 &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_tool_take(shop->store, id_of(shop, "K-3"), id_of(shop, "J1"),
	                                 &shop->actor, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
	at_minute(shop, 2);
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	assert_int_equal(stands.expected, 0);
	assert_string_equal(differences(shop), "");
	assert_int_equal(see(shop, "K-2", "R1-1"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "elsewhere PC000002-F R1-1(J1) R1-1\n");
	at_minute(shop, 3);
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_int_equal(ended.moved, 1);
	assert_int_equal(ended.lost, 0);
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	assert_int_equal(stands.expected, 1); /* K-3 is out still */
	whole(shop);
}

/* A count that comes late, of a handheld: what happened since its lines wins. */
static void count_end__comes_late__what_happened_wins(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	at_minute(shop, 30);
	assert_int_equal(put(shop, "K-4", "P1-1"), OUTCOME_DONE);
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	at_minute(shop, 10);
	shop->actor.happened = (struct known_moment){true, shop->actor.now};
	at_minute(shop, 60);
	assert_int_equal(begin(shop, "R1"), OUTCOME_DONE);
	assert_int_equal(stands.started.s, shop_moment("2026-12-01T08:10:00Z").s);
	assert_int_equal(see(shop, "K-4", "R1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-2", "R1-1-A"), OUTCOME_DONE);
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_int_equal(ended.moved, 1);
	assert_int_equal(ended.lost, 1);
	assert_string_equal(shop_value(shop, "K-4", "place"), "P1-1");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R2");
	assert_string_equal(shop_value(shop, "K-2", "place"), "R1-1-A");
	assert_string_equal(shop_value(shop, "K-3", "place"), "LOST");
	whole(shop);
}

static void count_end__at_a_supplier_but_seen_here__back_is_forgotten(void **state)
{
	struct shop *shop = *state;
	struct moved moved;
	struct moment back = shop_moment("2026-12-14");
	furnish(shop);
	fault_clear(&shop->fault);
	assert_int_equal(room_send(shop->store, shop->arena, "K-4", "S1", &back, "to be ground",
	                           &shop->actor, &moved, &shop->fault),
	                 OUTCOME_DONE);
	at_minute(shop, 2);
	assert_int_equal(begin(shop, "R2"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-4", "R2"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "elsewhere PC000004-B S1 R2\n");
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-4", "place"), "R2");
	assert_string_equal(shop_value(shop, "K-4", "back"), "");
}

/* Each correction is an entry like any other. */
static void count_end__undo__takes_one_correction_back(void **state)
{
	struct shop *shop = *state;
	struct undone undone;
	furnish(shop);
	assert_int_equal(begin(shop, "R1-1-A"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-4", "R1-1-A"), OUTCOME_DONE);
	at_minute(shop, 2);
	assert_int_equal(end(shop, true), OUTCOME_DONE);
	fault_clear(&shop->fault);
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(undone.result, "from LOST to R1-1-A");
	assert_int_equal(room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(undone.result, "from R1-1-A to R2");
	whole(shop);
}

static void count__left_and_taken_up_by_another__goes_on(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "operator", "badge=N1;name=Nora Tindle;role=clerk");
	shop->actor.operator_id = id_of(shop, "N1");
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	assert_int_equal(see(shop, "K-2", "R1-1"), OUTCOME_DONE);
	store_close(shop->store);
	assert_int_equal(store_open(shop->path, STORE_WRITE, true, &shop->store, &shop->fault),
	                 OUTCOME_DONE);
	shop->actor = (struct actor){.login = "evening", .terminal = "other"};
	at_minute(shop, 400);
	assert_int_equal(begin(shop, "R1-1"), OUTCOME_DONE);
	assert_true(stands.taken_up);
	assert_string_equal(stands.by, "Nora Tindle");
	assert_int_equal(stands.started.s, shop_moment("2026-12-01T08:01:00Z").s);
	assert_int_equal(stands.seen, 1);
	assert_int_equal(stands.missing_count, 1);
	assert_int_equal(see(shop, "K-3", "R1-1-A"), OUTCOME_DONE);
	assert_string_equal(differences(shop), "");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(count__just_begun__all_within_is_missing),
		SHOP_TEST(count__all_in_their_place__nothing_differs),
		SHOP_TEST(count__seen_elsewhere__told_with_both_places),
		SHOP_TEST(count__seen_in_the_place_around__is_in_its_place),
		SHOP_TEST(count__scanned_twice__seen_where_it_was_last),
		SHOP_TEST(count__not_on_record__unknown_until_it_is),
		SHOP_TEST(count__scrapped_or_out_for_a_job__not_missing),
		SHOP_TEST(count__lost_and_away_within_it__not_expected),
		SHOP_TEST(count_begin__place_that_is_not_counted__refused),
		SHOP_TEST(count_begin__shares_shelves_with_an_open_one__refused),
		SHOP_TEST(count_see__what_is_not_counted__refused),
		SHOP_TEST(count_open__of_a_place__found_or_refused),
		SHOP_TEST(count_end__corrected__each_a_movement),
		SHOP_TEST(count_end__not_corrected__nothing_moves),
		SHOP_TEST(count_end__no_place_or_several_for_the_lost__left),
		SHOP_TEST(count_end__moved_since__what_happened_wins),
		SHOP_TEST(count_end__missing_but_seen_by_another_count__left),
		SHOP_TEST(count_end__out_for_a_job_but_seen_here__back),
		SHOP_TEST(count_end__comes_late__what_happened_wins),
		SHOP_TEST(count_end__at_a_supplier_but_seen_here__back_is_forgotten),
		SHOP_TEST(count_end__undo__takes_one_correction_back),
		SHOP_TEST(count__left_and_taken_up_by_another__goes_on),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
