/* Web that tools ran: it reaches them by a finish, is told, is taken back, and is proven. */
#include "promises.h"

#define M INT64_C(1000000000)

static struct length metres(int64_t count)
{
	return length_from_nm(count * M);
}

/* Finishes a job that runs, its web reaching those tools. */
static void finish_after(struct shop *shop, int64_t job, struct length length, const char *by,
                         const int64_t *tools, size_t count)
{
	const struct run_end end = {.length = {true, length}, .by = by};
	begin(shop);
	assert_int_equal(store_job_finish(shop->store, shop->arena, job, &end, &shop->actor,
	                                  &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_run_reaches(shop->store, job, length, by, tools, count, &shop->actor,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	commit(shop);
}

static void run_job(struct shop *shop, int64_t job, int64_t press, int64_t length,
                    const int64_t *tools, size_t count)
{
	correct(shop, KIND_JOB, job, "state", "planned");
	start(shop, job, press);
	finish_after(shop, job, metres(length), "given", tools, count);
}

/* The run of a tool in metres; -1: not known. */
static int64_t run_of(struct shop *shop, int64_t tool)
{
	return shop_number(shop,
	                   arena_format(shop->arena,
	                                "SELECT COALESCE(run / %lld, -1) FROM tool WHERE id = %lld",
	                                (long long)M, (long long)tool));
}

static size_t runs_of(struct shop *shop, int64_t tool, struct web_run **out)
{
	size_t count;
	assert_int_equal(store_web_runs(shop->store, shop->arena, tool, out, &count, &shop->fault),
	                 OUTCOME_DONE);
	return count;
}

static int64_t add_blade(struct shop *shop, const char *run)
{
	return shop_add(shop, KIND_BLADE, WORDS("length", "330mm", "run", run))->id;
}

/* ---------------------------------------------------------------- it reaches its tools */

static void store_run_reaches__tools__each_run_grows(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t tools[] = {add_blade(shop, "100m"), add_gear(shop)};
	struct web_run *runs;
	start(shop, job, press);
	finish_after(shop, job, metres(50), "quantity", tools, 2);
	assert_string_equal(last_word(shop), "finish on P1, 50m by its quantity");
	assert_int_equal(run_of(shop, tools[0]), 150);
	assert_int_equal(run_of(shop, tools[1]), 50); /* not known before: counted from there */
	assert_int_equal(runs_of(shop, tools[0], &runs), 1);
	assert_string_equal(runs[0].job, "J1");
	assert_string_equal(runs[0].press, "P1");
	assert_int_equal(length_to_nm(runs[0].length), 50 * M);
	assert_int_equal(moment_compare(runs[0].moment, shop->actor.now), 0);
	struct known_length ran;
	const char *by;
	assert_int_equal(store_ran_of_job(shop->store, shop->arena, job, &ran, &by, &shop->fault),
	                 OUTCOME_DONE);
	assert_true(ran.known && length_to_nm(ran.value) == 50 * M);
	assert_string_equal(by, "quantity");
}

static void store_run_reaches__nothing_ran__kept_with_the_run_alone(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t gear = add_gear(shop);
	struct web_run *runs;
	start(shop, job, press);
	finish_after(shop, job, metres(0), "given", &gear, 1);
	assert_string_equal(last_word(shop), "finish on P1, 0m");
	assert_int_equal(run_of(shop, gear), -1);
	assert_int_equal(runs_of(shop, gear, &runs), 0);
	assert_int_equal(shop_number(shop, "SELECT length FROM job_run"), 0);
}

static void store_run_reaches__more_than_a_run_holds__refused_by_tag(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t blade = add_blade(shop, "9223372036m");
	const struct run_end end = {.length = {true, metres(1)}, .by = "given"};
	start(shop, job, press);
	begin(shop);
	assert_int_equal(store_job_finish(shop->store, shop->arena, job, &end, &shop->actor,
	                                  &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_run_reaches(shop->store, job, metres(1), "given", &blade, 1,
	                                   &shop->actor, &shop->fault),
	                 OUTCOME_BAD);
	assert_string_equal(shop->fault.sentence, "length is more than a tool's run holds: DB000001-I");
	store_rollback(shop->store);
}

/* Of a job that runs by its state alone, on a press that is known, or on none. */
static void store_run_reaches__by_state_alone__press_as_far_as_known(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t jobs[] = {add_job(shop, "J1", "P1"), add_job(shop, "J2", "P1")};
	struct web_run *runs;
	for (size_t i = 0; i < COUNT_OF(jobs); i++) {
		const struct run_end end = {.press = i == 0 ? press : 0,
		                            .length = {true, metres(7)},
		                            .by = "given"};
		correct(shop, KIND_JOB, jobs[i], "state", "running");
		begin(shop);
		assert_int_equal(store_job_finish(shop->store, shop->arena, jobs[i], &end, &shop->actor,
		                                  &shop->fault),
		                 OUTCOME_DONE);
		assert_int_equal(store_run_reaches(shop->store, jobs[i], metres(7), "given", &gear, 1,
		                                   &shop->actor, &shop->fault),
		                 OUTCOME_DONE);
		commit(shop);
		assert_string_equal(last_word(shop), i == 0 ? "finish on P1, 7m" : "finish 7m");
	}
	assert_int_equal(runs_of(shop, gear, &runs), 2);
	assert_string_equal(runs[0].job, "J1");
	assert_string_equal(runs[0].press, "P1");
	assert_string_equal(runs[1].job, "J2");
	assert_null(runs[1].press);
	assert_int_equal(take_back(shop, true), OUTCOME_DONE);
	assert_int_equal(run_of(shop, gear), 7);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM job_run"), 1);
}

static void store_web_runs__a_life_that_begins__has_run_nothing(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t gear = add_gear(shop);
	struct moment first = shop->actor.now;
	struct web_run *runs;
	start(shop, job, press);
	finish_after(shop, job, metres(5), "given", &gear, 1);
	shop->actor.now = moment_add(first, (struct duration){.s = 60});
	run_job(shop, job, press, 8, &gear, 1);
	assert_int_equal(runs_of(shop, gear, &runs), 2);
	assert_int_equal(length_to_nm(runs[0].length), 5 * M);
	/* A life that begins has run nothing yet. */
	assert_int_equal(shop_run(shop, "UPDATE tool SET life = life + 1, run = 0"), SQLITE_OK);
	assert_int_equal(runs_of(shop, gear, &runs), 0);
}

/* ---------------------------------------------------------------- told */

struct heard {
	struct shop *shop;
	struct text text;
};

static void hear(const struct history_row *row, void *context)
{
	struct heard *heard = context;
	text_join(&heard->text, "; ", row->entry.word);
	text_add_format(&heard->text, " %s", row->entry.job != NULL ? row->entry.job : "-");
	assert_null(row->of);
}

static void store_history__tool_that_ran__tells_the_job(void **state)
{
	struct shop *shop = *state;
	struct heard heard = {shop, text_start(shop->arena)};
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t gear = add_gear(shop);
	struct ledger_entry *entries;
	size_t count;
	start(shop, job, press);
	finish_after(shop, job, metres(5), "given", &gear, 1);
	assert_int_equal(store_history(shop->store, &kinds[KIND_GEAR], gear, hear, &heard,
	                               &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(heard.text.bytes, "new -; finish J1");
	assert_int_equal(store_ledger_of(shop->store, shop->arena, &kinds[KIND_GEAR], gear, 9, &entries,
	                                 &count, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(count, 2);
	assert_string_equal(entries[0].word, "finish");
	assert_string_equal(entries[0].job, "J1");
	assert_string_equal(entries[0].detail, "on P1, 5m");
	int64_t about;
	assert_int_equal(store_entry_about(shop->store, 0, &kinds[KIND_GEAR], gear, &about,
	                                   &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(about, entries[0].number);
}

/* ---------------------------------------------------------------- taken back */

static void store_undo_run__not_known_before__not_known_again(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), gear = add_gear(shop);
	int64_t one = add_job(shop, "J1", "P1"), two = add_job(shop, "J2", "P1");
	start(shop, one, press);
	finish_after(shop, one, metres(5), "given", &gear, 1);
	shop->actor.terminal = "pts/4";
	start(shop, two, press);
	finish_after(shop, two, metres(8), "given", &gear, 1);
	shop->actor.terminal = "pts/3";
	assert_int_equal(take_back(shop, true), OUTCOME_DONE);
	assert_int_equal(run_of(shop, gear), 8);
	assert_int_equal(shop_number(shop, "SELECT length IS NULL AND length_by IS NULL FROM job_run"
	                                   " WHERE finished IS NULL"),
	                 1);
	correct(shop, KIND_JOB, one, "state", "planned"); /* so that the press is free again */
	shop->actor.terminal = "pts/4";
	assert_int_equal(take_back(shop, true), OUTCOME_DONE);
	assert_int_equal(run_of(shop, gear), -1);
	assert_int_equal(shop_number(shop, "SELECT count(*) FROM web_run"), 0);
}

static void store_undo_run__run_told_since__refused_by_tag(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t blade = add_blade(shop, "100m");
	start(shop, job, press);
	finish_after(shop, job, metres(5), "given", &blade, 1);
	shop->actor.terminal = "pts/4";
	correct(shop, KIND_BLADE, blade, "life", "1000m"); /* how long it lasts tells nothing of it */
	correct(shop, KIND_BLADE, blade, "run", "90m");
	shop->actor.terminal = "pts/3";
	assert_int_equal(take_back(shop, true), OUTCOME_NO);
	assert_string_equal(shop->fault.sentence,
	                    "finish is not taken back, the run of DB000001-I has changed since:"
	                    " changed, run 105m -> 90m, by clerk, 2026-12-01T08:00");
	assert_int_equal(run_of(shop, blade), 90);
}

static void store_undo_since__run_corrected_then_ran__that_is_since(void **state)
{
	struct shop *shop = *state;
	int64_t press = add_press(shop, "P1"), job = add_job(shop, "J1", "P1");
	int64_t blade = add_blade(shop, "100m");
	struct undo_entry entry;
	struct ledger_entry later;
	start(shop, job, press);
	shop->actor.terminal = "pts/4";
	correct(shop, KIND_BLADE, blade, "run", "90m");
	shop->actor.terminal = "pts/3";
	finish_after(shop, job, metres(5), "given", &blade, 1);
	shop->actor.terminal = "pts/4";
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_since(shop->store, shop->arena, &entry, &later, &shop->fault),
	                 OUTCOME_DONE);
	assert_string_equal(later.word, "finish");
	assert_string_equal(later.job, "J1");
	/* What tells nothing of its run is taken back whatever ran. */
	correct(shop, KIND_BLADE, blade, "life", "1000m");
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(store_undo_since(shop->store, shop->arena, &entry, &later, &shop->fault),
	                 OUTCOME_DONE);
	assert_int_equal(later.number, 0);
}

/* ---------------------------------------------------------------- whatever is done */

#define TOOLS 3
#define JOBS 3
#define STEPS 60
#define EVENTS (2 * STEPS)
#define NOT_KNOWN (-1)

/* What the run of tools must follow from: corrections, and runs that still stand. */
struct event {
	int64_t entry;
	bool stands;
	bool told;      /* else it ran */
	int64_t tool;   /* told: which, by index */
	int64_t metres; /* or NOT_KNOWN */
	bool ran[TOOLS];
};
struct play {
	struct shop *shop;
	uint64_t dice;
	int64_t tools[TOOLS], jobs[JOBS], presses[JOBS];
	bool running[JOBS];
	struct event events[EVENTS];
	size_t count;
	int finished, taken, refused;
};

static int64_t roll(struct play *play, int64_t sides)
{
	play->dice = play->dice * 6364136223846793005u + 1442695040888963407u;
	return (int64_t)((play->dice >> 33) % (uint64_t)sides);
}

static int64_t expected(const struct play *play, int64_t tool)
{
	int64_t run = NOT_KNOWN;
	for (size_t i = 0; i < play->count; i++) {
		const struct event *event = &play->events[i];
		if (event->stands && event->told && event->tool == tool) {
			run = event->metres;
		} else if (event->stands && !event->told && event->ran[tool]) {
			run = (run == NOT_KNOWN ? 0 : run) + event->metres;
		}
	}
	return run;
}

static struct event *event_add(struct play *play)
{
	struct event *event = &play->events[play->count++];
	*event = (struct event){.entry = store_last_entry(play->shop->store), .stands = true};
	return event;
}

static void play_job(struct play *play, int64_t job)
{
	struct shop *shop = play->shop;
	int64_t tools[TOOLS], length = 1 + roll(play, 900);
	bool ran[TOOLS];
	size_t count = 0;
	if (!play->running[job]) {
		if (shop_number(shop, arena_format(shop->arena,
		                                   "SELECT state <> 'planned' FROM job WHERE id = %lld",
		                                   (long long)play->jobs[job])) != 0) {
			correct(shop, KIND_JOB, play->jobs[job], "state", "planned");
		}
		start(shop, play->jobs[job], play->presses[job]);
		play->running[job] = true;
		return;
	}
	for (int64_t i = 0; i < TOOLS; i++) {
		ran[i] = roll(play, 2) == 0;
		if (ran[i]) {
			tools[count++] = play->tools[i];
		}
	}
	finish_after(shop, play->jobs[job], metres(length), "given", tools, count);
	struct event *event = event_add(play);
	event->metres = length;
	memcpy(event->ran, ran, sizeof ran);
	play->running[job] = false;
	play->finished++;
}

static void play_correction(struct play *play)
{
	int64_t tool = roll(play, TOOLS), length = roll(play, 4) == 0 ? NOT_KNOWN : 1 + roll(play, 900);
	if (expected(play, tool) == length) {
		return;
	}
	correct(play->shop, KIND_GEAR, play->tools[tool], "run",
	        length == NOT_KNOWN ? "" : arena_format(play->shop->arena, "%lldm", (long long)length));
	struct event *event = event_add(play);
	event->told = true;
	event->tool = tool;
	event->metres = length;
}

static enum outcome take_entry_back(struct shop *shop, const struct undo_entry *entry)
{
	struct record *record;
	if (strcmp(entry->word, "changed") != 0) {
		return store_undo_run(shop->store, shop->arena, entry, &shop->actor, &shop->fault);
	}
	enum outcome outcome = store_undo_read(shop->store, shop->arena, entry, &record, &shop->fault);
	return outcome == OUTCOME_DONE ? store_undo_change(shop->store, shop->arena, entry, record,
	                                                   &shop->actor, &shop->fault)
	                               : outcome;
}

/* Which jobs run by now is read anew: what was taken back says it. */
static void note_taken(struct play *play, int64_t entry)
{
	for (size_t i = 0; i < play->count; i++) {
		if (play->events[i].entry == entry) {
			play->events[i].stands = false;
			play->taken++;
		}
	}
	for (int64_t i = 0; i < JOBS; i++) {
		play->running[i] =
			shop_number(play->shop,
		                arena_format(play->shop->arena,
		                             "SELECT state = 'running' FROM job WHERE id = %lld",
		                             (long long)play->jobs[i])) != 0;
	}
}

static void play_undo(struct play *play)
{
	struct shop *shop = play->shop;
	struct undo_entry entry;
	struct ledger_entry later = {.number = 0};
	begin(shop);
	assert_int_equal(store_undo_find(shop->store, shop->arena, &shop->actor, &entry, &shop->fault),
	                 OUTCOME_DONE);
	enum outcome outcome = OUTCOME_NO;
	if (entry.number != 0 && strcmp(entry.word, "new") != 0) {
		assert_int_equal(store_undo_since(shop->store, shop->arena, &entry, &later, &shop->fault),
		                 OUTCOME_DONE);
		outcome = later.number == 0 ? take_entry_back(shop, &entry) : OUTCOME_NO;
	}
	if (outcome == OUTCOME_DONE) {
		commit(shop);
		note_taken(play, entry.number);
	} else {
		assert_int_equal(outcome, OUTCOME_NO);
		store_rollback(shop->store);
		play->refused++;
	}
}

static void play_shop(struct play *play)
{
	static const char *const terminals[] = {"pts/1", "pts/2", "pts/3"};
	static const char *const codes[] = {"P1", "P2", "P3"}, *const numbers[] = {"J1", "J2", "J3"};
	struct shop *shop = play->shop;
	struct proof proof;
	for (int i = 0; i < JOBS; i++) {
		play->presses[i] = add_press(shop, codes[i]);
		play->jobs[i] = add_job(shop, numbers[i], codes[i]);
	}
	for (int i = 0; i < TOOLS; i++) {
		play->tools[i] = add_gear(shop);
	}
	for (int step = 0; step < STEPS; step++) {
		int64_t what = roll(play, 8);
		shop->actor.terminal = terminals[roll(play, 3)];
		if (what < 4) {
			play_job(play, roll(play, JOBS));
		} else if (what == 4) {
			play_correction(play);
		} else {
			play_undo(play);
		}
		for (int i = 0; i < TOOLS; i++) {
			assert_int_equal(run_of(shop, play->tools[i]), expected(play, i));
		}
	}
	enum outcome whole = store_verify(shop->store, shop->arena, NULL, &proof, &shop->fault);
	assert_string_equal(proof.damages_kept > 0 ? proof.damages[0].text : "", "");
	assert_int_equal(whole, OUTCOME_DONE);
}

static void store_run__whatever_is_done__is_what_stands(void **state)
{
	int finished = 0, taken = 0, refused = 0;
	(void)state;
	for (uint64_t seed = 1; seed <= 12; seed++) {
		void *own = NULL;
		assert_int_equal(shop_set_up(&own), 0);
		struct play play = {.shop = own, .dice = seed};
		play_shop(&play);
		finished += play.finished;
		taken += play.taken;
		refused += play.refused;
		assert_int_equal(shop_tear_down(&own), 0);
	}
	/* All of it did happen. */
	assert_true(finished > 100 && taken > 25 && refused > 5);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_run_reaches__tools__each_run_grows),
		SHOP_TEST(store_run_reaches__nothing_ran__kept_with_the_run_alone),
		SHOP_TEST(store_run_reaches__more_than_a_run_holds__refused_by_tag),
		SHOP_TEST(store_run_reaches__by_state_alone__press_as_far_as_known),
		SHOP_TEST(store_web_runs__a_life_that_begins__has_run_nothing),
		SHOP_TEST(store_history__tool_that_ran__tells_the_job),
		SHOP_TEST(store_undo_run__not_known_before__not_known_again),
		SHOP_TEST(store_undo_run__run_told_since__refused_by_tag),
		SHOP_TEST(store_undo_since__run_corrected_then_ran__that_is_since),
		cmocka_unit_test(store_run__whatever_is_done__is_what_stands),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
