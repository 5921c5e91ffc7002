#include "published.h"
#include "published_trends.h"

/* Two decimals become whole numbers. */
#define WHOLE 100

struct whole {
	int64_t x[PUBLISHED_TREND_MOST], y[PUBLISHED_TREND_MOST];
};

static struct whole whole_of(const struct published_trend *row)
{
	struct whole whole;
	for (size_t i = 0; i < row->count; i++) {
		whole.x[i] = llround(row->x[i] * WHOLE);
		whole.y[i] = llround(row->y[i] * WHOLE);
		assert_true(fabs((double)whole.x[i] - row->x[i] * WHOLE) < 1e-9);
		assert_true(fabs((double)whole.y[i] - row->y[i] * WHOLE) < 1e-9);
	}
	return whole;
}

/* How many of the rows tell what is asked: so that no test goes through on nothing. */
static size_t compared;

static void compare(double computed, double published, double within, const char *source)
{
	if (isnan(published))
		return;
	assert_published(computed, published, within, source);
	compared++;
}

static void sen_of__published_data__published_slope(void **state)
{
	struct arena *arena = *state;
	compared = 0;
	for (size_t i = 0; i < COUNT_OF(published_trends); i++) {
		const struct published_trend *row = &published_trends[i];
		struct whole whole = whole_of(row);
		struct sen sen = sen_of(arena, whole.x, whole.y, row->count, 0.9);
		assert_true(sen.known);
		compare(sen.slope, row->slope, row->slope_within, row->source);
	}
	assert_int_equal(compared, 5);
}

static void sen_of__published_data__published_interval(void **state)
{
	struct arena *arena = *state;
	compared = 0;
	for (size_t i = 0; i < COUNT_OF(published_trends); i++) {
		const struct published_trend *row = &published_trends[i];
		if (isnan(row->confidence))
			continue;
		struct whole whole = whole_of(row);
		struct sen sen = sen_of(arena, whole.x, whole.y, row->count, row->confidence);
		assert_true(sen.interval_known);
		compare(sen.least, row->least, row->ends_within, row->source);
		compare(sen.most, row->most, row->ends_within, row->source);
	}
	assert_int_equal(compared, 3);
}

static void kendall_of__published_data__published_s_and_tau(void **state)
{
	struct arena *arena = *state;
	compared = 0;
	for (size_t i = 0; i < COUNT_OF(published_trends); i++) {
		const struct published_trend *row = &published_trends[i];
		struct whole whole = whole_of(row);
		struct kendall kendall = kendall_of(arena, whole.x, whole.y, row->count);
		assert_true(kendall.known);
		compare((double)kendall.s, row->s, 0, row->source);
		compare(kendall.tau, row->tau, row->tau_within, row->source);
	}
	assert_int_equal(compared, 6 + 3);
}

static void kendall_of__published_data__published_p(void **state)
{
	struct arena *arena = *state;
	compared = 0;
	for (size_t i = 0; i < COUNT_OF(published_trends); i++) {
		const struct published_trend *row = &published_trends[i];
		struct whole whole = whole_of(row);
		struct kendall kendall = kendall_of(arena, whole.x, whole.y, row->count);
		compare(kendall.p, row->p, row->p_within, row->source);
	}
	assert_int_equal(compared, 4);
}

/*
 * The sources that tell a variance go on with one taken off S, to allow for S being whole; p here,
 * as in SciPy, is without. So p is held against the variance and the whole S.
 */
static void kendall_of__published_variance__its_p(void **state)
{
	struct arena *arena = *state;
	compared = 0;
	for (size_t i = 0; i < COUNT_OF(published_trends); i++) {
		const struct published_trend *row = &published_trends[i];
		if (isnan(row->variance))
			continue;
		struct whole whole = whole_of(row);
		struct kendall kendall = kendall_of(arena, whole.x, whole.y, row->count);
		double more = erfc(fabs(row->s) / sqrt(2 * (row->variance + row->variance_within)));
		double less = erfc(fabs(row->s) / sqrt(2 * (row->variance - row->variance_within)));
		compare(kendall.p, (more + less) / 2, fabs(more - less) / 2, row->source);
	}
	assert_int_equal(compared, 2);
}

/* A roll that wears as the data go: runs in millions of metres, volumes in cm3/m2. */
static void trend_of__published_data_as_a_roll__published_slope_and_s(void **state)
{
	struct arena *arena = *state;
	compared = 0;
	for (size_t i = 0; i < COUNT_OF(published_trends); i++) {
		const struct published_trend *row = &published_trends[i];
		struct trend_point points[PUBLISHED_TREND_MOST];
		struct trend trend;
		for (size_t j = 0; j < row->count; j++) {
			points[j].run = length_from_mm(row->x[j] * 1e9);
			points[j].volume = volume_from_micro(llround(row->y[j] * 1e6));
		}
		trend_of(arena, points, row->count, NULL, &trend);
		assert_int_equal(trend.count, row->count);
		compare(trend.slope, row->slope, row->slope_within, row->source);
		compare((double)trend.kendall_s, row->s, 0, row->source);
		compare(trend.p, row->p, row->p_within, row->source);
	}
	assert_int_equal(compared, 5 + 6 + 4);
}

static int arena_ready(void **state)
{
	*state = arena_new();
	return *state == NULL;
}

static int arena_done(void **state)
{
	arena_free(*state);
	return 0;
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(sen_of__published_data__published_slope),
		cmocka_unit_test(sen_of__published_data__published_interval),
		cmocka_unit_test(kendall_of__published_data__published_s_and_tau),
		cmocka_unit_test(kendall_of__published_data__published_p),
		cmocka_unit_test(kendall_of__published_variance__its_p),
		cmocka_unit_test(trend_of__published_data_as_a_roll__published_slope_and_s),
	};
	return cmocka_run_group_tests_name("trade/published_trends", tests, arena_ready, arena_done);
}
