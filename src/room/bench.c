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
	bench->limits = *limits;
	bench->scratch = arena_new();
	bench->telling = arena_new();
	bench->idle_ms = idle_of(store, bench->scratch);
	name_operator(bench);
	memcpy(bench->base_who, bench->who, sizeof bench->base_who);
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

/* ---------------------------------------------------------------- quiet */

static bool stands_something(const struct bench *bench)
{
	return bench->standing != STANDS_NOTHING || bench->card != 0 || bench->last_count > 0;
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
	bench->set = bench->set == SET_STANDING ? SET_NOTHING : bench->set;
	bench->unread = false;
}

static enum outcome idle_ends(struct bench *bench)
{
	/* Of a batch only a line records something. */
	enum outcome outcome = bench_end_waiting(bench, bench->batch == NULL, false);
	if (bench->counting.id != 0) {
		bench_say(bench, BENCH_SHOWN, "the count of %s is left open: scan COUNT and %s to go on",
		          bench->counting.place_code, bench->counting.place_code);
		bench->counting.id = 0;
	}
	if (bench->who[0] != '\0') {
		bench_say(bench, BENCH_SHOWN, "quiet for %lld min: %s is signed off",
		          (long long)(bench->idle_ms / 60000), bench->who);
		bench_sign_off(bench);
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
		if (bench_scan_apply(bench, &scans[i], clock_ms) == OUTCOME_STORE) {
			break;
		}
		bench->last_ms = clock_ms;
	}
	return answer_end(bench, out);
}

enum outcome bench_finish(struct bench *bench, struct moment now, struct bench_answer *out)
{
	line_begin(bench, now);
	bench_end_waiting(bench, bench->batch == NULL, false);
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
		text_add_format(&text, ", counting %s at %s, %lld seen, %lld on record",
		                bench->counting.place_code, bench->counting.at_code,
		                (long long)bench->counting.seen, (long long)bench->counting.expected);
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
