/* `export KIND`: the records of a kind as CSV that `import` takes in again. */
#include <string.h>

#include "toothrack/room.h"

#define LINE_END "\r\n" /* RFC 4180; `import` reads any */

/* ---------------------------------------------------------------- cells */

/* In quotes where a reader could take it otherwise: import also knows `;` and TAB between cells. */
static void cell_add(struct text *line, const char *cell)
{
	size_t length = strlen(cell);
	bool blanks = length > 0 && (cell[0] == ' ' || cell[length - 1] == ' ');
	if (!blanks && strpbrk(cell, "\",;\t\r\n") == NULL) {
		text_add(line, cell);
		return;
	}
	text_add(line, "\"");
	for (const char *c = cell; *c != '\0'; c++) {
		text_add_bytes(line, c, 1);
		text_add(line, *c == '"' ? "\"" : "");
	}
	text_add(line, "\"");
}

static bool is_screen(const char *text, struct screen screen)
{
	struct screen again;
	return screen_parse(text, &again, NULL) == OUTCOME_DONE &&
	       screen_to_per_cm(again) == screen_to_per_cm(screen);
}

/*
 * What is shown of a screen is rounded to 0.001 lines/cm; here the very same number must come in
 * again: as it is shown in one unit or the other, or with as many digits as it takes.
 */
static const char *screen_cell(struct arena *arena, struct screen screen)
{
	const char *text = arena_copy(arena, screen_text(screen, UNITS_METRIC).bytes);
	if (!is_screen(text, screen)) {
		text = arena_copy(arena, screen_text(screen, UNITS_INCH).bytes);
	}
	for (int digits = 15; !is_screen(text, screen) && digits <= 17; digits++) {
		text = arena_format(arena, "%.*g/cm", digits, screen_to_per_cm(screen));
	}
	return text;
}

/* A moment in UTC, so that it means the same wherever the file is read; a date stays one. */
static const char *cell_words(struct arena *arena, const struct value *value)
{
	if (value->known && value->type == VALUE_MOMENT && !value->moment.date) {
		return arena_copy(arena, moment_text_utc(value->moment).bytes);
	}
	return value->known && value->type == VALUE_SCREEN ? screen_cell(arena, value->screen)
	                                                   : value_text(arena, value, UNITS_METRIC);
}

/* ---------------------------------------------------------------- the reason of a hold */

/*
 * `import` takes the note of a tool that is not ready for the reason, so the note holds both, and
 * the reason once.
 */
static const char *note_with(struct arena *arena, const char *reason, const char *note)
{
	size_t length = strlen(reason);
	if (note == NULL) {
		return reason;
	}
	if (strncmp(note, reason, length) == 0 && (note[length] == '\0' || note[length] == ';')) {
		return note;
	}
	return arena_format(arena, "%s; %s", reason, note);
}

static enum outcome reason_of(struct store *store, struct arena *arena, const struct record *record,
                              const char **out, struct fault *fault)
{
	enum outcome outcome;
	if (record->kind->tool) {
		struct tool_state tool;
		outcome = store_tool_state(store, arena, record->id, &tool, fault);
		*out = tool.condition_reason;
	} else {
		struct place_state place;
		outcome = store_place_state(store, arena, record->id, &place, fault);
		*out = place.condition_reason;
	}
	return outcome;
}

/*
 * The note with the reason of a hold or scrap before it, where it does not begin with that already.
 */
static enum outcome add_reason(struct store *store, struct arena *arena, struct record *record,
                               struct fault *fault)
{
	const char *condition = record_words(record, "condition");
	const char *reason = NULL;
	if (condition == NULL || strcmp(condition, "ready") == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = reason_of(store, arena, record, &reason, fault);
	struct value *note = record_value(record, "note");
	if (reason == NULL && !note->known && strcmp(condition, "hold") == 0) {
		/* An older program took a hold without one; this one's `import` asks for it. */
		reason = "reason not known";
	}
	if (outcome == OUTCOME_DONE && reason != NULL) {
		note->text = note_with(arena, reason, note->known ? note->text : NULL);
		note->known = true;
	}
	return outcome;
}

/* ---------------------------------------------------------------- lines */

struct export
{
	struct store *store;
	bytes_take take;
	void *context;
	struct fault *fault;
};

static enum outcome take_record(struct arena *arena, struct record *record, void *context)
{
	struct export *export = context;
	struct text line = text_start(arena);
	enum outcome outcome = add_reason(export->store, arena, record, export->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	for (size_t i = 0; i < kind_attribute_count(record->kind); i++) {
		text_add(&line, i == 0 ? "" : ",");
		cell_add(&line, cell_words(arena, &record->values[i]));
	}
	text_add(&line, LINE_END);
	return export->take(line.bytes, line.length, export->context);
}

static enum outcome take_heading(const struct kind *kind, bytes_take take, void *context)
{
	struct arena *arena = arena_new();
	struct text line = text_start(arena);
	for (size_t i = 0; i < kind_attribute_count(kind); i++) {
		text_join(&line, ",", kind_attribute(kind, i)->name);
	}
	text_add(&line, LINE_END);
	enum outcome outcome = take(line.bytes, line.length, context);
	arena_free(arena);
	return outcome;
}

enum outcome room_export(struct store *store, const struct kind *kind, bytes_take take,
                         void *context, int64_t *count, struct fault *fault)
{
	struct export export = {store, take, context, fault};
	struct selection all = {.kind = kind};
	*count = 0;
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = take_heading(kind, take, context);
	if (outcome == OUTCOME_DONE) {
		outcome = store_select(store, &all, take_record, &export, count, fault);
	}
	store_snapshot_end(store);
	return outcome;
}
