/* What is due: the rules asked of every tool in use, their reasons in one list, most urgent first.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "due.h"

/* No date of the list lies further off, either way. */
#define DAYS_FAR 36500.0

static const char *const what_words[] = {
	[DUE_CLEAN] = "clean",     [DUE_READ] = "read",     [DUE_BLADE] = "new blade",
	[DUE_REGRIND] = "regrind", [DUE_DECIDE] = "decide",
};

/* ---------------------------------------------------------------- one reason */

static struct due_tool tool_kept(struct arena *arena, const struct due_tool *tool)
{
	struct due_tool kept = *tool;
	kept.tag = arena_copy(arena, tool->tag);
	kept.name = arena_copy(arena, tool->name);
	kept.maker_serial = arena_copy(arena, tool->maker_serial);
	kept.place = arena_copy(arena, tool->place);
	kept.taken_for = arena_copy(arena, tool->taken_for);
	kept.material = arena_copy(arena, tool->material);
	kept.die_build = arena_copy(arena, tool->die_build);
	kept.die_pitch = arena_copy(arena, tool->die_pitch);
	kept.edge = arena_copy(arena, tool->edge);
	kept.next_job = arena_copy(arena, tool->next_job);
	kept.next_press = arena_copy(arena, tool->next_press);
	return kept;
}

/* Will it be due by the end of the next job? */
static bool before_next_job(const struct due_asked *asked, const struct due_reason *reason)
{
	const struct due_tool *tool = asked->tool;
	if (tool->next_job == NULL) {
		return false;
	}
	bool in_time =
		reason->least.known && moment_compare(reason->least.value, tool->next_until.value) <= 0;
	bool in_run = reason->left.known && asked->next_run.known &&
	              length_compare(reason->left.value, asked->next_run.value) < 0;
	return reason->overdue || in_time || in_run;
}

static bool is_earlier(struct known_moment a, struct known_moment b)
{
	return a.known && (!b.known || moment_compare(a.value, b.value) < 0);
}

/* The same is to be done for another reason, too. */
static void join(struct arena *arena, struct due_item *item, const struct due_asked *asked,
                 const struct due_reason *reason)
{
	struct due_row *row = &item->row;
	bool worse = reason->overdue && !row->overdue;
	bool sooner = reason->overdue == row->overdue && is_earlier(reason->least, row->least);
	if (worse || sooner) {
		row->by = reason->by;
		row->least = reason->least;
		row->most = reason->most;
		row->left = reason->left;
		row->left_most = reason->left_most;
		item->left_share = reason->left_share;
	}
	row->overdue = row->overdue || reason->overdue;
	row->before_next_job = row->before_next_job || before_next_job(asked, reason);
	row->text = worse ? arena_format(arena, "%s; %s", reason->text, row->text)
	                  : arena_format(arena, "%s; %s", row->text, reason->text);
}

void due_add(struct due_list *list, const struct due_asked *asked, const struct due_reason *reason)
{
	for (size_t i = asked->first; i < list->count; i++) {
		if (list->items[i].row.what == reason->what) {
			join(list->arena, &list->items[i], asked, reason);
			return;
		}
	}
	if (list->count == list->room) {
		size_t room = list->room * 2 + 64;
		list->items = arena_grow(list->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	list->items[list->count++] = (struct due_item){
		.left_share = reason->left_share,
		.row =
			{
				.what = reason->what,
				.what_word = what_words[reason->what],
				.tool = tool_kept(list->arena, asked->tool),
				.by = reason->by,
				.overdue = reason->overdue,
				.least = reason->least,
				.most = reason->most,
				.left = reason->left,
				.left_most = reason->left_most,
				.text = reason->text,
				.before_next_job = before_next_job(asked, reason),
			},
	};
}

/* ---------------------------------------------------------------- by web */

bool due_by_web(const struct due_list *list, const struct due_asked *asked, struct length left,
                struct length whole, struct due_reason *out)
{
	const struct due_tool *tool = asked->tool;
	struct known_moment *least = &out->least;
	double days;
	out->left = (struct known_length){.known = true, .value = left};
	out->left_most = out->left;
	out->left_share = length_to_m(whole) > 0 ? length_to_m(left) / length_to_m(whole) : 0;
	out->overdue = length_compare(left, length_from_nm(0)) <= 0;
	least->known = days_of(left, asked->per_day, &days);
	if (least->known) {
		least->value =
			moment_add(list->now, duration_of_days(fmax(-DAYS_FAR, fmin(days, DAYS_FAR))));
	}
	out->most = *least;
	bool at_next =
		!out->overdue && asked->next_run.known && length_compare(left, asked->next_run.value) < 0;
	if (at_next && (!least->known || moment_compare(tool->next_from.value, least->value) < 0)) {
		out->at_next = true;
		*least = tool->next_from;
		out->most = out->most.known && moment_compare(out->most.value, tool->next_until.value) < 0
		                ? out->most
		                : tool->next_until;
	}
	return out->overdue || (least->known && moment_compare(least->value, list->until) <= 0);
}

bool due_by_life(const struct due_list *list, const struct due_asked *asked, struct length left,
                 struct length whole, struct due_reason *out)
{
	const struct value most = {
		.type = VALUE_PERCENT,
		.known = true,
		.percent = list->limits.due_left,
	};
	bool in_time = due_by_web(list, asked, left, whole, out);
	bool little = out->left_share * 1e6 <= (double)value_to_stored(&most) + 1e-6;
	return in_time || (!out->least.known && little);
}

/* ---------------------------------------------------------------- one tool */

/* Web that the next job takes, by its quantity and the repeat it is booked at. */
static struct known_length next_run(const struct due_tool *tool, const struct limits *limits)
{
	struct layout layout = {
		.repeat = tool->next_repeat,
		.number_around = tool->next_around,
		.number_across = tool->next_across,
	};
	layout_complete(&layout, tool->next_quantity, limits->overs);
	return layout.run;
}

static enum outcome take(const struct due_tool *tool, void *context)
{
	struct due_list *list = context;
	struct due_asked asked = {
		.tool = tool,
		.used = tool->next_job != NULL || length_compare(tool->recent, length_from_nm(0)) > 0,
		.per_day = care_per_day(tool, list->limits.recent, list->now),
		.first = list->count,
	};
	if (tool->next_job != NULL) {
		asked.next_run = next_run(tool, &list->limits);
	}
	due_dirty(list, &asked);
	if (tool->kind->id == KIND_ANILOX) {
		return due_roll(list, &asked);
	} else if (tool->kind->id == KIND_BLADE) {
		return due_blade(list, &asked);
	} else if (tool->kind->id == KIND_DIE) {
		due_die(list, &asked);
	} else if (tool->kind->id == KIND_CYLINDER) {
		due_cylinder(list, &asked);
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- in order */

/* What is known before what is not; then the earlier. */
static int compare_moments(struct known_moment a, struct known_moment b)
{
	if (a.known != b.known) {
		return a.known ? -1 : 1;
	}
	return a.known ? moment_compare(a.value, b.value) : 0;
}

static int compare(const void *a, const void *b)
{
	const struct due_item *one = a, *two = b;
	const struct due_row *x = &one->row, *y = &two->row;
	int order = (int)y->overdue - (int)x->overdue;
	if (order == 0) {
		order = compare_moments(x->least, y->least);
	}
	if (order == 0) {
		order = (one->left_share > two->left_share) - (one->left_share < two->left_share);
	}
	if (order == 0) {
		order = compare_moments(x->tool.next_from, y->tool.next_from);
	}
	if (order == 0) {
		order = strcmp(x->tool.tag, y->tool.tag);
	}
	return order != 0 ? order : (int)x->what - (int)y->what;
}

/* In `out`, in their order. */
static void give_rows(struct due_list *list, struct due *out)
{
	if (list->count > 1) {
		qsort(list->items, list->count, sizeof *list->items, compare);
	}
	out->rows = arena_take(list->arena, list->count, sizeof *out->rows);
	for (size_t i = 0; i < list->count; i++) {
		out->rows[i] = list->items[i].row;
	}
	out->count = list->count;
}

static enum outcome ask_all(struct due_list *list, int64_t days, enum units units, struct due *out)
{
	enum outcome outcome = store_limits(list->store, &list->limits, list->fault);
	list->limits.units = units;
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	list->until = moment_add(list->now, duration_of_days((double)days));
	struct moment since = moment_add(list->now, duration_of_days(-days_in(list->limits.recent)));
	outcome = store_due(list->store, NULL, 0, list->now, since, take, list, list->fault);
	return outcome == OUTCOME_DONE ? due_says(list, out) : outcome;
}

enum outcome care_due(struct store *store, struct arena *arena, int64_t days, enum units units,
                      struct moment now, struct due *out, struct fault *fault)
{
	struct due_list list = {.store = store, .arena = arena, .now = now, .fault = fault};
	*out = (struct due){.count = 0};
	/* Limits and every kind at one moment, whatever another console writes meanwhile. */
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = ask_all(&list, days, units, out);
		store_snapshot_end(store);
	}
	if (outcome == OUTCOME_DONE) {
		give_rows(&list, out);
	}
	return outcome;
}
