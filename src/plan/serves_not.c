/* Why a tool that is scanned out for a job serves no need of it. */
#include <assert.h>
#include <string.h>

#include "serves.h"
#include "words.h"

#define REASONS_MOST 2 /* a tool of quite another job breaks every rule there is */

/* ---------------------------------------------------------------- words */

static size_t reason_count(const struct remarks *remarks)
{
	size_t count = 0;
	for (size_t i = 0; i < remarks->count; i++) {
		count += remarks->items[i].level == SUITS_NOT ? 1 : 0;
	}
	return count;
}

/* `face 250mm, 290mm needed; runout 0.02mm, 0.0127mm at most; and 1 more` */
static const char *reasons_of(struct arena *arena, const struct remarks *remarks)
{
	struct text text = text_start(arena);
	size_t told = 0, count = reason_count(remarks);
	for (size_t i = 0; i < remarks->count && told < REASONS_MOST; i++) {
		if (remarks->items[i].level == SUITS_NOT) {
			text_join(&text, "; ", remarks->items[i].text);
			told++;
		}
	}
	if (count > told) {
		text_add_format(&text, "; and %zu more", count - told);
	}
	return text.bytes;
}

static const char *where_words(const struct question *question, const struct group_rules *rules,
                               const uint8_t *rows)
{
	int64_t numbers[64];
	size_t count = 0;
	for (size_t row = 0; row < rules->row_count(question) && count < COUNT_OF(numbers); row++) {
		if (rows[row]) {
			numbers[count++] = rules->row_number(question, row);
		}
	}
	return words_of_numbers(question->arena, rules->rows_are_cuts ? "cut" : "station", numbers,
	                        count);
}

static const char *all_are_out(const struct question *question, const struct hand *hand,
                               size_t count)
{
	struct text text = text_start(question->arena);
	text_add_format(&text, "no need of %s is open for %s %s: ", question->job->number,
	                article_of_kind(hand->kind), words_of_kind(hand->kind));
	if (count > 2) {
		text_add_format(&text, "all %zu are out", count);
	} else {
		text_add(&text, count == 2 ? "both are out" : "the one it takes is out");
	}
	for (size_t i = 0; i < hand->out_count; i++) {
		if (hand->out[i].at_press && hand->out[i].kind->id == hand->kind) {
			text_add(&text, " or at the press");
			break;
		}
	}
	return text.bytes;
}

/* ---------------------------------------------------------------- cylinders, rolls, dies */

/* `is out`, `are at the press`: tools among those out, by their tags; the job keeps them either
 * way.
 */
static const char *where_they_are(const struct hand *hand, const struct tag *tags, size_t count)
{
	size_t at_press = 0;
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < hand->out_count; j++) {
			bool same = tag_compare(hand->out[j].tag, tags[i]) == 0;
			at_press += same && hand->out[j].at_press ? 1 : 0;
		}
	}
	if (at_press == 0) {
		return count == 1 ? "is out" : "are out";
	}
	if (at_press == count) {
		return count == 1 ? "is at the press" : "are at the press";
	}
	return "are out or at the press";
}

/* It suits, but rows and tools out are as many: the rows that compete for it and theirs. */
static const char *items_are_out(const struct question *question, const struct hand *hand,
                                 const struct cover *cover)
{
	struct arena *arena = question->arena;
	size_t *row_of = arena_take(arena, cover->items, sizeof *row_of);
	uint8_t *tools = arena_take(arena, cover->items, 1), *rows = arena_take(arena, cover->rows, 1);
	size_t count = 0, tag_count = 0;
	cover_items(arena, cover, cover->items, row_of);
	matching_hall_set(arena, cover->items, cover->rows, cover->item_ok, row_of, cover->items - 1,
	                  tools, rows);
	struct tag *tags = arena_take(arena, cover->items, sizeof *tags);
	for (size_t row = 0; row < cover->rows; row++) {
		count += rows[row];
	}
	for (size_t item = 0; item + 1 < cover->items; item++) {
		if (tools[item] && row_of[item] != ASSIGNED_NONE) {
			tags[tag_count++] = hand->rules->item_tool(question, item)->tag;
		}
	}
	if (count == cover->rows && count > 1) {
		return all_are_out(question, hand, count);
	}
	return arena_format(arena, "no need of %s is open for it: %s %s for %s already",
	                    question->job->number, words_of_tags(arena, tags, tag_count),
	                    where_they_are(hand, tags, tag_count),
	                    where_words(question, hand->rules, rows));
}

/* A cut that names another die says nothing of this one. */
static const char *another_is_named(const struct question *question, size_t row)
{
	const struct cut *cut = &question->cuts[row];
	assert(cut->die != NULL);
	return arena_format(question->arena, "cut %lld of %s names another die: %s",
	                    (long long)cut->number, question->job->number, cut->die);
}

/* One row's reasons against an item, and how near to it that row is. */
struct breach {
	size_t row;
	size_t count;      /* of reasons */
	int64_t deviation; /* from what is asked, where the kind has one */
	const char *reasons;
};

static struct breach breach_at(const struct question *question, const struct group_rules *rules,
                               size_t row, size_t item)
{
	struct remarks remarks = {.count = 0};
	rules->item_suits(question, row, item, &remarks);
	struct breach breach = {.row = row, .count = reason_count(&remarks)};
	/* Where a cut names a die that is all there is to say, but of the other cuts. */
	breach.reasons =
		breach.count > 0 ? reasons_of(question->arena, &remarks) : another_is_named(question, row);
	breach.count = breach.count > 0 ? breach.count : REMARKS_MOST;
	if (rules->deviation != NULL) {
		breach.deviation = rules->deviation(question, row, item);
	}
	return breach;
}

/* The rules that it breaks where it breaks fewest; `*nearest` and said is which row, where they
 * differ.
 */
static const char *item_breaks(const struct question *question, const struct hand *hand,
                               size_t item, size_t *nearest)
{
	const struct group_rules *rules = hand->rules;
	struct breach best = {.count = SIZE_MAX};
	bool differ = false;
	for (size_t row = 0; row < rules->row_count(question); row++) {
		struct breach breach = breach_at(question, rules, row, item);
		differ = differ || (row > 0 && strcmp(best.reasons, breach.reasons) != 0);
		if (breach.count < best.count ||
		    (breach.count == best.count && breach.deviation < best.deviation)) {
			best = breach;
		}
	}
	if (!differ) {
		return best.reasons;
	}
	*nearest = best.row;
	return arena_format(question->arena, "%s %lld: %s", rules->rows_are_cuts ? "cut" : "station",
	                    (long long)rules->row_number(question, best.row), best.reasons);
}

/* ---------------------------------------------------------------- of a job without a repeat */

/* NULL where labels can stand around that length; a number of them is in `out`. */
static const char *no_gap_around(const struct question *question, struct repeat own,
                                 struct around *out)
{
	const struct layout *layout = &question->layout;
	const struct length *least =
		layout->gap_around_min.known ? &layout->gap_around_min.value : NULL;
	const struct length *most = layout->gap_around_max.known ? &layout->gap_around_max.value : NULL;
	if (around_choices(own, layout->label_around.value, least, most, out, 1) > 0) {
		return NULL;
	}
	return arena_format(question->arena, "length %s gives %s no gap around in its limits",
	                    words_of_repeat(question->arena, own, question->limits->units),
	                    question->job->number);
}

/* At its own length around the question is whether labels go on it, then all the rest. */
static const char *cylinder_breaks(const struct question *question, const struct hand *hand,
                                   size_t item, size_t *nearest)
{
	struct repeat own = question->shelf->cylinders[item].own;
	struct question at = *question;
	if (own.known && question->layout.label_around.known) {
		struct around around;
		const char *none = no_gap_around(question, own, &around);
		if (none != NULL) {
			return none;
		}
		at.layout = layout_at(question, (struct candidate){own, around.number_around});
	}
	return item_breaks(&at, hand, item, nearest);
}

static const char *die_breaks(const struct question *question, const struct hand *hand, size_t item,
                              size_t *nearest)
{
	const struct die *die = &question->shelf->dies[item];
	struct question at = *question;
	if (die->own.known && die->number_around.known) {
		at.layout = layout_at(question, (struct candidate){die->own, die->number_around.value});
	}
	for (size_t row = 0; row < question->cut_count; row++) {
		if (die_rules.item_suits(&at, row, item, NULL) != SUITS_NOT) {
			return arena_format(question->arena,
			                    "no plate cylinder that suits %s prints in step with it",
			                    question->job->number);
		}
	}
	return item_breaks(&at, hand, item, nearest);
}

/* Is the repeat still open, so that no rule can be held against it? */
static bool repeat_is_open(const struct way *way, const struct question *question)
{
	return !way->repeat_found && !way->question.layout.repeat.known &&
	       question->layout.label_around.known;
}

static const char *why_item(const struct way *way, const struct hand *hand,
                            const struct question *question, size_t *nearest)
{
	const struct cover *cover = &way->cover;
	size_t item = cover->items - 1;
	for (size_t row = 0; row < cover->rows; row++) {
		if (cover->item_ok[item * cover->rows + row]) {
			return items_are_out(&way->question, hand, cover);
		}
	}
	if (repeat_is_open(way, question) && hand->kind == KIND_CYLINDER) {
		return cylinder_breaks(&way->question, hand, item, nearest);
	}
	if (repeat_is_open(way, question) && hand->kind == KIND_DIE) {
		return die_breaks(&way->question, hand, item, nearest);
	}
	return item_breaks(question, hand, item, nearest);
}

/* ---------------------------------------------------------------- gears, blades, magnetic
 * cylinders */

/*
 * `none of the plate cylinders that suit J7 takes a loose gear`; of those out where every station
 * has one; where none suits, that.
 */
static const char *nothing_takes_it(const struct question *question, const struct hand *hand,
                                    bool any, bool all_out)
{
	const char *job = question->job->number;
	const char *items = hand->rules->items_words;
	if (!any) {
		return arena_format(question->arena, "none of the %s suits %s and is there", items, job);
	}
	const char *takes = hand->kind == KIND_GEAR    ? "takes a loose gear"
	                    : hand->kind == KIND_BLADE ? "takes a blade"
	                                               : "is flexible";
	return arena_format(question->arena, "none of the %s %s %s %s", items,
	                    all_out ? "out for" : "that suit", job, takes);
}

/* The rules that it breaks with what it would go with, where it breaks fewest. */
static const char *companion_breaks(const struct question *question, const struct hand *hand,
                                    const struct cover *cover, const uint8_t *usable, bool all_out)
{
	size_t companion = cover->companions - 1, fewest = SIZE_MAX;
	const char *best = NULL;
	bool any = false;
	for (size_t item = 0; item < cover->all_items; item++) {
		struct remarks remarks = {.count = 0};
		any = any || usable[item];
		if (!usable[item] || !cover->needs[item]) {
			continue;
		}
		hand->rules->companion_suits(question, item, companion, &remarks);
		/* Of what is in hand already it is told first. */
		size_t count = reason_count(&remarks) + (item < cover->items ? 0 : REMARKS_MOST);
		if (count < fewest) {
			fewest = count;
			best = reasons_of(question->arena, &remarks);
		}
	}
	return best != NULL ? best : nothing_takes_it(question, hand, any, all_out);
}

/* Those out that are in use where it could be. */
static const char *companions_are_out(const struct question *question, const struct hand *hand,
                                      const struct cover *cover, const uint8_t *usable)
{
	struct arena *arena = question->arena;
	struct tag *tags = arena_take(arena, cover->companions, sizeof *tags);
	size_t count = 0, asked = cover->companions - 1;
	size_t used = cover_companions(arena, cover, cover->items, asked, NULL);
	if (used == cover->rows) {
		return all_are_out(question, hand, used);
	}
	for (size_t i = 0; i < asked; i++) {
		bool shares = false;
		for (size_t item = 0; item < cover->all_items && !shares; item++) {
			const uint8_t *ok = &cover->companion_ok[item * cover->companions];
			shares = usable[item] && ok[i] && ok[asked];
		}
		if (shares) {
			tags[count++] = hand->rules->companion_tool(question, i)->tag;
		}
	}
	if (count == 0) {
		return arena_format(arena, "no need of %s is open for it: what it goes with has no %s left",
		                    question->job->number, hand->rules->rows_are_cuts ? "cut" : "station");
	}
	return arena_format(arena, "no need of %s is open for it: %s %s out", question->job->number,
	                    words_of_tags(arena, tags, count), count == 1 ? "is" : "are");
}

/*
 * What a companion could go with: items in hand that have a row, and those of the shelf that would
 * do for a row that has none.
 */
static uint8_t *usable_items(struct arena *arena, const struct cover *cover, bool *all_out)
{
	size_t *row_of = arena_take(arena, cover->items, sizeof *row_of);
	uint8_t *usable = arena_take(arena, cover->all_items, 1);
	uint8_t *taken = arena_take(arena, cover->rows, 1);
	*all_out = cover_items(arena, cover, cover->items, row_of) == cover->rows;
	for (size_t item = 0; item < cover->items; item++) {
		usable[item] = row_of[item] != ASSIGNED_NONE;
		if (usable[item]) {
			taken[row_of[item]] = 1;
		}
	}
	for (size_t item = cover->items; item < cover->all_items; item++) {
		for (size_t row = 0; row < cover->rows; row++) {
			usable[item] |= !taken[row] && cover->item_ok[item * cover->rows + row];
		}
	}
	return usable;
}

/* What suits on the shelf, behind the tools in hand. */
static struct shelf with_shelf(struct arena *arena, const struct hand *hand,
                               const struct shelf *offered)
{
	struct shelf all = hand->own;
	hand_add_cylinders(arena, hand, &all, offered->cylinders, offered->cylinder_count);
	hand_add_rolls(arena, hand, &all, offered->rolls, offered->roll_count);
	hand_add_dies(arena, hand, &all, offered->dies, offered->die_count);
	return all;
}

/* While the repeat is open no cylinder of a gear's own length suits: else that would be the repeat.
 */
static const char *gear_breaks(const struct question *question, const struct gear *gear)
{
	struct around around;
	if (!gear->own.known) {
		return "teeth and pitch not known";
	}
	const char *none = no_gap_around(question, gear->own, &around);
	return none != NULL ? none
	                    : arena_format(question->arena, "no plate cylinder that suits %s has %s",
	                                   question->job->number, words_of_gear(question->arena, gear));
}

static const char *why_companion(const struct way *way, const struct hand *hand,
                                 const struct question *question)
{
	struct cover cover = cover_of(question, hand, hand->rules);
	size_t companion = cover.companions - 1;
	bool all_out;
	const uint8_t *usable = usable_items(question->arena, &cover, &all_out);
	for (size_t item = 0; item < cover.all_items; item++) {
		if (usable[item] && cover.companion_ok[item * cover.companions + companion]) {
			return companions_are_out(question, hand, &cover, usable);
		}
	}
	return repeat_is_open(way, question) && hand->kind == KIND_GEAR
	           ? gear_breaks(question, &question->shelf->gears[companion])
	           : companion_breaks(question, hand, &cover, usable, all_out);
}

/* ---------------------------------------------------------------- the first that holds */

/*
 * Who scans it holds it perhaps, and the records are behind: is all that keeps it away that it is
 * at a supplier, lost or nowhere by them?
 */
static bool receiving_helps(const struct question *question, const struct hand *hand)
{
	struct tool here = *hand->tool;
	if (here.place_known && here.sort != SORT_SUPPLIER && here.sort != SORT_LOST) {
		return false;
	}
	here.place_known = true;
	here.sort = SORT_STORE;
	return tool_there(&here, question->job->number, question->press->press.id, question->span,
	                  question->limits, false, NULL) != SUITS_NOT;
}

const char *why_not(const struct way *way, const struct hand *hand, const struct attempt *judged,
                    size_t *nearest)
{
	struct question question = judged->question;
	struct arena *arena = question.arena;
	struct shelf shelf = with_shelf(arena, hand, judged->question.shelf);
	struct remarks remarks = {.count = 0};
	*nearest = ROW_NONE;
	question.shelf = &shelf;
	if (tool_there(hand->tool, question.job->number, question.press->press.id, question.span,
	               question.limits, false, &remarks) == SUITS_NOT) {
		return receiving_helps(&question, hand)
		           ? arena_format(arena, "%s: receive it first, if it is here",
		                          reasons_of(arena, &remarks))
		           : reasons_of(arena, &remarks);
	}
	if (hand->rules->row_count(&question) == 0) {
		return arena_format(arena, "no station of %s takes %s %s", question.job->number,
		                    article_of_kind(hand->kind), words_of_kind(hand->kind));
	}
	return hand->companion ? why_companion(way, hand, &question)
	                       : why_item(way, hand, &question, nearest);
}
