/*
 * Promises of tools to jobs. `promise` keeps what was promised for ever, with the check that it
 * rests on; `booking` what is promised now, and refuses a tool twice over a time.
 */
#include "promise.h"

STATEMENT(end_promise) = {"promise ended",
                          "UPDATE promise SET ended = :entry WHERE job = :job AND ended IS NULL",
                          false};
STATEMENT(promise_held) = {"promise that holds for a job",
                           "SELECT id FROM promise WHERE job = :job AND ended IS NULL", false};
STATEMENT(forget_bookings) = {"bookings of a job taken away",
                              "DELETE FROM booking WHERE job = :job", false};

STATEMENT(add_promise) =
	{"promise",
     "INSERT INTO promise (job, press, starts, ends, teeth, pitch, repeat, number_around, verdict,"
     " answer, asked, operator, login, made) VALUES (:job, :press, :starts, :ends, :teeth, :pitch,"
     " :repeat, :number_around, :verdict, :answer, :asked, :operator, :login, :made)",
     false};
STATEMENT(add_tool) = {"tool of a promise",
                       "INSERT INTO promise_tool (promise, tool, need, station, cut)"
                       " VALUES (:promise, :tool, :need, :station, :cut)",
                       false};
STATEMENT(book_tools) =
	{"tools of a promise booked",
     "INSERT INTO booking (tool, job, need, station, cut, starts, ends)"
     " SELECT t.tool, p.job, t.need, t.station, t.cut, p.starts, p.ends FROM promise p"
     " JOIN promise_tool t ON t.promise = p.id WHERE p.id = :id",
     false};

/* As the triggers of `booking` look at it. */
STATEMENT(booked_already) =
	{"booking of another job that is in the way",
     "SELECT w.tag, o.number, b.starts, b.ends, j.number FROM promise p"
     " JOIN promise_tool t ON t.promise = p.id JOIN booking b ON b.tool = t.tool AND b.job <> p.job"
     " AND ((b.starts < p.ends AND p.starts < b.ends) OR b.starts = p.starts)"
     " JOIN job o ON o.id = b.job JOIN job j ON j.id = p.job JOIN tool w ON w.id = b.tool"
     " WHERE p.id = :id ORDER BY b.starts, b.id LIMIT 1",
     false};

STATEMENT(ended_by) = {"promise that an entry ended", "SELECT id FROM promise WHERE ended = :entry",
                       false};
STATEMENT(hold_promise) = {"promise that holds again",
                           "UPDATE promise SET ended = NULL WHERE id = :id", false};

/* ---------------------------------------------------------------- ending */

/* The one number that a statement answers; 0 where it answers nothing. */
static enum outcome number_of(struct store *store, const struct statement *statement,
                              const char *by, int64_t number, int64_t *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, by, number);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_bookings_set_aside(struct store *store, int64_t job, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &forget_bookings, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	return statement_run(store, stmt, "setting bookings aside", fault);
}

enum outcome promise_end_now(struct store *store, int64_t job, int64_t *id, struct fault *fault)
{
	enum outcome outcome = number_of(store, &promise_held, ":job", job, id, fault);
	if (outcome != OUTCOME_DONE || *id == 0) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, &end_promise, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	bind_number(stmt, ":entry", store->ledger_end.number);
	outcome = statement_run(store, stmt, "ending a promise", fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_bookings_set_aside(store, job, fault);
	}
	return outcome == OUTCOME_DONE ? store_risks_write(store, job, NULL, 0, fault) : outcome;
}

/*
 * The entry on the job, and the promise that held until then; its number is kept, so that all of
 * it can be taken back.
 */
static enum outcome enter(struct store *store, struct arena *arena, int64_t job, const char *word,
                          const char *detail, const struct actor *actor, struct fault *fault)
{
	struct entry entry = {
		.word = word,
		.subject_kind = kinds[KIND_JOB].name,
		.subject = job,
		.happened = actor_moment(actor),
		.detail = detail,
	};
	int64_t held = 0;
	enum outcome outcome = ledger_write(store, &entry, actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = promise_end_now(store, job, &held, fault);
	}
	const char *kept = held != 0 ? arena_format(arena, "%lld", (long long)held) : NULL;
	return outcome == OUTCOME_DONE ? before_keep(store, "promise", kept, fault) : outcome;
}

enum outcome store_promise_end(struct store *store, struct arena *arena, int64_t job,
                               const char *detail, const struct actor *actor, struct fault *fault)
{
	int64_t held;
	enum outcome outcome = number_of(store, &promise_held, ":job", job, &held, fault);
	return outcome == OUTCOME_DONE && held != 0
	           ? enter(store, arena, job, "unbook", detail, actor, fault)
	           : outcome;
}

/* ---------------------------------------------------------------- booking */

/* Whose booking is in the way of a promise, and how long. */
static enum outcome refuse_booked(struct store *store, struct arena *arena, int64_t id,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &booked_already, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		const char *other = column_words(arena, stmt, 1);
		fault_set(fault, OUTCOME_NO, "%s is booked for job %s from %s until %s",
		          tag_shown(column_tag(stmt, 0)).bytes, other,
		          moment_text(column_seconds(stmt, 2).value).bytes,
		          moment_text(column_seconds(stmt, 3).value).bytes);
		fault_hint(fault, "Type check %s, which counts what is booked by now, or unbook %s.",
		           (const char *)sqlite3_column_text(stmt, 4), other);
		outcome = OUTCOME_NO;
	}
	statement_done(stmt);
	return outcome;
}

enum outcome promise_book(struct store *store, struct arena *arena, int64_t id, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &book_tools, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", id);
	int code = sqlite3_step(stmt);
	enum outcome outcome = OUTCOME_DONE;
	if (code == SQLITE_CONSTRAINT_TRIGGER) {
		outcome = refuse_booked(store, arena, id, fault);
	} else if (code != SQLITE_DONE) {
		outcome = store_fault(store, "booking tools", fault);
	}
	sqlite3_reset(stmt);
	return outcome;
}

static enum outcome write_promise(struct store *store, const struct kept_promise *promise,
                                  const struct actor *actor, struct fault *fault)
{
	const struct repeat *repeat = &promise->repeat;
	bool toothed = repeat->known && repeat->toothed;
	struct quantity_text pitch; /* bound: outlives the step */
	sqlite3_stmt *stmt = statement_ready(store, &add_promise, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", promise->job);
	bind_number(stmt, ":press", promise->press);
	bind_moment(stmt, ":starts", promise->from);
	bind_moment(stmt, ":ends", promise->until);
	if (toothed) {
		pitch = pitch_text(repeat->pitch);
		bind_number(stmt, ":teeth", repeat->teeth);
		bind_words(stmt, ":pitch", pitch.bytes);
	} else if (repeat->known) {
		bind_number(stmt, ":repeat", length_to_nm(repeat->plain));
	}
	if (promise->number_around.known) {
		bind_number(stmt, ":number_around", promise->number_around.value);
	}
	bind_words(stmt, ":verdict", promise->verdict);
	bind_words(stmt, ":answer", promise->answer);
	bind_moment(stmt, ":asked", actor_moment(actor));
	bind_id(stmt, ":operator", actor->operator_id);
	bind_words(stmt, ":login", actor->login);
	bind_number(stmt, ":made", store->ledger_end.number);
	return statement_run(store, stmt, "keeping a promise", fault);
}

static enum outcome write_tool(struct store *store, int64_t id, const struct promised_tool *tool,
                               struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &add_tool, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":promise", id);
	bind_number(stmt, ":tool", tool->tool);
	bind_words(stmt, ":need", tool->need);
	bind_id(stmt, ":station", tool->station);
	bind_id(stmt, ":cut", tool->cut);
	return statement_run(store, stmt, "keeping a tool of a promise", fault);
}

enum outcome store_promise_keep(struct store *store, struct arena *arena,
                                const struct kept_promise *promise, const char *word,
                                const char *detail, const struct actor *actor, struct fault *fault)
{
	enum outcome outcome = enter(store, arena, promise->job, word, detail, actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = write_promise(store, promise, actor, fault);
	}
	int64_t id = sqlite3_last_insert_rowid(store->db);
	for (size_t i = 0; i < promise->tool_count && outcome == OUTCOME_DONE; i++) {
		outcome = write_tool(store, id, &promise->tools[i], fault);
	}
	return outcome == OUTCOME_DONE ? promise_book(store, arena, id, fault) : outcome;
}

/* ---------------------------------------------------------------- taken back */

enum outcome promise_hold_again(struct store *store, struct arena *arena, int64_t entry,
                                struct fault *fault)
{
	int64_t id;
	enum outcome outcome = number_of(store, &ended_by, ":entry", entry, &id, fault);
	if (outcome != OUTCOME_DONE || id == 0) {
		return outcome;
	}
	sqlite3_stmt *stmt = statement_ready(store, &hold_promise, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", id);
	outcome = statement_run(store, stmt, "holding a promise again", fault);
	return outcome == OUTCOME_DONE ? promise_book(store, arena, id, fault) : outcome;
}

enum outcome store_undo_promise(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, const struct actor *actor,
                                struct fault *fault)
{
	struct entry taking = {.subject_kind = entry->kind->name, .subject = entry->subject};
	int64_t made;
	enum outcome outcome = undo_write(store, arena, entry, &taking, NULL, actor, fault);
	/* What it made goes before what it ended comes: of one job only one holds. */
	if (outcome == OUTCOME_DONE) {
		outcome = promise_end_now(store, entry->subject, &made, fault);
	}
	return outcome == OUTCOME_DONE ? promise_hold_again(store, arena, entry->number, fault)
	                               : outcome;
}
