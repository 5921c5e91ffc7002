/* The heap in large pages. */
#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

#include "toothrack/base.h"

#define LARGE_PAGE ((uintptr_t)2 << 20)
#define HEAP_ROOM \
	(16 << 20) /* more than any common command needs; only what is used is resident \
	            */
/*
 * The heap begins so far below a large page: malloc writes to where it begins before that page is
 * asked for, and what was touched before stays in small ones.
 */
#define HEAD ((uintptr_t)256 << 10)
#define FIRST_TAKEN \
	((size_t)192 << 10) /* within the head, and more than an older heap has left \
	                     */

/* Where the heap ends now; NULL where there is none that grows in place. */
static char *heap_end(void)
{
	void *end = sbrk(0);
	return (intptr_t)end != -1 ? end : NULL;
}

/* Moves the end of the heap up to where the head of a new one may begin. */
static bool heap_align(void)
{
	uintptr_t end = (uintptr_t)heap_end();
	uintptr_t page = (end + HEAD + LARGE_PAGE - 1) / LARGE_PAGE * LARGE_PAGE;
	return end != 0 && (intptr_t)sbrk((intptr_t)(page - HEAD - end)) != -1;
}

void heap_prepare(void)
{
	if (!heap_align()) {
		return;
	}
	char *start = heap_end();
	/* What is given back is kept: a check tries many repeats, each in memory of its own. */
	mallopt(M_MMAP_THRESHOLD, 2 * HEAP_ROOM); /* the most that it takes */
	mallopt(M_TRIM_THRESHOLD, 4 * HEAP_ROOM);
	mallopt(M_TOP_PAD, HEAP_ROOM);
	/* Volatile, or the compiler leaves it out. */
	void *volatile taken = malloc(FIRST_TAKEN);
	free(taken);
	mallopt(M_TOP_PAD, HEAP_ROOM / 16);
	char *end = heap_end();
	if (start != NULL && end > start) {
		madvise(start, (size_t)(end - start), MADV_HUGEPAGE);
	}
}
