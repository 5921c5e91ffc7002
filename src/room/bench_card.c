/* Action cards, reason cards, and what is shown. */
#include <string.h>

#include "bench.h"

const struct bench_tool *bench_meant(const struct bench *bench, size_t *count)
{
	*count = bench->waiting_count > 0 ? bench->waiting_count : bench->last_count;
	return bench->waiting_count > 0 ? bench->waiting : bench->last;
}

/* A hold is about one tool, the one scanned last; where things go and their cleaning is about all.
 */
static const struct bench_tool *tool_last(const struct bench *bench)
{
	size_t count;
	const struct bench_tool *meant = bench_meant(bench, &count);
	return count > 0 ? &meant[count - 1] : NULL;
}

static enum outcome refuse_no_tool(struct bench *bench, const char *word)
{
	return bench_refuse(bench, "Scan the tool first, then the card.",
	                    "no tool was scanned that %s could be about", word);
}

/* ---------------------------------------------------------------- what waits comes to its end */

static enum outcome send_home(struct bench *bench, const struct bench_tool *tools, size_t count)
{
	return count > 0 ? bench_put(bench, tools, count, 0) : OUTCOME_DONE;
}

static enum outcome say_left(struct bench *bench, const struct bench_tool *tools, size_t count)
{
	if (count == 0) {
		return OUTCOME_DONE;
	}
	return bench_refuse(bench, "Scan them again, then the place where they are.",
	                    "not moved, no place was scanned: %s",
	                    bench_tags(bench->scratch, tools, count));
}

/*
 * What somebody else has put on record meanwhile is not known better here; what comes late tells of
 * then.
 */
static bool still_away(struct bench *bench, const struct bench_tool *tool)
{
	struct tool_state state;
	if (bench->batch != NULL || !tool->away) {
		return tool->away;
	}
	return store_tool_state(bench->store, bench->scratch, tool->id, &state, NULL) == OUTCOME_DONE &&
	       state.place == tool->from && bench_is_away(&state);
}

enum outcome bench_end_waiting(struct bench *bench, bool home, bool stay)
{
	struct bench_tool back[BENCH_TOOLS_MOST], left[BENCH_TOOLS_MOST];
	size_t back_count = 0, left_count = 0, stay_count = 0;
	for (size_t i = 0; i < bench->waiting_count; i++) {
		const struct bench_tool *tool = &bench->waiting[i];
		if (home && still_away(bench, tool)) {
			back[back_count++] = *tool;
		} else {
			left[left_count++] = *tool;
		}
	}
	enum outcome sent = OUTCOME_DONE;
	/* A line of a batch is one transaction, so that it was applied whole or not at all. */
	size_t together = bench->batch != NULL ? back_count : 1;
	for (size_t i = 0; i < back_count; i += together) {
		enum outcome outcome = send_home(bench, &back[i], together);
		sent = outcome > sent ? outcome : sent;
		if (outcome != OUTCOME_DONE && stay) {
			bench->waiting[stay_count++] = back[i];
		} else if (outcome != OUTCOME_DONE) {
			memcpy(&left[left_count], &back[i], together * sizeof *left);
			left_count += together;
		}
	}
	bench->waiting_count = stay_count;
	enum outcome said = say_left(bench, left, left_count);
	return sent > said ? sent : said;
}

/* ---------------------------------------------------------------- each card */

static enum outcome card_home(struct bench *bench)
{
	size_t count;
	struct bench_tool tools[BENCH_TOOLS_MOST];
	const struct bench_tool *meant = bench_meant(bench, &count);
	if (count == 0) {
		return refuse_no_tool(bench, "HOME");
	}
	memcpy(tools, meant, count * sizeof *tools);
	enum outcome outcome = send_home(bench, tools, count);
	bench->waiting_count = outcome == OUTCOME_DONE ? 0 : bench->waiting_count;
	return outcome;
}

/* HOLD, SHOW and COUNT wait for what is scanned next. */
static enum outcome card_pending(struct bench *bench, enum action action)
{
	static const char *const next[] = {
		[ACTION_HOLD] = "a reason card",
		[ACTION_SHOW] = "what is to be shown",
		[ACTION_COUNT] = "the place to count",
	};
	if (action == ACTION_HOLD && tool_last(bench) == NULL) {
		return refuse_no_tool(bench, "HOLD");
	}
	if (action == ACTION_COUNT && bench->counting.id != 0) {
		return bench_refuse(bench, "Scan DONE to end that count first.", "%s is being counted",
		                    bench->counting.place_code);
	}
	if (action == ACTION_COUNT && bench->waiting_count > 0) {
		return bench_refuse(bench, "Scan the place where they go, or DONE.", "tools wait: %s",
		                    bench_tags(bench->scratch, bench->waiting, bench->waiting_count));
	}
	bench->card = action;
	bench_say(bench, BENCH_SHOWN, "%s%s%s: scan %s", action_card_find((int64_t)action)->word,
	          action == ACTION_HOLD ? " " : "", action == ACTION_HOLD ? tool_last(bench)->tag : "",
	          next[action]);
	return OUTCOME_DONE;
}

static enum outcome card_care(struct bench *bench, const char *word, const char *what)
{
	size_t count;
	const struct bench_tool *tools = bench_meant(bench, &count);
	return count > 0 ? bench_care(bench, tools, count, what) : refuse_no_tool(bench, word);
}

static enum outcome give_up_card(struct bench *bench)
{
	bench_say(bench, BENCH_SHOWN, "%s is given up", action_card_find((int64_t)bench->card)->word);
	bench->card = (enum action)0;
	return OUTCOME_DONE;
}

/*
 * What was set last and not recorded is taken away, one after another; else the last entry. Never
 * an entry while a card waits: it was scanned after that, and is about its tool.
 */
static enum outcome card_undo(struct bench *bench)
{
	enum bench_set set = bench->set;
	if (bench->card != 0) {
		return give_up_card(bench);
	}
	if (set == SET_WAITING && bench->waiting_count > 0) {
		const struct bench_tool *tool = &bench->waiting[--bench->waiting_count];
		bench_say(bench, BENCH_SHOWN, "%s  waits no longer  %s", tool->tag,
		          bench_words(bench, tool->kind, tool->id));
		return OUTCOME_DONE;
	}
	bench->set = SET_NOTHING;
	if (set == SET_STANDING && bench->standing != STANDS_NOTHING) {
		bench->standing = STANDS_NOTHING;
		bench_say(bench, BENCH_SHOWN, "%s no longer stands", bench->stands_code);
		return OUTCOME_DONE;
	}
	bench->last_count = 0;
	return bench_undo(bench);
}

static enum outcome card_yes(struct bench *bench)
{
	if (bench->counting.id == 0 || !bench->counting.asked) {
		return bench_refuse(bench, NULL, "nothing was asked that YES could answer");
	}
	return bench_count_yes(bench);
}

static enum outcome card_done(struct bench *bench)
{
	if (bench->card != 0) {
		return give_up_card(bench);
	}
	if (bench->counting.id != 0) {
		return bench_count_done(bench);
	}
	bench->last_count = 0;
	bench->unread = false;
	if (bench->waiting_count > 0) {
		return bench_end_waiting(bench, true, bench->batch == NULL);
	}
	if (bench->standing != STANDS_NOTHING) {
		bench->standing = STANDS_NOTHING;
		bench_say(bench, BENCH_SHOWN, "%s no longer stands", bench->stands_code);
		return OUTCOME_DONE;
	}
	if (bench->who[0] != '\0') {
		bench_say(bench, BENCH_SHOWN, "%s is signed off", bench->who);
		bench_sign_off(bench);
		return OUTCOME_DONE;
	}
	bench_say(bench, BENCH_SHOWN, "nothing stands and nothing waits");
	return OUTCOME_DONE;
}

static enum outcome reason_scanned(struct bench *bench, const char *reason)
{
	if (bench->card != ACTION_HOLD) {
		return bench_refuse(bench, "Scan the tool, HOLD, then the reason.",
		                    "no HOLD card was scanned before the reason: %s", reason);
	}
	bench->card = (enum action)0;
	const struct bench_tool *tool = tool_last(bench);
	return tool != NULL ? bench_hold(bench, tool, 1, reason) : refuse_no_tool(bench, "HOLD");
}

static enum outcome action_scanned(struct bench *bench, enum action action)
{
	switch (action) {
	case ACTION_HOME:
		return card_home(bench);
	case ACTION_HOLD:
	case ACTION_SHOW:
	case ACTION_COUNT:
		return card_pending(bench, action);
	case ACTION_DIRTY:
		return card_care(bench, "DIRTY", "dirty");
	case ACTION_CLEANED:
		return card_care(bench, "CLEANED", "cleaned");
	case ACTION_UNDO:
		return card_undo(bench);
	case ACTION_YES:
		return card_yes(bench);
	case ACTION_DONE:
		return card_done(bench);
	}
	return OUTCOME_DONE;
}

/* While a reason is awaited only a reason, UNDO and DONE are to the point. */
enum outcome bench_card_scanned(struct bench *bench, const struct action_card *card)
{
	if (card->reason != NULL) {
		return reason_scanned(bench, card->reason);
	}
	enum action action = (enum action)card->serial;
	if (bench->card == ACTION_HOLD && action != ACTION_UNDO && action != ACTION_DONE) {
		return bench_refuse(bench, "Scan a reason card, or DONE to hold nothing.",
		                    "a reason card is expected, not %s", card->word);
	}
	bool about_tools = action == ACTION_HOME || action == ACTION_HOLD || action == ACTION_DIRTY ||
	                   action == ACTION_CLEANED;
	if (bench->unread && about_tools) {
		return bench_refuse(bench, "Scan the tool again, then the card.",
		                    "the tool scanned before it was refused: %s is about no other",
		                    card->word);
	}
	if (bench->counting.id != 0 && about_tools) {
		return bench_refuse(bench, "Scan DONE to end the count first.",
		                    "%s is being counted, %s is for later", bench->counting.place_code,
		                    card->word);
	}
	return action_scanned(bench, action);
}

/* ---------------------------------------------------------------- what a thing is */

enum outcome bench_show(struct bench *bench, const struct found *found)
{
	struct record *record;
	struct shown shown;
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome =
		store_record_read(bench->store, bench->scratch, found->kind, found->id, &record, &fault);
	if (outcome == OUTCOME_DONE) {
		outcome = room_show(bench->store, bench->scratch, record_words(record, "tag"),
		                    bench->limits.units, actor_moment(&bench->actor), &shown, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	struct text text = text_start(bench->scratch);
	struct text known = text_start(bench->scratch);
	text_add_format(&text, "%s  %s", record_words(record, "tag"), shown.summary);
	if (shown.whereabouts != NULL) {
		text_add_format(&text, "; %s", shown.whereabouts);
	}
	for (size_t i = 0; i < shown.obstacle_count; i++) {
		text_join(&known, "; ", shown.obstacles[i]);
	}
	for (size_t i = 0; i < shown.caution_count; i++) {
		text_join(&known, "; ", shown.cautions[i]);
	}
	struct bench_line *line = bench_say(bench, BENCH_SHOWN, "%s", text.bytes);
	line->caution = known.length > 0 ? known.bytes : NULL;
	return OUTCOME_DONE;
}
