/* A roll in the life that runs: its readings, and what it had run by each. */
#include <stdlib.h>
#include <string.h>

#include "wear.h"

/* Index alone; oldest first within those after cleaning and within the others. */
STATEMENT(readings_of_life) =
	{"readings of a life",
     "SELECT moment, id, volume, method, run, run_then, after = 'clean' FROM reading"
     " WHERE tool = :tool AND life = :life AND moment >= :since ORDER BY after, moment, id",
     false};
STATEMENT(whole_readings) = {
	"readings of a life, whole",
	"SELECT moment, id, volume, method, run, run_then, after = 'clean', left_volume, centre_volume,"
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
     "SELECT t.life, t.run, k.engraved, t.run IS NOT NULL AND " RUN_ALWAYS_KNOWN
     ", CASE WHEN t.life > 1 THEN"
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
		roll->before_known = sqlite3_column_int64(stmt, 3) != 0;
		roll->followed = column_seconds(stmt, 4);
	}
	statement_done(stmt);
	return outcome;
}

static enum outcome read_runs(struct store *store, struct arena *arena, struct roll *roll,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &runs_of_life, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", roll->tool);
	bind_number(stmt, ":life", roll->life);
	roll->before = roll->run;
	while (statement_row(store, stmt, &outcome, fault)) {
		if (roll->run_count == room) {
			roll->runs = arena_grow(arena, roll->runs, room, room * 2 + 32, sizeof *roll->runs);
			room = room * 2 + 32;
		}
		struct web_mark *run = &roll->runs[roll->run_count++];
		run->moment = column_seconds(stmt, 0).value;
		run->length = length_from_nm(sqlite3_column_int64(stmt, 1));
		roll->before = length_subtract(roll->before, run->length);
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
			.run_then = column_length(stmt, 5),
			.clean = sqlite3_column_int64(stmt, 6) != 0,
		};
		if (statement == &whole_readings) {
			reading->across_known = wear_across(stmt, 7, &reading->across);
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

STATEMENT(shift_runs) = {"runs of readings put right",
                         "UPDATE reading SET run_then = run_then + :by WHERE tool = :tool"
                         " AND life = (SELECT life FROM tool WHERE id = :tool)"
                         " AND run_then IS NOT NULL",
                         false};

enum outcome roll_put_right(struct store *store, const struct record *before,
                            const struct record *after, bool undone, struct fault *fault)
{
	const struct value *old = record_known(before, "run"), *new = record_known(after, "run");
	if (after->kind->id != KIND_ANILOX || old == NULL || new == NULL) {
		return OUTCOME_DONE;
	}
	int order = length_compare(new->length, old->length);
	if (undone ? order <= 0 : order >= 0) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &shift_runs, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", after->id);
	bind_number(stmt, ":by", length_to_nm(length_subtract(new->length, old->length)));
	return statement_run(store, stmt, "putting the runs of readings right", fault);
}

/* ---------------------------------------------------------------- its run when it was read */

/* Web by the runs of jobs up to a moment, from one to the next as moments go on. */
struct along {
	const struct roll *roll;
	size_t next;
	struct length web;
};

static struct length web_until(struct along *along, struct moment moment)
{
	const struct roll *roll = along->roll;
	while (along->next < roll->run_count &&
	       moment_compare(roll->runs[along->next].moment, moment) <= 0) {
		along->web = length_add(along->web, roll->runs[along->next++].length);
	}
	return along->web;
}

/* Was the roll on record by then, in the life that runs, so that jobs tell what it ran? */
static bool is_followed(const struct roll *roll, const struct wear_reading *reading)
{
	return roll->followed.known && moment_compare(reading->moment, roll->followed.value) >= 0;
}

/*
 * By the record: as it stood when the reading was put on record; of older readings what stands now
 * less what jobs ran since. Before the roll was followed nobody knows, unless it had run nothing.
 */
static struct known_length by_record(const struct roll *roll, const struct wear_reading *reading,
                                     struct length web)
{
	bool new_then = length_compare(roll->before, length_from_nm(0)) == 0;
	if (reading->run_then.known) {
		return reading->run_then;
	}
	return (struct known_length){roll->before_known && (is_followed(roll, reading) || new_then),
	                             length_add(roll->before, web)};
}

/* Where nobody has ever told what it had run, it is counted from when it was first followed. */
static struct known_length by_jobs_alone(const struct roll *roll,
                                         const struct wear_reading *reading, struct length web)
{
	return (struct known_length){!roll->before_known && !roll->told && is_followed(roll, reading),
	                             web};
}

static struct known_length later_of(struct known_length a, struct known_length b)
{
	return !a.known || (b.known && length_compare(b.value, a.value) > 0) ? b : a;
}

/* What was told last, with the web since: a device tells more than a record that nobody keeps. */
struct told {
	struct known_length run;
	struct length web;
};

static struct known_length by_told(const struct told *told, struct length web)
{
	return (struct known_length){told->run.known,
	                             length_add(told->run.value, length_subtract(web, told->web))};
}

/* A run of less than nothing is a record that was set back: what it was then nobody knows. */
static struct known_length not_negative(struct known_length run)
{
	run.known = run.known && length_compare(run.value, length_from_nm(0)) >= 0;
	return run;
}

static void fill_run(const struct roll *roll, struct wear_reading *reading, struct length web,
                     struct told *told)
{
	if (reading->run.known) {
		struct known_length before = by_told(told, web);
		/* Of two that were told the greater: a run does not go back. */
		*told = (struct told){later_of(reading->run, before), web};
		return;
	}
	struct known_length run = by_record(roll, reading, web);
	/* Before it was followed nobody knows what it ran since it was told. */
	if (is_followed(roll, reading)) {
		run = later_of(run, by_told(told, web));
	}
	reading->run = not_negative(run.known ? run : by_jobs_alone(roll, reading, web));
}

static void fill_runs(struct roll *roll)
{
	struct along along = {.roll = roll};
	struct told told = {.run = {.known = false}};
	for (size_t i = 0; i < roll->reading_count; i++) {
		roll->readings[i].told = roll->readings[i].run.known;
		roll->told = roll->told || roll->readings[i].told;
	}
	for (size_t i = 0; i < roll->reading_count; i++) {
		struct wear_reading *reading = &roll->readings[i];
		fill_run(roll, reading, web_until(&along, reading->moment), &told);
	}
	/* By now: no less than what was told last with all that ran since. */
	struct known_length last = by_told(&told, roll->web);
	roll->run_by_now =
		last.known && length_compare(last.value, roll->run) > 0 ? last.value : roll->run;
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

enum outcome roll_read(struct store *store, struct arena *arena, int64_t tool, bool whole,
                       struct roll *roll, bool *found, struct fault *fault)
{
	enum outcome outcome = read_roll(store, tool, roll, found, fault);
	if (outcome == OUTCOME_DONE && *found) {
		outcome = read_runs(store, arena, roll, fault);
	}
	if (outcome == OUTCOME_DONE && *found) {
		outcome =
			read_readings(store, arena, whole ? &whole_readings : &readings_of_life, roll, fault);
	}
	if (outcome == OUTCOME_DONE && !in_order(roll)) {
		qsort(roll->readings, roll->reading_count, sizeof *roll->readings, compare_readings);
	}
	fill_runs(roll);
	return outcome;
}

/* From the end of each part of the index: however many there are, few are looked at. */
#define LAST_TOLD(after) \
	"SELECT * FROM (SELECT moment, run FROM reading WHERE tool = :tool AND life = :life AND after IS " after \
	" AND moment BETWEEN :since AND :moment AND run IS NOT NULL" \
	" ORDER BY moment DESC, id DESC LIMIT 1)"
STATEMENT(last_told) = {"run told last with a reading",
                        LAST_TOLD("'clean'") " UNION ALL " LAST_TOLD(
							"'run'") " UNION ALL " LAST_TOLD("NULL") " ORDER BY 1, 2",
                        false};

/* In sum alone, of what ran after a moment and up to another. */
STATEMENT(web_between) = {"web run in a life between moments",
                          "SELECT coalesce(sum(length), 0) FROM web_run WHERE tool = :tool"
                          " AND life = :life AND moment > :after AND moment <= :until",
                          false};
static const struct moment ever_before = {.s = INT64_MIN};
static const struct moment ever_after = {.s = INT64_MAX};

static enum outcome read_between(struct store *store, const struct roll *roll, struct moment after,
                                 struct moment until, struct length *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &web_between, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = length_from_nm(0);
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", roll->tool);
	bind_number(stmt, ":life", roll->life);
	bind_moment(stmt, ":after", after);
	bind_moment(stmt, ":until", until);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = length_from_nm(sqlite3_column_int64(stmt, 0));
	}
	statement_done(stmt);
	return outcome;
}

/*
 * What ran in all, by the moment asked and by when the run was told last. Of a roll whose run is
 * known and followed it does not matter how much ran before: that is in the record already.
 */
static enum outcome read_sums(struct store *store, struct roll *roll,
                              const struct wear_reading *asked, struct known_moment told_at,
                              struct length *web, struct told *told, struct fault *fault)
{
	struct length since, after_told;
	struct moment told_last = told_at.known ? told_at.value : asked->moment;
	enum outcome outcome = read_between(store, roll, asked->moment, ever_after, &since, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_between(store, roll, told_last, asked->moment, &after_told, fault);
	}
	roll->web = length_add(after_told, since);
	if (outcome == OUTCOME_DONE && (!roll->before_known || !is_followed(roll, asked))) {
		outcome = read_between(store, roll, ever_before, ever_after, &roll->web, fault);
	}
	roll->before = length_subtract(roll->run, roll->web);
	*web = length_subtract(roll->web, since);
	told->web = length_subtract(*web, after_told);
	return outcome;
}

static enum outcome read_told(struct store *store, struct roll *roll, struct moment moment,
                              struct told *told, struct known_moment *told_at, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &last_told, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	roll_bind(stmt, roll);
	bind_moment(stmt, ":moment", moment);
	while (statement_row(store, stmt, &outcome, fault)) {
		*told_at = column_seconds(stmt, 0);
		told->run = column_length(stmt, 1);
		roll->told = true;
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_run_at(struct store *store, int64_t tool, struct moment moment,
                          struct known_length *out, struct fault *fault)
{
	struct roll roll;
	bool found;
	struct told told = {.run = {.known = false}};
	struct known_moment told_at = {.known = false};
	struct wear_reading asked = {.moment = moment};
	struct length web = length_from_nm(0);
	*out = (struct known_length){.known = false};
	enum outcome outcome = read_roll(store, tool, &roll, &found, fault);
	if (outcome != OUTCOME_DONE || !found) {
		return outcome;
	}
	outcome = read_told(store, &roll, moment, &told, &told_at, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_sums(store, &roll, &asked, told_at, &web, &told, fault);
	}
	if (outcome == OUTCOME_DONE) {
		fill_run(&roll, &asked, web, &told);
		*out = asked.run;
	}
	return outcome;
}
