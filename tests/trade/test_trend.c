/* The trend of a roll, its band, and when it brings the roll down. All figures are invented. */
#include <math.h>

#include "builders.h"
#include "wearing.h"

static struct arena *arena;

static struct trend trend_of_all(const struct trend_point *points, size_t count,
                                 const struct scatter *shop)
{
	struct trend trend;
	trend_of(arena, points, count, shop, &trend);
	return trend;
}

static bool near(double a, double b)
{
	return fabs(a - b) <= 1e-9 * fmax(1, fabs(b));
}

static struct volume volume_of(double cm3_m2)
{
	return volume_from_micro(llround(cm3_m2 * 1e6));
}

static double metres(struct length length)
{
	return length_to_m(length);
}

/* 0.3 cm3/m2 lost a million metres, read without any scatter, in no order. */
static void trend_of__readings_on_a_line__that_line(void **state)
{
	(void)state;
	const struct trend_point points[] = {point_at(2e6, 5400123), point_at(0, 6000123),
	                                     point_at(1e6, 5700123), point_at(3e6, 5100123)};
	struct trend trend = trend_of_all(points, 4, NULL);
	assert_int_equal(trend.says, TREND_FALLS);
	assert_true(trend_forecasts(&trend));
	assert_true(near(trend.slope, -0.3) && near(trend.at_zero, 6.000123));
	assert_true(near(trend.slope_least, -0.3) && near(trend.slope_most, -0.3));
	assert_true(near(trend.mean_run, 1.5) && near(trend.squares, 5));
	assert_true(trend.own.share < 1e-9 && near(trend.own.freedom, 2));
	assert_int_equal(trend.kendall_s, -6);
	assert_true(near(trend.tau, -1) && near(trend.p, 2.0 / 24));
	assert_true(near(trend_at(&trend, length_from_mm(4e9)), 4.800123));
	assert_true(trend_at(&trend, length_from_mm(30e9)) <= 0);
	struct trend_reach reach;
	trend_reaches(&trend, volume_of(4.800123), &reach);
	assert_true(reach.least_known && reach.most_known && reach.line_known);
	assert_true(fabs(metres(reach.least) - 4e6) < 1 && fabs(metres(reach.most) - 4e6) < 1);
	assert_true(fabs(metres(reach.line) - 4e6) < 1);
	/* Reached before it was read: no run lies before 0. */
	trend_reaches(&trend, volume_of(7), &reach);
	assert_true(reach.least_known && metres(reach.least) <= 0 && metres(reach.most) <= 0);
}

static void trend_of__too_few_or_one_run__nothing_told(void **state)
{
	(void)state;
	const struct trend_point points[] = {point_at(0, 6e6), point_at(1e6, 5e6), point_at(1e6, 5e6)};
	const struct trend_point one_run[] = {point_at(5, 6e6), point_at(5, 5e6), point_at(5, 4e6)};
	struct trend trends[] = {trend_of_all(points, 2, NULL), trend_of_all(NULL, 0, NULL),
	                         trend_of_all(one_run, 3, NULL)};
	for (size_t i = 0; i < COUNT_OF(trends); i++) {
		struct trend_reach reach = {.most_known = true};
		double least = 1;
		double most = 1;
		assert_int_equal(trends[i].says, TREND_TOO_FEW);
		assert_false(trend_forecasts(&trends[i]));
		assert_true(trends[i].p >= 1 && trends[i].own.freedom <= 0);
		trend_reaches(&trends[i], volume_of(4), &reach);
		assert_false(reach.least_known || reach.most_known || reach.line_known);
		trend_band_at(&trends[i], length_from_mm(1e9), &least, &most);
		assert_true(least <= 0 && most <= 0);
	}
	assert_int_equal(trends[0].count, 2);
	/* Two at one run are two: the third stands alone, and with them on a line. */
	struct trend pair = trend_of_all(points, 3, NULL);
	assert_true(pair.says != TREND_TOO_FEW && near(pair.slope, -1));
}

static void trend_of__all_alike__no_trend(void **state)
{
	(void)state;
	struct trend_point points[6];
	for (size_t i = 0; i < COUNT_OF(points); i++) {
		points[i] = point_at(1e6 * (double)i, 6e6);
	}
	struct trend trend = trend_of_all(points, COUNT_OF(points), NULL);
	struct trend_reach reach;
	assert_int_equal(trend.says, TREND_NONE);
	trend_reaches(&trend, volume_of(4.8), &reach);
	assert_false(reach.least_known || reach.most_known || reach.line_known);
	/* Of no volume at all there is no share. */
	for (size_t i = 0; i < COUNT_OF(points); i++) {
		points[i] = point_at(1e6 * (double)i, 0);
	}
	trend = trend_of_all(points, COUNT_OF(points), NULL);
	assert_true(trend.says == TREND_NONE && trend.own.share <= 0);
}

/* Three readings alone tell no end; with what the shop knows of its readings they do. */
static void trend_reaches__three_readings__an_end_only_by_the_shop(void **state)
{
	(void)state;
	const struct trend_point points[] = {point_at(0, 6e6), point_at(1e6, 5.62e6),
	                                     point_at(2e6, 5.3e6)};
	const struct scatter shop = {.share = 0.01, .freedom = 20};
	struct trend alone = trend_of_all(points, 3, NULL);
	struct trend known = trend_of_all(points, 3, &shop);
	struct trend_reach reach;
	trend_reaches(&alone, volume_of(4.8), &reach);
	assert_false(reach.most_known);
	assert_true(near(alone.p, 1.0 / 3) && near(alone.used.freedom, 1));
	trend_reaches(&known, volume_of(4.8), &reach);
	assert_true(known.says == TREND_FALLS && reach.least_known && reach.most_known);
	assert_true(metres(reach.least) < metres(reach.line) &&
	            metres(reach.line) < metres(reach.most));
	assert_true(near(known.used.freedom, 21));
	double square = (known.own.share * known.own.share + 20 * 0.01 * 0.01) / 21;
	assert_true(near(known.used.share, sqrt(square)));
	assert_true(near(known.own.share, alone.own.share));
}

static void trend_of__rising__never_forecasts(void **state)
{
	(void)state;
	const struct trend_point points[] = {point_at(0, 5e6), point_at(1e6, 5.3e6),
	                                     point_at(2e6, 5.7e6), point_at(3e6, 6e6)};
	struct trend trend = trend_of_all(points, 4, NULL);
	struct trend_reach reach;
	assert_int_equal(trend.says, TREND_RISES);
	assert_false(trend_forecasts(&trend));
	trend_reaches(&trend, volume_of(4.8), &reach);
	assert_false(reach.most_known || reach.line_known);
}

/* The band meets the limit where the range ends; the further from the readings, the wider. */
static void trend_band_at__ends_of_the_range__meets_the_limit(void **state)
{
	(void)state;
	static const struct wearing wearing = {0.01, 0.1, 0.005, 0.03, 0, false, 0};
	struct random random = {.state = 5};
	size_t told = 0;
	for (int round = 0; round < 400; round++) {
		struct worn_roll roll;
		struct trend_reach reach;
		double least;
		double most;
		roll_draw(&random, &wearing, 4 + (size_t)round % 12, &roll);
		struct trend trend = trend_of_all(roll.clean, roll.count, NULL);
		struct volume limit = volume_from_micro(volume_to_micro(roll.new) * 4 / 5);
		double at = volume_to_cm3_m2(limit);
		trend_reaches(&trend, limit, &reach);
		if (reach.least_known && metres(reach.least) > 0) {
			trend_band_at(&trend, reach.least, &least, &most);
			assert_true(fabs(least - at) < 1e-6 && most > at);
		}
		if (reach.most_known && metres(reach.most) > 0) {
			trend_band_at(&trend, reach.most, &least, &most);
			assert_true(fabs(most - at) < 1e-6 && least < at);
			assert_true(metres(reach.line) <= metres(reach.most));
			told++;
		}
		arena_reset(arena);
	}
	assert_true(told > 200);
}

/* Read to a tenth, so that by chance they lie on a line: no more certain than
 * rounding leaves it.
 */
static void trend_of__read_in_steps__scatter_at_least_of_rounding(void **state)
{
	(void)state;
	struct trend_point metric[5];
	struct trend_point inch[5];
	for (size_t i = 0; i < COUNT_OF(metric); i++) {
		double fallen = 0.1 * (double)i;
		metric[i] = point_at(1e6 * (double)i, (6.0 - fallen) * 1e6);
		/* 1.5500031 cm3/m2: the definition of 1 BCM/in2 */
		inch[i] = point_at(1e6 * (double)i, (4.0 - fallen) * 1550003.1);
	}
	struct trend trend = trend_of_all(metric, COUNT_OF(metric), NULL);
	assert_true(near(trend.own.share, 0.1 / sqrt(12) * sqrt(1.5) / 5.8));
	trend = trend_of_all(inch, COUNT_OF(inch), NULL);
	assert_true(fabs(trend.own.share - 0.1 / sqrt(12) * sqrt(1.5) / 3.8) < 1e-6);
	for (size_t i = 0; i < COUNT_OF(metric); i++) {
		metric[i] = point_at(1e6 * (double)i, 6000000 - 12300 * (double)i);
	}
	trend = trend_of_all(metric, COUNT_OF(metric), NULL);
	assert_true(trend.own.share < 1e-6);
}

/* What is unlike the rest of the shop's readings counts little. */
static void trend_of__one_reading_wrong__line_stays(void **state)
{
	(void)state;
	struct trend_point points[9];
	for (size_t i = 0; i < COUNT_OF(points); i++) {
		points[i] = point_at(1e6 * (double)i, 6e6 - 1e5 * (double)i);
	}
	points[8] = point_at(8e6, 52e6);
	struct trend trend = trend_of_all(points, COUNT_OF(points), NULL);
	assert_true(near(trend.slope, -0.1) && near(trend.at_zero, 6));
}

/* ------------------------------------------------ the shop */

/* Rolls of a scatter of 1.5 % that differ by `spread`, by their ratio. */
static struct scatter shop_with(struct random *random, size_t rolls, size_t readings, double spread)
{
	struct scatter each[400];
	for (size_t i = 0; i < rolls; i++) {
		struct wearing wearing = {0.01, 0.1, 0.015 / spread, 0.015 * spread, 0, false, 0};
		struct worn_roll roll;
		roll_draw(random, &wearing, readings, &roll);
		each[i] = trend_of_all(roll.clean, roll.count, NULL).own;
		arena_reset(arena);
	}
	return scatter_of_shop(each, rolls);
}

static void scatter_of_shop__alike_or_not__freedom_tells(void **state)
{
	(void)state;
	struct random random = {.state = 3};
	struct scatter alike = shop_with(&random, 200, 12, 1.001);
	struct scatter unlike = shop_with(&random, 200, 12, 3);
	struct scatter few = shop_with(&random, 5, 12, 1.001);
	assert_true(fabs(alike.share / 0.015 - 1) < 0.1 && alike.freedom > 20);
	assert_true(unlike.freedom > 1 && unlike.freedom < 6);
	assert_true(few.freedom > 0 && few.freedom < alike.freedom);
}

static void scatter_of_shop__nothing_to_go_by__no_freedom(void **state)
{
	(void)state;
	const struct scatter nonsense[] = {{0.01, 0},           {0, 5},
	                                   {(double)NAN, 5},    {(double)INFINITY, 5},
	                                   {0.01, (double)NAN}, {-1, 5},
	                                   {0.01, 4},           {0.02, 4}};
	assert_true(scatter_of_shop(nonsense, COUNT_OF(nonsense)).freedom <= 0);
	assert_true(scatter_of_shop(NULL, 0).freedom <= 0);
	const struct scatter enough[] = {{0.01, 4}, {0.012, 4}, {0.011, 4}, {0, 3}};
	struct scatter shop = scatter_of_shop(enough, COUNT_OF(enough));
	assert_true(shop.freedom > 0 && shop.share > 0.005 && shop.share < 0.02);
	/* What is not known moderates nothing. */
	const struct trend_point points[] = {point_at(0, 6e6), point_at(1e6, 5.6e6),
	                                     point_at(2e6, 5.3e6)};
	const struct scatter none = {.share = 0.5};
	struct trend trend = trend_of_all(points, 3, &none);
	assert_true(near(trend.used.share, trend.own.share) && near(trend.used.freedom, 1));
}

/* ------------------------------------------------ beside the trend */

static void volume_at_limit__share_left__rounded(void **state)
{
	(void)state;
	struct limits limits = {.volume_loss = value_from_stored(VALUE_PERCENT, 200000).percent};
	assert_int_equal(volume_to_micro(volume_at_limit(volume_of(6), &limits)), 4800000);
	assert_int_equal(volume_to_micro(volume_at_limit(volume_from_micro(3), &limits)), 2);
	limits.volume_loss = value_from_stored(VALUE_PERCENT, 1500000).percent;
	assert_int_equal(volume_to_micro(volume_at_limit(volume_of(6), &limits)), 0);
}

static int64_t unevenness(int64_t left, int64_t centre, int64_t right)
{
	struct across across = {volume_from_micro(left), volume_from_micro(centre),
	                        volume_from_micro(right)};
	struct value value = {.type = VALUE_PERCENT,
	                      .known = true,
	                      .percent = across_unevenness(across)};
	return value_to_stored(&value);
}

static void across_unevenness__share_of_the_mean__rounded(void **state)
{
	(void)state;
	/* (6.4 - 6.1) / 6.2333 */
	assert_int_equal(unevenness(6200000, 6400000, 6100000), 48128);
	assert_int_equal(unevenness(5, 5, 5), 0);
	assert_int_equal(unevenness(0, 0, 0), 0);
	assert_int_equal(unevenness(INT64_C(1000000000000), 0, 0), 3000000);
}

static void days_of__use_a_day__not_of_none(void **state)
{
	(void)state;
	double days = 0;
	assert_true(days_of(length_from_mm(30e6), length_from_mm(4e6), &days));
	assert_true(near(days, 7.5));
	assert_false(days_of(length_from_mm(1), length_from_nm(0), &days));
	assert_false(days_of(length_from_mm(1), length_from_nm(-5), &days));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(trend_of__readings_on_a_line__that_line),
		cmocka_unit_test(trend_of__too_few_or_one_run__nothing_told),
		cmocka_unit_test(trend_of__all_alike__no_trend),
		cmocka_unit_test(trend_reaches__three_readings__an_end_only_by_the_shop),
		cmocka_unit_test(trend_of__rising__never_forecasts),
		cmocka_unit_test(trend_band_at__ends_of_the_range__meets_the_limit),
		cmocka_unit_test(trend_of__read_in_steps__scatter_at_least_of_rounding),
		cmocka_unit_test(trend_of__one_reading_wrong__line_stays),
		cmocka_unit_test(scatter_of_shop__alike_or_not__freedom_tells),
		cmocka_unit_test(scatter_of_shop__nothing_to_go_by__no_freedom),
		cmocka_unit_test(volume_at_limit__share_left__rounded),
		cmocka_unit_test(across_unevenness__share_of_the_mean__rounded),
		cmocka_unit_test(days_of__use_a_day__not_of_none),
	};
	arena = arena_new();
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	arena_free(arena);
	return failed;
}
