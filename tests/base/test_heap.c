/* The heap in large pages: what malloc gives lies in one run of memory that asks for them. */
#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "toothrack/base.h"

#ifdef __SANITIZE_ADDRESS__
static const bool malloc_is_the_system_s = false;
#else
static const bool malloc_is_the_system_s = true;
#endif

/* Does the kernel's account of the process's memory say that of the run that holds an address? */
static bool memory_is(const void *address, const char *flag)
{
	char line[512];
	bool inside = false, found = false;
	FILE *map = fopen("/proc/self/smaps", "r");
	if (map == NULL) {
		return false;
	}
	while (fgets(line, sizeof line, map) != NULL) {
		uintptr_t from, until;
		if (sscanf(line, "%zx-%zx ", &from, &until) == 2) {
			inside = (uintptr_t)address >= from && (uintptr_t)address < until;
		} else if (inside && strncmp(line, "VmFlags:", 8) == 0) {
			found = strstr(line, flag) != NULL;
		}
	}
	fclose(map);
	return found;
}

static bool kernel_knows_large_pages(void)
{
	return access("/sys/kernel/mm/transparent_hugepage/enabled", F_OK) == 0;
}

static void heap_prepare__what_is_taken_next__lies_in_large_pages(void **state)
{
	(void)state;
	heap_prepare();
	size_t bytes = (size_t)3 << 20;
	char *taken = malloc(bytes);
	assert_non_null(taken);
	memset(taken, 1, bytes);
	if (malloc_is_the_system_s && kernel_knows_large_pages()) {
		assert_true(memory_is(taken + bytes - 1, " hg"));
	}
	free(taken);
}

static void heap_prepare__twice__no_harm(void **state)
{
	(void)state;
	heap_prepare();
	heap_prepare();
	char *taken = malloc((size_t)40 << 20);
	assert_non_null(taken);
	taken[0] = taken[((size_t)40 << 20) - 1] = 1;
	free(taken);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(heap_prepare__what_is_taken_next__lies_in_large_pages),
		cmocka_unit_test(heap_prepare__twice__no_harm),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
