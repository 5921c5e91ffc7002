/* Names that are known, and what is told of those that are not. All names are invented. */
#include "shop.h"

static int shop_with_names(void **state)
{
	int failed = shop_set_up(state);
	struct shop *shop = *state;
	shop_add(shop, KIND_PLACE, WORDS("code", "R1-3", "sort", "store", "name", "rack 1, shelf 3"));
	shop_add(shop, KIND_PLACE, WORDS("code", "R1-4", "sort", "store"));
	shop_add(shop, KIND_PRESS, WORDS("code", "P1", "stations", "2"));
	shop_add(shop, KIND_JOB, WORDS("number", "J2601", "state", "planned", "title", "plum jam"));
	shop_add(shop, KIND_OPERATOR, WORDS("badge", "E021", "name", "Ada Pike", "role", "clerk"));
	shop_add(shop, KIND_CYLINDER,
	         WORDS("other_tag", "K-19", "teeth", "96", "pitch", "1/8cp", "condition", "ready"));
	for (int i = 0; i < 24; i++) {
		shop_add(shop, KIND_CYLINDER, WORDS("condition", "ready"));
	}
	shop_add(shop, KIND_ANILOX, WORDS("name", "the old one", "condition", "ready"));
	return failed;
}

static void refused(void **state, const char *name, enum reference wanted, const char *sentence,
                    const char *hint)
{
	struct shop *shop = *state;
	struct found found;
	fault_clear(&shop->fault);
	assert_int_equal(store_find(shop->store, name, wanted, &found, &shop->fault), OUTCOME_BAD);
	assert_string_equal(shop->fault.sentence, sentence);
	assert_string_equal(shop->fault.hint, hint);
}

static void find__tag_misread__nearest_told_and_not_taken(void **state)
{
	refused(state, "PC000001-A", REFER_NONE,
	        "tag misread, its check character does not agree: PC000001-A",
	        "Scan it again; nearest on record: PC000001-H (plate cylinder K-19, 96 teeth).");
	refused(state, "PC900001-A", REFER_NONE,
	        "tag misread, its check character does not agree: PC900001-A",
	        "Scan it again, or compare it with the tag sign by sign.");
}

static void find__tag_without_check_character__the_tag_itself_alone(void **state)
{
	refused(state, "PC000012", REFER_NONE, "tag lacks its last sign, the check character: PC000012",
	        "Scan it; nearest on record: PC000012-B (plate cylinder).");
	refused(state, "PC900001", REFER_NONE, "tag lacks its last sign, the check character: PC900001",
	        "Scan it; nearest on record: PC000001-H (plate cylinder K-19, 96 teeth).");
	refused(state, "PC987654", REFER_NONE, "tag lacks its last sign, the check character: PC987654",
	        "Scan it, or type all of it as it stands on the tag.");
}

static void find__tag_on_no_record__serials_one_slip_away(void **state)
{
	refused(state, "PC000210-A", REFER_TOOL,
	        "tag misread, its check character does not agree: PC000210-A",
	        "Scan it again, or compare it with the tag sign by sign.");
	refused(state, "PC000120-3", REFER_NONE, "tag not known: PC000120-3",
	        "Type PC000020-B (plate cylinder).");
}

static void find__tag_as_said__padded(void **state)
{
	refused(state, "AN1", REFER_NONE, "tag not known: AN1",
	        "Type AN000001-R (anilox roll, the old one).");
}

static void find__code_mistyped__nearest_of_what_is_wanted(void **state)
{
	refused(state, "R1-33", REFER_PLACE, "place not known: R1-33",
	        "Type R1-3 (place, rack 1, shelf 3).");
	refused(state, "R13", REFER_PLACE, "place not known: R13",
	        "Type R1-3 (place, rack 1, shelf 3).");
	refused(state, "K-l9", REFER_TOOL, "tool not known: K-l9",
	        "Type K-19 (plate cylinder, 96 teeth).");
	refused(state, "K-91", REFER_PLACE, "place not known: K-91",
	        "Type find place for all on record.");
	refused(state, "K-19", REFER_PLACE, "code is a plate cylinder, not a place: K-19",
	        "Type the code of a place, or find place for all on record.");
	refused(state, "J2610", REFER_JOB, "job not known: J2610", "Type J2601 (job, plum jam).");
	refused(state, "P11", REFER_PRESSES, "press not known: P11", "Type P1 (press).");
	refused(state, "E012", REFER_NONE, "tag not known: E012", "Type E021 (operator, Ada Pike).");
	refused(state, "j-2601x", REFER_NONE, "tag not known: j-2601x", "Type J2601 (job, plum jam).");
}

static void find__code_with_quotes__no_harm(void **state)
{
	refused(state, "R1\"3", REFER_PLACE, "place not known: R1\"3",
	        "Type R1-3 (place, rack 1, shelf 3).");
	refused(state, "R1\\", REFER_PLACE, "place not known: R1\\",
	        "Type find place for all on record.");
	refused(state, "\xc3\xa4", REFER_PLACE, "place not known: \xc3\xa4",
	        "Type find place for all on record.");
}

static void find__tag_of_a_class_that_cannot_be_meant__told_so(void **state)
{
	refused(state, "JB000009-Z", REFER_TOOL, "tag is that of a job, not of a tool: JB000009-Z",
	        "Type the tag of a tool, or find and a word of its name or number.");
	refused(state, "SL000001-4", REFER_PLACE, "tag is that of a sleeve, not of a place: SL000001-4",
	        "Type the code of a place, or find place for all on record.");
	refused(state, "SL000001-4", REFER_TOOL, "tag not known: SL000001-4",
	        "Type the tag of a tool, or find and a word of its name or number.");
	refused(state, "AC000009-U", REFER_NONE, "tag is an action card of the bench: AC000009-U",
	        "Type the command that is meant, or help for all of them.");
	refused(state, "PC000001-H", REFER_ANILOX,
	        "tag is a plate cylinder, not an anilox roll: PC000001-H",
	        "Type the tag of an anilox roll, or find anilox for all on record.");
}

static void find_plain__not_known__nothing_is_looked_for(void **state)
{
	struct shop *shop = *state;
	struct found found;
	fault_clear(&shop->fault);
	assert_int_equal(store_find_plain(shop->store, "R1-33", REFER_PLACE, &found, &shop->fault),
	                 OUTCOME_BAD);
	assert_string_equal(shop->fault.hint, "");
}

#define NAMES_TEST(test) cmocka_unit_test_setup_teardown(test, shop_with_names, shop_tear_down)

int main(void)
{
	const struct CMUnitTest tests[] = {
		NAMES_TEST(find__tag_misread__nearest_told_and_not_taken),
		NAMES_TEST(find__tag_without_check_character__the_tag_itself_alone),
		NAMES_TEST(find__tag_on_no_record__serials_one_slip_away),
		NAMES_TEST(find__tag_as_said__padded),
		NAMES_TEST(find__code_mistyped__nearest_of_what_is_wanted),
		NAMES_TEST(find__code_with_quotes__no_harm),
		NAMES_TEST(find__tag_of_a_class_that_cannot_be_meant__told_so),
		NAMES_TEST(find_plain__not_known__nothing_is_looked_for),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
