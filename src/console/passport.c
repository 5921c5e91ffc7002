/* A tool's passport: what `show` tells of it, as plain words for the room that draws. */
#include <string.h>

#include "drawn_file.h"
#include "passport.h"

/* Of the ledger, more than a page holds: the latest of them. */
#define ENTRIES_HELD 80

enum outcome passport_check(struct call *call, const char *tag, const char *file)
{
	struct found found;
	enum file_form form;
	enum outcome outcome = drawn_file_check(call, file, "passport.pdf", &form);
	return outcome == OUTCOME_DONE ? store_find(call->store, tag, REFER_TOOL, &found, call->fault)
	                               : outcome;
}

/* ---------------------------------------------------------------- history */

/* The latest entries as lines, in a ring. */
struct ring {
	struct arena *arena;
	const char *lines[ENTRIES_HELD];
	size_t count; /* of all that came */
};

static void history_begin(const struct record *record, void *context)
{
	(void)record;
	(void)context;
}

/* `2026-12-01T08:00  put, from R1-2 to P1-2, for job J2601, Mirela Ost; nicked` */
static void history_each(const struct history_row *row, void *context)
{
	struct ring *ring = context;
	const struct ledger_entry *entry = &row->entry;
	struct text line = text_start(ring->arena);
	text_add_format(&line, "%s  %s", moment_text(entry->happened).bytes, entry->word);
	if (row->of != NULL) {
		text_add_format(&line, " %s", row->of);
	}
	if (entry->from_code != NULL || entry->to_code != NULL) {
		text_add(&line, ",");
	}
	if (entry->from_code != NULL) {
		text_add_format(&line, " from %s", entry->from_code);
	}
	if (entry->to_code != NULL) {
		text_add_format(&line, " to %s", entry->to_code);
	}
	if (entry->job != NULL) {
		text_add_format(&line, ", for job %s", entry->job);
	}
	text_add_format(&line, ", %s",
	                entry->operator_name != NULL ? entry->operator_name : entry->login);
	if (entry->detail != NULL) {
		text_add_format(&line, "; %s", entry->detail);
	}
	text_add(&line, row->taken_back ? "; taken back" : "");
	ring->lines[ring->count++ % ENTRIES_HELD] = line.bytes;
}

static enum outcome history_read(struct call *call, const char *tag, struct passport_face *face)
{
	struct ring *ring = arena_take(call->arena, 1, sizeof *ring);
	ring->arena = call->arena;
	const struct history_reader reader = {history_begin, history_each, ring};
	enum outcome outcome = room_history(call->store, call->arena, tag, &reader, call->fault);
	size_t held = ring->count < ENTRIES_HELD ? ring->count : ENTRIES_HELD;
	const char **lines = arena_take(call->arena, held, sizeof *lines);
	for (size_t i = 0; i < held; i++) {
		lines[i] = ring->lines[(ring->count - 1 - i) % ENTRIES_HELD];
	}
	face->history_title = "what happened last";
	face->history = lines;
	face->history_count = held;
	face->history_more = ring->count - held;
	return outcome;
}

/* ---------------------------------------------------------------- the face */

/* Where it is, what stops it, what is to be known of it, and who has booked it: a line each. */
static const char *whereabouts_of(const struct call *call, const struct shown *shown)
{
	struct text text = text_start(call->arena);
	const char *const places[] = {shown->whereabouts, shown->within, shown->home};
	for (size_t i = 0; i < COUNT_OF(places); i++) {
		if (places[i] != NULL) {
			text_join(&text, "\n", places[i]);
		}
	}
	for (size_t i = 0; i < shown->obstacle_count; i++) {
		if (shown->obstacles[i] != shown->place_obstacle) {
			text_join(&text, "\n", shown->obstacles[i]);
		}
	}
	if (shown->obstacle_count == 0) {
		text_join(&text, "\n", "ready");
	}
	for (size_t i = 0; i < shown->caution_count; i++) {
		text_join(&text, "\n", "caution: ");
		text_add(&text, shown->cautions[i]);
	}
	for (size_t i = 0; i < shown->promise_count; i++) {
		text_join(&text, "\n", "booked for job ");
		text_add_format(&text, "%s from %s", shown->promises[i].job_number,
		                moment_text(shown->promises[i].from).bytes);
	}
	return text.bytes;
}

static enum outcome face_make(struct call *call, const struct shown *shown,
                              struct passport_face *out)
{
	const char *code = record_words(shown->record, "tag");
	struct shown_pair *pairs;
	struct tag tag;
	size_t count = shown_pairs(call, shown, &pairs);
	struct passport_row *rows = arena_take(call->arena, count, sizeof *rows);
	for (size_t i = 0; i < count; i++) {
		rows[i] = (struct passport_row){pairs[i].name, pairs[i].value};
	}
	*out = (struct passport_face){
		.title = shown->summary,
		.code = code,
		.whereabouts = whereabouts_of(call, shown),
		.rows = rows,
		.row_count = count,
		.printed = arena_format(call->arena, "as on record at %s", moment_text(call->now).bytes),
	};
	tag_read(code, &tag);
	enum outcome outcome =
		room_tag_content(call->store, call->arena, tag, &out->content, &out->gs1, call->fault);
	return outcome == OUTCOME_DONE ? history_read(call, code, out) : outcome;
}

enum outcome passport_draw(struct call *call, const struct shown *shown,
                           const struct plot_face *plot, const char *file,
                           struct passport_drawn *out)
{
	struct passport_face face;
	enum file_form form;
	enum outcome outcome = file_form_of(file, &form, call->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = face_make(call, shown, &face);
	}
	if (outcome == OUTCOME_DONE) {
		face.plot = plot;
		outcome = print_passport(call->arena, &face, form, file, out, call->fault);
	}
	return outcome;
}

void passport_say(struct call *call, const struct shown *shown, const char *file,
                  const struct passport_drawn *drawn)
{
	if (drawn->rows_left > 0) {
		answer_line(call->answer, MARK_CAUTION, "caution: the page has no room for %zu of its data",
		            drawn->rows_left);
	}
	answer_line(call->answer, MARK_GOOD, "passport of %s in %s", record_words(shown->record, "tag"),
	            file);
}
