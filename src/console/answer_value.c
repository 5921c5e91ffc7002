/* Attributes in an answer: the key and the figure of each type. */
#include <stddef.h>

#include "answer.h"

/*
 * How a whole number is shown in JSON: `suffix` to the key, the whole number over `parts`, exact
 * at `decimals`.
 */
struct figure {
	const char *suffix;
	double parts;
	int decimals;
};

static const struct figure figures[] = {
	[VALUE_TOOLING] = {"_mm", 1e6, 6},      [VALUE_WEB] = {"_m", 1e9, 9},
	[VALUE_CELL] = {"_um", 1e3, 3},         [VALUE_VOLUME] = {"_cm3_m2", 1e6, 6},
	[VALUE_WEIGHT] = {"_kg", 1e9, 9},       [VALUE_AREA] = {"_cm2", 1e8, 8},
	[VALUE_LIQUID] = {"_ul", 1e6, 6},       [VALUE_ANGLE] = {"_deg", 1e6, 6},
	[VALUE_SPEED] = {"_m_min", 1e9, 9},     [VALUE_DURATION] = {"_s", 1, 0},
	[VALUE_PERCENT] = {"_percent", 1e4, 4}, [VALUE_MONEY] = {"", 100, 2},
};

static const char *key_of(struct answer *answer, const char *attribute, const char *suffix)
{
	return arena_format(answer->arena, "%s%s", attribute, suffix);
}

static void answer_figure(struct answer *answer, const char *attribute, const struct value *value)
{
	const struct figure *figure = &figures[value->type];
	const char *key = key_of(answer, attribute, figure->suffix);
	if (!value->known) {
		answer_null(answer, key);
	} else if (value->type == VALUE_DURATION) {
		answer_count(answer, key, value_to_stored(value));
	} else {
		answer_number(answer, key, (double)value_to_stored(value) / figure->parts,
		              figure->decimals);
	}
}

static void answer_across(struct answer *answer, const char *attribute, const struct value *value)
{
	const char *key = key_of(answer, attribute, figures[VALUE_VOLUME].suffix);
	if (!value->known) {
		answer_null(answer, key);
		return;
	}
	answer_array_open(answer, key);
	answer_number(answer, NULL, volume_to_cm3_m2(value->across.left), 6);
	answer_number(answer, NULL, volume_to_cm3_m2(value->across.centre), 6);
	answer_number(answer, NULL, volume_to_cm3_m2(value->across.right), 6);
	answer_array_close(answer);
}

static void answer_screen(struct answer *answer, const char *attribute, const struct value *value)
{
	const char *key = key_of(answer, attribute, "_per_cm");
	if (value->known) {
		answer_number(answer, key, screen_to_per_cm(value->screen), 6);
	} else {
		answer_null(answer, key);
	}
}

/* A known value that has no unit. */
static void answer_plain(struct answer *answer, const char *attribute, const struct value *value)
{
	switch (value->type) {
	case VALUE_COUNT:
		answer_count(answer, attribute, value->count);
		break;
	case VALUE_YES_NO:
		answer_yes_no(answer, attribute, value->yes);
		break;
	case VALUE_NUMBER:
		answer_number(answer, attribute, value->number, 6);
		break;
	case VALUE_MOMENT:
		answer_moment(answer, attribute, value->moment);
		break;
	case VALUE_TEXT:
	case VALUE_PITCH:
	case VALUE_PITCHES:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_TOOLING:
	case VALUE_WEB:
	case VALUE_CELL:
	case VALUE_VOLUME:
	case VALUE_ACROSS:
	case VALUE_SCREEN:
	case VALUE_WEIGHT:
	case VALUE_AREA:
	case VALUE_LIQUID:
	case VALUE_ANGLE:
	case VALUE_SPEED:
	case VALUE_DURATION:
	case VALUE_PERCENT:
	case VALUE_MONEY:
		answer_word(answer, attribute, value_text(answer->arena, value, answer->units));
		break;
	}
}

void answer_value(struct answer *answer, const char *attribute, const struct value *value)
{
	if (answer->form == FORM_TEXT) {
		return;
	}
	if (answer->form == FORM_CSV) {
		/* As `import` takes it: the attribute's own name, the unit in the cell. */
		const char *cell = value_text(answer->arena, value, answer->units);
		answer_word(answer, attribute, value->known ? cell : NULL);
	} else if (value->type == VALUE_ACROSS) {
		answer_across(answer, attribute, value);
	} else if (value->type == VALUE_SCREEN) {
		answer_screen(answer, attribute, value);
	} else if ((size_t)value->type < COUNT_OF(figures) && figures[value->type].suffix != NULL) {
		answer_figure(answer, attribute, value);
	} else if (!value->known) {
		answer_null(answer, attribute);
	} else {
		answer_plain(answer, attribute, value);
	}
}
