/*
 * Which tools a question needs to see: those that could do, and those that nearly could. Never a
 * whole kind for a few.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "internal.h"

/* How far beside what is asked a tool is still shown as a near miss. */
#define NEAR_REPEAT 0.02 /* of the repeat */
#define NEAR_SCREEN 0.1  /* of the screen */
#define HAIR_SCREEN 0.001
#define NEAR_BLADE_MM 25
#define NEAR_LABEL_MM 1

static bool bounds_equal(const struct bounds *a, const struct bounds *b)
{
	return a->any && b->any && length_compare(a->least, b->least) == 0 &&
	       length_compare(a->most, b->most) == 0;
}

static void bounds_take(struct bounds *bounds, struct length length)
{
	if (!bounds->any || length_compare(length, bounds->least) < 0) {
		bounds->least = length;
	}
	if (!bounds->any || length_compare(length, bounds->most) > 0) {
		bounds->most = length;
	}
	bounds->any = true;
}

static void bounds_widen(struct bounds *bounds, struct length by)
{
	struct length nothing = length_from_nm(0);
	bounds->least = length_subtract(bounds->least, by);
	bounds->most = length_add(bounds->most, by);
	if (length_compare(bounds->least, nothing) < 0) {
		bounds->least = nothing;
	}
}

/* ---------------------------------------------------------------- cylinders and gears */

static bool any_length_will_do(const struct question *question)
{
	for (size_t i = 0; i < question->printing_count; i++) {
		if (!question->printing[i].registered) {
			return true;
		}
	}
	return false;
}

static struct bounds cylinder_bounds(const struct question *question, double near)
{
	struct bounds bounds = {.any = false};
	const struct press *press = &question->press->press;
	if (question->layout.repeat.known) {
		struct length repeat = real_round(repeat_length(question->layout.repeat));
		bounds_take(&bounds, repeat);
		bounds_widen(&bounds, length_add(length_from_mm(length_to_mm(repeat) * near),
		                                 question->limits->repeat_match));
	}
	if (any_length_will_do(question)) {
		bounds_take(&bounds, press->repeat_min.known ? press->repeat_min.value : length_from_nm(0));
		bounds_take(&bounds,
		            press->repeat_max.known ? press->repeat_max.value : length_from_nm(INT64_MAX));
		bounds_widen(&bounds, question->limits->repeat_match);
	}
	return bounds;
}

static enum outcome load_near(struct asking *asking, const struct question *question,
                              struct shelf *out)
{
	struct loaded *loaded = &asking->loaded;
	struct bounds bounds = cylinder_bounds(question, loaded->near_repeat ? NEAR_REPEAT : 0);
	if (!bounds.any || question->printing_count == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = OUTCOME_DONE;
	if (!bounds_equal(&bounds, &loaded->cylinders)) {
		loaded->cylinders = bounds;
		outcome =
			store_cylinders(asking->store, asking->arena, asking->job.id, bounds.least, bounds.most,
		                    &loaded->shelf.cylinders, &loaded->shelf.cylinder_count, asking->fault);
	}
	out->cylinders = loaded->shelf.cylinders;
	out->cylinder_count = loaded->shelf.cylinder_count;
	return outcome;
}

/* A length kept in whole nanometres may be half of one beside what teeth and pitch come to. */
#define HAIR_NM 1000

/* Could the job's labels stand around that length with a gap in its limits? */
bool shelf_gives_gap(const struct question *question, struct length length)
{
	const struct layout *layout = &question->layout;
	struct length hair = length_from_nm(HAIR_NM), least, most;
	const struct length *at_least = NULL, *at_most = NULL;
	if (layout->gap_around_min.known) {
		least = length_subtract(layout->gap_around_min.value, hair);
		at_least = &least;
	}
	if (layout->gap_around_max.known) {
		most = length_add(layout->gap_around_max.value, hair);
		at_most = &most;
	}
	return around_choices(repeat_of_length(length), layout->label_around.value, at_least, at_most,
	                      NULL, 0) > 0;
}

static void cylinders_append(struct arena *arena, struct shelf *shelf, size_t *room,
                             const struct cylinder *cylinders, size_t count)
{
	if (shelf->cylinder_count + count > *room) {
		*room = 2 * (shelf->cylinder_count + count);
		shelf->cylinders = arena_grow(arena, shelf->cylinders, shelf->cylinder_count, *room,
		                              sizeof *shelf->cylinders);
	}
	if (count > 0) {
		memcpy(shelf->cylinders + shelf->cylinder_count, cylinders, count * sizeof *cylinders);
		shelf->cylinder_count += count;
	}
}

/* Those of one length after another; what is read of each only passes through. */
static enum outcome load_by_length(struct asking *asking, const struct question *question,
                                   struct shelf *out)
{
	struct length *lengths;
	size_t length_count, room = 0;
	enum outcome outcome =
		store_cylinder_lengths(asking->store, asking->arena, length_from_nm(0),
	                           length_from_nm(INT64_MAX), &lengths, &length_count, asking->fault);
	out->by_length = true;
	for (size_t i = 0; i < length_count && outcome == OUTCOME_DONE; i++) {
		struct cylinder *cylinders;
		size_t count;
		if (!shelf_gives_gap(question, lengths[i])) {
			continue;
		}
		outcome = store_cylinders(asking->store, asking->arena, asking->job.id, lengths[i],
		                          lengths[i], &cylinders, &count, asking->fault);
		if (outcome == OUTCOME_DONE) {
			cylinders_append(asking->arena, out, &room, cylinders, count);
		}
	}
	return outcome;
}

/*
 * Those of every length that the job could be run on, whatever the press: a length that it cannot
 * run is told as such, not passed over. Where a station takes any length all are loaded.
 */
static enum outcome load_wide(struct asking *asking, const struct question *question,
                              struct shelf *out)
{
	struct loaded *loaded = &asking->loaded;
	struct shelf *wide = &loaded->wide;
	enum outcome outcome = OUTCOME_DONE;
	if (!loaded->wide_cylinders && any_length_will_do(question)) {
		outcome = store_cylinders(asking->store, asking->arena, asking->job.id, length_from_nm(0),
		                          length_from_nm(INT64_MAX), &wide->cylinders,
		                          &wide->cylinder_count, asking->fault);
	} else if (!loaded->wide_cylinders && question->layout.label_around.known) {
		outcome = load_by_length(asking, question, wide);
	}
	loaded->wide_cylinders = true;
	out->cylinders = wide->cylinders;
	out->cylinder_count = wide->cylinder_count;
	out->by_length = wide->by_length;
	return outcome;
}

/* Gears of the lengths of the cylinders that would take one. */
static struct bounds gear_bounds(const struct question *question, const struct shelf *shelf)
{
	struct bounds bounds = {.any = false};
	for (size_t i = 0; i < shelf->cylinder_count; i++) {
		const struct cylinder *cylinder = &shelf->cylinders[i];
		if (cylinder->own.known && cylinder_needs_gear(cylinder, &question->press->press)) {
			bounds_take(&bounds, real_round(repeat_length(cylinder->own)));
		}
	}
	return bounds;
}

static enum outcome load_gears(struct asking *asking, const struct question *question, bool wide,
                               struct shelf *out)
{
	struct bounds bounds = gear_bounds(question, out);
	if (!bounds.any) {
		return OUTCOME_DONE;
	}
	struct loaded *loaded = &asking->loaded;
	struct bounds *before = wide ? &loaded->wide_gears : &loaded->gears;
	struct shelf *shelf = wide ? &loaded->wide : &loaded->shelf;
	enum outcome outcome = OUTCOME_DONE;
	if (!bounds_equal(&bounds, before)) {
		*before = bounds;
		outcome = store_gears(asking->store, asking->arena, asking->job.id, bounds.least,
		                      bounds.most, &shelf->gears, &shelf->gear_count, asking->fault);
	}
	out->gears = shelf->gears;
	out->gear_count = shelf->gear_count;
	return outcome;
}

/* ---------------------------------------------------------------- rolls and blades */

static struct roll_bounds roll_bounds(const struct station *station, const struct limits *limits,
                                      struct known_length run, bool near_too)
{
	double near = near_too ? NEAR_SCREEN : 0;
	double least = station->screen_min.known ? screen_to_per_cm(station->screen_min.value) : 0;
	double most =
		station->screen_max.known ? screen_to_per_cm(station->screen_max.value) : HUGE_VAL;
	/* Screens are compared after rounding to 0.001. */
	struct roll_bounds bounds = {
		.screen_least = screen_from_per_cm(least * (1 - near) - HAIR_SCREEN),
		.screen_most = screen_from_per_cm(most * (1 + near) + HAIR_SCREEN),
		.volume_least = volume_from_micro(0),
		.volume_most = volume_from_micro(INT64_MAX),
		.run_most = run,
	};
	if (!near_too) {
		volumes_taken(station, limits, &bounds.volume_least, &bounds.volume_most);
	}
	return bounds;
}

/* All volumes lie within those that nearly do: they need not be asked station by station. */
static void bounds_join(struct roll_bounds *all, const struct roll_bounds *bounds)
{
	if (screen_compare(bounds->screen_least, all->screen_least) < 0) {
		all->screen_least = bounds->screen_least;
	}
	if (screen_compare(bounds->screen_most, all->screen_most) > 0) {
		all->screen_most = bounds->screen_most;
	}
}

/* Those that could do for some station; or nearly could, of whatever volume. */
enum outcome shelf_load_rolls(struct asking *asking, const struct question *question,
                              struct shelf *out)
{
	bool near_too = asking->loaded.near_rolls;
	size_t count = 0;
	struct known_length run =
		layout_run_most(&question->layout, question->job->quantity, question->limits->overs);
	struct length face = length_from_nm(0);
	struct roll_bounds *bounds =
		arena_take(asking->arena, question->printing_count, sizeof *bounds);
	for (size_t i = 0; i < question->printing_count; i++) {
		struct roll_bounds of_station =
			roll_bounds(&question->printing[i], question->limits, run, near_too);
		if (near_too && count > 0) {
			bounds_join(&bounds[0], &of_station);
		} else {
			bounds[count++] = of_station;
		}
	}
	if (!near_too && question->layout.printed_width.known) {
		face = question->layout.printed_width.value;
	}
	return store_rolls(asking->store, asking->arena, asking->job.id, bounds, count, face,
	                   &out->rolls, &out->roll_count, asking->fault);
}

static int bounds_compare(const void *a, const void *b)
{
	return length_compare(((const struct bounds *)a)->least, ((const struct bounds *)b)->least);
}

/* Which lengths of blades the faces of the rolls ask for, in order, none twice. */
static size_t blade_bounds(const struct asking *asking, const struct question *question,
                           const struct shelf *shelf, struct bounds **out)
{
	struct bounds *bounds = arena_take(asking->arena, shelf->roll_count, sizeof *bounds);
	struct length by = question->limits->blade_length_match;
	size_t count = 0, kept = 0;
	if (asking->loaded.near_rolls) {
		by = length_add(by, length_from_mm(NEAR_BLADE_MM));
	}
	for (size_t i = 0; i < shelf->roll_count; i++) {
		if (shelf->rolls[i].tool.face.known) {
			bounds_take(&bounds[count], shelf->rolls[i].tool.face.value);
			bounds_widen(&bounds[count++], by);
		}
	}
	if (count > 1) {
		qsort(bounds, count, sizeof *bounds, bounds_compare);
	}
	for (size_t i = 0; i < count; i++) {
		if (kept > 0 && length_compare(bounds[i].least, bounds[kept - 1].most) <= 0) {
			bounds[kept - 1].most = bounds[i].most;
		} else {
			bounds[kept++] = bounds[i];
		}
	}
	*out = bounds;
	return kept;
}

static enum outcome load_blades(struct asking *asking, const struct question *question,
                                struct shelf *out)
{
	struct bounds *bounds;
	size_t bounds_count = blade_bounds(asking, question, out, &bounds);
	enum outcome outcome = OUTCOME_DONE;
	out->blade_count = 0;
	for (size_t i = 0; i < bounds_count && outcome == OUTCOME_DONE; i++) {
		struct blade *blades;
		size_t count;
		outcome = store_blades(asking->store, asking->arena, asking->job.id, bounds[i].least,
		                       bounds[i].most, &blades, &count, asking->fault);
		if (outcome == OUTCOME_DONE && count > 0) {
			out->blades = arena_grow(asking->arena, out->blades, out->blade_count,
			                         out->blade_count + count, sizeof *out->blades);
			memcpy(out->blades + out->blade_count, blades, count * sizeof *blades);
			out->blade_count += count;
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- dies and magnetic cylinders */

static bool die_is_loaded(const struct shelf *shelf, int64_t id)
{
	for (size_t i = 0; i < shelf->die_count; i++) {
		if (shelf->dies[i].tool.id == id) {
			return true;
		}
	}
	return false;
}

/* A die that a cut names is looked at whatever its size, and though it be scrapped. */
static enum outcome load_named_dies(struct asking *asking, const struct question *question,
                                    struct shelf *out)
{
	enum outcome outcome = OUTCOME_DONE;
	size_t room = out->die_count + question->cut_count;
	out->dies = arena_grow(asking->arena, out->dies, out->die_count, room, sizeof *out->dies);
	for (size_t i = 0; i < question->cut_count && outcome == OUTCOME_DONE; i++) {
		int64_t id = question->cuts[i].die_id;
		if (id != 0 && !die_is_loaded(out, id)) {
			outcome = store_die(asking->store, asking->arena, asking->job.id, id,
			                    &out->dies[out->die_count++], asking->fault);
		}
	}
	return outcome;
}

enum outcome shelf_load_dies(struct asking *asking, const struct question *question,
                             struct shelf *out)
{
	struct bounds bounds = {.any = true,
	                        .least = length_from_nm(0),
	                        .most = length_from_nm(INT64_MAX)};
	if (question->layout.label_across.known) {
		bounds.any = false;
		bounds_take(&bounds, question->layout.label_across.value);
		bounds_widen(&bounds,
		             length_add(question->limits->die_match, length_from_mm(NEAR_LABEL_MM)));
	}
	enum outcome outcome = store_dies(asking->store, asking->arena, asking->job.id, bounds.least,
	                                  bounds.most, &out->dies, &out->die_count, asking->fault);
	return outcome == OUTCOME_DONE ? load_named_dies(asking, question, out) : outcome;
}

/* Of the dies that could cut the job's labels at its repeat; where they nearly could too, of all.
 */
static struct bounds magnetic_cylinder_bounds(const struct question *question, bool near_too,
                                              const struct shelf *shelf)
{
	const struct layout *layout = &question->layout;
	bool all = near_too || !layout->repeat.known || !layout->number_around.known;
	struct bounds bounds = {.any = false};
	for (size_t i = 0; i < shelf->die_count; i++) {
		const struct die *die = &shelf->dies[i];
		if (die->build == BUILD_FLEXIBLE && die->own.known &&
		    (all || die_keeps_step(die, layout, question->limits))) {
			bounds_take(&bounds, real_round(repeat_length(die->own)));
		}
	}
	return bounds;
}

static enum outcome load_magnetic_cylinders(struct asking *asking, const struct question *question,
                                            bool wide, struct shelf *out)
{
	struct loaded *loaded = &asking->loaded;
	struct bounds bounds = magnetic_cylinder_bounds(question, loaded->near_repeat, out);
	struct bounds *before = wide ? &loaded->wide_magnetic_cylinders : &loaded->magnetic_cylinders;
	struct shelf *shelf = wide ? &loaded->wide : &loaded->shelf;
	enum outcome outcome = OUTCOME_DONE;
	if (bounds.any && !bounds_equal(&bounds, before)) {
		*before = bounds;
		outcome = store_magnetic_cylinders(asking->store, asking->arena, asking->job.id,
		                                   bounds.least, bounds.most, &shelf->magnetic_cylinders,
		                                   &shelf->magnetic_cylinder_count, asking->fault);
	}
	out->magnetic_cylinders = shelf->magnetic_cylinders;
	out->magnetic_cylinder_count = shelf->magnetic_cylinder_count;
	return outcome;
}

enum outcome shelf_load(struct asking *asking, const struct question *question, bool wide,
                        struct shelf *out)
{
	struct loaded *loaded = &asking->loaded;
	enum outcome outcome = OUTCOME_DONE;
	/* Whatever the press, the job asks for the same rolls, blades and dies. */
	if (!loaded->rolls) {
		loaded->rolls = true;
		outcome = shelf_load_rolls(asking, question, &loaded->shelf);
		if (outcome == OUTCOME_DONE) {
			outcome = load_blades(asking, question, &loaded->shelf);
		}
	}
	if (outcome == OUTCOME_DONE && !loaded->dies) {
		loaded->dies = true;
		outcome = shelf_load_dies(asking, question, &loaded->shelf);
	}
	*out = loaded->shelf;
	out->cylinders = NULL;
	out->cylinder_count = out->gear_count = 0;
	out->by_length = false;
	if (outcome == OUTCOME_DONE) {
		outcome = load_magnetic_cylinders(asking, question, wide, out);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = wide ? load_wide(asking, question, out) : load_near(asking, question, out);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = load_gears(asking, question, wide, out);
	}
	if (outcome == OUTCOME_DONE && asking->adjust != NULL) {
		asking->adjust(asking, out);
	}
	return outcome;
}

/* ---------------------------------------------------------------- what lies near a repeat */

static bool within(const struct bounds *bounds, struct repeat own)
{
	if (!bounds->any || !own.known) {
		return false;
	}
	struct length length = real_round(repeat_length(own));
	return length_compare(length, bounds->least) >= 0 && length_compare(length, bounds->most) <= 0;
}

/* The first of cylinders that stand by length which is not shorter. */
static size_t first_as_long(const struct shelf *shelf, struct length least)
{
	size_t first = 0, end = shelf->cylinder_count;
	while (first < end) {
		size_t middle = first + (end - first) / 2;
		struct length length = real_round(repeat_length(shelf->cylinders[middle].own));
		if (length_compare(length, least) < 0) {
			first = middle + 1;
		} else {
			end = middle;
		}
	}
	return first;
}

static void near_cylinders(const struct question *question, const struct shelf *whole,
                           struct shelf *out)
{
	struct bounds bounds = cylinder_bounds(question, 0);
	size_t first = 0, count = whole->cylinder_count;
	out->cylinder_count = 0;
	if (whole->by_length && bounds.any) {
		first = first_as_long(whole, bounds.least);
		count = first_as_long(whole, length_add(bounds.most, length_from_nm(1))) - first;
	}
	out->cylinders = arena_take(question->arena, count, sizeof *out->cylinders);
	for (size_t i = first; i < first + count; i++) {
		if (within(&bounds, whole->cylinders[i].own)) {
			out->cylinders[out->cylinder_count++] = whole->cylinders[i];
		}
	}
}

static void near_gears(const struct question *question, const struct shelf *whole,
                       struct shelf *out)
{
	struct bounds bounds = gear_bounds(question, out);
	out->gears = arena_take(question->arena, whole->gear_count, sizeof *out->gears);
	out->gear_count = 0;
	for (size_t i = 0; i < whole->gear_count; i++) {
		if (within(&bounds, whole->gears[i].own)) {
			out->gears[out->gear_count++] = whole->gears[i];
		}
	}
}

void shelf_near(const struct question *question, const struct shelf *whole, struct shelf *out)
{
	*out = *whole;
	near_cylinders(question, whole, out);
	near_gears(question, whole, out);
}
