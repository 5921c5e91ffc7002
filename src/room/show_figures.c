/* The figures of a record, as `show` tells them. */
#include <assert.h>
#include <string.h>

#include "show.h"

static struct figure *figure_add(struct telling *telling, const char *name, const char *covers,
                                 const char *said)
{
	struct shown *out = telling->out;
	assert(out->figure_count < FIGURES_MOST);
	struct figure *figure = &out->figures[out->figure_count++];
	*figure = (struct figure){.name = name, .covers = covers, .said = said};
	return figure;
}

void tell_words(struct telling *telling, const char *name, const char *covers, const char *said)
{
	if (said != NULL) {
		figure_add(telling, name, covers, said);
	}
}

void tell_attribute(struct telling *telling, const char *name)
{
	tell_words(telling, name, name, attribute_words(telling, name));
}

void tell_figure(struct telling *telling, const char *name, const char *covers, struct value value,
                 const char *said)
{
	if (said == NULL && value.known) {
		said = value_text(telling->arena, &value, telling->units);
	}
	struct figure *figure = figure_add(telling, name, covers, said);
	figure->is_data = true;
	figure->value = value;
}

void tell_data(struct telling *telling, const char *name, struct value value)
{
	struct figure *figure = figure_add(telling, name, NULL, NULL);
	figure->is_data = true;
	figure->value = value;
}

void tell_covered(struct telling *telling, const char *covers)
{
	figure_add(telling, "", covers, NULL);
}

const char *tooling_words(const struct telling *telling, struct length length)
{
	return arena_copy(telling->arena, length_text(length, LENGTH_TOOLING, telling->units).bytes);
}

const char *web_words(const struct telling *telling, struct length length)
{
	return arena_copy(telling->arena, web_text(length, telling->units).bytes);
}

struct value value_of_length(enum value_type type, bool known, struct length length)
{
	return (struct value){.type = type, .known = known, .length = length};
}

struct value value_of_count(bool known, int64_t count)
{
	return (struct value){.type = VALUE_COUNT, .known = known, .count = count};
}

const char *attribute_words(const struct telling *telling, const char *name)
{
	const struct value *value = record_known(telling->out->record, name);
	return value != NULL ? value_text(telling->arena, value, telling->units) : NULL;
}

/* ---------------------------------------------------------------- figures of several kinds */

struct length length_stepped(struct length length, int64_t step)
{
	int64_t nm = length_to_nm(length);
	int64_t half = nm < 0 ? -step / 2 : step / 2;
	return length_from_nm((nm + half) / step * step);
}

/* In the units asked, and near enough in the others behind: tooling is bought in both. */
static const char *both_units(const struct telling *telling, struct length length)
{
	bool inch = telling->units == UNITS_INCH;
	struct length near = length_stepped(length, inch ? NM_OF_MM / 1000 : NM_OF_INCH / 1000);
	return arena_format(telling->arena, "%s (%s)",
	                    length_text(length, LENGTH_TOOLING, telling->units).bytes,
	                    length_text(near, LENGTH_TOOLING, inch ? UNITS_METRIC : UNITS_INCH).bytes);
}

void tell_repeat(struct telling *telling, struct repeat own)
{
	static const char covers[] = "repeat teeth pitch";
	struct length length = real_round(repeat_length(own));
	const char *said = NULL;
	if (own.known) {
		said = both_units(telling, length);
		if (own.toothed) {
			said = arena_format(telling->arena, "%s, %lld teeth %s", said, (long long)own.teeth,
			                    pitch_text(own.pitch).bytes);
		}
	}
	/* Teeth without a pitch make no repeat: they stay among what else is known. */
	tell_figure(telling, "repeat", own.known ? covers : NULL,
	            value_of_length(VALUE_TOOLING, own.known, length), said);
	tell_data(telling, "repeat_in",
	          (struct value){.type = VALUE_NUMBER,
	                         .known = own.known,
	                         .number = length_to_in(length)});
}

void tell_label(struct telling *telling)
{
	static const char *const parts[][3] = {{"label_across", "", " across"},
	                                       {"label_around", "", " around"},
	                                       {"corner", "corner ", ""},
	                                       {"shape", "", ""}};
	struct text text = text_start(telling->arena);
	for (size_t i = 0; i < COUNT_OF(parts); i++) {
		const char *words = attribute_words(telling, parts[i][0]);
		if (words != NULL) {
			text_join(&text, ", ", parts[i][1]);
			text_add_format(&text, "%s%s", words, parts[i][2]);
		}
	}
	tell_words(telling, "label", "label_across label_around corner shape",
	           text.length > 0 ? text.bytes : NULL);
}

static const char *since_words(struct arena *arena, const char *condition,
                               struct known_moment since, const char *reason)
{
	struct text text = text_start(arena);
	text_add(&text, condition);
	if (since.known) {
		text_add_format(&text, " since %s", moment_text(since.value).bytes);
	}
	if (reason != NULL) {
		text_add_format(&text, ": %s", reason);
	}
	return text.bytes;
}

const char *held_words(struct arena *arena, const struct place_around *place)
{
	return since_words(arena, "on hold", place->since, place->reason);
}

static enum outcome stopped_read(struct store *store, struct arena *arena,
                                 const struct record *record, const char *said, const char **out,
                                 struct fault *fault)
{
	struct tool_state tool = {.id = 0};
	struct place_state place = {.id = 0};
	enum outcome outcome = OUTCOME_DONE;
	if (record->kind->tool) {
		outcome = store_tool_state(store, arena, record->id, &tool, fault);
		*out = since_words(arena, said, tool.condition_since, tool.condition_reason);
	} else {
		outcome = store_place_state(store, arena, record->id, &place, fault);
		*out = since_words(arena, said, place.condition_since, place.condition_reason);
	}
	return outcome;
}

enum outcome room_remark(struct store *store, struct arena *arena, const struct record *record,
                         const char **out, struct fault *fault)
{
	const char *condition = record_words(record, "condition");
	const struct value *back = record->kind->tool ? record_known(record, "back") : NULL;
	enum outcome outcome = OUTCOME_DONE;
	*out = NULL;
	if (condition != NULL && strcmp(condition, "ready") != 0) {
		bool held = strcmp(condition, "hold") == 0;
		outcome = stopped_read(store, arena, record, held ? "on hold" : condition, out, fault);
	}
	if (back != NULL) {
		*out = arena_format(arena, "due back %s%s%s", moment_text(back->moment).bytes,
		                    *out != NULL ? "; " : "", *out != NULL ? *out : "");
	}
	return outcome;
}

const char *place_words(struct arena *arena, const struct place_around *place)
{
	return place->name != NULL && strcmp(place->name, place->code) != 0
	           ? arena_format(arena, "%s (%s)", place->name, place->code)
	           : place->code;
}

void tell_places(struct telling *telling, const struct place_around *places, size_t count)
{
	struct shown *out = telling->out;
	struct text text = text_start(telling->arena);
	out->places = arena_take(telling->arena, count, sizeof *out->places);
	out->place_count = count;
	for (size_t i = 0; i < count; i++) {
		out->places[i] = places[i].code;
		if (i > 0) {
			text_add_format(&text, "%s %s", i == 1 ? "within" : ",",
			                place_words(telling->arena, &places[i]));
		}
	}
	out->within = text.length > 0 ? text.bytes : NULL;
}
