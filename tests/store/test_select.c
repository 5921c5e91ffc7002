/* The queries for records: every attribute of every kind can be asked, and every way in agrees. */
#include "shop.h"
#include "store/select.h"

/* Ids found, in order: `3,1,2`. */
struct listing {
	struct text ids;
};

static enum outcome list(struct arena *arena, struct record *record, void *context)
{
	struct listing *listing = context;
	text_join(&listing->ids, ",", arena_format(arena, "%d", (int)record->id));
	return OUTCOME_DONE;
}

static const char *selected(struct shop *shop, const struct selection *selection)
{
	struct listing listing = {.ids = text_start(shop->arena)};
	int64_t count = 0;
	if (store_select(shop->store, selection, list, &listing, &count, &shop->fault) !=
	    OUTCOME_DONE) {
		fail_msg("%s", shop->fault.sentence);
	}
	return listing.ids.bytes;
}

static const char *with_words(struct shop *shop, enum kind_id kind, const char *const *words)
{
	struct selection selection = {.kind = &kinds[kind], .words = words};
	while (words[selection.word_count] != NULL) {
		selection.word_count++;
	}
	return selected(shop, &selection);
}

static bool has_parameter(struct shop *shop, const struct statement *statement, const char *name)
{
	sqlite3_stmt *stmt = statement_ready(shop->store, statement, &shop->fault);
	assert_non_null(stmt);
	return sqlite3_bind_parameter_index(stmt, arena_format(shop->arena, ":%s", name)) > 0;
}

static void select__every_attribute__can_be_asked(void **state)
{
	struct shop *shop = *state;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		const struct select_sql *sql = select_sql_of(&kinds[i]);
		for (size_t j = 0; j < kind_attribute_count(&kinds[i]); j++) {
			const char *name = kind_attribute(&kinds[i], j)->name;
			if (!has_parameter(shop, sql->all, name) || !has_parameter(shop, sql->among, name)) {
				fail_msg("%s of %s", name, kinds[i].name);
			}
			struct asked blank = {.attribute = j, .blank = true};
			struct selection selection = {.kind = &kinds[i], .asked = &blank, .asked_count = 1};
			assert_string_equal(selected(shop, &selection), "");
		}
	}
}

/* A tool of which nothing is known but what every one has: found by every other blank. */
static void select__blank__finds_what_is_not_known(void **state)
{
	struct shop *shop = *state;
	static const enum kind_id tools[] = {KIND_CYLINDER, KIND_GEAR, KIND_ANILOX,
	                                     KIND_BLADE,    KIND_DIE,  KIND_MAGNETIC_CYLINDER};
	for (size_t i = 0; i < COUNT_OF(tools); i++) {
		const struct kind *kind = &kinds[tools[i]];
		const char *id =
			arena_format(shop->arena, "%d", (int)shop_add(shop, tools[i], WORDS(NULL))->id);
		for (size_t j = 0; j < kind_attribute_count(kind); j++) {
			const char *name = kind_attribute(kind, j)->name;
			bool known = strcmp(name, "tag") == 0 || strcmp(name, "condition") == 0;
			struct asked blank = {.attribute = j, .blank = true};
			struct selection selection = {.kind = kind, .asked = &blank, .asked_count = 1};
			if (strcmp(selected(shop, &selection), known ? "" : id) != 0) {
				fail_msg("%s of %s: %s", name, kind->name, selected(shop, &selection));
			}
		}
	}
}

/* Nothing in a word can reach the language of FTS5. */
static void select__words__are_no_operators(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_CYLINDER, WORDS("name", "scored band", "other_tag", "K-17"));
	shop_add(shop, KIND_CYLINDER, WORDS("name", "plain", "note", "say \"or\" not near"));
	static const struct {
		const char *words[4];
		const char *ids;
	} cases[] = {
		{{"scored", "band"}, "1"},
		{{"band", "sco"}, "1"},
		{{"scored", "plain"}, ""},
		{{"K-17"}, "1"},
		{{"k-1"}, "1"},
		{{"17"}, "1"},
		{{"or"}, "2"},
		{{"plain OR scored"}, ""},
		{{"NOT"}, "2"},
		{{"plain", "NOT", "x"}, ""},
		{{"words:plain"}, ""},
		{{"^plain"}, "2"},
		{{"pl*"}, "2"},
		{{"\"or\""}, "2"},
		{{"\""}, ""},
		{{"(plain"}, "2"},
		{{"NEAR(say or)"}, ""},
		{{"say", "\"\"\"or"}, "2"},
		{{"{words}: plain"}, ""},
		{{"plain", "AND"}, ""},
		{{"x' OR 1=1 --"}, ""},
		{{"scored + band"}, "1"},
		{{"pc0000"}, "1,2"},
		{{"PC000001-H"}, "1"},
		{{"]C0pc000001h"}, "1"},
		{{"lain"}, ""},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		const char *ids = with_words(shop, KIND_CYLINDER, cases[i].words);
		if (strcmp(ids, cases[i].ids) != 0) {
			fail_msg("%s: %s, not %s", cases[i].words[0], ids, cases[i].ids);
		}
	}
}

/* Each index gives what the whole table gives: they are tried with nothing else to go by. */
static void select__by_an_index__agrees_with_the_whole_table(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1", "sort", "store"));
	shop_add(shop, KIND_PLACE, WORDS("code", "R1-1", "sort", "store", "within", "R1"));
	shop_add(shop, KIND_JOB, WORDS("number", "J1"));
	shop_add(shop, KIND_CYLINDER, WORDS("place", "R1-1", "carries", "J1"));
	shop_add(shop, KIND_CYLINDER, WORDS("other_tag", "K-1"));
	shop_add(shop, KIND_ANILOX, WORDS("line_screen", "140/cm", "place", "R1"));
	shop_add(shop, KIND_ANILOX, WORDS("line_screen", "141/cm"));
	static const struct {
		enum kind_id kind;
		const char *attribute, *text;
		int64_t reference;
		const char *ids;
	} cases[] = {
		{KIND_CYLINDER, "place", NULL, 1, "1"},      {KIND_ANILOX, "place", NULL, 1, "3"},
		{KIND_CYLINDER, "place", NULL, 2, "1"},      {KIND_CYLINDER, "carries", NULL, 1, "1"},
		{KIND_CYLINDER, "other_tag", "k-1", 0, "2"}, {KIND_CYLINDER, "tag", "PC000002F", 0, "2"},
		{KIND_ANILOX, "tag", "PC000002F", 0, ""},    {KIND_CYLINDER, "tag", "PC0000099", 0, ""},
		{KIND_PLACE, "code", "r1", 0, "1"},          {KIND_PRESS, "code", "r1", 0, ""},
		{KIND_JOB, "number", "j1", 0, "1"},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		const struct kind *kind = &kinds[cases[i].kind];
		struct asked asked = {.attribute = kind_attribute_find(kind, cases[i].attribute),
		                      .words = cases[i].text,
		                      .reference = cases[i].reference};
		struct selection selection = {.kind = kind, .asked = &asked, .asked_count = 1};
		bool narrowed = false;
		assert_string_equal(selected(shop, &selection), cases[i].ids);
		assert_int_equal(found_fill(shop->store, &selection, &narrowed, &shop->fault),
		                 OUTCOME_DONE);
		assert_true(narrowed);
	}
	struct asked screen = {.attribute = kind_attribute_find(&kinds[KIND_ANILOX], "line_screen")};
	screen.least = screen.most = (struct value){.type = VALUE_SCREEN, .known = true};
	screen.least.screen = screen.most.screen = screen_from_per_cm(140.0004);
	struct selection selection = {.kind = &kinds[KIND_ANILOX], .asked = &screen, .asked_count = 1};
	assert_string_equal(selected(shop, &selection), "3");
	screen.most.known = false;
	assert_string_equal(selected(shop, &selection), "3,4");
}

static void select__order__by_what_it_is_called(void **state)
{
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "b", "sort", "store"));
	shop_add(shop, KIND_PLACE, WORDS("code", "C", "sort", "store"));
	shop_add(shop, KIND_PLACE, WORDS("code", "A", "sort", "store"));
	struct selection places = {.kind = &kinds[KIND_PLACE]};
	assert_string_equal(selected(shop, &places), "3,1,2");
}

static void store_keeps_in__its_files__own(void **state)
{
	struct shop *shop = *state;
	assert_true(store_keeps_in(shop->store, shop->path));
	assert_false(store_keeps_in(shop->store, shop->folder));
	assert_false(store_keeps_in(shop->store, "/nonexistent/file"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(select__every_attribute__can_be_asked),
		SHOP_TEST(select__blank__finds_what_is_not_known),
		SHOP_TEST(select__words__are_no_operators),
		SHOP_TEST(select__by_an_index__agrees_with_the_whole_table),
		SHOP_TEST(select__order__by_what_it_is_called),
		SHOP_TEST(store_keeps_in__its_files__own),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
