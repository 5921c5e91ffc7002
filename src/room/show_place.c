/* Places, presses and operators as `show` tells them: what lies there, what was done last. */
#include <string.h>

#include "show.h"

#define TOOLS_OF_PLACE 10
#define TOOLS_OF_PRESS 100
#define TOOLS_COUNTED \
	20000 /* more are not counted: nobody asks how many, only that they are many */
#define DONE_SHOWN 10

/* ---------------------------------------------------------------- what lies there */

/* `plate cylinders`, `doctor blade assemblies` */
static void text_add_plural(struct text *text, const char *title, int64_t count)
{
	size_t length = strlen(title);
	if (count == 1) {
		text_add(text, title);
	} else if (title[length - 1] == 'y') {
		text_add_bytes(text, title, length - 1);
		text_add(text, "ies");
	} else {
		text_add_format(text, "%ss", title);
	}
}

/* `17: 15 plate cylinders, 2 gears` */
static const char *counts_words(struct arena *arena, const int64_t counts[KIND_COUNT], int64_t all)
{
	struct text text = text_start(arena);
	if (all == 0) {
		return "none";
	}
	if (all > TOOLS_COUNTED) {
		return arena_format(arena, "more than %d tools", TOOLS_COUNTED);
	}
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (counts[i] > 0) {
			text_add_format(&text, "%s%lld ", text.length > 0 ? ", " : "", (long long)counts[i]);
			text_add_plural(&text, kinds[i].title, counts[i]);
		}
	}
	return text.bytes;
}

static enum outcome tell_counts(struct telling *telling, int64_t *all, struct fault *fault)
{
	int64_t counts[KIND_COUNT];
	enum outcome outcome = store_place_counts(telling->store, telling->out->record->id,
	                                          TOOLS_COUNTED + 1, counts, fault);
	*all = 0;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		*all += counts[i];
	}
	if (outcome == OUTCOME_DONE) {
		tell_figure(telling, "tools", NULL, value_of_count(*all <= TOOLS_COUNTED, *all),
		            counts_words(telling->arena, counts, *all));
	}
	return outcome;
}

/* Whoever takes a tool from there must see that it may not run. */
static enum outcome list_tool(struct telling *telling, const struct tool_there *there,
                              struct shown_tool *out, struct fault *fault)
{
	struct record *record = NULL;
	enum outcome outcome =
		store_record_read(telling->store, telling->arena, there->kind, there->id, &record, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	*out = (struct shown_tool){
		.tag = there->tag,
		.summary = room_summary(telling->arena, record, telling->units),
		.place = there->place,
	};
	return room_remark(telling->store, telling->arena, record, &out->remark, fault);
}

/* The first tools of a place and all within it, in a few words each. */
static enum outcome list_tools(struct telling *telling, int64_t place, size_t most,
                               struct fault *fault)
{
	struct shown *out = telling->out;
	struct tool_there *found = NULL;
	size_t count = 0;
	enum outcome outcome =
		store_place_tools(telling->store, telling->arena, place, most, &found, &count, fault);
	out->tools = arena_take(telling->arena, count, sizeof *out->tools);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = list_tool(telling, &found[i], &out->tools[i], fault);
		out->tool_count += outcome == OUTCOME_DONE ? 1 : 0;
	}
	return outcome;
}

/* ---------------------------------------------------------------- a place */

static enum outcome tell_place(struct telling *telling, struct fault *fault)
{
	struct place_around *places = NULL;
	size_t count = 0;
	struct shown *out = telling->out;
	enum outcome outcome = store_places_around(telling->store, telling->arena, out->record->id,
	                                           &places, &count, fault);
	if (outcome != OUTCOME_DONE || count == 0) {
		return outcome;
	}
	const char *note = attribute_words(telling, "note");
	tell_places(telling, places, count);
	out->whereabouts = out->within;
	out->within = NULL;
	out->places++;
	out->place_count--;
	tell_covered(telling, "within condition");
	if (places[0].held) {
		tell_obstacle(telling, held_words(telling->arena, &places[0]));
		tell_covered(telling,
		             note != NULL && places[0].reason != NULL && strcmp(note, places[0].reason) == 0
		                 ? "note"
		                 : "");
	}
	return outcome;
}

/* `20, 3 free` of a place that takes so many tools, with all within it. */
static void tell_capacity(struct telling *telling, int64_t all)
{
	const struct value *capacity = record_known(telling->out->record, "capacity");
	if (capacity == NULL || all > TOOLS_COUNTED) {
		return;
	}
	int64_t free = capacity->count - all;
	tell_words(telling, "capacity", "capacity",
	           arena_format(telling->arena, "%lld, %lld free", (long long)capacity->count,
	                        (long long)(free > 0 ? free : 0)));
	tell_data(telling, "free", value_of_count(free >= 0, free));
	if (free < 0) {
		tell_caution(telling, arena_format(telling->arena, "%lld tool%s more than it takes",
		                                   (long long)-free, free == -1 ? "" : "s"));
	}
}

static void tell_retired(struct telling *telling)
{
	const struct value *retired = record_known(telling->out->record, "retired");
	if (retired != NULL && retired->yes) {
		tell_obstacle(telling, "retired");
	}
}

enum outcome show_place(struct telling *telling, struct fault *fault)
{
	int64_t all = 0;
	enum outcome outcome = tell_place(telling, fault);
	tell_retired(telling);
	if (outcome == OUTCOME_DONE) {
		outcome = tell_counts(telling, &all, fault);
	}
	if (outcome == OUTCOME_DONE) {
		tell_capacity(telling, all);
		outcome = list_tools(telling, telling->out->record->id, TOOLS_OF_PLACE, fault);
		telling->out->tools_more = all - (int64_t)telling->out->tool_count;
	}
	return outcome;
}

/* ---------------------------------------------------------------- a press */

/* `139.7mm to 609.6mm` */
static void tell_repeats(struct telling *telling)
{
	const char *least = attribute_words(telling, "repeat_min");
	const char *most = attribute_words(telling, "repeat_max");
	const char *said = NULL;
	if (least != NULL && most != NULL) {
		said = arena_format(telling->arena, "%s to %s", least, most);
	} else if (least != NULL || most != NULL) {
		said = arena_format(telling->arena, "%s %s", least != NULL ? least : most,
		                    least != NULL ? "at least" : "at most");
	}
	tell_words(telling, "repeat", "repeat_min repeat_max", said);
}

static enum outcome show_stations(struct telling *telling, const struct press_state *press,
                                  struct fault *fault)
{
	struct shown *out = telling->out;
	enum outcome outcome = OUTCOME_DONE;
	out->rows = arena_take(telling->arena, press->station_count, sizeof(struct record *));
	out->row_held = arena_take(telling->arena, press->station_count, sizeof(const char *));
	for (size_t i = 0; i < press->station_count && outcome == OUTCOME_DONE; i++) {
		const struct press_station *station = &press->stations[i];
		struct found found;
		struct place_around held = {.reason = station->reason, .since = station->since};
		out->row_held[i] = station->held ? held_words(telling->arena, &held) : NULL;
		outcome = store_find(telling->store, station->code, REFER_PLACE, &found, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = show_row(telling, KIND_PLACE, found.id, fault);
		}
	}
	return outcome;
}

enum outcome show_press(struct telling *telling, struct fault *fault)
{
	struct press_state press;
	struct found place;
	enum outcome outcome =
		store_press_read(telling->store, telling->arena, telling->out->record->id, &press, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	tell_retired(telling);
	tell_attribute(telling, "drive");
	tell_attribute(telling, "web");
	tell_repeats(telling);
	tell_attribute(telling, "pitches");
	tell_attribute(telling, "stations");
	tell_attribute(telling, "die_stations");
	outcome = show_stations(telling, &press, fault);
	/* The press is a place too, and its stations are within it. */
	if (outcome == OUTCOME_DONE) {
		outcome = store_find(telling->store, press.press.code, REFER_PLACE, &place, fault);
	}
	return outcome == OUTCOME_DONE ? list_tools(telling, place.id, TOOLS_OF_PRESS, fault) : outcome;
}

/* ---------------------------------------------------------------- an operator */

enum outcome show_operator(struct telling *telling, struct fault *fault)
{
	struct shown *out = telling->out;
	tell_retired(telling);
	return store_ledger_by(telling->store, telling->arena, out->record->id, DONE_SHOWN, &out->done,
	                       &out->done_to, &out->done_count, fault);
}
