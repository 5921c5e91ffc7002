/* A value of any type: read by its type, written by its type. */
#include <string.h>

#include "measure.h"
#include "parsers.h"

/*
 * The measure of a type that is a number and a unit and is kept as a whole number; NULL for
 * others.
 */
static const struct measure *measure_of(enum value_type type)
{
	switch (type) {
	case VALUE_TOOLING:
		return &tooling_measure;
	case VALUE_WEB:
		return &web_measure;
	case VALUE_CELL:
		return &cell_measure;
	case VALUE_VOLUME:
		return &volume_measure;
	case VALUE_WEIGHT:
		return &weight_measure;
	case VALUE_AREA:
		return &area_measure;
	case VALUE_LIQUID:
		return &liquid_measure;
	case VALUE_ANGLE:
		return &angle_measure;
	case VALUE_SPEED:
		return &speed_measure;
	case VALUE_DURATION:
		return &duration_measure;
	case VALUE_PERCENT:
		return &percent_measure;
	case VALUE_TEXT:
	case VALUE_COUNT:
	case VALUE_ACROSS:
	case VALUE_SCREEN:
	case VALUE_PITCH:
	case VALUE_PITCHES:
	case VALUE_MONEY:
	case VALUE_MOMENT:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_YES_NO:
	case VALUE_NUMBER:
		break;
	}
	return NULL;
}

const char *const *value_heading_units(enum value_type type)
{
	static const char *const none[] = {NULL};
	static const char *const length[] = {"mm", "in", "um", "m", "ft", NULL};
	static const char *const volume[] = {"cm3_m2", "bcm", NULL};
	static const char *const screen[] = {"per_cm", "lpi", NULL};
	static const char *const pitch[] = {"cp", "mmcp", "dp", NULL};
	static const char *const weight[] = {"kg", "lb", NULL};
	static const char *const area[] = {"cm2", "in2", NULL};
	static const char *const liquid[] = {"ul", NULL};
	static const char *const angle[] = {"deg", NULL};
	static const char *const speed[] = {"m_min", "ft_min", NULL};
	static const char *const duration[] = {"s", "min", "h", "d", "w", NULL};
	static const char *const percent[] = {"percent", NULL};
	static const char *const *const units[] = {
		[VALUE_TOOLING] = length, [VALUE_WEB] = length,        [VALUE_CELL] = length,
		[VALUE_VOLUME] = volume,  [VALUE_ACROSS] = volume,     [VALUE_SCREEN] = screen,
		[VALUE_PITCH] = pitch,    [VALUE_PITCHES] = pitch,     [VALUE_WEIGHT] = weight,
		[VALUE_AREA] = area,      [VALUE_LIQUID] = liquid,     [VALUE_ANGLE] = angle,
		[VALUE_SPEED] = speed,    [VALUE_DURATION] = duration, [VALUE_PERCENT] = percent,
	};
	size_t index = (size_t)type;
	return index < COUNT_OF(units) && units[index] != NULL ? units[index] : none;
}

const char *value_spelling(enum value_type type)
{
	static const char *const spellings[] = {
		[VALUE_TEXT] = "words",
		[VALUE_COUNT] = "a whole number such as 96",
		[VALUE_ACROSS] = ACROSS_SPELLING,
		[VALUE_PITCH] = PITCH_SPELLING,
		[VALUE_PITCHES] = "pitches such as 1/8cp,1/4cp",
		[VALUE_MONEY] = MONEY_SPELLING,
		[VALUE_MOMENT] = MOMENT_SPELLING,
		[VALUE_CHOICE] = "a word of its list",
		[VALUE_CHOICES] = "one or several words of its list, with commas between",
		[VALUE_WORDS] = "one or several words, with commas between",
		[VALUE_YES_NO] = "yes or no",
		[VALUE_NUMBER] = NUMBER_SPELLING,
	};
	const struct measure *measure = type == VALUE_SCREEN ? &screen_measure : measure_of(type);
	return measure != NULL ? measure->spelling : spellings[type];
}

static enum outcome yes_no_read(const char *what, struct typed typed, bool *out,
                                struct fault *fault)
{
	bool yes = typed_equal_fold(typed, "yes") || typed_equal_fold(typed, "y");
	if (!yes && !typed_equal_fold(typed, "no") && !typed_equal_fold(typed, "n")) {
		fault_set(fault, OUTCOME_BAD, "%s is neither yes nor no: %.*s", what, TYPED(typed));
		fault_hint(fault, "Type yes or no.");
		return OUTCOME_BAD;
	}
	*out = yes;
	return OUTCOME_DONE;
}

static enum outcome text_read(struct arena *arena, const char *what, struct typed typed,
                              const char **out, struct fault *fault)
{
	enum outcome outcome = value_words_check(what, typed, fault);
	if (outcome == OUTCOME_DONE) {
		*out = arena_copy_bytes(arena, typed.start, (size_t)typed.length);
	}
	return outcome;
}

/* Reads one whose type has no measure; `value->type` says which. */
static enum outcome other_read(struct arena *arena, const char *what, const char *const *choices,
                               const char *unit, const char *text, struct value *value,
                               struct fault *fault)
{
	struct typed typed = typed_trim(text);
	switch (value->type) {
	case VALUE_TEXT:
		return text_read(arena, what, typed, &value->text, fault);
	case VALUE_COUNT:
		return count_parse(what, text, 0, INT64_MAX, &value->count, fault);
	case VALUE_ACROSS:
		return across_read(what, unit, text, &value->across, fault);
	case VALUE_SCREEN:
		return screen_read(what, unit, text, &value->screen, fault);
	case VALUE_PITCH:
		return pitch_read(what, unit, typed, &value->pitch, fault);
	case VALUE_PITCHES:
		return value_pitches_read(arena, what, unit, typed, &value->text, fault);
	case VALUE_MONEY:
		return money_read(what, text, &value->money, fault);
	case VALUE_MOMENT:
		return moment_read(what, text, &value->moment, fault);
	case VALUE_CHOICE:
		return value_choice_read(what, typed, choices, &value->text, fault);
	case VALUE_CHOICES:
		return value_choices_read(arena, what, typed, choices, &value->text, fault);
	case VALUE_WORDS:
		return value_words_read(arena, what, typed, &value->text, fault);
	case VALUE_YES_NO:
		return yes_no_read(what, typed, &value->yes, fault);
	case VALUE_NUMBER:
		return plain_number_read(what, text, &value->number, fault);
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
	case VALUE_VOLUME:
	case VALUE_WEIGHT:
	case VALUE_AREA:
	case VALUE_LIQUID:
	case VALUE_ANGLE:
	case VALUE_SPEED:
	case VALUE_DURATION:
	case VALUE_PERCENT:
		break;
	}
	return OUTCOME_BAD;
}

static bool unit_taken(enum value_type type, const char *unit)
{
	const char *const *units = value_heading_units(type);
	while (*units != NULL && strcmp(*units, unit) != 0) {
		units++;
	}
	return *units != NULL;
}

enum outcome value_parse(struct arena *arena, const char *what, enum value_type type,
                         const char *const *choices, const char *unit, const char *text,
                         struct value *out, struct fault *fault)
{
	struct value value = {.type = type};
	if (unit != NULL && !unit_taken(type, unit)) {
		fault_set(fault, OUTCOME_BAD, "unit of %s not known: %s", what, unit);
		fault_hint(fault, "Type %s.", value_spelling(type));
		return OUTCOME_BAD;
	}
	if (typed_trim(text).length == 0) {
		*out = value;
		return OUTCOME_DONE;
	}
	const struct measure *measure = measure_of(type);
	enum outcome outcome = OUTCOME_DONE;
	if (measure != NULL) {
		int64_t number = 0;
		const struct unit *assumed = unit_of_heading(measure, unit);
		outcome = measure_parse(measure, what, assumed, text, &number, fault);
		value = value_from_stored(type, number);
	} else {
		outcome = other_read(arena, what, choices, unit, text, &value, fault);
		value.known = true;
	}
	if (outcome == OUTCOME_DONE) {
		*out = value;
	}
	return outcome;
}

/* For those whose text is not in the value already. */
static struct quantity_text number_text(const struct value *value, enum units units)
{
	switch (value->type) {
	case VALUE_TOOLING:
		return length_text(value->length, LENGTH_TOOLING, units);
	case VALUE_WEB:
		return length_text(value->length, LENGTH_WEB, units);
	case VALUE_CELL:
		return length_text(value->length, LENGTH_CELL, units);
	case VALUE_VOLUME:
		return volume_text(value->volume, units);
	case VALUE_ACROSS:
		return across_text(value->across, units);
	case VALUE_SCREEN:
		return screen_text(value->screen, units);
	case VALUE_PITCH:
		return pitch_text(value->pitch);
	case VALUE_WEIGHT:
		return weight_text(value->weight, units);
	case VALUE_AREA:
		return area_text(value->area, units);
	case VALUE_LIQUID:
		return liquid_text(value->liquid);
	case VALUE_ANGLE:
		return angle_text(value->angle);
	case VALUE_SPEED:
		return speed_text(value->speed, units);
	case VALUE_DURATION:
		return duration_text(value->duration);
	case VALUE_PERCENT:
		return percent_text(value->percent);
	case VALUE_MONEY:
		return money_text(value->money);
	case VALUE_MOMENT:
		return moment_text(value->moment);
	case VALUE_NUMBER:
		return plain_number_text(value->number);
	case VALUE_COUNT:
	case VALUE_YES_NO:
	case VALUE_TEXT:
	case VALUE_PITCHES:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
		break;
	}
	return (struct quantity_text){""};
}

/* Is it kept in `text`? */
static bool kept_as_text(enum value_type type)
{
	return type == VALUE_TEXT || type == VALUE_PITCHES || type == VALUE_CHOICE ||
	       type == VALUE_CHOICES || type == VALUE_WORDS;
}

const char *value_text(struct arena *arena, const struct value *value, enum units units)
{
	if (!value->known) {
		return "";
	}
	if (kept_as_text(value->type)) {
		return arena_copy(arena, value->text);
	}
	if (value->type == VALUE_COUNT) {
		return arena_format(arena, "%lld", (long long)value->count);
	}
	if (value->type == VALUE_YES_NO) {
		return value->yes ? "yes" : "no";
	}
	return arena_copy(arena, number_text(value, units).bytes);
}

bool value_equal(const struct value *a, const struct value *b)
{
	if (a->type != b->type || a->known != b->known) {
		return false;
	}
	if (!a->known) {
		return true;
	}
	if (kept_as_text(a->type)) {
		return strcmp(a->text, b->text) == 0;
	}
	if (a->type == VALUE_ACROSS) {
		return a->across.left.micro == b->across.left.micro &&
		       a->across.centre.micro == b->across.centre.micro &&
		       a->across.right.micro == b->across.right.micro;
	}
	if (a->type == VALUE_SCREEN) {
		return screen_compare(a->screen, b->screen) == 0;
	}
	if (a->type == VALUE_PITCH) {
		return pitch_equal(a->pitch, b->pitch);
	}
	if (a->type == VALUE_NUMBER) {
		return a->number == b->number;
	}
	if (a->type == VALUE_MOMENT && a->moment.date != b->moment.date) {
		return false;
	}
	return value_to_stored(a) == value_to_stored(b);
}
