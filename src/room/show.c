/* `show TAG`: what a record is, where, in what condition, and what happened last. */
#include <stdio.h>
#include <string.h>

#include "toothrack/room.h"

#define ENTRIES_SHOWN 5
#define READINGS_SHOWN 5

/* ---------------------------------------------------------------- where, and what stops it */

/* `in R2-4 (rack 2, shelf 4), its home`, with when it is due back and for which job it is out. */
static enum outcome whereabouts(struct store *store, struct arena *arena,
                                const struct tool_state *tool, const char **out,
                                struct fault *fault)
{
	struct text text = text_start(arena);
	struct place_state place;
	if (tool->place_code == NULL) {
		*out = "place not known";
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_place_state(store, arena, tool->place, &place, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	text_add_format(&text, "in %s", place.code);
	if (place.name != NULL && strcmp(place.name, place.code) != 0) {
		text_add_format(&text, " (%s)", place.name);
	}
	if (tool->place == tool->home) {
		text_add(&text, ", its home");
	}
	if (tool->back != NULL) {
		text_add_format(&text, ", due back %s", tool->back);
	}
	if (tool->taken_for != NULL) {
		text_add_format(&text, ", out for job %s", tool->taken_for);
	}
	*out = text.bytes;
	return OUTCOME_DONE;
}

static const char *with_reason(struct arena *arena, const char *what, const char *reason)
{
	return reason != NULL ? arena_format(arena, "%s: %s", what, reason) : what;
}

static const char *tool_obstacle(struct arena *arena, const struct tool_state *tool)
{
	if (strcmp(tool->condition, "hold") == 0) {
		return with_reason(arena, "on hold", tool->condition_reason);
	}
	if (strcmp(tool->condition, "scrapped") == 0) {
		return with_reason(arena, "scrapped", tool->condition_reason);
	}
	if (tool->place_sort != NULL && strcmp(tool->place_sort, "lost") == 0) {
		return "lost";
	}
	if (tool->place_sort != NULL && strcmp(tool->place_sort, "supplier") == 0) {
		return "at a supplier";
	}
	return NULL;
}

static enum outcome show_tool(struct store *store, struct arena *arena, struct shown *out,
                              struct fault *fault)
{
	struct tool_state tool;
	enum outcome outcome = store_tool_state(store, arena, out->record->id, &tool, fault);
	if (outcome == OUTCOME_DONE) {
		out->obstacle = tool_obstacle(arena, &tool);
		outcome = whereabouts(store, arena, &tool, &out->whereabouts, fault);
	}
	return outcome;
}

static enum outcome show_place(struct store *store, struct arena *arena, struct shown *out,
                               struct fault *fault)
{
	struct place_state place;
	enum outcome outcome = store_place_state(store, arena, out->record->id, &place, fault);
	const char *within = record_words(out->record, "within");
	if (outcome == OUTCOME_DONE && strcmp(place.condition, "hold") == 0) {
		out->obstacle = with_reason(arena, "on hold", place.condition_reason);
	}
	if (outcome == OUTCOME_DONE && place.retired) {
		out->obstacle = "retired";
	}
	if (within != NULL) {
		out->whereabouts = arena_format(arena, "within %s", within);
	}
	return outcome;
}

/* ---------------------------------------------------------------- rows */

static enum outcome add_row(struct store *store, struct arena *arena, const struct kind *kind,
                            int64_t id, struct shown *out, struct fault *fault)
{
	return id != 0 ? store_record_read(store, arena, kind, id, &out->rows[out->row_count++], fault)
	               : OUTCOME_DONE;
}

static enum outcome show_job(struct store *store, struct arena *arena, struct shown *out,
                             struct fault *fault)
{
	struct job job;
	int64_t id;
	enum outcome outcome = store_job_read(store, arena, out->record->id, &job, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->rows = arena_take(arena, job.station_count + job.cut_count, sizeof(struct record *));
	for (size_t i = 0; i < job.station_count && outcome == OUTCOME_DONE; i++) {
		outcome = store_job_row_find(store, &kinds[KIND_STATION], job.id, job.stations[i].number,
		                             &id, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = add_row(store, arena, &kinds[KIND_STATION], id, out, fault);
		}
	}
	for (size_t i = 0; i < job.cut_count && outcome == OUTCOME_DONE; i++) {
		outcome =
			store_job_row_find(store, &kinds[KIND_CUT], job.id, job.cuts[i].number, &id, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = add_row(store, arena, &kinds[KIND_CUT], id, out, fault);
		}
	}
	return outcome;
}

static enum outcome show_press(struct store *store, struct arena *arena, struct shown *out,
                               struct fault *fault)
{
	struct press_state press;
	enum outcome outcome = store_press_read(store, arena, out->record->id, &press, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->rows = arena_take(arena, press.station_count, sizeof(struct record *));
	for (size_t i = 0; i < press.station_count && outcome == OUTCOME_DONE; i++) {
		struct found found;
		outcome = store_find(store, press.stations[i].code, REFER_PLACE, &found, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = add_row(store, arena, &kinds[KIND_PLACE], found.id, out, fault);
		}
	}
	if (press.retired) {
		out->obstacle = "retired";
	}
	return outcome;
}

static enum outcome show_readings(struct store *store, struct arena *arena, struct shown *out,
                                  struct fault *fault)
{
	int64_t ids[READINGS_SHOWN];
	size_t count;
	enum outcome outcome =
		store_readings_latest(store, out->record->id, ids, COUNT_OF(ids), &count, fault);
	out->rows = arena_take(arena, READINGS_SHOWN, sizeof(struct record *));
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = add_row(store, arena, &kinds[KIND_READING], ids[i], out, fault);
	}
	return outcome;
}

static enum outcome show_kind(struct store *store, struct arena *arena, struct shown *out,
                              struct fault *fault)
{
	const struct kind *kind = out->record->kind;
	if (kind->tool) {
		enum outcome outcome = show_tool(store, arena, out, fault);
		return outcome == OUTCOME_DONE && kind->id == KIND_ANILOX
		           ? show_readings(store, arena, out, fault)
		           : outcome;
	}
	switch (kind->id) {
	case KIND_PLACE:
		return show_place(store, arena, out, fault);
	case KIND_JOB:
		return show_job(store, arena, out, fault);
	case KIND_PRESS:
		return show_press(store, arena, out, fault);
	case KIND_OPERATOR:
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return OUTCOME_DONE;
}

enum outcome room_show(struct store *store, struct arena *arena, const char *tag, enum units units,
                       struct shown *out, struct fault *fault)
{
	struct found found;
	*out = (struct shown){.record = NULL};
	enum outcome outcome = store_find(store, tag, REFER_NONE, &found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, found.kind, found.id, &out->record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->summary = room_summary(arena, out->record, units);
		outcome = show_kind(store, arena, out, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_ledger_of(store, arena, found.kind, found.id, ENTRIES_SHOWN, &out->entries,
		                          &out->entry_count, fault);
	}
	return outcome;
}
