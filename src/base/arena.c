/* Memory of one command: taken piece by piece, given back at once. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "toothrack/base.h"

#define BLOCK_ROOM ((size_t)16 * 1024)
#define ALIGNMENT _Alignof(max_align_t)

struct block {
	struct block *next;
	size_t room;
	size_t used;
	size_t dirty; /* bytes that were ever used; behind them all is zero still */
	_Alignas(max_align_t) unsigned char bytes[];
};

struct arena {
	struct block *block; /* the one now filled; older ones behind it */
};

static _Noreturn void stop_without_memory(void)
{
	fputs("toothrack: memory of this machine is used up\n", stderr);
	exit(OUTCOME_STORE);
}

static struct block *block_new(size_t room, struct block *next)
{
	struct block *block = calloc(1, sizeof *block + room);
	if (block == NULL) {
		stop_without_memory();
	}
	block->next = next;
	block->room = room;
	return block;
}

struct arena *arena_new(void)
{
	struct arena *arena = malloc(sizeof *arena);
	if (arena == NULL) {
		stop_without_memory();
	}
	arena->block = block_new(BLOCK_ROOM, NULL);
	return arena;
}

static void blocks_free(struct block *block)
{
	while (block != NULL) {
		struct block *next = block->next;
		free(block);
		block = next;
	}
}

void arena_free(struct arena *arena)
{
	if (arena != NULL) {
		blocks_free(arena->block);
		free(arena);
	}
}

void arena_reset(struct arena *arena)
{
	blocks_free(arena->block->next);
	arena->block->next = NULL;
	arena->block->used = 0;
	if (arena->block->room > 16 * BLOCK_ROOM) {
		/* One large command must not keep its memory for the rest of the shift. */
		blocks_free(arena->block);
		arena->block = block_new(BLOCK_ROOM, NULL);
	}
}

size_t arena_bytes(const struct arena *arena)
{
	size_t bytes = 0;
	for (const struct block *block = arena->block; block != NULL; block = block->next) {
		bytes += sizeof *block + block->room;
	}
	return bytes;
}

void *arena_take(struct arena *arena, size_t count, size_t size)
{
	size_t bytes;
	if (__builtin_mul_overflow(count, size, &bytes) || bytes > SIZE_MAX / 2) {
		stop_without_memory();
	}
	bytes = (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
	struct block *block = arena->block;
	if (block->room - block->used < bytes) {
		size_t room = bytes > BLOCK_ROOM ? bytes : BLOCK_ROOM;
		block = block_new(room, block);
		arena->block = block;
	}
	unsigned char *taken = block->bytes + block->used;
	if (block->used < block->dirty) {
		size_t soiled = block->dirty - block->used;
		memset(taken, 0, soiled < bytes ? soiled : bytes);
	}
	block->used += bytes;
	block->dirty = block->used > block->dirty ? block->used : block->dirty;
	return taken;
}

void *arena_grow(struct arena *arena, const void *old, size_t old_count, size_t new_count,
                 size_t size)
{
	void *grown = arena_take(arena, new_count, size);
	if (old_count > 0) {
		memcpy(grown, old, old_count * size);
	}
	return grown;
}

char *arena_copy_bytes(struct arena *arena, const char *bytes, size_t count)
{
	char *copy = arena_take(arena, count + 1, 1);
	if (count > 0) {
		memcpy(copy, bytes, count);
	}
	return copy;
}

char *arena_copy(struct arena *arena, const char *text)
{
	return text == NULL ? NULL : arena_copy_bytes(arena, text, strlen(text));
}

char *arena_format(struct arena *arena, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	va_list again;
	va_copy(again, arguments);
	int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	char *text = arena_take(arena, length < 0 ? 1 : (size_t)length + 1, 1);
	if (length >= 0) {
		vsnprintf(text, (size_t)length + 1, format, again);
	}
	va_end(again);
	return text;
}
