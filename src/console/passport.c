/* A tool's passport: what `show` tells of it, as plain words for the room that draws. */
#include <stdlib.h>
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

/* ---------------------------------------------------------------- volumes */

#define DECIMALS 2 /* of a volume: a reading is good for no more */

/* How long a number with a point is, 0 for none; `*behind` becomes its digits behind the point. */
static size_t decimal_length(const char *text, size_t *behind)
{
	const char *digits = "0123456789";
	size_t before = strspn(text, digits);
	*behind = before > 0 && text[before] == '.' ? strspn(text + before + 1, digits) : 0;
	return *behind > 0 ? before + 1 + *behind : before;
}

/* Do numbers with strokes between, and then the unit of a volume, stand there? */
static bool is_volume(const char *text)
{
	size_t behind;
	text += decimal_length(text, &behind);
	while (*text == '/') {
		text += 1 + decimal_length(text + 1, &behind);
	}
	return strncmp(text, "cm3/m2", 6) == 0 || strncmp(text, "bcm", 3) == 0;
}

/* The text with its volumes to 0.01: on paper nobody types them in again. */
static const char *volumes_short(struct arena *arena, const char *text)
{
	struct text out = text_start(arena);
	while (text != NULL && *text != '\0') {
		size_t behind, length = decimal_length(text, &behind);
		if (length > 0 && behind > DECIMALS && is_volume(text)) {
			text_add_format(&out, "%.*f", DECIMALS, strtod(text, NULL));
		} else {
			length = length > 0 ? length : 1;
			text_add_bytes(&out, text, length);
		}
		text += length;
	}
	return out.bytes;
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
	ring->lines[ring->count++ % ENTRIES_HELD] = volumes_short(ring->arena, line.bytes);
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

/* `2026-09-23T14:40, 4.93cm3/m2, across 4.8/4.93/5.06cm3/m2, after cleaning` */
static const char *reading_said(struct call *call, const struct record *reading)
{
	static const char *const names[] = {"moment", "volume", "across"};
	struct text text = text_start(call->arena);
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		const struct value *value = record_known(reading, names[i]);
		if (value != NULL) {
			text_join(&text, ", ", value->type == VALUE_ACROSS ? "across " : "");
			text_add(&text, value_text(call->arena, value, call->units));
		}
	}
	const char *after = record_words(reading, "after");
	bool clean = after != NULL && strcmp(after, "clean") == 0;
	text_join(&text, ", ", clean ? "after cleaning" : "after a run");
	return text.bytes;
}

/* What is known of it; where no plot draws them, its latest readings too. */
static void rows_make(struct call *call, const struct shown *shown, bool drawn,
                      struct passport_face *out)
{
	struct shown_pair *pairs;
	size_t count = shown_pairs(call, shown, &pairs);
	struct passport_row *rows = arena_take(call->arena, count + shown->row_count, sizeof *rows);
	for (size_t i = 0; i < count; i++) {
		rows[i] = (struct passport_row){pairs[i].name, volumes_short(call->arena, pairs[i].value)};
	}
	for (size_t i = 0; !drawn && i < shown->row_count; i++) {
		if (shown->rows[i]->kind->id == KIND_READING) {
			const char *said = reading_said(call, shown->rows[i]);
			rows[count++] = (struct passport_row){"reading", volumes_short(call->arena, said)};
		}
	}
	out->rows = rows;
	out->row_count = count;
}

static enum outcome face_make(struct call *call, const struct shown *shown, bool drawn,
                              struct passport_face *out)
{
	const char *code = record_words(shown->record, "tag");
	struct tag tag;
	*out = (struct passport_face){
		.title = volumes_short(call->arena, shown->summary),
		.code = code,
		.whereabouts = whereabouts_of(call, shown),
		.printed = arena_format(call->arena, "as on record at %s", moment_text(call->now).bytes),
	};
	rows_make(call, shown, drawn, out);
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
		outcome = face_make(call, shown, plot != NULL, &face);
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
