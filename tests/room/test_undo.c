/* Taking back: whose entry it is, what it restores, when it is refused. */
#include "shop.h"

static struct undone undone;

static enum outcome undo(struct shop *shop)
{
	fault_clear(&shop->fault);
	return room_undo(shop->store, shop->arena, &shop->actor, &undone, &shop->fault);
}

static enum outcome put(struct shop *shop, const char *tag, const char *place)
{
	struct moved moved;
	fault_clear(&shop->fault);
	return room_put(shop->store, shop->arena, &tag, 1, place, NULL, &shop->actor, &moved,
	                &shop->fault);
}

static enum outcome edit(struct shop *shop, const char *tag, const char *pairs)
{
	struct edited edited;
	struct pair list[SHOP_PAIRS_MOST];
	size_t count = shop_pairs(shop, pairs, list);
	fault_clear(&shop->fault);
	return room_edit(shop->store, shop->arena, tag, list, count, UNITS_METRIC, &shop->actor,
	                 &edited, &shop->fault);
}

static void hold(struct shop *shop, const char *tag, const char *reason)
{
	struct held held;
	assert_int_equal(room_hold(shop->store, shop->arena, tag, reason, &shop->actor, &held,
	                           &shop->fault),
	                 OUTCOME_DONE);
}

/* Who sits where, and when. */
static void sit(struct shop *shop, const char *terminal, const char *badge, const char *now)
{
	struct found found = {.id = 0};
	if (badge != NULL) {
		assert_int_equal(store_find(shop->store, badge, REFER_NONE, &found, NULL), OUTCOME_DONE);
	}
	shop->actor.terminal = terminal;
	shop->actor.operator_id = found.id;
	shop->actor.now = shop_moment(now);
}

static void furnish(struct shop *shop)
{
	shop_furnish(shop);
	shop_has(shop, "operator", "badge=E1;name=Ana;role=clerk");
	shop_has(shop, "operator", "badge=E2;name=Bo;role=clerk");
	shop_has(shop, "cylinder", "other_tag=K-1;teeth=96;pitch=1/8cp;place=R1;home=R1");
	shop_has(shop, "cylinder", "other_tag=K-2;place=R1");
}

/* ---------------------------------------------------------------- whose */

static void room_undo__two_terminals__each_takes_back_its_own(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	sit(shop, "pts/1", NULL, "2026-12-01T09:00:00Z");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	sit(shop, "pts/2", NULL, "2026-12-01T09:01:00Z");
	assert_int_equal(put(shop, "K-2", "P1-1"), OUTCOME_DONE);
	sit(shop, "pts/1", NULL, "2026-12-01T09:02:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.called, "PC000001-H");
	assert_string_equal(undone.result, "from R2 to R1");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
	assert_string_equal(shop_value(shop, "K-2", "place"), "P1-1");
	assert_int_equal(undo(shop), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO,
	            "nothing to take back, at terminal pts/1 by toolroom without a badge",
	            "An entry is taken back where it was made, by who made it: --as OPERATOR.");
	sit(shop, "pts/2", NULL, "2026-12-01T09:03:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-2", "place"), "R1");
}

static void room_undo__two_operators_at_one_terminal__each_takes_back_its_own(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	sit(shop, "pts/1", "E1", "2026-12-01T09:00:00Z");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	sit(shop, "pts/1", "E2", "2026-12-01T09:01:00Z");
	assert_int_equal(put(shop, "K-2", "R2"), OUTCOME_DONE);
	sit(shop, "pts/1", "E1", "2026-12-01T09:02:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.called, "PC000001-H");
	assert_int_equal(undo(shop), OUTCOME_NO);
	sit(shop, "pts/1", NULL, "2026-12-01T09:03:00Z");
	assert_int_equal(undo(shop), OUTCOME_NO);
	sit(shop, "pts/1", "E2", "2026-12-01T09:04:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-2", "place"), "R1");
}

/* ---------------------------------------------------------------- what stood before */

static void room_undo__again_and_again__one_further_back_each_time(void **state)
{
	struct shop *shop = *state;
	struct moved moved;
	struct moment back = shop_moment("2026-12-20");
	struct tool_state tool;
	furnish(shop);
	sit(shop, "pts/1", NULL, "2026-12-01T09:00:00Z");
	assert_int_equal(room_send(shop->store, shop->arena, "K-1", "S1", &back, "to be ground",
	                           &shop->actor, &moved, &shop->fault),
	                 OUTCOME_DONE);
	int64_t id = moved.tool.id;
	sit(shop, "pts/1", NULL, "2026-12-01T10:00:00Z");
	assert_int_equal(put(shop, "K-1", "P1-2"), OUTCOME_DONE);
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.result, "from P1-2 to S1, due back 2026-12-20");
	assert_int_equal(store_tool_state(shop->store, shop->arena, id, &tool, NULL), OUTCOME_DONE);
	assert_string_equal(tool.back, "2026-12-20");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_int_equal(store_tool_state(shop->store, shop->arena, id, &tool, NULL), OUTCOME_DONE);
	assert_string_equal(tool.place_code, "R1");
	assert_null(tool.back);
}

static void room_undo__tool_without_a_place_before__not_known_again(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "gear", "other_tag=G-1");
	sit(shop, "pts/1", NULL, "2026-12-01T09:00:00Z");
	assert_int_equal(put(shop, "G-1", "R2"), OUTCOME_DONE);
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.result, "from R2 to a place not known");
	assert_string_equal(shop_value(shop, "G-1", "place"), "");
}

static void room_undo__conditions__with_reason_and_since_as_they_stood(void **state)
{
	struct shop *shop = *state;
	struct scrapped scrapped;
	struct held held;
	struct found found;
	struct tool_state tool;
	furnish(shop);
	sit(shop, "pts/1", NULL, "2026-12-01T09:00:00Z");
	hold(shop, "K-1", "scored band");
	sit(shop, "pts/1", NULL, "2026-12-01T10:00:00Z");
	assert_int_equal(room_scrap(shop->store, shop->arena, "K-1", "worn out", &shop->actor,
	                            &scrapped, &shop->fault),
	                 OUTCOME_DONE);
	sit(shop, "pts/1", NULL, "2026-12-01T11:00:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.result, "on hold again: scored band");
	assert_int_equal(store_find(shop->store, "K-1", REFER_TOOL, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_tool_state(shop->store, shop->arena, found.id, &tool, NULL),
	                 OUTCOME_DONE);
	assert_string_equal(moment_text_utc(tool.condition_since.value).bytes, "2026-12-01T09:00:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-1", "condition"), "ready");
	hold(shop, "P1-2", "lamp out");
	assert_int_equal(room_clear(shop->store, shop->arena, "P1-2", &shop->actor, &held, NULL),
	                 OUTCOME_DONE);
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.result, "on hold again: lamp out");
	assert_string_equal(shop_value(shop, "P1-2", "condition"), "hold");
}

/* Every attribute of a kind, changed or blanked and taken back: the same to the last digit. */
static void changed_and_back(struct shop *shop, const char *name, const char *pairs)
{
	struct found found;
	struct record *before, *after;
	assert_int_equal(store_find(shop->store, name, REFER_NONE, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_record_read(shop->store, shop->arena, found.kind, found.id, &before,
	                                   NULL),
	                 OUTCOME_DONE);
	if (edit(shop, name, pairs) != OUTCOME_DONE || undo(shop) != OUTCOME_DONE) {
		fail_msg("%s: %s", pairs, shop->fault.sentence);
	}
	assert_int_equal(store_record_read(shop->store, shop->arena, found.kind, found.id, &after,
	                                   NULL),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < kind_attribute_count(found.kind); i++) {
		if (!value_equal(&before->values[i], &after->values[i])) {
			fail_msg("%s: %s is not as it was", name, kind_attribute(found.kind, i)->name);
		}
		assert_int_equal(before->references[i], after->references[i]);
	}
}

static void room_undo__correction_of_any_kind__every_value_as_it_was(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	shop_has(shop, "cylinder",
	         "other_tag=K-9;maker_serial=a \"b\", c;name=Zylinder \xc3\xbc;fit=journal35,b;"
	         "place=R1;home=R2;face=13.0001in;face_from=1/3in;face_to=12in;weight=10.123456kg;"
	         "cost=1250.07;acquired=2020-02-29;run=123456.789m;note=x;teeth=96;pitch=1/8cp;"
	         "drive=geared;undercut=0.067in;diameter=3.7in;runout=0.0005in;bore=1in;"
	         "pressure_angle=14.5deg;helix=8.123456deg;hand=right;carries=J1");
	changed_and_back(shop, "K-9",
	                 "other_tag=;maker_serial=;name=;fit=;place=;home=;face=;face_from=;face_to=;"
	                 "weight=;cost=;acquired=;run=;note=;teeth=;pitch=;drive=;undercut=;diameter=;"
	                 "runout=;bore=;pressure_angle=;helix=;hand=;carries=");
	changed_and_back(shop, "K-9", "teeth=64;pitch=m1.5;place=R2;carries=;other_tag=K-10");
	shop_has(shop, "anilox",
	         "other_tag=A-1;line_screen=360lpi;volume=4.3bcm;angle=60deg;"
	         "diameter=110.0001mm;surface=ceramic;engraved=2024-01-02T03:04Z");
	changed_and_back(shop, "A-1", "line_screen=;volume=;angle=;diameter=;surface=;engraved=");
	shop_has(shop, "blade",
	         "other_tag=B-1;length=340mm;thickness=0.15mm;edge=lamella;life=100000m;"
	         "material=steel;fitted=2026-01-01");
	changed_and_back(shop, "B-1", "length=;thickness=;edge=;life=;material=;fitted=");
	shop_has(shop, "die",
	         "other_tag=D-1;label_across=60mm;gap_around=1/8in;life=1000000;die_gap="
	         "0.48mm;corner=0mm;pitch=10dp");
	changed_and_back(shop, "D-1", "label_across=61mm;gap_around=;life=;die_gap=;corner=;pitch=");
	changed_and_back(shop, "P1", "drive=servo;pitches=;speed=100m/min;web=340mm;retired=yes");
	changed_and_back(shop, "P1", "stations=4;pitches=1/8cp,10dp");
	shop_has(shop, "job",
	         "number=J7;press=P1;from=2026-12-03T06:00+01:00;until=2026-12-04;teeth=96;"
	         "pitch=1/8cp;quantity=1000;trim=0mm");
	changed_and_back(shop, "J7", "press=;from=;until=;teeth=;pitch=;quantity=;trim=;state=running");
	changed_and_back(shop, "R1", "code=R9;name=;condition=hold;note=wet;retired=yes;within=R2");
	changed_and_back(shop, "E1", "badge=E9;name=Anna;role=supervisor;retired=yes");
}

static void room_undo__removed_station__there_again_whole(void **state)
{
	struct shop *shop = *state;
	struct removed removed;
	struct found found;
	struct record *before, *after;
	int64_t row;
	furnish(shop);
	shop_has(shop, "station",
	         "job=J1;station=2;ink=cyan, \"warm\";process=flexo;register=no;plate=1.14mm;"
	         "base=0.005in;tape=0.38mm;plates=ready;screen_min=700lpi;screen_max=900lpi;"
	         "volume=1.75bcm;volume_tolerance=7.5%;plate_screen=150lpi");
	assert_int_equal(store_find(shop->store, "J1", REFER_JOB, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_job_row_find(shop->store, &kinds[KIND_STATION], found.id, 2, &row, NULL),
	                 OUTCOME_DONE);
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[KIND_STATION], row, &before,
	                                   NULL),
	                 OUTCOME_DONE);
	assert_int_equal(room_remove(shop->store, shop->arena, "J1", "2", NULL, &shop->actor, &removed,
	                             &shop->fault),
	                 OUTCOME_DONE);
	/* Another row meanwhile takes no id that the ledger knows already. */
	sit(shop, "pts/9", NULL, "2026-12-01T09:00:00Z");
	shop_has(shop, "station", "job=J1;station=5;process=flexo");
	assert_true(shop->record->id > row);
	sit(shop, "bench", NULL, "2026-12-01T09:01:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(undone.called, "station 2 of job J1");
	assert_int_equal(store_record_read(shop->store, shop->arena, &kinds[KIND_STATION], row, &after,
	                                   NULL),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < kind_attribute_count(after->kind); i++) {
		assert_true(value_equal(&before->values[i], &after->values[i]));
	}
}

/* ---------------------------------------------------------------- refusals */

static void room_undo__moved_since_by_another__refused_with_what_and_who(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	sit(shop, "pts/1", "E1", "2026-12-01T09:00:00Z");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	sit(shop, "pts/2", "E2", "2026-12-01T09:30:00Z");
	assert_int_equal(put(shop, "K-1", "P1-1"), OUTCOME_DONE);
	sit(shop, "pts/1", "E1", "2026-12-01T10:00:00Z");
	assert_int_equal(undo(shop), OUTCOME_NO);
	shop_faults(
		shop, OUTCOME_NO,
		"put of PC000001-H is not taken back, it has moved since: put from R2 to P1-1, by Bo at "
		"terminal pts/2, 2026-12-01T09:30",
		"Look with history PC000001-H, then put it right by its own command.");
	assert_string_equal(shop_value(shop, "K-1", "place"), "P1-1");
	/* Once that is taken back itself, things are as they were. */
	sit(shop, "pts/2", "E2", "2026-12-01T10:30:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	sit(shop, "pts/1", "E1", "2026-12-01T11:00:00Z");
	assert_int_equal(undo(shop), OUTCOME_DONE);
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
}

static void room_undo__place_retired_since__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	sit(shop, "pts/1", NULL, "2026-12-01T09:00:00Z");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	sit(shop, "pts/2", NULL, "2026-12-01T09:01:00Z");
	assert_int_equal(edit(shop, "R1", "retired=yes"), OUTCOME_DONE);
	sit(shop, "pts/1", NULL, "2026-12-01T09:02:00Z");
	assert_int_equal(undo(shop), OUTCOME_NO);
	shop_faults(shop, OUTCOME_NO, "place is retired: R1",
	            "Type put PC000001-H at=PLACE with a place that is in use.");
}

static void room_undo__clock_gone_back__refused(void **state)
{
	struct shop *shop = *state;
	furnish(shop);
	sit(shop, "pts/1", NULL, "2026-12-01T09:00:00Z");
	assert_int_equal(put(shop, "K-1", "R2"), OUTCOME_DONE);
	sit(shop, "pts/1", NULL, "2026-12-01T08:30:00Z");
	assert_int_equal(undo(shop), OUTCOME_NO);
	shop_faults(
		shop, OUTCOME_NO, "clock stands before the tool's last movement: PC000001-H",
		"Set this computer's clock, then type it again; history PC000001-H tells when it moved.");
	assert_int_equal(edit(shop, "K-1", "place=P1-1"), OUTCOME_NO);
	shop_faults(
		shop, OUTCOME_NO, "clock stands before the tool's last movement: PC000001-H",
		"Set this computer's clock, then type it again; history PC000001-H tells when it moved.");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R2");
}

static void room_undo__put_on_record__refused_with_what_to_type(void **state)
{
	static const struct {
		const char *kind, *pairs, *sentence, *hint;
	} cases[] = {
		{"gear", "other_tag=G-1", "gear was put on record, that is not taken back: GR000001-E",
	     "Type scrap GR000001-E reason=..."},
		{"place", "code=X1;sort=store", "place was put on record, that is not taken back: X1",
	     "Type edit X1 retired=yes."},
		{"job", "number=J2", "job was put on record, that is not taken back: J2",
	     "Type edit J2 state=cancelled."},
		{"cut", "job=J1;cut=1;kind=kiss",
	     "cut of a job was put on record, that is not taken back: cut 1 of job J1",
	     "Type remove J1 cut=1."},
		{"press", "code=P8;drive=servo;stations=1",
	     "place was put on record, that is not taken back: P8-1", "Type edit P8-1 retired=yes."},
	};
	struct shop *shop = *state;
	furnish(shop);
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		shop_has(shop, cases[i].kind, cases[i].pairs);
		assert_int_equal(undo(shop), OUTCOME_NO);
		shop_faults(shop, OUTCOME_NO, cases[i].sentence, cases[i].hint);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_undo__two_terminals__each_takes_back_its_own),
		SHOP_TEST(room_undo__two_operators_at_one_terminal__each_takes_back_its_own),
		SHOP_TEST(room_undo__again_and_again__one_further_back_each_time),
		SHOP_TEST(room_undo__tool_without_a_place_before__not_known_again),
		SHOP_TEST(room_undo__conditions__with_reason_and_since_as_they_stood),
		SHOP_TEST(room_undo__correction_of_any_kind__every_value_as_it_was),
		SHOP_TEST(room_undo__removed_station__there_again_whole),
		SHOP_TEST(room_undo__moved_since_by_another__refused_with_what_and_who),
		SHOP_TEST(room_undo__place_retired_since__refused),
		SHOP_TEST(room_undo__clock_gone_back__refused),
		SHOP_TEST(room_undo__put_on_record__refused_with_what_to_type),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
