/* Small texts that the plan's answers share. */
#include <math.h>
#include <string.h>

#include "words.h"

const char *words_of_numbers(struct arena *arena, const char *what, const int64_t *numbers,
                             size_t count)
{
	struct text text = text_start(arena);
	text_add_format(&text, "%s%s", what, count == 1 ? "" : "s");
	for (size_t i = 0; i < count; i++) {
		const char *separator = i == 0 ? " " : i + 1 == count ? " and " : ", ";
		text_add_format(&text, "%s%lld", separator, (long long)numbers[i]);
	}
	return text.bytes;
}

const char *words_of_tags(struct arena *arena, const struct tag *tags, size_t count)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		text_join(&text, ", ", tag_shown(tags[i]).bytes);
	}
	return text.bytes;
}

bool list_has(const char *list, const char *word)
{
	size_t length = strlen(word);
	for (const char *c = list; c != NULL; c = strchr(c, ',')) {
		c += *c == ',' ? 1 : 0;
		if (strncmp(c, word, length) == 0 && (c[length] == ',' || c[length] == '\0')) {
			return true;
		}
	}
	return false;
}

const char *words_of_hold(struct arena *arena, const char *code, struct known_moment since,
                          const char *reason)
{
	struct text text = text_start(arena);
	text_add_format(&text, "%s on hold", code);
	if (since.known) {
		text_add_format(&text, " since %s", moment_text(since.value).bytes);
	}
	if (reason != NULL) {
		text_add_format(&text, ": %s", reason);
	}
	return text.bytes;
}

const char *words_of_length(struct arena *arena, struct real_length length, enum units units)
{
	double mm = real_to_mm(length);
	double shown =
		units == UNITS_INCH ? round(mm / 25.4 * 1e4) / 1e4 * 25.4 : round(mm * 1e3) / 1e3;
	return arena_copy(arena, length_text(length_from_mm(shown), LENGTH_TOOLING, units).bytes);
}

const char *words_of_repeat(struct arena *arena, struct repeat repeat, enum units units)
{
	const char *length = words_of_length(arena, repeat_length(repeat), units);
	if (!repeat.toothed) {
		return length;
	}
	return arena_format(arena, "%s (%lld teeth %s)", length, (long long)repeat.teeth,
	                    pitch_text(repeat.pitch).bytes);
}

static void add_length(struct text *text, const char *what, struct known_length length,
                       enum units units)
{
	if (length.known) {
		text_join(text, ", ", what);
		text_add(text, length_text(length.value, LENGTH_TOOLING, units).bytes);
	}
}

/* `96 teeth 1/8cp`, or the length of one without teeth. */
static void add_own(struct text *text, struct repeat own, enum units units)
{
	if (own.known && own.toothed) {
		text_add_format(text, "%lld teeth %s", (long long)own.teeth, pitch_text(own.pitch).bytes);
	} else if (own.known) {
		text_add_format(text, "repeat %s", length_text(own.plain, LENGTH_TOOLING, units).bytes);
	}
}

const char *words_of_cylinder(struct arena *arena, const struct cylinder *cylinder,
                              enum units units)
{
	struct text text = text_start(arena);
	add_own(&text, cylinder->own, units);
	add_length(&text, "face ", usable_face(&cylinder->tool), units);
	if (cylinder->diameter.known) {
		add_length(&text, "diameter ", cylinder->diameter, units);
	} else {
		add_length(&text, "undercut ", cylinder->undercut, units);
	}
	return text.bytes;
}

const char *words_of_gear(struct arena *arena, const struct gear *gear)
{
	struct text text = text_start(arena);
	add_own(&text, gear->own, UNITS_METRIC);
	return text.bytes;
}

const char *words_of_roll(struct arena *arena, const struct anilox *roll, struct known_length run,
                          enum units units)
{
	struct text text = text_start(arena);
	struct known_volume volume = volume_at_end(roll, run);
	if (roll->line_screen.known) {
		text_add(&text, screen_text(roll->line_screen.value, units).bytes);
	}
	if (volume.known) {
		bool inch = units == UNITS_INCH;
		text_join(&text, ", ", "");
		text_add_format(&text, inch ? "%.2fbcm" : "%.2fcm3/m2",
		                inch ? volume_to_bcm(volume.value) : volume_to_cm3_m2(volume.value));
		if (roll->forecast.known && run.known) {
			text_add(&text, " at the end of the run");
		}
	}
	add_length(&text, "face ", usable_face(&roll->tool), units);
	return text.bytes;
}

const char *words_of_blade(struct arena *arena, const struct blade *blade, enum units units)
{
	struct text text = text_start(arena);
	add_length(&text, "length ", blade->length, units);
	return text.bytes;
}

const char *words_of_die(struct arena *arena, const struct die *die, enum units units)
{
	struct text text = text_start(arena);
	if (die->cut != NULL) {
		text_join(&text, ", ", die->cut);
	}
	if (die->label_across.known && die->label_around.known) {
		text_join(&text, ", ", length_text(die->label_across.value, LENGTH_TOOLING, units).bytes);
		text_add_format(&text, " x %s",
		                length_text(die->label_around.value, LENGTH_TOOLING, units).bytes);
	}
	if (die->own.known) {
		text_join(&text, ", ", "");
		add_own(&text, die->own, units);
	}
	if (die->number_around.known) {
		text_add_format(&text, ", %lld around", (long long)die->number_around.value);
	}
	return text.bytes;
}

const char *words_of_magnetic_cylinder(struct arena *arena,
                                       const struct magnetic_cylinder *cylinder, enum units units)
{
	struct text text = text_start(arena);
	add_own(&text, cylinder->own, units);
	add_length(&text, "gap ", cylinder->die_gap, units);
	add_length(&text, "face ", usable_face(&cylinder->tool), units);
	return text.bytes;
}
