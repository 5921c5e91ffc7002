/* Plots in the terminal, compared whole: by braille and by ASCII, narrow and awkward. */
#include <locale.h>
#include <math.h>

#include "common.h"
#include "console/answer.h"
#include "console/columns.h"
#include "console/plot_text.h"

/* A roll that wears from 7.2 to 6.1 cm3/m2 over 9 million m; all of it is invented. */
static struct plot_face wear_face(void)
{
	static const struct plot_point clean[] = {{0, 7.2},  {1.5, 7.05}, {3, 6.8}, {4.5, 6.66},
	                                          {6, 6.45}, {7.5, 6.3},  {9, 6.08}};
	static const struct plot_point run[] = {{1.4, 6.6}, {2.9, 6.4}, {4.4, 6.3}, {5.9, 6.0}};
	static const struct plot_point trend[] = {{0, 7.2}, {9, 6.1}};
	static const struct plot_point forecast[] = {{9, 6.1}, {11.8, 5.76}};
	static const struct plot_point limit[] = {{0, 5.76}, {13, 5.76}};
	static const double x[] = {0, 4.5, 13}, least[] = {7.1, 6.6, 5.4}, most[] = {7.3, 6.7, 5.8};
	static const struct plot_series series[] = {{"read after cleaning", PLOT_DISC, clean, 7},
	                                            {"read after a run", PLOT_RING, run, 4}};
	static const struct plot_line lines[] = {{"trend", PLOT_SOLID, trend, 2},
	                                         {"forecast", PLOT_DOTTED, forecast, 2},
	                                         {"limit 5.76", PLOT_DASHED, limit, 2}};
	static const struct plot_band band = {"90 % band", x, least, most, 3};
	static const struct plot_event cleaned[] = {{1.45}, {2.95}, {4.45}, {5.95}};
	return (struct plot_face){
		.across = {.name = "web run, million m"},
		.up = {.name = "volume, cm3/m2"},
		.series = series,
		.series_count = 2,
		.lines = lines,
		.line_count = 3,
		.bands = &band,
		.band_count = 1,
		.events_name = "cleaned",
		.events = cleaned,
		.event_count = 4,
	};
}

static const char *drawn(const struct plot_face *face, size_t width, bool braille,
                         const char *charset)
{
	const struct plot_shape shape = {.width = width, .braille = braille, .charset = charset};
	struct plot_lines lines = plot_text(arena, face, &shape);
	struct text text = text_start(arena);
	for (size_t i = 0; i < lines.count; i++) {
		size_t length = strlen(lines.lines[i]);
		if (text_columns(lines.lines[i]) > width && width >= 24) {
			fail_msg("wider than %zu: %s", width, lines.lines[i]);
		}
		assert_true(length == 0 || lines.lines[i][length - 1] != ' ');
		text_add_format(&text, "%s\n", lines.lines[i]);
	}
	return text.bytes;
}

static size_t count_of(const char *text, const char *part)
{
	size_t count = 0;
	for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part)) {
		count++;
	}
	return count;
}

/* ---------------------------------------------------------------- pictures */

static void plot_text__braille__as_drawn(void **state)
{
	(void)state;
	struct plot_face face = wear_face();
	assert_string_equal(drawn(&face, 72, true, NULL),
	                    "● read after cleaning  ○ read after a run  ⠤⠤⠤⠤⠤ trend  ⠄⠄⠄⠄⠄ forecast\n"
	                    "⠤⠤ ⠤⠤ limit 5.76  ⢁⠔⢁⠔⢁ 90 % band  ▲ cleaned\n"
	                    "volume, cm3/m2\n"
	                    "   │ ⠄⢀\n"
	                    "   │●⠒⢒⠤⢅⣐⡀●⢀\n"
	                    "7.0┤    ⠁⠐⠈⠍⢒⠒⠥⠤⣀⡀\n"
	                    "   │             ⠈⠉●⢒⠤⠤⣀⡀ ⢀\n"
	                    "   │       ○            ⠈⠉●⠒⠢⠤⣀⣀  ⢀\n"
	                    "6.5┤              ○            ⠐⠉⠕●⠢⠥⣐⣀⠄  ⢀\n"
	                    "   │                      ○         ⠁⠐ ⠍⢉●⠢⠤⢅⣐ ⠄⢀⠄⢀\n"
	                    "   │                                      ⠁⠐⠁⠔⢉⠍⢒●⠅⠔⡁⡐ ⠄⢀⠄⢀\n"
	                    "6.0┤                             ○              ⠁⠐⠁⠔⢀⠄⢁⠂⢂⠄⠅⡐⡁⠔⢀⠔⢀⠄⢀\n"
	                    "   │⠒⠒ limit 5.76  ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⠒⠒ ⢒⠒⢀⠓⢓⠂⢒⠒⢀⠒⢒ ⠒⠒\n"
	                    "5.5┤                                                          ⠁⠐⠁⠔⢁⠔⢁⠄\n"
	                    "   │                                                                ⠁\n"
	                    "   └┬──────▲──┬───▲─────┬─▲──────▲┬─────────┬─────────┬─────────┬───────\n"
	                    "    0         2         4         6         8        10        12\n"
	                    "                             web run, million m\n");
}

static void plot_text__ascii__as_drawn(void **state)
{
	(void)state;
	struct plot_face face = wear_face();
	assert_string_equal(drawn(&face, 72, false, NULL),
	                    "* read after cleaning  o read after a run  ----- trend  . . . forecast\n"
	                    "-- -- limit 5.76  ::::: 90 % band  A cleaned\n"
	                    "volume, cm3/m2\n"
	                    "   |:\n"
	                    "   |*----:::\n"
	                    "7.0+ ::::--*----:::\n"
	                    "   |         :::---*----::\n"
	                    "   |       o         :::--*-----::\n"
	                    "6.5+              o          :::--*----::::\n"
	                    "   |                      o         :::--*-----:::::\n"
	                    "6.0+                             o        :::::--* . . ::::::\n"
	                    "   |                                             ::::::. . ..::::::::\n"
	                    "   |-- limit 5.76  -- -- -- -- -- -- -- -- -- -- -- -- -- -- -- -- -- --\n"
	                    "5.5+                                                          :::::::\n"
	                    "   |                                                                :\n"
	                    "   ++------A--+----A----+-A------A+---------+---------+--------+--------\n"
	                    "    0         2         4         6         8        10       12\n"
	                    "                             web run, million m\n");
}

/* A limit whose points lie at one x, as where all was read on one day. */
static void plot_text__limit_of_one_place__all_across(void **state)
{
	(void)state;
	static const struct plot_point point = {0, 8}, limit[] = {{0, 10}, {0, 10}};
	static const struct plot_series series = {"gauged", PLOT_DISC, &point, 1};
	static const struct plot_line line = {"limit", PLOT_DASHED, limit, 2};
	struct plot_face face = {.series = &series,
	                         .series_count = 1,
	                         .lines = &line,
	                         .line_count = 1,
	                         .up = {NULL, 6, 12}};
	assert_non_null(
		strstr(drawn(&face, 40, false, NULL), "10+-- limit -- -- -- -- -- -- -- -- -- -\n"));
	assert_non_null(strstr(drawn(&face, 40, true, NULL), " limit \u2809\u2809 \u2809\u2809 "));
}

static void plot_text__title_and_notes__around_it(void **state)
{
	(void)state;
	static const char *const notes[] =
		{"It wears by 0.122 cm3/m2 a million metres, 0.110 to 0.135.", "Plugging is not wear."};
	static const struct plot_point point = {3, 6.4};
	static const struct plot_series series = {"read", PLOT_TRIANGLE, &point, 1};
	struct plot_face face = {
		.title = "AN000045-3, anilox roll 360lpi, 7.2cm3/m2 when new",
		.subtitle = "life 2, engraved 2024-03-12, as on record",
		.across = {.name = "web run, million m"},
		.up = {.name = "volume, cm3/m2"},
		.series = &series,
		.series_count = 1,
		.notes = notes,
		.note_count = 2,
		.printed = "printed 2026-12-01",
	};
	assert_string_equal(drawn(&face, 40, false, NULL), "AN000045-3, anilox roll 360lpi, 7.2cm...\n"
	                                                   "life 2, engraved 2024-03-12, as on\n"
	                                                   "record\n"
	                                                   "^ read\n"
	                                                   "volume, cm3/m2\n"
	                                                   "7.0+\n"
	                                                   "   |\n"
	                                                   "   |\n"
	                                                   "   |\n"
	                                                   "   |\n"
	                                                   "6.5+\n"
	                                                   "   |                  ^\n"
	                                                   "   |\n"
	                                                   "   |\n"
	                                                   "6.0+\n"
	                                                   "   |\n"
	                                                   "   |\n"
	                                                   "   ++-----+-----+-----+----+-----+-----+\n"
	                                                   "   2.7   2.8   2.9   3.0  3.1   3.2  3.3\n"
	                                                   "             web run, million m\n"
	                                                   "It wears by 0.122 cm3/m2 a million\n"
	                                                   "metres, 0.110 to 0.135.\n"
	                                                   "Plugging is not wear.\n");
}

/* Nothing to draw: the axes from 0 to 1. */
static void plot_text__nothing__an_empty_frame(void **state)
{
	(void)state;
	struct plot_face face = {0};
	assert_string_equal(drawn(&face, 40, true, NULL), "1.0┤\n"
	                                                  "   │\n"
	                                                  "0.8┤\n"
	                                                  "   │\n"
	                                                  "0.6┤\n"
	                                                  "   │\n"
	                                                  "   │\n"
	                                                  "0.4┤\n"
	                                                  "   │\n"
	                                                  "0.2┤\n"
	                                                  "   │\n"
	                                                  "  0┤\n"
	                                                  "   └┬──────┬──────┬──────┬──────┬──────┬\n"
	                                                  "    0     0.2    0.4    0.6    0.8   1.0\n");
}

/* ---------------------------------------------------------------- what hides what */

/* Steep and level lines, marks of all sorts, each in its cell. */
static void plot_text__all_marks_and_strokes__told_apart(void **state)
{
	(void)state;
	static const struct plot_point a = {1, 1}, b = {2, 1}, c = {3, 1}, d = {4, 1};
	static const struct plot_series series[] = {{"disc", PLOT_DISC, &a, 1},
	                                            {"ring", PLOT_RING, &b, 1},
	                                            {"triangle", PLOT_TRIANGLE, &c, 1},
	                                            {"cross", PLOT_CROSS, &d, 1}};
	static const struct plot_point up[] = {{0, 0}, {0, 4}}, rise[] = {{0, 0}, {5, 4}},
								   high[] = {{0, 3}, {5, 3}};
	static const struct plot_line lines[] = {{"up", PLOT_DASHED, up, 2},
	                                         {"rise", PLOT_DOTTED, rise, 2},
	                                         {"high", PLOT_SOLID, high, 2}};
	struct plot_face face = {
		.across = {.least = 0, .most = 5},
		.up = {.least = 0, .most = 4},
		.series = series,
		.series_count = 4,
		.lines = lines,
		.line_count = 3,
	};
	assert_string_equal(drawn(&face, 44, false, NULL),
	                    "* disc  o ring  ^ triangle  x cross\n"
	                    "-- -- up  . . . rise  ----- high\n"
	                    "4+                                        .\n"
	                    " |-                                   . .\n"
	                    " |-                               . .\n"
	                    "3+-- high ----------------------------------\n"
	                    " |-                         .\n"
	                    " |-                     . .\n"
	                    "2+                  . .\n"
	                    " |-             . .\n"
	                    "1+-       * . .   o        ^       x\n"
	                    " |      . .\n"
	                    " |- . .\n"
	                    "0+.\n"
	                    " ++-------+-------+--------+-------+-------+\n"
	                    "  0       1       2        3       4       5\n");
	assert_string_equal(drawn(&face, 44, true, NULL),
	                    "● disc  ○ ring  △ triangle  × cross\n"
	                    "⠤⠤ ⠤⠤ up  ⠄⠄⠄⠄⠄ rise  ⠤⠤⠤⠤⠤ high\n"
	                    "4┤⡄                                      ⡀⠄⠂\n"
	                    " │⠃                                  ⡀⠄⠂⠁\n"
	                    " │⡇                               ⡀⠄⠁\n"
	                    "3┤⡍⠉ high ⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⡉⠍⠋⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉\n"
	                    " │⠃                        ⡀⠄⠁\n"
	                    " │⡇                    ⡀⠄⠂⠁\n"
	                    "2┤⡄                 ⡀⠂⠁\n"
	                    " │⠃             ⡀⠄⠂⠁\n"
	                    "1┤⡇       ●  ⡀⠂⠁  ○        △       ×\n"
	                    " │⡄      ⡀⠄⠂⠁\n"
	                    " │⠃   ⠄⠂⠁\n"
	                    "0┤⡇⠄⠂⠁\n"
	                    " └┬───────┬───────┬────────┬───────┬───────┬\n"
	                    "  0       1       2        3       4       5\n");
}

/* So many points that they would hide the lines stand below them; the label finds no place. */
static void plot_text__more_points_than_columns__lines_are_seen(void **state)
{
	(void)state;
	struct plot_face face = wear_face();
	struct plot_point *points = arena_take(arena, 10000, sizeof *points);
	for (size_t i = 0; i < 10000; i++) {
		points[i] = (struct plot_point){(double)i * 0.0013, 5.4 + (double)(i * 7919 % 2000) / 1000};
	}
	struct plot_series series = {"read after cleaning", PLOT_DISC, points, 10000};
	face.series = &series;
	face.series_count = 1;
	const char *text = drawn(&face, 72, false, NULL);
	assert_true(count_of(text, "*") > 300);
	assert_true(count_of(text, "-") > 60 + 40 + 30); /* axis, trend, limit */
	assert_int_equal(count_of(text, "limit 5.76"), 2);
	series.points = wear_face().lines[2].points; /* two points upon the limit itself */
	series.count = 2;
	text = drawn(&face, 72, false, NULL);
	assert_int_equal(count_of(text, "limit 5.76"), 2);
	assert_int_equal(count_of(text, "*"), 3);
}

/* A level line crossed everywhere has its name in the legend alone. */
static void plot_text__no_free_run_at_the_limit__named_in_the_legend_alone(void **state)
{
	(void)state;
	struct plot_point points[40];
	for (size_t i = 0; i < 40; i++) {
		points[i] = (struct plot_point){13. * (double)i / 39, 5.76};
	}
	struct plot_face face = wear_face();
	struct plot_series series = {"read after a run", PLOT_RING, points, 40};
	face.series = &series;
	face.series_count = 1;
	assert_int_equal(count_of(drawn(&face, 72, false, NULL), "limit 5.76"), 1);
	assert_int_equal(count_of(drawn(&face, 72, true, NULL), "limit 5.76"), 1);
}

/* ---------------------------------------------------------------- said */

static const char *said(size_t width)
{
	struct plot_face face = wear_face();
	struct call call = {.arena = arena, .fault = &fault};
	call.answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	call.answer->width = width;
	plot_say(&call, &face);
	return answer_finish(call.answer);
}

/* No line is broken again, and the locale tells which signs there are. */
static void plot_say__by_locale_and_width__the_same_picture(void **state)
{
	(void)state;
	struct plot_face face = wear_face();
	assert_non_null(setlocale(LC_CTYPE, "C"));
	assert_string_equal(said(72), drawn(&face, 72, false, NULL));
	assert_string_equal(said(0), drawn(&face, 80, false, NULL));
	assert_non_null(setlocale(LC_CTYPE, "C.UTF-8"));
	assert_string_equal(said(40), drawn(&face, 40, true, NULL));
	assert_string_equal(said(24), drawn(&face, 24, true, NULL));
	assert_string_equal(said(0), drawn(&face, 80, true, NULL));
	assert_non_null(setlocale(LC_CTYPE, "C"));
}

/* ---------------------------------------------------------------- awkward */

static void plot_text__any_width__nothing_wider(void **state)
{
	(void)state;
	static const char *const notes[] = {"A sentence of many words that has to be broken somewhere.",
	                                    "\u00dcber\x1b[31m \xff \u4e2d\u6587\u4e2d\u6587"};
	struct plot_face face = wear_face();
	face.title =
		"AN000045-3, anilox roll \u4e2d\u6587\u4e2d\u6587\u4e2d\u6587, and more of a title";
	face.subtitle = "life 2\tengraved 2024-03-12, as on record at 2026-12-01T08:00";
	face.across.name = "web run, million metres, all that it has run in this life of it";
	face.up.name = "volume \u00dcber, cm3/m2, by surface and by drawdown, of this life";
	face.notes = notes;
	face.note_count = 2;
	for (size_t width = 24; width <= 200; width++) {
		drawn(&face, width, true, NULL);
		const char *text = drawn(&face, width, false, "ANSI_X3.4-1968");
		for (const char *c = text; *c != '\0'; c++) {
			assert_true(*c == '\n' || (*c >= ' ' && *c <= '~'));
		}
	}
	assert_string_equal(drawn(&face, 0, false, NULL), drawn(&face, 24, false, NULL));
}

static void plot_text__narrow__units_of_the_axes_are_told(void **state)
{
	(void)state;
	struct plot_face face = wear_face();
	face.across.name = "web run since the engraving, million m";
	face.up.name = "runout, thousandths of an inch";
	const char *text = drawn(&face, 28, false, NULL);
	assert_non_null(strstr(text, "\nrunout, thousandths of an\ninch\n"));
	assert_non_null(strstr(text, "web run since the\n"));
	assert_non_null(strstr(text, " engraving, million m\n"));
}

static void plot_text__numbers_of_any_size__within_the_width(void **state)
{
	(void)state;
	static const double sizes[] = {1e-300, 1e-12, 1, 123456, 9e6, 1e12, 1e300};
	for (size_t i = 0; i < COUNT_OF(sizes); i++) {
		for (size_t j = 0; j < COUNT_OF(sizes); j++) {
			struct plot_point points[] = {{-sizes[i], sizes[j]},
			                              {sizes[i] / 3, -sizes[j] / 7},
			                              {(double)NAN, 1},
			                              {1, (double)INFINITY},
			                              {sizes[i], sizes[j] * 0.99}};
			double x[] = {-sizes[i], 0, (double)NAN, sizes[i]}, least[] = {-1e300, 0, 0, 1},
				   most[] = {1e300, 1, 1, (double)INFINITY};
			struct plot_series series = {"read", PLOT_CROSS, points, COUNT_OF(points)};
			struct plot_line line = {"joined", PLOT_DOTTED, points, COUNT_OF(points)};
			struct plot_band band = {"band", x, least, most, COUNT_OF(x)};
			struct plot_event events[] = {{(double)NAN}, {sizes[i] * 2}, {-1e300}};
			struct plot_face face = {.series = &series,
			                         .series_count = 1,
			                         .lines = &line,
			                         .line_count = 1,
			                         .bands = &band,
			                         .band_count = 1,
			                         .events_name = "cleaned",
			                         .events = events,
			                         .event_count = 3,
			                         .up = {.least = j % 2 == 0 ? -1 : 0, .most = j % 2 == 0}};
			drawn(&face, 80, true, NULL);
			assert_true(count_of(drawn(&face, 24, false, NULL), "\n") >= 12 + 2);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(plot_text__braille__as_drawn),
		WITH_ARENA(plot_text__ascii__as_drawn),
		WITH_ARENA(plot_text__limit_of_one_place__all_across),
		WITH_ARENA(plot_text__title_and_notes__around_it),
		WITH_ARENA(plot_text__nothing__an_empty_frame),
		WITH_ARENA(plot_text__all_marks_and_strokes__told_apart),
		WITH_ARENA(plot_text__more_points_than_columns__lines_are_seen),
		WITH_ARENA(plot_text__no_free_run_at_the_limit__named_in_the_legend_alone),
		WITH_ARENA(plot_say__by_locale_and_width__the_same_picture),
		WITH_ARENA(plot_text__any_width__nothing_wider),
		WITH_ARENA(plot_text__narrow__units_of_the_axes_are_told),
		WITH_ARENA(plot_text__numbers_of_any_size__within_the_width),
	};
	return cmocka_run_group_tests_name("plot_text", tests, NULL, NULL);
}
