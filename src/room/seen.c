/* Which records an import has come by: open addressing, at most half full. */
#include "seen.h"

/* The slot of an id, or the free one where it would go. `room` is a power of two. */
static struct seen_slot *slot_of(struct seen_slot *slots, size_t room, int64_t id)
{
	size_t at = (size_t)((uint64_t)id * UINT64_C(0x9e3779b97f4a7c15) >> 32) & (room - 1);
	while (slots[at].id != 0 && slots[at].id != id) {
		at = (at + 1) & (room - 1);
	}
	return &slots[at];
}

int64_t seen_line(const struct seen *seen, int64_t id)
{
	return seen->room > 0 ? slot_of(seen->slots, seen->room, id)->line : 0;
}

static void grow(struct seen *seen)
{
	size_t room = seen->room > 0 ? seen->room * 2 : 256;
	struct arena *arena = arena_new();
	struct seen_slot *slots = arena_take(arena, room, sizeof *slots);
	for (size_t i = 0; i < seen->room; i++) {
		if (seen->slots[i].id != 0) {
			*slot_of(slots, room, seen->slots[i].id) = seen->slots[i];
		}
	}
	arena_free(seen->arena);
	*seen = (struct seen){.arena = arena, .slots = slots, .room = room, .count = seen->count};
}

void seen_add(struct seen *seen, int64_t id, int64_t line)
{
	if (seen->count * 2 >= seen->room) {
		grow(seen);
	}
	struct seen_slot *slot = slot_of(seen->slots, seen->room, id);
	seen->count += slot->id == 0 ? 1 : 0;
	*slot = (struct seen_slot){id, line};
}

void seen_free(struct seen *seen)
{
	arena_free(seen->arena);
	*seen = (struct seen){.arena = NULL};
}
