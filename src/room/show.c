/* `show TAG`: what a record is, where, what stops it, its figures, and what happened last. */
#include <string.h>

#include "show.h"

#define ENTRIES_SHOWN 5
#define LINES_MOST 16 /* obstacles, and cautions: more than the rules there are */

/* ---------------------------------------------------------------- lines */

static void line_add(struct telling *telling, const char ***lines, size_t *count, const char *text)
{
	if (*lines == NULL) {
		*lines = arena_take(telling->arena, LINES_MOST, sizeof **lines);
	}
	if (*count < LINES_MOST) {
		(*lines)[(*count)++] = arena_copy(telling->arena, text);
	}
}

void tell_obstacle(struct telling *telling, const char *text)
{
	line_add(telling, &telling->out->obstacles, &telling->out->obstacle_count, text);
}

void tell_caution(struct telling *telling, const char *text)
{
	line_add(telling, &telling->out->cautions, &telling->out->caution_count, text);
}

void tell_remarks(struct telling *telling, const struct remarks *remarks)
{
	for (size_t i = 0; i < remarks->count; i++) {
		switch (remarks->items[i].level) {
		case SUITS_NOT:
			tell_obstacle(telling, remarks->items[i].text);
			break;
		case SUITS_DOUBTFUL:
			tell_caution(telling, remarks->items[i].text);
			break;
		case SUITS_YES:
		case SUITS_NOTED: /* the figure says that it is not known */
			break;
		}
	}
}

enum outcome show_row(struct telling *telling, enum kind_id kind, int64_t id, struct fault *fault)
{
	struct shown *out = telling->out;
	return id != 0 ? store_record_read(telling->store, telling->arena, &kinds[kind], id,
	                                   &out->rows[out->row_count++], fault)
	               : OUTCOME_DONE;
}

/* ---------------------------------------------------------------- one record */

static enum outcome show_kind(struct telling *telling, struct fault *fault)
{
	const struct kind *kind = telling->out->record->kind;
	switch (kind->id) {
	case KIND_PLACE:
		return show_place(telling, fault);
	case KIND_JOB:
		return show_job(telling, fault);
	case KIND_PRESS:
		return show_press(telling, fault);
	case KIND_OPERATOR:
		return show_operator(telling, fault);
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
		return show_tool(telling, fault);
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return OUTCOME_DONE;
}

static enum outcome show_entries(struct telling *telling, const struct found *found,
                                 struct fault *fault)
{
	struct shown *out = telling->out;
	if (found->kind->id == KIND_JOB) {
		return store_ledger_of_job(telling->store, telling->arena, found->id, ENTRIES_SHOWN,
		                           &out->entries, &out->entries_of, &out->entry_count, fault);
	}
	return store_ledger_of(telling->store, telling->arena, found->kind, found->id, ENTRIES_SHOWN,
	                       &out->entries, &out->entry_count, fault);
}

/* All of it from one state of the shop, whatever another console writes meanwhile. */
static enum outcome show_found(struct telling *telling, const struct found *found,
                               struct fault *fault)
{
	struct shown *out = telling->out;
	enum outcome outcome = store_record_read(telling->store, telling->arena, found->kind, found->id,
	                                         &out->record, fault);
	if (outcome == OUTCOME_DONE) {
		out->summary = room_summary(telling->arena, out->record, telling->units);
		outcome = store_limits(telling->store, &telling->limits, fault);
		telling->limits.units = telling->units;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = show_kind(telling, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = show_entries(telling, found, fault);
	}
	return outcome;
}

enum outcome room_show(struct store *store, struct arena *arena, const char *tag, enum units units,
                       struct moment now, struct shown *out, struct fault *fault)
{
	struct telling telling = {.store = store,
	                          .arena = arena,
	                          .units = units,
	                          .now = now,
	                          .out = out};
	struct found found;
	*out = (struct shown){.record = NULL};
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_find(store, tag, REFER_NONE, &found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = show_found(&telling, &found, fault);
	}
	store_snapshot_end(store);
	return outcome;
}
