/*
 * The repeats of a new job: the lengths of the shelf's cylinders that suit it, each with every
 * number around whose gap is in limits.
 */
#include <string.h>

#include "internal.h"
#include "words.h"

struct layout layout_at(const struct question *question, struct candidate candidate)
{
	struct layout layout = question->layout;
	layout.repeat = candidate.repeat;
	layout.number_around = (struct known_count){.known = candidate.number_around > 0,
	                                            .value = candidate.number_around};
	layout_complete(&layout, question->job->quantity, question->limits->overs);
	return layout;
}

/* The same shelf, another repeat: for asking whether one cylinder would do. */
static struct question question_of(const struct question *question, struct candidate candidate)
{
	struct question at = *question;
	at.layout = layout_at(question, candidate);
	return at;
}

struct question question_at(const struct question *question, struct candidate candidate)
{
	struct question at = question_of(question, candidate);
	struct shelf *near = arena_take(question->arena, 1, sizeof *near);
	shelf_near(&at, question->whole, near);
	at.whole = near;
	at.shelf = arena_take(question->arena, 1, sizeof *at.shelf);
	*at.shelf = *question->shelf;
	question_narrow_by_repeat(&at);
	return at;
}

/* `cylinder at stations 2 and 3; die`: the needs that are short. */
static const char *lacks_of(struct arena *arena, const struct check *check)
{
	struct text lacks = text_start(arena);
	for (size_t i = 0; i < check->finding_count; i++) {
		const struct finding *finding = &check->findings[i];
		int64_t stations[64];
		size_t count = 0;
		bool told = false;
		for (size_t j = 0; j < check->finding_count; j++) {
			const struct finding *other = &check->findings[j];
			if (other->level != FINDING_SHORT || strcmp(other->need, finding->need) != 0) {
				continue;
			}
			told = told || j < i;
			if (other->station != 0 && count < COUNT_OF(stations)) {
				stations[count++] = other->station;
			}
		}
		if (finding->level != FINDING_SHORT || told) {
			continue;
		}
		text_join(&lacks, "; ", finding->need);
		if (count > 0) {
			text_add_format(&lacks, " at %s", words_of_numbers(arena, "station", stations, count));
		}
	}
	return lacks.bytes;
}

/* Told before the cylinders of its length are looked at. */
static bool is_hopeless_at(const struct question *question, struct candidate candidate)
{
	struct question at = question_of(question, candidate);
	struct shelf shelf = *question->shelf;
	shelf.dies = question->whole->dies;
	shelf.die_count = question->whole->die_count;
	at.shelf = &shelf;
	return question_is_hopeless(&at, false);
}

struct standing candidate_standing(const struct question *question, struct candidate candidate,
                                   const struct standing *bar, const char **lacks)
{
	struct arena *arena = arena_new();
	struct question here = *question;
	struct solution solution;
	here.arena = arena;
	here.trial = true;
	here.bar = bar;
	if (bar != NULL && is_hopeless_at(&here, candidate)) {
		arena_free(arena);
		return *bar;
	}
	struct question at = question_at(&here, candidate);
	question_solve(&at, true, &solution);
	if (lacks != NULL) {
		*lacks = arena_copy(question->arena, lacks_of(arena, &solution.check));
	}
	arena_free(arena);
	return solution.standing;
}

/*
 * On a geared press by teeth and pitch, since the pitch is that of all
 * cylinders; else by length: in one class exactly, or to the nanometre that a plain length is kept
 * in.
 */
bool candidate_repeats_same(const struct question *question, struct repeat a, struct repeat b)
{
	const struct press *press = &question->press->press;
	if (a.toothed && b.toothed && press->drive_known && press->geared) {
		return a.teeth == b.teeth && pitch_equal(a.pitch, b.pitch);
	}
	if (a.toothed && b.toothed) {
		return pitch_multiples_equal(a.teeth, a.pitch, b.teeth, b.pitch);
	}
	return length_compare(real_round(repeat_length(a)), real_round(repeat_length(b))) == 0;
}

/*
 * Does a cylinder suit any station that must be in register at its own length; any station, where
 * none must be?
 */
static bool gives_repeat(const struct question *question, const struct cylinder *cylinder)
{
	struct question at = question_of(question, (struct candidate){.repeat = cylinder->own});
	bool any_registered = false, any = question->printing_count == 0;
	for (size_t i = 0; i < question->printing_count; i++) {
		any_registered = any_registered || question->printing[i].registered;
	}
	for (size_t i = 0; i < question->printing_count && !any; i++) {
		const struct station *station = &question->printing[i];
		any = (station->registered || !any_registered) &&
		      cylinder_suits(cylinder, station, &at.layout, &question->press->press,
		                     question->limits, NULL) != SUITS_NOT;
	}
	return any;
}

/*
 * Where among the repeats found a cylinder's may stand. Those that are the same are of one length,
 * so that of a shelf by length only the last found can be.
 */
static size_t first_alike(const struct shelf *shelf, size_t cylinder, size_t first, size_t count)
{
	const struct cylinder *cylinders = &shelf->cylinders[cylinder];
	if (!shelf->by_length) {
		return 0;
	}
	bool longer = cylinder > 0 && length_compare(real_round(repeat_length(cylinders[0].own)),
	                                             real_round(repeat_length(cylinders[-1].own))) != 0;
	return longer ? count : first;
}

/* The lengths, each once; one with teeth stands for a plain one of the same length. */
static size_t repeats_of_shelf(const struct question *question, struct repeat **out)
{
	const struct shelf *shelf = question->whole;
	struct repeat *repeats = arena_take(question->arena, shelf->cylinder_count, sizeof *repeats);
	size_t count = 0, first = 0;
	for (size_t i = 0; i < shelf->cylinder_count; i++) {
		const struct cylinder *cylinder = &shelf->cylinders[i];
		if (!cylinder->own.known) {
			continue;
		}
		first = first_alike(shelf, i, first, count);
		size_t known = first;
		while (known < count && !candidate_repeats_same(question, repeats[known], cylinder->own)) {
			known++;
		}
		if (known < count && (repeats[known].toothed || !cylinder->own.toothed)) {
			continue;
		}
		if (gives_repeat(question, cylinder)) {
			repeats[known] = cylinder->own;
			count += known == count ? 1 : 0;
		}
	}
	*out = repeats;
	return count;
}

struct candidate_list {
	struct candidate *items;
	size_t count, room;
};

static void candidate_add(const struct question *question, struct candidate candidate,
                          struct candidate_list *list)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items =
			arena_grow(question->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	list->items[list->count++] = candidate;
}

size_t candidates_find(const struct question *question, struct candidate **out)
{
	const struct layout *layout = &question->layout;
	struct repeat *repeats;
	struct candidate_list list = {.items = NULL};
	size_t count = layout->label_around.known ? repeats_of_shelf(question, &repeats) : 0;
	for (size_t i = 0; i < count; i++) {
		const struct length *least =
			layout->gap_around_min.known ? &layout->gap_around_min.value : NULL;
		const struct length *most =
			layout->gap_around_max.known ? &layout->gap_around_max.value : NULL;
		size_t around_count =
			around_choices(repeats[i], layout->label_around.value, least, most, NULL, 0);
		struct around *arounds = arena_take(question->arena, around_count, sizeof *arounds);
		around_choices(repeats[i], layout->label_around.value, least, most, arounds, around_count);
		for (size_t j = 0; j < around_count; j++) {
			if (!layout->number_around.known ||
			    layout->number_around.value == arounds[j].number_around) {
				candidate_add(question, (struct candidate){repeats[i], arounds[j].number_around},
				              &list);
			}
		}
	}
	*out = list.items;
	return list.count;
}
