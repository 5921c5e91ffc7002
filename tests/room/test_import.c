/* Rows of a file: all or nothing, every bad one named. */
#include "shop.h"

static void expect(struct shop *shop, int64_t added, int64_t changed, int64_t same)
{
	if (shop->fault.outcome != OUTCOME_DONE) {
		fail_msg("%s\n%s", shop->fault.sentence, shop_problems(shop));
	}
	assert_int_equal(shop->report.added, added);
	assert_int_equal(shop->report.changed, changed);
	assert_int_equal(shop->report.same, same);
	assert_int_equal(shop->report.problem_count, 0);
	assert_false(store_in_transaction(shop->store));
}

/* ---------------------------------------------------------------- all or nothing */

static void import__one_bad_row__nothing_is_kept(void **state)
{
	struct shop *shop = *state;
	bool empty = false;
	assert_int_equal(shop_import(shop, "place", "code,sort\nR1,store\nR2,shelf\nR3,store\n", false),
	                 OUTCOME_BAD);
	assert_string_equal(shop_problems(shop), "3, sort: sort not known: shelf. Type store, press, "
	                                         "cart, wash, supplier or lost.\n");
	shop_faults(shop, OUTCOME_BAD, "1 thing is wrong, nothing was imported: rows.csv",
	            "Mend the file and type it again.");
	assert_int_equal(shop->report.added, 0);
	assert_int_equal(store_is_empty(shop->store, &empty, NULL), OUTCOME_DONE);
	assert_true(empty);
}

static void import__many_problems__first_kept_the_rest_counted(void **state)
{
	struct shop *shop = *state;
	struct text text = text_start(shop->arena);
	text_add(&text, "other_tag,teeth,pitch\n");
	for (int i = 0; i < 25; i++) {
		text_add_format(&text, "K-%d,x,5mm\n", i);
	}
	assert_int_equal(shop_import(shop, "cylinder", text.bytes, false), OUTCOME_BAD);
	assert_int_equal(shop->report.problem_count, 50);
	assert_int_equal(shop->report.problems_kept, IMPORT_PROBLEMS_SHOWN);
	assert_int_equal(shop->report.problems[0].line, 2);
	assert_int_equal(shop->report.problems[IMPORT_PROBLEMS_SHOWN - 1].line, 11);
	assert_string_equal(shop->report.problems[IMPORT_PROBLEMS_SHOWN - 1].column, "pitch");
	assert_string_equal(shop->fault.sentence,
	                    "50 things are wrong, nothing was imported: rows.csv");
}

static void import__in_the_callers_transaction__left_to_the_caller(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(store_begin(shop->store, "test", NULL), OUTCOME_DONE);
	assert_int_equal(shop_import(shop, "place", "code,sort\nR1,store\n", false), OUTCOME_DONE);
	assert_true(store_in_transaction(shop->store));
	store_rollback(shop->store);
	assert_null(shop_value(shop, "R1", "sort"));
}

static void import__short_rows_and_no_rows__blank_and_nothing(void **state)
{
	struct shop *shop = *state;
	shop_import(shop, "place", "code,sort,name,walk\nR1,store\n\n,,,\nR2,store,x\n", false);
	expect(shop, 2, 0, 0);
	assert_string_equal(shop_value(shop, "R1", "walk"), "");
	shop_import(shop, "place", "code,sort\n", false);
	expect(shop, 0, 0, 0);
	assert_int_equal(shop_import(shop, "place", "\n \n,,\n", false), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "file is empty, its first line names the columns: rows.csv", "");
}

/* ---------------------------------------------------------------- rows that are wrong */

static const struct {
	const char *kind, *text, *problems;
} refused[] = {
	{"cylinder", "other_tag;face_mm\nK-1;12,5\n",
     "2, face: face with a separator inside its number: 12,5. Type 12.5: decimals take a point, "
     "thousands take nothing.\n"},
	{"cylinder", "other_tag,name\nK-1,M\xfcller\n",
     "2, name: name not in UTF-8: M\\xfcller. Save the text as UTF-8, or type it anew.\n"},
	{"cylinder", "other_tag,teeth,face\nK-1,-1,330\n",
     "2, teeth: teeth is less than 0: -1. Type a whole number, 0 or more.\n"
     "2, face: face without a unit: 330. Type 330mm or 330in.\n"},
	{"cylinder", "other_tag,place,home\nK-1,R44,R1\nK-2,R1,R1\n",
     "2, place: place not known: R44. Type find place for all on record.\n"},
	{"cylinder", "other_tag,teeth,pitch,repeat\nK-1,96,1/8cp,304.8mm\nK-2,96,1/8cp,305mm\n",
     "3, repeat: repeat: 305mm given, 96 teeth 1/8cp make 304.8mm, 0.2mm less. Leave repeat out, or "
     "mend teeth and pitch.\n"},
	{"place", "code,sort,name\nR8,store,\"two\nlines\"\nR9,shelf,\n",
     "4, sort: sort not known: shelf. Type store, press, cart, wash, supplier or lost.\n"},
	/* on record already, or twice in the file */
	{"place", "code,sort\nR8,store\nr1,store\n",
     "3: code r1 is on record already. Give update=yes to correct what is on record.\n"},
	{"place", "code,sort\nR8,store\nR9,store\nr8,store\n", "4: code r8 stands in line 2 already\n"},
	{"place", "code,sort\nR8,shelf\nr8,store\n",
     "2, sort: sort not known: shelf. Type store, press, cart, wash, supplier or lost.\n"
     "3: code r8 stands in line 2 already\n"},
	{"cylinder", "tag,other_tag\nPC000123Y,\npc000123-y,K-9\n",
     "3: tag pc000123-y stands in line 2 already\n"},
	{"cylinder", "tag,other_tag\nPC000123Y,K-9\n,k-9\n",
     "3: other_tag k-9 stands in line 2 already\n"},
	{"gear", "other_tag\nG-1\nK-0\n",
     "3, other_tag: other_tag names a plate cylinder already: K-0. "
     "Give it another.\n"},
	{"station", "job,station,process\nJ1,1,flexo\nj1,1,flexo\n",
     "3: station 1 of job j1 stands in line 2 already\n"},
	{"cut", "job,cut,kind\nJ1,1,kiss\nJ1,2,kiss\nJ1,2,back\n",
     "4: cut 2 of job J1 stands in line 3 already\n"},
	{"press", "code,drive,stations\nP8,servo,1\nR1,servo,1\n",
     "3: place of the press is on record as sort store: R1. Give that place the sort press, or the "
     "press another code.\n"},
	/* torn */
	{"place", "code,sort,name\nR8,shelf,x\nR9,store,\"y\n",
     "2, sort: sort not known: shelf. Type store, press, cart, wash, supplier or lost.\n"
     "3, name: quote is opened and never closed. Close it, or double it where it is part of the "
     "cell.\n"},
	{"place", "code,sort,name\nR8,store,13\" rack\n",
     "2, name: quote within a cell that does not begin with one. Put the cell in quotes and double "
     "the one within; inches are 13in.\n"},
};

static void import__bad_rows__line_column_value_and_what_is_right(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "cylinder", "other_tag=K-0");
	for (size_t i = 0; i < COUNT_OF(refused); i++) {
		if (shop_import(shop, refused[i].kind, refused[i].text, false) != OUTCOME_BAD) {
			fail_msg("taken: %s", refused[i].text);
		}
		assert_string_equal(shop_problems(shop), refused[i].problems);
	}
	assert_null(shop_value(shop, "R8", "sort"));
}

static void import__nul__the_line_it_is_in(void **state)
{
	static const char text[] = "code,sort\nR1,sto\0re\n";
	struct shop *shop = *state;
	assert_int_equal(room_import_text(shop->store, shop->arena, kind_find("place"), "rows.csv",
	                                  text, sizeof text - 1, false, &shop->actor, &shop->report,
	                                  &shop->fault),
	                 OUTCOME_BAD);
	assert_string_equal(shop_problems(shop),
	                    "2: text holds a NUL byte, it is no CSV. Save it as CSV UTF-8.\n");
}

/* ---------------------------------------------------------------- correcting */

static void import_update__columns_in_the_file__set_as_they_stand(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_import(shop, "cylinder",
	            "other_tag,teeth,pitch,face,place,fit,note\nK-1,96,1/8cp,330mm,R1,\"b,a\",old\n",
	            false);
	expect(shop, 1, 0, 0);
	shop_import(shop, "cylinder", "other_tag,face,note\nk-1,340mm,\nK-2,300mm,\n", true);
	expect(shop, 1, 1, 0);
	assert_string_equal(shop_value(shop, "K-1", "face"), "340mm");
	assert_string_equal(shop_value(shop, "K-1", "note"), "");
	assert_string_equal(shop_value(shop, "K-1", "teeth"), "96");
	assert_string_equal(shop_value(shop, "K-1", "place"), "R1");
	/* By its tag the other tag may change, and what is the same by another spelling is no change.
	 */
	shop_import(shop, "cylinder", "tag,other_tag,place,fit\nPC000001H,K-7,r1,\"a,b\"\n", true);
	expect(shop, 0, 1, 0);
	assert_null(shop_value(shop, "K-1", "tag"));
	shop_import(shop, "cylinder", "other_tag,place,fit\nK-7,r1,\"a,b\"\n", true);
	expect(shop, 0, 0, 1);
}

static void import_update__every_kind_as_it_is__nothing_changed(void **state)
{
	static const struct {
		const char *kind, *text;
		int64_t rows;
	} files[] = {
		{"operator", "badge,name,role\nE1,Nora,clerk\n", 1},
		{"place", "code,sort,within,condition,note\nA,store,,hold,shaky\nB,cart,A,,\n", 2},
		{"press", "code,drive,stations,pitches,fit\nP7,geared,2,\"1/4cp,1/8cp\",\"x,b\"\n", 1},
		{"job",
	     "number,press,from,until,label_across_mm,teeth,pitch\nJ8,\"P7,p1\",2026-12-03,,74,96,1/8cp\n",
	     1},
		{"cylinder", "other_tag,repeat,drive,carries\nC-1,300.0mm,gearless,j8\n", 1},
		{"anilox", "other_tag,line_screen_lpi,volume_bcm,engraved\nA-1,360,4.3,2026-01-02\n", 1},
		{"die", "other_tag,cut,shape\nD-1,kiss,special\n", 1},
		{"station", "job,station,process,volume_tolerance,screen_min\nJ8,2,flexo,5%,300lpi\n", 1},
		{"cut", "job,cut,kind,die\nj8,1,kiss,d-1\n", 1},
		{"reading",
	     "tool,moment,volume,across,method,after\nA-1,2026-11-30T09:00,,6/6.1/6.2cm3/m2,surface,clean\n"
	     "A-1,2026-11-30T09:00,5cm3/m2,,surface,run\n",
	     2},
	};
	struct shop *shop = *state;
	shop_furnish(shop);
	for (size_t i = 0; i < COUNT_OF(files); i++) {
		shop_import(shop, files[i].kind, files[i].text, false);
		expect(shop, files[i].rows, 0, 0);
	}
	for (size_t i = 0; i < COUNT_OF(files); i++) {
		shop_import(shop, files[i].kind, files[i].text, true);
		expect(shop, 0, 0, files[i].rows);
	}
}

static void import_update__job_rows_and_readings__corrected(void **state)
{
	struct shop *shop = *state;
	shop_furnish(shop);
	shop_has(shop, "anilox", "other_tag=A-1");
	shop_import(shop, "station", "job,station,process\nJ1,1,flexo\n", false);
	expect(shop, 1, 0, 0);
	shop_import(shop, "station", "job,station,process\nJ1,1,cold_foil\nJ1,2,flexo\n", true);
	expect(shop, 1, 1, 0);
	/* A reading has no name: a second volume of one moment stands beside the first. */
	shop_import(shop, "reading", "tool,moment,volume\nA-1,2026-11-30,4bcm\nA-1,2026-11-30,4.1bcm\n",
	            false);
	expect(shop, 2, 0, 0);
	shop_import(shop, "reading", "tool,moment,volume\nA-1,2026-11-30,5bcm\n", true);
	expect(shop, 0, 1, 0);
}

static void import_update__two_names_of_two_records__refused(void **state)
{
	struct shop *shop = *state;
	shop_import(shop, "cylinder", "tag,other_tag\nPC000001H,K-1\nPC000002F,K-2\n", false);
	expect(shop, 2, 0, 0);
	assert_int_equal(shop_import(shop, "cylinder", "tag,other_tag\nPC000001H,K-2\n", true),
	                 OUTCOME_BAD);
	assert_string_equal(shop_problems(shop),
	                    "2, other_tag: other_tag belongs to another record: K-2. It is that of "
	                    "PC000002-F, plate cylinder; give another.\n");
	assert_int_equal(shop_import(shop, "cylinder", "tag,other_tag\nPC000001H,K-9\n,K-9\n", true),
	                 OUTCOME_BAD);
	assert_string_equal(shop_problems(shop), "3: other_tag K-9 stands in line 2 already\n");
}

static void import_update__condition__reason_follows_the_note(void **state)
{
	struct shop *shop = *state;
	struct found found;
	struct tool_state tool;
	shop_import(shop, "cylinder", "other_tag,condition,note\nK-1,hold,scored\n", false);
	shop_import(shop, "cylinder", "other_tag,condition,note\nK-1,hold,to be ground\n", true);
	expect(shop, 0, 1, 0);
	assert_int_equal(store_find(shop->store, "K-1", REFER_TOOL, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_tool_state(shop->store, shop->arena, found.id, &tool, NULL),
	                 OUTCOME_DONE);
	/* While the condition stays, what it was set for stays too. */
	assert_string_equal(tool.condition_reason, "scored");
	shop_import(shop, "cylinder", "other_tag,condition,note\nK-1,scrapped,worn out\n", true);
	assert_int_equal(store_tool_state(shop->store, shop->arena, found.id, &tool, NULL),
	                 OUTCOME_DONE);
	assert_string_equal(tool.condition, "scrapped");
	assert_string_equal(tool.condition_reason, "worn out");
}

/* ---------------------------------------------------------------- places within places */

static void import_places__further_down__waited_for(void **state)
{
	struct shop *shop = *state;
	shop_import(shop, "place", "code,sort,within\nA,store,b\nB,store,C\nC,store,\nD,store,A\n",
	            false);
	expect(shop, 4, 0, 0);
	assert_string_equal(shop_value(shop, "A", "within"), "B");
	assert_string_equal(shop_value(shop, "B", "within"), "C");
	/* Turned over: for a while each would lie within the other. */
	shop_import(shop, "place", "code,sort,within\nC,store,A\nA,store,\nB,store,C\n", true);
	expect(shop, 0, 2, 1);
	assert_string_equal(shop_value(shop, "C", "within"), "A");
}

static void import_places__circles_and_strays__told_apart(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(shop_import(shop, "place",
	                             "code,sort,within\nA,store,B\nB,store,A\nC,store,NOWHERE\n"
	                             "D,store,C\nE,store,F\nF,shelf,\nG,store,G\n",
	                             false),
	                 OUTCOME_BAD);
	assert_string_equal(
		shop_problems(shop),
		"2, within: place not known: B. By this file it would lie within itself.\n"
		"3, within: place not known: A. By this file it would lie within itself.\n"
		"4, within: place not known: NOWHERE\n"
		"5, within: place not known: C. It stands in line 4, which is wrong itself.\n"
		"6, within: place not known: F. It stands in line 7, which is wrong itself.\n"
		"7, sort: sort not known: shelf. Type store, press, cart, wash, supplier or lost.\n"
		"8, within: place not known: G. By this file it would lie within itself.\n");
	shop_import(shop, "place", "code,sort,within\nA,store,\nB,store,A\n", false);
	expect(shop, 2, 0, 0);
	assert_int_equal(shop_import(shop, "place", "code,within\nA,B\n", true), OUTCOME_BAD);
	assert_string_equal(shop_problems(shop), "2, within: place would lie within itself: B\n");
}

static void import__file_of_a_spreadsheet__taken_as_it_is(void **state)
{
	struct shop *shop = *state;
	/* a byte order mark, CRLF, `;` between cells, a line break within quotes, an empty line */
	assert_int_equal(shop_import(shop, "place",
	                             "\xef\xbb\xbf"
	                             "Code;Sort;Note\r\n"
	                             "R1;store;\"cold side;\r\nmind the step\"\r\n;;\r\nR2;Store;\r\n",
	                             false),
	                 OUTCOME_DONE);
	assert_int_equal(shop->report.added, 2);
	assert_string_equal(shop_value(shop, "R1", "note"), "cold side;\nmind the step");
	assert_string_equal(shop_value(shop, "R2", "sort"), "store");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(import__file_of_a_spreadsheet__taken_as_it_is),
		SHOP_TEST(import__one_bad_row__nothing_is_kept),
		SHOP_TEST(import__many_problems__first_kept_the_rest_counted),
		SHOP_TEST(import__in_the_callers_transaction__left_to_the_caller),
		SHOP_TEST(import__short_rows_and_no_rows__blank_and_nothing),
		SHOP_TEST(import__bad_rows__line_column_value_and_what_is_right),
		SHOP_TEST(import__nul__the_line_it_is_in),
		SHOP_TEST(import_update__columns_in_the_file__set_as_they_stand),
		SHOP_TEST(import_update__every_kind_as_it_is__nothing_changed),
		SHOP_TEST(import_update__job_rows_and_readings__corrected),
		SHOP_TEST(import_update__two_names_of_two_records__refused),
		SHOP_TEST(import_update__condition__reason_follows_the_note),
		SHOP_TEST(import_places__further_down__waited_for),
		SHOP_TEST(import_places__circles_and_strays__told_apart),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
