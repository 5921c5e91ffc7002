/* `demo`: the built-in demo shop, into a shop file that holds nothing yet. */
#include <string.h>

#include "toothrack/demo.h"
#include "toothrack/room.h"

static enum outcome import_kind(struct store *store, struct arena *arena, const struct kind *kind,
                                const struct actor *actor, int64_t *added, struct fault *fault)
{
	struct import_report *report = arena_take(arena, 1, sizeof *report);
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < demo_file_count && outcome == OUTCOME_DONE; i++) {
		const struct demo_file *file = &demo_files[i];
		if (strcmp(file->name, kind->name) == 0) {
			outcome = room_import_text(store, arena, kind, file->name, file->text, file->length,
			                           false, actor, report, fault);
			*added += report->added;
		}
	}
	return outcome;
}

enum outcome room_demo(struct store *store, struct arena *arena, const struct actor *actor,
                       int64_t added[KIND_COUNT], struct fault *fault)
{
	bool empty = false;
	enum outcome outcome = store_begin(store, "room_demo", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_is_empty(store, &empty, fault);
	if (outcome == OUTCOME_DONE && !empty) {
		outcome = fault_set(fault, OUTCOME_BAD,
		                    "shop file is not new, the demo shop would mix with what it holds");
		fault_hint(fault, "Type toothrack --db demo.db demo.");
	}
	/* In the order of the kinds, so that what is referred to is there. */
	for (size_t i = 0; i < KIND_COUNT && outcome == OUTCOME_DONE; i++) {
		added[i] = 0;
		outcome = import_kind(store, arena, &kinds[i], actor, &added[i], fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}
