/* One record at a time: what is taken, every rule that refuses, and what it says. */
#include "shop.h"

/* ---------------------------------------------------------------- what is taken */

static void room_new__every_kind__on_record_with_a_tag(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	assert_string_equal(shop_has(shop, "operator", "badge=E1;name=Nora Tindle;role=clerk"),
	                    "OP000001-F");
	assert_string_equal(shop_has(shop, "cylinder",
	                             "teeth=96;pitch=1/8cp;drive=geared;face=330mm;place=R1;home=r2;"
	                             "other_tag=K-1;carries=J1"),
	                    "PC000001-H");
	assert_string_equal(shop_value(shop, "K-1", "home"), "R2");
	assert_string_equal(shop_value(shop, "k-1", "carries"), "J1");
	assert_string_equal(shop_has(shop, "gear", "teeth=96;pitch=1/8cp"), "GR000001-E");
	assert_string_equal(shop_has(shop, "anilox", "line_screen=360lpi;volume=4.3bcm"), "AN000001-R");
	assert_string_equal(shop_has(shop, "blade", "length=13in"), "DB000001-I");
	assert_string_equal(shop_has(shop, "die", "cut=kiss;life=1000000"), "DI000001-A");
	assert_string_equal(shop_has(shop, "magnetic_cylinder", "die_gap=0.48mm"), "MC000001-8");
	assert_null(shop_has(shop, "station", "job=J1;station=1;process=flexo;plate=1.14mm"));
	assert_null(shop_has(shop, "cut", "job=J1;cut=1;kind=kiss;die=DI000001A"));
	assert_null(shop_has(shop, "reading", "tool=AN000001R;moment=2026-11-30;volume=4bcm"));
}

static void room_new__press__its_stations_become_places(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "place", "code=P1-2;sort=press;processes=flexo;name=by the door");
	shop_has(shop, "press", "code=P1;drive=servo;stations=2;die_stations=1");
	assert_string_equal(shop_value(shop, "P1-1", "sort"), "press");
	assert_string_equal(shop_value(shop, "P1-2", "name"), "by the door");
	assert_string_equal(shop_value(shop, "P1-2", "within"), "P1");
	assert_string_equal(shop_value(shop, "P1-D1", "sort"), "press");
	assert_null(shop_value(shop, "P1-3", "sort"));
}

static void room_new__tag_of_its_own__kept_and_none_given_twice(void **state)
{
	struct shop *shop = *state;
	/* PC000123Y is the vocabulary's own example of a tag. */
	assert_string_equal(shop_has(shop, "cylinder", "tag=]C0pc000123.y"), "]C0pc000123.y");
	assert_string_equal(shop_value(shop, "PC000123-Y", "tag"), "PC000123-Y");
	assert_string_equal(shop_has(shop, "cylinder", "name=next"), "PC000124-W");
}

static void room_new__repeat_that_agrees__left_to_teeth_and_pitch(void **state)
{
	struct shop *shop = *state;
	/*
	 * 96 teeth of 1/8 CP make 304.8 mm; the limit of repeat_match is inclusive: common practice, no
	 * source.
	 */
	static const char *const repeats[] = {"304.8mm", "12in", "304.81mm", "304.79mm"};
	for (size_t i = 0; i < COUNT_OF(repeats); i++) {
		const char *tag =
			shop_has(shop, "cylinder",
		             arena_format(shop->arena, "teeth=96;pitch=1/8cp;repeat=%s", repeats[i]));
		assert_string_equal(shop_value(shop, tag, "repeat"), "");
	}
	const char *tag = shop_has(shop, "cylinder", "drive=gearless;repeat=300mm");
	assert_string_equal(shop_value(shop, tag, "repeat"), "300mm");
	shop_has(shop, "job", "number=J7;repeat=300mm");
	assert_string_equal(shop_value(shop, "J7", "repeat"), "300mm");
}

static void room_new__reading_across__counts_by_its_mean(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "anilox", "other_tag=roll");
	shop_has(shop, "reading", "tool=roll;moment=2026-12-01T08:00Z;across=6.2/6.4/6.0cm3/m2");
	assert_string_equal(value_text(shop->arena, record_value(shop->record, "volume"), UNITS_METRIC),
	                    "6.2cm3/m2");
	/* Read twice, it is two readings. */
	shop_has(shop, "reading", "tool=roll;moment=2026-12-01T08:00Z;across=6.2/6.4/6.0cm3/m2");
}

static void room_new__zero_where_the_trade_has_one__taken(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "press", "code=P1;drive=servo;stations=2;die_stations=0;repeat_min=0mm");
	shop_has(shop, "job",
	         "number=J1;liner_caliper=0mm;corner=0mm;gap_across=0mm;gap_around_min=0mm;trim=0mm");
	shop_has(shop, "station", "job=J1;station=1;process=flexo;plate=1.14mm;base=0mm;tape=0mm");
	/* imaged in the round: nothing of it is stretched */
	shop_has(shop, "station", "job=J1;station=2;process=flexo;plate=1.14mm;base=1.14mm");
	shop_has(shop, "cylinder", "run=0m;undercut=0mm;runout=0mm;helix=0deg;face_from=0mm");
	assert_string_equal(shop_value(shop, "P1", "repeat_min"), "0mm");
	assert_string_equal(shop_value(shop, "J1", "liner_caliper"), "0mm");
	assert_string_equal(shop_value(shop, "J1", "corner"), "0mm");
	assert_string_equal(shop_value(shop, "PC000001H", "runout"), "0mm");
}

static void room_new__figures_of_a_tool_not_known__taken(void **state)
{
	struct shop *shop = *state;
	const char *tag = shop_has(shop, "cylinder", "teeth=96");
	assert_string_equal(shop_value(shop, tag, "pitch"), "");
	tag = shop_has(shop, "die", "pitch=1/8cp;face_to=300mm");
	assert_string_equal(shop_value(shop, tag, "teeth"), "");
	assert_string_equal(shop_value(shop, tag, "face_to"), "300mm");
	tag = shop_has(shop, "anilox", "face=330mm;face_from=20mm;face_to=331mm");
	assert_string_equal(shop_value(shop, tag, "face_to"), "331mm");
}

static void room_new__hold_by_its_note__reason_and_moment_kept(void **state)
{
	struct shop *shop = *state;
	struct tool_state tool;
	struct cylinder *cylinders;
	size_t count;
	shop_has(shop, "cylinder", "teeth=96;pitch=1/8cp;condition=hold;note=scored band");
	assert_int_equal(store_tool_state(shop->store, shop->arena, shop->record->id, &tool, NULL),
	                 OUTCOME_DONE);
	assert_string_equal(tool.condition_reason, "scored band");
	assert_int_equal(store_cylinders(shop->store, shop->arena, 0, length_from_mm(300),
	                                 length_from_mm(310), &cylinders, &count, NULL),
	                 OUTCOME_DONE);
	assert_int_equal(count, 1);
	assert_true(cylinders[0].tool.condition_since.known);
	assert_int_equal(moment_compare(cylinders[0].tool.condition_since.value, shop->actor.now), 0);
}

/* ---------------------------------------------------------------- what is refused */

/* Each on a furnished shop that holds the cylinder K-1, the gear G-1 and the roll A-1. */
static const struct {
	const char *kind, *pairs, *sentence, *hint;
} refused[] = {
	/* words */
	{"cylinder", "teth=96", "attribute of a plate cylinder not known: teth",
     "Type teeth=..., or help cylinder for all of them."},
	{"cylinder", "colour=blue", "attribute of a plate cylinder not known: colour",
     "Type help cylinder for all of them."},
	{"cylinder", "teeth=96;teeth=97", "attribute given twice: teeth", "Type teeth=... once."},
	{"cylinder", "face=330", "face without a unit: 330", "Type 330mm or 330in."},
	{"cylinder", "face=330;teeth=x", "face without a unit: 330 (and 1 more)",
     "Type 330mm or 330in."},
	{"cylinder", "drive=geered", "drive not known: geered",
     "Type geared; it may be geared, demountable or gearless."},
	{"cylinder", "name=a\x1b[31m", "name with a control character: a\\x1b[31m",
     "Type it without: of these only newline and TAB are kept."},
	{"cylinder",
     "name=a\xe2\x80\xae"
     "b",
     "name with a control character: a\\xe2\\x80\\xaeb",
     "Type it without: of these only newline and TAB are kept."},
	/* condition */
	{"cylinder", "condition=hold", "note does not say why it is on hold",
     "Give note=\"scored band\" or the like."},
	{"place", "code=R9;sort=store;condition=hold;note= ", "note does not say why it is on hold",
     "Give note=\"scored band\" or the like."},
	/* required */
	{"place", "code=R9", "sort is not given, a place has one: what it is for",
     "Give sort=store, press, cart, wash, supplier or lost."},
	{"operator", "badge= ;name=Nora;role=clerk",
     "badge is not given, an operator has one: the shop's own number", "Give badge=words."},
	{"station", "job=J1;station=1",
     "process is not given, a station of a job has one: what is done there",
     "Give process=flexo, cold_foil, hot_foil or rotary_screen."},
	{"reading", "tool=A-1;volume=4bcm", "moment is not given, a reading has one: when it was read",
     "Give moment=a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."},
	/* references */
	{"cylinder", "place=R44", "place not known: R44", "Type find place for all on record."},
	{"cylinder", "carries=J9", "job not known: J9", "Type J1 (job, front label)."},
	{"job", "number=J2;press=P1,P9", "press not known: p9", "Type P1 (press)."},
	{"cut", "job=J1;cut=1;kind=kiss;die=D-9", "die not known: D-9",
     "Type find die for all on record."},
	/* numbers */
	{"cylinder", "face=0mm", "face must be more than nothing: 0mm",
     "Leave it blank where it is not known."},
	{"cylinder", "teeth=100001", "teeth is at most 100000: 100001", ""},
	{"press", "code=P9;drive=servo;stations=65", "stations is at most 64: 65", ""},
	{"station", "job=J1;station=0;process=flexo", "station must be more than nothing: 0",
     "Give station=a whole number such as 96."},
	{"station", "job=J1;station=1;process=flexo;volume_tolerance=-1%",
     "volume_tolerance is less than nothing: -1%", "Leave it blank where it is not known."},
	/* tags and codes */
	{"cylinder", "tag=PC000123-X", "tag misread: PC000123-X; its check character would be Y",
     "Compare it with the tag sign by sign."},
	{"cylinder", "tag=]C191pc 000123 x",
     "tag misread: ]C191pc 000123 x; its check character would be Y",
     "Compare it with the tag sign by sign."},
	{"cylinder", "tag=GR000009-X", "tag is not that of a plate cylinder: GR000009-X",
     "Tags of a plate cylinder begin with PC."},
	{"cylinder", "tag=old 12", "tag is not one of ours: old 12",
     "Leave tag out and one is given; a number of the shop's own goes to other_tag."},
	{"cylinder", "tag=PC000001H", "tag PC000001H is on record already",
     "Type show PC000001H to see it, or edit PC000001H to correct it."},
	{"cylinder", "other_tag=k-1", "other_tag k-1 is on record already",
     "Type show k-1 to see it, or edit k-1 to correct it."},
	{"gear", "other_tag=K-1", "other_tag names a plate cylinder already: K-1", "Give it another."},
	{"cylinder", "other_tag=R1", "other_tag names a place already: R1", "Give it another."},
	{"cylinder", "other_tag=P1", "other_tag names a press already: P1", "Give it another."},
	{"cylinder", "other_tag=j1", "other_tag names a job already: j1", "Give it another."},
	{"cylinder", "other_tag=A-1", "other_tag names an anilox roll already: A-1",
     "Give it another."},
	{"anilox", "tag=GR000009-X", "tag is not that of an anilox roll: GR000009-X",
     "Tags of an anilox roll begin with AN."},
	{"cylinder", "other_tag=Scrap", "other_tag looks like a command: Scrap", "Give it another."},
	{"cylinder", "other_tag=PC000123-Y", "other_tag looks like a tag of ours: PC000123-Y",
     "Give it another, such as one with the shop's own letters."},
	{"cylinder", "other_tag=PC000123-X", "other_tag looks like a tag of ours: PC000123-X",
     "Give it another, such as one with the shop's own letters."},
	{"place", "code=PL000123;sort=store", "code looks like a tag of ours: PL000123",
     "Give it another, such as one with the shop's own letters."},
	{"place", "code=R1]C03;sort=store", "code would not be read whole from a barcode: R1]C03",
     "Give it another, without the signs that scanners set around a code."},
	{"cylinder", "other_tag=PC000123YAN000001R",
     "other_tag would not be read whole from a barcode: PC000123YAN000001R",
     "Give it another, without the signs that scanners set around a code."},
	{"place", "code=two\nlines;sort=store", "code with a line break or TAB: two\\x0alines",
     "Type it on one line, with blanks at most."},
	{"press", "code=P8,P9;drive=servo;stations=1",
     "code of a press with a comma or semicolon: P8,P9",
     "A job lists its presses with commas between."},
	{"job", "number=12345678901234567890123456789012345678901234567890123456789012345",
     "number is longer than 64 characters: "
     "12345678901234567890123456789012345678901234567890123456789012345",
     "Put long words into name or note."},
	{"operator", "badge=J1;name=Nora;role=clerk", "badge names a job already: J1",
     "Give it another."},
	{"place", "code=k-1;sort=store", "code names a plate cylinder already: k-1",
     "Give it another."},
	{"press", "code=G-1;drive=servo;stations=1", "code names a gear already: G-1",
     "Give it another."},
	{"job", "number=A-1", "number names an anilox roll already: A-1", "Give it another."},
	{"job", "number=r1", "number names a place already: r1", "Give it another."},
	{"job", "number=P1", "number names a press already: P1", "Give it another."},
	{"place", "code=j1;sort=store", "code names a job already: j1", "Give it another."},
	{"press", "code=J1;drive=servo;stations=1", "code names a job already: J1", "Give it another."},
	{"place", "code=Show;sort=store", "code looks like a command: Show", "Give it another."},
	{"place", "code=r1;sort=store", "code r1 is on record already",
     "Type find place r1 to see it, or edit its tag to correct it."},
	{"press", "code=p1;drive=servo;stations=1", "code p1 is on record already",
     "Type show p1 to see it, or edit p1 to correct it."},
	{"job", "number=j1", "number j1 is on record already",
     "Type show j1 to see it, or edit j1 to correct it."},
	{"station", "job=J1;station=3;process=flexo", "station 3 of job J1 is on record already",
     "Type edit J1 station=3 and what is right to correct it."},
	/* what must agree */
	{"cylinder", "teeth=96;pitch=1/8cp;repeat=305mm",
     "repeat: 305mm given, 96 teeth 1/8cp make 304.8mm, 0.2mm less",
     "Leave repeat out, or mend teeth and pitch."},
	{"cylinder", "teeth=96;pitch=1/8cp;repeat=304.789999mm",
     "repeat: 304.789999mm given, 96 teeth 1/8cp make 304.8mm, 0.010001mm more",
     "Leave repeat out, or mend teeth and pitch."},
	/* A chart made with pi rounded to 3.15, as shop charts are (common practice, no source): 100
       x 3.15. */
	{"job", "number=J2;teeth=100;pitch=m1;repeat=315mm",
     "repeat: 315mm given, 100 teeth m1 make 314.159265mm, 0.840735mm less",
     "Leave repeat out, or mend teeth and pitch."},
	{"cylinder", "drive=geared;repeat=300mm",
     "repeat alone is for a gearless cylinder, this one is geared: 300mm",
     "Give its teeth and pitch."},
	{"job", "number=J2;teeth=96", "teeth without pitch: 96",
     "A repeat order has both, or a repeat."},
	{"cylinder", "face_from=20mm;face_to=20mm", "face_from must lie before face_to: 20mm, 20mm",
     ""},
	{"press", "code=P2;drive=servo;stations=1;repeat_min=600mm;repeat_max=200mm",
     "repeat_min is more than repeat_max: 600mm, 200mm", ""},
	{"job", "number=J2;gap_around_min=4mm;gap_around_max=3mm",
     "gap_around_min is more than gap_around_max: 4mm, 3mm", ""},
	{"job", "number=J2;from=2026-12-02T06:00;until=2026-12-02",
     "until lies before from: 2026-12-02, 2026-12-02T06:00",
     "A date alone is the beginning of that day."},
	{"station", "job=J1;station=1;process=flexo;screen_min=100/cm;screen_max=99.9/cm",
     "screen_min is more than screen_max: 100/cm, 99.9/cm", ""},
	{"station", "job=J1;station=1;process=flexo;plate=1.14mm;base=1.15mm",
     "base is thicker than the plate: 1.15mm, 1.14mm", ""},
	{"reading", "tool=A-1;moment=2026-12-01T08:00:01Z;volume=4bcm",
     "moment lies ahead: 2026-12-01T08:00:01, and it is 2026-12-01T08:00",
     "Type when it was taken; it cannot be put on record before."},
	{"reading", "tool=A-1;moment=2026-12-01", "volume is not given, nor the volumes across",
     "Give volume=4.3bcm, or across=left/centre/right."},
	{"reading", "tool=A-1;moment=2026-12-01;across=4/0/4bcm",
     "across must be more than nothing: 6.200012/0/6.200012cm3/m2",
     "Leave it blank where one was not read."},
};

static void room_new__what_breaks_a_rule__refused_and_told(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "tag=PC000001H;other_tag=K-1");
	shop_has(shop, "gear", "other_tag=G-1");
	shop_has(shop, "anilox", "other_tag=A-1");
	shop_has(shop, "station", "job=J1;station=3;process=flexo");
	for (size_t i = 0; i < COUNT_OF(refused); i++) {
		enum outcome outcome = shop_new(shop, refused[i].kind, refused[i].pairs);
		if (outcome != OUTCOME_BAD) {
			fail_msg("taken: %s %s", refused[i].kind, refused[i].pairs);
		}
		shop_faults(shop, OUTCOME_BAD, refused[i].sentence, refused[i].hint);
	}
	/* Nothing of them was kept. */
	assert_string_equal(shop_has(shop, "cylinder", "name=next"), "PC000002-F");
}

static void room_new__tool_of_another_kind__refused(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "gear", "other_tag=G-1");
	assert_int_equal(shop_new(shop, "reading", "tool=G-1;moment=2026-12-01;volume=4bcm"),
	                 OUTCOME_BAD);
	assert_non_null(strstr(shop->fault.sentence, "anilox roll: G-1"));
	assert_int_equal(shop_new(shop, "cut", "job=J1;cut=1;kind=kiss;die=GR000001E"), OUTCOME_BAD);
	assert_non_null(strstr(shop->fault.sentence, "die: GR000001-E"));
}

static void room_new__press_whose_station_is_a_shelf__refused_whole(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "place", "code=P7-2;sort=store");
	assert_int_equal(shop_new(shop, "press", "code=P7;drive=servo;stations=3"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "place of the press is on record as sort store: P7-2",
	            "Give that place the sort press, or the press another code.");
	assert_null(shop_value(shop, "P7", "code"));
	assert_null(shop_value(shop, "P7-1", "code"));
}

static void room_new__nothing_of_a_refused_one__is_in_the_ledger(void **state)
{
	struct shop *shop = *state;
	bool empty = false;
	assert_int_equal(shop_new(shop, "place", "code=R1"), OUTCOME_BAD);
	assert_int_equal(store_is_empty(shop->store, &empty, NULL), OUTCOME_DONE);
	assert_true(empty);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_new__every_kind__on_record_with_a_tag),
		SHOP_TEST(room_new__press__its_stations_become_places),
		SHOP_TEST(room_new__tag_of_its_own__kept_and_none_given_twice),
		SHOP_TEST(room_new__repeat_that_agrees__left_to_teeth_and_pitch),
		SHOP_TEST(room_new__reading_across__counts_by_its_mean),
		SHOP_TEST(room_new__zero_where_the_trade_has_one__taken),
		SHOP_TEST(room_new__figures_of_a_tool_not_known__taken),
		SHOP_TEST(room_new__hold_by_its_note__reason_and_moment_kept),
		SHOP_TEST(room_new__what_breaks_a_rule__refused_and_told),
		SHOP_TEST(room_new__tool_of_another_kind__refused),
		SHOP_TEST(room_new__press_whose_station_is_a_shelf__refused_whole),
		SHOP_TEST(room_new__nothing_of_a_refused_one__is_in_the_ledger),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
