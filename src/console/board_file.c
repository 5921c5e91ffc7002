/* The week drawn: what the plan knows, as plain words and marks for the room that draws. */
#include <inttypes.h>

#include "board.h"
#include "toothrack/print.h"

static enum board_mark mark_of(enum board_sign sign)
{
	switch (sign) {
	case BOARD_READY:
		return BOARD_DISC;
	case BOARD_CAUTION:
		return BOARD_TRIANGLE;
	case BOARD_SHORT:
		return BOARD_CROSS;
	case BOARD_NOT_KNOWN:
		return BOARD_RING;
	case BOARD_RUNS:
		break;
	}
	return BOARD_ARROW;
}

static struct board_stack stack_of(struct arena *arena, const struct board_field *field)
{
	struct board_box *boxes = arena_take(arena, field->count, sizeof *boxes);
	for (size_t i = 0; i < field->count; i++) {
		const struct board_entry *entry = &field->entries[i];
		boxes[i] = (struct board_box){
			.mark = mark_of(entry->sign),
			.number = entry->job->job,
			.time = entry->time,
			.title = entry->job->title,
			.verdict = entry->verdict,
			.before = entry->before,
			.after = entry->after,
		};
	}
	return (struct board_stack){.boxes = boxes, .count = field->count};
}

/* Each row is a line; what has no time is one more, across the days. */
static void lines_make(struct arena *arena, const struct board *board, struct board_face *face)
{
	struct board_line *lines = arena_take(arena, 2 * board->row_count, sizeof *lines);
	for (size_t i = 0; i < board->row_count; i++) {
		const struct board_row *row = &board->rows[i];
		bool dated = row->press != NULL || row->count > row->undated.count;
		struct board_line line = {.name = row->press != NULL ? row->press : "not placed",
		                          .note = row->name};
		for (size_t j = 0; j < BOARD_DAYS; j++) {
			line.columns[j] = stack_of(arena, &row->days[j]);
		}
		if (dated) {
			lines[face->line_count++] = line;
		}
		if (row->undated.count > 0) {
			struct board_line undated = {.name = "not placed", .note = "no time", .across = true};
			undated.columns[0] = stack_of(arena, &row->undated);
			lines[face->line_count++] = undated;
		}
	}
	face->lines = lines;
}

static struct board_face face_of(const struct call *call, const struct board *board,
                                 const struct ahead *ahead)
{
	struct arena *arena = call->arena;
	const char **notes = arena_take(arena, ahead->shortage_count, sizeof *notes);
	struct board_face face = {
		.title = arena_format(arena, "Week %s", board->week),
		.sum = board_sum(arena, board),
		.printed = arena_format(arena, "as on record at %s", moment_text(call->now).bytes),
		.notes_title = "What is short",
		.notes = notes,
		.note_count = ahead->shortage_count,
		.legend =
			{
				[BOARD_DISC] = "ready or booked",
				[BOARD_TRIANGLE] = "with caution",
				[BOARD_CROSS] = "short",
				[BOARD_RING] = "not known",
				[BOARD_ARROW] = "runs",
			},
	};
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		face.columns[i].name = board->days[i].name;
		face.columns[i].closed = board->days[i].closed;
	}
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		notes[i] = ahead->shortages[i].text;
	}
	lines_make(arena, board, &face);
	return face;
}

static enum outcome form_check(struct call *call, const char *file, enum file_form *form)
{
	if (file_form_of(file, form, NULL) != OUTCOME_DONE || *form == FILE_PNG) {
		fault_set(call->fault, OUTCOME_BAD, "file has no ending that a board is drawn in: %s",
		          file);
		fault_hint(call->fault, "Name a file ending in .pdf or .svg.");
		return OUTCOME_BAD;
	}
	if (store_keeps_in(call->store, file)) {
		fault_set(call->fault, OUTCOME_BAD, "file is the shop's own: %s", file);
		fault_hint(call->fault, "Name another, such as week.pdf.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static void drawn_say(struct call *call, const struct board *board, const char *file,
                      const struct board_drawn *drawn)
{
	answer_line(call->answer, MARK_GOOD, "week %s written to %s, %" PRId64 " page%s", board->week,
	            file, drawn->pages, drawn->pages == 1 ? "" : "s");
	if (drawn->boxes_left > 0 || drawn->notes_left > 0) {
		answer_line(call->answer, MARK_CAUTION,
		            "caution: one page has no room for %zu of its jobs and %zu of what is short; "
		            "a file ending in .pdf goes on on further pages",
		            drawn->boxes_left, drawn->notes_left);
	}
}

enum outcome board_file(struct call *call, const struct ahead *ahead, const char *file)
{
	struct board board;
	struct board_drawn drawn;
	enum file_form form;
	enum outcome outcome = form_check(call, file, &form);
	if (outcome == OUTCOME_DONE) {
		outcome = plan_board(call->store, call->arena, ahead, &call->limits, &board, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct board_face face = face_of(call, &board, ahead);
	outcome = print_board(call->arena, &face, form, file, &drawn, call->fault);
	if (outcome == OUTCOME_DONE) {
		drawn_say(call, &board, file, &drawn);
	}
	return outcome;
}
