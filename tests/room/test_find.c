/* `find` at the room's own face: what each sort of attribute is found by, and what is refused. */
#include <locale.h>

#include "shop.h"

struct listing {
	struct shop *shop;
	struct text names;
	size_t kinds;
};

static void begin(const struct kind *const *found, size_t count, void *context)
{
	struct listing *listing = context;
	assert_non_null(found);
	listing->kinds = count;
}

/* What it is called, else its tag, else its number or moment. */
static enum outcome list(struct arena *arena, struct record *record, void *context)
{
	static const char *const names[] = {"other_tag", "code", "number", "badge", "tag"};
	struct listing *listing = context;
	const char *name = NULL;
	for (size_t i = 0; i < COUNT_OF(names) && name == NULL && record->kind->tagged; i++) {
		name = record_words(record, names[i]);
	}
	if (name == NULL) {
		name = arena_format(arena, "%s %d", record->kind->name, (int)record->id);
	}
	text_join(&listing->names, ",", name);
	return OUTCOME_DONE;
}

/* `find KIND PAIRS WORD`; an empty word or kind is none. */
static enum outcome look(struct shop *shop, const char *kind, const char *text, const char *word,
                         struct listing *listing)
{
	struct pair pairs[SHOP_PAIRS_MOST];
	struct question question = {
		.kind = *kind != '\0' ? kind_find(kind) : NULL,
		.pairs = pairs,
		.pair_count = shop_pairs(shop, text, pairs),
		.words = &word,
		.word_count = *word != '\0' ? 1 : 0,
	};
	int64_t count;
	*listing = (struct listing){.shop = shop, .names = text_start(shop->arena)};
	fault_clear(&shop->fault);
	return room_find(shop->store, shop->arena, &question, begin, list, listing, &count,
	                 &shop->fault);
}

static const char *found(struct shop *shop, const char *kind, const char *pairs)
{
	struct listing listing;
	if (look(shop, kind, pairs, "", &listing) != OUTCOME_DONE) {
		fail_msg("%s %s: %s", kind, pairs, shop->fault.sentence);
	}
	return listing.names.bytes;
}

struct found_case {
	const char *kind, *pairs, *names;
};

static void check(struct shop *shop, const struct found_case *cases, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const char *names = found(shop, cases[i].kind, cases[i].pairs);
		if (strcmp(names, cases[i].names) != 0) {
			fail_msg("%s %s: %s, not %s", cases[i].kind, cases[i].pairs, names, cases[i].names);
		}
	}
}

static void furnish(struct shop *shop)
{
	assert_non_null(setlocale(LC_CTYPE, "C.UTF-8"));
	shop_furnish(shop);
	shop_has(shop, "place", "code=R2-4;sort=store;within=R2");
	shop_has(shop, "place", "code=R2-4-a;sort=cart;within=R2-4");
	shop_has(
		shop, "cylinder",
		"other_tag=A;teeth=96;pitch=1/8cp;face=330mm;place=R2-4-a;home=R2;fit=bearer13,journal35;"
		"name=Größe 13;condition=hold;note=scored at 40mm;carries=J1");
	/* retired with a tool in it */
	assert_int_equal(shop_import(shop, "place", "code,retired\nR2-4-a,yes\n", true), OUTCOME_DONE);
	shop_has(shop, "cylinder",
	         "other_tag=B;teeth=97;pitch=3.175mmcp;face=330.000001mm;place=R1;cost=12.50;"
	         "back=2026-12-03;acquired=2026-11-30T22:30:00Z");
	shop_has(shop, "cylinder", "other_tag=C;repeat=304.8mm;drive=gearless;condition=scrapped");
	shop_has(shop, "anilox", "other_tag=D;line_screen=360lpi;volume=4.3bcm;place=P1-2");
	shop_has(shop, "blade", "other_tag=E;length=330mm;life=500000m");
	shop_has(shop, "die", "other_tag=F;life=500000;cut=kiss;label_across=100mm");
	shop_has(shop, "job", "number=J2;press=P1;pitch=1/8cp;teeth=96;from=2026-12-01T10:00:00Z");
	shop_has(shop, "station", "job=J2;station=3;process=flexo;ink=Yellow;volume_tolerance=20%");
	shop_has(shop, "cut", "job=J2;cut=1;kind=kiss;die=F");
	shop_has(shop, "reading", "tool=D;moment=2026-11-01T10:00:00Z;across=6/6.4/6.2cm3/m2");
}

static void room_find__attributes__found_by_their_sort(void **state)
{
	static const struct found_case cases[] = {
		/* counts and ranges, both ends included */
		{"cylinder", "teeth=96", "A"},
		{"cylinder", "teeth=96..97", "A,B"},
		{"cylinder", "teeth=97..", "B"},
		{"cylinder", "teeth=..96", "A"},
		{"cylinder", "teeth= 90 .. 96 ", "A"},
		{"cylinder", "teeth=98..", ""},
		/* lengths to the nanometre */
		{"", "face=330mm..", "A,B"},
		{"", "face=..330mm", "A"},
		{"", "face=330.000001mm..", "B"},
		{"cylinder", "face=330mm;teeth=97", ""},
		{"blade", "length=330mm", "E"},
		{"blade", "length=331mm..340mm", ""},
		/* not known */
		{"cylinder", "face=", "C"},
		{"cylinder", "name=;face=330mm..", "B"},
		{"cylinder", "place=", "C"},
		{"cylinder", "back=;teeth=", "C"},
		{"cylinder", "pitch=", "C"},
		{"cylinder", "fit=", "B,C"},
		{"job", "press=", "J1"},
		/* pitches by value */
		{"cylinder", "pitch=1/8cp", "A,B"},
		{"cylinder", "pitch=0.125cp", "A,B"},
		{"cylinder", "pitch=m1", ""},
		{"press", "pitches=3.175mmcp", "P1"},
		/* words: text by any part, lists by a word */
		{"cylinder", "name=GRÖSSE", ""},
		{"cylinder", "name=RÖßE", "A"},
		{"", "note=SCORED", "A"},
		{"", "fit=Journal35", "A"},
		{"", "fit=journal", ""},
		{"", "fit=journal35,bearer13", "A"},
		{"", "fit=journal35,bearer14", ""},
		{"station", "ink=ELL", "station 1"},
		/* choices and names */
		{"", "condition=scrapped", "C"},
		{"", "condition=hold", "A"},
		{"", "drive=gearless", "C"},
		{"", "drive=geared", "P1"},
		{"", "other_tag=a", "A"},
		{"place", "code=r2-4", "R2-4"},
		{"place", "retired=yes", "R2-4-a"},
		{"place", "sort=cart", "R2-4-a"},
		/* places with all that lies within */
		{"", "place=R2", "A"},
		{"", "place=r2-4", "A"},
		{"", "home=R2", "A"},
		{"", "home=R2-4", ""},
		{"", "place=P1", "D"},
		{"", "within=R2", "R2-4,R2-4-a"},
		/* what is named */
		{"", "carries=j1", "A"},
		{"job", "press=P1", "J2"},
		{"cut", "die=F", "cut 1"},
		{"cut", "kind=kiss", "cut 1"},
		{"reading", "tool=D", "reading 1"},
		/* screens, volumes, percents, money */
		{"", "line_screen=360lpi", "D"},
		{"", "line_screen=141.732/cm", "D"},
		{"", "line_screen=360lpi..", "D"},
		{"", "line_screen=..141.731/cm", ""},
		{"", "volume=4.3bcm", "D"},
		{"station", "volume_tolerance=..20%", "station 1"},
		{"station", "volume_tolerance=..19%", ""},
		{"", "cost=12.5..13", "B"},
		{"reading", "across=6/6.4/6.2cm3/m2", "reading 1"},
		{"reading", "across=6cm3/m2..6.4cm3/m2", "reading 1"},
		{"reading", "across=6.1cm3/m2..", ""},
		{"reading", "across=", ""},
		{"reading", "volume=6.2cm3/m2", "reading 1"},
		/* moments: a bare date is all that day */
		{"", "back=2026-12-03", "B"},
		{"", "back=2026-12-03T12:00", "B"},
		{"", "back=..2026-12-02", ""},
		{"", "back=2026-12-02..", "B"},
		{"", "acquired=2026-11-30", "B"},
		{"", "acquired=..2026-11-30", "B"},
		{"", "acquired=2026-12-01..", ""},
		{"", "acquired=2026-11-30T22:30", "B"},
		{"", "acquired=2026-11-30T22:31..", ""},
		{"job", "from=2026-12-01", "J2"},
		{"reading", "moment=2026-11-01", "reading 1"},
		{"reading", "moment=..2026-11-01", "reading 1"},
		{"reading", "moment=2026-11-01..2026-11-01", "reading 1"},
		/* only kinds of which the value is right */
		{"", "life=500000", "F"},
		{"", "life=500000m", "E"},
		{"", "teeth=96", "J2,A"},
	};
	furnish(*state);
	check(*state, cases, COUNT_OF(cases));
}

static void room_find__words__with_what_is_asked(void **state)
{
	struct shop *shop = *state;
	struct listing listing;
	furnish(shop);
	assert_int_equal(look(shop, "", "", "scor", &listing), OUTCOME_DONE);
	assert_string_equal(listing.names.bytes, "A");
	assert_int_equal(listing.kinds, 10);
	assert_int_equal(look(shop, "", "teeth=97", "scor", &listing), OUTCOME_DONE);
	assert_string_equal(listing.names.bytes, "");
	assert_int_equal(look(shop, "", "place=R2;teeth=96", "40mm", &listing), OUTCOME_DONE);
	assert_string_equal(listing.names.bytes, "A");
	assert_int_equal(look(shop, "cylinder", "", "grosse", &listing), OUTCOME_DONE);
	assert_string_equal(listing.names.bytes, "");
	assert_int_equal(look(shop, "job", "", "front", &listing), OUTCOME_DONE);
	assert_string_equal(listing.names.bytes, "J1");
}

static void room_find__wrong__refused(void **state)
{
	static const struct {
		const char *kind, *pairs, *word, *sentence, *hint;
	} cases[] = {
		{"cylinder", "tooth=96", "", "attribute of a plate cylinder not known: tooth",
	     "Type help cylinder for all of them."},
		{"", "teth=96", "", "attribute not known: teth", "Type teeth=96."},
		{"", "ink=yellow", "", "attribute not known: ink",
	     "It is known of a station of a job: type find station ink=yellow."},
		{"", "teeth=96;line_screen=360lpi", "", "no kind has all of these: teeth, line_screen",
	     "Ask for them one at a time; help KIND says what is known of a kind."},
		{"", "volume=3..", "", "volume without a unit: 3", "Type 3cm3/m2 or 3bcm."},
		{"", "face=..", "", "range has neither end: face=..",
	     "Type face=FROM.. or face=..TO, each end a length such as 330mm, 13in or 1/8in."},
		{"", "face=340mm..330mm", "", "range runs backwards: face=340mm..330mm",
	     "Type the lesser end first."},
		{"", "back=2026-12-03..2026-12-01", "", "range runs backwards: back=2026-12-03..2026-12-01",
	     "Type the lesser end first."},
		{"", "line_screen=2/cm..1/cm", "", "range runs backwards: line_screen=2/cm..1/cm",
	     "Type the lesser end first."},
		{"", "pitch=1/8cp..", "", "pitch takes no range: 1/8cp..",
	     "Type a pitch such as 1/8cp, 5mmcp, 10dp or m1.5."},
		{"", "condition=scraped", "", "condition not known: scraped",
	     "Type scrapped; it may be ready, hold or scrapped."},
		{"", "place=R9", "", "place not known: R9", "Type R1 (place, rack 1) or R2 (place)."},
		{"cut", "die=A", "", "code is a plate cylinder, not a die: A",
	     "Type the tag of a die, or find die for all on record."},
		{"", "tag=PC000001-A", "", "tag misread, its check character does not agree: PC000001-A",
	     "Scan it again, or compare it with the tag sign by sign."},
		{"", "tag=A", "", "tag is not one of ours: A",
	     "A number that the shop already had is asked for with other_tag=..., or as a word."},
		{"", "", "(*)", "word has no letter or digit: (*)",
	     "Type a word of a name, a note or a number, or its beginning."},
		{"cut", "", "kiss", "words are not looked for in cuts: kiss",
	     "Type key=value; help cut says which keys there are."},
	};
	struct shop *shop = *state;
	struct listing listing;
	furnish(shop);
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_int_equal(look(shop, cases[i].kind, cases[i].pairs, cases[i].word, &listing),
		                 OUTCOME_BAD);
		shop_faults(shop, OUTCOME_BAD, cases[i].sentence, cases[i].hint);
		assert_int_equal(listing.kinds, 0);
	}
}

/* A choice that the taker makes ends it, and nothing stays open. */
static enum outcome stop(struct arena *arena, struct record *record, void *context)
{
	(void)arena;
	(void)record;
	++*(int *)context;
	return OUTCOME_NO;
}

static void begin_nothing(const struct kind *const *found, size_t count, void *context)
{
	(void)found;
	(void)count;
	(void)context;
}

static void room_find__taker_has_enough__stops(void **state)
{
	struct shop *shop = *state;
	struct question question = {.kind = kind_find("cylinder")};
	int taken = 0;
	int64_t count;
	furnish(shop);
	fault_clear(&shop->fault);
	assert_int_equal(room_find(shop->store, shop->arena, &question, begin_nothing, stop, &taken,
	                           &count, &shop->fault),
	                 OUTCOME_NO);
	assert_int_equal(taken, 1);
	assert_int_equal(shop_new(shop, "gear", "teeth=96;pitch=1/8cp"), OUTCOME_DONE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_find__attributes__found_by_their_sort),
		SHOP_TEST(room_find__words__with_what_is_asked),
		SHOP_TEST(room_find__wrong__refused),
		SHOP_TEST(room_find__taker_has_enough__stops),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
