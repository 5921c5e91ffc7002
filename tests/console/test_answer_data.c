#include <float.h>
#include <math.h>
#include <time.h>

#include "common.h"
#include "console/answer.h"

static struct answer *fresh(enum answer_form form)
{
	return answer_new(arena, form, UNITS_METRIC);
}

static const char *number_json(double number, int decimals)
{
	struct answer *answer = fresh(FORM_JSON);
	answer_array_open(answer, NULL);
	answer_number(answer, NULL, number, decimals);
	answer_array_close(answer);
	return answer_finish(answer);
}

static void answer_number__decimals__rounded_half_away(void **state)
{
	(void)state;
	static const struct {
		double number;
		int decimals;
		const char *json;
	} cases[] = {
		{304.8, 3, "[304.8]\n"},   {12, 3, "[12.0]\n"},
		{0.0005, 3, "[0.001]\n"},  {-0.0005, 3, "[-0.001]\n"},
		{1.0005, 3, "[1.001]\n"},  {2.675, 2, "[2.68]\n"},
		{1.00049, 3, "[1.0]\n"},   {-0.0001, 3, "[0.0]\n"},
		{0.1 + 0.2, 6, "[0.3]\n"}, {97.0208533, 3, "[97.021]\n"},
		{2.5, 0, "[3.0]\n"},       {-2.5, 0, "[-3.0]\n"},
		{1e300, 3, "[1e300]\n"},   {123456789.123, 3, "[123456789.123]\n"},
		{NAN, 3, "[null]\n"},      {INFINITY, 3, "[null]\n"},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_string_equal(number_json(cases[i].number, cases[i].decimals), cases[i].json);
	}
}

static void fill_nested(struct answer *answer)
{
	const struct value noon = value_from_stored(VALUE_MOMENT, 1796126400);
	answer_object_open(answer, NULL);
	answer_word(answer, "job", "J \"1\",\n");
	answer_word(answer, "title", NULL);
	answer_count(answer, "quantity", INT64_C(-9007199254740993));
	answer_yes_no(answer, "register", true);
	answer_null(answer, "press");
	answer_moment(answer, "from", noon.moment);
	answer_array_open(answer, "tools");
	answer_word(answer, NULL, "PC000001-1");
	answer_word(answer, NULL, "PC000002-Z");
	answer_array_close(answer);
	answer_array_open(answer, "none");
	answer_array_close(answer);
	answer_object_open(answer, "within");
	answer_count(answer, "n", 1);
	answer_object_close(answer);
	answer_object_close(answer);
}

static void answer_json__nested__one_line(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_JSON);
	fill_nested(answer);
	assert_string_equal(
		answer_finish(answer),
		"{\"job\": \"J \\\"1\\\",\\n\", \"title\": null, \"quantity\": -9007199254740993, "
		"\"register\": true, \"press\": null, \"from\": \"2026-12-01T12:00:00Z\", \"tools\": "
		"[\"PC000001-1\", \"PC000002-Z\"], \"none\": [], \"within\": {\"n\": 1}}\n");
}

static void answer_json__at_a_terminal__laid_out(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_JSON);
	answer->indented = true;
	answer_object_open(answer, NULL);
	answer_count(answer, "n", 1);
	answer_object_close(answer);
	assert_string_equal(answer_finish(answer), "{\n  \"n\": 1\n}\n");
}

static void answer_json__broken_utf_8__bytes_shown(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_JSON);
	answer_object_open(answer, NULL);
	answer_word(answer, "file", "r\xf6lls.csv");
	answer_object_close(answer);
	assert_string_equal(answer_finish(answer), "{\"file\": \"r\\\\xf6lls.csv\"}\n");
}

static void answer_csv__one_object__one_row(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_CSV);
	fill_nested(answer);
	assert_string_equal(answer_finish(answer),
	                    "job,title,quantity,register,press,from,tools,none\r\n"
	                    "\"J \"\"1\"\",\n\",,-9007199254740993,yes,,2026-12-01T12:00:00Z,"
	                    "\"PC000001-1,PC000002-Z\",\r\n");
}

static void answer_csv__array__rows_with_all_columns(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_CSV);
	answer_array_open(answer, NULL);
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", "A");
	answer_word(answer, "name", " blanks kept ");
	answer_object_close(answer);
	answer_object_open(answer, NULL);
	answer_number(answer, "face_mm", 330.25, 3);
	answer_word(answer, "tag", "B");
	answer_object_close(answer);
	answer_array_close(answer);
	assert_string_equal(answer_finish(answer),
	                    "tag,name,face_mm\r\nA,\" blanks kept \",\r\nB,,330.25\r\n");
}

static void answer_csv__object_with_table__table(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_CSV);
	answer_object_open(answer, NULL);
	answer_word(answer, "job", "J1");
	answer_array_open(answer, "stations");
	answer_object_open(answer, NULL);
	answer_count(answer, "station", 1);
	answer_object_close(answer);
	answer_object_open(answer, NULL);
	answer_count(answer, "station", 2);
	answer_object_close(answer);
	answer_array_close(answer);
	answer_object_close(answer);
	assert_string_equal(answer_finish(answer), "station\r\n1\r\n2\r\n");
}

static void answer_csv__nothing_found__no_bytes(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_CSV);
	answer_array_open(answer, NULL);
	answer_array_close(answer);
	assert_string_equal(answer_finish(answer), "");
	assert_string_equal(answer_finish(fresh(FORM_CSV)), "");
	assert_string_equal(answer_finish(fresh(FORM_JSON)), "");
}

static struct value read_value(enum value_type type, const char *text)
{
	static const char *const choices[] = {"ready", "hold", NULL};
	struct value value;
	assert_int_equal(value_parse(arena, "it", type, choices, NULL, text, &value, &fault),
	                 OUTCOME_DONE);
	return value;
}

static void answer_value__types__keys_and_figures(void **state)
{
	(void)state;
	static const struct {
		enum value_type type;
		const char *text;
		const char *json;
		const char *csv;
	} cases[] = {
		{VALUE_TOOLING, "13in", "{\"it_mm\": 330.2}\n", "330.2mm"},
		{VALUE_TOOLING, "0.000001mm", "{\"it_mm\": 1e-6}\n", "0.000001mm"},
		{VALUE_TOOLING, "", "{\"it_mm\": null}\n", ""},
		{VALUE_WEB, "12.5m", "{\"it_m\": 12.5}\n", "12.5m"},
		{VALUE_CELL, "5um", "{\"it_um\": 5.0}\n", "5um"},
		{VALUE_VOLUME, "6.7cm3/m2", "{\"it_cm3_m2\": 6.7}\n", "6.7cm3/m2"},
		{VALUE_ACROSS, "6.2/6.4/6.1cm3/m2", "{\"it_cm3_m2\": [6.2, 6.4, 6.1]}\n",
	     "6.2/6.4/6.1cm3/m2"},
		{VALUE_ACROSS, "", "{\"it_cm3_m2\": null}\n", ""},
		{VALUE_SCREEN, "140/cm", "{\"it_per_cm\": 140.0}\n", "140/cm"},
		{VALUE_SCREEN, "", "{\"it_per_cm\": null}\n", ""},
		{VALUE_WEIGHT, "18kg", "{\"it_kg\": 18.0}\n", "18kg"},
		{VALUE_AREA, "25cm2", "{\"it_cm2\": 25.0}\n", "25cm2"},
		{VALUE_LIQUID, "12ul", "{\"it_ul\": 12.0}\n", "12ul"},
		{VALUE_ANGLE, "60deg", "{\"it_deg\": 60.0}\n", "60deg"},
		{VALUE_SPEED, "100m/min", "{\"it_m_min\": 100.0}\n", "100m/min"},
		{VALUE_DURATION, "4h", "{\"it_s\": 14400}\n", "4h"},
		{VALUE_PERCENT, "10%", "{\"it_percent\": 10.0}\n", "10%"},
		{VALUE_MONEY, "1250.5", "{\"it\": 1250.5}\n", "1250.50"},
		{VALUE_MOMENT, "2026-12-01T12:00Z", "{\"it\": \"2026-12-01T12:00:00Z\"}\n",
	     "2026-12-01T12:00"},
		{VALUE_MOMENT, "2026-12-01", "{\"it\": \"2026-12-01\"}\n", "2026-12-01"},
		{VALUE_COUNT, "96", "{\"it\": 96}\n", "96"},
		{VALUE_YES_NO, "no", "{\"it\": false}\n", "no"},
		{VALUE_NUMBER, "4.5", "{\"it\": 4.5}\n", "4.5"},
		{VALUE_PITCH, "1/8cp", "{\"it\": \"1/8cp\"}\n", "1/8cp"},
		{VALUE_CHOICE, "Hold", "{\"it\": \"hold\"}\n", "hold"},
		{VALUE_TEXT, "a b", "{\"it\": \"a b\"}\n", "a b"},
		{VALUE_TEXT, "", "{\"it\": null}\n", ""},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		struct value value = read_value(cases[i].type, cases[i].text);
		struct answer *json = fresh(FORM_JSON);
		answer_object_open(json, NULL);
		answer_value(json, "it", &value);
		answer_object_close(json);
		assert_string_equal(answer_finish(json), cases[i].json);
		struct answer *csv = fresh(FORM_CSV);
		answer_object_open(csv, NULL);
		answer_value(csv, "it", &value);
		answer_object_close(csv);
		assert_string_equal(answer_finish(csv), arena_format(arena, "it\r\n%s\r\n", cases[i].csv));
	}
}

static void answer_value__date_far_east__same_date(void **state)
{
	(void)state;
	setenv("TZ", "Asia/Tokyo", 1);
	tzset();
	struct value value = read_value(VALUE_MOMENT, "2022-06-13");
	struct answer *json = fresh(FORM_JSON);
	answer_object_open(json, NULL);
	answer_value(json, "acquired", &value);
	answer_object_close(json);
	assert_string_equal(answer_finish(json), "{\"acquired\": \"2022-06-13\"}\n");
	unsetenv("TZ");
	tzset();
}

static void answer_value__inch_in_csv__cell_in_inches(void **state)
{
	(void)state;
	struct value value = read_value(VALUE_TOOLING, "330.2mm");
	struct answer *csv = answer_new(arena, FORM_CSV, UNITS_INCH);
	answer_object_open(csv, NULL);
	answer_value(csv, "face", &value);
	answer_object_close(csv);
	assert_string_equal(answer_finish(csv), "face\r\n13in\r\n");
	struct answer *json = answer_new(arena, FORM_JSON, UNITS_INCH);
	answer_object_open(json, NULL);
	answer_value(json, "face", &value);
	answer_object_close(json);
	assert_string_equal(answer_finish(json), "{\"face_mm\": 330.2}\n");
}

static void answer_data__in_text__says_nothing(void **state)
{
	(void)state;
	struct answer *answer = fresh(FORM_TEXT);
	struct value value = read_value(VALUE_COUNT, "1");
	fill_nested(answer);
	answer_value(answer, "it", &value);
	assert_string_equal(answer_finish(answer), "");
}

static void answer_is_whole__left_open__not(void **state)
{
	(void)state;
	static const char *const columns[] = {"tag"};
	struct answer *json = fresh(FORM_JSON);
	struct answer *text = fresh(FORM_TEXT);
	assert_true(answer_is_whole(json));
	answer_object_open(json, NULL);
	assert_false(answer_is_whole(json));
	answer_object_close(json);
	assert_true(answer_is_whole(json));
	answer_table_open(text, columns, 1);
	assert_false(answer_is_whole(text));
	answer_table_close(text);
	assert_true(answer_is_whole(text));
}

/* What stands as whole nanometres comes out as it stands, however long the web. */
static void answer_number__long_webs__to_the_nanometre(void **state)
{
	(void)state;
	for (int metres = 1; metres < 4000000; metres += 9973) {
		assert_string_equal(number_json(metres, 9), arena_format(arena, "[%d.0]\n", metres));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(answer_number__decimals__rounded_half_away),
		WITH_ARENA(answer_number__long_webs__to_the_nanometre),
		WITH_ARENA(answer_json__nested__one_line),
		WITH_ARENA(answer_json__at_a_terminal__laid_out),
		WITH_ARENA(answer_json__broken_utf_8__bytes_shown),
		WITH_ARENA(answer_csv__one_object__one_row),
		WITH_ARENA(answer_csv__array__rows_with_all_columns),
		WITH_ARENA(answer_csv__object_with_table__table),
		WITH_ARENA(answer_csv__nothing_found__no_bytes),
		WITH_ARENA(answer_value__types__keys_and_figures),
		WITH_ARENA(answer_value__date_far_east__same_date),
		WITH_ARENA(answer_value__inch_in_csv__cell_in_inches),
		WITH_ARENA(answer_data__in_text__says_nothing),
		WITH_ARENA(answer_is_whole__left_open__not),
	};
	return cmocka_run_group_tests_name("answer_data", tests, NULL, NULL);
}
