/* Jobs: what is to be printed, on which presses, at which stations, with which cuts. */
#include "internal.h"

const struct record_sql job_sql = {
	.insert =
		{"new job",
         "INSERT INTO job (tag, number, title, state, starts, ends, quantity, label_across,"
         " label_around, corner, shape, number_across, gap_across, gap_around_min, gap_around_max,"
         " trim, web, liner_caliper, teeth, pitch, repeat, number_around)"
         " VALUES (:tag, :number, :title, :state, :from, :until, :quantity, :label_across,"
         " :label_around, :corner, :shape, :number_across, :gap_across, :gap_around_min,"
         " :gap_around_max, :trim, :web, :liner_caliper, :teeth, :pitch, :repeat, :number_around)",
         false},
	.update = {"changed job",
               "UPDATE job SET number = :number, title = :title, state = :state, starts = :from,"
               " ends = :until, quantity = :quantity, label_across = :label_across,"
               " label_around = :label_around, corner = :corner, shape = :shape,"
               " number_across = :number_across, gap_across = :gap_across,"
               " gap_around_min = :gap_around_min, gap_around_max = :gap_around_max, trim = :trim,"
               " web = :web, liner_caliper = :liner_caliper, teeth = :teeth, pitch = :pitch,"
               " repeat = :repeat, number_around = :number_around WHERE id = :id",
               false},
	.read =
		{"job",
         "SELECT tag, number, title, state, (SELECT group_concat(code, ',') FROM (SELECT p.code AS code"
         " FROM job_press jp JOIN press p ON p.id = jp.press WHERE jp.job = job.id"
         " ORDER BY jp.position)) AS press, starts AS \"from\", ends AS until, quantity, label_across,"
         " label_around, corner, shape, number_across, gap_across, gap_around_min, gap_around_max,"
         " trim, web, liner_caliper, teeth, pitch, repeat, number_around FROM job WHERE id = :id",
         false},
};

STATEMENT(forget_presses) = {"presses of a job taken away",
                             "DELETE FROM job_press WHERE job = :job", false};
STATEMENT(list_press) =
	{"press of a job",
     "INSERT OR IGNORE INTO job_press (job, press, position) VALUES (:job, :press, :position)",
     false};

static enum outcome add_press(struct store *store, int64_t job, int64_t press, int64_t position,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &list_press, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", job);
	bind_number(stmt, ":press", press);
	bind_number(stmt, ":position", position);
	return statement_run(store, stmt, "listing the presses of a job", fault);
}

enum outcome job_settle(struct store *store, struct arena *arena, struct record *record,
                        const struct actor *actor, struct fault *fault)
{
	(void)actor;
	sqlite3_stmt *stmt = statement_ready(store, &forget_presses, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":job", record->id);
	enum outcome outcome = statement_run(store, stmt, "listing the presses of a job", fault);
	const char *codes = record_words(record, "press");
	for (int64_t position = 1; codes != NULL && *codes != '\0' && outcome == OUTCOME_DONE;
	     position++) {
		struct found found;
		size_t length = 0;
		while (codes[length] != '\0' && codes[length] != ',') {
			length++;
		}
		outcome =
			store_find(store, arena_copy_bytes(arena, codes, length), REFER_PRESSES, &found, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = add_press(store, record->id, found.id, position, fault);
		}
		codes += length + (codes[length] == ',' ? 1 : 0);
	}
	return outcome;
}

STATEMENT(row_of_station) = {"row of a job's station",
                             "SELECT id FROM station WHERE job = :job AND station = :number",
                             false};
STATEMENT(row_of_cut) = {"row of a job's cut",
                         "SELECT id FROM cut WHERE job = :job AND cut = :number", false};

enum outcome store_job_row_find(struct store *store, const struct kind *kind, int64_t job,
                                int64_t number, int64_t *id, struct fault *fault)
{
	sqlite3_stmt *stmt =
		statement_ready(store, kind->id == KIND_CUT ? &row_of_cut : &row_of_station, fault);
	enum outcome outcome = OUTCOME_STORE;
	*id = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":job", job);
	bind_number(stmt, ":number", number);
	if (statement_row(store, stmt, &outcome, fault)) {
		*id = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

STATEMENT(read_job) = {
	"job for the check",
	"SELECT id, number, title, state, starts, ends, quantity, label_across, label_around, corner, shape,"
	" number_across, gap_across, gap_around_min, gap_around_max, trim, web, liner_caliper, teeth, pitch,"
	" repeat, number_around FROM job WHERE id = :id",
	false};
STATEMENT(read_stations) = {
	"stations of a job",
	"SELECT station, ink, process, register, plate, base, tape, plates, screen_min, screen_max, volume,"
	" volume_tolerance, plate_screen FROM station WHERE job = :job ORDER BY station",
	false};
STATEMENT(
	read_cuts) = {"cuts of a job",
                  "SELECT c.cut, c.kind, c.die, t.tag FROM cut c LEFT JOIN tool t ON t.id = c.die"
                  " WHERE c.job = :job ORDER BY c.cut",
                  false};
STATEMENT(read_presses) = {"presses of a job",
                           "SELECT press FROM job_press WHERE job = :job ORDER BY position", false};

static void fill_job(struct arena *arena, sqlite3_stmt *stmt, struct job *job)
{
	struct layout *layout = &job->layout;
	job->number = column_words(arena, stmt, 1);
	job->title = column_words(arena, stmt, 2);
	job->state = column_words(arena, stmt, 3);
	job->from = column_when(stmt, 4);
	job->until = column_when(stmt, 5);
	job->quantity = column_count(stmt, 6);
	layout->job = job->number;
	layout->label_across = column_length(stmt, 7);
	layout->label_around = column_length(stmt, 8);
	layout->corner = column_length(stmt, 9);
	layout->shape = column_words(arena, stmt, 10);
	layout->number_across = column_count(stmt, 11);
	layout->gap_across = column_length(stmt, 12);
	layout->gap_around_min = column_length(stmt, 13);
	layout->gap_around_max = column_length(stmt, 14);
	layout->trim = column_length(stmt, 15);
	layout->web = column_length(stmt, 16);
	layout->liner_caliper = column_length(stmt, 17);
	layout->repeat = column_repeat(stmt, 18, 19, 20);
	layout->number_around = column_count(stmt, 21);
}

static struct known_percent column_percent(sqlite3_stmt *stmt, int column)
{
	struct value value = value_from_stored(VALUE_PERCENT, sqlite3_column_int64(stmt, column));
	return (struct known_percent){.known = sqlite3_column_type(stmt, column) != SQLITE_NULL,
	                              .value = value.percent};
}

static void fill_station(struct arena *arena, sqlite3_stmt *stmt, struct station *station)
{
	station->number = sqlite3_column_int64(stmt, 0);
	station->ink = column_words(arena, stmt, 1);
	station->process = column_words(arena, stmt, 2);
	station->registered = sqlite3_column_int64(stmt, 3) != 0;
	station->plate = column_length(stmt, 4);
	station->base = column_length(stmt, 5);
	station->tape = column_length(stmt, 6);
	station->plates = column_words(arena, stmt, 7);
	station->screen_min = column_screen(stmt, 8);
	station->screen_max = column_screen(stmt, 9);
	station->volume = column_volume(stmt, 10);
	station->volume_tolerance = column_percent(stmt, 11);
	station->plate_screen = column_screen(stmt, 12);
}

static void fill_cut(struct arena *arena, sqlite3_stmt *stmt, struct cut *cut)
{
	cut->number = sqlite3_column_int64(stmt, 0);
	cut->kind = column_words(arena, stmt, 1);
	cut->die_id = sqlite3_column_int64(stmt, 2);
	if (cut->die_id != 0) {
		cut->die = arena_copy(arena, tag_shown(column_tag(stmt, 3)).bytes);
	}
}

/* Runs one of the queries of a job's rows; each row goes to the next free struct of its list. */
static enum outcome read_rows(struct store *store, struct arena *arena,
                              const struct statement *statement, struct job *job,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":job", job->id);
	while (statement_row(store, stmt, &outcome, fault)) {
		if (statement == &read_stations) {
			job->stations = arena_grow(arena, job->stations, job->station_count,
			                           job->station_count + 1, sizeof *job->stations);
			fill_station(arena, stmt, &job->stations[job->station_count++]);
		} else if (statement == &read_cuts) {
			job->cuts =
				arena_grow(arena, job->cuts, job->cut_count, job->cut_count + 1, sizeof *job->cuts);
			fill_cut(arena, stmt, &job->cuts[job->cut_count++]);
		} else {
			job->presses = arena_grow(arena, job->presses, job->press_count, job->press_count + 1,
			                          sizeof *job->presses);
			job->presses[job->press_count++] = sqlite3_column_int64(stmt, 0);
		}
	}
	return outcome;
}

enum outcome store_job_read(struct store *store, struct arena *arena, int64_t id, struct job *out,
                            struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &read_job, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct job){.id = id};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", id);
	if (statement_row(store, stmt, &outcome, fault)) {
		fill_job(arena, stmt, out);
	}
	statement_done(stmt);
	const struct statement *const rows[] = {&read_stations, &read_cuts, &read_presses};
	for (size_t i = 0; i < COUNT_OF(rows) && outcome == OUTCOME_DONE; i++) {
		outcome = read_rows(store, arena, rows[i], out, fault);
	}
	return outcome;
}
