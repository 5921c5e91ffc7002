/* Jobs that run: since when, and on which press. */
#include <assert.h>
#include <string.h>

#include "promise.h"

#define RUN_COLUMNS "j.id, j.number, r.press, p.code, r.started, j.ends"
#define PRESS_OF_RUN " LEFT JOIN press p ON p.id = r.press"
#define RUN_OF_JOB \
	" FROM job j LEFT JOIN job_run r ON r.job = j.id AND r.finished IS NULL" PRESS_OF_RUN
STATEMENT(run_of_job) = {"run of a job",
                         "SELECT " RUN_COLUMNS RUN_OF_JOB
                         " WHERE j.id = :id AND j.state = 'running'",
                         false};
STATEMENT(run_on_press) = {"run on a press",
                           "SELECT " RUN_COLUMNS " FROM job_run r JOIN job j ON j.id = r.job"
                           " JOIN press p ON p.id = r.press"
                           " WHERE r.press = :id AND r.finished IS NULL",
                           false};
STATEMENT(runs) = {"all that runs",
                   "SELECT " RUN_COLUMNS RUN_OF_JOB " WHERE j.state = 'running' ORDER BY j.number",
                   false};

STATEMENT(state_of_job) = {"state of a job",
                           "SELECT j.state, p.code FROM job j LEFT JOIN job_run r ON r.job = j.id"
                           " AND r.finished IS NULL" PRESS_OF_RUN " WHERE j.id = :id",
                           false};
STATEMENT(code_of_press) = {"code of a press", "SELECT code FROM press WHERE id = :id", false};
STATEMENT(set_state) = {"state of a job changed", "UPDATE job SET state = :state WHERE id = :id",
                        false};
STATEMENT(begin_run) = {
	"run begun",
	"INSERT INTO job_run (job, press, started, start_entry) VALUES (:job, :press, :started, :entry)",
	false};
/* A run that is recorded late may end before it began by another's clock: then it ends at once. */
STATEMENT(end_run) = {"run ended",
                      "UPDATE job_run SET finished = max(started, :finished), finish_entry = :entry"
                      " WHERE job = :job AND finished IS NULL",
                      false};
STATEMENT(go_on) = {"run that goes on",
                    "UPDATE job_run SET finished = NULL, finish_entry = NULL, length = NULL,"
                    " length_by = NULL WHERE finish_entry = :entry",
                    false};
STATEMENT(forget_run) = {"run taken back", "DELETE FROM job_run WHERE start_entry = :entry", false};
/* Of a job that ran by its state alone: when it began is not on record, so the same entry did. */
STATEMENT(
	whole_run) = {"run begun and ended",
                  "INSERT INTO job_run (job, press, started, finished, start_entry, finish_entry)"
                  " VALUES (:job, :press, :moment, :moment, :entry, :entry)",
                  false};
/* What runs by now on the press of a run that an entry ended. */
STATEMENT(
	runs_there) = {"run on the press of another",
                   "SELECT p.code, j.number FROM job_run e JOIN job_run r ON r.press = e.press"
                   " AND r.finished IS NULL JOIN job j ON j.id = r.job"
                   " JOIN press p ON p.id = r.press WHERE e.finish_entry = :entry",
                   false};

/* ---------------------------------------------------------------- reading */

static struct job_running read_run(struct arena *arena, sqlite3_stmt *stmt)
{
	return (struct job_running){
		.job = sqlite3_column_int64(stmt, 0),
		.number = column_words(arena, stmt, 1),
		.press = sqlite3_column_int64(stmt, 2),
		.press_code = column_words(arena, stmt, 3),
		.started = column_seconds(stmt, 4),
		.until = column_when(stmt, 5),
	};
}

static enum outcome one_run(struct store *store, struct arena *arena,
                            const struct statement *statement, int64_t id, struct job_running *out,
                            struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct job_running){.job = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = read_run(arena, stmt);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_run_of_job(struct store *store, struct arena *arena, int64_t job,
                              struct job_running *out, struct fault *fault)
{
	return one_run(store, arena, &run_of_job, job, out, fault);
}

enum outcome store_run_on_press(struct store *store, struct arena *arena, int64_t press,
                                struct job_running *out, struct fault *fault)
{
	return one_run(store, arena, &run_on_press, press, out, fault);
}

enum outcome store_runs(struct store *store, struct arena *arena, struct job_running **out,
                        size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &runs, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 8, sizeof **out);
			room = room * 2 + 8;
		}
		(*out)[(*count)++] = read_run(arena, stmt);
	}
	return outcome;
}

/* ---------------------------------------------------------------- starting, finishing */

static enum outcome write_state(struct store *store, int64_t job, const char *state,
                                struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &set_state, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", job);
	bind_words(stmt, ":state", state);
	return statement_run(store, stmt, "changing the state of a job", fault);
}

static enum outcome words_of(struct store *store, struct arena *arena,
                             const struct statement *statement, int64_t id, const char **first,
                             const char **second, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	*first = NULL;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		*first = column_words(arena, stmt, 0);
		if (second != NULL) {
			*second = column_words(arena, stmt, 1);
		}
	}
	statement_done(stmt);
	return outcome;
}

/* Entry, the state that stood before it, and the new one. `detail` NULL: none. */
static enum outcome enter(struct store *store, struct arena *arena, int64_t job, const char *word,
                          const char *state, const char *detail, const struct actor *actor,
                          struct fault *fault)
{
	struct entry entry = {
		.word = word,
		.subject_kind = kinds[KIND_JOB].name,
		.subject = job,
		.happened = actor_moment(actor),
		.detail = detail,
	};
	const char *before = NULL;
	enum outcome outcome = words_of(store, arena, &state_of_job, job, &before, NULL, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = ledger_write(store, &entry, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = before_keep(store, "state", before, fault);
	}
	return outcome == OUTCOME_DONE ? write_state(store, job, state, fault) : outcome;
}

static enum outcome write_run(struct store *store, int64_t job, int64_t press,
                              const struct actor *actor, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &begin_run, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	bind_number(stmt, ":press", press);
	bind_moment(stmt, ":started", actor_moment(actor));
	bind_number(stmt, ":entry", store->ledger_end.number);
	return statement_run(store, stmt, "starting a job", fault);
}

static enum outcome refuse_running(const char *press, const char *job, struct fault *fault)
{
	fault_set(fault, OUTCOME_NO, "job %s runs on press %s", job, press);
	fault_hint(fault, "Type finish %s first.", job);
	return OUTCOME_NO;
}

enum outcome store_job_start(struct store *store, struct arena *arena, int64_t job, int64_t press,
                             const struct actor *actor, struct fault *fault)
{
	struct job_running there;
	const char *code = NULL;
	enum outcome outcome = store_run_on_press(store, arena, press, &there, fault);
	if (outcome == OUTCOME_DONE && there.job != 0) {
		return refuse_running(there.press_code, there.number, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = words_of(store, arena, &code_of_press, press, &code, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = enter(store, arena, job, "start", "running", arena_format(arena, "on %s", code),
		                actor, fault);
	}
	return outcome == OUTCOME_DONE ? write_run(store, job, press, actor, fault) : outcome;
}

enum outcome run_end_now(struct store *store, int64_t job, struct moment finished,
                         struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &end_run, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	bind_moment(stmt, ":finished", finished);
	bind_number(stmt, ":entry", store->ledger_end.number);
	return statement_run(store, stmt, "ending a run", fault);
}

/* `on P1, 12345m by its quantity`, as far as it is known. */
static const char *finish_detail(struct arena *arena, const char *press, const struct run_end *end)
{
	struct text detail = text_start(arena);
	if (press != NULL) {
		text_add_format(&detail, "on %s", press);
	}
	if (end->length.known) {
		text_join(&detail, ", ", length_text(end->length.value, LENGTH_WEB, UNITS_METRIC).bytes);
		text_add(&detail, strcmp(end->by, "quantity") == 0 ? " by its quantity" : "");
	}
	return detail.length > 0 ? detail.bytes : NULL;
}

static enum outcome write_whole_run(struct store *store, int64_t job, int64_t press,
                                    const struct actor *actor, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &whole_run, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	bind_number(stmt, ":press", press);
	bind_moment(stmt, ":moment", actor_moment(actor));
	bind_number(stmt, ":entry", store->ledger_end.number);
	return statement_run(store, stmt, "keeping a run", fault);
}

enum outcome store_job_finish(struct store *store, struct arena *arena, int64_t job,
                              const struct run_end *end, const struct actor *actor,
                              struct fault *fault)
{
	const char *state = NULL, *press = NULL;
	int64_t promise;
	enum outcome outcome = words_of(store, arena, &state_of_job, job, &state, &press, fault);
	bool by_state = press == NULL && end->press != 0;
	if (outcome == OUTCOME_DONE && by_state) {
		outcome = words_of(store, arena, &code_of_press, end->press, &press, NULL, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = enter(store, arena, job, "finish", "finished", finish_detail(arena, press, end),
		                actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = by_state ? write_whole_run(store, job, end->press, actor, fault)
		                   : run_end_now(store, job, actor_moment(actor), fault);
	}
	return outcome == OUTCOME_DONE ? promise_end_now(store, job, &promise, fault) : outcome;
}

/* ---------------------------------------------------------------- taken back */

/* Runs a statement about the run that an entry began or ended. */
static enum outcome run_of_entry(struct store *store, const struct statement *statement,
                                 int64_t entry, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":entry", entry);
	return statement_run(store, stmt, statement->name, fault);
}

enum outcome run_go_on(struct store *store, struct arena *arena, int64_t entry, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &runs_there, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":entry", entry);
	if (statement_row(store, stmt, &outcome, fault)) {
		outcome = refuse_running(column_words(arena, stmt, 0), column_words(arena, stmt, 1), fault);
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE ? run_of_entry(store, &go_on, entry, fault) : outcome;
}

enum outcome store_undo_run(struct store *store, struct arena *arena,
                            const struct undo_entry *entry, const struct actor *actor,
                            struct fault *fault)
{
	struct entry taking = {.subject_kind = entry->kind->name, .subject = entry->subject};
	const char *state;
	bool known;
	enum outcome outcome = before_read(store, arena, entry->number, "state", &known, &state, fault);
	assert(outcome != OUTCOME_DONE || (known && state != NULL)); /* kept by the same change */
	if (outcome == OUTCOME_DONE) {
		outcome = undo_write(store, arena, entry, &taking, NULL, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_state(store, entry->subject, state, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = web_take_back(store, arena, entry->number, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = run_of_entry(store, &forget_run, entry->number, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = run_go_on(store, arena, entry->number, fault);
	}
	return outcome == OUTCOME_DONE ? promise_hold_again(store, arena, entry->number, fault)
	                               : outcome;
}
