#include "common.h"
#include "console/completion.h"

static struct console console;

static int console_setup(void **state)
{
	console = (struct console){.path = "/nonexistent/shop.db"};
	return arena_open(state);
}

/* What Tab offers at the end of a line whose last word is `partial`, with blanks between. */
static const char *offered(const char *before, const char *partial)
{
	struct completion completion;
	struct text text = text_start(arena);
	completion_find(&console, arena, before, partial, &completion);
	if (completion.files) {
		text_add_format(&text, "files %s|%s", completion.prefix, completion.start);
	}
	for (size_t i = 0; i < completion.count; i++) {
		text_join(&text, " ", completion.words[i]);
	}
	return text.bytes;
}

static void completion_find__lines__words(void **state)
{
	(void)state;
	static const struct {
		const char *before;
		const char *partial;
		const char *words;
	} cases[] = {
		{"", "rec", "receive"},
		{"", "CH", "check choices"},
		{"  ", "q", "quit"},
		{"", "nonesuch", ""},
		{"nonesuch ", "a", ""},
		{"help ", "re", "receive"},
		{"calc ", "dis", "distortion"},
		{"calc repeat ", "", "teeth= pitch="},
		{"calc repeat teeth=96 ", "", "pitch="},
		{"calc distortion ", "sleeve=", "sleeve=yes sleeve=no"},
		{"calc repeat ", "teeth=", ""},
		{"new ", "magn", "magnetic_cylinder"},
		{"new blade ", "mat", "material="},
		{"new blade ", "material=", "material=steel material=coated material=polymer"},
		{"new blade ", "material=S", "material=steel"},
		{"new job ", "shape=c", "shape=circle"},
		{"new station ", "register=", "register=yes register=no"},
		{"new place sort=store ", "processes=flexo,cold", "processes=flexo,cold_foil"},
		{"set ", "buildu", "buildup"},
		{"set units ", "", "metric inch default"},
		{"set life_over ", "s", "short"},
		{"put A ", "a", "at="},
		{"put A at=B ", "a", ""},
		{"import cylinder ", "sh", "files |sh"},
		{"import ", "cyl", "cylinder"},
		{"show A ", "--j", "--json"},
		{"check ", "--u", "--units="},
		{"--json ca", "", ""},
		{"--json ", "cal", "calc"},
		{"hold A reason=\"not ", "x", ""},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		const char *words = offered(cases[i].before, cases[i].partial);
		if (strcmp(words, cases[i].words) != 0) {
			fail_msg("%s%s: %s", cases[i].before, cases[i].partial, words);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(completion_find__lines__words, console_setup, arena_close),
	};
	return cmocka_run_group_tests_name("completion", tests, NULL, NULL);
}
