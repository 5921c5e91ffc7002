/*
 * What would cure a lack: another press, another repeat, another die. Each is listed only after it
 * was tried and came out better.
 */
#include "internal.h"
#include "words.h"

#define REPEATS_MOST RANKED_MOST /* repeats named as cures, best first */

struct cure *cure_add(struct cure_list *list, const char *kind)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 8;
		list->items = arena_grow(list->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	struct cure *cure = &list->items[list->count++];
	*cure = (struct cure){.kind = kind};
	return cure;
}

const char *words_of_outcome(struct arena *arena, const struct standing *after,
                             const struct standing *before)
{
	switch (after->verdict) {
	case VERDICT_READY:
		return "then ready";
	case VERDICT_CAUTION:
		return "then ready with caution";
	case VERDICT_SHORT:
		break;
	}
	return arena_format(arena, "then short of %zu need%s, not %zu", after->unmet,
	                    after->unmet == 1 ? "" : "s", before->unmet);
}

struct standing standing_of(const struct question *question, bool repeat_judged,
                            const struct standing *bar)
{
	struct arena *arena = arena_new();
	struct question tried = *question;
	struct solution solution;
	tried.arena = arena;
	tried.trial = true;
	tried.bar = bar;
	question_solve(&tried, repeat_judged, &solution);
	arena_free(arena);
	return solution.standing;
}

/* ---------------------------------------------------------------- another press */

static void cures_of_presses(const struct attempt *attempt, struct attempt *const *all,
                             size_t count, struct cure_list *list)
{
	const struct standing *before = &attempt->solution.standing;
	for (size_t i = 0; i < count; i++) {
		const struct standing *after = &all[i]->solution.standing;
		if (all[i] == attempt || !standing_improves(after, before)) {
			continue;
		}
		struct cure *cure = cure_add(list, "press");
		cure->press = all[i]->press.press.code;
		cure->text = arena_format(list->arena, "run it on press %s: %s", cure->press,
		                          words_of_outcome(list->arena, after, before));
	}
}

/* ---------------------------------------------------------------- another repeat */

static bool repeat_is_in_question(const struct finding *finding)
{
	static const char *const needs[] = {"repeat", "cylinder", "gear", "die", "magnetic_cylinder"};
	for (size_t i = 0; i < COUNT_OF(needs); i++) {
		if (finding->level != FINDING_NOTE && text_equal_fold(finding->need, needs[i])) {
			return true;
		}
	}
	return false;
}

static bool another_repeat_may_help(const struct asking *asking, const struct check *check)
{
	bool may = false;
	for (size_t i = 0; i < check->finding_count; i++) {
		may = may || repeat_is_in_question(&check->findings[i]);
	}
	return may && !job_is_new(&asking->job);
}

static void cure_of_repeat(const struct attempt *attempt, const struct tried *tried,
                           struct cure_list *list)
{
	struct cure *cure = cure_add(list, "repeat");
	cure->press = attempt->press.press.code;
	cure->repeat = tried->candidate.repeat;
	cure->number_around = (struct known_count){true, tried->candidate.number_around};
	cure->text =
		arena_format(list->arena, "make new plates for a repeat of %s, %lld around: %s",
	                 words_of_repeat(list->arena, cure->repeat, attempt->question.limits->units),
	                 (long long)tried->candidate.number_around,
	                 words_of_outcome(list->arena, &tried->standing, &attempt->solution.standing));
}

static enum outcome cures_of_repeats(struct asking *asking, struct attempt *attempt,
                                     struct cure_list *list)
{
	struct ranking ranking = {.most = REPEATS_MOST, .bar = &attempt->solution.standing};
	if (!another_repeat_may_help(asking, &attempt->solution.check)) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = attempt_repeats(asking, attempt);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	ranking_try(&ranking, attempt_tried(asking->arena, attempt), attempt->candidate_count);
	for (size_t i = 0; i < ranking.count; i++) {
		cure_of_repeat(attempt, &ranking.items[i], list);
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- another die */

/* The question with another die, or none, named for one cut. */
static struct question with_die(const struct question *question, size_t row, const struct die *die)
{
	struct question tried = *question;
	tried.cuts = arena_take(question->arena, question->cut_count, sizeof *tried.cuts);
	for (size_t i = 0; i < question->cut_count; i++) {
		tried.cuts[i] = question->cuts[i];
	}
	tried.cuts[row].die =
		die != NULL ? arena_copy(question->arena, tag_shown(die->tool.tag).bytes) : NULL;
	tried.cuts[row].die_id = die != NULL ? die->tool.id : 0;
	return tried;
}

/* The dies that would do for a cut instead of the one named: each was tried, and came out better.
 */
static void cure_of_die(const struct attempt *attempt, size_t row, struct cure_list *list)
{
	const struct question *question = &attempt->question;
	struct shelf *whole = question->whole;
	const struct standing *before = &attempt->solution.standing;
	struct question open = with_die(question, row, NULL);
	open.shelf = whole;
	struct standing best = *before;
	struct tag *tools = arena_take(list->arena, whole->die_count, sizeof *tools);
	size_t count = 0;
	for (size_t item = 0; item < whole->die_count; item++) {
		/* Not for a special shape: only a die made for it is known to cut it. */
		if (group_item_remarks(&open, &die_rules, row, item, NULL) == SUITS_NOT) {
			continue;
		}
		struct question tried = with_die(question, row, &whole->dies[item]);
		tried.shelf = arena_take(question->arena, 1, sizeof *tried.shelf);
		*tried.shelf = *question->shelf;
		question_narrow_by_repeat(&tried);
		struct standing after = standing_of(&tried, true, before);
		if (standing_improves(&after, before)) {
			tools[count++] = whole->dies[item].tool.tag;
			best = standing_improves(&after, &best) ? after : best;
		}
	}
	if (count == 0) {
		return;
	}
	struct cure *cure = cure_add(list, "die");
	cure->tools = tools;
	cure->tool_count = count;
	cure->text = arena_format(list->arena, "cut %lld with %s instead of %s: %s",
	                          (long long)question->cuts[row].number,
	                          words_of_tags(list->arena, tools, count), question->cuts[row].die,
	                          words_of_outcome(list->arena, &best, before));
}

static void cures_of_dies(const struct attempt *attempt, struct cure_list *list)
{
	const struct question *question = &attempt->question;
	for (size_t row = 0; row < question->cut_count && attempt->repeat_judged; row++) {
		if (question->cuts[row].die_id != 0) {
			cure_of_die(attempt, row, list);
		}
	}
}

/* ---------------------------------------------------------------- all of them */

enum outcome cures_find(struct asking *asking, struct attempt *attempt, struct attempt *const *all,
                        size_t count)
{
	struct cure_list list = {.arena = asking->arena};
	if (attempt->solution.standing.verdict == VERDICT_READY) {
		return OUTCOME_DONE;
	}
	cures_of_tools(attempt, &list);
	cures_of_dies(attempt, &list);
	cures_of_presses(attempt, all, count, &list);
	enum outcome outcome = cures_of_repeats(asking, attempt, &list);
	attempt->solution.check.cures = list.items;
	attempt->solution.check.cure_count = list.count;
	return outcome;
}
