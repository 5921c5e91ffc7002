/* How long lp may take: one of the test's own, first on PATH. */
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "common.h"
#include "console/spooler.h"

static char folder[] = "/tmp/toothrack_spooler_XXXXXX";

static const char *lp_path(void)
{
	return arena_format(arena, "%s/lp", folder);
}

static int set_up(void **state)
{
	return arena_open(state) != 0 || mkdtemp(folder) == NULL;
}

static int take_down(void **state)
{
	remove(lp_path());
	arena_close(state);
	return rmdir(folder); /* fails where something was left behind */
}

/* What becomes of a script as lp within one second. */
static enum outcome print_by(const char *script, const char **said)
{
	FILE *file = fopen(lp_path(), "w");
	assert_non_null(file);
	fprintf(file, "#!/bin/sh\n%s\n", script);
	fclose(file);
	assert_int_equal(chmod(lp_path(), 0700), 0);
	const char *path = arena_copy(arena, getenv("PATH"));
	setenv("PATH", arena_format(arena, "%s:%s", folder, path), 1);
	fault_clear(&fault);
	enum outcome outcome = spooler_print(arena, "labels", "none.pdf", 1, said, &fault);
	setenv("PATH", path, 1);
	return outcome;
}

static void spooler_print__in_time__done_with_what_it_said(void **state)
{
	(void)state;
	const char *said;
	assert_int_equal(print_by("echo \"  $1 $2 $3\"; echo more", &said), OUTCOME_DONE);
	assert_string_equal(said, "-d labels none.pdf");
	/* Its output closed, it still goes on a while. */
	assert_int_equal(print_by("exec >&- 2>&-; sleep 0.2; exit 4", &said), OUTCOME_BAD);
	assert_string_equal(fault.sentence, "lp failed, exit 4: it did not say why");
}

/* Whether it holds the pipe or not; one that will not end is killed. */
static void spooler_print__too_long__ended_and_told(void **state)
{
	(void)state;
	static const char *const scripts[] = {"exec sleep 30", "exec >&- 2>&-; exec sleep 30",
	                                      "trap '' TERM; while :; do sleep 0.1; done"};
	for (size_t i = 0; i < COUNT_OF(scripts); i++) {
		const char *said;
		time_t before = time(NULL);
		assert_int_equal(print_by(scripts[i], &said), OUTCOME_BAD);
		assert_string_equal(fault.sentence, "lp took longer than 1s and was ended");
		assert_string_equal(fault.hint, "Nothing counts as printed, though it may come out; the "
		                                "command lpstat -o lists what is waiting.");
		assert_true(time(NULL) - before < 10);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(spooler_print__in_time__done_with_what_it_said),
		cmocka_unit_test(spooler_print__too_long__ended_and_told),
	};
	return cmocka_run_group_tests_name("spooler", tests, set_up, take_down);
}
