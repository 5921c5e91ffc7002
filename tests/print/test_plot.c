/*
 * Plots, read back by pdftotext, xmllint and from the bytes of a PNG: every word of the legend and
 * the axes is there, whole, apart from the others, and what no plot should be drawn of is drawn.
 */
#include "drawn.h"
#include "wear_face.h"

#define WIDTH (297 * 72 / 25.4)
#define HEIGHT (210 * 72 / 25.4)

static void draw(const struct plot_face *face, const char *path)
{
	struct fault fault = {0};
	enum file_form form;
	assert_int_equal(file_form_of(path, &form, &fault), OUTCOME_DONE);
	if (print_plot(arena, face, form, path, &fault) != OUTCOME_DONE) {
		fail_msg("%s", fault.sentence);
	}
}

/* Draws it as a PDF and looks at its words, which are given back. */
static struct words drawn(const struct plot_face *face)
{
	const char *path = path_of("plot.pdf");
	draw(face, path);
	struct words words = words_of(path, WIDTH, HEIGHT);
	assert_words_apart(&words, WIDTH, HEIGHT);
	assert_words_free(path, &words);
	assert_int_equal(remove(path), 0);
	return words;
}

/* ---------------------------------------------------------------- ticks */

static void assert_ticks(double least, double most, size_t room, const char *expected)
{
	double ticks[32];
	int digits = 0;
	struct text said = text_start(arena);
	size_t count = plot_ticks(least, most, ticks, room, &digits);
	for (size_t i = 0; i < count; i++) {
		text_join(&said, " ",
		          plot_tick_text(arena, ticks[i], fmax(fabs(least), fabs(most)), digits));
	}
	assert_string_equal(said.bytes, expected);
}

static void plot_ticks__ranges__round_numbers(void **state)
{
	(void)state;
	assert_ticks(0, 10, 11, "0 1 2 3 4 5 6 7 8 9 10");
	assert_ticks(0, 10, 10, "0 2 4 6 8 10");
	assert_ticks(5.4, 7.36, 11, "5.4 5.6 5.8 6.0 6.2 6.4 6.6 6.8 7.0 7.2");
	assert_ticks(5.4, 7.36, 5, "5.5 6.0 6.5 7.0");
	assert_ticks(-0.3, 0.31, 6, "-0.2 0 0.2");
	assert_ticks(-0.3, 0.3, 7, "-0.3 -0.2 -0.1 0 0.1 0.2 0.3");
	assert_ticks(1.26, 1.3699, 4, "1.30 1.35");
	assert_ticks(0, 9e6, 4, "0 5000000");
	assert_ticks(0, 9.1e7, 5, "0 2e7 4e7 6e7 8e7");
	assert_ticks(1e9, 1e9 + 5, 6,
	             "1e9 1.000000001e9 1.000000002e9 1.000000003e9 1.000000004e9 "
	             "1.000000005e9");
	assert_ticks(0, 3e-9, 4, "0 1e-9 2e-9 3e-9");
	assert_ticks(-1e300, 1e300, 5, "-1e300 -5e299 0 5e299 1e300");
}

static void plot_ticks__little_room__two_at_least(void **state)
{
	(void)state;
	assert_ticks(0.9, 3.1, 2, "1 3");
	assert_ticks(0.9, 3.1, 3, "1 2 3");
	assert_ticks(0.9, 3.1, 1, "1");
	assert_ticks(0.9, 3.1, 0, "");
}

static void plot_ticks__no_extent__none(void **state)
{
	(void)state;
	assert_ticks(3, 3, 8, "");
	assert_ticks(4, 3, 8, "");
	assert_ticks(1e9, 1e9 + 1e-7, 8, ""); /* a double tells these two apart, but no tick between */
	assert_ticks(NAN, 1, 8, "");
	assert_ticks(0, INFINITY, 8, "");
}

/* Whatever the range: within it, evenly, no more than there is room for, 1, 2 or 5 apart. */
static void plot_ticks__any_range__as_promised(void **state)
{
	(void)state;
	srand(1);
	for (int i = 0; i < 20000; i++) {
		double ticks[32];
		int digits = -1;
		double least = ((double)rand() / RAND_MAX - 0.5) * pow(10, rand() % 20 - 10);
		double most = least + (0.001 + (double)rand() / RAND_MAX) * pow(10, rand() % 8 - 4) *
		                          fmax(fabs(least), 1e-12);
		size_t room = (size_t)(5 + rand() % 10);
		size_t count = plot_ticks(least, most, ticks, room, &digits);
		double step = ticks[1] - ticks[0], slack = (most - least) * 1e-6;
		assert_true(count >= 2 && count <= room && digits >= 0);
		assert_true(ticks[0] >= least - slack && ticks[count - 1] <= most + slack);
		double first = step / pow(10, floor(log10(step * (1 + 1e-6))));
		assert_true(fabs(first - 1) < 1e-2 || fabs(first - 2) < 1e-2 || fabs(first - 5) < 1e-2);
		for (size_t j = 2; j < count; j++) {
			assert_true(fabs(ticks[j] - ticks[j - 1] - step) < slack);
		}
	}
}

/* ---------------------------------------------------------------- extents */

static void assert_extent(const struct plot_face *face, double x_least, double x_most,
                          double y_least, double y_most)
{
	double found[4];
	const double expected[4] = {x_least, x_most, y_least, y_most};
	plot_extent(face, &found[0], &found[1], &found[2], &found[3]);
	for (size_t i = 0; i < 4; i++) {
		assert_true(fabs(found[i] - expected[i]) <= 1e-9 * fmax(1, fabs(expected[i])));
	}
}

static void plot_extent__what_is_drawn__with_a_little_room(void **state)
{
	(void)state;
	struct plot_point points[] = {{100, 5}, {200, 6}, {NAN, 99}, {150, INFINITY}, {1e305, 5}};
	struct plot_point line[] = {{100, 4}, {300, 4}};
	double x[] = {100, 350}, least[] = {5, 5}, most[] = {6, 9};
	struct plot_series series = {"s", PLOT_DISC, points, COUNT_OF(points)};
	struct plot_line lines = {"l", PLOT_SOLID, line, 2};
	struct plot_band band = {"b", x, least, most, 2};
	struct plot_event events[] = {{600}};
	struct plot_face face = {.series = &series, .series_count = 1};
	assert_extent(&face, 96, 204, 4.96, 6.04);
	face.lines = &lines;
	face.line_count = 1;
	assert_extent(&face, 92, 308, 3.92, 6.08);
	face.bands = &band;
	face.band_count = 1;
	assert_extent(&face, 90, 360, 3.8, 9.2);
	face.events = events;
	face.event_count = 1;
	assert_extent(&face, 90, 360, 3.8, 9.2); /* an event without a name is not drawn */
	face.events_name = "cleaned";
	assert_extent(&face, 80, 620, 3.8, 9.2);
	face.up.least = 0;
	face.up.most = 10;
	assert_extent(&face, 80, 620, 0, 10); /* an axis that says how far it goes */
}

static void plot_extent__nothing_or_one_value__some_room(void **state)
{
	(void)state;
	struct plot_point point = {0, 7.2};
	struct plot_series series = {"s", PLOT_DISC, &point, 1};
	struct plot_face face = {0};
	assert_extent(&face, 0, 1, 0, 1);
	face.series = &series;
	face.series_count = 1;
	assert_extent(&face, 0, 1, 6.48, 7.92);
	point = (struct plot_point){-5, 1e300};
	assert_extent(&face, -5.5, -4.5, 0.9e300, 1.1e300);
}

/* ---------------------------------------------------------------- PDF */

static void print_plot__pdf__every_word_whole_and_apart(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	struct words words = drawn(&face);
	assert_has_words(&words, "AN000045-3, anilox roll 360lpi printed 2026-12-01");
	assert_has_words(&words, "read after cleaning run trend forecast limit 5.76 90 % band cleaned");
	assert_has_words(&words, "web run, million m volume, cm3/m2");
	assert_has_words(&words, "5.4 5.6 5.8 6.0 6.2 6.4 6.6 6.8 7.0 7.2 0 2 4 6 8 10 12");
	assert_has_words(&words, face.notes[0]);
	assert_has_words(&words, face.notes[2]);
	/* The limit is named in the legend and at its line, between 5.8 and 5.6. */
	size_t named = 0;
	for (size_t i = 0; i < words.count; i++) {
		bool limit = strcmp(words.words[i].text, "5.76") == 0;
		named += limit && words.words[i].bottom > word_find(&words, "6.0")->bottom &&
		         words.words[i].bottom < word_find(&words, "5.6")->bottom;
	}
	assert_int_equal(named, 1);
}

/* Whatever moment it was printed: its line has room for all of it. */
static void print_plot__any_stamp__whole(void **state)
{
	(void)state;
	static const char *const stamps[] = {"printed 2026-12-01T08:00", "printed 2026-11-28T17:47",
	                                     "printed 2027-01-11T11:11", "printed 2026-12-01"};
	struct plot_face face = wear_face(arena);
	for (size_t i = 0; i < COUNT_OF(stamps); i++) {
		face.printed = stamps[i];
		struct words words = drawn(&face);
		assert_has_words(&words, stamps[i]);
	}
}

/* One point, and a limit drawn from its place to its place. */
static void print_plot__limit_of_one_place__all_across(void **state)
{
	(void)state;
	static const struct plot_point point = {0, 8}, at[] = {{0, 10}, {0, 10}};
	static const struct plot_series series = {"gauged", PLOT_DISC, &point, 1};
	static const struct plot_line limit = {NULL, PLOT_DASHED, at, 2};
	struct plot_face face = {.series = &series, .series_count = 1, .up = {NULL, 6, 12}};
	const char *path = path_of("limit.svg");
	struct fault fault = {0};
	for (face.lines = &limit; face.line_count < 2; face.line_count++) {
		assert_int_equal(print_plot(arena, &face, FILE_SVG, path, &fault), OUTCOME_DONE);
		const char *svg = said_by(arena_format(arena, "cat %s", path));
		const char *dashed = strstr(svg, "stroke-dasharray");
		assert_int_equal(unlink(path), 0);
		assert_int_equal(dashed != NULL, face.line_count == 1);
		double x, y, to_x, to_y;
		const char *path_data = dashed != NULL ? strstr(dashed, " d=\"") : NULL;
		if (path_data != NULL) {
			assert_int_equal(sscanf(path_data, " d=\"M %lf %lf L %lf %lf", &x, &y, &to_x, &to_y),
			                 4);
			assert_true(to_x - x > 700 && y == to_y);
		}
	}
}

/* A label upon a line stands only where it hides nothing. */
static void print_plot__no_free_place_at_the_limit__named_in_the_legend_alone(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	struct plot_point *cloud = arena_take(arena, 6000, sizeof *cloud);
	for (size_t i = 0; i < 6000; i++) {
		cloud[i] = (struct plot_point){13. * (double)(i % 100) / 99, 5.4 + (double)i / 6000};
	}
	struct plot_series series = {"read after a run", PLOT_CROSS, cloud, 6000};
	face.series = &series;
	face.series_count = 1;
	face.notes = NULL;
	face.note_count = 0;
	struct words words = drawn(&face);
	size_t named = 0;
	for (size_t i = 0; i < words.count; i++) {
		named += strcmp(words.words[i].text, "5.76") == 0;
	}
	assert_int_equal(named, 1);
}

static void print_plot__names_far_too_long__within_the_page(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	struct text endless = text_start(arena), sentence = text_start(arena);
	for (int i = 0; i < 300; i++) {
		text_add(&endless, "Wwide");
		text_add(&sentence, "many words ");
	}
	const char *notes[] = {sentence.bytes, endless.bytes, "last", "and one"};
	struct plot_line lines[3] = {face.lines[0], face.lines[1], face.lines[2]};
	struct plot_series series[2] = {face.series[0], face.series[1]};
	lines[2].name = endless.bytes;
	series[0].name = sentence.bytes;
	face.title = endless.bytes;
	face.subtitle = sentence.bytes;
	face.printed = endless.bytes;
	face.across.name = sentence.bytes;
	face.up.name = endless.bytes;
	face.lines = lines;
	face.series = series;
	face.notes = notes;
	face.note_count = COUNT_OF(notes);
	struct words words = drawn(&face);
	assert_has_words(&words, "forecast cleaned 6.0 8");
	assert_null(word_find(&words, endless.bytes));
}

static void print_plot__more_than_has_room__counted(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	const char *notes[60];
	struct plot_series series[60];
	for (size_t i = 0; i < 60; i++) {
		notes[i] = arena_format(arena, "sentence%zu", i);
		series[i] = face.series[0];
		series[i].name = arena_format(arena, "readings%zu", i);
		series[i].mark = (enum plot_mark)(i % 4);
	}
	face.notes = notes;
	face.note_count = 60;
	face.series = series;
	face.series_count = 60;
	struct words words = drawn(&face);
	size_t told = 0, notes_told = 0, left[2] = {0}, more = 0;
	for (size_t i = 0; i < words.count; i++) {
		const char *text = words.words[i].text;
		told += strncmp(text, "readings", 8) == 0;
		notes_told += strncmp(text, "sentence", 8) == 0;
		if (strcmp(text, "more") == 0) {
			left[more++ % 2] = strtoul(words.words[i - 1].text, NULL, 10);
		}
	}
	assert_int_equal(more, 2);
	assert_true(told > 10 && notes_told > 5);
	/* Behind the series in the legend: three lines, the band, the cleanings. */
	assert_int_equal(left[0] + left[1], (60 + 3 + 1 + 1 - told) + (60 - notes_told));
}

/* ---------------------------------------------------------------- awkward faces */

static void print_plot__nothing_to_draw__still_a_page(void **state)
{
	(void)state;
	struct plot_face face = {0};
	drawn(&face);
	face.title = "AN000001-R";
	face.across.name = "web run, m";
	face.up.name = "volume, cm3/m2";
	face.events_name = "cleaned";
	struct words words = drawn(&face);
	assert_has_words(&words, "AN000001-R web run, m volume, cm3/m2 cleaned 0 1.0");
}

static void print_plot__one_point_or_all_equal__ticks_around_it(void **state)
{
	(void)state;
	struct plot_point points[5] = {{3, 7.2}, {3, 7.2}, {3, 7.2}, {3, 7.2}, {3, 7.2}};
	struct plot_series series = {"read", PLOT_TRIANGLE, points, 1};
	struct plot_face face = {.series = &series, .series_count = 1};
	struct words words = drawn(&face);
	assert_has_words(&words, "read 7.2 3.0");
	series.count = COUNT_OF(points);
	words = drawn(&face);
	assert_has_words(&words, "read 7.2 3.0");
}

static void print_plot__numbers_of_any_size__labels_apart(void **state)
{
	(void)state;
	static const double sizes[] = {1e-300, 1e-12, 1e-5, 1, 123456, 9e6, 1e12, 1e300};
	for (size_t i = 0; i < COUNT_OF(sizes); i++) {
		for (size_t j = 0; j < COUNT_OF(sizes); j++) {
			struct plot_point points[] = {{-sizes[i], sizes[j]},
			                              {sizes[i] / 3, -sizes[j] / 7},
			                              {NAN, 1},
			                              {1, INFINITY},
			                              {sizes[i], sizes[j] * 1.0001}};
			struct plot_series series = {"read", PLOT_CROSS, points, COUNT_OF(points)};
			struct plot_line line = {"joined", PLOT_DOTTED, points, COUNT_OF(points)};
			struct plot_face face = {.series = &series,
			                         .series_count = 1,
			                         .lines = &line,
			                         .line_count = 1,
			                         .across = {.name = "web run, m"},
			                         .up = {.name = "volume, cm3/m2"}};
			struct words words = drawn(&face);
			assert_true(words.count >= 10);
		}
	}
}

/* What lies outside of the axes given is not drawn beside the frame. */
static void print_plot__beyond_the_axes__cut_at_the_frame(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	face.across.least = 4;
	face.across.most = 5;
	face.up.least = 6.5;
	face.up.most = 6.7;
	struct words words = drawn(&face);
	assert_has_words(&words, "4.0 5.0 6.50 6.70");
	const char *path = path_of("plot.svg");
	draw(&face, path);
	const char *svg = said_by(arena_format(arena, "xmllint --noout %s && cat %s", path, path));
	assert_non_null(strstr(svg, "clip-path"));
	assert_int_equal(remove(path), 0);
}

static void print_plot__ten_thousand_points__drawn_once_a_place(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	struct plot_point *points = arena_take(arena, 10000, sizeof *points);
	for (size_t i = 0; i < 10000; i++) {
		points[i] = (struct plot_point){(double)i * 0.0009, 6 + (double)(i * 7919 % 1000) / 1000};
	}
	for (size_t mark = 0; mark < 4; mark++) {
		struct plot_series series = {"read", (enum plot_mark)mark, points, 10000};
		face.series = &series;
		face.series_count = 1;
		struct words words = drawn(&face);
		assert_has_words(&words, "read trend forecast");
	}
	/* The same ten thousand upon one place are no larger a file than one. */
	struct plot_series series = {"read", PLOT_RING, points, 10000};
	const char *path = path_of("many.svg");
	face.series = &series;
	for (size_t i = 0; i < 10000; i++) {
		points[i] = (struct plot_point){4.5, 6.1};
	}
	draw(&face, path);
	size_t many = strlen(said_by(arena_format(arena, "cat %s", path)));
	series.count = 1;
	draw(&face, path);
	size_t one = strlen(said_by(arena_format(arena, "cat %s", path)));
	assert_int_equal(remove(path), 0);
	assert_true(many < one + 1000);
}

/* ---------------------------------------------------------------- SVG and PNG */

static void print_plot__svg__well_formed_with_text(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	const char *path = path_of("plot.svg");
	face.title = "a\xff <b> & \u00c4\u0394 \xef\xbf\xbe";
	draw(&face, path);
	const char *svg = said_by(arena_format(arena, "xmllint --noout %s && cat %s", path, path));
	assert_non_null(strstr(svg, " width=\"297.0000mm\" height=\"210.0000mm\""));
	assert_non_null(strstr(svg, ">read after cleaning</text>"));
	assert_non_null(strstr(svg, ">volume, cm3/m2</text>"));
	assert_non_null(strstr(svg, ">6.0</text>"));
	assert_int_equal(remove(path), 0);
}

static uint32_t number_at(const unsigned char *bytes)
{
	return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

static void print_plot__png__a4_with_its_resolution(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	const char *path = path_of("plot.png");
	unsigned char bytes[64];
	draw(&face, path);
	FILE *file = fopen(path, "rb");
	assert_non_null(file);
	assert_int_equal(fread(bytes, 1, sizeof bytes, file), sizeof bytes);
	fclose(file);
	assert_memory_equal(bytes, "\x89PNG\r\n\x1a\n", 8);
	/* PNG specification of the W3C, 11.2.2 and 11.3.5.3: width, height; dots a metre. */
	assert_int_equal(number_at(bytes + 16), 2526);
	assert_int_equal(number_at(bytes + 20), 1786);
	assert_memory_equal(bytes + 37, "pHYs", 4);
	assert_int_equal(number_at(bytes + 41), 8504); /* 216 an inch */
	assert_int_equal(number_at(bytes + 45), 8504);
	assert_int_equal(bytes[49], 1);
	assert_int_equal(remove(path), 0);
}

/* ---------------------------------------------------------------- files */

static void print_plot__no_such_folder__refused(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	struct fault fault = {0};
	const char *path = path_of("none/plot.pdf");
	assert_int_equal(print_plot(arena, &face, FILE_PDF, path, &fault), OUTCOME_BAD);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "folder of the file not found: %s", path));
}

static void print_plot__disk_full__old_file_stays(void **state)
{
	(void)state;
	struct plot_face face = wear_face(arena);
	struct fault fault = {0};
	const char *path = path_of("plot.svg");
	disk_fill(path);
	disk_clear(path, print_plot(arena, &face, FILE_SVG, path, &fault), &fault);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(plot_ticks__ranges__round_numbers),
		cmocka_unit_test(plot_ticks__little_room__two_at_least),
		cmocka_unit_test(plot_ticks__no_extent__none),
		cmocka_unit_test(plot_ticks__any_range__as_promised),
		cmocka_unit_test(plot_extent__what_is_drawn__with_a_little_room),
		cmocka_unit_test(plot_extent__nothing_or_one_value__some_room),
		cmocka_unit_test(print_plot__pdf__every_word_whole_and_apart),
		cmocka_unit_test(print_plot__any_stamp__whole),
		cmocka_unit_test(print_plot__limit_of_one_place__all_across),
		cmocka_unit_test(print_plot__no_free_place_at_the_limit__named_in_the_legend_alone),
		cmocka_unit_test(print_plot__names_far_too_long__within_the_page),
		cmocka_unit_test(print_plot__more_than_has_room__counted),
		cmocka_unit_test(print_plot__nothing_to_draw__still_a_page),
		cmocka_unit_test(print_plot__one_point_or_all_equal__ticks_around_it),
		cmocka_unit_test(print_plot__numbers_of_any_size__labels_apart),
		cmocka_unit_test(print_plot__beyond_the_axes__cut_at_the_frame),
		cmocka_unit_test(print_plot__ten_thousand_points__drawn_once_a_place),
		cmocka_unit_test(print_plot__svg__well_formed_with_text),
		cmocka_unit_test(print_plot__png__a4_with_its_resolution),
		cmocka_unit_test(print_plot__no_such_folder__refused),
		cmocka_unit_test(print_plot__disk_full__old_file_stays),
	};
	return cmocka_run_group_tests_name("plot", tests, set_up, take_down);
}
