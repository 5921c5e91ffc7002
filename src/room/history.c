/* `history`: the whole ledger of one record, or where every tool was at a moment. */
#include "job_row.h"

enum outcome room_history(struct store *store, struct arena *arena, const char *tag,
                          const struct history_reader *reader, struct fault *fault)
{
	struct found found;
	struct record *record;
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_find(store, tag, REFER_NONE, &found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(store, arena, found.kind, found.id, &record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		reader->begin(record, reader->context);
		outcome = store_history(store, found.kind, found.id, reader->each, reader->context, fault);
	}
	store_snapshot_end(store);
	return outcome;
}

/* A bare date is the end of that day: its last second, or now where the day is not over. */
static enum outcome settle_moment(struct moment asked, struct moment now, struct moment *out,
                                  struct fault *fault)
{
	if (moment_compare(asked, now) > 0) {
		fault_set(fault, OUTCOME_BAD, "when lies ahead: %s, and it is %s", moment_text(asked).bytes,
		          moment_text(now).bytes);
		fault_hint(fault, "Type a moment that has been; a date alone is the end of that day.");
		return OUTCOME_BAD;
	}
	*out = asked;
	if (asked.date) {
		struct value end = {.type = VALUE_MOMENT, .known = true};
		end.moment = moment_of_day_end(asked);
		end = value_from_stored(VALUE_MOMENT, value_to_stored(&end) - 1);
		*out = moment_compare(end.moment, now) > 0 ? now : end.moment;
	}
	return OUTCOME_DONE;
}

enum outcome room_whereabouts(struct store *store, struct moment when, const char *place,
                              struct moment now, const struct whereabouts_reader *reader,
                              struct fault *fault)
{
	struct found found = {.id = 0};
	struct moment moment;
	enum outcome outcome = settle_moment(when, now, &moment, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_snapshot_begin(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (place != NULL) {
		outcome = store_find(store, place, REFER_PLACE, &found, fault);
	}
	if (outcome == OUTCOME_DONE) {
		reader->begin(moment, reader->context);
		outcome = store_whereabouts(store, moment, found.id, reader->each, reader->context, fault);
	}
	store_snapshot_end(store);
	return outcome;
}
