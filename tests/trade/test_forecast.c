/*
 * The range that a forecast tells, over rolls whose wear is known: how often it holds the truth,
 * how often one is told at all, how wide it is. TOOTHRACK_ROLLS rolls a row (400).
 */
#include <stdlib.h>

#include "builders.h"
#include "wearing.h"

#define ROLLS 400
#define SHOP_ROLLS 100

/* What nine in ten may be short of by chance, in standard deviations. */
#define CHANCE 3.5

struct told {
	size_t rolls, given, held, held_of_all, before, past, falls, rises;
	double width_of_life, width_of_left; /* medians */
};

static struct arena *arena;

static size_t rolls_asked(void)
{
	const char *asked = getenv("TOOTHRACK_ROLLS");
	size_t rolls = asked != NULL ? strtoul(asked, NULL, 10) : 0;
	return rolls > 0 ? rolls : ROLLS;
}

static int number_compare(const void *a, const void *b)
{
	double left = *(const double *)a;
	double right = *(const double *)b;
	return (left > right) - (left < right);
}

static double median(double *numbers, size_t count)
{
	qsort(numbers, count, sizeof(*numbers), number_compare);
	return count > 0 ? numbers[count / 2] : (double)NAN;
}

/* What a shop knows of its readings, by other rolls of it, each read as often. */
static struct scatter shop_of(struct random *random, const struct wearing *wearing, size_t count)
{
	struct scatter each[SHOP_ROLLS];
	for (size_t i = 0; i < SHOP_ROLLS; i++) {
		struct worn_roll roll;
		struct trend trend;
		roll_draw(random, wearing, count, &roll);
		trend_of(arena, roll.clean, roll.count, NULL, &trend);
		each[i] = trend.own;
		arena_reset(arena);
	}
	return scatter_of_shop(each, SHOP_ROLLS);
}

static void tell(struct told *told, const struct worn_roll *roll, const struct trend *trend,
                 double *of_life, double *of_left)
{
	struct limits shop = {0};
	shop.volume_loss = value_from_stored(VALUE_PERCENT, 200000).percent;
	struct trend_reach reach;
	trend_reaches(trend, volume_at_limit(roll->new, &shop), &reach);
	double least = reach.least_known ? length_to_m(reach.least) : 0;
	double most = reach.most_known ? length_to_m(reach.most) : (double)INFINITY;
	bool held = least <= roll->life && roll->life <= most;
	told->rolls++;
	told->falls += trend->says == TREND_FALLS;
	told->rises += trend->says == TREND_RISES;
	told->held_of_all += held;
	if (reach.most_known) {
		assert_true(reach.least_known && least <= most && trend_forecasts(trend));
		of_life[told->given] = (most - least) / roll->life;
		of_left[told->given] = (most - least) / (roll->life - roll->read);
		told->given++;
		told->held += held;
		told->before += least > roll->life;
		told->past += most < roll->life;
	}
}

static struct told told_of(const struct wearing *wearing, size_t count, bool with_shop)
{
	struct random random = {.state = UINT64_C(0x9e3779b97f4a7c15) + count + 1000 * with_shop};
	size_t rolls = rolls_asked();
	double *of_life = calloc(rolls, sizeof(*of_life));
	double *of_left = calloc(rolls, sizeof(*of_left));
	struct told told = {0};
	struct scatter shop = {0};
	for (size_t i = 0; i < rolls; i++) {
		/* Another shop now and then, so that no row hangs on one. */
		if (with_shop && i % 100 == 0) {
			shop = shop_of(&random, wearing, count);
		}
		struct worn_roll roll;
		struct trend trend;
		roll_draw(&random, wearing, count, &roll);
		trend_of(arena, roll.clean, roll.count, &shop, &trend);
		tell(&told, &roll, &trend, of_life, of_left);
		arena_reset(arena);
	}
	told.width_of_life = median(of_life, told.given);
	told.width_of_left = median(of_left, told.given);
	free(of_life);
	free(of_left);
	return told;
}

static double share(size_t some, size_t all)
{
	return all > 0 ? (double)some / (double)all : 0;
}

static void say(const char *name, size_t count, bool with_shop, const struct told *told)
{
	print_message(
		"%-22s %2zu %-4s given %5.3f  holds %5.3f  truth before %5.3f past %5.3f  of all %5.3f  "
		"width %4.2f of life %4.2f of what is left  falls %5.3f rises %5.3f\n",
		name, count, with_shop ? "shop" : "own", share(told->given, told->rolls),
		share(told->held, told->given), share(told->before, told->given),
		share(told->past, told->given), share(told->held_of_all, told->rolls), told->width_of_life,
		told->width_of_left, share(told->falls, told->rolls), share(told->rises, told->rolls));
}

/* Not below `least` by more than chance does. */
static void assert_share(size_t some, size_t all, double least)
{
	double chance = CHANCE * sqrt(least * (1 - least) * (double)all);
	assert_true((double)some >= least * (double)all - chance - 1);
}

/* Not above `most` by more than chance does. */
static void assert_share_most(size_t some, size_t all, double most)
{
	assert_share(all - some, all, 1 - most);
}

static const size_t counts[] = {3, 5, 10, 20};

static const struct named_wearing {
	const char *name;
	struct wearing wearing;
	double width_most[4]; /* median, shares of life, by counts; of these readings the range would
	                         else be no use */
} named[] = {
	{"normal", {0.01, 0.1, 0.005, 0.03, 0, false, 0}, {1.5, 0.9, 0.5, 0.3}},
	{"heavy tails", {0.01, 0.1, 0.005, 0.03, 0, true, 0}, {1.5, 0.8, 0.45, 0.25}},
	{"one in five hardly", {0.01, 0.1, 0.005, 0.03, 0.2, false, 0}, {1.5, 0.9, 0.5, 0.3}},
	{"slow, read poorly", {0.01, 0.02, 0.02, 0.03, 0, false, 0}, {2.5, 1.5, 1.0, 0.65}},
	{"read to a tenth", {0.01, 0.1, 0.005, 0.03, 0, false, 0.1}, {1.5, 0.9, 0.5, 0.3}},
	{"well, to a tenth", {0.01, 0.1, 0.001, 0.003, 0, false, 0.1}, {1.5, 0.8, 0.5, 0.3}},
	{"read well", {0.01, 0.1, 0.005, 0.008, 0, false, 0}, {1, 0.5, 0.3, 0.15}},
};

static void trend_reaches__known_wear__holds_the_truth_nine_times_in_ten(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(named); i++) {
		for (size_t j = 0; j < 2 * COUNT_OF(counts); j++) {
			size_t count = counts[j / 2];
			struct told told = told_of(&named[i].wearing, count, j % 2 == 1);
			say(named[i].name, count, j % 2 == 1, &told);
			assert_share(told.held, told.given, 0.9);
			assert_share(told.held_of_all, told.rolls, 0.9);
			assert_true(told.given == 0 || told.width_of_life < 1.2 * named[i].width_most[j / 2]);
		}
	}
}

/* Where each wears: ranges are told of most, the more readings the more. */
static void trend_reaches__enough_readings__told(void **state)
{
	(void)state;
	static const double least[2][4] = {{0, 0.6, 0.88, 0.95}, {0.3, 0.7, 0.9, 0.95}};
	for (size_t j = 0; j < 2 * COUNT_OF(counts); j++) {
		struct told told = told_of(&named[0].wearing, counts[j / 2], j % 2 == 1);
		assert_share(told.given, told.rolls, least[j % 2][j / 2]);
		assert_true(counts[j / 2] > 3 || j % 2 == 1 || told.given == 0);
	}
}

/* What only plugs is cleaned back to what it was: no more is told than chance tells. */
static void trend_of__only_plugging__falls_no_more_often_than_stated(void **state)
{
	(void)state;
	static const struct wearing none[] = {
		{0, 0, 0.005, 0.03, 0, false, 0},
		{0, 0, 0.005, 0.03, 0, true, 0},
	};
	for (size_t i = 0; i < COUNT_OF(none); i++) {
		for (size_t j = 0; j < 2 * COUNT_OF(counts); j++) {
			struct told told = told_of(&none[i], counts[j / 2], j % 2 == 1);
			say(i == 0 ? "no wear" : "no wear, heavy tails", counts[j / 2], j % 2 == 1, &told);
			assert_share_most(told.falls, told.rolls, 0.05);
			assert_share_most(told.rises, told.rolls, 0.05);
			assert_share_most(told.given, told.rolls, 0.035);
		}
	}
}

/* Rolls that hardly wear: an end is told of few. */
static void trend_reaches__hardly_wearing__seldom_told(void **state)
{
	(void)state;
	static const struct wearing hardly = {0.01, 0.1, 0.005, 0.03, 1, false, 0};
	for (size_t j = 0; j < 2 * COUNT_OF(counts); j++) {
		struct told told = told_of(&hardly, counts[j / 2], j % 2 == 1);
		say("all hardly wear", counts[j / 2], j % 2 == 1, &told);
		assert_share_most(told.given, told.rolls, 0.12);
		assert_share(told.held_of_all, told.rolls, 0.9);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(trend_reaches__known_wear__holds_the_truth_nine_times_in_ten),
		cmocka_unit_test(trend_reaches__enough_readings__told),
		cmocka_unit_test(trend_of__only_plugging__falls_no_more_often_than_stated),
		cmocka_unit_test(trend_reaches__hardly_wearing__seldom_told),
	};
	arena = arena_new();
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	arena_free(arena);
	return failed;
}
