/* What stands on a tag for people: the lines of its stock, filled from a record. */
#include <assert.h>
#include <math.h>
#include <string.h>

#include "show.h"
#include "tags.h"

#define BETWEEN " \xc2\xb7 " /* a middle dot: it stands apart from a comma within a value */
#define TIMES " \xc3\x97 "   /* a multiplication sign */

/* The card that a reason or action is on has no kind of record. */
static const char *const of_cards[] = {"tag", "title", "meaning"};

enum tag_use room_tag_use(const struct kind *kind)
{
	static const struct {
		enum kind_id kind;
		enum tag_use use;
	} uses[] = {
		{KIND_PLACE, TAG_USE_PLACE},
		{KIND_PRESS, TAG_USE_PRESS},
		{KIND_JOB, TAG_USE_JOB},
		{KIND_OPERATOR, TAG_USE_BADGE},
	};
	if (kind == NULL) {
		return TAG_USE_ACTION;
	}
	for (size_t i = 0; i < COUNT_OF(uses); i++) {
		if (uses[i].kind == kind->id) {
			return uses[i].use;
		}
	}
	assert(kind->tool);
	return TAG_USE_TOOL;
}

/* ---------------------------------------------------------------- which words there are */

static const char *word_of(enum tag_use use, size_t index)
{
	static const char *const of_all[] = {"tag", "title", "repeat"};
	if (use == TAG_USE_ACTION) {
		return index < COUNT_OF(of_cards) ? of_cards[index] : NULL;
	}
	if (index < COUNT_OF(of_all)) {
		return of_all[index];
	}
	index -= COUNT_OF(of_all);
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (!kinds[i].tagged || room_tag_use(&kinds[i]) != use) {
			continue;
		}
		if (index < kind_attribute_count(&kinds[i])) {
			return kind_attribute(&kinds[i], index)->name;
		}
		index -= kind_attribute_count(&kinds[i]);
	}
	return NULL;
}

bool room_tag_tells(enum tag_use use, const char *attribute)
{
	const char *word;
	for (size_t i = 0; (word = word_of(use, i)) != NULL; i++) {
		if (strcmp(word, attribute) == 0) {
			return true;
		}
	}
	return false;
}

const char *room_tag_nearest(struct arena *arena, unsigned uses, const char *attribute)
{
	const char **words = NULL;
	size_t count = 0, room = 0;
	for (size_t use = 0; use < TAG_USE_COUNT; use++) {
		const char *word;
		for (size_t i = 0; (uses >> use & 1) != 0 && (word = word_of((enum tag_use)use, i)) != NULL;
		     i++) {
			if (count + 1 >= room) {
				words = arena_grow(arena, words, room, room * 2 + 64, sizeof *words);
				room = room * 2 + 64;
			}
			words[count++] = word;
		}
	}
	return words != NULL ? text_nearest(attribute, words) : NULL;
}

/* ---------------------------------------------------------------- how each is said */

/*
 * What stands before and behind a value, where it would not be known alone. Behind another
 * (`behind_of`) it is joined by `glue`, without what stands before it.
 */
static const struct wording {
	const char *attribute, *before, *behind;
	const char *behind_of, *glue;
} wordings[] = {
	{"tag", "", "", NULL, NULL},
	{"title", "", "", NULL, NULL},
	{"name", "", "", NULL, NULL},
	{"code", "", "", NULL, NULL},
	{"number", "", "", NULL, NULL},
	{"badge", "", "", NULL, NULL},
	{"role", "", "", NULL, NULL},
	{"sort", "", "", NULL, NULL},
	{"state", "", "", NULL, NULL},
	{"note", "", "", NULL, NULL},
	{"other_tag", "", "", NULL, NULL},
	{"maker_serial", "serial ", "", NULL, NULL},
	{"condition", "", "", NULL, NULL},
	{"drive", "", "", NULL, NULL},
	{"surface", "", "", NULL, NULL},
	{"material", "", "", NULL, NULL},
	{"build", "", "", NULL, NULL},
	{"shape", "", "", NULL, NULL},
	{"teeth", "", " teeth", NULL, NULL},
	{"pitch", "", "", "teeth", " "},
	{"line_screen", "", "", NULL, NULL},
	{"volume", "", "", "line_screen", " "},
	{"angle", "", "", NULL, NULL},
	{"cut", "", " cut", NULL, NULL},
	{"edge", "", " edge", NULL, NULL},
	{"thickness", "", " thick", NULL, NULL},
	{"label_across", "label ", "", NULL, NULL},
	{"label_around", "label ", "", "label_across", TIMES},
	{"number_across", "", " across", NULL, NULL},
	{"number_around", "", " around", "number_across", TIMES},
	{"gap_across", "gap ", " across", NULL, NULL},
	{"gap_around", "gap ", " around", NULL, NULL},
	{"liner_caliper", "liner ", "", NULL, NULL},
	{"die_gap", "gap ", "", NULL, NULL},
	{"within", "in ", "", NULL, NULL},
	{"capacity", "holds ", " tools", NULL, NULL},
	{"stations", "", " stations", NULL, NULL},
	{"die_stations", "", " die stations", NULL, NULL},
	{"quantity", "", " labels", NULL, NULL},
};

static const struct wording *wording_of(const char *attribute)
{
	for (size_t i = 0; i < COUNT_OF(wordings); i++) {
		if (strcmp(wordings[i].attribute, attribute) == 0) {
			return &wordings[i];
		}
	}
	return NULL;
}

/* `home` as it is, `pressure_angle` with a blank. */
static void add_name(struct text *text, const char *attribute)
{
	for (; *attribute != '\0'; attribute++) {
		text_add_bytes(text, *attribute == '_' ? " " : attribute, 1);
	}
	text_add(text, " ");
}

/* `1 station`: the s of a wording that ends in one goes. */
static void add_behind(struct text *text, const char *behind, bool single)
{
	size_t length = strlen(behind);
	bool plural = length > 0 && behind[length - 1] == 's';
	text_add_bytes(text, behind, plural && single ? length - 1 : length);
}

/* A list is kept as `a,b`. */
static void add_value(struct text *text, const char *value)
{
	for (; *value != '\0'; value++) {
		text_add_bytes(text, value, 1);
		if (*value == ',' && value[1] != ' ' && value[1] != '\0') {
			text_add(text, " ");
		}
	}
}

/* `before`: the attribute that was told last in this line; NULL: none. */
static void add_part(struct text *text, const char *attribute, const char *value, bool list,
                     const char *before)
{
	const struct wording *wording = wording_of(attribute);
	bool glued = wording != NULL && wording->behind_of != NULL && before != NULL &&
	             strcmp(wording->behind_of, before) == 0;
	text_add(text, text->length == 0 ? "" : glued ? wording->glue : BETWEEN);
	if (wording == NULL) {
		add_name(text, attribute);
	} else {
		text_add(text, glued ? "" : wording->before);
	}
	if (list) {
		add_value(text, value);
	} else {
		text_add(text, value);
	}
	add_behind(text, wording != NULL ? wording->behind : "", strcmp(value, "1") == 0);
}

/* ---------------------------------------------------------------- of a record */

/* Sizes that are read at arm's length; of others a thousandth of a millimetre counts. */
static bool is_rough(const char *attribute)
{
	static const char *const names[] = {"repeat",       "face",         "face_from", "face_to",
	                                    "label_across", "label_around", "length",    "web",
	                                    "repeat_min",   "repeat_max"};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		if (strcmp(names[i], attribute) == 0) {
			return true;
		}
	}
	return false;
}

/* `4.3bcm` of 430 hundredths. */
static const char *number_say(struct arena *arena, int64_t hundredths, const char *unit)
{
	long long whole = (long long)hundredths / 100, rest = (long long)hundredths % 100;
	return rest == 0        ? arena_format(arena, "%lld%s", whole, unit)
	       : rest % 10 == 0 ? arena_format(arena, "%lld.%lld%s", whole, rest / 10, unit)
	                        : arena_format(arena, "%lld.%02lld%s", whole, rest, unit);
}

/* Near enough to know a tool by; what it is to the last digit stands on record. */
static const char *length_say(struct arena *arena, const char *attribute, struct length length,
                              enum units units)
{
	int64_t rough = is_rough(attribute) ? 10 : 1;
	struct length near = length_stepped(length, rough * (units == UNITS_INCH ? NM_OF_INCH / 10000
	                                                                         : NM_OF_MM / 1000));
	return arena_copy(arena, length_text(near, LENGTH_TOOLING, units).bytes);
}

static const char *volume_say(struct arena *arena, struct volume volume, enum units units)
{
	return units == UNITS_INCH
	           ? number_say(arena, llround(volume_to_bcm(volume) * 100), "bcm")
	           : number_say(arena, llround(volume_to_cm3_m2(volume) * 100), "cm3/m2");
}

static const char *screen_say(struct arena *arena, struct screen screen, enum units units)
{
	return units == UNITS_INCH
	           ? number_say(arena, llround(screen_to_lpi(screen)) * 100, "lpi")
	           : number_say(arena, llround(screen_to_per_cm(screen) * 10) * 10, "/cm");
}

static const char *value_say(struct arena *arena, const char *attribute, const struct value *value,
                             enum units units)
{
	if (value->type == VALUE_TOOLING) {
		return length_say(arena, attribute, value->length, units);
	}
	if (value->type == VALUE_VOLUME) {
		return volume_say(arena, value->volume, units);
	}
	return value->type == VALUE_SCREEN ? screen_say(arena, value->screen, units)
	                                   : value_text(arena, value, units);
}

/* What a record prints or cuts around: its own, or by its teeth; NULL where it is not known. */
static const char *repeat_say(struct arena *arena, const struct record *record, enum units units)
{
	const struct value *own = record_known(record, "repeat");
	const struct value *teeth = record_known(record, "teeth");
	const struct value *pitch = record_known(record, "pitch");
	if (own != NULL) {
		return length_say(arena, "repeat", own->length, units);
	}
	if (teeth == NULL || pitch == NULL) {
		return NULL;
	}
	struct repeat repeat = repeat_of_teeth(teeth->count, pitch->pitch);
	return repeat.known ? length_say(arena, "repeat", real_round(repeat_length(repeat)), units)
	                    : NULL;
}

static bool is_list(enum value_type type)
{
	return type == VALUE_WORDS || type == VALUE_CHOICES || type == VALUE_PITCHES;
}

static const char *attribute_say(struct arena *arena, const struct record *record,
                                 const char *attribute, enum units units, bool *list)
{
	const struct value *value = record_known(record, attribute);
	*list = value != NULL && is_list(value->type);
	if (strcmp(attribute, "repeat") == 0) {
		return repeat_say(arena, record, units);
	}
	if (value == NULL && strcmp(attribute, "title") == 0 && record->kind->id != KIND_JOB) {
		return record->kind->title;
	}
	return value != NULL ? value_say(arena, attribute, value, units) : NULL;
}

const char *tag_line_say(struct arena *arena, const struct record *record,
                         const struct tag_line *line, enum units units)
{
	struct text text = text_start(arena);
	const char *before = NULL;
	for (size_t i = 0; i < line->count; i++) {
		bool list;
		const char *attribute = line->attributes[i];
		const char *value = attribute_say(arena, record, attribute, units, &list);
		if (value != NULL && value[0] != '\0') {
			add_part(&text, attribute, value, list, before);
			before = attribute;
		}
	}
	return text.length > 0 ? text.bytes : NULL;
}

const char *tag_line_say_card(struct arena *arena, const struct action_card *card,
                              const struct tag_line *line)
{
	struct tag tag = {.class = TAG_ACTION, .serial = card->serial};
	const char *values[COUNT_OF(of_cards)] = {
		arena_copy(arena, tag_shown(tag).bytes),
		card->word != NULL ? card->word : card->reason,
		card->meaning,
	};
	struct text text = text_start(arena);
	for (size_t i = 0; i < line->count; i++) {
		for (size_t j = 0; j < COUNT_OF(of_cards); j++) {
			if (strcmp(of_cards[j], line->attributes[i]) == 0) {
				text_join(&text, BETWEEN, values[j]);
			}
		}
	}
	return text.length > 0 ? text.bytes : NULL;
}

const char *tag_face_say(struct arena *arena, const char *tag, const char *const *lines,
                         size_t count)
{
	struct text face = text_start(arena);
	text_add(&face, tag);
	for (size_t i = 0; i < count; i++) {
		text_add_format(&face, "\n%s", lines[i] != NULL ? lines[i] : "");
	}
	return face.bytes;
}
