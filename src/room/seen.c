/* What an import has come by: open addressing, at most half full. */
#include "seen.h"

/* The slot of a key, or the free one where it would go. `room` is a power of two. */
static struct seen_slot *slot_of(struct seen_slot *slots, size_t room, uint64_t key)
{
	size_t at = (size_t)(key * UINT64_C(0x9e3779b97f4a7c15) >> 32) & (room - 1);
	while (slots[at].key != 0 && slots[at].key != key) {
		at = (at + 1) & (room - 1);
	}
	return &slots[at];
}

int64_t seen_line(const struct seen *seen, uint64_t key)
{
	return seen->room > 0 && key != 0 ? slot_of(seen->slots, seen->room, key)->line : 0;
}

static void grow(struct seen *seen)
{
	size_t room = seen->room > 0 ? seen->room * 2 : 256;
	struct arena *arena = arena_new();
	struct seen_slot *slots = arena_take(arena, room, sizeof *slots);
	for (size_t i = 0; i < seen->room; i++) {
		if (seen->slots[i].key != 0) {
			*slot_of(slots, room, seen->slots[i].key) = seen->slots[i];
		}
	}
	arena_free(seen->arena);
	*seen = (struct seen){.arena = arena, .slots = slots, .room = room, .count = seen->count};
}

void seen_add(struct seen *seen, uint64_t key, int64_t line)
{
	if (key == 0) {
		return;
	}
	if (seen->count * 2 >= seen->room) {
		grow(seen);
	}
	struct seen_slot *slot = slot_of(seen->slots, seen->room, key);
	seen->count += slot->key == 0 ? 1 : 0;
	*slot = (struct seen_slot){key, line};
}

void seen_free(struct seen *seen)
{
	arena_free(seen->arena);
	*seen = (struct seen){.arena = NULL};
}

uint64_t seen_key(const char *name)
{
	uint64_t key = UINT64_C(0xcbf29ce484222325);
	for (; *name != '\0'; name++) {
		char lower = *name >= 'A' && *name <= 'Z' ? (char)(*name - 'A' + 'a') : *name;
		key = (key ^ (unsigned char)lower) * UINT64_C(0x100000001b3);
	}
	return key != 0 ? key : 1;
}
