/*
 * The week for people in the terminal: a block a press, in it a line a job and day. The sign in
 * front of a job says in ASCII what its colour and its words say too.
 */
#include <string.h>

#include "answer.h"
#include "board.h"
#include "columns.h"

#define BETWEEN "  "
#define TITLE_LEAST 8 /* columns; where fewer are left it is left out */

/* Columns that the parts of a line take, the same over the whole board. */
struct columns {
	size_t day, time, number, verdict;
};

static char sign_of(enum board_sign sign)
{
	switch (sign) {
	case BOARD_READY:
		return '+';
	case BOARD_CAUTION:
		return '!';
	case BOARD_SHORT:
		return 'x';
	case BOARD_NOT_KNOWN:
		return '?';
	case BOARD_RUNS:
		break;
	}
	return '>';
}

static enum answer_mark mark_of(enum board_sign sign)
{
	switch (sign) {
	case BOARD_READY:
	case BOARD_RUNS:
		return MARK_GOOD;
	case BOARD_CAUTION:
		return MARK_CAUTION;
	case BOARD_SHORT:
		return MARK_BAD;
	case BOARD_NOT_KNOWN:
		break;
	}
	return MARK_PLAIN;
}

/* ---------------------------------------------------------------- how wide */

static size_t wider(size_t columns, const char *text)
{
	size_t needed = text_columns(text);
	return needed > columns ? needed : columns;
}

static void field_measure(const struct call *call, const struct board_field *field,
                          struct columns *columns)
{
	for (size_t i = 0; i < field->count; i++) {
		const struct board_entry *entry = &field->entries[i];
		columns->time = wider(columns->time, entry->time);
		columns->number = wider(columns->number, answer_shown(call->answer, entry->job->job));
		columns->verdict = wider(columns->verdict, entry->verdict);
	}
}

static struct columns measure(const struct call *call, const struct board *board)
{
	struct columns columns = {0};
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		columns.day = wider(columns.day, board->days[i].name);
	}
	for (size_t i = 0; i < board->row_count; i++) {
		for (size_t j = 0; j < BOARD_DAYS; j++) {
			field_measure(call, &board->rows[i].days[j], &columns);
		}
		field_measure(call, &board->rows[i].undated, &columns);
	}
	return columns;
}

/* ---------------------------------------------------------------- lines */

static void add_padded(struct text *line, const char *text, size_t columns)
{
	size_t used = text_columns(text);
	text_add(line, text);
	text_add_blanks(line, columns > used ? columns - used : 0);
}

static void title_add(struct call *call, struct text *line, const char *title)
{
	size_t width = call->answer->width, used = text_columns(line->bytes) + strlen(BETWEEN);
	const char *shown = title != NULL ? answer_shown(call->answer, title) : "";
	if (shown[0] == '\0' || (width > 0 && width < used + TITLE_LEAST)) {
		return;
	}
	if (width > 0) {
		shown = text_cut(call->arena, shown, width - used);
	}
	text_add(line, BETWEEN);
	text_add(line, shown);
}

static void entry_say(struct call *call, const struct columns *columns, const char *day,
                      const char *time, const struct board_entry *entry)
{
	struct text line = text_start(call->arena);
	text_add(&line, BETWEEN);
	add_padded(&line, day, columns->day);
	text_add(&line, BETWEEN);
	add_padded(&line, time, columns->time);
	text_add_format(&line, BETWEEN "%c ", sign_of(entry->sign));
	add_padded(&line, answer_shown(call->answer, entry->job->job), columns->number);
	text_add(&line, BETWEEN);
	add_padded(&line, entry->verdict, columns->verdict);
	title_add(call, &line, entry->job->title);
	answer_line(call->answer, mark_of(entry->sign), "%s", line.bytes);
}

/* The day stands before the first of its jobs. */
static void field_say(struct call *call, const struct columns *columns, const char *day,
                      const struct board_field *field)
{
	for (size_t i = 0; i < field->count; i++) {
		entry_say(call, columns, i == 0 ? day : "", field->entries[i].time, &field->entries[i]);
	}
}

/* What has no time says so where the others tell their day. */
static void undated_say(struct call *call, const struct columns *columns,
                        const struct board_field *field)
{
	for (size_t i = 0; i < field->count; i++) {
		entry_say(call, columns, i == 0 ? field->entries[i].time : "", "", &field->entries[i]);
	}
}

static void row_say(struct call *call, const struct board *board, const struct columns *columns,
                    const struct board_row *row)
{
	const char *press = row->press != NULL ? row->press : "not placed";
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "%s%s%s%s", press, row->name != NULL ? BETWEEN : "",
	            row->name != NULL ? row->name : "",
	            row->count == 0 ? BETWEEN "nothing planned" : "");
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		field_say(call, columns, board->days[i].name, &row->days[i]);
	}
	undated_say(call, columns, &row->undated);
}

/* ---------------------------------------------------------------- around them */

static const char *plural(size_t count)
{
	return count == 1 ? "" : "s";
}

const char *board_sum(struct arena *arena, const struct board *board)
{
	struct text sum = text_start(arena);
	if (board->jobs == 0) {
		return "nothing planned";
	}
	text_add_format(&sum, "%zu job%s: %zu can run", board->jobs, plural(board->jobs),
	                board->can_run);
	if (board->lacking > 0) {
		text_add_format(&sum, ", %zu short", board->lacking);
	}
	if (board->not_known > 0) {
		text_add_format(&sum, ", %zu not known", board->not_known);
	}
	return sum.bytes;
}

static void head_say(struct call *call, const struct board *board)
{
	struct text closed = text_start(call->arena);
	answer_line(call->answer, board->lacking > 0 ? MARK_BAD : MARK_GOOD, "%s, %s to %s: %s",
	            board->week, board->days[0].name, board->days[BOARD_DAYS - 1].name,
	            board_sum(call->arena, board));
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		if (board->days[i].closed) {
			text_join(&closed, ", ", board->days[i].name);
		}
	}
	if (closed.length > 0) {
		answer_line(call->answer, MARK_PLAIN, "closed: %s", closed.bytes);
	}
}

static void shortages_say(struct call *call, const struct ahead *ahead)
{
	if (ahead->shortage_count > 0) {
		answer_blank(call->answer);
		answer_line(call->answer, MARK_STRONG, "what is short");
	}
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		answer_line(call->answer, MARK_BAD, BETWEEN "%s", ahead->shortages[i].text);
	}
}

enum outcome board_say(struct call *call, const struct ahead *ahead)
{
	struct board board;
	enum outcome outcome =
		plan_board(call->store, call->arena, ahead, &call->limits, &board, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct columns columns = measure(call, &board);
	head_say(call, &board);
	for (size_t i = 0; i < board.row_count; i++) {
		row_say(call, &board, &columns, &board.rows[i]);
	}
	shortages_say(call, ahead);
	return OUTCOME_DONE;
}
