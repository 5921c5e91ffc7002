/* Where lines and cells are broken on a narrow terminal. */
#include "common.h"
#include "console/answer.h"
#include "console/columns.h"

static struct answer *fresh(size_t width)
{
	struct answer *answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	answer->width = width;
	return answer;
}

static void answer_line__behind_a_tag__hangs_below_what_stands_there(void **state)
{
	(void)state;
	struct answer *answer = fresh(40);
	answer_line(answer, MARK_PLAIN, "PC000026-0  from R1-3 to R1-2  plate cylinder, geared");
	assert_string_equal(answer_finish(answer), "PC000026-0  from R1-3 to R1-2  plate\n"
	                                           "            cylinder, geared\n");
}

static void answer_line__behind_a_word__hangs_below_what_stands_there(void **state)
{
	(void)state;
	struct answer *answer = fresh(30);
	answer_line(answer, MARK_PLAIN, "  caution: was at C1 already, still on hold");
	assert_string_equal(answer_finish(answer), "  caution: was at C1 already,\n"
	                                           "           still on hold\n");
}

static void answer_line__running_text__begins_at_the_edge(void **state)
{
	(void)state;
	struct answer *answer = fresh(30);
	answer_line(answer, MARK_PLAIN, "Exit 0: ready, with caution or without it");
	assert_string_equal(answer_finish(answer), "Exit 0: ready, with caution or\nwithout it\n");
}

static void answer_line__gap_far_behind__begins_at_the_edge(void **state)
{
	(void)state;
	struct answer *answer = fresh(30);
	answer_line(answer, MARK_PLAIN, "a title that is rather long  and more");
	assert_string_equal(answer_finish(answer), "a title that is rather long\nand more\n");
}

static const char *const columns[] = {"tag", "what it is", "place", "condition", "other_tag"};

static void find_table(struct answer *answer, const char *condition)
{
	const char *const first[] = {"DB000003-E", "doctor blade assembly, length 330mm, steel", "B1",
	                             NULL, NULL};
	const char *const second[] = {"DB000004-C", "doctor blade assembly, length 330mm, steel", "B1",
	                              condition, NULL};
	answer_table_open(answer, columns, COUNT_OF(columns));
	answer_table_row(answer, MARK_PLAIN, first);
	answer_table_row(answer, MARK_PLAIN, second);
	answer_table_close(answer);
}

static void answer_table__narrow__empty_columns_left_out(void **state)
{
	(void)state;
	struct answer *answer = fresh(64);
	find_table(answer, NULL);
	assert_string_equal(answer_finish(answer),
	                    "tag         what it is                                  place\n"
	                    "DB000003-E  doctor blade assembly, length 330mm, steel  B1\n"
	                    "DB000004-C  doctor blade assembly, length 330mm, steel  B1\n");
}

static void answer_table__narrow__column_with_one_word__stays(void **state)
{
	(void)state;
	struct answer *answer = fresh(64);
	find_table(answer, "hold");
	assert_string_equal(answer_finish(answer),
	                    "tag         what it is                          place  condition\n"
	                    "DB000003-E  doctor blade assembly,              B1\n"
	                    "            length 330mm, steel\n"
	                    "DB000004-C  doctor blade assembly,              B1     hold\n"
	                    "            length 330mm, steel\n");
}

static void answer_table__wide_enough__empty_columns_stay(void **state)
{
	(void)state;
	struct answer *answer = fresh(100);
	find_table(answer, NULL);
	assert_non_null(strstr(answer_finish(answer), "  condition  other_tag\n"));
}

static void text_fit_parts__figures__broken_behind_a_comma(void **state)
{
	(void)state;
	const char *rest = NULL;
	assert_int_equal(text_fit_parts("96 teeth 1/8cp, face 330mm", 21, &rest), 15);
	assert_string_equal(rest, "face 330mm");
	assert_int_equal(text_fit_parts("96 teeth 1/8cp, face 330mm", 26, &rest), 26);
	assert_string_equal(rest, "");
}

static void text_fit_parts__running_text__broken_at_a_blank(void **state)
{
	(void)state;
	const char *rest = NULL;
	const char *text = "put a tool, place, press, job or other record on record";
	assert_int_equal(text_fit_parts(text, 40, &rest), 38);
	assert_string_equal(rest, "record on record");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(answer_line__behind_a_tag__hangs_below_what_stands_there),
		WITH_ARENA(answer_line__behind_a_word__hangs_below_what_stands_there),
		WITH_ARENA(answer_line__running_text__begins_at_the_edge),
		WITH_ARENA(answer_line__gap_far_behind__begins_at_the_edge),
		WITH_ARENA(answer_table__narrow__empty_columns_left_out),
		WITH_ARENA(answer_table__narrow__column_with_one_word__stays),
		WITH_ARENA(answer_table__wide_enough__empty_columns_stay),
		WITH_ARENA(text_fit_parts__figures__broken_behind_a_comma),
		WITH_ARENA(text_fit_parts__running_text__broken_at_a_blank),
	};
	return cmocka_run_group_tests_name("answer_wrap", tests, NULL, NULL);
}
