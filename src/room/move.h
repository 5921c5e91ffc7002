/* A movement from the inside: what `put`, `send`, `receive` and the bench share. */
#ifndef TOOTHRACK_ROOM_MOVE_H
#define TOOTHRACK_ROOM_MOVE_H

#include "toothrack/room.h"

/* What a movement is for; each has its own refusals. */
struct errand {
	struct store *store;
	struct arena *arena;
	const struct actor *actor;
	const char *word;
	struct place_state place;
	const struct moment *back;
	const char *reason;
	const struct bench_asks *asks; /* whether a place of a press takes the tool; NULL: not asked */
};

/*
 * Moves one tool, and tells what it was before and is now. What comes late (the actor's `happened`)
 * leaves it where a later movement brought it, and the caution says so. Within a transaction.
 */
enum outcome move_tool(const struct errand *errand, const struct tool_state *before,
                       struct moved *out, struct fault *fault);
enum outcome move_refuse_scrapped(const struct tool_state *tool, struct fault *fault);
/* Now lies before the tool's last movement, and that would win. */
enum outcome move_refuse_clock(const char *tag, struct fault *fault);
/* Nothing is put at a supplier: that is `send`. */
enum outcome move_refuse_supplier(const struct place_state *place, const char *tag,
                                  struct fault *fault);
/* Adds to the last tool's caution where the place now holds more than it takes. */
enum outcome move_caution_of_capacity(const struct errand *errand, struct moved *last,
                                      struct fault *fault);
/* The last entry taken back, as room_undo, within the caller's transaction. */
enum outcome undo_in_transaction(struct store *store, struct arena *arena,
                                 const struct actor *actor, struct undone *out,
                                 struct fault *fault);

#endif
