/*
 * `scan FILE`: the scans of a handheld that was out of reach, by the rules of the bench, each at
 * its own moment. Nobody heard the bell there: where a line is refused that may have said where
 * tools go, what follows is not guessed.
 */
#include <stdio.h>
#include <string.h>

#include "batch.h"
#include "import.h"

static void problem(struct batching *batching, struct batch_line *line, const char *sentence,
                    const char *hint)
{
	line->wrong = true;
	batch_problem_add(batching->out, batching->arena, line->number, line->code, sentence, hint);
}

static void problem_of_fault(struct batching *batching, struct batch_line *line,
                             const struct fault *fault)
{
	problem(batching, line, fault->sentence, fault->hint);
}

/* ---------------------------------------------------------------- answers of the bench */

/* What was refused of itself, between lines: it belongs to the line before. */
static void take_ending(struct batching *batching, const struct bench_answer *answer)
{
	for (size_t i = 0; i < answer->count; i++) {
		if (answer->lines[i].tone == BENCH_REFUSED) {
			batch_problem_add(batching->out, batching->arena, batching->last_line,
			                  batching->last_code, answer->lines[i].text, answer->lines[i].hint);
		}
	}
}

static void take_answer(struct batching *batching, struct batch_line *line,
                        const struct bench_answer *answer)
{
	for (size_t i = 0; i < answer->count; i++) {
		const struct bench_line *said = &answer->lines[i];
		if (said->tone == BENCH_REFUSED) {
			problem(batching, line, said->text, said->hint);
		} else if (said->tone == BENCH_DONE && said->caution != NULL) {
			batch_caution_add(batching->out, batching->arena, line->number, line->code,
			                  said->caution);
		}
	}
}

/* The store cannot serve: the line was not applied, and no more will be. */
static enum outcome fail(struct batching *batching, const struct bench_answer *answer)
{
	for (size_t i = 0; i < answer->count; i++) {
		if (answer->lines[i].outcome == OUTCOME_STORE) {
			fault_set(batching->fault, OUTCOME_STORE, "%s", answer->lines[i].text);
			fault_hint(batching->fault, "%s",
			           answer->lines[i].hint != NULL ? answer->lines[i].hint : "");
		}
	}
	return OUTCOME_STORE;
}

/* ---------------------------------------------------------------- from where on nothing is known
 */

static void gap_begin(struct batching *batching, const struct batch_line *line)
{
	struct bench_answer answer;
	if (batching->gap != 0) {
		return;
	}
	batching->gap = line->number;
	batching->unsure = line->number;
	if (batching->latest.known) {
		bench_finish(batching->bench, batching->latest.value, &answer);
		take_ending(batching, &answer);
	}
}

static void refuse_in_gap(struct batching *batching, struct batch_line *line)
{
	problem(batching, line,
	        arena_format(batching->each,
	                     "line %lld was not applied, and where this belongs hangs on that",
	                     (long long)batching->gap),
	        NULL);
}

/* ---------------------------------------------------------------- what is applied */

/* Called by the bench in the transaction of a line. */
static enum outcome keep_applied(struct store *store, int64_t entry, void *context,
                                 struct fault *fault)
{
	struct batching *batching = context;
	batching->applied = true;
	return store_batch_keep(store, &batching->key, entry, fault);
}

/* ---------------------------------------------------------------- one scan */

static int64_t clock_of(struct moment moment)
{
	return moment.s * 1000;
}

/* What has come to its end since the line before. */
static void pass_quiet(struct batching *batching, struct moment until)
{
	int64_t wakes = bench_wakes(batching->bench);
	while (wakes < clock_of(until)) {
		struct bench_answer answer;
		struct moment then = {.s = wakes / 1000};
		bench_quiet(batching->bench, wakes, then, &answer);
		take_ending(batching, &answer);
		int64_t next = bench_wakes(batching->bench);
		if (next <= wakes) {
			break;
		}
		wakes = next;
	}
}

/* Whose badge it was is not known, and a new one lets go of what stands: nothing is guessed. */
static void lose_person(struct batching *batching, const struct batch_line *line)
{
	if (batching->bench->standing != STANDS_NOTHING || batching->bench->waiting_count > 0) {
		gap_begin(batching, line);
	}
	bench_sign_off(batching->bench);
}

/* What cards are about, behind the line; `read`: a tool was, that they are about. */
static void note_sure(struct batching *batching, const struct batch_line *line,
                      enum batch_about about, bool read)
{
	bool tool = about == BATCH_ABOUT_TOOL || about == BATCH_ABOUT_CARD;
	if (line->wrong) {
		batching->unsure = tool ? line->number : batching->unsure;
	} else if (read) {
		batching->unsure = 0;
	}
}

static enum outcome drive(struct batching *batching, struct batch_line *line, const char *bytes,
                          enum batch_about about, int64_t entry)
{
	struct bench_answer answer;
	batching->batch.replay = entry != 0;
	batching->batch.known_entry = entry;
	batching->applied = false;
	size_t waiting = batching->bench->waiting_count;
	enum outcome outcome = bench_scan(batching->bench, bytes, strlen(bytes), clock_of(line->moment),
	                                  line->moment, &answer);
	if (outcome == OUTCOME_STORE) {
		return fail(batching, &answer);
	}
	line->applied = line->applied || batching->applied;
	line->known = line->known || entry != 0;
	if (entry != 0) {
		batching->unsure = 0;
		return OUTCOME_DONE;
	}
	bool wrong = line->wrong;
	line->wrong = false;
	take_answer(batching, line, &answer);
	if (line->wrong && about == BATCH_ABOUT_WHERE) {
		gap_begin(batching, line);
	} else if (line->wrong && about == BATCH_ABOUT_BADGE) {
		lose_person(batching, line);
	}
	note_sure(batching, line, about, batching->applied || batching->bench->waiting_count > waiting);
	line->wrong = line->wrong || wrong;
	return OUTCOME_DONE;
}

/* A card about a tool that was not read would be about the one before it. */
static enum outcome refuse_unsure(struct batching *batching, struct batch_line *line,
                                  const struct scan *scan)
{
	problem(batching, line,
	        arena_format(batching->each,
	                     "line %lld was not applied, and what this is about hangs on that",
	                     (long long)batching->unsure),
	        NULL);
	if (text_equal_fold(scan->code, "undo") ||
	    (scan->reading == SCAN_TAG && scan->tag.serial == ACTION_UNDO)) {
		gap_begin(batching, line); /* it may have been about what stands */
	}
	return OUTCOME_DONE;
}

static enum outcome apply_scan(struct batching *batching, struct batch_line *line,
                               const struct scan *scan, const char *bytes)
{
	enum batch_about about = batch_about(batching->store, scan);
	int64_t entry = 0;
	if (batching->gap != 0 && about == BATCH_ABOUT_DONE) {
		batching->gap = 0;
		return OUTCOME_DONE;
	}
	pass_quiet(batching, line->moment);
	if (text_equal_fold(scan->code, "quit")) {
		problem(batching, line, "quit is no scan", NULL);
		return OUTCOME_DONE;
	}
	if (about == BATCH_ABOUT_TOOL) {
		batch_note_here(batching, scan);
	}
	enum outcome outcome = batch_find_known(batching, line, scan, about, &entry);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (batching->gap != 0 && about != BATCH_ABOUT_BADGE) {
		line->known = line->known || entry != 0;
		if (entry == 0) {
			refuse_in_gap(batching, line);
		}
		return OUTCOME_DONE;
	}
	if (batching->unsure != 0 && entry == 0 && about == BATCH_ABOUT_CARD) {
		return refuse_unsure(batching, line, scan);
	}
	return drive(batching, line, bytes, about, entry);
}

/* ---------------------------------------------------------------- the moment of a line */

static enum outcome refuse_moment(const struct batching *batching, const struct batch_line *line,
                                  struct fault *fault)
{
	struct quantity_text text = moment_text(line->moment);
	if (line->moment.date) {
		fault_set(fault, OUTCOME_BAD, "moment without a time of day: %s", text.bytes);
		fault_hint(fault, "A line is like 2026-12-01T14:30:15,PC000025-1.");
	} else if (moment_compare(line->moment, batching->actor->now) > 0) {
		fault_set(fault, OUTCOME_BAD, "moment is ahead of now: %s", text.bytes);
		fault_hint(fault, "Set the clock of the handheld.");
	} else if (batching->began.known && moment_compare(line->moment, batching->began.value) < 0) {
		fault_set(fault, OUTCOME_BAD, "moment lies before all that is on record: %s", text.bytes);
		fault_hint(fault, "Set the clock of the handheld.");
	} else if (batching->latest.known && moment_compare(line->moment, batching->latest.value) < 0) {
		fault_set(fault, OUTCOME_BAD, "moment lies before that of a line above: %s", text.bytes);
		fault_hint(fault, "The clock of the handheld was set back, or the lines are not in the "
		                  "order in which they were scanned.");
	}
	return fault->outcome;
}

/* 60 s in which nothing was scanned, rightly or not: what stood no longer does. */
static void note_pause(struct batching *batching, const struct batch_line *line, bool known)
{
	int64_t quiet = clock_of(line->moment) - clock_of(batching->seen.value);
	if (known && batching->seen.known && quiet > BENCH_QUIET_MS) {
		batching->gap = 0;
	}
	batching->seen = (struct known_moment){known, line->moment};
}

static enum outcome read_moment(struct batching *batching, struct batch_line *line,
                                const char *text, struct fault *fault)
{
	enum outcome outcome = moment_parse(text, &line->moment, fault);
	note_pause(batching, line,
	           outcome == OUTCOME_DONE && !line->moment.date &&
	               moment_compare(line->moment, batching->actor->now) <= 0);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_moment(batching, line, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (!batching->latest.known || line->moment.s != batching->latest.value.s) {
		arena_reset(batching->second);
		batching->likes = NULL;
		batching->like_count = batching->like_room = 0;
	}
	batching->latest = (struct known_moment){true, line->moment};
	return outcome;
}

/* ---------------------------------------------------------------- one line */

/* A line that cannot be applied as it stands; `scans` tell what it was about. */
static void refuse_line(struct batching *batching, struct batch_line *line,
                        const struct scan *scans, size_t count, const struct fault *fault)
{
	bool where = count == 0;
	problem_of_fault(batching, line, fault);
	for (size_t i = 0; i < count; i++) {
		enum batch_about about = batch_about(batching->store, &scans[i]);
		where = where || about == BATCH_ABOUT_WHERE;
		note_sure(batching, line, about, false);
		if (about == BATCH_ABOUT_BADGE) {
			lose_person(batching, line);
		}
	}
	if (where) {
		gap_begin(batching, line);
	}
}

static enum outcome refuse_code(enum batch_read read, const struct scan *scans, size_t count,
                                struct fault *fault)
{
	if (count == 0) {
		return fault_set(fault, OUTCOME_BAD, "no code stands on the line");
	}
	if (read == BATCH_TORN && scans[count - 1].reading != SCAN_TAG) {
		fault_set(fault, OUTCOME_BAD, "line has no end, it may be cut off");
		fault_hint(fault, "Where it is whole, end it with a line break.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome take_cells(struct batching *batching, struct batch_line *line,
                               enum batch_read read, const struct batch_cells *cells)
{
	struct scan scans[SCANS_MOST];
	struct fault fault;
	fault_clear(&fault);
	line->code = cells->code;
	size_t count = scan_read(cells->code, strlen(cells->code), scans, SCANS_MOST);
	enum outcome outcome = read_moment(batching, line, cells->moment, &fault);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_code(read, scans, count, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		refuse_line(batching, line, scans, count, &fault);
		return OUTCOME_DONE;
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		/* Several are parted, so that each is a transaction and a line known of its own. */
		outcome = apply_scan(batching, line, &scans[i], count == 1 ? cells->code : scans[i].code);
	}
	batching->last_line = line->number;
	snprintf(batching->last_code, sizeof batching->last_code, "%s", cells->code);
	return outcome;
}

static void count_line(struct batch_report *out, const struct batch_line *line)
{
	out->lines++;
	if (line->applied) {
		out->applied++;
	} else if (line->known) {
		out->known++;
	} else if (!line->wrong) {
		out->quiet++;
	}
}

static bool is_heading(const struct batch_cells *cells)
{
	return text_equal_fold(cells->moment, "moment") && text_equal_fold(cells->code, "code");
}

static enum outcome take_line(struct batching *batching, enum batch_read read)
{
	struct batch_file *file = &batching->file;
	struct batch_line line = {.number = file->number, .code = ""};
	struct batch_cells cells = {.code = ""};
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = OUTCOME_DONE;
	if (file->line[0] == '#') {
		return outcome;
	}
	if (read == BATCH_LONG) {
		outcome =
			fault_set(&fault, OUTCOME_BAD, "line is longer than %d characters", BATCH_LINE_LONGEST);
	} else if (file->has_nul) {
		outcome = fault_set(&fault, OUTCOME_BAD, "line holds a NUL byte");
	} else {
		outcome = batch_cells_read(batching->each, file->line, file->length, &cells, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		batching->seen.known = false;
		refuse_line(batching, &line, NULL, 0, &fault);
		count_line(batching->out, &line);
		return OUTCOME_DONE;
	}
	bool heading = cells.moment != NULL && !batching->headed && is_heading(&cells);
	batching->headed = batching->headed || cells.moment != NULL;
	if (cells.moment == NULL || heading) {
		return OUTCOME_DONE;
	}
	outcome = take_cells(batching, &line, read, &cells);
	count_line(batching->out, &line);
	return outcome;
}

/* ---------------------------------------------------------------- the whole */

static enum outcome take_lines(struct batching *batching, const char *path)
{
	struct bench_answer answer;
	enum outcome outcome = OUTCOME_DONE;
	enum batch_read read = BATCH_END;
	while (outcome == OUTCOME_DONE) {
		arena_reset(batching->each);
		read = batch_file_next(&batching->file);
		if (read == BATCH_END || read == BATCH_FAILED) {
			break;
		}
		outcome = take_line(batching, read);
	}
	if (read == BATCH_FAILED) {
		outcome = file_refuse(path, batching->file.error, batching->fault);
	}
	if (batching->latest.known) {
		bench_finish(batching->bench, batching->latest.value, &answer);
		take_ending(batching, &answer);
	}
	if (outcome == OUTCOME_DONE && batching->out->lines == 0) {
		fault_set(batching->fault, OUTCOME_BAD, "file holds no scan: %s", path);
		fault_hint(batching->fault, "A line is like 2026-12-01T14:30:15,PC000025-1.");
		return OUTCOME_BAD;
	}
	return outcome;
}

enum outcome room_batch(struct store *store, struct arena *arena, const char *path,
                        const struct bench_asks *asks, const struct actor *actor,
                        const struct limits *limits, struct batch_report *out, struct fault *fault)
{
	struct batching *batching = arena_take(arena, 1, sizeof *batching);
	*out = (struct batch_report){
		.problems = arena_take(arena, BATCH_PROBLEMS_SHOWN, sizeof *out->problems),
		.cautions = arena_take(arena, BATCH_PROBLEMS_SHOWN, sizeof *out->cautions),
	};
	batching->store = store;
	batching->arena = arena;
	batching->actor = actor;
	batching->out = out;
	batching->fault = fault;
	enum outcome outcome = batch_file_open(&batching->file, path, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_began(store, &batching->began, fault);
	}
	if (outcome == OUTCOME_DONE) {
		batching->each = arena_new();
		batching->second = arena_new();
		batching->batch = (struct bench_batch){.recorded = actor->now,
		                                       .applied = keep_applied,
		                                       .context = batching};
		batching->bench = bench_open(store, asks, actor, limits);
		bench_set_batch(batching->bench, &batching->batch);
		outcome = take_lines(batching, path);
		bench_close(batching->bench);
		arena_free(batching->second);
		arena_free(batching->each);
	}
	batch_file_close(&batching->file);
	return outcome == OUTCOME_DONE && out->problem_count > 0 ? OUTCOME_NO : outcome;
}
