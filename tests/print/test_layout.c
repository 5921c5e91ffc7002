#include "shop.h"

#define DOTS 300

static struct arena *arena;

static int set_up(void **state)
{
	(void)state;
	arena = arena_new();
	return 0;
}

static int take_down(void **state)
{
	(void)state;
	arena_free(arena);
	return 0;
}

/* Repeatable chance. */
static uint64_t chance = 1;

static int64_t any(int64_t least, int64_t most)
{
	chance = chance * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return least + (int64_t)((chance >> 33) % (uint64_t)(most - least + 1));
}

static const struct symbol code_128 = {.linear = true, .wide = 123, .high = 1, .quiet = 10};
static const struct symbol square = {.wide = 14, .high = 14, .quiet = 1};
static const struct symbol rectangle = {.wide = 32, .high = 8, .quiet = 1};
static const struct symbol qr = {.wide = 21, .high = 21, .quiet = 4};
static const struct symbol *const symbols[] = {&code_128, &square, &rectangle, &qr};

static struct space space_of(int64_t width, int64_t height)
{
	return (struct space){
		.width = width,
		.height = height,
		.x_least = 3, /* 0.25 mm */
		.x_most = 12,
		.dots_per_inch = DOTS,
		.line_count = 3,
		.line_heights = {40, 24, 20},
		.line_widths = {950, 900, 900},
	};
}

static bool apart(const struct box *a, const struct box *b)
{
	return a->x + a->width <= b->x || b->x + b->width <= a->x || a->y + a->height <= b->y ||
	       b->y + b->height <= a->y;
}

static bool inside(const struct box *box, const struct space *space)
{
	return box->x >= 0 && box->y >= 0 && box->x + box->width <= space->width &&
	       box->y + box->height <= space->height;
}

/* Symbol of the right size, its quiet zones on the tag and free of text, text on the tag. */
static void assert_sound(const struct space *space, const struct symbol *symbol,
                         const struct layout *layout)
{
	int64_t x = layout->x_dots;
	int64_t long_side = layout->turned ? layout->symbol.height : layout->symbol.width;
	int64_t short_side = layout->turned ? layout->symbol.width : layout->symbol.height;
	assert_in_range(x, space->x_least, space->x_most);
	assert_int_equal(long_side, symbol->wide * x);
	if (symbol->linear) {
		assert_true(short_side * 100 >= long_side * 15);
		assert_true(short_side >= 59); /* 5 mm */
	} else {
		assert_int_equal(short_side, symbol->high * x);
	}
	struct box quiet = layout->symbol;
	int64_t along = symbol->quiet * x;
	int64_t across = symbol->linear ? 1 : along;
	quiet.x -= layout->turned ? across : along;
	quiet.y -= layout->turned ? along : across;
	quiet.width += 2 * (layout->turned ? across : along);
	quiet.height += 2 * (layout->turned ? along : across);
	assert_true(inside(&quiet, space));
	for (size_t i = 0; i < space->line_count; i++) {
		assert_true(layout->lines[i].height > 0);
		assert_true(inside(&layout->lines[i], space));
		assert_true(apart(&layout->lines[i], &quiet));
		for (size_t j = 0; j < i; j++) {
			assert_true(apart(&layout->lines[i], &layout->lines[j]));
		}
	}
	if (space->around_most > 0) {
		bool along_x = space->width >= space->height;
		assert_true((along_x ? quiet.height : quiet.width) - (symbol->linear ? 2 : 0) <=
		            space->around_most);
	}
}

/* A J of 40 dots reaches 0.071 x 40 = 2.84 dots to the left; one of 240, 17.04. */
static void layout_tag__text_beside_the_symbol__no_letter_reaches_into_its_quiet_zone(void **state)
{
	(void)state;
	static const int64_t heights[] = {40, 240};
	for (size_t i = 0; i < COUNT_OF(heights); i++) {
		for (size_t j = 0; j < 2; j++) {
			struct layout layout;
			struct unfit unfit;
			const struct symbol *symbol = j == 0 ? &square : &code_128;
			struct space space = space_of(3000, 1300);
			space.line_count = 1;
			space.line_heights[0] = heights[i];
			space.line_widths[0] = 100;
			space.x_most = 3;
			if (symbol->linear) { /* turned, as on a round thing: the text stands beside it */
				space.width = 900;
				space.around_most = 400;
			}
			assert_true(layout_tag(&space, symbol, &layout, &unfit));
			assert_int_equal(layout.turned, symbol->linear);
			assert_false(layout.centred);
			int64_t quiet = layout.turned ? 0 : symbol->quiet * layout.x_dots;
			int64_t free = layout.lines[0].x - layout.symbol.x - layout.symbol.width - quiet;
			assert_true(free * 1000 >= heights[i] * 71);
		}
	}
}

static void layout_tag__any_size__sound_or_told_what_would_do(void **state)
{
	(void)state;
	int64_t fitted = 0;
	for (int64_t i = 0; i < 20000; i++) {
		struct layout layout;
		struct unfit unfit;
		struct space space = space_of(any(60, 1300), any(60, 900));
		const struct symbol *symbol = symbols[any(0, 3)];
		space.around_most = any(0, 2) == 0 ? any(20, 400) : 0;
		if (layout_tag(&space, symbol, &layout, &unfit)) {
			fitted++;
			assert_sound(&space, symbol, &layout);
			continue;
		}
		assert_int_equal(unfit.modules, symbol->wide + 2 * symbol->quiet);
		if (unfit.misfit == MISFIT_CURVE) {
			assert_true(unfit.around > space.around_most);
			space.around_most = unfit.around;
		} else {
			assert_true(unfit.width > space.width || unfit.height > space.height);
			/* The longer side is the axis: a size that turns it round would turn the symbol too. */
			if (space.around_most == 0) {
				space.width = unfit.width;
				space.height = unfit.height;
				assert_true(layout_tag(&space, symbol, &layout, &unfit));
				assert_sound(&space, symbol, &layout);
			}
		}
	}
	assert_in_range(fitted, 5000, 19000);
}

static void layout_tag__tag_of_50_by_25__largest_x_that_fits(void **state)
{
	(void)state;
	struct layout layout;
	struct unfit unfit;
	struct space space = space_of(590, 295);
	assert_true(layout_tag(&space, &code_128, &layout, &unfit));
	/* 143 x 4 = 572 is less than 590, 143 x 5 is more. */
	assert_int_equal(layout.x_dots, 4);
	assert_false(layout.turned);
	assert_true(layout.symbol.y > layout.lines[2].y);
	space.width = 571;
	assert_true(layout_tag(&space, &code_128, &layout, &unfit));
	assert_int_equal(layout.x_dots, 3);
}

static void layout_tag__matrix_on_a_wide_tag__text_beside_it(void **state)
{
	(void)state;
	struct layout layout;
	struct unfit unfit;
	struct space space = space_of(590, 295);
	assert_true(layout_tag(&space, &square, &layout, &unfit));
	assert_true(layout.lines[0].x >= layout.symbol.x + layout.symbol.width);
	space = space_of(295, 590);
	space.line_widths[0] = 400;
	space.line_widths[1] = 400;
	space.line_widths[2] = 400;
	assert_true(layout_tag(&space, &square, &layout, &unfit));
	assert_true(layout.lines[0].y >= layout.symbol.y + layout.symbol.height);
}

static void layout_tag__too_narrow_for_bars__turned(void **state)
{
	(void)state;
	struct layout layout;
	struct unfit unfit;
	struct space space = space_of(400, 600);
	space.line_widths[0] = 400;
	space.line_widths[1] = 400;
	space.line_widths[2] = 400;
	assert_true(layout_tag(&space, &code_128, &layout, &unfit));
	assert_true(layout.turned);
	assert_sound(&space, &code_128, &layout);
}

static void layout_tag__round_carrier__scan_line_along_the_axis(void **state)
{
	(void)state;
	struct layout layout;
	struct unfit unfit;
	struct space space = space_of(590, 295);
	space.around_most = 70;
	assert_true(layout_tag(&space, &code_128, &layout, &unfit));
	assert_false(layout.turned);
	assert_true(layout.symbol.height <= 70);
	space.around_most = 58; /* less than bars of 5 mm */
	assert_false(layout_tag(&space, &code_128, &layout, &unfit));
	assert_int_equal(unfit.misfit, MISFIT_CURVE);
	assert_int_equal(unfit.around, 60);
	space = space_of(295, 590);
	space.line_widths[0] = 200;
	space.line_widths[1] = 200;
	space.line_widths[2] = 200;
	space.around_most = 70;
	assert_true(layout_tag(&space, &code_128, &layout, &unfit));
	assert_true(layout.turned);
	assert_true(layout.symbol.width <= 70);
}

static void layout_tag__line_left_out__the_others_close_up(void **state)
{
	(void)state;
	struct layout layout;
	struct unfit unfit;
	struct space space = space_of(590, 295);
	space.line_heights[1] = 0;
	assert_true(layout_tag(&space, &square, &layout, &unfit));
	assert_int_equal(layout.lines[1].height, 0);
	assert_int_equal(layout.lines[2].y, layout.lines[0].y + layout.lines[0].height);
}

static void layout_tag__no_symbol__text_alone(void **state)
{
	(void)state;
	struct layout layout;
	struct unfit unfit;
	struct space space = space_of(590, 295);
	assert_true(layout_tag(&space, NULL, &layout, &unfit));
	assert_false(layout.has_symbol);
	assert_int_equal(layout.lines[0].height, 64); /* capitals of 40 */
	space = space_of(60, 30);
	assert_false(layout_tag(&space, NULL, &layout, &unfit));
	space = space_of(unfit.width, unfit.height);
	assert_true(layout_tag(&space, NULL, &layout, &unfit));
}

static void dots__of_lengths__as_many_as_there_are(void **state)
{
	(void)state;
	struct length inch = length_from_nm(25400000);
	assert_int_equal(dots_within(inch, 203), 203);
	assert_int_equal(dots_covering(inch, 203), 203);
	assert_int_equal(dots_within(length_from_mm(0.19), 203), 1);
	assert_int_equal(dots_covering(length_from_mm(0.19), 203), 2);
	assert_int_equal(dots_covering(length_from_mm(0.19), 300), 3);
	assert_int_equal(dots_covering(length_from_mm(0.19), 600), 5);
	assert_int_equal(dots_nearest(length_from_mm(50), 203), 400);
	assert_int_equal(length_to_nm(dots_length(300, 300)), 25400000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(layout_tag__text_beside_the_symbol__no_letter_reaches_into_its_quiet_zone),
		cmocka_unit_test(layout_tag__any_size__sound_or_told_what_would_do),
		cmocka_unit_test(layout_tag__tag_of_50_by_25__largest_x_that_fits),
		cmocka_unit_test(layout_tag__matrix_on_a_wide_tag__text_beside_it),
		cmocka_unit_test(layout_tag__too_narrow_for_bars__turned),
		cmocka_unit_test(layout_tag__round_carrier__scan_line_along_the_axis),
		cmocka_unit_test(layout_tag__line_left_out__the_others_close_up),
		cmocka_unit_test(layout_tag__no_symbol__text_alone),
		cmocka_unit_test(dots__of_lengths__as_many_as_there_are),
	};
	return cmocka_run_group_tests_name("layout", tests, set_up, take_down);
}
