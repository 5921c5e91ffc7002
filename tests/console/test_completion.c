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
		{"help ", "rec", "receive"},
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
		{"set buildup ", "", ""},
		{"set buildup ", "d", "default"},
		{"set life_over ", "s", "short"},
		{"put A ", "a", "at="},
		{"put A at=B ", "a", ""},
		{"import cylinder ", "sh", "files |sh"},
		{"import ", "cyl", "cylinder"},
		{"show A ", "--j", "--json"},
		{"find ", "magn", "magnetic_cylinder"},
		{"find ", "ge", "gear"},
		{"find ", "line_s", "line_screen="},
		{"find ", "hand=l", "hand=left"},
		{"find pear ", "reti", "retired="},
		{"find gear teeth=96 ", "b", "back= bore="},
		{"find station ", "plates=n", "plates=none"},
		{"export ", "cyl", "cylinder"},
		{"check ", "--u", "--units="},
		{"tag ", "un", "unprinted"},
		{"tag ", "c", "changed cell= carrier="},
		{"tag unprinted ", "f", "file="},
		{"tag unprinted ", "c", "cylinder cell= carrier="},
		{"tag CHANGED ", "g", "gear"},
		{"tag changed ", "st", "stock="},
		{"tag changed gear ", "b", ""},
		{"tag actions ", "g", ""},
		{"tag A ", "symbol=d", "symbol=datamatrix"},
		{"tag A ", "file=t", "files file=|t"},
		{"tag find ", "magn", "magnetic_cylinder"},
		{"tag find ", "line_s", "line_screen="},
		{"tag FIND gear ", "s", "stock= symbol="},
		{"tag find gear cell=3 ", "b", "back= bore="},
		{"tag find gear ", "hand=l", "hand=left"},
		{"tag find gear ", "symbol=d", "symbol=datamatrix"},
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

static void completion_find__files__behind_their_key(void **state)
{
	(void)state;
	struct completion completion;
	assert_string_equal(offered("import cylinder ", "shelf/d"), "files |shelf/d");
	/* No command of this table takes file= yet where others do not: as the reader sees one. */
	completion_find(&console, arena, "put A ", "at=R", &completion);
	assert_string_equal(completion.prefix, "at=");
	assert_string_equal(completion.start, "R");
}

static void completion_hint__nothing_to_offer__what_comes_next(void **state)
{
	(void)state;
	static const struct {
		const char *before;
		const char *partial;
		const char *hint;
	} cases[] = {
		{"send PC1 at=X ", "back=",
	     "back=MOMENT  when it is due back; a bare date is the end of that day: a date such as 2026-12-01 or a moment such as "
	     "2026-12-01T14:30"},
		{"hold PC1 ", "reason=sc",
	     "reason=WORDS  why it may not run: words, in quotes where they are several"},
		{"new cylinder ", "teeth=9", "teeth=  of its gear: a whole number such as 96"},
		{"new cylinder ", "drive=x",
	     "drive=  gear fixed to it, loose gear, or none: geared, demountable or gearless"},
		{"new cylinder ",
	     "carries=", "carries=  job whose plates are on it: number or tag of a job"},
		{"new cylinder ", "nonesuch=", "new KIND key=value..."},
		{"calc repeat ", "teeth=", "teeth=  of the gear: a whole number such as 96"},
		{"set ", "nonesuch", "KEY  which; without it, all of them"},
		{"set buildup ", "",
	     "VALUE  what it is from now on; default for the default: a length such as 330mm, 13in or 1/8in"},
		{"set units ", "x",
	     "VALUE  what it is from now on; default for the default: metric or inch"},
		{"put ", "", "TAG...  the tools, by tag or other_tag"},
		{"check ", "J9", "JOB  its number or tag"},
		{"put A ", "at=X", "at=PLACE  where they are now: code or tag of a place"},
		{"tag find gear ", "teeth=9", "teeth=  number: a whole number such as 96"},
		{"tag A ", "cell=", "cell=N  first free cell of a half-used sheet"},
		{"quit ", "", "quit"},
		{"nonesuch ", "", ""},
		{"hold A reason=\"open ", "x", ""},
		{"", "zz", "help  all commands; a tag, code or number alone shows what it names"},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		const char *hint = completion_hint(&console, arena, cases[i].before, cases[i].partial);
		if (strncmp(hint, cases[i].hint, strlen(cases[i].hint)) != 0 ||
		    (cases[i].hint[0] == '\0' && hint[0] != '\0')) {
			fail_msg("%s%s: %s", cases[i].before, cases[i].partial, hint);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(completion_find__lines__words, console_setup, arena_close),
		cmocka_unit_test_setup_teardown(completion_find__files__behind_their_key, console_setup,
	                                    arena_close),
		cmocka_unit_test_setup_teardown(completion_hint__nothing_to_offer__what_comes_next,
	                                    console_setup, arena_close),
	};
	return cmocka_run_group_tests_name("completion", tests, NULL, NULL);
}
