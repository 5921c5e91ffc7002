/* What is asked of an attribute, out of the words typed: a value, a range, or nothing. */
#include <string.h>

#include "asking.h"

/* Has the type an order, so that a range says something? */
static bool is_ordered(enum value_type type)
{
	switch (type) {
	case VALUE_COUNT:
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
	case VALUE_MOMENT:
	case VALUE_NUMBER:
		return true;
	case VALUE_TEXT:
	case VALUE_PITCH:
	case VALUE_PITCHES:
	case VALUE_CHOICE:
	case VALUE_CHOICES:
	case VALUE_WORDS:
	case VALUE_YES_NO:
		break;
	}
	return false;
}

static bool is_blank(const char *text)
{
	return text[strspn(text, " \t")] == '\0';
}

/* ---------------------------------------------------------------- ranges */

static enum outcome read_value(struct arena *arena, const struct attribute *attribute,
                               const char *text, struct value *out, struct fault *fault)
{
	return value_parse(arena, attribute->name, attribute->type, attribute->choices, NULL, text, out,
	                   fault);
}

/* One end; across the face a range is of one volume, which stands for all three. */
static enum outcome read_end(struct arena *arena, const struct attribute *attribute,
                             const char *text, struct value *out, struct fault *fault)
{
	if (attribute->type != VALUE_ACROSS || strchr(text, '/') != strrchr(text, '/')) {
		return read_value(arena, attribute, text, out, fault);
	}
	struct value volume = {.type = VALUE_VOLUME};
	enum outcome outcome =
		value_parse(arena, attribute->name, VALUE_VOLUME, NULL, NULL, text, &volume, fault);
	*out = (struct value){.type = VALUE_ACROSS, .known = volume.known};
	out->across = (struct across){volume.volume, volume.volume, volume.volume};
	return outcome;
}

static bool runs_backwards(const struct value *least, const struct value *most)
{
	if (!least->known || !most->known || least->type == VALUE_ACROSS) {
		return false;
	}
	if (least->type == VALUE_SCREEN) {
		return screen_compare(least->screen, most->screen) > 0;
	}
	if (least->type == VALUE_MOMENT) {
		/* Of one day, the last of whose seconds a bare date stands for here. */
		struct moment ends = moment_of_day_end(most->moment);
		return moment_compare(least->moment, ends) > 0;
	}
	return value_to_stored(least) > value_to_stored(most);
}

static enum outcome read_range(struct arena *arena, const struct attribute *attribute,
                               const char *text, const char *dots, struct asked *out,
                               struct fault *fault)
{
	const char *from = arena_copy_bytes(arena, text, (size_t)(dots - text));
	const char *to = dots + 2;
	if (is_blank(from) && is_blank(to)) {
		fault_set(fault, OUTCOME_BAD, "range has neither end: %s=%s", attribute->name, text);
		fault_hint(fault, "Type %s=FROM.. or %s=..TO, each end %s.", attribute->name,
		           attribute->name, value_spelling(attribute->type));
		return OUTCOME_BAD;
	}
	enum outcome outcome = read_end(arena, attribute, from, &out->least, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_end(arena, attribute, to, &out->most, fault);
	}
	if (outcome == OUTCOME_DONE && runs_backwards(&out->least, &out->most)) {
		fault_set(fault, OUTCOME_BAD, "range runs backwards: %s=%s", attribute->name, text);
		fault_hint(fault, "Type the lesser end first.");
		return OUTCOME_BAD;
	}
	return outcome;
}

/* ---------------------------------------------------------------- names and words */

/* A tag as it is kept; what is none of ours cannot be anybody's. */
static enum outcome read_tag(struct arena *arena, const char *text, struct asked *out,
                             struct fault *fault)
{
	struct tag tag;
	switch (tag_read(text, &tag)) {
	case TAG_READ:
		out->words = arena_copy(arena, tag_stored(tag).bytes);
		return OUTCOME_DONE;
	case TAG_MISREAD:
		fault_set(fault, OUTCOME_BAD, "tag misread, its check character does not agree: %s", text);
		fault_hint(fault, "Scan it again, or compare it with the tag sign by sign.");
		return OUTCOME_BAD;
	case TAG_NOT_OURS:
		break;
	}
	fault_set(fault, OUTCOME_BAD, "tag is not one of ours: %s", text);
	fault_hint(fault, "A number that the shop already had is asked for with other_tag=..., or as "
	                  "a word.");
	return OUTCOME_BAD;
}

static enum outcome read_reference(struct store *store, const struct attribute *attribute,
                                   const char *text, struct asked *out, struct fault *fault)
{
	struct found found;
	enum outcome outcome = store_find(store, text, attribute->reference, &found, fault);
	out->reference = outcome == OUTCOME_DONE ? found.id : 0;
	return outcome;
}

/* A value that is one thing, of a type that has no order, or an ordered one without a range. */
static enum outcome read_one(struct arena *arena, const struct attribute *attribute,
                             const char *text, struct asked *out, struct fault *fault)
{
	struct value value = {.type = attribute->type};
	enum outcome outcome = read_value(arena, attribute, text, &value, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (is_ordered(attribute->type) || attribute->type == VALUE_YES_NO) {
		out->least = out->most = value;
	} else {
		out->words = value_text(arena, &value, UNITS_METRIC);
	}
	return OUTCOME_DONE;
}

enum outcome asking_read(struct store *store, struct arena *arena, const struct kind *kind,
                         size_t attribute, const char *text, struct asked *out, struct fault *fault)
{
	const struct attribute *asked = kind_attribute(kind, attribute);
	const char *dots = strstr(text, "..");
	*out = (struct asked){.attribute = attribute};
	if (is_blank(text)) {
		out->blank = true;
		return OUTCOME_DONE;
	}
	if (asked->reference != REFER_NONE) {
		return read_reference(store, asked, text, out, fault);
	}
	if (strcmp(asked->name, "tag") == 0) {
		return read_tag(arena, text, out, fault);
	}
	if (dots != NULL && is_ordered(asked->type)) {
		return read_range(arena, asked, text, dots, out, fault);
	}
	if (dots != NULL && asked->type != VALUE_TEXT) {
		fault_set(fault, OUTCOME_BAD, "%s takes no range: %s", asked->name, text);
		fault_hint(fault, "Type %s.", value_spelling(asked->type));
		return OUTCOME_BAD;
	}
	return read_one(arena, asked, text, out, fault);
}
