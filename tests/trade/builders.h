/*
 * What the tests of the predicates share: a press, a job and a tool of each kind that suit one
 * another, which a test bends in one respect; and how a judgement is looked at.
 *
 * The job: 96 teeth of 1/8 CP (304.8 mm), 3 labels around of 98.6 mm (gap 3 mm), 3 across of 100 mm
 * (printed width 306 mm, web 316 mm).
 */
#ifndef TESTS_TRADE_BUILDERS_H
#define TESTS_TRADE_BUILDERS_H

#include <string.h>

#include "published.h"

/* ---- quantities that are on record, and those that are not */

static inline struct known_length long_known(const char *text)
{
	return (struct known_length){.known = true, .value = length_given(text)};
}

/* The same, a few nanometres longer or (below 0) shorter. */
static inline struct known_length longer_by(const char *text, int64_t nm)
{
	struct length length = length_add(length_given(text), length_from_nm(nm));
	return (struct known_length){.known = true, .value = length};
}

static inline struct known_screen screen_known(const char *text)
{
	return (struct known_screen){.known = true, .value = screen_given(text)};
}

static inline struct known_volume volume_known(const char *text)
{
	return (struct known_volume){.known = true, .value = volume_given(text)};
}

/* The same, a few millionths of a cm3/m2 more or (below 0) less. */
static inline struct known_volume volume_more_by(const char *text, int64_t micro)
{
	struct volume volume = volume_from_micro(volume_to_micro(volume_given(text)) + micro);
	return (struct known_volume){.known = true, .value = volume};
}

static inline struct known_percent percent_known(const char *text)
{
	return (struct known_percent){.known = true, .value = percent_given(text)};
}

static inline struct known_angle angle_known(const char *text)
{
	struct known_angle angle = {.known = true};
	if (angle_parse(text, &angle.value, NULL) != OUTCOME_DONE)
		fail_msg("no angle: %s", text);
	return angle;
}

static inline struct known_count count_known(int64_t count)
{
	return (struct known_count){.known = true, .value = count};
}

static inline struct known_moment moment_known(const char *text)
{
	struct known_moment moment = {.known = true};
	if (moment_parse(text, &moment.value, NULL) != OUTCOME_DONE)
		fail_msg("no moment: %s", text);
	return moment;
}

static inline struct duration duration_given(const char *text)
{
	struct duration duration = {0};
	if (duration_parse(text, &duration, NULL) != OUTCOME_DONE)
		fail_msg("no duration: %s", text);
	return duration;
}

/* ---- the shop */

/* The defaults of the settings: common practice, no source, but where a test names one. */
static inline struct limits limits_by_default(void)
{
	return (struct limits){
		.buildup = length_given("0.025mm"),
		.spread = length_given("0.050mm"),
		.runout = length_given("0.0127mm"),
		.repeat_match = length_given("0.010mm"),
		.blade_length_match = length_given("10mm"),
		.die_match = length_given("0.05mm"),
		.liner_match = length_given("0.002mm"),
		.volume_tolerance = percent_given("10%"),
		.volume_loss = percent_given("20%"),
		.screen_ratio = 4,
		.overs = percent_given("5%"),
		.turnaround = duration_given("1h"),
		.make_ready = duration_given("45min"),
		.life_over = LIFE_OVER_CAUTION,
		.units = UNITS_METRIC,
	};
}

static const struct pitch train_of_eighths[] = {{PITCH_CP_INCH, 1, 8}};
static const struct pitch train_of_module_1[] = {{PITCH_MODULE, 1, 1}};

static inline struct press geared_press(void)
{
	return (struct press){
		.id = 1,
		.code = "P1",
		.drive_known = true,
		.geared = true,
		.web = long_known("330mm"),
		.repeat_min = long_known("200mm"),
		.repeat_max = long_known("600mm"),
		.pitches = train_of_eighths,
		.pitch_count = 1,
		.pressure_angle = angle_known("20deg"),
		.helix = angle_known("0deg"),
		.fit = "narrow",
	};
}

static inline struct press servo_press(void)
{
	struct press press = geared_press();
	press.geared = false;
	press.pitches = NULL;
	press.pitch_count = 0;
	press.pressure_angle.known = false;
	press.helix.known = false;
	return press;
}

static inline struct press press_of_unknown_drive(void)
{
	struct press press = geared_press();
	press.drive_known = false;
	press.geared = false;
	return press;
}

static inline struct layout layout_of_job(void)
{
	return (struct layout){
		.job = "J-1",
		.repeat = toothed(96, "1/8cp"),
		.number_around = count_known(3),
		.number_across = count_known(3),
		.label_across = long_known("100mm"),
		.label_around = long_known("98.6mm"),
		.gap_across = long_known("3mm"),
		.gap_around_min = long_known("2mm"),
		.gap_around_max = long_known("4mm"),
		.corner = long_known("2mm"),
		.trim = long_known("5mm"),
		.web = long_known("320mm"),
		.liner_caliper = long_known("0.056mm"),
		.shape = "rectangle",
		.web_needed = long_known("316mm"),
		.printed_width = long_known("306mm"),
		.run = long_known("3048m"),
	};
}

static inline struct station station_of_job(void)
{
	return (struct station){
		.number = 3,
		.ink = "blue",
		.process = "flexo",
		.registered = true,
		.plate = long_known("1.702mm"),
		.base = long_known("0.127mm"),
		.tape = long_known("0.381mm"),
		.plates = "ready",
		.screen_min = screen_known("100/cm"),
		.screen_max = screen_known("200/cm"),
		.plate_screen = screen_known("30/cm"),
		.volume = volume_known("6cm3/m2"),
	};
}

static inline struct cut cut_of_job(void)
{
	return (struct cut){.number = 1, .kind = "kiss"};
}

/* ---- tools that suit all that */

static inline struct tool tool_on_shelf(enum tag_class class)
{
	return (struct tool){
		.tag = {.class = class, .serial = 1},
		.id = 1,
		.fit = "narrow,wide",
		.condition = CONDITION_READY,
		.place_known = true,
		.place = "A1",
		.sort = SORT_STORE,
		.face = long_known("330mm"),
		.run = long_known("0m"),
	};
}

static inline struct cylinder cylinder_of_shelf(void)
{
	return (struct cylinder){
		.tool = tool_on_shelf(TAG_PLATE_CYLINDER),
		.own = toothed(96, "1/8cp"),
		.drive = DRIVE_GEARED,
		.undercut = long_known("2.083mm"),
		.runout = long_known("0.005mm"),
		.bore = long_known("50mm"),
		.pressure_angle = angle_known("20deg"),
		.helix = angle_known("0deg"),
	};
}

static inline struct cylinder demountable_cylinder(void)
{
	struct cylinder cylinder = cylinder_of_shelf();
	cylinder.drive = DRIVE_DEMOUNTABLE;
	return cylinder;
}

static inline struct gear gear_of_shelf(void)
{
	return (struct gear){
		.tool = tool_on_shelf(TAG_GEAR),
		.own = toothed(96, "1/8cp"),
		.bore = long_known("50mm"),
		.pressure_angle = angle_known("20deg"),
		.helix = angle_known("0deg"),
	};
}

/* A roll that was read after cleaning, at the volume it had when new. */
static inline struct anilox roll_of_shelf(void)
{
	return (struct anilox){
		.tool = tool_on_shelf(TAG_ANILOX),
		.line_screen = screen_known("140/cm"),
		.volume = volume_known("6cm3/m2"),
		.reading = {.now = volume_known("6cm3/m2"), .moment = moment_known("2026-11-01")},
	};
}

static inline struct blade blade_of_shelf(void)
{
	return (struct blade){
		.tool = tool_on_shelf(TAG_BLADE),
		.length = long_known("330mm"),
		.life = long_known("100000m"),
	};
}

static inline struct die die_of_shelf(void)
{
	return (struct die){
		.tool = tool_on_shelf(TAG_DIE),
		.build = BUILD_FLEXIBLE,
		.cut = "kiss",
		.shape = "rectangle",
		.own = toothed(96, "1/8cp"),
		.number_across = count_known(3),
		.number_around = count_known(3),
		.label_across = long_known("100mm"),
		.label_around = long_known("98.6mm"),
		.gap_across = long_known("3mm"),
		.corner = long_known("2mm"),
		.liner_caliper = long_known("0.056mm"),
		.die_gap = long_known("0.480mm"),
		.life = count_known(1000000),
	};
}

static inline struct magnetic_cylinder magnetic_cylinder_of_shelf(void)
{
	return (struct magnetic_cylinder){
		.tool = tool_on_shelf(TAG_MAGNETIC_CYLINDER),
		.own = toothed(96, "1/8cp"),
		.die_gap = long_known("0.480mm"),
	};
}

/* ---- judgements */

struct judged {
	enum suits level;
	struct remarks remarks;
};

/*
 * Judges with remarks into `judged`, and again without them: the level may not depend on whether
 * anybody reads why. `...` is the call up to its last argument.
 */
#define JUDGE(judged, function, ...) \
	do { \
		(judged) = (struct judged){.level = SUITS_YES}; \
		(judged).level = function(__VA_ARGS__, &(judged).remarks); \
		assert_int_equal(function(__VA_ARGS__, NULL), (judged).level); \
	} while (0)

static inline void assert_suits(const struct judged *judged)
{
	if (judged->remarks.count > 0)
		fail_msg("remarked: %s", judged->remarks.items[0].text);
	assert_int_equal(judged->level, SUITS_YES);
}

/* This level, for this reason and no other. */
static inline void assert_only(const struct judged *judged, enum suits level, const char *text)
{
	if (judged->remarks.count == 0)
		fail_msg("nothing remarked, expected: %s", text);
	assert_string_equal(judged->remarks.items[0].text, text);
	if (judged->remarks.count > 1)
		fail_msg("remarked too: %s", judged->remarks.items[1].text);
	assert_int_equal(judged->remarks.items[0].level, level);
	assert_int_equal(judged->level, level);
}

/* This reason among others. */
static inline void assert_among(const struct judged *judged, enum suits level, const char *text)
{
	for (size_t i = 0; i < judged->remarks.count; i++) {
		if (strcmp(judged->remarks.items[i].text, text) == 0) {
			assert_int_equal(judged->remarks.items[i].level, level);
			return;
		}
	}
	fail_msg("not among the remarks: %s", text);
}

#endif
