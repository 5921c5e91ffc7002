/* A week on a page: which job stands where, when, and how it is said. */
#include <string.h>

#include "internal.h"

/* What making a board goes by. */
struct making {
	struct store *store;
	struct arena *arena;
	struct fault *fault;
	struct board *board;
	size_t room; /* for rows */
};

/* ---------------------------------------------------------------- days */

#define DATE_LENGTH 10 /* of `2026-11-30`, in front of each moment's text */
#define CLOCK_LENGTH 5 /* of `06:00` */

/* `Mon 30 Nov` */
static const char *day_name(struct arena *arena, struct moment day, size_t index)
{
	static const char *const days[BOARD_DAYS] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
	static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
	                                     "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
	struct quantity_text text = moment_text(day);
	/* Beyond the calendar, as in the week of 9999-12-31. */
	if (strlen(text.bytes) < DATE_LENGTH || text.bytes[4] != '-') {
		return days[index];
	}
	int month = (text.bytes[5] - '0') * 10 + text.bytes[6] - '0';
	int date = (text.bytes[8] - '0') * 10 + text.bytes[9] - '0';
	return arena_format(arena, "%s %d %s", days[index], date, months[(month + 11) % 12]);
}

static void days_make(struct making *making, struct moment within, const struct calendar *calendar)
{
	struct moment from = moment_week_start(within);
	making->board->week = arena_copy(making->arena, week_text(from).bytes);
	for (size_t i = 0; i < BOARD_DAYS; i++) {
		struct board_day *day = &making->board->days[i];
		day->from = from;
		day->until = moment_day_after(from);
		day->name = day_name(making->arena, from, i);
		day->closed = calendar->limited &&
		              moment_compare(calendar_open_from(calendar, from), day->until) >= 0;
		from = day->until;
	}
}

/*
 * `06:00`; the second of two hours that the clocks show alike with its offset. Jobs are planned by
 * the minute: seconds are left out.
 */
static const char *clock_said(struct arena *arena, struct moment moment)
{
	struct quantity_text text = moment_text(moment);
	const char *clock = strchr(text.bytes, 'T');
	if (clock == NULL || strlen(clock) < 1 + CLOCK_LENGTH) {
		return "00:00";
	}
	clock++;
	const char *offset = clock + CLOCK_LENGTH;
	offset += strcspn(offset, "+-Z");
	return arena_format(arena, "%.*s%s", CLOCK_LENGTH, clock, offset);
}

/* ---------------------------------------------------------------- how an entry is said */

struct word {
	const char *plain, *booked, *broken, *running;
};

static const char *word_for(const struct word *word, const struct ahead_job *job)
{
	if (job->running) {
		return word->running;
	}
	return job->broken ? word->broken : job->booked ? word->booked : word->plain;
}

static void verdict_say(const struct ahead_job *job, struct board_entry *entry)
{
	static const struct word unknown = {"not known", "booked, not known",
	                                    "to book again, not known", "runs"};
	static const struct word ready = {"ready", "booked", "ready, to book again", "runs"};
	static const struct word caution = {"ready with caution", "booked with caution",
	                                    "with caution, to book again", "runs with caution"};
	static const struct word lacking = {"short", "short though booked", "short, booking broken",
	                                    "runs, short"};
	if (!job->verdict_known) {
		entry->sign = job->running ? BOARD_RUNS : BOARD_NOT_KNOWN;
		entry->verdict = word_for(&unknown, job);
		return;
	}
	switch (job->verdict) {
	case VERDICT_READY:
		entry->sign = job->running ? BOARD_RUNS : job->broken ? BOARD_CAUTION : BOARD_READY;
		entry->verdict = word_for(&ready, job);
		return;
	case VERDICT_CAUTION:
		entry->sign = BOARD_CAUTION;
		entry->verdict = word_for(&caution, job);
		return;
	case VERDICT_SHORT:
		entry->sign = BOARD_SHORT;
		entry->verdict = word_for(&lacking, job);
	}
}

static struct moment end_of(const struct ahead_job *job)
{
	struct moment until = job->until.known ? moment_of_day_end(job->until.value) : job->from.value;
	return moment_compare(until, job->from.value) < 0 ? job->from.value : until;
}

/* A job whose end is not known, or the same, stands where it begins. */
static bool stands_on(const struct ahead_job *job, const struct board_day *day)
{
	struct moment from = job->from.value, until = end_of(job);
	bool began = moment_compare(from, day->until) < 0;
	return began && (moment_compare(until, day->from) > 0 || moment_compare(from, day->from) >= 0);
}

static void time_say(struct arena *arena, const struct board_day *day, struct board_entry *entry)
{
	struct moment from = entry->job->from.value, until = end_of(entry->job);
	bool from_start = moment_compare(from, day->from) <= 0;
	bool to_end = moment_compare(until, day->until) >= 0;
	entry->before = moment_compare(from, day->from) < 0;
	entry->after = moment_compare(until, day->until) > 0;
	if (from_start && to_end) {
		entry->time = day->closed ? "closed" : "all day";
	} else if (entry->before) {
		entry->time = arena_format(arena, "until %s", clock_said(arena, until));
	} else if (to_end) {
		entry->time = arena_format(arena, "from %s", clock_said(arena, from));
	} else if (moment_compare(from, until) == 0) {
		entry->time = clock_said(arena, from);
	} else {
		entry->time =
			arena_format(arena, "%s-%s", clock_said(arena, from), clock_said(arena, until));
	}
}

/* ---------------------------------------------------------------- rows */

static struct board_row *row_add(struct making *making, const char *press, const char *name)
{
	struct board *board = making->board;
	if (board->row_count == making->room) {
		size_t room = making->room == 0 ? 8 : 2 * making->room;
		board->rows =
			arena_grow(making->arena, board->rows, board->row_count, room, sizeof *board->rows);
		making->room = room;
	}
	board->rows[board->row_count] = (struct board_row){.press = press, .name = name};
	return &board->rows[board->row_count++];
}

static enum outcome rows_make(struct making *making)
{
	int64_t *presses = NULL;
	size_t count = 0;
	enum outcome outcome =
		store_presses(making->store, making->arena, &presses, &count, making->fault);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		struct press_state press;
		outcome = store_press_read(making->store, making->arena, presses[i], &press, making->fault);
		if (outcome == OUTCOME_DONE) {
			row_add(making, press.press.code, press.name);
		}
	}
	return outcome;
}

/* A press that is not in use any more has a row where a job stands on it. */
static struct board_row *row_of(struct making *making, const char *press)
{
	struct board *board = making->board;
	for (size_t i = 0; i < board->row_count; i++) {
		const char *code = board->rows[i].press;
		if (code == press || (code != NULL && press != NULL && strcmp(code, press) == 0)) {
			return &board->rows[i];
		}
	}
	return row_add(making, press, NULL);
}

static struct board_entry *entry_add(struct making *making, struct board_row *row,
                                     struct board_field *field, const struct ahead_job *job)
{
	if (field->count == field->room) {
		size_t room = field->room == 0 ? 4 : 2 * field->room;
		field->entries =
			arena_grow(making->arena, field->entries, field->count, room, sizeof *field->entries);
		field->room = room;
	}
	struct board_entry *entry = &field->entries[field->count++];
	*entry = (struct board_entry){.job = job};
	verdict_say(job, entry);
	row->count++;
	return entry;
}

/* ---------------------------------------------------------------- jobs */

/* The press that the job is to run on, or the one that it was asked for; NULL: not known. */
static enum outcome press_of(struct making *making, const struct ahead_job *job, const char **out)
{
	struct found found;
	struct job asked;
	struct press_state press;
	*out = job->press;
	if (job->press != NULL) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_find(making->store, job->job, REFER_JOB, &found, making->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_job_read(making->store, making->arena, found.id, &asked, making->fault);
	}
	if (outcome != OUTCOME_DONE || asked.press_count != 1) {
		return outcome;
	}
	outcome =
		store_press_read(making->store, making->arena, asked.presses[0], &press, making->fault);
	*out = outcome == OUTCOME_DONE ? press.press.code : NULL;
	return outcome;
}

static bool stands_in(const struct ahead_job *job, const struct board *board)
{
	const struct board_day week = {.from = board->days[0].from,
	                               .until = board->days[BOARD_DAYS - 1].until};
	return !job->from.known || stands_on(job, &week);
}

static void job_count(struct board *board, const struct ahead_job *job)
{
	board->jobs++;
	if (!job->verdict_known && !job->running) {
		board->not_known++;
	} else if (job->verdict_known && job->verdict == VERDICT_SHORT) {
		board->lacking++;
	} else {
		board->can_run++;
	}
}

static enum outcome job_place(struct making *making, const struct ahead_job *job)
{
	struct board *board = making->board;
	const char *press = NULL;
	enum outcome outcome = OUTCOME_DONE;
	if (job->from.known) {
		outcome = press_of(making, job, &press);
	}
	struct board_row *row = outcome == OUTCOME_DONE ? row_of(making, press) : NULL;
	if (row == NULL) {
		return outcome;
	}
	if (!job->from.known) {
		entry_add(making, row, &row->undated, job)->time = "no time";
	}
	for (size_t i = 0; i < BOARD_DAYS && job->from.known; i++) {
		if (stands_on(job, &board->days[i])) {
			time_say(making->arena, &board->days[i], entry_add(making, row, &row->days[i], job));
		}
	}
	job_count(board, job);
	return outcome;
}

/* The row of what is not placed behind all others, wherever it was added. */
static void unplaced_last(struct board *board)
{
	for (size_t i = 0; i + 1 < board->row_count; i++) {
		if (board->rows[i].press == NULL) {
			struct board_row row = board->rows[i];
			board->rows[i] = board->rows[i + 1];
			board->rows[i + 1] = row;
		}
	}
}

enum outcome plan_board(struct store *store, struct arena *arena, const struct ahead *ahead,
                        const struct limits *limits, struct board *out, struct fault *fault)
{
	struct making making = {.store = store, .arena = arena, .fault = fault, .board = out};
	*out = (struct board){0};
	days_make(&making, ahead->from, &limits->calendar);
	enum outcome outcome = rows_make(&making);
	for (size_t i = 0; i < ahead->job_count && outcome == OUTCOME_DONE; i++) {
		if (stands_in(&ahead->jobs[i], out)) {
			outcome = job_place(&making, &ahead->jobs[i]);
		}
	}
	unplaced_last(out);
	return outcome;
}
