/*
 * What was done and found since a life began, put on record before its beginning was: it is of that
 * life. No engraving mends what was found after it.
 */
#include "late_life.h"

#define BANDS_TOLD 4

/* ---------------------------------------------------------------- damage */

/* Of the life that runs, latest first: all bands; the first of them were found since. */
static enum outcome read_damage(struct late_life *late, struct damage_band **bands, size_t *count,
                                struct fault *fault)
{
	enum outcome outcome = store_care_of(late->store, late->arena, late->tool->found.id, "damaged",
	                                     SIZE_MAX, &late->damage, count, fault);
	*bands = NULL;
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	*bands = arena_take(late->arena, *count + 1, sizeof **bands);
	for (size_t i = 0; i < *count; i++) {
		(*bands)[i] = late->damage[i].band;
		if (moment_compare(late->damage[i].moment, late->found.began) >= 0) {
			late->damage_count = i + 1;
		}
	}
	return outcome;
}

/* `100mm..120mm (2026-01-07T09:00: scored), 0mm..10mm (2026-01-05T14:00)` */
static const char *damage_text(const struct late_life *late)
{
	struct text text = text_start(late->arena);
	for (size_t i = 0; i < late->damage_count && i < BANDS_TOLD; i++) {
		const struct care_row *row = &late->damage[i];
		text_join(&text, ", ", care_band(late->arena, &row->band, late->units));
		text_add_format(&text, " (%s%s%s)", moment_text(row->moment).bytes,
		                row->note != NULL ? ": " : "", row->note != NULL ? row->note : "");
	}
	text_add(&text, late->damage_count > BANDS_TOLD ? ", and more" : "");
	return text.bytes;
}

/* Does all the damage on record make the usable band? Else a person told it. */
static bool is_made(const struct record *record, struct known_length face,
                    const struct damage_band *bands, size_t count)
{
	struct known_length from = care_length(record, "face_from"),
						to = care_length(record, "face_to");
	struct length none = length_from_nm(0), made_from, made_to;
	return face.known && face_left(face.value, bands, count, &made_from, &made_to) &&
	       length_compare(made_from, from.known ? from.value : none) == 0 &&
	       length_compare(made_to, to.known ? to.value : face.value) == 0;
}

static void keep_usable(const struct late_life *late)
{
	static const char *const edges[] = {"face_from", "face_to"};
	for (size_t i = 0; i < COUNT_OF(edges); i++) {
		struct known_length edge = care_length(late->tool->before, edges[i]);
		care_length_set(late->tool->after, edges[i], edge.known, edge.value);
	}
}

/* Whole, where nothing was found or told since. */
static void work_out_usable(struct late_life *late, const struct damage_band *bands, size_t count,
                            struct cared *out)
{
	struct record *after = late->tool->after;
	struct known_length face = care_length(after, "face");
	struct known_moment told = late->found.usable_told;
	struct damage_band usable;
	bool told_since = told.known && moment_compare(told.value, late->found.began) >= 0;
	bool by_hand = told_since && !is_made(late->tool->before, face, bands, count);
	bool left =
		face.known && face_left(face.value, bands, late->damage_count, &usable.from, &usable.to);
	if (by_hand || (late->damage_count > 0 && !left)) {
		keep_usable(late);
	} else if (late->damage_count > 0) {
		care_length_set(after, "face_from", true, usable.from);
		care_length_set(after, "face_to", true, usable.to);
		out->usable = care_usable(late->arena, &usable, face.value, late->units);
		care_question(late->arena, out, "damage found since %s %s counts on: %s", late->date,
		              moment_text(late->since).bytes, damage_text(late));
	}
}

/* ---------------------------------------------------------------- all of it */

/* What was gauged is later than what was given of the beginning; a person's word stands. */
static void question_diameter(const struct late_life *late, struct cared *out)
{
	struct known_length given = care_length(late->tool->after, "diameter");
	struct known_length before = care_length(late->tool->before, "diameter");
	if (late->found.diameter.known && given.known && before.known &&
	    length_compare(given.value, before.value) != 0) {
		care_question(late->arena, out, "diameter gauged since %s %s was another: %s, now %s",
		              late->date, moment_text(late->since).bytes,
		              care_tooling(late->arena, late->found.diameter.value, late->units),
		              care_tooling(late->arena, given.value, late->units));
	}
}

enum outcome late_life_read(struct late_life *late, struct cared *out, struct fault *fault)
{
	struct damage_band *bands = NULL;
	size_t count = 0;
	late->damage_count = 0;
	enum outcome outcome =
		store_life_since(late->store, late->tool->found.id, late->since, &late->found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_damage(late, &bands, &count, fault);
	}
	if (outcome == OUTCOME_DONE) {
		work_out_usable(late, bands, count, out);
		question_diameter(late, out);
	}
	return outcome;
}

static void add_times(struct text *text, const char *word, int64_t times)
{
	if (times > 0) {
		text_join(text, ", ", word);
	}
	if (times > 1) {
		text_add_format(text, " %lld times", (long long)times);
	}
}

const char *late_life_text(const struct late_life *late)
{
	const struct life_since *found = &late->found;
	struct text text = text_start(late->arena);
	bool began_then = moment_compare(found->began, late->since) == 0;
	add_times(&text, "read", found->readings);
	add_times(&text, "cleaned", found->cleaned);
	add_times(&text, "marked dirty", found->dirty);
	add_times(&text, "gauged", found->gauged);
	add_times(&text, "found damaged", (int64_t)late->damage_count);
	return text.length > 0
	           ? arena_format(late->arena, "of this life since %s: %s",
	                          moment_text(began_then ? late->since : found->began).bytes,
	                          text.bytes)
	           : NULL;
}
