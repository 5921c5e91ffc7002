/* A roll in the life that runs: its readings, what jobs ran on it, and what people told of that. */
#include <stdlib.h>
#include <string.h>

#include "wear.h"

/* Index alone; oldest first within those after cleaning and within the others. */
STATEMENT(readings_of_life) =
	{"readings of a life",
     "SELECT moment, id, volume, method, run, after = 'clean' FROM reading"
     " WHERE tool = :tool AND life = :life AND moment >= :since ORDER BY after, moment, id",
     false};
STATEMENT(whole_readings) =
	{"readings of a life, whole",
     "SELECT moment, id, volume, method, run, after = 'clean', left_volume, centre_volume,"
     " right_volume FROM reading WHERE tool = :tool AND life = :life AND moment >= :since"
     " ORDER BY after, moment, id",
     false};
STATEMENT(runs_of_life) =
	{"web run in a life",
     "SELECT moment, length FROM web_run WHERE tool = :tool AND life = :life ORDER BY moment",
     false};
/* Since when the run on record is followed: since the life began, or the roll was put on record. */
STATEMENT(roll_now) =
	{"run of a roll",
     "SELECT t.life, t.run, k.engraved, CASE WHEN t.life > 1 THEN"
     " (SELECT max(c.moment) FROM care c WHERE c.tool = t.id AND c.what IN ('engraved', 'regrind')"
     " AND c.life = t.life) ELSE (SELECT l.happened FROM ledger l WHERE l.subject_kind = t.kind"
     " AND l.subject = t.id AND l.word = 'new' ORDER BY l.happened, l.number LIMIT 1) END"
     " FROM tool t JOIN anilox k ON k.tool = t.id WHERE t.id = :tool",
     false};

/* ---------------------------------------------------------------- a roll and its readings */

static enum outcome read_roll(struct store *store, int64_t tool, struct roll *roll, bool *found,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &roll_now, fault);
	enum outcome outcome = OUTCOME_STORE;
	*roll = (struct roll){.tool = tool};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	*found = statement_row(store, stmt, &outcome, fault);
	if (*found) {
		roll->life = sqlite3_column_int64(stmt, 0);
		roll->run = length_from_nm(sqlite3_column_int64(stmt, 1));
		roll->engraved = column_when(stmt, 2);
		roll->followed = column_seconds(stmt, 3);
	}
	statement_done(stmt);
	return outcome;
}

/* Of the roll's life; NULL: with the fault. */
static sqlite3_stmt *ready_of_life(struct store *store, const struct statement *statement,
                                   const struct roll *roll, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt != NULL) {
		bind_number(stmt, ":tool", roll->tool);
		bind_number(stmt, ":life", roll->life);
	}
	return stmt;
}

static enum outcome read_runs(struct store *store, struct arena *arena, struct roll *roll,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = ready_of_life(store, &runs_of_life, roll, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	if (stmt == NULL) {
		return outcome;
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (roll->run_count == room) {
			roll->runs = arena_grow(arena, roll->runs, room, room * 2 + 32, sizeof *roll->runs);
			room = room * 2 + 32;
		}
		struct web_mark *run = &roll->runs[roll->run_count++];
		run->moment = column_seconds(stmt, 0).value;
		run->length = length_from_nm(sqlite3_column_int64(stmt, 1));
		roll->web = length_add(roll->web, run->length);
	}
	statement_done(stmt);
	return outcome;
}

/* "surface" and "drawdown" stand as constants: compared by pointer after this. */
const char *wear_method(sqlite3_stmt *stmt, int column)
{
	const char *text = (const char *)sqlite3_column_text(stmt, column);
	return text == NULL ? NULL : strcmp(text, "surface") == 0 ? "surface" : "drawdown";
}

bool wear_across(sqlite3_stmt *stmt, int column, struct across *out)
{
	struct known_volume left = column_volume(stmt, column);
	struct known_volume centre = column_volume(stmt, column + 1);
	struct known_volume right = column_volume(stmt, column + 2);
	*out = (struct across){left.value, centre.value, right.value};
	return left.known && centre.known && right.known;
}

void roll_bind(sqlite3_stmt *stmt, const struct roll *roll)
{
	bind_number(stmt, ":tool", roll->tool);
	bind_number(stmt, ":life", roll->life);
	if (roll->engraved.known) {
		bind_moment(stmt, ":since", roll->engraved.value);
	} else {
		bind_number(stmt, ":since", INT64_MIN);
	}
}

static enum outcome read_readings(struct store *store, struct arena *arena,
                                  const struct statement *statement, struct roll *roll,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	if (stmt == NULL) {
		return outcome;
	}
	roll_bind(stmt, roll);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (roll->reading_count == room) {
			roll->readings =
				arena_grow(arena, roll->readings, room, room * 4 + 32, sizeof *roll->readings);
			room = room * 4 + 32;
		}
		struct wear_reading *reading = &roll->readings[roll->reading_count++];
		*reading = (struct wear_reading){
			.moment = column_seconds(stmt, 0).value,
			.id = sqlite3_column_int64(stmt, 1),
			.volume = column_volume(stmt, 2).value,
			.method = wear_method(stmt, 3),
			.run = column_length(stmt, 4),
			.clean = sqlite3_column_int64(stmt, 5) != 0,
		};
		if (statement == &whole_readings) {
			reading->across_known = wear_across(stmt, 6, &reading->across);
		}
	}
	statement_done(stmt);
	return outcome;
}

static int compare_readings(const void *a, const void *b)
{
	const struct wear_reading *x = a, *y = b;
	int order = moment_compare(x->moment, y->moment);
	/* Of one moment, as of one bare date, what a run left was read before it was cleaned. */
	if (order == 0 && x->clean != y->clean) {
		return x->clean ? 1 : -1;
	}
	return order != 0 ? order : (x->id > y->id) - (x->id < y->id);
}

/* Of a roll that is only read after cleaning they come in order already. */
static bool in_order(const struct roll *roll)
{
	for (size_t i = 1; i < roll->reading_count; i++) {
		if (compare_readings(&roll->readings[i - 1], &roll->readings[i]) > 0) {
			return false;
		}
	}
	return true;
}

/* What was told with the record, and what of the web of that very second came after it. */
STATEMENT(told_of_life) = {
	"run told with the record of a roll",
	"SELECT r.moment, r.run, (SELECT coalesce(sum(w.length), 0) FROM web_run w"
	" INDEXED BY web_run_of_tool WHERE w.tool = r.tool AND w.life = r.life AND w.moment = r.moment AND w.entry > r.entry)"
	" FROM run_told r WHERE r.tool = :tool AND r.life = :life ORDER BY r.moment, r.id",
	false};

static enum outcome read_told(struct store *store, struct arena *arena, struct roll *roll,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = ready_of_life(store, &told_of_life, roll, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	if (stmt == NULL) {
		return outcome;
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (roll->told_count == room) {
			roll->told = arena_grow(arena, roll->told, room, room * 2 + 8, sizeof *roll->told);
			room = room * 2 + 8;
		}
		roll->told[roll->told_count] = (struct run_told){
			.moment = column_seconds(stmt, 0).value,
			.run = column_length(stmt, 1),
			.ran_after = length_from_nm(sqlite3_column_int64(stmt, 2)),
			.place = roll->told_count,
		};
		roll->told[roll->told_count].first =
			roll->told_count == 0 && roll->followed.known &&
			moment_compare(roll->told[0].moment, roll->followed.value) == 0;
		roll->told_count++;
	}
	statement_done(stmt);
	return outcome;
}

/* All but what it had run by its readings. */
static enum outcome read_all(struct store *store, struct arena *arena, int64_t tool,
                             const struct statement *readings, struct roll *roll, bool *found,
                             struct fault *fault)
{
	enum outcome outcome = read_roll(store, tool, roll, found, fault);
	if (outcome == OUTCOME_DONE && *found) {
		outcome = read_runs(store, arena, roll, fault);
	}
	if (outcome == OUTCOME_DONE && *found) {
		outcome = read_told(store, arena, roll, fault);
	}
	if (outcome == OUTCOME_DONE && *found) {
		outcome = read_readings(store, arena, readings, roll, fault);
	}
	if (outcome == OUTCOME_DONE && !in_order(roll)) {
		qsort(roll->readings, roll->reading_count, sizeof *roll->readings, compare_readings);
	}
	return outcome;
}

enum outcome roll_read(struct store *store, struct arena *arena, int64_t tool, bool whole,
                       struct roll *roll, bool *found, struct fault *fault)
{
	enum outcome outcome = read_all(store, arena, tool, whole ? &whole_readings : &readings_of_life,
	                                roll, found, fault);
	if (outcome == OUTCOME_DONE && *found) {
		roll_fill_runs(arena, roll);
	}
	return outcome;
}

/* ---------------------------------------------------------------- by a moment */

/* What was told last with the record and with a reading, and the greatest that ever was. */
#define TOLD_READINGS \
	" FROM reading INDEXED BY reading_told WHERE tool = :tool AND life = :life" \
	" AND moment >= :since AND run IS NOT NULL"
#define TOLD_RECORD " FROM run_told WHERE tool = :tool AND life = :life"
STATEMENT(last_told) =
	{"run of a roll told last",
     "SELECT r.moment, r.run, d.moment, d.run, max(COALESCE((SELECT max(run)" TOLD_RECORD
     "), 0), COALESCE((SELECT max(run)" TOLD_READINGS "), 0)) FROM (SELECT 1)"
     " LEFT JOIN (SELECT moment, run" TOLD_RECORD " ORDER BY moment DESC, id DESC LIMIT 1) r"
     " LEFT JOIN (SELECT moment, run" TOLD_READINGS " ORDER BY moment DESC, id DESC LIMIT 1) d",
     false};
STATEMENT(web_after) = {"web run in a life after a moment",
                        "SELECT coalesce(sum(length), 0) FROM web_run WHERE tool = :tool"
                        " AND life = :life AND moment > :after",
                        false};

static enum outcome read_after(struct store *store, const struct roll *roll, struct moment after,
                               struct length *out, struct fault *fault)
{
	sqlite3_stmt *stmt = ready_of_life(store, &web_after, roll, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = length_from_nm(0);
	if (stmt == NULL) {
		return outcome;
	}
	bind_moment(stmt, ":after", after);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = length_from_nm(sqlite3_column_int64(stmt, 0));
	}
	statement_done(stmt);
	return outcome;
}

/* What was told last, where that alone says what it had run by a moment. */
enum last_told_by { BY_NEITHER, BY_RECORD, BY_READING };
struct last_told {
	enum last_told_by by;
	struct moment moment;
	struct length run;
};

/*
 * The record where it was told last and the last reading told no more; a reading where none ever
 * told more, which is believed whatever was told else.
 */
static struct last_told last_of(sqlite3_stmt *stmt, struct moment moment)
{
	struct known_moment on_record = column_seconds(stmt, 0), read = column_seconds(stmt, 2);
	struct known_length told = column_length(stmt, 1), run = column_length(stmt, 3);
	struct length most = length_from_nm(sqlite3_column_int64(stmt, 4));
	bool reading_last =
		read.known && (!on_record.known || moment_compare(read.value, on_record.value) >= 0);
	if (reading_last) {
		bool believed = length_compare(run.value, most) == 0;
		return (struct last_told){believed && moment_compare(read.value, moment) <= 0 ? BY_READING
		                                                                              : BY_NEITHER,
		                          read.value, run.value};
	}
	bool by_record = told.known && moment_compare(on_record.value, moment) <= 0 &&
	                 (!read.known || length_compare(run.value, told.value) <= 0);
	return (struct last_told){by_record ? BY_RECORD : BY_NEITHER, on_record.value, told.value};
}

static enum outcome read_last(struct store *store, const struct roll *roll, struct moment moment,
                              struct last_told *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &last_told, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct last_told){.by = BY_NEITHER};
	if (stmt == NULL) {
		return outcome;
	}
	roll_bind(stmt, roll);
	if (statement_row(store, stmt, &outcome, fault) && roll_is_followed(roll, moment)) {
		*out = last_of(stmt, moment);
	}
	statement_done(stmt);
	return outcome;
}

/* On from what was told last; from the record, as it stands now less the web since the moment. */
static enum outcome run_since(struct store *store, const struct roll *roll,
                              const struct last_told *last, struct moment moment,
                              struct known_length *out, struct fault *fault)
{
	struct length since, since_told = length_from_nm(0);
	enum outcome outcome = read_after(store, roll, moment, &since, fault);
	if (outcome == OUTCOME_DONE && last->by == BY_READING) {
		outcome = read_after(store, roll, last->moment, &since_told, fault);
	}
	struct length by_now = last->by == BY_READING ? length_add(last->run, since_told) : roll->run;
	*out = (struct known_length){outcome == OUTCOME_DONE, length_subtract(by_now, since)};
	return outcome;
}

enum outcome store_run_at(struct store *store, struct arena *arena, int64_t tool,
                          struct moment moment, struct known_length *out, struct fault *fault)
{
	struct roll roll;
	struct last_told last = {.by = BY_NEITHER};
	bool found;
	*out = (struct known_length){.known = false};
	enum outcome outcome = read_roll(store, tool, &roll, &found, fault);
	if (outcome == OUTCOME_DONE && found) {
		outcome = read_last(store, &roll, moment, &last, fault);
	}
	if (outcome == OUTCOME_DONE && last.by != BY_NEITHER) {
		return run_since(store, &roll, &last, moment, out, fault);
	}
	if (outcome == OUTCOME_DONE && found) {
		outcome = read_all(store, arena, tool, &readings_of_life, &roll, &found, fault);
		*out = roll_run_at(arena, &roll, moment);
	}
	return outcome;
}
