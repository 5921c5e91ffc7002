/* Does an anilox roll suit a station, and what does it carry at the end of the run? */
#include <stdio.h>

#include "builders.h"

struct given {
	struct anilox roll;
	struct station station;
	struct layout layout;
	struct press press;
	struct limits limits;
};

static struct given all_suits(void)
{
	return (struct given){
		.roll = roll_of_shelf(),
		.station = station_of_job(),
		.layout = layout_of_job(),
		.press = geared_press(),
		.limits = limits_by_default(),
	};
}

static struct judged judge(const struct given *given)
{
	struct judged judged;
	JUDGE(judged, anilox_suits, &given->roll, &given->station, &given->layout, &given->press,
	      &given->limits);
	return judged;
}

static void assert_given_suits(const struct given *given)
{
	struct judged judged = judge(given);
	assert_suits(&judged);
}

static void assert_given_only(const struct given *given, enum suits level, const char *text)
{
	struct judged judged = judge(given);
	assert_only(&judged, level, text);
}

static void anilox_suits__all_as_asked__yes(void **state)
{
	(void)state;
	struct given given = all_suits();
	assert_given_suits(&given);
}

static void anilox_suits__nothing_asked_of_its_cells__any_roll(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.station.screen_min.known = false;
	given.station.screen_max.known = false;
	given.station.plate_screen.known = false;
	given.station.volume.known = false;
	given.roll.line_screen.known = false;
	given.roll.volume.known = false;
	given.roll.reading.now.known = false;
	assert_given_suits(&given);
}

/* ---- fit and face */

static void fit__no_word_in_common__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.tool.fit = "wide";
	assert_given_only(&given, SUITS_NOT, "fit wide, narrow needed");
	given.roll.tool.fit = NULL;
	assert_given_only(&given, SUITS_NOT, "fit not known, narrow needed");
	given.press.fit = NULL;
	assert_given_suits(&given);
}

static void face__printed_width__inclusive(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.tool.face = long_known("306mm");
	assert_given_suits(&given);
	given.roll.tool.face = longer_by("306mm", -1);
	assert_given_only(&given, SUITS_NOT, "face 305.999999mm, 306mm needed");
	given.roll.tool.face.known = false;
	assert_given_only(&given, SUITS_NOT, "face not known");
}

static void face__scored_band__the_usable_rest_counts(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.tool.face_from = long_known("24mm");
	given.roll.tool.face_to = long_known("330mm");
	assert_given_suits(&given);
	given.roll.tool.face_to = longer_by("330mm", -1);
	assert_given_only(&given, SUITS_NOT, "usable face 305.999999mm, 306mm needed");
}

/* ---- screen */

static void screen__range__inclusive(void **state)
{
	(void)state;
	/* screens are compared to 0.001 lines/cm */
	struct given given = all_suits();
	given.station.plate_screen.known = false;
	given.station.screen_min = screen_known("140/cm");
	given.station.screen_max = screen_known("140/cm");
	assert_given_suits(&given);
	given.station.screen_min = screen_known("140.001/cm");
	given.station.screen_max.known = false;
	assert_given_only(&given, SUITS_NOT, "line screen 140/cm, 140.001/cm at least");
	given.station.screen_min.known = false;
	given.station.screen_max = screen_known("139.999/cm");
	assert_given_only(&given, SUITS_NOT, "line screen 140/cm, 139.999/cm at most");
}

static void screen__not_known__last_choice_where_it_is_asked(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.line_screen.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL, "line screen not known");
	given.station.screen_min.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL, "line screen not known");
	given.station.screen_max.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL, "line screen not known");
	given.station.plate_screen.known = false;
	assert_given_suits(&given);
}

static void screen__one_limit_asked_alone__last_choice_where_it_is_not_known(void **state)
{
	(void)state;
	for (int asked = 0; asked < 3; asked++) {
		struct given given = all_suits();
		given.roll.line_screen.known = false;
		given.station.screen_min.known = asked == 0;
		given.station.screen_max.known = asked == 1;
		given.station.plate_screen.known = asked == 2;
		assert_given_only(&given, SUITS_DOUBTFUL, "line screen not known");
	}
}

static void anilox_suits__what_is_not_known__is_not_looked_at(void **state)
{
	(void)state;
	/* figures left behind in what is not known */
	struct given given = all_suits();
	given.station.plate_screen = (struct known_screen){false, screen_given("100/cm")};
	given.station.screen_min = (struct known_screen){false, screen_given("200/cm")};
	given.station.screen_max = (struct known_screen){false, screen_given("100/cm")};
	given.station.volume_tolerance = (struct known_percent){false, percent_given("0%")};
	given.roll.volume = (struct known_volume){false, volume_given("60cm3/m2")};
	given.roll.reading.now = volume_known("6.1cm3/m2");
	assert_given_suits(&given);
	given = all_suits();
	given.roll.reading.now = (struct known_volume){false, volume_given("1cm3/m2")};
	assert_given_only(&given, SUITS_NOTED, "never read since engraved, volume when new counts");
}

static void screen_ratio__four_lines_to_one__inclusive_and_a_caution_only(void **state)
{
	(void)state;
	/* 4 to 6, best 5; 2 to 3 dips dots: Harper Corporation of America, anilox tables (B) */
	struct given given = all_suits();
	given.station.plate_screen = screen_known("35/cm");
	assert_given_suits(&given);
	given.station.plate_screen = screen_known("35.001/cm");
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "line screen 140/cm is 4 times the plate's 35.001/cm, 4 at least");
	given.station.plate_screen = screen_known("56/cm");
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "line screen 140/cm is 2.5 times the plate's 56/cm, 4 at least");
	given.limits.screen_ratio = 2.5;
	assert_given_suits(&given);
}

static void screen_ratio__in_lines_an_inch__the_rounding_of_cm_does_not_count(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.limits.units = UNITS_INCH;
	given.station.screen_min.known = false;
	given.station.screen_max.known = false;
	static const int plates[] = {65, 85, 100, 120, 133, 150, 175, 200};
	for (size_t i = 0; i < COUNT_OF(plates); i++) {
		char text[24];
		snprintf(text, sizeof text, "%dlpi", plates[i]);
		given.station.plate_screen = screen_known(text);
		snprintf(text, sizeof text, "%dlpi", 4 * plates[i]);
		given.roll.line_screen = screen_known(text);
		assert_given_suits(&given);
	}
	given.station.plate_screen = screen_known("100lpi");
	given.roll.line_screen = screen_known("399lpi");
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "line screen 399lpi is 3.99 times the plate's 100lpi, 4 at least");
}

/* ---- volume */

/* A roll read at this volume, and it was so when new. */
static void roll_holds(struct given *given, struct known_volume volume)
{
	given->roll.volume = volume;
	given->roll.reading.now = volume;
}

static void volume__ten_percent__inclusive(void **state)
{
	(void)state;
	/* common practice, no source */
	struct given given = all_suits();
	roll_holds(&given, volume_known("6.6cm3/m2"));
	assert_given_suits(&given);
	roll_holds(&given, volume_more_by("6.6cm3/m2", 1));
	assert_given_only(&given, SUITS_NOT, "volume 6.60cm3/m2, 6.00cm3/m2 +/-10% wanted");
	roll_holds(&given, volume_known("5.4cm3/m2"));
	assert_given_suits(&given);
	roll_holds(&given, volume_more_by("5.4cm3/m2", -1));
	assert_given_only(&given, SUITS_NOT, "volume 5.40cm3/m2, 6.00cm3/m2 +/-10% wanted");
}

static void volume__ten_percent_in_bcm__the_rounding_of_the_store_does_not_count(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.limits.units = UNITS_INCH;
	static const struct {
		const char *asked, *least, *most;
	} rows[] = {
		{"4bcm", "3.6bcm", "4.4bcm"},
		{"2.4bcm", "2.16bcm", "2.64bcm"}, /* 2.4 BCM: iFlexo, 2024-01-25 */
		{"6bcm", "5.4bcm", "6.6bcm"},     /* 6, 8, 11.5 BCM: Harper, anilox tables */
		{"8bcm", "7.2bcm", "8.8bcm"},
		{"11.5bcm", "10.35bcm", "12.65bcm"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		given.station.volume = volume_known(rows[i].asked);
		roll_holds(&given, volume_known(rows[i].least));
		assert_given_suits(&given);
		roll_holds(&given, volume_known(rows[i].most));
		assert_given_suits(&given);
	}
	given.station.volume = volume_known("4bcm");
	roll_holds(&given, volume_more_by("4.4bcm", 1));
	assert_given_only(&given, SUITS_NOT, "volume 4.40bcm, 4.00bcm +/-10% wanted");
	roll_holds(&given, volume_more_by("3.6bcm", -2));
	assert_given_only(&given, SUITS_NOT, "volume 3.60bcm, 4.00bcm +/-10% wanted");
}

static void volume__tolerance_of_the_station__before_the_shops(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.station.volume_tolerance = percent_known("5%");
	roll_holds(&given, volume_known("6.3cm3/m2"));
	assert_given_suits(&given);
	roll_holds(&given, volume_more_by("6.3cm3/m2", 1));
	assert_given_only(&given, SUITS_NOT, "volume 6.30cm3/m2, 6.00cm3/m2 +/-5% wanted");
	given.station.volume_tolerance = percent_known("0%");
	roll_holds(&given, volume_known("6cm3/m2"));
	assert_given_suits(&given);
}

static void volume__new_it_was_in_but_now_out__does_not_suit(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.reading.now = volume_known("5.3cm3/m2");
	assert_given_only(&given, SUITS_NOT, "volume 5.30cm3/m2, 6.00cm3/m2 +/-10% wanted");
}

static void volume__never_read__that_of_the_new_roll_counts_with_a_note(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.reading.now.known = false;
	assert_given_only(&given, SUITS_NOTED, "never read since engraved, volume when new counts");
	given.roll.reading.read_after_run_only = true;
	assert_given_only(&given, SUITS_NOTED,
	                  "read only after a run, not after cleaning, since engraved, volume when new "
	                  "counts");
	/* nobody asks for a volume: nothing to say */
	given.station.volume.known = false;
	assert_given_suits(&given);
}

static void volume__not_known_altogether__last_choice(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.reading.now.known = false;
	given.roll.volume.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL, "volume not known");
	given.station.volume.known = false;
	assert_given_suits(&given);
}

static void volume__read_but_not_on_record_when_new__suits(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.volume.known = false;
	assert_given_suits(&given);
}

static void loss__twenty_percent__inclusive(void **state)
{
	(void)state;
	/* common practice, no source */
	struct given given = all_suits();
	given.station.volume = volume_known("8cm3/m2");
	given.roll.volume = volume_known("10cm3/m2");
	given.roll.reading.now = volume_known("8cm3/m2");
	assert_given_suits(&given);
	given.roll.reading.now = volume_more_by("8cm3/m2", -1);
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_DOUBTFUL);
	given.roll.reading.now = volume_known("7.5cm3/m2");
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "volume 7.50cm3/m2, 10.00cm3/m2 when new: 25% lost, 20% at most");
}

static void loss__no_volume_asked__a_caution_all_the_same(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.station.volume.known = false;
	given.roll.volume = volume_known("10cm3/m2");
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "volume 6.00cm3/m2, 10.00cm3/m2 when new: 40% lost, 20% at most");
}

static void loss__more_than_when_new__none(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.volume = volume_known("5cm3/m2");
	assert_given_suits(&given);
}

static void anilox_suits__several_rules_broken__every_reason_is_told(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.tool.fit = "wide";
	given.roll.tool.face = long_known("300mm");
	given.roll.line_screen = screen_known("90/cm");
	given.roll.volume = volume_known("10cm3/m2");
	given.roll.reading.now = volume_known("5cm3/m2");
	struct judged judged = judge(&given);
	assert_int_equal(judged.level, SUITS_NOT);
	assert_int_equal(judged.remarks.count, 6);
	assert_among(&judged, SUITS_NOT, "fit wide, narrow needed");
	assert_among(&judged, SUITS_NOT, "face 300mm, 306mm needed");
	assert_among(&judged, SUITS_NOT, "line screen 90/cm, 100/cm at least");
	assert_among(&judged, SUITS_DOUBTFUL,
	             "line screen 90/cm is 3 times the plate's 30/cm, 4 at least");
	assert_among(&judged, SUITS_NOT, "volume 5.00cm3/m2, 6.00cm3/m2 +/-10% wanted");
	assert_among(&judged, SUITS_DOUBTFUL,
	             "volume 5.00cm3/m2, 10.00cm3/m2 when new: 50% lost, 20% at most");
}

/* ---- volume at the end of the run */

static const struct known_length no_run = {.known = false};

/* Its trend tells 6 cm3/m2 by now, and 0.5 less with every 100 km. */
static const struct roll_forecast wears = {.known = true, .now = 6000000, .slope = -5};

static void volume_at_end__trend__the_line_at_the_end_of_the_run(void **state)
{
	(void)state;
	static const struct {
		const char *run;
		int64_t micro;
	} rows[] = {
		{"0m", 6000000},    {"100000m", 5500000}, {"0.1m", 6000000},
		{"0.11m", 5999999}, {"1200000m", 0},      {"1200100m", 0},
		{"900000000m", 0},  {"1199999.8m", 1},    {"320.04m", 5998400},
	};
	struct anilox roll = roll_of_shelf();
	roll.forecast = wears;
	/* The latest reading was out by its noise: the line counts, not that reading. */
	roll.reading.now = volume_known("5.3cm3/m2");
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct known_length run = long_known(rows[i].run);
		assert_int_equal(volume_to_micro(volume_at_end(&roll, run).value), rows[i].micro);
	}
	assert_int_equal(volume_to_micro(volume_at_end(&roll, no_run).value), 6000000);
	roll.forecast.known = false;
	assert_int_equal(volume_to_micro(volume_at_end(&roll, long_known("100000m")).value), 5300000);
}

static void volume_at_end__trend_past_what_a_number_holds__no_overflow(void **state)
{
	(void)state;
	struct anilox roll = roll_of_shelf();
	roll.forecast = (struct roll_forecast){.known = true, .now = 1e300, .slope = -1};
	assert_int_equal(volume_to_micro(volume_at_end(&roll, no_run).value), 1000000000000000000);
	roll.forecast.now = -1e300;
	assert_int_equal(volume_to_micro(volume_at_end(&roll, no_run).value), 0);
}

/* 6 +/-10 %: down to 5.4 cm3/m2, which it comes to after 120 km. */
static void volume__trend__in_by_now_but_out_at_the_end_of_the_run(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.volume = volume_known("6.5cm3/m2");
	given.roll.forecast = wears;
	given.layout.run = long_known("120000m");
	assert_given_suits(&given);
	/* less than one step over the limit is at it */
	given.layout.run = long_known("120000.1m");
	assert_given_suits(&given);
	given.layout.run = long_known("120000.4m");
	assert_given_only(&given, SUITS_NOT,
	                  "volume 5.40cm3/m2 at the end of the run, 6.00cm3/m2 +/-10% wanted");
	given.limits.units = UNITS_INCH;
	assert_given_only(&given, SUITS_NOT,
	                  "volume 3.48bcm at the end of the run, 3.87bcm +/-10% wanted");
}

static void volume__trend__too_full_by_now_but_in_at_the_end_of_the_run(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.volume = volume_known("7cm3/m2");
	given.roll.forecast = wears;
	given.roll.forecast.now = 6700000;
	given.layout.run = long_known("19000m");
	assert_given_only(&given, SUITS_NOT,
	                  "volume 6.61cm3/m2 at the end of the run, 6.00cm3/m2 +/-10% wanted");
	given.layout.run = long_known("20000m");
	assert_given_suits(&given);
	/* of a job that has no run: as it is by now */
	given.layout.run.known = false;
	assert_given_only(&given, SUITS_NOT,
	                  "volume 6.70cm3/m2 by its trend, 6.00cm3/m2 +/-10% wanted");
}

static void volume__trend__not_said_to_be_never_read(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.forecast = wears;
	given.layout.run = long_known("1000m");
	given.roll.reading.now.known = false;
	assert_given_suits(&given);
}

static void volume_deviation__trend__of_the_end_of_the_run(void **state)
{
	(void)state;
	struct anilox roll = roll_of_shelf();
	struct station station = station_of_job();
	roll.forecast = wears;
	assert_int_equal(volume_deviation(&roll, &station, no_run), 0);
	assert_int_equal(volume_deviation(&roll, &station, long_known("600m")), 1);
	assert_int_equal(volume_deviation(&roll, &station, long_known("599.6m")), 0);
	assert_int_equal(volume_deviation(&roll, &station, long_known("120000m")), 100);
}

/* 20 % of 7.5 cm3/m2 are lost at 6, which it comes to at the start of the run. */
static void loss__trend__at_the_end_of_the_run(void **state)
{
	(void)state;
	struct given given = all_suits();
	given.roll.volume = volume_known("7.5cm3/m2");
	given.roll.forecast = wears;
	given.layout.run = long_known("0m");
	assert_given_suits(&given);
	/* whatever was read last */
	given.roll.reading.now = volume_known("5.9cm3/m2");
	assert_given_suits(&given);
	given.layout.run = long_known("20000m");
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "volume 5.90cm3/m2 at the end of the run by its trend, 7.50cm3/m2 when new: "
	                  "21.3% lost, 20% at most");
	given.roll.forecast.now = 5900000;
	given.layout.run.known = false;
	assert_given_only(&given, SUITS_DOUBTFUL,
	                  "volume 5.90cm3/m2 by its trend, 7.50cm3/m2 when new: 21.3% lost, 20% at "
	                  "most");
}

static void volume_at_end__read_else_when_new_else_not_known(void **state)
{
	(void)state;
	struct anilox roll = roll_of_shelf();
	roll.reading.now = volume_known("5.5cm3/m2");
	assert_int_equal(volume_to_micro(volume_at_end(&roll, no_run).value), 5500000);
	assert_false(volume_never_read(&roll));
	roll.reading.now.known = false;
	assert_int_equal(volume_to_micro(volume_at_end(&roll, no_run).value), 6000000);
	assert_true(volume_never_read(&roll));
	roll.volume.known = false;
	assert_false(volume_at_end(&roll, no_run).known);
	/* read only after a run counts as never read */
	roll.reading.read_after_run_only = true;
	assert_true(volume_never_read(&roll));
}

static void volume_deviation__tenths_of_a_percent__half_up_on_either_side(void **state)
{
	(void)state;
	static const struct {
		int64_t micro, tenths;
	} rows[] = {
		{6000000, 0},   {6002999, 0},   {6003000, 1},     {6008999, 1}, {6009000, 2},
		{5997001, 0},   {5997000, 1},   {5991001, 1},     {5991000, 2}, {6600000, 100},
		{5400000, 100}, {3000000, 500}, {12000000, 1000}, {0, 1000},
	};
	struct anilox roll = roll_of_shelf();
	struct station station = station_of_job();
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		roll.reading.now.value = volume_from_micro(rows[i].micro);
		assert_int_equal(volume_deviation(&roll, &station, no_run), rows[i].tenths);
	}
}

static void volume_deviation__largest_volumes__no_overflow(void **state)
{
	(void)state;
	struct anilox roll = roll_of_shelf();
	struct station station = station_of_job();
	roll.reading.now = volume_known("1000000cm3/m2");
	station.volume.value = volume_from_micro(1);
	assert_int_equal(volume_deviation(&roll, &station, no_run), (1000000000000 - 1) * 1000);
	/* a volume of nothing is refused on entry; it may not stop the program either */
	station.volume.value = volume_from_micro(0);
	assert_int_equal(volume_deviation(&roll, &station, no_run), 1000);
}

static void volume_deviation__not_known_1000__nothing_asked_0(void **state)
{
	(void)state;
	struct anilox roll = roll_of_shelf();
	struct station station = station_of_job();
	roll.reading.now.known = false;
	roll.volume.known = false;
	assert_int_equal(volume_deviation(&roll, &station, no_run), 1000);
	station.volume.known = false;
	assert_int_equal(volume_deviation(&roll, &station, no_run), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(anilox_suits__all_as_asked__yes),
		cmocka_unit_test(anilox_suits__nothing_asked_of_its_cells__any_roll),
		cmocka_unit_test(fit__no_word_in_common__does_not_suit),
		cmocka_unit_test(face__printed_width__inclusive),
		cmocka_unit_test(face__scored_band__the_usable_rest_counts),
		cmocka_unit_test(screen__range__inclusive),
		cmocka_unit_test(screen__not_known__last_choice_where_it_is_asked),
		cmocka_unit_test(screen__one_limit_asked_alone__last_choice_where_it_is_not_known),
		cmocka_unit_test(anilox_suits__what_is_not_known__is_not_looked_at),
		cmocka_unit_test(screen_ratio__four_lines_to_one__inclusive_and_a_caution_only),
		cmocka_unit_test(screen_ratio__in_lines_an_inch__the_rounding_of_cm_does_not_count),
		cmocka_unit_test(volume__ten_percent__inclusive),
		cmocka_unit_test(volume__ten_percent_in_bcm__the_rounding_of_the_store_does_not_count),
		cmocka_unit_test(volume__tolerance_of_the_station__before_the_shops),
		cmocka_unit_test(volume__new_it_was_in_but_now_out__does_not_suit),
		cmocka_unit_test(volume__never_read__that_of_the_new_roll_counts_with_a_note),
		cmocka_unit_test(volume__not_known_altogether__last_choice),
		cmocka_unit_test(volume__read_but_not_on_record_when_new__suits),
		cmocka_unit_test(loss__twenty_percent__inclusive),
		cmocka_unit_test(loss__no_volume_asked__a_caution_all_the_same),
		cmocka_unit_test(loss__more_than_when_new__none),
		cmocka_unit_test(anilox_suits__several_rules_broken__every_reason_is_told),
		cmocka_unit_test(volume_at_end__read_else_when_new_else_not_known),
		cmocka_unit_test(volume_at_end__trend__the_line_at_the_end_of_the_run),
		cmocka_unit_test(volume_at_end__trend_past_what_a_number_holds__no_overflow),
		cmocka_unit_test(volume__trend__in_by_now_but_out_at_the_end_of_the_run),
		cmocka_unit_test(volume__trend__too_full_by_now_but_in_at_the_end_of_the_run),
		cmocka_unit_test(volume__trend__not_said_to_be_never_read),
		cmocka_unit_test(volume_deviation__trend__of_the_end_of_the_run),
		cmocka_unit_test(loss__trend__at_the_end_of_the_run),
		cmocka_unit_test(volume_deviation__tenths_of_a_percent__half_up_on_either_side),
		cmocka_unit_test(volume_deviation__largest_volumes__no_overflow),
		cmocka_unit_test(volume_deviation__not_known_1000__nothing_asked_0),
	};
	return cmocka_run_group_tests_name("trade/suits_anilox", tests, NULL, NULL);
}
