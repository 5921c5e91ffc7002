/* The first line of a file: separators, names, units. */
#include "shop.h"

/* Texts whose one row is the same cylinder. */
static const char *const alike[] = {
	"other_tag,teeth,pitch,face,note\nK-1,96,1/8cp,330mm,\"a, b; c\"\n",
	"other_tag;teeth;pitch;face;note\nK-1;96;1/8cp;330mm;\"a, b; c\"\n",
	"other_tag\tteeth\tpitch\tface\tnote\nK-1\t96\t1/8cp\t330mm\ta, b; c\n",
	"\xef\xbb\xbfother_tag,teeth,pitch,face_mm,note\r\nK-1,96,1/8cp,330,\"a, b; c\"\r\n",
	" Other_Tag , TEETH,pitch_cp,Face_MM ,note,,\nK-1,96,1/8,330,\"a, b; c\",,\n",
	"note,face_m,pitch,teeth,other_tag\n\"a, b; c\",0.33,1/8cp,96,K-1\n",
	/* A cell that carries its own unit keeps that. */
	"note,face_in,pitch,teeth,other_tag\n\"a, b; c\",330mm,1/8cp,96,K-1\n",
	/* More commas than semicolons, but under commas it is no heading. */
	"other_tag;teeth;pitch;face;\"note\"\nK-1;96;1/8cp;330mm;a, b; c\n",
};

static void heading__separators_cases_and_units__one_record(void **state)
{
	struct shop *shop = *state;
	for (size_t i = 0; i + 1 < COUNT_OF(alike); i++) {
		if (shop_import(shop, "cylinder", alike[i], i > 0) != OUTCOME_DONE) {
			fail_msg("%s%s", alike[i], shop_problems(shop));
		}
		assert_int_equal(shop->report.added, i == 0 ? 1 : 0);
		assert_int_equal(shop->report.same, i == 0 ? 0 : 1);
	}
	assert_string_equal(shop_value(shop, "K-1", "note"), "a, b; c");
	assert_string_equal(shop_value(shop, "K-1", "face"), "330mm");
}

static const struct {
	const char *kind, *text, *problems;
} refused[] = {
	{"cylinder", "other_tag,teeth,pich\nK-1,96,1/8cp\n",
     "1, pich: column of a plate cylinder not known: pich. Is pitch meant?\n"},
	{"anilox", "other_tag,colour\nA-1,blue\n",
     "1, colour: column of an anilox roll not known: colour\n"},
	{"anilox", "other_tag,line_screen_dpi\nA-1,360\n",
     "1, line_screen_dpi: column of an anilox roll not known: line_screen_dpi. Type line_screen, "
     "line_screen_per_cm or line_screen_lpi.\n"},
	{"cylinder", "other_tag,teeth_mm\nK-1,96\n",
     "1, teeth_mm: column of a plate cylinder not known: teeth_mm\n"},
	{"cylinder", "other_tag,teeth,TEETH\nK-1,96,96\n",
     "1, teeth: column stands twice in the heading\n"},
	{"cylinder", "other_tag,face_mm,face_in\nK-1,330,\n",
     "1, face_in: column stands twice in the heading\n"},
	{"cylinder", "K-1,96,1/8cp\nK-2,96,1/8cp\n",
     "1: no column of a plate cylinder is named in the first line: K-1. The first line names the "
     "columns, with commas, semicolons or TABs between.\n"},
	{"cylinder", "other_tag|teeth|pitch\nK-1|96|1/8cp\n",
     "1: no column of a plate cylinder is named in the first line: other_tag|teeth|pitch. The first "
     "line names the columns, with commas, semicolons or TABs between.\n"},
	{"place", "cod\nR1\n", "1, cod: column of a place not known: cod. Is code meant?\n"},
	{"place", "\n\ncode,sorts\nR1,store\n",
     "3, sorts: column of a place not known: sorts. Is sort meant?\n"},
	{"place", "code,\"so\nrt\"\nR1,store\n",
     "1, so\nrt: column of a place not known: so\\x0art. Is sort meant?\n"},
};

static void heading__wrong__told_and_no_row_is_looked_at(void **state)
{
	struct shop *shop = *state;
	for (size_t i = 0; i < COUNT_OF(refused); i++) {
		assert_int_equal(shop_import(shop, refused[i].kind, refused[i].text, false), OUTCOME_BAD);
		assert_string_equal(shop_problems(shop), refused[i].problems);
	}
}

static void heading__under_no_heading__only_blanks(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(shop_import(shop, "place",
	                             "code,,sort\nR1,,store\nR2,x,store\nR3,,store,y,z\n", false),
	                 OUTCOME_BAD);
	assert_string_equal(
		shop_problems(shop),
		"3: cell stands under no heading: x. A cell that holds the separator stands "
		"in quotes.\n"
		"4: cell stands under no heading: y. A cell that holds the separator stands "
		"in quotes.\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(heading__separators_cases_and_units__one_record),
		SHOP_TEST(heading__wrong__told_and_no_row_is_looked_at),
		SHOP_TEST(heading__under_no_heading__only_blanks),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
