/* Face, fit, length, drive and pitch: rules that several rows of the table share. */
#include <stdio.h>
#include <string.h>

#include "rules.h"

bool words_equal(const char *a, const char *b)
{
	return a && b && strcmp(a, b) == 0;
}

static bool face_is_damaged(const struct tool *tool)
{
	return tool->face_from.known || tool->face_to.known;
}

struct known_length usable_face(const struct tool *tool)
{
	if (!face_is_damaged(tool)) {
		return tool->face;
	}
	/* Of a band with one end on record nobody knows how wide it is. */
	return (struct known_length){
		.known = tool->face_from.known && tool->face_to.known,
		.value = length_subtract(tool->face_to.value, tool->face_from.value),
	};
}

enum suits rule_face(const struct tool *tool, const struct layout *layout, enum units units,
                     struct remarks *remarks)
{
	const char *face_name = face_is_damaged(tool) ? "usable face" : "face";
	struct known_length face = usable_face(tool);
	if (!face.known) {
		return REMARK(remarks, SUITS_NOT, "%s not known", face_name);
	}
	if (!layout->printed_width.known) {
		return REMARK(remarks, SUITS_NOT, "printed width of the job not known");
	}
	if (length_compare(face.value, layout->printed_width.value) < 0) {
		return REMARK(remarks, SUITS_NOT, "%s %s, %s needed", face_name,
		              tooling_text(face.value, units).bytes,
		              tooling_text(layout->printed_width.value, units).bytes);
	}
	return SUITS_YES;
}

/* One word of a list `a,b`, as far as the next comma. */
static size_t word_length(const char *list)
{
	return strcspn(list, ",");
}

static bool list_holds(const char *list, const char *word, size_t length)
{
	while (*list) {
		size_t next = word_length(list);
		if (next == length && memcmp(list, word, length) == 0) {
			return true;
		}
		list += next;
		list += *list == ',' ? 1 : 0;
	}
	return false;
}

static bool lists_share_a_word(const char *a, const char *b)
{
	while (*a) {
		size_t length = word_length(a);
		if (length > 0 && list_holds(b, a, length)) {
			return true;
		}
		a += length;
		a += *a == ',' ? 1 : 0;
	}
	return false;
}

/* A press's fit, of which one word is enough: `journal35`, `one of bearer13, holder13`. */
static struct words fit_wanted(const char *press_fit)
{
	struct words words = {.bytes = ""};
	const char *before = strchr(press_fit, ',') ? "one of " : "";
	while (*press_fit) {
		size_t used = strlen(words.bytes), length = word_length(press_fit);
		snprintf(words.bytes + used, sizeof words.bytes - used, "%s%.*s", before, (int)length,
		         press_fit);
		press_fit += length;
		press_fit += *press_fit == ',' ? 1 : 0;
		before = ", ";
	}
	return words;
}

enum suits fit_suits(const char *tool_fit, const char *press_fit, struct remarks *remarks)
{
	if (!press_fit) {
		return SUITS_YES;
	}
	if (!tool_fit) {
		return REMARK(remarks, SUITS_NOT, "fit not known, %s needed", fit_wanted(press_fit).bytes);
	}
	if (!lists_share_a_word(tool_fit, press_fit)) {
		return REMARK(remarks, SUITS_NOT, "fit %s, %s needed", tool_fit,
		              fit_wanted(press_fit).bytes);
	}
	return SUITS_YES;
}

enum suits rule_own_length(struct repeat own, struct remarks *remarks)
{
	return own.known ? SUITS_YES : REMARK(remarks, SUITS_NOT, "length around not known");
}

enum suits rule_press_repeat_least(const char *what, struct repeat length,
                                   const struct press *press, enum units units,
                                   struct remarks *remarks)
{
	struct known_length least = press->repeat_min;
	if (!least.known) {
		return REMARK(remarks, SUITS_NOT, "repeat_min of press %s not known", press->code);
	}
	if (!real_at_most(real_from_length(least.value), repeat_length(length))) {
		return REMARK(remarks, SUITS_NOT, "%s %s, press %s takes %s at least", what,
		              real_text(repeat_length(length), &least.value, units).bytes, press->code,
		              tooling_text(least.value, units).bytes);
	}
	return SUITS_YES;
}

enum suits rule_press_repeat_most(const char *what, struct repeat length, const struct press *press,
                                  enum units units, struct remarks *remarks)
{
	struct known_length most = press->repeat_max;
	if (!most.known) {
		return REMARK(remarks, SUITS_NOT, "repeat_max of press %s not known", press->code);
	}
	if (!real_at_most(repeat_length(length), real_from_length(most.value))) {
		return REMARK(remarks, SUITS_NOT, "%s %s, press %s takes %s at most", what,
		              real_text(repeat_length(length), &most.value, units).bytes, press->code,
		              tooling_text(most.value, units).bytes);
	}
	return SUITS_YES;
}

enum suits rule_press_repeat(const char *what, struct repeat length, const struct press *press,
                             enum units units, struct remarks *remarks)
{
	if (!length.known) {
		return SUITS_NOT;
	}
	return suits_worse(rule_press_repeat_least(what, length, press, units, remarks),
	                   rule_press_repeat_most(what, length, press, units, remarks));
}

bool press_is_geared(const struct press *press)
{
	return press->drive_known && press->geared;
}

enum suits rule_press_drive(const struct press *press, struct remarks *remarks)
{
	return press->drive_known
	           ? SUITS_YES
	           : REMARK(remarks, SUITS_NOT, "drive of press %s not known", press->code);
}

static bool train_has_pitch(const struct press *press, struct pitch pitch)
{
	for (size_t i = 0; i < press->pitch_count; i++) {
		if (pitch_equal(press->pitches[i], pitch)) {
			return true;
		}
	}
	return false;
}

enum suits rule_train_pitch(struct repeat own, const struct press *press, struct remarks *remarks)
{
	if (!own.known || !own.toothed) {
		return REMARK(remarks, SUITS_NOT, "pitch not known, press %s is geared", press->code);
	}
	if (press->pitch_count == 0) {
		return REMARK(remarks, SUITS_NOT, "pitches of press %s not known", press->code);
	}
	if (!train_has_pitch(press, own.pitch)) {
		return REMARK(remarks, SUITS_NOT, "pitch %s, press %s takes %s",
		              pitch_text(own.pitch).bytes, press->code,
		              pitch_words(press->pitches, press->pitch_count).bytes);
	}
	return SUITS_YES;
}

enum suits rule_angle(const char *what, struct known_angle own, const char *whose,
                      struct known_angle other, struct remarks *remarks)
{
	if (!own.known || !other.known) {
		return SUITS_YES;
	}
	struct value a = {.type = VALUE_ANGLE, .known = true, .angle = own.value};
	struct value b = {.type = VALUE_ANGLE, .known = true, .angle = other.value};
	if (!value_equal(&a, &b)) {
		return REMARK(remarks, SUITS_NOT, "%s %s, %s of the %s", what, angle_text(own.value).bytes,
		              angle_text(other.value).bytes, whose);
	}
	return SUITS_YES;
}

enum suits rule_train_meshes(struct repeat own, struct known_angle pressure_angle,
                             struct known_angle helix, const struct press *press,
                             struct remarks *remarks)
{
	static const char train[] = "gear train";
	enum suits level = rule_train_pitch(own, press, remarks);
	level = suits_worse(level, rule_angle("pressure angle", pressure_angle, train,
	                                      press->pressure_angle, remarks));
	return suits_worse(level, rule_angle("helix", helix, train, press->helix, remarks));
}

enum suits life_over_level(const struct limits *limits)
{
	return limits->life_over == LIFE_OVER_SHORT ? SUITS_NOT : SUITS_DOUBTFUL;
}
