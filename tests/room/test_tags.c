/* Tags to be printed: which records get one, what each says, and what has changed since. */
#include "shop.h"

#define LINE(...) \
	{ \
		(const char *const[]){__VA_ARGS__}, \
			sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *) \
	}

static const struct tag_line lines_of_tool[] = {
	LINE("tag"),
	LINE("teeth", "pitch", "repeat", "line_screen", "volume", "label_across", "label_around",
         "number_across", "number_around"),
	LINE("fit", "home"),
};
static const struct tag_line lines_of_others[] = {LINE("tag"), LINE("title"),
                                                  LINE("code", "number", "badge", "within", "name",
                                                       "meaning")};
static const struct tag_stock of_tool = {"tool", lines_of_tool, COUNT_OF(lines_of_tool)};
static const struct tag_stock of_others = {"others", lines_of_others, COUNT_OF(lines_of_others)};
static const char *asked_for; /* the stock that a tag was printed on, as it was asked for last */

static enum outcome find_stock(enum tag_use use, const char *printed_on,
                               const struct tag_stock **out, void *context, struct fault *fault)
{
	(void)context;
	(void)fault;
	asked_for = printed_on != NULL ? "yes" : NULL;
	*out = use == TAG_USE_TOOL ? &of_tool : &of_others;
	return OUTCOME_DONE;
}

static struct tags_to_print tags;

static enum outcome ask(struct shop *shop, const struct tags_asked *asked)
{
	static const struct tag_stocks stocks = {.find = find_stock};
	struct tag_habits habits;
	fault_clear(&shop->fault);
	assert_int_equal(room_tag_habits(shop->store, shop->arena, &habits, &shop->fault),
	                 OUTCOME_DONE);
	return room_tags(shop->store, shop->arena, asked, &habits, &stocks, &tags, &shop->fault);
}

static enum outcome ask_named(struct shop *shop, const char *name)
{
	const char *const names[] = {name};
	return ask(shop, &(struct tags_asked){.which = TAGS_NAMED, .names = names, .name_count = 1});
}

static enum outcome ask_due(struct shop *shop, enum tags_which which, const char *kind)
{
	return ask(shop,
	           &(struct tags_asked){.which = which, .kind = kind != NULL ? kind_find(kind) : NULL});
}

static void set(struct shop *shop, const char *key, const char *value)
{
	struct setting_state state;
	fault_clear(&shop->fault);
	assert_int_equal(room_set(shop->store, shop->arena, key, value, &shop->actor, &state,
	                          &shop->fault),
	                 OUTCOME_DONE);
}

static void edit(struct shop *shop, const char *tag, const char *pairs)
{
	struct pair list[SHOP_PAIRS_MOST];
	struct edited edited;
	size_t count = shop_pairs(shop, pairs, list);
	fault_clear(&shop->fault);
	assert_int_equal(room_edit(shop->store, shop->arena, tag, list, count, UNITS_METRIC,
	                           &shop->actor, &edited, &shop->fault),
	                 OUTCOME_DONE);
}

static void print(struct shop *shop)
{
	assert_int_equal(room_tags_printed(shop->store, &tags, shop->actor.now, &shop->fault),
	                 OUTCOME_DONE);
}

static void room_tags__named__says_what_the_stock_asks(void **state)
{
	static const struct {
		const char *kind, *pairs, *line, *fit;
	} rows[] = {
		{"cylinder", "teeth=96;pitch=1/8cp;fit=journal35,bearer1;home=R1",
	     "96 teeth 1/8cp \xc2\xb7 repeat 304.8mm", "fit bearer1, journal35 \xc2\xb7 home R1"},
		/* pi x 96 = 301.5929 mm: Machinery's Handbook, module x teeth is the pitch diameter */
		{"gear", "teeth=96;pitch=m1", "96 teeth m1 \xc2\xb7 repeat 301.59mm", NULL},
		{"gear", "teeth=96", "96 teeth", NULL},
		{"cylinder", "drive=gearless;repeat=12in", "repeat 304.8mm", NULL},
		{"anilox", "line_screen=360lpi;volume=4.3bcm", "141.7/cm 6.67cm3/m2", NULL},
		{"anilox", "volume=4.3bcm", "6.67cm3/m2", NULL},
		{"die",
	     "teeth=96;pitch=1/8cp;label_across=76.2mm;label_around=50.8mm;number_across=4;number_"
	     "around=5",
	     "96 teeth 1/8cp \xc2\xb7 repeat 304.8mm \xc2\xb7 label 76.2mm \xc3\x97 50.8mm \xc2\xb7 4 "
	     "across \xc3\x97 5 around",
	     NULL},
		{"die", "label_around=50.8mm", "label 50.8mm", NULL},
	};
	struct shop *shop = *state;
	shop_furnish(shop);
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		const char *tag = shop_has(shop, rows[i].kind, rows[i].pairs);
		assert_int_equal(ask_named(shop, tag), OUTCOME_DONE);
		assert_int_equal(tags.count, 1);
		assert_string_equal(tags.tags[0].tag, tag);
		assert_string_equal(tags.tags[0].lines[0], tag);
		assert_string_equal(tags.tags[0].lines[1], rows[i].line);
		assert_true((tags.tags[0].lines[2] == NULL) == (rows[i].fit == NULL));
		if (rows[i].fit != NULL) {
			assert_string_equal(tags.tags[0].lines[2], rows[i].fit);
		}
		assert_null(tags.tags[0].caution);
	}
}

static void room_tags__other_records_and_cards__by_code_and_word(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "operator", "badge=E7;name=Ada Pike;role=clerk");
	static const char *const names[] = {"R1", "P1", "J1", "E7", "AC000004-O"};
	static const char *const said[][2] = {
		{"place", "R1 \xc2\xb7 rack 1"},
		{"press", "P1"},
		{"front label", "J1"},
		{"operator", "E7 \xc2\xb7 Ada Pike"},
		{"CLEANED", "the tool has been cleaned"},
	};
	struct tag card = {TAG_ACTION, ACTION_CLEANED};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		const char *name =
			i + 1 < COUNT_OF(names) ? names[i] : arena_copy(shop->arena, tag_shown(card).bytes);
		assert_int_equal(ask_named(shop, name), OUTCOME_DONE);
		assert_string_equal(tags.tags[0].lines[1], said[i][0]);
		assert_string_equal(tags.tags[0].lines[2], said[i][1]);
	}
	assert_int_equal(ask(shop, &(struct tags_asked){.which = TAGS_CARDS}), OUTCOME_DONE);
	size_t count;
	action_cards(&count);
	assert_int_equal(tags.count, count);
	print(shop);
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 0);
}

static void room_tags__inch__said_in_inches(void **state)
{
	struct shop *shop = *state;
	const char *const names[] = {shop_has(shop, "gear", "teeth=96;pitch=m1")};
	assert_int_equal(ask(shop, &(struct tags_asked){.which = TAGS_NAMED,
	                                                .names = names,
	                                                .name_count = 1,
	                                                .units = UNITS_INCH}),
	                 OUTCOME_DONE);
	/* 301.5929 / 25.4 = 11.8737 */
	assert_string_equal(tags.tags[0].lines[1], "96 teeth m1 \xc2\xb7 repeat 11.874in");
	const char *const rolls[] = {shop_has(shop, "anilox", "line_screen=360lpi;volume=4.3bcm")};
	assert_int_equal(ask(shop, &(struct tags_asked){.which = TAGS_NAMED,
	                                                .names = rolls,
	                                                .name_count = 1,
	                                                .units = UNITS_INCH}),
	                 OUTCOME_DONE);
	assert_string_equal(tags.tags[0].lines[1], "360lpi 4.3bcm");
}

static void room_tags__content__plain_giai_or_internal(void **state)
{
	struct shop *shop = *state;
	const char *tag = shop_has(shop, "gear", "teeth=96");
	assert_int_equal(ask_named(shop, tag), OUTCOME_DONE);
	assert_false(tags.tags[0].gs1);
	assert_string_equal(tags.tags[0].content, "GR000001E");
	set(shop, "tag_content", "91");
	assert_int_equal(ask_named(shop, tag), OUTCOME_DONE);
	assert_true(tags.tags[0].gs1);
	assert_string_equal(tags.tags[0].content, "[91]GR000001E");
	set(shop, "tag_content", "giai");
	assert_int_equal(ask_named(shop, tag), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "company prefix not set, a GIAI begins with it",
	            "Type set company_prefix with the digits that GS1 licensed to the shop, or set "
	            "tag_content 91.");
	set(shop, "company_prefix", "0401234");
	assert_int_equal(ask_named(shop, tag), OUTCOME_DONE);
	assert_string_equal(tags.tags[0].content, "[8004]0401234GR000001E");
}

static void room_tags__giai_of_more_than_30__refused(void **state)
{
	struct shop *shop = *state;
	struct tag tag = {TAG_GEAR, 999999999999999999};
	char long_tag[64];
	snprintf(long_tag, sizeof long_tag, "teeth=96;tag=%s", tag_stored(tag).bytes);
	shop_has(shop, "gear", long_tag);
	set(shop, "tag_content", "giai");
	set(shop, "company_prefix", "123456789");
	assert_int_equal(ask_named(shop, tag_stored(tag).bytes), OUTCOME_DONE); /* 9 + 21: 30 */
	set(shop, "company_prefix", "1234567890");
	assert_int_equal(ask_named(shop, tag_stored(tag).bytes), OUTCOME_BAD);
	assert_int_equal(strncmp(shop->fault.sentence,
	                         "tag too long for a GIAI of 30 characters: ", 42),
	                 0);
}

static void room_set__company_prefix__4_to_12_digits_or_none(void **state)
{
	static const struct {
		const char *value;
		bool good;
	} rows[] = {{"0123", true},           {"123456789012", true}, {"none", true}, {"123", false},
	            {"1234567890123", false}, {"12a4", false},        {"-", false}};
	struct shop *shop = *state;
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct setting_state out;
		fault_clear(&shop->fault);
		enum outcome outcome = room_set(shop->store, shop->arena, "company_prefix", rows[i].value,
		                                &shop->actor, &out, &shop->fault);
		assert_int_equal(outcome, rows[i].good ? OUTCOME_DONE : OUTCOME_BAD);
		if (rows[i].good) {
			assert_string_equal(out.value, rows[i].value);
		} else {
			assert_string_equal(shop->fault.hint, "Type the 4 to 12 digits of it, or none.");
		}
	}
}

static void room_tags__changed__only_what_says_otherwise_now(void **state)
{
	struct shop *shop = *state;
	struct moved moved;
	shop_furnish(shop);
	const char *first = shop_has(shop, "cylinder", "teeth=96;pitch=1/8cp;home=R1");
	const char *second = shop_has(shop, "cylinder", "teeth=90;pitch=1/8cp;home=R2");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 0); /* never printed is not changed */
	assert_int_equal(ask_due(shop, TAGS_UNPRINTED, "cylinder"), OUTCOME_DONE);
	assert_int_equal(tags.count, 2);
	print(shop);
	/* A movement and a note are nothing that the tag tells. */
	assert_int_equal(room_put(shop->store, shop->arena, &first, 1, "R2", NULL, &shop->actor, &moved,
	                          &shop->fault),
	                 OUTCOME_DONE);
	edit(shop, second, "note=by the door");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 0);
	edit(shop, first, "teeth=97");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 1);
	assert_string_equal(tags.tags[0].tag, first);
	assert_non_null(asked_for);
	assert_int_equal(ask_due(shop, TAGS_CHANGED, "gear"), OUTCOME_DONE);
	assert_int_equal(tags.count, 0);
	/* Taken back it says again what was printed. */
	edit(shop, first, "teeth=96");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 0);
	/* The place at home is called otherwise. */
	edit(shop, "R2", "code=R7");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 1);
	assert_string_equal(tags.tags[0].tag, second);
	print(shop);
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 0);
}

/* The form stays with the stock; the thing that it goes around stays the same. */
static void room_tags__changed__in_the_form_of_the_time_before(void **state)
{
	struct shop *shop = *state;
	const char *tag = shop_has(shop, "gear", "teeth=96");
	assert_int_equal(ask_named(shop, tag), OUTCOME_DONE);
	assert_null(tags.tags[0].symbol);
	assert_int_equal(length_to_nm(tags.tags[0].carrier), 0);
	tags.tags[0].symbol = "datamatrix";
	tags.tags[0].carrier = length_from_mm(60);
	print(shop);
	edit(shop, tag, "teeth=97");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_string_equal(tags.tags[0].symbol, "datamatrix");
	assert_int_equal(length_to_nm(tags.tags[0].carrier), 60000000);
	static struct tag_stock another;
	another = *tags.tags[0].stock;
	another.name = "another";
	tags.tags[0].stock = &another;
	print(shop);
	edit(shop, tag, "teeth=98");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_null(tags.tags[0].symbol);
	assert_int_equal(length_to_nm(tags.tags[0].carrier), 60000000);
	tags.tags[0].carrier = length_from_nm(0);
	print(shop);
	edit(shop, tag, "teeth=99");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_null(tags.tags[0].symbol);
	assert_int_equal(length_to_nm(tags.tags[0].carrier), 0);
}

static void room_tags__changed_while_printing__still_due(void **state)
{
	struct shop *shop = *state;
	const char *tag = shop_has(shop, "gear", "teeth=96");
	assert_int_equal(ask_named(shop, tag), OUTCOME_DONE);
	edit(shop, tag, "teeth=97"); /* by somebody else, before the printer is done */
	print(shop);
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 1);
}

static void room_tags__out_of_use__due_no_more_but_printed_with_a_caution(void **state)
{
	struct shop *shop = *state;
	struct scrapped scrapped;
	shop_furnish(shop);
	const char *gear = shop_has(shop, "gear", "teeth=96");
	assert_int_equal(room_scrap(shop->store, shop->arena, gear, "teeth broken", &shop->actor,
	                            &scrapped, &shop->fault),
	                 OUTCOME_DONE);
	edit(shop, "R1", "retired=yes");
	edit(shop, "J1", "state=cancelled");
	assert_int_equal(ask_due(shop, TAGS_UNPRINTED, NULL), OUTCOME_DONE);
	for (size_t i = 0; i < tags.count; i++) {
		assert_null(tags.tags[i].caution);
	}
	static const char *const cautions[] = {"scrapped", "retired", "cancelled"};
	const char *const names[] = {gear, "R1", "J1"};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		assert_int_equal(ask_named(shop, names[i]), OUTCOME_DONE);
		assert_string_equal(tags.tags[0].caution, cautions[i]);
		print(shop);
	}
	edit(shop, "R1", "name=old rack");
	assert_int_equal(ask_due(shop, TAGS_CHANGED, NULL), OUTCOME_DONE);
	assert_int_equal(tags.count, 0);
}

static void room_tags__found__as_find_gives_them(void **state)
{
	struct shop *shop = *state;
	shop_has(shop, "cylinder", "teeth=96;pitch=1/8cp");
	shop_has(shop, "cylinder", "teeth=90;pitch=1/8cp");
	shop_has(shop, "cylinder", "teeth=120;pitch=1/8cp");
	const struct pair pairs[] = {{"teeth", "90..100"}};
	struct question question = {.kind = kind_find("cylinder"),
	                            .pairs = pairs,
	                            .pair_count = COUNT_OF(pairs)};
	const struct tags_asked asked = {.which = TAGS_FOUND, .question = &question};
	assert_int_equal(ask(shop, &asked), OUTCOME_DONE);
	assert_int_equal(tags.count, 2);
	assert_string_equal(tags.tags[0].tag, "PC000001-H");
	question = (struct question){.kind = kind_find("cut")};
	assert_int_equal(ask(shop, &asked), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "kind has no tags of its own: cut",
	            "Type tag find with a kind that has tags, such as cylinder.");
}

static void room_tags__not_known__refused(void **state)
{
	struct shop *shop = *state;
	struct tag card = {TAG_ACTION, 50};
	assert_int_equal(ask_named(shop, "PC000009-2"), OUTCOME_BAD);
	assert_int_equal(ask_named(shop, tag_shown(card).bytes), OUTCOME_BAD);
	assert_string_equal(shop->fault.hint, "Type tag actions for all there are.");
	assert_int_equal(ask_due(shop, TAGS_UNPRINTED, "station"), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "kind has no tags of its own: station",
	            "Type a kind that has tags, such as cylinder.");
}

static void room_tag_tells__by_use__attributes_and_words_of_its_own(void **state)
{
	struct shop *shop = *state;
	assert_true(room_tag_tells(TAG_USE_TOOL, "teeth"));
	assert_true(room_tag_tells(TAG_USE_TOOL, "line_screen"));
	assert_true(room_tag_tells(TAG_USE_TOOL, "repeat"));
	assert_true(room_tag_tells(TAG_USE_BADGE, "badge"));
	assert_true(room_tag_tells(TAG_USE_ACTION, "meaning"));
	assert_false(room_tag_tells(TAG_USE_ACTION, "teeth"));
	assert_false(room_tag_tells(TAG_USE_BADGE, "teeth"));
	assert_false(room_tag_tells(TAG_USE_TOOL, "theeth"));
	assert_string_equal(room_tag_nearest(shop->arena, 1U << TAG_USE_TOOL, "theeth"), "teeth");
	assert_null(room_tag_nearest(shop->arena, 1U << TAG_USE_ACTION, "colour"));
	assert_null(room_tag_nearest(shop->arena, 0, "teeth"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_tags__named__says_what_the_stock_asks),
		SHOP_TEST(room_tags__other_records_and_cards__by_code_and_word),
		SHOP_TEST(room_tags__inch__said_in_inches),
		SHOP_TEST(room_tags__content__plain_giai_or_internal),
		SHOP_TEST(room_tags__giai_of_more_than_30__refused),
		SHOP_TEST(room_set__company_prefix__4_to_12_digits_or_none),
		SHOP_TEST(room_tags__changed__only_what_says_otherwise_now),
		SHOP_TEST(room_tags__changed_while_printing__still_due),
		SHOP_TEST(room_tags__changed__in_the_form_of_the_time_before),
		SHOP_TEST(room_tags__out_of_use__due_no_more_but_printed_with_a_caution),
		SHOP_TEST(room_tags__found__as_find_gives_them),
		SHOP_TEST(room_tags__not_known__refused),
		SHOP_TEST(room_tag_tells__by_use__attributes_and_words_of_its_own),
	};
	return cmocka_run_group_tests_name("tags", tests, NULL, NULL);
}
