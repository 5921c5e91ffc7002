/*
 * The scanning bench: what is scanned, one after another, by the rules of vocabulary.md, "The
 * scanning bench". Whoever drives it gives the clock.
 */
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"

/* ---------------------------------------------------------------- opening */

static int64_t idle_of(struct store *store, struct arena *arena)
{
	const struct setting *setting = setting_find("idle");
	struct setting_state state = {.value = setting->fallback};
	struct duration idle = {.s = 600};
	if (store_setting_read(store, arena, setting, &state, NULL) != OUTCOME_DONE ||
	    duration_parse(state.value, &idle, NULL) != OUTCOME_DONE) {
		duration_parse(setting->fallback, &idle, NULL);
	}
	return value_to_stored(
			   &(struct value){.type = VALUE_DURATION, .known = true, .duration = idle}) *
	       1000;
}

/* Who signed on, by the operator of the actor: `--as` signs on as a badge does. */
static void name_operator(struct bench *bench)
{
	struct record *record;
	bench->who[0] = '\0';
	if (bench->actor.operator_id != 0 &&
	    store_record_read(bench->store, bench->scratch, &kinds[KIND_OPERATOR],
	                      bench->actor.operator_id, &record, NULL) == OUTCOME_DONE) {
		snprintf(bench->who, sizeof bench->who, "%s", record_words(record, "name"));
	}
}

struct bench *bench_open(struct store *store, const struct bench_asks *asks,
                         const struct actor *actor, const struct limits *limits)
{
	struct bench *bench = calloc(1, sizeof *bench);
	if (bench == NULL) {
		abort();
	}
	bench->store = store;
	bench->asks = asks;
	bench->base = *actor;
	bench->actor = *actor;
	bench->limits = limits;
	bench->scratch = arena_new();
	bench->telling = arena_new();
	bench->idle_ms = idle_of(store, bench->scratch);
	name_operator(bench);
	return bench;
}

void bench_close(struct bench *bench)
{
	if (bench != NULL) {
		arena_free(bench->scratch);
		arena_free(bench->telling);
		free(bench);
	}
}

void bench_set_batch(struct bench *bench, const struct bench_batch *batch)
{
	bench->batch = batch;
}

/* ---------------------------------------------------------------- the moment of a line */

static void line_begin(struct bench *bench, struct moment now)
{
	arena_reset(bench->scratch);
	bench->lines = NULL;
	bench->line_count = 0;
	bench->line_room = 0;
	bench->actor.now = now;
	bench->actor.happened = (struct known_moment){.known = false};
	if (bench->batch != NULL) {
		bench->actor.now = bench->batch->recorded;
		bench->actor.happened = (struct known_moment){.known = true, .value = now};
	}
}

static enum outcome answer_end(struct bench *bench, struct bench_answer *out)
{
	enum outcome outcome = OUTCOME_DONE;
	*out = (struct bench_answer){bench->lines, bench->line_count, bench->leaving};
	for (size_t i = 0; i < bench->line_count; i++) {
		outcome = bench->lines[i].outcome > outcome ? bench->lines[i].outcome : outcome;
	}
	return outcome;
}

/* ---------------------------------------------------------------- who scans */

static void sign_off(struct bench *bench)
{
	bench->actor.operator_id = 0;
	bench->actor.limited = false;
	bench->who[0] = '\0';
}

static enum outcome badge_scanned(struct bench *bench, const struct found *found)
{
	struct record *record;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		store_record_read(bench->store, bench->scratch, found->kind, found->id, &record, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	const struct value *retired = record_known(record, "retired");
	const char *role = record_words(record, "role");
	if (retired != NULL && retired->yes) {
		return bench_refuse(bench, "Scan the badge of an operator who works here.",
		                    "badge is retired: %s", record_words(record, "name"));
	}
	if (bench->actor.operator_id == found->id) {
		bench_say(bench, BENCH_SHOWN, "%s is signed on already", bench->who);
		return OUTCOME_DONE;
	}
	/* What another scanned is not this one's to put somewhere. */
	outcome = bench->who[0] != '\0' ? bench_end_waiting(bench, true) : OUTCOME_DONE;
	bench->standing = bench->who[0] != '\0' ? STANDS_NOTHING : bench->standing;
	bench->card = (enum action)0;
	bench->last_count = 0;
	bench->actor.operator_id = found->id;
	bench->actor.limited = role == NULL || strcmp(role, "supervisor") != 0;
	snprintf(bench->who, sizeof bench->who, "%s", record_words(record, "name"));
	bench_say(bench, BENCH_SHOWN, "%s, %s, signed on", bench->who, role != NULL ? role : "no role");
	return outcome;
}

/* ---------------------------------------------------------------- places, jobs */

static enum outcome stand(struct bench *bench, enum bench_standing what, int64_t id,
                          const char *code)
{
	bench->standing = what;
	bench->stands = id;
	snprintf(bench->stands_code, sizeof bench->stands_code, "%s", code);
	bench->set = SET_STANDING;
	bench->last_count = 0;
	return OUTCOME_DONE;
}

/* Of a batch, known: a place or job that recorded something took what waited, and did not stand. */
static enum outcome replay_taking(struct bench *bench, const char *what)
{
	enum outcome outcome = bench_replayed(bench, bench->waiting, bench->waiting_count, what);
	memcpy(bench->last, bench->waiting, bench->waiting_count * sizeof *bench->last);
	bench->last_count = bench->waiting_count;
	bench->waiting_count = 0;
	bench->standing = STANDS_NOTHING;
	return outcome;
}

/* A place that nothing may be put at never stands: said at once, not with the first tool. */
static enum outcome refuse_place(struct bench *bench, const struct place_state *place)
{
	if (place->retired) {
		return bench_refuse(bench, "Scan a place that is in use.", "place is retired: %s",
		                    place->code);
	}
	if (strcmp(place->sort, "supplier") == 0) {
		return bench_refuse(bench,
		                    "What goes to a supplier is sent, with a reason and a date: type send.",
		                    "place is a supplier: %s", place->code);
	}
	if (strcmp(place->condition, "hold") == 0) {
		return bench_refuse(bench, "Scan another place.", "%s is on hold%s%s", place->code,
		                    place->condition_reason != NULL ? ": " : "",
		                    place->condition_reason != NULL ? place->condition_reason : "");
	}
	return OUTCOME_DONE;
}

static enum outcome place_scanned(struct bench *bench, int64_t id)
{
	struct place_state place;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = store_place_state(bench->store, bench->scratch, id, &place, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (bench->card == ACTION_COUNT) {
		bench->card = (enum action)0;
		return bench_count_begin(bench, id);
	}
	if (bench->counting.id != 0) {
		return bench_count_place(bench, id);
	}
	if (bench_replays(bench)) {
		return replay_taking(bench, "moved");
	}
	outcome = refuse_place(bench, &place);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (bench->waiting_count > 0) {
		outcome = bench_put(bench, bench->waiting, bench->waiting_count, id);
		bench->waiting_count = outcome == OUTCOME_DONE ? 0 : bench->waiting_count;
		bench->standing = outcome == OUTCOME_DONE ? STANDS_NOTHING : bench->standing;
		return outcome;
	}
	bench_say(bench, BENCH_SHOWN, "%s%s%s%s: tools scanned now go there", place.code,
	          place.name != NULL ? " (" : "", place.name != NULL ? place.name : "",
	          place.name != NULL ? ")" : "");
	return stand(bench, STANDS_PLACE, id, place.code);
}

static enum outcome refuse_job(struct bench *bench, const char *number, const char *state)
{
	if (state != NULL && (strcmp(state, "finished") == 0 || strcmp(state, "cancelled") == 0)) {
		return bench_refuse(bench, "Scan a job that is planned or running.", "job is %s: %s", state,
		                    number);
	}
	if (bench->counting.id != 0) {
		return bench_refuse(bench, "Scan DONE to end the count first.",
		                    "%s is being counted, nothing goes out for a job meanwhile",
		                    bench->counting.place_code);
	}
	return OUTCOME_DONE;
}

static enum outcome job_scanned(struct bench *bench, const struct found *found)
{
	struct record *record;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		store_record_read(bench->store, bench->scratch, found->kind, found->id, &record, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (bench_replays(bench)) {
		return replay_taking(bench, "taken");
	}
	const char *number = record_words(record, "number"), *title = record_words(record, "title");
	outcome = refuse_job(bench, number, record_words(record, "state"));
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (bench->waiting_count > 0) {
		outcome = bench_take(bench, bench->waiting, bench->waiting_count, found->id);
		bench->waiting_count = outcome == OUTCOME_DONE ? 0 : bench->waiting_count;
		bench->standing = outcome == OUTCOME_DONE ? STANDS_NOTHING : bench->standing;
		return outcome;
	}
	bench_say(bench, BENCH_SHOWN, "job %s%s%s%s: tools scanned now go out for it", number,
	          title != NULL ? " (" : "", title != NULL ? title : "", title != NULL ? ")" : "");
	return stand(bench, STANDS_JOB, found->id, number);
}

/* ---------------------------------------------------------------- tools */

static enum outcome wait_for_place(struct bench *bench, const struct bench_tool *tool,
                                   const struct tool_state *state)
{
	const char *words = bench_words(bench, tool->kind, tool->id);
	for (size_t i = 0; i < bench->waiting_count; i++) {
		if (bench->waiting[i].id == tool->id) {
			bench_say(bench, BENCH_SHOWN, "%s  waits already  %s", tool->tag, words);
			return OUTCOME_DONE;
		}
	}
	if (bench->waiting_count == BENCH_TOOLS_MOST) {
		return bench_refuse(bench, "Scan the place where they go, or DONE.",
		                    "%d tools wait already, this one does not: %s", BENCH_TOOLS_MOST,
		                    tool->tag);
	}
	bench->waiting[bench->waiting_count++] = *tool;
	bench->set = SET_WAITING;
	struct bench_line *line =
		bench_say(bench, BENCH_SHOWN, "%s  waits for its place  %s", tool->tag, words);
	if (tool->away && state->home_code != NULL) {
		line->hint =
			arena_format(bench->scratch, "Scan a place, or DONE to put it at its home, %s.",
		                 state->home_code);
	}
	if (strcmp(state->condition, "hold") == 0) {
		line->caution =
			arena_format(bench->scratch, "on hold%s%s", state->condition_reason != NULL ? ": " : "",
		                 state->condition_reason != NULL ? state->condition_reason : "");
	}
	return OUTCOME_DONE;
}

static enum outcome route_tool(struct bench *bench, const struct bench_tool *tool,
                               const struct tool_state *state)
{
	struct fault fault;
	fault_clear(&fault);
	if (bench_replays(bench)) {
		bench_replay_stands(bench);
	} else if (move_refuse_scrapped(state, &fault) != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (bench->standing == STANDS_PLACE) {
		return bench_put(bench, tool, 1, bench->stands);
	}
	if (bench->standing == STANDS_JOB) {
		return bench_take(bench, tool, 1, bench->stands);
	}
	return wait_for_place(bench, tool, state);
}

static enum outcome tool_scanned(struct bench *bench, const struct found *found)
{
	struct tool_state state;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		store_tool_state(bench->store, bench->scratch, found->id, &state, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	struct bench_tool tool = {
		.id = found->id,
		.kind = found->kind,
		.away = state.taken_for != NULL ||
	            (state.place_sort != NULL && strcmp(state.place_sort, "press") == 0),
	};
	snprintf(tool.tag, sizeof tool.tag, "%s", state.tag);
	return bench->counting.id != 0 ? bench_count_tool(bench, &tool)
	                               : route_tool(bench, &tool, &state);
}

/* ---------------------------------------------------------------- one scan */

static enum outcome refuse_pending(struct bench *bench, const char *code)
{
	return bench_refuse(bench, "Scan a reason card, or DONE to hold nothing.",
	                    "a reason card is expected, not %s", code);
}

static enum outcome record_scanned(struct bench *bench, const struct found *found, const char *code)
{
	if (bench->card == ACTION_HOLD) {
		return refuse_pending(bench, code);
	}
	if (bench->card == ACTION_SHOW) {
		bench->card = (enum action)0;
		return bench_show(bench, found);
	}
	if (bench->card == ACTION_COUNT && found->kind->id != KIND_PLACE &&
	    found->kind->id != KIND_PRESS) {
		return bench_refuse(bench, "Scan the place to count, or DONE.",
		                    "a place is expected, not %s", code);
	}
	if (found->kind->id == KIND_OPERATOR) {
		return badge_scanned(bench, found);
	}
	if (found->kind->id == KIND_JOB) {
		return job_scanned(bench, found);
	}
	if (found->kind->tool) {
		return tool_scanned(bench, found);
	}
	return place_scanned(bench, found->id);
}

/* What a tag or a code names; of a press the place that it is. */
static enum outcome find_scanned(struct bench *bench, const char *code, struct found *found,
                                 struct fault *fault)
{
	enum outcome outcome = store_find_plain(bench->store, code, REFER_NONE, found, fault);
	if (outcome == OUTCOME_DONE && found->kind->id == KIND_PRESS) {
		outcome = store_find_plain(bench->store, code, REFER_PLACE, found, fault);
	}
	return outcome;
}

static enum outcome code_scanned(struct bench *bench, const char *code)
{
	struct found found;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = find_scanned(bench, code, &found, &fault);
	if (outcome == OUTCOME_DONE) {
		return record_scanned(bench, &found, code);
	}
	if (outcome != OUTCOME_STORE && bench->counting.id != 0) {
		return bench_count_unknown(bench, code);
	}
	if (outcome != OUTCOME_STORE) {
		fault.hint[0] = '\0';
		fault_hint(&fault, "Nothing on record has it, and nothing was recorded.");
	}
	return bench_refuse_fault(bench, &fault);
}

static enum outcome tag_scanned(struct bench *bench, struct tag tag)
{
	if (tag.class != TAG_ACTION) {
		return code_scanned(bench, tag_shown(tag).bytes);
	}
	const struct action_card *card = action_card_find(tag.serial);
	if (card == NULL) {
		return bench_refuse(bench, "Print the cards anew: tag actions.",
		                    "action card not known: %s", tag_shown(tag).bytes);
	}
	return bench_card_scanned(bench, card);
}

/* A word typed by hand: that of a card, of a reason, or of leaving. */
static bool word_typed(struct bench *bench, const char *word, enum outcome *outcome)
{
	size_t count;
	const struct action_card *cards = action_cards(&count);
	const struct action_card *card = action_card_named(word);
	for (size_t i = 0; i < count && bench->card == ACTION_HOLD && card == NULL; i++) {
		if (cards[i].reason != NULL && text_equal_fold(cards[i].reason, word)) {
			card = &cards[i];
		}
	}
	if (card != NULL) {
		*outcome = bench_card_scanned(bench, card);
	} else if (text_equal_fold(word, "quit")) {
		bench->leaving = true;
	}
	return card != NULL || bench->leaving;
}

static enum outcome refuse_scan(struct bench *bench, const struct scan *scan)
{
	bench_refuse(bench, arena_copy(bench->scratch, scan->cure), "misread, %s: %s", scan->wrong,
	             scan->code);
	bench->lines[bench->line_count - 1].outcome = OUTCOME_BAD;
	return OUTCOME_BAD;
}

static bool is_undo(const struct scan *scan)
{
	return scan->reading == SCAN_TAG
	           ? scan->tag.class == TAG_ACTION && scan->tag.serial == ACTION_UNDO
	           : text_equal_fold(scan->code, "undo");
}

/*
 * The same code again within two seconds is the same scan, but for UNDO. That of a misread is not:
 * it is read again because it was not read.
 */
static bool is_doubled(struct bench *bench, const struct scan *scan, int64_t clock_ms)
{
	bool doubled = bench->code_known && strcmp(bench->code, scan->code) == 0 &&
	               clock_ms - bench->code_ms <= BENCH_DOUBLE_MS && !is_undo(scan);
	if (!doubled) {
		bench->code_known = scan->reading == SCAN_TAG || scan->reading == SCAN_OTHER;
		snprintf(bench->code, sizeof bench->code, "%s", scan->code);
		bench->code_ms = clock_ms;
	}
	return doubled;
}

static enum outcome scan_apply(struct bench *bench, const struct scan *scan, int64_t clock_ms)
{
	enum outcome outcome = OUTCOME_DONE;
	if (is_doubled(bench, scan, clock_ms)) {
		bench_say(bench, BENCH_SHOWN, "%s  the same scan, counted once", scan->code);
		return OUTCOME_DONE;
	}
	enum bench_set before = bench->set;
	/* Only UNDO looks back at what the scan before it set. */
	bench->set = is_undo(scan) ? before : SET_NOTHING;
	switch (scan->reading) {
	case SCAN_TAG:
		outcome = tag_scanned(bench, scan->tag);
		break;
	case SCAN_OTHER:
		if (!word_typed(bench, scan->code, &outcome)) {
			outcome = code_scanned(bench, scan->code);
		}
		break;
	case SCAN_MISREAD:
	case SCAN_DAMAGED:
		outcome = refuse_scan(bench, scan);
		break;
	case SCAN_NOTHING:
		break;
	}
	return outcome;
}

/* ---------------------------------------------------------------- quiet */

static bool stands_something(const struct bench *bench)
{
	return bench->standing != STANDS_NOTHING || bench->card != 0 || bench->last_count > 0 ||
	       bench->counting.asked;
}

static bool someone_here(const struct bench *bench)
{
	return bench->who[0] != '\0' || bench->waiting_count > 0 || bench->counting.id != 0;
}

int64_t bench_wakes(const struct bench *bench)
{
	if (stands_something(bench)) {
		return bench->last_ms + (bench->idle_ms < BENCH_QUIET_MS ? bench->idle_ms : BENCH_QUIET_MS);
	}
	return someone_here(bench) ? bench->last_ms + bench->idle_ms : INT64_MAX;
}

static void quiet_ends(struct bench *bench)
{
	static const char *const what[] = {"", "", "no tool goes out for it any more"};
	if (bench->standing == STANDS_PLACE) {
		bench_say(bench, BENCH_SHOWN, "60 s of quiet: %s no longer stands", bench->stands_code);
	} else if (bench->standing == STANDS_JOB) {
		bench_say(bench, BENCH_SHOWN, "60 s of quiet: job %s no longer stands, %s",
		          bench->stands_code, what[STANDS_JOB]);
	} else if (bench->card != 0) {
		bench_say(bench, BENCH_SHOWN, "60 s of quiet: the %s card counts no longer",
		          action_card_find((int64_t)bench->card)->word);
	}
	bench->standing = STANDS_NOTHING;
	bench->card = (enum action)0;
	bench->last_count = 0;
	bench->set = SET_NOTHING;
	bench->counting.asked = false;
}

static enum outcome idle_ends(struct bench *bench)
{
	/* Of a batch only a line records something. */
	enum outcome outcome = bench_end_waiting(bench, bench->batch == NULL);
	if (bench->counting.id != 0) {
		bench_say(bench, BENCH_SHOWN, "the count of %s is left open: scan COUNT and %s to go on",
		          bench->counting.place_code, bench->counting.place_code);
		bench->counting.id = 0;
	}
	if (bench->who[0] != '\0') {
		bench_say(bench, BENCH_SHOWN, "quiet for %lld min: %s is signed off",
		          (long long)(bench->idle_ms / 60000), bench->who);
		sign_off(bench);
	}
	return outcome;
}

/* What has come to its end by now, whoever is told. */
static void quiet_pass(struct bench *bench, int64_t clock_ms)
{
	if (stands_something(bench) && clock_ms - bench->last_ms > BENCH_QUIET_MS) {
		quiet_ends(bench);
	}
	if (someone_here(bench) && clock_ms - bench->last_ms > bench->idle_ms) {
		quiet_ends(bench);
		idle_ends(bench);
	}
}

enum outcome bench_quiet(struct bench *bench, int64_t clock_ms, struct moment now,
                         struct bench_answer *out)
{
	line_begin(bench, now);
	/* It is called at the very moment. */
	quiet_pass(bench, clock_ms + 1);
	return answer_end(bench, out);
}

/* ---------------------------------------------------------------- lines */

enum outcome bench_scan(struct bench *bench, const char *bytes, size_t length, int64_t clock_ms,
                        struct moment now, struct bench_answer *out)
{
	struct scan scans[SCANS_MOST];
	line_begin(bench, now);
	size_t count = scan_read(bytes, length, scans, SCANS_MOST);
	quiet_pass(bench, clock_ms);
	for (size_t i = 0; i < count && !bench->leaving; i++) {
		if (scan_apply(bench, &scans[i], clock_ms) == OUTCOME_STORE) {
			break;
		}
		bench->last_ms = clock_ms;
	}
	return answer_end(bench, out);
}

enum outcome bench_finish(struct bench *bench, struct moment now, struct bench_answer *out)
{
	line_begin(bench, now);
	bench_end_waiting(bench, bench->batch == NULL);
	bench->standing = STANDS_NOTHING;
	bench->card = (enum action)0;
	bench->last_count = 0;
	return answer_end(bench, out);
}

enum outcome bench_count(struct bench *bench, const char *place, int64_t clock_ms,
                         struct moment now, struct bench_answer *out)
{
	struct found found;
	struct fault fault;
	fault_clear(&fault);
	line_begin(bench, now);
	bench->last_ms = clock_ms;
	if (store_find(bench->store, place, REFER_PLACE, &found, &fault) != OUTCOME_DONE) {
		bench_refuse_fault(bench, &fault);
	} else {
		bench_count_begin(bench, found.id);
	}
	return answer_end(bench, out);
}

/* ---------------------------------------------------------------- the prompt */

const char *bench_prompt(const struct bench *bench)
{
	arena_reset(bench->telling);
	struct text text = text_start(bench->telling);
	text_add(&text, bench->who[0] != '\0' ? bench->who : "no badge");
	if (bench->counting.id != 0) {
		text_add_format(&text, ", counting %s at %s, %lld seen of %lld", bench->counting.place_code,
		                bench->counting.at_code, (long long)bench->counting.seen,
		                (long long)bench->counting.expected);
	} else if (bench->standing == STANDS_PLACE) {
		text_add_format(&text, ", to %s", bench->stands_code);
	} else if (bench->standing == STANDS_JOB) {
		text_add_format(&text, ", for job %s", bench->stands_code);
	}
	if (bench->waiting_count > 0) {
		text_add_format(&text, ", %zu %s: ", bench->waiting_count,
		                bench->waiting_count == 1 ? "waits" : "wait");
		size_t told = bench->waiting_count < 2 ? bench->waiting_count : 2;
		text_add(&text, bench_tags(bench->telling, bench->waiting, told));
		text_add(&text, told < bench->waiting_count ? " ..." : "");
	}
	if (bench->card != 0) {
		text_add_format(&text, ", %s", action_card_find((int64_t)bench->card)->word);
	}
	if (bench->counting.asked) {
		text_add(&text, ", YES to put it right");
	}
	return text.bytes;
}
