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

/* Where the heap ends now; NULL where there is none that grows in place. */
static char *heap_end(void)
{
	void *end = sbrk(0);
	return end != (void *)-1 ? end : NULL;
}

void heap_prepare(void)
{
	char *end = heap_end();
	if (end == NULL) {
		return;
	}
	uintptr_t beyond = (uintptr_t)end % LARGE_PAGE;
	if (beyond > 0 && sbrk((intptr_t)(LARGE_PAGE - beyond)) == (void *)-1) {
		return;
	}
	char *start = heap_end();
	/* What is given back is kept: a check tries many repeats, each in memory of its own. */
	mallopt(M_MMAP_THRESHOLD, 2 * HEAP_ROOM); /* the most that it takes */
	mallopt(M_TRIM_THRESHOLD, 4 * HEAP_ROOM);
	mallopt(M_TOP_PAD, HEAP_ROOM);
	/* More than what may be left of an older heap; volatile, or the compiler leaves it out. */
	void *volatile taken = malloc((size_t)LARGE_PAGE / 4);
	free(taken);
	mallopt(M_TOP_PAD, HEAP_ROOM / 16);
	end = heap_end();
	if (start != NULL && end > start) {
		madvise(start, (size_t)(end - start), MADV_HUGEPAGE);
	}
}
