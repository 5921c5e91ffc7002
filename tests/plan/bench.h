/*
 * A small question in memory, for tests of the plan: one press, one job, and a shelf to which a
 * test adds tools that suit, and bends them. All figures are invented for the tests but where a
 * test says otherwise.
 */
#ifndef TOOTHRACK_TESTS_PLAN_BENCH_H
#define TOOTHRACK_TESTS_PLAN_BENCH_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "plan/internal.h"

#define BENCH_ROOM 12

struct bench {
	struct arena *arena;
	struct job job;
	struct press_state press;
	struct press_station press_stations[BENCH_ROOM];
	struct pitch pitches[1];
	struct limits limits;
	struct station stations[BENCH_ROOM];
	struct cut cuts[2];
	struct cylinder cylinders[BENCH_ROOM];
	struct gear gears[BENCH_ROOM];
	struct anilox rolls[BENCH_ROOM];
	struct blade blades[BENCH_ROOM];
	struct die dies[BENCH_ROOM];
	struct magnetic_cylinder magnetic_cylinders[BENCH_ROOM];
	struct shelf shelf;
	struct question question;
};

static struct known_length length_of(const char *text)
{
	struct known_length length = {.known = true};
	assert_int_equal(length_parse(text, &length.value, NULL), OUTCOME_DONE);
	return length;
}

static struct known_volume volume_of(const char *text)
{
	struct known_volume volume = {.known = true};
	assert_int_equal(volume_parse(text, &volume.value, NULL), OUTCOME_DONE);
	return volume;
}

static struct known_screen screen_of(const char *text)
{
	struct known_screen screen = {.known = true};
	assert_int_equal(screen_parse(text, &screen.value, NULL), OUTCOME_DONE);
	return screen;
}

static struct known_count count_of(int64_t count)
{
	return (struct known_count){.known = true, .value = count};
}

static struct moment moment_of(const char *text)
{
	struct moment moment;
	assert_int_equal(moment_parse(text, &moment, NULL), OUTCOME_DONE);
	return moment;
}

static struct repeat teeth_of(int64_t teeth)
{
	struct pitch pitch;
	assert_int_equal(pitch_parse("1/8cp", &pitch, NULL), OUTCOME_DONE);
	return repeat_of_teeth(teeth, pitch);
}

/* Ready, in the rack, with a face that is wide enough. */
static struct tool tool_of(enum tag_class class, size_t serial)
{
	return (struct tool){
		.tag = {.class = class, .serial = (int64_t)serial},
		.id = (int64_t) class * 1000 + (int64_t)serial,
		.condition = CONDITION_READY,
		.place_known = true,
		.place = "R1",
		.sort = SORT_STORE,
		.face = length_of("330mm"),
	};
}

static inline struct station *bench_station(struct bench *bench, const char *plate,
                                            const char *volume)
{
	struct station *station = &bench->stations[bench->job.station_count++];
	*station = (struct station){
		.number = (int64_t)bench->job.station_count,
		.process = "flexo",
		.registered = true,
		.plate = length_of(plate),
		.base = length_of("0.127mm"),
		.tape = length_of("0.381mm"),
		.plates = "ready",
		.volume = volume_of(volume),
	};
	bench->question.printing[bench->question.printing_count++] = *station;
	return &bench->question.printing[bench->question.printing_count - 1];
}

static inline struct cylinder *bench_cylinder(struct bench *bench, int64_t teeth,
                                              const char *diameter)
{
	struct cylinder *cylinder = &bench->cylinders[bench->shelf.cylinder_count++];
	*cylinder = (struct cylinder){
		.tool = tool_of(TAG_PLATE_CYLINDER, bench->shelf.cylinder_count),
		.own = teeth_of(teeth),
		.drive = DRIVE_GEARED,
		.diameter = length_of(diameter),
		.runout = length_of("0.005mm"),
	};
	return cylinder;
}

static inline struct gear *bench_gear(struct bench *bench, int64_t teeth)
{
	struct gear *gear = &bench->gears[bench->shelf.gear_count++];
	*gear =
		(struct gear){.tool = tool_of(TAG_GEAR, bench->shelf.gear_count), .own = teeth_of(teeth)};
	return gear;
}

/* Read clean since it was engraved. */
static inline struct anilox *bench_roll(struct bench *bench, const char *volume)
{
	struct anilox *roll = &bench->rolls[bench->shelf.roll_count++];
	*roll = (struct anilox){
		.tool = tool_of(TAG_ANILOX, bench->shelf.roll_count),
		.line_screen = screen_of("200/cm"),
		.volume = volume_of(volume),
		.reading = {.now = volume_of(volume),
	                .moment = {.known = true, .value = moment_of("2026-11-01")}},
	};
	return roll;
}

static inline struct blade *bench_blade(struct bench *bench)
{
	struct blade *blade = &bench->blades[bench->shelf.blade_count++];
	*blade = (struct blade){.tool = tool_of(TAG_BLADE, bench->shelf.blade_count),
	                        .length = length_of("330mm"),
	                        .life = length_of("100000m")};
	return blade;
}

static inline struct die *bench_die(struct bench *bench, int64_t teeth, int64_t around)
{
	struct die *die = &bench->dies[bench->shelf.die_count++];
	*die = (struct die){
		.tool = tool_of(TAG_DIE, bench->shelf.die_count),
		.build = BUILD_FLEXIBLE,
		.cut = "kiss",
		.shape = "rectangle",
		.own = teeth_of(teeth),
		.number_across = count_of(3),
		.number_around = count_of(around),
		.label_across = length_of("100mm"),
		.label_around = length_of("73mm"),
		.gap_across = length_of("3mm"),
		.corner = length_of("2mm"),
		.liner_caliper = length_of("0.06mm"),
		.die_gap = length_of("0.48mm"),
		.life = count_of(1000000),
	};
	return die;
}

static inline struct magnetic_cylinder *bench_magnetic_cylinder(struct bench *bench, int64_t teeth)
{
	struct magnetic_cylinder *cylinder =
		&bench->magnetic_cylinders[bench->shelf.magnetic_cylinder_count++];
	*cylinder = (struct magnetic_cylinder){
		.tool = tool_of(TAG_MAGNETIC_CYLINDER, bench->shelf.magnetic_cylinder_count),
		.own = teeth_of(teeth),
		.die_gap = length_of("0.48mm"),
	};
	return cylinder;
}

/*
 * A geared press in 1/8 CP with eight stations and two die stations; a job of 96 teeth, 4 around, 3
 * across, 1000 labels; nothing on the shelf.
 */
static inline int bench_set_up(void **state)
{
	struct arena *arena = arena_new();
	struct bench *bench = arena_take(arena, 1, sizeof *bench);
	bench->arena = arena;
	assert_int_equal(store_limits(NULL, &bench->limits, NULL), OUTCOME_DONE);
	bench->pitches[0] = teeth_of(1).pitch;
	for (size_t i = 0; i < 10; i++) {
		bench->press_stations[i] = (struct press_station){
			.number = (int64_t)(i < 8 ? i + 1 : i - 7),
			.die = i >= 8,
			.code = i < 8 ? "P1-n" : "P1-Dn",
		};
	}
	bench->press = (struct press_state){
		.press = {.id = 1,
	              .code = "P1",
	              .drive_known = true,
	              .geared = true,
	              .web = length_of("340mm"),
	              .repeat_min = length_of("150mm"),
	              .repeat_max = length_of("600mm"),
	              .pitches = bench->pitches,
	              .pitch_count = 1},
		.stations = bench->press_stations,
		.station_count = 10,
		.stations_counted = 8,
		.die_stations_counted = 2,
	};
	bench->job = (struct job){.id = 1,
	                          .number = "J1",
	                          .quantity = count_of(1000),
	                          .stations = bench->stations};
	bench->job.layout = (struct layout){
		.job = "J1",
		.repeat = teeth_of(96),
		.number_around = count_of(4),
		.number_across = count_of(3),
		.label_across = length_of("100mm"),
		.label_around = length_of("73mm"),
		.gap_across = length_of("3mm"),
		.gap_around_min = length_of("2mm"),
		.gap_around_max = length_of("4mm"),
		.corner = length_of("2mm"),
		.shape = "rectangle",
		.trim = length_of("5mm"),
		.web = length_of("330mm"),
		.liner_caliper = length_of("0.06mm"),
	};
	bench->cuts[0] = (struct cut){.number = 1, .kind = "kiss"};
	bench->shelf = (struct shelf){
		.cylinders = bench->cylinders,
		.gears = bench->gears,
		.rolls = bench->rolls,
		.blades = bench->blades,
		.dies = bench->dies,
		.magnetic_cylinders = bench->magnetic_cylinders,
	};
	bench->question = (struct question){
		.arena = arena,
		.job = &bench->job,
		.press = &bench->press,
		.limits = &bench->limits,
		.span = {moment_of("2026-12-01T08:00:00Z"), moment_of("2026-12-01T08:00:00Z"),
	             moment_of("2026-12-01T08:00:00Z")},
		.layout = bench->job.layout,
		.printing = arena_take(arena, BENCH_ROOM, sizeof(struct station)),
		.cuts = bench->cuts,
		.cut_count = 1,
		.shelf = &bench->shelf,
		.whole = &bench->shelf,
	};
	layout_complete(&bench->question.layout, bench->job.quantity, bench->limits.overs);
	*state = bench;
	return 0;
}

static inline int bench_tear_down(void **state)
{
	struct bench *bench = *state;
	arena_free(bench->arena);
	return 0;
}

/* One die and its magnetic cylinder that suit the bench's job. */
static inline void bench_cutting(struct bench *bench)
{
	bench_die(bench, 96, 4);
	bench_magnetic_cylinder(bench, 96);
}

static inline const struct finding *finding_at(const struct check *check, const char *need,
                                               int64_t station)
{
	for (size_t i = 0; i < check->finding_count; i++) {
		if (strcmp(check->findings[i].need, need) == 0 && check->findings[i].station == station) {
			return &check->findings[i];
		}
	}
	return NULL;
}

#define BENCH_TEST(test) cmocka_unit_test_setup_teardown(test, bench_set_up, bench_tear_down)

#endif
