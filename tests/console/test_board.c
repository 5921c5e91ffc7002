/* The week for people: the demo shop, and a plan of it as the joint choice could have answered. */
#include <unistd.h>

#include "common.h"
#include "console/answer.h"
#include "console/board.h"
#include "console/columns.h"
#include "toothrack/room.h"

static char folder[] = "/tmp/toothrack_board_XXXXXX";
static struct arena *shop_arena;
static struct store *store;

static struct moment at(const char *text)
{
	struct moment moment;
	assert_int_equal(moment_parse(text, &moment, NULL), OUTCOME_DONE);
	return moment;
}

static const char *path_of(const char *name)
{
	return arena_format(shop_arena, "%s/%s", folder, name);
}

static int shop_open(void **state)
{
	(void)state;
	int64_t added[KIND_COUNT];
	struct actor actor = {.login = "clerk", .terminal = "pts/3"};
	setenv("TZ", "Europe/Berlin", 1);
	shop_arena = arena_new();
	assert_non_null(mkdtemp(folder));
	actor.now = at("2026-11-27T14:05");
	assert_int_equal(store_open(path_of("shop.db"), STORE_MAKE, false, &store, &fault),
	                 OUTCOME_DONE);
	assert_int_equal(room_demo(store, shop_arena, &actor, added, &fault), OUTCOME_DONE);
	return 0;
}

static int shop_close(void **state)
{
	(void)state;
	store_close(store);
	remove(path_of("shop.db"));
	arena_free(shop_arena);
	return rmdir(folder); /* fails where something was left behind */
}

/* ---------------------------------------------------------------- a week */

static struct known_moment known(const char *text)
{
	return text == NULL ? (struct known_moment){0}
	                    : (struct known_moment){.known = true, .value = at(text)};
}

static struct ahead_job job(const char *number, const char *title, const char *press,
                            const char *from, const char *until)
{
	return (struct ahead_job){.job = number,
	                          .title = title,
	                          .state = "planned",
	                          .press = press,
	                          .from = known(from),
	                          .until = known(until),
	                          .verdict_known = from != NULL};
}

static struct ahead week_of(void)
{
	static struct ahead_job jobs[8];
	static struct ahead_shortage shortage;
	jobs[0] = job("J2601", "Quillmere pear cider 500 ml, front", "P1", "2026-11-30T06:00",
	              "2026-11-30T11:40");
	jobs[0].running = true;
	jobs[1] =
		job("J2604", "Oxbarrow oat biscuits, side", "P1", "2026-11-30T12:20", "2026-11-30T16:00");
	jobs[1].verdict = VERDICT_CAUTION;
	jobs[2] = job("J2602", "Tarnwick night cream 50 ml, wrap \u2013 \u00dcber", "P2",
	              "2026-12-01T18:00", "2026-12-03T09:15");
	jobs[2].booked = true;
	jobs[3] =
		job("J2606", "Lowgarth cold brew 1 l, wrap", NULL, "2026-12-02T06:00", "2026-12-02T09:00");
	jobs[3].verdict = VERDICT_SHORT;
	jobs[4] =
		job("J2603", "Brambleholt honey, jar lid", NULL, "2026-12-03T06:00", "2026-12-03T10:00");
	jobs[4].verdict = VERDICT_SHORT;
	jobs[5] = job("J2612", NULL, NULL, NULL, NULL);
	shortage = (struct ahead_shortage){
		.need = "anilox",
		.certain = true,
		.text = "2 stations on 2026-12-02T06:00 share 1 anilox roll: J2606 at station 3, J2602 at "
				"station 2; AN000045-3"};
	return (struct ahead){.from = at("2026-11-30"),
	                      .until = at("2026-12-07"),
	                      .jobs = jobs,
	                      .job_count = 6,
	                      .shortages = &shortage,
	                      .shortage_count = 1};
}

static struct call call_of(size_t width, const char *charset)
{
	struct call call = {.arena = arena, .store = store, .fault = &fault};
	call.now = at("2026-11-27T14:05");
	call.answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	call.answer->width = width;
	call.answer->charset = charset;
	assert_int_equal(store_limits(NULL, &call.limits, NULL), OUTCOME_DONE);
	assert_int_equal(calendar_shifts_parse("mon-fri 06:00-22:00, sat 06:00-14:00",
	                                       &call.limits.calendar, NULL),
	                 OUTCOME_DONE);
	return call;
}

static const char *said(size_t width, const char *charset)
{
	struct ahead ahead = week_of();
	struct call call = call_of(width, charset);
	assert_int_equal(board_say(&call, &ahead), OUTCOME_DONE);
	return answer_finish(call.answer);
}

/* ---------------------------------------------------------------- said */

static void board_say__80_columns__press_by_press_day_by_day(void **state)
{
	(void)state;
	assert_string_equal(
		said(80, NULL),
		"2026-W49, Mon 30 Nov to Sun 6 Dec: 6 jobs: 3 can run, 2 short, 1 not known\n"
		"closed: Sun 6 Dec\n"
		"\n"
		"P1  press 1, geared, 13 in\n"
		"  Mon 30 Nov  06:00-11:40  > J2601  runs                Quillmere pear cider...\n"
		"              12:20-16:00  ! J2604  ready with caution  Oxbarrow oat biscuits...\n"
		"  Wed 2 Dec   06:00-09:00  x J2606  short               Lowgarth cold brew 1...\n"
		"\n"
		"P2  press 2, servo, 13 1/2 in\n"
		"  Tue 1 Dec   from 18:00   + J2602  booked              Tarnwick night cream...\n"
		"  Wed 2 Dec   all day      + J2602  booked              Tarnwick night cream...\n"
		"  Thu 3 Dec   until 09:15  + J2602  booked              Tarnwick night cream...\n"
		"\n"
		"not placed\n"
		"  Thu 3 Dec   06:00-10:00  x J2603  short               Brambleholt honey, ja...\n"
		"  no time                  ? J2612  not known\n"
		"\n"
		"what is short\n"
		"  2 stations on 2026-12-02T06:00 share 1 anilox roll: J2606 at station 3, J2602\n"
		"    at station 2; AN000045-3\n");
}

static void assert_no_line_wider(const char *text, size_t width)
{
	while (*text != '\0') {
		size_t length = strcspn(text, "\n");
		if (text_columns_of(text, length) > width) {
			fail_msg("%.*s", (int)length, text);
		}
		text += length + (text[length] == '\n');
	}
}

static void board_say__any_width__no_line_wider(void **state)
{
	(void)state;
	for (size_t width = 54; width < 140; width++) {
		const char *text = said(width, NULL);
		assert_no_line_wider(text, width);
		assert_int_equal(strstr(text, "Oxba") != NULL, width >= 64);
	}
	for (size_t width = 1; width < 54; width++) { /* verdicts wrap, nothing is lost */
		assert_non_null(strstr(said(width, NULL), "J2612"));
	}
	assert_non_null(strstr(said(0, NULL), "Quillmere pear cider 500 ml, front\n"));
	assert_non_null(strstr(said(140, NULL), "Quillmere pear cider 500 ml, front\n"));
}

static void board_say__ascii_terminal__the_same_signs_no_wider(void **state)
{
	(void)state;
	const char *text = said(80, "ANSI_X3.4-1968");
	for (const char *c = text; *c != '\0'; c++) {
		assert_true((unsigned char)*c < 0x80);
	}
	assert_no_line_wider(text, 80);
	assert_non_null(strstr(text, "x J2606  short"));
}

static void board_say__nothing_planned__says_so(void **state)
{
	(void)state;
	struct ahead ahead = {.from = at("2026-11-30"), .until = at("2026-12-07")};
	struct call call = call_of(80, NULL);
	assert_int_equal(board_say(&call, &ahead), OUTCOME_DONE);
	assert_string_equal(answer_finish(call.answer),
	                    "2026-W49, Mon 30 Nov to Sun 6 Dec: nothing planned\n"
	                    "closed: Sun 6 Dec\n"
	                    "\n"
	                    "P1  press 1, geared, 13 in  nothing planned\n"
	                    "\n"
	                    "P2  press 2, servo, 13 1/2 in  nothing planned\n");
}

/* ---------------------------------------------------------------- drawn */

static void board_file__svg__the_same_jobs_and_verdicts(void **state)
{
	(void)state;
	struct ahead ahead = week_of();
	struct call call = call_of(200, NULL);
	const char *path = path_of("week.svg");
	assert_int_equal(board_file(&call, &ahead, path), OUTCOME_DONE);
	assert_string_equal(answer_finish(call.answer),
	                    arena_format(arena, "week 2026-W49 written to %s, 1 page\n", path));
	FILE *file = fopen(path, "rb");
	assert_non_null(file);
	char *svg = arena_take(arena, 1000000, 1);
	assert_true(fread(svg, 1, 999999, file) > 0);
	fclose(file);
	static const char *const texts[] = {"Week 2026-W49",
	                                    "6 jobs: 3 can run, 2 short, 1 not known",
	                                    "J2601",
	                                    "06:00-11:40",
	                                    "runs",
	                                    "ready with caution",
	                                    "booked",
	                                    "from 18:00",
	                                    "all day",
	                                    "until 09:15",
	                                    "short",
	                                    "not placed",
	                                    "no time",
	                                    "not known",
	                                    "Oxbarrow oat",
	                                    "Brambleholt",
	                                    "What is short",
	                                    "closed",
	                                    "as on record at 2026-11-27T14:05"};
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		if (strstr(svg, arena_format(arena, ">%s", texts[i])) == NULL) {
			fail_msg("not there: %s", texts[i]);
		}
	}
	assert_int_equal(remove(path), 0);
}

static void board_file__another_ending__refused(void **state)
{
	(void)state;
	static const char *const names[] = {"week.png", "week", "week.txt", ".pdf"};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		struct ahead ahead = week_of();
		struct call call = call_of(80, NULL);
		fault_clear(&fault);
		assert_int_equal(board_file(&call, &ahead, names[i]), OUTCOME_BAD);
		assert_string_equal(fault.sentence,
		                    arena_format(arena, "file has no ending that a board is drawn in: %s",
		                                 names[i]));
		assert_string_equal(fault.hint, "Name a file ending in .pdf or .svg.");
		assert_string_equal(answer_finish(call.answer), "");
	}
}

static void board_file__no_such_folder__refused_and_nothing_said(void **state)
{
	(void)state;
	struct ahead ahead = week_of();
	struct call call = call_of(80, NULL);
	const char *path = path_of("none/week.pdf");
	assert_int_equal(board_file(&call, &ahead, path), OUTCOME_BAD);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "folder of the file not found: %s", path));
	assert_string_equal(answer_finish(call.answer), "");
}

/*
 * For the sanitizer: what fontconfig keeps until the end it does not give back. Not of the house's
 * style, but the sanitizer asks for this name.
 */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
	return "leak:libfontconfig.so";
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(board_say__80_columns__press_by_press_day_by_day),
		WITH_ARENA(board_say__any_width__no_line_wider),
		WITH_ARENA(board_say__ascii_terminal__the_same_signs_no_wider),
		WITH_ARENA(board_say__nothing_planned__says_so),
		WITH_ARENA(board_file__svg__the_same_jobs_and_verdicts),
		WITH_ARENA(board_file__another_ending__refused),
		WITH_ARENA(board_file__no_such_folder__refused_and_nothing_said),
	};
	return cmocka_run_group_tests(tests, shop_open, shop_close);
}
