/* Files that are there whole or as they were. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "toothrack/base.h"

static char folder[] = "/tmp/toothrack_whole_XXXXXX";
static struct arena *arena;
static struct fault fault;

static const char *in_folder(const char *name)
{
	return arena_format(arena, "%s/%s", folder, name);
}

static int begin(void **state)
{
	(void)state;
	arena = arena_new();
	fault_clear(&fault);
	strcpy(folder + strlen(folder) - 6, "XXXXXX");
	assert_non_null(mkdtemp(folder));
	return 0;
}

/* Nothing is left in the folder but what the test names itself. */
static int end(void **state)
{
	(void)state;
	unlink(in_folder("a"));
	unlink(in_folder("link"));
	assert_int_equal(rmdir(folder), 0);
	arena_free(arena);
	return 0;
}

static const char *content(const char *path)
{
	char bytes[32] = "";
	FILE *file = fopen(path, "rb");
	if (file == NULL) {
		return NULL;
	}
	bytes[fread(bytes, 1, sizeof bytes - 1, file)] = '\0';
	fclose(file);
	return arena_copy(arena, bytes);
}

static enum outcome write_whole(const char *path, const char *words, int error)
{
	struct whole_file file;
	fault_clear(&fault);
	enum outcome outcome = whole_file_open(arena, path, &file, &fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	fputs(words, file.file);
	return whole_file_close(arena, &file, error, &fault);
}

static void whole_file__closed__there_with_its_name_alone(void **state)
{
	(void)state;
	assert_int_equal(write_whole(in_folder("a"), "one", 0), OUTCOME_DONE);
	assert_string_equal(content(in_folder("a")), "one");
	assert_int_equal(write_whole(in_folder("a"), "two", 0), OUTCOME_DONE);
	assert_string_equal(content(in_folder("a")), "two");
}

static void whole_file__failed_or_dropped__as_it_was(void **state)
{
	(void)state;
	struct whole_file file;
	assert_int_equal(write_whole(in_folder("a"), "one", 0), OUTCOME_DONE);
	assert_int_equal(write_whole(in_folder("a"), "two", 28 /* ENOSPC */), OUTCOME_STORE);
	assert_string_equal(fault.sentence,
	                    arena_format(arena, "disk is full, the file was not written: %s",
	                                 in_folder("a")));
	assert_int_equal(whole_file_open(arena, in_folder("a"), &file, &fault), OUTCOME_DONE);
	fputs("three", file.file);
	whole_file_drop(&file);
	assert_string_equal(content(in_folder("a")), "one");
}

static void whole_file__link__what_it_names_is_written(void **state)
{
	(void)state;
	struct stat about;
	assert_int_equal(write_whole(in_folder("a"), "one", 0), OUTCOME_DONE);
	assert_int_equal(symlink("a", in_folder("link")), 0);
	assert_int_equal(write_whole(in_folder("link"), "two", 0), OUTCOME_DONE);
	assert_string_equal(content(in_folder("a")), "two");
	assert_int_equal(lstat(in_folder("link"), &about), 0);
	assert_true(S_ISLNK(about.st_mode));
}

static void whole_file__nothing_to_be_written__refused(void **state)
{
	(void)state;
	assert_int_equal(write_whole(in_folder("none/a"), "one", 0), OUTCOME_BAD);
	assert_string_equal(fault.sentence, arena_format(arena, "folder of the file not found: %s",
	                                                 in_folder("none/a")));
	assert_int_equal(write_whole(folder, "one", 0), OUTCOME_BAD);
	assert_string_equal(fault.sentence, arena_format(arena, "file is a directory: %s", folder));
	assert_int_equal(write_whole("/dev/null", "one", 0), OUTCOME_BAD);
	assert_string_equal(fault.sentence, "file is no plain file: /dev/null");
	assert_string_equal(fault.hint, "");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(whole_file__closed__there_with_its_name_alone, begin, end),
		cmocka_unit_test_setup_teardown(whole_file__failed_or_dropped__as_it_was, begin, end),
		cmocka_unit_test_setup_teardown(whole_file__link__what_it_names_is_written, begin, end),
		cmocka_unit_test_setup_teardown(whole_file__nothing_to_be_written__refused, begin, end),
	};
	return cmocka_run_group_tests_name("whole file", tests, NULL, NULL);
}
