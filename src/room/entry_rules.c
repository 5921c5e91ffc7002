/* The rules that hold between the attributes of a record: what must be given, what must agree. */
#include <string.h>

#include "entry.h"

#define STATIONS_MOST 64
#define TEETH_MOST 100000
#define COUNT_MOST 1000000000000

/* ---------------------------------------------------------------- every attribute by itself */

/* Of these a zero is a value; of every other number it is a slip. */
static bool may_be_nothing(const char *name)
{
	static const char *const names[] = {
		"face_from",
		"weight",
		"cost",
		"run",
		"undercut",
		"runout",
		"life",
		"corner",
		"gap_across",
		"gap_around",
		"gap_around_min",
		"gap_around_max",
		"trim",
		"tape",
		"base",
		"quantity",
		"die_stations",
		"walk",
		"volume_tolerance",
		"angle",
		"helix",
		"pressure_angle",
		"repeat_min",
		"liner_caliper",
	};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		if (strcmp(names[i], name) == 0) {
			return true;
		}
	}
	return false;
}

static bool is_a_number(enum value_type type)
{
	switch (type) {
	case VALUE_COUNT:
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
	case VALUE_VOLUME:
	case VALUE_WEIGHT:
	case VALUE_AREA:
	case VALUE_LIQUID:
	case VALUE_SPEED:
	case VALUE_DURATION:
	case VALUE_PERCENT:
	case VALUE_MONEY:
		return true;
	case VALUE_TEXT:
	case VALUE_ACROSS:
	case VALUE_SCREEN:
	case VALUE_PITCH:
	case VALUE_PITCHES:
	case VALUE_ANGLE:
	case VALUE_MOMENT:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_YES_NO:
	case VALUE_NUMBER:
		break;
	}
	return false;
}

static int64_t most_of(const char *name)
{
	if (strcmp(name, "stations") == 0 || strcmp(name, "die_stations") == 0) {
		return STATIONS_MOST;
	}
	return strcmp(name, "teeth") == 0 ? TEETH_MOST : COUNT_MOST;
}

/* How a value is written: the words of a short list by name. */
static const char *spelling_of(struct arena *arena, const struct attribute *attribute)
{
	if (attribute->type != VALUE_CHOICE) {
		return value_spelling(attribute->type);
	}
	struct text list = text_start(arena);
	for (size_t i = 0; attribute->choices[i] != NULL; i++) {
		text_join(&list, attribute->choices[i + 1] == NULL ? " or " : ", ", attribute->choices[i]);
	}
	return list.bytes;
}

static void check_number(struct entry_form *form, const struct attribute *attribute,
                         const struct value *value)
{
	if (!value->known || !is_a_number(value->type)) {
		return;
	}
	int64_t number = value_to_stored(value);
	bool nothing_too = may_be_nothing(attribute->name);
	if (number < 0 || (number == 0 && !nothing_too)) {
		complain(&form->complaints, attribute->name,
		         attribute->required ? arena_format(form->arena, "Give %s=%s.", attribute->name,
		                                            spelling_of(form->arena, attribute))
		                             : "Leave it blank where it is not known.",
		         nothing_too ? "%s is less than nothing: %s" : "%s must be more than nothing: %s",
		         attribute->name, value_text(form->arena, value, form->limits->units));
	} else if (value->type == VALUE_COUNT && number > most_of(attribute->name)) {
		complain(&form->complaints, attribute->name, "", "%s is at most %lld: %lld",
		         attribute->name, (long long)most_of(attribute->name), (long long)number);
	}
}

static bool is_complained_of(const struct entry_form *form, const char *attribute)
{
	return complaint_at(&form->complaints, attribute) != NULL;
}

static void check_each(struct entry_form *form)
{
	const struct record *record = form->record;
	for (size_t i = 0; i < kind_attribute_count(record->kind); i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		const struct value *value = &record->values[i];
		check_number(form, attribute, value);
		if (attribute->required && !value->known && !is_complained_of(form, attribute->name)) {
			complain(&form->complaints, attribute->name,
			         arena_format(form->arena, "Give %s=%s.", attribute->name,
			                      spelling_of(form->arena, attribute)),
			         "%s is not given, %s %s has one: %s", attribute->name,
			         entry_article(record->kind), record->kind->title, attribute->meaning);
		}
	}
}

/* ---------------------------------------------------------------- pairs that must agree */

static const struct value *known(const struct entry_form *form, const char *attribute)
{
	return record_known(form->record, attribute);
}

static const char *shown(const struct entry_form *form, const struct value *value)
{
	return value_text(form->arena, value, form->limits->units);
}

/* Two lengths of which the first may not be the longer. */
static void check_order(struct entry_form *form, const char *less, const char *more)
{
	const struct value *a = known(form, less), *b = known(form, more);
	if (a != NULL && b != NULL && length_compare(a->length, b->length) > 0) {
		complain(&form->complaints, less, "", "%s is more than %s: %s, %s", less, more,
		         shown(form, a), shown(form, b));
	}
}

static void check_screens(struct entry_form *form)
{
	const struct value *least = known(form, "screen_min"), *most = known(form, "screen_max");
	if (least != NULL && most != NULL && screen_compare(least->screen, most->screen) > 0) {
		complain(&form->complaints, "screen_min", "", "screen_min is more than screen_max: %s, %s",
		         shown(form, least), shown(form, most));
	}
}

/* Of two attributes of which one says nothing without the other. */
static void check_both(struct entry_form *form, const char *one, const char *other,
                       const char *hint)
{
	bool has_one = known(form, one) != NULL, has_other = known(form, other) != NULL;
	if (has_one == has_other || is_complained_of(form, one) || is_complained_of(form, other)) {
		return;
	}
	const char *given = has_one ? one : other, *missing = has_one ? other : one;
	complain(&form->complaints, given, hint, "%s without %s: %s", given, missing,
	         shown(form, known(form, given)));
}

/* The usable band of a damaged face. */
static void check_band(struct entry_form *form)
{
	const struct value *from = known(form, "face_from"), *to = known(form, "face_to");
	if (from != NULL && to != NULL && length_compare(from->length, to->length) >= 0) {
		complain(&form->complaints, "face_from", "", "face_from must lie before face_to: %s, %s",
		         shown(form, from), shown(form, to));
	}
}

/*
 * A repeat given beside teeth and pitch is checked against them, and then left to them: charts made
 * with a rounded pi exist.
 */
static void check_repeat(struct entry_form *form)
{
	const struct value *teeth = known(form, "teeth"), *pitch = known(form, "pitch");
	struct value *repeat = record_value(form->record, "repeat");
	if (!repeat->known || teeth == NULL || pitch == NULL || teeth->count < 1) {
		return;
	}
	struct real_length made = pitch_times(pitch->pitch, teeth->count);
	struct real_length difference = real_subtract(real_from_length(repeat->length), made);
	if (real_within(difference, form->limits->repeat_match)) {
		*repeat = (struct value){.type = repeat->type};
		return;
	}
	enum units units = form->limits->units;
	struct length made_whole = real_round(made);
	bool less = length_compare(made_whole, repeat->length) < 0;
	struct length off = less ? length_subtract(repeat->length, made_whole)
	                         : length_subtract(made_whole, repeat->length);
	complain(&form->complaints, "repeat", "Leave repeat out, or mend teeth and pitch.",
	         "repeat: %s given, %lld teeth %s make %s, %s %s", shown(form, repeat),
	         (long long)teeth->count, pitch_text(pitch->pitch).bytes,
	         length_text(made_whole, LENGTH_TOOLING, units).bytes,
	         length_text(off, LENGTH_TOOLING, units).bytes, less ? "less" : "more");
}

static void check_cylinder(struct entry_form *form)
{
	const char *drive = record_words(form->record, "drive");
	check_repeat(form);
	if (known(form, "repeat") != NULL && drive != NULL && strcmp(drive, "gearless") != 0 &&
	    !is_complained_of(form, "repeat")) {
		complain(&form->complaints, "repeat", "Give its teeth and pitch.",
		         "repeat alone is for a gearless cylinder, this one is %s: %s", drive,
		         shown(form, known(form, "repeat")));
	}
}

static void check_job(struct entry_form *form)
{
	const struct value *from = known(form, "from"), *until = known(form, "until");
	/* Of a tool that is a figure not known; of a job it would make a repeat order a new job. */
	if (known(form, "teeth") != NULL && known(form, "repeat") == NULL) {
		check_both(form, "teeth", "pitch", "A repeat order has both, or a repeat.");
	}
	check_repeat(form);
	check_order(form, "gap_around_min", "gap_around_max");
	if (from != NULL && until != NULL && moment_compare(until->moment, from->moment) < 0) {
		complain(&form->complaints, "until", "A date alone is the beginning of that day.",
		         "until lies before from: %s, %s", shown(form, until), shown(form, from));
	}
}

static void check_station(struct entry_form *form)
{
	const struct value *plate = known(form, "plate"), *base = known(form, "base");
	check_screens(form);
	/* All base is what a sleeve imaged in the round amounts to: it is not stretched at all. */
	if (plate != NULL && base != NULL && length_compare(base->length, plate->length) > 0) {
		complain(&form->complaints, "base", "", "base is thicker than the plate: %s, %s",
		         shown(form, base), shown(form, plate));
	}
}

/* ---------------------------------------------------------------- condition */

/*
 * Who finds a tool on hold, or scrapped, must know why; the note is where the reason comes from,
 * and an old one is no reason. Of a tool new on record that was scrapped long ago nobody may know
 * it.
 */
static void check_reason(struct entry_form *form)
{
	const char *condition = record_words(form->record, "condition");
	const char *stood = form->stood_condition;
	if (condition == NULL || (stood != NULL && strcmp(stood, condition) == 0) ||
	    (known(form, "note") != NULL && !form->stood_note) || is_complained_of(form, "note")) {
		return;
	}
	if (strcmp(condition, "hold") == 0) {
		complain(&form->complaints, "note", "Give note=\"scored band\" or the like.",
		         "note does not say why it is on hold");
	} else if (strcmp(condition, "scrapped") == 0 && form->known != 0) {
		complain(&form->complaints, "note", "Give note=\"worn out\" or the like.",
		         "note does not say why it is scrapped");
	}
}

/* ---------------------------------------------------------------- where a tool is */

/* A tool that stood there when the place was retired may be corrected: it stands there still. */
static enum outcome stood_there(struct entry_form *form, const char *attribute, int64_t place,
                                bool *out, struct fault *fault)
{
	struct tool_state stood;
	*out = false;
	if (form->known == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_tool_state(form->store, form->arena, form->known, &stood, fault);
	*out = place == (strcmp(attribute, "home") == 0 ? stood.home : stood.place);
	return outcome;
}

/*
 * As with `put`; what is scrapped is fetched by nobody, wherever it was last. A shop that comes
 * back from its own export may hold tools in a place that was retired with them in it.
 */
static enum outcome check_in_use(struct entry_form *form, const char *attribute,
                                 struct fault *fault)
{
	const struct record *record = form->record;
	const char *condition = record_words(record, "condition");
	int64_t id = record->references[kind_attribute_find(record->kind, attribute)];
	struct place_state place;
	bool stood = false;
	if (id == 0 || (form->file && form->known == 0) ||
	    (condition != NULL && strcmp(condition, "scrapped") == 0)) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_place_state(form->store, form->arena, id, &place, fault);
	if (outcome == OUTCOME_DONE && place.retired) {
		outcome = stood_there(form, attribute, id, &stood, fault);
		if (outcome == OUTCOME_DONE && !stood) {
			complain(&form->complaints, attribute, "Name a place that is in use.",
			         "%s is retired: %s", attribute, place.code);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- readings */

static void check_across(struct entry_form *form, const struct value *across)
{
	const struct volume parts[] = {across->across.left, across->across.centre,
	                               across->across.right};
	for (size_t i = 0; i < COUNT_OF(parts); i++) {
		if (volume_to_micro(parts[i]) <= 0) {
			complain(&form->complaints, "across", "Leave it blank where one was not read.",
			         "across must be more than nothing: %s", shown(form, across));
			return;
		}
	}
}

static void check_reading(struct entry_form *form)
{
	struct value *volume = record_value(form->record, "volume");
	const struct value *across = known(form, "across"), *moment = known(form, "moment");
	/* A year mistyped would make it the latest reading for good. */
	if (moment != NULL && moment_compare(moment->moment, form->actor->now) > 0) {
		complain(&form->complaints, "moment",
		         "Type when it was taken; it cannot be put on record before.",
		         "moment lies ahead: %s, and it is %s", shown(form, moment),
		         moment_text(form->actor->now).bytes);
	}
	if (across != NULL) {
		check_across(form, across);
	}
	if (volume->known || is_complained_of(form, "volume") || is_complained_of(form, "across")) {
		return;
	}
	if (across == NULL) {
		complain(&form->complaints, "volume", "Give volume=4.3bcm, or across=left/centre/right.",
		         "volume is not given, nor the volumes across");
		return;
	}
	*volume = (struct value){.type = VALUE_VOLUME, .known = true};
	volume->volume = across_mean(across->across);
}

/* ---------------------------------------------------------------- places */

static enum outcome check_place(struct entry_form *form, struct fault *fault)
{
	const struct record *record = form->record;
	int64_t outer = record->references[kind_attribute_find(record->kind, "within")];
	bool circle = false;
	enum outcome outcome = OUTCOME_DONE;
	if (outer != 0 && form->known != 0) {
		outcome = store_place_within(form->store, outer, form->known, &circle, fault);
	}
	if (circle) {
		complain(&form->complaints, "within", "", "place would lie within itself: %s",
		         record_words(record, "within"));
	}
	return outcome;
}

/* ---------------------------------------------------------------- operators */

/* Else whoever may not change a limit makes a supervisor of somebody first. */
static void check_operator(struct entry_form *form)
{
	if (form->actor->limited) {
		complain(&form->complaints, "role", "Type --as with the badge of a supervisor.",
		         "supervisor needed for operators");
	}
}

/* ---------------------------------------------------------------- all of them */

enum outcome entry_check(struct entry_form *form, struct fault *fault)
{
	const struct kind *kind = form->record->kind;
	enum outcome outcome = entry_check_names(form, fault);
	check_each(form);
	if (kind->tool) {
		check_band(form);
		outcome = outcome == OUTCOME_DONE ? check_in_use(form, "place", fault) : outcome;
		outcome = outcome == OUTCOME_DONE ? check_in_use(form, "home", fault) : outcome;
	}
	if (kind->tool || kind->id == KIND_PLACE) {
		check_reason(form);
	}
	switch (kind->id) {
	case KIND_PLACE:
		return outcome == OUTCOME_DONE ? check_place(form, fault) : outcome;
	case KIND_PRESS:
		check_order(form, "repeat_min", "repeat_max");
		return outcome;
	case KIND_JOB:
		check_job(form);
		return outcome;
	case KIND_CYLINDER:
		check_cylinder(form);
		return outcome;
	case KIND_STATION:
		check_station(form);
		return outcome;
	case KIND_READING:
		check_reading(form);
		return outcome;
	case KIND_OPERATOR:
		check_operator(form);
		return outcome;
	case KIND_GEAR:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_CUT:
	case KIND_COUNT:
		break;
	}
	return outcome;
}
