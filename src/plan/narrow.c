/*
 * Of the tools loaded, those that suit some need by themselves. The choice looks at no others, so
 * that a large shelf costs little more than what it offers for the job.
 */
#include "internal.h"

/* ---------------------------------------------------------------- rolls and blades */

/* Does a roll that wears pass through the volumes that a station takes on some run of the job? */
static bool passes_through(const struct question *question, const struct station *station,
                           const struct anilox *roll)
{
	const struct known_length none = {.known = false};
	const struct known_length run =
		layout_run_most(&question->layout, question->job->quantity, question->limits->overs);
	struct volume least, most;
	volumes_taken(station, question->limits, &least, &most);
	return volume_to_micro(volume_at_end(roll, none).value) >= volume_to_micro(least) &&
	       (!run.known || volume_to_micro(volume_at_end(roll, run).value) <= volume_to_micro(most));
}

/* How long the run is hangs on the repeat: where that is yet to come no one volume is asked of a
 * roll that wears. */
static bool roll_suits_at_some_run(const struct question *question, const struct station *station,
                                   const struct anilox *roll)
{
	struct anilox judged = *roll;
	if (roll->forecast.known && !question->layout.run.known) {
		if (!passes_through(question, station, roll)) {
			return false;
		}
		judged.forecast.known = judged.reading.now.known = judged.volume.known = false;
	}
	return anilox_suits(&judged, station, &question->layout, &question->press->press,
	                    question->limits, NULL) != SUITS_NOT;
}

static bool roll_suits_some(const struct question *question, const struct anilox *roll)
{
	for (size_t row = 0; row < question->printing_count; row++) {
		if (roll_suits_at_some_run(question, &question->printing[row], roll)) {
			return true;
		}
	}
	return false;
}

/* A blade asks of a roll nothing but its face: one roll of each face stands for all. */
static size_t rolls_by_face(const struct question *question, const struct shelf *shelf,
                            const struct anilox ***out)
{
	const struct anilox **rolls =
		arena_take(question->arena, shelf->roll_count, sizeof(struct anilox *));
	size_t count = 0;
	for (size_t i = 0; i < shelf->roll_count; i++) {
		const struct anilox *roll = &shelf->rolls[i];
		bool seen = !roll->tool.face.known;
		for (size_t j = 0; j < count && !seen; j++) {
			seen = length_compare(rolls[j]->tool.face.value, roll->tool.face.value) == 0;
		}
		if (!seen) {
			rolls[count++] = roll;
		}
	}
	*out = rolls;
	return count;
}

void question_narrow_rolls(struct question *question)
{
	const struct shelf *whole = question->whole;
	struct shelf *shelf = question->shelf;
	const struct anilox **faces;
	/* What is left of a blade's life hangs on the run, and that on the repeat. */
	struct layout layout = question->layout;
	layout.run.known = false;
	shelf->rolls = arena_take(question->arena, whole->roll_count, sizeof *shelf->rolls);
	shelf->blades = arena_take(question->arena, whole->blade_count, sizeof *shelf->blades);
	shelf->roll_count = shelf->blade_count = 0;
	for (size_t i = 0; i < whole->roll_count; i++) {
		if (roll_suits_some(question, &whole->rolls[i])) {
			shelf->rolls[shelf->roll_count++] = whole->rolls[i];
		}
	}
	size_t count = rolls_by_face(question, shelf, &faces);
	for (size_t i = 0; i < whole->blade_count; i++) {
		bool suits = false;
		for (size_t j = 0; j < count && !suits; j++) {
			suits = blade_suits(&whole->blades[i], faces[j], &layout, &question->press->press,
			                    question->limits, NULL) != SUITS_NOT;
		}
		if (suits) {
			shelf->blades[shelf->blade_count++] = whole->blades[i];
		}
	}
}

/* ---------------------------------------------------------------- what the repeat matters to */

static void narrow_cylinders(const struct question *question, struct shelf *shelf)
{
	struct shelf *whole = question->whole;
	struct question all = *question;
	all.shelf = whole;
	shelf->cylinders = arena_take(question->arena, whole->cylinder_count, sizeof *shelf->cylinders);
	shelf->cylinder_count = 0;
	for (size_t i = 0; i < whole->cylinder_count; i++) {
		bool suits = false;
		for (size_t row = 0; row < question->printing_count && !suits; row++) {
			suits = cylinder_rules.item_suits(&all, row, i, NULL) != SUITS_NOT;
		}
		if (suits) {
			shelf->cylinders[shelf->cylinder_count++] = whole->cylinders[i];
		}
	}
}

static void narrow_gears(const struct question *question, struct shelf *shelf)
{
	const struct shelf *whole = question->whole;
	const struct press *press = &question->press->press;
	shelf->gears = arena_take(question->arena, whole->gear_count, sizeof *shelf->gears);
	shelf->gear_count = 0;
	for (size_t i = 0; i < whole->gear_count; i++) {
		bool suits = false;
		for (size_t j = 0; j < shelf->cylinder_count && !suits; j++) {
			suits = cylinder_needs_gear(&shelf->cylinders[j], press) &&
			        gear_suits(&whole->gears[i], &shelf->cylinders[j], press, question->limits,
			                   NULL) != SUITS_NOT;
		}
		if (suits) {
			shelf->gears[shelf->gear_count++] = whole->gears[i];
		}
	}
}

static void narrow_dies(const struct question *question, struct shelf *shelf)
{
	struct shelf *whole = question->whole;
	struct question all = *question;
	all.shelf = whole;
	shelf->dies = arena_take(question->arena, whole->die_count, sizeof *shelf->dies);
	shelf->die_count = 0;
	for (size_t i = 0; i < whole->die_count; i++) {
		bool suits = false;
		for (size_t row = 0; row < question->cut_count && !suits; row++) {
			suits = die_rules.item_suits(&all, row, i, NULL) != SUITS_NOT;
		}
		if (suits) {
			shelf->dies[shelf->die_count++] = whole->dies[i];
		}
	}
}

static void narrow_magnetic_cylinders(const struct question *question, struct shelf *shelf)
{
	const struct shelf *whole = question->whole;
	size_t count = 0;
	shelf->magnetic_cylinders = arena_take(question->arena, whole->magnetic_cylinder_count,
	                                       sizeof *shelf->magnetic_cylinders);
	for (size_t i = 0; i < whole->magnetic_cylinder_count; i++) {
		const struct magnetic_cylinder *cylinder = &whole->magnetic_cylinders[i];
		bool suits = false;
		for (size_t j = 0; j < shelf->die_count && !suits; j++) {
			suits = shelf->dies[j].build == BUILD_FLEXIBLE &&
			        magnetic_cylinder_suits(cylinder, &shelf->dies[j], &question->press->press,
			                                question->limits, NULL) != SUITS_NOT;
		}
		if (suits) {
			shelf->magnetic_cylinders[count++] = *cylinder;
		}
	}
	shelf->magnetic_cylinder_count = count;
}

void question_narrow_by_repeat(struct question *question)
{
	narrow_cylinders(question, question->shelf);
	narrow_gears(question, question->shelf);
	narrow_dies(question, question->shelf);
	narrow_magnetic_cylinders(question, question->shelf);
}

void question_narrow(struct question *question, bool repeat_judged)
{
	question->shelf = arena_take(question->arena, 1, sizeof *question->shelf);
	question_narrow_rolls(question);
	if (repeat_judged) {
		question_narrow_by_repeat(question);
	}
}
