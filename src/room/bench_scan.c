/* One scan of a line: what it names, whether it is a double, and what follows where it is refused.
 */
#include <stdio.h>
#include <string.h>

#include "batch.h"

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
		return bench_badge_scanned(bench, found);
	}
	if (found->kind->id == KIND_JOB) {
		return bench_job_scanned(bench, found);
	}
	if (found->kind->tool) {
		enum outcome outcome = bench_tool_scanned(bench, found, code);
		bench->unread = outcome != OUTCOME_DONE;
		return outcome;
	}
	return bench_place_scanned(bench, found->id);
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

/*
 * A code that nothing has may be one on record that a keyboard layout changed: `R1/3` for R1-3. It
 * is explained, never acted on.
 */
#define CODES_TYPED_MOST 64
static bool is_typed_otherwise(struct bench *bench, const char *code)
{
	char typed[CODES_TYPED_MOST][TAG_CODE_ROOM];
	size_t count = tag_codes_typed(code, typed, CODES_TYPED_MOST);
	for (size_t i = 0; i < count; i++) {
		struct found found;
		struct fault unknown;
		fault_clear(&unknown);
		if (find_scanned(bench, typed[i], &found, &unknown) == OUTCOME_DONE) {
			bench_refuse(bench, tag_layout_cure,
			             "misread, keyboard layouts of scanner and computer differ: %s may be %s",
			             code, typed[i]);
			bench->lines[bench->line_count - 1].outcome = OUTCOME_BAD;
			return true;
		}
	}
	return false;
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
	if (outcome == OUTCOME_STORE) {
		return bench_refuse_fault(bench, &fault);
	}
	if (is_typed_otherwise(bench, code)) {
		return OUTCOME_BAD;
	}
	if (bench->counting.id != 0) {
		return bench_count_unknown(bench, code);
	}
	fault.hint[0] = '\0';
	fault_hint(&fault, "Nothing on record has it, and nothing was recorded.");
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

/*
 * What has the form of a damaged tag may be a code that the shop gave itself, `DB00012`: where it
 * stands on record, sign for sign, it is that.
 */
static bool is_own_code(struct bench *bench, const struct scan *scan)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	return (scan->reading == SCAN_MISREAD || scan->reading == SCAN_DAMAGED) &&
	       find_scanned(bench, scan->code, &found, &unknown) == OUTCOME_DONE;
}

/* The last line told must not sound well where the scan was refused. */
static enum outcome doubled_say(struct bench *bench, const struct scan *scan)
{
	if (bench->code_refused && bench->batch == NULL) {
		return bench_refuse(bench, NULL, "%s  the same scan, refused before", scan->code);
	}
	bench_say(bench, BENCH_SHOWN, "%s  the same scan, counted once", scan->code);
	return OUTCOME_DONE;
}

/*
 * Behind a refused tool no card is about the one before it. A place or a job that was refused is
 * where the clerk stands now: what is scanned next does not belong to the one before.
 */
static void refused_note(struct bench *bench, const struct scan *scan)
{
	enum batch_about about = batch_about(bench->store, scan);
	bool unknown = about == BATCH_ABOUT_WHERE && scan->reading == SCAN_OTHER;
	bench->unread =
		bench->unread || about == BATCH_ABOUT_TOOL || (unknown && !bench->where_refused);
	bool where = about == BATCH_ABOUT_WHERE && (bench->where_refused || !unknown);
	if (where && bench->standing != STANDS_NOTHING) {
		bench->lines[bench->line_count - 1].caution =
			arena_format(bench->scratch, "%s no longer stands", bench->stands_code);
		bench->standing = STANDS_NOTHING;
	}
}

enum outcome bench_scan_apply(struct bench *bench, const struct scan *sent, int64_t clock_ms)
{
	enum outcome outcome = OUTCOME_DONE;
	struct scan own = *sent;
	const struct scan *scan = &own;
	own.reading = is_own_code(bench, sent) ? SCAN_OTHER : sent->reading;
	if (is_doubled(bench, scan, clock_ms)) {
		return doubled_say(bench, scan);
	}
	size_t before = bench->line_count;
	bench->where_refused = false;
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
	/* What the store could not serve was not applied: scanned again it is no double. */
	bench->code_known = bench->code_known && outcome != OUTCOME_STORE;
	bench->code_refused = false;
	for (size_t i = before; i < bench->line_count; i++) {
		bench->code_refused = bench->code_refused || bench->lines[i].tone == BENCH_REFUSED;
	}
	/* What was refused because a card waits says nothing of what was scanned. */
	if (bench->code_refused && bench->batch == NULL && bench->card == 0) {
		refused_note(bench, scan);
	}
	return outcome;
}
