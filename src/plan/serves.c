/*
 * Would a tool that is scanned out for a job serve it? Needs are covered by the tools out for the
 * job, each covering one; it serves where with it one need more is covered.
 */
#include <string.h>

#include "serves.h"
#include "words.h"

/* ---------------------------------------------------------------- what is covered */

/* Needs that the tools out cover, of all groups. */
static size_t covered_by_out(const struct question *question, const struct hand *hand)
{
	size_t sum = 0;
	for (size_t i = 0; i < GROUPS; i++) {
		struct cover cover = cover_of(question, hand, serving_rules[i]);
		bool asked = serving_rules[i] == hand->rules;
		size_t items = cover.items - (asked && !hand->companion ? 1 : 0);
		size_t companions = cover.companions - (asked && hand->companion ? 1 : 0);
		sum += cover_items(question->arena, &cover, items, NULL);
		sum += companions == 0 ? 0
		                       : cover_companions(question->arena, &cover, items, companions, NULL);
	}
	return sum;
}

/* Does the tool asked about cover one need more on this way? Its group is judged by then. */
static bool serves_on(const struct way *way, const struct hand *hand)
{
	struct arena *arena = way->question.arena;
	const struct cover *cover = &way->cover;
	if (hand->companion) {
		return cover_companions(arena, cover, cover->items, cover->companions, NULL) >
		       cover_companions(arena, cover, cover->items, cover->companions - 1, NULL);
	}
	return cover_items(arena, cover, cover->items, NULL) >
	       cover_items(arena, cover, cover->items - 1, NULL);
}

/* Of several ways the tools out tell which are meant: those on which they cover most. */
static void ways_judge(const struct hand *hand, struct way *ways, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		ways[i].covered = count > 1 ? covered_by_out(&ways[i].question, hand) : 0;
	}
	size_t most = 0;
	for (size_t i = 0; i < count; i++) {
		most = ways[i].covered > most ? ways[i].covered : most;
	}
	for (size_t i = 0; i < count; i++) {
		ways[i].meant = ways[i].covered == most;
		if (ways[i].meant) {
			ways[i].cover = cover_of(&ways[i].question, hand, hand->rules);
			ways[i].serves = serves_on(&ways[i], hand);
		}
	}
}

/* ---------------------------------------------------------------- what it serves */

/* The rows that an item could cover beside all that is covered without it. */
static size_t rows_of_item(struct arena *arena, const struct cover *cover, uint8_t *rows_open)
{
	size_t asked = cover->items - 1, count = 0;
	size_t before = cover_items(arena, cover, asked, NULL);
	struct cover at = *cover;
	at.item_ok = arena_take(arena, cover->items * cover->rows, 1);
	for (size_t row = 0; row < cover->rows; row++) {
		memcpy(at.item_ok, cover->item_ok, cover->items * cover->rows);
		for (size_t other = 0; other < cover->rows; other++) {
			at.item_ok[asked * cover->rows + other] &= other == row;
		}
		rows_open[row] = cover_items(arena, &at, cover->items, NULL) > before;
		count += rows_open[row];
	}
	return count;
}

/*
 * The rows that a companion could cover as the others stand: its row in the covering, and those
 * that would take it with what lies there, or could lie there.
 */
static size_t rows_of_companion(struct arena *arena, const struct cover *cover, uint8_t *rows_open)
{
	struct assigned with, without;
	size_t asked = cover->companions - 1, count = 0;
	cover_companions(arena, cover, cover->items, cover->companions, &with);
	cover_companions(arena, cover, cover->items, asked, &without);
	for (size_t row = 0; row < cover->rows; row++) {
		size_t lies = without.item[row];
		bool in_hand = lies != ASSIGNED_NONE && lies < cover->items;
		bool open = with.companion[row] == asked;
		for (size_t item = 0; item < cover->all_items && !open; item++) {
			open = without.companion[row] == ASSIGNED_NONE &&
			       (in_hand ? item == lies : item >= cover->items) &&
			       cover->item_ok[item * cover->rows + row] &&
			       cover->companion_ok[item * cover->companions + asked];
		}
		rows_open[row] = open;
		count += open;
	}
	return count;
}

/* `cylinder at station 3, Cyan`; `blade, stations 1, 2, 3`; `die for cut 1, kiss` */
static void say_need(const struct way *way, const struct hand *hand, const uint8_t *rows,
                     size_t count, struct text *text, struct served *out)
{
	const struct question *question = &way->question;
	const char *where = hand->rules->rows_are_cuts ? "cut" : "station";
	bool first = true;
	text_add(text, words_of_kind(hand->kind));
	for (size_t row = 0; row < hand->rules->row_count(question); row++) {
		if (!rows[row]) {
			continue;
		}
		int64_t number = hand->rules->row_number(question, row);
		const char *before = count == 1 ? (hand->rules->rows_are_cuts ? " for " : " at ") : ", ";
		text_add(text, before);
		if (first) {
			text_add_format(text, "%s%s ", where, count == 1 ? "" : "s");
		}
		text_add_format(text, "%lld", (long long)number);
		const char *ink =
			hand->rules->rows_are_cuts ? question->cuts[row].kind : question->printing[row].ink;
		if (count == 1 && ink != NULL) {
			text_add_format(text, ", %s", ink);
		}
		if (count == 1) {
			*(hand->rules->rows_are_cuts ? &out->cut : &out->station) = number;
		}
		first = false;
	}
}

/* What is to be known of a tool though it serves: the doubts of the row where there are fewest. */
static const char *doubts_of(const struct way *way, const struct hand *hand, const uint8_t *rows)
{
	const struct cover *cover = &way->cover;
	const struct question *question = &way->question;
	struct text text = text_start(question->arena);
	enum suits best = SUITS_NOT;
	size_t asked = (hand->companion ? cover->companions : cover->items) - 1;
	for (size_t i = 0; i < (hand->companion ? cover->all_items : cover->rows); i++) {
		struct remarks remarks = {.count = 0};
		if (hand->companion ? !cover->companion_ok[i * cover->companions + asked] : !rows[i]) {
			continue;
		}
		enum suits level = hand->companion
		                       ? group_companion_remarks(question, hand->rules, i, asked, &remarks)
		                       : group_item_remarks(question, hand->rules, i, asked, &remarks);
		if (level >= best) {
			continue;
		}
		best = level;
		text = text_start(question->arena);
		for (size_t j = 0; j < remarks.count; j++) {
			if (remarks.items[j].level == SUITS_DOUBTFUL) {
				text_join(&text, "; ", remarks.items[j].text);
			}
		}
	}
	return text.length > 0 ? text.bytes : NULL;
}

/* Does it serve on the press of that way, at whatever repeat? */
static bool serves_press(const struct way *ways, size_t count, const struct way *of)
{
	for (size_t i = 0; i < count; i++) {
		if (ways[i].serves && ways[i].question.press->press.id == of->question.press->press.id) {
			return true;
		}
	}
	return false;
}

static size_t rows_open(const struct way *way, const struct hand *hand, uint8_t **rows)
{
	struct arena *arena = way->question.arena;
	*rows = arena_take(arena, way->cover.rows, 1);
	return hand->companion ? rows_of_companion(arena, &way->cover, *rows)
	                       : rows_of_item(arena, &way->cover, *rows);
}

#define LACKS_MOST 2 /* one line at a bench */

/*
 * What the check says against the press itself wherever the tool could serve on it: retired, or
 * every such station held, not there, of another process. NULL: nothing.
 */
static const char *press_lacks(const struct way *way, const struct hand *hand)
{
	const struct question *question = &way->question;
	uint8_t *rows;
	size_t open = rows_open(way, hand, &rows), told = 0;
	struct text text = text_start(question->arena);
	if (question->press->retired) {
		return arena_format(question->arena, "press %s is retired", question->press->press.code);
	}
	for (size_t row = 0; row < way->cover.rows; row++) {
		if (!rows[row]) {
			continue;
		}
		const char *process = hand->rules->rows_are_cuts ? NULL : question->printing[row].process;
		const char *lack = station_lack(question->arena, question->press,
		                                hand->rules->row_number(question, row), process);
		if (lack == NULL) {
			return NULL;
		}
		if (told < LACKS_MOST) {
			text_join(&text, "; ", lack);
			told++;
		}
	}
	if (open > told) {
		text_add_format(&text, "; and %zu more", open - told);
	}
	return text.length > 0 ? text.bytes : NULL;
}

/* The first way on which it serves and the press lacks nothing, else the first on which it serves.
 */
static const struct way *way_to_tell(const struct hand *hand, const struct way *ways, size_t count,
                                     const char **lacks)
{
	const struct way *first = NULL;
	for (size_t i = 0; i < count; i++) {
		const char *here = ways[i].serves ? press_lacks(&ways[i], hand) : NULL;
		if (ways[i].serves && here == NULL) {
			*lacks = NULL;
			return &ways[i];
		}
		if (ways[i].serves && first == NULL) {
			first = &ways[i];
			*lacks = here;
		}
	}
	return first;
}

static void say_yes(const struct hand *hand, const struct way *ways, size_t count,
                    const struct way *way, const char *lacks, struct served *out)
{
	struct arena *arena = way->question.arena;
	uint8_t *rows;
	size_t open = rows_open(way, hand, &rows);
	struct text text = text_start(arena), caution = text_start(arena);
	bool everywhere = true;
	out->serves = true;
	out->need = hand->companion ? hand->rules->companion_need : hand->rules->item_need;
	say_need(way, hand, rows, open, &text, out);
	for (size_t i = 0; i < count; i++) {
		everywhere = everywhere && serves_press(ways, count, &ways[i]);
	}
	if (!everywhere) {
		text_add_format(&text, ", on press %s", way->question.press->press.code);
	}
	out->text = text.bytes;
	const char *doubts = doubts_of(way, hand, rows);
	if (lacks != NULL) {
		text_add(&caution, lacks);
	}
	if (doubts != NULL) {
		text_join(&caution, "; ", doubts);
	}
	out->caution = caution.length > 0 ? caution.bytes : NULL;
}

/* ---------------------------------------------------------------- the question */

static enum outcome judge(struct asking *asking, struct hand *hand, const int64_t *presses,
                          size_t press_count, struct served *out)
{
	struct way *ways;
	size_t count;
	struct attempt first;
	enum outcome outcome = OUTCOME_DONE;
	bool several = press_count > 1 || job_is_new(&asking->job);
	if (press_count == 0) {
		out->text = "no press in use is on record";
		return outcome;
	}
	/* Rolls and dies are looked up by what the job asks: any press will do for that. */
	outcome = attempt_open(asking, presses[0], job_is_new(&asking->job), &first);
	if (outcome == OUTCOME_DONE) {
		outcome = hand_look_behind(asking, &first.question, several, hand);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = ways_find(asking, hand, presses, press_count, &ways, &count);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	ways_judge(hand, ways, count);
	const char *lacks = NULL;
	const struct way *told = way_to_tell(hand, ways, count, &lacks);
	if (told != NULL) {
		say_yes(hand, ways, count, told, lacks, out);
		return OUTCOME_DONE;
	}
	return serves_refuse(asking, hand, ways, count, out);
}

/* Is it one of those out already? `out` then says so. */
static bool is_out_already(struct asking *asking, const struct hand *hand, int64_t tool,
                           struct served *out)
{
	for (size_t i = 0; i < hand->out_count; i++) {
		const struct tool_out *one = &hand->out[i];
		if (one->id == tool && one->at_press) {
			out->text = arena_format(asking->arena, "stands at %s for %s already", one->place,
			                         asking->job.number);
		} else if (one->id == tool) {
			out->text = arena_format(asking->arena, "is out for %s already", asking->job.number);
		}
	}
	return out->text != NULL;
}

static enum outcome serves_now(struct asking *asking, int64_t job, int64_t tool, struct moment now,
                               struct served *out)
{
	struct tool_state state;
	struct hand hand = {.out = NULL};
	int64_t *presses;
	size_t press_count;
	enum outcome outcome = asking_of_job(asking, job, now, &presses, &press_count);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(asking->store, asking->arena, tool, &state, asking->fault);
	}
	if (outcome == OUTCOME_DONE && (state.kind == NULL || asking->job.number == NULL)) {
		outcome = fault_set(asking->fault, OUTCOME_STORE, "%s is not on record: number %lld",
		                    state.kind == NULL ? "tool" : "job",
		                    (long long)(state.kind == NULL ? tool : job));
	}
	if (outcome == OUTCOME_DONE && (strcmp(asking->job.state, "finished") == 0 ||
	                                strcmp(asking->job.state, "cancelled") == 0)) {
		out->text =
			arena_format(asking->arena, "job %s is %s", asking->job.number, asking->job.state);
		return outcome;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_tools_out(asking->store, asking->arena, job, presses, press_count,
		                          &hand.out, &hand.out_count, asking->fault);
	}
	if (outcome != OUTCOME_DONE || is_out_already(asking, &hand, tool, out)) {
		return outcome;
	}
	outcome = hand_fill(asking, state.kind->id, tool, &hand);
	if (outcome == OUTCOME_DONE) {
		outcome = judge(asking, &hand, presses, press_count, out);
	}
	if (out->serves && state.taken_for != NULL) {
		struct text text = text_start(asking->arena);
		text_add_format(&text, "is out for job %s by now", state.taken_for);
		if (out->caution != NULL) {
			text_join(&text, "; ", out->caution);
		}
		out->caution = text.bytes;
	}
	return outcome;
}

enum outcome plan_serves(struct store *store, struct arena *arena, int64_t job, int64_t tool,
                         struct moment now, const struct limits *limits, struct served *out,
                         struct fault *fault)
{
	struct asking asking = {.store = store, .arena = arena, .fault = fault, .limits = limits};
	*out = (struct served){.serves = false};
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = serves_now(&asking, job, tool, now, out);
		store_snapshot_end(store);
	}
	return outcome;
}
