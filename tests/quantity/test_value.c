#include "expected.h"

static const char *const drives[] = {"geared", "demountable", "gearless", NULL};
static const char *const processes[] = {"flexo", "cold_foil", "hot_foil", "rotary_screen", NULL};

static int arena_set_up(void **state)
{
	setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3", 1);
	tzset();
	*state = arena_new();
	return 0;
}

static int arena_take_down(void **state)
{
	arena_free(*state);
	return 0;
}

static const char *const *choices_of(enum value_type type)
{
	return type == VALUE_CHOICE ? drives : type == VALUE_CHOICES ? processes : NULL;
}

static struct value value_given(struct arena *arena, enum value_type type, const char *unit,
                                const char *typed)
{
	struct fault fault;
	struct value value;
	fault_clear(&fault);
	assert_done(value_parse(arena, "attribute", type, choices_of(type), unit, typed, &value,
	                        &fault),
	            typed, &fault);
	return value;
}

static const struct {
	enum value_type type;
	const char *unit;
	const char *typed;
	const char *metric;
	const char *inch;
} shown[] = {
	{VALUE_TEXT, NULL, "  Sch\u00f6n, \"glatt\" ", "Sch\u00f6n, \"glatt\"",
     "Sch\u00f6n, \"glatt\""},
	{VALUE_TEXT, NULL, "two\nlines\tand a tab", "two\nlines\tand a tab", "two\nlines\tand a tab"},
	{VALUE_COUNT, NULL, "96", "96", "96"},
	{VALUE_TOOLING, NULL, "13in", "330.2mm", "13in"},
	{VALUE_TOOLING, "mm", "330", "330mm", "12.992126in"},
	{VALUE_TOOLING, "mm", "13in", "330.2mm", "13in"},
	{VALUE_TOOLING, "in", "12 1/2", "317.5mm", "12.5in"},
	{VALUE_TOOLING, "um", "480", "0.48mm", "0.01889764in"},
	{VALUE_WEB, "m", "12.192", "12.192m", "40ft"},
	{VALUE_WEB, "ft", "40", "12.192m", "40ft"},
	{VALUE_CELL, "um", "5", "5um", "5um"},
	{VALUE_VOLUME, "bcm", "4.3", "6.665013cm3/m2", "4.3bcm"},
	{VALUE_VOLUME, "cm3_m2", "6.7", "6.7cm3/m2", "4.322572bcm"},
	{VALUE_ACROSS, "cm3_m2", "6.2/6.4/6.1", "6.2/6.4/6.1cm3/m2", "3.999992/4.129024/3.935476bcm"},
	{VALUE_ACROSS, "cm3_m2", "4/4/4bcm", "6.200012/6.200012/6.200012cm3/m2", "4/4/4bcm"},
	{VALUE_SCREEN, "lpi", "360", "141.732/cm", "360lpi"},
	{VALUE_SCREEN, "per_cm", "140", "140/cm", "355.6lpi"},
	{VALUE_PITCH, "cp", "0.125", "1/8cp", "1/8cp"},
	{VALUE_PITCH, "mmcp", "5", "5mmcp", "5mmcp"},
	{VALUE_PITCH, "dp", "10", "10dp", "10dp"},
	{VALUE_PITCH, "dp", "m1.5", "m1.5", "m1.5"},
	{VALUE_PITCHES, NULL, "1/8cp", "1/8cp", "1/8cp"},
	{VALUE_PITCHES, NULL, "m2; 1/4cp,1/8cp , 0.125CP,", "1/8cp,1/4cp,m2", "1/8cp,1/4cp,m2"},
	{VALUE_PITCHES, "cp", "1/4;1/8;10dp", "1/8cp,1/4cp,10dp", "1/8cp,1/4cp,10dp"},
	{VALUE_PITCHES, NULL, "1 1/8cp", "9/8cp", "9/8cp"},
	{VALUE_WEIGHT, "lb", "40", "18.1436948kg", "40lb"},
	{VALUE_WEIGHT, "kg", "18", "18kg", "39.683207193lb"},
	{VALUE_AREA, "in2", "4", "25.8064cm2", "4in2"},
	{VALUE_LIQUID, "ul", "12", "12ul", "12ul"},
	{VALUE_ANGLE, "deg", "-14.5", "-14.5deg", "-14.5deg"},
	{VALUE_SPEED, "m_min", "100.584", "100.584m/min", "330ft/min"},
	{VALUE_SPEED, "ft_min", "330", "100.584m/min", "330ft/min"},
	{VALUE_DURATION, "s", "5400", "90min", "90min"},
	{VALUE_PERCENT, "percent", "-10", "-10%", "-10%"},
	{VALUE_MONEY, NULL, "1250", "1250.00", "1250.00"},
	{VALUE_MOMENT, NULL, "2026-12-01", "2026-12-01", "2026-12-01"},
	{VALUE_MOMENT, NULL, "2026-12-01T14:30Z", "2026-12-01T15:30", "2026-12-01T15:30"},
	{VALUE_CHOICE, NULL, " GEARED ", "geared", "geared"},
	{VALUE_CHOICES, NULL, "hot_foil;Flexo, flexo", "flexo,hot_foil", "flexo,hot_foil"},
	{VALUE_WORDS, NULL, "Wide bearer, B7;a1 ,b7", "a1,b7,wide bearer", "a1,b7,wide bearer"},
	{VALUE_YES_NO, NULL, "YES", "yes", "yes"},
	{VALUE_YES_NO, NULL, "y", "yes", "yes"},
	{VALUE_YES_NO, NULL, "n", "no", "no"},
	{VALUE_NUMBER, NULL, "0.28", "0.28", "0.28"},
	{VALUE_NUMBER, NULL, "-5", "-5", "-5"},
	{VALUE_NUMBER, NULL, "-0", "0", "0"},
	{VALUE_NUMBER, NULL, "1/3", "0.333333333333", "0.333333333333"},
	{VALUE_NUMBER, NULL, "1000000000000000", "1000000000000000", "1000000000000000"},
};

static void value_parse__as_typed__shown_and_re_entered(void **state)
{
	for (size_t i = 0; i < COUNT_OF(shown); i++) {
		struct value value = value_given(*state, shown[i].type, shown[i].unit, shown[i].typed);
		assert_true(value.known);
		assert_int_equal(value.type, shown[i].type);
		const char *metric = value_text(*state, &value, UNITS_METRIC);
		const char *inch = value_text(*state, &value, UNITS_INCH);
		assert_string_equal(metric, shown[i].metric);
		assert_string_equal(inch, shown[i].inch);
		struct value from_metric = value_given(*state, shown[i].type, NULL, metric);
		struct value from_inch = value_given(*state, shown[i].type, NULL, inch);
		assert_true(value_equal(&value, &from_metric));
		assert_true(value_equal(&value, &from_inch));
	}
}

#define UNKNOWN_DRIVE "geared, demountable or gearless."
#define PITCH_LIKE "Type a pitch such as 1/8cp, 5mmcp, 10dp or m1.5"

static const struct {
	enum value_type type;
	const char *unit;
	struct refusal refusal;
} refusals[] = {
	{VALUE_TEXT,
     NULL,
     {"a\x1b[2Jb", "attribute with a control character: a\\x1b[2Jb",
      "Type it without: of these only newline and TAB are kept."}},
	{VALUE_TEXT,
     NULL,
     {"a\rb", "attribute with a control character: a\\x0db",
      "Type it without: of these only newline and TAB are kept."}},
	{VALUE_TEXT,
     NULL,
     {"a\x7f", "attribute with a control character: a\\x7f",
      "Type it without: of these only newline and TAB are kept."}},
	{VALUE_TEXT,
     NULL,
     {"a\xc2\x9b", "attribute with a control character: a\\xc2\\x9b",
      "Type it without: of these only newline and TAB are kept."}},
	{VALUE_TEXT,
     NULL,
     {"caf\xe9", "attribute not in UTF-8: caf\\xe9", "Save the text as UTF-8, or type it anew."}},
	{VALUE_TEXT,
     NULL,
     {"\xc0\xaf", "attribute not in UTF-8: \\xc0\\xaf",
      "Save the text as UTF-8, or type it anew."}},
	{VALUE_TEXT,
     NULL,
     {"\xed\xa0\x80", "attribute not in UTF-8: \\xed\\xa0\\x80",
      "Save the text as UTF-8, or type it anew."}},
	{VALUE_TEXT,
     NULL,
     {"\xe2\x82", "attribute not in UTF-8: \\xe2\\x82",
      "Save the text as UTF-8, or type it anew."}},
	{VALUE_WORDS,
     NULL,
     {"a,\x01", "attribute with a control character: a,\\x01",
      "Type it without: of these only newline and TAB are kept."}},
	{VALUE_WORDS,
     NULL,
     {" , ;", "attribute without a word: , ;", "Type one word, or several with commas between."}},
	{VALUE_COUNT, NULL, {"-1", "attribute is less than 0: -1", "Type a whole number, 0 or more."}},
	{VALUE_TOOLING, NULL, {"330", "attribute without a unit: 330", "Type 330mm or 330in."}},
	{VALUE_TOOLING,
     "mm",
     {"-3", "attribute is less than nothing: -3", "Type a length such as 330mm, 13in or 1/8in."}},
	{VALUE_TOOLING,
     "mm",
     {"9223372036855m", "attribute too large: 9223372036855m",
      "Type at most 9223372036.854775807m."}},
	{VALUE_TOOLING,
     "bcm",
     {"3", "unit of attribute not known: bcm", "Type a length such as 330mm, 13in or 1/8in."}},
	{VALUE_MONEY,
     "mm",
     {"3", "unit of attribute not known: mm", "Type an amount such as 1250.00."}},
	{VALUE_WEB, NULL, {"12.5", "attribute without a unit: 12.5", "Type 12.5m or 12.5ft."}},
	{VALUE_WEB,
     NULL,
     {"-1m", "attribute is less than nothing: -1m", "Type a length of web such as 12.5m or 40ft."}},
	{VALUE_CELL, NULL, {"5", "attribute without a unit: 5", "Type 5um or 5mm."}},
	{VALUE_CELL,
     NULL,
     {"mm", "attribute without a number: mm", "Type a small length such as 480um or 0.48mm."}},
	{VALUE_VOLUME,
     NULL,
     {"-1bcm", "attribute is less than nothing: -1bcm",
      "Type a volume such as 6.7cm3/m2 or 4.3bcm."}},
	{VALUE_ACROSS,
     "bcm",
     {"1/2", "attribute is not three volumes: 1/2",
      "Type left, centre and right: three volumes such as 6.2/6.4/6.1cm3/m2."}},
	{VALUE_SCREEN, NULL, {"360", "attribute without a unit: 360", "Type 360/cm or 360lpi."}},
	{VALUE_PITCH,
     "cp",
     {"5mm", "attribute is ambiguous: 5mm", "Type 5mmcp for a circular pitch or m5 for a module."}},
	{VALUE_PITCHES,
     NULL,
     {"1/8cp,5mm", "attribute is ambiguous: 5mm",
      "Type 5mmcp for a circular pitch or m5 for a module."}},
	{VALUE_PITCHES,
     NULL,
     {"1/8cp 1/4cp", "unit of attribute not known: 1/8cp 1/4cp",
      PITCH_LIKE ", with a comma between several."}},
	{VALUE_PITCHES,
     NULL,
     {";", "attribute without a word: ;", "Type one word, or several with commas between."}},
	{VALUE_PITCHES,
     NULL,
     {"0,125cp", "attribute without a unit: 0", "Type 0cp, 0mmcp, 0dp or m0."}},
	{VALUE_WEIGHT,
     NULL,
     {"-1kg", "attribute is less than nothing: -1kg", "Type a weight such as 18kg or 40lb."}},
	{VALUE_MONEY,
     NULL,
     {"-1", "attribute is less than nothing: -1", "Type an amount such as 1250.00."}},
	{VALUE_MOMENT,
     NULL,
     {"soon", "attribute is no date or moment: soon",
      "Type a date such as 2026-12-01 or a moment such as 2026-12-01T14:30."}},
	{VALUE_CHOICE,
     NULL,
     {"gaered", "attribute not known: gaered", "Type geared; it may be " UNKNOWN_DRIVE}},
	{VALUE_CHOICE, NULL, {"steam", "attribute not known: steam", "Type " UNKNOWN_DRIVE}},
	{VALUE_CHOICE,
     NULL,
     {"geared,gearless", "attribute not known: geared,gearless", "Type " UNKNOWN_DRIVE}},
	{VALUE_CHOICES,
     NULL,
     {"flexo,hot-foil", "attribute not known: hot-foil",
      "Type hot_foil; it may be flexo, cold_foil, hot_foil or rotary_screen."}},
	{VALUE_CHOICES,
     NULL,
     {",", "attribute without a word: ,", "Type one word, or several with commas between."}},
	{VALUE_YES_NO, NULL, {"maybe", "attribute is neither yes nor no: maybe", "Type yes or no."}},
	{VALUE_NUMBER,
     NULL,
     {"5%", "attribute with something beside the number: 5%", "Type the number alone, 5."}},
	{VALUE_NUMBER,
     NULL,
     {"nan", "attribute without a number: nan", "Type a number such as 5 or 0.28."}},
	{VALUE_NUMBER,
     NULL,
     {"1e3", "attribute with an exponent: 1e3",
      "Type a number such as 5 or 0.28, the digits in full."}},
	{VALUE_NUMBER,
     NULL,
     {"1000000000000001", "attribute too large: 1000000000000001",
      "Type a number between -1000000000000000 and 1000000000000000."}},
};

static void value_parse__not_of_the_type__refused_by_name(void **state)
{
	for (size_t i = 0; i < COUNT_OF(refusals); i++) {
		struct fault fault;
		struct value value = {.type = VALUE_TEXT, .known = true, .text = "as it was"};
		enum value_type type = refusals[i].type;
		fault_clear(&fault);
		enum outcome outcome =
			value_parse(*state, "attribute", type, choices_of(type), refusals[i].unit,
		                refusals[i].refusal.typed, &value, &fault);
		assert_refused(outcome, &refusals[i].refusal, &fault);
		assert_string_equal(value.text, "as it was");
	}
}

static void value_parse__long_word__quoted_and_refused(void **state)
{
	char word[3000];
	struct fault fault;
	struct value value;
	memset(word, 'x', sizeof word - 1);
	word[sizeof word - 1] = '\0';
	fault_clear(&fault);
	assert_int_equal(value_parse(*state, "drive", VALUE_CHOICE, drives, NULL, word, &value, &fault),
	                 OUTCOME_BAD);
	assert_memory_equal(fault.sentence, "drive not known: xxx", 20);
	assert_string_equal(fault.hint, "Type geared, demountable or gearless.");
}

static void value_parse__blank__not_known(void **state)
{
	static const char *const blanks[] = {"", "  ", "\t\r\n", NULL};
	for (int type = VALUE_TEXT; type <= VALUE_NUMBER; type++) {
		for (size_t i = 0; i < COUNT_OF(blanks); i++) {
			struct value value = value_given(*state, (enum value_type)type, NULL, blanks[i]);
			assert_false(value.known);
			assert_int_equal(value.type, type);
			assert_string_equal(value_text(*state, &value, UNITS_METRIC), "");
		}
	}
}

/* Each unit that a heading may carry is one that a bare number is read in. */
static void value_heading_units__each__reads_a_bare_number(void **state)
{
	for (int type = VALUE_TEXT; type <= VALUE_NUMBER; type++) {
		const char *bare = type == VALUE_ACROSS ? "1/1/1" : "1";
		const char *const *unit = value_heading_units((enum value_type)type);
		for (; *unit != NULL; unit++) {
			assert_true(value_given(*state, (enum value_type)type, *unit, bare).known);
		}
	}
	assert_null(value_heading_units(VALUE_TEXT)[0]);
	assert_null(value_heading_units(VALUE_MONEY)[0]);
	assert_null(value_heading_units(VALUE_NUMBER)[0]);
	assert_string_equal(value_heading_units(VALUE_TOOLING)[0], "mm");
}

static void value_spelling__each_type__in_words(void **state)
{
	(void)state;
	for (int type = VALUE_TEXT; type <= VALUE_NUMBER; type++) {
		assert_non_null(value_spelling((enum value_type)type));
	}
	assert_string_equal(value_spelling(VALUE_TOOLING), "a length such as 330mm, 13in or 1/8in");
	assert_string_equal(value_spelling(VALUE_SCREEN), "a screen such as 140/cm or 360lpi");
}

static void value_equal__same_quantity__equal(void **state)
{
	static const struct {
		enum value_type type;
		const char *a;
		const char *b;
		bool equal;
	} rows[] = {
		{VALUE_TOOLING, "25.4mm", "1in", true},
		{VALUE_TOOLING, "25.4mm", "25.400001mm", false},
		{VALUE_TOOLING, "25.4mm", "", false},
		{VALUE_TOOLING, "", "", true},
		{VALUE_SCREEN, "360lpi", "141.732/cm", true},
		{VALUE_SCREEN, "360lpi", "141.733/cm", false},
		{VALUE_PITCH, "1/8cp", "3.175mmcp", true},
		{VALUE_PITCH, "m1", "25.4dp", false},
		{VALUE_PITCHES, "1/8cp,1/4cp", "1/4cp,1/8cp", true},
		{VALUE_ACROSS, "1/2/3bcm", "1/2/3bcm", true},
		{VALUE_ACROSS, "1/2/3bcm", "3/2/1bcm", false},
		{VALUE_ACROSS, "1/2/3bcm", "1/2/4bcm", false},
		{VALUE_MOMENT, "2026-12-01", "2026-12-01", true},
		{VALUE_MOMENT, "2026-12-01", "2026-12-01T00:00", false},
		{VALUE_MOMENT, "2026-12-01T01:00", "2026-12-01T00:00Z", true},
		{VALUE_WORDS, "b,A", "a,b", true},
		{VALUE_TEXT, "a", "A", false},
		{VALUE_COUNT, "5", "5", true},
		{VALUE_COUNT, "5", "6", false},
		{VALUE_YES_NO, "yes", "y", true},
		{VALUE_YES_NO, "yes", "no", false},
		{VALUE_NUMBER, "0.5", "1/2", true},
		{VALUE_NUMBER, "0.5", "0.6", false},
		{VALUE_MONEY, "5", "5.00", true},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct value a = value_given(*state, rows[i].type, NULL, rows[i].a);
		struct value b = value_given(*state, rows[i].type, NULL, rows[i].b);
		if (value_equal(&a, &b) != rows[i].equal) {
			fail_msg("%s and %s", rows[i].a, rows[i].b);
		}
	}
	struct value tooling = value_given(*state, VALUE_TOOLING, NULL, "1m");
	struct value web = value_given(*state, VALUE_WEB, NULL, "1m");
	assert_false(value_equal(&tooling, &web));
}

static void value_to_stored__and_back__the_same_value(void **state)
{
	static const struct {
		enum value_type type;
		const char *typed;
		int64_t number;
	} rows[] = {
		{VALUE_COUNT, "96", 96},
		{VALUE_YES_NO, "yes", 1},
		{VALUE_YES_NO, "no", 0},
		{VALUE_TOOLING, "1/8in", 3175000},
		{VALUE_WEB, "12.5m", 12500000000},
		{VALUE_CELL, "5um", 5000},
		{VALUE_VOLUME, "4.3bcm", 6665013},
		{VALUE_WEIGHT, "18kg", 18000000000},
		{VALUE_AREA, "25cm2", 2500000000},
		{VALUE_LIQUID, "12ul", 12000000},
		{VALUE_ANGLE, "-60deg", -60000000},
		{VALUE_SPEED, "100m/min", 100000000000},
		{VALUE_DURATION, "90min", 5400},
		{VALUE_PERCENT, "10%", 100000},
		{VALUE_MONEY, "1250.00", 125000},
		{VALUE_MOMENT, "1970-01-02T00:00Z", 86400},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct value value = value_given(*state, rows[i].type, NULL, rows[i].typed);
		assert_int_equal(value_to_stored(&value), rows[i].number);
		struct value back = value_from_stored(rows[i].type, rows[i].number);
		assert_true(value_equal(&value, &back));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(value_parse__as_typed__shown_and_re_entered),
		cmocka_unit_test(value_parse__not_of_the_type__refused_by_name),
		cmocka_unit_test(value_parse__long_word__quoted_and_refused),
		cmocka_unit_test(value_parse__blank__not_known),
		cmocka_unit_test(value_heading_units__each__reads_a_bare_number),
		cmocka_unit_test(value_spelling__each_type__in_words),
		cmocka_unit_test(value_equal__same_quantity__equal),
		cmocka_unit_test(value_to_stored__and_back__the_same_value),
	};
	return cmocka_run_group_tests_name("quantity/value", tests, arena_set_up, arena_take_down);
}
