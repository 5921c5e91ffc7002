/* The kinds of record and what is known of each: the vocabulary's tables as data. */
#include <string.h>

#include "toothrack/store.h"

static const char *const roles[] = {"clerk", "planner", "maintenance", "supervisor", NULL};
static const char *const sorts[] = {"store", "press", "cart", "wash", "supplier", "lost", NULL};
static const char *const processes[] = {"flexo", "cold_foil", "hot_foil", "rotary_screen", NULL};
static const char *const place_conditions[] = {"ready", "hold", NULL};
static const char *const conditions[] = {"ready", "hold", "scrapped", NULL};
static const char *const press_drives[] = {"geared", "servo", NULL};
static const char *const states[] = {"planned", "running", "finished", "cancelled", NULL};
static const char *const shapes[] = {"rectangle", "circle", "oval", "special", NULL};
static const char *const drives[] = {"geared", "demountable", "gearless", NULL};
static const char *const hands[] = {"left", "right", NULL};
static const char *const surfaces[] = {"ceramic", "chrome", NULL};
static const char *const materials[] = {"steel", "coated", "polymer", NULL};
static const char *const edges[] = {"square", "bevel", "lamella", "round", NULL};
static const char *const builds[] = {"flexible", "solid", NULL};
static const char *const cut_kinds[] = {"kiss", "through", "perforation", "back", NULL};
static const char *const plate_states[] = {"none", "ordered", "ready", NULL};
static const char *const methods[] = {"surface", "drawdown", NULL};
static const char *const afters[] = {"clean", "run", NULL};

#define TAG_ATTRIBUTE \
	{ \
		.name = "tag", .type = VALUE_TEXT, \
		.meaning = "given out by the shop file where none is given" \
	}
#define RETIRED_ATTRIBUTE \
	{ \
		.name = "retired", .type = VALUE_YES_NO, .fallback = "no", .meaning = "no longer in use" \
	}

static const struct attribute operator_attributes[] = {
	{.name = "badge", .type = VALUE_TEXT, .required = true, .meaning = "the shop's own number"},
	TAG_ATTRIBUTE,
	{.name = "name", .type = VALUE_TEXT, .required = true, .meaning = "of the person"},
	{.name = "role",
     .type = VALUE_CHOICE,
     .choices = roles,
     .required = true,
     .meaning = "the work done"},
	RETIRED_ATTRIBUTE,
};

static const struct attribute place_attributes[] = {
	{.name = "code", .type = VALUE_TEXT, .required = true, .meaning = "what the shop calls it"},
	TAG_ATTRIBUTE,
	{.name = "name", .type = VALUE_TEXT, .meaning = "in words"},
	{.name = "within",
     .type = VALUE_TEXT,
     .reference = REFER_PLACE,
     .meaning = "the place it is in"},
	{.name = "sort",
     .type = VALUE_CHOICE,
     .choices = sorts,
     .required = true,
     .meaning = "what it is for"},
	{.name = "walk", .type = VALUE_COUNT, .meaning = "order on the round"},
	{.name = "capacity", .type = VALUE_COUNT, .meaning = "tools it takes"},
	{.name = "processes",
     .type = VALUE_CHOICES,
     .choices = processes,
     .meaning = "of a press station; blank is all"},
	{.name = "condition",
     .type = VALUE_CHOICE,
     .choices = place_conditions,
     .fallback = "ready",
     .meaning = "on hold, nothing runs there"},
	{.name = "note",
     .type = VALUE_TEXT,
     .meaning = "free words; the reason of a hold that comes by CSV"},
	RETIRED_ATTRIBUTE,
};

static const struct attribute press_attributes[] = {
	{.name = "code", .type = VALUE_TEXT, .required = true, .meaning = "what the shop calls it"},
	TAG_ATTRIBUTE,
	{.name = "name", .type = VALUE_TEXT, .meaning = "in words"},
	{.name = "drive",
     .type = VALUE_CHOICE,
     .choices = press_drives,
     .required = true,
     .meaning = "one gear train, or a motor a cylinder"},
	{.name = "web", .type = VALUE_TOOLING, .meaning = "widest web"},
	{.name = "repeat_min", .type = VALUE_TOOLING, .meaning = "shortest repeat"},
	{.name = "repeat_max", .type = VALUE_TOOLING, .meaning = "longest repeat"},
	{.name = "pitches", .type = VALUE_PITCHES, .meaning = "of its gear train"},
	{.name = "pressure_angle", .type = VALUE_ANGLE, .meaning = "of its gear train"},
	{.name = "helix", .type = VALUE_ANGLE, .meaning = "of its gear train"},
	{.name = "stations", .type = VALUE_COUNT, .required = true, .meaning = "print stations"},
	{.name = "die_stations", .type = VALUE_COUNT, .meaning = "die stations"},
	{.name = "spacing", .type = VALUE_WEB, .meaning = "web between stations"},
	{.name = "fit",
     .type = VALUE_WORDS,
     .meaning = "bearers and journals it takes; blank is everything"},
	{.name = "speed", .type = VALUE_SPEED, .meaning = "of the web"},
	RETIRED_ATTRIBUTE,
};

static const struct attribute job_attributes[] = {
	{.name = "number", .type = VALUE_TEXT, .required = true, .meaning = "the shop's own"},
	TAG_ATTRIBUTE,
	{.name = "title", .type = VALUE_TEXT, .meaning = "in words"},
	{.name = "state",
     .type = VALUE_CHOICE,
     .choices = states,
     .fallback = "planned",
     .meaning = "how far it is"},
	{.name = "press",
     .type = VALUE_WORDS,
     .reference = REFER_PRESSES,
     .meaning = "one or several it may run on"},
	{.name = "from", .type = VALUE_MOMENT, .meaning = "when it starts"},
	{.name = "until", .type = VALUE_MOMENT, .meaning = "when it ends"},
	{.name = "quantity", .type = VALUE_COUNT, .meaning = "labels"},
	{.name = "label_across", .type = VALUE_TOOLING, .meaning = "label size across the web"},
	{.name = "label_around", .type = VALUE_TOOLING, .meaning = "label size around the cylinder"},
	{.name = "corner", .type = VALUE_TOOLING, .meaning = "corner radius"},
	{.name = "shape", .type = VALUE_CHOICE, .choices = shapes, .meaning = "of the label"},
	{.name = "number_across", .type = VALUE_COUNT, .meaning = "labels across"},
	{.name = "gap_across", .type = VALUE_TOOLING, .meaning = "between labels across"},
	{.name = "gap_around_min", .type = VALUE_TOOLING, .meaning = "least gap around"},
	{.name = "gap_around_max", .type = VALUE_TOOLING, .meaning = "most gap around"},
	{.name = "trim", .type = VALUE_TOOLING, .meaning = "waste edge, each side"},
	{.name = "web", .type = VALUE_TOOLING, .meaning = "width of the stock"},
	{.name = "liner_caliper", .type = VALUE_TOOLING, .meaning = "thickness of the liner"},
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of the print cylinders of a repeat order"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the print cylinders of a repeat order"},
	{.name = "repeat",
     .type = VALUE_TOOLING,
     .meaning = "of a repeat order, where no teeth are given"},
	{.name = "number_around", .type = VALUE_COUNT, .meaning = "labels around one repeat"},
};

static const struct attribute tool_attributes[] = {
	TAG_ATTRIBUTE,
	{.name = "maker_serial", .type = VALUE_TEXT, .meaning = "the maker's number"},
	{.name = "other_tag", .type = VALUE_TEXT, .meaning = "a number the shop already had"},
	{.name = "name", .type = VALUE_TEXT, .meaning = "in words"},
	{.name = "fit", .type = VALUE_WORDS, .meaning = "its bearers and journals"},
	{.name = "place", .type = VALUE_TEXT, .reference = REFER_PLACE, .meaning = "where it is"},
	{.name = "home", .type = VALUE_TEXT, .reference = REFER_PLACE, .meaning = "where it belongs"},
	{.name = "condition",
     .type = VALUE_CHOICE,
     .choices = conditions,
     .fallback = "ready",
     .meaning = "whether it may run"},
	{.name = "back",
     .type = VALUE_MOMENT,
     .meaning = "when it is due back; a bare date is the end of that day"},
	{.name = "face", .type = VALUE_TOOLING, .meaning = "whole width of the face"},
	{.name = "face_from", .type = VALUE_TOOLING, .meaning = "usable band, where part is damaged"},
	{.name = "face_to", .type = VALUE_TOOLING, .meaning = "usable band, where part is damaged"},
	{.name = "weight", .type = VALUE_WEIGHT, .meaning = "of the tool"},
	{.name = "cost", .type = VALUE_MONEY, .meaning = "in the shop's currency"},
	{.name = "acquired", .type = VALUE_MOMENT, .meaning = "date it came"},
	{.name = "run", .type = VALUE_WEB, .meaning = "web since new, or since its life began"},
	{.name = "note",
     .type = VALUE_TEXT,
     .meaning = "free words; the reason of a hold or scrap that comes by CSV"},
};

static const struct attribute cylinder_attributes[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of its gear"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of its gear"},
	{.name = "drive",
     .type = VALUE_CHOICE,
     .choices = drives,
     .meaning = "gear fixed to it, loose gear, or none"},
	{.name = "repeat", .type = VALUE_TOOLING, .meaning = "gearless only"},
	{.name = "undercut", .type = VALUE_TOOLING, .meaning = "radial"},
	{.name = "diameter", .type = VALUE_TOOLING, .meaning = "measured, bare"},
	{.name = "runout", .type = VALUE_TOOLING, .meaning = "total indicated"},
	{.name = "bore", .type = VALUE_TOOLING, .meaning = "for a loose gear"},
	{.name = "pressure_angle", .type = VALUE_ANGLE, .meaning = "of its gear"},
	{.name = "helix", .type = VALUE_ANGLE, .meaning = "of its gear"},
	{.name = "hand", .type = VALUE_CHOICE, .choices = hands, .meaning = "of the helix"},
	{.name = "carries",
     .type = VALUE_TEXT,
     .reference = REFER_JOB,
     .meaning = "job whose plates are on it"},
};

static const struct attribute gear_attributes[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "number"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the teeth"},
	{.name = "pressure_angle", .type = VALUE_ANGLE, .meaning = "of the teeth"},
	{.name = "helix", .type = VALUE_ANGLE, .meaning = "of the teeth"},
	{.name = "hand", .type = VALUE_CHOICE, .choices = hands, .meaning = "of the helix"},
	{.name = "bore", .type = VALUE_TOOLING, .meaning = "diameter"},
};

static const struct attribute anilox_attributes[] = {
	{.name = "line_screen", .type = VALUE_SCREEN, .meaning = "of the engraving"},
	{.name = "volume", .type = VALUE_VOLUME, .meaning = "when new"},
	{.name = "angle", .type = VALUE_ANGLE, .meaning = "of the engraving"},
	{.name = "diameter", .type = VALUE_TOOLING, .meaning = "measured"},
	{.name = "surface",
     .type = VALUE_CHOICE,
     .choices = surfaces,
     .meaning = "what it is coated with"},
	{.name = "engraved", .type = VALUE_MOMENT, .meaning = "date"},
};

static const struct attribute blade_attributes[] = {
	{.name = "length", .type = VALUE_TOOLING, .meaning = "of the blade"},
	{.name = "material", .type = VALUE_CHOICE, .choices = materials, .meaning = "of the blade"},
	{.name = "thickness", .type = VALUE_TOOLING, .meaning = "of the blade"},
	{.name = "edge", .type = VALUE_CHOICE, .choices = edges, .meaning = "how it is ground"},
	{.name = "fitted", .type = VALUE_MOMENT, .meaning = "date the blade was fitted"},
	{.name = "life", .type = VALUE_WEB, .meaning = "web it lasts"},
};

static const struct attribute die_attributes[] = {
	{.name = "build",
     .type = VALUE_CHOICE,
     .choices = builds,
     .meaning = "a plate for a magnetic cylinder, or solid"},
	{.name = "cut", .type = VALUE_CHOICE, .choices = cut_kinds, .meaning = "what it cuts"},
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of its gear, or of the magnetic cylinder"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of these teeth"},
	{.name = "number_across", .type = VALUE_COUNT, .meaning = "labels across"},
	{.name = "number_around", .type = VALUE_COUNT, .meaning = "labels around"},
	{.name = "label_across", .type = VALUE_TOOLING, .meaning = "label size across the web"},
	{.name = "label_around", .type = VALUE_TOOLING, .meaning = "label size around"},
	{.name = "gap_across", .type = VALUE_TOOLING, .meaning = "between labels across"},
	{.name = "gap_around", .type = VALUE_TOOLING, .meaning = "between labels around"},
	{.name = "corner", .type = VALUE_TOOLING, .meaning = "corner radius"},
	{.name = "shape", .type = VALUE_CHOICE, .choices = shapes, .meaning = "of the label"},
	{.name = "liner_caliper", .type = VALUE_TOOLING, .meaning = "liner it is made for"},
	{.name = "die_gap",
     .type = VALUE_TOOLING,
     .meaning = "of the magnetic cylinder it is made for"},
	{.name = "life", .type = VALUE_COUNT, .meaning = "revolutions it lasts"},
};

static const struct attribute magnetic_cylinder_attributes[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of its gear"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of its gear"},
	{.name = "die_gap", .type = VALUE_TOOLING, .meaning = "between bearer and magnet, radial"},
};

static const struct attribute station_attributes[] = {
	{.name = "job",
     .type = VALUE_TEXT,
     .reference = REFER_JOB,
     .required = true,
     .meaning = "its number"},
	{.name = "station", .type = VALUE_COUNT, .required = true, .meaning = "on the press"},
	{.name = "ink", .type = VALUE_TEXT, .meaning = "in words"},
	{.name = "process",
     .type = VALUE_CHOICE,
     .choices = processes,
     .required = true,
     .meaning = "what is done there"},
	{.name = "register",
     .type = VALUE_YES_NO,
     .fallback = "yes",
     .meaning = "no: a flood coat needs no matching repeat"},
	{.name = "plate", .type = VALUE_TOOLING, .meaning = "thickness"},
	{.name = "base", .type = VALUE_TOOLING, .meaning = "thickness of its polyester base"},
	{.name = "tape", .type = VALUE_TOOLING, .meaning = "thickness"},
	{.name = "plates",
     .type = VALUE_CHOICE,
     .choices = plate_states,
     .meaning = "how far they are"},
	{.name = "screen_min", .type = VALUE_SCREEN, .meaning = "coarsest roll"},
	{.name = "screen_max", .type = VALUE_SCREEN, .meaning = "finest roll"},
	{.name = "volume", .type = VALUE_VOLUME, .meaning = "asked of the roll"},
	{.name = "volume_tolerance",
     .type = VALUE_PERCENT,
     .meaning = "either side; blank is the shop's"},
	{.name = "plate_screen", .type = VALUE_SCREEN, .meaning = "of the image"},
};

static const struct attribute cut_attributes[] = {
	{.name = "job",
     .type = VALUE_TEXT,
     .reference = REFER_JOB,
     .required = true,
     .meaning = "its number"},
	{.name = "cut", .type = VALUE_COUNT, .required = true, .meaning = "die station"},
	{.name = "kind",
     .type = VALUE_CHOICE,
     .choices = cut_kinds,
     .required = true,
     .meaning = "what is cut"},
	{.name = "die",
     .type = VALUE_TEXT,
     .reference = REFER_DIE,
     .meaning = "tag, where one is named"},
};

static const struct attribute reading_attributes[] = {
	{.name = "tool",
     .type = VALUE_TEXT,
     .reference = REFER_ANILOX,
     .required = true,
     .meaning = "the roll"},
	{.name = "moment",
     .type = VALUE_MOMENT,
     .required = true,
     .seconds = true,
     .meaning = "when it was read"},
	{.name = "volume", .type = VALUE_VOLUME, .meaning = "read; blank is the mean across"},
	{.name = "across", .type = VALUE_ACROSS, .meaning = "left/centre/right"},
	{.name = "method", .type = VALUE_CHOICE, .choices = methods, .meaning = "how it was read"},
	{.name = "after",
     .type = VALUE_CHOICE,
     .choices = afters,
     .meaning = "cleaning, or a run; blank counts as run"},
	{.name = "run",
     .type = VALUE_WEB,
     .meaning = "web run since the engraving when it was read; blank: as the runs of jobs tell"},
};

#define OWN(list) .own = (list), .own_count = COUNT_OF(list)
#define TOOL(letters, list) .tagged = true, .class = (letters), .tool = true, OWN(list)

const struct kind kinds[KIND_COUNT] = {
	{KIND_OPERATOR, "operator", "operator", .tagged = true, .class = TAG_BADGE,
     OWN(operator_attributes)},
	{KIND_PLACE, "place", "place", .tagged = true, .class = TAG_PLACE, OWN(place_attributes)},
	{KIND_PRESS, "press", "press", .tagged = true, .class = TAG_PRESS, OWN(press_attributes)},
	{KIND_JOB, "job", "job", .tagged = true, .class = TAG_JOB, OWN(job_attributes)},
	{KIND_CYLINDER, "cylinder", "plate cylinder", TOOL(TAG_PLATE_CYLINDER, cylinder_attributes)},
	{KIND_GEAR, "gear", "gear", TOOL(TAG_GEAR, gear_attributes)},
	{KIND_ANILOX, "anilox", "anilox roll", TOOL(TAG_ANILOX, anilox_attributes)},
	{KIND_BLADE, "blade", "doctor blade assembly", TOOL(TAG_BLADE, blade_attributes)},
	{KIND_DIE, "die", "die", TOOL(TAG_DIE, die_attributes)},
	{KIND_MAGNETIC_CYLINDER, "magnetic_cylinder", "magnetic cylinder",
     TOOL(TAG_MAGNETIC_CYLINDER, magnetic_cylinder_attributes)},
	{KIND_STATION, "station", "station of a job", OWN(station_attributes)},
	{KIND_CUT, "cut", "cut of a job", OWN(cut_attributes)},
	{KIND_READING, "reading", "reading", OWN(reading_attributes)},
};

const struct kind *kind_find(const char *name)
{
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (strcmp(kinds[i].name, name) == 0) {
			return &kinds[i];
		}
	}
	return NULL;
}

const struct kind *kind_of_class(enum tag_class class)
{
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (kinds[i].tagged && kinds[i].class == class) {
			return &kinds[i];
		}
	}
	return NULL;
}

size_t kind_attribute_count(const struct kind *kind)
{
	return kind->own_count + (kind->tool ? COUNT_OF(tool_attributes) : 0);
}

const struct attribute *kind_attribute(const struct kind *kind, size_t index)
{
	if (!kind->tool) {
		return &kind->own[index];
	}
	if (index < COUNT_OF(tool_attributes)) {
		return &tool_attributes[index];
	}
	return &kind->own[index - COUNT_OF(tool_attributes)];
}

size_t kind_attribute_find(const struct kind *kind, const char *name)
{
	size_t count = kind_attribute_count(kind);
	for (size_t i = 0; i < count; i++) {
		if (strcmp(kind_attribute(kind, i)->name, name) == 0) {
			return i;
		}
	}
	return SIZE_MAX;
}

struct record *record_new(struct arena *arena, const struct kind *kind)
{
	size_t count = kind_attribute_count(kind);
	struct record *record = arena_take(arena, 1, sizeof *record);
	record->kind = kind;
	record->values = arena_take(arena, count, sizeof *record->values);
	record->references = arena_take(arena, count, sizeof *record->references);
	for (size_t i = 0; i < count; i++) {
		record->values[i].type = kind_attribute(kind, i)->type;
	}
	return record;
}

struct value *record_value(struct record *record, const char *attribute)
{
	return &record->values[kind_attribute_find(record->kind, attribute)];
}

const struct value *record_known(const struct record *record, const char *attribute)
{
	size_t index = kind_attribute_find(record->kind, attribute);
	if (index == SIZE_MAX || !record->values[index].known) {
		return NULL;
	}
	return &record->values[index];
}

const char *record_words(const struct record *record, const char *attribute)
{
	const struct value *value = record_known(record, attribute);
	return value != NULL ? value->text : NULL;
}
