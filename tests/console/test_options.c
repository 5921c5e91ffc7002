#include "common.h"
#include "console/options.h"
#include "console/words.h"

static struct options options;

/* Takes the options out of a line; what is left, with blanks between. */
static const char *left(const char *line, bool in_line, enum outcome expected)
{
	struct word *words = NULL;
	size_t count = 0;
	struct text text = text_start(arena);
	options = (struct options){0};
	fault_clear(&fault);
	assert_int_equal(words_split(arena, line, &words, &count, &fault), OUTCOME_DONE);
	assert_int_equal(options_take(words, &count, in_line, &options, &fault), expected);
	for (size_t i = 0; expected == OUTCOME_DONE && i < count; i++) {
		text_join(&text, " ", words[i].text);
	}
	return text.bytes;
}

static void options_take__before_and_behind__taken(void **state)
{
	(void)state;
	assert_string_equal(left("--db a.db find --json teeth=96 --units=inch", false, OUTCOME_DONE),
	                    "find teeth=96");
	assert_string_equal(options.db, "a.db");
	assert_int_equal(options.form, FORM_JSON);
	assert_true(options.units_given);
	assert_int_equal(options.units, UNITS_INCH);
	assert_string_equal(left("--db=a=b.db --csv --as 17 --units METRIC x", false, OUTCOME_DONE),
	                    "x");
	assert_string_equal(options.db, "a=b.db");
	assert_string_equal(options.as, "17");
	assert_int_equal(options.form, FORM_CSV);
	assert_int_equal(options.units, UNITS_METRIC);
	assert_string_equal(left("--help put", false, OUTCOME_DONE), "put");
	assert_true(options.help);
	assert_string_equal(left("--version", false, OUTCOME_DONE), "");
	assert_true(options.version);
	assert_string_equal(left("show -- --json", false, OUTCOME_DONE), "show --json");
	assert_int_equal(options.form, FORM_TEXT);
	assert_string_equal(left("put - -5mm", false, OUTCOME_DONE), "put - -5mm");
	assert_string_equal(left("show A --json --json", false, OUTCOME_DONE), "show A");
}

static void options_take__wrong__refused(void **state)
{
	(void)state;
	static const struct {
		const char *line;
		bool in_line;
		const char *sentence;
		const char *hint;
	} cases[] = {
		{"--jsn", false, "option not known: --jsn", "Type --json, or --help for all options."},
		{"-j", false, "option not known: -j", "Type --help for all options."},
		{"--", true, "", ""},
		{"--json --csv", false, "options exclude each other: --json and --csv",
	     "Type one of them."},
		{"--units furlong", false, "units not known: furlong",
	     "Type --units metric or --units inch."},
		{"--units", false, "option lacks its value: --units", "Type --units UNITS."},
		{"--db=", false, "option lacks its value: --db", "Type --db FILE."},
		{"--json=yes", false, "option takes no value: --json=yes", "Type --json."},
		{"--db x", true, "option of the program, not of a line: --db",
	     "Leave, and type toothrack --db FILE."},
		{"--version", true, "option of the program, not of a line: --version",
	     "Leave, and type toothrack --version."},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		bool wrong = cases[i].sentence[0] != '\0';
		left(cases[i].line, cases[i].in_line, wrong ? OUTCOME_BAD : OUTCOME_DONE);
		assert_string_equal(fault.sentence, cases[i].sentence);
		assert_string_equal(fault.hint, cases[i].hint);
	}
}

static const char *shop_file(const char *db)
{
	const char *path = NULL;
	struct options told = {.db = db};
	assert_int_equal(options_shop_file(arena, &told, &path, &fault), OUTCOME_DONE);
	return path;
}

static void options_shop_file__environment__in_order(void **state)
{
	(void)state;
	setenv("HOME", "/home/x", 1);
	unsetenv("TOOTHRACK_DB");
	unsetenv("XDG_DATA_HOME");
	assert_string_equal(shop_file(NULL), "/home/x/.local/share/toothrack/shop.db");
	setenv("XDG_DATA_HOME", "relative", 1);
	assert_string_equal(shop_file(NULL), "/home/x/.local/share/toothrack/shop.db");
	setenv("XDG_DATA_HOME", "/data", 1);
	assert_string_equal(shop_file(NULL), "/data/toothrack/shop.db");
	setenv("TOOTHRACK_DB", "b.db", 1);
	assert_string_equal(shop_file(NULL), "b.db");
	assert_string_equal(shop_file("a.db"), "a.db");
	setenv("TOOTHRACK_DB", "", 1);
	assert_string_equal(shop_file(NULL), "/data/toothrack/shop.db");
}

static void options_clock__environment__read(void **state)
{
	(void)state;
	struct known_moment clock;
	unsetenv("TOOTHRACK_NOW");
	assert_int_equal(options_clock(&clock, &fault), OUTCOME_DONE);
	assert_false(clock.known);
	setenv("TOOTHRACK_NOW", "2026-12-01T08:00:00Z", 1);
	assert_int_equal(options_clock(&clock, &fault), OUTCOME_DONE);
	assert_true(clock.known);
	assert_string_equal(moment_text_utc(clock.value).bytes, "2026-12-01T08:00:00Z");
	setenv("TOOTHRACK_NOW", "noon", 1);
	assert_int_equal(options_clock(&clock, &fault), OUTCOME_BAD);
	assert_memory_equal(fault.sentence, "TOOTHRACK_NOW: ", 15);
	assert_string_not_equal(fault.hint, "");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(options_take__before_and_behind__taken),
		WITH_ARENA(options_take__wrong__refused),
		WITH_ARENA(options_shop_file__environment__in_order),
		WITH_ARENA(options_clock__environment__read),
	};
	return cmocka_run_group_tests_name("options", tests, NULL, NULL);
}
