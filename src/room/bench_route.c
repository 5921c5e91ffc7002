/* What one scan is for: a badge, a place, a job, a tool, a card, or nothing that is known. */
#include <stdio.h>
#include <string.h>

#include "batch.h"

/* ---------------------------------------------------------------- who scans */

/* Of a batch who brought it acts where no badge was scanned; at the bench nobody does any more. */
void bench_sign_off(struct bench *bench)
{
	bool batch = bench->batch != NULL;
	bench->actor.operator_id = batch ? bench->base.operator_id : 0;
	bench->actor.limited = batch && bench->base.limited;
	snprintf(bench->who, sizeof bench->who, "%s", batch ? bench->base_who : "");
	bench->unread = false;
	bench->told_press = false;
	bench->told_wash = false;
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
	outcome = bench->who[0] != '\0' ? bench_end_waiting(bench, true, false) : OUTCOME_DONE;
	bench->standing = bench->who[0] != '\0' ? STANDS_NOTHING : bench->standing;
	bench->card = (enum action)0;
	bench->last_count = 0;
	bench_sign_off(bench);
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

/* Of what comes late it counts whether the place was held then. */
bool bench_is_held(const struct bench *bench, const struct place_state *place)
{
	bool since = bench->actor.happened.known && place->condition_since.known &&
	             moment_compare(place->condition_since.value, bench->actor.happened.value) > 0;
	return strcmp(place->condition, "hold") == 0 && !since;
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
	if (bench_is_held(bench, place)) {
		return bench_refuse(bench, "Scan another place.", "%s is on hold%s%s", place->code,
		                    place->condition_reason != NULL ? ": " : "",
		                    place->condition_reason != NULL ? place->condition_reason : "");
	}
	return OUTCOME_DONE;
}

/* The cautions of a press or a wash, once for each who signs on: no line of every scan. */
static void handling_say(struct bench *bench, const struct place_state *place)
{
	bool press = strcmp(place->sort, "press") == 0, wash = strcmp(place->sort, "wash") == 0;
	if ((press && !bench->told_press) || (wash && !bench->told_wash)) {
		bench->lines[bench->line_count - 1].handling =
			room_handling(bench->scratch, place->sort, 1U << KIND_CYLINDER | 1U << KIND_BLADE);
		bench->told_press = bench->told_press || press;
		bench->told_wash = bench->told_wash || wash;
	}
}

static enum outcome place_stands(struct bench *bench, const struct place_state *place)
{
	if (bench->waiting_count > 0) {
		enum outcome outcome = bench_put(bench, bench->waiting, bench->waiting_count, place->id);
		bench->waiting_count = outcome == OUTCOME_DONE ? 0 : bench->waiting_count;
		bench->standing = outcome == OUTCOME_DONE ? STANDS_NOTHING : bench->standing;
		return outcome;
	}
	bench_say(bench, BENCH_SHOWN, "%s%s%s%s: tools scanned now go there", place->code,
	          place->name != NULL ? " (" : "", place->name != NULL ? place->name : "",
	          place->name != NULL ? ")" : "");
	return stand(bench, STANDS_PLACE, place->id, place->code);
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
		return bench_replay_taking(bench, "moved");
	}
	outcome = refuse_place(bench, &place);
	bench->where_refused = outcome != OUTCOME_DONE;
	outcome = outcome == OUTCOME_DONE ? place_stands(bench, &place) : outcome;
	if (outcome == OUTCOME_DONE) {
		handling_say(bench, &place);
	}
	return outcome;
}

static enum outcome refuse_job(struct bench *bench, const char *number, const char *state)
{
	bool over =
		state != NULL && (strcmp(state, "finished") == 0 || strcmp(state, "cancelled") == 0);
	/* Of what comes late each tool is judged: those of the same lines before are out already. */
	if (over && bench->batch == NULL) {
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
		return bench_replay_taking(bench, "taken");
	}
	const char *number = record_words(record, "number"), *title = record_words(record, "title");
	outcome = refuse_job(bench, number, record_words(record, "state"));
	bench->where_refused = outcome != OUTCOME_DONE;
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
			/* A hold is about the tool scanned last, which this is now. */
			struct bench_tool again = bench->waiting[i];
			memmove(&bench->waiting[i], &bench->waiting[i + 1],
			        (bench->waiting_count - 1 - i) * sizeof *bench->waiting);
			bench->waiting[bench->waiting_count - 1] = again;
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

bool bench_is_away(const struct tool_state *state)
{
	return state->taken_for != NULL ||
	       (state->place_sort != NULL && strcmp(state->place_sort, "press") == 0);
}

static enum outcome tool_goes(struct bench *bench, const struct bench_tool *tool)
{
	return bench->standing == STANDS_PLACE ? bench_put(bench, tool, 1, bench->stands)
	                                       : bench_take(bench, tool, 1, bench->stands);
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
	return bench->standing != STANDS_NOTHING ? tool_goes(bench, tool)
	                                         : wait_for_place(bench, tool, state);
}

/*
 * By its tag a tool is known well enough to be put or taken: what records it reads it anyway, and
 * the clerk waits for each look at the store.
 */
static bool goes_at_once(const struct bench *bench, const struct found *found, const char *code,
                         struct bench_tool *tool)
{
	struct tag tag;
	if (bench_replays(bench) || bench->counting.id != 0 || bench->standing == STANDS_NOTHING ||
	    tag_read(code, &tag) != TAG_READ || tag.class != found->kind->class) {
		return false;
	}
	*tool = (struct bench_tool){.id = found->id, .kind = found->kind};
	snprintf(tool->tag, sizeof tool->tag, "%s", tag_shown(tag).bytes);
	return true;
}

static enum outcome tool_scanned(struct bench *bench, const struct found *found, const char *code)
{
	struct tool_state state;
	struct bench_tool at_once;
	struct fault fault;
	fault_clear(&fault);
	if (goes_at_once(bench, found, code, &at_once)) {
		return tool_goes(bench, &at_once);
	}
	enum outcome outcome =
		store_tool_state(bench->store, bench->scratch, found->id, &state, &fault);
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
	struct bench_tool tool = {
		.id = found->id,
		.kind = found->kind,
		.from = state.place,
		.away = bench_is_away(&state),
	};
	if (bench->batch != NULL) {
		outcome = store_tool_was_away(bench->store, found->id, bench->actor.happened.value,
		                              &tool.away, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		return bench_refuse_fault(bench, &fault);
	}
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
		enum outcome outcome = tool_scanned(bench, found, code);
		bench->unread = outcome != OUTCOME_DONE;
		return outcome;
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
