/*
 * `reblade TAG`, `regrind TAG`: a new blade in its assembly, a die ground anew, a roll engraved
 * anew. The tool's next life begins; what ran before stays in its history.
 */
#include <string.h>

#include "late_life.h"
#include "question.h"

/* What begins a life of tools of a kind: its words, and what may be given. */
struct beginning {
	enum kind_id kind;
	const char *word, *what;
	const char *date;         /* of the new life: today where it is not given; or NULL */
	bool whole;               /* the face is new: no damage of it is left */
	const char *const *given; /* attributes, ends with NULL */
	const char *lost;         /* not known any more where it is not given; or NULL */
};
static const char *const of_blade[] = {"material", "thickness", "edge", "length",
                                       "life",     "fitted",    NULL};
static const char *const of_die[] = {"life", NULL};
static const char *const of_roll[] = {"volume",   "line_screen", "angle", "surface",
                                      "engraved", "diameter",    NULL};
static const struct beginning beginnings[] = {
	{KIND_BLADE, "reblade", "reblade", "fitted", true, of_blade, NULL},
	{KIND_DIE, "regrind", "regrind", NULL, false, of_die, NULL},
	{KIND_ANILOX, "regrind", "engraved", "engraved", true, of_roll, "volume"},
};

struct renewal {
	struct store *store;
	struct arena *arena;
	const char *word;
	const struct beginning *begins;
	const char *const *keys, *const *values;
	size_t count;
	enum units units;
	const struct actor *actor;
	struct care_tool tool;
	struct life_split split; /* of its run */
	struct late_life late;   /* where it began before now */
	struct care_change change;
	struct cared *out;
};

/* ---------------------------------------------------------------- what may be given */

static enum outcome find_beginning(struct renewal *renewal, struct fault *fault)
{
	const struct kind *kind = renewal->tool.found.kind;
	bool reblade = strcmp(renewal->word, "reblade") == 0;
	for (size_t i = 0; i < COUNT_OF(beginnings); i++) {
		if (beginnings[i].kind == kind->id && strcmp(beginnings[i].word, renewal->word) == 0) {
			renewal->begins = &beginnings[i];
			return OUTCOME_DONE;
		}
	}
	fault_set(fault, OUTCOME_BAD, "%s is of %s, not of %s %s: %s", renewal->word,
	          reblade ? "doctor blade assemblies" : "dies and anilox rolls", care_article(kind),
	          kind->title, renewal->tool.state.tag);
	if (!reblade && kind->id == KIND_BLADE) {
		fault_hint(fault, "A new blade in it: type reblade %s.", renewal->tool.state.tag);
	} else {
		fault_hint(fault, "What else changed: type edit %s key=value.", renewal->tool.state.tag);
	}
	return OUTCOME_BAD;
}

static bool is_among(const char *const *names, const char *name)
{
	for (; *names != NULL; names++) {
		if (strcmp(*names, name) == 0) {
			return true;
		}
	}
	return false;
}

/* `material=, thickness= or life=` */
static const char *list_given(const struct renewal *renewal)
{
	const char *const *names = renewal->begins->given;
	struct text text = text_start(renewal->arena);
	for (; *names != NULL; names++) {
		text_join(&text, ", ", *names);
		text_add(&text, "=");
	}
	text_join(&text, " or ", "note=");
	return text.bytes;
}

static enum outcome refuse_key(const struct renewal *renewal, const char *key, const char *value,
                               struct fault *fault)
{
	const char *tag = renewal->tool.state.tag;
	const char *nearest = text_nearest(key, renewal->begins->given);
	if (kind_attribute_find(renewal->tool.found.kind, key) != SIZE_MAX) {
		fault_set(fault, OUTCOME_BAD, "%s is not changed by a %s: %s", key, renewal->word, value);
		fault_hint(fault, "Type edit %s %s=%s where it is wrong on record.", tag, key, value);
		return OUTCOME_BAD;
	}
	fault_set(fault, OUTCOME_BAD, "attribute of a %s not known: %s", renewal->word, key);
	if (nearest != NULL) {
		fault_hint(fault, "Type %s=%s.", nearest, value);
	} else {
		fault_hint(fault, "Give %s, with a value.", list_given(renewal));
	}
	return OUTCOME_BAD;
}

/* ---------------------------------------------------------------- values */

static bool is_number(enum value_type type)
{
	return type != VALUE_CHOICE && type != VALUE_MOMENT && type != VALUE_SCREEN &&
	       type != VALUE_ANGLE;
}

/* Nothing is no thickness, volume or life of something new; a date ahead has not come. */
static enum outcome check_value(const struct renewal *renewal, const char *name,
                                const struct value *value, struct fault *fault)
{
	if (!value->known) {
		return OUTCOME_DONE;
	}
	if (is_number(value->type) && value_to_stored(value) <= 0) {
		fault_set(fault, OUTCOME_BAD, "%s must be more than nothing: %s", name,
		          value_text(renewal->arena, value, renewal->units));
		fault_hint(fault, "Leave it out where it is not known.");
		return OUTCOME_BAD;
	}
	if (value->type == VALUE_MOMENT && moment_compare(value->moment, renewal->actor->now) > 0) {
		fault_set(fault, OUTCOME_BAD, "%s lies ahead: %s, and it is %s", name,
		          value_text(renewal->arena, value, renewal->units),
		          moment_text(renewal->actor->now).bytes);
		fault_hint(fault, "Type it when it was done; before that nothing of it is on record.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome take_note(struct renewal *renewal, const char *text, struct fault *fault)
{
	struct value value;
	enum outcome outcome =
		value_parse(renewal->arena, "note", VALUE_TEXT, NULL, NULL, text, &value, fault);
	renewal->change.note = outcome == OUTCOME_DONE && value.known ? value.text : NULL;
	return outcome;
}

static enum outcome take_value(struct renewal *renewal, const char *key, const char *text,
                               struct fault *fault)
{
	struct record *after = renewal->tool.after;
	if (strcmp(key, "note") == 0) {
		return take_note(renewal, text, fault);
	}
	if (!is_among(renewal->begins->given, key)) {
		return refuse_key(renewal, key, text, fault);
	}
	const struct attribute *attribute =
		kind_attribute(after->kind, kind_attribute_find(after->kind, key));
	struct value *value = record_value(after, key);
	enum outcome outcome = value_parse(renewal->arena, key, attribute->type, attribute->choices,
	                                   NULL, text, value, fault);
	return outcome == OUTCOME_DONE ? check_value(renewal, key, value, fault) : outcome;
}

/* Today, and what cannot be as it was, unless it is given. */
static void fill_in(struct renewal *renewal)
{
	const struct beginning *begins = renewal->begins;
	struct record *after = renewal->tool.after;
	if (begins->date != NULL) {
		struct value *date = record_value(after, begins->date);
		*date = (struct value){.type = VALUE_MOMENT, .known = true};
		date->moment = moment_day_start(renewal->actor->now);
		date->moment.date = true;
	}
	if (begins->lost != NULL) {
		struct value *lost = record_value(after, begins->lost);
		*lost = (struct value){.type = lost->type};
	}
	if (begins->whole) {
		care_length_set(after, "face_from", false, length_from_nm(0));
		care_length_set(after, "face_to", false, length_from_nm(0));
	}
}

static enum outcome take_all(struct renewal *renewal, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	fill_in(renewal);
	for (size_t i = 0; i < renewal->count && outcome == OUTCOME_DONE; i++) {
		outcome = take_value(renewal, renewal->keys[i], renewal->values[i], fault);
	}
	return outcome;
}

/* ---------------------------------------------------------------- what looks like a slip */

static void question_date(struct renewal *renewal)
{
	const char *date = renewal->begins->date;
	const struct value *old = date != NULL ? record_known(renewal->tool.before, date) : NULL;
	const struct value *new = date != NULL ? record_known(renewal->tool.after, date) : NULL;
	if (old != NULL && new != NULL && moment_compare(new->moment, old->moment) < 0) {
		care_question(renewal->arena, renewal->out, "%s lies before the one on record: %s, %s",
		              date, moment_text(new->moment).bytes, moment_text(old->moment).bytes);
	}
}

/* A day before today, or a moment: today's blade was fitted just now. */
static struct known_moment since_of(const struct renewal *renewal)
{
	const char *date = renewal->begins->date;
	const struct value *given = date != NULL ? record_known(renewal->tool.after, date) : NULL;
	struct known_moment since = {.known = given != NULL};
	if (given != NULL) {
		struct moment today = moment_day_start(renewal->actor->now);
		since.value = given->moment;
		since.known =
			!given->moment.date || moment_compare(moment_day_start(given->moment), today) < 0;
	}
	return since;
}

/* Before the life that runs, whose day it may share: there is no life left for it to end. */
static enum outcome refuse_before_life(const struct renewal *renewal, struct moment since,
                                       struct fault *fault)
{
	struct care_row *begun;
	size_t count;
	enum outcome outcome = store_care_of(renewal->store, renewal->arena, renewal->tool.found.id,
	                                     renewal->begins->what, 1, &begun, &count, fault);
	if (outcome != OUTCOME_DONE || count == 0 ||
	    moment_compare(moment_of_day_end(since), begun->moment) > 0 ||
	    moment_compare(since, begun->moment) >= 0) {
		return outcome;
	}
	fault_set(fault, OUTCOME_BAD, "%s lies before the life that runs, which began %s: %s",
	          renewal->begins->date, moment_text(begun->moment).bytes, moment_text(since).bytes);
	fault_hint(fault, "Type the day of the latest; what is on record shows history %s.",
	           renewal->tool.state.tag);
	return OUTCOME_BAD;
}

/* A roll may have run more by its readings than stands on record. */
static enum outcome end_roll(struct renewal *renewal, struct fault *fault)
{
	struct known_length run;
	enum outcome outcome = store_run_at(renewal->store, renewal->arena, renewal->tool.found.id,
	                                    renewal->actor->now, &run, fault);
	if (outcome == OUTCOME_DONE && run.known) {
		renewal->split.ended = run;
	}
	return outcome;
}

/* What was before the new life, and is of it: nothing yet, unless it began before today. */
static enum outcome split_life(struct renewal *renewal, struct fault *fault)
{
	struct known_moment since = since_of(renewal);
	struct life_split *split = &renewal->split;
	split->ended = care_length(renewal->tool.before, "run");
	split->ran = length_from_nm(0);
	if (!since.known) {
		return renewal->begins->kind == KIND_ANILOX ? end_roll(renewal, fault) : OUTCOME_DONE;
	}
	renewal->late = (struct late_life){
		.store = renewal->store,
		.arena = renewal->arena,
		.units = renewal->units,
		.tool = &renewal->tool,
		.date = renewal->begins->date,
		.since = since.value,
	};
	enum outcome outcome = refuse_before_life(renewal, since.value, fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_life_split(renewal->store, renewal->tool.found.id, since.value, split, fault);
	}
	return outcome == OUTCOME_DONE ? late_life_read(&renewal->late, renewal->out, fault) : outcome;
}

/* Solid dies take about four regrinds: Packaging Impressions; the shop's own in `regrinds`. */
static enum outcome question_die(struct renewal *renewal, struct fault *fault)
{
	struct limits limits;
	const char *build = record_words(renewal->tool.before, "build");
	int64_t regrinds = renewal->tool.life;
	enum outcome outcome = store_limits(renewal->store, &limits, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (build != NULL && strcmp(build, "flexible") == 0) {
		care_question(renewal->arena, renewal->out,
		              "a flexible die is not ground anew, it is replaced");
	} else if (regrinds > limits.regrinds) {
		care_question(renewal->arena, renewal->out,
		              "regrind %lld of it, a solid die usually takes %lld", (long long)regrinds,
		              (long long)limits.regrinds);
	}
	return OUTCOME_DONE;
}

/* A unit mistyped: no roll of that screen has such a volume. */
static void question_volume(struct renewal *renewal)
{
	const struct record *after = renewal->tool.after;
	const struct value *volume = record_known(after, "volume");
	const struct value *screen = record_known(after, "line_screen");
	const char *text =
		volume != NULL && screen != NULL
			? question_of_band(renewal->arena, screen->screen, volume->volume, renewal->units)
			: NULL;
	if (text != NULL) {
		care_question(renewal->arena, renewal->out, "%s", text);
	}
}

/* ---------------------------------------------------------------- what it means */

static bool is_damaged(const struct record *record)
{
	return care_length(record, "face_from").known || care_length(record, "face_to").known;
}

/* Of damage found since it began the usable face is told by itself. */
static void tell_face(const struct renewal *renewal, struct text *text)
{
	const struct record *before = renewal->tool.before, *after = renewal->tool.after;
	const char *tag = renewal->tool.state.tag;
	if (is_damaged(before) && !is_damaged(after)) {
		text_join(text, "; ", "the whole face is usable again");
	} else if (is_damaged(after) && renewal->out->usable == NULL) {
		text_join(text, "; ", "the usable face stays as it was");
		text_add_format(text, ": where %s type edit %s face_from= face_to=",
		                renewal->begins->whole ? "it is another" : "grinding mended the rest", tag);
	}
}

static void tell_notes(struct renewal *renewal)
{
	struct text text = text_start(renewal->arena);
	const struct record *after = renewal->tool.after;
	const char *tag = renewal->tool.state.tag, *lost = renewal->begins->lost;
	const char *since = renewal->late.date != NULL ? late_life_text(&renewal->late) : NULL;
	if (length_compare(renewal->split.ran, length_from_nm(0)) > 0) {
		text_add_format(&text, "it has run %s since %s",
		                length_text(renewal->split.ran, LENGTH_WEB, renewal->units).bytes,
		                moment_text(since_of(renewal).value).bytes);
	}
	if (since != NULL) {
		text_join(&text, "; ", since);
	}
	if (lost != NULL && record_known(after, lost) == NULL) {
		text_join(&text, "; ", lost);
		text_add_format(&text, " when new is not known: type edit %s %s=... once it is read", tag,
		                lost);
	}
	tell_face(renewal, &text);
	if (strcmp(renewal->tool.state.condition, "hold") == 0) {
		text_join(&text, "; ", "still on hold");
		if (renewal->tool.state.condition_reason != NULL) {
			text_add_format(&text, ": %s", renewal->tool.state.condition_reason);
		}
	}
	renewal->out->note = text.length > 0 ? text.bytes : NULL;
}

/* "life 2, the one before had run 1200000m; material steel -> coated: note", in metric. */
static const char *detail_of(const struct renewal *renewal)
{
	const struct record *before = renewal->tool.before, *after = renewal->tool.after;
	struct known_length ended = renewal->split.ended;
	struct text text = text_start(renewal->arena);
	const int64_t next = renewal->tool.life + 1;
	text_add_format(&text, "life %lld", (long long)next);
	if (ended.known) {
		text_add_format(&text, ", the one before had run %s",
		                length_text(ended.value, LENGTH_WEB, UNITS_METRIC).bytes);
	}
	for (size_t i = 0; i < kind_attribute_count(after->kind); i++) {
		const struct value *old = &before->values[i], *new = &after->values[i];
		if (!value_equal(old, new)) {
			text_add_format(&text, "; %s %s -> %s", kind_attribute(after->kind, i)->name,
			                old->known ? value_text(renewal->arena, old, UNITS_METRIC)
			                           : "not known",
			                new->known ? value_text(renewal->arena, new, UNITS_METRIC)
			                           : "not known");
		}
	}
	if (renewal->change.note != NULL) {
		text_add_format(&text, ": %s", renewal->change.note);
	}
	return text.bytes;
}

static enum outcome write_renewal(struct renewal *renewal, struct fault *fault)
{
	struct care_change *change = &renewal->change;
	struct cared *out = renewal->out;
	out->new_life = true;
	out->ended = renewal->split.ended;
	out->told = renewal->begins->given;
	change->word = renewal->begins->word;
	change->what = renewal->begins->what;
	change->new_life = true;
	change->since = since_of(renewal);
	change->detail = detail_of(renewal);
	change->record = renewal->tool.after;
	enum outcome outcome =
		store_care_change(renewal->store, renewal->arena, renewal->tool.found.kind,
	                      renewal->tool.found.id, change, renewal->actor, fault);
	return outcome == OUTCOME_DONE ? care_tool_tell(renewal->store, renewal->arena, &renewal->tool,
	                                                renewal->units, out, fault)
	                               : outcome;
}

static enum outcome renew_found(struct renewal *renewal, const char *tag, struct fault *fault)
{
	enum outcome outcome =
		care_tool_find(renewal->store, renewal->arena, tag, &renewal->tool, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = find_beginning(renewal, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = take_all(renewal, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = split_life(renewal, fault);
	}
	if (outcome == OUTCOME_DONE && renewal->begins->kind == KIND_DIE) {
		outcome = question_die(renewal, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	question_date(renewal);
	if (renewal->begins->kind == KIND_ANILOX) {
		question_volume(renewal);
	}
	tell_notes(renewal);
	return write_renewal(renewal, fault);
}

static enum outcome renew(struct renewal *renewal, const char *tag, struct fault *fault)
{
	*renewal->out = (struct cared){.kind = NULL};
	enum outcome outcome = store_begin(renewal->store, "care_new_life", fault);
	return outcome == OUTCOME_DONE
	           ? care_tool_end(renewal->store, renew_found(renewal, tag, fault), fault)
	           : outcome;
}

enum outcome care_reblade(struct store *store, struct arena *arena, const char *tag,
                          const char *const *keys, const char *const *values, size_t count,
                          enum units units, const struct actor *actor, struct cared *out,
                          struct fault *fault)
{
	struct renewal renewal = {.store = store,
	                          .arena = arena,
	                          .word = "reblade",
	                          .keys = keys,
	                          .values = values,
	                          .count = count,
	                          .units = units,
	                          .actor = actor,
	                          .out = out};
	return renew(&renewal, tag, fault);
}

enum outcome care_regrind(struct store *store, struct arena *arena, const char *tag,
                          const char *const *keys, const char *const *values, size_t count,
                          enum units units, const struct actor *actor, struct cared *out,
                          struct fault *fault)
{
	struct renewal renewal = {.store = store,
	                          .arena = arena,
	                          .word = "regrind",
	                          .keys = keys,
	                          .values = values,
	                          .count = count,
	                          .units = units,
	                          .actor = actor,
	                          .out = out};
	return renew(&renewal, tag, fault);
}
