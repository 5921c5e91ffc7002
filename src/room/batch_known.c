/* Was a scan of a batch applied before, and by this handheld or by another? */
#include <stdio.h>
#include <string.h>

#include "batch.h"

static int64_t *like_of(struct batching *batching, const char *code)
{
	for (size_t i = 0; i < batching->like_count; i++) {
		if (strcmp(batching->likes[i].code, code) == 0) {
			return &batching->likes[i].count;
		}
	}
	if (batching->like_count == batching->like_room) {
		size_t room = batching->like_room * 2 + 8;
		batching->likes = arena_grow(batching->second, batching->likes, batching->like_count, room,
		                             sizeof *batching->likes);
		batching->like_room = room;
	}
	struct like *like = &batching->likes[batching->like_count++];
	memset(like, 0, sizeof *like);
	snprintf(like->code, sizeof like->code, "%s", code);
	return &like->count;
}

static bool is_here(const struct batching *batching, const struct batch_entry *told)
{
	return told->kind != NULL && told->kind->tool && (size_t)told->subject < batching->here_room &&
	       batching->here[told->subject];
}

void batch_note_here(struct batching *batching, const struct scan *scan)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	const char *code =
		scan->reading == SCAN_TAG ? tag_shown(scan->tag).bytes : (const char *)scan->code;
	if (store_find_plain(batching->store, code, REFER_NONE, &found, &unknown) != OUTCOME_DONE ||
	    !found.kind->tool) {
		return;
	}
	if ((size_t)found.id >= batching->here_room) {
		size_t room = (size_t)found.id * 2;
		batching->here = arena_grow(batching->arena, batching->here, batching->here_room, room,
		                            sizeof *batching->here);
		memset(batching->here + batching->here_room, 0, room - batching->here_room);
		batching->here_room = room;
	}
	batching->here[found.id] = true;
}

/*
 * Two handhelds may have scanned the same card or place within the same second: it is the other's
 * where its entry is about none of the tools that this one is about.
 */
static enum outcome look_whose(struct batching *batching, enum batch_about about, int64_t entry,
                               bool *ours, struct fault *fault)
{
	size_t count;
	struct batch_entry told;
	const struct bench_tool *tools = bench_meant(batching->bench, &count);
	*ours = true;
	if (about == BATCH_ABOUT_TOOL || (count == 0 && batching->last_line == 0)) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_batch_entry(batching->store, batching->each, entry, &told, fault);
	*ours = outcome == OUTCOME_DONE && (about == BATCH_ABOUT_CARD || count == 0) &&
	        is_here(batching, &told);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		*ours = *ours || (tools[i].id == told.subject && tools[i].kind == told.kind);
	}
	return outcome;
}

enum outcome batch_find_known(struct batching *batching, const struct batch_line *line,
                              const struct scan *scan, enum batch_about about, int64_t *entry)
{
	int64_t *count = like_of(batching, scan->code);
	bool ours = false;
	enum outcome outcome = OUTCOME_DONE;
	do {
		batching->key =
			(struct batch_key){.happened = line->moment, .code = scan->code, .nth = ++*count};
		outcome = store_batch_find(batching->store, &batching->key, entry, batching->fault);
		if (outcome == OUTCOME_DONE && *entry != 0) {
			outcome = look_whose(batching, about, *entry, &ours, batching->fault);
		}
	} while (outcome == OUTCOME_DONE && *entry != 0 && !ours);
	return outcome;
}
