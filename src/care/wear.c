/* `wear TAG`, `wear anilox`: what a tool has lost, how fast, and when its limit is reached. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tool.h"
#include "use.h"

/* Enough to draw; a tool that was cared for more often tells its latest. */
#define CARE_MOST 1000

struct wearing {
	struct store *store;
	struct arena *arena;
	struct fault *fault;
	struct moment now;
	struct limits limits;
	struct worn *items;
	size_t count, room;
};

static struct moment recent_since(const struct wearing *wearing)
{
	struct duration all = wearing->limits.recent;
	struct value back = {.type = VALUE_DURATION, .known = true, .duration = all};
	struct value since = {.type = VALUE_MOMENT, .known = true, .moment = wearing->now};
	return value_from_stored(VALUE_MOMENT, value_to_stored(&since) - value_to_stored(&back)).moment;
}

/* ---------------------------------------------------------------- a tool as it stands */

/* What a roll has lost, and what it may lose. */
static void fill_roll(struct worn *out, const struct due_tool *tool, const struct limits *limits)
{
	struct anilox roll = {.volume = tool->volume, .reading = {.now = tool->wear.clean_volume}};
	out->line_screen = tool->line_screen;
	out->when_new = tool->volume;
	out->wear = tool->wear;
	out->now = tool->wear.clean_volume;
	out->by_readings =
		tool->wear.known &&
		(tool->run.known ? length_compare(tool->wear.run_read, tool->run.value) != 0
	                     : length_compare(tool->wear.run_read, length_from_nm(0)) > 0);
	if (out->by_readings) {
		out->run = (struct known_length){true, tool->wear.run_read};
	}
	out->lost = volume_lost(&roll);
	out->limit.known = tool->volume.known;
	if (tool->volume.known) {
		out->limit.value = volume_at_limit(tool->volume.value, limits);
		out->loss_passed =
			out->now.known && volume_to_micro(out->now.value) < volume_to_micro(out->limit.value);
	}
}

static void fill_turns(struct worn *out, const struct due_tool *tool)
{
	struct repeat own =
		tool->around.known ? repeat_of_length(tool->around.value) : (struct repeat){.known = false};
	out->revolutions.known =
		tool->run.known && revolutions_of(tool->run.value, own, &out->revolutions.value);
}

static void fill_worn(const struct wearing *wearing, const struct due_tool *tool, struct worn *out)
{
	struct arena *arena = wearing->arena;
	*out = (struct worn){
		.kind = tool->kind,
		.tag = arena_copy(arena, tool->tag),
		.life = tool->life,
		.run = tool->run,
		.used = length_compare(tool->recent, length_from_nm(0)) > 0,
		.per_day = care_per_day(tool, wearing->limits.recent, wearing->now),
		.recent = care_use_over(tool, wearing->limits.recent, wearing->now),
		.life_turns = tool->die_life,
		.life_web = care_life(tool, &wearing->limits),
		.forecast =
			care_forecast(arena, tool, &wearing->limits, wearing->limits.recent, wearing->now),
	};
	fill_turns(out, tool);
	if (tool->kind->id == KIND_ANILOX) {
		fill_roll(out, tool, &wearing->limits);
	}
	out->passed = out->loss_passed || (out->forecast.known && out->forecast.passed);
}

static enum outcome take(const struct due_tool *tool, void *context)
{
	struct wearing *wearing = context;
	if (wearing->count == wearing->room) {
		size_t room = wearing->room * 2 + 1;
		wearing->items = arena_grow(wearing->arena, wearing->items, wearing->count, room,
		                            sizeof *wearing->items);
		wearing->room = room;
	}
	fill_worn(wearing, tool, &wearing->items[wearing->count++]);
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- one tool */

/* What it was read, run, cared for. */
static enum outcome read_rows(const struct wearing *wearing, int64_t id, struct worn *out)
{
	struct store *store = wearing->store;
	struct arena *arena = wearing->arena;
	struct fault *fault = wearing->fault;
	enum outcome outcome = store_web_runs(store, arena, id, &out->runs, &out->run_count, fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_care_of(store, arena, id, NULL, CARE_MOST, &out->care, &out->care_count, fault);
	}
	if (outcome == OUTCOME_DONE && out->kind->id == KIND_ANILOX) {
		outcome = store_wear_readings(store, arena, id, &out->readings, &out->reading_count, fault);
	}
	if (outcome == OUTCOME_DONE && out->kind->id == KIND_CYLINDER) {
		outcome = store_gauges(store, arena, id, &out->gauges, &out->gauge_count, fault);
	}
	return outcome;
}

static enum outcome read_tool(struct wearing *wearing, const char *tag, struct worn *out)
{
	struct found found;
	struct record *record;
	enum outcome outcome = store_find(wearing->store, tag, REFER_TOOL, &found, wearing->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(wearing->store, wearing->arena, found.kind, found.id, &record,
		                            wearing->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_due(wearing->store, found.kind, found.id, wearing->now,
		                    recent_since(wearing), take, wearing, wearing->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	*out = wearing->items[0];
	out->record = record;
	out->what = care_what(wearing->arena, record, wearing->limits.units);
	return read_rows(wearing, found.id, out);
}

enum outcome care_wear(struct store *store, struct arena *arena, const char *tag, enum units units,
                       struct moment now, struct worn *out, struct fault *fault)
{
	struct wearing wearing = {.store = store, .arena = arena, .fault = fault, .now = now};
	/* Its parts are read at one moment, whatever another console writes meanwhile. */
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_limits(store, &wearing.limits, fault);
	wearing.limits.units = units;
	if (outcome == OUTCOME_DONE) {
		outcome = read_tool(&wearing, tag, out);
	}
	store_snapshot_end(store);
	return outcome;
}

/* ---------------------------------------------------------------- rolls compared */

/* Web left at the earliest, below 0 where it is passed; endless where nothing can be told. */
static double left_of(const struct worn *worn)
{
	const struct forecast *forecast = &worn->forecast;
	return worn->passed ? -1 : !forecast->known ? HUGE_VAL : length_to_m(forecast->least);
}

static double lost_of(const struct worn *worn)
{
	struct value lost = {.type = VALUE_PERCENT, .known = true, .percent = worn->lost.value};
	return worn->lost.known ? (double)value_to_stored(&lost) : -HUGE_VAL;
}

static int compare(const void *a, const void *b)
{
	const struct worn *x = a, *y = b;
	double left_x = left_of(x), left_y = left_of(y), lost_x = lost_of(x), lost_y = lost_of(y);
	if (left_x < left_y || left_x > left_y) {
		return left_x < left_y ? -1 : 1;
	}
	if (lost_x < lost_y || lost_x > lost_y) {
		return lost_x > lost_y ? -1 : 1;
	}
	return strcmp(x->tag, y->tag);
}

enum outcome care_wear_rolls(struct store *store, struct arena *arena, struct moment now,
                             struct worn **out, size_t *count, struct fault *fault)
{
	struct wearing wearing = {.store = store, .arena = arena, .fault = fault, .now = now};
	*count = 0;
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_limits(store, &wearing.limits, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_due(store, &kinds[KIND_ANILOX], 0, now, recent_since(&wearing), take,
		                    &wearing, fault);
	}
	store_snapshot_end(store);
	if (outcome == OUTCOME_DONE && wearing.count > 1) {
		qsort(wearing.items, wearing.count, sizeof *wearing.items, compare);
	}
	*out = wearing.items;
	*count = wearing.count;
	return outcome;
}
