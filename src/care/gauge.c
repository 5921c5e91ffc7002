/* `gauge TAG`: diameter and runout as they are now, and damage across the face. */
#include <string.h>

#include "tool.h"

struct gauging {
	struct store *store;
	struct arena *arena;
	const struct gauge_asked *asked;
	enum units units;
	struct limits limits;
	struct care_tool tool;
	struct care_change change;
	struct damage_band usable;
	struct cared *out;
};

/* ---------------------------------------------------------------- what is refused */

static enum outcome refuse_kind(const struct gauging *gauging, const char *what, const char *those,
                                struct fault *fault)
{
	const struct kind *kind = gauging->tool.found.kind;
	fault_set(fault, OUTCOME_BAD, "%s is gauged of %s, not of %s %s: %s", what, those,
	          care_article(kind), kind->title, gauging->tool.state.tag);
	fault_hint(fault, "Type help gauge for what is gauged of which tool.");
	return OUTCOME_BAD;
}

static enum outcome check_asked(const struct gauging *gauging, struct fault *fault)
{
	const struct gauge_asked *asked = gauging->asked;
	enum kind_id kind = gauging->tool.found.kind->id;
	bool damaged = asked->damage_from.known || asked->damage_to.known;
	if (!asked->diameter.known && !asked->runout.known && !damaged) {
		fault_set(fault, OUTCOME_BAD, "what was gauged is not given: %s", gauging->tool.state.tag);
		fault_hint(fault, "Type diameter=..., runout=... or damage=FROM..TO behind it.");
		return OUTCOME_BAD;
	}
	if (asked->diameter.known && kind != KIND_CYLINDER && kind != KIND_ANILOX) {
		return refuse_kind(gauging, "diameter", "plate cylinders and anilox rolls", fault);
	}
	if (asked->runout.known && kind != KIND_CYLINDER) {
		return refuse_kind(gauging, "runout", "plate cylinders", fault);
	}
	if (asked->diameter.known && length_compare(asked->diameter.length, length_from_nm(0)) <= 0) {
		fault_set(fault, OUTCOME_BAD, "diameter must be more than nothing: %s",
		          care_tooling(gauging->arena, asked->diameter.length, gauging->units));
		fault_hint(fault, "Type what was gauged: diameter=92.8mm.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome refuse_nothing_left(const struct gauging *gauging, struct length face,
                                        struct fault *fault)
{
	const char *tag = gauging->tool.state.tag;
	fault_set(fault, OUTCOME_NO, "nothing of the face is left, nothing was recorded: %s, face %s",
	          tag, care_tooling(gauging->arena, face, gauging->units));
	fault_hint(fault, "Type scrap %s reason=..., or hold %s reason=... until it is decided.", tag,
	           tag);
	return OUTCOME_NO;
}

/* ---------------------------------------------------------------- damage */

/* The band, an open edge being that of the face. */
static enum outcome read_band(struct gauging *gauging, struct known_length face,
                              struct fault *fault)
{
	const struct gauge_asked *asked = gauging->asked;
	struct damage_band *band = &gauging->change.band;
	const char *tag = gauging->tool.state.tag;
	if (!face.known) {
		fault_set(fault, OUTCOME_NO, "face is not known, nor what is left of it: %s", tag);
		fault_hint(fault, "Type edit %s face=... with its whole width first.", tag);
		return OUTCOME_NO;
	}
	band->from = asked->damage_from.known ? asked->damage_from.length : length_from_nm(0);
	band->to = asked->damage_to.known ? asked->damage_to.length : face.value;
	if (length_compare(band->from, face.value) >= 0) {
		fault_set(fault, OUTCOME_BAD, "damage lies past the face: from %s, face %s",
		          care_tooling(gauging->arena, band->from, gauging->units),
		          care_tooling(gauging->arena, face.value, gauging->units));
		fault_hint(fault, "It is measured from the edge that face_from counts from.");
		return OUTCOME_BAD;
	}
	if (length_compare(band->from, band->to) >= 0) {
		fault_set(fault, OUTCOME_BAD, "damage must begin before it ends: %s",
		          care_band(gauging->arena, band, gauging->units));
		fault_hint(fault, "Type the lesser edge first, such as damage=100mm..120mm.");
		return OUTCOME_BAD;
	}
	if (length_compare(band->to, face.value) > 0) {
		care_question(gauging->arena, gauging->out, "damage reaches past the face: to %s, face %s",
		              care_tooling(gauging->arena, band->to, gauging->units),
		              care_tooling(gauging->arena, face.value, gauging->units));
	}
	gauging->change.damaged = true;
	return OUTCOME_DONE;
}

static bool is_covered(const struct damage_band *band, const struct damage_band *by, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (length_compare(by[i].from, band->from) <= 0 &&
		    length_compare(by[i].to, band->to) >= 0) {
			return true;
		}
	}
	return false;
}

/*
 * What lies outside of a usable band on record that the damages before do not make. It was put
 * there by hand, for damage that nobody put down: now it is.
 */
static void read_outside(struct gauging *gauging, struct length face,
                         const struct damage_band *before, size_t count)
{
	const struct record *record = gauging->tool.before;
	struct known_length from = care_length(record, "face_from"),
						to = care_length(record, "face_to");
	struct length made_from = length_from_nm(0), made_to = face;
	if (!from.known && !to.known) {
		return;
	}
	struct damage_band below = {length_from_nm(0), from.known ? from.value : length_from_nm(0)};
	struct damage_band above = {to.known ? to.value : face, face};
	if (face_left(face, before, count, &made_from, &made_to) &&
	    length_compare(made_from, below.to) == 0 && length_compare(made_to, above.from) == 0) {
		return;
	}
	const struct damage_band *const sides[] = {&below, &above};
	for (size_t i = 0; i < COUNT_OF(sides); i++) {
		if (length_compare(sides[i]->from, sides[i]->to) < 0 &&
		    !is_covered(sides[i], before, count)) {
			gauging->change.outside[gauging->change.outside_count++] = *sides[i];
			gauging->out->note = "the usable face on record was narrower than the damage on record "
								 "makes it: what lay outside of it counts as damaged";
		}
	}
}

/* By all that is damaged in this life: the usable band, or that nothing is left. */
static enum outcome work_out_usable(struct gauging *gauging, struct length face,
                                    struct fault *fault)
{
	struct care_row *rows;
	size_t count;
	struct care_change *change = &gauging->change;
	enum outcome outcome = store_care_of(gauging->store, gauging->arena, gauging->tool.found.id,
	                                     "damaged", SIZE_MAX, &rows, &count, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct damage_band *bands =
		arena_take(gauging->arena, count + COUNT_OF(change->outside) + 1, sizeof *bands);
	for (size_t i = 0; i < count; i++) {
		bands[i] = rows[i].band;
	}
	read_outside(gauging, face, bands, count);
	for (size_t i = 0; i < change->outside_count; i++) {
		bands[count++] = change->outside[i];
	}
	bands[count++] = change->band;
	return face_left(face, bands, count, &gauging->usable.from, &gauging->usable.to)
	           ? OUTCOME_DONE
	           : refuse_nothing_left(gauging, face, fault);
}

static enum outcome read_damage(struct gauging *gauging, struct fault *fault)
{
	struct known_length face = care_length(gauging->tool.before, "face");
	struct record *after = gauging->tool.after;
	if (!gauging->asked->damage_from.known && !gauging->asked->damage_to.known) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = read_band(gauging, face, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = work_out_usable(gauging, face.value, fault);
	}
	if (outcome == OUTCOME_DONE) {
		const struct damage_band *usable = &gauging->usable;
		care_length_set(after, "face_from", true, usable->from);
		care_length_set(after, "face_to", true, usable->to);
		gauging->out->usable = care_usable(gauging->arena, usable, face.value, gauging->units);
	}
	return outcome;
}

/* ---------------------------------------------------------------- diameter and runout */

/* What is worked out is told to 0.001 mm. */
static const char *near_words(const struct gauging *gauging, struct real_length length)
{
	int64_t nm = length_to_nm(real_round(length));
	int64_t half = nm < 0 ? -500 : 500;
	return care_tooling(gauging->arena, length_from_nm((nm + half) / 1000 * 1000), gauging->units);
}

/* Twice the build-up that a shop allows is what it allows on the diameter. */
static struct length allowed(const struct gauging *gauging)
{
	return length_times(gauging->limits.buildup, 2);
}

/* Its teeth and undercut say what the diameter should be: bare = pitch diameter - 2 undercut. */
static enum outcome question_made(struct gauging *gauging, struct length diameter,
                                  struct fault *fault)
{
	union any_tool tool;
	struct length none = length_from_nm(0);
	if (gauging->tool.found.kind->id != KIND_CYLINDER) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_tool(gauging->store, gauging->arena, KIND_CYLINDER,
	                                  gauging->tool.found.id, &tool, fault);
	const struct cylinder *cylinder = &tool.cylinder;
	if (outcome != OUTCOME_DONE || !cylinder->own.known) {
		return outcome;
	}
	struct real_length made =
		bare_diameter(cylinder->own, cylinder->undercut.known ? cylinder->undercut.value : none,
	                  none);
	struct real_length off = real_subtract(real_from_length(diameter), made);
	if (cylinder->undercut.known && !real_within(off, allowed(gauging))) {
		care_question(gauging->arena, gauging->out,
		              "diameter is not what its repeat and undercut make: %s, they make %s",
		              care_tooling(gauging->arena, diameter, gauging->units),
		              near_words(gauging, made));
	} else if (!cylinder->undercut.known && !real_at_most(real_from_length(diameter), made)) {
		care_question(gauging->arena, gauging->out,
		              "diameter is more than its pitch diameter, no plate fits on it: %s, %s",
		              care_tooling(gauging->arena, diameter, gauging->units),
		              near_words(gauging, made));
	}
	return OUTCOME_DONE;
}

static void question_grown(struct gauging *gauging, struct length diameter)
{
	struct known_length before = care_length(gauging->tool.before, "diameter");
	if (before.known &&
	    length_compare(length_subtract(diameter, before.value), allowed(gauging)) > 0) {
		care_question(gauging->arena, gauging->out, "diameter has grown: %s, before %s",
		              care_tooling(gauging->arena, diameter, gauging->units),
		              care_tooling(gauging->arena, before.value, gauging->units));
	}
}

static enum outcome read_sizes(struct gauging *gauging, struct fault *fault)
{
	const struct gauge_asked *asked = gauging->asked;
	struct record *after = gauging->tool.after;
	enum outcome outcome = OUTCOME_DONE;
	if (asked->diameter.known) {
		care_length_set(after, "diameter", true, asked->diameter.length);
		gauging->change.diameter = (struct known_length){true, asked->diameter.length};
		outcome = question_made(gauging, asked->diameter.length, fault);
		question_grown(gauging, asked->diameter.length);
	}
	if (asked->runout.known) {
		care_length_set(after, "runout", true, asked->runout.length);
		gauging->change.runout = (struct known_length){true, asked->runout.length};
		if (length_compare(asked->runout.length, gauging->limits.runout) > 0) {
			care_question(gauging->arena, gauging->out,
			              "runout is above what the shop allows: %s, %s at most",
			              care_tooling(gauging->arena, asked->runout.length, gauging->units),
			              care_tooling(gauging->arena, gauging->limits.runout, gauging->units));
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- written down */

/* "diameter 92.85mm, damage 100mm..120mm, usable face 120mm..330mm: nicked", in metric. */
static const char *detail_of(const struct gauging *gauging)
{
	const struct care_change *change = &gauging->change;
	struct text text = text_start(gauging->arena);
	if (change->diameter.known) {
		text_add_format(&text, "diameter %s",
		                care_tooling(gauging->arena, change->diameter.value, UNITS_METRIC));
	}
	if (change->runout.known) {
		text_join(&text, ", ", "runout ");
		text_add(&text, care_tooling(gauging->arena, change->runout.value, UNITS_METRIC));
	}
	if (change->damaged) {
		text_join(&text, ", ", "damage ");
		text_add_format(&text, "%s, usable face %s",
		                care_band(gauging->arena, &change->band, UNITS_METRIC),
		                care_band(gauging->arena, &gauging->usable, UNITS_METRIC));
	}
	if (change->note != NULL) {
		text_join(&text, ": ", change->note);
	}
	return text.bytes;
}

static enum outcome gauge(struct gauging *gauging, const char *tag, const struct actor *actor,
                          struct fault *fault)
{
	static const char *const told[] = {"diameter", "runout", "face", "face_from", "face_to", NULL};
	struct care_change *change = &gauging->change;
	enum outcome outcome =
		care_tool_find(gauging->store, gauging->arena, tag, &gauging->tool, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = check_asked(gauging, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_limits(gauging->store, &gauging->limits, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_sizes(gauging, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_damage(gauging, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	change->word = "gauge";
	change->what = change->damaged ? "damaged" : "gauged";
	change->note = gauging->asked->note;
	change->detail = detail_of(gauging);
	change->record = gauging->tool.after;
	gauging->out->told = told;
	outcome = store_care_change(gauging->store, gauging->arena, gauging->tool.found.kind,
	                            gauging->tool.found.id, change, actor, fault);
	return outcome == OUTCOME_DONE ? care_tool_tell(gauging->store, gauging->arena, &gauging->tool,
	                                                gauging->units, gauging->out, fault)
	                               : outcome;
}

enum outcome care_gauge(struct store *store, struct arena *arena, const char *tag,
                        const struct gauge_asked *asked, enum units units,
                        const struct actor *actor, struct cared *out, struct fault *fault)
{
	struct gauging gauging = {
		.store = store,
		.arena = arena,
		.asked = asked,
		.units = units,
		.out = out,
	};
	*out = (struct cared){.kind = NULL};
	enum outcome outcome = store_begin(store, "care_gauge", fault);
	return outcome == OUTCOME_DONE ? care_tool_end(store, gauge(&gauging, tag, actor, fault), fault)
	                               : outcome;
}
