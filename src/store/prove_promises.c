/*
 * What is promised now stands twice, as the promise that holds and as its bookings; runs and risks
 * hang on a job's state and promise. Do they agree?
 */
#include "proof.h"

STATEMENT(booked_unpromised) =
	{"bookings without a promise",
     "SELECT w.tag, j.number FROM booking b JOIN tool w ON w.id = b.tool JOIN job j ON j.id = b.job"
     " WHERE NOT EXISTS (SELECT 1 FROM promise p JOIN promise_tool t ON t.promise = p.id"
     " AND t.tool = b.tool AND t.need = b.need AND t.station IS b.station AND t.cut IS b.cut"
     " WHERE p.job = b.job AND p.ended IS NULL AND p.starts = b.starts AND p.ends = b.ends)"
     " ORDER BY b.id",
     true};
STATEMENT(promised_unbooked) =
	{"promises without their bookings",
     "SELECT w.tag, j.number FROM promise p JOIN promise_tool t ON t.promise = p.id"
     " JOIN tool w ON w.id = t.tool JOIN job j ON j.id = p.job WHERE p.ended IS NULL"
     " AND NOT EXISTS (SELECT 1 FROM booking b WHERE b.tool = t.tool AND b.job = p.job)"
     " ORDER BY p.id, t.tool",
     true};
/* As the triggers of `booking` look at it. */
STATEMENT(booked_twice) =
	{"tools booked twice",
     "SELECT w.tag, j.number, o.number FROM booking b JOIN booking c ON c.tool = b.tool"
     " AND c.id > b.id AND c.job <> b.job"
     " AND ((b.starts < c.ends AND c.starts < b.ends) OR b.starts = c.starts)"
     " JOIN tool w ON w.id = b.tool JOIN job j ON j.id = b.job JOIN job o ON o.id = c.job"
     " ORDER BY b.id, c.id",
     true};
STATEMENT(over_and_promised) =
	{"promises to jobs that are over",
     "SELECT j.tag, j.number, j.state FROM promise p JOIN job j ON j.id = p.job"
     " WHERE p.ended IS NULL AND j.state IN ('finished', 'cancelled') ORDER BY p.id",
     true};
STATEMENT(run_unstated) =
	{"runs of jobs that do not run",
     "SELECT j.tag, p.code, j.state FROM job_run r JOIN job j ON j.id = r.job"
     " JOIN press p ON p.id = r.press WHERE r.finished IS NULL AND j.state <> 'running'"
     " ORDER BY r.id",
     true};
STATEMENT(risk_unpromised) =
	{"risks without a promise",
     "SELECT DISTINCT j.tag, j.number FROM risk r JOIN job j ON j.id = r.job WHERE NOT EXISTS"
     " (SELECT 1 FROM promise p WHERE p.job = r.job AND p.ended IS NULL) ORDER BY j.id",
     true};

static const char *words_at(sqlite3_stmt *stmt, int column)
{
	const char *text = (const char *)sqlite3_column_text(stmt, column);
	return text != NULL ? text : "";
}

/* Adds damage of the record whose tag is the row's first column: `TAG: ` and what `says` tells. */
#define ADD(proving, stmt, says, ...) \
	do { \
		struct tag_text tag = tag_shown(column_tag(stmt, 0)); \
		damage_add(proving, 0, tag.bytes, "%s: " says, tag.bytes, __VA_ARGS__); \
	} while (0)

static void add_unpromised(struct proving *proving, sqlite3_stmt *stmt)
{
	ADD(proving, stmt, "booked for job %s without a promise that holds", words_at(stmt, 1));
}

static void add_unbooked(struct proving *proving, sqlite3_stmt *stmt)
{
	ADD(proving, stmt, "promised to job %s and not booked for it", words_at(stmt, 1));
}

static void add_twice(struct proving *proving, sqlite3_stmt *stmt)
{
	ADD(proving, stmt, "booked for jobs %s and %s at one time", words_at(stmt, 1),
	    words_at(stmt, 2));
}

static void add_over(struct proving *proving, sqlite3_stmt *stmt)
{
	ADD(proving, stmt, "a promise to job %s holds, which is %s", words_at(stmt, 1),
	    words_at(stmt, 2));
}

static void add_run(struct proving *proving, sqlite3_stmt *stmt)
{
	ADD(proving, stmt, "its run on press %s has no end, its state is %s", words_at(stmt, 1),
	    words_at(stmt, 2));
}

static void add_risk(struct proving *proving, sqlite3_stmt *stmt)
{
	ADD(proving, stmt, "job %s is at risk without a promise that holds", words_at(stmt, 1));
}

enum outcome prove_promises(struct proving *proving)
{
	static const struct {
		const struct statement *statement;
		void (*add)(struct proving *proving, sqlite3_stmt *stmt);
	} looks[] = {
		{&booked_unpromised, add_unpromised},
		{&promised_unbooked, add_unbooked},
		{&booked_twice, add_twice},
		{&over_and_promised, add_over},
		{&run_unstated, add_run},
		{&risk_unpromised, add_risk},
	};
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < COUNT_OF(looks) && outcome == OUTCOME_DONE && !proving->torn; i++) {
		outcome = prove_look(proving, looks[i].statement, looks[i].statement->name, looks[i].add);
	}
	return outcome;
}
