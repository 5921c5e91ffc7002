/* A tool as `show` tells it: where it is in words, what stops it, the figures of its kind. */
#include <stdio.h>
#include <string.h>

#include "show.h"

#define READINGS_SHOWN 5

/* ---------------------------------------------------------------- where it is */

static enum outcome places_of(struct telling *telling, int64_t place, struct place_around **out,
                              size_t *count, struct fault *fault)
{
	*count = 0;
	return place != 0
	           ? store_places_around(telling->store, telling->arena, place, out, count, fault)
	           : OUTCOME_DONE;
}

/* Lying in a store, standing at a press or with a supplier. */
static const char *preposition(const char *sort)
{
	return strcmp(sort, "press") == 0 ? "at" : strcmp(sort, "supplier") == 0 ? "at supplier" : "in";
}

/* `in rack 1, bottom shelf (R1-3), its home, out for job J2601` */
static const char *whereabouts(struct telling *telling, const struct tool_state *tool,
                               const struct place_around *place)
{
	struct text text = text_start(telling->arena);
	if (place == NULL) {
		text_add(&text, "place not known");
	} else if (strcmp(tool->place_sort, "lost") == 0) {
		text_add_format(&text, "lost: %s", place_words(telling->arena, place));
	} else {
		text_add_format(&text, "%s %s", preposition(tool->place_sort),
		                place_words(telling->arena, place));
	}
	if (place != NULL && tool->place == tool->home) {
		text_add(&text, ", its home");
	}
	if (tool->back != NULL) {
		text_add_format(&text, ", due back %s", tool->back);
	} else if (place != NULL && strcmp(tool->place_sort, "supplier") == 0) {
		text_add(&text, ", no date back");
	}
	if (tool->taken_for != NULL) {
		text_add_format(&text, ", out for job %s", tool->taken_for);
	}
	return text.bytes;
}

/* That it is nowhere to be used at is what the whereabouts say already. */
static void tell_place_obstacle(struct shown *shown)
{
	static const char *const starts[] = {"place not known", "at supplier ", "lost"};
	for (size_t i = 0; i < shown->obstacle_count; i++) {
		for (size_t j = 0; j < COUNT_OF(starts); j++) {
			if (strncmp(shown->obstacles[i], starts[j], strlen(starts[j])) == 0) {
				shown->place_obstacle = shown->obstacles[i];
			}
		}
	}
}

/* The station that it sits on, or the place, is on hold: nothing runs there. */
static void tell_held_place(struct telling *telling, const struct place_around *places,
                            size_t count)
{
	if (count > 0 && places[0].held) {
		tell_obstacle(telling,
		              arena_format(telling->arena, "%s, where it is, is %s", places[0].code,
		                           held_words(telling->arena, &places[0])));
	}
}

static enum outcome tell_where(struct telling *telling, struct fault *fault)
{
	struct tool_state tool;
	struct place_around *places = NULL, *homes = NULL;
	size_t count = 0, home_count = 0;
	enum outcome outcome =
		store_tool_state(telling->store, telling->arena, telling->out->record->id, &tool, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = places_of(telling, tool.place, &places, &count, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = places_of(telling, tool.home, &homes, &home_count, fault);
	}
	if (outcome == OUTCOME_DONE) {
		telling->out->whereabouts = whereabouts(telling, &tool, count > 0 ? places : NULL);
		tell_places(telling, places, count);
		if (home_count > 0 && tool.home != tool.place) {
			telling->out->home =
				arena_format(telling->arena, "its home is %s", place_words(telling->arena, homes));
		}
		tell_covered(telling, "place home back condition");
		const char *note = attribute_words(telling, "note");
		if (note != NULL && tool.condition_reason != NULL &&
		    strcmp(note, tool.condition_reason) == 0) {
			tell_covered(telling, "note");
		}
		tell_place_obstacle(telling->out);
		tell_held_place(telling, places, count);
	}
	return outcome;
}

/* ---------------------------------------------------------------- figures of several kinds */

/* `330mm`, or what is left of it where part is damaged. */
static void tell_face(struct telling *telling, const struct tool *tool)
{
	struct known_length usable = usable_face(tool);
	const char *face = attribute_words(telling, "face");
	const char *from = attribute_words(telling, "face_from");
	const char *to = attribute_words(telling, "face_to");
	if (from != NULL || to != NULL) {
		const char *width =
			usable.known ? tooling_words(telling, usable.value) : "not known how much";
		face = arena_format(telling->arena, "%s usable, from %s to %s%s%s", width,
		                    from != NULL ? from : "not known", to != NULL ? to : "not known",
		                    face != NULL ? ", of " : "", face != NULL ? face : "");
	}
	tell_words(telling, "face", "face face_from face_to", face);
	tell_data(telling, "usable_face", value_of_length(VALUE_TOOLING, usable.known, usable.value));
}

/* An attribute that is a length of web, so. */
static const char *web_attribute_words(struct telling *telling, const char *name)
{
	const struct record *record = telling->out->record;
	const struct value *value = &record->values[kind_attribute_find(record->kind, name)];
	return value->known ? web_words(telling, value->length) : NULL;
}

/* `1059300m, 3475393 revolutions` */
static void tell_run(struct telling *telling, const struct tool *tool, struct repeat own)
{
	const char *run = web_attribute_words(telling, "run");
	int64_t revolutions = 0;
	bool known = tool->run.known && revolutions_of(tool->run.value, own, &revolutions);
	if (run != NULL && known) {
		run = arena_format(telling->arena, "%s, %lld revolutions", run, (long long)revolutions);
	}
	tell_words(telling, "run", "run", run);
	tell_data(telling, "revolutions", value_of_count(known, revolutions));
}

static void tell_angles(struct telling *telling)
{
	tell_attribute(telling, "pressure_angle");
	tell_attribute(telling, "helix");
	tell_attribute(telling, "hand");
}

static enum suits life_level(const struct telling *telling)
{
	return telling->limits.life_over == LIFE_OVER_SHORT ? SUITS_NOT : SUITS_DOUBTFUL;
}

/* A life that is over stops a tool, or is a caution: as the shop has set. */
static void tell_life_over(struct telling *telling, const char *past)
{
	struct remarks remarks = {.count = 0};
	remark_add(&remarks, SUITS_YES, life_level(telling), "life over, by %s", past);
	tell_remarks(telling, &remarks);
}

/* ---------------------------------------------------------------- kinds */

static void tell_cylinder(struct telling *telling, const struct cylinder *cylinder)
{
	struct remarks remarks = {.count = 0};
	struct real_length buildup;
	bool known = buildup_taken(cylinder, &buildup);
	/* What is worked out is told to 0.001 mm or 0.00001 in, as the check tells it. */
	int64_t step = telling->units == UNITS_INCH ? NM_OF_INCH / 100000 : NM_OF_MM / 1000;
	struct length rounded = known ? real_round(buildup) : length_from_nm(0);
	const char *limit = tooling_words(telling, telling->limits.runout);
	const char *runout = attribute_words(telling, "runout");

	tell_repeat(telling, cylinder->own);
	tell_attribute(telling, "drive");
	tell_face(telling, &cylinder->tool);
	tell_attribute(telling, "undercut");
	tell_attribute(telling, "diameter");
	tell_figure(telling, "buildup", NULL, value_of_length(VALUE_TOOLING, known, rounded),
	            known ? arena_format(telling->arena, "%s of plate and tape",
	                                 tooling_words(telling, length_stepped(rounded, step)))
	                  : "not known: neither diameter nor undercut on record");
	tell_words(telling, "runout", "runout",
	           arena_format(telling->arena, "%s, %s at most", runout != NULL ? runout : "not known",
	                        limit));
	tell_attribute(telling, "carries");
	tell_run(telling, &cylinder->tool, cylinder->own);
	tell_attribute(telling, "bore");
	tell_angles(telling);
	runout_suits(cylinder, &telling->limits, &remarks);
	tell_remarks(telling, &remarks);
}

static void tell_gear(struct telling *telling, const struct gear *gear)
{
	tell_repeat(telling, gear->own);
	tell_attribute(telling, "bore");
	tell_angles(telling);
}

/* `26%, 20% at most`; `51.2% more than when new` of one that was read above that. */
static const char *loss_words(const struct telling *telling, struct percent lost)
{
	struct value value = {.type = VALUE_PERCENT, .known = true, .percent = lost};
	int64_t stored = value_to_stored(&value);
	if (stored < 0) {
		struct percent more = value_from_stored(VALUE_PERCENT, -stored).percent;
		return arena_format(telling->arena, "%s more than when new", percent_text(more).bytes);
	}
	return arena_format(telling->arena, "%s, %s at most", percent_text(lost).bytes,
	                    percent_text(telling->limits.volume_loss).bytes);
}

/* `2188000m, by its readings 2310000m` where these tell another; see `wear`. */
static void tell_run_of_roll(struct telling *telling, const struct wear_kept *wear)
{
	const char *run = web_attribute_words(telling, "run");
	const struct value *on_record = record_known(telling->out->record, "run");
	struct value read = {.type = VALUE_WEB, .known = wear->known, .length = wear->run_read};
	bool same = on_record != NULL ? length_compare(on_record->length, wear->run_read) == 0
	                              : length_compare(wear->run_read, length_from_nm(0)) == 0;
	if (wear->known && !same) {
		run = arena_format(telling->arena, "%s, by its readings %s",
		                   run != NULL ? run : "not known", web_words(telling, wear->run_read));
	}
	tell_words(telling, "run", "run", run);
	tell_data(telling, "run_by_readings", read);
}

static void tell_anilox(struct telling *telling, const struct anilox *roll,
                        const struct wear_kept *wear)
{
	struct remarks remarks = {.count = 0};
	struct arena *arena = telling->arena;
	const struct roll_reading *reading = &roll->reading;
	struct value now = {.type = VALUE_VOLUME,
	                    .known = reading->now.known,
	                    .volume = reading->now.value};
	struct known_percent lost = volume_lost(roll);
	const char *said = reading->read_after_run_only
	                       ? "not known: read only after a run, not after cleaning"
	                       : "not known: never read since it was engraved";
	if (now.known) {
		said = arena_format(arena, "%s, read after cleaning %s",
		                    value_text(arena, &now, telling->units),
		                    moment_text(reading->moment.value).bytes);
	}
	tell_attribute(telling, "line_screen");
	tell_figure(telling, "volume_now", NULL, now, said);
	tell_data(telling, "read_at",
	          (struct value){.type = VALUE_MOMENT,
	                         .known = reading->moment.known,
	                         .moment = reading->moment.value});
	const char *new = attribute_words(telling, "volume");
	tell_words(telling, "volume", "volume",
	           new != NULL ? arena_format(arena, "%s when new", new) : NULL);
	tell_figure(telling, "loss", NULL,
	            (struct value){.type = VALUE_PERCENT, .known = lost.known, .percent = lost.value},
	            lost.known ? loss_words(telling, lost.value) : NULL);
	tell_attribute(telling, "angle");
	tell_face(telling, &roll->tool);
	tell_run_of_roll(telling, wear);
	volume_loss_suits(roll, &telling->limits, &remarks);
	volume_gain_suits(roll, &telling->limits, &remarks);
	tell_remarks(telling, &remarks);
}

static void tell_blade(struct telling *telling, const struct blade *blade)
{
	struct known_length left = blade_life_left(blade);
	const struct length none = length_from_nm(0);
	bool over = left.known && length_compare(left.value, none) < 0;
	tell_attribute(telling, "length");
	tell_attribute(telling, "material");
	tell_attribute(telling, "edge");
	tell_attribute(telling, "thickness");
	tell_words(telling, "life", "life",
	           blade->life.known ? web_attribute_words(telling, "life") : "not known");
	tell_words(telling, "run", "run", web_attribute_words(telling, "run"));
	tell_figure(telling, "life_left", NULL, value_of_length(VALUE_WEB, left.known, left.value),
	            !left.known ? NULL
	            : over      ? "none"
	                        : web_words(telling, left.value));
	if (over) {
		tell_life_over(telling, web_words(telling, length_subtract(none, left.value)));
	}
}

static void tell_die_life(struct telling *telling, const struct die *die)
{
	int64_t left = 0;
	bool known = die_life_left(die, &left);
	struct length web = real_round(real_times(repeat_length(die->own), (long double)left));
	bool over = known && left < 0;
	tell_words(telling, "life", "life",
	           die->life.known
	               ? arena_format(telling->arena, "%lld revolutions", (long long)die->life.value)
	               : "not known");
	tell_run(telling, &die->tool, die->own);
	tell_figure(telling, "life_left", NULL, value_of_count(known, left),
	            !known ? NULL
	            : over ? "none"
	                   : arena_format(telling->arena, "%lld revolutions, %s", (long long)left,
	                                  web_words(telling, web)));
	tell_data(telling, "life_left_web", value_of_length(VALUE_WEB, known, web));
	if (over) {
		tell_life_over(telling, arena_format(telling->arena, "%lld revolution%s", (long long)-left,
		                                     left == -1 ? "" : "s"));
	}
}

/* `3 across, 3 around`; `3mm across, 3mm around`. */
static void tell_across_around(struct telling *telling, const char *name, const char *across_name,
                               const char *around_name, const char *covers)
{
	const char *across = attribute_words(telling, across_name);
	const char *around = attribute_words(telling, around_name);
	struct text text = text_start(telling->arena);
	if (across != NULL) {
		text_add_format(&text, "%s across", across);
	}
	if (around != NULL) {
		text_join(&text, ", ", around);
		text_add(&text, " around");
	}
	tell_words(telling, name, covers, text.length > 0 ? text.bytes : NULL);
}

/* Teeth and web that one label takes: by these a die serves cylinders of other repeats. */
static void tell_per_label(struct telling *telling, const struct die *die)
{
	bool known = die->own.known && die->number_around.known && die->number_around.value > 0;
	int64_t around = known ? die->number_around.value : 1;
	struct length web = real_round(real_times(repeat_length(die->own), 1 / (long double)around));
	double teeth = (double)die->own.teeth / (double)around;
	tell_figure(telling, "web_per_label", NULL, value_of_length(VALUE_TOOLING, known, web),
	            known && die->own.toothed ? arena_format(telling->arena, "%s, %.6g teeth",
	                                                     tooling_words(telling, web), teeth)
	                                      : NULL);
	tell_data(telling, "teeth_per_label",
	          (struct value){.type = VALUE_NUMBER,
	                         .known = known && die->own.toothed,
	                         .number = teeth});
}

static void tell_die(struct telling *telling, const struct die *die)
{
	tell_attribute(telling, "cut");
	tell_attribute(telling, "build");
	tell_label(telling);
	tell_across_around(telling, "number", "number_across", "number_around",
	                   "number_across number_around");
	tell_across_around(telling, "gap", "gap_across", "gap_around", "gap_across gap_around");
	tell_repeat(telling, die->own);
	tell_per_label(telling, die);
	tell_attribute(telling, "die_gap");
	tell_attribute(telling, "liner_caliper");
	tell_face(telling, &die->tool);
	tell_die_life(telling, die);
}

static void tell_magnetic_cylinder(struct telling *telling,
                                   const struct magnetic_cylinder *cylinder)
{
	tell_repeat(telling, cylinder->own);
	tell_attribute(telling, "die_gap");
	tell_face(telling, &cylinder->tool);
	tell_run(telling, &cylinder->tool, cylinder->own);
}

static void tell_kind(struct telling *telling, const union any_tool *tool,
                      const struct wear_kept *wear)
{
	switch (telling->out->record->kind->id) {
	case KIND_CYLINDER:
		tell_cylinder(telling, &tool->cylinder);
		break;
	case KIND_GEAR:
		tell_gear(telling, &tool->gear);
		break;
	case KIND_ANILOX:
		tell_anilox(telling, &tool->anilox, wear);
		break;
	case KIND_BLADE:
		tell_blade(telling, &tool->blade);
		break;
	case KIND_DIE:
		tell_die(telling, &tool->die);
		break;
	case KIND_MAGNETIC_CYLINDER:
		tell_magnetic_cylinder(telling, &tool->magnetic_cylinder);
		break;
	case KIND_OPERATOR:
	case KIND_PLACE:
	case KIND_PRESS:
	case KIND_JOB:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
}

static enum outcome show_readings(struct telling *telling, struct fault *fault)
{
	int64_t ids[READINGS_SHOWN];
	size_t count;
	enum outcome outcome = store_readings_latest(telling->store, telling->out->record->id, ids,
	                                             COUNT_OF(ids), &count, fault);
	telling->out->rows = arena_take(telling->arena, READINGS_SHOWN, sizeof(struct record *));
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		int64_t life;
		bool runs;
		outcome = store_reading_life(telling->store, ids[i], &life, &runs, fault);
		/* What was read before it was engraved anew tells nothing of it now. */
		if (outcome == OUTCOME_DONE && runs) {
			outcome = show_row(telling, KIND_READING, ids[i], fault);
		}
	}
	return outcome;
}

enum outcome show_tool(struct telling *telling, struct fault *fault)
{
	union any_tool tool;
	struct remarks remarks = {.count = 0};
	const struct kind *kind = telling->out->record->kind;
	struct span now = {.from = telling->now, .until = telling->now, .now = telling->now};
	enum outcome outcome = store_tool(telling->store, telling->arena, kind->id,
	                                  telling->out->record->id, &tool, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	/* That plates of a job are on a cylinder is a figure here, whichever job comes next. */
	tool_there(&tool.tool, NULL, 0, now, &telling->limits, false, &remarks);
	tell_remarks(telling, &remarks);
	outcome = tell_where(telling, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = tell_bookings(telling, &tool.tool, fault);
	}
	struct wear_kept wear = {.known = false};
	if (outcome == OUTCOME_DONE && kind->id == KIND_ANILOX) {
		outcome = store_wear(telling->store, telling->arena, tool.tool.id, &wear, fault);
	}
	if (outcome == OUTCOME_DONE) {
		tell_kind(telling, &tool, &wear);
		outcome = tell_care(telling, fault);
	}
	return outcome == OUTCOME_DONE && kind->id == KIND_ANILOX ? show_readings(telling, fault)
	                                                          : outcome;
}
