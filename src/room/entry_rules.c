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
		"face_from",    "weight",         "cost",
		"run",          "undercut",       "runout",
		"life",         "corner",         "gap_across",
		"gap_around",   "gap_around_min", "gap_around_max",
		"trim",         "tape",           "quantity",
		"die_stations", "walk",           "volume_tolerance",
		"angle",        "helix",          "pressure_angle",
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

static void check_number(struct entry_form *form, const struct attribute *attribute,
                         const struct value *value)
{
	if (!value->known || !is_a_number(value->type)) {
		return;
	}
	int64_t number = value_to_stored(value);
	if (number < 0 || (number == 0 && !may_be_nothing(attribute->name))) {
		complain(&form->complaints, attribute->name, "Leave it blank where it is not known.",
		         "%s must be more than nothing: %s", attribute->name,
		         value_text(form->arena, value, UNITS_METRIC));
	} else if (value->type == VALUE_COUNT && number > most_of(attribute->name)) {
		complain(&form->complaints, attribute->name, "", "%s is at most %lld: %lld",
		         attribute->name, (long long)most_of(attribute->name), (long long)number);
	}
}

static bool is_complained_of(const struct entry_form *form, const char *attribute)
{
	for (size_t i = 0; i < form->complaints.count; i++) {
		const char *name = form->complaints.items[i].attribute;
		if (name != NULL && strcmp(name, attribute) == 0) {
			return true;
		}
	}
	return false;
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
			                      value_spelling(attribute->type)),
			         "%s is not given, a %s has one: %s", attribute->name, record->kind->title,
			         attribute->meaning);
		}
	}
}

/* ---------------------------------------------------------------- names */

static const char *const command_words[] = {
	"new",   "edit",     "remove",  "show",    "find",    "import",     "export",   "put",
	"take",  "send",     "receive", "hold",    "clear",   "scrap",      "scan",     "undo",
	"count", "history",  "tag",     "check",   "choices", "book",       "unbook",   "at_risk",
	"ahead", "earliest", "start",   "finish",  "kit",     "changeover", "sequence", "reading",
	"gauge", "cleaned",  "dirty",   "reblade", "regrind", "wear",       "due",      "calc",
	"set",   "backup",   "restore", "verify",  "help",    "quit",       "demo",     "home",
	"done",  "yes",
};

bool word_is_command(const char *word)
{
	for (size_t i = 0; i < COUNT_OF(command_words); i++) {
		if (text_equal_fold(command_words[i], word)) {
			return true;
		}
	}
	return false;
}

static void check_tag(struct entry_form *form)
{
	const struct kind *kind = form->record->kind;
	const char *text = record_words(form->record, "tag");
	struct tag tag;
	if (text == NULL) {
		return;
	}
	switch (tag_read(text, &tag)) {
	case TAG_READ:
		if (tag.class != kind->class) {
			complain(&form->complaints, "tag", "", "tag is not that of a %s (%s): %s", kind->title,
			         tag_class_letters(kind->class), text);
		}
		return;
	case TAG_MISREAD:
		complain(&form->complaints, "tag", "Compare it with the tag sign by sign.",
		         "tag misread, its check character does not agree: %s", text);
		return;
	case TAG_NOT_OURS:
		complain(&form->complaints, "tag",
		         "Leave tag out and one is given; a number of the shop's own goes to other_tag.",
		         "tag is not one of ours: %s", text);
		return;
	}
}

/* A code of the shop's own may not be taken for a tag of ours. */
static void check_code(struct entry_form *form, const char *attribute)
{
	struct tag tag;
	const char *code = kind_attribute_find(form->record->kind, attribute) != SIZE_MAX
	                       ? record_words(form->record, attribute)
	                       : NULL;
	if (code != NULL && tag_read(code, &tag) != TAG_NOT_OURS) {
		complain(&form->complaints, attribute, "", "%s looks like a tag of ours: %s", attribute,
		         code);
	}
}

static enum outcome check_other_tag(struct entry_form *form, struct fault *fault)
{
	const char *code = record_words(form->record, "other_tag");
	struct found found;
	struct fault unknown;
	if (code == NULL || is_complained_of(form, "other_tag")) {
		return OUTCOME_DONE;
	}
	if (word_is_command(code)) {
		complain(&form->complaints, "other_tag", "", "other_tag looks like a command: %s", code);
		return OUTCOME_DONE;
	}
	fault_clear(&unknown);
	enum outcome outcome = store_find(form->store, code, REFER_NONE, &found, &unknown);
	if (outcome == OUTCOME_STORE) {
		return fault_set(fault, outcome, "%s", unknown.sentence);
	}
	if (outcome == OUTCOME_DONE &&
	    (found.kind != form->record->kind || found.id != form->record->id)) {
		complain(&form->complaints, "other_tag", "", "other_tag names a %s already: %s",
		         found.kind->title, code);
	}
	return OUTCOME_DONE;
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

static void check_band(struct entry_form *form)
{
	const struct value *from = known(form, "face_from"), *to = known(form, "face_to");
	if (from != NULL && to != NULL && length_compare(from->length, to->length) >= 0) {
		complain(&form->complaints, "face_from", "", "face_from must lie before face_to: %s, %s",
		         shown(form, from), shown(form, to));
	}
}

/*
 * A repeat given beside teeth and pitch is checked against them, and then left to them: charts made with a rounded pi exist.
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
	struct length shown_made = real_round(made);
	struct length off = length_subtract(repeat->length, shown_made);
	bool less = length_compare(off, length_from_nm(0)) < 0;
	complain(&form->complaints, "repeat", "Leave repeat out, or mend teeth and pitch.",
	         "repeat %s does not agree with %lld teeth %s, which make %s: %s too %s",
	         shown(form, repeat), (long long)teeth->count, pitch_text(pitch->pitch).bytes,
	         length_text(shown_made, LENGTH_TOOLING, form->limits->units).bytes,
	         length_text(less ? length_subtract(shown_made, repeat->length) : off, LENGTH_TOOLING,
	                     form->limits->units)
	             .bytes,
	         less ? "short" : "long");
}

static void check_cylinder(struct entry_form *form)
{
	const char *drive = record_words(form->record, "drive");
	check_repeat(form);
	if (known(form, "repeat") != NULL && drive != NULL && strcmp(drive, "gearless") != 0) {
		complain(&form->complaints, "repeat", "Give its teeth and pitch.",
		         "repeat alone is for a gearless cylinder, this one is %s: %s", drive,
		         shown(form, known(form, "repeat")));
	}
}

static void check_job(struct entry_form *form)
{
	const struct value *from = known(form, "from"), *until = known(form, "until");
	const struct value *teeth = known(form, "teeth"), *pitch = known(form, "pitch");
	check_repeat(form);
	check_order(form, "gap_around_min", "gap_around_max");
	if (from != NULL && until != NULL && moment_compare(until->moment, from->moment) < 0) {
		complain(&form->complaints, "until", "", "until lies before from: %s, %s",
		         shown(form, until), shown(form, from));
	}
	if ((teeth != NULL) != (pitch != NULL) && known(form, "repeat") == NULL &&
	    !is_complained_of(form, "teeth") && !is_complained_of(form, "pitch")) {
		complain(&form->complaints, teeth != NULL ? "pitch" : "teeth",
		         "A repeat order has both, or a repeat.", "%s is not given beside %s",
		         teeth != NULL ? "pitch" : "teeth", teeth != NULL ? "teeth" : "pitch");
	}
}

static void check_station(struct entry_form *form)
{
	const struct value *plate = known(form, "plate"), *base = known(form, "base");
	check_screens(form);
	if (plate != NULL && base != NULL && length_compare(base->length, plate->length) >= 0) {
		complain(&form->complaints, "base", "", "base must be thinner than the plate: %s, %s",
		         shown(form, base), shown(form, plate));
	}
}

/* A year mistyped would make a reading the latest for good. */
static void check_reading(struct entry_form *form)
{
	struct value *volume = record_value(form->record, "volume");
	const struct value *across = known(form, "across"), *moment = known(form, "moment");
	struct duration year = {0};
	(void)duration_parse("366d", &year, NULL);
	if (moment != NULL && moment_compare(moment->moment, moment_add(form->actor->now, year)) > 0) {
		complain(&form->complaints, "moment", "", "moment lies more than a year ahead: %s",
		         shown(form, moment));
	}
	if (!volume->known && across == NULL && !is_complained_of(form, "volume") &&
	    !is_complained_of(form, "across")) {
		complain(&form->complaints, "volume", "Give volume=4.3bcm, or across=left/centre/right.",
		         "volume is not given, nor the volumes across");
	}
	if (!volume->known && across != NULL) {
		*volume = (struct value){.type = VALUE_VOLUME, .known = true};
		volume->volume = across_mean(across->across);
	}
}

/* ---------------------------------------------------------------- places */

static enum outcome check_place(struct entry_form *form, struct fault *fault)
{
	const struct record *record = form->record;
	int64_t outer = record->references[kind_attribute_find(record->kind, "within")];
	bool circle = false;
	enum outcome outcome = OUTCOME_DONE;
	if (outer != 0 && record->id != 0) {
		outcome = store_place_within(form->store, outer, record->id, &circle, fault);
	}
	if (circle) {
		complain(&form->complaints, "within", "", "place would lie within itself: %s",
		         record_words(record, "within"));
	}
	return outcome;
}

/* ---------------------------------------------------------------- all of them */

static void check_tool(struct entry_form *form)
{
	check_band(form);
	check_code(form, "other_tag");
}

enum outcome entry_check(struct entry_form *form, struct fault *fault)
{
	const struct kind *kind = form->record->kind;
	enum outcome outcome = OUTCOME_DONE;
	check_each(form);
	if (kind->tagged) {
		check_tag(form);
		check_code(form, "code");
		check_code(form, "number");
		check_code(form, "badge");
	}
	if (kind->tool) {
		check_tool(form);
		outcome = check_other_tag(form, fault);
	}
	switch (kind->id) {
	case KIND_PLACE:
		return check_place(form, fault);
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
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_CUT:
	case KIND_COUNT:
		break;
	}
	return outcome;
}
