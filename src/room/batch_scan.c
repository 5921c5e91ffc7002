/*
 * One scan of a batch: whether it was applied before, what the bench says to it, and what hangs on
 * it where it is refused.
 */
#include <stdio.h>
#include <string.h>

#include "batch.h"

static void problem(struct batching *batching, struct batch_line *line, const char *sentence,
                    const char *hint)
{
	line->wrong = true;
	batch_problem_add(batching->out, batching->arena, line->number, line->code, sentence, hint);
}

void batch_refuse(struct batching *batching, struct batch_line *line, const struct fault *fault)
{
	problem(batching, line, fault->sentence, fault->hint);
}

/* ---------------------------------------------------------------- answers of the bench */

/* What was refused of itself, between lines: it belongs to the line before. */
void batch_take_ending(struct batching *batching, const struct bench_answer *answer)
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
	if (batching->latest.known) {
		bench_finish(batching->bench, batching->latest.value, &answer);
		batch_take_ending(batching, &answer);
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

/* A line was refused: what may hang on it, by what it may have been. */
void batch_lose(struct batching *batching, const struct batch_line *line, enum batch_about about)
{
	if (about == BATCH_ABOUT_WHERE || about == BATCH_ABOUT_HOME) {
		gap_begin(batching, line);
	}
	if (about == BATCH_ABOUT_BADGE) {
		lose_person(batching, line);
	}
	if (about == BATCH_ABOUT_WHERE || about == BATCH_ABOUT_TOOL) {
		batching->lost = line->number;
		batching->since_lost = 0;
	}
}

/* A card for the tool that was scanned last, or UNDO: perhaps meant for one that was refused. */
static bool is_for_the_lost(const struct batching *batching, enum batch_about about)
{
	return batching->lost != 0 && batching->since_lost == 0 &&
	       (about == BATCH_ABOUT_LAST || about == BATCH_ABOUT_UNDO || about == BATCH_ABOUT_HOME);
}

static void note_scanned(struct batching *batching, enum batch_about about, bool known)
{
	if (about == BATCH_ABOUT_UNDO) {
		batching->since_lost -= batching->since_lost > 0 ? 1 : 0;
	} else if (batching->applied || known || batching->bench->set != SET_NOTHING) {
		batching->since_lost++;
	}
}

static void refuse_for_the_lost(struct batching *batching, struct batch_line *line)
{
	problem(batching, line,
	        arena_format(batching->each, "line %lld was not applied, and this card may be for that",
	                     (long long)batching->lost),
	        NULL);
}

static void refuse_in_gap(struct batching *batching, struct batch_line *line)
{
	problem(batching, line,
	        arena_format(batching->each,
	                     "line %lld was not applied, and where this belongs hangs on that",
	                     (long long)batching->gap),
	        NULL);
}

/* ---------------------------------------------------------------- was it applied before? */

static int64_t *like_of(struct batching *batching, const char *code)
{
	for (size_t i = 0; i < batching->like_count; i++) {
		if (strcmp(batching->likes[i].code, code) == 0) {
			return &batching->likes[i].count;
		}
	}
	if (batching->like_count == batching->like_room) {
		size_t room = batching->like_room * 2 + 8;
		batching->likes = arena_grow(batching->second, batching->likes, batching->like_count, room,
		                             sizeof *batching->likes);
		batching->like_room = room;
	}
	struct batch_like *like = &batching->likes[batching->like_count++];
	like->count = 0;
	snprintf(like->code, sizeof like->code, "%s", code);
	return &like->count;
}

/*
 * Two handhelds may have scanned the same card within the same second: it is the other's where its
 * entry is about none of the tools that this one is about.
 */
static enum outcome look_whose(struct batching *batching, enum batch_about about, int64_t entry,
                               bool *ours, struct fault *fault)
{
	size_t count;
	struct batch_entry told;
	const struct bench_tool *tools = bench_meant(batching->bench, &count);
	*ours = true;
	if (about == BATCH_ABOUT_TOOL || about == BATCH_ABOUT_UNDO || count == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_batch_entry(batching->store, batching->each, entry, &told, fault);
	*ours = false;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		*ours = *ours || (tools[i].id == told.subject && tools[i].kind == told.kind);
	}
	return outcome;
}

/* The entry that the scan made before, 0 where it was not applied yet; and its key. */
static enum outcome find_known(struct batching *batching, const struct batch_line *line,
                               const struct scan *scan, enum batch_about about, int64_t *entry)
{
	int64_t *count = like_of(batching, scan->code);
	bool ours = false;
	enum outcome outcome = OUTCOME_DONE;
	do {
		batching->key =
			(struct batch_key){.happened = line->moment, .code = scan->code, .nth = ++*count};
		outcome = store_batch_find(batching->store, &batching->key, entry, batching->fault);
		if (outcome == OUTCOME_DONE && *entry != 0) {
			outcome = look_whose(batching, about, *entry, &ours, batching->fault);
		}
	} while (outcome == OUTCOME_DONE && *entry != 0 && !ours);
	return outcome;
}

/* Called by the bench in the transaction of a line. */
enum outcome batch_keep_applied(struct store *store, int64_t entry, void *context,
                                struct fault *fault)
{
	struct batching *batching = context;
	batching->applied = true;
	return store_batch_keep(store, &batching->key, entry, fault);
}

/* ---------------------------------------------------------------- one scan */

int64_t batch_clock(struct moment moment)
{
	return moment.s * 1000;
}

/* What has come to its end since the line before. */
static void pass_quiet(struct batching *batching, struct moment until)
{
	int64_t wakes = bench_wakes(batching->bench);
	while (wakes < batch_clock(until)) {
		struct bench_answer answer;
		struct moment then = {.s = wakes / 1000};
		bench_quiet(batching->bench, wakes, then, &answer);
		batch_take_ending(batching, &answer);
		int64_t next = bench_wakes(batching->bench);
		if (next <= wakes) {
			break;
		}
		wakes = next;
	}
}

static enum outcome drive(struct batching *batching, struct batch_line *line, const char *bytes,
                          enum batch_about about, int64_t entry)
{
	struct bench_answer answer;
	batching->batch.replay = entry != 0;
	batching->batch.known_entry = entry;
	batching->applied = false;
	enum outcome outcome = bench_scan(batching->bench, bytes, strlen(bytes),
	                                  batch_clock(line->moment), line->moment, &answer);
	if (outcome == OUTCOME_STORE) {
		return fail(batching, &answer);
	}
	line->applied = line->applied || batching->applied;
	line->known = line->known || entry != 0;
	bool wrong = line->wrong;
	line->wrong = false;
	if (entry == 0) {
		take_answer(batching, line, &answer);
	}
	if (line->wrong) {
		batch_lose(batching, line, about);
	} else {
		note_scanned(batching, about, entry != 0);
	}
	line->wrong = line->wrong || wrong;
	return OUTCOME_DONE;
}

enum outcome batch_scan(struct batching *batching, struct batch_line *line, const struct scan *scan,
                        const char *bytes)
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
	enum outcome outcome = find_known(batching, line, scan, about, &entry);
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
	if (entry == 0 && is_for_the_lost(batching, about)) {
		refuse_for_the_lost(batching, line);
		return OUTCOME_DONE;
	}
	return drive(batching, line, bytes, about, entry);
}
